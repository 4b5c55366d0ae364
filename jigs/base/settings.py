"""What a setting is: its kind, its limits, its usual size. One declaration serves a jig's option and a box file's key.

    overhang: Annotated[float, Length("lid over the box on every side", 0, 60)] = LID_OVERHANG.default

The line stands in a `Section`, or in the signature of a jig. The range check, its message, the option and its help, the
JSON Schema, the comments of a new file, the catalogue's page and the property test come from it. A default of None is
worked out where the setting is left out.
"""

from __future__ import annotations

import inspect
from collections.abc import Callable, Iterator, Mapping
from dataclasses import MISSING, dataclass, fields
from functools import cache
from typing import Any, ClassVar, TypeVar, dataclass_transform, get_args, get_type_hints

from jigs.base.kinds import Choice, Count, Flag, Kind, KnownWood, Value, Words
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.usual import Usual
from jigs.record import Record, replace
from jigs.trade import timber

# -- settings, and sections of them --------------------------------------------------------------------------------


class Setting(Record):
    """One setting by its name: an option of a jig, a key of a box file."""

    name: str
    kind: Kind
    required: bool
    default: Value | Usual = None

    @property
    def spoken(self) -> str:
        """The name as a person says it."""
        return self.name.replace("_", " ")

    def default_in(self, units: Units) -> Value:
        """Return the default of those who work in these units; None is worked out, or left away."""
        return self.default.size(units) if isinstance(self.default, Usual) else self.default

    @property
    def default_said(self) -> str:
        """The default in words, in both units where it is not the same in both; empty where there is none."""
        if isinstance(self.default, Usual):
            sizes = [self.kind.shown(self.default.size(units), units) for units in get_args(Units)]
            return f"{sizes[0]}, or {sizes[1]} for inches"
        return "" if self.default in (None, False) else self.kind.shown(self.default, "mm")

    def is_kind_of(self, value: object) -> bool:
        """Tell whether a value, as it is kept, is one that this setting may have, but for its limits."""
        match self.kind:
            case Choice(options=options):
                return value in options
            case Flag():
                return isinstance(value, bool)
            case KnownWood():
                return value in {wood.name for wood in timber.all_species()}
            case Words():
                return isinstance(value, str)
            case Count():
                return isinstance(value, int) and not isinstance(value, bool)
        return isinstance(value, int | float) and not isinstance(value, bool)

    def problem(self, value: Value, units: Units) -> Problem | None:
        """Return what is wrong with a value as it is kept, or None. `units` are those of a bare number."""
        return None if value is None else self.kind.problem(value, self.spoken, units)


class Section:
    """Settings that belong together: a section of the box file, or the settings of a jig. Declared under `section`."""

    __pydantic_config__: ClassVar[dict[str, Any]] = {
        "extra": "forbid",
        "validate_default": True,  # a usual size is read in the units of the file
        "model_title_generator": lambda section: section.__name__.removesuffix("Section"),
    }


Made = TypeVar("Made", bound=Section)


@dataclass_transform(frozen_default=True, kw_only_default=True)
def section(declared: type) -> Any:
    """Make a class with annotated fields a section: frozen, its fields given by name."""
    return dataclass(frozen=True, kw_only=True)(declared)


class Key(Record):
    """What stands under a name in a section: a value of a kind, or a section, or a list of them."""

    name: str
    kind: Kind | None
    section: type[Section] | None
    many: bool
    required: bool
    default: Any
    about: str
    """What a section is for here, where it may stand under several names."""

    def default_in(self, units: Units) -> Any:
        """Return the default of those who work in these units."""
        return self.default.size(units) if isinstance(self.default, Usual) else self.default

    @property
    def help(self) -> str:
        """What it is, in a line."""
        return (
            self.kind.help if self.kind else self.about or ((self.section and self.section.__doc__) or "").rstrip(".")
        )


Declared = type[Section] | Callable[..., Any]
"""What declares settings: a section, or a function by its keyword-only parameters."""


def keys_of(declared: Declared) -> Mapping[str, Key]:
    """Return what is declared, in its order, by name. Raises TypeError for what says nothing of itself."""
    hashable: Any = declared  # as every class and function is; the checker takes a section's class for a section
    return _keys_of(hashable)


@cache
def _keys_of(declared: Declared) -> Mapping[str, Key]:
    hints = get_type_hints(declared, include_extras=True)
    found = {}
    for name, default in _declared(declared):
        hint = hints[name]
        said = getattr(hint, "__metadata__", ())
        kind = next((extra for extra in said if isinstance(extra, Kind)), None)
        about = next((extra for extra in said if isinstance(extra, str)), "")
        bare = getattr(hint, "__origin__", hint) if said else hint
        section, many = section_in(bare), get_args(bare)[1:] == (...,)
        if kind is None and section is None:
            raise TypeError(f"{declared.__name__}: {name} must be keyword-only and Annotated with its kind")
        required = default is MISSING
        found[name] = Key(name, kind, section, many, required, None if required else default, about)
    return found


def _declared(declared: Declared) -> Iterator[tuple[str, Any]]:
    """Yield the names and defaults of what is declared; MISSING where there is none."""
    if isinstance(declared, type):
        yield from ((one.name, one.default) for one in fields(declared))
        return
    for name, parameter in inspect.signature(declared).parameters.items():
        if name != "units":
            if parameter.kind is not parameter.KEYWORD_ONLY:
                raise TypeError(f"{declared.__name__}: {name} must be keyword-only and Annotated with its kind")
            yield name, MISSING if parameter.default is parameter.empty else parameter.default


def settings_of(declared: Declared) -> tuple[Setting, ...]:
    """Return the single values that are declared, required ones first.

    Those of a section within, which is always there, have its name before their own: `shop_humidity`.
    """
    found: list[Setting] = []
    for key in keys_of(declared).values():
        if key.kind:
            found.append(Setting(key.name, key.kind, key.required, key.default))
        elif key.section and isinstance(key.default, key.section):
            found += [
                Setting(f"{key.name}_{inner.name}", _within(inner.kind, key), False, getattr(key.default, inner.name))
                for inner in settings_of(key.section)
            ]
    return tuple(sorted(found, key=lambda setting: not setting.required))


def _within(kind: Kind, key: Key) -> Kind:
    """Return the kind of a setting of a section within, its help going on with what the section is for."""
    return replace(kind, help=f"{kind.help} {key.about}") if key.about else kind


def section_in(annotation: Any) -> type[Section] | None:
    """Return the section that an annotation names: one, or none, or many of it."""
    kinds = (annotation, *get_args(annotation))
    return next((kind for kind in kinds if isinstance(kind, type) and issubclass(kind, Section)), None)


def made_of(declared: type[Made], values: Mapping[str, Value]) -> Made:
    """Return a section that holds these values, those of the sections within it under their flat names."""
    held: dict[str, Any] = {}
    for name, key in keys_of(declared).items():
        inner = key.section
        within = {setting.name: values[f"{name}_{setting.name}"] for setting in settings_of(inner)} if inner else {}
        held[name] = made_of(inner, within) if inner else values[name]
    return declared(**held)
