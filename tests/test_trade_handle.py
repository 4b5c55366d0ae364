"""The hole-saw handle against worked values, and its wood measured on the outline itself."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPoint

from jigs.trade import handle, lid
from jigs.trade.handle import EndHoles
from jigs.trade.hole import Hole
from tests.outside import Check, agree

GAUGES = Check("Handle and scalloped edge", "ASME B18.6.1, shanks of inch wood screws", "from memory")
SOLD = Check("Handle and scalloped edge", "screws chosen from a list by hand", "common practice")
BY_HAND = Check("Handle and scalloped edge", "arithmetic written out in jigs/trade/handle.py", "worked example")
SHAPELY = Check("Handle and scalloped edge", "outlines and discs measured by shapely and numpy", "reference library")

G1 = EndHoles(radius=19.3, neck=24, hole_height=25.3, length=90, height=50, crest=5)
G1B = EndHoles(radius=19.3, neck=24, hole_height=25.3, length=90, height=54, crest=5)
G2 = EndHoles(radius=0.76, neck=0.875, hole_height=1.01, length=3.5, height=2.125, crest=0.1875)


@BY_HAND.of(EndHoles, handle.chord, handle.rim_in_wood)
@pytest.mark.parametrize(
    ("found", "offset", "inside", "chord", "cusps", "rim", "crest_radius", "over", "tip", "base", "grip"),
    [  # worked values
        pytest.param(G1, 31.3, 13.7, 27.1882, (11.7059, 38.8941), 0.7512, 205, 2.7033, 6.1059, 6.0, 33, id="G1"),
        pytest.param(G1B, 31.3, 13.7, 27.1882, (11.7059, 38.8941), 0.7512, 205, 6.6431, 10.1059, 6.0, 33, id="G1b"),
        pytest.param(
            G2, 1.1975, 0.5525, 1.0437, (0.4881, 1.5319), 0.7591, 8.2604, 0.2554, 0.4056, 0.25, 1.3125, id="G2_in"
        ),
    ],
)
def test_worked_handles(
    found: EndHoles,
    offset: float,
    inside: float,
    chord: float,
    cusps: tuple[float, float],
    rim: float,
    crest_radius: float,
    over: float,
    tip: float,
    base: float,
    grip: float,
) -> None:
    given_numbers = (offset, inside, chord, *cusps, rim, crest_radius, over, tip, base, grip)
    numbers = (
        found.centre_offset,
        found.inside_end,
        found.chord,
        *found.cusps,
        found.rim_in_wood,
        found.crest_radius,
        found.hole_to_crest,
        found.horn_tip,
        found.base,
        found.grip_depth,
    )
    agree(numbers, given_numbers, 6e-5, unit="")
    assert found.least_wood == min(found.neck, found.base, found.horn_tip, found.hole_to_crest)
    assert (found.count, found.opening, found.foot, found.middle_to_crest) == (2, 0, found.length, found.height)


@BY_HAND.of(EndHoles)
def test_the_thinnest_wood_is_over_the_hole() -> None:
    agree(G1.least_wood, 2.70, 5e-3, unit="mm")  # worked value G1: too thin, though the tip has 6.1
    agree(G1B.least_wood, 6.0, unit="mm")
    agree([G1B.crest_height(at) for at in (15, 30, 45)], [53.45, 51.79, 49.0], 6e-3, unit="mm")
    higher = G1.height_that_leaves(6)
    found = EndHoles(radius=19.3, neck=24, hole_height=25.3, length=90, height=higher, crest=5)
    agree(found.hole_to_crest, 6, unit="mm")
    agree(math.ceil(higher), 54, 0.0, unit="mm")  # worked value: H 54
    # At the most that it gives, the nearest point of the crest is the corner of the end.
    highest = EndHoles(19.3, 24, 25.3, 90, G1.height_that_leaves(43.1111), 5)
    corner = math.hypot(highest.inside_end, highest.height - 5 - 25.3)
    agree(highest.hole_to_crest, corner - 19.3, 1e-3, unit="mm")


@SHAPELY.of(EndHoles, handle.chord, handle.rim_in_wood)
@settings(deadline=None)
@given(
    radius=st.floats(8, 30),
    neck=st.floats(5, 40),
    base=st.floats(1, 15),
    cut=st.floats(0.1, 0.9),
    over=st.floats(2, 25),
    rise=st.floats(0.02, 0.3),
)
def test_the_least_wood_is_that_of_the_outline(
    radius: float, neck: float, base: float, cut: float, over: float, rise: float
) -> None:
    length = neck + 4 * radius * cut
    crest = rise * length
    found = EndHoles(
        radius=radius,
        neck=neck,
        hole_height=radius + base,
        length=length,
        height=base + 2 * radius + over + crest,
        crest=crest,
    )
    end = length / 2
    angles = np.linspace(0, 2 * np.pi, 3001)
    rim = np.column_stack([found.centre_offset + radius * np.cos(angles), found.hole_height + radius * np.sin(angles)])
    rim = np.vstack([rim[rim[:, 0] <= end], [(end, cusp) for cusp in found.cusps]])
    half = math.asin(end / found.crest_radius)
    sweep = np.linspace(-half, half, 3001)
    top = np.column_stack([found.crest_radius * np.sin(sweep), found.height - found.crest_radius * (1 - np.cos(sweep))])
    measured = MultiPoint(rim).distance(LineString(top))
    assume(found.hole_to_crest > 0)
    agree(found.hole_to_crest, measured, 3e-3, unit="mm")
    agree(found.base, rim[:, 1].min(), 1e-3, unit="mm")
    agree(found.chord, found.cusps[1] - found.cusps[0], unit="mm")
    agree(found.rim_in_wood, len(rim) / len(angles), 2e-3, unit="of the rim")


@BY_HAND.of(EndHoles)
@pytest.mark.parametrize(
    ("found", "at", "wood"),
    [  # worked values
        pytest.param(G1, 20, 9.65, id="beside the neck"),
        pytest.param(G1, -20, 9.65, id="beside the neck, left"),
        pytest.param(G1, 31.3, 6.0, id="under the hole"),
        pytest.param(G1, 0, 50, id="in the neck"),
        pytest.param(G2, 0.75, 0.396, id="beside the neck_in"),
    ],
)
def test_wood_over_a_screw(found: EndHoles, at: float, wood: float) -> None:
    agree(found.wood_over_screw(at), wood, 5e-3, unit="")


@BY_HAND.of(EndHoles)
def test_of_two_holes_over_a_screw_the_lower_one_counts() -> None:
    """Worked values (3-4-5): 0.3 beside the middle its rim is 0.4 under its centre, and so is that of the end hole."""
    small = Hole(0, 1, 0.5)
    found = EndHoles(radius=0.5, neck=0.2, hole_height=3, length=1.6, height=5, crest=0.1, middle=small)
    agree([hole.above_base(0.3) for hole in found.row[1:]], [0.6, 2.6], unit="")
    agree(found.wood_over_screw(0.3), 0.6, unit="")


@BY_HAND.of(handle.screw_length, handle.most_bite)
def test_screws() -> None:  # worked values
    agree(handle.screw_length(lid=18, countersink=3, bite=15), 30, 0.0, unit="mm")
    agree(handle.screw_length(lid=0.75, countersink=0.125, bite=0.625), 1.25, 0.0, unit="mm")
    agree(handle.screw_length(lid=18, countersink=3, bite=20), 35, 0.0, unit="mm")
    agree(handle.most_bite(G1.wood_over_screw(20)), 5.65, 5e-3, unit="mm")  # so 20 comes out in the hole
    agree(handle.most_bite(G1.wood_over_screw(31.3)), 2.0, unit="mm")
    assert handle.most_bite(G1.wood_over_screw(11.9)) > 20  # in the neck, x under 12, it is fine
    assert handle.most_bite(G1.wood_over_screw(12.1)) < 25.3


@BY_HAND.of(handle.row_of_holes)
@pytest.mark.parametrize(
    ("radius", "pitch", "cusp", "depth", "web"),
    [  # worked values
        pytest.param(16, 24, 10.583, 5.417, 0, id="G3"),
        pytest.param(0.625, 1, 0.375, 0.25, 0, id="G4_in"),
        pytest.param(16, 33.5, 0, 16, 1.5, id="web"),
        pytest.param(16, 32, 0, 16, 0, id="touching"),
    ],
)
def test_row_of_holes(radius: float, pitch: float, cusp: float, depth: float, web: float) -> None:
    found = handle.row_of_holes(radius=radius, pitch=pitch)
    agree((found.cusp, found.depth, found.web), (cusp, depth, web), 5e-4, unit="")


def test_the_flat_between_holes_on_the_edge() -> None:
    """Worked values: of 12 two radii of 5 leave 2; 3 outside they take 8 of the edge (3-4-5), and leave 4."""
    flats = [handle.flat_between(radius=5, pitch=12, **at) for at in ({}, {"outside": 3.0})]
    assert flats == pytest.approx([2, 4])


@BY_HAND.of(handle.off_edge_hole)
@pytest.mark.parametrize(
    ("radius", "outside", "depth", "chord", "rim"),
    [  # worked values
        pytest.param(16, 6, 10, 29.6648, 0.3776, id="G5"),
        pytest.param(0.625, 0.25, 0.375, 1.1456, 0.369, id="G6_in"),
        pytest.param(16, 0, 16, 32, 0.5, id="centre on the edge"),
    ],
)
def test_hole_off_the_edge(radius: float, outside: float, depth: float, chord: float, rim: float) -> None:
    found = handle.off_edge_hole(radius=radius, outside=outside)
    agree((found.depth, found.chord, found.rim_in_wood), (depth, chord, rim), 5e-5, unit="")


@SHAPELY.of(handle.flat_between, handle.rim_beside_holes)
@given(radius=st.floats(5, 30), share=st.floats(0.1, 2.5), outside=st.floats(0, 0.9))
def test_the_edge_between_two_holes(radius: float, share: float, outside: float) -> None:
    """Shapely measures it: what two discs leave of a straight edge."""
    pitch = share * radius
    centres = [(x, outside * radius) for x in (0.0, pitch)]
    discs = [MultiPoint([centre]).buffer(radius, quad_segs=512) for centre in centres]
    edge = LineString([(0, 0), (pitch, 0)])
    found = handle.flat_between(radius=radius, pitch=pitch, outside=outside * radius)
    agree(edge.difference(discs[0].union(discs[1])).length, max(0.0, found), 0.02, unit="mm")
    rim = discs[0].exterior
    shared = rim.intersection(discs[1]).length / rim.length
    agree(handle.rim_beside_holes(radius=radius, pitch=pitch, neighbours=1), 1 - shared, 3e-3, unit="of the rim")


@SHAPELY.of(EndHoles)
@given(at=st.floats(-12, 12), bite=st.floats(1, 50))
def test_the_wood_beside_a_screw(at: float, bite: float) -> None:
    """Shapely measures it: from the screw's line to the hole."""
    screw = LineString([(at, 0), (at, bite)])
    centres = MultiPoint([(side * G1.centre_offset, G1.hole_height) for side in (-1, 1)])
    agree(G1.wood_beside_screw(at, bite), screw.distance(centres) - G1.radius, unit="mm")


@BY_HAND.of(handle.clamp_room, handle.blank_length, handle.gap_under_base)
def test_drilling() -> None:  # worked values
    agree(handle.clamp_room(19.3), 36.3, unit="mm")
    agree(handle.blank_length(centre_offset=31.3, radius=19.3), 111.2, unit="mm")
    agree(handle.blank_length(centre_offset=1.1975, radius=0.76, spare=5 / 25.4), 4.31, 5e-3, unit="mm")
    agree(handle.gap_under_base(base=22, crown_radius=536.33), 0.11, 5e-3, unit="mm")
    agree(handle.gap_under_base(base=7 / 8, crown_radius=18.125), 0.005, 5e-4, unit="mm")
    agree(handle.gap_under_base(base=160, crown_radius=lid.arc_radius(160, 6)), 6, unit="mm")


@BY_HAND.of(handle.pilot)
@pytest.mark.parametrize(
    ("radius", "inside", "in_wood", "in_core", "stays"),
    [  # a core of 38.6 − 2 · 2 = 34.6 across is 17.3 from its middle to its rim, and the drill 3.175
        (19.3, 24.3, 21.125, 14.125, True),
        (19.3, 0.0, -3.175, 14.125, False),
        (19.3, -5.0, -8.175, 14.125, False),
        (5.0, 11.0, 7.825, -0.175, False),
    ],
)
def test_where_a_pilot_drill_stands(radius: float, inside: float, in_wood: float, in_core: float, stays: bool) -> None:
    found = handle.pilot(radius=radius, inside=inside)
    agree((found.in_wood, found.in_core), (in_wood, in_core), unit="mm")
    assert found.stays == stays


def test_a_pilot_drill_that_just_fits_stays() -> None:
    """Worked values: half a drill of 6 inside the edge, in a core of 5 less 2."""
    assert handle.pilot(radius=5, inside=3, drill=6, kerf=2) == handle.Pilot(0, 0)
    assert handle.Pilot(0, 0).stays
    assert not handle.Pilot(-0.1, 0).stays
    assert not handle.Pilot(0, -0.1).stays


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: handle.pilot(radius=0, inside=5), "radius is 0"),
        (lambda: handle.pilot(radius=5, inside=5, drill=0), "drill is 0"),
        (lambda: handle.pilot(radius=5, inside=5, kerf=-1), "kerf is -1"),
        (lambda: EndHoles(19.3, 24, 25.3, 101.3, 50, 5), "length is 101.3; a hole cuts the end only from 24 to 101.2"),
        (lambda: EndHoles(19.3, 24, 25.3, 90, 5, 5), "crest is 5; it must be less than 5"),
        (lambda: EndHoles(19.3, 24, 25.3, 90, 50, 0), "crest is 0"),
        (lambda: EndHoles(19.3, 24, 25.3, 30, 50, 16), "rise is 16; it must be more than 0 and at most 15"),
        (lambda: G1.wood_over_screw(46), "at is 46; it must be from -45 to 45"),
        (lambda: G1.crest_height(-46), "at is -46; it must be from -45 to 45"),
        (lambda: G1.height_that_leaves(60), "wood is 60; over a hole so near the end it must be at most 43.1111"),
        (lambda: handle.chord(10, 11), "distance is 11; it must be from -10 to 10"),
        (lambda: handle.off_edge_hole(radius=16, outside=16), "outside is 16; it must be less than 16"),
        (lambda: handle.bought_length(wanted=5, least=0, most=6, sold=(5.0,)), "least is 0"),
        (lambda: handle.screw_gauge(0), "shank is 0"),
        (lambda: handle.row_of_holes(radius=0, pitch=5), "radius is 0"),
        (lambda: handle.row_of_holes(radius=5, pitch=0), "pitch is 0"),
        (lambda: handle.flat_between(radius=5, pitch=0), "pitch is 0"),
        (lambda: handle.rim_beside_holes(radius=0, pitch=5, neighbours=1), "radius is 0"),
        (lambda: handle.rim_beside_holes(radius=5, pitch=0, neighbours=1), "pitch is 0"),
        (lambda: handle.chord(0, 0), "radius is 0"),
        (lambda: handle.rim_in_wood(0, 0), "radius is 0"),
        (lambda: handle.off_edge_hole(radius=5, outside=-1), "outside is -1"),
        (lambda: handle.clamp_room(0), "radius is 0"),
        (lambda: handle.clamp_room(5, pad=-1), "pad is -1"),
        (lambda: handle.clamp_room(5, spare=-1), "spare is -1"),
        (lambda: handle.blank_length(centre_offset=0, radius=5), "centre_offset is 0"),
        (lambda: handle.blank_length(centre_offset=5, radius=0), "radius is 0"),
        (lambda: handle.blank_length(centre_offset=5, radius=5, spare=-1), "spare is -1"),
        (lambda: handle.screw_length(lid=0, countersink=0, bite=5), "lid is 0"),
        (lambda: handle.screw_length(lid=5, countersink=-1, bite=5), "countersink is -1"),
        (lambda: handle.screw_length(lid=5, countersink=0, bite=0), "bite is 0"),
        (lambda: handle.most_bite(5, keep=-1), "keep is -1"),
        (lambda: handle.gap_under_base(base=0, crown_radius=100), "base is 0"),
        (lambda: EndHoles(0, 24, 25.3, 90, 50, 5), "radius is 0"),
        (lambda: EndHoles(19.3, 0, 25.3, 90, 50, 5), "neck is 0"),
        (lambda: EndHoles(19.3, 24, 0, 90, 50, 5), "hole_height is 0"),
        (lambda: EndHoles(19.3, 24, 25.3, 0, 50, 5), "length is 0"),
        (lambda: EndHoles(19.3, 24, 25.3, 90, 0, 5), "height is 0"),
        (lambda: G1.wood_beside_screw(0, 0), "bite is 0"),
        (lambda: handle.bought_length(wanted=0, least=5, most=6, sold=(5.0,)), "wanted is 0"),
        (lambda: handle.screw_length(lid=3, countersink=3, bite=10), "countersink is 3"),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


@pytest.mark.parametrize(
    ("neighbours", "rim"),
    [  # worked values: three holes, each a radius from the next, take thirds of each other's rims
        (0, 1),
        (1, 2 / 3),
        (2, 1 / 3),
    ],
)
def test_the_rim_beside_neighbours(neighbours: int, rim: float) -> None:
    assert handle.rim_beside_holes(radius=16, pitch=16, neighbours=neighbours) == pytest.approx(rim)
    assert handle.rim_beside_holes(radius=16, pitch=33, neighbours=neighbours) == 1  # too far off to meet


def test_the_crest_meets_the_end_at_its_own_height() -> None:
    assert [G1.crest_height(at) for at in (-45, 0, 45)] == pytest.approx([45, 50, 45])


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: EndHoles(20, 24, 25, 104, 50, 5), "length is 104; a hole cuts the end only from 24 to 104"),
        (lambda: EndHoles(20, 24, 25, 24, 50, 5), "length is 24; a hole cuts the end only from 24 to 104"),
        (lambda: handle.rim_beside_holes(radius=16, pitch=16, neighbours=3), "neighbours is 3; it must be from 0 to 2"),
        (lambda: handle.rim_beside_holes(radius=16, pitch=16, neighbours=-1), "neighbours is -1"),
        (lambda: handle.rim_in_wood(16, -17), "inside is -17; it must be from -16 to 16"),
        (lambda: handle.chord(10, -11), "distance is -11; it must be from -10 to 10"),
        (lambda: G1.crest_height(46), "at is 46; it must be from -45 to 45"),
        (lambda: G1.wood_over_screw(-46), "at is -46; it must be from -45 to 45"),
    ],
)
def test_other_refusals(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()


@GAUGES.of(handle.screw_gauge)
def test_a_shank_is_that_of_a_gauge() -> None:
    """ASME B18.6.1, from memory: basic diameters of No. 0, 4, 6, 8, 10, 12, in inches."""
    shanks = {0: 0.060, 4: 0.112, 6: 0.138, 8: 0.164, 10: 0.190, 12: 0.216}
    agree([handle.screw_gauge(25.4 * shank) for shank in shanks.values()], list(shanks), unit="")
    assert handle.screw_gauge(25.4 * 0.1445) is None
    assert handle.screw_gauge(0.5) is None
    assert handle.screw_gauge(25.4 * 0.047) is None  # there is none under No. 0
    assert [handle.screw_gauge(25.4 * (0.138 + off * 0.013)) for off in (0.3, -0.3, 0.36)] == [6, 6, None]


@SOLD.of(handle.bought_length)
def test_screws_as_they_are_sold() -> None:
    """Common practice, no source: the nearest length that there is room for."""
    sold = (25.0, 30.0, 35.0)
    found = [handle.bought_length(wanted=32, least=least, most=40, sold=sold) for least in (27, 31)]
    found.append(handle.bought_length(wanted=34, least=27, most=40, sold=sold))
    agree(found, [30, 35, 35], unit="mm")
    assert handle.bought_length(wanted=32, least=31, most=34, sold=sold) is None
    agree(
        [handle.bought_length(wanted=30, least=least, most=most, sold=sold) for least, most in ((30, 34), (26, 30))],
        [30, 30],
        unit="mm",
    )


def test_a_hole_whose_centre_is_near_the_end() -> None:
    # worked values: half an inch to either side of the end a hole of 1.3 is 2.4 high there (triple 5-12-13)
    beyond = EndHoles(radius=1.3, neck=2, hole_height=2, length=3.6, height=4, crest=0.2)
    assert (beyond.inside_end, beyond.base, beyond.hole_to_crest) == pytest.approx((-0.5, 0.8, 0.6))
    inside = EndHoles(radius=1.3, neck=2, hole_height=2, length=5.6, height=12, crest=0.2)
    assert inside.hole_to_crest == pytest.approx(math.hypot(0.5, 9.8) - 1.3)  # to the corner of the end


def test_holes_that_hardly_part_leave_a_thin_web() -> None:
    assert handle.row_of_holes(radius=16, pitch=32.5) == handle.Scallop(0.0, 16.0, 0.5)
