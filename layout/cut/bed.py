"""The bed of a machine, and which pieces it holds."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple

from jigs.base import lengths
from jigs.base.drawing import Bounds
from jigs.base.errors import CannotRead
from jigs.base.lengths import Units
from jigs.base.rules import Problem, note, warn
from layout.cut.legs import SAME
from layout.sheet.cutting import CutPiece

LEAST_SIDE, MOST_SIDE = 50.0, 5000.0
"""What a bed may measure, mm (common practice, no source)."""
MOST_WIDTH = 15.0
"""The widest cut that is believed, mm: a router bit of 12.7 mm and some more (common practice, no source)."""


class Bed(NamedTuple):
    """How far a machine goes across and up, mm."""

    across: float
    up: float

    def holds(self, wide: float, high: float) -> bool:
        """Tell whether a piece goes on it as it lies."""
        return wide <= self.across + SAME and high <= self.up + SAME


def read(text: str, units: Units) -> Bed:
    """Return the bed that a person wrote, "300x200", in the units of the job or with a unit at its end.

    Raises CannotRead for what is no size, and for sides that no machine has.
    """
    sides = re.split(r"\s*[x×X]\s*", text.strip())
    written = (
        "in" if re.search(r'in(ch(es)?)?$|["″]$', text.strip()) else "mm" if text.strip().endswith("mm") else units
    )
    if len(sides) != 2:
        raise CannotRead(f"--bed: '{text}' is not WIDTHxHEIGHT, as in --bed 300x200")
    try:
        bed = Bed(*(float(lengths.read(side, written)) for side in sides))
    except lengths.LengthError as error:
        raise CannotRead(f"--bed: {error}") from error
    for side in bed:
        _within("bed", side, LEAST_SIDE, MOST_SIDE, units)
    return bed


def read_width(text: str, units: Units) -> float:
    """Return how wide a tool cuts, mm. Raises CannotRead for what is no length, and for widths that no tool has."""
    try:
        width = float(lengths.read(text, units))
    except lengths.LengthError as error:
        raise CannotRead(f"--cut-width: {error}") from error
    _within("cut-width", width, 0.0, MOST_WIDTH, units)
    return width


def _within(option: str, value: float, least: float, most: float, units: Units) -> None:
    if not least <= value <= most:
        said = [lengths.show(size, units) for size in (least, most, value, min(max(value, least), most))]
        raise CannotRead(
            f"--{option}: a length must be from {said[0]} to {said[1]}; {said[2]} is not; "
            f"the nearest that works is {said[3]}"
        )


def too_large(pieces: Iterable[CutPiece], bed: Bed) -> Iterator[Problem]:
    """Yield which pieces do not go on a bed as they lie, with their sizes, and what to do. Nothing is scaled."""
    over = [(piece.title, piece.bounds) for piece in pieces]
    over = [(title, box) for title, box in over if not bed.holds(box.width, box.height)]
    if turned := [one for one in over if bed.holds(one[1].height, one[1].width)]:
        said, numbers = _sizes(turned, bed)
        yield note("bed", f"{said}: what is longer than the bed fits when it is turned", "turn it by 90°", **numbers)
    if large := [one for one in over if one not in turned]:
        said, numbers = _sizes(large, bed)
        instead = "cut it on a larger machine, or by hand to its paper template; it is never made smaller"
        yield warn("bed", f"{said}: the machine will stop at the end of its way", instead, **numbers)


def _sizes(over: Sequence[tuple[str, Bounds]], bed: Bed) -> tuple[str, dict[str, object]]:
    """Return the sizes of pieces and of the bed as one clause, and the numbers of its fields."""
    said, numbers = [], dict[str, object](across=bed.across, up=bed.up)
    for i, (title, box) in enumerate(over):
        said.append(f"{{piece{i}}} is {{wide{i}:cut up}} × {{high{i}:cut up}}")
        numbers |= {f"piece{i}": f"“{title}”", f"wide{i}": box.width, f"high{i}": box.height}
    return f"the bed is {{across:cut down}} × {{up:cut down}}, and {', '.join(said)}", numbers
