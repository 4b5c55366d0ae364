"""The rows of a class list as the page shows them: the cells, what comes of each, its troubles and ways out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from jigs.base.errors import CannotRead
from jigs.base.kinds import Number
from jigs.base.rules import Problem, as_sentence
from jigs.base.settings import keys_of
from jigs.boxfile import edit
from jigs.boxfile.sections import BoxFile
from jigs.course import class_list, makers
from jigs.course import table as tables
from jigs.course.class_list import Fault
from jigs.course.makers import Maker
from jigs.course.table import FIRST, NAME, Table
from jigs.record import Record, replace
from layout.bench import class_rows, fields
from layout.bench.class_rows import Came, Trouble, Worked
from layout.sheet import paper as papers

if TYPE_CHECKING:
    from jigs.box.set_ups import Look
    from layout.bench.class_making import Making

_SHORT: Mapping[str, str] = {"sides.thickness": "Sides", "box.height": "Boards", NAME: "Name"}
"""How the columns of a new list are called where a word must do."""
STATES: Mapping[str, str] = {
    "Error": "error",
    "DANGER": "danger",
    "WARNING": "warning",
    "GET": "get",
    "CHOOSE": "choice",
}
"""The name of the sign of a problem, the worst first."""
_CUTTER, _PAPER = "joint.cutter", "print.paper"


class Cell(Record):
    """A cell: its column, what it is called, what is typed there, and what the class has where nothing is."""

    key: str
    label: str
    value: str
    used: str
    numeric: bool
    wrong: bool = False
    comes_to: str = ""
    """What it is, where more or less than the class's value was typed."""


class Way(Record):
    """A way out as a button: what it says, and what it types into which cells."""

    label: str
    typed: Mapping[str, str]


class Said(Record):
    """A trouble of a row in words, at its cell, with its ways out; `column` is one that can be added for it."""

    sign: str
    says: str
    cell: str
    ways: tuple[Way, ...]
    column: str = ""

    @property
    def state(self) -> str:
        """The name of its sign."""
        return STATES[self.sign]


class Person(Record):
    """A row of the list as the page shows it: who, its cells, and what comes of it."""

    row: int
    name: str
    called: str
    cells: tuple[Cell, ...]
    state: str = "none"
    words: str = ""
    faults: tuple[Said, ...] = ()
    notes: tuple[Said, ...] = ()
    source: tuple[str, str] = ("", "")
    named: str = ""
    """The name on the sheets, where it is not as it was typed."""

    @property
    def number(self) -> int:
        """The place in the list, counted from one."""
        return self.row + 1


def counted(table: Table) -> str:
    """Return how many students a list has, in words."""
    count = len(table.filled)
    return f"{count} student{'s' if count != 1 else ''}"


def label(key: str) -> str:
    """Return how a column is called."""
    if key in _SHORT:
        return _SHORT[key]
    if key in tables.START:
        return fields.label_of(key)
    said = fields.label_of(key)
    section = key.partition(".")[0].replace("_", " ").capitalize()
    return said if section.lower() in said.lower() or "." not in key else f"{section}: {said[:1].lower()}{said[1:]}"


def numeric(key: str) -> bool:
    """Tell whether a column holds numbers."""
    found = edit.key_at(key)
    return found is not None and isinstance(found.kind, Number)


def used_by_class(file: BoxFile, look: Look, key: str) -> str:
    """Return what the class has for a column, as it would be typed."""
    if key == _PAPER:
        return file.print.paper or papers.default(file.units)
    place: Any = file
    for part in key.split("."):
        place = getattr(place, part, None)
    if place is not None:
        return fields.typed(edit.kind_at(key), place, file.units)
    section, _, last = key.rpartition(".")
    return str(look.used(section, last)) if section in keys_of(BoxFile) else ""


# -- the rows ------------------------------------------------------------------------------------------------------


def people(table: Table, file: BoxFile, worked: Worked, making: Making) -> list[Person]:
    """Return the rows of a list with what comes of each on the class's box."""
    look = worked.look(file)
    used = {key: used_by_class(file, look, key) for key in table.columns}
    try:
        roster = table.roster("the list")
    except CannotRead as error:
        fault = Fault(0, NAME, "", Problem("stop", NAME, "{said}", "", {"said": str(error)}))
        roster = class_list.Roster((), (fault,))
    called = makers.calls([Maker(row.name, {}) for row in roster.rows])
    read = {row.number - FIRST: row for row in roster.rows}
    wrong = {fault.row - FIRST: fault for fault in roster.faults}
    found = []
    for number, row in enumerate(table.rows):
        person = Person(number, "", "", tuple(_cells(table, row, used, file)))
        if number in read:
            one = read[number]
            came = worked.of(class_rows.filled(row, table.keys), file)
            person = replace(person, name=one.name, called=called[one.name], source=came.source)
            person = _with(person, came, look, table, making.faults.get((one.name, came.source), ()))
            person = replace(person, named=one.name if one.name != row[0] else "")
        elif number in wrong:
            said = Said("Error", wrong[number].reason(file.units), NAME, ())
            person = replace(person, state="error", faults=(said,))
        found.append(_marked(person))
    return found


def _cells(table: Table, row: Sequence[str], used: Mapping[str, str], file: BoxFile) -> Iterator[Cell]:
    for key, value in zip(table.keys, row, strict=True):
        comes_to = "" if key == NAME else _comes_to(file, key, value)
        yield Cell(key, label(key), value, used.get(key, ""), numeric(key), comes_to=comes_to)


def _comes_to(file: BoxFile, key: str, value: str) -> str:
    """Return what more or less than the class's value comes to, as it would be typed; nothing for any other cell."""
    try:
        found = class_list.comes_to(file, key, value)
        kind = edit.kind_at(key)
        return "" if found == value else fields.typed(kind, kind.parsed(str(found), file.units), file.units)
    except (CannotRead, ValueError):  # it is said of the row
        return ""


def _marked(person: Person) -> Person:
    wrong = {said.cell for said in person.faults}
    return replace(person, cells=tuple(replace(cell, wrong=cell.key in wrong) for cell in person.cells))


def _with(person: Person, came: Came, look: Look, table: Table, drawn: Sequence[Fault]) -> Person:
    """Return a row with what came of it, and with what came to light when its pages were drawn."""
    units = look.box.file.units
    late = tuple(_late(fault) for fault in drawn)
    said = [_said(one, person, units, table) for one in (*late, *came.troubles)]
    faults = tuple(one for one in said if one.sign == "Error")
    notes = tuple(one for one in said if one.sign != "Error")
    if faults:
        return replace(person, state="error", faults=faults, source=("", ""))
    words = class_rows.says(came, look)
    return replace(person, state=notes[0].state if notes else "fine", words=words, notes=notes)


def _late(fault: Fault) -> Trouble:
    """Return what came to light when the pages were drawn; a larger paper was tried there."""
    enough = fault.problem.numbers.get("enough")
    ways = (class_rows.Way({_PAPER: enough}),) if isinstance(enough, str) and fault.problem.where == _PAPER else ()
    return Trouble(fault.problem, fault.problem.where.partition(",")[0], ways)


def _said(one: Trouble, person: Person, units: Any, table: Table) -> Said:
    problem = one.problem
    ways = tuple(Way(_way(way.typed, person, table), _at(way.typed, person)) for way in one.ways)
    by_button = ways and one.holds and len(ways) == len(problem.ways)
    other = problem.suggests(units) if one.holds and not by_button else ""
    words = " ".join(as_sentence(part) for part in (problem.says(units), other) if part)
    cell = one.cell if one.cell in table.keys else next((c.key for c in person.cells[1:] if c.value), NAME)
    column = _CUTTER if problem.where == _CUTTER and _CUTTER not in table.keys else ""
    return Said(problem.sign, words, cell, ways, column)


def _way(typed: Mapping[str, str], person: Person, table: Table) -> str:
    """Return what the button of a way out says."""
    used = {cell.key: cell.used for cell in person.cells}
    said = [f"{_spoken(key)} to {value or used[key]}" for key, value in typed.items()]
    return f"Set {person.called}’s {' and '.join(said)}"


def _spoken(key: str) -> str:
    """Return a setting in the middle of a sentence, with its part where the word alone may be another part's."""
    part, word = key.partition(".")[0], fields.label_of(key)
    word = f"{word[:1].lower()}{word[1:]}"
    return word if key in tables.START or part in word or "." not in key else f"{part} {word}"


def _at(typed: Mapping[str, str], person: Person) -> dict[str, str]:
    return {f"{person.row}/{key}": said for key, said in typed.items()}
