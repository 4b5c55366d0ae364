"""The numbers of one student's box in words, by part: what a page for reading says of them."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from jigs.base.lengths import Units, show
from jigs.base.wording import Words, read_out, say
from jigs.course.plan import Maker


@dataclass(frozen=True, slots=True)
class Sizes:
    """The numbers of one part of a box: its name, and rows of what a number is called and the number with its unit."""

    part: str
    rows: tuple[tuple[str, str], ...]


_Row = tuple[str, Words | float]


def sizes(maker: Maker) -> tuple[Sizes, ...]:
    """Return the numbers of a box by part, in the units of the box; a part that it doesn't have is left out."""
    data = maker.data
    parts = {
        "Box": _box(data),
        "Fingers": _fingers(data),
        "Sled": _sled(data),
        "Groove": _groove(data),
        "Bottom": _bottom(data["bottom"]),
        "Lid": _lid(data["lid"]),
        "Handle": _handle(data["handle"]),
        "Rough pieces": _pieces(maker),
    }
    units = data["units"]
    made = []
    for part, rows in parts.items():
        if said := tuple((name, _said(value, units)) for name, value in rows):
            made.append(Sizes(part, said))
    return tuple(made)


def _said(value: Words | float, units: Units) -> str:
    """Return a number in words. A length stays in one piece where lines break."""
    return read_out(say("{value}", value=value) if isinstance(value, float) else value, units, _whole)


def _whole(mm: float, units: Units) -> str:
    return show(mm, units).replace(" ", "\u00a0")


def _box(data: Mapping[str, Any]) -> Iterator[_Row]:
    made = data["box"]
    size = "{length} × {width} × {height}"
    yield "Outside", say(size, length=made["length"], width=made["width"], height=made["height"])
    yield "Inside", say("{length} × {width}", length=made["inside_length"], width=made["inside_width"])
    yield "Sides, thick", data["cut"]["thickness"]
    yield "Front and back, cut to", data["cut"]["long"]
    yield "Ends, cut to", data["cut"]["short"]


def _fingers(data: Mapping[str, Any]) -> Iterator[_Row]:
    made, cut = data["fingers"], data["cut"]
    yield "Parts", str(made["count"])
    yield "Finger", made["finger"]
    yield "Socket", made["socket"]
    yield "Clearance", made["clearance"]
    yield "Rip to", made["rip_width"]
    yield "Cutter", say(f"{{cutter}}, on the {cut['machine']}", cutter=cut["cutter"])
    yield "Cutter above the table", cut["projection"]


def _sled(data: Mapping[str, Any]) -> Iterator[_Row]:
    made = data["sled"]
    gaps = data["fingers"]["pass_gaps"]
    if len(gaps) > 1:
        fields = {f"gap{i}": gap for i, gap in enumerate(gaps)}
        yield "Gaps, pass by pass", say(", ".join(f"{{{name}}}" for name in fields), **fields)
    else:
        yield "Gap", made["gap"]
    yield "Key", made["key"]
    yield "Over key and cutter", made["over_all"]
    yield "Spacer", made["spacer"]
    yield "Cut depth", made["cut_depth"]


def _groove(data: Mapping[str, Any]) -> Iterator[_Row]:
    made, cut = data["groove"], data["cut"]
    if not made:
        return
    yield "Cutter", cut["groove_cutter"]
    yield "Depth", cut["groove_depth"]
    yield "Lower side from the bottom edge", cut["groove_from_bottom"]
    yield "Fence to the cutter's centre", made["fence"]
    for board, stops in made["stops"].items():
        words = "{left} left, {right} right of the cutter's centre"
        yield f"Stops, {board}", say(words, left=stops["left"], right=stops["right"])


def _bottom(made: Mapping[str, Any] | None) -> Iterator[_Row]:
    if not made:
        return
    yield "Length", made["length"]
    yield "Width today", made["width"]
    yield "Width when driest", made["width_dry"]
    yield "Width when wettest", made["width_wet"]
    yield "Tongue", made["tongue"]


def _lid(made: Mapping[str, Any] | None) -> Iterator[_Row]:
    if not made:
        return
    yield "Size", say("{length} × {width}", length=made["length"], width=made["width"])
    yield "Plug", say("{length} × {width}", length=made["plug_length"], width=made["plug_width"])
    yield "Gap today", made["gap_shop"]
    yield "Gap when driest", made["gap_dry"]
    yield "Gap when wettest", made["gap_wet"]
    yield "Edge", made["edge"]


def _handle(made: Mapping[str, Any] | None) -> Iterator[_Row]:
    if not made:
        return
    yield "Hole centres from the middle", made["centre_offset"]
    yield "Opening, high", made["chord"]
    yield "Crest, radius", made["crest_radius"]
    yield "Least wood", made["least_wood"]
    yield "Blank, long", made["blank_length"]


def _pieces(maker: Maker) -> Iterator[_Row]:
    for piece in maker.pieces:
        size = say("{l} × {w} × {t}", l=piece.length, w=piece.width, t=piece.thickness)
        yield piece.name[:1].upper() + piece.name[1:], size
