"""What of a class is printed once, and what is a student's own.

A card is shared where it comes out alike for two students or more: the same words, pictures and numbers, to a
ten-thousandth of a mm, under the same number among the cards. Whose box it is, and its revision, do not count. It is
printed once, for the place where it is used. So whether a card is shared is a matter of the whole list; everything else
of a student is a matter of that student's row alone.

A sled is always shared: its own card and templates are made for all whose joint is cut alike, boards rounded up to the
next step. A reading page is always a student's own, since it tells of one box, and so is every other template, since
each is used up.
"""

from __future__ import annotations

import hashlib
import re
from collections.abc import Iterable, Iterator, Mapping

from jigs.base.cards import Band, Beside, Card, Hold, Sheets, Template

SLED_CARD, SLED = "make-sled", "sled"
"""The card that a sled is made from, and its family."""
_NUMBER = re.compile(r"-?\d+\.\d+(?:e[-+]?\d+)?")
_NAMED = re.compile(r"\[card:([a-z0-9-]+)\]")
_NUDGE = 0.0000312345
"""Added to a number before it is rounded, so that none of those in use stands where rounding may go either way."""


def numbered(cards: Iterable[Card]) -> dict[str, str]:
    """Return what each card of a box is called on paper: R1, R2 what is read once, 1, 2 and so on the others."""
    numbers: dict[str, str] = {}
    read = work = 0
    for card in cards:
        read, work = read + card.reading, work + (not card.reading)
        numbers[card.name] = f"R{read}" if card.reading else str(work)
    return numbers


def digest(card: Card, numbers: Mapping[str, str]) -> str:
    """Return a digest of all that is drawn on a card, its number and those of the cards that it names with it."""
    drawn = _NUMBER.sub(lambda found: f"{float(found[0]) + _NUDGE:.4f}", repr(card))
    named = {name: numbers.get(name, "") for name in sorted({card.name, *_NAMED.findall(drawn)})}
    return hashlib.sha256(repr((named, drawn)).encode()).hexdigest()[:32]


def of_the_sled(one: Card | Template) -> bool:
    """Tell whether a page is the sled's, of which all who use it have one."""
    return one.jig == SLED and (one.name if isinstance(one, Card) else one.card) == SLED_CARD


def digests(sheets: Sheets) -> dict[str, str]:
    """Return the digests of the cards of a box that others may have too, by name."""
    numbers = numbered(sheets.cards)
    return {c.name: digest(c, numbers) for c in sheets.cards if not c.reading and not of_the_sled(c)}


def holds(sheets: Sheets) -> tuple[tuple[str, str], ...]:
    """Return the holds of a box: the number of the card that each stands on, and which one it is."""
    numbers = numbered(sheets.cards)
    return tuple(
        (numbers[card.name], band.name or card.name)
        for card in sheets.cards
        for band in flat(card.bands)
        if isinstance(band, Hold)
    )


def flat(bands: Iterable[Band]) -> Iterator[Band]:
    """Yield bands one by one, those that stand side by side too."""
    for band in bands:
        if isinstance(band, Beside):
            yield from flat((band.left, band.right))
        else:
            yield band
