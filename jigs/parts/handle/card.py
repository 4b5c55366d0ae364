"""The card of the handle: fence, stop and clamps of the drill press, the depth of the saw, the order of drilling.

What is done with the handle at the bench is in `bench`: on the back of this card, or on the one that finishes a box.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jigs.base import drawing as draw
from jigs.base.cards import (
    Band,
    Beside,
    Card,
    Caution,
    Check,
    Checks,
    Hold,
    Order,
    Pictures,
    Setting,
    Settings,
    Sheets,
    Template,
)
from jigs.base.drawing import Bounds, Kind, Point
from jigs.base.usual import CLAMP_PAD, Usual
from jigs.base.wording import Words, say
from jigs.parts.handle import bench, templates
from jigs.parts.handle.part import Drilling, Handle
from jigs.parts.handle.screws import Screwed
from jigs.parts.lid.part import Lid
from jigs.record import replace
from jigs.things import plan, section
from jigs.trade.handle import PILOT_DRILL, SAW_KERF, rim_in_wood

INTO_WASTE = Usual(2, 1 / 16)
"""How far the saw goes into the waste block, and past the middle from each face (no source)."""
WASTE_THICKNESS, WASTE_BEYOND = Usual(12, 1 / 2), Usual(10, 3 / 8)
"""The least thickness of the waste block, and how far it stands out round the blank (no source)."""
SET_WITHIN, READ_WITHIN = 0.2, 0.5
"""How near fence and stop are set, and how near the wood left comes to what is drawn (common practice), mm."""
CAUTIONS = (
    Caution("Grab", "Clamp blank and waste block to the table. Hold nothing by hand."),
    Caution("Kick", "Drill press only: lowest speed, light feed, lift often."),
    Caution("Catch", "No gloves. Tie back sleeves and hair: the saw winds them up."),
    Caution("Core", "Clear chips and cores only when the saw stands still."),
)


def of(made: Handle, lid: Lid | None) -> Sheets:
    """Return the card of a box's handle and its templates; the one of its base belongs to the card that finishes it.

    Where the screws don't do, theirs is left out.
    """
    screwed = bench.screwed(made, lid)
    return Sheets((_card(made, ()),), (_piece(made), *([_base(screwed, "finish")] if screwed else [])))


def finish_bands(made: Handle, lid: Lid | None) -> tuple[Band, ...]:
    """Return what the card that finishes a box says of its handle: its screws, their section, what others must measure.

    Its steps stand in one order of work with those of the lid: `bench.steps` are these, the first of them (`shaped`
    false) before the lid gets its crown.
    """
    screwed = bench.screwed(made, lid)
    return bench.bands(screwed, brief=True) if screwed else ()


def alone(screwed: Screwed) -> Sheets:
    """Return card and templates of a handle that belongs to no box: what is done at the bench is on the card's back."""
    card = _card(screwed.handle, (*bench.bands(screwed), bench.order(screwed)))
    return Sheets((card,), (_piece(screwed.handle), _base(screwed, "handle")))


def _piece(made: Handle) -> Template:
    drill = "drill 1 to 3" if made.middle else "drill 1 and 2"
    use = f"Glue it on; {drill}, {'rip, ' if made.arched else ''}trim, saw the crest last."
    return Template(templates.blank(made), "handle", use, "handle")


def _base(screwed: Screwed, card: str) -> Template:
    prick = "both" if screwed.count == 2 else "all"
    use: Words = f"Lay its middle lines on the lid’s; prick {prick} holes."
    if screwed.reach is not None:
        words = f"Middle lines on the lid’s; prick {prick} holes. Its ends {{reach:cut}} from the lid’s."
        use = say(words, reach=screwed.reach)
    return Template(templates.base(screwed), card, use, "handle")


def _card(made: Handle, more: Sequence[Band]) -> Card:
    beyond = 2 * WASTE_BEYOND.size(made.units)
    about = say(
        "blank {long} × {high} × {thick}, waste block {wide:rough} × {deep:rough} × {waste} or more",
        long=made.blank_length,
        high=made.blank_height,
        thick=made.thickness,
        wide=made.blank_length + beyond,
        deep=made.blank_height + beyond,
        waste=WASTE_THICKNESS.size(made.units),
    )
    bands = (
        Pictures((_from_above(made), _at_the_saw(made)), least=_picture_room(made), most=104.0, shares=(0.64, 0.36)),
        Beside(Settings(tuple(_settings(made))), _checks(made), 0.72),
        Hold(_before_drilling(made), "holes set"),
        Order(tuple(_order(made)), "Drill half from each face"),
        *more,
    )
    cautions = (*CAUTIONS, Caution("Walk", _may_walk(made)))
    return Card("handle", "Handle", "Drill press", cautions, bands, about, "handle")


def _picture_room(made: Handle) -> float:
    """Return the least height of the pictures, mm: the blank that an arch needs is high, and its distances are more."""
    if not made.middle:
        return 58.0
    seen = made.blank_height + 2 * plan.FENCE_DEEP
    return min(70.0, max(50.0, 26.0 + 0.26 * seen))


def _may_walk(made: Handle) -> str:
    """Say what keeps the saw in its place."""
    if not all(one.pilot.stays for one in made.drillings):
        return "Without a pilot drill it walks: keep wood all round the saw rim."
    if made.middle and made.arched:
        rim = min(made.holes.rim_in_wood, rim_in_wood(made.middle.radius, made.middle.y))
        return f"Drill before you trim or rip: then only {100 * rim:.0f} % of the saw rim is in wood."
    return f"Drill untrimmed: trimmed, only {100 * made.holes.rim_in_wood:.0f} % of the saw rim is in wood."


# -- settings, checks, order ---------------------------------------------------------------------------------------


def _settings(made: Handle) -> Iterator[Setting]:
    yield from _row_of_three(made) if made.middle else _two_ends(made)
    into, pads = INTO_WASTE.size(made.units), say("{room:cut}", room=made.clamp_room)
    yield Setting("clamps", "Pads to centre" if made.middle else "Pads to saw centre", pads, 0.0, "rule; or more")
    deep = made.thickness / 2 + into
    yield Setting("half", "Half depth" if made.middle else "Depth, each face", deep, READ_WITHIN, "depth stop")


def _two_ends(made: Handle) -> Iterator[Setting]:
    [ends], rim = made.drillings, "block {block:cut}, saw rim"
    yield Setting("saw", "Hole cut in scrap", 2 * ends.radius, 0.05, "callipers")
    yield Setting("fence", "Fence to saw centre", ends.fence, SET_WITHIN, say(rim, block=ends.block))
    yield Setting("stop", "Stop to saw centre", ends.stop, SET_WITHIN, say(rim, block=ends.stop - ends.radius))


def _row_of_three(made: Handle) -> Iterator[Setting]:
    """Yield what is set for the holes through the ends, then what is another for the one in the middle."""
    (ends, middle), rim = made.drillings, "block {block:cut}, rim"
    two_saws, two_fences = middle.radius != ends.radius, middle.fence != ends.fence
    saw, fence = "Saw, ends" if two_saws else "Hole in scrap", "Fence, ends" if two_fences else "Fence, all"
    yield Setting("saw", saw, 2 * ends.radius, 0.05, "callipers")
    yield Setting("fence", fence, ends.fence, SET_WITHIN, say(rim, block=ends.block))
    yield Setting("stop", "Stop, ends", ends.stop, SET_WITHIN, say(rim, block=ends.stop - ends.radius))
    if two_saws:
        yield Setting("saw-2", "Saw, middle", 2 * middle.radius, 0.05, "callipers")
    if two_fences:
        yield Setting("fence-2", "Fence, middle", middle.fence, SET_WITHIN, say(rim, block=middle.block))
    yield Setting("stop-2", "Stop, middle", middle.stop, SET_WITHIN, "half the blank")


def _checks(made: Handle) -> Checks:
    holes = made.holes
    neck = "neck, between the holes"
    where = {
        neck: holes.thinnest_neck,
        "under the holes": holes.base,
        "above the upper cusp": holes.horn_tip,
        "above the holes": holes.over_holes,
        "foot, beside the arch": holes.foot,
    }
    thinnest = min(where, key=lambda name: where[name])
    rows = [Check("saw rim in wood", "all of it"), Check(neck, *_about(where[neck]), 0.1)]
    if thinnest != neck:
        rows.append(Check(f"thinnest, {thinnest}", *_about(holes.least_wood), 0.1))
    return Checks(tuple(rows), "Check")


def _about(size: float) -> tuple[float, float]:
    within = min(READ_WITHIN, size / 4)
    return size - within, size + within


def _before_drilling(made: Handle) -> str:
    return f"All clamped; clamp pads clear; pilot drill {_pilot(made)}; lowest speed."


def _pilot(made: Handle) -> str:
    """Say where the pilot drill is, for all holes or for each saw."""
    said = ["in" if one.pilot.stays else "out" for one in made.drillings]
    if len(set(said)) == 1:
        return said[0]
    return ", ".join(f"{way} for {one.named}" for way, one in zip(said, made.drillings, strict=True))


def _order(made: Handle) -> Iterator[Words]:
    ends, *middle = made.drillings
    deep = made.thickness / 2 + INTO_WASTE.size(made.units)
    first, other = ends.holes
    against = "edge" if made.arched else "base"
    if not made.pilot.stays:
        out = "Take the pilot drill out: one of {drill:gauge} is wider than the core that falls out."
        yield say(out, drill=PILOT_DRILL)
    yield say(f"One hand on the lever, none on the work: drill hole {first}, {{deep}} deep.", deep=deep)
    yield f"Turn end for end, other face up, {against} on the fence. Clamp; drill hole {other}."
    yield say("Set the stop left of the saw, {stop} from its centre. Turn end for end again.", stop=made.stop)
    yield "Clamp, drill the second halves. Fence and ends are the same: they meet."
    for one in middle:
        yield _middle_hole(one, ends)
    if not middle:
        through = made.thickness + INTO_WASTE.size(made.units)
        yield say("Or drill each hole {deep} deep from one face, into fresh waste wood.", deep=through)
    yield "Where a clamp would stand on a hole, lay a batten across the hole."
    if made.below:
        yield say("Rip {below} off below the base: saw beside the line, plane to it.", below=made.below)
    yield say("Trim both ends to {long}. Saw the crest last, while the base is straight.", long=made.length)


def _middle_hole(one: Drilling, ends: Drilling) -> Words:
    """Return how the middle hole is drilled, from both faces with the same end at the stop."""
    changed = [] if one.radius == ends.radius else ["its saw"]
    if one.pilot.stays != ends.pilot.stays:
        changed.append("pilot drill in" if one.pilot.stays else "pilot drill out")
    if one.fence != ends.fence:
        changed.append("fence {fence}")
    changed.append("stop {stop} right, then left of the saw")
    return say(f"Hole {one.holes[0]} likewise: {', '.join(changed)}.", fence=one.fence, stop=one.stop)


# -- pictures ------------------------------------------------------------------------------------------------------


def _from_above(made: Handle) -> draw.View:
    """The drill press from above, its saw at 0: fence away from you, stop at the right, clamps on the far half."""
    ends = made.drillings[0]
    face, right = ends.fence, ends.stop
    left, low = right - made.blank_length, face - made.blank_height
    beyond = WASTE_BEYOND.size(made.units)
    waste = Bounds(left - beyond, low - beyond, right, face)
    far = right + plan.STOP_WIDE + 6.0
    room = made.clamp_room - CLAMP_PAD.size(made.units)
    pads = _pads(made, left, low)
    parts = [
        plan.board("waste-block", "Waste block", waste),
        plan.fence(waste.left - 12.0, far, face),
        plan.board("blank", "Blank, not yet trimmed", Bounds(left, low, right, face), reference="above"),
        *_to_come(made, left, right, face),
        draw.Part("saw-axes", "Distances from the saw", draw.lines(_axes(made, waste, far), Kind.CENTRE)),
        plan.hole_saw((0.0, 0.0), 2 * made.radius, PILOT_DRILL if made.pilot.stays else 0.0),
        draw.Part("no-clamp", "No clamp inside", (draw.Line(draw.Circle(Point(0, 0), room), Kind.NEIGHBOUR),)),
        *plan.stop("right", right, face),
        *(_clamp(f"clamp-{i}", at, waste.left - 16.0, made) for i, at in enumerate(pads, start=1)),
    ]
    return draw.View(
        "from-above",
        f"From above, hole {ends.holes[0]} first: no hand on the work",
        tuple(parts),
        tuple(_plan_dimensions(made, waste, far)),
        tuple(_plan_labels(made, waste, pads)),
        to_scale=False,
    )


def _others(made: Handle) -> list[tuple[int, draw.Circle]]:
    """Return the holes that are drilled later, by their numbers, as they lie when the last one is under the saw."""
    face, right = made.drillings[0].fence, made.drillings[0].stop
    found = []
    for number, hole in enumerate(made.holes.row[:-1], start=1):
        middle = Point(right - made.blank_length / 2 + hole.x, face - hole.y - made.below)
        found.append((number, draw.Circle(middle, hole.radius)))
    return found


def _to_come(made: Handle, left: float, right: float, face: float) -> Iterator[draw.Part]:
    """Yield the holes to come, and the line at which the blank is ripped."""
    for number, circle in _others(made):
        name = "hole-to-come" if number == 1 else f"hole-to-come-{number}"
        yield draw.Part(name, f"Hole {number}, to be drilled", (draw.Line(circle, Kind.HIDDEN),))
    if made.below:
        base = draw.line((left, face - made.below), (right, face - made.below))
        yield draw.Part("rip", "Base, ripped to later", (draw.Line(base, Kind.NARROW),))


def _axes(made: Handle, waste: Bounds, far: float) -> list[draw.Path]:
    """Return the lines from the holes to where their distances stand."""
    axes = [draw.line((made.radius + 3, 0), (far, 0)), draw.line((0, -made.radius - 3), (0, waste.bottom))]
    for _, circle in _others(made)[1:]:
        centre = circle.centre
        axes.append(draw.line(centre, (centre.x, waste.bottom)))
        if centre.y:
            axes.append(draw.line(centre, (far, centre.y)))
    return axes


def _plan_dimensions(made: Handle, waste: Bounds, far: float) -> Iterator[draw.Dimension]:
    ends, *middle = made.drillings
    face, right = ends.fence, ends.stop
    yield draw.Dimension(Point(far, 0), Point(far, face), "right", "", "fence")
    yield draw.Dimension(Point(0, waste.bottom), Point(right, waste.bottom), "below", "", "stop")
    if not middle:
        yield draw.Dimension(
            Point(-2 * made.holes.centre_offset, waste.bottom), Point(0, waste.bottom), "below", "centres"
        )
    for one in middle:
        yield draw.Dimension(Point(right - one.stop, waste.bottom), Point(right, waste.bottom), "below", "", "stop-2")
        if one.fence != ends.fence:
            yield draw.Dimension(Point(far, face - one.fence), Point(far, face), "right", "", "fence-2")


def _plan_labels(made: Handle, waste: Bounds, pads: Sequence[Point]) -> list[draw.Label]:
    beyond, face = WASTE_BEYOND.size(made.units), made.drillings[0].fence
    middle = (waste.left + made.stop) / 2
    clear = draw.on_circle(Point(0, 0), made.clamp_room - CLAMP_PAD.size(made.units), -60)
    against = "lower edge" if made.arched else "base"
    numbers = [
        draw.Label(str(number), circle.centre.moved(circle.radius / 2, 0), leader=False, height=3.5, bold=True)
        for number, circle in _others(made)
    ]
    last = str(made.holes.count)
    return [
        draw.balloon("clamps", pads[-1], "below"),
        draw.Label(
            f"fence, clamped; the {against} against it", Point(middle, face + plan.FENCE_DEEP / 2), leader=False
        ),
        draw.Label("stop", Point(made.stop + plan.STOP_WIDE / 2, face - plan.STOP_DEEP + 6.5), leader=False),
        *numbers,
        draw.Label(last, Point(made.radius * 0.48, made.radius * 0.48), leader=False, height=2.5, bold=True),
        draw.Label("no pad inside", clear, towards="right", bold=True),
        draw.Label("waste block", Point(waste.left + 0.3 * waste.width, waste.bottom + beyond / 2), leader=False),
    ]


def _pads(made: Handle, left: float, low: float) -> list[Point]:
    """Where clamps press on the far half, clear of the saw: two, or one where the blank has no room for two."""
    pad = CLAMP_PAD.size(made.units)
    x = min(-made.clamp_room, left + pad + 2.0)
    high, middle = made.blank_height, low + made.blank_height / 2
    if high < 4 * pad + 2.0:
        return [Point(x, middle)]
    apart = min(high / 2 - pad - 1.0, high / 4 + pad / 2)
    return [Point(x, middle + apart), Point(x, middle - apart)]


def _clamp(name: str, pad: Point, start: float, made: Handle) -> draw.Part:
    """Return a clamp that reaches in from the left and presses down with its pad, which has its true size."""
    arm = draw.rectangle(start, pad.y - 5.0, pad.x, pad.y + 5.0)
    foot = draw.Circle(pad, CLAMP_PAD.size(made.units))
    screw = draw.Circle(pad, 5.0)
    turned = draw.line((pad.x - 9.0, pad.y - 3.0), (pad.x + 9.0, pad.y + 3.0))
    return draw.Part(name, "Clamp", draw.lines((arm, foot, screw, turned)), covers=(arm, foot))


def _at_the_saw(made: Handle) -> draw.View:
    """Saw, blank and waste block cut across through the centre of the hole, half of it drilled."""
    into, thick, waste = INTO_WASTE.size(made.units), made.thickness, WASTE_THICKNESS.size(made.units)
    r, right = made.radius, made.stop
    left = -(r + 7.0)
    bottom = thick / 2 - into
    pilot = PILOT_DRILL if made.pilot.stays else 0.0
    saw = section.hole_saw(0.0, 2 * r, bottom, thick / 2 + into + 12.0, pilot)
    drill = [draw.rectangle(-pilot / 2, bottom - 6, pilot / 2, thick)] if pilot else []
    parts = (
        section.table(left, right + 13.0, -waste),
        section.face("waste-block", "Waste block", draw.rectangle(left, -waste, right, 0.0)),
        _cut_blank(made, left, bottom),
        section.face("stop", "Stop", draw.rectangle(right, -waste, right + 10.0, thick * 0.8)),
        replace(saw, covers=(*saw.hatched, *drill)),
        draw.Part(
            "middle",
            "Middle of the thickness",
            (draw.Line(draw.line((left - 3.0, thick / 2), (right + 12.0, thick / 2)), Kind.CENTRE),),
        ),
    )
    edge = right + 13.0
    dimensions = (draw.Dimension(Point(edge, bottom), Point(edge, thick), "right", "", "half"),)
    return draw.View("at-the-saw", "Section at the saw", parts, dimensions, tuple(_saw_labels(made)), to_scale=False)


def _cut_blank(made: Handle, left: float, bottom: float) -> draw.Part:
    """The blank with the slot that the teeth have cut; it goes on at the left."""
    r, thick, right = made.radius, made.thickness, made.stop
    core = max(r - SAW_KERF, r / 3)
    shape = draw.polygon(
        (left, 0.0), (right, 0.0), (right, thick), (r, thick), (r, bottom), (core, bottom), (core, thick),
        (-core, thick), (-core, bottom), (-r, bottom), (-r, thick), (left, thick),
    )  # fmt: skip
    corners = [shape.start, *(step.end for step in shape.steps)]
    zigzag = draw.break_line(Point(left, 0.0), Point(left, thick))
    return draw.Part("blank", "Blank", (draw.Line(draw.line(*corners)), draw.Line(zigzag, Kind.NARROW)), (), (shape,))


def _saw_labels(made: Handle) -> Iterator[draw.Label]:
    thick, waste = made.thickness, WASTE_THICKNESS.size(made.units)
    top = thick + 8.0
    yield draw.balloon("saw", (made.radius, top), "right")
    yield draw.Label("waste", Point(made.radius * 0.6, -waste / 2), leader=False)
    yield draw.Label("core", Point(made.radius * 0.55, thick * 0.75), leader=False)
    yield draw.Label("stop", Point(made.stop + 5.0, thick * 0.8), towards="above")
    if made.pilot.stays:
        yield draw.Label("pilot drill", Point(0.0, top), towards="above")
    else:
        yield draw.Label("no pilot drill", Point(0.0, top), towards="above")
