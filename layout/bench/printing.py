"""What a maker saves to print or to cut: the same files that the command line writes."""

from __future__ import annotations

import io
import zipfile
from collections.abc import Mapping
from typing import TYPE_CHECKING

from jigs.base.errors import JigleafError
from jigs.base.rules import as_sentence
from jigs.record import replace
from layout import make
from layout.printer import kept as printers
from layout.sheet import paper as papers
from layout.sheet.hand import Hand

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
    if state.kept.path is None:
        file = make.box(file.source, state.name)  # its pages are called after it
    try:
        match name:
            case "cards.pdf" | "templates.pdf":
                return _pdf(make.draw(file, (), printed(state, "pdf")), name)
            case "mockup.pdf":
                return _pdf(make.draw(file, ("mockup",), printed(state, "pdf")), "templates.pdf")
            case "cut-files.zip":
                return _zip(make.draw(file, (), printed(state, "dxf")).cut_files, f"{file.stem}-cut-files.zip")
            case "changed.zip":
                return _changed(state, file, saved)
    except JigleafError as error:
        return error.says(file.units)
    return None


def printed(state: State, form: str) -> make.Printing:
    """Return how a box is printed: corrected for the printer that it names. Raises CannotRead for an unknown one."""
    named, ways = state.file.print.printer, state.print_as
    return make.Printing(
        printer=printers.find(named, "print.printer") if named else None,
        hand=Hand("large print" in ways, "thin ink" in ways),
        formats=(form,),
        colour="woods on the cover" in ways,
    )


def for_jig(state: State, form: str) -> make.Printing:
    """Return how a jig is printed: as the box beside it. Raises CannotRead for a printer that is not known here."""
    return replace(printed(state, form), paper=state.file.print.paper, colour=False)


def said_of_jig(state: State) -> str:
    """Return how a jig is printed, in words: on which paper, for which printer, and what that undoes."""
    paper = state.file.print.paper or papers.default(state.file.units)
    named = state.file.print.printer
    if not named:
        return f"Printed as your box is: on {paper}, for no printer of which the errors are known."
    try:
        found = printers.find(named, "print.printer")
    except JigleafError as error:
        return as_sentence(error.says(state.file.units).removeprefix("Error: "))
    return f"Printed as your box is: on {paper}, corrected for {found.words}."


def of_jig(state: State, job: JigSettings, name: str) -> Download | str | None:
    """Return a file of a jig to save by its name, or why it can't be drawn; None for a name that there is not."""
    try:
        match name:
            case "cards.pdf" | "templates.pdf":
                return _pdf(make.draw(job, (), for_jig(state, "pdf")), name)
            case "cut-files.zip":
                return _zip(make.draw(job, (), make.Printing(formats=("dxf",))).cut_files, f"{job.jig}-cut-files.zip")
            case "jig.toml":
                carried = make.file_of_jig(job)
                return carried.content, carried.name, "application/toml"
    except JigleafError as error:
        return error.says(job.units)
    return None


def _pdf(drawn: make.Made, ending: str) -> Download | str:
    found = next((one for one in drawn.files.items() if one[0].endswith(ending)), None)
    return (found[1], found[0], _PDF) if found else "There is no such page."


def _changed(state: State, file: BoxFile, saved: BoxFile | None) -> Download:
    drawn = make.draw(file, (), printed(state, "pdf"))
    names = make.names_that_change(saved, file) if saved else list(drawn.marks)
    return _zip(drawn.only_changed(names), f"{file.stem}-changed.zip")


def _zip(contents: Mapping[str, bytes], name: str) -> Download:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w", zipfile.ZIP_DEFLATED) as packed:
        for inner, content in contents.items():
            packed.writestr(zipfile.ZipInfo(inner, _FIXED_DATE), content, zipfile.ZIP_DEFLATED)
    return out.getvalue(), name, _ZIP
