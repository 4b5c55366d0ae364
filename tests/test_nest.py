"""Outlines nested into a room: apart, inside, in order, the same again, and near to what their areas allow."""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from shapely.affinity import translate
from shapely.geometry.base import BaseGeometry

from jigs.base.catalogue import find
from jigs.base.drawing import Drawing, Point
from jigs.base.lengths import Units
from layout.draw.blocks import outline
from layout.fill import compose, nest, shared_pages
from layout.fill.flow import Laid
from layout.fill.job import Job
from layout.fill.page_forms import page_forms
from layout.sheet import paper
from tests.conftest import INCHES, METRIC
from tests.legibility import faults
from tests.outside import Check

APART = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)

GAP = 5.0
"""Room for a knife, mm (common practice, no source)."""
A_ROOM = shapely.box(20, 10, 200, 160)
AN_L = A_ROOM.difference(shapely.box(90, 0, 210, 80))
"""A room whose lower right the title block takes."""
A_BRACE = shapely.Polygon([(0, 0), (80, 0), (80, 20), (20, 80), (0, 80)])


def nested(outlines: Sequence[BaseGeometry], room: BaseGeometry) -> list[BaseGeometry]:
    moves = nest.nest(outlines, room, GAP)
    return [translate(o, *move) for o, move in zip(outlines, moves, strict=True) if move is not None]


sizes = st.tuples(st.floats(1, 120), st.floats(1, 120))
shapes = st.one_of(
    sizes.map(lambda size: shapely.box(0, 0, *size)),
    sizes.map(lambda size: shapely.Polygon([(0, 0), (size[0], 0), (0, size[1])])),
    st.floats(2, 40).map(lambda radius: shapely.Point(7.3, -1.1).buffer(radius)),
)


@APART.of()
@given(st.lists(shapes, min_size=1, max_size=5), st.sampled_from([A_ROOM, AN_L]))
def test_outlines_stand_in_the_room_and_apart(outlines: list[BaseGeometry], room: BaseGeometry) -> None:
    placed = nested(outlines, room)
    assert placed or all(one.bounds[2] - one.bounds[0] > 60 or one.bounds[3] - one.bounds[1] > 60 for one in outlines)
    assert all(room.buffer(1e-6).covers(one) for one in placed)
    assert all(one.distance(other) >= GAP - 1e-6 for one, other in itertools.combinations(placed, 2))
    assert nested(outlines, room) == placed


def test_the_first_stands_highest_and_leftmost() -> None:
    moves = nest.nest([shapely.box(3, 3, 33, 23)], A_ROOM, GAP)
    assert moves == [Point(17, 137)]


def test_what_finds_no_room_is_left_out_and_the_rest_goes_on() -> None:
    assert nest.nest([shapely.box(0, 0, 181, 5)], A_ROOM, GAP) == [None]
    full, small = shapely.box(0, 0, 180, 150), shapely.box(0, 0, 10, 10)
    moves = nest.nest([full, small], A_ROOM, GAP)
    assert (moves[0] is None, moves[1]) == (False, None)


def test_outlines_share_room_that_their_boxes_could_not() -> None:
    """Two braces back to back, the second turned half round, each of a box of 80 mm, on a strip 140 mm wide."""
    turned = shapely.affinity.rotate(A_BRACE, 180, origin=(0, 0))
    room = shapely.box(0, 0, 140, 82)
    assert len(nested([A_BRACE, turned], room)) == 2
    boxes = [shapely.box(*one.bounds) for one in (A_BRACE, turned)]
    assert len(nested(boxes, room)) == 1


# -- on sheets -----------------------------------------------------------------------------------------------------

JOBS: dict[str, tuple[str, Units, dict[str, float], int, int]] = {
    "A4 mm": ("A4", "mm", METRIC, 15, 15),
    "Letter in": ("Letter", "in", INCHES, 20, 17),
}
"""Paper, units, settings; pages of the sled as boxes in reading order, counted once; and the most it may take now."""


@pytest.mark.slow
@pytest.mark.parametrize("name", JOBS)
def test_a_sled_takes_fewer_pages_than_boxes_in_reading_order(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    page, units, settings, before, most = JOBS[name]
    plan = find("sled").plan(settings, units)
    job = Job("sled", "Sled", "settings", units, "abc123")
    nest_them = compose._nested
    laid: list[tuple[Laid, Laid]] = []
    bounds: list[int] = []

    def nested_and_recorded(
        job: Job,
        drawing: Drawing,
        flowed: Laid,
        on: paper.Paper,
        found: Sequence[Laid],
    ) -> Laid:
        laid.append((flowed, nest_them(job, drawing, flowed, on, found)))
        rooms = [
            room
            for page in page_forms(on)
            if (room := shared_pages.room_of(job, drawing, page, flowed.items)) is not None
        ]
        bounds.append(least_pages(flowed, rooms))
        return laid[-1][1]

    monkeypatch.setattr(compose, "_nested", nested_and_recorded)
    made = compose.compose(job, plan.drawings, paper.named(page))
    assert [fault for sheet in made.sheets for fault in faults(sheet)] == []
    assert sum(len(flowed.sheets) for flowed, _ in laid) <= before
    assert sum(bounds) <= len(made.sheets) <= min(most, 1.7 * sum(bounds))
    for flowed, nested in laid:
        assert len(nested.sheets) <= len(flowed.sheets)
        assert names(nested) == names(flowed)
        for sheet in nested.sheets:
            outlines = [outline(block) for block in sheet.blocks]
            assert all(one.distance(other) >= GAP - 1e-6 for one, other in itertools.combinations(outlines, 2))


def least_pages(laid: Laid, rooms: list[BaseGeometry]) -> int:
    """The bound by area: no arrangement takes fewer pages than all outlines' areas over the largest room."""
    return math.ceil(
        sum(min(outline(block).area for block in item) for item in laid.items) / max(r.area for r in rooms)
    )


def names(laid: Laid) -> list[str]:
    return sorted(block.name for sheet in laid.sheets for block in sheet.blocks)
