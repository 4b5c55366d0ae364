"""How a jig is declared: one function, its parameters described on their own lines, and the catalogue of them all.

    @jig("sled", title="Indexing sled", summary="cuts finger joints of any width")
    def sled(*, finger: Annotated[float, Length("finger width", 3, 60)], ...) -> Plan:

The line of a parameter feeds the range check, the command-line option, the title block, the catalogue page and the
property test. Rules between parameters come first in the body, then shapes.
"""

from __future__ import annotations

import difflib
import importlib
import importlib.util
import inspect
import pkgutil
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cache
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from jigs.drawing import Drawing
from jigs.errors import CannotBuild, CannotRead, Problem, out_of_limits, tried
from jigs.lengths import Units, within
from jigs.wording import Words

ENTRY_POINTS = "jigleaf.jigs"
"""The entry-point group under which other people's packages offer jigs."""


@dataclass(frozen=True, slots=True)
class Length:
    """A length in mm, from `least` to `most`. `inches` is the default, in mm, of those who work in inches."""

    help: str
    least: float
    most: float
    inches: float | None = None
    unit = "length"


@dataclass(frozen=True, slots=True)
class Angle:
    """An angle in degrees, from `least` to `most`."""

    help: str
    least: float
    most: float
    unit = "angle"


@dataclass(frozen=True, slots=True)
class Count:
    """A whole number, from `least` to `most`."""

    help: str
    least: int
    most: int
    unit = "count"


@dataclass(frozen=True, slots=True)
class Choice:
    """One of a few words."""

    help: str
    options: tuple[str, ...]
    unit = "choice"


@dataclass(frozen=True, slots=True)
class Flag:
    """Yes or no."""

    help: str
    unit = "flag"


ParameterKind = Length | Angle | Count | Choice | Flag
Setting = float | int | str | bool | None


@dataclass(frozen=True, slots=True)
class Parameter:
    """One setting of a jig. A default of None means: worked out when it is not given."""

    name: str
    kind: ParameterKind
    required: bool
    default: Setting = None

    @property
    def spoken(self) -> str:
        """The name as a person says it."""
        return self.name.replace("_", " ")

    def default_in(self, units: Units) -> Setting:
        """Return the default of those who work in these units."""
        inches = self.kind.inches if isinstance(self.kind, Length) else None
        return self.default if units == "mm" or inches is None else inches

    def is_kind_of(self, value: object) -> bool:
        """Tell whether a value is one that this setting may have, but for its limits."""
        match self.kind:
            case Choice(options=options):
                return value in options
            case Flag():
                return isinstance(value, bool)
            case Count():
                return isinstance(value, int) and not isinstance(value, bool)
        return isinstance(value, int | float) and not isinstance(value, bool)

    def problem(self, value: Setting, units: Units) -> Problem | None:
        """Return what is wrong with a value, or None. `units` are those of a bare number, for what was meant."""
        kind = self.kind
        if value is None or isinstance(kind, Choice | Flag):
            return None
        assert isinstance(value, int | float)
        if kind.least <= value <= kind.most or (isinstance(kind, Length) and within(value, kind.least, kind.most)):
            return None
        nearest = kind.least if value < kind.least else kind.most
        numbers = {"value": value, "least": kind.least, "most": kind.most, "nearest": nearest}
        said = {name: float(n) if isinstance(kind, Length) else f"{n:g}" for name, n in numbers.items()}
        return out_of_limits(self.spoken, kind.help, said, units)


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


@cache
def catalogue() -> dict[str, Jig]:
    """Return every jig by name: those of this package, then those that installed packages offer."""
    package = importlib.import_module("jigs")
    for module in pkgutil.iter_modules(package.__path__):
        if not module.ispkg:
            importlib.import_module(f"jigs.{module.name}")
    _load_offered()
    return dict(sorted(_REGISTERED.items()))


def _load_offered() -> None:
    """Import the modules that installed packages offer, which registers their jigs."""
    from importlib.metadata import entry_points  # noqa: PLC0415 - slow to import, and rarely needed

    for offer in entry_points(group=ENTRY_POINTS):
        offer.load()


def find(name: str) -> Jig:
    """Return a jig by name. Raises CannotRead, with near names, where there is none."""
    family = name.split("-", maxsplit=1)[0]
    if family.isidentifier() and importlib.util.find_spec(f"jigs.{family}"):
        importlib.import_module(f"jigs.{family}")
    if name in _REGISTERED:
        return _REGISTERED[name]
    known = catalogue()
    if name in known:
        return known[name]
    raise CannotRead(f"there is no jig called '{name}'; {near(name, list(known))}")


def near(word: str, known: list[str]) -> str:
    """Return a few words on which known name was probably meant."""
    close = difflib.get_close_matches(word, known, n=2, cutoff=0.5)
    if close:
        return "did you mean " + " or ".join(f"'{name}'" for name in close) + "?"
    return "there are: " + ", ".join(known)
