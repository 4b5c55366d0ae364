"""The drawing model: arcs that stay on their circles, boxes that hold, dimensions that can't lie."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from jigs.base.drawing import (
    CHORD_ERROR,
    ArcTo,
    Bounds,
    Circle,
    Dimension,
    LineTo,
    Path,
    Point,
    arc,
    around,
    line,
    polygon,
    rectangle,
)

places = st.floats(-500, 500)
radii = st.floats(0.1, 800)


@given(
    places,
    places,
    st.floats(0.001, 800),
    st.floats(-720, 720) | st.sampled_from([0, 90, 180, 270]),
    st.floats(-360, 360),
)
def test_the_box_of_an_arc_is_that_of_all_its_points(
    x: float, y: float, radius: float, start: float, sweep: float
) -> None:
    one = arc((x, y), radius, start, start + sweep)
    across, up = zip(*one.points(), strict=True)
    assert one.bounds == Bounds(min(across), min(up), max(across), max(up))


def test_a_shape_is_written_as_it_is_made() -> None:
    shape = Path(Point(0.1, -0.0), (LineTo(Point(1e-7, 2)), ArcTo(Point(3, 2), Point(2, 2), True)), True)
    assert repr(shape.start) == "Point(x=0.1, y=-0.0)"
    assert repr(eval(repr(shape))) == repr(shape)


@given(places, places, radii, st.floats(0, 360), st.floats(1, 360), st.booleans())
def test_points_of_an_arc_leave_it_by_less_than_the_chord_error(
    x: float, y: float, radius: float, start: float, sweep: float, anticlockwise: bool
) -> None:
    end = start + sweep if anticlockwise else start - sweep
    points = arc((x, y), radius, start, end).points()
    for one, other in pairwise(points):
        middle = ((one.x + other.x) / 2, (one.y + other.y) / 2)
        assert math.dist((x, y), one) == pytest.approx(radius, abs=1e-6)
        assert radius - math.dist((x, y), middle) <= CHORD_ERROR + 1e-9


@given(radii, st.floats(0, 360), st.floats(1, 359), st.booleans())
def test_sweep_has_the_sign_and_size_of_the_arc(radius: float, start: float, size: float, anticlockwise: bool) -> None:
    path = arc((0, 0), radius, start, start + size if anticlockwise else start - size)
    step = path.steps[0]
    assert isinstance(step, ArcTo)
    assert math.degrees(step.sweep(path.start)) == pytest.approx(size if anticlockwise else -size, abs=1e-6)


@given(radii)
def test_length_of_a_circle_agrees_with_geometry(radius: float) -> None:
    measured = shapely.LineString(Circle(Point(3, 4), radius).points()).length
    # A chord polygon within e of its circle is shorter by at most the factor 1 - 2e/r (Taylor, e small against r).
    assert measured == pytest.approx(math.tau * radius, rel=max(4 * CHORD_ERROR / radius, 1e-9))


def test_a_buffer_of_the_default_kind_would_be_too_coarse() -> None:
    """At 50 mm radius a buffer with 8 segments a quarter falls 0.24 mm short (measured here with shapely)."""
    default = shapely.Point(0, 0).buffer(50, quad_segs=8)
    assert shapely.Point(0, 0).distance(default.exterior) == pytest.approx(50 - 0.24, abs=0.01)
    own = shapely.LinearRing(Circle(Point(0, 0), 50).points())
    assert shapely.Point(0, 0).distance(own) >= 50 - CHORD_ERROR


@given(places, places, places, places)
def test_moving_there_and_back_changes_nothing(x: float, y: float, across: float, up: float) -> None:
    shape = polygon((x, y), (x + 10, y), (x, y + 5))
    back = shape.moved(across, up).moved(-across, -up)
    for one, other in zip(shape.points(), back.points(), strict=True):
        assert one == pytest.approx(other, abs=1e-9)


@given(places, places, places, places)
def test_a_dimension_reads_its_own_points(x0: float, y0: float, x1: float, y1: float) -> None:
    start, end = Point(x0, y0), Point(x1, y1)
    assert Dimension(start, end, "above").value == abs(x1 - x0)
    assert Dimension(start, end, "left").value == abs(y1 - y0)


def test_boxes() -> None:
    box = around([Bounds(0, 0, 2, 3), Bounds(-1, 1, 1, 5)])
    assert box == Bounds(-1, 0, 2, 5)
    assert (box.width, box.height) == (3, 5)
    assert box.grown(1).holds(box)
    assert not box.holds(box.grown(1))
    with pytest.raises(ValueError, match="no box"):
        around([])


def test_closed_paths_come_back_to_their_start() -> None:
    assert rectangle(0, 0, 4, 3).points()[-1] == Point(0, 0)
    assert line((0, 0), (4, 0)).points() == [Point(0, 0), Point(4, 0)]
    assert isinstance(rectangle(0, 0, 1, 1), Path)
