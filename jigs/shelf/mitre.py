"""A ring of mitred sides, upright or leaning outward: saw settings, and the angles as triangles to set from."""

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
from jigs.base.kinds import Angle, Count, Length
from jigs.base.rules import Problem, stop
from jigs.base.usual import Usual
from jigs.base.wording import Offer, Words, say
from jigs.record import Record
from jigs.shelf import blades
from jigs.things import plan as above
from jigs.things import section
from jigs.trade import mitre as arithmetic
from jigs.trade.mitre import Mitre

MOST_TILT = 45.0
"""Most that the blade of a table saw tilts, degrees (common practice, no source)."""
TRIANGLE, TRIANGLE_STEEP = 130.0, 96.0
"""Length of the leg of a setting triangle, mm: the longer, the truer."""
FOOT = 26.0
"""What an angle stands on beside its triangle, mm: a short foot rocks."""
NO_ANGLE = 0.05
"""A gauge that is nearer to square than this, degrees, is set with a try square."""
SHOWN = 200.0
"""The longest and highest that a side is shown, mm: a longer one is broken."""

CAUTIONS = (
    Caution("Guard", "Where guard and riving knife can’t stay on, guard another way first."),
    Caution("Hands", "Clamp each side to the gauge. Keep both hands on the gauge."),
    Caution("Throw", "Leave off-cuts where they lie until the blade stands still."),
    Caution("Blade", "Unplug to tilt it. Turn it by hand: it must clear gauge and insert."),
)


class _Asked(Record):
    """The ring and one of its sides: inside at its bottom and top edge, outside at its bottom edge, mm."""

    sides: int
    radius: float
    slope: float
    thickness: float
    height: float
    bottom: float
    top: float
    outside: float
    made: Mitre

    @property
    def leans(self) -> bool:
        """Whether the gauge stands at an angle, so that a side is wider at its top."""
        return self.made.gauge > NO_ANGLE

    @property
    def stop(self) -> float:
        """From the blade to the stop, on the table: the outer face along the edge that lies on the gauge."""
        return self.outside + self.top - self.bottom


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
    title = say("Ring of {count} sides, {side:cut} each", count=str(sides), side=inside)
    asked = _Asked(sides, radius, slope, thickness, height, inside, inside + grow, outside, made)
    return Plan(title, numbers, Sheets((_card(asked),), tuple(_triangles(made))))


def _problems(sides: int, tilt: float) -> list[Problem]:
    if tilt <= MOST_TILT:
        return []
    said = "a ring of {sides} sides needs a blade tilt of {tilt}°, and a saw tilts {most}° at most"
    # sin(tilt) = cos(slope) · sin(180/n), solved for the slope; 4 sides that stand upright take the most.
    lean = math.degrees(math.acos(math.sin(math.radians(MOST_TILT)) / math.sin(math.pi / sides)))
    numbers = {
        "sides": str(sides),
        "tilt": f"{tilt:.1f}",
        "most": f"{MOST_TILT:g}",
        "four": Offer(4),
        "lean": Offer(lean, "up", "slope", plain=True),
    }
    return [stop("sides", said, ("make {four} sides or more", "lean the sides {lean}° or more"), **numbers)]


# -- the card ----------------------------------------------------------------------------------------------------------


def _card(asked: _Asked) -> Card:
    views = (_from_above(asked), _at_the_blade(asked), _side(asked), _ring(asked))
    cuts = {"cuts": str(2 * asked.sides), "total": f"{0.2 * asked.sides:.1f}"}
    checks = Checks(
        (Check("longest side less shortest", 0.0, 0.05, 0.05), Check("last joint, taped dry", "closed")),
        "A ring in scrap",
        say("0.1° off, {cuts} cuts: {total}° in the last joint.", **cuts),
    )
    bands = (
        Pictures(views, least=54.0, most=92.0, in_row=4, shares=(0.40, 0.21, 0.20, 0.19)),
        Beside(Settings(tuple(_settings(asked))), checks, 0.7),
        Hold("The ring of scrap closes dry, without a gap in any joint.", "ring tried"),
        Order(tuple(_order(asked))),
    )
    about = f"{asked.sides} sides, inner face up"
    return Card("mitre", "Mitred ring", "Table saw", CAUTIONS, bands, about, "mitre")


def _settings(asked: _Asked) -> list[Setting]:
    rows = [
        Setting("height", "Boards, wide", asked.height, 0.2, "saw fence"),
        Setting("tilt", "Blade tilt", f"{asked.made.tilt:.2f}°", 0.0, "template"),
    ]
    gauge = f"{asked.made.gauge:.2f}°" if asked.leans else "0°"
    rows.append(Setting("gauge", "Gauge, off square", gauge, 0.0, "template" if asked.leans else "try square"))
    rows += [
        Setting("stop", "Stop to blade", asked.stop, 0.2, "rule"),
        Setting("bottom", "Inside, bottom", asked.bottom, 0.2, "rule"),
    ]
    if asked.leans:
        rows.append(Setting("top", "Inside, top", asked.top, 0.2, "rule"))
    return rows


def _order(asked: _Asked) -> list[Words]:
    cut = ["Inner face up, bottom edge on the gauge: cut one end of every board."]
    if asked.leans:
        cut = [
            "Gauge’s left end to you, bottom edge on it: cut one end of every board.",
            "Swing the gauge as far the other way: turn its template over.",
            "Turn each board end for end, top edge on the gauge. Cut it to the stop.",
        ]
    else:
        cut.append("Turn the boards end for end, inner face up. Cut each to the stop.")
    return [
        *cut,
        "Lay the sides edge to edge, outer face up. Tape them; close the ring dry.",
        "Open at the inside: tilt the blade less. Open at the outside: tilt it more.",
        "Glue the joints; pull the ring together with the tape and a band.",
    ]


# -- its pictures ------------------------------------------------------------------------------------------------------


def _turned(points: tuple[tuple[float, float], ...], degrees: float) -> list[tuple[float, float]]:
    """Return points turned about the origin, anticlockwise."""
    c, s = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    return [(x * c - y * s, x * s + y * c) for x, y in points]


def _from_above(asked: _Asked) -> draw.View:
    """The second cut, before it: the top edge on the gauge, the end that is cut already at the stop."""
    top, bottom, high = asked.top, asked.bottom, min(asked.height, SHOWN)
    if top > SHOWN:
        top, bottom = SHOWN, max(SHOWN - (top - bottom), 0.4 * SHOWN)
    lean = -asked.made.gauge if asked.leans else 0.0
    inset = (top - bottom) / 2
    far = min(-top - 124.0, -270.0)

    def block(name: str, title: str, *points: tuple[float, float]) -> draw.Part:
        shape = draw.polygon(*_turned(points, lean))
        return draw.Part(name, title, (draw.Line(shape),), covers=(shape,))

    def at(x: float, y: float) -> tuple[float, float]:
        return _turned(((x, y),), lean)[0]

    bar = draw.rectangle(-110.0, -70.0, -92.0, high + 60.0)
    away = high + 16.0 + blades.half_chord(asked.thickness + 8.0)
    blade = blades.from_above(3.0, asked.thickness + 8.0, 50.0).moved(1.5, away)
    grip = at(-101.0, -48.0)
    left_hand = at(far + 46.0, -24.0)
    parts = (
        blade,
        draw.Part("bar", "Bar of the gauge", (draw.Line(bar, draw.Kind.NARROW),)),
        block("fence", "Fence of the gauge", (far, -26), (-14, -26), (-14, 0), (far, 0)),
        block("board", "Side, inner face up", (-top, 0), (0, 0), (-inset, high), (inset - top, high)),
        block("stop", "Stop", (-top - 26, 0), (-top, 0), (-top, 24), (-top - 26, 24)),
        draw.Part("line-of-cut", "Line of the cut", (draw.Line(draw.line((0, -40), (0, away)), draw.Kind.CENTRE),)),
        above.toggle("toggle", at(-top / 2, high * 0.3)),
        draw.Part("grip", "Grip", (draw.Line(draw.Circle(draw.Point(*grip), 15.0)),)),
        above.hand("left", left_hand, wrist=64.0),
        above.hand("right", (grip[0] + 6.0, grip[1] - 2.0), wrist=64.0),
        above.arrow("feed", "Feed", (-130.0, high + 8.0), (-130.0, high + 58.0)),
    )
    labels = (
        draw.balloon("stop", at(-top - 13, 20), "above"),
        draw.balloon("height", at(-0.3 * top, high * 0.8), "above"),
        draw.balloon("gauge", at(-24, -20), "right"),
        draw.Label("feed", draw.Point(-136, high + 34.0), towards="left", leader=False, bold=True),
        draw.Label("blade", draw.Point(1.5, away - blades.half_chord(asked.thickness + 8.0) + 26), towards="right"),
    )
    return draw.View("from-above", "From above, second cut", parts, (), labels, to_scale=False)


def _at_the_blade(asked: _Asked) -> draw.View:
    """Board and blade cut across: the blade leans over the board, whose outer face lies on the table."""
    thick = asked.thickness
    back = thick * math.tan(math.radians(asked.made.tilt))
    left = -back - max(14.0, 0.9 * thick)
    shape = draw.polygon((left, 0), (0, 0), (-back, thick), (left, thick))
    lines = (
        *draw.lines([draw.line((left, 0), (0, 0), (-back, thick), (left, thick))]),
        draw.Line(draw.break_line(draw.Point(left, 0), draw.Point(left, thick)), draw.Kind.NARROW),
    )
    upright = draw.line((0, 0), (0, thick + 24))
    parts = (
        section.table(left - 3, 17.0, hole=(-4.0, 9.0)),
        draw.Part("board-cut", "Side", lines, hatched=(shape,)),
        blades.leaning(3.0, (thick + 16.0) / math.cos(math.radians(asked.made.tilt)), asked.made.tilt).moved(3.2, 0),
        draw.Part("upright", "Upright", (draw.Line(upright, draw.Kind.NARROW),)),
    )
    labels = (draw.balloon("tilt", (0.0, thick + 20.0), "right"),)
    return draw.View("at-the-blade", "Section at the blade", parts, (), labels, to_scale=False)


def _side(asked: _Asked) -> draw.View:
    """A side on its outer face, the bottom edge below: it widens upward by the gauge at each end."""
    half, wide, high = asked.bottom / 2, asked.top / 2, asked.height
    outline = draw.polygon((-half, 0), (half, 0), (wide, high), (-wide, high))
    part = draw.Part("side", "Side", (draw.Line(outline),))
    dimensions = [
        draw.Dimension(draw.Point(-half, 0), draw.Point(half, 0), "below", "", "bottom"),
    ]
    if asked.leans:
        dimensions.append(draw.Dimension(draw.Point(-wide, high), draw.Point(wide, high), "above", "", "top"))
    return draw.View("side", "One side, inner face", (part,), tuple(dimensions), to_scale=False)


def _ring(asked: _Asked) -> draw.View:
    """The bottom of the ring from above."""
    turn = 2 * math.pi / asked.sides
    thick = asked.thickness * math.cos(math.radians(asked.slope))

    def corners(apart: float) -> list[draw.Point]:
        """The corners of a ring whose sides are so far from its middle, the lowest side first."""
        far, start = apart / math.cos(turn / 2), -math.pi / 2 - turn / 2
        return [draw.on_circle(draw.Point(0, 0), far, math.degrees(start + turn * i)) for i in range(asked.sides)]

    inner, outer = corners(asked.radius), corners(asked.radius + thick)
    joints = [draw.line(a, b) for a, b in zip(inner, outer, strict=True)]
    part = draw.Part("ring", "Ring", draw.lines([draw.polygon(*inner), draw.polygon(*outer), *joints]))
    words = draw.Label("this side", draw.Point(0, -asked.radius - thick / 2), towards="below")
    return draw.View("ring", "The ring, from above", (part,), labels=(words,), to_scale=False)


# -- the templates -----------------------------------------------------------------------------------------------------


def _triangles(made: Mitre) -> list[Template]:
    """What holds the angles: a foot on the table or on the fence, a slope against the blade or the gauge's bar."""
    use = "Glue it on stiff card; cut with knife and rule. Heavy edge on the {foot}, slope on the {slope}."
    angles = [("tilt", "Angle of the blade", made.tilt, {"foot": "table", "slope": "blade"})]
    if made.gauge > NO_ANGLE:
        angles.append(("gauge", "Angle of the gauge", made.gauge, {"foot": "fence", "slope": "bar of the gauge"}))
    return [
        Template(_triangle(name, title, angle), "mitre", use.format(**at), "mitre") for name, title, angle, at in angles
    ]


def _triangle(name: str, title: str, angle: float) -> draw.View:
    """A right triangle that holds an angle from square: run across, leg up, a foot beside it to stand on."""
    leg = TRIANGLE if angle < 25 else TRIANGLE_STEEP
    run = leg * math.tan(math.radians(angle))
    shape = draw.polygon((-FOOT, 0), (run, 0), (0, leg), (-FOOT, leg))
    lines = (
        draw.Line(shape),
        draw.Line(draw.line((-FOOT - 3, 0), (run + 3, 0)), draw.Kind.REFERENCE),
        draw.Line(draw.line((0, 0), (0, leg)), draw.Kind.CENTRE),
    )
    rise = draw.Dimension(draw.Point(-FOOT, 0), draw.Point(-FOOT, leg), "left")
    foot = draw.Dimension(draw.Point(-FOOT, 0), draw.Point(run, 0), "below")
    labels = (
        draw.Label(f"{angle:.2f}°", draw.Point(-FOOT / 2, leg * 0.55), leader=False, bold=True),
        draw.Label(say("{run:gauge}", run=run), draw.Point(-FOOT / 2, leg * 0.47), leader=False),
        draw.Label(say("in {leg:gauge}", leg=leg), draw.Point(-FOOT / 2, leg * 0.42), leader=False),
    )
    check = foot if run + FOOT > leg else rise
    return draw.View(name, title, (draw.Part(name, title, lines),), (rise, foot), labels, check=check)
