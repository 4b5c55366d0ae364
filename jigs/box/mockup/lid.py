"""The lid as paper: its top with both long edges, bent over two end pieces that have the curve of its crown.

Axes of the top: x along the grain from its left end, y over the crown from one long edge. Under each edge a flap is
folded in, as wide as the lid's rabbet: on it the lid rests on the rim. The plug is not made.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Template
from jigs.base.drawing import ArcTo, Dimension, Kind, LineTo, Point
from jigs.box.mockup.nets import EASE, TAB, Net, folds, letter, outline, tab, teeth, teeth_for
from jigs.parts.handle.part import Handle
from jigs.parts.lid.part import Lid

CORNERS = "EFGH"
"""The lid's corners, seen from above, anticlockwise from the near left one."""
ENDS, BASE = "JK", "L"
"""Its ends, left and right, and the place of the handle."""
_OF_EDGE = 0.8
"""Depth of a tooth, of the lid's edge at the most: it must not stand out below."""


def over_crown(made: Lid) -> float:
    """Return the way over the crown from edge to edge: R·2·asin(width / 2R); the width of a flat lid."""
    radius = made.crown_radius
    return made.width if radius is None else 2 * radius * math.asin(min(1.0, made.width / (2 * radius)))


def templates(made: Lid, handle: Handle | None) -> Iterator[Template]:
    """Yield the top and the two ends."""
    yield _top(made, handle).template()
    yield _end(made, left=True).template()
    yield _end(made, left=False).template()


def _tooth(made: Lid) -> float:
    return min(TAB.size(made.units), _OF_EDGE * made.edge)


def _top(made: Lid, handle: Handle | None) -> Net:
    """The top with its edges and flaps, both short ends with teeth."""
    long, wide, edge, flap = made.length, over_crown(made), made.edge, made.rabbets[1]
    deep, count = _tooth(made), teeth_for(wide, bent=bool(made.crown))
    low, high = -edge - flap, wide + edge + flap
    points = [
        *(Point(0, -edge), Point(EASE, low), Point(long - EASE, low), Point(long, -edge), Point(long, 0)),
        *teeth((long, 0), (long, wide), deep, count),
        *(Point(long, wide + edge), Point(long - EASE, high), Point(EASE, high), Point(0, wide + edge)),
        Point(0, wide),
        *teeth((0, wide), (0, 0), deep, count),
    ]
    levels = (-edge, 0.0, wide, wide + edge)
    sides = (((x, 0.0), (x, wide)) for x in (0.0, long))
    labels = [
        draw.Label("lid", Point(long * 0.25, wide / 2), leader=False),
        *(letter(CORNERS[i], (x, y)) for i, (x, y) in enumerate(_flap_corners(made))),
        *(letter(ENDS[i], (x, wide / 2), _fitting(deep)) for i, x in enumerate((-deep / 2, long + deep / 2))),
    ]
    drawn: tuple[draw.Part, ...] = ()
    if handle:
        drawn = (_place(handle, long / 2, wide / 2),)
        labels.append(letter(BASE, (long / 2, wide / 2)))
    return Net(
        "lid-top",
        "Top of the lid",
        outline(points),
        folds(*(((0, y), (long, y)) for y in levels), *sides),
        Dimension(Point(0, low), Point(long, low), "below"),
        (Dimension(Point(0, 0), Point(0, wide), "left"),),
        drawn,
        tuple(labels),
    )


def _fitting(room: float) -> float:
    """Return the height of a letter for a tab that leaves it so much room."""
    return max(1.8, min(3.5, room - 2.2))


def _flap_corners(made: Lid) -> list[tuple[float, float]]:
    """Return where on the flaps of the long edges those of the ends are glued, corner by corner."""
    end, flap = made.rabbets
    x, y = min(end, made.length / 4) / 2 + EASE, made.edge + flap / 2
    far, wide = made.length - x, over_crown(made)
    return [(x, -y), (far, -y), (far, wide + y), (x, wide + y)]


def _place(handle: Handle, x: float, y: float) -> draw.Part:
    """The place of the handle's base, along the grain in the middle of the top."""
    half, deep = handle.length / 2, handle.thickness / 2
    shape = draw.rectangle(x - half, y - deep, x + half, y + deep)
    return draw.Part("handle-place", "Place of the handle", (draw.Line(shape, Kind.NEIGHBOUR),))


def _end(made: Lid, *, left: bool) -> Net:
    """An end: the lid's edge with the segment of its crown above, tabs at both sides, a flap below."""
    wide, edge, flap, deep = made.width, made.edge, made.rabbets[0], TAB.size(made.units)
    below = [Point(0, 0), Point(EASE, -flap), Point(wide - EASE, -flap), Point(wide, 0)]
    steps: list[LineTo | ArcTo] = [LineTo(p) for p in (*below[1:], *tab((wide, 0), (wide, edge), deep))]
    if radius := made.crown_radius:
        steps.append(ArcTo(Point(0, edge), Point(wide / 2, edge + made.crown - radius), True))
    else:
        steps.append(LineTo(Point(0, edge)))
    steps += [LineTo(point) for point in tab((0, edge), (0, 0), deep)]
    # Seen from outside: the left end has the far long edge at its left, the right end the near one.
    corners = (CORNERS[3], CORNERS[0]) if left else (CORNERS[1], CORNERS[2])
    size = _fitting(edge / 2)
    aside = min(made.rabbets[1], wide / 4) / 2 + EASE
    labels = (
        letter(ENDS[0 if left else 1], (wide / 2, edge + made.crown - 3.4)),
        *(letter(corners[i], (x, edge / 2), size) for i, x in enumerate((-deep / 2, wide + deep / 2))),
        *(letter(corners[i], (x, -flap / 2)) for i, x in enumerate((aside, wide - aside))),
    )
    name, long = ("left" if left else "right"), Dimension(Point(0, -flap), Point(wide, -flap), "below")
    return Net(
        f"lid-{name}",
        f"Lid, {name} end",
        draw.Path(below[0], tuple(steps), closed=True),
        folds(((0, 0), (wide, 0)), ((wide, 0), (wide, edge)), ((0, 0), (0, edge))),
        long,
        labels=labels,
    )
