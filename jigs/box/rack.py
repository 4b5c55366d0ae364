"""The stock of a box: what to cut from which board, the strips of the sides pictured, and the cut list.

Which piece comes from which board is searched in `trade/stock.py`, whose answer the tests hold against every way there
is and against an independent solver; no packing library is used, for the reasons that its docstring gives.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Mapping

from jigs.base import drawing as draw
from jigs.base.rules import Problem, get
from jigs.base.usual import Usual
from jigs.base.wording import Wording, Words, say
from jigs.box.chain import Box
from jigs.box.stock import Stock, Strip, sawing
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint import in_box
from jigs.parts.joint.made import ripped_to
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS, thicknesses
from jigs.parts.part import Piece
from jigs.record import Record
from jigs.trade import stock
from jigs.trade.stock import CutBoard

TALLEST = 19.0
"""A wider strip is drawn no higher than this, mm: what is read off the picture is along it."""
LONGEST = 150.0
"""The longest strip is drawn this long, mm."""
SLIMMEST = 9.0
"""A strip is drawn at least this high, mm."""
TEST_PIECE = Usual(150, 6)
"""A piece of a test joint, long enough to clamp (common practice, no source)."""
ROUGH = Usual(1, 1 / 16)
"""Rough sizes are given in these, mm."""
TRIALS = 3
"""Trials of the joint that wood is kept for, and how many of the pieces are spare (common practice, no source)."""
ENDS_A_TRIAL, SPARE = 2, 0.25
_CORNERS: Mapping[str, tuple[int, int]] = {"front": (4, 1), "right end": (1, 2), "back": (2, 3), "left end": (3, 4)}
"""The corners at the left and at the right of each side, seen on its outer face."""


def finished(box: Box) -> tuple[Piece, ...]:
    """Return the parts of a box as they are cut, those that the rules leave."""
    sides = in_box.pieces(box.file, box.numbers) if box.numbers else ()
    return (*sides, *(piece for part in box.parts if (piece := part.piece())))


def trial_pieces() -> int:
    """Return how many pieces to keep for test joints: two ends a trial and a quarter over."""
    return math.ceil(TRIALS * ENDS_A_TRIAL * (1 + SPARE))


class TrialStock(Record):
    """The test pieces of one wood: `length` with a saw cut to each, of the width and thickness of the sides, in mm.

    `wood` is None where none is named. `found` are the pieces that the rack gives: from the offcuts of the boards of
    the sides, whose lengths are `left`, and where these are not enough from boards that nothing else is cut from,
    `untouched`: each named, as often as it is taken.
    """

    wood: str | None
    count: int
    length: float
    volume: float
    board_feet: float
    found: int
    left: tuple[float, ...]
    untouched: tuple[str, ...] = ()

    @property
    def short(self) -> int:
        """How many pieces the rack does not give."""
        return max(0, self.count - self.found)


def trial_stock(box: Box, made: Stock) -> tuple[TrialStock, ...]:
    """Return the wood of the test pieces, which is not in the stock's strips: as much of each wood of the sides.

    A trial joins an end of a front or back to one of an end board, so that with two woods half are of each.
    """
    (kerf, trim), piece = sawing(box.file), TEST_PIECE.size(box.file.units)
    count = math.ceil(trial_pieces() / len(made.woods))
    found = []
    for wood in made.woods:
        strips = [strip for strip in made.strips if strip.wood == wood]
        names = {strip.name for strip in strips}
        size = {"length": count * (piece + kerf), "width": strips[0].width, "thickness": strips[0].thickness}
        opened = made.plan.boards if made.plan else ()
        left = tuple(one.offcut for one in opened if one.offcut > 0 and names & {of_it.name for of_it in one.pieces})
        gives = sum(stock.boxes_per_board(board=offcut, strip=piece, kerf=kerf) for offcut in left)
        test_piece = stock.Piece("test piece", piece, *_section_of(strips[0], box.file), wood)
        taken = []
        for board in _untouched(made, test_piece):
            if gives >= count:
                break
            gives += stock.boxes_per_board(board=board.length, strip=piece, kerf=kerf, trim=trim)
            taken.append(full_name(board))
        volume, feet = stock.cubic_metres(**size), stock.board_feet(**size)
        found.append(TrialStock(wood, count, size["length"], volume, feet, gives, left, tuple(taken)))
    return tuple(found)


def _section_of(strip: Strip, file: BoxFile) -> tuple[float, float]:
    """Return how wide and thick a board must be for a strip: as wide as was asked for, with no wood to spare."""
    return min(strip.width, file.box.height), strip.thickness


def _untouched(made: Stock, piece: stock.Piece) -> Iterator[stock.Board]:
    """Yield boards that give a piece and that nothing is cut from, the shortest first, each as often as it is there.

    The sides' own boards come before others: what their joints are tried in should be like them.
    """
    opened = [one.board for one in made.plan.boards] if made.plan else []
    fitting = [board for board in made.rack if stock.gives(board, piece)]
    for board in sorted(fitting, key=lambda one: (one not in opened, one.length)):
        yield from [board] * (board.count - opened.count(board))


def views(made: Stock) -> list[draw.View]:
    """Return the strips of the sides."""
    return list(_strips(made))


def needed(box: Box, made: Stock) -> Iterator[Words]:
    """Yield what wood there must be: in all, what the rack lacks, that of the test pieces, how the grain runs."""
    kerf, trim = sawing(box.file)
    yield say("Counted for a saw cut: {kerf}; off each end of a board: {trim}.", kerf=kerf, trim=trim)
    yield from _missing(made)
    if made.plan and not made.plan.missing:  # else they are in the table of what is to buy
        yield from wood_of_trials(box, made)
    yield from _boxes_per_board(box, made)
    yield _round_the_corners(made)


# -- the strips ----------------------------------------------------------------------------------------------------


def _strips(made: Stock) -> Iterator[draw.View]:
    longest = max(strip.length for strip in made.strips)
    for number, strip in enumerate(made.strips, start=1):
        yield _strip(strip, LONGEST / longest, f"strip-{number}")


def _strip(strip: Strip, scale: float, name: str) -> draw.View:
    """Return a strip, outer face up: its pieces with the triangle over them, saw cuts and trims, corners and grain."""
    high = max(SLIMMEST * 1.2, min(TALLEST, strip.width * scale))
    ends = (strip.pieces[0].start * scale, strip.pieces[-1].end * scale)
    right = strip.length * scale
    outlines = draw.lines([draw.rectangle(p.start * scale, 0, p.end * scale, high) for p in strip.pieces])
    waste = [draw.rectangle(0, 0, ends[0], high), draw.rectangle(ends[1], 0, right, high)] if ends[0] > 0 else []
    apex = (ends[0] + ends[1]) / 2
    triangle = draw.lines([draw.line((ends[0], 0), (apex, high), (ends[1], 0))], draw.Kind.NARROW)
    reference = (draw.Line(draw.line((ends[0], 0.0), (ends[1], 0.0)), draw.Kind.REFERENCE),)
    first = strip.pieces[0]
    grain = draw.Point((first.start + first.end) / 2 * scale, high * 0.68)
    parts = (
        draw.Part(f"{name}-pieces", "Sides", (*outlines, *reference)),
        *((draw.Part(f"{name}-trims", "Trims", draw.lines(waste), hatched=tuple(waste)),) if waste else ()),
        draw.Part(f"{name}-triangle", "Cabinetmaker's triangle", triangle),
        draw.Part(f"{name}-grain", "Grain", arrows=((grain.moved(-9, 0), grain.moved(9, 0)),)),
    )
    labels = []
    for piece in strip.pieces:
        middle = (piece.start + piece.end) / 2 * scale
        words = say(f"{piece.name} {{length}}", length=piece.end - piece.start)
        labels.append(draw.Label(words, draw.Point(middle, high * 0.3), leader=False))
    labels += [
        draw.Label(words, draw.Point(x * scale, high + 3.2), leader=False, towards="above")
        for words, x in _marks(strip)
    ]
    of_wood = " of {wood}" if strip.wood else ""
    heading = "Strip" + of_wood + ", {length} × {width} × {thick}, outer faces up, grain as the arrow"
    heading += ", {trim} trimmed off each end" if waste else ""
    sizes = {"length": strip.length, "width": strip.width, "thick": strip.thickness}
    title = say(heading, wood=strip.wood, **sizes, trim=strip.pieces[0].start)
    return draw.View(name, title, parts, labels=tuple(labels), to_scale=False)


def _marks(strip: Strip) -> Iterator[tuple[str, float]]:
    """Yield the corners along a strip. Where the grain runs round one, its saw cut is it; else a cut parts two."""
    sides = [_CORNERS[piece.name] for piece in strip.pieces]
    yield f"corner {sides[0][0]}", strip.pieces[0].start
    for (_, right), (left, _), before, after in zip(sides, sides[1:], strip.pieces, strip.pieces[1:], strict=False):
        if left == right:
            yield f"corner {right}", before.end
        else:
            yield f"corners {right} and {left}", (before.end + after.start) / 2
    yield f"corner {sides[-1][1]}", strip.pieces[-1].end


# -- the boards ----------------------------------------------------------------------------------------------------


def boards(made: Stock) -> draw.Table | None:
    """Return what is cut from which board, in the order of its pieces from one end; None where no rack is planned."""
    if made.plan is None or not made.plan.boards:
        return None
    rows = tuple(_board(opened, made) for opened in made.plan.boards)
    headings = ("Board", "Its size", "Cut from it, from one end", "Left over")
    return draw.Table("boards", "From the boards", headings, rows)


def _board(opened: CutBoard, made: Stock) -> tuple[draw.Cell, ...]:
    board = opened.board
    size = say("{length} × {width} × {thick}", length=board.length, width=board.width, thick=board.thickness)
    lengths = {f"long{number}": piece.length for number, piece in enumerate(opened.pieces)}
    named = zip(lengths, opened.pieces, strict=True)
    pieces = ", ".join(f"{made.called(piece.name)} {{{name}}}" for name, piece in named)
    name = f"{full_name(board)}, {board.wood}" if board.wood else full_name(board)
    return name, size, say(pieces, **lengths), opened.offcut if opened.offcut > 0 else "nothing"


def full_name(board: stock.Board) -> str:
    """Return which board it is, with the name that its maker gave it."""
    return f"{board.name}, {board.called}" if board.called else board.name


# -- tables and notes ----------------------------------------------------------------------------------------------


def cut_list(box: Box, made: Stock) -> draw.Table:
    """Return the parts as they go through the shop. Rough sizes are rounded up: a rule reads no finer."""
    whole = ROUGH.size(box.file.units)
    others = {piece.name: piece for piece in made.others}
    strips = {LONGS if strip.pieces[0].name in MEMBERS[LONGS] else SHORTS: strip for strip in made.strips}
    in_strip = {  # sides in one strip are all of its size
        kind: say("strip, {width} × {thick}", width=_up(strip.width, whole), thick=_up(strip.thickness, whole))
        for kind in MEMBERS
        for strip in [strips.get(kind, made.strips[0])]
    }
    of_kind = {" and ".join(names): in_strip[kind] for kind, names in MEMBERS.items()}
    rows: list[tuple[draw.Cell, ...]] = []
    for part in finished(box):
        size: Words = of_kind.get(part.name, "")
        if piece := others.get(part.name):
            length, width, thick = (_up(size, whole) for size in (piece.length, piece.width, piece.thickness))
            size = say("{length} × {width} × {thick}", length=length, width=width, thick=thick)
            if stock.is_sheet(piece.wood):  # it comes as thick as it is, and is not planed
                size = say("sheet, {length} × {width} × {t:gauge}", length=length, width=width, t=piece.thickness)
        planed: draw.Cell = "–" if stock.is_sheet(part.wood) else part.thickness
        wide: draw.Cell = _ripped(box) if part.name in of_kind else part.blank_width or part.width
        rows.append((_of_wood(part), str(part.count), size, planed, wide, part.blank or part.length, part.grain))
    if box.numbers:
        thick_of = thicknesses(box.file)
        kinds = (LONGS, SHORTS) if thick_of[LONGS] != thick_of[SHORTS] else (LONGS,)
        for kind in kinds:
            count, length = math.ceil(trial_pieces() / len(kinds)), TEST_PIECE.size(box.file.units)
            sizes = in_strip[kind], thick_of[kind], "–", length
            rows.append(("test pieces", str(count), *sizes, "long way"))
    headings = ("Part", "No.", "Rough, least", "Plane to", "Rip to", "Crosscut", "Grain")
    return draw.Table("cut-list", "Cut list", headings, tuple(rows))


def is_ripped(box: Box) -> bool:
    """Whether the sides are ripped before the joints are cut."""
    return _ripped(box) != "–"


def _ripped(box: Box) -> draw.Cell:
    """Return what the sides are ripped to, before the joints; they are planed to their width after them."""
    rip = ripped_to(box.numbers, box.file.box.height, box.file.units) if box.numbers else None
    return "–" if rip is None or box.file.joint.layout != "rip" else rip


def _up(size: float, whole: float) -> float:
    return math.ceil(size / whole - 1e-6) * whole


def _of_wood(part: Piece) -> str:
    return f"{part.name}, {part.wood}" if part.wood else part.name


def _boxes_per_board(box: Box, made: Stock) -> Iterator[Words]:
    """Yield how many boxes' sides come out of the first board of their wood that is wide and thick enough."""
    if len(made.strips) != 1:
        return
    kerf, trim = sawing(box.file)
    strip = made.strips[0]
    length = strip.length - 2 * trim
    whole = stock.Piece(strip.name, length, strip.width, strip.thickness, strip.wood)
    for board in made.rack:
        boxes = stock.boxes_per_board(board=board.length, strip=length, kerf=kerf, trim=trim)
        if boxes and stock.gives(board, whole):
            more = stock.board_for(boxes + 1, strip=length, kerf=kerf, trim=trim)
            sides = "one box" if boxes == 1 else f"{boxes} boxes"
            words = "without test pieces, {board} would give the sides of {sides}, one of {more} those of one more"
            yield say(f"{words[:1].upper()}{words[1:]}.", board=full_name(board), sides=sides, more=more)
            return


def _missing(made: Stock) -> Iterator[Words]:
    if made.plan is None:
        yield "The box file names no boards: all of the wood is to buy."
    elif not made.plan.best:
        yield "There may be a plan that opens less wood: the search was ended before all were tried."


def _round_the_corners(made: Stock) -> Words:
    if made.mixed:
        unlike = "The end boards are not as thick as front and back"
        if len(made.woods) > 1:
            sides, ends = (wood or "a wood without a name" for wood in made.woods)
            unlike = f"Front and back are of {sides}, the end boards of {ends}"
        return f"{unlike}: they are sawn from strips of their own, and the grain runs round no corner."
    counts = {1: "three corners and ends at corner 4", 2: "corners 1 and 3 only", 4: "no corner"}
    grain = f"The grain runs round {counts[len(made.strips)]}."
    if len(made.strips) > 1:
        return say(f"{grain} One strip of {{whole}} would carry it round three.", whole=made.whole_length)
    return say(
        f"{grain} A blank of {{stick}}, {{thick}} thick, sawn open like a book, carries it round all four.",
        stick=made.resawn_length,
        thick=made.resawn_thickness,
    )


def wood_of_trials(box: Box, made: Stock) -> Iterator[Wording]:
    """Yield how much wood the test pieces take beside the strips, and whether the boards of the sides have it."""
    for more in trial_stock(box, made):
        yield _wood_of_trials(more, made)


def trials_to_get(box: Box) -> Iterator[Problem]:
    """Find test pieces that the boards of the sides do not give, where the file names its boards."""
    made = box.stock
    for more in trial_stock(box, made) if made and made.plan and not box.stopped else ():
        if more.short:
            yield get(
                "stock.boards",
                "{count} test pieces of {each:cut} take {length:rough up} with their saw cuts; the rack has enough for "
                "{found}",
                "get {wood} for {short} more",
                count=more.count,
                each=TEST_PIECE.size(box.file.units),
                length=more.length,
                found=more.found or "none",
                wood=more.wood or "wood",
                short=more.short,
            )


def _wood_of_trials(more: TrialStock, made: Stock) -> Wording:
    pieces, of_it, sides = f"The {more.count} test pieces", "the sides’ wood", "the sides"
    if made.mixed:
        pieces = f"{more.count} of the test pieces"
        of_it = more.wood or "the wood without a name"
        sides = f"the sides of {of_it}"
    need = f"{pieces} take {{length}} of {of_it} beside the strip, saw cuts counted"
    if made.plan is None or not (more.left or more.untouched):
        return say(f"{need}: get that too.", length=more.length)
    lengths = {f"left{number}": offcut for number, offcut in enumerate(more.left)}
    there = [f"the boards of {sides} leave {' and '.join(f'{{{name}}}' for name in lengths)}"] if lengths else []
    for name, times in Counter(more.untouched).items():
        there.append(f"{times} of {name} whole" if times > 1 else f"{name} is there whole")
    words = "; ".join(there)
    enough = "enough" if not more.short else f"enough for {more.found}. Get wood for the other {more.short}"
    return say(f"{need}. {words[:1].upper()}{words[1:]}: {enough}.", length=more.length, **lengths)
