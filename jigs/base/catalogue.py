"""How a jig is declared: one function, its parameters described on their own lines, and the catalogue of them all.

    @jig("sled", title="Indexing sled", summary="cuts finger joints of any width")
    def sled(*, finger: Annotated[float, Length("finger width", 3, 60)], ...) -> Plan:

The line of a parameter feeds the range check, the command-line option, the title block, the catalogue page and the
property test. Rules between parameters come first in the body, then shapes.
"""

from __future__ import annotations

import importlib
import importlib.util
import inspect
import pkgutil
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from jigs.base.drawing import Drawing
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.base.rules import Problem, tried
from jigs.base.settings import Parameter, ParameterKind, Setting
from jigs.base.wording import Words, near

ENTRY_POINTS = "jigleaf.jigs"
"""The entry-point group under which other people's packages offer jigs."""


@dataclass(frozen=True)
class Plan:
    """What a jig works out: its numbers (mm), what a maker must know, and its sheets."""

    title: Words
    numbers: Mapping[str, Any]
    drawings: tuple[Drawing, ...]
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True)
class Jig:
    """A jig of the catalogue."""

    name: str
    title: str
    summary: str
    parameters: tuple[Parameter, ...]
    build: Callable[..., Plan] = field(repr=False)
    example: str = ""
    """Options that make one, as typed."""
    sources: str = ""
    """Where its numbers come from."""
    asks_units: bool = False
    """Whether the function takes the reader's `units`, for usual sizes that are not the same in both."""

    def settings(self, given: Mapping[str, Setting], units: Units) -> dict[str, Setting]:
        """Return every setting, defaults filled in. Raises CannotBuild with each setting that is out of its limits."""
        settings = {p.name: given.get(p.name, p.default_in(units)) for p in self.parameters}
        found = [p.problem(settings[p.name], units) for p in self.parameters]
        problems = [problem for problem in found if problem]
        if problems:
            raise CannotBuild(problems)
        return settings

    def plan(self, given: Mapping[str, Setting], units: Units = "mm") -> Plan:
        """Return the plan for some settings. Raises CannotBuild where they can't work.

        What its problems offer has been tried by the same rules.
        """
        settings = self.settings(given, units)

        def again(changes: Mapping[str, float | int | str]) -> Sequence[Problem]:
            return self._judged(settings | {name.replace(" ", "_"): value for name, value in changes.items()}, units)

        try:
            made = self._built(settings, units)
        except CannotBuild as refused:
            raise CannotBuild(tried(refused.problems, again, units)) from None
        return replace(made, problems=tuple(tried(made.problems, again, units)))

    def _built(self, settings: Mapping[str, Setting], units: Units) -> Plan:
        return self.build(**settings, **({"units": units} if self.asks_units else {}))

    def _judged(self, settings: Mapping[str, Setting], units: Units) -> Sequence[Problem]:
        try:
            return self._built(self.settings(settings, units), units).problems
        except CannotBuild as refused:
            return refused.problems


_UNITS = "units"
"""The keyword of a jig's function that is no setting: the units of whoever reads the sheets."""

_REGISTERED: dict[str, Jig] = {}


def jig(
    name: str, *, title: str, summary: str, example: str = "", sources: str = ""
) -> Callable[[Callable[..., Plan]], Callable[..., Plan]]:
    """Put a function into the catalogue. Its module is named after the first word of `name`.

    A function with a keyword `units` is told whether its reader works in mm or inches. `example` is a line of options,
    as typed, that make one; it stands in the help and on the catalogue's page. `sources` says there where the numbers
    come from.
    """

    def register(function: Callable[..., Plan]) -> Callable[..., Plan]:
        asks_units = _UNITS in inspect.signature(function).parameters
        _REGISTERED[name] = Jig(name, title, summary, _parameters(function), function, example, sources, asks_units)
        return function

    return register


def _parameters(function: Callable[..., Plan]) -> tuple[Parameter, ...]:
    """Read the parameters of a jig from its signature. Raises TypeError for one that says nothing of itself."""
    hints = get_type_hints(function, include_extras=True)
    found = []
    for name, parameter in inspect.signature(function).parameters.items():
        if name == _UNITS:
            continue
        hint = hints[name]
        kinds = [extra for extra in get_args(hint)[1:] if isinstance(extra, ParameterKind)]
        if get_origin(hint) is not Annotated or not kinds or parameter.kind is not parameter.KEYWORD_ONLY:
            raise TypeError(f"{function.__name__}: {name} must be keyword-only and Annotated with its kind")
        required = parameter.default is parameter.empty
        found.append(Parameter(name, kinds[0], required, None if required else parameter.default))
    return tuple(found)


_ROOMS = ("jigs.shelf", "jigs.parts")
"""The packages that jigs are declared in."""


@cache
def catalogue() -> dict[str, Jig]:
    """Return every jig by name: those of this program, then those that installed packages offer."""
    for room in _ROOMS:
        for module in pkgutil.walk_packages(importlib.import_module(room).__path__, f"{room}."):
            importlib.import_module(module.name)
    _load_offered()
    return dict(sorted(_REGISTERED.items()))


def _load_offered() -> None:
    """Import the modules that installed packages offer, which registers their jigs."""
    from importlib.metadata import entry_points  # noqa: PLC0415 - slow to import, and rarely needed

    for offer in entry_points(group=ENTRY_POINTS):
        offer.load()


def find(name: str) -> Jig:
    """Return a jig by name. Raises CannotRead, with near names, where there is none.

    Only the jig's own module is imported, which is named after the first word of its name: all of them take a second.
    """
    family = name.split("-", maxsplit=1)[0]
    for module in _modules(family) if family.isidentifier() else ():
        importlib.import_module(module)
    if name in _REGISTERED:
        return _REGISTERED[name]
    known = catalogue()
    if name in known:
        return known[name]
    raise CannotRead(f"there is no jig called '{name}'; {near(name, list(known))}")


def _modules(family: str) -> Iterator[str]:
    """Find the modules of a name in the rooms of jigs, without importing any."""
    for room in _ROOMS:
        path = importlib.import_module(room).__path__
        folders = [f"{room}.{found.name}" for found in pkgutil.iter_modules(path) if found.ispkg]
        for folder in (room, *folders):
            if importlib.util.find_spec(f"{folder}.{family}"):
                yield f"{folder}.{family}"
