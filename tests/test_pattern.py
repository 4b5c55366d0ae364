"""A pattern of one's own: its curves, its place, its rules, its mirror, its pages, and how it comes into a box file."""

from __future__ import annotations

import itertools
import math
import re
import tomllib
from collections.abc import Sequence
from pathlib import Path
from typing import Any

import pytest
import shapely
import shapely.affinity
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

import cli
from jigs.base import drawing as draw
from jigs.base.drawing import ArcTo, Point
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.base.outline import on_curve
from jigs.base.rules import Problem
from jigs.box import chain, isometric, thin_wood
from jigs.boxfile import change, reading
from jigs.boxfile import units as boxfile_units
from jigs.parts.pattern import card as pattern_card
from jigs.parts.pattern import curves, ridges
from jigs.parts.pattern.part import Pattern
from layout import make
from layout.carry import embedded
from tests import seen
from tests.boxes import METRIC, WHOLE_INCHES, WHOLE_METRIC
from tests.outside import Check, agree

POINTS = Check("Fan shell", "points along the arcs, and what shapely measures of them", "independent derivation")
BY_HAND = Check("Fan shell", "arithmetic written out in jigs/trade/shell.py", "worked example")

LEAF = Path(__file__).parent / "patterns" / "leaf.svg"
INCH = 25.4
BARE = {"mm": change.without_section(WHOLE_METRIC, "shell"), "in": change.without_section(WHOLE_INCHES, "shell")}
WIDTHS: dict[Units, float] = {"mm": 70.0, "in": 2.75 * INCH}
SQUARE = "M0 0 L100 0 L100 50 L0 50 Z"
"""Twice as wide as high."""


def with_leaf(units: Units = "mm") -> str:
    file = reading.read(BARE[units], "box.toml")
    return make.with_pattern(file, LEAF.read_bytes(), "leaf.svg", WIDTHS[units])[0].source


LEAVES: dict[Units, str] = {"mm": with_leaf("mm"), "in": with_leaf("in")}


def worked(text: str = LEAVES["mm"], **changes: str) -> chain.Box:
    values = {f"pattern.{name}" if "__" not in name else name.replace("__", "."): v for name, v in changes.items()}
    return chain.work_out(reading.read(change.set_values(text, values) if values else text, "box.toml"))


def pattern(text: str = LEAVES["mm"], **changes: str) -> Pattern:
    made = worked(text, **changes).pattern
    assert made
    return made


def found(**changes: str) -> list[Problem]:
    return [problem for problem in worked(**changes).problems if problem.where.startswith("pattern")]


def drawn(paths: Sequence[draw.Path], at: Point = Point(0, 0)) -> shapely.MultiLineString:  # noqa: B008 - a plain pair
    return shapely.MultiLineString([path.moved(*at).points(0.001) for path in paths])


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, list(words))


# -- curves --------------------------------------------------------------------------------------------------------

CORNER = st.tuples(st.floats(-80, 80), st.floats(-80, 80)).map(lambda pair: Point(*pair))


@POINTS.of()
@settings(max_examples=150, deadline=None)
@given(st.tuples(CORNER, CORNER, CORNER, CORNER).filter(lambda curve: math.dist(curve[0], curve[3]) > 0.01))
def test_arcs_keep_to_their_curve(curve: curves.Curve) -> None:
    """Shapely: no place of the curve is further off its arcs than 0.005 mm, nor of the arcs off the curve."""
    steps = tuple(curves.in_arcs(curve))
    arcs = shapely.LineString(draw.Path(curve[0], steps).points(0.0005))
    fine = shapely.LineString([on_curve(curve, i / 4000) for i in range(4001)])
    agree(max(arcs.distance(shapely.Point(p)) for p in fine.coords[::7]), 0, 0.005, unit="mm")
    agree(max(fine.distance(shapely.Point(p)) for p in arcs.coords), 0, 0.005, unit="mm")
    starts = [curve[0], *(step.end for step in steps)]
    assert starts[-1] == curve[3]
    for start, step in zip(starts, steps, strict=False):
        if isinstance(step, ArcTo):
            agree(math.dist(start, step.centre), step.radius, 1e-6 * max(1.0, step.radius), unit="mm")


@pytest.mark.parametrize(
    "curve",
    [
        [(0, 0), (0, 0), (9, 9), (9, 9)],  # straight
        [(0, 0), (30, 30), (0, 30), (30, 0)],  # a loop
        [(0, 0), (30, 20), (0, 20), (30, 0)],  # near a cusp
        [(0, 0), (20, 20), (0, 20), (20, 0)],  # a cusp
        [(0, 0), (50, 0), (-40, 0), (9, 0)],  # back on itself
        [(0, 0), (9, 9), (9, 9), (0, 0)],  # out and back
        [(0, 0), (0, 0), (0, 0), (1e-7, 0)],
    ],
)
def test_odd_curves_are_taken_too(curve: list[tuple[float, float]]) -> None:
    points = [Point(*map(float, one)) for one in curve]
    made: curves.Curve = (points[0], points[1], points[2], points[3])
    steps = tuple(curves.in_arcs(made))
    assert len(steps) < 200
    line = draw.Path(made[0], steps).points(0.0005)
    there = shapely.LineString(line if len(line) > 1 else line * 2)
    assert all(there.distance(shapely.Point(on_curve(made, i / 500))) < 0.005 for i in range(501))


def test_a_chain_of_arcs_is_short_and_has_no_corners() -> None:
    made: curves.Curve = (Point(0, 0), Point(10, 40), Point(60, 40), Point(70, 0))
    steps = list(curves.in_arcs(made))
    assert all(isinstance(step, ArcTo) for step in steps)
    assert len(steps) <= 24
    for one, other in itertools.pairwise(step for step in steps if isinstance(step, ArcTo)):
        # One tangent where they join: the two centres and the joint lie on one line.
        ways = [math.atan2(one.end.y - c.y, one.end.x - c.x) for c in (one.centre, other.centre)]
        assert math.sin(ways[0] - ways[1]) == pytest.approx(0, abs=1e-6)


# -- numbers -------------------------------------------------------------------------------------------------------


@BY_HAND.of()
def test_numbers_of_a_pattern() -> None:
    """Box M: 240 long and 89.5 high, sides 12, proud 0.3; the groove's top at 18; a pattern 60 × 30, chips of 2 at 45°.

    Length as cut 240.6. Free height from 18 + 3 to 89.5 − 3, so its middle is at 53.75; chips are 1 deep.
    """
    made = pattern(f'{BARE["mm"]}[pattern]\nwidth = 60\nchip = 2\nknife = 45\noutline = "{SQUARE}"\n')
    agree((made.width, made.height, made.chip_depth, made.wood_left), (60, 30, 1, 11), unit="mm")
    agree(tuple(made.middle), (120.3, 53.75), unit="mm")
    agree(tuple(made.placed), (120.3 - 31, 53.75 - 16, 120.3 + 31, 53.75 + 16), unit="mm")
    agree(drawn(made.lines).bounds, (-30, -15, 30, 15), unit="mm")
    agree(sum(shapely.Polygon(line.points()).area for line in made.lines), 1800, unit="mm²")


def test_it_is_moved_right_and_up_and_onto_other_sides() -> None:
    middle = pattern().middle
    assert pattern(across="10", up="-2.5").middle == pytest.approx((middle.x + 10, middle.y - 2.5))
    assert pattern(across="-10").middle.x == pytest.approx(middle.x - 10)
    assert pattern(side="back").middle == middle
    for side in ("left end", "right end"):
        assert pattern(side=side).middle == pytest.approx((160.6 / 2, middle.y))
    thin = pattern(side="left end", sides__ends_thickness="9")
    assert (thin.thickness, thin.cut_depth) == (9.0, 12.3)
    assert pattern(sides__ends_thickness="9").cut_depth == pytest.approx(9.3)


def test_json_and_report_have_it() -> None:
    box = worked()
    data = chain.as_data(box)["pattern"]
    assert list(data) == ["side", "width", "height", "middle", "chip_depth", "wood_left"]
    assert (data["side"], data["width"]) == ("front", 70.0)
    assert data["middle"] == pytest.approx([120.3, 53.75])
    text = make.check(box.file).text
    words = " ".join(text.split())
    assert "PATTERN 70 × 33.7 on the front, its middle 120.3 from the left, 53.8 up; chips 1.6 deep" in words
    details = " ".join(make.check(box.file, everything=True).text.split())
    assert "120.3 mm from the left-hand end, 53.75 mm from the bottom edge" in details
    assert chain.as_data(chain.work_out(reading.read(METRIC, "box.toml")))["pattern"] is None


def test_thin_wood_and_the_picture_of_the_box_know_it() -> None:
    thin = {(one.part, one.place): one.wood for one in thin_wood.thin_wood(worked())}
    assert thin["front", "under the chips of the pattern"] == pytest.approx(pattern().wood_left, abs=1e-3)
    for side, seen_there in (("front", True), ("right end", True), ("back", False), ("left end", False)):
        view = isometric.isometric(worked(side=side))
        assert view
        assert ("iso-pattern" in [part.name for part in view.parts]) == seen_there


# -- place ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.parametrize("side", ["front", "back", "left end", "right end"])
def test_it_stands_clear_of_fingers_groove_and_edges(side: str, units: Units) -> None:
    """Shapely, with the sockets and the groove that the report gives to programs: nothing that is cut comes near."""
    box = worked(LEAVES[units], side=side)
    assert box.pattern
    [board] = [part for part in chain.as_data(box)["parts"] if part["name"] == side]
    long, high, deep = board["length"], board["width"], board["socket_depth"]
    chips = drawn(box.pattern.lines, box.pattern.middle).buffer(box.pattern.chip / 2)
    ends = [shapely.box(0, 0, deep, high), shapely.box(long - deep, 0, long, high)]
    made = board["groove"]
    groove = shapely.box(0, made["from_bottom"], long, made["from_bottom"] + made["width"])
    edges = shapely.box(0, 0, long, high).exterior
    for near in (*ends, groove, edges):
        assert chips.distance(near) >= 3 - 0.01
    zone = next(part for part in seen.views(card_of(box.pattern))["placement"].parts if part.name == "free")
    assert shapely.Polygon(zone.lines[0].shape.points()).contains(chips)


def card_of(made: Pattern) -> Any:
    [card] = pattern_card.of(made).cards
    return card


# -- mirror --------------------------------------------------------------------------------------------------------


def test_the_templates_are_mirror_images() -> None:
    there, back = (template.view for template in pattern_card.of(pattern()).templates)
    assert (there.name, back.name) == ("own-pattern", "own-pattern-mirrored")
    for one, other in zip(there.parts, back.parts, strict=True):
        for line, image in zip(one.lines, other.lines, strict=True):
            for point, mirrored in zip(line.shape.points(), image.shape.points(), strict=True):
                assert (-point.x, point.y) == pytest.approx(mirrored, abs=1e-9)
    lines = [
        drawn([one.shape for one in view.parts[0].lines if isinstance(one.shape, draw.Path)]) for view in (there, back)
    ]
    turned = shapely.affinity.scale(lines[0], -1, 1, origin=(0, 0))
    assert turned.hausdorff_distance(lines[1]) < 1e-9
    assert lines[0].hausdorff_distance(lines[1]) > 5  # it is no mere copy
    # The double tick, which says where left is: at the left when traced, at the right before it is turned over.
    double = [
        max(x for x, y in line.shape.points() if y) for line in there.parts[1].lines if line.shape.points()[0].y == 1.5
    ]
    assert double
    assert double[0] < 0


def test_it_reads_right_on_the_wood() -> None:
    """The leaf's stalk is at the left of the drawing, its berries below it: so it is on the wood and the template."""
    made = pattern()
    stalk = min((point for line in made.lines for point in line.points()), key=lambda point: point.x)
    berries = [line for line in made.lines if line.closed][1:]
    assert len(berries) == 2
    assert all(line.bounds.top < stalk.y and line.bounds.right < 0 for line in berries)
    right_reading, mirrored = (template.view for template in pattern_card.of(made).templates)
    assert right_reading.parts[0].bounds.left == pytest.approx(-35, abs=0.01)
    assert [template.use for template in pattern_card.of(made).templates] == [
        "To trace. Every line is a cut.",
        "To iron, face down. Try it on scrap.",
    ]
    assert mirrored.check
    assert mirrored.check.value == pytest.approx(70)


def test_nothing_is_written_across_what_is_traced() -> None:
    for template in pattern_card.of(pattern()).templates:
        hull = drawn(
            [one.shape for one in template.view.parts[0].lines if isinstance(one.shape, draw.Path)]
        ).convex_hull
        assert all(not hull.contains(shapely.Point(label.at)) for label in template.view.labels)
        assert template.view.check
        assert template.view.check.start.y < hull.bounds[1] - 3


# -- rules ---------------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changes", "severity", "where", "says", "suggests"),
    [  # limits: common practice, no source; the rest is geometry
        (
            {"width": "300"},
            "stop",
            "pattern.width",
            "the pattern with its chips is 301.5 mm × 146.1 mm, more than the front’s 240.6 mm × 89.5 mm",
            "make it 132.8",
        ),
        (
            {"across": "100"},
            "stop",
            "pattern.across",
            "reaches off the edge of the front, by 15.5 mm",
            "set across to 69",
        ),
        ({"up": "60"}, "stop", "pattern.up", "reaches off the edge of the front, by", "set up to 15"),
        ({"across": "-75"}, "warning", "pattern.across", "too near to the fingers", "set across to −69.25 mm or more"),
        (
            {"up": "18"},
            "warning",
            "pattern.up",
            "too near to the top edge, which should stay 3 mm clear",
            "set up to 15",
        ),
        ({"up": "-17"}, "warning", "pattern.up", "too near to the groove behind", "set up to −15.13 mm or more"),
        (
            {"up": "-25"},
            "warning",
            "pattern.up",
            "reaches over the groove. There the chips leave 4.3 mm of wood",
            "or more",
        ),
        (
            {"up": "-25", "chip": "3"},
            "stop",
            "pattern.up",
            "reaches over the groove. There the chips leave 2.7 mm of wood, under 3 mm",
            "or more",
        ),
        (
            {"width": "150"},
            "warning",
            "pattern.width",
            "reaches over the groove",
            "make it 13",
        ),
        ({"width": "60", "chip": "8"}, "stop", "pattern.knife", "half of the front’s 12 mm is the limit", "at 56°"),
        ({"chip": "40"}, "stop", "pattern.chip", "must be from 0.2 mm to 30 mm", "30 mm"),
        (
            {"chip": "3.5"},
            "warning",
            "pattern.chip",
            "the ridges between chips will break out in",
            "make the chips 3.34 mm wide or less, or make the pattern 73.67 mm wide or wider",
        ),
    ],
)
def test_every_rule_says_what_would_work(
    changes: dict[str, str], severity: str, where: str, says: str, suggests: str
) -> None:
    try:
        problems = found(**changes)
    except CannotBuild as error:
        problems = list(error.problems)
    texts = [(p.severity, p.says("mm"), p.suggests("mm")) for p in problems if p.where == where]
    assert any(s == severity and says in told and suggests in works for s, told, works in texts), texts


@pytest.mark.parametrize("changes", [{"width": "300"}, {"across": "-75"}, {"up": "18"}, {"up": "-25"}, {"chip": "3.5"}])
def test_what_is_suggested_works(changes: dict[str, str]) -> None:
    [key] = changes
    for problem in found(**changes):
        for way in problem.ways:
            for offer in problem.offers(way).values():
                other = {(offer.setting or problem.where).partition(".")[2]: f"{offer.value} mm"}
                assert not [p for p in found(**changes | other) if p.same_as(problem)], (key, way, offer)


@pytest.mark.parametrize(("gap", "thin"), [(2.25, True), (2.35, False)])
def test_ridges_are_measured(gap: float, thin: bool) -> None:
    """Two lines of 40 mm, `gap` apart, with chips of 1.5: the ridge is gap − 1.5, and 0.8 is the least."""
    text = f'{BARE["mm"]}[pattern]\nwidth = 40\nchip = 1.5\noutline = "M0 0 L40 0 M0 {gap} L40 {gap}"\n'
    places = ridges.too_thin(pattern(text))
    assert bool(places) == thin
    if thin:
        assert places[0].y == pytest.approx(0, abs=gap / 2)


def test_tips_where_lines_meet_are_no_ridges() -> None:
    """A vein leaves the middle rib at 45°: a tip of wood between them goes, as in any carving."""
    text = f'{BARE["mm"]}[pattern]\nwidth = 40\noutline = "M0 0 L40 0 M10 0 L30 20 M0 20 L10 0"\n'
    assert ridges.too_thin(pattern(text)) == ()


def test_a_shell_and_a_pattern_are_refused_together() -> None:
    text = f'{WHOLE_METRIC}[pattern]\nwidth = 40\noutline = "{SQUARE}"\n'
    [problem] = [p for p in worked(text).problems if p.severity == "stop"]
    assert problem.sentences("mm") == (
        "A box has a carved shell or a pattern of its own, not both. Leave the section [shell] out of the file, or "
        "leave out [pattern]."
    )


def test_an_empty_pattern_is_refused_with_its_line() -> None:
    with pytest.raises(
        CannotRead, match=r"line \d+: pattern.outline: has no line to carve; 'jigleaf pattern FILE.svg'"
    ):
        reading.read(f'{METRIC}[pattern]\nwidth = 40\noutline = "M0 0"\n', "box.toml")


# -- pages ---------------------------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize(("page", "units"), list(itertools.product(["A4", "Letter", "A3"], ["mm", "in"])))
def test_every_page_is_legible(page: str, units: Units) -> None:
    cards, templates = seen.composed(pattern_card.of(pattern(LEAVES[units])), page, units)
    assert len(cards.sheets) == 1
    for made in (*cards.sheets, *templates.sheets):
        assert seen.faults(made) == []


@pytest.mark.slow
@pytest.mark.parametrize(
    "changes", [{"side": "left end"}, {"up": "-25"}, {"box__length": "600"}, {"width": "130"}, {"width": "12"}]
)
def test_pages_of_other_places_are_legible(changes: dict[str, str]) -> None:
    made = pattern(**changes)
    for bundle in seen.composed(pattern_card.of(made)):
        for sheet in bundle.sheets:
            assert seen.faults(sheet) == []


@BY_HAND.of()
def test_the_card_says_what_is_cut() -> None:
    made = pattern()
    sizes = seen.settings_of(card_of(made))
    assert (sizes["from-left"], sizes["from-bottom"], sizes["chip"], sizes["deep"]) == ("120.3", "53.8", "1.5", "1.6")
    assert "Above the groove only" in seen.said(card_of(pattern(up="-25")))
    assert "Make the stop cuts first" in seen.said(card_of(made))
    rows = pattern_card.by_width(made).rows
    agree(rows[2][1], 0.75 / 2 * math.tan(math.radians(65)), unit="mm")


# -- in a file -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("units", ["mm", "in"])
@pytest.mark.slow
def test_a_sheet_gives_back_the_box_with_its_pattern(units: Units, tmp_path: Path) -> None:
    file = reading.read(LEAVES[units], "leaf-box.toml")
    files = make.draw(file, ("pattern",), make.Printing(formats=("pdf", "svg"))).files
    assert len(files) > 3
    for name, content in files.items():
        again = embedded.read(content, name)
        assert again.content.decode() == LEAVES[units]
        assert make.job_of(again) == file
    (tmp_path / "sheet.pdf").write_bytes(next(content for name, content in files.items() if name.endswith(".pdf")))
    assert run("reopen", str(tmp_path / "sheet.pdf"), "-o", str(tmp_path / "again.toml")).exit_code == 0
    assert (tmp_path / "again.toml").read_text() == LEAVES[units]


def test_in_the_other_unit_the_outline_stays() -> None:
    file = reading.read(LEAVES["mm"], "box.toml")
    turned = reading.read(boxfile_units.box_in(file, "in").text, "box.toml")
    assert file.pattern
    assert turned.pattern
    assert turned.pattern.outline == file.pattern.outline
    assert turned.pattern.width == pytest.approx(2.75 * INCH)


def test_it_is_written_into_a_file_whose_comments_stay(tmp_path: Path) -> None:
    box = tmp_path / "box.toml"
    box.write_text("# mine\n" + BARE["mm"] + "# the end\n")
    result = run("pattern", str(LEAF), "--width", "60", "--box", str(box))
    assert (result.exit_code, result.stdout, result.stderr) == (0, f"{box}\n", "")
    text = box.read_text()
    assert text.startswith("# mine\n" + BARE["mm"] + "# the end\n")
    assert "[pattern]  # A pattern of your own, carved on a side: 10 lines of leaf.svg\nwidth = 60 " in text
    # Drawn anew, it takes the place of the one before and keeps what was set.
    box.write_text(text.replace("width = 60", "side = 'back'  # mine too\nwidth = 50"))
    (tmp_path / "b.svg").write_text('<svg><circle r="5"/></svg>')
    assert run("pattern", str(tmp_path / "b.svg"), "--box", str(box)).exit_code == 0
    file = reading.read(box.read_text(), "box.toml")
    assert file.pattern
    assert (file.pattern.side, file.pattern.width, file.pattern.outline.count("A")) == ("back", 50.0, 4)
    assert "# mine too" in box.read_text()
    assert box.read_text().count("[pattern]") == 1


def test_it_is_printed_to_be_pasted() -> None:
    for units, width, words in (("mm", "60", "60 mm"), ("in", "2-1/2", "2 1/2 in")):
        result = run("pattern", str(LEAF), "--width", width, "--units", units)
        assert (result.exit_code, result.stderr) == (0, "")
        assert tomllib.loads(result.stdout)["pattern"]["width"] == words
        for file in ("mm", "in"):  # whatever the units of the file are
            made = reading.read(f"{BARE['mm' if file == 'mm' else 'in']}\n{result.stdout}", "box.toml")
            assert made.pattern
            assert made.pattern.width == pytest.approx(60 if units == "mm" else 63.5)


@pytest.mark.parametrize(
    ("words", "code", "says"),
    [
        (["--width", "60"], 1, "Error: pattern: The box has a carved shell"),
        (["--width", "2000"], 1, "Width of the pattern must be from 5 mm to 600 mm"),
        (["--width", "wide"], 2, "--width: "),
    ],
)
def test_what_can_not_be_is_refused_and_nothing_written(words: list[str], code: int, says: str, tmp_path: Path) -> None:
    box = tmp_path / "box.toml"
    box.write_text(WHOLE_METRIC)
    result = run("pattern", str(LEAF), "--box", str(box), *words)
    assert result.exit_code == code
    assert says in " ".join(result.stderr.split())
    assert box.read_text() == WHOLE_METRIC
    assert [path.name for path in tmp_path.iterdir()] == ["box.toml"]


def test_a_pattern_that_does_not_fit_is_refused_before_it_is_written(tmp_path: Path) -> None:
    box = tmp_path / "box.toml"
    box.write_text(BARE["mm"])
    result = run("pattern", str(LEAF), "--box", str(box), "--width", "300")
    assert result.exit_code == 1
    [most] = re.findall(r"Make it ([\d.]+) mm wide or less", result.stderr)
    assert box.read_text() == BARE["mm"]
    assert run("pattern", str(LEAF), "--box", str(box), "--width", most).exit_code == 0
    assert run("pattern", str(LEAF), "--box", str(tmp_path / "none.toml")).exit_code == 2
    assert run("pattern", str(LEAF)).exit_code == 2


def test_a_box_that_another_rule_stops_takes_a_pattern_all_the_same() -> None:
    file = reading.read(change.set_values(BARE["mm"], {"lid.plug": "19"}), "box.toml")
    assert any(problem.severity == "stop" for problem in chain.work_out(file).problems)
    made, _ = make.with_pattern(file, LEAF.read_bytes(), "leaf.svg", WIDTHS["mm"])
    assert made.pattern


@pytest.mark.parametrize(("paths", "said"), [(1, "1 line of two.svg"), (2, "2 lines of two.svg")])
def test_a_pattern_says_how_many_lines_it_is_and_of_which_file(paths: int, said: str) -> None:
    drawing = f'<svg>{"".join(f"""<path d="M{k}0 0h9v9h-9z"/>""" for k in range(paths))}</svg>'
    section, _ = make.pattern(drawing.encode(), "fold/two.svg", 60.0, "mm")
    assert said in section


def test_what_was_left_out_is_said(tmp_path: Path) -> None:
    (tmp_path / "a.svg").write_text('<svg><text/><text/><image/><path d="M0 0h9v9"/></svg>')
    result = run("pattern", str(tmp_path / "a.svg"), "--width", "60")
    assert (result.exit_code, result.stderr) == (0, "left out: 2 texts, 1 image\n")
