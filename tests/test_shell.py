"""The fan shell: its numbers, its lines joined as they are drawn, its mirror, its rules, and its pages as written."""

from __future__ import annotations

import itertools
import math
import re
from pathlib import Path as File
from typing import Any

import pdfplumber
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import SVG, Arc, Line, Matrix
from svgelements import Path as SvgPath

from jigs.base.cards import Card
from jigs.base.catalogue import Plan, find
from jigs.base.drawing import ArcTo, Circle, Path, Point, View
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.box import chain
from jigs.boxfile import reading
from jigs.parts.shell import card as shell_card
from jigs.parts.shell import templates as shell_figure
from jigs.parts.shell.part import Shell
from layout.write import pdf, svg
from tests import refusals, seen
from tests.outside import Check, agree

BY_HAND = Check("Fan shell", "arithmetic written out in jigs/trade/shell.py", "worked example")
POINTS = Check("Fan shell", "points along the arcs, and what shapely measures of them", "independent derivation")
FILES = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)

SAMPLES = File(__file__).parent.parent / "samples"
BOXES = {
    "mm": chain.work_out(reading.load(SAMPLES / "recipe-box.toml")),
    "in": chain.work_out(reading.load(SAMPLES / "recipe-box-inch.toml")),
}
INCH = 25.4
H1: dict[str, Any] = {"lobes": 7, "width": 60.0, "height": 40.0, "board_length": 200.6, "board_width": 89.68}


def of_the_box(units: Units = "mm") -> Shell:
    made = BOXES[units].shell
    assert made
    return made


def plan(units: Units = "mm", **changes: Any) -> Plan:
    return find("shell").plan(H1 | {"groove": 12.0} | changes, units)


def problems(**changes: Any) -> list[Problem]:
    return refusals.problems(lambda: plan(**changes))


def card_of(made: Shell) -> Card:
    [card] = shell_card.of(made).cards
    return card


def pattern(*, mirrored: bool = False) -> View:
    [template] = shell_card.of(of_the_box(), mirrored=mirrored).templates
    return template.view


def drawn(path: Path | Circle) -> shapely.LineString:
    return shapely.LineString(path.points(0.001))


# -- numbers and lines ---------------------------------------------------------------------------------------------


@BY_HAND.of("shell")
@pytest.mark.parametrize(
    ("asked", "scale", "expected"),
    [  # worked values H1 to H3, derived in jigs/trade/shell.py: half angle, rib radius, lobe radius
        pytest.param((7, 60, 40, 25), 1.0, (52.262, 37.861, 6.150), id="H1"),
        pytest.param((8, 2.5, 1.75, 30), INCH, (48.422, 1.6628, 0.1987), id="H2_in"),
        pytest.param((5, 48, 40, 50), 1.0, (41.050, 35.319, 5.044), id="H3"),
    ],
)
def test_worked_shells(asked: tuple[int, float, float, int], scale: float, expected: tuple[float, ...]) -> None:
    lobes, width, height, bulge = asked
    made: dict[str, Any] = {
        "lobes": lobes,
        "width": width * scale,
        "height": height * scale,
        "bulge": bulge / 100,
        "board_width": 120.0,
    }
    numbers = plan(**made).numbers
    found = (numbers["half_angle"], numbers["rib_radius"] / scale, numbers["lobe_radius"] / scale)
    agree(found, expected, 6e-4, unit="")


@BY_HAND.of("shell")
def test_the_chip_and_the_wood_it_leaves() -> None:
    """Worked values: 3 mm at 65 degrees is 3.217 deep, ridges of 2.08 and 6.84."""
    numbers = plan().numbers
    agree(numbers["chip_depth"], 3.217, 6e-4, unit="mm")
    agree(numbers["wood_left"], 8.783, 6e-4, unit="mm")
    agree(numbers["ridges"], [2.08, 6.84], 6e-3, unit="mm")
    cuts, along = shell_card.cuts(of_the_box()), shell_card.along_a_rib(of_the_box())
    assert cuts.rows[0][0] == "stop cuts, lobes"
    assert cuts.rows[2][1] == "65°"
    agree(cuts.rows[2][3], 8.783, 6e-4, unit="mm")
    agree(along.rows[0][:3], (8.0, 0.0, 0.0), unit="mm")
    agree(along.rows[-1], (37.861, 3.0, 3.217, 6.84), 6e-3, unit="mm")
    sizes = seen.settings_of(card_of(of_the_box()))
    assert (sizes["hinge"], sizes["chip"], sizes["deep"], sizes["relief"]) == ("8.0", "3.0", "3.2", "1.5")


SHELLS = st.builds(
    lambda lobes, ratio, bulge, border: Shell(
        lobes, 60.0, 60.0 / ratio, bulge, border, 65.0, 2.0, "mm", 300.0, 200.0, 12.0, 12.3, None
    ),
    lobes=st.integers(3, 12),
    ratio=st.floats(1.0, 1.8),
    bulge=st.floats(0.05, 0.5),
    border=st.floats(0.5, 6),
)


@POINTS.of("shell")
@settings(max_examples=40, deadline=None)
@given(SHELLS)
def test_the_border_keeps_its_distance_from_the_lobes(made: Shell) -> None:
    """Shapely measures what is drawn: true arcs, joined without a gap or a corner, the border outside the lobes."""
    inner, outer = shell_figure.lobes(made), shell_figure.border(made)
    assert outer
    for path in (inner, outer):
        starts = [path.start, *(step.end for step in path.steps)]
        for start, step in zip(starts, path.steps, strict=False):
            if isinstance(step, ArcTo):
                agree(math.dist(start, step.centre), step.radius, 1e-6, unit="mm")
    round_steps = [step for step in outer.steps if isinstance(step, ArcTo)]
    assert len(round_steps) == 2 * made.lobes - 1
    for one, other in itertools.pairwise(round_steps):
        # One tangent where they join: the two centres and the joint lie on one line, the joint between them.
        radii = one.radius + other.radius
        agree(math.dist(one.centre, other.centre), radii, 1e-6, unit="mm")
    apart = Path(round_steps[0].end, outer.steps[2:-2]) if made.lobes > 2 else outer
    agree(drawn(inner).distance(drawn(apart)), made.border, 0.005, unit="mm")
    agree(drawn(inner).bounds[3], made.height, 0.002, unit="mm")


@POINTS.of("shell")
def test_ribs_run_from_the_hinge_to_the_valleys() -> None:
    made = of_the_box()
    ribs = shell_figure.ribs(made)
    assert len(ribs) == made.lobes + 1
    lobes = drawn(shell_figure.lobes(made))
    for rib, chip in zip(ribs, shell_figure.chips(made), strict=True):
        hinge, rim = rib.points()
        agree(math.hypot(*hinge), made.hinge, unit="mm")
        agree(lobes.distance(shapely.Point(*rim)), 0, 1e-3, unit="mm")
        tip, right, left = chip.points()[:3]
        assert tip == hinge
        agree(math.dist(right, left), made.chip, unit="mm")
        agree(math.dist(((right[0] + left[0]) / 2, (right[1] + left[1]) / 2), rim), 0, 1e-9, unit="mm")


def test_no_border_is_drawn_where_there_is_none() -> None:
    made = plan(border=0.0)
    names = {part.name for template in made.sheets.templates for part in template.view.parts}
    assert "border" not in names
    assert "ribs" in names


# -- mirror --------------------------------------------------------------------------------------------------------


def test_the_mirrored_pattern_is_the_exact_mirror() -> None:
    there, back = pattern(), pattern(mirrored=True)
    for part, other in zip(there.parts, back.parts, strict=True):
        assert part.name == other.name
        for one, two in zip(part.lines, other.lines, strict=True):
            for point, image in zip(one.shape.points(), two.shape.points(), strict=True):
                assert (-point.x, point.y) == pytest.approx(image, abs=1e-9)
    again = shell_figure.mirrored(back, there.name, there.title)
    assert again == there
    # It is no mere copy: the double tick changes sides.
    assert there.parts != back.parts


def test_the_mirror_comes_on_request_and_alone_says_face_down() -> None:
    said = {name: seen.said(plan(mirrored=name).sheets.cards[0]) for name in (False, True)}
    assert "Lay the pattern face down" in said[True]
    assert "face down" not in said[False]
    for name, view in ((False, "pattern"), (True, "pattern-mirrored")):
        [template] = plan(mirrored=name).sheets.templates
        assert template.view.name == view
        assert "up" in [label.words for label in template.view.labels]


def test_nothing_is_written_across_what_is_traced() -> None:
    """Shapely: extension lines run down from where the check is measured, words stand where they are put; both clear.

    The figure is the union of what is cut and its pivot.
    """
    for mirrored in (False, True):
        view = pattern(mirrored=mirrored)
        traced = [part for part in view.parts if part.name in ("ribs", "chips", "lobes", "border", "pivot")]
        figure = shapely.union_all([drawn(line.shape) for part in traced for line in part.lines])
        lowest = figure.bounds[1]
        for dimension in view.dimensions:
            assert dimension.side == "below"
            assert max(dimension.start.y, dimension.end.y) < lowest
        hull = figure.convex_hull
        assert all(not hull.contains(shapely.Point(label.at)) for label in view.labels)


# -- placement -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_shell_stands_clear_of_fingers_groove_and_edges(units: Units) -> None:
    made = of_the_box(units)
    view = seen.views(card_of(made))["placement"]
    zone = next(part for part in view.parts if part.name == "free")
    free = shapely.Polygon(zone.lines[0].shape.points())
    off = made.cut_depth + 3
    low = (made.groove.top if made.groove else 0) + 3
    assert free.bounds == pytest.approx((off, low, made.board_length - off, made.board_width - 3))
    placed = next(part for part in view.parts if part.name == "placed")
    for line in placed.lines:
        assert free.contains(shapely.LineString(line.shape.points()))
    at = shell_card.pivot(made)
    assert at.x == pytest.approx(made.board_length / 2)
    assert made.groove
    under, over = at.y - made.groove.top, made.board_width - at.y - made.over_all[1]
    assert under == pytest.approx(over)  # in the middle of what is free
    assert min(under, over) >= 3


# -- rules ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "severity", "where", "says", "suggests"),
    [  # limits: common practice, no source; the rest is geometry
        (
            {"width": 120.0, "height": 40.0},
            "stop",
            "width",
            "no fan of 7 lobes is 120 mm wide",
            "make it 20.34 mm to 78.5 mm wide at this height, or make it 61.15 mm to 62.68 mm high at this width",
        ),
        (
            {"width": 150.0, "height": 90.0},
            "stop",
            "height",
            "the shell with its border is 156 mm × 93 mm, more than the front’s 200.6 mm × 89.6 mm",
            "make it 104.46 mm × 62.68 mm or less",
        ),
        (
            {"knife": 80.0},
            "stop",
            "knife",
            "with the knife at 80° a chip 3 mm wide is 8.6 mm deep; half of the front’s 12 mm is the limit",
            "the knife at 75° or flatter",
        ),
        (
            {"lobes": 25},
            "stop",
            "lobes",
            "the ridges between chips will break out: 8 mm from the pivot they are 0.5 mm wide, under 0.8 mm",
            "carve 17 lobes or fewer",
        ),
        (
            {"lobes": 15, "chip": 4.0},
            "stop",
            "chip",
            "the ridges between chips will break out: chips of 4 mm leave them 0.5 mm wide at the outer end, under"
            " 0.8 mm",
            "or less",
        ),
        ({"width": 95.0, "height": 64.0}, "stop", "height", "reaches over the groove", "make it 62.68 mm high or less"),
        (
            {"width": 95.0, "height": 64.0, "thickness": 20.0},
            "warning",
            "height",
            "the shell with its border, 67 mm high, reaches over the groove. There the chips leave 10.7 mm of wood",
            "make it 62.68 mm high or less",
        ),
        ({"board_length": 90.0}, "warning", "width", "reaches into the fingers", "make it 53.4 mm wide or less"),
    ],
)
def test_every_rule_says_what_would_work(
    changes: dict[str, Any], severity: str, where: str, says: str, suggests: str
) -> None:
    texts = [(p.severity, p.says("mm"), p.suggests("mm")) for p in problems(**changes) if p.where == where]
    assert any(s == severity and says in told and suggests in works for s, told, works in texts), texts


def test_what_is_suggested_for_a_shell_off_the_front_is_a_fan() -> None:
    asked = {"width": 150.0, "height": 90.0}
    [problem] = [p for p in problems(**asked) if "more than the front’s" in p.rule]
    width, height = map(float, re.findall(r"[0-9.]+", problem.suggests("mm")))
    assert not [p for p in problems(width=width, height=height) if p.where in ("width", "height")]


def test_the_card_warns_where_the_groove_is_behind() -> None:
    made = plan(width=95.0, height=64.0, thickness=20.0)
    assert "Above the groove only 10.8 of wood is left under a chip" in seen.said(made.sheets.cards[0])


# -- pages ---------------------------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize(("page", "units"), list(itertools.product(["A4", "Letter", "A3"], ["mm", "in"])))
def test_every_page_is_legible(page: str, units: Units) -> None:
    cards, templates = seen.composed(shell_card.of(of_the_box(units)), page, units)
    assert [len(cards.sheets), len(templates.sheets)] == [1, 2]
    for made in (*cards.sheets, *templates.sheets):
        assert seen.faults(made) == []


@pytest.mark.slow
@settings(max_examples=5)
@given(
    lobes=st.integers(2, 15),
    width=st.floats(15, 110),
    ratio=st.floats(0.9, 1.9),
    bulge=st.integers(5, 50).map(lambda percent: percent / 100),
    border=st.floats(0, 6),
    board=st.floats(40, 140),
    groove=st.sampled_from([None, 6.0, 12.0]),
    units=st.sampled_from(["mm", "in"]),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_any_shell_is_refused_or_legible(
    width: float, ratio: float, board: float, units: Units, page: str, **asked: Any
) -> None:
    try:
        made = plan(units, width=width, height=width / ratio, board_width=board, **asked)
    except CannotBuild as error:
        reasons = [(problem.says(units), problem.suggests(units)) for problem in error.problems]
    else:
        reasons = [("not refused", "and legible")]
        for bundle in seen.composed(made.sheets, page, units):
            for each in bundle.sheets:
                assert seen.faults(each) == []
    assert all(says and suggests for says, suggests in reasons)


def test_the_jig_and_the_box_draw_the_same_shell() -> None:
    made = plan(cut_depth=of_the_box().cut_depth, board_width=of_the_box().board_width)
    assert made.sheets == shell_card.of(of_the_box())


# -- as written ----------------------------------------------------------------------------------------------------


def segments_of(document: bytes, name: str, tmp_path: File) -> list[Any]:
    """Return the segments of a group of an SVG in mm, read by another library."""
    where = tmp_path / "sheet.svg"
    where.write_bytes(document)
    found: list[Any] = []
    for group in SVG.parse(str(where), ppi=96).select(lambda element: element.values.get("id") == name):
        for element in group.select():
            if isinstance(element, SvgPath):
                path = element * Matrix.scale(INCH / 96)
                path.reify()
                found += list(path)
    return found


def arcs_of(document: bytes, name: str, tmp_path: File) -> list[Arc]:
    """One piece of each arc, told apart by their centres: the writer writes an arc in pieces of a quarter turn."""
    arcs = [segment for segment in segments_of(document, name, tmp_path) if isinstance(segment, Arc)]
    return list({(round(float(arc.center.x), 2), round(float(arc.center.y), 2)): arc for arc in arcs}.values())


@FILES.of("shell")
def test_ribs_and_arcs_are_true_in_the_svg(tmp_path: File) -> None:
    """Svgelements measures them: 8 ribs that meet at the pivot, lobes of radius 6.150, border of 9.150 and 2."""
    document = svg.write(seen.composed(shell_card.of(of_the_box()))[1].sheets[1], "shell")
    ribs = [segment for segment in segments_of(document, "shell-ribs", tmp_path) if isinstance(segment, Line)]
    assert len(ribs) == 8
    lengths = [math.hypot(rib.end.x - rib.start.x, rib.end.y - rib.start.y) for rib in ribs]
    agree(lengths, [37.861 - 8.0] * 8, 0.01, unit="mm")
    first, last = ribs[0], ribs[-1]
    turn = [math.degrees(math.atan2(rib.end.x - rib.start.x, rib.start.y - rib.end.y)) for rib in (first, last)]
    agree(turn, [-52.262, 52.262], 0.01, unit="°")
    lobes = arcs_of(document, "shell-lobes", tmp_path)
    agree([float(arc.rx) for arc in lobes], [6.1495] * 7, 0.01, unit="mm")
    across = [float(arc.center.x) for arc in lobes]
    agree(across[-1] - across[0], 2 * 33.8505 * math.sin(math.radians(52.2619 * 6 / 7)), 0.01, unit="mm")
    edge = arcs_of(document, "shell-border", tmp_path)
    assert sorted(round(float(arc.rx), 2) for arc in edge) == [2.0] * 6 + [9.15] * 7


@FILES.of("shell")
def test_the_pattern_is_as_wide_in_the_pdf(tmp_path: File) -> None:
    """Pdfplumber measures the lobes from their first point to their last: 2 x 37.861 x sin 52.262 degrees."""
    where = tmp_path / "pattern.pdf"
    where.write_bytes(pdf.write(seen.composed(shell_card.of(of_the_box()))[1]))
    with pdfplumber.open(where) as document:
        curves = document.pages[1].curves
    widths = [(curve["x1"] - curve["x0"]) * INCH / 72 for curve in curves]
    nearest = min(widths, key=lambda width: abs(width - 59.882))
    agree(nearest, 59.882, 0.01, unit="mm", case=sorted(widths)[-6:])


def test_the_pivot_is_a_place_on_the_board() -> None:
    assert shell_card.pivot(of_the_box()) == pytest.approx(Point(100.3, 32.34), abs=0.01)
