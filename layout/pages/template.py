"""Templates on pages: pieces of several jigs share a page, each with its card, its own check and room to be cut out."""

from __future__ import annotations

import math
import random
from collections.abc import Sequence

from jigs.base import cards
from jigs.base import drawing as draw
from jigs.base.drawing import Bounds, rectangle
from jigs.base.keeping import kept
from jigs.record import Record, replace
from layout.draw import annotate as annotated
from layout.draw.annotate import Style
from layout.pages import calibration, frames, tile
from layout.pages.block import Block
from layout.pages.ink import BODY, CAPTION, HEAD, LABEL, Ink, height_of, wrapped
from layout.pages.voice import Voice
from layout.sheet import lettering, marks
from layout.sheet.hand import ORDINARY, Hand
from layout.sheet.marks import Group, Stroke
from layout.sheet.paper import Paper

GAP = 7.0
"""Between pieces, mm: they are cut apart without cutting into one another."""
STRIP = 14.0
INSIDE = 3.0
"""From the frame to a piece, mm."""
STYLE = Style(2.5, 7.4, 6.6, check_bold=True)
_ROUNDING = 1e-9
"""Of two edges, mm."""
_LOTS = 150
"""Orders drawn by lot that are tried where fewer pages may be possible."""
_TITLE_ROOM = 66.0
"""A heading is as wide as its piece, and at least so wide, mm."""


class Filled(Record):
    """A page of templates: its paper, its frame, the pieces in their places, the cards they belong to."""

    paper: Paper
    frame: Bounds
    blocks: tuple[Block, ...]


@kept(64)  # most changes of a box leave most pieces as they are, and a piece is asked for twice a page
def piece(template: cards.Template, voice: Voice, hand: Hand = ORDINARY) -> Block:
    """Return a template as a block: its card in black, its title, what is done with it, and the view below."""
    view = _checked(template.view)
    drawn = annotated.annotate(template.jig, view, voice.units, hand, STYLE)
    room = max(drawn.box.width, _TITLE_ROOM)
    ink = Ink(f"{template.jig}-{view.name}-title", "Title")
    depth = _heading(ink, template, voice, room, hand)
    across, up = -drawn.box.left, -drawn.box.top - depth
    width = max([drawn.box.width, *(text.box.right for text in ink.texts)])
    return Block(
        f"{template.jig}-{view.name}",
        width,
        drawn.box.height + depth,
        tuple(group.moved(across, up) for group in drawn.parts),
        (drawn.writing.moved(across, up), ink.group()),
        view.check,
        view.critical and view.critical.moved(across, up),
    )


def _checked(view: draw.View) -> draw.View:
    """Return the view with its check called so: the one length that is held to a rule once the piece is cut out."""
    if view.check is None:
        return view
    named = replace(view.check, name="check")
    dimensions = [named if found == view.check else found for found in view.dimensions]
    return replace(view, check=named, dimensions=tuple(dimensions))


def _heading(ink: Ink, template: cards.Template, voice: Voice, room: float, hand: Hand) -> float:
    """Write the heading of a piece from 0 down; return how deep it goes."""
    head, label = hand.rest(HEAD), hand.rest(LABEL)
    tag = voice.card(template.card).replace(lettering.NO_BREAK, " ")
    wide = lettering.width(tag, label, True) + 3.0
    ink.box(Bounds(0.0, -head * 1.4, wide, 0.0), marks.BAR)
    ink.write((1.5, -head * 0.7 - label / 2), tag, label, bold=True, white=True)
    left, y = wide + 2.5, -head * 0.7 + head / 2
    title = wrapped(voice.said(template.view.title), head, room - left, bold=True)
    for i, row in enumerate(title):
        ink.write((left, y - head - i * head * 1.6), row, head, bold=True)
    after = left + lettering.width(title[-1], head, True) + 3.0
    use = voice.said(template.use)
    depth = max(head * 1.4, height_of(title, head, 1.6))
    if not use:
        return depth + 2.5
    if len(title) == 1 and after + lettering.width(use, label) <= room:
        ink.write((after, y - head), use, label)
        return depth + 2.5
    rows = wrapped(use, label, room)
    ink.rows(0.0, -depth - 0.8, rows, label, 1.6)
    return depth + 0.8 + height_of(rows, label, 1.6) + 2.0


# -- placing -------------------------------------------------------------------------------------------------------


def to_fit(templates: Sequence[cards.Template], voice: Voice, on: Paper, hand: Hand = ORDINARY) -> list[cards.Template]:
    """Return the templates, for one that fits no page whole the pieces that are printed instead, if any of them fits.

    Where none does, the whole is joined from the fewest pages.
    """

    def fits(template: cards.Template) -> bool:
        return any(_fits_one(way, [on, on.turned]) for way in _ways(template, voice, hand))

    def pieces(template: cards.Template) -> list[cards.Template]:
        if not template.apart or fits(template):
            return [template]
        found = [piece for part in template.apart for piece in pieces(part)]
        return found if any(fits(piece) for piece in found) else [template]

    return [piece for template in templates for piece in pieces(template)]


def corner_side(units: str) -> float:
    """Return the side of the square in the corner of the strip, mm: 25, or an inch."""
    return 25.0 if units == "mm" else 25.4


@kept(8)
def pages(
    templates: Sequence[cards.Template], voice: Voice, on: Paper, hand: Hand = ORDINARY, notes: Block | None = None
) -> list[Filled] | None:
    """Return the templates on as few pages as the orders tried need; None where one fits no page and can't be parted.

    `notes` go onto the first page that has room for them.
    """
    forms = [on, on.turned]
    if on.roll and on.width > on.height:
        forms = forms[::-1]
    whole: list[list[Block]] = []
    parted: list[Filled] = []
    for template in templates:
        ways = _ways(template, voice, hand)
        fitting = [way for way in ways if _fits_one(way, forms)]
        if fitting:
            whole.append(fitting)
            continue
        pieces = _parted(ways[0], forms, voice)
        if pieces is None:
            return None
        parted += pieces
    best = [_in_order(filled) for filled in _fewest(whole, forms)]
    if on.roll:
        best = [_cut(filled) for filled in best]
    made = [*best, *parted]
    return [_with_notes(made[0], notes), *made[1:]] if made and notes else made


def _ways(template: cards.Template, voice: Voice, hand: Hand) -> list[Block]:
    """Return a piece as it is drawn, and as it may be drawn instead: upright, or a detail with all that is critical."""
    ways = [piece(template, voice, hand)]
    view = template.view.detail
    while view is not None:
        ways.append(piece(replace(template, view=view), voice, hand))
        view = view.detail
    return ways


def room_of(frame: Bounds) -> tuple[Bounds, list[Bounds]]:
    """Return the room inside a frame, and what of it strip and square take."""
    inside = frame.grown(-INSIDE)
    side = 25.4
    taken = [
        Bounds(frame.left, frame.bottom, frame.right, frame.bottom + STRIP + INSIDE),
        Bounds(frame.right - side - INSIDE, frame.bottom, frame.right, frame.bottom + side + INSIDE),
    ]
    return inside, taken


class _Room:
    """A page while it is filled: what is inside its frame, what of that is taken, and the corners to try."""

    def __init__(self, on: Paper) -> None:
        self.on, self.frame = on, frames.template_frame(on)
        self.inside, self._taken = room_of(self.frame)
        self._tops, self._lefts = [self.inside.top], [self.inside.left]
        self.blocks: list[Block] = []

    def place(self, block: Block) -> tuple[float, float] | None:
        """Return the left and the top of the highest free place of a block, the leftmost of these; None without one."""
        for top in self._tops:
            low = top - block.height
            if low < self.inside.bottom - _ROUNDING:
                return None  # those further down are no better
            for left in self._lefts:
                right = left + block.width
                if right > self.inside.right + _ROUNDING:
                    break  # nor those further right
                if not self._meets(left, low, right, top):
                    return left, top
        return None

    def _meets(self, left: float, low: float, right: float, top: float) -> bool:
        """Tell whether a place has some of what is taken. Thousands are asked about: no box is made for one."""
        for taken_left, taken_low, taken_right, taken_top in self._taken:
            across = left < taken_right - _ROUNDING and taken_left < right - _ROUNDING
            if across and low < taken_top - _ROUNDING and taken_low < top - _ROUNDING:
                return True
        return False

    def put(self, block: Block) -> bool:
        """Put a block at its place; tell whether there is one."""
        there = self.place(block)
        if there is None:
            return False
        self.keep(block.at(*there))
        return True

    def keep(self, block: Block) -> None:
        """Keep a block where it stands."""
        self.blocks.append(block)
        self._taken.append(block.box.grown(GAP - 0.01))
        self._tops = sorted({*self._tops, block.box.bottom - GAP}, reverse=True)
        self._lefts = sorted({*self._lefts, block.box.right + GAP})


def _fits_one(block: Block, forms: Sequence[Paper]) -> bool:
    return any(_Room(form).place(block) for form in forms)


def _fewest(whole: list[list[Block]], forms: Sequence[Paper]) -> list[Filled]:
    """Return the pieces on as few pages as the orders tried need.

    Pieces are put on pages one after the other, so their order decides: the largest first, in three ways, then orders
    drawn by lot, the same in every run, while fewer pages are possible at all.
    """
    orders = [sorted(whole, key=key) for key in (_by_height, _by_area, _by_width)]
    tries = [_packed(order, forms) for order in orders]
    best = min(tries, key=len) if whole else []
    least = _least_pages(whole, forms)
    lot = random.Random(0)
    for _ in range(_LOTS if len(best) > least else 0):
        order = orders[1][:]
        lot.shuffle(order)
        filled = _packed(order, forms, len(best) - 1)
        if filled and len(filled) < len(best):
            best = filled
            if len(best) <= least:
                break
    return best


def _least_pages(whole: list[list[Block]], forms: Sequence[Paper]) -> int:
    """Return how many pages the pieces would take if none of the room were lost."""
    inside, taken = room_of(frames.template_frame(forms[0]))
    room = inside.width * inside.height - sum(box.width * box.height for box in taken) * 0.8
    area = sum(min((way.width + GAP) * (way.height + GAP) for way in ways) for ways in whole)
    return math.ceil(area / (room * 1.1)) if room > 0 else 1


def _by_height(ways: list[Block]) -> float:
    return -ways[0].height


def _by_area(ways: list[Block]) -> float:
    return -ways[0].height * ways[0].width


def _by_width(ways: list[Block]) -> float:
    return -ways[0].width


def _packed(waiting: Sequence[list[Block]], forms: Sequence[Paper], most: int = 10_000) -> list[Filled]:
    """Fill page after page: on each what fits, the first of what is left among it, upright unless it must lie.

    Returns none where that takes more pages than `most`.
    """
    found: list[Filled] = []
    left = list(waiting)
    while left:
        room = _Room(next(form for form in forms if any(_fits_one(way, [form]) for way in left[0])))
        rest = []
        for ways in left:
            if not any(room.put(way) for way in ways):
                if len(found) + 1 >= most:
                    return []
                rest.append(ways)
        found.append(Filled(room.on, room.frame, tuple(room.blocks)))
        left = rest
    return found


def _in_order(filled: Filled) -> Filled:
    """Return a page with its pieces named from the top down."""
    return replace(filled, blocks=tuple(sorted(filled.blocks, key=lambda block: (-round(block.top, 3), block.left))))


def _parted(whole: Block, forms: Sequence[Paper], voice: Voice) -> list[Filled] | None:
    """Return a piece that is larger than a page in parts, each on a page of its own, with marks to join them by."""
    best: list[Filled] | None = None
    for form in forms:
        frame = frames.template_frame(form)
        inside, taken = room_of(frame)
        content = Bounds(inside.left, taken[1].top + 1.0, inside.right, inside.top)
        if min(content.width, content.height) <= 0:
            continue
        parts = tile.tiles(whole, content, whole.critical, voice.units)
        if not parts:
            continue
        filled = [Filled(form, frame, (part.at(content.left, content.top),)) for part in parts]
        if best is None or len(filled) < len(best):
            best = filled
    return best


def _cut(filled: Filled) -> Filled:
    """Return a page of a roll cut off below its pieces, its strip moved up to them; no shorter than it is wide."""
    on, frame = filled.paper, filled.frame
    lies = on.width > on.height
    if lies:
        spare = frame.right - INSIDE - max(block.box.right for block in filled.blocks) - 30.0
    else:
        spare = min(block.box.bottom for block in filled.blocks) - frame.bottom - 30.0
    spare = min(spare, abs(on.width - on.height))
    if spare <= 0:
        return filled
    shorter = on.cut(max(on.width, on.height) - spare)
    if (shorter.width > shorter.height) != lies:
        shorter = shorter.turned
    down = 0.0 if lies else spare
    moved = tuple(block.at(block.left, block.top - down) for block in filled.blocks)
    return Filled(shorter, frames.template_frame(shorter), moved)


def _with_notes(filled: Filled, notes: Block) -> Filled:
    """Return a page with its notes, where it has room for them."""
    if any(block.alone for block in filled.blocks):
        return filled
    room = _Room(filled.paper)
    for block in filled.blocks:
        room.keep(block)
    return replace(filled, blocks=tuple(room.blocks)) if room.put(notes) else filled


# -- what is round them --------------------------------------------------------------------------------------------


class Strip(Record):
    """What the strip at the foot of a template page says."""

    number: str
    title: str
    below: str
    print_as: str
    scale: str
    date: str = ""


def strip(frame: Bounds, said: Strip, units: str, edges: calibration.Edges, *, square: bool = True) -> list[Group]:
    """Return the strip: what the page is, how to print it, boxes for readings; the square in its corner."""
    side = corner_side(units) if square else 0.0
    ink = Ink("strip", "Strip")
    low, top, right = frame.bottom, frame.bottom + STRIP, frame.right - side
    ink.line((frame.left, top), (right, top))
    reads = [(f"{edges.across} reads", ""), (f"{edges.up} reads", ""), ("paper", ""), ("date", said.date)]
    wide = frame.width - side
    cell = max(9.0, min(14.0, wide * 0.085))
    dated = min(0.2 * wide, max(cell, lettering.width(said.date, CAPTION) + 3.0))
    boxes = right - cell * (len(reads) - 1) - dated - 1.0
    how = boxes - max(30.0, min(42.0, wide * 0.24))
    left = frame.left + 3.5
    number = lettering.width(said.number, 5.0, True)
    ink.write((left, low + 7.0), said.number, 5.0, bold=True)
    _fitted(ink, (left + number + 3.0, low + 7.6), said.title, 3.5, how - left - number - 5.0, bold=True)
    _fitted(ink, (left, low + 2.2), said.below, CAPTION, how - left - 2.0)
    ink.line((how, low), (how, top), pen=marks.NARROW)
    _fitted(ink, (how + 2.0, low + 7.6), said.scale, 3.5, boxes - how - 3.0, bold=True)
    _fitted(ink, (how + 2.0, low + 2.2), said.print_as, CAPTION, boxes - how - 3.0)
    ink.line((boxes, low), (boxes, top), pen=marks.NARROW)
    at = boxes + 1.0
    for words, filled in reads:
        each = dated if words == "date" else cell
        _fitted(ink, (at, low + 10.9), words, CAPTION, each - 1.0)
        ink.box(Bounds(at, low + 1.4, at + each - 1.2, low + 9.6), marks.NARROW)
        _fitted(ink, (at + 0.6, low + 4.4), filled, CAPTION, each - 2.2)
        at += each
    if not square:
        return [ink.group()]
    count, longer, words = (25, 5, "25 × 25") if units == "mm" else (16, 4, "1 × 1 in")
    middle = frame.right - side / 2
    ink.write((middle + 0.6, low + side / 2 - 1.0), words, LABEL, "middle", bold=True)
    ink.write((middle + 0.6, low + side / 2 - 5.2), "for a glance", CAPTION, "middle")
    ink.write((middle + 0.6, low + side / 2 - 8.2), "only", CAPTION, "middle")
    return [
        ink.group(),
        calibration.square(frame.right - side, low, side),
        calibration.square_ticks(frame.right - side, low, side, count, longer),
    ]


def outline(frame: Bounds) -> Group:
    """Return the frame; its calibrated edges are drawn over it."""
    return Group("frame", "Frame", (Stroke(rectangle(*frame), marks.NARROW),))


def _fitted(ink: Ink, at: tuple[float, float], words: str, height: float, room: float, *, bold: bool = False) -> None:
    """Write words as large as they may be in a room, down to what is read in strips; then cut off."""
    sizes = [size for size in (BODY, LABEL, CAPTION) if size <= height]
    height = next((size for size in sizes if lettering.width(words, size, bold) <= room), CAPTION)
    short = words
    while short and lettering.width(short, height, bold) > room:
        short = short[:-2].rstrip() + "…" if len(short) > 2 else ""
    ink.write(at, short, height, bold=bold)


def before_cutting(cards_first: Sequence[str], edges: calibration.Edges, hand: Hand, *, folded: bool = False) -> Block:
    """Return what is to be done before the page is cut up; `folded` is one that holds nets of paper alone."""
    letters = hand.rest(BODY if hand.large else LABEL)
    first = f"Read {_listed(cards_first)} first." if cards_first else ""
    where = "Cut on the wide lines." if folded else "Cut outside the lines."
    said = [
        first,
        f"Measure {edges.across}, {edges.up} and the diagonal {edges.diagonal} between the two rings.",
        "If one is off by 0.5 mm or more, print again at 100 %.",
        f"{where} Measure each piece by its own check length.",
    ]
    ink = Ink("before-cutting", "Before you cut this page up")
    title = "Before you cut this page up"
    room = max(74.0, lettering.width(title, hand.rest(HEAD), True))
    y = ink.rows(0.0, 0.0, [title], hand.rest(HEAD), 1.6, bold=True)
    for words in said:
        if words:
            y = ink.rows(0.0, y, wrapped(words, letters, room), letters, 1.6)
    width = max(text.box.right for text in ink.texts)
    return Block("before-cutting", width, -y, (), (ink.group(),))


def _listed(names: Sequence[str]) -> str:
    numbers = [name.split(lettering.NO_BREAK)[-1] for name in names]
    if len(numbers) == 1:
        return f"card {numbers[0]}"
    return f"cards {', '.join(numbers[:-1])} and {numbers[-1]}"


def place(blocks: Sequence[Block]) -> tuple[tuple[Group, ...], tuple[Group, ...]]:
    """Return the parts and the writing of all pieces where they stand."""
    drawn = [block.drawn() for block in blocks]
    parts = tuple(group for half, _ in drawn for group in half)
    return parts, tuple(group for _, half in drawn for group in half)
