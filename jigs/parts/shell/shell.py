"""The fan shell for carving: its settings and numbers. Its rules are those of a box, its pages are in `card`."""

from __future__ import annotations

from typing import Annotated

from jigs.base import usual
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild
from jigs.base.kinds import Flag, Length
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import section
from jigs.base.usual import Usual
from jigs.base.wording import say
from jigs.boxfile.sections import GrooveWidth, ShellSection, SidesThickness
from jigs.parts.groove.part import Groove
from jigs.parts.joint.part import MEMBERS
from jigs.parts.part import numbers_of
from jigs.parts.shell import card
from jigs.parts.shell.part import Shell, settled
from jigs.parts.shell.rules import SHELL


@section
class ShellSettings(ShellSection):
    """The shell, and what a box works out of its front."""

    board_length: Annotated[float, Length("length of the front as cut", 20, 2000)]
    board_width: Annotated[float, Length("width of the front", 10, 1200)]
    thickness: SidesThickness = usual.SIDES.default
    cut_depth: Annotated[float, Length("depth of the fingers at both ends", 0, 70)] = Usual(12.3, 33 / 64).default
    groove: Annotated[float | None, Length("groove behind, from the bottom edge", 0, 1000)] = None
    groove_width: GrooveWidth = Usual(6, 1 / 4).default
    groove_depth: Annotated[float, Length("depth of the groove", 0.4, 40)] = Usual(6, 1 / 4).default
    mirrored: Annotated[bool, Flag("draw the pattern mirrored, to be rubbed or ironed onto the wood")] = False


@jig(
    "shell",
    title="Fan shell",
    summary="chip-carved on the front of a box",
    from_box="board_length=cut_length board_width=height thickness=file.sides.thickness cut_depth=shell.cut_depth "
    "groove=groove.from_bottom groove_width=groove.cutter groove_depth=groove.depth",
)
def shell(asked: ShellSettings, units: Units) -> Plan:
    """Pattern, place on the front and order of cuts of a fan shell.

    Example: --lobes 7 --width 60 --height 40 --board-length 200.6 --board-width 89.7

    Sources: Ribs, lobes, border and chips are derived in `jigs/trade/shell.py`. Wood left and margins: common
    practice, no source.
    """
    made = settled(
        asked, (asked.board_length, asked.board_width, asked.thickness), asked.cut_depth, _groove(asked), units
    )
    found: list[Problem] = []
    if SHELL.judge(made, found) is None:
        raise CannotBuild([problem.without("shell") for problem in found])
    title = say("Fan shell, {width:cut} × {height:cut}", width=made.width, height=made.height)
    problems = tuple(problem.without("shell") for problem in found)
    return Plan(title, as_data(made), card.of(made, mirrored=asked.mirrored), problems)


def as_data(made: Shell) -> dict[str, object]:
    """Return the numbers by the names of the JSON reports: lengths in mm, angles in degrees."""
    fan = "half_angle=fan.half_angle rib_radius=fan.rib_radius lobe_radius=fan.lobe_radius"
    numbers = numbers_of(made, f"{fan} chip_depth wood_left pivot=pivot_height hinge ridges")
    return numbers | {"pivot": list(card.pivot(made))}


def _groove(asked: ShellSettings) -> Groove | None:
    """Return the groove behind the shell; how it ends at the boards' ends does not matter here."""
    if asked.groove is None:
        return None
    return Groove(
        cutter=asked.groove_width,
        depth=asked.groove_depth,
        from_bottom=asked.groove,
        end_margin=0.0,
        tongue=asked.groove_width,
        thicknesses=dict.fromkeys(MEMBERS, asked.thickness),
        proud=0.0,
        units="mm",
        fingers={},
        lengths={},
    )
