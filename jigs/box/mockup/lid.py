"""The lid as paper: its top with both long edges, bent over two end pieces that have the curve of its crown.

Axes of the top: x along the grain from its left end, y over the crown from one long edge. Under each edge a flap is
folded in, as wide as the lid's rabbet: on it the lid rests on the rim. The plug is not made.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal

from jigs.base import drawing as draw
from jigs.base.cards import Template
from jigs.base.drawing import ArcTo, Dimension, Kind, LineTo, Point
from jigs.box.mockup.nets import EASE, LETTER, TAB, Net, folds, letter, outline, tab, teeth, teeth_for
from jigs.parts.handle.part import Handle
from jigs.parts.lid.part import Lid

CORNERS = "EFGH"
"""The lid's corners, seen from above, anticlockwise from the near left one."""
ENDS, BASE = "JK", "L"
"""Its ends, left and right, and the place of the handle."""
LAP = "P"
"""The strip under the ridge of a top that comes in two halves."""
Half = Literal["", "near", "far"]
HALVES: tuple[Half, Half] = ("near", "far")
_OF_EDGE = 0.8
"""Depth of a tooth, of the lid's edge at the most: it must not stand out below."""


def over_crown(made: Lid) -> float:
    """Return the way over the crown from edge to edge: R·2·asin(width / 2R); the width of a flat lid."""
    radius = made.crown_radius
    return made.width if radius is None else 2 * radius * math.asin(min(1.0, made.width / (2 * radius)))


def templates(made: Lid, handle: Handle | None) -> Iterator[Template]:
    """Yield the top, which comes apart at its ridge where it fits no page, and the two ends."""
    halves = [_top(made, handle, half).template() for half in HALVES]
    yield _top(made, handle).template(*halves)
    yield _end(made, left=True).template()
    yield _end(made, left=False).template()


def _tooth(made: Lid) -> float:
    return min(TAB.size(made.units), _OF_EDGE * made.edge)


def _top(made: Lid, handle: Handle | None, half: Half = "") -> Net:
    """The top with its edges and flaps, both short ends with teeth; or the half of it on one side of the ridge."""
    long, wide, edge, flap = made.length, over_crown(made), made.edge, made.rabbets[1]
    low, high = (wide / 2 if half == "far" else 0.0), (wide / 2 if half == "near" else wide)
    deep, count = _tooth(made), teeth_for(high - low, bent=bool(made.crown))
    below, above = low - edge - flap, high + edge + flap
    near = [Point(0, low - edge), Point(EASE, below), Point(long - EASE, below), Point(long, low - edge)]
    far = [Point(long, high + edge), Point(long - EASE, above), Point(EASE, above), Point(0, high + edge)]
    points = [
        *([Point(0, low)] if half == "far" else near),
        *(Point(long, low), *teeth((long, low), (long, high), deep, count)),
        *(tab((long, high), (0, high), TAB.size(made.units)) if half == "near" else (*far, Point(0, high))),
        *teeth((0, high), (0, low), deep, count),
    ]
    levels = [*([low - edge, low] if half != "far" else []), *([high, high + edge] if half != "near" else [])]
    base = low if half == "far" else low - edge  # the flap below is narrower at its free end
    return Net(
        "lid-top" if not half else f"lid-{half}",
        f"Top of the lid, {half} half" if half else "Top of the lid",
        outline(points),
        folds(*(((0, y), (long, y)) for y in levels), *(((x, low), (x, high)) for x in (0.0, long))),
        Dimension(Point(0, base), Point(long, base), "below"),
        (Dimension(Point(0, low), Point(0, high), "left"),),
        tuple(_on_top(made, handle, low, high, half)),
        tuple(_top_labels(made, handle, low, high, half)),
    )


def _on_top(made: Lid, handle: Handle | None, low: float, high: float, half: Half) -> Iterator[draw.Part]:
    """Yield the place of the handle's base, along the grain in the middle of the top, and the line of a lap."""
    long, ridge = made.length, over_crown(made) / 2
    if handle:
        (left, right), deep = (long / 2 - handle.length / 2, long / 2 + handle.length / 2), handle.thickness / 2
        start, end = max(low, ridge - deep), min(high, ridge + deep)
        corners = [(right, start), (right, end), (left, end), (left, start)]
        if half == "near":  # open at the ridge
            corners = [*corners[2:], *corners[:2]]
        shape = draw.line(*corners) if half else draw.polygon(*corners)
        name = f"handle-place-{half}" if half else "handle-place"
        yield draw.Part(name, "Place of the handle", (draw.Line(shape, Kind.NEIGHBOUR),))
    if half == "near":
        line = draw.line((0, ridge), (long, ridge))
        yield draw.Part("lid-lap", "Lap at the ridge, not folded", (draw.Line(line, Kind.NARROW),))


def _top_labels(made: Lid, handle: Handle | None, low: float, high: float, half: Half) -> Iterator[draw.Label]:
    """Yield the letters of the top, and what it is called."""
    long, ridge, deep, middle = made.length, over_crown(made) / 2, _tooth(made), (low + high) / 2
    out = made.edge + made.rabbets[1] / 2
    yield draw.Label("lid", Point(long * 0.2, middle), leader=False)
    for name, (x, y) in zip(CORNERS, _flap_corners(made), strict=True):
        if half != ("far" if y < ridge else "near"):
            yield letter(name, (x, y))
    for y in ([low - out] if half != "far" else []) + ([high + out] if half != "near" else []):
        yield draw.Label("flap", Point(long / 2, y), leader=False)
    for name, x in zip(ENDS, (-deep / 2, long + deep / 2), strict=True):
        yield letter(name, (x, middle), _fitting(deep))
    if half == "near":
        yield letter(LAP, (long * 0.2, high + TAB.size(made.units) / 2))
        yield draw.Label("not folded", Point(long * 0.2 + 16.0, high + TAB.size(made.units) / 2), leader=False)
    if half == "far":
        yield letter(LAP, (long * 0.2, low + 4.0))
    if handle:
        side = {"near": -1, "far": 1}.get(half, 0)
        yield letter(BASE, (long / 2, ridge + side * handle.thickness / 4))


def _fitting(room: float) -> float:
    """Return the height of a letter for a tab that leaves it so much room, lines and what letters keep off them."""
    return max(1.8, min(LETTER, (room / 2 - 0.6) / 0.85))


def _flap_corners(made: Lid) -> list[tuple[float, float]]:
    """Return where on the flaps of the long edges those of the ends are glued, corner by corner."""
    end, flap = made.rabbets
    x, y = min(end, made.length / 4) / 2 + EASE, made.edge + flap / 2
    far, wide = made.length - x, over_crown(made)
    return [(x, -y), (far, -y), (far, wide + y), (x, wide + y)]


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
    size = _fitting(0.75 * edge)  # half way out
    aside = min(made.rabbets[1], wide / 4) / 2 + EASE
    labels = (
        letter(ENDS[0 if left else 1], (wide / 2, edge + made.crown - 3.4)),
        *(letter(corners[i], (x, edge / 2), size) for i, x in enumerate((-deep / 2, wide + deep / 2))),
        *(letter(corners[i], (x, -flap / 2)) for i, x in enumerate((aside, wide - aside))),
        draw.Label("flap", Point(wide / 2, -flap / 2), leader=False),
    )
    name, long = ("left" if left else "right"), Dimension(Point(0, 0), Point(wide, 0), "below")
    return Net(
        f"lid-{name}",
        f"{name.capitalize()} end of the lid",
        draw.Path(below[0], tuple(steps), closed=True),
        folds(((0, 0), (wide, 0)), ((wide, 0), (wide, edge)), ((0, 0), (0, edge))),
        long,
        labels=labels,
    )
