"""Lengths as a file or a code holds them: what is written reads back as exactly the same number of mm."""

from __future__ import annotations

from collections.abc import Iterator
from decimal import Decimal
from fractions import Fraction

from jigs.base import lengths
from jigs.base.lengths import MM_PER_INCH, Units

_FINEST = 128  # parts of an inch
_PLACES = 13
_LONGEST = 40  # characters that `lengths.read` takes


def shortest(mm: float, units: Units) -> str:
    """Return the shortest way to write a length that reads back as exactly this number of mm."""
    tries = [*_decimals(mm, units), *([fraction(mm)] if units == "in" else [])]
    exact = [text for text in tries if text and float(lengths.read(text, units)) == mm]
    return min(exact, key=len) if exact else in_mm(mm)


def for_file(mm: float, units: Units) -> float | int | str:
    """Return a length as a shop writes it in TOML: a number in the units of the file, or "3/8", or "10 mm" in inches.

    It reads back as exactly this number of mm, if it is more than a billionth of one.
    """
    if units == "mm":
        return _number(mm)
    inches = fraction(mm)
    if inches and float(lengths.read(inches, "in")) == mm:
        return inches if "/" in inches else int(inches)
    for text in _decimals(mm, "in"):
        number = float(text)
        if float(Fraction(str(number)) * MM_PER_INCH) == mm:
            return number
    full = in_mm(mm)
    return full if len(full) <= _LONGEST else mm / float(MM_PER_INCH)


def in_mm(mm: float) -> str:
    """Return a length in full, with its unit."""
    return f"{Decimal(repr(_number(mm))):f} mm"


def fraction(mm: float) -> str:
    """Return the nearest fraction of an inch as it is typed, to a 128th: `3/8`, `1-3/4`, `5`."""
    nearest = Fraction(round(Fraction(mm) / MM_PER_INCH * _FINEST), _FINEST)
    whole, part = divmod(abs(nearest), 1)
    sign = "-" if nearest < 0 else ""
    return sign + ("-".join(str(piece) for piece in (whole, part) if piece) or "0")


def _decimals(mm: float, units: Units) -> Iterator[str]:
    """Yield a length as a decimal, with ever more places."""
    size = Fraction(mm) / (1 if units == "mm" else MM_PER_INCH)
    yield from (f"{float(size):.{places}f}" for places in range(_PLACES))


def _number(number: float) -> float | int:
    return int(number) if float(number).is_integer() else number
