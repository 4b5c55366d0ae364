"""The lid through the year. Lengths in mm."""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.parts.lid.part import Lid
from jigs.parts.wood.seasons import Curve, wide_by


def year_curves(made: Lid) -> tuple[Curve, ...]:
    """Return the whole gap at a lid's plug, both sides together, and the lid's overhang on each side."""
    plug, whole = (wide_by(width, made.wood, made.air.shop) for width in (made.plug.width, made.width))
    outside = made.width - 2 * made.overhang
    return (
        Curve(
            "gap",
            "gap of the plug",
            "Gap of the plug, both sides",
            draw.Kind.EDGE,
            lambda then: made.across - plug(then),
        ),
        Curve(
            "overhang", "overhang", "Overhang, each side", draw.Kind.CENTRE, lambda then: (whole(then) - outside) / 2
        ),
    )
