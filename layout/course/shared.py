"""What several students share: the cards that come out alike, the sleds, the list of who uses what, the proofs.

Who prints on another paper shares no page with the others, but only with those of the same: its name says the paper
then. Cards are on the page that goes with the paper of the templates, so A3 shares its cards with A4.
"""

from __future__ import annotations

import tempfile
from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import BinaryIO

from jigs.base.cards import Card, Sheets, Text
from jigs.base.catalogue import find
from jigs.base.drawing import Table
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.wording import on_paper, read_out
from jigs.box import chain
from jigs.box import sheets as box_sheets
from jigs.boxfile import reading
from jigs.boxfile.sections import BoxFile
from jigs.course import sharing, sleds
from jigs.parts.joint import in_box
from jigs.record import Record, replace
from layout import make
from layout.carry import embedded, short_form
from layout.course.pack import CARDS, SHARED, compose, corrected, for_printer, in_a_name
from layout.pages.job import Job
from layout.sheet import carried
from layout.sheet.marks import Bundle
from layout.write import files as write_files

with lazily():  # a run with nothing to draw needs none of it
    from layout.pages import compose as pages_compose
    from layout.write import join, pdf

_NAMES = 4  # names on a page that several share; the list has all of them
A_ROW = 12
"""Names in one row of the list."""


class Alike(Record):
    """A card that comes out alike for several: its name and digest, a box file that it is drawn from, for whom."""

    name: str
    digest: str
    text: str
    users: tuple[str, ...]
    number: str
    title: str
    place: str


class SharedSled(Record):
    """A sled that several share: its file, a box file of one of them, for whom it is."""

    file: str
    text: str
    users: tuple[str, ...]


class On(Record):
    """What cards are printed on: the paper, and how it is called where the class has others too, else nothing."""

    page: str
    alone: str = ""


def sled_file(file: BoxFile, base: BoxFile, paper: str = "") -> str:
    """Return where the sled is that a box takes, called after what it is for, and its paper if not the class's."""
    mark = carried.revision_mark("sled", sleds.shared_sled(file))
    return f"{SHARED}/{'-'.join(filter(None, (sleds.called(file, base, mark), in_a_name(paper))))}.pdf"


def cards_file(paper: str = "") -> str:
    """Return where the cards are that several share, and the paper if it is not the class's."""
    return f"{SHARED}/cards-{in_a_name(paper)}.pdf" if paper else CARDS


def proof_file(page: str) -> str:
    """Return where the proof of a paper is."""
    return f"{SHARED}/proof-{in_a_name(page)}.pdf"


def _for(users: Sequence[str]) -> str:
    more = len(users) - _NAMES
    return f"for {', '.join(users[:_NAMES])}" + (f" and {more} more" if more > 0 else "")


# -- a sled --------------------------------------------------------------------------------------------------------


def sled(shared: SharedSled, printing: make.Printing, page: str) -> Bundle:
    """Return the pages of a sled; its revision does not depend on who uses it. Raises CannotBuild.

    Its card has the number that it has among the cards of a box, so that "card 2" on any other page leads to it.
    """
    file = reading.read(shared.text, "the box file")
    jig, settings = find("sled"), sleds.shared_sled(file)
    made_for_all = in_box.sheets(file, settings)
    own = {card.name: card for card in made_for_all.cards if sharing.of_the_sled(card)}
    templates = tuple(one for one in made_for_all.templates if sharing.of_the_sled(one))
    cards = tuple(own.get(card.name, card) for card in box_sheets.sheets(chain.work_out(file)).cards)
    whole = jig.settings(settings, file.units)
    told = zip(sleds.TOLD_APART, sleds.says(settings, file.units), strict=True)
    job = Job(
        prefix=Path(shared.file).stem,
        title=f"Sled {_for(shared.users)}",
        settings="; ".join(" ".join(pair) for pair in told),
        units=file.units,
        revision=carried.revision_mark("sled", settings),
        codes=short_form.of_jig(jig, whole, file.units),
        carried=embedded.of_jig("sled", settings, whole, file.units),
    )
    only = [f"{one.jig}-{one.name}" for one in own.values()] + [f"{one.jig}-{one.view.name}" for one in templates]
    codes = dict.fromkeys(own, job.codes)
    made, cut = compose(
        *(job, Sheets(_said_for(cards, own, shared.users, file.units), templates), printing, page, only, codes),
        apart=False,
    )
    return replace(made, title=job.title, sheets=(*made.sheets, *cut.sheets))


def _said_for(
    cards: Sequence[Card], chosen: Mapping[str, object], users: Sequence[str], units: Units
) -> tuple[Card, ...]:
    """Return cards that say below their title for whom they are."""

    def told(card: Card) -> str:
        about = read_out(card.about, units, on_paper)
        return " · ".join(words for words in (_for(users), about) if words)

    return tuple(replace(card, about=told(card)) if card.name in chosen else card for card in cards)


# -- cards ---------------------------------------------------------------------------------------------------------


def cards(
    base: BoxFile, alike: Sequence[Alike], used: Sequence[SharedSled], on: On, printing: make.Printing, to: BinaryIO
) -> None:
    """Write the list of what is shared and each shared card once, in the order of work; memory holds one box's."""
    page = on.page
    ordered = sorted(alike, key=lambda one: (int(one.number), one.digest))
    entries: dict[str, list[join.Entry]] = {}
    with tempfile.TemporaryDirectory(prefix=write_files.ASIDE) as folder:
        listed = _pages(_list(base, ordered, used, on, printing), Path(folder) / "list")
        for text in dict.fromkeys(one.text for one in ordered):
            sheets = box_sheets.sheets(chain.work_out(reading.read(text, "the box file")))
            for one in ordered:
                if one.text == text:
                    drawn = _card(base, one, sheets, printing, page)
                    entries[one.digest] = _pages(drawn, Path(folder) / one.digest, f", {_for(one.users)}")
        every = [*listed, *(entry for one in ordered for entry in entries[one.digest])]
        join.join(every, f"{base.title}: shared cards", to)


def _pages(bundle: Bundle, folder: Path, whose: str = "") -> list[join.Entry]:
    """Write each page into a file of its own, so that the outline of what they are joined to names every page."""
    folder.mkdir()
    entries = []
    for number, sheet in enumerate(bundle.sheets):
        path = folder / f"{number}.pdf"
        path.write_bytes(pdf.write(replace(bundle, sheets=(sheet,))))
        entries.append(join.Entry(f"{sheet.title}{whose}", path))
    return entries


def _card(base: BoxFile, one: Alike, sheets: Sheets, printing: make.Printing, page: str) -> Bundle:
    job = Job("shared", f"{base.title}, shared", _for(one.users), base.units, one.digest[: carried.MARK_LENGTH])
    card = next(card for card in sheets.cards if card.name == one.name)
    told = _said_for(sheets.cards, {one.name: None}, one.users, base.units)
    return compose(job, Sheets(told), printing, page, [f"{card.jig}-{card.name}"])[0]


def _list(base: BoxFile, alike: Sequence[Alike], used: Sequence[SharedSled], on: On, printing: make.Printing) -> Bundle:
    """Return the page that says which card and which sled is for whom."""
    everyone = len({name for one in used for name in one.users}), f"everyone{f' on {on.alone}' if on.alone else ''}"
    rows = [row for one in alike for row in _rows((one.number, one.title, one.place), one.users, everyone)]
    tables = [Table("cards", "Cards", ("Card", "Work", "Place", "For"), tuple(rows))] if rows else []
    sled_rows = [row for one in used for row in _rows((Path(one.file).stem,), one.users, everyone)]
    tables.append(Table("sleds", "Sleds", ("File", "For"), tuple(sled_rows)))
    words = Text("", (
        "Hang each card where it is used. Only those who are named on it use it.",
        "Everyone else has a card of the same number in the pack.",
    ))  # fmt: skip
    about = "printed once, for the place where it is used"
    listed = Card("shared", "Shared cards and sleds", "Read first", (), (*tables, words), about, "class", True)
    revision = carried.revision_mark("shared", {f"{one.number} {one.digest}": one.users for one in alike})
    job = Job("shared", f"{base.title}, shared", "", base.units, revision)
    return compose(job, Sheets((listed,)), printing, on.page)[0]


def _rows(what: tuple[str, ...], users: Sequence[str], everyone: tuple[int, str]) -> list[tuple[str, ...]]:
    """Return rows that say what is for whom, a few names in a row."""
    if len(users) == everyone[0] > 2:
        return [(*what, everyone[1])]
    starts = range(0, len(users), A_ROW)
    return [(*(what if not start else ("",) * len(what)), ", ".join(users[start : start + A_ROW])) for start in starts]


def proof(base: BoxFile, printing: make.Printing, page: str) -> Bundle:
    """Return the proof of a paper, of which a class needs one and not one a student."""
    head, on = for_printer(replace(make.head_of_box(base), prefix="class"), printing, page)
    return corrected(pages_compose.proof_alone(head, on), printing)
