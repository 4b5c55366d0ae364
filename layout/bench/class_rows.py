"""What comes of each row of a class list: worked out by the code that makes a class, and kept until it changes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, TypeVar

from jigs.base.rules import Problem, to_tell
from jigs.course import class_list
from jigs.course.class_list import Row, RowRefused
from jigs.record import Record, replace
from layout import make
from layout.bench import fields
from layout.course.pack import paper_of

if TYPE_CHECKING:
    from jigs.box.set_ups import Look
    from jigs.boxfile.sections import BoxFile

Key = TypeVar("Key")
Held = TypeVar("Held")
_KEPT = 2000
Values = Mapping[str, str]
"""What a row holds, by its columns; nothing of an empty cell."""


class Way(Record):
    """A way out of a trouble that was tried: what it types into the row."""

    typed: Mapping[str, str]


class Trouble(Record):
    """What must be known of a row besides what holds for the whole class, and which ways out of it work."""

    problem: Problem
    cell: str
    """The column that it belongs to; empty where it is of no cell that there is."""
    ways: tuple[Way, ...] = ()
    holds: bool = True
    """Whether what the rule suggests works here: of values that it offers one at least."""


class Came(Record):
    """What came of a row: its box worked out and on which paper, or why there is none."""

    look: Look | None
    paper: str
    troubles: tuple[Trouble, ...]

    @property
    def source(self) -> tuple[str, str]:
        """What its pages are made from: box file and paper; empty where there is no box."""
        return (self.look.box.file.source, self.paper) if self.look else ("", "")


@dataclass
class Worked:
    """Rows worked out lately, by the class's box and what they hold."""

    _plain: dict[tuple[str, frozenset[tuple[str, str]]], Came] = field(default_factory=dict)
    _whole: dict[tuple[str, frozenset[tuple[str, str]]], Came] = field(default_factory=dict)
    _looks: dict[str, Look] = field(default_factory=dict)

    def of(self, values: Values, base: BoxFile) -> Came:
        """Return what comes of a row on the class's box, with the ways out of its troubles."""
        key = (base.source, frozenset(values.items()))
        if key not in self._whole:
            came = self.plain(values, base)
            troubles = tuple(self._with_ways(one, values, base) for one in came.troubles)
            _keep(self._whole, key, Came(came.look, came.paper, troubles))
        return self._whole[key]

    def plain(self, values: Values, base: BoxFile) -> Came:
        """Return what comes of a row, with no ways out."""
        key = (base.source, frozenset(values.items()))
        if key not in self._plain:
            _keep(self._plain, key, self._worked(values, base))
        return self._plain[key]

    def look(self, file: BoxFile) -> Look:
        """Return a box worked out."""
        if file.source not in self._looks:
            _keep(self._looks, file.source, make.look(file))
        return self._looks[file.source]

    def _worked(self, values: Values, base: BoxFile) -> Came:
        row = Row(0, "", dict(values), {})
        try:
            file = class_list.resolve(row, base)
            paper = paper_of(row, file)
            look = self.look(file)
            if stops := [one for one in look.box.problems if one.severity == "stop"]:
                raise RowRefused(class_list.refused_by(row, stops))
        except RowRefused as refused:
            return Came(None, "", tuple(Trouble(one.problem, _cell(one.problem, values)) for one in refused.faults))
        common = _all(self.look(base))
        own = [one for one in to_tell(_all(look)) if not any(one.same_as(other) for other in common)]
        return Came(look, paper, tuple(Trouble(one, _cell(one, values)) for one in own))

    def _with_ways(self, trouble: Trouble, values: Values, base: BoxFile) -> Trouble:
        """Return a trouble with the ways out that work: those that its rule offers, or else the class's value."""
        offered = [
            {key: _bare(said, base) for key, said in way.typed.items()}
            for way in fields.ways_of(trouble.problem, base.units)
        ]
        found = [typed for typed in offered if self._works(trouble, values, typed, base)]
        holds = bool(found) or not offered
        if not found and trouble.problem.severity == "stop" and trouble.cell in values:
            found = [typed for typed in [{trouble.cell: ""}] if self._works(trouble, values, typed, base)]
        return replace(trouble, ways=tuple(map(Way, found)), holds=holds)

    def _works(self, trouble: Trouble, values: Values, typed: Mapping[str, str], base: BoxFile) -> bool:
        """Tell whether with other values a trouble of a row is gone, and nothing else stops it that did not before."""
        if not typed.keys() <= {*class_list.keys()}:  # a row of a list in the file, such as a board
            return False
        known = [one.problem for one in self.plain(values, base).troubles]
        came = self.plain({key: said for key, said in {**values, **typed}.items() if said}, base)
        left = [one.problem for one in came.troubles]
        stops = [one for one in left if one.severity == "stop"]
        return not any(one.same_as(trouble.problem) for one in left) and all(
            any(one.same_as(other) for other in known) for one in stops
        )


def _all(look: Look) -> list[Problem]:
    return [problem for problems in look.problems.values() for problem in problems]


def _keep(kept: dict[Key, Held], key: Key, held: Held) -> None:
    kept[key] = held
    while len(kept) > _KEPT:
        kept.pop(next(iter(kept)))


def _cell(problem: Problem, values: Values) -> str:
    """Return the cell of a row that a problem belongs to: its own, or the finger's for a cutter, or the only one."""
    where = problem.where.partition(",")[0]
    if where in values:
        return where
    if where == "joint.cutter" and "joint.finger" in values:
        return "joint.finger"
    return where if where in set(class_list.keys()) else ""


def _bare(said: str, base: BoxFile) -> str:
    """Return a length as it is typed into a cell: without the unit that a bare number has anyway."""
    return said.removesuffix(f" {base.units}")


def says(came: Came, base: Look) -> str:
    """Return what comes of a row that can be made, in a few words: what of it is not as the class's box."""
    look = came.look
    if look is None:
        return ""
    if look.box.file.settings == base.box.file.settings:
        return "as the class’s box"
    wanted = ("joint.finger", "box.length")
    found = [said for key in wanted if (said := look.effects.get(key, "")) != base.effects.get(key, "")]
    if not found:
        found = [f"{one.name} {one.now}" for one in make.moved(base, look) if not one.chosen][:1]
    if not found:
        found = [f"{one.name} {one.now}" for one in make.moved(base, look)][:1]
    return "; ".join(f"{words[:1].lower()}{words[1:]}" for words in found) or "as the class’s box"


def filled(row: Sequence[str], keys: Sequence[str]) -> dict[str, str]:
    """Return what a row of a table holds, by its columns but for the name."""
    return {key: cell for key, cell in zip(keys, row, strict=True) if cell and key != "name"}
