"""The evenings of a class: every plan gone through minute by minute, the fewest against every way there is."""

from __future__ import annotations

import itertools
import math
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.trade import evenings
from jigs.trade.evenings import BENCH, Class, Evenings, Group, Operation, plan
from tests.conftest import examples
from tests.outside import Check, agree, compared

SEARCHED = Check(
    "Stock, finish, set-ups",
    "every way there is, scipy.optimize.milp (HiGHS), a parallelogram measured",
    "independent solver",
)
BY_HAND = Check(
    "Stock, finish, set-ups", "arithmetic written out in jigs/trade/stock.py and finishing.py", "worked example"
)
ROOT = Path(__file__).parent.parent
SAW, ROUTER = "saw", "router table"


def faults(asked: Class, found: Evenings) -> list[str]:
    """Return what is wrong with a plan, each student followed through the evenings by the order in which they come."""
    wrong = []
    for g, group in enumerate(asked.groups):
        when: dict[int, list[int]] = {}
        for k in group.operations:
            when[k] = [e for e, done in enumerate(found.evenings) for _ in range(done.get((g, k), 0))]
            if len(when[k]) != group.students:
                wrong.append(f"group {g}: {len(when[k])} of {group.students} do {asked.operations[k].name}")
        if wrong:
            return wrong
        for student in range(group.students):
            for one, other in itertools.pairwise(group.operations):
                late = asked.operations[one].dries
                if when[other][student] < when[one][student] + late:
                    wrong.append(f"student {student} does {asked.operations[other].name} too early")
            for e in range(len(found.evenings)):
                minutes = sum(asked.operations[k].work for k in group.operations if when[k][student] == e)
                if minutes > asked.minutes + 1e-6:
                    wrong.append(f"student {student} works {minutes} minutes on evening {e}")
    for e, done in enumerate(found.evenings):
        for machine in {one.machine for one in asked.operations} - {BENCH}:
            of_it = [(k, n) for (_, k), n in done.items() if asked.operations[k].machine == machine]
            minutes = sum(n * asked.operations[k].work for k, n in of_it)
            minutes += sum(asked.operations[k].setting for k in {k for k, n in of_it if n})
            if minutes > asked.minutes * asked.machines.get(machine, 1) + 1e-6:
                wrong.append(f"the {machine} is busy for {minutes} minutes on evening {e}")
    return wrong


def fewest(asked: Class, most: int) -> int | None:
    """Return the fewest evenings of one group, by trying every evening for every student's every operation."""
    [group] = asked.groups
    for count in range(1, most + 1):
        late = [asked.operations[k].dries for k in group.operations[:-1]]
        ways = [
            way
            for way in itertools.product(range(count), repeat=len(group.operations))
            if all(b >= a + wait for (a, b), wait in zip(itertools.pairwise(way), late, strict=True))
        ]
        for of_all in itertools.combinations_with_replacement(ways, group.students):
            done = [
                {(0, k): sum(way[i] == e for way in of_all) for i, k in enumerate(group.operations)}
                for e in range(count)
            ]
            in_order = all(a[i] <= b[i] for a, b in itertools.pairwise(of_all) for i in range(len(a)))
            if in_order and not faults(asked, Evenings(tuple(done), count)):
                return count
    return None


@st.composite
def classes(draw: st.DrawFn, students: int = 12, most: int = 6) -> Class:
    count = draw(st.integers(1, most))
    operations = tuple(
        Operation(
            f"operation {k}",
            draw(st.sampled_from([SAW, ROUTER, BENCH])),
            float(draw(st.integers(0, 30))),
            float(draw(st.integers(5, 90))),
            draw(st.booleans()) and k < count - 1,
        )
        for k in range(count)
    )
    groups = tuple(
        Group(
            draw(st.integers(1, students)),
            tuple(sorted(draw(st.sets(st.integers(0, count - 1), min_size=1)))),
        )
        for _ in range(draw(st.integers(1, 2)))
    )
    return Class(operations, groups, {ROUTER: draw(st.integers(1, 2))}, 130.0)


@BY_HAND.of(plan)
def test_three_students_at_one_router_table() -> None:
    """Evenings of 100 minutes: 20 to set and 40 a box let two cut; glue dries; the third is an evening behind."""
    asked = Class(
        (
            Operation("joint", ROUTER, 20, 40),
            Operation("glue", BENCH, 0, 30, dries=True),
            Operation("finish", BENCH, 0, 60),
        ),
        (Group(3, (0, 1, 2)),),
        {},
        100,
    )
    found = plan(asked)
    assert faults(asked, found) == []
    agree(len(found.evenings), 3, unit="")
    assert found.best
    assert found.evenings[0] == {(0, 0): 2, (0, 1): 2}
    assert found.evenings[1] == {(0, 0): 1, (0, 1): 1, (0, 2): 2}
    assert found.evenings[2] == {(0, 2): 1}


@settings(max_examples=examples(60), deadline=None)
@given(classes())
def test_any_plan_holds_minute_by_minute(asked: Class) -> None:
    found = plan(asked)
    assert faults(asked, found) == []
    assert found.bound <= len(found.evenings)
    assert all(students > 0 for done in found.evenings for students in done.values())


@SEARCHED.of(plan)
@settings(max_examples=examples(25), deadline=None)
@given(classes(students=3, most=3))
def test_no_way_there_is_has_fewer_evenings(asked: Class) -> None:
    alone = Class(asked.operations, asked.groups[:1], asked.machines, asked.minutes)
    found = plan(alone)
    if len(found.evenings) > 4:  # too many ways to try
        return
    assert found.best
    assert fewest(alone, 4) == len(found.evenings)
    compared(1)


def test_many_students_have_a_plan_and_a_bound() -> None:
    """A hundred boxes of 50 minutes at one machine with 20 to set: 2 an evening, so 50 evenings."""
    asked = Class((Operation("joint", ROUTER, 20, 50), Operation("sand", BENCH, 0, 10)), (Group(100, (0, 1)),), {}, 130)
    found = plan(asked)
    assert faults(asked, found) == []
    assert len(found.evenings) == 50
    assert found.bound == math.ceil(100 * 50 / 110)
    assert not found.best


def test_the_same_class_has_the_same_plan() -> None:
    operations = (
        Operation("joint", ROUTER, 30, 15),
        Operation("lid", ROUTER, 20, 20),
        Operation("finish", BENCH, 0, 75),
    )
    asked = Class(operations, (Group(7, (0, 1, 2)), Group(3, (0, 2))), {}, 130)
    assert plan(asked) == plan(asked)


@BY_HAND.of(plan)
def test_a_plan_of_many_evenings_is_bounded_by_nights_by_own_work_and_by_a_full_machine() -> None:
    """Worked values: 26 coats, a night to dry each, take 26; 50 times 50 minutes of one’s own 25 evenings of 100; 50
    boxes of 50 minutes at a saw 25 too. With 48 of them and one of 10, 60 to set, 24 and one more: of two settings the
    bound takes the shorter, 2410 minutes in 25 evenings."""
    coats = tuple(Operation(f"coat {k}", BENCH, 0, 10, dries=True) for k in range(26))
    own = tuple(Operation(f"carving {k}", BENCH, 0, 50) for k in range(50))
    rip, cut = Operation("rip", SAW, 0, 50), Operation("joint", SAW, 60, 10)
    asked = [
        Class(coats, (Group(1, tuple(range(26))),), {}, 100),
        Class(own, (Group(1, tuple(range(50))),), {}, 100),
        Class((rip,), (Group(50, (0,)),), {}, 100),
        Class((rip, cut), (Group(48, (0,)), Group(1, (1,))), {}, 100),
    ]
    found = [plan(one) for one in asked]
    assert [faults(*one) for one in zip(asked, found, strict=True)] == [[], [], [], []]
    agree([len(one.evenings) for one in found], [26, 25, 25, 25], unit="evenings")
    assert all(one.best for one in found)


MANY = {
    # 83 at the saw, 2 an evening; those who go on to the router, 1 an evening, must not wait until the others are done.
    42: Class(
        (Operation("lid", "lathe", 20, 30), Operation("joint", SAW, 20, 40), Operation("groove", ROUTER, 0, 60)),
        (Group(27, (1,)), Group(28, (1,)), Group(28, (0, 1, 2))),
        {},
        100,
    ),
    # 48 times 50 minutes fill 24 evenings of the saw, and 24 times 30, three an evening, take 8 more.
    32: Class(
        (Operation("rip", SAW, 0, 30), Operation("joint", SAW, 0, 50, dries=True)),
        (Group(24, (0, 1)), Group(24, (1,))),
        {},
        100,
    ),
    # 52 times 50 and 15 times 30 minutes are 3050 at the saw; those who go on to the router go first.
    31: Class(
        (Operation("joint", SAW, 0, 50), Operation("groove", ROUTER, 20, 60), Operation("lid", SAW, 0, 30)),
        (Group(15, (0, 2)), Group(23, (0, 1)), Group(14, (0,))),
        {},
        100,
    ),
}
"""Classes of more evenings than are looked for, by the fewest: those that the busiest machine takes."""


@BY_HAND.of(plan)
@pytest.mark.parametrize("least", MANY)
def test_a_plan_of_many_evenings_is_a_good_one(least: int) -> None:
    found = plan(MANY[least])
    assert faults(MANY[least], found) == []
    agree((len(found.evenings), found.bound), (least, least), unit="evenings")


def test_where_nothing_is_proved_the_plan_holds_and_is_not_called_the_best(monkeypatch: pytest.MonkeyPatch) -> None:
    """By hand: 8 times 60, 6 times 30 and 8 times 20 minutes at the saw are 820: more than 8 evenings. The solver may
    hardly try."""
    monkeypatch.setattr(evenings, "EFFORT", 1)
    asked = Class(
        (
            Operation("groove", ROUTER, 10, 20),
            Operation("joint", SAW, 0, 60),
            Operation("lid", SAW, 10, 30),
            Operation("rip", SAW, 30, 20),
        ),
        (Group(4, (0, 1, 2, 3)), Group(2, (1, 3)), Group(2, (0, 1, 2, 3))),
        {},
        100,
    )
    found = plan(asked)
    assert faults(asked, found) == []
    assert 9 <= found.bound < len(found.evenings)
    assert not found.best


def test_no_file_stays_open_behind_the_solver() -> None:
    opened = Path("/proc/self/fd")
    if not opened.exists():
        pytest.skip("needs a list of open files")
    plan(WHO_GOES_FIRST[2])
    before = len(list(opened.iterdir()))
    plan(WHO_GOES_FIRST[2])
    assert len(list(opened.iterdir())) == before


@BY_HAND.of(plan)
@pytest.mark.parametrize(("students", "bound"), [(48, 24), (50, math.ceil(50 * 50 / 110))])
def test_the_fewest_of_24_evenings_are_looked_for_but_not_of_25(students: int, bound: int) -> None:
    """Two an evening; 48 boxes of 50 minutes fill 22 evenings of 110 and no more is known before it is looked for."""
    asked = Class((Operation("joint", ROUTER, 20, 50),), (Group(students, (0,)),), {}, 130)
    found = plan(asked)
    agree((len(found.evenings), found.bound), (students / 2, bound), unit="evenings")


@BY_HAND.of(plan)
def test_a_machine_is_set_once_an_evening_whoever_comes_to_it() -> None:
    """Of each group one gets to the saw on an evening: 40 to set it once and 20 for each of three are 100 minutes."""
    asked = Class(
        (
            *(Operation(name, name, 0, 60) for name in ("lathe", "band saw", "drill press")),
            Operation("joint", SAW, 40, 20),
        ),
        (Group(26, (0, 3)), Group(26, (1, 3)), Group(26, (2, 3))),
        {},
        100,
    )
    found = plan(asked)
    assert faults(asked, found) == []
    agree(len(found.evenings), 26, unit="evenings")


@BY_HAND.of(plan)
def test_a_machine_that_one_minute_is_left_of_takes_one_minute_of_work() -> None:
    """1 to set, 49 for each of two and one minute more are the whole of 100; the other’s minute is on the next."""
    asked = Class(
        (Operation("rip", SAW, 1, 49), Operation("trim", SAW, 0, 1)), (Group(1, (0, 1)), Group(1, (0, 1))), {}, 100
    )
    found = plan(asked)
    assert faults(asked, found) == []
    agree(len(found.evenings), 2, unit="evenings")


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: Operation("joint", SAW, 0, 0), "work is 0"),
        (lambda: Operation("joint", SAW, -1, 10), "setting is -1"),
        (lambda: Group(0, (0,)), "students is 0"),
        (lambda: Class((), (), {}, 0), "minutes is 0"),
    ],
)
def test_what_can_not_be_is_refused(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()


def test_an_operation_that_outlasts_an_evening_is_refused() -> None:
    with pytest.raises(ValueError, match=r"shell takes 150 minutes; an evening has 130"):
        Class((Operation("shell", BENCH, 0, 150),), (Group(1, (0,)),), {}, 130)


SILENT = """
from jigs.trade.evenings import Class, Group, Operation, plan
saw = Operation("joint", "saw", 20, 30, dries=True), Operation("lid", "", 30, 20)
assert len(plan(Class(saw, (Group(2, (0,)), Group(2, (0, 1))), {}, 100)).evenings) == 2
print("heard")
"""


def test_nothing_is_said_by_the_solver_and_what_is_printed_afterwards_is_heard() -> None:
    """In a process of its own: the solver says its name once, and only when that ends."""
    done = subprocess.run([sys.executable, "-c", SILENT], cwd=ROOT, capture_output=True, text=True, check=True)
    assert (done.stdout, done.stderr) == ("heard\n", "")


@BY_HAND.of(plan)
def test_nobody_works_longer_than_an_evening_and_may_go_on_the_next() -> None:
    """Worked values. Four of five do all three, 120 minutes; two an evening get to the router. The two of the second
    evening can't do the rest, 80 minutes, on it too: three. Seven get to a router one an evening; six go on, and both
    are 110 minutes: on the next evening, so that who does not go on must come last: seven."""
    router = Operation("groove", ROUTER, 0, 40), Operation("joint", SAW, 20, 20), Operation("sand", BENCH, 0, 60)
    three = Class(router, (Group(1, (1, 2)), Group(4, (0, 1, 2))), {}, 100)
    shell = Operation("shell", ROUTER, 30, 70), Operation("sand", BENCH, 0, 40)
    seven = Class(shell, (Group(1, (0,)), Group(6, (0, 1))), {}, 100)
    found = [plan(one) for one in (three, seven)]
    assert [faults(asked, one) for asked, one in zip((three, seven), found, strict=True)] == [[], []]
    agree([len(one.evenings) for one in found], [3, 7], unit="evenings")


WHO_GOES_FIRST = {
    # 2 an evening at the saw: those whose glue must dry go first, the others while it does. In turn it takes three.
    2: Class(
        (Operation("joint", SAW, 20, 30, dries=True), Operation("lid", BENCH, 30, 20)),
        (Group(2, (0,)), Group(2, (0, 1))),
        {},
        100,
    ),
    # 7 boxes, 2 an evening at the saw; two of them go on at the router, 1 an evening: both on one of the first two.
    4: Class(
        (Operation("joint", SAW, 0, 50, dries=True), Operation("groove", ROUTER, 10, 50)),
        (Group(4, (0,)), Group(1, (0,)), Group(2, (0, 1))),
        {},
        100,
    ),
    # 1 joint and 1 groove an evening: three grooves take three, the first by who does no joint. One who does both
    # works 130 minutes, and so on two evenings.
    3: Class(
        (Operation("joint", SAW, 20, 60), Operation("groove", ROUTER, 0, 70)),
        (Group(2, (0, 1)), Group(1, (1,))),
        {},
        100,
    ),
}
"""Classes by the fewest evenings, worked out by hand."""


@BY_HAND.of(plan)
@pytest.mark.parametrize("least", WHO_GOES_FIRST)
def test_who_goes_first_decides_how_many_evenings(least: int) -> None:
    found = plan(WHO_GOES_FIRST[least])
    assert faults(WHO_GOES_FIRST[least], found) == []
    agree((len(found.evenings), found.bound), (least, least), unit="evenings")
    assert found.best


@BY_HAND.of(plan)
def test_where_nothing_dries_one_goes_on_the_same_evening() -> None:
    """Worked values. Five at the saw, 2 an evening: three. Two do all three, with a night to dry: they saw first, are
    at the router the same evening, 20 + 60 minutes, on the second with the lid, 10 + 80; two follow on the third."""
    asked = Class(
        (
            Operation("joint", SAW, 0, 40),
            Operation("groove", ROUTER, 20, 30, dries=True),
            Operation("lid", ROUTER, 10, 40, dries=True),
        ),
        (Group(1, (0,)), Group(2, (0, 2)), Group(2, (0, 1, 2))),
        {},
        100,
    )
    found = plan(asked)
    assert faults(asked, found) == []
    agree((len(found.evenings), found.bound), (3, 3), unit="evenings")


@BY_HAND.of(plan)
def test_nights_and_a_students_own_work_bound_a_plan() -> None:
    """Worked values: glue and finish each dry overnight, so the third step is on the third evening; 210 minutes of
    one's own work at the bench fill three evenings of 100, 200 two; half a minute over one takes another."""
    dry = (Operation("glue", BENCH, 0, 10, dries=True), Operation("oil", BENCH, 0, 10, dries=True))
    asked = {
        "nights": Class((*dry, Operation("lid", BENCH, 0, 10)), (Group(4, (0, 1, 2)),), {}, 100),
        "work": Class(tuple(Operation(f"{k}", BENCH, 0, 70) for k in range(3)), (Group(2, (0, 1, 2)),), {}, 100),
        "full": Class(tuple(Operation(f"{k}", BENCH, 0, 50) for k in range(4)), (Group(2, (0, 1, 2, 3)),), {}, 100),
        "over": Class((Operation("1", BENCH, 0, 50), Operation("2", BENCH, 0, 50.5)), (Group(1, (0, 1)),), {}, 100),
        "two": Class((Operation("rip", SAW, 0, 50.5),), (Group(2, (0,)),), {}, 100),
    }
    found = {name: plan(one) for name, one in asked.items()}
    assert [faults(asked[name], one) for name, one in found.items()] == [[]] * 5
    least = {"nights": 3, "work": 3, "full": 2, "over": 2, "two": 2}
    agree({name: len(one.evenings) for name, one in found.items()}, least, unit="evenings")
    assert all(one.best for one in found.values())
