"""Pictures, not to scale, of work along the fence of a router table, from above: you stand at the foot of each.

A bit in a table turns anticlockwise seen from above. Fed right to left along a fence behind the bit, the cut then
pushes the work against the fence.
"""

from __future__ import annotations

from collections.abc import Iterable

from jigs.base import drawing as draw
from jigs.base.rules import READ_OUT

_BIT, _TURN = 2.6, 5.2
"""Radius of a bit, and of the arrow that says which way it turns."""
_FENCE = (10.0, 16.0)
"""Face and back of the fence, from the centre of a bit that stands in front of it."""


def groove_from_above(*, stopped: bool) -> draw.View:
    """Return a board on the bit, inner face down, its bottom edge to the fence, with both stops where there are any."""
    parts = [_table(58.0, -34.0, 24.0), _fence(54.0, *_FENCE), _bit(draw.Kind.HIDDEN), _feed(-18.0)]
    labels = [
        draw.Label("fence", draw.Point(-8, 13), towards="above"),
        draw.Label("bit, under the board", draw.Point(0, 0), towards="below"),
        draw.Label("feed", draw.Point(16, -18), towards="right"),
        draw.Label("you stand here", draw.Point(0, -30.5), leader=False),
    ]
    left, right = (-7.0, 41.0) if stopped else (-16.0, 34.0)
    parts.append(
        draw.Part("picture-board", "Board, inner face down", (draw.Line(draw.rectangle(left, -9, right, 10)),))
    )
    labels.append(draw.Label("bottom edge to the fence, inner face down", draw.Point(right - 14, 7), towards="right"))
    if stopped:
        parts += [_stop("right", 41.0), _stop("left", -48.0)]
        parts.append(_hands(draw.Point(36, -26), draw.Point(36, -11), draw.Point(-5, -26), draw.Point(-5, -11)))
        labels += [
            draw.Label("right stop", draw.Point(44.5, 4), towards="above"),
            draw.Label("left stop", draw.Point(-44.5, 4), towards="above"),
            draw.Label("right hand", draw.Point(36, -18), towards="right"),
            draw.Label("left hand, lowers", draw.Point(-5, -22), towards="left"),
        ]
    else:
        parts.append(_hands(draw.Point(29, -26), draw.Point(29, -11), draw.Point(-12, -26), draw.Point(-12, -11)))
        labels += [
            draw.Label("right hand", draw.Point(29, -20), towards="right"),
            draw.Label("left hand", draw.Point(-12, -22), towards="left"),
        ]
    return draw.View("from-above", "From above", tuple(parts), labels=tuple(labels), to_scale=False)


def rabbets_from_above(air: Iterable[float]) -> tuple[draw.View, ...]:
    """Return a panel on its face against a fence; `air` is between fence and bit at each setting, mm, 0 for none.

    The first setting is one with the bit partly in the fence. What differs where it is free of it is a second picture.
    """
    return (_rabbet(), _free()) if max(air) > READ_OUT else (_rabbet(),)


def _rabbet() -> draw.View:
    centre = draw.Point(0, 11)
    bit = (draw.Line(draw.Circle(centre, _BIT + 1.4), draw.Kind.HIDDEN), _turning(centre, _TURN + 1.2))
    # The feathers lean the way the work is fed: it slides past them and can't be thrown back.
    feather = [draw.line((x + 5, -17), (x, -7), (x + 3, -7), (x + 8, -17)) for x in (-27.0, 15.0)]
    parts = (
        _table(58.0, -36.0, 24.0),
        _fence(54.0, *_FENCE),
        draw.Part("picture-bit", "Bit, partly in the fence", bit),
        draw.Part("picture-panel", "Panel", (draw.Line(draw.rectangle(-8, -6, 44, 10)),)),
        draw.Part("picture-featherboards", "Featherboards", draw.lines(feather)),
        draw.Part("picture-push", "Push block", (draw.Line(draw.rectangle(44, -2, 52, 6)),)),
        _feed(-22.0),
    )
    labels = (
        draw.Label("fence", draw.Point(-22, 13), towards="above"),
        draw.Label("bit, partly in the fence", draw.Point(0, 9), towards="above"),
        draw.Label("face to be cut on the table", draw.Point(34, -3), towards="below"),
        draw.Label("push block, right hand", draw.Point(48, 2), towards="below"),
        draw.Label("featherboard", draw.Point(-22, -10), towards="left"),
        draw.Label("feed", draw.Point(16, -22), towards="right"),
        draw.Label("you stand here", draw.Point(0, -32.5), leader=False),
    )
    return draw.View("from-above", "From above", parts, labels=labels, to_scale=False)


def _free() -> draw.View:
    """Return the bit free of the fence: beside it lies what the settings before have cut, so that there is air."""
    centre = draw.Point(0, 4.4)
    bit = (draw.Line(draw.Circle(centre, _BIT + 1.4), draw.Kind.HIDDEN), _turning(centre, _TURN + 1.2))
    before, now = draw.line((0, 3.6), (38, 3.6)), draw.line((-8, 0.4), (0, 0.4))
    parts = (
        draw.Part(
            "free-fence",
            "Fence",
            (draw.Line(draw.rectangle(-16, 10, 42, 14)),),
            hatched=(draw.rectangle(-16, 10, 42, 14),),
        ),
        draw.Part("free-bit", "Bit, free of the fence", bit),
        draw.Part(
            "free-panel",
            "Panel",
            (draw.Line(draw.rectangle(-8, -7, 38, 10)), *draw.lines([before, now], draw.Kind.HIDDEN)),
        ),
        draw.Part("free-feed", "Feed, right to left", arrows=((draw.Point(30, -11), draw.Point(8, -11)),)),
    )
    labels = (
        draw.Label("cut by the settings before: air", draw.Point(24, 7), towards="above"),
        draw.Label("bit", draw.Point(0, 2), towards="below"),
        draw.Label("feed", draw.Point(30, -11), towards="right"),
    )
    return draw.View("free", "Bit free of the fence", parts, labels=labels, to_scale=False)


def _table(half: float, front: float, back: float) -> draw.Part:
    return draw.Part(
        "picture-table", "Router table", (draw.Line(draw.rectangle(-half, front, half, back), draw.Kind.NARROW),)
    )


def _fence(half: float, face: float, back: float) -> draw.Part:
    body = draw.rectangle(-half, face, half, back)
    return draw.Part("picture-fence", "Fence", (draw.Line(body),), hatched=(body,))


def _bit(kind: draw.Kind) -> draw.Part:
    cross = draw.lines([draw.line((-4, 0), (4, 0)), draw.line((0, -4), (0, 4))], draw.Kind.CENTRE)
    return draw.Part(
        "picture-bit",
        "Bit",
        (draw.Line(draw.Circle(draw.Point(0, 0), _BIT), kind), *cross, _turning(draw.Point(0, 0), _TURN)),
    )


def _turning(centre: draw.Point, radius: float) -> draw.Line:
    """Return a quarter turn anticlockwise, with two strokes for its head."""
    quarter = draw.arc(centre, radius, -45, 45)
    tip = quarter.steps[-1].end
    head = draw.line(tip, tip.moved(1.8, -0.6), tip, tip.moved(0.2, -1.9))
    return draw.Line(draw.Path(quarter.start, (*quarter.steps, *head.steps)))


def _stop(side: str, left: float) -> draw.Part:
    block = draw.rectangle(left, 1, left + 7, 10)
    return draw.Part(f"picture-{side}-stop", f"{side.capitalize()} stop", (draw.Line(block),), hatched=(block,))


def _feed(y: float) -> draw.Part:
    return draw.Part("picture-feed", "Feed, right to left", arrows=((draw.Point(16, y), draw.Point(-8, y)),))


def _hands(*ends: draw.Point) -> draw.Part:
    return draw.Part("picture-hands", "Hands", arrows=tuple(zip(ends[::2], ends[1::2], strict=True)))
