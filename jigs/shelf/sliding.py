"""A lid that slides in grooves: where the groove lies in the finger layout, the front board's height, the lid."""

from __future__ import annotations

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
from jigs.base.kinds import Length
from jigs.base.rules import Problem, stop, warn
from jigs.base.usual import Usual
from jigs.base.wording import Words, at_least, at_most, say
from jigs.record import Record
from jigs.things import plan, section
from jigs.trade import fingers, panel
from jigs.trade.fingers import TOUCH, Span, fingers_between
from jigs.trade.panel import Panel

STRIP = 25.0
COEFFICIENT = 0.00248
"""Movement of flat-sawn black cherry for each per cent of moisture (USDA Wood Handbook, Table 13-5)."""
NOW, DRY, WET = 8.49, 6.19, 12.94
"""Moisture in per cent at 20 °C and 45 %, 20 °C and 30 %, 25 °C and 70 % of humidity."""
LEAST_OVER = 3.0
"""Wood that is to be left over the groove (common practice, no source), mm."""
LEAST_HELD = 1.0
"""Least that a groove may hold of the lid in the driest air (common practice, no source), mm."""
CARRIED = 200.0
"""Shorter boards are shown in a carrier, mm."""
WITHIN = 0.1
"""How near the trial in scrap must be, mm (common practice, no source)."""

_THROW = Caution("Throw", "Feed right to left only. Fed the other way the board climbs.")
CAUTIONS_STOPPED = (
    Caution("Hands", "Hold short boards in a carrier: bare hands come near the bit."),
    Caution("Burst", "Use a plunge-cutting bit. Any other burns, then throws the board."),
    _THROW,
    Caution("Trap", "Lift the board only when the bit stands still, power off."),
)
CAUTIONS_THROUGH = (
    Caution("Hands", "Keep them off the place where the bit comes out of the wood."),
    _THROW,
    Caution("Guard", "Keep it over the bit. Use a push block and a featherboard."),
    Caution("Short", "Hold short boards in a carrier: hands come near the bit."),
)


class _Asked(Record):
    """The box, its groove and the numbers that come of them, mm."""

    width: float
    opening: float
    inside: float
    thickness: float
    groove: float
    depth: float
    numbers: dict[str, float]
    sockets: tuple[Span, ...]

    @property
    def low(self) -> float:
        """From the bottom edge to the groove."""
        return self.numbers["groove_from_bottom"]

    @property
    def above(self) -> float:
        """From the top edge to the groove."""
        return self.numbers["wood_above"]

    @property
    def sides_stopped(self) -> bool:
        """Whether the groove would come out at the back, through a finger of the sides."""
        fingers_of_sides = fingers_between(self.width, self.sockets)
        return any(_meet(span, self.low, self.low + self.groove) for span in fingers_of_sides)

    @property
    def back_stopped(self) -> bool:
        """Whether the groove would come out at the sides, through a finger of the back: where sides have sockets."""
        return any(_meet(span, self.low, self.low + self.groove) for span in self.sockets)

    @property
    def end(self) -> float:
        """Wood that a stopped groove leaves at the end of its board: it meets the groove of the other."""
        return self.thickness - self.depth

    def stop(self, inside: float) -> float:
        """Return how far from the edge of the bit the stops of a board stand whose box is so long inside."""
        return inside + 2 * self.thickness - self.end - self.groove


def _meet(span: Span, low: float, high: float) -> bool:
    """Tell whether a band lies in a span, or reaches into it."""
    return span.start < high - TOUCH and low < span.end - TOUCH


@jig(
    "sliding-lid",
    title="Sliding-lid groove",
    summary="grooves that the finger joint hides",
    from_box="finger=numbers.finger socket=numbers.socket width=numbers.width opening=inside.1 inside=inside.0 "
    "thickness=file.sides.thickness groove=groove.cutter depth=groove.depth",
)
def sliding_lid(
    *,
    finger: Annotated[float, Length("finger width", 3, 60)],
    socket: Annotated[float, Length("socket the cutter makes, measured in wood", 3, 60)],
    width: Annotated[float, Length("rip-to width of the boards", 20, 1200)],
    opening: Annotated[float, Length("inside width of the box, across the lid's grain", 20, 1000)],
    inside: Annotated[float, Length("inside length of the box, the way the lid slides", 20, 2000)],
    thickness: Annotated[float, Length("thickness of the sides", 3, 60)],
    groove: Annotated[float, Length("groove the bit makes, measured in wood", 1, 30)],
    depth: Annotated[float, Length("depth of the groove", 1, 30)],
    above: Annotated[float, Length("wood above the groove, about", 1, 60)] = Usual(4, 5 / 32).default,
    clearance: Annotated[float, Length("clearance of the lid in the wettest season", 0, 5)] = Usual(
        0.6, 1 / 32
    ).default,
    overlap: Annotated[float, Length("lid beyond the front", 0, 40)] = 0.0,
) -> Plan:
    """Height of the groove and of the front board, the lid's size, and an end view at full size.

    Example: --finger 9.9 --socket 10 --width 89.5 --opening 136 --inside 216 --thickness 12 --groove 6 --depth 5

    Sources: The lid's width over the year: `jigs/trade/panel.py`; movement of black cherry: USDA Wood Handbook,
    FPL-GTR-282, Table 13-5. Wood over the groove: common practice, no source.
    """
    refuse(_problems(finger, width, groove, depth, thickness))
    boundaries = [at for at in _boundaries(finger, socket, width) if at + groove < width - TOUCH]
    low = min(boundaries, key=lambda at: abs(at - (width - above - groove)))
    lid = panel.across_grain(
        opening=opening, depth=depth, clearance=clearance, coefficient=COEFFICIENT, now=NOW, dry=DRY, wet=WET
    )
    numbers = {
        "groove_from_bottom": low,
        "wood_above": width - low - groove,
        "front_height": low,
        "fence": width - low - groove / 2,
        "lid_width": lid.width,
        "lid_width_wet": lid.width_wet,
        "held_driest": lid.engagement_dry,
        "lid_length": inside + depth + thickness + overlap,
    }
    found = [
        *_held(lid, opening, depth, clearance),
        *_left_over(boundaries, width, groove, low),
    ]
    title = say("Sliding lid, groove {groove:cut}", groove=groove)
    sockets = fingers.sockets(width, finger, socket)
    asked = _Asked(width, opening, inside, thickness, groove, depth, numbers, sockets)
    use = "Hold it on the inner face at the front end. Dashed is the groove; crossed out is cut away."
    template = Template(_view(asked), "sliding-lid", use, "sliding-lid")
    return Plan(title, numbers, Sheets((_card(asked),), (template,)), tuple(found))


def _boundaries(finger: float, socket: float, width: float) -> list[float]:
    """Return where a long board's fingers and sockets meet: a front cut there ends with a whole part."""
    return [at for span in fingers.sockets(width, finger, socket) for at in (span.start, span.end) if at < width - 1e-9]


def _problems(finger: float, width: float, groove: float, depth: float, thickness: float) -> list[Problem]:
    found = []
    if finger + groove >= width - 2 * TOUCH:
        said = "boards {width:cut down} wide have no room for a finger of {finger} and a groove of {groove} above it"
        sizes = {"width": width, "finger": finger, "groove": groove, "least": at_least(finger + groove)}
        found.append(stop("width", said, "use boards {least} wide or more", **sizes))
    if depth > thickness / 2 + TOUCH:
        numbers = {"depth": depth, "thickness": thickness, "most": at_most(thickness / 2)}
        said = "a groove {depth} deep takes more than half of sides {thickness} thick"
        found.append(stop("depth", said, "cut the groove {most} deep or less", **numbers))
    return found


def _held(lid: Panel, opening: float, depth: float, clearance: float) -> list[Problem]:
    """Find a lid that its grooves hardly hold: by (O + 2·D - c)·k - O - D, where k is width dry by width wet."""
    short = LEAST_HELD - lid.engagement_dry
    if short <= TOUCH:
        return []
    said = "the lid may drop out in the driest season, because its engagement is {held:gauge}; it needs {least:gauge}"
    ways = (
        "cut the groove {deeper} deep or more",
        "leave a clearance of {closer} or less",
        "make the opening {narrower} wide or less",
    )
    shrunk = lid.width_dry / lid.width_wet
    numbers = {
        "held": max(0.0, lid.engagement_dry),
        "least": LEAST_HELD,
        "deeper": at_least(depth + short / (2 * shrunk - 1)),
        "closer": at_most(clearance - short / shrunk, "clearance"),
        "narrower": at_most(opening - short / (1 - shrunk), "opening"),
    }
    return [warn("depth", said, ways, **numbers)]


def _left_over(boundaries: list[float], width: float, groove: float, low: float) -> list[Problem]:
    over = width - low - groove
    if over >= LEAST_OVER - TOUCH:
        return []
    said = "the wood above the groove will break when the lid is forced, because only {over:cut down} is left"
    lower = [at for at in boundaries if width - at - groove >= LEAST_OVER]
    ways = ("leave {more} above it" if lower else "use boards {wider} wide or more",)
    numbers = {
        "over": over,
        "more": at_least(width - max(lower, default=low) - groove),
        "wider": at_least(width + LEAST_OVER - over, "width"),
        "narrower": at_most(groove - LEAST_OVER + over, "groove"),
    }
    return [warn("above", said, (*ways, "use a bit of {narrower} or less"), **numbers)]


# -- the card ----------------------------------------------------------------------------------------------------------


def _card(asked: _Asked) -> Card:
    stopped = asked.sides_stopped or asked.back_stopped
    views = (_from_above(asked) if asked.sides_stopped else _fed_through(asked), _at_the_bit(asked), _in_the_box(asked))
    bands = (
        Pictures(views, least=52.0, most=90.0, shares=(0.47, 0.24, 0.29)),
        Beside(Settings(_settings(asked)), Checks(_checks(asked), "Trial in scrap"), 0.7),
        Hold("The readings pass, both stops are clamped, the guard is on." if stopped else _READY, "groove tried"),
        Order(_order(asked)),
    )
    cautions = CAUTIONS_STOPPED if stopped else CAUTIONS_THROUGH
    about = "long sides and back: inner face down, top edge on the fence"
    return Card("sliding-lid", "Groove for a sliding lid", "Router table", cautions, bands, about, "sliding-lid")


_READY = "The readings pass, the guard is on, the featherboard presses."


def _settings(asked: _Asked) -> tuple[Setting, ...]:
    numbers = asked.numbers
    rows = [
        Setting("bit", "Bit, as it cuts", asked.groove, 0.05, "callipers"),
        Setting("fence", "Fence to bit edge", asked.above, WITHIN, "gauge block"),
        Setting("deep", "Bit above table", asked.depth, WITHIN, "callipers"),
    ]
    if asked.sides_stopped:
        rows.append(Setting("stops", "Stops to bit edge", asked.stop(asked.inside), 0.5, "rule"))
    if asked.back_stopped:
        rows.append(Setting("back", "Stops, the back", asked.stop(asked.opening), 0.5, "rule"))
    rows += [
        Setting("front", "Front, ripped to", numbers["front_height"], WITHIN, "saw fence"),
        Setting("across", "Lid, across grain", numbers["lid_width"], 0.2, "callipers"),
        Setting("along", "Lid, along grain", numbers["lid_length"], 0.5, "rule"),
    ]
    return tuple(rows)


def _checks(asked: _Asked) -> tuple[Check, ...]:
    def near(what: str, aim: float) -> Check:
        return Check(what, aim - WITHIN, aim + WITHIN, 0.05)

    return (
        near("top edge to the groove", asked.above),
        near("groove, wide", asked.groove),
        near("groove, deep", asked.depth),
    )


def _order(asked: _Asked) -> tuple[Words, ...]:
    through = "Run the back through, end to end, at the same setting."
    sides: tuple[Words, ...] = ("Run both long sides through: inner face down, top edge on the fence.", through)
    if asked.sides_stopped:
        back = "Set the stops for the back. Lower it on the right stop, feed to the left stop."
        sides = (
            "Side whose front end leads: feed it to the left stop. Power off; then lift it.",
            "Other side: right end on the right stop. Power on, lower it, feed it out.",
            back if asked.back_stopped else f"Take the stops off. {through}",
        )
    elif asked.back_stopped:
        sides = (
            "Back: right end on the right stop. Power on, lower it, feed to the left stop.",
            "Power off; then lift it. Take the stops off. Run both long sides through.",
        )
    return (
        *sides,
        "Cut the front’s fingers, then rip it where one ends: no half finger shows.",
        "Size the lid in the air of the shop. It goes in over the lower front.",
    )


# -- its pictures ------------------------------------------------------------------------------------------------------


def _from_above(asked: _Asked) -> draw.View:
    """A long side before it is lowered onto the bit, its front end on the right stop, its top edge on the fence."""
    long = min(asked.inside + 2 * asked.thickness, 300.0)
    radius, face = asked.groove / 2, asked.above + asked.groove / 2  # the bit is at 0
    left = -(asked.end + radius)
    right = left + long
    left_stop = radius + asked.end - long
    low = face - asked.width
    band = draw.rectangle(-radius, -radius, right, radius)
    parts = (
        plan.fence(left_stop - plan.STOP_WIDE - 8, right + plan.STOP_WIDE + 8, face),
        *plan.stop("right", right, face),
        *plan.stop("left", left_stop, face),
        *_fed(draw.Bounds(left, low, right, face)),
        draw.Part("groove-to-come", "Groove", (draw.Line(band, draw.Kind.HIDDEN),)),
        plan.bit((0, 0), asked.groove, under=True),
        plan.guard((0, 0)),
        plan.arrow("feed", "Feed", (left - 20.0, low + 20.0), (left - 90.0, low + 20.0)),
    )
    over = face + plan.FENCE_DEEP + 4
    dimensions = (draw.Dimension(draw.Point(radius, over), draw.Point(right, over), "above", "", "stops"),)
    labels = (
        draw.Label("guard", draw.Point(-35, -20), towards="left", bold=True),
        draw.Label("feed", draw.Point(left - 55.0, low + 14.0), towards="below", leader=False, bold=True),
        draw.Label("front end", draw.Point(right - 14.0, face - 0.45 * asked.width), leader=False),
    )
    return draw.View("from-above", "From above, before it is lowered", parts, dimensions, labels, to_scale=False)


def _fed_through(asked: _Asked) -> draw.View:
    """A long side on the bit, inner face down, its top edge on the fence, half way through the cut."""
    long = min(asked.inside + 2 * asked.thickness, 300.0)
    face = asked.above + asked.groove / 2  # the bit is at 0
    left, right = -0.45 * long, 0.55 * long
    board = draw.Bounds(left, face - asked.width, right, face)
    band = draw.rectangle(left, -asked.groove / 2, right, asked.groove / 2)
    low = board.bottom
    at_feed = min(low - 14, plan.outside_guard((0, 0))) - 82.0 if _carried(board) else low - 36.0
    parts = (
        plan.fence(left - 60.0, right + 60.0, face),
        *_fed(board, through=True),
        draw.Part("groove-to-come", "Groove", (draw.Line(band, draw.Kind.HIDDEN),)),
        plan.bit((0, 0), asked.groove, under=True),
        plan.guard((0, 0)),
        plan.arrow("feed", "Feed", (-8.0, at_feed), (-63.0, at_feed)),
    )
    labels = (
        draw.Label("fence", draw.Point(left - 20, face + plan.FENCE_DEEP / 2), leader=False),
        draw.Label("feed", draw.Point(-4.0, at_feed), leader=False, bold=True),
        draw.Label("guard: no hand inside it", draw.Point(20, min(34.0, face + 20)), towards="above", bold=True),
    )
    return draw.View("from-above", "From above", parts, (), labels, to_scale=False)


def _fed(board: draw.Bounds, *, through: bool = False) -> list[draw.Part]:
    """The board and what holds it: a carrier with a grip for each hand where it is short, else hands far apart.

    One that is fed through has a push block behind it and a featherboard before it.
    """
    side = plan.board("board", "Long side, inner face down", board, reference="above")
    low, middle = board.bottom, (board.bottom + board.top) / 2
    off = plan.outside_guard((0, 0))  # hands pass the guard with the board
    if _carried(board):
        at = min(low - 14, off)
        base = draw.Bounds(board.left - 90, at - 56, board.right + 90, min(middle, -plan.GUARD / 2))
        grips = ((board.left - 46, at), (board.right + 46, at))
        return [
            plan.carrier(base, grips),
            side,
            plan.toggle("toggle", ((board.left + board.right) / 2, low + min(14.0, 0.2 * board.height))),
            plan.hand("left", grips[0], wrist=56.0),
            plan.hand("right", grips[1], wrist=56.0),
        ]
    if not through:
        hands = ((board.left + 66.0, low + 6.0), (board.right - 42.0, low + 6.0))
        return [side, plan.hand("left", hands[0], wrist=64.0), plan.hand("right", hands[1], wrist=64.0)]
    block = draw.Bounds(board.right, board.top - max(board.height, 40.0), board.right + 40.0, board.top - 2)
    return [
        side,
        plan.push_block(block),
        plan.featherboard("featherboard", (28.0, low)),
        plan.hand("left", (board.left + 10.0, low + 8.0), wrist=64.0),
        plan.hand("right", (block.right + 10.0, min(off, (block.bottom + block.top) / 2)), wrist=64.0),
    ]


def _carried(board: draw.Bounds) -> bool:
    """Whether a board is shown in a carrier: it is short, or so low that hands on it would come into the guard."""
    return board.width < CARRIED or board.bottom + 8.0 > plan.outside_guard((0, 0))


def _at_the_bit(asked: _Asked) -> draw.View:
    """Fence, board and bit cut across."""
    low, deep, thick = asked.above, asked.depth, asked.thickness
    high = low + asked.groove
    right = high + max(8.0, asked.groove)
    board = section.board(
        "board-cut", "Long side",
        (0.3, 0.0), (low, 0.0), (low, deep), (high, deep), (high, 0.0), (right, 0.0), (right, thick), (0.3, thick),
        broken="right",
    )  # fmt: skip
    parts = (
        section.table(-11.0, right + 2.0, hole=(low - 2, high + 2)),
        section.fence(0.0, 9.0, thick + 13.0),
        section.guard(0.0, thick + 5.0, right * 0.9),
        board,
        section.cutter(low + asked.groove / 2, asked.groove, deep, -11.0, "bit"),
    )
    dimensions = (
        draw.Dimension(draw.Point(0, -11), draw.Point(low, -11), "below", "", "fence"),
        draw.Dimension(draw.Point(right + 2, 0), draw.Point(right + 2, deep), "right", "", "deep"),
    )
    labels = (
        draw.balloon("bit", (low + asked.groove / 2, -8), "right"),
        draw.Label("guard", draw.Point(right * 0.6, thick + 9), towards="above"),
    )
    return draw.View("at-the-bit", "Section at the bit", parts, dimensions, labels, to_scale=False)


def _in_the_box(asked: _Asked) -> draw.View:
    """The top of the box cut across: the lid in the grooves of both sides."""
    thick, deep, top = asked.thickness, asked.depth, asked.above
    floor = -(top + asked.groove) - max(12.0, 1.5 * asked.groove)
    low = -(top + asked.groove)

    def side(name: str, mirrored: bool) -> draw.Part:
        def at(x: float, y: float) -> draw.Point:
            return draw.Point(asked.opening - x if mirrored else x, y)

        corners = (
            at(0, floor), at(0, low), at(-deep, low), at(-deep, -top), at(0, -top), at(0, 0), at(-thick, 0),
            at(-thick, floor),
        )  # fmt: skip
        zigzag = draw.break_line(at(-thick, floor), at(0, floor))
        lines = (draw.Line(draw.line(*corners)), draw.Line(zigzag, draw.Kind.NARROW))
        return draw.Part(name, "Side", lines, hatched=(draw.polygon(*corners),))

    begin = (asked.opening - asked.numbers["lid_width"]) / 2
    lid = draw.rectangle(begin, low + 0.2, asked.opening - begin, -top - 0.2)
    parts = (
        side("left-side", mirrored=False),
        side("right-side", mirrored=True),
        section.face("lid", "Lid", lid),
    )
    dimensions = (
        draw.Dimension(draw.Point(begin, -top), draw.Point(asked.opening - begin, -top), "above", "", "across"),
        draw.Dimension(draw.Point(0, floor), draw.Point(asked.opening, floor), "below", "inside"),
    )
    labels = (draw.Label("lid", draw.Point(asked.opening / 2, low), towards="below"),)
    title = say(
        "Lid, flat-sawn black cherry: {wet} wide at 70 % humidity, engagement {held} at 30 %",
        wet=asked.numbers["lid_width_wet"],
        held=asked.numbers["held_driest"],
    )
    return draw.View("in-the-box", title, parts, dimensions, labels, to_scale=False)


# -- the template ------------------------------------------------------------------------------------------------------


def _view(asked: _Asked, *, upright: bool = False) -> draw.View:
    """The end of a long side on its inner face: bottom edge at the left, or below; the groove's band dashed."""
    width, low, high = asked.width, asked.low, asked.low + asked.groove

    def at(along: float, aside: float) -> draw.Point:
        return draw.Point(-aside, along) if upright else draw.Point(along, aside)

    def side(lying: draw.Side) -> draw.Side:
        turned: dict[draw.Side, draw.Side] = {"above": "left", "below": "right", "left": "below", "right": "above"}
        return turned[lying] if upright else lying

    def box(begin: float, end: float, over: float = 0.0) -> draw.Path:
        return draw.polygon(at(begin, -over), at(end, -over), at(end, STRIP + over), at(begin, STRIP + over))

    waste = [box(span.start, span.end) for span in asked.sockets]
    crosses = [draw.line(at(span.start, y), at(span.end, STRIP - y)) for span in asked.sockets for y in (0.0, STRIP)]
    plain = [box(span.start, span.end) for span in fingers_between(width, asked.sockets)]
    reference = draw.Line(draw.line(at(0, -3), at(0, STRIP + 3)), draw.Kind.REFERENCE)
    strip = (*draw.lines(waste + plain), *draw.lines(crosses, draw.Kind.NARROW), reference)
    parts = (
        draw.Part("side", "Long side", strip),
        draw.Part("band", "Groove", draw.lines([box(low, high, 4.0)], draw.Kind.HIDDEN)),
    )
    whole = draw.Dimension(at(0, STRIP), at(width, STRIP), side("above"))
    dimensions = (
        whole,
        draw.Dimension(at(0, 0), at(low, 0), side("below"), "front"),
        draw.Dimension(at(high, 0), at(width, 0), side("below")),
    )
    labels = (
        draw.Label("groove", at((low + high) / 2, STRIP + 4), towards=side("above")),
        draw.Label("bottom edge", at(0, STRIP / 2), towards=side("left")),
    )
    detail, piece = None if upright else _view(asked, upright=True), draw.Piece(box(0.0, width))
    return draw.View("groove", "End of a long side", parts, dimensions, labels, whole, detail, piece=piece)
