"""The jig file: the settings of a single jig as TOML, as its sheets carry them and `reopen` gives them back.

    jig = "sled"
    units = "mm"

    [settings]
    finger = 10

What was left to the usual sizes stands under [defaults], so that another version, whose usual sizes may be others,
draws the same sheets. A file with a key `jig` is a jig file, any other TOML is a box file.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from typing import Any, get_args

from jigs.base import catalogue
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.kinds import Choice, Count, Kind, Number, Value, named
from jigs.base.lengths import Units
from jigs.base.settings import Setting
from jigs.base.wording import near, shown
from jigs.boxfile.decoding import MOST_FAULTS, decoded
from jigs.boxfile.lines import KeyPath, line_numbers, spelled
from jigs.record import Record, field, replace

_UNITS = Choice("what a bare number means: mm or in", get_args(Units))
_TABLES = ("settings", "defaults")
_KEYS = ("jig", "units", *_TABLES)
_WIDTH = 26
"""Columns before a comment behind a key, as in a new box file."""
_LONGEST_CHOICE = 40
"""Letters of the words that a comment names."""


class JigSettings(Record):
    """The settings of a jig as they were given, lengths in mm, with the defaults that filled in the rest.

    Those that are not there are today's.
    """

    jig: str
    units: Units
    given: Mapping[str, Value]
    defaults: Mapping[str, Value] = field(default_factory=dict)

    def chosen(self, jig: catalogue.Jig) -> dict[str, Value]:
        """Return what to give the jig of today to get the jig of then, whatever its defaults are by now.

        Raises CannotRead for settings that the jig has no more, and for values of another kind than theirs.
        """
        known = {parameter.name: parameter for parameter in jig.parameters}
        everything = dict(self.defaults) | dict(self.given)
        if unknown := sorted(set(everything) - set(known)):
            raise CannotRead(f"these are settings that {jig.name} has no more: {', '.join(unknown)}")
        if wrong := [name for name, value in everything.items() if not known[name].is_kind_of(value)]:
            raise CannotRead(f"{jig.name}: {known[wrong[0]].spoken} can't be {everything[wrong[0]]!r}")
        now = {name: parameter.default_in(self.units) for name, parameter in known.items()}
        chosen = {name: value for name, value in self.defaults.items() if value != now[name]} | dict(self.given)
        return {name: float(value) if value and _is_measure(known[name]) else value for name, value in chosen.items()}


def _is_measure(setting: Setting) -> bool:
    return isinstance(setting.kind, Number) and not isinstance(setting.kind, Count)


# -- writing -------------------------------------------------------------------------------------------------------


def text(settings: JigSettings) -> str:
    """Return the jig file of some settings: each with what it is, a length in the units of the file."""
    jig = catalogue.find(settings.jig)
    title = jig.title[:1].lower() + jig.title[1:]
    rows = [
        f"# A jig file: {title}. To draw it: jigleaf draw {jig.name}.toml",
        f'jig = "{jig.name}"',
        f'units = "{settings.units}"',
        "",
        "[settings]",
        *_rows(jig, settings.given, settings.units),
    ]
    if usual := list(_rows(jig, settings.defaults, settings.units)):
        rows += ["", "# The usual values, as the sheets had them. Change any of them here.", "[defaults]", *usual]
    return "\n".join(rows) + "\n"


def _rows(jig: catalogue.Jig, values: Mapping[str, Value], units: Units) -> Iterator[str]:
    """Yield a line for each setting, in the order of the jig."""
    for parameter in jig.parameters:
        if (value := values.get(parameter.name)) is not None:
            line = f"{parameter.name} = {_literal(parameter.kind.written(value, units))}"
            yield f"{line:{_WIDTH}}  # {_about(parameter.kind)}"


def _about(kind: Kind) -> str:
    """Return what a setting is, with the words it may have where they are few."""
    words = " or ".join(kind.options) if isinstance(kind, Choice) else ""
    return f"{kind.help}: {words}" if 0 < len(words) <= _LONGEST_CHOICE else kind.help


def _literal(value: Value) -> str:
    """Return a value as TOML writes it. Text and numbers are written as in JSON, which TOML reads alike."""
    return json.dumps(value, ensure_ascii=False)


# -- editing -------------------------------------------------------------------------------------------------------


def edited(settings: JigSettings, typed: Mapping[str, str]) -> JigSettings:
    """Return settings with what was typed for some of them, as a form has it; nothing typed leaves one to its default.

    Raises CannotRead for a setting that there is not, for words that can't be read, and for nothing where the jig needs
    something; CannotBuild for a value out of its limits. What it says begins with the setting.
    """
    jig = catalogue.find(settings.jig)
    known = {parameter.name: parameter for parameter in jig.parameters}
    given = settings.chosen(jig)
    for name, words in typed.items():
        if name not in known:
            raise CannotRead(f"{shown(name)}: there is no such setting; {near(shown(name), list(known))}")
        value = _typed(known[name], words, settings.units)
        given.pop(name, None)
        if value is not None and value is not False:
            given[name] = value
    return replace(settings, given=given, defaults={})


def _typed(setting: Setting, words: str, units: Units) -> Value:
    if not words.strip():
        if setting.required:
            raise CannotRead(f"{setting.name}: the jig can't be worked out without it")
        return None
    try:
        value = setting.kind.parsed(words, units)
    except ValueError as error:
        raise CannotRead(f"{setting.name}: {error}") from None
    if problem := setting.problem(value, units):
        raise CannotBuild([replace(problem, where=setting.name)])
    return value


# -- reading -------------------------------------------------------------------------------------------------------


def is_one(data: Mapping[str, Any]) -> bool:
    """Tell by its look whether TOML is a jig file."""
    return "jig" in data


def read(text: str, name: str) -> JigSettings:
    """Return the settings that a jig file holds; `name` is what messages call it.

    Raises CannotRead, with a line for each fault, where it can't be read. Limits are the jig's own to tell.
    """
    return of_data(decoded(text, name, "a jig file"), text, name)


def of_data(data: Mapping[str, Any], text: str, name: str) -> JigSettings:
    """Return the settings of a jig file that was decoded already. Raises as `read` does."""
    jig, units = _head(data, text, name)
    known = {parameter.name: parameter for parameter in jig.parameters}
    faults: list[_Fault] = [((key,), _unknown_key(key, known)) for key in data if key not in _KEYS]
    given, defaults = (_values(data.get(table, {}), table, known, units, faults) for table in _TABLES)
    if not faults and (missing := [one for one in jig.parameters if one.required and one.name not in given]):
        needed = ", ".join(f"{one.name} ({one.kind.help})" for one in missing)
        faults.append((("settings",), f"{jig.name} needs {needed}"))
    if faults:
        raise _refusal(faults, text, name)
    return JigSettings(jig.name, units, given, defaults)


_Fault = tuple[KeyPath, str]
"""Where something is wrong in a file, and what."""


def _values(
    held: object, table: str, known: Mapping[str, Setting], units: Units, faults: list[_Fault]
) -> dict[str, Value]:
    """Return the settings in a table of a file; what is wrong with them goes to `faults`."""
    if not isinstance(held, dict):
        faults.append(((table,), f"must be a section with keys, not {named(held)}"))
        return {}
    read: dict[str, Value] = {}
    for key, value in held.items():
        try:
            if key not in known:
                raise ValueError(f"unknown key; {near(shown(key), list(known))}")
            read[key] = known[key].kind.parsed(value, units)
        except ValueError as error:
            faults.append(((table, key), str(error)))
    return read


def _head(data: Mapping[str, Any], text: str, name: str) -> tuple[catalogue.Jig, Units]:
    """Return the jig and the units of a file: without them nothing else can be read."""
    if not isinstance(data.get("jig"), str):
        wrong = f"not {named(data['jig'])}" if "jig" in data else "and is missing"
        raise _refusal([(("jig",), f"must be the name of a jig in quotes, {wrong}")], text, name)
    try:
        units: Any = _UNITS.parsed(data.get("units", "mm"), "mm")
    except ValueError as error:
        raise _refusal([(("units",), str(error))], text, name) from None
    try:
        return catalogue.find(shown(data["jig"])), units
    except CannotRead as error:
        raise _refusal([(("jig",), str(error))], text, name) from None


def _unknown_key(key: str, known: Iterable[str]) -> str:
    return "unknown key; " + ("it belongs in [settings]" if key in known else near(shown(key), list(_KEYS)))


def _refusal(faults: list[_Fault], text: str, name: str) -> CannotRead:
    """Return the error that says what is wrong with a file, in the order of its lines."""
    lines = line_numbers(text)
    placed = sorted(((lines.get(path, 0), path, wrong) for path, wrong in faults), key=lambda fault: fault[0])
    said = [
        f"{name}{f', line {line}' if line else ''}: {spelled(path)}: {wrong}"
        for line, path, wrong in placed[:MOST_FAULTS]
    ]
    more = len(faults) - len(said)
    return CannotRead("\n".join([*said, f"{name}: and {more} more"] if more else said))
