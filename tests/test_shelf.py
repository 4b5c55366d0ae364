"""What each jig of the second shelf refuses or warns of, and one number of each in the written file."""

from __future__ import annotations

from typing import Any

import pytest

from jigs.base.catalogue import find
from jigs.base.errors import CannotBuild
from tests.outside import Check, agree
from tests.refusals import problems
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
    ("dovetail", {"half_pin": 45.0}, "tails", "3 tails of 0 mm come to a point"),
    ("dovetail", {"half_pin": 45.0, "tails": 1}, "width", "a tail of 0 mm comes to a point"),
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

WAYS_OUT = [  # each worked out by hand from the rule, and rounded to the side on which it works
    ("dividers", {"along": 1, "across": 1}, "2 compartments along, or 2 compartments across"),
    # (176 + 6)/(0.31 + 6) = 28.8; (176 - 31 · 0.31)/30 = 5.546
    ("dividers", {"along": 31}, "28 compartments at most, or dividers of 5.54 mm or less"),
    # One compartment would have no dividers; 20 - 2 · 0.31 = 19.38; 30 + 2 · 0.31 = 30.62
    (
        "dividers",
        {"length": 20.0, "along": 2, "across": 1, "thickness": 30.0},
        "dividers of 19.38 mm or less, or 2 compartments along a length of 30.62 mm at least",
    ),
    ("dividers", {"along": 7}, "5 compartments at most"),  # thinner than 0.17 mm is no divider
    ("dividers", {"length": 24.0, "along": 1}, "1 compartment along a length of 25 mm at least"),
    ("hinge", {"bush": 6.0}, "a bush of 6.35 mm at least"),
    ("hinge", {"gap": 4.0}, "a gap of 3.19 mm at most"),
    ("trammel", {"keep": "hole", "radius": 10.0, "cutter": 22.0}, "a radius of 11.01 mm at least"),
    ("taper", {"narrow": 40.0}, "a narrow end of 39.99 mm at most, or a wide end of 40.01 mm at least"),
    ("cradle", {"depth": 15.0}, "13.97 mm at most"),  # 12 · √2 - 3
    ("cradle", {"keys": 12}, "9 at most"),  # 90/(3 · 3.2) = 9.375
    ("cradle", {"height": 15.0, "kerf": 8.0, "keys": 3}, "5 mm at most"),
    # acos(sin 45° / sin 60°) = 35.2644°
    ("mitre", {"sides": 3, "slope": 0.0}, "4 sides or more, or a slope of 35.27 degrees or more"),
    ("drilling", {"holes": 5}, "4 holes at most, or holes 57.25 mm apart or less"),  # (240 - 5 - 6)/4
    ("drilling", {"holes": 5, "pitch": 7.5, "length": 30.0}, "3 holes at most"),  # 4.75 mm apart they would break
    ("gauges", {"gap": 10.5}, "a gap of 10.02 mm at most, or sockets of 10.5 mm at least"),
    ("gauges", {"fence": 3.0}, "3.01 mm at least"),
    ("parting", {"wide": 9}, "part 8 at most"),
    ("parting", {"kerf": 8.0, "planing": 2.0}, "a blade that cuts 5.92 mm at most, or a finger of 12 mm at least"),
    # (78 + 6)/(3 + 6) = 9.33; (78 - 11 · 3)/10 = 4.5, at which they would come to a point
    ("dovetail", {"tails": 11}, "9 tails at most, or pins of 4.49 mm or less"),
    # 2 · 45 + 2 · 6 + 3 · 3 = 111; 2 · 45 + 3 = 93
    ("dovetail", {"half_pin": 45.0}, "a board 111.01 mm wide or wider, or 1 tail on a board 93.01 mm wide or wider"),
    ("sliding-lid", {"width": 20.0, "finger": 25.0}, "31.01 mm at least"),
    # Held by (136 + 2 · 2 - 0.6) · 0.983443 - 138 = -0.908; short of 1 by 1.908; 2 + 1.908/(2 · 0.983443 - 1)
    ("sliding-lid", {"depth": 2.0}, "a groove 3.98 mm deep or more, or an opening of 20.75 mm or less"),
    # Parts end at 69.6 and 79.6; 89.5 - 69.6 - 8 = 11.9; 8 - (3 - 1.9) = 6.9
    ("sliding-lid", {"groove": 8.0}, "11.9 mm, for the next part boundary; or a groove cutter of 6.9 mm or less"),
]


@pytest.mark.parametrize(("name", "changed", "suggested"), WAYS_OUT)
def test_ways_out_are_the_limits_at_which_the_rule_is_silent(
    name: str, changed: dict[str, Any], suggested: str
) -> None:
    found = problems(lambda: find(name).plan(example(name) | changed, "mm"))
    assert suggested in [problem.suggests("mm") for problem in found]


@pytest.mark.parametrize(("name", "changed", "where", "said"), STOPS)
def test_who_follows_the_ways_out_gets_a_jig(name: str, changed: dict[str, Any], where: str, said: str) -> None:
    """One way out, then what is said of that, and so on: never round in a circle."""
    del where, said
    for way in (0, -1):
        settings = example(name) | changed
        for _ in range(4):
            stops = [p for p in problems(lambda: find(name).plan(settings, "mm")) if p.severity == "stop"]  # noqa: B023 - called at once
            if not stops:
                break
            [offer] = stops[0].offers(stops[0].ways[way]).values()
            changes = {offer.setting or stops[0].where: offer.value} | dict(offer.also)
            settings |= {setting.replace(" ", "_"): value for setting, value in changes.items()}
        assert not stops, stops


@pytest.mark.parametrize(("name", "changed", "where", "said"), STOPS)
def test_what_can_not_be_built_is_refused(name: str, changed: dict[str, Any], where: str, said: str) -> None:
    with pytest.raises(CannotBuild) as refused:
        find(name).plan(example(name) | changed, "mm")
    found = [(problem.where, problem.says("mm")) for problem in refused.value.problems if problem.severity == "stop"]
    assert any(place == where and said in words for place, words in found), found
    assert all(problem.suggests("mm") for problem in refused.value.problems if problem.severity == "stop")


@pytest.mark.parametrize(("name", "changed", "where", "said"), WARNINGS)
def test_what_is_unwise_is_warned_of(name: str, changed: dict[str, Any], where: str, said: str) -> None:
    made = find(name).plan(example(name) | changed, "mm").problems
    found = [(problem.where, problem.says("mm")) for problem in made if problem.severity == "warning"]
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
