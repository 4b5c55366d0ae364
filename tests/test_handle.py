"""The handle's family: its numbers, its rules, the wood measured on its outline, and its pages as they are written."""

from __future__ import annotations

import itertools
import math
import re
from pathlib import Path as File
from typing import Any

import pdfplumber
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import SVG, Arc, Matrix
from svgelements import Path as SvgPath

from jigs.base.cards import Card, Order, Sheets, Template
from jigs.base.catalogue import find
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import made_of, settings_of
from jigs.base.wording import on_paper, read_out
from jigs.box import chain
from jigs.boxfile import reading
from jigs.boxfile.sections import HandleSection
from jigs.parts.handle import bench, outline
from jigs.parts.handle import card as handle_card
from jigs.parts.handle import handle as handle_jig
from jigs.parts.handle import rules as handle_rules
from jigs.parts.handle import screws as handle_screws
from jigs.parts.handle.part import Handle, settled
from jigs.record import replace
from jigs.trade import handle as arithmetic
from jigs.trade.handle import EndHoles
from layout.write import pdf, svg
from tests import refusals, seen
from tests.boxes import METRIC, worked
from tests.outside import Check, agree

BY_HAND = Check("Handle and scalloped edge", "arithmetic written out in jigs/trade/handle.py", "worked example")
SHAPELY = Check("Handle and scalloped edge", "outlines and discs measured by shapely and numpy", "reference library")
FILES = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)

SAMPLES = File(__file__).parent.parent / "samples"
BOXES = {
    "mm": chain.work_out(reading.load(SAMPLES / "recipe-box.toml")),
    "in": chain.work_out(reading.load(SAMPLES / "recipe-box-inch.toml")),
}
INCH = 25.4


def handle_of(units: Units, **given: float) -> Handle:
    """Return a handle of these settings, all others as usual, whatever the limits."""
    values = {one.name: given.get(one.name, one.default_in(units)) for one in settings_of(HandleSection)}
    return settled(made_of(HandleSection, values), units)


def of_the_box(units: Units = "mm") -> Sheets:
    made = BOXES[units]
    assert made.handle
    return handle_card.of(made.handle, made.lid)


def finished(units: Units = "mm") -> Card:
    """Return a card with what the bench does with the handle of a box."""
    made = BOXES[units]
    assert made.handle
    bands = (*handle_card.finish_bands(made.handle, made.lid), Order(bench.steps(made.handle, made.lid)))
    return Card("finish", "Finish", "Bench", (), bands)


def alone(units: Units = "mm", **asked: Any) -> Card:
    [card] = find("handle").plan({"saw": 38.6, "height": 54.0} | asked, units).sheets.cards
    return card


def piece(sheets: Sheets, name: str) -> Template:
    return next(template for template in sheets.templates if template.view.name == name)


def problems(**changes: Any) -> list[Problem]:
    asked = {"saw": 38.6, "length": 90.0, "height": 54.0} | changes
    return refusals.problems(lambda: find("handle").plan(asked))


# -- numbers -------------------------------------------------------------------------------------------------------


@BY_HAND.of("handle")
def test_the_worked_handle() -> None:
    """Worked value G1b, derived in jigs/trade/handle.py."""
    numbers = find("handle").plan({"saw": 38.6, "length": 90.0, "height": 54.0}).numbers
    expected = {
        "centre_offset": 31.3,
        "chord": 27.188,
        "rim_in_wood": 0.751,
        "crest_radius": 205.0,
        "least_wood": 6.0,
        "blank_length": 111.2,
        "clamp_room": 36.3,
    }
    agree({name: numbers[name] for name in expected}, expected, 6e-4, unit="")
    agree(numbers["cusps"], [11.706, 38.894], 6e-4, unit="")


@BY_HAND.of("handle")
@pytest.mark.parametrize(
    ("holes", "scale", "least", "over"),
    [  # worked values G1, G1b and G2, derived in jigs/trade/handle.py
        pytest.param((19.3, 24, 25.3, 90, 50, 5), 1.0, 2.70, 2.70, id="G1"),
        pytest.param((19.3, 24, 25.3, 90, 54, 5), 1.0, 6.0, 6.64, id="G1b"),
        pytest.param((0.76, 0.875, 1.01, 3.5, 2.125, 0.1875), INCH, 0.25, 0.255, id="G2_in"),
    ],
)
def test_the_wood_measured_on_the_outline(holes: tuple[float, ...], scale: float, least: float, over: float) -> None:
    radius, neck, up, length, height, crest = (size * scale for size in holes)
    made = EndHoles(radius, neck, up, length, height, crest)
    found = outline.measured(outline.outline(made))
    agree(found.least / scale, least, 6e-3, unit="")
    agree(found.hole_to_crest / scale, over, 6e-3, unit="")


@SHAPELY.of("handle")
@settings(max_examples=60)
@given(
    radius=st.floats(8, 40),
    neck=st.floats(5, 60),
    base=st.floats(1, 15),
    cut=st.floats(0.05, 0.95),
    over=st.floats(2, 25),
    rise=st.floats(0.02, 0.3),
)
def test_formula_and_measured_outline_agree(
    radius: float, neck: float, base: float, cut: float, over: float, rise: float
) -> None:
    """Shapely measures the outline that is drawn; the formulas know nothing of it."""
    length = neck + 4 * radius * cut
    made = EndHoles(radius, neck, radius + base, length, base + 2 * radius + over + rise * length, rise * length)
    if made.hole_to_crest <= 0:
        return
    found = outline.measured(outline.outline(made))
    within = 0.01  # twice the chord error and the last digit, mm
    agree(found.neck, made.neck, within, unit="mm")
    agree(found.base, made.base, within, unit="mm")
    agree(found.horn_tip, made.horn_tip, within, unit="mm")
    agree(found.hole_to_crest, made.hole_to_crest, within, unit="mm")
    agree(found.least, made.least_wood, within, unit="mm")


def test_the_jig_and_the_box_draw_the_same_handle() -> None:
    made = BOXES["mm"].handle
    assert made
    plan = find("handle").plan({"saw": 38.6, "length": 90.0, "height": 54.0})
    [card], [here] = plan.sheets.cards, of_the_box().cards
    assert card.bands[: len(here.bands)] == here.bands
    assert piece(plan.sheets, "outline") == piece(of_the_box(), "outline")
    assert plan.numbers == handle_jig.as_data(made)


# -- rules ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "severity", "where", "says", "suggests"),
    [  # limits: common practice, no source; the rest is geometry
        (
            {"length": 200.0},
            "stop",
            "length",
            "holes of 38.6 mm with a neck of 24 mm between them do not cut the ends of a handle 200 mm long",
            "make it 62.6 mm to 89.62 mm long",
        ),
        ({"crest": 55.0}, "stop", "crest", "is flat or no arc", "make the crest more than 0, and 23.67 mm or less"),
        (
            {"height": 51.0},
            "warning",
            "height",
            "the wood above the holes may break: a handle 51 mm high has 3.6 mm there, under 4 mm",
            "make it 51.32 mm high",
        ),
        (
            {"height": 50.0},
            "stop",
            "height",
            "the handle will break when you lift the lid. It is 50 mm high, with 2.7 mm of wood over its holes; 3 mm "
            "is needed",
            "make it 51.32 mm high",
        ),
        (
            {"height": 40.0},
            "stop",
            "height",
            "the holes cut through the crest of a handle 40 mm high; 3 mm of wood must stay above them",
            "make it 51.32 mm high",
        ),
        (
            {"neck": 12.0, "length": 78.0},
            "warning",
            "neck",
            "a neck of 12 mm between the holes may break",
            "18 mm or more",
        ),
        (
            {"thickness": 12.0},
            "warning",
            "thickness",
            "may break across the grain",
            "make the handle 14.59 mm thick or more",
        ),
        ({"base": 3.0}, "warning", "base", "a base with 3 mm of wood under the holes will break", "4 mm or more"),
        (
            {"length": 98.0, "height": 70.0},
            "warning",
            "saw",
            "an opening of 15.3 mm × 37 mm is too small for a hand, which needs 20 mm × 15 mm",
            "39.71 mm in a handle 98 mm",
        ),
        (
            {"length": 60.0},
            "warning",
            "length",
            "the hole saw will walk in a blank that is trimmed first. Only 48 % of the saw rim is in wood, without "
            "a pilot drill",
            "drill the blank before you trim its ends, or butt a waste block of the same thickness against the end",
        ),
        (
            {"saw": 38.0},
            "note",
            "saw",
            "the hole is entered as 38 mm, like a size marked on a hole saw. A saw cuts wider, and the curve comes "
            "out half of that off",
            "drill a hole in scrap, measure it, and enter that size",
        ),
        (
            {"countersink": 18.0},
            "stop",
            "countersink",
            "heads sunk 18 mm into a lid 18 mm thick come through it",
            "sink them 9 mm or less, half the lid",
        ),
        ({"root": 4.0}, "stop", "root", "a screw with a shank of 4 mm cannot have a root of 4 mm", "about 2.8 mm"),
        (
            {"bite": 51.0},
            "stop",
            "bite",
            "screws that go 51 mm into 53.9 mm of wood leave too little above them",
            "let them go 49.91 mm in or less, or make the handle 55.09 mm high or more",
        ),
        (
            {"bite": 30.0, "shank": 6.0},
            "warning",
            "bite",
            "come within 3 mm of the holes",
            "let them go 18.11 mm in or less, or use a shank of 4 mm or less, or make the neck 28 mm or more",
        ),
        (
            {"bite": 30.0, "neck": 6.0, "length": 72.0, "shank": 6.0},
            "stop",
            "bite",
            "come out in the holes",
            "let them go 9.2 mm in or less, or make the neck 28 mm or more",
        ),
        ({"bite": 8.0}, "warning", "bite", "screws that go only 8 mm in will pull out", "let them go 12 mm in or more"),
        ({"shank": 8.0}, "warning", "shank", "split a handle 22 mm thick", "7.33 mm or less"),
    ],
)
def test_every_rule_says_what_would_work(
    changes: dict[str, Any], severity: str, where: str, says: str, suggests: str
) -> None:
    found = [problem for problem in problems(**changes) if problem.where == where]
    texts = [(problem.severity, problem.says("mm"), problem.suggests("mm")) for problem in found]
    assert any(s == severity and says in told and suggests in works for s, told, works in texts), texts


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"crest": 55.0}, "crest"),
        ({"saw": 70.0, "length": 12.0, "neck": 5.0, "height": 90.0, "crest": 4.0}, "length"),
        ({"length": 60.0, "crest": 28.0, "height": 90.0}, "crest"),
    ],
)
def test_who_takes_what_is_suggested_is_not_stopped_there_again(changes: dict[str, Any], where: str) -> None:
    """The first number over 0 is taken: the crest for a handle that is high enough for it."""
    [problem] = [problem for problem in problems(**changes) if problem.where == where and problem.severity == "stop"]
    number = next(float(word) for word in re.findall(r"[0-9.]+", problem.suggests("mm")) if float(word))
    taken = {where: number} | ({"height": 90.0} if where == "crest" else {})
    assert not [p for p in problems(**changes | taken) if p.where == where and p.severity == "stop"]


def test_a_handle_too_low_for_any_screw() -> None:
    low = {"saw": 10.0, "base": 0.5, "height": 15.0, "crest": 0.5, "neck": 20.0, "length": 37.0, "bite": 12.0}
    assert any("go 12 mm into 14.9 mm of wood" in problem.says("mm") for problem in problems(**low))


@SHAPELY.of("handle")
@settings(max_examples=60)
@given(
    saw=st.floats(10, 90),
    neck=st.floats(18, 60),
    base=st.floats(1, 15),
    cut=st.floats(0.51, 0.95),
    over=st.floats(5, 25),
    units=st.sampled_from(["mm", "in"]),
)
def test_a_pilot_drill_that_stays_marks_nothing(
    saw: float, neck: float, base: float, cut: float, over: float, units: Units
) -> None:
    """Shapely lays a drill of 1/4 in on the blank, on the core and on the finished outline; the rule knows no shapes.

    The core of a saw whose teeth take 2 mm is 4 mm less across than its hole (both common practice, no source).
    """
    sizes = {"length": neck + 2 * saw * cut, "height": base + saw + 5 + over}
    made = handle_of(units, saw=saw, neck=neck, base=base, crest=5.0, **sizes)
    holes, half = made.holes, made.blank_length / 2
    blank = shapely.box(-half, 0, half, made.blank_height)
    finished = shapely.Polygon(outline.outline(holes).points(0.004))
    for x, y in outline.centres(holes):
        drill, core = shapely.Point(x, y).buffer(INCH / 8, 64), shapely.Point(x, y).buffer(saw / 2 - 2, 64)
        assert made.pilot.stays == (blank.contains(drill) and core.buffer(1e-9).contains(drill))
        assert not made.pilot.stays or drill.intersection(finished).area == 0
        trimmed = shapely.box(-made.length / 2, 0, made.length / 2, made.height)
        alone = arithmetic.pilot(radius=saw / 2, inside=made.length / 2 - abs(x))  # trimmed before it is drilled
        assert (alone.in_wood >= 0) == trimmed.buffer(1e-9).contains(drill)


def test_a_pilot_drill_wider_than_the_core_comes_out() -> None:
    """A hole of 10 leaves a core of 6, and the drill is 6.35: what holds the saw then is said."""
    card = alone(saw=10.0, height=None)
    words = seen.said(card)
    assert "Take the pilot drill out: one of 6.35 is wider than the core" in words
    for holds in (
        "Clamp blank and waste block",
        "keep wood all round",
        "lowest speed",
        "Without a pilot drill it walks",
    ):
        assert holds in words
    assert "pilot drill out" in words
    labels = {read_out(label.words, "mm", on_paper) for view in seen.views(card).values() for label in view.labels}
    assert "no pilot drill" in labels
    assert "pilot drill" not in labels


@SHAPELY.of("handle")
@settings(max_examples=40)
@given(over=st.floats(0.5, 6), crest=st.floats(2, 8), neck=st.floats(18, 40))
def test_under_three_millimetres_over_a_hole_stop_the_handle(over: float, crest: float, neck: float) -> None:
    """Shapely measures the wood between hole and crest on the outline; 3 mm is asked for."""
    sizes = {"length": neck + 66, "height": 6 + 38.6 + crest + over}
    made = handle_of("mm", saw=38.6, neck=neck, base=6.0, crest=crest, **sizes)
    wood = outline.measured(outline.outline(made.holes)).hole_to_crest
    stopped = "stop" in [problem.severity for problem in handle_rules._crest_crosses_hole(made)]
    assert stopped == (wood < 3) or abs(wood - 3) < 0.03  # read out to 0.01, measured to 0.01


# -- pages ---------------------------------------------------------------------------------------------------------


def test_the_card_says_what_a_maker_needs() -> None:
    """Worked values: clamps 36.3 off, blank 111.2, holes 25.3 up and 24.3 from the end, waste block 20 longer."""
    sheets = of_the_box()
    [card] = sheets.cards
    assert (card.name, card.jig, [t.view.name for t in sheets.templates]) == (
        "handle",
        "handle",
        ["outline", "lid-screws"],
    )
    assert seen.settings_of(card) == {
        "saw": "38.60",
        "fence": "25.3",
        "stop": "24.3",
        "clamps": "36.3",
        "half": "13.0",
    }
    assert (
        read_out(card.about, "mm", on_paper).replace(" mm", "")
        == "blank 111.2 × 54 × 22, waste block 131 × 74 × 12 or more"
    )
    words = seen.said(card)
    assert "pilot drill in" in words
    assert "Fence and ends are the same: they meet." in words
    assert "trimmed, only 75 % of the saw rim is in wood" in words
    assert words.index("drill hole 2") < words.index("Saw the crest last")
    assert [hold.name for hold in card.holds()] == ["holes set"]


def test_the_bench_says_what_the_screws_are() -> None:
    """Worked values: screw 30; 0.11 under the edges of the base on a crown; 53.9 of wood above a screw."""
    card = finished()
    sizes = seen.settings_of(card)
    assert sizes["screw"] == "30"
    assert sizes["screw-apart"] == "12.0"
    assert sizes["screw-hole"] == "4.3"
    assert sizes["flat"] == "22.0"
    words = seen.said(card)
    assert "4 × 30" in words
    assert "plane 0.11" in words
    assert "Other screws: 27 to 64.9 long, shank 4.00 at most, root 2.80." in words
    assert "base to crest above it 53.9" in seen.said(alone())
    assert words.index("Middle lines on the flat top") < words.index("Plane a flat") < words.index("Mark the base")


def test_what_is_done_before_the_lid_has_its_crown_stands_apart() -> None:
    made = BOXES["mm"]
    assert made.handle
    flat, then = (bench.steps(made.handle, made.lid, shaped=shaped) for shaped in (False, True))
    assert (*flat, *then) == bench.steps(made.handle, made.lid)
    assert len(flat) == 2


def test_the_handle_stands_in_the_middle_of_the_lid() -> None:
    """Worked values: halves of the lid of 210 by 160 (200 and 150 with 5 all round), and 105 − 45 at the ends."""
    assert "105 from ends, 80 from edges" in seen.said(finished())
    use = read_out(piece(of_the_box(), "lid-screws").use, "mm", on_paper)
    assert "Its ends 60 from the lid’s." in use
    assert "Draw the lid’s middle lines" in seen.said(alone())


def test_which_screws_to_buy() -> None:
    """An inch screw by its gauge: 0.164 in is No. 8, 1 1/4 in between what holds and what there is room for."""
    settings = {"saw": 1.5 * 25.4, "lid": 0.75 * 25.4, "thickness": 0.875 * 25.4, "shank": 0.164 * 25.4, "root": 2.9}
    assert "No. 8 × 1 1/4" in seen.said(alone("in", **settings, height=None), "in")
    odd = settings | {"shank": 0.1445 * 25.4, "root": 2.4}  # between No. 6 and No. 7
    assert "No." not in seen.said(alone("in", **odd, height=None), "in")


def test_screws_across_the_grain_get_a_slot() -> None:
    made = BOXES["mm"]
    assert made.handle
    assert made.lid
    screws = handle_screws.screws_of(made.handle, made.lid)
    moves = made.lid.wood.coefficient * (made.lid.air.wet - made.lid.air.dry)
    assert handle_screws.Screwed(made.handle, screws).slot == pytest.approx(12 * moves)
    view = piece(find("handle").plan({"saw": 38.6, "height": 54.0, "across": True}).sheets, "lid-screws").view
    assert any(read_out(label.words, "mm", on_paper).startswith("slot 4.3 × 4.") for label in view.labels)
    assert "No glue: the lid must move under it." in seen.said(alone(across=True))


@BY_HAND.of("handle")
def test_the_flat_under_a_handle_that_lies_across_the_crown() -> None:
    """By hand: R = (160²/4 + 6²)/(2 × 6) = 536.33; 90 across it rises R − √(R² − 45²) = 1.891, 22 of it 0.1128."""
    made = BOXES["mm"]
    assert made.handle
    assert made.lid
    turned = replace(made.handle, asked=replace(made.handle.asked, across=True))
    gaps = [handle_screws.through(handle, made.lid).gap for handle in (made.handle, turned)]
    agree(gaps, [0.1128, 1.891], 6e-4, unit="mm")
    assert "across the crown, 1.89 deep" in read_out(bench.steps(turned, made.lid, shaped=True)[0], "mm", on_paper)


def test_the_setting_of_a_drawn_distance_is_that_distance() -> None:
    """What a picture measures for a setting is what the row says: both come from the same handle."""
    for card in (alone(), alone(saw=60.0, neck=40.0, height=None), finished()):
        values = seen.settings_of(card)
        for view in seen.views(card).values():
            for dimension in view.dimensions:
                if dimension.setting:
                    assert float(values[dimension.setting]) == pytest.approx(dimension.value, abs=0.051), dimension


@pytest.mark.parametrize("saw", [10.0, 38.6, 76.0])
def test_clamps_are_drawn_where_they_may_stand(saw: float) -> None:
    """Shapely measures: the saw is at 0, no pad's centre nearer to it than the clamp room, no pad over the fence."""
    made = handle_of("mm", saw=saw)
    view = seen.views(alone(saw=saw, height=None))["from-above"]
    pads = [part.covers[1] for part in view.parts if part.name.startswith("clamp-")]
    assert pads
    for pad in pads:
        middle = shapely.Polygon(pad.points()).centroid
        assert middle.distance(shapely.Point(0, 0)) >= made.clamp_room - 1e-6
        assert pad.bounds.top <= made.hole_height + 1e-6
    for one, other in itertools.combinations(pads, 2):
        assert not shapely.Polygon(one.points()).intersects(shapely.Polygon(other.points()))


@pytest.mark.slow
@pytest.mark.parametrize(("page", "units"), list(itertools.product(["A4", "Letter", "A3"], ["mm", "in"])))
def test_every_page_is_legible(page: str, units: Units) -> None:
    for bundle in seen.composed(of_the_box(units), page, units):
        for sheet in bundle.sheets:
            assert seen.faults(sheet) == []


def test_a_handle_takes_one_card_in_a_box_and_four_pages_alone() -> None:
    for units in ("mm", "in"):
        cards, _ = seen.composed(of_the_box(units), "A4", units)
        assert len(cards.sheets) == 1
    plan = find("handle").plan({"saw": 38.6, "length": 90.0, "height": 54.0})
    assert [len(bundle.sheets) for bundle in seen.composed(plan.sheets)] == [2, 2]


@pytest.mark.slow
@settings(max_examples=5, derandomize=True)  # a label on a join of pieces was seen on rare handles
@given(
    saw=st.floats(15, 90),
    neck=st.floats(4, 80),
    base=st.floats(1, 20),
    share=st.floats(0.1, 0.98),
    over=st.floats(-5, 30),
    across=st.booleans(),
    units=st.sampled_from(["mm", "in"]),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_any_handle_is_refused_or_legible(
    saw: float, neck: float, base: float, share: float, over: float, across: bool, units: Units, page: str
) -> None:
    asked = {
        "saw": saw,
        "neck": neck,
        "base": base,
        "length": neck + 2 * saw * share,
        "height": base + saw + 5 + over,
        "across": across,
    }
    try:
        plan = find("handle").plan(asked, units)
    except CannotBuild as error:
        reasons = [(problem.says(units), problem.suggests(units)) for problem in error.problems]
    else:
        reasons = [("not refused", "and legible")]
        for bundle in seen.composed(plan.sheets, page, units):
            for sheet in bundle.sheets:
                assert seen.faults(sheet) == []
    assert all(says and suggests for says, suggests in reasons)


# -- as written ----------------------------------------------------------------------------------------------------


def shapes_of(document: bytes, name: str, tmp_path: File) -> list[SvgPath]:
    """Return the paths of a group of an SVG, in mm as printed, read by another library."""
    where = tmp_path / "sheet.svg"
    where.write_bytes(document)
    per_mm = 96 / INCH  # what svgelements makes of the mm of the page
    found = []
    for group in SVG.parse(str(where), ppi=96).select(lambda element: element.values.get("id") == name):
        for element in group.select() if hasattr(group, "select") else [group]:
            if isinstance(element, SvgPath):
                path = element * Matrix.scale(1 / per_mm)
                path.reify()
                found.append(path)
    return found


def arcs_of(paths: list[SvgPath]) -> list[tuple[float, float, float]]:
    """Return centre and radius of every arc."""
    arcs = [segment for path in paths for segment in path if isinstance(segment, Arc)]
    return [(float(a.center.x), float(a.center.y), float(a.rx)) for a in arcs]


@FILES.of("handle")
def test_holes_and_arcs_are_true_in_the_svg(tmp_path: File) -> None:
    """Svgelements measures them: worked values 62.6 between centres, radius 19.3, crest 205; blank 111.2 by 54."""
    _, templates = seen.composed(of_the_box())
    document = svg.write(templates.sheets[1], "handle")
    holes = [arcs_of(shapes_of(document, f"handle-hole-{i}", tmp_path)) for i in (1, 2)]
    radii_of_holes = [arc[2] for hole in holes for arc in hole]
    agree(radii_of_holes, [19.3] * len(radii_of_holes), 0.01, unit="mm")
    (left, right) = (hole[0] for hole in holes)
    agree(right[0] - left[0], 62.6, 0.01, unit="mm")
    agree(right[1], left[1], 0.01, unit="mm")
    radii = {round(arc[2], 2) for arc in arcs_of(shapes_of(document, "handle-outline", tmp_path))}
    assert radii == {19.3, 205.0}
    base = max(p.bbox()[3] for p in shapes_of(document, "handle-outline", tmp_path))
    agree(base - left[1], 25.3, 0.01, unit="mm")  # y runs down in an SVG
    boxes = [path.bbox() for path in shapes_of(document, "handle-blank", tmp_path)]
    agree(max(b[2] for b in boxes) - min(b[0] for b in boxes), 111.2, 0.01, unit="mm")
    agree(max(b[3] for b in boxes) - min(b[1] for b in boxes), 54.0, 0.01, unit="mm")


@FILES.of("handle")
def test_holes_are_true_in_the_pdf(tmp_path: File) -> None:
    """Pdfplumber measures them: two circles of 38.6 across, 62.6 apart."""
    where = tmp_path / "handle.pdf"
    where.write_bytes(pdf.write(seen.composed(of_the_box())[1]))
    with pdfplumber.open(where) as document:
        curves = document.pages[1].curves
    boxes = {
        (round(c["x0"] * INCH / 72, 3), round(c["x1"] * INCH / 72, 3))
        for c in curves
        if math.isclose((c["x1"] - c["x0"]) * INCH / 72, 38.6, abs_tol=0.01)
    }
    middles = sorted((low + high) / 2 for low, high in boxes)
    assert len(middles) == 2
    agree(middles[1] - middles[0], 62.6, 0.01, unit="mm")


def _templates_of(text: str) -> list[str]:
    made = worked(text)
    assert made.handle
    return [template.view.name for template in handle_card.of(made.handle, made.lid).templates]


def test_a_box_whose_handle_does_not_take_the_usual_screws_gets_no_template_for_them() -> None:
    made = worked(METRIC + "[handle]\nsaw = 38.6\nneck = 5\n")
    assert made.handle
    [problem] = [problem for problem in made.problems if problem.where == "handle.neck" and "screws" in problem.rule]
    assert problem.severity == "warning"
    assert problem.says("mm").startswith("the heads of the screws meet: they are 8 mm wide and stand 2.5 mm apart")
    assert problem.says("mm").endswith(". No template is drawn for them")
    assert _templates_of(METRIC + "[handle]\nsaw = 38.6\nneck = 5\n") == ["outline"]
    assert bench.OTHER_SCREWS in bench.steps(made.handle, made.lid)
    usual = worked(METRIC + "[handle]\nsaw = 38.6\n")
    assert _templates_of(METRIC + "[handle]\nsaw = 38.6\n")[-1] == "lid-screws"
    assert not [problem for problem in usual.problems if problem.where.startswith("handle")]
    assert _templates_of(METRIC + "[handle]\nsaw = 38.6\nneck = 8\nshank = 2\nroot = 1.4\n")[-1] == "lid-screws"


def test_a_lid_that_the_usual_heads_go_through_still_has_a_handle() -> None:
    text = METRIC + "[lid]\nthickness = 1\n[handle]\nsaw = 38.6\n"
    problem, *_ = [problem for problem in worked(text).problems if problem.where == "handle.countersink"]
    assert "heads sunk 3 mm into a lid 1 mm thick come through it. No template is drawn for them" in problem.says("mm")
    assert _templates_of(text) == ["outline"]


def test_holes_that_meet_are_said_and_nothing_more_is_worked_out() -> None:
    """A neck of −100 makes a handle of a length below 0, on which no arc stands."""
    with pytest.raises(CannotBuild) as refused:
        find("handle").plan({"saw": 38.6, "neck": -100.0})
    assert [problem.where for problem in refused.value.problems] == ["neck"]
