"""A trammel: a bar on which a router turns round a pin, for discs and round holes."""

from __future__ import annotations

from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Choice, Length
from jigs.base.rules import stop
from jigs.base.usual import Usual
from jigs.base.wording import at_least, say
from jigs.trade.circles import disc_pivot, hole_pivot
from jigs.trade.fingers import TOUCH
from jigs.trade.groove import depth_passes

PIN = 1.5
"""Radius of the pivot pin, mm."""
END = 15.0
"""Wood beyond the pin, mm."""
BASE = 45.0
"""Half of the router's base, which the bar's end carries, mm."""
WIDE = 40.0


@jig("trammel", title="Circle trammel", summary="turns a router round a pin for discs and holes")
def trammel(
    *,
    radius: Annotated[float, Length("radius of the disc or the hole", 10, 1500)],
    cutter: Annotated[float, Length("cutter, measured in wood", 2, 40)],
    keep: Annotated[str, Choice("what is kept", ("disc", "hole"))] = "disc",
    deep: Annotated[float, Length("thickness to cut through", 2, 80)] = Usual(18, 3 / 4).default,
    each_pass: Annotated[float, Length("deepest cut in one turn", 0.5, 10)] = Usual(3, 1 / 8).default,
) -> Plan:
    """The bar at full size, with the pin for a disc and for a hole, and the depths turn by turn.

    Example: --radius 100 --cutter 6.35

    Sources: Pin to cutter is the radius and half of the cutter, or less it: `jigs/trade/circles.py`.
    """
    smallest = cutter / 2
    if keep == "hole" and radius <= smallest + TOUCH:
        numbers = {"radius": radius, "smallest": smallest, "least": at_least(smallest)}
        said = "a hole of radius {radius} is no larger than what the cutter makes by itself, {smallest}"
        refuse([stop("radius", said, "a radius of {least} at least", **numbers)])
    disc = disc_pivot(radius=radius, cutter=cutter)
    pins = {"disc": disc} | ({"hole": hole_pivot(radius=radius, cutter=cutter)} if radius > smallest else {})
    turns = len(depth_passes(deep, each_pass))
    numbers_out = {"pivot": pins[keep], "pivot_disc": disc, "pivot_hole": pins.get("hole"), "turns": turns}
    title = say("Trammel for a {what} of radius {radius}", what=keep, radius=radius)
    return Plan(title, numbers_out, (_sheet(pins, keep, radius, cutter, deep / turns, turns),))


def _sheet(pins: dict[str, float], keep: str, radius: float, cutter: float, step: float, turns: int) -> draw.Drawing:
    depths = draw.Table(
        "turns",
        "Depth, turn by turn",
        ("Turn", "Cutter below the wood's face"),
        tuple((str(i), step * i) for i in range(1, turns + 1)),
    )
    notes = draw.Notes(
        "notes",
        "How to use it",
        (
            say(
                "Drill the pin's hole square, screw the router to the bar with the cutter over the cross. From pin to "
                "the cutter's centre is {pivot}: the radius {sign} half of the cutter.",
                pivot=pins[keep],
                sign="and" if keep == "disc" else "less",
            ),
            "Cut one turn in scrap and measure across it before the work is touched. Work stuck or screwed down, waste "
            "below it; the part that comes free is held too, or it moves into the cutter at the last turn.",
            "Move the router anticlockwise round a disc's outside, clockwise round the inside of a hole.",
        ),
    )
    purpose = f"bar for a hand-held router that turns round a pin; the {keep} is kept"
    body = (_bar(pins, keep, radius, cutter), depths, notes)
    return draw.Drawing("bar", "trammel bar", purpose, body, (cautions.GENERAL, cautions.ROUTER))


def _bar(pins: dict[str, float], keep: str, radius: float, cutter: float) -> draw.View:
    """The bar from above, the cutter's centre at 0 and the pins to the left."""
    left, right, half = -max(pins.values()) - END, BASE, WIDE / 2
    bar = draw.Part(
        "bar",
        "Bar",
        (
            draw.Line(draw.rectangle(left, -half, right, half)),
            draw.Line(draw.line((left, 0), (right, 0)), draw.Kind.CENTRE),
            draw.Line(draw.line((right, -half - 3), (right, half + 3)), draw.Kind.REFERENCE),
        ),
        holes=tuple(draw.Hole(draw.Point(-at, 0), PIN, f"{name} pin") for name, at in pins.items() if name == keep),
    )
    cut = draw.Part("cutter", "Cutter", holes=(draw.Hole(draw.Point(0, 0), cutter / 2, "cutter"),))
    edge = draw.Part(
        "circle", "Edge that is cut", (draw.Line(draw.arc((-pins[keep], 0), radius, -4, 4), draw.Kind.HIDDEN),)
    )
    pivot = draw.Dimension(draw.Point(-pins[keep], half), draw.Point(0, half), "above", "pin to cutter")
    dimensions = (pivot, draw.Dimension(draw.Point(left, -half), draw.Point(left, half), "left", "bar"))
    labels = (draw.Label("edge of the router's base", draw.Point(right, 8), towards="right"),)
    near_cutter = draw.Circle(draw.Point(0, 0), cutter).bounds
    return draw.View("bar", "Bar from above", (bar, cut, edge), dimensions, labels, check=pivot, critical=near_cutter)
