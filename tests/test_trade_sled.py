"""The numbers of the sled against two worked boxes, M in millimetres and N in inches."""

from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade import sled
from jigs.trade.cut import Blank, Setup, cut
from jigs.trade.sled import SledNumbers, as_cut, blade_chord, sled_numbers
from tests.outside import Check, agree

BY_HAND = Check(
    "Fingers, sockets, sled", "arithmetic written out in jigs/trade/fingers.py, passes.py and sled.py", "worked example"
)

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
    "positions": 5,
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


@BY_HAND.of(sled_numbers)
def test_worked_box_m() -> None:
    sled = numbers()
    agree({name: getattr(sled, name) for name in WORKED_M}, WORKED_M, unit="mm")
    # worked value: square within 0.1 degree, 0.17 in 100
    agree(sled.square_angle, 0.1, 0.01, unit="°")
    agree(sled.square_in_100, 0.17, 0.01, unit="mm")


@BY_HAND.of(sled_numbers)
def test_worked_box_n() -> None:
    sled = sled_numbers(**BOX_N)
    inches = {name: getattr(sled, name) / 25.4 for name in WORKED_N_IN}
    agree(inches, WORKED_N_IN, 1e-6, unit="in")
    assert sled.count == 7


@BY_HAND.of(sled_numbers)
def test_several_passes_set_the_key_for_the_far_cut() -> None:
    # worked value C1: kerf 3.2, finger 6, clearance 0.1: gaps 6.0 and 8.9
    sled = numbers(finger=6, cutter=3.2)
    agree(sled.passes.gaps, (6.0, 8.9), unit="mm")
    agree((sled.finger, sled.socket, sled.gap, sled.key), (6, 6.1, 8.9, 3.1), unit="mm")
    agree(sled.over_all, sled.key + sled.gap + 3.2, unit="mm")
    agree(sled.key_to_centre, 8.9 + 1.6, unit="mm")
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


@BY_HAND.of(sled_numbers)
def test_a_board_kept_at_full_width_shows_what_is_left() -> None:
    sled = numbers(board=91.5, ends="keep")
    agree((sled.leftover.nick, sled.leftover.sliver), (2.0, 1.95), unit="mm")
    agree((sled.width, sled.rip_width), (91.5, 89.5), unit="mm")
    assert numbers(board=91.5).leftover.nick == 0


@BY_HAND.of(sled_numbers)
def test_centred_ends_take_a_starter_spacer() -> None:
    # worked value A6: board 95, finger 10 without clearance: ends 7.5, starter 2.5, short spacer 12.5
    sled = numbers(board=95, clearance=0, ends="centre")
    agree((sled.board_starter, sled.short_spacer, sled.count, sled.positions), (2.5, 12.5, 10, 5), unit="mm")
    agree(sled.long_sockets[0].start, 7.5, unit="mm")
    agree(sled.short_sockets[0].end, 7.5, unit="mm")


@BY_HAND.of(sled_numbers)
def test_a_given_key_and_spacer_are_used() -> None:
    sled = numbers(key=9.5, spacer=10.2)
    agree((sled.slack, sled.over_all), (0.5, 29.4), unit="mm")
    agree((sled.fit.flush_low, sled.fit.flush_high), (0.2, 0.3), unit="mm")


def test_a_key_as_thick_as_the_cutter_is_counted_not_judged() -> None:
    assert numbers(key=10.1).slack == pytest.approx(-0.1)


def test_where_the_key_is_given_the_slack_is_not_asked() -> None:
    assert numbers(key=9.9, slack=20.0).slack == pytest.approx(0.1)


def test_a_smaller_count_rips_to_a_smaller_width() -> None:
    assert numbers(count=7).width == pytest.approx(69.6)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"finger": 8}, "cutter is 10; wider than the socket 8.1 it should make"),
        ({"clearance": 10}, "clearance is 10; it must be less than 10"),
        ({"slack": float("nan")}, "slack is nan; it must be less than 10"),
        ({"count": 11}, "count is 11; a board of 90 with ends 'rip' takes 1 to 9"),
        ({"count": 7, "ends": "keep"}, "takes 9 to 9"),
        ({"board": 5}, "board is 5; narrower than one finger of 9.9"),
        ({"board": 25, "ends": "centre"}, "board is 25; for a count of 3 it must be at least 29.8"),
        ({"pass_count": 2}, "pass_count is 2; the cutter 10 is so near the finger 10 that 1 pass makes the socket"),
        (
            {"cutter": 3.2, "pass_count": 2},
            "count is 2; 2 x 3.2 = 6.4 does not cover the socket 10.1; at least 4 passes are needed",
        ),
        ({"thickness": -12}, "thickness is -12"),
        ({"margin": float("inf")}, "margin is inf"),
    ],
)
def test_impossible_sleds_are_named(changes: dict[str, Any], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        numbers(**changes)


@pytest.mark.parametrize(
    ("diameter", "below_top", "chord"),
    [  # Pythagorean triples: 3-4-5, 5-12-13, 7-24-25 and 20-21-29
        (10, 1, 6),
        (10, 2, 8),
        (26, 1, 10),
        (50, 18, 48),
        (250, 5, 70),
        (58, 8, 40),
    ],
)
def test_a_blade_is_as_long_as_its_chord(diameter: float, below_top: float, chord: float) -> None:
    assert blade_chord(diameter, below_top) == pytest.approx(chord)


def test_a_blade_is_longer_at_the_table_than_at_the_plate() -> None:
    # worked value: a blade of 250 stands 5 over the plate and 25 over the table: triples 7-24-25 and 3-4-5
    sled = numbers(thickness=4.7, plate=20, blade=250)
    assert (sled.along, sled.slot) == pytest.approx((70, 150))
    assert (numbers().along, numbers().slot) == (10, 10)  # a bit is as long as it is wide


def test_the_carriage_may_eat_four_tenths_of_the_clearance() -> None:
    # worked value: 0.04 of 0.10 over two sides of 12 is 1/600, one sixth in 100
    assert numbers().square_in_100 == pytest.approx(1 / 6)


def test_the_fence_is_six_tenths_of_a_long_board() -> None:
    assert numbers(board_length=400).fence_height == pytest.approx(240)


def test_the_stack_is_cut_as_high_as_wood_may_stand() -> None:
    # worked value: on a width of 79.5 four pitches of 19.9 and the rip may be out by 4 x 0.07 + 0.1 = 0.38; the
    # fifth socket of a short begins 79.55 up
    assert numbers(board=79.5, ends="keep").top_reach == pytest.approx(0.38)
    assert numbers(board=79.5, ends="keep").positions == 5
    assert numbers(board=79.1, ends="keep").positions == 4


def test_an_even_count_is_cut_one_position_more_and_has_no_socket_there() -> None:
    # worked value: eight parts of 9.9 and 10 are 79.6 wide; the fifth position takes 0.05 off the end's top finger
    even, odd = numbers(board=80), numbers(board=90)
    assert (even.count, even.positions, even.trims_the_top) == (8, 5, True)
    assert (odd.count, odd.positions, odd.trims_the_top) == (9, 5, False)
    assert (len(even.long_sockets), len(even.short_sockets)) == (4, 4)


def test_centred_ends_keep_the_count_that_is_asked_for() -> None:
    # worked value: 11 parts of 10 on 95: nine between two ends of 2.5, the starter 7.5
    sled = numbers(board=95, clearance=0, ends="centre", count=11)
    assert (sled.count, sled.board_starter, sled.long_sockets[0].start) == pytest.approx((11, 7.5, 2.5))


def test_one_pass_may_be_asked_for_where_one_is_enough() -> None:
    assert numbers(pass_count=1).passes.count == 1


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ({"cutter": 0}, "cutter is 0; it must be more than 0"),
        ({"proud": float("nan")}, "proud is nan; it must be a finite number"),
        ({"key": 0}, "key is 0; it must be more than 0"),
        ({"spacer": -1}, "spacer is -1; it must be more than 0"),
        ({"pass_count": 0}, "pass_count is 0; the cutter 10 is so near the finger 10 that 1 pass makes the socket"),
    ],
)
def test_impossible_settings_of_a_sled_are_named(changes: dict[str, Any], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        numbers(**changes)


@pytest.mark.parametrize(
    ("diameter", "height", "message"),
    [
        (0, 1, "diameter is 0; it must be more than 0"),
        (10, 0, "height is 0; it must be more than 0"),
        (10, 5, "height is 5; it must be less than 5"),
    ],
)
def test_no_blade_stands_out_by_half(diameter: float, height: float, message: str) -> None:
    with pytest.raises(ValueError, match=message):
        blade_chord(diameter, height)


@pytest.mark.parametrize(("cutter", "passes"), [(10.0, 1), (6.0, 2), (3.0, 4)])
def test_a_sled_as_it_cut_is_the_sled_that_cuts_so(cutter: float, passes: int) -> None:
    """Its gaps, shims and spacer put through the model of the cut, pass by pass, give the sockets that it names."""
    drawn = numbers(cutter=cutter)
    made = as_cut(drawn, drawn.finger - 0.1, drawn.socket + 0.05, 95, "rip", 9)
    gaps = made.passes.gaps
    assert (len(gaps), made.count, made.key) == (passes, 9, drawn.key)
    setup = Setup(made.gap, made.cutter, made.key, tuple(gaps[-1] - gap for gap in gaps))
    long, short = cut(setup, [Blank(made.width, 12), Blank(made.width, 12, made.short_spacer)], steps=made.positions)
    for board, sockets in ((long, made.long_sockets), (short, made.short_sockets)):
        assert [edge for span in board.sockets for edge in (span.start, span.end)] == pytest.approx(
            [edge for span in sockets for edge in (span.start, span.end)]
        )
    assert made.width == pytest.approx(5 * (drawn.finger - 0.1) + 4 * (drawn.socket + 0.05))
    assert made.clearance == pytest.approx(drawn.clearance + 0.15)


def test_a_sled_as_it_cut_needs_its_board() -> None:
    drawn = numbers()
    with pytest.raises(ValueError, match="count is 9; a board of 90 with ends 'rip' takes 1 to 8"):
        as_cut(drawn, 10.0, 10.1, 90, "rip", 9)


@BY_HAND.of(sled.count_of)
def test_fingers_are_counted_with_the_sockets_between_them() -> None:
    """By hand, of 9.9 and 10.1: five fingers and four sockets are 89.9, five and five 100; 10.1 over is no ninth."""
    of_five = {"finger": 9.9, "socket": 10.1}
    boards: dict[sled.Ends, float] = {"rip": 110.0, "keep": 95.0, "centre": 85.0}
    found = {ends: sled.count_of(5, ends=ends, board=board, **of_five) for ends, board in boards.items()}
    agree([float(count) for count in found.values()], [9.0, 9.0, 9.0], unit="")
    agree(float(sled.count_of(5, ends="keep", board=105.0, **of_five)), 10.0, unit="")
    with pytest.raises(ValueError, match="finger_count is 1"):
        sled.count_of(1, ends="rip", board=110.0, **of_five)


@BY_HAND.of(sled.count_of)
@pytest.mark.parametrize(("board", "fingers", "count"), [(86, 5, 9), (95, 5, 10), (95, 6, 11), (75.5, 4, 8)])
def test_centred_fingers_end_with_a_socket_where_an_edge_would_be_wider(board: float, fingers: int, count: int) -> None:
    """Worked values: 86 is 8 + 7·10 + 8. 95 with 7 between would leave 12.5 at the edges, so 8 leave 7.5; with 9, 2.5.
    75.5 with 5 leaves 12.75, so 6 leave 7.75."""
    found = sled.count_of(fingers, ends="centre", board=board, finger=10, socket=10)
    agree(float(found), float(count), unit="")


@BY_HAND.of(sled.sled_numbers)
@pytest.mark.parametrize(("board", "fingers", "sockets"), [(90, 5, 4), (80, 4, 4), (70, 4, 3), (50, 3, 2)])
def test_fingers_and_sockets_of_front_and_back_are_counted(board: float, fingers: int, sockets: int) -> None:
    """Worked values: of 9 parts 5 are fingers, of 8 four; of 7 four, of 5 three."""
    found = numbers(board=board)
    agree((found.finger_count, found.socket_count), (fingers, sockets), unit="")
    assert len(found.long_sockets) == sockets
