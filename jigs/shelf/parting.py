"""A box glued shut and sawn open: the finger that is made wide, so that the joint stays even after the cut."""

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
from jigs.base.wording import Offer, Words, at_least, at_most, say
from jigs.record import Record, replace
from jigs.shelf import scenes
from jigs.things import section
from jigs.trade.fingers import TOUCH
from jigs.trade.spacing import parted_finger

STRIP = 25.0
GAP_WITHIN, SAW_WITHIN = 0.05, 0.2
"""How near the gap is set, by a gauge block, and the fence of the saw, by a rule (common practice, no source), mm."""
WALL, FINGERS = 12.0, 12.0
"""Thickness of the sides of the box, and length of its fingers, in pictures, mm."""
SHOWN = 5
"""So many parts are drawn to each side of the wide one, in pictures."""
CAUTIONS = (
    Caution("Hands", "Hold the carriage only, never in line with the cutter."),
    Caution("Exit", "The cutter comes out at the back, on your side: hands off."),
    Caution("Blade", "Keep guard and riving knife on, or guard the blade another way."),
    Caution("Pinch", "Wedge the first cuts: a box that closes is thrown at you."),
    Caution("Return", "Stop cutter or blade before you lift or draw back."),
)


@jig(
    "parting",
    title="Lid parted by the saw",
    summary="a wide finger to saw a closed box open by",
    from_box="finger=numbers.finger socket=numbers.socket count=numbers.count",
)
def parting(
    *,
    finger: Annotated[float, Length("finger width", 3, 60)],
    socket: Annotated[float, Length("socket the cutter makes, measured in wood", 3, 60)],
    count: Annotated[int, Count("fingers and sockets together, across the board", 5, 199)],
    wide: Annotated[int, Count("which of them is sawn through, counted from the bottom edge", 2, 198)],
    kerf: Annotated[float, Length("width of the saw's cut", 0.5, 8)] = Usual(3.2, 1 / 8).default,
    planing: Annotated[float, Length("planed from each edge after the cut", 0, 3)] = Usual(0.3, 1 / 64).default,
) -> Plan:
    """Where fingers and sockets lie when one is made wide, and where the saw goes.

    Example: --finger 9.92 --socket 10.02 --count 9 --wide 7

    Sources: Finger, kerf and planing add up: `jigs/trade/spacing.py`.
    """
    found = _problems(count, wide, finger, kerf, planing)
    refuse(found)
    long = wide % 2 == 1
    own = finger if long else socket
    broad = parted_finger(finger=own, kerf=kerf, planing=planing)
    edges = _edges(count, wide, finger, socket, broad)
    start = edges[wide - 1] + own / 2 + planing
    numbers = {
        "wide_part": broad,
        "wider": broad - own,
        "wide_gap": finger + broad - own,
        "fin": broad - own > socket,
        "saw_from": start,
        "saw_to": start + kerf,
        "width": edges[-1],
        "box_height": edges[wide - 1] + own / 2,
        "lid_height": edges[-1] - edges[wide] + own / 2,
        "edges": edges,
    }
    made = _Parted(tuple(edges), wide, finger, own, broad, kerf, planing, start)
    title = f"Box sawn open through {made.named}"
    return Plan(title, numbers, _sheets(made, fin=broad - own > socket), tuple(found))


def _problems(count: int, wide: int, finger: float, kerf: float, planing: float) -> list[Problem]:
    found, taken = [], kerf + 2 * planing
    if not 2 <= wide <= count - 1:
        numbers = {"wide": str(wide), "count": str(count), "most": Offer(count - 1, "down")}
        said = "with {count} fingers and sockets, a cut through number {wide} leaves nothing to hold the lid"
        found.append(stop("wide", said, "saw through number {most} or a lower one", **numbers))
    if finger < taken - TOUCH:
        found.append(
            warn(
                "finger",
                "the cut will show in the joint, because saw and plane take {taken}, more than a finger of {finger}",
                ("use a blade that cuts {thinner} or less", "make the fingers {wider} wide or more"),
                taken=taken,
                finger=finger,
                thinner=at_most(finger - 2 * planing, "kerf"),
                wider=at_least(taken),
            )
        )
    return found


def _edges(count: int, wide: int, finger: float, socket: float, broad: float) -> list[float]:
    """Return where fingers and sockets begin and end on a long board, from the bottom edge; the first is a finger."""
    edges = [0.0]
    for number in range(1, count + 1):
        own = broad if number == wide else finger if number % 2 else socket
        edges.append(edges[-1] + own)
    return edges


class _Parted(Record):
    """A box that is sawn open: where its fingers and sockets begin and end, the wide one, the saw. In mm."""

    edges: tuple[float, ...]
    wide: int
    finger: float
    own: float
    broad: float
    kerf: float
    planing: float
    start: float

    @property
    def named(self) -> str:
        """What is sawn through, as front and back have it, counted from the bottom edge: `finger 4`."""
        return f"{'finger' if self.wide % 2 else 'socket'} {(self.wide + 1) // 2}"

    @property
    def wide_gap(self) -> float:
        """The gap that makes the wide part."""
        return self.finger + self.broad - self.own

    @property
    def step(self) -> int:
        """The position of the stack in which the wide part is cut."""
        return (self.wide + 1) // 2


def _sheets(made: _Parted, *, fin: bool) -> Sheets:
    view = _view(made)
    view = replace(view, detail=scenes.on_its_side(view))
    use = "mark the wide part and the saw’s cut from it"
    return Sheets((_card(made, fin=fin),), (Template(view, "parting", use, "parting"),))


# -- the card --------------------------------------------------------------------------------------------------------


def _card(made: _Parted, *, fin: bool) -> Card:
    bands = (
        Pictures((_wide_part(made), _at_the_blade(made)), least=44.0, most=84.0, shares=(0.5, 0.5)),
        Beside(Settings(tuple(_settings(made))), _checks(made), 0.68),
        Order(tuple(_cutting(made, fin=fin))),
        Hold("Readings pass; glue is hard, guard on, blade turned by hand.", "box to be sawn open"),
        Order(
            (
                "Saw all four sides at one setting, the bottom edge on the fence.",
                say("Tape wedges {kerf:gauge} thick into the first two cuts, then saw the last two.", kerf=made.kerf),
                say("Plane {planing} from each edge: closed, the joint runs on as if uncut.", planing=made.planing),
            )
        ),
    )
    about = f"{made.named} of the front is made wide and sawn through"
    return Card("parting", "Lid parted by the saw", "Router table, table saw", CAUTIONS, bands, about, "parting")


def _settings(made: _Parted) -> Iterator[Setting]:
    at = str(made.step) if made.wide % 2 else f"{made.step} and {made.step + 1}"
    yield Setting("gap", "Gap, all other cuts", made.finger, GAP_WITHIN, "block")
    yield Setting(
        "wide-gap",
        f"Wide gap, position {at}" if made.wide % 2 else f"Wide gap, {at}",
        made.wide_gap,
        GAP_WITHIN,
        "block",
    )
    yield Setting("kerf", "Saw cut, in scrap", made.kerf, 0.05, "callipers")
    yield Setting("fence", "Rip fence to blade", made.start, SAW_WITHIN, "rule")


def _checks(made: _Parted) -> Checks:
    name = "finger" if made.wide % 2 else "socket"
    row = Check(f"wide {name} of the front", made.broad - GAP_WITHIN, made.broad + GAP_WITHIN, 0.05)
    cut = Check("bottom edge to the cut", made.start - SAW_WITHIN, made.start + SAW_WITHIN, 0.05)
    return Checks((row, cut), "Check")


def _cutting(made: _Parted, *, fin: bool) -> Iterator[Words]:
    """Say how the wide part is made on the sled: a wider gap for one step widens a finger, two gaps in one a socket.

    Step s of the stack cuts part 2s of front and back and part 2s - 1 of the ends. A bit in a table cuts against the
    feed on its left alone, so that fresh wood must lie there: with the key on the right the near cut comes first.
    """
    other_hand = "A bit, the key on its left: wide gap first, usual gap last, or it grabs."
    both = (
        "at the usual gap, then in between, at last at the wide gap"
        if fin
        else "at the usual gap, then at the wide gap"
    )
    if made.wide % 2:
        yield f"Position {made.step}: cut front and back at the wide gap only."
        yield f"Same position, before they move on: the end boards {both}."
        yield other_hand
    else:
        yield f"Position {made.step}: cut the end boards at the usual gap."
        yield f"Same position: front and back {both}."
        yield other_hand
        yield f"Position {made.step + 1}: the end boards at the wide gap only, front and back at the usual."
    yield "Cut all other positions as always. Glue up."


def _shown(made: _Parted) -> tuple[int, int]:
    """Return the first and the last part that pictures show."""
    return max(1, made.wide - SHOWN), min(len(made.edges) - 1, made.wide + SHOWN)


def _wide_part(made: _Parted) -> draw.View:
    """The end of the front with its fingers, from the bottom edge at the left; the cut crossed out."""
    first, last = _shown(made)
    left, right = made.edges[first - 1], made.edges[last]
    back = FINGERS + 22.0
    outline = [(left, back), (left, 0.0 if first % 2 else FINGERS)]
    for number in range(first, last + 1):
        y = 0.0 if number % 2 else FINGERS
        outline += [(made.edges[number - 1], y), (made.edges[number], y)]
    outline.append((right, back))
    ends = [draw.break_line(draw.Point(left, back), draw.Point(right, back))]
    if first > 1:
        ends.append(draw.break_line(draw.Point(left, outline[1][1]), draw.Point(left, back)))
    cut = draw.rectangle(made.start, -4, made.start + made.kerf, back + 4)
    lines = [draw.Line(draw.line(*outline)), *draw.lines(ends, draw.Kind.NARROW)]
    if first == 1:
        lines.append(draw.Line(draw.line((0, 0), (0, back)), draw.Kind.REFERENCE))
    parts = (
        draw.Part("front", "Front", tuple(lines)),
        section.removed("cut", "The saw’s cut", cut),
    )
    low, high = made.edges[made.wide - 1], made.edges[made.wide]
    foot = 0.0 if made.wide % 2 else FINGERS
    labels = [
        draw.balloon("kerf", (made.start + made.kerf / 2, back + 2), "above"),
        draw.Label("lid", draw.Point((high + right) / 2, back - 10), leader=False),
        draw.Label("box", draw.Point((left + low) / 2, back - 10), leader=False),
    ]
    if first == 1:
        labels.append(draw.Label("bottom edge", draw.Point(0, back - 3), towards="left"))
    wide = draw.Dimension(draw.Point(low, foot), draw.Point(high, foot), "below")
    title = f"End of the front: {made.named} is wide"
    return draw.View("wide-part", title, parts, (wide,), tuple(labels), to_scale=False)


def _at_the_blade(made: _Parted) -> draw.View:
    """The closed box on the table of the saw, cut across: its bottom edge on the fence, one side down."""
    whole, end = made.edges[-1], made.start + made.kerf
    high = max(46.0, min(whole * 0.6, 90.0))
    above = WALL + 5.0
    walls = (draw.rectangle(0, 0, made.start, WALL), draw.rectangle(end, 0, whole, WALL))
    inside = [
        draw.line((0, WALL), (0, high)),
        draw.line((whole, WALL), (whole, high)),
        draw.break_line(draw.Point(0, high), draw.Point(whole, high), 0.3),
    ]
    guard = draw.rectangle(made.start - 14, high + 3, end + 14, high + 7)
    parts = (
        section.table(-20.0, whole + 14, hole=(made.start - 4, end + 4)),
        section.fence(0.0, 14.0, 40.0),
        draw.Part("box", "Side of the box", draw.lines(walls), hatched=walls),
        draw.Part("end", "End of the box", (*draw.lines(inside[:2]), draw.Line(inside[2], draw.Kind.NARROW))),
        draw.Part("guard", "Guard", (draw.Line(guard),), covers=(guard,)),
        scenes.blade_across((made.start + end) / 2, made.kerf, above, -14.0),
    )
    fence = draw.Dimension(draw.Point(0, -14), draw.Point(made.start, -14), "below", "", "fence")
    labels = (
        draw.Label("fence", draw.Point(-7, 38), towards="above"),
        draw.Label("box", draw.Point(made.start / 2, high * 0.45), leader=False),
        draw.Label("lid", draw.Point((end + whole) / 2, high * 0.45), leader=False),
        draw.Label("guard", draw.Point(end + 10, high + 5), towards="right"),
        draw.Label("hands on top", draw.Point(made.start * 0.5, high - 9), leader=False, bold=True),
    )
    return draw.View("at-the-blade", "Section at the blade, one side down", parts, (fence,), labels, to_scale=False)


# -- the template ----------------------------------------------------------------------------------------------------


def _view(made: _Parted) -> draw.View:
    """The board's edge on its face, sockets crossed out, the saw's cut dashed."""
    edges, wide, width = made.edges, made.wide, made.edges[-1]
    pieces = [draw.rectangle(edges[i], 0, edges[i + 1], STRIP) for i in range(len(edges) - 1)]
    crosses = [
        draw.line((edges[i], y), (edges[i + 1], STRIP - y)) for i in range(1, len(pieces), 2) for y in (0, STRIP)
    ]
    reference = draw.Line(draw.line((0, -3), (0, STRIP + 3)), draw.Kind.REFERENCE)
    stick = draw.Part(
        "stick", "Front and back", (*draw.lines(pieces), *draw.lines(crosses, draw.Kind.NARROW), reference)
    )
    cuts = [draw.line((at, -3), (at, STRIP + 3)) for at in (made.start, made.start + made.kerf)]
    saw = draw.Part("saw", "Saw", draw.lines(cuts, draw.Kind.HIDDEN))
    whole = draw.Dimension(draw.Point(0, STRIP), draw.Point(width, STRIP), "above")
    dimensions = (
        whole,
        draw.Dimension(draw.Point(edges[wide - 1], 0), draw.Point(edges[wide], 0), "below"),
        draw.Dimension(draw.Point(0, 0), draw.Point(made.start, 0), "below"),
    )
    labels = (
        draw.Label("bottom edge", draw.Point(0, STRIP + 2), towards="left"),
        draw.Label("saw", draw.Point(made.start + made.kerf / 2, STRIP + 2), towards="above"),
    )
    piece = draw.Piece(draw.rectangle(0, 0, width, STRIP))
    return draw.View("stick", "Edge of front and back", (stick, saw), dimensions, labels, check=whole, piece=piece)
