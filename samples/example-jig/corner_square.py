"""A jig of one's own, in a package of its own: a block that holds a corner of the box square while the glue sets."""

from __future__ import annotations

from typing import Annotated

from jigs.base import cautions
from jigs.base.catalogue import Plan, jig
from jigs.base.drawing import Dimension, Drawing, Line, Part, Point, View, polygon
from jigs.base.errors import refuse
from jigs.base.kinds import Length
from jigs.base.rules import stop
from jigs.base.wording import at_least, say


@jig("corner-square", title="Corner square", summary="holds a corner square while the glue sets")
def corner_square(
    *,
    leg: Annotated[float, Length("leg of the block", 30, 150)],
    proud: Annotated[float, Length("fingers left long", 0, 3)] = 0.3,
) -> Plan:
    """A right triangle whose corner is cut off, so that proud fingers and squeezed-out glue stay clear of it.

    Example: --leg 80 --proud 0.3
    """
    relief = proud + 5.0
    if relief > leg / 4:
        said = "a relief of {relief} takes too much of {leg}"
        refuse([stop("leg", said, "{least} at least", relief=relief, leg=leg, least=at_least(4 * relief))])
    outline = polygon((relief, 0), (leg, 0), (0, leg), (0, relief))
    part = Part("block", "Block", (Line(outline),))
    check = Dimension(Point(0, 0), Point(leg, 0), "below", "leg")
    view = View("block", "Block", (part,), (check,), check=check)
    sheet = Drawing("block", "corner square", "a block to clamp into a corner", (view,), (cautions.GENERAL,))
    return Plan(say("Corner square, legs of {leg}", leg=leg), {"relief": relief}, (sheet,))
