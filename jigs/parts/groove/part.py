"""The groove for the bottom, settled. Lengths in mm."""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property
from typing import Literal

from jigs.base.lengths import Units, round_up
from jigs.base.rules import READ_OUT
from jigs.base.usual import (
    CLAMP_PAD,
    GROOVE_DEPTH,
    LEAST_RABBET,
    OFF_THE_TABLE,
    PASS_DEPTH,
    SHEET_SLIP,
    STOP_BLOCK,
    TONGUE_PLAY,
)
from jigs.boxfile import sections
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint.part import LONGS, MEMBERS, OTHERS, SHORTS, cut_length, thicknesses
from jigs.record import Record, replace
from jigs.trade import fingers, groove, panel
from jigs.trade.groove import SafeHeight, Span, Stops
from jigs.trade.sled import SledNumbers

# -- groove --------------------------------------------------------------------------------------------------------


class Groove(Record, dict=True):
    """The groove for the bottom. `thicknesses`, `fingers` and `lengths` (as cut) are by `LONGS` and `SHORTS`."""

    cutter: float
    depth: float
    from_bottom: float
    end_margin: float
    tongue: float
    thicknesses: Mapping[str, float]
    proud: float
    units: Units
    fingers: Mapping[str, tuple[Span, ...]]
    lengths: Mapping[str, float]
    deepest_pass: float = PASS_DEPTH.mm

    @property
    def thickness(self) -> float:
        """Of the thinner sides."""
        return min(self.thicknesses.values())

    @property
    def cut_depths(self) -> dict[str, float]:
        """How deep the sockets of both kinds of sides are."""
        return {kind: self.thicknesses[other] + self.proud for kind, other in OTHERS.items()}

    @property
    def cut_depth(self) -> float:
        """How far the inside corner is from a board's end, where that is least: of the boards that are stopped."""
        return min(self.cut_depths[kind] for kind in self.stopped_kinds or MEMBERS)

    @property
    def radius(self) -> float:
        """Half of the cutter."""
        return self.cutter / 2

    @property
    def top(self) -> float:
        """Its upper side, from the bottom edge."""
        return self.from_bottom + self.cutter

    @property
    def fence(self) -> float:
        """From the fence to the cutter's centre."""
        return groove.fence(from_bottom=self.from_bottom, cutter=self.cutter)

    @property
    def fence_reach(self) -> float | None:
        """How far the fence must reach on each side of the cutter's centre for the stops; None without any."""
        far = [stop for stops in self.stops.values() for stop in (stops.left, stops.right) if stop is not None]
        if not far:
            return None
        block, pad = STOP_BLOCK.size(self.units), 2 * CLAMP_PAD.size(self.units)
        return groove.fence_reach(farthest=max(far), block=block, clamp=pad)

    @property
    def fence_length(self) -> float | None:
        """The fence that the stops need, the cutter in its middle, rounded up; None without stops."""
        return None if self.fence_reach is None else round_up(2 * self.fence_reach, self.units)

    @property
    def least_from_bottom(self) -> float:
        """The least wood below it."""
        return groove.least_from_bottom(self.thickness)

    @cached_property
    def heights(self) -> tuple[SafeHeight, ...]:
        """Where it would lie inside one finger."""
        return groove.safe_heights(cutter=self.cutter, fingers=self.fingers, least=self.least_from_bottom)

    @property
    def in_fingers(self) -> dict[str, float]:
        """How much of its width lies in fingers of the two kinds of sides."""
        return {
            kind: groove.overlap(from_bottom=self.from_bottom, cutter=self.cutter, fingers=spans)
            for kind, spans in self.fingers.items()
        }

    @property
    def stopped_kinds(self) -> tuple[str, ...]:
        """The kinds of sides in which it must end before the end of the board."""
        return groove.stopped_boards(from_bottom=self.from_bottom, cutter=self.cutter, fingers=self.fingers)

    @property
    def stopped(self) -> tuple[str, ...]:
        """The boards in which it must end before the end of the board."""
        return tuple(name for kind in self.stopped_kinds for name in MEMBERS[kind])

    @property
    def stops(self) -> dict[str, Stops]:
        """The stops of the boards that need them, from the cutter."""
        return {name: self._stops(self.lengths[kind]) for kind in self.stopped_kinds for name in MEMBERS[kind]}

    def _stops(self, length: float) -> Stops:
        wood = self.end_margin
        return groove.stops(length=length, cutter=self.cutter, left_end_margin=wood, right_end_margin=wood)

    def ends(self, name: str) -> tuple[float, float]:
        """Return where it starts and ends in a board, from the left end as cut."""
        kind = next(kind for kind, names in MEMBERS.items() if name in names)
        start = self.end_margin if kind in self.stopped_kinds else 0.0
        return start, self.lengths[kind] - start

    @property
    def end_margin_range(self) -> Span:
        """Least and most end margin with which a square panel corner goes in, read inward to 0.01 mm."""
        thickest = max(self.cut_depths[kind] for kind in self.stopped_kinds or MEMBERS) - self.proud
        least = groove.least_end_margin(thickness=thickest, proud=self.proud)
        most = groove.most_end_margin(
            cut_depth=self.cut_depth, tongue_reach=self.depth, cutter=self.cutter, tongue=self.tongue
        )
        return groove.rounded_inward(least, most)

    @property
    def square_end_margin(self) -> Span:
        """Least and most end margin with which the corner stays square: the most with what it may lack."""
        least, most = self.end_margin_range
        return least, most + groove.SQUARE_ENOUGH

    @property
    def good_end_margin(self) -> float:
        """The end margin to take: the middle of the range, or the least where none is within it."""
        least, most = self.end_margin_range
        return (least + most) / 2 if least <= most else least

    @cached_property
    def corner(self) -> groove.Corner:
        """What the panel's corner needs: the reach asked for is the groove's full depth, or hardly less."""
        return groove.corner(
            cut_depth=self.cut_depth,
            end_margin=self.end_margin,
            cutter=self.cutter,
            tongue=self.tongue,
            tongue_reach=self.depth,
            enough=groove.SQUARE_ENOUGH,
        )

    @property
    def lacks(self) -> float:
        """What a square corner that goes in all the same lacks of the groove's full depth; 0 where it lacks nothing."""
        return max(0.0, self.depth - self.corner.reach) if self.stopped and self.corner_kind == "square" else 0.0

    @property
    def corner_kind(self) -> Literal["square", "clip"]:
        """How the panel's corners are cut; a clip takes one saw cut, where a round takes a file."""
        return "clip" if self.stopped and self.corner.shortfall > 0 else "square"

    @property
    def corner_size(self) -> float:
        """Leg of the clip at 45 degrees, 0 for a square corner."""
        return self.corner.clip_leg if self.corner_kind == "clip" else 0.0

    @property
    def corner_cut(self) -> dict[str, float | str]:
        """How the panel's corners are cut and how far, by the names of the JSON reports."""
        return {"kind": self.corner_kind, "size": self.corner_size}

    @property
    def passes(self) -> tuple[float, ...]:
        """Heights of the bit, pass by pass."""
        return groove.depth_passes(self.depth, self.deepest_pass)


def named(kinds: tuple[str, ...]) -> str:
    """Return kinds of sides as their boards are called."""
    return " and ".join("end boards" if kind == SHORTS else kind for kind in kinds)


def groove_of(file: BoxFile, numbers: SledNumbers) -> Groove | None:
    """Return the groove of a file with everything left out settled, or None where there is none."""
    asked = file.groove
    if asked is None:
        return None
    thick = thicknesses(file)
    depth = min(thick.values()) * GROOVE_DEPTH if asked.depth is None else asked.depth
    layout = {
        kind: tuple((finger.start, finger.end) for finger in fingers.fingers_between(numbers.width, sockets))
        for kind, sockets in ((LONGS, numbers.long_sockets), (SHORTS, numbers.short_sockets))
    }
    lengths = {LONGS: cut_length(file, file.box.length), SHORTS: cut_length(file, file.box.width)}
    bottom = file.bottom
    made = Groove(
        cutter=asked.cutter,
        depth=depth,
        from_bottom=asked.from_bottom or 0.0,
        end_margin=asked.end_margin or 0.0,
        tongue=asked.cutter if bottom is None else tongue_of(bottom, asked.cutter, file.units),
        thicknesses=thick,
        proud=file.joint.proud,
        units=file.units,
        fingers=layout,
        lengths=lengths,
        deepest_pass=asked.deepest_pass,
    )
    if asked.from_bottom is None:
        made = replace(made, from_bottom=_good_height(made, bottom))
    if asked.end_margin is None and made.tongue <= made.cutter:
        made = replace(made, end_margin=made.good_end_margin)
    return made


def _good_height(made: Groove, bottom: sections.BottomSection | None) -> float:
    """Return the middle of the lowest finger that holds the groove: a high one would cost room in the box.

    It is higher where the bottom would hang below the bottom edges.
    """
    least = lowest_groove(bottom, made.tongue, made.units) if bottom else 0.0
    holding = [safe for safe in made.heights if safe.highest >= least]
    if holding:
        return max(holding[0].middle, least)
    return max(made.least_from_bottom, least)


def lowest_groove(bottom: sections.Panel, tongue: float, units: Units) -> float:
    """Return how high the lower side of a groove must be for a bottom that stays above the bottom edges.

    Solid wood has a rabbet below its tongue and one above, plywood all of it below.
    """
    below = max(0.0, planed_to(bottom, tongue, units) - tongue) * (1 if bottom.material == "plywood" else 1 / 2)
    return below + OFF_THE_TABLE.size(units) if below else 0.0


def tongue_of(bottom: sections.Panel, cutter: float, units: Units, play: float | None = None) -> float:
    """Return the tongue for a groove: the one asked for, or one with play, or a thin panel as it is.

    A sheet that goes in as it is has no tongue but itself: it can't be planed.
    """
    if bottom.tongue is not None:
        return bottom.tongue
    if bottom.material == "plywood" and bottom.thickness <= cutter - SHEET_SLIP.size(units) + READ_OUT / 2:
        return bottom.thickness
    wanted = TONGUE_PLAY.size(units) if play is None else play
    return min(bottom.thickness, panel.tongue_thickness(groove=cutter, play=wanted))


def planed_to(bottom: sections.Panel, tongue: float, units: Units) -> float:
    """Return the thickness of a bottom: that of its tongue where its rabbets would be shallower than any cut.

    Plywood stays as it is: planing would go through its face.
    """
    spare = bottom.thickness - tongue
    shallow = 0 < spare < 2 * LEAST_RABBET.size(units) - READ_OUT
    return tongue if shallow and bottom.material == "solid" else bottom.thickness
