"""A cradle that carries a mitred box over the saw, corner down, for keys across its mitres."""

from __future__ import annotations

import math
from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Count, Length
from jigs.base.rules import Problem, stop
from jigs.base.usual import Usual
from jigs.base.wording import Offer, at_most, say
from jigs.trade.fingers import TOUCH
from jigs.trade.spacing import MitreKeys, mitre_keys

LEAST_WOOD = 3.0
"""Wood that is to be left at the inside corner (common practice, no source), mm."""
ARM = 60.0
"""Length of the cradle's arms that is drawn, mm."""


@jig("cradle", title="Mitre-key cradle", summary="cuts slots for keys across mitred corners")
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
    title = say("Cradle for keys {kerf} thick in sides of {thickness}", kerf=kerf, thickness=thickness)
    return Plan(title, numbers, (_sheet(made, thickness, depth, height, kerf, base),))


def _problems(made: MitreKeys, depth: float, kerf: float, height: float, keys: int) -> list[Problem]:
    found = []
    if depth > made.most + TOUCH:
        numbers = {"depth": depth, "most": at_most(made.most), "wood": LEAST_WOOD}
        said = "a slot of {depth} leaves less than {wood} of wood at the inside corner"
        found.append(stop("depth", said, "{most} at most", **numbers))
    most = int((height + TOUCH) / (3 * kerf))
    if not most:
        said = "a slot of {kerf} leaves too little of a box {height} high"
        sizes = {"kerf": kerf, "height": height, "most": at_most(height / 3)}
        found.append(stop("kerf", said, "{most} at most", **sizes))
    elif keys > most:
        said = "keys {share} apart leave too little wood between slots of {kerf}; they must be {least} apart or more"
        sizes = {"share": height / keys, "kerf": kerf, "least": 3 * kerf, "most": Offer(most, "down")}
        found.append(stop("keys", said, "{most} at most", **sizes))
    return found


def _sheet(made: MitreKeys, thickness: float, depth: float, height: float, kerf: float, base: float) -> draw.Drawing:
    rows = [(str(i), place, place - kerf / 2, place + kerf / 2) for i, place in enumerate(made.places, start=1)]
    places = draw.Table("places", "Slots from the bottom edge", ("Key", "Middle", "from", "to"), tuple(rows))
    settings = draw.Table(
        "settings",
        "Settings",
        ("Setting", "Value", "Set with"),
        (
            ("Blade above the table", made.blade, "gauge block"),
            ("Slot, up the diagonal", depth, "callipers in scrap"),
            ("Slot shows on each face", made.leg, "rule"),
            ("Left at the inside corner", thickness * math.sqrt(2) - depth, "–"),
            ("Key blank, long enough for", 2 * depth, "saw it over-long, plane to the slot"),
        ),
    )
    notes = draw.Notes(
        "notes",
        "How to use it",
        (
            "Glue the mitres and let them cure before the keys are cut. The box sits corner down in the cradle, bottom "
            "edge against the stop; the stop is moved for each key, or spacers are laid before it.",
            "Turn the box round its four corners at one setting, then move the stop. Keep the bottom edge to the stop.",
            "Key stock is planed until it slides in the slot with the push of a thumb; grain runs across the mitre.",
        ),
    )
    purpose = "cradle for the table saw, seen end on: box corner down, the blade comes up through its bottom"
    body = (_view(made, thickness, depth, base), _key(depth), settings, places, notes)
    return draw.Drawing("cradle", "mitre-key cradle", purpose, body, (cautions.GENERAL, cautions.BLADE))


def _view(made: MitreKeys, thickness: float, depth: float, base: float) -> draw.View:
    """End on: the box's corner at (0, base), its sides rising at 45 degrees; the blade is seen on its face."""
    reach = ARM / math.sqrt(2)
    inner = thickness * math.sqrt(2)
    corner = draw.polygon(
        (0, base), (reach, base + reach), (reach - inner / 2, base + reach + inner / 2), (0, base + inner),
        (inner / 2 - reach, base + reach + inner / 2), (-reach, base + reach),
    )  # fmt: skip
    box = draw.Part("box", "Corner of the box", (draw.Line(corner),))
    slot = draw.polygon((0, base), (depth, base + depth), (-depth, base + depth))
    cut = draw.Part(
        "slot",
        "Slot",
        (draw.Line(draw.line((-depth, base + depth), (depth, base + depth)), draw.Kind.HIDDEN),),
        hatched=(slot,),
    )
    wide = reach + 12
    body = draw.polygon((-wide, 0), (wide, 0), (wide, base + wide), (0, base), (-wide, base + wide))
    carrier = draw.Part(
        "body", "Cradle", (draw.Line(body), draw.Line(draw.line((-wide - 3, 0), (wide + 3, 0)), draw.Kind.REFERENCE))
    )
    blade = draw.Dimension(draw.Point(0, 0), draw.Point(0, made.blade), "right", "blade")
    under = draw.Dimension(draw.Point(-wide, 0), draw.Point(0, base), "left", "base")
    across = draw.Dimension(draw.Point(-wide, 0), draw.Point(wide, 0), "below", "cradle")
    labels = (
        draw.Label("key shows here", draw.Point(depth * 0.7, base + depth * 0.7), towards="right"),
        draw.Label("saw table", draw.Point(-wide + 8, 0), towards="below"),
    )
    return draw.View("cradle", "Cradle, end on", (carrier, box, cut), (blade, under, across), labels, check=across)


def _key(depth: float) -> draw.View:
    """A key on its face: the slot's triangle, the corner of the box below."""
    shape = draw.polygon((0, 0), (depth, depth), (-depth, depth))
    blank = draw.rectangle(-depth - 3, 0, depth + 3, depth + 3)
    part = draw.Part("key", "Key", (draw.Line(shape), draw.Line(blank, draw.Kind.NEIGHBOUR)))
    long = draw.Dimension(draw.Point(-depth, depth), draw.Point(depth, depth), "above", "key")
    deep = draw.Dimension(draw.Point(depth, 0), draw.Point(depth, depth), "right", "depth")
    return draw.View("key", "Key and its blank", (part,), (long, deep), check=long)
