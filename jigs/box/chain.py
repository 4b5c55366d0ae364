"""The chain of a box: from the box file to its numbers, each worked out from the one before."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from jigs.base.lengths import show
from jigs.base.rules import Problem, stop, tried, worst_first
from jigs.box import rules as box_rules
from jigs.box.stock import Finish, Stock, finish_of, stock_of
from jigs.boxfile import change
from jigs.boxfile.sections import BoxFile
from jigs.parts.bottom.part import Bottom, bottom_of
from jigs.parts.bottom.rules import BOTTOM
from jigs.parts.groove.part import Groove, groove_of
from jigs.parts.groove.rules import GROOVE
from jigs.parts.handle.handle import screws_that_do
from jigs.parts.handle.part import Handle, handle_of
from jigs.parts.handle.rules import HANDLE
from jigs.parts.joint import sled as sled_jig
from jigs.parts.joint.dry_fit import Meant
from jigs.parts.joint.part import LONGS, SHORTS, cut_depths, cut_length, inside_of, joint, thicknesses
from jigs.parts.lid.part import Lid, lid_of
from jigs.parts.lid.rules import LID
from jigs.parts.shell.part import Shell, shell_of
from jigs.parts.shell.rules import SHELL
from jigs.parts.wood import rules as wood_rules
from jigs.parts.wood.part import Moistures, Wood, moistures_of, wood
from jigs.trade import finishing, fit, predict
from jigs.trade.movement import UnknownSpeciesError
from jigs.trade.sled import SledNumbers

_NUMBERS_OF_FINGERS = (
    *("count", "finger", "socket", "pitch", "clearance"),
    *("rip_width", "nearest_widths", "passes", "pass_gaps", "steps", "sliver"),
)
_NUMBERS_OF_SLED = ("gap", "key", "spacer", "slack", "cut_depth", "over_all")


@dataclass(frozen=True)
class Box:
    """A box worked out as far as its rules allow.

    A part is None where the file does not ask for it, and where a rule stops it or what it depends on: `problems` says
    which. Without `numbers` the joint itself is stopped.
    """

    file: BoxFile
    numbers: SledNumbers | None
    meant: Meant | None
    problems: tuple[Problem, ...]
    air: Moistures | None = None
    groove: Groove | None = None
    bottom: Bottom | None = None
    lid: Lid | None = None
    handle: Handle | None = None
    shell: Shell | None = None
    stock: Stock | None = None
    finish: Finish | None = None

    @property
    def stopped(self) -> bool:
        """Whether a rule stops the box."""
        return any(problem.severity == "stop" for problem in self.problems)

    @property
    def inside(self) -> tuple[float, float]:
        """Inside length and width, mm."""
        return inside_of(self.file)

    @property
    def inside_depth(self) -> float | None:
        """From the bottom, its tongue lying on the grooves' lower sides, to the rim, mm; None without a bottom."""
        return self.numbers.width - self.bottom.upper_face if self.numbers and self.bottom else None

    @property
    def depth_under_plug(self) -> float | None:
        """The same to the plug of the lid, mm; None without a bottom or a lid."""
        return None if self.inside_depth is None or self.lid is None else self.inside_depth - self.lid.plug_depth

    @property
    def diagonal(self) -> float:
        """Outside, corner to corner, once the fingers are flush, mm."""
        return finishing.diagonal(length=self.file.box.length, width=self.file.box.width)

    @property
    def at_the_rim(self) -> str:
        """The sides whose fingers stand at the rim: those at the bottom edge where fingers and sockets are odd."""
        return LONGS if self.numbers is None or self.numbers.count % 2 else SHORTS

    @property
    def diagonal_glued(self) -> float:
        """What both diagonals read at glue-up, at the rim over the fingers that stand proud there, mm."""
        sizes = self.file.box.length, self.file.box.width
        long, wide = sizes if self.at_the_rim == LONGS else sizes[::-1]
        return finishing.diagonal(length=long, width=wide, proud=self.file.joint.proud)


def corner_names(file: BoxFile) -> tuple[str, str, str, str]:
    """Return the names of the corners, round the box; cut in one stack each says with which batch it was cut."""
    return ("1 A", "2 B", "3 A", "4 B") if file.joint.method == "one stack" else ("1", "2", "3", "4")


def work_out(file: BoxFile) -> Box:
    """Return the box of a file, with everything that stops it or must be known of it.

    Each part is worked out from the ones before. What a rule stops takes only those with it that need its numbers. What
    the problems offer has been tried: the file is worked out again with it.
    """
    made = _worked_out(file)

    def again(changes: Mapping[str, float | int | str]) -> Sequence[Problem] | None:
        changed = change.changed(file, changes)
        return None if changed is None else _worked_out(changed).problems

    return replace(made, problems=tuple(tried(made.problems, again, file.units)))


def _worked_out(file: BoxFile) -> Box:
    found = [*box_rules.inside_is_left(file), *box_rules.inside_as_measured(file), *file.notes]
    room = inside_of(file) if min(inside_of(file)) > 0 else None
    numbers, meant = joint(file, found)
    woods = _woods(file, found)
    air = _air(file, numbers, woods, found)
    groove = GROOVE.judge(groove_of(file, numbers) if numbers else None, found)
    bottom = lid = None
    if room and air and groove and (wood := woods["bottom"]):
        bottom = BOTTOM.judge(bottom_of(file, groove, room, wood, air), found)
    if room and air and (wood := woods["lid"]):
        lid = LID.judge(lid_of(file, room, wood, air), found)
    handle = HANDLE.judge(handle_of(file), found)
    shell = stock = None
    if numbers and (groove or file.groove is None):
        shell = SHELL.judge(shell_of(file, numbers, groove), found)
    if numbers:
        stock = box_rules.STOCK.judge(stock_of(file, numbers, bottom, lid, handle), found)
        found += box_rules.boards_of_no_known_wood(file)
    found += _between_parts(file, numbers, lid, handle, stock)
    if numbers and bottom:
        found += box_rules.depth_is_left(file, numbers.width, numbers.pitch, bottom, lid)
    finish = finish_of(file, numbers, room, lid) if numbers and room else None
    problems = tuple(worst_first(found))
    return Box(file, numbers, meant, problems, air, groove, bottom, lid, handle, shell, stock, finish)


def _woods(file: BoxFile, found: list[Problem]) -> dict[str, Wood | None]:
    """Return the wood of every part, None where its name is not in the table."""
    sides = file.sides
    asked = {"sides": (sides.species, sides.rings), "ends": (sides.ends_species or sides.species, sides.rings)}
    for name, part in (("bottom", file.bottom), ("lid", file.lid)):
        if part:
            asked[name] = (part.species or sides.species, part.rings)
    woods: dict[str, Wood | None] = dict.fromkeys(("sides", "ends", "bottom", "lid"))
    unknown: set[str | None] = set()
    for name, (species, rings) in asked.items():
        try:
            woods[name] = wood(species, rings)
        except UnknownSpeciesError as error:
            if species not in unknown:
                found.append(_unknown_wood("sides.ends_species" if name == "ends" else f"{name}.species", error))
            unknown.add(species)
    return woods


def _unknown_wood(where: str, error: UnknownSpeciesError) -> Problem:
    nearest = "did you mean {near}?" if error.near else "a name of the table of movement"
    return stop(where, "{error}", nearest, error=str(error), near=" or ".join(error.near))


def _air(
    file: BoxFile, numbers: SledNumbers | None, woods: dict[str, Wood | None], found: list[Problem]
) -> Moistures | None:
    """Return what the climate does to the wood, or None where it is not known."""
    if stops := list(wood_rules.climate_stops(file.climate)):
        found += stops
        return None
    sides, ends = (woods["sides"], woods["ends"]) if file.sides.species else (None, None)
    height = numbers.width if numbers else file.box.height
    air = wood_rules.CLIMATE.judge(moistures_of(file, height, sides, ends), found)
    if air and ends:
        found += wood_rules.mates_move_apart(file, ends, air)
    return air


def _between_parts(
    file: BoxFile, numbers: SledNumbers | None, lid: Lid | None, handle: Handle | None, stock: Stock | None
) -> Iterator[Problem]:
    """Find what is wrong between parts, and say what holds for every box."""
    if file.bottom and not file.groove:
        yield stop("bottom", "a bottom needs a groove to sit in", "a section [groove] with its cutter")
    if handle and lid:
        yield from box_rules.longer_than_lid(handle, lid)
    if handle:
        yield from screws_that_do(handle, lid)
    if numbers:
        yield from box_rules.finish_off_the_glue(numbers.cut_depth)
    if numbers and stock:
        yield from box_rules.knots(numbers.cut_depth)


def settings_line(file: BoxFile) -> str:
    """Return the settings of a box in a line, for the title block."""
    units = file.units
    said = {
        "outside": " × ".join(show(size, units) for size in (file.box.length, file.box.width)),
        "boards": show(file.box.height, units),
        "sides": show(file.sides.thickness, units),
        "finger": show(file.joint.finger, units),
        "cutter": show(file.joint.cutter, units),
    }
    if file.sides.species:
        said["wood"] = file.sides.species
    if file.sides.ends_species:
        said["ends"] = file.sides.ends_species
    return "; ".join(f"{name} {words}" for name, words in said.items())


# -- the report ----------------------------------------------------------------------------------------------------
def as_data(box: Box) -> dict[str, Any]:
    """Return the box by the names of the JSON report: lengths in mm; a section that does not apply is None."""
    file, numbers = box.file, box.numbers
    data: dict[str, Any] = {
        "box": {
            "title": file.title,
            "length": file.box.length,
            "width": file.box.width,
            "height": numbers.width if numbers else file.box.height,
            "inside_length": box.inside[0],
            "inside_width": box.inside[1],
            "inside_depth": box.inside_depth,
            "inside_depth_under_lid": box.depth_under_plug,
            "diagonal": box.diagonal,
            "diagonal_glued": box.diagonal_glued if numbers else None,
        }
    }
    if numbers is None:
        data |= {"fingers": None, "sled": None, "fit": None}
    else:
        everything = sled_jig.as_data(numbers)
        data["fingers"] = {name: everything[name] for name in _NUMBERS_OF_FINGERS}
        data["sled"] = {name: everything[name] for name in _NUMBERS_OF_SLED}
        data["fit"] = _fit(numbers, box)
    data["parts"] = [*(_sides(box, numbers) if numbers else ()), *_others(box)]
    sections: dict[str, tuple[Any, Callable[[Any], dict[str, Any]]]] = {
        "groove": (box.groove, _groove),
        "bottom": (box.bottom, _bottom),
        "lid": (box.lid, _lid),
        "handle": (box.handle, _handle),
        "shell": (box.shell, _shell),
        "movement": (box.air, _movement),
        "stock": (box.stock, _stock),
    }
    data |= {name: written(part) if part else None for name, (part, written) in sections.items()}
    return data | {"problems": [problem.as_data(file.units) for problem in box.problems]}


def _fit(numbers: SledNumbers, box: Box) -> dict[str, Any]:
    assert box.meant is not None, "a box with numbers has a joint"
    joint = box.meant.joint
    apart = box.meant.apart
    return {
        "one_stack": {
            "clearance_min": numbers.fit.clearance,
            "flush_low": numbers.fit.flush_low,
            "flush_high": numbers.fit.flush_high,
        },
        "separately": {
            "clearance_worst": fit.separate_worst(numbers.clearance, numbers.slack, joint.long_sockets, joint.odd),
            "drift_sd": apart.drift_sd,
            "chance_fails": apart.chance_fails,
            "chance_box_fails": predict.of_a_box(apart.chance_fails),
        },
    }


def _sides(box: Box, numbers: SledNumbers) -> list[dict[str, Any]]:
    """Return the four sides as cut: fingers stand proud at both ends."""
    file = box.file
    long, short = ([[span.start, span.end] for span in s] for s in (numbers.long_sockets, numbers.short_sockets))
    ends_species, thick, deep = file.sides.ends_species or file.sides.species, thicknesses(file), cut_depths(file)
    rows = [
        ("front", LONGS, file.box.length, file.sides.species, long),
        ("back", LONGS, file.box.length, file.sides.species, long),
        ("left end", SHORTS, file.box.width, ends_species, short),
        ("right end", SHORTS, file.box.width, ends_species, short),
    ]
    return [
        {
            "name": name,
            "length": cut_length(file, length),
            "width": numbers.width,
            "thickness": thick[kind],
            "species": species,
            "sockets": sockets,
            "socket_depth": deep[kind],
            "groove": _groove_in(box.groove, name) if box.groove else None,
        }
        for name, kind, length, species, sockets in rows
    ]


def _groove_in(groove: Groove, name: str) -> dict[str, float]:
    """Return the groove of one board; its ends are from the board's left end, seen on its inner face."""
    start, end = groove.ends(name)
    return {
        "from_bottom": groove.from_bottom,
        "width": groove.cutter,
        "depth": groove.depth,
        "start": start,
        "end": end,
    }


def _others(box: Box) -> list[dict[str, Any]]:
    """Return the parts that are no sides; their length is along the grain."""
    rows: list[tuple[str, float, float, float, str | None]] = []
    if made := box.bottom:
        rows.append(("bottom", made.length, made.seasons.width, made.thickness, _species(made.wood)))
    if lid := box.lid:
        rows.append(("lid", lid.length, lid.width, lid.thickness, _species(lid.wood)))
    if handle := box.handle:
        rows.append(("handle", handle.length, handle.height, handle.thickness, None))
    names = ("name", "length", "width", "thickness", "species")
    none = {"sockets": [], "socket_depth": 0.0, "groove": None}
    return [dict(zip(names, row, strict=True)) | none for row in rows]


def _species(wood: Wood) -> str | None:
    return wood.species.name if wood.named else None


def _groove(made: Groove) -> dict[str, Any]:
    return {
        "fence": made.fence,
        "fence_reach": made.fence_reach,
        "fence_length": made.fence_length,
        "stopped": list(made.stopped),
        "stops": {name: {"left": stops.left, "right": stops.right} for name, stops in made.stops.items()},
        "end_wood": made.end_wood,
        "end_wood_max": made.end_wood_range[1],
        "corner": {"kind": made.corner_kind, "size": made.corner_size},
    }


def _bottom(made: Bottom) -> dict[str, Any]:
    sizes = made.seasons
    return {
        "length": made.length,
        "width": sizes.width,
        "width_dry": sizes.width_dry,
        "width_wet": sizes.width_wet,
        "engagement_dry": sizes.engagement_dry,
        "tongue": made.tongue,
        "thickness": made.thickness,
        "rabbet_depth": made.rabbet_depths[0],
        "lower_face": made.lower_face,
        "upper_face": made.upper_face,
    }


def _lid(made: Lid) -> dict[str, Any]:
    return {
        "length": made.length,
        "width": made.width,
        "plug_length": made.plug_length,
        "plug_width": made.plug.width,
        "gap_shop": made.plug.gap_now,
        "gap_dry": made.plug.gap_dry,
        "gap_wet": made.plug.gap_wet,
        "crown_radius": made.crown_radius,
        "edge": made.edge,
    }


def _handle(made: Handle) -> dict[str, Any]:
    return {
        "centre_offset": made.holes.centre_offset,
        "chord": made.holes.chord,
        "rim_in_wood": made.holes.rim_in_wood,
        "crest_radius": made.holes.crest_radius,
        "least_wood": made.holes.least_wood,
        "blank_length": made.blank_length,
    }


def _shell(made: Shell) -> dict[str, Any]:
    return {
        "half_angle": made.fan.half_angle,
        "rib_radius": made.fan.rib_radius,
        "lobe_radius": made.fan.lobe_radius,
        "chip_depth": made.chip_depth,
        "wood_left": made.wood_left,
    }


def _movement(made: Moistures) -> dict[str, Any]:
    return {
        "moisture_shop": made.shop,
        "moisture_dry": made.dry,
        "moisture_wet": made.wet,
        "sides_difference": made.sides_difference,
    }


def _stock(made: Stock) -> dict[str, Any]:
    """Return the stock: rough sizes; volume in m³; the plan's boards, none where the file names no rack."""
    cut = made.plan.boards if made.plan else ()
    return {
        "board_feet": made.board_feet,
        "volume": made.volume,
        "strips": [
            {
                "length": strip.length,
                "width": strip.width,
                "thickness": strip.thickness,
                "species": strip.wood,
                "pieces": [{"name": p.name, "start": p.start, "end": p.end} for p in strip.pieces],
            }
            for strip in made.strips
        ],
        "boards": [
            {
                "length": opened.board.length,
                "width": opened.board.width,
                "thickness": opened.board.thickness,
                "species": opened.board.wood,
                "name": opened.board.called or opened.board.name,
                "pieces": [piece.name for piece in opened.pieces],
                "offcut": opened.offcut,
            }
            for opened in cut
        ],
        "missing": [
            {
                "name": piece.name,
                "length": piece.length + 2 * made.trim,
                "width": piece.width,
                "thickness": piece.thickness,
                "species": piece.wood,
            }
            for piece in (made.plan.missing if made.plan else ())
        ],
    }
