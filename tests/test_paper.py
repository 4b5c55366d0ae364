"""Paper sizes against the standards, and what a person may type for a page."""

from __future__ import annotations

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base.cards import Card, Sheets, Template
from jigs.base.drawing import Dimension, Line, Part, Point, View, rectangle
from jigs.base.errors import CannotBuild, CannotRead
from layout.pages import calibration, compose, frames
from layout.pages.job import Job
from layout.sheet import paper
from layout.sheet.marks import Sheet
from tests.legibility import faults
from tests.outside import Check, agree

SIZES = Check(
    "Lengths, paper, letters",
    "ISO 216, ISO 5456-3, ANSI/ASME Y14.1, Unicode, inch of 1959; ISO 5457, ISO/IEC 7810 at second hand",
    "standard",
)

ISO_216 = {"A5": (148, 210), "A4": (210, 297), "A3": (297, 420), "A2": (420, 594), "A1": (594, 841), "A0": (841, 1189)}
"""mm, ISO 216."""
ANSI_INCHES = {
    "Letter": (8.5, 11),
    "Legal": (8.5, 14),
    "Tabloid": (11, 17),
    "C": (17, 22),
    "D": (22, 34),
    "E": (34, 44),
}
"""ANSI Y14.1, and Legal."""


@SIZES.of()
@pytest.mark.parametrize("name", ISO_216)
def test_iso_216(name: str) -> None:
    page = paper.named(name)
    agree((page.width, page.height), ISO_216[name], 0.0, unit="mm")


@SIZES.of()
@pytest.mark.parametrize("name", ANSI_INCHES)
def test_ansi(name: str) -> None:
    page = paper.named(name.lower())
    agree((page.width / 25.4, page.height / 25.4), ANSI_INCHES[name], 1e-12, unit="in")


@SIZES.of()
def test_frame_is_that_of_iso_5457() -> None:
    """20 mm at the binding edge, 10 mm elsewhere (ISO 5457, as quoted at second hand), either way the page lies."""
    for page in (paper.named("A4"), paper.named("A4").turned):
        left, bottom, right, top = page.frame
        agree((left, bottom, page.width - right, page.height - top), (20, 10, 10, 10), unit="mm")


def test_templates_stand_alike_on_a4_and_letter() -> None:
    """190 by 259 mm are inside both, ticks and all: A4 is the narrower, Letter the lower."""
    for name in ("A4", "Letter", "both"):
        frame = frames.template_frame(paper.named(name))
        assert (frame.width, frame.height) == pytest.approx((190, 259))
        assert min(frame.left, frame.bottom) >= calibration.OUTSIDE + 4.2


@pytest.mark.parametrize(
    ("typed", "size"),
    [
        ("300x400 mm", (300, 400)),
        ("300 x 400", (300, 400)),
        ("300mm x 400mm", (300, 400)),
        ("12x18 in", (304.8, 457.2)),
        ('12×18"', (304.8, 457.2)),
    ],
)
def test_measured_pages(typed: str, size: tuple[float, float]) -> None:
    page = paper.named(typed)
    assert (page.width, page.height) == pytest.approx(size)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("A44", "did you mean 'A4'"),
        ("leter", "did you mean 'Letter'"),
        ("zzz", 'D, E, both. Or give a size: "300x400 mm"'),
        ("300x", "paper: '' is empty"),
        ("300xabc mm", "abc"),
        ("20x400 mm", "from 50 to 5080 mm; 20 mm is not; the nearest that works is 50 mm"),
        ("300x9000 mm", "the nearest that works is 5080 mm"),
    ],
)
def test_bad_pages(typed: str, says: str) -> None:
    with pytest.raises(CannotRead, match="paper") as refused:
        paper.named(typed)
    assert says in str(refused.value)


def test_larger_papers_stay_in_the_family() -> None:
    assert [page.name for page in paper.larger(paper.named("A3"), "in")] == ["A2", "A1", "A0"]
    assert [page.name for page in paper.larger(paper.named("Legal"), "mm")] == ["Tabloid", "C", "D", "E"]
    assert paper.larger(paper.named("A0"), "mm") == ()
    assert paper.larger(paper.named("8x10 in"), "in")[0].name == "Letter"


# -- rolls ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("typed", "width"), [("610 mm roll", 610), ("24 in roll", 609.6), ('36" ROLL', 914.4)])
def test_a_roll_is_as_wide_as_it_is(typed: str, width: float) -> None:
    page = paper.named(typed)
    assert page.roll
    assert (page.width, page.height) == pytest.approx((width, paper.MOST_SIDE))
    assert page.name.endswith(" roll")
    assert (page.cut(900).height, page.turned.cut(950).width) == (900, 950)


@pytest.mark.parametrize(
    ("typed", "says"),
    [
        ("20 mm roll", "the width of a roll must be from 50 to 5080 mm; 20 mm is not; the nearest that works is 50 mm"),
        ("wide roll", "the width of the roll: "),
        (" roll", 'write "610 mm roll" or "24 in roll"'),
    ],
)
def test_bad_rolls(typed: str, says: str) -> None:
    with pytest.raises(CannotRead, match="paper") as refused:
        paper.named(typed)
    assert says in str(refused.value)


def on_a_roll(length: float, roll: str = "610 mm roll") -> tuple[Sheet, ...]:
    """Return the pages of one long stick, without the proof."""
    part = Part("stick", "Stick", (Line(rectangle(0, 0, 40, length)),))
    long = View("stick", "Stick", (part,), (Dimension(Point(0, 0), Point(0, length), "left"),))
    sheets = Sheets((Card("jig", "Jig", "bench", (), ()),), (Template(long, "jig", "", "jig"),))
    made = compose.compose(Job("jig", "Jig", "x", "mm", "abc123"), sheets, paper.named(roll))
    return made[1].sheets[1:]


@settings(max_examples=8)
@given(st.floats(100, 4700))
def test_a_page_on_a_roll_is_as_long_as_its_piece_needs(length: float) -> None:
    [sheet] = on_a_roll(length)
    assert faults(sheet) == []
    assert sheet.paper.width == 610
    # Frame, heading and strip take less than 160 mm; no page is shorter than it is wide.
    assert 610 <= sheet.paper.height <= max(610, length + 160)


def test_ten_metres_on_a_roll_are_joined_of_the_longest_pages() -> None:
    sheets = on_a_roll(10_000)
    assert len(sheets) == 3
    assert all(sheet.paper.height <= paper.MOST_SIDE for sheet in sheets)
    assert [fault for sheet in sheets for fault in faults(sheet)] == []


def test_a_roll_too_narrow_names_a_paper() -> None:
    with pytest.raises(CannotBuild, match="60 mm by 5080 mm: a template is never made smaller") as refused:
        on_a_roll(200, "60 mm roll")
    assert refused.value.problems[0].suggests("mm") == "the smallest paper that holds it is A4"


# -- what a printer reaches ----------------------------------------------------------------------------------------


def test_the_frame_keeps_to_what_the_printer_reaches() -> None:
    """The wider of frame and margin, ticks and all; on its side a page may go in to the left or to the right."""
    page = paper.named("A4").within(paper.Margins(4, 15, 5, 17))
    reach = calibration.OUTSIDE
    assert frames.template_frame(page) == pytest.approx((10, 17 + reach, 195 - reach, 278))
    assert frames.template_frame(page.turned).right == pytest.approx(297 - 17 - reach)
    assert page.turned.turned == page


@pytest.mark.parametrize("page", ["50x50 mm", "60x5000 mm"])
def test_a_page_that_holds_nothing_says_so(page: str) -> None:
    with pytest.raises(CannotBuild, match="a template is never made smaller"):
        on_a_roll(200, page)
