"""The bottom panel, settled. Lengths in mm."""

from __future__ import annotations

from functools import cached_property

from jigs.base.usual import BOTTOM_PLAY
from jigs.boxfile.sections import BoxFile, Material, Panel
from jigs.parts.groove.part import Groove, planed_to
from jigs.parts.wood.part import Moistures, Wood
from jigs.record import Record
from jigs.trade import panel, stock

# -- bottom --------------------------------------------------------------------------------------------------------


class Bottom(Record, dict=True):
    """The bottom panel. Its grain runs the long way: `along` and `across` are the inside that way and the other.

    Without a `wood` it is plywood or another sheet, which no air moves: then its grain is that of its faces.
    `planed_from` is the thickness it came with where it is planed to its tongue all over, having no rabbets.
    """

    thickness: float
    tongue: float
    clearance: float
    wood: Wood | None
    along: float
    across: float
    groove: Groove
    air: Moistures
    planed_from: float | None = None
    bit: float | None = None
    """The bit its rabbets are cut with; None: settings for the two that a shop has."""
    unused: tuple[str, ...] = ()
    """What is asked of its wood, by name, though plywood has none of it."""

    @property
    def material(self) -> Material:
        """What it is made of."""
        return "solid" if self.wood else "plywood"

    @property
    def has_rabbets(self) -> bool:
        """Whether it is thicker than its tongue."""
        return self.thickness - self.tongue > 1e-6

    @property
    def lower_face(self) -> float:
        """How high its lower face lies over the bottom edges, the tongue on the groove's lower side."""
        return self.groove.from_bottom - self.rabbet_depths[0]

    @property
    def upper_face(self) -> float:
        """How high its upper face lies over the bottom edges: where the inside depth begins."""
        return self.lower_face + self.thickness

    @property
    def play(self) -> float:
        """What is left at each end along the grain; of plywood, on every side."""
        return BOTTOM_PLAY.size(self.groove.units) if self.wood else self.clearance / 2

    @property
    def length(self) -> float:
        """Along the grain."""
        return panel.along_grain(opening=self.along, depth=self.groove.depth, play=self.play)

    @cached_property
    def seasons(self) -> panel.Panel:
        """Its width now and in the driest and wettest air, and what the grooves hold of it."""
        if self.wood is None:
            return panel.sheet(opening=self.across, depth=self.groove.depth, clearance=self.clearance)
        return self._panel(self.wood.coefficient)

    @property
    def sums(self) -> panel.Sums:
        """What its sizes are less than the inside and both grooves as they are measured."""
        moves, still = self.rabbet_widths
        return panel.sums(
            along=self.along,
            across=self.across,
            depth=self.groove.depth,
            length=self.length,
            width=self.seasons.width,
            rabbet_long_grain=moves,
            rabbet_end_grain=still,
        )

    @property
    def quartered(self) -> panel.Panel:
        """The same, quarter-sawn; plywood has no rings."""
        return self._panel(self.wood.quartered) if self.wood else self.seasons

    def _panel(self, coefficient: float) -> panel.Panel:
        return panel.across_grain(
            opening=self.across,
            depth=self.groove.depth,
            clearance=self.clearance,
            coefficient=coefficient,
            now=self.air.shop,
            dry=self.air.dry,
            wet=self.air.wet,
        )

    @property
    def rabbet_depths(self) -> tuple[float, float]:
        """Depths of its rabbets from its lower face and from its upper.

        Plywood has them on the lower face alone: above, its face goes on into the grooves and no shoulder is seen.
        """
        first = None if self.wood else self.thickness - self.tongue
        return panel.rabbet_depths(thickness=self.thickness, tongue=self.tongue, first=first)

    @property
    def rabbet_widths(self) -> tuple[float, float]:
        """Widths of the rabbets on the long-grain edges, where it moves, and on the end grain, where it doesn't.

        At the ends the shoulders keep the play that the tongue has, or a panel cut a hair long would open the joints.
        """
        moves = panel.rabbet_width(engagement=self.seasons.engagement_now, shoulder_gap=self.seasons.shoulder_gap)
        held = (self.length - self.along) / 2
        return moves, panel.rabbet_width(engagement=held, shoulder_gap=self.play)


def unused_of(asked: Panel) -> tuple[str, ...]:
    """Return the settings that have no meaning for plywood; a name such as "birch plywood" says which plywood it is."""
    if asked.material == "solid":
        return ()
    named_as_wood = asked.species is not None and not stock.is_sheet(asked.species)
    return tuple(name for name, set_so in (("species", named_as_wood), ("rings", asked.rings != 0)) if set_so)


def bottom_of(
    file: BoxFile, groove: Groove, inside: tuple[float, float], wood: Wood | None, air: Moistures
) -> Bottom | None:
    """Return the bottom of a file, or None where there is none; it is cut to the inside measured, where that is.

    Without a wood it is plywood.
    """
    asked = file.bottom
    if asked is None:
        return None
    measured = [read or drawn for read, drawn in zip((asked.inside_length, asked.inside_width), inside, strict=True)]
    along, across = measured if inside[0] >= inside[1] else reversed(measured)
    thickness = planed_to(asked, groove.tongue, file.units)
    return Bottom(
        thickness=thickness,
        tongue=groove.tongue,
        clearance=asked.clearance,
        wood=wood,
        along=along,
        across=across,
        groove=groove,
        air=air,
        planed_from=asked.thickness if thickness != asked.thickness else None,
        bit=asked.bit,
        unused=unused_of(asked),
    )
