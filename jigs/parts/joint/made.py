"""The indexing sled with nothing left open: what its sheets are drawn from.

Axes of the plate seen from above: the cutter's centre at 0, feed up the page. The key stands right (+) or left (-).
"""

from __future__ import annotations

from jigs.base.lengths import Units, round_up
from jigs.base.rules import Problem
from jigs.parts.joint import carriage as joint_carriage
from jigs.parts.joint.carriage import Carriage
from jigs.parts.joint.dry_fit import Meant
from jigs.record import Record
from jigs.trade.passes import Cut, KeySide, Machine, cuts
from jigs.trade.sled import Ends, SledNumbers

HOLE_ROOM = 1.0
"""The hole in the plate is this much larger than the cutter all round, mm: no bigger than needed."""


END_BLOCK = 15.0
"""Blocks that hold the shims at the ends of the key are this long, mm."""
PLANED_OFF, MOST_PLANED = 0.5, 3.0
"""What a hand plane soon takes off the top edge of a jointed board, and the most (common practice, no source), mm."""


def planed_off(numbers: SledNumbers, units: Units) -> float:
    """Return what is left on boards that are ripped while they are long, mm, and planed off once they are jointed.

    The joint ends where its last socket does, and steps on a loose key move that by up to the slack at each socket.
    """
    moved = len(numbers.long_sockets) * numbers.slack
    return round_up(min(MOST_PLANED, max(PLANED_OFF, moved)), units)


def ripped_to(numbers: SledNumbers, board: float, units: Units) -> float | None:
    """Return what a board is ripped to while it is long, mm: planed to its width once it is jointed.

    None for one that is hardly wider, or keeps its width: it is not ripped.
    """
    left = planed_off(numbers, units)
    return numbers.width + left if board - numbers.width > left else None


class Sled(Record):
    """All that the sheets are drawn from, in mm."""

    numbers: SledNumbers
    cutter: float
    plate: float
    margin: float
    thickness: float
    ends_thickness: float
    boards_in_stack: int
    key_height: float
    machine: Machine
    key_side: KeySide
    problems: tuple[Problem, ...]
    proud: float
    meant: Meant
    spare: float
    """What comes off the board in hand when it is ripped."""
    units: Units = "mm"
    layout: Ends = "rip"

    length: float | None = None
    """The longest board that stands on end, where it is known."""

    @property
    def apart(self) -> bool:
        """Whether boards are cut one by one, and not in a stack."""
        return self.meant.method != "one stack"

    @property
    def tool(self) -> str:
        """What cuts, in a word."""
        return "blade" if self.machine == "table saw" else "cutter"

    @property
    def key_at(self) -> float:
        """From the cutter's centre to the face of the key that looks at it."""
        return self.numbers.key_to_centre

    @property
    def kept(self) -> bool:
        """Whether the board in hand keeps its width."""
        return self.layout != "rip"

    @property
    def hand(self) -> int:
        """The side the key is on: +1 right, -1 left."""
        return 1 if self.key_side == "right" else -1

    @property
    def key_face(self) -> float:
        """Where the face of the key that looks at the cutter stands."""
        return self.hand * self.numbers.key_to_centre

    @property
    def key_back(self) -> float:
        """Where the far face of the key stands."""
        return self.hand * (self.numbers.key_to_centre + self.numbers.key)

    @property
    def near_edge(self) -> float:
        """Where the cutting edge comes nearest to the key."""
        return self.hand * self.cutter / 2

    @property
    def carriage(self) -> Carriage:
        """The carriage, in round sizes."""
        return joint_carriage.carriage_of(self.numbers, self.units, self.hand, self.thickest_shim)

    @property
    def key_length(self) -> float:
        """The key, at least as long as it must be, and even on both sides of the cutter."""
        return 2 * round_up(self.numbers.key_length / 2, self.units)

    @property
    def plate_length(self) -> float:
        """The plate along the feed."""
        return self.key_length + 2 * self.margin

    @property
    def plate_ends(self) -> tuple[float, float]:
        """Left and right edge of the plate: the ends of the face, and a margin for the clamps."""
        made = self.carriage
        left, right = sorted((self.hand * (made.reach_key + self.margin), -self.hand * (made.reach_away + self.margin)))
        return left, right

    @property
    def stroke(self) -> float:
        """How far the carriage is fed."""
        return round_up(self.numbers.stroke, self.units)

    @property
    def hole(self) -> float:
        """Half of the hole in the plate, across."""
        return round_up(self.cutter + 2 * HOLE_ROOM, self.units) / 2

    @property
    def backer(self) -> float:
        """Thickness of the backing board."""
        return self.numbers.stack_thickness - self.boards_in_stack * self.numbers.thickness

    @property
    def thickest_shim(self) -> float:
        """What lies between key and wood for the near cut; 0 with one pass."""
        gaps = self.numbers.passes.gaps
        return gaps[-1] - gaps[0]

    @property
    def cuts(self) -> tuple[Cut, ...]:
        """The cuts of a socket, in the order in which they are made."""
        return cuts(self.numbers.passes, self.machine, self.key_side)

    @property
    def end_block(self) -> float:
        """How long the blocks beyond the key's ends are, which keep the shims from running along it."""
        return min(round_up(END_BLOCK, self.units), self.margin)

    @property
    def shimmed(self) -> tuple[float, float]:
        """From the outermost shim on the cutter's side to the outermost that may lie on the far side of the key."""
        return self.key_face - self.hand * self.thickest_shim, self.key_back + self.hand * self.thickest_shim

    @property
    def shims(self) -> int:
        """How many shims there are, all alike; none with a single pass."""
        return self.numbers.passes.count - 1
