"""Things seen from above: you stand at the foot of the picture, x to the right, y away from you. Sizes in mm.

A part that lies on others covers them: draw it after them. What is drawn is a picture, never a template.
"""

from __future__ import annotations

import itertools
from typing import Literal

from jigs.base import drawing as draw
from jigs.base.drawing import Kind, Line, Part, Point

Turn = Literal["anticlockwise", "clockwise"]

FENCE_DEEP = 34.0
"""Depth of a fence seen from above, mm."""
STOP_WIDE, STOP_DEEP = 38.0, 44.0
GUARD = 70.0
"""Side of the guard over a bit, mm."""
HAND_AHEAD, THUMB_ASIDE = 25.0, 54.0
"""How far fingertips reach beyond the middle of the knuckles, and a thumb beside it, as hands are drawn, mm."""


def board(name: str, title: str, box: draw.Bounds, *, reference: draw.Side | None = None) -> Part:
    """Return a board lying flat; the edge that is the reference is heavy."""
    shape = draw.rectangle(*box)
    lines = [Line(shape)]
    if reference:
        ends = {
            "above": ((box.left, box.top), (box.right, box.top)),
            "below": ((box.left, box.bottom), (box.right, box.bottom)),
            "left": ((box.left, box.bottom), (box.left, box.top)),
            "right": ((box.right, box.bottom), (box.right, box.top)),
        }[reference]
        lines.append(Line(draw.line(*ends), Kind.REFERENCE))
    return Part(name, title, tuple(lines), covers=(shape,))


def stack(names: tuple[str, ...], left: float, right: float, bottom: float, thick: float) -> list[Part]:
    """Return boards on edge, one behind the other, seen from above: the first nearest to you."""
    made = []
    for i, name in enumerate(names):
        low = bottom + i * thick
        made.append(board(name.replace(" ", "-"), name, draw.Bounds(left, low, right, low + thick)))
    return made


def fence(left: float, right: float, face: float, *, deep: float = FENCE_DEEP, gap: draw.Bounds | None = None) -> Part:
    """Return a fence whose face looks at you at `face`; a `gap` is its opening for a bit."""
    shape = draw.rectangle(left, face, right, face + deep)
    lines = [Line(shape)]
    covers = [shape]
    if gap:
        opening = draw.rectangle(gap.left, face, gap.right, min(face + deep * 0.7, gap.top))
        lines.append(Line(opening))
    return Part("fence", "Fence", tuple(lines), covers=tuple(covers))


def table(box: draw.Bounds) -> Part:
    """Return the table of a machine, as far as it is shown."""
    return Part("table", "Table", (Line(draw.rectangle(*box), Kind.NARROW),))


def bit(centre: tuple[float, float], diameter: float, *, under: bool, turns: Turn = "anticlockwise") -> Part:
    """Return a bit with its axes and the way it turns; hidden where it is `under` the work.

    In a table it turns anticlockwise.
    """
    middle = Point(*centre)
    reach = diameter / 2 + max(3.0, diameter * 0.35)
    cross = draw.lines(
        [
            draw.line((middle.x - reach, middle.y), (middle.x + reach, middle.y)),
            draw.line((middle.x, middle.y - reach), (middle.x, middle.y + reach)),
        ],
        Kind.CENTRE,
    )
    edge = Line(draw.Circle(middle, diameter / 2), Kind.HIDDEN if under else Kind.EDGE)
    return Part("bit", "Bit", (edge, *cross, *_turning(middle, reach + 1.5, turns)))


def _turning(centre: Point, radius: float, turns: Turn) -> tuple[Line, ...]:
    """Return a quarter of a turn about a centre, with two strokes for its head."""
    start, end = (-40.0, 50.0) if turns == "anticlockwise" else (50.0, -40.0)
    quarter = draw.arc(centre, radius, start, end)
    sign = 1.0 if turns == "anticlockwise" else -1.0
    tip = draw.on_circle(centre, radius, end)
    back = max(2.0, radius * 0.35)
    barbs = [draw.on_circle(tip, back, end - sign * 90 + off) for off in (-28.0, 28.0)]
    return Line(quarter), Line(draw.line(barbs[0], tip, barbs[1]))


def guard(centre: tuple[float, float], side: float = GUARD) -> Part:
    """Return the guard over a bit, seen through: no hand comes inside it."""
    x, y = centre
    r, half = 8.0, side / 2
    shape = draw.Path(
        Point(x - half + r, y - half),
        (
            draw.LineTo(Point(x + half - r, y - half)),
            draw.ArcTo(Point(x + half, y - half + r), Point(x + half - r, y - half + r), True),
            draw.LineTo(Point(x + half, y + half - r)),
            draw.ArcTo(Point(x + half - r, y + half), Point(x + half - r, y + half - r), True),
            draw.LineTo(Point(x - half + r, y + half)),
            draw.ArcTo(Point(x - half, y + half - r), Point(x - half + r, y + half - r), True),
            draw.LineTo(Point(x - half, y - half + r)),
            draw.ArcTo(Point(x - half + r, y - half), Point(x - half + r, y - half + r), True),
        ),
        closed=True,
    )
    return Part("guard", "Guard over the bit", (Line(shape, Kind.NEIGHBOUR),))


def stop(side: Literal["left", "right"], face: float, fence_face: float) -> list[Part]:
    """Return a stop on a fence, the work coming to its `face`, and the clamp that holds it."""
    left, right = (face - STOP_WIDE, face) if side == "left" else (face, face + STOP_WIDE)
    shape = draw.rectangle(left, fence_face - STOP_DEEP, right, fence_face)
    block = Part(f"{side}-stop", f"{side.capitalize()} stop", (Line(shape),), covers=(shape,))
    return [block, clamp(f"{side}-clamp", ((left + right) / 2, fence_face), reach=30.0)]


def clamp(name: str, at: tuple[float, float], *, reach: float, turned: bool = False) -> Part:
    """Return a screw clamp seen from above: its bar across an edge at `at`, its screw `reach` towards you.

    `turned` lays it across instead, its screw at the left.
    """
    x, y = at
    bar = draw.rectangle(x - 5, y - reach, x + 5, y + reach + 8)
    screw = draw.Circle(Point(x, y - reach + 7), 9.0)
    handle = draw.line((x - 14, y - reach + 7), (x + 14, y - reach + 7))
    if turned:
        bar = draw.rectangle(x - reach, y - 5, x + reach + 8, y + 5)
        screw = draw.Circle(Point(x - reach + 7, y), 9.0)
        handle = draw.line((x - reach + 7, y - 14), (x - reach + 7, y + 14))
    return Part(name, "Clamp", (Line(bar), Line(screw), Line(handle)), covers=(bar, screw))


def toggle(name: str, at: tuple[float, float]) -> Part:
    """Return a toggle clamp that presses straight down at `at`, its base towards you."""
    x, y = at
    pad, arm = draw.Circle(Point(x, y), 8.0), draw.rectangle(x - 4, y - 34, x + 4, y)
    base = draw.rectangle(x - 11, y - 52, x + 11, y - 32)
    return Part(name, "Toggle clamp", (Line(base), Line(arm), Line(pad)), covers=(base, arm, pad))


def hand(which: Literal["left", "right"], at: tuple[float, float], *, scale: float = 1.0, wrist: float = 92.0) -> Part:
    """Return a hand that lies on its work, its fingertips pointing away from you; `at` is the middle of its knuckles.

    The fingers are bent over an edge or a grip: from above one sees the back of the hand and the first joints. It is
    shown as far as `wrist` mm below its knuckles, where that is cut off by the edge of the picture.
    """
    side = 1.0 if which == "left" else -1.0  # the thumb of the left hand is at its right
    x0, y0 = at

    def p(x: float, y: float) -> Point:
        return Point(x0 + side * x * scale, y0 + y * scale)

    tops = ((-38.0, 2.0), (-19.0, 12.0), (0.0, 15.0), (19.0, 8.0))
    r = 9.5
    steps: list[draw.LineTo | draw.ArcTo] = []
    for i, (left, top) in enumerate(tops):
        steps.append(draw.LineTo(p(left, top)))
        steps.append(draw.ArcTo(p(left + 2 * r, top), p(left + r, top), side < 0))
        if i + 1 < len(tops):
            steps.append(draw.LineTo(p(left + 2 * r, tops[i + 1][1] - 8)))
    right = ((38.0, -26.0), (27.0, -62.0), (24.0, -92.0))
    steps += [draw.LineTo(p(x, y)) for x, y in right if y > -wrist]
    steps += [draw.LineTo(p(_across(right, -wrist), -wrist)), draw.LineTo(p(-38 + 8 * (wrist - 40) / 52, -wrist))]
    start = p(-38, max(-40.0, -wrist))
    palm = draw.Path(start, tuple(steps), closed=True)
    thumb = draw.Path(
        p(36, max(-44, -wrist)),
        (
            draw.LineTo(p(52, -12)),
            draw.ArcTo(p(36, -4), p(44, -8), side > 0),
            draw.LineTo(p(24, max(-30, -wrist))),
        ),
    )
    cover = draw.polygon(p(36, max(-44, -wrist)), p(53, -12), p(44, -1), p(35, -4), p(24, max(-30, -wrist)))
    between = [draw.line(p(left, tops[i + 1][1] - 8), p(left, -18)) for i, left in enumerate((-19.0, 0.0, 19.0))]
    lines = (Line(palm), Line(thumb), *draw.lines(between, Kind.NARROW))
    return Part(f"{which}-hand", f"{which.capitalize()} hand", lines, covers=(palm, cover))


def outside_guard(centre: tuple[float, float], side: float = GUARD) -> float:
    """Return how far from you knuckles may be, the guard over a bit before them: no fingertip comes inside it."""
    return centre[1] - side / 2 - HAND_AHEAD - 1.0


def _across(edge: tuple[tuple[float, float], ...], y: float) -> float:
    """Return where an edge that goes down from corner to corner is across, at a height."""
    for (x1, y1), (x2, y2) in itertools.pairwise(edge):
        if y2 <= y <= y1:
            return x1 + (x2 - x1) * (y1 - y) / (y1 - y2)
    return edge[0][0] if y > edge[0][1] else edge[-1][0]


def featherboard(
    name: str, at: tuple[float, float], *, towards: Literal["away", "you"] = "away", body: float = 30.0
) -> Part:
    """Return a featherboard whose fingers press the work at `at`, leaning the way it is fed, right to left.

    Of its `body`, behind the fingers, so much is shown, mm.
    """
    x, y = at
    sign = 1.0 if towards == "away" else -1.0
    back = y - sign * (40 + body)
    shape = draw.polygon(
        (x, y), (x + 60, y), (x + 84, y - sign * 40), (x + 84, back), (x + 24, back), (x + 24, y - sign * 40)
    )
    slits = [draw.line((x + 10 * i, y), (x + 10 * i + 24, y - sign * 40)) for i in range(1, 6)]
    return Part(name, "Featherboard", (Line(shape), *draw.lines(slits, Kind.NARROW)), covers=(shape,))


def push_block(box: draw.Bounds) -> Part:
    """Return a push block behind the work."""
    shape = draw.rectangle(*box)
    grip = draw.rectangle(
        box.left + 0.3 * box.width,
        box.bottom + 0.35 * box.height,
        box.right - 0.3 * box.width,
        box.top - 0.35 * box.height,
    )
    return Part("push-block", "Push block", (Line(shape), Line(grip)), covers=(shape,))


def carrier(box: draw.Bounds, grips: tuple[tuple[float, float], ...] = ()) -> Part:
    """Return a carrier: a base that a small board is clamped on, with a round grip for each hand."""
    shape = draw.rectangle(*box)
    rounds = tuple(draw.Circle(Point(*at), 16.0) for at in grips)
    return Part("carrier", "Carrier", (Line(shape), *draw.lines(rounds)), covers=(shape, *rounds))


def arrow(name: str, title: str, tail: tuple[float, float], tip: tuple[float, float]) -> Part:
    """Return an arrow: the feed, or a push."""
    return Part(name, title, arrows=((Point(*tail), Point(*tip)),))


def key(box: draw.Bounds, *, hidden: float = 0.0) -> Part:
    """Return the key of a sled, running away from you; its first `hidden` mm lie under the upright."""
    shape = draw.rectangle(box.left, box.bottom + hidden, box.right, box.top)
    lines = [Line(shape)]
    if hidden:
        under = draw.line(
            (box.left, box.bottom + hidden),
            (box.left, box.bottom),
            (box.right, box.bottom),
            (box.right, box.bottom + hidden),
        )
        lines.append(Line(under, Kind.HIDDEN))
    return Part("key", "Key", tuple(lines), covers=(shape,))


def hole_saw(centre: tuple[float, float], diameter: float, pilot: float) -> Part:
    """Return a hole saw over its work: its rim, its pilot drill, its axes."""
    hole = draw.Hole(Point(*centre), diameter / 2)
    inner = [Line(draw.Circle(Point(*centre), pilot / 2))] if pilot else []
    return Part("hole-saw", "Hole saw", tuple(inner), holes=(hole,))
