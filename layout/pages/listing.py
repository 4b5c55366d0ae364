"""What the cards of a jig say in rows, as words for a page that is no sheet: settings, readings, tables."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jigs.base import cards, lengths
from jigs.base import drawing as draw
from jigs.record import Record
from layout.pages.bands import flat
from layout.pages.voice import Voice

_FINE = 0.1
"""How finely a length of a table is said, mm."""


class Listing(Record):
    """Rows of words under headings, lengths in the units of the job without their unit; `card` is whose they are."""

    card: str
    title: str
    headings: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]


def listings(every: Sequence[cards.Card], voice: Voice) -> list[Listing]:
    """Return what cards say in rows, in their order; boxes to write in are left out."""
    return [made for card in every for band in flat(card.bands) for made in _of(band, voice.said(card.title), voice)]


def _of(band: cards.Band, card: str, voice: Voice) -> Iterator[Listing]:
    match band:
        case cards.Settings():
            rows = [
                (voice.said(row.what), voice.value(row), voice.within(row), voice.said(row.using)) for row in band.rows
            ]
            yield _listing(card, voice.said(band.title), ("Setting", "Value", "Within", "Set with"), rows)
        case cards.Readings():
            read = [(row.letter, voice.said(row.what), voice.aim(row), voice.limits(row)) for row in band.rows]
            yield _listing(card, voice.said(band.title) or "Readings", ("", "Reading", "Aim", "Go on from – to"), read)
        case draw.Table():
            said = [tuple(_said(cell, voice) for cell in row) for row in band.rows]
            yield _listing(card, voice.said(band.title), band.headings, said)


def _said(cell: draw.Cell, voice: Voice) -> str:
    if cell is None:
        return ""
    return lengths.set_to(cell, voice.units, _FINE) if isinstance(cell, float) else voice.said(cell)


def _listing(card: str, title: str, headings: Sequence[str], rows: Sequence[Sequence[str]]) -> Listing:
    """Return rows without the columns that hold nothing."""
    kept = [i for i in range(len(headings)) if any(row[i] for row in rows)]
    return Listing(card, title, tuple(headings[i] for i in kept), tuple(tuple(row[i] for i in kept) for row in rows))
