"""Handles with three holes: by hand, measured by shapely, drilled as solids; their rules and their pages."""

from __future__ import annotations

import itertools
import json
import math
import re
from pathlib import Path as File
from typing import Any

import manifold3d
import pytest
import shapely
from click.testing import CliRunner
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.geometry.base import BaseGeometry

import cli
from jigs.base.catalogue import Plan, find
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import made_of, settings_of
from jigs.base.usual import LEAST_WEB
from jigs.base.wording import on_paper, read_out
from jigs.boxfile import reading, units
from jigs.boxfile.sections import HandleSection
from jigs.parts.handle import bench, middle_rules, outline, screws
from jigs.parts.handle import card as handle_card
from jigs.parts.handle import rules as handle_rules
from jigs.parts.handle.in_box import HandlePart
from jigs.parts.handle.part import Handle, settled
from jigs.trade import handle as arithmetic
from jigs.trade.handle import EndHoles
from jigs.trade.hole import Hole
from layout.write import svg
from tests import refusals, seen
from tests.boxes import METRIC, worked
from tests.outside import Check, agree
from tests.test_handle import FILES, SAMPLES, arcs_of, shapes_of

BY_HAND = Check("Handle and scalloped edge", "arithmetic written out in jigs/trade/handle.py", "worked example")
SHAPELY = Check("Handle and scalloped edge", "outlines and discs measured by shapely and numpy", "reference library")
KERNEL = Check(
    "The whole box",
    "solids put together by manifold3d from the numbers of `check --json`, and looked at at a slant",
    "reference library",
)

ARCH = EndHoles(radius=20, neck=25, hole_height=25, length=144, height=60, crest=8, middle=Hole(0, 0, 20))
EYE = EndHoles(radius=20, neck=24, hole_height=25, length=160, height=60, crest=8, middle=Hole(0, 25, 20))


def handle_of(units: Units = "mm", **given: Any) -> Handle:
    """Return a handle of three holes of these settings, all others as usual, whatever the limits."""
    given = {"saw": 38.6, "holes": 3} | given
    values = {one.name: given.get(one.name, one.default_in(units)) for one in settings_of(HandleSection)}
    return settled(made_of(HandleSection, values), units)


def planned(units: Units = "mm", **asked: Any) -> Plan:
    return find("handle").plan({"saw": 38.6, "holes": 3} | asked, units)


def problems(**asked: Any) -> list[Problem]:
    return refusals.problems(lambda: planned(**asked))


# -- by hand -------------------------------------------------------------------------------------------------------


@BY_HAND.of(EndHoles, arithmetic.half_between)
def test_an_arch_by_hand() -> None:
    """Worked values: 20 + 20 + 25 = 65 on the line of centres, 25 up, so 60 aside (5-12-13); the end is 12 beyond.

    The chord there is 2·√(20² − 12²) = 32 (3-4-5). The crest: (72² + 8²)/16 = 328 about 268 below the base; from
    there to the hole's centre √(60² + 293²) = 299.08.
    """
    agree(arithmetic.half_between(radius=20, neck=25, hole_height=25, middle=Hole(0, 0, 20)), 40, unit="mm")
    agree(arithmetic.half_between(radius=20, neck=24, hole_height=25), 12, unit="mm")
    agree((ARCH.centre_offset, ARCH.between, ARCH.inside_end), (60, 40, 12), unit="mm")
    agree((ARCH.chord, *ARCH.cusps), (32, 9, 41), unit="mm")
    agree((ARCH.opening, ARCH.foot, ARCH.grip_depth), (40, 52, 32), unit="mm")
    agree((ARCH.thinnest_neck, ARCH.base, ARCH.horn_tip), (25, 5, 11), unit="mm")
    agree((ARCH.crest_radius, ARCH.middle_to_crest), (328, 40), unit="mm")
    agree((ARCH.hole_to_crest, ARCH.over_holes), (8.92, 8.92), 5e-3, unit="mm")
    agree(ARCH.least_wood, 5, unit="mm")
    assert [hole.x for hole in ARCH.row] == [-60, 0, 60]


@BY_HAND.of(EndHoles)
def test_an_eye_by_hand() -> None:
    """Worked values: all centres level, 20 + 24 + 20 apart; over the eye 60 − 45, under it 5."""
    agree((EYE.centre_offset, EYE.between, EYE.opening), (64, 44, 0), unit="mm")
    agree((EYE.thinnest_neck, EYE.base, EYE.middle_to_crest), (24, 5, 15), unit="mm")
    low = EndHoles(radius=20, neck=24, hole_height=25, length=140, height=60, crest=8, middle=Hole(0, 13, 10))
    agree(low.base, 3, unit="mm")  # under the eye: 13 − 10


@BY_HAND.of(Hole)
def test_one_hole_by_hand() -> None:
    """Triples 3-4-5: a hole of radius 5, its centre 3 below the base, opens 8 of it."""
    agree(Hole(0, -3, 5).opening, 8, unit="mm")
    assert Hole(0, 4.9, 5).opens
    assert not Hole(0, 5, 5).opens
    agree(Hole(0, 0, 5).apart(Hole(12, 5, 5)), 3, unit="mm")  # 5-12-13, less both radii
    agree(Hole(10, 9, 5).above_base(13), 5, unit="mm")  # 3 aside: the rim is 4 below the centre
    agree(Hole(10, 1, 5).above_base(13), 0, unit="mm")  # open there
    agree(Hole(10, 12, 5).beside(1, 0.0001), 10, 1e-4, unit="mm")  # 9-12-15 from the base
    agree(Hole(10, 12, 5).beside(1, 20), 4, unit="mm")  # level with the centre
    agree(Hole(0, -3, 5).beside(10, 20), 6, unit="mm")  # to the corner of the arch, 4 from its middle
    with pytest.raises(ValueError, match="at is 16; it must be under the hole, within 5 of 10"):
        Hole(10, 9, 5).above_base(16)


@BY_HAND.of(EndHoles)
def test_where_a_screw_stands_beside_the_middle_hole() -> None:
    """Worked values: between 20 and 40 all goes up, 10 on either side of 30. With 11 asked for, a bite of 15 is met
    where x = √((60 − x)² + 10²), at 3700/120."""
    agree(ARCH.screw_beside_middle(15, 10), 30, unit="mm")
    agree(ARCH.wood_beside_screw(30, 15), 10, unit="mm")
    agree(ARCH.wood_over_screw(30), ARCH.crest_height(30), unit="mm")
    agree(ARCH.screw_beside_middle(15, 11), 3700 / 120, unit="mm")
    agree(ARCH.wood_over_screw(10), 0, unit="mm")  # in the arch
    agree(EYE.wood_over_screw(12), 25 - 16, unit="mm")  # under the eye
    with pytest.raises(ValueError, match="middle is none"):
        EndHoles(20, 24, 25, 90, 60, 8).screw_beside_middle(15, 6)
    with pytest.raises(ValueError, match="bite is 0"):
        ARCH.screw_beside_middle(0, 6)


@BY_HAND.of(EndHoles)
def test_where_a_screw_stands_beside_an_arch_of_an_inch_or_two() -> None:
    """Worked values (1 a unit). Arch of 1, centre 0.6 up: widest above the base, 1; 2.6 − 1 − 0.6 to the end hole,
    1 up, so 2.4 aside (5-12-13), 1.4 to its rim: 1.2. Centre 0.6 under the base: the arch is 0.8 at the base (3-4-5);
    1.6 up and 3 aside (8-15-17), 2 to the rim: 1.4."""
    above = EndHoles(radius=1, neck=0.6, hole_height=1.6, length=6, height=4, crest=0.2, middle=Hole(0, 0.6, 1))
    agree((above.between, above.screw_beside_middle(0.5, 0.2)), (1.4, 1.2), unit="")
    below = EndHoles(radius=1, neck=1.4, hole_height=1, length=7, height=4, crest=0.2, middle=Hole(0, -0.6, 1))
    agree((below.between, below.screw_beside_middle(0.5, 0.5)), (2, 1.4), unit="")
    agree(below.foot, 3.5 - 0.8, unit="")  # narrowest at the base, where the arch is widest


@BY_HAND.of(EndHoles)
def test_the_neck_where_the_line_of_centres_leaves_the_handle() -> None:
    """Worked values. Arch of 5, centre 4 under the base, its corners 3 from the middle (3-4-5).

    10 up and 10.5 aside (20-21-29) its rim on the line is under the base, so it is measured from the corner; 15 up and
    8 aside (8-15-17) it is above, and the neck is what was asked for. A hole of 2.5 whose centre is 2.4 beyond the end
    is 1.4 high there (7-24-25): with the middle hole 5 under or over it the nearest wood is at the cusp on that side.
    """
    corner = EndHoles(radius=2, neck=7.5, hole_height=6, length=24, height=20, crest=2, middle=Hole(0, -4, 5))
    agree(corner.thinnest_neck, math.hypot(7.5, 6) - 2, unit="mm")
    both = EndHoles(radius=2, neck=7.5, hole_height=6, length=17.6, height=20, crest=2, middle=Hole(0, -4, 5))
    agree(both.inside_end, -1.7, unit="mm")  # from the corner the hole is met beyond the end: so to the cusp
    agree(both.thinnest_neck, math.hypot(8.8 - 3, 6 - math.sqrt(2**2 - 1.7**2)), unit="mm")
    rim = EndHoles(radius=2, neck=10, hole_height=11, length=18, height=20, crest=2, middle=Hole(0, -4, 5))
    agree((rim.between, rim.thinnest_neck), (6, 10), unit="mm")
    for up, k in itertools.product((-5, 5), (1, 0.1)):  # in mm, and as small as inches are
        middle = Hole(0, (15 - up) * k, 3 * k)
        end = EndHoles(2.5 * k, 7.5 * k, 15 * k, 19.2 * k, 40 * k, 2 * k, middle=middle)
        agree((end.inside_end, end.chord), (-2.4 * k, 1.4 * k), unit="")
        agree(end.thinnest_neck, (math.hypot(9.6, 4.3) - 3) * k, unit="")


@BY_HAND.of(EndHoles)
def test_a_foot_ends_at_the_lower_cusp() -> None:
    """Worked values: the end is open from 0.6 to 5.4 (7-24-25), so the arch, 3 up, is nearest to the lower cusp."""
    found = EndHoles(radius=2.5, neck=4.5, hole_height=3, length=25.4, height=20, crest=2, middle=Hole(0, 3, 5))
    agree(found.cusps, (0.6, 5.4), unit="mm")
    agree(found.foot, math.hypot(12.7, 2.4) - 5, unit="mm")


@BY_HAND.of(arithmetic.half_between)
def test_end_holes_over_a_small_middle_one_keep_their_own_neck() -> None:
    """Worked values (inches): 2 over a middle hole whose rim is 0.5 up, they are 0.2 from one another."""
    agree(arithmetic.half_between(radius=0.5, neck=0.2, hole_height=3, middle=Hole(0, 1, 0.5)), 0.1, unit="in")


def test_a_middle_hole_stands_in_the_middle() -> None:
    for aside in (-0.5, 0.5, 3):
        with pytest.raises(ValueError, match=f"middle is {aside}"):
            EndHoles(20, 24, 25, 150, 60, 8, middle=Hole(aside, 0, 20))
    with pytest.raises(ValueError, match="middle is 0"):
        EndHoles(20, 24, 25, 150, 60, 8, middle=Hole(0, 0, 0))


@BY_HAND.of("handle")
def test_what_is_left_open_is_worked_out() -> None:
    """Worked values. Arch of 38.6: √(62.6² − 25.3²) = 57.26; ends 0.7 · 19.3 = 13.51 beyond; blank 24.3 below the base.

    An eye as high as the ends where its saw is no larger; with 51.4 it is 25.7 + 6 up, and 6 are over it.
    """
    arch, eye, large = handle_of(), handle_of(middle="eye"), handle_of(middle="eye", middle_saw=51.4)
    agree(arch.holes.centre_offset, 57.2597, 1e-3, unit="mm")
    agree((arch.length, arch.blank_length), (141.5393, 163.1193), 1e-3, unit="mm")
    agree((arch.height, arch.below, arch.blank_height), (55.6, 24.3, 79.9), unit="mm")
    agree((eye.holes.centre_offset, eye.middle_height, eye.below), (62.6, 25.3, 0), unit="mm")
    agree((large.middle_height, large.height), (31.7, 63.4), unit="mm")
    ends, middle = arch.drillings
    agree((ends.fence, ends.stop, middle.fence, middle.stop), (49.6, 24.3, 24.3, 81.5596), 1e-3, unit="mm")
    assert (ends.holes, middle.holes) == ((3, 1), (2,))
    assert [one.fence for one in eye.drillings] == [eye.hole_height] * 2  # one setting of the fence


# -- measured ------------------------------------------------------------------------------------------------------

ROWS = {
    "saw": st.floats(16, 60),
    "share": st.floats(0.4, 1.7),
    "base": st.floats(1, 20),
    "neck": st.floats(5, 60),
    "cut": st.floats(0.05, 0.95),
    "over": st.floats(-4, 30),
    "crest": st.floats(1, 12),
    "up": st.none() | st.floats(0, 1),
    "middle": st.sampled_from(["arch", "eye"]),
}


def drawn(saw: float, share: float, cut: float, over: float, up: float | None, **given: Any) -> Handle | None:
    """Return a handle of three holes, its middle hole as high as `up` says; None where a rule stops it."""
    half = share * saw / 2
    heights = (-0.95 * half, 0.95 * half) if given["middle"] == "arch" else (half + 0.5, half + 30)
    height = None if up is None else heights[0] + up * (heights[1] - heights[0])
    made = handle_of(saw=saw, middle_saw=2 * half, middle_height=height, **given)
    length = made.reach[0] + 2 * saw * cut
    made = handle_of(
        saw=saw, middle_saw=2 * half, middle_height=height, length=length, height=made.height + over, **given
    )
    return handle_rules.HANDLE.judge(made, [])


@SHAPELY.of("handle", EndHoles, Hole)
@settings(max_examples=80)
@given(**ROWS)
def test_formulas_and_the_measured_outline_agree(**row: Any) -> None:
    """Shapely measures the outline that is drawn; the formulas know nothing of it."""
    made = drawn(**row)
    assume(made)
    assert made
    holes, eye = made.holes, outline.eye(made.holes)
    found = outline.measured(outline.outline(holes), eye)
    within = 0.01  # twice the chord error and the last digit, mm
    agree(found.neck, holes.thinnest_neck, within, unit="mm")
    assert holes.thinnest_neck >= made.neck - 1e-6  # what is asked for is kept between all holes
    agree(found.base, holes.base, within, unit="mm")
    agree(found.horn_tip, holes.horn_tip, within, unit="mm")
    agree(found.hole_to_crest, holes.hole_to_crest, within, unit="mm")
    agree(found.middle_to_crest, holes.middle_to_crest, within, unit="mm")
    agree(found.least, holes.least_wood, within, unit="mm")
    if made.arched:
        agree(found.foot, holes.foot, within, unit="mm")
    half, ends = made.length / 2, made.height - made.crest
    left: BaseGeometry = shapely.Point(0, made.height - holes.crest_radius).buffer(holes.crest_radius, 2048)
    left = (left & shapely.box(-half, ends, half, made.height)) | shapely.box(-half, 0, half, ends)
    for hole in holes.row:
        left -= shapely.Point(hole.x, hole.y).buffer(hole.radius, 512)
    shape: BaseGeometry = shapely.Polygon(outline.outline(holes).points(0.001))
    shape -= shapely.Polygon(eye.points(0.001)) if eye else shapely.Polygon()
    agree(shape.symmetric_difference(left).area / shape.area, 0, 1e-3, unit="of the area")


@SHAPELY.of(EndHoles)
@settings(max_examples=60)
@given(bite=st.floats(5, 40), keep=st.floats(2, 30), **ROWS)
def test_a_screw_stands_where_most_wood_is_beside_it(bite: float, keep: float, **row: Any) -> None:
    """Shapely measures its line to the discs and the end, at its own place and at places all along the base."""
    made = drawn(**row)
    assume(made)
    assert made
    holes, half = made.holes, made.length / 2
    face = shapely.box(-1e3, 0, 1e3, 1e3)
    discs = [shapely.Point(hole.x, hole.y).buffer(hole.radius, 256) & face for hole in holes.row]

    def beside(at: float, deep: float) -> float:
        line = shapely.LineString([(at, 0), (at, deep)])
        return min([half - at, *(line.distance(disc) for disc in discs[1:])])

    at = holes.screw_beside_middle(bite, keep)
    assert holes.opening / 2 <= at <= half
    agree(max(0.0, holes.wood_beside_screw(at, bite)), min(x.distance(_line(at, bite)) for x in discs), 0.01, unit="mm")
    if holes.between - holes.middle.radius >= 2 * keep:  # type: ignore[union-attr]  # there is one
        # All the way up, and nowhere is there more on both sides.
        assert beside(at, made.height) >= keep - 0.01
        best = max(beside(x * half / 200, made.height) for x in range(201))
        assert beside(at, made.height) >= best - 0.01
    elif made.arched:
        most = max(beside(x * half / 200, bite) for x in range(201))
        assert beside(at, bite) >= min(most - 0.01, 1.5 * LEAST_WEB)  # where there is plenty, more is nothing


def _line(at: float, bite: float) -> shapely.LineString:
    return shapely.LineString([(at, 0), (at, bite)])


@KERNEL.of("handle")
@settings(max_examples=12)
@given(**ROWS)
def test_drilled_as_the_card_says_the_handle_is_the_outline(**row: Any) -> None:
    """A kernel for solids drills the blank at fence and stop, turns it end for end, rips, trims and saws the crest."""
    made = drawn(**row)
    assume(made)
    assert made
    long, high, thick = made.blank_length, made.blank_height, made.thickness
    blank = manifold3d.Manifold.cube((long, high, thick))  # x from the left end, y from the fence
    for one in made.drillings:
        saw = manifold3d.Manifold.cylinder(thick + 2, one.radius, circular_segments=512)
        for x in {long - one.stop, one.stop}:  # the same end at the stop, and the other
            assert one.radius <= min(one.fence, high - one.fence, one.stop) + 1e-9  # wholly in wood
            blank -= saw.translate((x, one.fence, -1))
    handle = blank.translate((-long / 2, -made.below, 0))
    handle ^= manifold3d.Manifold.cube((made.length, high, thick)).translate((-made.length / 2, 0, 0))
    crest = made.holes.crest_radius
    round_ = manifold3d.Manifold.cylinder(thick, crest, circular_segments=8192)
    below = manifold3d.Manifold.cube((made.length, made.height - made.crest, thick)).translate((-made.length / 2, 0, 0))
    handle ^= round_.translate((0, made.height - crest, 0)) + below
    rings = [outline.outline(made.holes).points(0.001)]
    eye = outline.eye(made.holes)
    if eye:
        rings.append(eye.points(0.001))
    section = manifold3d.CrossSection([[tuple(p) for p in ring[:-1]] for ring in rings], manifold3d.FillRule.EvenOdd)
    shape = section.extrude(thick)
    off = (handle - shape).volume() + (shape - handle).volume()
    agree(off / shape.volume(), 0, 1e-3, unit="of the volume")


@SHAPELY.of("handle")
@settings(max_examples=40)
@given(**ROWS)
def test_a_pilot_drill_of_three_marks_nothing(**row: Any) -> None:
    """Shapely lays a drill of 1/4 in on the blank, on each core and on the finished face."""
    made = drawn(**row)
    assume(made)
    assert made
    blank = shapely.box(-made.blank_length / 2, -made.below, made.blank_length / 2, made.top)
    shape: BaseGeometry = shapely.Polygon(outline.outline(made.holes).points(0.004))
    eye = outline.eye(made.holes)
    shape -= shapely.Polygon(eye.points(0.004)) if eye else shapely.Polygon()
    for one, hole in zip(made.drillings, (made.holes.row[-1], made.holes.row[1]), strict=True):
        drill = shapely.Point(hole.x, hole.y).buffer(25.4 / 8, 64)
        core = shapely.Point(hole.x, hole.y).buffer(max(hole.radius - 2, 0.01), 64)
        assert one.pilot.stays == (blank.contains(drill) and core.buffer(1e-9).contains(drill))
        assert not one.pilot.stays or drill.intersection(shape).area == 0


# -- rules ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("asked", "severity", "where", "says", "suggests"),
    [  # limits: common practice, no source; the rest is geometry
        (
            {"middle_height": 30.0},
            "stop",
            "middle_height",
            "an arch of 38.6 mm with its centre 30 mm above the base does not open at the base",
            'set its centre 13.64 mm high or lower; or make it an eye: middle is "eye"',
        ),
        (
            {"middle_height": -25.0},
            "stop",
            "middle_height",
            "an arch of 38.6 mm with its centre −25 mm above the base misses the handle",
            "set its centre 0 mm high",
        ),
        (
            {"middle": "eye", "middle_height": 10.0},
            "stop",
            "middle_height",
            "an eye of 38.6 mm with its centre 10 mm above the base cuts through the base",
            'set its centre 23.3 mm high or higher; or make it an arch: middle is "arch"',
        ),
        (
            {"middle": "eye", "middle_height": 21.0, "middle_saw": 38.7},
            "warning",
            "middle_height",
            "1.65 mm of wood under the eye will break",
            "set its centre 23.35 mm high or higher",
        ),
        (
            {"middle_height": 17.0},
            "warning",
            "middle_height",
            "the arch undercuts the feet to tips of 28°, which will splinter; 45° is the limit",
            "set its centre 13.64 mm high or lower",
        ),
        (
            {"saw": 30.1, "base": 30.0, "neck": 8.0, "middle_saw": 60.1, "length": 62.0},
            "warning",
            "length",
            "beside the arch will not stand; 15 mm is needed",
            "make the neck 36.1 mm or more",
        ),
        (
            {"saw": 30.1, "base": 30.0, "neck": 8.0, "middle_saw": 60.1, "length": 39.0},
            "stop",
            "length",
            "an arch 60.1 mm wide cuts through the ends of a handle 39 mm long",
            "",
        ),
        (
            {"middle": "eye", "middle_saw": 60.1, "height": 66.5},
            "stop",
            "height",
            "with 0.4 mm of wood over its holes; 3 mm is needed",
            "make it 70.1 mm high",
        ),
        (
            {"length": 160.0},
            "stop",
            "length",
            "holes of 38.6 mm with a neck of 24 mm between them do not cut the ends of a handle 160 mm long",
            "make it 114.52 mm to 141.53 mm long",
        ),
        ({"neck": -3.0}, "stop", "neck", "the holes meet", "make the neck 18 mm or more"),
        ({"neck": 12.0}, "warning", "neck", "a neck of 12 mm between the holes may break", "18 mm or more"),
        (
            {"middle_saw": 50.0},
            "note",
            "middle_saw",
            "the hole is entered as 50 mm, like a size marked on a hole saw",
            "drill a hole in scrap, measure it",
        ),
        (
            {"holes": 2, "middle_saw": 51.4},
            "note",
            "middle_saw",
            "a second saw of 51.4 mm is for a hole in the middle, and the handle has two holes",
            "make it 3 holes, or leave the key out",
        ),
        (
            {"holes": 2, "middle_height": 4.0},
            "note",
            "middle_height",
            "a centre at 4 mm is for a hole in the middle",
            "make it 3 holes",
        ),
        (
            {"neck": 9.0},
            "warning",
            "bite",
            "screws that go 15 mm in come within 0.1 mm of the holes; 4 mm is needed",
            "let them go 4.94 mm in or less, or make the neck 16.03 mm or more",
        ),
        (
            {"neck": 2.0, "middle": "eye", "bite": 30.0},
            "stop",
            "bite",
            "screws that go 30 mm in come out in the holes",
            "make the neck 12 mm or more",
        ),
        (
            {"middle": "eye", "saw": 8.1, "neck": 3.0, "shank": 6.0, "root": 4.2},
            "stop",
            "neck",
            "the heads of the screws meet: they are 12 mm wide and stand 11.1 mm apart in a neck of 3 mm",
            "make the neck 3.9 mm or more",
        ),
        (
            {"screws": 4, "thickness": 14.0, "shank": 4.0},
            "stop",
            "screws",
            "the heads of screws side by side meet: they are 8 mm wide and stand 7 mm apart in a handle 14 mm thick",
            "make the handle 16 mm thick or more, or use 2 screws",
        ),
        (
            {"screws": 4},
            "warning",
            "shank",
            "screws with a shank of 4 mm side by side will split a handle 22 mm thick; a sixth of it is the limit",
            "use a shank of 3.66 mm or less, or make the handle 24 mm thick or more, or use 2 screws",
        ),
        (
            {"screws": 3},
            "stop",
            "screws",
            "3 screws do not stand alike on both sides of the middle",
            "use 2 screws, or use 4 screws",
        ),
        (
            {"bite": 52.0},
            "stop",
            "bite",
            "screws that go 52 mm into 54.7 mm of wood leave too little above them",
            "let them go 50.78 mm in or less",
        ),
    ],
)
def test_every_rule_of_three_holes_says_what_would_work(
    asked: dict[str, Any], severity: str, where: str, says: str, suggests: str
) -> None:
    found = [problem for problem in problems(**asked) if problem.where == where]
    texts = [(problem.severity, problem.says("mm"), problem.suggests("mm")) for problem in found]
    assert any(s == severity and says in told and suggests in works for s, told, works in texts), texts


@pytest.mark.parametrize("middle", ["arch", "eye"])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_usual_handle_of_three_holes_has_nothing_to_be_said(middle: str, units: Units) -> None:
    saw = 38.6 if units == "mm" else 1.52 * 25.4
    assert planned(units, saw=saw, middle=middle).problems == ()
    four = {"screws": 4, "thickness": 25.4}
    assert planned(units, saw=saw, middle=middle, **four).problems == ()


@SHAPELY.of("handle")
@settings(max_examples=40)
@given(**ROWS)
def test_a_foot_that_is_too_narrow_is_told(**row: Any) -> None:
    """Shapely measures the feet: pieces of the base line in the wood, and what is level beside the arch."""
    made = drawn(**row | {"middle": "arch"})
    assume(made)
    assert made
    end = shapely.LineString([(made.length / 2, 0), (made.length / 2, made.holes.cusps[0])])
    assert made.middle
    disc = shapely.Point(0, made.middle.y).buffer(made.middle.radius, 512)
    foot = (disc & shapely.box(-1e3, 0, 1e3, 1e3)).distance(end)
    told = [p for p in middle_rules.WARNINGS[2](made) if "will not stand" in p.rule]
    assert bool(told) == (foot < middle_rules.LEAST_FOOT) or abs(foot - middle_rules.LEAST_FOOT) < 0.03


# -- screws --------------------------------------------------------------------------------------------------------


def test_screws_of_three_holes_stand_beside_the_middle() -> None:
    """Worked values: the eye's necks are 19.3 to 43.3 from the middle, so 31.3; four stand half the thickness apart."""
    made = handle_of(middle="eye", screws=4, thickness=26.0)
    found = screws.through(made, None)
    assert found.places == pytest.approx((-31.3, 31.3))
    assert found.sides == pytest.approx((-6.5, 6.5))
    assert found.count == 4
    assert found.spacing == pytest.approx(62.6)
    words = seen.said(planned(middle="eye", screws=4, thickness=26.0).sheets.cards[0])
    assert "Four screws" in words
    assert "Prick all holes" in words


@BY_HAND.of("handle")
def test_holes_for_screws_side_by_side_leave_the_lid_room() -> None:
    """13 apart across the grain, the lid moves by its share of that: so much wider than 4.3. Along it, slots do."""
    along, across = (screws.through(handle_of(screws=4, thickness=26.0, across=way), None) for way in (False, True))
    agree(along.screws.hole, 4.3 + 13 * along.screws.swelling, unit="mm")
    agree(across.screws.hole, 4.3, unit="mm")
    agree(across.slot, across.spacing * across.screws.swelling, unit="mm")


@BY_HAND.of("handle")
def test_feet_across_a_crown_are_flattened_each() -> None:
    """By hand: R = (160²/4 + 6²)/(2 × 6) = 536.33; 141.54 rise 4.690, the arch's 38.6 of it 0.347: 4.342 is left."""
    changes = {"handle__holes": "3", "handle__length": "141.54", "handle__across": "true"}
    made = worked((SAMPLES / "recipe-box.toml").read_text(), **changes)
    assert made.handle
    assert made.lid
    agree(screws.through(made.handle, made.lid).gap, 4.342, 2e-3, unit="mm")
    words = [read_out(one, "mm", on_paper) for one in bench.steps(made.handle, made.lid)]
    assert any("wide under each foot, 4.34 deep" in one for one in words), words


# -- pages ---------------------------------------------------------------------------------------------------------


def test_the_card_of_an_arch() -> None:
    """Worked values: 25.3 + 24.3 to the fence, half of 163.12 to the stop."""
    [card] = planned().sheets.cards
    found = seen.settings_of(card)
    assert {name: found[name] for name in ("saw", "fence", "stop", "fence-2", "stop-2", "clamps", "half")} == {
        "saw": "38.60",
        "fence": "49.6",
        "stop": "24.3",
        "fence-2": "24.3",
        "stop-2": "81.6",
        "clamps": "36.3",
        "half": "13.0",
    }
    assert "saw-2" not in found
    words = seen.said(card)
    steps = ["drill hole 3", "drill hole 1", "Hole 2 likewise: fence 24.3, stop 81.6", "Rip 24.3 off", "Trim both ends"]
    assert [words.index(step) for step in steps] == sorted(words.index(step) for step in steps)
    assert words.index("Trim both ends") < words.index("Saw the crest last")
    assert "Drill before you trim or rip: then only 50 % of the saw rim is in wood." in words
    assert "blank 163.1 × 79.9 × 22" in read_out(card.about, "mm", on_paper).replace(" mm", "")


def test_the_card_of_an_eye_with_a_second_saw() -> None:
    [card] = planned(middle="eye", middle_saw=25.3).sheets.cards
    found, words = seen.settings_of(card), seen.said(card)
    assert (found["saw-2"], found["fence"]) == ("25.30", "25.3")
    assert "fence-2" not in found
    assert "Hole 2 likewise: its saw, stop 80.2 right" in words
    assert "Rip" not in words


def test_a_pilot_drill_that_one_saw_has_no_room_for() -> None:
    words = seen.said(planned(middle="eye", middle_saw=9.9).sheets.cards[0])
    assert "pilot drill in for holes 1, 3, out for hole 2" in words
    assert "its saw, pilot drill out" in words


def test_what_pictures_measure_is_what_is_set() -> None:
    for asked in ({}, {"middle": "eye"}, {"middle_saw": 51.4}, {"middle_height": -6.0}, {"middle": "eye", "screws": 4}):
        [card] = planned(**asked).sheets.cards
        values = seen.settings_of(card)
        for view in seen.views(card).values():
            for dimension in view.dimensions:
                if dimension.setting:
                    assert float(values[dimension.setting]) == pytest.approx(dimension.value, abs=0.051), dimension


@pytest.mark.parametrize("asked", [{}, {"middle": "eye"}, {"middle_saw": 61.0}])
def test_no_clamp_stands_in_the_hole_that_is_drilled(asked: dict[str, Any]) -> None:
    made, [card] = handle_of(**asked), planned(**asked).sheets.cards
    view = seen.views(card)["from-above"]
    for part in view.parts:
        if part.name.startswith("clamp-"):
            middle = shapely.Polygon(part.covers[1].points()).centroid
            assert middle.distance(shapely.Point(0, 0)) >= made.clamp_room - 1e-6
    assert made.clamp_room == pytest.approx(max(hole.radius for hole in made.holes.row) + 17)


@FILES.of("handle")
@pytest.mark.parametrize(("middle", "heights"), [("arch", (25.3, 0.0, 25.3)), ("eye", (25.3, 25.3, 25.3))])
def test_three_holes_stand_in_the_svg_from_left_to_right(
    middle: str, heights: tuple[float, ...], tmp_path: File
) -> None:
    """Svgelements measures them: worked values 57.26 or 62.6 apart; the page stands, so that left is below."""
    _, templates = seen.composed(planned(middle=middle).sheets)
    document = svg.write(templates.sheets[1], "handle")
    found = [arcs_of(shapes_of(document, f"handle-hole-{i}", tmp_path))[0] for i in (1, 2, 3)]
    agree([arc[2] for arc in found], [19.3] * 3, 0.01, unit="mm")
    apart = [before[1] - after[1] for before, after in itertools.pairwise(found)]
    agree(apart, [57.2597 if middle == "arch" else 62.6] * 2, 0.01, unit="mm")
    base = {"arch": found[1][0], "eye": found[0][0] + 25.3}[middle]
    agree([base - arc[0] for arc in found], list(heights), 0.01, unit="mm")
    radii = {round(arc[2], 1) for arc in arcs_of(shapes_of(document, "handle-outline", tmp_path))}
    assert 19.3 in radii
    assert len(radii) == 2


@pytest.mark.parametrize("asked", [{}, {"middle": "eye"}, {"middle_saw": 51.4, "screws": 4, "thickness": 26.0}])
@pytest.mark.parametrize("units", ["mm", "in"])
def test_pages_of_three_holes_are_legible(asked: dict[str, Any], units: Units) -> None:
    sheets = planned(units, **asked).sheets
    for bundle in seen.composed(sheets, "Letter" if units == "in" else "A4", units):
        for sheet in bundle.sheets:
            assert seen.faults(sheet) == []


def test_a_box_with_an_arch_has_it_on_one_card() -> None:
    made = worked(METRIC + "[lid]\nthickness = 18\n[handle]\nsaw = 38.6\nholes = 3\n")
    assert made.handle
    cards, _ = seen.composed(handle_card.of(made.handle, made.lid), "A4", "mm")
    assert len(cards.sheets) == 1


@pytest.mark.slow
@settings(max_examples=6, derandomize=True)
@given(
    across=st.booleans(),
    count=st.sampled_from([2, 4]),
    units=st.sampled_from(["mm", "in"]),
    page=st.sampled_from(["A4", "Letter", "A3"]),
    **ROWS,
)
def test_any_three_holes_are_refused_or_legible(across: bool, count: int, units: Units, page: str, **row: Any) -> None:
    half = row["share"] * row["saw"] / 2
    asked = {name: row[name] for name in ("saw", "base", "neck", "crest", "middle")}
    asked |= {"middle_saw": 2 * half, "across": across, "screws": count}
    try:
        plan = planned(units, **asked)
    except CannotBuild as error:
        reasons = [(problem.says(units), problem.suggests(units)) for problem in error.problems]
    else:
        reasons = [("not refused", "and legible")]
        for bundle in seen.composed(plan.sheets, page, units):
            for sheet in bundle.sheets:
                assert seen.faults(sheet) == []
    assert all(says and suggests for says, suggests in reasons), reasons


# -- in a box ------------------------------------------------------------------------------------------------------


def test_json_report_and_set_ups_tell_the_middle_hole(tmp_path: File) -> None:
    file = tmp_path / "box.toml"
    file.write_text(METRIC + "[lid]\nthickness = 18\n[handle]\nsaw = 38.6\nholes = 3\nmiddle_saw = 51.4\n")
    said = CliRunner().invoke(cli.main, ["check", str(file), "--json"], catch_exceptions=False)
    found = json.loads(said.stdout)["handle"]
    assert found["holes"] == 3
    assert found["middle"] == pytest.approx({"saw": 51.4, "height": 0.0, "opening": 51.4, "ripped_off": 30.7})
    assert {"centre_offset", "chord", "rim_in_wood", "crest_radius", "least_wood", "blank_length"} <= set(found)
    made = worked(file.read_text())
    assert made.handle
    part = next(part for part in made.parts if isinstance(part, HandlePart))
    rows = {name: read_out(words, "mm") for name, words in part.rows()}
    assert rows["middle"] == "an arch of 51.40 mm, its centre 0 mm above the base"
    assert rows["feet"].endswith("51.4 mm apart")
    assert "middle hole 51.40 mm" in read_out(part.set_to(), "mm")
    drill = [(2 * one.radius, one.fence, one.stop) for one in made.handle.drillings]
    assert [name for name, _ in HandlePart.set_ups({"drill": drill})] == ["end holes", "middle hole"]
    piece = part.piece()
    assert piece.blank_width == pytest.approx(made.handle.blank_height)


def test_two_holes_are_counted_and_have_no_middle() -> None:
    numbers = find("handle").plan({"saw": 38.6}).numbers
    assert (numbers["holes"], numbers["middle"]) == (2, None)


def test_a_second_saw_is_a_tool_in_the_other_unit() -> None:
    text = METRIC + "[lid]\nthickness = 18\n[handle]\nsaw = 38.6\nholes = 3\nmiddle_saw = 51.4\n"
    made = units.box_in(reading.read(text, "box.toml"), "in")
    assert re.search(r"^middle_saw = 2$", made.text, re.M)
    assert "handle.middle_saw" in made.sold
