"""The order of work: each step with the box's own numbers, holds where they belong, batches that mate."""

from __future__ import annotations

import itertools
import re
from pathlib import Path

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jigs.base import cautions
from jigs.base.lengths import Units
from jigs.base.wording import read_out
from jigs.box import glue_card, order
from jigs.box import sheets as box_sheets
from jigs.box.chain import Box, work_out
from jigs.boxfile import change
from jigs.boxfile.reading import load
from jigs.parts.joint import batches
from jigs.parts.part import Step
from tests import test_properties_box as any_box
from tests.boxes import METRIC, WHOLE_INCHES, WHOLE_METRIC, worked
from tests.conftest import examples
from tests.test_rack import read_box
from tests.words import words_of

SAMPLES = Path(__file__).parent.parent / "samples"


def said_of(box: Box) -> str:
    """Return every step, a line each."""
    return "\n".join(order.told(box))


def test_the_steps_of_the_metric_reference_box() -> None:
    """Worked values: gap 9.9, spacer 9.95, across both 29.8, rip to 89.5, above 18.3, diagonals 0.5 apart 0.11°."""
    said = said_of(worked())
    for words in (
        "Key 9.90 mm, spacer 9.95 mm",
        "Cutter 18.30 mm above the table, 12.30 mm above the plate",
        "Gap 9.90 mm with a gauge block; across key and cutter 29.80 mm",
        "Leave the wood 90 mm wide: the rest is planed off the jointed boards.",
        "Gauge 89.50 mm from the bottom edge of every board. Plane the top edges to the line by hand, 0.5 mm off",
        "8 clamps, cauls hollowed 1.3 mm over the fingers. Glue 0.9 g",
        "within 0.5 mm; so far apart the box leans by 0.11 degrees",
    ):
        assert words in said
    level = said_of(worked(box__height="89.5"))
    assert "Leave the wood 89.5 mm wide: the joint takes all of it." in level
    assert "Rip" not in level
    assert "top edges" not in level
    assert "Rip the wood of the sides to 90.00 mm while it is long" in said_of(worked(box__height="96"))


def test_all_holds_of_a_whole_box_in_their_order() -> None:
    box = work_out(load(SAMPLES / "recipe-box.toml"))
    held = [read_out(step.words, "mm") for _, steps in order.stations(box) for step in steps if step.hold]
    starts = (
        *("cutter tight", "gap 9.92 mm", "test joint", "fence and stops clamped", "groove 12 mm above the edge"),
        *("rabbets of the bottom", "tongue of the scrap", "rabbets of the lid", "plug measured", "hole saw in"),
    )
    assert len(held) == len(starts)
    assert all(words.startswith(start) for words, start in zip(held, starts, strict=True))
    said = said_of(box)
    assert said.count("HOLD POINT. The teacher signs before you switch on: ") == 6
    assert said.count("HOLD POINT. The teacher signs before you cut on: ") == 4


def test_a_plain_box_has_only_steps_of_what_it_has() -> None:
    said = said_of(worked())
    for absent in ("Groove the inner", "Rabbets", "shell", "try the lid", "Blank", "triangle"):
        assert absent not in said
    assert [title for title, _ in order.stations(worked())][-2:] == ["flush", "finish"]


def test_batches_mate_at_opposite_corners() -> None:
    """Going round the box L1, S1, L2, S2 seen from outside, each corner joins a right end and the next left end."""
    right_of, left_of = {"front": 1, "right end": 2, "back": 3, "left end": 4}, {"front": 4, "right end": 1}
    left_of |= {"back": 2, "left end": 3}
    a = {right_of["front"], left_of["right end"], right_of["back"], left_of["left end"]}
    b = {left_of["front"], right_of["right end"], left_of["back"], right_of["left end"]}
    assert (a, b) == ({1, 3}, {2, 4})
    assert {batch: (corners, ends) for batch, (corners, ends) in batches.ENDS.items()} == {
        "A": ("1A, 3A", ("right", "left")),
        "B": ("2B, 4B", ("left", "right")),
    }


def test_which_face_looks_at_you() -> None:
    """A board turned in the mind: up is away from the key, the operator's view of the outer face turns with it.

    Out of the paper is the outer face. With the key on the right "up" points left, so "right" points up: the left end
    stands on the table. Seen on its inner face right and left change places. The key on the left is the mirror image.
    """
    for side, (batch, down) in itertools.product(("right", "left"), (("A", "right"), ("B", "left"))):
        outer_down = "left" if side == "right" else "right"
        fronts = "outside" if down == outer_down else "inside"
        ends = "inside" if down == outer_down else "outside"
        assert batches.facing(side)[batch] == (fronts, ends)  # type: ignore[arg-type]  # product loses the literal


def test_several_cuts_and_separate_stacks_are_told() -> None:
    narrow = said_of(worked(joint__cutter="6"))
    assert "Make every socket in 2 cuts" in narrow
    apart = said_of(worked(joint__method="separately"))
    assert "Front, then back: bottom edge against the key" in apart
    assert "for the first position with the spacer 9.95 mm between key and board" in apart
    assert "no strip is left above a top socket" in apart
    for of_a_stack in ("Batch", "batch", "mates", "1 A", "of A", "stack front"):
        assert of_a_stack not in apart, of_a_stack


def test_a_groove_that_runs_through_needs_no_stops() -> None:
    box = read_box(METRIC.replace("finger = 10\ncutter = 10", "finger = 10\ncutter = 10\n[groove]\ncutter = 3\n"))
    said = said_of(box)
    assert box.groove is not None
    assert ("through in all four" in said) == (not box.groove.stopped)
    assert ("Plunge trial" in said) == bool(box.groove.stopped)
    assert ("Try it in scrap" in said) != bool(box.groove.stopped)


def test_mates_of_another_wood_are_told_for_a_week_away() -> None:
    """Black cherry and sugar maple, 89.5 mm, 3 %: USDA Wood Handbook FPL-GTR-282 Table 13-5."""
    said = words_of(glue_card.card(worked(sides__species="black cherry", sides__ends_species="sugar maple")))
    assert "These mates move apart by 0.28 when they lose 3 % of moisture." in said
    assert "stickers" in said


# -- whatever the box ----------------------------------------------------------------------------------------------
# That a hold stands before what it guards, and that parts are cut, fitted and finished in that order: common practice,
# no source. The steps' tags, which the tests lean on, are held against the verbs that a reader sees.

COUNT = examples(60, 400)
_CUTTING = re.compile(
    r"(?:^|[.:] )(?:Cut|Rip|Crosscut|Groove|Rabbets?|Drill|Trim|Clip|Plane|Face|Carve|Level|Saw)\b(?! above| \d)"
)
_FIRST_THEN = (
    ("Crosscut .* test pieces", "Two test pieces in one stack"),
    ("every reading within its limits", "Rip the wood|Crosscut each pair"),  # the joint says how wide
    ("Rip the wood", "Crosscut each pair"),  # while it is long
    ("Crosscut each pair", "Cut .* steps"),
    ("Cut .* steps", "Plane the top edges"),  # else the sockets would end nowhere
    ("Plane the top edges", "Dry fit"),
    ("Groove the inner faces", "Rabbet both faces of scrap"),  # the tongue slides in a groove of the box
    ("Cut the bottom", "Rabbets .* on both faces"),
    ("Carve", "Glue"),
    ("Dry fit", "Finish the inside"),
    ("Finish the inside", "Glue"),
    ("Glue", "Measure the opening"),
    ("Measure the opening", "Cut the lid to size"),
    ("Cut the lid to size", "Rabbet the ends"),
    ("Rabbet the ends", "at the last setting"),
    ("plug measured|wide in the scrap", "at the last setting"),  # after it there is nothing left to correct
    ("at the last setting", "try the lid"),
    ("try the lid", "Drill .* screw holes"),
    ("Drill .* screw holes", "Plane the crown"),  # the crown takes away the middle lines and the flat to lay it on
    ("Plane the crown", "Plane a flat"),
    ("Plane a flat", "Stand the handle"),
    ("Drill holes", "Trim to"),  # trimmed first, the saw would stand off the wood
    ("Trim to", "Stand the handle"),
    ("Stand the handle", "Take the handle off"),
    ("Take the handle off", "Finish the outside"),
    ("Finish the outside", "screw the handle on"),
)
"""What stands before what, as patterns of the words of the steps."""


@st.composite
def boxes(draw: st.DrawFn) -> Box:
    """Any box whose joint can be cut: values changed, parts left out, on either machine."""
    name = draw(st.sampled_from(any_box.NAMES))
    values, dropped = draw(any_box.changes(name))
    values = values | {("joint", "machine"): draw(st.sampled_from(["router table", "table saw"]))}
    dropped = [*dropped, *draw(st.lists(st.sampled_from(["lid", "handle", "shell", "bottom", "groove"]), max_size=3))]
    data = any_box.sample(name)
    made = any_box.judged(any_box._filled(any_box.changed(data, values, dropped)))
    assume(isinstance(made, Box) and made.numbers is not None)
    assert isinstance(made, Box)
    return made


def steps_of(box: Box) -> list[Step]:
    return [step for _, steps in order.stations(box) for step in steps]


def places(steps: list[Step], **wanted: str) -> list[int]:
    return [i for i, step in enumerate(steps) if all(getattr(step, name) == value for name, value in wanted.items())]


@settings(max_examples=COUNT)
@given(box=boxes())
def test_every_hold_stands_between_its_trial_and_its_cut(box: Box) -> None:
    steps = steps_of(box)
    for held in places(steps, hold="cut"):
        of = steps[held].of
        judged = [i for act in ("try", "measure") for i in places(steps, of=of, act=act, hold="")]
        assert any(i < held for i in judged), f"nothing is tried before the hold of {of}"
        cuts = places(steps, of=of, act="cut")
        assert cuts, f"the hold of {of} guards no cut"
        assert min(cuts) > held > max(judged), of
    for trial in [i for act in ("try", "measure") for i in places(steps, act=act)]:
        of = steps[trial].of
        if of != "opening":  # measured with callipers, with no machine near it
            assert any(i < trial for i in places(steps, of=of, hold="power")), f"{of} is tried before it is looked at"
    for looked in places(steps, hold="power"):
        worked_after = [i for act in ("try", "cut") for i in places(steps, of=steps[looked].of, act=act)]
        assert worked_after
        assert min(worked_after) > looked


@settings(max_examples=COUNT)
@given(box=boxes())
def test_each_part_is_cut_then_fitted_then_finished(box: Box) -> None:
    """What is measured or lies on the wood is not cut away before; nothing is cut once its finish is on."""
    steps, said = steps_of(box), order.told(box)
    for first, then in _FIRST_THEN:
        before = [i for i, words in enumerate(said) if re.search(first, words)]
        after = [i for i, words in enumerate(said) if re.search(then, words)]
        assert not before or not after or max(before) < min(after), f"{first} before {then}"
    for act, parts in (("fit", {"box", "lid", "handle"}), ("cut", {"outside", "lid", "handle", "plug", "screw holes"})):
        for i in places(steps, act=act):
            finished = [j for j in places(steps, act="finish") if steps[j].of in ("lid", "outside", "handle")]
            assert steps[i].of not in parts or i < min(finished), said[i]
    last = max(i for act in ("cut", "try", "fit") for i in places(steps, act=act))
    assert last < max(places(steps, act="finish"))
    joined = places(steps, act="join", of="handle")
    assert bool(joined) == (box.handle is not None)
    assert all(i > max(places(steps, act="finish")) for i in joined)


@settings(max_examples=COUNT)
@given(box=boxes())
def test_the_tags_of_the_steps_are_what_their_words_say(box: Box) -> None:
    for step, words in zip(steps_of(box), order.told(box), strict=True):
        if _CUTTING.search(words):
            assert step.act in ("cut", "try", "fit"), words
        if re.search(r"\b[Mm]easure\b(?! of)", words):
            assert step.act in ("measure", "try"), words
        assert (step.act == "finish") == (words.startswith("Finish")), words
        assert bool(step.hold) == words.startswith("HOLD POINT. The teacher signs before you ")
    names = [name for _, name in order.holds(box)]
    assert len(names) == len(set(names))


@settings(max_examples=COUNT)
@given(box=boxes())
def test_cautions_follow_the_machine_and_the_parts(box: Box) -> None:
    found = {caution for step in steps_of(box) for caution in step.heed}
    table_saw, stopped = box.file.joint.machine == "table saw", bool(box.groove and box.groove.stopped)
    assert box.numbers is not None
    rabbeted = bool(box.lid or (box.bottom and box.bottom.rabbet_depths[0] > 0))
    expected = {
        cautions.JIG: not table_saw,
        cautions.BLADE: table_saw,
        cautions.SEVERAL_PASSES: not table_saw and box.numbers.passes.count > 1,
        cautions.GROOVE: stopped,
        cautions.THROUGH_GROOVE: bool(box.groove) and not stopped,
        cautions.RABBET: rabbeted,
        cautions.CARVING: box.shell is not None,
        cautions.HOLE_SAW: box.handle is not None,
    }
    assert {caution: caution in found for caution in expected} == expected


def everything(box: Box) -> str:
    return "\n".join([words_of(box_sheets.sheets(box)), *order.told(box)]).lower()


def test_no_collet_at_a_table_saw_and_no_hole_saw_without_a_handle() -> None:
    saw = 'finger = 10\ncutter = 10\nmachine = "table saw"\n'
    alone = everything(read_box(METRIC.replace("finger = 10\ncutter = 10\n", saw)))
    assert "blade" in alone
    assert "collet" not in alone
    bare = WHOLE_METRIC.replace(WHOLE_METRIC[WHOLE_METRIC.index("[handle]") : WHOLE_METRIC.index("[shell]")], "")
    assert not re.search("hole.saw|handle base", everything(read_box(bare)))
    whole = everything(read_box(WHOLE_METRIC))
    assert "hole saw" in whole
    assert "collet" in whole


def test_the_steps_that_make_a_lid_with_a_handle() -> None:
    """Worked values: plug 142.11 before the last setting, rabbets 17.9; flat 22²/(8 · 536.33) = 0.11 (samples)."""
    said = order.told(work_out(load(SAMPLES / "recipe-box.toml")))
    wanted = (
        "Cut the lid to size, square: 210 mm along the grain by 160 mm, planed to 18 mm.",
        "then the sides at all settings but the last.",
        "Measure the plug across: 142.11 mm.",
        "HOLD POINT. The teacher signs before you cut on: plug measured; for the last setting the bit stands 17.89 mm",
        "Rabbet both sides at the last setting: 17.89 mm wide",
        "Drill two screw holes of 4.3 mm through the lid, while its top is flat, 12 mm apart",
        "Plane the crown",
        "Plane a flat 22 mm wide along the middle of the crown, 0.11 mm deep",
        "pilot drill in, lowest speed",
        "Drill holes of 38.6 mm in the untrimmed blank",
        "Take the handle off again",
        "Finish the outside and both faces of the lid alike.",
        "When the finish is hard, screw the handle on",
    )
    found = [next((i for i, words in enumerate(said) if part in words), None) for part in wanted]
    assert None not in found, dict(zip(wanted, found, strict=True))
    assert found == sorted(found)  # type: ignore[type-var]  # none is None
    assert any("Sink their heads 3 mm deep from below" in words for words in said)


def test_a_lid_whose_sides_take_one_setting_is_proved_on_scrap() -> None:
    """Rabbets 8.3 wide, from an overhang of 0 and a bit of 12: no plug can be measured before the only cut."""
    said = order.told(worked(WHOLE_METRIC, lid__overhang="0", sides__thickness="8", groove__depth="4"))
    held = next(i for i, words in enumerate(said) if "wide in the scrap" in words)
    assert "Cut the setting of the sides in scrap first and measure the rabbet" in said[held - 1]
    assert said[held].startswith("HOLD POINT. The teacher signs before you cut on")
    assert "at the last setting" in said[held + 1]


def test_a_loose_key_leaves_more_to_plane_and_never_more_than_three_millimetres() -> None:
    """Four sockets that move by 0.2 each are 0.8, and a rule shows 1 (see jigs/parts/joint/made.py)."""
    for slack, more in (("0.1", "0.5 mm"), ("0.2", "1 mm"), ("0.9", "3 mm")):
        said = said_of(worked(box__height="96", joint__key_slack=slack))
        assert f"a push stick at its end: {more} is planed off" in said
        assert f"Plane the top edges to the line by hand, {more} off" in said


def test_screws_that_do_not_fit_are_not_drilled_for() -> None:
    made = worked(METRIC + "[handle]\nsaw = 38.6\nneck = 5\n")
    assert "Drill and sink the screw holes for screws that fit this handle: the usual ones do not." in order.told(made)


# -- the bottom is cut to the box that was made --------------------------------------------------------------------


def said_in(steps: list[Step], units: Units) -> list[str]:
    return [read_out(step.words, units).replace("\u00a0", " ") for step in steps]


@pytest.mark.parametrize("sample", ["recipe-box", "recipe-box-inch"])
def test_the_box_is_measured_dry_before_the_bottom_is_cut(sample: str) -> None:
    """Inside 176 by 126, grooves 6: 187 = 176 + 12 − 1 and 136 = 126 + 12 − 2 (136.00 in this wood and air)."""
    box = work_out(load(SAMPLES / f"{sample}.toml"))
    said = said_in(steps_of(box), box.file.units)
    grooved = next(i for i, words in enumerate(said) if words.startswith("Groove the inner faces"))
    assert said[grooved + 1] == "Put the four sides together dry, joints closed, bottom edges level."
    assert "Measure D, the grooves where they are shallowest" in said[grooved + 2]
    cut = said[grooved + 3]
    assert cut.startswith("Cut the bottom A + 2 × D − ")
    if sample == "recipe-box":
        assert "A the longer way, drawn 176 mm, and B the other, drawn 126 mm" in said[grooved + 2]
        assert "A + 2 × D − 1 mm long, along the grain, by B + 2 × D − 2 mm wide, 10 mm thick" in cut
        assert "As drawn that is 187 mm by 136 mm." in cut
        assert "end grain first: D wide; as drawn 6 mm. The tongue is 5.8 mm." in said[grooved + 7]
        assert "the rabbet is D − 0.25 mm wide; as drawn 5.75 mm." in said[grooved + 8]


def test_readings_of_the_dry_box_make_the_same_bottom_as_the_sums() -> None:
    """A 175.6, B 126.4 and D 5.9: 175.6 + 11.8 − 1 = 186.4 by 126.4 + 11.8 − 2.00, as `check --set` has it too."""
    text = (SAMPLES / "recipe-box.toml").read_text()
    drawn, read = (
        worked(text),
        worked(text, bottom__inside_length="175.6", bottom__inside_width="126.4", groove__depth="5.9"),
    )
    assert drawn.bottom is not None
    assert read.bottom is not None
    assert read.bottom.length == pytest.approx(186.4)
    assert read.bottom.seasons.width == pytest.approx(126.4 + 2 * 5.9 - drawn.bottom.sums.width, abs=0.01)
    assert read.inside == drawn.inside  # the lid and the sides stay as they are
    assert not read.stopped
    turned = worked(text, box__length="150", box__width="200", bottom__inside_length="126.4", shell__width="40")
    assert turned.bottom is not None
    assert (turned.bottom.along, turned.bottom.across) == pytest.approx((176, 126.4))
    square = worked(text, box__length="150", bottom__inside_width="126.3", shell__width="40", shell__height="27")
    assert square.bottom is not None
    assert (square.bottom.along, square.bottom.across) == pytest.approx((126, 126.3))


def test_a_bottom_without_rabbets_is_planed_and_never_rabbeted() -> None:
    said = said_in(steps_of(worked(WHOLE_INCHES, bottom__thickness="1/4", bottom__tongue="0.242")), "in")
    assert "Plane the bottom until it slides in the grooves by hand, 0.242 in." in said
    assert not [words for words in said if words.startswith("Rabbets") and "both faces" in words]


def test_both_diagonals_have_a_size_to_be_read() -> None:
    """Over the proud fingers of front and back √(200.6² + 150²) = 250.48; of nine parts a finger is at the rim."""
    box = work_out(load(SAMPLES / "recipe-box.toml"))
    said = "\n".join(said_in(steps_of(box), "mm"))
    assert "Both diagonals at the rim over the proud fingers of front and back read 250.48 mm, equal within 0.5" in said
    level = "\n".join(said_in(steps_of(worked(joint__proud="0")), "mm"))
    assert "Both diagonals at the rim read 288.44 mm, equal within 0.5 mm" in level
    even = worked(box__height="85")
    assert even.numbers is not None
    assert even.numbers.count % 2 == 0
    assert even.at_the_rim == "the ends"
    assert even.diagonal_glued == pytest.approx((240**2 + 160.6**2) ** 0.5)


@pytest.mark.parametrize(
    "left_out", [(), ("bottom",), ("lid", "handle"), ("handle",), ("shell",), ("groove", "bottom")]
)
@pytest.mark.parametrize("text", [WHOLE_METRIC, WHOLE_INCHES])
def test_no_step_takes_wood_in_hand_that_is_not_cut_yet(text: str, left_out: tuple[str, ...]) -> None:
    for section in left_out:
        text = change.without_section(text, section)
    for changes in ({}, {"joint__method": "separately"}):
        box = worked(text, **changes)
        assert not box.stopped
        steps = steps_of(box)
        cut: set[str] = set()
        for step in steps:
            words = read_out(step.words, box.file.units)
            cut |= {"sides"} if words.startswith("Crosscut each pair") else set()
            cut |= {name for name in ("bottom", "lid") if words.startswith(f"Cut the {name} ")}
            cut |= {"handle"} if words.startswith("Blank ") else set()
            for name, named in NAMED.items():
                assert name in cut or not re.search(named, words), words


NAMED = {
    "bottom": r"(the bottom\b(?! edge))|both faces, end grain|its corners",
    "lid": r"\bthe lid\b(?! \d)",
    "handle": r"\bthe handle\b(?!'s)",
    "sides": r"four sides together|\bfront, back\b|transfer the shell",
}
"""Wood, and the words of a step that take it in hand."""
