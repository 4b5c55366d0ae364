"""The card of the stock: what is sawn from which board, the cut list in the order of cutting, the test pieces."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.cards import Band, Beside, Card, Caution, Order, Pictures, Text
from jigs.base.wording import Words, say
from jigs.box import rack, shopping
from jigs.box.chain import Box
from jigs.parts.joint.part import LONGS, SHORTS, cut_length, thicknesses
from jigs.parts.joint.rules import MOST_SPREAD

KNOTS_BEYOND = 10.0
"""How far past the fingers wood must be sound (common practice, no source), mm."""

CAUTIONS = (
    Caution("Blade", "Keep guard and riving knife on, as the manual says."),
    Caution("Kickback", "Stand beside the blade’s line. Never stand behind the board."),
    Caution("Hands", "Use a push stick when the board’s end nears the blade."),
    Caution("Short", "Plane and rip the wood while it is long; crosscut last."),
)


def card(box: Box) -> Card:
    """Return the card of the stock of a box."""
    assert box.stock is not None, "the card is drawn where there is a stock"
    bands: list[Band] = [Pictures((view,), least=37.0, most=60.0) for view in rack.views(box.stock)]
    if boards := rack.boards(box.stock):
        bands.append(boards)
    bands.append(rack.cut_list(box, box.stock))
    if buying := shopping.table(box):
        bands.append(buying)
    bands.append(
        Beside(
            Order(_order(box), "In this order"),
            Text("Wood to get", tuple(_needed(box)), small=True),
            0.6,
        )
    )
    return Card(
        "stock",
        "Stock",
        "Saw and planer",
        CAUTIONS,
        tuple(bands),
        "let the wood lie in the shop for a week first, stickered",
        "stock",
    )


def _needed(box: Box) -> Iterator[Words]:
    """Yield what wood there must be, with its waste and its cost."""
    assert box.stock is not None, "the card is drawn where there is a stock"
    yield from rack.needed(box, box.stock)
    if words := shopping.said(box):
        yield f"{words[:1].upper()}{words[1:]}."


def _sound(box: Box) -> float:
    """Return how much of each end must be sound: the fingers, and a little more."""
    return (box.numbers.cut_depth if box.numbers else 0.0) + KNOTS_BEYOND


def _order(box: Box) -> tuple[Words, ...]:
    thick = thicknesses(box.file)
    long, short = cut_length(box.file, box.file.box.length), cut_length(box.file, box.file.box.width)
    planed = "Plane sides and test pieces {thick} thick in one setting, within {spread}."
    if thick[LONGS] != thick[SHORTS]:
        planed = (
            "Plane front and back {thick}, then the end boards {ends} thick, test pieces with both, within {spread}."
        )
    rip = "rip, then " if rack.is_ripped(box) else ""
    pieces = f"Crosscut {rack.trial_pieces()} test pieces, unripped. Sides stay long until [card:set-sled] is signed."
    return (
        say(planed, thick=thick[LONGS], ends=thick[SHORTS], spread=MOST_SPREAD),
        pieces,
        "Draw the triangle, its base on the heavy edge. Number every corner.",
        say("Keep knots out of the last {sound} of every board.", sound=_sound(box)),
        say(f"After [card:set-sled]: {rip}crosscut {{long}} and {{short}} against one stop.", long=long, short=short),
    )
