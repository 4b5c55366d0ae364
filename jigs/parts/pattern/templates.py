"""The pattern as it is drawn, to be traced or ironed onto its side, and the same mirrored.

Axes: the middle of the pattern at 0, up the page.
"""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.base.drawing import Point
from jigs.parts.pattern.part import Pattern
from jigs.parts.shell import templates as shell
from jigs.record import replace

TICK, TICK_ROOM = shell.TICK, shell.TICK_ROOM
_BETWEEN = 1.5  # the strokes of a double tick
_LOWER = 2.0  # the check stands so far under the ticks


def figure(made: Pattern) -> draw.Part:
    """Return the lines that are cut."""
    return draw.Part("lines", "Lines to cut", draw.lines(made.lines))


def right_reading(made: Pattern) -> draw.View:
    """Return the pattern as it is seen on the wood; nothing that is written stands on it."""
    wide, high = made.width / 2 + TICK_ROOM, made.height / 2 + TICK_ROOM
    ticks = [
        draw.line((0, -high), (0, -high - TICK)),
        draw.line((0, high), (0, high + TICK)),
        draw.line((wide, 0), (wide + TICK, 0)),
        draw.line((-wide, 0), (-wide - TICK, 0)),
        draw.line((-wide, _BETWEEN), (-wide - TICK, _BETWEEN)),
    ]
    up = Point(wide + TICK / 2, high - 8.0 if high > 16.0 else 6.0)
    parts = (
        figure(made),
        draw.Part("ticks", "Registration ticks", draw.lines(ticks)),
        draw.Part("up", "This side up", arrows=((up, up.moved(0, 11.0)),)),
    )
    low = -high - TICK - _LOWER
    across = draw.Dimension(Point(-made.width / 2, low), Point(made.width / 2, low), "below")
    labels = (draw.Label("up", up.moved(0, -3.0), leader=False),)
    return draw.View("own-pattern", "Pattern", parts, (across,), labels, check=across)


def mirrored(made: Pattern) -> draw.View:
    """Return the pattern with left and right exchanged: laid face down, it reads right."""
    view = shell.mirrored(right_reading(made), "own-pattern-mirrored", "Pattern, mirrored")
    return replace(view, parts=tuple(replace(part, name=f"mirrored-{part.name}") for part in view.parts))
