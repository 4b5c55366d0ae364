"""Amounts that are bought: wood, glue and finish, in the units of the job alone."""

from __future__ import annotations

from jigs.base.lengths import Units

MM_PER_INCH, GRAMS_PER_OUNCE = 25.4, 28.349523125
"""Exact by definition: the international inch and the avoirdupois ounce (NIST Handbook 44, Appendix C)."""
_BOARD_FOOT = 144 * MM_PER_INCH**3
"""A board of a square foot, an inch thick, mm³ (NIST Handbook 44, Appendix C)."""


def volume(cubic_mm: float, units: Units) -> str:
    """Return a volume of wood in litres, or in board feet."""
    return f"{cubic_mm / 1e6:.1f} litres" if units == "mm" else f"{cubic_mm / _BOARD_FOOT:.2f} board feet"


def weight(grams: float, units: Units) -> str:
    """Return a weight in grams, or in ounces."""
    return f"{grams:.1f} g" if units == "mm" else f"{grams / GRAMS_PER_OUNCE:.2f} oz"


def money(amount: float, currency: str) -> str:
    """Return an amount of money in a currency's own word, to a hundredth of it."""
    return f"{amount:.2f} {currency}".rstrip()


def area(square_mm: float, units: Units) -> str:
    """Return an area in square metres, or in square feet."""
    return f"{square_mm / 1e6:.2f} m²" if units == "mm" else f"{square_mm / (12 * MM_PER_INCH) ** 2:.1f} ft²"
