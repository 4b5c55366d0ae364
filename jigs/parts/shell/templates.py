"""The fan shell as it is drawn: its figure, the pattern that is traced onto the front, and the pattern's mirror.

Axes of the pattern: the pivot at 0, up the page.
"""

from __future__ import annotations

import math

from jigs.base import drawing as draw
from jigs.base.usual import Usual
from jigs.base.wording import Words
from jigs.parts.shell.part import Shell
from jigs.record import replace
from jigs.trade import shell as arithmetic

EASING = Usual(2, 3 / 32)
"""Radius that eases the valleys of the border (common practice, no source)."""
TICK, TICK_ROOM = 6.0, 3.0
"""A registration tick and its distance from the pattern, mm."""
_OTHER_SIDE: dict[draw.Side, draw.Side] = {"left": "right", "right": "left", "above": "above", "below": "below"}


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


def figure(made: Shell) -> tuple[draw.Part, ...]:
    """Return what is cut: ribs, the widths of their chips, lobes and border."""
    edge = border(made)
    return (
        draw.Part("ribs", "Ribs", draw.lines(ribs(made))),
        draw.Part("chips", "Chips of the ribs", draw.lines(chips(made), draw.Kind.NARROW)),
        draw.Part("lobes", "Lobes", (draw.Line(lobes(made)),)),
        *((draw.Part("border", "Border", (draw.Line(edge),)),) if edge else ()),
    )


# -- pattern -------------------------------------------------------------------------------------------------------


def pattern(made: Shell) -> draw.View:
    """Return the pattern as it is traced, right-reading; nothing that is written stands on it."""
    parts = figure(made)
    box = draw.around(part.bounds for part in parts)
    widest = max(box.right, made.over_all[0] / 2)
    reach = widest + TICK_ROOM
    ticks = [
        draw.line((0, -TICK_ROOM), (0, -TICK_ROOM - TICK)),
        draw.line((0, box.top + TICK_ROOM), (0, box.top + TICK_ROOM + TICK)),
        draw.line((reach, 0), (reach + TICK, 0)),
        draw.line((-reach, 0), (-reach - TICK, 0)),
        draw.line((-reach, 1.5), (-reach - TICK, 1.5)),
    ]
    cross = [draw.line((-2, 0), (2, 0)), draw.line((0, -2), (0, 2))]
    up = draw.Point(widest + 2.0, box.top - 8.0)
    parts = (
        *parts,
        draw.Part("pivot", "Pivot", draw.lines(cross, draw.Kind.NARROW)),
        draw.Part("ticks", "Registration ticks", draw.lines(ticks)),
        draw.Part("up", "This side up", arrows=((up, up.moved(0, 11.0)),)),
    )
    # Measured below the ticks: its extension lines don't come near what is traced.
    low = -TICK_ROOM - 2.0
    across = draw.Dimension(draw.Point(-made.width / 2, low), draw.Point(made.width / 2, low), "below")
    labels = (draw.Label("up", up.moved(0, -3.0), leader=False),)
    return draw.View("pattern", "Shell", parts, (across,), labels, check=across)


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
