"""The parts of a box, each worked out from the ones before: what the file leaves out is settled here, once.

A part holds its settings with nothing left open; its numbers are properties, so that the rules of `*_rules.py` can look
at the settings before anything is worked out from them. Lengths in mm, moistures in %, angles in degrees. A default
marked "common practice, no source" can be set to anything else in the box file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal

from jigs import boxfile
from jigs.boxfile import Air, BoxFile
from jigs.errors import READ_OUT
from jigs.lengths import Units, round_up
from jigs.trade import fingers, groove, handle, lid, movement, panel, shell
from jigs.trade.groove import SafeHeight, Span, Stops
from jigs.trade.sled import SledNumbers
from jigs.usual import (
    BOTTOM_CLEARANCE,
    BOTTOM_PLAY,
    CARVING_MARGIN,
    CLAMP_PAD,
    GROOVE_DEPTH,
    HANDLE_CENTRES_INSIDE,
    HANDLE_CREST,
    HANDLE_FOOT,
    HANDLE_NECK,
    HANDLE_SPARE,
    HANDLE_THICKNESS,
    LEAST_RABBET,
    LID_CLEARANCE,
    LID_CROWN,
    LID_OVERHANG,
    LID_PLAY,
    LID_PLUG,
    OFF_THE_TABLE,
    PASS_DEPTH,
    SHELL_BORDER,
    SHELL_BULGE,
    SHELL_CHIP,
    SHELL_HINGE,
    SHELL_KNIFE,
    STOP_BLOCK,
    TONGUE_PLAY,
    UNNAMED_WOOD,
    WEEK_OF_DRYING,
)

LONGS, SHORTS = "front and back", "the ends"
MEMBERS: Mapping[str, tuple[str, str]] = {LONGS: ("front", "back"), SHORTS: ("left end", "right end")}
"""The two kinds of sides, by how they are cut, and the boards of each."""


# -- wood and air --------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Wood:
    """A wood and how its growth rings stand to the wide face; `named` is False where the file does not say."""

    species: movement.Species
    rings: float
    named: bool

    @property
    def coefficient(self) -> float:
        """Change of width per % of moisture."""
        return self.species.coefficient(self.rings)

    @property
    def quartered(self) -> float:
        """The same of a quarter-sawn board."""
        return self.species.coefficient(movement.QUARTER)


def wood(name: str | None, rings: float) -> Wood:
    """Return the wood of a name. Raises UnknownSpeciesError for one that the table does not have."""
    return Wood(movement.species(name or UNNAMED_WOOD), rings, name is not None)


@dataclass(frozen=True, slots=True)
class Moistures:
    """Moisture of the wood in the shop and in the driest and wettest air, and the wettest air's temperature in °C.

    `sides_difference` is the step that opens at the top of a corner when the boards lose `WEEK_OF_DRYING`.
    """

    shop: float
    dry: float
    wet: float
    wet_temperature: float
    sides_difference: float


def moistures_of(file: BoxFile, height: float, sides: Wood | None, ends: Wood | None) -> Moistures:
    """Return what the air of a file does to wood."""
    air, step = file.climate, 0.0
    if sides and ends and sides != ends:
        step = movement.step_at_top(height, sides.coefficient, ends.coefficient, WEEK_OF_DRYING)
    return Moistures(_moisture(air.shop), _moisture(air.dry), _moisture(air.wet), air.wet.temperature, step)


def _moisture(air: Air) -> float:
    return movement.equilibrium_moisture(air.temperature, air.humidity)


# -- groove --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Groove:
    """The groove for the bottom. `fingers` and `lengths` (as cut) are by `LONGS` and `SHORTS`."""

    cutter: float
    depth: float
    from_bottom: float
    end_wood: float
    tongue: float
    thickness: float
    cut_depth: float
    proud: float
    units: Units
    fingers: Mapping[str, tuple[Span, ...]]
    lengths: Mapping[str, float]

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
        wood = self.end_wood
        return groove.stops(length=length, cutter=self.cutter, left_end_wood=wood, right_end_wood=wood)

    def ends(self, name: str) -> tuple[float, float]:
        """Return where it starts and ends in a board, from the left end as cut."""
        kind = next(kind for kind, names in MEMBERS.items() if name in names)
        start = self.end_wood if kind in self.stopped_kinds else 0.0
        return start, self.lengths[kind] - start

    @property
    def end_wood_range(self) -> Span:
        """Least and most end wood with which a square panel corner goes in, read inward to 0.01 mm."""
        least = groove.least_end_wood(thickness=self.thickness, proud=self.proud)
        most = groove.most_end_wood(
            cut_depth=self.cut_depth, tongue_reach=self.depth, cutter=self.cutter, tongue=self.tongue
        )
        return groove.rounded_inward(least, most)

    @property
    def square_end_wood(self) -> Span:
        """Least and most end wood with which the corner stays square: the most with what it may lack."""
        least, most = self.end_wood_range
        return least, most + groove.SQUARE_ENOUGH

    @property
    def good_end_wood(self) -> float:
        """The end wood to take: the middle of the range, or the least where none is within it."""
        least, most = self.end_wood_range
        return (least + most) / 2 if least <= most else least

    @cached_property
    def corner(self) -> groove.Corner:
        """What the panel's corner needs: the reach asked for is the groove's full depth, or hardly less."""
        return groove.corner(
            cut_depth=self.cut_depth,
            end_wood=self.end_wood,
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
    def passes(self) -> tuple[float, ...]:
        """Heights of the bit, pass by pass."""
        return groove.depth_passes(self.depth, PASS_DEPTH.size(self.units))


def groove_of(file: BoxFile, numbers: SledNumbers) -> Groove | None:
    """Return the groove of a file with everything left out settled, or None where there is none."""
    asked = file.groove
    if asked is None:
        return None
    depth = file.sides.thickness * GROOVE_DEPTH if asked.depth is None else asked.depth
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
        end_wood=asked.end_wood or 0.0,
        tongue=asked.cutter if bottom is None else tongue_of(bottom, asked.cutter, file.units),
        thickness=file.sides.thickness,
        cut_depth=numbers.cut_depth,
        proud=file.joint.proud,
        units=file.units,
        fingers=layout,
        lengths=lengths,
    )
    if asked.from_bottom is None:
        made = replace(made, from_bottom=_good_height(made, bottom))
    if asked.end_wood is None and made.tongue <= made.cutter:
        made = replace(made, end_wood=made.good_end_wood)
    return made


def _good_height(made: Groove, bottom: boxfile.Bottom | None) -> float:
    """Return the middle of the lowest finger that holds the groove: a high one would cost room in the box.

    It is higher where the bottom would hang below the bottom edges.
    """
    least = lowest_groove(bottom.thickness, made.tongue, made.units) if bottom else 0.0
    holding = [safe for safe in made.heights if safe.highest >= least]
    if holding:
        return max(holding[0].middle, least)
    return max(made.least_from_bottom, least)


def lowest_groove(thickness: float, tongue: float, units: Units) -> float:
    """Return how high the lower side of a groove must be for a bottom that stays above the bottom edges."""
    below = max(0.0, planed_to(thickness, tongue, units) - tongue) / 2
    return below + OFF_THE_TABLE.size(units) if below else 0.0


def tongue_of(bottom: boxfile.Bottom, cutter: float, units: Units) -> float:
    """Return the tongue for a groove: the one asked for, or one with play, or a thin panel as it is."""
    if bottom.tongue is not None:
        return bottom.tongue
    return min(bottom.thickness, panel.tongue_thickness(groove=cutter, play=TONGUE_PLAY.size(units)))


def planed_to(thickness: float, tongue: float, units: Units) -> float:
    """Return the thickness of a bottom: that of its tongue where its rabbets would be shallower than any cut."""
    spare = thickness - tongue
    return tongue if 0 < spare < 2 * LEAST_RABBET.size(units) - READ_OUT else thickness


def cut_length(file: BoxFile, outside: float) -> float:
    """Return a side's length as cut: its fingers stand proud at both ends."""
    return outside + 2 * file.joint.proud


# -- bottom --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Bottom:
    """The bottom panel. Its grain runs the long way: `along` and `across` are the inside that way and the other.

    `planed_from` is the thickness it came with where it is planed to its tongue all over, having no rabbets.
    """

    thickness: float
    tongue: float
    clearance: float
    wood: Wood
    along: float
    across: float
    groove: Groove
    air: Moistures
    planed_from: float | None = None

    @property
    def has_rabbets(self) -> bool:
        """Whether it is thicker than its tongue."""
        return self.thickness - self.tongue > 1e-6

    @property
    def lower_face(self) -> float:
        """How high its lower face lies over the bottom edges, the tongue on the groove's lower side."""
        return self.groove.from_bottom - self.rabbet_depths[0]

    @property
    def upper_face(self) -> float:
        """How high its upper face lies over the bottom edges: where the inside depth begins."""
        return self.lower_face + self.thickness

    @property
    def play(self) -> float:
        """What is left at each end along the grain."""
        return BOTTOM_PLAY.size(self.groove.units)

    @property
    def length(self) -> float:
        """Along the grain."""
        return panel.along_grain(opening=self.along, depth=self.groove.depth, play=self.play)

    @cached_property
    def seasons(self) -> panel.Panel:
        """Its width now and in the driest and wettest air, and what the grooves hold of it."""
        return self._panel(self.wood.coefficient)

    @property
    def sums(self) -> panel.Sums:
        """What its sizes are less than the inside and both grooves as they are measured."""
        moves, still = self.rabbet_widths
        return panel.sums(
            along=self.along,
            across=self.across,
            depth=self.groove.depth,
            length=self.length,
            width=self.seasons.width,
            rabbet_long_grain=moves,
            rabbet_end_grain=still,
        )

    @property
    def quartered(self) -> panel.Panel:
        """The same, quarter-sawn."""
        return self._panel(self.wood.quartered)

    def _panel(self, coefficient: float) -> panel.Panel:
        return panel.across_grain(
            opening=self.across,
            depth=self.groove.depth,
            clearance=self.clearance,
            coefficient=coefficient,
            now=self.air.shop,
            dry=self.air.dry,
            wet=self.air.wet,
        )

    @property
    def rabbet_depths(self) -> tuple[float, float]:
        """Depths of its rabbets from both faces."""
        return panel.rabbet_depths(thickness=self.thickness, tongue=self.tongue)

    @property
    def rabbet_widths(self) -> tuple[float, float]:
        """Widths of the rabbets on the long-grain edges, where it moves, and on the end grain, where it doesn't.

        At the ends the shoulders keep the play that the tongue has, or a panel cut a hair long would open the joints.
        """
        moves = panel.rabbet_width(engagement=self.seasons.engagement_now, shoulder_gap=self.seasons.shoulder_gap)
        held = (self.length - self.along) / 2
        return moves, panel.rabbet_width(engagement=held, shoulder_gap=self.play)


def bottom_of(file: BoxFile, groove: Groove, inside: tuple[float, float], wood: Wood, air: Moistures) -> Bottom | None:
    """Return the bottom of a file, or None where there is none; it is cut to the inside measured, where that is."""
    asked = file.bottom
    if asked is None:
        return None
    measured = [read or drawn for read, drawn in zip((asked.inside_length, asked.inside_width), inside, strict=True)]
    along, across = measured if inside[0] >= inside[1] else reversed(measured)
    thickness = planed_to(asked.thickness, groove.tongue, file.units)
    return Bottom(
        thickness=thickness,
        tongue=groove.tongue,
        clearance=BOTTOM_CLEARANCE.unless(asked.clearance, file.units),
        wood=wood,
        along=along,
        across=across,
        groove=groove,
        air=air,
        planed_from=asked.thickness if thickness != asked.thickness else None,
    )


# -- lid -----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Lid:
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
    overhang = LID_OVERHANG.unless(asked.overhang, file.units)
    outside = sorted((file.box.length, file.box.width))
    return Lid(
        thickness=asked.thickness,
        plug_depth=asked.thickness * LID_PLUG if asked.plug is None else asked.plug,
        overhang=overhang,
        crown=asked.thickness * LID_CROWN if asked.crown is None else asked.crown,
        clearance=LID_CLEARANCE.unless(asked.clearance, file.units),
        wood=wood,
        length=outside[1] + 2 * overhang,
        width=outside[0] + 2 * overhang,
        along=max(inside),
        across=min(inside),
        play=LID_PLAY.size(file.units),
        units=file.units,
        air=air,
    )


# -- handle --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Handle:
    """The handle, cut with a hole saw; `radius` is half of the hole it really cuts."""

    radius: float
    neck: float
    foot: float
    length: float
    height: float
    thickness: float
    crest: float
    units: Units

    @cached_property
    def holes(self) -> handle.EndHoles:
        """Its outline, and the wood that its holes leave."""
        return handle.EndHoles(self.radius, self.neck, self.hole_height, self.length, self.height, self.crest)

    @property
    def hole_height(self) -> float:
        """Of the holes' centres over the foot."""
        return self.radius + self.foot

    @property
    def reach(self) -> tuple[float, float]:
        """Lengths between which a hole cuts the end."""
        return self.neck, self.neck + 4 * self.radius

    @property
    def blank_length(self) -> float:
        """A blank in which both holes are wholly in wood, trimmed afterwards."""
        spare = HANDLE_SPARE.size(self.units)
        return handle.blank_length(centre_offset=self.holes.centre_offset, radius=self.radius, spare=spare)

    @property
    def blank_height(self) -> float:
        """A blank in which both holes are wholly in wood, up to its top."""
        return max(self.height, self.hole_height + self.radius + HANDLE_SPARE.size(self.units))

    @property
    def pilot(self) -> handle.Pilot:
        """The pilot drill in either hole, the blank not yet trimmed: they are alike."""
        inside = min(self.stop, self.hole_height, self.blank_height - self.hole_height)
        return handle.pilot(radius=self.radius, inside=inside)

    @property
    def stop(self) -> float:
        """From the saw's centre to the stop at the blank's near end."""
        return self.blank_length / 2 - self.holes.centre_offset

    @property
    def clamp_room(self) -> float:
        """From a hole's centre to a clamp's, at least."""
        return handle.clamp_room(self.radius, CLAMP_PAD.size(self.units), HANDLE_SPARE.size(self.units))


def handle_of(file: BoxFile) -> Handle | None:
    """Return the handle of a file, or None where there is none. Over the holes it leaves as much wood as under them."""
    asked = file.handle
    if asked is None:
        return None
    radius, units = asked.saw / 2, file.units
    neck, foot = HANDLE_NECK.unless(asked.neck, units), HANDLE_FOOT.unless(asked.foot, units)
    crest = HANDLE_CREST.unless(asked.crest, units)
    return Handle(
        radius=radius,
        neck=neck,
        foot=foot,
        length=neck + 2 * radius * (1 + HANDLE_CENTRES_INSIDE) if asked.length is None else asked.length,
        height=2 * (radius + foot) + crest if asked.height is None else asked.height,
        thickness=HANDLE_THICKNESS.unless(asked.thickness, units),
        crest=crest,
        units=units,
    )


# -- shell ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Shell:
    """The fan shell on the front, in the middle of its length and of the height that is free of the groove."""

    lobes: int
    width: float
    height: float
    bulge: float
    border: float
    knife: float
    chip: float
    units: Units
    board_length: float
    board_width: float
    thickness: float
    cut_depth: float
    groove: Groove | None

    @property
    def ratios(self) -> tuple[float, float]:
        """Width over height of the narrowest and of the widest fan with these lobes."""
        fans = (shell.Shell(self.lobes, angle, 1.0, self.bulge) for angle in (shell.NARROWEST, shell.WIDEST))
        least, most = (fan.width / fan.height for fan in fans)
        return least, most

    @cached_property
    def fan(self) -> shell.Shell:
        """The fan fitted to width and height."""
        return shell.fit(width=self.width, height=self.height, lobes=self.lobes, bulge=self.bulge)

    @property
    def chip_depth(self) -> float:
        """Depth of the widest chip."""
        return shell.chip_depth(self.chip, self.knife)

    @property
    def hinge(self) -> float:
        """Where the rib chips start, from the pivot."""
        return min(SHELL_HINGE.size(self.units), self.fan.rib_radius / 4)

    @property
    def ridges(self) -> tuple[float, float]:
        """The wood between neighbouring chips at the hinge and at the rim."""
        step, rim = self.fan.half_step, self.fan.rib_radius
        return (
            shell.ridge(half_step=step, at=self.hinge, chip_width=0.0),
            shell.ridge(half_step=step, at=rim, chip_width=self.chip),
        )

    @property
    def free_height(self) -> float:
        """What there is to carve on, from over the groove to the top, with the usual margins."""
        return self.board_width - (self.groove.top if self.groove else 0.0) - 2 * CARVING_MARGIN

    @property
    def free_length(self) -> float:
        """What there is to carve on, between the fingers, with the usual margins."""
        return self.board_length - 2 * (self.cut_depth + CARVING_MARGIN)

    @property
    def over_all(self) -> tuple[float, float]:
        """Width and height with the border, which runs round the lobes and not under the pivot."""
        return self.width + 2 * self.border, self.height + self.border

    @property
    def pivot_height(self) -> float:
        """How high the pivot stands over the bottom edge: the pattern is in the middle of what is free."""
        floor = (self.groove.top if self.groove else 0.0) + CARVING_MARGIN
        return shell.pivot_height(bottom=floor, board=self.board_width, height=self.over_all[1], margin=CARVING_MARGIN)

    @property
    def over_groove(self) -> bool:
        """Whether the pattern is so high that it reaches over the groove."""
        return self.groove is not None and self.over_all[1] > self.free_height + READ_OUT

    @property
    def wood_left(self) -> float:
        """The least wood under a chip, less the groove where the two meet; negative is a hole."""
        behind = self.groove.depth if self.groove and self.over_groove else 0.0
        return shell.wood_left(thickness=self.thickness, chip=self.chip_depth, groove_depth=behind)


def shell_of(file: BoxFile, numbers: SledNumbers, groove: Groove | None) -> Shell | None:
    """Return the shell of a file, or None where there is none."""
    asked = file.shell
    if asked is None:
        return None
    return Shell(
        lobes=asked.lobes,
        width=asked.width,
        height=asked.height,
        bulge=SHELL_BULGE if asked.bulge is None else asked.bulge,
        border=SHELL_BORDER.unless(asked.border, file.units),
        knife=SHELL_KNIFE if asked.knife is None else asked.knife,
        chip=SHELL_CHIP.unless(asked.chip, file.units),
        units=file.units,
        board_length=cut_length(file, file.box.length),
        board_width=numbers.width,
        thickness=file.sides.thickness,
        cut_depth=numbers.cut_depth,
        groove=groove,
    )
