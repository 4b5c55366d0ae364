"""Fewer pages: the outlines of a drawing into all that the proof and the title block leave of them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import shapely
from shapely.geometry.base import BaseGeometry

from jigs.base.drawing import Bounds, Drawing, around
from layout.draw import blocks, furniture
from layout.draw.blocks import Block
from layout.draw.furniture import PROOF
from layout.fill import nest
from layout.fill.flow import Filled, Laid, rank
from layout.fill.job import Job, page_facts
from layout.fill.page_forms import INSIDE, PageForm
from layout.fill.ways import LETTERS, Choice
from layout.sheet.marks import Group

CUTTING = 5.0
"""Between outlines that are nested, mm: room to cut them apart (common practice, no source)."""

_Nestable = tuple[tuple[Block, nest.Outline], ...]
"""A choice, each of its blocks with its outline."""


def nested(job: Job, drawing: Drawing, best: Laid, pages: list[PageForm], found: Sequence[Laid]) -> Laid:
    """Return the drawing nested by its outlines into all that the proof and the title block leave of the pages.

    Only where that takes fewer pages than `best`, which is in reading order and has several pages, none of them a
    piece of a large drawing.
    """
    free = [(page, room) for page in pages if (room := room_of(job, drawing, page, best.items)) is not None]
    rooms = [(page, nest.Room(room)) for page, room in free]
    # With half the room for the knife on each side of an outline, and so beyond the rim of the page.
    largest = max((room.buffer(CUTTING / 2, join_style="mitre").area for _, room in free), default=0.0)
    outlines: dict[int, nest.Outline] = {}  # by the identity of a block: a view is the same one in all letters
    for letters in LETTERS:
        flowed = min((laid for laid in found if laid.letters == letters), key=rank, default=best)
        if rank(flowed)[:3] != rank(best)[:3]:
            continue
        items = [_nestable(item, outlines) for item in flowed.items]
        sheets = _shared(rooms, items, len(best.sheets) - 1, largest)
        if sheets and _is_in_order(sheets):
            best = replace(flowed, sheets=sheets)
    return best


def _is_in_order(sheets: Sequence[Filled]) -> bool:
    """Tell whether all that goes on from something else comes on a later page: steps are done as they are read."""
    page_of = {block.name: number for number, filled in enumerate(sheets) for block in filled.blocks}
    going_on = [block for filled in sheets for block in filled.blocks if block.follows]
    return all(page_of[block.follows] < page_of[block.name] for block in going_on)


def _least_area(items: Sequence[_Nestable]) -> float:
    """Return the area that outlines ask for, each grown by half the room for the knife."""
    return sum(min(outline.least_area for _, outline in item) for item in items)


def _nestable(item: Choice, known: dict[int, nest.Outline]) -> _Nestable:
    for block in item:
        if id(block) not in known:
            known[id(block)] = nest.Outline(blocks.outline(block), CUTTING)
    return tuple((block, known[id(block)]) for block in item)


def _shared(
    rooms: Sequence[tuple[PageForm, nest.Room]],
    items: Sequence[_Nestable],
    most: int,
    largest: float,
) -> tuple[Filled, ...]:
    """Fill page after page, each of the way it lies that takes the most. Returns none where `most` are too few.

    The largest come first, each as narrow as it may be: of four orders that were tried the one that saved most pages.
    It is given up where what is left asks for more than the pages left, each of the area `largest` at most.
    """
    sheets: list[Filled] = []
    left = sorted(items, key=lambda item: -item[0][1].shape.area)
    while left:
        if _least_area(left) > (most - len(sheets)) * largest:
            return ()
        tries = [_filled(page, room.copy(), left) for page, room in rooms]
        filled, rest = max(tries, key=lambda tried: sum(block.width * block.height for block in tried[0].blocks))
        sheets.append(filled)
        if len(rest) == len(left):
            return ()
        left = rest
    return tuple(sheets)


def room_of(job: Job, drawing: Drawing, page: PageForm, items: Sequence[Choice]) -> BaseGeometry | None:
    """Return the frame less the proof and the title block, at its tallest, with room to cut between.

    None for a page on which the title block might not fit.
    """
    blocks_checked = [(), *((item[0],) for item in items if item[0].check)]
    # Fewer words may be higher: they are written larger where that finds room. So both the fewest and the most.
    facts = [page_facts(job, drawing, page, placed, *([most] * 3)) for placed in blocks_checked for most in (1, 99)]
    if not all(furniture.title_fits(page.title, fact) for fact in facts):
        return None
    left, bottom = page.proof
    # Where a code finds room depends on every word: then the title block may be as high as its place.
    titles = [] if job.codes else [furniture.title_block(page.title, fact) for fact in facts]
    high = [_bounds(title) for title in titles if title] or [page.title]
    taken = [Bounds(left, bottom, left + PROOF, bottom + PROOF), *high]
    free: BaseGeometry = shapely.box(*page.paper.frame.grown(-INSIDE))
    return free.difference(shapely.union_all([shapely.box(*box.grown(INSIDE + 1.0)) for box in taken]))


def _filled(page: PageForm, room: nest.Room, items: Sequence[_Nestable]) -> tuple[Filled, list[_Nestable]]:
    """Return a page with all that finds room on it, the first item among it; and what does not."""
    placed: list[Block] = []
    rest: list[_Nestable] = []
    for item in items:
        found = [(block, outline, move) for block, outline in item if (move := room.find(outline))]
        if not found or (rest and not placed):
            rest.append(item)
            continue
        block, outline, move = min(found, key=lambda way: way[1].shape.area)
        room.take(outline, move)
        placed.append(block.at(*move))
    return Filled(page, tuple(placed)), rest


def _bounds(group: Group) -> Bounds:
    return around(stroke.shape.bounds for stroke in group.strokes if not stroke.pen.filled)
