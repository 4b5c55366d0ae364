"""The card of the bottom: measured, cut to size, its rabbets set and tried, its corners; and the gauge of a clip.

A bottom as thick as its tongue has no rabbets: its card is one of the bench.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Beside, Card, Caution, Check, Checks, Hold, Order, Pictures, Sheets, Template
from jigs.base.drawing import Point
from jigs.base.rules import READ_OUT
from jigs.base.usual import RABBET_BIT, Usual
from jigs.base.wording import Words, say
from jigs.parts import rabbeting
from jigs.parts.bottom import corner
from jigs.parts.bottom.part import Bottom
from jigs.parts.rabbeting import Rabbets, stages
from jigs.trade import panel

TONGUE_WITHIN = Usual(0.05, 0.002)
"""How near a tongue's thickness is held (common practice, no source)."""
_BY_HAND = (
    Caution("Blade", "Clamp the work. Push the plane away from your hands."),
    Caution("Saw", "Guard and riving knife on. Push small pieces with a stick."),
)
_MOST = 170.0
"""The most of a bottom that is drawn in a picture of it, mm."""


def of(made: Bottom) -> Sheets:
    """Return the card of a bottom and, where its corners are clipped, the gauge that marks them."""
    card = _with_rabbets(made) if made.has_rabbets else _planed(made)
    if not made.groove.corner_size:
        return Sheets((card,))
    use = "lay it on each corner; saw along the slant"
    return Sheets((card,), (Template(corner.clip(made.groove), "bottom", use, "panel"),))


def rabbets(made: Bottom) -> Rabbets:
    """Return the rabbets that leave the tongue, with the bit that is named, or with the one that a shop has."""
    units = made.groove.units
    bit = made.bit or RABBET_BIT.size(units)
    return Rabbets(
        "bottom", made.thickness, made.rabbet_depths[:1], bit, _stages(made, bit), both_faces=True, units=units
    )


def _stages(made: Bottom, bit: float) -> tuple[rabbeting.Stage, ...]:
    moves, still = made.rabbet_widths
    return tuple(
        stage
        for edges, width in (("ends", still), ("sides", moves))
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
    about = _about(made, "{thick:cut} thick, tongue {tongue:gauge}, ends first")
    return Card("bottom", "Bottom", "Router table", rabbeting.CAUTIONS, bands, about, "panel")


def _sizes(made: Bottom) -> draw.Table:
    """Return what is measured before the bottom is cut, and the sizes that follow, each with room for the maker's."""
    sums = made.sums
    rows: tuple[tuple[draw.Cell, ...], ...] = (
        ("A inside, with grain", made.along, None),
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
        Check("tongue, both faces cut", least, most, TONGUE_WITHIN.mm),
        Check("in a groove of the box", "slides by hand"),
        Check("width of the rabbet", rabbets(made).stages[0].exposed, within=TONGUE_WITHIN.mm),
    )
    return Checks(
        rows, "Tongue, tried in scrap", "scrap planed with the bottom; too thick by some? raise the bit by half of it"
    )


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
    yield f"Rabbet both ends on both faces.{narrow} Read the tongue of the bottom."
    yield "Only then set the fence for the sides. Try it in scrap. Rabbet both sides."
    yield from _other_bit(made, cut)
    yield from _corners(made)
    yield from _by_moisture(made)
    yield from _dry(made)


def _by_moisture(made: Bottom) -> Iterator[Words]:
    """Yield what the width becomes where a meter reads another moisture than that of the shop's air."""
    step, shop = made.seasons.width * made.wood.coefficient, f"{made.air.shop:.1f}\u00a0%"
    yield say(
        "Where a meter reads above {shop}, cut the bottom {step:gauge} wider for each 1\u00a0%.", shop=shop, step=step
    )


def _other_bit(made: Bottom, cut: Rabbets) -> Iterator[Words]:
    """Yield the settings for the bit of the groove, where no bit is named: it is in hand too."""
    bit = made.groove.cutter
    if made.bit or abs(bit - cut.bit) < READ_OUT:
        return
    every = _stages(made, bit)
    ends, sides = ([stage.exposed for stage in every if stage.edges == edges] for edges in ("ends", "sides"))
    sizes = {f"e{i}": out for i, out in enumerate(ends)} | {f"s{i}": out for i, out in enumerate(sides)}
    said = {name: f"{{{name}:gauge}}" for name in sizes}
    one, other = (", then ".join(said[name] for name in said if name[0] == first) for first in "es")
    yield say(f"Or with the groove’s bit of {{bit:cut}}: ends {one}; sides {other}.", bit=bit, **sizes)


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
    label = draw.Label("grain the long way", Point(x / 2, y / 2), leader=False)
    return draw.View("whole", "The bottom as drawn", (outline,), dimensions, (label,), to_scale=False)


def _steps_without(made: Bottom) -> Iterator[Words]:
    yield "Cut the bottom to your length and width, grain the long way."
    words = "Plane all of it to {tongue:gauge}. It must slide in the grooves by hand, finish and all."
    yield say(words, tongue=made.tongue)
    yield from _corners(made)
    yield from _dry(made)
