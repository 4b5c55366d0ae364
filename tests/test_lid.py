"""The lid's sheets: worked values, templates measured in the files, rules, and any lid refused or legible."""

from __future__ import annotations

import io
import math
import re
from dataclasses import replace
from typing import Any

import pdfplumber
import pytest
import svgelements
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base import lengths
from jigs.base.catalogue import Plan, find
from jigs.base.drawing import ArcTo, Drawing, Notes, Part, Path, Table, View
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.wording import read_out
from jigs.box import chain
from jigs.boxfile import reading
from jigs.parts.lid import crown as lid_crown
from jigs.parts.lid import sheets as lid_sheets
from jigs.parts.lid.lid import as_data
from jigs.parts.lid.part import Lid
from jigs.parts.wood.seasons import WOODS
from jigs.trade import movement
from layout.fill import compose
from layout.fill.job import Job
from layout.sheet import paper
from layout.sheet.marks import Bundle
from layout.write import pdf, svg
from tests import refusals
from tests.boxes import WHOLE_METRIC
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


def composed(drawings: tuple[Drawing, ...], page: str, units: Units) -> Bundle:
    return compose.compose(Job("lid", "Lid", "settings", units, "abc123"), drawings, paper.named(page))


def lid_of_box(text: str) -> Lid:
    made = chain.work_out(reading.read(text, "box.toml")).lid
    assert made is not None
    return made


def sheet(plan: Plan | tuple[Drawing, ...], name: str) -> Drawing:
    drawings = plan.drawings if isinstance(plan, Plan) else plan
    return next(drawing for drawing in drawings if drawing.name == name)


def view(drawing: Drawing, name: str) -> View:
    return next(item for item in drawing.body if isinstance(item, View) and item.name == name)


def table(drawing: Drawing, name: str) -> Table:
    return next(item for item in drawing.body if isinstance(item, Table) and item.name == name)


def part(found: View, name: str) -> Part:
    return next(p for p in found.parts if p.name == name)


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
def test_ordinates_of_the_sheet(units: Units, inch: float, heights: tuple[float, ...], places: float) -> None:
    rows = table(sheet(planned(units), "crown"), "ordinates").rows
    width = planned(units).numbers["width"]
    agree(rows[0][1:], [width * step / 12 for step in range(7)], unit="")
    agree([float(str(y)) / inch for y in rows[1][1:]], heights, places, unit="")
    edge = planned(units).numbers["edge"]
    agree(rows[2][1:], [float(str(y)) + edge for y in rows[1][1:]], unit="")


@BY_HAND.of("lid")
def test_flats_of_the_sheet() -> None:
    """Worked values: five flats on 170 by 6 leave 0.24 mm and meet 17.05 and 51.11 from the centre, on the arc."""
    rows = table(sheet(planned(), "flats"), "flats").rows
    agree([row[2] for row in rows], [17.05, 51.11], 0.03, unit="mm")  # the ridges lie R/cos out, not R
    half = math.degrees(math.asin(85 / 605.0833))
    assert [str(row[1]) for row in rows] == [f"{2 * k * half / 5:.2f}°" for k in (1, 2)]
    dimensions = view(sheet(planned(), "flats"), "flat-lines").dimensions
    agree([d.value for d in dimensions], [row[2] for row in rows], unit="mm")


def test_a_flat_planed_out_to_the_edge_is_a_straight_line() -> None:
    """Start, and line on the long edge, of each flat: a rise over run that is its slope."""
    for angle, at, up, edge in ((r[1], r[2], r[3], r[4]) for r in table(sheet(planned(), "flats"), "flats").rows):
        assert isinstance(at, float)
        assert isinstance(up, float)
        assert isinstance(edge, float)
        slope = math.degrees(math.atan2(up - edge, 85 - at))
        assert slope == pytest.approx(float(str(angle).rstrip("°")), abs=6e-3)


# -- shapes --------------------------------------------------------------------------------------------------------


@CIRCLE.of("lid")
@pytest.mark.parametrize("name", ["male", "female"])
@pytest.mark.parametrize("half", [False, True])
def test_templates_follow_the_circle_through_three_points(name: str, half: bool) -> None:
    """numpy as the reference: the circle through both ends of the crown and its top, by solving three equations."""
    import numpy as np  # noqa: PLC0415 - only this test needs it

    found: View | None = view(sheet(planned(), "crown"), name)
    if half:
        assert found is not None
        found = found.detail
    assert found is not None
    outline, arc = the_arc(part(found, name))
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
    bundle = composed((sheet(planned(), "crown"),), "A4", "mm")
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
    bundle = composed((sheet(planned(), "crown"),), "A4", "mm")
    with pdfplumber.open(io.BytesIO(pdf.write(bundle))) as document:
        sizes = [
            ((curve["x1"] - curve["x0"]) / point, (curve["bottom"] - curve["top"]) / point)
            for page in document.pages
            for curve in page.curves
        ]
    agree(min(sizes, key=lambda size: math.dist(size, (170, 6))), (170, 6), 0.01, unit="mm", case=sizes)


def test_sections_and_plan_measure_what_the_numbers_say() -> None:
    plan = planned()
    n = plan.numbers
    for name, gap, top in (
        ("cross", n["gap_now"] / 2, n["over_shoulder"]),
        ("long", (216 - n["plug_length"]) / 2, 12.0),
    ):
        whole = view(sheet(plan, "sections"), name)
        assert whole.detail is not None
        for shown in (whole, whole.detail):
            said = [read_out(label.words, "mm") for label in shown.labels]
            assert said == [f"gap {lengths.show(gap, 'mm')}", f"{lengths.show(top, 'mm')} over the shoulder"]
            measured = [(d.name, round(d.value, 6)) for d in shown.dimensions]
            assert ("overhang", 5) in measured
            assert ("plug", 6) in measured
    corner = view(sheet(plan, "plan"), "plan").detail
    assert corner is not None
    rabbets = [d.value for d in corner.dimensions if d.name == "rabbet"]
    assert rabbets == pytest.approx([n["rabbet_ends"], n["rabbet_sides"]])


@BY_HAND.of("lid")
def test_the_lid_in_its_seasons() -> None:
    """Worked values: gap 1.88, 2.64, 0.4; lid 170, 169.03, 171.88; overhang 5, 4.5, 5.9."""
    rows = table(sheet(planned(), "sections"), "seasons").rows
    gaps, widths, overhangs = (row[1:] for row in rows[1:])
    agree(gaps, (1.88, 2.644, 0.4), 5e-3, unit="mm")
    agree(widths, (170, 169.03, 171.88), 5e-3, unit="mm")
    agree(overhangs, (5, 4.5, 5.9), 0.05, unit="mm")


@BY_HAND.of("lid")
def test_rabbet_set_ups() -> None:
    """Worked values: 17.3 wide with a bit of 20 stands 7.3 in front; with one of 12.7 it takes two passes."""
    made = lid_of_box(WHOLE_METRIC)

    def fence(row: tuple[Any, ...]) -> str:
        return read_out(row[3], "mm")

    one = table(sheet(lid_sheets.drawings(replace(made, bit=20.0, deepest_pass=3.0)), "rabbets"), "passes")
    agree(one.rows[0][2], 17.3, unit="mm")
    assert fence(one.rows[0]) == "7.3 mm in front"
    two = table(sheet(lid_sheets.drawings(replace(made, bit=12.7, deepest_pass=3.0)), "rabbets"), "passes").rows
    agree([row[2] for row in two[:2]], [8.65, 17.3], unit="mm")
    assert [fence(row) for row in two[:2]] == ["2.3 mm in front", "10.95 mm in front"]
    behind = table(sheet(lid_sheets.drawings(replace(made, bit=40.0, deepest_pass=3.0)), "rabbets"), "passes").rows
    assert fence(behind[0]) == "2.7 mm behind"
    at_face = table(
        sheet(lid_sheets.drawings(replace(made, bit=2 * made.rabbets[0], deepest_pass=3.0)), "rabbets"), "passes"
    ).rows
    assert at_face[0][3] == "at the fence's face"
    assert read_out(one.title, "mm") == "Settings in their order for a bit of 20 mm, each 3 mm, then 6 mm high"
    assert [row[1] for row in one.rows] == ["both ends", "both sides"]


@BY_HAND.of("lid")
def test_what_the_plug_measures_after_each_setting() -> None:
    """Worked values: 250 less twice 8.65 and 17.3 along; 170 less twice 8.97 and 17.94 across, with a bit of 12.7."""
    rows = table(
        sheet(lid_sheets.drawings(replace(lid_of_box(WHOLE_METRIC), bit=12.7, deepest_pass=3.0)), "rabbets"), "passes"
    ).rows
    agree([row[4] for row in rows], [232.7, 215.4, 152.06, 134.12], 5e-3, unit="mm")
    assert [row[0] for row in rows] == ["1", "2", "3", "4"]


@pytest.mark.parametrize(
    ("bit", "pictures", "says", "never"),
    [
        (12.7, ["from-above", "free"], "At setting 2 and 4 the bit stands wholly in front of the fence", "one setting"),
        (20.0, ["from-above"], "The sides take one setting: prove it on scrap first", "wholly in front"),
    ],
)
def test_the_pictures_and_words_fit_the_settings(bit: float, pictures: list[str], says: str, never: str) -> None:
    """A bit of 12.7 for a rabbet of 17.94 is 5.24 off the fence; before that the plug is 152.06 across."""
    drawing = sheet(lid_sheets.drawings(replace(lid_of_box(WHOLE_METRIC), bit=bit, deepest_pass=3.0)), "rabbets")
    assert [item.name for item in drawing.body if isinstance(item, View) and not item.to_scale] == pictures
    notes = [item for item in drawing.body if isinstance(item, Notes)]
    said = " ".join(read_out(words, "mm") for item in notes for words in item.paragraphs)
    assert says in said
    assert never not in said
    if bit < 17:
        assert "up to 5.24 mm off it" in said
        assert "measure the plug across: it must be 152.06 mm" in said


def test_what_a_lid_has_no_need_of() -> None:
    flat = planned(crown=0.0)
    assert [drawing.name for drawing in flat.drawings] == ["plan", "sections", "rabbets", "year"]
    assert not any(isinstance(step, ArcTo) for step in _steps(view(sheet(flat, "sections"), "cross")))
    made = lid_of_box(WHOLE_METRIC)
    assert lid_crown.drawings(replace(made, crown=0.0)) == ()
    flush = view(sheet(planned(overhang=0.0), "plan"), "plan")
    assert "overhang" not in [d.name for d in flush.dimensions]


def _steps(found: View) -> list[Any]:
    return [s for p in found.parts for line in p.lines if isinstance(line.shape, Path) for s in line.shape.steps]


def test_every_sheet_belongs_to_the_family_and_says_what_to_measure() -> None:
    for drawing in planned().drawings:
        assert drawing.jig == ("seasons" if drawing.name == "year" else "lid")
        assert drawing.cautions[0].startswith("Read the machine maker's manual")
        views = [item for item in drawing.body if isinstance(item, View) and item.to_scale]
        assert all(item.check in item.dimensions for item in views)


# -- rules ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "severity", "where", "says", "suggests"),
    [
        ({"crown": 12.0}, "stop", "crown", "has an edge of 0 mm", "a crown of 8 mm at most"),
        ({"crown": 9.0}, "warning", "crown", "has an edge of 3 mm", "a crown of 8 mm at most"),
        ({"crown": 0.0, "plug": 15.0}, "warning", "plug", "has an edge of 3 mm", "or a plug of 14 mm"),
        (
            {"crown": 63.0, "plug": 14.0},
            "stop",
            "crown",
            "has an edge of −59 mm",
            "a crown of 62 mm at most on a lid of 80 mm",
        ),
        (
            {"crown": 70.0, "across": 20.0, "wall": 2.0, "thickness": 80.0},
            "stop",
            "crown",
            "and no arc",
            "at most 17 mm",
        ),
        ({"play": 10.0, "clearance": 10.0, "across": 20.0}, "note", "lid", "gap of", "two pads along"),
        ({"clearance": 0.1}, "warning", "clearance", "locks at a humidity of 71 %", "a gap of 0.4 mm"),
        ({}, "note", "lid", "a gap of 2.64 mm across the grain", "quarter-sawn wood, its rings at 90°; or two pads"),
        ({"crown": 0.4}, "stop", "crown", "a crown of 0.4 mm is no more than a few shavings", "or 0.5 mm or more"),
        ({"overhang": 0.0}, "warning", "overhang", "an overhang of 0 mm is gone in the driest air", "0.46 mm or more"),
        ({"species": None}, "warning", "species", "the wood has no name", "name the wood"),
        ({"along": 100.0}, "warning", "across", "the grain runs the short way", "exchange along and across"),
        ({"dry_humidity": 75}, "stop", "dry humidity", "the wrong way round", "exchange the dry and the wet air"),
        ({"shop_humidity": 80}, "warning", "shop", "it moves before it is ever used", "no longer changes"),
        ({"wet_humidity": 85}, "warning", "climate", "outside the 6 to 14 % of the table", "those of a season"),
        (
            {"across": 334.0, "wall": 4.0, "overhang": 2.0, "species": "basswood", "shop_humidity": 61} | DRY_HOME,
            "stop",
            "overhang",
            "leaves a lid of 346 mm a rabbet of 0.46 mm",
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
            "a rabbet of −44.49 mm",
            "an overhang of 45.49 mm or more; or leave the wood",
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


def test_every_wood_of_the_choice_is_in_the_table() -> None:
    """The names are those of USDA Wood Handbook FPL-GTR-190, Table 13-5."""
    for name in WOODS.values():
        assert movement.species(name).name == name


# -- sheets --------------------------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize(("page", "units"), [("A4", "mm"), ("Letter", "in"), ("A3", "mm")])
def test_every_sheet_is_legible(page: str, units: Units) -> None:
    bundle = composed(planned(units).drawings, page, units)
    assert [fault for written in bundle.sheets for fault in faults(written)] == []


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
        found = [fault for written in composed(plan.drawings, page, units).sheets for fault in faults(written)]
    except CannotBuild as error:
        found = [problem.rule for problem in error.problems if not (problem.says(units) and problem.suggests(units))]
    assert found == []
