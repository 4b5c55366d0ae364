"""The box file: its sections and keys, read and checked. Nothing here knows about the box.

A box file is TOML. tomllib reads it and pydantic holds it against the models below. Each key is one line: what it is,
its limits, its default. The range check, its message, the JSON Schema and the comments of a new file come from that
line. The kinds of values are in box_values.py, changes to a file in box_changes.py, a new file in new_box.py.

A key whose default is None is worked out where it is left out. A section whose default is None is a part that is
then not made.
"""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Annotated, Any, Literal, get_args

from pydantic import BaseModel, ConfigDict, Field, PrivateAttr, ValidationError
from pydantic.fields import FieldInfo
from pydantic.json_schema import GenerateJsonSchema, JsonSchemaValue
from pydantic_core import core_schema

from jigs import safe_names
from jigs.box_values import (
    Angle,
    Count,
    Humidity,
    Kind,
    Length,
    Number,
    OutOfLimitsError,
    Rings,
    Temperature,
    Words,
    named,
    quoted,
)
from jigs.definition import near
from jigs.errors import CannotBuild, CannotRead, JigleafError, Problem
from jigs.lengths import Units
from jigs.trade.passes import Machine
from jigs.wording import shown

MOST_BYTES = 1_000_000
"""A larger file is no box file."""
_MOST_LINES, _LONGEST_LINE = 5000, 2000  # lines, characters; a box file with every key has a hundred short lines
_MOST_DOTS = 100  # on a line; what tomllib takes for a dotted key grows with the square of its parts
_MOST_SQUARES = 1_000_000  # of the dots of each line, in all
_MOST_FAULTS = 50  # a file with more was not meant as a box file
_DEEPEST = 4  # stock.boards[1].length
_SEARCH = 3_000_000  # characters parsed in search of line numbers before it is given up: under two seconds

Method = Literal["one stack", "separately"]
KeyPath = tuple[str | int, ...]


@dataclass(frozen=True, slots=True)
class _Reading:
    """What a value needs to know of the file it stands in."""

    units: Units
    source: str
    data: Mapping[str, Any]
    name: str = ""


# -- the sections --------------------------------------------------------------------------------------------------


class Section(BaseModel):
    """A section of the box file. Lengths in mm, angles in degrees, temperatures in °C, humidities in %."""

    model_config = ConfigDict(extra="forbid", frozen=True)


class Box(Section):
    """Outside sizes of the finished box, and the boards in hand."""

    length: Annotated[float, Length("outside length along the front", 10, 2000)]
    width: Annotated[float, Length("outside width along the ends", 10, 2000)]
    height: Annotated[float, Length("width of the boards in hand", 6, 1200)]


class Sides(Section):
    """The four sides."""

    thickness: Annotated[float, Length("thickness of the sides, the thickest reading", 0.4, 60)]
    species: Annotated[str | None, Words("wood of the sides")] = None
    ends_species: Annotated[str | None, Words("wood of the two ends, where it is another")] = None
    rings: Annotated[float, Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)] = 0.0


class Joint(Section):
    """The finger joint, and how it is cut."""

    finger: Annotated[float, Length("finger width", 3, 60)]
    cutter: Annotated[float, Length("socket the cutter makes, measured in wood", 0.8, 60)]
    clearance: Annotated[float, Length("socket less finger", 0, 1)] = 0.10
    key_slack: Annotated[float, Length("play of a socket on the key", 0, 2)] = 0.10
    proud: Annotated[float, Length("fingers left long, to be planed off", 0, 3)] = 0.3
    machine: Annotated[Machine, Field(description="router table or table saw")] = "router table"
    method: Annotated[Method, Field(description="one stack, or long and short sides separately")] = "one stack"


class Groove(Section):
    """The groove that holds the bottom."""

    cutter: Annotated[float, Length("groove the bit makes, measured in wood", 0.8, 30)]
    depth: Annotated[float | None, Length("depth of the groove", 0.4, 40)] = None
    from_bottom: Annotated[float | None, Length("lower side of the groove to the bottom edge", 0, 600)] = None
    end_wood: Annotated[float | None, Length("end of a stopped groove to the end of the board as cut", 0, 60)] = None


class Bottom(Section):
    """The bottom panel, of solid wood, free to move in its groove."""

    thickness: Annotated[float, Length("thickness of the bottom", 1, 60)]
    tongue: Annotated[float | None, Length("thickness of its tongue in the groove", 0.4, 30)] = None
    clearance: Annotated[float | None, Length("play left across the grain in the wettest air", 0, 10)] = None
    inside_length: Annotated[float | None, Length("inside along the front, measured in the dry box", 5, 2000)] = None
    inside_width: Annotated[float | None, Length("inside along the ends, measured in the dry box", 5, 2000)] = None
    species: Annotated[str | None, Words("wood of the bottom; left out, that of the sides")] = None
    rings: Annotated[float, Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)] = 0.0


class Lid(Section):
    """The lid, with a plug that drops into the box."""

    thickness: Annotated[float, Length("thickness of the lid, plug and crown included", 1, 80)]
    plug: Annotated[float | None, Length("how far the plug reaches into the box", 1, 60)] = None
    overhang: Annotated[float | None, Length("lid over the box on every side", 0, 60)] = None
    crown: Annotated[float | None, Length("rise of the crown (0 for a flat lid)", 0, 500)] = None
    clearance: Annotated[float | None, Length("gap left across the grain in the wettest air", 0, 10)] = None
    species: Annotated[str | None, Words("wood of the lid; left out, that of the sides")] = None
    rings: Annotated[float, Rings("growth rings to the wide face (flat, quarter or degrees)", 0, 90)] = 0.0


class Handle(Section):
    """The handle, cut with a hole saw."""

    saw: Annotated[float, Length("hole the saw really cuts", 5, 200)]
    length: Annotated[float | None, Length("length of the handle", 10, 600)] = None
    height: Annotated[float | None, Length("height of the handle", 5, 300)] = None
    thickness: Annotated[float | None, Length("thickness of the handle", 3, 100)] = None
    foot: Annotated[float | None, Length("wood under the holes", 0, 100)] = None
    neck: Annotated[float | None, Length("wood between the holes", -100, 300)] = None
    crest: Annotated[float | None, Length("rise of the arched top", 0, 200)] = None


class Shell(Section):
    """The fan shell, carved on the front."""

    lobes: Annotated[int, Count("lobes of the fan", 2, 60)]
    width: Annotated[float, Length("width of the shell", 5, 600)]
    height: Annotated[float, Length("height of the shell", 5, 600)]
    bulge: Annotated[float | None, Number("rise of a lobe over its chord", 0.01, 0.5)] = None
    border: Annotated[float | None, Length("border outside the lobes", 0, 50)] = None
    knife: Annotated[float | None, Angle("knife to the surface", 10, 85)] = None
    chip: Annotated[float | None, Length("widest chip", 0.2, 30)] = None


class Air(Section):
    """The air in a season: temperature and relative humidity."""

    temperature: Annotated[float, Temperature("temperature", -30, 60)]
    humidity: Annotated[float, Humidity("relative humidity", 5, 98)]


class Climate(Section):
    """The air the box is made in, and the driest and wettest it will meet."""

    shop: Annotated[Air, Field(description="in the shop, on the day")] = Air(temperature=20, humidity=45)
    dry: Annotated[Air, Field(description="in the driest month at home")] = Air(temperature=20, humidity=30)
    wet: Annotated[Air, Field(description="in the wettest month")] = Air(temperature=25, humidity=70)


class RackBoard(Section):
    """A board in the rack."""

    length: Annotated[float, Length("length of the board", 10, 10000)]
    width: Annotated[float, Length("width of the board", 3, 2000)]
    thickness: Annotated[float, Length("thickness of the board", 0.4, 300)]
    count: Annotated[int, Count("boards of this size", 1, 1000)] = 1
    species: Annotated[str | None, Words("wood of the board; left out, it may be used for any")] = None
    name: Annotated[str | None, Words("what you call the board", 24)] = None


class Stock(Section):
    """The boards in the rack, and what sawing takes."""

    boards: Annotated[tuple[RackBoard, ...], Field(description="the boards in the rack")] = ()
    kerf: Annotated[float | None, Length("what a saw cut takes", 0.3, 10)] = None
    trim: Annotated[float | None, Length("what is cut off the end of a board", 0, 300)] = None


class Print(Section):
    """What the sheets are printed on."""

    paper: Annotated[str | None, Words("A4, A3, Letter, Tabloid, both")] = None
    printer: Annotated[str | None, Words("the printer whose errors are known")] = None


class MeasuredCutter(Section):
    """A cutter measured in wood, to pick from when another finger is asked for."""

    finger: Annotated[float, Length("finger it is for", 3, 60)]
    cutter: Annotated[float, Length("socket it makes, measured in wood", 0.8, 60)]


class BoxFile(Section):
    """A box file, checked key by key. Rules between keys are the box's own, not the file's."""

    title: Annotated[str, Words("what the box is called")] = "Box"
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


def changed(file: BoxFile, changes: Mapping[str, float | int | str]) -> BoxFile | None:
    """Return a file with other values, by their keys (`joint.finger`), or None where a key can't hold its value.

    Lengths in mm. A section that the file does not have can't be changed.
    """
    made = file
    for key, value in changes.items():
        other = _with(made, key.split("."), value)
        if not isinstance(other, BoxFile):
            return None
        made = other
    return made


def _with(section: Section, path: Sequence[str], value: float | int | str) -> Section | None:
    """Return a section with another value at a path, or None where there is no such key, or it can't hold the value."""
    name, *inner = path
    field = type(section).model_fields.get(name)
    if field is None:
        return None
    held: Section | float | int | str | None = value
    if inner:
        within = getattr(section, name)
        held = _with(within, inner, value) if isinstance(within, Section) else None
    elif any(isinstance(value, str) or not kind.holds(value) for kind in field.metadata if isinstance(kind, Number)):
        return None
    return None if held is None else section.model_copy(update={name: held})


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
    data = decoded(text, name)
    units: Units = "in" if data.get("units") == "in" else "mm"
    reading = _Reading(units, text, data, name)
    try:
        return BoxFile.model_validate(data, context=reading)
    except ValidationError as error:
        raise _refusal(error, reading, name) from None


def decoded(text: str, name: str) -> dict[str, Any]:
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
    return f"{name}, line {line}, column {column}: {rule[:1].lower()}{shown(rule[1:], 200)}{shown(hint, 100)}"


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
    return _Fault(spelled(path), _wrong(detail, path), lines[known] if known else None)


def _wrong(detail: Any, path: KeyPath) -> str | Problem:
    """Return what is wrong, put into the words of the trade."""
    match detail["type"]:
        case "value_error":
            cause = detail["ctx"]["error"]
            return cause.problem if isinstance(cause, OutOfLimitsError) else str(cause)
        case "extra_forbidden":
            return unknown_key(path, is_section=len(path) == 1 and isinstance(detail["input"], dict | list))
        case "missing":
            return _missing(path)
        case "literal_error":
            return f"must be {detail['ctx']['expected']}, not {quoted(detail['input'])}"
        case "tuple_type":
            return f"must be a list, not {named(detail['input'])}"
        case _:
            assert detail["type"] == "model_type", detail["type"]
            return f"must be a section with keys, not {named(detail['input'])}"


def unknown_key(path: KeyPath, *, is_section: bool) -> str:
    """Return what to say of a key that no box file has: the nearest that there is, or where it belongs."""
    model = model_at(path[:-1])
    assert model is not None
    key = str(path[-1])
    elsewhere = [
        f"in [{name}]" for name in BoxFile.model_fields if key in getattr(model_at((name,)), "model_fields", ())
    ]
    if key in BoxFile.model_fields:
        elsewhere.append("at the top of the file")
    if len(elsewhere) == 1 or (elsewhere and len(path) == 1):
        suggestion = "it belongs " + " or ".join(elsewhere)
    else:
        suggestion = near(shown(key), list(model.model_fields))
    return f"unknown {'section' if is_section else 'key'}; {suggestion}"


def _missing(path: KeyPath) -> str:
    """Return what to say of a key or section that must be there."""
    if (inner := model_at(path)) is not None:
        needed = [key for key, field in inner.model_fields.items() if field.is_required()]
        return f"this section is missing; it needs {_listed(needed)}"
    model = model_at(path[:-1])
    assert model is not None
    section = spelled(tuple(key for key in path[:-1] if isinstance(key, str)))
    return f"missing; [{section}] needs it ({help_of(model.model_fields[str(path[-1])])})"


def model_at(path: KeyPath) -> type[Section] | None:
    """Return the section at a path, or None where there is a value or nothing."""
    model: type[Section] = BoxFile
    for key in path:
        if isinstance(key, int):  # which of a list makes no difference
            continue
        field = model.model_fields.get(key)
        inner = section_in(field) if field else None
        if inner is None:
            return None
        model = inner
    return model


def section_in(field: FieldInfo) -> type[Section] | None:
    """Return the section that a field holds, one or none or many of."""
    kinds = (field.annotation, *get_args(field.annotation))
    return next((kind for kind in kinds if isinstance(kind, type) and issubclass(kind, Section)), None)


def help_of(field: FieldInfo) -> str:
    """Return what a field is."""
    return next((kind.help for kind in field.metadata if isinstance(kind, Kind)), field.description or "")


def spelled(path: KeyPath) -> str:
    """Return a path as a person writes it: `stock.boards[2].length`, counted from 1."""
    words = [f"[{key + 1}]" if isinstance(key, int) else f".{shown(key)}" for key in path]
    return "".join(words).removeprefix(".")


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


# -- the schema ----------------------------------------------------------------------------------------------------


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
