"""Pictures, not to scale, of work along the fence of a router table, from above: you stand at the foot of each.

A bit in a table turns anticlockwise seen from above. Fed right to left along a fence behind the bit, the cut then
pushes the work against the fence.
"""

from __future__ import annotations

from collections.abc import Iterable

from jigs.base.drawing import Circle, Kind, Label, Line, Part, Path, Point, View, arc, line, lines, rectangle
from jigs.base.rules import READ_OUT

_BIT, _TURN = 2.6, 5.2
"""Radius of a bit, and of the arrow that says which way it turns."""
_FENCE = (10.0, 16.0)
"""Face and back of the fence, from the centre of a bit that stands in front of it."""


def groove_from_above(*, stopped: bool) -> View:
    """Return a board on the bit, inner face down, its bottom edge to the fence, with both stops where there are any."""
    parts = [_table(58.0, -34.0, 24.0), _fence(54.0, *_FENCE), _bit(Kind.HIDDEN), _feed(-18.0)]
    labels = [
        Label("fence", Point(-8, 13), towards="above"),
        Label("bit, under the board", Point(0, 0), towards="below"),
        Label("feed", Point(16, -18), towards="right"),
        Label("you stand here", Point(0, -30.5), leader=False),
    ]
    left, right = (-7.0, 41.0) if stopped else (-16.0, 34.0)
    parts.append(Part("picture-board", "Board, inner face down", (Line(rectangle(left, -9, right, 10)),)))
    labels.append(Label("bottom edge to the fence, inner face down", Point(right - 14, 7), towards="right"))
    if stopped:
        parts += [_stop("right", 41.0), _stop("left", -48.0)]
        parts.append(_hands(Point(36, -26), Point(36, -11), Point(-5, -26), Point(-5, -11)))
        labels += [
            Label("right stop", Point(44.5, 4), towards="above"),
            Label("left stop", Point(-44.5, 4), towards="above"),
            Label("right hand", Point(36, -18), towards="right"),
            Label("left hand, lowers", Point(-5, -22), towards="left"),
        ]
    else:
        parts.append(_hands(Point(29, -26), Point(29, -11), Point(-12, -26), Point(-12, -11)))
        labels += [
            Label("right hand", Point(29, -20), towards="right"),
            Label("left hand", Point(-12, -22), towards="left"),
        ]
    return View("from-above", "From above", tuple(parts), labels=tuple(labels), to_scale=False)


def rabbets_from_above(air: Iterable[float]) -> tuple[View, ...]:
    """Return a panel on its face against a fence; `air` is between fence and bit at each setting, mm, 0 for none.

    The first setting is one with the bit partly in the fence. What differs where it is free of it is a second picture.
    """
    return (_rabbet(), _free()) if max(air) > READ_OUT else (_rabbet(),)


def _rabbet() -> View:
    centre = Point(0, 11)
    bit = (Line(Circle(centre, _BIT + 1.4), Kind.HIDDEN), _turning(centre, _TURN + 1.2))
    # The feathers lean the way the work is fed: it slides past them and can't be thrown back.
    feather = [line((x + 5, -17), (x, -7), (x + 3, -7), (x + 8, -17)) for x in (-27.0, 15.0)]
    parts = (
        _table(58.0, -36.0, 24.0),
        _fence(54.0, *_FENCE),
        Part("picture-bit", "Bit, partly in the fence", bit),
        Part("picture-panel", "Panel", (Line(rectangle(-8, -6, 44, 10)),)),
        Part("picture-featherboards", "Featherboards", lines(feather)),
        Part("picture-push", "Push block", (Line(rectangle(44, -2, 52, 6)),)),
        _feed(-22.0),
    )
    labels = (
        Label("fence", Point(-22, 13), towards="above"),
        Label("bit, partly in the fence", Point(0, 9), towards="above"),
        Label("face to be cut on the table", Point(34, -3), towards="below"),
        Label("push block, right hand", Point(48, 2), towards="below"),
        Label("featherboard", Point(-22, -10), towards="left"),
        Label("feed", Point(16, -22), towards="right"),
        Label("you stand here", Point(0, -32.5), leader=False),
    )
    return View("from-above", "From above", parts, labels=labels, to_scale=False)


def _free() -> View:
    """Return the bit free of the fence: beside it lies what the settings before have cut, so that there is air."""
    centre = Point(0, 4.4)
    bit = (Line(Circle(centre, _BIT + 1.4), Kind.HIDDEN), _turning(centre, _TURN + 1.2))
    before, now = line((0, 3.6), (38, 3.6)), line((-8, 0.4), (0, 0.4))
    parts = (
        Part("free-fence", "Fence", (Line(rectangle(-16, 10, 42, 14)),), hatched=(rectangle(-16, 10, 42, 14),)),
        Part("free-bit", "Bit, free of the fence", bit),
        Part("free-panel", "Panel", (Line(rectangle(-8, -7, 38, 10)), *lines([before, now], Kind.HIDDEN))),
        Part("free-feed", "Feed, right to left", arrows=((Point(30, -11), Point(8, -11)),)),
    )
    labels = (
        Label("cut by the settings before: air", Point(24, 7), towards="above"),
        Label("bit", Point(0, 2), towards="below"),
        Label("feed", Point(30, -11), towards="right"),
    )
    return View("free", "Bit free of the fence", parts, labels=labels, to_scale=False)


def _table(half: float, front: float, back: float) -> Part:
    return Part("picture-table", "Router table", (Line(rectangle(-half, front, half, back), Kind.NARROW),))


def _fence(half: float, face: float, back: float) -> Part:
    body = rectangle(-half, face, half, back)
    return Part("picture-fence", "Fence", (Line(body),), hatched=(body,))


def _bit(kind: Kind) -> Part:
    cross = lines([line((-4, 0), (4, 0)), line((0, -4), (0, 4))], Kind.CENTRE)
    return Part("picture-bit", "Bit", (Line(Circle(Point(0, 0), _BIT), kind), *cross, _turning(Point(0, 0), _TURN)))


def _turning(centre: Point, radius: float) -> Line:
    """Return a quarter turn anticlockwise, with two strokes for its head."""
    quarter = arc(centre, radius, -45, 45)
    tip = quarter.steps[-1].end
    head = line(tip, tip.moved(1.8, -0.6), tip, tip.moved(0.2, -1.9))
    return Line(Path(quarter.start, (*quarter.steps, *head.steps)))


def _stop(side: str, left: float) -> Part:
    block = rectangle(left, 1, left + 7, 10)
    return Part(f"picture-{side}-stop", f"{side.capitalize()} stop", (Line(block),), hatched=(block,))


def _feed(y: float) -> Part:
    return Part("picture-feed", "Feed, right to left", arrows=((Point(16, y), Point(-8, y)),))


def _hands(*ends: Point) -> Part:
    return Part("picture-hands", "Hands", arrows=tuple(zip(ends[::2], ends[1::2], strict=True)))
