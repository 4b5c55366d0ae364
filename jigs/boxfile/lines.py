"""Where a key stands in a text: the line of each key of a TOML file."""

from __future__ import annotations

import tomllib
from collections import Counter
from collections.abc import Iterator
from typing import Any

from jigs.base.wording import shown

_DEEPEST = 4  # stock.boards[1].length
_SEARCH = 3_000_000  # characters parsed in search of line numbers before it is given up: under two seconds


KeyPath = tuple[str | int, ...]


# -- where a key stands --------------------------------------------------------------------------------------------


def line_numbers(text: str) -> dict[KeyPath, int]:
    """Return the line on which each key and section of valid TOML first stands.

    A key in a list or table that goes over several lines has the line on which that begins.
    """
    found: dict[KeyPath, int] = {}
    header: KeyPath = ()
    members: Counter[KeyPath] = Counter()
    for line, statement, data in _statements(text):
        paths = list(paths_in(data))
        if statement.startswith("["):
            header = paths[-1]
            if statement.startswith("[["):
                members[header[:-1]] += 1
                header = (*header[:-1], members[header[:-1]] - 1)
            paths = [header[:length] for length in range(1, len(header) + 1)]
        else:
            paths = [header + path for path in paths]
        for path in paths:
            found.setdefault(path, line)
    return found


def _statements(text: str) -> Iterator[tuple[int, str, dict[str, Any]]]:
    """Split valid TOML into its statements, each with its first line and what it says by itself.

    A line break inside a statement stands in a string or list that is still open, and an open one is no TOML. So a
    statement ends with the first line that makes it TOML by itself. Lines of comment and blank lines are left out.
    """
    lines: list[str] = []
    effort = 0
    for number, line in enumerate(text.removeprefix("\ufeff").replace("\r\n", "\n").split("\n"), 1):
        lines.append(line)
        statement = "\n".join(lines)
        effort += len(statement) + 20
        if effort > _SEARCH:
            return
        try:
            data = tomllib.loads(statement)
        except ValueError:
            continue
        if data:
            yield number - len(lines) + 1, statement.lstrip(), data
        lines = []


def paths_in(data: Any, depth: int = _DEEPEST) -> Iterator[KeyPath]:
    """Find every key of nested tables and lists, outer before inner."""
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in pairs:
        yield (key,)
        if depth > 1:
            for path in paths_in(value, depth - 1):
                yield key, *path


def spelled(path: KeyPath) -> str:
    """Return a path as a person writes it: `stock.boards[2].length`, counted from 1."""
    words = [f"[{key + 1}]" if isinstance(key, int) else f".{shown(key)}" for key in path]
    return "".join(words).removeprefix(".")
