"""One student of a class, as a worker gets it: looked at first, then drawn once it is known what is shared."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from pathlib import Path
from typing import Any

from jigs.base.cards import Card, Settings, Sheets, Text
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.kinds import LONGEST_WORDS
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.rules import stop
from jigs.box import chain
from jigs.box import sheets as box_sheets
from jigs.boxfile import change, reading
from jigs.boxfile.sections import BoxFile
from jigs.course import class_list, sharing
from jigs.course import plan as course_plan
from jigs.course import sizes as course_sizes
from jigs.course.class_list import Fault, Row, RowRefused
from jigs.course.makers import Maker
from jigs.record import Record, field, replace
from layout import make
from layout.course import html as pages
from layout.pages.job import Job
from layout.pages.voice import Voice
from layout.sheet import paper as papers
from layout.sheet.marks import Bundle, Sheet
from layout.write import files as write_files

with lazily():  # a run with nothing to draw needs none of it
    from layout.course import told
    from layout.pages import compose as pages_compose
    from layout.write import pdf

SHARED = "shared"
"""The folder of what several students share."""
CARDS = f"{SHARED}/cards.pdf"
"""The file of the shared cards on the class's own paper; on any other it says the paper."""
_NO_CODES: Mapping[str, tuple[str, ...]] = {}


class Pack(Record):
    """What is drawn of one student: whose, from which box file, on which paper.

    `source` is a digest of all that. `shared` are the names of the cards that others have too, which are not in the
    pack, and `shared_in` is the file that they are in; `sled` is that of the sled, empty where it is not known.
    """

    stem: str
    name: str
    title: str
    row: Row
    text: str
    paper: str
    printing: make.Printing
    out: Path
    source: str = ""
    shared: tuple[str, ...] = ()
    shared_in: str = CARDS
    sled: str = ""

    @property
    def cards(self) -> str:
        """The file of the cards."""
        return f"{self.stem}-cards.pdf"

    @property
    def templates(self) -> str:
        """The file of the templates, printed on one side at 100 %."""
        return f"{self.stem}-templates.pdf"

    @property
    def page(self) -> str:
        """The student's own page, beside the files."""
        return page_of(self.stem)


class Handout(Record):
    """What a student's files and page are made from: name, cards and templates as marks."""

    name: str
    cards: Bundle
    templates: Bundle

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """The pages as marks, for any writer."""
        return (*self.cards.sheets, *self.templates.sheets)


class Result(Record):
    """What came of a pack: a record of it, or the faults of its row."""

    pack: Pack
    record: Mapping[str, Any] = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()


def paper_of(row: Row, file: BoxFile, asked: str | None = None) -> str:
    """Return the paper of a student: the row's own, or the one asked for, or the box's. Raises RowRefused."""
    named = row.values.get("print.paper") or asked or file.print.paper or papers.default(file.units)
    try:
        return papers.named(str(named)).name
    except CannotRead as error:
        problem = stop("print.paper", "{error}", error=str(error))
        raise RowRefused(class_list.refused_by(row, [problem])) from None


# -- looking at it -------------------------------------------------------------------------------------------------


def opened(pack: Pack) -> tuple[chain.Box, Sheets]:
    """Return a student's box with its pages. Raises RowRefused where a rule stops it."""
    worked = chain.work_out(reading.read(pack.text, f"{pack.stem}.toml"))
    stops = [problem for problem in worked.problems if problem.severity == "stop"]
    if stops:
        raise RowRefused(class_list.refused_by(pack.row, stops))
    try:
        return worked, box_sheets.sheets(worked)
    except CannotBuild as error:
        raise RowRefused(class_list.refused_by(pack.row, error.problems)) from None


def look(pack: Pack) -> Result:
    """Return what the class must know of a student: numbers, steps, and which card would be alike for others."""
    try:
        return Result(pack, _seen(*opened(pack)))
    except RowRefused as refused:
        return Result(pack, faults=refused.faults)


def _seen(worked: chain.Box, sheets: Sheets) -> dict[str, Any]:
    units = worked.file.units
    speak, numbers = told.voice(sheets, units), sharing.numbered(sheets.cards)
    work = [card for card in sheets.cards if not card.reading]
    return {
        "numbers": course_plan.numbers(worked, sheets),
        "tasks": told.tasks(sheets, units),
        "revision": make.head_of_box(worked.file).revision,
        "digests": sharing.digests(sheets),
        "cards": [(card.name, numbers[card.name], speak.said(card.title), card.place) for card in work],
    }


# -- drawing it ----------------------------------------------------------------------------------------------------


def drawn(pack: Pack, worked: chain.Box, sheets: Sheets) -> Handout:
    """Return a student's handout. Raises RowRefused where the paper is too small."""
    own = _with_list(sheets, worked.file.units, pack)
    chosen = [f"{c.jig}-{c.name}" for c in own.cards if c.name not in pack.shared and not sharing.of_the_sled(c)]
    templates = tuple(one for one in own.templates if not sharing.of_the_sled(one))
    only = [*chosen, *(f"{one.jig}-{one.view.name}" for one in templates)]
    head = replace(make.head_of_box(worked.file), prefix=pack.stem, title=f"{pack.name} – {pack.title}")
    codes = make.codes_of_box(worked)
    try:
        made = compose(head, replace(own, templates=templates), pack.printing, pack.paper, only, codes)
    except CannotBuild as error:
        problems = [replace(p, where="print.paper") if p.where == "paper" else p for p in error.problems]
        raise RowRefused(class_list.refused_by(pack.row, problems)) from None
    return Handout(pack.name, *made)


def compose(
    head: Job,
    sheets: Sheets,
    printing: make.Printing,
    page: str,
    only: Sequence[str] = (),
    codes: Mapping[str, tuple[str, ...]] = _NO_CODES,
    *,
    apart: bool = True,
) -> tuple[Bundle, Bundle]:
    """Compose cards and templates, each for a file of its own unless they are not `apart`. Raises CannotBuild.

    There is no proof: the class has one for each paper.
    """
    head, on = for_printer(head, printing, page)
    made = pages_compose.compose(head, sheets, on, only, codes, proof=False, apart=apart)
    cards, templates = (corrected(bundle, printing) for bundle in made)
    return cards, templates


def for_printer(head: Job, printing: make.Printing, page: str) -> tuple[Job, papers.Paper]:
    """Return what all pages of a job say, and their paper, as they are to be printed."""
    head, on = replace(head, date=printing.date, hand=printing.hand), papers.named(page)
    if printing.printer is None:
        return head, on
    return replace(head, correction=printing.printer.words), on.within(printing.printer.margins)


def corrected(bundle: Bundle, printing: make.Printing) -> Bundle:
    """Return pages that undo what the printer does."""
    return replace(bundle, correction=printing.printer.correction) if printing.printer else bundle


def _with_list(sheets: Sheets, units: Units, pack: Pack) -> Sheets:
    """Return the pages of a box with what is said of where its cards are: on the last page to read, if it has room."""
    where = Text("Where your cards are", tuple(_where(sheets, told.voice(sheets, units), pack)), small=True)
    first = [card for card in sheets.cards if card.reading]
    work = [card for card in sheets.cards if not card.reading]
    longer = [*first[:-1], *(replace(card, bands=(*card.bands, where)) for card in first[-1:])]
    if first and _pages(longer[-1], units, pack) == _pages(first[-1], units, pack):
        return replace(sheets, cards=(*longer, *work))
    listed = Card("where", "Where your cards are", "Read first", (), (where,), jig="box", reading=True)
    return replace(sheets, cards=(*first, listed, *work))


def _pages(card: Card, units: Units, pack: Pack) -> int:
    """Return on how many pages a card comes."""
    head, on = for_printer(Job("", pack.name, "", units, ""), pack.printing, pack.paper)
    return len(pages_compose.compose(head, Sheets((card,)), on)[0].sheets)


def _where(sheets: Sheets, speak: Voice, pack: Pack) -> Iterator[str]:
    """Yield which cards of a box are shared and where they are, and which gauge blocks it needs."""
    work = [card for card in sheets.cards if not card.reading]
    shared = [card for card in work if card.name in pack.shared]
    if shared:
        said = "; ".join(f"{speak.card(card.name)}, {speak.said(card.title)} ({card.place})" for card in shared)
        yield f"You share these cards with others. Each hangs where it is used: {said}."
    if sled := [card for card in work if sharing.of_the_sled(card)]:
        yield f"With the sled, in the file {Path(pack.sled).stem}: {speak.card(sled[0].name)}."
    yield "All other cards are in this pack. Use no other card of the same number."
    if blocks := _blocks(work, speak):
        yield f"Gauge blocks of your box: {'; '.join(blocks)}."


def _blocks(cards: Sequence[Card], speak: Voice) -> list[str]:
    """Return the gauge blocks that a box needs, but for the sled's own, with the cards that want them."""
    sets: dict[tuple[float, str], list[str]] = {}
    for card in cards:
        for band in sharing.flat(card.bands):
            for row in band.rows if isinstance(band, Settings) else ():
                by_block = "gauge block" in speak.said(row.using) and not sharing.of_the_sled(card)
                if by_block and isinstance(row.value, float):
                    sets.setdefault((round(row.value, 3), speak.value(row)), []).append(speak.card(card.name))
    return [f"{size} ({', '.join(dict.fromkeys(wanted))})" for (_, size), wanted in sorted(sets.items())]


def draw(pack: Pack) -> Result:
    """Draw a pack and write its files; return which they are. This is what a worker does."""
    try:
        found = opened(pack)
        made = drawn(pack, *found)
    except RowRefused as refused:
        return Result(pack, faults=refused.faults)
    contents = {pack.cards: pdf.write(made.cards)}
    if made.templates.sheets:
        contents[pack.templates] = pdf.write(made.templates)
    contents[pack.page] = _page(pack, _seen(*found), made, tuple(contents))
    write_files.save(pack.out, contents)
    return Result(pack, {"files": list(contents), "pages": len(made.sheets)})


def _page(pack: Pack, seen: Mapping[str, Any], made: Handout, files: Sequence[str]) -> bytes:
    """Return a student's own page, with links to what several share."""
    more = [pages.File(pack.shared_in, "The cards that you share, as PDF")] if pack.shared else []
    more += [pages.File(pack.sled, "The sled, which several share, as PDF")] if pack.sled else []
    bundle = replace(made.cards, sheets=made.sheets)
    return pages.student(
        student(pack.row.name, pack.stem, files, pack.paper, seen, more), pack.title, course_plan.CAUTIONS, bundle
    )


def student(
    name: str, stem: str, files: Sequence[str], paper: str, seen: Mapping[str, Any], more: Sequence[pages.File] = ()
) -> pages.Student:
    """Return what the pages say of a student, from the record that is kept: a class is never held as sheets."""
    says = {f"{stem}-cards.pdf": "Cards as PDF", f"{stem}-templates.pdf": f"Templates as PDF, {paper}"}
    own = [pages.File(file, says[file]) for file in files if file in says]
    sizes = course_sizes.sizes(Maker(name, seen["numbers"]))
    tasks = tuple(pages.Task(title, tuple(cautions), tuple(steps)) for title, cautions, steps in seen["tasks"])
    return pages.Student(name, seen["revision"], sizes, tasks, page_of(stem), (*own, *more))


def bearing_the_name(file: BoxFile, name: str) -> str:
    """Return a box file that bears a student's name, so that a sheet made from it again bears it too."""
    return change.set_values(file.source, {"title": f"{name} – {file.title}"[:LONGEST_WORDS].strip()})


def page_of(stem: str) -> str:
    """Return the name of the page that lies beside a student's files."""
    return f"{stem}.html"


def in_a_name(page: str) -> str:
    """Return a paper as part of a file name: "300 x 400 mm" has blanks in it."""
    return "".join(letter if letter.isalnum() or letter in ".-" else "-" for letter in page)
