"""The sheets of the lid's crown: templates at full size with their ordinates, and flats for a hand plane.

Axes: the middle of the lid at 0, the foot of the crown at 0; the edge and then the rabbet's floor lie below it.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from itertools import pairwise

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.wording import Words, say
from jigs.parts.lid.part import Lid
from jigs.trade import lid

FEMALE_HEIGHT = 22.0
"""Of the female template over the crown, mm."""
LONGEST_TRAMMEL = 600.0
"""A longer radius can't be swung on a bench (common practice, no source), mm."""
_NUMBER_ROOM = 4.5
"""An edge as high as this has room for the numbers of the ordinates, mm."""


def drawings(made: Lid) -> tuple[draw.Drawing, ...]:
    """Return the sheets of a crown; none of a flat lid."""
    radius = made.crown_radius
    if radius is None:
        return ()
    crown = _Crown(made.width / 2, made.crown, radius, made.edge)
    return _templates(crown), _facets(crown)


@dataclass(frozen=True, slots=True)
class _Crown:
    """The crown over the width: half its chord, its rise and radius, and the wood below its foot, mm."""

    half: float
    rise: float
    radius: float
    edge: float

    def arc(self, start: float) -> draw.ArcTo:
        """Return the step along the crown from its right foot to a place further left."""
        return draw.ArcTo(
            draw.Point(start, self.height(start)), draw.Point(0.0, self.rise - self.radius), anticlockwise=True
        )

    def height(self, at: float) -> float:
        """Return the height over the foot, this far from the middle."""
        return lid.crown_height(width=2 * self.half, rise=self.rise, at=at)


def _templates(c: _Crown) -> draw.Drawing:
    male, female = (replace(make(c, -c.half), detail=make(c, 0.0)) for make in (_male, _female))
    purpose = "templates of the crown: the male to scribe the ends of the lid with, the female to check it"
    return _crown_drawing("crown", "crown templates", purpose, (male, _ordinates(c), female, _template_notes(c)))


def _facets(c: _Crown) -> draw.Drawing:
    view = replace(_flats_view(c, -c.half), detail=_flats_view(c, 0.0))
    purpose = "the flats that a hand plane makes of the crown, and the lines that it works to"
    return _crown_drawing("flats", "crown flats", purpose, (view, _flats_table(c), _flats_notes(c)))


def _crown_drawing(name: str, title: str, purpose: str, body: tuple[draw.Item, ...]) -> draw.Drawing:
    return draw.Drawing(name, title, purpose, body, (cautions.GENERAL, cautions.HAND_TOOLS), jig="lid")


def _half_or_whole(title: str, start: float) -> str:
    return title if start else f"{title}; half of it, turn it over at the centre line"


def _middle(low: float, high: float) -> draw.Line:
    return draw.Line(draw.line((0, low - 4), (0, high + 4)), draw.Kind.CENTRE)


def _male(c: _Crown, start: float) -> draw.View:
    foot = -c.edge
    steps = (draw.LineTo(draw.Point(c.half, foot)), draw.LineTo(draw.Point(c.half, 0)), c.arc(start))
    outline = draw.Path(draw.Point(start, foot), steps, closed=True)
    ordinates = [(at, y) for at, y in lid.ordinates(width=2 * c.half, rise=c.rise) if y > 1e-9]
    both = [(hand * at, y) for at, y in ordinates for hand in (1, -1) if hand * at > start and at > 0]
    rulings = [draw.line((at, 0), (at, y)) for at, y in both]
    base = draw.line((start, 0), (c.half, 0))
    part = draw.Part(
        "male",
        "Male template",
        (draw.Line(outline), *draw.lines([base, *rulings], draw.Kind.NARROW), _middle(foot, c.rise)),
    )
    chord = draw.Dimension(
        draw.Point(start, foot), draw.Point(c.half, foot), "below", "chord" if start else "half the chord"
    )
    dimensions = (
        chord,
        draw.Dimension(draw.Point(c.half, foot), draw.Point(c.half, 0), "right", "edge"),
        draw.Dimension(draw.Point(c.half, 0), draw.Point(0, c.rise), "right", "rise"),
    )
    labels = tuple(_numbered(c, number, at) for number, (at, _) in enumerate(ordinates) if at > 0)
    title = _half_or_whole("Male template, to scribe: its foot on the rabbet's floor", start)
    return draw.View("male", title, (part,), dimensions, labels, check=chord)


def _numbered(c: _Crown, number: int, at: float) -> draw.Label:
    """Return the number of an ordinate, below its line where the edge has room for it."""
    inside = c.edge >= _NUMBER_ROOM
    return draw.Label(
        str(number), draw.Point(at, -c.edge / 2 if inside else c.height(at)), leader=not inside, towards="above"
    )


def _female(c: _Crown, start: float) -> draw.View:
    top = c.rise + FEMALE_HEIGHT
    steps = (draw.LineTo(draw.Point(c.half, top)), draw.LineTo(draw.Point(c.half, 0)), c.arc(start))
    part = draw.Part(
        "female",
        "Female template",
        (draw.Line(draw.Path(draw.Point(start, top), steps, closed=True)), _middle(c.rise, top)),
    )
    chord = draw.Dimension(
        draw.Point(start, top), draw.Point(c.half, top), "above", "chord" if start else "half the chord"
    )
    rise = draw.Dimension(draw.Point(c.half, 0), draw.Point(0, c.rise), "right", "rise")
    label = draw.Label(
        "no light between it and the crown", draw.Point(c.half * 0.5, c.height(c.half * 0.5)), towards="below"
    )
    title = _half_or_whole("Female template, to check", start)
    return draw.View("female", title, (part,), (chord, rise), (label,), check=chord)


def _flats_view(c: _Crown, start: float) -> draw.View:
    """The end of the lid with the flats over the arc, and lines at the ridges."""
    found = _flats(c)
    foot = -c.edge
    ridges = [(flat.ridge_at, flat.ridge_height) for flat in found]
    right = [*ridges, (c.half, found[-1].at_edge)]
    chain = [(-x, y) for x, y in reversed(right)] + right
    shown = [p for p in chain if p[0] >= start] if start else [(0.0, c.rise), *right]
    outline = draw.line((start, shown[0][1]), (start, foot), (c.half, foot), *reversed(shown))
    arc = draw.Path(draw.Point(c.half, 0), (c.arc(start),))
    at_ridges = [draw.line((x, foot), (x, y)) for x, y in chain[1:-1] if x > start]
    part = draw.Part(
        "flats",
        "End of the lid with its flats",
        (
            draw.Line(outline),
            draw.Line(arc, draw.Kind.NARROW),
            *draw.lines(at_ridges, draw.Kind.HIDDEN),
            _middle(foot, c.rise),
        ),
    )
    dimensions = tuple(draw.Dimension(draw.Point(0, foot), draw.Point(x, foot), "below", "ridge at") for x, _ in ridges)
    ends = [0.0, *(x for x, _ in ridges), c.half]
    middles = [0.0, *((one + other) / 2 for one, other in pairwise(ends[1:]))]
    labels = tuple(
        draw.Label(
            "middle" if not i else f"flat {i}",
            draw.Point(at or ends[1] / 2, c.height(at or ends[1] / 2)),
            towards="above",
        )
        for i, at in enumerate(middles)
    )
    title = _half_or_whole("Flats for the plane, end of the lid", start)
    check = dimensions[-1]
    return draw.View("flat-lines", title, (part,), dimensions, labels, check=check)


def _flats(c: _Crown) -> tuple[lid.Flat, ...]:
    width = 2 * c.half
    return lid.flats(width=width, rise=c.rise, count=lid.flats_needed(width=width, rise=c.rise))


def _ordinates(c: _Crown) -> draw.Table:
    found = lid.ordinates(width=2 * c.half, rise=c.rise)
    rows: tuple[tuple[draw.Cell, ...], ...] = (
        ("from the centre", *(at for at, _ in found)),
        ("over the crown's foot", *(y for _, y in found)),
        ("over the rabbet's floor", *(y + c.edge for _, y in found)),
    )
    headings = ("Line", *(str(number) for number in range(len(found))))
    return draw.Table("ordinates", say("Ordinates; radius {radius}", radius=c.radius), headings, rows)


def _flats_table(c: _Crown) -> draw.Table:
    rows: list[tuple[draw.Cell, ...]] = [
        (
            str(number),
            f"{flat.angle:.2f}°",
            flat.ridge_at,
            flat.ridge_height + c.edge,
            flat.at_edge + c.edge,
        )
        for number, flat in enumerate(_flats(c), start=1)
    ]
    headings = ("Flat", "Slope", "Starts, from the centre", "Starts, over the rabbet's floor", "Line on the long edge")
    return draw.Table("flats", "Flats, each side of the middle one", headings, tuple(rows))


def _template_notes(c: _Crown) -> draw.Notes:
    centre = c.radius - c.rise - c.edge
    long = "The radius of {radius} is too long to swing: prick the ordinates through and bend a strip along them."
    short = "The radius is {radius}, swung from {below} under the rabbet's floor."
    paragraphs: tuple[Words, ...] = (
        "Cut the rabbets first. Glue the male to thin wood and cut to its line. Hold it on each end of the lid, centre "
        "on centre, its foot level with the rabbet's floor, and scribe the arc.",
        say("The female shows where wood is left. The edge that is left is {edge} high.", edge=c.edge),
        say(long if c.radius > LONGEST_TRAMMEL else short, radius=c.radius, below=centre),
    )
    return draw.Notes("template-notes", "How to use the templates", paragraphs)


def _flats_notes(c: _Crown) -> draw.Notes:
    width, found = 2 * c.half, _flats(c)
    count = 2 * len(found) + 1
    paragraphs: tuple[Words, ...] = (
        "Gauge the line of flat 1 on both long edges, from the rabbet's floor; rule its start on the top, from the "
        "centre. Plane down to both lines. Flat 2 starts on flat 1, and so on to the edge.",
        say(
            "{count} flats leave ridges {ridge} over the arc. Take these off with a fine plane, along the grain; "
            "scrape until the female shows no light.",
            count=count,
            ridge=lid.facets(width=width, rise=c.rise, count=count).ridge,
        ),
        f"At the very edge the crown slopes by {lid.edge_angle(width=width, rise=c.rise):.2f} degrees.",
    )
    return draw.Notes("flats-notes", "How to plane the crown", paragraphs)
