"""A trammel: a bar on which a router turns round a pin, for discs and round holes."""

from __future__ import annotations

import math
from typing import Annotated, Literal

from jigs.base import drawing as draw
from jigs.base.cards import (
    Beside,
    Card,
    Caution,
    Check,
    Checks,
    Hold,
    Order,
    Pictures,
    Setting,
    Settings,
    Sheets,
    Template,
)
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Choice, Length
from jigs.base.rules import stop
from jigs.base.usual import Usual
from jigs.base.wording import at_least, say
from jigs.record import Record, replace
from jigs.shelf import scenes
from jigs.things import plan, section
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
WITHIN = 0.2
"""How near the pin is set, by a rule, and how near a circle comes out (common practice, no source), mm."""
BAR, BELOW = 9.0, 12.0
"""Thickness of the bar and of the waste board in pictures, mm."""
BY_RULE = 160.0
"""A pin further off than this is set by a rule: paper joined up is less true (common practice, no source), mm."""
FAR = 1000.0
"""What is longer is measured with a tape, mm."""
LONGEST = 260.0
"""A longer bar is drawn broken off in pictures, from pin to cutter, mm."""
CAUTIONS = (
    Caution("Hands", "Both hands on the router until the cutter stands still."),
    Caution("Loose", "Fix work and waste board. What comes free runs into the cutter."),
    Caution("Grab", "Feed against the cutter’s rotation only, a little each turn."),
    Caution("Unplug", "Unplug to set the depth. Lift when the cutter stands still."),
)


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
        said = "a hole of radius {radius} is no larger than the cutter, which makes one of {smallest} by itself"
        refuse([stop("radius", said, "cut a hole of radius {least} or more, or use a smaller cutter", **numbers)])
    disc = disc_pivot(radius=radius, cutter=cutter)
    pins = {"disc": disc} | ({"hole": hole_pivot(radius=radius, cutter=cutter)} if radius > smallest else {})
    turns = len(depth_passes(deep, each_pass))
    numbers_out = {"pivot": pins[keep], "pivot_disc": disc, "pivot_hole": pins.get("hole"), "turns": turns}
    title = say("Trammel, {what} of radius {radius:cut}", what=keep, radius=radius)
    return Plan(title, numbers_out, _sheets(_Circle(keep, radius, cutter, pins, deep, turns)))


class _Circle(Record):
    """A circle to be cut: what is kept, its radius, the cutter, the pin's distances by what they keep. In mm."""

    keep: str
    radius: float
    cutter: float
    pins: dict[str, float]
    deep: float
    turns: int

    @property
    def pivot(self) -> float:
        """From the pin to the cutter's centre."""
        return self.pins[self.keep]

    @property
    def step(self) -> float:
        """How deep one turn goes."""
        return self.deep / self.turns


def _sheets(made: _Circle) -> Sheets:
    view = _bar(made)
    upright = scenes.on_its_side(view)
    if made.pivot > BY_RULE:
        upright = replace(upright, detail=_end(made))
    view = replace(view, detail=upright)
    use = "glue it on the bar; prick pin and cutter through it"
    return Sheets((_card(made),), (Template(view, "trammel", use, "trammel"),))


# -- the card --------------------------------------------------------------------------------------------------------


def _card(made: _Circle) -> Card:
    way = "anticlockwise round the outside" if made.keep == "disc" else "clockwise round the inside"
    again = say("Lower it by {step} and turn again, until it is {deep} deep.", step=made.step, deep=made.deep)
    deeper = (again,) if made.turns > 1 else ()
    bands = (
        Pictures((_from_above(made), _across(made)), least=52.0, most=88.0, shares=(0.56, 0.44)),
        Beside(Settings(_settings(made)), _checks(made), 0.68),
        Order(
            (
                "Drill the pin’s hole square. Screw the router on, cutter over the cross.",
                "Screw or stick down the work, the part that comes free, the waste board.",
            )
        ),
        Hold("The trial circle passes; nothing can turn or come free.", "circle tried"),
        Order((f"Move the router {way}, one full turn.", *deeper)),
    )
    return Card("trammel", "Circle", "Hand-held router", CAUTIONS, bands, f"the {made.keep} is kept", "trammel")


def _settings(made: _Circle) -> tuple[Setting, ...]:
    rows = [
        Setting("cutter", "Cutter, cut in scrap", made.cutter, 0.05, "callipers"),
        Setting("pivot", "Pin to cutter centre", made.pivot, WITHIN, "template" if made.pivot <= BY_RULE else "rule"),
        Setting("step", "Deeper, each turn" if made.turns > 1 else "Depth, one turn", made.step, 0.1, "scale"),
    ]
    if made.turns > 1:
        rows.append(Setting("turns", "Turns", str(made.turns)))
        rows.append(Setting("deep", "Depth, last turn", made.deep, 0.1, "depth stop"))
    return tuple(rows)


def _checks(made: _Circle) -> Checks:
    across = 2 * made.radius
    fine = 0.05 if across < FAR else 0.1
    row = Check(f"across the {made.keep}", across - 2 * WITHIN, across + 2 * WITHIN, fine)
    return Checks((row,), "Trial", "one turn in scrap")


def _from_above(made: _Circle) -> draw.View:
    """The bar on its pin in the middle of the work, the router at its end, a hand on each knob: you stand right."""
    run = min(made.pivot, LONGEST)
    radius = made.radius - (made.pivot - run)
    hole, half, high = made.keep == "hole", WIDE / 2, BASE + 92.0
    reach = math.degrees(math.asin(min(1.0, (high - 6) / radius))) if radius > 0 else 90.0
    other = radius - made.cutter if hole else radius + made.cutter
    circles = [draw.arc((0, 0), size, -reach, reach) for size in (radius, other) if size > 0]
    bar, base = draw.rectangle(-END, -half, run, half), draw.Circle(draw.Point(run, 0), BASE)
    sign = -1.0 if hole else 1.0
    parts = [
        plan.board("work", "Work", draw.Bounds(-END - 20, -high, run + BASE + 60, high)),
        draw.Part("circle", "What is cut", draw.lines(circles)),
        draw.Part("bar", "Bar", (draw.Line(bar),), covers=(bar,)),
        draw.Part("pin", "Pin", holes=(draw.Hole(draw.Point(0, 0), PIN),)),
        draw.Part(
            "router",
            "Router",
            (draw.Line(base), draw.Line(draw.Circle(draw.Point(run, 0), made.cutter / 2))),
            covers=(base,),
        ),
        _held("right", run, BASE + 46),
        _held("left", run, -BASE - 46),
        plan.arrow("feed", "Feed", (run + BASE + 24, -20 * sign), (run + BASE + 24, 26 * sign)),
    ]
    if run < made.pivot:
        cut = [draw.break_line(draw.Point(run * 0.4 + x, -half), draw.Point(run * 0.4 + x, half)) for x in (0, 4)]
        parts.append(draw.Part("break", "Bar drawn shorter", draw.lines(cut, draw.Kind.NARROW)))
    inside = draw.Point(max(0.0, radius * 0.3), half + 22)
    labels = (
        draw.Label("bar", draw.Point(max(-END / 2, run * 0.2), -half * 0.55), leader=False),
        draw.Label("feed", draw.Point(run + BASE + 24, -40 * sign), leader=False, bold=True),
        draw.Label("disc" if not hole else "waste", inside, leader=False),
        draw.balloon("cutter", (run, 0), "left"),
    )
    pivot = draw.Dimension(draw.Point(0, 0), draw.Point(run, 0), "below", "", "pivot")
    title = "From above: you stand at the right" + ("" if run == made.pivot else "; the bar drawn shorter")
    return draw.View("from-above", title, tuple(parts), (pivot,), labels, to_scale=False)


def _held(which: Literal["left", "right"], x: float, y: float) -> draw.Part:
    """A hand round a knob of the router, its fingers pointing left."""
    return replace(
        scenes.turned(plan.hand(which, (0, 0))).moved(x + 12, y), title=f"{which.capitalize()} hand on its knob"
    )


def _across(made: _Circle) -> draw.View:
    """Work and waste board cut across at the cutter, near the end of the bar."""
    hole, half = made.keep == "hole", made.cutter / 2
    left, right, deep = -half - 46.0, half + 32.0, made.deep
    work = [draw.rectangle(left, -deep, -half, 0), draw.rectangle(half, -deep, right, 0)]
    steps = [draw.line((-half, -made.step * i), (half, -made.step * i)) for i in range(1, min(made.turns, 12))]
    top = BAR + 4.0
    base = draw.rectangle(-BASE * 0.9, BAR, BASE * 0.9, top)
    pin = draw.rectangle(left + 12 - PIN, -deep * 0.6, left + 12 + PIN, BAR + 3)
    parts = (
        section.face("waste-board", "Waste board", draw.rectangle(left, -deep - BELOW, right, -deep)),
        draw.Part("work", "Work", draw.lines(work), hatched=tuple(work)),
        draw.Part(
            "turns",
            "Depths of the turns",
            draw.lines([*steps, draw.line((-half, -deep), (half, -deep))], draw.Kind.NARROW),
        ),
        section.face("bar", "Bar", draw.rectangle(left, 0, -half - 3, BAR)),
        draw.Part("pin", "Pin", (draw.Line(pin),), covers=(pin,)),
        draw.Part("base", "Base of the router", (draw.Line(base),), covers=(base,)),
        section.cutter(0.0, made.cutter, top + 18, -made.step),
    )
    kept, waste = (right - 14, left + 30) if hole else (left + 30, right - 14)
    labels = (
        draw.Label("kept", draw.Point(kept, -deep / 2), leader=False, bold=True),
        draw.Label("hold it too", draw.Point(waste, -deep / 2), leader=False),
        draw.Label("pin", draw.Point(left + 12, BAR + 2), towards="above"),
        draw.Label("base", draw.Point(BASE * 0.7, top - 1), towards="above"),
        draw.Label("waste board", draw.Point(0, -deep - BELOW / 2), leader=False),
    )
    dimensions = [
        draw.Dimension(draw.Point(right, 0), draw.Point(right, -made.step), "right", "", "step"),
    ]
    if made.turns > 1:
        dimensions.append(draw.Dimension(draw.Point(right, 0), draw.Point(right, -deep), "right", "", "deep"))
    return draw.View("across", "Section at the cutter, first turn", parts, tuple(dimensions), labels, to_scale=False)


# -- the template ----------------------------------------------------------------------------------------------------


def _bar(made: _Circle) -> draw.View:
    """The bar from above, the cutter's centre at 0 and the pin to the left."""
    pins, keep, radius, cutter = made.pins, made.keep, made.radius, made.cutter
    left, right, half = -max(pins.values()) - END, BASE, WIDE / 2
    bar = draw.Part(
        "bar",
        "Bar",
        (
            draw.Line(draw.rectangle(left, -half, right, half)),
            draw.Line(draw.line((left, 0), (right, 0)), draw.Kind.CENTRE),
            draw.Line(draw.line((right, -half - 3), (right, half + 3)), draw.Kind.REFERENCE),
        ),
        holes=tuple(draw.Hole(draw.Point(-at, 0), PIN, "pin") for name, at in pins.items() if name == keep),
    )
    cut = draw.Part("cutter", "Cutter", holes=(draw.Hole(draw.Point(0, 0), cutter / 2, "cutter"),))
    edge = draw.Part(
        "circle", "Edge that is cut", (draw.Line(draw.arc((-pins[keep], 0), radius, -4, 4), draw.Kind.HIDDEN),)
    )
    pivot = draw.Dimension(draw.Point(-pins[keep], half), draw.Point(0, half), "above")
    dimensions = (pivot, draw.Dimension(draw.Point(left, -half), draw.Point(left, half), "left"))
    labels = (draw.Label("router’s base", draw.Point(right, 8), towards="right"),)
    near_cutter = draw.Circle(draw.Point(0, 0), cutter).bounds
    return draw.View("bar", "Trammel bar", (bar, cut, edge), dimensions, labels, check=pivot, critical=near_cutter)


def _end(made: _Circle) -> draw.View:
    """The end of a long bar that carries the router: the pin is measured from its cross."""
    left, half = -70.0, WIDE / 2
    edges = draw.line((left, -half), (BASE, -half), (BASE, half), (left, half))
    cut = draw.break_line(draw.Point(left, -half), draw.Point(left, half))
    bar = draw.Part(
        "bar",
        "Bar",
        (
            draw.Line(edges),
            draw.Line(cut, draw.Kind.NARROW),
            draw.Line(draw.line((left, 0), (BASE, 0)), draw.Kind.CENTRE),
            draw.Line(draw.line((BASE, -half - 3), (BASE, half + 3)), draw.Kind.REFERENCE),
        ),
    )
    cutter = draw.Part("cutter", "Cutter", holes=(draw.Hole(draw.Point(0, 0), made.cutter / 2, "cutter"),))
    base = draw.Dimension(draw.Point(0, half), draw.Point(BASE, half), "above")
    labels = (
        draw.Label(say("pin: {pivot} from the cross", pivot=made.pivot), draw.Point(left + 2, 0), towards="left"),
        draw.Label("router’s base", draw.Point(BASE, 8), towards="right"),
    )
    return draw.View("bar", "Trammel bar, its router end", (bar, cutter), (base,), labels, check=base)
