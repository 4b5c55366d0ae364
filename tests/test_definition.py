"""How jigs are declared and found, and how a setting out of its limits is refused."""

from __future__ import annotations

from typing import Annotated

import pytest

from jigs.base.catalogue import Plan, catalogue, find, jig
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.kinds import Choice, Count, Flag, Length
from jigs.base.lengths import Units
from jigs.base.settings import Setting, settings_of
from jigs.base.wording import near
from jigs.boxfile.sections import (
    Climate,
    GrooveSection,
    HandleSection,
    JointSection,
    LidSection,
    Panel,
    ShellSection,
    Thicknesses,
)


def test_the_catalogue_holds_every_jig_and_finds_it_by_name() -> None:
    jigs = catalogue()
    assert "sled" in jigs
    for name, found in jigs.items():
        assert find(name) is found
        assert found.parameters
        assert found.summary


def test_an_unknown_jig_suggests_a_near_one() -> None:
    with pytest.raises(CannotRead, match=r"no jig called 'slad'; did you mean 'sled'"):
        find("slad")
    with pytest.raises(CannotRead, match=r"there are: .*sled"):
        find("../etc/passwd")


def test_near_names() -> None:
    assert near("fingr", ["finger", "cutter"]) == "did you mean 'finger'?"
    assert near("zzz", ["finger", "cutter"]) == "there are: finger, cutter"


@pytest.mark.parametrize("value", [2.99, -1.0, 60.01, 1e9])
def test_a_length_out_of_its_limits_names_them_and_the_nearest(value: float) -> None:
    parameter = Setting("finger", Length("finger width", 3, 60), required=True)
    problem = parameter.problem(value, "mm")
    assert problem is not None
    assert "finger width must be from 3 mm to 60 mm" in problem.says("mm")
    assert problem.suggests("mm") == f"the nearest that works is {3 if value < 3 else 60} mm"
    assert "from 0.119 in to 2.362 in" in problem.says("in")


@pytest.mark.parametrize(
    ("value", "units", "suggests"),
    [
        (0.25, "mm", 'the nearest that works is 3 mm; "0.25 in" if inches were meant'),
        (254.0, "in", 'the nearest that works is 2.362 in; "10 mm" if millimetres were meant'),
        (2.9, "mm", "the nearest that works is 3 mm"),
        (-0.25, "mm", "the nearest that works is 3 mm"),
        (0.25, "in", "the nearest that works is 0.119 in"),
    ],
)
def test_a_length_that_fits_in_the_other_unit_is_offered_in_that_one(value: float, units: Units, suggests: str) -> None:
    problem = Setting("finger", Length("finger width", 3, 60), required=True).problem(value, units)
    assert problem is not None
    assert problem.suggests(units) == suggests


@pytest.mark.parametrize("value", [3.0, 60.0, 10.02])
def test_a_length_within_its_limits_is_fine(value: float) -> None:
    assert Setting("finger", Length("finger width", 3, 60), required=True).problem(value, "mm") is None


def test_every_setting_out_of_limits_is_named_at_once() -> None:
    with pytest.raises(CannotBuild) as refused:
        find("sled").plan({"finger": -1.0, "cutter": 1e9, "board": 90.0, "thickness": 12.0, "fingers": 1})
    assert [problem.where for problem in refused.value.problems] == ["finger", "cutter", "fingers"]


def test_defaults_follow_the_units() -> None:
    given = {"finger": 10.0, "cutter": 10.0, "board": 90.0, "thickness": 12.0}
    assert find("sled").settings(given, "mm")["plate"] == 6.0
    assert find("sled").settings(given, "in")["plate"] == 6.35
    assert find("sled").settings(given, "in")["clearance"] == pytest.approx(0.004 * 25.4)
    assert (
        find("sled").settings(given, "in")["proud"]
        == find("stops").settings({"length": 200.0, "cutter": 6.0}, "in")["proud"]
    )


def test_a_parameter_that_says_nothing_of_itself_is_refused() -> None:
    with pytest.raises(TypeError, match="width must be keyword-only and Annotated"):

        @jig("bare", title="Bare", summary="says nothing")
        def bare(*, width: float) -> Plan:
            raise AssertionError

    with pytest.raises(TypeError, match="width must be keyword-only and Annotated"):

        @jig("placed", title="Placed", summary="by position")
        def placed(width: Annotated[float, Length("width", 1, 2)]) -> Plan:
            raise AssertionError


def test_kinds_say_their_unit() -> None:
    assert [kind.unit for kind in (Length, Count, Choice, Flag)] == ["length", "count", "choice", "flag"]


# -- one declaration a setting ---------------------------------------------------------------------------------------

SECTIONS = {
    "sled": (JointSection, Thicknesses),
    "stops": (GrooveSection,),
    "panel": (Panel, Climate),
    "lid": (LidSection, Climate),
    "handle": (HandleSection,),
    "shell": (ShellSection,),
    "seasons": (Climate,),
}
"""The sections of a box file that a jig takes."""
WORKED_OUT = {
    "sled": {"board", "length"},
    "stops": {"length", "thickness", "play", "proud", "boards", "finger", "clearance", "board", "other_length"},
    "panel": {"along", "across", "groove", "sides", "depth", "from_bottom", "end_margin", "play", "stopped", "proud"},
    "lid": {"along", "across", "wall"},
    "handle": {"lid"},
    "shell": {
        *("board_length", "board_width", "thickness", "cut_depth"),
        *("groove", "groove_width", "groove_depth"),
        "mirrored",
    },
    "seasons": {"species", "width", "rings"},
}
"""What a box works out for its jigs from other sections: sizes of its boards, its joint and its groove.

And `mirrored`, which is how a pattern is drawn and no size of a box.
"""
OWN = {("panel", "thickness"), ("panel", "species"), ("lid", "species")}
"""A usual bottom where no box says one, and woods that are offered by name: the jig's own, beside the section's."""


@pytest.mark.parametrize("name", SECTIONS)
def test_a_box_can_set_all_that_its_jigs_can_and_within_the_same_limits(name: str) -> None:
    of_the_box = {setting.name: setting for section in SECTIONS[name] for setting in settings_of(section)}
    of_the_jig = {setting.name: setting for setting in find(name).parameters}
    assert set(of_the_jig) - set(of_the_box) == WORKED_OUT[name]
    assert set(of_the_box) <= set(of_the_jig)
    for key, setting in of_the_box.items():
        if (name, key) not in OWN:
            assert of_the_jig[key] == setting, key


def test_a_saw_that_a_box_takes_is_taken_by_the_jig() -> None:
    """It was refused from 120 mm on, while a box took it."""
    assert find("handle").settings({"saw": 125.0}, "mm")["saw"] == 125.0
    with pytest.raises(CannotBuild, match="from 5 mm to 200 mm"):
        find("handle").settings({"saw": 201.0}, "mm")


def test_help_says_a_usual_size_in_both_units() -> None:
    proud = next(setting for setting in find("sled").parameters if setting.name == "proud")
    assert proud.default_said == "0.3 mm, or 1/64 in for inches"
    assert proud == next(setting for setting in find("stops").parameters if setting.name == "proud")
