"""Dovetails to mark and saw by hand: the tails on the board's face, the pins on its end, and the bevel."""

from __future__ import annotations

from collections.abc import Iterator
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
from jigs.base.rules import Problem, stop, warn
from jigs.base.usual import Usual
from jigs.base.wording import Offer, at_least, at_most, say
from jigs.record import Record, replace
from jigs.shelf import scenes
from jigs.things import section
from jigs.trade.fingers import TOUCH
from jigs.trade.spacing import Dovetails, dovetails

BEVEL = 60.0
"""Long leg of the bevel triangle, mm."""
SHOULDER = 30.0
"""Board drawn beyond the shoulder line, mm."""
THIN_PIN = 1.5
"""A pin thinner than this at its tip breaks while it is chopped (common practice, no source), mm."""
WITHIN = 0.2
"""How near tails and pins are marked by hand (common practice, no source), mm."""
CAUTIONS = (
    Caution("Chisel", "Clamp the board. Both hands stay behind the cutting edge."),
    Caution("Saw", "Hold the board low in the vice. A board that shakes jumps the saw."),
    Caution("Push", "Push every tool away from your hands. Keep it sharp."),
)


@jig(
    "dovetail",
    title="Dovetail marking template",
    summary="tails and pins laid out to mark from",
    from_box="width=height tail_board=file.sides.thickness pin_board=file.sides.ends_thickness|file.sides.thickness",
)
def dovetail(
    *,
    width: Annotated[float, Length("width of the boards", 15, 600)],
    tail_board: Annotated[float, Length("thickness of the board with the tails", 3, 60)],
    pin_board: Annotated[float, Length("thickness of the board with the pins", 3, 60)],
    tails: Annotated[int, Count("number of tails", 1, 40)] = 3,
    slope: Annotated[int, Count("slope of the flanks: 1 in this many", 4, 12)] = 8,
    half_pin: Annotated[float, Length("half pin at each edge, where it is narrow", 2, 60)] = Usual(6, 1 / 4).default,
    pin: Annotated[float, Length("pin between tails, where it is narrow", 1, 60)] = Usual(6, 1 / 4).default,
) -> Plan:
    """Tail board, pin board end on, and a bevel to the flanks' slope, at full size.

    Example: --width 90 --tail-board 12 --pin-board 12

    Sources: The layout is derived in `jigs/trade/spacing.py`. Slopes of 1 in 6 and 1 in 8: common practice, no
    source.
    """
    refuse(_problems(width, tails, half_pin, pin, slope, pin_board))
    sizes = {"width": width, "half_pin": half_pin, "pin": pin, "ratio": float(slope), "thickness": pin_board}
    made = dovetails(count=tails, **sizes)
    numbers = {
        "angle": made.angle,
        "tail_wide": made.wide,
        "tail_narrow": made.narrow,
        "tails": [list(tail) for tail in made.tails],
    }
    several = "tails" if tails > 1 else "tail"
    title = say(f"Dovetails, {{count}} {several}, 1 in {{slope}}", count=str(tails), slope=str(slope))
    sheets = _sheets(_Joint(made, width, tail_board, pin_board, slope))
    return Plan(title, numbers, sheets, tuple(_warnings(pin)))


def _problems(width: float, tails: int, half_pin: float, pin: float, slope: int, deep: float) -> list[Problem]:
    room = width - 2 * half_pin
    wide = (room - (tails - 1) * pin) / tails
    least = 2 * deep / slope
    if wide > least + TOUCH:
        return []
    said = "with {tails} each is {wide:cut down} wide, and comes to a point unless it is more than {least:cut up}"
    several = f"{tails} tail{'s' if tails > 1 else ''}"
    numbers: dict[str, object] = {"tails": several, "wide": max(wide, 0.0), "least": least}
    board = {"board": at_least(2 * half_pin + (tails - 1) * pin + tails * least, "width")}
    if tails == 1:
        return [stop("width", said, "use boards {board} wide or more", **numbers, **board)]
    if room > least + TOUCH:  # for one tail at least
        ways = ("lay out {most} or fewer", "make the pins {narrower} wide or less")
        numbers["most"] = Offer(int((room + pin) / (least + pin)), "down")
        numbers["narrower"] = at_most((room - tails * least) / (tails - 1), "pin")
    else:
        ways = ("use boards {board} wide or more", "lay out 1 tail on boards {one} wide or more")
        numbers |= board | {"one": at_least(2 * half_pin + least, "width", tails=1)}
    return [stop("tails", said, ways, **numbers)]


def _warnings(pin: float) -> list[Problem]:
    if pin >= THIN_PIN:
        return []
    said = "a pin {pin} wide will break while you chop, because its narrow side is under {least}"
    return [warn("pin", said, "make the pins {works} wide or more", pin=pin, least=THIN_PIN, works=at_least(THIN_PIN))]


class _Joint(Record):
    """Dovetails and the boards that they join, mm; the flanks lean 1 in `slope`."""

    made: Dovetails
    width: float
    tail_board: float
    pin_board: float
    slope: int

    @property
    def run(self) -> float:
        """How much narrower a tail is at its root, on each side."""
        return (self.made.wide - self.made.narrow) / 2

    @property
    def waste(self) -> list[draw.Path]:
        """What is cut out of the tail board between its tails, the end at y = 0."""
        edges = [0.0] + [at for tail in self.made.tails for at in tail] + [self.width]
        found = []
        for left, right in zip(edges[::2], edges[1::2], strict=True):
            low = left - self.run if left > 0 else 0.0
            high = right + self.run if right < self.width else self.width
            found.append(draw.polygon((left, 0), (right, 0), (high, self.pin_board), (low, self.pin_board)))
        return found


def _sheets(joint: _Joint) -> Sheets:
    tails, pins = _tails(joint), _pins(joint)
    return Sheets(
        (_card(joint),),
        (
            _template(replace(tails, detail=scenes.on_its_side(tails)), "prick the tails through it, outer face up"),
            _template(replace(pins, detail=scenes.on_its_side(pins)), "to compare; the sawn tails are the pattern"),
            _template(_bevel(joint.slope), "set the sliding bevel to it"),
        ),
    )


def _template(view: draw.View, use: str) -> Template:
    return Template(view, "dovetail", use, "dovetail")


# -- the card --------------------------------------------------------------------------------------------------------


def _card(joint: _Joint) -> Card:
    bands = (
        Pictures((_to_saw(joint), _on_the_vice(joint)), least=48.0, most=96.0, shares=(0.6, 0.4)),
        Beside(Settings(_settings(joint)), _checks(joint), 0.7),
        Order(
            (
                "Scribe the shoulder round both boards, each with the other’s gauge.",
                "Prick the tails; strike the flanks with the bevel; cross out the waste.",
                "Saw the tails on the waste side. Chop from both faces to the middle.",
            )
        ),
        Hold("Reference edges level, tail board on its shoulder line.", "pins to be marked"),
        Order(
            (
                "Knife the pins round the sawn tails: they are the pattern now.",
                "Saw the pins on the waste side of the knife lines. Chop, and try once.",
            )
        ),
    )
    count = len(joint.made.tails)
    about = f"{count} tails, 1 in {joint.slope}" if count > 1 else f"one tail, 1 in {joint.slope}"
    return Card("dovetail", "Dovetails", "Bench, by hand", CAUTIONS, bands, about, "dovetail")


def _settings(joint: _Joint) -> tuple[Setting, ...]:
    tails = joint.made.tails
    rows = [
        Setting("tail-gauge", "Gauge for tail board", joint.pin_board, 0.1, "pin board"),
        Setting("pin-gauge", "Gauge for pin board", joint.tail_board, 0.1, "tail board"),
        Setting("half-pin", "Half pin, at the end", tails[0][0], WITHIN, "template"),
        Setting("tail", "Tail, at the end", joint.made.wide, WITHIN, "template"),
    ]
    if len(tails) > 1:
        rows.append(Setting("pin", "Pin, at the end", tails[1][0] - tails[0][1], WITHIN, "template"))
    return (*rows, Setting("slope", "Slope of the flanks", f"1 : {joint.slope}", using="bevel"))


def _checks(joint: _Joint) -> Checks:
    half, deep = joint.width - joint.made.tails[-1][1], joint.pin_board
    rows = (
        Check("half pin, far edge", half - WITHIN, half + WITHIN, 0.05),
        Check("shoulder, both faces", deep - 0.1, deep + 0.1, 0.05),
    )
    return Checks(rows, "Check", "before you saw")


def _to_saw(joint: _Joint) -> draw.View:
    """The end of the tail board with its waste crossed out, and what is set on it."""
    deep, top = joint.pin_board, joint.pin_board + max(12.0, joint.width * 0.25)
    outline = draw.Part(
        "face",
        "Tail board",
        (
            draw.Line(draw.line((0, top), (0, 0), (joint.width, 0), (joint.width, top))),
            draw.Line(draw.line((0, deep), (joint.width, deep)), draw.Kind.NARROW),
            draw.Line(draw.break_line(draw.Point(0, top), draw.Point(joint.width, top)), draw.Kind.NARROW),
            draw.Line(draw.line((0, 0), (0, top)), draw.Kind.REFERENCE),
        ),
    )
    waste = [_crossed(f"waste-{number}", path) for number, path in enumerate(joint.waste, start=1)]
    tails = joint.made.tails
    dimensions = (
        draw.Dimension(draw.Point(tails[0][0], 0), draw.Point(tails[0][1], 0), "below", "", "tail"),
        draw.Dimension(draw.Point(joint.width, 0), draw.Point(joint.width, deep), "right", "", "tail-gauge"),
    )
    labels = [
        draw.balloon("slope", (tails[-1][1] - joint.run / 2, deep / 2), "left"),
        draw.balloon("half-pin", (tails[0][0] / 2, 0), "below"),
    ]
    if len(tails) > 1:
        labels.append(draw.balloon("pin", ((tails[-2][1] + tails[-1][0]) / 2, 0), "below"))
    title = "Tail board, outer face; its reference edge is heavy"
    return draw.View("to-saw", title, (outline, *waste), dimensions, tuple(labels), to_scale=False)


def _crossed(name: str, path: draw.Path) -> draw.Part:
    """A piece of waste, from corner to corner."""
    corners = path.points()
    cross = [draw.line(corners[0], corners[2]), draw.line(corners[1], corners[3])]
    return draw.Part(name, "Waste", (draw.Line(path), *draw.lines(cross, draw.Kind.NARROW)))


def _on_the_vice(joint: _Joint) -> draw.View:
    """The pin board on end in the vice, the tail board lying on it, a knife at its tails."""
    thick, pin = joint.tail_board, joint.pin_board
    jaw, low, reach = 26.0, -46.0, max(100.0, pin * 2)
    block = draw.rectangle(pin + jaw + 8, low + 8, reach + pin, 0)
    tip = draw.Point(0.0, 0.5)
    blade = draw.polygon((tip.x, tip.y), (tip.x - 3, tip.y + 12), (tip.x - 12, tip.y + 20), (tip.x - 17, tip.y + 14))
    handle = draw.polygon((-11, 21), (-18, 13), (-62, 50), (-54, 58))
    parts = (
        section.face("pin-board", "Pin board", draw.rectangle(0, low - 8, pin, 0)),
        section.face("tail-board", "Tail board", draw.rectangle(0, 0, pin + reach, thick)),
        draw.Part(
            "jaws",
            "Jaws of the vice",
            draw.lines([draw.rectangle(-jaw, low, 0, -6), draw.rectangle(pin, low, pin + jaw, -6)]),
        ),
        draw.Part("block", "Block", (draw.Line(block),)),
        draw.Part("knife", "Knife", draw.lines([blade, handle]), covers=(blade, handle)),
        draw.Part(
            "press",
            "Press",
            arrows=((draw.Point(pin + reach * 0.55, thick + 30), draw.Point(pin + reach * 0.55, thick + 3)),),
        ),
    )
    labels = (
        draw.Label("tail board", draw.Point(pin + reach * 0.3, thick - 1), towards="above"),
        draw.Label("pin board", draw.Point(pin / 2, low - 7), towards="left"),
        draw.Label("vice", draw.Point(-jaw / 2, low / 2 - 3), leader=False),
        draw.Label("block", draw.Point((pin + jaw + 8 + reach + pin) / 2, low / 2 + 4), leader=False),
        draw.Label("knife", draw.Point(-40, 42), towards="above"),
    )
    return draw.View("on-the-vice", "Pins marked from the tails", parts, labels=labels, to_scale=False)


# -- the templates ---------------------------------------------------------------------------------------------------


def _tails(joint: _Joint) -> draw.View:
    """The tail board's face, its end below; tails widen toward the end."""
    width, deep, waste = joint.width, joint.pin_board, joint.waste
    outline = draw.rectangle(0, 0, width, deep + SHOULDER)
    reference = draw.Line(draw.line((0, -3), (0, deep + SHOULDER + 3)), draw.Kind.REFERENCE)
    crosses = [draw.line(path.points()[i], path.points()[i + 2]) for path in waste for i in (0, 1)]
    board = draw.Part(
        "tails",
        "Tail board",
        (draw.Line(outline), *draw.lines(waste), *draw.lines(crosses, draw.Kind.NARROW), reference),
    )
    first = joint.made.tails[0]
    whole = draw.Dimension(draw.Point(0, deep + SHOULDER), draw.Point(width, deep + SHOULDER), "above")
    dimensions = (
        whole,
        draw.Dimension(draw.Point(0, 0), draw.Point(first[0], 0), "below"),
        draw.Dimension(draw.Point(first[0], 0), draw.Point(first[1], 0), "below"),
        draw.Dimension(draw.Point(width, 0), draw.Point(width, deep), "right"),
    )
    piece = draw.Piece(draw.polygon(*_round_the_tails(joint)))
    return draw.View("tails", "Tails", (board,), dimensions, check=whole, piece=piece)


def _round_the_tails(joint: _Joint) -> Iterator[tuple[float, float]]:
    """Yield the corners of the tail board without its waste, from the end of its first tail on."""
    for left, right in joint.made.tails:
        yield from ((left + joint.run, joint.pin_board), (left, 0), (right, 0), (right - joint.run, joint.pin_board))
    low, high = joint.pin_board, joint.pin_board + SHOULDER
    yield from ((joint.width, low), (joint.width, high), (0, high), (0, low))


def _pins(joint: _Joint) -> draw.View:
    """The pin board end on, its outer face below: there the pins are narrow."""
    width, deep, run = joint.width, joint.pin_board, joint.run
    sockets = [
        draw.polygon((start, 0), (end, 0), (end - run, deep), (start + run, deep)) for start, end in joint.made.tails
    ]
    crosses = [draw.line(path.points()[i], path.points()[i + 2]) for path in sockets for i in (0, 1)]
    reference = draw.Line(draw.line((0, -3), (0, deep + 3)), draw.Kind.REFERENCE)
    outline = draw.Line(draw.rectangle(0, 0, width, deep))
    board = draw.Part(
        "pins", "Pin board", (outline, *draw.lines(sockets), *draw.lines(crosses, draw.Kind.NARROW), reference)
    )
    whole = draw.Dimension(draw.Point(0, deep), draw.Point(width, deep), "above")
    labels = (draw.Label("outer face", draw.Point(width * 0.9, 0), towards="below"),)
    return draw.View("pins", "Pins, end on", (board,), (whole,), labels, check=whole)


def _bevel(slope: int) -> draw.View:
    """A triangle of the flanks' slope to set a bevel by."""
    run = BEVEL / slope
    shape = draw.polygon((0, 0), (BEVEL, 0), (BEVEL, run))
    part = draw.Part("bevel", "Bevel", (draw.Line(shape),))
    leg = draw.Dimension(draw.Point(0, 0), draw.Point(BEVEL, 0), "below")
    rise = draw.Dimension(draw.Point(BEVEL, 0), draw.Point(BEVEL, run), "right")
    return draw.View("bevel", f"Bevel, 1 in {slope}", (part,), (leg, rise), check=leg)
