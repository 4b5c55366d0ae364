"""Blocks onto pages in reading order: as many ways as there are pages and styles, and which is the best."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

from jigs.base.drawing import Bounds, Drawing
from layout.draw import furniture
from layout.draw.blocks import Block
from layout.fill.job import Job, page_facts
from layout.fill.page_forms import INSIDE, PageForm, below
from layout.fill.ways import LETTERS, Choice, Choices

GAP = 7.0
"""Between blocks, mm: templates can be cut apart without cutting into one another."""
_SPARSE = 1 / 3
"""A page with less of its room taken than this looks forgotten, if it is not the only one."""


@dataclass(frozen=True, slots=True)
class Filled:
    """One sheet: the page used, and the blocks on it in their places."""

    page: PageForm
    blocks: tuple[Block, ...]


@dataclass(frozen=True, slots=True)
class Laid:
    """A drawing laid out: its sheets, how many views a detail stands in for, what was set smaller than asked for.

    `items` is what was laid out, in reading order, `letters` are those of its notes.
    """

    sheets: tuple[Filled, ...]
    details: int
    shrunk: int
    items: tuple[Choice, ...]
    letters: float

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


def _share(filled: Filled) -> float:
    """Return how much of the room of a page is taken; a piece of a large drawing takes all that it needs."""
    content = filled.page.content
    if any(block.alone for block in filled.blocks):
        return 1.0
    taken = [block.width * block.height for block in filled.blocks if content.holds(block.box)]
    return sum(taken) / (content.width * content.height)


def flows(
    job: Job, drawing: Drawing, made: Choices, pages: Sequence[PageForm], letters: float, *, cut: bool
) -> list[Laid]:
    """Return a drawing laid out in letters of one size on every form of page that it fits."""
    return [laid for page in pages if (laid := _flow(job, drawing, made, page, letters, cut=cut)) is not None]


def rank(laid: Laid) -> tuple[int, int, int, int, int, int, float]:
    """Tell how good a way to lay out a drawing is, the best the least."""
    area = sum(filled.page.paper.width * filled.page.paper.height for filled in laid.sheets)
    letters = LETTERS.index(laid.letters)
    return laid.details, laid.pieces, laid.shrunk, len(laid.sheets), laid.sparse, letters, area


def cut_off(job: Job, drawing: Drawing, laid: Laid) -> Laid:
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
        shorter = below(page.paper.cut(max(wide, high) - spare))
        if shorter is None or not _title_fits(job, drawing, shorter):
            sheets.append(filled)
            continue
        down = 0.0 if lies else spare
        moved = tuple(block.at(block.left, block.top - down) for block in filled.blocks)
        sheets.append(Filled(shorter, moved))
    return replace(laid, sheets=tuple(sheets))


def _title_fits(job: Job, drawing: Drawing, page: PageForm, placed: Sequence[Block] = ()) -> bool:
    """Tell whether the title block finds room, whatever number the page has: it is known when all are laid out."""
    return furniture.title_fits(page.title, page_facts(job, drawing, page, placed, 99, 99, 99))


def _flow(job: Job, drawing: Drawing, made: Choices, page: PageForm, letters: float, *, cut: bool) -> Laid | None:
    """Fill pages in reading order. None where an item fits no page, or the title block its place."""
    content = page.content.grown(-INSIDE)
    sheets: list[list[Block]] = [[]]
    items: list[Choice] = []
    set_ways = []
    for item in drawing.body:
        ways = made.choices(item, content, letters, cut=cut)
        if not ways.choices:
            return None
        set_ways.append(ways)
        _set(sheets, ways.choices, content)
        items += _singly(ways.choices)
    details, shrunk = sum(ways.details for ways in set_ways), sum(ways.shrunk for ways in set_ways)
    if not all(_title_fits(job, drawing, page, placed) for placed in sheets):
        return None
    filled = tuple(Filled(page, tuple(sheet)) for sheet in sheets)
    return Laid(filled, details, shrunk, tuple(items), letters)


def _singly(choices: list[list[Block]]) -> list[Choice]:
    """Return an item as what may stand on a page of its own: one block in several ways, or several in one."""
    if len(choices[0]) > 1:
        return [(block,) for block in choices[0]]
    return [tuple(choice[0] for choice in choices if len(choice) == 1)]


def _set(sheets: list[list[Block]], choices: list[list[Block]], content: Bounds) -> None:
    """Put an item on the last page where one of its choices finds room there, else on new pages.

    Notes, which have several choices, may fill a gap on an earlier page.
    """
    pages = sheets if len(choices) > 1 else sheets[-1:]
    for page in [page for page in pages if not any(block.alone for block in page)]:
        placed = [block for choice in choices if len(choice) == 1 and (block := _placed(choice[0], page, content))]
        if placed:
            page.append(max(placed, key=lambda block: block.top))
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


def _placed(block: Block, others: list[Block], content: Bounds) -> Block | None:
    """Return the block at the highest free place of a page, the leftmost of these. None where there is none."""
    tops = sorted({content.top, *(other.box.bottom - GAP for other in others)}, reverse=True)
    lefts = sorted({content.left, *(other.box.right + GAP for other in others)})
    for top in tops:
        for left in lefts:
            box = Bounds(left, top - block.height, left + block.width, top)
            if content.holds(box) and not any(_overlap(box.grown(GAP - 0.01), other.box) for other in others):
                return block.at(left, top)
    return None


def _overlap(one: Bounds, other: Bounds) -> bool:
    across = one.left < other.right and other.left < one.right
    return across and one.bottom < other.top and other.bottom < one.top
