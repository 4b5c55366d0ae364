"""The sheets of the bottom: its corner in the grooves, its edge through the seasons, and how its rabbets are cut.

Axes of the corner, seen from above: the box's inside corner at 0, the inside to the right and up. Axes of a section:
the side's inner face at 0 and its bottom edge at 0, the inside to the right.
"""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.base.rules import READ_OUT
from jigs.base.wording import Words, say
from jigs.parts.bottom import rabbets
from jigs.parts.bottom.part import Bottom
from jigs.parts.groove.part import Groove
from jigs.parts.joint.part import LONGS, SHORTS
from jigs.parts.wood.seasons import Curve, wide_by
from jigs.trade import panel

ARM, INSIDE = 28.0, 22.0
"""What is drawn of a side from the inside corner, and of a panel, mm."""
ABOVE, BODY = 8.0, 13.0
"""What is drawn of a side over the panel, and of the panel from the side, mm."""


def drawings(made: Bottom) -> tuple[draw.Drawing, ...]:
    """Return the sheets of a bottom: its rabbets with the bit that is named, or with either of two."""
    cut = (rabbets.drawing(made, made.bit),) if made.has_rabbets else ()
    return (_corner(made), _section(made), *cut)


# -- corner --------------------------------------------------------------------------------------------------------


def _corner(made: Bottom) -> draw.Drawing:
    corner = (_in_the_grooves(made.groove),) if made.groove.stopped else ()
    own = (_clip(made.groove),) if made.groove.corner_kind == "clip" else ()
    purpose = "size and grain of the bottom, and corners that go into the round ends of the grooves"
    body = (*corner, *own, _grain(made), _sizes_table(made), _corner_notes(made))
    return draw.Drawing("corner", "panel and corner", purpose, body, rabbets.CAUTIONS, "panel")


def _in_the_grooves(made: Groove) -> draw.View:
    """The front left corner cut level with the groove, the panel's tongue pushed to the floors of both grooves.

    Where both boards are stopped the groove lies partly in fingers of each: it is drawn where it lies in the front's.
    """
    deep, filling, thick, side = made.depth, made.stopped_kinds[0], made.thicknesses[SHORTS], made.thicknesses[LONGS]
    front, end = (_wood(made, kind, fills=kind == filling) for kind in (LONGS, SHORTS))
    end = tuple(draw.Point(y, x) for x, y in end)
    goes_on = draw.Line(draw.line((-deep, INSIDE), (INSIDE, INSIDE), (INSIDE, -deep)), draw.Kind.NARROW)
    parts = (
        draw.Part(
            "front", "Front, cut at the groove", draw.lines([draw.line(*front)]), hatched=(draw.polygon(*front),)
        ),
        draw.Part("end", "Left end, cut at the groove", draw.lines([draw.line(*end)]), hatched=(draw.polygon(*end),)),
        draw.Part("panel", "Tongue of the bottom", (draw.Line(_tongue(made)), goes_on)),
    )
    thickness = draw.Dimension(draw.Point(-thick, ARM), draw.Point(0, ARM), "above", "side")
    reach = max(made.corner.reach, 0.0)
    if filling == LONGS:
        past = draw.Dimension(draw.Point(-reach, -side), draw.Point(0, -side), "below", "reach")
    else:
        past = draw.Dimension(draw.Point(-thick, -reach), draw.Point(-thick, 0), "left", "reach")
    dimensions = [thickness, draw.Dimension(draw.Point(-deep, ARM), draw.Point(0, ARM), "above", "groove")]
    if reach > READ_OUT:
        dimensions.append(past)
    wall = -thick + 0.6 * (thick - deep)
    labels = (
        draw.Label("bottom", draw.Point(INSIDE * 0.55, INSIDE * 0.55), leader=False),
        draw.Label("left end", draw.Point(wall, ARM * 0.7), towards="left"),
        draw.Label("front", draw.Point(ARM * 0.75, -side + 0.6 * (side - deep)), towards="below"),
    )
    title = "Front left corner, cut at the groove, from above"
    return draw.View("corner", title, parts, tuple(dimensions), labels, check=thickness)


def _wood(made: Groove, kind: str, *, fills: bool) -> tuple[draw.Point, ...]:
    """Return a side's outline in the groove's plane, as if it lay along the foot of the picture.

    Where the groove lies in its finger, the finger fills the corner up to where the groove ends at the tongue's edges;
    else the side begins on the floor of its socket.
    """
    deep, thick, cut = made.depth, made.thicknesses[kind], made.cut_depths[kind]
    if not fills:
        return (draw.Point(ARM, -thick), draw.Point(0, -thick), draw.Point(0, -deep), draw.Point(ARM, -deep))
    reach = max(made.corner.reach, 0.0)
    return (
        draw.Point(ARM, -thick),
        draw.Point(-cut, -thick),
        draw.Point(-cut, 0),
        draw.Point(-reach, 0),
        draw.Point(-reach, -deep),
        draw.Point(ARM, -deep),
    )


def _tongue(made: Groove) -> draw.Path:
    """Return the tongue's corner with its clip, open where the panel goes on."""
    deep, leg = made.depth, made.corner_size
    corner = [(-deep, leg - deep), (leg - deep, -deep)] if leg else [(-deep, -deep)]
    return draw.line((-deep, INSIDE), *corner, (INSIDE, -deep))


def _clip(made: Groove) -> draw.View:
    """The panel's corner by itself: what is sawn off."""
    leg = made.corner_size
    size = leg + 18.0
    outline = draw.line((0, size), (0, leg), (leg, 0), (size, 0))
    waste = draw.polygon((0, 0), (leg, 0), (0, leg))
    part = draw.Part(
        "clip",
        "Corner of the bottom",
        (draw.Line(outline), draw.Line(draw.line((0, leg), (0, 0), (leg, 0)), draw.Kind.NARROW)),
        hatched=(waste,),
    )
    across = draw.Dimension(draw.Point(0, 0), draw.Point(leg, 0), "below", "clip")
    return draw.View(
        "clip",
        "Corner of the bottom, clip all four",
        (part,),
        (across, draw.Dimension(draw.Point(0, 0), draw.Point(0, leg), "left")),
        check=across,
    )


def _corner_notes(made: Bottom) -> draw.Notes:
    said: list[Words] = []
    if not made.has_rabbets:
        words = (
            "The bottom has no rabbets: plane all of it to {tongue}. It must slide in a groove by hand, finish and all."
        )
        said.append(say(words, tongue=made.tongue))
    across = "across it the shoulders keep a gap" if made.has_rabbets else "across it the grooves leave it room"
    said += [
        *_how_the_corner_goes_in(made.groove),
        "Try the bottom dry in the four sides before any glue: the joints must close by hand.",
        f"The grain runs the long way: along it wood does not move, {across}. Finish the tongue before it goes in. "
        "Glue only a dab at the middle of each end.",
    ]
    return draw.Notes("corner-notes", "How to use this sheet", tuple(said))


def _how_the_corner_goes_in(made: Groove) -> tuple[Words, ...]:
    corner = made.corner
    if not made.stopped:
        return ("All grooves run through: the corners of the bottom stay square.",)
    if made.corner_kind == "square":
        square = say(
            "The corners stay square. The end of the groove is round; at the edges of a tongue of {tongue} it "
            "reaches {reach} past the inside corner, and the tongue at most {deep}."
            + (" The {lacks} between them is less than the bottom's play." if made.lacks > READ_OUT else ""),
            tongue=made.tongue,
            reach=corner.reach,
            deep=made.depth,
            lacks=made.lacks,
        )
        return (square,)
    return (
        say(
            "The end of the groove is round; at the edges of a tongue of {tongue} it reaches {reach} past the "
            "inside corner, where a square corner needs {deep}: {short} short.",
            tongue=made.tongue,
            reach=max(0.0, corner.reach),
            deep=made.depth,
            short=corner.shortfall,
        ),
        say(
            "Saw a clip of {clip} off each corner, measured along both edges from the corner. Or round the corners "
            "to a radius of {radius}. Or chop the groove's ends square with a chisel.",
            clip=corner.clip_leg,
            radius=corner.radius,
        ),
    )


def _grain(made: Bottom) -> draw.View:
    """The whole bottom with its grain, as a picture."""
    wide, high = 54.0, 34.0
    grain = [draw.line((x, y), (x + long, y)) for x, y, long in ((5, 5, 28), (20, 10, 29), (4, 24, 31), (21, 29, 28))]
    outline = draw.Part(
        "outline",
        "Bottom",
        (draw.Line(draw.rectangle(0, 0, wide, high)), *draw.lines(grain, draw.Kind.NARROW)),
        arrows=((draw.Point(36, 17), draw.Point(50, 17)), (draw.Point(18, 17), draw.Point(4, 17))),
    )
    labels: tuple[draw.Label, ...] = (
        draw.Label("grain", draw.Point(27, 17), leader=False, height=3.5),
        draw.Label(say("{length} along the grain", length=made.length), draw.Point(wide * 0.6, high), towards="above"),
        draw.Label(say("{width} across it", width=made.seasons.width), draw.Point(wide, high * 0.7), towards="right"),
    )
    title = "The bottom and its grain"
    if made.has_rabbets:
        title = "The bottom with its tongues; which edges are cut first"
        labels += (
            draw.Label("end grain: first", draw.Point(0, high * 0.7), towards="left"),
            draw.Label("long grain: last", draw.Point(wide * 0.4, 0), towards="below"),
        )
    return draw.View("grain", title, (outline,), labels=labels, to_scale=False)


def _sizes_table(made: Bottom) -> draw.Table:
    """Return what is measured before the bottom is cut, and the sizes that follow, each with room for the maker's."""
    sums, (moves, still) = made.sums, made.rabbet_widths
    rows: list[tuple[draw.Cell, ...]] = [
        ("A, inside along the grain", made.along, None),
        ("B, inside across it", made.across, None),
        ("D, groove at its shallowest", made.groove.depth, None),
        (_less("Length = A + 2 × D", sums.length), made.length, None),
        (_less("Width = B + 2 × D", sums.width), made.seasons.width, None),
        ("Thickness", made.thickness, None),
        ("Tongue", made.tongue, None),
    ]
    if made.has_rabbets:
        rows += [
            ("Gap at long-grain shoulders", made.seasons.shoulder_gap, None),
            (_less("Rabbet, long grain = D", sums.rabbet_long_grain), moves, None),
            (_less("Rabbet, end grain = D", sums.rabbet_end_grain), still, None),
        ]
    return draw.Table("sizes", "Measure the dry box, then cut the bottom to", ("", "As drawn", "Yours"), tuple(rows))


def _less(words: str, amount: float) -> Words:
    """Return a sum with what is taken off it, or added."""
    if abs(amount) < READ_OUT / 2:
        return words
    kept = words.replace(" + ", "\u00a0+\u00a0").replace(" × ", "\u00a0×\u00a0")
    return say(f"{kept}\u00a0{'−' if amount > 0 else '+'}\u00a0{{amount}}", amount=abs(amount))


# -- section -------------------------------------------------------------------------------------------------------


def _section(made: Bottom) -> draw.Drawing:
    sizes = made.seasons
    held_wet = (sizes.width_wet - made.across) / 2
    views = (
        _season(made, "dry", "Driest air", sizes.engagement_dry_centred),
        _season(made, "now", "When it is made", sizes.engagement_now),
        _season(made, "wet", "Wettest air", held_wet),
    )
    purpose = (
        "the long-grain edge of the bottom in its groove, at full size through the year: it must neither drop out nor "
        "push the sides apart"
    )
    body = (*views, _seasons_table(made, held_wet), _section_notes(made))
    return draw.Drawing("section", "panel section", purpose, body, rabbets.CAUTIONS, "panel")


def _season(made: Bottom, name: str, title: str, held: float) -> draw.View:
    """A side and the panel's edge, the panel in the middle of the box and lying on the groove's lower side."""
    groove, lower = made.groove, made.groove.from_bottom
    tip, tongue = -held, lower + made.tongue
    depth = made.rabbet_depths[0]
    shoulder = made.rabbet_widths[0] - held if made.has_rabbets else None
    top = max(groove.top, tongue + depth) + ABOVE
    side = draw.Part(f"{name}-side", "Side, cut across", _side_lines(groove, top), hatched=(_side_area(groove, top),))
    panel_part = draw.Part(f"{name}-panel", "Edge of the bottom", _edge_lines(made, tip, shoulder))
    in_groove = draw.Dimension(draw.Point(tip, lower), draw.Point(0, 0), "below", "held")
    dimensions = [in_groove]
    if groove.depth - held > 0.005:
        dimensions.append(draw.Dimension(draw.Point(-groove.depth, groove.top), draw.Point(tip, groove.top), "above"))
    if shoulder is not None and shoulder > 0.005:
        dimensions.append(draw.Dimension(draw.Point(0, top), draw.Point(shoulder, tongue + depth), "above"))
    thickness = draw.Dimension(draw.Point(-_moving(groove), 0), draw.Point(0, 0), "below", "side")
    if name == "now":
        dimensions.append(thickness)
    labels = (draw.Label("end grain", draw.Point(BODY - 4, lower + made.tongue / 2), towards="right"),)
    return draw.View(
        f"section-{name}",
        title,
        (side, panel_part),
        tuple(dimensions),
        labels if name == "now" else (),
        check=thickness if name == "now" else None,
    )


def _moving(made: Groove) -> float:
    """Return the thickness of the sides in whose grooves the panel moves: the longer ones, along its grain."""
    return made.thicknesses[max(made.lengths, key=lambda kind: made.lengths[kind])]


def _side_lines(made: Groove, top: float) -> tuple[draw.Line, ...]:
    thick = _moving(made)
    outline = draw.line(
        (-thick, top),
        (-thick, 0),
        (0, 0),
        (0, made.from_bottom),
        (-made.depth, made.from_bottom),
        (-made.depth, made.top),
        (0, made.top),
        (0, top),
    )
    return (
        draw.Line(outline),
        draw.Line(draw.break_line(draw.Point(-thick, top), draw.Point(0, top)), draw.Kind.NARROW),
        draw.Line(draw.line((-thick - 3, 0), (3, 0)), draw.Kind.REFERENCE),
    )


def _side_area(made: Groove, top: float) -> draw.Path:
    thick = _moving(made)
    lip = ((0, 0), (0, made.from_bottom)) if made.from_bottom else ()  # a groove at the edge has none
    return draw.polygon(
        (-thick, 0),
        *lip,
        (-made.depth, made.from_bottom),
        (-made.depth, made.top),
        (0, made.top),
        (0, top),
        (-thick, top),
    )


def _edge_lines(made: Bottom, tip: float, shoulder: float | None) -> tuple[draw.Line, ...]:
    low = made.groove.from_bottom
    high = low + made.tongue
    below, above = made.rabbet_depths
    if shoulder is None:
        outline = draw.line((BODY, low), (tip, low), (tip, high), (BODY, high))
        return (
            draw.Line(outline),
            draw.Line(draw.break_line(draw.Point(BODY, low), draw.Point(BODY, high)), draw.Kind.NARROW),
        )
    outline = draw.line(
        (BODY, low - below),
        (shoulder, low - below),
        (shoulder, low),
        (tip, low),
        (tip, high),
        (shoulder, high),
        (shoulder, high + above),
        (BODY, high + above),
    )
    return (
        draw.Line(outline),
        draw.Line(draw.break_line(draw.Point(BODY, low - below), draw.Point(BODY, high + above)), draw.Kind.NARROW),
    )


def _seasons_table(made: Bottom, held_wet: float) -> draw.Table:
    sizes, air, deep = made.seasons, made.air, made.groove.depth

    def row(when: str, moisture: float, width: float, held: float) -> tuple[draw.Cell, ...]:
        return when, f"{moisture:.1f} %", width, held, max(0.0, width - made.across - deep)

    rows = (
        row("driest air", air.dry, sizes.width_dry, sizes.engagement_dry_centred),
        row("when it is made", air.shop, sizes.width, sizes.engagement_now),
        row("wettest air", air.wet, sizes.width_wet, held_wet),
    )
    return draw.Table(
        "seasons",
        "Across the grain through the year",
        ("In", "Moisture", "Width", "Held each side", "Slid to one side"),
        rows,
    )


def _section_notes(made: Bottom) -> draw.Notes:
    least = panel.least_engagement(made.groove.depth)
    worst = made.seasons.engagement_dry
    step = made.seasons.width * made.wood.coefficient
    named = made.wood.species.name + ("" if made.wood.named else ", taken because the wood has no name")
    said: list[Words] = [
        "Over each section: on the left the room behind the tongue, on the right the gap at the shoulder.",
        say(
            f"Wood: {named}. Slid to one side in the driest air it is held by {{worst}} on the other; {{least}} or "
            "more is wanted.",
            worst=worst,
            least=least,
        ),
        say(
            "The widths hold at the moisture printed. For each 1 % that a meter reads higher cut the bottom {step} "
            "wider, for each 1 % lower {step} narrower.",
            step=step,
        ),
        say("Along the grain it does not move: {play} of play at each end is enough.", play=made.play),
    ]
    if made.has_rabbets:
        said.append(
            "The shoulders of the long-grain edges must stand off the sides when it is made, or they push the "
            "sides apart in the wettest air."
        )
    return draw.Notes("section-notes", "Why these sizes", tuple(said))


def year_curves(made: Bottom) -> tuple[Curve, ...]:
    """Return what a groove holds of the bottom that is slid into the other one: the worst place it can be in."""
    wide = wide_by(made.seasons.width, made.wood, made.air.shop)
    reached = made.across + made.groove.depth
    held = Curve(
        "held", "bottom held", "Bottom held, slid to one side", draw.Kind.HIDDEN, lambda then: wide(then) - reached
    )
    return (held,)
