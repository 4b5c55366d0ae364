"""A box file with other values: a key is changed, a section left out, and the maker's comments stay.

Another finger needs a cutter that was measured for it.
"""

from __future__ import annotations

import re
from collections.abc import Container, Mapping, Sequence
from typing import TYPE_CHECKING, Any

from jigs.base import written
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.kinds import Kind, Length, Number, Value, named
from jigs.base.lazily import lazily
from jigs.base.rules import Problem, note, stop
from jigs.base.settings import Section, keys_of
from jigs.base.wording import shown
from jigs.boxfile import reading
from jigs.boxfile.decoding import decoded
from jigs.boxfile.lines import spelled
from jigs.boxfile.reading import model_at, unknown_key
from jigs.boxfile.sections import BoxFile, remember
from jigs.record import replace
from jigs.trade.passes import one_pass_will_do

with lazily():  # only a text that is changed needs it
    import tomlkit

if TYPE_CHECKING:
    import tomlkit.exceptions
    import tomlkit.items

_SAME = 0.05
"""A cutter is listed for a finger when it is listed for one that differs by no more than this, mm."""


def box_with(text: str, values: Mapping[str, str], name: str) -> BoxFile:
    """Return a box file with other values for some keys, as `set_values` takes them.

    A value with + before it is more than it was by so much, one with − less, where no value of its key is under 0.
    Where another finger is asked for and no cutter, the cutter is the one that the file lists for that finger. Raises
    as `set_values` and `reading.read` do, and CannotBuild where no cutter is known for the finger.
    """
    if any(_BY_SO_MUCH.match(value) for value in values.values()):
        file = reading.read(text, name)
        values = {key: more_or_less(file, key, value) for key, value in values.items()}
    return with_its_cutter(text, set_values(text, values) if values else text, values, name)


def with_its_cutter(text: str, changed: str, values: Container[str], name: str) -> BoxFile:
    """Return the box file of a changed text: with another finger and no cutter among the changes, the cutter for it.

    Raises as `reading.read` does, and CannotBuild where no cutter is known for the finger.
    """
    read = reading.read(changed, name)
    if "joint.finger" not in values or "joint.cutter" in values:
        return read
    finger, cutter = read.joint.finger, cutter_for(reading.read(text, name), read.joint.finger)
    if cutter is None:
        known = sorted(entry.finger for entry in read.cutters)
        raise CannotBuild([_no_cutter("joint.cutter", finger, read.joint.cutter, known)])
    if cutter == read.joint.cutter:
        return read
    return reading.read(set_values(changed, {"joint.cutter": written.for_file(cutter, read.units)}), name)


def more_or_less(file: BoxFile, key: str, value: str) -> str:
    """Return one value as it is to be written: with + or − before it more or less than the file has, else as it is.

    What is no number stays as it is. Raises CannotRead where the file has no value to start from, or no number follows.
    """
    found, kind = _BY_SO_MUCH.match(value), _kind_at(key)
    if found is None or not isinstance(kind, Number) or (found["sign"] != "+" and kind.least < 0):
        return value
    was = file
    for part in key.split("."):
        was = getattr(was, part, None)  # type: ignore[assignment]  # a section, then a value
    if not isinstance(was, int | float):
        raise CannotRead(f"{key}: the file gives no value to add {shown(found['by'])} to; write the new value")
    try:
        by = kind.parsed(found["by"], file.units)
    except ValueError as error:
        raise CannotRead(f"{key}: {error}") from None
    now = was + float(by) * (1 if found["sign"] == "+" else -1)
    return f"{now!r} mm" if isinstance(kind, Length) else f"{now:g}"


_BY_SO_MUCH = re.compile(r"\s*(?P<sign>[+−-])\s*(?P<by>\S.*)")


def _kind_at(key: str) -> Kind | None:
    """Return the kind of one key of a box file, named `section.key`; None where there is none."""
    *path, last = key.split(".")
    model = model_at(tuple(path))
    found = keys_of(model).get(last) if model else None
    return found.kind if found else None


def cutter_for(file: BoxFile, finger: float) -> float | None:
    """Return the cutter for a finger, mm: the nearest one listed for it, or the file's own.

    The file's own does where it makes the finger in one pass, or one as wide in several. None where neither is known:
    nobody's finger should end in a guess.
    """
    listed = [entry for entry in file.cutters if abs(entry.finger - finger) <= _SAME]
    if listed:
        return min(listed, key=lambda entry: abs(entry.finger - finger)).cutter
    own = abs(finger - file.joint.finger) <= _SAME or one_pass_will_do(finger, file.joint.cutter)
    return file.joint.cutter if own else None


def cutter_taken(before: BoxFile, after: BoxFile, values: Mapping[str, str]) -> list[Problem]:
    """Return a note of the cutter that `box_with` took from the list in the file, where it took one."""
    if "joint.cutter" in values or after.joint.cutter == before.joint.cutter:
        return []
    said = "the cutter of {cutter} is taken, which the file lists for a finger of {finger}"
    numbers = {"cutter": after.joint.cutter, "finger": after.joint.finger}
    return [note("joint.cutter", said, "for another one add --set joint.cutter=…", **numbers)]


def jig_with(chosen: Mapping[str, Value], values: Mapping[str, Value]) -> dict[str, Value]:
    """Return the settings of a jig with other values for some.

    Raises CannotBuild where no cutter is known for another finger.
    """
    settings = dict(chosen) | dict(values)
    finger, cutter = settings.get("finger"), settings.get("cutter")
    if "finger" not in values or "cutter" in values or not isinstance(finger, float) or not isinstance(cutter, float):
        return settings
    if finger > 0 and not one_pass_will_do(finger, cutter):  # a finger out of its limits is refused for that
        raise CannotBuild([_no_cutter("cutter", finger, cutter)])
    return settings


def _no_cutter(where: str, finger: float, cutter: float, known: list[float] | None = None) -> Problem:
    numbers: dict[str, object] = {"finger": finger, "cutter": cutter}
    suggestion = f"measure the cutter for it in wood, and give both: {where} too"
    if known is not None:
        suggestion += ", or list it in the file under [[cutters]]"
    if known:
        fields = [f"{{known_{i}}}" for i in range(len(known))]
        numbers |= {f"known_{i}": width for i, width in enumerate(known)}
        suggestion += f"; those listed are for {', '.join(fields)}"
    return stop(
        where,
        "the cutter makes a socket of {cutter}, and the finger is to be {finger}; no other cutter is known",
        suggestion,
        **numbers,
    )


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
    except (tomlkit.exceptions.TOMLKitError, RecursionError) as error:
        raise CannotRead(f"the box file can't be changed: {shown(str(error), 200)}") from None


def _require_settable(name: str) -> None:
    """Raise CannotRead for a name that no single value of a box file has."""
    path = tuple(name.split("."))
    for length in range(1, len(path) + 1):
        model = model_at(path[: length - 1])
        if model is None:
            raise CannotRead(f"{shown(name)}: {spelled(path[: length - 1])} holds a value, not a section")
        key = keys_of(model).get(path[length - 1])
        if key is None:
            unknown = unknown_key(path[:length], is_section=length < len(path))
            raise CannotRead(f"{spelled(path[:length])}: {unknown}")
        if key.many:
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
    if not isinstance(table, tomlkit.items.Table):
        return
    body = table.value.body
    keyed = [
        (index, key.key) for index, (key, item) in enumerate(body) if key and not isinstance(item, tomlkit.items.Table)
    ]
    if len(keyed) > 1 and keyed[-1][1] == path[-1]:
        body.insert(keyed[-2][0] + 1, body.pop(keyed[-1][0]))


def without_section(text: str, name: str) -> str:
    """Return the text without one section, its comments included."""
    document = tomlkit.parse(text)
    document.remove(name)
    return tomlkit.dumps(document)


# -- reading -------------------------------------------------------------------------------------------------------


def changed(file: BoxFile, changes: Mapping[str, float | int | str]) -> BoxFile | None:
    """Return a file with other values, by their keys (`joint.finger`), or None where a key can't hold its value.

    Lengths in mm. A section that the file does not have can't be changed.
    """
    made = file
    for key, value in changes.items():
        other = _with(made, key.split("."), value)
        if not isinstance(other, BoxFile):
            return None
        made = other
    return made


def _with(section: Section, path: Sequence[str], value: float | int | str) -> Section | None:
    """Return a section with another value at a path, or None where there is no such key, or it can't hold the value."""
    name, *inner = path
    key = keys_of(type(section)).get(name)
    if key is None:
        return None
    held: Section | float | int | str | None = value
    if inner:
        within = getattr(section, name)
        held = _with(within, inner, value) if isinstance(within, Section) else None
    elif isinstance(key.kind, Number) and (isinstance(value, str) or not key.kind.holds(value)):
        return None
    if held is None:
        return None
    made = replace(section, **{name: held})  # type: ignore[type-var]  # every section is a dataclass
    if isinstance(section, BoxFile) and isinstance(made, BoxFile):
        remember(made, section.source, section.name, section.given, section.notes)
    return made
