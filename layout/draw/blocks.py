"""What flows onto a page: a view, a table or a column of notes, each as a block with a size.

A block's own axes start at its upper left corner: x to the right, y up, so that everything lies below 0.
"""

from __future__ import annotations

import functools
from dataclasses import dataclass, replace

import shapely
from shapely.geometry.base import BaseGeometry

from jigs.base import drawing as draw
from jigs.base.lengths import Units, bare, show
from jigs.base.wording import read_out
from layout.draw.annotate import annotate
from layout.sheet import lettering, marks
from layout.sheet.hand import ORDINARY, Hand
from layout.sheet.marks import Group, Stroke, Text

HEADING, READING, SMALL = 3.5, 3.5, 2.5
"""Letter heights in mm: headings, what is read at the bench, and the rest."""
_PAD, _TIGHT = 1.4, 0.5
"""Round what is written in a cell, mm; and over and under it where rows are drawn together."""
_WRITE_IN = 24.0
_BELOW_HEADING = 3.0
_CLOSED, _LINE = 3.0, 0.3
"""Half of the gaps that an outline closes, and half of the room that a lone line takes, mm."""


@dataclass(frozen=True, slots=True)
class Block:
    """Marks with a size, in mm, in the block's own axes; `drawn` gives them where the block stands.

    `check` is the dimension to hold a ruler to; `alone` it wants a page to itself; it is read after the block of the
    name `follows`, from which it goes on.
    """

    name: str
    width: float
    height: float
    parts: tuple[Group, ...]
    writing: tuple[Group, ...]
    check: draw.Dimension | None = None
    critical: draw.Bounds | None = None
    alone: bool = False
    follows: str = ""
    left: float = 0.0
    top: float = 0.0

    @property
    def box(self) -> draw.Bounds:
        """Where the block stands."""
        return draw.Bounds(self.left, self.top - self.height, self.left + self.width, self.top)

    def at(self, left: float, top: float) -> Block:
        """Return the block with its upper left corner at a place on the page."""
        return replace(self, left=left, top=top)

    def drawn(self) -> tuple[tuple[Group, ...], tuple[Group, ...]]:
        """Return its parts and its writing where it stands: moved once, however many places are tried."""
        parts, writing = (tuple(g.moved(self.left, self.top) for g in groups) for groups in (self.parts, self.writing))
        return parts, writing


def outline(block: Block) -> BaseGeometry:
    """Return the outline of a block where it stands: all that is drawn, gaps of less than 6 mm closed, holes filled.

    Words and tables are read as a whole: their outline is their box.
    """
    if not block.parts:
        return shapely.box(*block.box)
    groups = [group for half in block.drawn() for group in half]
    ink: list[BaseGeometry] = [shapely.LineString(s.shape.points(0.05)) for group in groups for s in group.strokes]
    ink += [shapely.box(*text.box) for group in groups for text in group.texts]
    grown = shapely.union_all(shapely.buffer(ink, _CLOSED, quad_segs=2))
    # Holes are filled before it shrinks back: a bare frame would be gone by then, and lone lines are gone in any case.
    filled = shapely.union_all([shapely.Polygon(piece.exterior) for piece in shapely.get_parts(grown)])
    lines = shapely.union_all(shapely.buffer(ink, _LINE, quad_segs=2))
    return filled.buffer(-_CLOSED, quad_segs=2).union(lines).intersection(shapely.box(*block.box))


def heading(words: str, room: float, height: float = HEADING) -> tuple[list[Text], float]:
    """Return a heading wrapped into the room, from 0 down, and how deep it goes with the space below it."""
    texts = []
    y = 0.0
    for row in lettering.wrapped(words, height, room, bold=True):
        y -= height * 1.15
        texts.append(Text(draw.Point(0, y), row, height, bold=True))
        y -= height * (lettering.LINE_PITCH - 1.15)
    return texts, -y + _BELOW_HEADING - 1.0


def view_block(
    prefix: str, view: draw.View, units: Units, hand: Hand = ORDINARY, *, title_room: float | None = None
) -> Block:
    """Return a view as a block, its title above it. The title says whether it is true to size.

    It is wrapped into `title_room`; into the width of the view where that is None.
    """
    drawn = annotate(prefix, view, units, hand)
    scale = "1:1" if view.to_scale else "picture, not to scale".replace(" ", lettering.NO_BREAK)
    title_room = title_room or max(drawn.box.width, 60.0)
    texts, depth = heading(f"{read_out(view.title, units)} ({scale})", title_room, hand.rest(HEADING))
    across, up = -drawn.box.left, -drawn.box.top - depth
    title = Group(f"{prefix}-{view.name}-title", "Title", texts=tuple(texts))
    width = max(drawn.box.width, *(text.box.right for text in texts))
    return Block(
        view.name,
        width,
        drawn.box.height + depth,
        tuple(group.moved(across, up) for group in drawn.parts),
        (drawn.writing.moved(across, up), title),
        view.check,
        view.critical and view.critical.moved(across, up),
    )


# -- notes ---------------------------------------------------------------------------------------------------------


def paragraph(words: str, height: float, room: float, top: float) -> tuple[list[Text], float]:
    """Return words wrapped into `room` from `top` down, and where the next line may start."""
    texts = []
    y = top
    for row in lettering.wrapped(words, height, room):
        texts.append(Text(draw.Point(0, y - lettering.size(height) * 0.73), row, height))
        y -= height * lettering.LINE_PITCH
    return texts, y


def notes_block(
    prefix: str, notes: draw.Notes, units: Units, room: float, hand: Hand = ORDINARY, letters: float = SMALL
) -> Block:
    """Return notes as a block, wrapped into the room."""
    texts, depth = heading(read_out(notes.title, units), room, hand.rest(HEADING))
    y = -depth
    for words in notes.paragraphs:
        rows, y = paragraph(read_out(words, units, _show), hand.bench(letters), room, y)
        texts += rows
        y -= 1.2
    group = Group(f"{prefix}-{notes.name}", notes.name.capitalize(), texts=tuple(texts))
    return Block(notes.name, max(text.box.right for text in texts), -y, (), (group,))


# -- tables --------------------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Row:
    """One row of a table, its cells wrapped into their columns."""

    cells: tuple[list[str] | None, ...]
    height: float
    letters: float
    pad: float
    bold: bool


def table_blocks(
    prefix: str,
    table: draw.Table,
    units: Units,
    room: float,
    tall: float,
    hand: Hand = ORDINARY,
) -> list[Block]:
    """Return a table as blocks no taller than `tall`: it goes on, headings and all, where a page ends.

    Its rows draw together where that saves a page. Returns an empty list where not even one row fits.
    """
    widths = _column_widths(table, units, room, hand)
    if widths is None:
        return []
    head = _row(table.headings, widths, hand.rest(SMALL), units, bold=True)
    rows = [_row(cells, widths, hand.bench(READING), units) for cells in table.rows]
    title = read_out(table.title, units)
    _, depth = heading(title, sum(widths), hand.rest(HEADING))
    left = tall - depth - head.height
    counts = _shares(rows, left)
    drawn = [replace(row, height=row.height - 2 * (_PAD - _TIGHT), pad=_TIGHT) for row in rows]
    if len(counts) > 1 and len(closer := _shares(drawn, left)) < len(counts):
        rows, counts = drawn, closer
    if len(counts) > 1:  # the heading of those that go on may be deeper
        deeper = heading(f"{title}, continued", sum(widths), hand.rest(HEADING))[1]
        left -= max(0.0, deeper - depth)
        counts = _shares(rows, left)
    blocks: list[Block] = []
    for number, count in enumerate(counts):
        name = table.name if not number else f"{table.name}-{number + 1}"
        words = title if not number else f"{title}, continued"
        done = sum(counts[:number])
        block = _table_block(prefix, name, words, [head, *rows[done : done + count]], widths, hand)
        blocks.append(replace(block, follows=blocks[-1].name if blocks else ""))
    return blocks


def _shares(rows: list[_Row], tall: float) -> list[int]:
    """Return how many rows go on each page that holds this height of them. None at all where one is higher."""
    counts: list[int] = []
    left = -1.0
    for row in rows:
        if row.height > tall:
            return []
        if row.height > left:
            counts.append(0)
            left = tall
        counts[-1] += 1
        left -= row.height
    return counts


def _said(cell: draw.Cell, units: Units) -> str | None:
    """Return what a cell says; None is a box to write in."""
    if cell is None:
        return None
    return _bare(cell, units) if isinstance(cell, float) else lettering.together(read_out(cell, units, _bare))


@functools.lru_cache(maxsize=4096)
def _bare(mm: float, units: Units) -> str:
    return _in_one_piece(bare(mm, units))


def _show(mm: float, units: Units) -> str:
    return _in_one_piece(show(mm, units))


def _in_one_piece(length: str) -> str:
    """Return a length that only its nearest fraction may leave for the next row; "9 15/64 in" stays together."""
    return length.replace(" ", lettering.NO_BREAK).replace(lettering.NO_BREAK + "(", " (")


def _column_widths(table: draw.Table, units: Units, room: float, hand: Hand) -> list[float] | None:
    """Return column widths: what the words want, the widest columns narrowed until the table fits the room."""
    wanted, least = [], []
    heads, reading = hand.rest(SMALL), hand.bench(READING)
    for column, title in enumerate(table.headings):
        said = [_said(row[column], units) for row in table.rows]
        wide = [lettering.width(title, heads, bold=True)]
        wide += [_WRITE_IN if words is None else lettering.width(words, reading) for words in said]
        longest = [lettering.width(word, reading) for words in said if words for word in words.split(" ")]
        longest += [lettering.width(word, heads, bold=True) for word in title.split(" ")]
        blank = [_WRITE_IN for words in said if words is None]
        wanted.append(max(wide) + 2 * _PAD)
        least.append(max(longest + blank) + 2 * _PAD)
    if sum(least) > room:
        return None
    over = sum(wanted) - room
    if over > 0:
        slack = [w - n for w, n in zip(wanted, least, strict=True)]
        wanted = [w - over * s / sum(slack) for w, s in zip(wanted, slack, strict=True)]
    return wanted


def _row(
    cells: tuple[draw.Cell, ...] | tuple[str, ...],
    widths: list[float],
    letters: float,
    units: Units,
    *,
    bold: bool = False,
) -> _Row:
    wrapped = []
    for cell, width in zip(cells, widths, strict=True):
        words = _said(cell, units)
        wrapped.append(None if words is None else lettering.wrapped(words, letters, width - 2 * _PAD + 0.01, bold))
    deepest = max([len(rows) for rows in wrapped if rows] or [1])
    return _Row(tuple(wrapped), deepest * letters * lettering.LINE_PITCH + 2 * _PAD, letters, _PAD, bold)


def _table_block(prefix: str, name: str, title: str, rows: list[_Row], widths: list[float], hand: Hand) -> Block:
    texts, depth = heading(title, sum(widths), hand.rest(HEADING))
    edges = [sum(widths[:i]) for i in range(len(widths) + 1)]
    strokes: list[Stroke] = []
    y = -depth
    for number, row in enumerate(rows):
        strokes.append(Stroke(draw.line((0, y), (edges[-1], y)), marks.EDGE if number < 2 else marks.NARROW))
        for cell, left in zip(row.cells, edges, strict=False):
            texts += _cell(cell or [], left + _PAD, y - row.pad, row)
        y -= row.height
    strokes.append(Stroke(draw.line((0, y), (edges[-1], y)), marks.EDGE))
    strokes += [Stroke(draw.line((x, -depth), (x, y)), marks.NARROW) for x in edges]
    width = max([edges[-1]] + [text.box.right for text in texts])
    group = Group(f"{prefix}-{name}", title, tuple(strokes), tuple(texts))
    return Block(name, width, -y, (), (group,))


def _cell(words_of_rows: list[str], left: float, top: float, row: _Row) -> list[Text]:
    texts, letters = [], row.letters
    for i, words in enumerate(words_of_rows):
        baseline = top - letters * 1.15 - i * letters * lettering.LINE_PITCH
        texts.append(Text(draw.Point(left, baseline), words, letters, bold=row.bold))
    return texts


def blank(left: float, bottom: float, width: float, height: float = 6.0) -> Stroke:
    """Return a box to write in."""
    return Stroke(draw.rectangle(left, bottom, left + width, bottom + height), marks.NARROW)
