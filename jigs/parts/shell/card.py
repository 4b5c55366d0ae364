"""The card of the fan shell: where it stands on the front, what is cut how deep, in which order; and its pattern.

Axes of the front seen from outside: its left end, its bottom edge.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Beside, Card, Check, Checks, Order, Pictures, Setting, Settings, Sheets, Template
from jigs.base.drawing import Kind, Point
from jigs.base.wording import Words, say
from jigs.parts import carving
from jigs.parts.shell import templates
from jigs.parts.shell.part import Shell
from jigs.things import section
from jigs.trade import shell as arithmetic


def of(made: Shell, *, mirrored: bool = False) -> Sheets:
    """Return the card and the pattern: right-reading for tracing, mirrored on request for rubbing or ironing."""
    view = templates.pattern(made)
    use = "Heavy lines are cuts, thin ones chip widths."
    if mirrored:
        view = templates.mirrored(view, "pattern-mirrored", "Shell, mirrored")
        use = "Heavy lines are cuts. Try the toner on scrap."
    return Sheets((_card(made, mirrored=mirrored),), (Template(view, "shell", use, "shell"),))


def pivot(made: Shell) -> Point:
    """Return where the pivot stands on the front, from its left end and its bottom edge, mm."""
    return Point(made.board_length / 2, made.pivot_height)


def relief(made: Shell) -> float:
    """Return how deep the ground of the border falls to the lobes, mm."""
    return arithmetic.relief_depth(border=made.border, chip_depth=made.chip_depth)


def _card(made: Shell, *, mirrored: bool) -> Card:
    about = say("front, outside face, {thick} thick, before the glue-up", thick=made.thickness)
    bands = (
        Pictures((_on_the_front(made), _section(made)), least=46.0, most=84.0, shares=(0.66, 0.34)),
        Beside(Settings(tuple(_settings(made)), "Lay out and cut"), _scrap(made), 0.7),
        Beside(cuts(made), along_a_rib(made), 0.58),
        Order(tuple(_order(made, mirrored=mirrored))),
    )
    return Card("shell", "Shell", "Bench", carving.CAUTIONS, bands, about, "shell")


# -- numbers -------------------------------------------------------------------------------------------------------


def _settings(made: Shell) -> Iterator[Setting]:
    yield Setting("from-left", "Pivot to left end", pivot(made).x, carving.LAID_WITHIN, "rule")
    yield Setting("from-bottom", "Pivot to bottom", pivot(made).y, carving.LAID_WITHIN, "square")
    yield Setting("hinge", "Pivot to rib start", made.hinge, carving.LAID_WITHIN, "pattern")
    yield Setting("chip", "Rib chip, outer, wide", made.chip, carving.CUT_WITHIN, "pattern")
    yield Setting("deep", "Rib chip, outer, deep", made.chip_depth, carving.CUT_WITHIN, f"knife {made.knife:g}°")
    if made.border:
        yield Setting("relief", "Border ground, deep", relief(made), carving.CUT_WITHIN, f"slope {_slope(made)}")


def _slope(made: Shell) -> str:
    return f"{math.degrees(math.atan2(relief(made), made.border)):.0f}°"


def cuts(made: Shell) -> draw.Table:
    """Return the cuts in their order: how the knife is held, how deep each is, and what it leaves."""
    rim = say("to {rim}", rim=made.chip_depth)
    rows: list[tuple[draw.Cell, ...]] = [
        ("stop cuts, ribs", "upright", rim, made.wood_left),
        ("rib chips, two sides", f"{made.knife:g}°", rim, made.wood_left),
    ]
    if made.border:
        depth = relief(made)
        left = made.wood_left + made.chip_depth - depth
        rows.insert(0, ("stop cuts, lobes", "upright", depth, left))
        rows.append(("border ground", _slope(made), depth, left))
    return draw.Table(
        "cuts",
        say("Cuts in order, in wood {thick} thick", thick=made.thickness),
        ("cut", "knife", "deep", "left"),
        tuple(rows),
    )


def along_a_rib(made: Shell) -> draw.Table:
    """Return width and depth of a rib chip along its rib, and the ridge beside it."""
    hinge, rim = made.hinge, made.fan.rib_radius
    rows = []
    for share in (0.0, 0.25, 0.5, 0.75, 1.0):
        at = min(hinge + (rim - hinge) * share, rim)
        wide = arithmetic.rib_chip_width(widest=made.chip, hinge=hinge, rib_radius=rim, at=at)
        deep = wide / made.chip * made.chip_depth
        ridge = arithmetic.ridge(half_step=made.fan.half_step, at=at, chip_width=wide)
        rows.append((at, wide, deep, ridge))
    return draw.Table("along", "Along a rib", ("from pivot", "chip", "deep", "ridge"), tuple(rows))


def _scrap(made: Shell) -> Checks:
    rows = (
        Check("outer chip, wide", *carving.about(made.chip), 0.1),
        Check("outer chip, deep", *carving.about(made.chip_depth), 0.1),
        Check("thickness under it", *carving.about(made.wood_left), 0.1),
    )
    return Checks(rows, "First in scrap")


def _order(made: Shell, *, mirrored: bool) -> Iterator[Words]:
    yield "Square a line up through the pivot; draw one along the front."
    if mirrored:
        yield "Lay the pattern face down, its ticks on the lines. Tape one edge."
        yield "Rub or iron it over. It reads right then, its double tick at the left."
    else:
        yield "Lay the pattern on graphite paper, ticks on the lines, the double one left."
        yield "Dark side down: tape one edge, mask round it, trace with a hard point."
    yield "Cut one chip in scrap of this wood, as thick as the front. Check it."
    yield "Make the stop cuts first: there the fibres end, and later cuts can’t split on."
    yield "Slice along the grain, a little at a time. Turn the board, not the knife."
    if made.over_groove:
        yield say("Above the groove only {left} of wood is left under a chip: cut no deeper.", left=made.wood_left)
    if mirrored:
        yield "Cut deeper what stays in; never lever it out."
    else:
        yield "Cut deeper what stays in; never lever. Rub the lines off: sanded, they stain."


# -- pictures ------------------------------------------------------------------------------------------------------


def _on_the_front(made: Shell) -> draw.View:
    """The front from outside with the shell in its place: all of it, or from its left end to past the shell."""
    at, zone = pivot(made), carving.free(made)
    right = carving.shown_to(made, at.x + made.over_all[0] / 2)
    top = made.board_width
    axes = [draw.line((at.x, -4), (at.x, top + 4)), draw.line((-4, at.y), (right + 4, at.y))]
    parts = (
        carving.outline(made, right, "front", "Front"),
        carving.free_part(made, right),
        *_placed(made, at),
        draw.Part("axes", "Lines through the pivot", draw.lines(axes, Kind.CENTRE)),
    )
    dimensions = (
        draw.Dimension(Point(0, 0), Point(at.x, 0), "below", "", "from-left"),
        draw.Dimension(Point(0, 0), Point(0, at.y), "left", "", "from-bottom"),
    )
    side = (zone.left + at.x - made.over_all[0] / 2) / 2
    low = made.groove.from_bottom / 2 if made.groove else 6.0
    labels = [
        draw.Label("left end", Point(side, top * 0.8), leader=False),
        draw.Label("bottom edge", Point(side + at.x * 0.2, low), leader=False),
    ]
    if made.groove:
        middle = (made.groove.from_bottom + made.groove.top) / 2
        labels.append(draw.Label("groove behind", Point(min(right - 12.0, at.x * 1.6), middle), towards="above"))
    return draw.View(
        "placement",
        "Front, from outside: carve only inside the thin line",
        parts,
        dimensions,
        tuple(labels),
        to_scale=False,
    )


def _placed(made: Shell, at: Point) -> tuple[draw.Part, ...]:
    edge = templates.border(made)
    outer = (templates.lobes(made), *([edge] if edge else []))
    return (
        draw.Part("placed", "Shell", draw.lines([shape.moved(*at) for shape in outer])),
        draw.Part("placed-ribs", "Ribs", draw.lines([rib.moved(*at) for rib in templates.ribs(made)], Kind.NARROW)),
    )


def _section(made: Shell) -> draw.View:
    """A rib chip at the rim and the ground of the border, cut across in true proportion."""
    half, deep, thick = made.chip / 2, made.chip_depth, made.thickness
    spare = max(made.chip, 3.0)
    left = -half - spare
    surface = [(left, 0.0), (-half, 0.0), (0.0, -deep), (half, 0.0)]
    start = half + 1.5 * spare
    end = start
    if made.border:
        end = start + made.border
        surface += [(start, 0.0), (start, -relief(made)), (end, 0.0)]
    right = end + spare
    surface.append((right, 0.0))
    behind = [(right, -thick)]
    if made.over_groove and made.groove:
        wide = made.groove.cutter / 2
        behind += [
            (x, y - thick) for x, y in ((wide, 0), (wide, made.groove.depth), (-wide, made.groove.depth), (-wide, 0))
        ]
    wood = section.face("front", "Front, cut across", draw.polygon(*surface, *behind, (left, -thick)))
    stop = draw.Part("stop-cut", "Stop cut", (draw.Line(draw.line((0, 1.5), (0, -deep)), Kind.CENTRE),))
    dimensions = [
        draw.Dimension(Point(-half, 0), Point(half, 0), "above", "", "chip"),
        draw.Dimension(Point(left, -deep), Point(left, 0), "left", "", "deep"),
    ]
    under = say("{left:cut} left", left=made.wood_left)
    labels = [draw.Label(under, Point(start / 2, -deep - made.wood_left / 2), leader=False)]
    if made.border:
        dimensions.append(draw.Dimension(Point(right, -relief(made)), Point(right, 0), "right", "", "relief"))
        labels.append(draw.Label("border", Point((start + end) / 2, -relief(made) - 1.6), leader=False))
    return draw.View("section", "Rib chip and border", (wood, stop), tuple(dimensions), tuple(labels), to_scale=False)
