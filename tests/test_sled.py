"""The sled: its numbers through the catalogue, and every rule provoked once with its message."""

from __future__ import annotations

import math
import re
from collections.abc import Iterator
from itertools import pairwise
from typing import Any

import manifold3d
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.base import cards
from jigs.base.catalogue import Plan, find
from jigs.base.drawing import Bounds, Table
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.wording import say
from jigs.box import chain
from jigs.boxfile import reading
from jigs.parts.joint.carriage import carriage_of
from jigs.parts.joint.part import SIGNED
from jigs.parts.joint.settings import SledSettings
from jigs.parts.joint.sled import made, work_out
from jigs.trade import passes
from jigs.trade.sled import runs
from layout.pages.voice import Voice
from tests import refusals
from tests.outside import Check, agree
from tests.test_properties import built, wrong_ways_out

STEP_BY_STEP = Check(
    "Fingers, sockets, sled",
    "every run gone through, board by board, and mates put together as solids by manifold3d",
    "independent derivation",
)
FROM_ABOVE = Check(
    "Fingers, sockets, sled",
    "edges followed through the feed as seen from above, and passes laid side by side",
    "independent derivation",
)
BY_HAND = Check(
    "Fingers, sockets, sled", "arithmetic written out in jigs/trade/fingers.py, passes.py and sled.py", "worked example"
)

METRIC: dict[str, Any] = {"finger": 10.0, "cutter": 10.0, "board": 90.0, "thickness": 12.0, "thinnest": 12.0}
INCH = 25.4


def plan(units: Units = "mm", **changes: Any) -> Plan:
    return find("sled").plan(METRIC | changes, units)


def refused(units: Units = "mm", **changes: Any) -> Problem:
    return refusals.refused(lambda: plan(units, **changes))


def warned(where: str, units: Units = "mm", **changes: Any) -> Problem:
    return refusals.warned(where, lambda: plan(units, **changes))


# Worked values, derived in jigs/trade/sled.py and jigs/trade/fingers.py: the metric and the inch reference box.


@BY_HAND.of("sled")
def test_the_metric_box() -> None:
    numbers = plan().numbers
    expected = {
        "gap": 9.9,
        "key": 9.9,
        "spacer": 9.95,
        "pitch": 19.9,
        "rip_width": 89.5,
        "cut_depth": 12.3,
        "over_all": 29.8,
        "clearance": 0.1,
        "count": 9,
        "steps": 5,
        "passes": 1,
    }
    agree({name: numbers[name] for name in expected}, expected, unit="mm")
    agree([width for width in numbers["nearest_widths"] if width < 110], [69.6, 89.5, 109.4], unit="mm")


@BY_HAND.of("sled")
def test_the_inch_box() -> None:
    inch: dict[str, Any] = {"finger": 0.5, "cutter": 0.5, "board": 3.5, "thickness": 0.5, "thinnest": 0.5}
    given = {name: value * INCH for name, value in inch.items()}
    numbers = plan("in", **given, clearance=0.004 * INCH, key_slack=0.004 * INCH, proud=INCH / 64).numbers
    expected = {"gap": 0.496, "key": 0.496, "spacer": 0.498, "pitch": 0.996, "rip_width": 3.484, "over_all": 1.492}
    agree({name: numbers[name] / INCH for name in expected}, expected, unit="in")
    agree(numbers["cut_depth"] / INCH, 0.515625, unit="in")
    assert numbers["count"] == 7


@BY_HAND.of("sled")
def test_several_passes_stand_the_key_for_the_far_cut() -> None:
    numbers = plan(cutter=6.0, finger=9.9, clearance=0.1).numbers
    agree(numbers["pass_gaps"], [9.9, 13.9], unit="mm")
    agree(numbers["gap"], 13.9, unit="mm")
    agree(numbers["key"], 5.9, unit="mm")
    agree(numbers["over_all"], 5.9 + 13.9 + 6.0, unit="mm")
    agree((numbers["finger"], numbers["socket"]), (9.9, 10.0), unit="mm")


@BY_HAND.of("sled")
def test_a_kerf_of_an_eighth_takes_three_passes_for_a_quarter_finger() -> None:
    numbers = plan(
        "in",
        finger=INCH / 4,
        cutter=INCH / 8,
        board=3 * INCH,
        thickness=INCH / 4,
        thinnest=None,
        clearance=0.004 * INCH,
    ).numbers
    assert numbers["passes"] == 3
    agree([gap / INCH for gap in numbers["pass_gaps"]], [0.25, 0.3145, 0.379], unit="in")


@pytest.mark.parametrize(("cutter", "passes"), [(10.5, 1), (9.5, 1), (9.49, 2), (9.0, 2)])
def test_one_pass_is_enough_within_half_a_millimetre_and_a_twentieth(cutter: float, passes: int) -> None:
    assert plan(cutter=cutter).numbers["passes"] == passes


# What a number of fingers means: those of the boards that start with one at the bottom edge.


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize(
    ("changes", "fingers", "sockets", "width"),
    [
        ({"fingers": 5}, 5, 4, 89.5),
        ({"fingers": 5, "board": 200.0}, 5, 4, 89.5),
        ({"fingers": 5, "board": 100.0}, 5, 4, 89.5),  # ten would fit: they end with a finger all the same
        ({"board": 100.0}, 5, 5, 99.5),  # as many as fit
        ({"fingers": 5, "board": 100.0, "layout": "keep"}, 5, 5, 100.0),  # what the board holds
        ({"fingers": 5, "board": 95.0, "layout": "keep"}, 5, 4, 95.0),
        ({"fingers": 5, "board": 86.0, "layout": "centre"}, 5, 4, 86.0),  # ends of 8.15
        ({"fingers": 5, "board": 95.0, "layout": "centre"}, 5, 5, 95.0),  # 5 + 4 would have ends of 12.65
        ({"fingers": 6, "board": 95.0, "layout": "centre"}, 6, 5, 95.0),  # and these of 2.7
    ],
)
def test_fingers_are_those_of_front_and_back(
    units: Units, changes: dict[str, Any], fingers: int, sockets: int, width: float
) -> None:
    made = plan(units, **changes)
    numbers = made.numbers
    assert (numbers["fingers"], numbers["sockets"], numbers["count"]) == (fingers, sockets, fingers + sockets)
    stick = next(template.view for template in made.sheets.templates if template.view.name == "stick-front")
    assert stick.check is not None
    assert stick.check.value == pytest.approx(width, abs=0.01)  # 0.004 in of clearance are 0.1016


def test_a_finger_that_is_one_clearance_under_its_size_is_no_news() -> None:
    """A cutter of 10.02 makes fingers of 9.92: no message, nor of the cutter, the thickness or the ripped width."""
    assert plan(cutter=10.02, board=92.0, thinnest=None).problems == ()
    assert plan(board=90.0).problems == ()


@pytest.mark.parametrize(("board", "told"), [(109.3, False), (109.5, True)])
def test_a_pitch_of_the_board_may_be_lost_without_a_word(board: float, told: bool) -> None:
    """Five of 9.9 and four of 10 are 89.5, and a pitch is 19.9."""
    assert ("fingers" in {p.where for p in plan(fingers=5, board=board).problems}) == told


@pytest.mark.parametrize("units", ["mm", "in"])
def test_each_way_out_of_a_wasted_board_works(units: Units) -> None:
    wasted = warned("fingers", units, fingers=5, board=200.0)
    offers = {name: offer for way in wasted.ways for name, offer in wasted.offers(way).items()}
    assert set(offers) == {"more", "wider", "narrower"}
    for offer in offers.values():
        changes = {"fingers": 5, "board": 200.0} | {offer.setting or wasted.where: offer.value}
        assert "fingers" not in {p.where for p in plan(units, **changes).problems}


# Rules. Common practice, no source, where a limit is not geometry.


@pytest.mark.parametrize(
    ("changes", "where", "says", "suggests"),
    [
        (
            {"finger": 8.0},
            "finger",
            "the cutter makes a socket of 10 mm, so the finger cannot be 8 mm",
            "use a cutter of 8 mm or less, or make the finger 9.9 mm",
        ),
        (
            {"cutter": 60.0, "clearance": 1.0},
            "finger",
            "the finger cannot be 10 mm",
            "use a cutter of 10 mm or less, or make the finger 60 mm",
        ),
        (
            {"finger": 24.0, "clearance": 0.25, "cutter": 0.8, "key_slack": 0.1, "passes": 1},
            "passes",
            "1 pass of 0.8 mm covers only 0.80 mm of the socket of 24.25 mm",
            "make 41 passes, each shifted by 0.59 mm",
        ),
        (
            {"cutter": 1.0, "finger": 3.0, "clearance": 1.0},
            "clearance",
            "leaves nothing of a socket of 1 mm",
            "use 0.1 mm",
        ),
        (
            {"cutter": 1.0, "finger": 3.0, "key_slack": 1.5},
            "key slack",
            "a play on the key of 1.5 mm leaves nothing of a socket of 1 mm",
            "use 0.1 mm",
        ),
        (
            {"key_slack": 0.0},
            "key slack",
            "a socket of 10 mm will not go on a key of 10.00 mm, which must be narrower",
            "leave a play of 0.1 mm on the key",
        ),
        (
            {"key": 10.1},
            "key",
            "a socket of 10 mm will not go on a key of 10.10 mm, which must be narrower",
            "use a key of 9.9 mm",
        ),
        (
            {"spacer": 10.2},
            "spacer",
            "with a spacer of 10.2 mm the bottom edges will be 0.20 mm to 0.30 mm out of flush",
            "use a spacer of 9.95 mm",
        ),
        (
            {"board": 25.0},
            "board",
            "2 fingers + 1 socket, the fewest that make a joint, are 29.80 mm wide; the board is 25 mm",
            "use a board of 29.8 mm or more; or make the fingers 8.3 mm or less, with a cutter as narrow",
        ),
        (
            {"board": 91.5, "layout": "keep"},
            "board",
            "a board kept 91.5 mm wide leaves a socket of 2 mm and a finger of 1.9 mm at the top edge; both must be",
            "centre the fingers: 5.95 mm at both edges, with a starter of 3.95 mm; or rip the boards to 89.50 mm, 2 mm "
            "narrower",
        ),
        (
            {"machine": "table saw", "cutter": 3.2, "blade": 70.0 + 30.0, "thickness": 24.0, "thinnest": 24.0},
            "blade",
            "a blade of 100 mm cannot stand 30.30 mm above the table",
            "use a blade of 121.2 mm or more",
        ),
        (
            {"fingers": 6},
            "fingers",
            "6 fingers + 5 sockets need a board of 109.40 mm; the board is 90 mm",
            "ask for 5 fingers; or make the fingers 8.13 mm or less, with a cutter as narrow",
        ),
        (
            {"fingers": 6, "cutter": 6.0, "finger": 9.0, "layout": "keep"},
            "fingers",
            "6 fingers + 5 sockets need a board of 99.50 mm; the board is 90 mm",
            "ask for 5 fingers, or make the fingers 8.13 mm or less",
        ),
        (
            {"thickness": 9.5, "thinnest": 9.5, "cutter": 12.7, "finger": 12.7, "key_height": 12.7},
            "key height",
            "boards would ride on a key 12.7 mm high: it must stay 0.5 mm under the cut of 9.80 mm",
            "plane the key down to 9.3 mm",
        ),
        (
            {"thickness": 0.4, "thinnest": 0.4, "proud": 0.1},
            "thickness",
            "under the cut of 0.50 mm, so it can only be 0.00 mm high; boards slip over a key lower than 0.1 mm",
            "use boards of 0.51 mm or thicker",
        ),
        (
            {"cutting_edge": 12.0},
            "cutting edge",
            "a cutting edge of 12 mm is 0.30 mm too short for a cut of 12.30 mm: the shank would rub",
            "use a cutter with an edge of 12.3 mm or more",
        ),
        (
            {"thinnest": 11.5},
            "thickness",
            "the sides measure from 11.5 mm to 12 mm; they may differ by 0.2 mm at most",
            "plane them all in one setting to 11.5 mm, and enter that as the thickness; "
            "or take boards that read 11.8 mm or more",
        ),
        (
            {"guided": True},
            "guided",
            "hold the boards twice, so they will bind",
            "let the key alone guide the boards, or fix the key to a moving plate",
        ),
        ({"passes": 2}, "passes", "the cutter of 10 mm makes the socket in 1 pass, not in 2", "make 1 pass"),
        (
            {"layout": "keep", "fingers": 4},
            "fingers",
            "a board that keeps its width of 90 mm has 5 fingers, not 4",
            "ask for 5 fingers, or rip the boards",
        ),
        (
            {"layout": "centre", "fingers": 20},
            "fingers",
            "20 fingers + 19 sockets can be centred on boards more than 368.20 mm and at most 388.00 mm wide",
            "ask for 5 fingers",
        ),
        (
            {"layout": "centre", "fingers": 3},
            "fingers",
            "3 fingers + 3 sockets can be centred on boards more than 39.80 mm and at most 59.60 mm wide",
            "ask for 5 fingers",
        ),
    ],
)
def test_what_stops_the_job(changes: dict[str, Any], where: str, says: str, suggests: str) -> None:
    problem = refused(**changes)
    assert (problem.severity, problem.where) == ("stop", where)
    assert says in problem.says("mm")
    assert problem.suggests("mm") == suggests
    assert typed_back(changes) == []


def typed_back(changes: dict[str, Any]) -> list[str]:
    """Return what is wrong with any way out of any rule that these settings meet, typed as it is read out."""
    sled = find("sled")
    chosen = {one.name: one.default_in("mm") for one in sled.parameters} | METRIC | changes
    made = built(sled, chosen, "mm")
    return wrong_ways_out(sled, chosen, "mm", made.problems if isinstance(made, Plan) else made)


def test_no_key_height_is_suggested_where_none_would_do() -> None:
    with pytest.raises(CannotBuild) as error:
        plan(thickness=0.44, thinnest=0.44, proud=0.12, key_height=3.0)
    assert [problem.where for problem in error.value.problems] == ["thickness"]


def test_two_passes_of_an_eighth_leave_a_fin() -> None:
    problem = refused(
        "in", finger=INCH / 4, cutter=INCH / 8, board=3 * INCH, thickness=INCH / 4, thinnest=INCH / 4,
        clearance=0.004 * INCH, passes=2,
    )  # fmt: skip
    assert problem.says("in") == "2 passes of 1/8 in cover only 0.250 in of the socket of 0.254 in"
    assert problem.suggests("in").startswith("make 3 passes, each shifted by 0.065 in")


@pytest.mark.parametrize(
    ("changes", "where", "says", "suggests"),
    [
        (
            {"clearance": 0.0},
            "clearance",
            "a clearance of 0 mm is less than 0.05 mm: water-based glue swells",
            "a gap of 9.90 mm",
        ),
        ({"clearance": 0.3}, "clearance", "a clearance of 0.3 mm is more than 0.25 mm", "0.20 mm further off"),
        (
            {"layout": "keep"},
            "board",
            "a board kept 90 mm wide leaves a socket of 0.50 mm and a finger of 0.45 mm at the top edge",
            "rip the boards to 89.50 mm, 0.5 mm narrower",
        ),
        (
            {"board": 80.0},
            "board",
            "front and back have 4 fingers + 4 sockets, so the top edge is not like the bottom edge",
            "ask for 4 fingers, which rips the boards to 4 fingers + 3 sockets; or mark the bottom edge",
        ),
        (
            {"board": 96.0, "layout": "keep"},
            "board",
            "front and back have 5 fingers + 4 sockets and a narrow socket at the top, so the top edge",
            "mark the bottom edge",
        ),
        (
            {"board": 95.0, "layout": "centre", "fingers": 5},
            "fingers",
            "front and back have 5 fingers + 5 sockets, so the top edge",
            "mark the bottom edge",
        ),
        (
            {"board": 30.0},
            "board",
            "2 fingers + 1 socket hold little glue, and the corners may break; 3 fingers + 2 sockets or more are usual",
            "make the fingers 5.96 mm or less, with a cutter as narrow",
        ),
        (
            {"board": 30.0, "fingers": 2},
            "fingers",
            "2 fingers + 1 socket hold little glue",
            "ask for 3 fingers, and make the fingers 5.96 mm or less, with a cutter as narrow",
        ),
        ({"board": 49.6, "fingers": 2}, "fingers", "2 fingers + 1 socket hold little glue", "ask for 3 fingers"),
        (
            {"board": 200.0, "fingers": 5},
            "fingers",
            "5 fingers + 4 sockets take 89.50 mm of a board of 200 mm; the other 110.5 mm will be ripped off",
            "ask for 10 fingers; or make the fingers 22.17 mm wide; or use a board of 89.5 mm, and keep the rest",
        ),
        (
            {"board": 89.4},
            "board",
            "the board is only 0.10 mm too narrow for 5 fingers + 4 sockets",
            "ask for a clearance of 0.12 mm",
        ),
        (
            {"finger": 3.0, "cutter": 3.0},
            "cutter",
            "the cut is 12.30 mm deep, 4.10 times the cutter of 3 mm, so the sockets take 2 runs",
            "cut them on a table saw",
        ),
        (
            {"finger": 10.0, "cutter": 5.0},
            "cutter",
            "the cut is 12.30 mm deep, 2.46 times the cutter of 5 mm, so the sockets take 2 runs",
            "cut them on a table saw, or use a cutter of 5.86 mm or more",
        ),
        ({"key_side": "left"}, "key side", "the cut pulls the boards off it", "put the key on the right"),
        (
            {"thickness": 0.5, "thinnest": 0.5},
            "thickness",
            "the finger of 10 mm is 20 times the thickness of 0.5 mm: the units may be mixed",
            "half as wide as the boards are thick",
        ),
        (
            {"finger": 4.0, "cutter": 4.0, "thickness": 1.0, "thinnest": 1.0, "proud": 0.2},
            "thickness",
            "under the cut of 1.20 mm, so it can only be 0.70 mm high; boards slip over a key lower than 1 mm",
            "use boards of 1.31 mm or thicker",
        ),
        (
            {"finger": 20.0, "cutter": 20.0},
            "finger",
            "1.67 times the thickness",
            "make it 6 mm to 12 mm, or use boards 16.67 mm thick",
        ),
        (
            {"finger": 6.3, "cutter": 3.2, "passes": 2, "clearance": 0.05},
            "passes",
            "the passes overlap by only 0.05 mm",
            "make 3 passes",
        ),
        (
            {"key": 9.5},
            "key",
            "with a play of 0.50 mm on the key, the last finger of a stack may be 2.00 mm out of place. Boards cut "
            "separately may have a clearance of −1.40 mm",
            "use a key of 9.9 mm",
        ),
        ({"key_slack": 0.5}, "key slack", "with a play of 0.50 mm on the key", "leave a play of 0.1 mm"),
        (
            {"ends_thickness": 11.5},
            "ends thickness",
            "so the sockets take 2 runs. Those of front and back are cut 11.80 mm deep, those of the end boards "
            "12.30 mm",
            "plane all boards to 11.5 mm, and cut them in fewer runs",
        ),
        (
            {"form": "moving plate", "out_of_parallel": 0.3},
            "out of parallel",
            "a key 0.3° out of parallel takes 0.26 mm of play over a stack of 48 mm; with only 0.10 mm",
            "leave a play of 0.26 mm or more",
        ),
        (
            {"clamp_reach": 50.0},
            "clamp reach",
            "the stack with its backing board is 60 mm thick; the clamps take only 50 mm",
            "keep the boards of one pair of corners together",
        ),
        (
            {"edges_out": 0.1},
            "edges out",
            "bottom edges 0.1 mm out of line in the stack will be 0.1 mm out of flush in the joint",
            "0.05 mm or less",
        ),
        (
            {"method": "separately"},
            "method",
            "cut separately, 6.0 % of the corners will not go together, which spoils 22 % of the boxes. Each position "
            "wanders by the play on the key, 0.10 mm; the clearance is −0.20 mm at worst",
            "cut mates in one stack, or leave a play of 0.03 mm or less",
        ),
        (
            {"machine": "table saw", "finger": 6.0, "cutter": 3.2, "bevel": 15.0},
            "bevel",
            "will leave ears 0.43 mm high on the socket floors",
            "use a blade with flat teeth, or pare the floors",
        ),
        ({"proud": 0.0}, "proud", "the whole side must be planed down to it", "leave them 0.2 mm to 0.5 mm long"),
        (
            {"proud": 1.5},
            "proud",
            "fingers 1.5 mm proud are much end grain to plane off, and clamps would bear on them",
            "leave them 0.2 mm to 0.5 mm long; or cut the cauls back by 2.5 mm",
        ),
        (
            {"cutter": 9.8},
            "finger",
            "the finger will be 9.70 mm, not 10 mm: it is one pass of the cutter of 9.8 mm less the clearance",
            "use a cutter of 10.1 mm for 10 mm; or use one of 9.49 mm or less, in several passes",
        ),
        (
            {"finger": 6.0, "cutter": 3.2, "board": 66.3},
            "board",
            "the board is only 0.20 mm too narrow for 6 fingers + 5 sockets",
            "make the fingers 5.98 mm wide",
        ),
        (  # (90 - 4 x 0.1)/9 = 9.9556, and 9.96 would be too much again
            {"finger": 10.0, "cutter": 6.0, "board": 90.0},
            "board",
            "too narrow for 5 fingers + 4 sockets",
            "make the fingers 9.95 mm wide",
        ),
        (
            {"machine": "table saw", "finger": 6.1, "cutter": 3.175},
            "finger",
            "a finger of 6.1 mm takes 3 cuts at every socket; one 0.05 mm narrower takes 2",
            "make the finger 6.05 mm",
        ),
    ],
)
def test_what_is_warned_of(changes: dict[str, Any], where: str, says: str, suggests: str) -> None:
    problem = warned(where, **changes)
    assert says in problem.says("mm")
    assert suggests in problem.suggests("mm")
    assert typed_back(changes) == []


def test_a_wider_cutter_is_offered_where_it_still_makes_the_finger() -> None:
    assert "a cutter of" not in warned("cutter", finger=3.0, cutter=3.0).suggests("mm")
    assert warned("cutter", finger=10.0, cutter=5.0).suggests("mm").endswith("or use a cutter of 5.86 mm or more")
    assert not [p for p in plan(finger=10.0, cutter=5.86).problems if p.where == "cutter"]


def test_the_slack_that_is_offered_for_a_separate_cut_is_not_rounded_up() -> None:
    """Three steps share a clearance of 0.05 mm: 0.0167 mm each, of which 0.02 mm would be too much again."""
    apart: dict[str, Any] = {"method": "separately", "clearance": 0.05}
    assert warned("method", **apart).suggests("mm").endswith("a play of 0.01 mm or less on the key")
    assert [p for p in plan(**apart, key_slack=0.02).problems if p.where == "method"]
    assert not [p for p in plan(**apart, key_slack=0.01).problems if p.where == "method"]


def test_a_spacer_within_the_play_is_taken() -> None:
    """s = g leaves all the play on one side but closes flush: flush from -0.1 to 0."""
    assert not [p for p in plan(spacer=9.9).problems if p.where == "spacer"]


def test_a_saw_blade_has_a_slot_and_a_longer_run() -> None:
    """A circle of 250 cut 12.3 below its top is 2 sqrt(250 x 12.3 - 12.3^2) long, and 18.3 below it is longer."""
    saw = plan(machine="table saw", finger=6.0, cutter=3.2, whole=True)
    parts = _parts(saw, "plate")
    chord = 2 * (250 * 18.3 - 18.3**2) ** 0.5
    assert parts["cutter"].height == pytest.approx(chord)
    assert parts["cutter"].width == pytest.approx(3.2)
    stroke = 60 + 2 * (250 * 12.3 - 12.3**2) ** 0.5 + 40
    assert f"Travel to stop | {5 * math.ceil(stroke / 5)} |" in _said(saw)


def test_a_thicker_end_is_cut_through() -> None:
    assert plan(ends_thickness=13.0).numbers["cut_depth"] == pytest.approx(13.3)


def test_a_moving_plate_may_have_a_guide() -> None:
    assert plan(form="moving plate", guided=True).numbers["count"] == 9


def test_a_saw_has_no_hand_and_no_slender_bit() -> None:
    said = {p.where for p in plan(machine="table saw", key_side="left", finger=6.0, cutter=3.2).problems}
    assert not said & {"key side", "cutter"}


@BY_HAND.of("sled")
def test_equal_ends_get_their_starter_spacer() -> None:
    """86 mm boards, 10 mm parts without clearance: ends of 8, starter 2, seven parts between (worked value A5)."""
    numbers = plan(board=86.0, clearance=0.0, layout="centre").numbers
    assert numbers["count"] == 9
    assert "Starter, as the spacer | 2.00 |" in _said(plan(board=86.0, clearance=0.0, layout="centre"))


def _said(made: Plan, units: Units = "mm") -> str:
    """Everything that the cards and the templates say, in one line; rows with strokes between their cells."""
    voice = Voice(units)
    said = [words for card in made.sheets.cards for words in _of_card(card, voice)]
    for template in made.sheets.templates:
        said += [voice.said(template.view.title), voice.said(template.use)]
        said += [voice.said(label.words) for label in template.view.labels]
        said += [f"{d.name} {voice.said(say('{mm:typed}', mm=d.value))}" for d in template.view.dimensions]
    return " | ".join(said).replace("\u00a0", " ")


def _of_card(card: cards.Card, voice: Voice) -> Iterator[str]:
    yield from (voice.said(words) for caution in card.cautions for words in (caution.hazard, caution.words))
    for band in _flat(card.bands):
        match band:
            case cards.Settings(rows=rows):
                for row in rows:
                    yield f"{voice.said(row.what)} | {voice.value(row)} | {voice.within(row)} | {voice.said(row.using)}"
            case cards.Checks(rows=checks):
                yield from (f"{voice.said(check.what)} | {voice.limits(check)}" for check in checks)
            case cards.Readings(rows=readings):
                yield from (f"{one.letter} | {voice.said(one.what)} | {voice.limits(one)}" for one in readings)
            case cards.Hold(words=words):
                yield voice.said(words)
            case cards.Order(steps=several) | cards.Text(paragraphs=several):
                yield from (voice.said(words) for words in several)
            case cards.Pictures(views=views):
                yield from (voice.said(view.title) for view in views)
                yield from (voice.said(label.words) for view in views for label in view.labels)
            case Table(rows=cells):
                yield from (" | ".join(voice.said(cell) for cell in row) for row in cells)  # type: ignore[arg-type]


def _flat(bands: tuple[cards.Band, ...]) -> list[cards.Band]:
    found: list[cards.Band] = []
    for band in bands:
        found += _flat((band.left, band.right)) if isinstance(band, cards.Beside) else [band]
    return found


def _settings(made: Plan, name: str) -> dict[str, cards.Setting]:
    """The settings of a card by their names."""
    card = next(card for card in made.sheets.cards if card.name == name)
    return {row.name: row for band in _flat(card.bands) if isinstance(band, cards.Settings) for row in band.rows}


def _value(row: cards.Setting) -> float:
    """What a setting in mm is set to, as far as it is printed."""
    return float(Voice("mm").value(row))


def _parts(made: Plan, name: str) -> dict[str, Bounds]:
    """The parts of a template, or of a picture on a card, by their names."""
    views = [template.view for template in made.sheets.templates]
    for card in made.sheets.cards:
        views += [view for band in _flat(card.bands) if isinstance(band, cards.Pictures) for view in band.views]
    return {part.name: part.bounds for view in views if view.name == name for part in view.parts}


QUARTER: dict[str, Any] = {
    "finger": INCH / 4, "cutter": 0.2495 * INCH, "board": 3.5 * INCH, "thickness": 0.375 * INCH, "plate": INCH / 4
}  # fmt: skip


def test_sizes_that_are_free_are_round_in_inches() -> None:
    """Common practice, no source: what may be larger goes up to the next 1/16 or 1/8 in."""
    said = _said(plan("in", **QUARTER, thinnest=None, margin=0.75 * INCH), "in")
    for words in (
        "A | upright | 7 1/4 | 6 | 3/4",
        "C | foot, right | 3 1/8 | 2 7/8 | 3/4",
        "slot 1 ",
        " 9/16",
        "lower edge of A, seen from behind; slot starts 3 1/8 from its right end",
        "hole Ø 3/8",
        "plate | 7 | 8 3/4 | 1/4",
        "× 3/8 | 0.24",
        "cut the seat by the template, 1/8 deep",
        "Key above plate | 1/4",
        "in 4 ",
    ):
        assert words in said
    assert "mm" not in said


@pytest.mark.parametrize(("key_side", "hand"), [("right", 1), ("left", -1)])
def test_the_slot_of_the_face_clears_key_and_cutter(key_side: Any, hand: int) -> None:
    """Slot, hole, key and plate are never smaller than the exact size they are rounded from."""
    settings: dict[str, Any] = find("sled").settings(METRIC | {"key_side": key_side}, "mm")
    numbers = work_out(SledSettings(**settings))[0]
    made = carriage_of(numbers, "mm", hand, 0.0)
    assert made.slot_away >= 5 + 3
    assert made.slot_key >= numbers.key_to_centre + numbers.key + 3
    assert made.slot_height >= numbers.cut_depth + 3
    assert made.foot_thick >= made.slot_height
    assert made.long == pytest.approx(made.foot_away + made.slot + made.foot_key)
    assert made.long >= 2 * numbers.width + numbers.short_spacer
    # The furthest that the cutter comes out behind the face stays well under the exit block.
    assert made.foot_deep >= numbers.along + numbers.margin - made.board + 20


@pytest.mark.parametrize(("key_side", "away"), [("right", "left"), ("left", "right")])
def test_the_order_of_cutting_says_which_way(key_side: str, away: str) -> None:
    """And what comes of the other way: fingers thinner and a joint looser by the play on the key, 0.1."""
    said = _said(plan(key_side=key_side))
    assert f"Push {key_side} and down" in said
    assert f"Push to the {key_side}, for every cut. Pushed away: fingers 9.80, joint 0.20 loose" in said
    assert f"Push to the {away}" not in said
    assert f"Push {away}" not in said


def test_a_key_stands_no_higher_than_boards_allow() -> None:
    """A cut of 9.8 less 0.5 leaves 9.3: a key 12.6 wide stands 9 and not 13."""
    assert "Key above plate | 9 |" in _said(plan(thickness=9.5, thinnest=9.5, cutter=12.7, finger=12.7))
    assert "Key above plate | 10 |" in _said(plan())


def test_boards_are_ripped_while_long_and_planed_once_jointed() -> None:
    """89.5 mm are wanted: 90 leaves what a plane takes off, 95 has something to rip (common practice, no source)."""
    wide = _said(plan(board=95.0))
    assert "Rip boards to | 90.00 | 0.10" in wide
    assert "Plane to 89.50 by hand" in wide
    for board in (89.9, 90.0):
        a_little = _said(plan(board=board))
        assert "Plane to 89.50 by hand" in a_little
        assert "Rip boards" not in a_little
    level = _said(plan(board=89.5))
    assert "Plane to" not in level
    assert "Rip boards" not in level


def test_the_top_finger_of_the_ends_is_that_of_the_fronts() -> None:
    """14 parts: the eighth position trims the ends' top finger from 0.2475 to what every finger is."""
    given_in = find("sled").settings(METRIC | QUARTER | {"thinnest": None, "clearance": 0.1}, "in")
    drawn = made(SledSettings(**given_in), "in")  # type: ignore[arg-type]  # read by the settings themselves
    front, end = drawn.meant.mating.last_fingers
    assert (front / INCH, end / INCH) == pytest.approx((0.2456, 0.2456), abs=0.00005)


def test_all_that_leans_on_the_spacer_fits_it() -> None:
    """Two ends of 12 and a backing board of 12 butt it; front and back stand before it."""
    said = _said(plan())
    assert "Spacer, 36 long" in said
    assert "Cut the spacer’s foot back by 1, 14 high, on the side of the cutter" in said


def test_the_cards_and_templates_and_what_they_are_called() -> None:
    drawn = plan()
    assert [card.name for card in drawn.sheets.cards] == ["make-sled", "set-sled", "cut-fingers"]
    names = ["plate", "face", "brace", "stick-front", "stick-end"]
    assert [template.view.name for template in drawn.sheets.templates] == names
    assert {"plate", "key", "cutter", "feed", "cutter-hole"} <= set(_parts(drawn, "plate"))
    holds = [hold.name for card in drawn.sheets.cards for hold in card.holds()]
    assert holds == list(SIGNED)
    assert all(template.view.check for template in drawn.sheets.templates)


@pytest.mark.parametrize(("key_side", "sign"), [("right", 1), ("left", -1)])
def test_the_key_stands_where_it_should(key_side: str, sign: int) -> None:
    """Seen from above, feed up the page: the near cutting edge is one gap from the key face, on the side asked for.

    On the template and in the section on the card, whose proportions are true.
    """
    drawn = plan(key_side=key_side)
    for view, key_name in (("plate", "key"), ("section", "section-key")):
        key, cutter = _parts(drawn, view)[key_name], _parts(drawn, view)["cutter"]
        face = key.left if sign > 0 else key.right
        edge = cutter.right if sign > 0 else cutter.left
        assert sign * (face - edge) == pytest.approx(9.9)
        assert key.width == pytest.approx(9.9)


def test_the_spacer_is_no_longer_than_the_ends_in_the_stack() -> None:
    """Two ends of 8 and the backing board of 12 butt it: 28, and not the 36 of boards of 12."""
    drawn = plan(thickness=12.0, ends_thickness=8.0)
    assert "Spacer, 28 long" in _said(drawn)


def test_every_gauge_block_has_a_letter_and_a_size() -> None:
    """The shims of a socket of many passes are all alike: one row stands for them."""
    drawn = plan(finger=60.0, cutter=3.0, key_slack=0.1, board=400.0, thickness=6.0, thinnest=6.0)
    said = _said(drawn)
    blocks = [name for name in _settings(drawn, "make-sled") if name.startswith("block-")]
    assert blocks == ["block-G", "block-H", "block-J", "block-K"]
    assert f"Shims, {drawn.numbers['passes'] - 1} alike" in said
    assert "Cut 1, gap | 60.00 | 0.02 | 21 of 21 shims" in said
    assert "Make all 22 cuts of a socket before you step on" in said
    for row in _settings(drawn, "set-sled").values():  # every block that is named is planed
        named = re.search("block ([A-Z]+)", Voice("mm").said(row.using))
        assert named is None or f"block-{named[1]}" in blocks


def test_equal_ends_that_can_not_be_are_told_in_the_readers_units() -> None:
    problem = refused(layout="centre", fingers=3)
    assert "more than 39.80 mm and at most 59.60 mm wide; the board is 90 mm" in problem.says("mm")
    assert "more than 1.567 in and at most 2.346 in wide" in problem.says("in")


def test_a_clearance_with_several_passes_names_the_gap_of_the_sheet() -> None:
    """The key stands for the far cut: its gap is wider than the finger."""
    made = plan(finger=14.0, cutter=10.0, clearance=0.3)
    [problem] = [p for p in made.problems if p.where == "clearance"]
    assert made.numbers["gap"] > 14.0
    assert f"at a gap of {made.numbers['gap'] + 0.2:.2f} mm" in problem.suggests("mm")


def test_a_reading_of_the_thinnest_board_over_the_thickness_is_exchanged() -> None:
    problem = refused(thinnest=12.5)
    assert (
        problem.says("mm") == "the thinnest reading, 12.5 mm, is more than the thickness, 12 mm, which is the thickest"
    )


@pytest.mark.parametrize("clearance", [0.1, 0.2])
def test_the_test_joint_is_good_about_the_clearance_asked_for(clearance: float) -> None:
    said = _said(plan(clearance=clearance))
    least, most = clearance - 0.05, clearance + 0.05
    assert f"B less A {least:.2f} to {most:.2f}" in said


# -- several passes ------------------------------------------------------------------------------------------------


def _with_the_feed(side_of_key: str, near_to_far: list[float], cutter: float) -> list[bool]:
    """Tell of every cut whether it takes wood with the side of the bit that runs with the feed.

    Seen from above a bit in a table turns anticlockwise (common practice, no source), and the feed goes up: its left
    edge cuts against the feed, its right edge with it. A cut whose fresh wood lies to the right alone climbs. With the
    key on the right the wood reaches from the key to the left.
    """
    climbs = []
    done: list[tuple[float, float]] = []
    for gap in near_to_far:
        ahead = -1.0 if side_of_key == "right" else 1.0
        left, right = sorted((ahead * gap, ahead * (gap + cutter)))
        middle = (left + right) / 2
        fresh = [x for x in (left + (right - left) * i / 200 for i in range(1, 200)) if not _inside(x, done)]
        climbs.append(bool(fresh) and bool(done) and min(fresh) > middle - cutter * 0.49 and max(fresh) > middle)
        done.append((left, right))
    return climbs


def _inside(x: float, spans: list[tuple[float, float]]) -> bool:
    return any(low <= x <= high for low, high in spans)


@FROM_ABOVE.of(passes.cuts)
@pytest.mark.parametrize("key_side", ["right", "left"])
@pytest.mark.parametrize("machine", ["router table", "table saw"])
@pytest.mark.parametrize("count", [2, 3, 4])
def test_blocks_card_and_order_give_every_cut_the_same_shims(key_side: str, machine: str, count: int) -> None:
    """And no bit cuts with the feed: followed from above, by the gaps that the card gives."""
    cutter = {2: 6.0, 3: 4.0, 4: 3.2}[count]
    drawn = plan(finger=10.0, cutter=cutter, board=95.0, key_side=key_side, machine=machine)
    assert drawn.numbers["passes"] == count
    card = [row for name, row in _settings(drawn, "cut-fingers").items() if name.startswith("cut-")]
    shown = [_value(row) for row in card]
    whole = [cut.gap for cut in passes.cuts(_passes_of(drawn), machine, key_side)]  # type: ignore[arg-type]
    gaps = whole if len(card) == count else shown
    assert [round(gap, 2) for gap in gaps][: len(shown)] == pytest.approx(shown, abs=0.006)
    if machine == "router table":
        assert not any(_with_the_feed(key_side, gaps, cutter))
        assert any(_with_the_feed(key_side, gaps[::-1], cutter)), "the model can tell"
    shift = (10.1 - cutter) / (count - 1)
    far = max(gaps)
    for row, gap in zip(card, gaps, strict=True):
        shims = round((far - gap) / shift)
        words = "no shim" if not shims else "1 shim" if count == 2 else f"{shims} of {count - 1} shims"
        assert row.using == words, row
    shim = _settings(drawn, "make-sled")["shim"]
    assert _value(shim) == pytest.approx(shift, abs=0.006)
    assert Voice("mm").said(shim.what).startswith("Shim," if count == 2 else f"Shims, {count - 1} alike")
    said = _said(drawn)
    first = "bare key" if gaps[0] == far else "shim"
    assert f"Against the {first}: front, back, spacer. Against the spacer: ends and backing" in said


def _passes_of(drawn: Plan) -> passes.Passes:
    gaps = tuple(drawn.numbers["pass_gaps"])
    return passes.Passes(len(gaps), gaps[1] - gaps[0], 0.0, gaps)


@pytest.mark.parametrize("key_side", ["right", "left"])
def test_a_shim_goes_in_where_it_is_drawn(key_side: str) -> None:
    """It is no higher than the key, lies between key and bit clear of the hole, and ends at the blocks."""
    drawn = plan(finger=10.0, cutter=4.0, board=95.0, key_side=key_side, whole=True)
    parts = _parts(drawn, "plate")
    shims, key, near, far = (parts[name] for name in ("shims", "key", "end-block-near", "end-block-far"))
    hole = parts["cutter"]
    assert shims.width == pytest.approx(2 * 3.05)
    assert (near.top, far.bottom) == pytest.approx((key.bottom, key.top))
    assert (shims.right if key_side == "right" else shims.left) == pytest.approx(
        key.left if key_side == "right" else key.right
    )
    assert (near.left, near.right) == pytest.approx(
        (min(shims.left, key.left - 6.1), max(shims.right, key.right + 6.1))
    )
    assert shims.left > hole.right + 1.0 if key_side == "right" else shims.right < hole.left - 1.0
    section = _parts(drawn, "section")
    assert section["section-shims"].top == pytest.approx(section["section-key"].top)
    assert section["section-shims"].width == pytest.approx(2 * 3.05)


# -- heights of the cutter -----------------------------------------------------------------------------------------


@STEP_BY_STEP.of("sled")
@pytest.mark.parametrize(("sides", "ends"), [(9.6, 8.9), (8.9, 9.6), (12.0, 12.0), (12.0, 12.05)])
def test_every_board_is_cut_as_deep_as_its_mate_is_thick(sides: float, ends: float) -> None:
    """Put together as solids: the mate fills the socket and the finger stands proud by what was asked for.

    The depth a board is cut to is that of the last run which it is part of.
    """
    made = plan(thickness=sides, thinnest=None, ends_thickness=ends, proud=0.3)
    depth = {"front and back": 0.0, "ends": 0.0}
    for run in made.numbers["runs"]:
        for boards in depth:
            if run["boards"] in (boards, "all boards"):
                depth[boards] = run["depth"]
    front = manifold3d.Manifold.cube([100.0, 10.0, sides]).translate([0.0, 0.0, -sides])
    socket = manifold3d.Manifold.cube([depth["front and back"], 10.0, sides]).translate([0.0, 0.0, -sides])
    end = manifold3d.Manifold.cube([ends, 10.0, 50.0]).translate([depth["front and back"] - ends, 0.0, -50.0])
    assert ((front - socket) ^ end).volume() == pytest.approx(0.0, abs=1e-9)
    outer_face_of_end = end.bounding_box()[0]
    assert outer_face_of_end == pytest.approx(0.3, abs=0.06)  # from the fingers' tips, at 0
    assert depth["ends"] - sides == pytest.approx(0.3, abs=0.06)


def test_two_thicknesses_change_the_settings_and_the_order() -> None:
    drawn = plan(thickness=9.6, thinnest=None, ends_thickness=8.9)
    first = _settings(drawn, "set-sled")["height-1"]
    second = _settings(drawn, "cut-fingers")["height-2"]
    assert (first.what, second.what) == ("Over table, run 1", "Run 2, ends")
    assert (_value(first), _value(second)) == pytest.approx((15.2, 15.9))
    said = _said(drawn)
    assert "Run 2: raise the cutter. Cut ends again at both ends, without front and back" in said
    assert f"at most {9.2 - 0.5:.2f}" in said


def test_a_slender_bit_is_raised_run_by_run_and_its_key_stays_under_the_first() -> None:
    drawn = plan(finger=5.0, cutter=5.0, board=95.0)
    assert [run["depth"] for run in drawn.numbers["runs"]] == pytest.approx([6.15, 12.3])
    assert _value(_settings(drawn, "cut-fingers")["height-2"]) == pytest.approx(18.3)
    said = _said(drawn)
    assert "Run 2: raise the cutter, cut all positions again. Lower it before the other ends" in said
    assert "Positions | 10 |" in said
    assert _parts(drawn, "section")["section-key"].top <= 6.15 - 0.5


@STEP_BY_STEP.of(runs)
@given(
    sides=st.floats(1.0, 40.0),
    ends=st.floats(1.0, 40.0),
    proud=st.floats(0.0, 1.5),
    cutter=st.floats(0.8, 20.0),
    blade=st.sampled_from([None, 250.0]),
)
def test_runs_go_down_in_steps_that_a_bit_can_take(
    sides: float, ends: float, proud: float, cutter: float, blade: float | None
) -> None:
    made = runs(sides=sides, ends=ends, proud=proud, cutter=cutter, blade=blade)
    depths = [0.0, *(run.depth for run in made)]
    assert depths == sorted(depths)
    assert depths[-1] == pytest.approx(max(sides, ends) + proud)
    if blade is None:
        assert max(b - a for a, b in pairwise(depths)) <= 2.1 * cutter + 1e-9
    for boards, mate in (("front and back", ends), ("ends", sides)):
        reached = max(run.depth for run in made if run.boards in (boards, "all boards"))
        assert -1e-9 <= reached - mate - proud <= 0.1 + 1e-9


def test_the_last_position_of_an_even_count_is_said_on_the_card() -> None:
    said = _said(plan(board=80.0))
    assert "Positions | 5 |  | last trims" in said
    assert "Cut position 5 too: no socket, but it trims a fin that holds corners open" in said
    assert "trims a fin" not in _said(plan(board=90.0))


# -- boards that keep their width ----------------------------------------------------------------------------------


KEPT: dict[str, Any] = {
    "finger": 0.375 * INCH,
    "cutter": 0.377 * INCH,
    "board": 3.875 * INCH,
    "thickness": 0.5 * INCH,
    "thinnest": None,
}


def test_a_kept_board_is_not_ripped_and_names_what_is_left_at_its_top() -> None:
    """Five fingers + five sockets of .375 in take 3.7503 in of 3.875: an eighth is left on front and back."""
    drawn = plan("in", **KEPT, layout="keep", clearance=0.1)
    said = _said(drawn, "in")
    assert _told_to_rip(said) == []
    assert "Kept, not ripped | 3.875 |" in said
    assert "a top finger of 1/8 on front" in said
    thin, even = (p for p in drawn.problems if p.where == "board")
    assert "front and back have a top finger of only 1/8 in, which breaks off easily" in thin.says("in")
    assert thin.suggests("in").startswith("centre the fingers: ")
    assert "front and back have 5 fingers + 5 sockets and a narrow finger at the top" in even.says("in")
    assert (drawn.numbers["fingers"], drawn.numbers["sockets"], drawn.numbers["count"]) == (5, 5, 10)
    assert drawn.numbers["steps"] == 6
    stick = next(template.view for template in drawn.sheets.templates if template.view.name == "stick-front")
    assert [label.words for label in stick.labels][:5] == ["1", "2", "3", "4", "5"]
    assert stick.check is not None
    assert stick.check.value / INCH == pytest.approx(3.875)


def test_a_kept_board_that_is_a_hair_too_wide_is_an_even_one() -> None:
    """89.7 of 89.68: what ripping may be out by is no strip of its own."""
    made = plan(cutter=10.02, board=89.7, layout="keep")
    assert not [p for p in made.problems if p.where in ("board", "fingers")]
    assert "a top finger of" not in _said(made)


def test_a_bit_too_slender_for_the_deeper_boards_alone_is_told() -> None:
    """Ends of 6 and sides of 20 with a bit of 3.2: one run for all, three more of the ends, 20.3 of 3.2 is 6.34."""
    made = plan(finger=20.0, cutter=3.2, board=92.0, thickness=20.0, thinnest=None, ends_thickness=6.0)
    assert [run["boards"] for run in made.numbers["runs"]] == ["all boards", "ends", "ends", "ends"]
    told = {p.where: p for p in made.problems}
    assert "6.34 times the cutter" in told["cutter"].says("mm")
    assert told["ends thickness"].suggests("mm").startswith("plane all boards to 6 mm")
    assert "so the sockets take 4 runs" in told["ends thickness"].says("mm")


def test_boards_cut_separately_are_planed_and_not_sawn_once_jointed() -> None:
    said = _said(plan(method="separately"))
    assert "Plane to 89.50 by hand, never saw: no strip stays above a top socket" in said
    assert "Rip after" not in said
    assert "Positions | 5 |" in said
    assert "Then the next board, the gap untouched" in said


@pytest.mark.parametrize("layout", ["keep", "centre"])
def test_no_sheet_tells_to_rip_a_board_that_is_kept(layout: str) -> None:
    assert _told_to_rip(_said(plan(board=95.0, layout=layout))) == []


def _told_to_rip(said: str) -> list[str]:
    """Return what tells to rip, but for the ways out that a warning offers."""
    found = [words for words in said.split(" | ") if re.search("rip (boards )?to|then rip", words.lower())]
    return [words for words in found if "Mend it" not in words]


# -- boards on end: one rule for a sled and for a box --------------------------------------------------------------

BOX = """units = "{units}"
[box]
length = {length}
width = {width}
height = 90
[sides]
thickness = 12
[joint]
finger = 10
cutter = 10
"""


def on_end_in_a_box(length: str, width: str) -> list[Problem]:
    worked = chain.work_out(reading.read(BOX.format(units="mm", length=length, width=width), "box.toml"))
    return [problem for problem in worked.problems if "stand on end" in problem.rule]


@pytest.mark.parametrize("length", [501.0, 600.0, 620.0, 700.0, 2000.0])
def test_long_boards_are_said_alike_of_a_sled_and_of_a_box(length: float) -> None:
    """Six tenths of the board: a board of 700 wants 420 (common practice, no source)."""
    of_sled = warned("length", length=length)
    [of_box] = on_end_in_a_box(f"{length}", "160")
    [of_wide_box] = on_end_in_a_box("160", f"{length}")
    for problem in (of_sled, of_box, of_wide_box):
        assert problem.severity == "warning"
        assert problem.says("mm") == (
            f"boards of {length:g} mm stand on end to be cut: over 500 mm long, they can tip the carriage or meet the "
            "ceiling"
        )
        assert problem.suggests("mm").startswith(f"make the upright {math.ceil(length * 0.6)} mm high or more")
    assert (of_box.where, of_wide_box.where) == ("box.length", "box.width")


@pytest.mark.parametrize("length", [None, 150.0, 500.0])
def test_boards_that_stand_safely_are_not_spoken_of(length: float | None) -> None:
    assert not [problem for problem in plan(length=length).problems if problem.where == "length"]
    assert on_end_in_a_box(f"{length or 240}", "160") == []


def test_the_carriage_that_is_drawn_is_as_high_as_the_warning_asks() -> None:
    """The card's piece A, against the rule of six tenths."""
    said = _said(plan(length=700.0))
    assert re.search(r"A \| upright \| \d+ \| 420 \| 18", said)


def test_a_length_out_of_the_sleds_limits_is_refused() -> None:
    assert "10 mm to 2000 mm; it is 2001 mm" in refused(length=2001.0).says("mm")
