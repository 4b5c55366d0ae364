"""Pages of cards and templates: their proof of scale in the files, their letters, their words, how many there are."""

from __future__ import annotations

import io
import math
import re
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
import svgelements
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

from jigs.base.cards import Template
from jigs.base.drawing import Bounds, Line, Part, Table, View, rectangle
from jigs.base.lengths import Units
from jigs.box import sheets as box_sheets
from jigs.box.chain import work_out
from jigs.boxfile.reading import load
from layout import make
from layout.pages import bands, calibration, compose, frames, lay, pictures, template
from layout.pages.ink import BODY, LABEL, VALUE
from layout.pages.job import Job
from layout.pages.voice import Voice
from layout.sheet import paper
from layout.sheet.hand import ORDINARY
from layout.sheet.marks import Bundle, Sheet
from layout.write import pdf, svg
from tests import seen
from tests.conftest import METRIC, pages_of, sled_sheets
from tests.legibility import faults

SAMPLES = Path(__file__).parent.parent / "samples"
TRUE = 0.002
"""How far a calibrated edge in a file may be from its length, mm."""
_MM = 72 / 25.4
_SVG = {"svg": "http://www.w3.org/2000/svg"}
EDGES = {"calibration-left": 240.0, "calibration-bottom": 180.0, "calibration-right": 203.2, "calibration-top": 152.4}
"""The calibrated edges on A4 and Letter, mm."""


@pytest.fixture(scope="module")
def sled() -> tuple[Bundle, Bundle]:
    from jigs.base.catalogue import find  # noqa: PLC0415 - beside its use

    return pages_of(find("sled").plan(METRIC, "mm"), "sled")


# -- the proof of scale --------------------------------------------------------------------------------------------


def edges_in_svg(sheet: Sheet) -> dict[str, float]:
    """Return the lengths of the calibrated edges in the written file, by svgelements, mm."""
    root: Any = etree.fromstring(svg.write(sheet, "x"))
    found = {}
    for name in EDGES:
        for path in root.xpath(f"//svg:g[@id='{name}']/svg:path", namespaces=_SVG):
            found[name] = float(svgelements.Path(path.get("d")).length())
    return found


def edges_in_pdf(bundle: Bundle, number: int) -> dict[str, float]:
    """Return the same of a page of the PDF, by pdfplumber, mm."""
    found = {}
    with pdfplumber.open(io.BytesIO(pdf.write(bundle))) as opened:
        page = opened.pages[number]
        for drawn in (*page.lines, *page.curves):
            if drawn["tag"] in EDGES:
                (x0, y0), (x1, y1) = drawn["pts"][0], drawn["pts"][-1]
                found[drawn["tag"]] = math.hypot(x1 - x0, y1 - y0) / _MM
    return found


@pytest.mark.parametrize("page", ["A4", "Letter", "both"])
def test_every_template_page_proves_its_scale_in_both_files(page: str) -> None:
    made = sled_sheets(page)
    templates = [i for i, sheet in enumerate(made.sheets) if "-card-" not in sheet.name]
    assert len(templates) > 1
    for i in templates:
        assert edges_in_svg(made.sheets[i]) == pytest.approx(EDGES, abs=TRUE)
        assert edges_in_pdf(made, i) == pytest.approx(EDGES, abs=TRUE)


def test_the_ends_of_the_edges_are_a_triangle_of_3_4_and_5() -> None:
    """One rule proves width, height and squareness: Pythagoras."""
    for name in paper.NAMES:
        frame = frames.template_frame(paper.named(name))
        made = calibration.edges_of(frame)
        assert math.hypot(made.up, made.across) == made.diagonal
        assert math.hypot(made.inches_up, made.inches_across) % 5 == 0
        assert made.up <= frame.height
        assert made.across <= frame.width
        assert made.diagonal % 10 == 0
    a4 = calibration.edges_of(frames.template_frame(paper.named("A4")))
    assert (a4.up, a4.across, a4.diagonal) == (240, 180, 300)
    assert (a4.inches_up, a4.inches_across) == (8, 6)


@given(wide=st.floats(40, 5000), high=st.floats(40, 5000))
def test_edges_never_leave_a_frame(wide: float, high: float) -> None:
    made = calibration.edges_of(Bounds(0, 0, wide, high))
    assert made.up <= high
    assert made.across <= wide
    assert made.inches_up * 25.4 <= high + 1e-6
    assert made.inches_across * 25.4 <= wide + 1e-6


def test_the_square_is_of_its_unit_and_a_card_has_none_of_it(sled: tuple[Bundle, Bundle]) -> None:
    cards, templates = sled
    for sheet in cards.sheets:
        names = {group.name for group in sheet.groups()}
        assert not [name for name in names if name.startswith("calibration")]
        assert not [t for g in sheet.groups() for t in g.texts if "1:1" in t.words]
        assert any("Not to scale" in t.words for g in sheet.groups() for t in g.texts)
    assert _square(templates.sheets[0]) == pytest.approx((100.0, 100.0))
    assert _square(templates.sheets[1]) == pytest.approx((25.0, 25.0))
    inches = [s for s in sled_sheets("Letter", "in").sheets if "-template-" in s.name]
    assert _square(inches[0]) == pytest.approx((25.4, 25.4))


def _square(sheet: Sheet) -> tuple[float, float]:
    [group] = [group for group in sheet.groups() if group.name == "calibration-square"]
    box = group.strokes[0].shape.bounds
    return box.width, box.height


@pytest.mark.parametrize("page", ["A4", "Letter"])
def test_a_card_is_the_same_on_a4_and_letter(page: str) -> None:
    """180 by 259 mm, 20 to file at the left, at the right on the back: both papers hold it."""
    front = frames.card_page(paper.named(page), "mm", large=False)
    box, back = front.box(back=False), front.box(back=True)
    assert (box.width, box.height) == pytest.approx((180, 259))
    assert box.left == pytest.approx(20)
    assert front.paper.width - back.right == pytest.approx(20)


WHITE = st.floats(0, 50)  # all that a printer may be said to leave


@given(
    page=st.sampled_from(["A4", "Letter", "both", "A5", "A3", "Legal", "610 mm roll"]),
    margins=st.builds(paper.Margins, WHITE, WHITE, WHITE, WHITE),
    large=st.booleans(),
)
def test_a_card_stays_inside_what_its_printer_reaches_front_and_back(
    page: str, margins: paper.Margins, large: bool
) -> None:
    """By hand: the card, at its scale, within the margins as they were measured."""
    on = frames.card_page(paper.named(page).within(margins), "mm", large=large)
    wide, high = on.paper.width, on.paper.height
    for back in (False, True):
        box = on.box(back=back)
        left, bottom, right, top = (on.scale * side for side in (box.left, box.bottom, box.right, box.top))
        white = (left, wide - right, high - top, bottom)
        allowed = (margins.left, margins.right, margins.top, margins.bottom)
        assert all(found >= least - 1e-9 for found, least in zip(white, allowed, strict=True))


def test_files_ask_for_the_right_printing(sled: tuple[Bundle, Bundle]) -> None:
    """ISO 32000-1, 12.2: templates unscaled and on one side, cards on both."""
    from pypdf import PdfReader  # noqa: PLC0415 - slow to import

    asked = []
    for bundle in sled:
        wishes: Any = PdfReader(io.BytesIO(pdf.write(bundle))).root_object["/ViewerPreferences"]
        asked.append((wishes.get("/PrintScaling"), wishes.get("/Duplex")))
    assert asked == [(None, "/DuplexFlipLongEdge"), ("/None", "/Simplex")]


# -- letters -------------------------------------------------------------------------------------------------------


def test_letters_are_as_large_as_they_are_read(sled: tuple[Bundle, Bundle]) -> None:
    """Values 5 mm of capitals, steps and cautions 3.5, nothing under 2.5 outside strips (ISO 3098 heights)."""
    cards, templates = sled
    strips = ("strip", "calibration-", "proof", "-foot")
    for sheet in (*cards.sheets, *templates.sheets):
        for group in sheet.groups():
            for text in group.texts:
                small = any(part in group.name for part in strips) or text.words in ("signed", "date")
                assert text.height >= LABEL - 1e-9 or small, (sheet.name, group.name, text.words)
    heights = {round(t.height, 2) for s in cards.sheets for g in s.groups() for t in g.texts}
    assert {VALUE, BODY} <= heights


# -- words ---------------------------------------------------------------------------------------------------------

FORBIDDEN = (
    (r"--[a-z]", "an option"),
    (r"\b(?:box|sides|joint|groove|bottom|lid|handle|shell|stock|climate)\.[a-z_]+\b", "a field"),
    (r"\[(?:card|number):", "a card that is not named"),
    (r"\{", "a number that is not read out"),
    (r"\bstop and ask\b|\bend wood\b|\bover all\b|\bsetting card\b|\bstop stick\b", "a word that words.md has not"),
    (r"\d (?:mm|in)\b.*\d (?:in|mm)\b", "two units"),
)
"""What must not stand on paper, and what it is."""


def unfit_words(sheets: tuple[Sheet, ...]) -> list[str]:
    """Return words that must not stand on paper."""
    found = []
    for sheet in sheets:
        for text in [t for g in sheet.groups() for t in g.texts if not g.name.startswith(("proof", "calibration"))]:
            found += [
                f"{sheet.name}: '{text.words}' has {what}" for rule, what in FORBIDDEN if re.search(rule, text.words)
            ]
    return found


def test_the_words_on_paper(sled: tuple[Bundle, Bundle]) -> None:
    assert unfit_words((*sled[0].sheets, *sled[1].sheets)) == []


# -- papers --------------------------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize("page", ["A5", "A4", "A3", "A0", "Legal", "Tabloid", "both", "300x400 mm", "610 mm roll"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_paper_there_is_holds_legible_pages(page: str, units: Units) -> None:
    made = sled_sheets(page, units)
    assert [fault for sheet in made.sheets for fault in faults(sheet)] == []


# -- a whole box ---------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module", params=["recipe-box", "recipe-box-inch"])
def box(request: pytest.FixtureRequest) -> make.Made:
    text = (SAMPLES / f"{request.param}.toml").read_text()
    return make.draw(make.box(text, f"{request.param}.toml"))


def test_a_box_is_carried_to_the_bench(box: make.Made) -> None:
    """No more pages than 18 for the sample on A4, 19 for that in inches on Letter."""
    count = len(box.cards.sheets) + len(box.templates.sheets)
    assert count <= (18 if box.cards.sheets[0].paper.name == "A4" else 19)


def test_every_page_of_a_box_is_legible_and_says_nothing_unfit(box: make.Made) -> None:
    sheets = (*box.cards.sheets, *box.templates.sheets)
    assert {sheet.name: faults(sheet) for sheet in sheets if faults(sheet)} == {}
    assert unfit_words(sheets) == []


@pytest.mark.parametrize("sample", ["recipe-box", "recipe-box-inch"])
def test_no_picture_loses_what_is_written_on_it(sample: str) -> None:
    made = work_out(load(SAMPLES / f"{sample}.toml"))
    found = compose.compose(
        Job("box", "Box", "settings", made.file.units, "abc123"), box_sheets.sheets(made), paper.named("A4")
    )[0]
    assert seen.lost_words(box_sheets.sheets(made), found.sheets, made.file.units) == []


def test_names_are_those_a_maker_understands(box: make.Made) -> None:
    names = [sheet.name.removeprefix(f"{box.prefix}-") for sheet in (*box.cards.sheets, *box.templates.sheets)]
    assert names[:2] == ["r1-cover", "r2-readings"]
    assert len(set(names)) == len(names)
    assert all(re.fullmatch(r"r\d-\w+(-back)?|card-\d+-[a-z-]+|template-\d+|proof", name) for name in names)
    assert box.cards.name == f"{box.prefix}-cards"
    assert box.templates.name == f"{box.prefix}-templates"
    assert names.index("proof") == len(box.cards.sheets)


# -- what goes where -----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("sample", ["recipe-box", pytest.param("recipe-box-inch", marks=pytest.mark.slow)])
def test_a_picture_is_as_large_as_its_room_allows(sample: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """At 1.26 times its scale it is too large, or it has no room for its words; some are as large as is wanted."""
    fit, found = pictures._fitted, []

    def fitted(view: View, room: tuple[float, float], largest: float, lettered: Any) -> Any:
        made = fit(view, room, largest, lettered)
        found.append((view, room, largest, lettered, made))
        return made

    monkeypatch.setattr(pictures, "_fitted", fitted)
    make.draw(make.box((SAMPLES / f"{sample}.toml").read_text(encoding="utf-8"), "box"))
    assert len(found) > 5
    for view, room, largest, lettered, (drawn, scale) in found:
        assert drawn.box.width <= room[0] + 0.01
        assert drawn.box.height <= room[1] + 0.01
        larger = lettered.at(view, scale * 1.26)
        held = larger and larger.box.width <= room[0] and larger.box.height <= room[1]
        assert scale * 1.26 > largest or not held, view.name


def test_no_word_of_a_heading_is_broken_on_a_narrow_piece() -> None:
    """A heading is 66 mm wide at the least, though its piece is not."""
    narrow = View("stick", "Setting stick of the stops", (Part("p", "P", (Line(rectangle(0, 0, 9, 120)),)),))
    block = template.piece(
        Template(narrow, "groove", "Glue it on a strip of plywood.", "groove"), Voice("mm", {"groove": 5})
    )
    rows = [text.words for group in block.writing for text in group.texts]
    said = "card 5 Setting stick of the stops Glue it on a strip of plywood."
    assert {word for row in rows for word in row.split()} == set(said.split())
    assert block.width <= 66.0


def test_a_table_too_wide_for_its_page_keeps_to_it() -> None:
    """Where not even its longest words fit side by side, all columns give way alike, and words are broken."""
    long = "Nichtholzbearbeitungsmaschinenführerschein"
    table = Table("wide", "Wide", (long, long, "No."), ((long, long, 1.0),))
    on = bands.Setting(Voice("mm", {}), "wide", "wide", {}, (), False, lay.laid, ORDINARY)
    band = bands.TableBand(table, 120.0, on)
    assert sum(band.widths) + bands.GAP * 2 + 2 * bands.PAD == pytest.approx(120.0)
    group = [text.box for one in band.drawn(Bounds(0, 0, 120, band.least), "wide") for text in one.texts]
    assert max(box.right for box in group) <= 120.0
