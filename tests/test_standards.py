"""The sheets of the sample box against the standards for technical drawings, as quoted at second hand.

Where they differ on purpose, DEVELOPERS.md says so, and the test names the difference.
"""

from __future__ import annotations

import math

import pytest

from jigs.base.drawing import Path
from layout.sheet import marks
from layout.sheet.hand import ORDINARY, Hand
from layout.sheet.marks import Sheet, Stroke, Text
from tests.outside import Check, agree
from tests.test_box_sheets import DRAWN, drawn

WIDTHS = (0.13, 0.18, 0.25, 0.35, 0.5, 0.7, 1.0)
"""Line widths of ISO 128, mm."""
LINES = Check("Lengths, paper, letters", "ISO 128 lines and their widths, at second hand", "standard")
LETTERS = Check("Lengths, paper, letters", "ISO 3098 heights of letters, at second hand", "standard")
FRAMES = Check("Lengths, paper, letters", "ISO 5457 frames and ISO 7200 title blocks, at second hand", "standard")
ARROWS = Check("Lengths, paper, letters", "ISO 129-1 arrows and their words, at second hand", "standard")


@pytest.fixture(scope="module", params=DRAWN)
def sheets(request: pytest.FixtureRequest) -> tuple[Sheet, ...]:
    return drawn(request.param).bundle.sheets


def strokes_of(sheets: tuple[Sheet, ...]) -> list[Stroke]:
    return [stroke for sheet in sheets for group in sheet.groups() for stroke in group.strokes]


def texts_of(sheets: tuple[Sheet, ...]) -> list[Text]:
    return [text for sheet in sheets for group in sheet.groups() for text in group.texts]


@LINES.of()
def test_every_line_is_of_a_width_of_the_series(sheets: tuple[Sheet, ...]) -> None:
    found = sorted({stroke.pen.width for stroke in strokes_of(sheets) if not stroke.pen.filled})
    agree(found, [min(WIDTHS, key=lambda width: abs(width - one)) for one in found], 1e-9, unit="mm")
    agree(marks.EDGE.width / marks.NARROW.width, 2.0, unit="")


@LINES.of()
def test_hatching_is_no_closer_than_lines_may_be() -> None:
    """Parallel lines at least 0.7 mm apart (from memory)."""
    assert min(ORDINARY.pitch, Hand(thin=True).pitch) >= 0.7


@LETTERS.of()
def test_every_letter_is_of_a_height_of_the_series(sheets: tuple[Sheet, ...]) -> None:
    series = (1.8, 2.5, 3.5, 5.0, 7.0, 10.0)
    found = sorted({text.height for text in texts_of(sheets)})
    agree(found, [min(series, key=lambda height: abs(height - one)) for one in found], 1e-9, unit="mm")
    assert found[0] == 1.8


@FRAMES.of()
def test_every_page_can_be_filed_and_says_what_it_is(sheets: tuple[Sheet, ...]) -> None:
    """20 mm on the left of a card; templates leave 10, where their ticks are: the difference is on purpose."""
    for sheet in sheets:
        lines = [stroke.shape.bounds.left for group in sheet.groups() for stroke in group.strokes]
        said = " ".join(text.words for group in sheet.groups() for text in group.texts)
        back = sheet.name.endswith("-back")
        if "-template-" in sheet.name or sheet.name.endswith("-proof"):
            fields = ["1:1 · ", "rev ", "mark ", "page ", "date", "paper", "print at 100 %"]
        else:
            fields = ["rev ", "mark ", "page ", "Not to scale"]
            assert min(lines) >= (10.0 if back else 20.0) - 0.01
        for field in fields:
            assert field in said


@ARROWS.of()
def test_arrows_are_long_enough_and_narrow(sheets: tuple[Sheet, ...]) -> None:
    """At least three line widths long, between 15 and 30 degrees wide; every one measured on its three corners."""
    heads = 0
    for stroke in strokes_of(sheets):
        shape = stroke.shape
        if not stroke.pen.filled or not isinstance(shape, Path) or len(shape.steps) != 2:
            continue
        tip, one, other = shape.start, *(step.end for step in shape.steps)
        long = math.dist(tip, ((one.x + other.x) / 2, (one.y + other.y) / 2))
        if not 2.5 < long < 7:
            continue  # a filled square of the code, not an arrow
        heads += 1
        assert long >= 3 * marks.NARROW.width
        assert 15 <= 2 * math.degrees(math.atan(math.dist(one, other) / 2 / long)) <= 30
    assert heads > 90


@ARROWS.of()
def test_words_are_read_from_below_or_from_the_right(sheets: tuple[Sheet, ...]) -> None:
    """Upright words run up the page: their box is higher than it is wide, and stands left of their baseline."""
    upright = [text for text in texts_of(sheets) if text.upright and len(text.words) > 3]
    assert upright
    for text in upright:
        assert text.box.height > text.box.width
        assert (text.box.left + text.box.right) / 2 < text.at.x
