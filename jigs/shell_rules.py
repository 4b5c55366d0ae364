"""The rules of the fan shell."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from jigs.box_parts import Shell
from jigs.errors import READ_OUT, Problem
from jigs.lengths import HALF_STEP
from jigs.rules import Rules
from jigs.trade import groove, shell
from jigs.usual import CARVING_MARGIN

LEAST_RIDGE = 0.8
"""The least wood between neighbouring chips (common practice, no source), mm."""
LEAST_SHELL, MOST_SHELL = 5.0, 600.0
"""Shells that are carved: a smaller one can't be, a larger one is on no box (common practice, no source), mm."""
FLATTEST_KNIFE = 10
"""A knife held flatter than this, in degrees, cuts no chip (common practice, no source)."""
LEAST_CHIP = 0.2
"""A narrower chip is a scratch (common practice, no source), mm."""
LEAST_UNDER_CHIP = 3.0
"""The least wood under a chip (common practice, no source), mm."""


def _no_fan_so_wide(made: Shell) -> Iterator[Problem]:
    least, most = made.ratios
    if not least * (1 - 1e-9) <= made.width / made.height <= most * (1 + 1e-9):
        inward = (least * made.height + HALF_STEP, most * made.height - HALF_STEP)
        narrowest, widest = groove.rounded_inward(max(LEAST_SHELL, inward[0]), min(MOST_SHELL, inward[1]))
        yield Problem(
            "stop",
            "shell.width",
            "no fan of {lobes} lobes is {width} wide and {height} high",
            "for this height a width from {least} to {most}",
            {
                "lobes": made.lobes,
                "width": made.width,
                "height": made.height,
                "least": narrowest,
                "most": widest,
            },
        )


def _shell_off_the_board(made: Shell) -> Iterator[Problem]:
    width, height = made.over_all
    wide, high = made.free_length - 2 * made.border, made.free_height - made.border
    if width > made.board_length or height > made.board_width:
        room = wide >= LEAST_SHELL and high >= LEAST_SHELL
        yield Problem(
            "stop",
            "shell.width" if width > made.board_length else "shell.height",
            "with its border the shell is {width} by {height}, and the front {length} by {high}",
            "at most {most_width} by {most_height}" if room else "a larger front, or a narrower border",
            {
                "width": width,
                "height": height,
                "length": made.board_length,
                "high": made.board_width,
                "most_width": wide,
                "most_height": high,
            },
        )


def _chip_too_deep(made: Shell) -> Iterator[Problem]:
    most = made.thickness / 2
    if made.chip_depth > most + READ_OUT:
        steepest = math.floor(math.degrees(math.atan(2 * most / made.chip)))
        narrower = made.chip * most / made.chip_depth
        where, works = "shell.chip", "chips of {narrower} or less"
        if steepest >= FLATTEST_KNIFE:
            where, works = "shell.knife", "at {steepest}° it is {works} deep"
        elif narrower < LEAST_CHIP:
            works = "a thicker front: for these chips it has to be {thicker}"
        yield Problem(
            "stop",
            where,
            "with the knife at {knife}° a chip {chip} wide is {depth} deep in a front of {thickness}",
            works,
            {
                "knife": f"{made.knife:g}",
                "chip": made.chip,
                "depth": made.chip_depth,
                "thickness": made.thickness,
                "steepest": steepest,
                "works": shell.chip_depth(made.chip, steepest),
                "narrower": narrower,
                "thicker": 2 * made.chip_depth,
            },
        )


def _chips_meet(made: Shell) -> Iterator[Problem]:
    at_hinge, at_rim = made.ridges
    if at_hinge < LEAST_RIDGE:
        fewer = _lobes_that_hold(made)
        yield Problem(
            "stop",
            "shell.lobes",
            "between chips that start {hinge} from the pivot a ridge of {ridge} is left, where {least} holds",
            "at most {fewer} lobes" if fewer else "a larger shell",
            {"hinge": made.hinge, "ridge": at_hinge, "least": LEAST_RIDGE, "fewer": fewer},
        )
    elif at_rim < LEAST_RIDGE - READ_OUT:
        yield Problem(
            "stop",
            "shell.chip",
            "at the rim chips of {chip} leave a ridge of {ridge}, where {least} holds",
            "chips of {works} or less",
            {
                "chip": made.chip,
                "ridge": at_rim,
                "least": LEAST_RIDGE,
                "works": max(0.0, made.chip + at_rim - LEAST_RIDGE),
            },
        )


def _lobes_that_hold(made: Shell) -> int | None:
    """Return the most lobes that leave ridges at the hinge, or None; the fan is fitted anew for every count."""
    fewer = (replace(made, lobes=count) for count in range(made.lobes - 1, 1, -1))
    return next((fan.lobes for fan in fewer if not list(_no_fan_so_wide(fan)) and fan.ridges[0] >= LEAST_RIDGE), None)


def _carved_over_the_groove(made: Shell) -> Iterator[Problem]:
    if not made.over_groove:
        return
    most = made.free_height - made.border
    yield Problem(
        "stop" if made.wood_left < LEAST_UNDER_CHIP - READ_OUT else "warning",
        "shell.height",
        "a shell {height} high with its border reaches over the groove, where the chips leave {left} of wood",
        "at most {most} high" if most >= LEAST_SHELL else "a lower or a shallower groove, or a thicker front",
        {"height": made.over_all[1], "left": made.wood_left, "most": most},
    )


def _carved_into_the_fingers(made: Shell) -> Iterator[Problem]:
    if made.over_all[0] > made.free_length + READ_OUT:
        yield Problem(
            "warning",
            "shell.width",
            "a shell {width} wide with its border reaches into the fingers",
            "keep {keep} from each end: at most {most} wide",
            {
                "width": made.over_all[0],
                "keep": made.cut_depth + CARVING_MARGIN,
                "most": max(0.0, made.free_length - 2 * made.border),
            },
        )


SHELL: Rules[Shell] = Rules(
    (_no_fan_so_wide, _shell_off_the_board, _chip_too_deep),
    (_chips_meet, _carved_over_the_groove, _carved_into_the_fingers),
)
