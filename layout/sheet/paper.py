"""Paper: exact sizes, the frame, and what a printer can be trusted to reach.

Sizes are ISO 216 and ANSI Y14.1, in mm, never rounded to whole points.
"""

from __future__ import annotations

import difflib
import re
from typing import NamedTuple

from jigs.base import lengths
from jigs.base.drawing import Bounds
from jigs.base.errors import CannotRead
from jigs.record import Record

FRAME = 10.0
"""Frame to paper edge, mm (ISO 5457). Printers commonly miss the outer 4.2 to 6.7 mm."""
BINDING = 20.0
"""Frame to the left edge, mm, where the sheet is filed (ISO 5457); kept on pages that can spare it."""
LEAST_SIDE, MOST_SIDE = 50.0, 5080.0
"""A page side is at most 14 400 units of 1/72 in (ISO 32000-1)."""
MOST_MARGIN = 50.0
"""The widest margin a printer is believed to leave, mm (common practice, no source)."""

_INCH = 25.4
_HALF_A_LINE = 0.5
"""Between a margin and the middle of the frame's line, mm: half its width, and as much again."""
_SIZES: dict[str, tuple[float, float]] = {
    "A5": (148, 210),
    "A4": (210, 297),
    "A3": (297, 420),
    "A2": (420, 594),
    "A1": (594, 841),
    "A0": (841, 1189),
    "Letter": (8.5 * _INCH, 11 * _INCH),
    "Legal": (8.5 * _INCH, 14 * _INCH),
    "Tabloid": (11 * _INCH, 17 * _INCH),
    "C": (17 * _INCH, 22 * _INCH),
    "D": (22 * _INCH, 34 * _INCH),
    "E": (34 * _INCH, 44 * _INCH),
}
_ISO = ("A4", "A3", "A2", "A1", "A0")
_ANSI = ("Letter", "Tabloid", "C", "D", "E")
_BOTH = "both"
NAMES = (*_SIZES, _BOTH)
"""The papers that have a name."""


class Margins(NamedTuple):
    """What a printer leaves white along each edge of an upright page, mm."""

    left: float = 0.0
    right: float = 0.0
    top: float = 0.0
    bottom: float = 0.0

    @property
    def turned(self) -> Margins:
        """What it leaves of a page on its side, which may be turned to the left or to the right to print."""
        across, up = max(self.top, self.bottom), max(self.left, self.right)
        return Margins(across, across, up, up)


NO_MARGINS = Margins()


class Paper(Record):
    """A page: its name, its size in mm, and the frame that everything stays inside.

    A `roll` is as long as its drawing needs, up to the longest page there is. `margins` are those of the printer for
    an upright page.
    """

    name: str
    width: float
    height: float
    frame: Bounds
    roll: bool = False
    margins: Margins = NO_MARGINS

    @property
    def turned(self) -> Paper:
        """The same page on its side. The binding edge stays on the left."""
        return _page(self.name, self.height, self.width, roll=self.roll, margins=self.margins)

    def within(self, margins: Margins) -> Paper:
        """Return the page for a printer that leaves such margins: its frame inside what the printer reaches."""
        return _page(self.name, self.width, self.height, roll=self.roll, margins=margins)

    def cut(self, length: float) -> Paper:
        """Return this much of a roll."""
        wide, high = (self.width, length) if self.width <= self.height else (length, self.height)
        return _page(self.name, wide, high, roll=True, margins=self.margins)


def _page(name: str, width: float, height: float, *, roll: bool = False, margins: Margins = NO_MARGINS) -> Paper:
    left = BINDING if min(width, height) >= 200 else FRAME
    frame = Bounds(left, FRAME, width - FRAME, height - FRAME)
    if name == _BOTH:
        # Prints alike on A4 and on Letter: the narrower width, the lesser height, half an inch off every edge.
        frame = Bounds(0, 0, width, height).grown(-_INCH / 2)
    white = margins if width <= height else margins.turned
    reached = Bounds(white.left, white.bottom, width - white.right, height - white.top)
    if margins != NO_MARGINS:
        reached = reached.grown(-_HALF_A_LINE)
    both = Bounds(
        max(frame.left, reached.left),
        max(frame.bottom, reached.bottom),
        min(frame.right, reached.right),
        min(frame.top, reached.top),
    )
    return Paper(name, width, height, both, roll, margins)


def named(text: str) -> Paper:
    """Return the paper a person asked for: a name, "both", "300x400 mm" or "610 mm roll". Raises CannotRead."""
    wanted = text.strip()
    if roll := re.fullmatch(r"(.*?)\s*\broll", wanted, re.IGNORECASE):
        return _roll(roll[1])
    if wanted.lower() == _BOTH:
        return _page(_BOTH, 210.0, 11 * _INCH)
    for name, (width, height) in _SIZES.items():
        if name.lower() == wanted.lower():
            return _page(name, float(width), float(height))
    return _measured(wanted)


def _measured(wanted: str) -> Paper:
    """Read a page given by its size. A unit may stand once, at the end, for both sides."""
    sides = re.split(r"\s*[x×X]\s*", wanted)
    if len(sides) != 2:
        close = difflib.get_close_matches(wanted, [*_SIZES, _BOTH], n=1, cutoff=0.4)
        meant = f"did you mean '{close[0]}'?" if close else f"there are: {', '.join([*_SIZES, _BOTH])}."
        size = 'Or give a size: "300x400 mm", or "610 mm roll"'
        raise CannotRead(f"paper: there is no paper called '{wanted}'; {meant} {size}")
    units = _units(sides[1])
    try:
        width, height = (float(lengths.read(side, units)) for side in sides)
    except lengths.LengthError as error:
        raise CannotRead(f"paper: {error}") from error
    for side in (width, height):
        _refuse_side(side, units, "a side")
    written = " x ".join(lengths.bare(side, units) for side in (width, height))
    return _page(f"{written} {units}", width, height)


def _roll(wanted: str) -> Paper:
    """Read the width of a roll. Its length is the longest there is, to be cut to what a drawing needs."""
    units = _units(wanted)
    try:
        width = float(lengths.read(wanted, units))
    except lengths.LengthError as error:
        raise CannotRead(f'paper: the width of the roll: {error}; write "610 mm roll" or "24 in roll"') from error
    _refuse_side(width, units, "the width of a roll")
    return _page(f"{lengths.bare(width, units)} {units} roll", width, MOST_SIDE, roll=True)


def _units(wanted: str) -> lengths.Units:
    return "in" if re.search(r'in(ch(es)?)?$|["″]$', wanted.strip()) else "mm"


def _refuse_side(side: float, units: lengths.Units, what: str) -> None:
    if not LEAST_SIDE <= side <= MOST_SIDE:
        raise CannotRead(
            f"paper: {what} must be from {LEAST_SIDE:.0f} to {MOST_SIDE:.0f} mm; "
            f"{lengths.show(side, units)} is not; the nearest that works is "
            f"{lengths.show(min(max(side, LEAST_SIDE), MOST_SIDE), units)}"
        )


def default(units: lengths.Units) -> str:
    """Return the paper of those who measure in these units."""
    return "A4" if units == "mm" else "Letter"


def larger(paper: Paper, units: lengths.Units) -> tuple[Paper, ...]:
    """Return the papers to suggest when this one is too small, smallest first, of those its owner will have."""
    american = paper.name in (*_ANSI, "Legal") or (units == "in" and paper.name not in _SIZES)
    pages = [named(name).within(paper.margins) for name in (_ANSI if american else _ISO)]
    if paper.roll:
        return tuple(page for page in pages if page.width > min(paper.width, paper.height))
    return tuple(page for page in pages if page.width * page.height > paper.width * paper.height)


def read_margins(text: str, units: lengths.Units) -> Margins:
    """Read what a printer leaves white: left, right, top and bottom, or one number for all. Raises CannotRead."""
    words = re.split(r"[\s;]+", text.strip())
    try:
        read = [float(lengths.read(word, units)) for word in words]
    except lengths.LengthError as error:
        raise CannotRead(f'--margins: {error}; write left, right, top and bottom as "4.2 4.2 4.2 12.7"') from error
    if len(read) not in (1, 4):
        raise CannotRead(
            f"--margins: there are {len(read)} numbers; there must be four, left, right, top and bottom, or one for all"
        )
    for margin in read:
        if not 0 <= margin <= MOST_MARGIN:
            raise CannotRead(
                f"--margins: a margin must be from 0 to {lengths.show(MOST_MARGIN, units)}; "
                f"{lengths.show(margin, units)} is not"
            )
    return Margins(*read) if len(read) == 4 else Margins(*read * 4)
