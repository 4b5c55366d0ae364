"""The scalloped edge: its numbers against worked values and shapely, its rules, and its sheets as they are written."""

from __future__ import annotations

import itertools
import re
from pathlib import Path as File
from typing import Any

import pytest
import shapely
from hypothesis import given
from hypothesis import settings as tries
from hypothesis import strategies as st
from svgelements import SVG, Arc, Matrix
from svgelements import Path as SvgPath

from jigs.base.cards import Beside, Order, Setting, Settings
from jigs.base.catalogue import Plan, find
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.wording import read_out
from jigs.shelf import scallop
from jigs.shelf.scallop import Row
from layout.pages.compose import compose
from layout.pages.job import Job
from layout.sheet import paper
from layout.sheet.marks import Bundle
from layout.write import svg
from tests import refusals
from tests.outside import Check, agree

BY_HAND = Check("Handle and scalloped edge", "arithmetic written out in jigs/trade/handle.py", "worked example")
SHAPELY = Check("Handle and scalloped edge", "outlines and discs measured by shapely and numpy", "reference library")
FILES = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)

INCH = 25.4
ASKED: dict[str, Any] = {"saw": 32.0, "pitch": 24.0}


def plan(units: Units = "mm", **changes: Any) -> Plan:
    return find("scallop").plan(ASKED | changes, units)


def problems(**changes: Any) -> list[Problem]:
    return refusals.problems(lambda: plan(**changes))


def composed(made: Plan, page: str = "A4", units: Units = "mm") -> tuple[Bundle, Bundle]:
    """Return the card and the template as pages."""
    job = Job("scallop", read_out(made.title, units), "settings", units, "abc123")
    return compose(job, made.sheets, paper.named(page))


def said_on(made: Plan) -> str:
    """Return the steps and the cautions of the card."""
    [card] = made.sheets.cards
    steps = [step for band in card.bands if isinstance(band, Order) for step in band.steps]
    return " ".join(read_out(words, "mm") for words in (*steps, *(caution.words for caution in card.cautions)))


@BY_HAND.of("scallop")
@pytest.mark.parametrize(
    ("asked", "scale", "expected"),
    [  # worked values G3 to G6, derived in jigs/trade/handle.py
        pytest.param((32, 24, 5, 0), 1.0, {"cusp_line": 10.583, "scallop_depth": 5.417}, id="G3"),
        pytest.param((1.25, 1, 5, 0), INCH, {"cusp_line": 0.375, "scallop_depth": 0.250}, id="G4_in"),
        pytest.param((32, 24, 1, 6), 1.0, {"depth": 10.0, "chord": 29.665, "rim_in_wood": 0.378}, id="G5"),
        pytest.param((1.25, 1, 1, 0.25), INCH, {"depth": 0.375, "chord": 1.146, "rim_in_wood": 0.369}, id="G6_in"),
    ],
)
def test_worked_rows(asked: tuple[float, ...], scale: float, expected: dict[str, float]) -> None:
    saw, pitch, count, outside = asked
    numbers = plan(saw=saw * scale, pitch=pitch * scale, count=int(count), outside=outside * scale).numbers
    found = {name: numbers[name] / (1 if name == "rim_in_wood" else scale) for name in expected}
    agree(found, expected, 6e-4, unit="")


@SHAPELY.of("scallop")
@tries(max_examples=60, deadline=None)
@given(
    radius=st.floats(6, 40),
    share=st.floats(0.3, 3),
    count=st.integers(1, 7),
    outside=st.floats(0, 0.9),
)
def test_the_row_is_what_discs_leave_of_a_board(radius: float, share: float, count: int, outside: float) -> None:
    """Shapely cuts the discs out of the board: depth, line of the points, and what of the edge is shaped."""
    made = Row(radius, share * radius, count, outside * radius, 1000.0, 100.0, 12.0)
    discs = [shapely.Point(x, made.outside).buffer(radius, quad_segs=256) for x in made.centres]
    board = shapely.box(0, -made.width, made.length, 0).difference(shapely.union_all(discs))
    low = shapely.union_all(discs).bounds[1]
    agree(made.depth, -low, 1e-6, unit="mm")
    if count > 1:
        x = (made.centres[0] + made.centres[1]) / 2
        upright = shapely.LineString([(x, 0), (x, -made.width)])
        agree(board.intersection(upright).bounds[3], -made.cusp, 0.01, unit="mm")
    agree(made.left_at_end, made.centres[0] - made.hole.chord / 2, unit="mm")
    agree(made.wood_below, low + made.width, 1e-6, unit="mm")


@BY_HAND.of("scallop")
def test_drilled_in_turn_the_rim_is_held() -> None:
    """A neighbour 24 off takes acos(24/32)/pi = 23 % of the rim: worked value, derived in rim_beside_holes."""
    made = plan()
    agree(made.numbers["rim_with_waste"], 0.77, 5e-3, unit="of the rim")
    said = said_on(made)
    assert "Drill in turn from the left" in said
    assert "in turn 77 % of the saw rim is in wood, between two holes 54 %" in said
    assert "Without, 50 % of the saw rim is in wood" in said


@pytest.mark.parametrize(
    ("changes", "severity", "where", "says", "suggests"),
    [  # limits: common practice, no source; the rest is geometry
        (
            {"outside": 16.0},
            "stop",
            "outside",
            "holes of 32 mm do not reach the edge with their centres 16 mm outside it",
            "put the centres 15.9 mm or less",
        ),
        (
            {"length": 100.0},
            "stop",
            "count",
            "5 holes take 128 mm of the edge, which is 100 mm long",
            "drill 3 or fewer",
        ),
        (
            {"length": 30.0},
            "stop",
            "length",
            "of the edge, which is 30 mm long",
            "use a board 136 mm long or more, or drill one hole in a board 40 mm long or more",
        ),
        (
            {"width": 18.0},
            "warning",
            "width",
            "leave 2 mm of a board 18 mm wide, and less than 4 mm breaks",
            "use a board 20 mm wide or more",
        ),
        ({"width": 15.0}, "stop", "width", "leave 0 mm of a board 15 mm wide", "use a board 20 mm wide"),
        (
            {"pitch": 3.0},
            "warning",
            "pitch",
            "make scallops only 0.07 mm deep",
            "space the holes 3.58 mm apart or more",
        ),
        (
            {"pitch": 33.5},
            "warning",
            "pitch",
            "because only 1.50 mm of the edge is left there",
            "overlap the holes, 32 mm apart or less; or space them 36 mm apart or more",
        ),
        (
            {"length": 130.0},
            "warning",
            "length",
            "because only 1 mm of the edge is left there",
            "drill a board 136 mm long or more",
        ),
        (
            {"outside": 6.0},
            "warning",
            "outside",
            "only 38 % of the saw rim is in wood",
            "a waste block as thick as the board",
        ),
    ],
)
def test_every_rule_says_what_would_work(
    changes: dict[str, Any], severity: str, where: str, says: str, suggests: str
) -> None:
    texts = [(p.severity, p.says("mm"), p.suggests("mm")) for p in problems(**changes) if p.where == where]
    assert any(s == severity and says in told and suggests in works for s, told, works in texts), texts


def test_centres_as_far_out_as_is_suggested_reach_the_edge() -> None:
    [problem] = [p for p in problems(outside=16.0) if p.where == "outside"]
    [number] = re.findall(r"[0-9.]+", problem.suggests("mm"))
    assert not [p for p in problems(outside=float(number)) if p.severity == "stop"]


def test_touching_holes_and_four_between_are_not_told_off() -> None:
    for pitch in (32.0, 36.0):
        assert not [problem for problem in problems(pitch=pitch) if problem.where == "pitch"]


@pytest.mark.parametrize(("page", "units"), list(itertools.product(["A4", "Letter", "A3"], ["mm", "in"])))
def test_a_card_and_its_template_are_a_page_each(page: str, units: Units) -> None:
    cards, templates = composed(plan(units), page, units)
    assert len(cards.sheets) == 1
    assert [sheet.name for sheet in templates.sheets] == ["scallop-proof", "scallop-template-1"]


@pytest.mark.slow
@tries(max_examples=5)
@given(
    saw=st.floats(10, 120),
    share=st.floats(0.2, 1.6),
    count=st.integers(1, 15),
    outside=st.floats(0, 0.45),
    units=st.sampled_from(["mm", "in"]),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_any_row_is_refused_or_drawn(
    saw: float, share: float, count: int, outside: float, units: Units, page: str
) -> None:
    asked = {"saw": saw, "pitch": max(3.0, saw * share), "count": count, "outside": saw * outside}
    try:
        made = plan(units, **asked)
    except CannotBuild as error:
        reasons = [(problem.says(units), problem.suggests(units)) for problem in error.problems]
    else:
        reasons = [("not refused", "and drawn")]
        cards, templates = composed(made, page, units)
        assert len(cards.sheets) in (1, 2)
        assert len(templates.sheets) == 2
    assert all(says and suggests for says, suggests in reasons)


@FILES.of("scallop")
def test_centres_are_true_in_the_svg(tmp_path: File) -> None:
    """Svgelements measures them: pitch 24, radius 16, the centres on the edge."""
    sheet = composed(plan(), "A3")[1].sheets[1]
    where = tmp_path / "sheet.svg"
    where.write_bytes(svg.write(sheet, "scallop"))
    arcs: list[tuple[float, float, float]] = []
    for i in range(1, 6):
        group = next(
            iter(SVG.parse(str(where), ppi=96).select(lambda e, n=i: e.values.get("id") == f"scallop-hole-{n}"))
        )
        paths = [e * Matrix.scale(INCH / 96) for e in group.select() if isinstance(e, SvgPath)]
        for path in paths:
            path.reify()
        arc = next(s for path in paths for s in path if isinstance(s, Arc))
        arcs.append((float(arc.center.x), float(arc.center.y), float(arc.rx)))
    agree([right[0] - left[0] for left, right in itertools.pairwise(arcs)], [24.0] * 4, 0.01, unit="mm")
    agree([arc[2] for arc in arcs], [16.0] * 5, 0.01, unit="mm")
    assert len({round(arc[1], 3) for arc in arcs}) == 1


def test_the_pilot_drill_stays_in_the_waste_block_and_off_the_seam() -> None:
    """A drill of 6.35 stands wholly in the block from 3.175 off the edge on; a hole of 10 has a core of 6."""
    for off in (0.0, 3.1):
        said = said_on(plan(outside=off))
        assert "Take the pilot drill out: it would stand on the seam and push block and board apart." in said
        assert "Keep wood all round the saw rim" in said
        assert "Clamp board and block to the drill press" in said
        assert "Lowest speed" in said
    assert "Leave the pilot drill in: it stands in the waste block" in said_on(plan(outside=3.2))
    assert "wider than the core" in said_on(plan(saw=10.0, pitch=8.0, outside=4.0))


def test_a_long_row_shows_its_left_end() -> None:
    made = plan(count=20)
    [template] = made.sheets.templates
    upright = template.view.detail
    assert upright
    assert upright.bounds.height == pytest.approx(template.view.bounds.width)
    left = upright.detail
    assert left
    assert len([part for part in left.parts if part.name.startswith("hole-")]) == scallop.SHOWN
    assert made.numbers["centres"][1] - made.numbers["centres"][0] == pytest.approx(24.0)
    assert len(made.numbers["centres"]) == 20


@BY_HAND.of("scallop")
def test_the_card_sets_what_was_worked_out() -> None:
    """Depth 16 on the edge, 14 below the face of 12, pads 33 from the saw: worked values of jigs/trade/handle.py."""
    [card] = plan().sheets.cards
    settings = {row.name: row.value for band in card.bands if isinstance(band, Beside) for row in rows_of(band)}
    expected = {"saw": 32.0, "rim": 16.0, "pitch": 24.0, "stop": 14.0, "clamps": 33.0}
    agree({name: settings[name] for name in expected}, expected, unit="mm")


def rows_of(band: Beside) -> tuple[Setting, ...]:
    return band.left.rows if isinstance(band.left, Settings) else ()
