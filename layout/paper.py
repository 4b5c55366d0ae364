"""Paper: exact sizes, the frame, and what a printer can be trusted to reach.

Sizes are ISO 216 and ANSI Y14.1, in mm, never rounded to whole points.
"""

from __future__ import annotations

import difflib
import re
from dataclasses import dataclass

from jigs import lengths
from jigs.drawing import Box
from jigs.errors import CannotRead

FRAME = 10.0
"""Frame to paper edge, mm (ISO 5457). Printers commonly miss the outer 4.2 to 6.7 mm."""
BINDING = 20.0
"""Frame to the left edge, mm, where the sheet is filed (ISO 5457); kept on pages that can spare it."""
LEAST_SIDE, MOST_SIDE = 50.0, 5080.0
"""A page side is at most 14 400 units of 1/72 in (ISO 32000-1)."""

_INCH = 25.4
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


@dataclass(frozen=True, slots=True)
class Paper:
    """A page: its name, its size in mm, and the frame that everything stays inside."""

    name: str
    width: float
    height: float
    frame: Box

    @property
    def turned(self) -> Paper:
        """The same page on its side. The binding edge stays on the left."""
        return _page(self.name, self.height, self.width)


def _page(name: str, width: float, height: float) -> Paper:
    if name == _BOTH:
        # Prints alike on A4 and on Letter: the narrower width, the lesser height, half an inch off every edge.
        return Paper(name, width, height, Box(0, 0, width, height).grown(-_INCH / 2))
    left = BINDING if min(width, height) >= 200 else FRAME
    return Paper(name, width, height, Box(left, FRAME, width - FRAME, height - FRAME))


def named(text: str) -> Paper:
    """Return the paper a person asked for: a name, "both", or "300x400 mm". Raises CannotRead."""
    wanted = text.strip()
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
        meant = f"did you mean '{close[0]}'?" if close else "there are: " + ", ".join([*_SIZES, _BOTH])
        raise CannotRead(f"paper: there is no paper called '{wanted}'; {meant} Or give a size: \"300x400 mm\"")
    units: lengths.Units = "in" if re.search(r'in(ch(es)?)?$|["″]$', sides[1].strip()) else "mm"
    try:
        width, height = (float(lengths.read(side, units)) for side in sides)
    except lengths.LengthError as error:
        raise CannotRead(f"paper: {error}") from error
    for side in (width, height):
        if not LEAST_SIDE <= side <= MOST_SIDE:
            raise CannotRead(
                f"paper: a side must be from {LEAST_SIDE:.0f} to {MOST_SIDE:.0f} mm; "
                f"{lengths.show(side, units)} is not; the nearest that works is "
                f"{lengths.show(min(max(side, LEAST_SIDE), MOST_SIDE), units)}"
            )
    written = " x ".join(lengths.bare(side, units) for side in (width, height))
    return _page(f"{written} {units}", width, height)


def default(units: lengths.Units) -> str:
    """Return the paper of those who measure in these units."""
    return "A4" if units == "mm" else "Letter"


def larger(paper: Paper, units: lengths.Units) -> tuple[Paper, ...]:
    """Return the papers to suggest when this one is too small, smallest first, of those its owner will have."""
    american = paper.name in (*_ANSI, "Legal") or (units == "in" and paper.name not in _SIZES)
    pages = [named(name) for name in (_ANSI if american else _ISO)]
    return tuple(page for page in pages if page.width * page.height > paper.width * paper.height)
