"""The evenings of a class: what is done on each, how busy the machines are, what others do, what dries overnight."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from jigs.base.cards import Band, Text
from jigs.base.drawing import Cell, Table
from jigs.box import hours
from jigs.boxfile.sections import BoxFile
from jigs.course.makers import Maker
from jigs.trade import evenings as trade
from jigs.trade.evenings import BENCH, Class, Evenings, Group


def of_class(file: BoxFile, makers: Sequence[Maker]) -> tuple[Class, Evenings]:
    """Return the class as it is planned, and its plan. Raises ValueError where an operation outlasts an evening."""
    alike = Counter(tuple(maker.data["parts"]) for maker in makers)
    groups = tuple(Group(count, hours.taken(parts)) for parts, count in sorted(alike.items()))
    minutes = file.hours.evening - file.hours.set_out
    asked = Class(hours.operations(file), groups, hours.machines(file.hours), minutes)
    return asked, trade.plan(asked)


def bands(file: BoxFile, makers: Sequence[Maker]) -> Iterator[Band]:
    """Yield the table of the evenings, what it rests on, and how near it is to the best."""
    try:
        asked, found = of_class(file, makers)
    except ValueError as error:  # minutes of the file that no evening holds
        yield Text("", (f"No plan: {error}. Make the evening longer, or the work shorter.",))
        return
    rows = [_row(asked, number, done) for number, done in enumerate(found.evenings, start=1)]
    headings = ("Evening", "At the machines", "Busy", "At the benches", "Dries overnight", "Done")
    yield Table("evenings", _title(file, makers, found), headings, tuple(rows))
    yield Table("minutes", "Minutes that are counted with", ("", *_names(asked)), tuple(_minutes(asked)))
    yield Text("", _words(file))


def _title(file: BoxFile, makers: Sequence[Maker], found: Evenings) -> str:
    count, boxes = len(found.evenings), len(makers)
    of_boxes = "one box" if boxes == 1 else f"{boxes} boxes"
    fewest = "no plan has fewer" if found.best else f"no plan has fewer than {found.bound}"
    return f"{of_boxes} in {count} evenings of {file.hours.evening:g} minutes: {fewest}"


def _row(asked: Class, number: int, done: trade.Done) -> tuple[Cell, ...]:
    counts: Counter[int] = Counter()
    for (_, operation), students in done.items():
        counts[operation] += students
    made = [(asked.operations[k], students) for k, students in sorted(counts.items())]
    busy: dict[str, float] = {}
    for one, students in made:
        if one.machine != BENCH:
            busy[one.machine] = busy.get(one.machine, 0.0) + one.setting + students * one.work
    return (
        str(number),
        ", ".join(f"{one.name} {students}" for one, students in made if one.machine != BENCH) or "–",
        ", ".join(f"{machine} {minutes:.0f} min" for machine, minutes in busy.items()) or "–",
        ", ".join(f"{one.name} {students}" for one, students in made if one.machine == BENCH) or _MEANWHILE,
        ", ".join(f"{one.name} {students}" for one, students in made if one.dries) or "–",
        None,
    )


_MEANWHILE = "sanding, edges, test joints"
"""What there is to do at a bench while others are at a machine (common practice, no source)."""


def _names(asked: Class) -> tuple[str, ...]:
    return tuple(one.name for one in asked.operations)


def _minutes(asked: Class) -> Iterator[tuple[Cell, ...]]:
    yield ("set, once an evening", *(f"{one.setting:g}" for one in asked.operations))
    yield ("work, each box", *(f"{one.work:g}" for one in asked.operations))


def _words(file: BoxFile) -> tuple[str, ...]:
    return (
        f"{file.hours.set_out:g} minutes of each evening are for setting out and clearing up. The minutes are those of "
        "the box file, or usual ones: change them there to what your class takes.",
        "The sleds are made before the first evening. Counts say how many students; who comes first is first all the "
        "way. Whoever waits for a machine works at a bench: carve, plane, sand, or cut test joints.",
    )
