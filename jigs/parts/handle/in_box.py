"""The handle as it stands on a box: what it says in JSON, report and cover, and its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from jigs.base import cautions
from jigs.base.cards import Sheets
from jigs.base.wording import Words, say
from jigs.parts.handle import bench, card
from jigs.parts.handle.part import Handle
from jigs.parts.handle.rules import HANDLE
from jigs.parts.handle.screws import through
from jigs.parts.lid.in_box import LidPart
from jigs.parts.lid.part import Lid
from jigs.parts.part import BY_HAND, Part, Parts, Piece, Row, Step, held, made_of, step
from jigs.trade.setups import SetUp


class HandlePart(Part[Handle]):
    """The handle, screwed on from inside the lid."""

    rules = HANDLE
    reported = (
        "centre_offset=holes.centre_offset chord=holes.chord rim_in_wood=holes.rim_in_wood "
        "crest_radius=holes.crest_radius least_wood=holes.least_wood blank_length"
    )
    name = jig = station = "handle"
    after_glue = True
    signed: ClassVar = {"holes set": "Hole saw set"}
    machine = ("handle-drill", "Handle drill", ("hole saw", "fence to centre", "stop to centre"))
    measured = ("saw",)
    answers = (
        (
            "handle",
            "Handle",
            "Hole centres=handle.centre_offset, Crest radius=handle.crest_radius, Blank=handle.blank_length",
        ),
    )
    sizes = (
        "Hole centres from the middle=handle.centre_offset; Opening, high=handle.chord; "
        "Crest, radius=handle.crest_radius; Thinnest section=handle.least_wood; Blank, long=handle.blank_length"
    )

    def rows(self) -> Iterator[Row]:
        """Yield its rows of the report."""
        made, holes = self.made, self.made.holes
        yield "centres", say("{aside} from the middle, {up} up", aside=holes.centre_offset, up=made.hole_height)
        yield "opening", say("{chord} high, {deep} deep", chord=holes.chord, deep=holes.grip_depth)
        yield "rim", f"{holes.rim_in_wood:.0%} in wood"
        yield "crest", say("radius {radius}", radius=holes.crest_radius)
        yield "least", say("{wood} of wood; above the holes {over}", wood=holes.least_wood, over=holes.hole_to_crest)
        yield "blank", say("{blank} long, trimmed after drilling", blank=made.blank_length)
        yield "clamps", say("{room} or more from a hole's centre", room=made.clamp_room)

    def set_to(self) -> Words:
        """Return what the machines are set to for it, in a line."""
        made, holes = self.made, self.made.holes
        words = (
            f"hole saw's pilot drill {'in' if made.pilot.stays else 'out'}; holes of {{saw}}, centres {{aside}} from "
            "the middle and {up} above the base; blank {blank} long; clamps {room} or more from a centre; crest, "
            "radius {crest}"
        )
        drilled = {"saw": 2 * made.radius, "aside": holes.centre_offset, "up": made.hole_height}
        return say(words, **drilled, blank=made.blank_length, room=made.clamp_room, crest=holes.crest_radius)

    @classmethod
    def set_ups(cls, data: Mapping[str, Any]) -> Iterator[tuple[str, SetUp]]:
        """Yield that of the drill."""
        yield "", tuple(data["drill"])

    def steps(self, others: Parts) -> Iterator[Step]:
        """Yield its steps in the order of work; what it has done to the lid is done there."""
        made, holes = self.made, self.made.holes
        if made_of(LidPart, others) is None:
            yield self._screw_holes(None)
        words = "Blank {long} by {high} by {thick}; hole centres {aside} from the middle, {up} above the base."
        blank = {"long": made.blank_length, "high": made.blank_height, "thick": made.thickness}
        yield step("cut", "blank", words, BY_HAND, **blank, aside=holes.centre_offset, up=made.hole_height)
        words = (
            f"hole saw in the drill press, pilot drill {'in' if made.pilot.stays else 'out'}, lowest speed; blank and "
            "waste block clamped down, clamps {room} or more from a hole's centre"
        )
        yield held("power", "holes", words, (cautions.HOLE_SAW,), room=made.clamp_room)
        second = ", the pilot in its own hole for the second" if made.pilot.stays else ""
        words = f"Drill holes of {{saw}} in the untrimmed blank, half from each face{second}."
        yield step("cut", "holes", words, saw=2 * made.radius)
        words = "Trim to {long}, shape the crest, radius {radius}. Round every edge that a hand meets."
        yield step("cut", "handle", words, BY_HAND, long=made.length, radius=holes.crest_radius)
        words = "Stand the handle on the lid and mark its base through the screw holes. Drill its pilot holes; screw it"
        yield step("fit", "handle", words + " on.")
        words = "Take the handle off again: lid and handle are finished apart, and nothing is drilled after that."
        yield Step(words)

    def steps_on(self, other: Part[Any], shaped: bool) -> Iterator[Step]:
        """Yield the screw holes in a lid that is flat, and the flat for the base on one with a crown."""
        if not isinstance(other, LidPart):
            return
        lid = other.made
        if not shaped:
            yield self._screw_holes(lid)
        elif lid.crown_radius:
            way = "across" if self.made.asked.across else "along"
            words = f"Plane a flat {{wide}} wide {way} the middle of the crown, {{deep}} deep: the base stands on it."
            yield step("cut", "flat", words, BY_HAND, wide=self.made.thickness, deep=through(self.made, lid).gap)

    def _screw_holes(self, lid: Lid | None) -> Step:
        """Return the holes of its screws, drilled while the top of a lid with a crown is flat."""
        screwed = bench.screwed(self.made, lid)
        if screwed is None:
            return step("cut", "screw holes", bench.OTHER_SCREWS, BY_HAND)
        flat = ", while its top is flat" if lid and lid.crown_radius else ""
        words = (
            f"Drill two screw holes of {{hole}} through the lid{flat}, {{apart}} apart, from above into a waste block. "
            "Sink their heads {sunk} deep from below."
        )
        sizes = {"hole": screwed.screws.hole, "apart": screwed.spacing, "sunk": screwed.screws.countersink}
        return step("cut", "screw holes", words, BY_HAND, **sizes)

    def sheets(self, others: Parts) -> Sheets:
        """Return its card, and its templates."""
        return card.of(self.made, made_of(LidPart, others))

    def piece(self) -> Piece:
        """Return it as the cut list has it; the file names no wood for it."""
        made = self.made
        sizes = made.length, made.height, made.thickness
        return Piece("handle", 1, *sizes, None, "hole to hole", blank=made.blank_length)
