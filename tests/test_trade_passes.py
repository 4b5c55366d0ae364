"""Several passes against worked values, derived in the docstrings of jigs.trade.passes."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade import passes

WORKED = [  # cutter, finger, clearance, least overlap: count, shift, overlap, gaps near to far
    pytest.param((3.2, 6, 0.1, 0.2), (2, 2.9, 0.3), (6.0, 8.9), id="C1"),
    pytest.param((0.125, 0.1875, 0.004, 0.008), (2, 0.0665, 0.0585), (0.1875, 0.254), id="C2_in"),
    pytest.param((0.125, 0.25, 0.004, 0.008), (3, 0.0645, 0.0605), (0.25, 0.3145, 0.379), id="C3_in"),
    pytest.param((3.2, 10, 0.1, 0.2), (4, 2.3, 0.9), (10, 12.3, 14.6, 16.9), id="C4"),
    pytest.param((6, 9.9, 0.1, 0.2), (2, 4.0, 2.0), (9.9, 13.9), id="C5"),
    pytest.param((0.25, 0.371, 0.004, 0.008), (2, 0.125, 0.125), (0.371, 0.496), id="C6_in"),
]


@pytest.mark.parametrize(("settings", "expected", "gaps"), WORKED)
def test_worked_passes(
    settings: tuple[float, float, float, float],
    expected: tuple[int, float, float],
    gaps: tuple[float, ...],
) -> None:
    cutter, finger, clearance, least = settings
    cuts = passes.plan(finger + clearance, cutter, finger, least)
    assert (cuts.count, cuts.shift, cuts.overlap) == pytest.approx(expected)
    assert cuts.gaps == pytest.approx(gaps)


@given(socket=st.floats(3, 40), cutter=st.floats(1, 40), gap=st.floats(3, 40), least=st.floats(0, 0.9))
def test_passes_cover_the_socket_with_no_more_cuts_than_needed(
    socket: float, cutter: float, gap: float, least: float
) -> None:
    cutter = min(cutter, socket)
    cuts = passes.plan(socket, cutter, gap, least)
    assert cuts.gaps[0] == gap
    assert cuts.gaps[-1] + cutter == pytest.approx(gap + (socket if cuts.count > 1 else cutter))
    if cuts.count > 1:
        assert cuts.overlap >= least - 1e-6
        assert cuts.shift == pytest.approx(cuts.gaps[1] - cuts.gaps[0])
    if cuts.count > 2:  # one pass fewer leaves a fin or too little overlap
        assert cutter - (socket - cutter) / (cuts.count - 2) < least + 1e-6


def test_one_cut_makes_a_socket_as_wide_as_the_cutter() -> None:
    assert passes.plan(10, 10, 9.9) == passes.Passes(1, 0.0, 0.0, (9.9,))


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
    assert passes.fin_left(0.254, 0.125, 2) == pytest.approx(0.004)
    assert passes.fin_left(0.254, 0.125, 3) == 0
    with pytest.raises(ValueError, match=r"count 2: 2 x 0\.125 = 0\.25 does not cover .* 0\.254; at least 3 passes"):
        passes.plan(0.254, 0.125, 0.25, 0.008, count=2)


def test_a_given_count_is_kept_even_with_a_thin_overlap() -> None:
    cuts = passes.plan(6.3, 3.2, 6.2, count=2)
    assert (cuts.count, cuts.overlap) == pytest.approx((2, 0.1))
    assert passes.plan(6.3, 3.2, 6.2).count == 3


@pytest.mark.parametrize(
    ("cutter", "degrees", "height"),
    [pytest.param(3.2, 15, 0.43, id="3.2 at 15"), pytest.param(0.125, 10, 0.011, id="1/8 at 10")],
)
def test_worked_ears(cutter: float, degrees: float, height: float) -> None:
    assert passes.ear_height(cutter, degrees) == pytest.approx(height, rel=0.01)


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


def test_indexing_off_both_faces_copies_the_socket_wider() -> None:
    # worked value: kerf 3.2, key 3.15: 6.10, 6.15 ... 6.40 after six steps
    widths = passes.copied_widths(6.1, 3.2, 3.15, 7)
    assert widths == pytest.approx([6.1, 6.15, 6.2, 6.25, 6.3, 6.35, 6.4])


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: passes.plan(8, 10, 8), "cutter 10: wider than the socket 8"),
        (lambda: passes.plan(8, 3, 8, 3), "least_overlap 3"),
        (lambda: passes.plan(8, 8, 8, count=0), "count 0"),
        (lambda: passes.fin_left(8, 3, 1), "count 1"),
        (lambda: passes.ear_height(3, 90), "bevel_degrees 90"),
        (lambda: passes.cutting_order(0, "table saw", "left"), "count 0"),
        (lambda: passes.copied_widths(6, 3, -1, 3), "key -1"),
    ],
)
def test_impossible_passes_are_named(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()
