"""Stopped groove: stop sticks, where it lies in the fingers, the set-up; and every rule said of its settings."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree
from svgelements import Path as SvgPath

from jigs.base.cards import Checks, Setting, Settings, Sheets
from jigs.base.catalogue import Plan, find
from jigs.base.drawing import Dimension, View
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.box import chain, details
from jigs.box import sheets as box_sheets
from jigs.boxfile import reading
from jigs.parts.groove import card
from jigs.parts.groove import rules as groove_rules
from jigs.parts.groove.part import Groove
from jigs.record import replace
from layout.pages import bands, compose
from layout.pages.job import Job
from layout.sheet import paper
from layout.sheet.marks import Bundle
from layout.write import svg
from tests import refusals
from tests.boxes import WHOLE_INCHES, WHOLE_METRIC, worked
from tests.conftest import all_pages
from tests.legibility import faults
from tests.outside import Check, agree
from tests.refusals import told
from tests.soundness import pictures_of
from tests.words import words_of

BY_HAND = Check("Groove and its stops", "arithmetic written out in jigs/trade/groove.py", "worked example")
FILES = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)

SAMPLES = Path(__file__).parent.parent / "samples"
INCH = 25.4


def groove_of(text: str) -> Groove:
    made = worked(text).groove
    assert made is not None
    return made


def plan(units: Units = "mm", **changes: Any) -> Plan:
    given_settings: dict[str, Any] = {"length": 240.6, "cutter": 6.0, "end_margin": 3.8, "from_bottom": 5.0}
    return find("stops").plan(given_settings | changes, units)


def refused(**changes: Any) -> tuple[str, str, str]:
    return told(refusals.refused(lambda: plan(**changes)))


def warned(where: str, **changes: Any) -> tuple[str, str, str]:
    return told(refusals.warned(where, lambda: plan(**changes)))


def measured(found: View) -> dict[str, float]:
    return {dimension.name: dimension.value for dimension in found.dimensions}


def sticks_of(made: Groove) -> dict[str, View]:
    """Return the templates of a groove by their names."""
    return {template.view.name: template.view for template in card.of(made).templates}


def rows_of(made: Groove) -> dict[str, Setting]:
    """Return the settings of the card of a groove by their names."""
    every = bands.flat(card.of(made).cards[0].bands)
    return {row.name: row for band in every if isinstance(band, Settings) for row in band.rows}


def values(made: Groove, *names: str) -> list[object]:
    return [rows_of(made)[name].value for name in names]


# Worked values, derived in jigs/trade/groove.py: length − end margin − radius from the bit's centre.


@BY_HAND.of("stops")
def test_the_metric_box_stops_its_ends() -> None:
    """160.6 − 3.8 − 3 = 153.8 from the centre, 150.8 from the edge; front and back meet the groove in a socket."""
    made = groove_of(WHOLE_METRIC)
    stick = sticks_of(made)["strip"]
    agree(measured(stick), {"from the bit's edge": 150.8, "from its centre": 153.8}, unit="mm")
    assert stick.check is not None
    agree(stick.check.value, 150.8, unit="mm")
    settings = ("bit", "fence", "stops-end boards", "travel-end boards", "pass-1", "pass-2")
    assert list(rows_of(made)) == list(settings)
    agree(values(made, *settings), [6, 12, 150.8, 147, 3, 6], unit="mm")
    said = words_of(card.of(made).cards[0])
    assert "end boards first, stopped" in said
    assert "Take both stops off. Run front and back through" in said


@BY_HAND.of("stops")
def test_the_inch_box_stops_front_and_back() -> None:
    """9 17/32 − 11/64 − 1/8 = 9 15/64; the fence is 3/16 from the bit's edge; the ends run through."""
    made = groove_of(WHOLE_INCHES)
    agree(measured(sticks_of(made)["strip"])["from its centre"], (9 + 15 / 64) * INCH, unit="mm")
    agree(values(made, "fence", "pass-1", "pass-2"), [3 / 16 * INCH, INCH / 8, INCH / 4], unit="mm")
    assert "Run end boards through" in words_of(card.of(made).cards[0], "in")


@BY_HAND.of("stops")
@pytest.mark.parametrize(
    ("length", "end_margin", "radius", "centre", "edge", "travel"),
    [
        (240.0, 3.5, 3.0, 233.5, 230.5, 227.0),
        (160.0, 3.5, 3.0, 153.5, 150.5, 147.0),
        (9.5 * INCH, 5 / 32 * INCH, INCH / 8, (9 + 7 / 32) * INCH, (9 + 3 / 32) * INCH, 8.9375 * INCH),
    ],
)
def test_stops_without_a_box_file(
    length: float, end_margin: float, radius: float, centre: float, edge: float, travel: float
) -> None:
    made = plan(length=length, cutter=2 * radius, end_margin=end_margin)
    stick = measured(next(template.view for template in made.sheets.templates if template.view.name == "strip"))
    agree(stick, {"from the bit's edge": edge, "from its centre": centre}, unit="mm")
    numbers = made.numbers["stops"]["front"]
    agree((numbers["left"], numbers["right"], numbers["travel"]), (centre, centre, travel), unit="mm")


def test_a_groove_across_two_fingers_stops_all_four_and_has_a_filler_block() -> None:
    """240.6 − 160.6 = 80 at each stop."""
    made = plan(finger=9.9, board=90.0, from_bottom=8.0, other_length=160.6).sheets
    assert [template.view.name for template in made.templates] == ["strip", "strip-2", "filler"]
    assert [d.value for d in made.templates[-1].view.dimensions] == pytest.approx([80])
    assert "Take both stops off" not in words_of(made.cards[0])


def test_boards_of_one_length_share_one_stick_and_need_no_block() -> None:
    made = plan(finger=9.9, board=90.0, from_bottom=8.0, other_length=240.6).sheets
    assert [template.view.name for template in made.templates] == ["strip"]


def test_a_groove_in_no_finger_has_no_sticks_and_no_stops() -> None:
    """A made-up layout: every finger starts above the groove."""
    made = groove_of(WHOLE_METRIC)
    found = card.of(replace(made, fingers=dict.fromkeys(made.fingers, ((40.0, 80.0),))))
    assert found.templates == ()
    [one] = found.cards
    parts = [part.name for picture in pictures_of(one) for part in picture.parts]
    assert parts
    assert not any("stop" in name for name in parts)
    said = words_of(one)
    assert "through in all four sides" in said
    assert "Plunge" not in said


def test_the_picture_is_as_the_settings_say() -> None:
    """What the picture measures is what the row of that number says, to the last digit."""
    for text in (WHOLE_METRIC, WHOLE_INCHES):
        made = groove_of(text)
        rows = rows_of(made)
        measured_there = [d for picture in pictures_of(card.of(made).cards[0]) for d in picture.dimensions if d.setting]
        assert len(measured_there) >= 5
        for dimension in measured_there:
            assert dimension.value == pytest.approx(rows[dimension.setting].value), dimension.setting


SLIT = {"joint__finger": "6.1", "joint__cutter": "6.2", "groove__cutter": "6.35", "groove__from_bottom": "12.3"}
"""Fingers of front and back from 12.3 to 18.4, of the ends from 18.45: a groove to 18.65 is a slit of 0.2 there."""


def slit_seen(data: dict[str, Any]) -> float:
    """Return the widest slit of a groove that runs out in a finger: from sockets and grooves of the report alone."""
    widest = 0.0
    for side in (part for part in data["parts"] if part["groove"] and part["groove"]["start"] == 0):
        low, high = side["groove"]["from_bottom"], side["groove"]["from_bottom"] + side["groove"]["width"]
        edges = [0.0, *(edge for socket in side["sockets"] for edge in socket), side["width"]]
        fingers = zip(edges[::2], edges[1::2], strict=True)
        widest = max(widest, sum(max(0.0, min(end, high) - max(start, low)) for start, end in fingers))
    return widest


def test_a_slit_that_would_show_stops_all_four_boards() -> None:
    made = worked(WHOLE_METRIC, **SLIT, groove__end_margin="3.6")
    assert made.groove is not None
    assert made.groove.stopped == ("front", "back", "left end", "right end")
    assert slit_seen(chain.as_data(made)) == 0
    [told_of] = [p for p in made.problems if p.where == "groove.from_bottom"]
    assert told_of.severity == "warning"
    assert told_of.says("mm").endswith(
        "it cuts 6.1 mm into fingers of front and back, 0.2 mm into those of the end boards"
    )
    assert told_of.suggests("mm") == (
        "use a bit of 5.1 mm or less, with the groove 12.8 mm from the bottom edge; or make the fingers wider"
    )
    narrower = {"groove__cutter": "5.1", "groove__from_bottom": "12.8", "bottom__tongue": "4.9"}
    taken = worked(WHOLE_METRIC, **SLIT | narrower)
    assert taken.groove is not None
    assert taken.groove.stopped == ("front", "back")
    assert not [p for p in taken.problems if p.where == "groove.from_bottom"]


def test_a_slit_finer_than_a_gauge_sets_is_none_and_no_end_margin_leaves_one() -> None:
    """To 18.46 it is 0.01 in a finger of the ends: nobody sets a fence so fine. To 18.5 it is 0.05."""
    hair = worked(WHOLE_METRIC, **SLIT | {"groove__cutter": "6.16"}).groove
    slit = worked(WHOLE_METRIC, **SLIT | {"groove__cutter": "6.2"}).groove
    assert hair is not None
    assert slit is not None
    assert hair.stopped == ("front", "back")
    assert slit.stopped_kinds == ("front and back", "end boards")
    made = worked(WHOLE_METRIC, **SLIT, groove__end_margin="0")
    assert [p.where for p in made.problems if p.severity == "stop"] == ["groove.end_margin"]


@settings(max_examples=40)
@given(low=st.floats(4.6, 40), cutter=st.floats(2, 9), finger=st.floats(5, 12))
def test_no_groove_shows_as_a_slit(low: float, cutter: float, finger: float) -> None:
    sizes = {"joint__finger": f"{finger:.2f}", "joint__cutter": f"{finger + 0.1:.2f}", "groove__end_margin": "3.6"}
    made = worked(WHOLE_METRIC, **sizes, groove__from_bottom=f"{low:.2f}", groove__cutter=f"{cutter:.2f}")
    assert slit_seen(chain.as_data(made)) <= 0.02 + 1e-9


def test_where_no_bit_goes_between_the_fingers_a_wider_finger_is_asked_for() -> None:
    """A made-up layout: fingers of 1.9 less half a millimetre on each side leave 0.9, where no bit goes."""
    layout = {"front and back": ((0.0, 1.9), (4.0, 5.9)), "end boards": ((2.0, 3.9), (6.0, 7.9))}
    made = replace(groove_of(WHOLE_METRIC), fingers=layout, from_bottom=5.0, cutter=2.0, tongue=1.8)
    found: list[Any] = []
    groove_rules.GROOVE.judge(made, found)
    assert [p.suggests("mm") for p in found if "all four" in p.says("mm")] == ["make the fingers wider"]


@pytest.mark.parametrize("text", [WHOLE_METRIC, WHOLE_INCHES])
def test_a_hair_short_of_a_square_corner_is_square_everywhere(text: str) -> None:
    """The round end leaves room to 4.06 mm or .1756 in of end margin; 0.05 mm and .0002 in more clip nothing."""
    end_margin = "4.11" if text is WHOLE_METRIC else "0.1758"
    made = worked(text, groove__end_margin=end_margin)
    data = chain.as_data(made)
    assert data["groove"]["corner"] == {"kind": "square", "size": 0.0}
    assert not [p for p in made.problems if "square corners" in p.says("mm")]
    assert made.groove is not None
    assert made.bottom is not None
    said = words_of(box_sheets.sheets(made), made.file.units).lower()
    assert "clip the corner" not in said
    assert "clip a corner" not in said
    assert "clip" not in details.details(made)


def test_what_a_trial_may_read_reaches_as_far_as_the_corner_stays_square() -> None:
    """4.11 of end margin, 0.05 over what is just square: from 0.1 less to what is 0.1 over, 4.16; at 4.2 a clip."""
    rows = dict(trial_of(worked(WHOLE_METRIC, groove__end_margin="4.11").groove))
    assert rows["end margin, left"] == pytest.approx((4.01, 4.16), abs=0.005)
    assert dict(trial_of(worked(WHOLE_METRIC).groove))["end margin, left"] == pytest.approx((3.3, 4.06), abs=0.005)
    clipped = worked(WHOLE_METRIC, groove__end_margin="4.2")
    assert chain.as_data(clipped)["groove"]["corner"] == {"kind": "clip", "size": pytest.approx(6.13, abs=0.005)}
    assert dict(trial_of(clipped.groove))["end margin, left"] == pytest.approx((4.1, 4.3), abs=0.005)
    assert "4.11 mm; 0.04 mm short of a square corner, which is nothing" in details.details(
        worked(WHOLE_METRIC, groove__end_margin="4.11")
    )


def test_thin_sides_whose_least_end_margin_is_square_enough_are_told_so() -> None:
    """Sides of 9.8, 4.6 deep: from 3 to 9.8 − 4.6 − 2.232 = 2.968; with 3 the corner is 0.032 short: nothing."""
    made = {"sides__thickness": "9.8", "joint__proud": "0", "groove__depth": "4.6", "groove__end_margin": "3.2"}
    [told_of] = [p for p in worked(WHOLE_METRIC, **made).problems if "square corners" in p.says("mm")]
    assert told_of.suggests("mm").startswith("leave an end margin of 3 mm; or clip the corners by ")
    after = worked(WHOLE_METRIC, **made | {"groove__end_margin": "3"})
    assert not [p for p in after.problems if p.where == "groove.end_margin"]


def trial_of(made: Groove | None) -> list[tuple[str, tuple[float, float]]]:
    """Return what the trial may read, by what is measured."""
    assert made is not None
    every = bands.flat(card.of(made).cards[0].bands)
    rows = [row for band in every if isinstance(band, Checks) for row in band.rows]
    return [(str(row.what), (row.low, row.high)) for row in rows if isinstance(row.low, float) and row.high is not None]


def test_what_is_left_open_is_worked_out() -> None:
    """Height: max(4.5, 12/3); end margin: the middle of 3.3 to 4.06; depth: half the side (common practice)."""
    numbers = find("stops").plan({"length": 240.6, "cutter": 6.0}).numbers
    assert numbers["from_bottom"] == pytest.approx(4.5)
    assert (numbers["end_wood_min"], numbers["end_wood_max"]) == pytest.approx((3.3, 4.06))
    assert (numbers["end_wood"], numbers["depth"]) == pytest.approx((3.68, 6))
    in_a_finger = find("stops").plan({"length": 240.6, "cutter": 6.0, "finger": 12.0, "board": 90.0}).numbers
    assert in_a_finger["from_bottom"] == pytest.approx(4.5)  # its middle, 3, is too low
    assert in_a_finger["stopped"] == ["front", "back"]


# -- rules ---------------------------------------------------------------------------------------------------------


def test_what_stops_a_groove() -> None:
    assert refused(finger=10.0) == (
        "board",
        "fingers of 10 mm are found by the width of the boards, which is not given",
        "enter 30.1 mm or more",
    )
    assert refused(finger=10.0, board=25.0) == (
        "board",
        "boards 25 mm wide have no room for 2 fingers + 1 socket of 10 mm",
        "enter 30.1 mm or more",
    )
    assert refused(cutter=1.0, play=1.0) == (
        "play",
        "a clearance of 1 mm leaves no tongue in a groove 1 mm wide",
        "enter 0.2 mm",
    )
    assert refused(finger=9.9, board=90.0, from_bottom=12.0) == (
        "other length",
        "12 mm from the bottom edge the groove lies in fingers of end boards, which must be stopped too",
        "enter the length of end boards as cut",
    )
    assert refused(
        length=200.0, cutter=25.0, board=20.0, finger=6.0, thickness=40.0, end_margin=None, from_bottom=None
    ) == (
        "cutter",
        "a bit of 25 mm cuts away the whole of boards 18.1 mm wide",
        "use a bit of 6.03 mm or less, or make the boards wider",
    )
    found = refused(depth=12.0)
    assert found[:2] == ("depth", "a groove 12 mm deep cuts through sides 12 mm thick; it may take half of them")
    assert found[2] == "cut the groove 6 mm deep or less, or make the sides 24 mm thick or more"
    where, says, _ = refused(from_bottom=90.0, finger=9.9, board=90.0)
    assert (where, says) == (
        "from bottom",
        "a groove from 90 mm to 96 mm above the bottom edge does not fit on boards 89.5 mm wide",
    )
    where, says, _ = refused(end_margin=0.0)
    assert (where, says.partition(" in ")[0]) == (
        "end margin",
        "with no end margin the groove shows as a hole of 6 mm × 6 mm",
    )
    wood = refused(end_margin=0.0, finger=9.9, board=90.0, from_bottom=12.0, other_length=160.6)[2]
    assert wood.startswith("stop the groove with an end margin of ")
    assert "; or stop it in " in wood
    assert wood.endswith(" from the bottom edge, with an end margin of 3.68 mm")
    where, says, _ = refused(length=100.0, end_margin=50.0)
    assert (where, says) == ("end margin", "an end margin of 50 mm at both ends leaves no groove in boards 100 mm long")
    small = {"length": 30.75, "cutter": 2.0, "thickness": 18.0, "depth": 3.0, "board": 43.0, "clearance": 0.25}
    wide = small | {"from_bottom": 17.0, "play": 0.5, "proud": 0.5}
    assert (
        refused(**wide, end_margin=15.0)[2] == "leave an end margin from 5 mm to 14.36 mm"
    )  # (30.75 − 2)/2 = 14.375, less a hundredth
    assert refused(**wide, end_margin=14.36)[0] == "length"  # what is suggested is not refused again
    where, says, suggests = refused(length=120.0)
    assert where == "length"
    assert says.startswith("lowering boards 120 mm long puts your hands 60 mm from the bit; 150 mm is the shortest")
    assert suggests.startswith("groove a longer blank before you crosscut it")


def test_what_a_maker_is_told() -> None:
    """The straddled finger: 1.9 of the 6 in one finger and 4.05 in the other leave 0.05 in the play between them."""
    assert warned("from bottom", finger=9.9, board=90.0, from_bottom=8.0, other_length=160.6)[1:] == (
        "the groove will show unless you stop it in all four boards. From 8 mm up it cuts 1.9 mm into "
        "fingers of front and back, 4.1 mm into those of the end boards",
        "start it 11.9 mm from the bottom edge",
    )
    assert warned("stops", length=180.0)[1:] == (
        "lowering boards 180 mm long puts your hands 90 mm from the bit",
        "hold boards under 200 mm in a carrier",
    )
    assert warned("from bottom", from_bottom=3.0)[1:] == (
        "the wood below the groove will break out: it is 3 mm high, and under 4.5 mm is too little",
        "start the groove 4.5 mm or more from the bottom edge",
    )
    assert warned("depth", depth=7.0)[1:] == (
        "a groove 7 mm deep weakens the sides: of 12 mm it leaves 5 mm, which is under half",
        "cut it 6 mm deep or less",
    )
    assert (
        warned("end margin", end_margin=1.0)[1] == "an end margin of 1 mm will break out; the board as cut needs 3.3 mm"
    )
    assert warned("end margin", end_margin=5.0)[1].startswith(
        "the bottom’s square corners will not go in: an end margin of 5 mm leaves"
    )


# -- pages ---------------------------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize("page", ["A4", "Letter", "A3"])
@pytest.mark.parametrize(("sample", "units"), [("recipe-box", "mm"), ("recipe-box-inch", "in")])
def test_the_pages_are_legible(sample: str, units: Units, page: str) -> None:
    made = chain.work_out(reading.load(SAMPLES / f"{sample}.toml")).groove
    assert made is not None
    for sheet in pages(card.of(made), page, units).sheets:
        assert faults(sheet) == []


def pages(made: Sheets, page: str, units: Units) -> Bundle:
    return all_pages(compose.compose(Job("box", "Box", "settings", units, "abc123"), made, paper.named(page)))


@FILES.of("stops")
def test_the_stick_measures_in_the_written_file() -> None:
    """Read with lxml and svgelements: the strip of the metric box is 150.8 long and the hold is written."""
    written = [svg.write(sheet, "metric box") for sheet in pages(card.of(groove_of(WHOLE_METRIC)), "A4", "mm").sheets]
    [strip] = [
        found for page in written for found in etree.fromstring(page).iter("{*}g") if found.get("id") == "stops-strip"
    ]
    assert strip.get("id") == "stops-strip"
    boxes = [SvgPath(path.get("d")).bbox() for path in strip.iter("{*}path")]
    agree(max(right - left for left, _, right, _ in boxes), 150.8, 0.01, unit="mm")
    assert any(b"HOLD POINT" in page and b"Trial plunge" in page for page in written)


@pytest.mark.slow
@settings(max_examples=6)
@given(
    length=st.floats(100, 700),
    cutter=st.floats(2, 14),
    thickness=st.floats(5, 25),
    end_margin=st.none() | st.floats(0, 12),
    from_bottom=st.none() | st.floats(0, 60),
    finger=st.none() | st.floats(4, 25),
    other=st.floats(100, 500),
    units=st.sampled_from(["mm", "in"]),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_any_groove_is_refused_or_legible(
    length: float, other: float, finger: float | None, units: Units, page: str, **more: Any
) -> None:
    asked = {"length": length, "finger": finger, "board": 100.0, "other_length": other} | more
    try:
        made = find("stops").plan(asked, units)
    except CannotBuild as error:
        reasons = [(problem.says(units), problem.suggests(units)) for problem in error.problems]
        assert all(says and suggests for says, suggests in reasons)
        return
    for sheet in pages(made.sheets, page, units).sheets:
        assert faults(sheet) == []
    checks = [template.view.check for template in made.sheets.templates]
    assert all(isinstance(check, Dimension) and check.value > 0 for check in checks)


def test_a_groove_takes_as_many_passes_as_the_bit_bears() -> None:
    """5 mm in passes of 2 at most is three of 5/3 mm: of a box, and of the jig with the same setting."""
    box = WHOLE_METRIC.replace("[groove]\n", "[groove]\ndeepest_pass = 2\n")
    deep = groove_of(box).depth
    assert len(groove_of(box).passes) == math.ceil(deep / 2)
    assert plan(depth=5.0, deepest_pass=2.0).numbers["passes"] == pytest.approx([5 / 3, 10 / 3, 5.0])
