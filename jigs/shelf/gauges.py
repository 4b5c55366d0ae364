"""Gauge blocks: wood planed to the sizes that set a sled and its groove, and what paper makes up the rest."""

from __future__ import annotations

import math
from typing import Annotated

from jigs.base import drawing as draw
from jigs.base.cards import Beside, Card, Caution, Order, Pictures, Reading, Readings, Sheets
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Length
from jigs.base.rules import Problem, stop
from jigs.base.usual import Usual
from jigs.base.wording import at_least, at_most, letters, say
from jigs.record import Record
from jigs.things import plan, section
from jigs.trade.fingers import TOUCH

WITHIN = 0.05
"""How near a block is to be planed, mm (common practice, no source)."""
PLUG_UNDER = 0.03
"""A go plug may be this much under the socket, mm (common practice, no source)."""
NO_GO_OVER = 0.05
"""A plug this much over the socket must not go in, mm (common practice, no source)."""
SHEET = 0.1
"""Thickness of a sheet of office paper, mm; measure ten of your own."""
MOST_SHEETS = 12
_SHARES = (0.34, 0.25, 0.21, 0.20)
"""How the pictures share the width of the card."""

CAUTIONS = (
    Caution("Hands", "Plane long strips, then saw the blocks off. Short ones slip."),
    Caution("Saw", "Clamp the strip. Keep your fingers clear of the cut."),
    Caution("Edge", "Push every edge away from your hands. Work with sharp tools."),
    Caution("Power", "Unplug before you set with a block. Turn the cutter by hand."),
)


class _Block(Record):
    """A block: what it sets, and its thickness with the limits of that, in mm."""

    name: str
    use: str
    size: float
    low: float
    high: float


def _near(name: str, use: str, size: float) -> _Block:
    return _Block(name, use, size, size - WITHIN, size + WITHIN)


class _Asked(Record):
    """What the blocks are to set, mm."""

    gap: float
    socket: float
    plate: float
    fence: float | None
    groove: float
    blocks: list[_Block]

    def size(self, name: str) -> float:
        """Return the thickness of a block."""
        return next(block.size for block in self.blocks if block.name == name)

    def letter(self, name: str) -> str:
        """Return the letter that stands on a block."""
        return letters(next(i for i, block in enumerate(self.blocks) if block.name == name))


@jig(
    "gauges",
    title="Gauge blocks",
    summary="planed to set gap, spacer, heights and fence",
    from_box="gap=numbers.gap socket=numbers.socket thickness=file.sides.thickness proud=file.joint.proud "
    "plate=numbers.plate fence=groove.fence groove=groove.cutter",
)
def gauges(
    *,
    gap: Annotated[float, Length("gap between key and cutter", 0.7, 60)],
    socket: Annotated[float, Length("socket the cutter makes, measured in wood", 0.8, 60)],
    thickness: Annotated[float, Length("thickness of the sides", 1, 60)],
    proud: Annotated[float, Length("fingers left long", 0, 3)] = 0.3,
    plate: Annotated[float, Length("thickness of the sled's plate", 2, 30)] = Usual(6, 1 / 4).default,
    fence: Annotated[float | None, Length("fence to the centre of the groove's bit", 3, 200)] = None,
    groove: Annotated[float | None, Length("groove the bit makes, measured in wood", 1, 30)] = None,
) -> Plan:
    """A block for every setting at full size, go and no-go plugs, and papers for what lies between blocks.

    Example: --gap 9.92 --socket 10.02 --thickness 12 --fence 15 --groove 6

    Sources: Gap, spacer and cut as of the sled, `jigs/trade/sled.py`. Plug tolerances: common practice, no source.
    """
    refuse(_problems(gap, socket, fence, groove))
    blocks = _blocks(gap, socket, thickness + proud, plate, fence, groove)
    numbers = {block.name: block.size for block in blocks}
    title = say("Gauge blocks, gap {gap:gauge}", gap=gap)
    return Plan(title, numbers, Sheets((_card(_Asked(gap, socket, plate, fence, groove or 0.0, blocks)),)))


def _problems(gap: float, socket: float, fence: float | None, groove: float | None) -> list[Problem]:
    found = []
    if gap > socket + TOUCH:
        numbers = {"gap": gap, "socket": socket, "most": at_most(socket), "wider": at_least(gap, "socket")}
        said = "fingers {gap:gauge} wide do not go into sockets {socket:gauge} wide"
        found.append(stop("gap", said, ("make the gap {most} or less", "cut sockets {wider} wide or more"), **numbers))
    if fence is not None and groove is not None and fence <= groove / 2 + TOUCH:
        numbers = {"fence": fence, "half": groove / 2, "least": at_least(groove / 2)}
        said = "a fence {fence} from the bit’s centre is cut, because the bit reaches {half} to each side"
        found.append(stop("fence", said, "set the fence {least} or more from the centre", **numbers))
    return found


def _blocks(
    gap: float, socket: float, deep: float, plate: float, fence: float | None, groove: float | None
) -> list[_Block]:
    blocks = [
        _near("gap", "key to cutting edge", gap),
        _near("spacer", "key to board’s end", (gap + socket) / 2),
        _Block("go", "goes into every socket", socket, socket - PLUG_UNDER, socket),
        _Block("no-go", "goes into none", socket + NO_GO_OVER, socket + NO_GO_OVER, socket + NO_GO_OVER),
        _near("depth", "cutter above the plate", deep),
        _near("projection", "on the table, plate off", plate + deep),
    ]
    if fence is not None:
        edge = fence - (groove or 0.0) / 2
        blocks.append(_near("fence", "to the edge of the groove’s bit", edge))
    return blocks


# -- the card ----------------------------------------------------------------------------------------------------------


def _card(asked: _Asked) -> Card:
    views = [_at_the_cutter(asked), _spacer(asked), _plugs(asked)]
    if asked.fence is not None:
        views.append(_at_the_fence(asked))
    rows = tuple(
        Reading(letters(i), f"{block.name}: {block.use}", block.size, block.low, block.high)
        for i, block in enumerate(asked.blocks)
    )
    papers = _papers(asked.blocks)
    made = Readings(rows, "Plane to these sizes")
    bands = (
        Pictures(tuple(views), least=58.0, most=76.0, in_row=4, shares=_SHARES[: len(views)]),
        Beside(made, papers, 0.68) if papers.rows else made,
        Order(
            (
                "Plane a long strip of straight-grained hard wood to each size.",
                "Read both ends with callipers. Saw the blocks off the strips.",
                "Write letter, true size and date on each block: wood moves.",
                "Keep a block that is a little off; add paper. Measure ten sheets of it first.",
                "Clean block, key and cutter before each setting. Use no wax: wax is a layer.",
            )
        ),
    )
    return Card("gauges", "Gauge blocks", "Bench", CAUTIONS, bands, "before the sled is set", "gauges")


def _block(asked: _Asked, name: str, shape: draw.Path, *, cut: bool) -> draw.Part:
    """A block in a picture, named by its place among all: cut across, or seen."""
    number = 1 + next(i for i, block in enumerate(asked.blocks) if block.name == name)
    title = f"Block {name}"
    if cut:
        return section.face(f"block-{number}", title, shape)
    return draw.Part(f"block-{number}", title, (draw.Line(shape),), covers=(shape,))


def _at_the_cutter(asked: _Asked) -> draw.View:
    """Table, plate, cutter and key cut across, the gap's block on the plate."""
    radius, gap, plate = asked.socket / 2, asked.gap, asked.plate
    top = asked.size("projection")
    deep = asked.size("depth")
    hole, right = radius + 1.5, radius + 2 * gap + 5.0
    left = -radius - 14.0
    sheets = tuple(draw.rectangle(a, 0, b, plate) for a, b in ((left, -hole), (hole, right)))
    key = plate + 0.7 * deep
    parts = (
        section.table(left, right, hole=(-hole - 2, hole + 2)),
        draw.Part("plate", "Plate", draw.lines(sheets), hatched=sheets),
        section.face("key", "Key", draw.rectangle(radius + gap, plate, radius + 2 * gap, key)),
        _block(asked, "gap", draw.rectangle(radius, plate, radius + gap, plate + 0.6 * deep), cut=True),
        _block(asked, "depth", draw.rectangle(left + 2, plate, left + 10, top), cut=True),
        draw.Part("rule", "Rule on edge", (draw.Line(draw.rectangle(left - 2, top, radius + 2, top + 2.5)),)),
        section.cutter(0.0, asked.socket, top, -12.0),
    )
    above = draw.Dimension(draw.Point(right, 0), draw.Point(radius, top), "right", "", asked.letter("projection"))
    labels = (
        draw.balloon(asked.letter("gap"), (radius + gap / 2, plate + 0.5 * deep), "above"),
        draw.balloon(asked.letter("depth"), (left + 6, plate + 0.5 * deep), "left"),
        draw.Label("key", draw.Point(radius + 1.6 * gap, key - 1), towards="above"),
        draw.Label("rule", draw.Point(left + 6, top + 2.5), towards="above"),
    )
    return draw.View("at-the-cutter", "At the sled’s cutter", parts, (above,), labels, to_scale=False)


def _spacer(asked: _Asked) -> draw.View:
    """A board against the spacer, the spacer against the key, from above."""
    gap, wide = asked.gap, asked.size("spacer")
    thick = max(10.0, asked.size("depth"))
    left = -wide - 3.2 * gap
    spacer = draw.rectangle(-wide, 0, 0, thick)
    parts = (
        plan.board("upright", "Upright", draw.Bounds(left - 4, -12, gap + 6, 0)),
        plan.board("board", "Board", draw.Bounds(left, 0, -wide, thick)),
        plan.key(draw.Bounds(0, 0, gap, thick * 2)),
        _block(asked, "spacer", spacer, cut=False),
    )
    labels = (
        draw.balloon(asked.letter("spacer"), (-wide / 2, thick * 0.7), "above"),
        draw.Label("board", draw.Point((left - wide) / 2, thick / 2), leader=False),
        draw.Label("key", draw.Point(gap / 2, thick * 1.6), towards="above"),
        draw.Label("upright", draw.Point(left + 0.5 * (gap - left), -6), leader=False),
    )
    return draw.View("spacer", "Spacer, from above", parts, (), labels, to_scale=False)


def _plugs(asked: _Asked) -> draw.View:
    """Both plugs at the sockets of a board: one goes in, one does not."""
    gap, socket, deep = asked.gap, asked.socket, asked.size("depth")
    low = -deep - max(8.0, 0.6 * gap)
    first, second = gap, 2 * gap + socket
    end = second + socket + gap
    corners = (
        (0, 0), (first, 0), (first, -deep), (first + socket, -deep), (first + socket, 0), (second, 0),
        (second, -deep), (second + socket, -deep), (second + socket, 0), (end, 0), (end, low), (0, low),
    )  # fmt: skip
    wide = asked.size("no-go")
    middle = second + socket / 2
    go = draw.rectangle(first, -deep * 0.7, first + asked.size("go"), deep * 0.5)
    no_go = draw.rectangle(middle - wide / 2, 0.4, middle + wide / 2, deep * 1.2)
    parts = (
        draw.Part("board", "Board", (draw.Line(draw.polygon(*corners)),)),
        _block(asked, "go", go, cut=False),
        _block(asked, "no-go", no_go, cut=False),
    )
    labels = (
        draw.balloon(asked.letter("go"), (first + socket / 2, deep * 0.3), "above"),
        draw.balloon(asked.letter("no-go"), (middle, deep), "above"),
    )
    return draw.View("plugs", "Plugs at the sockets", parts, (), labels, to_scale=False)


def _at_the_fence(asked: _Asked) -> draw.View:
    """Fence and groove cutter cut across, their block between them on the table."""
    wide, across = asked.size("fence"), max(asked.groove, 1.0)
    high = max(12.0, wide * 0.7)
    right = wide + across + 8.0
    parts = (
        section.table(-12.0, right, hole=(wide - 2, wide + across + 2)),
        section.fence(0.0, 10.0, high + 12.0),
        section.cutter(wide + across / 2, across, high * 0.8, -12.0, "groove-cutter"),
        _block(asked, "fence", draw.rectangle(0, 0, wide, high * 0.6), cut=True),
    )
    labels = (
        draw.balloon(asked.letter("fence"), (wide / 2, high * 0.5), "above"),
        draw.Label("fence", draw.Point(-5, high + 12), towards="above"),
        draw.Label("groove cutter", draw.Point(wide + across / 2, -9), towards="below"),
    )
    return draw.View("at-the-fence", "At the groove’s fence", parts, (), labels, to_scale=False)


def _papers(blocks: list[_Block]) -> draw.Table:
    """What each setting is from the nearest smaller block and sheets of paper, if its own is lost or off."""
    rows: list[tuple[draw.Cell, ...]] = []
    for block in blocks:
        smaller = [other for other in blocks if other.size < block.size - SHEET / 2]
        if not smaller:
            continue
        near = max(smaller, key=lambda other: other.size)
        sheets = math.floor((block.size - near.size) / SHEET + 0.5)
        if sheets <= MOST_SHEETS:
            off = say("{off:gauge}", off=near.size + sheets * SHEET - block.size)
            rows.append((letters(blocks.index(block)), letters(blocks.index(near)), str(sheets), off))
    title = say("Or with {sheet:gauge} paper", sheet=SHEET)
    return draw.Table("papers", title, ("for", "take", "sheets", "off"), tuple(rows))
