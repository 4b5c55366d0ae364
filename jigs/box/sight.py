"""What is seen of solids, all their faces looked at together: a picture on a screen is drawn anew at every change.

It rests on the same fact as `isometric`: how much nearer one flat face is than another changes evenly over the picture,
so that one hides the other on one side of a straight line. Faces that lie in one plane, or go on into one another
without a sharp edge, are one surface; the rims of what is seen of the surfaces are all the lines there are to draw.
"""

from __future__ import annotations

import functools
import itertools
from collections.abc import Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from jigs.box.isometric import EYE, SHARP, Face, Place, Solid, projected
from jigs.record import Record

_TOUCH = 1e-4
"""Nearer than this along the line of sight is equally near, mm; smaller areas are rounding, mm²."""
_LEAST = 0.02
"""A smaller area that is left of a face is rounding, mm²."""
_GRID = 1e-3
"""What is seen of a surface is put together on a grid so fine, mm: it leaves no cracks and no splinters."""
_STEPS = 80
"""A line that may be hidden is looked at in so many places."""

Array = NDArray[np.float64]
Areas = NDArray[np.object_]


class Surface(Record):
    """A surface of a solid: its faces, what is seen of each, and of all of them, as areas of the picture."""

    solid: str
    faces: tuple[Face, ...]
    areas: tuple[BaseGeometry, ...]
    whole: BaseGeometry


@functools.lru_cache(maxsize=16)
def surfaces(solids: tuple[Solid, ...]) -> tuple[Surface, ...]:
    """Return every surface of which something is seen, in the order of the solids. Solids may touch or cross."""
    faces = _faces(solids)
    left = faces.left()
    seen = np.flatnonzero(shapely.area(left) > _LEAST)
    groups: dict[int, list[int]] = {}
    for i, group in zip(seen.tolist(), faces.groups(seen), strict=True):
        groups.setdefault(group, []).append(i)
    return tuple(
        Surface(faces.names[some[0]], tuple(faces.own[i] for i in some), tuple(left[some]), _together(left[some]))
        for some in groups.values()
    )


def _together(areas: Areas) -> BaseGeometry:
    whole: BaseGeometry = shapely.union_all(areas, grid_size=_GRID) if len(areas) > 1 else areas[0]
    return shapely.set_precision(whole, _GRID)


def unhidden(start: Place, end: Place, solids: tuple[Solid, ...]) -> list[tuple[Place, Place]]:
    """Return the stretches of a straight line that no face hides, found in steps: a thin line beside the solids."""
    faces = _faces(solids)
    shares = (np.arange(_STEPS) + 0.5) / _STEPS
    places = np.outer(1 - shares, start) + np.outer(shares, end)
    flat = places @ AXES.T
    of_place, of_face = faces.tree.query(shapely.points(flat), predicate="within")
    over = faces.heights(of_face, flat[of_place]) - (places @ EYE)[of_place]
    seen = np.ones(_STEPS, dtype=bool)
    seen[of_place[over > _TOUCH]] = False
    edges = np.flatnonzero(np.diff(np.concatenate([[False], seen, [False]]).astype(int))).reshape(-1, 2) / _STEPS
    way = np.array(end) - start
    return [(Place(*(start + way * a)), Place(*(start + way * b))) for a, b in edges]


def _axes() -> Array:
    """Return how far a step along each axis of the box goes to the right, and up."""
    return np.array([projected(Place(*step)) for step in np.eye(3).tolist()]).T


AXES = _axes()
"""How far a step along each axis of the box goes to the right, and up."""
_TOWARDS = np.sign(EYE)
"""Which way along each axis of the box the eye is."""


@functools.lru_cache(maxsize=4)
def _faces(solids: tuple[Solid, ...]) -> _Faces:
    return _Faces(solids)


class _Faces:
    """The faces that look at the eye, as areas of the picture and as planes over it."""

    def __init__(self, solids: Sequence[Solid]) -> None:
        every = [(number, face) for number, solid in enumerate(solids) for face in solid.faces]
        facing = np.array([face.normal for _, face in every]) @ EYE > 1e-6
        kept = list(itertools.compress(every, facing))
        self.solid = np.array([number for number, _ in kept])
        self.corners = [np.array([corner for face in solid.faces for corner in face.corners]) for solid in solids]
        self.names = [solids[number].name for number, _ in kept]
        self.own = [face for _, face in kept]
        self.normals = np.array([face.normal for face in self.own])
        self.counts = np.array([len(face.corners) for face in self.own])
        self.starts = np.cumsum(self.counts) - self.counts
        self.places = np.array([corner for face in self.own for corner in face.corners])
        self.ground = np.einsum("ij,ij->i", self.normals, self.places[self.starts])
        rings = shapely.linearrings(self.places @ AXES.T, indices=np.repeat(np.arange(len(self.own)), self.counts))
        self.flat: Areas = np.asarray(shapely.polygons(rings))
        slopes = [self.ground, *(-self.normals @ axis for axis in AXES)]
        self.planes = np.column_stack(slopes) / (self.normals @ EYE)[:, None]
        self.tree = shapely.STRtree(self.flat)

    def heights(self, faces: NDArray[np.int64], places: Array) -> Array:
        """Return how near to the eye the plane of a face is at each place of the picture, mm."""
        planes = self.planes[faces]
        near: Array = planes[:, 0] + planes[:, 1] * places[:, 0] + planes[:, 2] * places[:, 1]
        return near

    def left(self) -> Areas:
        """Return what nothing hides of every face.

        A solid that lies wholly in front of another one hides it with all its outline at once; faces are compared one
        by one within a solid, and where two interlock.
        """
        compared, covers = self._orders()
        i, j = self.tree.query(self.flat)
        some = compared[self.solid[i], self.solid[j]] & (i != j)
        i, j = i[some], j[some]
        some = (self._rises(j, i) > _TOUCH) & (-self._rises(i, j, least=True) > _TOUCH)
        i, j = i[some], j[some]
        hidden = shapely.intersection(self.flat[i], self.flat[j])
        some = shapely.area(hidden) > _TOUCH
        i, hidden = self._risen(i[some], j[some], hidden[some])
        left = shapely.difference(self.flat, covers[self.solid])
        hidden, own = shapely.get_parts(hidden, return_index=True)
        flat = shapely.get_dimensions(hidden) == 2  # where two only touch, lines come out too
        i, hidden = i[own[flat]], hidden[flat]
        order = np.argsort(i, kind="stable")
        i, hidden = i[order], hidden[order]
        at, starts = np.unique(i, return_index=True)
        unions = [shapely.union_all(some) for some in np.split(hidden, starts[1:])] if len(at) else []
        left[at] = shapely.difference(left[at], np.array(unions, dtype=object))
        return np.asarray(left)

    def _orders(self) -> tuple[NDArray[np.bool_], Areas]:
        """Return which solids' faces must be compared one by one, and what covers each solid from in front of it."""
        count = int(self.solid.max()) + 1
        low, high = (np.array([pick(self.corners[s], axis=0) for s in range(count)]) for pick in (np.min, np.max))
        low, high = low * _TOWARDS, high * _TOWARDS
        low, high = np.minimum(low, high), np.maximum(low, high)
        before = (low[:, None] >= high[None] - _TOUCH).any(axis=2)  # one solid on the eye's side of another
        outlines = np.array([shapely.union_all(self.flat[self.solid == s]) for s in range(count)])
        covers = [shapely.union_all(outlines[before[:, s] & ~before[s]]) for s in range(count)]
        return ~before & ~before.T, np.array(covers, dtype=object)

    def _rises(self, some: Any, over: Any, *, least: bool = False) -> Array:
        """Return how far the corners of faces rise over the planes of others at most, or at least, mm.

        A face hides another one only where it is before its plane, and the other is behind its own.
        """
        counts = self.counts[some]
        ends = np.cumsum(counts)
        corner = np.arange(ends[-1] if len(ends) else 0) - np.repeat(ends - counts - self.starts[some], counts)
        plane = np.repeat(over, counts)
        high = np.einsum("ij,ij->i", self.normals[plane], self.places[corner]) - self.ground[plane]
        return np.asarray((np.minimum if least else np.maximum).reduceat(high, ends - counts)) if len(ends) else high

    def _risen(self, i: Any, j: Any, both: Areas) -> tuple[Any, Areas]:
        """Return of pairs of faces, and where both lie, the first ones and where the second hides them."""
        coordinates, pair = shapely.get_coordinates(both, return_index=True)
        over = self.heights(j[pair], coordinates) - self.heights(i[pair], coordinates)
        starts = np.searchsorted(pair, np.arange(len(both)))
        highest, lowest = np.maximum.reduceat(over, starts), np.minimum.reduceat(over, starts)
        kept, cut = highest > _TOUCH, (highest > _TOUCH) & (lowest < -_TOUCH)
        if cut.any():
            slopes = self.planes[j[cut]] - self.planes[i[cut]]
            both = both.copy()
            both[cut] = shapely.intersection(both[cut], _halves(slopes, both[cut]))
        return i[kept], both[kept]

    def groups(self, some: NDArray[np.int64]) -> list[int]:
        """Return for each of some faces the first one of its surface."""
        group = list(range(len(some)))

        def root(i: int) -> int:
            while group[i] != i:
                i = group[i]
            return i

        known: dict[Any, int] = {}
        planes = np.round(np.column_stack([self.normals, self.ground]), 4) + 0.0
        for i, face in enumerate(some.tolist()):
            one = root(i)
            for other in self._neighbours(i, face, planes, known, some):
                group[max(one, root(other))] = one = min(one, root(other))
        return [root(i) for i in range(len(some))]

    def _neighbours(self, i: int, face: int, planes: Array, known: dict[Any, int], some: Any) -> list[int]:
        """Return the faces before it that are of one surface with it, and keep it for those after it."""
        name, found = self.names[face], [known.setdefault((self.names[face], *planes[face].tolist()), i)]
        if np.count_nonzero(planes[face, :3]) > 1:  # of a round surface; the others meet at right angles
            corners = self.own[face].corners
            for ends in zip(corners, (*corners[1:], corners[0]), strict=True):
                other = known.setdefault((name, frozenset(ends)), i)
                if self.normals[face] @ self.normals[some[other]] > SHARP:
                    found.append(other)
        return found


def _halves(slopes: Array, areas: Areas) -> Areas:
    """Return for each area a rectangle that holds all of it where its slope is over 0, and none of the rest."""
    size = np.hypot(slopes[:, 1], slopes[:, 2])
    forward = slopes[:, 1:] / size[:, None]
    sideways = np.column_stack([-forward[:, 1], forward[:, 0]])
    centres = shapely.get_coordinates(shapely.centroid(areas))
    bounds = shapely.bounds(areas)
    reach = 2 * np.hypot(bounds[:, 2] - bounds[:, 0], bounds[:, 3] - bounds[:, 1])
    out = -(slopes[:, 0] - _TOUCH + np.einsum("ij,ij->i", slopes[:, 1:], centres)) / size
    corners = [(out, -reach), (out + 2 * reach, -reach), (out + 2 * reach, reach), (out, reach)]
    rings = np.stack([centres + a[:, None] * forward + b[:, None] * sideways for a, b in corners], axis=1)
    return np.asarray(shapely.polygons(rings))
