"""The sheets of the hole-saw handle: blank, outline, drilling, and the template for the screws through the lid.

Axes of the blank, seen on its face: x from its middle, y up from its foot, which is the reference edge.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.lengths import Units
from jigs.base.usual import Usual
from jigs.base.wording import Words, say
from jigs.parts.handle import outline
from jigs.parts.handle import picture as handle_picture
from jigs.parts.handle.part import Handle
from jigs.trade import handle as arithmetic

LEAST_BITE = 12.0
"""A screw that goes less far into a handle pulls out (common practice, no source), mm."""
SCREW_SPACING = 1 / 2
"""From screw to screw, of the neck (common practice, no source)."""
CLEARANCE, PILOT = 0.3, 0.9
"""A clearance hole is this much wider than the shank, mm; a pilot hole in hardwood so much of the root (no source)."""
SOLD: Mapping[Units, tuple[float, ...]] = {
    "mm": (12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100),
    "in": tuple(25.4 * eighths / 8 for eighths in (4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20, 24, 28, 32)),
}
"""Lengths that wood screws are sold in, mm (common practice, no source)."""
HEAD = 2.0
"""A countersunk head is as wide as this many shanks (value from memory)."""
INTO_WASTE = Usual(2, 1 / 16)
"""How far the saw goes into the waste block, and past the middle from each face (no source)."""
WASTE_THICKNESS, WASTE_BEYOND = Usual(12, 1 / 2), Usual(10, 3 / 8)
"""The least thickness of the waste block, and how far it stands out round the blank (no source)."""
FOOT_SHOWN = 55.0
"""Half of what is drawn of a longer foot on the lid, mm."""
FORMULA_WITHIN = 0.01
"""Formula and measured outline agree to this: twice the chord error and the last digit, mm."""
CAUTIONS = (cautions.GENERAL, cautions.HOLE_SAW)


@dataclass(frozen=True, slots=True)
class Screws:
    """Two screws up through the lid. `swelling` is the share of its width by which the lid moves over the year."""

    lid: float
    countersink: float
    bite: float
    shank: float
    root: float
    across: bool
    swelling: float
    units: Units
    crown_radius: float | None = None

    @property
    def length(self) -> float:
        """Length of a screw."""
        return arithmetic.screw_length(lid=self.lid, countersink=self.countersink, bite=self.bite)

    @property
    def hole(self) -> float:
        """Diameter of the clearance hole in the lid."""
        return self.shank + CLEARANCE

    @property
    def head(self) -> float:
        """Diameter of the head."""
        return HEAD * self.shank


@dataclass(frozen=True, slots=True)
class Screwed:
    """A handle with its screws; `lid` is the length, along the grain, and the width of the lid, where known, mm."""

    handle: Handle
    screws: Screws
    lid: tuple[float, float] | None = None

    @property
    def places(self) -> tuple[float, float]:
        """Where the screws stand, from the middle: in the neck, where there is wood all the way up."""
        half = self.handle.neck * SCREW_SPACING / 2
        return -half, half

    @property
    def spacing(self) -> float:
        """From screw to screw."""
        return self.handle.neck * SCREW_SPACING

    @property
    def slot(self) -> float:
        """How much longer than wide a hole across the grain must be."""
        return self.spacing * self.screws.swelling

    @property
    def wood_over(self) -> float:
        """The wood from the foot to the crest over a screw."""
        return self.handle.holes.wood_over_screw(self.places[1])

    @property
    def wood_beside(self) -> float:
        """The least wood between a screw and the hole beside it."""
        return self.handle.holes.wood_beside_screw(self.places[1], self.screws.bite) - self.screws.shank / 2


def drawings(made: Handle) -> tuple[draw.Drawing, ...]:
    """Return the sheets that make a handle, in the order they are worked from."""
    return _blank(made), _drilling(made), _outline(made)


def _drawing(name: str, title: Words, purpose: Words, *body: draw.Item, tools: Sequence[str]) -> draw.Drawing:
    return draw.Drawing(name, title, purpose, body, (cautions.GENERAL, *tools), jig="handle")


# -- blank ---------------------------------------------------------------------------------------------------------


def _blank(made: Handle) -> draw.Drawing:
    long, high = made.blank_length, made.blank_height
    beyond = 2 * WASTE_BEYOND.size(made.units)
    notes = draw.Notes(
        "blank-notes",
        "How to use this sheet",
        (
            say(
                "Plane the blank to {long} along the grain, {high} high and {thick} thick, the foot first, straight "
                "and square: it is the reference edge of everything that follows. The waste block under it is at least "
                "{wide} by {deep} by {waste}.",
                long=long,
                high=high,
                thick=made.thickness,
                wide=long + beyond,
                deep=high + beyond,
                waste=WASTE_THICKNESS.size(made.units),
            ),
            "Lay the sheet on the blank, foot to the heavy line. Prick the two centres, the trim lines and some points "
            "of the crest through the paper.",
            "Drill before anything is trimmed: in this long blank all of the saw rim is in wood, and the saw can't "
            "walk. Trim the ends after drilling; saw the crest last, while the foot is still straight.",
        ),
    )
    purpose = "the blank with the centres of both holes, laid out before it is drilled; waste is hatched"
    view = replace(_blank_view(made, half=False), detail=_blank_view(made, half=True))
    return _drawing("blank", "handle, blank", purpose, view, notes, tools=(cautions.HOLE_SAW, cautions.HAND_TOOLS))


def _blank_view(made: Handle, *, half: bool) -> draw.View:
    """The blank, or what is right of its middle line where the page is small."""
    holes, end, top = made.holes, made.blank_length / 2, made.blank_height
    start = 0.0 if half else -end
    trims = (made.length / 2,) if half else (-made.length / 2, made.length / 2)
    middles = outline.centres(holes)[1:] if half else outline.centres(holes)
    edges = draw.line((start, 0), (start, top), (end, top), (end, 0))
    foot = draw.Line(draw.line((start, 0), (end, 0)), draw.Kind.REFERENCE)
    sides = (1,) if half else (-1, 1)
    waste = tuple(path for side in sides for path in (_end_waste(made, side, top), _crest_waste(made, side, top)))
    blank = draw.Part("blank", "Blank", (draw.Line(edges), foot), hatched=waste)
    cuts = draw.lines([draw.line((x, 0), (x, top)) for x in trims], draw.Kind.NARROW)
    crest = draw.lines([_crest(made, side) for side in sides], draw.Kind.NARROW)
    parts = (
        blank,
        draw.Part("trim", "Trim lines", cuts),
        draw.Part("crest", "Crest", crest),
        draw.Part("middle", "Middle line", (draw.Line(draw.line((0, -3), (0, top + 3)), draw.Kind.CENTRE),)),
        *_saw_holes(made, middles),
        _grain(start, end, top),
    )
    blank_long = draw.Dimension(
        draw.Point(start, 0), draw.Point(end, 0), "below", "half the blank" if half else "blank"
    )
    apart = draw.Dimension(
        draw.Point(0 if half else middles[0].x, 0),
        draw.Point(middles[-1].x, 0),
        "below",
        "to the centre" if half else "centres",
    )
    trimmed = draw.Dimension(draw.Point(0 if half else trims[0], 0), draw.Point(trims[-1], 0), "below", "trim to")
    up = draw.Dimension(draw.Point(start, 0), draw.Point(start, made.hole_height), "left")
    high = draw.Dimension(draw.Point(end, 0), draw.Point(end, top), "right")
    title = "Right half of the blank; for the left half turn the sheet over" if half else "Blank, on its face"
    return draw.View(
        "blank",
        title,
        parts,
        (apart, trimmed, blank_long, up, high),
        _blank_labels(made, middles, top, start),
        check=blank_long,
    )


def _blank_labels(made: Handle, middles: Sequence[draw.Point], top: float, start: float) -> tuple[draw.Label, ...]:
    at = made.length / 4
    return (
        draw.Label("trim here, after drilling", draw.Point(made.length / 2, top), towards="above"),
        draw.Label("crest, sawn last", draw.Point(at, made.holes.crest_height(at)), towards="above"),
        draw.Label("grain", draw.Point(start + 12.0, top + 5.0), towards="above"),
        draw.Label("foot", draw.Point(made.neck / 4, 4.0), leader=False),
        *_numbers(made, middles),
    )


def _numbers(made: Handle, middles: Sequence[draw.Point]) -> list[draw.Label]:
    """Number the holes, between their centre lines."""
    aside = made.radius * 0.42
    first = 3 - len(middles)
    return [
        draw.Label(str(first + i), middle.moved(aside, aside), leader=False, height=5.0)
        for i, middle in enumerate(middles)
    ]


def _saw_holes(made: Handle, middles: Sequence[draw.Point]) -> tuple[draw.Part, ...]:
    first = 3 - len(middles)
    return tuple(
        draw.Part(
            f"hole-{first + i}", f"Hole {first + i}", holes=(draw.Hole(middle, made.radius, "hole" if not i else ""),)
        )
        for i, middle in enumerate(middles)
    )


def _crest(made: Handle, side: int) -> draw.Path:
    """The half of the crest that is on one side, from the middle out."""
    holes = made.holes
    centre = draw.Point(0, holes.height - holes.crest_radius)
    tip = draw.Point(side * holes.length / 2, holes.height - holes.crest)
    return draw.Path(draw.Point(0, holes.height), (draw.ArcTo(tip, centre, side < 0),))


def _crest_waste(made: Handle, side: int, top: float) -> draw.Path:
    crest = _crest(made, side)
    corner = draw.LineTo(draw.Point(side * made.length / 2, top))
    more = (draw.LineTo(draw.Point(0, top)),) if top > made.height else ()
    return draw.Path(crest.start, (*crest.steps, corner, *more), closed=True)


def _end_waste(made: Handle, side: int, top: float) -> draw.Path:
    """What is trimmed off one end, less the hole in it."""
    inner, outer = side * made.length / 2, side * made.blank_length / 2
    lower, upper = made.holes.cusps
    centre = draw.Point(side * made.holes.centre_offset, made.hole_height)
    steps = (
        draw.LineTo(draw.Point(outer, 0)),
        draw.LineTo(draw.Point(outer, top)),
        draw.LineTo(draw.Point(inner, top)),
        draw.LineTo(draw.Point(inner, upper)),
        draw.ArcTo(draw.Point(inner, lower), centre, side < 0),
    )
    return draw.Path(draw.Point(inner, 0), steps, closed=True)


def _grain(start: float, end: float, top: float) -> draw.Part:
    """An arrow both ways over the blank's left end."""
    middle, y = start + 12.0, top + 5.0
    return draw.Part(
        "grain", "Grain", arrows=tuple((draw.Point(middle, y), draw.Point(middle + way * 10, y)) for way in (-1, 1))
    )


# -- drilling ------------------------------------------------------------------------------------------------------


def _drilling(made: Handle) -> draw.Drawing:
    purpose = "setting the drill press, and the order of drilling"
    picture = handle_picture.depth(pilot=made.pilot.stays)
    body = (handle_picture.drilling(), _drill_settings(made), _drill_order(made), picture)
    return _drawing("drilling", "handle, drilling", purpose, *body, tools=(cautions.HOLE_SAW,))


def _drill_settings(made: Handle) -> draw.Table:
    spare = made.stop - made.radius
    into = INTO_WASTE.size(made.units)
    rows: list[tuple[draw.Cell, ...]] = [
        (
            f"Hole the saw cuts, pilot drill {'in' if made.pilot.stays else 'out'}",
            2 * made.radius,
            "callipers, in scrap",
        ),
        ("Fence to saw's centre", made.hole_height, say("block of {foot}, fence to rim", foot=made.foot)),
        ("Stop to saw's centre", made.stop, say("block of {spare}, stop to rim", spare=spare)),
        ("Clamp's centre to saw's, at least", made.clamp_room, "rule"),
        ("Depth from one face only", made.thickness + into, "depth stop, into the waste"),
        ("Depth from each face in turn", made.thickness / 2 + into, "depth stop, past the middle"),
        ("Waste block, at least this thick", WASTE_THICKNESS.size(made.units), "fresh wood for every hole"),
    ]
    numbered = tuple((str(i), *row) for i, row in enumerate(rows, start=1))
    return draw.Table("settings", "Settings", ("", "Setting", "Value", "Set with"), numbered)


def _drill_order(made: Handle) -> draw.Notes:
    said = (
        _pilot(made),
        f"Drill the untrimmed blank: trimmed, only {made.holes.rim_in_wood:.0%} of the saw rim is in wood.",
        "Clamp fence and stop. Foot to the fence, end to the stop, waste block under it; two clamps on the far half, "
        "blank and waste block together.",
        "Drill hole 2. Turn the blank end for end, foot still to the fence, the face that was up now down; clamp, "
        "drill hole 1. Lay a batten across hole 2 where a clamp would stand on it.",
        _both_faces(made),
        "Trim both ends to the lines. Saw the crest last and smooth it to the outline sheet.",
    )
    return draw.Notes(
        "order", "Order of work", tuple(_joined(f"{i}. ", words) for i, words in enumerate(said, start=1))
    )


def _joined(before: str, words: Words) -> Words:
    return before + words if isinstance(words, str) else say(before + words.sentence, **words.numbers)


def _pilot(made: Handle) -> Words:
    """Say whether the pilot drill stays in the saw, and what holds the saw where it does not."""
    if made.pilot.stays:
        return (
            "Leave the pilot drill in. The centres lie in the cores that fall out, so it leaves no mark on the handle, "
            "steadies the saw and shows the centres on the second face."
        )
    return say(
        "Take the pilot drill out: one of {drill} is wider than the core that falls out, and would mark the handle. "
        "Its rim alone then holds the saw: clamp blank and waste block, keep wood all round the hole, and use the "
        "lowest speed, or the saw will walk.",
        drill=arithmetic.PILOT_DRILL,
    )


def _both_faces(made: Handle) -> str:
    """Say how the halves of a hole that is drilled from each face in turn come to meet."""
    if made.pilot.stays:
        return (
            "From each face in turn: drill as above past the middle, and on until the pilot drill is through. Turn the "
            "blank over and move the stop. With the power off let the pilot drill down into its own hole, clamp, and "
            "drill the second half: so the halves meet."
        )
    return (
        "From each face in turn: set the depth past the middle, drill as above, then set the stop as far from the saw "
        "on its other side and drill both again. Fence and ends stay the same, so the halves meet."
    )


# -- outline -------------------------------------------------------------------------------------------------------


def _outline(made: Handle) -> draw.Drawing:
    holes = made.holes
    notes = draw.Notes(
        "outline-notes",
        "How to use this sheet",
        (
            say(
                "Lay it on the drilled and trimmed blank, foot to the heavy line, holes to their circles. The "
                "crest is an arc of {radius}, its centre {below} below the foot on the middle line: draw it with a "
                "thin batten bent through ends and middle.",
                radius=holes.crest_radius,
                below=holes.crest_radius - holes.height,
            )
            if holes.crest_radius > holes.height
            else say("The crest is an arc of {radius}.", radius=holes.crest_radius),
            say(
                "Fingers go into the ends {deep} deep through an opening of {high}. Round every edge that a hand "
                "meets; leave the points of the ends blunt, {tip} of end grain stands over them.",
                deep=holes.grip_depth,
                high=holes.chord,
                tip=holes.horn_tip,
            ),
        ),
    )
    purpose = "the finished handle: trim the ends and shape the crest to it"
    view = replace(_outline_view(made, half=False), detail=_outline_view(made, half=True))
    return _drawing(
        "outline",
        "handle, outline",
        purpose,
        *(view, _heights(made), _wood_table(made), notes),
        tools=(cautions.HAND_TOOLS,),
    )


def _outline_view(made: Handle, *, half: bool) -> draw.View:
    holes, end = made.holes, made.length / 2
    shape = outline.right_half(holes) if half else outline.outline(holes)
    middles = outline.centres(holes)[1:] if half else outline.centres(holes)
    start = 0.0 if half else -end
    parts = (
        draw.Part(
            "outline", "Outline", (draw.Line(shape), draw.Line(draw.line((start, 0), (end, 0)), draw.Kind.REFERENCE))
        ),
        *_circles(made, middles),
        draw.Part("middle", "Middle line", (draw.Line(draw.line((0, -3), (0, made.height + 3)), draw.Kind.CENTRE),)),
    )
    long = draw.Dimension(draw.Point(start, 0), draw.Point(end, 0), "below", "half the length" if half else "length")
    first = 0.0 if half else middles[0].x
    neck = 0.0 if half else -made.neck / 2
    dimensions = (
        long,
        draw.Dimension(
            draw.Point(first, 0), draw.Point(middles[-1].x, 0), "below", "to the centre" if half else "centres"
        ),
        draw.Dimension(
            draw.Point(neck, made.hole_height),
            draw.Point(made.neck / 2, made.hole_height),
            "above",
            "half" if half else "neck",
        ),
        draw.Dimension(draw.Point(end, 0), draw.Point(end, made.height - made.crest), "right"),
        draw.Dimension(draw.Point(start, 0), draw.Point(start, made.hole_height), "left"),
        draw.Dimension(draw.Point(start, 0), draw.Point(start, made.height), "left"),
    )
    at = made.length / 4
    labels = (
        draw.Label(
            say("crest, radius {radius}", radius=holes.crest_radius),
            draw.Point(at, holes.crest_height(at)),
            towards="above",
        ),
        draw.Label("foot", draw.Point(made.neck / 4, 4.0), leader=False),
        *_numbers(made, middles),
    )
    title = "Right half; for the left half turn the sheet over" if half else "Finished handle, on its face"
    return draw.View("outline", title, parts, dimensions, labels, check=long)


def _circles(made: Handle, middles: Sequence[draw.Point]) -> tuple[draw.Part, ...]:
    """The saw's whole circles, thin where the outline runs along them."""
    first, reach = 3 - len(middles), made.radius + 3.0
    found = []
    for i, (x, y) in enumerate(middles):
        crossing = draw.lines(
            [draw.line((x - reach, y), (x + reach, y)), draw.line((x, y - reach), (x, y + reach))], draw.Kind.CENTRE
        )
        circle = draw.Line(draw.Circle(draw.Point(x, y), made.radius), draw.Kind.NEIGHBOUR)
        found.append(draw.Part(f"hole-{first + i}", f"Hole {first + i}", (circle, *crossing)))
    return tuple(found)


def _heights(made: Handle) -> draw.Table:
    """Points of the outline over the foot: the cusps, and the crest from the middle out."""
    holes, end = made.holes, made.length / 2
    rows: list[tuple[draw.Cell, ...]] = [
        ("crest", at, holes.crest_height(at)) for at in (0.0, end / 3, 2 * end / 3, end)
    ]
    rows += [("cusp", end, height) for height in reversed(holes.cusps)]
    return draw.Table("heights", "Points of the outline", ("Point", "From the middle", "Over the foot"), tuple(rows))


def _wood_table(made: Handle) -> draw.Table:
    """The wood left by the formulas, and measured on the outline that is drawn."""
    holes = made.holes
    found = outline.measured(outline.outline(holes))
    rows: tuple[tuple[draw.Cell, ...], ...] = (
        ("between the holes", holes.neck, found.neck),
        ("under the holes", holes.foot, found.foot),
        ("over the holes", holes.hole_to_crest, found.hole_to_crest),
        ("over the upper cusp", holes.horn_tip, found.horn_tip),
        ("least of all", holes.least_wood, found.least),
    )
    title = say("Wood left: formula and outline agree within {within}", within=FORMULA_WITHIN)
    return draw.Table("wood", title, ("Where", "Formula", "Outline"), rows)


# -- screws --------------------------------------------------------------------------------------------------------


def screws(made: Screwed) -> draw.Drawing:
    """Return the sheet of the screws that come through the lid."""
    purpose = "drilling the lid for the handle's screws, and which screws"
    body = (_lid_view(made), _section(made), _screw_table(made), _screw_notes(made))
    return _drawing("lid-screws", "handle, screws through the lid", purpose, *body, tools=(cautions.HAND_TOOLS,))


def _lid_view(made: Screwed) -> draw.View:
    """The foot's place on the lid, with the holes."""
    screws, half_wide = made.screws, made.handle.thickness / 2
    half_long = min(made.handle.length / 2, FOOT_SHOWN)
    whole = half_long == made.handle.length / 2
    sides = [draw.line((-half_long, y), (half_long, y)) for y in (-half_wide, half_wide)]
    ends = [draw.line((x, -half_wide), (x, half_wide)) for x in (-half_long, half_long)]
    foot = draw.Part(
        "foot",
        "Place of the foot",
        (*draw.lines(sides), *draw.lines(ends, draw.Kind.EDGE if whole else draw.Kind.NEIGHBOUR)),
    )
    axes = draw.lines(
        [draw.line((-half_long - 3, 0), (half_long + 3, 0)), draw.line((0, -half_wide - 3), (0, half_wide + 3))],
        draw.Kind.CENTRE,
    )
    left, right = made.places
    holes = (
        draw.Circle(draw.Point(left, 0), screws.hole / 2),
        _slot(right, screws.hole, made.slot if screws.across else 0.0),
    )
    heads = draw.lines([draw.Circle(draw.Point(x, 0), screws.head / 2) for x in made.places], draw.Kind.HIDDEN)
    crossing = draw.lines([draw.line((x, -screws.head), (x, screws.head)) for x in made.places], draw.Kind.CENTRE)
    parts = (
        foot,
        draw.Part("foot-axes", "Middle lines", axes),
        draw.Part("screw-holes", "Holes for the screws", (*draw.lines(holes), *heads, *crossing)),
        _lid_grain(made, half_long, half_wide),
    )
    apart = draw.Dimension(draw.Point(left, 0), draw.Point(right, 0), "below", "screws")
    wide = draw.Dimension(draw.Point(-half_long, -half_wide), draw.Point(-half_long, half_wide), "left", "foot")
    long = draw.Dimension(
        draw.Point(-half_long, half_wide),
        draw.Point(half_long, half_wide),
        "above",
        "foot" if whole else "shown of the foot",
    )
    hole = say("hole {wide}", wide=screws.hole)
    if screws.across:
        hole = say("slot {wide} by {long}", wide=screws.hole, long=screws.hole + made.slot)
    labels = (
        draw.Label(hole, draw.Point(right + screws.hole / 2, 0), towards="right"),
        draw.Label(
            say("countersink {head} below" if screws.countersink else "head {head}, below", head=screws.head),
            draw.Point(right, -screws.head / 2),
            towards="below",
        ),
        draw.Label("grain of the lid", draw.Point(half_long + 12.0, half_wide + 2.0), towards="right"),
    )
    return draw.View("lid", "On the lid, from above", parts, (apart, wide, long), labels, check=apart)


def _slot(x: float, wide: float, longer: float) -> draw.Path | draw.Circle:
    """A round hole, or a slot along the handle: round ends, `longer` from centre to centre."""
    if not longer:
        return draw.Circle(draw.Point(x, 0), wide / 2)
    left, right, up = draw.Point(x - longer / 2, 0), draw.Point(x + longer / 2, 0), wide / 2
    steps = (
        draw.LineTo(draw.Point(right.x, -up)),
        draw.ArcTo(draw.Point(right.x, up), right, True),
        draw.LineTo(draw.Point(left.x, up)),
        draw.ArcTo(draw.Point(left.x, -up), left, True),
    )
    return draw.Path(draw.Point(left.x, -up), steps, closed=True)


def _lid_grain(made: Screwed, half_long: float, half_wide: float) -> draw.Part:
    """The lid's grain, beside the foot: along the handle or across it."""
    middle = draw.Point(half_long + 12.0, half_wide + 2.0)
    way = (0.0, 10.0) if made.screws.across else (10.0, 0.0)
    arrows = tuple((middle, middle.moved(sign * way[0], sign * way[1])) for sign in (-1, 1))
    return draw.Part("lid-grain", "Grain of the lid", arrows=arrows)


def _section(made: Screwed) -> draw.View:
    """Lid, handle and screws cut along the middle, the lid's underside below."""
    screws, holes = made.screws, made.handle.holes
    reach = made.handle.neck / 2 + min(made.handle.radius, 20.0)
    lid = draw.rectangle(-reach, -screws.lid, reach, 0)
    tops = sorted((screws.countersink - screws.lid, screws.bite))
    shafts = [draw.rectangle(x - screws.shank / 2, tops[0], x + screws.shank / 2, tops[1]) for x in made.places]
    sunk = [draw.rectangle(x - screws.head / 2, -screws.lid, x + screws.head / 2, tops[0]) for x in made.places]
    heads = (
        (draw.Part("section-heads", "Sunk heads", draw.lines(sunk, draw.Kind.HIDDEN)),) if screws.countersink else ()
    )
    rims = _rims_in_section(made, reach)
    high = min(holes.hole_height, screws.bite + 12.0)
    sides = [draw.line((x, 0), (x, high)) for x in (-reach, reach)] if not rims else []
    parts = (
        draw.Part("section-lid", "Lid, cut through", draw.lines([lid])),
        draw.Part("section-handle", "Handle", (*draw.lines(rims), *draw.lines(sides, draw.Kind.NEIGHBOUR))),
        draw.Part("section-screws", "Screws", draw.lines(shafts)),
        *heads,
    )
    right = made.places[1] + screws.shank / 2
    dimensions = (
        draw.Dimension(draw.Point(right, tops[0]), draw.Point(right, screws.bite), "right", "screw"),
        draw.Dimension(draw.Point(right, 0), draw.Point(right, screws.bite), "right", "bite"),
        draw.Dimension(draw.Point(-reach, -screws.lid), draw.Point(-reach, 0), "left", "lid"),
    )
    return draw.View("section", "Cut along the middle of the handle", parts, dimensions)


def _rims_in_section(made: Screwed, reach: float) -> list[draw.Path]:
    """The rims of both holes as far as the section shows them: their lower halves towards the neck."""
    holes = made.handle.holes
    found = []
    for centre, side in zip(outline.centres(holes), (-1, 1), strict=True):
        lowest = draw.Point(centre.x, centre.y - holes.radius)
        neck = draw.Point(centre.x - side * holes.radius, centre.y)
        found.append(draw.Path(lowest, (draw.ArcTo(neck, centre, side < 0),)))
    return found


def _screw_table(made: Screwed) -> draw.Table:
    screws = made.screws
    most = arithmetic.most_bite(made.wood_over)
    longest, shortest = screws.length - screws.bite + most, screws.length - screws.bite + LEAST_BITE
    slot = "one round, the other a slot longer by"
    rows: tuple[tuple[draw.Cell, ...], ...] = (
        ("Screws, two, countersunk" if screws.countersink else "Screws, two", screws.length),
        ("… to buy", _to_buy(screws, shortest, longest)),
        ("… the shortest that hold, the longest there is room for", say("{a} to {b}", a=shortest, b=longest)),
        ("Wood above a screw, foot to crest", made.wood_over),
        ("Wood between a screw and the hole beside it", made.wood_beside),
        ("Clearance hole in the lid", screws.hole),
        ("Head sunk from below", screws.countersink),
        (
            say("Pilot hole in the handle, {share} of a root of {root}", share="90 %", root=screws.root),
            PILOT * screws.root,
        ),
        ("Handle along the lid's grain", "both holes round"),
        ("Handle across the lid's grain", say(slot + " {slot}", slot=made.slot)),
    )
    return draw.Table("screws", "Screws", ("What", "Value"), rows)


def _to_buy(screws: Screws, shortest: float, longest: float) -> Words:
    """Return what to ask for in a shop: inch screws by their gauge, others by their shank."""
    sold = SOLD[screws.units]
    length = arithmetic.bought_length(wanted=screws.length, least=shortest, most=longest, sold=sold)
    gauge = arithmetic.screw_gauge(screws.shank) if screws.units == "in" else None
    size = "{shank}" if gauge is None else f"No. {gauge}"
    if length is None:
        return say(f"wood screws {size}, none is sold so long: file longer ones off", shank=screws.shank)
    return say(f"wood screws {size} × {{length}}", shank=screws.shank, length=float(length))


def _place(made: Screwed) -> Words:
    """Say where on the lid the foot stands: in its middle."""
    turned = "across" if made.screws.across else "along"
    if made.lid is None:
        return f"The foot stands in the middle of the lid, {turned} its grain: draw both middle lines on the lid's top."
    long, wide = made.lid
    reach = (wide if made.screws.across else long) / 2 - made.handle.length / 2
    words = (
        f"The foot stands in the middle of the lid, {turned} its grain: draw both middle lines on its top, {{ends}} "
        "from the ends and {sides} from the long edges, and lay the sheet's on them. The foot's ends are then {reach} "
        "from the lid's edges."
    )
    return say(words, ends=long / 2, sides=wide / 2, reach=reach)


def _screw_notes(made: Screwed) -> draw.Notes:
    screws = made.screws
    said: list[Words] = [
        _place(made),
        "Both screws stand on the middle line of the foot, in the neck: only there is wood all the way up to the "
        "crest. Beside the neck a screw comes out in a hole.",
        "Prick both centres through the sheet into the lid; drill the clearance holes from above into a waste block, "
        "sink the heads from below. Hold the handle in its place and mark its foot through the holes.",
        "Measure shank and root of your screws with callipers before drilling. Rub wax on the threads. No glue where "
        "the handle lies across the grain: the lid must move under it.",
    ]
    if screws.crown_radius:
        gap = arithmetic.gap_under_foot(foot=made.handle.thickness, crown_radius=screws.crown_radius)
        said.append(
            say(
                "The lid is crowned: under the edges of a flat foot there is a gap of {gap}. Plane a flat for the "
                "foot, or hollow the foot to the lid.",
                gap=gap,
            )
        )
    return draw.Notes("screw-notes", "How to use this sheet", tuple(said))
