"""The card of a pattern of one's own: where it stands on its side, how deep it is cut, in which order; its templates.

Axes of the side seen from outside: its left end, its bottom edge.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Beside, Card, Check, Checks, Order, Pictures, Setting, Settings, Sheets, Template
from jigs.base.drawing import Kind, Point
from jigs.base.wording import Words, say
from jigs.parts import carving
from jigs.parts.carving import CUT_WITHIN, LAID_WITHIN
from jigs.parts.pattern import templates
from jigs.parts.pattern.part import Pattern
from jigs.things import section
from jigs.trade import shell as arithmetic


def of(made: Pattern) -> Sheets:
    """Return the card, and the pattern twice: right-reading for tracing, mirrored for rubbing or ironing."""
    traced = Template(templates.right_reading(made), "pattern", "To trace. Every line is a cut.", "pattern")
    ironed = Template(templates.mirrored(made), "pattern", "To iron, face down. Try it on scrap.", "pattern")
    return Sheets((_card(made),), (traced, ironed))


def _card(made: Pattern) -> Card:
    about = say(f"{made.side}, outside face, {{thick}} thick, before the glue-up", thick=made.thickness)
    bands = (
        Pictures((_on_the_side(made), _section(made)), least=46.0, most=84.0, shares=(0.66, 0.34)),
        Beside(Settings(tuple(_settings(made)), "Lay out and cut"), _scrap(made), 0.7),
        Beside(cuts(made), by_width(made), 0.58),
        Order(tuple(_order(made))),
    )
    return Card("pattern", "Pattern", "Bench", carving.CAUTIONS, bands, about, "pattern")


# -- numbers -------------------------------------------------------------------------------------------------------


def _settings(made: Pattern) -> Iterator[Setting]:
    yield Setting("from-left", "Middle from left", made.middle.x, LAID_WITHIN, "rule")
    yield Setting("from-bottom", "Middle from bottom", made.middle.y, LAID_WITHIN, "square")
    yield Setting("chip", "Widest chip, wide", made.chip, CUT_WITHIN, "pattern")
    yield Setting("deep", "Widest chip, deep", made.chip_depth, CUT_WITHIN, f"knife {made.knife:g}°")


def cuts(made: Pattern) -> draw.Table:
    """Return the cuts in their order: how the knife is held, how deep each is, and what it leaves."""
    deep = say("to {deep}", deep=made.chip_depth)
    rows: tuple[tuple[draw.Cell, ...], ...] = (
        ("stop cuts, on the lines", "upright", deep, made.wood_left),
        ("chips, from two sides", f"{made.knife:g}°", deep, made.wood_left),
    )
    title = say("Cuts in order, in wood {thick} thick", thick=made.thickness)
    return draw.Table("cuts", title, ("cut", "knife", "deep", "left"), rows)


def by_width(made: Pattern) -> draw.Table:
    """Return how deep a chip is that is narrower than the widest, and what it leaves: where a line tapers."""
    rows = []
    for share in (1.0, 0.75, 0.5, 0.25):
        wide = share * made.chip
        deep = arithmetic.chip_depth(wide, made.knife)
        rows.append((wide, deep, made.wood_left + made.chip_depth - deep))
    return draw.Table("by-width", "Where a line tapers", ("chip", "deep", "left"), tuple(rows))


def _scrap(made: Pattern) -> Checks:
    rows = (
        Check("widest chip, wide", *carving.about(made.chip), 0.1),
        Check("widest chip, deep", *carving.about(made.chip_depth), 0.1),
        Check("thickness under it", *carving.about(made.wood_left), 0.1),
    )
    return Checks(rows, "First in scrap")


def _order(made: Pattern) -> Iterator[Words]:
    yield "Clamp the board. Square a line up through the middle; draw one along it."
    yield "To trace: lay the pattern on graphite paper, dark side down, its ticks on the lines."
    yield "To iron: lay the mirrored one face down. The double tick comes to the left."
    yield "Cut one chip in scrap of this wood, as thick as the board. Check it."
    yield "Make the stop cuts first: there the fibres end, and later cuts can’t split on."
    if made.over_groove:
        yield say("Above the groove only {left} of wood is left under a chip: cut no deeper.", left=made.wood_left)
    else:
        yield "Slice along the grain, a little at a time. Turn the board, not the knife."
    yield "Cut deeper what stays in; never lever. Rub the lines off: sanded, they stain."


# -- pictures ------------------------------------------------------------------------------------------------------


def _on_the_side(made: Pattern) -> draw.View:
    """The side from outside with the pattern in its place: all of it, or from its left end to past the pattern."""
    at = made.middle
    right = carving.shown_to(made, made.placed.right)
    top = made.board_width
    axes = [draw.line((at.x, -4), (at.x, top + 4)), draw.line((-4, at.y), (right + 4, at.y))]
    parts = (
        carving.outline(made, right, "side", made.side.capitalize()),
        carving.free_part(made, right),
        draw.Part("placed", "Pattern", draw.lines([line.moved(*at) for line in made.lines], Kind.NARROW)),
        draw.Part("axes", "Lines through the middle", draw.lines(axes, Kind.CENTRE)),
    )
    dimensions = (
        draw.Dimension(Point(0, 0), Point(at.x, 0), "below", "", "from-left"),
        draw.Dimension(Point(0, 0), Point(0, at.y), "left", "", "from-bottom"),
    )
    side = (made.free.left + made.placed.left) / 2
    low = made.groove.from_bottom / 2 if made.groove else 6.0
    labels = [
        draw.Label("left-hand end", Point(side, top * 0.8), leader=False),
        draw.Label("bottom edge", Point(side + at.x * 0.2, low), leader=False),
    ]
    if made.groove:
        middle = (made.groove.from_bottom + made.groove.top) / 2
        labels.append(draw.Label("groove behind", Point(min(right - 12.0, at.x * 1.6), middle), towards="above"))
    title = f"{made.side.capitalize()}, from outside: carve only inside the thin line"
    return draw.View("placement", title, parts, dimensions, tuple(labels), to_scale=False)


def _section(made: Pattern) -> draw.View:
    """The widest chip, cut across in true proportion."""
    half, deep, thick = made.chip / 2, made.chip_depth, made.thickness
    spare = max(2 * made.chip, 4.0)
    left, right = -half - spare, half + spare
    surface = [(left, 0.0), (-half, 0.0), (0.0, -deep), (half, 0.0), (right, 0.0)]
    behind = [(right, -thick)]
    if made.over_groove and made.groove:
        wide, up = made.groove.cutter / 2, made.groove.depth
        behind += [(x, y - thick) for x, y in ((wide, 0), (wide, up), (-wide, up), (-wide, 0))]
    wood = section.face(
        "side", f"{made.side.capitalize()}, cut across", draw.polygon(*surface, *behind, (left, -thick))
    )
    stop = draw.Part("stop-cut", "Stop cut", (draw.Line(draw.line((0, 1.5), (0, -deep)), Kind.CENTRE),))
    dimensions = (
        draw.Dimension(Point(-half, 0), Point(half, 0), "above", "", "chip"),
        draw.Dimension(Point(left, -deep), Point(left, 0), "left", "", "deep"),
    )
    under = say("{left:cut} left", left=made.wood_left)
    labels = (draw.Label(under, Point(0, -deep - made.wood_left / 2), leader=False),)
    return draw.View("section", "Widest chip", (wood, stop), dimensions, labels, to_scale=False)
