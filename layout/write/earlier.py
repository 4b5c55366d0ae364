"""Pages of a job that are there already: which of them are to be printed again, and which are nobody's any more.

Each page has a mark, made from what is drawn on it. The marks stand in the PDFs that jigleaf wrote and in every SVG, so
a folder says itself what was printed from it. Nothing else in the folder is touched.
"""

from __future__ import annotations

import contextlib
import re
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from jigs.record import Record
from layout.sheet.carried import NAMESPACE
from layout.sheet.cutting import whose
from layout.sheet.marks import Bundle

_RECORD = re.compile(rb"/Keywords \(revision [0-9a-f]+; marks ([-a-z0-9= ]*)\)")
_MARK = re.compile(rb"<desc>[^<]*; mark ([0-9a-f]{4})</desc>")
_PAGE = re.compile(r"(?:r\d+-.+|card-\d+-.+|template-\d+|proof)")
_KINDS = ("cards", "templates", "changed-cards", "changed-templates")
_HEAD = 2000
"""Within so much of a cut file stands whose it is, bytes."""
_LONGEST = 50_000_000
"""A larger file is none of ours, bytes."""


class Earlier(Record):
    """What a folder holds of a job: the mark of each page by its name, and the files that are surely ours."""

    marks: Mapping[str, str]
    files: Mapping[str, Path]


def marks_of(bundles: Iterable[Bundle]) -> dict[str, str]:
    """Return the marks of pages by their names, as they are recorded."""
    return {page: mark for bundle in bundles for page, mark in _read_record(bundle.keywords.partition("marks ")[2])}


def _read_record(record: str) -> list[tuple[str, str]]:
    return [(page, mark) for page, _, mark in (entry.partition("=") for entry in record.split())]


def found(folder: Path, prefix: str) -> Earlier:
    """Return what a folder holds of the job whose files begin so. What can't be read is none of ours."""
    marks: dict[str, str] = {}
    files: dict[str, Path] = {}
    records = [(path, content) for kind in _KINDS if (content := _content(path := folder / f"{prefix}-{kind}.pdf"))]
    for path, content in sorted(records, key=lambda one: one[0].stat().st_mtime_ns):
        if record := _RECORD.search(content):
            marks |= _read_record(record[1].decode())
            files[path.name] = path
    with contextlib.suppress(OSError):
        for path in sorted(folder.glob("*.svg")):
            page = path.stem.removeprefix(f"{prefix}-")
            if path.stem == page or not _PAGE.fullmatch(page):
                continue
            content = _content(path)
            if NAMESPACE.encode() in content and (mark := _MARK.search(content)):
                marks.setdefault(page, mark[1].decode())
                files[path.name] = path
    for page in marks:  # a picture carries nothing: it is ours where the pages of its name are
        picture = folder / f"{prefix}-{page}.png"
        if picture.is_file():
            files[picture.name] = picture
    return Earlier(marks, files)


def _content(path: Path) -> bytes:
    try:
        return path.read_bytes() if path.is_file() and path.stat().st_size < _LONGEST else b""
    except OSError:
        return b""


def changed(before: Mapping[str, str], now: Mapping[str, str]) -> list[str]:
    """Return the pages that are not what they were, in their order."""
    return [page for page, mark in now.items() if before.get(page) != mark]


def superseded(before: Earlier, pages: Iterable[str], written: Iterable[str], prefix: str) -> list[Path]:
    """Return the files of pages that the job has no more, and those that only held what had changed."""
    kept, new = {f"{prefix}-{page}" for page in pages}, set(written)
    gone = []
    for name, path in before.files.items():
        stem = path.stem
        if name not in new and stem not in kept and stem not in (f"{prefix}-cards", f"{prefix}-templates"):
            gone.append(path)
    return gone


def cut_files(folder: Path, prefix: str) -> dict[str, bytes]:
    """Return the cut files that a folder holds of the job whose files begin so, by name; each says whose it is."""
    found = {}
    with contextlib.suppress(OSError):
        for path in sorted(folder.glob("*-cut-*")):
            content = _content(path) if path.suffix in (".dxf", ".svg") else b""
            if whose(prefix).encode() in content[:_HEAD]:
                found[path.name] = content
    return found


def cut_superseded(folder: Path, before: Iterable[str], names: Sequence[str]) -> list[Path]:
    """Return the cut files of pieces that the job has no more; none where it is not known which it has."""
    return [folder / name for name in before if names and Path(name).stem not in names]


def said(pages: Sequence[str]) -> str:
    """Return pages in words: `cards 5 and 9, template T2`."""
    cards = list(dict.fromkeys(page.split("-")[1] for page in pages if page.startswith("card-")))
    templates = [f"T{page.split('-')[1]}" for page in pages if page.startswith("template-")]
    reading = [page.partition("-")[0].upper() for page in pages if re.match(r"r\d", page)]
    told = []
    for one, many, names in (
        ("page", "pages", reading),
        ("card", "cards", cards),
        ("template", "templates", templates),
    ):
        if names:
            told.append(f"{one if len(names) == 1 else many} {_listed(names)}")
    return ", ".join([*told, *(["the proof"] if "proof" in pages else [])])


def _listed(names: Sequence[str]) -> str:
    names = list(dict.fromkeys(names))
    return names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
