"""TOML as it comes in from anywhere: read within limits, and refused with the line where it is none."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path
from typing import Any

from jigs.base import disk
from jigs.base.errors import CannotRead
from jigs.base.wording import shown

MOST_BYTES = 1_000_000
"""A larger file is no box file."""
MOST_FAULTS = 50
"""No more faults of a file are named: one with more was not meant as one of ours."""
_MOST_LINES, _LONGEST_LINE = 5000, 2000  # lines, characters; a box file with every key has a hundred short lines
_MOST_DOTS = 100  # on a line; what tomllib takes for a dotted key grows with the square of its parts
_MOST_SQUARES = 1_000_000  # of the dots of each line, in all


def text_at(path: Path | str) -> str:
    """Return the text of a box file or a jig file. Raises CannotRead for a path that holds none, and for a sheet."""
    content = disk.content(path, MOST_BYTES, "a box file or a jig file")
    if len(content) > MOST_BYTES:
        raise CannotRead(f"{path} has more than {MOST_BYTES // 1_000_000} MB; a box file or a jig file has a few kB")
    if content.lstrip().startswith((b"%PDF", b"<svg", b"<?xml")):
        raise CannotRead(f"{path} is a sheet, not a box file; 'jigleaf reopen' gives back what a sheet was made from")
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise CannotRead(f"{path}, line {line}: not UTF-8 text; save the file as UTF-8") from None


def decoded(text: str, name: str, what: str = "a box file") -> dict[str, Any]:
    """Return the text as TOML. Raises CannotRead, with the line, where it is none; `what` is what it should be."""
    text = text.removeprefix("\ufeff")
    require_modest(text, name, what, _MOST_LINES)
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
