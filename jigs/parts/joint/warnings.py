"""What a maker must know of a joint and its sled before cutting.

A limit marked "common practice, no source" is what shops commonly hold to; the rest is geometry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from jigs.base.rules import READ_OUT, Problem, note, warn
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.joint.fit_rules import (
    another_count,
    at_the_top,
    cannot_be_flush,
    clearance_for_glue,
    cut_separately,
    edges_alike,
    few_fingers,
    proud_allowance,
    too_loose_on_the_key,
)
from jigs.parts.joint.rules import LEAST_FINGER, LEAST_KEY_HEIGHT, LEAST_OVERLAP, _low_key, _passes_needed
from jigs.parts.joint.settings import SledSettings
from jigs.trade import fingers, fit, passes
from jigs.trade import sled as arithmetic
from jigs.trade.sled import SledNumbers

MOST_EDGES_OUT = 0.05
"""How far bottom edges may be out of line in the stack: as much as the spacer may be wrong, mm."""
TALL_BOARD = 500.0
"""A longer board that stands on end is top-heavy, and may not find room (common practice, no source), mm."""
LEAST_RATIO, MOST_RATIO = 0.5, 1.2
"""A finger is usually from half as wide as the boards are thick to a little wider (common practice, no source)."""
HARDLY_WIDER = 0.3
"""A finger this little wider is not worth one cut more at every socket (common practice, no source), mm."""


def _tall_on_end(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find boards that stand high over the table while their fingers are cut: of a sled and of a box alike."""
    if asked.length is not None and asked.length > TALL_BOARD + READ_OUT:
        yield warn(
            "length",
            "boards of {length:cut} stand on end to be cut: over {most:rough} long, they can tip the carriage or meet "
            "the ceiling",
            "make the upright {upright:rough up} high or more; try the clamp and the room above before the first cut",
            length=asked.length,
            most=TALL_BOARD,
            upright=numbers.fence_height,
        )


def _key_is_low(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    if numbers.key_height_limit < LEAST_KEY_HEIGHT - READ_OUT:
        yield _low_key("warning", asked, LEAST_KEY_HEIGHT)


def _units_mixed(asked: SledSettings, _: SledNumbers) -> Iterator[Problem]:
    ratio, thick = asked.finger / asked.thickness, asked.finger / MOST_RATIO
    if not 0.2 <= ratio <= 5:
        yield warn(
            "thickness",
            "the finger of {finger} is {ratio} times the thickness of {thickness}: the units may be mixed",
            "check both; fingers are usually half as wide as the boards are thick, to as wide",
            finger=asked.finger,
            ratio=f"{ratio:.3g}",
            thickness=asked.thickness,
        )
    elif not LEAST_RATIO <= ratio <= MOST_RATIO:
        yield note(
            "finger",
            "the finger of {finger} is {ratio} times the thickness; half of it to all of it is usual",
            ("make it {least} to {most}", *(["use boards {thick} thick or thicker"] if ratio > 1 else [])),
            finger=asked.finger,
            ratio=f"{ratio:.2f}",
            least=_with_a_cutter(asked, asked.thickness / 2, at_least),
            most=_with_a_cutter(asked, asked.thickness, at_most),
            thick=at_least(thick, "thickness", **({} if asked.thinnest is None else {"thinnest": thick})),
        )


def _with_a_cutter(asked: SledSettings, finger: float, offer: Callable[..., Offer]) -> Offer:
    """Return a finger with the cutter in hand, or with one that is narrow enough for it."""
    narrow = asked.cutter <= finger or passes.one_pass_will_do(finger, asked.cutter)
    return offer(finger) if narrow else offer(finger, cutter=finger * 0.99)


def _one_pass_less(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a finger that takes one cut more at every socket for a hair of width.

    n passes that overlap by the least make a socket of cutter + (n - 1) (cutter - overlap) at most.
    """
    count = numbers.passes.count
    if asked.passes is not None or count < 3:
        return  # with one pass the finger follows from the cutter
    overlap = min(LEAST_OVERLAP, asked.cutter / 4)
    finger = asked.cutter + (count - 2) * (asked.cutter - overlap) - asked.clearance
    if LEAST_FINGER <= finger < asked.finger <= finger + HARDLY_WIDER:
        yield note(
            "finger",
            "a finger of {finger} takes {count} cuts at every socket; one {less:gauge up} narrower takes {fewer}",
            "make the finger {works}",
            finger=asked.finger,
            count=count,
            less=asked.finger - finger,
            fewer=count - 1,
            works=at_most(finger),
        )


def _passes_overlap(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    made = numbers.passes
    if made.count > 1 and made.overlap < LEAST_OVERLAP - fingers.TOUCH:
        yield warn(
            "passes",
            "the passes overlap by only {overlap:gauge down}: where one wanders, a fin will be left",
            "make {more} passes",
            overlap=made.overlap,
            more=Offer(_passes_needed(asked).count),
        )


def _cutter_too_slender(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    ratio, works = numbers.cut_depth / asked.cutter, numbers.cut_depth / arithmetic.DEEPEST_RUN
    if asked.machine == "router table" and len(numbers.runs) > len({run.boards for run in numbers.runs}):
        yield note(
            "cutter",
            "the cut is {depth:gauge} deep, {ratio} times the cutter of {cutter}, so the sockets take {runs} runs",
            ("cut them on a {saw}", *(["use a cutter of {works} or more"] if works <= numbers.finger else [])),
            depth=numbers.cut_depth,
            ratio=f"{ratio:.2f}",
            cutter=asked.cutter,
            runs=len(numbers.runs),
            saw=Offer("table saw", setting="machine"),
            works=at_least(works),
        )


def _ears_of_the_teeth(asked: SledSettings, _: SledNumbers) -> Iterator[Problem]:
    if asked.bevel:
        yield note(
            "bevel",
            "teeth with bevels of {bevel}° to both sides will leave ears {ears:gauge up} high on the socket floors",
            ("use a blade with flat teeth", "pare the floors"),
            bevel=f"{asked.bevel:g}",
            ears=passes.ear_height(asked.cutter, asked.bevel),
        )


def _key_pulled_off(asked: SledSettings, _: SledNumbers) -> Iterator[Problem]:
    if asked.machine == "router table" and asked.key_side == "left":
        yield warn(
            "key side",
            "with the key on the left, the cut pulls the boards off it, and fingers will be too narrow",
            ("put the key on the {side}", "clamp the stack for every cut"),
            side=Offer("right"),
        )


def _another_finger(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a cutter of another size than the finger: what clearance and setting may take off the finger is no news."""
    if abs(numbers.finger - asked.finger) > asked.clearance + arithmetic.GAP_WITHIN:
        yield note(
            "finger",
            "the finger will be {real:gauge}, not {asked}: it is one pass of the cutter of {cutter} less the clearance "
            "of {clearance}",
            ("use a cutter of {exact} for {asked}", "use one of {narrower} or less, in several passes"),
            real=numbers.finger,
            asked=asked.finger,
            cutter=asked.cutter,
            clearance=asked.clearance,
            exact=at_least(asked.finger + asked.clearance, "cutter"),
            narrower=at_most(
                asked.finger - min(passes.ONE_PASS_LENGTH, passes.ONE_PASS_SHARE * asked.finger) - READ_OUT,
                "cutter",
            ),
        )


def _key_turned_in_the_socket(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    taken = fit.floor_lean(numbers.stack_thickness - _backer(asked), asked.out_of_parallel)
    if asked.form == "moving plate" and taken > numbers.slack:
        yield warn(
            "out of parallel",
            "a key {angle}° out of parallel takes {taken:gauge up} of play over a stack of {stack:cut}; with only "
            "{slack:gauge down} the boards will bind",
            (
                "square the key to the travel",
                "leave a play of {works} or more on the key" if asked.key is None else "use a key of {works} or less",
            ),
            angle=f"{asked.out_of_parallel:g}",
            taken=taken,
            stack=numbers.stack_thickness - _backer(asked),
            slack=numbers.slack,
            works=at_least(taken, "key slack") if asked.key is None else at_most(asked.cutter - taken, "key"),
        )


def _backer(asked: SledSettings) -> float:
    return asked.thickest if asked.backer is None else asked.backer


def _stack_too_thick(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    if asked.clamp_reach is not None and numbers.stack_thickness > asked.clamp_reach:
        yield warn(
            "clamp reach",
            "the stack with its backing board is {stack:cut up} thick; the clamps take only {reach}",
            "split the stack, but keep the boards of one pair of corners together",
            stack=numbers.stack_thickness,
            reach=asked.clamp_reach,
        )


def _edges_out_of_line(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    if asked.edges_out > MOST_EDGES_OUT:
        yield warn(
            "edges out",
            "bottom edges {out} out of line in the stack will be {out} out of flush in the joint",
            "tap all boards down on the plate before you tighten the clamp, until they are {most} or less",
            out=asked.edges_out,
            most=at_most(MOST_EDGES_OUT),
        )


def _unequal_thickness(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    ends = asked.ends_thickness
    if ends is None or numbers.runs[-1].boards == "all boards":
        return
    yield note(
        "ends thickness",
        "front and back are {sides} thick and the end boards {ends}, so the sockets take {runs} runs. Those of front "
        "and back are cut {front_cut:gauge} deep, those of the end boards {ends_cut:gauge}",
        "plane all boards to {thin}, and cut them in fewer runs",
        sides=asked.thickness,
        ends=ends,
        runs=len(numbers.runs),
        front_cut=ends + asked.proud,
        ends_cut=asked.thickness + asked.proud,
        thin=at_least(min(ends, asked.thickness), thickness=min(ends, asked.thickness)),
    )


WARNINGS = (
    _tall_on_end,
    too_loose_on_the_key,
    _key_turned_in_the_socket,
    _stack_too_thick,
    _edges_out_of_line,
    _unequal_thickness,
    cut_separately,
    proud_allowance,
    _units_mixed,
    clearance_for_glue,
    cannot_be_flush,
    at_the_top,
    another_count,
    edges_alike,
    few_fingers,
    _one_pass_less,
    _passes_overlap,
    _cutter_too_slender,
    _ears_of_the_teeth,
    _key_pulled_off,
    _another_finger,
    _key_is_low,
)
