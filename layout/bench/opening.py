"""A file that was dropped or chosen: a sheet, a box file, a jig file or a drawing. It comes from anywhere."""

from __future__ import annotations

from pathlib import PurePath

from jigs.base.errors import CannotRead
from jigs.base.lengths import show
from jigs.boxfile import edit
from jigs.boxfile.jig_file import JigSettings
from jigs.boxfile.sections import BoxFile
from layout import make
from layout.bench.state import State
from layout.sheet.carried import NAMESPACE

_WIDTH = 60.0
"""How wide a drawing is carved that says nothing of it, mm; the maker then sets it."""
_BEFORE = b"\xef\xbb\xbf\xff\xfe \t\r\n\0"
"""Marks of the order of bytes, and blanks."""
_PICTURES = (b"\x89PNG", b"\xff\xd8\xff", b"GIF8", b"RIFF", b"II*\0", b"MM\0*", b"BM")
_PACKED = (b"PK\x03\x04", b"PK\x05\x06", b"\x1f\x8b", b"7z\xbc\xaf", b"Rar!", b"BZh", b"\xfd7zXZ")


def short(name: str) -> str:
    """Return the name of a file as messages have it: without its folders, cut short."""
    return PurePath(name.replace("\\", "/").replace("\0", "")).name[:80] or "the file"


def opened(state: State, name: str, content: bytes) -> str | JigSettings:
    """Take what a file holds as the box, or a drawing as its pattern; return what was done, in words.

    It can be undone like any change, and nothing is saved. The settings of a jig are returned, and nothing is changed.
    Raises CannotRead and CannotBuild for what can't be used.
    """
    _refuse_what_holds_nothing(content, name)
    start = content[:1024].lstrip(_BEFORE)
    if start.startswith(b"<") and NAMESPACE.encode() not in content:
        return _as_pattern(state, name, content)
    is_sheet = start.startswith(b"<") or b"%PDF-" in content[:1024]
    job = make.reopen(content, name) if is_sheet else make.job(_text(content, name), name)
    if isinstance(job, JigSettings):
        return job
    before = state.file.source
    state.make(lambda _: make.box(job.source, state.kept.name))
    if state.file.source == before:
        return f"{name} says just what stands here already."
    kept = f" {state.kept.name} stays as it is until you save." if state.kept.saved else ""
    return f"Opened {name}. Undo takes you back to the box before.{kept}"


def _refuse_what_holds_nothing(content: bytes, name: str) -> None:
    """Raise CannotRead for what is known by its first bytes not to hold a box, a jig or a drawing."""
    if not content.strip(b"\0 \t\r\n"):
        raise CannotRead(f"{name} is empty" if not content else f"there is nothing in {name} but blanks")
    if content.startswith(_PICTURES):
        raise CannotRead(f"{name} is a picture, which holds no settings; take the PDF or the SVG, or the box file")
    if content.startswith(_PACKED):
        raise CannotRead(f"{name} is packed; unpack it, and take one file of it")


def _text(content: bytes, name: str) -> str:
    try:
        return content.decode("utf-8")
    except UnicodeDecodeError:
        raise CannotRead(f"{name} is no sheet, no box file and no drawing; a box file is text in UTF-8") from None


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

    had_shell = state.file.shell is not None
    state.make(with_it)
    wide = state.file.pattern.width if state.file.pattern else _WIDTH
    instead = ", in place of the shell" if had_shell else ""
    said = f"{name} is now the pattern, {show(wide, state.file.units)} wide{instead}."
    how = "Set its width under Shell. Undo takes it away."
    return f"{said} {how}" + (f"\nLeft out of it: {left_out}." if left_out else "")
