"""The lid as it stands on a box: what it says in JSON, report and cover, and its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, ClassVar

from jigs.base import cautions
from jigs.base.cards import Sheets
from jigs.base.wording import Words, say
from jigs.parts.lid import card
from jigs.parts.lid.part import Lid
from jigs.parts.lid.rules import LID
from jigs.parts.lid.year import year_curves
from jigs.parts.part import BY_HAND, RABBETS, SAWN, Part, Parts, Piece, Row, Step, held, rabbets, step
from jigs.parts.wood.part import wood_of
from jigs.parts.wood.seasons import Curve
from jigs.trade.lid import rabbet_settings
from jigs.trade.setups import SetUp


class LidPart(Part[Lid]):
    """The lid with its plug."""

    rules = LID
    reported = (
        "length width plug_length plug_width=plug.width gap_shop=plug.gap_now gap_dry=plug.gap_dry "
        "gap_wet=plug.gap_wet crown_radius edge"
    )
    name = jig = station = "lid"
    after_glue = True
    signed: ClassVar = {"plug set": "Lid set", "plug tried": "Lid's last cut"}
    machine = ("lid-rabbets", "Lid rabbets", RABBETS)
    measured = ("thickness",)
    answers = (
        ("lid", "Lid", "Length=lid.length, Width=lid.width, Plug length=lid.plug_length, Plug width=lid.plug_width"),
        (
            "crown",
            "its crown and gap",
            "Radius=lid.crown_radius, Edge=lid.edge, Gap now=lid.gap_shop, Driest=lid.gap_dry",
        ),
    )
    sizes = (
        "Size=lid.length × lid.width; Plug=lid.plug_length × lid.plug_width; Gap today=lid.gap_shop; "
        "Gap when driest=lid.gap_dry; Gap when wettest=lid.gap_wet; Edge=lid.edge"
    )

    def rows(self) -> Iterator[Row]:
        """Yield its rows of the report."""
        made, plug, (ends, sides) = self.made, self.made.plug, self.made.rabbets
        yield "wood", made.wood.said
        yield "size", say("{length} by {width}", length=made.length, width=made.width)
        sizes = {"length": made.plug_length, "width": plug.width, "deep": made.plug_depth}
        yield "plug", say("{length} by {width}, {deep} deep", **sizes)
        yield "rabbets", say("{ends} at the ends, {sides} along the sides", ends=ends, sides=sides)
        year = {"now": plug.gap_now, "dry": plug.gap_dry, "wet": plug.gap_wet}
        yield "gap", say("{now} now, {dry} when driest, {wet} when wettest", **year)
        yield "locks", f"at a humidity of {made.locks_at:.0f} %" if made.locks_at else "never"
        yield "edge", say("{edge}; over the plug's shoulder {over}", edge=made.edge, over=made.over_shoulder)
        if made.crown_radius:
            yield "crown", say("{rise} high, radius {radius}", rise=made.crown, radius=made.crown_radius)

    def set_to(self) -> Words:
        """Return what the machines are set to for it, in a line."""
        made, (ends, sides) = self.made, self.made.rabbets
        words = (
            "plug {long} by {wide}; rabbets {deep} deep, {ends} wide at the ends and {sides} along the sides; gap "
            "across the grain {gap} now; " + ("crown {rise} high, radius {radius}" if made.crown_radius else "no crown")
        )
        plug = {"long": made.plug_length, "wide": made.plug.width, "deep": made.plug_depth, "gap": made.plug.gap_now}
        return say(words, **plug, ends=ends, sides=sides, rise=made.crown, radius=made.crown_radius)

    @classmethod
    def set_ups(cls, data: Mapping[str, Any]) -> Iterator[tuple[str, SetUp]]:
        """Yield those of its rabbets."""
        return rabbets(data, "lid", "ends", "sides")

    def steps(self, others: Parts) -> Iterator[Step]:
        """Yield its steps in the order of work, with what others have done to it."""
        made = self.made
        words = "Measure the opening: {long} by {wide} is drawn. Another reading shifts the rabbets by half the "
        yield step("measure", "opening", words + "difference.", long=made.along, wide=made.across)
        words = (
            "Cut the lid to size, square: {long} along the grain by {wide}, planed to {thick}. Mark its reference edge "
            "and its inside face."
        )
        yield step("cut", "lid", words, SAWN, long=made.length, wide=made.width, thick=made.thickness)
        yield from self._plug()
        words = "Ease the plug's edges and try the lid: clearance {gap} across the grain in all, {play} along it."
        yield step("fit", "lid", words, gap=made.plug.gap_now, play=made.play)
        for other in others:
            yield from other.steps_on(self, shaped=False)
        if made.crown_radius:
            words = "Plane the crown to its template: {rise} high, radius {radius}, {edge} left at the edge."
            sizes = {"rise": made.crown, "radius": made.crown_radius, "edge": made.edge}
            yield step("cut", "crown", words, BY_HAND, **sizes)
        for other in others:
            yield from other.steps_on(self, shaped=True)

    def _plug(self) -> Iterator[Step]:
        """Yield the rabbets that leave the plug: the last cut waits until the plug, or a scrap, has been measured."""
        made, (ends, sides) = self.made, self.made.rabbets
        bit, deep = made.bit, made.plug_depth
        every = rabbet_settings(lid=made.width, plug_width=made.plug.width, cutter=bit)
        words = "rabbets of the lid: bit of {bit} tight in its collet, fence clamped, guard and featherboards on"
        yield held("power", "plug", words, (cautions.RABBET,), bit=bit)
        several = ", then the sides at all settings but the last" if len(every) > 1 else ""
        words = f"Try each setting in scrap. Rabbet the ends {{ends}} wide and {{deep}} deep{several}."
        yield step("cut", "shoulders", words, deep=deep, ends=ends)
        if several:
            words = "Measure the plug across: {reads}. Where it differs, correct the last setting by half of that."
            yield step("measure", "plug", words, reads=every[-2].plug)
            words = "plug measured; for the last setting the bit stands {out} out of the fence, or as corrected"
            yield held("cut", "plug", words, out=every[-1].exposed)
        else:
            words = "Cut the setting of the sides in scrap first and measure the rabbet: {sides} wide."
            yield step("try", "plug", words, sides=sides)
            yield held("cut", "plug", "rabbet {sides} wide in the scrap", sides=sides)
        words = "Rabbet both sides at the last setting: {sides} wide, the plug {plug} across."
        yield step("cut", "plug", words, sides=sides, plug=made.plug.width)

    def sheets(self, others: Parts) -> Sheets:
        """Return the card of its plug, and the templates of its crown, which is planed at the bench."""
        return card.of(self.made)

    def piece(self) -> Piece:
        """Return it as the cut list has it."""
        made, wood = self.made, wood_of(self.file, self.file.lid)
        return Piece("lid", 1, made.length, made.width, made.thickness, wood, species=made.wood.listed)

    def year(self) -> Sequence[Curve]:
        """Return how it moves through the year."""
        return year_curves(self.made)
