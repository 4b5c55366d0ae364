"""The card of the glue-up: clamps, cauls and diagonals in a picture, then planing the fingers flush."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import amounts
from jigs.base import drawing as draw
from jigs.base.cards import Band, Beside, Card, Caution, Check, Checks, Hold, Order, Pictures, Text
from jigs.base.drawing import Bounds, Kind, Line, Part, Point
from jigs.base.usual import WEEK_OF_DRYING
from jigs.base.wording import Words, say
from jigs.box.chain import Box, corner_names
from jigs.parts.joint.part import LONGS, SHORTS, thicknesses
from jigs.things import plan

_CAUL = 18.0
"""Thickness of a caul, mm (common practice, no source)."""
CAUTIONS = (
    Caution("Skin", "Keep glue and finish off your skin. Open a window."),
    Caution("Rags", "Oily rags catch fire. Lay them flat outdoors or in water."),
    Caution("Plane", "Push the plane away from you, from the ends inward."),
)
SQUARE_WITHIN = {"mm": 0.5, "in": 25.4 / 32}
"""What the diagonals of a glued box may differ by, mm (common practice, no source)."""


def card(box: Box) -> Card:
    """Return the card of the glue-up."""
    within = SQUARE_WITHIN[box.file.units]
    low, high = box.diagonal_glued - within, box.diagonal_glued + within
    checks = Checks(
        (
            Check("diagonal, corners 1 to 3", low, high, 0.2),
            Check("diagonal, corners 2 to 4", low, high, 0.2),
            Check("the two differ by", say("{most} at most", most=within)),
        ),
        "Check, clamps on",
        _over_the_fingers(box),
    )
    bands: tuple[Band, ...] = (
        Order(tuple(_before(box)), "Dry, without glue"),
        Hold("Every corner closes dry, by its number; the inside is finished and masked.", "box fitted"),
        Beside(Pictures((_clamped(box),), least=66.0, most=100.0), checks, 0.7),
        Order(tuple(_glue(box)), "With glue"),
        Beside(Order(tuple(_flush(box)), "When the glue is hard"), Text("Away for a week", tuple(_if_away(box))), 0.5),
    )
    return Card("glue", "Glue and flush", "Bench", CAUTIONS, bands, "all four sides, and the bottom inside", "box")


def _over_the_fingers(box: Box) -> Words:
    return f"at the top edge, over the proud fingers of {box.at_the_rim}" if box.file.joint.proud else "at the top edge"


def _clamped(box: Box) -> draw.View:
    """The box from above in its clamps: cauls beside the fingers, both diagonals, corners by their numbers."""
    long, wide, thick = box.file.box.length, box.file.box.width, thicknesses(box.file)
    side, end = thick[LONGS], thick[SHORTS]
    proud = box.file.joint.proud
    boards = [
        plan.board("front", "Front", Bounds(0, 0, long, side)),
        plan.board("back", "Back", Bounds(0, wide - side, long, wide)),
        plan.board("left-end", "Left end", Bounds(0, side, end, wide - side)),
        plan.board("right-end", "Right end", Bounds(long - end, side, long, wide - side)),
    ]
    cauls = [
        plan.board("front-caul", "Caul", Bounds(6, -_CAUL - proud, long - 6, -proud)),
        plan.board("back-caul", "Caul", Bounds(6, wide + proud, long - 6, wide + _CAUL + proud)),
        plan.board("left-caul", "Caul", Bounds(-_CAUL - proud, 6, -proud, wide - 6)),
        plan.board("right-caul", "Caul", Bounds(long + proud, 6, long + _CAUL + proud, wide - 6)),
    ]
    bars = [_bar(f"bar-{i}", x, wide, upright=True) for i, x in enumerate((end / 2 + 4, long - end / 2 - 4))]
    bars += [_bar(f"cross-{i}", y, long, upright=False) for i, y in enumerate((side / 2 + 4, wide - side / 2 - 4))]
    diagonals = draw.lines([draw.line((0, 0), (long, wide)), draw.line((0, wide), (long, 0))], Kind.CENTRE)
    parts = (*boards, *cauls, Part("diagonals", "Diagonals", diagonals), *bars)
    first, second, third, fourth = (name.replace(" ", "") for name in corner_names(box.file))
    labels = (
        draw.Label(first, Point(long, 0), towards="right", bold=True),
        draw.Label(second, Point(long, wide), towards="right", bold=True),
        draw.Label(third, Point(0, wide), towards="left", bold=True),
        draw.Label(fourth, Point(0, 0), towards="left", bold=True),
        draw.Label("front", Point(long / 2, side / 2), leader=False),
        draw.Label("back", Point(long / 2, wide - side / 2), leader=False),
        draw.Label("caul, hollowed over the fingers", Point(long * 0.3, -_CAUL / 2), towards="below"),
        draw.Label(
            say("diagonal {size:cut}", size=box.diagonal_glued), Point(long * 0.36, wide * 0.36), towards="right"
        ),
    )
    return draw.View("clamped", "From above, in the clamps", parts, labels=labels, to_scale=False)


def _bar(name: str, at: float, reach: float, *, upright: bool) -> Part:
    """Return a bar clamp across the box, over everything: its bar, its two jaws, its screw."""
    jaw, out = 12.0, _CAUL + 2.0

    def box(low: float, high: float, half: float) -> draw.Path:
        return (
            draw.rectangle(at - half, low, at + half, high)
            if upright
            else draw.rectangle(low, at - half, high, at + half)
        )

    shapes = (
        box(-out - jaw, reach + out + jaw, 3.0),
        box(-out - jaw, -out, 9.0),
        box(reach + out, reach + out + jaw, 9.0),
        box(-out - jaw - 16, -out - jaw, 2.0),
    )
    return Part(name, "Bar clamp", tuple(Line(shape) for shape in shapes), covers=shapes)


def _before(box: Box) -> Iterator[Words]:
    corners = " Corners 1 and 3 are of A, 2 and 4 of B." if box.file.joint.method == "one stack" else ""
    bottom = " with the bottom in its groove" if box.bottom else ""
    yield f"Put the box together dry{bottom}, each corner by its number.{corners}"
    if box.numbers:
        more = " Finish the bottom all over, its edges too." if box.bottom else ""
        if box.bottom and box.bottom.wood is None:
            more = " Finish the bottom’s faces, its edges masked."
        mask = box.numbers.cut_depth + 1.0
        words = f"Take it apart. Mask {{mask}} at each end inside. Finish the inside of the sides.{more}"
        yield say(words, mask=mask)


def _glue(box: Box) -> Iterator[Words]:
    made = box.finish
    if made:
        yield say(
            f"Lay out {made.clamps} clamps and cauls hollowed {{relief}} over the fingers.", relief=made.caul_relief
        )
        amount = amounts.weight(made.glue - made.glue_in_grooves, box.file.units)
        yield f"Brush glue, {amount} in all, on the cheeks of the fingers, never on the ends."
    if made and made.glue_in_grooves:
        amount = amounts.weight(made.glue_in_grooves, box.file.units)
        yield f"Brush {amount} more into the grooves: plywood is glued in all round."
        yield "Join three sides, slide the bottom in. Add the fourth."
    elif box.bottom:
        yield "Join three sides, slide the bottom in, a dab at its middle. Add the fourth."
    yield "Clamp near the fingers. Measure both diagonals; shift the clamps until they agree."


def _flush(box: Box) -> Iterator[Words]:
    if proud := box.file.joint.proud:
        yield say("Plane {proud:gauge} of end grain off every finger, from the ends inward.", proud=proud)
    yield "Level top and bottom edges on abrasive paper on a flat plate until the box no longer rocks."


def _if_away(box: Box) -> Iterator[Words]:
    yield "Cut joints move with the air. Stack the boards flat on stickers, a weight on top, wrapped in film."
    if box.air and box.air.sides_difference:
        words = f"These mates move apart by {{step:gauge}} when they lose {WEEK_OF_DRYING:.0f} % of moisture."
        yield say(words, step=box.air.sides_difference)
    yield "Back again: fit the joints dry first. One that is tight may lie in the shop for a day."
