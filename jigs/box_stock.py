"""What a box is made from and finished with: strips, pieces and boards, glue and oil.

Lengths in mm, areas in mm².
"""

from __future__ import annotations

from dataclasses import dataclass

from jigs.box_parts import LONGS, MEMBERS, Bottom, Handle, Lid, cut_length
from jigs.boxfile import BoxFile
from jigs.trade import finishing, stock
from jigs.trade.sled import SledNumbers
from jigs.usual import KERF, RESAWN_PLANING, TRIM

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

    `plan` is None where the file names no boards. All sides in one strip take `whole_length`; the resawn stick,
    sawn open like a book, makes a box with the grain running round all four corners.
    """

    strips: tuple[Strip, ...]
    others: tuple[stock.Piece, ...]
    whole_length: float
    resawn_length: float
    resawn_thickness: float
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
    planing = RESAWN_PLANING.size(file.units)
    thick = stock.resawn_thickness(thickness=file.sides.thickness, kerf=kerf, planing=planing)
    return Stock(strips, others, whole, resawn, thick, plan)


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
