"""Pictures, not to scale, of work along the fence of a router table, from above: you stand at the foot of each.

A bit in a table turns anticlockwise seen from above. Fed right to left along a fence behind the bit, the cut then
pushes the work against the fence.
"""

from __future__ import annotations

from collections.abc import Iterable

from jigs.drawing import Circle, Kind, Label, Line, Part, Path, Point, View, arc, line, lines, rectangle
from jigs.errors import READ_OUT

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


def rabbet_from_above(*, free: bool = False) -> View:
    """Return a panel lying on its face against a fence with the bit partly in it, or free in front of it.

    A free bit cuts on beside what the setting before has cut: between it and the fence there is air.
    """
    centre = Point(0, 4.4 if free else 11)
    shape = Line(Circle(centre, _BIT + 1.4), Kind.HIDDEN)
    # What is cut already, and what this setting leaves behind the bit, which is on the left of it.
    cut = lines([line((-8, 0.4), (0, 0.4)), line((0, 3.6), (44, 3.6))], Kind.HIDDEN) if free else ()
    bit = Part("picture-bit", "Bit", (shape, _turning(centre, _TURN + 1.2), *cut))
    said = "bit, free of the fence; air between" if free else "bit, partly in the fence"
    # The feathers lean the way the work is fed: it slides past them and can't be thrown back.
    feather = [line((x + 5, -17), (x, -7), (x + 3, -7), (x + 8, -17)) for x in (-27.0, 15.0)]
    parts = (
        _table(58.0, -41.0, 24.0),
        _fence(54.0, *_FENCE),
        bit,
        Part("picture-panel", "Panel", (Line(rectangle(-8, -6, 44, 10)),)),
        Part("picture-featherboards", "Featherboards", lines(feather)),
        Part("picture-push", "Push block", (Line(rectangle(44, -2, 52, 6)),)),
        _feed(-24.0),
    )
    labels = (
        Label("fence", Point(-22, 13), towards="above"),
        Label(said, Point(0, 6 if free else 9), towards="above"),
        *((Label("cut at the setting before", Point(22, 3.6), towards="above"),) if free else ()),
        Label("face to be cut on the table", Point(34, -3), towards="below"),
        Label("push block, right hand", Point(48, 2), towards="below"),
        Label("featherboard", Point(-22, -10), towards="left"),
        Label("feed", Point(16, -24), towards="right"),
        Label("you stand here", Point(0, -37.5), leader=False),
    )
    name, title = (
        ("free", "From above, bit free of the fence") if free else ("from-above", "From above, bit partly in the fence")
    )
    return View(name, title, parts, labels=labels, to_scale=False)


def rabbets_from_above(air: Iterable[float]) -> tuple[View, ...]:
    """Return the pictures that are true for settings with so much air between fence and bit, in mm: one or both."""
    found = {gap > READ_OUT for gap in air}
    return tuple(rabbet_from_above(free=free) for free in sorted(found))


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
