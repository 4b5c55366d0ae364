"""Bézier curves as chains of true arcs, for pages and files that know no other curve. Lengths in mm.

A curve is taken by two arcs that touch each other and its ends (a biarc); where they leave it by more than `WITHIN` it
is halved, and each half taken so. What two arcs won't take, a cusp or a curve as good as straight, ends in chords: a
piece halved `_MOST_HALVES` times, or one that keeps to its chord.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from jigs.base.drawing import ArcTo, LineTo, Point
from jigs.base.outline import on_curve

WITHIN = 0.003
"""How far, in mm, arcs may leave the curve that they stand for."""
_MOST_HALVES = 12
_LOOKED_AT = 12  # places along a curve where it is held against its arcs
_FLATTEST = 1e5  # radius, mm: a flatter arc is drawn as a line, off by 0.002 mm over 40 mm
_WIDEST = math.radians(120)  # an arc that turns more goes another way than its curve
_TINY = 1e-9  # mm

Curve = tuple[Point, Point, Point, Point]


def in_arcs(curve: Curve, halves: int = 0) -> Iterator[LineTo | ArcTo]:
    """Yield the steps of a path along a Bézier curve of the third degree, from its first point to its last."""
    if _keeps_to_chord(curve):
        if curve[0] != curve[3]:
            yield LineTo(curve[3])
        return
    steps = _two_arcs(curve)
    if steps and _keeps_to(curve, steps):
        yield from steps
    elif halves == _MOST_HALVES:
        yield LineTo(curve[3])
    else:
        for half in _halved(curve):
            yield from in_arcs(half, halves + 1)


def _keeps_to_chord(curve: Curve) -> bool:
    """Tell whether a curve leaves its chord by little: it is within the hull of its points."""
    start, *pulls, end = curve
    return all(_off_line(pull, start, end) <= WITHIN / 2 for pull in pulls)


def _off_line(point: Point, start: Point, end: Point) -> float:
    """Return how far a point is from the line between two others."""
    x, y = end.x - start.x, end.y - start.y
    size = x * x + y * y
    share = ((point.x - start.x) * x + (point.y - start.y) * y) / size if size else 0.0
    share = min(max(share, 0.0), 1.0)
    return math.dist(point, (start.x + share * x, start.y + share * y))


def _halved(curve: Curve) -> tuple[Curve, Curve]:
    """Return the two halves of a curve (de Casteljau)."""
    a, b, c, d = curve
    ab, bc, cd = _middle(a, b), _middle(b, c), _middle(c, d)
    abc, bcd = _middle(ab, bc), _middle(bc, cd)
    middle = _middle(abc, bcd)
    return (a, ab, abc, middle), (middle, bcd, cd, d)


def _middle(one: Point, other: Point) -> Point:
    return Point((one.x + other.x) / 2, (one.y + other.y) / 2)


# -- two arcs ------------------------------------------------------------------------------------------------------


def _two_arcs(curve: Curve) -> tuple[LineTo | ArcTo, ...]:
    """Return two arcs that run from end to end and have the curve's tangents there; none where there are none.

    The tangents of the arcs meet d from either end and d from where the arcs join, in the middle of the two places. So
    (v − d·t)² = 4·d² with the way v and the sum t of the unit tangents: 2·d²·(1 − cos) + 2·d·(v·t) = v², whose positive
    root is d; cos is that of the angle between the tangents.
    """
    start, end = curve[0], curve[3]
    leaves, comes = _tangent(curve), _tangent(curve[::-1])
    if leaves is None or comes is None:
        return ()
    comes = Point(-comes.x, -comes.y)
    v = Point(end.x - start.x, end.y - start.y)
    along, cosine, size = _dot(v, leaves) + _dot(v, comes), _dot(leaves, comes), _dot(v, v)
    bent = 2 * (1 - cosine)
    below = along + math.sqrt(along * along + bent * size)
    if below <= _TINY:
        return ()
    d = size / below
    join = Point(*((a + b + d * (p - q)) / 2 for a, b, p, q in zip(start, end, leaves, comes, strict=True)))
    one, other = _arc(start, leaves, join, join), _arc(end, comes, join, end)
    return (one, other) if one and other else ()


def _tangent(points: Sequence[Point]) -> Point | None:
    """Return the direction in which a curve leaves its first point, of length 1."""
    start = points[0]
    for point in points[1:]:
        size = math.dist(start, point)
        if size > _TINY:
            return Point((point.x - start.x) / size, (point.y - start.y) / size)
    return None


def _dot(one: Point, other: Point) -> float:
    return one.x * other.x + one.y * other.y


def _arc(touched: Point, tangent: Point, through: Point, end: Point) -> LineTo | ArcTo | None:
    """Return the step to `end` on the circle that touches a line and goes through a point; None for one too far round.

    The centre is off the line by w²/(2·w·n), with the way w to the point and the line's normal n.
    """
    w = Point(through.x - touched.x, through.y - touched.y)
    normal = Point(-tangent.y, tangent.x)
    size, aside = _dot(w, w), _dot(w, normal)
    if size <= _TINY * _TINY:
        return None
    if abs(aside) * 2 * _FLATTEST <= size:
        return LineTo(end)
    radius = size / (2 * aside)
    centre = Point(touched.x + radius * normal.x, touched.y + radius * normal.y)
    step = ArcTo(end, centre, radius > 0)
    start = through if end == touched else touched
    return step if abs(step.sweep(start)) <= _WIDEST else None


def _keeps_to(curve: Curve, steps: Sequence[LineTo | ArcTo]) -> bool:
    """Tell whether a curve stays within reach of its arcs."""
    starts = [curve[0], *(step.end for step in steps)]
    for i in range(1, _LOOKED_AT):
        place = on_curve(curve, i / _LOOKED_AT)
        if min(_off(place, start, step) for start, step in zip(starts, steps, strict=False)) > WITHIN:
            return False
    return True


def _off(place: Point, start: Point, step: LineTo | ArcTo) -> float:
    """Return how far a place is from a step: from its circle where the step goes by, or else from the nearer end."""
    if isinstance(step, LineTo):
        return _off_line(place, start, step.end)
    middle = step.centre
    at, begin = (math.atan2(p.y - middle.y, p.x - middle.x) for p in (place, start))
    turn = (at - begin) % math.tau if step.anticlockwise else (begin - at) % math.tau
    if turn <= abs(step.sweep(start)):
        return abs(math.dist(place, middle) - step.radius)
    return min(math.dist(place, start), math.dist(place, step.end))
