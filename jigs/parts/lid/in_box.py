"""The lid as it stands on a box: what it says in JSON, report and cover, and its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any, ClassVar

from jigs.base.cards import Sheets
from jigs.base.lazily import lazily
from jigs.base.wording import Words, say
from jigs.parts.lid.part import Lid
from jigs.parts.lid.rules import LID
from jigs.parts.lid.year import year_curves
from jigs.parts.part import RABBETS, Part, Parts, Piece, Row, rabbets
from jigs.parts.wood.part import wood_of
from jigs.parts.wood.seasons import Curve
from jigs.trade.setups import SetUp

with lazily():  # a box is checked without its cards
    from jigs.parts.lid import card


class LidPart(Part[Lid]):
    """The lid with its plug."""

    rules = LID
    reported = (
        "length width plug_length plug_width=plug.width gap_shop=plug.gap_now gap_dry=plug.gap_dry "
        "gap_wet=plug.gap_wet crown_radius edge"
    )
    name = jig = "lid"
    after_glue = True
    signed: ClassVar = {"plug set": "Lid set", "plug tried": "Lid's last cut"}
    machine = ("lid-rabbets", "Lid rabbets", RABBETS)
    measured = ("thickness",)
    answers = (
        ("lid", "Lid", "Length=lid.length, Width=lid.width, Plug length=lid.plug_length, Plug width=lid.plug_width"),
        (
            "crown",
            "its crown and clearance",
            "Radius=lid.crown_radius, Edge=lid.edge, Clearance now=lid.gap_shop, Driest=lid.gap_dry",
        ),
    )
    sizes = (
        "Size=lid.length × lid.width; Plug=lid.plug_length × lid.plug_width; Clearance today=lid.gap_shop; "
        "Clearance when driest=lid.gap_dry; Clearance when wettest=lid.gap_wet; Edge=lid.edge"
    )

    def rows(self) -> Iterator[Row]:
        """Yield its rows of the report."""
        made, plug, (ends, sides) = self.made, self.made.plug, self.made.rabbets
        yield "wood", made.wood.said
        yield "size", say("{length} × {width}", length=made.length, width=made.width)
        sizes = {"length": made.plug_length, "width": plug.width, "deep": made.plug_depth}
        yield "plug", say("{length} × {width}, {deep} deep", **sizes)
        yield "rabbets", say("{ends} at the ends, {sides} along the sides", ends=ends, sides=sides)
        year = {"now": plug.gap_now, "dry": plug.gap_dry, "wet": plug.gap_wet}
        yield "clearance", say("{now} now, {dry} when driest, {wet} when wettest", **year)
        yield "locks", f"at a humidity of {made.locks_at:.0f} %" if made.locks_at else "never"
        yield "edge", say("{edge}; above the plug’s shoulder {over}", edge=made.edge, over=made.over_shoulder)
        if made.crown_radius:
            yield "crown", say("{rise} high, radius {radius:rough}", rise=made.crown, radius=made.crown_radius)

    def set_to(self) -> Words:
        """Return what the machines are set to for it, in a line."""
        made, (ends, sides) = self.made, self.made.rabbets
        words = (
            "plug {long} × {wide}; rabbets {deep} deep, {ends} wide at the ends, {sides} along the sides; clearance "
            "{gap} across the grain now; "
            + ("crown {rise} high, radius {radius:rough}" if made.crown_radius else "no crown")
        )
        plug = {"long": made.plug_length, "wide": made.plug.width, "deep": made.plug_depth, "gap": made.plug.gap_now}
        return say(words, **plug, ends=ends, sides=sides, rise=made.crown, radius=made.crown_radius)

    @classmethod
    def set_ups(cls, data: Mapping[str, Any]) -> Iterator[tuple[str, SetUp]]:
        """Yield those of its rabbets."""
        return rabbets(data, "lid", "ends", "sides")

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
