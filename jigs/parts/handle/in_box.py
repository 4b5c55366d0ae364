"""The handle as it stands on a box: what it says in JSON, report and cover, and its steps. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any, ClassVar

from jigs.base.cards import Sheets
from jigs.base.lazily import lazily
from jigs.base.wording import Words, say
from jigs.parts.handle.part import Handle
from jigs.parts.handle.rules import HANDLE
from jigs.parts.lid.in_box import LidPart
from jigs.parts.part import Part, Parts, Piece, Row, made_of
from jigs.trade.setups import SetUp

with lazily():  # a box is checked without its cards
    from jigs.parts.handle import card


class HandlePart(Part[Handle]):
    """The handle, screwed on from inside the lid."""

    rules = HANDLE
    reported = (
        "holes=holes.count middle=middle_numbers centre_offset=holes.centre_offset chord=holes.chord "
        "rim_in_wood=holes.rim_in_wood crest_radius=holes.crest_radius least_wood=holes.least_wood blank_length"
    )
    name = jig = "handle"
    after_glue = True
    signed: ClassVar = {"holes set": "Hole saw set"}
    machine = ("handle-drill", "Handle drill", ("hole saw", "fence to centre", "stop to centre"))
    measured = ("saw", "middle_saw")
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
        if made.middle:
            kind = "an arch" if made.arched else "an eye"
            middle = {"saw": 2 * made.middle.radius, "up": made.middle.y}
            yield "middle", say(f"{kind} of {{saw:gauge}}, its centre {{up}} above the base", **middle)
        if made.arched:
            yield "feet", say("{foot} wide, {apart} apart", foot=(made.length - holes.opening) / 2, apart=holes.opening)
        yield "opening", say("{chord} high, {deep} deep", chord=holes.chord, deep=holes.grip_depth)
        yield "saw rim", f"{holes.rim_in_wood * 100:.0f} % in wood"
        yield "crest", say("radius {radius}", radius=holes.crest_radius)
        yield (
            "thinnest",
            say("{wood} at the thinnest section; {over} above the holes", wood=holes.least_wood, over=holes.over_holes),
        )
        yield "blank", say("{blank} long, trimmed after drilling", blank=made.blank_length)
        if made.below:
            yield "arch", say("{below} of the blank below the base, ripped off after drilling", below=made.below)
        yield "clamps", say("{room} or more from a hole’s centre", room=made.clamp_room)

    def set_to(self) -> Words:
        """Return what the machines are set to for it, in a line."""
        made, holes = self.made, self.made.holes
        words = (
            f"hole saw {{saw:gauge}}, pilot drill {'in' if made.pilot.stays else 'out'}; hole centres {{aside}} from "
            "the middle, {up} above the base; "
        )
        drilled = {"saw": 2 * made.radius, "aside": holes.centre_offset, "up": made.hole_height}
        if made.middle:
            words += "middle hole {wide:gauge}, its centre {centre} above the base; "
            drilled |= {"wide": 2 * made.middle.radius, "centre": made.middle.y}
        words += "blank {blank} long; "
        if made.below:
            words += "{below} of it ripped off below the base; "
            drilled["below"] = made.below
        words += "clamps {room} or more from a centre; crest, radius {crest:rough}"
        return say(words, **drilled, blank=made.blank_length, room=made.clamp_room, crest=holes.crest_radius)

    @classmethod
    def set_ups(cls, data: Mapping[str, Any]) -> Iterator[tuple[str, SetUp]]:
        """Yield those of the drill: the middle of three holes has one of its own."""
        named = ("",) if len(data["drill"]) == 1 else ("end holes", "middle hole")
        yield from zip(named, map(tuple, data["drill"]), strict=True)

    def sheets(self, others: Parts) -> Sheets:
        """Return its card, and its templates."""
        return card.of(self.made, made_of(LidPart, others))

    def piece(self) -> Piece:
        """Return it as the cut list has it; the file names no wood for it."""
        made = self.made
        sizes = made.length, made.height, made.thickness
        wide = made.blank_height if made.blank_height > made.height else None
        return Piece("handle", 1, *sizes, None, "hole to hole", blank=made.blank_length, blank_width=wide)
