"""The ways to set one item of a drawing: a view or its detail, a table, a column of notes, each in several widths."""

from __future__ import annotations

from dataclasses import dataclass, replace

from jigs.base import drawing as draw
from jigs.base.wording import read_out
from layout.draw import blocks
from layout.draw.blocks import Block
from layout.fill import tile
from layout.fill.job import Job
from layout.sheet.hand import Hand

_COLUMNS = (160.0, 130.0, 100.0, 75.0, 60.0, 50.0, 44.0)
"""Widths to try for a column of notes, mm: wide ones read in few lines, narrow ones stand beside a view."""
_NARROW_COLUMN = 60.0
"""Least width of notes in letters that are read at the bench, mm: narrower ones have too few words in a line."""
_TABLES = (130.0, 100.0, 75.0)
"""Narrower widths to try for a table, mm."""


LETTERS = (blocks.READING, blocks.SMALL)
"""The letters that notes may have, those to be preferred first; small ones may save a page."""

Choice = tuple[Block, ...]
"""One block in the widths it may have, the widest first."""


@dataclass(frozen=True, slots=True)
class Ways:
    """The ways to set an item, the plainest first; how much of a detail it is; whether it is less than large print."""

    choices: list[list[Block]]
    details: int = 0
    shrunk: bool = False


class Choices:
    """The items of a drawing as blocks. Each is made once, however many ways to lay out a page are tried."""

    def __init__(self, job: Job, drawing: draw.Drawing) -> None:
        self.job = job
        self.jig = drawing.jig or job.prefix
        self.prefix = f"{self.jig}-{drawing.name}"
        self.hands = tuple(dict.fromkeys((job.hand, replace(job.hand, large=False))))
        self._bare: dict[tuple[str, int], draw.Bounds] = {}
        self._views: dict[tuple[str, int, Hand], Block] = {}
        self._columns: dict[tuple[str, float, Hand, float], Block] = {}
        self._tables: dict[tuple[str, float, float, Hand], list[Block]] = {}

    def choices(self, item: draw.Item, content: draw.Bounds, letters: float, *, cut: bool) -> Ways:
        """Return the ways to set an item within the content.

        What fits no page in large print is set in ordinary letters. With `cut` a view that does not fit even so is
        shared between several pages.
        """
        if isinstance(item, draw.View):
            return self._view_ways(item, content, cut=cut)
        for written in self.hands:
            ways = self._table_ways(item, content, written) if isinstance(item, draw.Table) else []
            ways = ways or (self._columns_of(item, content, written, letters) if isinstance(item, draw.Notes) else [])
            if ways:
                return Ways(ways, shrunk=written != self.job.hand)
        return Ways([])

    def _view_ways(self, item: draw.View, content: draw.Bounds, *, cut: bool) -> Ways:
        details, view = 0, item
        while True:
            for written in self.hands if self._may_fit(view, details, content) else ():
                if fits(block := self._view(view, details, written), content):
                    return Ways([[block]], details, shrunk=written != self.job.hand)
            if view.detail is None:
                break
            details, view = details + 1, view.detail
        if not cut:
            return Ways([])
        # A narrow title stays on one piece.
        whole = blocks.view_block(self.jig, item, self.job.units, self.job.hand, title_room=_TABLES[-1])
        pieces = tile.tiles(whole, content, whole.critical, self.job.units)
        return Ways([pieces] if pieces else [], details + 1)

    def _columns_of(self, notes: draw.Notes, content: draw.Bounds, written: Hand, letters: float) -> list[list[Block]]:
        """Return notes in columns of every width that fits, the widest first."""
        wide = [width for width in _COLUMNS if letters == blocks.SMALL or width >= _NARROW_COLUMN]
        widths = sorted({min(content.width, width) for width in wide}, reverse=True)
        columns = [self._column(notes, width, written, letters) for width in widths]
        whole = [[block] for block in columns if fits(block, content)]
        return whole or [pieces for pieces in [self._in_pieces(notes, content, written, letters)] if pieces]

    def _in_pieces(self, notes: draw.Notes, content: draw.Bounds, written: Hand, letters: float) -> list[Block]:
        """Return notes that are longer than a page as one column a page. None at all where a paragraph is longer."""
        width = min(content.width, _COLUMNS[0])
        made: list[Block] = []
        left = notes.paragraphs
        while left:
            name, title = notes.name, read_out(notes.title, self.job.units)
            if made:
                name, title = f"{name}-{len(made) + 1}", f"{title}, continued"
            some = [draw.Notes(name, title, left[:count]) for count in range(1, len(left) + 1)]
            columns = [blocks.notes_block(self.prefix, one, self.job.units, width, written, letters) for one in some]
            fitting = [column for column in columns if fits(column, content)]
            if not fitting:
                return []
            made.append(replace(fitting[-1], follows=made[-1].name if made else ""))
            left = left[len(fitting) :]
        return made

    def _column(self, notes: draw.Notes, width: float, written: Hand, letters: float) -> Block:
        key = (notes.name, width, written, letters)
        if key not in self._columns:
            self._columns[key] = blocks.notes_block(self.prefix, notes, self.job.units, width, written, letters)
        return self._columns[key]

    def _table_ways(self, table: draw.Table, content: draw.Bounds, written: Hand) -> list[list[Block]]:
        """Return the ways to set a table: as wide as it likes, and narrower where it stays in one piece."""
        found: dict[float, list[Block]] = {}
        for width in (content.width, *(width for width in _TABLES if width < content.width)):
            made = self._table(table, width, content.height, written)
            if made and (not found or len(made) == 1):
                found.setdefault(round(made[0].width, 3), made)
        return list(found.values())

    def _table(self, table: draw.Table, width: float, tall: float, written: Hand) -> list[Block]:
        key = (table.name, width, tall, written)
        if key not in self._tables:
            self._tables[key] = blocks.table_blocks(self.prefix, table, self.job.units, width, tall, written)
        return self._tables[key]

    def _may_fit(self, view: draw.View, detail: int, content: draw.Bounds) -> bool:
        """Tell whether the bare parts of a view fit the content: if not, there is no need to annotate it."""
        key = (view.name, detail)
        if key not in self._bare:
            self._bare[key] = draw.around(part.bounds for part in view.parts)
        return self._bare[key].width <= content.width and self._bare[key].height <= content.height

    def _view(self, view: draw.View, detail: int, written: Hand) -> Block:
        """Return a view as a block; `detail` says how many views it stands in for."""
        key = (view.name, detail, written)
        if key not in self._views:
            self._views[key] = blocks.view_block(self.jig, view, self.job.units, written)
        return self._views[key]


def letters_for(drawing: draw.Drawing) -> tuple[float, ...]:
    """Return the letters that make a difference to a drawing: only its notes have them."""
    return LETTERS if any(isinstance(item, draw.Notes) for item in drawing.body) else LETTERS[:1]


def fits(block: Block, content: draw.Bounds) -> bool:
    """Tell whether a block is no larger than what a page has room for."""
    return block.width <= content.width + 1e-9 and block.height <= content.height + 1e-9
