"""The box in its woods: every face that is seen in the colour of its wood, with the way its grain runs.

On long grain strokes run along the board; end grain is darker, with dots. Which wood it is stands beside each part in
words, and each wood of a box has strokes of its own: nothing is told by colour alone. The axes of the box are those of
`isometric`, which works out what is seen of a face.
"""

from __future__ import annotations

import functools
import math
from collections.abc import Iterable, Iterator, Mapping, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray
from shapely.geometry.base import BaseGeometry

from jigs.base import drawing as draw
from jigs.base.cards import Beside, Card, Pictures, Text
from jigs.base.drawing import Colour, Tinted
from jigs.box import isometric
from jigs.box.chain import Box
from jigs.box.isometric import Face, Place, Solid, projected
from jigs.parts.shell import templates as shell_templates
from jigs.parts.shell.part import Shell
from jigs.parts.wood.colours import ROUGH, colour_of
from jigs.parts.wood.part import wood_of
from jigs.record import Record, replace

LIGHT = (0.87, 0.94, 1.0)
"""Shares of its full colour that a face shows: one that looks to the right, to the front, up."""
END_GRAIN = 0.9
"""The share of that on end grain, which takes up more finish (common practice, no source)."""
LIT, SHADED, GROUND = 1.0, 0.78, 0.88
"""The same of the two sides of a chip, and of the ground of the shell's border."""
GRAIN, DARK = 0.25, 0.1
"""The share of a wood's colour that its strokes have, and on darker ground its dots and the rims of chips."""
NOT_NAMED = "not named"
ON_GRAIN = ("Strokes run along the grain; dots are end grain.", ROUGH)
"""What to make of the picture."""
SQUARE = 0.99
"""A face looks along an axis where its normal has more than this of it."""
_ROWS, _ROWS_APART = 85.0, 48.0
"""So many rows of strokes go on the longest way across a picture; on that of the box taken apart, which is small."""
_SHORTEST = 0.15
"""What is left of a stroke is drawn from this share of a row, or it would be a speck."""
_SPECK = 0.02
"""A smaller area is rounding between faces that touch, mm² at full size."""
_GOLDEN = (math.sqrt(5) - 1) / 2
"""Its multiples spread evenly whatever their number: strokes of neighbouring rows start apart, with no dice."""

Array = NDArray[np.float64]
Seen = tuple[Face, BaseGeometry]
"""A face and what of it is seen, as an area of the picture."""


class Strokes(Record):
    """How the grain of a wood is drawn: rows apart, strokes and what is between them, in rows of a picture."""

    said: str
    apart: float
    long: float
    between: float


STROKES = (
    Strokes("long strokes", 1.2, 11.0, 2.4),
    Strokes("short strokes", 1.0, 2.6, 1.6),
    Strokes("close strokes", 0.65, 6.0, 3.0),
    Strokes("dashes far apart", 1.9, 4.0, 4.0),
)
"""Those of the woods of a box, in the order of its parts: it has no more woods than this."""
DOTS = Strokes("dots", 0.8, 0.3, 0.75)
"""Those of all end grain."""


# -- which wood is where -------------------------------------------------------------------------------------------


def woods_of(box: Box) -> dict[str, str | None]:
    """Return the wood of every part by the name of its solid, None where it is not named.

    The file names no wood for a handle, which is drawn as its lid.
    """
    file = box.file
    sides = file.sides.species
    ends, lid = file.sides.ends_species or sides, wood_of(file, file.lid)
    bottom = wood_of(file, file.bottom)
    if file.bottom and file.bottom.material == "plywood":  # its faces are not of the sides' wood unless it says so
        bottom = file.bottom.species
    woods = {"front": sides, "back": sides, "right-end": ends, "left-end": ends}
    return woods | {"bottom": bottom, "lid": lid, "plug": lid, "handle": lid}


def grain_of(box: Box) -> dict[str, int]:
    """Return the axis along which the grain of every solid runs: 0 along the front, 1 along the ends."""
    long_way = 0 if box.file.box.length >= box.file.box.width else 1
    sides = {"front": 0, "back": 0, "right-end": 1, "left-end": 1}
    return sides | dict.fromkeys(("bottom", "lid", "plug", "handle"), long_way)


def strokes_of(box: Box) -> dict[str | None, Strokes]:
    """Return the strokes of every wood."""
    return dict(zip(dict.fromkeys(woods_of(box).values()), STROKES, strict=False))


# -- faces in colour -----------------------------------------------------------------------------------------------


class _Painter(Record):
    """Paints the faces of one solid: its wood's colour, the axis of its grain, its strokes, the rows of the picture."""

    colour: Colour
    grain: int
    strokes: Strokes
    row: float

    def tone(self, face: Face) -> Colour:
        """Return the colour of a face: by the way it looks, and darker where its wood is cut across."""
        facing = _facing(face)
        return self.colour.times(LIGHT[facing] * (END_GRAIN if facing == self.grain else 1.0))

    def part(self, name: str, title: str, seen: Sequence[Seen], carved: BaseGeometry) -> draw.Part:
        """Return the solid in colour; on what of it is carved there are no strokes.

        All of it has a coat of its colour first: between the areas of two tones white would shine through.
        """
        tones: dict[Colour, list[BaseGeometry]] = {}
        for face, area in seen:
            tones.setdefault(self.tone(face), []).append(area)
        whole = [area for _, area in seen]
        fills = [*filled(whole, min(tones)), *(fill for tone, areas in tones.items() for fill in filled(areas, tone))]
        left = [(face, area.difference(carved) if carved else area) for face, area in seen]
        grain = [line for face, area in left for line in self.lines(face, area)]
        return draw.Part(name, title, fills=tuple(fills), grain=tuple(grain))

    def lines(self, face: Face, area: BaseGeometry) -> Iterator[Tinted]:
        """Yield the strokes on what is seen of a face: rows of them, each begun at another place."""
        facing = _facing(face)
        ends = facing == self.grain
        strokes = DOTS if ends else self.strokes
        along = (0 if facing else 1) if ends else self.grain
        across = 3 - facing - along
        corners = np.array(face.corners)
        starts = _rows(corners[:, (along, across)], strokes, self.row)
        if not len(starts):
            return
        flat = _on_the_face(face, (along, across, facing), starts, strokes.long * self.row)
        dark = self.colour.times(DARK if ends else GRAIN)
        pieces = shapely.get_parts(_within(flat, area))
        for piece in pieces[shapely.length(pieces) > _SHORTEST * self.row]:
            yield Tinted(draw.line(*piece.coords), dark)


def _within(flat: Array, area: BaseGeometry) -> NDArray[np.object_]:
    """Return what of straight lines lies in an area. Most lie in it whole or far from it, which is quickly told."""
    left, bottom, right, top = area.bounds
    low, high = flat.min(axis=1), flat.max(axis=1)
    near = (low <= (right, top)).all(axis=1) & (high >= (left, bottom)).all(axis=1)
    lines = np.asarray(shapely.linestrings(flat[near]))
    shapely.prepare(area)
    parted = ~shapely.covers(area, lines)
    lines[parted] = shapely.intersection(lines[parted], area)
    return lines


def _facing(face: Face) -> int:
    """Return the axis that a face looks along, more than along the others."""
    return max(range(3), key=lambda axis: abs(face.normal[axis]))


def _rows(corners: Array, strokes: Strokes, row: float) -> Array:
    """Return where strokes start, along and across, so that they cover what these corners go round."""
    (low, near), (high, far) = corners.min(axis=0), corners.max(axis=0)
    apart, period = strokes.apart * row, (strokes.long + strokes.between) * row
    rows = np.arange(math.ceil(near / apart - 0.5), math.floor(far / apart - 0.5) + 1)
    first = math.floor(low / period) - 1 + rows * _GOLDEN % 1.0
    along = (first[:, None] + np.arange(math.ceil((high - low) / period) + 2)) * period
    across = np.broadcast_to((rows + 0.5)[:, None] * apart, along.shape)
    return np.stack([along, across], axis=-1).reshape(-1, 2)


def _on_the_face(face: Face, axes: tuple[int, int, int], starts: Array, long: float) -> Array:
    """Return strokes on the plane of a face as lines of the picture: along, across, and as deep as the plane is."""
    along, across, facing = axes
    places = np.zeros((len(starts), 2, 3))
    places[:, :, along] = starts[:, :1] + [0.0, long]
    places[:, :, across] = starts[:, 1:]
    normal = np.array(face.normal)
    depth = np.dot(face.corners[0], normal) - places @ normal
    places[:, :, facing] = depth / normal[facing]
    right, up = projected_axes()
    return np.stack([places @ right, places @ up], axis=2)


def projected_axes() -> tuple[Array, Array]:
    """Return how far a step along each axis of the box goes to the right and up in the picture."""
    steps = [projected(Place(*step)) for step in ((1, 0, 0), (0, 1, 0), (0, 0, 1))]
    return np.array([across for across, _ in steps]), np.array([up for _, up in steps])


@functools.lru_cache(maxsize=8)
def seen_of(solids: tuple[Solid, ...]) -> Mapping[str, Sequence[Seen]]:
    """Return what is seen of the faces of every solid, by its name. It is kept: other woods leave it as it is."""
    found: dict[str, list[Seen]] = {}
    for solid, face, area in isometric.seen(solids):
        found.setdefault(solid.name, []).append((face, area))
    return found


@functools.lru_cache(maxsize=8)
def _edges_of(solids: tuple[Solid, ...]) -> tuple[draw.Part, ...]:
    """Return the edges of every solid that are seen; they are kept too."""
    lines = isometric.visible(solids)
    return tuple(
        draw.Part(
            f"edges-{s.name}", s.title, draw.lines([draw.line(*ends) for ends in lines[s.name]], draw.Kind.NARROW)
        )
        for s in solids
        if lines[s.name]
    )


def painted(box: Box, solids: tuple[Solid, ...], rows: float = _ROWS) -> Iterator[draw.Part]:
    """Yield the colours and the grain of every solid that is seen, and the shell on the front after it."""
    woods, grain, strokes = woods_of(box), grain_of(box), strokes_of(box)
    titles = {solid.name: solid.title for solid in solids}
    row = _across(solids) / rows
    for name, faces in seen_of(solids).items():
        painter = _Painter(colour_of(woods[name]), grain[name], strokes[woods[name]], row)
        carving = carving_of(box, faces) if name == "front" else None
        carved = carving.chips if carving else shapely.Polygon()
        yield painter.part(f"wood-{name}", titles[name], faces, carved)
        if carving:
            yield carving.part(painter.colour)


def _across(solids: Sequence[Solid]) -> float:
    """Return how wide or high the picture of solids is at full size, whichever is more, mm."""
    places = np.array([projected(corner) for solid in solids for face in solid.faces for corner in face.corners])
    return float(np.ptp(places, axis=0).max())


def filled(areas: Sequence[BaseGeometry], colour: Colour) -> Iterator[Tinted]:
    """Yield the outlines of areas in a colour, what they leave out turning the other way than what goes round them."""
    for area in shapely.get_parts(shapely.union_all(areas)):
        if area.geom_type == "Polygon":
            turned = shapely.geometry.polygon.orient(area)
            for ring in (turned.exterior, *turned.interiors):
                if shapely.Polygon(ring).area > _SPECK:
                    yield Tinted(draw.polygon(*ring.coords[:-1]), colour)


# -- the shell -----------------------------------------------------------------------------------------------------


def carving_of(box: Box, front: Sequence[Seen]) -> Carving | None:
    """Return the shell on what is seen of the front; None where there is none, or nothing of its face is seen."""
    outside = [seen for seen in front if seen[0].normal.y < -SQUARE]
    return Carving(box, box.shell, *outside[0]) if box.shell and outside else None


class Carving(Record):
    """The shell on the front, as far as its face is seen."""

    box: Box
    made: Shell
    face: Face
    area: BaseGeometry

    def _at(self, place: tuple[float, float]) -> tuple[float, float]:
        """Return where a place of the pattern lies in the picture; its pivot stands in the middle of the front."""
        x, z = place[0] + self.box.file.box.length / 2, place[1] + self.made.pivot_height
        return projected(Place(x, self.face.corners[0].y, z))

    def _polygon(self, places: Iterable[tuple[float, float]]) -> BaseGeometry:
        return shapely.Polygon([self._at(place) for place in places]).intersection(self.area)

    @property
    def chips(self) -> BaseGeometry:
        """All that is cut out along the ribs."""
        return shapely.union_all([self._polygon(chip.points()) for chip in shell_templates.chips(self.made)])

    def part(self, colour: Colour) -> draw.Part:
        """Return the shell: chips with a side in the light and one in shadow, the ground of the border, its lines."""
        lit, shaded, ground = [], [], []
        for chip, rib in zip(shell_templates.chips(self.made), shell_templates.ribs(self.made), strict=True):
            hinge, right, left, _ = chip.points()
            rim = rib.points()[-1]
            lit.append(self._polygon((hinge, right, rim)))
            shaded.append(self._polygon((hinge, rim, left)))
        lobes, edge = shell_templates.lobes(self.made), shell_templates.border(self.made)
        if edge:
            ground = [self._polygon([*edge.points(), *reversed(lobes.points())])]
        fills = [
            *filled(ground, colour.times(GROUND)),
            *filled(lit, colour.times(LIT)),
            *filled(shaded, colour.times(SHADED)),
        ]
        rims = [self._seen(chip) for chip in shell_templates.chips(self.made)]
        dark = tuple(Tinted(line, colour.times(DARK)) for rim in rims for line in rim)
        lines = [line for path in (lobes, *((edge,) if edge else ())) for line in self._seen(path)]
        return draw.Part("wood-shell", "Shell", draw.lines(lines, draw.Kind.NARROW), fills=tuple(fills), grain=dark)

    def _seen(self, path: draw.Path) -> list[draw.Path]:
        """Return a line of the pattern as far as it is seen."""
        places = [self._at(place) for place in path.points()]
        line = shapely.LineString(places).intersection(self.area)
        return [draw.line(*piece.coords) for piece in shapely.get_parts(line) if piece.geom_type == "LineString"]


# -- pictures ------------------------------------------------------------------------------------------------------


def picture(box: Box, *, lid: bool = True) -> draw.View | None:
    """Return the box put together, closed, or with `lid` False as it is seen inside; None where there is no joint."""
    solids = isometric.solids_of(box, 0.0)
    if not solids:
        return None
    if not lid:
        solids = tuple(solid for solid in solids if solid.name not in ("lid", "plug", "handle"))
    name, title = ("closed", "The box closed") if lid and box.lid else ("open", "The box without its lid")
    if not box.lid:
        title = "The box"
    labels = tuple(_labels(box, seen_of(solids)))
    return draw.View(name, title, (*painted(box, solids), *_edges_of(solids)), labels=labels, to_scale=False)


def taken_apart(box: Box) -> draw.View | None:
    """Return the picture of the box taken apart in colour, with its sizes; None where a rule stops its joint."""
    view = isometric.isometric(box)
    if view is None:
        return None
    labels = tuple(_with_wood(box, label) for label in view.labels)
    return replace(view, parts=(*painted(box, isometric.taken_apart(box), _ROWS_APART), *view.parts), labels=labels)


_ON_COVER = {"front": "front", "right end": "right-end", "lid": "lid", "bottom": "bottom"}
"""The labels of the cover that name a part of wood, and its solid."""


def _with_wood(box: Box, label: draw.Label) -> draw.Label:
    """Return a label of the box taken apart with the wood of its part.

    The corner that is named above the end is named below it: above is the bottom, in colour, where no words stand.
    """
    if label.leader and label.towards == "above" and box.numbers:
        first = box.numbers.long_sockets[0]  # where the end has its lowest finger
        down = projected(Place(0, 0, (first.start + first.end) / 2 - box.height))
        return replace(label, at=label.at.moved(*down), towards="below")
    solid = _ON_COVER.get(str(label.words))
    return replace(label, words=f"{label.words}: {_said(woods_of(box)[solid])}") if solid else label


def _said(wood: str | None) -> str:
    return wood or f"wood {NOT_NAMED}"


def _labels(box: Box, seen: Mapping[str, Sequence[Seen]]) -> Iterator[draw.Label]:
    """Yield what each part that is seen is made of, its leader starting near the rim of the picture."""
    long, wide, high = box.file.box.length, box.file.box.width, box.height
    woods = {name: _said(wood) for name, wood in woods_of(box).items()}

    def label(words: str, at: tuple[float, float, float], towards: draw.Side) -> draw.Label:
        return draw.Label(words, draw.Point(*projected(Place(*at))), towards=towards)

    yield label(f"front: {woods['front']}", (long * 0.12, 0, high * 0.2), "below")
    yield label(f"end: {woods['right-end']}", (long, wide * 0.88, high * 0.2), "below")
    if "lid" in seen and (lid := box.lid):
        yield label(f"lid: {woods['lid']}", (long + lid.overhang, wide, high + lid.edge / 2), "right")
        if handle := box.handle:
            top = high + lid.edge + lid.crown + handle.height
            yield label("handle, drawn as the lid", (long / 2, wide / 2 - handle.thickness / 2, top), "above")
    if "bottom" in seen:
        middle = shapely.union_all([area for _, area in seen["bottom"]]).representative_point()
        yield draw.Label(f"bottom: {woods['bottom']}", draw.Point(middle.x, middle.y), leader=False)


# -- the page ------------------------------------------------------------------------------------------------------


def page(box: Box) -> Card:
    """Return the page that shows the box in its woods."""
    views = [view for view in (picture(box), picture(box, lid=False) if box.lid else None) if view]
    sizes = ((104.0, 150.0), (60.0, 95.0)) if len(views) > 1 else ((104.0, 190.0),)
    pictures = [Pictures((view,), least=least, most=most) for view, (least, most) in zip(views, sizes, strict=True)]
    said = Text("", ON_GRAIN, small=True)
    about = " · ".join(_said(wood) for wood in dict.fromkeys(woods_of(box).values()))
    return Card("woods", "The box in its woods", "", (), (*pictures, Beside(table(box), said, 0.66)), about, "woods",
                reading=True)  # fmt: skip


def table(box: Box) -> draw.Table:
    """Return which part is of which wood, and how its grain is drawn."""
    rows = tuple((parts, wood, strokes.said) for parts, wood, strokes in legend(box))
    return draw.Table("woods", "Woods", ("", "wood", "grain"), rows)


def said_below(box: Box) -> tuple[str, ...]:
    """Return what is said below the picture where it stands alone: the wood of every part, and what to make of it."""
    return (*(f"{parts}: {wood}, in {strokes.said}" for parts, wood, strokes in legend(box)), *ON_GRAIN)


def legend(box: Box) -> Iterator[tuple[str, str, Strokes]]:
    """Yield the parts of a box, the wood of each, and its strokes."""
    woods, strokes = woods_of(box), strokes_of(box)
    there = {"front and back": "front", "ends": "left-end"}
    there |= {name: name for name in ("bottom", "lid") if getattr(box, name)}
    for parts, solid in there.items():
        yield parts, woods[solid] or NOT_NAMED, strokes[woods[solid]]
    if box.lid and box.handle:
        yield "handle", f"{NOT_NAMED}; drawn as the lid", strokes[woods["lid"]]
