"""The screws of a handle: two, up through the lid, and the sheet that places them."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.lengths import Units
from jigs.base.wording import Words, say
from jigs.parts.handle import outline
from jigs.parts.handle.part import Handle
from jigs.parts.handle.sheets import FOOT_SHOWN, sheet_of
from jigs.trade import handle as arithmetic

CLEARANCE, PILOT = 0.3, 0.9
"""A clearance hole is this much wider than the shank, mm; a pilot hole in hardwood so much of the root (no source)."""
SOLD: Mapping[Units, tuple[float, ...]] = {
    "mm": (12, 16, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100),
    "in": tuple(25.4 * eighths / 8 for eighths in (4, 5, 6, 7, 8, 10, 12, 14, 16, 18, 20, 24, 28, 32)),
}
"""Lengths that wood screws are sold in, mm (common practice, no source)."""
LEAST_BITE = 12.0
"""A screw that goes less far into a handle pulls out (common practice, no source), mm."""

SCREW_SPACING = 1 / 2
"""From screw to screw, of the neck (common practice, no source)."""

HEAD = 2.0
"""A countersunk head is as wide as this many shanks (value from memory)."""


@dataclass(frozen=True, slots=True)
class Screws:
    """Two screws up through the lid. `swelling` is the share of its width by which the lid moves over the year."""

    lid: float
    countersink: float
    bite: float
    shank: float
    root: float
    across: bool
    swelling: float
    units: Units
    crown_radius: float | None = None

    @property
    def length(self) -> float:
        """Length of a screw."""
        return arithmetic.screw_length(lid=self.lid, countersink=self.countersink, bite=self.bite)

    @property
    def hole(self) -> float:
        """Diameter of the clearance hole in the lid."""
        return self.shank + CLEARANCE

    @property
    def head(self) -> float:
        """Diameter of the head."""
        return HEAD * self.shank


@dataclass(frozen=True, slots=True)
class Screwed:
    """A handle with its screws; `lid` is the length, along the grain, and the width of the lid, where known, mm."""

    handle: Handle
    screws: Screws
    lid: tuple[float, float] | None = None

    @property
    def places(self) -> tuple[float, float]:
        """Where the screws stand, from the middle: in the neck, where there is wood all the way up."""
        half = self.handle.neck * SCREW_SPACING / 2
        return -half, half

    @property
    def spacing(self) -> float:
        """From screw to screw."""
        return self.handle.neck * SCREW_SPACING

    @property
    def slot(self) -> float:
        """How much longer than wide a hole across the grain must be."""
        return self.spacing * self.screws.swelling

    @property
    def wood_over(self) -> float:
        """The wood from the foot to the crest over a screw."""
        return self.handle.holes.wood_over_screw(self.places[1])

    @property
    def wood_beside(self) -> float:
        """The least wood between a screw and the hole beside it."""
        return self.handle.holes.wood_beside_screw(self.places[1], self.screws.bite) - self.screws.shank / 2


# -- screws --------------------------------------------------------------------------------------------------------


def screws(made: Screwed) -> draw.Drawing:
    """Return the sheet of the screws that come through the lid."""
    purpose = "drilling the lid for the handle's screws, and which screws"
    body = (_lid_view(made), _section(made), _screw_table(made), _screw_notes(made))
    return sheet_of("lid-screws", "handle, screws through the lid", purpose, *body, tools=(cautions.HAND_TOOLS,))


def _lid_view(made: Screwed) -> draw.View:
    """The foot's place on the lid, with the holes."""
    screws, half_wide = made.screws, made.handle.thickness / 2
    half_long = min(made.handle.length / 2, FOOT_SHOWN)
    whole = half_long == made.handle.length / 2
    sides = [draw.line((-half_long, y), (half_long, y)) for y in (-half_wide, half_wide)]
    ends = [draw.line((x, -half_wide), (x, half_wide)) for x in (-half_long, half_long)]
    outline = (*draw.lines(sides), *draw.lines(ends, draw.Kind.EDGE if whole else draw.Kind.NEIGHBOUR))
    axes = draw.lines(
        [draw.line((-half_long - 3, 0), (half_long + 3, 0)), draw.line((0, -half_wide - 3), (0, half_wide + 3))],
        draw.Kind.CENTRE,
    )
    left, right = made.places
    holes = (
        draw.Circle(draw.Point(left, 0), screws.hole / 2),
        _slot(right, screws.hole, made.slot if screws.across else 0.0),
    )
    heads = draw.lines([draw.Circle(draw.Point(x, 0), screws.head / 2) for x in made.places], draw.Kind.HIDDEN)
    crossing = draw.lines([draw.line((x, -screws.head), (x, screws.head)) for x in made.places], draw.Kind.CENTRE)
    parts = (
        draw.Part("foot", "Place of the foot", outline),
        draw.Part("foot-axes", "Middle lines", axes),
        draw.Part("screw-holes", "Holes for the screws", (*draw.lines(holes), *heads, *crossing)),
        _lid_grain(made, half_long, half_wide),
    )
    apart = draw.Dimension(draw.Point(left, 0), draw.Point(right, 0), "below", "screws")
    wide = draw.Dimension(draw.Point(-half_long, -half_wide), draw.Point(-half_long, half_wide), "left", "foot")
    ends_at = draw.Point(-half_long, half_wide), draw.Point(half_long, half_wide)
    long = draw.Dimension(*ends_at, "above", "foot" if whole else "shown of the foot")
    hole = say("hole {wide}", wide=screws.hole)
    if screws.across:
        hole = say("slot {wide} by {long}", wide=screws.hole, long=screws.hole + made.slot)
    labels = (
        draw.Label(hole, draw.Point(right + screws.hole / 2, 0), towards="right"),
        draw.Label(
            say("countersink {head} below" if screws.countersink else "head {head}, below", head=screws.head),
            draw.Point(right, -screws.head / 2),
            towards="below",
        ),
        draw.Label("grain of the lid", draw.Point(half_long + 12.0, half_wide + 2.0), towards="right"),
    )
    return draw.View("lid", "On the lid, from above", parts, (apart, wide, long), labels, check=apart)


def _slot(x: float, wide: float, longer: float) -> draw.Path | draw.Circle:
    """A round hole, or a slot along the handle: round ends, `longer` from centre to centre."""
    if not longer:
        return draw.Circle(draw.Point(x, 0), wide / 2)
    left, right, up = draw.Point(x - longer / 2, 0), draw.Point(x + longer / 2, 0), wide / 2
    steps = (
        draw.LineTo(draw.Point(right.x, -up)),
        draw.ArcTo(draw.Point(right.x, up), right, True),
        draw.LineTo(draw.Point(left.x, up)),
        draw.ArcTo(draw.Point(left.x, -up), left, True),
    )
    return draw.Path(draw.Point(left.x, -up), steps, closed=True)


def _lid_grain(made: Screwed, half_long: float, half_wide: float) -> draw.Part:
    """The lid's grain, beside the foot: along the handle or across it."""
    middle = draw.Point(half_long + 12.0, half_wide + 2.0)
    way = (0.0, 10.0) if made.screws.across else (10.0, 0.0)
    arrows = tuple((middle, middle.moved(sign * way[0], sign * way[1])) for sign in (-1, 1))
    return draw.Part("lid-grain", "Grain of the lid", arrows=arrows)


def _section(made: Screwed) -> draw.View:
    """Lid, handle and screws cut along the middle, the lid's underside below."""
    screws, holes = made.screws, made.handle.holes
    reach = made.handle.neck / 2 + min(made.handle.radius, 20.0)
    lid = draw.rectangle(-reach, -screws.lid, reach, 0)
    tops = sorted((screws.countersink - screws.lid, screws.bite))
    shafts = [draw.rectangle(x - screws.shank / 2, tops[0], x + screws.shank / 2, tops[1]) for x in made.places]
    sunk = [draw.rectangle(x - screws.head / 2, -screws.lid, x + screws.head / 2, tops[0]) for x in made.places]
    heads = (
        (draw.Part("section-heads", "Sunk heads", draw.lines(sunk, draw.Kind.HIDDEN)),) if screws.countersink else ()
    )
    rims = _rims_in_section(made, reach)
    high = min(holes.hole_height, screws.bite + 12.0)
    sides = [draw.line((x, 0), (x, high)) for x in (-reach, reach)] if not rims else []
    parts = (
        draw.Part("section-lid", "Lid, cut through", draw.lines([lid])),
        draw.Part("section-handle", "Handle", (*draw.lines(rims), *draw.lines(sides, draw.Kind.NEIGHBOUR))),
        draw.Part("section-screws", "Screws", draw.lines(shafts)),
        *heads,
    )
    right = made.places[1] + screws.shank / 2
    dimensions = (
        draw.Dimension(draw.Point(right, tops[0]), draw.Point(right, screws.bite), "right", "screw"),
        draw.Dimension(draw.Point(right, 0), draw.Point(right, screws.bite), "right", "bite"),
        draw.Dimension(draw.Point(-reach, -screws.lid), draw.Point(-reach, 0), "left", "lid"),
    )
    return draw.View("section", "Cut along the middle of the handle", parts, dimensions)


def _rims_in_section(made: Screwed, reach: float) -> list[draw.Path]:
    """The rims of both holes as far as the section shows them: their lower halves towards the neck."""
    holes = made.handle.holes
    found = []
    for centre, side in zip(outline.centres(holes), (-1, 1), strict=True):
        lowest = draw.Point(centre.x, centre.y - holes.radius)
        neck = draw.Point(centre.x - side * holes.radius, centre.y)
        found.append(draw.Path(lowest, (draw.ArcTo(neck, centre, side < 0),)))
    return found


def _screw_table(made: Screwed) -> draw.Table:
    screws = made.screws
    most = arithmetic.most_bite(made.wood_over)
    longest, shortest = screws.length - screws.bite + most, screws.length - screws.bite + LEAST_BITE
    slot = "one round, the other a slot longer by"
    rows: tuple[tuple[draw.Cell, ...], ...] = (
        ("Screws, two, countersunk" if screws.countersink else "Screws, two", screws.length),
        ("… to buy", _to_buy(screws, shortest, longest)),
        ("… the shortest that hold, the longest there is room for", say("{a} to {b}", a=shortest, b=longest)),
        ("Wood above a screw, foot to crest", made.wood_over),
        ("Wood between a screw and the hole beside it", made.wood_beside),
        ("Clearance hole in the lid", screws.hole),
        ("Head sunk from below", screws.countersink),
        (
            say("Pilot hole in the handle, {share} of a root of {root}", share="90 %", root=screws.root),
            PILOT * screws.root,
        ),
        ("Handle along the lid's grain", "both holes round"),
        ("Handle across the lid's grain", say(slot + " {slot}", slot=made.slot)),
    )
    return draw.Table("screws", "Screws", ("What", "Value"), rows)


def _to_buy(screws: Screws, shortest: float, longest: float) -> Words:
    """Return what to ask for in a shop: inch screws by their gauge, others by their shank."""
    sold = SOLD[screws.units]
    length = arithmetic.bought_length(wanted=screws.length, least=shortest, most=longest, sold=sold)
    gauge = arithmetic.screw_gauge(screws.shank) if screws.units == "in" else None
    size = "{shank}" if gauge is None else f"No. {gauge}"
    if length is None:
        return say(f"wood screws {size}, none is sold so long: file longer ones off", shank=screws.shank)
    return say(f"wood screws {size} × {{length}}", shank=screws.shank, length=float(length))


def _place(made: Screwed) -> Words:
    """Say where on the lid the foot stands: in its middle."""
    turned = "across" if made.screws.across else "along"
    if made.lid is None:
        return f"The foot stands in the middle of the lid, {turned} its grain: draw both middle lines on the lid's top."
    long, wide = made.lid
    reach = (wide if made.screws.across else long) / 2 - made.handle.length / 2
    words = (
        f"The foot stands in the middle of the lid, {turned} its grain: draw both middle lines on its top, {{ends}} "
        "from the ends and {sides} from the long edges, and lay the sheet's on them. The foot's ends are then {reach} "
        "from the lid's edges."
    )
    return say(words, ends=long / 2, sides=wide / 2, reach=reach)


def _screw_notes(made: Screwed) -> draw.Notes:
    screws = made.screws
    said: list[Words] = [
        _place(made),
        "Both screws stand on the middle line of the foot, in the neck: only there is wood all the way up to the "
        "crest. Beside the neck a screw comes out in a hole.",
        "Prick both centres through the sheet into the lid; drill the clearance holes from above into a waste block, "
        "sink the heads from below. Hold the handle in its place and mark its foot through the holes.",
        "Measure shank and root of your screws with callipers before drilling. Rub wax on the threads. No glue where "
        "the handle lies across the grain: the lid must move under it.",
    ]
    if screws.crown_radius:
        gap = arithmetic.gap_under_foot(foot=made.handle.thickness, crown_radius=screws.crown_radius)
        said.append(
            say(
                "The lid is crowned: under the edges of a flat foot there is a gap of {gap}. Plane a flat for the "
                "foot, or hollow the foot to the lid.",
                gap=gap,
            )
        )
    return draw.Notes("screw-notes", "How to use this sheet", tuple(said))
