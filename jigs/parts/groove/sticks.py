"""The sticks that set the stops of a groove, and how near its trial must read.

Axes of a stick: the edge of the bit at 0, the stop at its other end.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.rules import READ_OUT
from jigs.base.usual import Usual
from jigs.base.wording import Words, say
from jigs.parts.groove.part import Groove
from jigs.parts.joint.part import MEMBERS
from jigs.record import replace
from jigs.trade import groove

STICK_WIDE, STOP_BLOCK = 20.0, 10.0
"""A stick, and how much of a stop is drawn, mm."""
WITHIN = Usual(0.1, 0.004)
"""What a careful shop holds of height and depth (common practice, no source)."""
CHIP_ROOM = Usual(3, 1 / 8)
"""Bevel at the foot of a stop, so that chips don't hold the board off it (common practice, no source)."""


def stop_distances(made: Groove) -> dict[str, float]:
    """Return the stop of each kind of board that is stopped, from the bit's centre: left and right are the same."""
    stops = made.stops
    found = {kind: stops[MEMBERS[kind][0]].right for kind in made.stopped_kinds}
    return {kind: right for kind, right in found.items() if right is not None}


def _stick_lengths(made: Groove) -> dict[str, float]:
    """Return one stick a distance, by what it is for: its length is from the bit's near edge to the stop."""
    sticks: dict[float, str] = {}
    for kind, right in stop_distances(made).items():
        length = round(right - made.radius, 6)
        sticks[length] = f"{sticks[length]}, {kind}" if length in sticks else kind
    return {kinds: length for length, kinds in sticks.items()}


def _filler(made: Groove) -> float:
    """Return the block that lets the shorter of two stopped pairs use the stops of the longer; 0 where none does."""
    lengths = [made.lengths[kind] for kind in made.stopped_kinds]
    if len(lengths) < 2 or min(lengths) == max(lengths):
        return 0.0
    return groove.filler_block(long_board=max(lengths), short_board=min(lengths))


def sticks(made: Groove) -> Iterator[tuple[draw.View, Words]]:
    """Yield the sticks that set the stops, one a distance, and the filler block; with what is done with each."""
    room = CHIP_ROOM.size(made.units)
    for number, (kinds, length) in enumerate(_stick_lengths(made).items(), start=1):
        name = "strip" if number == 1 else f"strip-{number}"
        title = f"Setting stick for the stops{f', {kinds}' if len(_stick_lengths(made)) > 1 else ''}"
        lying = _stick(made, name, title, length, upright=False)
        view = replace(lying, detail=_stick(made, name, title, length, upright=True))
        yield view, say("sets both stops; bevel the stops’ feet by {room}, for chips", room=room)
    if filler := _filler(made):
        lying = _block(filler, upright=False)
        yield replace(lying, detail=_block(filler, upright=True)), "one at each stop for the shorter boards"


def _stick(made: Groove, name: str, title: Words, length: float, *, upright: bool) -> draw.View:
    """A stick between the bit's edge and the stop; upright where the page is too narrow for it to lie."""
    radius = made.radius

    def at(along: float, across: float) -> draw.Point:
        return draw.Point(across, along) if upright else draw.Point(along, across)

    def block(start: float, end: float) -> draw.Path:
        return draw.rectangle(*at(start, -STICK_WIDE / 2), *at(end, STICK_WIDE / 2))

    cross = [
        draw.line(at(-2 * radius - 3, 0), at(-1.0, 0)),
        draw.line(at(-radius, -radius - 3), at(-radius, radius + 3)),
    ]
    bit = (draw.Line(draw.Circle(at(-radius, 0), radius), draw.Kind.NEIGHBOUR), *draw.lines(cross, draw.Kind.CENTRE))
    parts = (
        draw.Part(name, "Setting stick", draw.lines([block(0, length)])),
        draw.Part(f"{name}-bit", "Bit", bit),
        draw.Part(f"{name}-stop", "Stop", (draw.Line(block(length, length + STOP_BLOCK), draw.Kind.NEIGHBOUR),)),
    )
    low, high = at(0, -STICK_WIDE / 2), at(length, -STICK_WIDE / 2)
    from_edge = draw.Dimension(low, high, "left" if upright else "below", "from the bit's edge")
    far: draw.Side = "right" if upright else "above"
    from_centre = draw.Dimension(at(-radius, 0), at(length, STICK_WIDE / 2), far, "from its centre")
    inside = min(14.0, length / 4)
    labels = (
        draw.Label("bit end", at(inside, 0), leader=False),
        draw.Label("stop end", at(length - inside, 0), leader=False),
        draw.Label("bit", at(-radius, radius), towards="left"),
    )
    corner = sorted([at(-2 * radius - 1, -STICK_WIDE / 2), at(20, STICK_WIDE / 2)])
    return draw.View(
        name,
        title,
        parts,
        (from_edge, from_centre),
        labels,
        check=from_edge,
        critical=draw.Bounds(*corner[0], *corner[1]),
    )


def _block(length: float, *, upright: bool) -> draw.View:
    wide = STICK_WIDE
    shape = draw.rectangle(0, 0, wide, length) if upright else draw.rectangle(0, 0, length, wide)
    along = draw.Dimension(
        draw.Point(0, 0), draw.Point(0, length) if upright else draw.Point(length, 0), "left" if upright else "below"
    )
    part = draw.Part("filler", "Filler block", draw.lines([shape]))
    return draw.View("filler", "Filler block, make two", (part,), (along,), check=along)


def end_margin_to_go_on(made: Groove) -> tuple[float, float]:
    """Return the end margins to go on with: with them a square corner stays square, or they are near what is wanted."""
    wood, (least, most) = made.end_margin, made.end_margin_range
    within = WITHIN.size(made.units)
    if made.corner_kind != "square":
        return wood - within, wood + within
    if not least - READ_OUT <= wood <= most + READ_OUT:
        return wood - within, min(wood + within, made.square_end_margin[1])
    return least, most
