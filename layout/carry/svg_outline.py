"""The outlines in an SVG file from anywhere, as a box file keeps them: what is drawn with lines, at its place.

Paths, lines, polygons, rectangles, circles and ellipses are read with the transforms of their groups (SVG 1.1, 7 to 9).
All else is left out and counted. Nothing that the file names is fetched or run, and an entity ends the reading. How
wide a line is and how an area is filled makes no difference: what is seen at all is an outline to carve.
"""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable, Mapping, Sequence
from pathlib import Path
from xml.parsers import expat

from jigs.base import disk, outline
from jigs.base.drawing import Point
from jigs.base.errors import CannotRead
from jigs.base.wording import shown
from jigs.record import Record
from layout.carry import path_data
from layout.carry.path_data import Matrix, Pen, TooMuchError

MOST_BYTES = 20_000_000
"""A larger file is no drawing to carve."""
_DEEPEST, _MOST_ELEMENTS, _MOST_FUNCTIONS = 200, 100_000, 50  # nested; in all; of one transform
_PIECE = 1_000_000  # bytes of XML read at a time, and the longest tag
_LONGEST_STYLE = 10_000
_SVG = "http://www.w3.org/2000/svg"
_SIZE = re.compile(r"\s*([+-]?[0-9.]{1,40}(?:[eE][+-]?[0-9]{1,5})?)(px|pt|pc|mm|cm|in|q)?\s*", re.ASCII | re.IGNORECASE)
_UNITS = {"": 1.0, "px": 1.0, "pt": 96 / 72, "pc": 16.0, "mm": 96 / 25.4, "cm": 960 / 25.4, "in": 96.0, "q": 24 / 25.4}
"""Lengths in the unit of the drawing, of which 96 are an inch (CSS Values 3, 5.2)."""
_FUNCTION = re.compile(r"[\s,]*([A-Za-z]{1,9})\s*\(([^()]*)\)[\s,]*", re.ASCII)
_GROUPS = ("svg", "g", "a", "switch")
_NOT_DRAWN = ("defs", "symbol", "clipPath", "mask", "marker", "pattern", "text", "foreignObject", "filter")
"""What is in these is not drawn where it stands."""
_LEFT_OUT: Mapping[str, str] = {
    "text": "text",
    "image": "image",
    "use": "linked copy",
    "linearGradient": "gradient",
    "radialGradient": "gradient",
    "clipPath": "clip",
    "mask": "mask",
    "marker": "marker",
    "pattern": "pattern fill",
    "symbol": "symbol",
    "filter": "filter",
    "style": "style sheet",
    "script": "script",
    "foreignObject": "foreign object",
    **dict.fromkeys(("animate", "animateTransform", "animateMotion", "animateColor", "set"), "animation"),
    **dict.fromkeys(("video", "audio", "canvas", "iframe"), "film or sound"),
}
"""What is no outline, in words."""


class Drawing(Record):
    """The outlines of a file: their text as a box file keeps it, how many lines they are, and what was left out."""

    outline: str
    lines: int
    left_out: str


def load(path: Path | str) -> Drawing:
    """Return the outlines of the SVG file at `path`. Raises as `read` does, and for a path that holds no file."""
    return read(disk.content(path, MOST_BYTES, "an SVG file"), str(path))


def read(content: bytes, name: str) -> Drawing:
    """Return the outlines of an SVG; `name` is what messages call it.

    Raises CannotRead for what is no SVG, has no outline, has more than is carved, or is made to do harm.
    """
    if len(content) > MOST_BYTES:
        raise CannotRead(f"{name} has more than {MOST_BYTES // 1_000_000} MB; a drawing to carve has less")
    if not content.strip():
        raise CannotRead(f"{name} is empty")
    reading = _Reading()
    try:
        reading.read(content)
    except TooMuchError:
        most = outline.MOST_STEPS
        raise CannotRead(f"{name} has more than {most} lines, curves and arcs; draw a plainer pattern") from None
    except (expat.ExpatError, ValueError, LookupError) as error:
        raise CannotRead(f"{name} can't be read as an SVG: {shown(str(error), 200)}") from None
    left_out = _counted(reading.left_out)
    if not reading.pen.strokes:
        found = f"; left out: {left_out}" if left_out else ""
        raise CannotRead(f"{name} has no outline to carve{found}. In your drawing program, turn objects into paths")
    try:
        text = outline.written(tuple(reading.pen.strokes))
    except ValueError as error:
        raise CannotRead(f"{name}: the outline {error}") from None
    return Drawing(text, len(outline.read(text)), left_out)


def _counted(left_out: Mapping[str, int]) -> str:
    """Return what was left out, in words: 2 texts, 1 image."""
    return ", ".join(f"{count} {what if count == 1 else _several(what)}" for what, count in left_out.items())


def _several(what: str) -> str:
    """Return the plural of what is left out: of its first word, where words are added to that."""
    first, blank, rest = what.partition(" sized")
    return (f"{first[:-1]}ies" if first.endswith("y") else f"{first}s") + blank + rest


# -- the document --------------------------------------------------------------------------------------------------


_AS_IT_IS = Matrix()


class _State(Record):
    """What an element has from those around it."""

    matrix: Matrix = _AS_IT_IS
    drawn: bool = True
    shown: bool = True
    filled: bool = True
    lined: bool = False


class _Reading:
    """An SVG being read: expat keeps nothing of it, fetches nothing, and is stopped at the first entity."""

    def __init__(self) -> None:
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.EntityDeclHandler = self._declared
        self.parser.AttlistDeclHandler = self._declared
        self.pen = Pen(_AS_IT_IS)
        self.left_out = Counter[str]()
        self._states = [_State()]
        self._elements = 0

    def read(self, content: bytes) -> None:
        """Read it all, piece by piece. Raises ValueError for what no drawing has."""
        for start in range(0, len(content), _PIECE):
            self.parser.Parse(content[start : start + _PIECE], False)
            if start - self.parser.CurrentByteIndex > _PIECE:  # what is not closed yet
                raise ValueError("it has a tag without an end")
        self.parser.Parse(b"", True)

    def _start(self, full: str, attributes: dict[str, str]) -> None:
        self._elements += 1
        if len(self._states) > _DEEPEST:
            raise ValueError(f"its elements are nested more than {_DEEPEST} deep")
        if self._elements > _MOST_ELEMENTS:
            raise ValueError(f"it has more than {_MOST_ELEMENTS} elements")
        space, _, name = full.rpartition(" ")
        before = self._states[-1]
        if len(self._states) == 1 and (name != "svg" or space not in ("", _SVG)):
            raise ValueError(f"it begins with <{shown(name)}>, not with <svg>")
        if space not in ("", _SVG):
            self._states.append(_State(drawn=False))
            return
        nested = name == "svg" and len(self._states) > 1
        if nested or name in _LEFT_OUT:
            self.left_out["inner drawing" if nested else _LEFT_OUT[name]] += 1
        if not before.drawn or nested or name in _NOT_DRAWN:
            self._states.append(_State(drawn=False))
            return
        self._states.append(state := _within(before, attributes))
        if name in _SHAPES:
            self._shape(name, attributes, state)
        elif name not in _GROUPS:
            self._states[-1] = _State(drawn=False)

    def _shape(self, name: str, attributes: dict[str, str], state: _State) -> None:
        if not state.shown or not (state.filled or state.lined):
            self.left_out["hidden shape"] += 1
            return
        self.pen.matrix = state.matrix
        try:
            _SHAPES[name](self.pen, attributes)
        except _OfNoSizeError:
            self.left_out["shape sized by its window"] += 1

    def _end(self, name: str) -> None:
        del name
        self._states.pop()

    def _declared(self, *declared: object) -> None:
        del declared
        raise ValueError("it declares entities or attributes, which a drawing to carve does without")


def _within(before: _State, attributes: Mapping[str, str]) -> _State:
    """Return what an element has from those around it and from itself."""
    said = {**attributes, **_style(attributes.get("style", ""))}
    matrix = before.matrix
    if said_of := attributes.get("transform"):
        matrix = matrix.then(transform(said_of))

    def painted(name: str, around: bool) -> bool:
        value = said.get(name, "inherit").strip()
        return around if value == "inherit" else value not in ("none", "transparent")

    seen = said.get("visibility", "").strip() not in ("hidden", "collapse")
    displayed = said.get("display", "").strip() != "none"
    return _State(
        matrix,
        drawn=before.drawn,
        shown=before.shown and seen and displayed,
        filled=painted("fill", before.filled),
        lined=painted("stroke", before.lined),
    )


def _style(text: str) -> dict[str, str]:
    """Return the properties of a style attribute."""
    if len(text) > _LONGEST_STYLE:
        raise ValueError(f"it has a style of {len(text)} characters")
    pairs = (rule.partition(":") for rule in text.split(";"))
    return {name.strip(): value.strip() for name, colon, value in pairs if colon}


def transform(text: str) -> Matrix:
    """Return the transform that an attribute says. Raises ValueError for one that can't be read."""
    made, at = _AS_IT_IS, 0
    for _ in range(_MOST_FUNCTIONS):
        found = _FUNCTION.match(text, at)
        if found is None:
            break
        made = made.then(_function(found[1], path_data.listed(found[2], 6)))
        at = found.end()
    if text[at:].strip():
        raise ValueError(f"its transform can't be read at '{shown(text[at : at + 20])}'")
    return made


def _function(name: str, numbers: Sequence[float]) -> Matrix:
    """Return one transform function as its matrix (SVG 1.1, 7.6)."""
    made: Matrix | None = None
    match name, [*numbers]:
        case "matrix", [a, b, c, d, e, f]:
            made = Matrix(a, b, c, d, e, f)
        case "translate", [x, *y] if len(y) < 2:
            made = Matrix(e=x, f=y[0] if y else 0.0)
        case "scale", [x, *y] if len(y) < 2:
            made = Matrix(a=x, d=y[0] if y else x)
        case "rotate", [turn]:
            cosine, sine = math.cos(math.radians(turn)), math.sin(math.radians(turn))
            made = Matrix(cosine, sine, -sine, cosine)
        case "rotate", [turn, x, y]:
            made = Matrix(e=x, f=y).then(_function("rotate", [turn])).then(Matrix(e=-x, f=-y))
        case "skewX", [turn]:
            made = Matrix(c=math.tan(math.radians(turn)))
        case "skewY", [turn]:
            made = Matrix(b=math.tan(math.radians(turn)))
    if made is None:
        raise ValueError(f"its transform {shown(name)} can't be read")
    return made


# -- shapes (SVG 1.1, 9) -------------------------------------------------------------------------------------------


class _OfNoSizeError(ValueError):
    """A shape that is measured by the window it is shown in, or by its letters."""


def _sizes(attributes: Mapping[str, str], *names: str) -> list[float]:
    """Return the sizes under these names, 0 where one is missing. Raises ValueError for what is none."""
    return [_size(attributes.get(name, "0")) for name in names]


def _size(text: str) -> float:
    if text.strip().endswith(("%", "em", "ex", "rem", "vw", "vh")):
        raise _OfNoSizeError
    found = _SIZE.fullmatch(text)
    if found is None:
        raise ValueError(f"its size '{shown(text, 20)}' can't be read")
    number = float(found[1]) * _UNITS[(found[2] or "").lower()]
    if not abs(number) <= path_data.LARGEST:
        raise ValueError(f"it has the size {shown(text, 20)}, which is far too large")
    return number


def _path(pen: Pen, attributes: Mapping[str, str]) -> None:
    path_data.draw(attributes.get("d", ""), pen)


def _line(pen: Pen, attributes: Mapping[str, str]) -> None:
    x1, y1, x2, y2 = _sizes(attributes, "x1", "y1", "x2", "y2")
    _through([Point(x1, y1), Point(x2, y2)], pen, closed=False)


def _polyline(pen: Pen, attributes: Mapping[str, str]) -> None:
    _through(_points(attributes), pen, closed=False)


def _polygon(pen: Pen, attributes: Mapping[str, str]) -> None:
    _through(_points(attributes), pen, closed=True)


def _points(attributes: Mapping[str, str]) -> list[Point]:
    found = path_data.listed(attributes.get("points", ""))
    return [Point(*found[i : i + 2]) for i in range(0, len(found) - 1, 2)]


def _through(points: list[Point], pen: Pen, *, closed: bool) -> None:
    if points:
        pen.move(points[0])
        for point in points[1:]:
            pen.line(point)
        pen.lift(closed=closed)


def _rect(pen: Pen, attributes: Mapping[str, str]) -> None:
    x, y, wide, high = _sizes(attributes, "x", "y", "width", "height")
    if wide <= 0 or high <= 0:
        return
    across, up = (_size(text) if (text := attributes.get(n, "auto").strip()) != "auto" else None for n in ("rx", "ry"))
    rx, ry = (one if one is not None else other or 0.0 for one, other in ((across, up), (up, across)))
    rx, ry = min(max(rx, 0.0), wide / 2), min(max(ry, 0.0), high / 2)
    if not (rx and ry):
        _through([Point(x, y), Point(x + wide, y), Point(x + wide, y + high), Point(x, y + high)], pen, closed=True)
        return
    pen.move(Point(x + rx, y))
    for line, corner in (
        ((x + wide - rx, y), (x + wide, y + ry)),
        ((x + wide, y + high - ry), (x + wide - rx, y + high)),
        ((x + rx, y + high), (x, y + high - ry)),
        ((x, y + ry), (x + rx, y)),
    ):
        pen.line(Point(*line))
        pen.arc(rx, ry, 0.0, (False, True), Point(*corner))
    pen.lift(closed=True)


def _circle(pen: Pen, attributes: Mapping[str, str]) -> None:
    x, y, radius = _sizes(attributes, "cx", "cy", "r")
    _round(pen, Point(x, y), radius, radius)


def _ellipse(pen: Pen, attributes: Mapping[str, str]) -> None:
    _round(pen, Point(*_sizes(attributes, "cx", "cy")), *_sizes(attributes, "rx", "ry"))


def _round(pen: Pen, middle: Point, rx: float, ry: float) -> None:
    if rx <= 0 or ry <= 0:
        return
    pen.move(middle.moved(rx, 0))
    for quarter in ((0, ry), (-rx, 0), (0, -ry), (rx, 0)):
        pen.arc(rx, ry, 0.0, (False, True), middle.moved(*quarter))
    pen.lift(closed=True)


_SHAPES: Mapping[str, Callable[[Pen, Mapping[str, str]], None]] = {
    "path": _path,
    "line": _line,
    "polyline": _polyline,
    "polygon": _polygon,
    "rect": _rect,
    "circle": _circle,
    "ellipse": _ellipse,
}
"""What is drawn with lines, by the name of its element."""
