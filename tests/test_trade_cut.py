"""The model of the cut against worked values, the closed forms, and solids cut by an independent library."""

import math
from collections.abc import Callable, Sequence

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from manifold3d import Manifold

from jigs.trade import fingers, fit, passes
from jigs.trade.cut import Blank, Board, Mating, Setup, cut, face, mate, ripped, turned
from jigs.trade.fingers import Span
from tests.outside import Check, agree

BY_HAND = Check(
    "Fit of a joint, tuning",
    "arithmetic written out in jigs/trade/cut.py, fit.py, predict.py and tune.py",
    "worked example",
)
CLOSED_FORMS = Check(
    "Fit of a joint, tuning",
    "joints cut one by one, and again with what tuning told; every extreme seating tried",
    "independent derivation",
)
KERNELS = Check(
    "Fit of a joint, tuning", "solids cut and put together by manifold3d, areas by shapely", "reference library"
)

gaps = st.floats(4.0, 20.0)
clearances = st.floats(-0.1, 0.3)
slacks = st.floats(0.02, 0.3)
counts = st.integers(3, 13)


def pair(
    setup: Setup, spacer: float, count: int, seatings: Sequence[float] = (), thickness: float = 12.0
) -> tuple[Board, Board]:
    """Cut a long and a short in one stack, ripped to `count` parts of the joint the setup is meant for."""
    far = setup.gap + setup.cutter  # the pitch, with one pass or several
    width = (count - count // 2) * (setup.gap - setup.shims[0]) + count // 2 * (far - setup.gap + setup.shims[0])
    blanks = [Blank(width, thickness), Blank(width, thickness, spacer)]
    long, short = cut(setup, blanks, seatings, (count + 1) // 2)
    return long, short


def joined(setup: Setup, spacer: float, count: int, seatings: Sequence[float] = ()) -> Mating:
    return mate(*pair(setup, spacer, count, seatings))


@CLOSED_FORMS.of(cut)
@given(width=st.floats(20, 200), gap=gaps, clearance=clearances, offset=st.floats(0, 15))
def test_pushed_home_every_time_the_cut_is_the_layout(
    width: float, gap: float, clearance: float, offset: float
) -> None:
    socket = gap + clearance
    (board,) = cut(Setup(gap, socket, socket - 0.1), [Blank(width, 12, offset)])
    drawn = fingers.sockets(width, gap, socket, offset)
    agree([span.start for span in board.sockets], [span.start for span in drawn], unit="mm")
    agree([span.end for span in board.sockets], [span.end for span in drawn], unit="mm")


@BY_HAND.of(cut, mate)
@pytest.mark.parametrize(
    ("seat", "finger", "pitch", "clearance"),
    [
        pytest.param(0.0, 9.9, 19.9, 0.1, id="away from the cutter"),
        pytest.param(0.2, 9.7, 19.7, 0.3, id="towards the cutter"),
    ],
)
def test_worked_bias(seat: float, finger: float, pitch: float, clearance: float) -> None:
    # worked value: gap 9.9, cutter 10, key 9.8
    long, short = pair(Setup(9.9, 10, 9.8), 9.95, 9, [0, seat, seat, seat, seat])
    agree([span.width for span in long.fingers[1:-1]], [finger] * 3, unit="mm")
    agree(long.sockets[1].start - long.sockets[0].start, pitch, unit="mm")
    agree(mate(long, short).clearance, clearance, unit="mm")


@CLOSED_FORMS.of(mate, fit.one_stack)
@given(gap=gaps, clearance=clearances, off=st.floats(-0.3, 0.3), count=counts)
def test_mating_agrees_with_the_closed_form(gap: float, clearance: float, off: float, count: int) -> None:
    socket = gap + clearance
    spacer = gap + clearance / 2 + off
    meant = fit.one_stack(gap, socket, spacer)
    found = joined(Setup(gap, socket, socket - 0.1), spacer, count)
    agree(found.clearance, meant.clearance, 1e-9, unit="mm")
    agree((found.flush_low, found.flush_high), (meant.flush_low, meant.flush_high), 1e-9, unit="mm")
    assert found.closes is (meant.clearance >= -1e-9)
    agree(found.flush, meant.flush_middle, 1e-9, unit="mm")
    assert len(found.cheeks) >= count - 1


def flush_bounds(one: list[float], other: list[float], odd: bool) -> tuple[float, float]:
    """Least upper and greatest lower bound of the flush, of a joint with clearance 0.1, from its seatings."""
    m = len(one)
    drift = [sum(other[:step]) - sum(one[:step]) for step in range(m)]
    bottoms = [drift[step] + other[step] for step in range(m if odd else m - 1)]
    return -0.05 + max(drift), 0.05 + min(bottoms, default=math.inf)


@CLOSED_FORMS.of(mate, ripped, fit.separate_worst)
@pytest.mark.parametrize("one_stack", [True, False])
@given(gap=gaps, slack=slacks, m=st.integers(1, 7), odd=st.booleans(), data=st.data())
def test_seating_errors_add_up_only_between_stacks(
    one_stack: bool, gap: float, slack: float, m: int, odd: bool, data: st.DataObject
) -> None:
    seats = st.lists(st.floats(0, slack), min_size=m, max_size=m)
    one = data.draw(seats)
    other = one if one_stack else data.draw(seats)
    setup, width = Setup(gap, gap + 0.1, gap + 0.1 - slack), (2 * m + 2) * (gap + 0.1)
    (long,) = cut(setup, [Blank(width, 12)], [0, *one], m + 1)
    (short,) = cut(setup, [Blank(width, 12, gap + 0.05)], [0, *other], m + 1)
    # ripped after jointing, inside what is the last part of both boards
    top = (
        min(long.sockets[m].start, short.sockets[m].end)
        if odd
        else min(long.sockets[m - 1].end, short.sockets[m].start)
    )
    found = mate(ripped(long, top), ripped(short, top))
    low, high = flush_bounds(one, other, odd)
    agree((found.flush_low, found.flush_high), (low, high), 1e-9, unit="mm")
    assert found.clearance >= (0.1 if one_stack else fit.separate_worst(0.1, slack, m, odd)) - 1e-9
    assert found.closes is (high - low >= -1e-9)


@BY_HAND.of(mate)
@pytest.mark.parametrize(("m", "worst"), [pytest.param(4, -0.2, id="m4"), pytest.param(8, -0.6, id="m8")])
def test_worked_opposite_bias_of_mixed_batches(m: int, worst: float) -> None:
    # worked value: clearance 0.1, slack 0.1; longs of one batch seated tight, shorts of the other loose
    setup, count = Setup(9.9, 10, 9.9), 2 * m + 1
    tight, _ = pair(setup, 9.95, count, [0] + [0.1] * m)
    _, loose = pair(setup, 9.95, count)
    agree(mate(tight, loose).clearance, worst, 1e-9, unit="mm")


@BY_HAND.of(cut)
def test_a_loose_key_moves_the_last_finger() -> None:
    # worked value: key 9.5 in a socket of 10, four sockets: the last finger may move 2.0
    tight, _ = pair(Setup(9.9, 10, 9.5), 9.95, 9)
    loose, _ = pair(Setup(9.9, 10, 9.5), 9.95, 9, [0, 0.5, 0.5, 0.5, 0.5])
    agree(loose.sockets[3].start, tight.sockets[3].start - 1.5, unit="mm")
    agree(loose.sockets[4].start, tight.width - 2.0, unit="mm")


@CLOSED_FORMS.of(mate)
@given(error=st.floats(-1, 1))
def test_edges_not_flush_in_the_stack_move_the_flush_one_for_one(error: float) -> None:
    long, short = cut(Setup(9.9, 10, 9.9), [Blank(89.5, 12), Blank(89.5, 12, 9.95 + error)], steps=5)
    found = mate(long, short)
    agree(found.flush, error, 1e-9, unit="mm")
    agree((found.top_step, found.clearance), (error, 0.1), 1e-9, unit="mm")


@BY_HAND.of(ripped)
def test_a_short_ripped_too_narrow_steps_down_at_the_top_only() -> None:
    long, short = pair(Setup(9.9, 10, 9.9), 9.95, 9)
    found = mate(long, ripped(short, 89.0), flush=0.05)
    agree((found.flush, found.top_step), (0.05, -0.45), unit="mm")


@BY_HAND.of(mate)
@pytest.mark.parametrize(("degrees", "loss"), [(0.1, 0.042), (0.25, 0.105)])
def test_worked_carriage_out_of_square(degrees: float, loss: float) -> None:
    # worked values for two boards of 12
    found = joined(Setup(9.9, 10, 9.9, out_of_square=degrees), 9.95, 9)
    agree(0.1 - found.clearance, loss, 5e-4, unit="mm")
    agree(found.flush, 0, 1e-9, unit="mm")


@BY_HAND.of(turned)
@pytest.mark.parametrize(("count", "closes"), [(9, True), (8, False)])
def test_a_board_cut_from_the_wrong_edge(count: int, closes: bool) -> None:
    long, short = pair(Setup(9.9, 10, 9.9), 9.95, count)
    assert mate(long, turned(short)).closes is closes
    again = turned(turned(short)).sockets
    agree([span.start for span in again], [span.start for span in short.sockets], unit="mm")


@CLOSED_FORMS.of(passes.plan)
@pytest.mark.parametrize(
    ("cutter", "finger", "clearance"),
    [
        pytest.param(3.2, 6, 0.1, id="C1"),
        pytest.param(0.125, 0.1875, 0.004, id="C2_in"),
        pytest.param(0.125, 0.25, 0.004, id="C3_in"),
        pytest.param(3.2, 10, 0.1, id="C4"),
        pytest.param(6, 9.9, 0.1, id="C5"),
        pytest.param(0.25, 0.371, 0.004, id="C6_in"),
    ],
)
def test_several_passes_make_the_socket_of_one(cutter: float, finger: float, clearance: float) -> None:
    plan = passes.plan(finger + clearance, cutter, finger, 0.03 * cutter)
    shims = tuple(plan.gaps[-1] - gap for gap in plan.gaps)
    setup = Setup(plan.gaps[-1], cutter, 0.97 * cutter, shims)
    found = joined(setup, finger + clearance / 2, 7)
    agree((found.clearance, found.flush), (clearance, 0), 1e-9, unit="")


@CLOSED_FORMS.of(cut)
def test_too_few_passes_leave_fins_that_keep_the_joint_open() -> None:
    # worked value C3: two passes of 1/8 for a socket of .254 leave a fin of .004
    setup = Setup(0.379, 0.125, 0.12, (0.129, 0.0))
    long, short = cut(setup, [Blank(1.754, 0.5), Blank(1.754, 0.5, 0.252)], steps=4)
    agree(long.fingers[1].width, 0.254 - 2 * 0.125, unit="in")
    found = mate(long, short, least=0.05)
    assert not found.closes
    assert found.slivers


@CLOSED_FORMS.of(passes.copied_widths)
def test_indexing_off_both_faces_of_the_key_copies_the_width() -> None:
    # the closed form of the trap: each socket is wider than the last by cutter - key
    widths = passes.copied_widths(6.1, 3.2, 3.15, 7)
    seats = [0.0, 2.9] + [seat for width in widths[:-1] for seat in (0.0, width - 3.15)]
    (board,) = cut(Setup(9.0, 3.2, 3.15, (0.0, 0.0)), [Blank(120, 12)], seats, 7)
    agree([span.width for span in board.sockets], widths, unit="mm")


@BY_HAND.of(mate)
def test_a_board_left_at_full_width_has_nick_and_sliver() -> None:
    # worked value A1bad: 0.5 nick on the long, 0.45 sliver on the short
    long, short = cut(Setup(9.9, 10, 9.9), [Blank(90, 12), Blank(90, 12, 9.95)])
    found = mate(long, short)
    assert [(strip.board, round(strip.span.width, 3)) for strip in found.nicks] == [("long", 0.5)]
    assert [(strip.board, round(strip.span.width, 3)) for strip in found.slivers] == [("short", 0.45)]
    agree(found.last_fingers, (9.9, 0.45), unit="mm")
    assert [strip.board for strip in found.open_sockets] == ["long", "short"]


def board(*sockets: tuple[float, float], width: float = 50.0) -> Board:
    return Board(width, 12, tuple(Span(start, end) for start, end in sockets))


def test_two_fingers_of_one_board_in_a_row_bound_nothing() -> None:
    """Long fingers 0-10, 20-30 and 40-50 about one of the short's, 12-18: 2 of play on both sides."""
    found = mate(board((10, 20), (30, 40)), board((0, 12), (18, 50)))
    assert [(cheek.place, cheek.long_side) for cheek in found.cheeks] == [(10, "top"), (20, "bottom")]
    assert (found.flush_low, found.flush_high, found.clearance) == (-2, 2, 4)
    assert found.void == 4
    assert found.last_fingers == (10, 6)


@pytest.mark.parametrize(("off", "closes"), [(4.0, True), (-4.0, True), (6.0, False), (-6.0, False)])
def test_a_joint_more_than_half_a_finger_off_flush_is_none(off: float, closes: bool) -> None:
    long, short = board((10, 20), (30, 40)), board((0, 10), (20, 30), (40, 50))
    moved = board(*((max(0.0, span.start - off), min(50.0, span.end - off)) for span in short.sockets))
    found = mate(long, moved)
    assert found.flush_low == pytest.approx(off)
    assert found.closes == closes


@pytest.mark.parametrize(("off", "closes"), [(4.4, True), (-4.4, True), (4.6, False), (-4.6, False)])
def test_half_a_finger_of_nine_is_four_and_a_half(off: float, closes: bool) -> None:
    long = board((9, 18), (27, 36), width=45)
    moved = board((0, 9 - off), (18 - off, 27 - off), (36 - off, min(45, 45 - off)), width=45)
    assert mate(long, moved).closes == closes


def test_a_pass_behind_a_shim_still_reaches_the_edge_of_a_board() -> None:
    """The near pass cuts from 8 to 11: a board of 9 has a nick of 1 that the far one, from 10, would not cut."""
    (made,) = cut(Setup(10, 3, 3, (2.0, 0.0)), [Blank(9, 12)])
    assert made.sockets == (Span(8, 9),)


def test_as_wide_as_the_least_is_no_sliver_and_no_nick() -> None:
    found = mate(board((0, 3), (6, 50)), board((3, 6)))
    assert [strip.span.width for strip in found.slivers] == []
    assert [strip.span.width for strip in found.nicks] == []
    found = mate(board((0, 2.9), (6, 50)), board((3, 5.9)))
    assert [strip.span for strip in found.nicks] == [Span(0, 2.9)]
    assert [(strip.board, strip.span) for strip in found.slivers] == []
    found = mate(board((0, 3.1), (6, 50)), board((2.9, 6)))
    assert [strip.span for strip in found.slivers] == [Span(3.1, 6), Span(0, 2.9)]


def test_a_board_ripped_to_its_own_width_stays_as_it_is() -> None:
    made = board((10, 20), (30, 40))
    assert ripped(made, 50.0) == made


def test_passes_that_leave_a_fin_are_joined_on_both_sides_of_it() -> None:
    (made,) = cut(Setup(20, 3, 3, (10.0, 2.0, 0.0)), [Blank(40, 12)], steps=1)
    assert made.sockets == (Span(10, 13), Span(18, 23))


def test_nothing_is_cut_where_there_is_no_board() -> None:
    assert cut(Setup(10, 10, 9.9), []) == ()
    bare = mate(board(), board((0, 50)))
    assert bare.last_fingers == (50, 0)


def test_boards_without_a_cheek_are_bound_by_nothing() -> None:
    whole = Board(20, 12, ())
    found = mate(Board(20, 12, (Span(0, 20),)), whole)
    assert (found.flush_low, found.flush_high, found.flush) == (-math.inf, math.inf, 0)


@KERNELS.of(face)
@settings(deadline=None)  # loads shapely the first time
@given(gap=gaps, clearance=clearances, count=counts)
def test_a_face_has_the_area_of_its_board_less_its_sockets(gap: float, clearance: float, count: int) -> None:
    _, short = pair(Setup(gap, gap + clearance, gap / 2), gap + clearance / 2, count)
    waste = sum(span.width for span in short.sockets)
    shape = face(short, 50, 12)
    assert shape.is_valid
    agree(shape.area, 50 * short.width - 12 * waste, unit="mm²")
    agree(shape.bounds, (0, 0, 50, short.width), unit="mm")


# --- an outside check: the same machine and the same boards as solids, cut and assembled by manifold3d ---


def solid(setup: Setup, blank: Blank, seatings: Sequence[float], steps: int, depth: float) -> Manifold:
    """Cut a board seating by seating: x along it, y through it, z across; the cutter takes `depth` off x."""
    board = Manifold.cube((60, blank.thickness, blank.width))
    seats, edge = iter(seatings), blank.offset
    for _ in range(steps):
        far = 0.0
        for shim in setup.shims:
            place = edge + shim + next(seats, 0.0)  # of the board's edge from the key face
            tool = Manifold.cube((depth + 1, blank.thickness + 2, setup.cutter))
            board = board - tool.translate((-1, -1, setup.gap - place))
            far = max(far, setup.gap + setup.cutter - place)
        edge = -far
    return board


STACKS = {  # setup, spacer, parts, seatings, flush
    "M": (Setup(9.9, 10, 9.9), 9.95, 9, [], 0.0),
    "M pushed up until the cheeks touch": (Setup(9.9, 10, 9.9), 9.95, 9, [], 0.05),
    "even": (Setup(9.9, 10, 9.9), 9.95, 8, [], 0.0),
    "no clearance": (Setup(10, 10, 9.9), 10, 5, [], 0.0),
    "thin spacer": (Setup(9.9, 10, 9.9), 9.9, 7, [], -0.02),
    "seated carelessly": (Setup(9.9, 10, 9.8), 9.95, 9, [0, 0.2, 0.05, 0.11, 0.0], 0.02),
    "two passes": (Setup(8.9, 3.2, 3.1, (2.9, 0.0)), 6.05, 9, [], 0.0),
    "tight by 0.05": (Setup(10.05, 10, 9.9), 10.025, 9, [], 0.0),
    "tight in two passes": (Setup(8.9, 3.2, 3.1, (2.75, 0.0)), 6.05, 9, [], 0.0),
}


@KERNELS.of(cut, mate)
@pytest.mark.parametrize("case", STACKS.values(), ids=STACKS.keys())
def test_solids_overlap_and_gape_as_the_model_says(
    case: tuple[Setup, float, int, list[float], float],
) -> None:
    setup, spacer, count, seatings, flush = case
    thick_long, thick_short, steps = 12.0, 10.0, (count + 1) // 2
    width = pair(setup, spacer, count)[0].width
    blanks = [Blank(width, thick_long), Blank(width, thick_short, spacer)]
    found = mate(*pair(setup, spacer, count, seatings), flush)

    long = solid(setup, blanks[0], seatings, steps, thick_short)
    short = solid(setup, blanks[1], seatings, steps, thick_long)
    short = short.rotate((0, 0, 90)).translate((thick_short, 0, flush))
    corner = Manifold.cube((thick_short, thick_long, width))
    area = thick_long * thick_short
    within = 1e-3 * area * width

    agree((long ^ short).volume(), found.overlap * area, 0.02 * within, unit="mm³")
    if found.closes and found.flush_low <= flush <= found.flush_high:
        assert (long ^ short).volume() < 1e-6
    void = corner.volume() - (corner ^ (long + short)).volume()
    edges = max(0.0, -flush) if count % 2 == 0 else 0.0  # only an even joint ends in a finger of the short
    agree(void, (found.void + edges) * area, 0.02 * within, unit="mm³")


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: cut(Setup(9.9, 10, 9.9), [Blank(90, 12)], [0, 0.2]), "step 2 stops 0.2 short .* 0 to 0.1"),
        (lambda: cut(Setup(9.9, 10, 9.9), [Blank(90, 12)], [-0.1]), "step 1 stops -0.1 short"),
        (lambda: cut(Setup(9.9, 10, 10.1), [Blank(90, 12)]), "step 2 .* 0 to -0.1"),
        (lambda: cut(Setup(9.9, 10, 9.9, ()), [Blank(90, 12)]), "shims"),
        (lambda: cut(Setup(9.9, 10, 9.9, (9.9,)), [Blank(90, 12)]), "shims"),
        (lambda: cut(Setup(9.9, 10, 9.9, (12.0, 0.0)), [Blank(90, 12)]), "shims"),
        # The near pass of a socket of 5 on a key of 4.8 with a shim of 2 has no play left, and the far one 0.2.
        (
            lambda: cut(Setup(9, 3, 4.8, (2.0, 0.0)), [Blank(90, 12)], [0, 0, 0.1]),
            "step 2 stops 0.1 short .* 0 to -1.8",
        ),
        (lambda: cut(Setup(9.9, 10, 9.9, (-0.5, 0.0)), [Blank(90, 12)]), "shims"),
        (lambda: cut(Setup(9.9, 0, 9.9), [Blank(90, 12)]), "cutter is 0"),
        (lambda: cut(Setup(9.9, 10, 9.9), [Blank(90, -12)]), "thickness is -12"),
        (lambda: ripped(Board(90, 12, ()), 91), "width is 91; the board is only 90 wide"),
        (lambda: face(Board(90, 12, ()), 10, 12), "depth is 12"),
        (lambda: face(Board(90, 12, ()), 12, 12), "depth is 12"),
    ],
)
def test_impossible_cuts_are_named(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()
