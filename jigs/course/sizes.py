"""The numbers of one student's box in words, by part: what a page for reading says of them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from jigs.base import lengths
from jigs.base.lengths import Units
from jigs.base.wording import Words, read_out, say
from jigs.box.chain import PARTS
from jigs.course.makers import Maker
from jigs.record import Record


class Sizes(Record):
    """The numbers of one part of a box: its name, and rows of what a number is called and the number with its unit."""

    part: str
    rows: tuple[tuple[str, str], ...]


_Row = tuple[str, Words | float]
_BOX = (
    "Outside=box.length × box.width × box.height; Inside=box.inside_length × box.inside_width; "
    "Sides, thick=cut.thickness; Front and back, cut to=cut.long; End boards, cut to=cut.short"
)
_FINGERS = "Finger=fingers.finger; Socket=fingers.socket; Clearance=fingers.clearance; Planed to=fingers.rip_width"
_SLED = "Key=sled.key; Across key and cutter=sled.over_all; Spacer=sled.spacer; Cut depth=sled.cut_depth"


def sizes(maker: Maker) -> tuple[Sizes, ...]:
    """Return the numbers of a box by part, in the units of the box; a part that it doesn't have is left out."""
    data = maker.data
    parts = {
        "Box": _listed(data, _BOX),
        "Fingers": (*_counted(data["fingers"]["count"]), *_listed(data, _FINGERS), *_cutter(data["cut"])),
        "Sled": (_gaps(data["fingers"]["pass_gaps"]), *_listed(data, _SLED)),
        **{kind.name.capitalize(): _listed(data, kind.sizes_of(data)) for kind in PARTS if data.get(kind.name)},
        "Rough pieces": _pieces(maker),
    }
    said = {
        part: tuple((name, _said(value, data["units"], _PURPOSES.get(part, "cut"))) for name, value in rows)
        for part, rows in parts.items()
    }
    return tuple(Sizes(part, rows) for part, rows in said.items() if rows)


_PURPOSES = {"Fingers": "gauge", "Sled": "gauge"}
"""What the numbers of a part are for; those of all others are cut."""


def _said(value: Words | float, units: Units, purpose: str) -> str:
    """Return a number in words, as finely as it is used. A length stays in one piece where lines break."""

    def whole(mm: float, units: Units, own: str) -> str:
        return lengths.show(mm, units, own or purpose).replace(" ", "\u00a0")

    return read_out(say("{value}", value=value) if isinstance(value, float) else value, units, whole)


def _counted(count: int) -> Iterator[_Row]:
    yield "Fingers + sockets, front", f"{math.ceil(count / 2)} + {count // 2}"


def _listed(data: Mapping[str, Any], sizes: str) -> Iterator[_Row]:
    """Yield the numbers of a list of `Heading=section.key`, several as `section.key × section.key`."""
    for size in sizes.split("; "):
        heading, _, keys = size.partition("=")
        values = [data[section][name] for section, _, name in (key.partition(".") for key in keys.split(" × "))]
        if isinstance(values[0], Mapping):
            words = "{left} left, {right} right of the bit’s centre"
            yield from ((f"{heading}, {board}", say(words, **stops)) for board, stops in values[0].items())
        else:
            fields = {f"size{i}": value for i, value in enumerate(values)}
            yield heading, say(" × ".join(f"{{{field}}}" for field in fields), **fields)


def _cutter(cut: Mapping[str, Any]) -> Iterator[_Row]:
    yield "Cutter", say(f"{{cutter}}, on the {cut['machine']}", cutter=cut["cutter"])
    yield "Cutter above the table", cut["projection"]


def _gaps(gaps: Sequence[float]) -> _Row:
    fields = {f"gap{i}": gap for i, gap in enumerate(gaps)}
    return "Gaps, pass by pass" if len(gaps) > 1 else "Gap", say(", ".join(f"{{{name}}}" for name in fields), **fields)


def _pieces(maker: Maker) -> Iterator[_Row]:
    for piece in maker.pieces:
        size = say("{l} × {w} × {t}", l=piece.length, w=piece.width, t=piece.thickness)
        yield piece.name[:1].upper() + piece.name[1:], size
