"""The lettering: which font, how tall, how wide a word will be, and which characters it lacks.

Heights are letter heights as ISO 3098 means them: the height of a capital.
"""

from __future__ import annotations

import functools
import re
from importlib.resources import files
from typing import TYPE_CHECKING

from jigs.base.drawing import Bounds, Point
from jigs.base.errors import CannotBuild
from jigs.base.rules import stop

if TYPE_CHECKING:
    from reportlab.pdfbase.ttfonts import TTFont

FAMILY = "Source Sans Pro"
NO_BREAK = "\u00a0"

_WITHIN_A_LENGTH = re.compile(r"(?<=\d) (?=\d+/\d|[+−-]\.\d|(?:mm|in)\b)")
"""Spaces within a length: before its fraction, before what is left of it, before its unit."""
_CAPITAL = 0.660
_ASCENT, _DESCENT = 0.73, 0.225
"""Capital height, height of the tallest letters and depth of the deepest, as fractions of the font size, from the
font's own tables."""
_FILES = {False: "SourceSansPro-Regular.ttf", True: "SourceSansPro-Bold.ttf"}


@functools.cache
def font(bold: bool = False) -> TTFont:
    """Return the font, registered with reportlab so that the PDF writer can embed it."""
    from reportlab.pdfbase import pdfmetrics  # noqa: PLC0415 - slow to import
    from reportlab.pdfbase.ttfonts import TTFont  # noqa: PLC0415 - slow to import

    name = "lettering-bold" if bold else "lettering"
    made = TTFont(name, paths()[bold])
    pdfmetrics.registerFont(made)
    return made


def paths() -> tuple[str, str]:
    """Return where the files of the font are, the regular one and the bold one."""
    folder = files("font_source_sans_pro") / "files"
    return str(folder / _FILES[False]), str(folder / _FILES[True])


def size(height: float) -> float:
    """Return the font size in mm for a letter height in mm."""
    return height / _CAPITAL


def reach(height: float) -> tuple[float, float]:
    """Return how far letters reach below and above their baseline, in mm."""
    return size(height) * _DESCENT, size(height) * _ASCENT


@functools.lru_cache(maxsize=8192)
def width(words: str, height: float, bold: bool = False) -> float:
    """Return how wide words are, in mm."""
    return float(font(bold).stringWidth(words, size(height)))


def box(at: Point, words: str, height: float, anchor: str, upright: bool, bold: bool) -> Bounds:
    """Return the box that words fill, from their baseline point. `upright`: they run up the page."""
    wide = width(words, height, bold)
    back = {"start": 0.0, "middle": wide / 2, "end": wide}[anchor]
    down, up = reach(height)
    if upright:
        return Bounds(at.x - up, at.y - back, at.x + down, at.y - back + wide)
    return Bounds(at.x - back, at.y - down, at.x - back + wide, at.y + up)


def refuse_unknown(words: str) -> None:
    """Raise CannotBuild where the font lacks a character: a box in place of a letter tells nobody anything."""
    known = font().face.charToGlyph
    missing = sorted({letter for letter in words if ord(letter) not in known})
    if missing:
        named = ", ".join(f"'{letter}' (U+{ord(letter):04X})" for letter in missing)
        raise CannotBuild(
            [
                stop(
                    "lettering",
                    "'{words}' can't be drawn: the sheet font has no {missing}",
                    "write it with other characters",
                    words=words,
                    missing=named,
                )
            ]
        )


def together(words: str) -> str:
    """Return words whose lengths stay in one piece: "7 5/16 in" is never parted."""
    return _WITHIN_A_LENGTH.sub(NO_BREAK, words)


def wrapped(words: str, height: float, room: float, bold: bool = False) -> list[str]:
    """Break words into lines no wider than `room` mm, never within a length. A wider word is broken within.

    A no-break space keeps words together, and is an ordinary space in the lines returned.
    """
    return list(_rows(words, height, room, bold))


@functools.lru_cache(maxsize=8192)  # a page is laid out in many ways, mostly with the same columns
def _rows(words: str, height: float, room: float, bold: bool) -> tuple[str, ...]:
    rows: list[str] = []
    row = ""
    for word in _short_enough(together(words).split(" "), height, room, bold):
        longer = f"{row} {word}" if row else word
        if row and width(longer, height, bold) > room:
            rows.append(row)
            row = word
        else:
            row = longer
    return tuple(line.replace(NO_BREAK, " ") for line in (*rows, row))


def _short_enough(words: list[str], height: float, room: float, bold: bool) -> list[str]:
    """Cut each word that is wider than the room into pieces that are not."""
    pieces = []
    for word in words:
        rest = word
        while width(rest, height, bold) > room and len(rest) > 1:
            fits = max(1, next((n for n in range(len(rest), 0, -1) if width(rest[:n], height, bold) <= room), 1))
            pieces.append(rest[:fits])
            rest = rest[fits:]
        pieces.append(rest)
    return pieces
