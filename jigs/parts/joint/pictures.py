"""Pictures that are not to scale: the machine from above, with hand and feed."""

from __future__ import annotations

from jigs.base.drawing import Circle, Kind, Label, Line, Part, Path, Point, Side, View, line, lines, rectangle
from jigs.trade.passes import KeySide, Machine


def sled_from_above(machine: Machine, key_side: KeySide) -> View:
    """Return the sled on its machine: operator at the foot of the picture, feed away from him.

    Sizes are the picture's own: a key, a cutter and a stack that can be told apart at a glance.
    """
    hand = 1 if key_side == "right" else -1
    key = rectangle(*_across(hand * 10, hand * 14, -29, 29))
    spacer = rectangle(*_across(hand * 10, hand * 5.5, -29, -20))
    parts = (
        Part("picture-table", "Plate on the machine table", (Line(rectangle(-52, -58, 52, 33), Kind.NARROW),)),
        Part("picture-key", "Key", lines([key]), hatched=(key,)),
        Part("picture-cutter", "Cutter", _cutter(machine)),
        Part("picture-stack", "Boards", lines(_boards(hand))),
        Part("picture-spacer", "Spacer", lines([spacer]), hatched=(spacer,)),
        Part("picture-carriage", "Carriage", _carriage(hand)),
        Part("picture-feed", "Feed", arrows=((Point(-hand * 16, -11), Point(-hand * 16, 16)),)),
        Part("picture-push", "Push", arrows=((Point(-hand * 45, -18.5), Point(-hand * 34, -18.5)),)),
    )
    return View("from-above", "From above, before the first cut", parts, labels=_names(hand, machine), to_scale=False)


def _names(hand: int, machine: Machine) -> tuple[Label, ...]:
    """Return what everything is called, and where hands belong."""
    away: Side = "left" if hand > 0 else "right"
    side: Side = "right" if hand > 0 else "left"
    return (
        Label("key", Point(hand * 12, 20), towards=side),
        Label("cutter", Point(0, 4 if machine == "router table" else 10), towards="above"),
        Label("front, back", Point(-hand * 22, -15.5), towards="above"),
        Label("ends", Point(-hand * 28, -23), towards=away),
        Label("backing board", Point(-hand * 27, -27.5), towards=away),
        Label("spacer", Point(hand * 8, -22), towards=side),
        Label("face", Point(hand * 40, -31), towards="above"),
        Label("foot", Point(-hand * 17, -39), leader=False),
        Label("foot", Point(hand * 29, -39), leader=False),
        Label("exit block: hands off", Point(hand * 5, -43), towards="below"),
        Label("hand", Point(-hand * 27, -42), towards="below"),
        Label("hand", Point(hand * 42, -42), towards="below"),
        Label("feed", Point(-hand * 16, 8), towards=away),
        Label("push", Point(-hand * 44, -18.5), towards="above"),
        Label("you stand here", Point(0, -55), leader=False),
    )


def _carriage(hand: int) -> tuple[Line, ...]:
    """Return face, feet, exit block and braces, and the slot under face and exit block."""
    face = rectangle(*_across(-hand * 29.5, hand * 45, -33, -29))
    feet = [(-29.5, -12.0), (22.0, 45.0)]
    block = rectangle(*_across(-hand * 12, hand * 22, -45, -33))
    braces = [rectangle(*_across(hand * x, hand * (x + 2.5), -43, -33)) for x in (-24.5, 36.0)]
    slot = [line((hand * x, -45), (hand * x, -29)) for x in (-7, 17)]
    standing = [rectangle(*_across(hand * one, hand * other, -45, -33)) for one, other in feet]
    return (*lines([face, *standing, block, *braces]), *lines(slot, Kind.HIDDEN))


def _cutter(machine: Machine) -> tuple[Line, ...]:
    """Return a bit with the way it turns, or a blade."""
    if machine == "table saw":
        return (Line(rectangle(-1.5, -12, 1.5, 12)),)
    return (
        Line(Circle(Point(0, 0), 4.0)),
        *lines([line((-4, 0), (4, 0)), line((0, -4), (0, 4))], Kind.CENTRE),
    )


def _boards(hand: int) -> list[Path]:
    """Return front and back against the key; ends and backing board are set back by the spacer."""
    sides = [rectangle(*_across(hand * 10.0, -hand * 25.0, y, y + 3)) for y in (-17.0, -20.0)]
    return sides + [rectangle(*_across(hand * 5.5, -hand * 29.5, y, y + 3)) for y in (-23.0, -26.0, -29.0)]


def _across(one: float, other: float, bottom: float, top: float) -> tuple[float, float, float, float]:
    return min(one, other), bottom, max(one, other), top
