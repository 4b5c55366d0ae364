"""The lid against worked values, a published table of arcs, and the geometry of circles and tangents."""

from __future__ import annotations

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade import lid, movement
from tests.outside import Check, agree

BY_HAND = Check("Lid and crown", "arithmetic written out in jigs/trade/lid.py", "worked example")
PUBLISHED = Check("Lid and crown", "arcs from chord and rise, as published for woodworkers", "worked example")
CIRCLE = Check(
    "Lid and crown",
    "circles and tangents: distances from the centre; movement put back; numpy.linalg",
    "independent derivation",
)
RIPPED = Check("Lid and crown", "rabbets cut one after the other from a strip, in numpy", "independent derivation")

SHOP, DRY, WET = 8.4887, 6.1904, 12.9372  # moisture in % at 20 °C 45 %, 20 °C 30 %, 25 °C 70 %
SHOP_F, DRY_F, WET_F = 8.4627, 6.1717, 12.9134  # the same at 70 °F 45 %, 70 °F 30 %, 78 °F 70 %
CHERRY, WALNUT = 0.00248, 0.00274  # Wood Handbook FPL-GTR-190, Table 13-5

WIDTH = st.floats(50, 400)
RISE_SHARE = st.floats(0.002, 0.5)


@BY_HAND.of(lid.plug)
@pytest.mark.parametrize(
    ("found", "expected", "places"),
    [  # worked values: width now; gap now, dry, wet
        pytest.param(
            lid.plug(opening=136, clearance=0.4, coefficient=CHERRY, now=SHOP, dry=DRY, wet=WET),
            (134.12, 1.88, 2.644, 0.4),
            5e-3,
            id="F_M",
        ),
        pytest.param(
            lid.plug(opening=5.5, clearance=1 / 64, coefficient=WALNUT, now=SHOP_F, dry=DRY_F, wet=WET_F),
            (5.418, 0.082, 0.116, 0.016),
            6e-4,
            id="F_N_in",
        ),
    ],
)
def test_worked_plugs(found: lid.Plug, expected: tuple[float, ...], places: float) -> None:
    agree((found.width, found.gap_now, found.gap_dry, found.gap_wet), expected, places, unit="")


@CIRCLE.of(lid.plug)
@given(
    opening=st.floats(50, 400),
    clearance=st.floats(0, 2),
    film=st.floats(0, 0.05),
    coefficient=st.floats(0.0007, 0.0053),
    moistures=st.lists(st.floats(1, 25), min_size=3, max_size=3).map(sorted),
)
def test_a_plug_always_has_its_clearance(
    opening: float, clearance: float, film: float, coefficient: float, moistures: list[float]
) -> None:
    dry, now, wet = moistures
    found = lid.plug(
        opening=opening, clearance=clearance, coefficient=coefficient, now=now, dry=dry, wet=wet, film=film
    )
    for moisture, gap in ((now, found.gap_now), (dry, found.gap_dry), (wet, found.gap_wet)):
        width = found.width + movement.change(found.width, coefficient, now, moisture)
        agree(opening - 4 * film - width, gap, 1e-9, unit="mm")
    assert found.gap_wet == clearance


@BY_HAND.of(lid.locks_at)
def test_a_plug_fitted_in_winter_locks() -> None:
    # Worked value: cherry, 136, 0.5 mm loose at 20 °C 30 %: locks at 40 %, and is 1.77 oversize at 25 °C 70 %.
    humidity = lid.locks_at(opening=136, plug_width=135.5, coefficient=CHERRY, now=DRY, temperature=20)
    agree(humidity, 40, 0.5, unit="%")
    agree(135.5 + movement.change(135.5, CHERRY, DRY, WET) - 136, 1.77, 5e-3, unit="mm")
    fitted = lid.plug(opening=136, clearance=0.4, coefficient=CHERRY, now=SHOP, dry=DRY, wet=WET)
    free = lid.locks_at(opening=136, plug_width=fitted.width, coefficient=CHERRY, now=SHOP, temperature=25)
    assert free is not None
    assert free > 70


@BY_HAND.of(lid.plug_along, lid.rabbet, lid.overhang)
def test_along_the_grain_rabbets_and_overhang() -> None:  # worked values
    agree(lid.plug_along(opening=216), 215.4, unit="")
    agree(lid.plug_along(opening=8.5, play=1 / 32), 8.469, 5e-4, unit="")
    agree(lid.rabbet(lid=250, plug_width=215.4), 17.3, unit="")
    agree(lid.rabbet(lid=170, plug_width=134.12), 17.94, unit="")
    agree(lid.rabbet(lid=9.875, plug_width=8.46875), 0.703, 5e-4, unit="")
    agree(lid.rabbet(lid=6.875, plug_width=5.418), 0.7285, 5e-4, unit="")
    dry, wet = (170 + movement.change(170, CHERRY, SHOP, moisture) for moisture in (DRY, WET))
    agree((dry, wet), (169.03, 171.88), 5e-3, unit="")
    agree([lid.overhang(lid=size, outside=160) for size in (dry, 170, wet)], [4.5, 5, 5.9], 0.05, unit="")


@BY_HAND.of(lid.arc_radius)
@pytest.mark.parametrize(
    ("chord", "rise", "radius"),
    [
        # Arcs from chord and rise, as published for woodworkers.
        pytest.param(16, 2, 17, id="16 by 2", marks=PUBLISHED.of(lid.arc_radius)),
        pytest.param(24, 3, 25.5, id="24 by 3", marks=PUBLISHED.of(lid.arc_radius)),
        pytest.param(300, 20, 572.5, id="300 by 20", marks=PUBLISHED.of(lid.arc_radius)),
        # Worked values.
        pytest.param(170, 6, 605.0833, id="F3"),
        pytest.param(6.875, 0.25, 23.7578, id="F4_in"),
        pytest.param(160, 6, 536.3333, id="F5"),
        pytest.param(6, 0.25, 18.125, id="F6_in"),
    ],
)
def test_arc_radius(chord: float, rise: float, radius: float) -> None:
    agree(lid.arc_radius(chord, rise), radius, 5e-5, unit="")


@CIRCLE.of(lid.crown_height, lid.arc_radius, lid.arc_rise, lid.edge_angle)
@given(WIDTH, RISE_SHARE, st.floats(-1, 1))
def test_a_crown_lies_on_one_circle(width: float, share: float, place: float) -> None:
    rise = width * share
    radius, at = lid.arc_radius(width, rise), place * width / 2
    height = lid.crown_height(width=width, rise=rise, at=at)
    agree(math.hypot(at, height + radius - rise), radius, unit="mm")
    agree(lid.crown_height(width=width, rise=rise, at=0), rise, unit="mm")
    agree(lid.crown_height(width=width, rise=rise, at=width / 2), 0, 1e-8, unit="mm")
    agree(lid.arc_rise(radius, width), rise, share=1e-6, unit="mm")
    agree(radius * math.sin(math.radians(lid.edge_angle(width=width, rise=rise))), width / 2, unit="mm")


@BY_HAND.of(lid.ordinates)
@pytest.mark.parametrize(
    ("width", "rise", "heights", "places"),
    [  # worked values: every twelfth of the width from the centre
        pytest.param(170, 6, (6.000, 5.834, 5.336, 4.506, 3.341, 1.840, 0), 5e-4, id="M"),
        pytest.param(6.875, 0.25, (0.250, 0.243, 0.222, 0.188, 0.139, 0.077, 0), 5e-4, id="N_in"),
    ],
)
def test_ordinates(width: float, rise: float, heights: tuple[float, ...], places: float) -> None:
    found = lid.ordinates(width=width, rise=rise)
    agree([at for at, _ in found], [width * step / 12 for step in range(7)], unit="")
    agree([height for _, height in found], heights, places, unit="")


@BY_HAND.of(lid.crown_height, lid.edge_angle)
def test_other_worked_heights() -> None:
    found = [lid.crown_height(width=160, rise=6, at=at) for at in (20, 40, 60)]
    agree(found, [5.627, 4.506, 2.633], 5e-4, unit="mm")
    agree(lid.edge_angle(width=170, rise=6), 8.08, 5e-3, unit="°")


@BY_HAND.of(lid.facets)
@pytest.mark.parametrize(
    ("width", "rise", "count", "ridge", "lines", "places"),
    [  # worked values
        pytest.param(170, 6, 5, 0.24, (17.05, 51.11), 5e-3, id="M"),
        pytest.param(170, 6, 7, 0.12, (12.18, 36.53, 60.81), 5e-3, id="M-7"),
        pytest.param(6.875, 0.25, 5, 0.010, (0.69, 2.07), 5e-3, id="N_in"),
    ],
)
def test_facets(width: float, rise: float, count: int, ridge: float, lines: tuple[float, ...], places: float) -> None:
    found = lid.facets(width=width, rise=rise, count=count)
    agree(found.ridge, ridge, places, unit="")
    agree(found.lines, lines, places, unit="")


@CIRCLE.of(lid.facets)
@given(WIDTH, RISE_SHARE, st.integers(2, 12))
def test_facets_touch_the_crown(width: float, share: float, count: int) -> None:
    rise = width * share
    found = lid.facets(width=width, rise=rise, count=count)
    radius = lid.arc_radius(width, rise)
    # All ridges, left and right, about the crown's centre: the line through two neighbours is one radius away.
    right = [(x, y + radius - rise) for x, y in found.corners]
    ridges = [(-x, y) for x, y in reversed(right) if x > 0] + right
    assert len(ridges) == count - 1
    for (x1, y1), (x2, y2) in itertools.pairwise(ridges):
        distance = abs(x1 * y2 - x2 * y1) / math.hypot(x2 - x1, y2 - y1)
        agree(distance, radius, unit="mm")
    for (x, y), line in zip(right, found.lines, strict=True):
        agree(math.hypot(x, y) - radius, found.ridge, 1e-9, share=1e-6, unit="mm")
        agree(line * math.hypot(x, y), x * radius, unit="mm")  # on the same ray from the centre


@CIRCLE.of(lid.flats)
@given(WIDTH, RISE_SHARE, st.integers(1, 6).map(lambda half: 2 * half + 1))
def test_flats_lie_on_their_facets(width: float, share: float, count: int) -> None:
    """Each flat is the tangent of its facet: one radius from the crown's centre at its ridge and at the edge alike."""
    rise = width * share
    radius = lid.arc_radius(width, rise)
    found = lid.flats(width=width, rise=rise, count=count)
    assert [(flat.ridge_at, flat.ridge_height) for flat in found] == list(
        lid.facets(width=width, rise=rise, count=count).corners
    )
    for flat in found:
        across, up = math.sin(math.radians(flat.angle)), math.cos(math.radians(flat.angle))
        for x, y in ((flat.ridge_at, flat.ridge_height), (width / 2, flat.at_edge)):
            agree(x * across + (y + radius - rise) * up, radius, unit="mm")


@CIRCLE.of(lid.flats_needed)
@given(WIDTH, RISE_SHARE, st.floats(0.05, 2))
def test_no_fewer_flats_would_do(width: float, share: float, ridge: float) -> None:
    rise = width * share
    count = lid.flats_needed(width=width, rise=rise, ridge=ridge)
    assert count % 2 == 1
    assert lid.facets(width=width, rise=rise, count=count).ridge <= ridge * (1 + 1e-4)
    if count > 3:
        assert lid.facets(width=width, rise=rise, count=count - 2).ridge > ridge


@BY_HAND.of(lid.flats_needed, lid.flats)
def test_worked_flats() -> None:
    # Worked values: 170 by 6 with five flats leaves 0.24, with three 0.67; 2k·8.08/5 degrees.
    agree(lid.flats_needed(width=170, rise=6), 5, 0.0, unit="flats")
    agree(lid.flats_needed(width=170, rise=6, ridge=0.7), 3, 0.0, unit="flats")
    agree([flat.angle for flat in lid.flats(width=170, rise=6, count=5)], [3.23, 6.46], 5e-3, unit="°")


@BY_HAND.of(lid.edge_thickness, lid.over_shoulder, lid.most_crown)
def test_edges() -> None:  # worked values
    edge = lid.edge_thickness(thickness=18, plug_depth=6, crown=6)
    agree(edge, 6, 0.0, unit="")
    agree(lid.over_shoulder(edge=edge, width=170, crown=6, plug_width=134.12), 8.27, 5e-3, unit="")
    agree(lid.edge_thickness(thickness=18, plug_depth=6, crown=6, crown_along=3), 3, 0.0, unit="")
    agree(lid.edge_thickness(thickness=18, plug_depth=6, crown=9), 3, 0.0, unit="")
    agree(lid.edge_thickness(thickness=0.75, plug_depth=0.25, crown=0.25), 0.25, 0.0, unit="")
    agree(lid.over_shoulder(edge=0.25, width=6.875, crown=0.25, plug_width=5.418), 0.345, 5e-4, unit="")
    crown = lid.most_crown(thickness=18, plug_depth=6)
    agree(lid.edge_thickness(thickness=18, plug_depth=6, crown=crown), 4, 0.0, unit="")


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: lid.arc_radius(100, 0), "rise is 0; it must be more than 0 and at most 50"),
        (lambda: lid.arc_radius(100, 51), "rise is 51; it must be more than 0 and at most 50"),
        (lambda: lid.arc_rise(10, 21), "chord is 21; it must be from 0 to 20"),
        (lambda: lid.crown_height(width=100, rise=5, at=51), "at is 51; it must be from -50 to 50"),
        (lambda: lid.facets(width=100, rise=5, count=1), "count is 1"),
        (lambda: lid.flats(width=100, rise=5, count=4), "count is 4; it must be odd"),
        (lambda: lid.flats_needed(width=100, rise=5, ridge=0), "ridge is 0; it must be more than 0"),
        (lambda: lid.rabbet(lid=100, plug_width=100), "plug_width is 100; it must be less than 100"),
        (
            lambda: lid.plug(opening=1, clearance=1, coefficient=CHERRY, now=8, dry=6, wet=12),
            "clearance is 1; it must be less than 1",
        ),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


def test_a_semicircle_is_the_highest_crown() -> None:
    # in floats the radius of 51.6 by 25.8 comes out a hair under 25.8, and the chord must still be its diameter
    assert lid.arc_radius(100, 50) == 50
    assert 2 * lid.arc_radius(51.6, 25.8) < 51.6
    assert lid.crown_height(width=51.6, rise=25.8, at=-25.8) == pytest.approx(0, abs=1e-6)
    assert lid.edge_angle(width=51.6, rise=25.8) == pytest.approx(90)
    assert lid.arc_rise(10, 20) == 10


def test_a_crown_is_the_same_left_and_right() -> None:
    assert lid.crown_height(width=160, rise=6, at=-40) == lid.crown_height(width=160, rise=6, at=40)


def test_the_fewest_ordinates_are_the_centre_and_the_edge() -> None:
    centre, edge = lid.ordinates(width=160, rise=6, count=1)
    assert (*centre, *edge) == pytest.approx((0, 6, 80, 0))


def test_flats_leave_the_rise_over_the_square_of_their_number() -> None:
    # Derived for a shallow crown: the half angle is 4·rise/width and R is width²/(8·rise), so that n flats leave
    # R·(half angle/n)²/2 = rise/n²: three flats leave 0.317 of 2.85 and 0.289 of 2.6, and 0.3 may be left.
    assert lid.facets(width=170, rise=2.85, count=3).ridge == pytest.approx(2.85 / 9, rel=2e-3)
    assert lid.flats_needed(width=170, rise=2.85) == 5
    assert lid.flats_needed(width=170, rise=2.6) == 3
    assert lid.flats_needed(width=170, rise=0.1) == 3


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: lid.ordinates(width=160, rise=6, count=0), "count is 0; it must be from 1 to inf"),
        (lambda: lid.plug_along(opening=200, play=200), "play is 200; it must be less than 200"),
        (lambda: lid.arc_rise(10, -1), "chord is -1; it must be from 0 to 20"),
        (lambda: lid.crown_height(width=100, rise=5, at=-51), "at is -51; it must be from -50 to 50"),
        (lambda: lid.plug(opening=136, clearance=135.9, coefficient=CHERRY, now=8, dry=6, wet=12, film=0.05), "135.8"),
    ],
)
def test_other_refusals(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()


@RIPPED.of(lid.rabbet_settings)
@given(st.floats(100, 400), st.floats(2, 40), st.floats(4, 30))
def test_rabbets_cut_setting_by_setting_leave_the_plug(wide: float, rabbet: float, cutter: float) -> None:
    """Cut on a strip of 20 000 cells: each setting takes what lies under the bit, from both edges."""
    made = lid.rabbet_settings(lid=wide, plug_width=wide - 2 * rabbet, cutter=cutter)
    edge = (np.arange(20_000) + 0.5) * wide / 20_000  # from the edge that runs along the fence
    wood = np.ones(20_000, bool)
    for one in made:
        bit = np.abs(edge - one.fence) < cutter / 2
        # The side of the bit that is towards the fence is in air, in the fence, or where the last setting has been.
        assert not (wood & bit & (edge < one.fence - 0.4 * cutter - wide / 20_000)).any()
        wood &= ~bit & ~bit[::-1]
        agree(int(wood.sum()) * wide / 20_000, one.plug, 3 * wide / 20_000, unit="mm")
        assert one.air == pytest.approx(max(0.0, one.fence - cutter / 2), abs=1e-9)
