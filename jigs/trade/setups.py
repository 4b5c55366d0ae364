"""In which order to set a machine up, so that as little as possible is changed between one job and the next."""

from __future__ import annotations

import itertools
from collections.abc import Hashable, Sequence

from jigs.record import Record

EXACT_UP_TO = 11
"""Unlike set-ups for which every order is weighed. The work doubles with each; these take a fraction of a second."""
_MOVED_UP_TO = 80  # moving set-ups about takes the cube of their number

SetUp = tuple[Hashable, ...]
"""What a machine is set to, one value for each thing that is set."""


class Order(Record):
    """Set-ups in the order to make them. `changes` is what that takes, `at_least` what any order takes."""

    set_ups: tuple[SetUp, ...]
    changes: int
    at_least: int

    @property
    def best(self) -> bool:
        """Whether no order takes fewer changes."""
        return self.changes == self.at_least


def difference(one: SetUp, other: SetUp) -> int:
    """Return how many things must be set anew between two set-ups."""
    return sum(a != b for a, b in zip(one, other, strict=True))


def changes(order: Sequence[SetUp]) -> int:
    """Return how many settings are made in all: every one for the first set-up, then those that differ."""
    first = len(order[0]) if order else 0
    return first + sum(difference(a, b) for a, b in itertools.pairwise(order))


def best_order(set_ups: Sequence[SetUp]) -> Order:
    """Return an order of the distinct set-ups with the fewest changes.

    The changes between two set-ups are a metric, so that an order is a shortest path through all of them. Up to
    `EXACT_UP_TO` unlike set-ups it is found exactly, by dynamic programming over the sets already made (Held and
    Karp). Above, the nearest is taken next and set-ups are moved while that helps; `at_least` then is the larger of
    two bounds: every value must be set once, and a path is no shorter than the least spanning tree.

    Set-ups that differ only in values that no other set-up has are alike to all others, and are made in a row without
    loss: to take one out of its place saves at least those values (each differs on both sides of it, and the rest
    obeys the triangle inequality), and to put it beside its twin costs just those.
    """
    distinct = list(dict.fromkeys(set_ups))
    if not distinct:
        return Order((), 0, 0)
    twins = {family[0]: family for family in _twins(distinct)}
    leaders = list(twins)
    exact = len(leaders) <= EXACT_UP_TO
    path = _shortest(leaders) if exact else _improved(_nearest_next(leaders))
    order = tuple(one for leader in path for one in twins[leader])
    made = changes(order)
    return Order(order, made, made if exact else min(made, _least(distinct)))


def _twins(distinct: Sequence[SetUp]) -> list[list[SetUp]]:
    """Return families of set-ups that differ only in values which stand nowhere else."""
    columns = list(zip(*distinct, strict=True))
    often = [{value: column.count(value) for value in column} for column in columns]
    families: dict[SetUp, list[SetUp]] = {}
    for one in distinct:
        shared = tuple((value,) if often[at][value] > 1 else None for at, value in enumerate(one))
        families.setdefault(shared, []).append(one)
    return list(families.values())


def _shortest(nodes: Sequence[SetUp]) -> list[SetUp]:
    """Return the shortest path through a few set-ups; of several the one that keeps the order given."""
    count = len(nodes)
    apart = [[difference(one, other) for other in nodes] for one in nodes]
    # The least changes to have made a set of them, ending with `last`, and the one made before.
    best: dict[tuple[int, int], tuple[int, int]] = {(1 << last, last): (0, -1) for last in range(count)}
    for made in range(1, 1 << count):
        for last in range(count):
            before = made ^ (1 << last)
            if made >> last & 1 and before:
                options = [(best[before, k][0] + apart[k][last], k) for k in range(count) if before >> k & 1]
                best[made, last] = min(options)
    made = (1 << count) - 1
    last = min(range(count), key=lambda end: best[made, end][0])
    path = []
    while last >= 0:
        path.append(nodes[last])
        made, last = made ^ (1 << last), best[made, last][1]
    return path[::-1]


def _nearest_next(nodes: Sequence[SetUp]) -> list[SetUp]:
    left = list(nodes[1:])
    path = [nodes[0]]
    while left:
        path.append(min(left, key=lambda one: difference(path[-1], one)))
        left.remove(path[-1])
    return path


def _improved(path: list[SetUp]) -> list[SetUp]:
    """Move single set-ups to a better place until none helps, or a few times through the path."""
    for _ in range(4 if len(path) <= _MOVED_UP_TO else 0):
        before = changes(path)
        for one in list(path):
            rest = [other for other in path if other != one]
            places = range(len(rest) + 1)
            at = min(places, key=lambda place: _inserting(rest, one, place))
            moved = [*rest[:at], one, *rest[at:]]
            if changes(moved) < changes(path):
                path = moved
        if changes(path) == before:
            break
    return path


def _inserting(path: Sequence[SetUp], one: SetUp, at: int) -> int:
    """Return what it costs to put a set-up at a place of a path."""
    before, after = path[at - 1] if at else None, path[at] if at < len(path) else None
    cost = sum(difference(one, other) for other in (before, after) if other is not None)
    return cost - (difference(before, after) if before is not None and after is not None else 0)


def _least(distinct: Sequence[SetUp]) -> int:
    """Return what any order takes at least."""
    values = sum(len(set(column)) for column in zip(*distinct, strict=True))
    return max(values, len(distinct[0]) + _spanning_tree(distinct))


def _spanning_tree(nodes: Sequence[SetUp]) -> int:
    """Return the length of the least tree that joins all (Prim)."""
    near = {one: difference(nodes[0], one) for one in nodes[1:]}
    length = 0
    while near:
        nearest = min(near, key=lambda one: near[one])
        length += near.pop(nearest)
        near = {one: min(gap, difference(nearest, one)) for one, gap in near.items()}
    return length
