"""What of a handle is laid or glued on wood: its blank with holes and outline in one piece, its base on the lid.

Axes of the blank, seen on its face: x from its middle, y up from its base, which is the reference edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from jigs.base import drawing as draw
from jigs.base.drawing import Kind, Point
from jigs.base.wording import say
from jigs.parts.handle import outline
from jigs.parts.handle.part import Handle
from jigs.parts.handle.screws import Screwed
from jigs.record import replace
from jigs.trade.handle import PILOT_DRILL
from jigs.trade.hole import Hole

BASE_SHOWN = 55.0
"""Half of what is drawn of a longer base on the lid, mm."""
_STANDS = 205.0
"""A blank with three holes that is no longer than this stands whole on a page, mm: all its holes are seen."""
_ROUND_SCREW = 20.0
"""How much of it is drawn beyond a screw, mm."""
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
    return replace(part, lines=lines, arrows=arrows, hatched=tuple(_turned_path(path) for path in part.hatched))


def _turned_shape(shape: draw.Shape) -> draw.Shape:
    if isinstance(shape, draw.Circle):
        return replace(shape, centre=_turned(shape.centre))
    return _turned_path(shape)


def _turned_path(shape: draw.Path) -> draw.Path:
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
    ways = [whole, turned(whole)]
    if made.middle is None or made.blank_length > _STANDS:
        ways += [half, turned(half)]
    found = ways.pop()
    for way in reversed(ways):
        found = replace(way, detail=found)
    return found


def _blank(made: Handle, *, half: bool) -> draw.View:
    """The blank, or what is right of its middle line."""
    end, top, low = made.blank_length / 2, made.top, -made.below
    start = 0.0 if half else -end
    sides = (1,) if half else (-1, 1)
    holes = _numbered(made, half=half)
    edges = draw.line((start, low), (start, top), (end, top), (end, low))
    shape = outline.right_half(made.holes) if half else outline.outline(made.holes)
    trims = [draw.line((side * made.length / 2, low), (side * made.length / 2, top)) for side in sides]
    parts = (
        draw.Part(
            "blank",
            "Blank",
            (draw.Line(edges), draw.Line(draw.line((start, low), (end, low)), Kind.REFERENCE)),
        ),
        draw.Part("trim", "Trim lines", draw.lines(trims, Kind.NARROW)),
        *_rip(made, start),
        draw.Part("outline", "Outline", (draw.Line(shape),)),
        *_holes(made, holes, half=half),
        draw.Part("waste", "Waste", draw.lines([line for side in sides for line in _waste(made, side)], Kind.NARROW)),
        draw.Part("middle", "Middle line", draw.lines(_middle(made), Kind.CENTRE)),
    )
    trim = 0.0 if half else -made.length / 2
    first, last = 0.0 if half else -made.holes.centre_offset, made.holes.centre_offset
    long = draw.Dimension(Point(start, top), Point(end, top), "above")
    dimensions = (
        draw.Dimension(Point(first, low), Point(last, low), "below", "to the centre" if half else "centres"),
        draw.Dimension(Point(trim, low), Point(made.length / 2, low), "below", "half" if half else "trimmed"),
        long,
    )
    title = "Handle, right half; turn it over for the left half" if half else "Handle"
    return draw.View("outline", title, parts, dimensions, tuple(_labels(made, holes, half=half)), check=long)


def _numbered(made: Handle, *, half: bool) -> list[tuple[int, Hole]]:
    """Return the holes by their numbers, from the left; of the right half what is not left of the middle."""
    found = list(enumerate(made.holes.row, start=1))
    return found[len(found) // 2 :] if half else found


def _rip(made: Handle, start: float) -> Iterator[draw.Part]:
    """Yield the line that the base is ripped to, where the blank goes on below it."""
    if made.below:
        end = made.blank_length / 2
        yield draw.Part("rip", "Rip line: the base", (draw.Line(draw.line((start, 0), (end, 0)), Kind.NARROW),))


def _labels(made: Handle, numbered: Sequence[tuple[int, Hole]], *, half: bool) -> Iterator[draw.Label]:
    holes, middle = made.holes, made.middle
    aside = made.length / 8 if half else 0.0
    for number, hole in numbered:
        if hole.x or not half:
            at = Point(hole.x, hole.y + _number_up(hole))
        else:
            at = Point(0.68 * hole.radius, hole.y + 0.3 * hole.radius)
        yield draw.Label(str(number), at, leader=False, height=5.0, bold=True)
    size = say("Ø {saw:gauge}", saw=2 * made.radius)
    crest = say("crest, radius {radius:rough}", radius=holes.crest_radius)
    if middle is None:
        yield draw.Label(size, Point(made.neck / 4 if half else 0.0, made.hole_height), leader=False)
        yield draw.Label("base, on the fence", Point(aside, max(3.2, made.base * 0.55)), leader=False)
        yield draw.Label(crest, Point(aside, holes.crest_height(aside) - 5.0), leader=False)
        return
    right = numbered[-1][1]
    yield draw.Label(size, draw.on_circle(Point(right.x, right.y), right.radius, 135), towards="above")
    if middle.radius != made.radius:
        wide = say("Ø {saw:gauge}", saw=2 * middle.radius)
        yield draw.Label(wide, draw.on_circle(Point(0, middle.y), middle.radius, 45), towards="above")
    yield draw.Label(crest, Point(aside, holes.crest_height(aside)), towards="above")
    if made.arched:
        inside = (made.length / 2 + 2 * max(middle.radius, holes.opening / 2)) / 3
        yield draw.Label("base: rip here", Point(made.length * 0.32, 0), towards="above")
        yield draw.Label("to the fence", Point(inside, -made.below), towards="above")
    else:
        yield draw.Label("base, on the fence", Point(holes.between / 2 + middle.radius / 2, 0), towards="below")


def _number_up(hole: Hole) -> float:
    """How far above the centre of a hole its number stands."""
    return 0.6 * hole.radius


def _middle(made: Handle) -> list[draw.Path]:
    """The middle line, left out where there are words."""
    low, top = -made.below, made.top
    return [draw.line((0, low - _AXIS), (0, low + 1.0)), draw.line((0, top - 1.0), (0, top + _AXIS))]


def _holes(made: Handle, numbered: Sequence[tuple[int, Hole]], *, half: bool) -> list[draw.Part]:
    """The circles of the saws, and their cores crossed out: the pilot drill stands in them where it stays."""
    found = []
    stays = {number: one.pilot.stays for one in made.drillings for number in one.holes}
    for number, hole in numbered:
        cut = half and not hole.x
        middle, r = Point(hole.x, hole.y), hole.radius
        axes = draw.lines(_axes(hole, cut=cut), Kind.CENTRE)
        found.append(draw.Part(f"hole-{number}", f"Hole {number}", (draw.Line(_round(middle, r, cut=cut)), *axes)))
        inner = PILOT_DRILL / 2 if stays[number] else 1.5
        lines = [
            draw.line(draw.on_circle(middle, max(inner, 0.35 * r), angle), draw.on_circle(middle, r, angle))
            for angle in ((45, 135, 225, 315) if r > _CROSSED else ())
            if not cut or angle in (45, 315)
        ]
        drill = [_round(middle, PILOT_DRILL / 2, cut=cut)] if stays[number] else []
        if lines or drill:
            found.append(draw.Part(f"core-{number}", f"Core {number}", draw.lines([*lines, *drill], Kind.NARROW)))
    return found


def _round(middle: Point, radius: float, *, cut: bool) -> draw.Shape:
    """A circle, or its right half where it is cut by the middle line."""
    return draw.arc(middle, radius, -90, 90) if cut else draw.Circle(middle, radius)


def _axes(hole: Hole, *, cut: bool) -> list[draw.Path]:
    """The centre lines of a hole, open where its number stands."""
    (x, y), r = Point(hole.x, hole.y), hole.radius
    reach, up = r + _AXIS, _number_up(hole)
    if cut:
        return [draw.line((x, y), (x + reach, y))]
    lines = [draw.line((x - reach, y), (x + reach, y)), draw.line((x, y - reach), (x, y + max(2.0, up - 5.2)))]
    if up + 4.0 < reach:
        lines.append(draw.line((x, y + up + 4.0), (x, y + reach)))
    return lines


def _waste(made: Handle, side: int) -> list[draw.Path]:
    """What is cut away at one end and above the crest, crossed out."""
    holes, top, bottom = made.holes, made.top, -made.below
    inner, outer = side * made.length / 2, side * made.blank_length / 2
    ends = (
        [draw.line((inner, bottom), (outer, top)), draw.line((inner, top), (outer, bottom))] if outer != inner else []
    )
    end, low = made.length / 2, made.height - made.crest
    # Along the tangent at the end of the crest, which lies above all of it, and from the corner down to the crest.
    slope = math.sqrt(holes.crest_radius**2 - (holes.crest_radius - made.crest) ** 2)
    slope = slope / max(holes.crest_radius - made.crest, 1e-6)
    reach = min(end, (top - low) / slope) if slope else end
    crest = [
        draw.line((side * end, low), (side * (end - reach), low + slope * reach)),
        draw.line((side * end, top), (side * (end - reach), holes.crest_height(end - reach))),
    ]
    return ends + crest + _below_foot(made, side)


def _below_foot(made: Handle, side: int) -> list[draw.Path]:
    """What is ripped off below a foot, crossed out as far as the arch leaves it."""
    if made.middle is None or not made.below:
        return []
    # The inner part of it is left to words.
    inner, outer, low = side * (0.6 * made.holes.opening / 2 + 0.2 * made.length), side * made.length / 2, -made.below
    return [draw.line((inner, low), (outer, 0)), draw.line((inner, 0), (outer, low))]


# -- base on the lid -----------------------------------------------------------------------------------------------


def base(made: Screwed) -> draw.View:
    """Return the place of the base on the lid, with the holes of its screws."""
    screws, half_wide = made.screws, made.handle.thickness / 2
    half_long = min(made.handle.length / 2, max(BASE_SHOWN, made.places[1] + _ROUND_SCREW))
    whole = half_long == made.handle.length / 2
    sides = [draw.line((-half_long, y), (half_long, y)) for y in (-half_wide, half_wide)]
    ends = [draw.line((x, -half_wide), (x, half_wide)) for x in (-half_long, half_long)]
    edges = (*draw.lines(sides), *draw.lines(ends, Kind.EDGE if whole else Kind.NEIGHBOUR))
    axes = [draw.line((-half_long - 3, 0), (half_long + 3, 0)), draw.line((0, -half_wide - 3), (0, half_wide + 3))]
    holes = [shape for y in made.sides for shape in _pair(made, y)]
    spots = [Point(x, y) for y in made.sides for x in made.places]
    heads = draw.lines([draw.Circle(spot, screws.head / 2) for spot in spots], Kind.HIDDEN)
    crossing = [draw.line((x, made.sides[0] - screws.head), (x, made.sides[-1] + screws.head)) for x in made.places]
    crossing += [draw.line((x - screws.head, y), (x + screws.head, y)) for x, y in spots if y]
    arch = [draw.line((x, -half_wide), (x, half_wide)) for x in _arch_sides(made)]
    parts = [
        draw.Part("base", "Place of the base", edges),
        *([draw.Part("base-arch", "Sides of the arch", draw.lines(arch))] if arch else []),
        draw.Part("base-axes", "Middle lines", draw.lines(axes, Kind.CENTRE)),
        draw.Part(
            "screw-holes", "Holes for the screws", (*draw.lines(holes), *heads, *draw.lines(crossing, Kind.CENTRE))
        ),
    ]
    long = draw.Dimension(Point(-half_long, half_wide), Point(half_long, half_wide), "above")
    grain, label = _grain(made, half_long, half_wide)
    labels = [*_hole_labels(made), label]
    if arch:
        labels.append(draw.Label("arch", Point(0.3 * made.handle.holes.opening, 0.6 * half_wide), leader=False))
    title = "Handle base on the lid" if whole else "Handle base on the lid, its middle"
    piece = draw.Piece(_round_the_heads(made, half_long, half_wide), tuple(holes[1::2]))
    view = draw.View("lid-screws", title, (*parts, grain), (long,), tuple(labels), check=long, piece=piece)
    return replace(view, detail=turned(view))


def _arch_sides(made: Screwed) -> tuple[float, ...]:
    """Where an arch ends the feet."""
    half = made.handle.holes.opening / 2
    return (-half, half) if half else ()


def _pair(made: Screwed, y: float) -> tuple[draw.Circle, draw.Shape]:
    """The left and the right hole of a row of screws: across the grain the right one is a slot."""
    (left, right), hole = made.places, made.screws.hole
    slot = _slot(right, hole, made.slot if made.screws.across else 0.0)
    return draw.Circle(Point(left, y), hole / 2), slot.moved(0.0, y) if y else slot


def _round_the_heads(made: Screwed, half_long: float, half_wide: float) -> draw.Path:
    """The base as it is drawn, and larger where the holes would not lie in it with the heads of their screws."""
    head = made.screws.head
    long = max(half_long, *(abs(x) + (head + made.slot) / 2 + 1.0 for x in made.places))
    wide = max(half_wide, 0.0, *(abs(y) + head / 2 + 1.0 for y in made.sides))
    return draw.rectangle(-long, -wide, long, wide)


def _hole_labels(made: Screwed) -> list[draw.Label]:
    screws, (left, right), y = made.screws, made.places, made.sides[0]
    hole = say("drill {wide:cut}", wide=screws.hole)
    found = [draw.Label(hole, Point(left - screws.hole / 2, y), towards="left")]
    if screws.across:
        slot = say("slot {wide:cut} × {long:cut}", wide=screws.hole, long=screws.hole + made.slot)
        found.append(draw.Label(slot, Point(right + screws.hole / 2, y), towards="right"))
    head = say("countersink {head:cut}, below" if screws.countersink else "head {head:cut}, below", head=screws.head)
    found.append(draw.Label(head, Point(right, y - screws.head / 2), towards="right"))
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
