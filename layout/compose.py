"""Drawings onto sheets: which way the page lies, what goes where, and what every page carries."""

from __future__ import annotations

import itertools
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import shapely
from shapely.geometry.base import BaseGeometry

from jigs.drawing import Box, Drawing, Notes, Table, View, around
from jigs.errors import CannotBuild, Problem
from jigs.lengths import Units
from jigs.wording import read_out
from layout import blocks, furniture, hand, lettering, paper, tile
from layout.blocks import Block
from layout.carry import Carried
from layout.furniture import PROOF, Facts
from layout.hand import ORDINARY, Hand
from layout.marks import Bundle, Group, Layer, Sheet
from layout.paper import Paper

if TYPE_CHECKING:
    from layout import nest

GAP = 7.0
"""Between blocks, mm: templates can be cut apart without cutting into one another."""
_COLUMNS = (160.0, 130.0, 100.0, 75.0, 60.0, 50.0, 44.0)
"""Widths to try for a column of notes, mm: wide ones read in few lines, narrow ones stand beside a view."""
_NARROW_COLUMN = 60.0
"""Least width of notes in letters that are read at the bench, mm: narrower ones have too few words in a line."""
_SPARSE = 1 / 3
"""A page with less of its room taken than this looks forgotten, if it is not the only one."""
_TOGETHER = 2
"""How many cautions in large print stand together."""
_TABLES = (130.0, 100.0, 75.0)
"""Narrower widths to try for a table, mm."""
INSET = 2.5
"""From the frame to the proof, mm."""
CUTTING = 5.0
"""Between outlines that are nested, mm: room to cut them apart (common practice, no source)."""
INSIDE = 3.0
"""From the frame to what is drawn, mm."""


@dataclass(frozen=True, slots=True)
class Job:
    """What the sheets of one job have in common. `prefix` goes before the name of every sheet.

    It goes before the names of parts too, where a drawing does not say which jig it belongs to.
    """

    prefix: str
    title: str
    settings: str
    units: Units
    revision: str
    correction: str = "none"
    date: str = ""
    codes: tuple[str, ...] = ()
    carried: Carried | None = None
    hand: Hand = ORDINARY


@dataclass(frozen=True, slots=True)
class _Page:
    """One way to lay out a page: where the drawing, the proof and the title block go."""

    paper: Paper
    content: Box
    proof: tuple[float, float]
    title: Box


@dataclass(frozen=True, slots=True)
class _Style:
    """How a drawing is set: the letters of its notes, and what is done to save a page or to fill one.

    With `in_square` notes may stand in the square, under the cautions. A `balanced` table is shared evenly between its
    pages. A new page is begun before the item of the number `turn`.
    """

    letters: float = blocks.READING
    in_square: bool = False
    balanced: bool = False
    turn: int | None = None


_STYLES = tuple(
    _Style(letters, in_square, balanced)
    for letters in (blocks.READING, blocks.SMALL)
    for in_square in (False, True)
    for balanced in (False, True)
)
"""The styles, the one to be preferred first."""


_Choice = tuple[Block, ...]
"""One block in the widths it may have, the widest first."""


_Nestable = tuple[tuple[Block, "nest.Outline"], ...]
"""The same, each with its outline."""


@dataclass(frozen=True, slots=True)
class _Filled:
    """One sheet: the page used, and the blocks on it in their places."""

    page: _Page
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class _Laid:
    """A drawing laid out: its sheets, how many views a detail stands in for, what was set smaller than asked for.

    `items` is what was laid out, in reading order, `asides` what of it could stand in the square, its axes starting
    where the bars meet; `style` is how all is set.
    """

    sheets: tuple[_Filled, ...]
    details: int
    shrunk: int
    items: tuple[_Choice, ...]
    asides: tuple[Block | None, ...]
    style: _Style

    @property
    def pieces(self) -> int:
        """How many pieces a large drawing is cut into."""
        return sum(block.alone for sheet in self.sheets for block in sheet.blocks)

    @property
    def sparse(self) -> int:
        """How many pages hold too little, where there is more than one."""
        if len(self.sheets) == 1:
            return 0
        return sum(_share(filled) < _SPARSE for filled in self.sheets)


def _share(filled: _Filled) -> float:
    """Return how much of the room of a page is taken; a piece of a large drawing takes all that it needs."""
    content = filled.page.content
    if any(block.alone for block in filled.blocks):
        return 1.0
    taken = [block.width * block.height for block in filled.blocks if content.holds(block.box)]
    return sum(taken) / (content.width * content.height)


def compose(job: Job, drawings: Sequence[Drawing], on: Paper) -> Bundle:
    """Return the sheets of a job. Raises CannotBuild, naming the paper that would do, where a page is too small."""
    if job.hand.large and drawings:
        drawings = [*drawings, _cautions(drawings)]
    laid = [(drawing, _lay_out(job, drawing, on)) for drawing in drawings]
    refused = [drawing for drawing, found in laid if found is None]
    if refused:
        raise CannotBuild([_too_small(job, refused, on)])
    kept = [(drawing, found) for drawing, found in laid if found is not None]
    count = sum(len(found.sheets) for _, found in kept)
    sheets: list[Sheet] = []
    for drawing, found in kept:
        for number, filled in enumerate(found.sheets, start=1):
            sheets.append(_sheet(job, drawing, filled.page, filled.blocks, number, len(sheets) + 1, count))
    for sheet in sheets:
        _check_letters(sheet)
    if job.hand.thin:
        sheets = [hand.thinned(sheet) for sheet in sheets]
    return Bundle(job.prefix, job.title, job.settings, f"revision {job.revision}", tuple(sheets), carried=job.carried)


def _cautions(drawings: Sequence[Drawing]) -> Drawing:
    """Return the cautions of all these drawings in large print: the squares hold them in small letters only."""
    every = tuple(dict.fromkeys(caution for drawing in drawings for caution in drawing.cautions))
    starts = range(0, len(every), _TOGETHER)
    body = tuple(
        Notes(f"cautions-{start // _TOGETHER + 1}", "Cautions", every[start : start + _TOGETHER]) for start in starts
    )
    return Drawing("cautions", "cautions", "to be read before any of the work", body, drawings[0].cautions)


def _check_letters(sheet: Sheet) -> None:
    for group in sheet.groups():
        for text in group.texts:
            lettering.refuse_unknown(text.words)


# -- ways to lay out a page ----------------------------------------------------------------------------------------


def _pages(on: Paper) -> list[_Page]:
    """Return the ways to lay out a page, the plainest first. Pages too small for the proof have none."""
    if on.roll:
        return [way for way in (_below(on), _below(on.turned)) if way is not None]
    ways = [_below(on), _below(on.turned), _beside(on.turned), _beside(on)]
    return [way for way in ways if way is not None]


def _below(on: Paper) -> _Page | None:
    """Proof and title block side by side along the bottom."""
    frame = on.frame
    top = frame.bottom + INSET + PROOF
    content = Box(frame.left, top + 1.0, frame.right, frame.top)
    title = Box(frame.left + INSET + PROOF + 4, frame.bottom, frame.right, top)
    if title.width < furniture.TITLE_WIDTH or content.height < 20:
        return None
    return _Page(on, content, (frame.left + INSET, frame.bottom + INSET), title)


def _beside(on: Paper) -> _Page | None:
    """Proof and title block one above the other along the right."""
    frame = on.frame
    left = frame.right - INSET - PROOF
    content = Box(frame.left, frame.bottom, left - 1.0, frame.top)
    title = Box(left, frame.bottom + INSET + PROOF + 4, frame.right, frame.top)
    if content.width < 30 or title.height < 40:
        return None
    return _Page(on, content, (left, frame.bottom + INSET), title)


# -- flow ----------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Ways:
    """The ways to set an item, the plainest first; how much of a detail it is; whether it is less than large print."""

    choices: list[list[Block]]
    details: int = 0
    shrunk: bool = False


class _Blocks:
    """The items of a drawing as blocks. Each is made once, however many ways to lay out a page are tried."""

    def __init__(self, job: Job, drawing: Drawing) -> None:
        self.job = job
        self.jig = drawing.jig or job.prefix
        self.prefix = f"{self.jig}-{drawing.name}"
        self.hands = tuple(dict.fromkeys((job.hand, replace(job.hand, large=False))))
        self._bare: dict[tuple[str, int], Box] = {}
        self._views: dict[tuple[str, int, Hand], Block] = {}
        self._columns: dict[tuple[str, float, Hand, float], Block] = {}
        self._tables: dict[tuple[str, float, float, Hand, bool], list[Block]] = {}

    def choices(self, item: View | Table | Notes, content: Box, style: _Style, *, cut: bool) -> _Ways:
        """Return the ways to set an item within the content.

        What fits no page in large print is set in ordinary letters. With `cut` a view that does not fit even so is
        shared between several pages.
        """
        if isinstance(item, View):
            return self._view_ways(item, content, cut=cut)
        for written in self.hands:
            ways = self._table_ways(item, content, written, style) if isinstance(item, Table) else []
            ways = ways or (self._columns_of(item, content, written, style) if isinstance(item, Notes) else [])
            if ways:
                return _Ways(ways, shrunk=written != self.job.hand)
        return _Ways([])

    def _view_ways(self, item: View, content: Box, *, cut: bool) -> _Ways:
        details, view = 0, item
        while True:
            for written in self.hands if self._may_fit(view, details, content) else ():
                if _fits(block := self._view(view, details, written), content):
                    return _Ways([[block]], details, shrunk=written != self.job.hand)
            if view.detail is None:
                break
            details, view = details + 1, view.detail
        if not cut:
            return _Ways([])
        # A narrow title stays on one piece.
        whole = blocks.view_block(self.jig, item, self.job.units, self.job.hand, title_room=_TABLES[-1])
        pieces = tile.tiles(whole, content, whole.critical, self.job.units)
        return _Ways([pieces] if pieces else [], details + 1)

    def _columns_of(self, notes: Notes, content: Box, written: Hand, style: _Style) -> list[list[Block]]:
        """Return notes in columns of every width that fits, the widest first."""
        wide = [width for width in _COLUMNS if style.letters == blocks.SMALL or width >= _NARROW_COLUMN]
        widths = sorted({min(content.width, width) for width in wide}, reverse=True)
        columns = [self._column(notes, width, written, style.letters) for width in widths]
        whole = [[block] for block in columns if _fits(block, content)]
        return whole or [pieces for pieces in [self._in_pieces(notes, content, written, style)] if pieces]

    def _in_pieces(self, notes: Notes, content: Box, written: Hand, style: _Style) -> list[Block]:
        """Return notes that are longer than a page as one column a page. None at all where a paragraph is longer."""
        width = min(content.width, _COLUMNS[0])
        made: list[Block] = []
        left = notes.paragraphs
        while left:
            name, title = notes.name, read_out(notes.title, self.job.units)
            if made:
                name, title = f"{name}-{len(made) + 1}", f"{title}, continued"
            some = [Notes(name, title, left[:count]) for count in range(1, len(left) + 1)]
            columns = [
                blocks.notes_block(self.prefix, one, self.job.units, width, written, style.letters) for one in some
            ]
            fitting = [column for column in columns if _fits(column, content)]
            if not fitting:
                return []
            made.append(replace(fitting[-1], follows=made[-1].name if made else ""))
            left = left[len(fitting) :]
        return made

    def in_square(self, notes: Notes, room: Box, style: _Style) -> Block | None:
        """Return notes that stand in the room of the square. None where they don't fit."""
        block = self._column(notes, room.width, self.job.hand, style.letters)
        return block.at(room.left, room.top) if _fits(block, room) else None

    def _column(self, notes: Notes, width: float, written: Hand, letters: float) -> Block:
        key = (notes.name, width, written, letters)
        if key not in self._columns:
            self._columns[key] = blocks.notes_block(self.prefix, notes, self.job.units, width, written, letters)
        return self._columns[key]

    def _table_ways(self, table: Table, content: Box, written: Hand, style: _Style) -> list[list[Block]]:
        """Return the ways to set a table: as wide as it likes, and narrower where it stays in one piece."""
        found: dict[float, list[Block]] = {}
        for width in (content.width, *(width for width in _TABLES if width < content.width)):
            made = self._table(table, width, content.height, written, style)
            if made and (not found or len(made) == 1):
                found.setdefault(round(made[0].width, 3), made)
        return list(found.values())

    def _table(self, table: Table, width: float, tall: float, written: Hand, style: _Style) -> list[Block]:
        key = (table.name, width, tall, written, style.balanced)
        if key not in self._tables:
            self._tables[key] = blocks.table_blocks(
                self.prefix, table, self.job.units, width, tall, written, balanced=style.balanced
            )
        return self._tables[key]

    def _may_fit(self, view: View, detail: int, content: Box) -> bool:
        """Tell whether the bare parts of a view fit the content: if not, there is no need to annotate it."""
        key = (view.name, detail)
        if key not in self._bare:
            self._bare[key] = around(part.bounds for part in view.parts)
        return self._bare[key].width <= content.width and self._bare[key].height <= content.height

    def _view(self, view: View, detail: int, written: Hand) -> Block:
        """Return a view as a block; `detail` says how many views it stands in for."""
        key = (view.name, detail, written)
        if key not in self._views:
            self._views[key] = blocks.view_block(self.jig, view, self.job.units, written)
        return self._views[key]


def _lay_out(job: Job, drawing: Drawing, on: Paper) -> _Laid | None:
    """Return the best way to lay out a drawing: whole views before details, few pieces to join, few pages."""
    made = _Blocks(job, drawing)
    for cut in (False, True):
        found: list[_Laid] = []
        for style in _styles(drawing):
            found += _flows(job, drawing, made, _pages(on), style, cut=cut)
            if found and min(map(_rank, found))[:4] == (0, 0, 0, 1):
                break  # no other style does better than one page
        if found and on.roll:
            return min((_cut_off(job, drawing, laid) for laid in found), key=_rank)
        if found:
            return _nested(job, drawing, _turned(job, drawing, made, found, cut=cut), _pages(on), found)
    return None


def _styles(drawing: Drawing) -> list[_Style]:
    """Return the styles that make a difference to a drawing."""
    notes = any(isinstance(item, Notes) for item in drawing.body)
    tables = any(isinstance(item, Table) for item in drawing.body)
    return [
        style
        for style in _STYLES
        if (notes or style.letters == blocks.READING)
        and (notes or not style.in_square)
        and (tables or not style.balanced)
    ]


def _flows(
    job: Job, drawing: Drawing, made: _Blocks, pages: Sequence[_Page], style: _Style, *, cut: bool
) -> list[_Laid]:
    return [laid for page in pages if (laid := _flow(job, drawing, made, page, style, cut=cut)) is not None]


def _turned(job: Job, drawing: Drawing, made: _Blocks, found: Sequence[_Laid], *, cut: bool) -> _Laid:
    """Return the best of what was found, the page turned earlier where it would leave one that holds too little."""
    best = min(found, key=_rank)
    tries = [best]
    if best.sparse:
        pages, style = [best.sheets[0].page], best.style
        for number in range(1, len(drawing.body)):
            tries += _flows(job, drawing, made, pages, replace(style, turn=number), cut=cut)
    return min(tries, key=_rank)


def _rank(laid: _Laid) -> tuple[int, int, int, int, int, int, float]:
    """Tell how good a way to lay out a drawing is, the best the least."""
    area = sum(filled.page.paper.width * filled.page.paper.height for filled in laid.sheets)
    style = _STYLES.index(replace(laid.style, turn=None))
    return laid.details, laid.pieces, laid.shrunk, len(laid.sheets), laid.sparse, style, area


def _cut_off(job: Job, drawing: Drawing, laid: _Laid) -> _Laid:
    """Return a drawing on a roll with each page as long as what is on it needs.

    No page is shorter than it is wide, so that it stays plain which way it runs through the printer.
    """
    sheets = []
    for filled in laid.sheets:
        page, content = filled.page, filled.page.content.grown(-INSIDE)
        wide, high = page.paper.width, page.paper.height
        lies = wide > high
        spare = content.right - max(block.box.right for block in filled.blocks)
        if not lies:
            spare = min(block.box.bottom for block in filled.blocks) - content.bottom
        spare = min(spare, abs(wide - high))
        shorter = _below(page.paper.cut(max(wide, high) - spare))
        if shorter is None or not furniture.title_fits(shorter.title, _facts(job, drawing, shorter, (), 99, 99, 99)):
            sheets.append(filled)
            continue
        down = 0.0 if lies else spare
        moved = tuple(block.at(block.left, block.top - down) for block in filled.blocks)
        sheets.append(_Filled(shorter, moved))
    return replace(laid, sheets=tuple(sheets))


def _flow(job: Job, drawing: Drawing, made: _Blocks, page: _Page, style: _Style, *, cut: bool) -> _Laid | None:
    """Fill pages in reading order. None where an item fits no page, or the title block its place."""
    content = page.content.grown(-INSIDE)
    square = furniture.square_room(drawing.cautions)
    sheets: list[list[Block]] = [[]]
    items: list[_Choice] = []
    asides: list[Block | None] = []
    set_ways = []
    for number, item in enumerate(drawing.body):
        ways = made.choices(item, content, style, cut=cut)
        if not ways.choices:
            return None
        if number == style.turn and sheets[-1]:
            sheets.append([])
        set_ways.append(ways)
        aside = made.in_square(item, square, style) if isinstance(item, Notes) else None
        _set(sheets, ways.choices, content, _in_square(aside, page) if aside and style.in_square else None)
        items += _singly(ways.choices)
        asides += [aside] * (len(items) - len(asides))
    details, shrunk = sum(ways.details for ways in set_ways), sum(ways.shrunk for ways in set_ways)
    facts = {_facts(job, drawing, page, placed, 1, 1, 1) for placed in sheets}
    if not all(furniture.title_fits(page.title, fact) for fact in facts):
        return None
    return _Laid(
        tuple(_Filled(page, tuple(sheet)) for sheet in sheets), details, shrunk, tuple(items), tuple(asides), style
    )


def _in_square(aside: Block, page: _Page) -> Block:
    """Return what stands in the square where the square is on this page."""
    return aside.at(aside.left + page.proof[0], aside.top + page.proof[1])


def _singly(choices: list[list[Block]]) -> list[_Choice]:
    """Return an item as what may stand on a page of its own: one block in several ways, or several in one."""
    if len(choices[0]) > 1:
        return [(block,) for block in choices[0]]
    return [tuple(choice[0] for choice in choices if len(choice) == 1)]


def _fits(block: Block, content: Box) -> bool:
    return block.width <= content.width + 1e-9 and block.height <= content.height + 1e-9


def _set(sheets: list[list[Block]], choices: list[list[Block]], content: Box, aside: Block | None) -> None:
    """Put an item on the last page where one of its choices finds room there, else on new pages.

    Notes, which have several choices, may fill a gap on an earlier page; or stand `aside`, in the square of a page.
    """
    pages = sheets if len(choices) > 1 else sheets[-1:]
    for page in [page for page in pages if not any(block.alone for block in page)]:
        placed = [block for choice in choices if len(choice) == 1 and (block := _placed(choice[0], page, content))]
        if placed:
            page.append(max(placed, key=lambda block: block.top))
            return
    for page in sheets if aside else ():
        assert aside is not None, "there are pages to look at only where there is something to put aside"
        if page and not any(_overlap(aside.box, other.box) for other in page):
            page.append(aside)
            return
    for block in choices[0]:
        taken = sheets[-1] and (block.alone or sheets[-1][-1].alone)
        there = None if taken else _placed(block, sheets[-1], content)
        if there is None:
            if sheets[-1]:
                sheets.append([])
            there = _placed(block, [], content)
            assert there is not None, "a block that fits the content fits an empty page"
        sheets[-1].append(there)


def _placed(block: Block, others: list[Block], content: Box) -> Block | None:
    """Return the block at the highest free place of a page, the leftmost of these. None where there is none."""
    tops = sorted({content.top, *(other.box.bottom - GAP for other in others)}, reverse=True)
    lefts = sorted({content.left, *(other.box.right + GAP for other in others)})
    for top in tops:
        for left in lefts:
            box = Box(left, top - block.height, left + block.width, top)
            if content.holds(box) and not any(_overlap(box.grown(GAP - 0.01), other.box) for other in others):
                return block.at(left, top)
    return None


def _overlap(one: Box, other: Box) -> bool:
    across = one.left < other.right and other.left < one.right
    return across and one.bottom < other.top and other.bottom < one.top


# -- nesting -------------------------------------------------------------------------------------------------------


def _nested(job: Job, drawing: Drawing, best: _Laid, pages: list[_Page], found: Sequence[_Laid]) -> _Laid:
    """Return the drawing nested by its outlines into all that the proof and the title block leave of the pages.

    Only where that takes fewer pages than boxes in reading order; a drawing that is cut into pieces stays as it is.
    Notes that can stand in the square do where pages are saved by it.
    """
    if len(best.sheets) == 1 or best.pieces:
        return best
    from layout import nest  # noqa: PLC0415 - most drawings need none of it

    free = [(page, room) for page in pages if (room := _room(job, drawing, page, best.items)) is not None]
    rooms = [(page, nest.Room(room)) for page, room in free]
    # With half the room for the knife on each side of an outline, and so beyond the rim of the page.
    largest = max((room.buffer(CUTTING / 2, join_style="mitre").area for _, room in free), default=0.0)
    outlines: dict[int, nest.Outline] = {}  # by the identity of a block: a view is the same one in every style
    for letters in (blocks.READING, blocks.SMALL):
        flowed = min((laid for laid in found if laid.style.letters == letters), key=_rank, default=best)
        if _rank(flowed)[:3] != _rank(best)[:3]:
            continue
        items = [_nestable(item, outlines) for item in flowed.items]
        for in_square, largest_first, narrow in itertools.product((False, True), repeat=3):
            most = len(best.sheets) - 1
            kept, aside = _put_aside(items, flowed.asides, most) if in_square else (items, [])
            if in_square and not aside:
                continue
            sheets = _shared(rooms, kept, most, largest, largest_first=largest_first, narrow=narrow)
            if sheets and len(aside) <= len(sheets) and _is_in_order(sheets):
                best = replace(flowed, sheets=_with_asides(sheets, aside))
    return best


def _is_in_order(sheets: Sequence[_Filled]) -> bool:
    """Tell whether all that goes on from something else comes on a later page: steps are done as they are read."""
    page_of = {block.name: number for number, filled in enumerate(sheets) for block in filled.blocks}
    going_on = [block for filled in sheets for block in filled.blocks if block.follows]
    return all(page_of[block.follows] < page_of[block.name] for block in going_on)


def _put_aside(
    items: Sequence[_Nestable], asides: Sequence[Block | None], most: int
) -> tuple[list[_Nestable], list[Block]]:
    """Return what is left to nest and what stands in squares: the largest notes that can, one to a page."""
    able = sorted((i for i, block in enumerate(asides) if block), key=lambda i: -items[i][0][1].shape.area)
    chosen = sorted(able[:most])
    kept = [item for i, item in enumerate(items) if i not in chosen]
    return kept, [block for i in chosen if (block := asides[i])]


def _with_asides(sheets: Sequence[_Filled], aside: Sequence[Block]) -> tuple[_Filled, ...]:
    first = [
        replace(filled, blocks=(*filled.blocks, _in_square(block, filled.page)))
        for filled, block in zip(sheets, aside, strict=False)
    ]
    return (*first, *sheets[len(first) :])


def _least_area(items: Sequence[_Nestable]) -> float:
    """Return the area that outlines ask for, each grown by half the room for the knife."""
    return sum(min(outline.least_area for _, outline in item) for item in items)


def _nestable(item: _Choice, known: dict[int, nest.Outline]) -> _Nestable:
    from layout import nest  # noqa: PLC0415 - most drawings need none of it

    for block in item:
        if id(block) not in known:
            known[id(block)] = nest.Outline(blocks.outline(block), CUTTING)
    return tuple((block, known[id(block)]) for block in item)


def _shared(
    rooms: Sequence[tuple[_Page, nest.Room]],
    items: Sequence[_Nestable],
    most: int,
    largest: float,
    *,
    largest_first: bool,
    narrow: bool,
) -> tuple[_Filled, ...]:
    """Fill page after page, each of the way it lies that takes the most. Returns none where `most` are too few.

    It is given up where what is left asks for more than the pages left, each of the area `largest` at most.
    `largest_first` goes by size, else in reading order; `narrow` takes the least area of a choice, else the highest.
    """
    sheets: list[_Filled] = []
    left = sorted(items, key=lambda item: -item[0][1].shape.area) if largest_first else list(items)
    while left:
        if _least_area(left) > (most - len(sheets)) * largest:
            return ()
        tries = [_filled(page, room.copy(), left, narrow=narrow) for page, room in rooms]
        filled, rest = max(tries, key=lambda tried: sum(block.width * block.height for block in tried[0].blocks))
        sheets.append(filled)
        if len(rest) == len(left):
            return ()
        left = rest
    return tuple(sheets)


def _room(job: Job, drawing: Drawing, page: _Page, items: Sequence[_Choice]) -> BaseGeometry | None:
    """Return the frame less the proof and the title block, at its tallest, with room to cut between.

    None for a page on which the title block might not fit.
    """
    blocks_checked = [(), *((item[0],) for item in items if item[0].check)]
    # Fewer words may be higher: they are written larger where that finds room. So both the fewest and the most.
    facts = [_facts(job, drawing, page, placed, *([most] * 3)) for placed in blocks_checked for most in (1, 99)]
    if not all(furniture.title_fits(page.title, fact) for fact in facts):
        return None
    left, bottom = page.proof
    # Where a code finds room depends on every word: then the title block may be as high as its place.
    titles = [] if job.codes else [furniture.title_block(page.title, fact) for fact in facts]
    high = [_bounds(title) for title in titles if title] or [page.title]
    taken = [Box(left, bottom, left + PROOF, bottom + PROOF), *high]
    free: BaseGeometry = shapely.box(*page.paper.frame.grown(-INSIDE))
    return free.difference(shapely.union_all([shapely.box(*box.grown(INSIDE + 1.0)) for box in taken]))


def _filled(
    page: _Page, room: nest.Room, items: Sequence[_Nestable], *, narrow: bool
) -> tuple[_Filled, list[_Nestable]]:
    """Return a page with all that finds room on it, the first item among it; and what does not."""
    placed: list[Block] = []
    rest: list[_Nestable] = []
    for item in items:
        found = [(block, outline, move) for block, outline in item if (move := room.find(outline))]
        if not found or (rest and not placed):
            rest.append(item)
            continue
        block, outline, move = max(found, key=lambda way: -way[1].shape.area if narrow else way[2].y)
        room.take(outline, move)
        placed.append(block.at(*move))
    return _Filled(page, tuple(placed)), rest


def _bounds(group: Group) -> Box:
    return around(stroke.shape.bounds for stroke in group.strokes if not stroke.pen.filled)


# -- one sheet -----------------------------------------------------------------------------------------------------


def _sheet(
    job: Job, drawing: Drawing, page: _Page, placed: Sequence[Block], part: int, number: int, count: int
) -> Sheet:
    """Return one sheet, `part` counting those of its drawing."""
    facts = _facts(job, drawing, page, placed, part, number, count)
    title = furniture.title_block(page.title, facts)
    proof = furniture.proof(*page.proof, drawing.cautions)
    assert title is not None, "the title block fitted while the page was laid out"
    drawn = [block.drawn() for block in placed]
    layers = (
        Layer("frame", "Frame and title block", (furniture.frame(page.paper.frame), title)),
        Layer("proof", "Proof of scale", proof),
        Layer("template", "Template", tuple(group for parts, _ in drawn for group in parts)),
        Layer("writing", "Dimensions and notes", tuple(group for _, writing in drawn for group in writing)),
    )
    family = f"{job.prefix}-{drawing.jig}" if drawing.jig not in ("", job.prefix) else job.prefix
    name = f"{family}-{drawing.name}" + (f"-{part}" if part > 1 else "")
    return Sheet(name, facts.sheet, page.paper, layers, number, count)


def _facts(
    job: Job, drawing: Drawing, page: _Page, placed: Sequence[Block], part: int, number: int, count: int
) -> Facts:
    title = read_out(drawing.title, job.units) + (f", part {part}" if part > 1 else "")
    check = next((block.check for block in placed if block.check), None)
    return Facts(
        title=job.title,
        sheet=f"Sheet {number} of {count}: {title}",
        purpose=read_out(drawing.purpose, job.units),
        settings=job.settings,
        revision=job.revision,
        paper=page.paper.name,
        correction=job.correction,
        units=job.units,
        check_name=check.name if check else "frame, left to right",
        check_value=check.value if check else page.paper.frame.width,
        date=job.date,
        codes=job.codes,
    )


def _too_small(job: Job, refused: Sequence[Drawing], on: Paper) -> Problem:
    """Say that a page is too small, for which sheets, and which paper would do for them all."""
    larger = paper.larger(on, job.units)
    enough = next((page.name for page in larger if all(_lay_out(job, drawing, page) for drawing in refused)), None)
    return Problem(
        "stop",
        "paper",
        "{sheets} can't go on paper of {width} by {height}: a template is never made smaller",
        "the smallest paper that holds it is {enough}" if enough else "no common paper holds it",
        {
            "sheets": ", ".join(read_out(drawing.title, job.units) for drawing in refused),
            "width": on.width,
            "height": on.height,
            "enough": enough,
        },
    )
