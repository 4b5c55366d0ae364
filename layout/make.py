"""The door: all that a command line, a class and a page in a browser call. Text and bytes come in, bytes go out.

    settings = make.jig("sled", {"finger": "10", "cutter": "10.02", "board": "90", "thickness": "12"}, "mm")
    files = make.draw(settings).files

Nothing here reads or writes a file, and nothing is printed. Lengths are in mm; whatever is refused is raised as a
JigleafError that knows the units of its job. What only a box needs is loaded for a box.
"""

from __future__ import annotations

from collections.abc import Collection, Mapping, Sequence
from functools import cached_property
from pathlib import PurePath
from typing import TYPE_CHECKING, TypeAlias

from jigs.base import catalogue, cautions
from jigs.base.cards import Reading, Sheets, Template, Text
from jigs.base.catalogue import Jig, Plan
from jigs.base.drawing import View
from jigs.base.errors import CannotBuild, CannotRead, WrongReadings, refuse, said_in
from jigs.base.kinds import Kind, Value
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.report import Report
from jigs.base.rules import Problem, as_sentence, note
from jigs.base.settings import Section, keys_of
from jigs.base.wording import Words, read_out, say
from jigs.boxfile import decoding, jig_file
from jigs.boxfile.jig_file import JigSettings
from jigs.record import Record, replace
from layout.sheet.hand import ORDINARY, Hand

with lazily():
    from jigs.box import anew, chain, contents, effects, for_jigs, questions, set_ups, shopping
    from jigs.box import details as box_details
    from jigs.box import hours as box_hours
    from jigs.box import in_hand as box_in_hand
    from jigs.box import report as box_report
    from jigs.box import scene as box_scene
    from jigs.box import sheets as box_sheets
    from jigs.box import woods as box_woods
    from jigs.boxfile import change, edit, reading, sections
    from jigs.boxfile import pattern as boxfile_pattern
    from jigs.boxfile import units as boxfile_units
    from jigs.parts.joint import fit_scales as joint_scales
    from jigs.parts.joint import part as joint_part
    from jigs.parts.joint import reading_pictures as joint_readings
    from jigs.parts.joint import remedy_pictures as joint_remedies
    from jigs.parts.joint import settings as joint_settings
    from jigs.parts.joint import sled as joint_sled
    from jigs.parts.joint import steps_card as joint_steps
    from jigs.parts.joint import trial_joint as joint_trial
    from jigs.parts.joint import tuned_sled, tuning
    from jigs.trade import tune as trade_tune
    from layout.carry import embedded, short_form, svg_outline
    from layout.cut import bed as cut_bed
    from layout.cut import names as cut_named
    from layout.cut import pieces as cut_pieces
    from layout.pages import compose as pages_compose
    from layout.pages import in_hand as pages_in_hand
    from layout.pages import job as pages_job
    from layout.pages import listing as pages_listing
    from layout.pages import picture as pages_picture
    from layout.pages import voice as pages_voice
    from layout.printer import kept as printer_kept
    from layout.sheet import carried as sheet_carried
    from layout.sheet import paper as papers
    from layout.write import earlier, formats, svg

if TYPE_CHECKING:
    from jigs.parts.joint.made import Sled
    from layout.carry.short_form import ShortForm
    from layout.sheet.carried import Carried
    from layout.sheet.cutting import CutPiece
    from layout.sheet.marks import Bundle

Job: TypeAlias = "sections.BoxFile | JigSettings"
"""What sheets are made from: a box file that was read, or the settings of a jig."""


class Printing(Record):
    """How sheets are to come out.

    `paper` is a name or a size, None for the one that the box file names, or else the usual one of the units. `printer`
    has been measured, and its errors are undone; one that a box file names is for the caller to look up. `date` goes
    into the title block, `formats` are of `formats.NAMES`, the usual ones where none is named. With `colour` the cover
    of a box shows its woods. `cut_width`, mm, and `bed` are those of the machine that cut files are for.
    """

    paper: str | None = None
    printer: printer_kept.Printer | None = None
    hand: Hand = ORDINARY
    date: str = ""
    formats: tuple[str, ...] = ()
    colour: bool = False
    cut_width: float = 0.0
    bed: cut_bed.Bed | None = None


USUAL = Printing()

Codes: TypeAlias = Mapping[str, tuple[str, ...]]
"""The codes that some cards bear besides the proof, by the names of the cards, the fullest code first."""


class Made(Record, dict=True):
    """What was drawn: the report of the job, its cards and its templates as marks, in the formats asked for.

    `prefix` is how the names of all files begin. `pieces` are for a machine, in the formats of cut files; `cut_names`
    are the files of all pieces of the job without their suffix, and empty where only some were asked for.
    """

    report: Report
    prefix: str
    cards: Bundle
    templates: Bundle
    formats: tuple[str, ...] = ()
    pieces: tuple[CutPiece, ...] = ()
    cut_names: tuple[str, ...] = ()

    @property
    def marks(self) -> dict[str, str]:
        """The mark of each page, by its name without the prefix."""
        return earlier.marks_of([self.cards])

    @cached_property
    def files(self) -> dict[str, bytes]:
        """The files by name."""
        return self.pages | self.cut_files

    @cached_property
    def pages(self) -> dict[str, bytes]:
        """The files of cards and templates by name."""
        return self._written(self.cards, self.templates)

    @property
    def cut_prefix(self) -> str:
        """How the names of all cut files of the job begin, whichever of them were asked for."""
        return self.pieces[0].prefix if self.pieces else self.prefix

    @cached_property
    def cut_files(self) -> dict[str, bytes]:
        """The files for a machine by name."""
        return formats.write_pieces(self.pieces, self.formats)

    def only_changed(self, pages: Sequence[str]) -> dict[str, bytes]:
        """Return files with these pages alone: PDFs with a name of their own, the other files as ever; no cut files."""
        wanted = {f"{self.prefix}-{page}" for page in pages}
        bundles = []
        for bundle in (self.cards, self.templates):
            some = tuple(sheet for sheet in bundle.sheets if sheet.name in wanted)
            name = bundle.name.replace(self.prefix, f"{self.prefix}-changed", 1)
            bundles.append(replace(bundle, name=name, sheets=some))
        return self._written(*bundles)

    def _written(self, *bundles: Bundle) -> dict[str, bytes]:
        files: dict[str, bytes] = {}
        for bundle in bundles:
            if bundle.sheets:
                files |= formats.write(bundle, self.formats)
        return files


# -- what a job is read from ---------------------------------------------------------------------------------------


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
    chosen = _chosen(known, settings)
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


def pattern(drawing: bytes, name: str, width: float, units: Units) -> tuple[str, str]:
    """Return the section [pattern] of a box file for an SVG and a width in mm, and what was left out, in words.

    Raises CannotRead for what is no SVG with outlines, CannotBuild for a width that no pattern may have.
    """
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


def in_short(found: Job) -> str:
    """Return the fingers of a job and the width of its sides, in a few words; none for a jig that cuts no joint."""
    if isinstance(found, JigSettings) and found.jig != "sled":
        return ""
    with said_in(found.units):
        try:
            made = _joint(found).numbers
        except CannotBuild:
            return "it can’t be built"
        words = say("{count}, boards {width:gauge} wide", count=joint_settings.counted(made.count), width=made.width)
        return read_out(words, found.units)


# -- working it out ------------------------------------------------------------------------------------------------


class _Planned(Record):
    """A jig with its settings, those that were chosen and all of them, and the plan of these."""

    jig: Jig
    units: Units
    chosen: Mapping[str, Value]
    settings: Mapping[str, Value]
    plan: Plan

    def report(self) -> Report:
        """Return what was worked out of it."""
        numbers = {"settings": self.settings, "numbers": self.plan.numbers}
        return _of_jig(self.jig, self.chosen, self.units, self.plan.problems, numbers)

    def head(self) -> pages_job.Job:
        """Return what all its sheets say."""
        return pages_job.Job(
            prefix=self.jig.name,
            title=read_out(self.plan.title, self.units),
            settings=_settings_line(self.jig, self.chosen, self.units),
            units=self.units,
            revision=sheet_carried.revision_mark(self.jig.name, self.settings),
            codes=short_form.of_jig(self.jig, self.settings, self.units),
            carried=embedded.of_jig(self.jig.name, self.chosen, self.settings, self.units),
        )


def _planned(settings: JigSettings) -> _Planned:
    known, units = catalogue.find(settings.jig), settings.units
    chosen = _chosen(known, settings)
    return _Planned(known, units, chosen, known.settings(chosen, units), known.plan(chosen, units))


def _chosen(known: Jig, settings: JigSettings) -> dict[str, Value]:
    """Return the settings that say something, in the order of the jig: a flag that is not set says nothing.

    Raises CannotRead where one is missing that the jig can't do without.
    """
    given = {name: value for name, value in settings.chosen(known).items() if value is not None and value is not False}
    if missing := [p.spoken for p in known.parameters if p.required and p.name not in given]:
        raise CannotRead(f"{known.name} needs {', '.join(missing)}")
    return {p.name: given[p.name] for p in known.parameters if p.name in given}


def _of_jig(
    known: Jig, chosen: Mapping[str, Value], units: Units, problems: Sequence[Problem], numbers: Mapping[str, object]
) -> Report:
    said = {"problems": [problem.as_data(units) for problem in problems]}

    def words() -> str:
        return box_report.of_jig(known.title, _settings_line(known, chosen, units), problems, units)

    return Report(units, tuple(problems), lambda: {**numbers, **said}, words)


def _of_box(worked: chain.Box, before: sections.BoxFile | None = None, *, everything: bool = False) -> Report:
    def words() -> str:
        said = [box_report.check(worked)]
        if before and not worked.stopped:
            was = chain.work_out(before)
            said = [box_report.changed(worked), anew.told(was, worked), box_details.changes(was, worked)]
            said = [words for words in said if words]
        if everything:
            said.append(box_details.details(worked))
        return "\n\n".join(said)

    def numbers() -> dict[str, object]:
        data = chain.as_data(worked)
        stock = data["stock"] and data["stock"] | shopping.as_data(worked)
        return data | {"stock": stock, "hours": box_hours.as_data(worked)}

    return Report(worked.file.units, worked.problems, numbers, words)


def check(
    job: Job, before: sections.BoxFile | None = None, notes: Sequence[Problem] = (), *, everything: bool = False
) -> Report:
    """Return what is worked out of a job, refused or not: the report says what stops it.

    With `before` its text is what of a box differs from that one; with `everything` it ends with every number of it.
    `notes` are said with the problems. Raises CannotRead for a paper that there is not, and for settings that the jig
    has no more.
    """
    with said_in(job.units):
        if not isinstance(job, JigSettings):
            _on_its_paper(job, USUAL)
            worked = chain.work_out(job)
            return _of_box(replace(worked, problems=(*worked.problems, *notes)), before, everything=everything)
        try:
            return _planned(job).report()
        except CannotBuild as refused:
            known = catalogue.find(job.jig)
            chosen = _chosen(known, job)
            return _of_jig(known, chosen, job.units, refused.problems, {"settings": chosen, "numbers": None})


def look(file: sections.BoxFile) -> set_ups.Look:
    """Return a box as a maker goes through it, set-up by set-up, refused or not."""
    with said_in(file.units):
        return set_ups.Look(chain.work_out(file))


def moved(before: set_ups.Look, after: set_ups.Look) -> list[effects.Moved]:
    """Return what moved from one box to another, in words: what was changed, then the numbers that follow."""
    return effects.moved(before.box, after.box)


# -- drawing it ----------------------------------------------------------------------------------------------------


def page_names(settings: JigSettings) -> tuple[str, ...]:
    """Return the names of the cards and templates of a jig, as `draw` takes them. Raises CannotBuild for a stop."""
    with said_in(settings.units):
        return tuple(_planned(settings).plan.sheets.names())


def section_of_jig(name: str) -> str:
    """Return the section of the box file that a jig's settings are of; empty for a jig of no one part."""
    takes = catalogue.find(name).takes
    first = takes and takes.__mro__[1]
    if not first or first is Section:
        return ""
    held = ((section, key.section) for section, key in keys_of(sections.BoxFile).items() if key.section)
    return next((section for section, declared in held if issubclass(declared, first)), "")


def with_jig(file: sections.BoxFile, settings: JigSettings) -> sections.BoxFile:
    """Return a box file with the settings of a jig that its part has too; all others of the part stay as they are.

    Raises CannotRead for a jig of no one part and where the box lacks what the part needs, CannotBuild as `edited`
    does.
    """
    known = catalogue.find(settings.jig)
    section, chosen = section_of_jig(known.name), settings.chosen(known)
    held = keys_of(sections.BoxFile)[section].section if section else None
    kinds = {name: key.kind for name, key in keys_of(held).items() if key.kind} if held else {}
    if not any(p.name in kinds for p in known.parameters):
        raise CannotRead(f"the {known.title} belongs to no one part of a box")
    there = getattr(file, section)
    typed = {}
    for parameter in known.parameters:
        if kind := kinds.get(parameter.name):
            value = chosen.get(parameter.name, parameter.default_in(settings.units))
            if value != (there and getattr(there, parameter.name)):
                typed[f"{section}.{parameter.name}"] = _typed_for(kind, value, file.units)
    return edited(file, typed) if typed else file


def _typed_for(kind: Kind, value: Value, units: Units) -> str:
    """Return a value as it is typed into a form; nothing for what is left out."""
    if value is None:
        return ""
    return ("yes" if value else "no") if isinstance(value, bool) else f"{kind.written(value, units)}"


def jig_from_box(settings: JigSettings, file: sections.BoxFile) -> JigSettings:
    """Return the settings of a jig with those that a box gives; all others stay as they are.

    What the jig can't have, such as a board beyond its limits, stays as it is too.
    """
    known = catalogue.find(settings.jig)
    kinds = {p.name: p.kind for p in known.parameters}
    with said_in(file.units):
        given = for_jigs.settings(known, chain.work_out(file))
    for name, value in given.items():
        try:
            settings = edited_jig(settings, {name: _typed_for(kinds[name], value, settings.units)})
        except (CannotBuild, CannotRead):
            continue
    return settings


def box_gives(jig: str, file: sections.BoxFile) -> bool:
    """Tell whether a box has what a jig is made for, so that it gives settings of it."""
    with said_in(file.units):
        return bool(for_jigs.settings(catalogue.find(jig), chain.work_out(file)))


def too_large_for_box(settings: JigSettings, file: sections.BoxFile) -> list[Problem]:
    """Return what of a jig's settings does not go into a box, at its setting."""
    known = catalogue.find(settings.jig)
    return for_jigs.too_large(known, settings.chosen(known), chain.work_out(file))


class JigLook(Record):
    """A jig as a form shows it: what must be known of it, what its cards say in rows, and whether it has templates.

    Where a rule stops it there are no rows.
    """

    problems: tuple[Problem, ...]
    listings: tuple[pages_listing.Listing, ...] = ()
    has_templates: bool = False


def look_at_jig(settings: JigSettings) -> JigLook:
    """Return a jig worked out once, refused or not. Raises CannotRead where something is missing that it needs."""
    with said_in(settings.units):
        try:
            plan = _planned(settings).plan
        except CannotBuild as refused:
            return JigLook(tuple(refused.problems))
    cards = plan.sheets.cards
    numbers = {name: number for name, number in pages_compose.numbered(cards).items() if isinstance(number, int)}
    listings = tuple(pages_listing.listings(cards, pages_voice.Voice(settings.units, numbers)))
    return JigLook(plan.problems, listings, bool(plan.sheets.templates))


def page_names_of_box(file: sections.BoxFile, families: Sequence[str]) -> list[tuple[str, str, str]]:
    """Return the cards of a box that belong to some families or are called so, and then their templates as one.

    Each with its name, its number and its title; the templates of a family are called `templates-FAMILY`. Raises
    CannotBuild where a rule stops the box.
    """
    with said_in(file.units):
        made = box_sheets.listed(chain.work_out(file))
    numbers = pages_compose.numbered(made.cards)
    voice = pages_voice.Voice(file.units, {name: number for name, number in numbers.items() if isinstance(number, int)})
    wanted = set(families)
    found = [
        (card.name, str(numbers[card.name]), voice.said(card.title))
        for card in made.cards
        if {card.jig, card.name} & wanted
    ]
    cut = dict.fromkeys(template.jig for template in made.templates if template.jig in wanted)
    return found + [(f"templates-{family}", "T", "Templates") for family in cut]


def page_pictures(file: sections.BoxFile, name: str) -> list[bytes]:
    """Return the pages of a name of `page_names_of_box` as SVG that carries no file: front and back, or templates.

    They are those that `draw` makes, but that none says which page of how many it is.

    Raises CannotBuild where a rule stops the box, or the paper that it names is too small for them.
    """
    with said_in(file.units):
        worked = chain.work_out(file)
        made = box_sheets.listed(worked, (name,))
        family = name.removeprefix("templates-") if name.startswith("templates-") else ""
        cut = [template for template in made.templates if template.jig == family]
        names = [f"{template.jig}-{template.view.name}" for template in cut] or [name]
        head = head_of_box(file)
        page = papers.named(_on_its_paper(file, USUAL).paper or papers.default(file.units))
        sheets = pages_compose.pages_called(head, made, page, names, codes_of_box(worked))
    return [svg.write(sheet, head.settings) for sheet in sheets]


def draw(job: Job, only: Sequence[str] = (), printing: Printing = USUAL) -> Made:
    """Draw a job: all its cards and templates, or only those named; of a box a family too, as sled or lid.

    Raises CannotBuild where a rule stops what was asked for, or the paper is too small; CannotRead, with near names,
    for a page, a paper or a format that there is not; MachineFault for PNG where cairo is missing.
    """
    with said_in(job.units):
        if isinstance(job, JigSettings):
            planned = _planned(job)
            head = planned.head()
            codes = {_SLED_CARD: head.codes}
            return _drawn(planned.report(), head, _alone(planned.plan.sheets), only, printing, codes)
        worked = chain.work_out(job)
        printing = _on_its_paper(job, printing)
        sheets = box_sheets.sheets(worked, only, colour=printing.colour)
        return _drawn(_of_box(worked), head_of_box(job), sheets, only, printing, codes_of_box(worked))


def picture(file: sections.BoxFile, *, lid: bool = True) -> bytes:
    """Return the box in its woods as an SVG picture, no page: closed, or with `lid` False as it is seen inside.

    Words beside its parts and below it name every wood. Raises CannotBuild where a rule stops its joint.
    """
    with said_in(file.units):
        worked = chain.work_out(file)
        view = box_woods.picture(worked, lid=lid)
        if view is None:
            raise CannotBuild([problem for problem in worked.problems if problem.severity == "stop"])
        sheet = pages_picture.alone(view, box_woods.said_below(worked), pages_voice.Voice(file.units), "woods")
        return svg.write(sheet, f"{file.title}: {view.title}")


def picture_in_hand(file: sections.BoxFile, set_up: str, *, dark: bool = False) -> bytes:
    """Return the box with the part of a set-up brought out, as an SVG picture of 160 mm for a light or a dark page.

    Where a rule stops what the set-up makes it is in pencil; it is never refused. Its ground is the page's. Raises
    CannotRead, with near names, for a set-up that there is not.
    """
    with said_in(file.units):
        worked, screen = chain.work_out(file), box_scene.DARK if dark else box_scene.LIGHT
        scene = box_in_hand.scene(worked, box_in_hand.named(set_up))
        parts = box_scene.painted(worked, scene, screen)
        title = f"{file.title}: {set_up}"
        sheet = pages_in_hand.sheet(scene, parts, screen, file.units, title, f"in-hand-{set_up}")
        return svg.write(sheet, pages_in_hand.said(scene, file.units))


def picture_words(file: sections.BoxFile, set_up: str) -> str:
    """Return what that picture shows, in a sentence or two. Raises as it does."""
    with said_in(file.units):
        return box_in_hand.scene(chain.work_out(file), box_in_hand.named(set_up)).words


_SLED_CARD = "make-sled"


def codes_of_box(box: chain.Box) -> Codes:
    """Return the codes of its cards: the cover bears that of the box, the sled its own, as it outlives the box."""
    codes = {"cover": short_form.of_box(box.file)}
    if box.numbers is None:
        return codes
    sled = catalogue.find("sled")
    settings = sled.settings(joint_part.sled_settings(box.file), box.file.units)
    return codes | {_SLED_CARD: short_form.of_jig(sled, settings, box.file.units)}


def _alone(sheets: Sheets) -> Sheets:
    """Return the pages of a jig alone: its first card says what the cover of a box says."""
    if not sheets.cards:
        return sheets
    first = replace(sheets.cards[0], bands=(*sheets.cards[0].bands, Text("", (cautions.GENERAL,), small=True)))
    return replace(sheets, cards=(first, *sheets.cards[1:]))


def names_that_change(before: sections.BoxFile, after: sections.BoxFile) -> list[str]:
    """Return the names of the pages of a box that another file changes.

    There are no pages where a rule stops one of the two. The cover is always among them: it bears the code of the file.
    """
    with said_in(after.units):
        names, _, _ = _what_changes(before, after)
        return names


def pages_that_change(before: sections.BoxFile, after: sections.BoxFile) -> dict[str, str]:
    """Return the same, each with the mark of the page that it takes the place of; one that was not there has none.

    For their marks pages are composed as they were: it takes longer than to learn their names.
    """
    with said_in(after.units):
        names, worked, was = _what_changes(before, after)
        if not names:
            return {}
        page = papers.named(_on_its_paper(before, USUAL).paper or papers.default(before.units))
        marks = pages_compose.marks_of(head_of_box(before), was, page, names, codes_of_box(worked))
        return {name: marks.get(name, "") for name in names}


def _what_changes(before: sections.BoxFile, after: sections.BoxFile) -> tuple[list[str], chain.Box, Sheets]:
    """Return the names of the pages that change, and the box and its pages as they were."""
    worked = chain.work_out(before), chain.work_out(after)
    if any(box.stopped for box in worked):
        return [], worked[0], Sheets()
    page = papers.named(_on_its_paper(after, USUAL).paper or papers.default(after.units))
    new_cover = before.settings != after.settings
    was = box_sheets.sheets(worked[0])
    now = box_sheets.listed(worked[1], ("readings",) if new_cover else ("cover", "readings"))
    found = pages_compose.pages_that_differ(head_of_box(after), was, now, page)
    return list(dict.fromkeys(["r1-cover", *found] if new_cover else found)), worked[0], was


def joint_sheet(job: Job, printing: Printing = USUAL) -> Made:
    """Draw the card that sets the sled of a box or a sled, with boxes for the readings of its test joint.

    It is the card of its pack, by the same number. Raises as `draw` does.
    """
    with said_in(job.units):
        _joint(job)  # what stops it is said by the keys of its file
        return draw(job, ("set-sled",), printing)


def head_of_box(file: sections.BoxFile) -> pages_job.Job:
    """Return what all sheets of a box say."""
    return pages_job.Job(
        prefix=file.stem,
        title=file.title,
        settings=chain.settings_line(file),
        units=file.units,
        revision=sheet_carried.revision_mark("box", file.settings),
        codes=short_form.of_box(file),
        carried=embedded.of_box(file),
    )


_NONE: Codes = {}


def compose(
    head: pages_job.Job, sheets: Sheets, printing: Printing, only: Sequence[str] = (), codes: Codes = _NONE
) -> tuple[Bundle, Bundle]:
    """Compose cards and templates for a paper, in a hand, corrected for a printer.

    Raises CannotBuild for too small a paper.
    """
    head = replace(head, date=printing.date, hand=printing.hand)
    page = papers.named(printing.paper or papers.default(head.units))
    if printing.printer is not None:
        head = replace(head, correction=printing.printer.words)
        page = page.within(printing.printer.margins)
    made = pages_compose.compose(head, sheets, page, only, codes)
    if printing.printer is None:
        return made
    cards, templates = (replace(bundle, correction=printing.printer.correction) for bundle in made)
    return cards, templates


def _drawn(
    report: Report,
    head: pages_job.Job,
    sheets: Sheets,
    only: Sequence[str],
    printing: Printing,
    codes: Codes = _NONE,
) -> Made:
    formats.check(printing.formats)
    if only:
        box_sheets.check_names(sheets, only)
    pieces: tuple[CutPiece, ...] = ()
    names = () if only else tuple(cut_named.of_job(head.prefix, sheets.templates))
    if formats.of_pieces(printing.formats):
        pieces, said = _pieces(head, pages_compose.asked(sheets.templates, only), printing)
        report = replace(report, problems=(*report.problems, *said))
    if only:  # a file with some of the pages does not take the place of the one with all
        head = replace(head, prefix="-".join([head.prefix, *only]))
    pages = sheets if formats.of_pages(printing.formats) else Sheets()
    cards, templates = compose(head, pages, printing, only, codes)
    return Made(report, head.prefix, cards, templates, printing.formats, pieces, names)


def _pieces(
    head: pages_job.Job, templates: Sequence[Template], printing: Printing
) -> tuple[tuple[CutPiece, ...], list[Problem]]:
    """Return templates as pieces for a machine, and what must be known of them. Raises CannotBuild for a wide tool."""
    if not templates:
        return (), [note("cut", "nothing of this is cut by a machine: it has no template")]
    pieces = cut_pieces.made(templates, head.prefix, head.units, printing.cut_width)
    found = [*cut_pieces.remarks(pieces)]
    return pieces, found + ([] if printing.bed is None else [*cut_bed.too_large(pieces, printing.bed)])


def _on_its_paper(file: sections.BoxFile, printing: Printing) -> Printing:
    """Return how to print a box: on the paper that its file names where no other is asked for."""
    own = file.print.paper
    if printing.paper or not own:
        return printing
    try:
        papers.named(own)
    except CannotRead as error:
        raise CannotRead(f"print.{error}") from error
    return replace(printing, paper=own)


def _settings_line(known: Jig, chosen: Mapping[str, Value], units: Units) -> str:
    """Return the settings that were chosen, in words, for the title block."""
    said = []
    for parameter in known.parameters:
        value = chosen.get(parameter.name)
        if value is not None:
            shown = parameter.kind.shown(value, units)
            said.append(parameter.spoken if value is True else f"{parameter.spoken} {shown}")
    return "; ".join(said)


# -- what was measured ---------------------------------------------------------------------------------------------


def _joint(job: Job) -> tuned_sled.Drawn:
    """Return the joint as the sheets of a box or of a sled have it. Raises CannotRead for a jig that cuts none."""
    if not isinstance(job, JigSettings):
        return tuned_sled.of_box(job)
    if job.jig != "sled":
        raise CannotRead(f"the jig '{job.jig}' cuts no finger joint")
    return tuned_sled.of_sled(_chosen(catalogue.find("sled"), job), job.units)


class Tuned(Record):
    """What comes of a measured test joint: its report, what is wrong in a few words, and what to do in order.

    `steps` are sentences and `in_short` a few words of each remedy, in the units of the job. Where the report is
    stopped there is nothing to do. With a joint that is `good` boards may be cut as it is.
    """

    report: Report
    headline: str
    good: bool
    remedies: tuple[trade_tune.Remedy, ...]
    steps: tuple[str, ...]
    in_short: tuple[str, ...]
    scales: tuple[joint_scales.Scale, ...]
    pivot: trade_tune.Pivot | None = None


def tune(
    job: Job,
    readings: trade_tune.Readings,
    mount: trade_tune.Mount = "clamped plate",
    to_key: float | None = None,
    to_nudge: float | None = None,
) -> Report:
    """Return what to move, shim or plane after a measured test joint of a box or a sled, and whether its sheets hold.

    `to_key` and `to_nudge` are from the pivot of a sled that is nudged. A report that is stopped has no text: nothing
    is planed by such readings. Raises WrongReadings for those that can't be, CannotBuild where a rule stops the joint.
    """
    return tuned(job, readings, mount, to_key, to_nudge).report


def tuned(
    job: Job,
    readings: trade_tune.Readings,
    mount: trade_tune.Mount = "clamped plate",
    to_key: float | None = None,
    to_nudge: float | None = None,
) -> Tuned:
    """Return all that comes of a measured test joint. Takes and raises what `tune` does."""
    with said_in(job.units):
        drawn = _joint(job)
        turns = None if to_key is None or to_nudge is None else trade_tune.Pivot(to_key, to_nudge)
        try:
            found = trade_tune.tune(readings, drawn.wanted)
            remedies = trade_tune.remedies(found, readings, mount, wanted=drawn.wanted, pivot=turns)
        except ValueError as error:
            raise WrongReadings(str(error)) from error
    compared, units = tuned_sled.compare(found, readings, drawn), job.units
    problems = tuning.problems(found, readings, mount, compared)
    steps = tuning.steps(remedies, readings, units)
    stopped = any(problem.severity == "stop" for problem in problems)
    said = {"problems": [problem.as_data(units) for problem in problems]}
    report = Report(
        units,
        problems,
        lambda: tuning.as_data(found, compared, steps, stopped) | said,
        lambda: "" if stopped else tuning.report(found, compared, steps, units),
    )
    scales = tuple(joint_scales.scales(found, compared, units, stopped=stopped))
    verdict = tuning.verdict_on(found, compared)
    headline = tuning.headline(verdict, len(steps), stopped=stopped)
    if stopped:
        return Tuned(report, headline, False, (), (), (), scales)
    short = tuple(tuning.in_short(remedy, units) for remedy in remedies)
    good = verdict == tuning.GOOD
    return Tuned(report, headline, good, remedies, tuple(map(as_sentence, steps)), short, scales, turns)


class Picture(Record):
    """A picture as SVG, and in words what in it is drawn too large; empty where all is true."""

    svg: bytes
    drawn: str = ""


def readings_of(job: Job) -> tuple[Reading, ...]:
    """Return what is read of the test joint, A to F, with what is wanted, in mm. Raises as `tune`."""
    with said_in(job.units):
        made = _sled(job)
    return joint_trial.readings(made.meant, made.proud)


def reading_pictures(job: Job) -> dict[str, Picture]:
    """Return where callipers go on the test joint, a picture for each reading by its name. Raises as `tune`."""
    with said_in(job.units):
        found = joint_readings.pictures(_sled(job), _woods_of_joint(job))
    return {one.name: _pictured(one.view, job.units, one.drawn, _READING_SIZE) for one in found}


def remedy_pictures(job: Job, found: Tuned) -> list[Picture]:
    """Return what to move and which way, a picture for each step of a tuned joint. Raises as `tune`."""
    with said_in(job.units):
        drawn = joint_remedies.pictures(found.remedies, _sled(job), _woods_of_joint(job), found.pivot)
    return [_pictured(one.view, job.units, one.drawn, _REMEDY_SIZE) for one in drawn]


def steps_sheet(job: Job, found: Tuned, number: int, printing: Printing = USUAL) -> Made:
    """Draw the card of what to do after the test joint of this number, with its pictures. Raises as `draw` does."""
    with said_in(job.units):
        made = _sled(job)
        pictures = joint_remedies.pictures(found.remedies, made, joint_readings.Woods(), found.pivot)
        said = [*found.report.text.splitlines()[:2], *found.report.text.splitlines()[2 + len(found.steps) :]]
        card = joint_steps.card(made, pictures, found.steps, said, number)
        printing = printing if isinstance(job, JigSettings) else _on_its_paper(job, printing)
        head = _planned(job).head() if isinstance(job, JigSettings) else head_of_box(job)
        return _drawn(
            found.report, replace(head, prefix=f"{head.prefix}-joint-{number}"), Sheets((card,)), (), printing
        )


_READING_SIZE, _REMEDY_SIZE = 62.0, 76.0
"""How large pictures are that stand beside fields and steps of a page in a browser, mm: so their words can be read."""


def _sled(job: Job) -> Sled:
    return joint_sled.made(_joint(job).asked, job.units)


def _woods_of_joint(job: Job) -> joint_readings.Woods:
    """Return what front and end boards are made of, where the job says so."""
    if isinstance(job, JigSettings):
        return joint_readings.Woods()
    return joint_readings.Woods(job.sides.species, job.sides.ends_species or job.sides.species)


def _pictured(view: View, units: Units, drawn: Words, size: float) -> Picture:
    voice = pages_voice.Voice(units)
    made = pages_picture.alone(view, (), voice, view.name, size)
    return Picture(svg.write(made, voice.said(view.title)), read_out(drawn, units))
