"""A saw blade in pictures: from above with its riving knife, on its face, and leaning over in a cut across."""

from __future__ import annotations

import math

from jigs.base import drawing as draw
from jigs.base.drawing import Kind, Line, Part, Point

RADIUS = 125.0
"""Radius of the blade that pictures show, mm."""


def half_chord(above: float) -> float:
    """Return half of what is seen of a blade in its table's slot, mm, where it stands `above` out of the table."""
    return math.sqrt(max(0.0, RADIUS**2 - (RADIUS - min(above, RADIUS)) ** 2))


def from_above(kerf: float, above: float, seen: float = 2 * RADIUS) -> Part:
    """Return a blade at x = 0 that cuts away from you, its middle at y = 0: as much of it as is `seen`, mm."""
    half = half_chord(above)
    low, high = -half, min(half, seen - half)
    if high >= half:
        slot = draw.rectangle(-kerf / 2, low, kerf / 2, half)
        knife = draw.rectangle(-kerf / 3, half + 5, kerf / 3, half + 40)
        return Part("blade", "Blade", draw.lines((slot, knife)), covers=(slot, knife))
    open_end = draw.line((-kerf / 2, high), (-kerf / 2, low), (kerf / 2, low), (kerf / 2, high))
    return Part("blade", "Blade", (Line(open_end),))


def on_its_face(top: float, floor: float) -> Part:
    """Return the rim of a blade with its middle at x = 0, seen on its face, from its top down to `floor`."""
    middle = Point(0.0, top - RADIUS)
    turn = math.degrees(math.asin(max(-1.0, min(1.0, (floor - middle.y) / RADIUS))))
    return Part("blade", "Blade", (Line(draw.arc(middle, RADIUS, turn, 180 - turn), Kind.NEIGHBOUR),))


def leaning(kerf: float, above: float, lean: float, below: float = 14.0) -> Part:
    """Return a blade cut across that leans `lean` degrees to the left of upright; its right side is at (0, 0)."""
    along = Point(-math.sin(math.radians(lean)), math.cos(math.radians(lean)))
    aside = Point(-along.y, along.x)  # to the left, across the blade

    def at(up: float, left: float) -> Point:
        return Point(along.x * up + aside.x * left, along.y * up + aside.y * left)

    body = draw.polygon(at(-below, 0), at(above, 0), at(above, kerf), at(-below, kerf))
    axis = draw.line(at(-below - 4, kerf / 2), at(above + 5, kerf / 2))
    return Part("blade", "Blade", (Line(body), Line(axis, Kind.CENTRE)), covers=(body,))
