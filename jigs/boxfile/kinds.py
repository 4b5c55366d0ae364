"""The values a box file may hold: each reads what was written, holds its limits, and describes itself.

A kind stands in the `Annotated` of its key and becomes pydantic's validator and schema there.
"""

from __future__ import annotations

import math
import re
import unicodedata
from abc import ABC, abstractmethod
from dataclasses import dataclass
from fractions import Fraction
from typing import Any, ClassVar

from pydantic import ValidationInfo
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from jigs.base import lengths
from jigs.base.lengths import Units
from jigs.base.rules import Problem, out_of_limits

_HUGE = 1e12  # beyond any limit, and beyond what is worth printing
LONGEST_WORDS = 80
"""The most letters that a text in a box file may have."""


class OutOfLimitsError(ValueError):
    """A value that reads well and can't be built. Carries the problem, which doesn't know yet where it is."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(problem.rule)


@dataclass(frozen=True)
class Kind(ABC):
    """What a key holds. Stands in the `Annotated` of its field, and there becomes pydantic's validator and schema."""

    help: str

    @abstractmethod
    def read(self, value: object, units: Units) -> object:
        """Return the value as it is kept. Raises ValueError for one that can't be read or is out of its limits."""

    @abstractmethod
    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written."""

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        del source, handler  # read() takes what was written and settles everything about it

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

    def read(self, value: object, units: Units) -> str:
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
class Number(Kind):
    """A number from `least` to `most`, in the unit in which it is kept."""

    least: float
    most: float
    UNIT: ClassVar[str] = ""
    EXAMPLE: ClassVar[str] = "a number such as 0.25"

    def number(self, value: object, units: Units) -> float:
        """Return the number in the unit in which it is kept. Raises ValueError for one that can't be read."""
        del units
        number, unit = self._split(value)
        if unit:
            raise self._unreadable(value)
        return number

    def words(self, number: float, units: Units) -> object:
        """Return the number as `Problem` takes it: a float is a length."""
        del units
        return f"{number:g}{self.UNIT}"

    def read(self, value: object, units: Units) -> float:
        """Return the number. Raises ValueError as `number` does, and where it is out of its limits."""
        number = self.number(value, units)
        if self.holds(number):
            return number
        nearest = self.least if number < self.least else self.most
        numbers = {"value": number, "least": self.least, "most": self.most, "nearest": nearest}
        said = {name: self.words(float(number), units) for name, number in numbers.items()}
        raise OutOfLimitsError(out_of_limits("", self.help, said, units))

    def holds(self, number: float) -> bool:
        """Tell whether a number is within its limits."""
        return self.least <= number <= self.most

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written."""
        limits = f"{self.help}, {self.least:g} to {self.most:g}{self.UNIT}"
        return {"anyOf": [{"type": "number"}, {"type": "string", "minLength": 1}], "description": limits}

    def _split(self, value: object) -> tuple[float, str]:
        """Return the number and the unit written behind it, in lower case."""
        if isinstance(value, str):
            match = re.fullmatch(r"([+-]?[0-9]{1,12}(?:[.,][0-9]{1,12})?) ?([^0-9 ]*)", value.strip(), re.ASCII)
            if match is None:
                raise self._unreadable(value)
            return float(match[1].replace(",", ".")), match[2].lower()
        return float(_finite(value, self.EXAMPLE)), ""

    def _unreadable(self, value: object) -> ValueError:
        return ValueError(f"{quoted(value)} can't be read; write {self.EXAMPLE}")


class Length(Number):
    """A length, kept in mm. A bare number is in the units of the file."""

    UNIT = " mm"
    EXAMPLE = 'a length such as 9.5, "9.5 mm" or "3/8 in"'

    def number(self, value: object, units: Units) -> float:
        """Return the length in mm."""
        if isinstance(value, str):
            exact = lengths.read(value, units)
        else:
            # By its decimal digits: 0.1 in is 2.54 mm and not a hair more.
            exact = Fraction(str(_finite(value, self.EXAMPLE))) * (1 if units == "mm" else lengths.MM_PER_INCH)
        if abs(exact) > _HUGE:
            raise ValueError(f"{quoted(value)} is far too large for a length")
        return float(exact)

    def words(self, number: float, units: Units) -> object:
        """Return the length as it is, for `Problem` to read out."""
        del units
        return number

    def holds(self, number: float) -> bool:
        """Tell whether a length is within its limits as they are read out."""
        return lengths.within(number, self.least, self.most)

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written; a bare number may be in either unit."""
        least = min(self.least, math.floor(self.least / 25.4 * 1e4) / 1e4)
        number = {"type": "number", "minimum": least, "maximum": self.most}
        return super().described() | {"anyOf": [number, {"type": "string", "minLength": 1, "maxLength": 40}]}


class Count(Number):
    """A whole number."""

    EXAMPLE = "a whole number such as 7"

    def number(self, value: object, units: Units) -> float:
        """Return the whole number. Raises ValueError for one with a fraction."""
        number = super().number(value, units)
        if isinstance(value, float) or not number.is_integer():
            raise self._unreadable(value)
        return number

    def read(self, value: object, units: Units) -> int:
        """Return the whole number."""
        return int(super().read(value, units))

    def described(self) -> JsonSchemaValue:
        """Return the JSON Schema of what may be written."""
        number = {"type": "integer", "minimum": self.least, "maximum": self.most}
        return super().described() | {"anyOf": [number, {"type": "string", "pattern": "^ *[0-9]+ *$"}]}


class Angle(Number):
    """An angle, kept in degrees."""

    UNIT = "°"
    EXAMPLE = 'degrees such as 65 or "65°"'

    def number(self, value: object, units: Units) -> float:
        """Return the angle in degrees."""
        del units
        number, unit = self._split(value)
        if unit not in {"", "°", "deg", "degrees"}:
            raise self._unreadable(value)
        return number


class Rings(Angle):
    """The angle between the growth rings and the wide face, kept in degrees."""

    EXAMPLE = '"flat", "quarter" or degrees such as 45'
    NAMES: ClassVar[dict[str, float]] = {"flat": 0.0, "quarter": 90.0}

    def number(self, value: object, units: Units) -> float:
        """Return the angle in degrees: flat is 0, quarter is 90."""
        named = self.NAMES.get(value.strip().lower()) if isinstance(value, str) else None
        return super().number(value, units) if named is None else named


class Temperature(Number):
    """A temperature, kept in °C. A bare number is in °C in a file in mm, in °F in a file in inches."""

    UNIT = " °C"
    EXAMPLE = 'a temperature such as "20 C" or "68 F"'

    def number(self, value: object, units: Units) -> float:
        """Return the temperature in °C."""
        number, unit = self._split(value)
        unit = unit.removeprefix("°") or ("c" if units == "mm" else "f")
        if unit not in {"c", "f"}:
            raise self._unreadable(value)
        return number if unit == "c" else (number - 32) / 1.8

    def words(self, number: float, units: Units) -> object:
        """Return the temperature as those who work in these units say it."""
        return f"{number:g} °C" if units == "mm" else f"{number * 1.8 + 32:g} °F"


class Humidity(Number):
    """A relative humidity, kept in %. A bare number from 0 to 1 is a fraction of 1."""

    UNIT = " %"
    EXAMPLE = 'a humidity such as 45 or "45 %"'

    def number(self, value: object, units: Units) -> float:
        """Return the humidity in %."""
        del units
        number, unit = self._split(value)
        if unit not in {"", "%"}:
            raise self._unreadable(value)
        return round(number * 100, 9) if not unit and 0 < number <= 1 else number


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
