"""What is written and drawn into one part of a page: strokes and words, gathered under one name."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from typing import Literal

from jigs.base.drawing import Bounds, Point, line, rectangle
from layout.sheet import lettering, marks
from layout.sheet.marks import Group, Pen, Stroke, Text

CAPTION, LABEL, BODY, HEAD, VALUE, TITLE = 1.8, 2.5, 3.5, 3.5, 5.0, 5.0
"""Heights of capitals, mm: in strips, labels and captions, what is read at the bench, headings, values,
titles: heights of ISO 3098."""
PITCH = 1.68
"""Baseline to baseline of what is read, as a multiple of the letter height."""

Anchor = Literal["start", "middle", "end"]


@dataclass
class Ink:
    """Marks of one group, gathered."""

    name: str
    title: str
    strokes: list[Stroke] = field(default_factory=list)
    texts: list[Text] = field(default_factory=list)

    def group(self) -> Group:
        """Return what was gathered."""
        return Group(self.name, self.title, tuple(self.strokes), tuple(self.texts))

    def line(self, *points: tuple[float, float], pen: Pen = marks.RULE) -> None:
        """Draw a line."""
        self.strokes.append(Stroke(line(*points), pen))

    def box(self, box: Bounds, pen: Pen = marks.RULE) -> None:
        """Draw a rectangle."""
        self.strokes.append(Stroke(rectangle(*box), pen))

    def write(
        self,
        at: tuple[float, float],
        words: str,
        height: float,
        anchor: Anchor = "start",
        *,
        upright: bool = False,
        bold: bool = False,
        white: bool = False,
    ) -> None:
        """Write one line of words."""
        if words:
            self.texts.append(Text(Point(*at), words, height, anchor, upright=upright, bold=bold, white=white))

    def rows(
        self,
        left: float,
        top: float,
        rows: Iterable[str],
        height: float,
        pitch: float = PITCH,
        *,
        bold: bool = False,
        white: bool = False,
    ) -> float:
        """Write lines one below the other from `top` down; return where the next may begin."""
        for row in rows:
            self.write((left, top - height * 1.12), row, height, bold=bold, white=white)
            top -= height * pitch
        return top

    def centred(
        self,
        left: float,
        middle: float,
        rows: Sequence[str],
        height: float,
        pitch: float = 1.6,
        anchor: Anchor = "start",
        **look: bool,
    ) -> None:
        """Write lines so that the middle of their capitals is at `middle`."""
        y = middle + (len(rows) - 1) * height * pitch / 2 - height / 2
        for row in rows:
            self.write((left, y), row, height, anchor, **look)
            y -= height * pitch

    def ring(self, at: tuple[float, float], number: str, radius: float = 3.0) -> None:
        """Write a number in a ring about a point."""
        text = Text(Point(at[0], at[1] - LABEL / 2), number, LABEL, "middle", bold=True, ring=radius)
        self.texts.append(text)
        self.strokes.append(Stroke(text.circle(), marks.EDGE))


def wrapped(words: str, height: float, room: float, *, bold: bool = False) -> list[str]:
    """Return words in lines no wider than the room."""
    return lettering.wrapped(words, height, room, bold)


def height_of(rows: list[str], height: float, pitch: float = PITCH) -> float:
    """Return how much room lines take, mm."""
    return len(rows) * height * pitch
