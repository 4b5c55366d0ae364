"""What a rule is: what it says, with its numbers, and how a suggestion is tried.

A rule is written once, with its numbers beside it, and is read out in the units of whoever asked.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from typing import Generic, Literal, TypeVar

from jigs.base.lengths import Units, in_other_units
from jigs.base.wording import Offer, Wording, fields_of
from jigs.record import Record, field, replace

Severity = Literal["stop", "warning", "note"]
READ_OUT = 0.01
"""A limit is read out to this, mm: who takes the size that is suggested is not told the same again."""
_SIGNS: dict[str, str] = {"stop": "Error", "warning": "WARNING", "note": "CHOOSE"}
_WORST_FIRST = ("Error", "DANGER", "WARNING", "GET", "CHOOSE")


class Problem(Record):
    """One thing a maker must know before cutting.

    `rule` and the ways out in `suggestion` are sentences with `{name}` fields. A field whose number is a float is a
    length in mm and is read out in the reader's units; anything else (a count, a percentage already written out) is
    put in as it is. A value that a way out offers for a setting is an `Offer`, and is tried by `tried`.
    """

    severity: Severity
    where: str
    rule: str
    suggestion: str | tuple[str, ...] = ""
    numbers: Mapping[str, object] = field(default_factory=dict)
    about: Literal["", "hands", "wood", "step"] = ""
    """What a warning or a note is about: somebody's hands, wood to get, or what a step of the pages settles anyway."""

    @property
    def sign(self) -> str:
        """The word that it begins with: Error, DANGER (somebody is hurt), WARNING (work is spoiled), GET or CHOOSE."""
        return {"hands": "DANGER", "wood": "GET"}.get(self.about, _SIGNS[self.severity])

    def sentences(self, units: Units) -> str:
        """Return what is wrong and what to do about it, as whole sentences in the reader's units."""
        return " ".join(filter(None, (as_sentence(self.says(units)), as_sentence(self.suggests(units)))))

    def says(self, units: Units) -> str:
        """Return the rule with its numbers, in the reader's units."""
        return Wording(self.rule, self.numbers).read_out(units)

    def suggests(self, units: Units) -> str:
        """Return what would work instead, in the reader's units; empty where there is nothing to suggest."""
        return Wording(self.instead, self.numbers).read_out(units)

    @property
    def instead(self) -> str:
        """The ways out as one sentence with `{name}` fields."""
        comma = "; or " if any(mark in way for way in self.ways for mark in ",;:") else ", or "
        return comma.join(self.ways)

    @property
    def ways(self) -> tuple[str, ...]:
        """The ways out, each a sentence."""
        if isinstance(self.suggestion, tuple):
            return self.suggestion
        return (self.suggestion,) if self.suggestion else ()

    def offers(self, way: str) -> dict[str, Offer]:
        """Return what a way out offers, by the name of the field."""
        return {name: number for name in fields_of(way) if isinstance(number := self.numbers.get(name), Offer)}

    def same_as(self, other: Problem) -> bool:
        """Whether two problems are of one rule and one setting, and as severe."""
        return (self.severity, self.where, self.rule) == (other.severity, other.where, other.rule)

    def renamed(self, name: Callable[[str], str]) -> Problem:
        """Return the problem with its setting, and those that it offers values for, under other names."""
        numbers = {
            field: number.renamed(name) if isinstance(number, Offer) else number
            for field, number in self.numbers.items()
        }
        return replace(self, where=name(self.where), numbers=numbers)

    def without(self, section: str) -> Problem:
        """Return a problem of a box's section under the name of a jig's own setting."""
        return self.renamed(lambda key: key.removeprefix(f"{section}."))

    def as_data(self, units: Units) -> dict[str, str]:
        """Return the problem as the `problems[]` entry of the JSON reports."""
        return {
            "severity": self.severity,
            "sign": self.sign,
            "where": self.where,
            "says": self.says(units),
            "suggestion": self.suggests(units),
        }


def as_sentence(words: str) -> str:
    """Return words with a capital and a full stop, if they are any; what is to be typed stays as it is."""
    if words.startswith("--"):
        return words
    return f"{words[:1].upper()}{words[1:]}{'' if words[-1] in '.?' else '.'}" if words else ""


Instead = str | tuple[str, ...]
"""What would work instead: one way out, or several."""


def stop(where: str, said: str, instead: Instead = (), /, **numbers: object) -> Problem:
    """Return what stops a job: the setting, what is wrong with it, the ways out, and the numbers of both."""
    return Problem("stop", where, said, instead, numbers)


def warn(where: str, said: str, instead: Instead = (), /, **numbers: object) -> Problem:
    """Return what a maker will regret, in the form of `stop`."""
    return Problem("warning", where, said, instead, numbers)


def danger(where: str, said: str, instead: Instead = (), /, **numbers: object) -> Problem:
    """Return a warning of what hurts somebody, in the form of `stop`."""
    return Problem("warning", where, said, instead, numbers, "hands")


def get(where: str, said: str, instead: Instead = (), /, **numbers: object) -> Problem:
    """Return a warning of wood that is still to get, in the form of `stop`."""
    return Problem("warning", where, said, instead, numbers, "wood")


def at_its_step(problem: Problem) -> Problem:
    """Return a warning or a note that a step of the pages settles: programs are told of it, makers read the step."""
    return replace(problem, about="step")


def note(where: str, said: str, instead: Instead = (), /, **numbers: object) -> Problem:
    """Return what a maker should know, in the form of `stop`."""
    return Problem("note", where, said, instead, numbers)


def out_of_limits(where: str, what: str, numbers: Mapping[str, object], units: Units) -> Problem:
    """Return what is said of a value out of its limits: `numbers` are value, least, most and nearest.

    A length, a float, that would be within them in the other unit is offered as it is typed in that one.
    """
    lengths = [n for name in ("value", "least", "most") if isinstance(n := numbers[name], float)]
    typed = in_other_units(lengths[0], lengths[1], lengths[2], units) if len(lengths) == 3 else ""
    other = "inches" if units == "mm" else "millimetres"
    inward = "up" if numbers["nearest"] == numbers["least"] else "down"
    return Problem(
        "stop",
        where,
        f"{what} must be from {{least:typed up}} to {{most:typed down}}; it is {{value}}",
        f"the nearest that works is {{nearest:typed {inward}}}"
        + (f'; "{typed}" if {other} were meant' if typed else ""),
        numbers,
    )


Again = Callable[[Mapping[str, float | int | str]], Sequence[Problem] | None]
"""Judges a job again with some settings changed; None where a value can't even be typed."""


def tried(problems: Sequence[Problem], again: Again, units: Units) -> list[Problem]:
    """Return the problems with their offers as they work: rounded to the safe side as they are read out, and judged.

    A value works when the rule that offered it is silent and the setting it is for is not stopped by another. Where
    none of a few steps does, the way out is not offered.
    """
    return [_with_what_works(problem, again, units) for problem in problems]


def _with_what_works(problem: Problem, again: Again, units: Units) -> Problem:
    if not any(problem.offers(way) for way in problem.ways):
        return problem
    numbers, ways = dict(problem.numbers), []
    for way in problem.ways:
        found = {name: _that_works(problem, offer, again, units) for name, offer in problem.offers(way).items()}
        if None not in found.values():
            numbers |= found
            ways.append(way)
    return replace(problem, suggestion=tuple(ways), numbers=numbers)


def _that_works(problem: Problem, offer: Offer, again: Again, units: Units) -> Offer | None:
    setting = offer.setting or problem.where
    for value in offer.steps(units):
        found = again({setting: value, **offer.also})
        if found is not None and not any(
            other.same_as(problem) or (other.severity == "stop" and other.where == setting) for other in found
        ):
            return replace(offer, value=value)
    return None


def to_tell(problems: Sequence[Problem]) -> list[Problem]:
    """Return what a maker must know before cutting, worst first: nothing that a step of the pages settles."""
    return worst_first([problem for problem in problems if problem.about != "step"])


def worst_first(problems: Sequence[Problem]) -> list[Problem]:
    """Return the problems by their signs, the worst first, otherwise in the order they were found."""
    return sorted(problems, key=lambda problem: _WORST_FIRST.index(problem.sign))


Part = TypeVar("Part")


class Rules(Record, Generic[Part]):
    """The rules of one kind of part."""

    stops: tuple[Callable[[Part], Iterator[Problem]], ...]
    warnings: tuple[Callable[[Part], Iterator[Problem]], ...]

    def judge(self, part: Part | None, found: list[Problem]) -> Part | None:
        """Return the part, or None where a rule stops it; what is to be said of it goes to `found`."""
        if part is None:
            return None
        wrong = _all(self.stops, part) or _all(self.warnings, part)
        found += wrong
        return None if any(problem.severity == "stop" for problem in wrong) else part


def _all(rules: Iterable[Callable[[Part], Iterator[Problem]]], part: Part) -> list[Problem]:
    return [problem for rule in rules for problem in rule(part)]
