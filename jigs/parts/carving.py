"""What shell and pattern have in common: a side that is carved, where there may be carving on it, how it is shown.

Axes of a side seen from outside: its left end, its bottom edge. Lengths in mm.
"""

from __future__ import annotations

from typing import Protocol

from jigs.base import drawing as draw
from jigs.base.cards import Caution
from jigs.base.drawing import Bounds, Kind, Point
from jigs.base.usual import CARVING_MARGIN
from jigs.parts.groove.part import Groove

CAUTIONS = (
    Caution("Slip", "Clamp the board, or carve against a bench stop."),
    Caution("Hand", "Keep the other hand behind the edge, in a cut-resistant glove."),
    Caution("Blunt", "Strop the knife before you start and whenever it drags."),
    Caution("Force", "Make small cuts. When you are tired, stop."),
)
LAID_WITHIN, CUT_WITHIN = 0.5, 0.2
"""How near the pattern is laid, and how near chips come to what is drawn (common practice), mm."""
LONGEST_SHOWN = 420.0
"""A longer side is shown from its left end to past what is carved, mm."""
PAST = 25.0
"""How far past it a long side is shown, mm."""
LEAST_RIDGE = 0.8
"""The least wood between neighbouring chips (common practice, no source), mm."""
FLATTEST_KNIFE = 10.0
"""A knife held flatter than this, in degrees, cuts no chip (common practice, no source)."""
LEAST_CHIP = 0.2
"""A narrower chip is a scratch (common practice, no source), mm."""
LEAST_UNDER_CHIP = 3.0
"""The least wood under a chip (common practice, no source), mm."""


class Carved(Protocol):
    """A side as cut: its fingers at both ends, the groove on its other face."""

    @property
    def board_length(self) -> float:
        """Its length as cut."""

    @property
    def board_width(self) -> float:
        """Its width once it is ripped."""

    @property
    def cut_depth(self) -> float:
        """Depth of the fingers at both ends."""

    @property
    def groove(self) -> Groove | None:
        """The groove behind."""


def free(made: Carved) -> Bounds:
    """Return where there may be carving: clear of the fingers, above the groove, off the edges."""
    off = made.cut_depth + CARVING_MARGIN
    low = (made.groove.top if made.groove else 0.0) + CARVING_MARGIN
    return Bounds(off, low, made.board_length - off, made.board_width - CARVING_MARGIN)


def about(size: float) -> tuple[float, float]:
    """Return the limits between which a chip may come out."""
    within = min(CUT_WITHIN, abs(size) / 4)
    return size - within, size + within


# -- the side in a picture -----------------------------------------------------------------------------------------


def shown_to(made: Carved, carved_to: float) -> float:
    """Return how far from its left end a side is shown, where carving reaches to `carved_to`."""
    return min(made.board_length, carved_to + PAST) if made.board_length > LONGEST_SHOWN else made.board_length


def outline(made: Carved, right: float, name: str, title: str) -> draw.Part:
    """Return a side from outside, as far as it is shown, with what is hidden behind its face."""
    top = made.board_width
    whole = right == made.board_length
    end = draw.line((right, 0), (right, top)) if whole else draw.break_line(Point(right, 0), Point(right, top))
    edges = [draw.line((0, 0), (0, top)), draw.line((0, top), (right, top))]
    lines = (
        *draw.lines(edges),
        draw.Line(end, Kind.EDGE if whole else Kind.NARROW),
        draw.Line(draw.line((0, 0), (right, 0)), Kind.REFERENCE),
        *_behind(made, right),
    )
    return draw.Part(name, title, lines)


def free_part(made: Carved, right: float) -> draw.Part:
    """Return the line that carving keeps inside, as far as the side is shown."""
    return draw.Part("free", "Where there may be carving", draw.lines(_zone(free(made), right), Kind.NARROW))


def _zone(zone: Bounds, right: float) -> list[draw.Path]:
    if zone.right <= zone.left or zone.top <= zone.bottom:
        return []
    if zone.right <= right:
        return [draw.rectangle(*zone)]
    return [draw.line((right, zone.bottom), (zone.left, zone.bottom), (zone.left, zone.top), (right, zone.top))]


def _behind(made: Carved, right: float) -> tuple[draw.Line, ...]:
    """The inner faces of the mates, and the groove on the other face."""
    top = made.board_width
    depths = [x for x in (made.cut_depth, made.board_length - made.cut_depth) if 0 < x < right]
    found = draw.lines([draw.line((x, 0), (x, top)) for x in depths], Kind.HIDDEN)
    if made.groove:
        heights = [y for y in (made.groove.from_bottom, made.groove.top) if 0 < y < top]
        found += draw.lines([draw.line((0, y), (right, y)) for y in heights], Kind.HIDDEN)
    return found
