"""The rules of the indexing sled: what stops a job, and what a maker must know before cutting.

A limit marked "common practice, no source" is what shops commonly hold to; the rest is geometry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from typing import Literal

from jigs.base.rules import READ_OUT, Problem, Severity, note, stop, warn
from jigs.base.wording import Offer, at_least, at_most
from jigs.trade import fingers, fit, passes, predict
from jigs.trade import sled as arithmetic
from jigs.trade.passes import KeySide, Machine
from jigs.trade.predict import Method
from jigs.trade.sled import Ends, SledNumbers

Form = Literal["fixed plate", "moving plate"]

LEAST_CLEARANCE, GOOD_CLEARANCE, MOST_CLEARANCE = 0.05, 0.10, 0.25
"""Where water-based glue still lets the joint close, and where it shows (common practice, no source), mm."""
LEAST_FINGER, MOST_FINGER = 3.0, 60.0
"""The narrowest and the widest finger that the sled is drawn for, mm."""
LEAST_PART = 3.0
"""A finger thinner than this, or than a third of the others, breaks (common practice, no source), mm."""
MOST_SPREAD = 0.2
"""How much the sides of a box may differ in thickness (common practice, no source), mm."""
LEAST_OVERLAP = 0.2
"""Passes that share less leave a fin where one wanders (common practice, no source), mm."""
USUAL_SLACK, MOST_SLACK = 0.10, 0.25
"""What a key is planed to; with more play a joint cut separately will hardly close (common practice, no source), mm."""
MOST_EDGES_OUT = 0.05
"""How far bottom edges may be out of line in the stack: as much as the spacer may be wrong, mm."""
MOST_PROUD = 1.0
"""More than this to plane off is end grain all round (common practice, no source), mm."""
LEAST_KEY, LEAST_KEY_HEIGHT = 0.1, 1.0
"""A lower key can't be planed, and boards slip over a low one (common practice, no source), mm."""
TALL_BOARD = 500.0
"""A longer board that stands on end is top-heavy, and may not find room (common practice, no source), mm."""
HARDLY_WIDER = 0.3
"""A finger this little wider is not worth one cut more at every socket (common practice, no source), mm."""
NEAR_MISS = 1.0
"""A board this little too narrow for one more part is worth a word, mm."""


@dataclass(frozen=True)
class Asked:
    """What was asked for: the settings of the jig, in mm."""

    finger: float
    cutter: float
    board: float
    thickness: float
    clearance: float
    key_slack: float
    proud: float
    machine: Machine
    key_side: KeySide
    layout: Ends
    parts: int | None
    passes: int | None
    length: float | None
    boards_in_stack: int
    backer: float | None
    plate: float
    margin: float
    key: float | None
    spacer: float | None
    key_height: float | None
    cutting_edge: float | None
    thinnest: float | None
    ends_thickness: float | None
    edges_out: float
    method: Method
    form: Form
    guided: bool
    out_of_parallel: float
    blade: float
    bevel: float
    clamp_reach: float | None
    whole: bool

    @property
    def key_width(self) -> float:
        """The key in hand, or the one to make, mm."""
        return self.cutter - self.key_slack if self.key is None else self.key

    @property
    def one_pass(self) -> bool:
        """Whether the cutter is near enough to the finger to make the socket in one pass."""
        return passes.one_pass_will_do(self.finger, self.cutter)

    @property
    def gap(self) -> float:
        """The finger that comes out, mm."""
        return self.cutter - self.clearance if self.one_pass else self.finger

    @property
    def socket(self) -> float:
        """The socket that comes out, mm."""
        return self.cutter if self.one_pass else self.finger + self.clearance

    @property
    def key_or_slack(self) -> tuple[str, str]:
        """The setting the slack on the key comes from, and the words for one that works."""
        return ("key slack", "a slack of {usual}") if self.key is None else ("key", "a key of {works}")

    @property
    def thickest(self) -> float:
        """The thicker of sides and ends, mm: the cut must go through both."""
        return max(self.thickness, self.ends_thickness or 0.0)

    @property
    def depth(self) -> float:
        """The deepest cut, mm."""
        return self.thickest + self.proud

    @property
    def first_depth(self) -> float:
        """The cut of the first run, mm: the key must stay under it."""
        ends = self.thickness if self.ends_thickness is None else self.ends_thickness
        blade = self.blade if self.machine == "table saw" else None
        made = arithmetic.runs(sides=self.thickness, ends=ends, proud=self.proud, cutter=self.cutter, blade=blade)
        return made[0].depth


def joint_of(numbers: SledNumbers) -> predict.Joint:
    """Return the joint that the sled cuts, for predicting how it closes."""
    return predict.Joint(
        gap=numbers.finger,
        socket=numbers.socket,
        spacer=numbers.spacer,
        slack=numbers.slack,
        long_sockets=len(numbers.long_sockets),
        odd=numbers.count % 2 == 1,
        width=numbers.width + numbers.board_starter,
        positions=numbers.positions,
    )


# -- rules that stop the job ---------------------------------------------------------------------------------------


def _finger_narrower_than_cutter(asked: Asked) -> Iterator[Problem]:
    if asked.cutter > asked.finger and not asked.one_pass:
        works = asked.cutter - asked.clearance
        if not passes.one_pass_will_do(works - READ_OUT, asked.cutter):
            works = min(asked.cutter + READ_OUT, MOST_FINGER)
        yield stop(
            "finger",
            "the cutter makes a socket of {cutter}; a finger cannot be {finger}",
            ("a cutter of {narrower} or less", "a finger of {works}"),
            cutter=asked.cutter,
            finger=asked.finger,
            narrower=at_most(asked.finger, "cutter"),
            works=at_least(works),
        )


def _play_takes_the_cut(asked: Asked) -> Iterator[Problem]:
    plays = [("clearance", asked.clearance, GOOD_CLEARANCE)]
    plays += [("key slack", asked.key_slack, USUAL_SLACK)] if asked.key is None else []
    for where, play, usual in plays:
        if play >= asked.cutter:
            yield stop(
                where,
                "a {what} of {play} leaves nothing of a cut of {cutter}",
                "{usual}",
                what=where.removeprefix("key "),
                play=play,
                cutter=asked.cutter,
                usual=at_most(usual),
            )


def _key_fills_socket(asked: Asked) -> Iterator[Problem]:
    slack = asked.cutter - asked.key_width
    if slack <= 0:
        where, works = asked.key_or_slack
        numbers = {"key": asked.key_width, "slack": slack, "cutter": asked.cutter}
        yield stop(
            where,
            "a key of {key} leaves a slack of {slack}: a socket of {cutter} will not go on it",
            works,
            **numbers,
            usual=at_least(USUAL_SLACK),
            works=at_most(asked.cutter - USUAL_SLACK),
        )


def _too_few_parts(asked: Asked) -> Iterator[Problem]:
    least = fingers.rip_width(3, asked.gap, asked.socket)
    if asked.board < least - fingers.TOUCH:
        works = (asked.board - asked.clearance) / 3
        ways = ["a board of {enough} or more"]
        narrower = {"cutter": works} if works < asked.cutter else {}
        if works >= LEAST_FINGER:
            ways.append(f"a finger of {{works}} or less{' with a cutter as narrow' if narrower else ''}")
        yield stop(
            "board",
            "a board of {board} is {parts} fingers of {finger} wide; a joint needs 3 parts, {least}",
            tuple(ways),
            board=asked.board,
            parts=f"{asked.board / asked.gap:.1f}",
            finger=asked.gap,
            least=least,
            enough=at_least(least),
            works=at_most(works, "finger", **narrower),
        )
    elif asked.parts and asked.layout != "centre":
        most = fingers.largest_count(asked.board, asked.gap, asked.socket)
        if asked.parts > most:
            yield stop(
                "parts",
                "{parts} parts need {width}; the board is {board}",
                "{most} parts or fewer",
                parts=asked.parts,
                width=fingers.rip_width(asked.parts, asked.gap, asked.socket),
                board=asked.board,
                most=Offer(most, "down"),
            )
        elif asked.layout == "keep" and asked.parts < most:
            yield stop(
                "parts",
                "a board of {board} that keeps its width has {most} parts, not {parts}",
                ("{most} parts", "{rip} the board"),
                parts=asked.parts,
                board=asked.board,
                most=Offer(most),
                rip=Offer("rip", setting="layout"),
            )


def _ends_can_be_equal(asked: Asked) -> Iterator[Problem]:
    if asked.layout != "centre" or asked.parts is None:
        return
    end = fingers.end_part(asked.board, asked.parts - 2, asked.gap, asked.socket)
    if not 0 < end <= asked.gap + fingers.TOUCH:
        yield stop(
            "parts",
            "equal end parts are not possible: with {parts} parts they would be {end}, and they must be above 0 and at "
            "most {gap}",
            "leave the parts to be worked out",
            parts=asked.parts,
            end=end,
            gap=asked.gap,
        )


def _passes_needed(asked: Asked) -> passes.Passes:
    """Return the fewest passes that overlap enough."""
    return passes.plan(asked.socket, asked.cutter, asked.gap, min(LEAST_OVERLAP, asked.cutter / 4))


def _passes_fill_socket(asked: Asked) -> Iterator[Problem]:
    if asked.passes is None or asked.cutter > asked.socket:
        return
    needed = _passes_needed(asked)
    covered = asked.passes * asked.cutter
    numbers: dict[str, object] = {
        "passes": asked.passes,
        "cutter": asked.cutter,
        "covered": covered,
        "socket": asked.socket,
        "needed": Offer(needed.count),
        "shift": needed.shift,
    }
    if covered < asked.socket - fingers.TOUCH:
        yield stop(
            "passes",
            ("1 pass of {cutter} covers" if asked.passes == 1 else "{passes} passes of {cutter} cover")
            + " {covered}, less than the socket of {socket}",
            "{needed} passes, each shifted by {shift}",
            **numbers,
        )
    elif asked.one_pass and asked.passes != 1:
        yield stop("passes", "the cutter of {cutter} makes the socket in 1 pass", "1 pass", **numbers)


def _no_key_is_left(asked: Asked) -> Iterator[Problem]:
    if asked.first_depth - arithmetic.KEY_BELOW_CUT < LEAST_KEY:
        yield _low_key("stop", asked, LEAST_KEY)


def _low_key(severity: Severity, asked: Asked, least: float) -> Problem:
    return Problem(
        severity,
        "thickness",
        "a cut of {depth} less {below} leaves a key {limit} high, and boards slip over a key under {least}",
        "boards of {thicker} or thicker",
        {
            "depth": asked.first_depth,
            "below": arithmetic.KEY_BELOW_CUT,
            "limit": asked.first_depth - arithmetic.KEY_BELOW_CUT,
            "least": least,
            # In several runs the first must be so deep. Never so many that thicker boards need one more.
            "thicker": _thicker(asked, least),
        },
    )


def _thicker(asked: Asked, least: float) -> Offer:
    """Return boards that leave a key of that height; they are measured anew, and so is the thinnest of them."""
    works = (least + arithmetic.KEY_BELOW_CUT) * round(asked.depth / asked.first_depth) - asked.proud + READ_OUT
    return at_least(works) if asked.thinnest is None else at_least(works, thinnest=works)


def _key_too_tall(asked: Asked) -> Iterator[Problem]:
    limit = asked.first_depth - arithmetic.KEY_BELOW_CUT
    if limit < LEAST_KEY:
        return  # no height would do, and the thickness is stopped for it
    if asked.key_height is not None and asked.key_height > limit + READ_OUT:
        yield stop(
            "key height",
            "a key {key} high is above {limit}, the cut of {depth} less {below}: boards would ride on it",
            "plane the key to {works}",
            key=asked.key_height,
            limit=limit,
            works=at_most(limit),
            depth=asked.first_depth,
            below=arithmetic.KEY_BELOW_CUT,
        )


def _cutting_edge_short(asked: Asked) -> Iterator[Problem]:
    depth = asked.depth
    if asked.cutting_edge is not None and asked.cutting_edge < depth - READ_OUT:
        yield stop(
            "cutting edge",
            "a cutting edge of {edge} is {short} short of the cut of {depth}: the shank would rub",
            "a cutter with an edge of {works} or more",
            edge=asked.cutting_edge,
            short=depth - asked.cutting_edge,
            depth=depth,
            works=at_least(depth),
        )


def _boards_uneven(asked: Asked) -> Iterator[Problem]:
    if asked.thinnest is None:
        return
    spread = asked.thickness - asked.thinnest
    if spread < -READ_OUT:
        yield stop(
            "thinnest",
            "the thinnest reading, {thinnest}, is over the thickness of {thickness}",
            "{works} or less; the thickness is the thickest reading",
            thinnest=asked.thinnest,
            thickness=asked.thickness,
            works=at_most(asked.thickness),
        )
    elif spread > MOST_SPREAD:
        yield stop(
            "thickness",
            "the sides measure from {thinnest} to {thickness}: a spread of {spread} is over {most}",
            "plane them in one setting to {works}, and give that as the thickness",
            thinnest=asked.thinnest,
            thickness=asked.thickness,
            spread=spread,
            works=at_least(asked.thinnest),
            most=MOST_SPREAD,
        )


def _blade_too_small(asked: Asked) -> Iterator[Problem]:
    above = asked.plate + asked.depth
    if asked.machine == "table saw" and asked.blade < 4 * above - READ_OUT:
        yield stop(
            "blade",
            "a blade of {blade} can't stand {above} above the table: with flange and arbor a quarter of it can",
            "a blade of {works} or more",
            blade=asked.blade,
            above=above,
            works=at_least(4 * above),
        )


def _guided_twice(asked: Asked) -> Iterator[Problem]:
    if asked.guided and asked.form == "fixed plate":
        yield stop(
            "guided",
            "a carriage with a guide of its own and a key on a fixed plate hold the boards twice: they will bind",
            "let the key alone guide, or fix the key to a moving plate",
        )


STOPS = (
    _blade_too_small,
    _guided_twice,
    _finger_narrower_than_cutter,
    _play_takes_the_cut,
    _key_fills_socket,
    _too_few_parts,
    _ends_can_be_equal,
    _passes_fill_socket,
    _no_key_is_left,
    _key_too_tall,
    _cutting_edge_short,
    _boards_uneven,
)


# -- rules that warn, or stop once the numbers are known -----------------------------------------------------------


def _tall_on_end(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _key_is_low(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    if numbers.key_height_limit < LEAST_KEY_HEIGHT - READ_OUT:
        yield _low_key("warning", asked, LEAST_KEY_HEIGHT)


def _units_mixed(asked: Asked, _: SledNumbers) -> Iterator[Problem]:
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


def _with_a_cutter(asked: Asked, finger: float, offer: Callable[..., Offer]) -> Offer:
    """Return a finger with the cutter in hand, or with one that is narrow enough for it."""
    narrow = asked.cutter <= finger or passes.one_pass_will_do(finger, asked.cutter)
    return offer(finger) if narrow else offer(finger, cutter=finger * 0.99)


def _clearance_for_glue(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _cannot_be_flush(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _top_part(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _count_of_parts(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _near_miss(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _one_pass_less(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _passes_overlap(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    made = numbers.passes
    if made.count > 1 and made.overlap < LEAST_OVERLAP - fingers.TOUCH:
        yield warn(
            "passes",
            "passes overlap by only {overlap}: a fin is left where one wanders",
            "{more} passes",
            overlap=made.overlap,
            more=Offer(_passes_needed(asked).count),
        )


def _cutter_too_slender(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _ears_of_the_teeth(asked: Asked, _: SledNumbers) -> Iterator[Problem]:
    if asked.bevel:
        yield note(
            "bevel",
            "teeth with bevels of {bevel} degrees to both sides leave ears {ears} high on the socket floor",
            "a blade with flat teeth, or pare the floors",
            bevel=f"{asked.bevel:g}",
            ears=passes.ear_height(asked.cutter, asked.bevel),
        )


def _key_pulled_off(asked: Asked, _: SledNumbers) -> Iterator[Problem]:
    if asked.machine == "router table" and asked.key_side == "left":
        yield warn(
            "key side",
            "with the key on the left the cut pulls the boards off it",
            ("the key on the {side}", "clamp the stack for every cut"),
            side=Offer("right"),
        )


def _another_finger(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _measure_first(asked: Asked, _: SledNumbers) -> Iterator[Problem]:
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


def _too_loose_on_the_key(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _key_turned_in_the_socket(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _backer(asked: Asked) -> float:
    return asked.thickest if asked.backer is None else asked.backer


def _stack_too_thick(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    if asked.clamp_reach is not None and numbers.stack_thickness > asked.clamp_reach:
        yield warn(
            "clamp reach",
            "the stack is {stack} thick with its backing board; the clamps take {reach}",
            "split it, but keep the boards of one pair of corners in one stack",
            stack=numbers.stack_thickness,
            reach=asked.clamp_reach,
        )


def _edges_out_of_line(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    if asked.edges_out > MOST_EDGES_OUT:
        yield warn(
            "edges out",
            "bottom edges {out} out of line in the stack come out {out} out of flush",
            "tap all boards down on the plate before the clamp is tightened; {most} or less",
            out=asked.edges_out,
            most=at_most(MOST_EDGES_OUT),
        )


def _unequal_thickness(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _cut_separately(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
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


def _proud_allowance(asked: Asked, _: SledNumbers) -> Iterator[Problem]:
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
