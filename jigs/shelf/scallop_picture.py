"""How a scalloped edge is drilled: the drill press from above, and a section through the saw."""

from __future__ import annotations

from typing import Protocol

from jigs.base import drawing as draw
from jigs.shelf import scenes
from jigs.things import plan, section
from jigs.trade import handle as arithmetic

LONGEST = 230.0
"""A longer board is drawn as far as this about its saw, mm."""
FENCE = 20.0
"""Depth of the fence in pictures, mm."""
PILOT = 6.35
"""Diameter of the pilot drill in pictures, mm."""
BELOW = 14.0
"""Thickness of the waste board in pictures, mm."""


class Row(Protocol):
    """What of a row of holes is shown."""

    @property
    def radius(self) -> float:
        """Of the holes."""

    @property
    def outside(self) -> float:
        """How far the centres are off the edge."""

    @property
    def depth(self) -> float:
        """The bottom of the scallops, below the edge."""

    @property
    def length(self) -> float:
        """Of the board."""

    @property
    def width(self) -> float:
        """Of the board."""

    @property
    def thickness(self) -> float:
        """Of the board."""

    @property
    def centres(self) -> tuple[float, ...]:
        """From the left end of the board."""


def from_above(made: Row, wide: float) -> draw.View:
    """The drill press from above, the edge towards the fence with the waste block between: the next hole begins."""
    centres, room = made.centres, arithmetic.clamp_room(made.radius)
    now = min(len(centres) - 1, 1)
    at = centres[now]
    right = min(made.length, max(LONGEST, at + room + 40.0))
    low = -min(made.width, made.depth + 28.0)
    front, pads = low - 18.0, (at - room, at + room)
    left_most, right_most = min(0.0, pads[0] - 14) - 6, max(right, pads[1] + 14) + 6
    centre = [draw.Point(x, made.outside) for x in centres]
    drilled = [draw.Circle(point, made.radius) for point in centre[:now]]
    to_come = [draw.Circle(point, made.radius) for point in centre[now + 1 :] if point.x + made.radius < right]
    parts = [
        plan.table(draw.Bounds(left_most, front, right_most, wide + FENCE)),
        plan.fence(left_most, right_most, wide, deep=FENCE),
        plan.board("waste-block", "Waste block", draw.Bounds(0, 0, right, wide)),
        plan.board("board", "Board", draw.Bounds(0, low, right, 0), reference="above"),
        draw.Part("to-come", "Holes to come", draw.lines(to_come, draw.Kind.HIDDEN)) if to_come else None,
        draw.Part("drilled", "Holes drilled", draw.lines(drilled), covers=tuple(drilled)) if drilled else None,
        plan.hole_saw((at, made.outside), 2 * made.radius, PILOT),
        *(scenes.clamp_from_you(f"clamp-{i}", (x, low * 0.6), front - 8) for i, x in enumerate(pads, start=1)),
    ]
    if now:
        parts.append(plan.arrow("order", "Order of the holes", (pads[1] + 20, low * 0.5), (pads[1] + 60, low * 0.5)))
    if right < made.length:
        cut = draw.break_line(draw.Point(right, low), draw.Point(right, wide))
        parts.append(draw.Part("break", "Goes on", (draw.Line(cut, draw.Kind.NARROW),)))
    labels = [
        draw.Label("fence", draw.Point(right / 2, wide + FENCE / 2), leader=False),
        draw.Label("waste block", draw.Point(right * 0.72, wide - 6), leader=False),
        draw.Label("board", draw.Point(right - 24, low * 0.8), leader=False),
        draw.Label("drilled", draw.Point(centres[0], -made.depth * 0.4), leader=False) if now else None,
        draw.balloon("first", centre[0], "left"),
        draw.balloon("pitch", ((centres[0] + at) / 2, made.outside), "above") if now else None,
        draw.balloon("clamps", (pads[1], low * 0.6), "right"),
    ]
    shown = tuple(part for part in parts if part is not None)
    said = tuple(label for label in labels if label is not None)
    title = f"From above, before the {'next ' if now else ''}hole: hands off"
    return draw.View("from-above", title, shown, labels=said, to_scale=False)


def across(made: Row, wide: float, into: float, *, pilot: bool) -> draw.View:
    """Fence, waste block, board and saw cut across, the saw at its depth stop; the edge at x = 0."""
    thick, centre = made.thickness, -made.outside
    left_rim, right_rim = centre - made.radius, centre + made.radius
    right = right_rim + 16.0
    saw = section.hole_saw(centre, 2 * made.radius, thick - into, thick + 9.0, PILOT if pilot else 0.0)
    block = draw.rectangle(-wide, 0, 0, thick)
    parts = (
        section.table(-wide - 12, right + 4, top=-BELOW),
        section.fence(-wide, 12.0, BELOW + thick + 12, bottom=-BELOW),
        section.face("waste-board", "Waste board", draw.rectangle(-wide, -BELOW, right, 0)),
        section.face("waste-block", "Waste block", block),
        section.board("board", "Board", (0, 0), (right, 0), (right, thick), (0, thick), broken="right"),
        saw,
    )
    labels = (
        draw.balloon("saw", (centre, thick + 26), "right"),
        draw.Label("block", draw.Point((left_rim - wide) / 2, thick - 1), towards="above"),
        draw.Label("board", draw.Point(right_rim + 8, thick - 1), towards="above"),
        draw.Label("waste", draw.Point((left_rim - wide) / 2, -BELOW / 2), leader=False),
    )
    dimensions = (
        draw.Dimension(draw.Point(0, 0), draw.Point(right_rim, 0), "below", "", "rim"),
        draw.Dimension(draw.Point(right, thick - into), draw.Point(right, thick), "right", "", "stop"),
    )
    return draw.View("across", "Section at the saw", parts, dimensions, labels, to_scale=False)
