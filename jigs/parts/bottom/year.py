"""The bottom through the year. Lengths in mm."""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.parts.bottom.part import Bottom
from jigs.parts.wood.seasons import Curve, wide_by


def year_curves(made: Bottom) -> tuple[Curve, ...]:
    """Return what a groove holds of the bottom that is slid into the other one: the worst place it can be in.

    Plywood, which stays as it is, has no curve.
    """
    if made.wood is None:
        return ()
    wide = wide_by(made.seasons.width, made.wood, made.air.shop)
    reached = made.across + made.groove.depth
    held = Curve(
        "held", "bottom held", "Bottom held, slid to one side", draw.Kind.HIDDEN, lambda then: wide(then) - reached
    )
    return (held,)
