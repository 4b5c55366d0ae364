"""The lines of a pattern as text: what a box file keeps of a drawing that somebody made elsewhere.

    M0 0 L100000 0 C100000 50000 50000 90000 0 90000 A40000 40000 0 0 1 0 0 Z

It is path data of SVG 1.1 (8.3), with the absolute commands M, L, C, A and Z, each with its letter. An arc is of a
circle, and of a quarter turn at most where `written` wrote it. The unit is the pattern's own, y down: a box scales it
to a width.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from functools import lru_cache

from jigs.base.drawing import Bounds, Point, around
from jigs.record import Record

MOST_LETTERS = 40_000
"""The most letters that an outline may have."""
MOST_STEPS = 1000
"""The most lines, curves and arcs of an outline: more are not carved (common practice, no source)."""
FINENESS = 100_000
"""An outline is written in whole numbers, its longer side this many."""
_LARGEST = 1e9  # of a number, in the pattern's own unit
_LEAST = 1e-9  # a longer side than this is some size
_SHOWN = 20  # letters of what can't be read
_WIDTH = 118  # letters of a line, as it is written into a file
_TOKEN = re.compile(r"[MLCAZ]|-?[0-9]{1,12}(?:\.[0-9]{1,12})?|[\s,]+", re.ASCII)
_NUMBERS = {"M": 2, "L": 2, "C": 6, "A": 7, "Z": 0}


class Straight(Record):
    """A straight step."""

    end: Point


class Curve(Record):
    """A Bézier curve of the third degree, by the two points that pull it and its end."""

    first: Point
    second: Point
    end: Point


class Round(Record):
    """An arc of a circle: the longer of two where it is `large`; `rising` where angles grow along it."""

    radius: float
    large: bool
    rising: bool
    end: Point

    def centre(self, start: Point) -> Point:
        """Return the centre of the circle; a radius too small to reach is taken as half of the way (SVG 1.1, F.6.6).

        The centre stands on the line that halves the way at a right angle, √(r² − (way/2)²) off it.
        """
        way = math.dist(start, self.end)
        off = math.sqrt(max(self.radius**2 - way**2 / 4, 0.0)) / way
        side = -off if self.large == self.rising else off
        across, up = self.end.x - start.x, self.end.y - start.y
        return Point((start.x + self.end.x) / 2 - side * up, (start.y + self.end.y) / 2 + side * across)


Step = Straight | Curve | Round


class Stroke(Record):
    """One line of an outline, drawn without lifting the pen."""

    start: Point
    steps: tuple[Step, ...]
    closed: bool = False

    def points(self) -> Iterator[tuple[Point, Step]]:
        """Yield every step with where it starts."""
        start = self.start
        for step in self.steps:
            yield start, step
            start = step.end

    @property
    def bounds(self) -> Bounds:
        """The box round it: round its curves, not round the points that pull them."""
        return around([Bounds(*self.start, *self.start), *(_bounds(start, step) for start, step in self.points())])


@lru_cache(maxsize=32)
def bounds(strokes: tuple[Stroke, ...]) -> Bounds:
    """Return the box round an outline, in its own unit. Raises ValueError where there is none."""
    return around(stroke.bounds for stroke in strokes)


def _bounds(start: Point, step: Step) -> Bounds:
    places = [start, step.end]
    if isinstance(step, Curve):
        points = (start, step.first, step.second, step.end)
        places += [on_curve(points, share) for axis in (0, 1) for share in _turns(*(point[axis] for point in points))]
    elif isinstance(step, Round):
        middle = step.centre(start)
        radius = math.dist(middle, start)
        quarters = [(radius, 0.0), (0.0, radius), (-radius, 0.0), (0.0, -radius)]
        places += [middle.moved(*quarter) for quarter in quarters if _passes(start, step, middle, quarter)]
    across, up = zip(*places, strict=True)
    return Bounds(min(across), min(up), max(across), max(up))


def on_curve(points: Sequence[Point], share: float) -> Point:
    """Return the point of a Bézier curve of the third degree at a share from 0 to 1."""
    rest = 1 - share
    a, b, c, d = rest**3, 3 * rest * rest * share, 3 * rest * share * share, share**3
    (ax, ay), (bx, by), (cx, cy), (dx, dy) = points
    return Point(a * ax + b * bx + c * cx + d * dx, a * ay + b * by + c * cy + d * dy)


def _turns(start: float, first: float, second: float, end: float) -> Iterator[float]:
    """Yield where one coordinate of a curve turns back: the roots of its derivative, a·t² + b·t + c, within 0 to 1."""
    a, b, c = end - 3 * second + 3 * first - start, 2 * (second - 2 * first + start), first - start
    inside = b * b - 4 * a * c
    if inside < 0:
        return
    down = -(b + math.copysign(math.sqrt(inside), b)) / 2  # of one sign with b, so that nothing cancels
    for above, below in ((down, a), (c, down)):
        if below and 0 < above / below < 1:
            yield above / below


def _passes(start: Point, step: Round, middle: Point, way: tuple[float, float]) -> bool:
    """Tell whether an arc goes through what lies this way from its centre."""
    at = [math.atan2(y - middle.y, x - middle.x) for x, y in (start, step.end)]
    there, end = ((angle - at[0]) % math.tau for angle in (math.atan2(way[1], way[0]), at[1]))
    return there <= end if step.rising else there >= end


# -- as text -------------------------------------------------------------------------------------------------------


@lru_cache(maxsize=32)
def read(text: str) -> tuple[Stroke, ...]:
    """Return the lines of an outline. Raises ValueError, with what is wrong, where the text is none."""
    if len(text) > MOST_LETTERS:
        raise ValueError(f"has {len(text)} characters, where an outline may have {MOST_LETTERS}")
    strokes: list[Stroke] = []
    steps = 0
    for letter, numbers in _commands(text):
        steps += letter != "M"
        if steps > MOST_STEPS:
            raise ValueError(f"has more than {MOST_STEPS} lines, curves and arcs")
        if letter == "M":
            strokes.append(Stroke(Point(*numbers), ()))
        elif not strokes or strokes[-1].closed:
            raise ValueError(f"has {letter} where M should begin a line; {_WRITER}")
        else:
            last = strokes[-1]
            more = () if letter == "Z" else (_step(letter, numbers),)
            strokes[-1] = Stroke(last.start, (*last.steps, *more), letter == "Z")
    drawn = tuple(stroke for stroke in map(_cleaned, strokes) if stroke.steps)
    if not drawn:
        raise ValueError(f"has no line to carve; {_WRITER}")
    if bounds(drawn).width < _LEAST:
        raise ValueError("has no width: it is one upright line, which can't be scaled to a width")
    return drawn


_WRITER = "'jigleaf pattern FILE.svg' writes it from a drawing"


def _commands(text: str) -> Iterator[tuple[str, list[float]]]:
    """Yield each command with its numbers."""
    letter, numbers, at = "", list[float](), 0
    while at < len(text):
        token = _TOKEN.match(text, at)
        if token is None:
            raise ValueError(f"can't be read at {text[at : at + _SHOWN]!a}; {_WRITER}")
        at, word = token.end(), token[0]
        if word in _NUMBERS:
            if letter:
                yield letter, _whole(letter, numbers)
            letter, numbers = word, []
        elif not word.strip(" \t\r\n\v\f,"):
            continue
        elif not letter or len(numbers) == _NUMBERS[letter] or abs(float(word)) > _LARGEST:
            raise ValueError(f"can't be read at {word[:_SHOWN]!a}; {_WRITER}")
        else:
            numbers.append(float(word))
    if letter:
        yield letter, _whole(letter, numbers)


def _whole(letter: str, numbers: list[float]) -> list[float]:
    if len(numbers) != _NUMBERS[letter]:
        raise ValueError(f"has {len(numbers)} numbers behind {letter}, which takes {_NUMBERS[letter]}; {_WRITER}")
    return numbers


def _step(letter: str, numbers: list[float]) -> Step:
    match letter:
        case "L":
            return Straight(Point(*numbers))
        case "C":
            first, second, end = (Point(*numbers[i : i + 2]) for i in (0, 2, 4))
            return Curve(first, second, end)
    radius, other, _, large, rising, x, y = numbers
    if radius != other or radius < 0 or large not in (0, 1) or rising not in (0, 1):
        raise ValueError(f"has an arc that is of no circle; {_WRITER}")
    return Round(radius, bool(large), bool(rising), Point(x, y))


def _cleaned(stroke: Stroke) -> Stroke:
    """Return a line without the steps that go nowhere."""
    kept = tuple(step for start, step in stroke.points() if not _stays(start, step))
    return Stroke(stroke.start, kept, stroke.closed)


def _stays(start: Point, step: Step) -> bool:
    return step.end == start and (not isinstance(step, Curve) or step.first == step.second == start)


def written(strokes: tuple[Stroke, ...]) -> str:
    """Return an outline as text, in whole numbers from its upper left corner, the longer side `FINENESS`.

    A point moves by half of such a number at most: 0.003 mm for 600 mm. Raises ValueError where there is no line, and
    where there are too many.
    """
    box = bounds(strokes)
    longer = max(box.width, box.height)
    if not _LEAST < longer < math.inf:
        raise ValueError("has no line to carve")
    by = FINENESS / longer

    def put(*points: Point) -> str:
        return " ".join(f"{round((x - box.left) * by)} {round((y - box.bottom) * by)}" for x, y in points)

    words: list[str] = []
    for stroke in strokes:
        words.append(f"M{put(stroke.start)}")
        for step in stroke.steps:
            if isinstance(step, Straight):
                words.append(f"L{put(step.end)}")
            elif isinstance(step, Curve):
                words.append(f"C{put(step.first, step.second, step.end)}")
            else:
                radius = max(1, round(step.radius * by))
                words.append(f"A{radius} {radius} 0 {step.large:d} {step.rising:d} {put(step.end)}")
        words += ["Z"] if stroke.closed else []
    text = " ".join(words)
    read(text)
    return text


def in_lines(text: str) -> str:
    """Return an outline broken into lines, as it stands in a file."""
    rows = [""]
    for word in re.findall(r"[MLCAZ][^MLCAZ]*", text):
        if rows[-1] and len(rows[-1]) + len(word.strip()) >= _WIDTH:
            rows.append("")
        rows[-1] += f"{' ' if rows[-1] else ''}{word.strip()}"
    return "\n".join(rows)
