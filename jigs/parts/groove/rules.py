"""The rules of the groove and its stops."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jigs.base.lengths import HALF_STEP
from jigs.base.rules import READ_OUT, Problem, Rules, at_its_step, danger, stop, warn
from jigs.base.usual import CLAMP_PAD, STOP_BLOCK, TONGUE_PLAY, Usual
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.groove.part import Groove, named
from jigs.parts.joint.part import LONGS, SHORTS
from jigs.record import replace
from jigs.trade import groove
from jigs.trade.groove import SafeHeight

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
    thin = "sides.ends_thickness" if made.thicknesses[SHORTS] < made.thicknesses[LONGS] else "sides.thickness"
    where, ways = "groove.depth", ["cut the groove {most} deep or less", "make the sides {thicker} thick or more"]
    if made.thickness / 2 < 2 * LEAST_DEPTH:  # no groove holds a bottom in these
        where, ways = thin, [ways[1], "cut a shallower groove in thicker sides"]
    yield stop(
        where,
        "a groove {depth} deep cuts through sides {thickness} thick; it may take half of them",
        tuple(ways),
        depth=made.depth,
        thickness=made.thickness,
        most=at_most(made.thickness / 2),
        thicker=at_least(min(2 * made.depth, MOST_SIDES), thin),
    )


def _groove_above_the_box(made: Groove) -> Iterator[Problem]:
    width = max(end for spans in made.fingers.values() for _, end in spans)
    if made.cutter >= width:
        yield stop(
            "groove.cutter",
            "a bit of {cutter} cuts away the whole of boards {width:cut down} wide",
            ("use a bit of {works} or less", "make the boards wider"),
            cutter=made.cutter,
            width=width,
            works=at_most(width / 3),
        )
    elif made.top >= width:
        highest = max(0.0, width - made.cutter - made.least_from_bottom)
        works = _plunged_near(made, highest)
        yield stop(
            "groove.from_bottom",
            "a groove from {from_bottom} to {top} above the bottom edge does not fit on boards {width:cut down} wide",
            (
                "start it {most} " + ("or less " if works == highest else "") + "from the bottom edge",
                "make the boards wider",
            ),
            from_bottom=made.from_bottom,
            top=made.top,
            width=width,
            most=at_most(works),
        )


def _tongue_too_thick(made: Groove) -> Iterator[Problem]:
    if made.tongue > made.cutter:
        play = TONGUE_PLAY.size(made.units)
        yield stop(
            "bottom.tongue",
            "a tongue {tongue} thick does not go into a groove {cutter} wide; it needs a clearance of {play:gauge}",
            ("make the tongue {works} thick", "cut the groove {wider} wide", "leave the tongue to the program"),
            play=play,
            tongue=made.tongue,
            cutter=made.cutter,
            works=at_most(made.cutter - play),
            wider=at_least(made.tongue + play, "groove.cutter"),
        )


def _hole_in_the_fingers(made: Groove) -> Iterator[Problem]:
    if made.end_margin or not made.stopped_kinds:
        return
    kind = made.stopped_kinds[0]
    other = SHORTS if kind == LONGS else LONGS
    least, good = made.end_margin_range[0], made.good_end_margin
    ways = []
    if least <= (room := _room(made, made.stopped_kinds)):
        ways.append("stop the groove with an end margin of {works}")
    if least <= _room(made, [other]) and any(height.boards == other for height in made.heights):
        ways.append("stop it in {other} instead, {height} from the bottom edge, with an end margin of {much}")
    much = min(good, _room(made, [other]))
    yield stop(
        "groove.end_margin",
        "with no end margin the groove shows as a hole of {wide:cut up} × {deep:cut up} in the fingers of {kind}",
        tuple(ways) or _NO_ROOM,
        kind=named((kind,)),
        wide=made.in_fingers[kind],
        deep=made.depth,
        works=at_least(good) if good <= room else at_most(room),
        much=much,
        height=at_least(_height_in(made, other), "groove.from_bottom", **{"groove.end_margin": much}),
        other=named((other,)),
    )


_NO_ROOM = "use a narrower bit, longer boards or thinner sides"


def _room(made: Groove, kinds: Iterable[str]) -> float:
    """Return the widest end margin that leaves a groove in these boards."""
    return (min(made.lengths[kind] for kind in kinds) - made.cutter) / 2 - READ_OUT


def _end_margin(made: Groove) -> tuple[str, dict[str, Offer]]:
    """Return what end margin to leave where boards are stopped: corners are square, and a groove is left."""
    least, most = made.end_margin_range
    most = min(most, _room(made, made.stopped_kinds))
    sizes = "from {least} to {most}" if most - least >= READ_OUT else "of {least}"
    return f"leave an end margin {sizes}", {
        "least": at_least(least),
        "most": at_most(most),
    }


def _height_in(made: Groove, kind: str) -> float:
    """Return the height of the lowest finger of these boards that holds the groove, or of any that does."""
    fitting = [height for height in made.heights if height.boards == kind] or list(made.heights)
    return fitting[0].middle if fitting else made.from_bottom


def _plunged(made: Groove) -> tuple[SafeHeight, ...]:
    """Return where the groove lies inside one finger of boards that can be lowered onto a bit."""
    least = SHORTEST_PLUNGED.size(made.units)
    return tuple(height for height in made.heights if made.lengths[height.boards] >= least)


def _plunged_near(made: Groove, height: float) -> float:
    """Return a height, or the nearest good one where at this one boards that are too short would be stopped."""
    least = SHORTEST_PLUNGED.size(made.units)
    stopped = replace(made, from_bottom=height).stopped_kinds
    if all(made.lengths[kind] >= least for kind in stopped):
        return height
    nearest = groove.nearest_safe_height(height, _plunged(made))
    return nearest.middle if nearest else height


def _end_margin_fills_the_board(made: Groove) -> Iterator[Problem]:
    if not made.stopped_kinds:
        return
    shortest = min(made.stopped_kinds, key=lambda kind: made.lengths[kind])
    room = _room(made, [shortest])
    if made.end_margin <= room + HALF_STEP:
        return
    works, offers = _end_margin(made)
    fits = made.end_margin_range[0] <= room
    yield stop(
        "groove.end_margin" if fits else "groove.cutter",
        "an end margin of {wood} at both ends leaves no groove in boards {length:cut down} long",
        works if fits else _NO_ROOM,
        wood=made.end_margin,
        length=made.lengths[shortest],
        **offers,
    )


def _too_short_to_plunge(made: Groove) -> Iterator[Problem]:
    for kind in made.stopped_kinds:
        length, least = made.lengths[kind], SHORTEST_PLUNGED.size(made.units)
        if length < least:
            other = SHORTS if kind == LONGS else LONGS
            elsewhere = any(height.boards == other for height in _plunged(made))
            higher = "start the groove {height} from the bottom edge, so that it stops in {other} instead"
            chisel = "groove a longer blank before you crosscut it, and chisel the groove’s ends"
            yield stop(
                "groove.from_bottom" if elsewhere else "groove",
                "lowering boards {length:cut} long puts your hands {hand:rough down} from the bit; {least:rough up} "
                "is the shortest board to lower",
                (higher, chisel) if elsewhere else chisel,
                length=length,
                hand=length / 2,
                least=least,
                height=at_least(_height_in(made, other)),
                other=named((other,)),
            )


def _held_in_a_carrier(made: Groove) -> Iterator[Problem]:
    for kind in made.stopped_kinds:
        least = CARRIER_BELOW.size(made.units)
        if made.lengths[kind] < least:
            yield danger(
                "groove",
                "lowering boards {length:cut} long puts your hands {hand:rough down} from the bit",
                "hold boards under {carried:rough up} in a carrier",
                length=made.lengths[kind],
                hand=made.lengths[kind] / 2,
                carried=least,
            )


def _fence_is_short(made: Groove) -> Iterator[Problem]:
    if any(made.lengths[kind] < 2 * made.end_margin + made.cutter for kind in made.stopped_kinds):
        return  # no groove is left, which is said
    reach, length = made.fence_reach, made.fence_length
    if reach is None or length is None or length <= FENCE.size(made.units):
        return
    room = STOP_BLOCK.size(made.units) + 2 * CLAMP_PAD.size(made.units)
    yield warn(
        "groove",
        "on a fence under {fence:rough up} the stops have nothing to be clamped to. They stand {far:rough up} from "
        "the bit’s centre, and a stop with its clamp takes {room:rough up} more",
        ("use a fence {fence:rough up} long", "clamp a straight board of that length to the fence"),
        far=reach - room,
        room=room,
        fence=length,
    )


def _straddles(made: Groove) -> Iterator[Problem]:
    if len(made.stopped_kinds) < 2:
        return
    best = groove.nearest_safe_height(made.from_bottom, _plunged(made) or made.heights)
    narrower, height = groove.widest_safe(
        from_bottom=made.from_bottom, fingers=made.fingers, least=made.least_from_bottom
    ) or (0.0, 0.0)
    ways = ["start it {works} from the bottom edge"] if best else ["make the fingers wider"]
    if not best and narrower >= NARROWEST_BIT:
        ways.insert(0, "use a bit of {narrower} or less, with the groove {height} from the bottom edge")
    yield warn(
        "groove.from_bottom",
        "the groove will show unless you stop it in all four boards. From {low} up it cuts {longs:cut up} into "
        "fingers of front and back, {shorts:cut up} into those of the end boards",
        tuple(ways),
        low=made.from_bottom,
        longs=made.in_fingers[LONGS],
        shorts=made.in_fingers[SHORTS],
        works=at_least(best.middle if best else 0.0),
        narrower=at_most(narrower, "groove.cutter", **{"groove.from_bottom": height}),
        height=height,
    )


def _little_below_the_groove(made: Groove) -> Iterator[Problem]:
    least = made.least_from_bottom
    if made.from_bottom < least - READ_OUT:
        works = _plunged_near(made, least)
        yield warn(
            "groove.from_bottom",
            "the wood below the groove will break out: it is {wood} high, and under {limit:cut up} is too little",
            "start the groove {least} " + ("or more " if works == least else "") + "from the bottom edge",
            wood=made.from_bottom,
            limit=least,
            least=at_least(works),
        )


def _thin_wall(made: Groove) -> Iterator[Problem]:
    if made.depth > made.thickness / 2 + READ_OUT:
        yield warn(
            "groove.depth",
            "a groove {depth} deep weakens the sides: of {thickness} it leaves {wall:cut down}, which is under half",
            "cut it {most} deep or less",
            depth=made.depth,
            wall=groove.wall_left(thickness=made.thickness, depth=made.depth),
            thickness=made.thickness,
            most=at_most(made.thickness / 2),
        )


def _little_end_margin(made: Groove) -> Iterator[Problem]:
    if made.stopped and made.end_margin < made.end_margin_range[0] - READ_OUT:
        works, offers = _end_margin(made)
        yield warn(
            "groove.end_margin",
            "an end margin of {wood} will break out; the board as cut needs {limit:cut up}",
            works,
            wood=made.end_margin,
            limit=made.end_margin_range[0],
            **offers,
        )


def _corner_does_not_go_in(made: Groove) -> Iterator[Problem]:
    if made.corner_kind == "square":
        return
    works, offers = _end_margin(made)
    least, most = made.square_end_margin
    fits = (works,) if least <= most else ()
    yield at_its_step(
        warn(
            "groove.end_margin",
            "the bottom’s square corners will not go in: an end margin of {wood} leaves the groove {short:cut up} "
            "short",
            (*fits, "clip the corners by {clip:cut up}", "round them to a radius of {radius:cut up}"),
            wood=made.end_margin,
            short=made.corner.shortfall,
            clip=made.corner.clip_leg,
            radius=made.corner.radius,
            **offers,
        )
    )


GROOVE: Rules[Groove] = Rules(
    (_groove_goes_through, _groove_above_the_box, _tongue_too_thick),
    (
        _hole_in_the_fingers,
        _end_margin_fills_the_board,
        _too_short_to_plunge,
        _held_in_a_carrier,
        _fence_is_short,
        _straddles,
        _little_below_the_groove,
        _thin_wall,
        _little_end_margin,
        _corner_does_not_go_in,
    ),
)
