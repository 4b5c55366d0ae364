"""The sheets of the lid: plan and sections; those of its rabbets and its crown are in `rabbets` and `crown`.

Axes of the plan: the middle of the lid at 0, grain across the page. Axes of the sections: the middle at 0 and the floor
of the rabbets, which lies on the rim of the box, at 0; the plug hangs below it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.wording import Words, say
from jigs.parts.lid import crown as lid_crown
from jigs.parts.lid import rabbets
from jigs.parts.lid.part import Lid
from jigs.parts.lid.rabbets import RabbetBit
from jigs.parts.wood.seasons import Curve, wide_by
from jigs.trade import lid

_CORNER_ROOM, _SECTION_ROOM = 18.0, 16.0
"""What a detail shows beyond the shoulder of the plug, mm."""
_RIM = 9.0
"""How far down the sides of the box are drawn below the plug, mm."""


def drawings(made: Lid) -> tuple[draw.Drawing, ...]:
    """Return the sheets in the order they are worked from; a flat lid has no crown."""
    bit = RabbetBit(made.bit, made.deepest_pass)
    return (_plan(made), _sections(made), rabbets.drawing(made, bit), *lid_crown.drawings(made))


# -- plan ----------------------------------------------------------------------------------------------------------


def _plan(made: Lid) -> draw.Drawing:
    purpose = "the lid from below: plug, rabbets, grain, and where the box stands under it"
    view = replace(_whole_plan(made), detail=_corner(made))
    cautions_here = (cautions.GENERAL, cautions.SEASONS)
    return draw.Drawing(
        "plan", "lid from below", purpose, (view, _sizes(made), _plan_notes(made)), cautions_here, jig="lid"
    )


def _whole_plan(made: Lid) -> draw.View:
    long, wide = made.length / 2, made.width / 2
    plug_long, plug_wide = made.plug_length / 2, made.plug.width / 2
    out_long, out_wide = long - made.overhang, wide - made.overhang
    centres = draw.lines(
        [draw.line((-long - 4, 0), (long + 4, 0)), draw.line((0, -wide - 4), (0, wide + 4))], draw.Kind.CENTRE
    )
    reference = draw.Line(draw.line((-long - 3, -wide), (long + 3, -wide)), draw.Kind.REFERENCE)
    arrow = (draw.Point(-plug_long * 0.6, plug_wide * 0.5), draw.Point(-plug_long * 0.1, plug_wide * 0.5))
    parts = (
        draw.Part(
            "plan-lid", "Lid from below", (draw.Line(draw.rectangle(-long, -wide, long, wide)), reference, *centres)
        ),
        draw.Part("plan-plug", "Plug", (draw.Line(draw.rectangle(-plug_long, -plug_wide, plug_long, plug_wide)),)),
        draw.Part(
            "plan-box",
            "Outside of the box",
            _overhanging(made, draw.rectangle(-out_long, -out_wide, out_long, out_wide)),
        ),
        draw.Part("grain", "Grain", arrows=(arrow,)),
    )
    size = draw.Dimension(draw.Point(-long, wide), draw.Point(long, wide), "above", "lid")
    dimensions = (
        size,
        draw.Dimension(draw.Point(-plug_long, plug_wide), draw.Point(plug_long, plug_wide), "above", "plug"),
        draw.Dimension(draw.Point(-long, -wide), draw.Point(-plug_long, -plug_wide), "below", "rabbet"),
        *_overhang(made, draw.Point(out_long, -out_wide), draw.Point(long, -wide), "below"),
        draw.Dimension(draw.Point(-long, -wide), draw.Point(-plug_long, -plug_wide), "left", "rabbet"),
        *_overhang(made, draw.Point(-out_long, out_wide), draw.Point(-long, wide), "left"),
        draw.Dimension(draw.Point(-plug_long, -plug_wide), draw.Point(-plug_long, plug_wide), "left", "plug"),
        draw.Dimension(draw.Point(-long, -wide), draw.Point(-long, wide), "left", "lid"),
    )
    labels = (
        draw.Label("grain", draw.Point(-plug_long * 0.35, plug_wide * 0.5), towards="below"),
        draw.Label("plug", draw.Point(plug_long * 0.5, plug_wide * 0.5), leader=False, height=3.5),
        draw.Label("reference edge", draw.Point(-plug_long * 0.5, -wide), towards="above"),
    )
    return draw.View("plan", "Lid from below", parts, dimensions, labels, check=size)


def _corner(made: Lid) -> draw.View:
    """One corner with every critical distance; the lid's corner is at 0."""
    ends, sides = made.rabbets
    right, top = ends + _CORNER_ROOM, sides + _CORNER_ROOM
    out = made.overhang
    reference = draw.Line(draw.line((-3, 0), (right, 0)), draw.Kind.REFERENCE)
    edges = draw.lines([draw.line((right, 0), (0, 0), (0, top))])
    far = draw.Point(right, top)
    breaks = draw.lines(
        [draw.break_line(draw.Point(right, 0), far), draw.break_line(draw.Point(0, top), far)], draw.Kind.NARROW
    )
    grain = (draw.Point(ends + 2, top - 6), draw.Point(right - 3, top - 6))
    parts = (
        draw.Part("plan-lid", "Lid from below, one corner", (*edges, reference, *breaks)),
        draw.Part("plan-plug", "Plug", draw.lines([draw.line((ends, top), (ends, sides), (right, sides))])),
        draw.Part(
            "plan-box", "Outside of the box", _overhanging(made, draw.line((out, top), (out, out), (right, out)))
        ),
        draw.Part("grain", "Grain", arrows=(grain,)),
    )
    rabbet = draw.Dimension(draw.Point(0, 0), draw.Point(ends, sides), "below", "rabbet")
    dimensions = (
        *_overhang(made, draw.Point(0, 0), draw.Point(out, out), "below"),
        rabbet,
        *_overhang(made, draw.Point(0, 0), draw.Point(out, out), "left"),
        draw.Dimension(draw.Point(0, 0), draw.Point(ends, sides), "left", "rabbet"),
    )
    labels = (
        draw.Label("grain", draw.Point(ends + 8, top - 6), towards="right"),
        draw.Label("plug", draw.Point(right - 7, sides + 5), leader=False, height=3.5),
        draw.Label("reference edge", draw.Point(right - 4, 0), towards="right"),
        draw.Label("box", draw.Point(right - 9, out), towards="right")
        if made.overhang
        else draw.Label("edge, over the box's", draw.Point(0, top - 4), towards="right"),
    )
    title = "Lid from below, one corner; the other three are alike"
    return draw.View("plan", title, parts, dimensions, labels, check=rabbet)


def _overhanging(made: Lid, outline: draw.Path) -> tuple[draw.Line, ...]:
    """Return the outside of the box as a line, where the lid does not end above it."""
    return (draw.Line(outline, draw.Kind.NEIGHBOUR if made.overhang else draw.Kind.NARROW),)


def _overhang(made: Lid, start: draw.Point, end: draw.Point, side: draw.Side) -> tuple[draw.Dimension, ...]:
    return (draw.Dimension(start, end, side, "overhang"),) if made.overhang else ()


def _sizes(made: Lid) -> draw.Table:
    rows: list[tuple[draw.Cell, ...]] = [
        ("Lid, cut to", made.length, made.width),
        ("Opening of the box, measured", made.along, made.across),
        ("Plug", made.plug_length, made.plug.width),
        ("Rabbet", *made.rabbets),
    ]
    return draw.Table("sizes", "Sizes on the day it is made", ("", "Along the grain", "Across the grain"), tuple(rows))


def _plan_notes(made: Lid) -> draw.Notes:
    named = made.wood.species.name if made.wood.named else f"not named, taken as {made.wood.species.name}"
    paragraphs: tuple[Words, ...] = (
        say(
            "Measure the top of the finished box's opening with callipers, at both ends and in the middle. If it is "
            "not {along} by {across}, draw this sheet again with what you measured.",
            along=made.along,
            across=made.across,
        ),
        f"Wood: {named}, {_rings(made.wood.rings)}. The grain runs as the arrow says; only across it the lid moves.",
        "Cut the lid square to size. Mark reference edge and inside face, and gauge from them. Ease the plug's edges.",
    )
    return draw.Notes("plan-notes", "How to use this sheet", paragraphs)


def _rings(angle: float) -> str:
    return {0.0: "flat-sawn", 90.0: "quarter-sawn"}.get(angle, f"rings at {angle:g}° to its face")


# -- sections ------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Section:
    """One section: half sizes from the middle, and the crown where it is cut across. Lengths in mm."""

    name: str
    title: str
    lid: float
    plug: float
    opening: float
    outside: float
    depth: float
    edge: float
    crown: float

    def height(self, at: float) -> float:
        """Return the top of the lid over the rabbet's floor, this far from the middle."""
        return self.edge + (lid.crown_height(width=2 * self.lid, rise=self.crown, at=at) if self.crown else 0.0)

    def top(self, start: float) -> tuple[draw.LineTo | draw.ArcTo, ...]:
        """Return the step along the top from the right edge to `start`."""
        end = draw.Point(start, self.height(start))
        if not self.crown:
            return (draw.LineTo(end),)
        radius = lid.arc_radius(2 * self.lid, self.crown)
        return (draw.ArcTo(end, draw.Point(0.0, self.edge + self.crown - radius), anticlockwise=True),)


def _cross(made: Lid) -> _Section:
    return _Section(
        name="cross",
        title="Across the grain, on the box",
        lid=made.width / 2,
        plug=made.plug.width / 2,
        opening=made.across / 2,
        outside=made.width / 2 - made.overhang,
        depth=made.plug_depth,
        edge=made.edge,
        crown=made.crown,
    )


def _long(made: Lid) -> _Section:
    """Along the middle, where the top is as high as the crown and level."""
    return _Section(
        name="long",
        title="Along the grain, through the middle",
        lid=made.length / 2,
        plug=made.plug_length / 2,
        opening=made.along / 2,
        outside=made.length / 2 - made.overhang,
        depth=made.plug_depth,
        edge=made.edge + made.crown,
        crown=0.0,
    )


def _sections(made: Lid) -> draw.Drawing:
    purpose = "plug, rabbets, edge and crown at full size on the day it is made, and what the seasons do to them"
    cross, long = (replace(_whole_section(s), detail=_edge_section(s)) for s in (_cross(made), _long(made)))
    body = (cross, long, _seasons(made), _section_notes(made))
    return draw.Drawing("sections", "lid in section", purpose, body, (cautions.GENERAL, cautions.SEASONS), jig="lid")


def _whole_section(s: _Section) -> draw.View:
    low, foot = -s.depth - _RIM, -s.depth
    lower = [(s.plug, foot), (s.plug, 0.0), (s.lid, 0.0), (s.lid, s.height(s.lid))]
    left = [(-s.lid, 0.0), (-s.plug, 0.0), (-s.plug, foot)]
    steps = (
        *(draw.LineTo(draw.Point(*p)) for p in lower),
        *s.top(-s.lid),
        *(draw.LineTo(draw.Point(*p)) for p in left),
    )
    outline = draw.Path(draw.Point(-s.plug, foot), steps, closed=True)
    parts = (
        draw.Part(f"{s.name}-lid", "Lid, cut through", (draw.Line(outline), _centre(s)), hatched=(outline,)),
        _box(s, 1, -1),
    )
    plug = draw.Dimension(draw.Point(-s.plug, foot), draw.Point(s.plug, foot), "below", "plug")
    size = draw.Dimension(draw.Point(-s.lid, 0), draw.Point(s.lid, 0), "above", "lid")
    opening = draw.Dimension(draw.Point(-s.opening, low), draw.Point(s.opening, low), "below", "opening")
    crown = draw.Dimension(draw.Point(s.lid, s.edge), draw.Point(0, s.edge + s.crown), "right", "crown")
    dimensions = (*_small_dimensions(s), plug, opening, size, *((crown,) if s.crown else ()))
    return draw.View(s.name, s.title, parts, dimensions, _fit_labels(s), check=size)


def _edge_section(s: _Section) -> draw.View:
    start = max(0.0, s.plug - _SECTION_ROOM)
    foot = -s.depth
    lower = [(s.plug, foot), (s.plug, 0.0), (s.lid, 0.0), (s.lid, s.height(s.lid))]
    steps = (*(draw.LineTo(draw.Point(*p)) for p in lower), *s.top(start))
    outline = draw.Path(draw.Point(start, foot), steps)
    hatched = replace(outline, closed=True)
    broken = draw.Line(draw.break_line(draw.Point(start, foot), draw.Point(start, s.height(start))), draw.Kind.NARROW)
    parts = (
        draw.Part(f"{s.name}-lid", "Lid, cut through, one edge", (draw.Line(outline), broken), hatched=(hatched,)),
        _box(s, 1),
    )
    check = draw.Dimension(draw.Point(s.plug, 0), draw.Point(s.lid, s.height(s.lid)), "above", "rabbet")
    dimensions = (*_small_dimensions(s), check)
    return draw.View(s.name, f"{s.title}; the other edge is alike", parts, dimensions, _fit_labels(s), check=check)


def _small_dimensions(s: _Section) -> tuple[draw.Dimension, ...]:
    """What the fit depends on, at the right edge."""
    low = -s.depth - _RIM
    overhang = draw.Dimension(draw.Point(s.outside, low), draw.Point(s.lid, 0), "below", "overhang")
    name = "edge" if s.name == "cross" else "lid over the box"
    return (
        *((overhang,) if s.lid > s.outside else ()),
        draw.Dimension(draw.Point(s.lid, 0), draw.Point(s.lid, s.edge), "right", name),
        draw.Dimension(draw.Point(s.opening, -s.depth), draw.Point(s.lid, 0), "right", "plug"),
    )


def _fit_labels(s: _Section) -> tuple[draw.Label, ...]:
    """What is too narrow for a dimension, and what lies inside the wood."""
    gap = draw.Label(
        say("gap {gap}", gap=s.opening - s.plug), draw.Point((s.plug + s.opening) / 2, -s.depth / 2), towards="left"
    )
    thick = say("{thick} over the shoulder", thick=s.height(s.plug))
    return gap, draw.Label(thick, draw.Point(s.plug, s.height(s.plug)), towards="above")


def _centre(s: _Section) -> draw.Line:
    return draw.Line(draw.line((0, -s.depth - 4), (0, s.height(0) + 4)), draw.Kind.CENTRE)


def _box(s: _Section, *hands: int) -> draw.Part:
    """Return the tops of the box's sides, open below, where they go on."""
    low = -s.depth - _RIM
    walls = [
        draw.line((h * s.opening, low), (h * s.opening, 0), (h * s.outside, 0), (h * s.outside, low)) for h in hands
    ]
    hatched = tuple(replace(wall, closed=True) for wall in walls)
    return draw.Part(f"{s.name}-box", "Sides of the box", draw.lines(walls), hatched=hatched)


def _seasons(made: Lid) -> draw.Table:
    outside = made.width - 2 * made.overhang
    widths = (made.width, *made.widths)
    rows: tuple[tuple[draw.Cell, ...], ...] = (
        ("moisture", *(f"{moisture:.1f} %" for moisture in (made.air.shop, made.air.dry, made.air.wet))),
        ("gap, both sides", made.plug.gap_now, made.plug.gap_dry, made.plug.gap_wet),
        ("lid, wide", *widths),
        ("overhang, each side", *(lid.overhang(lid=width, outside=outside) for width in widths)),
    )
    return draw.Table("seasons", "The lid in its seasons, across the grain", ("", "Now", "Driest", "Wettest"), rows)


def _section_notes(made: Lid) -> draw.Notes:
    locks = made.locks_at
    jam: Words = (
        "No humidity of this warmth makes the plug fill the opening."
        if locks is None
        else say(
            "The plug fills the opening when the wood has been in air of {humidity} % at {warm} °C for weeks; "
            "your wettest air gives the wood {wet} % of moisture, and leaves a gap of {gap}.",
            humidity=f"{locks:.0f}",
            warm=f"{made.air.wet_temperature:g}",
            wet=f"{made.air.wet:.1f}",
            gap=made.clearance,
        )
    )
    paragraphs: tuple[Words, ...] = (
        "The gap drawn is that of the day the lid is made, the lid in the middle of the box.",
        jam,
        say(
            "If a gap of {gap} now is too much for you: a quarter-sawn lid has {quartered}; or let two pads at the "
            "middle of the ends keep the lid in place.",
            gap=made.plug.gap_now,
            quartered=made.quartered.gap_now,
        )
        if made.wood.rings < 90
        else "The wood is quarter-sawn: no other way of sawing moves less.",
        say("Finish fills the gap: four films, each about {film}, come off it.", film=0.05),
    )
    return draw.Notes("section-notes", "What the seasons do", paragraphs)


def year_curves(made: Lid) -> tuple[Curve, ...]:
    """Return the whole gap at a lid's plug, both sides together, and the lid's overhang on each side."""
    plug, whole = (wide_by(width, made.wood, made.air.shop) for width in (made.plug.width, made.width))
    outside = made.width - 2 * made.overhang
    return (
        Curve(
            "gap",
            "gap of the plug",
            "Gap of the plug, both sides",
            draw.Kind.EDGE,
            lambda then: made.across - plug(then),
        ),
        Curve(
            "overhang", "overhang", "Overhang, each side", draw.Kind.CENTRE, lambda then: (whole(then) - outside) / 2
        ),
    )
