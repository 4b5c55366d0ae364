"""What a rule is: how the rules of a part are judged, and what several parts share.

A rule takes a part as `box_parts` settles it and yields what is wrong with it. The stops of a part look at its settings
only, since its numbers may not exist; its warnings come after them and may look at everything. The rules of each part
are in its `*_rules.py`. A limit marked "common practice, no source" is what shops commonly hold to; the rest is
geometry.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from dataclasses import dataclass
from typing import Generic, TypeVar

from jigs.box_parts import Bottom, Lid
from jigs.errors import Problem

LEAST_WEB = 4.0
"""Thinner wood beside a hole breaks (common practice, no source), mm."""

Part = TypeVar("Part")


@dataclass(frozen=True)
class Rules(Generic[Part]):
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


def wood_without_a_name(made: Bottom | Lid) -> Iterator[Problem]:
    """Find a part whose movement stands on the wood that is taken where none is named."""
    if not made.wood.named:
        yield Problem(
            "warning",
            "bottom.species" if isinstance(made, Bottom) else "lid.species",
            "the wood has no name; it is taken to move like {wood}",
            "name it here or in sides.species",
            {"wood": made.wood.species.name},
        )
