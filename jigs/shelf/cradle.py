"""A cradle that carries a mitred box over the saw, corner down, for keys across its mitres."""

from __future__ import annotations

import math
from typing import Annotated

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
from jigs.base.kinds import Count, Length
from jigs.base.rules import Problem, stop
from jigs.base.usual import Usual
from jigs.base.wording import Offer, Words, at_most, say
from jigs.record import Record
from jigs.shelf import blades
from jigs.things import plan as above
from jigs.things import section
from jigs.trade.fingers import TOUCH
from jigs.trade.spacing import MitreKeys, mitre_keys

LEAST_WOOD = 3.0
"""Wood that is to be left at the inside corner (common practice, no source), mm."""
ARM = 60.0
"""Length of the cradle's arms that is drawn, mm."""
SEEN = 44.0
"""How much of the blade is seen beyond the cradle, mm."""
MOST_ROWS = 4
"""So many keys have a row each for their stop; more are set by spacers."""
WITHIN = 0.2
"""How near a slot in scrap must be to its depth, mm (common practice, no source)."""

CAUTIONS = (
    Caution("Guard", "Where guard and riving knife can’t stay on, guard another way first."),
    Caution("Hands", "Hold the cradle at both ends only. The blade comes out behind it."),
    Caution("Throw", "Clamp the box. Stop the blade before you draw the cradle back."),
    Caution("Blade", "Unplug to set. Turn the blade by hand once round before power."),
)


class _Asked(Record):
    """The box, its keys and the cradle, mm."""

    thickness: float
    depth: float
    height: float
    kerf: float
    base: float
    made: MitreKeys

    @property
    def reach(self) -> float:
        """How far the drawn arms of the box go to each side."""
        return ARM / math.sqrt(2)

    @property
    def wide(self) -> float:
        """Half of the width of the cradle."""
        return self.reach + 12.0

    @property
    def left_inside(self) -> float:
        """Wood that is left at the inside corner, up the diagonal."""
        return self.thickness * math.sqrt(2) - self.depth


@jig(
    "cradle",
    title="Mitre-key cradle",
    summary="cuts slots for keys across mitred corners",
    from_box="thickness=file.sides.thickness height=height",
)
def cradle(
    *,
    thickness: Annotated[float, Length("thickness of the box's sides", 4, 40)],
    depth: Annotated[float, Length("depth of the slot, up the diagonal from the corner", 2, 60)],
    height: Annotated[float, Length("height of the box", 15, 600)],
    keys: Annotated[int, Count("keys in a corner", 1, 12)] = 3,
    kerf: Annotated[float, Length("width of the slot the blade cuts", 0.8, 8)] = Usual(3.2, 1 / 8).default,
    base: Annotated[float, Length("wood under the corner of the cradle", 5, 40)] = Usual(12, 1 / 2).default,
) -> Plan:
    """The cradle across, a corner of the box in it, the keys' places and a key at full size.

    Example: --thickness 12 --depth 13.5 --height 90

    Sources: The diagonal of a mitred corner is derived in `jigs/trade/spacing.py`. Wood left at the corner: common
    practice, no source.
    """
    made = mitre_keys(thickness=thickness, depth=depth, base=base, height=height, count=keys, least_wood=LEAST_WOOD)
    refuse(_problems(made, depth, kerf, height, keys))
    numbers = {
        "leg": made.leg,
        "deepest": made.most,
        "blade_above_table": made.blade,
        "places": list(made.places),
        "key_length": 2 * depth,
    }
    title = say("Cradle for keys {kerf:cut} thick", kerf=kerf)
    asked = _Asked(thickness, depth, height, kerf, base, made)
    ends = "Make both ends of the cradle to it. The box lies in the V, corner down."
    blank = say("Make {count}, longer than this and wider. The grain runs along the long side.", count=str(4 * keys))
    templates = (
        Template(_end(asked), "cradle", ends, "cradle"),
        Template(_key(depth), "cradle", blank, "cradle"),
    )
    return Plan(title, numbers, Sheets((_card(asked),), templates))


def _problems(made: MitreKeys, depth: float, kerf: float, height: float, keys: int) -> list[Problem]:
    found = []
    if depth > made.most + TOUCH:
        numbers = {"depth": depth, "most": at_most(made.most), "wood": LEAST_WOOD}
        said = "a slot {depth} deep leaves less than {wood} of wood at the inside corner"
        found.append(stop("depth", said, "cut the slot {most} deep or less", **numbers))
    most = int((height + TOUCH) / (3 * kerf))
    if not most:
        said = "a slot {kerf} wide takes more than a third of a box {height:cut} high"
        sizes = {"kerf": kerf, "height": height, "most": at_most(height / 3)}
        found.append(stop("kerf", said, "use a blade that cuts {most} or less", **sizes))
    elif keys > most:
        said = "{keys} keys stand {share:cut down} apart, and slots {kerf} wide must be {least:cut up} apart or more"
        sizes = {
            "keys": str(keys),
            "share": height / keys,
            "kerf": kerf,
            "least": 3 * kerf,
            "most": Offer(most, "down"),
        }
        found.append(stop("keys", said, "cut {most} or fewer", **sizes))
    return found


# -- the card ----------------------------------------------------------------------------------------------------------


def _card(asked: _Asked) -> Card:
    bands = (
        Pictures((_from_above(asked), _end_on(asked)), least=54.0, most=92.0, shares=(0.56, 0.44)),
        Beside(Settings(tuple(_settings(asked))), Checks(_checks(asked), "Try it in scrap"), 0.68),
        Hold("The scrap passes. The blade, turned by hand, clears the stop.", "cradle tried"),
        Order(tuple(_order(asked))),
    )
    return Card("cradle", "Keys across the mitres", "Table saw", CAUTIONS, bands, "after the box is glued", "cradle")


def _settings(asked: _Asked) -> list[Setting]:
    places, kerf = asked.made.places, asked.kerf
    rows = [Setting("blade", "Blade height", asked.made.blade, 0.1, "gauge block")]
    every = list(enumerate(places, start=1))
    shown = every if len(places) <= MOST_ROWS else every[-1:]
    for number, place in shown:
        rows.append(Setting(f"key-{number}", f"Stop, key {number}", place - kerf / 2, 0.2, "rule"))
    if len(places) > MOST_ROWS:
        said = f"{len(places) - 1} spacers, each"
        rows.append(Setting("spacer", said, places[1] - places[0], 0.05, "callipers"))
    rows += [
        Setting("key-thick", "Key, thick", kerf, 0.05, "the slot"),
        Setting("key-long", "Key, longer than", 2 * asked.depth, 1.0, "rule"),
    ]
    return rows


def _checks(asked: _Asked) -> tuple[Check, ...]:
    def near(what: str, aim: float) -> Check:
        return Check(what, aim - WITHIN, aim + WITHIN, 0.05)

    return (
        near("slot, up the diagonal", asked.depth),
        near("slot shows on each face", asked.made.leg),
        near("left at the inside corner", asked.left_inside),
    )


def _order(asked: _Asked) -> list[Words]:
    several = len(asked.made.places)
    steps: list[Words] = [
        "Lay the glued, cured box in the V, its bottom edge on the stop. Clamp it.",
        "Power on. Push the cradle past the blade. Power off; then draw it back.",
        "Turn the box to the next corner, its bottom edge on the stop. Cut all four.",
    ]
    if several > MOST_ROWS:
        steps[0] = "Lay the glued, cured box in the V, all spacers between it and the stop. Clamp it."
        steps.append("Take one spacer out for each next key. Cut all four corners again.")
    elif several > 1:
        steps.append("Move the stop for the next key. Cut all four corners again.")
    return [
        *steps,
        "Plane the key stock until it goes into a slot with the push of a thumb.",
        "Glue the keys in, their grain across the mitre. Plane them flush.",
    ]


# -- its pictures ------------------------------------------------------------------------------------------------------


def _from_above(asked: _Asked) -> draw.View:
    """The cradle on its table before a cut: the box in it, its bottom edge on the stop at the right."""
    places, half, wide = asked.made.places, asked.kerf / 2, asked.wide
    number = len(places) if len(places) > MOST_ROWS else (len(places) + 1) // 2
    edge = places[number - 1]  # where the box's bottom edge is, the blade at 0
    left, right = min(edge - asked.height, -half) - 100.0, edge + 120.0
    away = blades.half_chord(asked.made.blade) + wide + 22.0  # the cradle is this far before the blade's middle

    def block(name: str, title: str, box: draw.Bounds) -> draw.Part:
        shape = draw.rectangle(*box.moved(0, -away))
        return draw.Part(name, title, (draw.Line(shape),), covers=(shape,))

    valley = draw.Line(draw.line((left, -away), (right, -away)), draw.Kind.NARROW)
    ahead = draw.line((0, -away - wide), (0, -away + wide))
    at_hand = -away - wide + 26.0
    parts = (
        blades.from_above(asked.kerf, asked.made.blade, SEEN),
        block("runner", "Runner in the table’s slot", draw.Bounds(left + 18, -wide - 22, left + 36, wide + 22)),
        block("exit", "Exit block", draw.Bounds(-26, wide, 26, wide + 18)),
        block("cradle-above", "Cradle", draw.Bounds(left, -wide, right, wide)),
        draw.Part("valley", "Bottom of the V", (valley,)),
        block("box-above", "Box, corner down", draw.Bounds(edge - asked.height, -asked.reach, edge, asked.reach)),
        *_toggles(asked, edge, -away),
        block("stop", "Stop", draw.Bounds(edge, -24, edge + 22, 24)),
        draw.Part("cut", "Line of the cut", (draw.Line(ahead, draw.Kind.CENTRE),)),
        above.hand("left", (left + 46, at_hand), wrist=60.0),
        above.hand("right", (right - 46, at_hand), wrist=60.0),
        above.arrow("feed", "Feed", (right - 40, wide - away + 12), (right - 40, wide - away + 62)),
    )
    far = -away + asked.reach
    dimensions = (draw.Dimension(draw.Point(half, far), draw.Point(edge, far), "above", "", f"key-{number}"),)
    labels = (
        draw.Label("feed", draw.Point(right - 36, wide - away + 40), towards="right", leader=False, bold=True),
        draw.Label("exit block: hands off", draw.Point(-26, wide - away + 12), towards="left", bold=True),
        draw.Label("box, corner down", draw.Point(edge - asked.height * 0.7, -away - asked.reach * 0.6), leader=False),
        draw.Label("stop", draw.Point(edge + 11, -away - 20), towards="below"),
        draw.Label("blade", draw.Point(half, SEEN - 8 - blades.half_chord(asked.made.blade)), towards="right"),
    )
    return draw.View("from-above", "From above", parts, dimensions, labels, to_scale=False)


def _toggles(asked: _Asked, edge: float, valley: float) -> list[draw.Part]:
    """What presses the box into the V on both sides of the cut, where there is room for it."""
    free = 22.0
    middles = {"left": (edge - asked.height - free / 2) / 2, "right": (edge + free / 2) / 2}
    fits = {"left": asked.height - edge > 2 * free, "right": edge > 2 * free}
    return [above.toggle(f"{side}-toggle", (x, valley)) for side, x in middles.items() if fits[side]]


def _corner(asked: _Asked) -> draw.Path:
    """The corner of the box, seen end on, its point down at (0, base)."""
    reach, base, inner = asked.reach, asked.base, asked.thickness * math.sqrt(2)
    return draw.polygon(
        (0, base), (reach, base + reach), (reach - inner / 2, base + reach + inner / 2), (0, base + inner),
        (inner / 2 - reach, base + reach + inner / 2), (-reach, base + reach),
    )  # fmt: skip


def _body(asked: _Asked) -> draw.Path:
    """The cradle, seen end on, the saw's table at 0."""
    wide, base = asked.wide, asked.base
    return draw.polygon((-wide, 0), (wide, 0), (wide, base + wide), (0, base), (-wide, base + wide))


def _end_on(asked: _Asked) -> draw.View:
    """Cradle and box cut across at the blade, which is seen on its face."""
    base, depth, top, wide = asked.base, asked.depth, asked.made.blade, asked.wide
    cut = draw.line((-depth, top), (depth, top))
    parts = (
        section.table(-wide - 8, wide + 8),
        draw.Part("cradle-end", "Cradle", (draw.Line(_body(asked)),)),
        section.face("box-cut", "Corner of the box", _corner(asked)),
        blades.on_its_face(top, 0.0),
        draw.Part("slot-to-come", "Slot to be cut", (draw.Line(cut, draw.Kind.HIDDEN),)),
    )
    dimensions = (
        draw.Dimension(draw.Point(-wide, 0), draw.Point(-depth, top), "left", "", "blade"),
        draw.Dimension(draw.Point(wide, base), draw.Point(depth, top), "right"),
    )
    labels = (
        draw.Label("key shows here", draw.Point(depth * 0.6, base + depth * 0.6), towards="below"),
        draw.Label("cradle", draw.Point(-wide * 0.7, base + wide * 0.25), leader=False),
    )
    return draw.View("end-on", "End on, the box cut across", parts, dimensions, labels, to_scale=False)


# -- the templates -----------------------------------------------------------------------------------------------------


def _end(asked: _Asked) -> draw.View:
    """An end of the cradle, a corner of the box in it."""
    base, depth, wide, top = asked.base, asked.depth, asked.wide, asked.made.blade
    box = draw.Part("box", "Corner of the box", (draw.Line(_corner(asked), draw.Kind.NEIGHBOUR),))
    cut = draw.line((-depth, top), (depth, top))
    slot = draw.Part("slot", "Slot", (draw.Line(cut, draw.Kind.HIDDEN),))
    foot = draw.Line(draw.line((-wide - 3, 0), (wide + 3, 0)), draw.Kind.REFERENCE)
    body = draw.Part("body", "Cradle", (draw.Line(_body(asked)), foot))
    across = draw.Dimension(draw.Point(-wide, 0), draw.Point(wide, 0), "below")
    dimensions = (
        across,
        draw.Dimension(draw.Point(0, 0), draw.Point(0, top), "right", "blade"),
        draw.Dimension(draw.Point(-wide, 0), draw.Point(0, base), "left", "base"),
    )
    labels = (
        draw.Label("table", draw.Point(-wide + 14, 0), towards="above"),
        draw.Label("box", draw.Point(0, base + asked.thickness * math.sqrt(2)), towards="above"),
    )
    return draw.View("cradle", "End of the cradle", (body, box, slot), dimensions, labels, check=across)


def _key(depth: float) -> draw.View:
    """A key on its face: the slot's triangle, the corner of the box below."""
    shape = draw.polygon((0, 0), (depth, depth), (-depth, depth))
    blank = draw.rectangle(-depth - 3, 0, depth + 3, depth + 3)
    part = draw.Part("key", "Key", (draw.Line(shape), draw.Line(blank, draw.Kind.NEIGHBOUR)))
    long = draw.Dimension(draw.Point(-depth, depth), draw.Point(depth, depth), "above")
    deep = draw.Dimension(draw.Point(depth, 0), draw.Point(depth, depth), "right", "depth")
    return draw.View("key", "Key and its blank", (part,), (long, deep), check=long)
