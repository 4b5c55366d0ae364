"""Where the lines of a pattern are so near one another that the ridge between their chips breaks out. In mm."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

from jigs.base.drawing import Path, Point
from jigs.parts.carving import LEAST_RIDGE
from jigs.parts.pattern.part import Pattern

LONGEST_TIP = 3.0
"""Where two lines meet, so long a tip of wood is cut away with them and harms nobody (common practice, no source)."""
_CHORDS = 0.01
_SEARCH = 10  # halvings of a chip, or of a width, in search of one that leaves ridges


def too_thin(made: Pattern) -> tuple[Point, ...]:
    """Return the middles of the ridges that are too thin, from the middle of the pattern, the longest first."""
    return _too_thin(made.lines, made.chip)


@lru_cache(maxsize=64)
def _too_thin(lines: tuple[Path, ...], chip: float) -> tuple[Point, ...]:
    """Return the middles of what a disc as wide as the least ridge can't get into between the chips, where it is long.

    All chips are taken as wide as the widest. What the disc can't get into: the chips grown by its radius and shrunk
    again, less the chips. It is a strip between two lines, or a tip where they meet, which ends by itself.
    """
    import shapely  # noqa: PLC0415 - slow to import, and most boxes have no pattern

    drawn = shapely.MultiLineString([line.points(_CHORDS) for line in lines])
    chips = drawn.buffer(chip / 2)
    half = LEAST_RIDGE / 2
    strips = chips.buffer(half).buffer(-half).difference(chips.buffer(_CHORDS))
    found = [(piece.length / 2, piece) for piece in shapely.get_parts(strips)]
    long = sorted((one for one in found if one[0] > LONGEST_TIP + LEAST_RIDGE), key=lambda one: -one[0])
    return tuple(Point(*piece.representative_point().coords[0]) for _, piece in long)


def narrower_chip(made: Pattern, least: float) -> float:
    """Return the widest chip that leaves every ridge, mm; 0 where not even the least does."""
    if _too_thin(made.lines, least):
        return 0.0
    good, bad = least, made.chip
    for _ in range(_SEARCH):
        middle = (good + bad) / 2
        good, bad = (good, middle) if _too_thin(made.lines, middle) else (middle, bad)
    return good


def wider(made: Pattern, most: float) -> float:
    """Return the least width that leaves every ridge, mm; infinite where not even the most does."""
    if most <= made.width or too_thin(replace(made, width=most)):
        return math.inf
    bad, good = made.width, most
    for _ in range(_SEARCH):
        middle = (good + bad) / 2
        good, bad = (good, middle) if too_thin(replace(made, width=middle)) else (middle, bad)
    return good
