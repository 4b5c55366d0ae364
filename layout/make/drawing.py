"""A job drawn: its cards and templates, for a paper or for a machine, and which pages a change touches."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TYPE_CHECKING, TypeAlias

from jigs.base import catalogue, cautions
from jigs.base.cards import Sheets, Template, Text
from jigs.base.errors import said_in
from jigs.base.lazily import lazily
from jigs.base.report import Report
from jigs.base.rules import Problem, note
from jigs.boxfile.jig_file import JigSettings
from jigs.record import replace
from layout.make.jobs import Job
from layout.make.printing import USUAL, Made, Printing, on_its_paper
from layout.make.reports import of_box, plan_of

with lazily():
    from jigs.box import chain
    from jigs.box import sheets as box_sheets
    from jigs.boxfile import sections
    from jigs.parts.joint import part as joint_part
    from layout.carry import embedded, short_form
    from layout.cut import bed as cut_bed
    from layout.cut import names as cut_named
    from layout.cut import pieces as cut_pieces
    from layout.pages import compose as pages_compose
    from layout.pages import job as pages_job
    from layout.pages import voice as pages_voice
    from layout.sheet import carried as sheet_carried
    from layout.sheet import paper as papers
    from layout.write import formats, svg

if TYPE_CHECKING:
    from layout.sheet.cutting import CutPiece
    from layout.sheet.marks import Bundle


Codes: TypeAlias = Mapping[str, tuple[str, ...]]
"""The codes that some cards bear besides the proof, by the names of the cards, the fullest code first."""


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
        page = papers.named(on_its_paper(file, USUAL).paper or papers.default(file.units))
        sheets = pages_compose.pages_called(head, made, page, names, codes_of_box(worked))
    return [svg.write(sheet, head.settings) for sheet in sheets]


def draw(job: Job, only: Sequence[str] = (), printing: Printing = USUAL) -> Made:
    """Draw a job: all its cards and templates, or only those named; of a box a family too, as sled or lid.

    Raises CannotBuild where a rule stops what was asked for, or the paper is too small; CannotRead, with near names,
    for a page, a paper or a format that there is not; MachineFault for PNG where cairo is missing.
    """
    with said_in(job.units):
        if isinstance(job, JigSettings):
            planned = plan_of(job)
            head = planned.head()
            codes = {_SLED_CARD: head.codes}
            return made_from(planned.report(), head, _alone(planned.plan.sheets), only, printing, codes)
        worked = chain.work_out(job)
        printing = on_its_paper(job, printing)
        sheets = box_sheets.sheets(worked, only, colour=printing.colour)
        return made_from(of_box(worked), head_of_box(job), sheets, only, printing, codes_of_box(worked))


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
        page = papers.named(on_its_paper(before, USUAL).paper or papers.default(before.units))
        marks = pages_compose.marks_of(head_of_box(before), was, page, names, codes_of_box(worked))
        return {name: marks.get(name, "") for name in names}


def _what_changes(before: sections.BoxFile, after: sections.BoxFile) -> tuple[list[str], chain.Box, Sheets]:
    """Return the names of the pages that change, and the box and its pages as they were."""
    worked = chain.work_out(before), chain.work_out(after)
    if any(box.stopped for box in worked):
        return [], worked[0], Sheets()
    page = papers.named(on_its_paper(after, USUAL).paper or papers.default(after.units))
    new_cover = before.settings != after.settings
    was = box_sheets.sheets(worked[0])
    now = box_sheets.listed(worked[1], ("readings",) if new_cover else ("cover", "readings"))
    found = pages_compose.pages_that_differ(head_of_box(after), was, now, page)
    return list(dict.fromkeys(["r1-cover", *found] if new_cover else found)), worked[0], was


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


def made_from(
    report: Report,
    head: pages_job.Job,
    sheets: Sheets,
    only: Sequence[str],
    printing: Printing,
    codes: Codes = _NONE,
) -> Made:
    """Return some sheets as they come out: composed for their paper, and as pieces where a machine cuts them."""
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
