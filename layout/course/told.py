"""What a box's cards say, in words: for a page that is read on a screen, or read aloud."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from jigs.base import cards
from jigs.base.cards import Card, Sheets
from jigs.base.lengths import Units
from jigs.course import sharing
from layout.pages.voice import Voice


class Task(NamedTuple):
    """One card in words: what it is called, its cautions, its settings, checks, holds and steps in their order."""

    title: str
    cautions: tuple[str, ...]
    steps: tuple[str, ...]


def voice(sheets: Sheets, units: Units) -> Voice:
    """Return how the pages of a box speak: its units, and the numbers of its cards."""
    numbers = sharing.numbered(sheets.cards)
    return Voice(units, {name: int(number) for name, number in numbers.items() if number.isdigit()})


def tasks(sheets: Sheets, units: Units) -> list[Task]:
    """Return the cards of a box that are worked from, but for the sled's own, which is not of this box."""
    speak = voice(sheets, units)
    work = [card for card in sheets.cards if not card.reading and not sharing.of_the_sled(card)]
    return [_task(card, speak) for card in work]


def _task(card: Card, speak: Voice) -> Task:
    title = f"Card {speak.numbers[card.name]}: {speak.said(card.title)} – {card.place}"
    cautions = tuple(f"{speak.said(c.hazard)}: {speak.said(c.words)}" for c in card.cautions)
    steps = tuple(words for band in sharing.flat(card.bands) for words in _said(band, speak))
    return Task(title, cautions, steps)


def _said(band: cards.Band, speak: Voice) -> Iterator[str]:
    """Yield what there is to do in one band."""
    match band:
        case cards.Settings():
            for setting in band.rows:
                within = f", within {near}" if (near := speak.within(setting)) else ""
                yield f"{speak.said(setting.what)}: {speak.value(setting)}{within}"
        case cards.Checks():
            for check in band.rows:
                yield f"Check: {speak.said(check.what)}: {speak.limits(check)}"
        case cards.Readings():
            for reading in band.rows:
                limits = f"{speak.aim(reading)}, {speak.limits(reading)}"
                yield f"Read {reading.letter}: {speak.said(reading.what)}: {limits}"
        case cards.Hold():
            yield f"HOLD POINT. The teacher signs: {speak.said(band.words)}"
        case cards.Order():
            for step in band.steps:
                yield speak.said(step)
