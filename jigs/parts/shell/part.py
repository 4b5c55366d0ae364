"""The fan shell, settled. Lengths in mm, angles in degrees."""

from __future__ import annotations

from functools import cached_property

from jigs.base.lengths import Units
from jigs.base.rules import READ_OUT
from jigs.base.settings import keys_of
from jigs.base.usual import CARVING_MARGIN, SHELL_HINGE
from jigs.boxfile.sections import BoxFile, ShellSection
from jigs.parts.groove.part import Groove
from jigs.parts.joint.part import LONGS, cut_depths, cut_length
from jigs.record import Record
from jigs.trade import shell
from jigs.trade.sled import SledNumbers

# -- shell ---------------------------------------------------------------------------------------------------------


class Shell(Record, dict=True):
    """The fan shell on the front, in the middle of its length and of the height that is free of the groove."""

    lobes: int
    width: float
    height: float
    bulge: float
    border: float
    knife: float
    chip: float
    units: Units
    board_length: float
    board_width: float
    thickness: float
    cut_depth: float
    groove: Groove | None

    @property
    def ratios(self) -> tuple[float, float]:
        """Width over height of the narrowest and of the widest fan with these lobes."""
        fans = (shell.Shell(self.lobes, angle, 1.0, self.bulge) for angle in (shell.NARROWEST, shell.WIDEST))
        least, most = (fan.width / fan.height for fan in fans)
        return least, most

    @cached_property
    def fan(self) -> shell.Shell:
        """The fan fitted to width and height."""
        return shell.fit(width=self.width, height=self.height, lobes=self.lobes, bulge=self.bulge)

    @property
    def chip_depth(self) -> float:
        """Depth of the widest chip."""
        return shell.chip_depth(self.chip, self.knife)

    @property
    def hinge(self) -> float:
        """Where the rib chips start, from the pivot."""
        return min(SHELL_HINGE.size(self.units), self.fan.rib_radius / 4)

    @property
    def ridges(self) -> tuple[float, float]:
        """The wood between neighbouring chips at the hinge and at the rim."""
        step, rim = self.fan.half_step, self.fan.rib_radius
        return (
            shell.ridge(half_step=step, at=self.hinge, chip_width=0.0),
            shell.ridge(half_step=step, at=rim, chip_width=self.chip),
        )

    @property
    def free_height(self) -> float:
        """What there is to carve on, from over the groove to the top, with the usual margins."""
        return self.board_width - (self.groove.top if self.groove else 0.0) - 2 * CARVING_MARGIN

    @property
    def free_length(self) -> float:
        """What there is to carve on, between the fingers, with the usual margins."""
        return self.board_length - 2 * (self.cut_depth + CARVING_MARGIN)

    @property
    def over_all(self) -> tuple[float, float]:
        """Width and height with the border, which runs round the lobes and not under the pivot."""
        return self.width + 2 * self.border, self.height + self.border

    @cached_property
    def pivot_height(self) -> float:
        """How high the pivot stands over the bottom edge: the pattern is in the middle of what is free."""
        floor = (self.groove.top if self.groove else 0.0) + CARVING_MARGIN
        return shell.pivot_height(bottom=floor, board=self.board_width, height=self.over_all[1], margin=CARVING_MARGIN)

    @property
    def over_groove(self) -> bool:
        """Whether the pattern is so high that it reaches over the groove."""
        return self.groove is not None and self.over_all[1] > self.free_height + READ_OUT

    @property
    def wood_left(self) -> float:
        """The least wood under a chip, less the groove where the two meet; negative is a hole."""
        behind = self.groove.depth if self.groove and self.over_groove else 0.0
        return shell.wood_left(thickness=self.thickness, chip=self.chip_depth, groove_depth=behind)


def shell_of(file: BoxFile, numbers: SledNumbers, groove: Groove | None) -> Shell | None:
    """Return the shell of a file, or None where there is none."""
    if file.shell is None:
        return None
    board = cut_length(file, file.box.length), numbers.width, file.sides.thickness
    return settled(file.shell, board, cut_depths(file)[LONGS], groove, file.units)


def settled(
    asked: ShellSection, board: tuple[float, float, float], cut_depth: float, groove: Groove | None, units: Units
) -> Shell:
    """Return a shell on a board of a length, a width and a thickness, its fingers `cut_depth` deep."""
    return Shell(
        **{name: getattr(asked, name) for name in keys_of(ShellSection)},
        units=units,
        board_length=board[0],
        board_width=board[1],
        thickness=board[2],
        cut_depth=cut_depth,
        groove=groove,
    )
