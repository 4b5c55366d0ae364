"""What the wood of a box costs and wastes, and what is still to buy. Lengths in mm, volumes in mm³."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import amounts
from jigs.base import drawing as draw
from jigs.base.wording import Words, say
from jigs.box import rack
from jigs.box.chain import Box
from jigs.box.stock import Stock, sawing, woods_of_prices
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS, thicknesses
from jigs.record import Record
from jigs.trade import stock


class Purchase(Record):
    """A board to buy: what it is for, its wood and its least size, and what it costs where the file has a price."""

    name: str
    wood: str | None
    length: float
    width: float
    thickness: float
    cost: float | None

    @property
    def volume(self) -> float:
        """Its volume."""
        return self.length * self.width * self.thickness


class Costs(Record):
    """What the boards cost that are opened, in the file's own currency; `unknown` are woods without a price."""

    opened: float
    currency: str
    unknown: tuple[str, ...]

    @property
    def said(self) -> str:
        """The cost in words, with what is not in it."""
        money = amounts.money(self.opened, self.currency)
        return f"{money}, without {' and '.join(self.unknown)}" if self.unknown else money


def to_buy(box: Box) -> tuple[Purchase, ...]:
    """Return the boards that are still to buy: all of them where the file names no rack, test pieces among them."""
    made = box.stock
    if made is None:
        return ()
    missing = made.plan.missing if made.plan else made.wanted
    found = [
        _purchase(
            box,
            f"the {made.called(piece.name)}",
            piece.wood,
            piece.length + 2 * made.trim,
            piece.width,
            piece.thickness,
        )
        for piece in missing
    ]
    return (*found, *_test_pieces(box, made))


def _test_pieces(box: Box, made: Stock) -> Iterator[Purchase]:
    """Yield a board for the test pieces of each wood that the boards of the sides do not give."""
    kerf, trim = sawing(box.file)
    each = rack.TEST_PIECE.size(box.file.units)
    for trial in rack.trial_stock(box, made):
        if trial.short:
            strip = next(strip for strip in made.strips if strip.wood == trial.wood)
            name = f"{trial.short} test pieces"
            yield _purchase(box, name, trial.wood, trial.short * (each + kerf) + 2 * trim, strip.width, strip.thickness)


def _purchase(box: Box, name: str, wood: str | None, length: float, width: float, thickness: float) -> Purchase:
    price = woods_of_prices(box.file).get(wood or "")
    volume = length * width * thickness
    cost = None if price is None else _cost(box, volume, price)
    return Purchase(name, wood, length, width, thickness, cost)


def _cost(box: Box, volume: float, price: float) -> float:
    """Return what a volume of wood costs: prices are of a m³, or of a board foot in a file in inches."""
    per = 1e9 if box.file.units == "mm" else stock.CUBIC_MM_PER_BOARD_FOOT
    return stock.cost(volume=volume, price=price, per=per)


def waste(box: Box) -> float | None:
    """Return the share of the wood used that becomes chips, saw cuts and trims; None where nothing is planned.

    Offcuts that stay boards are not used. Without a rack the rough sizes are what is used.
    """
    made = box.stock
    if made is None:
        return None
    missing = {piece.name for piece in made.plan.missing} if made.plan else set()
    if made.plan:
        used = sum(one.board.volume - one.offcut * one.board.section for one in made.plan.boards)
    else:
        used = sum(piece.volume for piece in made.wanted)
    parts = sum(volume for name, volume in _volumes(box, made) if name not in missing)
    return stock.waste(used=used, parts=parts) if parts else None


def _volumes(box: Box, made: Stock) -> Iterator[tuple[str, float]]:
    """Yield the finished volume of what comes out of each rough piece, by its name."""
    thick = thicknesses(box.file)
    high = box.numbers.width if box.numbers else 0.0
    for strip in made.strips:
        kinds = {piece.name: LONGS if piece.name in MEMBERS[LONGS] else SHORTS for piece in strip.pieces}
        yield (
            strip.name,
            sum((piece.end - piece.start) * high * thick[kinds[piece.name]] for piece in strip.pieces),
        )
    for part in box.parts:
        if piece := part.piece():
            yield piece.name, piece.length * piece.width * piece.thickness


def costs(box: Box) -> Costs | None:
    """Return what the opened boards cost, each at its own price or that of its wood; None where no price is given."""
    made, file = box.stock, box.file
    asked = file.stock
    if made is None or asked is None or not (asked.prices or any(board.price is not None for board in asked.boards)):
        return None
    per_wood, own = woods_of_prices(file), {f"board {n}": board.price for n, board in enumerate(asked.boards, 1)}
    total, unknown = 0.0, dict[str, None]()
    for one in made.plan.boards if made.plan else ():
        price, wood = own.get(one.board.name), per_wood.get(one.board.wood or "")
        if price is not None:
            total += price
        elif wood is not None:
            total += _cost(box, one.board.volume, wood)
        else:
            unknown[one.board.wood or rack.full_name(one.board)] = None
    for purchase in to_buy(box):
        if purchase.cost is None:
            unknown[purchase.wood or "the wood that has no name"] = None
        else:
            total += purchase.cost
    return Costs(total, asked.currency or "", tuple(unknown))


def table(box: Box) -> draw.Table | None:
    """Return what is to buy as a table, None where the rack gives every part: test pieces are told elsewhere."""
    if box.stock is None or (box.stock.plan and not box.stock.plan.missing):
        return None
    rows: list[tuple[draw.Cell, ...]] = []
    currency = (box.file.stock.currency or "") if box.file.stock else ""
    for one in to_buy(box):
        size = say(
            "{length:rough up} × {width:rough up} × {thick:cut up}",
            length=one.length,
            width=one.width,
            thick=one.thickness,
        )
        cost = "" if one.cost is None else amounts.money(one.cost, currency)
        rows.append((one.name, one.wood or "any", size, amounts.volume(one.volume, box.file.units), cost))
    headings = ("For", "Wood", "Least size", "Volume", "Cost")
    columns = len(headings) if any(row[-1] for row in rows) else len(headings) - 1
    cells = tuple(row[:columns] for row in rows)
    return draw.Table("to-buy", "To buy", headings[:columns], cells)


def said(box: Box) -> str:
    """Return waste and cost in words, for a line of the report; empty where neither is known."""
    share, cost = waste(box), costs(box)
    words = [f"{share * 100:.0f} % waste"] if share is not None else []
    return "; ".join([*words, *([f"cost {cost.said}"] if cost else [])])


def as_data(box: Box) -> dict[str, object]:
    """Return waste, cost and what is to buy by the names of the JSON report."""
    cost = costs(box)
    return {
        "waste": waste(box),
        "cost": cost.opened if cost else None,
        "currency": cost.currency if cost else None,
        "to_buy": [
            {
                "name": one.name,
                "species": one.wood,
                "length": one.length,
                "width": one.width,
                "thickness": one.thickness,
                "cost": one.cost,
            }
            for one in to_buy(box)
        ],
    }


def rows(box: Box) -> Iterator[tuple[str, Words]]:
    """Yield the rows of the full report."""
    share, cost = waste(box), costs(box)
    if share is not None:
        yield "waste", f"{share * 100:.0f} % of the wood used: saw cuts, planing and trims"
    if cost:
        yield "cost", cost.said
    for one in to_buy(box):
        words = "{length:rough up} × {width:rough up} × {thick:cut up}" + (f" of {one.wood}" if one.wood else "")
        size = {"length": one.length, "width": one.width, "thick": one.thickness}
        yield "to buy", say(f"{words}, for {one.name}", **size)
