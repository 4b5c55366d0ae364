"""Where the lines of a pattern are so near one another that the ridge between their chips breaks out. In mm."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import TYPE_CHECKING

from jigs.base.drawing import Path, Point
from jigs.parts.carving import LEAST_RIDGE
from jigs.parts.pattern.part import Pattern

if TYPE_CHECKING:
    import shapely
    from shapely.geometry.base import BaseGeometry

LONGEST_TIP = 3.0
"""Where two lines meet, so long a tip of wood is cut away with them and harms nobody (common practice, no source)."""
_CHORDS = 0.02
_SEARCH = 6  # halvings of a chip, or of a width, in search of one that leaves ridges
_MOST_SEARCHED = 2000  # points of lines; with more there is no search, which would take seconds
_CORNERS = 4  # of a quarter of a round end: off by 2 % of half a chip


def too_thin(made: Pattern) -> tuple[Point, ...]:
    """Return the middles of the ridges that are too thin, from the middle of the pattern, the longest first."""
    return _too_thin(_drawn(made.lines), made.chip, 1.0)


@lru_cache(maxsize=8)
def _drawn(lines: tuple[Path, ...]) -> shapely.MultiLineString:
    import shapely  # noqa: PLC0415 - slow to import, and most boxes have no pattern

    plain = [shapely.LineString(line.points(_CHORDS / 2)).simplify(_CHORDS / 2) for line in lines]
    return shapely.MultiLineString([line.coords for line in plain])


def _too_thin(drawn: shapely.MultiLineString, chip: float, larger: float) -> tuple[Point, ...]:
    """Return the middles of what a disc as wide as the least ridge can't get into between the chips, where it is long.

    All chips are taken as wide as the widest. What the disc can't get into: the chips grown by its radius and shrunk
    again, less the chips. It is a strip between two lines, or a tip where they meet, which ends by itself. With the
    lines so many times `larger` all else is as much smaller beside them.
    """
    import shapely  # noqa: PLC0415 - as above

    def grown(shape: BaseGeometry, by: float) -> BaseGeometry:
        return shape.buffer(by / larger, quad_segs=_CORNERS)

    half = LEAST_RIDGE / 2
    chips = grown(drawn, chip / 2)
    strips = grown(grown(chips, half), -half).difference(grown(chips, _CHORDS))
    found = [(piece.length / 2, piece) for piece in shapely.get_parts(strips)]
    least = (LONGEST_TIP + LEAST_RIDGE) / larger
    long = sorted((one for one in found if one[0] > least), key=lambda one: -one[0])
    return tuple(Point(*piece.representative_point().coords[0]) for _, piece in long)


def narrower_chip(made: Pattern, least: float) -> float:
    """Return a chip that leaves every ridge, nearly the widest, mm; 0 where there is none, or too much to search."""
    drawn = _drawn(made.lines)
    if _too_many(drawn) or _too_thin(drawn, least, 1.0):
        return 0.0
    good, bad = least, made.chip
    for _ in range(_SEARCH):
        middle = (good + bad) / 2
        good, bad = (good, middle) if _too_thin(drawn, middle, 1.0) else (middle, bad)
    return good


def wider(made: Pattern, most: float) -> float:
    """Return a width that leaves every ridge, nearly the least, mm; infinite where there is none, as above."""
    drawn = _drawn(made.lines)
    if _too_many(drawn) or most <= made.width or _too_thin(drawn, made.chip, most / made.width):
        return math.inf
    bad, good = made.width, most
    for _ in range(_SEARCH):
        middle = (good + bad) / 2
        good, bad = (good, middle) if _too_thin(drawn, made.chip, middle / made.width) else (middle, bad)
    return good


def _too_many(drawn: shapely.MultiLineString) -> bool:
    return sum(len(line.coords) for line in drawn.geoms) > _MOST_SEARCHED
