"""The groove as it stands in a box: what it says in JSON, report and cover, and its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from jigs.base import cautions
from jigs.base.cards import Sheets
from jigs.base.rules import READ_OUT
from jigs.base.wording import Words, say
from jigs.parts.groove import card
from jigs.parts.groove.part import Groove
from jigs.parts.groove.rules import GROOVE
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS
from jigs.parts.part import Part, Parts, Row, Step, held, numbers_of, step
from jigs.trade.setups import SetUp


class GroovePart(Part[Groove]):
    """The groove for the bottom."""

    name = station = "groove"
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
        "Fence to the cutter's centre=groove.fence; Stops=groove.stops"
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
        yield "fence", say("{fence} to the cutter's centre" + long, fence=made.fence, length=made.fence_length)
        yield "stopped", ", ".join(made.stopped) or "no board: it runs through all four"
        for kind in made.stopped_kinds:
            stops = made.stops[MEMBERS[kind][0]]
            words = f"{kind}: {{centre}} left and right of the cutter's centre, {{edge}} from its near edge"
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
        words = ["fence {fence} from the cutter's centre", "bottom edge to groove {low}"]
        words.append("depth {deep}" + (f" in {count} passes" if count > 1 else ""))
        numbers: dict[str, float | None] = {}
        for i, kind in enumerate(made.stopped_kinds):
            stops = made.stops[MEMBERS[kind][0]]
            words.append(f"stops for {kind} {{left{i}}} left and {{right{i}}} right of the centre")
            numbers |= {f"left{i}": stops.left, f"right{i}": stops.right}
        words.append("end margin {wood}" if made.stopped else "through in all four sides")
        sizes = {"fence": made.fence, "low": made.from_bottom, "deep": made.depth, "wood": made.end_margin}
        return say("; ".join(words), **sizes, **numbers)

    @classmethod
    def set_ups(cls, data: Mapping[str, Any]) -> Iterator[tuple[str, SetUp]]:
        """Yield one for the longs and one for the ends: those that run through need no stops."""
        made, cut = data["groove"], data["cut"]
        for kind, said in ((LONGS, "front, back"), (SHORTS, "ends")):
            stops = made["stops"].get(MEMBERS[kind][0])
            sides = (stops["left"], stops["right"]) if stops else None
            yield said, (cut["groove_cutter"], cut["groove_depth"], made["fence"], sides)

    def steps(self, others: Parts) -> Iterator[Step]:
        """Yield its steps in the order of work."""
        made = self.made
        low, first, stopped = made.from_bottom, made.passes[0], made.stopped
        words = "Fence {fence} from the cutter's centre, so that the groove starts {low} above the bottom edge."
        yield step("set", "groove", words, fence=made.fence, low=low)
        for kind in made.stopped_kinds:
            stops = made.stops[MEMBERS[kind][0]]
            words = f"Stops for {kind}: {{left}} left and {{right}} right of the cutter's centre."
            words += " They need a fence {fence} long." if kind == made.stopped_kinds[0] else ""
            yield step("set", "groove", words, left=stops.left, right=stops.right, fence=made.fence_length)
        heed = (cautions.GROOVE if stopped else cautions.THROUGH_GROOVE,)
        words = "fence and stops clamped" if stopped else "fence clamped"
        words += ", bit tight in its collet and {first} high, guard on"
        yield held("power", "groove", words, heed, first=first)
        yield self._trial()
        words = "groove {low} above the edge of the scrap, {wide} wide, {first} deep"
        words += ", {wood} of wood at each stopped end" if stopped else ""
        sizes = {"low": low, "wide": made.cutter, "first": first, "wood": made.end_margin}
        yield held("cut", "groove", words, **sizes)
        heights = {f"pass{i}": height for i, height in enumerate(made.passes)}
        passes = ", ".join(f"{{{name}}}" for name in heights)
        names = f"; stopped in {' and '.join(stopped)}" if stopped else "; through in all four"
        words = f"Groove the inner faces, bottom edge to the fence, bit at {passes}{names}."
        yield step("cut", "groove", words, **heights)

    def _trial(self) -> Step:
        """Return its trial: where it is stopped, in scrap as long as the boards, or the stops try nothing."""
        if not self.made.stopped:
            return step("try", "groove", "Try it in scrap and measure the groove.")
        long = {f"long{i}": self.made.lengths[kind] for i, kind in enumerate(self.made.stopped_kinds)}
        words = " and ".join(f"{{{name}}}" for name in long)
        words = f"Plunge trial in scrap as long as the boards that are stopped, {words}: measure the groove."
        return step("try", "groove", words, **long)

    def sheets(self, others: Parts) -> Sheets:
        """Return its card, and the sticks that set its stops."""
        return card.of(self.made)
