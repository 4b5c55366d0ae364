"""How the work grows with fingers and with pages: figures near 1 say that it grows in step."""

from __future__ import annotations

import itertools

from jigs.record import replace
from jigs.trade.sled import sled_numbers
from layout.sheet.marks import Bundle
from layout.write import pdf
from tests.benchmarks.ratios import least, note
from tests.conftest import sled_sheets
from tests.test_box_sheets import drawn


def numbers(count: int) -> None:
    """Work out the numbers of a sled for a board of so many fingers, a hundred times."""
    for _ in range(100):
        made = sled_numbers(
            finger=10, cutter=10.02, clearance=0.1, slack=0.1, board=9.97 * count, thickness=12, proud=0.5, plate=18,
            margin=60, board_length=200,
        )  # fmt: skip
        assert abs(made.count - count) <= 1


def test_the_numbers_with_fingers() -> None:
    few, more, most = least(lambda: numbers(9), lambda: numbers(99), lambda: numbers(999), turns=7)
    note("numbers of a sled, 99 fingers", "9 fingers", more / few)
    note("numbers of a sled, 999 fingers", "9 fingers", most / few)


def test_the_sheets_with_fingers() -> None:
    """Up to 399 fingers of 3 mm, the narrowest on the widest board that a sled takes, on A0.

    No board is as wide as one before: what is kept of it would be found again.
    """
    wider = itertools.count(1)

    def sheets(count: int) -> Bundle:
        return sled_sheets("A0", board=3.0 * count - 0.001 * next(wider), finger=3.0, cutter=3.02)

    few, more, most = least(lambda: sheets(9), lambda: sheets(99), lambda: sheets(399), turns=3)
    note("sheets of a sled on A0, 99 fingers", "9 fingers", more / few)
    note("sheets of a sled on A0, 399 fingers", "9 fingers", most / few)


def test_the_pdf_with_pages() -> None:
    """The time a page, the fonts' share of the first page left in."""
    bundle = replace(drawn("recipe-box").bundle, carried=None)
    some, many, double = (replace(bundle, sheets=(bundle.sheets * 2)[:count]) for count in (1, 50, 100))
    one, fifty, hundred = least(lambda: pdf.write(some), lambda: pdf.write(many), lambda: pdf.write(double), turns=5)
    note("PDF, a page of 50", "the only page", fifty / 50 / one, "≤ 1")
    note("PDF, a page of 100", "a page of 50", hundred / 2 / fifty, "≈ 1")
