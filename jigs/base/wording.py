"""Sentences that hold their numbers: written once by a jig, read out late in the units of whoever looks."""

from __future__ import annotations

import difflib
import math
import string
from collections.abc import Callable, Iterator, Mapping
from typing import Literal

from jigs.base import lengths
from jigs.base.lengths import Units
from jigs.record import Record, field, replace


class Offer(Record):
    """A value that a suggestion offers for a setting, to be tried by the rules before it is printed.

    A float is a length in mm, unless it is `plain`; anything else is a count or a word. `setting` names the setting by
    the name that problems have for it, empty where it is the one that the problem is about. `safe` says to which side
    the value may be rounded. What must be set with it stands in `also`.
    """

    value: float | int | str
    safe: Literal["up", "down"] = "up"
    setting: str = ""
    plain: bool = False
    also: Mapping[str, float | int | str] = field(default_factory=dict)

    def renamed(self, name: Callable[[str], str]) -> Offer:
        """Return the offer with its settings under other names."""
        also = {name(setting): value for setting, value in self.also.items()}
        return replace(self, setting=name(self.setting) if self.setting else "", also=also)

    @property
    def said(self) -> float | str:
        """The value as it goes into a sentence: a length, or else words."""
        if isinstance(self.value, float):
            return f"{self.value:g}" if self.plain else self.value
        return str(self.value)

    def steps(self, units: Units) -> Iterator[float | int | str]:
        """Yield what may be offered, the nearest first: each fit to be typed as it is read out."""
        if isinstance(self.value, str):
            yield self.value
        elif isinstance(self.value, int):
            yield from (self.value + i * (1 if self.safe == "up" else -1) for i in range(_TRIES))
        else:
            step = _STEP if self.plain else TYPED[units]
            first = _rounded(self.value / step, self.safe)
            for i in range(_TRIES):
                value = (first + i * (1 if self.safe == "up" else -1)) * step
                yield round(value, 2) if self.plain else _typed_back(value, units)


def at_least(value: float, setting: str = "", **also: float | int | str) -> Offer:
    """Return a length, mm, that a setting must not be under."""
    return Offer(float(value), "up", setting, also=also)


def at_most(value: float, setting: str = "", **also: float | int | str) -> Offer:
    """Return a length, mm, that a setting must not be over."""
    return Offer(float(value), "down", setting, also=also)


TYPED: Mapping[Units, float] = {"mm": 0.01, "in": 25.4 / 1000}
"""The step in which lengths are read out and typed, mm."""
_STEP = 0.01  # of a plain number: degrees, parts of a whole
_TRIES = 4
_SAME = 1e-6  # of a step: rounding of binary fractions, no length


def _rounded(steps: float, safe: Literal["up", "down"]) -> int:
    return math.ceil(steps - _SAME) if safe == "up" else math.floor(steps + _SAME)


def _typed_back(mm: float, units: Units) -> float:
    """Return a length as it is when it is typed as it is read out: a fraction of an inch may stand for it."""
    return float(lengths.read(lengths.show(mm, units), units))


Writer = Callable[[float, Units, str], str]
"""Turns a length, mm, into words by what it is for: one of the purposes of `lengths.bare`, or "" for none."""


def spoken(mm: float, units: Units, purpose: str) -> str:
    """Return a length with its unit, as messages have it; what has no purpose as it would be typed."""
    return lengths.show(mm, units, purpose or "typed")


def on_paper(mm: float, units: Units, purpose: str) -> str:
    """Return a length without its unit, as pages and tables have it; what has no purpose as it is cut."""
    return lengths.bare(mm, units, purpose or "cut")


class Wording(Record):
    """A sentence with `{name}` fields and the numbers that fill them.

    A number that is a float is a length in mm and is read out in the reader's units. Anything else (a count, an angle
    already written out) goes in as it is. A field may say what its length is for, as `{gap:gauge}` or `{need:cut up}`:
    the purposes are those of `lengths.bare`.
    """

    sentence: str
    numbers: Mapping[str, object] = field(default_factory=dict)

    def read_out(self, units: Units, write: Writer = spoken) -> str:
        """Return the sentence with its numbers; `write` turns a length into words (with its unit by default)."""
        return self.sentence.format_map({name: _said(number, units, write) for name, number in self.numbers.items()})


class _Said:
    """A length that is read out by what its field says it is for."""

    def __init__(self, mm: float, units: Units, write: Writer) -> None:
        self.mm, self.units, self.write = mm, units, write

    def __format__(self, purpose: str) -> str:
        return self.write(self.mm, self.units, purpose)


class _Plain(str):
    """What goes into a sentence as it is, whatever its field says it is for."""

    __slots__ = ()

    def __format__(self, purpose: str) -> str:
        del purpose
        return str(self)


class _Typed(_Said):
    """A length that is offered: it was tried as it is typed, whatever its field says it is for."""

    def __format__(self, purpose: str) -> str:
        del purpose
        return self.write(self.mm, self.units, "typed")


def _said(number: object, units: Units, write: Writer) -> object:
    if isinstance(number, Offer):
        value = number.said
        return _Typed(value, units, write) if isinstance(value, float) else _Plain(value)
    return _Said(number, units, write) if isinstance(number, float) else _Plain(number)


def fields_of(sentence: str) -> list[str]:
    """Return the names of the fields of a sentence, in their order."""
    return [name for _, name, _, _ in string.Formatter().parse(sentence) if name]


def say(sentence: str, **numbers: object) -> Wording:
    """Return a sentence with its numbers: `say("leave {wall} of wood", wall=4.5)`."""
    return Wording(sentence, numbers)


Words = str | Wording


def read_out(words: Words, units: Units, write: Writer = spoken) -> str:
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


def near(word: str, known: list[str], most: int = 40) -> str:
    """Return a few words on which known name was probably meant, or the first `most` of those that there are."""
    close = difflib.get_close_matches(word, known, n=2, cutoff=0.5)
    if close:
        return "did you mean " + " or ".join(f"'{name}'" for name in close) + "?"
    return "there are: " + ", ".join(known[:most]) + (f" and {len(known) - most} more" if len(known) > most else "")
