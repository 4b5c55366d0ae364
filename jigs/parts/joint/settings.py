"""The settings of the indexing sled: those of a box's joint, and what a box works out itself."""

from __future__ import annotations

from typing import Annotated

from jigs.base.kinds import Length
from jigs.base.settings import section
from jigs.boxfile.sections import BoardWidth, JointSection, Thicknesses
from jigs.trade import passes, predict
from jigs.trade import sled as arithmetic
from jigs.trade.sled import SledNumbers


@section
class SledSettings(JointSection, Thicknesses):
    """What was asked of the sled, lengths in mm."""

    board: BoardWidth
    length: Annotated[float | None, Length("longest board stood on end", 10, 2000)] = None

    @property
    def key_width(self) -> float:
        """The key in hand, or the one to make, mm."""
        return self.cutter - self.key_slack if self.key is None else self.key

    @property
    def one_pass(self) -> bool:
        """Whether the cutter is near enough to the finger to make the socket in one pass."""
        return passes.one_pass_will_do(self.finger, self.cutter)

    @property
    def gap(self) -> float:
        """The finger that comes out, mm."""
        return self.cutter - self.clearance if self.one_pass else self.finger

    @property
    def socket(self) -> float:
        """The socket that comes out, mm."""
        return self.cutter if self.one_pass else self.finger + self.clearance

    @property
    def count(self) -> int | None:
        """How many fingers and sockets together are asked for; None: as many as fit."""
        if self.fingers is None:
            return None
        return self.count_with(self.fingers)

    def count_with(self, finger_count: int) -> int:
        """Return how many fingers and sockets together that many fingers of front and back make."""
        return arithmetic.count_of(
            finger_count, ends=self.layout, board=self.board, finger=self.gap, socket=self.socket
        )

    @property
    def key_or_slack(self) -> tuple[str, str]:
        """The setting the play on the key comes from, and the words for one that works."""
        if self.key is None:
            return "key slack", "leave a play of {usual} on the key"
        return "key", "use a key of {works}"

    @property
    def thickest(self) -> float:
        """The thicker of sides and ends, mm: the cut must go through both."""
        return max(self.thickness, self.ends_thickness or 0.0)

    @property
    def depth(self) -> float:
        """The deepest cut, mm."""
        return self.thickest + self.proud

    @property
    def first_depth(self) -> float:
        """The cut of the first run, mm: the key must stay under it."""
        ends = self.thickness if self.ends_thickness is None else self.ends_thickness
        blade = self.blade if self.machine == "table saw" else None
        made = arithmetic.runs(sides=self.thickness, ends=ends, proud=self.proud, cutter=self.cutter, blade=blade)
        return made[0].depth


def counted(count: int) -> str:
    """Return a count of fingers and sockets together in words, as front and back have them: `5 fingers + 4 sockets`."""
    fingers, sockets = count - count // 2, count // 2
    return f"{fingers} finger{'' if fingers == 1 else 's'} + {sockets} socket{'' if sockets == 1 else 's'}"


def joint_of(numbers: SledNumbers) -> predict.Joint:
    """Return the joint that the sled cuts, for predicting how it closes."""
    return predict.Joint(
        gap=numbers.finger,
        socket=numbers.socket,
        spacer=numbers.spacer,
        slack=numbers.slack,
        long_sockets=len(numbers.long_sockets),
        odd=numbers.count % 2 == 1,
        width=numbers.width + numbers.board_starter,
        positions=numbers.positions,
    )
