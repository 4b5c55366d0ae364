"""Several passes against worked values, derived in the docstrings of jigs.trade.passes."""

from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade import passes
from tests.outside import Check, agree

BY_HAND = Check(
    "Fingers, sockets, sled", "arithmetic written out in jigs/trade/fingers.py, passes.py and sled.py", "worked example"
)
FROM_ABOVE = Check(
    "Fingers, sockets, sled",
    "edges followed through the feed as seen from above, and passes laid side by side",
    "independent derivation",
)
PRACTICE = Check("Limits and margins of the shop", "common practice, no source", "common practice")

WORKED = [  # cutter, finger, clearance, least overlap: count, shift, overlap, gaps near to far
    pytest.param((3.2, 6, 0.1, 0.2), (2, 2.9, 0.3), (6.0, 8.9), id="C1"),
    pytest.param((0.125, 0.1875, 0.004, 0.008), (2, 0.0665, 0.0585), (0.1875, 0.254), id="C2_in"),
    pytest.param((0.125, 0.25, 0.004, 0.008), (3, 0.0645, 0.0605), (0.25, 0.3145, 0.379), id="C3_in"),
    pytest.param((3.2, 10, 0.1, 0.2), (4, 2.3, 0.9), (10, 12.3, 14.6, 16.9), id="C4"),
    pytest.param((6, 9.9, 0.1, 0.2), (2, 4.0, 2.0), (9.9, 13.9), id="C5"),
    pytest.param((0.25, 0.371, 0.004, 0.008), (2, 0.125, 0.125), (0.371, 0.496), id="C6_in"),
]


@BY_HAND.of(passes.plan)
@pytest.mark.parametrize(("settings", "expected", "gaps"), WORKED)
def test_worked_passes(
    settings: tuple[float, float, float, float],
    expected: tuple[int, float, float],
    gaps: tuple[float, ...],
) -> None:
    cutter, finger, clearance, least = settings
    cuts = passes.plan(finger + clearance, cutter, finger, least)
    agree((cuts.count, cuts.shift, cuts.overlap), expected, unit="")
    agree(cuts.gaps, gaps, unit="")


@FROM_ABOVE.of(passes.plan)
@given(socket=st.floats(3, 40), cutter=st.floats(1, 40), gap=st.floats(3, 40), least=st.floats(0, 0.9))
def test_passes_cover_the_socket_with_no_more_cuts_than_needed(
    socket: float, cutter: float, gap: float, least: float
) -> None:
    cutter = min(cutter, socket)
    cuts = passes.plan(socket, cutter, gap, least)
    assert cuts.gaps[0] == gap
    agree(cuts.gaps[-1] + cutter, gap + (socket if cuts.count > 1 else cutter), unit="mm")
    if cuts.count > 1:
        assert cuts.overlap >= least - 1e-6
        agree(cuts.shift, cuts.gaps[1] - cuts.gaps[0], unit="mm")
    if cuts.count > 2:  # one pass fewer leaves a fin or too little overlap
        assert cutter - (socket - cutter) / (cuts.count - 2) < least + 1e-6


def test_one_cut_makes_a_socket_as_wide_as_the_cutter() -> None:
    assert passes.plan(10, 10, 9.9) == passes.Passes(1, 0.0, 0.0, (9.9,))


@PRACTICE.of(passes.one_pass_will_do)
@pytest.mark.parametrize(
    ("finger", "cutter", "enough"),
    [
        (10, 10.02, True),
        (10, 9.5, True),
        (10, 10.51, False),
        (20, 19.5, True),
        (20, 19.4, False),
        (6, 5.7, True),  # 5 % of 6 mm is 0.3
        (6, 5.6, False),
    ],
)
def test_when_one_pass_will_do(finger: float, cutter: float, enough: bool) -> None:
    assert passes.one_pass_will_do(finger, cutter) is enough


def test_eighth_kerf_quarter_finger_in_two_passes_leaves_a_fin() -> None:
    # 2 x .125 = .250 is short of .254 by a fin of .004: worked value C3
    with pytest.raises(ValueError, match=r"count is 2; 2 x 0\.125 = 0\.25 does not cover .* 0\.254; at least 3 passes"):
        passes.plan(0.254, 0.125, 0.25, 0.008, count=2)


def test_a_given_count_is_kept_even_with_a_thin_overlap() -> None:
    cuts = passes.plan(6.3, 3.2, 6.2, count=2)
    assert (cuts.count, cuts.overlap) == pytest.approx((2, 0.1))
    assert passes.plan(6.3, 3.2, 6.2).count == 3


@BY_HAND.of(passes.ear_height)
@pytest.mark.parametrize(
    ("cutter", "degrees", "height"),
    [pytest.param(3.2, 15, 0.43, id="3.2 at 15"), pytest.param(0.125, 10, 0.011, id="1/8 at 10")],
)
def test_worked_ears(cutter: float, degrees: float, height: float) -> None:
    agree(passes.ear_height(cutter, degrees), height, share=0.01, unit="")


@FROM_ABOVE.of(passes.cutting_order)
@pytest.mark.parametrize("key_side", ["right", "left"])
@pytest.mark.parametrize("count", [1, 2, 4])
def test_no_router_pass_climbs(key_side: passes.KeySide, count: int) -> None:
    # from above: the bit turns anticlockwise (left edge towards the operator), the wood moves away from him,
    # so the left edge cuts against the feed: fresh wood must lie left (negative) of what is already cut
    away_from_key = -1 if key_side == "right" else 1
    order = passes.cutting_order(count, "router table", key_side)
    assert sorted(order) == list(range(count))
    places = [away_from_key * place for place in order]
    assert places == sorted(places, reverse=True)


def test_a_saw_takes_either_order() -> None:
    assert passes.cutting_order(3, "table saw", "left") == passes.cutting_order(3, "table saw", "right")


@BY_HAND.of(passes.copied_widths)
def test_indexing_off_both_faces_copies_the_socket_wider() -> None:
    # worked value: kerf 3.2, key 3.15: 6.10, 6.15 ... 6.40 after six steps
    widths = passes.copied_widths(6.1, 3.2, 3.15, 7)
    agree(widths, [6.1, 6.15, 6.2, 6.25, 6.3, 6.35, 6.4], unit="mm")


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: passes.plan(8, 10, 8), "cutter is 10; wider than the socket 8 it should make"),
        (lambda: passes.plan(8, 3, 8, 3), "least_overlap is 3"),
        (lambda: passes.plan(8, 8, 8, count=0), "count is 0"),
        (lambda: passes.ear_height(3, 90), "bevel_degrees is 90"),
        (lambda: passes.cutting_order(0, "table saw", "left"), "count is 0"),
        (lambda: passes.copied_widths(6, 3, -1, 3), "key is -1"),
    ],
)
def test_impossible_passes_are_named(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


def test_what_only_the_rounding_of_floats_parts_is_the_same_length() -> None:
    # in floats 0.1 + 0.2 is over 0.3, 3 * 0.7 under 2.1, (0.9 - 0.3) / 0.3 over 2 and 6.2 - 5.89 over 5 % of 6.2
    assert passes.one_pass_will_do(6.2, 5.89)
    assert passes.plan(0.3, 0.1 + 0.2, 1).count == 1
    assert passes.plan(0.1 + 0.2, 0.3, 1).count == 1
    assert passes.plan(0.9, 0.3, 1, 0).count == 3
    assert passes.plan(2.1, 0.7, 1, 0, count=3).count == 3
    with pytest.raises(
        ValueError, match=r"count is 2; 2 x 0\.7 = 1\.4 does not cover the socket 2\.1; at least 3 passes"
    ):
        passes.plan(2.1, 0.7, 1, 0, count=2)


def test_teeth_without_a_bevel_leave_no_ears() -> None:
    assert passes.ear_height(3.2, 0) == 0
    assert passes.ear_height(2, 89.5) == pytest.approx(114.5887, abs=1e-4)  # a table of tangents


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: passes.plan(8, 3, 8, -0.1), "least_overlap is -0.1; it must be at least 0"),
        (
            lambda: passes.plan(8, 3, 8, count=0),
            "count is 0; 0 x 3 = 0 does not cover the socket 8; at least 3 passes are needed",
        ),
        (lambda: passes.ear_height(3, -1), "bevel_degrees is -1; it must be at least 0"),
    ],
)
def test_passes_of_less_than_nothing_are_named(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()


@pytest.mark.parametrize(
    ("finger", "cutter"),
    [pytest.param(20, 20.54, id="0.54 over 20, the limit 0.5"), pytest.param(6, 6.32, id="0.32 over 6, the limit 0.3")],
)
def test_a_cutter_a_little_too_far_from_the_finger(finger: float, cutter: float) -> None:
    assert not passes.one_pass_will_do(finger, cutter)


def test_passes_overlap_by_two_tenths_unless_told() -> None:
    # worked values: two cuts of 3.2 overlap by 0.21 on 6.19 and by 0.19 on 6.21
    assert passes.plan(6.19, 3.2, 6).count == 2
    assert passes.plan(6.21, 3.2, 6).count == 3
    assert passes.plan(10, 10, 9.9, count=1).count == 1
