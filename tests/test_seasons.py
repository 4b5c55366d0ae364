"""The movement year: the model, the moisture of every month against published tables, and what boards do in it."""

from __future__ import annotations

import math
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base.cards import Text
from jigs.base.catalogue import Plan, find
from jigs.base.drawing import LineTo, Path, Table, View
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.wording import Words, on_paper, read_out
from jigs.box import chain
from jigs.box.chain import Box
from jigs.boxfile import reading
from jigs.boxfile.sections import Air, Climate
from jigs.parts.wood import seasons as seasons_jig
from jigs.parts.wood.part import wood
from jigs.parts.wood.seasons import Corner, Curve
from jigs.trade import movement, timber
from layout.pages.compose import compose
from layout.pages.job import Job
from layout.sheet import paper
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


def curves_of_the_box() -> tuple[Curve, ...]:
    """The gap of the plug, the overhang, what the bottom is held by, the step of a corner of two woods."""
    made = worked()
    cherry, maple = (wood(name, 0.0) for name in ("black cherry", "sugar maple"))
    shop = seasons_jig.moisture(made.file.climate.shop)
    corner = seasons_jig.corner_curves(Corner(100.0, sides=cherry, ends=maple), shop)
    parts = {part.name: part.year() for part in made.parts}
    return (*parts["lid"], *parts["bottom"], *corner)


def row(heading: str) -> list[float]:
    """Return what a part does: now, in the driest and in the wettest season."""
    climate = worked().file.climate
    [curve] = [curve for curve in curves_of_the_box() if curve.heading == heading]
    return [curve.at(seasons_jig.moisture(air)) for air in (climate.shop, climate.dry, climate.wet)]


def page(climate: Climate, curves: tuple[Curve, ...]) -> tuple[View, Table]:
    """Return the picture and the table of what the seasons do."""
    [table] = seasons_jig.summary(curves, climate, "mm")
    assert isinstance(table, Table)
    return seasons_jig.graph(climate, curves), table


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
    made = worked()
    assert made.lid is not None
    assert made.bottom is not None
    gaps = row("Gap of the plug, both sides")
    agree(gaps, [1.88, 2.644, 0.4], 5e-3, unit="mm")  # worked values: shop, dry, wet
    agree(min(gaps), made.lid.plug.gap_wet, unit="mm")
    held = row("Bottom held, slid to one side")
    assert held[1] == min(held)
    agree(held[1], made.bottom.seasons.engagement_dry, unit="mm")
    agree(held[1], 3.06, 5e-3, unit="mm")  # worked value: cherry, inside 136, groove 6, driest
    agree(row("Overhang, each side"), [5, 4.5, 5.9], 0.05, unit="mm")  # worked values


@TABLE_13_5.of("seasons")
def test_the_step_where_sides_and_ends_move_apart() -> None:
    """Cherry .00248, maple .00353 (Wood Handbook FPL-GTR-190, Table 13-5), 100 mm: 0.105 mm for each % of moisture."""
    steps = row("Sides over ends at the top")
    shop, dry, wet = (movement.equilibrium_moisture(*air) for air in ((20, 45), (20, 30), (25, 70)))
    agree(steps[0], 0, unit="mm")
    agree(steps[1], 0.105 * (shop - dry), unit="mm")  # maple shrinks more: the sides stand over the ends
    agree(steps[2], 0.105 * (shop - wet), unit="mm")


def test_what_does_not_move_is_not_in_the_year() -> None:
    cherry = wood("black cherry", 0.0)
    assert seasons_jig.corner_curves(Corner(100.0, cherry, cherry), 8.0) == ()
    assert seasons_jig.summary((), worked().file.climate, "mm") == ()


# -- the page ------------------------------------------------------------------------------------------------------


def test_the_table_says_now_driest_and_wettest() -> None:
    """Worked values of the box: the plug's gap 1.88, 2.64 and 0.40, cherry and maple; air and moisture above."""
    _, table = page(worked().file.climate, curves_of_the_box())
    rows = {
        str(row[0]): [read_out(cell, "mm", on_paper) for cell in row[1:4] if isinstance(cell, Words)]
        for row in table.rows
    }
    assert rows["Gap of the plug, both sides"] == ["1.88", "2.64", "0.40"]
    assert [cell.replace("\u00a0", " ") for cell in rows["Moisture of the wood"]] == ["8.5 %", "6.2 %", "12.9 %"]
    assert [cell.replace("\u00a0", " ") for cell in rows["Air"]] == ["20 °C, 45 %", "20 °C, 30 %", "25 °C, 70 %"]
    assert len(table.rows) == 2 + len(curves_of_the_box())


def test_the_page_says_what_it_assumes() -> None:
    [card] = planned().sheets.cards
    assert (card.name, card.jig, card.reading) == ("seasons", "seasons", True)
    words = [words for band in card.bands if isinstance(band, Text) for words in band.paragraphs]
    said = " ".join(read_out(one, "mm", on_paper) for one in words).replace("\u00a0", " ")
    assert "swings evenly between your driest and your wettest season, 6.2 and 12.9 % of moisture" in said
    assert "not a day’s weather" in said


def test_the_graph_is_in_proportion_and_told_by_kinds_of_line() -> None:
    climate = worked().file.climate
    found, _ = page(climate, curves_of_the_box())
    assert not found.to_scale
    curves = {part.title: part.lines[0] for part in found.parts if part.name.startswith("curve-")}
    assert len({line.kind for line in curves.values()}) == len(curves) == 4
    scales = []
    for curve in curves_of_the_box():
        line = curves[curve.heading]
        assert isinstance(line.shape, Path)
        assert all(isinstance(step, LineTo) for step in line.shape.steps)
        values = [curve.at(seasons_jig.moisture(air)) for air in seasons_jig.year(climate)]
        scales += [p.y / v for p, v in zip(line.shape.points(), values, strict=True) if abs(v) > 0.1]
    assert scales == pytest.approx([scales[0]] * len(scales))
    words = [read_out(label.words, "mm", on_paper) for label in found.labels]
    for kind in ("solid line", "dashed line", "dash and dot", "thin line"):
        assert sum(kind in word for word in words) == 1


@pytest.mark.parametrize(
    ("changes", "severity", "where", "says"),
    [
        ({"dry_humidity": 75}, "stop", "dry humidity", "moisture in the driest and 12.9 % in the wettest"),
        ({"shop_humidity": 80}, "warning", "shop", "16.0 % in the shop, 6.2 % to 12.9 % at home"),
        ({"wet_humidity": 85}, "warning", "climate", "lies outside the 6 % to 14 % of its table"),
        (
            {"wet_humidity": 99},
            "stop",
            "wet humidity",
            "relative humidity in the wettest season at home must be from 5 % to 98 %; it is 99 %",
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


def pages_of(made: Plan, on: str, units: Units) -> int:
    job = Job("seasons", "Year", "settings", units, "abc123")
    cards, templates = compose(job, made.sheets, paper.named(on))
    assert not templates.sheets
    return len(cards.sheets)


@pytest.mark.slow
@settings(max_examples=8)
@given(
    species=st.sampled_from([wood.name for wood in timber.all_species()]),
    width=st.floats(5, 1500),
    rings=st.floats(0, 90),
    dry_humidity=st.integers(5, 98),
    wet_humidity=st.integers(5, 98),
    dry_temperature=st.integers(-20, 60),
    units=st.sampled_from(["mm", "in"]),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_any_year_is_refused_or_a_page(units: Units, page: str, **given_settings: Any) -> None:
    try:
        found = [] if pages_of(find("seasons").plan(given_settings, units), page, units) == 1 else ["more than a page"]
    except CannotBuild as error:
        found = [problem.rule for problem in error.problems if not (problem.says(units) and problem.suggests(units))]
    assert found == []
