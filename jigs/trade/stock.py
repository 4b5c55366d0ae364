"""From finished sizes to boards: rough sizes, strips with the grain running round, cutting plans.

Lengths in mm. Boards and pieces have length, width and thickness; a piece comes out of a board of its wood that
is at least as wide and as thick, and is ripped and planed to size, so that only lengths are shared out.

The search is written here, for the solvers that could do it are heavy (SciPy, whose HiGHS the tests hold it
against, takes 140 MB installed), and the packers in pure Python guess (`binpacking`) or fill two dimensions
(`rectpack`).
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence

from jigs.record import Record
from jigs.trade.limits import not_negative, positive, within

CUBIC_MM_PER_BOARD_FOOT = 144 * 25.4**3
"""A board foot is 144 cubic inches."""

EFFORT = 10_000
"""Steps after which the search stops with the best plan it has; thirty unlike pieces take as many."""

SOLD_OVER, SOLD_UNDER = 25.4 / 16, 0.3
"""A sheet measures less than it is sold as, or more, by so much at most (common practice, no source), mm."""

_SAME = 1e-9  # lengths that differ by less are equal but for the rounding of floats


class Piece(Record):
    """A piece to cut, at its rough size. `wood` is None where any will do."""

    name: str
    length: float
    width: float
    thickness: float
    wood: str | None = None

    def __post_init__(self) -> None:
        positive(length=self.length, width=self.width, thickness=self.thickness)

    @property
    def volume(self) -> float:
        """Its volume in mm³."""
        return self.length * self.width * self.thickness


class Board(Record):
    """Boards in the rack, `count` of them alike. `wood` is None where it is not said; `called` is the maker's own name.

    `planed` is what need not be planed off its faces any more, mm: so much thinner than a rough piece it may be.

    Woods are compared letter by letter: who calls one wood by two names makes them one before.
    """

    name: str
    length: float
    width: float
    thickness: float
    count: int = 1
    wood: str | None = None
    called: str | None = None
    planed: float = 0.0

    def __post_init__(self) -> None:
        positive(length=self.length, width=self.width, thickness=self.thickness)
        not_negative(planed=self.planed)
        within(1, math.inf, count=self.count)

    @property
    def as_rough(self) -> float:
        """The thickness of a rough board that would do as well, mm."""
        return self.thickness + self.planed

    @property
    def section(self) -> float:
        """Its cross-section in mm²."""
        return self.width * self.thickness

    @property
    def volume(self) -> float:
        """The volume of one in mm³."""
        return self.length * self.section


class CutBoard(Record):
    """One board of a plan: its pieces in cutting order and the offcut that stays, 0 if there is none."""

    board: Board
    pieces: tuple[Piece, ...]
    offcut: float


class CuttingPlan(Record):
    """Which pieces come from which boards. `missing` are those the rack has no room for.

    `best` is True if no plan is better, in the order of `cutting_plan`; False if the search was stopped before it
    could tell.
    """

    boards: tuple[CutBoard, ...]
    missing: tuple[Piece, ...]
    best: bool


class StripPiece(Record):
    """A piece of a strip: from and to, measured from the strip's left end."""

    name: str
    start: float
    end: float


def rough_size(
    *, length: float, width: float, thickness: float, spare_length: float, spare_width: float, planing: float
) -> tuple[float, float, float]:
    """Return the rough length, width and thickness of a piece cut on its own; `planing` is taken off each face."""
    positive(length=length, width=width, thickness=thickness)
    not_negative(spare_length=spare_length, spare_width=spare_width, planing=planing)
    return length + spare_length, width + spare_width, thickness + 2 * planing


def strip_length(*, length: float, width: float, proud: float, kerf: float, trim: float = 0.0) -> float:
    """Return the strip for the four sides of a box in the order they stand in, the grain running round.

    Two boards of length + 2·proud, two of width + 2·proud and three cuts between them, and `trim` at each
    end. The grain runs round three corners; at the fourth the strip's two ends meet.
    """
    positive(length=length, width=width)
    not_negative(proud=proud, kerf=kerf, trim=trim)
    return 2 * (length + width + 4 * proud) + 3 * kerf + 2 * trim


def strip_pieces(lengths: Sequence[tuple[str, float]], *, kerf: float, trim: float = 0.0) -> tuple[StripPiece, ...]:
    """Return where the pieces, given as (name, length) in their order, lie in a strip."""
    not_negative(kerf=kerf, trim=trim)
    placed: list[StripPiece] = []
    for name, length in lengths:
        positive(length=length)
        start = placed[-1].end + kerf if placed else trim
        placed.append(StripPiece(name, start, start + length))
    return tuple(placed)


def resawn_length(*, length: float, width: float, proud: float, kerf: float, trim: float = 0.0) -> float:
    """Return the stick that, sawn open like a book, makes a box with the grain running round all corners.

    One long and one short board as cut, the cut between them, and `trim` at each end.
    """
    positive(length=length, width=width)
    not_negative(proud=proud, kerf=kerf, trim=trim)
    return length + width + 4 * proud + kerf + 2 * trim


def resawn_thickness(*, thickness: float, kerf: float, planing: float) -> float:
    """Return the thickness of that stick: two boards, the cut between them, and `planing` off each of four faces."""
    positive(thickness=thickness)
    not_negative(kerf=kerf, planing=planing)
    return 2 * thickness + kerf + 4 * planing


def boxes_per_board(*, board: float, strip: float, kerf: float, trim: float = 0.0) -> int:
    """Return how many strips (without trims) come out of a board: n·strip + (n − 1)·kerf ≤ board − 2·trim."""
    positive(board=board, strip=strip)
    not_negative(kerf=kerf, trim=trim)
    return max(0, math.floor((board - 2 * trim + kerf) / (strip + kerf) + 1e-9))


def board_for(boxes: int, *, strip: float, kerf: float, trim: float = 0.0) -> float:
    """Return the shortest board that gives so many strips."""
    within(1, math.inf, boxes=boxes)
    positive(strip=strip)
    not_negative(kerf=kerf, trim=trim)
    return boxes * strip + (boxes - 1) * kerf + 2 * trim


def board_feet(*, length: float, width: float, thickness: float) -> float:
    """Return board feet: 144 cubic inches each, of the rough size, given in mm."""
    return 1e9 * cubic_metres(length=length, width=width, thickness=thickness) / CUBIC_MM_PER_BOARD_FOOT


def cubic_metres(*, length: float, width: float, thickness: float) -> float:
    """Return the volume in m³ of a size in mm."""
    positive(length=length, width=width, thickness=thickness)
    return length * width * thickness / 1e9


def cost(*, volume: float, price: float, per: float) -> float:
    """Return what a volume costs at the price of another, `per`: both in one unit."""
    positive(volume=volume, per=per)
    not_negative(price=price)
    return volume / per * price


def waste(*, used: float, parts: float) -> float:
    """Return the share of the wood used that is in no part: 1 − parts/used, of volumes in one unit."""
    positive(used=used, parts=parts)
    within(0, used * (1 + 1e-9), parts=parts)
    return max(0.0, 1 - parts / used)


def cutting_plan(
    pieces: Sequence[Piece], boards: Sequence[Board], *, kerf: float, trim: float = 0.0, effort: int = EFFORT
) -> CuttingPlan:
    """Return the plan that leaves least missing, and of those the one that wastes least.

    A piece comes from a board of its own wood, or from one whose wood is not said; a piece of no named wood comes from
    any; but of plywood see `gives`. Less waste is, in this order: less cut from boards of no named wood that is to be
    of a named one; less planed away, so that a piece comes from the thinnest board that is thick enough; less wood
    opened; fewer boards opened.

    A board of length l gives pieces while their lengths and a kerf between each two are at most l − 2·trim.
    All ways are searched, longest pieces first, each where it wastes least and then in the order of least room, and a
    way is left once it can't become better than the best so far: the first found is so what a maker would do by
    hand. After `effort` steps the search stops (see `CuttingPlan.best`). The answer depends on nothing but
    the arguments.
    """
    not_negative(kerf=kerf, trim=trim)
    within(1, math.inf, effort=effort)
    search = _Search(sorted(pieces, key=_longest_first), list(boards), kerf, trim)
    best = search.run(effort)
    cut = tuple(
        CutBoard(search.rack[opened.kind], opened.pieces, max(0.0, opened.room)) for opened in search.best.opened
    )
    return CuttingPlan(cut, search.best.missing, best)


SHEET = "plywood"
"""What a sheet is called that has no other name."""


def is_sheet(wood: str | None) -> bool:
    """Say whether what a wood is called is plywood: "birch plywood", "6 mm ply"."""
    return wood is not None and re.search(r"\bply(wood)?\b", wood, re.IGNORECASE) is not None


def gives(board: Board, piece: Piece) -> bool:
    """Say whether a piece comes out of a board by its wood, its width and its thickness.

    Plywood comes from plywood alone, whatever its faces are, and nothing else does. It is not planed: its board is as
    thick as the piece, or is listed by the size that it is sold as.
    """
    spare = board.as_rough - piece.thickness
    wide = board.width >= piece.width - _SAME
    if is_sheet(piece.wood) or is_sheet(board.wood):
        both = is_sheet(piece.wood) and is_sheet(board.wood)
        return wide and both and -SOLD_UNDER - _SAME <= spare <= SOLD_OVER + _SAME
    return wide and spare >= -_SAME and (piece.wood is None or board.wood in (None, piece.wood))


def _longest_first(piece: Piece) -> tuple[float, float, float, str, str]:
    return -piece.length, -piece.width, -piece.thickness, piece.name, piece.wood or ""


class _Waste(Record):
    """What a plan would rather not do, mm³: take a named wood from a board of none, and plane wood away."""

    borrowed: float = 0.0
    planed: float = 0.0

    def __add__(self, other: _Waste) -> _Waste:
        return _Waste(self.borrowed + other.borrowed, self.planed + other.planed)

    @property
    def key(self) -> tuple[float, float]:
        """To compare by: sums of floats in another order are the same."""
        return round(self.borrowed, 2), round(self.planed, 2)


def _waste(board: Board, piece: Piece) -> _Waste:
    if is_sheet(piece.wood):
        return _Waste()  # as it is listed thicker, it is so by name: nothing is planed away
    borrowed = piece.volume if piece.wood is not None and board.wood is None else 0.0
    return _Waste(borrowed, piece.length * piece.width * max(0.0, board.as_rough - piece.thickness))


class _Opened(Record):
    """A board that is being filled: its number in the rack, the room that is left and what is in it."""

    kind: int
    room: float
    pieces: tuple[Piece, ...] = ()


class _Way(Record):
    """The first `placed` pieces shared out: into opened boards, or missing."""

    placed: int
    opened: tuple[_Opened, ...]
    missing: tuple[Piece, ...]
    waste: _Waste

    def key(self) -> tuple[object, ...]:
        """Return what it takes to go on from here. Boards of one kind with the same room are alike."""
        return (
            self.placed,
            tuple(sorted((board.kind, round(board.room, 6)) for board in self.opened)),
            self.missing,
            self.waste.key,
        )


class _Search:
    """Depth-first search, with a bound, over the ways to put sorted pieces into boards."""

    def __init__(self, pieces: list[Piece], rack: list[Board], kerf: float, trim: float) -> None:
        self.pieces, self.rack, self.kerf, self.trim = pieces, rack, kerf, trim
        wastes = [self.wastes(piece) for piece in pieces]
        # What no way can do without for the pieces from each one on: those that no board gives, the volume of the
        # others, and each one's least waste.
        self.never = [sum(p.volume for p, w in self.after(at, wastes) if not w) for at in range(len(pieces) + 1)]
        self.to_place = [sum(p.volume for p, w in self.after(at, wastes) if w) for at in range(len(pieces) + 1)]
        self.least_waste = [
            _Waste(
                sum(min(one.borrowed for one in w) for _, w in self.after(at, wastes) if w),
                sum(min(one.planed for one in w) for _, w in self.after(at, wastes) if w),
            )
            for at in range(len(pieces) + 1)
        ]
        self.best = _Way(len(pieces), (), tuple(pieces), _Waste())

    def wastes(self, piece: Piece) -> list[_Waste]:
        """Return what each board that gives the piece would waste."""
        return [_waste(board, piece) for kind, board in enumerate(self.rack) if self.takes(self.new(kind), piece)]

    def after(self, at: int, wastes: list[list[_Waste]]) -> list[tuple[Piece, list[_Waste]]]:
        """Return the pieces from one on with what the boards that give them would waste."""
        return list(zip(self.pieces[at:], wastes[at:], strict=True))

    def run(self, effort: int) -> bool:
        """Search all ways; return False if that would take more than `effort` steps."""
        waiting = [_Way(0, (), (), _Waste())]
        seen = set()
        best_cost = self.least_cost(self.best)
        while waiting:
            way = waiting.pop()
            cost, key = self.least_cost(way), way.key()
            if cost >= best_cost or key in seen:
                continue
            if effort == 0:
                return False
            effort -= 1
            seen.add(key)
            if way.placed == len(self.pieces):
                self.best, best_cost = way, cost
            else:
                waiting.extend(reversed(list(self.next_ways(way))))
        return True

    def least_cost(self, way: _Way) -> tuple[float, tuple[float, float], float, int]:
        """Return a cost that no way to go on can beat: missing volume, waste, opened volume, boards opened.

        What does not go into the room that is left must open at least its own volume of new wood, or be
        missing. Room too short for the shortest piece, which comes last, is no room.
        """
        shortest = self.pieces[-1].length - _SAME if self.pieces else 0.0
        wood = sum(self.rack[board.kind].volume for board in way.opened)
        room = sum(board.room * self.rack[board.kind].section for board in way.opened if board.room >= shortest)
        absent = sum(piece.volume for piece in way.missing) + self.never[way.placed]
        waste = way.waste + self.least_waste[way.placed]
        opened = wood + max(0.0, self.to_place[way.placed] - room)
        return round(absent, 2), waste.key, round(opened, 2), len(way.opened)

    def next_ways(self, way: _Way) -> Iterator[_Way]:
        """Yield the ways to go on with one more piece.

        It goes where it wastes least; there into an opened board, the fullest first, or into a new one, the least
        first; or else it is missing.
        """
        piece, opened, placed = self.pieces[way.placed], way.opened, way.placed + 1
        choices = []
        for number, board in enumerate(opened):
            if self.takes(board, piece):
                filled = (*opened[:number], self.filled(board, piece), *opened[number + 1 :])
                choices.append((_waste(self.rack[board.kind], piece), (0, board.room), filled))
        for kind, board_of_it in enumerate(self.rack):
            in_use = sum(board.kind == kind for board in opened)
            if in_use < board_of_it.count and self.takes(self.new(kind), piece):
                filled = (*opened, self.filled(self.new(kind), piece))
                choices.append((_waste(board_of_it, piece), (1, board_of_it.volume), filled))
        for waste, _, filled in sorted(choices, key=lambda choice: (choice[0].key, choice[1])):
            yield _Way(placed, filled, way.missing, way.waste + waste)
        yield _Way(placed, opened, (*way.missing, piece), way.waste)

    def new(self, kind: int) -> _Opened:
        """Return a board of the rack with its trims off and nothing in it."""
        return _Opened(kind, self.rack[kind].length - 2 * self.trim)

    def takes(self, opened: _Opened, piece: Piece) -> bool:
        """Say whether a piece comes out of what is left of a board."""
        return gives(self.rack[opened.kind], piece) and piece.length <= opened.room + _SAME

    def filled(self, opened: _Opened, piece: Piece) -> _Opened:
        """Return a board with one more piece in it, and the kerf that parts it from what is left."""
        return _Opened(opened.kind, opened.room - piece.length - self.kerf, (*opened.pieces, piece))
