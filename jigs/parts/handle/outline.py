"""The handle's finished outline in true arcs, and the wood that is left, measured on it."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from jigs.base.drawing import ArcTo, LineTo, Path, Point
from jigs.trade.handle import EndHoles

if TYPE_CHECKING:
    from shapely import LineString

CHORD_ERROR = 0.004
"""How far the polygon that is measured may leave the arcs, mm."""


@dataclass(frozen=True, slots=True)
class Wood:
    """What is left where a handle is thin, mm: between the holes, under them, over them, and at the horn's tip."""

    neck: float
    base: float
    horn_tip: float
    hole_to_crest: float

    @property
    def least(self) -> float:
        """The least of the four."""
        return min(self.neck, self.base, self.horn_tip, self.hole_to_crest)


def outline(holes: EndHoles) -> Path:
    """Return the outline, anticlockwise from the base's left end: base, right end with its hole, crest, left end."""
    end, (lower, upper) = holes.length / 2, holes.cusps
    crest_end = holes.height - holes.crest
    crest_centre = Point(0, holes.height - holes.crest_radius)
    left, right = centres(holes)
    steps = (
        LineTo(Point(end, 0)),
        LineTo(Point(end, lower)),
        ArcTo(Point(end, upper), right, False),
        LineTo(Point(end, crest_end)),
        ArcTo(Point(-end, crest_end), crest_centre, True),
        LineTo(Point(-end, upper)),
        ArcTo(Point(-end, lower), left, False),
        LineTo(Point(-end, 0)),
    )
    return Path(Point(-end, 0), steps, closed=True)


def right_half(holes: EndHoles) -> Path:
    """Return the half of the outline right of the middle line, open there."""
    base, *rest = outline(holes).steps[:4]
    crest_centre = Point(0, holes.height - holes.crest_radius)
    return Path(Point(0, 0), (base, *rest, ArcTo(Point(0, holes.height), crest_centre, True)))


def centres(holes: EndHoles) -> tuple[Point, Point]:
    """Return the centres of the left and the right hole."""
    return Point(-holes.centre_offset, holes.hole_height), Point(holes.centre_offset, holes.hole_height)


def measured(path: Path) -> Wood:
    """Return the wood left, measured on an outline as `outline` returns it, to twice `CHORD_ERROR`."""
    starts = [path.start, *(step.end for step in path.steps)]
    base, _, right, end_above, crest, _, left, _ = (
        _drawn(Path(start, (step,))) for start, step in zip(starts, path.steps, strict=False)
    )
    return Wood(left.distance(right), right.distance(base), end_above.length, right.distance(crest))


def _drawn(piece: Path) -> LineString:
    from shapely import LineString  # noqa: PLC0415 - slow to import, and only the sheets measure

    return LineString(piece.points(CHORD_ERROR))
