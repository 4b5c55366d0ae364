"""Pictures that are not to scale: the machine from above, with hand and feed."""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.trade.passes import KeySide, Machine


def sled_from_above(machine: Machine, key_side: KeySide) -> draw.View:
    """Return the sled on its machine: operator at the foot of the picture, feed away from him.

    Sizes are the picture's own: a key, a cutter and a stack that can be told apart at a glance.
    """
    hand = 1 if key_side == "right" else -1
    key = draw.rectangle(*_across(hand * 10, hand * 14, -29, 29))
    spacer = draw.rectangle(*_across(hand * 10, hand * 5.5, -29, -20))
    parts = (
        draw.Part(
            "picture-table",
            "Plate on the machine table",
            (draw.Line(draw.rectangle(-52, -58, 52, 33), draw.Kind.NARROW),),
        ),
        draw.Part("picture-key", "Key", draw.lines([key]), hatched=(key,)),
        draw.Part("picture-cutter", "Cutter", _cutter(machine)),
        draw.Part("picture-stack", "Boards", draw.lines(_boards(hand))),
        draw.Part("picture-spacer", "Spacer", draw.lines([spacer]), hatched=(spacer,)),
        draw.Part("picture-carriage", "Carriage", _carriage(hand)),
        draw.Part("picture-feed", "Feed", arrows=((draw.Point(-hand * 16, -11), draw.Point(-hand * 16, 16)),)),
        draw.Part("picture-push", "Push", arrows=((draw.Point(-hand * 45, -18.5), draw.Point(-hand * 34, -18.5)),)),
    )
    return draw.View(
        "from-above", "From above, before the first cut", parts, labels=_names(hand, machine), to_scale=False
    )


def _names(hand: int, machine: Machine) -> tuple[draw.Label, ...]:
    """Return what everything is called, and where hands belong."""
    away: draw.Side = "left" if hand > 0 else "right"
    side: draw.Side = "right" if hand > 0 else "left"
    return (
        draw.Label("key", draw.Point(hand * 12, 20), towards=side),
        draw.Label("cutter", draw.Point(0, 4 if machine == "router table" else 10), towards="above"),
        draw.Label("front, back", draw.Point(-hand * 22, -15.5), towards="above"),
        draw.Label("ends", draw.Point(-hand * 28, -23), towards=away),
        draw.Label("backing board", draw.Point(-hand * 27, -27.5), towards=away),
        draw.Label("spacer", draw.Point(hand * 8, -22), towards=side),
        draw.Label("face", draw.Point(hand * 40, -31), towards="above"),
        draw.Label("foot", draw.Point(-hand * 17, -39), leader=False),
        draw.Label("foot", draw.Point(hand * 29, -39), leader=False),
        draw.Label("exit block: hands off", draw.Point(hand * 5, -43), towards="below"),
        draw.Label("hand", draw.Point(-hand * 27, -42), towards="below"),
        draw.Label("hand", draw.Point(hand * 42, -42), towards="below"),
        draw.Label("feed", draw.Point(-hand * 16, 8), towards=away),
        draw.Label("push", draw.Point(-hand * 44, -18.5), towards="above"),
        draw.Label("you stand here", draw.Point(0, -55), leader=False),
    )


def _carriage(hand: int) -> tuple[draw.Line, ...]:
    """Return face, feet, exit block and braces, and the slot under face and exit block."""
    face = draw.rectangle(*_across(-hand * 29.5, hand * 45, -33, -29))
    feet = [(-29.5, -12.0), (22.0, 45.0)]
    block = draw.rectangle(*_across(-hand * 12, hand * 22, -45, -33))
    braces = [draw.rectangle(*_across(hand * x, hand * (x + 2.5), -43, -33)) for x in (-24.5, 36.0)]
    slot = [draw.line((hand * x, -45), (hand * x, -29)) for x in (-7, 17)]
    standing = [draw.rectangle(*_across(hand * one, hand * other, -45, -33)) for one, other in feet]
    return (*draw.lines([face, *standing, block, *braces]), *draw.lines(slot, draw.Kind.HIDDEN))


def _cutter(machine: Machine) -> tuple[draw.Line, ...]:
    """Return a bit with the way it turns, or a blade."""
    if machine == "table saw":
        return (draw.Line(draw.rectangle(-1.5, -12, 1.5, 12)),)
    return (
        draw.Line(draw.Circle(draw.Point(0, 0), 4.0)),
        *draw.lines([draw.line((-4, 0), (4, 0)), draw.line((0, -4), (0, 4))], draw.Kind.CENTRE),
    )


def _boards(hand: int) -> list[draw.Path]:
    """Return front and back against the key; ends and backing board are set back by the spacer."""
    sides = [draw.rectangle(*_across(hand * 10.0, -hand * 25.0, y, y + 3)) for y in (-17.0, -20.0)]
    return sides + [draw.rectangle(*_across(hand * 5.5, -hand * 29.5, y, y + 3)) for y in (-23.0, -26.0, -29.0)]


def _across(one: float, other: float, bottom: float, top: float) -> tuple[float, float, float, float]:
    return min(one, other), bottom, max(one, other), top
