"""What cards and templates say and what is written on their pages, with the checks that tests of parts use most."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.base.cards import Card, Checks, Hold, Order, Settings, Sheets, Text
from jigs.base.drawing import Table
from jigs.base.lengths import Units
from layout.pages import compose
from layout.pages.job import Job
from layout.pages.voice import Voice
from layout.sheet import lettering, paper
from layout.sheet.hand import ORDINARY, Hand
from layout.sheet.marks import Bundle, Sheet
from tests.legibility import faults
from tests.on_cards import bands, views

__all__ = ["bands", "composed", "faults", "lost_words", "said", "settings_of", "views"]


def composed(sheets: Sheets, page: str = "A4", units: Units = "mm", hand: Hand = ORDINARY) -> tuple[Bundle, Bundle]:
    """Return the cards and the templates of some sheets as they are printed."""
    return compose.compose(Job("box", "Box", "settings", units, "abc123", hand=hand), sheets, paper.named(page))


def lost_words(sheets: Sheets, pages: Sequence[Sheet], units: Units) -> list[str]:
    """Return what is named in a picture and is not written on it."""
    voice = Voice(units)
    written: dict[str, str] = {}
    for group in (group for sheet in pages for group in sheet.groups()):
        written[group.name] = " ".join([written.get(group.name, ""), *(text.words for text in group.texts)])
    found = []
    for card in sheets.cards:
        for view in views(card).values():
            there = " ".join(words for name, words in written.items() if name.endswith(f"-{view.name}-writing"))
            said = [voice.said(label.words) for label in view.labels]
            found += [f"{card.name}, {view.name}: {w}" for words in said for w in words.split() if w not in there]
    return found


def settings_of(card: Card, units: Units = "mm") -> dict[str, str]:
    """Return the values of a card's settings by name, as they are printed."""
    voice = Voice(units)
    return {row.name: voice.value(row) for band in bands(card) if isinstance(band, Settings) for row in band.rows}


def said(card: Card, units: Units = "mm") -> str:
    """Return all that a card says, but for its pictures, in one line."""
    voice, words = Voice(units), []
    for caution in card.cautions:
        words += [caution.hazard, caution.words]
    for band in bands(card):
        if isinstance(band, Settings):
            words += [x for row in band.rows for x in (row.what, voice.value(row), row.using)]
        elif isinstance(band, Checks):
            words += [x for row in band.rows for x in (row.what, voice.limits(row))] + [band.words]
        elif isinstance(band, Hold):
            words.append(band.words)
        elif isinstance(band, Order):
            words += [band.title, *band.steps]
        elif isinstance(band, Text):
            words += band.paragraphs
        elif isinstance(band, Table):
            words += [cell for row in band.rows for cell in row if isinstance(cell, str)]
    return " | ".join(voice.said(each) for each in words).replace(lettering.NO_BREAK, " ")
