"""The hole-saw handle against worked values, and its wood measured on the outline itself."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely import LineString, MultiPoint

from jigs.trade import handle, lid
from jigs.trade.handle import EndHoles

G1 = EndHoles(radius=19.3, neck=24, hole_height=25.3, length=90, height=50, crest=5)
G1B = EndHoles(radius=19.3, neck=24, hole_height=25.3, length=90, height=54, crest=5)
G2 = EndHoles(radius=0.76, neck=0.875, hole_height=1.01, length=3.5, height=2.125, crest=0.1875)


@pytest.mark.parametrize(
    ("found", "offset", "inside", "chord", "cusps", "rim", "crest_radius", "over", "tip", "foot", "grip"),
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
    foot: float,
    grip: float,
) -> None:
    given_numbers = (offset, inside, chord, *cusps, rim, crest_radius, over, tip, foot, grip)
    numbers = (
        found.centre_offset,
        found.inside_end,
        found.chord,
        *found.cusps,
        found.rim_in_wood,
        found.crest_radius,
        found.hole_to_crest,
        found.horn_tip,
        found.foot,
        found.grip_depth,
    )
    assert numbers == pytest.approx(given_numbers, abs=6e-5)
    assert found.least_wood == min(found.neck, found.foot, found.horn_tip, found.hole_to_crest)


def test_the_thinnest_wood_is_over_the_hole() -> None:
    assert G1.least_wood == pytest.approx(2.70, abs=5e-3)  # worked value G1: too thin, though the tip has 6.1
    assert G1B.least_wood == pytest.approx(6.0)
    assert [G1B.crest_height(at) for at in (15, 30, 45)] == pytest.approx([53.45, 51.79, 49.0], abs=6e-3)
    higher = G1.height_that_leaves(6)
    found = EndHoles(radius=19.3, neck=24, hole_height=25.3, length=90, height=higher, crest=5)
    assert found.hole_to_crest == pytest.approx(6)
    assert math.ceil(higher) == 54  # worked value: H 54
    # At the most that it gives, the nearest point of the crest is the corner of the end.
    highest = EndHoles(19.3, 24, 25.3, 90, G1.height_that_leaves(43.1111), 5)
    corner = math.hypot(highest.inside_end, highest.height - 5 - 25.3)
    assert highest.hole_to_crest == pytest.approx(corner - 19.3, abs=1e-3)


@settings(deadline=None)
@given(
    radius=st.floats(8, 30),
    neck=st.floats(5, 40),
    foot=st.floats(1, 15),
    cut=st.floats(0.1, 0.9),
    over=st.floats(2, 25),
    rise=st.floats(0.02, 0.3),
)
def test_the_least_wood_is_that_of_the_outline(
    radius: float, neck: float, foot: float, cut: float, over: float, rise: float
) -> None:
    length = neck + 4 * radius * cut
    crest = rise * length
    found = EndHoles(
        radius=radius,
        neck=neck,
        hole_height=radius + foot,
        length=length,
        height=foot + 2 * radius + over + crest,
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
    assert found.hole_to_crest == pytest.approx(measured, abs=3e-3)
    assert found.foot == pytest.approx(rim[:, 1].min(), abs=1e-3)
    assert found.chord == pytest.approx(found.cusps[1] - found.cusps[0])
    assert found.rim_in_wood == pytest.approx(len(rim) / len(angles), abs=2e-3)


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
    assert found.wood_over_screw(at) == pytest.approx(wood, abs=5e-3)


def test_screws() -> None:  # worked values
    assert handle.screw_length(lid=18, countersink=3, bite=15) == 30
    assert handle.screw_length(lid=0.75, countersink=0.125, bite=0.625) == 1.25
    assert handle.screw_bite(screw=35, lid=18, countersink=3) == 20
    assert handle.most_bite(G1.wood_over_screw(20)) == pytest.approx(5.65, abs=5e-3)  # so 20 comes out in the hole
    assert handle.most_bite(G1.wood_over_screw(31.3)) == pytest.approx(2.0)
    assert handle.most_bite(G1.wood_over_screw(11.9)) > 20  # in the neck, x under 12, it is fine
    assert handle.most_bite(G1.wood_over_screw(12.1)) < 25.3


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
    assert (found.cusp, found.depth, found.web) == pytest.approx((cusp, depth, web), abs=5e-4)


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
    assert (found.depth, found.chord, found.rim_in_wood) == pytest.approx((depth, chord, rim), abs=5e-5)


@given(radius=st.floats(5, 30), share=st.floats(0.1, 2.5), outside=st.floats(0, 0.9))
def test_the_edge_between_two_holes(radius: float, share: float, outside: float) -> None:
    """Shapely measures it: what two discs leave of a straight edge."""
    pitch = share * radius
    centres = [(x, outside * radius) for x in (0.0, pitch)]
    discs = [MultiPoint([centre]).buffer(radius, quad_segs=512) for centre in centres]
    edge = LineString([(0, 0), (pitch, 0)])
    found = handle.flat_between(radius=radius, pitch=pitch, outside=outside * radius)
    assert edge.difference(discs[0].union(discs[1])).length == pytest.approx(max(0.0, found), abs=0.02)
    rim = discs[0].exterior
    shared = rim.intersection(discs[1]).length / rim.length
    assert handle.rim_beside_holes(radius=radius, pitch=pitch, neighbours=1) == pytest.approx(1 - shared, abs=3e-3)


@given(at=st.floats(-12, 12), bite=st.floats(1, 50))
def test_the_wood_beside_a_screw(at: float, bite: float) -> None:
    """Shapely measures it: from the screw's line to the hole."""
    screw = LineString([(at, 0), (at, bite)])
    centres = MultiPoint([(side * G1.centre_offset, G1.hole_height) for side in (-1, 1)])
    assert G1.wood_beside_screw(at, bite) == pytest.approx(screw.distance(centres) - G1.radius)


def test_drilling() -> None:  # worked values
    assert handle.neck_between(radius=19.3, centre_offset=19) == pytest.approx(-0.6)
    assert handle.neck_between(radius=19.3, centre_offset=28.3) == pytest.approx(18)
    assert handle.clamp_room(19.3) == pytest.approx(36.3)
    assert handle.blank_length(centre_offset=31.3, radius=19.3) == pytest.approx(111.2)
    assert handle.blank_length(centre_offset=1.1975, radius=0.76, spare=5 / 25.4) == pytest.approx(4.31, abs=5e-3)
    assert handle.plug_diameter(hole=38.6, kerf=2) == pytest.approx(34.6)
    assert handle.plug_diameter(hole=1.52, kerf=0.07) == pytest.approx(1.38)
    assert handle.gap_under_foot(foot=22, crown_radius=536.33) == pytest.approx(0.11, abs=5e-3)
    assert handle.gap_under_foot(foot=7 / 8, crown_radius=18.125) == pytest.approx(0.005, abs=5e-4)
    assert handle.gap_under_foot(foot=160, crown_radius=lid.arc_radius(160, 6)) == pytest.approx(6)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: EndHoles(19.3, 24, 25.3, 101.3, 50, 5), "length is 101.3; a hole cuts the end only from 24 to 101.2"),
        (lambda: EndHoles(19.3, 24, 25.3, 90, 5, 5), "crest is 5; it must be less than 5"),
        (lambda: EndHoles(19.3, 24, 25.3, 90, 50, 0), "crest is 0"),
        (lambda: EndHoles(19.3, 24, 25.3, 30, 50, 16), "rise is 16; it must be more than 0 and at most 15"),
        (lambda: G1.wood_over_screw(46), "at is 46; it must be from -45 to 45"),
        (lambda: G1.crest_height(-46), "at is -46; it must be from -45 to 45"),
        (lambda: G1.height_that_leaves(60), "wood is 60; over a hole so near the end it must be at most 43.1111"),
        (lambda: handle.chord(10, 11), "distance is 11; it must be from -10 to 10"),
        (lambda: handle.off_edge_hole(radius=16, outside=16), "outside is 16; it must be less than 16"),
        (lambda: handle.plug_diameter(hole=4, kerf=2), "kerf is 2; it must be less than 2"),
        (lambda: handle.screw_length(lid=3, countersink=3, bite=10), "countersink is 3"),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()
