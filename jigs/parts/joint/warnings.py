"""What a maker must know of a joint and its sled before cutting.

A limit marked "common practice, no source" is what shops commonly hold to; the rest is geometry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator

from jigs.base.rules import READ_OUT, Problem, note, stop, warn
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.joint.rules import (
    GOOD_CLEARANCE,
    LEAST_CLEARANCE,
    LEAST_FINGER,
    LEAST_KEY_HEIGHT,
    LEAST_OVERLAP,
    MOST_CLEARANCE,
    MOST_SLACK,
    MOST_SPREAD,
    USUAL_SLACK,
    _low_key,
    _passes_needed,
)
from jigs.parts.joint.settings import SledSettings, joint_of
from jigs.trade import fingers, fit, passes, predict
from jigs.trade import sled as arithmetic
from jigs.trade.sled import SledNumbers

LEAST_PART = 3.0
"""A finger thinner than this, or than a third of the others, breaks (common practice, no source), mm."""
MOST_EDGES_OUT = 0.05
"""How far bottom edges may be out of line in the stack: as much as the spacer may be wrong, mm."""
MOST_PROUD = 1.0
"""More than this to plane off is end grain all round (common practice, no source), mm."""
TALL_BOARD = 500.0
"""A longer board that stands on end is top-heavy, and may not find room (common practice, no source), mm."""
HARDLY_WIDER = 0.3
"""A finger this little wider is not worth one cut more at every socket (common practice, no source), mm."""
NEAR_MISS = 1.0
"""A board this little too narrow for one more part is worth a word, mm."""


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


def _clearance_for_glue(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    data = {"clearance": asked.clearance, "least": LEAST_CLEARANCE, "most": MOST_CLEARANCE}
    works = {"gap": numbers.gap + asked.clearance - GOOD_CLEARANCE, "good": at_least(GOOD_CLEARANCE)}
    if asked.clearance < LEAST_CLEARANCE:
        yield warn(
            "clearance",
            "a clearance of {clearance} is under {least}: water-based glue swells the cheeks, and a corner can take "
            "hundreds of newtons to close",
            "a clearance of {good}, which is a gap of {gap}",
            **data,
            **works,
        )
    elif asked.clearance > MOST_CLEARANCE:
        yield warn(
            "clearance",
            "a clearance of {clearance} is over {most}: it shows as a gap at every pair of cheeks",
            "a clearance of {good}: move the key {away} away from the cutter, to a gap of {gap}",
            **data,
            **works,
            away=asked.clearance - GOOD_CLEARANCE,
        )


def _cannot_be_flush(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    low, high = numbers.fit.flush_low, numbers.fit.flush_high
    if asked.spacer is None or low - fingers.TOUCH <= 0 <= high + fingers.TOUCH:
        return
    yield stop(
        "spacer",
        "with a spacer of {spacer} the bottom edges come out {low} to {high} apart and can't be flushed",
        "a spacer of {works}",
        spacer=asked.spacer,
        low=min(abs(low), abs(high)),
        high=max(abs(low), abs(high)),
        works=at_least((numbers.finger + numbers.socket) / 2),
    )


def _top_part(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    left = numbers.leftover
    if asked.layout != "keep" or not numbers.ends_unlike:
        return
    least, good = max(LEAST_PART, numbers.finger / 3), numbers.finger / 2
    data = {
        "width": asked.board,
        "nick": left.nick,
        "sliver": left.sliver,
        "least": least,
        "rip": numbers.rip_width,
        "lose": asked.board - numbers.rip_width,
    }
    if min(left.nick, left.sliver) >= good:
        return
    if min(left.nick, left.sliver) >= least:
        board = "the ends" if left.nick_on == "long" else "front and back"
        severity, words = (
            "warning",
            f"kept {{width}} wide, {board} end at the top in a finger of only {{sliver}}, which breaks off easily",
        )
    elif max(left.nick, left.sliver) < 1.0:
        severity, words = (
            "warning",
            "a board of {width} leaves a nick of {nick} and a sliver of {sliver} at the top",
        )
    else:
        severity, words = (
            "stop",
            "a board of {width} leaves parts of {nick} and {sliver} at the top, under {least}",
        )
    middle = fingers.centred(asked.board, numbers.finger, numbers.socket, numbers.spacer)
    yield Problem(
        severity,  # type: ignore[arg-type]  # one of two words of the severities
        "board",
        words,
        (
            "{centre} the fingers: {end} at both edges, with a starter spacer of {starter}",
            "{cut} to {rip} and lose {lose}",
        ),
        data
        | {
            "end": middle.end,
            "starter": middle.starter,
            "centre": Offer("centre", setting="layout"),
            "cut": Offer("rip", setting="layout"),
        },
    )


def _count_of_parts(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    if numbers.count % 2 == 0 or numbers.ends_unlike:
        yield warn(
            "parts",
            "front and back have {fingers} fingers + {sockets} sockets, top and bottom are not alike: a board turned "
            "top for bottom mates nowhere",
            "mark the bottom edge of every board before cutting",
            fingers=numbers.long_fingers,
            sockets=len(numbers.long_sockets),
        )
    if numbers.count < 5:
        yield warn(
            "parts",
            "{count} parts hold, but 5 or more are commonly wanted for strength",
            "a narrower finger",
            count=numbers.count,
        )
    if asked.layout == "rip" and asked.parts is None:
        yield from _near_miss(asked, numbers)
    over = asked.board - numbers.width
    if over > fingers.TOUCH:
        yield note(
            "board",
            "the board of {board} is ripped to {width}: {over} come off the top edge",
            "rip while the wood is long, once cutter and gap have been measured",
            board=asked.board,
            width=numbers.width,
            over=over,
        )


def _near_miss(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    more = numbers.count + 1
    missing = fingers.rip_width(more, numbers.finger, numbers.socket) - asked.board
    if missing > NEAR_MISS:
        return
    if not asked.one_pass:
        yield warn(
            "board",
            "the board is {missing} too narrow for {more} parts",
            "a finger of {finger} makes {more} parts fit",
            missing=missing,
            more=more,
            finger=at_most(fingers.gap_for_count(asked.board, more, numbers.clearance), "finger"),
        )
        return
    gap = fingers.gap_that_fits(asked.board, more, numbers.socket)
    if numbers.socket - gap <= MOST_CLEARANCE:
        yield warn(
            "board",
            "the board is {missing} too narrow for {more} parts",
            "a clearance of {clearance} makes {more} parts fit",
            missing=missing,
            more=more,
            clearance=at_least(numbers.socket - gap, "clearance"),
        )


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


def _too_loose_on_the_key(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    if numbers.slack <= MOST_SLACK:
        return
    sockets = len(numbers.long_sockets)
    where, works = asked.key_or_slack
    yield warn(
        where,
        "a slack of {slack} on the key: cut separately the clearance can come out {worst}, and in one stack the last "
        "finger may move by {move}",
        works,
        slack=numbers.slack,
        worst=fit.separate_worst(numbers.clearance, numbers.slack, sockets, numbers.count % 2 == 1),
        move=sockets * numbers.slack,
        usual=at_most(USUAL_SLACK),
        works=at_least(asked.cutter - USUAL_SLACK),
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


def _cut_separately(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    if asked.method != "separately":
        return
    joint = joint_of(numbers)
    worst = fit.separate_worst(numbers.clearance, numbers.slack, joint.long_sockets, joint.odd)
    if worst >= -READ_OUT / 2:
        return
    expected = predict.predict(joint, "separately", arithmetic.errors(numbers.passes.count))
    works = numbers.clearance / max(1, joint.long_sockets - (1 if joint.odd else 2))
    yield warn(
        "method",
        "cut separately {chance} of the corners will not go together, which is {boxes} of the boxes; at worst the "
        "clearance is {worst}, for with a slack of {slack} each position wanders on its own",
        ("cut mates in {together}", "a slack of {works} or less" if asked.key is None else "a key of {works} or more"),
        chance=f"{100 * expected.chance_fails:.1f} %",
        boxes=f"{100 * predict.of_a_box(expected.chance_fails):.0f} %",
        worst=worst,
        slack=numbers.slack,
        together=Offer("one stack"),
        works=at_most(works, "key slack") if asked.key is None else at_least(asked.cutter - works, "key"),
    )


def _proud_allowance(asked: SledSettings, _: SledNumbers) -> Iterator[Problem]:
    if asked.proud == 0:
        yield note(
            "proud",
            "with nothing proud, a finger a hair short must be met by planing the whole side",
            "from {least} to {most}",
            least=at_least(0.2),
            most=at_most(0.5),
        )
    elif asked.proud > MOST_PROUD:
        yield warn(
            "proud",
            "{proud} of end grain to plane off all round, and clamps would bear on the fingers",
            "from {least} to {most}; for this, cauls cut back by {relief}",
            proud=asked.proud,
            least=at_least(0.2),
            most=at_most(0.5),
            relief=asked.proud + 1.0,
        )


WARNINGS = (
    _tall_on_end,
    _too_loose_on_the_key,
    _key_turned_in_the_socket,
    _stack_too_thick,
    _edges_out_of_line,
    _unequal_thickness,
    _cut_separately,
    _proud_allowance,
    _units_mixed,
    _clearance_for_glue,
    _cannot_be_flush,
    _top_part,
    _count_of_parts,
    _one_pass_less,
    _passes_overlap,
    _cutter_too_slender,
    _ears_of_the_teeth,
    _key_pulled_off,
    _another_finger,
    _measure_first,
    _key_is_low,
)
