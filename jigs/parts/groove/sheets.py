"""The sheets of the groove for the bottom: stop sticks, where it lies in the fingers, and the set-up of the fence.

Axes of a board: its cut end at 0 and its bottom edge at 0, seen on the inner face. Axes of a stick: the edge of the bit
at 0, the stop at its other end.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.rules import READ_OUT
from jigs.base.usual import Usual
from jigs.base.wording import Words, say
from jigs.parts import fence_pictures
from jigs.parts.groove.part import Groove
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS
from jigs.trade import groove
from jigs.trade.groove import Span

STICK_WIDE, STOP_BLOCK = 20.0, 10.0
"""A stick, and how much of a stop is drawn, mm."""
BEYOND, ABOVE = 18.0, 25.0
"""What is drawn of a board beyond its fingers and above the groove, mm."""
_ABOVE_THE_GROOVE, _BESIDE_THE_GROOVE = 0.75, 0.7
"""Where a break line has its zigzag, as a share of its length."""
WITHIN = Usual(0.1, 0.004)
"""What a careful shop holds of height and depth (common practice, no source)."""
CHIP_ROOM = Usual(3, 1 / 8)
"""Bevel at the foot of a stop, so that chips don't hold the board off it (common practice, no source)."""
_CAUTIONS = (cautions.GENERAL, cautions.GROOVE, cautions.PAPER)
_KEYS = {LONGS: "front", SHORTS: "end"}


def drawings(made: Groove) -> tuple[draw.Drawing, ...]:
    """Return the sheets of a groove, in the order they are worked from; sticks only where boards are stopped."""
    sticks = (_sticks(made),) if made.stopped_kinds else ()
    return (*sticks, _end_view(made), _set_up(made))


# -- stop sticks ---------------------------------------------------------------------------------------------------


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


def end_margin_to_go_on(made: Groove) -> tuple[float, float]:
    """Return the end margins to go on with: with them a square corner stays square, or they are near what is wanted."""
    wood, (least, most) = made.end_wood, made.end_wood_range
    within = WITHIN.size(made.units)
    if made.corner_kind != "square":
        return wood - within, wood + within
    if not least - READ_OUT <= wood <= most + READ_OUT:
        return wood - within, min(wood + within, made.square_end_wood[1])
    return least, most


def _filler(made: Groove) -> float:
    """Return the block that lets the shorter of two stopped pairs use the stops of the longer; 0 where none does."""
    lengths = [made.lengths[kind] for kind in made.stopped_kinds]
    if len(lengths) < 2 or min(lengths) == max(lengths):
        return 0.0
    return groove.filler_block(long_board=max(lengths), short_board=min(lengths))


def _sticks(made: Groove) -> draw.Drawing:
    views = []
    for number, (kinds, length) in enumerate(_stick_lengths(made).items(), start=1):
        name = "strip" if number == 1 else f"strip-{number}"
        title = say(f"Stop stick for {kinds}, left and right")
        lying = _stick(made, name, title, length, upright=False)
        views.append(replace(lying, detail=_stick(made, name, title, length, upright=True)))
    filler = _filler(made)
    if filler:
        lying = _block(filler, upright=False)
        views.append(replace(lying, detail=_block(filler, upright=True)))
    purpose = "sets both stops from the bit: cut the strip of wood to the length printed here, no ruler in between"
    return draw.Drawing("sticks", "stop sticks", purpose, (*views, _stick_notes(made)), _CAUTIONS, "stops")


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
        draw.Part(name, "Stop stick", draw.lines([block(0, length)])),
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


def _stick_notes(made: Groove) -> draw.Notes:
    said: list[Words] = [
        "Glue the strip to wood and saw to its ends, or lay the wood on it and mark. A stick is as long as from the "
        "near edge of the bit to the stop.",
        say(
            "Turn the bit by hand until one of its edges points along the fence at the stop. Stick against that edge, "
            "stop against the stick, clamp. With a ruler from the bit's centre it is {radius} more.",
            radius=made.radius,
        ),
        "The same stick sets the right stop and the left stop: both ends of the groove leave as much wood.",
    ]
    if made.fence_reach is not None:
        said.append(
            say(
                "The fence must reach {reach} past the bit's centre on both sides, {length} in all with the bit in its "
                "middle: for the stop, and for the clamp behind it. To a shorter one clamp a straight board as long.",
                reach=made.fence_reach,
                length=made.fence_length,
            )
        )
    if filler := _filler(made):
        longer = max(made.stopped_kinds, key=lambda kind: made.lengths[kind])
        said.append(
            say(
                f"Or set the stops once, for {longer}, and put a filler block of {{filler}} at each stop for the "
                "others.",
                filler=filler,
            )
        )
    said.append(
        say(
            "Bevel the foot of each stop by {room}: chips packed under it hold the board off, and the groove comes "
            "out short.",
            room=CHIP_ROOM.size(made.units),
        )
    )
    return draw.Notes("stick-notes", "How to use the sticks", tuple(said))


# -- where the groove lies -----------------------------------------------------------------------------------------


def _end_view(made: Groove) -> draw.Drawing:
    kinds = [kind for kind in MEMBERS if made.fingers[kind]]
    purpose = "where the groove lies in the fingers of each board, which boards are stopped and where the groove ends"
    body: list[draw.View | draw.Table] = [*(_face(made, kind) for kind in kinds), _across(made), _where(made, kinds)]
    return draw.Drawing("end-view", "groove in the fingers", purpose, tuple(body), _CAUTIONS, "stops")


def _face(made: Groove, kind: str) -> draw.View:
    """The left end of a board on its inner face, from the bottom edge to a finger or two above the groove."""
    width = max(end for spans in made.fingers.values() for _, end in spans)
    height = made.top + ABOVE
    cut = height < width
    height = min(height, width)
    stopped = kind in made.stopped_kinds
    key, deep = _KEYS[kind], made.cut_depths[kind]
    right = deep + BEYOND
    title = f"{kind}, inner face at the left: {'stopped' if stopped else 'runs through'}".capitalize()
    sockets = tuple(_sockets(made.fingers[kind], height))
    waste = tuple(draw.rectangle(0, low, deep, high) for low, high in sockets)
    corner = draw.Point(right, height)
    end_break = draw.break_line(draw.Point(right, 0), corner, _ABOVE_THE_GROOVE)
    top_break = draw.break_line(draw.Point(0, height), corner, _BESIDE_THE_GROOVE)
    top = draw.Line(top_break, draw.Kind.NARROW) if cut else draw.Line(draw.line((0, height), (right, height)))
    outline = (
        *draw.lines([_outline(deep, sockets, height, right)]),
        draw.Line(end_break, draw.Kind.NARROW),
        top,
        *draw.lines(waste, draw.Kind.NARROW),
        draw.Line(draw.line((-3, 0), (right + 3, 0)), draw.Kind.REFERENCE),
    )
    board = draw.Part(key, title, outline, hatched=waste)
    end = made.end_wood if stopped else _runs_out(made, deep, sockets)
    band = draw.Part(
        f"{key}-groove", "Groove", (draw.Line(_groove_end(made, end, right, stopped=stopped)), _axis(made, deep, right))
    )
    stretches = [(0.0, made.from_bottom, ""), (made.from_bottom, made.top, ""), (0.0, made.top, "top")]
    dimensions = [
        draw.Dimension(draw.Point(right, low), draw.Point(right, high), "right", name)
        for low, high, name in stretches
        if high > low
    ]
    labels = [draw.Label("reference edge", draw.Point(right * 0.6, 0), towards="below")]
    check = dimensions[-1]
    if stopped:
        dimensions.append(
            draw.Dimension(draw.Point(0, height), draw.Point(end, made.from_bottom + made.radius), "above", "end wood")
        )
        nose = draw.Point(end + made.radius * 0.3, made.from_bottom + made.radius * (1 + 0.714))
        labels.append(draw.Label(say("R {radius}", radius=made.radius), nose, towards="above"))
    return draw.View(key, title, (board, band), tuple(dimensions), tuple(labels), check=check)


def _sockets(fingers: tuple[Span, ...], height: float) -> Iterator[Span]:
    """Yield what is cut away between fingers, from the bottom edge up to a height."""
    at = 0.0
    for start, end in (*fingers, (height, height)):
        if min(start, height) - at > 0.05:
            yield at, min(start, height)
        at = max(at, end)


def _outline(deep: float, sockets: tuple[Span, ...], height: float, right: float) -> draw.Path:
    """Return the end of a board with its fingers, from the bottom edge round to its upper edge."""
    points = [(right, 0.0), (0.0, 0.0)]
    for low, high in sockets:
        points += [(0.0, low), (deep, low), (deep, high), (0.0, high)]
    points.append((0.0, height))
    kept = [points[0]] + [later for earlier, later in pairwise(points) if later != earlier]
    return draw.line(*kept)


def _runs_out(made: Groove, deep: float, sockets: tuple[Span, ...]) -> float:
    """Return where a groove that runs through leaves the board: on a socket's floor, or at the end of the board."""
    middle = made.from_bottom + made.radius
    return deep if any(low < middle < high for low, high in sockets) else 0.0


def _groove_end(made: Groove, end: float, right: float, *, stopped: bool) -> draw.Path:
    """Return the groove's two sides, joined by the half circle of the bit where it is stopped."""
    low, high, radius = made.from_bottom, made.top, made.radius
    if not stopped:
        return draw.Path(
            draw.Point(right, low),
            (
                draw.LineTo(draw.Point(end, low)),
                draw.LineTo(draw.Point(end, high)),
                draw.LineTo(draw.Point(right, high)),
            ),
        )
    centre = draw.Point(end + radius, low + radius)
    round_end = draw.ArcTo(draw.Point(end + radius, high), centre, anticlockwise=False)
    return draw.Path(
        draw.Point(right, low),
        (draw.LineTo(draw.Point(end + radius, low)), round_end, draw.LineTo(draw.Point(right, high))),
    )


def _axis(made: Groove, deep: float, right: float) -> draw.Line:
    middle = made.from_bottom + made.radius
    return draw.Line(draw.line((deep + made.radius, middle), (right + 3, middle)), draw.Kind.CENTRE)


def _across(made: Groove) -> draw.View:
    """A board cut across: how deep the groove is and what is left behind it."""
    thick, deep, top = made.thickness, made.depth, made.top + ABOVE / 2
    lip = [(thick, 0), (thick, made.from_bottom)] if made.from_bottom else []  # a groove at the edge has none
    points = [(0, top), (0, 0), *lip, (thick - deep, made.from_bottom)]
    points += [(thick - deep, made.top), (thick, made.top), (thick, top)]
    zigzag = draw.break_line(draw.Point(0, top), draw.Point(thick, top))
    whole = draw.Path(
        draw.Point(0, top), (*draw.line(*points).steps, *draw.line(*reversed(zigzag.points())).steps), closed=True
    )
    board = draw.Part(
        "across",
        "Board cut across",
        (
            *draw.lines([draw.line(*points)]),
            draw.Line(zigzag, draw.Kind.NARROW),
            draw.Line(draw.line((-3, 0), (thick + 3, 0)), draw.Kind.REFERENCE),
        ),
        hatched=(whole,),
    )
    depth = draw.Dimension(draw.Point(thick - deep, made.top), draw.Point(thick, top), "above", "deep")
    wall = draw.Dimension(draw.Point(0, 0), draw.Point(thick - deep, made.from_bottom), "below", "wall")
    thickness = draw.Dimension(draw.Point(0, 0), draw.Point(thick, 0), "below", "side")
    labels = (draw.Label("inside", draw.Point(thick, made.top + ABOVE / 4), towards="right"),)
    return draw.View("across", "Cut across", (board,), (depth, wall, thickness), labels, check=thickness)


def _where(made: Groove, kinds: list[str]) -> draw.Table:
    inside = made.in_fingers
    rows: list[tuple[draw.Cell, ...]] = []
    for kind in kinds:
        start, end = made.ends(MEMBERS[kind][0])
        ends: tuple[draw.Cell, draw.Cell] = (start, end) if kind in made.stopped_kinds else ("end", "end")
        rows.append((kind, inside[kind], "stopped" if kind in made.stopped_kinds else "runs through", *ends))
    headings = ("Boards", "In fingers", "The groove", "From left end", "to")
    return draw.Table("where", "The groove on the board as cut", headings, tuple(rows))


# -- set-up --------------------------------------------------------------------------------------------------------


def _set_up(made: Groove) -> draw.Drawing:
    purpose = "every setting of fence, stops and bit in the order it is made, and the trial before a board is touched"
    picture = fence_pictures.groove_from_above(stopped=bool(made.stopped_kinds))
    body = (_settings(made), picture, _trial(made), _order(made))
    return draw.Drawing("set-up", "groove set-up", purpose, body, _CAUTIONS, "stops")


def _settings(made: Groove) -> draw.Table:
    rows: list[tuple[draw.Cell, ...]] = [
        ("bit, as it cuts in scrap", made.cutter, "–", "callipers"),
        ("fence, from the bit's edge", made.from_bottom, made.fence, "gauge block"),
    ]
    for kind, right in stop_distances(made).items():
        rows.append((f"stops for {kind}, from its edge", right - made.radius, right, "stop stick"))
        travel = made.stops[MEMBERS[kind][0]].travel or 0.0
        rows.append(("travel from stop to stop", travel, "–", "ruler"))
    for number, height in enumerate(made.passes, start=1):
        rows.append((f"bit above the table, pass {number}", height, "–", "gauge block"))
    numbered = tuple((str(i), *row) for i, row in enumerate(rows, start=1))
    headings = ("", "Setting", "Value", "From its centre", "Set with")
    return draw.Table("settings", "Settings, in this order", headings, numbered)


def _trial(made: Groove) -> draw.Table:
    rows: list[tuple[draw.Cell, ...]] = [
        ("bottom edge to groove", made.from_bottom, _go(made, made.from_bottom), None),
        ("depth, last pass", made.depth, _go(made, made.depth), None),
    ]
    if made.stopped_kinds:
        go = _go_end_wood(made)
        rows += [
            ("wood at the left end", made.end_wood, go, None),
            ("wood at the right end", made.end_wood, go, None),
        ]
    return draw.Table(
        "trial", "Hold point: plunge trial in scrap", ("Measure", "Should be", "Go", "It reads"), tuple(rows)
    )


def _go_end_wood(made: Groove) -> Words:
    """Return the end wood to go on with: what keeps a square corner square, or hardly more or less than is wanted."""
    wood, (least, most) = made.end_wood, made.end_wood_range
    if made.corner_kind != "square":
        return _go(made, wood)
    if not least - READ_OUT <= wood <= most + READ_OUT:
        within = WITHIN.size(made.units)
        least, most = wood - within, min(wood + within, made.square_end_wood[1])
    return say("{least} to {most}", least=least, most=most)


def _go(made: Groove, size: float) -> Words:
    within = WITHIN.size(made.units)
    return say("{low} to {high}", low=size - within, high=size + within)


def _order(made: Groove) -> draw.Notes:
    through = [kind for kind in MEMBERS if made.fingers[kind] and kind not in made.stopped_kinds]
    said: list[Words] = []
    if made.stopped_kinds:
        said += [
            "1. Stop here until the trial is read: scrap as long and as thick as the board, all passes. Nobody cuts a "
            "board before every row of the trial is within its limits.",
            f"2. Stopped: {', '.join(made.stopped)}. Right end on the right stop, bottom edge on the fence, left end "
            "raised; power on; lower the left end slowly onto the bit; feed right to left onto the left stop; power "
            "off; lift when the bit stands still.",
            "3. All boards at one height of the bit, then raise it for the next pass. The bit must cut at its end: "
            "one that does not burns, and throws the board.",
            "The right stop sets the left end of the groove, the left stop the right end. Each stop sees the far end: "
            "a board that is longer moves both ends of the groove, so trim the boards of a pair together.",
        ]
    else:
        said.append("1. Stop here until the trial is read: no board before every row is within its limits.")
    if through:
        said.append(
            f"{'4' if made.stopped_kinds else '2'}. {' and '.join(through).capitalize()}: "
            f"{'take the stops off; ' if made.stopped_kinds else ''}the groove runs from end to end. Same fence, same "
            "heights of the bit."
        )
    said.append(
        "Every board inner face down, bottom edge to the fence. Fed right to left the bit pulls it to the fence; fed "
        "the other way it climbs and throws the board."
    )
    return draw.Notes("order", "Order of cutting", tuple(said))
