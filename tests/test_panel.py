"""The bottom: its corner, its edge through the year, its rabbets; and every rule said of its settings."""

from __future__ import annotations

import io
from pathlib import Path
from typing import Any

import pdfplumber
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base.cards import Card
from jigs.base.catalogue import Plan, find
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.wording import Wording, on_paper, read_out
from jigs.box import chain
from jigs.boxfile import reading
from jigs.parts.bottom import card as bottom_card
from jigs.parts.bottom.part import Bottom
from layout.write import pdf
from tests import on_cards, refusals
from tests.boxes import WHOLE_INCHES, WHOLE_METRIC, worked
from tests.conftest import all_pages, pages_of
from tests.legibility import faults
from tests.outside import Check, agree
from tests.refusals import told

BY_HAND = Check("Bottom panel", "arithmetic written out in jigs/trade/panel.py", "worked example")
FILES = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)

SAMPLES = Path(__file__).parent.parent / "samples"
INCH = 25.4
CHERRY: dict[str, Any] = {
    "along": 216.0,
    "across": 136.0,
    "groove": 6.0,
    "depth": 6.0,
    "species": "black cherry",
}


def bottom_of(text: str) -> Bottom:
    made = worked(text).bottom
    assert made is not None
    return made


def plan(units: Units = "mm", **changes: Any) -> Plan:
    return find("panel").plan(CHERRY | changes, units)


def refused(**changes: Any) -> tuple[str, str, str]:
    return told(refusals.refused(lambda: plan(**changes)))


def warned(where: str, **changes: Any) -> tuple[str, str, str]:
    return told(refusals.warned(where, lambda: plan(**changes)))


def the_card(made: Plan | Bottom) -> Card:
    sheets = made.sheets if isinstance(made, Plan) else bottom_card.of(made)
    return on_cards.card(sheets, "bottom")


def sizes(card: Card) -> dict[str, tuple[Any, ...]]:
    """Return what is measured and cut, by its words and sums."""
    found: dict[str, tuple[Any, ...]] = {}
    for words, *rest in on_cards.table(card, "sizes").rows:
        assert isinstance(words, str | Wording)
        found[read_out(words, "mm", on_paper).replace("\u00a0", " ")] = tuple(rest)
    return found


# Coefficients: USDA Wood Handbook FPL-GTR-282 Table 13-5; moistures: its chapter 4. Worked values, derived in
# jigs/trade/panel.py, to two places of a millimetre or three of an inch.


@BY_HAND.of("panel")
def test_the_metric_box() -> None:
    """Cherry, flat-sawn, inside 136: cut 145.89; 145.06 at its driest, 147.5 at its wettest."""
    made = bottom_of(WHOLE_METRIC)
    year, card = made.seasons, the_card(made)
    held = (year.engagement_dry_centred, year.engagement_now, (year.width_wet - made.across) / 2)
    agree(held, (4.53, 4.95, 5.75), 0.005, unit="mm")
    agree(year.shoulder_gap, (147.5 - 145.89) / 2, 0.005, unit="mm")
    agree([year.width_dry, year.width, year.width_wet], [145.06, 145.89, 147.5], 0.005, unit="mm")
    agree(year.engagement_dry, 3.06, 0.005, unit="mm")
    assert [f"{moist:.1f} %" for moist in (made.air.dry, made.air.shop, made.air.wet)] == ["6.2 %", "8.5 %", "12.9 %"]
    drawn = sizes(card)
    agree([drawn[name][0] for name in list(drawn)[:3]], (216, 136, 6), unit="mm")
    agree(drawn["Length A + 2D − 1.00"][0], 216 + 12 - 1, unit="mm")
    agree(drawn["Width B + 2D − 2.11"][0], 145.89, 0.005, unit="mm")
    assert all(rest[1] is None for rest in drawn.values())  # room for what the maker reads and works out
    set_to = on_cards.settings(card)
    agree((set_to["ends-1"], set_to["sides-1"], set_to["height"]), (6, 5.75, 2.1), 0.005, unit="mm")
    agree(made.groove.corner.reach, 6.27, 0.005, unit="mm")
    assert "corners square" in on_cards.words(card, "mm")
    assert bottom_card.of(made).templates == ()


def test_the_holds_are_those_of_the_order_of_work() -> None:
    made = worked(WHOLE_METRIC)
    [part] = [part for part in made.parts if part.name == "bottom"]
    assert [hold.name for hold in the_card(bottom_of(WHOLE_METRIC)).holds()] == list(part.signed)


def test_a_shop_with_only_the_bit_of_the_groove_finds_its_settings() -> None:
    """Rabbets of 6 and 5.75 with a bit of 6, no more than 5.4 at once: in two settings each."""
    said = on_cards.words(the_card(bottom_of(WHOLE_METRIC)), "mm")
    assert "Or with the groove’s bit of 6: ends 3.00, then 6.00; sides 2.88, then 5.75." in said
    named = the_card(plan(bit=6.0))
    assert list(on_cards.settings(named)) == ["bit", "height", "ends-1", "ends-2", "sides-1", "sides-2"]
    assert "groove’s bit" not in on_cards.words(named, "mm")


@BY_HAND.of("panel")
def test_the_inch_box() -> None:
    """Walnut, flat-sawn, inside 5 1/2: cut 5.908; held .204, driest .185, slid to one side .121; rabbets .0675."""
    made = bottom_of(WHOLE_INCHES)
    year = made.seasons
    agree(
        [wide / INCH for wide in (year.width_dry, year.width, year.width_wet)], [5.871, 5.908, 5.980], 0.0006, unit="in"
    )
    agree((year.engagement_dry_centred / INCH, year.engagement_dry / INCH), (0.185, 0.121), 0.0006, unit="in")
    agree(on_cards.settings(the_card(made))["height"] / INCH, 0.0675, 0.00005, unit="in")


@BY_HAND.of("panel")
def test_a_wood_without_a_box_file() -> None:
    """The same cherry, quarter-sawn: 146.68; and with its grain the short way it is held by 1.74."""
    numbers = plan(rings=90.0).numbers
    agree((numbers["width"], numbers["engagement_dry"]), (146.68, 4.25), 0.006, unit="mm")
    turned = plan(along=136.0, across=216.0).numbers
    agree((turned["width"], turned["engagement_dry"]), (225.02, 1.74), 0.006, unit="mm")


@pytest.mark.parametrize(
    ("sides", "groove", "depth", "tongue", "end_margin", "reach", "short", "clip", "radius"),
    [
        (9.0, 6.0, 4.5, 6.0, 3.0, 3.0, 1.5, 6.0, 9.674),
        (0.375 * INCH, 0.25 * INCH, 0.1875 * INCH, 0.25 * INCH, 0.125 * INCH, 3.175, 1.5875, 6.35, 0.4031 * INCH),
    ],
)
@pytest.mark.parametrize("stopped", ["front and back", "end boards"])
def test_a_corner_that_must_be_clipped(
    stopped: str,
    sides: float,
    groove: float,
    depth: float,
    tongue: float,
    end_margin: float,
    reach: float,
    short: float,
    clip: float,
    radius: float,
) -> None:
    given_settings: dict[str, Any] = {
        "sides": sides,
        "groove": groove,
        "depth": depth,
        "tongue": tongue,
        "end_margin": end_margin,
    }
    made = plan(**given_settings, stopped=stopped, proud=0.0)
    assert made.numbers["corner"] == {"kind": "clip", "size": pytest.approx(clip)}
    card = the_card(made)
    filling, wood = ("front", (-reach, 0.0)) if stopped == "front and back" else ("end", (0.0, -reach))
    corners = on_cards.points(on_cards.part(on_cards.views(card)["corner"], filling))
    assert any(corner == pytest.approx(wood) for corner in corners)
    gauge = on_cards.template(made.sheets, "clip")
    assert {d.name: d.value for d in gauge.dimensions}["clip"] == pytest.approx(clip)
    outline = on_cards.points(on_cards.part(gauge, "clip"))
    assert outline[1:3] == [pytest.approx((0.0, clip)), pytest.approx((clip, 0.0))]
    said = next(problem for problem in made.problems if problem.where == "end margin")
    assert (said.numbers["short"], said.numbers["radius"]) == pytest.approx((short, radius), abs=0.002)
    assert "Clip each corner by" in on_cards.words(card, "mm")


def test_the_clip_goes_past_the_wood_of_the_round_end() -> None:
    """The clip's edge runs through the point where the groove ends: (−reach, 0)."""
    made = plan(sides=9.0, depth=4.5, tongue=6.0, end_margin=3.0, stopped="front and back", proud=0.0)
    _, upper, lower, _ = on_cards.points(on_cards.part(on_cards.views(the_card(made))["corner"], "tongue"))
    assert upper == pytest.approx((-4.5, 1.5))
    assert lower == pytest.approx((1.5, -4.5))
    assert sum(upper) == pytest.approx(-3.0)


def bits(card: Card) -> list[float]:
    """Return where the axis of the bit is in each section for the ends, from the fence's face at 0."""
    shown = [view for name, view in on_cards.views(card).items() if name.startswith("at-ends")]
    return [(box.left + box.right) / 2 for box in (on_cards.part(view, "bit").covers[0].bounds for view in shown)]


@pytest.mark.parametrize(("bit", "rabbet", "fences"), [(16.0, 5.0, [-3.0]), (12.7, 17.3, [2.3, 10.95])])
def test_the_fence_for_a_rabbet(bit: float, rabbet: float, fences: list[float]) -> None:
    """Fence face to the bit's centre: 5 − 8 = −3; 17.3 with a bit of 12.7 in two passes, 8.65 and 17.3 less 6.35."""
    card = the_card(plan(depth=rabbet, sides=2 * rabbet + 1.0, bit=bit))
    assert bits(card) == pytest.approx(fences)
    set_to = on_cards.settings(card)
    ends = [wide for name, wide in set_to.items() if name.startswith("ends")]
    assert ends == pytest.approx([fence + bit / 2 for fence in fences])
    assert set_to["bit"] == bit


def test_a_thin_bottom_has_no_rabbets_and_grooves_that_run_through_no_corner() -> None:
    made = plan(thickness=5.8)
    [card] = made.sheets.cards
    assert card.place == "Bench"
    assert on_cards.settings(card) == {}
    assert list(on_cards.views(card)) == ["whole"]
    assert "no rabbets: planed all over to 5.80; corners square" in on_cards.words(card, "mm")


def test_a_bit_as_wide_as_half_the_rabbet_stands_at_the_fence() -> None:
    assert bits(the_card(plan(depth=6.0, sides=13.0, bit=12.0))) == pytest.approx([0.0])


# -- rules ---------------------------------------------------------------------------------------------------------


@BY_HAND.of("panel")
@pytest.mark.parametrize(
    ("units", "thickness", "planed", "thicker"),
    [("in", 0.25 * INCH, 0.242 * INCH, "0.274 in"), ("mm", 6.0, 5.8, "6.6 mm")],
)
def test_a_bottom_as_thick_as_its_groove_is_planed_and_has_no_rabbets(
    units: Units, thickness: float, planed: float, thicker: str
) -> None:
    """A quarter-inch bottom in a quarter-inch groove: .250 − .008 = .242 all over, and nothing of .004 to be cut."""
    asked = {"groove": thickness, "thickness": thickness, "depth": 6.35, "sides": 12.7, "species": "sugar maple"}
    if units == "in":
        asked |= {"play": 0.008 * INCH}
    made = plan(units, **asked)
    card = the_card(made)
    assert on_cards.settings(card) == {}
    agree((made.numbers["thickness"], made.numbers["tongue"]), (planed, planed), unit="mm")
    assert made.numbers["rabbet_depths"] == [0.0, 0.0]
    [told_of] = [problem for problem in made.problems if problem.where == "thickness"]
    assert told_of.severity == "warning"
    assert "too shallow to cut" in told_of.says(units)
    planed_to = "0.242 in" if units == "in" else "5.8 mm"
    assert told_of.suggests(units) == (
        f"plane all of it to {planed_to}, without rabbets; or use one {thicker} thick or more"
    )
    words = on_cards.words(card, units)
    assert f"Plane all of it to {'0.242' if units == 'in' else '5.80'}." in words
    assert "rabbet" not in words.replace("no rabbets", "")
    for works in (planed, round(planed + 2 * (0.4 if units == "mm" else INCH / 64), 4)):
        again = plan(units, **asked | {"thickness": works})
        assert not [problem for problem in again.problems if problem.where == "thickness"]


def test_a_tongue_without_play_binds() -> None:
    assert warned("tongue", tongue=6.0)[1:] == (
        "a tongue 6 mm thick will bind in a groove 6 mm wide: it has no clearance, and finish makes it thicker",
        "make the tongue 5.8 mm thick",
    )
    assert "its clearance of 0.05 mm is under 0.10 mm" in warned("tongue", tongue=5.95)[1]
    for tongue in (5.9, 5.8):
        assert not [problem for problem in plan(tongue=tongue).problems if problem.where == "tongue"]


@BY_HAND.of("panel")
def test_a_bottom_that_hangs_below_the_sides_is_refused() -> None:
    """A tongue of 3.8 in the middle of 16 leaves 6.1 below it; in a groove 4.6 up that is 1.5 below the edges."""
    low: dict[str, Any] = {"groove": 4.0, "from_bottom": 4.6, "tongue": 3.8, "depth": 4.0}
    assert refused(**low, thickness=16.0) == (
        "thickness",
        "the box will stand on its bottom, which hangs 1.5 mm below the bottom edges. It is 16 mm thick, its tongue "
        "3.8 mm, the groove 4.6 mm up",
        "make the bottom 12 mm thick or less, or start the groove 6.6 mm from the bottom edge",
    )
    for works in (low | {"thickness": 12.0}, low | {"thickness": 16.0, "from_bottom": 6.6}):
        made = plan(**works)
        agree(made.numbers["lower_face"], 0.5, unit="mm")
        assert not [problem for problem in made.problems if problem.where in ("thickness", "from bottom")]
    where, says, _ = warned("thickness", **low, thickness=12.8)
    assert (where, says.partition(". ")[0].rpartition(", ")[2]) == (
        "thickness",
        "which lies only 0.10 mm above the bottom edges",
    )
    left_open = plan(**{key: size for key, size in low.items() if key != "from_bottom"}, thickness=16.0)
    agree(left_open.numbers["lower_face"], 0.5, unit="mm")
    thin: dict[str, Any] = {
        "groove": 1.0,
        "from_bottom": 4.6,
        "tongue": 0.8,
        "depth": 4.0,
        "thickness": 12.0,
        "sides": 12.0,
    }
    assert refused(**thin)[2].startswith("make the bottom 9 mm thick or less, or start the groove ")


def test_a_groove_so_low_that_only_another_height_helps() -> None:
    """0.3 up nothing but a bottom without rabbets fits, and its tongue of 0.8 is no bottom."""
    low: dict[str, Any] = {"groove": 1.0, "from_bottom": 0.3, "tongue": 0.8, "depth": 4.0, "thickness": 2.0}
    assert refused(**low)[::2] == (
        "from bottom",
        "start the groove 1.1 mm from the bottom edge; or cut a wider groove, and make the tongue as thick as the "
        "bottom",
    )
    assert plan(**low | {"from_bottom": 1.1})


@settings(max_examples=25)
@given(thickness=st.floats(3, 40), groove=st.floats(2, 12), low=st.floats(0, 20), units=st.sampled_from(["mm", "in"]))
def test_no_bottom_is_the_lowest_part_of_its_box(thickness: float, groove: float, low: float, units: Units) -> None:
    asked: dict[str, Any] = {"groove": groove, "thickness": thickness, "from_bottom": low}
    try:
        made = plan(units, **asked)
    except CannotBuild as error:
        suggested = [problem.suggests(units) for problem in error.problems]
        assert all(suggested)
        return
    body, tongue = made.numbers["thickness"], made.numbers["tongue"]
    assert low + tongue / 2 - body / 2 > -0.01
    assert made.numbers["lower_face"] == pytest.approx(low + tongue / 2 - body / 2)


def test_what_stops_a_bottom() -> None:
    assert refused(groove=1.0, play=1.0) == (
        "play",
        "a clearance of 1 mm leaves no tongue in a groove 1 mm wide",
        "enter 0.2 mm",
    )
    assert refused(shop_humidity=80) == (
        "shop humidity",
        "wood has 16.0 % moisture in the shop, outside the 6.2 % to 12.9 % of the two seasons",
        "enter a shop humidity between those of the two seasons",
    )
    assert refused(tongue=7.0)[:2] == (
        "tongue",
        "a tongue 7 mm thick does not go into a groove 6 mm wide; it needs a clearance of 0.20 mm",
    )
    assert refused(tongue=5.8, thickness=5.0) == (
        "tongue",
        "a bottom 5 mm thick cannot have a tongue 5.8 mm thick",
        "make the tongue 5 mm thick or less, or leave the tongue to the program",
    )
    where, says, _ = refused(tongue=5.008, thickness=5.0)  # a hair too thick, which is no tongue either
    assert (where, says) == ("tongue", "a bottom 5 mm thick cannot have a tongue 5.01 mm thick")
    assert refused(depth=0.5)[:2] == (
        "depth",
        "a groove 0.5 mm deep does not hold the bottom, whose clearance at each end is 0.5 mm",
    )
    assert refused(depth=12.0)[:2] == (
        "depth",
        "a groove 12 mm deep cuts through sides 12 mm thick; it may take half of them",
    )
    where, says, _ = refused(across=900.0, species=None)
    assert (where, says.partition(": ")[0]) == ("clearance", "in the driest season the bottom will drop out")


def test_what_a_maker_is_told() -> None:
    assert warned("clearance", clearance=0.0)[1].startswith(
        "in the wettest season the bottom, 148 mm wide, fills its grooves"
    )
    assert warned("tongue", tongue=5.0)[1].startswith("a tongue 5 mm thick will rattle in a groove 6 mm wide")
    assert warned("species", species=None)[1].startswith("the wood has no name, so its movement is that of red oak;")
    assert warned("panel", across=216.0, along=300.0, clearance=1.0)[1].startswith(
        "in the driest season the bottom hardly holds: slid to one side, its engagement is"
    )
    assert warned("depth", depth=7.0)[1].startswith("a groove 7 mm deep weakens the sides")


# -- pages ---------------------------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize("page", ["A4", "Letter", "A3"])
@pytest.mark.parametrize(("sample", "units"), [("recipe-box", "mm"), ("recipe-box-inch", "in")])
def test_the_card_is_one_legible_page(sample: str, units: Units, page: str) -> None:
    made = chain.work_out(reading.load(SAMPLES / f"{sample}.toml")).bottom
    assert made is not None
    cards, templates = pages_of(Plan("Bottom", {}, bottom_card.of(made)), "panel", page, units)
    assert (len(cards.sheets), len(templates.sheets)) == (1, 0)
    assert [fault for sheet in cards.sheets for fault in faults(sheet)] == []


@FILES.of("panel")
def test_the_clip_measures_in_the_written_file() -> None:
    """Read with pdfplumber: among the slanted lines of the page is one of 6 by 6 mm, the edge of the clip."""
    made = plan(sides=9.0, depth=4.5, tongue=6.0, end_margin=3.0, stopped="end boards", proud=0.0)
    _, bundle = pages_of(made, "panel")
    with pdfplumber.open(io.BytesIO(pdf.write(bundle))) as document:
        found = [mark for page in document.pages for mark in (*page.lines, *page.curves)]
    steps = {
        (round(abs(a[0] - b[0]) * 25.4 / 72, 2), round(abs(a[1] - b[1]) * 25.4 / 72, 2))
        for mark in found
        for a, b in zip(mark["pts"], mark["pts"][1:], strict=False)
    }
    assert (6.0, 6.0) in steps


@pytest.mark.slow
@settings(max_examples=6)
@given(
    across=st.floats(60, 400),
    groove=st.floats(3, 12),
    thickness=st.floats(3, 20),
    sides=st.floats(6, 25),
    end_margin=st.none() | st.floats(1, 12),
    stopped=st.sampled_from(["front and back", "end boards", "none"]),
    species=st.sampled_from([None, "black cherry", "sugar maple"]),
    from_bottom=st.none() | st.floats(0, 60),
    bit=st.none() | st.floats(4, 30),
    material=st.sampled_from(["solid", "plywood"]),
    units=st.sampled_from(["mm", "in"]),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_any_bottom_is_refused_or_legible(across: float, units: Units, page: str, **more: Any) -> None:
    try:
        made = find("panel").plan({"along": 1.3 * across, "across": across} | more, units)
    except CannotBuild as error:
        reasons = [(problem.says(units), problem.suggests(units)) for problem in error.problems]
        assert all(says and suggests for says, suggests in reasons)
        return
    for sheet in all_pages(pages_of(made, "panel", page, units)).sheets:
        assert faults(sheet) == []
