"""Straight and round legs of outlines: where they meet, how far off a point is, and what lies between.

Millimetres and radians, y up. A round leg stays round: it is cut into parts of the same circle, never into chords.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from jigs.base.drawing import ArcTo, Circle, LineTo, Path, Point
from jigs.record import Record, replace

SAME = 1e-6
"""Two points that are no further apart are one, mm."""


class Leg(Record):
    """A straight step from start to end, or a round one about `centre`; `sweep` is + anticlockwise, radians."""

    start: Point
    end: Point
    centre: Point | None = None
    sweep: float = 0.0

    @property
    def radius(self) -> float:
        """Radius of a round leg, mm; 0 of a straight one."""
        return math.dist(self.centre, self.start) if self.centre else 0.0

    @property
    def length(self) -> float:
        """Length along the leg, mm."""
        return self.radius * abs(self.sweep) if self.centre else math.dist(self.start, self.end)

    def at(self, share: float) -> Point:
        """Return the point at a share of the length."""
        if self.centre is None:
            (x, y), (u, v) = self.start, self.end
            return Point(x + (u - x) * share, y + (v - y) * share)
        angle = math.atan2(self.start.y - self.centre.y, self.start.x - self.centre.x) + self.sweep * share
        r = self.radius
        return Point(self.centre.x + r * math.cos(angle), self.centre.y + r * math.sin(angle))

    def direction(self, share: float) -> Point:
        """Return the way the leg runs there, as a vector of length 1."""
        if self.centre is None:
            long = math.dist(self.start, self.end)
            return Point((self.end.x - self.start.x) / long, (self.end.y - self.start.y) / long)
        there, r, way = self.at(share), self.radius, math.copysign(1.0, self.sweep)
        return Point(-(there.y - self.centre.y) / r * way, (there.x - self.centre.x) / r * way)

    def share(self, point: Point) -> float:
        """Return at which share of the length the foot of a point lies; beyond 0 and 1 off the ends."""
        if self.centre is None:
            way = self.direction(0)
            return ((point.x - self.start.x) * way.x + (point.y - self.start.y) * way.y) / self.length
        begin = math.atan2(self.start.y - self.centre.y, self.start.x - self.centre.x)
        turn = math.atan2(point.y - self.centre.y, point.x - self.centre.x) - begin
        turn = (turn if self.sweep > 0 else -turn) % math.tau
        spare = math.tau - abs(self.sweep)
        return (turn if turn <= abs(self.sweep) + spare / 2 else turn - math.tau) / abs(self.sweep)

    def distance(self, point: Point) -> float:
        """Return how far a point is from the leg, mm."""
        ends = min(math.dist(point, self.start), math.dist(point, self.end))
        if self.centre is not None and math.dist(point, self.centre) < SAME:
            return min(self.radius, ends)
        return min(ends, math.dist(point, self.at(share))) if 0 < (share := self.share(point)) < 1 else ends

    def turned(self) -> Leg:
        """Return the leg run the other way."""
        return Leg(self.end, self.start, self.centre, -self.sweep)

    def beside(self, by: float) -> Leg | None:
        """Return the leg this far to its right; None where a round one has no radius left."""
        ends = [right_of(self.at(share), self.direction(share), by) for share in (0.0, 1.0)]
        if self.centre is not None and self.radius + math.copysign(by, by * self.sweep) <= SAME:
            return None
        return replace(self, start=ends[0], end=ends[1])

    def parts(self, points: Iterable[Point]) -> Iterator[Leg]:
        """Yield the leg in parts, cut at these points of it."""
        least = SAME / self.length
        shares = [0.0]
        for share in sorted(self.share(point) for point in points):
            if shares[-1] + least < share < 1.0 - least:
                shares.append(share)
        ends = [self.start, *(self.at(share) for share in shares[1:]), self.end]
        for i, begin in enumerate(shares):
            end = shares[i + 1] if i + 1 < len(shares) else 1.0
            yield Leg(ends[i], ends[i + 1], self.centre, self.sweep * (end - begin))


def right_of(point: Point, way: Point, by: float) -> Point:
    """Return the point this far to the right of a way."""
    return point.moved(way.y * by, -way.x * by)


def legs_of(shape: Path | Circle) -> list[Leg]:
    """Return the legs of a shape; of a closed one back to where it began."""
    if isinstance(shape, Circle):
        start = shape.centre.moved(shape.radius, 0)
        return [Leg(start, start, shape.centre, math.tau)]
    found, at = [], shape.start
    for step in shape.steps:
        if isinstance(step, ArcTo):
            found.append(Leg(at, step.end, step.centre, step.sweep(at)))
        else:
            found.append(Leg(at, step.end))
        at = step.end
    if shape.closed:
        found.append(Leg(at, shape.start))
    return [leg for leg in found if leg.length > SAME]


def path_of(legs: Sequence[Leg], *, closed: bool) -> Path:
    """Return legs that go on from one another as a path; of a closed one the last straight leg is left to it."""
    steps = [LineTo(g.end) if g.centre is None else ArcTo(g.end, g.centre, g.sweep > 0) for g in legs]
    if closed and isinstance(steps[-1], LineTo):
        steps.pop()
    return Path(legs[0].start, tuple(steps), closed)


def area(legs: Sequence[Leg]) -> float:
    """Return the area inside closed legs, mm², + where they run anticlockwise.

    Of the corners by the cross products of their places, and between each arc and its chord (a - sin a)·r²/2.
    """
    corners = sum(g.start.x * g.end.y - g.end.x * g.start.y for g in legs) / 2
    return corners + sum(g.radius**2 * (g.sweep - math.sin(g.sweep)) / 2 for g in legs)


def anticlockwise(legs: Sequence[Leg]) -> list[Leg]:
    """Return closed legs as one runs them with the inside at the left."""
    return list(legs) if area(legs) > 0 else [leg.turned() for leg in reversed(legs)]


def meetings(one: Leg, other: Leg) -> list[Point]:
    """Return where two legs meet or cross; where one lies on the other, the ends that they share."""
    found = [*_of_carriers(one, other), one.start, one.end, other.start, other.end]
    return [point for point in found if one.distance(point) < SAME and other.distance(point) < SAME]


def _of_carriers(one: Leg, other: Leg) -> list[Point]:
    """Return where the whole lines or circles of two legs cross."""
    if one.centre is None and other.centre is None:
        u, v = one.direction(0), other.direction(0)
        cross = u.x * v.y - u.y * v.x
        if abs(cross) < 1e-12:
            return []
        along = ((other.start.x - one.start.x) * v.y - (other.start.y - one.start.y) * v.x) / cross
        return [one.start.moved(u.x * along, u.y * along)]
    if one.centre is None or other.centre is None:
        line, arc = (one, other) if one.centre is None else (other, one)
        assert arc.centre is not None
        way = line.direction(0)
        along = (arc.centre.x - line.start.x) * way.x + (arc.centre.y - line.start.y) * way.y
        foot = line.start.moved(way.x * along, way.y * along)
        return _both_sides(foot, way, arc.radius**2 - math.dist(foot, arc.centre) ** 2)
    apart = math.dist(one.centre, other.centre)
    if apart < SAME:
        return []
    way = Point((other.centre.x - one.centre.x) / apart, (other.centre.y - one.centre.y) / apart)
    along = (apart**2 + one.radius**2 - other.radius**2) / (2 * apart)
    foot = one.centre.moved(way.x * along, way.y * along)
    return _both_sides(foot, Point(-way.y, way.x), one.radius**2 - along**2)


def _both_sides(foot: Point, way: Point, square: float) -> list[Point]:
    """Return the points to both sides of a foot, where the square of their distance is one; they may just touch."""
    if square < -SAME:
        return []
    far = math.sqrt(max(square, 0.0))
    return [foot.moved(way.x * sign * far, way.y * sign * far) for sign in (-1, 1)]


def split(legs: Sequence[Leg], at: Sequence[Leg]) -> list[tuple[int, Leg]]:
    """Return legs in the parts into which others cut them, each with the number of its leg."""
    return [
        (number, part)
        for number, leg in enumerate(legs)
        for part in leg.parts([point for other in at if other is not leg for point in meetings(leg, other)])
    ]


def off(point: Point, legs: Iterable[Leg]) -> float:
    """Return how far a point is from the nearest of these legs, mm."""
    return min(leg.distance(point) for leg in legs)


def chained(legs: Iterable[Leg]) -> list[list[Leg]]:
    """Return legs in rows in which each goes on from the one before; parts of one leg are put together again."""
    rows: list[list[Leg]] = []
    for leg in legs:
        if rows and math.dist(rows[-1][-1].end, leg.start) < SAME:
            rows[-1].append(leg)
        else:
            rows.append([leg])
    return rows
