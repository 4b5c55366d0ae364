"""Outlines set off by half of what a tool cuts away: arcs stay arcs, outside corners are rounded about the corner.

A beam or a bit that runs along the rounded corner touches the corner itself, so that the piece has it sharp. Inside
corners are where the legs beside them meet; the tool leaves its own roundness there.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from jigs.base.drawing import Circle, Path
from layout.cut.legs import SAME, Leg, anticlockwise, area, legs_of, off, path_of, right_of, split

_STRAIGHT = 1e-9
"""Legs that turn by less go on from one another, sine of the angle."""


def set_off(shape: Path | Circle, by: float) -> Path | Circle | None:
    """Return a closed shape larger all round by so much, mm; smaller where it is negative.

    None where some of it is lost: it vanishes, falls apart, or has a place too narrow for it. The method: every leg is
    set off by itself, cut where it meets the others, and what is nearer than `by` to the shape itself is left out.
    """
    if by == 0:
        return shape
    if isinstance(shape, Circle):
        return Circle(shape.centre, shape.radius + by) if shape.radius + by > SAME else None
    legs = anticlockwise(legs_of(shape))
    beside = [leg.beside(by) for leg in legs]
    if None in beside:
        return None
    raw = [leg for leg in beside if leg is not None]
    rounded = list(_rounded(legs, by))
    kept = [
        (number, part)
        for number, part in split([*raw, *rounded], [*raw, *rounded])
        if off(part.at(0.5), legs) > abs(by) - SAME
    ]
    if not set(range(len(raw))) <= {number for number, _ in kept}:
        return None
    found = _one_loop([part for _, part in kept])
    return None if found is None or area(found) <= 0 else path_of(found, closed=True)


def _rounded(legs: Sequence[Leg], by: float) -> Iterator[Leg]:
    """Yield the arc about each corner that is on the side to which the legs are set off."""
    for leg, following in zip(legs, [*legs[1:], legs[0]], strict=True):
        before, after = leg.direction(1), following.direction(0)
        sine, cosine = before.x * after.y - before.y * after.x, before.x * after.x + before.y * after.y
        back = cosine < 0 and abs(sine) <= _STRAIGHT  # a point without any width, such as two holes leave that touch
        if back or sine * by > _STRAIGHT * abs(by):
            turn = math.copysign(math.pi, by) if back else math.atan2(sine, cosine)
            yield Leg(right_of(leg.end, before, by), right_of(leg.end, after, by), leg.end, turn)


def _one_loop(parts: Sequence[Leg]) -> list[Leg] | None:
    """Return parts in the order in which they go on from one another; None where they make no single loop."""
    left = list(parts)
    loop = [left.pop(0)]
    while left:
        following = [leg for leg in left if math.dist(leg.start, loop[-1].end) < 10 * SAME]
        if len(following) != 1:
            return None
        left.remove(following[0])
        loop.append(following[0])
    return loop if math.dist(loop[-1].end, loop[0].start) < 10 * SAME else None
