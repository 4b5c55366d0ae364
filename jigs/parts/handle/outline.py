"""The handle's finished outline in true arcs, and the wood that is left, measured on it."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from jigs.base.drawing import ArcTo, Circle, LineTo, Path, Point
from jigs.record import Record
from jigs.trade.handle import EndHoles

if TYPE_CHECKING:
    from shapely import LineString

CHORD_ERROR = 0.004
"""How far the polygon that is measured may leave the arcs, mm."""


class Wood(Record):
    """What is left where a handle is thin, mm: between holes, under and over them, at the horn's tip, in the feet."""

    neck: float
    base: float
    horn_tip: float
    hole_to_crest: float
    middle_to_crest: float = math.inf
    foot: float = math.inf

    @property
    def least(self) -> float:
        """The least of all."""
        return min(self.neck, self.base, self.horn_tip, self.hole_to_crest, self.middle_to_crest, self.foot)


def outline(holes: EndHoles) -> Path:
    """Return the outline, anticlockwise from the base's left end: base, right end with its hole, crest, left end.

    The base is in two where an arch opens in it. An eye is no part of the outline: it is `eye`.
    """
    end, (lower, upper) = holes.length / 2, holes.cusps
    crest_end = holes.height - holes.crest
    crest_centre = Point(0, holes.height - holes.crest_radius)
    middles = centres(holes)
    steps = (
        *_arch(holes),
        LineTo(Point(end, 0)),
        LineTo(Point(end, lower)),
        ArcTo(Point(end, upper), middles[-1], False),
        LineTo(Point(end, crest_end)),
        ArcTo(Point(-end, crest_end), crest_centre, True),
        LineTo(Point(-end, upper)),
        ArcTo(Point(-end, lower), middles[0], False),
        LineTo(Point(-end, 0)),
    )
    return Path(Point(-end, 0), steps, closed=True)


def _arch(holes: EndHoles) -> tuple[LineTo | ArcTo, ...]:
    """Return the base from its left end to the right side of the arch in it; nothing where there is none."""
    if not holes.middle or not holes.opening:
        return ()
    half = holes.opening / 2
    return LineTo(Point(-half, 0)), ArcTo(Point(half, 0), Point(0, holes.middle.y), False)


def eye(holes: EndHoles) -> Circle | None:
    """Return the hole in the middle where it is closed."""
    hole = holes.middle
    return Circle(Point(0, hole.y), hole.radius) if hole and not hole.opens else None


def right_half(holes: EndHoles) -> Path:
    """Return the half of the outline right of the middle line, open there."""
    arch = _arch(holes)
    base, *rest = outline(holes).steps[len(arch) : len(arch) + 4]
    crest_centre = Point(0, holes.height - holes.crest_radius)
    start = Point(0, holes.middle.y + holes.middle.radius) if holes.middle and arch else Point(0, 0)
    return Path(start, (*arch[1:], base, *rest, ArcTo(Point(0, holes.height), crest_centre, True)))


def centres(holes: EndHoles) -> tuple[Point, ...]:
    """Return the centres of the holes from left to right."""
    return tuple(Point(hole.x, hole.y) for hole in holes.row)


def measured(path: Path, eye: Circle | None = None) -> Wood:
    """Return the wood left, measured on an outline as `outline` returns it and an eye, to twice `CHORD_ERROR`."""
    starts = [path.start, *(step.end for step in path.steps)]
    pieces = [_drawn(Path(start, (step,))) for start, step in zip(starts, path.steps, strict=False)]
    *arch, foot, end_below, right, end_above, crest, _, left, _ = pieces
    necks, under, over, feet = [left.distance(right)], [right.distance(foot)], math.inf, math.inf
    middle = _drawn(eye) if eye else arch[-1] if arch else None
    if middle:
        necks += [middle.distance(left), middle.distance(right)]
        over = middle.distance(crest)
    if eye and middle:
        under.append(middle.distance(foot))
    elif middle:
        feet = middle.distance(end_below)
    return Wood(min(necks), min(under), end_above.length, right.distance(crest), over, feet)


def _drawn(piece: Path | Circle) -> LineString:
    from shapely import LineString  # noqa: PLC0415 - slow to import, and only the sheets measure

    return LineString(piece.points(CHORD_ERROR))
