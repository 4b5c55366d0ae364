"""What each jig of the second shelf refuses or warns of, and one number of each in the written file."""

from __future__ import annotations

from typing import Any

import pytest

from jigs.base.catalogue import find
from jigs.base.errors import CannotBuild
from tests.outside import Check, agree
from tests.refusals import problems
from tests.test_properties import example_of as example
from tests.words import words_of

BY_HAND = Check(
    "Mitres, dovetails, dividers, hinges, rows",
    "arithmetic written out in jigs/trade/mitre.py, spacing.py, dividers.py, hinge.py and circles.py",
    "worked example",
)

STOPS = [
    ("dividers", {"along": 1, "across": 1}, "along", "a box with one compartment each way has no dividers"),
    ("dividers", {"along": 31}, "along", "there is no room for 30 dividers 6 mm thick in an inside of 176 mm"),
    ("hinge", {"bush": 6.0}, "bush", "a bush 6 mm outside lets a cutter of 6.35 mm into the template"),
    ("hinge", {"cutter": 18.0, "bush": 20.0}, "cutter", "a cutter of 18 mm does not go into a recess 16 mm across"),
    (
        "hinge",
        {"clearance": 4.0},
        "clearance",
        "with a clearance of 4 mm a hinge 3.2 mm thick when closed needs no recess",
    ),
    (
        "trammel",
        {"keep": "hole", "radius": 10.0, "cutter": 22.0},
        "radius",
        "a hole of radius 10 mm is no larger than the cutter, which makes one of 11 mm by itself",
    ),
    ("taper", {"narrow": 40.0}, "narrow", "a narrow end of 40 mm is no narrower than the wide end of 40 mm"),
    ("cradle", {"depth": 15.0}, "depth", "a slot 15 mm deep leaves less than 3 mm of wood at the inside corner"),
    ("cradle", {"keys": 12}, "keys", "12 keys stand 7.5 mm apart, and slots 3.2 mm wide must be 9.6 mm apart or more"),
    (
        "mitre",
        {"sides": 3, "slope": 0.0},
        "sides",
        "a ring of 3 sides needs a blade tilt of 60.0°, and a saw tilts 45° at most",
    ),
    ("drilling", {"holes": 5}, "holes", "a row 256 mm long does not fit a board 240 mm long, which takes 229 mm"),
    (
        "drilling",
        {"pitch": 6.0},
        "pitch",
        "holes of 5 mm that are 6 mm apart leave less than 3 mm of wood between them",
    ),
    (
        "drilling",
        {"set_back": 4.0},
        "set back",
        "a hole of 5 mm with its centre 4 mm from the edge leaves less than 3 mm of wood there",
    ),
    ("drilling", {"bush": 4.0}, "bush", "a bush 4 mm outside does not go round a drill of 5 mm"),
    ("gauges", {"gap": 10.5}, "gap", "fingers 10.50 mm wide do not go into sockets 10.02 mm wide"),
    (
        "gauges",
        {"fence": 3.0},
        "fence",
        "a fence 3 mm from the bit’s centre is cut, because the bit reaches 3 mm to each side",
    ),
    (
        "parting",
        {"wide": 9},
        "wide",
        "with 9 fingers and sockets, a cut through number 9 leaves nothing to hold the lid",
    ),
    (
        "dovetail",
        {"tails": 11},
        "tails",
        "with 11 tails each is 1.6 mm wide, and comes to a point unless it is more than 3 mm",
    ),
    (
        "sliding-lid",
        {"width": 20.0, "finger": 25.0},
        "width",
        "boards 20 mm wide have no room for a finger of 25 mm and a groove of 6 mm above it",
    ),
    ("sliding-lid", {"depth": 8.0}, "depth", "a groove 8 mm deep takes more than half of sides 12 mm thick"),
    (
        "sliding-lid",
        {"groove": 12.0, "width": 21.9},
        "width",
        "boards 21.9 mm wide have no room for a finger of 9.9 mm and a groove of 12 mm above it",
    ),
    (
        "drilling",
        {"length": 20.0, "bush": 18.0},
        "length",
        "a board 20 mm long has no room for a hole of 18 mm with 3 mm of wood at each end",
    ),
    (
        "dovetail",
        {"half_pin": 45.0},
        "tails",
        "with 3 tails each is 0 mm wide, and comes to a point unless it is more than 3 mm",
    ),
    (
        "dovetail",
        {"half_pin": 45.0, "tails": 1},
        "width",
        "with 1 tail each is 0 mm wide, and comes to a point unless it is more than 3 mm",
    ),
    (
        "cradle",
        {"height": 15.0, "kerf": 8.0, "keys": 1},
        "kerf",
        "a slot 8 mm wide takes more than a third of a box 15 mm high",
    ),
]
WARNINGS = [
    ("dividers", {"along": 7}, "along", "a finger, 25 mm wide, does not go into compartments 20 mm wide"),
    (
        "taper",
        {"wide": 150.0},
        "narrow",
        "the blade may lift the board from the sled, because a taper of 17.4° is steeper than 15°",
    ),
    (
        "parting",
        {"kerf": 8.0, "planing": 2.0},
        "finger",
        "the cut will show in the joint, because saw and plane take 12 mm, more than a finger of 9.92 mm",
    ),
    (
        "dovetail",
        {"pin": 1.0},
        "pin",
        "a pin 1 mm wide will break while you chop, because its narrow side is under 1.5 mm",
    ),
    (
        "sliding-lid",
        {"depth": 2.0},
        "depth",
        "the lid may drop out in the driest season, because its engagement is 0.00 mm; it needs 1.00 mm",
    ),
    (
        "sliding-lid",
        {"groove": 8.0},
        "above",
        "the wood above the groove will break when the lid is forced, because only 1.9 mm is left",
    ),
]

WAYS_OUT = [  # each worked out by hand from the rule, and rounded to the side on which it works
    (
        "dividers",
        {"along": 1, "across": 1},
        "make 2 compartments along the length, or make 2 compartments across the width",
    ),
    # (176 + 6)/(0.31 + 6) = 28.8; (176 - 31 · 0.31)/30 = 5.546
    ("dividers", {"along": 31}, "make 28 or fewer, or plane the dividers to 5.54 mm or less"),
    # One compartment would have no dividers; 20 - 2 · 0.31 = 19.38; 30 + 2 · 0.31 = 30.62
    (
        "dividers",
        {"length": 20.0, "along": 2, "across": 1, "thickness": 30.0},
        "plane the dividers to 19.38 mm or less, or make 2 compartments in an inside length of 30.62 mm or more",
    ),
    ("dividers", {"along": 7}, "make 5 or fewer"),  # thinner than 0.17 mm is no divider
    ("dividers", {"length": 24.0, "along": 1}, "make 1 compartment in an inside length of 25 mm or more"),
    ("hinge", {"bush": 6.0}, "use a bush 6.35 mm outside or more"),
    ("hinge", {"clearance": 4.0}, "leave a clearance of 3.19 mm or less"),
    (
        "trammel",
        {"keep": "hole", "radius": 10.0, "cutter": 22.0},
        "cut a hole of radius 11.01 mm or more, or use a smaller cutter",
    ),
    ("taper", {"narrow": 40.0}, "make the narrow end 39.99 mm or less, or make the wide end 40.01 mm or more"),
    ("cradle", {"depth": 15.0}, "cut the slot 13.97 mm deep or less"),  # 12 · √2 - 3
    ("cradle", {"keys": 12}, "cut 9 or fewer"),  # 90/(3 · 3.2) = 9.375
    ("cradle", {"height": 15.0, "kerf": 8.0, "keys": 3}, "use a blade that cuts 5 mm or less"),
    # acos(sin 45° / sin 60°) = 35.2644°
    ("mitre", {"sides": 3, "slope": 0.0}, "make 4 sides or more, or lean the sides 35.27° or more"),
    ("drilling", {"holes": 5}, "drill 4 or fewer, or space them 57.25 mm apart or less"),  # (240 - 5 - 6)/4
    ("drilling", {"holes": 5, "pitch": 7.5, "length": 30.0}, "drill 3 or fewer"),  # 4.75 mm apart they would break
    ("gauges", {"gap": 10.5}, "make the gap 10.02 mm or less, or cut sockets 10.5 mm wide or more"),
    ("gauges", {"fence": 3.0}, "set the fence 3.01 mm or more from the centre"),
    ("parting", {"wide": 9}, "saw through number 8 or a lower one"),
    (
        "parting",
        {"kerf": 8.0, "planing": 2.0},
        "use a blade that cuts 5.92 mm or less, or make the fingers 12 mm wide or more",
    ),
    # (78 + 6)/(3 + 6) = 9.33; (78 - 11 · 3)/10 = 4.5, at which they would come to a point
    ("dovetail", {"tails": 11}, "lay out 9 or fewer, or make the pins 4.49 mm wide or less"),
    # 2 · 45 + 2 · 6 + 3 · 3 = 111; 2 · 45 + 3 = 93
    (
        "dovetail",
        {"half_pin": 45.0},
        "use boards 111.01 mm wide or more, or lay out 1 tail on boards 93.01 mm wide or more",
    ),
    ("sliding-lid", {"width": 20.0, "finger": 25.0}, "use boards 31.01 mm wide or more"),
    # Held by (136 + 2 · 2 - 0.6) · 0.983443 - 138 = -0.908; short of 1 by 1.908; 2 + 1.908/(2 · 0.983443 - 1)
    ("sliding-lid", {"depth": 2.0}, "cut the groove 3.98 mm deep or more, or make the opening 20.75 mm wide or less"),
    # Parts end at 69.6 and 79.6; 89.5 - 69.6 - 8 = 11.9; 8 - (3 - 1.9) = 6.9
    ("sliding-lid", {"groove": 8.0}, "leave 11.9 mm above it, or use a bit of 6.9 mm or less"),
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


@pytest.mark.parametrize(
    ("name", "step"), [("hinge", "Square the corners, radius 3.2"), ("mitre", "12 cuts: 1.2° in the last joint.")]
)
def test_what_is_always_so_is_a_step_of_the_card_and_no_note(name: str, step: str) -> None:
    made = find(name).plan(example(name), "mm")
    assert not made.problems
    assert step in words_of(made.sheets)
