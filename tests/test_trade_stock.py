"""Stock against worked values and the published board foot; cutting plans against every way there is."""

from __future__ import annotations

import itertools

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import Bounds, LinearConstraint, milp

from jigs.base.lengths import Units
from jigs.base.usual import PLANING, ROUGH_LENGTH, ROUGH_WIDTH
from jigs.trade import stock
from jigs.trade.stock import Board, CuttingPlan, Piece
from tests.outside import Check, agree

BY_HAND = Check(
    "Stock, finish, set-ups", "arithmetic written out in jigs/trade/stock.py and finishing.py", "worked example"
)
BOARD_FOOT = Check(
    "Stock, finish, set-ups",
    "board foot of 144 cubic inches: 1 by 9 by 96 and 1 by 6 by 96, as published",
    "worked example",
)
SEARCHED = Check(
    "Stock, finish, set-ups",
    "every way there is, scipy.optimize.milp (HiGHS), a parallelogram measured",
    "independent solver",
)
PRACTICE = Check("Limits and margins of the shop", "common practice, no source", "common practice")

INCH = 25.4


@BY_HAND.of(stock.strip_length, stock.resawn_length, stock.strip_pieces)
@pytest.mark.parametrize(
    ("length", "width", "proud", "kerf", "trim", "strip", "stick"),
    [  # worked values
        pytest.param(240, 160, 0.3, 3.2, 0, 812.0, 404.4, id="M"),
        pytest.param(240, 160, 0.3, 3.2, 15, 842.0, 434.4, id="M with trims"),
        pytest.param(9.5, 6.5, 1 / 64, 1 / 8, 0, 32.5, 16.1875, id="N_in"),
        pytest.param(9.5, 6.5, 1 / 64, 1 / 8, 0.5, 33.5, 17.1875, id="N with trims_in"),
    ],
)
def test_strips_and_sticks(
    length: float, width: float, proud: float, kerf: float, trim: float, strip: float, stick: float
) -> None:
    found = stock.strip_length(length=length, width=width, proud=proud, kerf=kerf, trim=trim)
    agree(found, strip, unit="")
    resawn = stock.resawn_length(length=length, width=width, proud=proud, kerf=kerf, trim=trim)
    agree(resawn, stick, unit="")
    sides = [("front", length), ("right end", width), ("back", length), ("left end", width)]
    pieces = stock.strip_pieces([(name, size + 2 * proud) for name, size in sides], kerf=kerf, trim=trim)
    assert [piece.name for piece in pieces] == [name for name, _ in sides]
    assert pieces[0].start == trim
    agree(pieces[-1].end + trim, strip, unit="")
    assert all(after.start - before.end == pytest.approx(kerf) for before, after in itertools.pairwise(pieces))


@BY_HAND.of(stock.resawn_thickness)
def test_other_sizes() -> None:
    agree(stock.resawn_thickness(thickness=12, kerf=3, planing=1), 31, 0.0, unit="")  # worked value M
    agree(stock.resawn_thickness(thickness=0.5, kerf=0.125, planing=1 / 32), 1.25, 0.0, unit="")  # worked value N


def _as_the_shop_planes(units: Units, thickness: float) -> tuple[float, float, float]:
    sizes = {"spare_length": ROUGH_LENGTH.size(units), "spare_width": ROUGH_WIDTH.size(units)}
    planing = PLANING.size(units)
    return stock.rough_size(length=240.6, width=89.5, thickness=thickness, **sizes, planing=planing)


@PRACTICE.of(stock.rough_size)
def test_rough_sizes() -> None:
    agree(_as_the_shop_planes("mm", 12), (265.6, 94.5, 15), unit="mm")
    # 1/16 in a face: 1/2 in comes from 5/8, as it is sold; an inch more of length, 3/16 of width
    agree(_as_the_shop_planes("in", 12.7), (240.6 + 25.4, 89.5 + 25.4 * 3 / 16, 25.4 * 5 / 8), 1e-9, unit="mm")


@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_face_is_planed_by_one_allowance(units: Units) -> None:
    """Sawn open, two boards have four faces; on its own each has two, and the saw takes the rest."""
    planing = PLANING.size(units)
    _, _, alone = _as_the_shop_planes(units, 12.7)
    stick = stock.resawn_thickness(thickness=12.7, kerf=3.175, planing=planing)
    assert stick - 3.175 - 2 * 12.7 == pytest.approx(2 * (alone - 12.7))


@BY_HAND.of(stock.boxes_per_board, stock.board_for)
@pytest.mark.parametrize(
    ("board", "strip", "kerf", "trim", "boxes"),
    [  # worked values
        pytest.param(2400, 812, 3.2, 15, 2, id="M"),
        pytest.param(96, 32.5, 1 / 8, 0.5, 2, id="N_in"),
        pytest.param(98.75, 32.5, 1 / 8, 0.5, 3, id="N, just three_in"),
        pytest.param(98.74, 32.5, 1 / 8, 0.5, 2, id="N, not quite three_in"),
        pytest.param(20, 32.5, 1 / 8, 0.5, 0, id="too short"),
    ],
)
def test_boxes_per_board(board: float, strip: float, kerf: float, trim: float, boxes: int) -> None:
    agree(stock.boxes_per_board(board=board, strip=strip, kerf=kerf, trim=trim), boxes, 0.0, unit="boxes")
    assert stock.board_for(boxes + 1, strip=strip, kerf=kerf, trim=trim) > board
    if boxes:
        assert stock.board_for(boxes, strip=strip, kerf=kerf, trim=trim) <= board + 1e-9


@BY_HAND.of(stock.board_feet)
@pytest.mark.parametrize(
    ("thickness", "width", "length", "feet", "places"),
    [  # inches
        pytest.param(1, 9, 96, 6, 1e-9, id="144 cubic inches, 1 by 9 by 96", marks=BOARD_FOOT.of(stock.board_feet)),
        pytest.param(1, 6, 96, 4, 1e-9, id="1 by 6 by 96", marks=BOARD_FOOT.of(stock.board_feet)),
        pytest.param(1, 4.5, 96, 3, 1e-9, id="worked value, rough board"),
        pytest.param(1, 4.25, 33.375, 0.985, 5e-4, id="worked value, strip"),
    ],
)
def test_board_feet(thickness: float, width: float, length: float, feet: float, places: float) -> None:
    found = stock.board_feet(length=length * INCH, width=width * INCH, thickness=thickness * INCH)
    agree(found, feet, places, unit="board ft")


@BY_HAND.of(stock.cubic_metres)
def test_cubic_metres() -> None:
    agree(stock.cubic_metres(length=839.6, width=95, thickness=27), 0.00215, 5e-6, unit="m³")  # worked value


PIECES = st.lists(
    st.builds(
        Piece,
        name=st.sampled_from("abc"),
        length=st.sampled_from([200.0, 260.0, 265.6, 400.0, 610.0]),
        width=st.sampled_from([60.0, 95.0]),
        thickness=st.sampled_from([15.0, 20.0]),
        wood=st.sampled_from([None, "oak", "beech"]),
    ),
    max_size=5,
)
RACK = st.lists(
    st.builds(
        Board,
        name=st.sampled_from("ABC"),
        length=st.sampled_from([300.0, 500.0, 640.0, 900.0]),
        width=st.sampled_from([70.0, 100.0]),
        thickness=st.sampled_from([16.0, 27.0]),
        count=st.integers(1, 2),
        wood=st.sampled_from([None, "oak", "beech"]),
    ),
    max_size=2,
)

Cost = tuple[float, ...]


def borrowed(board: Board, piece: Piece) -> float:
    """Return what a piece of a named wood takes from a board of which the wood is not said, mm³."""
    return piece.length * piece.width * piece.thickness * (piece.wood is not None and board.wood is None)


def planed(board: Board, piece: Piece) -> float:
    """Return what is planed off a piece as it comes from its board, mm³."""
    return piece.length * piece.width * (board.thickness - piece.thickness)


def cost(opened: list[tuple[Board, list[Piece]]], missing: list[Piece]) -> Cost:
    """Return missing wood, wood from boards of no named wood, wood planed away, wood opened, boards opened."""
    return (
        round(sum(piece.volume for piece in missing), 3),
        round(sum(borrowed(board, piece) for board, inside in opened for piece in inside), 3),
        round(sum(planed(board, piece) for board, inside in opened for piece in inside), 3),
        round(sum(board.volume for board, _ in opened), 3),
        len(opened),
    )


def suits(board: Board, piece: Piece) -> bool:
    wood = piece.wood is None or board.wood is None or piece.wood == board.wood
    return wood and piece.width <= board.width and piece.thickness <= board.thickness


def fits(board: Board, pieces: list[Piece], kerf: float, trim: float) -> bool:
    length = sum(piece.length for piece in pieces) + kerf * (len(pieces) - 1)
    return all(suits(board, piece) for piece in pieces) and length <= board.length - 2 * trim + 1e-9


def least_cost(pieces: list[Piece], rack: list[Board], kerf: float, trim: float) -> Cost:
    """Return the least cost of all ways to give each piece a board, or none."""
    boards = [board for board in rack for _ in range(board.count)]
    found = []
    for places in itertools.product(range(len(boards) + 1), repeat=len(pieces)):
        filled = [
            [piece for piece, at in zip(pieces, places, strict=True) if at == number] for number in range(len(boards))
        ]
        if all(not inside or fits(board, inside, kerf, trim) for board, inside in zip(boards, filled, strict=True)):
            opened = [(board, inside) for board, inside in zip(boards, filled, strict=True) if inside]
            missing = [piece for piece, at in zip(pieces, places, strict=True) if at == len(boards)]
            found.append(cost(opened, missing))
    return min(found)


def cost_of(plan: CuttingPlan) -> Cost:
    return cost([(cut.board, list(cut.pieces)) for cut in plan.boards], list(plan.missing))


@SEARCHED.of(stock.cutting_plan)
@settings(deadline=None)
@given(PIECES, RACK, st.sampled_from([0.0, 3.2]), st.sampled_from([0.0, 15.0]))
def test_no_way_beats_the_plan(pieces: list[Piece], rack: list[Board], kerf: float, trim: float) -> None:
    plan = stock.cutting_plan(pieces, rack, kerf=kerf, trim=trim)
    assert plan.best
    assert cost_of(plan) == least_cost(pieces, rack, kerf, trim)


def least_by_milp(pieces: list[Piece], rack: list[Board], kerf: float, trim: float) -> tuple[float, ...]:
    """Return missing, borrowed, planed and opened volumes, in mm³ · 1e-6, each the least that those before leave.

    Found by an independent solver (HiGHS).
    """
    boards = [board for board in rack for _ in range(board.count)]
    shape = (len(pieces), len(boards))
    # Unknown: piece p comes from board b; then piece p is missing; then board b is opened.
    count = shape[0] * shape[1] + shape[0] + shape[1]
    placed = np.zeros((shape[0], count))
    room = np.zeros((shape[1], count))
    most = np.ones(count)
    absent, lent, shavings, wood = (np.zeros(count) for _ in range(4))
    for p, piece in enumerate(pieces):
        placed[p, shape[0] * shape[1] + p] = 1
        absent[shape[0] * shape[1] + p] = piece.volume / 1e6
        for b, board in enumerate(boards):
            at = p * shape[1] + b
            placed[p, at] = 1
            room[b, at] = piece.length + kerf
            most[at] = suits(board, piece)
            lent[at], shavings[at] = borrowed(board, piece) / 1e6, max(0.0, planed(board, piece)) / 1e6
    for b, board in enumerate(boards):
        room[b, count - shape[1] + b] = -(board.length - 2 * trim + kerf)
        wood[count - shape[1] + b] = board.volume / 1e6
    rules = [LinearConstraint(placed, 1, 1), LinearConstraint(room, -np.inf, 0)]
    found = []
    for prices in (absent, lent, shavings, wood):  # each with no more of those before than can be
        solved = milp(
            prices, constraints=rules, integrality=np.ones(count), bounds=Bounds(0, most), options={"mip_rel_gap": 0}
        )
        found.append(float(prices @ solved.x.round()))
        rules.append(LinearConstraint(prices, 0, found[-1] + 1e-7))
    return tuple(found)


@SEARCHED.of(stock.cutting_plan)
@pytest.mark.parametrize("seed", [*range(20), 81, 102])
def test_a_solver_finds_nothing_better(seed: int) -> None:
    dice = np.random.default_rng(seed)
    woods = [None, "oak", "beech"] if seed % 2 else [None]
    pieces = [
        Piece(
            str(number),
            int(dice.integers(20, 75)) * 10,
            int(dice.choice([60, 95])),
            int(dice.choice([15, 20])),
            woods[int(dice.integers(len(woods)))],
        )
        for number in range(int(dice.integers(6, 11)))
    ]
    rack = [
        Board(name, int(dice.integers(60, 200)) * 10, int(dice.choice([70, 100])), int(dice.choice([16, 27])), 3, wood)
        for name, wood in zip("ABC", woods * 3, strict=False)
    ]
    plan = stock.cutting_plan(pieces, rack, kerf=3.2, trim=15, effort=1_000_000)
    assert plan.best
    agree(tuple(value / 1e6 for value in cost_of(plan)[:4]), least_by_milp(pieces, rack, 3.2, 15), 1e-6, unit="l")


def test_a_piece_comes_from_its_own_wood_and_from_the_thinnest_board_that_is_thick_enough() -> None:
    bottom, side = Piece("bottom", 300, 90, 13, "walnut"), Piece("side", 300, 90, 15, "cherry")
    thick, thin = Board("thick", 1500, 160, 21, wood="walnut"), Board("thin", 400, 100, 13, wood="walnut")
    other, nameless = Board("other", 1500, 160, 13, wood="mahogany"), Board("nameless", 1500, 100, 13)
    rack = [other, nameless, thick, thin]

    def found(piece: Piece, *boards: Board) -> str | None:
        plan = stock.cutting_plan([piece], boards, kerf=3.2, trim=15)
        return plan.boards[0].board.name if plan.boards else None

    assert found(bottom, *rack) == "thin"
    assert found(bottom, other, nameless, thick) == "thick"  # the right wood before the right thickness
    assert found(bottom, other, nameless) == "nameless"
    assert found(bottom, other) is None
    assert found(side, *rack) is None  # too thin, or walnut
    assert found(Piece("handle", 300, 90, 13), other) == "other"  # of no named wood
    # what is opened already, and thicker, does not take the piece from the board that is meant for it
    plan = stock.cutting_plan([Piece("lid", 400, 150, 21, "walnut"), bottom], rack, kerf=3.2, trim=15)
    assert {cut.board.name: [piece.name for piece in cut.pieces] for cut in plan.boards} == {
        "thick": ["lid"],
        "thin": ["bottom"],
    }


@BY_HAND.of(stock.cost, stock.waste)
def test_cost_and_waste() -> None:
    """2.4 m × 100 × 15 mm is 0.0036 m³: at 4200 the m³ it costs 15.12. Parts of 3 of 5 used leave 40 % waste."""
    agree(stock.cost(volume=2400 * 100 * 15, price=4200, per=1e9), 15.12, 1e-9, unit="")
    agree(stock.cost(volume=144 * 25.4**3, price=12, per=stock.CUBIC_MM_PER_BOARD_FOOT), 12.0, 1e-9, unit="")
    agree([stock.waste(used=5, parts=3), stock.waste(used=5, parts=5)], [0.4, 0.0], 1e-12, unit="")
    with pytest.raises(ValueError, match="parts"):
        stock.waste(used=5, parts=5.1)


@BY_HAND.of(stock.gives)
def test_a_board_of_just_the_rough_thickness_will_do() -> None:
    """In floats 1/4 in and 2/16 in are a hair more than 3/8 in."""
    thick = 0.25 * 25.4 + 2 * 25.4 / 16
    piece = Piece("bottom", 200, 100, thick)
    given = [stock.gives(Board("any", 400, 100, size), piece) for size in (9.525, 9.5)]
    agree([float(one) for one in given], [1.0, 0.0], 0.0, unit="")


@settings(deadline=None)
@given(PIECES, RACK, st.sampled_from([0.0, 3.2]), st.sampled_from([0.0, 15.0]), st.sampled_from([1, 6, 10_000]))
def test_a_plan_can_be_cut(pieces: list[Piece], rack: list[Board], kerf: float, trim: float, effort: int) -> None:
    plan = stock.cutting_plan(pieces, rack, kerf=kerf, trim=trim, effort=effort)
    cut = [piece for board in plan.boards for piece in board.pieces]
    assert sorted(map(repr, [*cut, *plan.missing])) == sorted(map(repr, pieces))
    for board in rack:
        used = sum(opened.board is board for opened in plan.boards)
        assert used <= board.count
    for opened in plan.boards:
        assert opened.pieces
        assert fits(opened.board, list(opened.pieces), kerf, trim)
        taken = sum(piece.length + kerf for piece in opened.pieces)
        assert opened.offcut == pytest.approx(max(0, opened.board.length - 2 * trim - taken))


def test_a_piece_as_wide_and_thick_and_long_as_its_board_comes_out_of_it() -> None:
    piece, board = Piece("side", 240.6, 89.5, 12), Board("offcut", 270.6, 89.5, 12)
    assert (piece.volume, board.section, board.volume) == pytest.approx((258404.4, 1074, 290624.4))
    plan = stock.cutting_plan([piece], [board], kerf=3.2, trim=15)
    assert (plan.missing, plan.boards) == ((), (stock.CutBoard(board, (piece,), 0),))


def test_a_class_of_boxes_alike_is_planned_at_once() -> None:
    # Worked value: two strips come out of a board of 2400, so eight students need four boards.
    strips = [Piece("strip", 812, 95, 15)] * 8
    plan = stock.cutting_plan(strips, [Board("rack", 2400, 100, 27, 10)], kerf=3.2, trim=15)
    assert plan.best
    assert [len(board.pieces) for board in plan.boards] == [2, 2, 2, 2]
    assert plan.boards[0].offcut == pytest.approx(2400 - 30 - 2 * 815.2)


def test_the_best_plan_can_differ_from_the_longest_first() -> None:
    # Longest first fills 6 + 2 and needs a third board; 6 + 4 and 5 + 3 + 2 fill two.
    pieces = [Piece(str(length), length * 100, 90, 15) for length in (6, 5, 4, 3, 2)]
    plan = stock.cutting_plan(pieces, [Board("rack", 1000, 100, 27, 5)], kerf=0)
    assert plan.best
    assert len(plan.boards) == 2
    assert [board.offcut for board in plan.boards] == [0, 0]


def test_a_search_cut_short_says_so_and_still_plans() -> None:
    pieces = [Piece(str(size), 700 + 17 * size % 90, 95, 15) for size in range(30)]
    rack = [Board("long", 2400, 100, 27, 20), Board("short", 1900, 100, 16, 10)]
    plan = stock.cutting_plan(pieces, rack, kerf=3.2, trim=15, effort=50)
    assert not plan.best
    assert not plan.missing
    assert sum(len(board.pieces) for board in plan.boards) == 30


def test_what_fits_no_board_is_missing() -> None:
    wide, long = Piece("lid", 275, 175, 20), Piece("strip", 842, 95, 15)
    plan = stock.cutting_plan([wide, long], [Board("offcut", 900, 100, 27)], kerf=3.2, trim=15)
    assert plan.missing == (wide,)
    assert [board.pieces for board in plan.boards] == [(long,)]
    assert stock.cutting_plan([wide], [], kerf=3.2).missing == (wide,)
    assert stock.cutting_plan([], [], kerf=3.2) == CuttingPlan((), (), True)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: Piece("side", 0, 90, 12), "length is 0; it must be more than 0"),
        (lambda: Board("rack", 2400, 100, 27, 0), "count is 0; it must be from 1 to inf"),
        (lambda: stock.cutting_plan([], [], kerf=-1), "kerf is -1; it must be at least 0"),
        (lambda: stock.strip_pieces([("side", -1)], kerf=3), "length is -1; it must be more than 0"),
        (lambda: stock.board_for(0, strip=800, kerf=3), "boxes is 0"),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


def test_pieces_are_cut_longest_widest_thickest_first() -> None:
    short, long = Piece("short", 200, 90, 15), Piece("long", 400, 60, 12)
    wide, thick = Piece("wide", 200, 95, 12), Piece("thick", 200, 90, 20)
    plan = stock.cutting_plan([short, thick, wide, long], [Board("rack", 2400, 100, 27)], kerf=3.2)
    assert plan.boards[0].pieces == (long, wide, thick, short)


def test_a_board_is_one_unless_told() -> None:
    whole = Piece("whole", 900, 90, 15)
    plan = stock.cutting_plan([whole, whole], [Board("rack", 900, 100, 27)], kerf=3.2)
    assert (len(plan.boards), plan.missing) == (1, (whole,))


def test_what_only_the_rounding_of_floats_parts_still_comes_out() -> None:
    # in floats 0.3 - 0.2 is less than 0.1
    pieces = [Piece("a", 0.2, 1, 1), Piece("b", 0.1, 1, 1)]
    assert stock.cutting_plan(pieces, [Board("rack", 0.3, 1, 1)], kerf=0).missing == ()
    for boxes in range(1, 40):
        board = stock.board_for(boxes, strip=0.7, kerf=0.1, trim=0.3)
        assert stock.boxes_per_board(board=board, strip=0.7, kerf=0.1, trim=0.3) == boxes


def test_a_search_of_no_steps_is_refused() -> None:
    with pytest.raises(ValueError, match="effort is 0; it must be from 1 to inf"):
        stock.cutting_plan([], [], kerf=3.2, effort=0)


# -- plywood


@PRACTICE.of(stock.is_sheet)
@pytest.mark.parametrize(
    ("called", "is_one"),
    [("plywood", True), ("birch plywood", True), ("6 mm Ply", True), ("black cherry", False), (None, False)],
)
def test_what_is_called_plywood(called: str | None, is_one: bool) -> None:
    assert stock.is_sheet(called) == is_one
    assert not stock.is_sheet("multiply")


@PRACTICE.of(stock.gives)
@pytest.mark.parametrize(
    ("wood", "thickness", "comes"),
    [
        ("plywood", 5.6, True),
        ("birch plywood", 6.0, True),  # by the size it is sold as
        ("birch plywood", 5.35, True),  # and a hair thicker than that
        ("plywood", 5.0, False),
        ("plywood", 9.0, False),  # it can't be planed
        ("black cherry", 6.0, False),
        (None, 6.0, False),  # of a board whose wood is not said nobody knows that it is a sheet
    ],
)
def test_plywood_comes_from_plywood_about_as_thick(wood: str | None, thickness: float, comes: bool) -> None:
    board = Board("any", 600, 300, thickness, wood=wood)
    assert stock.gives(board, Piece("bottom", 212, 142, 5.6, "plywood")) == comes


@PRACTICE.of(stock.gives)
@pytest.mark.parametrize("wood", ["black cherry", None])
def test_nothing_else_comes_from_plywood(wood: str | None) -> None:
    assert not stock.gives(Board("sheet", 600, 300, 18, wood="plywood"), Piece("lid", 235, 165, 6, wood))


@SEARCHED.of(stock.cutting_plan)
def test_a_sheet_and_boards_in_one_rack() -> None:
    """Each from its own, though the sheet is the thinnest board that is thick enough for the lid."""
    rack = [Board("sheet", 600, 300, 9, wood="plywood"), Board("board", 600, 300, 25, wood=None)]
    pieces = [Piece("lid", 235, 165, 8, None), Piece("bottom", 212, 142, 8.6, "plywood")]
    made = stock.cutting_plan(pieces, rack, kerf=3.2, trim=15)
    assert {b.board.name: [piece.name for piece in b.pieces] for b in made.boards} == {
        "sheet": ["bottom"],
        "board": ["lid"],
    }
    assert made.missing == ()


@PRACTICE.of(stock.gives)
def test_the_limits_of_how_a_sheet_is_sold() -> None:
    """Sold as 1/16 in thicker than it measures, or 0.3 mm thinner, and no more; both limits are within."""
    piece = Piece("bottom", 200, 140, 6.0, "plywood")
    spares = {1.58: True, 25.4 / 16: True, 1.6: False, -0.3: True, -0.31: False}
    assert {more: stock.gives(Board("s", 400, 300, 6.0 + more, wood="ply"), piece) for more in spares} == spares


@BY_HAND.of(stock.cutting_plan)
def test_least_is_planed_away_over_all_pieces() -> None:
    """Worked values: boards of 14 and 20 hold one piece each. The larger face, 500 by 100, belongs on the thin one,
    though the other is longer and comes first: 50 000·8 + 36 000·8 is planed so, 50 000·14 + 36 000·2 the other way."""
    long, wide = Piece("long", 600, 60, 12.0), Piece("wide", 500, 100, 6.0)
    plan = stock.cutting_plan([long, wide], [Board("thin", 600, 100, 14), Board("thick", 600, 100, 20)], kerf=3)
    assert {opened.board.name: [piece.name for piece in opened.pieces] for opened in plan.boards} == {
        "thin": ["wide"],
        "thick": ["long"],
    }


@BY_HAND.of(stock.cutting_plan)
def test_a_planed_board_counts_as_the_rough_one_that_would_do() -> None:
    """Worked values: 12 thick with 3 planed off is as good as one of 15, and thicker than a rough one of 14."""
    assert Board("planed", 600, 100, 12, planed=3).as_rough == 15
    piece = Piece("side", 500, 90, 13.0)
    rack = [Board("planed", 600, 100, 12, planed=3), Board("rough", 600, 100, 14)]
    for boards in (rack, rack[::-1]):
        [opened] = stock.cutting_plan([piece], boards, kerf=3).boards
        assert opened.board.name == "rough"


@BY_HAND.of(stock.waste)
def test_waste_down_to_none() -> None:
    agree(
        (stock.waste(used=2, parts=2), stock.waste(used=2, parts=0.5)),
        (0, 0.75),
        unit="",
    )
    assert stock.waste(used=1, parts=1 + 5e-10) == 0  # no less than none
