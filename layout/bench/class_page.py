"""What the page of a class shows: the list with what comes of every row, the run, the files, and what moved."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from jigs.base.rules import as_sentence
from jigs.box.effects import Moved
from jigs.course import class_list
from jigs.course.table import NAME, Table
from jigs.record import Record
from layout import make
from layout.bench import fields
from layout.bench.box_view import Mark
from layout.bench.class_people import STATES, Cell, Person, counted, label, numeric, people, used_by_class

if TYPE_CHECKING:
    from jigs.box.set_ups import Look
    from layout.bench.class_making import Making
    from layout.bench.class_state import Class

_WORDS = {"waits": "waits", "part": "making", "fine": "made", "error": "error"}


def context(one: Class) -> dict[str, Any]:
    """Return all that the page of a class shows."""
    state, table, making = one.state, one.table, one.making
    file, look = state.file, state.look
    there = people(table, file, one.worked, making)
    named = [person for person in there if person.name]
    able = [person for person in named if person.source[0]]
    faulty = [person for person in there if person.faults]
    return {
        "title": f"Class: {file.title}",
        "headline": "the list",
        "verdict": _verdict(len(named), len(able)),
        "units": "Sizes in mm." if file.units == "mm" else "Sizes in inches.",
        "list_changes": _changes(one),
        "people": there,
        "able": able,
        "columns": [Cell(key, label(key), "", used_by_class(file, look, key), numeric(key)) for key in table.columns],
        "name_label": label(NAME),
        "more": _more(table),
        "box": _of_the_box(look),
        "marks": list(_marks(look, there, faulty, making)),
        "making": making,
        "run": _run(making),
        "again": _again(one, able),
        "moved": list(_moved(one, there)),
        "can_undo": one.at > 0,
        "can_redo": one.at + 1 < len(one.past),
        "list_saved": table == one.saved,
    }


def _more(table: Table) -> dict[str, list[tuple[str, str]]]:
    """Return the columns that can be added, by their sections, each with what it is called."""
    found: dict[str, list[tuple[str, str]]] = {}
    known = class_list.keys()
    for key in known:
        if key not in table.keys and key not in class_list.NO_COLUMN:
            section = key.partition(".")[0] if "." in key else "file"
            found.setdefault(section.capitalize(), []).append((key, fields.label_of(key)))
    return found


# -- the head, and the stick ---------------------------------------------------------------------------------------


def _verdict(named: int, able: int) -> str:
    if not named:
        return "Nobody is in the list yet."
    return f"{able} of {named} can be made."


def _changes(one: Class) -> str:
    if not any(any(row) for row in one.table.rows):
        return "A new list"
    return "class.csv, saved" if one.table == one.saved else "class.csv, not saved"


class OfTheBox(Record):
    """The class's box: what comes of it, what holds for everybody, and where to mend it."""

    words: str
    stopped: bool
    signs: tuple[str, ...]
    said: tuple[str, ...]
    set_up: str
    title: str


def _of_the_box(look: Look) -> OfTheBox:
    units = look.box.file.units
    found = [(name, problem) for name, problems in look.problems.items() for problem in problems]
    order = list(STATES)
    found.sort(key=lambda pair: order.index(pair[1].sign))
    stops = tuple(as_sentence(problem.says(units)) for _, problem in found if problem.severity == "stop")
    signs = tuple(dict.fromkeys(problem.sign for _, problem in found))
    worst = found[0][0] if found else "wood"
    return OfTheBox(look.effects.get("joint.finger", ""), look.box.stopped, signs, stops, worst, worst.capitalize())


def _marks(look: Look, there: Sequence[Person], faulty: Sequence[Person], making: Making) -> Iterator[Mark]:
    box = _of_the_box(look)
    state = STATES[box.signs[0]] if box.signs else "fine"
    yield Mark(1, f"/box/{box.set_up}", "The box", state, box.signs[0] if box.signs else "fine", chosen=False)
    named = [person for person in there if person.name or person.faults]
    word = f"{len(faulty)} of {len(named)} faulty" if faulty else f"{len(named)} students" if named else "empty"
    yield Mark(2, "#list", "The list", "error" if faulty else "fine" if named else "waits", word, chosen=True)
    made, wanted = making.count, len(making.wanted)
    state, word = ("part", f"{made} of {wanted} made") if wanted else ("waits", "waits for 2")
    if wanted and made == wanted and not making.at_work:
        state, word = "fine", f"{made} made"
    yield Mark(3, "#making", "Make", state, word, chosen=False)
    done = making.handed is not None
    yield Mark(
        4, "#hand-out", "Hand out", "fine" if done else "waits", "ready" if done else "waits for 3", chosen=False
    )


# -- the run -------------------------------------------------------------------------------------------------------


class Run(Record):
    """How far a run is: its heading, what is at work and how long it will take, and every student along a stick."""

    heading: str
    words: str
    students: tuple[tuple[str, str, str, str], ...]


def _run(making: Making) -> Run:
    students = tuple(
        (str(one.row - 1), one.called, state, _WORDS[state])
        for one in making.students
        for state in [making.states.get(one.row, "waits")]
    )
    made, wanted = making.count, len(making.wanted)
    if making.at_work:
        return Run(f"Making: {made} of {wanted}", _now(making), students)
    if making.error:
        return Run(f"Broke off: {made} of {wanted} made", f"{making.error} What is made stays made.", students)
    if making.stopped:
        return Run(f"Stopped: {made} of {wanted} made", "What is made stays made. Go on when you like.", students)
    if making.handed:
        return Run(f"Made: {made} of {wanted}", "Save it below: it is lost when you close the bench.", students)
    return Run("Make", "", ())


def _now(making: Making) -> str:
    """Return what a run is doing, in words."""
    at_work = [one.called for one in making.students if making.states.get(one.row) == "part"]
    step = making.step
    if making.stopping:
        said = f"Stopping after {' and '.join(at_work)}." if at_work else "Stopping."
    elif at_work:
        said = f"Now {' and '.join(at_work)}."
    elif making.count + sum(state == "error" for state in making.states.values()) == len(making.students) and step:
        said = "Now what all share, and your plan."
    else:
        said = f"Looking at the list, row {step.done} of {len(making.students)}." if step else "Beginning."
    left = making.left
    if left is not None and not making.stopping:
        said += f" About {max(5, round(left / 5) * 5):.0f} seconds left for the students."
    return f"{said} What is made stays made."


def _again(one: Class, able: Sequence[Person]) -> str:
    """Return what is to be made again since the last run, in words."""
    made = one.making.made
    if not made:
        return "Nothing is made yet"
    changed = sum(made.get(person.name) != person.source for person in able)
    gone = set(made) - {person.name for person in able}
    if not changed and not gone:
        return "nothing"
    return f"{changed} of {len(able)} students; what they share; your plan"


# -- what the last change moved ------------------------------------------------------------------------------------


def _moved(one: Class, there: Sequence[Person]) -> Iterator[Moved]:
    """Yield what the last change of the list moved: the cells, and of a single student the numbers that follow."""
    was, now, file = one.before, one.table, one.state.file
    if len(was.rows) != len(now.rows):
        yield Moved("Students", counted(was), counted(now), chosen=True)
        return
    before = [dict(zip(was.keys, row, strict=True)) for row in was.rows]
    after = [dict(zip(now.keys, row, strict=True)) for row in now.rows]
    keys = [NAME, *dict.fromkeys((*was.columns, *now.columns))]
    changed = [
        (number, key)
        for number in range(len(after))
        for key in keys
        if before[number].get(key, "") != after[number].get(key, "")
    ]
    look = one.worked.look(file)
    for number, key in changed:
        who = there[number].called or f"Row {number + 1}"
        used = "" if key == NAME else used_by_class(file, look, key)
        old, new = (rows[number].get(key, "") or used or "nothing" for rows in (before, after))
        yield Moved(f"{who}, {label(key).lower()}", old, new, chosen=True)
    if len(rows := Counter(number for number, _ in changed)) == 1:
        number = next(iter(rows))
        yield from _followed(one, there[number], {k: v for k, v in before[number].items() if v and k != NAME})


def _followed(one: Class, person: Person, before: Mapping[str, str]) -> Iterator[Moved]:
    file, values = one.state.file, {cell.key: cell.value for cell in person.cells if cell.value and cell.key != NAME}
    was, now = one.worked.plain(before, file).look, one.worked.plain(values, file).look
    if was is None or now is None:
        return
    for moved in make.moved(was, now):
        if not moved.chosen:
            yield Moved(f"{person.called}, {moved.name[:1].lower()}{moved.name[1:]}", moved.was, moved.now)
