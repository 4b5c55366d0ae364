"""How a jig is declared: one function, its settings described on their own lines, and the catalogue of them all.

    @jig("taper", title="Taper sled", summary="saws tapers on legs and lids")
    def taper(*, wide: Annotated[float, Length("width at the wide end", 8, 400)], ...) -> Plan:

A jig of a box takes a section instead, with what a box works out itself:

    @jig("sled", title="Indexing sled", summary="cuts finger joints of any width")
    def sled(asked: SledSettings, units: Units) -> Plan:

What a line feeds is said in `settings`. Rules between settings come first in the body, then shapes.
"""

from __future__ import annotations

import importlib
import importlib.util
import inspect
import pkgutil
import shlex
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cache
from typing import Any, get_type_hints

from jigs.base.cards import Sheets
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.kinds import Value
from jigs.base.lengths import Units
from jigs.base.rules import Problem, tried
from jigs.base.settings import Declared, Section, Setting, made_of, section_in, settings_of
from jigs.base.wording import Words, near
from jigs.record import Record, replace

ENTRY_POINTS = "jigleaf.jigs"
"""The entry-point group under which other people's packages offer jigs."""


class Plan(Record):
    """What a jig works out: its numbers (mm), what a maker must know, and its cards and templates."""

    title: Words
    numbers: Mapping[str, Any]
    sheets: Sheets
    problems: tuple[Problem, ...] = ()


@dataclass(frozen=True)
class Jig:
    """A jig of the catalogue."""

    name: str
    title: str
    summary: str
    parameters: tuple[Setting, ...]
    build: Callable[..., Plan] = field(repr=False)
    example: str = ""
    """Options that make one, as typed."""
    sources: str = ""
    """Where its numbers come from."""
    takes: type[Section] | None = None
    """The section that the function takes; None where it takes its settings one by one."""
    from_box: str = ""
    """What it takes from a box besides the section of its part: `setting=place` in the box as it is worked out."""
    most: str = ""
    """What a box has room for, likewise: a setting that is more does not go into it."""
    asks_units: bool = False
    """Whether the function takes the reader's `units`, for usual sizes that are not the same in both."""

    @property
    def of_box(self) -> bool:
        """Whether it makes a part of a box, in whose room it stands."""
        return self.build.__module__.startswith(f"{_ROOMS[-1]}.")

    def settings(self, given: Mapping[str, Value], units: Units) -> dict[str, Value]:
        """Return every setting, defaults filled in. Raises CannotBuild with each setting that is out of its limits."""
        settings = {p.name: given.get(p.name, p.default_in(units)) for p in self.parameters}
        found = [p.problem(settings[p.name], units) for p in self.parameters]
        problems = [problem for problem in found if problem]
        if problems:
            raise CannotBuild(problems)
        return settings

    def plan(self, given: Mapping[str, Value], units: Units = "mm") -> Plan:
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

    def _built(self, settings: Mapping[str, Value], units: Units) -> Plan:
        asked = (made_of(self.takes, settings),) if self.takes else ()
        return self.build(*asked, **({} if asked else settings), **({_UNITS: units} if self.asks_units else {}))

    def _judged(self, settings: Mapping[str, Value], units: Units) -> Sequence[Problem]:
        try:
            return self._built(self.settings(settings, units), units).problems
        except CannotBuild as refused:
            return refused.problems


_UNITS = "units"
"""The keyword of a jig's function that is no setting: the units of whoever reads the sheets."""

_REGISTERED: dict[str, Jig] = {}


def jig(
    name: str, *, title: str, summary: str, from_box: str = "", most: str = ""
) -> Callable[[Callable[..., Plan]], Callable[..., Plan]]:
    """Put a function into the catalogue. Its module is named after the first word of `name`.

    `from_box` says which settings a box gives, and `most` which it limits: `length=inside.0 width=inside.1`, each with
    its place in the box as it is worked out; of places with a | between the first that is there counts.

    A function with a keyword `units` is told whether its reader works in mm or inches. Two paragraphs of its docstring
    stand in the help and on the catalogue's page: "Example:" is a line of options, as typed, that make one, "Sources:"
    says where the numbers come from.
    """

    def register(function: Callable[..., Plan]) -> Callable[..., Plan]:
        takes = _section_of(function)
        example, sources = _said_of(function, "Example: "), _said_of(function, "Sources: ")
        asks_units, declared = _UNITS in inspect.signature(function).parameters, _in_order(takes or function, example)
        said = declared, function, example, sources, takes, from_box, most, asks_units
        _REGISTERED[name] = Jig(name, title, summary, *said)
        return function

    return register


def _in_order(declared: Declared, example: str) -> tuple[Setting, ...]:
    """Return the settings of a jig: those of its example first, as they stand there, then required ones."""
    shown = [word.removeprefix("--").replace("-", "_") for word in shlex.split(example)[::2]]
    places = {name: place for place, name in enumerate(shown)}
    return tuple(sorted(settings_of(declared), key=lambda setting: places.get(setting.name, len(places))))


def _said_of(function: Callable[..., Plan], what: str) -> str:
    """Return a paragraph of a function's docstring in one line, without the word it begins with; empty without one."""
    paragraphs = (" ".join(paragraph.split()) for paragraph in (function.__doc__ or "").split("\n\n"))
    return next((words.removeprefix(what) for words in paragraphs if words.startswith(what)), "")


def _section_of(function: Callable[..., Plan]) -> type[Section] | None:
    """Return the section that a jig's function takes as its first argument, or None."""
    first = next(iter(inspect.signature(function).parameters.values()), None)
    if first is None or first.kind is first.KEYWORD_ONLY:
        return None
    return section_in(get_type_hints(function).get(first.name))


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
