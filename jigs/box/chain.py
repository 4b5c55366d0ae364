"""The chain of a box: from the box file to its numbers, each worked out from the one before."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from jigs.base.keeping import kept_for
from jigs.base.lengths import show
from jigs.base.rules import Problem, stop, tried, worst_first
from jigs.box import rules as box_rules
from jigs.box.stock import Finish, Stock, finish_of, stock_of
from jigs.boxfile import change
from jigs.boxfile.sections import BoxFile
from jigs.parts.bottom.in_box import BottomPart
from jigs.parts.bottom.part import Bottom, bottom_of
from jigs.parts.groove.in_box import GroovePart
from jigs.parts.groove.part import Groove, groove_of
from jigs.parts.handle.in_box import HandlePart
from jigs.parts.handle.part import Handle, handle_of
from jigs.parts.handle.screw_rules import screws_that_do
from jigs.parts.joint import in_box
from jigs.parts.joint.dry_fit import Meant
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS, cut_depths, cut_length, inside_of, joint
from jigs.parts.lid.in_box import LidPart
from jigs.parts.lid.part import Lid, lid_of
from jigs.parts.part import Made, Part, Parts, numbers_of
from jigs.parts.pattern.in_box import PatternPart
from jigs.parts.pattern.part import Pattern, pattern_of
from jigs.parts.shell.in_box import ShellPart
from jigs.parts.shell.part import Shell, shell_of
from jigs.parts.wood import rules as wood_rules
from jigs.parts.wood.part import Moistures, Wood, moistures_of, wood
from jigs.record import Record, replace
from jigs.trade import finishing
from jigs.trade.sled import SledNumbers
from jigs.trade.stock import is_sheet
from jigs.trade.timber import UnknownSpeciesError

PARTS: tuple[type[Part[Any]], ...] = (GroovePart, BottomPart, LidPart, HandlePart, ShellPart, PatternPart)
"""What a box may have besides its sides, in the order in which they are worked out and reported."""


class Box(Record):
    """A box worked out as far as its rules allow.

    A part is None, and none of the `parts`, where the file does not ask for it, and where a rule stops it or what it
    depends on: `problems` says which. Without `numbers` the joint itself is stopped.
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
    pattern: Pattern | None = None
    parts: Parts = ()
    stock: Stock | None = None
    finish: Finish | None = None

    @property
    def stopped(self) -> bool:
        """Whether a rule stops the box."""
        return any(problem.severity == "stop" for problem in self.problems)

    @property
    def height(self) -> float:
        """The width of its sides once they are ripped, or of the boards in hand where a rule stops the joint, mm."""
        return self.numbers.width if self.numbers else self.file.box.height

    @property
    def inside(self) -> tuple[float, float]:
        """Inside length and width, mm."""
        return inside_of(self.file)

    @property
    def longest(self) -> float:
        """The longer sides, mm."""
        return max(self.file.box.length, self.file.box.width)

    @property
    def cut_length(self) -> float:
        """Length of the front as cut, mm."""
        return cut_length(self.file, self.file.box.length)

    @property
    def cut_width(self) -> float:
        """Length of the end boards as cut, mm."""
        return cut_length(self.file, self.file.box.width)

    @property
    def inside_depth(self) -> float | None:
        """From the bottom, its tongue lying on the grooves' lower sides, to the rim, mm; None without a bottom."""
        return self.numbers.width - self.bottom.upper_face if self.numbers and self.bottom else None

    @property
    def depth_under_plug(self) -> float | None:
        """The same to the plug of the lid, mm; None without a bottom or a lid."""
        return None if self.inside_depth is None or self.lid is None else self.inside_depth - self.lid.plug_depth

    @property
    def depth(self) -> float | None:
        """How high what lies in it may be, mm: to the plug of the lid, or to the rim; None without a bottom."""
        return self.inside_depth if self.depth_under_plug is None else self.depth_under_plug

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


@kept_for(8)
def work_out(file: BoxFile) -> Box:
    """Return the box of a file, with everything that stops it or must be known of it.

    Each part is worked out from the ones before. What a rule stops takes only those with it that need its numbers. What
    the problems offer has been tried: the file is worked out again with it. Asked again for the same file, as for each
    page and picture of it, it is not worked out again.
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
    parts: list[Part[Any]] = []

    def judged(kind: type[Part[Made]], made: Made | None) -> Made | None:
        """Return a part that its rules leave, and keep it."""
        left: Made | None = kind.rules.judge(made, found)
        parts.extend([kind(file, left)] if left is not None else ())
        return left

    groove = judged(GroovePart, groove_of(file, numbers)) if numbers else None
    bottom = lid = shell = pattern = stock = None
    of_plywood = file.bottom is not None and file.bottom.material == "plywood"
    if room and air and groove and (woods["bottom"] or of_plywood):
        bottom = judged(BottomPart, bottom_of(file, groove, room, woods["bottom"], air))
    if room and air and (of_it := woods["lid"]):
        lid = judged(LidPart, lid_of(file, room, of_it, air))
    handle = judged(HandlePart, handle_of(file))
    if numbers and (groove or file.groove is None):
        shell = judged(ShellPart, shell_of(file, numbers, groove))
        pattern = judged(PatternPart, pattern_of(file, numbers, groove))
    if numbers:
        stock = box_rules.STOCK.judge(stock_of(file, numbers, parts), found)
        found += box_rules.boards_of_no_known_wood(file)
    found += _between_parts(file, lid, handle)
    if numbers and bottom:
        found += box_rules.depth_is_left(file, numbers.width, numbers.pitch, bottom, lid)
    finish = finish_of(file, numbers, room, lid, bottom) if numbers and room else None
    problems = tuple(worst_first(found))
    return Box(file, numbers, meant, problems, air, groove, bottom, lid, handle, shell, pattern, parts=tuple(parts),
               stock=stock, finish=finish)  # fmt: skip


def _woods(file: BoxFile, found: list[Problem]) -> dict[str, Wood | None]:
    """Return the wood of every part, None where its name is not in the table and where it is plywood."""
    sides = file.sides
    asked = {"sides": (sides.species, sides.rings), "ends": (sides.ends_species or sides.species, sides.rings)}
    solid = file.bottom if file.bottom and file.bottom.material == "solid" else None
    for name, part in (("bottom", solid), ("lid", file.lid)):
        if part:
            asked[name] = (part.species or sides.species, part.rings)
    woods: dict[str, Wood | None] = dict.fromkeys(("sides", "ends", "bottom", "lid"))
    unknown: set[str | None] = set()
    for name, (species, rings) in asked.items():
        try:
            woods[name] = wood(species, rings)
        except UnknownSpeciesError as error:
            if species not in unknown:
                where = "sides.ends_species" if name == "ends" else f"{name}.species"
                found.append(_unknown_wood(where, error, species))
            unknown.add(species)
    return woods


def _unknown_wood(where: str, error: UnknownSpeciesError, species: str | None) -> Problem:
    ways = ["{instead}"]
    if where == "bottom.species" and is_sheet(species):
        ways.insert(0, 'make the material of the bottom "plywood"')
    return stop(where, "{wrong}", tuple(ways), wrong=error.wrong, instead=error.instead)


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


_ONE_OF_THEM = ("leave the section [shell] out of the file", "leave out [pattern]")


def _between_parts(file: BoxFile, lid: Lid | None, handle: Handle | None) -> Iterator[Problem]:
    """Find what is wrong between parts."""
    if file.bottom and not file.groove:
        yield stop("bottom", "a bottom needs a groove to sit in", "a section [groove] with its cutter")
    if file.shell and file.pattern:
        yield stop("pattern", "a box has a carved shell or a pattern of its own, not both", _ONE_OF_THEM)
    if handle and lid:
        yield from box_rules.longer_than_lid(handle, lid)
    if handle:
        yield from screws_that_do(handle, lid)


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


_BOX = (
    "title=file.title length=file.box.length width=file.box.width height inside_length=inside.0 inside_width=inside.1 "
    "inside_depth inside_depth_under_lid=depth_under_plug diagonal"
)
_PIECE, _ROUGH = "name length width thickness species", "length width thickness species=wood"


def as_data(box: Box) -> dict[str, Any]:
    """Return the box by the names of the JSON report: lengths in mm; a section that does not apply is None."""
    file, numbers = box.file, box.numbers
    data: dict[str, Any] = {"box": numbers_of(box, _BOX) | {"diagonal_glued": box.diagonal_glued if numbers else None}}
    data |= in_box.facts(numbers, box.meant) if numbers and box.meant else dict.fromkeys(("fingers", "sled", "fit"))
    data["parts"] = [*(_sides(box, numbers) if numbers else ()), *_others(box)]
    data |= dict.fromkeys(kind.name for kind in PARTS) | {part.name: part.facts() for part in box.parts}
    data |= {"movement": box.air and box.air.facts(), "stock": box.stock and _stock(box.stock)}
    return data | {"problems": [problem.as_data(file.units) for problem in box.problems]}


def _sides(box: Box, numbers: SledNumbers) -> Iterator[dict[str, Any]]:
    """Yield the four sides as cut, from the left end of a groove seen on their inner faces."""
    sockets, deep = {LONGS: numbers.long_sockets, SHORTS: numbers.short_sockets}, cut_depths(box.file)
    for kind, piece in zip(MEMBERS, in_box.pieces(box.file, numbers), strict=True):
        for name in MEMBERS[kind]:
            cut = {
                "sockets": [[span.start, span.end] for span in sockets[kind]],
                "socket_depth": deep[kind],
                "groove": box.groove and _groove_in(box.groove, name),
            }
            yield numbers_of(replace(piece, name=name, species=piece.wood), _PIECE) | cut


def _groove_in(groove: Groove, name: str) -> dict[str, float]:
    """Return the groove of one board; its ends are from the board's left end, seen on its inner face."""
    sizes = {"from_bottom": groove.from_bottom, "width": groove.cutter, "depth": groove.depth}
    return sizes | dict(zip(("start", "end"), groove.ends(name), strict=True))


def _others(box: Box) -> Iterator[dict[str, Any]]:
    """Yield the parts that are no sides; their length is along the grain."""
    for part in box.parts:
        if piece := part.piece():
            yield numbers_of(piece, _PIECE) | {"sockets": [], "socket_depth": 0.0, "groove": None}


def _stock(made: Stock) -> dict[str, Any]:
    """Return the stock: rough sizes; volume in m³; the plan's boards, none where the file names no rack."""
    plan = made.plan
    return {
        "board_feet": made.board_feet,
        "volume": made.volume,
        "strips": [
            numbers_of(strip, _ROUGH) | {"pieces": [numbers_of(piece, "name start end") for piece in strip.pieces]}
            for strip in made.strips
        ],
        "boards": [
            numbers_of(opened.board, _ROUGH)
            | {"name": opened.board.called or opened.board.name}
            | {"pieces": [piece.name for piece in opened.pieces], "offcut": opened.offcut}
            for opened in (plan.boards if plan else ())
        ],
        "missing": [
            numbers_of(replace(piece, length=piece.length + 2 * made.trim), f"name {_ROUGH}")
            for piece in (plan.missing if plan else ())
        ],
    }
