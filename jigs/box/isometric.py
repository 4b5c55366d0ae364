"""The assembled box in isometric projection, its hidden lines removed by computation.

The box is a few prisms with flat faces. An edge is hidden where a face that looks at the eye covers it and is nearer
to the eye there. Edge and face are both flat, so how much nearer the face is changes evenly along the edge: of the
stretch that a face covers in the picture, the hidden part ends where the two are equally far. That is exact for one
edge and one face, whatever their shapes and whether or not solids touch or pass through each other, and needs no order
of the faces; a ray towards the eye always leaves a solid through a face that looks at the eye, so the other faces hide
nothing more. Painter's order was not taken: the fingers of a corner go behind and before each other by turns.

A circle seen aslant is an ellipse, for which the drawing model has no shape: crown, crest and holes are drawn in flats
of a few degrees each. Axes of the box: x along the front from its left end, y from the front to the back, z up. The
box is as finished, its fingers flush and its joints closed.
"""

from __future__ import annotations

import math
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

import shapely
from shapely.geometry.base import BaseGeometry

from jigs.base import drawing as draw
from jigs.box.chain import Box, corner_names
from jigs.parts.handle.part import Handle
from jigs.parts.joint.part import LONGS, SHORTS, thicknesses
from jigs.parts.lid.part import Lid
from jigs.trade.fingers import Span, fingers_between
from jigs.trade.lid import arc_radius, arc_rise

WIDEST, TALLEST = 92.0, 124.0
"""Room for the picture on the cover, mm."""
SHARP = math.cos(math.radians(20))
"""Faces that meet at less than this angle belong to one round surface; their edge is drawn only as an outline."""
_FLATS = 24
"""Flats of a crown or crest, and of a quarter of a hole."""
_TOUCH = 1e-4
"""Nearer than this along the line of sight is equally near; far below what is drawn, mm."""
_LEAST = 0.02
"""Pieces of an edge shorter than this are rounding, mm."""


class Place(NamedTuple):
    """A point of the box, mm."""

    x: float
    y: float
    z: float


Flat = tuple[float, float]
Stretch = tuple[float, float]

EYE = Place(1 / math.sqrt(3), -1 / math.sqrt(3), 1 / math.sqrt(3))
"""Towards the eye: it looks at the front, the right end and the top."""
_RIGHT = Place(1 / math.sqrt(2), 1 / math.sqrt(2), 0.0)
_UP = Place(-1 / math.sqrt(6), 1 / math.sqrt(6), 2 / math.sqrt(6))


@dataclass(frozen=True, slots=True)
class Face:
    """A flat face, its corners in order, and the direction that it looks in."""

    corners: tuple[Place, ...]
    normal: Place


@dataclass(frozen=True, slots=True)
class Solid:
    """A part of the box as its faces."""

    name: str
    title: str
    faces: tuple[Face, ...]


def isometric(box: Box) -> draw.View | None:
    """Return the picture of the assembled box, its corners numbered; None where a rule stops its joint."""
    solids = solids_of(box)
    if not solids:
        return None
    lines = visible(solids)
    across = [x for pieces in lines.values() for piece in pieces for x, _ in piece]
    up = [y for pieces in lines.values() for piece in pieces for _, y in piece]
    scale = min(WIDEST / (max(across) - min(across)), TALLEST / (max(up) - min(up)), 1.0)
    parts = tuple(
        draw.Part(f"iso-{solid.name}", solid.title, tuple(_drawn(piece, scale) for piece in lines[solid.name]))
        for solid in solids
        if lines[solid.name]
    )
    return draw.View(
        "isometric", "The box, seen from the front right", parts, labels=_labels(box, scale), to_scale=False
    )


def _drawn(piece: Sequence[Flat], scale: float) -> draw.Line:
    return draw.Line(draw.line(*((x * scale, y * scale) for x, y in piece)), draw.Kind.EDGE)


def _labels(box: Box, scale: float) -> tuple[draw.Label, ...]:
    length, width, height = box.file.box.length, box.file.box.width, box.height

    def at(x: float, y: float, z: float) -> draw.Point:
        across, up = projected(Place(x, y, z))
        return draw.Point(across * scale, up * scale)

    third = height / 3
    first, second, opposite, fourth = corner_names(box.file)
    named = [
        draw.Label(first, at(length, 0, 0), towards="below"),
        draw.Label(second, at(length, width, third), towards="right"),
        draw.Label(opposite, at(0, width, height), towards="left"),
        draw.Label(fourth, at(0, 0, third), towards="left"),
        draw.Label("front", at(length / 2, 0, third), towards="below"),
        draw.Label("right end", at(length, width / 2, third), towards="below"),
    ]
    lift = height + lifted(box)
    if box.lid:
        named.append(draw.Label("lid", at(length + box.lid.overhang, width / 2, lift), towards="right"))
    return tuple(named)


def lifted(box: Box) -> float:
    """Return how far the lid is drawn above the box: so far that the whole rim is seen, the hindmost corner too."""
    if box.lid is None:
        return 0.0
    least = min(box.file.box.length, box.file.box.width)
    return 1.1 * least + box.lid.overhang + box.lid.plug_depth


# -- the solids ----------------------------------------------------------------------------------------------------


def solids_of(box: Box) -> tuple[Solid, ...]:
    """Return the parts of the box in their places; none where a rule stops its joint."""
    if box.numbers is None or min(box.inside) <= 0:
        return ()
    file, high = box.file, box.numbers.width
    long, short, thick = file.box.length, file.box.width, thicknesses(file)
    side, end_wall = thick[LONGS], thick[SHORTS]
    sockets = _stretches(box.numbers.long_sockets)
    fingers = _stretches(fingers_between(high, box.numbers.long_sockets))
    front, end = _side(long, high, end_wall, sockets), _side(short, high, side, fingers)
    solids = [
        prism("front", "Front", front, (0, side), _along_x),
        prism("right-end", "Right end", end, (long - end_wall, long), _along_y),
        prism("back", "Back", front, (short - side, short), _along_x),
        prism("left-end", "Left end", end, (0, end_wall), _along_y),
    ]
    if made := box.bottom:
        left, right, near, far = end_wall, long - end_wall, side, short - side
        inside = [(left, near), (right, near), (right, far), (left, far)]
        low = made.groove.from_bottom - made.rabbet_depths[0]
        solids.append(prism("bottom", "Bottom", inside, (low, low + made.thickness), _upright))
    if box.lid:
        solids += _lid(box, box.lid, high + lifted(box))
    return tuple(solids)


def _stretches(spans: Iterable[Span]) -> list[Stretch]:
    return [(span.start, span.end) for span in spans if span.width > _LEAST]


def _along_x(across: float, up: float, deep: float) -> Place:
    return Place(across, deep, up)


def _along_y(across: float, up: float, deep: float) -> Place:
    return Place(deep, across, up)


def _upright(across: float, up: float, deep: float) -> Place:
    return Place(across, up, deep)


def _side(length: float, height: float, depth: float, sockets: Sequence[Stretch]) -> list[Flat]:
    """Return the outline of a board: fingers and sockets at both ends, the bottom edge at 0."""
    left = [(0.0, 0.0)]
    for low, high in sockets:
        left += [(0.0, low), (depth, low), (depth, high), (0.0, high)]
    left.append((0.0, height))
    if sockets and sockets[0][0] < _LEAST:  # it starts with a socket, or ends with one: no wood at that corner
        left = left[2:]
    if sockets and sockets[-1][1] > height - _LEAST:
        left = left[:-2]
    return left[::-1] + [(length - across, up) for across, up in left]


def _lid(box: Box, made: Lid, foot: float) -> Iterator[Solid]:
    """Yield lid, plug and handle, the lid's underside at `foot`. The grain of the lid runs the long way."""
    over, along_x = made.overhang, box.file.box.length >= box.file.box.width
    along, across = (_along_x, _along_y) if along_x else (_along_y, _along_x)
    long, wide = made.length, made.width
    edge = foot + made.edge
    radius = made.crown_radius
    ridge = [(wide, edge), (0.0, edge)]
    if radius:
        ridge = [(at, edge + made.crown - arc_rise(radius, abs(2 * at - wide))) for at in _spread(wide, 0.0)]
    profile = [(-over, foot), (wide - over, foot), *((at - over, up) for at, up in ridge)]
    yield prism("lid", "Lid", profile, (-over, long - over), across)
    ends, sides = made.rabbets
    low = foot - made.plug_depth
    plug = [(sides - over, low), (wide - sides - over, low), (wide - sides - over, foot), (sides - over, foot)]
    yield prism("plug", "Plug of the lid", plug, (ends - over, long - ends - over), across)
    if handle := box.handle:
        middle, top = long / 2 - over, edge + made.crown
        outline = [(middle + x, top + y) for x, y in _handle(handle)]
        deep = wide / 2 - over - handle.thickness / 2
        yield prism("handle", "Handle", outline, (deep, deep + handle.thickness), along)


def _spread(start: float, end: float) -> list[float]:
    return [start + (end - start) * i / _FLATS for i in range(_FLATS + 1)]


def _handle(made: Handle) -> list[Flat]:
    """Return the outline of a handle, x from its middle and y from its foot: what its two holes leave of the blank."""
    half, radius = made.length / 2, arc_radius(made.length, made.crest)
    crest = [(x, made.height - arc_rise(radius, abs(2 * x))) for x in _spread(half, -half)]
    left: BaseGeometry = shapely.Polygon([(-half, 0.0), (half, 0.0), *crest])
    for side in (-1, 1):
        centre = shapely.Point(side * made.holes.centre_offset, made.hole_height)
        left = left.difference(centre.buffer(made.radius, quad_segs=_FLATS))
    whole = max(shapely.get_parts(left), key=lambda piece: float(piece.area))  # a hole may cut a tip off
    return [(float(x), float(y)) for x, y in shapely.normalize(whole).exterior.coords[:-1]]


def prism(
    name: str,
    title: str,
    outline: Sequence[Flat],
    between: Stretch,
    place: Callable[[float, float, float], Place],
) -> Solid:
    """Return the solid over an outline, `between` two depths; `place` turns across, up and depth into a place."""
    near, far = ([place(across, up, deep) for across, up in outline] for deep in between)
    inward = _minus(far[0], near[0])
    turned = _dot(_newell(near), inward) > 0  # the outline's own normal must look out of the solid at the near end
    if turned:
        near, far = near[::-1], far[::-1]
    faces = [_face(near), _face(far[::-1])]
    for i in range(len(near)):
        one, other = near[i - 1], near[i]
        faces.append(_face([other, one, far[i - 1], far[i]]))
    return Solid(name, title, tuple(faces))


def _face(corners: Sequence[Place]) -> Face:
    return Face(tuple(corners), _unit(_newell(corners)))


# -- which lines are seen ------------------------------------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class _Edge:
    """A straight edge of a solid, that is drawn where it is seen."""

    solid: str
    start: Place
    end: Place

    def at(self, share: float) -> Place:
        """Return the point this share of the way along."""
        return Place(*(a + (b - a) * share for a, b in zip(self.start, self.end, strict=True)))


def projected(place: Place) -> Flat:
    """Return where a place lies in the picture, mm at full size."""
    return _dot(place, _RIGHT), _dot(place, _UP)


def visible(solids: Sequence[Solid]) -> dict[str, list[tuple[Flat, Flat]]]:
    """Return the lines to draw of every solid, at full size. A line that two solids share is drawn once."""
    edges = _once([edge for solid in solids for edge in _edges(solid)])
    faces = [face for solid in solids for face in solid.faces if _dot(face.normal, EYE) > 1e-6]
    drawn: dict[str, list[tuple[Flat, Flat]]] = {solid.name: [] for solid in solids}
    for edge, hidden in zip(edges, _hidden(edges, faces), strict=True):
        size = math.dist(edge.start, edge.end)
        for start, end in _left_of((0.0, 1.0), hidden):
            if (end - start) * size > _LEAST:
                drawn[edge.solid].append((projected(edge.at(start)), projected(edge.at(end))))
    return drawn


def _edges(solid: Solid) -> Iterator[_Edge]:
    """Yield the edges that are drawn: sharp ones, and those at which a round surface turns away from the eye."""
    meeting: dict[frozenset[Place], list[Face]] = defaultdict(list)
    for face in solid.faces:
        for one, other in zip(face.corners, (*face.corners[1:], face.corners[0]), strict=True):
            meeting[frozenset((one, other))].append(face)
    for ends, faces in meeting.items():
        one, other = (face.normal for face in faces)
        turns_away = (_dot(one, EYE) > 0) != (_dot(other, EYE) > 0)
        if _dot(one, other) < SHARP or turns_away:
            yield _Edge(solid.name, *sorted(ends))


def _once(edges: Iterable[_Edge]) -> list[_Edge]:
    """Return edges without the stretches in which they lie on an edge before them."""
    lines: dict[tuple[float, ...], list[Stretch]] = defaultdict(list)
    kept = []
    for edge in edges:
        along = _unit(_minus(edge.end, edge.start))
        foot = _minus(edge.start, Place(*(_dot(edge.start, along) * part for part in along)))
        taken = lines[tuple(round(number, 4) + 0.0 for number in (*along, *foot))]
        start, end = _dot(edge.start, along), _dot(edge.end, along)
        for piece in _left_of((start, end), taken):
            if piece[1] - piece[0] > _LEAST:
                ends = (edge.at((at - start) / (end - start)) for at in piece)
                kept.append(_Edge(edge.solid, *ends))
        taken.append((start, end))
    return kept


def _hidden(edges: Sequence[_Edge], faces: Sequence[Face]) -> list[list[Stretch]]:
    """Return for every edge the shares of it that some face hides."""
    covers = [_cover(face) for face in faces]
    drawn = [shapely.LineString([projected(edge.start), projected(edge.end)]) for edge in edges]
    hidden: list[list[Stretch]] = [[] for _ in edges]
    of_edge, of_face = shapely.STRtree(covers).query(drawn, predicate="intersects")
    for i, j in sorted(zip(of_edge.tolist(), of_face.tolist(), strict=True)):
        face, edge = faces[j], edges[i]
        over = [_height_over(edge.at(share), face) for share in (0.0, 1.0)]
        behind = _where_above(over[0], over[1], _TOUCH)
        if behind:
            for start, end in _shares(drawn[i], covers[j]):
                low, high = max(start, behind[0]), min(end, behind[1])
                if high > low:
                    hidden[i].append((low, high))
    return hidden


def _cover(face: Face) -> shapely.Polygon:
    """Return a face in the picture, a hair larger: an edge just behind its rim is behind it."""
    return shapely.Polygon([projected(corner) for corner in face.corners]).buffer(1e-6, join_style="mitre")


def _shares(drawn: shapely.LineString, cover: shapely.Polygon) -> Iterator[Stretch]:
    """Yield between which shares of a straight line it is covered."""
    for piece in shapely.get_parts(drawn.intersection(cover)):
        shares = [drawn.project(shapely.Point(place)) / drawn.length for place in piece.coords]
        yield min(shares), max(shares)


def _height_over(place: Place, face: Face) -> float:
    """Return how much nearer to the eye a face is than a place, in whose line of sight it is taken to lie."""
    return _dot(_minus(face.corners[0], place), face.normal) / _dot(EYE, face.normal)


def _where_above(first: float, last: float, least: float) -> Stretch | None:
    """Return between which shares a height that changes evenly from first to last is over the least."""
    if max(first, last) <= least:
        return None
    if min(first, last) > least:
        return 0.0, 1.0
    crossing = (least - first) / (last - first)
    return (0.0, crossing) if first > last else (crossing, 1.0)


def _left_of(whole: Stretch, taken: Iterable[Stretch]) -> list[Stretch]:
    """Return what is left of a stretch."""
    left, at = [], whole[0]
    for start, end in sorted(taken):
        if start > at:
            left.append((at, min(start, whole[1])))
        at = max(at, end)
    if at < whole[1]:
        left.append((at, whole[1]))
    return [(start, end) for start, end in left if end > start]


# -- vectors -------------------------------------------------------------------------------------------------------


def _dot(one: Place, other: Place) -> float:
    return one.x * other.x + one.y * other.y + one.z * other.z


def _minus(one: Place, other: Place) -> Place:
    return Place(one.x - other.x, one.y - other.y, one.z - other.z)


def _unit(vector: Place) -> Place:
    size = math.hypot(*vector)
    return Place(vector.x / size, vector.y / size, vector.z / size)


def _newell(corners: Sequence[Place]) -> Place:
    """Return a normal of a polygon, convex or not: the sum over its edges (Newell)."""
    x = y = z = 0.0
    for one, other in pairwise((*corners, corners[0])):
        x += (one.y - other.y) * (one.z + other.z)
        y += (one.z - other.z) * (one.x + other.x)
        z += (one.x - other.x) * (one.y + other.y)
    return Place(x, y, z)
