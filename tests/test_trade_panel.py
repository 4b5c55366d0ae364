"""The bottom panel against worked values, and its rabbets."""

from __future__ import annotations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade import movement, panel
from tests.outside import Check, agree

BY_HAND = Check("Bottom panel", "arithmetic written out in jigs/trade/panel.py", "worked example")
PUT_BACK = Check(
    "Bottom panel", "the panel put back into its grooves at every moisture, passes counted", "independent derivation"
)
PRACTICE = Check("Limits and margins of the shop", "common practice, no source", "common practice")

SHOP, DRY, WET = 8.4887, 6.1904, 12.9372  # moisture in % at 20 °C 45 %, 20 °C 30 %, 25 °C 70 %
SHOP_F, DRY_F, WET_F = 8.4627, 6.1717, 12.9134  # the same at 70 °F 45 %, 70 °F 30 %, 78 °F 70 %
CHERRY, CHERRY_QUARTER, WALNUT, MAPLE = 0.00248, 0.00126, 0.00274, 0.00353  # Wood Handbook FPL-GTR-190, Table 13-5


def in_mm(opening: float, depth: float, clearance: float, coefficient: float) -> panel.Panel:
    return panel.across_grain(
        opening=opening, depth=depth, clearance=clearance, coefficient=coefficient, now=SHOP, dry=DRY, wet=WET
    )


def in_inches(opening: float, depth: float, clearance: float, coefficient: float) -> panel.Panel:
    return panel.across_grain(
        opening=opening, depth=depth, clearance=clearance, coefficient=coefficient, now=SHOP_F, dry=DRY_F, wet=WET_F
    )


@BY_HAND.of(panel.across_grain)
@pytest.mark.parametrize(
    ("found", "sizes", "engaged", "shoulder", "places"),
    [  # worked values: width now, dry, wet; engaged now, dry centred, dry worst; shoulder gap; rounded to 2 or 3 places
        pytest.param(
            in_mm(136, 6, 0.5, CHERRY), (145.89, 145.059, 147.5), (4.945, 4.529, 3.059), 0.805, 1e-3, id="E_M"
        ),
        pytest.param(
            in_mm(136, 6, 0.5, CHERRY_QUARTER), (146.68, 146.25, 147.5), (5.34, 5.13, 4.25), 0.41, 6e-3, id="E_Mq"
        ),
        pytest.param(
            in_inches(5.5, 0.25, 0.02, WALNUT), (5.908, 5.871, 5.98), (0.204, 0.185, 0.121), 0.036, 6e-4, id="E_N_in"
        ),
        pytest.param(
            in_inches(5.5, 0.25, 0.02, MAPLE), (5.887, 5.840, 5.98), (0.194, 0.170, 0.090), 0.046, 6e-4, id="E_Nm_in"
        ),
        pytest.param(in_mm(216, 6, 0.5, CHERRY), (225.02, 223.74, 227.5), (4.51, 3.87, 1.74), 1.24, 6e-3, id="E_bad"),
        pytest.param(in_mm(136, 5, 0.6, CHERRY), (143.81, 142.99, 145.4), (3.91, 3.50, 1.99), 0.79, 6e-3, id="sliding"),
    ],
)
def test_worked_panels(
    found: panel.Panel,
    sizes: tuple[float, ...],
    engaged: tuple[float, ...],
    shoulder: float,
    places: float,
) -> None:
    agree((found.width, found.width_dry, found.width_wet), sizes, places, unit="")
    engagements = (found.engagement_now, found.engagement_dry_centred, found.engagement_dry)
    agree(engagements, engaged, places, unit="")
    agree(found.shoulder_gap, shoulder, places, unit="")


@PUT_BACK.of(panel.across_grain)
@given(
    opening=st.floats(50, 400),
    depth=st.floats(3, 12),
    clearance=st.floats(0, 2),
    coefficient=st.floats(0.0007, 0.0053),
    moistures=st.lists(st.floats(1, 25), min_size=3, max_size=3).map(sorted),
)
def test_a_panel_neither_jams_nor_hides_that_it_drops_out(
    opening: float, depth: float, clearance: float, coefficient: float, moistures: list[float]
) -> None:
    dry, now, wet = moistures
    found = panel.across_grain(
        opening=opening, depth=depth, clearance=clearance, coefficient=coefficient, now=now, dry=dry, wet=wet
    )
    # Grown to the wettest it has just the clearance in the grooves, and its shoulders just meet the sides.
    wettest = found.width + movement.change(found.width, coefficient, now, wet)
    agree(opening + 2 * depth - wettest, clearance, 1e-9, unit="mm")
    rabbet = found.engagement_now + found.shoulder_gap
    agree(wettest - 2 * rabbet, opening, unit="mm")
    # Slid against one groove's floor, the driest panel reaches past the other side's face by the engagement.
    driest = found.width + movement.change(found.width, coefficient, now, dry)
    agree(-depth + driest - opening, found.engagement_dry, unit="mm")


@PRACTICE.of(panel.along_grain, panel.least_engagement)
def test_along_the_grain_and_least_engagement() -> None:
    agree(panel.along_grain(opening=216, depth=6), 227, 0.0, unit="mm")  # worked value: opening + two grooves − 2 × 0.5
    agree([panel.least_engagement(depth) for depth in (3, 6)], [1, 1.5], 0.0, unit="mm")
    assert in_mm(216, 6, 0.5, CHERRY).engagement_dry > panel.least_engagement(6)


@BY_HAND.of(panel.rabbet_depths)
@pytest.mark.parametrize(
    ("thickness", "tongue", "first", "depths"),
    [  # worked values
        pytest.param(10, 5.8, 4.2, (4.2, 0), id="one side"),
        pytest.param(10, 5.8, None, (2.1, 2.1), id="both sides"),
        pytest.param(10, 5.8, 1.5, (1.5, 2.7), id="offset"),
        pytest.param(0.375, 0.24, 0, (0, 0.135), id="one side_in"),
        pytest.param(0.375, 0.24, None, (0.0675, 0.0675), id="both sides_in"),
        pytest.param(6, 6, None, (0, 0), id="none"),
    ],
)
def test_rabbet_depths(thickness: float, tongue: float, first: float | None, depths: tuple[float, float]) -> None:
    found = panel.rabbet_depths(thickness=thickness, tongue=tongue, first=first)
    agree(found, depths, 1e-9, unit="")


@BY_HAND.of(panel.tongue_thickness, panel.rabbet_width)
def test_tongue_and_rabbet_width() -> None:
    agree(panel.tongue_thickness(groove=6), 5.8, unit="mm")  # box M
    found = in_mm(136, 6, 0.5, CHERRY)
    width = panel.rabbet_width(engagement=found.engagement_now, shoulder_gap=found.shoulder_gap)
    agree(width, 5.75, 1e-3, unit="mm")  # half of the clearance at the wettest is missing from the depth


def test_a_shop_wetter_than_the_wettest_season_leaves_no_gap_at_the_shoulders() -> None:
    """What is still to grow is less than nothing then."""
    found = panel.across_grain(opening=136, depth=6, clearance=0.5, coefficient=0.00248, now=14.0, dry=6.0, wet=12.0)
    assert found.shoulder_gap == 0


@BY_HAND.of(panel.sheet)
@pytest.mark.parametrize(
    ("opening", "depth", "clearance", "width", "engaged", "shoulder"),
    [  # written out: 136 + 12 − 0.5, 6 − 0.25, 0.25; 4 + 2 · 0.25 − 0.020, 0.25 − 0.010, 0.010
        pytest.param(136, 6, 0.5, 147.5, 5.75, 0.25, id="mm"),
        pytest.param(4, 0.25, 0.02, 4.48, 0.24, 0.01, id="inches_in"),
        pytest.param(136, 6, 0, 148, 6, 0, id="none"),
    ],
)
def test_sheets(opening: float, depth: float, clearance: float, width: float, engaged: float, shoulder: float) -> None:
    found = panel.sheet(opening=opening, depth=depth, clearance=clearance)
    agree((found.width, found.width_dry, found.width_wet), (width,) * 3, unit="")
    agree((found.engagement_now, found.engagement_dry_centred, found.engagement_dry), (engaged,) * 3, unit="")
    agree(found.shoulder_gap, shoulder, unit="")


@PUT_BACK.of(panel.sheet)
@given(st.floats(50, 1500), st.floats(2, 15), st.floats(0, 0.9))
def test_a_sheet_put_back_into_its_grooves(opening: float, depth: float, share: float) -> None:
    """Both grooves as intervals on a line: the sheet lies in them wherever it is slid, and reaches into both."""
    made = panel.sheet(opening=opening, depth=depth, clearance=share * depth)
    floors = -depth, opening + depth
    for left in (floors[0], (opening - made.width) / 2, floors[1] - made.width):
        right = left + made.width
        assert floors[0] - 1e-9 <= left
        assert right <= floors[1] + 1e-9
        assert min(-left, right - opening) > 0
    middle = (opening - made.width) / 2
    assert made.engagement_now == pytest.approx(-middle)
    # Slid until one edge meets its groove's floor, the shoulder behind a rabbet just meets the side.
    rabbet = panel.rabbet_width(engagement=made.engagement_now, shoulder_gap=made.shoulder_gap)
    assert floors[0] + rabbet == pytest.approx(0, abs=1e-9)


@BY_HAND.of(panel.rabbet_passes)
@pytest.mark.parametrize(
    ("width", "cutter", "exposed", "fences"),
    [  # worked values
        pytest.param(17.3, 20, (17.3,), (7.3,), id="one pass"),
        pytest.param(17.3, 12.7, (8.65, 17.3), (2.30, 10.95), id="two passes"),
        pytest.param(18, 19, (9, 18), (-0.5, 8.5), id="18 by 19"),
        pytest.param(0.6875, 0.75, (0.34375, 0.6875), (-0.03125, 0.3125), id="11/16 by 3/4_in"),
        pytest.param(5, 16, (5,), (-3,), id="centre behind the fence"),
    ],
)
def test_rabbet_passes(width: float, cutter: float, exposed: tuple[float, ...], fences: tuple[float, ...]) -> None:
    found = panel.rabbet_passes(width=width, cutter=cutter)
    agree([step.exposed for step in found], exposed, unit="")
    agree([step.fence for step in found], fences, unit="")


@PUT_BACK.of(panel.rabbet_passes)
@given(st.floats(1, 60), st.floats(3, 30))
def test_no_pass_takes_more_than_nine_tenths_and_none_is_wasted(width: float, cutter: float) -> None:
    found = panel.rabbet_passes(width=width, cutter=cutter)
    taken = width / len(found)
    assert taken <= 0.9 * cutter * (1 + 1e-6)
    assert len(found) == 1 or width / (len(found) - 1) > 0.9 * cutter
    agree(found[-1].exposed, width, unit="mm")
    assert all(step.fence + cutter / 2 == pytest.approx(step.exposed) for step in found)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: in_mm(1, 6, 13, CHERRY), "clearance is 13; it must be less than 13"),
        (lambda: in_mm(0, 6, 0.5, CHERRY), "opening is 0; it must be more than 0"),
        (lambda: panel.sheet(opening=136, depth=6, clearance=6), "clearance is 6; it must be less than 6"),
        (lambda: panel.along_grain(opening=200, depth=6, play=6), "play is 6; it must be less than 6"),
        (lambda: panel.tongue_thickness(groove=0.2), "groove is 0.2|play is 0.2"),
        (lambda: panel.rabbet_depths(thickness=5.5, tongue=5.8), "tongue is 5.8; it must be from 0 to 5.5"),
        (
            lambda: panel.rabbet_depths(thickness=10, tongue=6, first=5),
            "first is 5; it must be from 0 to 4",
        ),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


@PUT_BACK.of(panel.sums)
@given(
    st.floats(60, 400),
    st.floats(3, 10),
    st.floats(-2, 2),
    st.floats(-0.5, 0.5),
    st.sampled_from([CHERRY, CHERRY_QUARTER, MAPLE]),
)
def test_the_sums_of_a_maker_give_what_the_program_gives(
    across: float, depth: float, wider: float, deeper: float, coefficient: float
) -> None:
    """The panel of the box that was measured, worked out whole, beside the sums written down before it was."""

    def sized(across: float, depth: float) -> tuple[float, float, float, float]:
        made = in_mm(across, depth, 0.5, coefficient)
        length = panel.along_grain(opening=2 * across, depth=depth, play=0.5)
        moves = panel.rabbet_width(engagement=made.engagement_now, shoulder_gap=made.shoulder_gap)
        return length, made.width, panel.rabbet_width(engagement=depth - 0.5, shoulder_gap=0.5), moves

    length, width, still, moves = sized(across, depth)
    found = panel.sums(
        along=2 * across,
        across=across,
        depth=depth,
        length=length,
        width=width,
        rabbet_long_grain=moves,
        rabbet_end_grain=still,
    )
    a, b, d = 2 * (across + wider), across + wider, depth + deeper
    by_sums = (
        a + 2 * d - found.length,
        b + 2 * d - found.width,
        d - found.rabbet_end_grain,
        d - found.rabbet_long_grain,
    )
    for name, sum_of, whole in zip(("length", "width", "end", "long"), by_sums, sized(b, d), strict=True):
        most = 1e-9 if name != "width" else 0.02 * (abs(wider) + 2 * abs(deeper)) + 1e-9
        assert abs(sum_of - whole) <= most, name


@BY_HAND.of(panel.sums)
def test_the_sums_of_box_m() -> None:
    """216 + 12 − 227 = 1; 136 + 12 − 145.89 = 2.11; end grain 6 − 6; long grain 6 − 5.75 = half the clearance."""
    found = panel.sums(
        along=216, across=136, depth=6, length=227, width=145.89, rabbet_long_grain=5.75, rabbet_end_grain=6
    )
    agree((found.length, found.width, found.rabbet_end_grain, found.rabbet_long_grain), (1, 2.11, 0, 0.25), unit="mm")
