"""The class list: one box file a student. Everything about its format is here, and nothing about the box.

A list is CSV, as any spreadsheet writes it, or TOML. Its columns are `name` and any key of the box file, written
`section.key`; an empty cell falls back to the box file. A number with + before it is so much more than the box file
has, with − so much less: +20. What is wrong is said by row and column, and a row that is wrong loses no other.
"""

from __future__ import annotations

import codecs
import csv
import io
import re
import tomllib
import unicodedata
from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from jigs.base import disk
from jigs.base.errors import CannotBuild, CannotRead, JigleafError
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.rules import Problem, stop
from jigs.base.settings import Section, keys_of
from jigs.base.wording import Offer, near
from jigs.boxfile import change, decoding, reading
from jigs.boxfile.change import cutter_for
from jigs.boxfile.sections import BoxFile
from jigs.record import Record

with lazily():  # only a fault needs it
    from jigs.box import chain

MOST_BYTES = 5_000_000
MOST_ROWS = 5000
"""A longer list is no class."""
_MOST_COLUMNS = 500  # the box file has a fifth as many keys
_MOST_WRONG = 20  # a list with more wrong columns is no class list
_MOST_TOML_LINES = 50_000
_NAME = "name"
_DELIMITERS = (",", ";", "\t", "|")
_MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF32_LE, "utf-32"), (codecs.BOM_UTF32_BE, "utf-32"))
_MARKS_16 = ((codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
NO_COLUMN = {
    "units": "every bare number of the box file would change its meaning; write the unit in the cells instead",
}
"""Keys of the box file that no column may change, and why."""

Value = str | float


class Fault(Record):
    """One thing wrong with a row: the row as a spreadsheet counts it, and the column, empty for the whole row."""

    row: int
    column: str
    name: str
    problem: Problem

    def says(self, units: Units) -> str:
        """Return the fault as a message: where it is, what is wrong, and what would work."""
        place = f"row {self.row}" + (f" ({shortened(self.name)})" if self.name else "")
        said = f"{place}, {self.column}: " if self.column else f"{place}: "
        return said + self.reason(units)

    def reason(self, units: Units) -> str:
        """Return what is wrong, and what would work."""
        return self.problem.sentences(units)


class Row(Record):
    """One row of the list as it was read: who, and which keys of the box file get another value.

    `name` is fit to be printed: no control characters, single spaces. `columns` says how the list calls each key.
    """

    number: int
    name: str
    values: Mapping[str, Value]
    columns: Mapping[str, str]


class Cells(Record):
    """A class list cell by cell, as it stands: the columns by their keys, the names among them, and rows as long."""

    columns: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    remarks: tuple[str, ...] = ()


class Roster(Record):
    """A class list. `faults` are of rows that can't be read at all; `remarks` say how the file was read."""

    rows: tuple[Row, ...]
    faults: tuple[Fault, ...] = ()
    remarks: tuple[str, ...] = ()


# -- reading -------------------------------------------------------------------------------------------------------


def load(path: Path | str) -> Roster:
    """Return the class list at `path`, TOML where it is named so, else CSV. Raises CannotRead."""
    path = Path(path)
    content = disk.content(path, MOST_BYTES, "a class list")
    if len(content) > MOST_BYTES:
        raise CannotRead(_too_large(path))
    return read(content, str(path), toml=path.suffix.lower() == ".toml")


def read(content: bytes, name: str, *, toml: bool = False) -> Roster:
    """Return the class list that a file holds; `name` is what messages call it. Raises CannotRead."""
    text, remarks = _decoded(content, name)
    roster = _from_toml(text, name) if toml else _from_csv(text, name)
    if not roster.rows and not roster.faults:
        raise CannotRead(f"{name}: the list names nobody; add a row for each student")
    return Roster(_told_apart(roster.rows), roster.faults, (*remarks, *roster.remarks))


def cells(content: bytes, name: str, *, toml: bool = False) -> Cells:
    """Return the cells of a class list that a file holds, wrong ones too. Raises CannotRead where they fit no table."""
    if len(content) > MOST_BYTES:
        raise CannotRead(_too_large(name))
    text, remarks = _decoded(content, name)
    found = _cells_of_toml(text, name) if toml else _cells_of_csv(text, name)
    return Cells(found.columns, found.rows, remarks)


def is_headed(text: str) -> bool:
    """Tell whether a table of any common dialect begins with headings: one of them is a column of a class list."""
    heading = _dialect(text)[2]
    known = {_NAME, *keys()}
    return any(_plain(cell) in known for cell in heading)


def _too_large(name: object) -> str:
    return f"{name} has more than {MOST_BYTES // 1_000_000} MB; a class list has a few kB"


def _decoded(content: bytes, name: str) -> tuple[str, tuple[str, ...]]:
    """Return the text, by its byte order mark, else as UTF-8, else as Windows writes Western European, and says so."""
    text, remarks = _as_text(content, name)
    return text.lstrip("\ufeff"), remarks


def _as_text(content: bytes, name: str) -> tuple[str, tuple[str, ...]]:
    for mark, encoding in (*_MARKS, *_MARKS_16):
        if content.startswith(mark):
            return _text(content, encoding, name), ()
    if b"\0" in content[:200]:
        # Half of the bytes of Latin letters in UTF-16 are 0, and which half says the order.
        return _text(content, "utf-16-be" if content[:1] == b"\0" else "utf-16-le", name), ()
    try:
        return content.decode("utf-8"), ()
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        text = _text(content, "cp1252", name)
        return text, (
            f"{name}, line {line}: the text is not UTF-8 and was read as Windows-1252; check that the names are right",
        )


def _text(content: bytes, encoding: str, name: str) -> str:
    try:
        return content.decode(encoding)
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise CannotRead(f"{name}, line {line}: not text in UTF-8, UTF-16 or Windows-1252; save it as UTF-8") from None


def _from_csv(text: str, name: str) -> Roster:
    """Read a table of any common dialect."""
    columns, records, delimiter = _opened(text, name)
    places = {key: f"{_letter(i)} ({key})" for i, key in columns.items()}
    rows: list[Row] = []
    faults: list[Fault] = []
    for number, cells in records:
        made = _csv_row(number, cells, columns, places, delimiter)
        (rows if isinstance(made, Row) else faults).append(made)  # type: ignore[arg-type]  # each to its own list
    return Roster(tuple(rows), tuple(faults))


def _cells_of_csv(text: str, name: str) -> Cells:
    columns, records, delimiter = _opened(text, name)
    rows = []
    for number, cells in records:
        if problem := _beyond(cells, columns, delimiter):
            raise CannotRead(f"{name}, row {number}: {problem.sentences('mm')}")
        rows.append(tuple(cells[i] if i < len(cells) else "" for i in columns))
    return Cells(tuple(columns.values()), tuple(rows))


def _opened(text: str, name: str) -> tuple[dict[int, str], Iterator[tuple[int, list[str]]], str]:
    """Return which column of a table holds what, its rows that are not empty, and what parts its cells."""
    text, delimiter, _ = _dialect(text)
    if "\0" in text:
        raise CannotRead(f"{name}: has a NUL character in it, so it is no table of text")
    records = _records(text, delimiter, name)
    heading = next(records, (0, []))[1]
    return _columns(heading, name), _filled(records, name), delimiter


def _filled(records: Iterator[tuple[int, list[str]]], name: str) -> Iterator[tuple[int, list[str]]]:
    count = 0
    for number, cells in records:
        if any(cell.strip() for cell in cells):
            count += 1
            _require_modest(count, name)
            yield number, cells


def _dialect(text: str) -> tuple[str, str, list[str]]:
    """Return a table without the line that declares it, what parts its cells, and its first row.

    Where nothing is declared it is the dialect in which most of the headings are known.
    """
    text, declared = _declared(text)
    known = {_NAME, *keys()}
    headings = [(choice, _first_record(text, choice)) for choice in ([declared] if declared else _DELIMITERS)]
    choice, heading = max(headings, key=lambda pair: (sum(_plain(cell) in known for cell in pair[1]), len(pair[1])))
    return text, choice, heading


def _require_modest(count: int, name: str) -> None:
    if count > MOST_ROWS:
        raise CannotRead(f"{name} has more than {MOST_ROWS} rows; part the list")


def _declared(text: str) -> tuple[str, str | None]:
    """Take off the line `sep=;` with which a spreadsheet is told what parts the cells."""
    found = re.match(r'"?sep=(.)"?[;,\t ]*\r?\n', text, re.IGNORECASE)
    return (text[found.end() :], found[1]) if found else (text, None)


def _first_record(text: str, delimiter: str) -> list[str]:
    try:
        return next(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter), [])[:_MOST_COLUMNS]
    except csv.Error:
        return []


def _records(text: str, delimiter: str, name: str) -> Iterator[tuple[int, list[str]]]:
    """Go through the rows, numbered as a spreadsheet does: a cell with line breaks in it makes no further row."""
    reader = csv.reader(io.StringIO(text, newline=""), delimiter=delimiter)
    number = 0
    while True:
        number += 1
        try:
            yield number, next(reader)
        except StopIteration:
            return
        except csv.Error as error:
            raise CannotRead(f"{name}, line {reader.line_num}: is no table: {error}") from None


def _plain(heading: str) -> str:
    """Return a heading as keys are spelled: a spreadsheet likes to begin with a capital."""
    return "_".join(heading.strip().casefold().split())


def _columns(heading: Sequence[str], name: str) -> dict[int, str]:
    """Return which column holds what. Raises CannotRead for one that is unknown or stands twice, or without a name."""
    columns: dict[int, str] = {}
    wrong = []
    last = max((index for index, cell in enumerate(heading) if cell.strip()), default=-1)
    heading = heading[: last + 1]  # a spreadsheet may write thousands of empty ones
    if len(heading) > _MOST_COLUMNS:
        raise CannotRead(f"{name} has {len(heading)} columns; a class list has at most {_MOST_COLUMNS}")
    for index, cell in enumerate(heading):
        key = _plain(cell)
        if key in columns.values():
            wrong.append(f"{name}, {_letter(index)}: '{clean(cell)}' is there twice; delete one of them")
        elif key and (fault := unknown(key)):
            wrong.append(f"{name}, {_letter(index)}: {fault}")
        elif key:
            columns[index] = key
    if _NAME not in columns.values():
        wrong.insert(0, f"{name}: there is no column '{_NAME}'; head the column of names with it")
    if wrong:
        more = len(wrong) - _MOST_WRONG
        raise CannotRead("\n".join([*wrong[:_MOST_WRONG], *([f"{name}: and {more} more"] if more > 0 else [])]))
    return columns


def unknown(key: str) -> str | None:
    """Return what is wrong with the heading of a column, or None."""
    if key in NO_COLUMN:
        return f"'{key}' can't be a column: {NO_COLUMN[key]}"
    known = [_NAME, *keys()]
    if key in known:
        return None
    inside = [whole for whole in known if whole.endswith(f".{key}")]
    meant = "did you mean " + " or ".join(f"'{whole}'" for whole in inside) + "?" if inside else ""
    close = near(key[:80], known)
    if not meant:
        meant = close if close.startswith("did") else f"a column is '{_NAME}' or a key such as 'box.length'"
    return f"there is no column '{shortened(clean(key))}'; {meant}"


def keys() -> list[str]:
    """Return every key of the box file that holds one value, as `section.key`."""
    return list(_keys(BoxFile, ""))


def _keys(model: type[Section], before: str) -> Iterator[str]:
    for name, key in keys_of(model).items():
        if key.section is None:
            yield before + name
        elif not key.many:  # a list is changed in the file
            yield from _keys(key.section, f"{before}{name}.")


def _letter(index: int) -> str:
    """Return a column as a spreadsheet calls it: A to Z, then AA."""
    letters = ""
    index += 1
    while index:
        index, digit = divmod(index - 1, 26)
        letters = chr(ord("A") + digit) + letters
    return f"column {letters}"


def _csv_row(
    number: int, cells: list[str], columns: Mapping[int, str], places: Mapping[str, str], delimiter: str
) -> Row | Fault:
    named = next(index for index, key in columns.items() if key == _NAME)
    name = clean(cells[named]) if named < len(cells) else ""
    if problem := _beyond(cells, columns, delimiter):
        return Fault(number, "", name, problem)
    if not name:
        return Fault(number, f"{_letter(named)} ({_NAME})", "", stop("", "the name is missing"))
    values = {key: cells[i].strip() for i, key in columns.items() if i != named and i < len(cells) and cells[i].strip()}
    return Row(number, name, values, places)


def _beyond(cells: Sequence[str], columns: Mapping[int, str], delimiter: str) -> Problem | None:
    """Return what is wrong with a row that has something in a column without a heading."""
    beyond = next((i for i, cell in enumerate(cells) if i not in columns and cell.strip()), None)
    if beyond is None:
        return None
    rule = "there is something in {column}, which has no heading"
    hint = "put a cell with '{delimiter}' in it into quotes, as in \"9{delimiter}5\""
    return stop("", rule, hint, column=_letter(beyond), delimiter=delimiter)


def _from_toml(text: str, name: str) -> Roster:
    """Read `[[students]]`, each with a name and keys of the box file, as sections or dotted."""
    rows: list[Row] = []
    faults: list[Fault] = []
    for number, entry in enumerate(_students(text, name), 1):
        made = _toml_row(number, entry)
        (rows if isinstance(made, Row) else faults).append(made)  # type: ignore[arg-type]  # each to its own list
    return Roster(tuple(rows), tuple(faults))


def _cells_of_toml(text: str, name: str) -> Cells:
    """Return the students of a TOML file as a table; what no table can hold is refused by its row."""
    rows = []
    for number, entry in enumerate(_students(text, name), 1):
        made = _toml_row(number, entry)
        if isinstance(made, Fault) and made.column != _NAME:
            raise CannotRead(f"{name}: {made.says('mm')}")
        values: dict[str, Any] = dict(_flat(entry, "")) if isinstance(entry, dict) else {}
        rows.append({_NAME: "", **{key: f"{value}" for key, value in values.items()}})
    columns = [key for key in (_NAME, *keys()) if any(key in row for row in rows) or key == _NAME]
    return Cells(tuple(columns), tuple(tuple(row.get(key, "") for key in columns) for row in rows))


def _students(text: str, name: str) -> list[Any]:
    decoding.require_modest(text, name, "a class list", _MOST_TOML_LINES)
    try:
        data = tomllib.loads(text)
    except RecursionError:
        raise CannotRead(f"{name}: lists or tables are nested too deep") from None
    except ValueError as error:
        raise CannotRead(f"{name}: {error}") from None
    students = data.get("students")
    other = sorted(set(data) - {"students"})
    if not isinstance(students, list) or other:
        said = f"; there is '{shortened(clean(other[0]))}'" if other else ""
        raise CannotRead(f"{name}: a class list holds [[students]] and nothing else{said}")
    _require_modest(len(students), name)
    return students


def _toml_row(number: int, entry: object) -> Row | Fault:
    values: dict[str, Any] = dict(_flat(entry, "")) if isinstance(entry, dict) else {}
    written = values.pop(_NAME, "")
    name = clean(written) if isinstance(written, str) else ""
    if not name:
        return Fault(number, _NAME, "", stop("", "the name is missing"))
    for key, value in values.items():
        if wrong := unknown(key):
            place = shortened(clean(key))
            return Fault(number, place, name, stop(place, "{wrong}", wrong=wrong))
        if isinstance(value, bool) or not isinstance(value, str | int | float):
            return Fault(
                number,
                key,
                name,
                stop(key, "the value is neither a number nor text", "write a number, or text in quotes"),
            )
    return Row(number, name, values, {key: key for key in values})


def _flat(table: Mapping[str, Any], before: str) -> Iterator[tuple[str, Any]]:
    for key, value in table.items():
        if isinstance(value, dict):
            yield from _flat(value, f"{before}{key}.")
        else:
            yield before + key, value


# -- names ---------------------------------------------------------------------------------------------------------


def clean(written: str) -> str:
    """Return a name fit to be printed: composed letters, single spaces, nothing that turns the writing round."""
    composed = unicodedata.normalize("NFC", written)
    kept = (" " if unicodedata.category(c) in {"Cc", "Zl", "Zp", "Zs"} else c for c in composed)
    return " ".join("".join(c for c in kept if unicodedata.category(c) not in {"Cf", "Cs", "Co", "Cn"}).split())


def _told_apart(rows: Sequence[Row]) -> tuple[Row, ...]:
    """Number those who share a name to the letter: sheets of two people must not be mixed up at the bench."""
    names = {row.name for row in rows}
    seen: set[str] = set()
    told = []
    for row in rows:
        name, number = row.name, 1
        while name in seen:
            number += 1
            numbered = f"{row.name} ({number})"
            name = numbered if numbered not in names else name
        seen.add(name)
        told.append(Row(row.number, name, row.values, row.columns))
    return tuple(told)


def shortened(words: str, longest: int = 40) -> str:
    """Return words cut to a length, with an ellipsis where something is missing."""
    return words if len(words) <= longest else words[: longest - 1].rstrip() + "…"


# -- one box file a student ----------------------------------------------------------------------------------------


class RowRefused(JigleafError):
    """A row that gives no box. Carries each fault."""

    def __init__(self, faults: Sequence[Fault]) -> None:
        self.faults = tuple(faults)
        super().__init__("; ".join(fault.says("mm") for fault in faults))


def resolve(row: Row, base: BoxFile) -> BoxFile:
    """Return the box file of one student: the class's, with the row's values. Raises RowRefused with every fault."""
    values = _settled(row, base)
    without_cutter = _pick_cutter(row, values, base)
    found = [without_cutter] if without_cutter else []
    if not values:
        return base
    try:
        made = reading.read(change.set_values(base.source, values), "the box file")
    except JigleafError as error:
        raise RowRefused([*found, *_by_column(row, values, base, error)]) from None
    if found:
        raise RowRefused(found)
    return made


def _settled(row: Row, base: BoxFile) -> dict[str, Value]:
    """Return the values of a row, those that are more or less than the class's worked out. Raises RowRefused."""
    found: list[Fault] = []
    values: dict[str, Value] = {}
    for key, value in row.values.items():
        try:
            values[key] = comes_to(base, key, value)
        except CannotRead as error:
            found += _faults(row, error)
    if found:
        raise RowRefused(found)
    return values


def comes_to(base: BoxFile, key: str, value: Value) -> Value:
    """Return what a cell comes to: with + or − before a number more or less than the box file has, else as it is.

    Raises CannotRead, saying the key, where the box file has no value to start from, or no number follows.
    """
    if isinstance(value, bool) or not isinstance(value, int | float | str):
        return value
    below = not isinstance(value, str) and value < 0  # a number in TOML
    return change.more_or_less(base, key, f"{value}") if below or isinstance(value, str) else value


def _pick_cutter(row: Row, values: dict[str, Value], base: BoxFile) -> Fault | None:
    """Choose the measured cutter for the row's finger where the row names none; return the fault where none is listed.

    A finger the box file's own cutter can't make needs another; nobody's list should end in a guess.
    """
    if "joint.finger" not in values or "joint.cutter" in values:
        return None
    try:
        alone = change.set_values(base.source, {"joint.finger": values["joint.finger"]})
        finger = reading.read(alone, "").joint.finger
    except JigleafError:
        return None  # said of its own column later
    if finger == base.joint.finger:
        return None
    cutter = cutter_for(base, finger)
    if cutter is not None:
        # A length in words, so that it is read alike whatever the file's units are.
        values["joint.cutter"] = f"{cutter!r} mm"
        return None
    than = "wider" if finger > base.joint.cutter else "narrower"
    nearest = _nearest_finger(finger, base)
    problem = stop(
        "joint.cutter",
        f"a finger of {{finger}} is {than} than the box file's cutter of {{cutter}}, and [[cutters]] lists none for it",
        (
            "measure a cutter for it in wood and list it",
            "add a column joint.cutter",
            *(("take a finger of {nearest}",) if nearest else ()),
        ),
        finger=finger,
        cutter=base.joint.cutter,
        **({"nearest": nearest} if nearest else {}),
    )
    return Fault(row.number, "joint.cutter", row.name, problem)


def _nearest_finger(finger: float, base: BoxFile) -> Offer | None:
    """Return the nearest finger for which a cutter is known and that no rule stops on the class's box."""
    for known in sorted({base.joint.finger, *(one.finger for one in base.cutters)}, key=lambda one: abs(one - finger)):
        cutter = cutter_for(base, known)
        values = {"joint.finger": f"{known!r} mm", "joint.cutter": f"{cutter!r} mm"}
        try:
            stopped = chain.work_out(reading.read(change.set_values(base.source, values), "")).stopped
        except JigleafError:
            continue
        if not stopped:
            return Offer(known, setting="joint.finger")
    return None


def _by_column(row: Row, values: Mapping[str, Value], base: BoxFile, error: JigleafError) -> list[Fault]:
    """Return the faults of a row by its columns: each value is tried alone, so that each is told of its own."""
    faults = []
    for key, value in values.items():
        try:
            reading.read(change.set_values(base.source, {key: value}), "")
        except JigleafError as alone:
            faults += [fault for fault in _faults(row, alone) if _same_place(fault, row, key)]
    return faults or _faults(row, error)


def _same_place(fault: Fault, row: Row, key: str) -> bool:
    """Tell whether a fault is the key's own: a section that only the other columns fill is none."""
    return fault.column == row.columns.get(key, key)


def _faults(row: Row, error: JigleafError) -> list[Fault]:
    """Return what the box file says of itself as faults of the row, without the lines of a file nobody has."""
    if isinstance(error, CannotBuild):
        return refused_by(row, error.problems)
    faults = []
    for line in str(error).splitlines():
        said = re.sub(r"^.*?(?:, line \d+)?: (?=[a-z_]+(?:\.|: ))", "", line, count=1) if line[:1] in ",t" else line
        where, parted, wrong = said.partition(": ")
        problem = stop(where, "{wrong}", wrong=wrong if parted else said)
        faults.append(Fault(row.number, row.columns.get(where, where if parted else ""), row.name, problem))
    return faults


def refused_by(row: Row, problems: Sequence[Problem]) -> list[Fault]:
    """Return problems of a box as faults of its row, each at the column its key stands in."""
    faults = []
    for problem in problems:
        rule = problem.rule.removesuffix(" (line {line})")
        placed = Problem(problem.severity, problem.where, rule, problem.suggestion, problem.numbers)
        faults.append(Fault(row.number, row.columns.get(problem.where, problem.where), row.name, placed))
    return faults
