"""Circles cut from a pivot, and tapers cut on a sled: where the pivot and the angle are."""

from __future__ import annotations

import math

from jigs.trade.limits import positive


def disc_pivot(*, radius: float, cutter: float) -> float:
    """Return pivot to cutter's centre for a disc that is kept: r + d/2, the cutter outside it."""
    positive(radius=radius, cutter=cutter)
    return radius + cutter / 2


def hole_pivot(*, radius: float, cutter: float) -> float:
    """Return pivot to cutter's centre for a hole: r − d/2, the cutter inside it. Raises ValueError where r ≤ d/2."""
    positive(radius=radius, cutter=cutter)
    if radius <= cutter / 2:
        raise ValueError(f"radius is {radius:g}; the cutter itself makes a hole of radius {cutter / 2:g}")
    return radius - cutter / 2


def taper_angle(*, wide: float, narrow: float, length: float) -> float:
    """Return the angle in degrees of a taper over `length`: atan((wide − narrow)/length). Negative if it widens."""
    positive(wide=wide, narrow=narrow, length=length)
    return math.degrees(math.atan2(wide - narrow, length))
