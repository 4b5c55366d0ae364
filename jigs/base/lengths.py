"""Reading and printing lengths: millimetres, decimal inches and shop fractions.

Inside jigleaf every length is in mm; this is where other units come in and go out. What is printed reads back
within `ROUNDING`. The arithmetic is exact (`Fraction`), so nothing drifts between a file, a sheet, a table.
"""

from __future__ import annotations

import math
import re
import unicodedata
from collections.abc import Callable
from fractions import Fraction
from typing import Literal, NoReturn

Units = Literal["mm", "in"]

MM_PER_INCH = Fraction(254, 10)
"""Millimetres in an inch, exact since the international yard and pound agreement of 1959."""

ROUNDING: dict[Units, Fraction] = {"mm": Fraction(1, 200), "in": MM_PER_INCH / 2000}
"""The most, in mm, a length is off by as it is typed: half of 0.01 mm, half of 0.001 in."""

HALF_STEP = 0.00005 * 25.4
"""Half of the fourth place of a length in inches, mm: so far what is read may lie from what is meant."""
_100TH, _THOUSANDTH, _64TH = Fraction(1, 100), Fraction(1, 1000), Fraction(1, 64)
_BINARY = (1, 8, 64)
_STEPS: dict[str, tuple[Fraction, Fraction]] = {
    "typed": (_100TH, _THOUSANDTH),
    "gauge": (_100TH, _THOUSANDTH),
    "cut": (Fraction(1, 10), _64TH),
    "rule": (Fraction(1, 2), _64TH),
    "rough": (Fraction(1), Fraction(1, 8)),
}
"""What a length is rounded to, in mm and in inches, by what it is for."""
_SAME = Fraction(1, 10**6)  # of a step: rounding of binary fractions, no length
_ROUNDED: dict[str, Callable[[Fraction], int]] = {
    "": round,
    "up": lambda steps: math.ceil(steps - _SAME),
    "down": lambda steps: math.floor(steps + _SAME),
}
_LONGEST = 40  # characters; a board of 10 m is printed in 33
_VULGAR = "¼½¾⅐⅑⅒⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞↉"
_PLAIN = str.maketrans(
    dict.fromkeys("−–‐‑", "-")  # minus, en dash, hyphens
    | dict.fromkeys("⁄∕", "/")
    | dict.fromkeys("″ʺ˝“”„‟", '"')
    | dict.fromkeys("′ʹ‘’", "'")
    | dict.fromkeys("\t\u00a0\u2007\u2009\u202f", " ")
)
_LENGTH = re.compile(
    rf"""(?P<sign>[+-]?)
    (?: (?P<decimal>[0-9]*[.,][0-9]+)
      | (?: (?:(?P<whole>[0-9]+)(?:[ -]|(?=[{_VULGAR}])))?
            (?:(?P<numerator>[0-9]+)/(?P<denominator>[0-9]+)|(?P<vulgar>[{_VULGAR}]))
          | (?P<integer>[0-9]+)
        )
    )
    (?:[ ]?(?P<unit>mm|inches|inch|in\.?|"))?""",
    re.VERBOSE | re.IGNORECASE | re.ASCII,
)
_OTHER_UNIT = re.compile(r"(.*[^ a-z]) ?(cm|m|ft|feet|foot|')", re.IGNORECASE | re.ASCII)
_FROM_OTHER: dict[str, tuple[int, Units]] = {
    "c": (10, "mm"),
    "m": (1000, "mm"),
    "f": (12, "in"),
    "'": (12, "in"),
}

# What gives a mistake away, what to say, and what to put in its place for a guess; the first that fits wins.
_MISTAKES: tuple[tuple[str, str, str | None], ...] = (
    (r"(?![0-9])[\d²³¹⁰-₉]", "has digits other than 0 to 9", None),
    (r"\b(nan|inf|infinity)\b", "is not a finite number", None),
    (r"[0-9.,]e[+-]?[0-9]", "is in exponent form", None),
    (rf"^[^0-9{_VULGAR}]*$", "has no number in it", None),
    (r" / ", "has blanks around the stroke", "/"),
    (r" /", "has a blank before the stroke", "/"),
    (r"/ ", "has a blank after the stroke", "/"),
    (r"^([+-]) ", "has a blank after the sign", r"\1"),
    (rf"[.,][0-9]+[ -]*([0-9]+/|[{_VULGAR}])", "mixes a decimal with a fraction", None),
    (r"(?<=[0-9])([.,])(?=[0-9]{3}(?!\1)[.,])", "has more than one decimal mark", ""),
    (r"[.,][0-9]*[.,]", "has more than one decimal mark", None),
    (r"(?<=[0-9]) (?=[0-9]{3}\b(?!/))", "has a blank inside the number", ""),
    (r"(?<=[0-9]) ?- ?(?=[0-9]+/)", "could be a mixed number or a subtraction", " "),
    (r"[0-9][^\W\d_](?=[0-9])", "has a letter inside the number", None),
    (rf"[0-9{_VULGAR}]([^0-9.,/]+[0-9]|[{_VULGAR}])|[{_VULGAR}][0-9]", "has several numbers", None),
)


class LengthError(ValueError):
    """What was typed can't be read as a length. The message quotes it, says why, and what works instead."""


def read(text: str, units: Units) -> Fraction:
    """Return the length that was typed, in exact mm; a number without a unit is in `units`.

    Reads decimals (point or comma), fractions, mixed numbers (`1-3/4`, `1 3/4 in`, `1¾"`), a sign, and what
    `show` and `bare` print. A point or comma is always the decimal mark; nothing marks thousands.
    Raises LengthError for anything else.
    """
    typed = text.strip()
    if len(typed) > _LONGEST:
        _refuse(typed, f"has {len(typed)} characters, where a length has at most {_LONGEST}")
    plain = re.sub(" +", " ", typed.translate(_PLAIN)).replace("''", '"')
    match = _LENGTH.fullmatch(plain)
    if match is None:
        _refuse(typed, *_diagnose(plain))
    number = _value(match, typed)
    unit = (match["unit"] or units).lower()
    return number if unit == "mm" else number * MM_PER_INCH


def round_up(mm: float, units: Units) -> float:
    """Return the next round size, in mm, that is no smaller: what a size that is free is made to.

    Millimetres go to 0.5 under 3, to 1 under 50, to 5 above; inches to 1/32, 1/16 and 1/8 at about the same sizes.
    """
    steps = (0.5, 1.0, 5.0) if units == "mm" else (25.4 / 32, 25.4 / 16, 25.4 / 8)
    step = steps[(mm > 3.0) + (mm > 50.0)]
    return math.ceil(mm / step - 1e-6) * step


def round_down(mm: float, units: Units) -> float:
    """Return the next round size, in mm, that is no larger; 0 where there is none."""
    finer = (0.5, 1.0) if units == "mm" else (25.4 / 32, 25.4 / 16)
    step = finer[mm > 3.0]
    return math.floor(mm / step + 1e-6) * step


def within(mm: float, least: float, most: float) -> bool:
    """Tell whether a length is within limits, or is one of them as it is read out in inches; 0 is read out exactly."""
    return least - min(HALF_STEP, abs(least)) <= mm <= most + min(HALF_STEP, abs(most))


def in_other_units(mm: float, least: float, most: float, units: Units) -> str:
    """Return how a length is typed that is out of limits as it was read, and within them in the other unit; or "".

    Of a number without a unit it is not known what was meant: 0.25 for a finger is a quarter of an inch.
    """
    number, other, mm_meant = (mm, "in", mm * 25.4) if units == "mm" else (mm / 25.4, "mm", mm / 25.4)
    meant = not within(mm, least, most) and mm > 0 and within(mm_meant, least, most)
    return f"{number:.6g} {other}" if meant else ""


def show(mm: float | Fraction, units: Units, purpose: str = "typed") -> str:
    """Return a length in mm as words, as finely as its purpose asks: `9.95 mm`, `9 15/64 in`, `0.496 in`.

    Raises ValueError unless `mm` is finite, and for a purpose that there is not.
    """
    return f"{bare(mm, units, purpose)} {units}"


def bare(mm: float | Fraction, units: Units, purpose: str = "typed") -> str:
    """Return the number of `show` without its unit, for where that is stated once.

    `purpose` is what the number is for, and may say to which side it is rounded (`cut up`, `rough down`): a need up, a
    leftover down.

        typed   as it was or can be typed: 0.01 mm; an inch fraction where it is one, else thousandths; a reading of
                four places keeps the fourth
        gauge   set by a gauge or read with callipers: 0.01 mm with both places, thousandths of an inch
        cut     sawn or planed to: 0.1 mm, the nearest 64th
        rule    read by a steel rule: 0.5 mm, the nearest 64th
        rough   about so long: 1 mm, the nearest eighth

    Inches under 0.01 have a fourth place where they need it. Raises ValueError as `show` does.
    """
    kind, _, toward = purpose.partition(" ")
    if kind not in _STEPS or toward not in _ROUNDED:
        raise ValueError(f"there is no purpose '{purpose}' of a length")
    length, step = _in_units(mm, units), _STEPS[kind][units == "in"]
    if units == "in" and kind == "typed":
        step = _as_typed(length)
    if units == "in" and step == _THOUSANDTH and abs(length) < _100TH:
        step = _THOUSANDTH / (10 if kind == "typed" else 2)  # feeler gauges are sold by the half thousandth
    rounded = _ROUNDED[toward](length / step) * step
    if units == "in" and step.denominator in _BINARY:
        return nearest_fraction(rounded)[0]
    places = 3 + bool(rounded * 1000 % 1) if units == "in" else 2
    fixed = _fixed(rounded, places)
    return fixed if kind == "gauge" or units == "in" else fixed.rstrip("0").rstrip(".")


def _as_typed(inches: Fraction) -> Fraction:
    """Return the step of inches that were typed or could be: a 64th, a reading to the fourth place, or a thousandth."""
    if not round(nearest_fraction(inches)[1] * 10000):
        return _64TH
    steps = inches * 10000
    return _THOUSANDTH / 10 if abs(steps - round(steps)) < _SAME else _THOUSANDTH


def set_to(mm: float | Fraction, units: Units, within: float) -> str:
    """Return a length as finely as it must be held, `within` in mm: the number alone, as a settings table has it.

    Millimetres: two places where it is held within less than 0.1, one within less than 1, none above. Inches:
    thousandths where it is held within less than 0.25 mm, a 64th being 0.4, else the nearest 64th.
    """
    if units == "in":
        return bare(mm, units, "gauge" if within < 0.25 else "cut")
    if 0.1 - 1e-9 <= within < 1 - 1e-9:
        return _fixed(_in_units(mm, units), 1)  # with its zero, as all in its column
    return bare(mm, units, "gauge" if within < 0.1 else "rough")


def nearest_fraction(inches: Fraction, denominator: int = 64) -> tuple[str, Fraction]:
    """Return the nearest fraction as text and the exact remainder (`inches` less that fraction).

    The text is in lowest terms: `9 15/64`, `−1/2`, `5`, `0`. Halfway cases go to the even numerator. Raises
    ValueError for a denominator below 1.
    """
    if denominator < 1:
        raise ValueError(f"denominator is {denominator}; it must be at least 1")
    nearest = Fraction(round(inches * denominator), denominator)
    whole, part = divmod(abs(nearest), 1)
    text = " ".join(str(piece) for piece in (whole, part) if piece) or "0"
    return ("−" if nearest < 0 else "") + text, inches - nearest


def _in_units(mm: float | Fraction, units: Units) -> Fraction:
    if isinstance(mm, float) and not math.isfinite(mm):
        raise ValueError(f"mm is {mm}; only a finite length can be written")
    return Fraction(mm) if units == "mm" else Fraction(mm) / MM_PER_INCH


def _fixed(number: Fraction, places: int) -> str:
    """Return the number rounded half to even with all its places and a typographic minus, never `−0`."""
    steps = round(number * 10**places)
    digits = str(abs(steps)).rjust(places + 1, "0")
    return f"{'−' if steps < 0 else ''}{digits[:-places]}.{digits[-places:]}"


def _value(match: re.Match[str], typed: str) -> Fraction:
    """Return the number that was matched, in the unit it was typed in."""
    fraction = unicodedata.normalize("NFKC", match["vulgar"] or "0").replace("⁄", "/")
    if match["denominator"]:
        if not int(match["denominator"]):
            _refuse(typed, "has a zero below the stroke")
        fraction = f"{match['numerator']}/{match['denominator']}"
    part = Fraction(fraction)
    if match["whole"] and part >= 1:
        carried, _ = nearest_fraction(int(match["whole"]) + part, part.denominator)
        unit = f" {match['unit']}" if match["unit"] else ""
        _refuse(typed, "has a fraction of 1 or more beside a whole number", match["sign"] + carried + unit)
    size = part + Fraction((match["decimal"] or match["whole"] or match["integer"] or "0").replace(",", "."))
    return -size if match["sign"] == "-" else size


def _refuse(typed: str, reason: str, instead: str = "") -> NoReturn:
    quoted = repr(typed) if len(typed) <= _LONGEST else repr(typed[:_LONGEST]) + "…"
    # A guess is offered only if it would be read; otherwise the message would send people in circles.
    if not (instead and _reads(instead)):
        instead = "a length such as 9.5 mm, 3/8 in or 1 3/4 in"
    raise LengthError(f"{quoted} {reason}; write {instead}")


def _reads(text: str) -> bool:
    try:
        read(text, "mm")
    except LengthError:
        return False
    return True


def _diagnose(plain: str) -> tuple[str, str]:
    """Return why the text is not a length, and what was probably meant (empty if there is no guess)."""
    if not plain:
        return "is empty", ""
    if other := _OTHER_UNIT.fullmatch(plain):
        factor, units = _FROM_OTHER[other[2][0].lower()]
        size = _LENGTH.fullmatch(other[1])
        scale = factor if units == "mm" else factor * MM_PER_INCH
        guess = show(_value(size, plain) * scale, units) if size and not size["unit"] else ""
        unit_name = "feet" if units == "in" else other[2]
        return f"is in {unit_name}, not in mm or inches", guess
    for pattern, reason, replacement in _MISTAKES:
        if re.search(pattern, plain, re.IGNORECASE):
            return reason, "" if replacement is None else re.sub(pattern, replacement, plain)
    return "is not a length", ""
