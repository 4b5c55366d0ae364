"""Gauge blocks: wood planed to the sizes that set a sled and its groove, and what paper makes up the rest."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Length
from jigs.base.rules import Problem, stop
from jigs.base.usual import Usual
from jigs.base.wording import at_least, at_most, say
from jigs.trade.fingers import TOUCH

BLOCK_LONG, BLOCK_APART = 60.0, 6.0
PLUG_UNDER = 0.03
"""A go plug may be this much under the socket, mm (common practice, no source)."""
NO_GO_OVER = 0.05
"""A plug this much over the socket must not go in, mm (common practice, no source)."""
SHEET = 0.1
"""Thickness of a sheet of office paper, mm; measure ten of your own."""


@dataclass(frozen=True, slots=True)
class _Block:
    """A block: what it sets, and its thickness in mm."""

    name: str
    use: str
    size: float


@jig("gauges", title="Gauge blocks", summary="planed to set gap, spacer, heights and fence")
def gauges(
    *,
    gap: Annotated[float, Length("gap between key and cutter", 0.7, 60)],
    socket: Annotated[float, Length("socket the cutter makes, measured in wood", 0.8, 60)],
    thickness: Annotated[float, Length("thickness of the sides", 1, 60)],
    proud: Annotated[float, Length("fingers left long", 0, 3)] = 0.3,
    plate: Annotated[float, Length("thickness of the sled's plate", 2, 30)] = Usual(6, 1 / 4).default,
    fence: Annotated[float | None, Length("fence to the groove cutter's centre", 3, 200)] = None,
    groove: Annotated[float | None, Length("groove cutter", 1, 30)] = None,
) -> Plan:
    """A block for every setting at full size, go and no-go plugs, and papers for what lies between blocks.

    Example: --gap 9.92 --socket 10.02 --thickness 12 --fence 15 --groove 6

    Sources: Gap, spacer and cut as of the sled, `jigs/trade/sled.py`. Plug tolerances: common practice, no source.
    """
    refuse(_problems(gap, socket, fence, groove))
    blocks = _blocks(gap, socket, thickness + proud, plate, fence, groove)
    numbers = {block.name: block.size for block in blocks}
    title = say("Gauge blocks for a gap of {gap}", gap=gap)
    return Plan(title, numbers, (_sheet(blocks),))


def _problems(gap: float, socket: float, fence: float | None, groove: float | None) -> list[Problem]:
    found = []
    if gap > socket + TOUCH:
        numbers = {"gap": gap, "socket": socket, "most": at_most(socket), "wider": at_least(gap, "socket")}
        said = "fingers of {gap} do not go into sockets of {socket}"
        found.append(stop("gap", said, ("a gap of {most} at most", "sockets of {wider} at least"), **numbers))
    if fence is not None and groove is not None and fence <= groove / 2 + TOUCH:
        numbers = {"fence": fence, "half": groove / 2, "least": at_least(groove / 2)}
        said = "the groove cutter, {half} to each side, would cut the fence at {fence}"
        found.append(stop("fence", said, "{least} at least", **numbers))
    return found


def _blocks(
    gap: float, socket: float, deep: float, plate: float, fence: float | None, groove: float | None
) -> list[_Block]:
    blocks = [
        _Block("gap", "between key and cutting edge", gap),
        _Block("spacer", "between key and the ends", (gap + socket) / 2),
        _Block("go", "plug: goes into every socket", socket),
        _Block("no-go", "plug: goes into none", socket + NO_GO_OVER),
        _Block("depth", "cutter above the plate", deep),
        _Block("projection", "cutter above the table, the plate off", plate + deep),
    ]
    if fence is not None:
        edge = fence - (groove or 0.0) / 2
        blocks.append(_Block("fence", "fence to the near edge of the groove cutter", edge))
    return blocks


def _sheet(blocks: list[_Block]) -> draw.Drawing:
    purpose = "sections of the blocks at full size to plane to; the numbers are what counts, set with callipers"
    papers = _papers(blocks)
    body = (_view(blocks), _sizes(blocks), *((papers,) if papers.rows else ()), _notes())
    return draw.Drawing(
        "blocks", "gauge blocks", purpose, body, (cautions.GENERAL, cautions.HAND_TOOLS, cautions.PAPER)
    )


def _view(blocks: list[_Block]) -> draw.View:
    """Each block end on, its thickness up; numbered as in the table."""
    parts, labels, up = [], [], 0.0
    for number, block in enumerate(blocks, start=1):
        outline = draw.rectangle(0, up, BLOCK_LONG, up + block.size)
        edge = draw.Line(draw.line((-3, up), (BLOCK_LONG + 3, up)), draw.Kind.REFERENCE)
        parts.append(draw.Part(f"block-{number}", f"Block {block.name}", (draw.Line(outline), edge)))
        labels.append(
            draw.Label(f"{number}  {block.name}", draw.Point(BLOCK_LONG - 8, up + block.size / 2), towards="right")
        )
        up += block.size + BLOCK_APART
    long = draw.Dimension(draw.Point(0, 0), draw.Point(BLOCK_LONG, 0), "below", "any length; drawn")
    return draw.View("blocks", "Blocks, end on", tuple(parts), (long,), tuple(labels), check=long)


def _sizes(blocks: list[_Block]) -> draw.Table:
    within: dict[str, draw.Cell] = {"go": say("+0 −{under}", under=PLUG_UNDER), "no-go": "±0"}
    rows: list[tuple[draw.Cell, ...]] = [
        (str(i), block.use, block.size, within.get(block.name, 0.05), None) for i, block in enumerate(blocks, start=1)
    ]
    return draw.Table("sizes", "Sizes", ("", "Block", "Plane to", "Within", "It is"), tuple(rows))


def _papers(blocks: list[_Block]) -> draw.Table:
    """What each setting is from the nearest smaller block and sheets of paper, if its own is lost or off."""
    rows: list[tuple[draw.Cell, ...]] = []
    for block in blocks:
        smaller = [other for other in blocks if other.size < block.size - SHEET / 2]
        if not smaller:
            continue
        near = max(smaller, key=lambda other: other.size)
        sheets = math.floor((block.size - near.size) / SHEET + 0.5)
        if sheets <= 12:
            rows.append((block.name, near.name, str(sheets), near.size + sheets * SHEET - block.size))
    headings = ("Setting", "from block", "and sheets of paper", "off by")
    return draw.Table("papers", say("Made up with paper of {sheet}", sheet=SHEET), headings, tuple(rows))


def _notes() -> draw.Notes:
    return draw.Notes(
        "notes",
        "How to make them",
        (
            "Straight-grained hard wood, planed and checked with callipers at both ends. Write what each one really is "
            "on it, and the date: wood moves. A block off by a little is kept, with its true size on it.",
            "Wax nothing: wax is a layer. Clean block, key and cutter before each setting; turn the cutter by hand.",
        ),
    )
