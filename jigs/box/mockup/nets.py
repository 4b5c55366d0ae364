"""What a net of paper is made of: its outline to cut, its folds, its tabs, and the letters of edges that meet.

Sizes in mm. A net is printed on its outside, so that every fold goes back, away from the print, by a right angle.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Sequence

from jigs.base import drawing as draw
from jigs.base.cards import Template
from jigs.base.drawing import Kind, Point
from jigs.base.usual import Usual
from jigs.base.wording import Words
from jigs.parts.handle.templates import turned
from jigs.record import Record, replace

TAB = Usual(10, 3 / 8)
"""Depth of a glue tab (common practice, no source)."""
EASE = 2.0
"""What a flap is narrower at its free end, at either side: paper that turns two folds at a corner needs room, mm."""
TOOTH = 14.0
"""The widest tooth along an edge that is bent: a wider one would crease it, mm (common practice, no source)."""
_SLANT = 0.25
"""Of the length of a tab, what its end is narrower at either side, if its depth is not less."""
LETTER = 3.5
_FAMILY = "mockup"


class Net(Record):
    """A piece of paper: its outline, anticlockwise; its folds; what is drawn and written on it.

    `openings` are cut out of it. `check` is the one of its dimensions to hold a ruler to.
    """

    name: str
    title: Words
    outline: draw.Path
    folds: tuple[draw.Path, ...]
    check: draw.Dimension
    dimensions: tuple[draw.Dimension, ...] = ()
    drawn: tuple[draw.Part, ...] = ()
    labels: tuple[draw.Label, ...] = ()
    openings: tuple[draw.Shape, ...] = ()

    def view(self) -> draw.View:
        """Return the net as it is printed, and upright where a page holds it only so."""
        parts = (
            draw.Part(f"{self.name}-outline", "Cut along this", (draw.Line(self.outline),)),
            draw.Part(f"{self.name}-folds", "Fold back along these", draw.lines(self.folds, Kind.HIDDEN)),
            *(
                [draw.Part(f"{self.name}-openings", "Cut these out", draw.lines(self.openings))]
                if self.openings
                else []
            ),
            *self.drawn,
        )
        dimensions = (*self.dimensions, self.check)
        view = draw.View(self.name, self.title, parts, dimensions, self.labels, check=self.check)
        return replace(view, detail=turned(view))

    def template(self, *apart: Template) -> Template:
        """Return the net as a template; `apart` are printed instead where it fits no page."""
        use = "; ".join(["dashed: fold back", *(["hatched: end grain"] if self._hatched else [])])
        return Template(self.view(), _FAMILY, use, _FAMILY, folded=True, apart=apart)

    @property
    def _hatched(self) -> bool:
        return any(part.hatched for part in self.drawn)


def letter(words: str, at: tuple[float, float], height: float = LETTER) -> draw.Label:
    """Return the letter of an edge that meets another of the same letter."""
    return draw.Label(words, Point(*at), leader=False, height=height, bold=True)


def tab(start: tuple[float, float], end: tuple[float, float], deep: float) -> list[Point]:
    """Return a tab on an edge as the points after its start: a trapezoid to the right of the way, and the end.

    Along an outline that runs anticlockwise that is outside.
    """
    long = math.dist(start, end)
    along = (end[0] - start[0]) / long, (end[1] - start[1]) / long
    out = along[1] * deep, -along[0] * deep
    slant = min(deep, _SLANT * long)

    def corner(at: float) -> Point:
        return Point(start[0] + along[0] * at + out[0], start[1] + along[1] * at + out[1])

    return [corner(slant), corner(long - slant), Point(*end)]


def teeth(start: tuple[float, float], end: tuple[float, float], deep: float, count: int) -> list[Point]:
    """Return so many tabs side by side on an edge, as `tab` does: it can be bent between them."""
    between = (
        (start[0] + (end[0] - start[0]) * i / count, start[1] + (end[1] - start[1]) * i / count)
        for i in range(1, count)
    )
    marks = [start, *between, end]
    return [point for i in range(count) for point in tab(marks[i], marks[i + 1], deep)]


def teeth_for(long: float, *, bent: bool) -> int:
    """Return how many teeth an edge of this length needs: one where it stays straight; an odd count, one amid."""
    if not bent:
        return 1
    count = math.ceil(long / TOOTH)
    return count + 1 - count % 2


def outline(points: Sequence[Point]) -> draw.Path:
    """Return the closed outline through points; one that is said twice counts once."""
    kept = [points[0]]
    for point in points[1:]:
        if math.dist(point, kept[-1]) > 1e-9:
            kept.append(point)
    return draw.polygon(*kept)


def folds(*ends: Iterable[tuple[float, float]]) -> tuple[draw.Path, ...]:
    """Return folds between pairs of places."""
    return tuple(draw.line(*pair) for pair in ends)
