"""The steps in which a shop chooses its sizes, in mm and in inches, and the sizes in which tools are sold.

A length that goes from one unit to the other takes the nearest of them. Lengths in mm.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from jigs.base.lengths import MM_PER_INCH, Units
from jigs.record import Record

_SAME = Fraction(1, 10**9)  # mm: rounding of binary fractions, no length
_ENDLESS = float("inf")

Grade = tuple[float, Fraction]
"""From a size on, mm, the step of that size, in the units it is of."""


class Steps(Record):
    """Steps that grow with the size: finer ones for what is smaller. The grades are from small to large."""

    grades: Mapping[Units, Sequence[Grade]]

    def step(self, mm: float, units: Units) -> float:
        """Return the step of a size: no size moves by more than half of it."""
        return float(self._step(mm, units))

    def nearest(self, mm: float, units: Units, least: float = -_ENDLESS, most: float = _ENDLESS) -> float:
        """Return the nearest size within limits, or the size itself where there is none; only 0 becomes 0."""
        step, size = self._step(mm, units), Fraction(mm)
        first = int(size // step)
        sizes = [number * step for number in range(first - 1, first + 3) if number or not mm]
        return _nearest(size, sizes, least, most)

    def _step(self, mm: float, units: Units) -> Fraction:
        scale = Fraction(1) if units == "mm" else MM_PER_INCH
        fit = [step for start, step in self.grades[units] if abs(mm) >= start]
        return (fit or [self.grades[units][0][1]])[-1] * scale


class Sold(Record):
    """Sizes in which a tool is sold, each as it is named: in mm, and in inches."""

    sizes: Mapping[Units, Sequence[float]]

    def step(self, mm: float, units: Units) -> float:
        """Return how far the two sizes lie apart that this one is between; twice the way to the end beyond the ends."""
        sizes = [float(size) for size in self._sizes(units)]
        under = max((size for size in sizes if size <= mm), default=None)
        over = min((size for size in sizes if size >= mm), default=None)
        if under is None or over is None:
            return 2 * abs(mm - (sizes[-1] if over is None else sizes[0]))
        return over - under

    def nearest(self, mm: float, units: Units, least: float = -_ENDLESS, most: float = _ENDLESS) -> float:
        """Return the nearest size within limits; the size itself where there is none."""
        return _nearest(Fraction(mm), self._sizes(units), least, most)

    def _sizes(self, units: Units) -> list[Fraction]:
        scale = Fraction(1) if units == "mm" else MM_PER_INCH
        return [Fraction(str(size)) * scale for size in self.sizes[units]]


Ladder = Steps | Sold


def _nearest(size: Fraction, sizes: Sequence[Fraction], least: float, most: float) -> float:
    """Return the nearest of some sizes; of two that are as near, the smaller."""
    within = [one for one in sizes if least - _SAME <= one <= most + _SAME]
    if not within:
        return float(size)
    return float(min(within, key=lambda one: (abs(one - size), one)))


def _graded(mm: Sequence[tuple[float, str]], inches: Sequence[tuple[float, str]]) -> Steps:
    return Steps({"mm": [(s, Fraction(step)) for s, step in mm], "in": [(s, Fraction(step)) for s, step in inches]})


GAUGE = _graded([(0, "0.01")], [(0, "0.001")])
"""What a gauge or callipers read: clearances and plays."""
FINE = _graded([(0, "0.01"), (0.3, "0.1")], [(0, "0.001"), (0.3, "1/64")])
"""What is set with care: the end of a groove, fingers left long, the leaf of a hinge."""
ORDINARY = _graded(
    [(0, "0.01"), (0.3, "0.1"), (3, "1")],
    [(0, "0.001"), (0.3, "1/64"), (3, "1/16"), (50, "1/8")],
)
"""What a rule measures (common practice, no source)."""
THICKNESS = _graded(
    [(0, "0.01"), (0.3, "0.1"), (3, "1")],
    [(0, "0.001"), (0.3, "1/64"), (1.5, "1/32"), (5.9, "1/8")],
)
"""What boards are planed to (common practice, no source)."""


_BITS_IN = (0.0625, 0.09375, 0.125, 0.1875, 0.25, 0.3125, 0.375, 0.5, 0.625, 0.75, 0.875, 1)
_BITS_MM = (1, 1.5, 2, 3, 4, 5, 6, 8, 10, 12, 14, 16, 18, 20, 22, 25)
_WIDE_IN, _WIDE_MM = (1.25, 1.5, 1.75, 2, 2.25), (30, 35, 40, 45, 50, 55, 60)
CUTTERS = Sold({"mm": _BITS_MM + _WIDE_MM, "in": _BITS_IN + _WIDE_IN})
"""Straight bits, and the widths of fingers and dadoes (values from memory)."""
_KERFS_MM, _KERFS_IN = (1.6, 2, 2.2, 2.6, 2.8, 3.2, 4, 5), (0.0625, 0.09375, 0.109375, 0.125, 0.15625, 0.1875)
SAWS = Sold(
    {
        "mm": _KERFS_MM + tuple(size for size in _BITS_MM + _WIDE_MM if size > _KERFS_MM[-1]),
        "in": _KERFS_IN + tuple(size for size in _BITS_IN + _WIDE_IN if size > _KERFS_IN[-1]),
    }
)
"""Kerfs of saw blades, and the dadoes of stacked ones (values from memory)."""
BLADES = Sold({"mm": (160, 190, 210, 216, 250, 300, 315, 350, 400), "in": (6.5, 7.25, 8.25, 8.5, 10, 12, 14, 16)})
"""Diameters of saw blades (values from memory)."""
_HOLES_MM = (*range(5, 17), 19, 20, 22, 25, 28, 30, 32, 35, 38, 40, 44, 48, 51, 54, 57, 60, 64, 68, 70, 73, 76, 83, 89)
_HOLES_IN = tuple(eighths / 8 for eighths in range(2, 29))
HOLE_SAWS = Sold(
    {
        "mm": (*_HOLES_MM, 95, 102, 108, 114, 121, 127, 140, 152, 160, 168, 177, 200),
        "in": (*_HOLES_IN, 3.75, 4, 4.25, 4.5, 4.75, 5, 5.5, 6, 6.25, 6.625, 7, 7.75),
    }
)
"""Forstner bits and hole saws (values from memory)."""
SCREWS = Sold(
    {"mm": (2, 2.5, 3, 3.5, 4, 4.5, 5, 6, 8, 10), "in": (0.086, 0.099, 0.112, 0.138, 0.164, 0.19, 0.216, 0.25)}
)
"""Shanks of wood screws; in inches No. 2, 3, 4, 6, 8, 10, 12 and 1/4 (values from memory)."""
