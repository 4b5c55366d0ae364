"""Pictures that are not to scale: the machine from above, with hand and feed."""

from __future__ import annotations

from jigs.drawing import Circle, Kind, Label, Line, Part, Path, Point, View, line, lines, rectangle
from jigs.trade.passes import KeySide, Machine


def sled_from_above(machine: Machine, key_side: KeySide) -> View:
    """Return the sled on its machine: operator at the foot of the picture, feed away from him.

    Sizes are the picture's own: a key, a cutter and a stack that can be told apart at a glance.
    """
    hand = 1 if key_side == "right" else -1
    key = sorted((hand * 10.0, hand * 14.0))
    stack = sorted((hand * 10.0, -hand * 29.5))
    spacer = rectangle(*_across(hand * 10.0, hand * 5.5, -26.0))
    table = Part("picture-table", "Machine table", (Line(rectangle(-44, -36, 44, 30), Kind.NARROW),))
    parts = (
        table,
        Part(
            "picture-key",
            "Key",
            (Line(rectangle(key[0], -26, key[1], 26)),),
            hatched=(rectangle(key[0], -26, key[1], 26),),
        ),
        Part("picture-cutter", "Cutter", _cutter(machine)),
        Part("picture-stack", "Boards", lines(_boards(hand))),
        Part("picture-spacer", "Spacer", lines([spacer]), hatched=(spacer,)),
        Part("picture-carriage", "Carriage", lines([rectangle(stack[0], -29.5, stack[1], -26)])),
        Part("picture-feed", "Feed", arrows=((Point(-hand * 16, -11), Point(-hand * 16, 16)),)),
    )
    push = Part("picture-push", "Push", arrows=((Point(-hand * 40, -17), Point(-hand * 31, -17)),))
    labels = (
        Label("key", Point(hand * 12, 20), towards="right" if hand > 0 else "left"),
        Label("cutter", Point(0, 4), towards="above"),
        Label("front, back", Point(-hand * 22, -15.5), towards="above"),
        Label("ends", Point(-hand * 27, -21.5), towards="left" if hand > 0 else "right"),
        Label("spacer", Point(hand * 7.5, -24.5), towards="right" if hand > 0 else "left"),
        Label("carriage", Point(-hand * 20, -28), towards="left" if hand > 0 else "right"),
        Label("feed", Point(-hand * 16, 8), towards="left" if hand > 0 else "right"),
        Label("you stand here", Point(0, -33), leader=False),
    )
    return View("from-above", "From above", (*parts, push), labels=labels, to_scale=False)


def _cutter(machine: Machine) -> tuple[Line, ...]:
    """Return a bit with the way it turns, or a blade."""
    if machine == "table saw":
        return (Line(rectangle(-1.5, -12, 1.5, 12)),)
    return (
        Line(Circle(Point(0, 0), 4.0)),
        *lines([line((-4, 0), (4, 0)), line((0, -4), (0, 4))], Kind.CENTRE),
    )


def _boards(hand: int) -> list[Path]:
    """Return front and back against the key, and the ends set back by the spacer."""
    sides = [rectangle(*_across(hand * 10.0, -hand * 25.0, y)) for y in (-17.0, -20.0)]
    return sides + [rectangle(*_across(hand * 5.5, -hand * 29.5, y)) for y in (-23.0, -26.0)]


def _across(one: float, other: float, y: float) -> tuple[float, float, float, float]:
    return min(one, other), y, max(one, other), y + 3.0
