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
    stack = sorted((hand * 10.0, -hand * 28.0))
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
        Part("picture-stack", "Boards", lines([rectangle(stack[0], -26, stack[1], -14), *_boards(stack)])),
        Part("picture-feed", "Feed", arrows=((Point(-hand * 16, -11), Point(-hand * 16, 16)),)),
    )
    push = Part("picture-push", "Push", arrows=((Point(-hand * 38, -20), Point(-hand * 29.5, -20)),))
    labels = (
        Label("key", Point(hand * 12, 20), towards="right" if hand > 0 else "left"),
        Label("cutter", Point(0, 4), towards="above"),
        Label("stack", Point(-hand * 24, -24), towards="below"),
        Label("feed", Point(-hand * 16, 8), towards="left" if hand > 0 else "right"),
        Label("you stand here", Point(0, -32), leader=False),
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


def _boards(stack: list[float]) -> list[Path]:
    return [line((stack[0], y), (stack[1], y)) for y in (-23.0, -20.0, -17.0)]
