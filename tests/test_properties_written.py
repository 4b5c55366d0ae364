"""Any settings, composed and written: legible, and as large in the files as they say, measured by other libraries."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterator
from typing import Any

import pdfplumber
import pytest
import svgelements
from hypothesis import event, given, settings
from hypothesis import strategies as st
from lxml import etree

from jigs.base import lengths
from jigs.base.catalogue import Plan, find
from jigs.base.drawing import ArcTo, Bounds, Circle, around
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.record import replace
from layout.sheet.marks import Bundle, Group, Sheet
from layout.write import pdf, svg
from tests.conftest import all_pages, examples, pages_of
from tests.legibility import faults
from tests.soundness import CHORD, UNITS
from tests.test_properties import NAMES, built, settings_of, usual_settings

pytestmark = pytest.mark.slow

TRUE = 0.001
"""How far a part in a file may be from the model, mm: files are written to a ten-thousandth."""
_MM = 72 / 25.4
_SVG = {"svg": "http://www.w3.org/2000/svg"}
_NUMBER = re.compile(r"(?:(?:[0-9]+ )?[0-9]+/[0-9]+|[0-9]+(?:\.[0-9]+)?)$")
_SECOND_ROW = re.compile(r"[0-9 /]+ [+−]\.[0-9]+")


def untrue(sheet: Sheet, units: Units) -> list[str]:
    """Return what is not as large in the written SVG as it says, or as it is in the model."""
    root: Any = etree.fromstring(svg.write(sheet, "any settings"))
    found = []
    for group in sheet.groups():
        [written] = root.xpath(f"//svg:g[@id='{group.name}']", namespaces=_SVG)
        found += list(_moved(group, written))
        if group.name.endswith("-writing") and group.clip is None:
            found += [f"{group.name}: {wrong}" for wrong in _misread(written, units)]
    return found


def _moved(group: Group, written: Any) -> Iterator[str]:
    """Find a part whose box in the file is not that of the model."""
    paths = [svgelements.Path(path.get("d")) for path in written.xpath("svg:path", namespaces=_SVG)]
    if not group.strokes:
        return
    boxes = [path.bbox(with_stroke=False) for path in paths]
    across = (min(box[0] for box in boxes), max(box[2] for box in boxes))
    up = max(box[3] for box in boxes) - min(box[1] for box in boxes)
    model = around(stroke.shape.bounds for stroke in group.strokes)
    for one, other in ((across[0], model.left), (across[1], model.right), (up, model.height)):
        if abs(one - other) > TRUE + CHORD * any(step for step in _round(group)):
            yield f"{group.name} is at {one} in the file and at {other} in the model"


def _round(group: Group) -> list[bool]:
    """Tell which strokes are round: the model's box stands on chords, the file's on the arc itself."""
    shapes = [stroke.shape for stroke in group.strokes]
    return [isinstance(one, Circle) or any(isinstance(step, ArcTo) for step in one.steps) for one in shapes]


def _misread(written: Any, units: Units) -> Iterator[str]:
    """Find a dimension whose arrow tips are not as far apart as its number says: tips and numbers come in one order."""
    tips: list[tuple[float, float]] = []
    for path in written.xpath("svg:path[@fill='black']", namespaces=_SVG):
        heads = re.findall(r"M([-0-9.]+) ([-0-9.]+)L[-0-9. ]+L[-0-9. ]+Z", path.get("d"))
        tips += [(float(x), float(y)) for x, y in heads]
    words = [text.text for text in written.xpath("svg:text", namespaces=_SVG)]
    for (x1, y1), (x2, y2) in zip(tips[::2], tips[1::2], strict=True):
        said = words.pop(0)
        if units == "in" and words and _SECOND_ROW.fullmatch(words[0]):
            words.pop(0)
        number = _NUMBER.search(said)
        apart = math.hypot(x2 - x1, y2 - y1)
        if number is None or abs(float(lengths.read(number[0], units)) - apart) > _rounding(units):
            yield f"'{said}' is {apart} mm in the file"


def _rounding(units: Units) -> float:
    return TRUE + (0.005 if units == "mm" else 0.00005 * 25.4)


def moved_in_pdf(bundle: Bundle) -> list[str]:
    """Return the parts on the first sheet whose box in the PDF is not that of the model."""
    found = []
    with pdfplumber.open(io.BytesIO(pdf.write(bundle))) as opened:
        page = opened.pages[0]
        drawn = [*page.lines, *page.curves, *page.rects]
        for group in bundle.sheets[0].groups():
            points = [point for path in drawn if path["tag"] == group.name for point in path["pts"]]
            if points and group.clip is None and not any(_round(group)):
                xs, ys = [x / _MM for x, _ in points], [y / _MM for _, y in points]
                model = around(stroke.shape.bounds for stroke in group.strokes)
                read = Bounds(min(xs), min(ys), max(xs), max(ys))
                size = (read.left - model.left, read.right - model.right, read.height - model.height)
                if max(map(abs, size)) > TRUE:
                    found.append(f"{group.name} is at {read} in the PDF and at {model} in the model")
    return found


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=examples(1))
@given(data=st.data(), units=st.sampled_from(UNITS), page=st.sampled_from(["A4", "Letter", "A3"]))
def test_any_sheets_are_legible_and_true(name: str, data: st.DataObject, units: Units, page: str) -> None:
    made = built(find(name), data.draw(settings_of(name, units)), units)
    if not isinstance(made, Plan):
        event("refused")
        return
    try:
        cards, templates = pages_of(made, name, page, units)
    except CannotBuild:
        event("too large for the paper")
        return
    event("written")
    wrong = [wrong for sheet in (*cards.sheets, *templates.sheets) for wrong in faults(sheet)]
    wrong += [wrong for sheet in templates.sheets for wrong in untrue(sheet, units)]
    if templates.sheets:
        chosen = data.draw(st.sampled_from(templates.sheets))
        wrong += moved_in_pdf(replace(templates, sheets=(chosen,)))
    assert wrong == []


@pytest.mark.parametrize(
    ("name", "units", "changes", "page"),
    [
        pytest.param(
            "drilling", "mm", {"pitch": 44.0, "set_back": 500.0}, "Letter", id="words by the marks of a short seam"
        ),
        pytest.param("taper", "mm", {"length": 999.0, "thickness": 7.0}, "A4", id="the map of many pieces in a row"),
        pytest.param("taper", "in", {"wide": 118.0, "thickness": 7.0}, "Letter", id="a long name by a seam"),
        pytest.param(
            "taper", "in", {"thickness": 25.3, "length": 30.0, "wide": 400.0}, "A4", id="a header beside a wide map"
        ),
        pytest.param(
            "taper",
            "mm",
            {"length": 667.74, "wide": 337.3237},
            "Letter",
            id="words on a seam shorter than its marks",
        ),
        pytest.param("taper", "in", {"wide": 91.0}, "Letter", id="the letter of a seam by the marks of the next"),
        pytest.param(
            "taper",
            "in",
            {"narrow": 4.0, "length": 30.0, "thickness": 7.0},
            "Letter",
            id="words moved off a seam to beside a wide line",
        ),
        pytest.param("handle", "mm", {"countersink": 0.0}, "A4", id="heads that are not sunk"),
    ],
)
def test_what_was_found_once_stays_mended(name: str, units: Units, changes: dict[str, Any], page: str) -> None:
    made = built(find(name), usual_settings(name, units) | changes, units)
    assert isinstance(made, Plan)
    assert [fault for sheet in all_pages(pages_of(made, name, page, units)).sheets for fault in faults(sheet)] == []
