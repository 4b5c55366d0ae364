"""The paper mock-up: folded in space from what is drawn, it is the box; it is legible, and printed only on request.

The folding here knows nothing of how the nets are made. It takes the lines of a page, finds the faces between them with
shapely, and turns each about its dashed line with numpy.
"""

from __future__ import annotations

import functools
import itertools
import math
import re
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np
import numpy.typing as npt
import pytest
import shapely
from click.testing import CliRunner
from hypothesis import assume, given, settings
from hypothesis import strategies as st
from shapely.ops import polygonize

import cli
from jigs.base import drawing as draw
from jigs.base.cards import Order, Template
from jigs.base.errors import CannotBuild, CannotRead
from jigs.box import chain
from jigs.box import sheets as box_sheets
from jigs.box.mockup import sheets as mockup
from jigs.boxfile import change, reading
from jigs.record import replace
from layout import make
from layout.sheet.marks import Bundle
from tests.boxes import SAMPLES
from tests.conftest import all_pages, examples
from tests.legibility import faults
from tests.outside import Check
from tests.test_words import ON_PAPER, REJECTED, rejected
from tests.words import words_of

FOLDED = Check(
    "The whole box",
    "nets of paper folded in space by numpy along their printed lines, faces found by shapely",
    "independent derivation",
)
Array = npt.NDArray[np.float64]
CLOSE = 0.01
"""How well corners must meet, mm."""
CHORD = 1e-4
"""How far the polygons here may leave an arc, mm."""
BOARDS = ("front", "right-end", "back", "left-end")


@functools.cache
def worked(sample: Path) -> chain.Box:
    return chain.work_out(reading.load(sample))


def nets(box: chain.Box) -> dict[str, draw.View]:
    """Return the nets of a box by name: those that are printed, and those that they come apart into."""

    def every(templates: Sequence[Template]) -> dict[str, draw.View]:
        found: dict[str, draw.View] = {}
        for template in templates:
            found |= {template.view.name: template.view} | every(template.apart)
        return found

    return every(mockup.sheets(box).templates)


# -- folding -------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Face:
    """A face of a net as it is drawn, and where folding takes it: a matrix for (x, y, 0, 1), print towards +z."""

    drawn: shapely.Polygon
    place: Array

    def at(self, *points: tuple[float, float]) -> Array:
        """Return where points of the net come to lie."""
        flat = np.array([(x, y, 0.0, 1.0) for x, y in points])
        return np.asarray((flat @ self.place.T)[:, :3])

    @property
    def corners(self) -> Array:
        """Where its corners come to lie."""
        return self.at(*((x, y) for x, y in self.drawn.exterior.coords[:-1]))


def lines_of(view: draw.View, what: str) -> list[shapely.LineString]:
    [part] = [part for part in view.parts if part.name == f"{view.name}-{what}"]
    return [shapely.LineString(line.shape.points(CHORD)) for line in part.lines]


def faces_of(view: draw.View) -> list[shapely.Polygon]:
    """Return the faces between the lines of a net."""
    cut = [line for part in view.parts if part.name == f"{view.name}-openings" for line in lines_of(view, "openings")]
    lines = shapely.union_all([*lines_of(view, "outline"), *lines_of(view, "folds"), *cut])
    gone = [shapely.Polygon(line) for line in cut]
    faces = polygonize(shapely.get_parts(lines))
    return [face for face in faces if not any(one.contains(face.representative_point()) for one in gone)]


def about(start: Sequence[float], end: Sequence[float], degrees: float) -> Array:
    """Return the turn about a line of the plane, by the formula of Rodrigues, as a matrix of 4 by 4."""
    first = np.array([*start[:2], 0.0])
    along = np.array([end[0] - start[0], end[1] - start[1], 0.0])
    x, y, z = along / np.linalg.norm(along)
    cross = np.array([[0, -z, y], [z, 0, -x], [-y, x, 0]])
    angle = math.radians(degrees)
    turn = np.eye(3) + math.sin(angle) * cross + (1 - math.cos(angle)) * cross @ cross
    made = np.eye(4)
    made[:3, :3], made[:3, 3] = turn, first - turn @ first
    return made


def folded(view: draw.View, base: tuple[float, float], place: Array, degrees: float = 90.0) -> list[Face]:
    """Return the faces of a net, the one at `base` first and in its place, the others turned away from the print."""
    left = faces_of(view)
    creases = lines_of(view, "folds")
    [first] = [face for face in left if face.contains(shapely.Point(base))]
    left.remove(first)
    found = [Face(first, place)]
    for face in found:  # it grows as faces are found
        for other in [one for one in left if crease_between(face.drawn, one, creases) is not None]:
            crease = crease_between(face.drawn, other, creases)
            assert crease is not None
            start, end = crease.coords[0], crease.coords[-1]
            middle = other.representative_point()
            back = next(
                turn
                for turn in (about(start, end, degrees), about(start, end, -degrees))
                if (turn @ np.array([middle.x, middle.y, 0.0, 1.0]))[2] < 0
            )
            found.append(Face(other, face.place @ back))
            left.remove(other)
    assert left == []
    return found


def crease_between(
    one: shapely.Polygon, other: shapely.Polygon, creases: Sequence[shapely.LineString]
) -> shapely.LineString | None:
    """Return the fold that two faces share, if they share one: the first of several in one line."""
    shared = [piece for piece in shapely.get_parts(one.intersection(other)) if piece.length > 0.5]
    return next((line for line in creases for piece in shared if line.buffer(1e-6).covers(piece)), None)


Direction = Sequence[float] | Array


def standing(x: Direction, y: Direction, print_to: Direction, at: Direction) -> Array:
    """Return the place of a face: where its axes and its print look, and where its own 0 comes to lie."""
    made = np.eye(4)
    for i, column in enumerate((x, y, print_to, at)):
        made[:3, i] = column
    return made


FRONT = standing((1, 0, 0), (0, 0, 1), (0, -1, 0), (0, 0, 0))
"""The front of a box whose near left lower corner is 0, x along it, y to the back, z up."""


def same(found: Array, wanted: Sequence[Sequence[float]]) -> bool:
    """Tell whether two sets of corners coincide."""
    apart = np.linalg.norm(found[:, None, :] - np.array(wanted, dtype=float)[None, :, :], axis=2)
    return bool(apart.min(axis=0).max() < CLOSE and apart.min(axis=1).max() < CLOSE)


# -- sides ---------------------------------------------------------------------------------------------------------


def check_sides(box: chain.Box) -> None:
    """The strip, folded, is the box outside, and closes; so do the pieces that it comes apart into."""
    assert box.numbers is not None
    long, wide, high = box.file.box.length, box.file.box.width, box.numbers.width
    view = nets(box)["sides"]
    strip = folded(view, (long / 2, high / 2), FRONT)
    walls: dict[str, list[tuple[float, float, float]]] = {
        "front": [(0, 0, 0), (long, 0, 0), (long, 0, high), (0, 0, high)],
        "right end": [(long, 0, 0), (long, wide, 0), (long, wide, high), (long, 0, high)],
        "back": [(long, wide, 0), (0, wide, 0), (0, wide, high), (long, wide, high)],
        "left end": [(0, wide, 0), (0, 0, 0), (0, 0, high), (0, wide, high)],
    }
    for name, corners in walls.items():
        assert [face for face in strip if same(face.corners, corners)], name
    every = np.concatenate([face.corners for face in strip])
    assert every.min(axis=0) == pytest.approx((0, 0, 0), abs=CLOSE)
    assert every.max(axis=0) == pytest.approx((long, wide, high), abs=CLOSE)
    check_tab(strip, long + wide, high)
    check_rim(box, strip)


def check_tab(strip: Sequence[Face], half: float, high: float) -> None:
    """The last edge of the strip comes to its first, and the tab on it lies behind the front."""
    [tab] = [face for face in strip if face.drawn.bounds[0] > 2 * half - 1e-6]
    edge = tab.at((2 * half, 0), (2 * half, high))
    assert same(edge, [(0, 0, 0), (0, 0, high)])
    assert np.abs(tab.corners[:, 1]).max() < CLOSE
    assert tab.corners[:, 0].min() > -CLOSE
    assert tab.corners[:, 0].max() > 8


def check_rim(box: chain.Box, strip: Sequence[Face]) -> None:
    """The flaps above lie level, as wide as the sides are thick, and meet at the four corners."""
    assert box.numbers is not None
    long, wide, high = box.file.box.length, box.file.box.width, box.numbers.width
    side, end = box.file.sides.thickness, box.file.sides.ends_thickness or box.file.sides.thickness
    flaps = [face for face in strip if face.drawn.bounds[1] > high - 1e-6]
    assert len(flaps) == 4
    assert all(np.abs(flap.corners[:, 2] - high).max() < CLOSE for flap in flaps)
    places = [shapely.Polygon(flap.corners[:, :2]) for flap in flaps]
    ring = shapely.box(0, 0, long, wide).difference(shapely.box(end, side, long - end, wide - side))
    assert shapely.union_all(places).symmetric_difference(ring).area < CLOSE
    overlap = [a.intersection(b).area for a, b in itertools.combinations(places, 2)]
    assert [area > 0.5 * side * end for area in overlap].count(True) == 4


def check_pieces(box: chain.Box) -> None:
    """Each board alone: as long and as high as the side, its tab for the next, with the letter of the edge it meets."""
    assert box.numbers is not None
    high, views = box.numbers.width, nets(box)
    lengths = dict(zip(BOARDS, [box.file.box.length, box.file.box.width] * 2, strict=True))
    for name, after in zip(BOARDS, [*BOARDS[1:], BOARDS[0]], strict=True):
        view, long = views[name], lengths[name]
        faces = folded(view, (long / 2, high / 2), np.eye(4))
        assert same(faces[0].corners[:, :2], [(0, 0), (long, 0), (long, high), (0, high)])
        [tab] = [face for face in faces if face.drawn.bounds[0] > long - 1e-6]
        assert tab.at((long, 0), (long, high)).tolist() == [[long, 0, 0], [long, high, 0]]
        [own] = [label.words for label in bold(view) if tab.drawn.contains(shapely.Point(label.at))]
        board = shapely.box(0, 0, lengths[after], high)
        [met] = [label.words for label in bold(views[after]) if board.contains(shapely.Point(label.at))]
        assert own == met
    for name, first, last in (("front-and-right-end", 0, 1), ("back-and-left-end", 2, 3)):
        letters = [{str(label.words) for label in bold(views[BOARDS[i]])} for i in (first, last)]
        assert {str(label.words) for label in bold(views[name])} == letters[0] | letters[1]


def bold(view: draw.View) -> list[draw.Label]:
    """Return the letters of a net."""
    return [label for label in view.labels if label.bold]


def check_fingers(box: chain.Box) -> None:
    """End grain is seen where the joint has its sockets: on the front those of the front, on an end those of an end.

    A socket is wider than the finger in it by the clearance, so an end's own sockets may differ by so much.
    """
    assert box.numbers is not None
    views, high, clearance = nets(box), box.numbers.width, abs(box.numbers.clearance)
    thick = box.file.sides.thickness, box.file.sides.ends_thickness or box.file.sides.thickness
    sockets = {"front": box.numbers.long_sockets, "back": box.numbers.long_sockets}
    sockets |= {"left-end": box.numbers.short_sockets, "right-end": box.numbers.short_sockets}
    seen = {}
    for name, spans in sockets.items():
        [part] = [part for part in views[name].parts if part.name == f"{name}-fingers"]
        wide = views[name].check
        assert wide is not None
        mate = thick[1] if name in ("front", "back") else thick[0]
        at_left = sorted((b.bottom, b.top) for b in (p.bounds for p in part.hatched) if b.left == 0)
        at_right = sorted((b.bottom, b.top) for b in (p.bounds for p in part.hatched) if b.left > 0)
        assert at_left == at_right
        assert {round(path.bounds.width, 6) for path in part.hatched} == {round(mate, 6)}
        slack = 1e-6 if name in ("front", "back") else clearance + 1e-6
        assert len(at_left) == len(spans)
        for (low, top), span in zip(at_left, spans, strict=True):
            assert abs(low - span.start) <= slack
            assert abs(top - span.end) <= slack
        seen[name] = at_left
    assert seen["front"][0][0] > 1.0  # front and back start with a finger at the bottom edge
    whole = sorted([*seen["front"], *seen["right-end"]])
    assert [whole[0][0], whole[-1][1]] == pytest.approx([0, high])
    assert all(one[1] == pytest.approx(other[0]) for one, other in itertools.pairwise(whole))


# -- lid -----------------------------------------------------------------------------------------------------------


def check_lid(box: chain.Box) -> None:
    """The ends, folded, stand at the ends of the bent top; the edges hang down to the flaps, and corners coincide."""
    made = box.lid
    assert made is not None
    over = box.file.lid.overhang if box.file.lid else 0.0
    long, wide = (max(sizes) for sizes in ([box.file.box.length, box.file.box.width],) * 2)
    wide = min(box.file.box.length, box.file.box.width)
    long, wide = long + 2 * over, wide + 2 * over
    edge, rise = made.thickness - made.plug_depth - made.crown, made.crown
    views = nets(box)
    arc = check_ends(box, (wide, edge, rise))
    top = next(face for face in faces_of(views["lid-top"]) if face.contains(shapely.Point(long / 2, arc / 2)))
    assert same(np.array(top.exterior.coords)[:, :2], crown_corners(top, long, arc))
    check_edges(views["lid-top"], (long, wide, edge), rise, arc)
    assert max(tooth_depths(views["lid-top"], long)) < edge
    halves = [shapely.union_all(faces_of(views[f"lid-{half}"])) for half in ("near", "far")]
    lap = shapely.box(-20, arc / 2, long + 20, arc / 2 + 20)
    both = shapely.union_all([halves[0].difference(lap), halves[1]])
    whole = shapely.union_all(faces_of(views["lid-top"]))
    middle = shapely.box(0, -1000, long, 1000)
    assert both.intersection(middle).symmetric_difference(whole.intersection(middle)).area < CLOSE
    assert halves[0].intersection(lap).bounds == pytest.approx((0, arc / 2, long, halves[0].bounds[3]), abs=CLOSE)


def crown_corners(top: shapely.Polygon, long: float, arc: float) -> list[tuple[float, float]]:
    """Return the corners that the top must have: those of a rectangle, and on its ends those between teeth."""
    between = [(x, y) for x, y in top.exterior.coords if x in (0.0, long) and 0 < y < arc]
    return [(0, 0), (long, 0), (long, arc), (0, arc), *between]


def tooth_depths(view: draw.View, long: float) -> list[float]:
    return [
        -b[0] if b[0] < 0 else b[2] - long for b in (face.bounds for face in faces_of(view)) if b[0] < 0 or b[2] > long
    ]


def check_ends(box: chain.Box, sizes: tuple[float, float, float]) -> float:
    """Both ends: width, edge and rise of the lid; a flap folded in below; tabs behind the edges. Return their curve."""
    assert box.lid is not None
    wide, edge, rise = sizes
    views, curves = nets(box), []
    for name in ("lid-left", "lid-right"):
        faces = folded(views[name], (wide / 2, edge / 2), standing((0, -1, 0), (0, 0, 1), (-1, 0, 0), (0, wide, 0)))
        face = faces[0].corners
        assert face.min(axis=0) == pytest.approx((0, 0, 0), abs=CLOSE)
        assert face.max(axis=0) == pytest.approx((0, wide, edge + rise), abs=CLOSE)
        rim = faces[0].drawn.exterior.coords
        curve = {(x, y) for x, y in rim if y > edge - 1e-9}
        curves.append(shapely.LineString(np.array(sorted(curve))).length)
        flap, *tabs = sorted(faces[1:], key=lambda one: one.drawn.bounds[1])
        assert np.abs(flap.corners[:, 2]).max() < CLOSE
        assert flap.corners[:, 0].max() == pytest.approx(box.lid.rabbets[0], abs=CLOSE)
        for tab in tabs:
            across = tab.corners[:, 1]
            assert min(np.abs(across).max(), np.abs(across - wide).max()) < CLOSE
            assert tab.corners[:, 2].min() > -CLOSE
            assert tab.corners[:, 2].max() < edge + CLOSE
    assert curves[0] == pytest.approx(curves[1])
    return curves[0]


def check_edges(view: draw.View, sizes: tuple[float, float, float], rise: float, arc: float) -> None:
    """Both long edges, turned so far from the bent top that they hang straight down, end in level flaps."""
    long, wide, edge = sizes
    radius = wide**2 / (8 * rise) + rise / 2 if rise else math.inf
    slope = math.asin(wide / 2 / radius)
    assert arc == pytest.approx(2 * radius * slope if rise else wide, abs=CLOSE)
    faces = faces_of(view)
    for near, sign in ((True, 1.0), (False, -1.0)):
        start = 0.0 if near else arc
        rim = (0.0, 0.0 if near else wide, edge)
        across = np.array([0.0, math.cos(slope), sign * math.sin(slope)])
        up = np.array([0.0, -sign * math.sin(slope), math.cos(slope)])
        place = standing((1, 0, 0), across, up, np.array(rim) - across * start)
        hanging = place @ about((0, start), (long, start), sign * (90 - math.degrees(slope)))
        below = start - edge if near else start + edge
        corner = hanging @ np.array([0, below, 0, 1])
        assert corner[:3] == pytest.approx((0, rim[1], 0), abs=CLOSE)
        level = hanging @ about((0, below), (long, below), sign * 90)
        flap = next(one for one in faces if (one.bounds[3] <= below + 1e-6 if near else one.bounds[1] >= below - 1e-6))
        lying = Face(flap, level).corners
        assert np.abs(lying[:, 2]).max() < CLOSE
        assert same(lying[np.abs(lying[:, 1] - rim[1]) < CLOSE], [(0, rim[1], 0), (long, rim[1], 0)])
        inward = lying[:, 1].max() if near else wide - lying[:, 1].min()
        assert inward > 0
        assert lying[:, 1].min() > -CLOSE
        assert lying[:, 1].max() < wide + CLOSE


# -- handle --------------------------------------------------------------------------------------------------------


def finished(made: Any) -> shapely.Polygon:
    """Return the handle as its blank that a crest and two holes are cut from, independently of how it is drawn."""
    half, rise = made.length / 2, made.crest
    radius = made.length**2 / (8 * rise) + rise / 2
    blank = shapely.box(-half, 0, half, made.height)
    up, aside = made.radius + made.base, made.radius + made.neck / 2
    if made.holes.opening:  # a neck of wood on the line between the centres of two holes of one saw
        aside = max(aside, math.sqrt((2 * made.radius + made.neck) ** 2 - up**2))
    crest = shapely.Point(0, made.height - radius).buffer(radius, quad_segs=2000)
    holes = [shapely.Point(side * aside, up).buffer(made.radius, quad_segs=1000) for side in (-1, 1)]
    if made.holes.opening:  # an arch: its centre lies on the base unless it is asked for elsewhere
        holes.append(shapely.Point(0, 0).buffer(made.radius, quad_segs=1000))
    left = blank.intersection(crest).difference(shapely.union_all(holes))
    found: shapely.Polygon = max(shapely.get_parts(left), key=lambda piece: float(piece.area))
    return found


def check_handle(box: chain.Box) -> None:
    """Both faces, folded up, have the outline of the handle and stand as far apart as it is thick."""
    made = box.handle
    assert made is not None
    views, half, thick = nets(box), made.length / 2, made.thickness
    faces = folded(views["handle-faces"], (0, -thick / 2), standing((1, 0, 0), (0, 1, 0), (0, 0, -1), (0, 0, 0)))
    assert len(faces) == 3
    assert np.abs(faces[0].corners[:, 2]).max() < CLOSE
    lies = shapely.Polygon(faces[0].corners[:, :2])
    assert lies.hausdorff_distance(shapely.box(-half, -thick, half, 0)) < CLOSE
    for face, at in zip(sorted(faces[1:], key=lambda one: -one.drawn.bounds[1]), (0, -thick), strict=True):
        assert np.abs(face.corners[:, 1] - at).max() < CLOSE
        stands = shapely.Polygon(face.corners[:, [0, 2]])
        assert stands.hausdorff_distance(finished(made)) < CLOSE
        assert stands.symmetric_difference(finished(made)).area < 0.05
    crest = views["handle-crest"]
    strip = next(face for face in faces_of(crest) if face.contains(shapely.Point(made.length / 2, thick / 2)))
    top = {(x, y) for x, y in finished(made).exterior.coords if y > made.height - made.crest - 1e-3}
    curve = shapely.LineString(np.array(sorted(top))).length
    assert strip.bounds == pytest.approx((0, 0, curve, thick), abs=CLOSE)
    teeth = [face for face in folded(crest, (curve / 2, thick / 2), np.eye(4)) if face.drawn != strip]
    behind = finished(made).buffer(-1e-6)
    deep = max(-face.corners[:, 2].min() for face in teeth)
    assert all(behind.contains(shapely.Point(x, y - deep)) for x, y in top if abs(x) < half - deep)
    if box.lid:
        check_place(views["lid-top"], made.length, thick)


def check_place(view: draw.View, long: float, thick: float) -> None:
    """The base of the handle is drawn in the middle of the top, as large as it is."""
    [place] = [part.bounds for part in view.parts if part.name == "handle-place"]
    middle = [
        shapely.union_all(faces_of(view)).bounds[i] + shapely.union_all(faces_of(view)).bounds[i + 2] for i in (0, 1)
    ]
    assert (place.width, place.height) == pytest.approx((long, thick))
    assert [place.left + place.right, place.bottom + place.top] == pytest.approx(middle)


def check_all(box: chain.Box) -> None:
    """Check all but the handle, which does not change with the box."""
    check_sides(box)
    check_pieces(box)
    check_fingers(box)
    if box.lid:
        check_lid(box)


# -- the samples, and boxes drawn at random ------------------------------------------------------------------------


@FOLDED.of()
@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize(
    "check", [check_sides, check_pieces, check_fingers, check_lid, check_handle], ids=lambda check: check.__name__[6:]
)
def test_what_is_drawn_folds_into_the_box(sample: Path, check: Any) -> None:
    check(worked(sample))


def drawn_box(sample: Path, values: dict[str, str | float]) -> chain.Box:
    return chain.work_out(reading.read(change.set_values(sample.read_text(), values), "a-box.toml"))


@FOLDED.of()
@settings(max_examples=examples(12))
@given(
    sample=st.sampled_from(SAMPLES),
    length=st.floats(0.6, 2.2),
    width=st.floats(0.6, 1.8),
    fingers=st.integers(4, 12),
    thickness=st.floats(0.7, 1.4),
    ends=st.floats(0.7, 1.4),
    crown=st.sampled_from([0.0, 0.5, 1.0]),
    overhang=st.floats(0, 2),
)
def test_any_box_folds(
    sample: Path,
    length: float,
    width: float,
    fingers: int,
    thickness: float,
    ends: float,
    crown: float,
    overhang: float,
) -> None:
    """Even and odd numbers of fingers and sockets, ends of another thickness, flat lids: all that stays possible."""
    file = worked(sample).file
    assert file.lid
    assert file.lid.crown
    lengths = {
        "box.length": file.box.length * length,
        "box.width": file.box.width * width,
        "sides.thickness": file.sides.thickness * thickness,
        "sides.ends_thickness": file.sides.thickness * ends,
        "joint.finger": file.box.height / fingers,
        "joint.cutter": file.box.height / fingers,
        "lid.crown": file.lid.crown * crown,
        "lid.overhang": file.lid.overhang * overhang,
    }
    try:
        box = drawn_box(sample, {name: f"{size:.2f} mm" for name, size in lengths.items()})
        assume(box.numbers is not None and min(box.inside) > 0)
        check_all(box)
    except CannotBuild:
        assume(False)


@FOLDED.of()
@settings(max_examples=examples(8))
@given(neck=st.floats(16, 40), length=st.floats(0.2, 0.9), thickness=st.floats(12, 40), crest=st.floats(1, 9))
def test_any_handle_folds(neck: float, length: float, thickness: float, crest: float) -> None:
    """With its length between those at which a hole cuts the end: neck and neck + 4 radii of 19.3."""
    values = {"neck": neck, "length": neck + length * 4 * 19.3, "thickness": thickness, "crest": crest, "height": 60.0}
    try:
        box = drawn_box(SAMPLES[0], {f"handle.{name}": f"{size:.2f} mm" for name, size in values.items()})
    except CannotBuild:
        assume(False)
    assume(box.handle is not None)
    check_handle(box)


def test_a_wrong_net_is_found_out() -> None:
    """The folding itself can fail: a strip whose last board is a little too long does not close."""
    box = worked(SAMPLES[0])
    wrong = replace(box, file=replace(box.file, box=replace(box.file.box, length=box.file.box.length + 0.05)))
    strip = folded(nets(wrong)["sides"], (10, 10), FRONT)
    with pytest.raises(AssertionError):
        check_tab(strip, box.file.box.length + box.file.box.width, box.height)


def test_the_shell_stands_in_its_place() -> None:
    """In the middle of 200 mm, and half way between the groove, 18 up, and the rim, 89.68 up; 43 high with its border.

    18 + (89.68 − 18 − 43) / 2 = 32.34, where its pivot is.
    """
    [part] = [part for part in nets(worked(SAMPLES[0]))["front"].parts if part.name == "shell"]
    assert (part.bounds.left + part.bounds.right) / 2 == pytest.approx(100)
    assert part.bounds.top == pytest.approx(32.34 + 43, abs=0.01)


@pytest.mark.parametrize("gone", ["lid", "handle", "shell"])
def test_a_part_that_the_box_has_not_is_left_out(gone: str) -> None:
    text = re.sub(rf"\[{gone}\]\n(?:.+\n)+", "", SAMPLES[0].read_text())
    box = chain.work_out(reading.read(text, "plain.toml"))
    made = mockup.sheets(box)
    names = {template.view.name for template in made.templates}
    parts = {part.name for template in made.templates for part in template.view.parts}
    assert not any(name.startswith(gone) for name in names | parts)
    assert (f"'{gone.capitalize()}'" in repr(made.cards)) is False
    check_sides(box)


# -- its pages -----------------------------------------------------------------------------------------------------


def composed(box: chain.Box, page: str) -> Bundle:
    head = replace(make.head_of_box(box.file), prefix="a-box", codes=())
    return all_pages(make.compose(head, box_sheets.sheets(box, ["mockup"]), make.Printing(paper=page), ["mockup"]))


@pytest.mark.parametrize("page", ["A4", "Letter", "A3"])
@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_its_pages_are_legible(sample: Path, page: str) -> None:
    bundle = composed(worked(sample), page)
    assert [(sheet.name, faults(sheet)) for sheet in bundle.sheets if faults(sheet)] == []
    assert bundle.sheets[0].name.endswith("-mockup")
    assert not bundle.sheets[1].name.endswith("-back")


@pytest.mark.slow
@settings(max_examples=examples(8))
@given(
    sample=st.sampled_from(SAMPLES),
    length=st.floats(0.6, 2.4),
    width=st.floats(0.6, 2),
    height=st.floats(0.5, 2.5),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_the_pages_of_any_box_are_legible(sample: Path, length: float, width: float, height: float, page: str) -> None:
    file = worked(sample).file
    sizes = {"length": length, "width": width, "height": height}
    values: dict[str, str | float] = {
        f"box.{name}": f"{getattr(file.box, name) * share:.2f} mm" for name, share in sizes.items()
    }
    try:
        bundle = composed(drawn_box(sample, values), page)
    except CannotBuild:
        assume(False)
    else:
        assert [(sheet.name, faults(sheet)) for sheet in bundle.sheets if faults(sheet)] == []


def pieces_on(box: chain.Box, page: str) -> set[str]:
    groups = [group.name for sheet in composed(box, page).sheets for group in sheet.groups()]
    return {name.removeprefix("mockup-").removesuffix("-outline") for name in groups if name.endswith("-outline")}


def test_a_larger_page_holds_more_in_one_piece() -> None:
    """A strip of 700 mm fits a roll; on A3 it comes apart at two of its folds, on A4 at all of them."""
    box = worked(SAMPLES[0])
    ends = {"lid-left", "lid-right", "handle-faces", "handle-crest"}
    assert pieces_on(box, "610 mm roll") == {"sides", "lid-top", *ends}
    assert pieces_on(box, "A3") == {"front-and-right-end", "back-and-left-end", "lid-top", *ends}
    assert pieces_on(box, "A4") == {*BOARDS, "lid-near", "lid-far", *ends}


def test_boards_that_fit_a_page_are_never_joined_from_parts() -> None:
    for sample in SAMPLES:
        for page in ("A4", "Letter"):
            words = [t.words for s in composed(worked(sample), page).sheets for g in s.groups() for t in g.texts]
            assert not [said for said in words if said.startswith("Piece ")]


def test_it_is_printed_only_where_it_is_asked_for() -> None:
    box = worked(SAMPLES[0])
    usual = box_sheets.sheets(box)
    assert "mockup" not in usual.names()
    assert "mockup" in box_sheets.FAMILIES
    asked = box_sheets.sheets(box, ["cover", "readings", "mockup"])
    assert asked.cards[: len(usual.cards)] == usual.cards  # no other page is changed by it
    assert asked.templates[: len(usual.templates)] == usual.templates
    with pytest.raises(CannotRead, match="did you mean 'mockup'"):
        box_sheets.sheets(box, ["mokup"])


def test_it_comes_through_the_command(tmp_path: Path) -> None:
    words = ["draw", str(SAMPLES[0]), "--only", "mockup", "-o", str(tmp_path), "--format", "svg"]
    result = CliRunner().invoke(cli.main, words)
    assert result.exit_code == 0
    files = {path.name: path.read_text() for path in tmp_path.iterdir()}
    assert {"recipe-box-mockup-card-12-mockup.svg", "recipe-box-mockup-proof.svg"} <= set(files)
    front = next(text for text in files.values() if 'id="mockup-front-outline"' in text)
    assert 'id="calibration-left"' in front


# -- its words -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_its_words_are_those_of_the_trade_and_short(sample: Path) -> None:
    made, units = mockup.sheets(worked(sample)), worked(sample).file.units
    said = words_of(made, units)
    assert [found for line in said.splitlines() for found in rejected(line, (*REJECTED, *ON_PAPER))] == []
    steps = [str(step) for band in made.cards[0].bands if isinstance(band, Order) for step in band.steps]
    for step in steps:
        sentences = re.split(r"(?<=\.) ", step)
        assert len(sentences) <= 2 or len(step.split()) <= 20
        assert all(len(sentence.split()) <= 20 for sentence in sentences)
    assert "cut on the wide lines" in first_notes(worked(sample)).lower()


def first_notes(box: chain.Box) -> str:
    """Return what is said before cutting, on a page that has room for it."""
    return " ".join(t.words for s in composed(box, "A3").sheets for g in s.groups() for t in g.texts)
