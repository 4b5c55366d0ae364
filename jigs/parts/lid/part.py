"""The lid, settled. Lengths in mm."""

from __future__ import annotations

from functools import cached_property

from jigs.base.lengths import Units
from jigs.base.usual import LID_CROWN, LID_PLUG
from jigs.boxfile.sections import BoxFile, LidSection
from jigs.parts.wood.part import Moistures, Wood
from jigs.record import Record
from jigs.trade import lid, movement

# -- lid -----------------------------------------------------------------------------------------------------------


class Lid(Record, dict=True):
    """The lid. Its grain runs the long way; `along` and `across` are the opening that way and the other."""

    thickness: float
    plug_depth: float
    overhang: float
    crown: float
    clearance: float
    wood: Wood
    length: float
    width: float
    along: float
    across: float
    play: float
    units: Units
    air: Moistures
    bit: float
    deepest_pass: float

    @cached_property
    def plug(self) -> lid.Plug:
        """The plug across the grain and its gaps."""
        return self._plug(self.wood.coefficient)

    @property
    def quartered(self) -> lid.Plug:
        """The same, quarter-sawn."""
        return self._plug(self.wood.quartered)

    def _plug(self, coefficient: float) -> lid.Plug:
        return lid.plug(
            opening=self.across,
            clearance=self.clearance,
            coefficient=coefficient,
            now=self.air.shop,
            dry=self.air.dry,
            wet=self.air.wet,
        )

    @property
    def plug_length(self) -> float:
        """The plug along the grain."""
        return lid.plug_along(opening=self.along, play=self.play)

    @property
    def rabbets(self) -> tuple[float, float]:
        """Widths of the rabbets at the ends and along the sides."""
        return (
            lid.rabbet(lid=self.length, plug_width=self.plug_length),
            lid.rabbet(lid=self.width, plug_width=self.plug.width),
        )

    @property
    def locks_at(self) -> float | None:
        """The humidity in % at which the plug fills the opening in summer's warmth, or None: never."""
        return lid.locks_at(
            opening=self.across,
            plug_width=self.plug.width,
            coefficient=self.wood.coefficient,
            now=self.air.shop,
            temperature=self.air.wet_temperature,
        )

    @property
    def widths(self) -> tuple[float, float]:
        """The lid across the grain in the driest and in the wettest air."""
        dry, wet = (movement.ratio(self.wood.coefficient, self.air.shop, end) for end in (self.air.dry, self.air.wet))
        return self.width * dry, self.width * wet

    @property
    def crown_radius(self) -> float | None:
        """Radius of the crown, over the width; None for a flat lid."""
        return lid.arc_radius(self.width, self.crown) if self.crown else None

    @property
    def edge(self) -> float:
        """The wood left at the edge, over the rabbet."""
        return lid.edge_thickness(thickness=self.thickness, plug_depth=self.plug_depth, crown=self.crown)

    @property
    def over_shoulder(self) -> float:
        """The wood over the shoulder of the plug."""
        if not self.crown:
            return self.edge
        return lid.over_shoulder(edge=self.edge, width=self.width, crown=self.crown, plug_width=self.plug.width)


def lid_of(file: BoxFile, inside: tuple[float, float], wood: Wood, air: Moistures) -> Lid | None:
    """Return the lid of a file, or None where there is none."""
    asked = file.lid
    if asked is None:
        return None
    size = max(file.box.length, file.box.width), min(file.box.length, file.box.width)
    length, width = (outside + 2 * asked.overhang for outside in size)
    return settled(asked, (length, width), (max(inside), min(inside)), wood, air, file.units)


def settled(
    asked: LidSection,
    size: tuple[float, float],
    opening: tuple[float, float],
    wood: Wood,
    air: Moistures,
    units: Units,
) -> Lid:
    """Return a lid of a size for an opening, both along and across its grain, with what was left open worked out."""
    return Lid(
        thickness=asked.thickness,
        plug_depth=asked.thickness * LID_PLUG if asked.plug is None else asked.plug,
        overhang=asked.overhang,
        crown=asked.thickness * LID_CROWN if asked.crown is None else asked.crown,
        clearance=asked.clearance,
        wood=wood,
        length=size[0],
        width=size[1],
        along=opening[0],
        across=opening[1],
        play=asked.play,
        units=units,
        air=air,
        bit=asked.bit,
        deepest_pass=asked.deepest_pass,
    )
