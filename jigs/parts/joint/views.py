"""Pictures of the sled at work, of true sizes: from above with the stack on it, and cut across at the cutter.

Drawn for a key on the right of the cutter; `sled.hand` mirrors them. You stand at the foot of the picture.
"""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.base.drawing import Bounds, Kind, Line, Part, Point
from jigs.base.wording import Words, say
from jigs.parts.joint.made import Sled
from jigs.record import Record, replace
from jigs.things import plan, section

FEET_SHOWN = 33.0
"""What is shown of the feet of the carriage, mm: hands and exit block, no more."""
STOP_DEEP = 16.0
_CLAMP_CLEAR = 13.0
"""Between the side of the cutter and a clamp's middle, as they are drawn, mm."""
_BREAK_ROOM = 2.0
"""Between guard and stop where the plate is shown broken off, mm."""


_ROOM, _NAMED = 99.0, 4.1
"""About how wide a picture from above will be, and how thick on paper a board must be for its name, mm."""


_KEY_WITH_WIDTH = 8.5
"""A key that is so high and wide has room for its width, mm."""


class Seat(Record):
    """A board of the stack: what it is called, where its bottom edge stands across, how thick it is, mm."""

    name: str
    edge: float
    thick: float


def mirrored(sled: Sled, left: float, bottom: float, right: float, top: float) -> Bounds:
    """Return a box drawn for a key on the right, on the side where the key is."""
    one, other = sorted((sled.hand * left, sled.hand * right))
    return Bounds(one, bottom, other, top)


def side(sled: Sled, *, of_key: bool) -> draw.Side:
    """Return the side of the picture that the key is on, or the other one."""
    return "right" if (sled.hand > 0) == of_key else "left"


# -- the stack -----------------------------------------------------------------------------------------------------


def seats(sled: Sled, position: int) -> list[Seat]:
    """Return the boards from you to the cutter: at the first position, or at the second, a socket on the key."""
    n, key = sled.numbers, sled.numbers.key_to_centre
    face = key - sled.cuts[0].shims * n.passes.shift
    if position == 1:
        long, short = face - n.board_starter, face - n.short_spacer
    else:
        long, short = face + n.long_sockets[0].end, face + n.short_sockets[0].end
    longs, shorts = names(sled)
    backing = [Seat("backing", short if shorts else long, sled.backer)]
    ends = [Seat(name, short, sled.ends_thickness) for name in shorts[::-1]]
    return [*backing, *ends, *(Seat(name, long, sled.thickness) for name in longs[::-1])]


def names(sled: Sled) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Return the boards of a stack from the cutter on: those cut on the key, those cut on the spacer."""
    if sled.apart:
        return ("front or back",), ()
    count = sled.boards_in_stack
    if count == 4:
        return ("front", "back"), ("left end", "right end")
    longs, shorts = count - count // 2, count // 2
    return ("front, back",) * longs, ("end",) * shorts


def stack(sled: Sled, bottom: float, position: int) -> tuple[list[Part], list[draw.Label], float]:
    """Return the boards on the plate with their names, and how far they reach away from you."""
    parts, labels = [], []
    y, between = bottom, sled.hand * _across(sled, position, 0.405)
    for number, seat in enumerate(seats(sled, position), start=1):
        box = mirrored(sled, seat.edge - sled.numbers.width, y, seat.edge, y + seat.thick)
        parts.append(plan.board(f"stack-{number}", seat.name, box))
        middle = Point(between, y + seat.thick / 2 + 0.7)
        labels.append(draw.Label(seat.name, middle, leader=False))
        y += seat.thick
    return parts, labels, y


def _across(sled: Sled, position: int, share: float) -> float:
    """Return a place across the stack, at a share of what all its boards have in common."""
    edges = [seat.edge for seat in seats(sled, position)]
    left, right = max(edges) - sled.numbers.width, min(edges)
    return left + share * (right - left)


# -- from above ----------------------------------------------------------------------------------------------------


def from_above(sled: Sled, position: int, title: str, room: float = 66.0) -> draw.View:
    """Return the sled on its machine, the stack clamped: for its first position with the stop, or for its second.

    `room` is about how high the picture will be, mm.
    """
    made, near = sled.carriage, -sled.key_length / 2
    boards, labels, reach = stack(sled, near, position)
    first = position == 1
    far = _far(sled, reach) if first else max(reach + 6, _guarded(sled) / 2 + 4)
    end = far - 2 if first else far
    parts = [
        *(_plate(sled, far) if first else _plate_broken(sled, far)),
        plan.key(mirrored(sled, sled.key_at, near, sled.key_at + sled.numbers.key, end)),
        *_cutter(sled),
        plan.guard((0, 0), _guarded(sled)),
        *boards,
        *(_spacer(sled, near) if first and not sled.apart else []),
        *_carriage(sled, near),
        *_clamps(sled, near, reach, position),
        *(_stop(sled, far) if first else []),
        *_hands(sled, near),
    ]
    away = -sled.hand * (made.reach_away - 8)
    push = plan.arrow("push", "Push", (away, reach + 11), (away + sled.hand * 42, reach + 11))
    at = sled.hand * (made.reach_key - 8)
    feed = plan.arrow("feed", "Feed", (at, near + 26), (at, near + 84))
    labels += _names(sled, near, reach)
    if first:
        labels.append(
            draw.Label("stop, clamped at both ends", Point(-sled.hand * 8, far + STOP_DEEP / 2), leader=False)
        )
        labels.append(draw.balloon("travel", (max(sled.plate_ends) - 2, far + STOP_DEEP / 2), "right"))
    view = draw.View(f"from-above-{position}", title, (*parts, push, feed), labels=tuple(labels), to_scale=False)
    return _named_in_title(sled, view, room)


def _named_in_title(sled: Sled, view: draw.View, room: float) -> draw.View:
    """Return the view; where its boards will be too thin for their names, these stand in its title, in their order."""
    bounds, boards = view.bounds, seats(sled, 1)
    scale = min(_ROOM / bounds.width, room / bounds.height)
    if scale * min(seat.thick for seat in boards) >= _NAMED:
        return view
    called = list(dict.fromkeys(seat.name for seat in boards[::-1]))
    labels = tuple(label for label in view.labels if label.words not in called)
    title = f"{view.title}. Boards from the {sled.tool} on: {', '.join(called)}"
    return replace(view, title=title, labels=labels)


def _guarded(sled: Sled) -> float:
    """Return the side of the guard: it ends before the stack and before the stop."""
    return max(24.0, sled.numbers.along + 2 * sled.margin - 16)


def _far(sled: Sled, reach: float) -> float:
    """Return where the stop is drawn: nearer than it stands where the plate between can be broken off."""
    true = -sled.key_length / 2 + sled.numbers.stack_thickness + sled.stroke
    return min(true, sled.numbers.along / 2 + sled.margin + _BREAK_ROOM)


def _plate(sled: Sled, far: float) -> list[Part]:
    """The plate, broken off before the stop."""
    left, right = sled.plate_ends
    low, top = -sled.plate_length / 2, far + STOP_DEEP + 3
    outline = Part("plate", "Plate", (Line(draw.rectangle(left, low, right, top)),))
    y = far - 5.0
    gap = draw.polygon((left - 1, y - 2), (right + 1, y - 2), (right + 1, y + 2), (left - 1, y + 2))
    lines = [_zigzag(left, right, y - 2), _zigzag(left, right, y + 2)]
    return [outline, Part("break", "Plate broken off", draw.lines(lines, Kind.NARROW), covers=(gap,))]


def _plate_broken(sled: Sled, top: float) -> list[Part]:
    """The plate as far as the cutter, broken off beyond."""
    left, right = sled.plate_ends
    low = -sled.plate_length / 2
    sides = draw.line((left, top), (left, low), (right, low), (right, top))
    return [Part("plate", "Plate", (Line(sides), Line(_zigzag(left, right, top), Kind.NARROW)))]


def _zigzag(left: float, right: float, y: float) -> draw.Path:
    at = left + 0.2 * (right - left)
    return draw.line((left - 4, y), (at - 5, y), (at - 2, y + 3), (at + 2, y - 3), (at + 5, y), (right + 4, y))


def _cutter(sled: Sled) -> list[Part]:
    if sled.machine == "router table":
        return [plan.bit((0, 0), sled.cutter, under=False)]
    half = sled.numbers.slot / 2
    blade = draw.rectangle(-sled.cutter / 2, -half, sled.cutter / 2, half)
    axis = draw.line((0, -half - 5), (0, half + 5))
    return [Part("blade", "Blade", (Line(blade), Line(axis, Kind.CENTRE)), covers=(blade,))]


def _spacer(sled: Sled, near: float) -> list[Part]:
    n = sled.numbers
    face = n.key_to_centre - sled.cuts[0].shims * n.passes.shift
    long = sled.boards_in_stack // 2 * sled.ends_thickness + sled.backer
    made = [Part("spacer", "Spacer", *_box_with_cross(mirrored(sled, face - n.short_spacer, near, face, near + long)))]
    if n.board_starter:
        box = mirrored(sled, face - n.board_starter, near + long, face, near + n.stack_thickness)
        made.append(Part("starter", "Starter", *_box_with_cross(box)))
    return made


def _box_with_cross(box: Bounds) -> tuple[tuple[Line, ...]]:
    cross = draw.line((box.left, box.top), (box.right, box.bottom))
    return ((Line(draw.rectangle(*box)), Line(cross, Kind.NARROW)),)


def _carriage(sled: Sled, near: float) -> list[Part]:
    """Upright, feet and exit block, the slot hidden below them."""
    made = sled.carriage
    back = near - made.board
    low = back - min(FEET_SHOWN, made.foot_deep)
    shapes = {
        "foot-away": mirrored(sled, -made.reach_away, low, -made.slot_away - made.bridge, back),
        "foot-key": mirrored(sled, made.slot_key + made.bridge, low, made.reach_key, back),
        "exit-block": mirrored(
            sled, -made.slot_away - made.bridge, low, made.slot_key + made.bridge, back
        ),
        "upright": mirrored(sled, -made.reach_away, back, made.reach_key, near),
    }  # fmt: skip
    parts = [
        Part(f"carriage-{name}", name.replace("-", " "), (Line(draw.rectangle(*box)),), covers=(draw.rectangle(*box),))
        for name, box in shapes.items()
    ]
    slot = [draw.line((sled.hand * x, back), (sled.hand * x, near)) for x in (-made.slot_away, made.slot_key)]
    return [*parts, Part("slot", "Slot under the upright", draw.lines(slot, Kind.HIDDEN))]


def _clamps(sled: Sled, near: float, reach: float, position: int) -> list[Part]:
    """Two clamps hold the stack to the upright; a third holds the boards to one another and stays on."""
    back = near - sled.carriage.board

    def clamp(name: str, share: float, low: float) -> Part:
        x = _across(sled, position, share)
        clear = sled.cutter / 2 + _CLAMP_CLEAR
        if abs(x) < clear:  # beside the cutter's line, where the picture can show it
            x = clear if share > 0.5 else -clear
        return _clamp(name, sled.hand * x, low, reach)

    made = [clamp("clamp-1", 0.13, back), clamp("clamp-2", 0.87, back)]
    if not sled.apart:
        made.append(clamp("stack-clamp", 0.68, near))
    return made


def _clamp(name: str, x: float, low: float, high: float) -> Part:
    """A clamp from above: its bar, a jaw beyond the far face, a screw with its handle before the near one."""
    bar = draw.rectangle(x - 3.5, low - 7, x + 3.5, high + 7)
    jaw = draw.rectangle(x - 9, high, x + 9, high + 5)
    pad = draw.rectangle(x - 9, low - 5, x + 9, low)
    handle = draw.line((x - 13, low - 10), (x + 13, low - 10))
    screw = draw.rectangle(x - 2, low - 10, x + 2, low - 5)
    return Part(name, "Clamp", draw.lines((bar, jaw, pad, screw, handle)), covers=(bar, jaw, pad))


def _stop(sled: Sled, far: float) -> list[Part]:
    """A batten across the plate, clamped at both ends: the front board meets it at every position."""
    left, right = sled.plate_ends
    batten = draw.rectangle(left + 2, far, right - 2, far + STOP_DEEP)
    ends = [_clamp(f"stop-clamp-{name}", x, far, far + STOP_DEEP) for name, x in (("a", left + 12), ("b", right - 12))]
    return [Part("stop", "Stop", (Line(batten),), covers=(batten,)), *ends]


def _hands(sled: Sled, near: float) -> list[Part]:
    """A hand at each end of the upright, off the exit block, the wrists beyond the picture's edge."""
    made, y = sled.carriage, near - sled.carriage.board - 14
    left, right = sorted((-sled.hand * made.reach_away, sled.hand * made.reach_key))
    exits = sorted((-sled.hand * (made.slot_away + made.bridge), sled.hand * (made.slot_key + made.bridge)))
    at_left, at_right = min(left - 5, exits[0] - plan.THUMB_ASIDE), max(right + 5, exits[1] + plan.THUMB_ASIDE)
    wrist = min(FEET_SHOWN, made.foot_deep) - 14
    return [plan.hand("left", (at_left, y), wrist=wrist), plan.hand("right", (at_right, y), wrist=wrist)]


def _names(sled: Sled, near: float, reach: float) -> list[draw.Label]:
    made = sled.carriage
    low = near - made.board - min(FEET_SHOWN, made.foot_deep)
    middle = sled.hand * (made.slot_key - made.slot_away) / 2
    away, to_key = side(sled, of_key=False), side(sled, of_key=True)
    at = sled.hand * (made.reach_key - 8)
    guarded = _guarded(sled) / 2
    return [
        draw.Label("exit: hands off", Point(middle, low + 11), leader=False, bold=True),
        draw.Label("upright", Point(sled.hand * made.reach_key * 0.62, near - made.board / 2), leader=False),
        draw.Label("guard", Point(-sled.hand * (guarded - 2), guarded * 0.6), towards=away, bold=True),
        draw.Label("key", Point(sled.hand * (sled.key_at + sled.numbers.key / 2), guarded * 0.5), towards=to_key),
        draw.Label("push", Point(-sled.hand * (made.reach_away - 29), reach + 24), leader=False, bold=True),
        draw.Label("feed", Point(at, near + 95), leader=False, bold=True),
    ]


# -- section -------------------------------------------------------------------------------------------------------


def at_the_cutter(sled: Sled) -> draw.View:
    """Return plate, key and cutter cut across, and the front board as it looks after its first cut."""
    n, hand = sled.numbers, sled.hand
    depth, high, seat = n.runs[0].depth, sled.key_height, sled.plate / 2
    hole, key, back = sled.hole, sled.key_at, sled.key_at + n.key
    left, right = -hole - 3.0, back + 3.0
    top = max(depth, high) + 11.0

    def path(*points: tuple[float, float]) -> draw.Path:
        return draw.polygon(*((hand * x, y) for x, y in points))

    near = path((left, 0), (-hole, 0), (-hole, -sled.plate), (left, -sled.plate))
    far = path(
        (hole, 0), (key, 0), (key, -seat), (back, -seat), (back, 0), (right, 0), (right, -sled.plate),
        (hole, -sled.plate),
    )  # fmt: skip
    ends = sorted((hand * left, hand * right))
    parts = (
        Part("section-plate", "Plate", draw.lines((near, far)), hatched=(near, far)),
        section.table(ends[0], ends[1], -sled.plate, hole=(-hole - 2.5, hole + 2.5)),
        section.cutter(0.0, sled.cutter, n.cut_depth, -sled.plate - 12.0, sled.tool),
        section.face("section-key", "Key", draw.rectangle(*mirrored(sled, key, -seat, back, high))),
        *_shims(sled),
        _front(sled, left + 2, depth, top),
    )
    return draw.View(
        "section", f"Section at the {sled.tool}", parts, tuple(_measured(sled, left)), tuple(_called(sled, top)),
        to_scale=False,
    )  # fmt: skip


def _shims(sled: Sled) -> list[Part]:
    """The shims between key and wood, as they lie for the nearest cut."""
    step, high = sled.numbers.passes.shift, sled.key_height
    boxes = [
        draw.rectangle(*mirrored(sled, sled.key_at - (i + 1) * step, 0.0, sled.key_at - i * step, high))
        for i in range(sled.shims)
    ]
    return [Part("section-shims", "Shims", draw.lines(boxes, Kind.HIDDEN))] if boxes else []


def _front(sled: Sled, left: float, depth: float, top: float) -> Part:
    """The front board behind the cutter: its bottom edge on the key, its first socket cut by one pass, no cut face."""
    hand, r = sled.hand, sled.cutter / 2
    key = sled.key_at
    outline = [(left, 0.0), (-r, 0.0), (-r, depth), (r, depth), (r, 0.0), (key, 0.0), (key, top)]
    points = [(hand * x, y) for x, y in outline]
    broken = draw.break_line(Point(hand * left, top), Point(hand * key, top), 0.8)
    return Part("section-front", "Front board", (Line(draw.line(*points)), Line(broken, Kind.NARROW)))


def _measured(sled: Sled, left: float) -> list[draw.Dimension]:
    n, hand, r = sled.numbers, sled.hand, sled.cutter / 2
    low = -sled.plate - section.TABLE_THICK
    key, back = sled.key_at, sled.key_at + n.key
    away = side(sled, of_key=False)
    made = [
        draw.Dimension(Point(-r * hand, low - 2), Point(r * hand, low - 2), "below", "", "cutter"),
        draw.Dimension(Point(r * hand, low - 2), Point(key * hand, low - 2), "below", "", "gap"),
        draw.Dimension(Point(key * hand, low - 2), Point(back * hand, low - 2), "below", "", "key"),
    ]
    for turn, run in enumerate(n.runs, start=1):
        made.append(
            draw.Dimension(Point(left * hand, -sled.plate), Point(left * hand, run.depth), away, "", f"height-{turn}")
        )
    return made


def _called(sled: Sled, top: float) -> list[draw.Label]:
    n, hand = sled.numbers, sled.hand
    middle = hand * (sled.key_at + n.key / 2)
    names = [
        draw.Label("front, after its first cut", Point(-hand * 1.0, top - 4), leader=False),
        *_key_named(sled, middle),
        draw.Label("plate", Point(hand * (sled.hole + sled.key_at) / 2, -sled.plate * 0.5 + 0.2), leader=False),
        draw.balloon("key-height", (hand * (sled.key_at + n.key * 0.8), sled.key_height), "above"),
        draw.Label("table", Point(hand * (sled.hole + sled.key_at + n.key + 5.5) / 2, -sled.plate - 5), leader=False),
    ]
    if sled.shims:
        at = Point(hand * (sled.key_at - sled.numbers.passes.shift / 2), sled.key_height * 0.6)
        names.append(draw.Label("shim" if sled.shims == 1 else "shims", at, towards=side(sled, of_key=False)))
    return names


def _key_named(sled: Sled, middle: float) -> list[draw.Label]:
    """The key with its width, where that has room in it: it is the width of gap and cutter less what they play."""
    high, wide = sled.key_height, sled.numbers.key
    if min(high, wide) < _KEY_WITH_WIDTH:
        return [draw.Label("key", Point(middle, high * 0.4), leader=False, bold=True)]
    said = say("{wide:gauge}", wide=wide)
    return [
        draw.Label("key", Point(middle, high * 0.68), leader=False, bold=True),
        draw.Label(said, Point(middle, high * 0.2), leader=False, bold=True),
    ]


def on_the_key(sled: Sled) -> draw.View:
    """Return a board of the second position as you look along the feed: pushed to the key, its play beyond it."""
    n, hand, depth = sled.numbers, sled.hand, sled.numbers.runs[0].depth
    key, back, high = sled.key_at, sled.key_at + n.key, sled.key_height
    socket, r = n.long_sockets[0], sled.cutter / 2
    edge = key + socket.end
    left, top = -r - 0.9 * n.finger, max(depth, high) + 13.0
    outline = [
        (left, 0.0), (-r, 0.0), (-r, depth), (r, depth), (r, 0.0), (key, 0.0), (key, depth),
        (edge - socket.start, depth), (edge - socket.start, 0.0), (edge, 0.0), (edge, top),
    ]  # fmt: skip
    points = [(hand * x, y) for x, y in outline]
    broken = [
        draw.break_line(Point(hand * left, top), Point(hand * edge, top)),
        draw.break_line(Point(hand * left, 0.0), Point(hand * left, top)),
    ]
    board = Part("board-on-key", "Front board", (Line(draw.line(*points)), *draw.lines(broken, Kind.NARROW)))
    ends = sorted((hand * (left - 3), hand * (edge + 3)))
    parts = (
        section.table(ends[0], ends[1]),
        section.cutter(0.0, sled.cutter, depth, -4.0, sled.tool),
        section.face("key-on-plate", "Key", draw.rectangle(*mirrored(sled, key, 0.0, back, high))),
        board,
        plan.arrow("push-on", "Push", (hand * (left + 3), top - 5), (hand * (left + 21), top - 5)),
    )
    to_key, away = side(sled, of_key=True), side(sled, of_key=False)
    labels = (
        draw.Label("push", Point(hand * (left + 27), top - 5), leader=False, bold=True),
        draw.Label("key", Point(hand * (key + n.key / 2), high * 0.5), leader=False, bold=True),
        draw.Label("wood touches here", Point(hand * key, high * 0.8), towards=away, bold=True),
        draw.Label(
            say("play {slack:gauge}", slack=n.slack), Point(hand * (back + n.slack / 2), high * 0.4), towards=to_key
        ),
        draw.Label(sled.tool, Point(0.0, depth * 0.3), towards="below"),
    )
    return draw.View("on-the-key", _push(sled), parts, labels=labels, to_scale=False)


def _push(sled: Sled) -> Words:
    n = sled.numbers
    words = "Push to the {side}, for every cut. Pushed away: fingers {thin:gauge}, joint {loose:gauge} loose"
    return say(words, side=sled.key_side, thin=n.finger - n.slack, loose=n.clearance + n.slack)
