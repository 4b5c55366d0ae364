"""What a job was made from in one line of at most 300 bytes, for the code on the sheets and to be typed by hand.

    jigleaf:1 sled mm finger=10 cutter=10.02 board=90 thickness=12
    jigleaf:1 box in box.length=7-1/2 .width=5 sides.thickness=1/2 .species=black_walnut stock.boards.1.length=48

Version, family and units; then every setting that differs from its default. A name that starts with a dot is in the
section of the name before it. Blanks inside a value are written `_`, and what else could be misread as in a link
(RFC 3986). Text that looks like a number stands after a `'`. What finds no room is left out in whole parts, a section
of a box file or a setting of a jig, and their number is said at the end: `without=3`.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from decimal import Decimal
from typing import TYPE_CHECKING, Any, cast
from urllib.parse import quote, unquote

from jigs.base import written
from jigs.base.catalogue import Jig
from jigs.base.errors import CannotRead
from jigs.base.kinds import Value
from jigs.base.lengths import Units
from jigs.base.settings import Section, Setting, keys_of
from jigs.base.wording import near, shown
from jigs.record import Record

if TYPE_CHECKING:
    from jigs.boxfile.sections import BoxFile

MOST_BYTES = 300
FEWER_BYTES = (200, 150)
"""For a title block that has no room for more: a box, its sides and its joint take from 130 to 190."""
START = "jigleaf:"
VERSION = 1
_MOST_TYPED = 4000  # characters; nobody types more, and a code holds less
_LEFT_OUT_FIRST = (
    "pattern",
    "cutters",
    "stock",
    "print",
    "title",
    "climate",
    "shell",
    "handle",
    "lid",
    "bottom",
    "groove",
)
_NUMBER = re.compile(r"[+-]?[0-9]+(\.[0-9]+)?", re.ASCII)
_PLAIN_NAME = re.compile(r"[A-Za-z0-9_-]+(\.[A-Za-z0-9_-]+){0,5}", re.ASCII)


class ShortForm(Record):
    """A short form that was read. `missing` says how many parts found no room in it."""

    family: str
    units: Units
    words: Mapping[str, str]
    missing: int


# -- writing -------------------------------------------------------------------------------------------------------


def of_jig(jig: Jig, settings: Mapping[str, Value], units: Units) -> tuple[str, ...]:
    """Return the short forms of the settings of a jig, the fullest first; none where what is required finds no room."""
    needed: dict[str, str] = {}
    extra: dict[str, str] = {}
    for parameter in jig.parameters:
        value = settings.get(parameter.name)
        if value is None or (not parameter.required and value == parameter.default_in(units)):
            continue
        (needed if parameter.required else extra)[parameter.name] = _written(parameter, value, units)
    return _shortened(f"{jig.name} {units}", needed | extra, list(reversed(extra)))


def of_box(read: BoxFile) -> tuple[str, ...]:
    """Return the short forms of a box file, the fullest first; none where its box, sides and joint find no room."""
    raw = tomllib.loads(read.source.removeprefix("\ufeff"))
    words = {".".join(path): _said(value) for path, value in _differing(read, raw, read.units)}
    words.pop("units", None)
    return _shortened(f"box {read.units}", words, [name for name in _LEFT_OUT_FIRST if name in raw])


def _shortened(head: str, words: Mapping[str, str], order: Sequence[str]) -> tuple[str, ...]:
    """Return the text within each limit, parts left out in this order until it is short enough."""
    found = [text for most in (MOST_BYTES, *FEWER_BYTES) if (text := _within(most, head, words, order))]
    return tuple(dict.fromkeys(found))


def _within(most: int, head: str, words: Mapping[str, str], order: Sequence[str]) -> str:
    for count in range(len(order) + 1):
        gone = order[:count]
        kept = {name: value for name, value in words.items() if name.split(".")[0] not in gone}
        missing = len({name.split(".")[0] for name in words} & set(gone))
        tokens = [f"{name}={_escaped(value)}" for name, value in zip(_relative(list(kept)), kept.values(), strict=True)]
        tokens += [f"without={missing}"] if missing else []
        text = " ".join([f"{START}{VERSION} {head}", *tokens])
        if len(text.encode()) <= most:
            return text
    return ""


def _relative(names: Sequence[str]) -> Iterator[str]:
    """Go through names, each without its section where that is the section of the name before."""
    before = ""
    for name in names:
        section, dot, last = name.rpartition(".")
        yield f".{last}" if dot and section == before else name
        before = section


def _written(parameter: Setting, value: Value, units: Units) -> str:
    if parameter.kind.unit == "length":
        return written.shortest(float(cast("float", value)), units)
    if isinstance(value, bool):
        return "yes" if value else "no"
    return format(Decimal(repr(value)), "f") if isinstance(value, float) else str(value)


def _differing(model: Section, raw: Mapping[str, Any], units: Units) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Go through the values that a file gives and that differ from their defaults, in the order of the model."""
    for name, key in keys_of(type(model)).items():
        value = getattr(model, name)
        if name not in raw or (not key.required and value == key.default_in(units)):
            continue
        inner = _differing(value, raw[name], units) if isinstance(value, Section) else _flat(raw[name])
        found = [((name, *path), leaf) for path, leaf in inner]
        yield from found or [((name,), "")]


def _flat(value: Any) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Go through the single values of a list of tables; what stands in a list is numbered from 1."""
    if not isinstance(value, list | dict):
        yield (), value
        return
    pairs = value.items() if isinstance(value, dict) else enumerate(value, 1)
    for key, inner in pairs:
        for path, leaf in _flat(inner):
            yield (str(key), *path), leaf


def _said(value: Any) -> str:
    """Return a value of TOML as it is written in the short form."""
    if isinstance(value, str):
        return f"'{value}" if _NUMBER.fullmatch(value) or value.startswith("'") else value
    if isinstance(value, bool):
        return "yes" if value else "no"
    return format(Decimal(repr(value)), "f")


def _escaped(value: str) -> str:
    return quote(value, safe="/.,:;+-'\"").replace("_", "%5F").replace("%20", "_")


# -- reading -------------------------------------------------------------------------------------------------------


def is_short_form(text: str) -> bool:
    """Tell whether a text is meant as a short form."""
    return text.lstrip().startswith(START)


def read(text: str) -> ShortForm:
    """Return a short form that was scanned or typed. Raises CannotRead where it is none."""
    if len(text) > _MOST_TYPED:
        raise CannotRead(f"the code has {len(text)} characters; a sheet's has {MOST_BYTES} at most")
    head, *tokens = text.split() or [""]
    version = head.removeprefix(START)
    if version != str(VERSION):
        raise CannotRead(f"the code starts with '{shown(head)}'; this jigleaf reads {START}{VERSION}")
    if len(tokens) < 2 or tokens[1] not in ("mm", "in"):
        raise CannotRead(f"the code breaks off; it starts with the family and the units, as in '{START}1 sled mm …'")
    words: dict[str, str] = {}
    section = ""
    for token in tokens[2:]:
        name, equals, value = token.partition("=")
        name = f"{section}{name}" if name.startswith(".") else name
        if not equals or not _PLAIN_NAME.fullmatch(name):
            raise CannotRead(f"the code has '{shown(token)}', which is no name=value")
        section = name.rpartition(".")[0]
        if name in words:
            raise CannotRead(f"the code says {shown(name)} twice")
        words[name] = unquote(value.replace("_", " "))
    missing = words.pop("without", "0")
    if not re.fullmatch("[0-9]{1,3}", missing, re.ASCII):
        raise CannotRead(f"the code says without={shown(missing)}, which is no count")
    return ShortForm(tokens[0], cast("Units", tokens[1]), words, int(missing))


def missing_words(short: ShortForm) -> str:
    """Return what to say of a short form that had no room for everything."""
    said = "the PDF or SVG sheet holds everything"
    if short.family != "box":
        return f"the code had no room for {short.missing} of the settings that differ from their defaults; {said}"
    there = {name.split(".")[0] for name in short.words}
    lacking = ", ".join(name for name in reversed(_LEFT_OUT_FIRST) if name not in there)
    return f"the code had no room for {short.missing} of these parts of the box file: {lacking}; {said}"


def box_text(short: ShortForm) -> str:
    """Return a box file that says what the short form of a box says. Raises CannotRead where the two don't agree."""
    import tomlkit  # noqa: PLC0415 - slow to import, and a jig needs none of it

    data: dict[str, Any] = {"units": short.units}
    for name, value in short.words.items():
        _put(data, name, _unsaid(value))
    return tomlkit.dumps(_listed(data))


def _put(data: dict[str, Any], name: str, value: Any) -> None:
    *above, last = name.split(".")
    table = data
    for key in above:
        table = table.setdefault(key, {})
        if not isinstance(table, dict):
            raise CannotRead(f"the code gives {shown(name)} inside of a value")
    if last in table:
        raise CannotRead(f"the code gives {shown(name)} twice")
    table[last] = value


def _unsaid(value: str) -> Any:
    """Return a value of the short form as a value of TOML."""
    if not value:
        return {}
    if _NUMBER.fullmatch(value):
        return float(value) if "." in value else int(value)
    return value.removeprefix("'")


def _listed(value: Any) -> Any:
    """Return tables whose keys are 1, 2, 3 … as lists."""
    if not isinstance(value, dict):
        return value
    inner = {key: _listed(item) for key, item in value.items()}
    if inner and list(inner) == [str(number) for number in range(1, len(inner) + 1)]:
        return list(inner.values())
    return inner


def require_all(jig: Jig, settings: Mapping[str, Value]) -> None:
    """Raise CannotRead, with their names, where settings are missing that a jig can't do without."""
    missing = [parameter.name for parameter in jig.parameters if parameter.required and parameter.name not in settings]
    if missing:
        raise CannotRead(f"the code lacks {', '.join(missing)}, which {jig.name} needs")


def jig_settings(jig: Jig, words: Mapping[str, str], units: Units) -> dict[str, Value]:
    """Return settings of a jig that stand there as words. Raises CannotRead, with what is wrong."""
    known = {parameter.name: parameter for parameter in jig.parameters}
    settings: dict[str, Value] = {}
    for typed, value in words.items():
        name = typed.replace("-", "_")
        if name not in known:
            raise CannotRead(f"{jig.name} has no setting '{shown(typed)}'; {near(name, list(known))}")
        settings[name] = _setting(known[name], value, units)
    return settings


def _setting(setting: Setting, text: str, units: Units) -> Value:
    """Return one setting from its words, in mm where it is a length."""
    try:
        return setting.kind.parsed(text, units)
    except ValueError as error:
        raise CannotRead(f"{setting.spoken}: {error}") from None
