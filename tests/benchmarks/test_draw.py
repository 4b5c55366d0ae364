"""The writers on the sheets of the sample box against the same marks by hand and by other libraries.

What every contestant wrote is read once by another library and holds the same number of subpaths, and of letters where
its words are words.
"""

from __future__ import annotations

import io
import re
from collections.abc import Callable, Sequence

import pikepdf
import pymupdf
import pytest
from lxml import etree

from jigs.record import replace
from layout.sheet.marks import Bundle, Sheet
from layout.write import pdf, svg
from tests.benchmarks import by_hand, by_libraries
from tests.benchmarks.ratios import least, note
from tests.test_box_sheets import drawn

CODE = 100
"""Filled shapes of one group that are the code of the settings, which the writer draws once for all pages."""


@pytest.fixture(scope="module")
def bundle() -> Bundle:
    return replace(drawn("recipe-box").bundle, carried=None)


@pytest.fixture(scope="module")
def few(bundle: Bundle) -> Bundle:
    """Every third sheet: the slow ones take a minute for all."""
    return replace(bundle, sheets=bundle.sheets[::3])


def without_code(bundle: Bundle) -> Bundle:
    """Return the sheets without the code of the settings."""
    sheets = []
    for sheet in bundle.sheets:
        layers = []
        for layer in sheet.layers:
            groups = []
            for group in layer.groups:
                filled = sum(stroke.pen.filled for stroke in group.strokes)
                kept = tuple(s for s in group.strokes if filled < CODE or not s.pen.filled)
                groups.append(replace(group, strokes=kept))
            layers.append(replace(layer, groups=tuple(groups)))
        sheets.append(replace(sheet, layers=tuple(layers)))
    return replace(bundle, sheets=tuple(sheets))


# -- what was written, read by others ------------------------------------------------------------------------------


def wanted(sheets: Sequence[Sheet]) -> tuple[int, int]:
    """Return how many strokes there are, and how many letters without the spaces."""
    groups = [group for sheet in sheets for group in sheet.groups()]
    letters = sum(len(re.sub(r"\s", "", text.words)) for group in groups for text in group.texts)
    return sum(len(group.strokes) for group in groups), letters


def in_pdf(content: bytes) -> tuple[int, int]:
    """Return how many subpaths (pikepdf) and letters (pymupdf) a PDF shows, forms included."""
    with pikepdf.open(io.BytesIO(content)) as file:
        subpaths = sum(_subpaths(page.obj) for page in file.pages)
    with pymupdf.open(stream=content) as read:  # type: ignore[no-untyped-call]  # it publishes no types
        return subpaths, sum(len(re.sub(r"\s", "", page.get_text())) for page in read)


def _subpaths(held: pikepdf.Object) -> int:
    count = 0
    for instruction in pikepdf.parse_content_stream(held):
        operator = str(instruction.operator)
        if operator == "Do":
            form = held.Resources.XObject[str(instruction.operands[0])]
            count += _subpaths(form)
        count += operator in ("m", "re")
    return count


def in_svg(content: str | bytes) -> tuple[int, int]:
    """Return how many subpaths and letters an SVG shows, read by lxml."""
    root = etree.fromstring(content.encode() if isinstance(content, str) else content)
    named = {tag: [one for one in root.iter() if str(one.tag).endswith(f"}}{tag}")] for tag in ("path", "text", "defs")}
    kept = {one for defs in named["defs"] for one in defs.iter()}  # shapes that are only there to be used
    paths = sum(len(re.findall("[Mm]", one.get("d", ""))) for one in named["path"] if one not in kept)
    return paths, sum(len(re.sub(r"\s", "", "".join(map(str, one.itertext())))) for one in named["text"])


def total(counts: Sequence[tuple[int, int]]) -> tuple[int, int]:
    return sum(count[0] for count in counts), sum(count[1] for count in counts)


# -- PDF -----------------------------------------------------------------------------------------------------------


def test_the_pdf_against_the_floor_and_bare_calls(bundle: Bundle) -> None:
    makers: list[Callable[[Bundle], bytes]] = [pdf.write, by_hand.pdf, by_libraries.reportlab_pdf]
    for make in makers:
        assert in_pdf(make(bundle)) == wanted(bundle.sheets)
    plain = without_code(bundle)
    took, floor, bare = least(*[lambda make=make: make(bundle) for make in makers], turns=5)
    ours_plain, floor_plain = least(lambda: pdf.write(plain), lambda: by_hand.pdf(plain), turns=5)
    note("PDF", "stream by hand and zlib", took / floor, "≤ 1.6")
    note("PDF without the code of the settings", "the same by hand", ours_plain / floor_plain, "≤ 1.6")
    note("bare reportlab calls", "PDF", bare / took)


def test_matplotlib_against_the_pdf(few: Bundle) -> None:
    made = by_libraries.matplotlib_files(few.sheets, "pdf")
    assert total([in_pdf(page) for page in made])[0] >= wanted(few.sheets)[0]
    took, theirs = least(lambda: pdf.write(few), lambda: by_libraries.matplotlib_files(few.sheets, "pdf"), turns=2)
    note("matplotlib's PDF, every third sheet", "PDF", theirs / took, "≥ 25")


def test_the_add_on_against_the_pdf(few: Bundle) -> None:
    assert total([in_pdf(page) for page in by_libraries.ezdxf_pdfs(few.sheets)])[0] >= wanted(few.sheets)[0]
    took, add_on = least(lambda: pdf.write(few), lambda: by_libraries.ezdxf_pdfs(few.sheets), turns=2)
    note("ezdxf's add-on, every third sheet", "PDF", add_on / took, "≥ 100")


# -- SVG -----------------------------------------------------------------------------------------------------------


def ours(of: Bundle) -> list[bytes]:
    """Return the sheets as the writer makes them."""
    return [svg.write(sheet, of.subject, of.correction) for sheet in of.sheets]


def test_the_svgs_against_plain_strings(bundle: Bundle) -> None:
    def plain(of: Bundle) -> list[str]:
        return [by_hand.svg(sheet) for sheet in of.sheets]

    def bare(of: Bundle) -> list[str]:
        return [by_libraries.svgwrite_svg(sheet) for sheet in of.sheets]

    for maker in (ours, plain, bare):
        assert total([in_svg(page) for page in maker(bundle)]) == wanted(bundle.sheets)
    took, floor, calls = least(lambda: ours(bundle), lambda: plain(bundle), lambda: bare(bundle))
    note("SVG", "plain strings", took / floor, "≤ 2.2")
    note("bare svgwrite calls", "SVG", calls / took)


def test_matplotlib_against_the_svgs(few: Bundle) -> None:
    made = by_libraries.matplotlib_files(few.sheets, "svg")
    assert total([in_svg(page) for page in made])[1] == wanted(few.sheets)[1]
    took, theirs = least(lambda: ours(few), lambda: by_libraries.matplotlib_files(few.sheets, "svg"), turns=2)
    note("matplotlib's SVG, every third sheet", "SVG", theirs / took, "≥ 25")
