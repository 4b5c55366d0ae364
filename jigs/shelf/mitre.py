"""A ring of mitred sides, upright or leaning outward: saw settings, and the angles as triangles to set from."""

from __future__ import annotations

import math
from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Angle, Count, Length
from jigs.base.rules import Problem, note, stop
from jigs.base.usual import Usual
from jigs.base.wording import Offer, say
from jigs.trade import mitre as arithmetic
from jigs.trade.mitre import Mitre

MOST_TILT = 45.0
"""Most that the blade of a table saw tilts, degrees (common practice, no source)."""
TRIANGLE, TRIANGLE_STEEP = 130.0, 96.0
"""Length of the leg of a setting triangle, mm: the longer, the truer."""


@jig("mitre", title="Mitre sled", summary="rings of any number of sides, upright or leaning out")
def mitre(
    *,
    sides: Annotated[int, Count("number of sides", 3, 24)],
    radius: Annotated[float, Length("from the middle to the inside of a side, at the bottom", 10, 1000)],
    slope: Annotated[float, Angle("how far the sides lean outward from upright", 0, 60)] = 0.0,
    thickness: Annotated[float, Length("thickness of the sides", 3, 60)] = Usual(12, 1 / 2).default,
    height: Annotated[float, Length("height of the sides, along their slope", 10, 600)] = Usual(80, 3).default,
) -> Plan:
    """Blade tilt and gauge, the side at full size, and setting triangles for both angles.

    Example: --sides 6 --radius 80 --slope 15

    Sources: Tilt and gauge are derived from the faces' normals in `jigs/trade/mitre.py`.
    """
    made = arithmetic.mitre(sides=sides, slope=slope)
    inside = arithmetic.side_length(sides=sides, inscribed_radius=radius)
    lean = math.radians(slope)
    grow = 2 * height * math.sin(lean) * math.tan(math.pi / sides)
    outside = inside + 2 * thickness * math.tan(math.pi / sides) * math.cos(lean)
    numbers = {
        "tilt": made.tilt,
        "gauge": made.gauge,
        "side": inside,
        "side_top": inside + grow,
        "side_outside": outside,
        "around": sides * outside,
    }
    refuse(_problems(sides, made.tilt))
    title = say("Ring of {count} sides, {side} a side", count=str(sides), side=inside)
    sheets = (_sheet(made, sides, radius, inside, inside + grow, height), _triangles(made))
    return Plan(title, numbers, sheets, (_error(sides),))


def _problems(sides: int, tilt: float) -> list[Problem]:
    if tilt <= MOST_TILT:
        return []
    said = "the blade would have to lean {tilt} degrees; a saw goes to {most}"
    # sin(tilt) = cos(slope) · sin(180/n), solved for the slope; 4 sides that stand upright take the most.
    lean = math.degrees(math.acos(math.sin(math.radians(MOST_TILT)) / math.sin(math.pi / sides)))
    numbers = {
        "tilt": f"{tilt:.2f}",
        "most": f"{MOST_TILT:g}",
        "four": Offer(4),
        "lean": Offer(lean, "up", "slope", plain=True),
    }
    return [stop("sides", said, ("{four} sides or more", "a slope of {lean} degrees or more"), **numbers)]


def _error(sides: int) -> Problem:
    said = "an error of 0.1 degree in the tilt adds up over {cuts} cuts to {total} degrees: a gap in the last joint"
    numbers = {"cuts": str(2 * sides), "total": f"{0.2 * sides:.1f}"}
    return note("tilt", said, "cut the ring in scrap first and close it dry", **numbers)


def _settings(made: Mitre) -> draw.Table:
    return draw.Table(
        "settings",
        "Settings",
        ("Setting", "Value", "Set with"),
        (
            ("Blade, from upright", f"{made.tilt:.3f} degrees", "triangle, try-ring in scrap"),
            ("Mitre gauge, from square", f"{made.gauge:.3f} degrees", "triangle"),
        ),
    )


def _sheet(made: Mitre, sides: int, radius: float, bottom: float, top: float, height: float) -> draw.Drawing:
    notes = draw.Notes(
        "notes",
        "How to use it",
        (
            "A stop on the sled gives every side the same length: sides of one length and true angles close, whatever "
            "the tape says. Cut one end of all boards, turn them end for end, then cut to the stop.",
            "Close the ring dry with tape round the outside. Open at the inside: less tilt. Open at the outside: more.",
        ),
    )
    purpose = f"one of {sides} equal sides, its inner face up, with the cuts at both ends"
    body = (_side(made, bottom, top, height), _plan(sides, radius), _settings(made), notes)
    return draw.Drawing("side", "side of the ring", purpose, body, (cautions.GENERAL, cautions.BLADE))


def _side(made: Mitre, bottom: float, top: float, height: float) -> draw.View:
    """A side on its inner face, the bottom edge below: it widens upward by the gauge at each end."""
    half, wide = bottom / 2, top / 2
    outline = draw.polygon((-half, 0), (half, 0), (wide, height), (-wide, height))
    reference = draw.Line(draw.line((-half - 3, 0), (half + 3, 0)), draw.Kind.REFERENCE)
    part = draw.Part("side", "Side", (draw.Line(outline), reference))
    below = draw.Dimension(draw.Point(-half, 0), draw.Point(half, 0), "below", "inside, bottom")
    dimensions = [below, draw.Dimension(draw.Point(half, 0), draw.Point(wide, height), "right", "height")]
    if top - bottom > 0.01:
        dimensions.append(draw.Dimension(draw.Point(-wide, height), draw.Point(wide, height), "above", "inside, top"))
    labels = (
        draw.Label(f"saw tilted {made.tilt:.2f} degrees, long side out", draw.Point(0, height / 2), leader=False),
    )
    return draw.View("side", "Side, inner face", (part,), tuple(dimensions), labels, check=below)


def _plan(sides: int, radius: float) -> draw.View:
    """The ring from above, as a picture."""
    scale = 22.0 / (radius / math.cos(math.pi / sides))
    outer = 1.16

    def ring(size: float) -> draw.Line:
        turn = 2 * math.pi / sides
        start = -math.pi / 2 - turn / 2
        corner = radius * scale * size / math.cos(math.pi / sides)
        points = [(corner * math.cos(start + turn * i), corner * math.sin(start + turn * i)) for i in range(sides)]
        return draw.Line(draw.polygon(*points))

    part = draw.Part("ring", "Ring", (ring(1.0), ring(outer)))
    at = draw.Point(0, -radius * scale)
    return draw.View(
        "ring", "From above", (part,), labels=(draw.Label("this side", at, towards="below"),), to_scale=False
    )


def _triangles(made: Mitre) -> draw.Drawing:
    angles = [("tilt", "Triangle for the blade", made.tilt)]
    if made.gauge > 0.05:
        angles.append(("gauge", "Triangle for the gauge", made.gauge))
    body = tuple(_triangle(name, title, angle) for name, title, angle in angles)
    notes = draw.Notes(
        "notes",
        "How to use them",
        (
            "Glue the sheet to stiff card or thin ply and cut to the line with a knife and a rule. The leg lies on the "
            "table or on the bar of the gauge, the slope against blade or fence.",
            "Check one with a rule: leg and rise are written on it. Last word has the ring of scrap.",
        ),
    )
    purpose = "setting triangles: leg on the table or the gauge, slope against the blade or the fence"
    return draw.Drawing("triangles", "setting triangles", purpose, (*body, notes), (cautions.GENERAL, cautions.PAPER))


def _triangle(name: str, title: str, angle: float) -> draw.View:
    """A right triangle that holds an angle from square: run across, leg up."""
    leg = TRIANGLE if angle < 25 else TRIANGLE_STEEP
    run = leg * math.tan(math.radians(angle))
    shape = draw.polygon((0, 0), (run, leg), (0, leg))
    part = draw.Part(name, title, (draw.Line(shape), draw.Line(draw.line((0, -3), (0, leg + 3)), draw.Kind.REFERENCE)))
    rise = draw.Dimension(draw.Point(0, 0), draw.Point(0, leg), "left", "leg")
    across = draw.Dimension(draw.Point(0, leg), draw.Point(run, leg), "above", "run")
    labels = (draw.Label(f"{angle:.2f} degrees from square", draw.Point(run / 2, leg / 2), towards="right"),)
    return draw.View(name, title, (part,), (rise, across), labels, check=rise)
