"""Whole sheets: legible, inside the frame, proving their own scale, for any settings and any paper."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jigs.base.cards import Card, Sheets, Template
from jigs.base.catalogue import find
from jigs.base.drawing import Bounds, Colour, Dimension, Label, Line, Part, Point, Side, Table, Tinted, View, rectangle
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from layout.draw.annotate import annotate
from layout.pages import compose
from layout.pages.job import Job
from layout.sheet import paper
from layout.sheet.marks import Group, Layer, Sheet, Text
from tests.conftest import all_pages, pages_of, sled_sheets
from tests.legibility import faults

PAPERS = ("A4", "Letter", "A3", "Legal", "both", "300x400 mm")
units_of = st.sampled_from(["mm", "in"])


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
        bundle = all_pages(pages_of(plan, "sled", page, units))
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
    """Return a page just large enough, white where no printer reaches."""
    wide, high = box.width + 20, box.height + 20
    moved = tuple(group.moved(10 - box.left, 10 - box.bottom) for group in groups)
    return Sheet("bare", "bare", paper.Paper("bare", wide, high, box), (Layer("template", "Template", moved),), 1, 1)


def test_what_is_filled_or_hatched_without_an_outline_is_held_too() -> None:
    cut = Part("cut", "Cut", (Line(rectangle(0, 0, 20, 10)),), hatched=(rectangle(0, 0, 60, 10),))
    tinted = Part("tinted", "Tinted", fills=(Tinted(rectangle(0, 0, 20, 45), Colour(200, 180, 160)),))
    drawn = annotate("jig", View("both", "Both", (cut, tinted)), "mm")
    assert drawn.box == Bounds(0, 0, 60, 45)
    shown = [stroke.shape.bounds for group in drawn.parts for stroke in group.strokes]
    assert all(drawn.box.holds(bounds, 1e-6) for bounds in shown)


def test_a_sheet_with_words_on_a_line_is_found_out() -> None:
    """The check itself can fail: words written across an edge, and words upon words."""
    board = Part("board", "Board", (Line(rectangle(0, 0, 50, 30)),))
    drawn = annotate("jig", View("board", "Board", (board,)), "mm")
    text = Text(Point(-5, 10), "over the edge", 3.5)
    bad = Group("bad", "Bad", texts=(text, text.moved(1, 1)))
    found = " ".join(faults(_bare_sheet((*drawn.parts, bad), drawn.box.grown(20))))
    assert "touch a line of jig-board" in found
    assert "touch 'over the edge'" in found


LONG = View("long", "Long stick", (Part("long", "Long", (Line(rectangle(0, 0, 200_000, 20)),)),))


def test_where_no_paper_is_large_enough_that_is_said() -> None:
    """200 m on A4 are more pages than anybody joins, and so they are on A0."""
    sheets = Sheets((Card("jig", "Jig", "bench", (), ()),), (Template(LONG, "jig", "", "jig"),))
    with pytest.raises(CannotBuild, match="Long stick can't go on paper of 210 mm by 297 mm") as refused:
        compose.compose(Job("jig", "Jig", "settings", "mm", "abc123"), sheets, paper.named("A4"))
    assert [p.suggests("mm") for p in refused.value.problems] == ["no common paper holds it"]


@pytest.mark.slow
def test_a_page_too_small_names_one_that_is_not() -> None:
    with pytest.raises(CannotBuild, match=r"can't go on paper of .*a template is never made smaller") as refused:
        sled_sheets("60x60 mm")
    assert "the smallest paper that holds it is" in refused.value.problems[0].suggests("mm")


def test_a_long_table_goes_on_over_pages_with_its_headings() -> None:
    rows = tuple((str(number), float(number)) for number in range(1, 121))
    sheets = Sheets((Card("jig", "Jig", "bench", (), (Table("t", "Lengths", ("No.", "length"), rows),)),))
    cards, _ = compose.compose(Job("jig", "Jig", "settings", "mm", "abc123"), sheets, paper.named("A4"))
    words = [text.words for sheet in cards.sheets for g in sheet.groups() for text in g.texts]
    assert words.count("length") == words.count("No.") == len(cards.sheets) > 1
    assert {str(number) for number in range(1, 121)} <= set(words)
    assert [fault for sheet in cards.sheets for fault in faults(sheet)] == []
