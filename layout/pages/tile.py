"""One big drawing over several pages, to be cut along its seams and butted together.

Neighbouring pages share a strip. A seam runs through the strip where it crosses no words; crosses and a diagonal on it
say when the pages lie right. Lines are clipped by the writers, so that dashes go on over a seam as if there were none.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from itertools import pairwise

import shapely

from jigs.base import drawing as draw
from jigs.base.lengths import Units, bare, show
from jigs.base.wording import letters
from jigs.record import Record, replace
from layout.pages.block import Block
from layout.sheet import lettering, marks
from layout.sheet.marks import Group, Stroke, Text

SHARED = 15.0
"""Least width of the strip that neighbouring pages share, mm."""
SEAM_ERROR = 0.3
"""How well two sheets of paper can be joined by hand, mm (common practice, no source)."""
MOST_PAGES = 99
HEADER = 22.0
"""Room above each piece for its name and the map of the pages, mm."""
_FIRST_ROW, _MOST_ROWS = -8.6, 4
"""Where the words of a header begin, mm, and how many rows of them end above the drawing."""
_LEAST_ROOM = 60.0
_LEAST_WIDTH = 90.0
"""Room across for a piece, mm: in less the words beside a dimension are wider than what is between two seams."""
_MARGIN = 6.5
_CLEAR = 0.6
"""What words keep from lines, words and seams, mm: half the widest pen, and the 0.25 mm that a printer keeps apart."""
_CROSS = 4.0
_DIAGONAL = (12.0, 16.0)
"""Across and along the seam, mm: 20 mm long."""
_LETTER = 4.5
"""From a seam to its letters, mm."""
_MAP = 4.0
_ASIDE = tuple(side * 3.0 * step for step in range(11) for side in (1, -1))
"""How far words that come off a seam may move along it as well, mm."""


Stretch = tuple[float, float]
Mark = Callable[[float], list[draw.Path]]
"""The lines of a mark at a place along a seam."""
Place = Callable[[float, float], draw.Point]
"""A place by its distance off a seam and along it."""


class Cuts(Record):
    """How a length is shared between pages: where each page's window starts, how long it is, and the seams."""

    starts: tuple[float, ...]
    room: float
    seams: tuple[float, ...]
    size: float

    def window(self, page: int) -> tuple[float, float]:
        """Return what a page shows."""
        return self.starts[page], min(self.starts[page] + self.room, self.size)

    def piece(self, page: int) -> tuple[float, float]:
        """Return what is left of a page once it is cut along its seams."""
        edges = (0.0, *self.seams, self.size)
        return edges[page], edges[page + 1]

    def holds(self, low: float, high: float) -> bool:
        """Tell whether one page holds a stretch whole."""
        return not any(low < seam < high for seam in self.seams)


def cuts(size: float, room: float, words: Sequence[Stretch], kept: tuple[float, float] | None) -> Cuts | None:
    """Share `size` between the fewest windows of `room`, neighbours sharing 15 mm or more.

    A seam goes where it crosses the fewest `words`, never through what is `kept` if there is any way, of one page more
    if need be. Raises ValueError for a room that is no larger than what is shared. Returns None where it takes more
    than 99 pages.
    """
    if room <= SHARED:
        raise ValueError(f"room {room:g}: must be more than the {SHARED:g} mm that pages share")
    plain = _least_bad(size, room, words, kept, spared=None)
    if plain is None or kept is None or plain.holds(*kept):
        return plain
    return _least_bad(size, room, words, kept, spared=kept)


def _least_bad(
    size: float, room: float, words: Sequence[Stretch], kept: Stretch | None, *, spared: Stretch | None
) -> Cuts | None:
    """Return the best of the ways to share a length: its seams spare the words, and `spared` before these."""
    fewest = max(1, math.ceil((size - SHARED) / (room - SHARED) - 1e-9))
    found = [
        made
        for count in (fewest, fewest + 1)
        for made in _shared(size, room, count, words, spared)
        if count <= MOST_PAGES
    ]

    def badness(made: Cuts) -> tuple[bool, int, int]:
        crossed = sum(low < seam < high for seam in made.seams for low, high in words)
        return kept is not None and not made.holds(*kept), len(made.starts), crossed

    return min(found, key=badness, default=None)


def _shared(size: float, room: float, count: int, words: Sequence[Stretch], spared: Stretch | None) -> Iterable[Cuts]:
    """Yield ways to share a length between so many pages, their windows moved by what is left over."""
    step = room - SHARED
    left_over = max(0.0, (count - 1) * step + room - size)
    for share in range(9 if count > 1 else 1):
        moved = left_over * share / 8
        starts = (0.0, *(i * step - moved for i in range(1, count)))
        if all(later > earlier for earlier, later in pairwise(starts)):
            seams = tuple(_seam(later, earlier + room, words, spared) for earlier, later in pairwise(starts))
            yield Cuts(starts, room, seams, size)


def _seam(low: float, high: float, words: Sequence[Stretch], spared: Stretch | None) -> float:
    """Return where in the strip that two pages share a seam crosses the least, nearest to its middle."""
    middle = (low + high) / 2
    reach = (high - low) / 2 - _MARGIN
    tries = [middle] + [middle + side * step * reach / 40 for step in range(1, 41) for side in (1, -1)]

    def harm(at: float) -> tuple[bool, int]:
        crossed = sum(start - _CLEAR < at < end + _CLEAR for start, end in words)
        return spared is not None and spared[0] < at < spared[1], crossed

    return min(tries, key=harm)


# -- pages ---------------------------------------------------------------------------------------------------------


def tiles(block: Block, room: draw.Bounds, critical: draw.Bounds | None, units: Units = "mm") -> list[Block]:
    """Return a block as one block a page, each with its marks for joining. Empty where the page is too small for it.

    `critical` is what must stay on one page, in the block's axes.
    """
    high = room.height - HEADER
    if room.width < _LEAST_WIDTH or high < _LEAST_ROOM:
        return []
    words = [text for group in (*block.parts, *block.writing) for text in group.texts]
    boxes = [text.box for text in words]
    across = cuts(
        block.width, room.width, [(b.left, b.right) for b in boxes], critical and (critical.left, critical.right)
    )
    up = cuts(
        block.height,
        high,
        [(-b.top, -b.bottom) for b in boxes],
        critical and (-critical.top, -critical.bottom),
    )
    if across is None or up is None or len(across.starts) * len(up.starts) > MOST_PAGES:
        return []
    made = _Joined(block, across, up, critical, units)
    return [made.page(row, column) for row in range(len(up.starts)) for column in range(len(across.starts))]


class _Joint(Record):
    """The marks of one page's stretch of a seam: first the seam itself; `at` has its axes, `middle` its last mark."""

    at: Place
    stretch: Stretch
    letter: str
    paths: tuple[draw.Path, ...]
    middle: float


class _Joined:
    """A block with its seams: what each page shows of it, and the marks for joining, alike on both sides of a seam."""

    def __init__(self, block: Block, across: Cuts, up: Cuts, critical: draw.Bounds | None, units: Units) -> None:
        self.across, self.up, self.units = across, up, units
        self.block = block
        self.kept = critical is None or (
            across.holds(critical.left, critical.right) and up.holds(-critical.top, -critical.bottom)
        )
        groups = (*block.parts, *block.writing)
        self.lines = [shapely.LineString(s.shape.points(0.05)) for group in groups for s in group.strokes]
        self.texts = [text for group in groups for text in group.texts]
        self.groups = [self._off_the_seams(group) for group in groups]
        self.words = [shapely.box(*text.box) for text in self.texts]
        joints = [*self._joints(across, upright=True), *self._joints(up, upright=False)]
        # All marks come before the first letter: on a short piece those of one seam reach the next.
        self.lines += [shapely.LineString(path.points()) for joint in joints for path in joint.paths]
        self.joints = [self._lettered(joint) for joint in joints]

    def page(self, row: int, column: int) -> Block:
        """Return one page, its own axes starting at its upper left corner."""
        left, right = self.across.window(column)
        above, below = self.up.window(row)
        window = draw.Bounds(left, -below, right, -above).grown(_CLEAR)  # a line on the rim is drawn to its full width
        shown = [self._shown(group, window, row, column) for group in self.groups]
        count = len(self.block.parts)
        name = f"{self.block.name}-{letters(row)}{column + 1}"
        joints = replace(_merged(f"{self.block.name}-joints", self.joints), clip=window)
        joints = replace(joints, texts=tuple(text for text in joints.texts if self._belongs(text, row, column)))
        moved = [group.moved(-left, above - HEADER) for group in (*shown, joints)]
        header = self._header(row, column)
        parts = tuple(group for group in moved[:count] if group.strokes or group.texts)
        writing = (*moved[count:], header)
        return Block(name, self._wide(column), HEADER + below - above, parts, writing, alone=True)

    def _belongs(self, text: Text, row: int, column: int) -> bool:
        """Tell whether words stand on the piece that this page is cut to."""
        (left, right), (above, below) = self.across.piece(column), self.up.piece(row)
        x, y = (text.box.left + text.box.right) / 2, -(text.box.bottom + text.box.top) / 2
        return left <= x < right + 1e-9 and above <= y < below + 1e-9

    def _shown(self, group: Group, window: draw.Bounds, row: int, column: int) -> Group:
        """Return what a page shows of a group: the lines within its window, the words on its piece."""
        strokes = tuple(stroke for stroke in group.strokes if _meets(stroke.shape.bounds, window))
        texts = tuple(text for text in group.texts if self._belongs(text, row, column))
        return Group(group.name, group.title, strokes, texts, window)

    def _off_the_seams(self, group: Group) -> Group:
        """Move words that a seam would cut off it, to the nearest place that is free."""
        return replace(group, texts=tuple(row for text in group.texts for row in self._off_the_seam(text)))

    def _off_the_seam(self, text: Text) -> tuple[Text, ...]:
        """Return words where no seam cuts them: in one row, or in two where a name finds no place in one."""
        if self._is_clear_of_seams(text.box):
            return (text,)
        ways = [self._ways(rows) for rows in _as_rows(text)]
        others = [shapely.box(*other.box) for other in self.texts if other is not text]
        tree = shapely.STRtree([*self.lines, *others])
        free = (place for way in ways for place in way if self._is_free(_around(place), tree))
        place = next(free, ways[0][0])
        self.texts = [other for other in self.texts if other is not text] + list(place)
        return place

    def _ways(self, rows: tuple[Text, ...]) -> list[tuple[Text, ...]]:
        """Return places for words beside the seam that cuts them, the nearest first, within the block if any are."""
        box = _around(rows).grown(_CLEAR)
        moves = [draw.Point(0, 0)]
        for seam in self.up.seams:
            if box.bottom < -seam < box.top:
                ways = _ways(-seam - box.top - _CLEAR, -seam - box.bottom + _CLEAR)
                moves = [draw.Point(aside, by) for by in ways for aside in _ASIDE]
        for seam in self.across.seams:
            if box.left < seam < box.right:
                ways = _ways(seam - box.right - _CLEAR, seam - box.left + _CLEAR)
                moves = [draw.Point(by, aside) for by in ways for aside in _ASIDE]
        near = sorted(moves, key=lambda move: math.hypot(*move))
        places = [tuple(row.moved(*move) for row in rows) for move in near]
        return [p for p in places if _around(p).left >= 0 and _around(p).right <= self.block.width] or places

    def _is_free(self, box: draw.Bounds, tree: shapely.STRtree) -> bool:
        """Tell whether words have a place to themselves: no line, no other words, no seam."""
        room = shapely.box(*box.grown(_CLEAR))
        return self._is_clear_of_seams(box) and not tree.query(room, predicate="intersects").size

    def _is_clear_of_seams(self, box: draw.Bounds) -> bool:
        room = box.grown(_CLEAR)
        return self.across.holds(room.left, room.right) and self.up.holds(-room.top, -room.bottom)

    # -- the marks for joining -------------------------------------------------------------------------------------

    def _joints(self, along: Cuts, *, upright: bool) -> list[_Joint]:
        """Return the marks of every seam one way: the seam itself, two crosses and a diagonal."""
        other = self.up if upright else self.across
        made = []
        for number, seam in enumerate(along.seams):
            letter = letters(number) if upright else letters(number).lower()
            for page in range(len(other.starts)):
                made.append(self._joint(seam, other.piece(page), letter, upright=upright))
        return made

    def _joint(self, seam: float, stretch: Stretch, letter: str, *, upright: bool) -> _Joint:
        def at(off: float, along: float) -> draw.Point:
            return draw.Point(seam + off, -along) if upright else draw.Point(along, -seam - off)

        low, high = stretch

        def cross(place: float) -> list[draw.Path]:
            ends = (at(-_CROSS, place), at(_CROSS, place)), (at(0, place - _CROSS), at(0, place + _CROSS))
            return [draw.line(*each) for each in ends]

        def diagonal(place: float) -> list[draw.Path]:
            across, run = _DIAGONAL[0] / 2, _DIAGONAL[1] / 2
            return [draw.line(at(-across, place - run), at(across, place + run))]

        paths = [draw.line(at(0, low), at(0, high))]
        middle = (low + high) / 2
        wanted = [(low + share * (high - low), _CROSS, cross) for share in (0.15, 0.85)]
        for place, reach, mark in (*wanted, (middle, _DIAGONAL[1] / 2, diagonal)):
            found = self._clear(at, place, stretch, reach, mark)
            if found is not None:
                paths += mark(found)
                middle = found
        return _Joint(at, stretch, letter, tuple(paths), middle)

    def _lettered(self, joint: _Joint) -> Group:
        """Return the marks of a seam with its letter on both sides of it."""
        texts = [text for off in (-_LETTER, _LETTER) if (text := self._letter(joint, off))]
        self.words += [shapely.box(*text.box) for text in texts]
        pens = [marks.HIDDEN, *[marks.NARROW] * (len(joint.paths) - 1)]
        strokes = tuple(Stroke(path, pen) for path, pen in zip(joint.paths, pens, strict=True))
        return Group("joint", "Marks for joining", strokes, tuple(texts))

    def _clear(self, at: Place, wanted: float, stretch: Stretch, reach: float, mark: Mark) -> float | None:
        """Return the place along a seam nearest to the wanted one where a mark touches no words.

        Best is one with room for its letters as well; where there is none, one where the lines are clear. None for a
        mark that would lie on words anywhere, as on a seam that is shorter than the mark.
        """
        tree = shapely.STRtree(self.words)
        places = _nearest(wanted, stretch, reach + 1.0)
        for along in places:
            corners = (at(-7.0, along - reach - 1), at(7.0, along + reach + 1))
            zone = draw.around(draw.Bounds(*corner, *corner) for corner in corners)
            if not tree.query(shapely.box(*zone), predicate="intersects").size:
                return along
        for along in places:
            drawn = shapely.MultiLineString([path.points() for path in mark(along)]).buffer(_CLEAR)
            if not tree.query(drawn, predicate="intersects").size:
                return along
        return None

    def _letter(self, joint: _Joint, off: float) -> Text | None:
        """Return the letter of a seam on one side of it, where it touches nothing; None where there is no place."""
        tree = shapely.STRtree([*self.lines, *self.words])
        for along in _nearest(joint.middle + 14.0, joint.stretch, 3.0):
            text = Text(joint.at(off, along).moved(0, -1.25), joint.letter, 2.5, "middle")
            if not tree.query(shapely.box(*text.box.grown(_CLEAR)), predicate="intersects").size:
                return text
        return None

    # -- the header ------------------------------------------------------------------------------------------------

    def _name(self, row: int, column: int) -> str:
        rows, columns = len(self.up.starts), len(self.across.starts)
        return f"Piece {letters(row)}{column + 1} of {rows} × {columns}"

    def _wide(self, column: int) -> float:
        """Return the width of a page: that of its piece, or the least that its header takes."""
        left, right = self.across.window(column)
        return max(right - left, _LEAST_ROOM)

    def _header(self, row: int, column: int) -> Group:
        """Return the name of the page, how to join it, and the map of all pages with this one filled."""
        rows, columns = len(self.up.starts), len(self.across.starts)
        seams = (rows - 1) + (columns - 1)
        diagonal = math.hypot(self.block.width, self.block.height)
        name, wide = self._name(row, column), self._wide(column)
        texts = [Text(draw.Point(0, -4.0), name, 3.5, bold=True)]
        how = "Cut along the dashed seams, butt alike letters; a cut diagonal is then 20 mm again."
        if not self.kept:
            lost = show(SEAM_ERROR * seams, self.units, "cut up")
            how = f"A seam crosses a distance that matters and may cost {lost}: set it with a gauge block."
        sizes = [bare(size, self.units, "cut") for size in (self.block.width, self.block.height, diagonal)]
        words = f"{how} Joined: {sizes[0]} by {sizes[1]}, {sizes[2]} corner to corner."
        # Many pieces have a map of smaller squares, or it would run into the name or into the drawing.
        most = min(_MAP, (wide - lettering.width(name, 3.5, True) - 3.0) / columns, (HEADER - 1.0) / 0.75 / rows)
        cell, wrapped = _beside_map(words, wide, most, rows, columns)
        texts += [Text(draw.Point(0, _FIRST_ROW - 2.9 * i), row, 1.8) for i, row in enumerate(wrapped)]
        corner = wide - columns * cell
        strokes = []
        for r in range(rows):
            for c in range(columns):
                square = draw.rectangle(
                    corner + c * cell, -(r + 1) * cell * 0.75, corner + (c + 1) * cell, -r * cell * 0.75
                )
                strokes.append(Stroke(square, marks.NARROW))
                if (r, c) == (row, column):
                    strokes.append(Stroke(square, marks.SOLID))
        return Group(f"{self.block.name}-header", "Which page this is", tuple(strokes), tuple(texts))


def _beside_map(words: str, wide: float, most: float, rows: int, columns: int) -> tuple[float, list[str]]:
    """Return a map's squares, `most` wide or what lets the words beside end above the drawing, and these in rows."""
    ways = []
    for step in range(9):
        cell = most * (1 - step / 10)
        over_before_the_words = rows * cell * 0.75 < -_FIRST_ROW - 2.1
        beside = 0.0 if over_before_the_words else columns * cell + 3.0
        ways.append((cell, lettering.wrapped(words, 1.8, wide - beside)))
    return next((way for way in ways if len(way[1]) <= _MOST_ROWS), ways[-1])


def _as_rows(text: Text) -> list[tuple[Text, ...]]:
    """Return words as they stand and, for a name of several words, in two rows: a number stays with its name."""
    two = lettering.wrapped(text.words, text.height, 0.6 * lettering.width(text.words, text.height, text.bold))
    if len(two) != 2 or any(letter.isdigit() for letter in text.words):
        return [(text,)]
    apart = draw.Point(0.8 * text.height, 0) if text.upright else draw.Point(0, -0.8 * text.height)
    upper, lower = (replace(text, words=words) for words in two)
    return [(text,), (upper.moved(-apart.x, -apart.y), lower.moved(*apart))]


def _around(rows: Sequence[Text]) -> draw.Bounds:
    return draw.around(row.box for row in rows)


def _ways(back: float, on: float) -> list[float]:
    """Return how far words may be moved to come clear of a seam, the shortest way first."""
    return sorted([way + side * 3.0 * step for way, side in ((back, -1), (on, 1)) for step in range(12)], key=abs)


def _nearest(wanted: float, stretch: Stretch, keep: float) -> list[float]:
    """Return places along a stretch, a millimetre and a half apart, the nearest to the wanted one first."""
    low, high = stretch[0] + keep, stretch[1] - keep
    places = [low + i * 1.5 for i in range(max(0, int((high - low) / 1.5)) + 1)]
    return sorted(places, key=lambda along: (abs(along - wanted), along))


def _merged(name: str, groups: Sequence[Group]) -> Group:
    strokes = tuple(stroke for group in groups for stroke in group.strokes)
    return Group(name, "Marks for joining", strokes, tuple(text for group in groups for text in group.texts))


def _meets(one: draw.Bounds, other: draw.Bounds) -> bool:
    across = one.left <= other.right and other.left <= one.right
    return across and one.bottom <= other.top and other.bottom <= one.top
