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
from bisect import bisect_left, bisect_right
from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from jigs.base import drawing as draw
from jigs.base.keeping import kept
from jigs.base.wording import say
from jigs.box.chain import Box, corner_names
from jigs.parts.handle.part import Handle
from jigs.parts.joint.part import LONGS, SHORTS, thicknesses
from jigs.parts.lid.part import Lid
from jigs.record import Record
from jigs.trade.fingers import Span, fingers_between
from jigs.trade.hole import Hole
from jigs.trade.lid import arc_radius, arc_rise

APART = 0.22
"""How far front and right end are drawn from the box, as a share of its shorter side."""
BANK_CARD = (85.60, 53.98)
"""A bank card beside the box, for a sense of its size: ISO/IEC 7810, ID-1, mm."""
_CARD_CORNER = 3.18
"""Radius of its corners, mm (the same standard)."""
SHARP = math.cos(math.radians(20))
"""Faces that meet at less than this angle belong to one round surface; their edge is drawn only as an outline."""
_FLATS = 24
"""Flats of a crown or crest, and of a quarter of a hole."""
_TOUCH = 1e-4
"""Nearer than this along the line of sight is equally near; far below what is drawn, mm."""
_CARVED_WITHIN = 0.1
"""How far the flats of a pattern may leave its arcs, far below what is seen at the scale of the picture, mm."""
_LEAST = 0.02
"""Pieces of an edge shorter than this are rounding, mm."""


class Place(NamedTuple):
    """A point of the box, mm."""

    x: float
    y: float
    z: float


Flat = tuple[float, float]
Stretch = tuple[float, float]
Plane = NDArray[np.float64]
Numbers = NDArray[np.int64]

EYE = Place(1 / math.sqrt(3), -1 / math.sqrt(3), 1 / math.sqrt(3))
"""Towards the eye: it looks at the front, the right end and the top."""
_RIGHT = Place(1 / math.sqrt(2), 1 / math.sqrt(2), 0.0)
_UP = Place(-1 / math.sqrt(6), 1 / math.sqrt(6), 2 / math.sqrt(6))


class Face(Record):
    """A flat face, its corners in order, and the direction that it looks in."""

    corners: tuple[Place, ...]
    normal: Place


class Solid(Record):
    """A part of the box as its faces."""

    name: str
    title: str
    faces: tuple[Face, ...]


def isometric(box: Box) -> draw.View | None:
    """Return the picture of the box taken apart, with its sizes; None where a rule stops its joint.

    Lid, front and right end stand off, so that fingers, bottom and groove are seen. A bank card lies beside it, at the
    same scale.
    """
    moved = taken_apart(box)
    if not moved:
        return None
    lines = visible(moved)
    parts = [
        draw.Part(f"iso-{solid.name}", solid.title, draw.lines([draw.line(*piece) for piece in lines[solid.name]]))
        for solid in moved
        if lines[solid.name]
    ]
    parts += _carved(box)
    sizes = tuple(_sizes(box))
    parts += [size.drawn() for size in sizes]
    parts.append(_bank_card(box))
    labels = (*_labels(box), *(size.label() for size in sizes))
    return draw.View("isometric", "The box taken apart, seen from the front right", tuple(parts), labels=labels,
                     to_scale=False)  # fmt: skip


def taken_apart(box: Box) -> tuple[Solid, ...]:
    """Return the parts of the box where that picture has them; none where a rule stops its joint."""
    away = moved_away(box)
    return tuple(moved(solid, away.get(solid.name, Place(0, 0, 0))) for solid in solids_of(box))


def moved_away(box: Box) -> dict[str, Place]:
    """Return how far that picture moves the parts that stand off."""
    return {"front": Place(0, -_apart(box), 0), "right-end": Place(_apart(box), 0, 0)}


def _apart(box: Box) -> float:
    return APART * min(box.file.box.length, box.file.box.width) + 10.0


def _carved(box: Box) -> Iterator[draw.Part]:
    """Yield the pattern on the front or on the right end, which nothing hides; other sides are not seen."""
    made = box.pattern
    if made is None or made.side not in ("front", "right end"):
        return
    off, proud = _apart(box), box.file.joint.proud
    right = box.file.box.length + off

    def at(x: float, y: float) -> Flat:
        along = x - proud  # the box is as finished, its fingers flush
        return projected(Place(along, -off, y) if made.side == "front" else Place(right, along, y))

    lines = [line.moved(*made.middle).points(_CARVED_WITHIN) for line in made.lines]
    shapes = [draw.line(*(at(*point) for point in points)) for points in lines]
    yield draw.Part("iso-pattern", "Pattern", draw.lines(shapes, _THIN))


def moved(solid: Solid, by: Place) -> Solid:
    """Return a solid at another place."""
    faces = tuple(
        Face(tuple(Place(*(a + b for a, b in zip(corner, by, strict=True))) for corner in face.corners), face.normal)
        for face in solid.faces
    )
    return Solid(solid.name, solid.title, faces)


class _Size(Record):
    """A size of the box, measured beside it: from one place to another, `aside` is which way it stands off."""

    name: str
    start: Place
    end: Place
    aside: Place
    value: float

    def _ends(self) -> tuple[Flat, Flat, Flat, Flat]:
        off = _plus(self.start, self.aside), _plus(self.end, self.aside)
        return projected(self.start), projected(self.end), projected(off[0]), projected(off[1])

    def drawn(self) -> draw.Part:
        """Return its line with a stroke across each end, and the lines that lead to it."""
        near, far, start, end = self._ends()
        past = 1.12
        leads = [draw.line(_between(near, start, 0.25), _between(near, start, past)),
                 draw.line(_between(far, end, 0.25), _between(far, end, past))]  # fmt: skip
        return draw.Part(
            f"size-{self.name.replace(' ', '-')}",
            f"Size: {self.name}",
            draw.lines([draw.line(start, end), *leads], _THIN),
        )

    def label(self) -> draw.Label:
        """Return its number, in the middle of its line."""
        _, _, start, end = self._ends()
        at = draw.Point(*_between(start, end, 0.5))
        side: draw.Side = "below" if self.name not in ("height", "lid length", "lid width") else "left"
        side = "above" if self.name.startswith("lid") else side
        return draw.Label(
            say("{size:gauge}" if self.name == "height" else "{size:cut}", size=self.value),
            at,
            towards=side,
            bold=True,
            leader=False,
        )


_THIN = draw.Kind.NARROW


def _between(start: Flat, end: Flat, share: float) -> Flat:
    return start[0] + (end[0] - start[0]) * share, start[1] + (end[1] - start[1]) * share


def _plus(one: Place, other: Place) -> Place:
    return Place(one.x + other.x, one.y + other.y, one.z + other.z)


def _sizes(box: Box) -> Iterator[_Size]:
    """Yield the sizes of the box outside, and of its lid."""
    long, wide, high, apart = box.file.box.length, box.file.box.width, box.height, _apart(box)
    off = 0.12 * max(long, wide) + 6.0
    front, right = -apart, long + apart
    yield _Size("length", Place(0, front, 0), Place(long, front, 0), Place(0, -off, 0), long)
    yield _Size("width", Place(right, 0, 0), Place(right, wide, 0), Place(off, 0, 0), wide)
    yield _Size("height", Place(0, front, 0), Place(0, front, high), Place(-off, 0, 0), high)
    if made := box.lid:
        x0, y0, z = -made.overhang, -made.overhang, high + lifted(box)
        along, across = (made.length, made.width) if long >= wide else (made.width, made.length)
        back, left = y0 + across, x0
        yield _Size("lid length", Place(left, back, z), Place(left + along, back, z), Place(0, off, 0), along)
        yield _Size("lid width", Place(left, y0, z), Place(left, back, z), Place(-off, 0, 0), across)


def _bank_card(box: Box) -> draw.Part:
    """Return a bank card that lies on the table at the right of the box, its chip and its stripe on it."""
    long, apart = box.file.box.length, _apart(box)
    x, y = long + apart + 0.3 * min(box.file.box.length, box.file.box.width) + 14.0, -0.25 * BANK_CARD[1]

    def at(across: float, up: float) -> Flat:
        return projected(Place(x + up, y + across, 0.0))

    wide, high = BANK_CARD
    r = _CARD_CORNER
    corners = []
    for cx, cy, start in ((wide - r, high - r, 0), (r, high - r, 90), (r, r, 180), (wide - r, r, 270)):
        for step in range(7):
            turn = math.radians(start + 15 * step)
            corners.append(at(cx + r * math.cos(turn), cy + r * math.sin(turn)))
    chip = draw.polygon(at(12, 24), at(24, 24), at(24, 34), at(12, 34))
    numbers = [draw.line(at(12 + 16 * i, 15), at(23 + 16 * i, 15)) for i in range(4)]
    shapes = draw.lines([draw.polygon(*corners), chip, *numbers])
    return draw.Part("bank-card", "A bank card at the same scale", shapes)


def _labels(box: Box) -> tuple[draw.Label, ...]:
    length, width, height, apart = box.file.box.length, box.file.box.width, box.height, _apart(box)

    def at(x: float, y: float, z: float) -> draw.Point:
        return draw.Point(*projected(Place(x, y, z)))

    third = height / 3
    first, second, opposite, fourth = (name.replace(" ", "") for name in corner_names(box.file))
    right = length + apart
    named = [
        draw.Label(first, at(length, -apart, third), towards="right", bold=True),
        draw.Label(first, at(right, 0, height), towards="above", bold=True),
        draw.Label(second, at(right, width, 2 * third), towards="right", bold=True),
        draw.Label(opposite, at(0, width, height), towards="left", bold=True),
        draw.Label(fourth, at(0, -apart, 2 * third), towards="left", bold=True),
        draw.Label(fourth, at(0, 0, height), towards="left", bold=True),
        draw.Label("front", at(length * 0.2, -apart, third), leader=False),
        draw.Label("right end", at(right, width * 0.6, third), leader=False),
        draw.Label("bank card", at(right + 60, -14, 0), towards="right"),
    ]
    if box.lid:
        lift = height + lifted(box)
        named.append(draw.Label("lid", at(length + box.lid.overhang, width * 0.3, lift), towards="right"))
    if box.bottom:
        middle = box.bottom.groove.from_bottom + box.bottom.thickness / 2
        named.append(draw.Label("bottom", at(length * 0.62, width * 0.5, middle), leader=False))
    return tuple(named)


def lifted(box: Box) -> float:
    """Return how far the lid is drawn above the box: so far that the whole rim is seen, the hindmost corner too."""
    if box.lid is None:
        return 0.0
    least = min(box.file.box.length, box.file.box.width)
    return 1.1 * least + box.lid.overhang + box.lid.plug_depth


# -- the solids ----------------------------------------------------------------------------------------------------


def solids_of(box: Box, lift: float | None = None) -> tuple[Solid, ...]:
    """Return the parts of the box in their places; none where a rule stops its joint.

    The lid is lifted so far that the whole rim is seen, or by `lift`, mm: by 0 the box is closed.
    """
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
        solids += _lid(box, box.lid, high + (lifted(box) if lift is None else lift))
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
    across = _along_y if along_x else _along_x
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
        yield handle_solid(handle, (long / 2 - over, wide / 2 - over), edge + made.crown, along_x=along_x)


def handle_solid(made: Handle, middle: Flat, foot: float, *, along_x: bool) -> Solid:
    """Return a handle, its base at `foot`; the middle of the base is given along it and across."""
    along = _along_x if along_x else _along_y
    outlines = [[(middle[0] + x, foot + y) for x, y in piece] for piece in _handle(made)]
    deep = middle[1] - made.thickness / 2
    pieces = [prism("handle", "Handle", piece, (deep, deep + made.thickness), along) for piece in outlines]
    return pieces[0] if len(pieces) == 1 else _joined(pieces, along(middle[0], 0.0, 0.0), along(1.0, 0.0, 0.0))


def _spread(start: float, end: float) -> list[float]:
    return [start + (end - start) * i / _FLATS for i in range(_FLATS + 1)]


def _handle(made: Handle) -> list[list[Flat]]:
    """Return the outlines of a handle, x from its middle and y from its base: what its holes leave of the blank.

    One, or both halves round an eye.
    """
    half, radius = made.length / 2, arc_radius(made.length, made.crest)
    crest = [(x, made.height - arc_rise(radius, abs(2 * x))) for x in _spread(half, -half)]
    eye = None if made.middle is None or made.arched else made.middle
    if eye:
        crest = [*crest[: _FLATS // 2], (0.0, made.height), *_right_rim(eye)]
    left: BaseGeometry = shapely.Polygon([(0.0 if eye else -half, 0.0), (half, 0.0), *crest])
    for hole in made.holes.row:
        if hole is not eye:
            left = left.difference(shapely.Point(hole.x, hole.y).buffer(hole.radius, quad_segs=_FLATS))
    whole = max(shapely.get_parts(left), key=lambda piece: float(piece.area))  # a hole may cut a tip off
    outline = [(float(x), float(y)) for x, y in shapely.normalize(whole).exterior.coords[:-1]]
    return [outline, [(-x, y) for x, y in outline]] if eye else [outline]


def _right_rim(eye: Hole) -> list[Flat]:
    """Return the right half of an eye's rim from its top down, its ends on the middle line."""
    turns = [math.pi * i / (2 * _FLATS) for i in range(1, 2 * _FLATS)]
    right = [(eye.radius * math.sin(turn), eye.y + eye.radius * math.cos(turn)) for turn in turns]
    return [(0.0, eye.y + eye.radius), *right, (0.0, eye.y - eye.radius)]


def _joined(pieces: Sequence[Solid], seam: Place, across: Place) -> Solid:
    """Return pieces as one solid, without the faces with which they meet in a plane at a seam square to `across`."""
    faces = tuple(
        face
        for piece in pieces
        for face in piece.faces
        if any(_dot(_minus(corner, seam), across) for corner in face.corners)
    )
    return Solid(pieces[0].name, pieces[0].title, faces)


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


class _Edge(Record):
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


@kept(8)
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


def seen(solids: Sequence[Solid]) -> Iterator[tuple[Solid, Face, BaseGeometry]]:
    """Yield every face of which something is seen, and what of it is seen, as an area of the picture at full size.

    How much nearer one flat face is than another changes evenly over the picture too. So where both lie one face hides
    the other on one side of a straight line: the same as with an edge, and as exact.
    """
    owners = [(solid, face) for solid in solids for face in solid.faces if _dot(face.normal, EYE) > 1e-6]
    flat = np.array([shapely.Polygon([projected(corner) for corner in face.corners]) for _, face in owners])
    planes = np.array([_plane(face) for _, face in owners])
    covering: dict[int, list[tuple[int, BaseGeometry]]] = defaultdict(list)
    there, i, j = _in_front(flat, planes)
    both = shapely.intersection(flat[j], flat[i])
    large = shapely.area(both) > _TOUCH
    for area, below, above in zip(both[large], i[large].tolist(), j[large].tolist(), strict=True):
        covering[below].append((above, area))
    for number in there.tolist():
        hidden = [_risen(area, planes[above] - planes[number]) for above, area in covering[number]]
        left = flat[number].difference(shapely.union_all(hidden))
        if areas := [area for area in shapely.get_parts(left) if area.area > _LEAST]:
            yield *owners[number], shapely.multipolygons(areas)


def _in_front(flat: NDArray[np.object_], planes: Plane) -> tuple[Numbers, Numbers, Numbers]:
    """Return the faces that no other hides from end to end; and pairs in order: of those, and what may hide some of it.

    The bounds of two faces tell of most pairs that the second lies behind the first, without a look at their outlines.
    """
    i, j = shapely.STRtree(flat).query(flat, predicate="intersects")
    i, j = np.array(sorted(zip(i[i != j].tolist(), j[i != j].tolist(), strict=True))).reshape(-1, 2).T
    bounds, slopes = shapely.bounds(flat), planes[j] - planes[i]
    shared = np.hstack([np.maximum(bounds[i, :2], bounds[j, :2]), np.minimum(bounds[i, 2:], bounds[j, 2:])])
    behind = _heights(slopes, bounds[i]).min(axis=0) > _TOUCH
    shapely.prepare(flat)
    behind[behind] = shapely.covers(flat[j[behind]], flat[i[behind]])
    left = ~np.isin(i, i[behind]) & (_heights(slopes, shared).max(axis=0) > _TOUCH)
    return np.setdiff1d(np.arange(len(flat)), i[behind]), i[left], j[left]


def _heights(slopes: Plane, bounds: Plane) -> Plane:
    """Return how high planes are over the four corners of bounds, a row for each corner."""
    return np.stack([
        slopes[:, 0] + slopes[:, 1] * bounds[:, across] + slopes[:, 2] * bounds[:, up]
        for across in (0, 2)
        for up in (1, 3)
    ])  # fmt: skip


def _risen(area: BaseGeometry, slope: Plane) -> BaseGeometry:
    """Return where an area of the picture rises above nothing: `slope` is its height at 0, and how it rises."""
    middle, across, up = slope
    heights = middle + shapely.get_coordinates(area) @ slope[1:]
    if heights.max() <= _TOUCH:
        return shapely.Polygon()
    return area if heights.min() >= -_TOUCH else area.intersection(_half(area, middle - _TOUCH, across, up))


def _half(area: BaseGeometry, middle: float, across: float, up: float) -> BaseGeometry:
    """Return a rectangle that holds all of an area where middle + across·x + up·y is over 0, and none of the rest."""
    size = math.hypot(across, up)
    forward, centre, reach = (across / size, up / size), area.centroid, 2 * math.hypot(*_extent(area))
    out = -(middle + across * centre.x + up * centre.y) / size  # from the centre to the line, the way it rises
    corners = [(out, -reach), (out + 2 * reach, -reach), (out + 2 * reach, reach), (out, reach)]
    return shapely.Polygon(
        [(centre.x + a * forward[0] - b * forward[1], centre.y + a * forward[1] + b * forward[0]) for a, b in corners]
    )


def _extent(area: BaseGeometry) -> Flat:
    left, bottom, right, top = area.bounds
    return right - left, top - bottom


def _plane(face: Face) -> tuple[float, float, float]:
    """Return how near to the eye the plane of a face is at 0 of the picture, mm, and how that rises across and up."""
    middle, across, up = (_height_over(place, face) for place in (Place(0, 0, 0), _RIGHT, _UP))
    return middle, across - middle, up - middle


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
        for piece in _left_of((start, end), _taken(taken, (start, end))):
            if piece[1] - piece[0] > _LEAST:
                ends = (edge.at((at - start) / (end - start)) for at in piece)
                kept.append(_Edge(edge.solid, *ends))
    return kept


def _taken(before: list[Stretch], stretch: Stretch) -> list[Stretch]:
    """Put a stretch among those of its line, which lie apart and in order; return those that it meets."""
    first = bisect_left(before, stretch[0], key=lambda one: one[1])
    last = bisect_right(before, stretch[1], key=lambda one: one[0])
    met = before[first:last]
    before[first:last] = [(min(start for start, _ in (*met, stretch)), max(end for _, end in (*met, stretch)))]
    return met


def _hidden(edges: Sequence[_Edge], faces: Sequence[Face]) -> list[list[Stretch]]:
    """Return for every edge the shares of it that some face hides.

    An edge that one face hides from end to end is asked about no other face.
    """
    hidden: list[list[Stretch]] = [[] for _ in edges]
    starts, ends = (np.array(places).reshape(-1, 3) for places in zip(*((e.start, e.end) for e in edges), strict=True))
    drawn = np.asarray(shapely.linestrings(np.stack([_flat(starts), _flat(ends)], axis=1)))
    covers = _covers(faces)
    i, j = shapely.STRtree(covers).query(drawn, predicate="intersects")
    over = _heights_over(starts, ends, faces, i, j)
    behind = over.max(axis=0) > _TOUCH
    i, j, over = i[behind], j[behind], over[:, behind]
    shapely.prepare(covers)
    whole = over.min(axis=0) > _TOUCH
    whole[whole] = shapely.covers(covers[j[whole]], drawn[i[whole]])
    for gone in set(i[whole].tolist()):
        hidden[gone] = [(0.0, 1.0)]
    left = ~np.isin(i, i[whole])
    i, j, over = i[left], j[left], over[:, left]
    for pair, low, high in _covered(drawn[i], covers[j]):
        first, last = _where_above(float(over[0, pair]), float(over[1, pair]), _TOUCH)
        if min(high, last) > max(low, first):
            hidden[i[pair]].append((max(low, first), min(high, last)))
    return hidden


def _flat(places: Plane) -> Plane:
    """Return where places lie in the picture, as `projected` does with one."""
    return np.stack([_dots(places, np.array(_RIGHT)), _dots(places, np.array(_UP))], axis=-1)


def _covers(faces: Sequence[Face]) -> NDArray[np.object_]:
    """Return faces in the picture, a hair larger: an edge just behind a rim is behind it."""
    flat = [shapely.Polygon(_flat(np.array(face.corners))) for face in faces]
    return np.asarray(shapely.buffer(flat, 1e-6, join_style="mitre"))


def _heights_over(starts: Plane, ends: Plane, faces: Sequence[Face], i: Numbers, j: Numbers) -> Plane:
    """Return how much nearer to the eye face j is than the start and the end of edge i, in a row each."""
    corners, normals = (np.array(of) for of in zip(*((face.corners[0], face.normal) for face in faces), strict=True))
    facing = _dots(np.array(EYE), normals)
    return np.stack([_dots(corners[j] - places[i], normals[j]) / facing[j] for places in (starts, ends)])


def _covered(drawn: NDArray[np.object_], covers: NDArray[np.object_]) -> Iterator[tuple[int, float, float]]:
    """Yield between which shares each straight line is covered by the area of its number, and the number."""
    pieces, of_pair = shapely.get_parts(shapely.intersection(drawn, covers), return_index=True)
    places, of_piece = shapely.get_coordinates(pieces, return_index=True)
    lines = drawn[of_pair[of_piece]]
    shares = shapely.line_locate_point(lines, shapely.points(places)) / shapely.length(lines)
    low, high = np.ones(len(pieces)), np.zeros(len(pieces))
    np.minimum.at(low, of_piece, shares)
    np.maximum.at(high, of_piece, shares)
    yield from zip(of_pair.tolist(), low.tolist(), high.tolist(), strict=True)


def _height_over(place: Place, face: Face) -> float:
    """Return how much nearer to the eye a face is than a place, in whose line of sight it is taken to lie."""
    return _dot(_minus(face.corners[0], place), face.normal) / _dot(EYE, face.normal)


def _where_above(first: float, last: float, least: float) -> Stretch:
    """Return between which shares a height that changes evenly from first to last, one of them over it, is over it."""
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


def _dots(one: Plane, other: Plane) -> Plane:
    """Return the products of many vectors, summed in the order of `_dot`, so that both come out the same."""
    return one[..., 0] * other[..., 0] + one[..., 1] * other[..., 1] + one[..., 2] * other[..., 2]


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
