"""What a maker saves to print or to cut: the same files that the command line writes."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING

from jigs.base.errors import JigleafError
from layout import make

if TYPE_CHECKING:
    from jigs.boxfile.jig_file import JigSettings
    from jigs.boxfile.sections import BoxFile
    from layout.bench.state import State

_FIXED_DATE = (1980, 1, 1, 0, 0, 0)
_ZIP, _PDF = "application/zip", "application/pdf"
Download = tuple[bytes, str, str]
"""What is in a file, its name and its media type."""


def made(state: State, name: str) -> Download | str | None:
    """Return a file to save by its name, or why it can't be drawn; None for a name that there is not."""
    file, saved = state.file, state.as_saved
    try:
        match name:
            case "cards.pdf" | "templates.pdf":
                return _pdf(make.draw(file, (), _printed(("pdf",))), name)
            case "mockup.pdf":
                return _pdf(make.draw(file, ("mockup",), _printed(("pdf",))), "templates.pdf")
            case "cut-files.zip":
                return _zip(make.draw(file, (), _printed(("dxf",))).cut_files, f"{file.stem}-cut-files.zip")
            case "changed.zip":
                return _changed(file, saved)
    except JigleafError as error:
        return error.says(file.units)
    return None


def of_jig(job: JigSettings, name: str) -> Download | str | None:
    """Return a file of a jig to save by its name, or why it can't be drawn; None for a name that there is not."""
    try:
        match name:
            case "cards.pdf" | "templates.pdf":
                return _pdf(make.draw(job, (), _printed(("pdf",))), name)
            case "cut-files.zip":
                return _zip(make.draw(job, (), _printed(("dxf",))).cut_files, f"{job.jig}-cut-files.zip")
            case "jig.toml":
                carried = make.file_of_jig(job)
                return carried.content, carried.name, "application/toml"
    except JigleafError as error:
        return error.says(job.units)
    return None


def _printed(formats: Sequence[str]) -> make.Printing:
    return make.Printing(formats=tuple(formats))


def _pdf(drawn: make.Made, ending: str) -> Download | str:
    found = next((one for one in drawn.files.items() if one[0].endswith(ending)), None)
    return (found[1], found[0], _PDF) if found else "There is no such page."


def _changed(file: BoxFile, saved: BoxFile | None) -> Download:
    drawn = make.draw(file, (), _printed(("pdf",)))
    names = list(make.pages_that_change(saved, file)) if saved else list(drawn.marks)
    return _zip(drawn.only_changed(names), f"{file.stem}-changed.zip")


def _zip(contents: Mapping[str, bytes], name: str) -> Download:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for inner, content in contents.items():
            packed.writestr(zipfile.ZipInfo(inner, _FIXED_DATE), content, zipfile.ZIP_DEFLATED)
    return out.getvalue(), name, _ZIP
