"""What stands in the pictures of the shelf's jigs beside the things of all pictures: saw blades, and views turned."""

from __future__ import annotations

import math

from jigs.base import drawing as draw
from jigs.base.drawing import Kind, Line, Part, Point
from jigs.record import replace

BLADE = 125.0
"""Radius of the blade that pictures show, mm: the usual one of 250."""

_LEFT: dict[draw.Side, draw.Side] = {"above": "left", "left": "below", "below": "right", "right": "above"}
_RIGHT: dict[draw.Side, draw.Side] = {left: side for side, left in _LEFT.items()}


def on_its_side(view: draw.View, *, clockwise: bool = False) -> draw.View:
    """Return a view turned by a quarter, anticlockwise or clockwise: a long piece as it stands, or as it lies."""
    sides = _RIGHT if clockwise else _LEFT
    sign = -1.0 if clockwise else 1.0

    def at(point: Point) -> Point:
        return Point(-sign * point.y, sign * point.x)

    def dimension(d: draw.Dimension) -> draw.Dimension:
        return replace(d, start=at(d.start), end=at(d.end), side=sides[d.side])

    labels = [
        replace(label, at=at(label.at), towards=sides[label.towards] if label.towards else None)
        for label in view.labels
    ]
    return replace(
        view,
        parts=tuple(turned(part, clockwise=clockwise) for part in view.parts),
        dimensions=tuple(dimension(d) for d in view.dimensions),
        labels=tuple(labels),
        check=dimension(view.check) if view.check else None,
        critical=draw.around([_corner(at(p)) for p in _corners(view.critical)]) if view.critical else None,
    )


def _corners(box: draw.Bounds) -> tuple[Point, Point]:
    return Point(box.left, box.bottom), Point(box.right, box.top)


def _corner(point: Point) -> draw.Bounds:
    return draw.Bounds(*point, *point)


def turned(part: Part, *, clockwise: bool = False) -> Part:
    """Return a part turned by a quarter about the origin."""
    sign = -1.0 if clockwise else 1.0

    def at(point: Point) -> Point:
        return Point(-sign * point.y, sign * point.x)

    def path(shape: draw.Path) -> draw.Path:
        steps = tuple(
            draw.ArcTo(at(s.end), at(s.centre), s.anticlockwise)
            if isinstance(s, draw.ArcTo)
            else draw.LineTo(at(s.end))
            for s in shape.steps
        )
        return draw.Path(at(shape.start), steps, shape.closed)

    def shape(one: draw.Shape) -> draw.Shape:
        return draw.Circle(at(one.centre), one.radius) if isinstance(one, draw.Circle) else path(one)

    return replace(
        part,
        lines=tuple(Line(shape(drawn.shape), drawn.kind) for drawn in part.lines),
        holes=tuple(replace(hole, centre=at(hole.centre)) for hole in part.holes),
        hatched=tuple(path(area) for area in part.hatched),
        arrows=tuple((at(tail), at(tip)) for tail, tip in part.arrows),
        covers=tuple(shape(area) for area in part.covers),
    )


# -- a table saw -----------------------------------------------------------------------------------------------------


def blade_from_above(centre: tuple[float, float], kerf: float, above: float) -> Part:
    """Return a blade that stands `above` out of its table, with the riving knife behind it; it cuts towards you."""
    x, y = centre
    half = math.sqrt(max(0.0, BLADE**2 - (BLADE - above) ** 2))
    slot = draw.rectangle(x - kerf / 2, y - half, x + kerf / 2, y + half)
    knife = draw.rectangle(x - kerf / 3, y + half + 6, x + kerf / 3, y + half + 46)
    teeth = [
        draw.line((x - kerf / 2, y - half + 12 * i), (x + kerf / 2, y - half + 12 * i)) for i in range(1, int(half / 6))
    ]
    return Part("blade", "Blade", (Line(slot), Line(knife), *draw.lines(teeth, Kind.NARROW)), covers=(slot, knife))


def blade_guard(centre: tuple[float, float], above: float) -> Part:
    """Return the guard over a blade, seen through from above."""
    x, y = centre
    half = math.sqrt(max(0.0, BLADE**2 - (BLADE - above) ** 2)) + 16
    box = draw.rectangle(x - 22, y - half, x + 22, y + half + 40)
    return Part("guard", "Guard over the blade", (Line(box, Kind.NEIGHBOUR),))


def blade_across(centre: float, kerf: float, top: float, bottom: float) -> Part:
    """Return a blade seen along the way it cuts: its tooth at the top, the plate narrower below."""
    plate = draw.rectangle(centre - kerf * 0.36, bottom, centre + kerf * 0.36, top - 6)
    tooth = draw.polygon(
        (centre - kerf * 0.36, top - 6),
        (centre + kerf * 0.36, top - 6),
        (centre + kerf / 2, top),
        (centre - kerf / 2, top),
    )
    axis = Line(draw.line((centre, bottom - 3), (centre, top + 4)), Kind.CENTRE)
    return Part("blade", "Blade", (Line(plate), Line(tooth), axis), covers=(plate, tooth))


# -- a drill press ---------------------------------------------------------------------------------------------------


def clamp_from_you(name: str, pad: tuple[float, float], front: float) -> Part:
    """Return a screw clamp seen from above that comes over the edge nearest to you, its screw on the work at `pad`."""
    x, y = pad
    bar = draw.rectangle(x - 5, front, x + 5, y + 4)
    screw = draw.Circle(Point(x, y), 9.0)
    handle = Line(draw.line((x - 14, y), (x + 14, y)))
    return Part(name, "Clamp", (Line(bar), Line(screw), handle), covers=(bar, screw))
