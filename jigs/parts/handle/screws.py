"""The screws of a handle, up through the lid: two into its neck, or one beside each side of a middle hole."""

from __future__ import annotations

from collections.abc import Mapping

from jigs.base import usual
from jigs.base.lengths import Units
from jigs.base.usual import LEAST_WEB
from jigs.base.wording import Words, say
from jigs.boxfile.sections import Climate
from jigs.parts.handle.part import Handle
from jigs.parts.lid.part import Lid
from jigs.parts.wood.part import wood
from jigs.record import Record, replace
from jigs.trade import handle as arithmetic
from jigs.trade import movement

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
"""From screw to screw, of the neck, and of the thickness where two stand side by side (common practice, no source)."""

_ROW = 2
"""So many screws stand in one row along the handle."""
HEAD = 2.0
"""A countersunk head is as wide as this many shanks (value from memory)."""


class Screws(Record):
    """Screws up through the lid. `swelling` is the share of its width by which the lid moves over the year.

    `apart` is from screw to screw where two stand side by side across the handle, 0 where each stands alone.
    """

    lid: float
    countersink: float
    bite: float
    shank: float
    root: float
    across: bool
    swelling: float
    units: Units
    crown_radius: float | None = None
    apart: float = 0.0

    @property
    def length(self) -> float:
        """Length of a screw."""
        return arithmetic.screw_length(lid=self.lid, countersink=self.countersink, bite=self.bite)

    @property
    def hole(self) -> float:
        """Diameter of the clearance hole in the lid: two side by side across its grain leave it room to move."""
        return self.shank + CLEARANCE + (0.0 if self.across else self.apart * self.swelling)

    @property
    def head(self) -> float:
        """Diameter of the head."""
        return HEAD * self.shank

    @property
    def pilot(self) -> float:
        """Diameter of the pilot hole in the handle."""
        return PILOT * self.root


class Screwed(Record):
    """A handle with its screws; `lid` is the length, along the grain, and the width of the lid, where known, mm."""

    handle: Handle
    screws: Screws
    lid: tuple[float, float] | None = None

    @property
    def places(self) -> tuple[float, float]:
        """Where the screws stand, from the middle: in the neck, or each beside the middle hole, with wood over them."""
        if self.handle.middle:
            half = self.handle.holes.screw_beside_middle(self.screws.bite, LEAST_WEB + self.screws.shank / 2)
        else:
            half = self.handle.neck * SCREW_SPACING / 2
        return -half, half

    @property
    def sides(self) -> tuple[float, ...]:
        """Where the screws at one place stand across the handle, from its middle."""
        half = self.screws.apart / 2
        return (-half, half) if half else (0.0,)

    @property
    def count(self) -> int:
        """How many screws there are."""
        return len(self.places) * len(self.sides)

    @property
    def spacing(self) -> float:
        """From screw to screw along the handle."""
        return 2 * self.places[1] if self.handle.middle else self.handle.neck * SCREW_SPACING

    @property
    def each(self) -> float:
        """The thickness that a screw has to itself."""
        return self.handle.thickness / len(self.sides)

    @property
    def slot(self) -> float:
        """How much longer than wide a hole across the grain must be."""
        return self.spacing * self.screws.swelling

    @property
    def wood_over(self) -> float:
        """The wood from the base to the crest over a screw."""
        return self.handle.holes.wood_over_screw(self.places[1])

    @property
    def wood_beside(self) -> float:
        """The least wood between a screw and the hole beside it."""
        return self.handle.holes.wood_beside_screw(self.places[1], self.screws.bite) - self.screws.shank / 2

    @property
    def lengths(self) -> tuple[float, float]:
        """The shortest screws that hold, and the longest that there is room for."""
        screws = self.screws
        most = arithmetic.most_bite(self.wood_over)
        return screws.length - screws.bite + LEAST_BITE, screws.length - screws.bite + most

    @property
    def reach(self) -> float | None:
        """From an end of the base to the edge of the lid; None where no lid is known."""
        if self.lid is None:
            return None
        long, wide = self.lid
        return (wide if self.screws.across else long) / 2 - self.handle.length / 2

    @property
    def gap(self) -> float:
        """The gap under the edges of a flat base on a crowned lid, whose crown runs over its width; 0 on a flat one.

        Where the handle lies across the crown on two feet, these meet it at the arch first: so much less.
        """
        radius = self.screws.crown_radius
        over = self.handle.length if self.screws.across else self.handle.thickness
        wide = over if self.lid is None else min(over, self.lid[1])
        gap = arithmetic.gap_under_base(base=wide, crown_radius=radius) if radius else 0.0
        opening = self.handle.holes.opening if self.screws.across else 0.0
        if radius and 0 < opening < wide:
            gap -= arithmetic.gap_under_base(base=opening, crown_radius=radius)
        return gap


def to_buy(made: Screwed) -> Words:
    """Return what to ask for in a shop: inch screws by their gauge, others by their shank."""
    screws, (shortest, longest) = made.screws, made.lengths
    sold = SOLD[screws.units]
    length = arithmetic.bought_length(wanted=screws.length, least=shortest, most=longest, sold=sold)
    gauge = arithmetic.screw_gauge(screws.shank) if screws.units == "in" else None
    size = "{shank}" if gauge is None else f"No. {gauge}"
    if length is None:
        return say(f"{size}, longer, filed off: none is sold so long", shank=screws.shank)
    return say(f"{size} × {{length}}", shank=screws.shank, length=float(length))


def through(made: Handle, lid: Lid | None) -> Screwed:
    """Return a handle with its screws through a lid, or through a usual lid where the box has none."""
    return Screwed(made, screws_of(made, lid), (lid.length, lid.width) if lid else None)


def screws_of(made: Handle, lid: Lid | None) -> Screws:
    """Return the screws through a lid, or through a usual lid where the box has none."""
    if lid is None:
        return screws_through(made, usual.LID_AT_SCREWS.size(made.units))
    swelling = lid.wood.coefficient * (lid.air.wet - lid.air.dry)
    return replace(screws_through(made, lid.thickness), swelling=swelling, crown_radius=lid.crown_radius)


def screws_through(made: Handle, lid: float) -> Screws:
    """Return the screws through a lid of a thickness that moves as one does that is not named."""
    asked, swelling = made.asked, _usual_swelling()
    return Screws(
        *(lid, asked.countersink, asked.bite, asked.shank, asked.root, asked.across),
        swelling=swelling,
        units=made.units,
        apart=made.thickness * SCREW_SPACING if asked.screws > _ROW else 0.0,
    )


def _usual_swelling() -> float:
    """Return by what share of its width a lid that is not named moves over the usual year."""
    air = Climate()
    dry, wet = (movement.equilibrium_moisture(a.temperature, a.humidity) for a in (air.dry, air.wet))
    return wood(None, 0.0).coefficient * (wet - dry)
