"""A lid that slides in grooves: where the groove lies in the finger layout, the front board's height, the lid."""

from __future__ import annotations

from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Length
from jigs.base.rules import Problem, stop, warn
from jigs.base.usual import Usual
from jigs.base.wording import at_least, at_most, say
from jigs.trade import fingers, panel
from jigs.trade.fingers import TOUCH, Span, fingers_between
from jigs.trade.panel import Panel

STRIP = 25.0
COEFFICIENT = 0.00248
"""Movement of flat-sawn black cherry for each per cent of moisture (USDA Wood Handbook, Table 13-5)."""
NOW, DRY, WET = 8.49, 6.19, 12.94
"""Moisture in per cent at 20 °C and 45 %, 20 °C and 30 %, 25 °C and 70 % of humidity."""
LEAST_OVER = 3.0
"""Wood that is to be left over the groove (common practice, no source), mm."""
LEAST_HELD = 1.0
"""Least that a groove may hold of the lid in the driest air (common practice, no source), mm."""


@jig("sliding-lid", title="Sliding-lid groove", summary="grooves that the finger joint hides")
def sliding_lid(
    *,
    finger: Annotated[float, Length("finger width", 3, 60)],
    socket: Annotated[float, Length("socket the cutter makes, measured in wood", 3, 60)],
    width: Annotated[float, Length("rip-to width of the boards", 20, 1200)],
    opening: Annotated[float, Length("inside width of the box, across the lid's grain", 20, 1000)],
    inside: Annotated[float, Length("inside length of the box, the way the lid slides", 20, 2000)],
    thickness: Annotated[float, Length("thickness of the sides", 3, 60)],
    groove: Annotated[float, Length("groove cutter", 1, 30)],
    depth: Annotated[float, Length("depth of the groove", 1, 30)],
    above: Annotated[float, Length("wood above the groove, about", 1, 60)] = Usual(4, 5 / 32).default,
    clearance: Annotated[float, Length("play of the lid in the wettest air", 0, 5)] = Usual(0.6, 1 / 32).default,
    overlap: Annotated[float, Length("lid beyond the front", 0, 40)] = 0.0,
) -> Plan:
    """Height of the groove and of the front board, the lid's size, and an end view at full size.

    Example: --finger 9.9 --socket 10 --width 89.5 --opening 136 --inside 216 --thickness 12 --groove 6 --depth 5

    Sources: The lid's width over the year: `jigs/trade/panel.py`; movement of black cherry: USDA Wood Handbook,
    FPL-GTR-282, Table 13-5. Wood over the groove: common practice, no source.
    """
    refuse(_problems(finger, width, groove, depth, thickness))
    boundaries = [at for at in _boundaries(finger, socket, width) if at + groove < width - TOUCH]
    low = min(boundaries, key=lambda at: abs(at - (width - above - groove)))
    lid = panel.across_grain(
        opening=opening, depth=depth, clearance=clearance, coefficient=COEFFICIENT, now=NOW, dry=DRY, wet=WET
    )
    numbers = {
        "groove_from_bottom": low,
        "wood_above": width - low - groove,
        "front_height": low,
        "fence": width - low - groove / 2,
        "lid_width": lid.width,
        "lid_width_wet": lid.width_wet,
        "held_driest": lid.engagement_dry,
        "lid_length": inside + depth + thickness + overlap,
    }
    found = [
        *_held(lid, opening, depth, clearance),
        *_left_over(boundaries, width, groove, low),
    ]
    title = say("Sliding lid, groove {groove} in boards of {width}", groove=groove, width=width)
    sockets = fingers.sockets(width, finger, socket)
    return Plan(title, numbers, (_sheet(numbers, sockets, width, groove, depth),), tuple(found))


def _boundaries(finger: float, socket: float, width: float) -> list[float]:
    """Return where a long board's fingers and sockets meet: a front cut there ends with a whole part."""
    return [at for span in fingers.sockets(width, finger, socket) for at in (span.start, span.end) if at < width - 1e-9]


def _problems(finger: float, width: float, groove: float, depth: float, thickness: float) -> list[Problem]:
    found = []
    if finger + groove >= width - 2 * TOUCH:
        said = "boards of {width} do not hold one finger of {finger} and a groove of {groove} over it"
        sizes = {"width": width, "finger": finger, "groove": groove, "least": at_least(finger + groove)}
        found.append(stop("width", said, "{least} at least", **sizes))
    if depth > thickness / 2 + TOUCH:
        numbers = {"depth": depth, "most": at_most(thickness / 2)}
        said = "a groove {depth} deep leaves less than half of the side"
        found.append(stop("depth", said, "{most} at most", **numbers))
    return found


def _held(lid: Panel, opening: float, depth: float, clearance: float) -> list[Problem]:
    """Find a lid that its grooves hardly hold: by (O + 2·D - c)·k - O - D, where k is width dry by width wet."""
    short = LEAST_HELD - lid.engagement_dry
    if short <= TOUCH:
        return []
    said = "in the driest air, pushed to one side, the lid is held by {held}; {least} is the least"
    ways = ("a groove {deeper} deep or more", "a clearance of {closer} or less", "an opening of {narrower} or less")
    shrunk = lid.width_dry / lid.width_wet
    numbers = {
        "held": lid.engagement_dry,
        "least": LEAST_HELD,
        "deeper": at_least(depth + short / (2 * shrunk - 1)),
        "closer": at_most(clearance - short / shrunk, "clearance"),
        "narrower": at_most(opening - short / (1 - shrunk), "opening"),
    }
    return [warn("depth", said, ways, **numbers)]


def _left_over(boundaries: list[float], width: float, groove: float, low: float) -> list[Problem]:
    over = width - low - groove
    if over >= LEAST_OVER - TOUCH:
        return []
    said = "{over} of wood is left over the groove: it breaks when the lid is forced"
    lower = [at for at in boundaries if width - at - groove >= LEAST_OVER]
    ways = ("{more}, for the next part boundary" if lower else "boards of {wider} at least",)
    numbers = {
        "over": over,
        "more": at_least(width - max(lower, default=low) - groove),
        "wider": at_least(width + LEAST_OVER - over, "width"),
        "narrower": at_most(groove - LEAST_OVER + over, "groove"),
    }
    return [warn("above", said, (*ways, "a groove cutter of {narrower} or less"), **numbers)]


def _sheet(
    numbers: dict[str, float], sockets: tuple[Span, ...], width: float, groove: float, depth: float
) -> draw.Drawing:
    settings = draw.Table(
        "settings",
        "Settings",
        ("Setting", "Value", "Set with"),
        (
            ("Top edge on the fence, to the bit's centre", numbers["fence"], "gauge block to the bit's edge"),
            ("Groove deep", depth, "callipers in scrap"),
            ("Front board ripped to", numbers["front_height"], "saw fence, after jointing"),
            ("Lid across the grain, in the shop's air", numbers["lid_width"], "callipers"),
            ("Lid along the grain", numbers["lid_length"], "rule"),
        ),
    )
    notes = draw.Notes(
        "notes",
        "How to cut it",
        (
            "Both long sides: inner face down, top edge on the fence. The groove runs out at the front, over the lower "
            "front board, and stops in the back's socket or runs into the back's own groove.",
            "The back is grooved at the same setting. The front is ripped to where a part ends, so that no half finger "
            "shows at its top edge.",
            say(
                "In the wettest air the lid is {wet} wide; in the driest it is held by {held} at least. The wood is "
                "taken to move as flat-sawn black cherry does, from 30 to 70 % of humidity.",
                wet=numbers["lid_width_wet"],
                held=numbers["held_driest"],
            ),
        ),
    )
    purpose = "end of a long side at full size: fingers, sockets and the lid's groove; top edge to the right"
    body = (_view(numbers, sockets, width, groove), settings, notes)
    return draw.Drawing("groove", "sliding-lid groove", purpose, body, (cautions.GENERAL, cautions.GROOVE))


def _view(numbers: dict[str, float], sockets: tuple[Span, ...], width: float, groove: float) -> draw.View:
    """The end of a long side on its inner face: bottom edge at the left, the groove's band dashed."""
    low = numbers["groove_from_bottom"]
    waste = tuple(draw.rectangle(span.start, 0, span.end, STRIP) for span in sockets)
    plain = tuple(draw.rectangle(span.start, 0, span.end, STRIP) for span in fingers_between(width, sockets))
    reference = draw.Line(draw.line((0, -3), (0, STRIP + 3)), draw.Kind.REFERENCE)
    side = draw.Part("side", "Long side", (*draw.lines(waste + plain), reference), hatched=waste)
    band = draw.Part("band", "Groove", draw.lines([draw.rectangle(low, -4, low + groove, STRIP + 4)], draw.Kind.HIDDEN))
    up = draw.Dimension(draw.Point(0, 0), draw.Point(low, 0), "below", "front ripped to")
    dimensions = (
        up,
        draw.Dimension(draw.Point(0, STRIP), draw.Point(width, STRIP), "above", "width"),
        draw.Dimension(draw.Point(low + groove, 0), draw.Point(width, 0), "below", "above"),
    )
    labels = (
        draw.Label("groove", draw.Point(low + groove / 2, STRIP + 4), towards="above"),
        draw.Label("bottom edge", draw.Point(0, STRIP + 2), towards="left"),
    )
    return draw.View("groove", "End of a long side, inner face", (side, band), dimensions, labels, check=up)
