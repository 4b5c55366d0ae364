"""The card of the groove for the bottom: fence, stops and bit, the trial plunge, the order; and its sticks."""

from __future__ import annotations

from collections.abc import Iterator

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
from jigs.base.drawing import Bounds
from jigs.base.rules import READ_OUT
from jigs.base.wording import Words, say
from jigs.parts.groove import sticks
from jigs.parts.groove.part import Groove, named
from jigs.parts.groove.rules import CARRIER_BELOW
from jigs.parts.joint.part import MEMBERS, SHORTS
from jigs.things import plan, section

CAUTIONS_STOPPED = (
    Caution("Hands", "Keep them off the bit’s line. Short or low boards ride in a carrier."),
    Caution("Burst", "Use a plunge-cutting bit. Any other burns, then throws the board."),
    Caution("Throw", "Feed right to left only. Fed the other way the board climbs."),
    Caution("Trap", "Lift the board only when the bit stands still, power off."),
    Caution("Guard", "Keep it over the bit. One person at the machine."),
)
CAUTIONS_THROUGH = (
    Caution("Hands", "Keep them off the place where the bit comes out of the wood."),
    Caution("Throw", "Feed right to left only. Fed the other way the board climbs."),
    Caution("Guard", "Keep it over the bit. Use a push block. One person at the machine."),
)
_ON_BOARD = 12.0
"""Knuckles of a hand on a board stand so far from the edge nearest to you, mm."""


def of(made: Groove) -> Sheets:
    """Return the card of a groove and, where boards are stopped, the sticks that set the stops."""
    return Sheets((_card(made),), tuple(Template(view, "groove", use, "stops") for view, use in sticks.sticks(made)))


def _card(made: Groove) -> Card:
    stopped = bool(made.stopped_kinds)
    about = f"{named(made.stopped_kinds)} first, stopped" if stopped else "through in all four sides"
    bands = (
        Pictures((_from_above(made),), least=50.0, most=84.0),
        Beside(Settings(tuple(_settings(made))), Pictures((_at_the_bit(made),), least=44.0), 0.69),
        _trial(made),
        Hold(_before_cutting(made), "groove tried"),
        Order(tuple(_order(made))),
    )
    cautions = CAUTIONS_STOPPED if stopped else CAUTIONS_THROUGH
    return Card("groove", "Groove", "Router table", cautions, bands, about, "stops")


def _kind(made: Groove) -> str:
    """Return the boards that the picture shows: stopped ones, the shortest, which bring hands nearest to the bit."""
    return min(made.stopped_kinds or tuple(MEMBERS), key=lambda kind: made.lengths[kind])


def _settings(made: Groove) -> Iterator[Setting]:
    yield Setting("bit", "Bit, as it cuts in scrap", made.cutter, 0.05, "callipers")
    yield Setting("fence", "Fence to bit’s edge", made.from_bottom, 0.1, "gauge block")
    for kind, right in sticks.stop_distances(made).items():
        several = f", {named((kind,))}" if len(made.stopped_kinds) > 1 else ""
        yield Setting(f"stops-{kind}", f"Stops, near edges{several}", right - made.radius, 0.2, "setting stick")
        travel = made.stops[MEMBERS[kind][0]].travel or 0.0
        yield Setting(f"travel-{kind}", f"Travel to left stop{several}", travel, 0.3, "rule")
    many = len(made.passes) > 1
    for number, height in enumerate(made.passes, start=1):
        said = f"Bit height, pass {number}" if many else "Bit height"
        yield Setting(f"pass-{number}", said, height, 0.1, "gauge block")


def _from_above(made: Groove) -> draw.View:
    """The board on the bit, inner face down, against the right stop: before it is lowered, or as it is fed."""
    kind = _kind(made)
    stopped = kind in made.stopped_kinds
    length, tall = made.lengths[kind], max(end for spans in made.fingers.values() for _, end in spans)
    face = made.fence  # the bit is at 0
    start = made.end_margin if stopped else 0.0
    left = -(start + made.radius) if stopped else -length * 0.4
    board = Bounds(left, face - tall, left + length, face)
    bare = board.bottom + _ON_BOARD <= plan.outside_guard((0, 0))  # else hands on the board pass through the guard
    carried = length < CARRIER_BELOW.size(made.units) or not bare
    at_stops = _at_the_stops(made, kind, board) if stopped else draw.View("none", "", ())
    reach = made.stops[MEMBERS[kind][0]].travel or 0.0 if stopped else 20.0
    far = Bounds(left - reach - plan.STOP_WIDE - 12, face, board.right + plan.STOP_WIDE + 12, face)
    ends = (0.0, board.right - start - made.radius) if stopped else (left, board.right)
    hidden = draw.rectangle(ends[0], -made.radius, ends[1], made.radius)
    below = _grips(board) - 90.0 if carried else board.bottom - 30.0
    at_feed = draw.Point(board.right - length * 0.2, below)
    parts = (
        plan.fence(far.left, far.right, face),
        *at_stops.parts,
        *_held(board, carried=carried),
        draw.Part("groove-to-come", "Groove to be cut", (draw.Line(hidden, draw.Kind.HIDDEN),)),
        plan.bit((0, 0), made.cutter, under=True),
        plan.guard((0, 0)),
        plan.arrow("feed", "Feed", at_feed, at_feed.moved(-55, 0)),
    )
    fence_at = draw.Point((left + far.left) / 2, face + plan.FENCE_DEEP / 2)
    labels = (*at_stops.labels, draw.Label("fence", fence_at, leader=False), *_named_on(board, kind, at_feed))
    title = "From above, before the first plunge" if stopped else "From above"
    return draw.View("from-above", title, parts, at_stops.dimensions, labels, to_scale=False)


def _at_the_stops(made: Groove, kind: str, board: Bounds) -> draw.View:
    """Return both stops with what is measured to them: from the bit's edge, and how far the board travels."""
    face, travel = board.top, made.stops[MEMBERS[kind][0]].travel or 0.0
    stopped_at = board.left - travel
    parts = (*plan.stop("right", board.right, face), *plan.stop("left", stopped_at, face))
    labels = (
        draw.Label("right stop", draw.Point(board.right + 19, face - 36), towards="right"),
        draw.Label("left stop", draw.Point(stopped_at - 19, face - 36), towards="below"),
    )
    above, low = face + 38, board.bottom
    edge = draw.Dimension(draw.Point(made.radius, above), draw.Point(board.right, above), "above", "", f"stops-{kind}")
    way = draw.Dimension(draw.Point(stopped_at, low), draw.Point(board.left, low), "below", "", f"travel-{kind}")
    return draw.View("stops", "Stops", parts, (edge, way), labels)


def _named_on(board: Bounds, kind: str, at_feed: draw.Point) -> tuple[draw.Label, ...]:
    """Return what the board, its edge, the guard and the feed are called."""
    middle, name = (board.left + board.right) / 2 + 20, "end board" if kind == SHORTS else "front or back"
    return (
        draw.Label("feed", at_feed.moved(3, 0), leader=False, bold=True),
        draw.Label("guard over the bit: no hand inside it", draw.Point(-35, 20), towards="left", bold=True),
        draw.Label(f"{name}, inner face down", draw.Point(middle, board.top - board.height * 0.5), leader=False),
        draw.Label("bottom edge on fence", draw.Point(board.right - 16, board.top - 3), towards="right"),
    )


def _held(board: Bounds, *, carried: bool) -> list[draw.Part]:
    """The board and what holds it: bare hands far from the bit, or a carrier with a grip for each hand."""
    low = board.bottom
    sheet = plan.board("board", "Board, inner face down", board)
    if not carried:
        return [
            sheet,
            plan.hand("left", (board.left + 60, low + _ON_BOARD)),
            plan.hand("right", (board.right - 50, low + _ON_BOARD)),
        ]
    grips = _grips(board)
    base = Bounds(board.left - 90, grips - 60, board.right + 80, min(low + 40, board.top - plan.STOP_DEEP - 6))
    return [
        plan.carrier(base, ((board.left - 45, grips), (board.right + 40, grips))),
        sheet,
        plan.toggle("left-toggle", (board.left + 0.25 * board.width, low + 14)),
        plan.toggle("right-toggle", (board.right - 0.25 * board.width, low + 14)),
        plan.hand("left", (board.left - 45, grips)),
        plan.hand("right", (board.right + 40, grips)),
    ]


def _grips(board: Bounds) -> float:
    """Return where the grips of the carrier stand, towards you: they pass the guard with the board."""
    return min(board.bottom - 10, plan.outside_guard((0, 0)))


def _at_the_bit(made: Groove) -> draw.View:
    """Fence, board and bit cut across, the bit at its last height."""
    low, top, deep, thick = made.from_bottom, made.top, made.depth, made.thickness
    right = top + max(9.0, made.cutter)
    middle = low + made.radius
    board = section.board(
        "board", "Board",
        (0.3, 0.0), (low, 0.0), (low, deep), (top, deep), (top, 0.0), (right, 0.0), (right, thick), (0.3, thick),
        broken="right",
    )  # fmt: skip
    parts = (
        section.table(-13.0, right + 3.0, hole=(low - 3, top + 3)),
        section.fence(0.0, 10.0, thick + 14.0),
        section.guard(0.0, thick + 6.0, right * 0.8),
        board,
        section.cutter(middle, made.cutter, deep, -12.0, "bit"),
    )
    fence = draw.Dimension(draw.Point(0, -12), draw.Point(low, -12), "below", "", "fence")
    dimensions = [fence] if low > 0 else []
    for number, height in enumerate(made.passes, start=1):
        dimensions.append(
            draw.Dimension(draw.Point(right + 3, 0), draw.Point(right + 3, height), "right", "", f"pass-{number}")
        )
    labels = (
        draw.balloon("bit", (middle, -9), "right"),
        draw.Label("fence", draw.Point(-5, thick + 14), towards="above"),
        draw.Label("guard", draw.Point(right * 0.6, thick + 10), towards="above"),
    )
    return draw.View("at-the-bit", "Section at the bit", parts, tuple(dimensions), labels, to_scale=False)


def _trial(made: Groove) -> Checks:
    within = sticks.WITHIN.size(made.units)
    rows = [
        Check("to bottom edge", made.from_bottom - within, made.from_bottom + within, 0.1),
        Check("depth, last pass", made.depth - within, made.depth + within, 0.1),
    ]
    if made.stopped_kinds:
        low, high = sticks.end_margin_to_go_on(made)
        rows += [Check("end margin, left", low, high), Check("end margin, right", low, high)]
    return Checks(tuple(rows), "Trial plunge" if made.stopped_kinds else "Trial in scrap", _scrap(made))


def _scrap(made: Groove) -> Words:
    """Return what the trial is cut in: scrap as long as the boards, or the stops try nothing."""
    if not made.stopped_kinds:
        return "in scrap of this wood, as thick as the boards"
    long = {f"long{i}": made.lengths[kind] for i, kind in enumerate(made.stopped_kinds)}
    said = " and ".join(f"{{{name}}}" for name in long)
    return say(f"in scrap {said} long, as thick as the boards, through all passes", **long)


def _before_cutting(made: Groove) -> Words:
    stops = "both stops are clamped, " if made.stopped_kinds else ""
    return say(f"All readings pass, {stops}the bit is back at {{first}}, the guard is on.", first=made.passes[0])


def _order(made: Groove) -> Iterator[Words]:
    first, last = made.passes[0], made.passes[-1]
    through = tuple(kind for kind in MEMBERS if made.fingers[kind] and kind not in made.stopped_kinds)
    if made.stopped_kinds:
        yield "Trim pairs to one length: the right stop sets the groove’s left end."
        yield "Power on. Right-hand end on the right stop, left-hand end raised."
        yield "Edge on the fence, lower it slowly onto the bit. Feed to the left stop."
        yield "Hold it there with one hand; power off. Lift when the bit stands still."
        boards = named(made.stopped_kinds)
        if last > first + READ_OUT:
            yield say(
                f"Cut all {boards} at {{first}}. Raise the bit; repeat 2 to 4 up to {{last}} high.",
                first=first,
                last=last,
            )
        else:
            yield f"Cut all {boards} so."
        if through:
            yield f"Take both stops off. Run {named(through)} through, same fence, same heights."
        return
    yield "Lay each board inner face down, its bottom edge on the fence."
    yield "Feed it right to left past the bit, end to end, with the push block."
    if last > first + READ_OUT:
        yield say("Run all four at {first}. Raise the bit; run all again up to {last}.", first=first, last=last)
