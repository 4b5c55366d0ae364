"""Cards and templates of six jigs of the shelf, gauges to sliding lid: what they show is what was worked out."""

from __future__ import annotations

import itertools
import math
import re
from collections.abc import Iterator
from typing import Any

import pytest

from jigs.base import cards
from jigs.base.catalogue import Plan, find
from jigs.base.drawing import Dimension, Part, Path, Table, View
from jigs.base.lengths import Units
from jigs.base.wording import Wording, Words, on_paper, read_out
from layout import make
from layout.make import Printing
from layout.sheet.hand import Hand
from layout.sheet.marks import Bundle
from tests.test_properties import example_of as example

JIGS = ("gauges", "dividers", "hinge", "cradle", "mitre", "sliding-lid")
INCHES: dict[str, dict[str, Any]] = {
    "gauges": {"gap": 9.92, "socket": 10.02, "thickness": 12.7, "fence": 15.875, "groove": 6.35},
    "dividers": {"length": 177.8, "width": 127.0, "along": 3, "across": 2, "thickness": 6.35, "height": 60.325},
    "hinge": {"leaf_length": 50.8, "leaf_depth": 15.875, "bush": 15.875, "cutter": 6.35, "closed": 3.175},
    "cradle": {"thickness": 12.7, "depth": 13.4938, "height": 88.9},
    "mitre": {"sides": 6, "radius": 76.2, "slope": 15.0},
    "sliding-lid": {
        "finger": 9.525, "socket": 9.6, "width": 88.9, "opening": 136.525, "inside": 215.9, "thickness": 12.7,
        "groove": 6.35, "depth": 4.7625,
    },
}  # fmt: skip
EXTREMES: list[tuple[str, dict[str, Any]]] = [
    ("gauges", {"gap": 0.7, "socket": 0.8, "thickness": 1.0, "plate": 2.0, "fence": None, "groove": None}),
    ("gauges", {"gap": 60.0, "socket": 60.0, "thickness": 60.0, "plate": 30.0, "fence": 200.0, "groove": 30.0}),
    ("dividers", {"length": 20.0, "width": 20.0, "along": 2, "across": 2, "thickness": 0.5, "height": 10.0}),
    ("dividers", {"across": 1}),
    ("dividers", {"along": 1}),
    ("dividers", {"length": 900.0, "along": 20, "across": 4, "thickness": 3.0}),
    ("hinge", {"leaf_length": 8.0, "leaf_depth": 4.0, "bush": 3.0, "cutter": 2.0, "closed": 0.5}),
    ("hinge", {"leaf_length": 300.0, "leaf_depth": 100.0, "bush": 60.0, "cutter": 2.0, "set_back": 1000.0}),
    ("cradle", {"thickness": 4.0, "depth": 2.0, "height": 15.0, "keys": 1, "kerf": 0.8, "base": 5.0}),
    ("cradle", {"thickness": 40.0, "depth": 50.0, "height": 600.0, "keys": 12, "kerf": 8.0, "base": 40.0}),
    ("mitre", {"sides": 4, "slope": 0.0}),
    ("mitre", {"sides": 24, "radius": 1000.0, "slope": 60.0, "thickness": 60.0, "height": 600.0}),
    ("mitre", {"sides": 3, "radius": 10.0, "slope": 60.0, "thickness": 3.0, "height": 10.0}),
    ("sliding-lid", {"finger": 8.0, "socket": 8.1, "width": 80.0}),
    ("sliding-lid", {"width": 1000.0, "opening": 1000.0, "inside": 2000.0, "thickness": 60.0, "depth": 30.0}),
    ("sliding-lid", {"finger": 3.0, "socket": 3.1, "width": 20.0, "opening": 20.0, "inside": 20.0, "groove": 1.0}),
]


def planned(name: str, changed: dict[str, Any] | None = None, units: Units = "mm") -> Plan:
    settings = example(name) if units == "mm" else INCHES[name]
    return find(name).plan(settings | (changed or {}), units)


def pages(name: str, changed: dict[str, Any] | None, units: Units, printing: Printing) -> tuple[Bundle, Bundle]:
    settings = (example(name) if units == "mm" else INCHES[name]) | (changed or {})
    made = make.draw(make.jig(name, settings, units), (), printing)
    return made.cards, made.templates


def flat(bands: tuple[cards.Band, ...]) -> Iterator[cards.Band]:
    for band in bands:
        yield from flat((band.left, band.right)) if isinstance(band, cards.Beside) else [band]


def rows(plan: Plan) -> dict[str, float | Words]:
    """Return what the card says is to be set, by name."""
    [card] = plan.sheets.cards
    return {row.name: row.value for band in flat(card.bands) if isinstance(band, cards.Settings) for row in band.rows}


def view(plan: Plan, name: str) -> View:
    """Return a picture of the card, or a template."""
    [card] = plan.sheets.cards
    pictures = [one for band in flat(card.bands) if isinstance(band, cards.Pictures) for one in band.views]
    return next(one for one in (*(t.view for t in plan.sheets.templates), *pictures) if one.name == name)


def part(of: View, name: str) -> Part:
    return next(one for one in of.parts if one.name == name)


def said(words: Words) -> str:
    return read_out(words, "mm", on_paper)


# -- every one of them -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", JIGS)
def test_a_jig_is_one_card_of_its_name_and_its_templates(name: str) -> None:
    sheets = planned(name).sheets
    [card] = sheets.cards
    assert (card.name, card.jig) == (name, name)
    assert 2 <= len(card.cautions) <= 5
    assert all(len(said(caution.words)) <= 68 for caution in card.cautions)
    for template in sheets.templates:
        assert (template.card, template.jig) == (name, name)
        assert template.view.check in template.view.dimensions
        assert template.view.to_scale


@pytest.mark.parametrize("name", JIGS)
def test_the_check_of_a_template_is_the_longest_that_it_measures(name: str) -> None:
    for template in planned(name).sheets.templates:
        measured = template.view.dimensions
        assert template.view.check == max(measured, key=lambda found: found.value)


@pytest.mark.parametrize("name", JIGS)
def test_pictures_measure_only_what_is_set_and_balloons_name_rows(name: str) -> None:
    plan = planned(name)
    [card] = plan.sheets.cards
    letters = {row.letter for band in flat(card.bands) if isinstance(band, cards.Readings) for row in band.rows}
    known = set(rows(plan)) | letters
    for band in flat(card.bands):
        for one in band.views if isinstance(band, cards.Pictures) else ():
            named = {found.setting for found in one.dimensions} | {found.setting for found in one.labels}
            named -= {""}
            assert named <= known, (one.name, named - known)
            assert not one.to_scale


@pytest.mark.parametrize("name", [name for name in JIGS if name != "gauges"])
def test_what_a_picture_measures_at_true_size_is_what_is_set(name: str) -> None:
    """A length drawn shorter than it is has a break line; at these sizes there is none."""
    plan = planned(name)
    set_to = rows(plan)
    [card] = plan.sheets.cards
    measured: list[Dimension] = [
        found
        for band in flat(card.bands)
        if isinstance(band, cards.Pictures)
        for one in band.views
        for found in one.dimensions
        if found.setting
    ]
    assert measured
    for found in measured:
        assert found.value == pytest.approx(set_to[found.setting], abs=1e-6), found.setting


@pytest.mark.parametrize("name", JIGS)
def test_no_option_and_no_field_stands_on_paper(name: str) -> None:
    [card] = planned(name).sheets.cards
    words = [said(caution.words) for caution in card.cautions]
    for band in flat(card.bands):
        if isinstance(band, cards.Order):
            words += [said(step) for step in band.steps]
            assert len(band.steps) <= 7
            assert all(len(said(step)) <= 80 for step in band.steps)
        elif isinstance(band, cards.Hold):
            words.append(said(band.words))
    for sentence in words:
        assert not re.search(r"--|_| mm\b|'", sentence), sentence
        assert sentence.endswith("."), sentence


@pytest.mark.parametrize("page", ["A4", "Letter"])
@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("name", JIGS)
def test_an_example_is_three_pages_at_most(name: str, units: Units, page: str) -> None:
    read, cut = pages(name, None, units, Printing(paper=page))
    assert len(read.sheets) == 1
    assert len(cut.sheets) == (0 if name == "gauges" else 2)


@pytest.mark.parametrize(("name", "changed"), EXTREMES)
def test_extremes_are_drawn_on_two_pages_of_a_card_at_most(name: str, changed: dict[str, Any]) -> None:
    read, _ = pages(name, changed, "mm", Printing(paper="A4"))
    assert len(read.sheets) <= 2


@pytest.mark.slow
@pytest.mark.parametrize("hand", [Hand(large=True), Hand(thin=True)])
@pytest.mark.parametrize("page", ["A4", "A3", "610 mm roll"])
@pytest.mark.parametrize("name", JIGS)
def test_every_paper_and_hand_is_drawn(name: str, page: str, hand: Hand) -> None:
    for units in ("mm", "in"):
        read, _ = pages(name, None, units, Printing(paper=page, hand=hand))
        assert read.sheets


@pytest.mark.parametrize(
    ("name", "ids"),
    [
        ("dividers", {"dividers-long", "dividers-short"}),
        ("hinge", {"hinge-template", "hinge-opening", "hinge-leaf"}),
        ("cradle", {"cradle-body", "cradle-box", "cradle-slot", "cradle-key"}),
        ("mitre", {"mitre-tilt", "mitre-gauge"}),
        ("sliding-lid", {"sliding-lid-side", "sliding-lid-band"}),
    ],
)
def test_parts_keep_their_names(name: str, ids: set[str]) -> None:
    read, cut = pages(name, None, "mm", Printing(paper="A4"))
    every = (*read.sheets, *cut.sheets)
    drawn = [group.name for sheet in every for group in sheet.groups()]
    assert ids <= set(drawn)


# -- gauges ------------------------------------------------------------------------------------------------------------


def test_every_block_has_a_reading_with_its_limits() -> None:
    plan = planned("gauges")
    [card] = plan.sheets.cards
    [made] = [band for band in flat(card.bands) if isinstance(band, cards.Readings)]
    assert {said(row.what).partition(":")[0]: row.aim for row in made.rows} == plan.numbers
    limits = {said(row.what).partition(":")[0]: (row.low, row.high) for row in made.rows}
    assert limits["go"] == pytest.approx((9.99, 10.02))  # + 0 and - 0.03
    assert limits["no-go"] == pytest.approx((10.07, 10.07))
    assert limits["gap"] == pytest.approx((9.87, 9.97))


def test_papers_make_up_a_block_that_is_lost() -> None:
    [card] = planned("gauges").sheets.cards
    [table] = [band for band in flat(card.bands) if isinstance(band, Table)]
    read = [[said(cell) for cell in row if isinstance(cell, str | Wording)] for row in table.rows]
    # A 9.92, B 9.97, C 10.02, D 10.07, E 12.30, G 12.00: of the nearest that is smaller, in sheets of 0.10.
    assert read == [["C", "A", "1", "0.00"], ["D", "B", "1", "0.00"], ["E", "G", "3", "0.00"]]


# -- dividers ----------------------------------------------------------------------------------------------------------


def test_slots_of_the_templates_are_those_that_were_worked_out() -> None:
    plan = planned("dividers")
    for name, low, high in (("long", 60 - 30.3, 60.0), ("short", 0.0, 30.3)):
        numbers = plan.numbers[name]
        boxes = [line.shape.bounds for line in part(view(plan, name), name).lines if isinstance(line.shape, Path)]
        slots = sorted(box.left for box in boxes if box.width == pytest.approx(6.1) and box.height > 1)
        assert sorted({round(at, 6) for at in slots}) == pytest.approx(numbers["slots"])
        slot = next(box for box in boxes if box.width == pytest.approx(6.1))
        assert (slot.bottom, slot.top) == pytest.approx((low, high))


def test_an_upright_divider_measures_the_same() -> None:
    lying = view(planned("dividers"), "long")
    assert lying.detail is not None
    assert sorted(d.value for d in lying.detail.dimensions) == pytest.approx(sorted(d.value for d in lying.dimensions))
    assert lying.detail.check is not None
    assert lying.detail.check.side in ("left", "right")


@pytest.mark.parametrize(("changed", "kind"), [({"across": 1}, "short"), ({"along": 1}, "long")])
def test_dividers_one_way_have_no_slots(changed: dict[str, Any], kind: str) -> None:
    plan = planned("dividers", changed)
    assert [template.view.name for template in plan.sheets.templates] == [kind]
    assert {"slot", "deep"}.isdisjoint(rows(plan))
    assert not plan.sheets.cards[0].holds()


# -- hinge -------------------------------------------------------------------------------------------------------------


def test_the_cutter_gets_to_every_side_of_the_recess() -> None:
    """The opening less half of the bush is where the cutter's middle goes; half of the cutter more is cut."""
    plan = planned("hinge")
    opening = part(view(plan, "template"), "opening").bounds
    half_bush, half_cutter = 15.88 / 2, 6.35 / 2
    reached = opening.grown(half_cutter - half_bush)
    assert (reached.left, reached.right, reached.top) == pytest.approx((-25.0, 25.0, 16.0))
    assert reached.bottom == pytest.approx(-half_cutter)  # past the edge of the box: no strip is left standing there


@pytest.mark.parametrize("bush", [6.35, 15.88, 40.0, 60.0])
def test_a_template_of_a_hinge_is_whole_in_front_of_its_opening(bush: float) -> None:
    plan = planned("hinge", {"bush": bush})
    drawn = view(plan, "template")
    assert part(drawn, "opening").bounds.bottom - part(drawn, "template").bounds.bottom >= 12.0 - 1e-9


def test_what_is_set_on_the_router() -> None:
    assert rows(planned("hinge")) == pytest.approx(
        {"bush": 15.88, "cutter": 6.35, "below": 7.4, "deep": 1.4, "set-back": 25.0}
    )


# -- cradle ------------------------------------------------------------------------------------------------------------


def test_stops_of_the_keys() -> None:
    found = rows(planned("cradle"))  # keys in the middles of three thirds of 90, a blade of 3.2
    assert [found[f"key-{i}"] for i in (1, 2, 3)] == pytest.approx([13.4, 43.4, 73.4])
    assert (found["blade"], found["key-long"]) == (25.5, 27.0)


def test_many_keys_are_set_by_one_stop_and_spacers() -> None:
    plan = planned("cradle", {"keys": 6, "height": 180.0})
    found = rows(plan)
    assert [name for name in found if name.startswith("key-")] == ["key-6", "key-thick", "key-long"]
    last, spacer = found["key-6"], found["spacer"]
    assert isinstance(last, float)
    assert isinstance(spacer, float)
    stops = [last - spacer * left for left in range(5, -1, -1)]
    assert [stop + 1.6 for stop in stops] == pytest.approx(plan.numbers["places"])


# -- mitre -------------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("slope", "top_wider"), [(0.0, False), (15.0, True)])
def test_a_leaning_side_widens_by_its_gauge(slope: float, top_wider: bool) -> None:
    plan = planned("mitre", {"slope": slope})
    tops = [found.value for found in view(plan, "side").dimensions if found.setting == "top"]
    assert bool(tops) is top_wider
    if tops:
        assert tops[0] > plan.numbers["side"]


@pytest.mark.parametrize(("name", "key"), [("tilt", "tilt"), ("gauge", "gauge")])
def test_templates_hold_the_angles_from_square_on_their_heavy_edge(name: str, key: str) -> None:
    plan = planned("mitre")
    shape = next(line.shape for line in part(view(plan, name), name).lines)
    assert isinstance(shape, Path)
    corners = shape.points()
    slopes = [
        math.degrees(math.atan2(abs(a.x - b.x), abs(a.y - b.y)))
        for a, b in itertools.pairwise(corners)
        if a.x != b.x and a.y != b.y
    ]
    assert slopes == pytest.approx([plan.numbers[key]])


def test_the_stop_holds_the_outer_face_at_the_edge_that_lies_on_the_gauge() -> None:
    """Both faces of a board are sawn at once: they differ by t·tan(tilt)/cos(gauge) at each end."""
    plan = planned("mitre")
    tilt, gauge = math.radians(plan.numbers["tilt"]), math.radians(plan.numbers["gauge"])
    assert rows(plan)["stop"] == pytest.approx(plan.numbers["side_top"] + 2 * 12 * math.tan(tilt) / math.cos(gauge))


# -- sliding lid -------------------------------------------------------------------------------------------------------


def test_settings_of_a_sliding_lid() -> None:
    found = rows(planned("sliding-lid"))
    expected = {"bit": 6.0, "fence": 3.9, "deep": 5.0, "front": 79.6, "across": 143.81, "along": 233.0}
    assert {name: found[name] for name in expected} == pytest.approx(expected, abs=6e-3)


def test_a_groove_in_a_finger_of_the_sides_stops_where_it_meets_the_back() -> None:
    """The side is 240 long. Its groove runs 233, as the lid does; the stop is that less the bit from the bit's edge."""
    found = rows(planned("sliding-lid"))
    assert found["stops"] == pytest.approx(216 + 12 + 5 - 6)
    assert "back" not in found


def test_a_groove_in_a_socket_of_the_sides_stops_in_the_back() -> None:
    plan = planned("sliding-lid", {"finger": 8.0, "socket": 8.1, "width": 80.0})  # 72.4 to 78.4: of the last socket
    found = rows(plan)
    assert "stops" not in found
    assert found["back"] == pytest.approx(136 + 12 + 5 - 6)


def test_the_template_shows_the_groove_over_the_front() -> None:
    plan = planned("sliding-lid")
    for drawn in (view(plan, "groove"), view(plan, "groove").detail):
        assert drawn is not None
        band = part(drawn, "band").bounds
        along = (band.left, band.right) if band.width < band.height else (band.bottom, band.top)
        assert along == pytest.approx((79.6, 85.6))
