"""What each jig of the second shelf refuses or warns of, and one number of each in the written file."""

from __future__ import annotations

from typing import Any

import pytest

from jigs.definition import find
from jigs.drawing import View
from jigs.errors import CannotBuild
from tests.outside import Check, agree
from tests.test_properties import example_of as example

BY_HAND = Check(
    "Mitres, dovetails, dividers, hinges, rows",
    "arithmetic written out in jigs/trade/mitre.py, spacing.py, dividers.py, hinge.py and circles.py",
    "worked example",
)

STOPS = [
    ("dividers", {"along": 1, "across": 1}, "along", "one compartment each way has no dividers"),
    ("dividers", {"along": 31}, "along", "30 dividers of 6 mm fill the inside of 176 mm"),
    ("hinge", {"bush": 6.0}, "bush", "a bush of 6 mm is smaller than the cutter of 6.35 mm"),
    ("hinge", {"cutter": 18.0, "bush": 20.0}, "cutter", "a cutter of 18 mm does not go into a recess of 16 mm"),
    ("hinge", {"gap": 4.0}, "gap", "a gap of 4 mm is as wide as the closed hinge of 3.2 mm"),
    ("trammel", {"keep": "hole", "radius": 10.0, "cutter": 22.0}, "radius", "a hole of radius 10 mm is no larger"),
    ("taper", {"narrow": 40.0}, "narrow", "the narrow end of 40 mm is not narrower"),
    ("cradle", {"depth": 15.0}, "depth", "a slot of 15 mm leaves less than 3 mm"),
    ("cradle", {"keys": 12}, "keys", "keys 7.5 mm apart leave too little wood between slots of 3.2 mm"),
    ("mitre", {"sides": 3, "slope": 0.0}, "sides", "the blade would have to lean 60.00 degrees"),
    ("drilling", {"holes": 5}, "holes", "a row of 256 mm does not go on a board of 240 mm"),
    ("drilling", {"pitch": 6.0}, "pitch", "holes of 5 mm that are 6 mm apart break into one another"),
    ("drilling", {"set_back": 4.0}, "set back", "a hole of 5 mm at 4 mm from the edge breaks out"),
    ("drilling", {"bush": 4.0}, "bush", "a bush of 4 mm is smaller than the drill of 5 mm"),
    ("gauges", {"gap": 10.5}, "gap", "fingers of 10.5 mm do not go into sockets of 10.02 mm"),
    ("gauges", {"fence": 3.0}, "fence", "the groove cutter, 3 mm to each side, would cut the fence"),
    ("parting", {"wide": 9}, "wide", "part 9 is at the edge of the board"),
    ("dovetail", {"tails": 11}, "tails", "11 tails of 1.64 mm come to a point within 12 mm"),
    ("sliding-lid", {"width": 20.0, "finger": 25.0}, "width", "boards of 20 mm do not hold one finger of 25 mm"),
    ("sliding-lid", {"depth": 8.0}, "depth", "a groove 8 mm deep leaves less than half of the side"),
    ("sliding-lid", {"groove": 12.0, "width": 21.9}, "width", "one finger of 9.9 mm and a groove of 12 mm over it"),
    ("drilling", {"length": 20.0, "bush": 18.0}, "length", "a hole of 18 mm does not go on a board of 20 mm"),
    ("dovetail", {"half_pin": 45.0}, "width", "3 tails of 0 mm come to a point"),
    ("cradle", {"height": 15.0, "kerf": 8.0, "keys": 1}, "kerf", "a slot of 8 mm leaves too little of a box 15 mm"),
]
WARNINGS = [
    ("dividers", {"along": 7}, "along", "compartments of 20 mm are narrower than a finger, 25 mm"),
    ("taper", {"wide": 150.0}, "narrow", "17.35 degrees is steep for a sled"),
    ("parting", {"kerf": 8.0, "planing": 2.0}, "finger", "saw and plane take 12 mm, more than a finger of 9.92 mm"),
    ("dovetail", {"pin": 1.0}, "pin", "a pin of 1 mm breaks while it is chopped"),
    ("sliding-lid", {"depth": 2.0}, "depth", "in the driest air, pushed to one side, the lid is held by"),
    ("sliding-lid", {"groove": 8.0}, "above", "1.9 mm of wood is left over the groove"),
]


@pytest.mark.parametrize(("name", "changed", "where", "said"), STOPS)
def test_what_can_not_be_built_is_refused(name: str, changed: dict[str, Any], where: str, said: str) -> None:
    with pytest.raises(CannotBuild) as refused:
        find(name).plan(example(name) | changed, "mm")
    found = [(problem.where, problem.says("mm")) for problem in refused.value.problems if problem.severity == "stop"]
    assert any(place == where and said in words for place, words in found), found
    assert all(problem.suggests("mm") for problem in refused.value.problems if problem.severity == "stop")


@pytest.mark.parametrize(("name", "changed", "where", "said"), WARNINGS)
def test_what_is_unwise_is_warned_of(name: str, changed: dict[str, Any], where: str, said: str) -> None:
    problems = find(name).plan(example(name) | changed, "mm").problems
    found = [(problem.where, problem.says("mm")) for problem in problems if problem.severity == "warning"]
    assert any(place == where and said in words for place, words in found), found


@BY_HAND.of("gauges", "parting", "sliding-lid", "mitre", "trammel", "cradle")
@pytest.mark.parametrize(
    ("name", "changed", "expected"),
    [  # worked values, derived in the docstrings of jigs/trade
        ("gauges", {}, {"gap": 9.92, "spacer": 9.97, "no-go": 10.07, "depth": 12.3, "projection": 18.3, "fence": 12.0}),
        ("parting", {}, {"wide_part": 9.92 + 3.2 + 0.6, "wider": 3.8}),
        (
            "sliding-lid",
            {},
            {"groove_from_bottom": 79.6, "front_height": 79.6, "lid_width": 143.81, "held_driest": 1.99},
        ),
        ("mitre", {}, {"tilt": 28.8791, "gauge": 8.4988, "side": 92.376}),
        ("trammel", {"keep": "hole"}, {"pivot": 96.825}),
        ("cradle", {}, {"leg": 19.0919, "deepest": 13.9706, "blade_above_table": 25.5}),
    ],
)
def test_numbers(name: str, changed: dict[str, Any], expected: dict[str, float]) -> None:
    numbers = find(name).plan(example(name) | changed, "mm").numbers
    agree({key: numbers[key] for key in expected}, expected, 6e-3, unit="")


@pytest.mark.parametrize(("slope", "top_wider"), [(0.0, False), (15.0, True)])
def test_a_leaning_side_widens_by_its_gauge(slope: float, top_wider: bool) -> None:
    plan = find("mitre").plan(example("mitre") | {"slope": slope}, "mm")
    view = next(item for item in plan.drawings[0].body if isinstance(item, View) and item.name == "side")
    tops = [dimension.value for dimension in view.dimensions if dimension.name == "inside, top"]
    assert bool(tops) is top_wider
    if tops:
        assert tops[0] > plan.numbers["side"]
