"""The fan shell for carving: its settings and numbers. Its rules are those of a box, its sheets in `sheets`."""

from __future__ import annotations

from typing import Annotated, Any

from jigs.base.catalogue import Plan, jig
from jigs.base.drawing import Drawing
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import Angle, Count, Length
from jigs.base.wording import say
from jigs.parts.groove.part import Groove
from jigs.parts.shell import sheets as shell_sheets
from jigs.parts.shell.part import Shell
from jigs.parts.shell.rules import SHELL


@jig(
    "shell",
    title="Fan shell",
    summary="chip-carved on the front of a box",
    example="--lobes 7 --width 60 --height 40 --board-length 200.6 --board-width 89.7",
    sources=(
        "Ribs, lobes, border and chips are derived in `jigs/trade/shell.py`. Wood left and margins: common "
        "practice, no source."
    ),
)
def shell(
    *,
    lobes: Annotated[int, Count("lobes of the fan", 2, 60)],
    width: Annotated[float, Length("width of the shell", 5, 600)],
    height: Annotated[float, Length("height of the shell", 5, 600)],
    board_length: Annotated[float, Length("length of the front as cut", 20, 2000)],
    board_width: Annotated[float, Length("width of the front", 10, 1200)],
    thickness: Annotated[float, Length("thickness of the front", 3, 60, inches=12.7)] = 12.0,
    cut_depth: Annotated[float, Length("depth of the fingers at both ends", 0, 70, inches=13.0969)] = 12.3,
    groove: Annotated[float | None, Length("groove behind, from the bottom edge", 0, 1000)] = None,
    groove_width: Annotated[float, Length("width of the groove", 1, 30, inches=6.35)] = 6.0,
    groove_depth: Annotated[float, Length("depth of the groove", 0.5, 40, inches=6.35)] = 6.0,
    bulge: Annotated[int, Count("rise of a lobe, in hundredths of its width", 1, 50)] = 25,
    border: Annotated[float, Length("border outside the lobes", 0, 50, inches=3.175)] = 3.0,
    knife: Annotated[float, Angle("knife to the surface", 10, 85)] = 65.0,
    chip: Annotated[float, Length("widest chip", 0.2, 30, inches=3.175)] = 3.0,
    units: Units = "mm",
) -> Plan:
    """Pattern, mirrored pattern, place on the front and order of cuts of a fan shell."""
    behind = None
    if groove is not None:
        behind = _groove(groove, groove_width, groove_depth, thickness, cut_depth)
    made = Shell(
        lobes=lobes,
        width=width,
        height=height,
        bulge=bulge / 100,
        border=border,
        knife=knife,
        chip=chip,
        units=units,
        board_length=board_length,
        board_width=board_width,
        thickness=thickness,
        cut_depth=cut_depth,
        groove=behind,
    )
    found: list[Problem] = []
    if SHELL.judge(made, found) is None:
        raise CannotBuild([problem.without("shell") for problem in found])
    title = say("Fan shell, {width} by {height}", width=width, height=height)
    return Plan(title, as_data(made), drawings(made), tuple(problem.without("shell") for problem in found))


def drawings(made: Shell) -> tuple[Drawing, ...]:
    """Return the sheets, in the order they are worked from."""
    return shell_sheets.drawings(made)


def as_data(made: Shell) -> dict[str, Any]:
    """Return the numbers by the names of the JSON reports: lengths in mm, angles in degrees."""
    return {
        "half_angle": made.fan.half_angle,
        "rib_radius": made.fan.rib_radius,
        "lobe_radius": made.fan.lobe_radius,
        "chip_depth": made.chip_depth,
        "wood_left": made.wood_left,
        "pivot": list(shell_sheets.pivot(made)),
        "hinge": made.hinge,
        "ridges": list(made.ridges),
    }


def _groove(from_bottom: float, width: float, depth: float, thickness: float, cut_depth: float) -> Groove:
    """Return the groove behind the shell; how it ends at the boards' ends does not matter here."""
    return Groove(
        cutter=width,
        depth=depth,
        from_bottom=from_bottom,
        end_wood=0.0,
        tongue=width,
        thickness=thickness,
        cut_depth=cut_depth,
        proud=0.0,
        units="mm",
        fingers={},
        lengths={},
    )
