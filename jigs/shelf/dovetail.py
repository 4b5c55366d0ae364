"""Dovetails to mark and saw by hand: the tails on the board's face, the pins on its end, and the bevel."""

from __future__ import annotations

from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Count, Length
from jigs.base.rules import Problem, stop, warn
from jigs.base.usual import Usual
from jigs.base.wording import Offer, at_least, at_most, say
from jigs.trade.fingers import TOUCH
from jigs.trade.spacing import Dovetails, dovetails

BEVEL = 60.0
"""Long leg of the bevel triangle, mm."""
SHOULDER = 30.0
"""Board drawn beyond the shoulder line, mm."""
THIN_PIN = 1.5
"""A pin thinner than this at its tip breaks while it is chopped (common practice, no source), mm."""


@jig("dovetail", title="Dovetail marking template", summary="tails and pins laid out to mark from")
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
    title = say("Dovetails, {count} tails, 1 in {slope}", count=str(tails), slope=str(slope))
    sheet = _sheet(made, width, tail_board, pin_board, slope)
    return Plan(title, numbers, (sheet,), tuple(_warnings(pin)))


def _problems(width: float, tails: int, half_pin: float, pin: float, slope: int, deep: float) -> list[Problem]:
    room = width - 2 * half_pin
    wide = (room - (tails - 1) * pin) / tails
    least = 2 * deep / slope
    if wide > least + TOUCH:
        return []
    said = "{count} tails of {wide} come to a point within {deep}; they must be wider than {least}"
    if tails == 1:
        said = "a tail of {wide} comes to a point within {deep}; it must be wider than {least}"
    numbers: dict[str, object] = {"count": str(tails), "wide": max(wide, 0.0), "deep": deep, "least": least}
    board = {"board": at_least(2 * half_pin + (tails - 1) * pin + tails * least, "width")}
    if tails == 1:
        return [stop("width", said, "a board {board} wide or wider", **numbers, **board)]
    if room > least + TOUCH:  # for one tail at least
        ways = ("{most} tails at most", "pins of {narrower} or less")
        numbers["most"] = Offer(int((room + pin) / (least + pin)), "down")
        numbers["narrower"] = at_most((room - tails * least) / (tails - 1), "pin")
    else:
        ways = ("a board {board} wide or wider", "1 tail on a board {one} wide or wider")
        numbers |= board | {"one": at_least(2 * half_pin + least, "width", tails=1)}
    return [stop("tails", said, ways, **numbers)]


def _warnings(pin: float) -> list[Problem]:
    if pin >= THIN_PIN:
        return []
    said = "a pin of {pin} breaks while it is chopped"
    return [warn("pin", said, "{least} or more", pin=pin, least=at_least(THIN_PIN))]


def _sheet(made: Dovetails, width: float, tail_board: float, pin_board: float, slope: int) -> draw.Drawing:
    rows: list[tuple[draw.Cell, ...]] = [(str(i), start, end) for i, (start, end) in enumerate(made.tails, start=1)]
    headings = ("Tail", "from the reference edge", "to")
    table = draw.Table("tails", "Tails at the end of the board", headings, tuple(rows))
    notes = draw.Notes(
        "notes",
        "How to use it",
        (
            say(
                "Scribe the shoulder round the tail board with the thickness of the pin board, {pins}; round the pin "
                "board with that of the tail board, {tails}. Gauge from the boards, not from this sheet.",
                pins=pin_board,
                tails=tail_board,
            ),
            "Prick the tails from the sheet, strike the flanks with the bevel, mark the waste, saw on the waste side. "
            "Then mark the pins from the tails you sawed: they are the pattern now.",
        ),
    )
    purpose = "layout to mark from: tails on the outer face of the tail board, pins on the end of the other"
    body = (_tails(made, width, pin_board), _pins(made, width, pin_board), _bevel(slope), table, notes)
    return draw.Drawing("layout", "dovetail layout", purpose, body, (cautions.GENERAL, cautions.HAND_TOOLS))


def _tails(made: Dovetails, width: float, deep: float) -> draw.View:
    """The tail board's face, its end below; tails widen toward the end."""
    run = (made.wide - made.narrow) / 2
    edges = [0.0] + [at for tail in made.tails for at in tail] + [width]
    outline = draw.rectangle(0, 0, width, deep + SHOULDER)
    waste = []
    for left, right in zip(edges[::2], edges[1::2], strict=True):
        inner = (left - run if left > 0 else 0.0, right + run if right < width else width)
        waste.append(draw.polygon((left, 0), (right, 0), (inner[1], deep), (inner[0], deep)))
    reference = draw.Line(draw.line((0, -3), (0, deep + SHOULDER + 3)), draw.Kind.REFERENCE)
    board = draw.Part("tails", "Tail board", (draw.Line(outline), *draw.lines(waste), reference), hatched=tuple(waste))
    first = made.tails[0]
    whole = draw.Dimension(draw.Point(0, deep + SHOULDER), draw.Point(width, deep + SHOULDER), "above", "width")
    dimensions = (
        whole,
        draw.Dimension(draw.Point(0, 0), draw.Point(first[0], 0), "below", "half pin"),
        draw.Dimension(draw.Point(first[0], 0), draw.Point(first[1], 0), "below", "tail"),
        draw.Dimension(draw.Point(width, 0), draw.Point(width, deep), "right", "shoulder"),
    )
    return draw.View("tails", "Tail board, outer face", (board,), dimensions, check=whole)


def _pins(made: Dovetails, width: float, deep: float) -> draw.View:
    """The pin board end on, its outer face below: there the pins are narrow."""
    run = (made.wide - made.narrow) / 2
    sockets = [draw.polygon((start, 0), (end, 0), (end - run, deep), (start + run, deep)) for start, end in made.tails]
    outline = draw.rectangle(0, 0, width, deep)
    reference = draw.Line(draw.line((0, -3), (0, deep + 3)), draw.Kind.REFERENCE)
    board = draw.Part(
        "pins", "Pin board", (draw.Line(outline), *draw.lines(sockets), reference), hatched=tuple(sockets)
    )
    labels = (draw.Label("outer face", draw.Point(width * 0.9, 0), towards="below"),)
    return draw.View("pins", "Pin board, end on", (board,), labels=labels)


def _bevel(slope: int) -> draw.View:
    """A triangle of the flanks' slope to set a bevel by."""
    run = BEVEL / slope
    shape = draw.polygon((0, 0), (BEVEL, 0), (BEVEL, run))
    part = draw.Part("bevel", "Bevel", (draw.Line(shape),))
    leg = draw.Dimension(draw.Point(0, 0), draw.Point(BEVEL, 0), "below", f"1 in {slope}: leg")
    rise = draw.Dimension(draw.Point(BEVEL, 0), draw.Point(BEVEL, run), "right", "rise")
    return draw.View("bevel", "Bevel", (part,), (leg, rise))
