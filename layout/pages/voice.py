"""How a job's words become plain text on its pages: its units, and the numbers of its cards."""

from __future__ import annotations

import re
from collections.abc import Mapping

from jigs.base import lengths
from jigs.base.cards import Check, Reading, Setting
from jigs.base.lengths import Units
from jigs.base.wording import Words, on_paper, read_out
from jigs.record import Record, field
from layout.sheet import lettering

_CARD = re.compile(r"\[card:([a-z0-9-]+)\]")
_NUMBER = re.compile(r"\[number:([a-z0-9-]+)\]")


class Voice(Record):
    """Words and numbers as one job prints them. `numbers` are those of its cards, by name."""

    units: Units
    numbers: Mapping[str, int] = field(default_factory=dict)

    def said(self, words: Words) -> str:
        """Return words as text, sizes as they are cut, cards by their number."""
        text = read_out(words, self.units, on_paper)
        text = _NUMBER.sub(lambda found: str(self.numbers.get(found[1], "–")), text)
        return lettering.together(_CARD.sub(lambda found: self.card(found[1]), text))

    def card(self, name: str) -> str:
        """Return what a card is called: `card 5`, or "the card" where the job has it not."""
        number = self.numbers.get(name)
        return f"card{lettering.NO_BREAK}{number}" if number else "its card"

    def value(self, setting: Setting) -> str:
        """Return the value of a setting, as finely as it must be held."""
        if isinstance(setting.value, float):
            return lengths.set_to(setting.value, self.units, setting.within or 1.0)
        return self.said(setting.value)

    def within(self, setting: Setting) -> str:
        """Return how near a setting must be; empty where nothing is said."""
        return self.tolerance(setting.within) if setting.within else ""

    def tolerance(self, mm: float) -> str:
        """Return how near something must be: `0.05`, `1`, `.002`."""
        if self.units == "mm":
            return f"{mm:.2f}" if mm < 1 else f"{mm:g}"
        return lengths.bare(mm, "in", "gauge" if mm < 1 else "cut")

    def limits(self, row: Check | Reading) -> str:
        """Return the limits of a reading: `9.87 – 9.97`."""
        if not isinstance(row.low, float):
            return self.said(row.low)
        low = lengths.set_to(row.low, self.units, row.within)
        if row.high is None:
            return low
        return f"{low} – {lengths.set_to(row.high, self.units, row.within)}".replace(" ", lettering.NO_BREAK)

    def aim(self, row: Reading) -> str:
        """Return what a reading ought to be."""
        return lengths.set_to(row.aim, self.units, row.within) if isinstance(row.aim, float) else self.said(row.aim)
