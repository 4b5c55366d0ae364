"""A new box file: every section and key with what it is, and as a comment what is in use where a key is left out."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from fractions import Fraction
from typing import NamedTuple

import tomlkit

from jigs.base import lengths
from jigs.base.kinds import Length, Rings
from jigs.base.lengths import MM_PER_INCH, Units
from jigs.base.settings import Section, keys_of
from jigs.box import chain
from jigs.box.chain import Box
from jigs.box.stock import sawing
from jigs.boxfile import reading
from jigs.boxfile.reading import model_at
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint.part import asked_of
from jigs.parts.joint.sled import key_height

Value = str | float
"""A value as a maker types it: a number, or words such as a length with its unit."""


class Board(NamedTuple):
    """A board in hand, lengths in mm, and its wood."""

    length: float
    width: float
    thickness: float
    wood: str
    planed: bool = False


_PARTS = ("groove", "bottom", "lid", "handle", "shell", "pattern")
"""Sections of which each is a part: without a value for a key of it the box has none."""
_PREFACE = """\
# A box file. Change the numbers, then run: jigleaf check FILE
#
# A length is a number in the units below, or in quotes with its own: "9.5 mm", "3/8 in".
# A line with # before its key shows what this box has there, though nobody set it: take the # away to set it yourself.
# Such a value is worked out anew when the others change; as a comment it is not.
# A section you have no use for may go, all but [box], [sides] and [joint].
"""
_ALWAYS: tuple[tuple[str, str, str], ...] = (
    ("joint.clearance", "0.1", "0.004"),
    ("joint.key_slack", "0.1", "0.004"),
    ("joint.proud", "0.3", '"1/64"'),
    ("climate.shop", '{ temperature = "20 C", humidity = 45 }', '{ temperature = "68 F", humidity = 45 }'),
    ("climate.dry", '{ temperature = "20 C", humidity = 30 }', '{ temperature = "68 F", humidity = 30 }'),
    ("climate.wet", '{ temperature = "25 C", humidity = 70 }', '{ temperature = "77 F", humidity = 70 }'),
    ("print.paper", '"A4"', '"Letter"'),
)
"""Keys that nobody is asked for and that stand in every new file: in mm and in inches, as they are written."""
_BIT = "# The bit that cuts the rabbets is named by the key bit, as it was measured."
_EXAMPLES: Mapping[str, tuple[str, str]] = {
    "joint": (
        "# Measured, cutting_edge is the length of the cutter's edge, clamp_reach the thickest stack clamps take.",
    )
    * 2,
    "bottom": (
        f"{_BIT}\n# Of plywood, thickness is what the sheet measures: one sold as 6 measures about 5.6.",
        f"{_BIT}\n# Of plywood, thickness is what the sheet measures: one sold as 1/4 measures about 0.205.",
    ),
    "handle": ("# With three holes, middle_saw is the hole a second saw cuts in the middle, middle_height its centre.",)
    * 2,
    "stock": (
        "# Write each board between the brackets: {{ length = 1500, width = 100, thickness = 15, species = {wood} }}\n"
        '# What wood costs, a cubic metre of it: currency = "euros", prices = [{{ species = {wood}, price = 4200 }}]',
        '# Write each board between the brackets: {{ length = 48, width = 6, thickness = "5/8", species = {wood} }}\n'
        '# What wood costs, a board foot of it: currency = "dollars", prices = [{{ species = {wood}, price = 12 }}]',
    ),
    "hours": ("# An operation has minutes to set and minutes of work on a box: groove = {{ set = 15, work = 8 }}",) * 2,
    "print": ("# A printer that 'jigleaf calibrate' knows is named by the key printer, its name in quotes.",) * 2,
    "cutters": ("# Each further cutter has a [[cutters]] of its own.",) * 2,
}
"""What a section holds that this box has nothing of, in words: there is no value to show."""
_MEASURED = ("inside_length", "inside_width")
"""Readings of the dry-assembled box; until they are there the drawn inside counts."""
_ATTRIBUTES = {"lid.plug": "plug_depth"}
"""What a part calls a key, where it has another name for it."""


def worked_out(units: Units, values: Mapping[str, Value], name: str, boards: Sequence[Board] = ()) -> Box:
    """Return the box of a new file's values, each named `section.key`; `name` is what messages call it.

    Raises CannotRead and CannotBuild as `reading.read` does.
    """
    return chain.work_out(reading.read("\n".join(_sections(units, values, None, boards)), name))


def text(units: Units, values: Mapping[str, Value], worked: Box, boards: Sequence[Board] = ()) -> str:
    """Return the file that says these values, and of every other key what the box, worked out from them, has there."""
    return "\n".join([_PREFACE, *_sections(units, values, worked, boards)])


def _sections(units: Units, values: Mapping[str, Value], worked: Box | None, boards: Sequence[Board]) -> Iterator[str]:
    """Yield the sections of a file; without the box nothing but what is set."""
    written = {key: tomlkit.item(value).as_string() for key, value in values.items()}
    written |= {"units": f'"{units}"'} | {key: literals[units == "in"] for key, *literals in _ALWAYS}
    written["stock.boards"] = _boards(boards, units)
    written |= {f"cutters.{key}": written[f"joint.{key}"] for key in ("finger", "cutter")}
    named = {key.split(".")[0] for key in written}
    yield _section("", BoxFile, written, worked, units)
    for name in keys_of(BoxFile):
        model = model_at((name,))
        if model and (name in named or name not in _PARTS):
            yield _section(name, model, written, worked, units)


def _boards(boards: Sequence[Board], units: Units) -> str:
    """Return the boards in hand as a file lists them, each in a row of its own."""
    rows = []
    for board in boards:
        sizes = {"length": board.length, "width": board.width, "thickness": board.thickness}
        said = ", ".join(f"{side} = {length(size, units)}" for side, size in sizes.items())
        planed = ", planed = true" if board.planed else ""
        rows.append(f"  {{ {said}{planed}, species = {tomlkit.item(board.wood).as_string()} }},\n")
    return f"[\n{''.join(rows)}]" if rows else "[]"


def _section(name: str, model: type[Section], written: Mapping[str, str], worked: Box | None, units: Units) -> str:
    """Return one section: its keys in the order of the model, and what is said of them."""
    rows = []
    if name:
        header = f"[[{name}]]" if name == "cutters" else f"[{name}]"
        rows.append(f"{header}  # {(model.__doc__ or '').rstrip('.')}")
    for key, declared in keys_of(model).items():
        path = f"{name}.{key}" if name else key
        if path in written:
            line = f"{key} = {written[path]}"
        elif (
            worked
            and name
            and path not in without_meaning(worked.file)
            and (value := used(worked, name, key)) is not None
        ):
            line = f"# {key} = {shown(value, model, key, units)}"
        else:
            continue
        rows.append(f"{line:26}  # {declared.help}")
    if worked and name in _EXAMPLES:
        rows.append(_EXAMPLES[name][units == "in"].format(wood=written["sides.species"]))
    return "\n".join([*rows, ""])


def without_meaning(file: BoxFile) -> tuple[str, ...]:
    """Return the keys that mean nothing in a file: plywood has neither wood nor rings."""
    of_sheet = file.bottom is not None and file.bottom.material == "plywood"
    return ("bottom.species", "bottom.rings") if of_sheet else ()


def used(worked: Box, section: str, key: str) -> object:
    """Return what a box has for a key that its file leaves out, or None where there is nothing to show."""
    file = worked.file
    if (value := getattr(getattr(file, section, None), key, None)) is not None:
        return None if isinstance(value, tuple | Section) else value  # sections have no place in a comment
    if key in ("species", "ends_species"):
        return file.sides.species
    if key in _MEASURED:
        return worked.inside[_MEASURED.index(key)]
    if section == "stock":
        return dict(zip(("kerf", "trim"), sawing(file), strict=True)).get(key)
    if section in ("sides", "joint"):
        return _of_the_sled(worked).get(key)
    return getattr(getattr(worked, section, None), _ATTRIBUTES.get(f"{section}.{key}", key), None)


def _of_the_sled(worked: Box) -> dict[str, object]:
    """Return what the sled of a box has for the keys that are worked out for it."""
    numbers, asked = worked.numbers, asked_of(worked.file)
    sides = {"ends_thickness": asked.thickness, "thinnest": asked.thickness, "backer": asked.thickness}
    if numbers is None:
        return dict(sides)
    height = key_height(asked, numbers, worked.file.units)
    made = {"passes": numbers.passes.count, "key": numbers.key, "spacer": numbers.spacer, "key_height": height}
    # Asked for by their number, the fingers of a ripped board end at the top: an even count has no number to show.
    alike = asked.count_with(numbers.finger_count) == numbers.count
    return {**sides, **made, **({"fingers": numbers.finger_count} if alike else {})}


def shown(value: object, model: type[Section], key: str, units: Units) -> str:
    """Return a value as it is written in a file."""
    kind = keys_of(model)[key].kind
    if isinstance(kind, Rings):
        value = next((name for name, angle in Rings.NAMES.items() if angle == value), value)
    if isinstance(value, str):
        return tomlkit.item(value).as_string()
    if isinstance(value, bool):
        return str(value).lower()
    assert isinstance(value, int | float), f"{key} is no single value"
    return length(value, units) if isinstance(kind, Length) else f"{value:g}"


def length(mm: float, units: Units) -> str:
    """Return a length in mm as a box file says it: to 0.01 mm, or a 64th of an inch where it is one, else to 0.0001."""
    if units == "mm":
        return f"{mm:.2f}".rstrip("0").rstrip(".")
    inches = Fraction(mm) / MM_PER_INCH
    fraction, left = lengths.nearest_fraction(inches)
    if abs(left) > Fraction(1, 100_000):
        return f"{float(inches):.4f}"
    return f'"{fraction.replace(" ", "-")}"' if "/" in fraction else fraction
