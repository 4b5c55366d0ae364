"""The order of work: each step with the box's own numbers, holds where they belong, batches that mate."""

from __future__ import annotations

import itertools
from pathlib import Path

import pytest

from jigs import order
from jigs.box import work_out
from jigs.boxfile import load
from jigs.drawing import Table
from jigs.lengths import Units
from jigs.wording import read_out
from tests.boxes import METRIC, worked
from tests.test_rack import composed, read_box, written

SAMPLES = Path(__file__).parent.parent / "samples"


@pytest.mark.parametrize(
    ("units", "page"), [("mm", "A4"), ("mm", "Letter"), ("mm", "A3"), ("in", "A4"), ("in", "Letter"), ("in", "A3")]
)
def test_the_order_of_work_is_legible(units: Units, page: str) -> None:
    box = work_out(load(SAMPLES / ("recipe-box.toml" if units == "mm" else "recipe-box-inch.toml")))
    assert composed(box, order.drawings(box), page) == []


def test_the_steps_of_the_metric_reference_box() -> None:
    """Worked values: gap 9.9, spacer 9.95, over all 29.8, rip to 89.5, projection 18.3, diagonals 0.5 apart 0.11°."""
    said = written(order.drawings(worked()))
    for words in (
        "Key 9.9 mm, spacer 9.95 mm",
        "Cutter 18.3 mm above the table, 12.3 mm above the plate",
        "Gap 9.9 mm with a gauge block; across cutter and key 29.8 mm",
        "all sides 89.5 mm wide",
        "Leave the boards 90 mm wide: what is too much comes off last",
        "8 clamps, cauls hollowed 1.3 mm over the fingers. Glue 0.9 g",
        "within 0.5 mm; so far apart the box leans by 0.11 degrees",
    ):
        assert words in said
    level = written(order.drawings(worked(box__height="89.5")))
    assert "Leave the boards 89.5 mm wide: the joint takes all of it." in level
    assert "Rip" not in level
    assert "Rip to 92.5 mm, 3 mm over: the rest comes off last" in written(order.drawings(worked(box__height="96")))


def test_all_holds_of_a_whole_box_in_their_order() -> None:
    box = work_out(load(SAMPLES / "recipe-box.toml"))
    held = [read_out(step.words, "mm") for _, steps in order.stations(box) for step in steps if step.hold]
    starts = ("gap 9.92 mm", "test joint", "stops set", "lid fit", "hole-saw clamp-up")
    assert len(held) == len(starts)
    assert all(words.startswith(start) for words, start in zip(held, starts, strict=True))
    assert "plunge trial in scrap" in held[2]
    said = written(order.drawings(box))
    assert said.count("HOLD. Teacher signs before the next power on") == len(held)


def test_a_plain_box_has_only_steps_of_what_it_has() -> None:
    said = written(order.drawings(worked()))
    for absent in ("Groove the inner", "Rabbets", "shell", "lid fit", "Blank", "triangle"):
        assert absent not in said
    assert [title for title, _ in order.stations(worked())][-2:] == ["flush", "finish"]


def test_steps_are_numbered_on_from_sheet_to_sheet() -> None:
    box = work_out(load(SAMPLES / "recipe-box.toml"))
    tables = [item for drawing in order.drawings(box) for item in drawing.body if isinstance(item, Table)]
    numbers = [int(str(row[0])) for table in tables if table.name == "steps" for row in table.rows]
    assert numbers == list(range(1, len(numbers) + 1))
    assert all(row[-1] is None for table in tables for row in table.rows)  # a box to tick or to sign in


def test_batches_mate_at_opposite_corners() -> None:
    """Going round the box L1, S1, L2, S2 seen from outside, each corner joins a right end and the next left end."""
    right_of, left_of = {"front": 1, "right end": 2, "back": 3, "left end": 4}, {"front": 4, "right end": 1}
    left_of |= {"back": 2, "left end": 3}
    said = {row[0]: (row[1], row[2]) for row in order.batches(worked()).rows}
    a = {right_of["front"], left_of["right end"], right_of["back"], left_of["left end"]}
    b = {left_of["front"], right_of["right end"], left_of["back"], right_of["left end"]}
    assert (a, b) == ({1, 3}, {2, 4})
    assert said["A"] == ("1 and 3", "the right of front and back, the left of both ends")
    assert said["B"] == ("2 and 4", "the left of front and back, the right of both ends")


def test_which_face_looks_at_you() -> None:
    """A board turned in the mind: up is away from the key, the operator's view of the outer face turns with it.

    Out of the paper is the outer face. With the key on the right "up" points left, so "right" points up: the left end
    stands on the table. Seen on its inner face right and left change places. The key on the left is the mirror image.
    """
    for side, (batch, down) in itertools.product(("right", "left"), (("A", "right"), ("B", "left"))):
        outer_down = "left" if side == "right" else "right"
        fronts = "outside" if down == outer_down else "inside"
        ends = "inside" if down == outer_down else "outside"
        assert order.facing(side)[batch] == (fronts, ends)  # type: ignore[arg-type]  # product loses the literal


def test_several_cuts_and_separate_stacks_are_told() -> None:
    narrow = written(order.drawings(worked(joint__cutter="6")))
    assert "Make every socket in 2 cuts" in narrow
    apart = written(order.drawings(worked(joint__method="separately")))
    assert "Front, then back: bottom edge against the key" in apart
    assert "for the first position with the spacer 9.95 mm between key and board" in apart
    assert "no strip left above a top socket" in apart
    for of_a_stack in ("Batch", "batch", "mates", "1 A", "of A", "stack front"):
        assert of_a_stack not in apart, of_a_stack


def test_a_groove_that_runs_through_needs_no_stops() -> None:
    box = read_box(METRIC.replace("finger = 10\ncutter = 10", "finger = 10\ncutter = 10\n[groove]\ncutter = 3\n"))
    said = written(order.drawings(box))
    assert box.groove is not None
    assert ("through in all four" in said) == (not box.groove.stopped)
    assert ("plunge trial" in said) == bool(box.groove.stopped)


def test_mates_of_another_wood_are_told_for_a_week_away() -> None:
    """Black cherry and sugar maple, 89.5 mm, 3 %: USDA Wood Handbook FPL-GTR-282 Table 13-5."""
    said = written(order.drawings(worked(sides__species="black cherry", sides__ends_species="sugar maple")))
    assert "0.28 mm at the top of a corner when they lose 3 % of moisture" in said
    assert "stickers" in said


def test_no_joint_no_order() -> None:
    assert order.drawings(worked(joint__cutter="12")) == ()
