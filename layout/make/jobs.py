"""What a job is read from: a box file or the settings of a jig, from text, from what is typed, from a sheet."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from pathlib import PurePath
from typing import TYPE_CHECKING, TypeAlias

from jigs.base import catalogue
from jigs.base.catalogue import Jig
from jigs.base.errors import CannotRead, refuse, said_in
from jigs.base.kinds import Value
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.boxfile import decoding, jig_file
from jigs.boxfile.jig_file import JigSettings
from jigs.record import Record, replace

with lazily():
    from jigs.box import chain, contents, questions
    from jigs.boxfile import change, edit, reading, sections
    from jigs.boxfile import pattern as boxfile_pattern
    from jigs.boxfile import units as boxfile_units
    from layout.carry import embedded, short_form, svg_outline
    from layout.sheet import carried as sheet_carried

if TYPE_CHECKING:
    from layout.carry.short_form import ShortForm
    from layout.sheet.carried import Carried


Job: TypeAlias = "sections.BoxFile | JigSettings"
"""What sheets are made from: a box file that was read, or the settings of a jig."""


def box(text: str, name: str, values: Mapping[str, str] | None = None) -> sections.BoxFile:
    """Return the box file that a text holds, with other values for some keys; `name` is what messages call it.

    With another finger and no cutter comes the cutter that the file lists for it. Raises CannotRead for what can't be
    read, CannotBuild for values out of their limits and for a finger that no cutter is known for.
    """
    before = reading.read(text, name)
    if not values:
        return before
    with said_in(before.units):
        return change.box_with(text, values, name)


def edited(file: sections.BoxFile, typed: Mapping[str, str]) -> sections.BoxFile:
    """Return a box file with what was typed for some of its keys, as a form has it; nothing typed takes a key out.

    Raises as `box` does; what it says of a value begins with its key.
    """
    with said_in(file.units):
        return edit.edited(file, typed)


def with_row(file: sections.BoxFile, key: str, typed: Mapping[str, str]) -> sections.BoxFile:
    """Return a box file with one more row in a list, such as `stock.boards`. Raises as `edited` does."""
    with said_in(file.units):
        return edit.with_row(file, key, typed)


def without_row(file: sections.BoxFile, key: str, number: int) -> sections.BoxFile:
    """Return a box file without one row of a list, counted from 0. Raises CannotRead for a row that is not there."""
    return edit.without_row(file, key, number)


def with_part(file: sections.BoxFile, part: str) -> sections.BoxFile:
    """Return a box file with a part that it lacks, in usual sizes. Raises CannotBuild where none of them has room."""
    with said_in(file.units):
        return edit.edited(file, questions.sizes_of(file, part))


def without_part(file: sections.BoxFile, part: str) -> sections.BoxFile:
    """Return a box file without a part. Raises CannotRead for what no box can do without."""
    return edit.without_part(file, part)


def new_box(units: Units) -> str:
    """Return the text of a new box file in usual sizes."""
    return questions.usual_text(units)


def parts_asked_for() -> list[tuple[str, str, tuple[str, ...]]]:
    """Return the parts that a new box can do without: each its name, what it is called, and the sections it brings."""
    return [(name, words, questions.brought_by(name)) for name, words in questions.OPTIONAL.items()]


def questions_for_box(units: Units, typed: Mapping[str, str], without: Collection[str] = ()) -> questions.Form:
    """Return the questions that make a new box, with what was typed for some, and what is offered for the others."""
    with said_in(units):
        return questions.form(units, typed, without)


class Contents(Record):
    """What is to go into a new box: how it goes in, and the outside sizes that just take it; None where none do."""

    goes: contents.Goes
    proposal: contents.Proposal | None


def contents_of_box(
    words: str, units: Units, typed: Mapping[str, str], without: Collection[str], made: questions.Made
) -> Contents:
    """Return how what is to go in, typed as length x width x height, goes into the box of some answers.

    Raises CannotRead for words that are not three sizes.
    """
    with said_in(units):
        wanted = contents.read(words, units)
        return Contents(contents.goes(wanted, made.worked), contents.proposal(wanted, units, typed, without))


def job(text: str, name: str) -> Job:
    """Return what a box file or a jig file, which is told by its look, says; `name` is what messages call it.

    Raises as `box` does.
    """
    data = decoding.decoded(text, name, "a box file or a jig file")
    return jig_file.of_data(data, text, name) if jig_file.is_one(data) else reading.of_data(data, text, name)


def jig(name: str, words: Mapping[str, Value], units: Units) -> JigSettings:
    """Return the settings of a jig: in words, lengths as the shop writes them, or read already, lengths in mm.

    None is a setting that is not given. Raises CannotRead, with near names, for a jig or a setting that there is not,
    and for words that can't be read; what is missing, limits and rules are for `check` and `draw`.
    """
    known = catalogue.find(name)
    read = {key: value for key, value in words.items() if value is not None and not isinstance(value, str)}
    said = {key: value for key, value in words.items() if isinstance(value, str)}
    return JigSettings(known.name, units, read | short_form.jig_settings(known, said, units))


def edited_jig(settings: JigSettings, typed: Mapping[str, str]) -> JigSettings:
    """Return settings with what was typed for some of them, as a form has it; nothing typed leaves one to its default.

    Raises CannotRead for what can't be read, and for nothing where the jig needs something; CannotBuild for a value out
    of its limits. What it says begins with the setting.
    """
    with said_in(settings.units):
        return jig_file.edited(settings, typed)


def jig_in(settings: JigSettings, units: Units) -> JigSettings:
    """Return the settings of a jig in other units: each size is what a shop in those would choose.

    Raises CannotRead and CannotBuild for settings that are none of the jig's.
    """
    if settings.units == units:
        return settings
    carried = file_of_jig(settings)
    found = boxfile_units.jig_in(jig_file.read(carried.content.decode(), carried.name), carried.content.decode(), units)
    turned = jig_file.read(found.text, carried.name)
    return replace(turned, given=turned.chosen(catalogue.find(turned.jig)), defaults={})


def file_of_jig(settings: JigSettings) -> Carried:
    """Return the jig file of some settings, as their sheets carry it. Raises CannotBuild for those out of limits."""
    known = catalogue.find(settings.jig)
    chosen = chosen_of(known, settings)
    with said_in(settings.units):
        return embedded.of_jig(known.name, chosen, known.settings(chosen, settings.units), settings.units)


def changed(settings: JigSettings, values: Mapping[str, str]) -> JigSettings:
    """Return the settings of a jig with others, in words, for some. Raises as `jig` does.

    Raises CannotBuild for another finger that no cutter is known for.
    """
    known = catalogue.find(settings.jig)
    with said_in(settings.units):
        other = short_form.jig_settings(known, values, settings.units)
        return replace(settings, given=change.jig_with(settings.chosen(known), other), defaults={})


def chosen_of(known: Jig, settings: JigSettings) -> dict[str, Value]:
    """Return the settings that say something, in the order of the jig: a flag that is not set says nothing.

    Raises CannotRead where one is missing that the jig can't do without.
    """
    given = {name: value for name, value in settings.chosen(known).items() if value is not None and value is not False}
    if missing := [p.spoken for p in known.parameters if p.required and p.name not in given]:
        raise CannotRead(f"{known.name} needs {', '.join(missing)}")
    return {p.name: given[p.name] for p in known.parameters if p.name in given}


def pattern(drawing: bytes, name: str, width: float, units: Units) -> tuple[str, str]:
    """Return the section [pattern] of a box file for an SVG and a width in mm, and what was left out, in words.

    Raises CannotRead for what is no SVG with outlines, CannotBuild for a width that no pattern may have.
    """
    with said_in(units):
        boxfile_pattern.require_width(width, units)
    found = svg_outline.read(drawing, name)
    return boxfile_pattern.section(found.outline, width, units, _origin(found, name)), found.left_out


def with_pattern(
    file: sections.BoxFile, drawing: bytes, name: str, width: float | None = None
) -> tuple[sections.BoxFile, str]:
    """Return a box file with the outlines of an SVG as its pattern, and what was left out, in words.

    Without a width, mm, the pattern that it has keeps its own. Raises as `pattern` does, and CannotBuild where the
    rules stop the pattern on this box, or the box has a shell.
    """
    with said_in(file.units):
        if width is not None:
            boxfile_pattern.require_width(width, file.units)
        found = svg_outline.read(drawing, name)
        text = boxfile_pattern.into(file, found.outline, width, _origin(found, name))
        made = reading.read(text, file.name)
        told = [one for one in chain.work_out(made).problems if one.where.partition(".")[0] == "pattern"]
        refuse(told)
    return made, found.left_out


def _origin(found: svg_outline.Drawing, name: str) -> str:
    return f"{found.lines} line{'s' if found.lines > 1 else ''} of {PurePath(name).name}"


def reopen(sheet: bytes, name: str = "the sheet") -> Job:
    """Return what a PDF or SVG sheet was made from. Raises CannotRead for what is no sheet of ours, or damaged."""
    return job_of(embedded.read(sheet, name))


def from_code(code: ShortForm) -> Carried:
    """Return what a sheet would carry that bears this code. Raises CannotRead where the code lacks what is needed."""
    if code.family == "box":
        return sheet_carried.Carried("box", "box.toml", short_form.box_text(code).encode())
    known = catalogue.find(code.family)
    chosen = short_form.jig_settings(known, code.words, code.units)
    short_form.require_all(known, chosen)
    with said_in(code.units):
        return embedded.of_jig(known.name, chosen, known.settings(chosen, code.units), code.units)


def job_of(carried: Carried, name: str = "the sheet") -> Job:
    """Return the job of what a sheet carries. Raises CannotRead where that is damaged."""
    try:
        text = carried.content.decode()
    except UnicodeDecodeError:
        raise CannotRead(f"the file in {name} is damaged: it is not UTF-8 text") from None
    if carried.kind == "jig":
        return jig_file.read(text, carried.name)
    return reading.read(text, carried.name)


def in_units(carried: Carried, units: Units) -> tuple[Carried, boxfile_units.Converted]:
    """Return what a sheet carries, or what a file holds, in other units, and what moved in it.

    In the units that it has already nothing moves. Raises as `job_of` does, and where its text can't be changed.
    """
    found = job_of(carried)
    if found.units == units:
        return carried, boxfile_units.Converted(carried.content.decode(), (), ())
    if isinstance(found, JigSettings):
        turned = boxfile_units.jig_in(found, carried.content.decode(), units)
    else:
        turned = boxfile_units.box_in(found, units)
    return replace(carried, content=turned.text.encode()), turned
