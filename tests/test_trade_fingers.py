"""Finger layout against worked values, derived in the docstrings of jigs.trade.fingers."""

from collections.abc import Callable
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade import fingers
from jigs.trade.fingers import Span
from tests.outside import Check, agree

BY_HAND = Check(
    "Fingers, sockets, sled", "arithmetic written out in jigs/trade/fingers.py, passes.py and sled.py", "worked example"
)
SEARCHED = Check(
    "Fingers, sockets, sled",
    "every odd width tried; scipy.optimize.brentq; intervals and discs of shapely",
    "independent solver",
)

# id: width, gap, socket, spacer, starter, least strip; then socket starts and ends of long and short; passes
WORKED = {
    "A1": (
        (90, 10, 10, 10, 0, 0),
        [(10, 20), (30, 40), (50, 60), (70, 80)],
        [(0, 10), (20, 30), (40, 50), (60, 70), (80, 90)],
        5,
    ),
    "A1t": (
        (89.5, 9.9, 10, 9.95, 0, 0.3),
        [(9.9, 19.9), (29.8, 39.8), (49.7, 59.7), (69.6, 79.6)],
        [(0, 9.95), (19.85, 29.85), (39.75, 49.75), (59.65, 69.65), (79.55, 89.5)],
        5,
    ),
    "A1bad": (
        (90, 9.9, 10, 9.95, 0, 0.3),
        [(9.9, 19.9), (29.8, 39.8), (49.7, 59.7), (69.6, 79.6), (89.5, 90)],
        [(0, 9.95), (19.85, 29.85), (39.75, 49.75), (59.65, 69.65), (79.55, 89.55)],
        5,
    ),
    "A2t_in": (
        (3.484, 0.496, 0.5, 0.498, 0, 0.01),
        [(0.496, 0.996), (1.492, 1.992), (2.488, 2.988)],
        [(0, 0.498), (0.994, 1.494), (1.99, 2.49), (2.986, 3.484)],
        4,
    ),
    "A3": (
        (80, 10, 10, 10, 0, 0),
        [(10, 20), (30, 40), (50, 60), (70, 80)],
        [(0, 10), (20, 30), (40, 50), (60, 70)],
        4,
    ),
    "A4": (
        (95, 10, 10, 10, 0, 0),
        [(10, 20), (30, 40), (50, 60), (70, 80), (90, 95)],
        [(0, 10), (20, 30), (40, 50), (60, 70), (80, 90)],
        5,
    ),
    "A5": (
        (86, 10, 10, 10, 2, 0),
        [(8, 18), (28, 38), (48, 58), (68, 78)],
        [(0, 8), (18, 28), (38, 48), (58, 68), (78, 86)],
        5,
    ),
    "A6": (
        (95, 10, 10, 10, 2.5, 0),
        [(7.5, 17.5), (27.5, 37.5), (47.5, 57.5), (67.5, 77.5), (87.5, 95)],
        [(0, 7.5), (17.5, 27.5), (37.5, 47.5), (57.5, 67.5), (77.5, 87.5)],
        5,
    ),
    "A7_in": (
        (4.25, 0.5, 0.5, 0.5, 0.125, 0),
        [(0.375, 0.875), (1.375, 1.875), (2.375, 2.875), (3.375, 3.875)],
        [(0, 0.375), (0.875, 1.375), (1.875, 2.375), (2.875, 3.375), (3.875, 4.25)],
        5,
    ),
}

lengths = st.floats(3.0, 40.0)
clearances = st.floats(0.0, 0.3)
counts = st.integers(3, 25)


def flat(spans: tuple[Span, ...]) -> list[float]:
    return [edge for span in spans for edge in (span.start, span.end)]


@BY_HAND.of(fingers.sockets, fingers.positions)
@pytest.mark.parametrize("case", WORKED.values(), ids=WORKED.keys())
def test_worked_layouts(
    case: tuple[tuple[float, ...], list[tuple[float, float]], list[tuple[float, float]], int],
) -> None:
    (width, gap, socket, spacer, starter, strip), long, short, passes = case
    offset = starter + spacer
    agree(flat(fingers.sockets(width, gap, socket, starter)), [edge for pair in long for edge in pair], 1e-9, unit="")
    agree(flat(fingers.sockets(width, gap, socket, offset)), [edge for pair in short for edge in pair], 1e-9, unit="")
    agree(fingers.positions(width, gap, socket, offset, -strip), passes, 0.0, unit="")


def test_a_given_number_of_seatings_leaves_the_thin_strip_at_the_top_uncut() -> None:
    # even count ripped to 8 * 9.95: the short's next socket would begin 0.05 below its top edge
    assert len(fingers.sockets(79.6, 9.9, 10, 9.95)) == 5
    assert len(fingers.sockets(79.6, 9.9, 10, 9.95, positions=4)) == 4


@given(width=st.floats(1, 500), gap=lengths, socket=lengths, offset=st.floats(0, 80))
def test_fingers_and_sockets_share_out_the_board(width: float, gap: float, socket: float, offset: float) -> None:
    cut = fingers.sockets(width, gap, socket, offset)
    wood = fingers.fingers_between(width, cut)
    assert sum(span.width for span in (*cut, *wood)) == pytest.approx(width, abs=1e-7)
    joined = sorted((*cut, *wood), key=lambda span: span.start)
    assert all(left.end == pytest.approx(right.start, abs=1e-7) for left, right in pairwise(joined))


@given(count=counts, gap=lengths, clearance=clearances)
def test_ripped_boards_have_whole_parts_only(count: int, gap: float, clearance: float) -> None:
    width = fingers.rip_width(count, gap, gap + clearance)
    long = fingers.sockets(width, gap, gap + clearance)
    assert len(long) == count // 2
    assert all(span.width == pytest.approx(gap + clearance) for span in long)
    wood = fingers.fingers_between(width, long)
    assert [span.width for span in wood] == pytest.approx([gap] * (count - count // 2))


@given(count=counts, gap=lengths, clearance=clearances)
def test_rip_width_and_its_three_inverses(count: int, gap: float, clearance: float) -> None:
    socket = gap + clearance
    width = fingers.rip_width(count, gap, socket)
    assert fingers.largest_count(width, gap, socket) == count
    assert fingers.largest_count(width - 1e-6, gap, socket) == count - 1
    assert fingers.gap_for_count(width, count, clearance) == pytest.approx(gap)
    assert fingers.gap_that_fits(width, count, socket) == pytest.approx(gap)


@BY_HAND.of(fingers.rip_width)
@pytest.mark.parametrize(
    ("count", "gap", "socket", "width"),
    [
        pytest.param(5, 9.9, 10, 49.7, id="menu5"),
        pytest.param(9, 9.9, 10, 89.5, id="M"),
        pytest.param(11, 9.9, 10, 109.4, id="menu11"),
        pytest.param(7, 0.496, 0.5, 3.484, id="N"),
        pytest.param(8, 9.9, 10, 79.6, id="even"),
    ],
)
def test_worked_rip_widths(count: int, gap: float, socket: float, width: float) -> None:
    agree(fingers.rip_width(count, gap, socket), width, 1e-9, unit="")


@BY_HAND.of(fingers.gap_for_count)
@pytest.mark.parametrize(
    ("board", "count", "clearance", "gap"),
    [pytest.param(95, 9, 0.1, 10.5111, id="A8"), pytest.param(4.25, 7, 0.004, 0.60543, id="A9_in")],
)
def test_worked_finger_for_a_count(board: float, count: int, clearance: float, gap: float) -> None:
    agree(fingers.gap_for_count(board, count, clearance), gap, 5e-5, unit="")


def test_menu_of_widths_is_odd_and_nearest() -> None:
    assert [count for count, _ in fingers.nearest_widths(90, 9.9, 10)] == [7, 9, 11, 13]
    assert [count for count, _ in fingers.nearest_widths(5, 9.9, 10, 3)] == [3, 5, 7]


@SEARCHED.of(fingers.nearest_widths)
@given(board=st.floats(1, 400), gap=lengths, clearance=clearances, how_many=st.integers(1, 6))
def test_no_odd_width_outside_the_menu_is_nearer(board: float, gap: float, clearance: float, how_many: int) -> None:
    menu = dict(fingers.nearest_widths(board, gap, gap + clearance, how_many))
    assert len(menu) == how_many
    others = [fingers.rip_width(count, gap, gap + clearance) for count in range(3, 301, 2) if count not in menu]
    assert max(abs(width - board) for width in menu.values()) <= min(abs(w - board) for w in others) + 1e-9


@BY_HAND.of(fingers.centred, fingers.end_part)
@pytest.mark.parametrize(
    ("board", "gap", "spacer", "expected"),
    [
        pytest.param(86, 10, 10, (7, 8, 2, 12), id="A5"),
        pytest.param(95, 10, 10, (8, 7.5, 2.5, 12.5), id="A6"),
        pytest.param(4.25, 0.5, 0.5, (7, 0.375, 0.125, 0.625), id="A7_in"),
    ],
)
def test_worked_centred(board: float, gap: float, spacer: float, expected: tuple[float, ...]) -> None:
    result = fingers.centred(board, gap, gap, spacer)
    agree((result.interior_count, result.end, result.starter, result.short_spacer), expected, unit="")
    agree(fingers.end_part(board, result.interior_count, gap, gap), expected[1], unit="")


@given(count=counts, rest=st.floats(0, 0.999), gap=lengths, clearance=clearances)
def test_centred_ends_are_equal_and_between_half_and_whole(
    count: int, rest: float, gap: float, clearance: float
) -> None:
    socket = gap + clearance
    board = fingers.rip_width(count, gap, socket) + rest * gap
    layout = fingers.centred(board, gap, socket, gap + clearance / 2)
    assert gap / 2 - clearance <= layout.end <= gap + 1e-9
    parts = fingers.sockets(board, gap, socket, layout.starter)
    assert parts[0].start == pytest.approx(layout.end)
    inner = [span for span in parts if span.end < board - 1e-6]
    top = inner[-1].end if layout.interior_count % 2 else parts[-1].start
    assert board - top == pytest.approx(layout.end)


@BY_HAND.of(fingers.leftover)
@pytest.mark.parametrize(
    ("board", "expected"),
    [
        pytest.param(90.0, (0.5, 0.45, "long"), id="A1bad"),
        pytest.param(91.5, (2.0, 1.95, "long"), id="1.5 over nine tens"),
        pytest.param(89.5, (0.0, 0.0, "long"), id="M ripped"),
        pytest.param(81.0, (1.45, 1.4, "short"), id="even"),
    ],
)
def test_worked_leftovers(board: float, expected: tuple[float, float, str]) -> None:
    left = fingers.leftover(board, 9.9, 10, 9.95)
    agree((left.nick, left.sliver), expected[:2], 1e-9, unit="mm")
    assert left.nick_on == expected[2]


@given(count=counts, over=st.floats(0, 0.7), gap=lengths, clearance=clearances, off=st.floats(-0.2, 0.2))
def test_leftovers_are_what_stands_at_the_top_of_the_boards(
    count: int, over: float, gap: float, clearance: float, off: float
) -> None:
    socket, spacer = gap + clearance, gap + clearance / 2 + off
    board = fingers.rip_width(count, gap, socket) + over * gap
    left = fingers.leftover(board, gap, socket, spacer)
    offset = {"long": 0.0, "short": spacer}
    mate = "short" if left.nick_on == "long" else "long"
    nicked = fingers.sockets(board, gap, socket, offset[left.nick_on])[-1]
    if left.nick > 1e-6:
        assert nicked.end == pytest.approx(board)
        assert nicked.width == pytest.approx(left.nick, abs=1e-6)
    if left.sliver > 1e-6:
        wood = fingers.fingers_between(board, fingers.sockets(board, gap, socket, offset[mate]))
        assert wood[-1].end == pytest.approx(board)
        assert wood[-1].width == pytest.approx(left.sliver, abs=1e-6)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: fingers.sockets(0, 10, 10), "width is 0"),
        (lambda: fingers.sockets(90, float("nan"), 10), "gap is nan"),
        (lambda: fingers.sockets(90, 10, 10, float("inf")), "offset is inf"),
        (lambda: fingers.positions(90, 10, 10, -1, 0), "offset_max is -1"),
        (lambda: fingers.rip_width(0, 10, 10), "count is 0"),
        (
            lambda: fingers.gap_that_fits(30, 9, 10),
            "count is 9; the sockets alone fill the board of 30; fewer are needed",
        ),
        (lambda: fingers.leftover(5, 10, 10, 10), "board is 5; narrower than one finger of 10"),
        (lambda: fingers.centred(25, 10, 10, 10), "board is 25; for a count of 3 it must be at least 30"),
        (lambda: fingers.centred(95, 10, 10, 10, 7), "the ends would be 12.5, the starter spacer -2.5"),
        (lambda: fingers.centred(95, 10, 10, 10, 11), "the ends would be -7.5"),
    ],
)
def test_impossible_lengths_are_named(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


def test_whole_ends_need_no_starter() -> None:
    # worked value: nine parts of 10 on 90, seven of them between two ends of 10
    assert fingers.centred(90, 10, 10, 10) == fingers.Centred(7, 10.0, 0.0, 10.0)


def test_the_middle_of_a_span() -> None:
    assert Span(2, 5).middle == 3.5


def test_one_part_is_a_finger() -> None:
    assert fingers.rip_width(1, 9.9, 10) == 9.9


def test_a_board_that_shows_nothing_to_the_cutter_takes_no_seating() -> None:
    assert fingers.positions(5, 10, 10, 0, 0) == 0
    assert fingers.positions(1, 30, 10, 0, -20) == 0  # not even with a least strip of a whole part
    assert fingers.sockets(5, 10, 10) == ()


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: fingers.nearest_widths(90, 10, 10, 0), "how_many is 0; it must be at least 1"),
        (lambda: fingers.centred(90, 10, 10, 10, 0), "interior_count is 0; it must be at least 1"),
        (
            lambda: fingers.centred(90, 10, 10, 10, 9),
            "interior_count is 9; the ends would be 0, the starter spacer 10",
        ),
        (
            lambda: fingers.gap_that_fits(40, 9, 10),
            "count is 9; the sockets alone fill the board of 40; fewer are needed",
        ),
        (lambda: fingers.gap_that_fits(40, 0, 10), "count is 0; it must be at least 1"),
        (lambda: fingers.gap_for_count(40, 0, 0.1), "count is 0; it must be at least 1"),
    ],
)
def test_counts_and_ends_of_nothing_are_named(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()


def test_the_least_layouts() -> None:
    # worked values: three parts of 10 on 30; one part is all finger; a tenth of a finger is still wood
    assert fingers.centred(30, 10, 10, 10) == fingers.Centred(1, 10.0, 0.0, 10.0)
    assert fingers.gap_for_count(40, 1, 0.1) == 40
    assert fingers.gap_that_fits(40, 1, 10) == 40
    assert fingers.gap_that_fits(40.5, 9, 10) == pytest.approx(0.1)
