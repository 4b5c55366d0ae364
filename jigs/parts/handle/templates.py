"""What of a handle is laid or glued on wood: its blank with holes and outline in one piece, its base on the lid.

Axes of the blank, seen on its face: x from its middle, y up from its base, which is the reference edge.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from jigs.base import drawing as draw
from jigs.base.drawing import Kind, Point
from jigs.base.wording import say
from jigs.parts.handle import outline
from jigs.parts.handle.part import Handle
from jigs.parts.handle.screws import Screwed
from jigs.trade.handle import PILOT_DRILL

BASE_SHOWN = 55.0
"""Half of what is drawn of a longer base on the lid, mm."""
_AXIS = 3.0
"""How far a middle line stands out, mm."""
_CROSSED = 9.0
"""The radius of a core that is crossed out: in a smaller one there is no room for it beside its number, mm."""
_TURNED: dict[draw.Side, draw.Side] = {"below": "right", "right": "above", "above": "left", "left": "below"}


def turned(view: draw.View) -> draw.View:
    """Return a view turned a quarter anticlockwise, so that a long piece stands; its words stay level."""
    labels = tuple(
        replace(label, at=_turned(label.at), towards=label.towards and _TURNED[label.towards]) for label in view.labels
    )
    check = _turned_dimension(view.check) if view.check else None
    return replace(
        view,
        parts=tuple(_turned_part(part) for part in view.parts),
        dimensions=tuple(_turned_dimension(dimension) for dimension in view.dimensions),
        labels=labels,
        check=check,
    )


def _turned(point: Point) -> Point:
    return Point(-point.y, point.x)


def _turned_dimension(found: draw.Dimension) -> draw.Dimension:
    return replace(found, start=_turned(found.start), end=_turned(found.end), side=_TURNED[found.side])


def _turned_part(part: draw.Part) -> draw.Part:
    lines = tuple(draw.Line(_turned_shape(drawn.shape), drawn.kind) for drawn in part.lines)
    arrows = tuple((_turned(tail), _turned(tip)) for tail, tip in part.arrows)
    return replace(part, lines=lines, arrows=arrows)


def _turned_shape(shape: draw.Shape) -> draw.Shape:
    if isinstance(shape, draw.Circle):
        return replace(shape, centre=_turned(shape.centre))
    steps = tuple(
        replace(step, end=_turned(step.end), centre=_turned(step.centre))
        if isinstance(step, draw.ArcTo)
        else draw.LineTo(_turned(step.end))
        for step in shape.steps
    )
    return draw.Path(_turned(shape.start), steps, shape.closed)


# -- blank and outline ---------------------------------------------------------------------------------------------


def blank(made: Handle) -> draw.View:
    """Return blank, holes and outline as one piece to glue on; upright, or its right half, where a page is small."""
    whole, half = _blank(made, half=False), _blank(made, half=True)
    ways = [whole, turned(whole), half, turned(half)]
    found = ways.pop()
    for way in reversed(ways):
        found = replace(way, detail=found)
    return found


def _blank(made: Handle, *, half: bool) -> draw.View:
    """The blank, or what is right of its middle line."""
    end, top = made.blank_length / 2, made.blank_height
    start = 0.0 if half else -end
    sides = (1,) if half else (-1, 1)
    middles = outline.centres(made.holes)[-len(sides) :]
    edges = draw.line((start, 0), (start, top), (end, top), (end, 0))
    shape = outline.right_half(made.holes) if half else outline.outline(made.holes)
    trims = [draw.line((side * made.length / 2, 0), (side * made.length / 2, top)) for side in sides]
    parts = (
        draw.Part(
            "blank",
            "Blank",
            (draw.Line(edges), draw.Line(draw.line((start, 0), (end, 0)), Kind.REFERENCE)),
        ),
        draw.Part("trim", "Trim lines", draw.lines(trims, Kind.NARROW)),
        draw.Part("outline", "Outline", (draw.Line(shape),)),
        *_holes(made, middles),
        draw.Part("waste", "Waste", draw.lines([line for side in sides for line in _waste(made, side)], Kind.NARROW)),
        draw.Part("middle", "Middle line", draw.lines(_middle(top), Kind.CENTRE)),
    )
    trim = 0.0 if half else -made.length / 2
    first = 0.0 if half else middles[0].x
    long = draw.Dimension(Point(start, top), Point(end, top), "above")
    dimensions = (
        draw.Dimension(Point(first, 0), Point(middles[-1].x, 0), "below", "to the centre" if half else "centres"),
        draw.Dimension(Point(trim, 0), Point(made.length / 2, 0), "below", "half" if half else "trimmed"),
        long,
    )
    title = "Handle, right half; turn it over for the left half" if half else "Handle"
    return draw.View("outline", title, parts, dimensions, tuple(_labels(made, middles)), check=long)


def _labels(made: Handle, middles: Sequence[Point]) -> list[draw.Label]:
    holes, half = made.holes, len(middles) == 1
    aside = made.length / 8 if half else 0.0
    first = 3 - len(middles)
    numbers = [
        draw.Label(str(first + i), middle.moved(0, _number_up(made)), leader=False, height=5.0, bold=True)
        for i, middle in enumerate(middles)
    ]
    crest = say("crest, radius {radius:rough}", radius=holes.crest_radius)
    neck = Point(made.neck / 4 if half else 0.0, made.hole_height)
    return [
        *numbers,
        draw.Label(say("Ø {saw:gauge}", saw=2 * made.radius), neck, leader=False),
        draw.Label("base, on the fence", Point(aside, max(3.2, made.base * 0.55)), leader=False),
        draw.Label(crest, Point(aside, holes.crest_height(aside) - 5.0), leader=False),
    ]


def _number_up(made: Handle) -> float:
    """How far above the centre of a hole its number stands."""
    return 0.6 * made.radius


def _middle(top: float) -> list[draw.Path]:
    """The middle line, left out where there are words."""
    return [draw.line((0, -_AXIS), (0, 1.0)), draw.line((0, top - 1.0), (0, top + _AXIS))]


def _holes(made: Handle, middles: Sequence[Point]) -> list[draw.Part]:
    """The circles of the saw, and their cores crossed out: the pilot drill stands in them where it stays."""
    first, r = 3 - len(middles), made.radius
    found = []
    for i, middle in enumerate(middles):
        number = first + i
        circle = draw.Line(draw.Circle(middle, r))
        found.append(
            draw.Part(f"hole-{number}", f"Hole {number}", (circle, *draw.lines(_axes(made, middle), Kind.CENTRE)))
        )
        inner = PILOT_DRILL / 2 if made.pilot.stays else 1.5
        lines = [
            draw.line(draw.on_circle(middle, max(inner, 0.35 * r), angle), draw.on_circle(middle, r, angle))
            for angle in ((45, 135, 225, 315) if r > _CROSSED else ())
        ]
        drill = [draw.Circle(middle, PILOT_DRILL / 2)] if made.pilot.stays else []
        if lines or drill:
            found.append(draw.Part(f"core-{number}", f"Core {number}", draw.lines([*lines, *drill], Kind.NARROW)))
    return found


def _axes(made: Handle, middle: Point) -> list[draw.Path]:
    """The centre lines of a hole, open where its number stands."""
    (x, y), r = middle, made.radius
    reach, up = r + _AXIS, _number_up(made)
    lines = [draw.line((x - reach, y), (x + reach, y)), draw.line((x, y - reach), (x, y + max(2.0, up - 5.2)))]
    if up + 4.0 < reach:
        lines.append(draw.line((x, y + up + 4.0), (x, y + reach)))
    return lines


def _waste(made: Handle, side: int) -> list[draw.Path]:
    """What is cut away at one end and above the crest, crossed out."""
    holes, top = made.holes, made.blank_height
    inner, outer = side * made.length / 2, side * made.blank_length / 2
    ends = [draw.line((inner, 0), (outer, top)), draw.line((inner, top), (outer, 0))] if outer != inner else []
    end, low = made.length / 2, made.height - made.crest
    # Along the tangent at the end of the crest, which lies above all of it, and from the corner down to the crest.
    slope = math.sqrt(holes.crest_radius**2 - (holes.crest_radius - made.crest) ** 2)
    slope = slope / max(holes.crest_radius - made.crest, 1e-6)
    reach = min(end, (top - low) / slope) if slope else end
    crest = [
        draw.line((side * end, low), (side * (end - reach), low + slope * reach)),
        draw.line((side * end, top), (side * (end - reach), holes.crest_height(end - reach))),
    ]
    return ends + crest


# -- base on the lid -----------------------------------------------------------------------------------------------


def base(made: Screwed) -> draw.View:
    """Return the place of the base on the lid, with the holes of its screws."""
    screws, half_wide = made.screws, made.handle.thickness / 2
    half_long = min(made.handle.length / 2, BASE_SHOWN)
    whole = half_long == made.handle.length / 2
    sides = [draw.line((-half_long, y), (half_long, y)) for y in (-half_wide, half_wide)]
    ends = [draw.line((x, -half_wide), (x, half_wide)) for x in (-half_long, half_long)]
    edges = (*draw.lines(sides), *draw.lines(ends, Kind.EDGE if whole else Kind.NEIGHBOUR))
    axes = [draw.line((-half_long - 3, 0), (half_long + 3, 0)), draw.line((0, -half_wide - 3), (0, half_wide + 3))]
    left, right = made.places
    holes = (
        draw.Circle(Point(left, 0), screws.hole / 2),
        _slot(right, screws.hole, made.slot if screws.across else 0.0),
    )
    heads = draw.lines([draw.Circle(Point(x, 0), screws.head / 2) for x in made.places], Kind.HIDDEN)
    crossing = draw.lines([draw.line((x, -screws.head), (x, screws.head)) for x in made.places], Kind.CENTRE)
    parts = [
        draw.Part("base", "Place of the base", edges),
        draw.Part("base-axes", "Middle lines", draw.lines(axes, Kind.CENTRE)),
        draw.Part("screw-holes", "Holes for the screws", (*draw.lines(holes), *heads, *crossing)),
    ]
    long = draw.Dimension(Point(-half_long, half_wide), Point(half_long, half_wide), "above")
    grain, label = _grain(made, half_long, half_wide)
    labels = (*_hole_labels(made), label)
    title = "Handle base on the lid" if whole else "Handle base on the lid, its middle"
    piece = draw.Piece(_round_the_heads(made, half_long, half_wide), (holes[1],))
    view = draw.View("lid-screws", title, (*parts, grain), (long,), labels, check=long, piece=piece)
    return replace(view, detail=turned(view))


def _round_the_heads(made: Screwed, half_long: float, half_wide: float) -> draw.Path:
    """The base as it is drawn, and larger where the holes would not lie in it with the heads of their screws."""
    head = made.screws.head
    long = max(half_long, *(abs(x) + (head + made.slot) / 2 + 1.0 for x in made.places))
    wide = max(half_wide, head / 2 + 1.0)
    return draw.rectangle(-long, -wide, long, wide)


def _hole_labels(made: Screwed) -> list[draw.Label]:
    screws, (left, right) = made.screws, made.places
    hole = say("drill {wide:cut}", wide=screws.hole)
    found = [draw.Label(hole, Point(left - screws.hole / 2, 0), towards="left")]
    if screws.across:
        slot = say("slot {wide:cut} × {long:cut}", wide=screws.hole, long=screws.hole + made.slot)
        found.append(draw.Label(slot, Point(right + screws.hole / 2, 0), towards="right"))
    head = say("countersink {head:cut}, below" if screws.countersink else "head {head:cut}, below", head=screws.head)
    found.append(draw.Label(head, Point(right, -screws.head / 2), towards="right"))
    return found


def _slot(x: float, wide: float, longer: float) -> draw.Path | draw.Circle:
    """A round hole, or a slot along the handle: round ends, `longer` from centre to centre."""
    if not longer:
        return draw.Circle(Point(x, 0), wide / 2)
    left, right, up = Point(x - longer / 2, 0), Point(x + longer / 2, 0), wide / 2
    steps = (
        draw.LineTo(Point(right.x, -up)),
        draw.ArcTo(Point(right.x, up), right, True),
        draw.LineTo(Point(left.x, up)),
        draw.ArcTo(Point(left.x, -up), left, True),
    )
    return draw.Path(Point(left.x, -up), steps, closed=True)


def _grain(made: Screwed, half_long: float, half_wide: float) -> tuple[draw.Part, draw.Label]:
    """The lid's grain, along the handle or across it: on the base where there is room, else beside it."""
    inside = half_long > 32.0 and half_wide > 9.0
    middle = Point(-half_long + 13.0, half_wide - 4.5) if inside else Point(-half_long - 14.0, half_wide)
    way = (0.0, 8.0) if made.screws.across else (9.0, 0.0)
    if made.screws.across:
        middle = Point(-half_long - 9.0, 0.0)
    arrows = tuple((middle, middle.moved(sign * way[0], sign * way[1])) for sign in (-1, 1))
    at = middle.moved(way[0] + 6.5, 0) if way[0] else middle.moved(-6.0, 0)
    part = draw.Part("lid-grain", "Grain of the lid", arrows=arrows)
    return part, draw.Label("grain", at, leader=False)
