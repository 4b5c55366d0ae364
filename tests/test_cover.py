"""The cover: everything to know on it, worst first; every setting; measured and chosen apart."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base.drawing import Notes, Table, View
from jigs.base.lengths import Units
from jigs.base.wording import read_out
from jigs.box import cover
from jigs.box.chain import Box, work_out
from jigs.boxfile.reading import load
from tests.boxes import METRIC, worked
from tests.test_rack import composed, read_box, written

SAMPLES = Path(__file__).parent.parent / "samples"
PARTS = "[groove]\ncutter = 6\n[bottom]\nthickness = 10\n[lid]\nthickness = 18\n[handle]\nsaw = 38\n"


def warned(box: Box) -> list[str]:
    """Return the paragraphs of what to know before cutting, in their order."""
    blocks = [item for item in cover.drawings(box)[0].body if isinstance(item, Notes) and "problems" in item.name]
    return [read_out(words, box.file.units) for block in blocks for words in block.paragraphs]


@pytest.mark.slow
@pytest.mark.parametrize(
    ("units", "page"), [("mm", "A4"), ("mm", "Letter"), ("mm", "A3"), ("in", "A4"), ("in", "Letter"), ("in", "A3")]
)
def test_the_cover_is_legible(units: Units, page: str) -> None:
    box = work_out(load(SAMPLES / ("recipe-box.toml" if units == "mm" else "recipe-box-inch.toml")))
    assert composed(box, cover.drawings(box), page) == []


@pytest.mark.parametrize("name", ["recipe-box.toml", "recipe-box-inch.toml"])
def test_every_problem_is_on_the_cover_worst_first(name: str) -> None:
    box = work_out(load(SAMPLES / name))
    said = warned(box)
    assert len(said) == len(box.problems) > cover.TOGETHER
    for words, problem in zip(said, box.problems, strict=True):
        assert problem.says(box.file.units) in words
        assert problem.where in words
        assert problem.suggests(box.file.units)[1:] in words
    severities = [words.split(",")[0] for words in said]
    assert severities == sorted(severities, key=["STOP", "WARNING", "NOTE"].index)


def test_a_stopped_box_has_a_cover_that_says_why() -> None:
    box = worked(joint__cutter="12")
    assert box.numbers is None
    assert warned(box)[0].startswith("STOP, joint.finger: ")
    assert not [item for drawing in cover.drawings(box) for item in drawing.body if isinstance(item, View)]
    assert composed(box, cover.drawings(box), "A4") == []


def test_the_settings_of_the_metric_reference_box() -> None:
    """Worked values: gap 9.9, spacer 9.95, cut 12.3, over all 29.8, rip to 89.5, area 0.2874 m² with bottom and lid."""
    said = written(cover.drawings(worked()))
    for words in (
        "gap 9.9 mm; key 9.9 mm, play on it 0.1 mm; spacer 9.95 mm; cut 12.3 mm above the plate",
        "across cutter and key 29.8 mm",
        "rip to 89.5 mm; 5 positions",
        "front and back | 2 | 240.6 | 89.5 | 12 | not named",
        "Inside 216 mm by 136 mm.",
        "Glue 0.9 g",
        "8 test pieces: 2 ends a trial, 3 trials, and a quarter over",
    ):
        assert words in said


def test_every_station_of_a_whole_box_is_in_one_table() -> None:
    box = work_out(load(SAMPLES / "recipe-box.toml"))
    [table] = [
        item for drawing in cover.drawings(box) for item in drawing.body if getattr(item, "name", "") == "settings"
    ]
    assert isinstance(table, Table)
    assert [row[0] for row in table.rows] == ["sled", "groove", "bottom", "lid", "handle", "shell"]
    said = written(cover.drawings(box))
    assert "stops for the ends 143.8 mm left and 143.8 mm right of the centre" in said
    assert box.lid is not None
    assert "plug 175.4 mm by 124.23 mm" in said


def test_measured_and_chosen_stand_apart() -> None:
    box = worked(METRIC + PARTS)
    [table] = [item for item in cover.drawings(box)[-1].body if isinstance(item, Table)]
    measured = {str(row[0]): row[1] for row in table.rows}
    assert measured["joint cutter"] == 10.0
    assert measured["handle saw"] == 38.0
    assert all(row[2] is None for row in table.rows)  # a box for what was really read
    said = written(cover.drawings(box))
    assert "Chosen: box length 240 mm, box width 160 mm, joint finger 10 mm." in said
    assert "Left out of the file, so as usual: sides rings 0°, joint clearance 0.1 mm" in said
    assert "joint cutter 10 mm," not in said


def test_several_cuts_give_several_gaps() -> None:
    """Worked value: gaps from near to far end at socket less cutter more than the first."""
    box = worked(joint__cutter="6")
    assert box.numbers is not None
    assert len(box.numbers.passes.gaps) == 2
    assert "gaps, near cut to far cut, " in written(cover.drawings(box))


def test_the_volume_of_finish() -> None:
    """0.2874 m², 3 coats at 10 m² a litre and three tenths over: 0.112 l (worked value, with bottom and lid)."""
    box = read_box(METRIC + "[lid]\nthickness = 18\noverhang = 5\n")
    assert box.finish is not None
    assert box.finish.area / 1e6 == pytest.approx(0.2874, abs=5e-5)
    assert "Finish 112 ml: 3 coats on 0.287 m², inside and out." in written(cover.drawings(box))


@pytest.mark.slow
@settings(max_examples=3)
@given(
    st.integers(80, 400), st.integers(80, 400), st.integers(35, 200), st.booleans(), st.sampled_from(["A4", "Letter"])
)
def test_any_box_has_a_legible_cover(length: int, width: int, height: int, whole: bool, page: str) -> None:
    sizes = {"box__length": str(length), "box__width": str(width), "box__height": str(height)}
    box = worked(METRIC + (PARTS if whole else ""), **sizes)
    assert composed(box, cover.drawings(box), page) == []
    assert len(warned(box)) == max(1, len(box.problems))
