"""Path data of an SVG (SVG 1.1, 8.3), read within limits: every command, relative and absolute, under a transform.

A parser of our own: the grammar is a page long, and what it reads comes from anywhere. Libraries that read it go by
whole documents, follow links, read pictures, and have no limit to what they build.

Lines and curves stay what they are under any transform (7.4). An arc of a circle stays one where the transform keeps
its shape; any other becomes curves of 30° at most, off by 4e-7 of its radius: the well-known 2.7e-4 of a quarter turn,
which falls with the sixth power of the angle.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field

from jigs.base.drawing import Point
from jigs.base.outline import MOST_STEPS, Curve, Round, Step, Straight, Stroke
from jigs.base.wording import shown
from jigs.record import Record

_MOST_COMMANDS = 10 * MOST_STEPS
LARGEST = 1e7
"""The largest coordinate of a drawing, in its own unit."""
_ARGUMENTS = {"M": 2, "L": 2, "H": 1, "V": 1, "C": 6, "S": 4, "Q": 4, "T": 2, "A": 7, "Z": 0}
_NUMBER = re.compile(
    r"[+-]?(?:[0-9]{1,40}(?:\.[0-9]{0,40})?|\.[0-9]{1,40})(?![0-9])(?:[eE][+-]?[0-9]{1,5}(?![0-9]))?", re.ASCII
)
_FLAG = re.compile(r"[01]")
_BLANK = re.compile(r"[ \t\r\n\f]*,?[ \t\r\n\f]*")
_ROUND = 1e-9  # by how much of its size a transform may change the shape of a circle that stays one
_FLAT = 1e-6  # an arc of so small a share of its radius is as good as straight
_PIECE = math.radians(30)
_QUARTER = math.pi / 2


_ORIGIN = Point(0.0, 0.0)


class TooMuchError(ValueError):
    """More lines, curves and arcs than anybody carves."""


class Matrix(Record):
    """A transform (SVG 1.1, 7.4): x becomes a·x + c·y + e, and y becomes b·x + d·y + f."""

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    def then(self, inner: Matrix) -> Matrix:
        """Return the transform that does `inner` first, then this one."""
        (a, b), (c, d) = self._turned(inner.a, inner.b), self._turned(inner.c, inner.d)
        return Matrix(a, b, c, d, *self.at(Point(inner.e, inner.f)))

    def _turned(self, x: float, y: float) -> tuple[float, float]:
        return self.a * x + self.c * y, self.b * x + self.d * y

    def at(self, point: Point) -> Point:
        """Return where a point comes to lie. Raises ValueError far beyond any drawing."""
        x, y = self._turned(*point)
        made = Point(x + self.e, y + self.f)
        if not (abs(made.x) <= LARGEST and abs(made.y) <= LARGEST):  # true of nan as well
            raise ValueError("it has a number that is far too large")
        return made

    @property
    def scale(self) -> float | None:
        """By how much it enlarges a circle that stays one; None where none does."""
        size = math.hypot(self.a, self.b)
        turned = self.a * self.d - self.b * self.c >= 0
        c, d = (-self.b, self.a) if turned else (self.b, -self.a)
        return size if math.hypot(self.c - c, self.d - d) <= _ROUND * size else None

    @property
    def mirrors(self) -> bool:
        """Whether it turns left into right."""
        return self.a * self.d - self.b * self.c < 0


@dataclass
class Pen:
    """Draws strokes under a transform, and counts what it draws."""

    matrix: Matrix
    strokes: list[Stroke] = field(default_factory=list)
    count: int = 0
    """Lines, curves and arcs so far."""
    asked: int = 0
    """Commands of path data so far, those too that draw nothing."""
    _at: Point = _ORIGIN
    _begun: Point = _ORIGIN
    _steps: list[Step] = field(default_factory=list)

    def move(self, to: Point) -> None:
        """Begin a line."""
        self.lift()
        self._at = self._begun = to

    def lift(self, *, closed: bool = False) -> None:
        """End the line."""
        if self._steps:
            self.strokes.append(Stroke(self.matrix.at(self._begun), tuple(self._steps), closed))
        self._steps = []
        self._at = self._begun

    def line(self, to: Point) -> None:
        """Draw straight on."""
        if to != self._at:
            self._add(Straight(self.matrix.at(to)), to)

    def curve(self, first: Point, second: Point, to: Point) -> None:
        """Draw a Bézier curve of the third degree."""
        if not (first == second == to == self._at):
            self._add(Curve(*map(self.matrix.at, (first, second, to))), to)

    def bow(self, pull: Point, to: Point) -> None:
        """Draw a Bézier curve of the second degree: one of the third, pulled two thirds of the way."""
        first, second = (Point(*(a + (b - a) * 2 / 3 for a, b in zip(p, pull, strict=True))) for p in (self._at, to))
        self.curve(first, second, to)

    def arc(self, rx: float, ry: float, turned: float, flags: tuple[bool, bool], to: Point) -> None:
        """Draw an arc of an ellipse that is turned by some degrees, to its end (SVG 1.1, 8.3.8 and F.6)."""
        rx, ry = abs(rx), abs(ry)
        if to == self._at:
            return
        if not rx or not ry:
            self.line(to)
            return
        if math.dist(self._at, to) < _FLAT * max(rx, ry):  # it rises by an eighth of this share of its length
            self.line(to)
            return
        ellipse, begin, sweep = _ellipse(self._at, to, (rx, ry), math.radians(turned), flags)
        round_one = rx == ry and self.matrix.scale is not None
        count = math.ceil(abs(sweep) / (_QUARTER if round_one else _PIECE) - 1e-9) or 1
        for i in range(1, count + 1):
            here, there = (begin + sweep * share / count for share in (i - 1, i))
            end = to if i == count else ellipse.at(_on_unit_circle(there))
            if round_one:
                radius = math.hypot(ellipse.a, ellipse.b) * (self.matrix.scale or 0.0)
                rising = (sweep > 0) != self.matrix.mirrors
                self._add(Round(radius, False, rising, self.matrix.at(end)), end)
            else:
                pull = 4 / 3 * math.tan((there - here) / 4)
                first = ellipse.at(_on_unit_circle(here, pull))
                self.curve(first, ellipse.at(_on_unit_circle(there, -pull)), end)

    @property
    def at(self) -> Point:
        """Where the pen is, before the transform."""
        return self._at

    def _add(self, step: Step, to: Point) -> None:
        self.count += 1
        if self.count > MOST_STEPS:
            raise TooMuchError
        before = self._steps[-1].end if self._steps else self.matrix.at(self._begun)
        self._at = to
        if step.end != before or isinstance(step, Curve):
            self._steps.append(step)


def _on_unit_circle(angle: float, pulled: float = 0.0) -> Point:
    """Return the point of a circle of 1 at an angle in radians, or one that pulls a curve from there."""
    return Point(math.cos(angle) - pulled * math.sin(angle), math.sin(angle) + pulled * math.cos(angle))


def _ellipse(
    start: Point, end: Point, radii: tuple[float, float], turned: float, flags: tuple[bool, bool]
) -> tuple[Matrix, float, float]:
    """Return the transform that makes an ellipse of the circle of 1, where its arc begins and how far it goes, radians.

    In the axes of the circle the arc is one of a circle of 1: its centre stands off the middle of its ends by
    √(1 − half²), on the side that the flags say. Radii that can't reach grow until they just do (F.6.6).
    """
    cosine, sine = math.cos(turned), math.sin(turned)
    rx, ry = radii

    def flat(p: Point) -> Point:
        return Point((cosine * p.x + sine * p.y) / rx, (cosine * p.y - sine * p.x) / ry)

    one, other = flat(start), flat(end)
    half = math.dist(one, other) / 2
    if not half < math.inf:
        raise ValueError("it has a number that is far too large")
    grown = max(half, 1.0)
    large, rising = flags
    off = math.sqrt(max(grown**2 - half**2, 0.0)) / (2 * half) if half else 0.0
    side = -off if large == rising else off
    middle = Point((one.x + other.x) / 2 - side * (other.y - one.y), (one.y + other.y) / 2 + side * (other.x - one.x))
    begin, finish = (math.atan2(p.y - middle.y, p.x - middle.x) for p in (one, other))
    sweep = (finish - begin) % math.tau
    sweep = sweep if rising else sweep - math.tau
    x, y = middle.x * rx, middle.y * ry
    centre = (cosine * x - sine * y, sine * x + cosine * y)
    size = rx * grown, ry * grown
    return Matrix(size[0] * cosine, size[0] * sine, -size[1] * sine, size[1] * cosine, *centre), begin, sweep


# -- the data ------------------------------------------------------------------------------------------------------


def draw(data: str, pen: Pen) -> None:
    """Draw path data. Raises ValueError, with what can't be read, and TooMuchError."""
    pull = pen.at  # the last point that pulled a curve, for one that goes on smoothly
    before = ""
    pen.move(_ORIGIN)
    for letter, numbers in _commands(data):
        pen.asked += 1
        if pen.asked > _MOST_COMMANDS:
            raise TooMuchError
        command, start = letter.upper(), pen.at
        base = start if letter.islower() else _ORIGIN
        points = [base.moved(*numbers[i : i + 2]) for i in range(0, len(numbers) - 1, 2)]
        smooth = Point(2 * start.x - pull.x, 2 * start.y - pull.y)
        match command:
            case "M":
                pen.move(points[0])
            case "L":
                pen.line(points[0])
            case "H":
                pen.line(Point(base.x + numbers[0], start.y))
            case "V":
                pen.line(Point(start.x, base.y + numbers[0]))
            case "C":
                pen.curve(*points)
            case "S":
                pen.curve(smooth if before in ("C", "S") else start, *points)
            case "Q":
                pen.bow(*points)
            case "T":
                points = [smooth if before in ("Q", "T") else start, *points]
                pen.bow(*points)
            case "A":
                end = base.moved(*numbers[5:])
                pen.arc(numbers[0], numbers[1], numbers[2], (bool(numbers[3]), bool(numbers[4])), end)
            case _:
                pen.lift(closed=True)
        pull = points[-2] if command in ("C", "S", "Q", "T") else pen.at
        before = command
    pen.lift()


def _commands(data: str) -> Iterator[tuple[str, list[float]]]:
    """Yield each command with its numbers; one letter may stand before the numbers of several."""
    at, letter = _past_blanks(data, 0), ""
    while at < len(data):
        is_letter = data[at].isascii() and data[at].upper() in _ARGUMENTS
        if (not is_letter and letter in ("", "Z", "z")) or (not letter and data[at] not in "Mm"):
            raise _unreadable(data, at)
        if is_letter:
            letter, at = data[at], _past_blanks(data, at + 1)
        numbers: list[float] = []
        for place in range(_ARGUMENTS[letter.upper()]):
            found = (_FLAG if letter.upper() == "A" and place in (3, 4) else _NUMBER).match(data, at)
            if found is None:
                raise _unreadable(data, at)
            numbers.append(_finite(found[0]))
            at = _past_blanks(data, found.end())
        yield letter, numbers
        letter = {"M": "L", "m": "l"}.get(letter, letter)


def _past_blanks(data: str, at: int) -> int:
    found = _BLANK.match(data, at)
    return found.end() if found else at


def _unreadable(data: str, at: int) -> ValueError:
    return ValueError(f"its path data can't be read at '{shown(data[at : at + 20])}'")


def _finite(text: str) -> float:
    number = float(text)
    if abs(number) > LARGEST:
        raise ValueError(f"it has the number {shown(text, 20)}, which is far too large")
    return number


def listed(text: str, most: int = 2 * MOST_STEPS + 2) -> Sequence[float]:
    """Return the numbers in a list of them. Raises ValueError, with what can't be read, and TooMuchError."""
    at, found = _past_blanks(text, 0), list[float]()
    while at < len(text):
        number = _NUMBER.match(text, at)
        if number is None:
            raise _unreadable(text, at)
        if len(found) >= most:
            raise TooMuchError
        found.append(_finite(number[0]))
        at = _past_blanks(text, number.end())
    return found
