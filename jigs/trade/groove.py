"""The groove for the bottom: fence, stops, end margin, the boards to be stopped, and the panel's corner.

The set-up, seen from above: the board lies inner face down with its bottom edge against the fence and is fed
from right to left. Its left end leads. Lengths are in one unit, mm where a default says so.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from jigs.record import Record
from jigs.trade.limits import not_negative, positive, steps_to_cover, under, within

Span = tuple[float, float]
"""From, to: distances from the bottom edge."""

SHOWS = 0.02
"""The most, in mm, a groove that runs out may cut into a finger: no gauge sets a fence finer. Any more is a slit that
shows on the finished box (common practice, no source)."""

SQUARE_ENOUGH = 0.1
"""What a groove may lack, in mm, for a square panel corner: the panel's play is more (common
practice, no source)."""

MARGIN = 0.5
"""How far, in mm, a groove keeps from the cut lines of the fingers (common practice, no source)."""


class Stops(Record):
    """Where to clamp the stops, as distances from the cutter. None: the groove runs out, no stop.

    `right` and `left` are from the cutter's centre, `..._from_edge` from its near edge. `travel` is how far
    the board moves from one stop to the other.
    """

    right: float | None
    left: float | None
    right_from_edge: float | None
    left_from_edge: float | None
    travel: float | None


class SafeHeight(Record):
    """Heights of a groove's lower side that keep it inside one finger; `boards` are those to be stopped."""

    lowest: float
    highest: float
    middle: float
    boards: str

    def nearest_to(self, height: float) -> float:
        """Return the height in this range nearest to the one given."""
        return min(max(height, self.lowest), self.highest)


class Corner(Record):
    """What a round groove end asks of the panel's corner.

    `reach`: how far past the inside corner the tongue can go. `shortfall`: what it lacks, 0 where a square
    corner fits or nearly does. Any one of these then makes room: a notch `shortfall` × tongue, `clip_leg` (each
    leg of a 45° clip), `radius`.
    """

    reach: float
    shortfall: float
    clip_leg: float
    radius: float


def fence(*, from_bottom: float, cutter: float) -> float:
    """Return the distance from the fence to the cutter's centre: from_bottom + cutter/2."""
    not_negative(from_bottom=from_bottom)
    positive(cutter=cutter)
    return from_bottom + cutter / 2


def stops(*, length: float, cutter: float, left_end_margin: float, right_end_margin: float) -> Stops:
    """Return the stops for a groove that leaves so much wood at each end; with 0 wood it runs out there.

    The plunge is made with the right end on the right stop and the cutter's centre one radius inside the wood
    that stays at the left end: right = length − left_end_margin − radius. The feed ends likewise on the left
    stop, which sets the right end of the groove. So each stop sees the far end, and a longer board moves both
    groove ends. Raises ValueError for lengths that are not positive, and for a board shorter than its end
    wood and the cutter.
    """
    positive(length=length, cutter=cutter)
    not_negative(left_end_margin=left_end_margin, right_end_margin=right_end_margin)
    shortest = left_end_margin + right_end_margin + cutter
    if length < shortest:
        raise ValueError(f"length is {length:g}; with this end margin and cutter it must be at least {shortest:g}")
    radius = cutter / 2
    right = length - left_end_margin - radius if left_end_margin else None
    left = length - right_end_margin - radius if right_end_margin else None
    return Stops(
        right,
        left,
        None if right is None else right - radius,
        None if left is None else left - radius,
        None if right is None or left is None else length - shortest,
    )


def fence_reach(*, farthest: float, block: float, clamp: float) -> float:
    """Return how far a fence must reach past the cutter's centre: to the farthest stop, its block and its clamp.

    The two stops of a groove that leaves as much wood at both ends stand equally far, so that the fence is twice as
    long with the cutter in its middle.
    """
    positive(farthest=farthest)
    not_negative(block=block, clamp=clamp)
    return farthest + block + clamp


def filler_block(*, long_board: float, short_board: float) -> float:
    """Return the block that, put at each stop, lets short boards use the stops set for long ones."""
    positive(short_board=short_board)
    under(long_board, short_board=short_board)
    return long_board - short_board


def overlap(*, from_bottom: float, cutter: float, fingers: Sequence[Span]) -> float:
    """Return how much of the groove's width lies in fingers: the hole that shows if it runs through."""
    positive(cutter=cutter)
    top = from_bottom + cutter
    return sum(max(0.0, min(end, top) - max(start, from_bottom)) for start, end in fingers)


def stopped_boards(*, from_bottom: float, cutter: float, fingers: Mapping[str, Sequence[Span]]) -> tuple[str, ...]:
    """Return the boards that must be stopped, of those given with their fingers (mm).

    Where the groove meets no finger it may run through: it comes out on a socket's floor, and the mate covers
    it.
    """
    return tuple(
        name
        for name, spans in fingers.items()
        if overlap(from_bottom=from_bottom, cutter=cutter, fingers=spans) > SHOWS
    )


def least_from_bottom(thickness: float) -> float:
    """Return the least wood below the groove in mm: 4.5 or thickness/3 (common practice, no source)."""
    positive(thickness=thickness)
    return max(4.5, thickness / 3)


def safe_heights(
    *, cutter: float, fingers: Mapping[str, Sequence[Span]], least: float, margin: float = MARGIN
) -> tuple[SafeHeight, ...]:
    """Return, lowest first, the heights at which a groove stays inside one finger of one kind of board.

    A finger [start, end] holds a groove whose lower side is from start + margin to end − margin − cutter, and
    never below `least`; `middle` is halfway between its cut lines where that is allowed.
    """
    positive(cutter=cutter)
    not_negative(least=least, margin=margin)
    found = []
    for boards, spans in fingers.items():
        for start, end in spans:
            lowest, highest = max(start + margin, least), end - margin - cutter
            if lowest <= highest:
                middle = min(max((start + end - cutter) / 2, lowest), highest)
                found.append(SafeHeight(lowest, highest, middle, boards))
    return tuple(sorted(found, key=lambda safe: safe.lowest))


def widest_safe(
    *, from_bottom: float, fingers: Mapping[str, Sequence[Span]], least: float, margin: float = MARGIN
) -> tuple[float, float] | None:
    """Return the widest cutter for which `safe_heights` finds a place, and the height of that; None where none does.

    A finger [start, end] has room from max(start + margin, least) to end − margin. Of those that have the most, or
    hardly less (by `margin`), the one nearest to the height asked for is taken.
    """
    not_negative(least=least, margin=margin)
    places = [(max(start + margin, least), end - margin) for spans in fingers.values() for start, end in spans]
    most = max((top - low for low, top in places), default=0.0)
    roomy = [(low, top) for low, top in places if top > low and top - low >= most - margin]
    low, top = min(roomy, key=lambda place: abs(place[0] - from_bottom), default=(0.0, 0.0))
    return (top - low, low) if roomy else None


def nearest_safe_height(from_bottom: float, heights: Sequence[SafeHeight]) -> SafeHeight | None:
    """Return the safe heights nearest to the one asked for, or None where no finger can hold the groove."""
    return min(heights, key=lambda safe: abs(safe.nearest_to(from_bottom) - from_bottom), default=None)


def least_end_margin(*, thickness: float, proud: float) -> float:
    """Return the least wood between a groove's end and the end of the board as cut, in mm.

    3 mm or a quarter of the thickness must be left after the proud fingers are flushed (common practice, no
    source).
    """
    positive(thickness=thickness)
    not_negative(proud=proud)
    return max(3.0, thickness / 4) + proud


def most_end_margin(*, cut_depth: float, tongue_reach: float, cutter: float, tongue: float) -> float:
    """Return the most end margin, on the board as cut, with which a square panel corner still goes in.

    The inside corner is `cut_depth` from the board's end. The groove's end is round, so at the edges of a
    tongue centred in it the groove is radius − √(radius² − (tongue/2)²) shorter than on its centre line.
    Setting `reach` to `tongue_reach` (how far the tongue goes past the inside corner: the groove's full
    depth, unless the panel is held at its centre) gives cut_depth − tongue_reach − radius + √(radius² −
    (tongue/2)²). Negative: no end margin will do.
    """
    positive(cut_depth=cut_depth, tongue_reach=tongue_reach)
    return cut_depth - tongue_reach - _rounding(cutter, tongue)


def reach(*, cut_depth: float, end_margin: float, cutter: float, tongue: float) -> float:
    """Return how far past the inside corner a square tongue goes before it meets the groove's round end."""
    positive(cut_depth=cut_depth)
    not_negative(end_margin=end_margin)
    return cut_depth - end_margin - _rounding(cutter, tongue)


def corner(
    *, cut_depth: float, end_margin: float, cutter: float, tongue: float, tongue_reach: float, enough: float = 0.0
) -> Corner:
    """Return what the panel's corner needs where the groove of one board is stopped, its mate's is not.

    With the inside corner at (0, 0) the tongue's corner is at (e, e) and the wood that stays starts at (ρ,
    0), ρ the reach. A 45° clip through that point has legs (e − ρ) + e = 2e − ρ. A radius r about (e − r, e −
    r) passes through it if (r − s)² + (r − e)² = r² with s = e − ρ: r = s + e + √(2 s e). A shortfall of no more
    than `enough` (in mm: `SQUARE_ENOUGH`) is none: the corner stays square.
    """
    positive(tongue_reach=tongue_reach)
    not_negative(enough=enough)
    room = reach(cut_depth=cut_depth, end_margin=end_margin, cutter=cutter, tongue=tongue)
    shortfall = tongue_reach - room
    if shortfall <= enough:
        return Corner(room, 0.0, 0.0, 0.0)
    radius = shortfall + tongue_reach + math.sqrt(2 * shortfall * tongue_reach)
    return Corner(room, shortfall, shortfall + tongue_reach, radius)


def wall_left(*, thickness: float, depth: float) -> float:
    """Return the wood left behind a groove."""
    positive(thickness=thickness, depth=depth)
    under(thickness, depth=depth)
    return thickness - depth


def depth_passes(depth: float, most: float = 3.0) -> tuple[float, ...]:
    """Return the bit heights of equal passes, none deeper than `most` (mm; common practice, no source)."""
    positive(depth=depth, most=most)
    count = steps_to_cover(depth, most)
    return tuple(depth * (number + 1) / count for number in range(count))


def rounded_inward(least: float, most: float, step: float = 0.01) -> Span:
    """Return a range as it is read out: the least rounded up and the most rounded down, so both still work.

    A millionth of a step is forgiven, so that 3.3 stays 3.3. Where the range is empty it stays so.
    """
    positive(step=step)
    return math.ceil(least / step - 1e-6) * step, math.floor(most / step + 1e-6) * step


def _rounding(cutter: float, tongue: float) -> float:
    """Return how much shorter a round-ended groove is at the tongue's edges than on its centre line."""
    positive(cutter=cutter, tongue=tongue)
    within(0, cutter, tongue=tongue)
    return cutter / 2 - math.sqrt((cutter / 2) ** 2 - (tongue / 2) ** 2)
