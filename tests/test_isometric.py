"""The isometric picture against rays cast at solids that are built another way."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import manifold3d
import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from jigs.base.wording import on_paper, read_out
from jigs.box import isometric
from jigs.box.chain import Box, work_out
from jigs.boxfile.reading import load
from tests.boxes import METRIC, worked
from tests.outside import Check, agree, compared

KERNEL = Check(
    "The whole box",
    "solids put together by manifold3d from the numbers of `check --json`, and looked at at a slant",
    "reference library",
)
STANDARDS = Check(
    "Lengths, paper, letters",
    "ISO 216, ISO 5456-3, ANSI/ASME Y14.1, Unicode, inch of 1959; ISO 5457, ISO/IEC 7810 at second hand",
    "standard",
)

SAMPLES = Path(__file__).parent.parent / "samples"
PARTS = """[groove]
cutter = 6
[bottom]
thickness = 10
[lid]
thickness = 18
[handle]
saw = 38
"""
Array = NDArray[Any]
_EYE = np.array([1.0, -1.0, 1.0]) / math.sqrt(3)
_RIGHT = np.array([1.0, 1.0, 0.0]) / math.sqrt(2)
_UP = np.cross(_EYE, _RIGHT)


def block(x: tuple[float, float], y: tuple[float, float], z: tuple[float, float]) -> manifold3d.Manifold:
    size = (x[1] - x[0], y[1] - y[0], z[1] - z[0])
    return manifold3d.Manifold.cube(size).translate((x[0], y[0], z[0]))


def built(box: Box, lift: float | None = None) -> list[manifold3d.Manifold]:
    """Return the solids made by cutting: sockets out of boards, a cylinder's crown, holes through the handle."""
    assert box.numbers is not None
    long, short, thick, high = box.file.box.length, box.file.box.width, box.file.sides.thickness, box.numbers.width
    ends = [((0.0, thick), "left"), ((long - thick, long), "right")]
    front, back = (block((0, long), y, (0, high)) for y in ((0, thick), (short - thick, short)))
    sides = {name: block(x, (0, short), (0, high)) for x, name in ends}
    for span in box.numbers.long_sockets:
        for x, _ in ends:
            tool = block(x, (-1, short + 1), (span.start, span.end if span.end < high - 1e-6 else high + 1))
            front, back = front - tool, back - tool
    sides = {name: side - front - back for name, side in sides.items()}
    solids = [front, back, *sides.values()]
    if bottom := box.bottom:
        low = bottom.groove.from_bottom - bottom.rabbet_depths[0]
        solids.append(block((thick, long - thick), (thick, short - thick), (low, low + bottom.thickness)))
    return solids + built_lid(box, high + (isometric.lifted(box) if lift is None else lift))


def built_lid(box: Box, foot: float) -> list[manifold3d.Manifold]:
    """Return lid, plug and handle of a box that is longer than wide."""
    made = box.lid
    if made is None:
        return []
    over, top = made.overhang, foot + made.edge + made.crown
    lid = block((-over, made.length - over), (-over, made.width - over), (foot, top))
    if radius := made.crown_radius:
        turned = manifold3d.Manifold.cylinder(made.length + 2, radius, circular_segments=4096).rotate((0, 90, 0))
        lid = lid ^ turned.translate((-over - 1, made.width / 2 - over, top - radius))
    ends, sides = made.rabbets
    plug = block(
        (ends - over, made.length - ends - over),
        (sides - over, made.width - sides - over),
        (foot - made.plug_depth, foot),
    )
    return [lid, plug, *built_handle(box, (made.length / 2 - over, made.width / 2 - over, top))]


def built_handle(box: Box, at: tuple[float, float, float]) -> list[manifold3d.Manifold]:
    made = box.handle
    if made is None:
        return []
    half, deep = made.length / 2, made.thickness / 2
    blank = block((-half, half), (-deep, deep), (0, made.height))

    def through(radius: float, x: float, z: float) -> manifold3d.Manifold:
        turned = manifold3d.Manifold.cylinder(made.thickness + 2, radius, circular_segments=512).rotate((90, 0, 0))
        return turned.translate((x, deep + 1, z))

    crest = made.holes.crest_radius
    blank = blank ^ through(crest, 0, made.height - crest)
    for side in (-1, 1):
        blank = blank - through(made.radius, side * made.holes.centre_offset, made.hole_height)
    if made.middle:
        blank = blank - through(made.middle.radius, 0, made.middle.y)
    return [blank.translate(at)]


class Rays:
    """What rays towards a picture meet first: which solid, how its surface lies there, and how far away it is."""

    def __init__(self, solids: list[manifold3d.Manifold]) -> None:
        corners, owners = [], []
        for number, solid in enumerate(solids):
            mesh = solid.to_mesh()
            corners.append(np.asarray(mesh.vert_properties, dtype=float)[:, :3][np.asarray(mesh.tri_verts)])
            owners += [number] * len(corners[-1])
        triangles = np.concatenate(corners)
        self.owner = np.array(owners)
        normal = np.cross(triangles[:, 1] - triangles[:, 0], triangles[:, 2] - triangles[:, 0])
        size = np.linalg.norm(normal, axis=1)
        keep = (size > 1e-9) & (normal @ _EYE > 1e-6 * size)
        self.triangles, self.owner = triangles[keep], self.owner[keep]
        self.normal = normal[keep] / size[keep, None]
        self.flat = np.stack([self.triangles @ _RIGHT, self.triangles @ _UP], axis=2)

    def meet(self, points: Array) -> tuple[Array, Array, Array]:
        """Return owner (-1: nothing), normal and nearness of what each point of the picture shows."""
        inside = np.ones((len(points), len(self.flat)), dtype=bool)
        for i in range(3):
            start, along = self.flat[:, i], self.flat[:, (i + 1) % 3] - self.flat[:, i]
            off = points[:, None, :] - start[None]
            inside &= along[None, :, 0] * off[..., 1] - along[None, :, 1] * off[..., 0] >= 0
        foot = points[:, 0, None] * _RIGHT + points[:, 1, None] * _UP
        offset = np.einsum("ij,ij->i", self.normal, self.triangles[:, 0])
        near = (offset[None] - foot @ self.normal.T) / (self.normal @ _EYE)[None]
        near = np.where(inside, near, -np.inf)
        best = near.argmax(axis=1)
        nearness = near[np.arange(len(points)), best]
        return np.where(np.isfinite(nearness), self.owner[best], -1), self.normal[best], nearness


def differs(rays: Rays, one: Array, other: Array) -> Array:
    """Say between which pairs of points an edge runs: another solid, another slope, or a step in distance."""
    (a, slope, far), (b, other_slope, other_far) = rays.meet(one), rays.meet(other)
    bend = np.einsum("ij,ij->i", slope, other_slope) < isometric.SHARP
    with np.errstate(invalid="ignore"):
        step = np.abs(far - other_far) > 8 * np.linalg.norm(one - other, axis=1)
    found: Array = (a != b) | ((a >= 0) & (bend | step))
    return found


def drawn(box: Box) -> shapely.MultiLineString:
    found = isometric.visible(isometric.solids_of(box))
    return shapely.MultiLineString([piece for pieces in found.values() for piece in pieces])


def boxes() -> list[Box]:
    plain = {"box__length": "240", "box__width": "160"}
    return [
        work_out(load(SAMPLES / "recipe-box.toml")),
        work_out(load(SAMPLES / "recipe-box-inch.toml")),
        worked(**plain),
        worked(METRIC + PARTS, box__height="40"),
        worked(METRIC + PARTS.replace("saw = 38\n", "saw = 38\nholes = 3\n")),
        worked(METRIC + PARTS.replace("saw = 38\n", "saw = 38\nholes = 3\nmiddle = 'eye'\nmiddle_saw = 30\n")),
    ]


@pytest.mark.slow
@KERNEL.of()
@pytest.mark.parametrize("number", range(6))
def test_what_is_drawn_is_seen_and_what_is_seen_is_drawn(number: int) -> None:
    """At random places of the picture an edge lies between two near points just where a line is drawn between them."""
    box = boxes()[number]
    rays, lines = Rays(built(box)), drawn(box)
    dice, near = np.random.default_rng(number), 0.05
    places = np.array([line.interpolate(dice.random(), normalized=True).coords[0] for line in lines.geoms])
    along = np.array([np.subtract(line.coords[1], line.coords[0]) / line.length for line in lines.geoms])
    aside = np.stack([-along[:, 1], along[:, 0]], axis=1) * near
    sharp = differs(rays, places + aside, places - aside)
    long_enough = np.array([line.length > 1.0 for line in lines.geoms])
    assert long_enough.sum() > 60
    assert sharp[long_enough].mean() == 1.0, places[long_enough & ~sharp]

    low, high = np.array(lines.bounds[:2]), np.array(lines.bounds[2:])
    spots = low + dice.random((800, 2)) * (high - low)
    turn = dice.random(800) * math.tau
    others = spots + 1.5 * np.stack([np.cos(turn), np.sin(turn)], axis=1)
    edge = differs(rays, spots, others)
    pairs = np.asarray(shapely.linestrings(np.stack([spots, others], axis=1)))
    assert edge.sum() > 12
    crossed = shapely.distance(pairs[edge], lines)
    assert crossed.max() < 0.05, spots[edge][crossed >= 0.05]
    compared(int(long_enough.sum() + edge.sum()))


@pytest.mark.slow
@settings(max_examples=6)
@given(
    st.integers(60, 400),
    st.integers(60, 400),
    st.integers(30, 200),
    st.integers(6, 18),
    st.booleans(),
)
def test_any_box_is_drawn_inside_its_room(length: int, width: int, height: int, thickness: int, whole: bool) -> None:
    box = worked(
        METRIC + (PARTS if whole else ""),
        box__length=str(length),
        box__width=str(width),
        box__height=str(height),
        sides__thickness=str(thickness),
    )
    view = isometric.isometric(box)
    if box.numbers is None or min(box.inside) <= 0:
        assert view is None
        return
    assert view is not None
    assert not view.to_scale
    assert {"iso-front", "iso-right-end"} <= {part.name for part in view.parts}


def test_the_whole_rim_is_seen_under_the_lid() -> None:
    box = work_out(load(SAMPLES / "recipe-box.toml"))
    assert box.numbers is not None
    lines, high = drawn(box), box.numbers.width
    for x, y in ((0, 0), (200, 0), (200, 150), (0, 150)):
        corner = shapely.Point(isometric.projected(isometric.Place(x, y, high)))
        assert corner.distance(lines) < 0.02


@STANDARDS.of()
def test_a_cube_shows_nine_edges() -> None:
    """Of a cube's twelve edges an isometric shows nine, each √(2/3) of its length (ISO 5456-3)."""
    cube = isometric.prism("cube", "Cube", [(0, 0), (10, 0), (10, 10), (0, 10)], (0, 10), isometric.Place)
    seen = isometric.visible([cube])["cube"]
    agree(len(seen), 9, 0.0, unit="mm")
    agree(sum(math.dist(*ends) for ends in seen), 9 * 10 * math.sqrt(2 / 3), unit="mm")


@STANDARDS.of()
def test_a_bank_card_lies_beside_the_box_at_the_same_scale() -> None:
    """ISO/IEC 7810, ID-1: 85.60 by 53.98 mm; along the axes an isometric shows √(2/3) of a length (ISO 5456-3)."""
    view = isometric.isometric(work_out(load(SAMPLES / "recipe-box.toml")))
    assert view is not None
    [card] = [part for part in view.parts if part.name == "bank-card"]
    corners = shapely.Polygon(card.lines[0].shape.points())
    # The projection of a flat thing on the table has √3/3 of its area: the sine of the angle it is seen at.
    area = 85.60 * 53.98 - (4 - math.pi) * 3.18**2
    agree(corners.area, area / math.sqrt(3), 2.0, unit="mm²")


def test_the_sizes_stand_at_their_lines() -> None:
    view = isometric.isometric(work_out(load(SAMPLES / "recipe-box.toml")))
    assert view is not None
    said = {read_out(label.words, "mm", on_paper) for label in view.labels}
    assert {"200", "150", "89.68", "210", "160"} <= said
    assert len([part for part in view.parts if part.name.startswith("size-")]) == 5


def test_a_box_that_can_not_be_jointed_has_no_picture() -> None:
    assert isometric.isometric(worked(joint__cutter="12")) is None
