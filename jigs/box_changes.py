"""A box file with other values: a key is changed, a section left out, and the maker's comments stay."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from typing import Any, get_args

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import Table

from jigs.box_values import named
from jigs.boxfile import decoded, model_at, spelled, unknown_key
from jigs.errors import CannotRead
from jigs.wording import shown


def set_values(text: str, values: Mapping[str, str | float]) -> str:
    """Return the text with other values for some keys, each named `section.key`; comments stay.

    The values are written as they are given and checked when the text is read. Raises CannotRead for a text that is
    no TOML, for a key that no box file has, with near names, and for one that holds a list or a section.
    """
    decoded(text, "the box file")
    for name in values:
        _require_settable(name)
    try:
        document = tomlkit.parse(text.removeprefix("\ufeff").rstrip("\n") + "\n")
        for name, value in values.items():
            _put(document, name.split("."), value)
        for name in values:
            _settle(document, name.split("."))
        return tomlkit.dumps(document)
    except (TOMLKitError, RecursionError) as error:
        raise CannotRead(f"the box file can't be changed: {shown(str(error), 200)}") from None


def _require_settable(name: str) -> None:
    """Raise CannotRead for a name that no single value of a box file has."""
    path = tuple(name.split("."))
    for length in range(1, len(path) + 1):
        model = model_at(path[: length - 1])
        if model is None:
            raise CannotRead(f"{shown(name)}: {spelled(path[: length - 1])} holds a value, not a section")
        if path[length - 1] not in model.model_fields:
            unknown = unknown_key(path[:length], is_section=length < len(path))
            raise CannotRead(f"{spelled(path[:length])}: {unknown}")
        if get_args(model.model_fields[path[length - 1]].annotation)[1:] == (...,):
            raise CannotRead(f"{shown(name)}: holds a list; change it in the file")
    if model_at(path) is not None:
        raise CannotRead(f"{shown(name)}: is a section; name one of its keys, as in {spelled(path)}.key")


def _put(document: Any, path: list[str], value: str | float) -> None:
    """Write one value into a document of tomlkit, making the sections on the way to it."""
    table = document
    for key in path[:-1]:
        if key not in table:
            table[key] = tomlkit.table()
        table = table[key]
        if not isinstance(table, dict):
            raise CannotRead(f"{'.'.join(path)}: in the file {key} is {named(table)}, not a section")
    table[path[-1]] = value


def _settle(document: Any, path: list[str]) -> None:
    """Move the last key of a section up to the other keys: a comment between stands over the next section."""
    table = document
    for key in path[:-1]:
        table = table[key]
    if not isinstance(table, Table):
        return
    body = table.value.body
    keyed = [(index, key.key) for index, (key, item) in enumerate(body) if key and not isinstance(item, Table)]
    if len(keyed) > 1 and keyed[-1][1] == path[-1]:
        body.insert(keyed[-2][0] + 1, body.pop(keyed[-1][0]))


def value_at(text: str, name: str) -> str | float:
    """Return the value of one key, named `section.key`, as it stands in a text that `read` takes."""
    value: Any = tomllib.loads(text)
    for key in name.split("."):
        value = value[key]
    found: str | float = value
    return found


def without_section(text: str, name: str) -> str:
    """Return the text without one section, its comments included."""
    document = tomlkit.parse(text)
    document.remove(name)
    return tomlkit.dumps(document)
