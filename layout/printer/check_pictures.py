"""The print check on a screen: where the four readings are taken on the sheet, and what they say the printer does."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.drawing import Bounds, Colour, Kind, Line, Part, Point
from jigs.base.lengths import Units
from jigs.record import replace
from layout.pages import picture
from layout.pages.voice import Voice
from layout.printer import print_check
from layout.printer.correction import Distortion, signed
from layout.sheet import lettering, marks
from layout.sheet.marks import Group, Layer, Pen, Stroke, Text
from layout.sheet.paper import Paper
from layout.write import svg

_BLUE = Colour(15, 74, 112)
_LINE, _AREA = Pen("reading", 1.2, colour=_BLUE), marks.fill(_BLUE)
_LETTERS, _HEAD = 6.0, 8.0
_ROUND, _SHARE = 1.5, 0.12
"""Room round words, mm; what a printer does is drawn so large that it moves a corner this share of the width."""
_TIMES = (100, 50, 20, 10, 5, 2)
_SIZE = 76.0


def sheet(on: Paper, units: Units) -> bytes:
    """Return the rectangle of the print check with the four readings in blue, as SVG. Raises CannotBuild for a paper
    that is too small.

    It stands on its page as it is printed, without the words inside it: lines would run over them.
    """
    made = print_check.sheet(on, units, "none").sheets[0]
    rectangle = next(group for group in made.groups() if group.name == "calibration-rectangle")
    readings = Layer("readings", "Where to read", tuple(_readings(rectangle.strokes[0].shape.bounds)))
    layers = (Layer("template", "Print check", (rectangle,)), readings)
    return svg.write(replace(made, layers=layers), "Where to read the print check")


def _readings(box: Bounds) -> Iterator[Group]:
    corners = {
        "across": ((box.left, box.bottom), (box.right, box.bottom), 0.5),
        "up": ((box.left, box.bottom), (box.left, box.top), 0.3),
        "rising": ((box.left, box.bottom), (box.right, box.top), 0.25),
        "falling": ((box.left, box.top), (box.right, box.bottom), 0.75),
    }
    for name, (start, end, share) in corners.items():
        line = Stroke(draw.line(start, end), _LINE)
        heads = (_head(start, end), _head(end, start))
        middle = Point(start[0] + share * (end[0] - start[0]), start[1] + share * (end[1] - start[1]))
        inward = {"across": (0.0, _LETTERS), "up": (0.6 * lettering.width(name, _LETTERS, True) + 2.0, 0.0)}
        at = middle.moved(*inward.get(name, (0.0, 0.0))).moved(0.0, -_LETTERS / 2)
        text = Text(at, name, _LETTERS, "middle", bold=True)
        paper = Stroke(draw.rectangle(*text.box.grown(_ROUND)), marks.PAPER)
        yield Group(f"reading-{name}", f"Reading {name}", (line, *heads, paper), (text,))


def _head(tail: tuple[float, float], tip: tuple[float, float]) -> Stroke:
    angle = math.atan2(tip[1] - tail[1], tip[0] - tail[0])
    back = [
        (tip[0] - _HEAD * math.cos(angle + turn), tip[1] - _HEAD * math.sin(angle + turn))
        for turn in (math.radians(14), math.radians(-14))
    ]
    return Stroke(draw.polygon(tip, *back), _AREA)


def enlarged(measured: Distortion, wide: float, high: float) -> int:
    """Return how many times too large what a printer does can be drawn, so that a corner still moves little."""
    most = max((math.dist(corner, true) for corner, true in _corners(measured, wide, high, 1)), default=0.0)
    return next((times for times in _TIMES if 0 < most * times <= _SHARE * wide), 1)


def verdict(measured: Distortion, on: Paper, units: Units) -> tuple[bytes, int]:
    """Return what a printer makes of the rectangle, and how many times too large that is drawn; true is dashed."""
    wide, high = print_check.size(on)
    times = enlarged(measured, wide, high)
    printed = [corner for corner, _ in _corners(measured, wide, high, times)]
    parts = (
        Part("true", "As it should be", (Line(draw.rectangle(0.0, 0.0, wide, high), Kind.NEIGHBOUR),)),
        Part("printed", "As it was printed", (Line(draw.polygon(*printed)),)),
    )
    below, right = _middle(printed[0], printed[1]), _middle(printed[1], printed[2])
    top = _middle(printed[2], printed[3])
    labels = (
        draw.Label(f"across {signed((measured.scale_across - 1) * 100)} %", below, towards="below"),
        draw.Label(f"up {signed((measured.scale_up - 1) * 100)} %", right, towards="right"),
        draw.Label(f"skew {signed(measured.skew)}°", top, towards="above"),
    )
    view = draw.View("printed", "What the printer makes of the rectangle", parts, labels=labels, to_scale=False)
    made = picture.alone(view, (), Voice(units), "printed", _SIZE)
    return svg.write(made, "What the printer makes of the rectangle"), times


def _corners(
    measured: Distortion, wide: float, high: float, times: int
) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Return the corners as they are printed, what is wrong so many times too large, each with where it should be."""
    across, up = 1 + times * (measured.scale_across - 1), 1 + times * (measured.scale_up - 1)
    skew = math.radians(times * measured.skew)
    true = [(0.0, 0.0), (wide, 0.0), (wide, high), (0.0, high)]
    return [((across * x + up * math.sin(skew) * y, up * math.cos(skew) * y), (x, y)) for x, y in true]


def _middle(one: tuple[float, float], other: tuple[float, float]) -> Point:
    return Point((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
