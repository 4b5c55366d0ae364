"""The evenings that a class needs: operations in their order, machines that one student at a time works at.

What is planned is how many students get how far on which evening. Students of one group have the same operations; who
is first in one operation is first in all of them, so that counts tell who does what. Times in minutes.

The fewest evenings are found by a general solver, HiGHS, evening by evening: as long as it proves that a number of
evenings is too few, one more is tried. The counts must fit machines and people, minute by minute: they say nothing of
who waits for whom within an evening, and what is left of an evening is room for that.
"""

from __future__ import annotations

import contextlib
import math
import os
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from jigs.record import Record
from jigs.trade.limits import not_negative, positive, within

BENCH = ""
"""The machine of what is done at a bench: everybody has one."""
MOST_EXACT = 24
"""Of more evenings than this the fewest are not looked for."""
EFFORT = 60
"""Branches that the solver may try for one number of evenings: a limit in seconds would not always end alike."""
_SAME = 1e-6


class Operation(Record):
    """One operation: its machine, what setting it takes on an evening, and the work on each box; after it may dry."""

    name: str
    machine: str
    setting: float
    work: float
    dries: bool = False

    def __post_init__(self) -> None:
        positive(work=self.work)
        not_negative(setting=self.setting)


class Group(Record):
    """Students with the same operations, by their numbers in the order of work."""

    students: int
    operations: tuple[int, ...]

    def __post_init__(self) -> None:
        within(1, math.inf, students=self.students)


Done = Mapping[tuple[int, int], int]
"""How many students do an operation: by the number of the group and that of the operation."""


class Evenings(Record):
    """A plan: what is done on each evening. No plan has fewer evenings than `bound`."""

    evenings: tuple[Done, ...]
    bound: int

    @property
    def best(self) -> bool:
        """Whether no plan has fewer evenings."""
        return len(self.evenings) == self.bound


class Class(Record):
    """What is to be planned: machines by name, how many there are of each; `minutes` of work in an evening."""

    operations: tuple[Operation, ...]
    groups: tuple[Group, ...]
    machines: Mapping[str, int]
    minutes: float

    def __post_init__(self) -> None:
        positive(minutes=self.minutes)
        for operation in self.operations:
            if operation.setting + operation.work > self.minutes + _SAME:
                raise ValueError(
                    f"{operation.name} takes {operation.setting + operation.work:g} minutes; "
                    f"an evening has {self.minutes:g}"
                )

    def room(self, machine: str) -> float:
        """Return the minutes that the machines of a name have on an evening."""
        return math.inf if machine == BENCH else self.minutes * self.machines.get(machine, 1)

    def too_long(self, group: Group) -> list[tuple[int, int]]:
        """Return pairs of places in a group's order that nobody gets through on one evening: the nearest ones.

        From each place the first one further on until which the work alone is more than an evening.
        """
        found = []
        for first in range(len(group.operations)):
            minutes = 0.0
            for last in range(first, len(group.operations)):
                minutes += self.operations[group.operations[last]].work
                if minutes > self.minutes + _SAME:
                    found.append((first, last))
                    break
        return found


def plan(asked: Class) -> Evenings:
    """Return the plan with the fewest evenings, or one near it where those are too many to look for.

    Raises ValueError for an operation that no evening is long enough for.
    """
    near = _by_hand(asked)
    least = _at_least(asked)
    if len(near) > MOST_EXACT:
        return Evenings(near, least)
    for count in range(least, len(near)):
        found = _solved(asked, count)
        if found is None:  # nothing was proved: fewer evenings may or may not do
            return Evenings(near, count)
        if found:
            return Evenings(found, count)
    return Evenings(near, len(near))


def _at_least(asked: Class) -> int:
    """Return a number of evenings that no plan is under: by the busiest machine, and by one student's own work."""
    busy = [1]
    for machine in {operation.machine for operation in asked.operations} - {BENCH}:
        load = sum(
            group.students * asked.operations[k].work
            for group in asked.groups
            for k in group.operations
            if asked.operations[k].machine == machine
        )
        if load:
            setting = min(one.setting for one in asked.operations if one.machine == machine)
            busy.append(math.ceil(load / (asked.room(machine) - setting) - _SAME))
    nights = [sum(asked.operations[k].dries for k in group.operations[:-1]) for group in asked.groups]
    work = [sum(asked.operations[k].work for k in group.operations) for group in asked.groups]
    return max(*busy, *(1 + n for n in nights), *(math.ceil(minutes / asked.minutes - _SAME) for minutes in work))


# -- as a teacher would --------------------------------------------------------------------------------------------


def _by_hand(asked: Class) -> tuple[Done, ...]:
    """Return a plan made evening by evening: of two ways, to finish or to begin first, the one with fewer evenings."""
    return min((_evening_by_evening(asked, last_first=way) for way in (True, False)), key=len)


def _evening_by_evening(asked: Class, *, last_first: bool) -> tuple[Done, ...]:
    done = [[0] * len(group.operations) for group in asked.groups]
    evenings: list[Done] = []
    while any(row and row[-1] < group.students for row, group in zip(done, asked.groups, strict=True)):
        before = [list(row) for row in done]
        used: dict[str, float] = {}
        set_up: set[int] = set()
        made: dict[tuple[int, int], int] = {}
        moved = True
        while moved:  # what was done in this round lets others go on in the next
            moved = False
            for number, place in _turns(asked, last_first=last_first):
                count = _how_many(asked, done, before, used, set_up, number, place)
                if count:
                    operation = asked.groups[number].operations[place]
                    one = asked.operations[operation]
                    setting = 0.0 if operation in set_up else one.setting
                    used[one.machine] = used.get(one.machine, 0.0) + setting + count * one.work
                    set_up.add(operation)
                    done[number][place] += count
                    made[number, operation] = made.get((number, operation), 0) + count
                    moved = True
        evenings.append(made)
    return tuple(evenings)


def _turns(asked: Class, *, last_first: bool) -> list[tuple[int, int]]:
    """Return every group and place in the order in which they are served."""
    turns = [(number, place) for number, group in enumerate(asked.groups) for place in range(len(group.operations))]
    return sorted(turns, key=lambda turn: -turn[1] if last_first else turn[1])


def _how_many(
    asked: Class,
    done: Sequence[Sequence[int]],
    before: Sequence[Sequence[int]],
    used: Mapping[str, float],
    set_up: set[int],
    number: int,
    place: int,
) -> int:
    """Return how many students of a group can still do the operation at a place of their order on this evening."""
    group = asked.groups[number]
    operation = group.operations[place]
    one = asked.operations[operation]
    ready = group.students
    if place:
        dried = asked.operations[group.operations[place - 1]].dries
        ready = (before if dried else done)[number][place - 1]
    for first, last in asked.too_long(group):
        if last <= place:
            ready = min(ready, before[number][first])
    setting = 0.0 if operation in set_up else one.setting
    room = asked.room(one.machine) - used.get(one.machine, 0.0) - setting
    fits = ready if math.isinf(room) else max(0, math.floor(room / one.work + _SAME))
    return max(0, min(ready - done[number][place], fits))


# -- by a general solver -------------------------------------------------------------------------------------------


def _solved(asked: Class, count: int) -> tuple[Done, ...] | None:
    """Return a plan of so many evenings, an empty one where there is none, None where the solver found out neither.

    n[g, k, e] students of a group do an operation on an evening; N is n added up to an evening.
    """
    import highspy  # noqa: PLC0415 - only a class needs it

    with _unheard():
        solver: Any = highspy.Highs()  # type: ignore[no-untyped-call]  # it has no types
    solver.silent()
    for option, value in (("mip_max_nodes", EFFORT), ("threads", 1), ("random_seed", 0)):
        solver.setOptionValue(option, value)
    evenings = range(count)
    n = {
        (g, k, e): solver.addIntegral(lb=0, ub=group.students)
        for g, group in enumerate(asked.groups)
        for k in group.operations
        for e in evenings
    }
    _in_order(asked, solver, n, evenings)
    _on_machines(asked, solver, n, evenings)
    solver.minimize(sum(e * variable for (_, _, e), variable in n.items()))
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return ()
    if solver.getInfo().primal_solution_status != 2:
        return None
    values = {key: round(solver.val(variable)) for key, variable in n.items()}
    return tuple({(g, k): values[g, k, e] for (g, k, at) in n if at == e and values[g, k, e]} for e in evenings)


@contextlib.contextmanager
def _unheard() -> Iterator[None]:
    """Let the solver say its name and version to nobody: it does so on standard output, before it can be silenced."""
    kept, nobody = os.dup(1), os.open(os.devnull, os.O_WRONLY)
    try:
        os.dup2(nobody, 1)
        yield
    finally:
        os.dup2(kept, 1)
        os.close(kept)
        os.close(nobody)


def _in_order(asked: Class, solver: Any, n: Mapping[tuple[int, int, int], Any], evenings: range) -> None:
    """Have everybody do everything, each operation after the one before it, none further than an evening's work."""
    for g, group in enumerate(asked.groups):

        def until(place: int, evening: int, g: int = g, group: Group = group) -> Any:
            return sum(n[g, group.operations[place], e] for e in evenings if e <= evening)

        for place in range(len(group.operations)):
            solver.addConstr(until(place, evenings[-1]) == group.students)
        for place in range(1, len(group.operations)):
            late = 1 if asked.operations[group.operations[place - 1]].dries else 0
            for e in evenings:
                solver.addConstr(until(place, e) - until(place - 1, e - late) <= 0)
        for first, last in asked.too_long(group):
            for e in evenings:
                solver.addConstr(until(last, e) - until(first, e - 1) <= 0)


def _on_machines(asked: Class, solver: Any, n: Mapping[tuple[int, int, int], Any], evenings: range) -> None:
    """Have no machine busier than an evening is long; setting it for an operation counts once."""
    for machine in {operation.machine for operation in asked.operations} - {BENCH}:
        of_it = [k for k, operation in enumerate(asked.operations) if operation.machine == machine]
        for e in evenings:
            minutes: Any = 0
            for k in of_it:
                doing = [(n[g, k, e], group) for g, group in enumerate(asked.groups) if k in group.operations]
                if not doing:
                    continue
                is_set = solver.addBinary()
                for variable, group in doing:
                    solver.addConstr(variable - group.students * is_set <= 0)
                minutes += asked.operations[k].setting * is_set
                minutes += sum(asked.operations[k].work * variable for variable, _ in doing)
            if not isinstance(minutes, int):
                solver.addConstr(minutes <= asked.room(machine))
