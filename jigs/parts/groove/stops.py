"""The groove for the bottom and its stops: from a box, or from settings alone. Its sheets are in `sheets`."""

from __future__ import annotations

from typing import Annotated, Literal

from jigs.base import usual
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild
from jigs.base.kinds import Choice, Length
from jigs.base.lengths import Units
from jigs.base.rules import Problem, stop
from jigs.base.settings import section
from jigs.base.wording import at_least, at_most, say
from jigs.boxfile.sections import Clearance, GrooveSection, Proud, SidesThickness
from jigs.parts.groove import card
from jigs.parts.groove.part import Groove, named
from jigs.parts.groove.rules import GROOVE
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS
from jigs.parts.part import numbers_of
from jigs.record import replace
from jigs.trade import fingers, groove
from jigs.trade.groove import Span

Boards = Literal["front and back", "end boards"]


@section
class StopsSettings(GrooveSection):
    """The groove, and what a box works out of its boards."""

    length: Annotated[float, Length("length of the boards, as cut", 30, 1500)]
    thickness: SidesThickness = usual.SIDES.default
    play: Annotated[float, Length("clearance of the bottom's tongue in the groove", 0, 1)] = usual.TONGUE_PLAY.default
    proud: Proud = usual.PROUD.default
    boards: Annotated[Boards, Choice("which boards these are; front and back start with a finger", (LONGS, SHORTS))] = (
        "front and back"
    )
    finger: Annotated[float | None, Length("finger width, to find which boards are stopped", 3, 60)] = None
    clearance: Clearance = usual.CLEARANCE.default
    board: Annotated[float | None, Length("width of the boards, for the fingers", 9, 1200)] = None
    other_length: Annotated[float | None, Length("length of the other boards, as cut", 30, 1500)] = None

    @property
    def other(self) -> Boards:
        """The boards that these are not."""
        return "end boards" if self.boards == LONGS else "front and back"


@jig(
    "stops",
    title="Stopped groove",
    summary="fence and stops for the groove of a bottom",
    from_box="length=cut_length other_length=cut_width thickness=groove.thickness proud=file.joint.proud board=height "
    "finger=file.joint.finger clearance=file.joint.clearance from_bottom=groove.from_bottom depth=groove.depth "
    "end_margin=groove.end_margin",
)
def stops(asked: StopsSettings, units: Units) -> Plan:
    """Stop sticks, the groove in the fingers and the set-up of fence and stops.

    Example: --length 160.6 --cutter 6 --end-margin 3.8

    Sources: Stops, end margin and the panel's corner are derived in `jigs/trade/groove.py`. Least wood and passes:
    common practice, no source.
    """
    found = [*_fingers_need_a_board(asked), *_play_leaves_a_tongue(asked, units)]
    if found:
        raise CannotBuild(found)
    made = _settled(asked, units)
    found += _other_length_is_known(asked, made)
    groove_made = None if found else GROOVE.judge(made, found)
    problems = tuple(_in_the_settings(problem) for problem in found)
    if groove_made is None:
        raise CannotBuild(problems)
    title = say("Groove {wide} wide in boards of {length}", wide=made.cutter, length=asked.length)
    return Plan(title, as_data(made), card.of(made), problems)


def as_data(made: Groove) -> dict[str, object]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    names = "fence fence_reach fence_length stopped stops end_wood=end_margin end_wood_min=end_margin_range.0"
    rest = "end_wood_max=end_margin_range.1 from_bottom depth passes corner=corner_cut"
    of_stops = "left right left_from_edge travel"
    stops = {name: numbers_of(stops, of_stops) for name, stops in made.stops.items()}
    return numbers_of(made, f"{names} {rest}") | {"stops": stops}


# -- settings left open --------------------------------------------------------------------------------------------


def _settled(asked: StopsSettings, units: Units) -> Groove:
    """Return the groove with everything that was left open worked out."""
    made = Groove(
        cutter=asked.cutter,
        depth=asked.thickness * usual.GROOVE_DEPTH if asked.depth is None else asked.depth,
        from_bottom=asked.from_bottom or 0.0,
        end_margin=asked.end_margin or 0.0,
        tongue=asked.cutter - asked.play,
        thicknesses=dict.fromkeys(MEMBERS, asked.thickness),
        proud=asked.proud,
        units=units,
        fingers=_layout(asked),
        lengths={asked.boards: asked.length, asked.other: asked.other_length or asked.length},
        deepest_pass=asked.deepest_pass,
    )
    if asked.from_bottom is None:
        low = made.heights[0].middle if asked.finger and made.heights else made.least_from_bottom
        made = replace(made, from_bottom=low)
    if asked.end_margin is None:
        made = replace(made, end_margin=made.good_end_margin)
    return made


def _layout(asked: StopsSettings) -> dict[str, tuple[Span, ...]]:
    """Return the fingers of both kinds of boards. Where none are given the groove is taken to lie in one of these."""
    if asked.finger is None:
        least = groove.least_from_bottom(asked.thickness) if asked.from_bottom is None else asked.from_bottom
        height = asked.board or least + asked.cutter + 2 * asked.thickness
        return {kind: ((0.0, height),) if kind == asked.boards else () for kind in MEMBERS}
    assert asked.board is not None, "a rule asks for it"
    gap, socket = asked.finger, asked.finger + asked.clearance
    width = fingers.rip_width(fingers.largest_count(asked.board, gap, socket), gap, socket)
    offsets = {LONGS: 0.0, SHORTS: (gap + socket) / 2}
    return {
        kind: tuple(
            (span.start, span.end)
            for span in fingers.fingers_between(width, fingers.sockets(width, gap, socket, offset))
        )
        for kind, offset in offsets.items()
    }


# -- rules ---------------------------------------------------------------------------------------------------------


def _fingers_need_a_board(asked: StopsSettings) -> list[Problem]:
    least = 0.0 if asked.finger is None else fingers.rip_width(3, asked.finger, asked.finger + asked.clearance)
    if asked.finger is None or (asked.board is not None and asked.board >= least - fingers.TOUCH):
        return []
    said = "fingers of {finger} are found by the width of the boards, which is not given"
    if asked.board is not None:
        said = "boards {board} wide have no room for 2 fingers + 1 socket of {finger}"
    sizes = {"finger": asked.finger, "board": asked.board, "works": at_least(least)}
    return [stop("board", said, "enter {works} or more", **sizes)]


def _play_leaves_a_tongue(asked: StopsSettings, units: Units) -> list[Problem]:
    if asked.play < asked.cutter:
        return []
    said = "a clearance of {play} leaves no tongue in a groove {cutter} wide"
    numbers = {"play": asked.play, "cutter": asked.cutter, "works": at_most(usual.TONGUE_PLAY.size(units))}
    return [stop("play", said, "enter {works}", **numbers)]


def _other_length_is_known(asked: StopsSettings, made: Groove) -> list[Problem]:
    if asked.other_length is not None or asked.other not in made.stopped_kinds:
        return []
    return [
        stop(
            "other length",
            "{height} from the bottom edge the groove lies in fingers of {other}, which must be stopped too",
            "enter the length of {other} as cut",
            height=made.from_bottom,
            other=named((asked.other,)),
        )
    ]


_PLACES = {"bottom.tongue": "play", "sides.thickness": "thickness", "groove": "stops"}


def _in_the_settings(problem: Problem) -> Problem:
    """Return a problem of a box's groove with the settings it comes from; boards too short come from their length."""
    places = _PLACES | ({"groove": "length"} if problem.severity == "stop" else {})
    return problem.renamed(lambda key: places.get(key, key.removeprefix("groove.").replace("_", " ")))
