"""The sheets of the sled's plate: its cutter hole and the seat of the key.

Axes: the cutter's centre at 0, feed up the page.
"""

from __future__ import annotations

from dataclasses import replace

from jigs.base import drawing as draw
from jigs.base.lengths import round_up
from jigs.base.wording import Words, say
from jigs.parts.joint.made import Sled

SLOT_ROOM = 5.0
"""The slot for a blade is this much longer than the blade at each end, mm."""
SCREW = 2.0
"""Radius of the screw holes, mm; a key narrower than four of them is glued only."""
ZONE = 30.0
"""Half the height of the zone round the cutter that is drawn where the page can't hold the plate, mm."""
_PLATE = "the plate that is clamped to the machine table: cutter hole and seat of the key"


def plate(sled: Sled) -> draw.Drawing:
    """Return the sheet of the plate, where the page can't hold it the zone round cutter and key."""
    left, right = sled.plate_ends
    why = (
        "The key is on the {side}. A bit in a table turns anticlockwise seen from above; in a slot fed away from you "
        "it drags the boards to the right{then}."
        if sled.machine == "router table"
        else "The key is on the {side}. A blade pushes to neither side: either hand will do, so long as you keep to it."
    )
    then = ", onto the key" if sled.hand > 0 else ", off the key: clamp the stack for every cut"
    notes = draw.Notes(
        "plate-notes",
        "How to use this sheet",
        (
            say(why, side=sled.key_side, then=then),
            say(
                "Prick the centre of the cutter hole{screws} through the sheet; rule key seat and centre lines onto "
                "the plate, {thick} thick, {wide} wide and {long} along the feed. The seat is {deep} deep and goes to "
                "{half} each way from the cutter; glue the key into it. The plate goes {right} to the right of the "
                "cutter and {left} to the left.",
                screws=" and of the key's screws" if _screwed(sled) else "",
                thick=sled.plate,
                deep=sled.plate / 2,
                half=sled.key_length / 2,
                wide=right - left,
                long=sled.plate_length,
                left=-left,
                right=right,
            ),
            _hole_in_words(sled),
            "The whole plate at full size, with the holes that fix it to the table, is drawn by jigleaf jig sled with "
            "--whole.",
            "Set the gap by sliding the plate until the gauge block just goes between key and cutter; then clamp the "
            "plate.",
        ),
    )
    view = replace(_whole_view(sled), detail=_zone(sled))
    return draw.Drawing("plate", "plate", _PLATE, (view, notes), sled.cautions)


def _hole_in_words(sled: Sled) -> Words:
    if sled.machine == "router table":
        return say("The hole for the cutter is {across} in diameter.", across=2 * sled.hole)
    return say("The slot for the blade is {wide} wide and {long} long.", wide=2 * sled.hole, long=2 * _half_slot(sled))


def _screwed(sled: Sled) -> bool:
    """Whether the key is wide enough for screws."""
    return sled.numbers.key >= 4 * SCREW


def _half_slot(sled: Sled) -> float:
    """Half the length of the slot for a blade."""
    return round_up(sled.numbers.slot + 2 * SLOT_ROOM, sled.units) / 2


def whole_plate(sled: Sled) -> draw.Drawing:
    """Return the sheet of the plate with its edges, over several pages if need be."""
    return draw.Drawing(
        "whole-plate", "whole plate", f"{_PLATE}, and the holes that fix it", (_whole_view(sled),), sled.cautions
    )


def _whole_view(sled: Sled) -> draw.View:
    half = sled.plate_length / 2
    left, right = sled.plate_ends
    clamp = sled.margin - 4
    zones = tuple(
        draw.Line(draw.rectangle(x, -half + 8, x + clamp, half - 8), draw.Kind.NARROW)
        for x in (left + 2, right - 2 - clamp)
    )
    outline = draw.Part(
        "plate",
        "Plate",
        (draw.Line(draw.rectangle(left, -half, right, half)), *zones),
        holes=tuple(
            draw.Hole(draw.Point(x, y), SCREW)
            for x in (left + 5 + clamp, right - 5 - clamp)
            for y in (half - 6, 6 - half)
        ),
    )
    labels = (
        *_plate_labels(sled),
        draw.Label("clamp here", draw.Point(left + 2 + clamp / 2, 0), towards="left"),
        draw.Label("clamp here", draw.Point(right - 2 - clamp / 2, 0), towards="right"),
    )
    size = (
        draw.Dimension(draw.Point(left, -half), draw.Point(right, -half), "below", "plate"),
        draw.Dimension(draw.Point(left, -half), draw.Point(left, half), "left", "plate"),
    )
    key_half = sled.key_length / 2
    return draw.View(
        "plate",
        "Plate from above",
        (outline, *_cutter_and_key(sled, key_half), *end_blocks(sled)),
        (*_critical(sled, half), *size, _key_length(sled, key_half)),
        labels,
        check=_over_all(sled, half),
        critical=_around_the_key(sled),
    )


def _around_the_key(sled: Sled) -> draw.Bounds:
    """Cutter and key where they face each other: no seam may run through the gap."""
    left, right = sorted((-sled.near_edge, sled.key_back))
    return draw.Bounds(left - 3, -20, right + 3, 20)


def _key_length(sled: Sled, half: float) -> draw.Dimension:
    side: draw.Side = "right" if sled.hand > 0 else "left"
    return draw.Dimension(draw.Point(sled.key_back, -half), draw.Point(sled.key_back, half), side, "key")


def _zone(sled: Sled) -> draw.View:
    """The zone that holds every critical distance: it fits any page that the proof fits on."""
    edges = sorted((sled.key_back + sled.hand * 12, -sled.hand * (sled.cutter / 2 + 22)))
    border = draw.Part(
        "plate",
        "Plate, the zone round cutter and key",
        (draw.Line(draw.rectangle(edges[0], -ZONE, edges[1], ZONE), draw.Kind.NEIGHBOUR),),
    )
    return draw.View(
        "plate",
        "Plate from above, the zone round cutter and key",
        (border, *_cutter_and_key(sled, ZONE)),
        _critical(sled, ZONE),
        _plate_labels(sled),
        check=_over_all(sled, ZONE),
    )


def _cutter_and_key(sled: Sled, half: float) -> tuple[draw.Part, ...]:
    """Cutter hole, seat of the key over its half length, centre lines and feed."""
    middle = (sled.key_face + sled.key_back) / 2
    reach = min(half, sled.cutter / 2 + 30)
    seat = draw.rectangle(*_ordered(sled.key_face, sled.key_back, half))
    screws = [draw.Hole(draw.Point(middle, y), SCREW) for y in (half - 12, 12 - half)] if _screwed(sled) else []
    hole = sled.hole
    centre_lines = draw.lines(
        [draw.line((0, -reach), (0, reach)), draw.line((-reach, 0), (reach, 0))], draw.Kind.CENTRE
    )
    arrow_at = -sled.hand * (hole + 12)
    shims = draw.lines([draw.rectangle(*_ordered(*faces, half)) for faces in shims_from_above(sled)], draw.Kind.HIDDEN)
    return (
        draw.Part("cutter-hole", "Hole for the cutter", (draw.Line(_opening(sled, half)), *centre_lines)),
        draw.Part("cutter", "Cutter", (draw.Line(_cutter(sled, half), draw.Kind.NEIGHBOUR),)),
        draw.Part("key", "Seat of the key", (draw.Line(seat),)),
        *([draw.Part("shims", "Shims between key and wood", shims)] if shims else []),
        *([draw.Part("key-screws", "Screw holes of the key", holes=tuple(screws))] if screws else []),
        draw.Part("feed", "Feed", arrows=((draw.Point(arrow_at, -22), draw.Point(arrow_at, 22)),)),
    )


def shims_from_above(sled: Sled) -> list[tuple[float, float]]:
    """Return the two faces of every shim, all of them between key and wood."""
    step = sled.numbers.passes.shift
    return [
        (sled.key_face - sled.hand * i * step, sled.key_face - sled.hand * (i + 1) * step) for i in range(sled.shims)
    ]


def end_blocks(sled: Sled) -> tuple[draw.Part, ...]:
    """Return the blocks beyond both ends of the key, between which the shims lie; none where there are no shims."""
    if not sled.shims:
        return ()
    half = sled.key_length / 2
    left, right = sorted(sled.shimmed)
    return tuple(
        draw.Part(
            f"end-block-{name}",
            f"Block at the {name} end of the key",
            draw.lines([draw.rectangle(left, low, right, high)]),
        )
        for name, low, high in (("near", -half - sled.end_block, -half), ("far", half, half + sled.end_block))
    )


def _opening(sled: Sled, half: float) -> draw.Shape:
    """The hole in the plate: round for a bit, a slot for a blade, cut off where the view is."""
    across = sled.hole
    if sled.machine == "router table":
        return draw.Circle(draw.Point(0, 0), across)
    long = _half_slot(sled)
    if long <= half:
        return draw.rectangle(-across, -long, across, long)
    return draw.polygon((-across, -half), (across, -half), (across, half), (-across, half))


def _cutter(sled: Sled, half: float) -> draw.Shape:
    if sled.machine == "router table":
        return draw.Circle(draw.Point(0, 0), sled.cutter / 2)
    long = min(half, sled.numbers.slot / 2)
    return draw.rectangle(-sled.cutter / 2, -long, sled.cutter / 2, long)


def _ordered(one: float, other: float, half: float) -> tuple[float, float, float, float]:
    return min(one, other), -half, max(one, other), half


def _critical(sled: Sled, half: float) -> tuple[draw.Dimension, ...]:
    low, top = -half, half

    def across(one: float, other: float, y: float, side: draw.Side, name: str) -> draw.Dimension:
        return draw.Dimension(draw.Point(one, y), draw.Point(other, y), side, name)

    return (
        across(sled.near_edge, sled.key_face, top, "above", "gap"),
        across(sled.key_face, sled.key_back, top, "above", "key"),
        across(0, sled.key_face, low, "below", "key face to centre"),
        _over_all(sled, half),
    )


def _over_all(sled: Sled, half: float) -> draw.Dimension:
    return draw.Dimension(draw.Point(-sled.near_edge, -half), draw.Point(sled.key_back, -half), "below", "over all")


def _plate_labels(sled: Sled) -> tuple[draw.Label, ...]:
    hole = sled.hole
    away: draw.Side = "left" if sled.hand > 0 else "right"
    labels = [
        draw.Label("hole", draw.Point(-sled.hand * hole * 0.7, -hole * 0.7), towards=away),
        draw.Label("cutter", draw.Point(-sled.hand * sled.cutter * 0.35, sled.cutter * 0.35), towards=away),
        draw.Label("feed", draw.Point(-sled.hand * (hole + 12), 14), towards=away),
    ]
    if sled.shims:
        labels.append(
            draw.Label(
                "shim" if sled.shims == 1 else "shims",
                draw.Point(sled.shimmed[0], -30),
                towards="below",
            )
        )
    return tuple(labels)
