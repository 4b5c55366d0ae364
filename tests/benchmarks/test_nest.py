"""How nesting grows with what is nested, and how near it comes to the bound by area; rows are ratios of one run."""

import pytest
import shapely
from pytest_benchmark.fixture import BenchmarkFixture

from layout.fill import nest

PAGE = shapely.box(0, 0, 180, 270)


@pytest.mark.benchmark(group="nesting on A4, by outlines")
@pytest.mark.parametrize("count", [2, 4, 8, 16])
def test_growth_with_outlines(benchmark: BenchmarkFixture, count: int) -> None:
    triangles = [shapely.Polygon([(0, 0), (30 + i, 0), (0, 20 + i)]) for i in range(count)]
    moves = benchmark(nest.nest, triangles, PAGE, 5.0)
    assert None not in moves


@pytest.mark.benchmark(group="eight outlines, by the room")
@pytest.mark.parametrize("side", [200, 400, 800])
def test_growth_with_the_room(benchmark: BenchmarkFixture, side: float) -> None:
    boxes = [shapely.box(0, 0, side / 4, side / 5) for _ in range(8)]
    moves = benchmark(nest.nest, boxes, shapely.box(0, 0, side, side), 5.0)
    assert None not in moves
