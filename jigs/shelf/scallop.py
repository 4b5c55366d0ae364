"""A scalloped edge: a row of holes drilled along it with a hole saw; its settings, rules, card and template.

Axes: x along the edge from the left end of the board, y up from the edge, the board below it.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated

from jigs.base import drawing as draw
from jigs.base.cards import (
    Beside,
    Card,
    Caution,
    Check,
    Checks,
    Hold,
    Order,
    Pictures,
    Setting,
    Settings,
    Sheets,
    Template,
)
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild
from jigs.base.kinds import Count, Length
from jigs.base.rules import READ_OUT, Problem, Rules, stop, warn
from jigs.base.usual import LEAST_WEB, Usual
from jigs.base.wording import Offer, Words, at_least, at_most, say
from jigs.parts.handle.rules import LEAST_RIM
from jigs.record import Record, replace
from jigs.shelf import scenes
from jigs.shelf.scallop_picture import across, from_above
from jigs.trade import handle as arithmetic
from jigs.trade.limits import not_negative, positive, under

WASTE = 20.0
"""What the waste block stands out beyond the holes, mm (no source)."""
INTO_WASTE = 2.0
"""How far the saw goes into the waste block below, mm (no source)."""
BESIDE = 20.0
"""What is left of the edge at each end of a board whose length is not given, mm (no source)."""
LEAST_SCALLOP = 0.1
"""A shallower scallop is no more than a shaving (common practice, no source), mm."""
WITHIN = 0.3
"""How near a hole lies that is pricked through paper (common practice, no source), mm."""
SHOWN = 3
"""Holes that are drawn where the page can't hold the row."""


class Row(Record):
    """A row of holes along an edge, in the middle of it; `outside` is how far their centres are off the edge.

    All in mm. Raises ValueError for sizes that are not positive and holes that do not reach the edge.
    """

    radius: float
    pitch: float
    count: int
    outside: float
    length: float
    width: float
    thickness: float

    def __post_init__(self) -> None:
        positive(radius=self.radius, pitch=self.pitch, length=self.length, width=self.width, thickness=self.thickness)
        not_negative(outside=self.outside)
        under(self.radius, outside=self.outside)

    @property
    def hole(self) -> arithmetic.EdgeHole:
        """One hole by itself."""
        return arithmetic.off_edge_hole(radius=self.radius, outside=self.outside)

    @property
    def flat(self) -> float:
        """What is left of the edge between two holes; negative where they overlap there."""
        return arithmetic.flat_between(radius=self.radius, pitch=self.pitch, outside=self.outside)

    @property
    def cusp(self) -> float:
        """The points between two scallops, below the edge; 0 where the edge is left there, or with one hole."""
        if self.count == 1 or self.flat >= 0:
            return 0.0
        return arithmetic.row_of_holes(radius=self.radius, pitch=self.pitch).cusp - self.outside

    @property
    def depth(self) -> float:
        """The bottom of the scallops, below the edge."""
        return self.hole.depth

    @property
    def scallop(self) -> float:
        """From the points between the scallops to their bottoms."""
        return self.depth - self.cusp

    @property
    def shaped(self) -> float:
        """Length of the edge that is cut into."""
        return (self.count - 1) * self.pitch + self.hole.chord

    @property
    def centres(self) -> tuple[float, ...]:
        """The holes' centres, from the left end of the board."""
        first = (self.length - (self.count - 1) * self.pitch) / 2
        return tuple(first + self.pitch * i for i in range(self.count))

    @property
    def left_at_end(self) -> float:
        """What is left of the edge at each end of the board."""
        return (self.length - self.shaped) / 2

    @property
    def wood_below(self) -> float:
        """The wood below the scallops."""
        return self.width - self.depth

    @property
    def rim_in_turn(self) -> float:
        """The fraction of the rim in wood with waste on the edge, the holes drilled in turn."""
        neighbours = min(1, self.count - 1)
        return arithmetic.rim_beside_holes(radius=self.radius, pitch=self.pitch, neighbours=neighbours)

    @property
    def rim_between(self) -> float:
        """The same of a hole drilled between two that are there already."""
        neighbours = min(2, self.count - 1)
        return arithmetic.rim_beside_holes(radius=self.radius, pitch=self.pitch, neighbours=neighbours)


@jig("scallop", title="Scalloped edge", summary="an edge shaped by a row of holes from a hole saw")
def scallop(
    *,
    saw: Annotated[float, Length("hole the saw cuts, measured in scrap", 10, 150)],
    pitch: Annotated[float, Length("from centre to centre", 3, 400)],
    count: Annotated[int, Count("holes", 1, 60)] = 5,
    outside: Annotated[float, Length("centres outside the edge", 0, 70)] = 0.0,
    length: Annotated[float | None, Length("length of the board", 20, 2000)] = None,
    width: Annotated[float, Length("width of the board", 5, 600)] = Usual(60, 5 / 2).default,
    thickness: Annotated[float, Length("thickness of the board", 3, 60)] = Usual(12, 1 / 2).default,
) -> Plan:
    """Template, positions and drilling order of an edge scalloped with a hole saw.

    Example: --saw 38.6 --pitch 30

    Sources: The cusp line and the depth of a row are derived in `jigs/trade/handle.py`. Webs: common practice, no
    source.
    """
    if outside >= saw / 2:
        raise CannotBuild([_misses_the_edge(saw / 2, outside)])
    made = Row(saw / 2, pitch, count, outside, length or 1.0, width, thickness)
    if length is None:
        made = replace(made, length=made.shaped + 2 * BESIDE)
    found: list[Problem] = []
    if ROW.judge(made, found) is None:
        raise CannotBuild(found)
    several = "holes" if count > 1 else "hole"
    title = say(f"Scalloped edge, {{holes}} {several} of {{saw:cut}}", holes=str(count), saw=saw)
    return Plan(title, as_data(made), sheets(made), tuple(found))


def as_data(made: Row) -> dict[str, object]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    return {
        "scallop_depth": made.scallop,
        "depth": made.depth,
        "cusp_line": made.cusp,
        "chord": made.hole.chord,
        "flat": max(0.0, made.flat),
        "rim_in_wood": made.hole.rim_in_wood,
        "rim_with_waste": made.rim_in_turn,
        "centres": list(made.centres),
        "length": made.length,
    }


# -- rules ---------------------------------------------------------------------------------------------------------


def _misses_the_edge(radius: float, outside: float) -> Problem:
    said = "holes of {saw} do not reach the edge with their centres {outside} outside it"
    numbers = {"saw": 2 * radius, "outside": outside, "nearer": at_most(radius - LEAST_SCALLOP)}
    return stop("outside", said, "put the centres {nearer} or less outside the edge", **numbers)


def _row_longer_than_board(made: Row) -> Iterator[Problem]:
    if made.left_at_end < 0:
        most = int((made.length - made.hole.chord) / made.pitch + 1e-9) + 1 if made.length >= made.hole.chord else 0
        longer = "use a board {longer} long or more"
        yield stop(
            "count" if most else "length",
            "{holes} take {shaped:cut up} of the edge, which is {length:cut} long",
            ("drill {fewer} or fewer", longer) if most else (longer, "drill one hole in a board {one} long or more"),
            holes=f"{made.count} hole{'s' if made.count > 1 else ''}",
            shaped=made.shaped,
            length=made.length,
            fewer=Offer(most, "down"),
            longer=at_least(made.shaped + 2 * LEAST_WEB, "length"),
            one=at_least(made.hole.chord + 2 * LEAST_WEB, "length", count=1),
        )


def _little_wood_below(made: Row) -> Iterator[Problem]:
    if made.wood_below < LEAST_WEB - READ_OUT:
        yield (stop if made.wood_below <= 0 else warn)(
            "width",
            "scallops {depth:cut} deep leave {wood:cut down} of a board {width:cut} wide, and less than {web} breaks",
            "use a board {least} wide or more",
            depth=made.depth,
            wood=max(0.0, made.wood_below),
            width=made.width,
            web=LEAST_WEB,
            least=at_least(made.depth + LEAST_WEB),
        )


def _holes_are_one(made: Row) -> Iterator[Problem]:
    """Find scallops too shallow: between centres a pitch apart one is radius − √(radius² − pitch²/4) deep at most."""
    if made.count > 1 and made.scallop < LEAST_SCALLOP:
        yield warn(
            "pitch",
            "holes {pitch} apart make scallops only {scallop:gauge} deep, which is no more than a shaving",
            ("space the holes {wider} apart or more", "put the centres {nearer} or less outside the edge"),
            pitch=made.pitch,
            scallop=made.scallop,
            wider=at_least(2 * math.sqrt(LEAST_SCALLOP * (2 * made.radius - LEAST_SCALLOP))),
            nearer=at_most(made.radius - LEAST_SCALLOP, "outside"),
        )


def _web_breaks(made: Row) -> Iterator[Problem]:
    if made.count > 1 and READ_OUT <= made.flat < LEAST_WEB - READ_OUT:
        yield warn(
            "pitch",
            "the wood between two holes will break, because only {web:gauge} of the edge is left there",
            ("overlap the holes, {overlap} apart or less", "space them {apart} apart or more"),
            web=made.flat,
            overlap=at_most(made.hole.chord),
            apart=at_least(made.hole.chord + LEAST_WEB),
        )


def _horns_break(made: Row) -> Iterator[Problem]:
    if made.left_at_end < LEAST_WEB - READ_OUT:
        yield warn(
            "length",
            "the ends of the board will break, because only {left:cut down} of the edge is left there",
            "drill a board {longer} long or more, and trim it afterwards",
            left=made.left_at_end,
            longer=at_least(made.shaped + 2 * LEAST_WEB),
        )


def _saw_walks(made: Row) -> Iterator[Problem]:
    rim = made.hole.rim_in_wood
    if rim <= LEAST_RIM + 1e-9:
        yield warn(
            "outside",
            "the saw will walk, because only {rim} of the saw rim is in wood where nothing is against the edge",
            "butt a waste block as thick as the board against the edge",
            rim=_share(rim),
        )


ROW: Rules[Row] = Rules(
    (_row_longer_than_board,),
    (_little_wood_below, _holes_are_one, _web_breaks, _horns_break, _saw_walks),
)


# -- the card ------------------------------------------------------------------------------------------------------


def sheets(made: Row) -> Sheets:
    """Return the card of a row of holes and its template."""
    view = _view(made, 1)
    if made.count > SHOWN:
        view = replace(_view(made, SHOWN), detail=view)
    if made.count > 1:
        whole = _view(made, made.count)
        view = replace(whole, detail=replace(scenes.on_its_side(whole), detail=view))
    use = "prick the centres; check the finished edge"
    return Sheets((_card(made),), (Template(view, "scallop", use, "scallop"),))


def _card(made: Row) -> Card:
    wide = made.outside + made.radius + WASTE
    into = made.thickness + INTO_WASTE
    pilot = arithmetic.pilot(radius=made.radius, inside=made.outside).stays
    pictures = (from_above(made, wide), across(made, wide, into, pilot=pilot))
    bands = (
        Pictures(pictures, least=48.0, most=96.0, shares=(0.53, 0.47)),
        Beside(Settings(_settings(made, into)), _checks(made), 0.7),
        Order(tuple(_preparing(made, wide))),
        Hold("Trial in scrap passes; board and waste block clamped.", "hole tried"),
        Order(tuple(_drilling(made))),
    )
    about = f"{made.count} holes along the edge" if made.count > 1 else "one hole in the edge"
    return Card("scallop", "Scalloped edge", "Drill press", tuple(_cautions(made)), bands, about, "scallop")


def _cautions(made: Row) -> Iterator[Caution]:
    yield Caution("Spin", "Clamp board and block to the drill press. Hold nothing by hand.")
    yield Caution("Catch", "No gloves. Tie back hair and sleeves: the saw winds them up.")
    yield Caution(
        "Walk",
        f"Butt a block to the edge. Without, {_share(made.hole.rim_in_wood)} of the saw rim is in wood: it walks.",
    )
    yield Caution("Speed", "Lowest speed, light feed. Clear chips when the saw stands still.")


def _share(part: float) -> str:
    return f"{part:.0%}".replace("%", " %")


def _settings(made: Row, into: float) -> tuple[Setting, ...]:
    rows = [
        Setting("saw", "Hole, cut in scrap", 2 * made.radius, 0.1, "callipers"),
        Setting("rim", "Edge to the far rim", made.depth, 0.1, "rule"),
        Setting("first", "Left end to hole 1", made.centres[0], WITHIN, "template"),
    ]
    if made.count > 1:
        rows.append(Setting("pitch", "Centre to centre", made.pitch, WITHIN, "template"))
    room = arithmetic.clamp_room(made.radius)
    return (
        *rows,
        Setting("stop", "Depth below face", into, 0.5, "depth stop"),
        Setting("clamps", "Clamps, at least", room, 0.5, "rule"),
    )


def _checks(made: Row) -> Checks:
    rows = [Check("scallop, points to bottom", made.scallop - WITHIN, made.scallop + WITHIN, 0.05)]
    if made.count == 1:
        rows = [Check("opening of the hole", made.hole.chord - WITHIN, made.hole.chord + WITHIN, 0.05)]
    elif made.flat >= 0:
        rows.append(Check("edge left between holes", made.flat - WITHIN, made.flat + WITHIN, 0.05))
    rows.append(Check("edge left at each end", made.left_at_end - WITHIN, made.left_at_end + WITHIN, 0.05))
    return Checks(tuple(rows[:2]), "Check", "the finished edge")


def _preparing(made: Row, wide: float) -> Iterator[Words]:
    yield say(
        "Butt a waste block, {thick} × {wide} or more, to the edge; waste board below.",
        thick=made.thickness,
        wide=wide,
    )
    yield _pilot(made)


def _drilling(made: Row) -> Iterator[Words]:
    turn, between = (_share(rim) for rim in (made.rim_in_turn, made.rim_between))
    if made.count == 1:
        yield "Drill the hole."
        return
    yield "Drill in turn from the left, lift often, move both clamps along."
    if between != turn:
        yield f"Leave none out: in turn {turn} of the saw rim is in wood, between two holes {between}."


def _pilot(made: Row) -> str:
    """Say whether the pilot drill stays in: in the waste block it can, on the seam between block and edge it can't."""
    pilot = arithmetic.pilot(radius=made.radius, inside=made.outside)
    if pilot.stays:
        return "Leave the pilot drill in: it stands in the waste block and marks nothing."
    why = (
        "it would stand on the seam and push block and board apart"
        if pilot.in_wood < 0
        else "it is wider than the core that falls out, and would mark the board"
    )
    return f"Take the pilot drill out: {why}. Keep wood all round the saw rim, or the saw will walk."


# -- the template --------------------------------------------------------------------------------------------------


def _view(made: Row, shown: int) -> draw.View:
    """The board's edge with so many holes from its left end, and the waste block on it."""
    whole = shown == made.count
    right = made.length if whole else min(made.length, made.centres[shown - 1] + made.radius + BESIDE / 2)
    bottom, top = -min(made.width, made.depth + 8.0), made.outside + made.radius + 3.0
    centres = [draw.Point(x, made.outside) for x in made.centres[:shown]]
    board = draw.Part(
        "board",
        "Board",
        (
            draw.Line(draw.line((0, 0), (0, bottom), (right, bottom)), draw.Kind.EDGE),
            draw.Line(draw.line((right, bottom), (right, 0)), draw.Kind.EDGE if whole else draw.Kind.NEIGHBOUR),
            draw.Line(draw.line((0, 0), (right, 0)), draw.Kind.REFERENCE),
        ),
    )
    waste = draw.Part("waste", "Waste", tuple(crossed for centre in centres for crossed in _waste(made, centre)))
    block = draw.Part("waste-block", "Waste block", (draw.Line(draw.rectangle(0, 0, right, top), draw.Kind.NEIGHBOUR),))
    holes = tuple(
        draw.Part(f"hole-{i}", f"Hole {i}", holes=(draw.Hole(centre, made.radius, "hole" if i == 1 else ""),))
        for i, centre in enumerate(centres, start=1)
    )
    cusps = [] if made.count == 1 or made.flat >= 0 else [draw.line((centres[0].x, -made.cusp), (right, -made.cusp))]
    cusp_line = (draw.Part("cusp-line", "Line of the points", draw.lines(cusps, draw.Kind.NARROW)),) if cusps else ()
    check = draw.Dimension(draw.Point(centres[0].x, bottom), draw.Point(centres[-1].x, bottom), "below")
    if shown == 1:
        check = draw.Dimension(draw.Point(0, bottom), draw.Point(centres[0].x, bottom), "below")
    return draw.View(
        "edge",
        "Scalloped edge" if whole else "Scalloped edge, its left end",
        (board, waste, block, *holes, *cusp_line),
        _dimensions(made, centres, bottom, right, check),
        (draw.Label("waste block", draw.Point(right - 4.0, top - 2.0), towards="above"),),
        check=check,
        piece=draw.Piece(_finished(made, centres, bottom, right)),
    )


def _finished(made: Row, centres: list[draw.Point], bottom: float, right: float) -> draw.Path:
    """The board without what the holes take out of it; two that run into one another meet in a point."""
    steps: list[draw.LineTo | draw.ArcTo] = []
    for i, centre in enumerate(centres):
        start, end = (centre.moved(way * made.hole.chord / 2, -made.outside) for way in (-1, 1))
        if made.count > 1 and made.flat < 0 and i + 1 < len(centres):
            end = draw.Point((centre.x + centres[i + 1].x) / 2, -made.cusp)
        if not i or made.flat >= 0:
            steps.append(draw.LineTo(start))
        steps.append(draw.ArcTo(end, centre, anticlockwise=True))
    corners = [(right, 0.0), (right, bottom), (0.0, bottom)]
    return draw.Path(draw.Point(0, 0), (*steps, *(draw.LineTo(draw.Point(*c)) for c in corners)), closed=True)


def _dimensions(
    made: Row, centres: list[draw.Point], bottom: float, right: float, check: draw.Dimension
) -> tuple[draw.Dimension, ...]:
    first = draw.Dimension(draw.Point(0, bottom), draw.Point(centres[0].x, bottom), "below")
    found = [first] if first == check else [first, check]
    if len(centres) > 2:
        found.append(draw.Dimension(draw.Point(centres[0].x, bottom), draw.Point(centres[1].x, bottom), "below"))
    found.append(draw.Dimension(draw.Point(right, 0), draw.Point(centres[-1].x, -made.depth), "right"))
    if made.cusp and len(centres) > 1:
        found.append(draw.Dimension(draw.Point(0, 0), draw.Point(centres[0].x, -made.cusp), "left"))
    if made.outside:
        found.append(draw.Dimension(draw.Point(0, 0), draw.Point(0, made.outside), "left"))
    return tuple(found)


def _waste(made: Row, centre: draw.Point) -> tuple[draw.Line, draw.Line]:
    """The cross over what one hole takes out of the board."""
    half = made.hole.chord / 2
    turn = math.degrees(math.asin(min(1.0, half / made.radius))) / 2
    low = [draw.on_circle(centre, made.radius, 270 + way * turn) for way in (1, -1)]
    ends = (draw.Point(centre.x - half, 0), draw.Point(centre.x + half, 0))
    first, second = (draw.line(end, point) for end, point in zip(ends, low, strict=True))
    return draw.Line(first, draw.Kind.NARROW), draw.Line(second, draw.Kind.NARROW)
