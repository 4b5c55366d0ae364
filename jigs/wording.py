"""Sentences that hold their numbers: written once by a jig, read out late in the units of whoever looks."""

from __future__ import annotations

import string
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field

from jigs import lengths
from jigs.lengths import Units


@dataclass(frozen=True)
class Wording:
    """A sentence with `{name}` fields and the numbers that fill them.

    A number that is a float is a length in mm and is read out in the reader's units. Anything else (a count, an angle
    already written out) goes in as it is.
    """

    sentence: str
    numbers: Mapping[str, object] = field(default_factory=dict)

    def read_out(self, units: Units, write: Callable[[float, Units], str] = lengths.show) -> str:
        """Return the sentence with its numbers; `write` turns a length into words (with its unit by default)."""
        words = {
            name: write(number, units) if isinstance(number, float) else str(number)
            for name, number in self.numbers.items()
        }
        return self.sentence.format_map(words)


def say(sentence: str, **numbers: object) -> Wording:
    """Return a sentence with its numbers: `say("leave {wall} of wood", wall=4.5)`."""
    return Wording(sentence, numbers)


Words = str | Wording


def read_out(words: Words, units: Units, write: Callable[[float, Units], str] = lengths.show) -> str:
    """Return words as plain text, whether or not they hold numbers."""
    return words if isinstance(words, str) else words.read_out(units, write)


def shown(text: str, longest: int = 40) -> str:
    """Return text for a message, cut short, without control characters."""
    shown = "".join(letter if letter.isprintable() else "�" for letter in text[:longest])
    return shown if len(text) <= longest else shown + "…"


def letters(number: int) -> str:
    """Return the name of a thing that is one of many: A to Z for 0 to 25, then AA, AB and so on."""
    first, last = divmod(number, 26)
    return (letters(first - 1) if first else "") + string.ascii_uppercase[last]
