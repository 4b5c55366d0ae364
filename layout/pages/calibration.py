"""What proves that a template came out true to size: the calibrated edges of its frame, and the squares.

The left edge carries a length and the bottom edge another from one corner, so that the ends of the two lie a whole
number apart: 240 and 180 make a diagonal of 300, a triangle of 3, 4 and 5. One rule so proves width, height and
squareness. The right and the top edge carry inches the same way: 8 and 6 with a diagonal of 10.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Iterator

from jigs.base.drawing import Bounds, Circle, Point, line, rectangle
from jigs.record import Record
from layout.pages.ink import CAPTION, Ink
from layout.sheet import marks
from layout.sheet.marks import Group, Pen, Stroke

INCH = 25.4
OUTSIDE = 5.6
"""What the ticks and their numbers take outside the frame, mm."""
_TICK, _HALF, _SHORT = 2.2, 1.6, 1.1


class Edges(Record):
    """The calibrated lengths of a frame: up and across in mm, up and across in inches, each a 3 : 4 : 5 triangle."""

    up: int
    across: int
    inches_up: int
    inches_across: int

    @property
    def diagonal(self) -> int:
        """Between the ends of the two lengths in mm, mm."""
        return round(math.hypot(self.up, self.across))


def edges_of(frame: Bounds) -> Edges:
    """Return the largest lengths that a frame has room for, in whole tens of mm and whole inches."""
    tall = frame.height >= frame.width
    long, short = (frame.height, frame.width) if tall else (frame.width, frame.height)
    tens = max(0, min(math.floor(long / 40 + 1e-9), math.floor(short / 30 + 1e-9)))
    inches = max(0, min(math.floor(long / INCH / 4 + 1e-9), math.floor(short / INCH / 3 + 1e-9)))
    up, across = (40 * tens, 30 * tens) if tall else (30 * tens, 40 * tens)
    inches_up, inches_across = (4 * inches, 3 * inches) if tall else (3 * inches, 4 * inches)
    return Edges(up, across, inches_up, inches_across)


def groups(frame: Bounds) -> tuple[Group, ...]:
    """Return the calibrated edges of a frame: each length as one line in a group of its own, ticks in another."""
    return tuple(group.moved(frame.left, frame.bottom) for group in _edges(frame.width, frame.height))


@functools.lru_cache(maxsize=64)
def _edges(width: float, height: float) -> tuple[Group, ...]:
    made = edges_of(Bounds(0, 0, width, height))
    lengths = (
        ("left", (0.0, 0.0), (0.0, float(made.up)), f"{made.up} mm up"),
        ("bottom", (0.0, 0.0), (float(made.across), 0.0), f"{made.across} mm across"),
        ("right", (width, height), (width, height - made.inches_up * INCH), f"{made.inches_up} in down"),
        ("top", (width, height), (width - made.inches_across * INCH, height), f"{made.inches_across} in across"),
    )
    found = []
    for name, start, end, title in lengths:
        if start != end:
            found.append(Group(f"calibration-{name}", title, (Stroke(line(start, end), marks.EDGE),)))
    return (*found, _ticks(width, height, made))


def _ticks(width: float, height: float, made: Edges) -> Group:
    ink = Ink("calibration-ticks", "Ticks of the calibrated edges")
    for mm in _marked(made.up):
        _tick(ink, Point(0, mm), "left", _long(mm), _number(mm, made.up))
    for mm in _marked(made.across):
        _tick(ink, Point(mm, 0), "bottom", _long(mm), _number(mm, made.across))
    for name, count in (("right", made.inches_up), ("top", made.inches_across)):
        for sixteenth in _sixteenths(count):
            at = sixteenth / 16 * INCH
            place = Point(width, height - at) if name == "right" else Point(width - at, height)
            number = f"{sixteenth // 16}" if sixteenth % 16 == 0 and sixteenth else ""
            number += " in" if number and sixteenth == 16 * count else ""
            _tick(ink, place, name, _long_inch(sixteenth), number)
    for end in (Point(0, made.up), Point(made.across, 0)):
        ink.strokes.append(Stroke(Circle(end, 1.0), marks.NARROW))
    return ink.group()


def _marked(most: int) -> Iterator[int]:
    """Yield the places of ticks, mm: every 10, and every one over the last 10."""
    yield from range(0, most - 10, 10)
    yield from range(most - 10, most + 1)


def _sixteenths(inches: int) -> Iterator[int]:
    """Yield the places of ticks in sixteenths: every quarter, and every sixteenth over the last inch."""
    if inches:
        yield from range(0, 16 * (inches - 1), 4)
        yield from range(16 * (inches - 1), 16 * inches + 1)


def _long(mm: int) -> float:
    return _TICK if mm % 10 == 0 else _HALF if mm % 5 == 0 else _SHORT


def _long_inch(sixteenth: int) -> float:
    return _TICK if sixteenth % 16 == 0 else _HALF if sixteenth % 8 == 0 else _SHORT


def _number(mm: int, most: int) -> str:
    if mm == most:
        return f"{mm} mm"
    return str(mm) if mm % 50 == 0 and mm and most - mm > 12 else ""


def _tick(ink: Ink, at: Point, edge: str, long: float, number: str) -> None:
    outward = {"left": (-1, 0), "right": (1, 0), "top": (0, 1), "bottom": (0, -1)}[edge]
    end = at.moved(outward[0] * long, outward[1] * long)
    ink.line(at, end, pen=marks.NARROW)
    if not number:
        return
    away = _TICK + 0.9
    bold = number.endswith(("mm", "in"))
    if edge in ("left", "right"):
        x = at.x - away if edge == "left" else at.x + away + CAPTION
        ink.write((x, at.y), number, CAPTION, "middle", upright=True, bold=bold)
    else:
        y = at.y + away if edge == "top" else at.y - away - CAPTION
        ink.write((at.x, y), number, CAPTION, "middle", bold=bold)


# -- squares -------------------------------------------------------------------------------------------------------


def square(left: float, bottom: float, side: float, pen: Pen = marks.EDGE) -> Group:
    """Return the calibration square alone."""
    return Group(
        "calibration-square",
        "Calibration square",
        (Stroke(rectangle(left, bottom, left + side, bottom + side), pen),),
    )


def square_ticks(left: float, bottom: float, side: float, count: int, longer: int) -> Group:
    """Return ticks along the upper and the right side of a square: `count` parts a side, every `longer` one longer."""
    ink = Ink("calibration-square-ticks", "Ticks of the square")
    for i in range(1, count):
        at = side * i / count
        long = 1.8 if i % longer == 0 else 1.0
        ink.line((left + at, bottom + side), (left + at, bottom + side - long), pen=marks.NARROW)
        ink.line((left, bottom + at), (left + long, bottom + at), pen=marks.NARROW)
    return ink.group()
