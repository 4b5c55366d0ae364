"""The rules of the groove and its stops."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.box_parts import LONGS, SHORTS, Groove
from jigs.errors import READ_OUT, Problem
from jigs.lengths import HALF_STEP, ROUNDING
from jigs.rules import Rules
from jigs.trade import groove
from jigs.trade.groove import Span
from jigs.usual import CLAMP_PAD, STOP_BLOCK, TONGUE_PLAY, Usual

SHORTEST_PLUNGED, CARRIER_BELOW = Usual(150, 6), Usual(200, 8)
"""The shortest board to be lowered onto a bit, and where hands want a carrier for it (common practice, no source)."""
FENCE = Usual(900, 36)
"""The longest fence that most router tables have (common practice, no source)."""
NARROWEST_BIT = 1.0
"""A narrower bit grooves no sides (common practice, no source), mm."""
LEAST_DEPTH, MOST_SIDES = 0.5, 60.0
"""The shallowest groove and the thickest sides (common practice, no source), mm."""


def _groove_goes_through(made: Groove) -> Iterator[Problem]:
    if made.depth < made.thickness:
        return
    where, works = "groove.depth", "at most {most}"
    if made.thickness / 2 < LEAST_DEPTH:
        where, works = "sides.thickness", "{thicker} or thicker"
    yield Problem(
        "stop",
        where,
        "a groove {depth} deep goes through sides of {thickness}",
        works,
        {
            "depth": made.depth,
            "thickness": made.thickness,
            "most": made.thickness / 2,
            "thicker": min(2 * made.depth, MOST_SIDES),
        },
    )


def _groove_above_the_box(made: Groove) -> Iterator[Problem]:
    width = max(end for spans in made.fingers.values() for _, end in spans)
    if made.cutter >= width:
        yield Problem(
            "stop",
            "groove.cutter",
            "a groove of {cutter} is as wide as boards of {width}",
            "{works}",
            {"cutter": made.cutter, "width": width, "works": width / 3},
        )
    elif made.top >= width:
        yield Problem(
            "stop",
            "groove.from_bottom",
            "a groove from {from_bottom} to {top} is not on boards of {width}",
            "at most {most}",
            {
                "from_bottom": made.from_bottom,
                "top": made.top,
                "width": width,
                "most": max(0.0, width - made.cutter - made.least_from_bottom),
            },
        )


def _tongue_too_thick(made: Groove) -> Iterator[Problem]:
    if made.tongue > made.cutter:
        yield Problem(
            "stop",
            "bottom.tongue",
            "a tongue of {tongue} does not go into a groove of {cutter}",
            "{works}",
            {"tongue": made.tongue, "cutter": made.cutter, "works": made.cutter - TONGUE_PLAY.size(made.units)},
        )


def _hole_in_the_fingers(made: Groove) -> Iterator[Problem]:
    if made.end_wood or not made.stopped_kinds:
        return
    kind = made.stopped_kinds[0]
    other = SHORTS if kind == LONGS else LONGS
    elsewhere = any(height.boards == other for height in made.heights)
    yield Problem(
        "stop",
        "groove.end_wood",
        "with no end wood the groove runs through the fingers of {kind} and shows as a hole of {wide} by {deep}",
        "stop it with end wood of {works}"
        + (", here or at a height of {height}, where {other} are the ones to be stopped" if elsewhere else ""),
        {
            "kind": kind,
            "wide": made.in_fingers[kind],
            "deep": made.depth,
            "works": made.good_end_wood,
            "height": _height_in(made, other),
            "other": other,
        },
    )


def _height_in(made: Groove, kind: str) -> float:
    """Return the height of the lowest finger of these boards that holds the groove, or of any that does."""
    fitting = [height for height in made.heights if height.boards == kind] or list(made.heights)
    return fitting[0].middle if fitting else made.from_bottom


def _end_wood_fills_the_board(made: Groove) -> Iterator[Problem]:
    least, most = made.end_wood_range
    for kind in made.stopped_kinds:
        room = (made.lengths[kind] - made.cutter) / 2 - READ_OUT
        if made.end_wood > room + HALF_STEP:
            narrowest, widest = groove.rounded_inward(least, min(most, room))
            where, works = "groove.cutter", "a narrower bit, longer boards, or thinner sides"
            if least <= room:
                works = "from {least} to {most}" if narrowest <= widest else "{least}"
                where = "groove.end_wood"
            yield Problem(
                "stop",
                where,
                "end wood of {wood} at both ends leaves no groove in boards of {length}",
                works,
                {
                    "wood": made.end_wood,
                    "length": made.lengths[kind],
                    "least": narrowest if narrowest <= widest else least,
                    "most": widest,
                },
            )


def _too_short_to_plunge(made: Groove) -> Iterator[Problem]:
    for kind in made.stopped_kinds:
        length, least = made.lengths[kind], SHORTEST_PLUNGED.size(made.units)
        if length < least:
            other = SHORTS if kind == LONGS else LONGS
            elsewhere = made.lengths[other] >= least and any(height.boards == other for height in made.heights)
            yield Problem(
                "stop",
                "groove.from_bottom",
                "boards of {length} are too short to be lowered onto a bit, which is {hand} from each hand: {least} is "
                "the shortest",
                ("{height} from the bottom, where {other} are the ones to be stopped, or " if elsewhere else "")
                + "groove a longer stick before it is crosscut, and finish the ends with a chisel",
                {
                    "length": length,
                    "hand": length / 2,
                    "least": least,
                    "height": _height_in(made, other),
                    "other": other,
                },
            )


def _held_in_a_carrier(made: Groove) -> Iterator[Problem]:
    for kind in made.stopped_kinds:
        least = CARRIER_BELOW.size(made.units)
        if made.lengths[kind] < least:
            yield Problem(
                "warning",
                "groove",
                "boards of {length} are lowered onto the bit with hands {hand} from it",
                "hold boards under {least} in a carrier",
                {"length": made.lengths[kind], "hand": made.lengths[kind] / 2, "least": least},
            )


def _fence_is_short(made: Groove) -> Iterator[Problem]:
    if any(made.lengths[kind] < 2 * made.end_wood + made.cutter for kind in made.stopped_kinds):
        return  # no groove is left, which is said
    reach, length = made.fence_reach, made.fence_length
    if reach is None or length is None or length <= FENCE.size(made.units):
        return
    block, pad = STOP_BLOCK.size(made.units), 2 * CLAMP_PAD.size(made.units)
    yield Problem(
        "warning",
        "groove",
        "the stops stand {far} from the cutter's centre; with a stop of {block} and a clamp of {pad} the fence must "
        "reach {reach} on each side of it: on a shorter one there is nothing to clamp them to",
        "a fence of {length} or more, or a straight board as long clamped to the fence",
        {"far": reach - block - pad, "block": block, "pad": pad, "reach": reach, "length": length},
    )


def _straddles(made: Groove) -> Iterator[Problem]:
    if len(made.stopped_kinds) < 2:
        return
    best = groove.nearest_safe_height(made.from_bottom, made.heights)
    move = best.middle - made.from_bottom if best else 0.0
    narrower, height = _widest_bit(made)
    suggestion = "a wider finger"
    if best:
        suggestion = f"a height of {{works}} ({'+' if move > 0 else '−'}{{move}})"
    elif narrower >= NARROWEST_BIT:
        suggestion = "a bit of {narrower} at most, {height} from the bottom edge, or a wider finger"
    yield Problem(
        "warning",
        "groove.from_bottom",
        "the groove from {low} to {top} lies {longs} in fingers of front and back and {shorts} in those of the ends: "
        "all four boards must be stopped, or it shows",
        suggestion,
        {
            "low": made.from_bottom,
            "top": made.top,
            "longs": made.in_fingers[LONGS],
            "shorts": made.in_fingers[SHORTS],
            "works": best.middle if best else 0.0,
            "move": abs(move),
            "narrower": narrower,
            "height": height,
        },
    )


def _widest_bit(made: Groove) -> Span:
    """Return the widest bit that one finger holds, read downward, and the height for it; 0 and 0 where none does."""
    found = groove.widest_safe(from_bottom=made.from_bottom, fingers=made.fingers, least=made.least_from_bottom)
    if found is None:
        return 0.0, 0.0
    _, widest = groove.rounded_inward(0.0, found[0], 2 * float(ROUNDING[made.units]))
    return widest, found[1]


def _little_below_the_groove(made: Groove) -> Iterator[Problem]:
    if made.from_bottom < made.least_from_bottom - READ_OUT:
        yield Problem(
            "warning",
            "groove.from_bottom",
            "the wood below the groove is {wood} high: it will be knocked out",
            "{least} or more",
            {"wood": made.from_bottom, "least": made.least_from_bottom},
        )


def _thin_wall(made: Groove) -> Iterator[Problem]:
    if made.depth > made.thickness / 2 + READ_OUT:
        yield Problem(
            "warning",
            "groove.depth",
            "a groove {depth} deep leaves a wall of {wall} of {thickness}",
            "at most {most} deep",
            {
                "depth": made.depth,
                "wall": groove.wall_left(thickness=made.thickness, depth=made.depth),
                "thickness": made.thickness,
                "most": made.thickness / 2,
            },
        )


def _little_end_wood(made: Groove) -> Iterator[Problem]:
    least, most = made.end_wood_range
    if made.stopped and made.end_wood < least - READ_OUT:
        works = "from {least} to {most}" if least <= most else "{least}"
        yield Problem(
            "warning",
            "groove.end_wood",
            "end wood of {wood} on the board as cut will break out",
            works,
            {"wood": made.end_wood, "least": least, "most": most},
        )


def _corner_does_not_go_in(made: Groove) -> Iterator[Problem]:
    if made.corner_kind == "square":
        return
    least, most = made.end_wood_range
    fits = "end wood from {least} to {most}, or "
    if least > most:  # yet with the least of it the corner may be square enough
        fits = "end wood of {least}, or " if least <= made.square_end_wood[1] else ""
    yield Problem(
        "warning",
        "groove.end_wood",
        "with end wood of {wood} the round end of the groove is {short} short of a square panel corner",
        fits + "clip the panel's corners by {clip}, or round them to a radius of {radius}",
        {
            "wood": made.end_wood,
            "short": made.corner.shortfall,
            "least": least,
            "most": most,
            "clip": made.corner.clip_leg,
            "radius": made.corner.radius,
        },
    )


def _how_stops_are_measured(made: Groove) -> Iterator[Problem]:
    if made.stopped:
        yield Problem(
            "note",
            "groove",
            "the stops are given from the cutter's centre; measured from the fence's end they mean nothing, from the "
            "cutter's edge each end of the groove is {radius} off. A board that is longer moves both ends by as much",
            "trim the boards of a pair together; a bit that cuts at its end, or it burns and throws the board",
            {"radius": made.radius},
        )


def _several_depths(made: Groove) -> Iterator[Problem]:
    count = len(made.passes)
    if count > 1:
        yield Problem(
            "note",
            "groove.depth",
            "{depth} is too deep for one pass",
            "{count} passes of {each}",
            {"depth": made.depth, "count": count, "each": made.depth / count},
        )


GROOVE: Rules[Groove] = Rules(
    (_groove_goes_through, _groove_above_the_box, _tongue_too_thick),
    (
        _hole_in_the_fingers,
        _end_wood_fills_the_board,
        _too_short_to_plunge,
        _held_in_a_carrier,
        _fence_is_short,
        _straddles,
        _little_below_the_groove,
        _thin_wall,
        _little_end_wood,
        _corner_does_not_go_in,
        _how_stops_are_measured,
        _several_depths,
    ),
)
