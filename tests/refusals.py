"""What a plan says of the settings it was given: the problems it stands with, or those it is refused for."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from jigs.base.catalogue import Plan
from jigs.base.errors import CannotBuild
from jigs.base.rules import Problem


def problems(make: Callable[[], Plan]) -> list[Problem]:
    """Return every problem of a plan, whether it stands or is refused."""
    try:
        return list(make().problems)
    except CannotBuild as error:
        return list(error.problems)


def refused(make: Callable[[], Plan]) -> Problem:
    """Return the first problem of a plan that must be refused."""
    with pytest.raises(CannotBuild) as error:
        make()
    return error.value.problems[0]


def warned(where: str, make: Callable[[], Plan]) -> Problem:
    """Return the first problem at a setting of a plan that must stand."""
    found = [problem for problem in make().problems if problem.where == where]
    assert found, f"nothing said about {where}"
    return found[0]


def told(problem: Problem) -> tuple[str, str, str]:
    """Return the setting, what is said of it and what would work, in mm."""
    return problem.where, problem.says("mm"), problem.suggests("mm")
