"""The rules between the keys of a box file: what stops a part of the box, and what a maker must know of it.

A rule takes a part as `box_parts` settles it and yields what is wrong with it. The stops of a part look at its settings
only, since its numbers may not exist; its warnings come after them and may look at everything. A limit marked "common
practice, no source" is what shops commonly hold to; the rest is geometry.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Generic, TypeVar

from jigs.box_parts import (
    BOTTOM_CLEARANCE,
    CARVING_MARGIN,
    HANDLE_CENTRES_INSIDE,
    LID_CLEARANCE,
    LONGS,
    SHORTS,
    TONGUE_PLAY,
    WEEK_OF_DRYING,
    Bottom,
    Groove,
    Handle,
    Lid,
    Moistures,
    Shell,
    Stock,
    Usual,
    Wood,
)
from jigs.boxfile import BoxFile
from jigs.errors import READ_OUT, Problem
from jigs.lengths import HALF_STEP
from jigs.trade import groove, lid, panel, shell

SHORTEST_PLUNGED, CARRIER_BELOW = Usual(150, 6), Usual(200, 8)
"""The shortest board to be lowered onto a bit, and where hands want a carrier for it (common practice, no source)."""
MOST_TONGUE_PLAY = 0.3
"""With more play in the thickness of its groove a bottom rattles (common practice, no source), mm."""
LOOSE_LID = 2.0
"""A lid with a wider gap than this in the driest air is felt to be loose (common practice, no source), mm."""
LEAST_LID_GAP = 0.2
"""With a narrower gap in the wettest air a lid's finish may stick (common practice, no source), mm."""
LEAST_PLUG = 1.0
"""A shallower plug holds no lid in its place (common practice, no source), mm."""
LEAST_EDGE, MOST_LID = 4.0, 80.0
"""The least wood at the edge of a lid, over its rabbet, and the thickest lid (common practice, no source), mm."""
LEAST_NECK, LEAST_FINGER_HEIGHT, LEAST_FINGER_DEPTH = 18.0, 20.0, 15.0
"""The neck that holds, the opening that fingers go into and how far (common practice, no source), mm."""
LEAST_WEB = 4.0
"""Thinner wood beside a hole breaks (common practice, no source), mm."""
LEAST_CREST = 0.5
"""A lower crest is no more than a few shavings (common practice, no source), mm."""
LEAST_NECK_AREA = 350.0
"""The least section of a handle's neck against a knock (common practice, no source), mm²."""
LEAST_RIM = 0.5
"""With less of its rim in wood a hole saw without a pilot walks: the half that is in wood no longer holds it."""
LEAST_RIDGE = 0.8
"""The least wood between neighbouring chips (common practice, no source), mm."""
LEAST_SHELL, MOST_SHELL = 5.0, 600.0
"""Shells that are carved: a smaller one can't be, a larger one is on no box (common practice, no source), mm."""
FLATTEST_KNIFE = 10
"""A knife held flatter than this, in degrees, cuts no chip (common practice, no source)."""
LEAST_UNDER_CHIP = 3.0
"""The least wood under a chip (common practice, no source), mm."""
KNOTS_BEYOND, MASK_BEYOND = 10.0, 1.0
"""How far past the fingers wood must be sound, and be kept free of finish (common practice, no source), mm."""
TALL_BOARD, FENCE_SHARE = 500.0, 0.6
"""A longer board stood on end wants a fence made for it, of so much of its length (common practice, no source), mm."""
COLDEST = -20.0
"""Below this temperature, in °C, the moisture equation has not been checked."""
TABLE = (6.0, 14.0)
"""The moistures, in %, of the published coefficients (USDA Wood Handbook FPL-GTR-190, Table 13-5)."""

Part = TypeVar("Part")


@dataclass(frozen=True)
class Rules(Generic[Part]):
    """The rules of one kind of part."""

    stops: tuple[Callable[[Part], Iterator[Problem]], ...]
    warnings: tuple[Callable[[Part], Iterator[Problem]], ...]

    def judge(self, part: Part | None, found: list[Problem]) -> Part | None:
        """Return the part, or None where a rule stops it; what is to be said of it goes to `found`."""
        if part is None:
            return None
        wrong = _all(self.stops, part) or _all(self.warnings, part)
        found += wrong
        return None if any(problem.severity == "stop" for problem in wrong) else part


def _all(rules: Iterable[Callable[[Part], Iterator[Problem]]], part: Part) -> list[Problem]:
    return [problem for rule in rules for problem in rule(part)]


# -- box and climate -----------------------------------------------------------------------------------------------


def inside_is_left(file: BoxFile) -> Iterator[Problem]:
    """Find sides too thick for the box."""
    for name, outside in (("length", file.box.length), ("width", file.box.width)):
        inside = outside - 2 * file.sides.thickness
        if inside <= 0:
            yield Problem(
                "stop",
                f"box.{name}",
                "{outside} outside less two sides of {thickness} leaves an inside of {inside}",
                "more than {least}",
                {
                    "outside": outside,
                    "thickness": file.sides.thickness,
                    "inside": inside,
                    "least": 2 * file.sides.thickness,
                },
            )


def tall_on_end(file: BoxFile) -> Iterator[Problem]:
    """Find boards that stand high over the table while their fingers are cut."""
    longest = max(file.box.length, file.box.width)
    if longest > TALL_BOARD:
        yield Problem(
            "warning",
            "box.length" if file.box.length == longest else "box.width",
            "boards of {length} stand on end to be cut: check the clamp, the ceiling and what holds their top",
            "a fence of {fence} or more",
            {"length": longest, "fence": FENCE_SHARE * longest},
        )


def climate_stops(file: BoxFile) -> Iterator[Problem]:
    """Find air for which the moisture of wood is not known."""
    for season in ("shop", "dry", "wet"):
        temperature = getattr(file.climate, season).temperature
        if temperature < COLDEST:
            yield Problem(
                "stop",
                f"climate.{season}.temperature",
                "at {temperature} °C the moisture of wood is not known",
                "{least} °C or more",
                {"temperature": f"{temperature:g}", "least": f"{COLDEST:g}"},
            )


def _seasons_in_order(air: Moistures) -> Iterator[Problem]:
    if air.dry > air.wet:
        yield Problem(
            "stop",
            "climate",
            "wood has {dry} % moisture in the driest air and {wet} % in the wettest: they are the wrong way round",
            "exchange climate.dry and climate.wet",
            _percents(dry=air.dry, wet=air.wet),
        )


def _shop_within_the_year(air: Moistures) -> Iterator[Problem]:
    if not air.dry <= air.shop <= air.wet:
        yield Problem(
            "warning",
            "climate.shop",
            "the wood has {shop} % moisture in the shop, which is outside the {dry} to {wet} % of the year at home: it "
            "moves before it is ever used",
            "leave the wood in air of the home's humidity until its weight no longer changes",
            _percents(shop=air.shop, dry=air.dry, wet=air.wet),
        )


def _outside_the_table(air: Moistures) -> Iterator[Problem]:
    outside = [moisture for moisture in (air.shop, air.dry, air.wet) if not TABLE[0] <= moisture <= TABLE[1]]
    if outside:
        yield Problem(
            "warning",
            "climate",
            "a moisture of {moisture} % is outside the {least} to {most} % of the table of movement: the formula for "
            "the full range is used",
            "check that the humidities are those of a season, and not of a day",
            {**_percents(moisture=outside[0]), "least": f"{TABLE[0]:g}", "most": f"{TABLE[1]:g}"},
        )


def _percents(**numbers: float) -> dict[str, object]:
    return {name: f"{number:.1f}" for name, number in numbers.items()}


CLIMATE: Rules[Moistures] = Rules((_seasons_in_order,), (_shop_within_the_year, _outside_the_table))


def mates_move_apart(file: BoxFile, ends: Wood, air: Moistures) -> Iterator[Problem]:
    """Find sides and ends that move by different amounts."""
    if air.sides_difference > file.joint.clearance / 2:
        yield Problem(
            "warning",
            "sides.ends_species",
            "sides of {sides} and ends of {ends} come out {step} apart at the top when the boards lose {moisture} % "
            "between cutting and gluing",
            "all four sides from one board, or glue within days of cutting",
            {
                "sides": file.sides.species or "a wood without a name",
                "ends": ends.species.name,
                "step": air.sides_difference,
                "moisture": f"{WEEK_OF_DRYING:g}",
            },
        )


# -- groove --------------------------------------------------------------------------------------------------------


def _groove_goes_through(made: Groove) -> Iterator[Problem]:
    if made.depth >= made.thickness:
        yield Problem(
            "stop",
            "groove.depth",
            "a groove {depth} deep goes through sides of {thickness}",
            "at most {most}",
            {"depth": made.depth, "thickness": made.thickness, "most": made.thickness / 2},
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
    least, most = made.end_wood_range
    yield Problem(
        "stop",
        "groove.end_wood",
        "with no end wood the groove runs through the fingers of {kind} and shows as a hole of {wide} by {deep}",
        "stop it with end wood of {works}" + (", or move it to a height of {height}" if made.heights else ""),
        {
            "kind": kind,
            "wide": made.in_fingers[kind],
            "deep": made.depth,
            "works": _good(least, most),
            "height": _height_in(made, SHORTS if kind == LONGS else LONGS),
        },
    )


def _good(least: float, most: float) -> float:
    return (least + most) / 2 if least <= most else least


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


def _straddles(made: Groove) -> Iterator[Problem]:
    if len(made.stopped_kinds) < 2:
        return
    best = groove.nearest_safe_height(made.from_bottom, made.heights)
    move = best.middle - made.from_bottom if best else 0.0
    yield Problem(
        "warning",
        "groove.from_bottom",
        "the groove from {low} to {top} lies {longs} in fingers of front and back and {shorts} in those of the ends: "
        "all four boards must be stopped",
        f"a height of {{works}} ({'+' if move > 0 else '−'}{{move}})" if best else "a narrower bit, or a wider finger",
        {
            "low": made.from_bottom,
            "top": made.top,
            "longs": made.in_fingers[LONGS],
            "shorts": made.in_fingers[SHORTS],
            "works": best.middle if best else 0.0,
            "move": abs(move),
        },
    )


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
    fits = "end wood from {least} to {most}, or " if least <= most else ""
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
        _straddles,
        _little_below_the_groove,
        _thin_wall,
        _little_end_wood,
        _corner_does_not_go_in,
        _how_stops_are_measured,
        _several_depths,
    ),
)


# -- bottom --------------------------------------------------------------------------------------------------------


def _panel_thinner_than_tongue(made: Bottom) -> Iterator[Problem]:
    if made.tongue > made.thickness + READ_OUT:
        yield Problem(
            "stop",
            "bottom.tongue",
            "a bottom of {thickness} has no tongue of {tongue}",
            "at most {thickness}",
            {"thickness": made.thickness, "tongue": made.tongue},
        )


def _groove_too_shallow(made: Bottom) -> Iterator[Problem]:
    if made.groove.depth <= made.play:
        yield Problem(
            "stop",
            "groove.depth",
            "a groove {depth} deep does not hold a bottom with a play of {play} at each end",
            "{works}",
            {"depth": made.groove.depth, "play": made.play, "works": made.groove.thickness / 2},
        )


def _no_panel_is_left(made: Bottom) -> Iterator[Problem]:
    room = made.across + 2 * made.groove.depth
    if made.clearance >= room:
        yield Problem(
            "stop",
            "bottom.clearance",
            "a play of {play} leaves nothing of the {room} there is for the bottom",
            "{works}",
            {"play": made.clearance, "room": room, "works": BOTTOM_CLEARANCE.size(made.groove.units)},
        )


def _drops_out(made: Bottom) -> Iterator[Problem]:
    held, least = made.seasons.engagement_dry, panel.least_engagement(made.groove.depth)
    if held >= least - READ_OUT:
        return
    quartered = made.quartered.engagement_dry
    yield Problem(
        "stop" if held <= 0 else "warning",
        "bottom",
        "in the driest air, slid to one side, the bottom is held by {held} on the other, where {least} is wanted"
        + (": it drops out" if held <= 0 else ""),
        ("quarter-sawn it is held by {quartered}; or " if quartered > 0 else "")
        + "a deeper groove, a smaller clearance, a wood that moves less",
        {"held": held, "least": least, "quartered": quartered},
    )


def _no_play_when_wet(made: Bottom) -> Iterator[Problem]:
    if made.clearance <= 0:
        yield Problem(
            "warning",
            "bottom.clearance",
            "in the wettest air the bottom of {wet} fills its grooves: a little wetter, and it opens the corners",
            "{works}",
            {"wet": made.seasons.width_wet, "works": BOTTOM_CLEARANCE.size(made.groove.units)},
        )


def _rattles(made: Bottom) -> Iterator[Problem]:
    play, play_wanted = made.groove.cutter - made.tongue, TONGUE_PLAY.size(made.groove.units)
    if play > MOST_TONGUE_PLAY + READ_OUT:
        yield Problem(
            "warning",
            "bottom.tongue",
            "a tongue of {tongue} has a play of {play} in a groove of {groove} and rattles",
            "a tongue of {works}, or a groove of {narrower}",
            {
                "tongue": made.tongue,
                "play": play,
                "groove": made.groove.cutter,
                "works": made.groove.cutter - play_wanted,
                "narrower": made.tongue + play_wanted,
            },
        )


def _glued_all_round(made: Bottom) -> Iterator[Problem]:
    move = made.seasons.width_wet - made.seasons.width_dry
    yield Problem(
        "note",
        "bottom",
        "the bottom moves by {move} from the driest air to the wettest; glued all round it splits or opens the corners",
        "grain the long way, and a dab of glue at the middle of its width only",
        {"move": move},
    )


def _wood_without_a_name(made: Bottom | Lid) -> Iterator[Problem]:
    if not made.wood.named:
        yield Problem(
            "warning",
            "bottom.species" if isinstance(made, Bottom) else "lid.species",
            "the wood has no name; it is taken to move like {wood}",
            "name it here or in sides.species",
            {"wood": made.wood.species.name},
        )


BOTTOM: Rules[Bottom] = Rules(
    (_panel_thinner_than_tongue, _groove_too_shallow, _no_panel_is_left),
    (_drops_out, _no_play_when_wet, _rattles, _wood_without_a_name, _glued_all_round),
)


# -- lid -----------------------------------------------------------------------------------------------------------


def _no_plug_is_left(made: Lid) -> Iterator[Problem]:
    ways = ((made.across, made.clearance, "lid.clearance"), (made.along, made.play, "lid.play"))
    for opening, play, where in ways:
        if play >= opening:
            yield Problem(
                "stop",
                where,
                "a gap of {play} leaves no plug in an opening of {opening}",
                "{works}",
                {"play": play, "opening": opening, "works": LID_CLEARANCE.size(made.units)},
            )


def _crown_is_no_arc(made: Lid) -> Iterator[Problem]:
    if made.crown > made.width / 2:
        yield Problem(
            "stop",
            "lid.crown",
            "a crown of {crown} over a lid {width} wide is more than half of it, and no arc",
            "at most {most}",
            {"crown": made.crown, "width": made.width, "most": _most_crown(made)},
        )


def _edge_is_left(made: Lid) -> Iterator[Problem]:
    if made.edge >= LEAST_EDGE - READ_OUT:
        return
    most, shallower = _most_crown(made), made.thickness - made.crown - LEAST_EDGE
    thicker = made.plug_depth + made.crown + LEAST_EDGE
    where, works = "lid.thickness", "a lid of {thicker} or thicker"
    if made.crown and most > 0:
        where, works = "lid.crown", "a crown of {most} at most"
    elif shallower >= LEAST_PLUG:
        where, works = "lid.plug", "a thicker lid, or a plug of {shallower}"
    elif thicker > MOST_LID:
        where, works = (
            "lid.crown",
            "a lower crown and a thicker lid; one of {thickest}: it has room for {room}",
        )
    yield Problem(
        "stop" if made.edge <= 0 else "warning",
        where,
        "a lid of {thickness} with a plug of {plug} and a crown of {crown} has an edge of {edge}",
        works,
        {
            "thickness": made.thickness,
            "plug": made.plug_depth,
            "crown": made.crown,
            "edge": made.edge,
            "most": most,
            "shallower": shallower,
            "thicker": thicker,
            "thickest": MOST_LID,
            "room": MOST_LID - made.plug_depth - LEAST_EDGE,
        },
    )


def _most_crown(made: Lid) -> float:
    room = lid.edge_thickness(thickness=made.thickness, plug_depth=made.plug_depth, crown=LEAST_EDGE)
    return max(0.0, min(room, made.width / 2))


def _lid_jams(made: Lid) -> Iterator[Problem]:
    if made.clearance < LEAST_LID_GAP - READ_OUT and made.locks_at is not None:
        yield Problem(
            "warning",
            "lid.clearance",
            "a plug with a gap of {gap} in the wettest air locks at a humidity of {humidity} %",
            "a gap of {works}",
            {"gap": made.clearance, "humidity": f"{made.locks_at:.0f}", "works": LID_CLEARANCE.size(made.units)},
        )


def _lid_is_loose(made: Lid) -> Iterator[Problem]:
    if made.plug.gap_dry > LOOSE_LID:
        yield Problem(
            "note",
            "lid",
            "in the driest air the plug has a gap of {gap} across the grain",
            "quarter-sawn it has {quartered}; or two pads along the grain line instead of a whole plug",
            {"gap": made.plug.gap_dry, "quartered": made.quartered.gap_dry},
        )


def _lid_will_not_stay_flush(made: Lid) -> Iterator[Problem]:
    dry, _ = made.widths
    shrinks = (made.width - dry) / 2
    if made.overhang < shrinks - READ_OUT:
        yield Problem(
            "warning",
            "lid.overhang",
            "an overhang of {overhang} is gone in the driest air, when the lid is {shrinks} narrower on each side",
            "{least} or more",
            {"overhang": made.overhang, "shrinks": shrinks, "least": shrinks},
        )


LID: Rules[Lid] = Rules(
    (_no_plug_is_left, _crown_is_no_arc),
    (_edge_is_left, _lid_jams, _lid_is_loose, _lid_will_not_stay_flush, _wood_without_a_name),
)


# -- handle --------------------------------------------------------------------------------------------------------


def _holes_meet(made: Handle) -> Iterator[Problem]:
    if made.neck <= 0:
        yield Problem(
            "stop",
            "handle.neck",
            "the holes meet: the neck between them is {neck}",
            "a neck of {least}, the holes' centres {centre} from the middle",
            {"neck": made.neck, "least": LEAST_NECK, "centre": made.radius + LEAST_NECK / 2},
        )


def _no_foot(made: Handle) -> Iterator[Problem]:
    if made.foot <= 0:
        yield Problem(
            "stop",
            "handle.foot",
            "the holes come out at the foot, with {foot} of wood under them",
            "{least} or more",
            {"foot": made.foot, "least": LEAST_WEB},
        )


def _holes_miss_the_ends(made: Handle) -> Iterator[Problem]:
    least, most = made.reach
    if made.neck > 0 and not least < made.length < most:
        yield Problem(
            "stop",
            "handle.length",
            "a handle {length} long is not cut by holes of {saw} with a neck of {neck} between them",
            "from {shortest} to {longest}",
            {
                "length": made.length,
                "saw": 2 * made.radius,
                "neck": made.neck,
                "shortest": made.neck + 2 * made.radius,
                "longest": made.neck + 2 * made.radius * (1 + HANDLE_CENTRES_INSIDE),
            },
        )


def _crest_is_no_arc(made: Handle) -> Iterator[Problem]:
    most = min(made.length / 2, made.height)
    if not 0 < made.crest <= made.length / 2 or made.crest >= made.height:
        yield Problem(
            "stop",
            "handle.crest",
            "a crest of {crest} over a handle of {length} by {height} is flat or no arc",
            "more than 0, and less than {most}",
            {"crest": made.crest, "length": made.length, "height": made.height, "most": most},
        )


def _crest_crosses_hole(made: Handle) -> Iterator[Problem]:
    over = min(made.holes.hole_to_crest, made.holes.horn_tip)
    if over >= LEAST_WEB - READ_OUT:
        return
    flattest = _crest_over_the_holes(made)
    where, works = "handle.height", "a height of {works}"
    if made.crest > flattest:
        where, works = "handle.crest", "no height is enough under it; a crest of {flatter} at most"
    if made.crest > flattest and flattest < LEAST_CREST + READ_OUT:
        where, works = "handle.length", "no height is enough; a longer handle, or a wider neck"
    yield Problem(
        "stop" if over <= 0 else "warning",
        where,
        "a handle {height} high has {over} of wood over its holes" + (": they break through" if over <= 0 else ""),
        works,
        {
            "height": made.height,
            "over": over,
            "works": _height_that_works(made) if where == "handle.height" else 0.0,
            "flatter": flattest - READ_OUT,
        },
    )


def _crest_over_the_holes(made: Handle) -> float:
    """Return the highest crest under which a hole and wood enough over it find room at some height.

    The hole's centre must lie under the arc: R − radius − wood ≥ X. With R = (h² + c²)/2c over half the length h this
    is c² − 2Kc + h² ≥ 0 for K = X + radius + wood, so c ≤ K − √(K² − h²).
    """
    needed, half = made.holes.centre_offset + made.radius + LEAST_WEB, made.length / 2
    return needed - math.sqrt(needed**2 - half**2) if needed > half else math.inf


def _height_that_works(made: Handle) -> float:
    """Return the height with enough wood over the holes, to the crest or else to the corner of the end."""
    holes = made.holes
    over_cusp = holes.cusps[1] + made.crest + LEAST_WEB
    try:
        return max(over_cusp, holes.height_that_leaves(LEAST_WEB))
    except ValueError:
        corner = math.sqrt((made.radius + LEAST_WEB) ** 2 - max(0.0, holes.inside_end) ** 2)
        return max(over_cusp, made.hole_height + corner + made.crest)


def _thin_neck(made: Handle) -> Iterator[Problem]:
    if made.neck < LEAST_NECK - READ_OUT:
        yield Problem(
            "warning",
            "handle.neck",
            "the web between the holes is {neck}",
            "{least} or more",
            {"neck": made.neck, "least": LEAST_NECK},
        )
    elif made.thickness < LEAST_NECK_AREA / made.neck - READ_OUT:
        yield Problem(
            "warning",
            "handle.thickness",
            "a neck of {neck} by {thickness} may break across the grain when the lid is knocked",
            "a thickness of {works} or more",
            {"neck": made.neck, "thickness": made.thickness, "works": LEAST_NECK_AREA / made.neck},
        )


def _thin_foot(made: Handle) -> Iterator[Problem]:
    if made.foot < LEAST_WEB - READ_OUT:
        yield Problem(
            "warning",
            "handle.foot",
            "{foot} of wood under the holes will break",
            "{least} or more",
            {"foot": made.foot, "least": LEAST_WEB},
        )


def _saw_walks(made: Handle) -> Iterator[Problem]:
    if made.holes.rim_in_wood < LEAST_RIM:
        yield Problem(
            "warning",
            "handle.length",
            "only {rim} of the saw's rim is in wood, and it walks",
            "butt a waste block of the same thickness to the end, or drill a blank of {blank} and trim it",
            {"rim": f"{made.holes.rim_in_wood:.0%}", "blank": made.blank_length},
        )


def _fingers_do_not_fit(made: Handle) -> Iterator[Problem]:
    high, deep = made.holes.chord, made.holes.grip_depth
    if high < LEAST_FINGER_HEIGHT - READ_OUT or deep < LEAST_FINGER_DEPTH - READ_OUT:
        yield Problem(
            "warning",
            "handle.saw",
            "fingers go into an opening of {high} by {deep}",
            "{least_high} by {least_deep} or more",
            {"high": high, "deep": deep, "least_high": LEAST_FINGER_HEIGHT, "least_deep": LEAST_FINGER_DEPTH},
        )


def _saw_as_marked(made: Handle) -> Iterator[Problem]:
    saw = 2 * made.radius
    if any(abs(saw / step - round(saw / step)) < 1e-6 for step in (1.0, 25.4 / 16)):
        yield Problem(
            "note",
            "handle.saw",
            "the hole is given as exactly {saw}, the size marked on the saw? The curve is off by half of what it "
            "really cuts wider",
            "drill a hole in scrap and measure the hole",
            {"saw": saw},
        )


HANDLE: Rules[Handle] = Rules(
    (_holes_meet, _no_foot, _holes_miss_the_ends, _crest_is_no_arc),
    (_crest_crosses_hole, _thin_neck, _thin_foot, _saw_walks, _fingers_do_not_fit, _saw_as_marked),
)


def longer_than_lid(handle: Handle, made: Lid) -> Iterator[Problem]:
    """Find a handle that does not stand on its lid."""
    if handle.length > made.length:
        yield Problem(
            "warning",
            "handle.length",
            "a handle of {length} stands out over a lid of {lid}",
            "at most {lid}",
            {"length": handle.length, "lid": made.length},
        )


# -- shell ---------------------------------------------------------------------------------------------------------


def _no_fan_so_wide(made: Shell) -> Iterator[Problem]:
    least, most = made.ratios
    if not least * (1 - 1e-9) <= made.width / made.height <= most * (1 + 1e-9):
        inward = (least * made.height + HALF_STEP, most * made.height - HALF_STEP)
        narrowest, widest = groove.rounded_inward(max(LEAST_SHELL, inward[0]), min(MOST_SHELL, inward[1]))
        yield Problem(
            "stop",
            "shell.width",
            "no fan of {lobes} lobes is {width} wide and {height} high",
            "for this height a width from {least} to {most}",
            {
                "lobes": made.lobes,
                "width": made.width,
                "height": made.height,
                "least": narrowest,
                "most": widest,
            },
        )


def _shell_off_the_board(made: Shell) -> Iterator[Problem]:
    width, height = made.over_all
    wide, high = made.free_length - 2 * made.border, made.free_height - made.border
    if width > made.board_length or height > made.board_width:
        room = wide >= LEAST_SHELL and high >= LEAST_SHELL
        yield Problem(
            "stop",
            "shell.width" if width > made.board_length else "shell.height",
            "with its border the shell is {width} by {height}, and the front {length} by {high}",
            "at most {most_width} by {most_height}" if room else "a larger front, or a narrower border",
            {
                "width": width,
                "height": height,
                "length": made.board_length,
                "high": made.board_width,
                "most_width": wide,
                "most_height": high,
            },
        )


def _chip_too_deep(made: Shell) -> Iterator[Problem]:
    most = made.thickness / 2
    if made.chip_depth > most + READ_OUT:
        steepest = math.floor(math.degrees(math.atan(2 * most / made.chip)))
        flat_enough = steepest >= FLATTEST_KNIFE
        yield Problem(
            "stop",
            "shell.knife" if flat_enough else "shell.chip",
            "with the knife at {knife}° a chip {chip} wide is {depth} deep in a front of {thickness}",
            "at {steepest}° it is {works} deep" if flat_enough else "chips of {narrower} or less",
            {
                "knife": f"{made.knife:g}",
                "chip": made.chip,
                "depth": made.chip_depth,
                "thickness": made.thickness,
                "steepest": steepest,
                "works": shell.chip_depth(made.chip, steepest),
                "narrower": made.chip * most / made.chip_depth,
            },
        )


def _chips_meet(made: Shell) -> Iterator[Problem]:
    at_hinge, at_rim = made.ridges
    if at_hinge < LEAST_RIDGE:
        fewer = _lobes_that_hold(made)
        yield Problem(
            "stop",
            "shell.lobes",
            "between chips that start {hinge} from the pivot a ridge of {ridge} is left, where {least} holds",
            "at most {fewer} lobes" if fewer else "a larger shell",
            {"hinge": made.hinge, "ridge": at_hinge, "least": LEAST_RIDGE, "fewer": fewer},
        )
    elif at_rim < LEAST_RIDGE - READ_OUT:
        yield Problem(
            "stop",
            "shell.chip",
            "at the rim chips of {chip} leave a ridge of {ridge}, where {least} holds",
            "chips of {works} or less",
            {
                "chip": made.chip,
                "ridge": at_rim,
                "least": LEAST_RIDGE,
                "works": max(0.0, made.chip + at_rim - LEAST_RIDGE),
            },
        )


def _lobes_that_hold(made: Shell) -> int | None:
    """Return the most lobes that leave ridges at the hinge, or None; the fan is fitted anew for every count."""
    fewer = (replace(made, lobes=count) for count in range(made.lobes - 1, 1, -1))
    return next((fan.lobes for fan in fewer if not list(_no_fan_so_wide(fan)) and fan.ridges[0] >= LEAST_RIDGE), None)


def _carved_over_the_groove(made: Shell) -> Iterator[Problem]:
    if not made.over_groove:
        return
    most = made.free_height - made.border
    yield Problem(
        "stop" if made.wood_left < LEAST_UNDER_CHIP - READ_OUT else "warning",
        "shell.height",
        "a shell {height} high with its border reaches over the groove, where the chips leave {left} of wood",
        "at most {most} high" if most >= LEAST_SHELL else "a lower or a shallower groove, or a thicker front",
        {"height": made.over_all[1], "left": made.wood_left, "most": most},
    )


def _carved_into_the_fingers(made: Shell) -> Iterator[Problem]:
    if made.over_all[0] > made.free_length + READ_OUT:
        yield Problem(
            "warning",
            "shell.width",
            "a shell {width} wide with its border reaches into the fingers",
            "keep {keep} from each end: at most {most} wide",
            {
                "width": made.over_all[0],
                "keep": made.cut_depth + CARVING_MARGIN,
                "most": max(0.0, made.free_length - 2 * made.border),
            },
        )


SHELL: Rules[Shell] = Rules(
    (_no_fan_so_wide, _shell_off_the_board, _chip_too_deep),
    (_chips_meet, _carved_over_the_groove, _carved_into_the_fingers),
)


# -- stock ---------------------------------------------------------------------------------------------------------


def _rack_is_short(made: Stock) -> Iterator[Problem]:
    for piece in made.plan.missing if made.plan else ():
        yield Problem(
            "warning",
            "stock.boards",
            "no board in the rack is left for {name}",
            "a board of {length} by {width} by {thickness}, and what is cut off its ends",
            {"name": piece.name, "length": piece.length, "width": piece.width, "thickness": piece.thickness},
        )


def _grain_is_broken(made: Stock) -> Iterator[Problem]:
    if len(made.strips) > 1:
        yield Problem(
            "warning",
            "stock.boards",
            "no board in the rack holds all four sides in a row: the grain runs round {corners} of the corners",
            "a board of {length} by {width} by {thickness}",
            {
                "corners": "two" if len(made.strips) == 2 else "none",
                "length": made.whole_length,
                "width": made.strips[0].width,
                "thickness": made.strips[0].thickness,
            },
        )


STOCK: Rules[Stock] = Rules((), (_rack_is_short, _grain_is_broken))


def knots(cut_depth: float) -> Iterator[Problem]:
    """Say where wood must be sound."""
    yield Problem(
        "note",
        "stock",
        "a knot in the fingers breaks one of them out",
        "sound wood within {zone} of each end; lay out the strip round the knots",
        {"zone": cut_depth + KNOTS_BEYOND},
    )


def finish_off_the_glue(cut_depth: float) -> Iterator[Problem]:
    """Say what must be kept free of finish."""
    yield Problem(
        "note",
        "joint",
        "finish on the fingers keeps glue from holding",
        "mask {zone} at each end before the inside is finished",
        {"zone": cut_depth + MASK_BEYOND},
    )
