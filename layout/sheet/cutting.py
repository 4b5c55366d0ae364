"""What a writer sees of a piece for a machine: what it cuts through, what it engraves, what it drills.

Millimetres at 1:1, y up, everything right of and above the corner at 0.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from jigs.base.drawing import Bounds, Circle, Path, Point, around

LayerName = Literal["mark", "drill", "cut"]
LAYERS: tuple[LayerName, ...] = ("mark", "drill", "cut")
"""The layers in the order of work: what is cut out last can't move before."""
OURS = "jigleaf cut file of"
"""How a file begins to say whose it is; the prefix of its job comes after it."""


@dataclass(frozen=True, slots=True)
class CutPiece:
    """One piece in one file: `name` is that of the file, `prefix` that of all files of the job.

    `cut` holds the openings first and the outline last, all closed and set off by half the kerf; `wide` holds round
    holes that the kerf has no room in, at their true size, to be drilled.
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
        """The box round all of it."""
        points = [Bounds(*point, *point) for point in self.drill]
        return around([*(shape.bounds for shape in (*self.cut, *self.mark, *self.wide)), *points])

    @property
    def whose(self) -> str:
        """What the file says of itself, by which it is known again."""
        return f"{OURS} {self.prefix};"

    def layers(self) -> Iterator[tuple[LayerName, tuple[Path | Circle | Point, ...]]]:
        """Go through the layers that hold something."""
        shapes: tuple[tuple[Path | Circle | Point, ...], ...] = (self.mark, (*self.wide, *self.drill), self.cut)
        yield from ((name, some) for name, some in zip(LAYERS, shapes, strict=True) if some)

    def at_the_corner(self) -> CutPiece:
        """Return the piece with the lower left corner of the box round it at 0."""
        box = self.bounds
        by = (-box.left, -box.bottom)
        return CutPiece(
            self.name,
            self.title,
            self.prefix,
            tuple(shape.moved(*by) for shape in self.cut),
            tuple(shape.moved(*by) for shape in self.mark),
            tuple(point.moved(*by) for point in self.drill),
            tuple(circle.moved(*by) for circle in self.wide),
        )
