"""The card of the bottom: measured, cut to size, its rabbets set and tried, its corners; and the gauge of a clip.

A bottom as thick as its tongue has no rabbets: its card is one of the bench. Plywood that goes into its grooves as it
is, is sawn; it is glued all round, where solid wood must stay free to move.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Beside, Card, Caution, Check, Checks, Hold, Order, Pictures, Sheets, Template
from jigs.base.drawing import Point
from jigs.base.rules import READ_OUT
from jigs.base.usual import RABBET_BIT, SHEET_SLIP, Usual
from jigs.base.wording import Words, say
from jigs.parts import rabbeting
from jigs.parts.bottom import corner
from jigs.parts.bottom.part import Bottom
from jigs.parts.rabbeting import Rabbets, stages
from jigs.things import section
from jigs.trade import panel

TONGUE_WITHIN = Usual(0.05, 0.002)
"""How near a tongue's thickness is held (common practice, no source)."""
_BY_HAND = (
    Caution("Blade", "Clamp the work. Push the plane away from your hands."),
    Caution("Saw", "Guard and riving knife on. Push small pieces with a stick."),
)
_BY_SAW = (
    Caution("Saw", "Guard and riving knife on. Push small pieces with a stick."),
    Caution("Dust", "Extract it at the saw: dust of plywood holds glue."),
)
_MOST = 170.0
"""The most of a bottom that is drawn in a picture of it, mm."""


def of(made: Bottom) -> Sheets:
    """Return the card of a bottom and, where its corners are clipped, the gauge that marks them."""
    card = _with_rabbets(made) if made.has_rabbets else _planed(made) if made.wood else _sawn(made)
    if not made.groove.corner_size:
        return Sheets((card,))
    use = "lay it on each corner; saw along the slant"
    return Sheets((card,), (Template(corner.clip(made.groove), "bottom", use, "panel"),))


def rabbets(made: Bottom) -> Rabbets:
    """Return the rabbets that leave the tongue, with the bit that is named, or with the one that a shop has."""
    units = made.groove.units
    bit = made.bit or RABBET_BIT.size(units)
    return Rabbets(
        "bottom",
        made.thickness,
        made.rabbet_depths[:1],
        bit,
        _stages(made, bit),
        both_faces=made.wood is not None,
        units=units,
        plywood=made.wood is None,
    )


def _stages(made: Bottom, bit: float) -> tuple[rabbeting.Stage, ...]:
    """Return the settings of the fence; plywood, which moves neither way, has the same for all its edges."""
    moves, still = made.rabbet_widths
    return tuple(
        stage
        for edges, width in ((("ends", still), ("sides", moves)) if made.wood else (("edges", still),))
        for stage in stages(edges, [one.exposed for one in panel.rabbet_passes(width=width, cutter=bit)])
    )


# -- with rabbets --------------------------------------------------------------------------------------------------


def _with_rabbets(made: Bottom) -> Card:
    cut = rabbets(made)
    above = rabbeting.from_above(cut, made.seasons.width, made.length, "From above: ends first, then sides")
    bands = (
        *rabbeting.pictures(cut, above, 62.0, _corner(made)),
        *rabbeting.set_and(cut, _sizes(made), 0.56 if len(cut.stages) < 3 else 0.6),
        Hold(_before_power(made, cut), "tongue set"),
        _trial(made),
        Hold(_before_cutting(made), "tongue tried"),
        Order(tuple(_steps(made))),
    )
    words = "{thick:cut} thick, tongue {tongue:gauge}, ends first"
    about = _about(made, words if made.wood else "plywood {thick:gauge} thick, tongue {tongue:gauge}, ends first")
    return Card("bottom", "Bottom", "Router table", rabbeting.CAUTIONS, bands, about, "panel")


def _sizes(made: Bottom) -> draw.Table:
    """Return what is measured before the bottom is cut, and the sizes that follow, each with room for the maker's."""
    sums = made.sums
    rows: tuple[tuple[draw.Cell, ...], ...] = (
        ("A inside, with grain" if made.wood else "A inside, with face grain", made.along, None),
        ("B inside, across it", made.across, None),
        ("D, shallowest groove", made.groove.depth, None),
        (_less("Length A + 2D", sums.length), made.length, None),
        (_less("Width B + 2D", sums.width), made.seasons.width, None),
    )
    return draw.Table("sizes", "Measure dry, then cut", ("", "drawn", "yours"), rows)


def _less(words: str, amount: float) -> Words:
    """Return a sum with what is taken off it, or added."""
    if abs(amount) < READ_OUT / 2:
        return words
    return say(f"{words} {'−' if amount > 0 else '+'}\u00a0{{amount:gauge}}", amount=abs(amount))


def _before_power(made: Bottom, cut: Rabbets) -> Words:
    words = "Bit tight in its collet, {deep:gauge} high, {out:gauge} out of the fence; guard on."
    return say(words, deep=cut.deep, out=cut.stages[0].exposed)


def _trial(made: Bottom) -> Checks:
    within = TONGUE_WITHIN.size(made.groove.units)
    least, most = made.tongue - within, min(made.groove.cutter, made.tongue + within)
    rows = (
        Check("tongue, both faces cut" if made.wood else "tongue, lower face cut", least, most, TONGUE_WITHIN.mm),
        Check("in a groove of the box", "slides by hand"),
        Check("width of the rabbet", rabbets(made).stages[0].exposed, within=TONGUE_WITHIN.mm),
    )
    scrap = "scrap planed with the bottom; too thick by some? raise the bit by half of it"
    if made.wood is None:
        scrap = "scrap of the same sheet; too thick by some? raise the bit by as much"
    return Checks(rows, "Tongue, tried in scrap", scrap)


def _before_cutting(made: Bottom) -> Words:
    within = TONGUE_WITHIN.size(made.groove.units)
    sizes = {"least": made.tongue - within, "most": min(made.groove.cutter, made.tongue + within)}
    words = "Scrap’s tongue {least:gauge} to {most:gauge}, sliding in a groove by hand."
    return say(words, **sizes)


def _corner(made: Bottom) -> tuple[draw.View, ...]:
    """Return a picture of the corner that is clipped."""
    return (corner.in_the_grooves(made.groove),) if made.groove.corner_size else ()


def _steps(made: Bottom) -> Iterator[Words]:
    cut = rabbets(made)
    several = any(stage.of > 1 for stage in cut.stages)
    narrow = " The narrow setting comes first." if several else ""
    if made.wood:
        yield f"Rabbet both ends on both faces.{narrow} Read the tongue of the bottom."
        yield "Only then set the fence for the sides. Try it in scrap. Rabbet both sides."
    else:
        yield f"Saw it, face grain the long way. Mark its lower face; rabbet that alone, both ends first.{narrow}"
        yield "Read the tongue. Then rabbet both sides with the same settings."
    yield from _other_bit(made, cut)
    yield from _corners(made)
    yield from _by_moisture(made)
    yield from _dry(made)


def _by_moisture(made: Bottom) -> Iterator[Words]:
    """Yield what the width becomes where a meter reads another moisture than that of the shop's air."""
    if made.wood is None:
        return
    step, shop = made.seasons.width * made.wood.coefficient, f"{made.air.shop:.1f}\u00a0%"
    yield say(
        "Where a meter reads above {shop}, cut the bottom {step:gauge} wider for each 1\u00a0%.", shop=shop, step=step
    )


def _other_bit(made: Bottom, cut: Rabbets) -> Iterator[Words]:
    """Yield the settings for the bit of the groove, where no bit is named: it is in hand too."""
    bit = made.groove.cutter
    if made.bit or abs(bit - cut.bit) < READ_OUT:
        return
    settings: dict[str, list[str]] = {}
    sizes: dict[str, float] = {}
    for stage in _stages(made, bit):
        name = f"{stage.edges}{stage.number}"
        sizes[name] = stage.exposed
        settings.setdefault(stage.edges, []).append(f"{{{name}:gauge}}")
    said = "; ".join(f"{edges} {', then '.join(out)}" for edges, out in settings.items())
    yield say(f"Or with the groove’s bit of {{bit:cut}}: {said}.", bit=bit, **sizes)


def _corners(made: Bottom) -> Iterator[Words]:
    """Yield what is done to corners that the round ends of the grooves have no room for."""
    found = made.groove.corner
    if made.groove.corner_size:
        words = "Clip each corner by {clip:cut}; or round it to {radius:cut}, or chop the grooves’ ends square."
        yield say(words, clip=found.clip_leg, radius=found.radius)


def _about(made: Bottom, words: str) -> Words:
    """Return what stands in the header: thickness, tongue, corners."""
    leg = made.groove.corner_size
    corners = "corners clipped {leg:cut}, 45°" if leg else "corners square"
    return say(f"{words}; {corners}", thick=made.thickness, tongue=made.tongue, leg=leg)


def _dry(made: Bottom) -> Iterator[Words]:
    """Yield how it must fit before it is finished and glued in."""
    words = "Try it dry in the four sides: the joints must close by hand."
    if made.wood is None:
        yield words
        # The grooves run along the grain of the sides, which does not move; across it only their width does, by less
        # than 0.1 mm a year for 6. So a sheet, which stays as it is, may be glued to all four.
        yield say(
            "Mask {deep:cut} along its edges on both faces; finish the rest. Glue it all round: plywood does not move.",
            deep=made.groove.depth,
        )
        return
    gap = made.seasons.shoulder_gap
    if made.has_rabbets and gap > READ_OUT:
        words = "Try it dry: joints close by hand, {gap:cut} stays open at each long shoulder."
    yield say(words, gap=gap)
    what = "tongue" if made.has_rabbets else "edges"
    yield f"Oil or varnish the {what} first. Glue only a dab at the middle of each end."


# -- without -------------------------------------------------------------------------------------------------------


def _planed(made: Bottom) -> Card:
    """Return the card of a bottom that is planed all over until it slides in its grooves."""
    within = TONGUE_WITHIN.size(made.groove.units)
    least, most = made.tongue - within, min(made.groove.cutter, made.tongue + within)
    fit = Checks(
        (
            Check("thickness, at all corners", least, most, TONGUE_WITHIN.mm),
            Check("in all grooves of the box", "slides by hand"),
        ),
        "Before any finish",
    )
    bands = (
        Pictures((_whole(made), *_corner(made)), least=60.0, most=120.0),
        Beside(_sizes(made), fit, 0.62),
        Order(tuple(_steps_without(made))),
    )
    about = _about(made, "no rabbets: planed all over to {tongue:gauge}")
    return Card("bottom", "Bottom", "Bench", _BY_HAND, bands, about, "panel")


def _whole(made: Bottom) -> draw.View:
    """The whole bottom with its grain; a large one smaller, with its own numbers."""
    long, wide = made.length, made.seasons.width
    by = min(1.0, _MOST / long)
    x, y = long * by, wide * by
    strokes = [(0.08, 0.15, 0.42), (0.5, 0.3, 0.4), (0.06, 0.72, 0.5), (0.6, 0.85, 0.34)]
    grain = [draw.line((a * x, b * y), ((a + c) * x, b * y)) for a, b, c in strokes]
    shape = draw.rectangle(0, 0, x, y)
    outline = draw.Part("outline", "Bottom", (draw.Line(shape), *draw.lines(grain, draw.Kind.NARROW)))
    dimensions = (
        draw.Dimension(Point(0, y), Point(x, y), "above", "length", scale=by),
        draw.Dimension(Point(x, 0), Point(x, y), "right", "width", scale=by),
    )
    words = "grain the long way" if made.wood else "face grain the long way"
    label = draw.Label(words, Point(x / 2, y / 2), leader=False)
    return draw.View("whole", "The bottom as drawn", (outline,), dimensions, (label,), to_scale=False)


def _steps_without(made: Bottom) -> Iterator[Words]:
    yield "Cut the bottom to your length and width, grain the long way."
    words = "Plane all of it to {tongue:gauge}. It must slide in the grooves by hand, finish and all."
    yield say(words, tongue=made.tongue)
    yield from _corners(made)
    yield from _dry(made)


# -- plywood as it is ----------------------------------------------------------------------------------------------

_SIDE, _SHOWN = 22.0, 26.0
"""How much of a side and of the sheet the picture of an edge in its groove shows, mm."""


def _sawn(made: Bottom) -> Card:
    """Return the card of plywood that goes into its grooves as it is: sawn to size, and glued all round."""
    most = made.groove.cutter - SHEET_SLIP.size(made.groove.units)
    fit = Checks(
        (
            Check("thickness, at all four edges", say("{most:gauge} at most", most=most)),
            Check("in all grooves of the box", "slides by hand"),
        ),
        "The sheet",
        say("taken as {thick:gauge}; read with callipers, not off a label", thick=made.thickness),
    )
    whole, edge = (Pictures((view,), least=50.0, most=120.0) for view in (_whole(made), _edge(made)))
    corners = (Pictures(_corner(made), least=46.0, most=90.0),) if made.groove.corner_size else ()
    bands = (
        Beside(whole, edge, 0.5),
        *corners,
        Beside(_sizes(made), fit, 0.62),
        Order(tuple(_steps_of_a_sheet(made))),
    )
    about = _about(made, "plywood {thick:gauge}, glued all round")
    return Card("bottom", "Bottom", "Saw and bench", _BY_SAW, bands, about, "panel")


def _edge(made: Bottom) -> draw.View:
    """The sheet's edge in the groove of a side, cut across, lying on the groove's lower side."""
    deep, wide = made.groove.depth, made.groove.cutter
    thick, low = made.groove.thickness, -_SIDE / 2 + wide / 2
    side = ((0, low), (0, 0), (-deep, 0), (-deep, wide), (0, wide), (0, low + _SIDE), (-thick, low + _SIDE))
    reach, right = made.seasons.engagement_now, _SHOWN - thick
    sheet = ((-reach, 0), (right, 0), (right, made.thickness), (-reach, made.thickness))
    parts = (
        section.board("side", "Side, cut across", *side, (-thick, low), broken="top"),
        section.plywood("sheet", "Bottom", *sheet, broken="right"),
    )
    dimensions = (
        draw.Dimension(Point(-deep, low), Point(0, low), "below", "depth"),
        draw.Dimension(Point(-thick, 0), Point(-thick, wide), "left", "groove"),
    )
    labels = (
        draw.Label("glue all round", Point(-reach / 2, made.thickness), towards="above", bold=True),
        # In words: a reading of callipers is no fraction of an inch, as which a dimension would be read out.
        draw.Label(say("plywood {thick:gauge}", thick=made.thickness), Point(right - 4.0, 0.0), towards="below"),
        draw.Label("side", Point(-thick / 2, low + 2.5), towards="below"),
    )
    return draw.View("edge", "An edge in its groove", parts, dimensions, labels, to_scale=False)


def _steps_of_a_sheet(made: Bottom) -> Iterator[Words]:
    yield "Measure the sheet at every edge. Is it not as drawn? Have the pages drawn with your reading first."
    yield "Score the cuts across its face grain with a knife, or they splinter."
    yield "Cut the bottom to your length and width, its face grain the long way."
    yield from _corners(made)
    yield from _dry(made)
