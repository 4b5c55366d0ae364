"""A short text as a QR code (ISO/IEC 18004): black squares that a phone reads off the paper."""

from __future__ import annotations

import functools
from dataclasses import dataclass

from jigs.base.drawing import Path, rectangle

QUIET = 4
"""Modules of white that a reader wants on every side (ISO/IEC 18004)."""
MODULES = (0.8, 0.7, 0.6, 0.5)
"""Sides of a module to try, mm. A printer of 300 dpi makes at least six dots of the smallest."""
LEVELS = ("m", "l")
"""Levels of error correction to try: 15 % of the code may be spoilt, or 7 %."""


@dataclass(frozen=True, slots=True)
class Code:
    """A code with the side of its modules in mm. `rows` are from the top down; a 1 is black."""

    rows: tuple[bytes, ...]
    module: float

    @property
    def side(self) -> float:
        """The side of the code with its quiet zone, mm."""
        return (len(self.rows) + 2 * QUIET) * self.module

    @functools.lru_cache(maxsize=64)  # noqa: B019 - a page is laid out many times with the same code
    def squares(self, left: float, bottom: float) -> tuple[Path, ...]:
        """Return what is black, the lower left corner of the quiet zone being here: one rectangle for each run."""
        found = []
        for up, row in enumerate(reversed(self.rows)):
            low = bottom + (QUIET + up) * self.module
            for begin, end in _runs(row):
                first, last = (left + (QUIET + across) * self.module for across in (begin, end))
                found.append(rectangle(first, low, last, low + self.module))
        return tuple(found)


def codes(text: str) -> list[Code]:
    """Return the ways to draw a text, the one that is read most easily first."""
    return [Code(_rows(text, level), module) for level in LEVELS for module in MODULES]


@functools.cache
def _rows(text: str, level: str) -> tuple[bytes, ...]:
    import segno  # noqa: PLC0415 - slow to import, and not every sheet has a code

    made = segno.make(text, error=level, micro=False, boost_error=False, mode="byte", encoding="utf-8")
    return tuple(bytes(row) for row in made.matrix)


def _runs(row: bytes) -> list[tuple[int, int]]:
    """Return where each run of black begins and ends."""
    black = [i for i in range(len(row)) if row[i]]
    begins = [i for i in black if i == 0 or not row[i - 1]]
    ends = [i + 1 for i in black if i + 1 == len(row) or not row[i + 1]]
    return list(zip(begins, ends, strict=True))
