"""What a maker must know of a joint and its sled before cutting.

A limit marked "common practice, no source" is what shops commonly hold to; the rest is geometry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from jigs.base.rules import READ_OUT, Problem, note, warn
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.joint.fit_rules import (
    cannot_be_flush,
    clearance_for_glue,
    count_of_parts,
    cut_separately,
    proud_allowance,
    too_loose_on_the_key,
    top_part,
)
from jigs.parts.joint.rules import LEAST_FINGER, LEAST_KEY_HEIGHT, LEAST_OVERLAP, MOST_SPREAD, _low_key, _passes_needed
from jigs.parts.joint.settings import SledSettings
from jigs.trade import fingers, fit, passes
from jigs.trade import sled as arithmetic
from jigs.trade.sled import SledNumbers

MOST_EDGES_OUT = 0.05
"""How far bottom edges may be out of line in the stack: as much as the spacer may be wrong, mm."""
TALL_BOARD = 500.0
"""A longer board that stands on end is top-heavy, and may not find room (common practice, no source), mm."""
HARDLY_WIDER = 0.3
"""A finger this little wider is not worth one cut more at every socket (common practice, no source), mm."""


def _tall_on_end(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find boards that stand high over the table while their fingers are cut: of a sled and of a box alike."""
    if asked.length is not None and asked.length > TALL_BOARD + READ_OUT:
        yield warn(
            "length",
            "boards of {length} stand on end to be cut; longer than {most}, they are top-heavy and can tip the "
            "carriage, or meet the ceiling",
            "a carriage with an upright of {upright} or more; try the clamp and the room above before the first cut",
            length=asked.length,
            most=TALL_BOARD,
            upright=numbers.fence_height,
        )


def _key_is_low(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    if numbers.key_height_limit < LEAST_KEY_HEIGHT - READ_OUT:
        yield _low_key("warning", asked, LEAST_KEY_HEIGHT)


def _units_mixed(asked: SledSettings, _: SledNumbers) -> Iterator[Problem]:
    ratio = asked.finger / asked.thickness
    if not 0.2 <= ratio <= 5:
        yield warn(
            "thickness",
            "the finger of {finger} is {ratio} times the thickness of {thickness}: are the units mixed?",
            "fingers are commonly from half the thickness to the thickness",
            finger=asked.finger,
            ratio=f"{ratio:.3g}",
            thickness=asked.thickness,
        )
    elif not 0.5 <= ratio <= 1.2:
        yield note(
            "finger",
            "the finger of {finger} is {ratio} times the thickness; commonly it is from half of it to the whole",
            "from {least} to {most}",
            finger=asked.finger,
            ratio=f"{ratio:.2f}",
            least=_with_a_cutter(asked, asked.thickness / 2, at_least),
            most=_with_a_cutter(asked, asked.thickness, at_most),
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
            "a finger of {finger} takes {count} cuts at every socket; one that is {less} narrower takes {fewer}",
            "a finger of {works}",
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
            "passes overlap by only {overlap}: a fin is left where one wanders",
            "{more} passes",
            overlap=made.overlap,
            more=Offer(_passes_needed(asked).count),
        )


def _cutter_too_slender(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    ratio, works = numbers.cut_depth / asked.cutter, numbers.cut_depth / arithmetic.DEEPEST_RUN
    if asked.machine == "router table" and len(numbers.runs) > len({run.boards for run in numbers.runs}):
        yield warn(
            "cutter",
            "a cut {depth} deep is {ratio} times the cutter of {cutter}; a single pass should be at most twice",
            (
                f"cut in {len(numbers.runs)} runs, each deeper, as the settings say",
                "use a saw blade",
                *(["a cutter of {works}"] if works <= numbers.finger else []),
            ),
            depth=numbers.cut_depth,
            ratio=f"{ratio:.2f}",
            cutter=asked.cutter,
            works=at_least(works),
        )


def _ears_of_the_teeth(asked: SledSettings, _: SledNumbers) -> Iterator[Problem]:
    if asked.bevel:
        yield note(
            "bevel",
            "teeth with bevels of {bevel} degrees to both sides leave ears {ears} high on the socket floor",
            "a blade with flat teeth, or pare the floors",
            bevel=f"{asked.bevel:g}",
            ears=passes.ear_height(asked.cutter, asked.bevel),
        )


def _key_pulled_off(asked: SledSettings, _: SledNumbers) -> Iterator[Problem]:
    if asked.machine == "router table" and asked.key_side == "left":
        yield warn(
            "key side",
            "with the key on the left the cut pulls the boards off it",
            ("the key on the {side}", "clamp the stack for every cut"),
            side=Offer("right"),
        )


def _another_finger(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    if abs(numbers.finger - asked.finger) > 0.005:
        yield note(
            "finger",
            "the finger comes out {real}, not {asked}: one pass of the cutter of {cutter} less the clearance of "
            "{clearance}",
            ("for {asked} a cutter of {exact}", "one of {narrower} or less, in several passes"),
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


def _measure_first(asked: SledSettings, _: SledNumbers) -> Iterator[Problem]:
    if asked.cutter == asked.finger:
        yield note(
            "cutter",
            "the cutter is given as exactly {cutter}, its marked size? Reground cutters run {least} to {most} under",
            "cut a groove in scrap and measure the groove",
            cutter=asked.cutter,
            least=0.1,
            most=0.3,
        )
    if asked.thinnest is None:
        yield note(
            "thickness",
            "the thickness of {thickness} should be a calliper reading, not the size it was sold as",
            "measure every side at both ends; a spread over {most} is planed out first",
            thickness=asked.thickness,
            most=MOST_SPREAD,
        )


def _key_turned_in_the_socket(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    taken = fit.floor_lean(numbers.stack_thickness - _backer(asked), asked.out_of_parallel)
    if asked.form == "moving plate" and taken > numbers.slack:
        yield warn(
            "out of parallel",
            "a key {angle} degrees out of parallel takes {taken} of slack over a stack of {stack}; there is {slack}",
            ("square the key to the travel", "a slack of {works} or more"),
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
            "the stack is {stack} thick with its backing board; the clamps take {reach}",
            "split it, but keep the boards of one pair of corners in one stack",
            stack=numbers.stack_thickness,
            reach=asked.clamp_reach,
        )


def _edges_out_of_line(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    if asked.edges_out > MOST_EDGES_OUT:
        yield warn(
            "edges out",
            "bottom edges {out} out of line in the stack come out {out} out of flush",
            "tap all boards down on the plate before the clamp is tightened; {most} or less",
            out=asked.edges_out,
            most=at_most(MOST_EDGES_OUT),
        )


def _unequal_thickness(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    ends = asked.ends_thickness
    if ends is None or numbers.runs[-1].boards == "all boards":
        return
    thick, thin = ("front and back", "the ends") if asked.thickness > ends else ("the ends", "front and back")
    yield warn(
        "ends thickness",
        "front and back are {sides} thick, the ends {ends}: the sockets of front and back are cut {front_cut} deep, "
        "those of the ends {ends_cut}. In one cut of {depth} the fingers of "
        f"{thick} would stand {{proud}} proud of {thin}",
        (
            f"set the cutter {len(numbers.runs)} times, run by run as the settings say",
            "plane all boards to {thin}, and one cut of {low} will do",
        ),
        sides=asked.thickness,
        ends=ends,
        front_cut=ends + asked.proud,
        ends_cut=asked.thickness + asked.proud,
        depth=numbers.cut_depth,
        proud=numbers.cut_depth - min(ends, asked.thickness),
        thin=at_least(min(ends, asked.thickness), thickness=min(ends, asked.thickness)),
        low=min(ends, asked.thickness) + asked.proud,
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
    top_part,
    count_of_parts,
    _one_pass_less,
    _passes_overlap,
    _cutter_too_slender,
    _ears_of_the_teeth,
    _key_pulled_off,
    _another_finger,
    _measure_first,
    _key_is_low,
)
