"""Drawings onto sheets: each laid out as well as can be, with what every page carries."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.base.drawing import Drawing, Notes
from jigs.base.errors import CannotBuild
from jigs.base.rules import Problem, stop
from jigs.base.wording import read_out
from layout.draw import furniture
from layout.draw.blocks import Block
from layout.fill.flow import Laid, cut_off, flows, rank
from layout.fill.job import Job, page_facts
from layout.fill.page_forms import PageForm, page_forms
from layout.fill.ways import Choices, letters_for
from layout.sheet import hand, lettering, paper
from layout.sheet.marks import Bundle, Layer, Sheet
from layout.sheet.paper import Paper

_TOGETHER = 2
"""How many cautions in large print stand together."""


def compose(job: Job, drawings: Sequence[Drawing], on: Paper) -> Bundle:
    """Return the sheets of a job. Raises CannotBuild, naming the paper that would do, where a page is too small."""
    if job.hand.large and drawings:
        drawings = [*drawings, _cautions(drawings)]
    laid = [(drawing, _lay_out(job, drawing, on)) for drawing in drawings]
    refused = [drawing for drawing, found in laid if found is None]
    if refused:
        raise CannotBuild([_too_small(job, refused, on)])
    kept = [(drawing, found) for drawing, found in laid if found is not None]
    count = sum(len(found.sheets) for _, found in kept)
    sheets: list[Sheet] = []
    for drawing, found in kept:
        for number, filled in enumerate(found.sheets, start=1):
            sheets.append(_sheet(job, drawing, filled.page, filled.blocks, number, len(sheets) + 1, count))
    for sheet in sheets:
        _check_letters(sheet)
    if job.hand.thin:
        sheets = [hand.thinned(sheet) for sheet in sheets]
    return Bundle(job.prefix, job.title, job.settings, f"revision {job.revision}", tuple(sheets), carried=job.carried)


def _cautions(drawings: Sequence[Drawing]) -> Drawing:
    """Return the cautions of all these drawings in large print: the squares hold them in small letters only."""
    every = tuple(dict.fromkeys(caution for drawing in drawings for caution in drawing.cautions))
    starts = range(0, len(every), _TOGETHER)
    body = tuple(
        Notes(f"cautions-{start // _TOGETHER + 1}", "Cautions", every[start : start + _TOGETHER]) for start in starts
    )
    return Drawing("cautions", "cautions", "to be read before any of the work", body, drawings[0].cautions)


def _check_letters(sheet: Sheet) -> None:
    for group in sheet.groups():
        for text in group.texts:
            lettering.refuse_unknown(text.words)


def _lay_out(job: Job, drawing: Drawing, on: Paper) -> Laid | None:
    """Return the best way to lay out a drawing: whole views before details, few pieces to join, few pages."""
    made = Choices(job, drawing)
    for cut in (False, True):
        found: list[Laid] = []
        for letters in letters_for(drawing):
            found += flows(job, drawing, made, page_forms(on), letters, cut=cut)
            if found and min(map(rank, found))[:4] == (0, 0, 0, 1):
                break  # smaller letters do no better than one page
        if found and on.roll:
            return min((cut_off(job, drawing, laid) for laid in found), key=rank)
        if found:
            return _nested(job, drawing, min(found, key=rank), on, found)
    return None


def _nested(job: Job, drawing: Drawing, best: Laid, on: Paper, found: Sequence[Laid]) -> Laid:
    if len(best.sheets) == 1 or best.pieces:
        return best
    from layout.fill import shared_pages  # noqa: PLC0415 - most drawings take one page and need none of it

    return shared_pages.nested(job, drawing, best, page_forms(on), found)


def _sheet(
    job: Job, drawing: Drawing, page: PageForm, placed: Sequence[Block], part: int, number: int, count: int
) -> Sheet:
    """Return one sheet, `part` counting those of its drawing."""
    facts = page_facts(job, drawing, page, placed, part, number, count)
    title = furniture.title_block(page.title, facts)
    proof = furniture.proof(*page.proof, drawing.cautions)
    assert title is not None, "the title block fitted while the page was laid out"
    drawn = [block.drawn() for block in placed]
    layers = (
        Layer("frame", "Frame and title block", (furniture.frame(page.paper.frame), title)),
        Layer("proof", "Proof of scale", proof),
        Layer("template", "Template", tuple(group for parts, _ in drawn for group in parts)),
        Layer("writing", "Dimensions and notes", tuple(group for _, writing in drawn for group in writing)),
    )
    family = f"{job.prefix}-{drawing.jig}" if drawing.jig not in ("", job.prefix) else job.prefix
    name = f"{family}-{drawing.name}" + (f"-{part}" if part > 1 else "")
    return Sheet(name, facts.sheet, page.paper, layers, number, count)


def _too_small(job: Job, refused: Sequence[Drawing], on: Paper) -> Problem:
    """Say that a page is too small, for which sheets, and which paper would do for them all."""
    larger = paper.larger(on, job.units)
    enough = next((page.name for page in larger if all(_lay_out(job, drawing, page) for drawing in refused)), None)
    return stop(
        "paper",
        "{sheets} can't go on paper of {width} by {height}: a template is never made smaller",
        "the smallest paper that holds it is {enough}" if enough else "no common paper holds it",
        sheets=", ".join(read_out(drawing.title, job.units) for drawing in refused),
        width=on.width,
        height=on.height,
        enough=enough,
    )
