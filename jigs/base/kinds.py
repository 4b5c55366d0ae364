"""What a setting can hold: each kind reads what was written, has its limits, and describes itself."""

from __future__ import annotations

import math
import re
import unicodedata
from abc import ABC, abstractmethod
from dataclasses import dataclass
from fractions import Fraction
from typing import TYPE_CHECKING, Any, ClassVar

from jigs.base import lengths, outline, written
from jigs.base.lengths import Units
from jigs.base.rules import Problem, out_of_limits
from jigs.base.usual import Usual
from jigs.trade import timber

if TYPE_CHECKING:
    from pydantic import ValidationInfo
    from pydantic.json_schema import JsonSchemaValue
    from pydantic_core import CoreSchema

Value = float | int | str | bool | None
"""What a setting can be: a length in mm, an angle in degrees, a count, a word, yes or no; None is left out."""

_HUGE = 1e12  # beyond any limit, and beyond what is worth printing

LONGEST_WORDS = 80
"""The most letters that a text may have."""


class OutOfLimitsError(ValueError):
    """A value that reads well and can't be built. Carries the problem, which doesn't know yet where it is."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(problem.rule)


# -- kinds ---------------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Kind(ABC):
    """What a setting holds. It stands in the `Annotated` of its field, and is pydantic's validator and schema there."""

    help: str
    unit: ClassVar[str]
    """The word for the kind in the catalogue."""
    symbol: ClassVar[str] = ""
    """What stands behind a number of this kind."""
    examples: ClassVar[tuple[str, ...]] = ()
    """Words that a shell completes, where others are taken as well."""

    @abstractmethod
    def parsed(self, value: object, units: Units) -> Value:
        """Return what was written or typed as it is kept, whatever its limits. Raises ValueError for what can't be."""

    @abstractmethod
    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written in a box file."""

    def problem(self, value: Value, where: str, units: Units) -> Problem | None:
        """Return what is wrong with a value as it is kept, or None. `units` are those of a bare number."""
        del value, where, units
        return None

    def shown(self, value: Value, units: Units) -> str:
        """Return a value in words, for a title block."""
        del units
        return f"{value}"

    def written(self, value: Value, units: Units) -> Value:
        """Return what to write into a file in these units, so that `parsed` makes this very value of it again."""
        del units
        return value

    @property
    def limits(self) -> str:
        """The limits in words, for a help text; empty where there are none."""
        return ""

    def read(self, value: object, units: Units) -> Value:
        """Return the value as it is kept, the usual size where it is left out.

        Raises ValueError for one that can't be read, and OutOfLimitsError.
        """
        if value is None or isinstance(value, Usual):
            return value and value.size(units)
        kept = self.parsed(value, units)
        if problem := self.problem(kept, "", units):
            raise OutOfLimitsError(problem)
        return kept

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        del source, handler  # read() takes what was written and settles everything about it
        from pydantic_core import core_schema  # noqa: PLC0415 - slow to import, and only a box file needs it

        def validate(value: object, info: ValidationInfo) -> object:
            return self.read(value, info.context.units if info.context else "mm")

        return core_schema.with_info_plain_validator_function(validate)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> JsonSchemaValue:
        del schema, handler
        return self.described()


@dataclass(frozen=True)
class Words(Kind):
    """A line of text."""

    longest: int = LONGEST_WORDS
    unit = "words"

    def parsed(self, value: object, units: Units) -> str:
        """Return the text without blanks around it."""
        del units
        if not isinstance(value, str):
            raise ValueError(f"must be text in quotes, not {named(value)}")
        text = value.strip()
        if not text:
            raise ValueError("is empty")
        if len(text) > self.longest:
            raise ValueError(f"has {len(text)} characters, where it may have {self.longest}")
        if any(unicodedata.category(letter) in {"Cc", "Cs", "Zl", "Zp"} for letter in text):
            raise ValueError("has a line break or another control character in it")
        return text

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written."""
        return {"type": "string", "minLength": 1, "description": self.help}


@dataclass(frozen=True)
class PathData(Kind):
    """The lines of a pattern, as `outline` reads them."""

    unit = "outline"

    def parsed(self, value: object, units: Units) -> str:
        """Return the text with one blank where there are several, or line breaks. Raises ValueError for no outline."""
        del units
        if not isinstance(value, str):
            raise ValueError(f"must be text in quotes, not {named(value)}")
        text = " ".join(value.split())
        outline.read(text)
        return text

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written."""
        return {"type": "string", "minLength": 1, "description": self.help}


class WoodName(Words):
    """The name of a wood, kept as the trade says it; what the table does not have, such as plywood, as it stands."""

    def parsed(self, value: object, units: Units) -> str:
        """Return the name in the trade."""
        return timber.trade_name(super().parsed(value, units))


class KnownWood(WoodName):
    """A wood of the table of movement, by any of its names; kept as the trade says it."""

    unit = "wood"
    examples = timber.COMMON

    def parsed(self, value: object, units: Units) -> str:
        """Return the name in the trade. Raises UnknownSpeciesError, a ValueError, for what is no one wood."""
        return timber.species(super().parsed(value, units)).name

    @property
    def limits(self) -> str:
        """The common ones, for a help text."""
        return f"such as {', '.join(self.examples)}"


@dataclass(frozen=True)
class Choice(Kind):
    """One of a few words."""

    options: tuple[str, ...]
    unit = "choice"

    def parsed(self, value: object, units: Units) -> str:
        """Return the word. Raises ValueError for one that is not offered."""
        del units
        if value not in self.options:
            *others, last = (f"'{option}'" for option in self.options)
            raise ValueError(f"must be {', '.join(others)} or {last}, not {quoted(value)}")
        return str(value)

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written."""
        return {"type": "string", "enum": list(self.options), "description": self.help}


@dataclass(frozen=True)
class Flag(Kind):
    """Yes or no."""

    unit = "flag"
    _WORDS: ClassVar[dict[object, bool]] = {"yes": True, "true": True, "no": False, "false": False}

    def parsed(self, value: object, units: Units) -> bool:
        """Return yes as True. Raises ValueError for anything else than yes and no."""
        del units
        if isinstance(value, bool):
            return value
        if not isinstance(value, str) or value.strip().lower() not in self._WORDS:
            raise ValueError(f"{quoted(value)} can't be read; write true or false")
        return self._WORDS[value.strip().lower()]

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written."""
        return {"type": "boolean", "description": self.help}


@dataclass(frozen=True)
class Number(Kind):
    """A number from `least` to `most`, in the unit in which it is kept."""

    least: float
    most: float
    unit = "number"
    example: ClassVar[str] = "a number such as 0.25"

    def parsed(self, value: object, units: Units) -> float:
        """Return the number in the unit in which it is kept. Raises ValueError for one that can't be read."""
        del units
        number, unit = self._split(value)
        if unit:
            raise self._unreadable(value)
        return number

    def spoken(self, number: float, units: Units) -> object:
        """Return the number as `Problem` takes it: a float is a length."""
        return self.shown(number, units)

    def shown(self, value: Value, units: Units) -> str:
        """Return a number in words, for a title block."""
        del units
        return f"{value:g}{self.symbol}"

    def written(self, value: Value, units: Units) -> Value:
        """Return a number as it is written into a file: a whole one without a point."""
        del units
        return int(value) if isinstance(value, float) and value.is_integer() else value

    @property
    def limits(self) -> str:
        """The limits in words, for a help text."""
        return f"{self.least:g} to {self.most:g}{self.symbol}"

    def problem(self, value: Value, where: str, units: Units) -> Problem | None:
        """Return what is wrong with a value as it is kept, or None. `units` are those of a bare number."""
        assert isinstance(value, int | float), f"{where} is no number"
        if self.holds(value):
            return None
        nearest = self.least if value < self.least else self.most
        numbers = {"value": value, "least": self.least, "most": self.most, "nearest": nearest}
        said = {name: self.spoken(float(number), units) for name, number in numbers.items()}
        return out_of_limits(where, self.help, said, units)

    def holds(self, number: float) -> bool:
        """Tell whether a number is within its limits."""
        return self.least <= number <= self.most

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written."""
        either = [{"type": "number"}, {"type": "string", "minLength": 1}]
        return {"anyOf": either, "description": f"{self.help}, {self.limits}"}

    def _split(self, value: object) -> tuple[float, str]:
        """Return the number and the unit written behind it, in lower case."""
        if isinstance(value, str):
            plain = value.strip().replace("\N{MINUS SIGN}", "-")  # as it is printed
            match = re.fullmatch(r"([+-]?[0-9]{1,12}(?:[.,][0-9]{1,12})?) ?([^0-9 ]*)", plain, re.ASCII)
            if match is None:
                raise self._unreadable(value)
            return float(match[1].replace(",", ".")), match[2].lower()
        return float(_finite(value, self.example)), ""

    def _unreadable(self, value: object) -> ValueError:
        return ValueError(f"{quoted(value)} can't be read; write {self.example}")


class Length(Number):
    """A length, kept in mm. A bare number is in the units of the file or command."""

    unit = "length"
    symbol = " mm"
    example = 'a length such as 9.5, "9.5 mm" or "3/8 in"'

    def parsed(self, value: object, units: Units) -> float:
        """Return the length in mm."""
        if isinstance(value, str):
            exact = lengths.read(value, units)
        else:
            # By its decimal digits: 0.1 in is 2.54 mm and not a hair more.
            exact = Fraction(str(_finite(value, self.example))) * (1 if units == "mm" else lengths.MM_PER_INCH)
        if abs(exact) > _HUGE:
            raise ValueError(f"{quoted(value)} is far too large for a length")
        return float(exact)

    def spoken(self, number: float, units: Units) -> object:
        """Return the length as it is, for `Problem` to read out."""
        del units
        return number

    def shown(self, value: Value, units: Units) -> str:
        """Return a length in words, for a title block."""
        assert isinstance(value, int | float), f"{value} is no length"
        return lengths.show(float(value), units)

    def written(self, value: Value, units: Units) -> Value:
        """Return a length as a shop writes it: a number in these units, "3/8", or "10 mm" in a file in inches."""
        assert isinstance(value, int | float), f"{value} is no length"
        return written.for_file(float(value), units)

    def holds(self, number: float) -> bool:
        """Tell whether a length is within its limits as they are read out."""
        return self.least <= number <= self.most or lengths.within(number, self.least, self.most)

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written; a bare number may be in either unit."""
        least = min(self.least, math.floor(self.least / 25.4 * 1e4) / 1e4)
        number = {"type": "number", "minimum": least, "maximum": self.most}
        return super().described() | {"anyOf": [number, {"type": "string", "minLength": 1, "maxLength": 40}]}


class Count(Number):
    """A whole number."""

    unit = "count"
    example = "a whole number such as 7"

    def parsed(self, value: object, units: Units) -> int:
        """Return the whole number. Raises ValueError for one with a fraction."""
        number = super().parsed(value, units)
        if isinstance(value, float) or not number.is_integer():
            raise self._unreadable(value)
        return int(number)

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written."""
        number = {"type": "integer", "minimum": self.least, "maximum": self.most}
        return super().described() | {"anyOf": [number, {"type": "string", "pattern": "^ *[0-9]+ *$"}]}


class Angle(Number):
    """An angle, kept in degrees."""

    unit = "angle"
    symbol = "°"
    example = 'degrees such as 65 or "65°"'

    def parsed(self, value: object, units: Units) -> float:
        """Return the angle in degrees."""
        del units
        number, unit = self._split(value)
        if unit not in {"", "°", "deg", "degrees"}:
            raise self._unreadable(value)
        return number


class Rings(Angle):
    """The angle between the growth rings and the wide face, kept in degrees."""

    example = '"flat", "quarter" or degrees such as 45'
    NAMES: ClassVar[dict[str, float]] = {"flat": 0.0, "quarter": 90.0}

    def parsed(self, value: object, units: Units) -> float:
        """Return the angle in degrees: flat is 0, quarter is 90."""
        known = self.NAMES.get(value.strip().lower()) if isinstance(value, str) else None
        return super().parsed(value, units) if known is None else known

    def written(self, value: Value, units: Units) -> Value:
        """Return "flat" or "quarter", or the angle between them."""
        return next((name for name, angle in self.NAMES.items() if angle == value), super().written(value, units))


class Temperature(Number):
    """A temperature, kept in °C. A bare number is in °C in a file in mm, in °F in a file in inches."""

    unit = "temperature"
    symbol = " °C"
    example = 'a temperature such as "20 C" or "68 F"'

    def parsed(self, value: object, units: Units) -> float:
        """Return the temperature in °C."""
        number, unit = self._split(value)
        unit = unit.removeprefix("°") or ("c" if units == "mm" else "f")
        if unit not in {"c", "f"}:
            raise self._unreadable(value)
        return number if unit == "c" else (number - 32) / 1.8

    def written(self, value: Value, units: Units) -> Value:
        """Return a number of these units' degrees, or the words of one in °C where that is not the same."""
        if units == "mm":
            return super().written(value, units)
        assert isinstance(value, int | float), f"{value} is no temperature"
        fahrenheit = super().written(round(value * 1.8 + 32, 9), units)
        return fahrenheit if self.parsed(fahrenheit, units) == value else f"{value!r} C"

    def shown(self, value: Value, units: Units) -> str:
        """Return the temperature as those who work in these units say it."""
        assert isinstance(value, int | float), f"{value} is no temperature"
        return f"{value:g} °C" if units == "mm" else f"{value * 1.8 + 32:g} °F"


class Humidity(Number):
    """A relative humidity, kept in %. A bare number from 0 to 1 is a fraction of 1."""

    unit = "humidity"
    symbol = " %"
    example = 'a humidity such as 45 or "45 %"'

    def parsed(self, value: object, units: Units) -> float:
        """Return the humidity in %."""
        del units
        number, unit = self._split(value)
        if unit not in {"", "%"}:
            raise self._unreadable(value)
        return round(number * 100, 9) if not unit and 0 < number <= 1 else number

    def written(self, value: Value, units: Units) -> Value:
        """Return a bare number, which means %, but for what would be read as a fraction of 1."""
        number = super().written(value, units)
        return f"{number} %" if isinstance(number, int | float) and 0 < number <= 1 else number


def _finite(value: object, example: str) -> int | float:
    """Return a number of TOML. Raises ValueError for anything else, for inf and nan, and for the huge."""
    if isinstance(value, bool) or not isinstance(value, int | float):
        raise ValueError(f"must be {example}, not {named(value)}")
    if not abs(value) <= _HUGE:  # true of nan as well
        raise ValueError(f"must be {example}, not {quoted(value)}")
    return value


def named(value: object) -> str:
    """Return what a value of TOML is, in words."""
    if isinstance(value, bool):
        return str(value).lower()
    words = {str: "text", int: "a number", float: "a number", list: "a list", dict: "a section"}
    return next((word for kind, word in words.items() if isinstance(value, kind)), "a date or time")


def quoted(value: object) -> str:
    """Return what was written, short enough for a message and without control characters."""
    if not isinstance(value, str | int | float) or isinstance(value, bool):
        return named(value)
    text = ascii(value) if isinstance(value, str) and not value.isprintable() else repr(value)
    return text if len(text) <= 42 else f"{text[:40]}…"
