"""The error tree: what ends a command, with its exit code."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager

from jigs.base.lengths import Units
from jigs.base.rules import Problem, as_sentence, worst_first


class JigleafError(Exception):
    """Anything jigleaf has to say that ends a command. `exit_code` is what the command then returns."""

    exit_code = 1
    units: Units = "mm"
    """The units of whoever asked, where they are known."""

    def says(self, units: Units) -> str:
        """Return the message for a person who works in these units."""
        del units  # most messages name no length
        return str(self)


class CannotBuild(JigleafError):
    """The job can't be built as asked. Carries every reason, worst first."""

    exit_code = 1

    def __init__(self, problems: Sequence[Problem]) -> None:
        self.problems = worst_first(problems)
        super().__init__("; ".join(problem.says("mm") for problem in self.problems))

    def says(self, units: Units) -> str:
        """Return each reason on a line of its own, with what would work below it; errors alone where there are any."""
        errors = [problem for problem in self.problems if problem.severity == "stop"]
        told = errors or self.problems
        lines = []
        for problem in told:
            lines.append(f"{problem.sign}: {problem.where}: {as_sentence(problem.says(units))}")
            if problem.ways:
                lines.append(f"      {as_sentence(problem.suggests(units))}")
        return "\n".join(lines)


class CannotRead(JigleafError):
    """The command or a file can't be read."""

    exit_code = 2


class WrongReadings(CannotRead):
    """Lengths that were measured and can't be right, in mm and by the names that the arithmetic has for them."""


class MachineFault(JigleafError):
    """The machine is in the way: the disk, a folder, a library that is not installed."""

    exit_code = 3


def refuse(problems: Sequence[Problem]) -> None:
    """Raise CannotBuild, with every problem, where one of them is a stop."""
    if any(problem.severity == "stop" for problem in problems):
        raise CannotBuild(problems)


@contextmanager
def said_in(units: Units) -> Iterator[None]:
    """Give whatever is refused in here the units of its job, where it has none yet."""
    try:
        yield
    except JigleafError as error:
        vars(error).setdefault("units", units)
        raise
