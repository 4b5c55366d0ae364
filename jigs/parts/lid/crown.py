"""The crown of the lid: its pair of templates at full size, and the flats for a hand plane, at the bench.

Axes: the middle of the lid at 0, the foot of the crown at 0; the edge and then the rabbet's floor lie below it.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import pairwise

from jigs.base import drawing as draw
from jigs.base.cards import Band, Order, Pictures, Template
from jigs.base.drawing import Point
from jigs.base.wording import Words, say
from jigs.parts.lid.part import Lid
from jigs.record import Record, replace
from jigs.trade import lid

FEMALE_HEIGHT = 22.0
"""Of the female template over the crown, mm."""


class _Crown(Record):
    """The crown over the width: half its chord, its rise and radius, and the wood below its foot, mm."""

    half: float
    rise: float
    radius: float
    edge: float

    def arc(self, start: float) -> draw.ArcTo:
        """Return the step along the crown from its right foot to a place further left."""
        return draw.ArcTo(Point(start, self.height(start)), Point(0.0, self.rise - self.radius), anticlockwise=True)

    def height(self, at: float) -> float:
        """Return the height over the foot, this far from the middle."""
        return lid.crown_height(width=2 * self.half, rise=self.rise, at=at)


def _crown(made: Lid) -> _Crown | None:
    radius = made.crown_radius
    return None if radius is None else _Crown(made.width / 2, made.crown, radius, made.edge)


# -- templates -----------------------------------------------------------------------------------------------------


def templates(made: Lid, card: str) -> tuple[Template, ...]:
    """Return the pair that scribes and checks the crown, for the card it is planed on; none of a flat lid.

    A long one stands upright, and a longer one is drawn as half, to be turned over.
    """
    crown = _crown(made)
    if crown is None:
        return ()
    foot = say("foot on the rabbet’s floor; edge {edge}, rise {rise}", edge=crown.edge, rise=crown.rise)
    uses: tuple[tuple[Callable[[_Crown, float], draw.View], Words], ...] = (
        (_female, "plane until no light shows under it"),
        (_male, foot),
    )
    found = []
    for make, use in uses:
        half = make(crown, 0.0)
        turn = 1 if make is _female else -1  # so that what is checked stands at the left
        upright = replace(_turned(make(crown, -crown.half), turn), detail=replace(half, detail=_turned(half, turn)))
        found.append(Template(replace(make(crown, -crown.half), detail=upright), card, use, "lid"))
    return tuple(found)


def _titled(title: str, start: float) -> str:
    return title if start else f"Half {title[0].lower()}{title[1:]}"


def _half_label(start: float, at: Point) -> tuple[draw.Label, ...]:
    """Return what a half says at its middle line."""
    return () if start else (draw.Label("middle: turn it over here", at, towards="right"),)


def _middle(low: float, high: float) -> draw.Line:
    return draw.Line(draw.line((0, low - 3), (0, high + 3)), draw.Kind.CENTRE)


def _male(c: _Crown, start: float) -> draw.View:
    foot = -c.edge
    steps = (draw.LineTo(Point(c.half, foot)), draw.LineTo(Point(c.half, 0)), c.arc(start))
    outline = draw.Path(Point(start, foot), steps, closed=True)
    base = draw.line((start, 0), (c.half, 0))
    lines = (draw.Line(outline), draw.Line(base, draw.Kind.NARROW), _middle(foot, c.rise))
    part = draw.Part("male", "Crown, to scribe", lines)
    chord = draw.Dimension(Point(start, foot), Point(c.half, foot), "below")
    labels = _half_label(start, Point(start, c.rise * 0.5))
    return draw.View("male", _titled("Crown, to scribe", start), (part,), (chord,), labels, check=chord)


def _female(c: _Crown, start: float) -> draw.View:
    top = c.rise + FEMALE_HEIGHT
    steps = (draw.LineTo(Point(c.half, top)), draw.LineTo(Point(c.half, 0)), c.arc(start))
    outline = draw.Path(Point(start, top), steps, closed=True)
    part = draw.Part("female", "Crown, to check", (draw.Line(outline), _middle(c.rise, top)))
    chord = draw.Dimension(Point(start, top), Point(c.half, top), "above")
    radius = draw.Label(
        say("R {radius:rough}, rise {rise:cut}", radius=c.radius, rise=c.rise),
        Point(c.half * 0.62, top - 7.0),
        leader=False,
    )
    labels = (radius, *_half_label(start, Point(start, top - 9.0)))
    return draw.View("female", _titled("Crown, to check", start), (part,), (chord,), labels, check=chord)


def _turned(view: draw.View, turn: int) -> draw.View:
    """Return a view a quarter round, standing upright: anticlockwise for a turn of 1, clockwise for -1."""
    every: tuple[draw.Side, ...] = ("above", "left", "below", "right")

    def at(point: Point) -> Point:
        return Point(-turn * point.y, turn * point.x)

    def dimension(one: draw.Dimension) -> draw.Dimension:
        side = every[(every.index(one.side) + turn) % 4]
        return replace(one, start=at(one.start), end=at(one.end), side=side)

    def path(shape: draw.Shape) -> draw.Shape:
        if isinstance(shape, draw.Circle):
            return replace(shape, centre=at(shape.centre))
        steps = tuple(
            replace(step, end=at(step.end), centre=at(step.centre))
            if isinstance(step, draw.ArcTo)
            else draw.LineTo(at(step.end))
            for step in shape.steps
        )
        return replace(shape, start=at(shape.start), steps=steps)

    return replace(
        view,
        parts=tuple(replace(p, lines=tuple(replace(d, shape=path(d.shape)) for d in p.lines)) for p in view.parts),
        dimensions=tuple(dimension(one) for one in view.dimensions),
        labels=tuple(replace(label, at=at(label.at)) for label in view.labels),
        check=view.check and dimension(view.check),
        detail=None,
    )


# -- at the bench --------------------------------------------------------------------------------------------------


def bands(made: Lid, *, with_steps: bool) -> tuple[Band, ...]:
    """Return where the flats of the crown start and end and, `with_steps`, how it is planed; none of a flat lid."""
    crown = _crown(made)
    if crown is None:
        return ()
    order = (Order(steps(made), "Crown"),) if with_steps else ()
    return (Pictures((_flats_view(crown),), least=34.0, most=70.0), _flats_table(crown), *order)


def pictures(made: Lid) -> tuple[Band, ...]:
    """Return how the pair of templates is held; nothing for a flat lid."""
    crown = _crown(made)
    if crown is None:
        return ()
    return (Pictures((_scribing(made, crown), _checking(made, crown)), least=40.0, most=66.0, in_row=1),)


def _scribing(made: Lid, c: _Crown) -> draw.View:
    """The template that scribes, held against the end of the lid that is still flat."""
    lid_end = draw.rectangle(-c.half, -c.edge, c.half, c.rise)
    plug = draw.rectangle(-made.plug.width / 2, -c.edge - made.plug_depth, made.plug.width / 2, -c.edge)
    steps = (draw.LineTo(Point(c.half, -c.edge)), draw.LineTo(Point(c.half, 0)), c.arc(-c.half))
    held = draw.Path(Point(-c.half, -c.edge), steps, closed=True)
    parts = (
        draw.Part("lid-end", "End of the lid", (draw.Line(lid_end), draw.Line(plug))),
        draw.Part("template", "Crown, to scribe", (draw.Line(held, draw.Kind.REFERENCE),), covers=(held,)),
    )
    labels = (
        draw.Label("scribe along the template", Point(c.half * 0.45, c.height(c.half * 0.45)), towards="above"),
        draw.Label("foot on the rabbet’s floor", Point(-c.half * 0.45, -c.edge), towards="below"),
    )
    return draw.View("scribing", "Scribe both ends, middle on middle", parts, labels=labels, to_scale=False)


def _checking(made: Lid, c: _Crown) -> draw.View:
    """The template that checks, lowered onto the crown that is planed."""
    gap, low = 3.0, -c.edge - made.plug_depth
    half = made.plug.width / 2
    below = [
        (c.half, 0.0),
        (c.half, -c.edge),
        (half, -c.edge),
        (half, low),
        (-half, low),
        (-half, -c.edge),
        (-c.half, -c.edge),
    ]
    points = tuple(draw.LineTo(Point(*p)) for p in (*below[::-1],))
    body = draw.Path(Point(-c.half, 0.0), (*points, c.arc(-c.half)), closed=True)
    top = c.rise + FEMALE_HEIGHT
    arc = (draw.LineTo(Point(c.half, top)), draw.LineTo(Point(c.half, 0)), c.arc(-c.half))
    female = draw.Path(Point(-c.half, top), arc, closed=True).moved(0, gap)
    parts = (
        draw.Part("crowned", "Lid, cut across", (draw.Line(body),), hatched=(body,)),
        draw.Part("template", "Crown, to check", (draw.Line(female),)),
    )
    labels = (
        draw.Label("template", Point(0.0, c.rise + FEMALE_HEIGHT * 0.6 + gap), leader=False),
        draw.Label("no light here", Point(c.half * 0.5, c.height(c.half * 0.5) + gap / 2), towards="above"),
    )
    return draw.View("checking", "Check along the whole lid", parts, labels=labels, to_scale=False)


def _flats(c: _Crown) -> tuple[lid.Flat, ...]:
    width = 2 * c.half
    return lid.flats(width=width, rise=c.rise, count=lid.flats_needed(width=width, rise=c.rise))


def _flats_view(c: _Crown) -> draw.View:
    """The end of the lid with the flats over the arc, and lines at the ridges."""
    found = _flats(c)
    foot = -c.edge
    ridges = [(flat.ridge_at, flat.ridge_height) for flat in found]
    right = [*ridges, (c.half, found[-1].at_edge)]
    chain = [(-x, y) for x, y in reversed(right)] + right
    outline = draw.line((-c.half, chain[0][1]), (-c.half, foot), (c.half, foot), *reversed(chain))
    arc = draw.Path(Point(c.half, 0), (c.arc(-c.half),))
    at_ridges = [draw.line((x, foot), (x, y)) for x, y in chain[1:-1]]
    lines = (
        draw.Line(outline),
        draw.Line(arc, draw.Kind.NARROW),
        *draw.lines(at_ridges, draw.Kind.HIDDEN),
        _middle(foot, c.rise),
    )
    part = draw.Part("flats", "End of the lid with its flats", lines)
    dimensions = (
        draw.Dimension(Point(c.half, foot), Point(c.half, 0), "right", "edge"),
        draw.Dimension(Point(-c.half, 0), Point(0, c.rise), "left", "rise"),
        draw.Dimension(Point(-c.half, foot), Point(c.half, foot), "below"),
    )
    title = "End of the lid: the crown as flats, the arc over which they lie"
    return draw.View("flat-lines", title, (part,), dimensions, _flat_labels(c, [x for x, _ in ridges]), to_scale=False)


def _flat_labels(c: _Crown, ridges: list[float]) -> tuple[draw.Label, ...]:
    """Return the numbers of the flats, on the right half; of many only those of the first and the last."""
    ends = [0.0, *ridges, c.half]
    middles = [0.0, *((one + other) / 2 for one, other in pairwise(ends[1:]))]
    shown = [i for i in range(len(middles)) if len(middles) < 6 or i in (0, 1, len(middles) - 1)]
    return tuple(
        draw.Label(f"flat {i}" if i else "middle flat", Point(middles[i], c.height(middles[i])), towards="above")
        for i in shown
    )


def _flats_table(c: _Crown) -> draw.Table:
    rows: list[tuple[draw.Cell, ...]] = [
        (f"flat {number}", f"{flat.angle:.1f}°", flat.ridge_at, flat.ridge_height + c.edge, flat.at_edge + c.edge)
        for number, flat in enumerate(_flats(c), start=1)
    ]
    headings = ("", "slope", "starts, from the middle", "starts, above the rabbet", "on long edge, above the rabbet")
    return draw.Table("flats", "Lines to gauge, on both sides", headings, tuple(rows))


def steps(made: Lid) -> tuple[Words, ...]:
    """Return how the crown is planed, step by step; none of a flat lid."""
    c = _crown(made)
    if c is None:
        return ()
    found = _flats(c)
    count = 2 * len(found) + 1
    ridge = lid.facets(width=2 * c.half, rise=c.rise, count=count).ridge
    on = "Flat 2 starts on flat 1, and so on" if len(found) > 1 else "Plane the other side likewise"
    return (
        "Glue “Crown, to scribe” to thin wood; cut it out; scribe both ends.",
        "Gauge flat 1 on both long edges; rule its start on top. Plane to the lines.",
        say(f"{on}: {{count}} flats, ridges of {{ridge:gauge}} between them.", count=count, ridge=ridge),
        "Plane the ridges off. Scrape until “Crown, to check” shows no light.",
    )
