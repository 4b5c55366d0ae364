"""Pictures, not to scale, of work along the fence of a router table, from above: you stand at the foot of each.

A bit in a table turns anticlockwise seen from above. Fed right to left along a fence behind the bit, the cut then
pushes the work against the fence.
"""

from __future__ import annotations

from jigs.base import drawing as draw

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
