"""The order of set-ups, against every order there is, and its bounds against scipy's spanning tree."""

from __future__ import annotations

import itertools
import random

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.sparse import csgraph

from jigs.trade import setups
from tests.outside import Check, agree

SET_UPS = Check(
    "Stock, finish, set-ups",
    "every way there is, scipy.optimize.milp (HiGHS), a parallelogram measured",
    "independent solver",
)
TREE = Check("Stock, finish, set-ups", "scipy.sparse.csgraph.minimum_spanning_tree", "independent solver")

few = st.integers(1, 4).flatmap(lambda width: st.lists(st.tuples(*[st.integers(0, 3)] * width), min_size=1, max_size=6))
many = st.lists(st.tuples(st.integers(0, 4), st.integers(0, 4), st.integers(0, 40)), min_size=12, max_size=40)


def made(order: tuple[setups.SetUp, ...]) -> int:
    """Count what is set anew, one thing at a time."""
    now: list[object] = [None] * len(order[0])
    count = 0
    for set_up in order:
        for at, value in enumerate(set_up):
            if now[at] != value:
                now[at] = value
                count += 1
    return count


@pytest.mark.parametrize(
    ("order", "count"),
    [
        ([], 0),
        ([(1, 2, 3)], 3),
        ([(1, 2, 3), (1, 5, 3), (1, 5, 4)], 5),
        ([(1, 2), (3, 4), (1, 2)], 6),
        ([("a",), ("b",), ("b",)], 2),
    ],
)
def test_changes_are_counted(order: list[setups.SetUp], count: int) -> None:
    assert setups.changes(order) == count


@SET_UPS.of(setups.best_order, setups.changes, setups.difference)
@given(few)
@settings(max_examples=200)
def test_the_order_is_the_best_of_all(tasks: list[setups.SetUp]) -> None:
    found = setups.best_order(tasks)
    assert sorted(map(str, found.set_ups)) == sorted(map(str, set(tasks)))
    least = min(made(order) for order in itertools.permutations(set(tasks)))
    agree((found.changes, made(found.set_ups)), (least, least), unit="changes")
    assert found.best
    assert found.at_least == least


@given(st.lists(st.tuples(st.integers(0, 2), st.integers(0, 99)), min_size=1, max_size=7))
def test_set_ups_that_only_differ_in_what_nobody_else_has_cost_no_other_order(tasks: list[setups.SetUp]) -> None:
    found = setups.best_order(tasks)
    assert found.changes == min(made(order) for order in itertools.permutations(set(tasks)))


@TREE.of(setups.best_order)
@given(many)
def test_a_long_order_is_never_worse_than_the_list_and_says_how_good_it_is(tasks: list[setups.SetUp]) -> None:
    found, distinct = setups.best_order(tasks), list(dict.fromkeys(tasks))
    assert sorted(found.set_ups) == sorted(distinct)
    assert found.changes == made(found.set_ups) <= made(tuple(distinct))
    if len(setups._twins(distinct)) > setups.EXACT_UP_TO:
        apart = np.array(
            [[sum(a != b for a, b in zip(one, other, strict=True)) for other in distinct] for one in distinct]
        )
        tree = 3 + int(csgraph.minimum_spanning_tree(apart).sum())
        values = sum(len({one[at] for one in distinct}) for at in range(3))
        assert found.best == (found.changes == max(tree, values))
        agree(found.at_least, min(found.changes, max(tree, values)), unit="changes")


@pytest.mark.parametrize("seed", range(5))
@pytest.mark.parametrize("size", [4, 5])
def test_a_grid_is_gone_through_like_a_gray_code(size: int, seed: int) -> None:
    """Every pair of two settings: the first takes two changes, each other just one, row by row there and back."""
    grid: list[setups.SetUp] = list(itertools.product(range(size), range(size)))
    random.Random(seed).shuffle(grid)
    found = setups.best_order(grid)
    assert found.at_least == size * size + 1
    assert found.changes <= size * size + 3


@pytest.mark.parametrize("seed", range(100))
def test_no_set_up_of_a_long_order_is_better_elsewhere(seed: int) -> None:
    drawn = random.Random(seed)
    count = drawn.randrange(20, 40)
    tasks: list[setups.SetUp] = [(drawn.randrange(5), drawn.randrange(4), drawn.randrange(3)) for _ in range(count)]
    order = setups.best_order(tasks).set_ups
    assert len(setups._twins(order)) > setups.EXACT_UP_TO
    for one in order:
        rest = [other for other in order if other != one]
        moved = ((*rest[:at], one, *rest[at:]) for at in range(len(order)))
        assert min(map(made, moved)) >= made(order)


def test_many_set_ups_of_few_kinds_are_weighed_by_their_kinds() -> None:
    tasks: list[setups.SetUp] = [(number % 3, number) for number in range(30)]
    assert sorted(map(len, setups._twins(tasks))) == [10, 10, 10]
    assert setups._twins([(1, 2), (1, 3), (2, 2)]) == [[(1, 2)], [(1, 3)], [(2, 2)]]
    assert setups.best_order(tasks).changes == 3 + 30


def test_set_ups_of_nobody() -> None:
    assert setups.best_order([]) == setups.Order((), 0, 0)
