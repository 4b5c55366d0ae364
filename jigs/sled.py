"""The indexing sled: settings, the rules between them, and its numbers. Its sheets are in `sled_sheets`."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Annotated, Any

from jigs import sled_sheets
from jigs.definition import Choice, Count, Flag, Length, Plan, jig
from jigs.errors import CannotBuild, Problem
from jigs.sled_sheets import Sled
from jigs.trade import fingers, passes
from jigs.trade import sled as arithmetic
from jigs.trade.passes import KeySide, Machine
from jigs.trade.sled import Ends, SledNumbers
from jigs.wording import say

LEAST_CLEARANCE, MOST_CLEARANCE = 0.05, 0.25
"""Where water-based glue still lets the joint close, and where it shows (common practice, no source), mm."""
LEAST_PART = 3.0
"""A finger thinner than this, or than a third of the others, breaks (common practice, no source), mm."""
LEAST_OVERLAP = 0.2
"""Passes that share less leave a fin where one wanders (common practice, no source), mm."""
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


@jig("sled", title="Indexing sled", summary="cuts finger joints of any width, one socket indexing the next")
def sled(
    *,
    finger: Annotated[float, Length("finger width", 3, 60)],
    cutter: Annotated[float, Length("socket the cutter makes, measured in wood", 0.8, 60)],
    board: Annotated[float, Length("width of the board in hand", 6, 1200)],
    thickness: Annotated[float, Length("thickness of the sides, the thickest reading", 0.4, 60)],
    clearance: Annotated[float, Length("socket less finger", 0, 1)] = 0.10,
    key_slack: Annotated[float, Length("play of a socket on the key", 0, 2)] = 0.10,
    proud: Annotated[float, Length("fingers left long, to be planed off", 0, 3)] = 0.3,
    machine: Annotated[Machine, Choice("machine", ("router table", "table saw"))] = "router table",
    key_side: Annotated[KeySide, Choice("side of the cutter the key is on", ("right", "left"))] = "right",
    layout: Annotated[Ends, Choice("how the parts fall on the board", ("rip", "keep", "centre"))] = "rip",
    parts: Annotated[int | None, Count("fingers and sockets across the board", 3, 400)] = None,
    passes: Annotated[int | None, Count("passes that make one socket", 1, 40)] = None,
    length: Annotated[float | None, Length("longest board stood on end", 30, 2000)] = None,
    boards_in_stack: Annotated[int, Count("boards cut together", 2, 12)] = 4,
    backer: Annotated[float | None, Length("thickness of the backing board", 2, 60)] = None,
    plate: Annotated[float, Length("thickness of the plate", 3, 30, inches=6.35)] = 6.0,
    margin: Annotated[float, Length("run before and after the cut", 10, 100, inches=19.05)] = 20.0,
    key: Annotated[float | None, Length("key in hand, measured", 0.5, 62)] = None,
    spacer: Annotated[float | None, Length("spacer in hand, measured", 0.5, 62)] = None,
    key_height: Annotated[float | None, Length("key above the plate", 1, 60)] = None,
    cutting_edge: Annotated[float | None, Length("length of the cutting edge", 1, 100)] = None,
    thinnest: Annotated[float | None, Length("thinnest reading of the sides", 0.4, 60)] = None,
    whole: Annotated[bool, Flag("draw the whole plate, on paper that holds it")] = False,
) -> Plan:
    """Plate, key, spacer, carriage, story stick and setting card of an indexing sled for finger joints."""
    return _plan(Asked(**locals()))


def _plan(asked: Asked) -> Plan:
    """Apply the rules, work out the numbers, draw. Raises CannotBuild with every rule that stops the job."""
    _stop_at([problem for rule in _STOPS for problem in rule(asked)])
    numbers = _numbers(asked)
    problems = tuple(problem for rule in _WARNINGS for problem in rule(asked, numbers))
    _stop_at([problem for problem in problems if problem.severity == "stop"])
    made = Sled(
        numbers=numbers,
        cutter=asked.cutter,
        plate=asked.plate,
        margin=asked.margin,
        thickness=asked.thickness,
        boards_in_stack=asked.boards_in_stack,
        key_height=asked.key_height or min(numbers.key, numbers.key_height_limit),
        machine=asked.machine,
        key_side=asked.key_side,
        problems=problems,
    )
    title = say("Indexing sled for {finger} fingers", finger=numbers.finger)
    return Plan(title, _as_data(numbers), sled_sheets.drawings(made, whole=asked.whole), problems)


def _stop_at(problems: list[Problem]) -> None:
    if problems:
        raise CannotBuild(problems)


def _numbers(asked: Asked) -> SledNumbers:
    return arithmetic.sled_numbers(
        finger=asked.finger,
        cutter=asked.cutter,
        clearance=asked.clearance,
        slack=asked.key_slack,
        board=asked.board,
        thickness=asked.thickness,
        proud=asked.proud,
        plate=asked.plate,
        margin=asked.margin,
        board_length=asked.length or 1.0,  # where it is not known the least fence is high enough
        boards_in_stack=asked.boards_in_stack,
        backer=asked.backer,
        spacer=asked.spacer,
        key=asked.key,
        ends=asked.layout,
        count=asked.parts,
        pass_count=asked.passes,
    )


def _as_data(numbers: SledNumbers) -> dict[str, Any]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    return {
        "count": numbers.count,
        "finger": numbers.finger,
        "socket": numbers.socket,
        "pitch": numbers.pitch,
        "clearance": numbers.clearance,
        "rip_width": numbers.rip_width,
        "nearest_widths": [width for _, width in numbers.nearest_widths],
        "passes": numbers.passes.count,
        "pass_gaps": list(numbers.passes.gaps),
        "steps": numbers.steps,
        "sliver": numbers.leftover.sliver,
        "gap": numbers.gap,
        "key": numbers.key,
        "spacer": numbers.spacer,
        "slack": numbers.slack,
        "cut_depth": numbers.cut_depth,
        "over_all": numbers.over_all,
    }


# -- rules that stop the job ---------------------------------------------------------------------------------------


def _finger_narrower_than_cutter(asked: Asked) -> Iterator[Problem]:
    if asked.cutter > asked.finger and not asked.one_pass:
        yield Problem(
            "stop",
            "finger",
            "the cutter makes a socket of {cutter}; a finger cannot be {finger}",
            "a cutter of {finger} or less, or a finger of {works}",
            {"cutter": asked.cutter, "finger": asked.finger, "works": asked.cutter - asked.clearance},
        )


def _key_fills_socket(asked: Asked) -> Iterator[Problem]:
    slack = asked.cutter - asked.key_width
    if slack <= 0:
        yield Problem(
            "stop",
            "key",
            "a key of {key} leaves a slack of {slack}: a socket of {cutter} will not go on it",
            "a key of {works}",
            {"key": asked.key_width, "slack": slack, "cutter": asked.cutter, "works": asked.cutter - 0.10},
        )


def _too_few_parts(asked: Asked) -> Iterator[Problem]:
    least = fingers.rip_width(3, asked.gap, asked.socket)
    if asked.board < least - fingers.TOUCH:
        yield Problem(
            "stop",
            "board",
            "a board of {board} is {parts} fingers of {finger} wide; a joint needs 3 parts, {least}",
            "a board of {least} or more, or a finger of {works} or less",
            {
                "board": asked.board,
                "parts": f"{asked.board / asked.gap:.1f}",
                "finger": asked.gap,
                "least": least,
                "works": (asked.board - asked.clearance) / 3,
            },
        )
    elif asked.parts and asked.layout != "centre":
        most = fingers.largest_count(asked.board, asked.gap, asked.socket)
        if asked.parts > most:
            yield Problem(
                "stop",
                "parts",
                "{parts} parts need {width}; the board is {board}",
                "{most} parts or fewer",
                {
                    "parts": asked.parts,
                    "width": fingers.rip_width(asked.parts, asked.gap, asked.socket),
                    "board": asked.board,
                    "most": most,
                },
            )


def _ends_can_be_equal(asked: Asked) -> Iterator[Problem]:
    if asked.layout != "centre":
        return
    try:
        fingers.centred(asked.board, asked.gap, asked.socket, asked.gap, asked.parts and asked.parts - 2)
    except ValueError as error:
        yield Problem("stop", "parts", f"equal end parts are not possible: {error}", "leave the parts to be worked out")


def _passes_fill_socket(asked: Asked) -> Iterator[Problem]:
    if asked.passes is None or asked.cutter > asked.socket:
        return
    needed = passes.plan(asked.socket, asked.cutter, asked.gap, min(LEAST_OVERLAP, asked.cutter / 4))
    covered = asked.passes * asked.cutter
    numbers: dict[str, object] = {
        "passes": asked.passes,
        "cutter": asked.cutter,
        "covered": covered,
        "socket": asked.socket,
        "needed": needed.count,
        "shift": needed.shift,
    }
    if covered < asked.socket - fingers.TOUCH:
        yield Problem(
            "stop",
            "passes",
            "{passes} passes of {cutter} cover {covered}, less than the socket of {socket}",
            "{needed} passes, each shifted by {shift}",
            numbers,
        )
    elif asked.one_pass and asked.passes != 1:
        yield Problem("stop", "passes", "the cutter of {cutter} makes the socket in 1 pass", "1 pass", numbers)


def _key_too_tall(asked: Asked) -> Iterator[Problem]:
    limit = asked.thickness + asked.proud - arithmetic.KEY_BELOW_CUT
    if asked.key_height is not None and asked.key_height > limit:
        yield Problem(
            "stop",
            "key height",
            "a key {key} high is above {limit}, which is the cut of {depth} less 0.5 mm: boards would ride on it",
            "plane the key to {limit}",
            {"key": asked.key_height, "limit": limit, "depth": asked.thickness + asked.proud},
        )


def _cutting_edge_short(asked: Asked) -> Iterator[Problem]:
    depth = asked.thickness + asked.proud
    if asked.cutting_edge is not None and asked.cutting_edge < depth:
        yield Problem(
            "stop",
            "cutting edge",
            "a cutting edge of {edge} is {short} short of the cut of {depth}: the shank would rub",
            "a cutter with an edge of {depth} or more",
            {"edge": asked.cutting_edge, "short": depth - asked.cutting_edge, "depth": depth},
        )


def _boards_uneven(asked: Asked) -> Iterator[Problem]:
    if asked.thinnest is None:
        return
    spread = asked.thickness - asked.thinnest
    if abs(spread) > 0.2:
        yield Problem(
            "stop",
            "thinnest",
            "the sides measure from {thinnest} to {thickness}: a spread of {spread} is over {most}",
            "plane them in one setting to {thinnest}, and give that as the thickness",
            {"thinnest": asked.thinnest, "thickness": asked.thickness, "spread": abs(spread), "most": 0.2},
        )


_STOPS = (
    _finger_narrower_than_cutter,
    _key_fills_socket,
    _too_few_parts,
    _ends_can_be_equal,
    _passes_fill_socket,
    _key_too_tall,
    _cutting_edge_short,
    _boards_uneven,
)


# -- rules that warn, or stop once the numbers are known -----------------------------------------------------------


def _units_mixed(asked: Asked, _: SledNumbers) -> Iterator[Problem]:
    ratio = asked.finger / asked.thickness
    if not 0.2 <= ratio <= 5:
        yield Problem(
            "warning",
            "thickness",
            "the finger of {finger} is {ratio} times the thickness of {thickness}: are the units mixed?",
            "fingers are commonly from half the thickness to the thickness",
            {"finger": asked.finger, "ratio": f"{ratio:.3g}", "thickness": asked.thickness},
        )
    elif not 0.5 <= ratio <= 1.2:
        yield Problem(
            "note",
            "finger",
            "the finger of {finger} is {ratio} times the thickness; commonly it is from half of it to the whole",
            "from {least} to {most}",
            {
                "finger": asked.finger,
                "ratio": f"{ratio:.2f}",
                "least": asked.thickness / 2,
                "most": asked.thickness,
            },
        )


def _clearance_for_glue(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    data = {"clearance": asked.clearance, "least": LEAST_CLEARANCE, "most": MOST_CLEARANCE}
    works = {"gap": numbers.socket - 0.10}
    if asked.clearance < LEAST_CLEARANCE:
        yield Problem(
            "warning",
            "clearance",
            "a clearance of {clearance} is under {least}: water-based glue swells the cheeks, and a corner can take "
            "hundreds of newtons to close",
            "a gap of {gap}, for a clearance of 0.10 mm",
            data | works,
        )
    elif asked.clearance > MOST_CLEARANCE:
        yield Problem(
            "warning",
            "clearance",
            "a clearance of {clearance} is over {most}: it shows as a gap at every pair of cheeks",
            "move the key {away} nearer to the cutter side of open wood, to a gap of {gap}",
            data | works | {"away": asked.clearance - 0.10},
        )


def _cannot_be_flush(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    low, high = numbers.fit.flush_low, numbers.fit.flush_high
    if asked.spacer is None or low - fingers.TOUCH <= 0 <= high + fingers.TOUCH:
        return
    yield Problem(
        "stop",
        "spacer",
        "with a spacer of {spacer} the bottom edges come out {low} to {high} apart and can't be flushed",
        "a spacer of {works}",
        {
            "spacer": asked.spacer,
            "low": min(abs(low), abs(high)),
            "high": max(abs(low), abs(high)),
            "works": (numbers.finger + numbers.socket) / 2,
        },
    )


def _top_part(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    left = numbers.leftover
    if asked.layout != "keep" or max(left.nick, left.sliver) < fingers.TOUCH:
        return
    least = max(LEAST_PART, numbers.finger / 3)
    data = {
        "width": asked.board,
        "nick": left.nick,
        "sliver": left.sliver,
        "least": least,
        "rip": numbers.rip_width,
        "lose": asked.board - numbers.rip_width,
    }
    if min(left.nick, left.sliver) >= least:
        return
    if max(left.nick, left.sliver) < 1.0:
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
        "rip to {rip} and lose {lose}, or centre: ends of {end} with a starter spacer of {starter}",
        data | {"end": middle.end, "starter": middle.starter},
    )


def _count_of_parts(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    if numbers.count % 2 == 0:
        yield Problem(
            "warning",
            "parts",
            "{count} parts is an even count: a board turned top for bottom mates nowhere",
            "mark the bottom edge of every board before cutting",
            {"count": numbers.count},
        )
    if numbers.count < 5:
        yield Problem(
            "warning",
            "parts",
            "{count} parts hold, but 5 or more are commonly wanted for strength",
            "a narrower finger",
            {"count": numbers.count},
        )
    if asked.layout == "rip" and asked.parts is None:
        yield from _near_miss(asked, numbers)
    over = asked.board - numbers.width
    if over > fingers.TOUCH:
        yield Problem(
            "note",
            "board",
            "the board of {board} is ripped to {width}: {over} come off the top edge",
            "rip last, when cutter and gap have been measured",
            {"board": asked.board, "width": numbers.width, "over": over},
        )


def _near_miss(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    more = numbers.count + 1
    missing = fingers.rip_width(more, numbers.finger, numbers.socket) - asked.board
    gap = fingers.gap_that_fits(asked.board, more, numbers.socket)
    if missing <= NEAR_MISS and numbers.socket - gap <= MOST_CLEARANCE:
        yield Problem(
            "warning",
            "board",
            "the board is {missing} too narrow for {more} parts",
            "a gap of {gap} makes {more} parts fit, with a clearance of {clearance}",
            {"missing": missing, "more": more, "gap": gap, "clearance": numbers.socket - gap},
        )


def _passes_overlap(_: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    made = numbers.passes
    if made.count > 1 and made.overlap < LEAST_OVERLAP - fingers.TOUCH:
        yield Problem(
            "warning",
            "passes",
            "passes overlap by only {overlap}: a fin is left where one wanders",
            "{more} passes",
            {"overlap": made.overlap, "more": made.count + 1},
        )


def _cutter_too_slender(asked: Asked, numbers: SledNumbers) -> Iterator[Problem]:
    ratio = numbers.cut_depth / asked.cutter
    if asked.machine == "router table" and ratio > 2:
        yield Problem(
            "warning",
            "cutter",
            "a cut {depth} deep is {ratio} times the cutter of {cutter}; a single pass should be at most twice",
            "cut in two depths, use a saw blade, or a finger of {works} or more",
            {
                "depth": numbers.cut_depth,
                "ratio": f"{ratio:.1f}",
                "cutter": asked.cutter,
                "works": numbers.cut_depth / 2,
            },
        )


def _key_pulled_off(asked: Asked, _: SledNumbers) -> Iterator[Problem]:
    if asked.machine == "router table" and asked.key_side == "left":
        yield Problem(
            "warning",
            "key side",
            "with the key on the left the cut pulls the boards off it",
            "the key on the right, or clamp the stack for every cut",
        )


def _measure_first(asked: Asked, _: SledNumbers) -> Iterator[Problem]:
    if asked.cutter == asked.finger:
        yield Problem(
            "note",
            "cutter",
            "the cutter is given as exactly {cutter}, its marked size? Reground cutters run 0.1 to 0.3 mm under",
            "cut a groove in scrap and measure the groove",
            {"cutter": asked.cutter},
        )
    if asked.thinnest is None:
        yield Problem(
            "note",
            "thickness",
            "the thickness of {thickness} should be a calliper reading, not the size it was sold as",
            "measure every side at both ends; a spread over {most} is planed out first",
            {"thickness": asked.thickness, "most": 0.2},
        )


_WARNINGS = (
    _units_mixed,
    _clearance_for_glue,
    _cannot_be_flush,
    _top_part,
    _count_of_parts,
    _passes_overlap,
    _cutter_too_slender,
    _key_pulled_off,
    _measure_first,
)
