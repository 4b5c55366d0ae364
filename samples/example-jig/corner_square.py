"""A jig of one's own, in a package of its own: a block that holds a corner of the box square while the glue sets."""

from __future__ import annotations

from typing import Annotated

from jigs.base.cards import Card, Caution, Order, Pictures, Setting, Settings, Sheets, Template
from jigs.base.catalogue import Plan, jig
from jigs.base.drawing import Bounds, Dimension, Line, Part, Point, View, polygon
from jigs.base.errors import refuse
from jigs.base.kinds import Length
from jigs.base.rules import stop
from jigs.base.wording import at_least, say
from jigs.things import plan as above

SIDE = 12.0
"""Thickness of the sides of the box in the picture, mm."""

CAUTIONS = (
    Caution("Saw", "Clamp the wood. Keep your fingers clear of the cut."),
    Caution("Chips", "Protect your eyes. Push sharp tools away from your hands."),
)


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
    template = Template(_template(leg, relief), "corner-square", "Glue it on plywood; make eight.", "corner-square")
    sheets = Sheets((_card(leg, relief),), (template,))
    return Plan(say("Corner square, legs of {leg:cut}", leg=leg), {"relief": relief}, sheets)


def _block(leg: float, relief: float) -> Part:
    outline = polygon((relief, 0), (leg, 0), (0, leg), (0, relief))
    return Part("block", "Block", (Line(outline),), covers=(outline,))


def _template(leg: float, relief: float) -> View:
    check = Dimension(Point(0, 0), Point(leg, 0), "below")
    return View("block", "Block", (_block(leg, relief),), (check,), check=check)


def _card(leg: float, relief: float) -> Card:
    rows = (Setting("leg", "Leg", leg, 0.2, "rule"), Setting("relief", "Corner cut off", relief, 0.5, "rule"))
    steps = (
        "Saw a square corner, then cut the corner off.",
        "Clamp the block into the corner of the dry box, then glue.",
    )
    bands = (Pictures((_in_the_corner(leg, relief),), most=80.0), Settings(rows), Order(steps))
    return Card("corner-square", "Corner square", "Bench", CAUTIONS, bands, jig="corner-square")


def _in_the_corner(leg: float, relief: float) -> View:
    """The block in a corner of the box, from above, with a clamp on each side."""
    parts = (
        above.board("side", "Side", Bounds(-SIDE, -SIDE, leg + 30, 0)),
        above.board("end", "End", Bounds(-SIDE, 0, 0, leg + 30)),
        _block(leg, relief),
        above.clamp("lower-clamp", (leg * 0.5, 0), reach=28.0),
        above.clamp("left-clamp", (0, leg * 0.5), reach=28.0, turned=True),
    )
    measured = Dimension(Point(0, leg), Point(leg, 0), "above", "", "leg")
    return View("in-the-corner", "In a corner of the box, from above", parts, (measured,), to_scale=False)
