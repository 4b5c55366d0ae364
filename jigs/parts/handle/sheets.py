"""The sheets of the hole-saw handle: blank, outline, drilling, and the template for the screws through the lid.

Axes of the blank, seen on its face: x from its middle, y up from its foot, which is the reference edge.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.usual import Usual
from jigs.base.wording import Words, say
from jigs.parts.handle import outline
from jigs.parts.handle import picture as handle_picture
from jigs.parts.handle.part import Handle
from jigs.trade import handle as arithmetic

INTO_WASTE = Usual(2, 1 / 16)
"""How far the saw goes into the waste block, and past the middle from each face (no source)."""
WASTE_THICKNESS, WASTE_BEYOND = Usual(12, 1 / 2), Usual(10, 3 / 8)
"""The least thickness of the waste block, and how far it stands out round the blank (no source)."""
FOOT_SHOWN = 55.0
"""Half of what is drawn of a longer foot on the lid, mm."""
FORMULA_WITHIN = 0.01
"""Formula and measured outline agree to this: twice the chord error and the last digit, mm."""
CAUTIONS = (cautions.GENERAL, cautions.HOLE_SAW)


def drawings(made: Handle) -> tuple[draw.Drawing, ...]:
    """Return the sheets that make a handle, in the order they are worked from."""
    return _blank(made), _drilling(made), _outline(made)


def sheet_of(name: str, title: Words, purpose: Words, *body: draw.Item, tools: Sequence[str]) -> draw.Drawing:
    """Return a sheet of a handle, with the cautions of the hole saw and the tools it takes."""
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
    return sheet_of("blank", "handle, blank", purpose, view, notes, tools=(cautions.HOLE_SAW, cautions.HAND_TOOLS))


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
    return sheet_of("drilling", "handle, drilling", purpose, *body, tools=(cautions.HOLE_SAW,))


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
    return sheet_of(
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
