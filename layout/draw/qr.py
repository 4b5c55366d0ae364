"""A short text as a QR code (ISO/IEC 18004): black squares that a phone reads off the paper."""

from __future__ import annotations

import bisect
import functools
import math
from collections.abc import Mapping, Sequence

from jigs.base.drawing import Path, rectangle
from jigs.record import Record

QUIET = 4
"""Modules of white that a reader wants on every side (ISO/IEC 18004)."""
MODULES = (0.8, 0.7, 0.6, 0.5)
"""Sides of a module to try, mm. A printer of 300 dpi makes at least six dots of the smallest."""
LEVELS = ("m", "l")
"""Levels of error correction to try: 15 % of the code may be spoilt, or 7 %."""
_MOST: Mapping[str, tuple[int, ...]] = {
    "m": (
        14, 26, 42, 62, 84, 106, 122, 152, 180, 213, 251, 287, 331, 362, 412, 450, 504, 560, 624, 666, 711, 779, 857,
        911, 997, 1059, 1125, 1190, 1264, 1370, 1452, 1538, 1628, 1722, 1809, 1911, 1989, 2099, 2213, 2331,
    ),
    "l": (
        17, 32, 53, 78, 106, 134, 154, 192, 230, 271, 321, 367, 425, 458, 520, 586, 644, 718, 792, 858, 929, 1003, 1091,
        1171, 1273, 1367, 1465, 1528, 1628, 1732, 1840, 1952, 2068, 2188, 2303, 2431, 2563, 2699, 2809, 2953,
    ),
}  # fmt: skip
"""The most bytes that versions 1 to 40 hold at each level (ISO/IEC 18004): the side is known before a code is made."""


class Code(Record):
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


def fitting(texts: Sequence[str], room: float) -> Code | None:
    """Return the first of these texts that goes into a room, mm, drawn the way that is read most easily; else None."""
    for text in texts:
        for level in LEVELS:
            modules = _modules(len(text.encode()), level) + 2 * QUIET
            for module in MODULES:
                if modules * module <= room:
                    return Code(_rows(text, level), module)
    return None


def _modules(length: int, level: str) -> float:
    """Return how many modules wide the smallest code of so many bytes is, without making it; inf where none is."""
    version = bisect.bisect_left(_MOST[level], length) + 1
    return 17 + 4 * version if version <= len(_MOST[level]) else math.inf


@functools.lru_cache(maxsize=64)
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
