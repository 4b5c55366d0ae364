"""Sizes of a picture seen aslant, turned into marks that never collide: beside the picture, each with its number.

A size is measured along an axis of what is seen, so that its line runs aslant and its number stands level beside it. A
small one has a stroke across each end in place of arrows, and its number aside with a leader. Places are tried in a
fixed order and the first clean one is taken; later ones lie further out, so that there always is one.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from jigs.base import drawing as draw
from jigs.base.drawing import Colour, Point
from jigs.record import Record
from layout.sheet import lettering
from layout.sheet.marks import Pen, Stroke, Text

NUMBER, NOTE = 3.36, 2.7
"""Letter heights of a number and of what is said beside it, mm: 20 and 16 px where 160 mm are 636 px."""
CLEAR = 0.7
"""Least distance from words to lines, wood and other words, mm."""
_REACH, _SMALL_REACH = 7.0, 5.0
"""From what is measured to its line, mm."""
_GAP, _PAST = 0.9, 1.6
"""A line that leads to a size begins so far from what is measured, and ends so far past it."""
_ARROW, _STROKE = 2.4, 1.1
"""Length of an arrow, and half of that of a stroke across an end."""
_SHORT = 9.0
"""A size whose line is shorter has no room for arrows, mm."""
_SHARES = (0.5, 0.4, 0.6, 0.3, 0.7, 0.15, 0.85, 0.0, 1.0)
_OUT = (1.0, 3.0, 6.0, 10.0, 15.0, 21.0, 28.0, 40.0, 60.0, 90.0, 140.0, 220.0)
"""Where along its line a number is tried, and how far out, mm."""
_ASIDE = (4.0, 6.0, 9.0, 13.0, 18.0, 26.0, 40.0, 70.0, 120.0, 220.0)
"""How far aside the number of a small size is tried."""
_BELOW, _BETWEEN = 4.6, 1.5
"""From the baseline of a number to that of the note below it, mm, and between the two side by side."""
_APART = 0.9
"""From words to other words it is so much more, mm."""
_DEEP = frozenset("gjpqyQ,;()[]{}/|")
"""Letters that reach below the baseline."""

Array = NDArray[np.float64]


class Size(Record):
    """A size in mm of the picture: its ends, which way its line stands off (of length 1), its number and its note.

    `roots` are where the lines that lead to it come from, each by places on its way.
    """

    start: Point
    end: Point
    aside: Point
    number: str
    note: str = ""
    roots: tuple[tuple[Point, ...], tuple[Point, ...]] = ((), ())
    small: bool = False


class Inks(Record):
    """The colours of a picture's writing: of numbers and lines, and of what is said beside them."""

    ink: Colour
    pencil: Colour

    @property
    def line(self) -> Pen:
        """The pen of the lines of a size."""
        return Pen("size", 0.22, colour=self.ink)

    @property
    def solid(self) -> Pen:
        """The pen of arrows."""
        return Pen("size head", 0.0, filled=True, colour=self.ink)


class Wood(Record):
    """What is seen of a picture's wood, as areas: that in hand, and the pale rest."""

    in_hand: Sequence[BaseGeometry]
    pale: Sequence[BaseGeometry]


_Words = tuple[list[Text], list[Stroke]]
"""A number with what is said beside it, and its leader if it has one."""


class Placed(Record):
    """The sizes of a picture as marks."""

    strokes: tuple[Stroke, ...]
    texts: tuple[Text, ...]


def place(sizes: Sequence[Size], wood: Wood, lines: Sequence[draw.Path], inks: Inks) -> Placed:
    """Return sizes as marks, their words clear of wood in hand, of these lines, of one another and of lines of sizes.

    They stand off pale wood too where there is room near by; where there is none a number alone stands on it, within
    its edges.
    """
    middle = shapely.total_bounds([*wood.in_hand, *wood.pale])[[0, 2]].mean()
    drawn = [_Drawn(size, inks, float(middle)) for size in sizes]
    strokes = [stroke for each in drawn for stroke in each.strokes]
    taken = _Taken(wood, [*(_line(path) for path in lines), *(_line(stroke.shape) for stroke in strokes)])
    for each in drawn:
        strokes += taken.write(each)
    return Placed(tuple(strokes), tuple(taken.texts))


def _line(shape: draw.Path | draw.Circle) -> BaseGeometry:
    return shapely.LineString(shape.points(0.05))


@dataclass
class _Taken:
    """What words must keep clear of, and the words so far."""

    wood: Wood
    lines: list[BaseGeometry]
    texts: list[Text] = field(default_factory=list)
    _boxes: list[BaseGeometry] = field(default_factory=list)

    def write(self, size: _Drawn) -> list[Stroke]:
        """Write a number at its first clean place, and return its leader if it has one."""
        texts, leader = self._found(size)
        self.texts += texts
        self._boxes += [_box(text).buffer(_APART, join_style="mitre") for text in texts]
        self.lines += [_line(stroke.shape) for stroke in leader]
        return leader

    def _found(self, size: _Drawn) -> _Words:
        """Return the words at a place near by off all wood, or else on pale wood, or else far out."""
        lines = [*self.lines, *self._boxes, *self.wood.in_hand]
        off, on = np.array([*lines, *self.wood.pale]), np.array([*lines, *shapely.boundary(self.wood.pale)])
        near = itertools.islice(size.places(), size.near)
        on_pale = iter(()) if size.size.note else size.places()
        for places, taken in ((near, off), (on_pale, on), (size.places(), off)):
            for texts, leader in places:
                if self._clean(texts, leader, taken):
                    return texts, leader
        return texts, leader

    def _clean(self, texts: Sequence[Text], leader: Sequence[Stroke], taken: NDArray[np.object_]) -> bool:
        rooms = np.array([_box(text).buffer(CLEAR, join_style="mitre") for text in texts])
        shapely.prepare(rooms)
        if shapely.intersects(rooms[:, None], taken).any():
            return False
        return not any(shapely.dwithin(_line(stroke.shape), self._boxes, CLEAR).any() for stroke in leader)


def room(text: Text) -> draw.Bounds:
    """Return the box that words fill, no deeper than their letters reach."""
    box = text.box
    return box if _DEEP & set(text.words) else box._replace(bottom=text.at.y)


def _box(text: Text) -> BaseGeometry:
    return shapely.box(*room(text))


class _Drawn(Record):
    """A size with its lines; `middle` is where the middle of the picture is, to the right."""

    size: Size
    inks: Inks
    middle: float

    @property
    def _reach(self) -> float:
        return _SMALL_REACH if self.size.small else _REACH

    @property
    def ends(self) -> tuple[Point, Point]:
        """The ends of its line."""
        across, up = (self._reach * part for part in self.size.aside)
        return self.size.start.moved(across, up), self.size.end.moved(across, up)

    @property
    def _along(self) -> tuple[float, Point]:
        """How long its line is, and which way it runs."""
        start, end = self.ends
        long = math.dist(start, end)
        return long, Point((end.x - start.x) / long, (end.y - start.y) / long) if long > 1e-9 else Point(1.0, 0.0)

    @property
    def strokes(self) -> list[Stroke]:
        """Its line, what is at its ends, and the lines that lead to it."""
        start, end = self.ends
        long, way = self._along
        short = self.size.small or long < _SHORT
        over = _PAST if short else 0.0
        line = draw.line(start.moved(-over * way.x, -over * way.y), end.moved(over * way.x, over * way.y))
        made = [Stroke(line, self.inks.line)]
        if short:
            made += [Stroke(_across(at, way), self.inks.line) for at in (start, end)]
        else:
            made += [Stroke(_head(start, way, -1), self.inks.solid), Stroke(_head(end, way, 1), self.inks.solid)]
        for foot, roots in zip((self.size.start, self.size.end), self.size.roots, strict=True):
            made.append(Stroke(self._lead(foot, roots), self.inks.line))
        return made

    def _lead(self, foot: Point, roots: Sequence[Point]) -> draw.Path:
        """Return the line that leads to one end: from its root, or from what is measured itself."""
        aside, past = self.size.aside, self._reach + (_PAST / 2 if self.size.small else _PAST)
        tip = foot.moved(past * aside.x, past * aside.y)
        first, second, *rest = (*roots, foot, tip) if roots else (foot, tip)
        long = math.dist(first, second)
        share = min(_GAP / long, 0.5) if long > 1e-9 else 0.0
        begin = Point(first.x + (second.x - first.x) * share, first.y + (second.y - first.y) * share)
        return draw.line(begin, second, *rest)

    # -- where its words may stand

    @property
    def near(self) -> int:
        """How many of its places are near its line."""
        return len(_SHARES) * 2 if not self.size.small else 23 * 4

    def places(self) -> Iterator[_Words]:
        """Yield its words at one place after the other, each with its leader if it has one."""
        yield from self._led() if self.size.small else self._beside()

    def _beside(self) -> Iterator[_Words]:
        start, end = self.ends
        _, way = self._along
        out = Point(-way.y, way.x)
        if out.x * self.size.aside.x + out.y * self.size.aside.y < 0:
            out = Point(-out.x, -out.y)
        wide, high = self._stacked(Point(0.0, 0.0))[1]
        support = CLEAR + wide / 2 * abs(out.x) + high / 2 * abs(out.y)
        for far in _OUT:
            for share in _SHARES:
                foot = Point(start.x + (end.x - start.x) * share, start.y + (end.y - start.y) * share)
                yield self._stacked(foot.moved(out.x * (support + far), out.y * (support + far)))[0], []

    def _led(self) -> Iterator[_Words]:
        start, end = self.ends
        middle = Point((start.x + end.x) / 2, (start.y + end.y) / 2)
        lean = self.size.aside.x or middle.x - self.middle
        side = 1.0 if lean >= 0 else -1.0
        up = 1.0 if self.size.aside.y >= 0 else -1.0
        for far in _ASIDE:
            for step in range(12):
                for turn in (up, -up) if step else (up,):
                    tip = middle.moved(side * far, turn * step * 1.6)
                    yield self._level(tip.moved(side * 0.8, 0), side), [Stroke(draw.line(middle, tip), self.inks.line)]

    def _stacked(self, centre: Point) -> tuple[list[Text], tuple[float, float]]:
        """Return the number with its note below it round a place, and how wide and high both are."""
        made = [Text(Point(0, 0), self.size.number, NUMBER, "middle", bold=True, colour=self.inks.ink)]
        if self.size.note:
            made.append(Text(Point(0, -_BELOW), self.size.note, NOTE, "middle", colour=self.inks.pencil))
        box = draw.around([room(text) for text in made])
        up = centre.y - (box.bottom + box.top) / 2
        return [text.moved(centre.x, up) for text in made], (box.width, box.height)

    def _level(self, at: Point, side: float) -> list[Text]:
        """Return the number and its note beside it, from a place to one side."""
        number, note = self.size.number, self.size.note
        wide = lettering.width(number, NUMBER, True)
        noted = lettering.width(note, NOTE) + _BETWEEN if note else 0.0
        left = at.x if side > 0 else at.x - wide - noted
        base = at.y - NUMBER / 2
        made = [Text(Point(left, base), number, NUMBER, bold=True, colour=self.inks.ink)]
        if note:
            made.append(Text(Point(left + wide + _BETWEEN, base), note, NOTE, colour=self.inks.pencil))
        return made


def _head(tip: Point, way: Point, turn: float) -> draw.Path:
    """Return an arrow of 20 degrees at a tip, pointing along a way, or against it."""
    heading = math.atan2(way.y * turn, way.x * turn)
    back = [
        (tip.x - _ARROW * math.cos(heading + a), tip.y - _ARROW * math.sin(heading + a))
        for a in (math.radians(10), math.radians(-10))
    ]
    return draw.polygon(tip, *back)


def _across(at: Point, way: Point) -> draw.Path:
    """Return a stroke across the end of a line, turned a little, as a rule marks it."""
    turn = math.atan2(way.y, way.x) + math.radians(60)
    across, up = _STROKE * math.cos(turn), _STROKE * math.sin(turn)
    return draw.line((at.x - across, at.y - up), (at.x + across, at.y + up))
