"""The box file, read and checked. Nothing here knows about the box.

A box file is TOML: tomllib reads it and pydantic holds it against the models of `sections`.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from jigs.base.errors import CannotBuild, CannotRead, JigleafError
from jigs.base.kinds import OutOfLimitsError, named
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import Section, keys_of
from jigs.base.wording import near, shown
from jigs.boxfile import jig_file
from jigs.boxfile.decoding import MOST_FAULTS, decoded, text_at
from jigs.boxfile.lines import KeyPath, line_numbers, paths_in, spelled
from jigs.boxfile.sections import BoxFile, fractions_read, remember
from jigs.record import Record, replace

BOX_FILE = TypeAdapter(BoxFile)
"""The box file as pydantic holds a text against it: each key by what its `Kind` reads."""


class Reading(Record):
    """What a value needs to know of the file it stands in."""

    units: Units
    source: str


def load(path: Path | str) -> BoxFile:
    """Return the box file at `path`. Raises as `read` does, and CannotRead for a path that holds no text."""
    return read(text_at(path), str(path))


def read(text: str, name: str) -> BoxFile:
    """Return the box file that a text holds; `name` is what messages call it.

    Raises CannotRead with a line for each fault where it can't be read, CannotBuild with a problem for each value
    that is out of its limits where that is all that is wrong.
    """
    return of_data(decoded(text, name), text, name)


def of_data(data: Mapping[str, Any], text: str, name: str) -> BoxFile:
    """Return the box file of a text that was decoded already. Raises as `read` does."""
    if jig_file.is_one(data):
        raise CannotRead(
            f"{name} is a jig file, not a box file: 'jigleaf draw' draws its jig; 'jigleaf start' writes a box file"
        )
    reading = Reading("in" if data.get("units") == "in" else "mm", text)
    try:
        file = BOX_FILE.validate_python(data, context=reading)
    except ValidationError as error:
        raise _refusal(error, reading, name) from None
    return remember(file, text, name, given(data), tuple(fractions_read(data, file.climate)))


def given(data: Mapping[str, Any]) -> frozenset[str]:
    """Return the keys that stand in a file, each as `section.key`."""
    return frozenset(".".join(map(str, path)) for path in paths_in(data))


# -- saying what is wrong ------------------------------------------------------------------------------------------


class _Fault(Record):
    """One thing wrong with a file: what can't be read, in words, or a value that is out of its limits."""

    where: str
    wrong: str | Problem
    line: int | None

    def as_line(self, name: str, units: Units) -> str:
        """Return the fault as a line of a message."""
        place = name if self.line is None else f"{name}, line {self.line}"
        if isinstance(self.wrong, str):
            return f"{place}: {self.where}: {self.wrong}"
        return f"{place}: {self.where}: {self.wrong.sentences(units)}"


def _refusal(error: ValidationError, reading: Reading, name: str) -> JigleafError:
    """Return the error that says all that is wrong with a file, in the order of its lines."""
    details = error.errors(include_url=False)
    lines = line_numbers(reading.source)
    faults = [_fault(detail, lines) for detail in details[:MOST_FAULTS]]
    faults.sort(key=lambda fault: fault.line or 0)
    problems = [_placed(fault) for fault in faults if isinstance(fault.wrong, Problem)]
    refusal: JigleafError
    if len(problems) == len(details):
        refusal = CannotBuild(problems)
    else:
        said = [fault.as_line(name, reading.units) for fault in faults]
        more = len(details) - len(faults)
        refusal = CannotRead("\n".join([*said, f"{name}: and {more} more"] if more else said))
    refusal.units = reading.units
    return refusal


def _placed(fault: _Fault) -> Problem:
    """Return the problem of a fault, with where it is."""
    assert isinstance(fault.wrong, Problem)
    problem = replace(fault.wrong, where=fault.where)
    if fault.line is None:
        return problem
    return replace(problem, rule=problem.rule + " (line {line})", numbers={**problem.numbers, "line": fault.line})


def _fault(detail: Any, lines: Mapping[KeyPath, int]) -> _Fault:
    """Return one of pydantic's errors as a fault."""
    path: KeyPath = detail["loc"]
    known = next((path[:length] for length in range(len(path), 0, -1) if path[:length] in lines), None)
    return _Fault(spelled(path), _wrong(detail, path), lines[known] if known else None)


def _wrong(detail: Any, path: KeyPath) -> str | Problem:
    """Return what is wrong, put into the words of the trade."""
    match detail["type"]:
        case "value_error":
            cause = detail["ctx"]["error"]
            return cause.problem if isinstance(cause, OutOfLimitsError) else str(cause)
        case "unexpected_keyword_argument":
            return unknown_key(path, is_section=len(path) == 1 and isinstance(detail["input"], dict | list))
        case "missing":
            return _missing(path)
        case "tuple_type":
            return f"must be a list, not {named(detail['input'])}"
        case _:
            assert detail["type"] == "dataclass_type", detail["type"]
            return f"must be a section with keys, not {named(detail['input'])}"


def unknown_key(path: KeyPath, *, is_section: bool) -> str:
    """Return what to say of a key that no box file has: the nearest that there is, or where it belongs."""
    model = model_at(path[:-1])
    assert model is not None
    key = str(path[-1])
    sections = keys_of(BoxFile)
    elsewhere = [f"in [{name}]" for name in sections if (inner := model_at((name,))) and key in keys_of(inner)]
    if key in sections:
        elsewhere.append("at the top of the file")
    if len(elsewhere) == 1 or (elsewhere and len(path) == 1):
        suggestion = "it belongs " + " or ".join(elsewhere)
    else:
        suggestion = near(shown(key), list(keys_of(model)), most=12)
    return f"unknown {'section' if is_section else 'key'}; {suggestion}"


def _missing(path: KeyPath) -> str:
    """Return what to say of a key or section that must be there."""
    if (inner := model_at(path)) is not None:
        needed = [key.name for key in keys_of(inner).values() if key.required]
        return f"this section is missing; it needs {_listed(needed)}"
    model = model_at(path[:-1])
    assert model is not None
    section = spelled(tuple(key for key in path[:-1] if isinstance(key, str)))
    return f"missing; [{section}] needs it ({keys_of(model)[str(path[-1])].help})"


def model_at(path: KeyPath) -> type[Section] | None:
    """Return the section at a path, or None where there is a value or nothing."""
    model: type[Section] = BoxFile
    for key in path:
        if isinstance(key, int):  # which of a list makes no difference
            continue
        inner = keys_of(model)[key].section if key in keys_of(model) else None
        if inner is None:
            return None
        model = inner
    return model


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
