"""The parts of a box, each worked out from the ones before: what the file leaves out is settled here, once.

A part holds its settings with nothing left open; its numbers are properties, so that the rules of `*_rules.py` can look
at the settings before anything is worked out from them. Lengths in mm, moistures in %, angles in degrees. A default
marked "common practice, no source" can be set to anything else in the box file.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import cached_property
from typing import Literal, NamedTuple

from jigs import boxfile
from jigs.boxfile import Air, BoxFile
from jigs.errors import READ_OUT
from jigs.lengths import Units
from jigs.trade import fingers, finishing, groove, handle, lid, movement, panel, shell, stock
from jigs.trade.groove import SafeHeight, Span, Stops
from jigs.trade.sled import SledNumbers


class Usual(NamedTuple):
    """A usual size, as the shop says it in mm and in inches."""

    mm: float
    inches: float

    def size(self, units: Units) -> float:
        """Return the size, in mm, for those who work in these units."""
        return float(self.mm if units == "mm" else self.inches * 25.4)  # an int would be read out without its unit

    def unless(self, asked: float | None, units: Units) -> float:
        """Return what was asked for, or the usual size."""
        return self.size(units) if asked is None else asked


UNNAMED_WOOD = "Red oak, commercial"
"""A wood that is not named is taken to move like this, which moves more than most (common practice, no source)."""
WEEK_OF_DRYING = 3.0
"""Moisture, in %, that boards may lose between cutting and gluing when a week passes (common practice, no source)."""
GROOVE_DEPTH = 1 / 2
"""Depth of a groove, of the thickness of the sides (common practice, no source)."""
PASS_DEPTH = Usual(3, 1 / 8)
"""What a small bit takes in one pass (common practice, no source)."""
TONGUE_PLAY = Usual(0.2, 0.008)
"""Play of a tongue in the thickness of its groove (common practice, no source)."""
BOTTOM_CLEARANCE, BOTTOM_PLAY = Usual(0.5, 0.020), Usual(0.5, 1 / 64)
"""Play of the bottom across the grain in the wettest air, and at each end along it (common practice, no source)."""
LID_PLUG, LID_CROWN = 1 / 3, 1 / 3
"""Plug and crown, of the thickness of the lid (common practice, no source)."""
LID_OVERHANG, LID_CLEARANCE, LID_PLAY = Usual(5, 3 / 16), Usual(0.4, 1 / 64), Usual(0.6, 1 / 32)
"""Lid over the box, gap across the grain in the wettest air, play along it (common practice, no source)."""
HANDLE_THICKNESS, HANDLE_CREST = Usual(22, 7 / 8), Usual(5, 3 / 16)
HANDLE_FOOT, HANDLE_NECK = Usual(6, 1 / 4), Usual(24, 7 / 8)
"""A handle to lift a recipe box by (common practice, no source)."""
HANDLE_CENTRES_INSIDE = 0.7
"""How far a hole's centre is inside the end, of its radius: three quarters of the rim are in wood (no source)."""
CLAMP_PAD, HANDLE_SPARE = Usual(12, 1 / 2), Usual(5, 3 / 16)
"""Half a clamp's pad, and what is left beside a hole (common practice, no source)."""
SHELL_BULGE, SHELL_KNIFE = 0.25, 65.0
SHELL_BORDER, SHELL_CHIP = Usual(3, 1 / 8), Usual(3, 1 / 8)
"""Lobes, knife, border and chips of a shell carved in hardwood (common practice, no source)."""
SHELL_HINGE = Usual(8, 5 / 16)
"""Where the rib chips of a shell start, from its pivot; at most a quarter of the ribs (common practice, no source)."""
CARVING_MARGIN = 3.0
"""What carving keeps from fingers, groove and edges (common practice, no source), mm."""
KERF, TRIM = Usual(3.2, 1 / 8), Usual(15, 1 / 2)
"""What a saw cut takes, and what is cut off each end of a board (common practice, no source)."""

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

    @cached_property
    def corner(self) -> groove.Corner:
        """What the panel's corner needs: the reach asked for is the groove's full depth."""
        return groove.corner(
            cut_depth=self.cut_depth,
            end_wood=self.end_wood,
            cutter=self.cutter,
            tongue=self.tongue,
            tongue_reach=self.depth,
        )

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
        made = replace(made, from_bottom=_good_height(made))
    if asked.end_wood is None and made.tongue <= made.cutter:
        made = replace(made, end_wood=_good_end_wood(made))
    return made


def _good_height(made: Groove) -> float:
    """Return the middle of the lowest finger that holds the groove: a high one would cost room in the box."""
    return made.heights[0].middle if made.heights else made.least_from_bottom


def _good_end_wood(made: Groove) -> float:
    least, most = made.end_wood_range
    return (least + most) / 2 if least <= most else least


def tongue_of(bottom: boxfile.Bottom, cutter: float, units: Units) -> float:
    """Return the tongue for a groove: the one asked for, or one with play, or a thin panel as it is."""
    if bottom.tongue is not None:
        return bottom.tongue
    return min(bottom.thickness, panel.tongue_thickness(groove=cutter, play=TONGUE_PLAY.size(units)))


def cut_length(file: BoxFile, outside: float) -> float:
    """Return a side's length as cut: its fingers stand proud at both ends."""
    return outside + 2 * file.joint.proud


# -- bottom --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Bottom:
    """The bottom panel. Its grain runs the long way: `along` and `across` are the inside that way and the other."""

    thickness: float
    tongue: float
    clearance: float
    wood: Wood
    along: float
    across: float
    groove: Groove
    air: Moistures

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
    """Return the bottom of a file, or None where there is none."""
    asked = file.bottom
    if asked is None:
        return None
    return Bottom(
        thickness=asked.thickness,
        tongue=groove.tongue,
        clearance=BOTTOM_CLEARANCE.unless(asked.clearance, file.units),
        wood=wood,
        along=max(inside),
        across=min(inside),
        groove=groove,
        air=air,
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
    def stop(self) -> float:
        """From the saw's centre to the stop at the blank's near end."""
        return self.blank_length / 2 - self.holes.centre_offset

    @property
    def clamp_room(self) -> float:
        """From a hole's centre to a clamp's, at least."""
        return handle.clamp_room(self.radius, CLAMP_PAD.size(self.units), HANDLE_SPARE.size(self.units))

    @property
    def neck_area(self) -> float:
        """The section that holds the lid's weight, mm²."""
        return self.neck * self.thickness


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


# -- stock ---------------------------------------------------------------------------------------------------------

_ROWS = (
    (("front", "right end", "back", "left end"),),
    (("front", "right end"), ("back", "left end")),
    (("front",), ("right end",), ("back",), ("left end",)),
)
"""Sides in strips, the best first: the grain runs round three corners, two, or none."""


@dataclass(frozen=True)
class Strip:
    """Sides in a row, the grain running round their corners: the rough size, a trim at both ends included."""

    length: float
    width: float
    thickness: float
    pieces: tuple[stock.StripPiece, ...]

    @property
    def name(self) -> str:
        """Its sides."""
        return ", ".join(piece.name for piece in self.pieces)


@dataclass(frozen=True)
class Stock:
    """The rough wood of a box: strips for the sides, other pieces, and the boards of the rack they come from.

    `plan` is None where the file names no boards. All sides in one strip take `whole_length`; `resawn_length` is the
    stick that, sawn open like a book, makes a box with the grain running round all four corners.
    """

    strips: tuple[Strip, ...]
    others: tuple[stock.Piece, ...]
    whole_length: float
    resawn_length: float
    plan: stock.CuttingPlan | None

    @property
    def volume(self) -> float:
        """All rough wood, m³."""
        return sum(stock.cubic_metres(length=x, width=y, thickness=z) for x, y, z in self._sizes)

    @property
    def board_feet(self) -> float:
        """All rough wood, board feet."""
        return sum(stock.board_feet(length=x, width=y, thickness=z) for x, y, z in self._sizes)

    @property
    def _sizes(self) -> list[tuple[float, float, float]]:
        strips = [(strip.length, strip.width, strip.thickness) for strip in self.strips]
        return strips + [(piece.length, piece.width, piece.thickness) for piece in self.others]

    @property
    def sides_missing(self) -> bool:
        """Whether the rack has no board for some of the sides."""
        missing = {piece.name for piece in self.plan.missing} if self.plan else set()
        return any(strip.name in missing for strip in self.strips)


def stock_of(file: BoxFile, numbers: SledNumbers, others: tuple[stock.Piece, ...]) -> Stock | None:
    """Return the stock of a file, or None where it does not ask for it; `others` are the pieces that are no sides."""
    if file.stock is None:
        return None
    ways = [_stock(file, numbers, others, rows) for rows in _ROWS]
    return next((way for way in ways if not way.sides_missing), ways[0])


def _stock(
    file: BoxFile, numbers: SledNumbers, others: tuple[stock.Piece, ...], rows: tuple[tuple[str, ...], ...]
) -> Stock:
    assert file.stock is not None
    kerf, trim = KERF.unless(file.stock.kerf, file.units), TRIM.unless(file.stock.trim, file.units)
    strips = tuple(_strip(file, numbers, row, kerf, trim) for row in rows)
    boards = enumerate(file.stock.boards, 1)
    rack = [stock.Board(f"board {i}", b.length, b.width, b.thickness, b.count) for i, b in boards]
    # The plan takes the trims off its boards itself.
    sides = [stock.Piece(strip.name, strip.length - 2 * trim, strip.width, strip.thickness) for strip in strips]
    sizes = {"length": file.box.length, "width": file.box.width, "proud": file.joint.proud, "kerf": kerf, "trim": trim}
    whole, resawn = stock.strip_length(**sizes), stock.resawn_length(**sizes)
    plan = stock.cutting_plan([*sides, *others], rack, kerf=kerf, trim=trim) if rack else None
    return Stock(strips, others, whole, resawn, plan)


def _strip(file: BoxFile, numbers: SledNumbers, row: tuple[str, ...], kerf: float, trim: float) -> Strip:
    outside = {name: file.box.length if name in MEMBERS[LONGS] else file.box.width for name in row}
    lengths = [(name, cut_length(file, outside[name])) for name in row]
    pieces = stock.strip_pieces(lengths, kerf=kerf, trim=trim)
    length = pieces[-1].end + trim
    _, width, thickness = stock.rough_size(length=length, width=numbers.width, thickness=file.sides.thickness)
    return Strip(length, width, thickness, pieces)


def other_pieces(bottom: Bottom | None, lid: Lid | None, handle: Handle | None) -> tuple[stock.Piece, ...]:
    """Return the rough pieces that are no sides."""
    sizes = {
        "bottom": (bottom.length, bottom.seasons.width, bottom.thickness) if bottom else None,
        "lid": (lid.length, lid.width, lid.thickness) if lid else None,
        "handle": (handle.blank_length, handle.height, handle.thickness) if handle else None,
    }
    return tuple(
        stock.Piece(name, *stock.rough_size(length=size[0], width=size[1], thickness=size[2]))
        for name, size in sizes.items()
        if size
    )


# -- glue and finish -----------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Finish:
    """What gluing and finishing take: glue area of all corners and area to finish in mm², glue in grams."""

    cheeks: float
    glue: float
    clamps: int
    caul_relief: float
    area: float


def finish_of(file: BoxFile, numbers: SledNumbers, inside: tuple[float, float], lid: Lid | None) -> Finish:
    """Return what gluing and finishing a box take."""
    thickness = file.sides.thickness
    cheeks = 4 * finishing.cheek_area(count=numbers.count, first_thickness=thickness, second_thickness=thickness)
    area = finishing.finish_area(
        length=file.box.length,
        width=file.box.width,
        height=numbers.width,
        inside_length=inside[0],
        inside_width=inside[1],
        lid_length=lid.length if lid else 0.0,
        lid_width=lid.width if lid else 0.0,
    )
    relief = finishing.caul_relief(file.joint.proud)
    return Finish(cheeks, finishing.glue_mass(cheeks), finishing.clamps(numbers.width), relief, area)
