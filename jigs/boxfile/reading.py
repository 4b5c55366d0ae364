"""The box file, read and checked. Nothing here knows about the box.

A box file is TOML: tomllib reads it and pydantic holds it against the models of `sections`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from pydantic import TypeAdapter, ValidationError

from jigs.base import disk
from jigs.base.errors import CannotBuild, CannotRead, JigleafError
from jigs.base.kinds import OutOfLimitsError, named
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import Section, keys_of
from jigs.base.wording import near, shown
from jigs.boxfile.lines import KeyPath, line_numbers, paths_in
from jigs.boxfile.sections import BoxFile, fractions_read, remember

MOST_BYTES = 1_000_000
"""A larger file is no box file."""
_MOST_LINES, _LONGEST_LINE = 5000, 2000  # lines, characters; a box file with every key has a hundred short lines
_MOST_DOTS = 100  # on a line; what tomllib takes for a dotted key grows with the square of its parts
_MOST_SQUARES = 1_000_000  # of the dots of each line, in all
_MOST_FAULTS = 50  # a file with more was not meant as a box file


BOX_FILE = TypeAdapter(BoxFile)
"""The box file as pydantic holds a text against it: each key by what its `Kind` reads."""


@dataclass(frozen=True, slots=True)
class Reading:
    """What a value needs to know of the file it stands in."""

    units: Units
    source: str


def load(path: Path | str) -> BoxFile:
    """Return the box file at `path`. Raises as `read` does, and CannotRead for a path that holds no text."""
    content = disk.content(path, MOST_BYTES, "a box file")
    if len(content) > MOST_BYTES:
        raise CannotRead(f"{path} has more than {MOST_BYTES // 1_000_000} MB; a box file has a few kB")
    if content.lstrip().startswith((b"%PDF", b"<svg", b"<?xml")):
        raise CannotRead(f"{path} is a sheet, not a box file; 'jigleaf reopen' gives back what a sheet was made from")
    if content.lstrip().startswith(b"{"):
        raise CannotRead(f"{path} holds the settings of a jig, not a box; 'jigleaf start' writes a box file")
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise CannotRead(f"{path}, line {line}: not UTF-8 text; save the file as UTF-8") from None
    return read(text, str(path))


def read(text: str, name: str) -> BoxFile:
    """Return the box file that a text holds; `name` is what messages call it.

    Raises CannotRead with a line for each fault where it can't be read, CannotBuild with a problem for each value
    that is out of its limits where that is all that is wrong.
    """
    data = decoded(text, name)
    reading = Reading("in" if data.get("units") == "in" else "mm", text)
    try:
        file = BOX_FILE.validate_python(data, context=reading)
    except ValidationError as error:
        raise _refusal(error, reading, name) from None
    return remember(file, text, name, given(data), tuple(fractions_read(data, file.climate)))


def given(data: Mapping[str, Any]) -> frozenset[str]:
    """Return the keys that stand in a file, each as `section.key`."""
    return frozenset(".".join(map(str, path)) for path in paths_in(data))


def decoded(text: str, name: str) -> dict[str, Any]:
    """Return the text as TOML. Raises CannotRead, with the line, where it is none."""
    text = text.removeprefix("\ufeff")
    require_modest(text, name, "a box file", _MOST_LINES)
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise CannotRead(f"{name}: lists or tables are nested too deep") from None
    except ValueError as error:
        raise CannotRead(_syntax_fault(text, name, str(error))) from None


def require_modest(text: str, name: str, what: str, most_lines: int) -> None:
    """Raise CannotRead for TOML that is so large that it is not what it should be, and would take long to read."""
    if len(text) > MOST_BYTES:
        raise CannotRead(f"{name} has more than {MOST_BYTES // 1_000_000} MB; {what} has a few kB")
    lines = text.split("\n")
    if len(lines) > most_lines:
        raise CannotRead(f"{name} has {len(lines)} lines, where {what} may have {most_lines}")
    if sum(line.count(".") ** 2 for line in lines if not line.lstrip().startswith("#")) > _MOST_SQUARES:
        raise CannotRead(f"{name} has far more dots in its lines than {what} may have")
    for number, line in enumerate(lines, 1):
        if len(line) > _LONGEST_LINE:
            raise CannotRead(
                f"{name}, line {number}: has {len(line)} characters, where a line may have {_LONGEST_LINE}"
            )
        if line.count(".") > _MOST_DOTS and not line.lstrip().startswith("#"):
            raise CannotRead(f"{name}, line {number}: has {line.count('.')} dots, where a line may have {_MOST_DOTS}")


_PLAINER = {
    "Invalid value": "this is neither a number nor text in quotes",
    "Expected newline or end of document after a statement": "this is neither a number nor text in quotes",
    "Cannot overwrite a value": "this key stands twice",
    r"Illegal character '\n'": "the closing quote is missing",
}
"""What tomllib says, in words for those who never heard of TOML."""


def _syntax_fault(text: str, name: str, said: str) -> str:
    """Return where the text is no TOML and why, with what was probably meant."""
    rule, _, place = said.partition(" (at ")
    rule = re.sub(r"^Cannot declare \('(.*)',\) twice$", r"the section [\1] stands twice", _PLAINER.get(rule, rule))
    found = re.match(r"line (\d+), column (\d+)", place)
    lines = text.split("\n")
    line, column = (int(found[1]), int(found[2])) if found else (len(lines), len(lines[-1]) + 1)
    hint = ""
    if rule == _PLAINER["Invalid value"]:
        if bare := re.fullmatch(r"\s*([\w.-]+)\s*=\s*([^\"'#\[{]+?)\s*(?:#.*)?", lines[line - 1]):
            hint = f'; write {bare[1]} = "{bare[2]}"' if bare[2].isprintable() else ""
        elif inches := re.fullmatch(r'\s*([\w.-]+)\s*=\s*"([^"]+)""\s*(?:#.*)?', lines[line - 1]):
            hint = f"; write {inches[1]} = '{inches[2]}\"'"
    return f"{name}, line {line}, column {column}: {rule[:1].lower()}{shown(rule[1:], 200)}{shown(hint, 100)}"


# -- saying what is wrong ------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Fault:
    """One thing wrong with a file: what can't be read, in words, or a value that is out of its limits."""

    where: str
    wrong: str | Problem
    line: int | None

    def as_line(self, name: str, units: Units) -> str:
        """Return the fault as a line of a message."""
        place = name if self.line is None else f"{name}, line {self.line}"
        if isinstance(self.wrong, str):
            return f"{place}: {self.where}: {self.wrong}"
        return f"{place}: {self.where}: {self.wrong.says(units)}; {self.wrong.suggests(units)}"


def _refusal(error: ValidationError, reading: Reading, name: str) -> JigleafError:
    """Return the error that says all that is wrong with a file, in the order of its lines."""
    details = error.errors(include_url=False)
    lines = line_numbers(reading.source)
    faults = [_fault(detail, lines) for detail in details[:_MOST_FAULTS]]
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


def spelled(path: KeyPath) -> str:
    """Return a path as a person writes it: `stock.boards[2].length`, counted from 1."""
    words = [f"[{key + 1}]" if isinstance(key, int) else f".{shown(key)}" for key in path]
    return "".join(words).removeprefix(".")


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)
