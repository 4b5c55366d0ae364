"""The stock sheet: strips, boards, cut list. That no plan beats the one drawn is held in test_trade_stock."""

from __future__ import annotations

import math
import re
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base.drawing import around
from jigs.base.lengths import Units
from jigs.box import details, rack, stock_card
from jigs.box import sheets as box_sheets
from jigs.box.chain import Box, as_data, work_out
from jigs.boxfile.reading import load, read
from jigs.trade.stock import Piece
from layout import make
from tests.boxes import METRIC, WHOLE_INCHES, worked
from tests.legibility import faults
from tests.words import words_of

SAMPLES = Path(__file__).parent.parent / "samples"
STOCK = METRIC + "[stock]\ntrim = 0\nboards = [{ length = 2400, width = 120, thickness = 20 }]\n"


def faults_of(box: Box, page: str, *names: str) -> list[str]:
    """Return what is wrong with some cards of a box on a page."""
    made = make.draw(box.file, names, make.Printing(paper=page))
    return [fault for sheet in made.cards.sheets for fault in faults(sheet)]


def said_by(box: Box) -> str:
    """Return what the card of the stock says."""
    return words_of(stock_card.card(box), box.file.units)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("units", "page"), [("mm", "A4"), ("mm", "Letter"), ("mm", "A3"), ("in", "A4"), ("in", "Letter"), ("in", "A3")]
)
def test_the_stock_sheet_is_legible(units: Units, page: str) -> None:
    box = work_out(load(SAMPLES / ("recipe-box.toml" if units == "mm" else "recipe-box-inch.toml")))
    assert faults_of(box, page, "stock") == []


def test_the_strip_of_the_metric_reference_box() -> None:
    """Worked value: 2·(240 + 160 + 4·0.3) + 3·3.2 = 812; two such strips and a cut come out of 2400."""
    box = read_box(STOCK)
    said = said_by(box)
    assert "Strip, 812 × " in said
    assert "strip of the sides 812" in said
    more = "board 1 would give the sides of 2 boxes, one of 2442.4 those of one more"
    assert more in said  # three strips, two cuts: 3·812 + 2·3.2
    assert "front and back\n2\nstrip, 95 × 15\n12\n–\n240.6" in said
    assert "The grain runs round three corners" in said
    assert "Crosscut 8 test pieces, unripped." in said  # 3 trials of two ends and a quarter: 7.5


def test_the_test_pieces_are_wood_beside_the_strips() -> None:
    """Worked values: 8·(150 + 3.2) = 1225.6; of 2400 less 812 and a cut 1584.8 is left, ten pieces; of 1500 four."""
    box = read_box(STOCK)
    assert box.stock is not None
    [more] = rack.trial_stock(box, box.stock)
    assert (more.count, more.found, more.short) == (8, 10, 0)
    assert (more.length, *more.left) == pytest.approx((1225.6, 1584.8))
    assert more.volume == pytest.approx(1225.6 * 94.5 * 15 / 1e9)
    said = said_by(box)
    assert "take 1225.6 of the sides’ wood beside the strip, saw cuts counted." in said
    assert "The boards of the sides leave 1584.8: enough." in said
    short = read_box(STOCK.replace("length = 2400", "length = 1500"))
    assert "The boards of the sides leave 684.8: enough for 4. Get wood for the other 4." in said_by(short)
    none = read_box(METRIC + "[stock]\n")
    assert "8 test pieces" in said_by(none)
    assert "1256 × 95 × 15" in said_by(none)  # with a trim at each end


def test_a_planed_board_need_be_no_thicker_than_the_sides() -> None:
    """Sides of 12 are sawn from 15, to be planed; of a planed board 12 is enough, and stands in the cut list."""
    assert _missing(STOCK.replace("thickness = 20", "thickness = 12"))
    planed = STOCK.replace("thickness = 20", "thickness = 12, planed = true")
    assert not _missing(planed)
    assert "strip, 95 × 12\n12\n" in said_by(read_box(planed))
    assert _missing(planed.replace("thickness = 12, planed", "thickness = 11.9, planed"))


def _missing(text: str) -> tuple[Piece, ...]:
    box = read_box(text)
    assert box.stock
    assert box.stock.plan
    return box.stock.plan.missing


def test_test_pieces_come_from_a_board_that_is_whole() -> None:
    """Of 1500 less 812 four pieces are left; another of that size, less two trims of 0, gives nine."""
    two = STOCK.replace("length = 2400", "count = 2, length = 1500")
    box = read_box(two)
    assert box.stock is not None
    [more] = rack.trial_stock(box, box.stock)
    assert (more.found, more.short, more.untouched) == (4 + 9, 0, ("board 1",))
    assert "The boards of the sides leave 684.8; board 1 is there whole: enough." in said_by(box)
    assert not list(rack.trials_to_get(box))
    other = two.replace("count = 2, length = 1500", "length = 1500").replace(
        "}]", "}, { length = 400, width = 100, thickness = 20, count = 3 }]"
    )
    box = read_box(other)
    [more] = rack.trial_stock(box, box.stock)  # type: ignore[arg-type]
    assert more.untouched == ("board 2", "board 2")  # two pieces each
    assert "2 of board 2 whole" in said_by(box)


def read_box(text: str) -> Box:
    return work_out(read(text, "box.toml"))


def test_every_saw_cut_of_the_strip_is_a_corner() -> None:
    box = read_box(STOCK)
    assert box.stock is not None
    [view] = [view for view in rack.views(box.stock) if view.name == "strip-1"]
    marks = [(label.words, label.at.x) for label in view.labels if str(label.words).startswith("corner")]
    assert [words for words, _ in sorted(marks, key=lambda mark: mark[1])] == [
        *("corner 4", "corner 1", "corner 2", "corner 3", "corner 4")
    ]


def test_a_short_rack_is_told() -> None:
    said = said_by(read_box(STOCK.replace("length = 2400", "length = 700")))
    assert "The grain runs round" in said
    said = said_by(read_box(STOCK.replace("width = 120", "width = 88")))
    assert "the strip of the sides" in said
    assert "812 × 90 × 15" in said  # a board as wide as those in hand does
    said = said_by(read_box(METRIC + "[stock]\n"))
    assert "The box file names no boards" in said


MIXED = (
    METRIC.replace("thickness = 12\n", 'thickness = 12\nspecies = "black walnut"\nends_species = "sugar maple"\n')
    + """[groove]
cutter = 6
[bottom]
thickness = 6
species = "teak"
[stock]
boards = [
  { length = 1500, width = 160, thickness = 21, species = "mahogany" },
  { length = 900, width = 100, thickness = 15, species = "Walnut, black", name = "long one" },
  { length = 600, width = 100, thickness = 15, species = "sugar maple" },
  { length = 400, width = 160, thickness = 9, species = "teak" },
]
"""
)
"""Sides of one wood, ends of another, a thin bottom of a third; and a wide thick board that is of none of them."""


def from_boards(box: Box) -> dict[str, list[str]]:
    """Return what comes out of which board."""
    assert box.stock
    assert box.stock.plan
    return {opened.board.name: [piece.name for piece in opened.pieces] for opened in box.stock.plan.boards}


def test_each_part_comes_from_its_own_wood() -> None:
    box = read_box(MIXED)
    expected = {"board 2": ["front, back"], "board 3": ["left end, right end"], "board 4": ["bottom"]}
    assert from_boards(box) == expected
    data = as_data(box)["stock"]
    assert [(board["name"], board["species"], board["pieces"]) for board in data["boards"]] == [
        ("long one", "black walnut", ["front, back"]),
        ("board 3", "sugar maple", ["left end, right end"]),
        ("board 4", "teak", ["bottom"]),
    ]
    assert [strip["species"] for strip in data["strips"]] == ["black walnut", "sugar maple"]
    assert data["missing"] == []


@pytest.mark.slow
def test_sides_and_ends_of_two_woods_are_two_strips() -> None:
    """Worked values: 2·240.6 + 3.2 + 30 = 514.4; 2·160.6 + 3.2 + 30 = 354.4."""
    box = read_box(MIXED)
    said = said_by(box)
    assert "Strip of black walnut, 514.4 × 94.5 × 15" in said
    assert "Strip of sugar maple, 354.4 × 94.5 × 15" in said
    assert "Front and back are of black walnut, the end boards of sugar maple" in said
    assert "the grain runs round no corner" in said
    assert "corners 1 and 2" in said  # the cut between front and back parts two corners
    assert "like a book" not in said
    assert "board 2, long one, black walnut" in said
    assert "900 × 100 × 15" in said
    [note] = [p for p in box.problems if (p.severity, p.where) == ("note", "sides.ends_species")]
    assert "the grain runs round no corner" in note.says("mm")
    assert "resawn" not in details.details(box)
    assert faults_of(box, "A4", "stock") == []


def test_one_wood_by_two_names_is_one_strip() -> None:
    box = read_box(MIXED.replace('ends_species = "sugar maple"', 'ends_species = "Walnut, black"'))
    assert box.stock
    assert not box.stock.mixed
    assert from_boards(box)["board 2"] == ["front, right end, back, left end"]


def test_the_test_pieces_are_half_of_each_wood() -> None:
    """Worked values: four of 150 + 3.2 of each; of 900 less the trims, the strip and a cut 382.4 is left."""
    box = read_box(MIXED)
    assert box.stock
    walnut, maple = rack.trial_stock(box, box.stock)
    assert (walnut.wood, walnut.count, walnut.found) == ("black walnut", 4, 2)
    assert (maple.wood, maple.count, maple.found) == ("sugar maple", 4, 1)
    assert (walnut.length, *walnut.left) == pytest.approx((612.8, 900 - 30 - 484.4 - 3.2))
    assert "4 of the test pieces take 612.8 of sugar maple beside the strip, saw cuts counted" in said_by(box)


@pytest.mark.parametrize(
    ("gone", "part", "wood", "size"),
    [
        ("Walnut, black", "front, back", "black walnut", (514.4, 90.0, 15.0)),
        ("sugar maple", "left end, right end", "sugar maple", (354.4, 90.0, 15.0)),
    ],
)
def test_what_the_rack_lacks_is_said_with_its_wood_and_what_to_get(
    gone: str, part: str, wood: str, size: tuple[float, ...]
) -> None:
    text = re.sub(rf'  {{[^}}]*species = "{gone}".*\n', "", MIXED)
    box = read_box(text)
    [problem] = [problem for problem in box.problems if problem.where == "stock.boards"]
    length, width, thickness = (f"{math.ceil(one)} mm" for one in size)
    assert problem.says("mm") == f"the rack has no board of {length} × {width} × {thickness} of {wood} for the {part}"
    assert problem.suggests("mm") == "get one of that size or larger"
    assert f"the {part}\n{wood}\n{' × '.join(str(math.ceil(one)) for one in size)}" in said_by(box)
    [missing] = as_data(box)["stock"]["missing"]
    assert (missing["name"], missing["species"]) == (part, wood)
    assert (missing["length"], missing["width"], missing["thickness"]) == pytest.approx(size)
    bought = ", ".join(f"{key} = {one}" for key, one in zip(("length", "width", "thickness"), size, strict=True))
    more = text.replace("boards = [\n", f'boards = [\n  {{ {bought}, species = "{wood}" }},\n')
    assert not [problem for problem in read_box(more).problems if problem.where == "stock.boards"]


def test_a_board_of_no_named_wood_serves_any_and_goes_last() -> None:
    nameless = MIXED.replace(', species = "mahogany"', "")
    assert "board 1" not in from_boards(read_box(nameless))
    for wood in ("Walnut, black", "sugar maple", "teak"):
        without = re.sub(rf'  {{[^}}]*species = "{wood}".*\n', "", nameless)
        assert "board 1" in from_boards(read_box(without))
        assert not [problem for problem in read_box(without).problems if problem.where == "stock.boards"]


def test_a_thin_inch_bottom_comes_from_the_board_that_is_meant_for_it() -> None:
    """A bottom of 1/4 in and 1/16 in a face is 3/8 in."""
    text = (
        WHOLE_INCHES.replace('thickness = "3/8"\ntongue = 0.240', 'thickness = "1/4"\ntongue = 0.240')
        + """boards = [
  { length = 60, width = 8, thickness = 1 },
  { length = 14, width = 7, thickness = "3/8" },
]
"""
    )
    assert from_boards(read_box(text))["board 2"] == ["bottom"]


def test_the_sample_saws_its_bottom_from_the_board_that_is_meant_for_it() -> None:
    for name in ("recipe-box.toml", "recipe-box-inch.toml"):
        assert from_boards(work_out(load(SAMPLES / name)))["board 3"] == ["bottom"]


def test_unnamed_sides_from_boards_of_two_woods_are_told() -> None:
    text = (
        METRIC
        + """[stock]
boards = [
  { length = 600, width = 100, thickness = 15, species = "teak" },
  { length = 600, width = 100, thickness = 15, species = "sugar maple" },
]
"""
    )
    [problem] = [problem for problem in read_box(text).problems if problem.where == "sides.species"]
    assert "the plan saws them from boards of teak and sugar maple" in problem.says("mm")
    named = text.replace("thickness = 12\n", 'thickness = 12\nspecies = "teak"\n')
    assert not [problem for problem in read_box(named).problems if problem.where == "sides.species"]


def test_a_misspelt_wood_of_a_board_is_told() -> None:
    text = MIXED.replace('"Walnut, black"', '"black wallnut"')
    [problem] = [problem for problem in read_box(text).problems if problem.where == "stock.boards[2].species"]
    assert "the table of woods has no black wallnut" in problem.says("mm")
    assert problem.suggests("mm") == 'write "black walnut" if that is its wood'
    plywood = MIXED.replace('"mahogany"', '"birch plywood"')
    assert not [problem for problem in read_box(plywood).problems if problem.where.startswith("stock.boards")]


def test_who_lists_no_boards_is_not_warned_of_them() -> None:
    for rest in ("[stock]\n", "[stock]\nboards = []\n"):
        box = read_box(MIXED.split("[stock]")[0] + rest)
        assert not [problem for problem in box.problems if problem.where.startswith("stock.boards")]


@pytest.mark.slow
@pytest.mark.parametrize("page", ["A4", "Letter", "A3"])
def test_the_stock_sheet_of_long_names_is_legible(page: str) -> None:
    text = MIXED.replace('name = "long one"', 'name = "from the barn, left side"')
    text = text.replace('"mahogany"', '"Red oak: water, laurel, willow", name = "wwwwwwwwwwwwwwwwwwwwwwww"')
    text = text.replace("width = 160, thickness = 21", "width = 180, thickness = 21")
    box = read_box(text + "trim = 0\n" + "[lid]\nthickness = 18\nspecies = 'Red oak: water, laurel, willow'\n")
    assert from_boards(box)["board 1"] == ["lid"]
    assert faults_of(box, page, "stock") == []


def test_no_stock_no_sheet() -> None:
    assert "stock" not in [card.name for card in box_sheets.sheets(worked()).cards]
    assert read_box(STOCK.replace("cutter = 10", "cutter = 12")).stock is None


@pytest.mark.slow
@settings(max_examples=4)
@given(st.integers(80, 400), st.integers(80, 400), st.integers(40, 200), st.integers(400, 3000))
def test_pieces_lie_in_their_board(length: int, width: int, height: int, board: int) -> None:
    sizes = {"box__length": str(length), "box__width": str(width), "box__height": str(height)}
    rack_board = f"[stock]\nboards = [{{ length = {board}, width = {height + 10}, thickness = 20 }}]\n"
    box = worked(METRIC + rack_board, **sizes)
    for view in rack.views(box.stock) if box.stock else ():
        frame = around(part.bounds for part in view.parts if not part.name.endswith("-grain"))
        assert frame.width <= rack.LONGEST + 1e-6
    assert faults_of(box, "A4", "stock") == []


def test_the_cut_list_has_every_part() -> None:
    box = work_out(load(SAMPLES / "recipe-box.toml"))
    assert box.stock is not None
    table = rack.cut_list(box, box.stock)
    names = [str(row[0]).split(",")[0] for row in table.rows]
    assert names == ["front and back", "left end and right end", "bottom", "lid", "handle", "test pieces"]
    assert [part.count for part in rack.finished(box)] == [2, 2, 1, 1, 1]


def test_ends_of_another_thickness_have_a_strip_and_test_pieces_of_their_own() -> None:
    """Sides of 12 and ends of 9 are planed from 15 and from 12, with 1.5 off each face."""
    box = read_box(STOCK.replace("[sides]\n", "[sides]\nends_thickness = 9\n"))
    said = said_by(box)
    assert "× 15" in said
    assert "× 12" in said
    assert "Plane front and back 12, then the end boards 9 thick, test pieces with both" in said
    assert box.stock is not None
    cut_list = rack.cut_list(box, box.stock)
    pieces = [(row[1], row[3]) for row in cut_list.rows if row[0] == "test pieces"]
    assert pieces == [("4", 12.0), ("4", 9.0)]
