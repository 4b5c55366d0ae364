"""The hand a sheet is drawn in: letters for eyes that need large ones, lines for a printer that is short of ink.

Large letters are chosen before places are, so that nothing collides; thin ink is put on the finished marks.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigs.base.drawing import Path, line
from jigs.base.lazily import lazily
from jigs.record import Record, replace

with lazily():  # a hand is chosen long before there are marks
    from layout.sheet import marks

if TYPE_CHECKING:
    from layout.sheet.marks import Group, Pen, Sheet, Stroke

LARGE = 5.0
"""Least letter height of what is read at the bench in large print, mm (ISO 3098, its next size above 3.5)."""
GROWN = 1.4
"""How much larger the rest is written: one size of ISO 3098."""
PITCH, SPARSE = 2.5, 5.0
"""Between lines of hatching, mm."""
_THINNER, _THINNEST = 0.6, 0.1
"""Share of a pen's width, and the thinnest line, mm: two dots and a half of 600 in an inch."""


class Hand(Record):
    """How sheets are drawn: with `large` print, with `thin` ink, or both."""

    large: bool = False
    thin: bool = False

    def bench(self, height: float) -> float:
        """Return the letter height of what is read at the bench, mm."""
        return max(LARGE, height) if self.large else height

    def rest(self, height: float) -> float:
        """Return the letter height of headings and captions, mm."""
        return height * GROWN if self.large else height

    @property
    def pitch(self) -> float:
        """Between lines of hatching, mm."""
        return SPARSE if self.thin else PITCH


ORDINARY = Hand()


def thinned(sheet: Sheet) -> Sheet:
    """Return a sheet in thin ink: narrower lines, and outlines in place of solid areas."""
    layers = tuple(replace(layer, groups=tuple(_thinned(group) for group in layer.groups)) for layer in sheet.layers)
    return replace(sheet, layers=layers)


def _thinned(group: Group) -> Group:
    strokes = [thin for stroke in group.strokes for thin in (_outlined(stroke) if stroke.pen.filled else [stroke])]
    texts = tuple(replace(text, white=False) for text in group.texts)  # what it stood on is no longer black
    return replace(
        group, strokes=tuple(marks.Stroke(stroke.shape, _thin(stroke.pen)) for stroke in strokes), texts=texts
    )


def _thin(pen: Pen) -> Pen:
    if pen == marks.PAPER:
        return pen
    return replace(pen, width=max(_THINNEST, round(pen.width * _THINNER, 3)), colour=None)


def _outlined(stroke: Stroke) -> list[Stroke]:
    """Return a solid area as its outline; one with four corners, a field of a map, with its diagonals.

    Of an area in colour nothing is left: its outline is drawn with it.
    """
    if stroke.pen.colour:
        return []
    if stroke.pen == marks.PAPER:
        return [stroke]
    if stroke.pen == marks.BAR:
        return [marks.Stroke(stroke.shape, marks.NARROW)]
    drawn = [marks.Stroke(stroke.shape, marks.NARROW)]
    if isinstance(stroke.shape, Path) and len(corners := stroke.shape.points()[:-1]) == 4:
        a, b, c, d = corners
        drawn += [marks.Stroke(line(a, c), marks.NARROW), marks.Stroke(line(b, d), marks.NARROW)]
    return drawn
