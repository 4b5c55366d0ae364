"""The movement year: the model, the moisture of every month against published tables, and what boards do in it."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from layout.fill import compose
from layout.fill.job import Job

from jigs.base.catalogue import Plan, find
from jigs.base.drawing import Drawing, LineTo, Notes, Path, Table, View
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.wording import read_out
from jigs.box import chain
from jigs.box.chain import Box
from jigs.boxfile import reading
from jigs.boxfile.sections import Air, Climate
from jigs.parts.bottom import year as bottom_year
from jigs.parts.lid import year as lid_year
from jigs.parts.wood import seasons as seasons_jig
from jigs.parts.wood.part import wood
from jigs.parts.wood.seasons import Corner
from jigs.trade import movement
from layout.sheet import paper
from tests.legibility import faults
from tests.outside import Check, agree

TABLE_4_2 = Check("Wood and its moisture", "USDA Wood Handbook FPL-GTR-190, Table 4-2", "handbook table")
TABLE_13_5 = Check("Wood and its moisture", "USDA Wood Handbook FPL-GTR-190, Table 13-5", "handbook table")
BY_HAND = Check("Wood and its moisture", "arithmetic written out in jigs/trade/movement.py", "worked example")

CHERRY: dict[str, Any] = {"species": "black cherry", "width": 136.0}
BOX = """[box]
length = 240
width = 160
height = 100
[sides]
thickness = 12
species = "black cherry"
ends_species = "sugar maple"
[joint]
finger = 10
cutter = 10
[groove]
cutter = 6
depth = 6
from_bottom = 12
[bottom]
thickness = 10
tongue = 5.8
clearance = 0.5
[lid]
thickness = 18
plug = 6
overhang = 5
crown = 6
clearance = 0.4
"""

# USDA Wood Handbook FPL-GTR-190, Table 4-2, the row of 70 °F: humidity in % and moisture in %.
AT_70_F = {20: 4.5, 30: 6.2, 40: 7.7, 50: 9.2, 60: 11.0, 70: 13.1, 80: 16.0, 90: 20.5}


def planned(**changes: Any) -> Plan:
    return find("seasons").plan(CHERRY | changes)


def worked() -> Box:
    return chain.work_out(reading.read(BOX, "box.toml"))


def year_of_the_box() -> Drawing:
    made = worked()
    cherry, maple = (wood(name, 0.0) for name in ("black cherry", "sugar maple"))
    assert made.lid
    assert made.bottom
    shop = seasons_jig.moisture(made.file.climate.shop)
    corner = seasons_jig.corner_curves(Corner(100.0, sides=cherry, ends=maple), shop)
    curves = (*lid_year.year_curves(made.lid), *bottom_year.year_curves(made.bottom), *corner)
    [drawing] = seasons_jig.drawings(made.file.climate, curves)
    return drawing


def tables(drawing: Drawing) -> list[Table]:
    return [item for item in drawing.body if isinstance(item, Table)]


def graph(drawing: Drawing) -> View:
    return next(item for item in drawing.body if isinstance(item, View))


def column(drawing: Drawing, heading: str) -> list[float]:
    """Return a column of the table: the shop first, then January to December."""
    [found] = [item for item in tables(drawing) if heading in item.headings]
    values = [row[found.headings.index(heading)] for row in found.rows]
    assert all(isinstance(value, float) for value in values)
    return [float(str(value)) for value in values]


# -- the model -----------------------------------------------------------------------------------------------------


def test_the_year_is_a_cosine_from_february_to_august() -> None:
    air = seasons_jig.year(Climate())
    assert (air[1].temperature, air[1].humidity) == pytest.approx((20, 30))
    assert (air[7].temperature, air[7].humidity) == pytest.approx((25, 70))
    for month, found in enumerate(air):
        assert found.humidity == pytest.approx(50 - 20 * math.cos(2 * math.pi * (month - 1) / 12))
        assert found.temperature == pytest.approx(22.5 - 2.5 * math.cos(2 * math.pi * (month - 1) / 12))


@TABLE_4_2.of("seasons")
@pytest.mark.parametrize(("humidity", "expected"), AT_70_F.items())
def test_moisture_of_air_as_published(humidity: int, expected: float) -> None:
    """USDA Wood Handbook FPL-GTR-190, Table 4-2, 70 °F (21.11 °C), rounded there to 0.1 %."""
    agree(seasons_jig.moisture(Air(temperature=(70 - 32) / 1.8, humidity=humidity)), expected, 0.06, unit="%")


@BY_HAND.of("seasons")
def test_moisture_is_worked_out_for_every_month() -> None:
    found = planned().numbers["moisture"]
    assert len(found) == 12
    assert (found[1], found[7]) == (min(found), max(found))
    agree((found[1], found[7]), (6.19, 12.94), 5e-3, unit="%")  # worked values: 20 °C 30 %, 25 °C 70 %
    # 21.25 °C and 40 %, in April: between the 7.8 % of 60 °F and the 7.6 % of 80 °F of Table 4-2.
    agree(found[3], movement.equilibrium_moisture(21.25, 40), unit="%")
    assert 7.6 < found[3] < 7.8


@TABLE_13_5.of("seasons")
def test_a_board_inside_and_outside_the_table() -> None:
    """Cherry 0.00248 a % (Wood Handbook FPL-GTR-190, Table 13-5): straight inside 6 to 14 %, Eq. 13-3 outside."""
    inside = planned().numbers
    shop = movement.equilibrium_moisture(20, 45)
    for wider, held in zip(inside["flat"], inside["moisture"], strict=True):
        agree(wider, 136 * 0.00248 * (held - shop), unit="mm")
    wet = planned(wet_humidity=90).numbers
    most = max(wet["moisture"])
    assert most > 14
    agree(max(wet["flat"]), 136 * (most - shop) / (1 / 0.00248 - 10 + shop), unit="mm")


@TABLE_13_5.of("seasons")
def test_how_a_board_is_sawn() -> None:
    """Wood Handbook FPL-GTR-190, Table 13-5: cherry moves 126 quarter-sawn where it moves 248 flat-sawn."""
    found = planned(rings=45.0).numbers
    agree(max(found["quarter"]) / max(found["flat"]), 126 / 248, unit="of it")
    agree(max(found["board"]), (max(found["flat"]) + max(found["quarter"])) / 2, unit="mm")
    assert set(planned(rings=90.0).numbers) == {"moisture", "flat", "quarter"}


# -- a box in its year ---------------------------------------------------------------------------------------------


@BY_HAND.of("seasons")
def test_the_ends_of_the_year_are_those_of_the_box() -> None:
    made, drawing = worked(), year_of_the_box()
    assert made.lid is not None
    assert made.bottom is not None
    gaps = column(drawing, "Gap of the plug, both sides")
    agree((gaps[0], gaps[2], gaps[8]), (1.88, 2.644, 0.4), 5e-3, unit="mm")  # worked values: shop, dry, wet
    agree(min(gaps), made.lid.plug.gap_wet, unit="mm")
    held = column(drawing, "Bottom held, slid to one side")
    assert held[2] == min(held)
    agree(held[2], made.bottom.seasons.engagement_dry, unit="mm")
    agree(held[2], 3.06, 5e-3, unit="mm")  # worked value: cherry, inside 136, groove 6, driest
    overhang = column(drawing, "Overhang, each side")
    agree((overhang[0], overhang[2], overhang[8]), (5, 4.5, 5.9), 0.05, unit="mm")  # worked values


@TABLE_13_5.of("seasons")
def test_the_step_where_sides_and_ends_move_apart() -> None:
    """Cherry .00248, maple .00353 (Wood Handbook FPL-GTR-190, Table 13-5), 100 mm: 0.105 mm for each % of moisture."""
    drawing = year_of_the_box()
    steps = column(drawing, "Sides over ends at the top")
    shop, dry, wet = (movement.equilibrium_moisture(*air) for air in ((20, 45), (20, 30), (25, 70)))
    agree(steps[0], 0, unit="mm")
    agree(steps[2], 0.105 * (shop - dry), unit="mm")  # maple shrinks more: the sides stand over the ends
    agree(steps[8], 0.105 * (shop - wet), unit="mm")


def test_what_a_box_does_not_have_is_not_in_its_year() -> None:
    made = worked()
    cherry = wood("black cherry", 0.0)
    assert made.bottom
    assert seasons_jig.corner_curves(Corner(100.0, cherry, cherry), 8.0) == ()
    assert seasons_jig.drawings(made.file.climate, ()) == ()
    [drawing] = seasons_jig.drawings(made.file.climate, bottom_year.year_curves(made.bottom))
    assert tables(drawing)[0].headings == ("Month", "Air", "Moisture", "Bottom held, slid to one side")


# -- the sheet -----------------------------------------------------------------------------------------------------


def test_the_sheet_says_what_it_assumes() -> None:
    drawing = year_of_the_box()
    said = " ".join(str(words) for item in drawing.body if isinstance(item, Notes) for words in item.paragraphs)
    assert "Assumed: a cosine year between your driest and your wettest air, 6.2 and 12.9 % of moisture" in said
    assert "not a day's weather" in said
    assert (drawing.jig, drawing.name) == ("seasons", "year")
    assert [row[0] for row in tables(drawing)[0].rows][:3] == ["shop, now", "Jan", "Feb, driest"]


def test_the_graph_is_in_proportion_and_told_by_kinds_of_line() -> None:
    drawing = year_of_the_box()
    found = graph(drawing)
    assert not found.to_scale
    curves = {part.title: part.lines[0] for part in found.parts if part.name.startswith("curve-")}
    assert len({line.kind for line in curves.values()}) == len(curves) == 4
    scales = []
    for heading, line in curves.items():
        assert isinstance(line.shape, Path)
        assert all(isinstance(step, LineTo) for step in line.shape.steps)
        values = column(drawing, heading)[1:]
        scales += [p.y / v for p, v in zip(line.shape.points(), values, strict=True) if abs(v) > 0.1]
    assert scales == pytest.approx([scales[0]] * len(scales))
    words = [read_out(label.words, "mm") for label in found.labels]
    for kind in ("solid line", "dashed line", "dash and dot", "thin line"):
        assert sum(kind in word for word in words) == 1


@pytest.mark.parametrize(
    ("changes", "severity", "where", "says"),
    [
        ({"dry_humidity": 75}, "stop", "dry humidity", "moisture in the driest air and 12.9 % in the wettest"),
        ({"shop_humidity": 80}, "warning", "shop", "outside the 6.2 to 12.9 % of the year at home"),
        ({"wet_humidity": 85}, "warning", "climate", "the formula for the full range is used"),
        (
            {"wet_humidity": 99},
            "stop",
            "wet humidity",
            "relative humidity must be from 5 % to 98 %; it is 99 %",
        ),
        ({"width": 2.0}, "stop", "width", "must be from 5 mm to 1500 mm; it is 2 mm"),
    ],
)
def test_rules_say_what_is_wrong(changes: dict[str, Any], severity: str, where: str, says: str) -> None:
    try:
        problems = list(planned(**changes).problems)
    except CannotBuild as error:
        problems = error.problems
    found = [(p.severity, p.where, p.says("mm")) for p in problems]
    assert any(p[:2] == (severity, where) and says in p[2] for p in found), found
    assert all("climate." not in p.suggests("mm") for p in problems)


def legible(drawings: tuple[Drawing, ...], page: str, units: Units) -> list[str]:
    job = Job("seasons", "Year", "settings", units, "abc123")
    return [fault for sheet in compose.compose(job, drawings, paper.named(page)).sheets for fault in faults(sheet)]


@pytest.mark.slow
@pytest.mark.parametrize("page", ["A4", "Letter", "A3"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_year_of_a_box_is_legible(page: str, units: Units) -> None:
    assert legible((year_of_the_box(),), page, units) == []


@pytest.mark.slow
@settings(max_examples=8)
@given(
    species=st.sampled_from(list(seasons_jig.WOODS)),
    width=st.floats(5, 1500),
    rings=st.floats(0, 90),
    dry_humidity=st.integers(5, 98),
    wet_humidity=st.integers(5, 98),
    dry_temperature=st.integers(-20, 60),
    units=st.sampled_from(["mm", "in"]),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_any_year_is_refused_or_legible(units: Units, page: str, **given_settings: Any) -> None:
    try:
        found = legible(find("seasons").plan(given_settings, units).drawings, page, units)
    except CannotBuild as error:
        found = [problem.rule for problem in error.problems if not (problem.says(units) and problem.suggests(units))]
    assert found == []
