"""The numbers of the sled against two worked boxes, M in millimetres and N in inches."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade.sled import SledNumbers, sled_numbers

BOX_M: dict[str, Any] = {
    "finger": 10,
    "cutter": 10,
    "clearance": 0.1,
    "slack": 0.1,
    "board": 90,
    "thickness": 12,
    "proud": 0.3,
    "plate": 6,
    "margin": 20,
    "board_length": 240.6,
}
BOX_N: dict[str, Any] = {
    "finger": 12.7,
    "cutter": 12.7,
    "clearance": 0.1016,
    "slack": 0.1016,
    "board": 88.9,
    "thickness": 12.7,
    "proud": 25.4 / 64,
    "plate": 6.35,
    "margin": 19.05,
    "board_length": 242.09,
}


def numbers(**changes: Any) -> SledNumbers:
    return sled_numbers(**(BOX_M | changes))


WORKED_M = {
    "gap": 9.9,
    "finger": 9.9,
    "socket": 10.0,
    "pitch": 19.9,
    "key": 9.9,
    "spacer": 9.95,
    "over_all": 29.8,
    "key_to_centre": 14.9,
    "cut_depth": 12.3,
    "projection": 18.3,
    "key_height_limit": 11.8,
    "count": 9,
    "rip_width": 89.5,
    "width": 89.5,
    "steps": 5,
    "stack_thickness": 60,
    "stroke": 110,
    "key_length": 170,
    "plate_width": 228.95,
    "plate_length": 210,
    "fence_height": 150,
}
WORKED_N_IN = {
    "gap": 0.496,
    "spacer": 0.498,
    "over_all": 1.492,
    "key_to_centre": 0.746,
    "cut_depth": 0.515625,
    "projection": 0.765625,
    "rip_width": 3.484,
    "stack_thickness": 2.5,
    "stroke": 4.5,
    "key_length": 7.0,
    "plate_width": 8.966,
}


def test_worked_box_m() -> None:
    sled = numbers()
    assert {name: getattr(sled, name) for name in WORKED_M} == pytest.approx(WORKED_M)
    # worked value: square within 0.1 degree, 0.17 in 100
    assert sled.square_angle == pytest.approx(0.1, abs=0.01)
    assert sled.square_in_100 == pytest.approx(0.17, abs=0.01)


def test_worked_box_n() -> None:
    sled = sled_numbers(**BOX_N)
    inches = {name: getattr(sled, name) / 25.4 for name in WORKED_N_IN}
    assert inches == pytest.approx(WORKED_N_IN, abs=1e-6)
    assert sled.count == 7


def test_several_passes_set_the_key_for_the_far_cut() -> None:
    # worked value C1: kerf 3.2, finger 6, clearance 0.1: gaps 6.0 and 8.9
    sled = numbers(finger=6, cutter=3.2)
    assert sled.passes.gaps == pytest.approx((6.0, 8.9))
    assert (sled.finger, sled.socket, sled.gap, sled.key) == pytest.approx((6, 6.1, 8.9, 3.1))
    assert sled.over_all == pytest.approx(sled.key + sled.gap + 3.2)
    assert sled.key_to_centre == pytest.approx(8.9 + 1.6)
    assert sled.count == 14


@given(
    finger=st.floats(3, 25),
    ratio=st.floats(0.2, 1.02),
    clearance=st.floats(0, 0.3),
    slack=st.floats(0.02, 0.3),
    board=st.floats(60, 300),
)
def test_calipers_across_key_and_cutter_prove_the_gap(
    finger: float, ratio: float, clearance: float, slack: float, board: float
) -> None:
    cutter = max(1.0, finger * ratio)
    if cutter > finger:
        cutter = min(cutter, finger + min(0.5, 0.05 * finger))
    sled = numbers(finger=finger, cutter=cutter, clearance=clearance, slack=slack, board=board)
    assert sled.over_all - sled.key - cutter == pytest.approx(sled.gap)
    assert sled.gap == pytest.approx(sled.passes.gaps[-1])
    assert sled.socket - sled.finger == pytest.approx(clearance)
    assert sled.fit.flush_middle == pytest.approx(0, abs=1e-9)
    assert sled.rip_width <= board + 1e-9
    assert len(sled.long_sockets) == sled.count // 2
    assert len(sled.short_sockets) == (sled.count + 1) // 2
    assert sled.key_length / 2 > sled.stack_thickness + cutter / 2


def test_a_board_kept_at_full_width_shows_what_is_left() -> None:
    sled = numbers(board=91.5, ends="keep")
    assert (sled.leftover.nick, sled.leftover.sliver) == pytest.approx((2.0, 1.95))
    assert (sled.width, sled.rip_width) == pytest.approx((91.5, 89.5))
    assert numbers(board=91.5).leftover.nick == 0


def test_centred_ends_take_a_starter_spacer() -> None:
    # worked value A6: board 95, finger 10 without clearance: ends 7.5, starter 2.5, short spacer 12.5
    sled = numbers(board=95, clearance=0, ends="centre")
    assert (sled.board_starter, sled.short_spacer, sled.count, sled.steps) == pytest.approx((2.5, 12.5, 10, 5))
    assert sled.long_sockets[0].start == pytest.approx(7.5)
    assert sled.short_sockets[0].end == pytest.approx(7.5)


def test_a_given_key_and_spacer_are_used() -> None:
    sled = numbers(key=9.5, spacer=10.2)
    assert (sled.slack, sled.over_all) == pytest.approx((0.5, 29.4))
    assert (sled.fit.flush_low, sled.fit.flush_high) == pytest.approx((0.2, 0.3))


def test_a_key_as_thick_as_the_cutter_is_counted_not_judged() -> None:
    assert numbers(key=10.1).slack == pytest.approx(-0.1)


def test_a_smaller_count_rips_to_a_smaller_width() -> None:
    assert numbers(count=7).width == pytest.approx(69.6)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"finger": 8}, "cutter 10: wider than the socket 8.1"),
        ({"clearance": 10}, "clearance 10: must be smaller than the cutter 10"),
        ({"slack": float("nan")}, "slack nan"),
        ({"count": 11}, "count 11: a board of 90 with ends 'rip' takes 1 to 9 parts"),
        ({"count": 7, "ends": "keep"}, "takes 9 to 9 parts"),
        ({"board": 5}, "board 5: narrower than one finger"),
        ({"board": 25, "ends": "centre"}, "board 25: under 3 parts"),
        ({"pass_count": 2}, "pass_count 2: .* 1 pass makes the socket"),
        ({"cutter": 3.2, "pass_count": 2}, "count 2: 2 x 3.2 = 6.4 does not cover"),
        ({"thickness": -12}, "thickness -12"),
        ({"margin": float("inf")}, "margin inf"),
    ],
)
def test_impossible_sleds_are_named(changes: dict[str, Any], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        numbers(**changes)
