"""A file that was dropped or chosen: a sheet, a box file or a drawing. It comes from anywhere, and is read so."""

from __future__ import annotations

from pathlib import PurePath

from jigs.base.errors import CannotRead, JigleafError
from jigs.base.lengths import show
from jigs.boxfile import edit
from jigs.boxfile.jig_file import JigSettings
from jigs.boxfile.sections import BoxFile
from layout import make
from layout.bench.state import State
from layout.carry import embedded

_WIDTH = 60.0
"""How wide a drawing is carved that says nothing of it, mm; the maker then sets it."""


def open_into(state: State, name: str, content: bytes) -> str:
    """Take what a file holds as the box, or a drawing as its pattern; return what was done, in words.

    It can be undone like any change, and nothing is saved. Raises CannotRead and CannotBuild for what can't be used.
    """
    name = PurePath(name).name[:80] or "the file"
    if content.lstrip()[:5].lower() in (b"<svg ", b"<?xml", b"<!doc") and not _is_sheet(content, name):
        return _as_pattern(state, name, content)
    job = _job(content, name)
    if isinstance(job, JigSettings):
        raise CannotRead(f"{name} is of a single jig, the {job.jig}; open it under Jigs")
    state.make(lambda _: make.box(job.source, state.kept.name))
    return f"Opened {name}. Your file is as it was until you save."


def _is_sheet(content: bytes, name: str) -> bool:
    try:
        make.reopen(content, name)
    except JigleafError as error:
        return "damaged" in str(error)
    return True


def _job(content: bytes, name: str) -> make.Job:
    if content.lstrip().startswith((b"%PDF", b"<svg", b"<?xml")):
        return make.job_of(embedded.read(content, name), name)
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError:
        raise CannotRead(f"{name} is no sheet and no box file: it is not text") from None
    return make.job(text, name)


def _as_pattern(state: State, name: str, content: bytes) -> str:
    """Take a drawing as the pattern of the box, in place of its shell."""
    left_out = ""

    def with_it(file: BoxFile) -> BoxFile:
        nonlocal left_out
        if file.shell:
            file = edit.without_part(file, "shell")
        width = None if file.pattern else _WIDTH
        made, left_out = make.with_pattern(file, content, name, width)
        return made

    state.make(with_it)
    wide = state.file.pattern.width if state.file.pattern else _WIDTH
    said = f"{name} is now the pattern, {show(wide, state.file.units)} wide. Set it under Shell."
    return f"{said} {left_out}".strip()
