"""The cards of the indexing sled, alone and in a box: how it is made, set, and cut with; and its templates."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.cards import Card, Sheets, Text
from jigs.base.rules import worst_first
from jigs.parts.joint import cut_card, make_card, set_card, templates
from jigs.parts.joint.made import Sled
from jigs.record import replace


def of(sled: Sled, *, whole: bool = False) -> Sheets:
    """Return the cards and templates of a sled alone; what to know of it stands at the end of its first card."""
    made = make_card.card(sled)
    return _sheets(sled, _with_warnings(made, sled), whole=whole, in_box=False)


def in_box(sled: Sled, *, whole: bool = False) -> Sheets:
    """Return those of the sled that cuts the joint of a box: the box says what is to be known of it."""
    return _sheets(sled, make_card.card(sled), whole=whole, in_box=True)


def _sheets(sled: Sled, first: Card, *, whole: bool, in_box: bool) -> Sheets:
    made = (first, set_card.card(sled), cut_card.card(sled, in_box=in_box))
    return Sheets(made, templates.of(sled, whole=whole))


def _with_warnings(card: Card, sled: Sled) -> Card:
    said = tuple(_warnings(sled))
    return replace(card, bands=(*card.bands, Text("Know before you cut", said))) if said else card


def _warnings(sled: Sled) -> Iterator[str]:
    """Yield what is warned of, with what to do about it; choices that are open are told on the screen."""
    for problem in worst_first(sled.problems):
        if problem.severity == "warning":
            yield problem.sentences(sled.units)
