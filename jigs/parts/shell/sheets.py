"""The sheets of the fan shell: pattern, its mirror, its place on the front, and how it is carved.

Axes of the pattern: the pivot at 0, up the page. Axes of the front seen from outside: its left end, its bottom edge.
"""

from __future__ import annotations

import math
from dataclasses import replace

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.usual import CARVING_MARGIN, Usual
from jigs.base.wording import Words, say
from jigs.parts.shell.part import Shell
from jigs.trade import shell as arithmetic

EASING = Usual(2, 3 / 32)
"""Radius that eases the valleys of the border (common practice, no source)."""
TICK, TICK_ROOM = 6.0, 3.0
"""A registration tick and its distance from the pattern, mm."""
_OTHER_SIDE: dict[draw.Side, draw.Side] = {"left": "right", "right": "left", "above": "above", "below": "below"}


def drawings(made: Shell) -> tuple[draw.Drawing, ...]:
    """Return the sheets, in the order they are worked from."""
    return _pattern(made), _mirrored_pattern(made), _placement(made), _carving(made)


def pivot(made: Shell) -> draw.Point:
    """Return where the pivot stands on the front, from its left end and its bottom edge, mm."""
    return draw.Point(made.board_length / 2, made.pivot_height)


def _floor(made: Shell) -> float:
    """The lowest place to carve: over the groove."""
    return (made.groove.top if made.groove else 0.0) + CARVING_MARGIN


def _drawing(name: str, title: str, purpose: str, *body: draw.Item, more: tuple[str, ...]) -> draw.Drawing:
    return draw.Drawing(name, title, purpose, body, (cautions.GENERAL, *more), jig="shell")


# -- the figure ----------------------------------------------------------------------------------------------------


def ribs(made: Shell) -> tuple[draw.Path, ...]:
    """Return the middle lines of the rib chips, left to right, from the hinge to the rim."""
    return tuple(draw.line(_on_rib(made.hinge, rib), _on_rib(made.fan.rib_radius, rib)) for rib in made.fan.ribs)


def chips(made: Shell) -> tuple[draw.Path, ...]:
    """Return the outlines of the rib chips: a point at the hinge, the full width at the rim."""
    return tuple(_chip(made, rib) for rib in made.fan.ribs)


def _chip(made: Shell, rib: float) -> draw.Path:
    tip, (x, y) = _on_rib(made.hinge, rib), _on_rib(made.fan.rib_radius, rib)
    turn, half = math.radians(rib), made.chip / 2
    across, up = half * math.cos(turn), half * math.sin(turn)
    return draw.polygon(tip, (x + across, y - up), (x - across, y + up))


def lobes(made: Shell) -> draw.Path:
    """Return the lobes as one line of true arcs, left to right."""
    arcs = made.fan.lobe_arcs()
    steps = tuple(draw.ArcTo(draw.Point(*arc.point(arc.start)), draw.Point(arc.x, arc.y), False) for arc in arcs)
    return draw.Path(draw.Point(*arcs[0].point(arcs[0].end)), steps)


def border(made: Shell) -> draw.Path | None:
    """Return the border with its eased valleys, left to right, its ends on the outer ribs; None for a border of 0."""
    if not made.border:
        return None
    found = arithmetic.border(made.fan, offset=made.border, easing=EASING.size(made.units))
    steps: list[draw.LineTo | draw.ArcTo] = [draw.LineTo(draw.Point(*found.lobes[0].point(found.lobes[0].end)))]
    for i, lobe in enumerate(found.lobes):
        steps.append(draw.ArcTo(draw.Point(*lobe.point(lobe.start)), draw.Point(lobe.x, lobe.y), False))
        if i < len(found.easings):
            easing = found.easings[i]
            steps.append(draw.ArcTo(draw.Point(*easing.point(easing.end)), draw.Point(easing.x, easing.y), True))
    first, last = (_on_rib(made.fan.rib_radius, rib) for rib in (made.fan.ribs[0], made.fan.ribs[-1]))
    return draw.Path(first, (*steps, draw.LineTo(last)))


def _on_rib(distance: float, rib: float) -> draw.Point:
    turn = math.radians(rib)
    return draw.Point(distance * math.sin(turn), distance * math.cos(turn))


def _figure(made: Shell) -> tuple[draw.Part, ...]:
    edge = border(made)
    return (
        draw.Part("ribs", "Ribs", draw.lines(ribs(made))),
        draw.Part("chips", "Chips of the ribs", draw.lines(chips(made), draw.Kind.NARROW)),
        draw.Part("lobes", "Lobes", (draw.Line(lobes(made)),)),
        *((draw.Part("border", "Border", (draw.Line(edge),)),) if edge else ()),
    )


# -- pattern -------------------------------------------------------------------------------------------------------


def _pattern(made: Shell) -> draw.Drawing:
    notes = draw.Notes(
        "pattern-notes",
        "How to transfer it",
        (
            "This sheet reads right. Lay it on the front with graphite paper under it, the dark side down; bring pivot "
            "and ticks onto the lines of the placement sheet; tape one edge down and trace with a hard point.",
            "For a rubbed or ironed print use the mirrored sheet: what is turned over onto the wood comes out "
            "reversed. A shell is the same both ways, initials beside it are not.",
            "The double tick is at the left of the carved front. Heavy lines are cut; the thin triangles are the "
            "widths of the rib chips.",
        ),
    )
    purpose = "the shell's pattern, right-reading, for tracing through graphite paper"
    view = _pattern_view(made)
    return _drawing("pattern", "shell, pattern", purpose, view, notes, more=(cautions.HAND_TOOLS, cautions.GRAPHITE))


def _mirrored_pattern(made: Shell) -> draw.Drawing:
    notes = draw.Notes(
        "mirrored-notes",
        "How to transfer it",
        (
            "This sheet is mirrored: lay it face down on the wood and rub or iron it over, and it reads right. Try on "
            "scrap whether the printer's toner lets go of the paper.",
            "The double tick is at the right here, and comes out at the left of the carved front.",
        ),
    )
    purpose = "the shell's pattern, mirrored, for rubbing or ironing a print onto the wood"
    view = mirrored(_pattern_view(made), "pattern-mirrored", "Pattern, mirrored")
    return _drawing(
        "pattern-mirrored", "shell, mirrored", purpose, view, notes, more=(cautions.HAND_TOOLS, cautions.GRAPHITE)
    )


def _pattern_view(made: Shell) -> draw.View:
    figure = _figure(made)
    box = draw.around(part.bounds for part in figure)
    half = made.over_all[0] / 2
    widest = max(box.right, half)
    reach = widest + TICK_ROOM
    ticks = [
        draw.line((0, -TICK_ROOM), (0, -TICK_ROOM - TICK)),
        draw.line((0, box.top + TICK_ROOM), (0, box.top + TICK_ROOM + TICK)),
        draw.line((reach, 0), (reach + TICK, 0)),
        draw.line((-reach, 0), (-reach - TICK, 0)),
        draw.line((-reach, 1.5), (-reach - TICK, 1.5)),
    ]
    over = box.top + TICK_ROOM + TICK
    parts = (
        *figure,
        draw.Part(
            "pivot", "Pivot", draw.lines([draw.line((-2, 0), (2, 0)), draw.line((0, -2), (0, 2))], draw.Kind.NARROW)
        ),
        draw.Part("ticks", "Registration ticks", draw.lines(ticks)),
        draw.Part(
            "up", "This side up", arrows=((draw.Point(widest - 4, box.top + 1), draw.Point(widest - 4, over + 2)),)
        ),
    )
    width = made.width / 2
    lowest = _widest_height(made)
    across = draw.Dimension(draw.Point(-width, lowest), draw.Point(width, lowest), "below", "shell")
    dimensions = (
        across,
        draw.Dimension(draw.Point(0, 0), draw.Point(0, made.height), "right", "shell"),
        draw.Dimension(draw.Point(0, 0), draw.Point(0, box.top), "left", "with border"),
    )
    labels = (draw.Label("THIS SIDE UP", draw.Point(0, over + 6), leader=False, height=5.0),)
    return draw.View("pattern", "Pattern, right-reading", parts, dimensions, labels, check=across)


def _widest_height(made: Shell) -> float:
    """How high the shell's widest points are over the pivot: on the outer lobes, or else their valleys."""
    fan = made.fan
    middle = fan.half_angle - fan.half_step
    if middle + fan.half_arc >= 90:
        return fan.centre_radius * math.cos(math.radians(middle))
    return fan.rib_radius * math.cos(math.radians(fan.half_angle))


# -- the mirror ----------------------------------------------------------------------------------------------------


def mirrored(view: draw.View, name: str, title: Words) -> draw.View:
    """Return a view with left and right exchanged; its words stay readable."""
    dimensions = tuple(_mirrored_dimension(dimension) for dimension in view.dimensions)
    labels = tuple(replace(label, at=_mirrored_point(label.at)) for label in view.labels)
    check = _mirrored_dimension(view.check) if view.check else None
    parts = tuple(_mirrored_part(part) for part in view.parts)
    return replace(view, name=name, title=title, parts=parts, dimensions=dimensions, labels=labels, check=check)


def _mirrored_part(part: draw.Part) -> draw.Part:
    return replace(
        part,
        lines=tuple(draw.Line(_mirrored_shape(drawn.shape), drawn.kind) for drawn in part.lines),
        holes=tuple(draw.Hole(_mirrored_point(hole.centre), hole.radius, hole.name) for hole in part.holes),
        hatched=tuple(_mirrored_path(path) for path in part.hatched),
        arrows=tuple((_mirrored_point(tail), _mirrored_point(tip)) for tail, tip in part.arrows),
    )


def _mirrored_shape(shape: draw.Shape) -> draw.Shape:
    if isinstance(shape, draw.Circle):
        return draw.Circle(_mirrored_point(shape.centre), shape.radius)
    return _mirrored_path(shape)


def _mirrored_path(path: draw.Path) -> draw.Path:
    steps = tuple(
        draw.ArcTo(_mirrored_point(step.end), _mirrored_point(step.centre), not step.anticlockwise)
        if isinstance(step, draw.ArcTo)
        else draw.LineTo(_mirrored_point(step.end))
        for step in path.steps
    )
    return draw.Path(_mirrored_point(path.start), steps, path.closed)


def _mirrored_dimension(dimension: draw.Dimension) -> draw.Dimension:
    start, end = _mirrored_point(dimension.start), _mirrored_point(dimension.end)
    return draw.Dimension(start, end, _OTHER_SIDE[dimension.side], dimension.name)


def _mirrored_point(point: draw.Point) -> draw.Point:
    return draw.Point(-point.x, point.y)


# -- placement -----------------------------------------------------------------------------------------------------


def _placement(made: Shell) -> draw.Drawing:
    at, (width, height) = pivot(made), made.over_all
    said: list[Words] = [
        "Carve before the box is glued up, while the front lies flat on the bench. Square a line through the pivot up "
        "from the bottom edge, and one along the front: the ticks of the pattern lie on these.",
        say(
            "The pivot is {along} from the left end and {up} over the bottom edge. Hatched is left alone: {ends} at "
            "each end for the fingers, {floor} at the bottom edge, {top} at the top.",
            along=at.x,
            up=at.y,
            ends=made.cut_depth + CARVING_MARGIN,
            floor=_floor(made),
            top=CARVING_MARGIN,
        ),
    ]
    if made.groove:
        said.append(
            say(
                "The groove is on the other face, from {low} to {high} over the bottom edge.",
                low=made.groove.from_bottom,
                high=made.groove.top,
            )
        )
    notes = draw.Notes("placement-notes", "How to use this sheet", tuple(said))
    purpose = "where the shell goes on the outside of the front; nothing is carved in the hatched zones"
    past = min(made.board_length, at.x + width / 2 + 4.0), min(made.board_width, at.y + height + 6.0)
    view = _placement_view(made, past[0], past[1])
    for right, top in ((past[0], made.board_width), (made.board_length, made.board_width)):
        view = replace(_placement_view(made, right, top), detail=view)
    return _drawing("placement", "shell, placement", purpose, view, notes, more=(cautions.HAND_TOOLS,))


def _placement_view(made: Shell, right: float, top: float) -> draw.View:
    """The front from outside, from its left end and its bottom edge on as far as the page can hold it."""
    at, off = pivot(made), made.cut_depth + CARVING_MARGIN
    whole = right == made.board_length and top == made.board_width
    board = draw.Part(
        "front",
        "Front",
        (
            draw.Line(draw.line((0, 0), (right, 0)), draw.Kind.REFERENCE),
            draw.Line(draw.line((0, 0), (0, top))),
            draw.Line(
                draw.line((0, top), (right, top)), draw.Kind.EDGE if top == made.board_width else draw.Kind.NEIGHBOUR
            ),
            draw.Line(
                draw.line((right, 0), (right, top)),
                draw.Kind.EDGE if right == made.board_length else draw.Kind.NEIGHBOUR,
            ),
            *_behind(made, right, top),
        ),
        hatched=_no_go(made, right, top),
    )
    figure = _moved(_placed_figure(made), at)
    axes = draw.lines(
        [draw.line((at.x, -3), (at.x, top + 3)), draw.line((-3, at.y), (right + 3, at.y))], draw.Kind.CENTRE
    )
    from_left = draw.Dimension(draw.Point(0, 0), draw.Point(at.x, 0), "below", "pivot")
    dimensions = [
        from_left,
        draw.Dimension(draw.Point(0, 0), draw.Point(0, at.y), "left"),
    ]
    if top == made.board_width:
        dimensions.append(draw.Dimension(draw.Point(0, 0), draw.Point(0, top), "left"))
    labels = [draw.Label("no carving: fingers", draw.Point(min(off, right) / 2, top * 0.75), towards="above")]
    if made.groove:
        middle = (made.groove.from_bottom + made.groove.top) / 2
        labels.append(draw.Label("groove behind", draw.Point(at.x / 2, middle), towards="above"))
    title = "Front, from outside" if whole else "Front, from outside, from its left end to past the shell"
    parts = (board, *figure, draw.Part("axes", "Lines through the pivot", axes))
    return draw.View("placement", title, parts, tuple(dimensions), tuple(labels), check=from_left)


def _placed_figure(made: Shell) -> tuple[draw.Part, ...]:
    edge = border(made)
    outer = (draw.Line(lobes(made)), *([draw.Line(edge)] if edge else []))
    return (
        draw.Part("placed", "Shell", outer),
        draw.Part("placed-ribs", "Ribs", draw.lines(ribs(made), draw.Kind.NARROW)),
    )


def _moved(parts: tuple[draw.Part, ...], by: draw.Point) -> tuple[draw.Part, ...]:
    return tuple(
        replace(part, lines=tuple(draw.Line(drawn.shape.moved(by.x, by.y), drawn.kind) for drawn in part.lines))
        for part in parts
    )


def _behind(made: Shell, right: float, top: float) -> tuple[draw.Line, ...]:
    """The inner faces of the ends, and the groove on the other face."""
    depths = [x for x in (made.cut_depth, made.board_length - made.cut_depth) if 0 < x < right]
    found = draw.lines([draw.line((x, 0), (x, top)) for x in depths], draw.Kind.HIDDEN)
    if made.groove:
        heights = [y for y in (made.groove.from_bottom, made.groove.top) if 0 < y < top]
        found += draw.lines([draw.line((0, y), (right, y)) for y in heights], draw.Kind.HIDDEN)
    return found


def _no_go(made: Shell, right: float, top: float) -> tuple[draw.Path, ...]:
    """The zones to keep off, as far as the view goes: the ends, what is under the groove's top, the edges."""
    off = min(made.cut_depth + CARVING_MARGIN, right)
    inner = min(right, max(made.board_length - off, off))
    floor, ceiling = min(_floor(made), top), min(made.board_width - CARVING_MARGIN, top)
    zones = [(0.0, 0.0, off, top), (off, 0.0, inner, floor), (inner, 0.0, right, top)]
    zones.append((off, max(ceiling, floor), inner, top))
    return tuple(draw.rectangle(*zone) for zone in zones if zone[2] > zone[0] and zone[3] > zone[1])


# -- carving -------------------------------------------------------------------------------------------------------


def _carving(made: Shell) -> draw.Drawing:
    purpose = "the order of the cuts, how deep each is, and the wood that is left"
    body = (_cuts(made), _along_a_rib(made), _section(made), _carving_order(made))
    return _drawing("carving", "shell, carving", purpose, *body, more=(cautions.CARVING,))


def _relief(made: Shell) -> float:
    return arithmetic.relief_depth(border=made.border, chip_depth=made.chip_depth)


def _cuts(made: Shell) -> draw.Table:
    knife = f"{made.knife:g}°"
    rim, wood = made.chip_depth, made.thickness
    rows: list[tuple[draw.Cell, ...]] = [
        ("stop cuts along the ribs", "upright", say("0 to {rim}", rim=rim), made.wood_left),
        ("rib chips, from both sides", knife, say("0 to {rim}", rim=rim), made.wood_left),
    ]
    if made.border:
        depth = _relief(made)
        slope = f"{math.degrees(math.atan2(depth, made.border)):.0f}°"
        left = made.wood_left + rim - depth
        rows.insert(0, ("stop cuts along the lobes", "upright", depth, left))
        rows.append(("ground of the border", slope, depth, left))
    numbered = tuple((str(i), *row) for i, row in enumerate(rows, start=1))
    title = say("Cuts in their order, in a front {thick} thick", thick=wood)
    return draw.Table("cuts", title, ("", "Cut", "Knife", "Deep", "Wood left"), numbered)


def _along_a_rib(made: Shell) -> draw.Table:
    hinge, rim = made.hinge, made.fan.rib_radius
    rows = []
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        at = hinge + (rim - hinge) * share
        at = min(at, rim)
        wide = arithmetic.rib_chip_width(widest=made.chip, hinge=hinge, rib_radius=rim, at=at)
        deep = wide / made.chip * made.chip_depth
        ridge = arithmetic.ridge(half_step=made.fan.half_step, at=at, chip_width=wide)
        rows.append((at, wide, deep, ridge))
    return draw.Table("along", "Along a rib", ("From the pivot", "Chip wide", "Deep", "Ridge beside it"), tuple(rows))


def _carving_order(made: Shell) -> draw.Notes:
    said: list[Words] = [
        say(
            "Cut a chip on scrap of the same wood first. Every rib starts {hinge} from the pivot and deepens to the "
            "rim; the ground of the border falls from its line to the foot of the lobes.",
            hinge=made.hinge,
        ),
        "Stop cuts come first: the fibres end there, and the slanting cut can't split beyond. Cut a little at a time, "
        "along the grain slicing; turn the board, not the knife. What stays in is cut deeper, never levered out.",
    ]
    if made.over_groove:
        said.append(
            say(
                "The shell reaches over the groove: there only {left} of wood is left under a chip.",
                left=made.wood_left,
            )
        )
    return draw.Notes("carving-notes", "How to carve it", tuple(said))


def _section(made: Shell) -> draw.View:
    """A rib chip cut through, and the border's ground beside its lobe, enlarged; angles are true."""
    half, scale = 12.0, 24.0 / made.chip
    deep = made.chip_depth * scale
    floor = -max(deep + 14.0, 20.0)
    surface = [(-30.0, 0.0), (-half, 0.0), (0.0, -deep), (half, 0.0), (30.0, 0.0)]
    wood = draw.polygon(*surface, (30.0, floor), (-30.0, floor))
    parts = (
        draw.Part("section-wood", "Front, cut through", draw.lines([draw.line(*surface)]), hatched=(wood,)),
        draw.Part("section-stop", "Stop cut", (draw.Line(draw.line((0, 3), (0, -deep)), draw.Kind.CENTRE),)),
    )
    labels = (
        draw.Label("stop cut first", draw.Point(0, 3), towards="above"),
        draw.Label(say("chip {wide}", wide=made.chip), draw.Point(-half, 0), towards="above"),
        draw.Label(f"knife {made.knife:g}° to the surface", draw.Point(half / 2, -deep / 2), towards="right"),
        draw.Label(say("{deep} deep at the rim", deep=made.chip_depth), draw.Point(0, -deep), towards="right"),
    )
    return draw.View("section", "A rib chip, cut through", parts, labels=labels, to_scale=False)
