"""The carriage of the indexing sled: its pieces, the lower edge of its face, and a picture of it put together.

The axis across is that of the plate: the cutter's centre at 0, the key right (+) or left (-) of it. The maker stands
at the near side and feeds away from himself, so the cutter comes out of the carriage on his side: out of the stack,
the backing board and the slot in the face, into the tunnel between the feet with the exit block for a roof.
"""

from __future__ import annotations

from jigs.base.lengths import Units, round_up
from jigs.record import Record
from jigs.trade.sled import SledNumbers

SLOT_CLEAR = 3.0
"""The slot clears key and cutter by this much at least, to both sides and above, mm."""
BOARD = 18.0
"""Face, feet, braces and exit block are at least this thick (common practice, no source), mm."""
BRACE = 70.0
BRIDGE = 25.0
"""The exit block lies on each foot with this much of its length, mm."""
BEYOND_CUTTER = 20.0
"""The feet and the exit block go on so far beyond the furthest place of the cutter, mm."""


class Carriage(Record):
    """Sizes of the carriage, mm, round in the reader's units; `slot_…` and `reach_…` from the cutter's centre."""

    units: Units
    hand: int
    slot_away: float
    slot_key: float
    slot_height: float
    reach_away: float
    reach_key: float
    height: float
    board: float
    foot_thick: float
    foot_deep: float
    brace: float

    @property
    def slot(self) -> float:
        """Width of the slot."""
        return self.slot_away + self.slot_key

    @property
    def long(self) -> float:
        """Length of the face."""
        return self.reach_away + self.reach_key

    @property
    def foot_away(self) -> float:
        """Length of the foot on the cutter's side of the slot: from the end of the face to the slot."""
        return self.reach_away - self.slot_away

    @property
    def foot_key(self) -> float:
        """Length of the foot on the key's side."""
        return self.reach_key - self.slot_key

    @property
    def bridge(self) -> float:
        """How far the exit block lies on each foot."""
        return round_up(BRIDGE, self.units)

    @property
    def exit_long(self) -> float:
        """Length of the exit block, across the slot."""
        return self.slot + 2 * self.bridge

    @property
    def key_side(self) -> str:
        """The side the key is on, as a word."""
        return "right" if self.hand > 0 else "left"

    @property
    def other_side(self) -> str:
        """The other side, as a word."""
        return "left" if self.hand > 0 else "right"


def carriage_of(n: SledNumbers, units: Units, hand: int, thickest_shim: float) -> Carriage:
    """Return the carriage for a sled: every size rounded up to what a rule can be set to."""
    room = SLOT_CLEAR + thickest_shim  # the face goes with the boards from cut to cut
    board = round_up(BOARD, units)
    slot_height = round_up(n.cut_depth + SLOT_CLEAR, units)
    out_behind = n.along + n.margin - board
    return Carriage(
        units=units,
        hand=hand,
        slot_away=round_up(n.cutter / 2 + room, units),
        slot_key=round_up(n.key_to_centre + n.key + room, units),
        slot_height=slot_height,
        reach_away=round_up(n.width + n.short_spacer - n.key_to_centre, units),
        reach_key=round_up(max(n.key_to_centre + n.width, n.key_to_centre + n.key + room + 2 * BRIDGE), units),
        height=round_up(n.fence_height, units),
        board=board,
        foot_thick=max(board, slot_height),
        foot_deep=round_up(max(BRACE, out_behind + BEYOND_CUTTER), units),
        brace=round_up(BRACE, units),
    )


def square_over(units: Units) -> float:
    """Return the length squareness is said over, mm: 100 mm, or 4 in."""
    return 100.0 if units == "mm" else 4 * 25.4
