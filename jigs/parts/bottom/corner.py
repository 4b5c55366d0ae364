"""The corner of the bottom where the grooves' ends are round: how it lies in them, and the gauge of its clip.

Axes, seen from above: the box's inside corner at 0, the inside to the right and up. Lengths in mm.
"""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.base.drawing import Point
from jigs.parts.groove.part import Groove
from jigs.parts.joint.part import LONGS, SHORTS

_ARM, _INSIDE = 24.0, 20.0
"""What is drawn of a side from the inside corner, and of the bottom, mm."""
_BEYOND = 18.0
"""What the gauge has beyond the clip, mm."""


def in_the_grooves(made: Groove) -> draw.View:
    """The front left corner cut level with the groove, the bottom's tongue pushed to the floors of both grooves.

    Where both boards are stopped the groove lies partly in fingers of each: it is drawn where it lies in the front's.
    """
    filling = made.stopped_kinds[0]
    front, end = (_wood(made, kind, fills=kind == filling) for kind in (LONGS, SHORTS))
    end = tuple(Point(y, x) for x, y in end)
    goes_on = draw.Line(draw.line((-made.depth, _INSIDE), (_INSIDE, _INSIDE), (_INSIDE, -made.depth)), draw.Kind.NARROW)
    names = (("front", "Front, cut at the groove", front), ("end", "Left end, cut at the groove", end))
    walls = [draw.Part(n, t, (draw.Line(draw.line(*wood)),), hatched=(draw.polygon(*wood),)) for n, t, wood in names]
    parts = (*walls, draw.Part("tongue", "Tongue of the bottom", (draw.Line(_tongue(made)), goes_on)))
    deep, leg = made.depth, made.corner_size
    clip = draw.Dimension(Point(-deep, -deep), Point(leg - deep, -deep), "below", "clip")
    labels = (
        draw.Label("bottom", Point(_INSIDE * 0.55, _INSIDE * 0.6), leader=False),
        draw.Label("end board", Point(-deep - 1.5, _ARM * 0.75), towards="left"),
        draw.Label("front", Point(_ARM * 0.8, -deep - 1.5), towards="right"),
    )
    title = "A corner in its grooves, from above"
    return draw.View("corner", title, parts, (clip,) if leg else (), labels, to_scale=False)


def _wood(made: Groove, kind: str, *, fills: bool) -> tuple[Point, ...]:
    """Return a side's outline in the groove's plane, as if it lay along the foot of the picture.

    Where the groove lies in its finger, the finger fills the corner up to where the groove ends at the tongue's edges;
    else the side begins on the floor of its socket.
    """
    deep, thick, cut = made.depth, made.thicknesses[kind], made.cut_depths[kind]
    if not fills:
        return (Point(_ARM, -thick), Point(0, -thick), Point(0, -deep), Point(_ARM, -deep))
    reach = max(made.corner.reach, 0.0)
    return (
        Point(_ARM, -thick),
        Point(-cut, -thick),
        Point(-cut, 0),
        Point(-reach, 0),
        Point(-reach, -deep),
        Point(_ARM, -deep),
    )


def _tongue(made: Groove) -> draw.Path:
    """Return the tongue's corner with its clip, open where the bottom goes on."""
    deep, leg = made.depth, made.corner_size
    corner = [(-deep, leg - deep), (leg - deep, -deep)] if leg else [(-deep, -deep)]
    return draw.line((-deep, _INSIDE), *corner, (_INSIDE, -deep))


def clip(made: Groove) -> draw.View:
    """The gauge of the clip: the corner of the bottom by itself, the wood that is sawn off crossed out."""
    leg = made.corner_size
    size = leg + _BEYOND
    outline = draw.polygon((0, size), (0, leg), (leg, 0), (size, 0), (size, size))
    gone = draw.lines([draw.line((0, leg), (0, 0), (leg, 0)), draw.line((0, 0), (leg / 2, leg / 2))], draw.Kind.NARROW)
    part = draw.Part("clip", "Corner of the bottom", (draw.Line(outline), *gone))
    edge = draw.Dimension(Point(0, size), Point(size, size), "above", "edge")
    across = draw.Dimension(Point(0, 0), Point(leg, 0), "below", "clip")
    label = draw.Label("45°", Point(leg / 2, leg / 2), towards="right")
    return draw.View("clip", "Corner of the bottom", (part,), (edge, across), (label,), check=edge)
