"""The section [pattern] of a box file: written for a drawing, alone or into a file whose comments stay."""

from __future__ import annotations

from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError

from jigs.base import lengths, outline
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.base.rules import stop
from jigs.base.settings import keys_of
from jigs.base.wording import shown
from jigs.boxfile.decoding import decoded
from jigs.boxfile.sections import BoxFile, PatternSection

_WIDTH = keys_of(PatternSection)["width"]


def require_width(width: float, units: Units) -> None:
    """Raise CannotBuild for a width, mm, that no pattern may have."""
    assert _WIDTH.kind, "width is a length"
    if problem := _WIDTH.kind.problem(width, "pattern.width", units):
        raise CannotBuild([problem])


def section(lines: str, width: float, units: Units, origin: str) -> str:
    """Return the section for an outline and a width in mm; `origin` says where it comes from.

    The width has its unit, for nobody knows yet in which units the file is.
    """
    document = tomlkit.document()
    document["pattern"] = _table(lines, lengths.show(width, units), origin)
    return tomlkit.dumps(document)


def into(file: BoxFile, lines: str, width: float | None, origin: str) -> str:
    """Return the text of a box file with a pattern of this outline, in place of the one that it has.

    Without a width, mm, that stays. Raises CannotBuild for a file with a shell, and CannotRead for one without a
    pattern where no width is given, or whose text can't be changed.
    """
    if file.shell:
        said = "the box has a carved shell, and a box has a shell or a pattern of its own, not both"
        raise CannotBuild([stop("pattern", said, "leave the section [shell] out of {file}", file=file.name)])
    if width is None and file.pattern is None:
        raise CannotRead("say how wide the pattern is to be, as in --width 60")
    mark = "\ufeff" if file.source.startswith("\ufeff") else ""
    text = file.source.removeprefix("\ufeff")
    decoded(text, file.name)
    written = None if width is None else _written(width, file.units)
    try:
        document: Any = tomlkit.parse(text.rstrip("\n") + "\n")
        if file.pattern is None:
            document.add(tomlkit.nl())
            document["pattern"] = _table(lines, written, origin)
        else:
            table = document["pattern"]
            table["outline"] = _in_quotes(lines)
            if written is not None:
                table["width"] = written
        return mark + tomlkit.dumps(document)
    except (TOMLKitError, RecursionError) as error:
        raise CannotRead(f"{file.name} can't be changed: {shown(str(error), 200)}") from None


def _written(width: float, units: Units) -> object:
    assert _WIDTH.kind, "width is a length"
    return _WIDTH.kind.written(width, units)


def _table(lines: str, width: object, origin: str) -> Any:
    table = tomlkit.table()
    table.comment(f"A pattern of your own, carved on a side: {shown(origin, 80)}")
    table["width"] = width
    table["width"].comment("its height follows")
    for item in (table, table["width"]):
        item.trivia.comment_ws = "  "
    table["outline"] = _in_quotes(lines)
    return table


def _in_quotes(lines: str) -> Any:
    return tomlkit.string(f"{outline.in_lines(lines)}\n", multiline=True)
