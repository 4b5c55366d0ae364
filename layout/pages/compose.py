"""Cards and templates onto pages: two print jobs, each page with a mark of its own."""

from __future__ import annotations

import hashlib
import re
from collections.abc import Collection, Mapping, Sequence

from jigs.base import cards
from jigs.base.errors import CannotBuild
from jigs.base.rules import Problem, stop
from jigs.record import Record, replace
from layout.pages import calibration, card, frames, proof, template
from layout.pages.job import Job
from layout.pages.voice import Voice
from layout.sheet import hand as hands
from layout.sheet import lettering, paper
from layout.sheet.marks import Bundle, Group, Layer, Sheet
from layout.sheet.paper import Paper

_NONE: Mapping[str, tuple[str, ...]] = {}
_PROOF_OF_ROLL = 297.0
"""Length of the proof that is cut off a roll, mm."""


class _Page(Record):
    """A page before it is known how many there are."""

    name: str
    title: str
    paper: Paper
    layers: tuple[Layer, ...]
    mark: str
    card: frames.CardPage | None = None
    back: bool = False


def compose(
    job: Job,
    sheets: cards.Sheets,
    on: Paper,
    only: Sequence[str] = (),
    codes: Mapping[str, tuple[str, ...]] = _NONE,
    *,
    proof: bool = True,
    apart: bool = False,
) -> tuple[Bundle, Bundle]:
    """Return the cards and the templates of a job, each as what goes into one file; `codes` are those of some cards.

    With `only` those that are called so by name, family or number; they keep the numbers they have among all. Without
    `proof` the templates are those of a print job that has its proof elsewhere. `apart` each file counts its own pages,
    else the job's. Raises CannotBuild, naming the paper that would do, where a template fits no page.
    """
    numbers = numbered(sheets.cards)
    voice = _voice(job, sheets)
    chosen = [c for c in sheets.cards if not only or _asked(c.name, c.jig, only)]
    pieces = asked(sheets.templates, only)
    read = [page for one in chosen for page in _card_pages(job, one, str(numbers[one.name]), voice, on, codes)]
    cut = _template_pages(job, pieces, voice, on, proof=proof) if pieces else []
    both = [*_placed(job, read), *_placed(job, cut)] if apart else _placed(job, [*read, *cut])
    lettering.refuse_unknown(job.date)
    for sheet in both:
        for group in sheet.groups():
            for text in group.texts:
                lettering.refuse_unknown(text.words)
    if job.hand.thin:
        both = [hands.thinned(sheet) for sheet in both]
    record = " ".join(f"{sheet.name.removeprefix(f'{job.prefix}-')}={sheet.mark}" for sheet in both)
    cards_of, templates_of = both[: len(read)], both[len(read) :]
    return _bundle(job, "cards", cards_of, record), _bundle(job, "templates", templates_of, record)


def pages_called(
    job: Job, sheets: cards.Sheets, on: Paper, names: Collection[str], codes: Mapping[str, tuple[str, ...]] = _NONE
) -> list[Sheet]:
    """Return the pages of some cards, or those that some pieces lie on, as they stand among all.

    Only which page of how many each is stands on none: for that all would have to be composed. Raises as `compose`.
    """
    numbers, voice = numbered(sheets.cards), _voice(job, sheets)
    chosen = [one for one in sheets.cards if one.name in names]
    pages = [page for one in chosen for page in _card_pages(job, one, str(numbers[one.name]), voice, on, codes)]
    pieces = tuple(name for one in sheets.templates if (name := f"{one.jig}-{one.view.name}") in names)
    if pieces:
        pages += _template_pages(job, sheets.templates, voice, on, proof=False, holding=pieces)
    return [_sheet(job, page, number, 0) for number, page in enumerate(pages, start=1)]


def proof_alone(job: Job, on: Paper) -> Bundle:
    """Return the proof of a paper as a print job of its own, for several jobs that are printed together."""
    sheets = _placed(job, [_proof(job, on)])
    return _bundle(job, "proof", [hands.thinned(sheet) for sheet in sheets] if job.hand.thin else sheets, "")


def pages_that_differ(job: Job, before: cards.Sheets, now: cards.Sheets, on: Paper) -> list[str]:
    """Return the names of the pages that would not be what they were, without drawing the cards.

    What stands on a card is compared, to a thousandth of a mm; templates are put on pages, since where a piece lies
    depends on the others.
    """
    was, numbers = {one.name: one for one in before.cards}, numbered(now.cards)
    was_numbered = numbered(before.cards)
    found = [
        _called(one, str(numbers[one.name]))
        for one in now.cards
        if was_numbered.get(one.name) != numbers[one.name] or not _alike(was[one.name], one)
    ]
    marks = [_short(job, _all_templates(job, sheets, on)) for sheets in (before, now)]
    return found + [name for name, mark in marks[1].items() if marks[0].get(name) != mark]


def marks_of(
    job: Job, sheets: cards.Sheets, on: Paper, names: Collection[str], codes: Mapping[str, tuple[str, ...]] = _NONE
) -> dict[str, str]:
    """Return the marks of those pages that are called so, as `compose` gives them. No other card is composed."""
    numbers = numbered(sheets.cards)
    voice = _voice(job, sheets)
    chosen = [(one, str(numbers[one.name])) for one in sheets.cards]
    chosen = [(one, number) for one, number in chosen if _called(one, number) in names]
    pages = [page for one, number in chosen for page in _card_pages(job, one, number, voice, on, codes)]
    if any(name.startswith("template-") or name == "proof" for name in names):
        pages += _all_templates(job, sheets, on)
    return {name: mark for name, mark in _short(job, pages).items() if name in names}


def _voice(job: Job, sheets: cards.Sheets) -> Voice:
    return Voice(job.units, {name: one for name, one in numbered(sheets.cards).items() if isinstance(one, int)})


def _all_templates(job: Job, sheets: cards.Sheets, on: Paper) -> list[_Page]:
    """Return the pages of templates for their marks: the code of the job, which is in none, is left out."""
    if not sheets.templates:
        return []
    return _template_pages(replace(job, codes=()), sheets.templates, _voice(job, sheets), on)


def _short(job: Job, pages: Sequence[_Page]) -> dict[str, str]:
    """Return the marks of pages by their names without the job."""
    return {page.name.removeprefix(f"{job.prefix}-"): page.mark for page in pages}


def _alike(one: cards.Card, other: cards.Card) -> bool:
    """Tell whether the same stands on two cards, to a thousandth of a mm."""
    both = repr(one), repr(other)
    return both[0] == both[1] or _to_a_thousandth(both[0]) == _to_a_thousandth(both[1])


def _to_a_thousandth(written: str) -> str:
    return re.sub(r"-?\d+\.\d+", lambda number: f"{float(number[0]):.3f}", written)


def asked(templates: Sequence[cards.Template], only: Sequence[str]) -> list[cards.Template]:
    """Return the templates that are called so by name, family or card; all of them where nothing is called."""
    return [t for t in templates if not only or _asked(t.view.name, t.jig, only) or t.card in only]


def _asked(name: str, family: str, only: Sequence[str]) -> bool:
    return bool({name, family, f"{family}-{name}"} & set(only))


def numbered(made: Sequence[cards.Card]) -> dict[str, int | str]:
    """Return what each card is called: reading pages R1, R2, the cards 1, 2 and so on, others by their own name."""
    read = [one.name for one in made if one.reading]
    work = [one.name for one in made if not one.reading and not one.called]
    numbers: dict[str, int | str] = {name: f"R{i}" for i, name in enumerate(read, 1)}
    return numbers | {name: i for i, name in enumerate(work, 1)} | {one.name: one.called for one in made if one.called}


def _called(one: cards.Card, number: str) -> str:
    """Return the name of the first page of a card, without the job."""
    return f"{number.lower()}-{one.name}" if one.reading or one.called else f"card-{number}-{one.name}"


def _bundle(job: Job, kind: str, sheets: Sequence[Sheet], record: str) -> Bundle:
    """Return some of the pages as one file; each file records the marks of all pages of the job."""
    title, said = f"{job.title}: {kind}", f"revision {job.revision}; marks {record}"
    name = f"{job.prefix}-{kind}"
    return Bundle(name, title, job.settings, said, tuple(sheets), carried=job.carried, to_scale=kind != "cards")


# -- cards ---------------------------------------------------------------------------------------------------------


def _card_pages(
    job: Job, one: cards.Card, number: str, voice: Voice, on: Paper, codes: Mapping[str, tuple[str, ...]]
) -> list[_Page]:
    page = frames.card_page(on, job.units, large=job.hand.large)
    hand = replace(job.hand, large=False)  # the whole card is enlarged
    head = card.Head(
        number=number,
        title=voice.said(one.title),
        below=" · ".join(words for words in (one.place, voice.said(one.about)) if words),
        job=job.title,
        revision=f"rev {job.revision}",
        codes=codes.get(one.name, ()),
    )
    front = card.sides(one, head, voice, page.box(back=False), hand)
    across = page.box(back=True).left - page.box(back=False).left
    found, called = [], _called(one, number)
    for place, side in enumerate(front):
        groups = tuple(g.moved(across, 0) for g in side.groups) if side.back else side.groups
        name = f"{job.prefix}-{called}" + ("" if not place else "-back" if place == 1 else f"-{place + 1}")
        title = f"{number} {head.title}" if one.reading or one.called else f"Card {number}: {head.title}"
        title += "" if not place else ", back" if place == 1 else f", page {place + 1}"
        layers = (Layer("card", "Card", groups),)
        found.append(_Page(name, title, page.paper, layers, mark_of(groups), page, side.back))
    return found


def mark_of(groups: Sequence[Group]) -> str:
    """Return the mark of a page: made from all that is drawn on it, but for what says which job and page it is."""
    drawn = hashlib.sha256()
    for group in groups:
        if not group.name.endswith("-header"):
            drawn.update(repr((group.strokes, group.texts)).encode())
        else:
            drawn.update(repr([text.words for text in group.texts[:3]]).encode())
    return drawn.hexdigest()[:4]


# -- templates -----------------------------------------------------------------------------------------------------


def _template_pages(
    job: Job,
    pieces: Sequence[cards.Template],
    voice: Voice,
    on: Paper,
    *,
    proof: bool = True,
    holding: tuple[str, ...] = ("",),
) -> list[_Page]:
    """Return the pages that pieces lie on; with `holding` only those that hold one whose name begins so."""
    frame = frames.template_frame(on)
    edges = calibration.edges_of(frame)
    pieces = template.to_fit(pieces, voice, on, job.hand)
    named = {one.card for one in pieces if one.card in voice.numbers}
    first = [voice.card(name) for name in sorted(named, key=voice.numbers.__getitem__)]
    notes = template.before_cutting(first, edges, job.hand, folded=all(one.folded for one in pieces))
    filled = template.pages(pieces, voice, on, job.hand, notes)
    if filled is None:
        raise CannotBuild([_too_small(job, pieces, voice, on)])
    found = [_proof(job, on)] if proof else []
    for number, page in enumerate(filled, start=1):
        if not any(block.name.startswith(holding) for block in page.blocks):
            continue
        parts, writing = template.place(page.blocks)
        layers = (
            Layer("frame", "Frame", calibration.groups(page.frame)),
            Layer("template", "Templates", parts),
            Layer("writing", "Dimensions and notes", writing),
        )
        title = _title_of(page, pieces, voice)
        found.append(
            _Page(
                f"{job.prefix}-template-{number}",
                f"T{number} {title}",
                page.paper,
                layers,
                mark_of([*parts, *writing]),
            )
        )
    return found


def _title_of(page: template.Filled, pieces: Sequence[cards.Template], voice: Voice) -> str:
    """Return what stands on a page, in words."""
    names = {f"{one.jig}-{one.view.name}": voice.said(one.view.title) for one in pieces}
    here = [names[block.name] for block in page.blocks if block.name in names]
    if not here:  # a part of a large piece is called after it
        here = [title for name, title in names.items() if page.blocks and page.blocks[0].name.startswith(name)][:1]
    return ", ".join([here[0], *(title[:1].lower() + title[1:] for title in here[1:])]) if here else "templates"


def _proof(job: Job, on: Paper) -> _Page:
    if on.roll:
        on = on.cut(max(min(on.width, on.height), _PROOF_OF_ROLL))
    frame = frames.template_frame(on)
    facts = proof.Facts(job.title, job.revision, job.correction, job.codes)
    groups = proof.groups(frame, frame.bottom + template.STRIP + 2.0, facts, calibration.edges_of(frame))
    layers = (Layer("frame", "Frame", calibration.groups(frame)), Layer("proof", "Proof", tuple(groups)))
    lasting = [group for group in groups if group.name != "proof-code"]  # it proves the printer, whatever the job
    return _Page(f"{job.prefix}-proof", "P Proof of scale", on, layers, mark_of(lasting))


def _too_small(job: Job, pieces: Sequence[cards.Template], voice: Voice, on: Paper) -> Problem:
    """Say that a page is too small, for which pieces, and which paper would do for them all."""
    larger = paper.larger(on, job.units)
    enough = next((page.name for page in larger if template.pages(pieces, voice, page, job.hand) is not None), None)
    refused = [voice.said(one.view.title) for one in pieces if template.pages([one], voice, on, job.hand) is None]
    return stop(
        "paper",
        "{pieces} can't go on paper of {width} by {height}: a template is never made smaller",
        "the smallest paper that holds it is {enough}" if enough else "no common paper holds it",
        pieces=", ".join(refused),
        width=on.width,
        height=on.height,
        enough=enough,
    )


# -- the place of each page ----------------------------------------------------------------------------------------


def _placed(job: Job, pages: Sequence[_Page]) -> list[Sheet]:
    """Return the pages with what says where they belong: the foot of a card, the strip of a template."""
    count = len(pages)
    return [_sheet(job, page, number, count) for number, page in enumerate(pages, start=1)]


def _sheet(job: Job, page: _Page, number: int, count: int) -> Sheet:
    place = f"page {number} of {count}" if count else ""
    if page.card:
        end = card.foot(page.card.box(back=page.back), job.units, place, page.name, page.mark)
        groups, by = (*page.layers[0].groups, end), page.card.scale
        layer = Layer("card", "Card", tuple(group.scaled(by) for group in groups) if by != 1 else groups)
        return Sheet(page.name, page.title, page.paper, (layer,), number, count, page.mark)
    frame = frames.template_frame(page.paper)
    name, _, title = page.title.partition(" ")
    said = template.Strip(
        name,
        title,
        " · ".join(said for said in (f"mark {page.mark}", place, f"rev {job.revision}", job.title) if said),
        "print at 100 %, one side" if job.correction == "none" else f"100 %, one side; {job.correction}",
        f"1:1 · {job.units}",
        job.date,
    )
    strip = template.strip(frame, said, job.units, calibration.edges_of(frame), square=not page.name.endswith("-proof"))
    first = Layer("frame", "Frame and strip", (template.outline(frame), *page.layers[0].groups, *strip))
    return Sheet(page.name, page.title, page.paper, (first, *page.layers[1:]), number, count, page.mark)
