"""In which order a class sets its machines: what each student cuts at each, and the order with the fewest changes."""

from __future__ import annotations

from collections.abc import Hashable, Iterable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from jigs.base.drawing import Cell, Notes, Table
from jigs.base.wording import say
from jigs.box.chain import PARTS
from jigs.course.makers import A_ROW, Maker, capital, fine
from jigs.trade import setups


@dataclass(frozen=True, slots=True)
class Task:
    """One thing that one student cuts, and what the machine is set to for it."""

    who: str
    set_up: setups.SetUp


@dataclass(frozen=True, slots=True)
class Station:
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


_FINGERS = ("fingers", "Fingers", ("cutter", "key and gap", "bit above table"))


def stations(makers: Iterable[Maker]) -> tuple[Station, ...]:
    """Return the stations of a class at which set-ups differ."""
    tasks: dict[tuple[str, str, tuple[str, ...]], list[Task]] = {_FINGERS: []}
    tasks |= {kind.machine: [] for kind in PARTS if kind.machine}
    for maker in makers:
        tasks[_FINGERS].append(Task(maker.short, _fine(_fingers(maker.data))))
        for kind in PARTS:
            if kind.machine and maker.data.get(kind.name):
                for cut, set_up in kind.set_ups(maker.data):
                    tasks[kind.machine].append(Task(f"{maker.short}: {cut}" if cut else maker.short, _fine(set_up)))
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


def tables(makers: Iterable[Maker]) -> Iterator[Table | Notes]:
    """Yield a table for each station, and what the order saves."""
    said = []
    for station in stations(makers):
        yield _table(station)
        best = station.order
        how = "no order needs fewer" if best.best else f"no order needs fewer than {best.at_least}"
        said.append(
            f"{station.title}: {best.changes} settings in this order, {station.changes_by_list} if each was served in "
            f"the order of the list; {how}. The first set-up counts as {len(station.settings)}."
        )
    said.append(
        "Change only what the column Change names; the rest stands as it is. Sign when the set-up is proved on scrap."
    )
    yield Notes("set-up-notes", "What it saves", tuple(said))


def _table(station: Station) -> Table:
    whom: dict[setups.SetUp, list[str]] = {}
    for task in station.tasks:
        whom.setdefault(task.set_up, []).append(task.who)
    rows: list[tuple[Cell, ...]] = []
    before: setups.SetUp | None = None
    for number, one in enumerate(station.order.set_ups, 1):
        anew = [n for n, a, b in zip(station.settings, one, before or (), strict=False) if a != b]
        change = ", ".join(anew) if before else "everything"
        names = whom[one]
        cells = tuple(_setting(value) for value in one)
        rows.append((str(number), change, *cells, "; ".join(names[:A_ROW]), None))
        for start in range(A_ROW, len(names), A_ROW):
            rows.append((f"{number}", "the same", *("" for _ in cells), "; ".join(names[start : start + A_ROW]), ""))
        before = one
    headings = ("No.", "Change", *(capital(name) for name in station.settings), "For", "Signed")
    return Table(station.name, station.title, headings, tuple(rows))


def _setting(value: object) -> Cell:
    """Return what one setting of a machine says in a table."""
    match value:
        case None:
            return "no stops"
        case float():
            return value
        case (str(machine), float(cutter)):
            return cutter if machine == "router table" else say(f"{{cutter}} on the {machine}", cutter=cutter)
        case tuple():
            fields = {f"v{i}": v for i, v in enumerate(value)}
            return say("\u00a0/\u00a0".join(f"{{{field}}}" for field in fields), **fields)
        case _:
            return str(value)
