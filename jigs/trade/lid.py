"""The lid: a plug that goes into the opening in every season, its rabbets, and its crown.

Moistures in %, lengths in one unit, mm where a default says so; angles in degrees.
"""

from __future__ import annotations

import math

from jigs.record import Record
from jigs.trade.limits import not_negative, positive, steps_to_cover, under, within
from jigs.trade.movement import humidity_at, ratio
from jigs.trade.panel import rabbet_passes

ROUNDING = 1e-9
"""Of a semicircle's chord, which the rounding of floats can make longer than its diameter."""


class Plug(Record):
    """The plug across the grain, now, and the whole gap (both sides together) now, driest and wettest."""

    width: float
    gap_now: float
    gap_dry: float
    gap_wet: float


class Facets(Record):
    """Flats for a hand plane, tangent to a crown.

    `ridge` is the wood they leave over the arc. `lines` are the distances from the centre, on one side, of
    the places on the arc under the ridges between the flats; the last flat ends at the edge. `corners` are
    the ridges themselves, across and up from the crown's foot: in the end grain they lie a hair further out
    than `lines`.
    """

    ridge: float
    lines: tuple[float, ...]
    corners: tuple[tuple[float, float], ...]


def plug(
    *,
    opening: float,
    clearance: float,
    coefficient: float,
    now: float,
    dry: float,
    wet: float,
    film: float = 0.0,
) -> Plug:
    """Return the plug that still has `clearance` in the wettest season, both sides together.

    Width now = (opening − 4·film − clearance) / (width at wet / width at now). Both sides of plug and opening
    carry finish: four films in the gap, 0.03 to 0.05 mm each (common practice, no source). The gaps are those
    left once the finish is on. Raises ValueError for a clearance that leaves no plug.
    """
    positive(opening=opening)
    not_negative(clearance=clearance, film=film)
    room = opening - 4 * film
    under(room, clearance=clearance)
    width = (room - clearance) / ratio(coefficient, now, wet)
    return Plug(width, room - width, room - width * ratio(coefficient, now, dry), clearance)


def plug_along(*, opening: float, play: float = 0.6) -> float:
    """Return the plug's length along the grain, which does not move; a play of 0.6 mm is common practice."""
    positive(opening=opening)
    not_negative(play=play)
    under(opening, play=play)
    return opening - play


def locks_at(*, opening: float, plug_width: float, coefficient: float, now: float, temperature: float) -> float | None:
    """Return the humidity in % at which a plug fills its opening at this temperature (°C); None: never."""
    return humidity_at(plug_width, coefficient, now, opening, temperature)


def rabbet(*, lid: float, plug_width: float) -> float:
    """Return the width of the rabbet at each side of the plug."""
    positive(plug_width=plug_width)
    under(lid, plug_width=plug_width)
    return (lid - plug_width) / 2


class RabbetSetting(Record):
    """A setting of the fence for two opposite rabbets, and what the plug between them measures once both are cut.

    `exposed` is how far the bit stands out of the fence's face, `fence` its centre in front of that face (negative:
    behind it), `air` the gap between fence and bit (0 where the bit is partly in the fence).
    """

    exposed: float
    fence: float
    air: float
    plug: float


def rabbet_settings(*, lid: float, plug_width: float, cutter: float) -> tuple[RabbetSetting, ...]:
    """Return the settings of the fence for the two rabbets beside a plug, in the order that is safe.

    Each lets the bit stand out further than the one before, so that the rabbet grows from the edge inward and only the
    side of the bit away from the fence cuts: against the feed. A setting shifts by 0.9 of the cutter at most, so that
    no wood is left between bit and fence, which the bit would cut with the feed. A bit that stands out further than it
    is wide is free of the fence by the difference. The plug measures lid − 2·exposed; what it measures more or less
    before the last setting is put right there by half of the difference.
    """
    passes = rabbet_passes(width=rabbet(lid=lid, plug_width=plug_width), cutter=cutter)
    return tuple(
        RabbetSetting(one.exposed, one.fence, max(0.0, one.exposed - cutter), lid - 2 * one.exposed) for one in passes
    )


def overhang(*, lid: float, outside: float) -> float:
    """Return how far a centred lid stands out at each side; negative where the box stands out."""
    positive(lid=lid, outside=outside)
    return (lid - outside) / 2


def arc_radius(chord: float, rise: float) -> float:
    """Return the radius of the arc that rises so much over its chord: chord²/(8·rise) + rise/2.

    From (R − rise)² + (chord/2)² = R². Raises ValueError for a rise of 0, which is flat, and for one over
    half the chord, past which the arc turns back under itself.
    """
    positive(chord=chord)
    if not 0 < rise <= chord / 2 * (1 + ROUNDING):
        raise ValueError(f"rise is {rise:g}; it must be more than 0 and at most {chord / 2:g}, half the chord")
    return chord**2 / (8 * rise) + rise / 2


def arc_rise(radius: float, chord: float) -> float:
    """Return how much an arc rises over a chord: radius − √(radius² − chord²/4)."""
    positive(radius=radius)
    within(0, 2 * radius * (1 + ROUNDING), chord=chord)
    return radius - math.sqrt(max(0.0, radius**2 - chord**2 / 4))


def crown_height(*, width: float, rise: float, at: float) -> float:
    """Return the crown's height, `at` a distance from the centre: √(R² − at²) − (R − rise)."""
    edge = width / 2 * (1 + ROUNDING)
    within(-edge, edge, at=at)
    return rise - arc_rise(arc_radius(width, rise), 2 * abs(at))


def edge_angle(*, width: float, rise: float) -> float:
    """Return the slope of the crown at its edge in degrees: asin(width / 2R)."""
    return math.degrees(_half_angle(width, arc_radius(width, rise)))


def ordinates(*, width: float, rise: float, count: int = 6) -> tuple[tuple[float, float], ...]:
    """Return (distance from the centre, height) by equal steps from the centre to the edge, inclusive."""
    within(1, math.inf, count=count)
    places = (width / 2 * number / count for number in range(count + 1))
    return tuple((at, crown_height(width=width, rise=rise, at=at)) for at in places)


def facets(*, width: float, rise: float, count: int) -> Facets:
    """Return `count` equal flats tangent to the crown.

    The half angle φ = asin(width / 2R) is shared by count / 2 flats, so each touches the arc in its middle
    and meets the next φ/count to either side of it, at the radius R/cos(φ/count). Raises ValueError for fewer
    than two flats.
    """
    within(2, math.inf, count=count)
    radius = arc_radius(width, rise)
    share = _half_angle(width, radius) / count
    angles = [step * share for step in range(count % 2, count, 2)]
    outer = radius / math.cos(share)
    return Facets(
        outer - radius,
        tuple(radius * math.sin(angle) for angle in angles),
        tuple((outer * math.sin(angle), outer * math.cos(angle) - radius + rise) for angle in angles),
    )


class Flat(Record):
    """One flat beside the middle one: its slope in degrees, and its upper ridge, from the centre and over the foot.

    `at_edge` is how high over the crown's foot it comes out at the edge, if it is planed right out to there.
    """

    angle: float
    ridge_at: float
    ridge_height: float
    at_edge: float


def flats(*, width: float, rise: float, count: int) -> tuple[Flat, ...]:
    """Return the flats on one side of the middle one, from the middle outward: what a marking gauge is set to.

    Flat k slopes by a = 2k·φ/count. Its tangent x·sin a + (y + R − rise)·cos a = R is at the edge, x = R·sin φ, as high
    as R·(1 − cos(φ − a))/cos a. Raises ValueError for a count that is even, which has no middle flat.
    """
    if count % 2 == 0:
        raise ValueError(f"count is {count}; it must be odd, so that one flat lies in the middle")
    radius = arc_radius(width, rise)
    half = _half_angle(width, radius)
    corners = facets(width=width, rise=rise, count=count).corners
    found = []
    for number, (across, up) in enumerate(corners, start=1):
        angle = 2 * number * half / count
        found.append(Flat(math.degrees(angle), across, up, radius * (1 - math.cos(half - angle)) / math.cos(angle)))
    return tuple(found)


def flats_needed(*, width: float, rise: float, ridge: float = 0.3) -> int:
    """Return the least odd number of flats, three or more, that leave no more than `ridge` of wood over the arc.

    From R·(1/cos(φ/count) − 1) = ridge. A ridge of 0.3 mm is two or three shavings (common practice, no source).
    """
    positive(ridge=ridge)
    radius = arc_radius(width, rise)
    least = steps_to_cover(_half_angle(width, radius), math.acos(radius / (radius + ridge)))
    return max(3, least + 1 - least % 2)


def edge_thickness(*, thickness: float, plug_depth: float, crown: float, crown_along: float = 0.0) -> float:
    """Return the wood left at the lid's edge, over the rabbet; at its corner where it is domed both ways.

    Negative where the crown cuts into the rabbet.
    """
    positive(thickness=thickness)
    not_negative(plug_depth=plug_depth, crown=crown, crown_along=crown_along)
    return thickness - plug_depth - crown - crown_along


def most_crown(*, thickness: float, plug_depth: float, least_edge: float = 4.0) -> float:
    """Return the highest crown that leaves the least edge; 4 mm is common practice, no source."""
    return edge_thickness(thickness=thickness, plug_depth=plug_depth, crown=least_edge)


def over_shoulder(*, edge: float, width: float, crown: float, plug_width: float) -> float:
    """Return the lid's thickness over the shoulder of the plug: the edge and the crown's height there."""
    return edge + crown_height(width=width, rise=crown, at=plug_width / 2)


def _half_angle(chord: float, radius: float) -> float:
    """Return half the angle, in radians, that a chord takes of its circle."""
    return math.asin(min(1.0, chord / (2 * radius)))
