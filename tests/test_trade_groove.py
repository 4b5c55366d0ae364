"""The groove against worked values, a simulated feed past the cutter, and the shapes of groove end and panel
corner.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.record import values
from jigs.trade import groove
from tests.outside import Check, agree

BY_HAND = Check("Groove and its stops", "arithmetic written out in jigs/trade/groove.py", "worked example")
FED = Check(
    "Groove and its stops", "boards fed past a cutter, and a tongue laid into its corner", "independent derivation"
)
PRACTICE = Check("Limits and margins of the shop", "common practice, no source", "common practice")

INCH = 25.4

# Reference boxes, common practice and no source: M in mm, N in inches; finger spans from gap, socket and spacer.
LONG_M = [(i * 19.9, i * 19.9 + 9.9) for i in range(5)]
SHORT_M = [(9.95 + i * 19.9, 19.85 + i * 19.9) for i in range(4)]
LONG_N = [(i * 0.996 * INCH, (i * 0.996 + 0.496) * INCH) for i in range(4)]
SHORT_N = [((0.498 + i * 0.996) * INCH, (0.994 + i * 0.996) * INCH) for i in range(3)]
TENS = {"long": [(0.0, 10.0), (20.0, 30.0)], "short": [(10.0, 20.0), (30.0, 40.0)]}


def two_of_each(finger: float) -> dict[str, list[tuple[float, float]]]:
    """Two fingers of each kind, without clearance."""
    return {
        "long": [(0, finger), (2 * finger, 3 * finger)],
        "short": [(finger, 2 * finger), (3 * finger, 4 * finger)],
    }


@BY_HAND.of(groove.stops)
@pytest.mark.parametrize(
    ("length", "end_margin", "cutter", "stop", "travel"),
    [  # worked values
        pytest.param(240, 3.5, 6, 233.5, 227.0, id="D1"),
        pytest.param(160, 3.5, 6, 153.5, 147.0, id="D1-short"),
        pytest.param(9.5, 5 / 32, 0.25, 9 + 7 / 32, 8.9375, id="D2_in"),
        pytest.param(160.6, 3.8, 6, 153.8, 147.0, id="M"),
        pytest.param(9 + 17 / 32, 11 / 64, 0.25, 9 + 15 / 64, 8.9375, id="N_in"),
    ],
)
def test_worked_stops(length: float, end_margin: float, cutter: float, stop: float, travel: float) -> None:
    found = groove.stops(length=length, cutter=cutter, left_end_margin=end_margin, right_end_margin=end_margin)
    near = stop - cutter / 2
    agree(tuple(values(found).values()), (stop, stop, near, near, travel), unit="")


@BY_HAND.of(groove.stops)
def test_a_groove_that_runs_out_has_no_stop_there() -> None:  # worked value "asym"
    found = groove.stops(length=240, cutter=6, left_end_margin=3.5, right_end_margin=0)
    assert (found.right, found.right_from_edge) == (233.5, 230.5)
    assert (found.left, found.left_from_edge, found.travel) == (None, None, None)


@FED.of(groove.stops)
@given(
    length=st.floats(60, 500),
    cutter=st.floats(2, 12),
    left=st.floats(0.1, 10),
    right=st.floats(0.1, 10),
    longer=st.floats(0, 2),
)
def test_the_stops_leave_the_end_margin(length: float, cutter: float, left: float, right: float, longer: float) -> None:
    found = groove.stops(length=length, cutter=cutter, left_end_margin=left, right_end_margin=right)
    assert found.right is not None
    assert found.left is not None
    # The board lies along the fence, x to the right, its right end on the right stop; then it moves to the left stop.
    # The cutter, at x = 0, cuts what lies within a radius of it. A board that is longer moves both groove ends.
    actual = length + longer
    left_end_at_plunge, left_end_at_stop = found.right - actual, -found.left
    cut_from = -cutter / 2 - left_end_at_plunge
    cut_to = cutter / 2 - left_end_at_stop
    agree(cut_from, left + longer, unit="mm")
    agree(actual - cut_to, right + longer, unit="mm")
    agree(found.travel, left_end_at_plunge - left_end_at_stop + longer, unit="mm")


@BY_HAND.of(groove.fence)
@pytest.mark.parametrize(
    ("from_bottom", "cutter", "expected"),
    [pytest.param(12, 6, 15, id="M"), pytest.param(3 / 16, 0.25, 5 / 16, id="N_in")],  # worked values
)
def test_fence(from_bottom: float, cutter: float, expected: float) -> None:
    agree(groove.fence(from_bottom=from_bottom, cutter=cutter), expected, 0.0, unit="")


@BY_HAND.of(groove.filler_block)
def test_filler_block_and_room_at_the_stop() -> None:
    agree(groove.filler_block(long_board=240, short_board=160), 80, 0.0, unit="mm")  # worked value D1
    found = groove.stops(length=24.8, cutter=6, left_end_margin=3.8, right_end_margin=3.8)
    agree(found.right_from_edge, 15, unit="mm")  # the room asked for


@BY_HAND.of(groove.fence_reach)
def test_a_fence_goes_past_the_stop_and_its_clamp() -> None:
    """612 to the stop, a stop of 50 and a clamp of 24: 686 on each side, 1372 in all; 9 15/64 + 2 + 1 in."""
    agree(groove.fence_reach(farthest=612, block=50, clamp=24), 686, 0.0, unit="mm")
    agree(groove.fence_reach(farthest=9 + 15 / 64, block=2, clamp=1), 12 + 15 / 64, 0.0, unit="in")


@BY_HAND.of(groove.overlap, groove.stopped_boards)
@pytest.mark.parametrize(
    ("from_bottom", "cutter", "fingers", "overlaps", "stopped"),
    [  # worked values
        pytest.param(12, 6, {"long": LONG_M, "short": SHORT_M}, (0, 6), ("short",), id="M"),
        pytest.param(3 / 16 * INCH, INCH / 4, {"long": LONG_N, "short": SHORT_N}, (6.35, 0), ("long",), id="N"),
        pytest.param(8, 6, TENS, (2, 4), ("long", "short"), id="straddles"),
        pytest.param(4, 6, TENS, (6, 0), ("long",), id="hole in the finger's end"),
    ],
)
def test_which_boards_are_stopped(
    from_bottom: float,
    cutter: float,
    fingers: dict[str, list[tuple[float, float]]],
    overlaps: tuple[float, float],
    stopped: tuple[str, ...],
) -> None:
    found = [groove.overlap(from_bottom=from_bottom, cutter=cutter, fingers=spans) for spans in fingers.values()]
    agree(found, overlaps, unit="mm")
    assert groove.stopped_boards(from_bottom=from_bottom, cutter=cutter, fingers=fingers) == stopped


@PRACTICE.of(groove.stopped_boards)
def test_a_sliver_of_overlap_may_run_through() -> None:
    for end, stopped in ((4.019, ()), (4.021, ("long",)), (4.2, ("long",))):  # 0.02 mm: common practice, no source
        assert groove.stopped_boards(from_bottom=4, cutter=6, fingers={"long": [(0.0, end)]}) == stopped


@BY_HAND.of(groove.safe_heights)
def test_the_bottom_finger_holds_a_groove_only_above_the_least_height() -> None:
    found = groove.safe_heights(cutter=6, fingers={"long": LONG_M, "short": SHORT_M}, least=4.5)
    # Worked value M: the second part from spacer + 0.5 to spacer + gap − 0.5, less the groove's width.
    agree((found[0].lowest, found[0].highest, found[0].middle), (10.45, 13.35, 11.9), unit="mm")
    assert [safe.boards for safe in found] == ["short", "long", "short", "long", "short", "long", "short", "long"]


@BY_HAND.of(groove.nearest_safe_height)
@pytest.mark.parametrize(
    ("from_bottom", "cutter", "fingers", "middle"),
    [  # worked values
        pytest.param(8, 6, TENS, 12, id="10 mm fingers, 8 to 14"),
        pytest.param(4, 6, TENS, 12, id="10 mm fingers, through a long finger"),
        pytest.param(6.35, 6.35, two_of_each(9.525), 7 / 16 * INCH, id="3/8 in fingers, 1/4 to 1/2"),
    ],
)
def test_the_height_suggested(
    from_bottom: float, cutter: float, fingers: dict[str, list[tuple[float, float]]], middle: float
) -> None:
    heights = groove.safe_heights(cutter=cutter, fingers=fingers, least=groove.least_from_bottom(12))
    nearest = groove.nearest_safe_height(from_bottom, heights)
    assert nearest is not None
    agree(nearest.middle, middle, unit="mm")


def test_the_nearest_height_of_a_range() -> None:
    safe = groove.SafeHeight(10.5, 13.5, 12, "short")
    assert [safe.nearest_to(height) for height in (8, 11, 20)] == [10.5, 11, 13.5]


def test_no_height_is_suggested_where_none_works() -> None:
    heights = groove.safe_heights(cutter=9.5, fingers=TENS, least=4.5)
    assert heights == ()
    assert groove.nearest_safe_height(12, heights) is None


@FED.of(groove.safe_heights, groove.nearest_safe_height)
@given(
    finger=st.floats(5, 20), cutter=st.floats(2, 8), asked=st.floats(0, 60), least=st.floats(0, 10), at=st.floats(0, 1)
)
def test_every_safe_height_keeps_clear(finger: float, cutter: float, asked: float, least: float, at: float) -> None:
    fingers = two_of_each(finger)
    heights = groove.safe_heights(cutter=cutter, fingers=fingers, least=least)
    for safe in heights:
        height = safe.lowest + at * (safe.highest - safe.lowest)
        assert height >= least
        assert groove.stopped_boards(from_bottom=height, cutter=cutter, fingers=fingers) == (safe.boards,)
        assert safe.lowest <= safe.middle <= safe.highest
    nearest = groove.nearest_safe_height(asked, heights)
    if nearest is not None:
        found = abs(nearest.nearest_to(asked) - asked)
        assert found == min(abs(safe.nearest_to(asked) - asked) for safe in heights)


@BY_HAND.of(groove.most_end_margin, groove.reach)
@pytest.mark.parametrize(
    ("cut_depth", "tongue_reach", "cutter", "tongue", "most"),
    [  # worked values
        pytest.param(12, 5.5, 6, 5.8, 4.2681, id="Dmax1"),
        pytest.param(0.5, 7 / 32, 0.25, 0.240, 0.1913, id="Dmax2_in"),
        pytest.param(12.3, 6, 6, 5.8, 4.0681, id="DmaxM"),
        pytest.param(0.515625, 0.25, 0.25, 0.240, 0.1756, id="DmaxN_in"),
    ],
)
def test_most_end_margin(cut_depth: float, tongue_reach: float, cutter: float, tongue: float, most: float) -> None:
    found = groove.most_end_margin(cut_depth=cut_depth, tongue_reach=tongue_reach, cutter=cutter, tongue=tongue)
    agree(found, most, 5e-5, unit="")
    # With that end margin the tongue just reaches as far as it must, and needs nothing at its corner.
    at_most = groove.corner(
        cut_depth=cut_depth, end_margin=found, cutter=cutter, tongue=tongue, tongue_reach=tongue_reach
    )
    agree(at_most.reach, tongue_reach, unit="")
    agree(at_most.shortfall, 0, 1e-12, unit="")


@BY_HAND.of(groove.least_end_margin, groove.rounded_inward)
def test_the_range_of_end_margin_rounds_inward() -> None:
    # Worked value M, as cut: 3.0 after flushing is 3.3 before, and 4.0681 becomes 4.06.
    least = groove.least_end_margin(thickness=12, proud=0.3)
    most = groove.most_end_margin(cut_depth=12.3, tongue_reach=6, cutter=6, tongue=5.8)
    agree(groove.rounded_inward(least, most), (3.3, 4.06), 1e-12, unit="mm")
    agree(groove.least_end_margin(thickness=20, proud=0), 5, 0.0, unit="mm")
    # In floats 0.07 / 0.01 is more than 7 and 4.06 / 0.01 less than 406.
    agree(groove.rounded_inward(0.07, 4.06), (0.07, 4.06), 1e-12, unit="mm")


@given(least=st.floats(0, 20), width=st.floats(0.03, 5), step=st.sampled_from([0.01, 0.1, INCH / 64]))
def test_a_rounded_range_is_inside_by_less_than_a_step(least: float, width: float, step: float) -> None:
    low, high = groove.rounded_inward(least, least + width, step)
    assert -1e-6 * step <= low - least + 1e-12 < step + 1e-9
    assert -1e-6 * step <= least + width - high + 1e-12 < step + 1e-9


@BY_HAND.of(groove.corner)
@pytest.mark.parametrize(
    ("settings", "expected"),
    [  # worked values
        pytest.param((9, 3, 6, 6, 4.5), (3.0, 1.5, 6.0, 9.6742), id="D3"),
        pytest.param((0.375, 0.125, 0.25, 0.25, 0.1875), (0.125, 0.0625, 0.25, 0.4031), id="D4_in"),
        pytest.param((12.3, 3.8, 6, 5.8, 6), (6.2681, 0, 0, 0), id="M"),
        pytest.param((0.515625, 0.171875, 0.25, 0.24, 0.25), (0.2538, 0, 0, 0), id="N_in"),
    ],
)
def test_panel_corner(settings: tuple[float, ...], expected: tuple[float, ...]) -> None:
    cut_depth, end_margin, cutter, tongue, tongue_reach = settings
    found = groove.corner(
        cut_depth=cut_depth, end_margin=end_margin, cutter=cutter, tongue=tongue, tongue_reach=tongue_reach
    )
    agree((found.reach, found.shortfall, found.clip_leg, found.radius), expected, 5e-5, unit="")


@FED.of(groove.corner, groove.reach)
@given(room=st.floats(0.2, 6), share=st.floats(0.05, 0.95))
def test_a_relieved_corner_touches_the_wood_that_stays(room: float, share: float) -> None:
    # The inside corner is at (0, 0); the wood that stays begins at (reach, 0) and lies beyond it, above y = 0.
    tongue_reach = room / share
    found = groove.corner(cut_depth=room + 5, end_margin=2, cutter=6, tongue=6, tongue_reach=tongue_reach)
    agree(found.reach, room, unit="mm")
    clip = (tongue_reach - found.reach) + (tongue_reach - 0)
    agree(clip, found.clip_leg, unit="mm")
    centre = tongue_reach - found.radius
    agree(math.hypot(found.reach - centre, 0 - centre), found.radius, unit="mm")
    assert found.reach >= centre  # on the rounded part, not on the straight edge below it


@PRACTICE.of(groove.wall_left, groove.depth_passes, groove.least_from_bottom)
def test_depths() -> None:
    agree(groove.wall_left(thickness=12, depth=6), 6, 0.0, unit="mm")
    agree(groove.wall_left(thickness=9, depth=6), 3, 0.0, unit="mm")  # worked value: over half the board, 3.0 of wall
    agree(groove.depth_passes(6), (3, 6), 0.0, unit="mm")  # worked value: two passes of 3
    agree(groove.depth_passes(0.25 * INCH, INCH / 8), (INCH / 8, INCH / 4), unit="mm")
    agree(groove.depth_passes(6.1), (6.1 / 3, 12.2 / 3, 6.1), unit="mm")
    agree([groove.least_from_bottom(thickness) for thickness in (9, 18)], [4.5, 6], 0.0, unit="mm")


@PRACTICE.of(groove.corner)
def test_a_hair_short_of_square_is_square() -> None:
    """Wood that stays begins at 5.95 where the tongue goes to 6: under 0.1 mm nothing is clipped, over it all is."""
    for end_margin, short, leg in ((3.0 + 0.05, 0, 0), (3.0 + 0.15, 0.15, 6.15)):
        found = groove.corner(
            cut_depth=12, end_margin=end_margin, cutter=6, tongue=6, tongue_reach=6, enough=groove.SQUARE_ENOUGH
        )
        agree((found.reach, found.shortfall, found.clip_leg), (9 - end_margin, short, leg), unit="mm")
        strict = groove.corner(cut_depth=12, end_margin=end_margin, cutter=6, tongue=6, tongue_reach=6)
        agree(strict.shortfall, end_margin - 3, unit="mm")


@FED.of(groove.widest_safe)
@given(finger=st.floats(5, 20), least=st.floats(0, 30), asked=st.floats(0, 80))
def test_the_widest_bit_just_fits_in_a_finger(finger: float, least: float, asked: float) -> None:
    """The search for heights, which knows nothing of it, finds that height for this bit and none for a wider one."""
    fingers = two_of_each(finger)
    found = groove.widest_safe(from_bottom=asked, fingers=fingers, least=least)
    if found is None:
        assert groove.safe_heights(cutter=0.001, fingers=fingers, least=least) == ()
        return
    cutter, height = found
    slightly = groove.safe_heights(cutter=cutter - 1e-9, fingers=fingers, least=least)
    assert any(abs(safe.lowest - height) < 1e-6 for safe in slightly)
    assert groove.safe_heights(cutter=cutter + groove.MARGIN + 1e-6, fingers=fingers, least=least) == ()
    as_roomy = [safe.lowest for safe in slightly]
    assert abs(height - asked) <= min(abs(low - asked) for low in as_roomy) + 1e-6


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: groove.fence(from_bottom=-1, cutter=6), "from_bottom is -1; it must be at least 0"),
        (
            lambda: groove.stops(length=12, cutter=6, left_end_margin=3.5, right_end_margin=3.5),
            "length is 12; with this end margin and cutter it must be at least 13",
        ),
        (lambda: groove.filler_block(long_board=160, short_board=160), "must be less than 160"),
        (
            lambda: groove.reach(cut_depth=12, end_margin=3, cutter=6, tongue=6.1),
            "tongue is 6.1; it must be from 0 to 6",
        ),
        (lambda: groove.wall_left(thickness=6, depth=6), "depth is 6; it must be less than 6"),
        (lambda: groove.depth_passes(math.nan), "depth is nan; it must be more than 0"),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


def test_what_just_fits_fits() -> None:
    # worked values, exact in floats: no travel, a groove of 9 in a finger of 10, a corner that is just reached
    assert groove.stops(length=13, cutter=6, left_end_margin=3.5, right_end_margin=3.5).travel == 0
    (found,) = groove.safe_heights(cutter=9, fingers={"short": [(20, 30)]}, least=4.5)
    assert found == groove.SafeHeight(20.5, 20.5, 20.5, "short")
    reached = groove.corner(cut_depth=9, end_margin=3, cutter=6, tongue=6, tongue_reach=3)
    assert reached == groove.Corner(3.0, 0.0, 0.0, 0.0)
    assert groove.stopped_boards(from_bottom=0, cutter=6, fingers={"long": [(0.0, groove.SHOWS)]}) == ()


def test_a_groove_over_two_fingers_counts_both() -> None:
    # worked value: from 8 to 22 it cuts 2 of the finger below and 2 of the one above
    assert groove.overlap(from_bottom=8, cutter=14, fingers=TENS["long"]) == 4
