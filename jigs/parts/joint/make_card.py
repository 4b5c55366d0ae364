"""The card of making the sled: its carriage, its key and spacer, and the gauge blocks that it is set with."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Beside, Card, Caution, Code, Hold, Order, Pictures, Setting, Settings, Text
from jigs.base.drawing import Kind, Line, Part, Point
from jigs.base.lengths import round_down, round_up
from jigs.base.wording import Words, say
from jigs.parts.joint import blocks, exploded
from jigs.parts.joint.made import Sled
from jigs.things import section
from jigs.trade.sled import SHIM_WITHIN, SPACER_WITHIN

BLOCK_WITHIN = 0.02
"""How near gauge blocks are planed, mm (common practice, no source)."""
KEY_WITHIN = 0.05
"""How near the key is planed, mm: half of the play that it usually has (common practice, no source)."""
SPACER_HEIGHT, GRIP = 50.0, 20.0
CAUTIONS = (
    Caution("Saw", "Saw small pieces off a long strip, guard and riving knife on."),
    Caution("Exit", "The cutter comes out under E: fix no handle there or near it."),
    Caution("Screws", "Sink every head in A, B and C out of the cutter’s way."),
)


def card(sled: Sled) -> Card:
    """Return the card."""
    bands = (
        Pictures(
            (exploded.carriage(sled.carriage, sled.backer), _profiles(sled)), least=62.0, most=92.0, shares=(0.6, 0.4)
        ),
        Beside(_pieces(sled), Settings(tuple(_planed(sled)), "Plane to callipers"), 0.47),
        Hold(_cutter_set(sled), "cutter set"),
        Order(tuple(_steps(sled)), "Put together"),
        Beside(Text("The gauge blocks", _use_of_blocks(sled), small=True), Code("its settings"), 0.845),
    )
    return Card("make-sled", "Make the sled", "Bench", CAUTIONS, bands, "wood that stays flat", "sled")


# -- what it is made of --------------------------------------------------------------------------------------------


def _pieces(sled: Sled) -> draw.Table:
    made = sled.carriage
    away, key = made.other_side, made.key_side
    left, right = sled.plate_ends
    rows: list[tuple[draw.Cell, ...]] = [
        ("A", "upright", _cut(made.long), _cut(made.height), _cut(made.board)),
        ("B", f"foot, {away}", _cut(made.foot_away), _cut(made.foot_deep), _cut(made.foot_thick)),
        ("C", f"foot, {key}", _cut(made.foot_key), _cut(made.foot_deep), _cut(made.foot_thick)),
        ("D", "brace, two", _cut(made.brace), _cut(made.brace), _cut(made.board)),
        ("E", "exit block", _cut(made.exit_long), _cut(made.foot_deep), _cut(made.board)),
        ("F", "backing, as boards", "", "", _cut(sled.backer)),
        ("", "plate", _cut(sled.plate_length), _cut(right - left), _cut(sled.plate)),
    ]
    return draw.Table("pieces", "Cut to size", ("", "piece", "long", "wide", "thick"), tuple(rows))


def _cut(mm: float) -> Words:
    return say("{mm:cut}", mm=float(mm))


def _planed(sled: Sled) -> Iterator[Setting]:
    """Yield what is planed until callipers read so: key, spacers and shims, then the gauge blocks."""
    n = sled.numbers
    seat = sled.plate / 2
    words = say("Key, {long:cut} × {high:cut}", long=sled.key_length, high=sled.key_height + seat)
    yield Setting("key", words, n.key, KEY_WITHIN)
    yield Setting("spacer", say("Spacer, {long:cut} long", long=spacer_length(sled)), n.short_spacer, SPACER_WITHIN)
    if n.board_starter:
        yield Setting("starter", "Starter, as the spacer", n.board_starter, SPACER_WITHIN)
    if sled.shims:
        words = say(
            f"{'Shim' if sled.shims == 1 else f'Shims, {sled.shims} alike'}, {{long:cut}} × {{high:cut}}",
            long=sled.key_length, high=sled.key_height,
        )  # fmt: skip
        yield Setting("shim", words, n.passes.shift, SHIM_WITHIN)

    for block in blocks.of(sled):
        yield Setting(f"block-{block.letter}", f"Block {block.letter}, {block.what}", block.size, BLOCK_WITHIN)


def _use_of_blocks(sled: Sled) -> tuple[Words, ...]:
    """Say how a gauge block is made, and what each does, by its letter."""
    every = {block.of: block.letter for block in blocks.of(sled)}
    heights = [letter for of, letter in every.items() if of.startswith("height-")]
    stand = f"{heights[0]} stands" if len(heights) == 1 else f"{', '.join(heights[:-1])} and {heights[-1]} stand"
    return (
        "Plane strips of hard wood: only the thickness counts. One too thin gets tape until callipers read right.",
        f"{every['gap']} slides between key and {sled.tool}. {stand} on the table: a rule laid on top just touches the "
        f"{sled.tool}. {every['socket-goes']} enters a socket of the test joint by hand, {every['socket-no-go']} must "
        "not.",
    )


def spacer_length(sled: Sled) -> float:
    """Return how long the spacer is along the feed: ends and backing board butt it, front and back stand before it."""
    shorts = sled.boards_in_stack // 2 * sled.ends_thickness
    most = shorts + sled.backer
    return max(shorts, round_down(most, sled.units))


# -- pictures ------------------------------------------------------------------------------------------------------


def _profiles(sled: Sled) -> draw.View:
    """Key in its seat and spacer, both from their ends."""
    key, spacer = _key(sled), _spacer(sled)
    gap = max(14.0, 0.5 * sled.numbers.key)
    across = key.bounds.right - spacer.bounds.left + gap
    foot, relief, top = foot_of(sled)
    placed = spacer.moved(across, 0.0)
    box, high = placed.bounds, sled.key_height
    middle = (key.bounds.left + key.bounds.right) / 2
    cut_back = Point((box.left if sled.hand > 0 else box.right) + sled.hand * relief / 2, foot / 2)
    dimensions = (draw.Dimension(Point(box.left, top), Point(box.right, top), "above", "", "spacer"),)
    labels = (
        draw.balloon("key", (middle, high * 0.75), "above"),
        draw.Label("key", Point(middle, high * 0.3), leader=False, bold=True),
        draw.Label("plate", Point(key.bounds.right + 4.5, -sled.plate * 0.5), towards="below"),
        draw.Label("spacer", Point((box.left + box.right) / 2, top * 0.75), leader=False, bold=True),
        draw.Label("foot cut back", cut_back, towards="below"),
    )
    title = "Key in its seat, and spacer: near ends"
    return draw.View("profiles", title, (*_seat(sled), key, placed), dimensions, labels, to_scale=False)


def _key(sled: Sled) -> Part:
    seat = sled.plate / 2
    return section.face("profile-key", "Key", draw.rectangle(0.0, -seat, sled.numbers.key, sled.key_height))


def _seat(sled: Sled) -> tuple[Part, ...]:
    """The plate about the key, cut across."""
    seat, key, beside = sled.plate / 2, sled.numbers.key, 7.0
    shape = draw.polygon(
        (-beside, 0), (0, 0), (0, -seat), (key, -seat), (key, 0), (key + beside, 0), (key + beside, -sled.plate),
        (-beside, -sled.plate),
    )  # fmt: skip
    return (section.face("profile-plate", "Plate", shape),)


def foot_of(sled: Sled) -> tuple[float, float, float]:
    """Return how high and how deep the foot of the spacer is cut away, where the cutter would shave it; its height."""
    n = sled.numbers
    relief = round_up(max(0.0, n.spacer - n.finger) + 0.5, sled.units)
    foot = round_up(n.cut_depth + 1.0, sled.units)
    return foot, relief, round_up(max(SPACER_HEIGHT, foot + GRIP), sled.units)


def _spacer(sled: Sled) -> Part:
    """The spacer from its end; the side that looks at the cutter is at 0, left of the wood where the key is right."""
    foot, relief, high = foot_of(sled)
    at, wide = sled.hand, sled.numbers.short_spacer
    shape = draw.polygon(
        (0, foot), (at * relief, foot), (at * relief, 0), (at * wide, 0), (at * wide, high), (0, high)
    )  # fmt: skip
    return Part("spacer", "Spacer from its end", (Line(shape, Kind.EDGE),))


# -- steps ---------------------------------------------------------------------------------------------------------


def _steps(sled: Sled) -> Iterator[Words]:
    n, made = sled.numbers, sled.carriage
    foot, relief, _ = foot_of(sled)
    yield say("The groove must read {cutter:gauge}. If not, draw these pages again with it.", cutter=sled.cutter)
    yield say("Plane the key until the groove slides on it with {slack:gauge} of play.", slack=n.slack)
    words = "Drill the hole, cut the seat by the template, {deep:cut} deep. Wax the key, glue it in."
    yield say(words, deep=sled.plate / 2)
    words = f"Cut the spacer’s foot back by {{by:cut}}, {{up:cut}} high, on the side of the {sled.tool}."
    yield say(words, by=relief, up=foot)
    if sled.shims:
        words = "Wax the shims. Screw a block, {long:cut} × {wide:cut}, to the plate at each end of the key."
        yield say(words, long=sled.end_block, wide=abs(sled.shimmed[0] - sled.shimmed[1]))
    yield "Saw the slot by the template. Glue and screw A to B and C, edges level."
    yield say("Screw E over the slot, {by:cut} on each foot. Glue a brace D to each foot and A.", by=made.bridge)
    yield "The key alone guides: slot and feet must not touch it. F: new for each stack."


def _cutter_set(sled: Sled) -> Words:
    return f"{sled.tool.capitalize()} tight, guard on, turned by hand. Then groove scrap."
