"""The picture of a set-up: a scene of a box on a sheet of its own, as wide as its place on a page in a browser."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

import numpy as np
import shapely
from numpy.typing import NDArray

from jigs.base import drawing as draw
from jigs.base import lengths
from jigs.base.drawing import Bounds, Colour, Point
from jigs.base.lengths import Units
from jigs.box.isometric import Place, projected
from jigs.box.scene import Measure, Painted, Scene, Screen, Tie
from jigs.record import replace
from layout.draw import aslant
from layout.draw.aslant import Inks, Placed, Size, Wood
from layout.sheet import marks
from layout.sheet.marks import Group, Layer, Pen, Sheet, Stroke
from layout.sheet.paper import Paper

WIDTH, HIGHEST = 160.0, 120.0
"""The picture is so wide and at most so high, mm: 160 mm are 636 px."""
MARGIN = 1.0
_ROUNDS = 5
_NEAR = 0.01
"""So often its scale is tried, until it is as near as this share to filling the picture."""

Array = NDArray[np.float64]


def sheet(scene: Scene, parts: Sequence[Painted], screen: Screen, units: Units, title: str, name: str) -> Sheet:
    """Return a scene and its parts at full size as a sheet, its sizes read out in units."""
    areas = np.array([surface.whole for surface in scene.surfaces], dtype=object)
    ties = list(scene.seen_ties())
    scale, written = _fitted(scene, areas, ties, screen, units)
    groups = [_group(_clear_of(each.part.scaled(scale), written), each.ink) for each in parts]
    joining = [Stroke(_tie(tie, scale), _tie_pen(tie, screen)) for tie in ties]
    if joining:
        groups.append(Group("ties", "Where the parts belong", tuple(joining)))
    if written.texts:
        lines = (*written.strokes, *_made_out(scene, parts, written, scale, screen))
        groups.append(Group("sizes", "Sizes", lines, written.texts))
    box = _around(areas, ties, scale, written)
    high = box.height + 2 * MARGIN
    across, up = (WIDTH - box.width) / 2 - box.left, MARGIN - box.bottom
    paper = Paper("picture", WIDTH, high, Bounds(0, 0, WIDTH, high))
    placed = tuple(group.moved(across, up) for group in groups)
    return Sheet(name, title, paper, (Layer("picture", title, placed),), 1, 1)


def said(scene: Scene, units: Units) -> str:
    """Return what is shown, and every size, for whoever hears it."""
    sizes = [f"{measure.name} {lengths.show(measure.value, units, measure.purpose)}" for measure in scene.measures]
    return f"{scene.words} {'; '.join(sizes).capitalize()}." if sizes else scene.words


# -- how large it is drawn -----------------------------------------------------------------------------------------


def _fitted(
    scene: Scene, areas: NDArray[np.object_], ties: Sequence[Tie], screen: Screen, units: Units
) -> tuple[float, Placed]:
    """Return the largest scale with which all of it fits, and its sizes at that scale.

    Words do not grow with it: what they take beside the wood at one scale is taken off for the next.
    """
    left, bottom, right, top = shapely.total_bounds(areas)
    room = WIDTH - 2 * MARGIN, HIGHEST - 2 * MARGIN
    scale = 0.7 * min(room[0] / (right - left), room[1] / (top - bottom))
    best = 0.0, Placed((), ())
    for _ in range(_ROUNDS):
        written = _written(scene, areas, ties, scale, screen, units)
        box = _around(areas, ties, scale, written)
        fits = box.width <= room[0] + 1e-6 and box.height <= room[1] + 1e-6
        if fits and scale > best[0]:
            best = scale, written
        beside = box.width - scale * (right - left), box.height - scale * (top - bottom)
        wanted = min((room[0] - beside[0]) / (right - left), (room[1] - beside[1]) / (top - bottom))
        wanted = max(wanted, 0.5 * scale)
        if fits and wanted < scale * (1 + _NEAR):
            break
        scale = wanted * (1 - _NEAR / 4)
    while not best[0]:  # a large number beside a small box: it fits in the end, or the box is smaller than a line
        scale *= 0.8
        written = _written(scene, areas, ties, scale, screen, units)
        box = _around(areas, ties, scale, written)
        if scale * (right - left) < 1.0 or (box.width <= room[0] and box.height <= room[1]):
            best = scale, written
    return best


def _written(
    scene: Scene, areas: NDArray[np.object_], ties: Sequence[Tie], scale: float, screen: Screen, units: Units
) -> Placed:
    sizes = [size(measure, scale, units) for measure in scene.measures]
    scaled = shapely.transform(areas, lambda places: places * scale)
    in_hand = np.array([surface.solid in scene.hand for surface in scene.surfaces])
    wood = Wood(scaled[in_hand].tolist(), scaled[~in_hand].tolist())
    return aslant.place(sizes, wood, [_tie(tie, scale) for tie in ties], Inks(screen.ink, screen.pencil))


def size(measure: Measure, scale: float, units: Units) -> Size:
    """Return what is measured as a size of the picture at a scale, its number read out in units."""
    across, up = projected(measure.aside)
    long = float(np.hypot(across, up))
    start, end, *_ = (_at(place, scale) for place in (measure.start, measure.end))
    roots = tuple(tuple(_at(place, scale) for place in way) for way in measure.roots)
    number = lengths.bare(measure.value, units, measure.purpose)
    aside = Point(across / long, up / long)
    return Size(start, end, aside, number, measure.note, (roots[0], roots[1]), measure.small)


def _at(place: Place, scale: float) -> Point:
    return draw.scaled_point(Point(*projected(place)), scale)


def _around(areas: NDArray[np.object_], ties: Sequence[Tie], scale: float, written: Placed) -> Bounds:
    wood = Bounds(*(scale * side for side in shapely.total_bounds(areas).tolist()))
    boxes = [wood, *(_tie(tie, scale).bounds for tie in ties), *(text.box for text in written.texts)]
    return draw.around([*boxes, *(stroke.shape.bounds for stroke in written.strokes)])


# -- marks ---------------------------------------------------------------------------------------------------------


def _tie(tie: Tie, scale: float) -> draw.Path:
    return draw.line(_at(tie.start, scale), _at(tie.end, scale))


def _tie_pen(tie: Tie, screen: Screen) -> Pen:
    if tie.ghost:
        return Pen("ghost", 0.25, (4.0, 0.9, 0.5, 0.9, 0.5, 0.9), colour=screen.pencil)
    return Pen("tie", 0.3, (1.5, 1.1), colour=screen.hand)


def _made_out(
    scene: Scene, parts: Sequence[Painted], written: Placed, scale: float, screen: Screen
) -> Iterator[Stroke]:
    """Yield the stretches of lines that run over a wood on which their ink can't be made out, in another ink."""
    light = {each.solid for each in parts if each.ink == screen.other_ink}
    found = shapely.union_all([surface.whole for surface in scene.surfaces if surface.solid in light])
    if found.is_empty:
        return
    wood = shapely.transform(found, lambda places: places * scale)
    for stroke in written.strokes:
        if not stroke.pen.filled:
            line = shapely.LineString(stroke.shape.points()).intersection(wood)
            for piece in shapely.get_parts(line):
                if piece.length > 0:
                    yield Stroke(draw.line(*piece.coords), replace(stroke.pen, colour=screen.other_ink))


def _clear_of(part: draw.Part, written: Placed) -> draw.Part:
    """Return a part without the strokes of its grain that words stand on."""
    if not written.texts or not part.grain:
        return part
    ends = np.array([[line.shape.start, line.shape.steps[-1].end] for line in part.grain])
    rooms = [shapely.box(*aslant.room(text).grown(aslant.CLEAR)) for text in written.texts]
    under = np.zeros(len(ends), dtype=bool)
    under[shapely.STRtree(rooms).query(shapely.linestrings(ends), predicate="intersects")[0]] = True
    return replace(part, grain=tuple(line for line, lost in zip(part.grain, under, strict=True) if not lost))


def _group(part: draw.Part, ink: Colour) -> Group:
    """Return a part as marks: its colours, its grain, its lines."""
    pens = {
        draw.Kind.EDGE: Pen("edge in hand", 0.32, colour=ink),
        draw.Kind.NARROW: Pen("edge in pencil", 0.2, colour=ink),
    }
    strokes = [Stroke(fill.shape, marks.fill(fill.colour)) for fill in part.fills]
    strokes += [Stroke(line.shape, marks.grain(line.colour)) for line in part.grain]
    strokes += [Stroke(line.shape, pens[line.kind]) for line in part.lines]
    return Group(part.name, part.title, tuple(strokes))
