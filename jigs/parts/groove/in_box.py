"""The groove as it stands in a box: what it says in JSON, report and cover, and its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from jigs.base.cards import Sheets
from jigs.base.lazily import lazily
from jigs.base.rules import READ_OUT
from jigs.base.wording import Words, say
from jigs.parts.groove.part import Groove
from jigs.parts.groove.rules import GROOVE
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS
from jigs.parts.part import Part, Parts, Row, numbers_of
from jigs.trade.setups import SetUp

with lazily():  # a box is checked without its cards
    from jigs.parts.groove import card


class GroovePart(Part[Groove]):
    """The groove for the bottom."""

    name = "groove"
    rules = GROOVE
    reported = (
        "fence fence_reach fence_length stopped stops end_wood=end_margin end_wood_max=end_margin_range.1 "
        "corner=corner_cut"
    )
    jig = "stops"
    signed: ClassVar = {"groove set": "Groove set", "groove tried": "Groove in scrap"}
    measured = ("cutter",)
    machine = ("grooves", "Grooves", ("cutter", "depth", "fence to centre", "stops, left and right"))
    answers = (("groove", "Groove", "Fence=groove.fence, End margin=groove.end_wood, At most=groove.end_wood_max"),)
    sizes = (
        "Cutter=cut.groove_cutter; Depth=cut.groove_depth; Lower side from the bottom edge=cut.groove_from_bottom; "
        "Fence to bit centre=groove.fence; Stops=groove.stops"
    )

    def facts(self) -> dict[str, Any]:
        """Return its numbers by the names of the JSON report."""
        return super().facts() | {"stops": {name: numbers_of(s, "left right") for name, s in self.made.stops.items()}}

    def rows(self) -> Iterator[Row]:
        """Yield its rows of the report."""
        made, count = self.made, len(self.made.passes)
        yield "height", say("{low} to {top} from the bottom edge", low=made.from_bottom, top=made.top)
        each = "one pass" if count == 1 else f"{count} passes of {{each}}"
        yield "depth", say("{depth}, in " + each, depth=made.depth, each=made.depth / count)
        long = "; {length} long or more, for the stops" if made.fence_length else ""
        yield "fence", say("{fence} to bit centre" + long, fence=made.fence, length=made.fence_length)
        yield "stopped", ", ".join(made.stopped) or "no board: it runs through all four"
        for kind in made.stopped_kinds:
            stops = made.stops[MEMBERS[kind][0]]
            words = f"{kind}: {{centre}} left and right of the bit’s centre, {{edge}} from its near edge"
            yield "stops", say(words, centre=stops.right, edge=stops.right_from_edge)
        if made.stopped:
            least, most = made.end_margin_range
            fits = "{wood}; a square corner goes in from {least} to {most}"
            if made.lacks > READ_OUT:
                fits = "{wood}; {lacks} short of a square corner, which is nothing"
            elif least > most:
                fits = "{wood}"
            yield "end margin", say(fits, wood=made.end_margin, least=least, most=most, lacks=made.lacks)
            clipped = made.corner_kind == "clip"
            yield "corner", say("clipped by {leg} at 45°" if clipped else "square", leg=made.corner_size)

    def set_to(self) -> Words:
        """Return what the machines are set to for it, in a line."""
        made, count = self.made, len(self.made.passes)
        words = [
            "{low} to {top} from the bottom edge",
            "{deep} deep, " + (f"{count} passes" if count > 1 else "one pass"),
        ]
        words.append("fence {fence} to bit centre")
        numbers: dict[str, float | None] = {}
        for i, kind in enumerate(made.stopped_kinds):
            stops = made.stops[MEMBERS[kind][0]]
            words.append(f"{kind} stopped, stops {{left{i}}} left and {{right{i}}} right of bit centre")
            numbers |= {f"left{i}": stops.left, f"right{i}": stops.right}
        words.append("end margin {wood}" if made.stopped else "through in all four sides")
        sizes = {"low": made.from_bottom, "top": made.top, "deep": made.depth, "fence": made.fence}
        return say("; ".join(words), **sizes, wood=made.end_margin, **numbers)

    @classmethod
    def set_ups(cls, data: Mapping[str, Any]) -> Iterator[tuple[str, SetUp]]:
        """Yield one for the longs and one for the ends: those that run through need no stops."""
        made, cut = data["groove"], data["cut"]
        for kind, said in ((LONGS, "front, back"), (SHORTS, "ends")):
            stops = made["stops"].get(MEMBERS[kind][0])
            sides = (stops["left"], stops["right"]) if stops else None
            yield said, (cut["groove_cutter"], cut["groove_depth"], made["fence"], sides)

    def sheets(self, others: Parts) -> Sheets:
        """Return its card, and the sticks that set its stops."""
        return card.of(self.made)
