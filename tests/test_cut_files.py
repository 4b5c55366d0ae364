"""Cut files: what ezdxf, svgelements and shapely read in them, and how the command line speaks of them.

ezdxf reads DXF with another half of its code than the one that wrote it, and its auditor looks for faults; svgelements
reads SVG; shapely sets polygons off by itself, and holds them against the lines that the jigs draw.
"""

from __future__ import annotations

import io
import math
import os
import shlex
import subprocess
import sys
from collections.abc import Iterator, Mapping
from functools import cache
from pathlib import Path
from typing import Any

import ezdxf
import pytest
import svgelements
from click.testing import CliRunner, Result
from ezdxf.math import bulge_to_arc
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree
from shapely import make_valid
from shapely.affinity import translate
from shapely.geometry import LineString, MultiPoint, Point, Polygon
from shapely.ops import unary_union

import cli
from jigs.base import catalogue
from jigs.base import drawing as draw
from jigs.base.cards import Template
from jigs.base.catalogue import Plan
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.box import chain, sheets
from jigs.boxfile.jig_file import JigSettings
from jigs.record import replace
from layout import make
from layout.cut import bed, names, offset, pieces
from tests.conftest import examples
from tests.outside import Check, agree, compared
from tests.test_properties import built, settings_of

ROOT = Path(__file__).parent.parent
READ_BACK = Check("Written files", "cut files: ezdxf's reader and auditor, svgelements, lxml", "reference library")
SET_OFF = Check(
    "Written files", "outlines for a cut width: shapely's buffer, areas worked by hand", "reference library"
)
SVG = "http://www.w3.org/2000/svg"
FLAT = 0.0005
"""How far a chord of ours may lie from an arc, mm."""
CHORDS = 0.002
"""What two flattened outlines may differ by, mm: the chords of both, and those of shapely's rounded corners."""
INCHES_TOO: tuple[Units, ...] = ("mm", "in")
BOXES = ("recipe-box", "recipe-box-inch")


def example(name: str) -> make.Job:
    """Return a jig as its example sets it."""
    words = iter(shlex.split(catalogue.find(name).example))
    given: dict[str, Any] = {word.removeprefix("--").replace("-", "_"): next(words) for word in words}
    units: Units = given.pop("units", "mm")
    return make.jig(name, given, units)


def job_of(name: str) -> make.Job:
    if name in BOXES:
        return make.box((ROOT / f"samples/{name}.toml").read_text(), f"{name}.toml")
    return example(name)


@cache
def templates_of(name: str) -> tuple[Template, ...]:
    job = job_of(name)
    if name in BOXES:
        assert not isinstance(job, JigSettings)
        return sheets.sheets(chain.work_out(job)).templates
    assert isinstance(job, JigSettings)
    jig = catalogue.find(job.jig)
    return jig.plan(jig.settings(job.chosen(jig), job.units), job.units).sheets.templates


@cache
def cut_files(name: str, width: float = 0.0) -> Mapping[str, bytes]:
    return make.draw(job_of(name), (), make.Printing(formats=("dxf", "cut-svg"), cut_width=width)).files


JOBS = [*(name for name in catalogue.catalogue() if templates_of(name)), *BOXES]
WITHOUT = [name for name in catalogue.catalogue() if not templates_of(name)]


def documents(name: str, width: float = 0.0) -> Iterator[tuple[str, Any]]:
    for file, content in cut_files(name, width).items():
        if file.endswith(".dxf"):
            yield file, ezdxf.read(io.StringIO(content.decode("cp1252")))


def legs(entity: Any) -> Iterator[tuple[tuple[float, float], tuple[float, float], float]]:
    """Yield start, end and bulge of every leg of a polyline."""
    corners = entity.get_points("xyb")
    following = [*corners[1:], corners[0]] if entity.closed else corners[1:]
    yield from (((x, y), (u, v), bulge) for (x, y, bulge), (u, v, _) in zip(corners, following, strict=False))


def flattened(entity: Any) -> list[tuple[float, float]]:
    """Return points of an entity: of a round leg about the centre that ezdxf works out of its bulge."""
    if entity.dxftype() == "CIRCLE":
        return [(p.x, p.y) for p in entity.flattening(FLAT)]
    found = []
    for start, end, bulge in legs(entity):
        found.append(start)
        if bulge:
            middle, begin, finish, radius = bulge_to_arc(start, end, bulge)
            turn = math.radians((math.degrees(finish - begin)) % 360)
            count = math.ceil(turn / (2 * math.acos(1 - FLAT / radius)))
            shares = [i / count for i in range(1, count)]
            along = [begin + turn * (share if bulge > 0 else 1 - share) for share in shares]
            found += [(middle.x + radius * math.cos(angle), middle.y + radius * math.sin(angle)) for angle in along]
    return found if entity.closed else [*found, (entity.get_points("xyb")[-1][:2])]


def outline(entity: Any) -> Polygon:
    """Return a closed entity as a polygon."""
    return Polygon(flattened(entity))


def cut_of(document: Any) -> list[Polygon]:
    """Return what is cut of a piece: the openings first, the outline last."""
    return [outline(entity) for entity in document.modelspace().query('*[layer=="cut"]')]


def wood_of(document: Any) -> Polygon:
    *openings, around = cut_of(document)
    return Polygon(around.exterior, [opening.exterior for opening in openings])


def one(name: str, part: str, width: float = 0.0) -> Any:
    """Return the document of one piece."""
    return next(document for file, document in documents(name, width) if file.endswith(f"-{part}.dxf"))


def arcs(document: Any) -> list[tuple[float, float, float]]:
    """Return centre and radius of every arc that is cut, rounded legs of polylines among them."""
    found = []
    for entity in document.modelspace().query('*[layer=="cut"]'):
        if entity.dxftype() == "CIRCLE":
            found.append((entity.dxf.center.x, entity.dxf.center.y, entity.dxf.radius))
            continue
        for start, end, bulge in legs(entity):
            if bulge:
                centre, _, _, radius = bulge_to_arc(start, end, bulge)
                found.append((centre.x, centre.y, radius))
    return found


# -- what other libraries read -------------------------------------------------------------------------------------


@READ_BACK.of(*(name for name in JOBS if name not in BOXES))
@pytest.mark.parametrize("name", JOBS)
def test_a_dxf_is_sound_in_millimetres_and_its_cuts_are_closed(name: str) -> None:
    read = dict(documents(name, 0.2))
    assert set(read) == {f"{stem}.dxf" for stem in names.of_job(prefix_of(name), templates_of(name))}
    for file, document in read.items():
        auditor = document.audit()
        assert not auditor.errors, (file, auditor.errors)
        assert not auditor.fixes, (file, auditor.fixes)
        assert document.header["$INSUNITS"] == 4
        assert document.header["$MEASUREMENT"] == 1
        assert {"cut", "mark", "drill"} <= {layer.dxf.name for layer in document.layers}
        entities = list(document.modelspace())
        assert {entity.dxf.layer for entity in entities} <= {"cut", "mark", "drill"}
        assert {entity.dxftype() for entity in entities} <= {"LWPOLYLINE", "CIRCLE", "POINT"}
        for entity in document.modelspace().query('LWPOLYLINE[layer=="cut"]'):
            assert entity.closed
            corners = [(x, y) for x, y, _ in entity.get_points("xyb")]
            assert min(math.dist(a, b) for a, b in zip(corners, [*corners[1:], corners[0]], strict=True)) > 1e-4
        compared(len(entities))


def prefix_of(name: str) -> str:
    job = job_of(name)
    return job.jig if isinstance(job, JigSettings) else job.stem


@READ_BACK.of()
@pytest.mark.parametrize("name", JOBS)
def test_an_svg_has_the_same_outlines_at_its_size_in_millimetres(name: str) -> None:
    files = cut_files(name, 0.2)
    for file, document in documents(name, 0.2):
        content = files[file.replace(".dxf", ".svg")]
        root = etree.fromstring(content)
        box = str(root.get("viewBox")).split()
        assert box[:2] == ["0", "0"]
        assert [root.get("width"), root.get("height")] == [f"{side}mm" for side in box[2:]]
        high = float(box[3])
        groups = {group.get("id") for group in root.iter(f"{{{SVG}}}g")}
        layers = {entity.dxf.layer for entity in document.modelspace()}
        assert groups == layers
        assert not list(root.iter(f"{{{SVG}}}text"))
        groups_of_cuts = [group for group in root.iter(f"{{{SVG}}}g") if group.get("id") == "cut"]
        paths = [str(path.get("d")) for group in groups_of_cuts for path in group]
        wanted = cut_of(document)
        assert len(paths) == len(wanted)
        for data, polygon in zip(paths, wanted, strict=True):
            turned = Polygon([(x, high - y) for x, y in sampled(data)])
            assert turned.is_valid
            agree(turned.hausdorff_distance(polygon), 0.0, 0.005, unit="mm", case=file)


def sampled(data: str) -> list[tuple[float, float]]:
    """Return points of an SVG path: the ends of straight legs, and many along an arc."""
    found: list[tuple[float, float]] = []
    for segment in svgelements.Path(data):
        if isinstance(segment, svgelements.Arc):
            found += [(p.x, p.y) for p in (segment.point(i / 64) for i in range(65))]
        elif isinstance(segment, svgelements.Line | svgelements.Close) and segment.start is not None:
            found += [(segment.start.x, segment.start.y), (segment.end.x, segment.end.y)]
    return found


@READ_BACK.of()
@pytest.mark.parametrize("name", [pytest.param(n, marks=pytest.mark.slow) if n in BOXES else n for n in JOBS])
def test_what_is_cut_lies_on_lines_that_the_jig_drew(name: str) -> None:
    """The outline of a piece that goes on beyond its view is closed along its break lines, and is left out."""
    for template in templates_of(name):
        if template.view.name == "face":
            continue
        drawn = unary_union(
            [LineString(line.shape.points(FLAT)) for part in template.view.parts for line in part.lines]
            + [LineString(draw.Circle(h.centre, h.radius).points(FLAT)) for p in template.view.parts for h in p.holes]
        )
        file = names.of_template(prefix_of(name), template)
        document = one(name, file.partition("-cut-")[2])
        if not cut_of(document):
            continue
        # Files are moved to their corner: moved back by where the outline lies among the lines.
        cut = unary_union([polygon.boundary for polygon in cut_of(document)])
        where = wanted_corner(template, cut)
        points = MultiPoint([cut.interpolate(share, normalized=True).coords[0] for share in steps(400)])
        agree(max(drawn.distance(p) for p in translate(points, *where).geoms), 0.0, CHORDS, unit="mm", case=file)


def steps(count: int) -> Iterator[float]:
    yield from (i / count for i in range(count))


def wanted_corner(template: Template, cut: Any) -> tuple[float, float]:
    """Return where the corner of the box round a piece lies in the axes of its view: at edges that are drawn."""
    boxes = [
        line.shape.bounds
        for part in template.view.parts
        for line in part.lines
        if line.kind in (draw.Kind.EDGE, draw.Kind.NEIGHBOUR)
    ]
    wide, high = cut.bounds[2] - cut.bounds[0], cut.bounds[3] - cut.bounds[1]
    left = {round(b.left, 9) for b in boxes} | {round(b.right - wide, 9) for b in boxes}
    low = {round(b.bottom, 9) for b in boxes} | {round(b.top - high, 9) for b in boxes}
    drawn = unary_union([LineString(line.shape.points(FLAT)) for part in template.view.parts for line in part.lines])
    corners = [(x, y) for x in left for y in low]
    probes = MultiPoint([cut.interpolate(share, normalized=True).coords[0] for share in steps(23)])
    return min(corners, key=lambda at: sum(drawn.distance(p) for p in translate(probes, *at).geoms))


# -- sizes worked by hand ------------------------------------------------------------------------------------------


@SET_OFF.of("dividers", "dovetail", "drilling", "hinge", "sled", "lid", "scallop", "handle")
def test_areas_are_those_worked_by_hand() -> None:
    found = {
        "long": wood_of(one("dividers", "long")).area,
        "short": wood_of(one("dividers", "short")).area,
        "tails": wood_of(one("dovetail", "tails")).area,
        "template": wood_of(one("drilling", "template")).area,
        "brace": wood_of(one("sled", "brace")).area,
        "stick-front": wood_of(one("sled", "stick-front")).area,
        "edge": wood_of(one("scallop", "edge")).area,
    }
    # Two slots of 6.1 × 30.3 in 175.5 × 60; one in 125.5 × 60. Three tails, each 20.5 between flanks that run 1.5.
    saw, board = [Point(39.3 + 30 * i, 0).buffer(19.3, 4096) for i in range(5)], draw.rectangle(0, -27.3, 198.6, 0)
    worked = {
        "long": 175.5 * 60 - 2 * 6.1 * 30.3,
        "short": 125.5 * 60 - 6.1 * 30.3,
        "tails": 90 * 30 + 3 * 12 * (22 + 19) / 2,
        "template": 240 * 44.5 - 2 * math.pi * 2.5**2,
        "brace": 70**2 - 58**2 / 2,
        "stick-front": 89.68 * 10,
        "edge": Polygon(board.points()).difference(unary_union(saw)).area,
    }
    agree(found, worked, 0.1, unit="mm²")  # 200 mm of arcs, as chords 0.0005 mm away, make 0.07


@SET_OFF.of("lid")
def test_a_crown_is_cut_with_its_own_radius() -> None:
    """A chord of 170 with a rise of 6: r = (85² + 6²)/(2·6)."""
    radius = (85**2 + 6**2) / 12
    for part, way in (("male", 1), ("female", -1)):
        for width in (0.0, 0.3, 3.0):
            far = max(arcs(one("lid", part, width)), key=lambda arc: arc[2])
            agree(far[2], radius + way * width / 2, 1e-4, unit="mm")


@SET_OFF.of("handle")
@pytest.mark.parametrize("width", [0.0, 0.25, 3.0])
def test_holes_of_a_handle_stay_where_they_are_and_become_smaller(width: float) -> None:
    """Holes of 38.6 with their centres 31.3 from the middle, 25.3 above the base."""
    document = one("handle", "outline", width)
    middle = sum(cut_of(document)[-1].bounds[::2]) / 2
    found = sorted(arc for arc in arcs(document) if abs(arc[2] - (19.3 - width / 2)) < 1e-4)
    assert len(found) == 2
    centres = [(x - middle, y - width / 2) for x, y, _ in found]
    agree(centres[0], (-31.3, 25.3), 0.05, unit="mm")
    agree(centres[1], (31.3, 25.3), 0.05, unit="mm")


@SET_OFF.of("hinge")
@pytest.mark.parametrize("width", [0.0, 0.2, 6.0])
def test_round_corners_of_an_opening_keep_their_centres(width: float) -> None:
    """The bush of 15.88 rounds the corners of the opening by half of it."""
    found = arcs(one("hinge", "template", width))
    corners = [arc for arc in found if abs(arc[2] - (15.88 - width) / 2) < 1e-4]
    assert len(corners) == 2
    (a, b, _), (c, d, _) = ((x - width / 2, y - width / 2, r) for x, y, r in corners)
    # The opening is 59.53 wide in a template of 119.53: its corners' centres lie 7.94 inside of it.
    agree(sorted([a, c]), [30 + 7.94, 119.53 - 30 - 7.94], 0.01, unit="mm")
    agree([b, d], [20 + 12.82 - 0.0] * 2, 0.01, unit="mm")


# -- the cut width -------------------------------------------------------------------------------------------------


@SET_OFF.of(*(name for name in JOBS if name not in BOXES))
@pytest.mark.parametrize("width", [0.15, 1.0, 3.0])
@pytest.mark.parametrize("name", JOBS)
def test_edges_are_set_off_as_shapely_sets_them_off(name: str, width: float) -> None:
    set_off = dict(documents(name, width))
    for file, document in documents(name):
        *openings, around = cut_of(document) or [Polygon()]
        if around.is_empty:
            continue
        *smaller, larger = cut_of(set_off[file])
        moved = [translate(opening, width / 2, width / 2) for opening in openings]
        wanted = [p.buffer(-width / 2, quad_segs=2048) for p in moved if p.area > math.pi * width**2 / 4 + 1e-6]
        wanted.append(translate(around, width / 2, width / 2).buffer(width / 2, quad_segs=2048))
        for got, expected in zip([*smaller, larger], wanted, strict=True):
            agree(got.hausdorff_distance(expected), 0.0, CHORDS, unit="mm", case=(file, width))


def rounded_star(radii: list[float]) -> draw.Path:
    """A closed outline whose corners lie on rays from the middle; every third leg is an arc that bulges out."""
    corners = [draw.on_circle(draw.Point(0, 0), r, 360 * i / len(radii)) for i, r in enumerate(radii)]
    steps: list[draw.LineTo | draw.ArcTo] = []
    for i, end in enumerate([*corners[1:], corners[0]]):
        start = corners[i]
        if i % 3:
            steps.append(draw.LineTo(end))
            continue
        half, away = math.dist(start, end) / 2, math.dist(start, end)  # the centre is a chord away from its middle
        ux, uy = (end.x - start.x) / (2 * half), (end.y - start.y) / (2 * half)
        centre = draw.Point((start.x + end.x) / 2 - uy * away, (start.y + end.y) / 2 + ux * away)
        steps.append(draw.ArcTo(end, centre, anticlockwise=True))
    return draw.Path(corners[0], tuple(steps), closed=True)


@SET_OFF.of()
@given(st.lists(st.floats(20.0, 60.0), min_size=5, max_size=12), st.floats(0.05, 4.0), st.sampled_from([-1, 1]))
def test_any_outline_is_set_off_as_shapely_does_it(radii: list[float], by: float, way: int) -> None:
    path = rounded_star(radii)
    polygon = Polygon(path.points(FLAT))
    found = offset.set_off(path, way * by) if polygon.is_valid else None
    if found is None:
        return
    expected = polygon.buffer(way * by, quad_segs=2048)
    agree(Polygon(found.points(FLAT)).hausdorff_distance(expected), 0.0, 0.01, unit="mm")


@SET_OFF.of()
@pytest.mark.slow
@pytest.mark.parametrize("name", [name for name in JOBS if name not in BOXES])
@settings(max_examples=examples(12))
@given(data=st.data(), units=st.sampled_from(INCHES_TOO), width=st.sampled_from([0.2, 1.5]))
def test_templates_of_any_settings_can_be_cut(name: str, data: st.DataObject, units: Units, width: float) -> None:
    plan = built(catalogue.find(name), data.draw(settings_of(name, units)), units)
    if not isinstance(plan, Plan):
        return
    nominal = pieces.made(plan.sheets.templates, name, units, 0.0)
    for piece in nominal:
        around, *openings = [Polygon(shape.points(FLAT)) for shape in reversed(piece.cut)] or [Polygon()]
        # Where two holes just touch, the point between them has no width, and its chords cross by a rounding.
        assert make_valid(around).area == pytest.approx(around.area, abs=1e-3), piece.name
        assert all(around.contains_properly(opening) for opening in openings), piece.name
    try:
        set_off = pieces.made(plan.sheets.templates, name, units, width)
    except CannotBuild:
        return
    for piece, larger in zip(nominal, set_off, strict=True):
        if piece.cut:
            expected = Polygon(piece.cut[-1].points(FLAT)).buffer(width / 2, quad_segs=1024)
            got = translate(Polygon(larger.cut[-1].points(FLAT)), -width / 2, -width / 2)
            agree(got.hausdorff_distance(expected), 0.0, 0.01, unit="mm", case=piece.name)


@SET_OFF.of()
def test_what_has_no_room_for_the_tool_is_not_set_off() -> None:
    slot = draw.polygon((0, 0), (20, 0), (20, 20), (12, 20), (12, 8), (9, 8), (9, 20), (0, 20))
    for by, fits in ((1.49, True), (1.5, False), (1.6, False), (4.0, False)):
        # Closed, a slot 3 wide is there no more: shapely's outline has then no corner at its mouth.
        closed = Polygon(slot.points()).buffer(by, quad_segs=64)
        narrow = closed.intersects(LineString([(10.5, 8 + by + 0.01), (10.5, 19.9)]))
        assert narrow is not fits
        assert (offset.set_off(slot, by) is not None) is fits
    assert offset.set_off(draw.Circle(draw.Point(0, 0), 2.0), -2.0) is None
    assert offset.set_off(draw.rectangle(0, 0, 30, 3), -1.5) is None
    assert offset.set_off(draw.rectangle(0, 0, 30, 3), -1.49) is not None
    dumb_bell = draw.polygon(
        (0, 0), (9, 0), (9, 4), (11, 4), (11, 0), (20, 0), (20, 9), (11, 9), (11, 5), (9, 5), (9, 9), (0, 9)
    )
    assert len(getattr(Polygon(dumb_bell.points()).buffer(-0.6), "geoms", [])) == 2
    assert offset.set_off(dumb_bell, -0.6) is None


@pytest.mark.parametrize(("units", "side"), [("mm", 100.0), ("in", 101.6)])
def test_the_square_comes_out_at_its_side(units: Units, side: float) -> None:
    name = {"mm": "recipe-box", "in": "recipe-box-inch"}[units]
    square = wood_of(one(name, "square", 0.5))
    assert square.buffer(-0.25).bounds == pytest.approx((0.25, 0.25, side + 0.25, side + 0.25), abs=1e-6)


def test_a_round_hole_too_small_for_the_tool_is_left_to_a_drill() -> None:
    made = make.draw(example("drilling"), (), make.Printing(formats=("dxf",), cut_width=6.0))
    template = made.pieces[0]
    assert len(template.cut) == 1
    assert [circle.radius for circle in template.wide] == [2.5, 2.5]
    said = next(problem for problem in made.report.problems if problem.where == "cut width")
    assert said.says("mm") == "round holes of 5 mm in “Drilling template” have no room for the tool"
    document = one("drilling", "template", 6.0)
    drilled = [(e.dxf.center.x, e.dxf.radius) for e in document.modelspace().query('CIRCLE[layer=="drill"]')]
    points = [e.dxf.location.x for e in document.modelspace().query('POINT[layer=="drill"]')]
    assert drilled == [(x, 2.5) for x in points] == [(91.0, 2.5), (155.0, 2.5)]


def test_a_tool_too_wide_is_refused_with_the_widest_that_works() -> None:
    for width, works in ((8.0, False), (6.1, False), (6.09, True)):
        printing = make.Printing(formats=("dxf",), cut_width=width)
        if works:
            assert len(make.draw(example("dividers"), (), printing).files) == 3
            continue
        with pytest.raises(CannotBuild) as refused:
            make.draw(example("dividers"), (), printing)
        assert "Use a tool that cuts 6.09 mm or less." in refused.value.says("mm")
        assert "“Long divider”, “Short divider”" in refused.value.says("mm")


# -- what is engraved ----------------------------------------------------------------------------------------------


@READ_BACK.of()
@pytest.mark.parametrize("name", JOBS)
def test_lines_are_engraved_once_and_in_the_wood(name: str) -> None:
    for file, document in documents(name):
        marks = [LineString(flattened(entity)) for entity in document.modelspace().query('*[layer=="mark"]')]
        together = unary_union(marks) if marks else LineString()
        assert together.length == pytest.approx(sum(mark.length for mark in marks), abs=1e-3), file
        if cut_of(document):
            assert together.difference(wood_of(document).buffer(0.002)).length < 1e-6, file
        compared(len(marks))


def test_a_reference_edge_is_marked_inside_the_wood() -> None:
    marks = one("cradle", "cradle").modelspace().query('*[layer=="mark"]')
    lines = [[(round(x, 6), round(y, 6)) for x, y, _ in mark.get_points("xyb")] for mark in marks]
    wide = cut_of(one("cradle", "cradle"))[-1].bounds[2]
    assert [sorted(line) for line in lines if line[0][1] == line[1][1] == 1.0] == [
        [(1.0, 1.0), (pytest.approx(wide - 1.0, abs=1e-5), 1.0)]
    ]


def test_a_pattern_to_carve_is_engraved_and_not_cut() -> None:
    made = make.draw(example("shell"), (), make.Printing(formats=("dxf",)))
    assert made.pieces[0].cut == ()
    assert any("nothing of “Shell” is cut out" in problem.says("mm") for problem in made.report.problems)


def test_a_view_that_says_nothing_is_cut_along_its_largest_edge() -> None:
    around, hole, patch = (
        draw.rectangle(0, 0, 40, 30),
        draw.Circle(draw.Point(10, 10), 3),
        draw.rectangle(20, 5, 30, 25),
    )
    part = draw.Part("own", "Own", draw.lines([around, hole, patch]))
    view = draw.View("own", "Own", (part,))
    template = Template(view, "own", jig="own")
    made = pieces.made([template], "own", "mm", 0.0)
    assert made[0].cut == (hole, around)  # a closed line that is no hole may be a place for something: engraved
    assert sum(len(path.steps) for path in made[0].mark if isinstance(path, draw.Path)) == 4
    apart = replace(view, parts=(part, draw.Part("more", "More", draw.lines([draw.rectangle(50, 0, 60, 9)]))))
    assert pieces.made([replace(template, view=apart)], "own", "mm", 0.0)[0].cut == ()


# -- the bed -------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "units", "size"),
    [
        ("300x200", "mm", (300, 200)),
        ("300 x 200 mm", "in", (300, 200)),
        ("12x8", "in", (304.8, 203.2)),
        ('12 × 8"', "mm", (304.8, 203.2)),
    ],
)
def test_a_bed_is_read(text: str, units: Units, size: tuple[float, float]) -> None:
    assert bed.read(text, units) == pytest.approx(size)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("300", "--bed: '300' is not WIDTHxHEIGHT, as in --bed 300x200"),
        ("300x2", "--bed: a length must be from 50 mm to 5000 mm; 2 mm is not; the nearest that works is 50 mm"),
        ("axb", "--bed: "),
    ],
)
def test_what_is_no_bed_is_refused(text: str, said: str) -> None:
    with pytest.raises(CannotRead) as refused:
        bed.read(text, "mm")
    assert str(refused.value).startswith(said)


def test_a_piece_too_large_for_the_bed_is_said_with_its_size() -> None:
    printing = make.Printing(formats=("dxf",), bed=bed.Bed(110.0, 200.0))
    turned, large = (
        next(p for p in made.report.problems if p.where == "bed")
        for made in (
            make.draw(example("dividers"), ("short",), printing),
            make.draw(example("dividers"), ("long",), replace(printing, bed=bed.Bed(110, 150))),
        )
    )
    assert turned.severity == "note"
    assert turned.sentences("mm") == (
        "The bed is 110 mm × 200 mm, and “Short divider” is 125.5 mm × 60 mm: "
        "what is longer than the bed fits when it is turned. Turn it by 90°."
    )
    assert large.severity == "warning"
    assert "“Long divider” is 175.5 mm × 60 mm: the machine will stop" in large.says("mm")


# -- the command line ----------------------------------------------------------------------------------------------

DIVIDERS = ["jig", "dividers", *shlex.split(catalogue.find("dividers").example)]


def run(*words: str, code: int = 0) -> Result:
    result = CliRunner().invoke(cli.main, list(words))
    assert result.exit_code == code, result.output
    return result


def said(result: Result) -> str:
    """Return what a command said, its lines put together again."""
    return " ".join(result.output.split())


def test_cut_files_alone_say_what_holds_for_a_machine(tmp_path: Path) -> None:
    result = run(*DIVIDERS, "--format", "dxf", "--paper", "A3", "--date", "today", "--list", "-o", str(tmp_path))
    assert sorted(file.name for file in tmp_path.iterdir()) == [
        "dividers-cut-long.dxf",
        "dividers-cut-short.dxf",
        "dividers-cut-square.dxf",
    ]
    assert "NOTE: --paper and --date have no effect: cut files have no pages." in said(result)
    assert "Paper sizes and a printer’s correction do not apply to a machine." in said(result)
    assert "Cut dividers-cut-square first and measure it: 100 mm each way." in said(result)
    assert str(tmp_path / "dividers-cut-long.dxf") in result.output.splitlines()
    plain = run(*DIVIDERS, "--format", "pdf", "--cut-width", "0.2", "-o", str(tmp_path / "plain"))
    assert "NOTE: --cut-width has no effect without --format dxf or cut-svg." in said(plain)


def test_drawn_again_only_what_changed_is_written_and_what_is_gone_is_removed(tmp_path: Path) -> None:
    where = ["--format", "dxf", "--format", "cut-svg", "-o", str(tmp_path)]
    run(*DIVIDERS, "--format", "pdf", "-o", str(tmp_path))
    pages = {file.name for file in tmp_path.iterdir()}
    run(*DIVIDERS, *where)
    own = tmp_path / "dividers-cut-mine.dxf"
    own.write_text("mine")
    before = {file.name: file.stat().st_mtime_ns for file in tmp_path.iterdir()}
    again = run(*DIVIDERS, *where, "--changed")
    assert "No cut file has changed; cut nothing again." in said(again)
    assert {file.name: file.stat().st_mtime_ns for file in tmp_path.iterdir()} == before
    longer = [word if word != "126" else "130" for word in DIVIDERS]
    changed = run(*longer, *where, "--changed")
    assert "Cut again: " in said(changed)
    assert "dividers-cut-square.dxf" not in said(changed)
    without = [word if word != "2" else "1" for word in DIVIDERS]
    run(*without, *where)
    left = {file.name for file in tmp_path.iterdir()}
    assert own.name in left
    assert pages <= left  # the pages of the job stay, though it was drawn without them
    assert {name for name in left if name.startswith("dividers-cut") and name.endswith(".dxf")} - {own.name} == {
        f"{stem}.dxf" for stem in _stems(without)
    }


def _stems(words: list[str]) -> set[str]:
    given = dict(zip(words[2::2], words[3::2], strict=True))
    job = make.jig("dividers", {name.removeprefix("--"): value for name, value in given.items()}, "mm")
    return {piece.name for piece in make.draw(job, (), make.Printing(formats=("dxf",))).pieces}


def test_any_name_of_a_box_file_is_known_again(tmp_path: Path) -> None:
    """Letters that DXF of this age does not have, and such as XML writes otherwise."""
    box = tmp_path / "коробка & 箱.toml"
    box.write_bytes((ROOT / "samples/recipe-box.toml").read_bytes())
    where = ["--format", "dxf", "--format", "cut-svg", "-o", str(tmp_path / "out")]
    run("draw", str(box), *where)
    assert "No cut file has changed" in said(run("draw", str(box), *where))
    assert len(list((tmp_path / "out").iterdir())) == len(cut_files("recipe-box"))


def test_one_piece_alone_has_the_file_it_has_among_all(tmp_path: Path) -> None:
    box = str(ROOT / "samples/recipe-box.toml")
    run("draw", box, "--format", "dxf", "--only", "handle", "-o", str(tmp_path))
    alone = {file.name: file.read_bytes() for file in tmp_path.iterdir()}
    assert set(alone) == {f"recipe-box-cut-{part}.dxf" for part in ("handle-outline", "handle-lid-screws", "square")}
    assert all(cut_files("recipe-box")[name] == content for name, content in alone.items())


def test_a_refused_tool_writes_nothing(tmp_path: Path) -> None:
    result = run(*DIVIDERS, "--format", "dxf", "--cut-width", "8", "-o", str(tmp_path / "out"), code=1)
    assert "Use a tool that cuts 6.09 mm or less." in said(result)
    assert not (tmp_path / "out").exists()
    result = run(*DIVIDERS, "--format", "dxf", "--cut-width", "16", "-o", str(tmp_path / "out"), code=2)
    assert "--cut-width: a length must be from 0 mm to 15 mm; 16 mm is not" in said(result)


@pytest.mark.parametrize("name", WITHOUT)
def test_a_jig_without_a_template_says_so(name: str) -> None:
    made = make.draw(example(name), (), make.Printing(formats=("dxf",)))
    assert made.files == {}
    assert any("it has no template" in problem.says("mm") for problem in made.report.problems)


def test_a_width_of_its_own_name_leaves_that_of_a_jig_alone(tmp_path: Path) -> None:
    """Two jigs have a setting `kerf` of their own, the saw's."""
    words = [*shlex.split(catalogue.find("cradle").example), "--kerf", "2", "--cut-width", "0.3", "--format", "dxf"]
    run("jig", "cradle", *words, "-o", str(tmp_path))
    assert (tmp_path / "cradle-cut-key.dxf").read_bytes()


# -- the same bytes, and nothing loaded in vain --------------------------------------------------------------------


def test_the_same_input_gives_the_same_bytes(tmp_path: Path) -> None:
    """In another process, with another seed and on another day, ezdxf writes what it wrote in this one."""
    for seed in ("1", "2"):
        words = [sys.executable, "-m", "cli", "draw", "samples/recipe-box.toml", "--format", "dxf", "-o"]
        environment = os.environ | {"PYTHONHASHSEED": seed, "TZ": f"UTC-{seed}"}
        subprocess.run([*words, str(tmp_path / seed)], cwd=ROOT, env=environment, check=True, capture_output=True)
    first, second = ({f.name: f.read_bytes() for f in (tmp_path / seed).iterdir()} for seed in ("1", "2"))
    assert first == second == {n: c for n, c in cut_files("recipe-box").items() if n.endswith(".dxf")}


def test_ezdxf_is_loaded_for_cut_files_alone() -> None:
    code = (
        "import sys, cli\n"
        "from layout import make\n"
        "words = {'finger': '10', 'cutter': '10.02', 'board': '90', 'thickness': '12'}\n"
        "job = make.jig('sled', words, 'mm')\n"
        "assert make.draw(job, (), make.Printing(formats=('pdf', 'svg'))).files\n"
        "assert 'ezdxf' not in sys.modules\n"
        "assert make.draw(job, (), make.Printing(formats=('dxf',))).files\n"
        "assert 'ezdxf' in sys.modules\n"
    )
    subprocess.run([sys.executable, "-c", code], cwd=ROOT, check=True)
