"""What a box is made from and finished with: strips, pieces and boards, glue and oil.

Lengths in mm, areas in mm².
"""

from __future__ import annotations

from collections.abc import Iterator
from itertools import product

from jigs.base.lengths import Units
from jigs.base.usual import KERF, PLANING, ROUGH_LENGTH, ROUGH_WIDTH, TRIM
from jigs.boxfile.sections import BoxFile
from jigs.parts.bottom.part import Bottom
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS, cut_length, thicknesses
from jigs.parts.lid.part import Lid
from jigs.parts.part import Parts
from jigs.record import Record, replace
from jigs.trade import finishing, stock
from jigs.trade.sled import SledNumbers

# -- stock ---------------------------------------------------------------------------------------------------------

Rows = tuple[tuple[str, ...], ...]
_ROUND: tuple[Rows, ...] = (
    (("front", "right end", "back", "left end"),),
    (("front", "right end"), ("back", "left end")),
    (("front",), ("right end",), ("back",), ("left end",)),
)
"""Sides of one wood in strips, the best first: the grain runs round three corners, two, or none."""
_PAIRS: dict[str, tuple[Rows, ...]] = {
    kind: ((names,), tuple((name,) for name in names)) for kind, names in MEMBERS.items()
}
"""Sides of which the ends are of another wood, by kind: a pair from one strip, or each board on its own."""


class Strip(Record):
    """Sides of one wood in a row: the rough size, a trim at both ends included. Where they stand next to one another
    in the box, the grain runs round their corner. `wood` is None where none is named."""

    length: float
    width: float
    thickness: float
    pieces: tuple[stock.StripPiece, ...]
    wood: str | None = None

    @property
    def name(self) -> str:
        """Its sides."""
        return ", ".join(piece.name for piece in self.pieces)

    @property
    def kind(self) -> tuple[str | None, float]:
        """What sides in one strip share: their wood, and how thick they are."""
        return self.wood, self.thickness


class Stock(Record):
    """The rough wood of a box: strips for the sides, other pieces, and the boards of the rack they come from.

    `rack` holds the boards that the file names; without one `plan` is None. `trim` is cut off each end of a board. All
    sides in one strip take `whole_length`; the resawn blank, sawn open like a book, makes a box with the grain running
    round all four corners. With ends of another wood neither can be made: `mixed`.
    """

    strips: tuple[Strip, ...]
    others: tuple[stock.Piece, ...]
    whole_length: float
    resawn_length: float
    resawn_thickness: float
    rack: tuple[stock.Board, ...]
    plan: stock.CuttingPlan | None
    trim: float

    @property
    def wanted(self) -> tuple[stock.Piece, ...]:
        """Every rough piece, without the trims of a board."""
        sides = (stock.Piece(s.name, s.length - 2 * self.trim, s.width, s.thickness, s.wood) for s in self.strips)
        return (*sides, *self.others)

    @property
    def mixed(self) -> bool:
        """Whether the ends are of another wood than front and back, or of another thickness."""
        return len({strip.kind for strip in self.strips}) > 1

    @property
    def woods(self) -> tuple[str | None, ...]:
        """The woods of the sides, that of front and back first."""
        return tuple(dict.fromkeys(strip.wood for strip in self.strips))

    def called(self, name: str) -> str:
        """Return what a piece is called: the only strip is just that."""
        return "strip of the sides" if len(self.strips) == 1 and name == self.strips[0].name else name

    @property
    def volume(self) -> float:
        """All rough wood, m³; sheets, which are sold by their area, are left out."""
        return sum(stock.cubic_metres(length=x, width=y, thickness=z) for x, y, z in self._sizes)

    @property
    def board_feet(self) -> float:
        """The same, board feet."""
        return sum(stock.board_feet(length=x, width=y, thickness=z) for x, y, z in self._sizes)

    @property
    def _sizes(self) -> list[tuple[float, float, float]]:
        strips = [(strip.length, strip.width, strip.thickness) for strip in self.strips]
        wood = [piece for piece in self.others if not stock.is_sheet(piece.wood)]
        return strips + [(piece.length, piece.width, piece.thickness) for piece in wood]

    @property
    def kinds_missing(self) -> int:
        """For how many kinds of the sides the rack has no board for some of them."""
        missing = {piece.name for piece in self.plan.missing} if self.plan else set()
        return len({strip.kind for strip in self.strips if strip.name in missing})


class Woods:
    """Names of woods, each made the name that the box has for it.

    Those of the table are all in the trade's words; what it does not have, such as plywood, may be written two ways.
    """

    def __init__(self) -> None:
        self.names: dict[str, str] = {}

    def __call__(self, name: str | None) -> str | None:
        """Return the one name of a wood: what it was called first."""
        if name is None:
            return None
        return self.names.setdefault(" ".join(name.casefold().split()), name)


def woods_of_sides(file: BoxFile, woods: Woods) -> tuple[str | None, str | None]:
    """Return the wood of front and back and that of the ends, which are the same where the file names one."""
    return woods(file.sides.species), woods(file.sides.ends_species or file.sides.species)


def sawing(file: BoxFile) -> tuple[float, float]:
    """Return what a saw cut takes and what is cut off a board's end, mm."""
    if file.stock:
        return file.stock.kerf, file.stock.trim
    return KERF.size(file.units), TRIM.size(file.units)


def woods_of_prices(file: BoxFile) -> dict[str, float]:
    """Return what each wood costs: a m³ of it, or a board foot in a file in inches."""
    return {one.species: one.price for one in file.stock.prices} if file.stock else {}


def rack_of(file: BoxFile, woods: Woods) -> tuple[stock.Board, ...]:
    """Return the boards that a file lists, in its order."""
    planing = 2 * PLANING.size(file.units)
    boards = enumerate(file.stock.boards if file.stock else (), 1)
    return tuple(
        stock.Board(
            f"board {i}", b.length, b.width, b.thickness, b.count, woods(b.species), b.name,
            planing if b.planed and not stock.is_sheet(b.species) else 0.0,
        )
        for i, b in boards
    )  # fmt: skip


def rough(name: str, size: tuple[float, float, float], wood: str | None, units: Units) -> stock.Piece:
    """Return the rough piece for a part of a length, width and thickness; a sheet is as thick as it is."""
    length, width, thickness = size
    made = stock.rough_size(
        length=length,
        width=width,
        thickness=thickness,
        spare_length=ROUGH_LENGTH.size(units),
        spare_width=ROUGH_WIDTH.size(units),
        planing=0.0 if stock.is_sheet(wood) else PLANING.size(units),
    )
    return stock.Piece(name, *made, wood)


def stock_of(file: BoxFile, numbers: SledNumbers, parts: Parts) -> Stock | None:
    """Return the stock of a file and of the parts beside its sides, or None where it does not ask for it.

    Of the ways to lay out the sides it is the first, and so the best, that the rack has boards for; where there is
    none, the first that lacks boards of the fewest woods.
    """
    if file.stock is None:
        return None
    woods = Woods()
    sides = woods_of_sides(file, woods)
    pieces = [piece for part in parts if (piece := part.piece())]
    others = tuple(
        rough(p.name, (p.blank or p.length, p.blank_width or p.width, p.thickness), woods(p.wood), file.units)
        for p in pieces
    )
    rack = rack_of(file, woods)
    ways = [_stock(file, strips, others, rack) for strips in _layouts(file, numbers, sides)]
    return min(ways, key=lambda way: way.kinds_missing)


def _layouts(file: BoxFile, numbers: SledNumbers, woods: tuple[str | None, str | None]) -> Iterator[tuple[Strip, ...]]:
    """Yield the ways to lay out the sides in strips, the best first: per wood, for one strip has one wood."""
    thick = thicknesses(file)
    if woods[0] == woods[1] and thick[LONGS] == thick[SHORTS]:
        for rows in _ROUND:
            yield tuple(_strip(file, numbers, row, woods[0]) for row in rows)
        return
    for longs, shorts in product(_PAIRS[LONGS], _PAIRS[SHORTS]):
        both = [(row, woods[0]) for row in longs] + [(row, woods[1]) for row in shorts]
        yield tuple(_strip(file, numbers, row, wood) for row, wood in both)


def _stock(
    file: BoxFile, strips: tuple[Strip, ...], others: tuple[stock.Piece, ...], rack: tuple[stock.Board, ...]
) -> Stock:
    kerf, trim = sawing(file)
    # The plan takes the trims off its boards itself.
    # A board as wide as those that the box was asked for does, without wood to spare.
    in_hand = file.box.height
    sides = [stock.Piece(s.name, s.length - 2 * trim, min(s.width, in_hand), s.thickness, s.wood) for s in strips]
    sizes = {"length": file.box.length, "width": file.box.width, "proud": file.joint.proud, "kerf": kerf, "trim": trim}
    whole, resawn = stock.strip_length(**sizes), stock.resawn_length(**sizes)
    plan = stock.cutting_plan([*sides, *others], rack, kerf=kerf, trim=trim) if rack else None
    planing = PLANING.size(file.units)
    thick = stock.resawn_thickness(thickness=file.sides.thickness, kerf=kerf, planing=planing)
    if plan:
        strips, others = _as_planed(strips, others, plan)
    return Stock(strips, others, whole, resawn, thick, rack, plan, trim)


def _as_planed(
    strips: tuple[Strip, ...], others: tuple[stock.Piece, ...], plan: stock.CuttingPlan
) -> tuple[tuple[Strip, ...], tuple[stock.Piece, ...]]:
    """Return strips and pieces as thick as the planed boards that they come from; the strips all, or none of them."""
    of = {piece.name: one.board for one in plan.boards for piece in one.pieces if one.board.planed}
    if all(strip.name in of for strip in strips):
        strips = tuple(replace(strip, thickness=of[strip.name].thickness) for strip in strips)
    found = (replace(piece, thickness=of[piece.name].thickness) if piece.name in of else piece for piece in others)
    return strips, tuple(found)


def _strip(file: BoxFile, numbers: SledNumbers, row: tuple[str, ...], wood: str | None) -> Strip:
    kerf, trim = sawing(file)
    outside = {name: file.box.length if name in MEMBERS[LONGS] else file.box.width for name in row}
    lengths = [(name, cut_length(file, outside[name])) for name in row]
    pieces = stock.strip_pieces(lengths, kerf=kerf, trim=trim)
    thick = thicknesses(file)[LONGS if row[0] in MEMBERS[LONGS] else SHORTS]
    made = rough("", (pieces[-1].end + trim, numbers.width, thick), wood, file.units)
    return Strip(pieces[-1].end + trim, made.width, made.thickness, pieces, wood)


# -- glue and finish -----------------------------------------------------------------------------------------------


class Finish(Record):
    """What gluing and finishing take: glue area of all corners and area to finish in mm², glue in grams.

    `glue_in_grooves` is what of it goes into the grooves, round a bottom of plywood; a solid one takes none.
    """

    cheeks: float
    glue: float
    glue_in_grooves: float
    clamps: int
    caul_relief: float
    area: float


def finish_of(
    file: BoxFile, numbers: SledNumbers, inside: tuple[float, float], lid: Lid | None, bottom: Bottom | None
) -> Finish:
    """Return what gluing and finishing a box take."""
    thick = thicknesses(file)
    cheeks = 4 * finishing.cheek_area(count=numbers.count, first_thickness=thick[LONGS], second_thickness=thick[SHORTS])
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
    in_grooves = 0.0
    if bottom and bottom.wood is None:
        held = bottom.seasons.engagement_now
        in_grooves = finishing.groove_area(length=bottom.length, width=bottom.seasons.width, engagement=held)
    glue = finishing.glue_mass(cheeks + in_grooves), finishing.glue_mass(in_grooves)
    return Finish(cheeks, *glue, finishing.clamps(numbers.width), relief, area)
