"""How long a box takes: the operations in the order of work with their minutes, and what must dry overnight."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from jigs.base.wording import Words
from jigs.box.chain import Box
from jigs.boxfile.sections import BoxFile, HoursSection, Minutes
from jigs.record import Record
from jigs.trade.evenings import BENCH, Operation

_SAW, _ROUTER, _DRILL = "saw and planer", "router table", "drill press"
ALWAYS = ("wood", "joint", "glue", "finish")
"""What every box takes, whatever parts it has."""
IN_ORDER = ("wood", "joint", "groove", "bottom", "shell", "glue", "lid", "handle", "finish")
"""The operations in the order of work."""
DRY = ("glue", "finish")
"""What dries overnight (common practice, no source)."""
MACHINES = {
    "wood": _SAW,
    "groove": _ROUTER,
    "bottom": _ROUTER,
    "shell": BENCH,
    "glue": BENCH,
    "lid": _ROUTER,
    "handle": _DRILL,
    "finish": BENCH,
}
"""The machine of each operation; the joint is cut on the one that the file names."""


def operations(file: BoxFile) -> tuple[Operation, ...]:
    """Return every operation that there is, each with the file's own minutes, or the usual ones."""
    found = []
    for name in IN_ORDER:
        minutes: Minutes = getattr(file.hours, name)
        machine = file.joint.machine if name == "joint" else MACHINES[name]
        found.append(Operation(name, machine, minutes.set, minutes.work, name in DRY))
    return tuple(found)


def taken(parts: Iterable[str]) -> tuple[int, ...]:
    """Return which operations a box takes that has these parts, by their numbers in the order of work."""
    wanted = {*ALWAYS, *("shell" if part == "pattern" else part for part in parts)}  # both are carved
    return tuple(number for number, name in enumerate(IN_ORDER) if name in wanted)


def machines(hours: HoursSection) -> dict[str, int]:
    """Return how many machines of each kind a class has."""
    return {_SAW: hours.saws, "table saw": hours.saws, _ROUTER: hours.routers, _DRILL: hours.drills}


class Time(Record):
    """How long one maker takes: minutes at each operation, in all without the sled, and nights to dry."""

    operations: tuple[Operation, ...]
    sled: float

    @property
    def minutes(self) -> float:
        """Setting and work of all operations."""
        return sum(one.setting + one.work for one in self.operations)

    @property
    def nights(self) -> int:
        """How often something dries overnight before the box is done."""
        return sum(one.dries for one in self.operations)


def of_box(box: Box) -> Time:
    """Return how long one maker takes for a box."""
    every = operations(box.file)
    hours = box.file.hours
    return Time(tuple(every[k] for k in taken(part.name for part in box.parts)), hours.sled.set + hours.sled.work)


def said(minutes: float) -> str:
    """Return a time in hours and minutes."""
    whole, rest = divmod(round(minutes), 60)
    if not whole:
        return f"{rest} min"
    return f"{whole} h {rest} min" if rest else f"{whole} h"


def rows(box: Box) -> Iterator[tuple[str, Words]]:
    """Yield the rows of the full report."""
    made = of_box(box)
    for one in made.operations:
        setting = f"{one.setting:g} min to set, " if one.setting else ""
        yield one.name, f"{setting}{one.work:g} min of work{'; dries overnight' if one.dries else ''}"
    yield "in all", f"{said(made.minutes)}, and {said(made.sled)} for the sled; {made.nights} nights to dry"


def as_data(box: Box) -> dict[str, object]:
    """Return the minutes by the names of the JSON report."""
    made = of_box(box)
    return {
        "minutes": made.minutes,
        "sled": made.sled,
        "nights": made.nights,
        "set_ups": {
            one.name: {"machine": one.machine or "bench", "set": one.setting, "work": one.work, "dries": one.dries}
            for one in made.operations
        },
    }
