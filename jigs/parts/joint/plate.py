"""The sled's plate as a template: its cutter hole and the seat of the key.

Axes: the cutter's centre at 0, feed up the page.
"""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.base.lengths import round_up
from jigs.base.wording import Words, say
from jigs.parts.joint.made import Sled

SLOT_ROOM = 5.0
"""The slot for a blade is this much longer than the blade at each end, mm."""
SCREW = 2.0
"""Radius of the screw holes, mm; a key narrower than four of them is glued only."""
ZONE = 24.0
"""Half the height of the zone round the cutter, mm: it holds every critical distance."""


def screwed(sled: Sled) -> bool:
    """Whether the key is wide enough for screws."""
    return sled.numbers.key >= 4 * SCREW


def half_slot(sled: Sled) -> float:
    """Half the length of the slot for a blade."""
    return round_up(sled.numbers.slot + 2 * SLOT_ROOM, sled.units) / 2


def whole(sled: Sled) -> draw.View:
    """Return the plate with its edges, and the holes that fix it to the table."""
    half = sled.plate_length / 2
    left, right = sled.plate_ends
    edge = draw.rectangle(left, -half, right, half)
    clamp = sled.margin - 4
    zones = tuple(
        draw.Line(draw.rectangle(x, -half + 8, x + clamp, half - 8), draw.Kind.NARROW)
        for x in (left + 2, right - 2 - clamp)
    )
    outline = draw.Part(
        "plate",
        "Plate",
        (draw.Line(edge), *zones),
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
        draw.Dimension(draw.Point(left, -half), draw.Point(right, -half), "below"),
        draw.Dimension(draw.Point(left, -half), draw.Point(left, half), "left"),
    )
    key_half = sled.key_length / 2
    return draw.View(
        "plate",
        "Whole plate, from above",
        (outline, *_cutter_and_key(sled, key_half), *end_blocks(sled)),
        (*_critical(sled, half), *size, _key_length(sled, key_half)),
        labels,
        check=max(size, key=lambda measured: measured.value),
        critical=_around_the_key(sled),
        piece=draw.Piece(edge, _slot_of(sled, key_half)),
    )


def _around_the_key(sled: Sled) -> draw.Bounds:
    """Cutter and key where they face each other: no seam may run through the gap."""
    left, right = sorted((-sled.near_edge, sled.key_back))
    return draw.Bounds(left - 3, -20, right + 3, 20)


def _key_length(sled: Sled, half: float) -> draw.Dimension:
    side: draw.Side = "right" if sled.hand > 0 else "left"
    return draw.Dimension(draw.Point(sled.key_back, -half), draw.Point(sled.key_back, half), side, "key")


def zone(sled: Sled) -> draw.View:
    """Return the zone that holds every critical distance: it fits any page that the proof fits on."""
    edges = sorted((sled.key_back + sled.hand * 12, -sled.hand * (sled.cutter / 2 + 22)))
    around = draw.rectangle(edges[0], -ZONE, edges[1], ZONE)
    border = draw.Part("plate", "Plate, the zone round cutter and key", (draw.Line(around, draw.Kind.NEIGHBOUR),))
    return draw.View(
        "plate",
        "Plate at the cutter",
        (border, *_cutter_and_key(sled, ZONE, whole=False)),
        _critical(sled, ZONE),
        _plate_labels(sled),
        check=_over_all(sled, ZONE),
        piece=draw.Piece(around, _slot_of(sled, ZONE)),
    )


def _cutter_and_key(sled: Sled, half: float, *, whole: bool = True) -> tuple[draw.Part, ...]:
    """Cutter hole, seat of the key over its half length, centre lines and feed.

    Of a key that is not shown `whole` the ends are broken off, and its screws lie beyond.
    """
    middle = (sled.key_face + sled.key_back) / 2
    reach = min(half, sled.cutter / 2 + 30)
    box = _ordered(sled.key_face, sled.key_back, half)
    seat = _seat(*box) if whole else _seat_broken(*box)
    screws = (
        [draw.Hole(draw.Point(middle, y), SCREW) for y in (half - 12, 12 - half)] if whole and screwed(sled) else []
    )
    hole = sled.hole
    centre_lines = draw.lines(
        [draw.line((0, -reach), (0, reach)), draw.line((-reach, 0), (reach, 0))], draw.Kind.CENTRE
    )
    arrow_at = -sled.hand * (hole + 12)
    shims = draw.lines([draw.rectangle(*_ordered(*faces, half)) for faces in shims_from_above(sled)], draw.Kind.HIDDEN)
    return (
        draw.Part("cutter-hole", "Hole for the cutter", (draw.Line(_opening(sled, half)), *centre_lines)),
        draw.Part("cutter", "Cutter", (draw.Line(_cutter(sled, half), draw.Kind.NEIGHBOUR),)),
        draw.Part("key", "Seat of the key", seat),
        *([draw.Part("shims", "Shims between key and wood", shims)] if shims else []),
        *([draw.Part("key-screws", "Screw holes of the key", holes=tuple(screws))] if screws else []),
        draw.Part("feed", "Feed", arrows=((draw.Point(arrow_at, -22), draw.Point(arrow_at, 22)),)),
    )


def _seat(left: float, low: float, right: float, high: float) -> tuple[draw.Line, ...]:
    return (draw.Line(draw.rectangle(left, low, right, high)),)


def _seat_broken(left: float, low: float, right: float, high: float) -> tuple[draw.Line, ...]:
    """Both long sides of a seat that goes on at both ends."""
    sides = draw.lines([draw.line((x, low), (x, high)) for x in (left, right)])
    ends = [draw.break_line(draw.Point(left, y), draw.Point(right, y)) for y in (low, high)]
    return (*sides, *draw.lines(ends, draw.Kind.BREAK))


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
    long = half_slot(sled)
    if long <= half:
        return draw.rectangle(-across, -long, across, long)
    return draw.polygon((-across, -half), (across, -half), (across, half), (-across, half))


def _slot_of(sled: Sled, half: float) -> tuple[draw.Shape, ...]:
    """The slot for a blade, as a machine cuts it: none where it runs out of the view, which would fall apart."""
    slotted = sled.machine != "router table" and half_slot(sled) < half
    return (_opening(sled, half),) if slotted else ()


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
        return draw.Dimension(draw.Point(one, y), draw.Point(other, y), side, name, gauged=True)

    return (
        across(sled.near_edge, sled.key_face, top, "above", "gap"),
        across(sled.key_face, sled.key_back, top, "above", "key"),
        across(0, sled.key_face, low, "below", "to centre"),
        _over_all(sled, half),
    )


def _over_all(sled: Sled, half: float) -> draw.Dimension:
    return draw.Dimension(
        draw.Point(-sled.near_edge, -half),
        draw.Point(sled.key_back, -half),
        "below",
        "across key and cutter",
        gauged=True,
    )


def _hole_in_words(sled: Sled) -> Words:
    if sled.machine == "router table":
        return say("hole Ø {across:cut}", across=2 * sled.hole)
    return say("slot {long:cut} × {wide:cut}", wide=2 * sled.hole, long=2 * half_slot(sled))


def _plate_labels(sled: Sled) -> tuple[draw.Label, ...]:
    hole = sled.hole
    away: draw.Side = "left" if sled.hand > 0 else "right"
    labels = [
        draw.Label(_hole_in_words(sled), draw.Point(-sled.hand * hole * 0.7, -hole * 0.7), towards=away),
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
