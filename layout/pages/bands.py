"""The bands of a card, laid out for a width: how high each must be, and its marks where it stands.

Letters have one size whatever room is left; pictures alone give way.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Sequence

from jigs.base import cards
from jigs.base import drawing as draw
from jigs.base.drawing import Bounds, rectangle
from jigs.record import Record, field
from layout.draw import qr
from layout.draw.annotate import Shown
from layout.pages.ink import BODY, CAPTION, HEAD, LABEL, VALUE, Ink, height_of, wrapped
from layout.pages.voice import Voice
from layout.sheet import lettering, marks
from layout.sheet.hand import ORDINARY, Hand
from layout.sheet.marks import Group, Stroke

PAD = 3.2
"""From a rule to what is written, mm."""
GAP = 2.5
"""Between columns, mm."""
NARROW = 150.0
"""A page with less room sets bands one below the other that others have side by side, mm."""
SMALL = 2.5
"""Letters that are read at a desk, mm."""
_TICK, _BOX = 5.0, 6.4
"""Sides of a box to tick, and height of a box to write in, mm."""


class Setting(Record):
    """What the bands of one card have in common: its voice, the numbers of its settings, the names of its groups."""

    voice: Voice
    prefix: str
    jig: str
    shown: Shown = field(default_factory=dict)
    codes: tuple[str, ...] = ()
    narrow: bool = False
    """Whether the page has too little width for bands side by side."""
    lay: Callable[[cards.Band, float, Setting], Laid] | None = None
    """Lays out a band that stands inside another."""
    hand: Hand = ORDINARY


class Laid(ABC):
    """A band laid out for a width. `least` is the height it asks for, mm, `most` what it makes use of.

    By `gives` it may be squeezed where that saves a page: only pictures give way.
    """

    least: float
    most: float
    gives: float = 0.0

    @abstractmethod
    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return its marks in a box that is at least as high as `least`; `name` is that of its group."""

    def split(self, room: float) -> tuple[Laid, Laid] | None:
        """Return what of it goes into a room, and the rest; None where it stays in one piece."""
        del room
        return None


def shown_by(voice: Voice, card: cards.Card) -> dict[str, tuple[str, str]]:
    """Return the number and the value of every setting of a card, by name, numbered through all its bands.

    A reading of a trial goes by its letter.
    """
    bands = flat(card.bands)
    rows = [row for band in bands if isinstance(band, cards.Settings) for row in band.rows]
    shown = {row.name: (str(number), voice.value(row)) for number, row in enumerate(rows, start=1)}
    trials = [row for band in bands if isinstance(band, cards.Readings) for row in band.rows]
    return shown | {row.letter: (row.letter, voice.aim(row)) for row in trials}


def flat(bands: Sequence[cards.Band]) -> list[cards.Band]:
    """Return bands without those that only hold others."""
    found: list[cards.Band] = []
    for band in bands:
        inside: tuple[cards.Band, ...] = (band.left, band.right) if isinstance(band, cards.Beside) else ()
        inside = band.bands if isinstance(band, cards.Column) else inside
        found += flat(inside) if inside else [band]
    return found


def _inside(band: cards.Band, width: float, on: Setting) -> Laid:
    """Return a band that stands inside another, laid out."""
    assert on.lay is not None, "a band that holds others is told how they are laid out"
    return on.lay(band, width, on)


# -- side by side --------------------------------------------------------------------------------------------------


class BesideBand(Laid):
    """Two bands side by side, or one below the other on a narrow page."""

    def __init__(self, band: cards.Beside, width: float, on: Setting) -> None:
        self.stacked = on.narrow
        share = width if self.stacked else round(width * band.share, 3)
        self.width, self.share = width, share
        self.left = _inside(band.left, share, on)
        self.right = _inside(band.right, width if self.stacked else width - share, on)
        both = (self.left, self.right)
        total = sum if self.stacked else max
        self.least = total(half.least for half in both)
        self.gives = self.least - total(half.least - half.gives for half in both)
        self.most = total(half.most for half in both)

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return both with the line between them."""
        rule = Ink(f"{name}-rule", "Rule")
        if self.stacked:
            at = box.top - self.left.least
            rule.line((box.left, at), (box.right, at))
            halves = replace_bottom(box, at), Bounds(box.left, box.bottom, box.right, at)
        else:
            at = box.left + self.share
            rule.line((at, box.bottom), (at, box.top))
            halves = Bounds(box.left, box.bottom, at, box.top), Bounds(at, box.bottom, box.right, box.top)
        return [rule.group(), *self.left.drawn(halves[0], f"{name}-a"), *self.right.drawn(halves[1], f"{name}-b")]


def replace_bottom(box: Bounds, bottom: float) -> Bounds:
    """Return a box with another lower edge."""
    return Bounds(box.left, bottom, box.right, box.top)


class ColumnBand(Laid):
    """Bands one below the other; what is to spare is at the end, or goes to those that make use of it."""

    def __init__(self, band: cards.Column, width: float, on: Setting) -> None:
        self.bands = [_inside(inside, width, on) for inside in band.bands]
        self.least = sum(inside.least for inside in self.bands)
        self.gives = sum(inside.gives for inside in self.bands)
        self.most = sum(inside.most for inside in self.bands)

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the bands from the top down."""
        groups: list[Group] = []
        y, spare = box.top, max(0.0, box.height - self.least)
        for number, band in enumerate(self.bands, start=1):
            more = min(spare, band.most - band.least)
            spare -= more
            low = y - band.least - more
            groups += band.drawn(Bounds(box.left, low, box.right, y), f"{name}-{number}")
            y = low
        return groups


class CodeBand(Laid):
    """The code of the job, as large as its column allows, and what it is."""

    def __init__(self, band: cards.Code, width: float, on: Setting) -> None:
        room = width - 2 * PAD
        self.code = qr.fitting(on.codes, min(room + 4.0, 46.0))
        self.words = on.voice.said(band.words)
        self.least = self.most = self.code.side + LABEL + 3.5 if self.code else 0.0

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the code with its words below it."""
        if self.code is None:
            return []
        ink = Ink(name, "Code of the settings")
        left, low = box.left + PAD - 2.0, box.top - 1.0 - self.code.side
        ink.strokes += [Stroke(square, marks.SOLID) for square in self.code.squares(round(left, 4), round(low, 4))]
        ink.write((box.left + PAD, low - LABEL - 0.4), self.words, LABEL)
        return [ink.group()]


# -- settings ------------------------------------------------------------------------------------------------------


class _Row(Record):
    """A row of a table of settings, its words wrapped."""

    number: str
    what: list[str]
    value: str
    within: str
    using: list[str]
    height: float


class SettingsBand(Laid):
    """Number, what is set, its value, how near, with what, and a box to tick."""

    head = 8.2

    def __init__(self, band: cards.Settings, width: float, on: Setting, rows: Sequence[_Row] | None = None) -> None:
        self.band, self.width, self.on = band, width, on
        self.title = on.voice.said(band.title)
        said = [
            (on.shown[r.name][0], on.voice.said(r.what), on.voice.value(r), on.voice.within(r), on.voice.said(r.using))
            for r in band.rows
        ]
        within, using = "within", "set with"
        self.value = max([lettering.width("value", LABEL)] + [lettering.width(row[2], VALUE, True) for row in said])
        self.value = min(self.value, 0.36 * width)
        self.within = max([0.0] + [lettering.width(row[3], LABEL) for row in said])
        if self.within:
            self.within = max(self.within, lettering.width(within, LABEL))
        left = width - 2 * PAD - 8.0 - _TICK - GAP - self.value - GAP - (self.within + GAP if self.within else 0.0)
        wish = max([lettering.width(using, LABEL)] + [lettering.width(row[4], LABEL) for row in said])
        what = max(lettering.width(row[1], BODY) for row in said)
        if not any(row[4] for row in said):
            wish = -GAP
        over = what + GAP + wish - left
        if over > 0:  # both give way, each by what it has
            wish = max(min(wish, 16.0), wish - over * wish / (what + wish)) if wish > 0 else wish
            what = left - GAP - wish
        self.what, self.using = what, max(wish, 0.0)
        self.spare = max(0.0, left - what - GAP - wish)
        self.rows = list(rows) if rows is not None else [self._row(*row) for row in said]
        self.least = self.most = self.head + sum(row.height for row in self.rows)

    def _row(self, number: str, what: str, value: str, within: str, using: str) -> _Row:
        whats = wrapped(what, BODY, self.what + 0.01)
        usings = wrapped(using, LABEL, self.using + 0.01) if using else []
        tall = max(
            8.9 if "/" in value else 7.3, height_of(whats, BODY, 1.55) + 2.0, height_of(usings, LABEL, 1.6) + 2.0
        )
        return _Row(number, whats, value, within, usings, tall)

    def split(self, room: float) -> tuple[Laid, Laid] | None:
        """Return as many rows as the room holds, and the rest."""
        count, at = 0, self.head
        while count < len(self.rows) and at + self.rows[count].height <= room:
            at += self.rows[count].height
            count += 1
        if not 0 < count < len(self.rows):
            return None
        first = SettingsBand(self.band, self.width, self.on, self.rows[:count])
        return first, SettingsBand(self.band, self.width, self.on, self.rows[count:])

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the table."""
        ink = Ink(name, self.title)
        left, right = box.left + PAD, box.right - PAD
        columns = self._columns(left)
        y = box.top - self.head
        ink.write((left, y + 2.4), self.title, HEAD, bold=True)
        clear = left + lettering.width(self.title, HEAD, True) + 1.5
        for words, at, anchor in (("value", columns[1], "end"), ("within", columns[2], "end")):
            if words == "value" or self.within:
                start = at - lettering.width(words, LABEL)
                if start > clear:
                    ink.write((at, y + 2.4), words, LABEL, anchor)  # type: ignore[arg-type] # both are anchors
        if self.using:
            ink.write((columns[3], y + 2.4), "set with", LABEL)
        for row in self.rows:
            ink.line((left, y), (right, y), pen=marks.NARROW)
            self._draw_row(ink, row, y, left, right, columns)
            y -= row.height
        return [ink.group()]

    def _columns(self, left: float) -> tuple[float, float, float, float]:
        """Return where what is set begins, where value and within end, where what it is set with begins."""
        share = self.spare / 3
        what = left + 8.0
        value = what + self.what + GAP + share + self.value
        within = value + (GAP + share / 2 + self.within if self.within else 0.0)
        return what, value, within, within + GAP + share / 2

    def _draw_row(
        self, ink: Ink, row: _Row, y: float, left: float, right: float, columns: tuple[float, float, float, float]
    ) -> None:
        middle = y - row.height / 2
        ink.ring((left + 3.2, middle), row.number)
        ink.centred(columns[0], middle, row.what, BODY)
        height = VALUE if lettering.width(row.value, VALUE, True) <= self.value + 0.01 else BODY
        values = wrapped(row.value, height, self.value + 0.01, bold=True)
        up = 0.6 if "/" in row.value else 0.0  # a stroke reaches deeper below the figures than above them
        ink.centred(columns[1], middle + up, values, height, 1.6, "end", bold=True)
        ink.write((columns[2], middle - LABEL / 2), row.within, LABEL, "end")
        ink.centred(columns[3], middle, row.using, LABEL)
        ink.box(Bounds(right - _TICK, middle - _TICK / 2, right, middle + _TICK / 2), marks.EDGE)


# -- checks and readings -------------------------------------------------------------------------------------------


class ChecksBand(Laid):
    """Readings with their limits and a box for each: a column of them, or a row across the card."""

    def __init__(self, band: cards.Checks, width: float, on: Setting) -> None:
        self.band, self.width, self.on = band, width, on
        said = on.voice.said
        self.title, self.words = said(band.title), said(band.words)
        self.across = width > 90.0
        self.rows = [(said(row.what), on.voice.limits(row)) for row in band.rows]
        self.heading = wrapped(self.title, HEAD, width - 2 * PAD, bold=True)
        self.after = PAD + lettering.width(self.title, HEAD, True) + 3.0
        self.beside = self.after + lettering.width(self.words, LABEL) <= width - PAD
        self.under = wrapped(self.words, LABEL, width - 2 * PAD) if self.words and not self.beside else []
        self.top = 3.0 + height_of(self.heading, HEAD, 1.6) + height_of(self.under, LABEL, 1.6)
        if self.across:
            self.in_row = max(1, min(len(self.rows), int((width - 2 * PAD + GAP) // 40.0)))
            self.cell = (width - 2 * PAD + GAP) / self.in_row - GAP
            lines = [wrapped(what, LABEL, self.cell) for what, _ in self.rows]
            self.heights = [
                height_of(max(lines[i : i + self.in_row], key=len), LABEL, 1.6) + _BOX + 2.6
                for i in range(0, len(self.rows), self.in_row)
            ]
        else:
            self.cell = width - 2 * PAD
            lines = [wrapped(what, LABEL, self.cell) for what, _ in self.rows]
            self.heights = [height_of(rows, LABEL, 1.6) + _BOX + 2.2 for rows in lines]
        self.lines = lines
        self.least = self.most = self.top + sum(self.heights) + 1.0

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the readings."""
        ink = Ink(name, self.title)
        left = box.left + PAD
        y = ink.rows(left, box.top - 2.0, self.heading, HEAD, 1.6, bold=True)
        ink.rows(left, y, self.under, LABEL, 1.6)
        if self.beside:
            ink.write((box.left + self.after, box.top - 2.0 - HEAD * 1.12), self.words, LABEL)
        y = box.top - self.top
        per_row = self.in_row if self.across else 1
        for i in range(0, len(self.rows), per_row):
            for j, (_, limits) in enumerate(self.rows[i : i + per_row]):
                at = left + j * (self.cell + GAP)
                self._cell(ink, at, y, self.lines[i + j], limits, self.heights[i // per_row])
            y -= self.heights[i // per_row]
        return [ink.group()]

    def _cell(self, ink: Ink, left: float, top: float, what: list[str], limits: str, high: float) -> None:
        ink.rows(left, top, what, LABEL, 1.6)
        low = top - high + 1.4
        wide = max(15.0, min(22.0, self.cell - lettering.width(limits, LABEL, True) - 2.0))
        ink.box(Bounds(left + self.cell - wide, low, left + self.cell, low + _BOX), marks.EDGE)
        rows = wrapped(limits, LABEL, self.cell - wide - 1.0, bold=True)
        ink.centred(left, low + _BOX / 2, rows, LABEL, 1.6, bold=True)


class ReadingsBand(Laid):
    """The readings of a trial: letter, what, aim, limits, box."""

    def __init__(self, band: cards.Readings, width: float, on: Setting) -> None:
        self.width = width
        voice = on.voice
        self.title = voice.said(band.title)
        self.rows = [(r.letter, voice.said(r.what), voice.aim(r), voice.limits(r)) for r in band.rows]
        self.aim = max(lettering.width(row[2], LABEL, True) for row in self.rows)
        self.go = max(lettering.width(row[3], LABEL) for row in self.rows)
        self.box = 14.0
        self.what = width - 2 * PAD - 8.0 - self.aim - self.go - self.box - 3 * GAP
        self.lines = [wrapped(row[1], LABEL, self.what) for row in self.rows]
        self.heights = [max(_BOX + 1.2, height_of(lines, LABEL, 1.6) + 1.6) for lines in self.lines]
        self.head = 7.0 + (6.0 if self.title else 0.0)
        self.least = self.most = self.head + sum(self.heights) + 0.6

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the table of readings."""
        ink = Ink(name, self.title or "Readings")
        left, right = box.left + PAD, box.right - PAD
        if self.title:
            ink.write((left, box.top - 6.5), self.title, HEAD, bold=True)
        y = box.top - self.head
        aim = left + 8.0 + self.what + GAP + self.aim
        go = aim + GAP + self.go
        for words, at in (("aim", aim), ("go", go), ("reads", right)):
            ink.write((at, y + 2.2), words, LABEL, "end")
        for (letter, _, wanted, limits), lines, high in zip(self.rows, self.lines, self.heights, strict=True):
            middle = y - high / 2
            ink.line((left, y), (right, y), pen=marks.NARROW)
            ink.ring((left + 3.2, middle), letter)
            ink.centred(left + 8.0, middle, lines, LABEL)
            ink.write((aim, middle - LABEL / 2), wanted, LABEL, "end", bold=True)
            ink.write((go, middle - 1.25), limits, LABEL, "end")
            ink.box(Bounds(right - self.box, middle - _BOX / 2, right, middle + _BOX / 2), marks.EDGE)
            y -= high
        return [ink.group()]


# -- holds, steps, words -------------------------------------------------------------------------------------------


class HoldBand(Laid):
    """Black, so that nobody goes past it: what must be so, and where the teacher signs."""

    _word, _sign = "HOLD POINT", 46.0

    def __init__(self, band: cards.Hold, width: float, on: Setting) -> None:
        self.sign = min(self._sign, 0.3 * width)
        self.letters = BODY if on.narrow else VALUE
        self.begin = PAD + lettering.width(self._word, self.letters, True) + 5.0
        self.rows = wrapped(on.voice.said(band.words), BODY, width - self.begin - self.sign - PAD - 2.0, bold=True)
        self.least = self.most = max(12.6, height_of(self.rows, BODY, 1.55) + 3.4)

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the hold."""
        ink = Ink(name, "Hold point")
        middle = (box.top + box.bottom) / 2
        ink.box(box, marks.BAR)
        at = (box.left + PAD, middle - self.letters / 2)
        ink.write(at, self._word, self.letters, bold=True, white=True)
        ink.centred(box.left + self.begin, middle, self.rows, BODY, 1.6, bold=True, white=True)
        sign = Bounds(box.right - 1.8 - self.sign, middle - 4.6, box.right - 1.8, middle + 4.6)
        ink.box(sign, marks.PAPER)
        split = sign.left + 0.62 * sign.width
        ink.line((split, sign.bottom), (split, sign.top), pen=marks.NARROW)
        for at_left, words in ((sign.left, "signed"), (split, "date")):
            ink.write((at_left + 1.0, sign.top - CAPTION - 1.0), words, CAPTION)
        return [ink.group()]


class OrderBand(Laid):
    """Numbered steps. `first` is the number of the first of them, where they go on from another page."""

    def __init__(
        self, band: cards.Order, width: float, on: Setting, rows: Sequence[list[str]] | None = None, first: int = 1
    ) -> None:
        self.band, self.width, self.on, self.first = band, width, on, first
        self.title = on.voice.said(band.title)
        self.indent = 7.0 if first + len(band.steps) <= 10 else 9.0
        room = width - 2 * PAD - self.indent
        self.rows = [wrapped(on.voice.said(step), BODY, room) for step in band.steps] if rows is None else list(rows)
        self.head = 2.0 + (6.6 if self.title else 0.0)
        self.least = self.most = self.head + sum(height_of(rows, BODY) for rows in self.rows) + 1.6

    def split(self, room: float) -> tuple[Laid, Laid] | None:
        """Return as many steps as the room holds, and the rest."""
        count, at = 0, self.head + 1.6
        while count < len(self.rows) and at + height_of(self.rows[count], BODY) <= room:
            at += height_of(self.rows[count], BODY)
            count += 1
        if not 0 < count < len(self.rows):
            return None
        one = OrderBand(self.band, self.width, self.on, self.rows[:count], self.first)
        return one, OrderBand(self.band, self.width, self.on, self.rows[count:], self.first + count)

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the steps."""
        ink = Ink(name, self.title or "Order of work")
        left, y = box.left + PAD, box.top - self.head
        if self.title:
            ink.write((left, y + 2.0), self.title, HEAD, bold=True)
        for number, rows in enumerate(self.rows, start=self.first):
            ink.write((left, y - BODY * 1.12), str(number), BODY, bold=True)
            y = ink.rows(left + self.indent, y, rows, BODY)
        return [ink.group()]


class TextBand(Laid):
    """Paragraphs under a heading."""

    def __init__(self, band: cards.Text, width: float, on: Setting, rows: Sequence[list[str]] | None = None) -> None:
        self.band, self.width, self.on = band, width, on
        self.title = on.voice.said(band.title)
        self.letters = SMALL if band.small else BODY
        self.heading = wrapped(self.title, HEAD, width - 2 * PAD, bold=True) if self.title else []
        said = [wrapped(on.voice.said(words), self.letters, width - 2 * PAD) for words in band.paragraphs]
        self.rows = said if rows is None else list(rows)
        self.head = 2.0 + height_of(self.heading, HEAD, 1.6)
        self.least = self.most = self.head + sum(height_of(rows, self.letters) + 1.0 for rows in self.rows) + 1.0

    def split(self, room: float) -> tuple[Laid, Laid] | None:
        """Return as many paragraphs as the room holds, and the rest."""
        count, at = 0, self.head + 1.0
        while count < len(self.rows) and at + height_of(self.rows[count], self.letters) + 1.0 <= room:
            at += height_of(self.rows[count], self.letters) + 1.0
            count += 1
        if not 0 < count < len(self.rows):
            return None
        one = TextBand(self.band, self.width, self.on, self.rows[:count])
        return one, TextBand(self.band, self.width, self.on, self.rows[count:])

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the paragraphs."""
        ink = Ink(name, self.title or "Text")
        left = box.left + PAD
        y = ink.rows(left, box.top - 1.4, self.heading, HEAD, 1.6, bold=True) - 0.6
        for rows in self.rows:
            y = ink.rows(left, y, rows, self.letters) - 1.0
        return [ink.group()]


# -- tables --------------------------------------------------------------------------------------------------------


class TableBand(Laid):
    """Rows of words and numbers under headings, ruled below each row; numbers stand at the right of their column."""

    def __init__(
        self, table: draw.Table, width: float, on: Setting, rows: Sequence[tuple[list[str] | None, ...]] | None = None
    ) -> None:
        self.table, self.width, self.on = table, width, on
        self.title = on.voice.said(table.title)
        self.letters = LABEL if len(table.headings) > 4 or width < 90 else BODY
        said = [tuple(self._said(cell) for cell in row) for row in table.rows]
        self.numeric = [
            all(isinstance(row[i], float) or row[i] == "–" for row in table.rows) and bool(table.rows)
            for i in range(len(table.headings))
        ]
        if self._over(said) > 0:
            self.letters = LABEL
        self.widths = self._widths(said)
        heads = zip(table.headings, self.widths, strict=True)
        self.heads = [wrapped(words, LABEL, wide) for words, wide in heads]
        if rows is None:
            rows = [
                tuple(
                    None if cell is None else wrapped(cell, self.letters, wide + 0.01)
                    for cell, wide in zip(row, self.widths, strict=True)
                )
                for row in said
            ]
        self.rows = list(rows)
        self.heights = [
            max(
                [height_of(cell, self.letters, 1.6) + 1.8 for cell in row if cell is not None]
                + [_BOX + 1.2 for cell in row if cell is None]
            )
            for row in self.rows
        ]
        self.heading = wrapped(self.title, HEAD, width - 2 * PAD, bold=True) if self.title else []
        deepest = max(len(head) for head in self.heads)
        self.head = 2.0 + height_of(self.heading, HEAD, 1.6) + (deepest * LABEL * 1.6 + 1.4)
        self.least = self.most = self.head + sum(self.heights) + 2.0

    def _said(self, cell: draw.Cell) -> str | None:
        if cell is None:
            return None
        voice = self.on.voice
        return voice.said(cell) if not isinstance(cell, float) else _column_number(cell, voice)

    def _over(self, said: list[tuple[str | None, ...]]) -> float:
        """Return by how much the words are wider than the table, mm, if none is wrapped."""
        room = self.width - 2 * PAD - GAP * (len(self.table.headings) - 1)
        return sum(self._wanted(said, i) for i in range(len(self.table.headings))) - room

    def _wanted(self, said: list[tuple[str | None, ...]], column: int) -> float:
        """Return how wide the words of a column are, mm."""
        cells = [15.0 if row[column] is None else lettering.width(row[column] or "", self.letters) for row in said]
        return max([lettering.width(self.table.headings[column], LABEL), *cells])

    def _widths(self, said: list[tuple[str | None, ...]]) -> list[float]:
        """Return column widths: what the words want, the widest narrowed until the table fits, all spread over it."""
        columns = range(len(self.table.headings))
        room = self.width - 2 * PAD - GAP * (len(columns) - 1)
        wanted, least = [], []
        for i in columns:
            words = [row[i] for row in said]
            head = self.table.headings[i]
            longest = [lettering.width(word, self.letters) for cell in words if cell for word in cell.split(" ")] + [
                15.0 for cell in words if cell is None
            ]
            heads = [lettering.width(word, LABEL) for word in head.split(" ")]
            wanted.append(self._wanted(said, i))
            least.append(max([0.0, *longest, *heads]))
        over = sum(wanted) - room
        if over <= 0:
            spread = -over / len(wanted) * 0.8
            return [wide + spread for wide in wanted]
        slack = [w - n for w, n in zip(wanted, least, strict=True)]
        if sum(slack) < over:
            return [wide * room / sum(wanted) for wide in wanted]
        return [w - over * s / sum(slack) for w, s in zip(wanted, slack, strict=True)]

    def split(self, room: float) -> tuple[Laid, Laid] | None:
        """Return as many rows as the room holds, and the rest."""
        count, at = 0, self.head + 2.0
        while count < len(self.rows) and at + self.heights[count] <= room:
            at += self.heights[count]
            count += 1
        if not 0 < count < len(self.rows):
            return None
        one = TableBand(self.table, self.width, self.on, self.rows[:count])
        return one, TableBand(self.table, self.width, self.on, self.rows[count:])

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the table."""
        ink = Ink(name, self.title or "Table")
        left, right = box.left + PAD, box.right - PAD
        ink.rows(left, box.top - 1.4, self.heading, HEAD, 1.6, bold=True)
        y = box.top - self.head
        starts = [left + sum(self.widths[:i]) + GAP * i for i in range(len(self.widths))]
        for head, at, wide, numeric in zip(self.heads, starts, self.widths, self.numeric, strict=True):
            top = y + len(head) * LABEL * 1.6 + 1.0
            for i, words in enumerate(head):
                place = (at + wide if numeric else at, top - LABEL * (1.15 + 1.6 * i))
                ink.write(place, words, LABEL, "end" if numeric else "start")
        for row, high in zip(self.rows, self.heights, strict=True):
            ink.line((left, y), (right, y), pen=marks.NARROW)
            for cell, at, wide, numeric in zip(row, starts, self.widths, self.numeric, strict=True):
                self._cell(ink, cell, (at, wide, numeric), y, high)
            y -= high
        ink.line((left, y), (right, y), pen=marks.NARROW)
        return [ink.group()]

    def _cell(
        self, ink: Ink, cell: list[str] | None, column: tuple[float, float, bool], top: float, high: float
    ) -> None:
        at, wide, numeric = column
        if cell is None:
            middle = top - high / 2
            ink.box(Bounds(at, middle - _BOX / 2, at + min(wide, 22.0), middle + _BOX / 2), marks.EDGE)
            return
        y = top - (high - height_of(cell, self.letters, 1.6)) / 2
        for i, words in enumerate(cell):
            place = (at + wide if numeric else at, y - self.letters * (1.1 + 1.6 * i) + 0.1)
            ink.write(place, words, self.letters, "end" if numeric else "start")


def _column_number(mm: float, voice: Voice) -> str:
    """Return a length of a column, all with the same decimals: tenths, or 64ths."""
    from jigs.base import lengths  # noqa: PLC0415

    return lettering.together(lengths.set_to(mm, voice.units, 0.1))


def bar(ink: Ink, box: Bounds, words: str, height: float = BODY) -> None:
    """Draw a black bar with white words up its middle."""
    ink.box(box, marks.BAR)
    at = ((box.left + box.right) / 2 + height / 2, (box.bottom + box.top) / 2)
    ink.write(at, words, height, "middle", bold=True, white=True, upright=True)


def solid(ink: Ink, box: Bounds) -> None:
    """Draw a black rectangle."""
    ink.strokes.append(Stroke(rectangle(*box), marks.BAR))
