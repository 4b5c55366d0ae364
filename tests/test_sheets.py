"""Whole sheets: legible, inside the frame, proving their own scale, for any settings and any paper."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jigs.base.catalogue import find
from jigs.base.drawing import Bounds, Dimension, Drawing, Label, Line, Part, Point, Side, View, around, rectangle
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.wording import read_out
from layout.draw import furniture
from layout.draw.annotate import annotate
from layout.fill import compose
from layout.fill.job import Job
from layout.sheet import paper
from layout.sheet.marks import Bundle, Group, Layer, Sheet, Text
from tests.conftest import sled_sheets
from tests.legibility import faults

PAPERS = ("A4", "Letter", "A3", "Legal", "both", "300x400 mm")
units_of = st.sampled_from(["mm", "in"])


def group(bundle: Bundle, sheet: int, name: str) -> Group:
    return next(g for g in bundle.sheets[sheet].groups() if g.name == name)


def bounds(found: Group) -> Bounds:
    return around(stroke.shape.bounds for stroke in found.strokes)


@pytest.mark.slow
@pytest.mark.parametrize("page", [*PAPERS, "A0", "Tabloid"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_sheet_is_legible_and_proves_its_scale(page: str, units: Units) -> None:
    bundle = sled_sheets(page, units, whole=True)
    for number, sheet in enumerate(bundle.sheets):
        assert faults(sheet) == []
        square, bars = (
            bounds(group(bundle, number, "calibration-square")),
            bounds(group(bundle, number, "calibration-inches")),
        )
        assert (square.width, square.height) == pytest.approx((100, 100))
        assert (bars.width, bars.height) == pytest.approx((101.6, 101.6))
        said = " ".join(text.words for g in sheet.groups() for text in g.texts)
        for needed in (
            "Cautions",
            "abc123",
            "Ruler check",
            f"Sheet {number + 1} of {len(bundle.sheets)}",
            "1:1",
            "manual",
        ):
            assert needed in said


@pytest.mark.slow
@settings(max_examples=12)
@given(
    finger=st.floats(3, 25),
    share=st.floats(0.3, 1.0),
    boards=st.floats(3.2, 14),
    thickness=st.floats(5, 25),
    machine=st.sampled_from(["router table", "table saw"]),
    key_side=st.sampled_from(["left", "right"]),
    layout=st.sampled_from(["rip", "keep", "centre"]),
    units=units_of,
    page=st.sampled_from(PAPERS),
)
def test_any_sled_is_refused_or_legible(
    finger: float, share: float, boards: float, thickness: float, units: Units, page: str, **words: str
) -> None:
    given_settings: dict[str, Any] = {
        "finger": finger,
        "cutter": max(0.8, finger * share),
        "board": finger * boards,
        "thickness": thickness,
    }
    try:
        plan = find("sled").plan(given_settings | words, units)
        job = Job("sled", read_out(plan.title, units), "settings", units, "abc123")
        bundle = compose.compose(job, plan.drawings, paper.named(page))
    except CannotBuild as error:
        reasons = [(problem.says(units), problem.suggests(units)) for problem in error.problems]
    else:
        reasons = [("not refused", "and legible")]
        for sheet in bundle.sheets:
            assert faults(sheet) == []
    assert reasons
    assert all(says and suggests for says, suggests in reasons)


@given(
    st.lists(
        st.tuples(st.floats(0, 150), st.floats(0.5, 60), st.sampled_from(["above", "below", "left", "right"])),
        min_size=1,
        max_size=8,
    ),
    st.lists(st.tuples(st.floats(0, 150), st.floats(0, 80)), max_size=6, unique=True),
    units_of,
)
def test_any_dimensions_and_labels_find_clean_places(
    dimensions: list[tuple[float, float, Side]], labels: list[tuple[float, float]], units: Units
) -> None:
    """Overcrowded on purpose: up to eight dimensions and six labels about one board."""
    assume(all(math.dist(a, b) > 4 for a in labels for b in labels if a is not b))
    board = Part("board", "Board", (Line(rectangle(0, 0, 220, 90)),))
    made = tuple(
        Dimension(Point(at, min(at, 80)), Point(at + size, min(at, 80) + size), side) for at, size, side in dimensions
    )
    view = View(
        "board", "Board", (board,), made, tuple(Label(f"label {i}", Point(x, y)) for i, (x, y) in enumerate(labels))
    )
    drawn = annotate("jig", view, units)
    written = [text.words for text in drawn.writing.texts]
    assert len([w for w in written if w.startswith("label")]) == len(labels)
    sheet = _bare_sheet((*drawn.parts, drawn.writing), drawn.box)
    assert faults(sheet) == []


def _bare_sheet(groups: tuple[Group, ...], box: Bounds) -> Sheet:
    page = paper.Paper("bare", box.width, box.height, box.grown(1))
    return Sheet("bare", "bare", page, (Layer("template", "Template", groups),), 1, 1)


def test_a_sheet_with_words_on_a_line_is_found_out() -> None:
    """The check itself can fail: words written across an edge, and words upon words."""
    board = Part("board", "Board", (Line(rectangle(0, 0, 50, 30)),))
    drawn = annotate("jig", View("board", "Board", (board,)), "mm")
    text = Text(Point(-5, 10), "over the edge", 3.5)
    bad = Group("bad", "Bad", texts=(text, text.moved(1, 1)))
    found = " ".join(faults(_bare_sheet((*drawn.parts, bad), drawn.box.grown(20))))
    assert "touch a line of jig-board" in found
    assert "touch 'over the edge'" in found


@pytest.mark.slow
@pytest.mark.parametrize(("page", "enough"), [("100x100 mm", "A4"), ("A5", "A4")])
def test_a_page_too_small_names_one_that_is_not(page: str, enough: str) -> None:
    with pytest.raises(CannotBuild, match=r"can't go on paper of .*a template is never made smaller") as refused:
        sled_sheets(page)
    assert refused.value.problems[0].suggests("mm") == f"the smallest paper that holds it is {enough}"


@pytest.mark.slow
def test_where_no_paper_is_large_enough_that_is_said() -> None:
    """200 m on A4 are more pages than anybody joins, and so they are on A0."""
    part = Part("long", "Long", (Line(rectangle(0, 0, 200_000, 20)),))
    drawing = Drawing("long", "long stick", "to be long", (View("long", "Long", (part,)),), ("mind it",))
    with pytest.raises(CannotBuild, match="long stick can't go on paper of 210 mm by 297 mm") as refused:
        compose.compose(Job("jig", "Jig", "settings", "mm", "abc123"), [drawing], paper.named("A4"))
    assert [p.suggests("mm") for p in refused.value.problems] == ["no common paper holds it"]


@pytest.mark.slow
def test_the_zone_stands_in_for_a_plate_the_page_cannot_hold() -> None:
    small, large = sled_sheets("A4"), sled_sheets("A2")
    for bundle in (small, large):
        words = {text.words for g in bundle.sheets[0].groups() for text in g.texts}
        assert {"gap 9.92", "key 9.92", "over all 29.86", "key face to centre 14.93"} <= words
    assert bounds(group(small, 0, "sled-plate")).width < 100
    # Both ends of the face go on to the next 5 mm: 14.93 + 89.68 and 89.68 + 9.97 − 14.93 from the cutter's centre.
    assert bounds(group(large, 0, "sled-plate")).width == pytest.approx(105 + 85 + 40)


def test_more_cautions_than_the_square_holds_are_refused() -> None:
    with pytest.raises(ValueError, match="more than the square of 100 mm holds"):
        furniture.square_words(("a long caution about everything that turns " * 8,) * 8)


def test_a_long_table_goes_on_over_pages_with_its_headings() -> None:
    plan = find("sled").plan({"finger": 3.0, "cutter": 3.0, "board": 240.0, "thickness": 6.0})
    job = Job("sled", "Sled", "settings", "mm", "abc123")
    stick: list[Drawing] = [d for d in plan.drawings if d.name == "stick"]
    sheets = compose.compose(job, stick, paper.named("A4")).sheets
    words = [text.words for sheet in sheets for g in sheet.groups() for text in g.texts]
    assert words.count("Front from") == words.count("End from") > 1
    assert {str(step) for step in range(1, 41)} <= set(words)
