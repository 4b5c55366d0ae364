"""The lid's pages: worked values, templates measured in the files, rules, and any lid refused or legible."""

from __future__ import annotations

import io
import math
import re
from typing import Any

import pdfplumber
import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base.cards import Card, Hold
from jigs.base.catalogue import Plan, find
from jigs.base.drawing import ArcTo, Part, Path, View
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.box import chain
from jigs.boxfile import reading
from jigs.parts.lid import card as lid_card
from jigs.parts.lid.lid import as_data
from jigs.parts.lid.part import Lid
from jigs.record import replace
from jigs.trade import lid as trade_lid
from layout.write import pdf, svg
from tests import on_cards, refusals
from tests.boxes import WHOLE_METRIC, worked
from tests.conftest import all_pages, pages_of
from tests.legibility import faults
from tests.outside import Check, agree

BY_HAND = Check("Lid and crown", "arithmetic written out in jigs/trade/lid.py", "worked example")
CIRCLE = Check(
    "Lid and crown",
    "circles and tangents: distances from the centre; movement put back; numpy.linalg",
    "independent derivation",
)
FILES = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)

INCH = 25.4
METRIC: dict[str, Any] = {
    **{"along": 216.0, "across": 136.0, "wall": 12.0, "thickness": 18.0},
    **{"plug": 6.0, "crown": 6.0, "species": "black cherry"},
}
INCHES: dict[str, Any] = {
    **{"along": 8.5 * INCH, "across": 5.5 * INCH, "wall": INCH / 2, "thickness": 0.75 * INCH},
    **{"plug": INCH / 4, "crown": INCH / 4, "species": "black walnut"},
}

DRY_HOME = {"dry_humidity": 5, "wet_humidity": 5, "shop_temperature": 0, "dry_temperature": 0, "wet_temperature": 0}
"""A home so dry that a lid cut in usual air has a plug far wider than its opening."""

BOX_N = """units = "in"
[box]
length = "9 1/2"
width = "6 1/2"
height = 3.5
[sides]
thickness = "1/2"
species = "black walnut"
[joint]
finger = "1/2"
cutter = 0.5
clearance = 0.004
proud = "1/64"
[lid]
thickness = "3/4"
plug = "1/4"
overhang = "3/16"
crown = "1/4"
clearance = "1/64"
[climate]
shop = { temperature = "70 F", humidity = 45 }
dry = { temperature = "70 F", humidity = 30 }
wet = { temperature = "78 F", humidity = 70 }
"""


def planned(units: Units = "mm", **changes: Any) -> Plan:
    return find("lid").plan((METRIC if units == "mm" else INCHES) | changes, units)


def lid_of_box(text: str) -> Lid:
    made = chain.work_out(reading.read(text, "box.toml")).lid
    assert made is not None
    return made


def the_card(made: Plan | Lid, name: str = "lid") -> Card:
    return on_cards.card(made.sheets if isinstance(made, Plan) else lid_card.of(made), name)


def with_bit(bit: float) -> Card:
    return the_card(replace(lid_of_box(WHOLE_METRIC), bit=bit, deepest_pass=3.0))


def outs(card: Card, edges: str) -> list[float]:
    """Return how far the bit stands out at each setting for some edges."""
    return [wide for name, wide in on_cards.settings(card).items() if name.startswith(edges)]


def the_arc(found: Part) -> tuple[Path, ArcTo]:
    return next(
        (line.shape, step)
        for line in found.lines
        if isinstance(line.shape, Path)
        for step in line.shape.steps
        if isinstance(step, ArcTo)
    )


# -- numbers -------------------------------------------------------------------------------------------------------


@BY_HAND.of("lid")
def test_the_metric_box_has_the_worked_lid() -> None:
    """Worked values, derived in trade.lid: cherry 136, 0.4 mm left at 25 °C 70 %, lid 250 by 170, rise 6."""
    data = as_data(lid_of_box(WHOLE_METRIC))
    worked = {
        **{"length": 250, "width": 170, "plug_length": 215.4, "plug_width": 134.12},
        **{"gap_now": 1.88, "gap_dry": 2.644, "gap_wet": 0.4, "rabbet_ends": 17.3, "rabbet_sides": 17.94},
        **{"width_dry": 169.03, "width_wet": 171.88, "crown_radius": 605.083, "edge": 6, "over_shoulder": 8.27},
    }
    agree({name: data[name] for name in worked}, worked, 5e-3, unit="mm")


@BY_HAND.of("lid")
def test_the_inch_box_has_the_worked_lid() -> None:
    """Worked values in inches, derived in trade.lid: walnut 5 1/2, 1/64 left at 78 °F 70 %, lid 9 7/8 by 6 7/8."""
    data: dict[str, Any] = as_data(lid_of_box(BOX_N))
    worked = {
        **{"length": 9.875, "width": 6.875, "plug_length": 8.469, "plug_width": 5.418},
        **{"gap_now": 0.082, "gap_dry": 0.116, "gap_wet": 0.016, "rabbet_ends": 0.703, "rabbet_sides": 0.7285},
        **{"crown_radius": 23.758, "edge": 0.25, "over_shoulder": 0.345},
    }
    agree({name: data[name] / INCH for name in worked}, worked, 6e-4, unit="in")


def test_the_jig_and_the_box_file_make_the_same_lid() -> None:
    assert planned().numbers == pytest.approx(as_data(lid_of_box(WHOLE_METRIC)))


@BY_HAND.of("lid")
@pytest.mark.parametrize(
    ("units", "inch", "heights", "places"),
    [  # worked values: √(R² − x²) − (R − rise) at every twelfth of the width from the centre
        ("mm", 1.0, (6.000, 5.834, 5.336, 4.506, 3.341, 1.840, 0), 5e-4),
        ("in", INCH, (0.250, 0.243, 0.222, 0.188, 0.139, 0.077, 0), 6e-4),
    ],
)
@pytest.mark.parametrize("name", ["male", "female"])
def test_the_templates_are_as_high_as_worked_out(
    name: str, units: Units, inch: float, heights: tuple[float, ...], places: float
) -> None:
    plan = planned(units)
    _, arc = the_arc(on_cards.part(on_cards.template(plan.sheets, name), name))
    at = [plan.numbers["width"] * step / 12 for step in range(7)]
    agree([(arc.centre.y + math.sqrt(arc.radius**2 - x**2)) / inch for x in at], heights, places, unit="")
    foot = min(y for _, y in on_cards.points(on_cards.part(on_cards.template(plan.sheets, "male"), "male")))
    agree(foot, -plan.numbers["edge"], unit="mm")


def flats(plan: Plan) -> list[tuple[float, float, float, float]]:
    """Return slope, starts and line on the long edge of each flat, as the table says them."""
    rows = on_cards.table(the_card(plan, "lid-bench"), "flats").rows
    return [(float(str(row[1]).rstrip("°")), *(float(str(cell)) for cell in row[2:5])) for row in rows]  # type: ignore[misc]


@BY_HAND.of("lid")
def test_flats_of_the_card() -> None:
    """Worked values: five flats on 170 by 6 leave 0.24 mm and meet 17.05 and 51.11 from the centre, on the arc."""
    found = flats(planned())
    agree([row[1] for row in found], [17.05, 51.11], 0.03, unit="mm")  # the ridges lie R/cos out, not R
    half = math.degrees(math.asin(85 / 605.0833))
    agree([row[0] for row in found], [2 * k * half / 5 for k in (1, 2)], 0.05, unit="°")
    shown = on_cards.part(on_cards.views(the_card(planned(), "lid-bench"))["flat-lines"], "flats")
    ridges = {round(abs(x), 6) for x, _ in on_cards.points(shown)} - {85.0}
    agree(sorted(ridges), [row[1] for row in found], 1e-6, unit="mm")
    assert "5 flats, ridges of 0.24" in on_cards.words(the_card(planned(), "lid-bench"), "mm")


def test_a_flat_planed_out_to_the_edge_is_a_straight_line() -> None:
    """Start, and line on the long edge, of each flat: a rise over run that is its slope."""
    for angle, at, up, edge in flats(planned()):
        assert math.degrees(math.atan2(up - edge, 85 - at)) == pytest.approx(angle, abs=0.05)


# -- shapes --------------------------------------------------------------------------------------------------------


@CIRCLE.of("lid")
@pytest.mark.parametrize("name", ["male", "female"])
@pytest.mark.parametrize("half", [False, True])
def test_templates_follow_the_circle_through_three_points(name: str, half: bool) -> None:
    """numpy as the reference: the circle through both ends of the crown and its top, by solving three equations."""
    import numpy as np  # noqa: PLC0415 - only this test needs it

    found: View | None = on_cards.template(planned().sheets, name)
    while half and found is not None and not str(found.title).startswith("Half"):
        found = found.detail
    assert found is not None
    outline, arc = the_arc(on_cards.part(found, name))
    places = np.array([[-85.0, 0.0], [85.0, 0.0], [0.0, 6.0]])
    system = np.column_stack([2 * places, np.ones(3)])
    across, up, rest = np.linalg.solve(system, (places**2).sum(axis=1))
    agree(tuple(arc.centre), (across, up), 1e-9, unit="mm")
    agree(arc.radius, math.sqrt(rest + across**2 + up**2), unit="mm")
    on_arc = [p for p in outline.points() if -85 <= p.x <= 85 and 0 <= p.y <= 6 and p.x * p.y]
    assert len(on_arc) > (5 if half else 10)
    for point in on_arc:
        agree(math.dist(point, arc.centre), arc.radius, 1e-6, unit="mm")


@FILES.of("lid")
def test_the_crown_in_the_svg_measured_by_another_library() -> None:
    """svgelements reads the written file: the chord of 170 and the rise of 6 over it, within 0.01 mm."""
    _, bundle = pages_of(planned(), "lid")
    found = [
        element
        for written in bundle.sheets
        for element in svgelements.SVG.parse(io.BytesIO(svg.write(written, bundle.subject)), ppi=25.4).elements()
        if isinstance(element, svgelements.Path)
    ]
    arcs = [piece for path in found for piece in path if isinstance(piece, svgelements.Arc)]
    crowns = [arc for arc in arcs if abs(arc.end.x - arc.start.x) > 100]
    assert len(crowns) == 2
    for crown in crowns:
        chord = math.hypot(crown.end.x - crown.start.x, crown.end.y - crown.start.y)
        agree(chord, 170, 0.01, unit="mm")
        agree(crown.rx, crown.ry, unit="mm")
        agree(crown.rx - math.sqrt(crown.rx**2 - chord**2 / 4), 6, 0.01, unit="mm")


@FILES.of("lid")
def test_the_crown_in_the_pdf_measured_by_another_library() -> None:
    """pdfplumber reads the written file: a curve 170 wide and 6 high, within 0.01 mm."""
    point = 72 / 25.4
    _, bundle = pages_of(planned(), "lid")
    with pdfplumber.open(io.BytesIO(pdf.write(bundle))) as document:
        sizes = [
            ((curve["x1"] - curve["x0"]) / point, (curve["bottom"] - curve["top"]) / point)
            for page in document.pages
            for curve in page.curves
        ]
    agree(min(sizes, key=lambda size: math.dist(size, (170, 6))), (170, 6), 0.01, unit="mm", case=sizes)


def test_an_upright_template_is_the_same_piece_turned() -> None:
    for name in ("male", "female"):
        lying = on_cards.template(planned().sheets, name)
        upright = lying.detail
        assert upright is not None
        assert upright.bounds.height == pytest.approx(lying.bounds.width)
        assert upright.check is not None
        assert upright.check.value == pytest.approx(170)
        (_, one), (_, other) = (the_arc(on_cards.part(found, name)) for found in (lying, upright))
        assert one.radius == pytest.approx(other.radius)


@BY_HAND.of("lid")
def test_the_lid_in_its_seasons() -> None:
    """Worked values: gap 1.88, 2.64, 0.4; lid 170, 169.03, 171.88; overhang 5, 4.5, 5.9."""
    made = lid_of_box(WHOLE_METRIC)
    agree((made.plug.gap_now, made.plug.gap_dry, made.plug.gap_wet), (1.88, 2.644, 0.4), 5e-3, unit="mm")
    widths = (made.width, *made.widths)
    agree(widths, (170, 169.03, 171.88), 5e-3, unit="mm")
    agree([trade_lid.overhang(lid=wide, outside=160) for wide in widths], (5, 4.5, 5.9), 0.05, unit="mm")
    assert "clearance 1.88 across in all, 0.6 along" in on_cards.words(the_card(made), "mm")


def bits(card: Card, edges: str) -> list[float]:
    """Return where the axis of the bit is in each section for some edges, from the fence's face at 0."""
    shown = [view for name, view in on_cards.views(card).items() if name.startswith(f"at-{edges}")]
    return [(box.left + box.right) / 2 for box in (on_cards.part(view, "bit").covers[0].bounds for view in shown)]


@BY_HAND.of("lid")
def test_rabbet_set_ups() -> None:
    """Worked values: 17.3 wide with a bit of 20 stands 7.3 in front; with one of 12.7 it takes two passes."""
    one, two, behind = with_bit(20.0), with_bit(12.7), with_bit(40.0)
    agree(outs(one, "ends"), [17.3], unit="mm")
    agree(bits(one, "ends"), [7.3], unit="mm")
    agree(outs(two, "ends"), [8.65, 17.3], unit="mm")
    agree(bits(two, "ends"), [2.3, 10.95], unit="mm")
    agree(bits(behind, "ends"), [-2.7], unit="mm")
    agree(bits(with_bit(2 * lid_of_box(WHOLE_METRIC).rabbets[0]), "ends"), [0.0], 1e-9, unit="mm")
    assert list(on_cards.settings(one)) == ["bit", "height", "ends-1", "sides-1"]
    assert (on_cards.settings(one)["bit"], on_cards.settings(one)["height"]) == (20.0, 6.0)
    assert "Both ends at 3, then 6 high" in on_cards.words(one, "mm")


@BY_HAND.of("lid")
def test_what_the_plug_measures_after_each_setting() -> None:
    """Worked values: 250 less twice 8.65 and 17.3 along; 170 less twice 8.97 and 17.94 across, with a bit of 12.7."""
    found = lid_card.rabbets(replace(lid_of_box(WHOLE_METRIC), bit=12.7, deepest_pass=3.0)).stages
    agree([stage.piece for stage in found], [232.7, 215.4, 152.06, 134.12], 5e-3, unit="mm")
    read = on_cards.checks(with_bit(12.7))
    agree(read["plug, both ends cut"].low, 215.4, 5e-3, unit="mm")
    agree(read["plug, before the last setting"].low, 152.06, 5e-3, unit="mm")
    agree((read["opening, with the grain"].low, read["opening, across the grain"].low), (216, 136), unit="mm")


@pytest.mark.parametrize(
    ("bit", "titles", "says", "never"),
    [
        (
            12.7,
            ["First setting", "Last setting: bit off the fence"],
            "Both sides so too, but for the last setting",
            "in scrap and",
        ),
        (20.0, ["Ends and sides"], "Cut the setting of the sides in scrap and measure its rabbet", "but the last"),
    ],
)
def test_the_pictures_and_words_fit_the_settings(bit: float, titles: list[str], says: str, never: str) -> None:
    """A bit of 12.7 for a rabbet of 17.94 is 5.24 off the fence; before that the plug is 152.06 across."""
    card = with_bit(bit)
    assert [view.title for name, view in on_cards.views(card).items() if name.startswith("at-")] == titles
    said = on_cards.words(card, "mm")
    assert says in said
    assert never not in said
    if bit < 17:
        assert "Wider than 152.06? Last setting: bit out by half of that more" in said
        assert "A strip left at the fence is thrown." in said


def test_what_lies_between_bit_and_fence_was_cut_before() -> None:
    """At a setting free of the fence, what the bit does not reach now is shown as cut away by those before."""
    for bit in (4.0, 6.0, 8.0, 12.7):
        card = with_bit(bit)
        for view in on_cards.views(card).values():
            gone = [p for p in view.parts if p.name == "cut-before"]
            if gone:
                near = on_cards.part(view, "bit").covers[0].bounds.left
                assert gone[0].bounds.left == 0
                assert gone[0].bounds.right > near


@pytest.mark.parametrize("bit", [12.7, 20.0])
def test_the_holds_are_those_of_the_order_of_work(bit: float) -> None:
    """The last cut comes after the hold before it, and nothing that can't be mended before that."""
    [part] = [part for part in worked(WHOLE_METRIC).parts if part.name == "lid"]
    card = with_bit(bit)
    assert [hold.name for hold in card.holds()] == list(part.signed)
    assert isinstance(card.bands[-2], Hold)


def test_what_a_lid_has_no_need_of() -> None:
    flat = planned(crown=0.0)
    assert [card.name for card in flat.sheets.cards] == ["lid"]
    assert flat.sheets.templates == ()
    made = replace(lid_of_box(WHOLE_METRIC), crown=0.0)
    assert lid_card.finish_bands(made) == ()
    assert lid_card.of(made).templates == ()


def test_the_crown_of_a_box_belongs_to_the_bench() -> None:
    made = lid_of_box(WHOLE_METRIC)
    sheets = lid_card.of(made)
    assert [card.name for card in sheets.cards] == ["lid"]
    assert {(one.card, one.jig, one.view.name) for one in sheets.templates} == {
        ("finish", "lid", "male"),
        ("finish", "lid", "female"),
    }
    assert lid_card.finish_bands(made)[-3:] == planned().sheets.cards[1].bands[-3:]


def test_every_page_belongs_to_the_family_and_says_what_to_measure() -> None:
    sheets = planned().sheets
    assert {one.jig for one in sheets.cards} | {one.jig for one in sheets.templates} == {"lid"}
    assert all(one.view.check in one.view.dimensions for one in sheets.templates)
    assert all(one.view.check.value == pytest.approx(170) for one in sheets.templates if one.view.check)


# -- rules ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "severity", "where", "says", "suggests"),
    [
        (
            {"crown": 12.0},
            "stop",
            "crown",
            "no edge is left of the lid, which needs 4 mm. Of its 18 mm the plug takes 6 mm, the crown 12 mm",
            "make the crown 8 mm or less",
        ),
        (
            {"crown": 9.0},
            "warning",
            "crown",
            "the lid’s edge will chip: it is 3 mm thick and needs 4 mm. Of its 18 mm the plug takes 6 mm, the crown "
            "9 mm",
            "make the crown 8 mm or less",
        ),
        (
            {"crown": 0.0, "plug": 15.0},
            "warning",
            "plug",
            "the lid’s edge will chip: it is 3 mm thick and needs 4 mm. Of its 18 mm the plug takes 15 mm, the crown "
            "0 mm",
            "make the lid 19 mm thick or more, or make the plug 14 mm deep",
        ),
        (
            {"crown": 63.0, "plug": 14.0},
            "stop",
            "crown",
            "no edge is left of the lid, which needs 4 mm. Of its 18 mm the plug takes 14 mm, the crown 63 mm",
            "make the crown 62 mm or less, and the lid 80 mm thick",
        ),
        (
            {"crown": 70.0, "across": 20.0, "wall": 2.0, "thickness": 80.0},
            "stop",
            "crown",
            "a crown of 70 mm over a lid 34 mm wide is no arc: it is more than half the width",
            "make the crown 17 mm or less",
        ),
        (
            {"play": 10.0, "clearance": 10.0, "across": 20.0},
            "note",
            "lid",
            "the plug’s clearance across the grain reaches 10.2 mm in the driest season; over 2 mm is felt as loose",
            "two pads along",
        ),
        (
            {"clearance": 0.1},
            "warning",
            "clearance",
            "the lid will jam at a humidity of 71 %: its clearance in the wettest season is 0.1 mm, under 0.20 mm",
            "make the clearance 0.4 mm",
        ),
        (
            {},
            "note",
            "lid",
            "the plug’s clearance across the grain reaches 2.7 mm in the driest season; over 2.2 mm is felt as loose",
            "use quarter-sawn wood, its rings at 90°, for a clearance of 1.6 mm; or fit two pads along the grain "
            "line instead of a whole plug",
        ),
        (
            {"crown": 0.4},
            "stop",
            "crown",
            "a crown of 0.4 mm is too low to be planed",
            "enter 0 mm for a flat lid, or make the crown 0.5 mm or more",
        ),
        (
            {"overhang": 0.0},
            "warning",
            "overhang",
            "an overhang of 0 mm will be gone in the driest season, when the lid is 0.46 mm narrower a side",
            "0.46 mm or more",
        ),
        ({"species": None}, "warning", "species", "the wood has no name", "name the wood"),
        (
            {"along": 100.0},
            "warning",
            "across",
            "the long way of the lid moves, across the grain: its clearance is 2.7 mm in the driest season",
            "exchange along and across",
        ),
        (
            {"dry_humidity": 75},
            "stop",
            "dry humidity",
            "the wrong way round",
            "exchange the driest and the wettest season",
        ),
        (
            {"shop_humidity": 80},
            "warning",
            "shop",
            "the wood will move before it is used: its moisture is 16.0 % in the shop, 6.2 % to 12.9 % at home",
            "no longer changes",
        ),
        (
            {"wet_humidity": 85},
            "warning",
            "climate",
            "movement is known less well: a moisture of 17.8 % lies outside the 6 % to 14 % of its table",
            "those of a season",
        ),
        (
            {"across": 334.0, "wall": 4.0, "overhang": 2.0, "species": "basswood", "shop_humidity": 61} | DRY_HOME,
            "stop",
            "overhang",
            "the lid falls in: cut in the shop’s air, its plug is 345.1 mm wide and leaves rabbets of 0.4 mm. They "
            "must be 1 mm to rest on the box",
            "or more; or leave the wood",
        ),
        (
            {
                "across": 800.0,
                "along": 800.0,
                "wall": 1.0,
                "overhang": 0.0,
                "species": "beech",
                "shop_humidity": 98,
            }
            | DRY_HOME,
            "stop",
            "overhang",
            "the lid falls in: cut in the shop’s air, its plug is 891 mm wide and leaves rabbets of −44.5 mm. They "
            "must be 1 mm to rest on the box",
            "make the overhang 45.49 mm or more; or leave the wood in air as humid as the home’s until its weight no "
            "longer changes, then cut it",
        ),
        (
            {"across": 5.0},
            "stop",
            "across",
            "must be from 20 mm to 800 mm; it is 5 mm",
            "the nearest that works is 20 mm",
        ),
    ],
)
def test_rules_say_what_is_wrong(changes: dict[str, Any], severity: str, where: str, says: str, suggests: str) -> None:
    problems = refusals.problems(lambda: planned(**changes))
    found = [(p.severity, p.where, p.says("mm"), p.suggests("mm")) for p in problems]
    assert any(p[:2] == (severity, where) and says in p[2] and suggests in p[3] for p in found), found
    assert not any("climate." in p[3] or "lid." in p[1] for p in found)


@pytest.mark.parametrize(
    ("changes", "where"),
    [
        ({"across": 800.0, "along": 900.0, "overhang": 0.0, "shop_humidity": 80}, "overhang"),
        ({"thickness": 4.0, "plug": None, "crown": 0.0}, "thickness"),
    ],
)
def test_what_is_suggested_counts_what_grows_with_it(changes: dict[str, Any], where: str) -> None:
    """A wider lid shrinks more, and the usual plug of a thicker lid is deeper."""
    [problem] = [p for p in refusals.problems(lambda: planned(**changes)) if p.where == where]
    number = re.findall(r"[0-9.]+", problem.suggests("mm"))[0]
    again = refusals.problems(lambda: planned(**changes | {where: float(number)}))
    assert problem.rule not in {p.rule for p in again}


# -- pages ---------------------------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize(("page", "units"), [("A4", "mm"), ("Letter", "in"), ("A3", "mm")])
def test_every_page_is_legible(page: str, units: Units) -> None:
    cards, templates = pages_of(planned(units), "lid", page, units)
    assert [fault for written in (*cards.sheets, *templates.sheets) for fault in faults(written)] == []
    assert (len(cards.sheets), len(templates.sheets)) == (2, 2)


@pytest.mark.slow
@settings(max_examples=3)
@given(
    along=st.floats(20, 600),
    across=st.floats(20, 400),
    thickness=st.floats(6, 40),
    crown=st.one_of(st.just(0.0), st.floats(0.4, 15)),
    overhang=st.floats(0, 20),
    rings=st.floats(0, 90),
    humidity=st.integers(5, 98),
    units=st.sampled_from(["mm", "in"]),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_any_lid_is_refused_or_legible(humidity: int, units: Units, page: str, **given_settings: float) -> None:
    try:
        plan = planned(units, **given_settings, plug=None, shop_humidity=humidity)
        written = all_pages(pages_of(plan, "lid", page, units)).sheets
        found = [fault for one in written for fault in faults(one)]
    except CannotBuild as error:
        found = [problem.rule for problem in error.problems if not (problem.says(units) and problem.suggests(units))]
    assert found == []
