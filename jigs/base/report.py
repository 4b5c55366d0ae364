"""What was worked out, as data and in words: made when it is asked for, since a drawing needs neither."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeAlias

from jigs.base.lengths import Units
from jigs.base.rules import Problem

Json: TypeAlias = "dict[str, Json] | list[Json] | float | int | str | bool | None"


@dataclass(frozen=True)
class Report:
    """What was worked out of a job, for a machine and for a person, and what must be known of it, worst first."""

    units: Units
    problems: tuple[Problem, ...]
    numbers: Callable[[], Mapping[str, object]] = field(repr=False)
    words: Callable[[], str] = field(repr=False)

    @cached_property
    def data(self) -> dict[str, Json]:
        """The numbers by name, as --json prints them: lengths in mm, angles in degrees, to nine places."""
        return {name: _json(value) for name, value in self.numbers().items()}

    @cached_property
    def text(self) -> str:
        """The same for a person to read, in the units of the job: of a box with its problems."""
        return self.words()

    @property
    def stopped(self) -> bool:
        """Whether a rule stops the job."""
        return any(problem.severity == "stop" for problem in self.problems)


def _json(value: object) -> Json:
    """Return a value for JSON, its numbers rounded, so that 29.8 is not written 29.799999999999997."""
    if isinstance(value, Mapping):
        return {name: _json(inner) for name, inner in value.items()}
    if isinstance(value, list | tuple):
        return [_json(inner) for inner in value]
    if isinstance(value, float):
        return round(value, 9) + 0.0  # and not -0.0
    assert value is None or isinstance(value, int | str), f"no JSON: {value!r}"
    return value
