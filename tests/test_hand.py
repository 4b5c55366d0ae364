"""Large print and thin ink: larger where it is read, never a solid area, and nothing but black in any file."""

from __future__ import annotations

import io
import math
import re
from typing import Any

import numpy as np
import pdfplumber
import pypdfium2
import pytest
from lxml import etree

from jigs.base.catalogue import find
from jigs.base.lengths import Units
from jigs.record import replace
from layout.sheet.hand import LARGE, SPARSE, Hand
from layout.sheet.marks import Bundle
from layout.write import pdf, svg
from tests.conftest import INCHES, METRIC, all_pages, pages_of
from tests.legibility import faults

pytestmark = pytest.mark.slow

LARGE_PRINT, THIN_INK, BOTH = Hand(large=True), Hand(thin=True), Hand(large=True, thin=True)


def sheets(hand: Hand, page: str = "A4", units: Units = "mm") -> Bundle:
    plan = find("sled").plan(METRIC if units == "mm" else INCHES, units)
    return all_pages(pages_of(plan, "sled", page, units, hand))


@pytest.fixture(scope="module")
def ordinary() -> Bundle:
    return sheets(Hand())


_MARK = re.compile("mark [0-9a-f]{4}")
"""A page's own mark: other ink is another page."""


@pytest.fixture(scope="module")
def large() -> Bundle:
    return sheets(LARGE_PRINT)


@pytest.fixture(scope="module")
def thin() -> Bundle:
    return sheets(THIN_INK)


def test_large_print_is_legible(large: Bundle) -> None:
    assert [fault for sheet in large.sheets for fault in faults(sheet)] == []


def test_everything_at_once_is_legible_in_inches() -> None:
    assert [fault for sheet in sheets(BOTH, "Letter", "in").sheets for fault in faults(sheet)] == []


def test_what_is_read_at_the_bench_is_large(large: Bundle, ordinary: Bundle) -> None:
    """A card is enlarged as a whole, by the step from A4 to A3, so that steps have capitals of 5 mm (ISO 3098)."""
    heights = [
        sorted({round(t.height, 2) for s in made.sheets if "-card-" in s.name for g in s.groups() for t in g.texts})
        for made in (large, ordinary)
    ]
    assert max(heights[0]) > 1.2 * max(heights[1])
    assert min(heights[0]) == pytest.approx(min(heights[1]) * math.sqrt(2), abs=0.02)
    assert any(height >= LARGE - 0.06 for height in heights[0])
    assert len(large.sheets) > len(ordinary.sheets)


def test_large_print_on_a3_is_the_same_pages_larger(ordinary: Bundle) -> None:
    on_a3 = sheets(LARGE_PRINT, "A3")
    cards = [sheet for sheet in on_a3.sheets if "-card-" in sheet.name]
    assert [sheet.name for sheet in cards] == [sheet.name for sheet in ordinary.sheets if "-card-" in sheet.name]
    assert {sheet.paper.name for sheet in cards} == {"A3"}


def test_nothing_is_lost_in_large_print(large: Bundle, ordinary: Bundle) -> None:
    words = [
        {
            word
            for s in made.sheets
            if "-card-" in s.name
            for g in s.groups()
            for t in g.texts
            for word in t.words.split()
        }
        for made in (large, ordinary)
    ]
    lost = {word for word in words[1] - words[0] if word.isalpha()}
    assert lost <= {"back"}


def test_thin_ink_is_legible_and_says_the_same(thin: Bundle, ordinary: Bundle) -> None:
    assert [fault for sheet in thin.sheets for fault in faults(sheet)] == []
    texts = [[text for sheet in made.sheets for g in sheet.groups() for text in g.texts] for made in (thin, ordinary)]
    said = [replace(text, white=False, words=_MARK.sub("mark", text.words)) for made in texts for text in made]
    assert said[: len(texts[0])] == said[len(texts[0]) :]


def test_thin_ink_fills_nothing_and_narrows_every_pen(thin: Bundle, ordinary: Bundle) -> None:
    pens = {stroke.pen for sheet in thin.sheets for group in sheet.groups() for stroke in group.strokes}
    assert {pen.name for pen in pens if pen.filled} <= {"paper"}
    widths = {pen.name: pen.width for pen in pens}
    for sheet in ordinary.sheets:
        for pen in {stroke.pen for group in sheet.groups() for stroke in group.strokes if not stroke.pen.filled}:
            assert 0.1 <= widths[pen.name] < pen.width


def test_thin_ink_hatches_sparsely(thin: Bundle, ordinary: Bundle) -> None:
    def hatching(made: Bundle) -> float:
        strokes = [
            s for sheet in made.sheets for group in sheet.groups() for s in group.strokes if s.pen.name == "hatch"
        ]
        return sum(stroke.shape.bounds.width for stroke in strokes)

    assert SPARSE == 5.0
    assert 0.4 * hatching(ordinary) < hatching(thin) < 0.6 * hatching(ordinary)


def test_thin_ink_takes_less_ink(thin: Bundle, ordinary: Bundle) -> None:
    def ink(made: Bundle) -> float:
        page = pypdfium2.PdfDocument(pdf.write(made))[1]
        return float((255 - page.render(scale=300 / 72, grayscale=True).to_numpy().astype(float)).sum())

    assert ink(thin) < 0.9 * ink(ordinary)


# -- black ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("made", ["ordinary", "large", "thin"])
def test_a_pdf_holds_only_black(made: str, request: pytest.FixtureRequest) -> None:
    """Black on white, and white on black: grey levels 0 and 1 (ISO 32000-1, 8.6.4.2), no shading, no image."""
    document = pdf.write(request.getfixturevalue(made))
    with pdfplumber.open(io.BytesIO(document)) as opened:
        for page in opened.pages:
            marks: list[dict[str, Any]] = [*page.lines, *page.curves, *page.rects, *page.chars]
            colours = {str(mark[kind]) for mark in marks for kind in ("stroking_color", "non_stroking_color")}
            assert colours <= {"None", "(0,)", "0", "0.0", "(0.0,)", "(0, 0, 0)", "(1,)", "(1.0,)", "1", "1.0"}
            assert not page.images
    picture = pypdfium2.PdfDocument(document)[0].render(scale=100 / 72).to_numpy()
    assert np.ptp(picture[:, :, :3].astype(int), axis=2).max() == 0


@pytest.mark.parametrize("made", ["ordinary", "thin"])
def test_an_svg_holds_only_black(made: str, request: pytest.FixtureRequest) -> None:
    for sheet in request.getfixturevalue(made).sheets:
        root: Any = etree.fromstring(svg.write(sheet, "x"))
        paints = {value for name in ("fill", "stroke") for value in root.xpath(f"//@{name}")}
        assert paints <= {"black", "none", "white"}
        assert not root.xpath("//@opacity | //@style | //@fill-opacity | //@stroke-opacity")
        assert not re.search(rb"(?:fill|stroke|color|style)=\"(?!black|none|white)[a-z#]", etree.tostring(root))
