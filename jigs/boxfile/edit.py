"""A box file edited one setting at a time, as a form does it: what is typed becomes what a shop would write there.

Comments stay. A setting that is emptied is taken out, so that it is worked out again; a row of a list is added, changed
or removed where it stands. Keys are named `section.key`, those of a row `stock.boards.0.length`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import AoT, Array

from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.kinds import Flag, Kind
from jigs.base.lengths import Units
from jigs.base.settings import Key, keys_of
from jigs.base.wording import shown
from jigs.boxfile import change, reading
from jigs.boxfile.reading import model_at
from jigs.boxfile.sections import BoxFile
from jigs.record import replace

Written = str | float | int | bool


def edited(file: BoxFile, typed: Mapping[str, str]) -> BoxFile:
    """Return a box file with what was typed for some keys; nothing typed takes a key out, +20 is 20 more than there is.

    With another finger and no cutter comes the cutter that the file lists for it. Raises CannotRead for what can't be
    read, CannotBuild for what is out of its limits, both saying the key, and for a finger that no cutter is known for.
    """
    text = file.source
    values = {
        key: as_written(key, _meant(file, key, words), file.units) for key, words in typed.items() if words.strip()
    }
    for key in typed.keys() - values.keys():
        text = _without(text, key)
    rows = {key: value for key, value in values.items() if any(part.isdigit() for part in key.split("."))}
    for key, value in rows.items():
        text = _in_a_row(text, key, value)
    values = {key: value for key, value in values.items() if key not in rows}
    if not values:
        return reading.read(text, file.name)
    return change.with_its_cutter(text, change.set_values(text, values), values, file.name)


def _meant(file: BoxFile, key: str, words: str) -> str:
    """Return what was typed, with what is more or less than the file has worked out; not in a row of a list."""
    return words if any(part.isdigit() for part in key.split(".")) else change.more_or_less(file, key, words)


def with_row(file: BoxFile, key: str, typed: Mapping[str, str]) -> BoxFile:
    """Return a box file with one more row in a list such as `stock.boards`. Raises as `edited` does."""
    number = len(_rows_in(_parsed(file.source), key))
    values = {
        name: as_written(f"{key}.{number}.{name}", words, file.units) for name, words in typed.items() if words.strip()
    }
    document = _parsed(file.source)
    _append(document, key.split("."), values)
    return reading.read(tomlkit.dumps(document), file.name)


def without_row(file: BoxFile, key: str, number: int) -> BoxFile:
    """Return a box file without one row of a list, counted from 0. Raises CannotRead for a row that is not there."""
    document = _parsed(file.source)
    rows = _rows_in(document, key)
    if not 0 <= number < len(rows):
        raise CannotRead(f"{shown(key)}: there is no row {number + 1}")
    del rows[number]
    if isinstance(rows, AoT) and not rows:
        document.remove(key)
    return reading.read(tomlkit.dumps(document), file.name)


def without_part(file: BoxFile, section: str) -> BoxFile:
    """Return a box file without a part. Raises CannotRead for what is no part of it, or none that it can lack."""
    key = keys_of(BoxFile).get(section)
    if key is None or key.section is None or key.required or getattr(file, section) is None:
        raise CannotRead(f"{shown(section)}: is no part that can be left out of {file.name}")
    return reading.read(change.without_section(file.source, section), file.name)


def as_written(key: str, typed: str, units: Units) -> Written:
    """Return what was typed for a key as it is written into a file in these units.

    Raises CannotRead for a key that there is not and for words that can't be read, CannotBuild for a value out of its
    limits; both begin with the key.
    """
    kind = kind_at(key)
    try:
        value = kind.parsed(typed, units)
    except ValueError as error:
        raise CannotRead(f"{key}: {error}") from None
    if problem := kind.problem(value, key, units):
        raise CannotBuild([replace(problem, where=key)])
    written = kind.written(value, units)
    assert written is not None, f"{key} was typed"
    return value if isinstance(kind, Flag) and isinstance(value, bool) else written


def kind_at(key: str) -> Kind:
    """Return the kind of one key of a box file or of a row of it. Raises CannotRead where there is none."""
    found = key_at(key)
    if found is None or found.kind is None:
        raise CannotRead(f"{shown(key)}: there is no such setting")
    return found.kind


def key_at(key: str) -> Key | None:
    """Return what is declared at a key, rows left aside; None where nothing is."""
    *path, last = (part for part in key.split(".") if not part.isdigit())
    try:
        model = model_at(tuple(path))
    except (KeyError, IndexError):
        return None
    return keys_of(model).get(last) if model else None


def _parsed(text: str) -> Any:
    try:
        return tomlkit.parse(text.removeprefix("\ufeff").rstrip("\n") + "\n")
    except (TOMLKitError, RecursionError) as error:
        raise CannotRead(f"the box file can't be changed: {shown(str(error), 200)}") from None


def _without(text: str, key: str) -> str:
    """Return a text without one key, where it has it."""
    kind_at(key)
    document = _parsed(text)
    table: Any = document
    for part in key.split(".")[:-1]:
        table = _member(table, part)
        if table is None:
            return text
    last = key.rsplit(".", maxsplit=1)[-1]
    if last in table:
        table.pop(last)
    return tomlkit.dumps(document)


def _in_a_row(text: str, key: str, value: Written) -> str:
    """Return a text with another value in a row of a list. Raises CannotRead for a row that is not there."""
    document = _parsed(text)
    table: Any = document
    for part in key.split(".")[:-1]:
        table = _member(table, part)
        if table is None:
            raise CannotRead(f"{shown(key)}: there is no such row")
    table[key.rsplit(".", maxsplit=1)[-1]] = value
    return tomlkit.dumps(document)


def _member(table: Any, part: str) -> Any:
    if part.isdigit():
        return table[int(part)] if isinstance(table, Array | AoT) and int(part) < len(table) else None
    return table.get(part)


def _rows_in(document: Any, key: str) -> Any:
    """Return the list at a key, empty where there is none. Raises CannotRead for what is no list."""
    found = key_at(key)
    if found is None or not found.many:
        raise CannotRead(f"{shown(key)}: is no list")
    table = document
    for part in key.split("."):
        table = table.get(part)
        if table is None:
            return []
    return table


def _append(document: Any, path: Sequence[str], values: Mapping[str, Written]) -> None:
    """Add a row to a list, which is made where there is none: in a section as rows in brackets."""
    *sections, last = path
    table = document
    for part in sections:
        if part not in table:
            table[part] = tomlkit.table()
        table = table[part]
    rows = table.get(last)
    if not sections:
        if not isinstance(rows, AoT):
            table[last] = rows = tomlkit.aot()
        one = tomlkit.table()
        one.update(values)
        rows.append(one)
        return
    if rows is None:
        table[last] = rows = tomlkit.array()
    row = tomlkit.inline_table()
    row.update(values)
    rows.add_line(row, indent="  ") if isinstance(rows, Array) else rows.append(row)
