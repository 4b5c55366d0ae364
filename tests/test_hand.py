"""Large print and thin ink: larger where it is read, never a solid area, and nothing but black in any file."""

from __future__ import annotations

import io
import re
from typing import Any

import numpy as np
import pdfplumber
import pypdfium2
import pytest
from lxml import etree

from jigs.base.catalogue import find
from jigs.base.drawing import Notes
from jigs.base.lengths import Units
from jigs.base.wording import read_out
from layout.fill import compose
from layout.fill.job import Job
from layout.sheet import lettering, paper
from layout.sheet.hand import LARGE, SPARSE, Hand
from layout.sheet.marks import Bundle, Group, Sheet
from layout.write import pdf, svg
from tests.conftest import INCHES, METRIC
from tests.legibility import faults

pytestmark = pytest.mark.slow

LARGE_PRINT, THIN_INK, BOTH = Hand(large=True), Hand(thin=True), Hand(large=True, thin=True)


def sheets(hand: Hand, page: str = "A4", units: Units = "mm") -> Bundle:
    plan = find("sled").plan(METRIC if units == "mm" else INCHES, units)
    return compose.compose(Job("sled", "Sled", "x", units, "abc123", hand=hand), plan.drawings, paper.named(page))


@pytest.fixture(scope="module")
def ordinary() -> Bundle:
    return sheets(Hand())


@pytest.fixture(scope="module")
def large() -> Bundle:
    return sheets(LARGE_PRINT)


@pytest.fixture(scope="module")
def thin() -> Bundle:
    return sheets(THIN_INK)


def drawn(sheet: Sheet) -> list[Group]:
    return [group for layer in sheet.layers if layer.name in ("template", "writing") for group in layer.groups]


def test_large_print_is_legible(large: Bundle) -> None:
    assert [fault for sheet in large.sheets for fault in faults(sheet)] == []


def test_everything_at_once_is_legible_in_inches() -> None:
    assert [fault for sheet in sheets(BOTH, "Letter", "in").sheets for fault in faults(sheet)] == []


def test_what_is_read_at_the_bench_is_large(large: Bundle, ordinary: Bundle) -> None:
    """5 mm and more (ISO 3098); smaller only where a picture has no room: under one label in fifteen."""
    texts = [text for sheet in large.sheets for group in drawn(sheet) for text in group.texts if not text.bold]
    small = [text for text in texts if text.height < LARGE]
    assert len(small) < len(texts) / 15
    words = {text.words for text in texts if text.height >= LARGE}
    assert {"gap 9.92", "key face to centre 14.93", "over all 29.86", "3 × pitch 59.82"} <= words
    before = [text.height for sheet in ordinary.sheets for group in drawn(sheet) for text in group.texts]
    assert max(before) == 3.5


def test_notes_that_go_on_are_whole_and_in_order(large: Bundle) -> None:
    """A step that is read before the one it follows is done before it."""
    said = " ".join(text.words for sheet in large.sheets for group in drawn(sheet) for text in group.texts)
    said = said.replace(lettering.NO_BREAK, " ")
    notes = [item for drawing in find("sled").plan(METRIC).drawings for item in drawing.body if isinstance(item, Notes)]
    split = [item for item in notes if f"{read_out(item.title, 'mm')}, continued" in said]
    assert split
    for item in split:
        places = [said.find(read_out(words, "mm").replace(lettering.NO_BREAK, " ")) for words in item.paragraphs]
        assert -1 not in places
        assert places == sorted(places)


def test_the_cautions_are_there_in_large_print(large: Bundle) -> None:
    pages = [sheet for sheet in large.sheets if sheet.name.startswith("sled-cautions")]
    written = [text for sheet in pages for group in drawn(sheet) for text in group.texts]
    assert all(text.height >= LARGE - 0.11 for text in written)
    said = " ".join(text.words for text in written)
    for drawing in find("sled").plan(METRIC).drawings:
        assert all(caution in said for caution in drawing.cautions)


def test_thin_ink_is_legible_and_says_the_same(thin: Bundle, ordinary: Bundle) -> None:
    assert [fault for sheet in thin.sheets for fault in faults(sheet)] == []
    texts = [[text for sheet in made.sheets for g in sheet.groups() for text in g.texts] for made in (thin, ordinary)]
    assert texts[0] == texts[1]


def test_thin_ink_fills_nothing_and_narrows_every_pen(thin: Bundle, ordinary: Bundle) -> None:
    pens = {stroke.pen for sheet in thin.sheets for group in sheet.groups() for stroke in group.strokes}
    assert not any(pen.filled for pen in pens)
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
        page = pypdfium2.PdfDocument(pdf.write(made))[4]
        return float((255 - page.render(scale=300 / 72, grayscale=True).to_numpy().astype(float)).sum())

    assert ink(thin) < 0.9 * ink(ordinary)


# -- black ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("made", ["ordinary", "large", "thin"])
def test_a_pdf_holds_only_black(made: str, request: pytest.FixtureRequest) -> None:
    """No colour is ever set: strokes and fills start black (ISO 32000-1, 8.4.1), and there is no shading or image."""
    document = pdf.write(request.getfixturevalue(made))
    with pdfplumber.open(io.BytesIO(document)) as opened:
        for page in opened.pages:
            marks: list[dict[str, Any]] = [*page.lines, *page.curves, *page.rects, *page.chars]
            colours = {str(mark[kind]) for mark in marks for kind in ("stroking_color", "non_stroking_color")}
            assert colours <= {"None", "(0,)", "0", "(0.0,)", "(0, 0, 0)"}
            assert not page.images
    picture = pypdfium2.PdfDocument(document)[0].render(scale=100 / 72).to_numpy()
    assert np.ptp(picture[:, :, :3].astype(int), axis=2).max() == 0


@pytest.mark.parametrize("made", ["ordinary", "thin"])
def test_an_svg_holds_only_black(made: str, request: pytest.FixtureRequest) -> None:
    for sheet in request.getfixturevalue(made).sheets:
        root: Any = etree.fromstring(svg.write(sheet, "x"))
        paints = {value for name in ("fill", "stroke") for value in root.xpath(f"//@{name}")}
        assert paints <= {"black", "none"}
        assert not root.xpath("//@opacity | //@style | //@fill-opacity | //@stroke-opacity")
        assert not re.search(rb"(?:fill|stroke|color|style)=\"(?!black|none)[a-z#]", etree.tostring(root))
