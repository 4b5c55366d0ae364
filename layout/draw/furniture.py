"""What every page carries: frame, title block, and the proof that it was printed true to size.

The proof is a square of 100 mm with two bars of 4 in beside it. The square holds the cautions, so it costs no room.
"""

from __future__ import annotations

import functools
import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace

from jigs.base.drawing import Bounds, Point, line, rectangle
from jigs.base.lengths import Units, bare
from layout.draw import qr
from layout.draw.blocks import blank, paragraph
from layout.sheet import lettering, marks
from layout.sheet.marks import Group, Stroke, Text

PROOF = 108.0
"""Side of the proof with its bars, mm."""
TITLE_WIDTH = 62.0
"""Least width of the title block, mm."""
SQUARE, BAR = 100.0, 101.6

_OFFSET = PROOF - SQUARE
_WIDE = 100.0
"""A title block wider than this sets its cells side by side, mm."""
_CAPTION, _FIELD, _TITLE = 1.8, 2.5, 3.5
_PAD, _TIGHT = 1.4, 0.9
"""Round what is written in a cell, mm: with room, and where it makes room for the code."""
_BELOW_CAUTIONS, _BETWEEN = 3.0, 0.6
_WHAT_FOR = "Code: the settings, for jigleaf reopen"


@dataclass(frozen=True, slots=True)
class Facts:
    """What the title block of one page says (fields of ISO 7200)."""

    title: str
    sheet: str
    purpose: str
    settings: str
    revision: str
    paper: str
    correction: str
    units: Units
    check_name: str
    check_value: float
    date: str = ""
    codes: tuple[str, ...] = ()


def frame(box: Bounds) -> Group:
    """Return the frame of the page."""
    return Group("frame", "Frame", (Stroke(rectangle(*box), marks.EDGE),))


# -- the proof -----------------------------------------------------------------------------------------------------


def proof(left: float, bottom: float, cautions: tuple[str, ...]) -> tuple[Group, ...]:
    """Return the bars, the square and the cautions in it. Raises ValueError where the cautions don't fit."""
    return tuple(group.moved(left, bottom) for group in (_inch_bars(), _millimetre_square(), square_words(cautions)))


@functools.cache
def square_words(cautions: tuple[str, ...]) -> Group:
    """Return what is written in the square, as large as fits. Raises ValueError where it does not fit."""
    for height in (2.5, 1.8):
        written = _square_words(cautions, height)
        if written is not None:
            return written
    raise ValueError(f"{len(cautions)} cautions are more than the square of {SQUARE:g} mm holds")


@functools.cache
def _inch_bars() -> Group:
    strokes = [Stroke(line((0, BAR), (0, 0), (BAR, 0)), marks.EDGE)]
    texts = []
    for eighth in range(1, 33):
        at = eighth * 25.4 / 8
        long = 2.8 if eighth % 8 == 0 else 2.0 if eighth % 4 == 0 else 1.5 if eighth % 2 == 0 else 1.0
        strokes += [
            Stroke(line((at, 0), (at, long)), marks.NARROW),
            Stroke(line((0, at), (long, at)), marks.NARROW),
        ]
        if eighth % 8 == 0:
            inch = str(eighth // 8)
            texts.append(Text(Point(at, 4.0), inch if eighth < 32 else "4 in", _CAPTION, "middle"))
            texts.append(Text(Point(3.6, at - 0.9), inch, _CAPTION))
    return Group("calibration-inches", "4 in a side", tuple(strokes), tuple(texts))


@functools.cache
def _millimetre_square() -> Group:
    low, high = _OFFSET, _OFFSET + SQUARE
    strokes = [Stroke(rectangle(low, low, high, high), marks.EDGE)]
    texts = []
    for mm in range(1, 100):
        long = 2.4 if mm % 10 == 0 else 1.6 if mm % 5 == 0 else 1.0
        at = low + mm
        strokes += [
            Stroke(line((at, low), (at, low + long)), marks.NARROW),
            Stroke(line((low, at), (low + long, at)), marks.NARROW),
        ]
        if mm % 10 == 0:
            texts.append(Text(Point(at, low + 3.4), str(mm), _CAPTION, "middle"))
            if mm > 10:
                texts.append(Text(Point(low + 3.2, at - 0.9), str(mm), _CAPTION))
    return Group("calibration-square", "100 mm a side", tuple(strokes), tuple(texts))


def _square_words(cautions: Sequence[str], height: float) -> Group | None:
    left, top, floor = _OFFSET + 7.5, _OFFSET + SQUARE - 2.0, _OFFSET + 6.2
    room = _OFFSET + SQUARE - 1.5 - left
    texts: list[Text] = []
    strokes: list[Stroke] = []
    y = top
    how = "Before you cut, lay a ruler on this page: the square is 100 mm a side, the bars beside it 4 in. It reads"
    rows, y = paragraph(how, height, room, y)
    texts += rows
    y -= 7.0
    for i, words in enumerate(("across", "up")):
        x = i * room / 2
        texts.append(Text(Point(x, y + 1.8), words, height))
        strokes.append(blank(x + 15, y, room / 2 - 18))
    y -= 2.5
    texts.append(Text(Point(0, y - height), "Cautions", height, bold=True))
    y -= height * lettering.LINE_PITCH + 0.6
    for caution in cautions:
        rows, y = paragraph(caution, height, room, y)
        texts += rows
        y -= _BETWEEN
    if min(text.box.bottom for text in texts) < floor:
        return None
    return Group("proof-words", "How to read the proof, and cautions", tuple(strokes), tuple(texts)).moved(left, 0)


# -- the title block -----------------------------------------------------------------------------------------------


@functools.lru_cache(maxsize=256)
def title_block(box: Bounds, facts: Facts) -> Group | None:
    """Return the title block, filling the box from the top. None where what it must say does not fit."""
    column = _title_column(box, facts)
    if column is None:
        return None
    down = box.bottom - column.y  # it stands in the corner
    words = Group("title-block", "Title block", tuple(column.close()), tuple(column.texts)).moved(0, down)
    return replace(words, strokes=(*words.strokes, *column.squares(down)))


def title_fits(box: Bounds, facts: Facts) -> bool:
    """Tell whether a title block fits its box, without drawing it: many ways to lay out a page are tried."""
    return _title_column(box, facts) is not None


@functools.lru_cache(maxsize=1024)
def _title_column(box: Bounds, facts: Facts) -> _Column | None:
    """Return the filled column of the title block, or None where what it must say does not fit.

    The code of the settings is drawn where it finds room, the fullest and largest that does: the cells draw together
    for it, then what the sheet was made from is written smaller.
    """
    words = functools.cache(functools.partial(_words, box, facts))
    plain, close, small, smallest = itertools.product((_FIELD, _CAPTION), (_PAD, _TIGHT))
    codes = [code for text in facts.codes for code in qr.codes(text)]
    for look, code in (*itertools.product((plain, close, smallest), codes), (plain, None), (small, None)):
        column = words(*look)
        if column.y - (code.side if code else 0.0) >= box.bottom - 1e-9:
            made = column.copy()
            made.check(facts, code)
            if made.y >= box.bottom - 1e-9:
                return made
    return None


def _words(box: Bounds, facts: Facts, height: float, pad: float) -> _Column:
    """Return the title block down to the number to check."""
    column = _Column(box, pad)
    column.words(facts.title, _TITLE, bold=True)
    column.words(facts.sheet, _FIELD + 0.0, bold=True)
    units = "millimetres" if facts.units == "mm" else "inches"
    small = [("Revision", facts.revision), ("Scale", "1:1"), ("Dimensions", units)]
    printed = [("Paper", facts.paper), ("Printer correction", facts.correction)]
    signed = [("Date", facts.date), ("Made by", "")]
    if box.width > _WIDE:
        column.fields([("For", facts.purpose), ("Made from", facts.settings)], height)
        column.fields([*small, *signed])
        column.fields(printed)
    else:
        column.captioned("For", facts.purpose, height)
        column.captioned("Made from", facts.settings, height)
        for pairs in (small, printed, signed):
            column.fields(pairs)
    return column


class _Column:
    """A title block being filled from the top down: cells divided by lines."""

    def __init__(self, box: Bounds, pad: float = _PAD) -> None:
        self.box = box
        self.pad = pad
        self.y = box.top
        self.texts: list[Text] = []
        self.strokes: list[Stroke] = []
        self.black: tuple[qr.Code, float, float] | None = None
        """A code and its corner: what is black of it is drawn last, once it is known that all fits and where."""

    def copy(self) -> _Column:
        """Return a column that is filled as far as this one."""
        other = _Column(self.box, self.pad)
        other.y, other.texts, other.strokes = self.y, [*self.texts], [*self.strokes]
        return other

    def _paragraph(self, words: str, height: float, left: float, room: float, *, bold: bool = False) -> None:
        for row in lettering.wrapped(words, height, room, bold):
            if row:
                self.texts.append(Text(Point(left, self.y - height * 1.15), row, height, bold=bold))
            self.y -= height * lettering.LINE_PITCH

    def _rule(self) -> None:
        self.y -= self.pad
        self.strokes.append(Stroke(line((self.box.left, self.y), (self.box.right, self.y)), marks.NARROW))

    def words(self, words: str, height: float, *, bold: bool) -> None:
        """Write a cell of plain words."""
        self.y -= self.pad
        self._paragraph(words, height, self.box.left + _PAD, self.box.width - 2 * _PAD, bold=bold)
        self._rule()

    def captioned(self, caption: str, words: str, height: float) -> None:
        """Write a cell with a small caption over it."""
        self.y -= self.pad
        self._paragraph(caption, _CAPTION, self.box.left + _PAD, self.box.width - 2 * _PAD)
        self._paragraph(words, height, self.box.left + _PAD, self.box.width - 2 * _PAD)
        self._rule()

    def fields(self, pairs: Sequence[tuple[str, str]], height: float = _FIELD) -> None:
        """Write captioned cells side by side; an empty one is to be written in."""
        top, lowest = self.y, self.y
        share = self.box.width / len(pairs)
        for i, (caption, words) in enumerate(pairs):
            left = self.box.left + i * share
            self.y = top - self.pad
            self._paragraph(caption, _CAPTION, left + _PAD, share - 2 * _PAD)
            self._paragraph(words, height, left + _PAD, share - 2 * _PAD)
            lowest = min(lowest, self.y)
        self.y = lowest
        self._rule()
        for i in range(1, len(pairs)):
            x = self.box.left + i * share
            self.strokes.append(Stroke(line((x, top), (x, self.y)), marks.NARROW))

    def check(self, facts: Facts, code: qr.Code | None) -> None:
        """Write the page's own number to check with a ruler, with a box for the reading; the code beside it."""
        top, room = self.y, self.box.width - (code.side if code else 0.0)
        self.y -= self.pad
        unit = "mm" if facts.units == "mm" else "in"
        words = f"Ruler check: {facts.check_name} {bare(facts.check_value, facts.units)} {unit}; it reads"
        self._paragraph(words, _FIELD, self.box.left + _PAD, room - 2 * _PAD)
        self.y -= 6.5
        self.strokes.append(blank(self.box.left + _PAD, self.y, room - 2 * _PAD))
        self.y -= self.pad
        if code:
            self._code(code, top, self.box.left + room)

    def _code(self, code: qr.Code, top: float, left: float) -> None:
        """Draw the code into a cell of its own at the right; its quiet zone is the margin of the cell."""
        rows = lettering.wrapped(_WHAT_FOR, _CAPTION, left - self.box.left - 2 * _PAD)
        if self.y - len(rows) * _CAPTION * lettering.LINE_PITCH - self.pad >= top - code.side:
            self._paragraph(_WHAT_FOR, _CAPTION, self.box.left + _PAD, left - self.box.left - 2 * _PAD)
        self.y = min(self.y, top - code.side)
        self.strokes.append(Stroke(line((left, top), (left, self.y)), marks.NARROW))
        low = (top + self.y - code.side) / 2
        self.black = code, left, low

    def squares(self, down: float) -> list[Stroke]:
        """Return what is black of the code, moved with the block."""
        if self.black is None:
            return []
        code, left, low = self.black
        return [Stroke(square, marks.SOLID) for square in code.squares(left, round(low + down, 6))]

    def close(self) -> list[Stroke]:
        """Return the lines, with the border round all that was written."""
        return [
            *self.strokes,
            Stroke(rectangle(self.box.left, self.y, self.box.right, self.box.top), marks.EDGE),
        ]
