"""Lengths are read exactly, printed to a stated rounding, and what is printed reads back."""

from __future__ import annotations

import re
import string
import sys
import unicodedata
from fractions import Fraction

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from jigs.base.lengths import (
    MM_PER_INCH,
    ROUNDING,
    LengthError,
    Units,
    bare,
    nearest_fraction,
    read,
    round_down,
    round_up,
    show,
)
from tests.outside import Check

STANDARDS = Check(
    "Lengths, paper, letters",
    "ISO 216, ISO 5456-3, ANSI/ASME Y14.1, Unicode, inch of 1959; ISO 5457, ISO/IEC 7810 at second hand",
    "standard",
)
BY_HAND = Check("Lengths, paper, letters", "worked by hand from 25.4 mm to the inch", "worked example")

INCH = Fraction("25.4")  # mm, international yard and pound agreement, 1959
BOTH: tuple[Units, Units] = ("mm", "in")

ANY_UNITS = st.sampled_from(BOTH)
LENGTHS_MM = st.one_of(
    st.floats(-10_000, 10_000),
    st.floats(-0.1, 0.1),
    st.fractions(-10_000, 10_000, max_denominator=10**6),
    st.integers(-640, 640).map(lambda parts: parts * INCH / 64),
)


@STANDARDS.of()
def test_the_inch_is_that_of_the_1959_agreement() -> None:
    assert MM_PER_INCH == INCH
    assert read("1 in", "mm") == INCH


# Each spelling with its value in the unit it names, or in the units asked for where it names none.
BARE_SPELLINGS = {
    "9.5": "9.5",
    "9,5": "9.5",
    ".375": "0.375",
    ",5": "0.5",
    "240": "240",
    "0": "0",
    "-0": "0",
    " 9.5 ": "9.5",
    "3/8": "3/8",
    "3⁄8": "3/8",
    "1-3/4": "7/4",
    "1–3/4": "7/4",
    "1 3/4": "7/4",
    "1\u00a03/4": "7/4",
    "1  3/4": "7/4",
    "9-17/32": "305/32",
    "9 17/32": "305/32",
    "9/8": "9/8",
    "1¾": "7/4",
    "1 ¾": "7/4",
    "1-¾": "7/4",
    "¾": "3/4",
    "+3": "3",
    "-3": "-3",
    "−3": "-3",
    "-1-3/4": "-7/4",
    "−1¾": "-7/4",
}


@BY_HAND.of()
@pytest.mark.parametrize("units", BOTH)
@pytest.mark.parametrize(("text", "value"), BARE_SPELLINGS.items())
def test_a_bare_number_is_in_the_units_asked_for(text: str, value: str, units: Units) -> None:
    assert read(text, units) == Fraction(value) * (INCH if units == "in" else 1)


@pytest.mark.parametrize("units", BOTH)
@pytest.mark.parametrize(
    "unit", ["mm", " mm", " MM", '"', ' "', "in", " in", " in.", " inch", " inches", "″", "”", "''", "′′"]
)
@pytest.mark.parametrize("number", ["9.5", "3/8", "1-3/4", "1¾", "-.375"])
def test_a_unit_that_was_typed_wins(number: str, unit: str, units: Units) -> None:
    named: Units = "mm" if "mm" in unit.lower() else "in"
    assert read(number + unit, units) == read(number, named)


VULGAR = [chr(code) for code in range(sys.maxunicode) if re.match("VULGAR FRACTION", unicodedata.name(chr(code), ""))]


@STANDARDS.of()
@pytest.mark.parametrize("sign", VULGAR)
def test_vulgar_fractions_have_the_value_unicode_gives_them(sign: str) -> None:
    # Outside source: the Numeric_Value property of the Unicode Character Database, a float here.
    value = Fraction(unicodedata.numeric(sign)).limit_denominator(10)
    assert read(sign, "mm") == value
    assert read(f"2{sign}", "in") == (2 + value) * INCH


AN_EXAMPLE = "a length such as 9.5 mm, 3/8 in or 1 3/4 in"
REFUSED = {
    "": f"'' is empty; write {AN_EXAMPLE}",
    "  ": f"'' is empty; write {AN_EXAMPLE}",
    "wide": f"'wide' has no number in it; write {AN_EXAMPLE}",
    "mm": f"'mm' has no number in it; write {AN_EXAMPLE}",
    "NaN": f"'NaN' is not a finite number; write {AN_EXAMPLE}",
    "-inf": f"'-inf' is not a finite number; write {AN_EXAMPLE}",
    "1e9": f"'1e9' is in exponent form; write {AN_EXAMPLE}",
    "1.5E-3 mm": f"'1.5E-3 mm' is in exponent form; write {AN_EXAMPLE}",
    "3/0": f"'3/0' has a zero below the stroke; write {AN_EXAMPLE}",
    "3 /8": "'3 /8' has a blank before the stroke; write 3/8",
    "3/ 8 in": "'3/ 8 in' has a blank after the stroke; write 3/8 in",
    "1 3 / 8": "'1 3 / 8' has blanks around the stroke; write 1 3/8",
    "- 3/8": "'- 3/8' has a blank after the sign; write -3/8",
    "1 - 3/4": "'1 - 3/4' could be a mixed number or a subtraction; write 1 3/4",
    "1 000": "'1 000' has a blank inside the number; write 1000",
    "1 000,5 mm": "'1 000,5 mm' has a blank inside the number; write 1000,5 mm",
    "1.234,5": "'1.234,5' has more than one decimal mark; write 1234,5",
    "1,234.5": "'1,234.5' has more than one decimal mark; write 1234.5",
    "1.2.3": f"'1.2.3' has more than one decimal mark; write {AN_EXAMPLE}",
    "1 9/8": "'1 9/8' has a fraction of 1 or more beside a whole number; write 2 1/8",
    "-1 8/8 in": "'-1 8/8 in' has a fraction of 1 or more beside a whole number; write -2 in",
    "1.5 3/4": f"'1.5 3/4' mixes a decimal with a fraction; write {AN_EXAMPLE}",
    "1.5¾": f"'1.5¾' mixes a decimal with a fraction; write {AN_EXAMPLE}",
    "3 4": f"'3 4' has several numbers; write {AN_EXAMPLE}",
    "3 mm 4 mm": f"'3 mm 4 mm' has several numbers; write {AN_EXAMPLE}",
    "¾5": f"'¾5' has several numbers; write {AN_EXAMPLE}",
    "½½": f"'½½' has several numbers; write {AN_EXAMPLE}",
    "1\n3/4": f"'1\\n3/4' has several numbers; write {AN_EXAMPLE}",
    "٣": f"'٣' has digits other than 0 to 9; write {AN_EXAMPLE}",
    "９.5": f"'９.5' has digits other than 0 to 9; write {AN_EXAMPLE}",
    "1²": f"'1²' has digits other than 0 to 9; write {AN_EXAMPLE}",
    "9.5 cm": "'9.5 cm' is in cm, not in mm or inches; write 95 mm",
    "1,2m": "'1,2m' is in m, not in mm or inches; write 1200 mm",
    "9" * 38 + " m": f"'{'9' * 38} m' is in m, not in mm or inches; write {AN_EXAMPLE}",
    "3 /0": f"'3 /0' has a blank before the stroke; write {AN_EXAMPLE}",
    "1½ ft": "'1½ ft' is in feet, not in mm or inches; write 18 in",
    "5'": '"5\'" is in feet, not in mm or inches; write 60 in',
    "5 ın": f"'5 ın' is not a length; write {AN_EXAMPLE}",  # a dotless i is not an i
    "9.": f"'9.' is not a length; write {AN_EXAMPLE}",
    "1/2/3": f"'1/2/3' is not a length; write {AN_EXAMPLE}",
    "1/2 - .0039": f"'1/2 - .0039' is not a length; write {AN_EXAMPLE}",
    "0.5 in (1/2)": f"'0.5 in (1/2)' has several numbers; write {AN_EXAMPLE}",
    "9" * 41: f"'{'9' * 40}'… has 41 characters, where a length has at most 40; write {AN_EXAMPLE}",
}


@pytest.mark.parametrize("units", BOTH)
@pytest.mark.parametrize(("text", "message"), REFUSED.items(), ids=ascii)
def test_what_is_not_a_length_is_refused_with_what_works(text: str, message: str, units: Units) -> None:
    with pytest.raises(LengthError) as refusal:
        read(text, units)
    assert str(refusal.value) == message
    instead = message.rpartition("; write ")[2]
    if instead != AN_EXAMPLE:
        read(instead, units)


def test_the_lengths_in_the_example_are_read() -> None:
    for text in AN_EXAMPLE.removeprefix("a length such as ").replace(" or ", ", ").split(", "):
        read(text, "mm")


@given(st.text(st.sampled_from(string.digits + " .,/+-−()'\"¾½einmcft٣²"), max_size=45) | st.text(), ANY_UNITS)
def test_any_text_is_a_length_or_a_length_error(text: str, units: Units) -> None:
    try:
        read(text, units)
    except LengthError as refusal:
        instead = str(refusal).rpartition("; write ")[2]
        assert instead == AN_EXAMPLE or isinstance(read(instead, units), Fraction)


def test_very_long_texts_are_refused_before_they_are_parsed() -> None:
    # Before: a million digits are past what `int` converts, so parsing them would raise another ValueError.
    for text in ("9" * 10**6, "1 " * 10**6, "1/" * 10**6, "9." * 10**6, "(" * 10**6):
        with pytest.raises(LengthError, match="at most 40"):
            read(text, "mm")


# What a length is rounded to by what it is for, in mm and in inches (common practice, no source).
STEPS = {
    "typed": ("0.01", "0.001"),
    "gauge": ("0.01", "0.001"),
    "cut": ("0.1", "1/64"),
    "rule": ("0.5", "1/64"),
    "rough": ("1", "1/8"),
}
ANY_PURPOSE = st.sampled_from(sorted(STEPS))


@given(LENGTHS_MM, ANY_UNITS, ANY_PURPOSE)
@example(10_000.0, "in", "typed")
@example(-10_000.0, "in", "gauge")
@example(-0.001, "mm", "typed")
@example(INCH / 2000, "in", "gauge")
@example(INCH * (Fraction(1, 128) + 3), "in", "cut")
def test_what_is_printed_reads_back_within_its_rounding(mm: float | Fraction, units: Units, purpose: str) -> None:
    step = Fraction(STEPS[purpose][units == "in"]) * (INCH if units == "in" else 1)
    assert ROUNDING[units] == Fraction(STEPS["typed"][units == "in"]) * (INCH if units == "in" else 1) / 2
    other: Units = "in" if units == "mm" else "mm"
    printed = read(show(mm, units, purpose), other)  # the unit is said
    assert printed == read(bare(mm, units, purpose), units)
    assert abs(printed - Fraction(mm)) <= step / 2
    above, below = (read(bare(mm, units, f"{purpose} {way}"), units) for way in ("up", "down"))
    close = step / 10**6
    assert below - close <= Fraction(mm) <= above + close
    assert above - below <= step


@given(LENGTHS_MM, ANY_UNITS, ANY_PURPOSE)
def test_zero_has_no_sign(mm: float | Fraction, units: Units, purpose: str) -> None:
    for text in (show(mm, units, purpose), bare(mm, units, purpose)):
        assert not re.match(r"[-−]0?\.?0*($| )", text), text
        assert "-" not in text  # a hyphen is not a minus


# Millimetres, what they are for, and what is printed; worked by hand from 25.4 mm to the inch.
PRINTED: list[tuple[str, Units, str, str]] = [
    ("9.95", "mm", "typed", "9.95 mm"),
    ("9.9", "mm", "typed", "9.9 mm"),
    ("9.9", "mm", "gauge", "9.90 mm"),
    ("240", "mm", "typed", "240 mm"),
    ("240", "mm", "gauge", "240.00 mm"),
    ("-9.9", "mm", "typed", "−9.9 mm"),
    ("-0.004", "mm", "typed", "0 mm"),
    ("-0.004", "mm", "gauge", "0.00 mm"),
    ("9.996", "mm", "typed", "10 mm"),
    ("9.94", "mm", "cut", "9.9 mm"),
    ("9.94", "mm", "cut up", "10 mm"),
    ("9.96", "mm", "cut down", "9.9 mm"),
    ("9.7", "mm", "rule", "9.5 mm"),
    ("1225.6", "mm", "rough up", "1226 mm"),
    ("754.8", "mm", "rough down", "754 mm"),
    ("12.6", "in", "typed", "0.496 in"),
    ("-12.6", "in", "typed", "−0.496 in"),
    ("12.6", "in", "cut", "1/2 in"),
    ("12.6", "in", "cut down", "31/64 in"),
    ("234.553125", "in", "typed", "9 15/64 in"),
    ("234.553125", "in", "gauge", "9.234 in"),
    ("-12.7", "in", "typed", "−1/2 in"),
    ("126.9746", "in", "typed", "4.999 in"),
    ("126.9746", "in", "cut", "5 in"),
    ("0.1016", "in", "typed", "0.004 in"),
    ("0.03048", "in", "typed", "0.0012 in"),
    ("0.0635", "in", "gauge", "0.0025 in"),
    ("-0.0127", "in", "gauge", "−0.0005 in"),
    ("0", "in", "gauge", "0.000 in"),
    ("25.4", "in", "gauge", "1.000 in"),
    ("100", "in", "rough up", "4 in"),
    ("-0.001", "in", "typed", "0 in"),
]


@BY_HAND.of()
@pytest.mark.parametrize(("mm", "units", "purpose", "shown"), PRINTED)
def test_printed_forms(mm: str, units: Units, purpose: str, shown: str) -> None:
    assert show(Fraction(mm), units, purpose) == shown
    assert show(float(mm), units, purpose) == shown
    assert f"{bare(Fraction(mm), units, purpose)} {units}" == shown


@pytest.mark.parametrize("purpose", ["", "fine", "cut sideways", "cut  up"])
def test_a_purpose_that_there_is_not_is_refused(purpose: str) -> None:
    with pytest.raises(ValueError, match=f"there is no purpose '{purpose}' of a length"):
        show(1.0, "mm", purpose)


@BY_HAND.of()
@pytest.mark.parametrize(
    ("inches", "denominator", "text", "remainder"),
    [
        ("4.999", 64, "5", "-0.001"),
        ("-4.999", 64, "−5", "0.001"),
        ("4.9921", 64, "4 63/64", "0.007725"),
        ("0.999", 64, "1", "-0.001"),
        ("0.5", 64, "1/2", "0"),
        ("5", 64, "5", "0"),
        ("0.001", 64, "0", "0.001"),
        ("-0.001", 64, "0", "-0.001"),
        ("9.234375", 64, "9 15/64", "0"),
        ("9.234375", 16, "9 1/4", "-0.015625"),
        ("0.6", 1, "1", "-0.4"),
    ],
)
def test_the_nearest_fraction_carries(inches: str, denominator: int, text: str, remainder: str) -> None:
    assert nearest_fraction(Fraction(inches), denominator) == (text, Fraction(remainder))


@given(st.fractions(-400, 400, max_denominator=10**6), st.sampled_from([1, 2, 4, 8, 16, 32, 64, 128]))
def test_the_nearest_fraction_is_nearest_proper_and_in_lowest_terms(inches: Fraction, denominator: int) -> None:
    text, remainder = nearest_fraction(inches, denominator)
    assert abs(remainder) <= Fraction(1, 2 * denominator)
    assert read(text, "mm") + remainder == inches
    parts = re.fullmatch(r"−?(?:([1-9][0-9]*) )?([1-9][0-9]*)/([0-9]+)|−?[1-9][0-9]*|0", text)
    assert parts, text
    if parts[3]:
        assert int(parts[2]) < int(parts[3])
        assert Fraction(int(parts[2]), int(parts[3])).denominator == int(parts[3])


def test_what_cannot_be_written_is_refused() -> None:
    for mm in (float("nan"), float("inf"), float("-inf")):
        for units in BOTH:
            with pytest.raises(ValueError, match=f"mm is {mm}; only a finite length"):
                show(mm, units)
    with pytest.raises(ValueError, match="denominator is 0; it must be at least 1"):
        nearest_fraction(Fraction(1), 0)


@pytest.mark.parametrize(
    ("mm", "units", "up", "down"),
    [
        (9.92, "mm", 10.0, 9.0),
        (10.0, "mm", 10.0, 10.0),
        (0.6, "mm", 1.0, 0.5),
        (0.3, "mm", 0.5, 0.0),
        (228.95, "mm", 230.0, 228.0),
        (0.2456 * 25.4, "in", 25.4 / 4, 25.4 * 3 / 16),
        (0.25 * 25.4, "in", 25.4 / 4, 25.4 / 4),
        (2.76 * 25.4, "in", 2.875 * 25.4, 2.75 * 25.4),
    ],
)
def test_free_sizes_are_round_in_the_units_of_the_reader(mm: float, units: Units, up: float, down: float) -> None:
    """Steps of 0.5, 1 and 5 mm, and of 1/32, 1/16 and 1/8 in: common practice, no source."""
    assert round_up(mm, units) == pytest.approx(up)
    assert round_down(mm, units) == pytest.approx(down)
