"""The bottom as it stands in a box: what it says in JSON, report and cover, and its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, ClassVar

from jigs.base import cautions
from jigs.base.cards import Sheets
from jigs.base.rules import READ_OUT
from jigs.base.wording import Words, say
from jigs.parts.bottom import card
from jigs.parts.bottom.card import TONGUE_WITHIN
from jigs.parts.bottom.part import Bottom
from jigs.parts.bottom.rules import BOTTOM
from jigs.parts.bottom.year import year_curves
from jigs.parts.part import BY_HAND, RABBETS, SAWN, Part, Parts, Piece, Row, Step, held, rabbets, step
from jigs.parts.wood.part import wood_of
from jigs.parts.wood.seasons import Curve
from jigs.trade.setups import SetUp


class BottomPart(Part[Bottom]):
    """The bottom panel."""

    name = station = "bottom"
    rules = BOTTOM
    reported = (
        "length width=seasons.width width_dry=seasons.width_dry width_wet=seasons.width_wet "
        "engagement_dry=seasons.engagement_dry tongue thickness rabbet_depth=rabbet_depths.0 lower_face upper_face"
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
        yield "wood", made.wood.said
        yield "length", say("{length} along the grain", length=made.length)
        year = {"now": sizes.width, "dry": sizes.width_dry, "wet": sizes.width_wet}
        yield "width", say("{now} now, {dry} when driest, {wet} when wettest", **year)
        yield "held", say("by {held} at worst, when driest", held=sizes.engagement_dry)
        if not made.has_rabbets:
            yield "tongue", say("{tongue}: the whole bottom, without rabbets", tongue=made.tongue)
            return
        yield "tongue", say("{tongue}, rabbets {deep} deep", tongue=made.tongue, deep=made.rabbet_depths[0])
        yield "rabbets", say("{moving} on the long grain, {still} on the end grain", moving=moving, still=still)

    def set_to(self) -> Words:
        """Return what the machines are set to for it, in a line."""
        made, clip = self.made, self.made.groove.corner_size
        moving, still = made.rabbet_widths
        rabbets = "rabbets {deep} deep, {still} wide on the end grain and {moving} on the long grain"
        words = f"tongue {{tongue}}; {rabbets if made.has_rabbets else 'no rabbets'}; corners "
        words += "clipped by {clip} at 45°" if clip else "square"
        return say(words, tongue=made.tongue, deep=made.rabbet_depths[0], still=still, moving=moving, clip=clip)

    @classmethod
    def set_ups(cls, data: Mapping[str, Any]) -> Iterator[tuple[str, SetUp]]:
        """Yield those of its rabbets."""
        return rabbets(data, "bottom", "end grain", "long grain")

    def steps(self, others: Parts) -> Iterator[Step]:
        """Yield its steps in the order of work."""
        made, sums = self.made, self.made.sums
        yield step("fit", "sides", "Put the four sides together dry, joints closed, bottom edges level.")
        words = (
            "Measure the inside at the grooves: A the longer way, drawn {along}, and B the other, drawn {across}. "
            "Measure D, the grooves where they are shallowest, drawn {deep}."
        )
        yield step("measure", "opening", words, along=made.along, across=made.across, deep=made.groove.depth)
        words = (
            f"Cut the bottom {_sum('A + 2 × D', sums.length, 'ends')} long, along the grain, by "
            f"{_sum('B + 2 × D', sums.width, 'sides')} wide, {{thick}} thick. As drawn that is {{long}} by {{wide}}."
        )
        sizes = {"long": made.length, "wide": made.seasons.width, "thick": made.thickness}
        yield step("cut", "bottom", words, SAWN, **sizes, ends=abs(sums.length), sides=abs(sums.width))
        if made.has_rabbets:
            yield from self._tongue()
        else:
            words = "Plane the bottom until it slides in the grooves by hand, {tongue}."
            yield step("cut", "tongue", words, BY_HAND, tongue=made.tongue)
        if made.groove.corner_size:
            yield step("cut", "corners", "Clip its corners by {leg} at 45 degrees.", leg=made.groove.corner_size)

    def _tongue(self) -> Iterator[Step]:
        """Yield its rabbets: tried in scrap, for a tongue that is too thin can't be mended."""
        made, sums = self.made, self.made.sums
        moving, still = made.rabbet_widths
        deep, within = made.rabbet_depths[0], TONGUE_WITHIN.size(made.groove.units)
        words = "rabbets of the bottom: bit tight in its collet and {deep} high, {still} out of the fence, guard on"
        yield held("power", "tongue", words, (cautions.RABBET,), deep=deep, still=still)
        words = "Rabbet both faces of scrap planed with the bottom. Measure its tongue, and slide it along a groove of "
        yield step("try", "tongue", words + "the box.")
        least, most = made.tongue - within, min(made.groove.cutter, made.tongue + within)
        words = "tongue of the scrap from {least} to {most}, sliding in the groove by hand"
        yield held("cut", "tongue", words, least=least, most=most)
        ends, sides = _sum("D", sums.rabbet_end_grain, "less"), _sum("D", sums.rabbet_long_grain, "less")
        words = f"Rabbets {{deep}} deep on both faces, end grain first: {ends} wide; as drawn {{still}}. "
        sizes = {"deep": deep, "still": still, "tongue": made.tongue, "less": abs(sums.rabbet_end_grain)}
        yield step("cut", "tongue", words + "The tongue is {tongue}.", **sizes)
        words = (
            f"Set the fence for the long grain and try it in scrap: the rabbet is {sides} wide; as drawn {{moving}}. "
            "Then rabbet both sides."
        )
        yield step("cut", "tongue", words, moving=moving, less=abs(sums.rabbet_long_grain))

    def sheets(self, others: Parts) -> Sheets:
        """Return its card, and the gauge of its corners where they are clipped."""
        return card.of(self.made)

    def piece(self) -> Piece:
        """Return it as the cut list has it."""
        made, wood = self.made, wood_of(self.file, self.file.bottom)
        sizes = made.length, made.seasons.width, made.thickness
        return Piece("bottom", 1, *sizes, wood, species=made.wood.listed)

    def year(self) -> Sequence[Curve]:
        """Return how it moves through the year."""
        return year_curves(self.made)


def _sum(words: str, less: float, field: str) -> str:
    """Return a sum with the field of what is taken off it or added; nothing where that is not even read out."""
    said = words if abs(less) < READ_OUT / 2 else f"{words} {'−' if less > 0 else '+'} {{{field}}}"
    return said.replace(" ", "\u00a0")
