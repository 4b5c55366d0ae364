"""What the teacher's plan knows of one student. Lengths in mm."""

from __future__ import annotations

from collections import Counter
from collections.abc import Mapping, Sequence
from typing import Any

from jigs.course.class_list import shortened
from jigs.record import Record
from jigs.trade.stock import Piece

_NAME, _WORD = 28, 14  # characters of a name in a table, and of a word of it
A_ROW = 12
"""Names in one row of a table."""


class Maker(Record):
    """What the plan knows of one student: a name fit for the sheets, the box as data, its rough pieces."""

    name: str
    data: Mapping[str, Any]

    @property
    def short(self) -> str:
        """The name as it fits a table."""
        return shortened(" ".join(shortened(word, _WORD) for word in self.name.split()), _NAME)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """The rough pieces; a strip of sides is one."""
        return tuple(Piece(*piece) for piece in self.data["pieces"])


def calls(makers: Sequence[Maker]) -> dict[str, str]:
    """Return what each is called where room is short, by name: the first word of it where nobody else has that."""
    first = Counter(maker.short.split(" ")[0].casefold() for maker in makers)
    return {
        maker.name: word if first[(word := maker.short.split(" ")[0]).casefold()] == 1 else maker.short
        for maker in makers
    }


def fine(value: float) -> float:
    """Return a setting to a thousandth of a mm: no machine is set finer."""
    return round(value, 3)


def capital(words: str) -> str:
    """Return words that begin with a capital."""
    return words[:1].upper() + words[1:]
