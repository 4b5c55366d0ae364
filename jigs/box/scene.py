"""A scene: solids of a box in their places, which of them are in hand, and what is measured on them, as a picture.

What is in hand is drawn in its wood, the rest in a pale tint of it; what can't be cut has no colour at all. Colours are
those of a page on a screen, light or dark. Each wood keeps its strokes, so that nothing is told by colour alone.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import Any

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from jigs.base import drawing as draw
from jigs.base.drawing import Colour, Tinted
from jigs.box import sight, woods
from jigs.box.chain import Box
from jigs.box.isometric import Face, Flat, Place, Solid, projected
from jigs.box.sight import Surface
from jigs.box.woods import DOTS, Strokes
from jigs.parts.wood.colours import MADE_OUT, colour_of, contrast
from jigs.record import Record, replace

_ROWS = 55.0
"""So many rows of strokes go on the longest way across a picture."""
_SPECK = 0.02
"""A smaller ring is rounding between faces that touch, mm² at full size."""
_SHORTEST = 0.15
"""What is left of a stroke is drawn from this share of a row."""
_GOLDEN = (math.sqrt(5) - 1) / 2
_OUTSIDE = 0.99
"""A face looks along an axis where its normal has more than this of it."""
_CARVED_WITHIN = 0.1
"""How far the flats of a pattern may leave its arcs, mm."""

Array = NDArray[np.float64]


# -- the screen ----------------------------------------------------------------------------------------------------


class Screen(Record):
    """The colours of a page: its ground and a sheet on it, ink, pencil, and what shows the maker's hand.

    `wood` is the share of its colour that a wood in hand has, `pale` what of it the other parts have over the ground;
    `other_ink` is for edges on a wood on which ink can't be made out.
    """

    ground: Colour
    sheet: Colour
    ink: Colour
    pencil: Colour
    hand: Colour
    wood: float
    pale: float
    other_ink: Colour


LIGHT = Screen(
    ground=Colour(244, 244, 239),
    sheet=Colour(255, 255, 255),
    ink=Colour(22, 25, 27),
    pencil=Colour(70, 75, 78),
    hand=Colour(15, 74, 112),
    wood=1.0,
    pale=0.38,
    other_ink=Colour(0, 0, 0),
)
DARK = Screen(
    ground=Colour(29, 26, 23),
    sheet=Colour(42, 38, 34),
    ink=Colour(243, 239, 231),
    pencil=Colour(201, 194, 182),
    hand=Colour(154, 203, 234),
    wood=0.88,
    pale=0.34,
    other_ink=Colour(27, 23, 18),
)


def _over(colour: Colour, ground: Colour, share: float) -> Colour:
    """Return a colour of which only a share lies over a ground."""
    return Colour(*(round(a * share + b * (1 - share)) for a, b in zip(colour, ground, strict=True)))


# -- what is shown -------------------------------------------------------------------------------------------------


class Measure(Record):
    """A size in a picture: what its number is read from, and which way its line stands off, as a direction of the box.

    `name` says what it is to whoever hears it, `note` beside the number to whoever sees it. `roots` are where the lines
    that lead to it come from, each by places on its way. One that is `small` is written aside, with a leader.
    """

    start: Place
    end: Place
    aside: Place
    name: str
    purpose: str = "cut"
    note: str = ""
    roots: tuple[tuple[Place, ...], tuple[Place, ...]] = ((), ())
    small: bool = False

    @property
    def value(self) -> float:
        """The distance, mm."""
        return math.dist(self.start, self.end)


class Tie(Record):
    """A dashed line that joins a part with its place; one that is a `ghost` is of a part that is not in the picture."""

    start: Place
    end: Place
    ghost: bool = False


class Scene(Record):
    """Solids in their places; those named in `hand` are in their woods. In `pencil` nothing has a colour.

    `words` say what is shown, in a sentence or two.
    """

    words: str
    solids: tuple[Solid, ...]
    hand: frozenset[str] = frozenset()
    measures: tuple[Measure, ...] = ()
    ties: tuple[Tie, ...] = ()
    pencil: bool = False

    @property
    def surfaces(self) -> tuple[Surface, ...]:
        """What is seen of it."""
        return sight.surfaces(self.solids)

    def seen_ties(self) -> Iterator[Tie]:
        """Yield the stretches of its ties that no part hides."""
        for tie in self.ties:
            for start, end in sight.unhidden(tie.start, tie.end, self.solids):
                yield replace(tie, start=start, end=end)


# -- in colour -----------------------------------------------------------------------------------------------------


class Painted(Record):
    """What is seen of a solid, at full size, and the ink of its lines: edges of what is in hand, narrow of the rest."""

    solid: str
    part: draw.Part
    ink: Colour


def painted(box: Box, scene: Scene, screen: Screen) -> list[Painted]:
    """Return what is seen of every solid, what is in hand last: its wider lines lie over the others."""
    row = _across(scene) / _ROWS
    own = {solid.name: [s for s in scene.surfaces if s.solid == solid.name] for solid in scene.solids}
    shown = [solid for solid in scene.solids if own[solid.name]]
    shown.sort(key=lambda solid: solid.name in scene.hand)
    return [_Part(box, scene, screen, solid, tuple(own[solid.name]), row).painted() for solid in shown]


def _across(scene: Scene) -> float:
    left, bottom, right, top = shapely.total_bounds([surface.whole for surface in scene.surfaces])
    return float(max(right - left, top - bottom))


class _Part(Record):
    """A solid of a scene, as it is painted: what is seen of it, and the rows of the picture's strokes."""

    box: Box
    scene: Scene
    screen: Screen
    solid: Solid
    surfaces: tuple[Surface, ...]
    row: float

    @property
    def _in_hand(self) -> bool:
        return self.solid.name in self.scene.hand

    @property
    def _kind(self) -> draw.Kind:
        return draw.Kind.EDGE if self._in_hand else draw.Kind.NARROW

    def _shown(self, colour: Colour) -> Colour:
        """Return a colour of its wood as this part has it."""
        if self.scene.pencil:
            return self.screen.sheet
        full = colour.times(self.screen.wood)
        return full if self._in_hand else _over(full, self.screen.ground, self.screen.pale)

    def painted(self) -> Painted:
        """Return it with the ink that can be made out on its wood."""
        part, screen = self.drawn(), self.screen
        if not self._in_hand:
            return Painted(self.solid.name, part, screen.pencil)
        least = min(contrast(screen.ink, fill.colour) for fill in part.fills)
        return Painted(self.solid.name, part, screen.ink if least >= MADE_OUT else screen.other_ink)

    def drawn(self) -> draw.Part:
        """Return its colours, its grain, its edges, and what is carved on it."""
        wood = woods.woods_of(self.box)[self.solid.name]
        colour, axis = colour_of(wood), woods.grain_of(self.box)[self.solid.name]
        made = draw.Part(f"shown-{self.solid.name}", self.solid.title)
        rims = [ring for surface in self.surfaces for ring in _rings(surface.whole)]
        made = replace(made, lines=draw.lines(rims, self._kind), fills=tuple(self._fills(colour, axis)))
        carved = self._carved()
        if not self.scene.pencil:
            bare = shapely.union_all([shapely.Polygon(fill.shape.points()).buffer(0) for fill in carved.fills])
            made = replace(made, grain=tuple(self._grain(colour, axis, woods.strokes_of(self.box)[wood], bare)))
        return replace(
            made, lines=made.lines + carved.lines, fills=made.fills + carved.fills, grain=made.grain + carved.grain
        )

    def _fills(self, colour: Colour, axis: int) -> Iterator[Tinted]:
        """Yield its faces in the tones of its wood; below them a coat of it, or the ground would shine through."""
        tones: dict[Colour, list[BaseGeometry]] = {}
        for surface in self.surfaces:
            for face, area in zip(surface.faces, surface.areas, strict=True):
                facing = _facing(face)
                share = woods.LIGHT[facing] * (woods.END_GRAIN if facing == axis else 1.0)
                tones.setdefault(self._shown(colour.times(share)), []).append(area)
        coat = min(tones)
        for surface in self.surfaces:
            yield from (Tinted(ring, coat) for ring in _rings(surface.whole))
        for tone, areas in tones.items():
            if tone != coat:
                yield from (Tinted(ring, tone) for area in areas for ring in _rings(area))

    def _grain(self, colour: Colour, axis: int, strokes: Strokes, bare: BaseGeometry) -> Iterator[Tinted]:
        """Yield the strokes and dots of its grain, but for where it is carved."""
        for ends in (False, True):
            share = woods.DARK if ends else woods.GRAIN
            dark = self._shown(colour.times(share))
            for start, end in self._strokes(axis, DOTS if ends else strokes, ends=ends, bare=bare):
                yield Tinted(draw.line(start, end), dark)

    def _strokes(self, axis: int, strokes: Strokes, *, ends: bool, bare: BaseGeometry) -> Iterator[tuple[Flat, Flat]]:
        """Yield where strokes on its end grain, or on all other faces, begin and end in the picture."""
        lines, areas = [], []
        for surface in self.surfaces:
            for face, area in zip(surface.faces, surface.areas, strict=True):
                facing = _facing(face)
                if (facing == axis) == ends:
                    along = (0 if facing else 1) if ends else axis
                    found = _on_face(face, (along, 3 - facing - along, facing), strokes, self.row)
                    lines.append(found)
                    areas += [area] * len(found)
        if not areas:
            return
        pieces = shapely.intersection(shapely.linestrings(np.concatenate(lines)), np.array(areas, dtype=object))
        if not bare.is_empty:
            pieces = shapely.difference(pieces, bare)
        pieces = shapely.get_parts(pieces)
        pieces = pieces[(shapely.length(pieces) > _SHORTEST * self.row) & (shapely.get_type_id(pieces) == 1)]
        pairs: Any = shapely.get_coordinates(pieces).reshape(-1, 2, 2).tolist()
        yield from pairs

    # -- what is carved

    def _carved(self) -> draw.Part:
        """Return the shell or the pattern on it, in the colours it has."""
        none = draw.Part("carved", "Carved")
        found = self._outer_face()
        if found is None:
            return none
        if self.box.pattern:
            return replace(none, lines=draw.lines(list(self._pattern(*found)), draw.Kind.NARROW))
        carving = woods.carving_of(self.box, [found])
        wood = colour_of(woods.woods_of(self.box)[self.solid.name])
        made = carving.part(wood) if carving else none
        if self.scene.pencil:
            rims = draw.lines([rim.shape for rim in made.grain], draw.Kind.NARROW)
            return replace(made, fills=(), grain=(), lines=made.lines + rims)
        return replace(made, fills=self._tinted(made.fills), grain=self._tinted(made.grain))

    def _tinted(self, some: Sequence[Tinted]) -> tuple[Tinted, ...]:
        return tuple(Tinted(each.shape, self._shown(each.colour)) for each in some)

    def _outer_face(self) -> tuple[Face, BaseGeometry] | None:
        """Return the outer face that is carved, if any is and something of it is seen."""
        side = self.box.pattern.side if self.box.pattern else "front" if self.box.shell else ""
        looks = {"front": (1, -1.0), "right end": (0, 1.0)}.get(side)
        if looks is None or self.solid.name != side.replace(" ", "-"):
            return None
        axis, sign = looks
        outer = [
            (face, area)
            for surface in self.surfaces
            for face, area in zip(surface.faces, surface.areas, strict=True)
            if face.normal[axis] * sign > _OUTSIDE
        ]
        return max(outer, key=lambda one: one[0].corners[0][axis] * sign, default=None)

    def _pattern(self, face: Face, area: BaseGeometry) -> Iterator[draw.Path]:
        """Yield the lines of a pattern as far as they are seen; the box is as finished, its fingers flush."""
        made, proud, plane = self.box.pattern, self.box.file.joint.proud, face.corners[0]
        assert made is not None, "asked for a pattern that there is not"

        def at(point: draw.Point) -> tuple[float, float]:
            along = point.x - proud
            if made.side == "front":
                return projected(Place(along, plane.y, point.y))
            return projected(Place(plane.x, along, point.y))

        for path in made.lines:
            places = [at(point) for point in path.moved(*made.middle).points(_CARVED_WITHIN)]
            for piece in shapely.get_parts(shapely.LineString(places).intersection(area)):
                if piece.geom_type == "LineString":
                    yield draw.line(*piece.coords)


def _facing(face: Face) -> int:
    """Return the axis that a face looks along, more than along the others."""
    x, y, z = (abs(part) for part in face.normal)
    return 0 if x >= y and x >= z else 1 if y >= z else 2


def _rings(area: BaseGeometry) -> Iterator[draw.Path]:
    """Yield the rims of an area as outlines, those of what it leaves out turning the other way."""
    for piece in shapely.get_parts(area):
        if piece.geom_type == "Polygon":
            turned = shapely.geometry.polygon.orient(piece)
            for ring in (turned.exterior, *turned.interiors):
                if len(ring.coords) > 3 and shapely.Polygon(ring).area > _SPECK:
                    yield draw.polygon(*ring.coords[:-1])


def _on_face(face: Face, axes: tuple[int, int, int], strokes: Strokes, row: float) -> Array:
    """Return strokes that cover a face as lines of the picture: axes along them, across them, and of the depth."""
    along, across, facing = axes
    corners = np.array(face.corners)
    apart, period = strokes.apart * row, (strokes.long + strokes.between) * row
    (low, near), (high, far) = corners[:, (along, across)].min(axis=0), corners[:, (along, across)].max(axis=0)
    numbers = np.arange(math.ceil(near / apart - 0.5), math.floor(far / apart - 0.5) + 1)
    if not len(numbers):
        return np.empty((0, 2, 2))
    firsts = math.floor(low / period) - 1 + numbers * _GOLDEN % 1.0
    starts = (firsts[:, None] + np.arange(math.ceil((high - low) / period) + 2)) * period
    level = np.broadcast_to((numbers[:, None] + 0.5) * apart, starts.shape)
    there = (starts < high) & (starts + strokes.long * row > low)
    places = np.zeros((int(there.sum()), 2, 3))
    places[:, 0, along], places[:, 1, along] = starts[there], starts[there] + strokes.long * row
    places[:, :, across] = level[there][:, None]
    normal = np.array(face.normal)
    places[:, :, facing] = (corners[0] @ normal - places @ normal) / normal[facing]
    return np.asarray(places @ sight.AXES.T)
