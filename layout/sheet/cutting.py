"""What a writer sees of a piece for a machine: what it cuts through, what it engraves, what it drills.

Millimetres at 1:1, y up, everything right of and above the corner at 0.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Literal
from urllib.parse import quote

from jigs.base.drawing import ArcTo, Bounds, Circle, Path, Point, around, on_circle
from jigs.record import Record, replace

LayerName = Literal["mark", "drill", "cut"]
LAYERS: tuple[LayerName, ...] = ("mark", "drill", "cut")
"""The layers in the order of work: what is cut out last can't move before."""


def whose(prefix: str) -> str:
    """Return what a file says of itself, by which it is known again; any name in letters that every format can hold."""
    return f"jigleaf cut file of {quote(prefix)};"


class CutPiece(Record):
    """One piece in one file: `name` is that of the file, `prefix` that of all files of the job.

    `cut` holds the openings first and the outline last, all closed and set off by half of what the tool cuts away;
    `wide` holds round holes that the tool has no room in, at their true size, to be drilled.
    """

    name: str
    title: str
    prefix: str
    cut: tuple[Path | Circle, ...] = ()
    mark: tuple[Path | Circle, ...] = ()
    drill: tuple[Point, ...] = ()
    wide: tuple[Circle, ...] = ()

    @property
    def bounds(self) -> Bounds:
        """The box round all of it, of arcs too to the last bit: a machine starts from its corner."""
        points = [Bounds(*point, *point) for point in self.drill]
        return around([*(box_of(shape) for shape in (*self.cut, *self.mark, *self.wide)), *points])

    @property
    def said(self) -> str:
        """What the file says of itself."""
        return f"{whose(self.prefix)} millimetres, 1:1"

    def layers(self) -> Iterator[tuple[LayerName, tuple[Path | Circle | Point, ...]]]:
        """Go through the layers that hold something."""
        shapes: tuple[tuple[Path | Circle | Point, ...], ...] = (self.mark, (*self.wide, *self.drill), self.cut)
        yield from ((name, some) for name, some in zip(LAYERS, shapes, strict=True) if some)

    def at_the_corner(self) -> CutPiece:
        """Return the piece with the lower left corner of the box round it at 0."""
        box = self.bounds
        by = (-box.left, -box.bottom)
        return replace(
            self,
            cut=tuple(shape.moved(*by) for shape in self.cut),
            mark=tuple(shape.moved(*by) for shape in self.mark),
            drill=tuple(point.moved(*by) for point in self.drill),
            wide=tuple(circle.moved(*by) for circle in self.wide),
        )


def box_of(shape: Path | Circle) -> Bounds:
    """Return the box round a shape: round the ends of its steps, and where an arc runs level or upright."""
    if isinstance(shape, Circle):
        return shape.bounds
    points, at = [shape.start], shape.start
    for step in shape.steps:
        if isinstance(step, ArcTo):
            points += _outermost(at, step)
        points.append(step.end)
        at = step.end
    return around(Bounds(*point, *point) for point in points)


def _outermost(start: Point, arc: ArcTo) -> Iterator[Point]:
    """Yield the points of an arc furthest right, up, left and down of its centre, as far as it comes there."""
    begin, sweep = math.atan2(start.y - arc.centre.y, start.x - arc.centre.x), arc.sweep(start)
    for quarter in range(4):
        turn = (quarter * math.pi / 2 - begin) % math.tau
        if turn <= sweep or turn - math.tau >= sweep:
            yield on_circle(arc.centre, arc.radius, quarter * 90)
