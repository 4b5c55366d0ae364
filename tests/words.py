"""What cards and templates say, as plain words: for tests that look for a sentence or a number."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.cards import Card, Sheets
from jigs.base.lengths import Units
from jigs.base.wording import Wording
from jigs.record import Record, values
from layout.pages.voice import Voice


def words_of(thing: Sheets | Card | object, units: Units = "mm") -> str:
    """Return everything that a card, or all of some sheets, says, a line each; cards are called by their names."""
    names = [card.name for card in thing.cards] if isinstance(thing, Sheets) else []
    voice = Voice(units, {name: number for number, name in enumerate(names, start=1)})
    return "\n".join(_said(thing, voice)).replace("\u00a0", " ")


def _said(thing: object, voice: Voice) -> Iterator[str]:
    if isinstance(thing, str | Wording):
        yield voice.said(thing)
    elif isinstance(thing, float):
        yield f"{thing:.6g}"
    elif isinstance(thing, tuple):
        for inner in thing:
            yield from _said(inner, voice)
    elif isinstance(thing, Record):
        for inner in values(thing).values():
            yield from _said(inner, voice)
