"""The cut, seating by seating, and the joint that comes of it. Errors go in as the numbers they really are.

A wrong gap, cutter, key or shim is a `Setup` with the wrong numbers; a wrong spacer or a board that was not
flush in the stack is a `Blank` with another offset; a board not pushed home is a seating above 0; mixed
batches are boards of two cuts; a board cut from the wrong edge is `turned`. Any one unit of length;
degrees.
"""

import math
from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Literal

from jigs.record import Record
from jigs.trade.fingers import TOUCH, Span, fingers_between
from jigs.trade.limits import finite, positive, under

if TYPE_CHECKING:
    from shapely import Polygon

Side = Literal["long", "short"]


class Setup(Record):
    """The sled as it stands. `gap`: key face to cutter's near side; `out_of_square` in degrees.

    `shims` are laid between key and wood, one for each pass that makes a socket: (0.0,) for a single pass,
    (shift, 0.0) for a near and a far cut.
    """

    gap: float
    cutter: float
    key: float
    shims: tuple[float, ...] = (0.0,)
    out_of_square: float = 0.0


class Blank(Record):
    """A board before the cut; `offset` is what lies between edge and key at first (a short's spacer)."""

    width: float
    thickness: float
    offset: float = 0.0


class Board(Record):
    """A board after the cut. Sockets are measured at half its thickness; cheeks slant by `slant` degrees."""

    width: float
    thickness: float
    sockets: tuple[Span, ...]
    slant: float = 0.0

    @property
    def fingers(self) -> tuple[Span, ...]:
        """The wood between the sockets, from the reference edge up."""
        return fingers_between(self.width, self.sockets)


class Cheek(Record):
    """Two cheeks that meet, on the `long_side` of the long's finger; a `gap` below 0 is overlap."""

    place: float
    long_side: Literal["top", "bottom"]
    gap: float


class Strip(Record):
    """A finger or socket of one of the two boards that the maker should know about."""

    board: Side
    span: Span


class Mating(Record):
    """How two boards go together, at `flush` (how far the short sits towards the top of the long).

    No finger overlaps another for any flush from `flush_low` to `flush_high`, `clearance` apart; below 0
    there is no such flush. A bound is infinite where no cheek makes one. It `closes` if it does so without
    force, and within half a finger of flush: further off, the boards belong one place on, or are turned.
    `top_step` is the same as `flush`, at the top edges.
    """

    closes: bool
    clearance: float
    flush_low: float
    flush_high: float
    flush: float
    top_step: float
    cheeks: tuple[Cheek, ...]
    slivers: tuple[Strip, ...]
    nicks: tuple[Strip, ...]
    open_sockets: tuple[Strip, ...]
    last_fingers: tuple[float, float]  # uppermost finger of the long, of the short

    @property
    def void(self) -> float:
        """The gaps between cheeks, added up."""
        return sum(max(0.0, cheek.gap) for cheek in self.cheeks)

    @property
    def overlap(self) -> float:
        """What the cheeks want of each other's wood, added up: what would have to be crushed."""
        return sum(max(0.0, -cheek.gap) for cheek in self.cheeks)


def cut(
    setup: Setup, blanks: Sequence[Blank], seatings: Sequence[float] = (), steps: int | None = None
) -> tuple[Board, ...]:
    """Cut `blanks` together in one stack and return the boards.

    Each pass cuts [gap, gap + cutter] from the key face. The wood first butts the key with its edge, and
    then with the far side of the last socket; `seatings` says for every pass, in order, how far the wood
    stopped short of the key (0: pushed home; missing ones are 0). A socket that sits on the key allows at
    most what it is wider than key and shim; the next cut then comes that much too near. `steps` is the
    number of sockets, by default as many as reach the wood. Raises ValueError for a seating the key does
    not allow, and for shims that bring the cut over the key.
    """
    positive(gap=setup.gap, cutter=setup.cutter, key=setup.key)
    finite(out_of_square=setup.out_of_square)
    if not setup.shims or not all(0 <= shim < setup.gap for shim in setup.shims):
        raise ValueError(
            f"shims is {setup.shims}; it must hold at least one, each 0 or more and under the gap {setup.gap:g}"
        )
    for blank in blanks:
        positive(width=blank.width, thickness=blank.thickness)
        finite(offset=blank.offset)
    reach = max((blank.width + blank.offset for blank in blanks), default=0.0)
    cuts = list(_cuts(setup, iter(seatings), reach, steps))
    return tuple(Board(blank.width, blank.thickness, _on_board(cuts, blank), setup.out_of_square) for blank in blanks)


def turned(board: Board) -> Board:
    """Return the board top for bottom: what comes of cutting it from the wrong edge."""
    sockets = tuple(Span(board.width - span.end, board.width - span.start) for span in board.sockets[::-1])
    return Board(board.width, board.thickness, sockets, board.slant)


def ripped(board: Board, width: float) -> Board:
    """Return the board with its top edge ripped off after jointing, so that `width` is left."""
    positive(width=width)
    if width > board.width:
        raise ValueError(f"width is {width:g}; the board is only {board.width:g} wide")
    sockets = (Span(span.start, min(width, span.end)) for span in board.sockets)
    kept = tuple(span for span in sockets if span.width > TOUCH)
    return Board(width, board.thickness, kept, board.slant)


def mate(long: Board, short: Board, flush: float | None = None, least: float = 3.0) -> Mating:
    """Put the short into the long, with the play shared evenly unless `flush` is given, and measure.

    Going up the joint, fingers of long and short take turns. Where a short's finger comes above a long's,
    its lower cheek bounds the flush from below; where it comes below one, from above: clearance = least
    upper bound - greatest lower bound. Boards out of square by psi meet with slanting cheeks; each pair
    loses (T_long tan psi_long + T_short tan psi_short) / 2. Two fingers of the same board in a row do not
    bound anything; they show as an open place, or as overlap with the next. Fingers, and sockets at an
    edge, narrower than `least` (default in mm) are slivers and nicks.
    """
    loss = (_slant(long) + _slant(short)) / 2
    bounds = list(_bounds(long.fingers, short.fingers, loss))
    low = max((at for _, side, at in bounds if side == "top"), default=-math.inf)
    high = min((at for _, side, at in bounds if side == "bottom"), default=math.inf)
    if flush is None:
        flush = _middle(low, high)
    cheeks = tuple(Cheek(place, side, flush - at if side == "top" else at - flush) for place, side, at in bounds)
    strips = [(Strip("long", span), long) for span in long.sockets]
    strips += [(Strip("short", span), short) for span in short.sockets]
    wood = [Strip("long", span) for span in long.fingers] + [Strip("short", span) for span in short.fingers]
    half = max((strip.span.width for strip in wood), default=0.0) / 2
    opened = tuple(strip for strip, board in strips if _at_edge(strip.span, board))
    return Mating(
        closes=high - low >= -TOUCH and low < half and high > -half,
        clearance=high - low,
        flush_low=low,
        flush_high=high,
        flush=flush,
        top_step=flush + short.width - long.width,
        cheeks=cheeks,
        slivers=tuple(strip for strip in wood if strip.span.width < least),
        nicks=tuple(strip for strip in opened if strip.span.width < least),
        open_sockets=opened,
        last_fingers=(_last_width(long.fingers), _last_width(short.fingers)),
    )


def face(board: Board, length: float, depth: float) -> "Polygon":
    """Return the face of a board jointed at its end x = 0, as a shapely polygon with y across the width.

    `length` is along the board, `depth` how deep the sockets are cut. Raises ValueError for a depth that is
    not within the length.
    """
    from shapely import Polygon  # noqa: PLC0415 - slow to load, and only faces need it

    positive(depth=depth)
    under(length, depth=depth)
    parts = [(span, 0.0) for span in board.fingers] + [(span, depth) for span in board.sockets]
    parts.sort(key=lambda part: part[0].start)
    jointed_end = [(x, u) for span, x in parts for u in (span.start, span.end)]
    return Polygon([*jointed_end, (length, board.width), (length, 0.0)])


def _cuts(setup: Setup, seatings: Iterator[float], reach: float, steps: int | None) -> Iterator[Span]:
    """Yield the cuts of each step, in the coordinate of a board of offset 0."""
    reference, room, step = 0.0, math.inf, 0
    nearest = setup.gap - max(setup.shims)
    while reference + nearest < reach - TOUCH if steps is None else step < steps:
        passes = []
        for shim in setup.shims:
            short_of = next(seatings, 0.0)
            if not 0 <= short_of <= room - shim + TOUCH:
                raise ValueError(
                    f"seatings: step {step + 1} stops {short_of:g} short of the key; the last socket allows "
                    f"0 to {room - shim:g}"
                )
            start = reference + setup.gap - shim - short_of
            passes.append(Span(start, start + setup.cutter))
        merged = _merged(passes)
        yield from merged
        reference, step = merged[-1].end, step + 1
        room = reference - merged[0].start - setup.key  # a fin gives way to the key


def _merged(spans: Iterable[Span]) -> list[Span]:
    """Join passes, all as wide as the cutter, that touch or overlap; what stays apart has a fin between."""
    joined: list[Span] = []
    for span in sorted(spans, key=lambda span: span.start):
        if joined and span.start <= joined[-1].end + TOUCH:
            joined[-1] = Span(joined[-1].start, span.end)
        else:
            joined.append(span)
    return joined


def _on_board(cuts: Iterable[Span], blank: Blank) -> tuple[Span, ...]:
    moved = (Span(max(0.0, span.start - blank.offset), min(blank.width, span.end - blank.offset)) for span in cuts)
    return tuple(span for span in moved if span.width > TOUCH)


def _bounds(
    long: Iterable[Span], short: Iterable[Span], loss: float
) -> Iterator[tuple[float, Literal["top", "bottom"], float]]:
    """Yield place, side of the long's finger, and the flush at which that pair of cheeks touches."""
    wood: list[tuple[Side, Span]] = [("long", span) for span in long]
    wood += [("short", span) for span in short]
    wood.sort(key=lambda part: part[1].middle)
    for (below, lower), (above, upper) in pairwise(wood):
        if below == "long" and above == "short":
            yield lower.end, "top", lower.end - upper.start + loss
        elif below == "short" and above == "long":
            yield upper.start, "bottom", upper.start - lower.end - loss


def _middle(low: float, high: float) -> float:
    finite = [bound for bound in (low, high) if math.isfinite(bound)]
    return sum(finite) / len(finite) if finite else 0.0


def _slant(board: Board) -> float:
    return board.thickness * math.tan(math.radians(abs(board.slant)))


def _at_edge(span: Span, board: Board) -> bool:
    return span.start <= TOUCH or span.end >= board.width - TOUCH


def _last_width(fingers: Sequence[Span]) -> float:
    return fingers[-1].width if fingers else 0.0
