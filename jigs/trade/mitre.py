"""Boxes with any number of mitred sides, upright or sloping outward: saw tilt, mitre gauge, side length."""

from __future__ import annotations

import math

from jigs.record import Record
from jigs.trade.limits import positive, within


class Mitre(Record):
    """Settings in degrees: `tilt` of the blade from upright, `gauge` of the mitre gauge from square."""

    tilt: float
    gauge: float


def mitre(*, sides: int, slope: float = 0.0) -> Mitre:
    """Return the settings for a ring of `sides` equal boards that lean outward `slope` degrees from upright.

    Outward normals of neighbours are (cos S, 0, −sin S) and the same turned by 360/n, so their dot product is
    1 − 2·cos²S·sin²(180/n); it is also cos(2·tilt), for each board takes half of the turn: sin(tilt) = cos S
    · sin(180/n). Over each unit up the slope a board widens by sin S · tan(180/n) at each end: tan(gauge).
    Raises ValueError for fewer than three sides and a slope outside 0 to 90 (90, lying flat, is out).
    """
    within(3, math.inf, sides=sides)
    if not 0 <= slope < 90:
        raise ValueError(f"slope is {slope:g}; it must be at least 0 and less than 90")
    turn, lean = math.pi / sides, math.radians(slope)
    tilt = math.asin(math.cos(lean) * math.sin(turn))
    gauge = math.atan(math.sin(lean) * math.tan(turn))
    return Mitre(math.degrees(tilt), math.degrees(gauge))


def side_length(*, sides: int, inscribed_radius: float) -> float:
    """Return the side of a regular polygon round a circle: 2·r·tan(180/n)."""
    within(3, math.inf, sides=sides)
    positive(inscribed_radius=inscribed_radius)
    return 2 * inscribed_radius * math.tan(math.pi / sides)
