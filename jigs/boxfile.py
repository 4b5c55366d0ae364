"""The box file: read, checked and changed. Everything about its format is here, and nothing about the box.

A box file is TOML. tomllib reads it, pydantic holds it against the models below, and tomlkit changes a key without
losing the maker's comments. Each key is one line: what it is, its limits, its default. The range check, its message,
the JSON Schema and the comments of a new file come from that line.

A key whose default is None is worked out where it is left out. A section whose default is None is a part that is
then not made.
"""

from __future__ import annotations

import math
import re
import tomllib
import unicodedata
from abc import ABC, abstractmethod
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from pathlib import Path
from typing import Annotated, Any, ClassVar, Literal, get_args

import tomlkit
from pydantic import BaseModel, ConfigDict, Field, PrivateAttr, ValidationError, ValidationInfo
from pydantic.fields import FieldInfo
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import CoreSchema, core_schema
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import Table

from jigs import lengths, safe_names
from jigs.definition import near
from jigs.errors import CannotBuild, CannotRead, JigleafError, Problem
from jigs.lengths import Units
from jigs.trade.passes import Machine

MOST_BYTES = 1_000_000
"""A larger file is no box file."""
_MOST_LINES, _LONGEST_LINE = 5000, 2000  # lines, characters; a box file with every key has a hundred short lines
_MOST_DOTS = 100  # on a line; what tomllib takes for a dotted key grows with the square of its parts
_MOST_SQUARES = 1_000_000  # of the dots of each line, in all
_MOST_FAULTS = 50  # a file with more was not meant as a box file
_DEEPEST = 4  # stock.boards[1].length
_SEARCH = 3_000_000  # characters parsed in search of line numbers before it is given up: under two seconds
_HUGE = 1e12  # beyond any limit, and beyond what is worth printing

Method = Literal["one stack", "separately"]
KeyPath = tuple[str | int, ...]


# -- the kinds of values -------------------------------------------------------------------------------------------


LONGEST_WORDS = 80
"""The most letters that a text in a box file may have."""


class _OutOfLimitsError(ValueError):
    """A value that reads well and can't be built. Carries the problem, which doesn't know yet where it is."""

    def __init__(self, problem: Problem) -> None:
        self.problem = problem
        super().__init__(problem.rule)


@dataclass(frozen=True, slots=True)
class _Reading:
    """What a value needs to know of the file it stands in."""

    units: Units
    source: str
    data: Mapping[str, Any]
    name: str = ""


@dataclass(frozen=True)
class _Kind(ABC):
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
class _Words(_Kind):
    """A line of text."""

    longest: int = LONGEST_WORDS

    def read(self, value: object, units: Units) -> str:
        """Return the text without blanks around it."""
        del units
        if not isinstance(value, str):
            raise ValueError(f"must be text in quotes, not {_named(value)}")
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
class _Number(_Kind):
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
        raise _OutOfLimitsError(
            Problem(
                "stop",
                "",
                f"{self.help} must be from {{least}} to {{most}}; it is {{value}}",
                "the nearest that works is {nearest}",
                {name: self.words(float(number), units) for name, number in numbers.items()},
            )
        )

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
        return ValueError(f"{_quoted(value)} can't be read; write {self.EXAMPLE}")


class _Length(_Number):
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
            raise ValueError(f"{_quoted(value)} is far too large for a length")
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


class _Count(_Number):
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


class _Angle(_Number):
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


class _Rings(_Angle):
    """The angle between the growth rings and the wide face, kept in degrees."""

    EXAMPLE = '"flat", "quarter" or degrees such as 45'
    NAMES: ClassVar[dict[str, float]] = {"flat": 0.0, "quarter": 90.0}

    def number(self, value: object, units: Units) -> float:
        """Return the angle in degrees: flat is 0, quarter is 90."""
        named = self.NAMES.get(value.strip().lower()) if isinstance(value, str) else None
        return super().number(value, units) if named is None else named


class _Temperature(_Number):
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


class _Humidity(_Number):
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
        raise ValueError(f"must be {example}, not {_named(value)}")
    if not abs(value) <= _HUGE:  # true of nan as well
        raise ValueError(f"must be {example}, not {_quoted(value)}")
    return value


def _named(value: object) -> str:
    """Return what a value of TOML is, in words."""
    if isinstance(value, bool):
        return str(value).lower()
    words = {str: "text", int: "a number", float: "a number", list: "a list", dict: "a section"}
    return next((word for kind, word in words.items() if isinstance(value, kind)), "a date or time")


def _quoted(value: object) -> str:
    """Return what was written, short enough for a message and without control characters."""
    if not isinstance(value, str | int | float) or isinstance(value, bool):
        return _named(value)
    text = ascii(value) if isinstance(value, str) and not value.isprintable() else repr(value)
    return text if len(text) <= 42 else f"{text[:40]}…"


# -- the sections --------------------------------------------------------------------------------------------------


class Section(BaseModel):
    """A section of the box file. Lengths in mm, angles in degrees, temperatures in °C, humidities in %."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Box(Section):
    """Outside sizes of the finished box, and the boards in hand."""

    length: Annotated[float, _Length("outside length along the front", 10, 2000)]
    width: Annotated[float, _Length("outside width along the ends", 10, 2000)]
    height: Annotated[float, _Length("width of the boards in hand", 6, 1200)]


class Sides(Section):
    """The four sides."""

    thickness: Annotated[float, _Length("thickness of the sides, the thickest reading", 0.4, 60)]
    species: Annotated[str | None, _Words("wood of the sides")] = None
    ends_species: Annotated[str | None, _Words("wood of the two ends, where it is another")] = None
    rings: Annotated[float, _Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)] = 0.0


class Joint(Section):
    """The finger joint, and how it is cut."""

    finger: Annotated[float, _Length("finger width", 3, 60)]
    cutter: Annotated[float, _Length("socket the cutter makes, measured in wood", 0.8, 60)]
    clearance: Annotated[float, _Length("socket less finger", 0, 1)] = 0.10
    key_slack: Annotated[float, _Length("play of a socket on the key", 0, 2)] = 0.10
    proud: Annotated[float, _Length("fingers left long, to be planed off", 0, 3)] = 0.3
    machine: Annotated[Machine, Field(description="router table or table saw")] = "router table"
    method: Annotated[Method, Field(description="one stack, or long and short sides separately")] = "one stack"


class Groove(Section):
    """The groove that holds the bottom."""

    cutter: Annotated[float, _Length("groove the bit makes, measured in wood", 0.8, 30)]
    depth: Annotated[float | None, _Length("depth of the groove", 0.4, 40)] = None
    from_bottom: Annotated[float | None, _Length("lower side of the groove to the bottom edge", 0, 600)] = None
    end_wood: Annotated[float | None, _Length("end of a stopped groove to the end of the board as cut", 0, 60)] = None


class Bottom(Section):
    """The bottom panel, of solid wood, free to move in its groove."""

    thickness: Annotated[float, _Length("thickness of the bottom", 1, 60)]
    tongue: Annotated[float | None, _Length("thickness of its tongue in the groove", 0.4, 30)] = None
    clearance: Annotated[float | None, _Length("play left across the grain in the wettest air", 0, 10)] = None
    species: Annotated[str | None, _Words("wood of the bottom; left out, that of the sides")] = None
    rings: Annotated[float, _Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)] = 0.0


class Lid(Section):
    """The lid, with a plug that drops into the box."""

    thickness: Annotated[float, _Length("thickness of the lid, plug and crown included", 1, 80)]
    plug: Annotated[float | None, _Length("how far the plug reaches into the box", 1, 60)] = None
    overhang: Annotated[float | None, _Length("lid over the box on every side", 0, 60)] = None
    crown: Annotated[float | None, _Length("rise of the crown (0 for a flat lid)", 0, 500)] = None
    clearance: Annotated[float | None, _Length("gap left across the grain in the wettest air", 0, 10)] = None
    species: Annotated[str | None, _Words("wood of the lid; left out, that of the sides")] = None
    rings: Annotated[float, _Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)] = 0.0


class Handle(Section):
    """The handle, cut with a hole saw."""

    saw: Annotated[float, _Length("hole the saw really cuts", 5, 200)]
    length: Annotated[float | None, _Length("length of the handle", 10, 600)] = None
    height: Annotated[float | None, _Length("height of the handle", 5, 300)] = None
    thickness: Annotated[float | None, _Length("thickness of the handle", 3, 100)] = None
    foot: Annotated[float | None, _Length("wood under the holes", 0, 100)] = None
    neck: Annotated[float | None, _Length("wood between the holes", -100, 300)] = None
    crest: Annotated[float | None, _Length("rise of the arched top", 0, 200)] = None


class Shell(Section):
    """The fan shell, carved on the front."""

    lobes: Annotated[int, _Count("lobes of the fan", 2, 60)]
    width: Annotated[float, _Length("width of the shell", 5, 600)]
    height: Annotated[float, _Length("height of the shell", 5, 600)]
    bulge: Annotated[float | None, _Number("rise of a lobe over its chord", 0.01, 0.5)] = None
    border: Annotated[float | None, _Length("border outside the lobes", 0, 50)] = None
    knife: Annotated[float | None, _Angle("knife to the surface", 10, 85)] = None
    chip: Annotated[float | None, _Length("widest chip", 0.2, 30)] = None


class Air(Section):
    """The air in a season: temperature and relative humidity."""

    temperature: Annotated[float, _Temperature("temperature", -30, 60)]
    humidity: Annotated[float, _Humidity("relative humidity", 5, 98)]


class Climate(Section):
    """The air the box is made in, and the driest and wettest it will meet."""

    shop: Annotated[Air, Field(description="in the shop, on the day")] = Air(temperature=20, humidity=45)
    dry: Annotated[Air, Field(description="in the driest month at home")] = Air(temperature=20, humidity=30)
    wet: Annotated[Air, Field(description="in the wettest month")] = Air(temperature=25, humidity=70)


class RackBoard(Section):
    """A board in the rack."""

    length: Annotated[float, _Length("length of the board", 10, 10000)]
    width: Annotated[float, _Length("width of the board", 3, 2000)]
    thickness: Annotated[float, _Length("thickness of the board", 0.4, 300)]
    count: Annotated[int, _Count("boards of this size", 1, 1000)] = 1


class Stock(Section):
    """The boards in the rack, and what sawing takes."""

    boards: Annotated[tuple[RackBoard, ...], Field(description="the boards in the rack")] = ()
    kerf: Annotated[float | None, _Length("what a saw cut takes", 0.3, 10)] = None
    trim: Annotated[float | None, _Length("what is cut off the end of a board", 0, 300)] = None


class Print(Section):
    """What the sheets are printed on."""

    paper: Annotated[str | None, _Words("A4, A3, Letter, Tabloid, both")] = None
    printer: Annotated[str | None, _Words("the printer whose errors are known")] = None


class MeasuredCutter(Section):
    """A cutter measured in wood, to pick from when another finger is asked for."""

    finger: Annotated[float, _Length("finger it is for", 3, 60)]
    cutter: Annotated[float, _Length("socket it makes, measured in wood", 0.8, 60)]


class BoxFile(Section):
    """A box file, checked key by key. Rules between keys are the box's own, not the file's."""

    title: Annotated[str, _Words("what the box is called")] = "Box"
    units: Annotated[Units, Field(description="what a bare number means: mm or in")] = "mm"
    box: Box
    sides: Sides
    joint: Joint
    groove: Groove | None = None
    bottom: Bottom | None = None
    lid: Lid | None = None
    handle: Handle | None = None
    shell: Shell | None = None
    climate: Climate = Climate()
    stock: Stock | None = None
    print: Print = Print()
    cutters: tuple[MeasuredCutter, ...] = ()

    _source: str = PrivateAttr("")
    _name: str = PrivateAttr("")
    _notes: tuple[Problem, ...] = PrivateAttr(())

    @property
    def source(self) -> str:
        """The text it was read from, as it was."""
        return self._source

    @property
    def stem(self) -> str:
        """The name that files made from it start with: its own name, without what a file name can't hold."""
        return safe_names.stem(Path(self._name).stem, "box")

    @property
    def settings(self) -> dict[str, Any]:
        """What makes the box: everything but the paper, and the cutters that were only there to pick from."""
        return self.model_dump(exclude={"print", "cutters"})

    @property
    def notes(self) -> tuple[Problem, ...]:
        """What was read another way than it was written."""
        return self._notes

    def model_post_init(self, context: Any, /) -> None:
        """Keep the text it was read from."""
        if isinstance(context, _Reading):
            self._source, self._name = context.source, context.name
            self._notes = tuple(_fractions_read(context.data, self.climate))


def _fractions_read(data: Mapping[str, Any], climate: Climate) -> Iterator[Problem]:
    """Find the humidities that were written as a fraction of 1."""
    for season, air in data.get("climate", {}).items():
        written = air["humidity"]
        percent = getattr(climate, season).humidity
        if "%" not in str(written) and percent != float(str(written).strip().replace(",", ".")):
            yield Problem(
                "note",
                f"climate.{season}.humidity",
                "{written} is read as {percent} %",
                numbers={"written": str(written), "percent": f"{percent:g}"},
            )


# -- reading -------------------------------------------------------------------------------------------------------


def load(path: Path | str) -> BoxFile:
    """Return the box file at `path`. Raises as `read` does, and CannotRead for a path that holds no text."""
    path = Path(path)
    try:
        if path.is_dir():
            raise CannotRead(f"{path} is a folder, not a box file")
        if path.exists() and not path.is_file():
            raise CannotRead(f"{path} is not a file")
        with path.open("rb") as file:
            content = file.read(MOST_BYTES + 1)
    except FileNotFoundError:
        raise CannotRead(f"there is no file {path}") from None
    except (OSError, ValueError) as error:  # ValueError: a NUL in the name
        raise CannotRead(f"{path} can't be read: {getattr(error, 'strerror', None) or error}") from None
    if len(content) > MOST_BYTES:
        raise CannotRead(f"{path} has more than {MOST_BYTES // 1_000_000} MB; a box file has a few kB")
    if content.lstrip().startswith((b"%PDF", b"<svg", b"<?xml")):
        raise CannotRead(f"{path} is a sheet, not a box file; 'jigleaf reopen' gives back what a sheet was made from")
    if content.lstrip().startswith(b"{"):
        raise CannotRead(f"{path} holds the settings of a jig, not a box; 'jigleaf start' writes a box file")
    try:
        text = content.decode("utf-8")
    except UnicodeDecodeError as error:
        line = content.count(b"\n", 0, error.start) + 1
        raise CannotRead(f"{path}, line {line}: not UTF-8 text; save the file as UTF-8") from None
    return read(text, str(path))


def read(text: str, name: str) -> BoxFile:
    """Return the box file that a text holds; `name` is what messages call it.

    Raises CannotRead with a line for each fault where it can't be read, CannotBuild with a problem for each value
    that is out of its limits where that is all that is wrong.
    """
    data = _decoded(text, name)
    units: Units = "in" if data.get("units") == "in" else "mm"
    reading = _Reading(units, text, data, name)
    try:
        return BoxFile.model_validate(data, context=reading)
    except ValidationError as error:
        raise _refusal(error, reading, name) from None


def _decoded(text: str, name: str) -> dict[str, Any]:
    """Return the text as TOML. Raises CannotRead, with the line, where it is none."""
    text = text.removeprefix("\ufeff")
    require_modest(text, name, "a box file", _MOST_LINES)
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise CannotRead(f"{name}: lists or tables are nested too deep") from None
    except ValueError as error:
        raise CannotRead(_syntax_fault(text, name, str(error))) from None


def require_modest(text: str, name: str, what: str, most_lines: int) -> None:
    """Raise CannotRead for TOML that is so large that it is not what it should be, and would take long to read."""
    if len(text) > MOST_BYTES:
        raise CannotRead(f"{name} has more than {MOST_BYTES // 1_000_000} MB; {what} has a few kB")
    lines = text.split("\n")
    if len(lines) > most_lines:
        raise CannotRead(f"{name} has {len(lines)} lines, where {what} may have {most_lines}")
    if sum(line.count(".") ** 2 for line in lines if not line.lstrip().startswith("#")) > _MOST_SQUARES:
        raise CannotRead(f"{name} has far more dots in its lines than {what} may have")
    for number, line in enumerate(lines, 1):
        if len(line) > _LONGEST_LINE:
            raise CannotRead(
                f"{name}, line {number}: has {len(line)} characters, where a line may have {_LONGEST_LINE}"
            )
        if line.count(".") > _MOST_DOTS and not line.lstrip().startswith("#"):
            raise CannotRead(f"{name}, line {number}: has {line.count('.')} dots, where a line may have {_MOST_DOTS}")


_PLAINER = {
    "Invalid value": "this is neither a number nor text in quotes",
    "Expected newline or end of document after a statement": "this is neither a number nor text in quotes",
    "Cannot overwrite a value": "this key stands twice",
    r"Illegal character '\n'": "the closing quote is missing",
}
"""What tomllib says, in words for those who never heard of TOML."""


def _syntax_fault(text: str, name: str, said: str) -> str:
    """Return where the text is no TOML and why, with what was probably meant."""
    rule, _, place = said.partition(" (at ")
    rule = re.sub(r"^Cannot declare \('(.*)',\) twice$", r"the section [\1] stands twice", _PLAINER.get(rule, rule))
    found = re.match(r"line (\d+), column (\d+)", place)
    lines = text.split("\n")
    line, column = (int(found[1]), int(found[2])) if found else (len(lines), len(lines[-1]) + 1)
    hint = ""
    if rule == _PLAINER["Invalid value"]:
        if bare := re.fullmatch(r"\s*([\w.-]+)\s*=\s*([^\"'#\[{]+?)\s*(?:#.*)?", lines[line - 1]):
            hint = f'; write {bare[1]} = "{bare[2]}"' if bare[2].isprintable() else ""
        elif inches := re.fullmatch(r'\s*([\w.-]+)\s*=\s*"([^"]+)""\s*(?:#.*)?', lines[line - 1]):
            hint = f"; write {inches[1]} = '{inches[2]}\"'"
    return f"{name}, line {line}, column {column}: {rule[:1].lower()}{_shown(rule[1:], 200)}{_shown(hint, 100)}"


# -- saying what is wrong ------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class _Fault:
    """One thing wrong with a file: what can't be read, in words, or a value that is out of its limits."""

    where: str
    wrong: str | Problem
    line: int | None

    def as_line(self, name: str, units: Units) -> str:
        """Return the fault as a line of a message."""
        place = name if self.line is None else f"{name}, line {self.line}"
        if isinstance(self.wrong, str):
            return f"{place}: {self.where}: {self.wrong}"
        return f"{place}: {self.where}: {self.wrong.says(units)}; {self.wrong.suggests(units)}"


def _refusal(error: ValidationError, reading: _Reading, name: str) -> JigleafError:
    """Return the error that says all that is wrong with a file, in the order of its lines."""
    details = error.errors(include_url=False)
    lines = _line_numbers(reading.source)
    faults = [_fault(detail, lines) for detail in details[:_MOST_FAULTS]]
    faults.sort(key=lambda fault: fault.line or 0)
    problems = [_placed(fault) for fault in faults if isinstance(fault.wrong, Problem)]
    refusal: JigleafError
    if len(problems) == len(details):
        refusal = CannotBuild(problems)
    else:
        said = [fault.as_line(name, reading.units) for fault in faults]
        more = len(details) - len(faults)
        refusal = CannotRead("\n".join([*said, f"{name}: and {more} more"] if more else said))
    refusal.units = reading.units
    return refusal


def _placed(fault: _Fault) -> Problem:
    """Return the problem of a fault, with where it is."""
    assert isinstance(fault.wrong, Problem)
    problem = replace(fault.wrong, where=fault.where)
    if fault.line is None:
        return problem
    return replace(problem, rule=problem.rule + " (line {line})", numbers={**problem.numbers, "line": fault.line})


def _fault(detail: Any, lines: Mapping[KeyPath, int]) -> _Fault:
    """Return one of pydantic's errors as a fault."""
    path: KeyPath = detail["loc"]
    known = next((path[:length] for length in range(len(path), 0, -1) if path[:length] in lines), None)
    return _Fault(_spelled(path), _wrong(detail, path), lines[known] if known else None)


def _wrong(detail: Any, path: KeyPath) -> str | Problem:
    """Return what is wrong, put into the words of the trade."""
    match detail["type"]:
        case "value_error":
            cause = detail["ctx"]["error"]
            return cause.problem if isinstance(cause, _OutOfLimitsError) else str(cause)
        case "extra_forbidden":
            return _unknown(path, is_section=len(path) == 1 and isinstance(detail["input"], dict | list))
        case "missing":
            return _missing(path)
        case "literal_error":
            return f"must be {detail['ctx']['expected']}, not {_quoted(detail['input'])}"
        case "tuple_type":
            return f"must be a list, not {_named(detail['input'])}"
        case _:
            assert detail["type"] == "model_type", detail["type"]
            return f"must be a section with keys, not {_named(detail['input'])}"


def _unknown(path: KeyPath, *, is_section: bool) -> str:
    """Return what to say of a key that no box file has: the nearest that there is, or where it belongs."""
    model = _model_at(path[:-1])
    assert model is not None
    key = str(path[-1])
    elsewhere = [
        f"in [{name}]" for name in BoxFile.model_fields if key in getattr(_model_at((name,)), "model_fields", ())
    ]
    if key in BoxFile.model_fields:
        elsewhere.append("at the top of the file")
    if len(elsewhere) == 1 or (elsewhere and len(path) == 1):
        suggestion = "it belongs " + " or ".join(elsewhere)
    else:
        suggestion = near(_shown(key), list(model.model_fields))
    return f"unknown {'section' if is_section else 'key'}; {suggestion}"


def _missing(path: KeyPath) -> str:
    """Return what to say of a key or section that must be there."""
    if (inner := _model_at(path)) is not None:
        needed = [key for key, field in inner.model_fields.items() if field.is_required()]
        return f"this section is missing; it needs {_listed(needed)}"
    model = _model_at(path[:-1])
    assert model is not None
    section = _spelled(tuple(key for key in path[:-1] if isinstance(key, str)))
    return f"missing; [{section}] needs it ({_help(model.model_fields[str(path[-1])])})"


def _model_at(path: KeyPath) -> type[Section] | None:
    """Return the section at a path, or None where there is a value or nothing."""
    model: type[Section] = BoxFile
    for key in path:
        if isinstance(key, int):  # which of a list makes no difference
            continue
        field = model.model_fields.get(key)
        inner = _inner(field) if field else None
        if inner is None:
            return None
        model = inner
    return model


def _inner(field: FieldInfo) -> type[Section] | None:
    """Return the section that a field holds, one or none or many of."""
    kinds = (field.annotation, *get_args(field.annotation))
    return next((kind for kind in kinds if isinstance(kind, type) and issubclass(kind, Section)), None)


def _help(field: FieldInfo) -> str:
    """Return what a field is."""
    return next((kind.help for kind in field.metadata if isinstance(kind, _Kind)), field.description or "")


def _spelled(path: KeyPath) -> str:
    """Return a path as a person writes it: `stock.boards[2].length`, counted from 1."""
    words = [f"[{key + 1}]" if isinstance(key, int) else f".{_shown(key)}" for key in path]
    return "".join(words).removeprefix(".")


def _shown(text: str, longest: int = 40) -> str:
    """Return text for a message, cut short, without control characters."""
    shown = "".join(letter if letter.isprintable() else "�" for letter in text[:longest])
    return shown if len(text) <= longest else shown + "…"


def _listed(words: list[str]) -> str:
    return " and ".join([", ".join(words[:-1]), words[-1]] if len(words) > 1 else words)


# -- where a key stands --------------------------------------------------------------------------------------------


def _line_numbers(text: str) -> dict[KeyPath, int]:
    """Return the line on which each key and section of valid TOML first stands.

    A key in a list or table that goes over several lines has the line on which that begins.
    """
    found: dict[KeyPath, int] = {}
    header: KeyPath = ()
    members: Counter[KeyPath] = Counter()
    for line, statement, data in _statements(text):
        paths = list(_paths(data))
        if statement.startswith("["):
            header = paths[-1]
            if statement.startswith("[["):
                members[header[:-1]] += 1
                header = (*header[:-1], members[header[:-1]] - 1)
            paths = [header[:length] for length in range(1, len(header) + 1)]
        else:
            paths = [header + path for path in paths]
        for path in paths:
            found.setdefault(path, line)
    return found


def _statements(text: str) -> Iterator[tuple[int, str, dict[str, Any]]]:
    """Split valid TOML into its statements, each with its first line and what it says by itself.

    A line break inside a statement stands in a string or list that is still open, and an open one is no TOML. So a
    statement ends with the first line that makes it TOML by itself. Lines of comment and blank lines are left out.
    """
    lines: list[str] = []
    effort = 0
    for number, line in enumerate(text.removeprefix("\ufeff").replace("\r\n", "\n").split("\n"), 1):
        lines.append(line)
        statement = "\n".join(lines)
        effort += len(statement) + 20
        if effort > _SEARCH:
            return
        try:
            data = tomllib.loads(statement)
        except ValueError:
            continue
        if data:
            yield number - len(lines) + 1, statement.lstrip(), data
        lines = []


def _paths(data: Any, depth: int = _DEEPEST) -> Iterator[KeyPath]:
    """Find every key of nested tables and lists, outer before inner."""
    pairs = data.items() if isinstance(data, dict) else enumerate(data) if isinstance(data, list) else ()
    for key, value in pairs:
        yield (key,)
        if depth > 1:
            for path in _paths(value, depth - 1):
                yield key, *path


# -- writing -------------------------------------------------------------------------------------------------------


def set_values(text: str, values: Mapping[str, str | float]) -> str:
    """Return the text with other values for some keys, each named `section.key`; comments stay.

    The values are written as they are given and checked when the text is read. Raises CannotRead for a text that is
    no TOML, for a key that no box file has, with near names, and for one that holds a list or a section.
    """
    _decoded(text, "the box file")
    for name in values:
        _require_settable(name)
    try:
        document = tomlkit.parse(text.removeprefix("\ufeff").rstrip("\n") + "\n")
        for name, value in values.items():
            _put(document, name.split("."), value)
        for name in values:
            _settle(document, name.split("."))
        return tomlkit.dumps(document)
    except (TOMLKitError, RecursionError) as error:
        raise CannotRead(f"the box file can't be changed: {_shown(str(error), 200)}") from None


def _require_settable(name: str) -> None:
    """Raise CannotRead for a name that no single value of a box file has."""
    path = tuple(name.split("."))
    for length in range(1, len(path) + 1):
        model = _model_at(path[: length - 1])
        if model is None:
            raise CannotRead(f"{_shown(name)}: {_spelled(path[: length - 1])} holds a value, not a section")
        if path[length - 1] not in model.model_fields:
            unknown = _unknown(path[:length], is_section=length < len(path))
            raise CannotRead(f"{_spelled(path[:length])}: {unknown}")
        if get_args(model.model_fields[path[length - 1]].annotation)[1:] == (...,):
            raise CannotRead(f"{_shown(name)}: holds a list; change it in the file")
    if _model_at(path) is not None:
        raise CannotRead(f"{_shown(name)}: is a section; name one of its keys, as in {_spelled(path)}.key")


def _put(document: Any, path: list[str], value: str | float) -> None:
    """Write one value into a document of tomlkit, making the sections on the way to it."""
    table = document
    for key in path[:-1]:
        if key not in table:
            table[key] = tomlkit.table()
        table = table[key]
        if not isinstance(table, dict):
            raise CannotRead(f"{'.'.join(path)}: in the file {key} is {_named(table)}, not a section")
    table[path[-1]] = value


def _settle(document: Any, path: list[str]) -> None:
    """Move the last key of a section up to the other keys: a comment between stands over the next section."""
    table = document
    for key in path[:-1]:
        table = table[key]
    if not isinstance(table, Table):
        return
    body = table.value.body
    keyed = [(index, key.key) for index, (key, item) in enumerate(body) if key and not isinstance(item, Table)]
    if len(keyed) > 1 and keyed[-1][1] == path[-1]:
        body.insert(keyed[-2][0] + 1, body.pop(keyed[-1][0]))


def value_at(text: str, name: str) -> str | float:
    """Return the value of one key, named `section.key`, as it stands in a text that `read` takes."""
    value: Any = tomllib.loads(text)
    for key in name.split("."):
        value = value[key]
    found: str | float = value
    return found


def without_section(text: str, name: str) -> str:
    """Return the text without one section, its comments included."""
    document = tomlkit.parse(text)
    document.remove(name)
    return tomlkit.dumps(document)


def left_to_work_out(text: str, section: str, keys: Sequence[str]) -> str:
    """Return a starting text in which some keys of a section are comments, so that they are worked out."""
    before, header, after = text.partition(f"\n[{section}]")
    mine, following, rest = after.partition("\n[")
    for key in keys:
        mine = re.sub(rf"(?m)^{key} = ", f"# {key} = ", mine)
    return before + header + mine + following + rest


def schema() -> dict[str, Any]:
    """Return the JSON Schema of a box file, for editors."""
    return {
        "$schema": GenerateJsonSchema.schema_dialect,
        **BoxFile.model_json_schema(schema_generator=_WithoutNull),
    }


class _WithoutNull(GenerateJsonSchema):
    """A schema in which what may be left out is not said to be null: TOML has none."""

    def nullable_schema(self, schema: core_schema.NullableSchema) -> JsonSchemaValue:
        """Return the schema of what it holds when it is there."""
        return self.generate_inner(schema["schema"])

    def default_schema(self, schema: core_schema.WithDefaultSchema) -> JsonSchemaValue:
        """Return the schema with its default, where there is one to write."""
        described = super().default_schema(schema)
        return {key: value for key, value in described.items() if (key, value) != ("default", None)}


# -- a new file ----------------------------------------------------------------------------------------------------

_Row = tuple[str, str, str]
"""A key and its value in a file in mm and in a file in inches; a key after a # is only shown."""
_STARTING: dict[str, tuple[_Row, ...]] = {
    "": (("title", '"Recipe box"', '"Recipe box"'), ("units", '"mm"', '"in"')),
    "box": (("length", "200", "7.5"), ("width", "150", "5"), ("height", "92", "5.5")),
    "sides": (
        ("thickness", "12", '"1/2"'),
        ("species", '"black cherry"', '"black walnut"'),
        ("#ends_species", '"black cherry"', '"black walnut"'),
        ("#rings", '"flat"', '"flat"'),
    ),
    "joint": (
        ("finger", "10", '"1/2"'),
        ("cutter", "10.02", "0.500"),
        ("#clearance", "0.10", "0.004"),
        ("#key_slack", "0.10", "0.004"),
        ("#proud", "0.3", '"1/64"'),
        ("#machine", '"router table"', '"router table"'),
        ("#method", '"one stack"', '"one stack"'),
    ),
    "groove": (
        ("cutter", "6", '"1/4"'),
        ("depth", "6", '"1/4"'),
        ("from_bottom", "12", '"3/16"'),
        ("#end_wood", "3.8", '"11/64"'),
    ),
    "bottom": (
        ("thickness", "10", '"3/8"'),
        ("#tongue", "5.8", "0.240"),
        ("#clearance", "0.5", "0.020"),
        ("#species", '"black cherry"', '"sugar maple"'),
        ("#rings", '"flat"', '"flat"'),
    ),
    "lid": (
        ("thickness", "18", '"3/4"'),
        ("plug", "6", '"1/4"'),
        ("overhang", "5", '"3/16"'),
        ("crown", "6", '"1/4"'),
        ("#clearance", "0.4", '"1/64"'),
        ("#species", '"black cherry"', '"black walnut"'),
        ("#rings", '"flat"', '"flat"'),
    ),
    "handle": (
        ("saw", "38.6", "1.52"),
        ("length", "90", '"3-1/2"'),
        ("height", "54", '"2-1/8"'),
        ("thickness", "22", '"7/8"'),
        ("foot", "6", '"1/4"'),
        ("neck", "24", '"7/8"'),
        ("crest", "5", '"3/16"'),
    ),
    "shell": (
        ("lobes", "7", "8"),
        ("width", "60", '"2-1/2"'),
        ("height", "40", '"1-3/4"'),
        ("bulge", "0.25", "0.30"),
        ("border", "3", '"1/8"'),
        ("knife", "65", "65"),
        ("chip", "3", '"1/8"'),
    ),
    "climate": (
        ("shop", '{ temperature = "20 C", humidity = 45 }', '{ temperature = "68 F", humidity = 45 }'),
        ("dry", '{ temperature = "20 C", humidity = 30 }', '{ temperature = "68 F", humidity = 30 }'),
        ("wet", '{ temperature = "25 C", humidity = 70 }', '{ temperature = "77 F", humidity = 70 }'),
    ),
    "stock": (
        (
            "boards",
            "[{ length = 1500, width = 100, thickness = 15, count = 1 }]",
            '[{ length = 48, width = 6, thickness = "5/8", count = 1 }]',
        ),
        ("kerf", "3.2", '"1/8"'),
        ("trim", "15", '"1/2"'),
    ),
    "print": (("paper", '"A4"', '"Letter"'), ("#printer", '"school office"', '"school office"')),
    "cutters": (("#finger", "8", '"3/8"'), ("#cutter", "7.97", "0.374")),
}
_PREFACE = """\
# A box file. Change the numbers, then run: jigleaf check FILE
#
# A length is a number in the units below, or in quotes with its own: "9.5 mm", "3/8 in".
# Take the # from the front of a line to set that value yourself; without it it is worked out.
# A section you have no use for may go, all but [box], [sides] and [joint].
"""


def starting_text(units: Units) -> str:
    """Return a box file to start from: every section and key, with what each is and, as a comment, what may be said."""
    return "\n".join([_PREFACE, *(_starting_section(name, units) for name in _STARTING)])


def _starting_section(name: str, units: Units) -> str:
    """Return a section of a new file."""
    model = _model_at((name,)) if name else BoxFile
    assert model is not None
    rows = []
    if name:
        about = (model.__doc__ or "").rstrip(".")
        rows.append(f"# [[{name}]]  # {about}" if name == "cutters" else f"[{name}]  # {about}")
    for key, *literals in _STARTING[name]:
        shown = key.removeprefix("#")
        written = f"{'# ' if key != shown else ''}{shown} = {literals[units == 'in']}"
        rows.append(f"{written:26}  # {_help(model.model_fields[shown])}")
    return "\n".join([*rows, ""])
