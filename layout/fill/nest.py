"""Outlines nested into a room: small templates share a page, with room between them for the knife.

The room is a grid of small squares. An outline is the set of squares it touches; where it may stand is found for the
whole grid at once, as the correlation of the free squares with its own. Squares that are only touched count as taken,
so the distance kept is never less than asked for. The library rectpack was looked at and is not used: it packs
rectangles into rectangles, while here the room is what the proof and the title block leave of the page and outlines
have corners that others fit into.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from functools import cached_property

import numpy as np
import numpy.typing as npt
import shapely
from shapely.geometry.base import BaseGeometry

from jigs.base.drawing import Point

CELL = 2.0
"""Side of a square of the grid, mm: what nesting may waste at each outline, for its speed."""
_SEGMENTS = 4
"""Chords to a quarter of a round corner."""

Cells = npt.NDArray[np.bool_]


@dataclass(frozen=True)
class Outline:
    """An outline to be nested, with the squares it touches and those that it takes from others."""

    shape: BaseGeometry
    gap: float
    _waves: dict[tuple[int, ...], npt.NDArray[np.complex128]] = field(default_factory=dict, repr=False)

    @cached_property
    def own(self) -> Cells:
        """The squares it touches, from the upper left corner of its bounds."""
        return _touched(self.shape, self.shape.bounds)

    @cached_property
    def taken(self) -> Cells:
        """The squares that others may not touch: those within the gap, which lie `margin` squares further out."""
        bounds = shapely.box(*self.shape.bounds).buffer(self.margin * CELL, join_style="mitre").bounds
        return _touched(self.shape.buffer(self._reach, quad_segs=_SEGMENTS), bounds)

    @cached_property
    def least_area(self) -> float:
        """The area it takes in square mm, with half the gap round it: what no arrangement can do without."""
        return float(self.shape.buffer(self.gap / 2, quad_segs=4).area)

    def waves(self, shape: tuple[int, ...]) -> npt.NDArray[np.complex128]:
        """Return the Fourier transform of its squares in a grid of this shape."""
        if shape not in self._waves:
            self._waves[shape] = np.fft.rfft2(self.own.astype(np.float64), shape).conj()
        return self._waves[shape]

    @property
    def _reach(self) -> float:
        """The radius at which the polygon that stands for a round corner is nowhere nearer than the gap."""
        return self.gap / math.cos(math.pi / (4 * _SEGMENTS))

    @property
    def margin(self) -> int:
        """How many squares the gap reaches at most."""
        return math.ceil(self._reach / CELL)


class Room:
    """A room that is filled, one outline after the other."""

    def __init__(self, free: BaseGeometry) -> None:
        self._left, _, _, self._top = free.bounds
        self._taken = _touched(shapely.box(*free.bounds).difference(free), free.bounds)
        self._waves = np.fft.rfft2(self._taken.astype(np.float64))

    def copy(self) -> Room:
        """Return the room as it is now, to be filled in another way."""
        made = object.__new__(Room)
        made._left, made._top, made._taken, made._waves = self._left, self._top, self._taken.copy(), self._waves
        return made

    def find(self, outline: Outline) -> Point | None:
        """Return the move that brings an outline to the highest free place, the leftmost of these; None without one."""
        (rooms_high, rooms_wide), (high, wide) = self._taken.shape, outline.own.shape
        if high > rooms_high or wide > rooms_wide:
            return None
        counted = np.fft.irfft2(self._waves * outline.waves(self._taken.shape), self._taken.shape)
        # How many squares would be taken twice; places further down or right would reach round the rim of the grid.
        twice = counted[: rooms_high - high + 1, : rooms_wide - wide + 1]
        free = np.flatnonzero(twice < 0.5)
        if not free.size:
            return None
        row, column = divmod(int(free[0]), twice.shape[1])  # row by row, from the top
        left, _, _, top = outline.shape.bounds
        return Point(self._left + column * CELL - left, self._top - row * CELL - top)

    def take(self, outline: Outline, move: Point) -> None:
        """Take the room of an outline that has been moved to a place that was found, and the gap round it."""
        left, _, _, top = outline.shape.bounds
        row = round((self._top - top - move.y) / CELL) - outline.margin
        column = round((left + move.x - self._left) / CELL) - outline.margin
        high, wide = self._taken.shape
        rows, columns = outline.taken.shape
        inside = outline.taken[max(0, -row) : high - row, max(0, -column) : wide - column]
        self._taken[max(0, row) : row + rows, max(0, column) : column + columns] |= inside
        self._waves = np.fft.rfft2(self._taken.astype(np.float64))


def nest(outlines: Sequence[BaseGeometry], room: BaseGeometry, gap: float) -> list[Point | None]:
    """Return how far each outline is to be moved so that all stand in the room, at least `gap` mm apart.

    Each in turn takes the highest place left, the leftmost of these; None where there is none.
    """
    filled = Room(room)
    moves = []
    for outline in (Outline(shape, gap) for shape in outlines):
        move = filled.find(outline)
        if move is not None:
            filled.take(outline, move)
        moves.append(move)
    return moves


def _touched(outline: BaseGeometry, bounds: tuple[float, float, float, float]) -> Cells:
    """Return the squares that an outline touches, of a grid that starts at the upper left corner of the bounds."""
    left, bottom, right, top = bounds
    high, wide = (max(1, math.ceil(size / CELL - 1e-9)) for size in (top - bottom, right - left))
    cells = np.zeros((high, wide), dtype=np.bool_)
    if outline.is_empty:
        return cells
    own = outline.bounds
    first_column, last_column = (_within((x - left) / CELL, wide) for x in (own[0], own[2]))
    first_row, last_row = (_within((top - y) / CELL, high) for y in (own[3], own[1]))
    rows, columns = np.mgrid[first_row : last_row + 1, first_column : last_column + 1]
    inside = 1e-6  # what only meets a rim is not touched
    squares = shapely.box(
        left + columns * CELL + inside,
        top - (rows + 1) * CELL + inside,
        left + (columns + 1) * CELL - inside,
        top - rows * CELL - inside,
    )
    shapely.prepare(outline)
    cells[first_row : last_row + 1, first_column : last_column + 1] = shapely.intersects(outline, squares)
    return cells


def _within(cell: float, count: int) -> int:
    return min(max(math.floor(cell), 0), count - 1)
