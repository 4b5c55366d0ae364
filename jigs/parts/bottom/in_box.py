"""The bottom as it stands in a box: what it says in JSON, report and cover, and its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, ClassVar

from jigs.base.cards import Sheets
from jigs.base.lazily import lazily
from jigs.base.wording import Words, say
from jigs.parts.bottom.part import Bottom
from jigs.parts.bottom.rules import BOTTOM
from jigs.parts.bottom.year import year_curves
from jigs.parts.part import RABBETS, Part, Parts, Piece, Row, rabbets
from jigs.parts.wood.part import wood_of
from jigs.parts.wood.seasons import Curve
from jigs.trade import stock
from jigs.trade.setups import SetUp

with lazily():  # a box is checked without its cards
    from jigs.parts.bottom import card


class BottomPart(Part[Bottom]):
    """The bottom panel."""

    name = "bottom"
    rules = BOTTOM
    reported = (
        "length width=seasons.width width_dry=seasons.width_dry width_wet=seasons.width_wet "
        "engagement_dry=seasons.engagement_dry material tongue thickness "
        "rabbet_depth=rabbet_depths.0 lower_face upper_face"
    )
    jig = "panel"
    signed: ClassVar = {"tongue set": "Bottom set", "tongue tried": "Tongue in scrap"}
    machine = ("bottom-rabbets", "Bottom rabbets", RABBETS)
    measured = ("thickness", "inside_length", "inside_width")
    answers = (
        (name, name, "Length=bottom.length, Width=bottom.width, Driest=bottom.width_dry, Wettest=bottom.width_wet"),
    )
    sizes = (
        "Length=bottom.length; Width today=bottom.width; Width when driest=bottom.width_dry; "
        "Width when wettest=bottom.width_wet; Tongue=bottom.tongue"
    )

    def rows(self) -> Iterator[Row]:
        """Yield its rows of the report."""
        made, sizes = self.made, self.made.seasons
        moving, still = made.rabbet_widths
        if made.wood is None:
            yield from self._rows_of_a_sheet()
            return
        yield "wood", made.wood.said
        yield "length", say("{length} along the grain", length=made.length)
        year = {"now": sizes.width, "dry": sizes.width_dry, "wet": sizes.width_wet}
        yield "width", say("{now} now, {dry} when driest, {wet} when wettest", **year)
        yield "engaged", say("{held} at worst, when driest", held=sizes.engagement_dry)
        if not made.has_rabbets:
            yield "tongue", say("{tongue}: the whole bottom, without rabbets", tongue=made.tongue)
            return
        yield "tongue", say("{tongue}, rabbets {deep} deep", tongue=made.tongue, deep=made.rabbet_depths[0])
        yield "rabbets", say("{moving} on the long grain, {still} on the end grain", moving=moving, still=still)

    def _rows_of_a_sheet(self) -> Iterator[Row]:
        made = self.made
        yield "material", say(f"{self._sheet} {{thick:gauge}} thick, which does not move", thick=made.thickness)
        yield "length", say("{length} along the face grain", length=made.length)
        yield "width", say("{width} in every season", width=made.seasons.width)
        yield "engaged", say("{held} on every side, glued all round", held=made.seasons.engagement_now)
        if made.has_rabbets:
            sizes = {"tongue": made.tongue, "deep": made.rabbet_depths[0], "wide": made.rabbet_widths[1]}
            yield "tongue", say("{tongue}, rabbets {deep} deep and {wide} wide on the lower face", **sizes)
        else:
            yield "tongue", "the whole sheet, without rabbets"

    @property
    def _sheet(self) -> str:
        """What a bottom of plywood is called: by its name, where that says that it is plywood."""
        said = self.file.bottom and self.file.bottom.species
        return said if said and stock.is_sheet(said) else stock.SHEET

    def set_to(self) -> Words:
        """Return what the machines are set to for it, in a line."""
        made, clip = self.made, self.made.groove.corner_size
        moving, still = made.rabbet_widths
        rabbets = "rabbets {deep} deep, {still} wide on the end grain and {moving} on the long grain"
        words = "tongue {tongue:gauge}"
        if made.wood is None:
            rabbets = "rabbets {deep:gauge} deep, {still} wide on the lower face, all round"
            words = f"plywood {{thick:gauge}} thick, glued all round{'; ' + words if made.has_rabbets else ''}"
        words += f"; {rabbets if made.has_rabbets else 'no rabbets'}; corners "
        words += "clipped by {clip} at 45°" if clip else "square"
        sizes = {"thick": made.thickness, "tongue": made.tongue, "deep": made.rabbet_depths[0]}
        return say(words, **sizes, still=still, moving=moving, clip=clip)

    @classmethod
    def sizes_of(cls, data: Mapping[str, Any]) -> str:
        """Return its sizes on a page for reading: plywood has one width the whole year."""
        if data["bottom"]["material"] == "solid":
            return cls.sizes
        return "Material=bottom.material; Thickness=bottom.thickness; Length=bottom.length; Width=bottom.width"

    @classmethod
    def set_ups(cls, data: Mapping[str, Any]) -> Iterator[tuple[str, SetUp]]:
        """Yield those of its rabbets."""
        return rabbets(data, "bottom", "end grain", "long grain")

    def sheets(self, others: Parts) -> Sheets:
        """Return its card, and the gauge of its corners where they are clipped."""
        return card.of(self.made)

    def piece(self) -> Piece:
        """Return it as the cut list has it."""
        made, wood = self.made, wood_of(self.file, self.file.bottom)
        sizes = made.length, made.seasons.width, made.thickness
        if made.wood is None:
            return Piece("bottom", 1, *sizes, self._sheet, "face grain long way", species=self._sheet)
        return Piece("bottom", 1, *sizes, wood, species=made.wood.listed)

    def year(self) -> Sequence[Curve]:
        """Return how it moves through the year."""
        return year_curves(self.made)
