"""A view with its dimensions, labels and hatching turned into marks that never collide.

Places are tried in a fixed order and the first clean one is taken; later places lie further out, so that there always
is one. Clean means: the words keep `CLEAR` from every line and every other word, and no later line crosses words.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import Literal

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from jigs.base import drawing as draw
from jigs.base import lengths
from jigs.base.lengths import Units
from jigs.base.wording import on_paper, read_out, say
from jigs.record import Record, replace
from layout.sheet import lettering, marks
from layout.sheet.hand import ORDINARY, Hand
from layout.sheet.marks import Group, Pen, Stroke, Text

CLEAR = 0.6
"""Least distance, in mm, from words to any line or other words."""
DIMENSION_HEIGHT = 3.5
"""What is read at the bench is large (ISO 3098)."""
FIRST_ROW, ROW = 9.0, 8.5
"""From the outline to the first dimension line, and from one to the next, mm."""
ARROW = 3.0
"""Arrow length, mm: at least 3 line widths (ISO 129-1)."""
RING = 2.9
"""Radius of a balloon, mm."""
_GROWN = np.array([-CLEAR, -CLEAR, CLEAR, CLEAR])
"""What makes a box larger by it on every side."""
_REBUILD = 40
"""New lines are looked through one by one until there are this many, then join the search tree."""

_EXTENSION_GAP, _EXTENSION_PAST = 1.0, 2.0
_DOT = 0.5
"""Radius of the dot that a leader ends in on a face, mm."""
_LIFT = 2.0
"""From a dimension line up to the baseline, mm: the descenders stay clear of the line."""
_PENS: dict[draw.Kind, Pen] = {
    draw.Kind.EDGE: marks.EDGE,
    draw.Kind.HIDDEN: marks.HIDDEN,
    draw.Kind.CENTRE: marks.CENTRE,
    draw.Kind.NARROW: marks.NARROW,
    draw.Kind.NEIGHBOUR: marks.NEIGHBOUR,
    draw.Kind.REFERENCE: marks.REFERENCE,
    draw.Kind.BREAK: marks.NARROW,
}
_DIRECTIONS: dict[draw.Side, float] = {"right": 0.0, "above": 90.0, "left": 180.0, "below": 270.0}
_TURNS = (0.0, 90.0, -90.0, 180.0, 45.0, -45.0, 135.0, -135.0, 20.0, -20.0, 70.0, -70.0, 110.0, -110.0, 160.0, -160.0)
"""Ways for a leader to leave, from the wished-for direction: straight ones first, then slanted ones."""
_COMPASS = {
    side: np.array([draw.on_circle(draw.Point(0, 0), 1, facing + turn) for turn in _TURNS])
    for side, facing in _DIRECTIONS.items()
}
"""The same as places round one in the middle, 1 mm away, for each direction that may be wished for."""
_DISTANCES = (6.0, 9.0, 13.0, 18.0, 24.0, 32.0, 44.0, 60.0, 80.0, 110.0, 150.0, 200.0, 300.0, 450.0)


Floats = NDArray[np.float64]


class Style(Record):
    """How large a view is lettered: its dimensions, how far out the first one stands, and each further one, mm."""

    dimension: float = DIMENSION_HEIGHT
    first_row: float = FIRST_ROW
    row: float = ROW
    bold: bool = False
    check_bold: bool = False


TEMPLATE = Style()
PICTURE = Style(2.5, 7.4, 5.6, bold=True)
"""A picture on a card: its numbers are large in the table beside it."""

Shown = Mapping[str, tuple[str, str]]
"""The rows of a card's settings by name: the number of each, and its value in words."""


class NoRoomError(Exception):
    """Something finds no clean place, however far out: the view is drawn too small for all that is written on it."""


class Annotated(Record, dict=True):
    """A view that is lettered: `box` holds all of it. Its marks are made when they are asked for.

    Many views are lettered at several scales, and drawn at one of them.
    """

    prefix: str
    view: draw.View
    hand: Hand
    outlines: Mapping[str, list[Stroke]]
    lines: list[Stroke]
    """Of dimensions, leaders and balloons."""
    texts: tuple[Text, ...]

    @cached_property
    def box(self) -> draw.Bounds:
        """What holds all of it: hatching, and the grain within an outline, never go beyond the area they fill."""
        shapes = [stroke.shape for strokes in (*self.outlines.values(), self.lines) for stroke in strokes]
        shapes += [shape for part in self.view.parts for shape in _areas(part)]
        return draw.around([shape.bounds for shape in shapes] + [text.box for text in self.texts])

    @cached_property
    def parts(self) -> tuple[Group, ...]:
        """The parts of the view, their hatching and grain kept off the words."""
        words = shapely.STRtree([shapely.box(*text.box.grown(CLEAR)) for text in self.texts])
        return tuple(self._part(part, words) for part in self.view.parts)

    @property
    def writing(self) -> Group:
        """What is written on the parts."""
        name = self.view.name
        return Group(f"{self.prefix}-{name}-writing", f"Dimensions and notes of {name}", tuple(self.lines), self.texts)

    def _part(self, part: draw.Part, words: shapely.STRtree) -> Group:
        hatching = [stroke for area in part.hatched for stroke in _hatching(area, words, self.hand.pitch)]
        below = [Stroke(fill.shape, marks.fill(fill.colour)) for fill in part.fills]
        below += _grain(part.grain[:: 2 if self.hand.thin else 1], words)
        return Group(f"{self.prefix}-{part.name}", part.title, (*below, *self.outlines[part.name], *hatching))


def annotate(
    prefix: str,
    view: draw.View,
    units: Units,
    hand: Hand = ORDINARY,
    style: Style = TEMPLATE,
    shown: Shown | None = None,
) -> Annotated:
    """Return a view with its words placed, in the view's own axes. `prefix` goes before the name of each part.

    What is measured for a setting that is `shown`, and its balloons, bear its number. Raises NoRoomError.
    """
    page = _Page()
    shown = shown or {}
    written = [d for d in view.dimensions if not d.setting or d.setting in shown]
    view = replace(view, dimensions=tuple(written))
    drawn = {part.name: _outlines(part) for part in view.parts}
    page.block([stroke for strokes in drawn.values() for stroke in strokes])
    page.keep_off([fill.shape for part in view.parts for fill in part.fills])
    holes = [_diameter(hole) for part in view.parts for hole in part.holes if hole.name]
    balloons = [label for label in view.labels if label.setting in shown]
    labels = [*balloons, *(label for label in view.labels if not label.setting), *holes]
    page.reserve([label.at for label in labels if label.leader])
    lines = _dimensions(page, view, units, hand, style, shown)
    for label in labels:
        lines += _label(page, label, units, hand, shown)
    lines += [Stroke(text.circle(), marks.EDGE) for text in page.texts if text.ring]
    return Annotated(prefix, view, hand, drawn, lines, tuple(page.texts))


# -- what is on the paper so far -----------------------------------------------------------------------------------


@dataclass
class _Page:
    """What is on the paper so far, and whether something more finds room."""

    texts: list[Text] = field(default_factory=list)
    _lines: list[BaseGeometry] = field(default_factory=list)
    _boxes: list[BaseGeometry] = field(default_factory=list)
    _words: list[BaseGeometry] = field(default_factory=list)
    _tree: shapely.STRtree = field(default_factory=lambda: shapely.STRtree([]))
    _new: list[BaseGeometry] = field(default_factory=list)

    def block(self, strokes: list[Stroke]) -> None:
        """Put lines on the paper that words must keep off."""
        self._new += _paths([stroke for stroke in strokes if stroke.pen != marks.PAPER and not stroke.pen.colour])
        if len(self._new) > _REBUILD:
            self._lines += self._new
            self._new = []
            self._tree = shapely.STRtree(self._lines)

    def reserve(self, places: list[draw.Point]) -> None:
        """Keep words off the places that leaders will start from."""
        self._boxes += shapely.buffer(shapely.points(places), _DOT, quad_segs=2).tolist() if places else []

    def keep_off(self, areas: list[draw.Path]) -> None:
        """Keep words off what is in colour."""
        if areas:
            polygons = [shapely.Polygon(area.points()).buffer(0) for area in areas]
            self._boxes += shapely.get_parts(shapely.union_all(polygons)).tolist()

    def write(self, text: Text) -> None:
        """Put words on the paper."""
        self.texts.append(text)
        box = shapely.box(*text.box)
        self._words.append(box)
        self._boxes.append(box)

    def is_clean(self, text: Text, to_come: list[BaseGeometry]) -> bool:
        """Tell whether words would keep clear of all that is on the paper, and of lines to come."""
        room = shapely.box(*text.box.grown(CLEAR))
        if self._tree.query(room, predicate="intersects").size:
            return False
        shapely.prepare(room)
        return not shapely.intersects(room, self._new + self._boxes + to_come).any()

    def holds_dot(self, at: draw.Point) -> bool:
        """Tell whether a leader may start here: it ends in a dot, wider than its line, that keeps clear of words."""
        return not self._words or not shapely.dwithin(shapely.Point(at), self._words, CLEAR + _DOT).any()

    def cleanest(self, boxes: Floats, start: draw.Point, tips: Floats) -> int | None:
        """Return which of some words is clean with its leader, where that crosses the fewest lines: None for none.

        `boxes` are those of the words, a row each, and `tips` where their leaders end. All leaders have one start,
        where a dot has been found to be clean.
        """
        rooms = shapely.box(*(boxes + _GROWN).T)
        leaders = np.asarray(shapely.linestrings(np.stack([np.broadcast_to(start, tips.shape), tips], axis=1)))
        clean = ~shapely.intersects(rooms, leaders)
        clean[self._tree.query(rooms, predicate="intersects")[0]] = False
        for blocked in (self._new, self._boxes):
            if blocked and clean.any():
                clean[clean] = ~shapely.intersects(rooms[clean, None], np.array(blocked)[None, :]).any(axis=1)
        if self._words and clean.any():
            near = shapely.dwithin(leaders[clean, None], np.array(self._words)[None, :], CLEAR)
            clean[clean] = ~near.any(axis=1)
        left = np.flatnonzero(clean)
        return int(left[np.argmin(self._crossed(leaders[left]))]) if left.size else None

    def crosses_words(self, paths: list[BaseGeometry]) -> bool:
        """Tell whether lines would come too near to words on the paper."""
        return any(shapely.dwithin(path, self._words, CLEAR).any() for path in paths) if self._words else False

    def _crossed(self, paths: NDArray[np.object_]) -> NDArray[np.int_]:
        """Count the lines that each of these would cross."""
        old = np.bincount(self._tree.query(paths, predicate="crosses")[0], minlength=len(paths))
        new = shapely.crosses(paths[:, None], np.array(self._new, dtype=object)[None, :])
        return np.asarray(old + new.sum(axis=1))

    def blocks(self, path: BaseGeometry) -> bool:
        """Tell whether a dimension line would cross a line that is on the paper, or lie along one."""
        near = path.buffer(0.3, quad_segs=1)
        found = [self._lines[i] for i in self._tree.query(near, predicate="intersects")]
        found += [line for line in self._new if near.intersects(line)]
        if not found:
            return False
        along = shapely.length(shapely.intersection(near, found)) > 2.0
        return bool(along.any() or shapely.crosses(path, found).any())


def _paths(strokes: list[Stroke]) -> list[BaseGeometry]:
    return list(_lines([stroke.shape.points(0.05) for stroke in strokes]))


def _lines(places: Sequence[Sequence[draw.Point]]) -> NDArray[np.object_]:
    """Return lines through these points, all of them made at once."""
    if not places:
        return np.array([], dtype=object)
    number = np.repeat(np.arange(len(places)), [len(line) for line in places])
    return np.asarray(shapely.linestrings([place for line in places for place in line], indices=number))


# -- parts ---------------------------------------------------------------------------------------------------------


def _outlines(part: draw.Part) -> list[Stroke]:
    strokes = [Stroke(shape, marks.PAPER) for shape in part.covers]
    strokes += [Stroke(drawn.shape, _PENS[drawn.kind]) for drawn in part.lines]
    for hole in part.holes:
        strokes += _round_hole(hole)
    for tail, tip in part.arrows:
        strokes += [Stroke(draw.line(tail, tip), marks.EDGE), _arrow_head(tip, tail, 2 * ARROW)]
    return strokes


def _round_hole(hole: draw.Hole) -> list[Stroke]:
    (x, y), reach = hole.centre, hole.radius + 3.0
    return [
        Stroke(draw.Circle(hole.centre, hole.radius), marks.EDGE),
        Stroke(draw.line((x - reach, y), (x + reach, y)), marks.CENTRE),
        Stroke(draw.line((x, y - reach), (x, y + reach)), marks.CENTRE),
    ]


def _arrow_head(tip: draw.Point, tail: draw.Point, length: float = ARROW) -> Stroke:
    """Return a filled head of 20 degrees at `tip`, pointing away from `tail`."""
    heading = math.atan2(tip.y - tail.y, tip.x - tail.x)
    back = [
        (tip.x - length * math.cos(heading + a), tip.y - length * math.sin(heading + a))
        for a in (math.radians(10), math.radians(-10))
    ]
    return Stroke(draw.polygon(tip, *back), marks.SOLID)


def _areas(part: draw.Part) -> Iterator[draw.Shape]:
    """Yield what is filled, hatched or grained."""
    yield from part.hatched
    yield from (tinted.shape for tinted in (*part.fills, *part.grain))


def _hatching(area: draw.Path, words: shapely.STRtree, pitch: float) -> Iterator[Stroke]:
    """Yield lines at 45 degrees across an area, kept off the words."""
    whole = shapely.Polygon(area.points())
    there = words.geometries.take(sorted(words.query(whole, predicate="intersects")))
    face = whole.difference(shapely.union_all(there))
    left, bottom, right, top = area.bounds
    step = pitch * math.sqrt(2)
    first = math.ceil((left - top) / step)
    last = math.floor((right - bottom) / step)
    rays = shapely.linestrings(
        [((bottom + i * step, bottom), (top + i * step, top)) for i in range(first, last + 1)] or np.empty((0, 2, 2))
    )
    pieces = shapely.get_parts(shapely.intersection(face, rays))
    pieces = pieces[shapely.length(pieces) > 0.3]
    ends = np.cumsum(shapely.get_num_coordinates(pieces))[:-1]
    for places in np.split(shapely.get_coordinates(pieces), ends) if len(pieces) else ():
        yield Stroke(draw.line(*places.tolist()), marks.HATCH)


def _grain(lines: Sequence[draw.Tinted], words: shapely.STRtree) -> Iterator[Stroke]:
    """Yield the lines of wood's grain, kept off the words."""
    if not lines:
        return
    paths = _lines([line.shape.points() for line in lines])
    near = set(words.query(paths, predicate="intersects")[0].tolist())
    written = shapely.union_all(words.geometries)
    for number, line in enumerate(lines):
        pen = marks.grain(line.colour)
        if number not in near:
            yield Stroke(line.shape, pen)
            continue
        for piece in shapely.get_parts(paths[number].difference(written)):
            if piece.length > 0.0:
                yield Stroke(draw.line(*piece.coords), pen)


# -- dimensions ----------------------------------------------------------------------------------------------------


class _Frame(Record):
    """Axes for the dimensions of one side: along the measured direction, and outward from the view."""

    side: draw.Side
    hand: Hand
    style: Style = TEMPLATE
    number: str = ""
    """What stands in the balloon before the words, if anything."""

    @property
    def heights(self) -> tuple[float, float]:
        """Letter heights of the first and the second row of a dimension, mm."""
        return self.hand.bench(self.style.dimension), self.hand.bench(2.5)

    @property
    def balloon(self) -> float:
        """How wide the balloon before the words is, with the room after it, mm."""
        return 2 * RING + 1.2 if self.number else 0.0

    def letters(self, row: int, words: str) -> float:
        """Return how wide a row of a dimension is, mm."""
        return lettering.width(words, self.heights[row], self.style.bold) + (0.0 if row else self.balloon)

    def at(self, along: float, out: float) -> draw.Point:
        match self.side:
            case "above":
                return draw.Point(along, out)
            case "below":
                return draw.Point(along, -out)
            case "right":
                return draw.Point(out, along)
            case "left":
                return draw.Point(-out, along)

    def back(self, point: draw.Point) -> tuple[float, float]:
        """Return (along, out) of a point."""
        match self.side:
            case "above":
                return point.x, point.y
            case "below":
                return point.x, -point.y
            case "right":
                return point.y, point.x
            case "left":
                return point.y, -point.x

    @property
    def upright(self) -> bool:
        """Whether the words run up the page."""
        return self.side in ("left", "right")

    @property
    def lift(self) -> float:
        """From the dimension line outward to the baseline: words stand above the line, read from below or right."""
        deeper = lettering.reach(self.heights[0])[0] - lettering.reach(self.style.dimension)[0]
        deeper += max(0.0, RING - self.heights[0] / 2 - _LIFT + CLEAR + 0.1) if self.number else 0.0
        return _LIFT + deeper if self.side in ("above", "left") else -_LIFT - deeper


def _dimensions(page: _Page, view: draw.View, units: Units, hand: Hand, style: Style, shown: Shown) -> list[Stroke]:
    """Place the dimensions of every side, the shortest nearest to the view."""
    measured = [
        draw.Bounds(*point, *point) for dimension in view.dimensions for point in (dimension.start, dimension.end)
    ]
    bounds = draw.around([*(part.bounds for part in view.parts), *measured])
    limits = {"above": bounds.top, "below": -bounds.bottom, "left": -bounds.left, "right": bounds.right}
    placed: list[Stroke] = []
    # An extension line yet to come may not cross words already there: keep clear of where it will run, on every side.
    rays = {
        d: [_ray(_Frame(d.side, hand, style), point, limits[d.side]) for point in (d.start, d.end)]
        for d in view.dimensions
    }
    for side in ("below", "left", "above", "right"):
        own = [d for d in view.dimensions if d.side == side]
        own.sort(key=lambda d: (round(d.value, 6), d.start, d.end))
        frame = _Frame(side, hand, style)
        for dimension in own:
            to_come = [ray for other, pair in rays.items() if other != dimension for ray in pair]
            number, said = shown.get(dimension.setting, ("", ""))
            purpose = "gauge" if dimension.gauged else "typed" if view.to_scale and units == "mm" else "cut"
            plain = (lengths.bare(dimension.value, units, purpose),)
            words = (said,) if number else plain
            own_style = style
            if style.check_bold and dimension == view.check:
                own_style = replace(style, bold=True, dimension=DIMENSION_HEIGHT)
            own_frame = replace(frame, style=own_style, number=number)
            placed += _dimension(page, own_frame, dimension, limits[side], to_come, words)
    return placed


def _ray(frame: _Frame, point: draw.Point, limit: float) -> BaseGeometry:
    along, out = frame.back(point)
    return shapely.LineString([frame.at(along, out), frame.at(along, limit + 150)])


def _dimension(
    page: _Page,
    frame: _Frame,
    dimension: draw.Dimension,
    limit: float,
    to_come: list[BaseGeometry],
    rows: tuple[str, ...],
) -> list[Stroke]:
    """Place one dimension in the first row and at the first spot where it is clean."""
    words = (f"{dimension.name} {rows[0]}" if dimension.name else rows[0], *rows[1:])
    (low, _), (high, _) = sorted([frame.back(dimension.start), frame.back(dimension.end)])
    for row in range(60):
        out = limit + frame.style.first_row + row * frame.style.row / 2
        bare = _straight(frame, low, high, out)
        if page.blocks(bare) or page.crosses_words([bare]):
            continue
        lines = functools.cache(functools.partial(_clear_lines, page, frame, dimension, out))
        for spot in _spots(frame, dimension, words, out):
            if strokes := _fitted(page, spot, lines, to_come):
                for text in spot.texts:
                    page.write(text)
                page.block(strokes)
                return strokes
    raise NoRoomError(f"no room for dimension {words}")  # so far out there is nothing left to hit


def _straight(frame: _Frame, low: float, high: float, out: float) -> BaseGeometry:
    return shapely.LineString([frame.at(low, out), frame.at(high, out)])


_Lines = tuple[list[Stroke], list[BaseGeometry]]


def _fitted(
    page: _Page, spot: _Spot, lines: Callable[[tuple[float, float] | None], _Lines], to_come: list[BaseGeometry]
) -> list[Stroke]:
    """Return the lines of a dimension with its words at one spot; none where something there is in the way.

    `lines` are those for the reach of the words along the line: the same for most spots, and asked for once.
    """
    if spot.along is None and not lines(None)[0]:
        return []
    if not all(page.is_clean(text, to_come) for text in spot.texts):
        return []
    strokes, paths = lines(spot.along)
    own = any(shapely.intersects(shapely.box(*text.box.grown(CLEAR)), paths).any() for text in spot.texts)
    return [] if own else strokes


def _clear_lines(
    page: _Page, frame: _Frame, dimension: draw.Dimension, out: float, along: tuple[float, float] | None
) -> _Lines:
    """Return the lines of a dimension, as they are drawn and as paths; none where they come too near to words."""
    if along and page.blocks(_straight(frame, *along, out)):
        return [], []
    strokes = _dimension_lines(frame, dimension, out, along)
    paths = _paths(strokes)
    return ([], []) if page.crosses_words(paths) else (strokes, paths)


class _Spot(Record):
    """Where the words of a dimension may stand. `along` is their reach along the line, where that is beyond it."""

    texts: tuple[Text, ...]
    along: tuple[float, float] | None = None


def _spots(frame: _Frame, dimension: draw.Dimension, words: tuple[str, ...], out: float) -> Iterator[_Spot]:
    """Yield where the words may stand: between the arrows, centred over them, or beyond one end of the line.

    Words too long for an upright dimension lie level beside its line, so that nobody has to tilt his head.
    """
    (start, _), (end, _) = frame.back(dimension.start), frame.back(dimension.end)
    low, high = min(start, end), max(start, end)
    middle = (low + high) / 2
    long = max(frame.letters(i, row) for i, row in enumerate(words))
    if long + 2 * CLEAR <= high - low:
        slack = (high - low - long) / 2 - CLEAR
        for share in (0.0, 0.5, -0.5, 1.0, -1.0):
            yield _Spot(_astride(frame, middle + share * slack, out, words))
    elif frame.number and lettering.width(words[0], frame.heights[0], frame.style.bold) + 2 * CLEAR <= high - low:
        yield _Spot(_ring_apart(frame, middle, out, words[0]))
    for step in range(40):
        if frame.upright:
            for turn in dict.fromkeys((step, -step)):
                yield _Spot(_level(frame, middle + 2.0 * turn, out, words))
        else:
            away = 2 * ARROW + 1.0 + long / 2 + step * 4.0
            for at in (high + away, low - away):
                yield _Spot(_astride(frame, at, out, words), (at - long / 2, at + long / 2))


def _astride(frame: _Frame, along: float, out: float, words: tuple[str, ...]) -> tuple[Text, ...]:
    """Return the first row above the dimension line and the second below it."""
    up = 1.0 if frame.lift > 0 else -1.0
    start = along + frame.balloon / 2
    at = frame.at(start, out + frame.lift)
    first = Text(at, words[0], frame.heights[0], "middle", frame.upright, frame.style.bold)
    if len(words) == 1:
        return _ringed(frame, first)
    below = frame.at(along, out - up * (frame.heights[1] * 1.12 + 0.9))
    return first, Text(below, words[1], frame.heights[1], "middle", frame.upright)


def _ring_apart(frame: _Frame, along: float, out: float, words: str) -> tuple[Text, ...]:
    """Return the words between the arrows and their balloon on the other side of the line: both would be too wide."""
    lift, high = replace(frame, number="").lift, frame.heights[0]
    said = Text(frame.at(along, out + lift), words, high, "middle", frame.upright, frame.style.bold)
    ring = frame.at(along, out - math.copysign(RING + CLEAR + 0.1, lift)).moved(0, -high / 2)
    return said, Text(ring, frame.number, high, "middle", bold=True, ring=RING)


def _ringed(frame: _Frame, words: Text) -> tuple[Text, ...]:
    """Return the words with their balloon before them."""
    if not frame.number:
        return (words,)
    box, high = words.box, words.height
    if words.upright:
        at = draw.Point(words.at.x - high / 2, box.bottom - RING - 1.0 - high / 2)
    else:
        at = draw.Point(box.left - RING - 1.0, words.at.y)
    return words, Text(at, frame.number, high, "middle", bold=True, ring=RING)


def _level(frame: _Frame, along: float, out: float, words: tuple[str, ...]) -> tuple[Text, ...]:
    """Return the rows level, one above the other, beside an upright dimension line."""
    anchor: Literal["start", "end"] = "start" if frame.side == "right" else "end"
    at = frame.at(along, out + 1.5)
    first = Text(at.moved(0, -frame.heights[0] / 2), words[0], frame.heights[0], anchor, bold=frame.style.bold)
    if frame.number:
        middle, above = (first.box.left + first.box.right) / 2, at.y + frame.heights[0] / 2 + RING + 1.0
        shift = max(0.0, RING - first.box.width / 2) * (1 if anchor == "start" else -1)
        first = first.moved(shift, 0)
        ring = draw.Point(middle + shift, above - frame.heights[0] / 2)
        return first, Text(ring, frame.number, frame.heights[0], "middle", bold=True, ring=RING)
    if len(words) == 1:
        return (first,)
    return first, Text(
        at.moved(0, -frame.heights[0] / 2 - frame.heights[1] * 1.64 - 1.5), words[1], frame.heights[1], anchor
    )


def _dimension_lines(
    frame: _Frame, dimension: draw.Dimension, out: float, along: tuple[float, float] | None
) -> list[Stroke]:
    """Return the dimension line first, then its arrows and extension lines; it goes `along` words beyond its end."""
    ends = sorted([frame.back(dimension.start), frame.back(dimension.end)])
    (low, _), (high, _) = ends
    first, last = low, high
    inward = high - low >= 2 * ARROW + 1.5 and along is None
    if not inward:
        first, last = low - 2 * ARROW, high + 2 * ARROW
    if along is not None:
        first, last = min(first, along[0]), max(last, along[1])
    tips = [(low, low + 1 if inward else low - 1), (high, high - 1 if inward else high + 1)]
    strokes = [Stroke(draw.line(frame.at(first, out), frame.at(last, out)), marks.NARROW)]
    strokes += [_arrow_head(frame.at(tip, out), frame.at(tail, out)) for tip, tail in tips]
    for at, from_out in ends:
        begin, finish = frame.at(at, from_out + _EXTENSION_GAP), frame.at(at, out + _EXTENSION_PAST)
        strokes.append(Stroke(draw.line(begin, finish), marks.NARROW))
    return strokes


# -- labels --------------------------------------------------------------------------------------------------------


def _diameter(hole: draw.Hole) -> draw.Label:
    """Return the label that gives a hole's diameter, read from the hole itself."""
    edge = hole.centre.moved(hole.radius * math.cos(math.radians(45)), hole.radius * math.sin(math.radians(45)))
    return draw.Label(say("Ø {across} " + hole.name, across=2 * hole.radius), edge)


def _label(page: _Page, label: draw.Label, units: Units, hand: Hand, shown: Shown) -> list[Stroke]:
    """Write a label on its place where it is asked to stand there and can, else beside it with a leader.

    In large print it is written smaller where its place or the drawing leaves no room for large letters.
    """
    if label.setting:
        return _balloon(page, label, shown[label.setting][0])
    words = read_out(label.words, units, on_paper)
    sizes = sorted({hand.bench(label.height), hand.rest(label.height), label.height}, reverse=True)
    ways = [replace(label, height=size) for size in sizes]
    if not label.leader:
        if any(_written_on_its_place(page, way, words) for way in ways):
            return []
        # Its place may lie under words, where no leader can start: it names an area, and so does a place beside it.
        ways += [replace(label, at=label.at.moved(*step)) for step in _BESIDE]
    for way in ways:
        found = _best_led(page, way, words)
        if found is not None:
            text, leader = found
            page.write(text)
            page.block(leader)
            return leader
    raise NoRoomError(f"no room for label {words}")  # 450 mm out there is nothing left to hit


_RINGED = (5.0, 7.0, 9.0, 12.0, 16.0, 21.0, 28.0, 38.0, 50.0, 70.0, 100.0, 150.0)
"""From the place of a setting to the ring of its balloon, mm."""


def _balloon(page: _Page, label: draw.Label, number: str) -> list[Stroke]:
    """Put the number of a setting beside its place, in a ring, with a leader to the place."""
    for distance in _RINGED if page.holds_dot(label.at) else ():
        compass = _COMPASS[label.towards or "above"]
        middles = label.at + (distance + RING + CLEAR) * compass - (0, 1.25) + (0, 1.25)  # as a text has its ring
        boxes = np.hstack([middles - RING, middles + RING])
        best = page.cleanest(boxes, label.at, label.at + (distance - 0.01) * compass)
        if best is not None:
            at = draw.Point(*(label.at + (distance + RING + CLEAR) * compass[best]).tolist())
            page.write(Text(at.moved(0, -1.25), number, 2.5, "middle", bold=True, ring=RING))
            edge = draw.Point(*(label.at + (distance + CLEAR) * compass[best]).tolist())
            leader = _leader(label.at, edge)
            page.block(leader)
            return leader
    raise NoRoomError(f"no room for balloon {number}")


_BESIDE = ((0, 0), (0, 2), (0, -2), (2, 0), (-2, 0), (0, 4), (0, -4), (4, 0), (-4, 0))
"""Places to try for words that name an area, from its own one, mm."""


def _written_on_its_place(page: _Page, label: draw.Label, words: str) -> bool:
    for across, up in _BESIDE:
        at = label.at.moved(across, up - label.height / 2)
        text = Text(at, words, label.height, "middle", bold=label.bold)
        if page.is_clean(text, []):
            page.write(text)
            return True
    return False


def _best_led(page: _Page, label: draw.Label, words: str) -> tuple[Text, list[Stroke]] | None:
    """Return the nearest clean place for words with a leader, of these the one whose leader crosses least."""
    for distance in _DISTANCES if page.holds_dot(label.at) else ():
        tips = label.at + distance * _COMPASS[label.towards or "right"]
        best = page.cleanest(_boxes_at(label, words, tips), label.at, tips)
        if best is not None:
            tip = draw.Point(*tips[best].tolist())
            return _led(label, words, tip), _leader(label.at, tip)
    return None


def _leader(start: draw.Point, tip: draw.Point) -> list[Stroke]:
    return [Stroke(draw.line(start, tip), marks.NARROW), _dot(start)]


def _led(label: draw.Label, words: str, tip: draw.Point) -> Text:
    """Return the words at the end of their leader: beside it, or over or under one that stands upright."""
    across = tip.x - label.at.x
    below, above = lettering.reach(label.height)
    if abs(across) < _UPRIGHT:
        lift = below + CLEAR + 0.1 if tip.y > label.at.y else -above - CLEAR - 0.1
        return Text(tip.moved(0.0, lift), words, label.height, "middle", bold=label.bold)
    anchor: Literal["start", "end"] = "start" if across > 0 else "end"
    at = tip.moved(math.copysign(1.0, across), -label.height / 2)
    return Text(at, words, label.height, anchor, bold=label.bold)


_UPRIGHT = 1e-6
"""A leader whose ends are no further apart across is upright, mm."""


def _boxes_at(label: draw.Label, words: str, tips: Floats) -> Floats:
    """Return the boxes of the same words at each of these ends of a leader, all of them worked out at once."""
    wide = lettering.width(words, label.height, label.bold)
    below, above = lettering.reach(label.height)
    (x, y), across = tips.T, tips[:, 0] - label.at.x
    upright = np.abs(across) < _UPRIGHT
    aside = np.copysign(1.0, across)
    over = np.where(y > label.at.y, below + CLEAR + 0.1, -above - CLEAR - 0.1)
    x = x + np.where(upright, 0.0, aside)
    y = y + np.where(upright, over, -label.height / 2)
    left = x - np.where(upright, wide / 2, np.where(aside > 0, 0.0, wide))
    return np.stack([left, y - below, left + wide, y + above], axis=1)


def _dot(at: draw.Point) -> Stroke:
    """Return the dot that ends a leader on a face."""
    return Stroke(draw.Circle(at, _DOT), marks.SOLID)
