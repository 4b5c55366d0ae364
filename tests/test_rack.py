"""The stock sheet: strips, boards, cut list. That no plan beats the one drawn is held in test_trade_stock."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs import rack
from jigs.box import Box, work_out
from jigs.boxfile import load, read
from jigs.drawing import Drawing, Notes, Table, View, around
from jigs.lengths import Units
from jigs.wording import read_out
from layout import compose, paper
from layout.job import Job
from tests.boxes import METRIC, worked
from tests.legibility import faults

SAMPLES = Path(__file__).parent.parent / "samples"
STOCK = METRIC + "[stock]\ntrim = 0\nboards = [{ length = 2400, width = 120, thickness = 20 }]\n"


def composed(box: Box, drawings: tuple[Drawing, ...], page: str) -> list[str]:
    """Return what is wrong with the sheets on a page."""
    job = Job("box", box.file.title, "settings", box.file.units, "abc123")
    return [fault for sheet in compose.compose(job, drawings, paper.named(page)).sheets for fault in faults(sheet)]


def written(drawings: tuple[Drawing, ...], units: Units = "mm") -> str:
    """Return all words of some drawings, a row of a table or a paragraph a line."""
    rows: list[str] = []
    for drawing in drawings:
        for item in drawing.body:
            if isinstance(item, Notes):
                rows += [read_out(words, units) for words in item.paragraphs]
            elif isinstance(item, View):
                rows += [read_out(item.title, units), *(read_out(label.words, units) for label in item.labels)]
            else:
                rows += [" | ".join(_cell(cell, units) for cell in row) for row in item.rows]
    return "\n".join(rows)


def _cell(cell: object, units: Units) -> str:
    if cell is None:
        return "[ ]"
    return f"{cell:g}" if isinstance(cell, float) else read_out(cell, units)  # type: ignore[arg-type]  # words


@pytest.mark.parametrize(
    ("units", "page"), [("mm", "A4"), ("mm", "Letter"), ("mm", "A3"), ("in", "A4"), ("in", "Letter"), ("in", "A3")]
)
def test_the_stock_sheet_is_legible(units: Units, page: str) -> None:
    box = work_out(load(SAMPLES / ("recipe-box.toml" if units == "mm" else "recipe-box-inch.toml")))
    assert composed(box, rack.drawings(box), page) == []


def test_the_strip_of_the_metric_reference_box() -> None:
    """Worked value: 2·(240 + 160 + 4·0.3) + 3·3.2 = 812; two such strips and a cut come out of 2400."""
    box = read_box(STOCK)
    said = written(rack.drawings(box))
    assert "Strip 812 mm by" in said
    assert "strip of the sides 812 mm" in said
    assert "board 1 | 2400 | 2 | 2442.4" in said  # three strips and two cuts: 3·812 + 2·3.2
    assert "front and back | 2 | strip, 95 mm × 15 mm | 12 | 89.5 | 240.6" in said
    assert "The grain runs round three corners" in said
    assert "8 of the same stick" in said  # 3 trials of two ends and a quarter: 7.5


def test_the_test_pieces_are_wood_beside_the_strips() -> None:
    """Worked values: 8·(150 + 3.2) = 1225.6; of 2400 less 812 and a cut 1584.8 is left, ten pieces; of 1500 four."""
    box = read_box(STOCK)
    assert box.stock is not None
    more = rack.trial_stock(box, box.stock)
    assert (more.count, more.found, more.short) == (8, 10, 0)
    assert (more.length, *more.left) == pytest.approx((1225.6, 1584.8))
    assert more.volume == pytest.approx(1225.6 * 94.5 * 15 / 1e9)
    said = written(rack.drawings(box))
    assert "1225.6 mm more of the wood of the sides, 8 saw cuts with them; 1584.8 mm is left" in said
    assert "is left of the boards of the sides, enough." in said
    short = read_box(STOCK.replace("length = 2400", "length = 1500"))
    assert "684.8 mm is left of the boards of the sides, not enough for 4 of the 8" in written(rack.drawings(short))
    none = read_box(METRIC + "[stock]\n")
    assert "8 saw cuts with them: get them with it." in written(rack.drawings(none))


def read_box(text: str) -> Box:
    return work_out(read(text, "box.toml"))


def test_every_saw_cut_of_the_strip_is_a_corner() -> None:
    box = read_box(STOCK)
    [view] = [item for item in rack.drawings(box)[0].body if isinstance(item, View) and item.name == "strip-1"]
    marks = [(label.words, label.at.x) for label in view.labels if str(label.words).startswith("corner")]
    assert [words for words, _ in sorted(marks, key=lambda mark: mark[1])] == [
        *("corner 4", "corner 1", "corner 2", "corner 3", "corner 4")
    ]


def test_a_short_rack_is_told() -> None:
    said = written(rack.drawings(read_box(STOCK.replace("length = 2400", "length = 700"))))
    assert "The grain runs round" in said
    said = written(rack.drawings(read_box(STOCK.replace("width = 120", "width = 90"))))
    assert "The rack has no board for strip of the sides: 812 mm by 94.5 mm by 15 mm" in said
    said = written(rack.drawings(read_box(METRIC + "[stock]\n")))
    assert "The box file names no boards" in said


def test_no_stock_no_sheet() -> None:
    assert rack.drawings(worked()) == ()
    assert rack.drawings(read_box(STOCK.replace("cutter = 10", "cutter = 12"))) == ()


@settings(max_examples=4)
@given(st.integers(80, 400), st.integers(80, 400), st.integers(40, 200), st.integers(400, 3000))
def test_pieces_lie_in_their_board(length: int, width: int, height: int, board: int) -> None:
    sizes = {"box__length": str(length), "box__width": str(width), "box__height": str(height)}
    rack_board = f"[stock]\nboards = [{{ length = {board}, width = {height + 10}, thickness = 20 }}]\n"
    box = worked(METRIC + rack_board, **sizes)
    for drawing in rack.drawings(box):
        for view in (item for item in drawing.body if isinstance(item, View)):
            frame = around(part.bounds for part in view.parts if not part.name.endswith("-grain"))
            assert frame.width <= rack.LONGEST + 1e-6
            if view.name.startswith("board"):
                outline = view.parts[0].bounds
                assert all(outline.holds(part.bounds, 1e-6) for part in view.parts)
    assert composed(box, rack.drawings(box), "A4") == []


def test_the_cut_list_has_every_part() -> None:
    box = work_out(load(SAMPLES / "recipe-box.toml"))
    [table] = [item for item in rack.drawings(box)[0].body if isinstance(item, Table) and item.name == "cut-list"]
    names = [str(row[0]).split(",")[0] for row in table.rows]
    assert names == ["front and back", "left end and right end", "bottom", "lid", "handle", "test pieces"]
    assert [part.count for part in rack.finished(box)] == [2, 2, 1, 1, 1]
