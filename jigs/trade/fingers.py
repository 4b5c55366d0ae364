"""Finger layout: where every socket and finger of a board falls, and which board widths come out even.

u runs across the board from the reference edge (the bottom edge of the finished box). A *long* board butts
the key and starts with a finger; a *short* board butts the spacer and starts with a socket. Formulas hold in
any one unit; `TOUCH` is the only absolute number and is far below what any shop can measure.
"""

import math
from typing import Literal

from jigs.record import Record
from jigs.trade.limits import at_least, finite, not_negative, positive

TOUCH = 1e-9
"""Lengths closer than this are the same length: it absorbs the rounding of binary fractions, nothing else."""


class Span(Record):
    """A stretch of the board's width, from `start` to `end`, in the unit of the inputs."""

    start: float
    end: float

    @property
    def width(self) -> float:
        """The length of the stretch."""
        return self.end - self.start

    @property
    def middle(self) -> float:
        """The point half way along the stretch."""
        return (self.start + self.end) / 2


class Centred(Record):
    """What is left at both edges alike: `interior_count` whole fingers and sockets between two ends of width `end`.

    `starter` is the spacer the longs butt, `short_spacer` the one the shorts butt.
    """

    interior_count: int
    end: float
    starter: float
    short_spacer: float


class Leftover(Record):
    """What stays at the top of boards kept at full width: a `nick` (open socket), on its mate a `sliver`.

    Either is 0 where there is none. `nick_on` names the board with the nick; the sliver is on the other one.
    """

    nick: float
    sliver: float
    nick_on: Literal["long", "short"]


def sockets(
    width: float, gap: float, socket: float, offset: float = 0.0, positions: int | None = None
) -> tuple[Span, ...]:
    """Return the sockets of one board, clipped to the board, from the reference edge up.

    A board whose edge stands `offset` past the key when first seated is cut at gap - offset; every later step
    seats the last socket on the key's near face and so moves by one pitch, gap + socket. `offset` is 0 for a
    long, the spacer for a short, with a starter spacer added to both. Strips however thin are kept unless
    `positions` says how often the board is seated (see `positions`). Raises ValueError for lengths not above 0.
    """
    positive(width=width, gap=gap, socket=socket)
    finite(offset=offset)
    pitch = gap + socket
    if positions is None:
        positions = math.ceil((width - gap + offset) / pitch)
    starts = (gap - offset + position * pitch for position in range(positions))
    clipped = (Span(max(0.0, start), min(width, start + socket)) for start in starts)
    return tuple(span for span in clipped if span.width > TOUCH)


def fingers_between(width: float, sockets: tuple[Span, ...]) -> tuple[Span, ...]:
    """Return the wood left between `sockets` on a board `width` wide: the complement, in the same order.

    Sockets must be in order and apart, as `sockets()` gives them.
    """
    positive(width=width)
    edges = [0.0, *(edge for span in sockets for edge in (span.start, span.end)), width]
    pairs = zip(edges[::2], edges[1::2], strict=True)
    return tuple(Span(start, end) for start, end in pairs if end - start > TOUCH)


def positions(width: float, gap: float, socket: float, offset_max: float, reach: float) -> int:
    """Return how often a shared stack is seated and cut: ceil((width + offset_max - gap + reach) / pitch).

    The socket of position i starts at gap - offset + i * pitch on a board; the board with the largest offset is
    cut to its top edge last. `reach` is how far above the meant top edge wood may stand: what the errors of pitch
    and ripping add up to. An even count shows why: the long's top socket ends at the top edge, and where
    it comes out low a fin is left above it. One position more shortens the short's top finger to what that fin
    leaves, whatever the error. A reach below 0 leaves a strip of that width uncut. Raises ValueError for lengths
    that are not above 0 (offset: below 0).
    """
    positive(width=width, gap=gap, socket=socket)
    not_negative(offset_max=offset_max)
    finite(reach=reach)
    return max(0, math.ceil((width + offset_max - gap + reach - TOUCH) / (gap + socket)))


def rip_width(count: int, gap: float, socket: float) -> float:
    """Return the exact board width for `count` in all: ceil(count/2) fingers and floor(count/2) sockets.

    Counted on the long, which starts with a finger. Raises ValueError for a count under 1.
    """
    at_least(1, count=count)
    positive(gap=gap, socket=socket)
    return (count - count // 2) * gap + count // 2 * socket


def largest_count(board: float, gap: float, socket: float) -> int:
    """Return the largest count, of fingers and sockets together, that `board` holds; 0 if not even one finger fits."""
    positive(board=board, gap=gap, socket=socket)
    pairs = math.floor((board + TOUCH) / (gap + socket))
    return 2 * pairs + int(board - pairs * (gap + socket) >= gap - TOUCH)


def nearest_widths(board: float, gap: float, socket: float, how_many: int = 4) -> tuple[tuple[int, float], ...]:
    """Return (count, rip width) of the odd counts of 3 or more nearest to `board`, in order of width.

    Odd counts only: they are alike at top and bottom. Of two equally near the smaller is taken, since it can
    be ripped from the board in hand.
    """
    at_least(1, how_many=how_many)
    middle = largest_count(board, gap, socket)
    highest = middle + 2 * how_many + 3
    counts = range(max(3, (middle - 2 * how_many) | 1), highest, 2)
    menu = [(count, rip_width(count, gap, socket)) for count in counts]
    nearest = sorted(menu, key=lambda entry: (abs(entry[1] - board), entry[1]))[:how_many]
    return tuple(sorted(nearest))


def gap_for_count(board: float, count: int, clearance: float) -> float:
    """Return the finger that fills `board` with `count` fingers and sockets, these made finger + clearance wide.

    board = count * gap + floor(count/2) * clearance, solved for gap. The socket gap + clearance must then be
    within reach of the cutter, in one pass or several. Raises ValueError when nothing is left for fingers.
    """
    positive(board=board)
    finite(clearance=clearance)
    at_least(1, count=count)
    return _left_for_fingers(board - count // 2 * clearance, count, board, count)


def gap_that_fits(board: float, count: int, socket: float) -> float:
    """Return the gap that fills `board` with `count` fingers and sockets when the cutter makes sockets `socket` wide.

    rip_width solved for gap: (board - floor(count/2) * socket) / ceil(count/2). Clearance is what follows
    from it, socket - gap. Raises ValueError when nothing is left for fingers.
    """
    positive(board=board, socket=socket)
    at_least(1, count=count)
    return _left_for_fingers(board - count // 2 * socket, count - count // 2, board, count)


def centred(board: float, gap: float, socket: float, spacer: float, interior_count: int | None = None) -> Centred:
    """Return the layout with equal ends on a board kept at full width.

    Between the ends of a long lie n fingers and sockets, a socket first, so end = (board - ceil(n/2) * socket -
    floor(n/2) * gap) / 2. n is the smallest count that brings the end down to the gap (the widest ends,
    between half a finger and a whole one) unless `interior_count` gives it. The longs then need a starter
    spacer of gap - end, and the shorts theirs on top. Raises ValueError for a board under a count of 3, for ends
    wider than the gap (the starter would be negative) and for ends of nothing.
    """
    positive(board=board, spacer=spacer)
    if board < rip_width(3, gap, socket) - TOUCH:
        least = rip_width(3, gap, socket)
        raise ValueError(f"board is {board:g}; for a count of 3 it must be at least {least:g}")
    if interior_count is None:
        interior_count = 1
        while end_part(board, interior_count, gap, socket) > gap + TOUCH:
            interior_count += 1
    at_least(1, interior_count=interior_count)
    end = end_part(board, interior_count, gap, socket)
    if not 0 < end <= gap + TOUCH:
        raise ValueError(
            f"interior_count is {interior_count}; the ends would be {end:g}, the starter spacer "
            f"{gap - end:g}; the ends must be above 0 and at most the gap {gap:g}"
        )
    starter = max(0.0, gap - end)  # the end may exceed the gap by TOUCH only
    return Centred(interior_count, end, starter, spacer + starter)


def leftover(board: float, gap: float, socket: float, spacer: float) -> Leftover:
    """Return the strips at the top of boards kept at `board` width instead of ripped to the largest count.

    With m whole sockets on the long, its next socket begins at gap + m * pitch and the short's at the same
    place less the spacer. After an odd count the long's strip is a nick of over = board - rip width, and the
    short's next socket ends spacer - socket away from it: sliver = over - (socket - spacer). After an even
    count the long has the sliver, over, and the short's next socket begins early: nick = over + spacer - gap.
    Neither can be more than a whole one. Raises ValueError for a board narrower than one finger.
    """
    positive(spacer=spacer)
    count = largest_count(board, gap, socket)
    if count == 0:
        raise ValueError(f"board is {board:g}; narrower than one finger of {gap:g}")
    over = max(0.0, board - rip_width(count, gap, socket))  # below 0 by TOUCH at most
    if count % 2:
        nick, sliver = over, over - (socket - spacer)
    else:
        nick, sliver = over + spacer - gap, over
    return Leftover(_strip(nick, socket), _strip(sliver, gap), "long" if count % 2 else "short")


def _strip(width: float, whole: float) -> float:
    return 0.0 if width <= TOUCH else min(width, whole)


def end_part(board: float, interior_count: int, gap: float, socket: float) -> float:
    """Return how wide the two ends are with so many between, as `centred` says; it may be too much or below 0."""
    socket_count = interior_count - interior_count // 2
    return (board - socket_count * socket - interior_count // 2 * gap) / 2


def _left_for_fingers(left: float, finger_count: int, board: float, count: int) -> float:
    if left <= 0:
        raise ValueError(f"count is {count}; the sockets alone fill the board of {board:g}; fewer are needed")
    return left / finger_count
