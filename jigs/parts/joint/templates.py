"""What of the sled is laid or glued on wood: plate, slot, brace and the two story sticks, each at full size."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Template
from jigs.base.lengths import round_up
from jigs.base.wording import Words, say
from jigs.parts.joint import plate
from jigs.parts.joint.carriage import Carriage
from jigs.parts.joint.made import Sled
from jigs.record import replace
from jigs.trade.fingers import Span, fingers_between

STICK_HIGH = 10.0
"""Height of a story stick, mm."""
_CORNER = 0.3
"""Share of waste that is crossed out from each corner, so that a number has room in its middle."""


def of(sled: Sled, *, whole: bool) -> tuple[Template, ...]:
    """Return the templates: those of the sled's wood first, then the sticks for the boards."""
    made = sled.carriage
    laid = plate.whole(sled) if whole else plate.zone(sled)
    prick = "prick the centres through; rule seat and centre lines on" if whole else _on_the_plate(sled)
    return (
        Template(laid, "make-sled", prick, "sled"),
        Template(slot(made), "make-sled", _from_the_end(made), "sled"),
        Template(brace(made), "make-sled", "saw two; long edges to foot and to A, grain along one", "sled"),
        *(Template(view, "cut-fingers", "lay it on before and after the first cuts", "sled")
          for view in sticks(sled)),
    )  # fmt: skip


def _on_the_plate(sled: Sled) -> Words:
    """Say where the zone lies on the plate, and how far the seat goes on beyond it."""
    words = "on top, prick the cutter {across:cut} from the left end, {up:cut} from you; seat {long:cut} long"
    return say(words, across=-sled.plate_ends[0], up=sled.plate_length / 2, long=sled.key_length)


def _from_the_end(made: Carriage) -> Words:
    words = "lower edge of A, seen from behind; slot starts {far:cut} from its {side} end"
    return say(words, far=made.foot_key, side=made.key_side)


# -- slot and brace ------------------------------------------------------------------------------------------------


def slot(made: Carriage) -> draw.View:
    """Return the slot in the lower edge of the upright, as one stands behind it, with a little of the edge."""
    at, high, beside = made.hand, made.slot_height, 14.0
    far, near = -at * (made.slot_away + beside), at * (made.slot_key + beside)
    top = high + 6.0
    edge = draw.line(
        (far, 0.0), (-at * made.slot_away, 0.0), (-at * made.slot_away, high),
        (at * made.slot_key, high), (at * made.slot_key, 0.0), (near, 0.0),
    )  # fmt: skip
    ends = draw.lines([draw.break_line(draw.Point(x, 0), draw.Point(x, top)) for x in (far, near)], draw.Kind.BREAK)
    centre = draw.Line(draw.line((0, -3), (0, top)), draw.Kind.CENTRE)
    left, right = sorted((-at * made.slot_away, at * made.slot_key))
    wide = draw.Dimension(draw.Point(left, 0), draw.Point(right, 0), "below", "slot")
    side: draw.Side = "left" if at > 0 else "right"
    tall = draw.Dimension(draw.Point(far, 0), draw.Point(-at * made.slot_away, high), side)
    parts = (
        draw.Part("carriage-face", "Upright, lower edge", (draw.Line(edge), *ends)),
        draw.Part("carriage-centre", "Cutter’s centre", (centre,)),
    )
    label = draw.Label("cutter’s centre", draw.Point(0, high * 0.5), towards=side)
    over = (draw.LineTo(draw.Point(near, top)), draw.LineTo(draw.Point(far, top)))
    piece = draw.Piece(replace(edge, steps=(*edge.steps, *over), closed=True))
    return draw.View("face", "Slot in the upright, A", parts, (wide, tall), (label,), check=wide, piece=piece)


def brace(made: Carriage) -> draw.View:
    """Return a brace."""
    leg, blunt = made.brace, round_up(12.0, made.units)
    shape = draw.polygon((0, 0), (leg, 0), (leg, blunt), (blunt, leg), (0, leg))
    part = draw.Part("carriage-brace", "Brace", draw.lines([shape]))
    across = draw.Dimension(draw.Point(0, 0), draw.Point(leg, 0), "below")
    return draw.View("brace", "Brace, D", (part,), (across,), check=across)


# -- story sticks --------------------------------------------------------------------------------------------------


def sticks(sled: Sled) -> Iterator[draw.View]:
    """Yield the two story sticks: every finger and socket, from the bottom edge; numbers are positions."""
    n = sled.numbers
    for name, title, sockets in (
        ("stick-front", "Story stick, front", n.long_sockets),
        ("stick-end", "Story stick, end", n.short_sockets),
    ):
        lying = _stick(sled, name, title, sockets, upright=False)
        yield replace(lying, detail=_stick(sled, name, title, sockets, upright=True))


def _stick(sled: Sled, name: str, title: str, sockets: tuple[Span, ...], *, upright: bool) -> draw.View:
    n = sled.numbers

    def at(along: float, across: float) -> draw.Point:
        return draw.Point(across, along) if upright else draw.Point(along, across)

    def block(span: tuple[float, float]) -> draw.Path:
        return draw.rectangle(*at(span[0], 0.0), *at(span[1], STICK_HIGH))

    spans = [(span.start, span.end) for span in (*sockets, *fingers_between(n.width, sockets))]
    waste = [stroke for span in sockets for stroke in _crossed_out(span, at)]
    reference = draw.Line(draw.line(at(0, -2), at(0, STICK_HIGH + 2)), draw.Kind.REFERENCE)
    lines = (*draw.lines([block(span) for span in spans]), *draw.lines(waste, draw.Kind.NARROW), reference)
    part = draw.Part(name, title, lines)
    side: draw.Side = "left" if upright else "above"
    width = draw.Dimension(
        at(0, 0.0 if upright else STICK_HIGH), at(n.width, 0.0 if upright else STICK_HIGH), side, gauged=True
    )
    edge = draw.Label("bottom edge", at(0, -1.5), towards="below") if upright else _under(10.5)
    labels = [*_numbered(sockets, at), edge]
    piece = draw.Piece(block((0.0, n.width)))
    return draw.View(name, title, (part,), (width,), tuple(labels), check=width, piece=piece)


def _under(across: float) -> draw.Label:
    """The name of the edge that the stick is laid to, below it."""
    return draw.Label("bottom edge", draw.Point(across, -2.4), leader=False)


def _crossed_out(span: Span, at: Callable[[float, float], draw.Point]) -> Iterator[draw.Path]:
    """Yield a stroke from each corner of a socket: it is waste, and its number stands in the middle."""
    wide, high = span.width * _CORNER, STICK_HIGH * _CORNER
    for along, one in ((span.start, 1.0), (span.end, -1.0)):
        for across, other in ((0.0, 1.0), (STICK_HIGH, -1.0)):
            yield draw.line(at(along, across), at(along + one * wide, across + other * high))


def _numbered(sockets: tuple[Span, ...], at: Callable[[float, float], draw.Point]) -> Iterator[draw.Label]:
    """Number every socket, in letters that go into it; where none do, every fifth one, beside the board."""
    digits, middle = len(str(len(sockets))), STICK_HIGH / 2
    narrowest = min(span.width for span in sockets)
    height = next((h for h in (3.5, 2.5, 1.8) if digits * 0.76 * h + 1.4 <= narrowest), None)
    for i, span in enumerate(sockets, start=1):
        if height is not None:
            yield draw.Label(str(i), at(span.middle, middle), leader=False, height=height)
        elif i in (1, len(sockets)) or i % 5 == 0:
            yield draw.Label(str(i), at(span.middle, middle), towards="above")
