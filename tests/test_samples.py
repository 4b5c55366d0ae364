"""The sheets kept in samples/ are those that the samples make today.

They are renewed, after a change that is meant to be seen in them, by `python -m tests.renew`.

What is compared is decoded: the paths and words of a page, each within a thousandth of a millimetre. Bytes differ
between versions of the libraries that pack them.
"""

from __future__ import annotations

import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pypdf
import pytest
from pypdf.generic import ContentStream

from layout import catalogue
from layout.write.pdf import POINTS_PER_MM
from tests.test_box_sheets import DRAWN, NAMES, drawn

SAMPLES = Path(__file__).parent.parent / "samples"
WITHIN = 0.001
"""How far two marks may lie apart and still be the same, mm."""
KINDS = ("cards", "templates")
MOST_BYTES = 400_000
"""A sample is for people to open from a page on the web."""

Marks = list[tuple[str, list[float]]]
"""Operators or words, each with its numbers, in mm where they are lengths."""


# -- decoding ------------------------------------------------------------------------------------------------------


def marks(content: bytes) -> list[Marks]:
    """Return the marks of every page of a PDF, and its size as the first of them."""
    return [_page(page) for page in pypdf.PdfReader(io.BytesIO(content)).pages]


def _page(page: pypdf.PageObject) -> Marks:
    size = [float(value) / POINTS_PER_MM for value in page.mediabox]
    stream = page.get_contents()
    assert stream is not None, "a page without marks"
    resources: Any = page["/Resources"]
    return [("page", size), *_operations(stream, resources)]


def _operations(stream: ContentStream, resources: Any) -> Iterator[tuple[str, list[float]]]:
    """Go through a content stream; a form stands for the marks in it, and text for the words it shows."""
    fonts = {name: _letters(font.get_object()) for name, font in resources.get("/Font", {}).items()}
    forms = resources.get("/XObject", {})
    font: dict[int, str] = {}
    for operands, operator in stream.operations:
        name = operator.decode()
        if name == "Tf":
            font = fonts[operands[0]]
            yield "Tf", [float(operands[1])]
        elif name == "Tj":
            yield "".join(font[byte] for byte in operands[0].original_bytes), []
        elif name == "Do":
            form = forms[operands[0]].get_object()
            yield from _operations(ContentStream(form, form.indirect_reference.pdf), form.get("/Resources", resources))
        else:
            yield _plain(name, operands)


def _plain(name: str, operands: list[Any]) -> tuple[str, list[float]]:
    words = [str(operand) for operand in operands if isinstance(operand, str)]
    flat = [value for operand in operands for value in (operand if isinstance(operand, list) else [operand])]
    return " ".join([name, *words]), [float(value) for value in flat if not isinstance(value, str)]


def _letters(font: Any) -> dict[int, str]:
    """Return the letters of a font's codes, from its map to Unicode (ISO 32000-1, 9.10.3)."""
    table = font["/ToUnicode"].get_data().decode("ascii")
    pairs = re.findall(r"^<(\w{2})> <(\w{4,})>$", table, re.MULTILINE)
    return {int(code, 16): bytes.fromhex(letter).decode("utf-16-be") for code, letter in pairs}


def differences(kept: list[Marks], made: list[Marks]) -> list[str]:
    """Return, for each page, the first mark that is not the same."""
    found = [] if len(kept) == len(made) else [f"{len(kept)} pages are kept and {len(made)} are made"]
    for number, (one, other) in enumerate(zip(kept, made, strict=False), 1):
        pairs = zip(one, other, strict=False)
        apart = next((f"{a} is now {b}" for a, b in pairs if not _same(a, b)), None)
        if apart is None and len(one) != len(other):
            apart = f"{len(one)} marks are now {len(other)}"
        found += [f"page {number}: {apart}"] if apart else []
    return found


def _same(one: tuple[str, list[float]], other: tuple[str, list[float]]) -> bool:
    return one[0] == other[0] and one[1] == pytest.approx(other[1], abs=WITHIN, rel=0)


def numbered(text: str) -> tuple[list[str], list[float]]:
    """Return a text as what stands between its numbers, and its numbers."""
    pattern = r"-?\d+(?:\.\d+)?"
    return re.split(pattern, text), [float(number) for number in re.findall(pattern, text)]


# -- the sheets of the samples -------------------------------------------------------------------------------------


@pytest.mark.parametrize("sample", DRAWN)
def test_the_sheets_kept_are_those_that_are_made(sample: str) -> None:
    """The same bytes are the same marks; decoding them takes longer than drawing them."""
    for kind in KINDS:
        name = f"{sample}-{kind}.pdf"
        kept, made = (SAMPLES / name).read_bytes(), drawn(sample).files[name]
        assert kept == made or differences(marks(kept), marks(made)) == []


@pytest.mark.parametrize("sample", NAMES)
def test_the_sheets_kept_are_small(sample: str) -> None:
    assert all((SAMPLES / f"{sample}-{kind}.pdf").stat().st_size <= MOST_BYTES for kind in KINDS)


def test_a_mark_that_moved_is_found() -> None:
    """The comparison itself can fail: a line 0.002 mm off, other words, a mark too many, a page too few."""
    page: Marks = [("m", [10.0, 20.0]), ("gap 9.92", [])]
    assert differences([page], [[("m", [10.0009, 20.0]), ("gap 9.92", [])]]) == []
    for other in ([("m", [10.002, 20.0]), page[1]], [page[0], ("gap 9.93", [])], [*page, ("S", [])]):
        assert differences([page], [other])
    assert differences([page, page], [page]) == ["2 pages are kept and 1 are made"]


def test_words_and_lines_are_decoded() -> None:
    """The proof says what it is and draws the square of 100 mm; its size is ISO 216's A4."""
    first = _page(pypdf.PdfReader(io.BytesIO(drawn("recipe-box").files["recipe-box-templates.pdf"])).pages[0])
    assert first[0][1] == pytest.approx([0, 0, 210, 297], abs=WITHIN)
    said = [words for words, _ in first]
    assert "Proof of scale" in said
    assert said.count("BMC /calibration-square") == 1


# -- the catalogue -------------------------------------------------------------------------------------------------


def test_the_catalogue_kept_is_the_one_that_is_written() -> None:
    """Pages by their text, sketches by what is drawn and by their numbers."""
    made = catalogue.pages()
    kept = {path.name: path.read_bytes() for path in (SAMPLES / "jigs").iterdir()}
    assert sorted(kept) == sorted(made)
    for name, content in made.items():
        if name.endswith(".md"):
            assert kept[name].decode() == content.decode(), name
        else:
            words, numbers = numbered(kept[name].decode())
            assert words == numbered(content.decode())[0], name
            assert numbers == pytest.approx(numbered(content.decode())[1], abs=WITHIN), name
