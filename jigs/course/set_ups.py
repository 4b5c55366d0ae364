"""In which order a class sets its machines: what each student cuts at each, and the order with the fewest changes."""

from __future__ import annotations

import itertools
from collections.abc import Hashable, Iterable, Iterator, Mapping, Sequence
from typing import Any

from jigs.base.cards import Band, Beside, Text
from jigs.base.drawing import Cell, Table
from jigs.base.wording import say
from jigs.box.chain import PARTS
from jigs.course.makers import A_ROW, Maker, calls, capital, fine
from jigs.record import Record
from jigs.trade import setups


class Task(Record):
    """One thing that one student cuts, what of the box it is, and what the machine is set to for it."""

    who: str
    set_up: setups.SetUp
    cut: str = ""


class Station(Record):
    """What is cut at one machine: how its settings are called, and the tasks in the order of the list."""

    name: str
    title: str
    settings: tuple[str, ...]
    tasks: tuple[Task, ...]

    @property
    def order(self) -> setups.Order:
        """The order of set-ups with the fewest changes."""
        return setups.best_order([task.set_up for task in self.tasks])

    @property
    def changes_by_list(self) -> int:
        """How many settings are made when everybody is served in the order of the list."""
        return setups.changes([task.set_up for task in self.tasks])


_AS_THEY_ARE: Mapping[str, str] = {}
_FINGERS = ("fingers", "Fingers", ("cutter", "key and gap", "bit above table"))


def stations(makers: Iterable[Maker], called: Mapping[str, str] = _AS_THEY_ARE) -> tuple[Station, ...]:
    """Return the stations of a class at which set-ups differ; `called` says what students are called, by name."""
    tasks: dict[tuple[str, str, tuple[str, ...]], list[Task]] = {_FINGERS: []}
    tasks |= {kind.machine: [] for kind in PARTS if kind.machine}
    for maker in makers:
        who = called.get(maker.name, maker.short)
        tasks[_FINGERS].append(Task(who, _fine(_fingers(maker.data))))
        for kind in PARTS:
            if kind.machine and maker.data.get(kind.name):
                for cut, set_up in kind.set_ups(maker.data):
                    tasks[kind.machine].append(Task(who, _fine(set_up), cut))
    return tuple(Station(*machine, tuple(found)) for machine, found in tasks.items() if found)


def _fingers(data: Mapping[str, Any]) -> setups.SetUp:
    cut = data["cut"]
    return (cut["machine"], cut["cutter"]), (data["sled"]["key"], *data["fingers"]["pass_gaps"]), cut["projection"]


def _fine(set_up: Iterable[Hashable]) -> setups.SetUp:
    """Return a set-up with its lengths as fine as they are set."""
    return tuple(
        fine(value) if isinstance(value, float) else _fine(value) if isinstance(value, tuple) else value
        for value in set_up
    )


def tables(makers: Sequence[Maker]) -> Iterator[Band]:
    """Yield how to read the tables, and a table for each station; two short ones stand side by side."""
    yield Text("", ("Set each machine row by row. Where a cell is empty, leave the machine as it is.",))
    waiting: Table | None = None
    for place, station in enumerate(stations(makers, calls(makers))):
        table = _table(station)
        if not place or len(table.rows) > _SHORT or len(table.headings) > _NARROW:
            yield table
        elif waiting:
            yield Beside(waiting, table, 0.5)
            waiting = None
        else:
            waiting = table
    if waiting:
        yield waiting


_SHORT, _NARROW = 3, 5  # rows and columns of a table that leaves room for another beside it


def _table(station: Station) -> Table:
    whom: dict[setups.SetUp, list[Task]] = {}
    for task in station.tasks:
        whom.setdefault(task.set_up, []).append(task)
    order = station.order
    everyone = len({task.who for task in station.tasks})
    rows: list[tuple[Cell, ...]] = []
    before: setups.SetUp = ()
    for number, one in enumerate(order.set_ups, 1):
        settings = itertools.zip_longest(station.settings, one, before)
        cells = tuple("" if value == stood else _setting(name, value) for name, value, stood in settings)
        said = list(_whom(whom[one], everyone))
        rows.append((str(number), *cells, said[0]))
        rows += [("", *("" for _ in cells), more) for more in said[1:]]
        before = one
    headings = ("", *(capital(name) for name in station.settings), "For")
    return Table(station.name, _saves(station, order), headings, tuple(rows))


def _saves(station: Station, order: setups.Order) -> str:
    """Return the title of a station with what its order saves."""
    listed = station.changes_by_list
    if listed <= order.changes:
        return station.title
    least = "" if order.best else f", at least {order.at_least}"
    return f"{station.title}: {order.changes} settings{least}; {listed} in the order of the list"


def _whom(tasks: Sequence[Task], everyone: int) -> Iterator[str]:
    """Yield for whom one set-up is, by what is cut, a few names at a time; `everyone` is how many there are."""
    cuts: dict[str, list[str]] = {}
    for task in tasks:
        cuts.setdefault(task.cut, []).append(task.who)
    for cut, names in cuts.items():
        told = ["everyone"] if len(names) == everyone > 2 else names
        for start in range(0, len(told), A_ROW):
            few = ", ".join(told[start : start + A_ROW])
            yield f"{cut}: {few}" if cut else few


_BY_GAUGE = ("cutter", "key and gap", "hole saw")


def _setting(name: str, value: object) -> Cell:
    """Return what one setting of a machine says in a table."""
    purpose = "gauge" if name in _BY_GAUGE else "cut"
    match value:
        case None:
            return "no stops"
        case float():
            return say(f"{{v:{purpose}}}", v=value)
        case (str(machine), float(cutter)):
            on = "" if machine == "router table" else f" on the {machine}"
            return say(f"{{cutter:gauge}}{on}", cutter=cutter)
        case tuple():
            fields = {f"v{i}": v for i, v in enumerate(value)}
            return say(" / ".join(f"{{{field}:{purpose}}}" for field in fields), **fields)
        case _:
            return str(value)
