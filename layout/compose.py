"""Drawings onto sheets: which way the page lies, what goes where, and what every page carries."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jigs.drawing import Box, Drawing, Notes, Table, View, around
from jigs.errors import CannotBuild, Problem
from jigs.lengths import Units
from jigs.wording import read_out
from layout import blocks, furniture, lettering, paper, tile
from layout.blocks import Block
from layout.furniture import PROOF, Facts
from layout.marks import Bundle, Layer, Sheet
from layout.paper import Paper

GAP = 7.0
"""Between blocks, mm: templates can be cut apart without cutting into one another."""
_COLUMNS = (160.0, 130.0, 100.0, 75.0, 60.0, 50.0, 44.0)
"""Widths to try for a column of notes, mm: wide ones read in few lines, narrow ones stand beside a view."""
INSET = 2.5
"""From the frame to the proof, mm."""


@dataclass(frozen=True, slots=True)
class Job:
    """What the sheets of one job have in common. `prefix` goes before every part's name."""

    prefix: str
    title: str
    settings: str
    units: Units
    revision: str
    correction: str = "none"
    date: str = ""


@dataclass(frozen=True, slots=True)
class _Page:
    """One way to lay out a page: where the drawing, the proof and the title block go."""

    paper: Paper
    content: Box
    proof: tuple[float, float]
    title: Box


@dataclass(frozen=True, slots=True)
class _Laid:
    """A drawing laid out: the page used, and the blocks of each sheet in their places."""

    page: _Page
    sheets: tuple[tuple[Block, ...], ...]
    details: int

    @property
    def pieces(self) -> int:
        """How many pieces a large drawing is cut into."""
        return sum(block.alone for sheet in self.sheets for block in sheet)


def compose(job: Job, drawings: Sequence[Drawing], on: Paper) -> Bundle:
    """Return the sheets of a job. Raises CannotBuild, naming the paper that would do, where a page is too small."""
    laid = [(drawing, _lay_out(job, drawing, on)) for drawing in drawings]
    refused = [drawing for drawing, found in laid if found is None]
    if refused:
        raise CannotBuild([_too_small(job, refused, on)])
    kept = [(drawing, found) for drawing, found in laid if found is not None]
    count = sum(len(found.sheets) for _, found in kept)
    sheets: list[Sheet] = []
    for drawing, found in kept:
        for number, placed in enumerate(found.sheets, start=1):
            sheets.append(_sheet(job, drawing, found.page, placed, number, len(sheets) + 1, count))
    for sheet in sheets:
        _check_letters(sheet)
    return Bundle(job.prefix, job.title, job.settings, f"revision {job.revision}", tuple(sheets))


def _check_letters(sheet: Sheet) -> None:
    for group in sheet.groups():
        for text in group.texts:
            lettering.refuse_unknown(text.words)


# -- ways to lay out a page ----------------------------------------------------------------------------------------


def _pages(on: Paper) -> list[_Page]:
    """Return the ways to lay out a page, the plainest first. Pages too small for the proof have none."""
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


class _Blocks:
    """The items of a drawing as blocks. A view is annotated once, however many ways to lay out a page are tried."""

    def __init__(self, job: Job, drawing: Drawing) -> None:
        self.job = job
        self.prefix = f"{job.prefix}-{drawing.name}"
        self._views: dict[tuple[str, int], Block] = {}

    def choices(self, item: View | Table | Notes, content: Box, *, cut: bool) -> tuple[list[list[Block]], int]:
        """Return the ways to set an item within the content, the plainest first; and how much of a detail it is.

        With `cut` a view that fits no page is shared between several.
        """
        if isinstance(item, Table):
            made = blocks.table_blocks(self.prefix, item, self.job.units, content.width, content.height)
            return ([made] if made else []), 0
        if isinstance(item, Notes):
            widths = sorted({min(content.width, width) for width in _COLUMNS}, reverse=True)
            columns = [blocks.notes_block(self.prefix, item, self.job.units, width) for width in widths]
            return [[block] for block in columns if _fits(block, content)], 0
        details, view = 0, item
        while True:
            if _may_fit(view, content) and _fits(block := self._view(view, details), content):
                return [[block]], details
            if view.detail is None:
                break
            details, view = details + 1, view.detail
        if not cut:
            return [], 0
        whole = self._view(item, 0)
        pieces = tile.tiles(whole, content, whole.critical, self.job.units)
        return ([pieces] if pieces else []), details + 1

    def _view(self, view: View, detail: int) -> Block:
        """Return a view as a block; `detail` says how many views it stands in for."""
        if (view.name, detail) not in self._views:
            self._views[view.name, detail] = blocks.view_block(self.job.prefix, view, self.job.units)
        return self._views[view.name, detail]


def _may_fit(view: View, content: Box) -> bool:
    """Tell whether the bare parts of a view fit the content: if not, there is no need to annotate it."""
    box = around(part.bounds for part in view.parts)
    return box.width <= content.width and box.height <= content.height


def _lay_out(job: Job, drawing: Drawing, on: Paper) -> _Laid | None:
    """Return the best way to lay out a drawing: whole views before details, few pieces to join, few pages."""
    made = _Blocks(job, drawing)
    for cut in (False, True):
        found = [laid for page in _pages(on) if (laid := _flow(job, drawing, made, page, cut=cut)) is not None]
        if found:
            return min(found, key=lambda laid: (laid.details, laid.pieces, len(laid.sheets)))
    return None


def _flow(job: Job, drawing: Drawing, made: _Blocks, page: _Page, *, cut: bool) -> _Laid | None:
    """Fill pages in reading order. None where an item fits no page, or the title block its place."""
    content = page.content.grown(-3.0)
    sheets: list[list[Block]] = [[]]
    details = 0
    for item in drawing.body:
        choices, detail = made.choices(item, content, cut=cut)
        if not choices:
            return None
        details += detail
        _set(sheets, choices, content)
    titles = [furniture.title_block(page.title, _facts(job, drawing, page, placed, 1, 1, 1)) for placed in sheets]
    return _Laid(page, tuple(tuple(sheet) for sheet in sheets), details) if all(titles) else None


def _fits(block: Block, content: Box) -> bool:
    return block.width <= content.width + 1e-9 and block.height <= content.height + 1e-9


def _set(sheets: list[list[Block]], choices: list[list[Block]], content: Box) -> None:
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


# -- one sheet -----------------------------------------------------------------------------------------------------


def _sheet(
    job: Job, drawing: Drawing, page: _Page, placed: Sequence[Block], part: int, number: int, count: int
) -> Sheet:
    """Return one sheet, `part` counting those of its drawing."""
    facts = _facts(job, drawing, page, placed, part, number, count)
    title = furniture.title_block(page.title, facts)
    proof = furniture.proof(*page.proof, drawing.cautions)
    assert title is not None, "the title block fitted while the page was laid out"
    layers = (
        Layer("frame", "Frame and title block", (furniture.frame(page.paper.frame), title)),
        Layer("proof", "Proof of scale", proof),
        Layer("template", "Template", tuple(group for block in placed for group in block.parts)),
        Layer("writing", "Dimensions and notes", tuple(group for block in placed for group in block.writing)),
    )
    name = f"{job.prefix}-{drawing.name}" + (f"-{part}" if part > 1 else "")
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
