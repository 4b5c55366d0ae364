"""What pictures for a screen are put together from: boards in the colour of their wood, tools, blue arrows.

Sizes in mm, x to the right, y up. Nothing is told by colour alone: everything has its outline too.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Literal

import shapely

from jigs.base import drawing as draw
from jigs.base.drawing import Colour, Kind, Line, Part, Tinted
from jigs.trade.fingers import Span

MAKER = Colour(15, 74, 112)
"""Blue is the maker's hand: which way to move."""
STEEL, ASH = Colour(208, 212, 211), Colour(233, 217, 184)
"""Callipers and feelers; key and spacer, whose wood the file does not name."""
FACE, END_GRAIN = 1.0, 0.72
"""Shares of its colour that a wood shows on long grain and on end grain, which takes up more finish (common practice,
no source)."""
_GRAIN = 0.45
_ROW, _LONG, _BETWEEN = 0.035, 0.4, 0.12
"""Rows of grain so far apart, strokes so long and so far apart, as shares of the longer side of a board."""
_GOLDEN = (math.sqrt(5) - 1) / 2
_SAME = 1e-6
_TIMES = (100, 50, 20, 10, 5, 2)

Way = Literal["along", "up"]
"""Which way the grain of a board runs across a picture."""


def enlarged(amount: float, room: float) -> int:
    """Return how many times too large an amount may be drawn and still find room: what is drawn true can't be seen."""
    return next((times for times in _TIMES if 0 < abs(amount) * times <= room + 1e-9), 1)


def comb(sockets: Sequence[Span], width: float, floor: float, tips: float, back: float) -> draw.Path:
    """Return the outline of a board of which `width` is shown, as far as `back`, with its sockets from above."""
    whole = shapely.box(0.0, min(back, tips), width, max(back, tips))
    low, high = sorted((floor, tips))
    cuts = [shapely.box(span.start, low, span.end, high) for span in sockets if span.start < width]
    left = whole.difference(shapely.union_all(cuts))
    assert isinstance(left, shapely.Polygon), "the board holds together behind its sockets"
    return draw.polygon(*((x, y) for x, y in left.exterior.coords[:-1]))


def on_its_side(path: draw.Path) -> draw.Path:
    """Return an outline with across and up exchanged: a comb whose fingers look to the left."""
    return draw.polygon(*((point.y, point.x) for point in path.points()[:-1]))


def board(
    name: str,
    title: str,
    shape: draw.Path,
    colour: Colour,
    way: Way | None = "up",
    *,
    goes_on: Sequence[draw.Side] = (),
) -> Part:
    """Return a board in its wood; without a `way` it shows end grain. It `goes_on` beyond the picture at some sides."""
    tone = colour.times(FACE if way else END_GRAIN)
    grain = tuple(_strokes(shape, colour.times(_GRAIN), way)) if way else ()
    lines = tuple(_edges(shape, goes_on)) if goes_on else (Line(shape),)
    return Part(name, title, lines, fills=(Tinted(shape, tone),), grain=grain)


def _edges(shape: draw.Path, goes_on: Sequence[draw.Side]) -> Iterator[Line]:
    """Yield the edges of a board that is broken off at some sides, and lines with the sign for it there."""
    box = shape.bounds
    places = {"left": (0, box.left), "right": (0, box.right), "below": (1, box.bottom), "above": (1, box.top)}
    broken = [places[side] for side in goes_on]
    corners = shape.points()
    if any(abs(corners[0][axis] - at) < _SAME for axis, at in broken):  # begin where no edge is broken in two
        corners = corners[:-1]
    run = [corners[0]]
    for start, end in zip(corners, (*corners[1:], corners[0]), strict=True):
        if start == end:
            continue
        if any(abs(start[axis] - at) < _SAME and abs(end[axis] - at) < _SAME for axis, at in broken):
            if len(run) > 1:
                yield Line(draw.line(*run))
            run = [end]
            if math.dist(start, end) > _SAME:
                yield Line(draw.break_line(start, end), Kind.BREAK)
        else:
            run.append(end)
    if len(run) > 1:
        yield Line(draw.line(*run))


def plain(name: str, title: str, shape: draw.Path, colour: Colour) -> Part:
    """Return a thing in one colour."""
    return Part(name, title, (Line(shape, Kind.NARROW),), fills=(Tinted(shape, colour),))


def _strokes(shape: draw.Path, colour: Colour, way: Way) -> Iterator[Tinted]:
    """Yield the grain of a board: rows of strokes, each begun at another place."""
    area, box = shapely.Polygon(shape.points()), shape.bounds
    (start, end), (low, high) = ((box.left, box.right), (box.bottom, box.top))
    if way == "up":
        start, end, low, high = low, high, start, end
    reach = max(end - start, high - low)
    row, period = _ROW * reach, (_LONG + _BETWEEN) * reach
    for number in range(1, math.ceil((high - low) / row)):
        at = low + number * row
        first = start - number * _GOLDEN % 1.0 * period
        while first < end:
            ends = ((first, at), (first + _LONG * reach, at))
            line = shapely.LineString([(y, x) if way == "up" else (x, y) for x, y in ends])
            for piece in shapely.get_parts(line.intersection(area)):
                if piece.length > row / 2 and piece.geom_type == "LineString":
                    yield Tinted(draw.line(*piece.coords), colour)
            first += period


def arrow(name: str, title: str, tail: tuple[float, float], tip: tuple[float, float], wide: float) -> Part:
    """Return a blue arrow, so wide in its head: which way the maker pushes."""
    along = math.dist(tail, tip)
    ux, uy = (tip[0] - tail[0]) / along, (tip[1] - tail[1]) / along
    head = min(wide, along * 0.6)

    def at(forward: float, aside: float) -> tuple[float, float]:
        return tail[0] + ux * forward - uy * aside, tail[1] + uy * forward + ux * aside

    half, shaft = wide / 2, wide / 6
    back = along - head
    shape = draw.polygon(
        at(0, shaft), at(back, shaft), at(back, half), tip, at(back, -half), at(back, -shaft), at(0, -shaft)
    )
    return Part(name, title, (Line(shape, Kind.NARROW),), fills=(Tinted(shape, MAKER),))


def reference(x: float, low: float, high: float) -> Part:
    """Return the heavy line of the reference edge."""
    return Part("reference", "Reference edge", (Line(draw.line((x, low), (x, high)), Kind.REFERENCE),))
