"""The kinds of settings a jig can have, each with its limits and its help."""

from __future__ import annotations

from dataclasses import dataclass

from jigs.base.lengths import Units, within
from jigs.base.rules import Problem, out_of_limits


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
