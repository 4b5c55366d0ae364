"""Half-lapped dividers for the inside of a box: both kinds at full size with their slots."""

from __future__ import annotations

from typing import Annotated

from jigs.base import drawing as draw
from jigs.base.cards import Band, Beside, Card, Caution, Hold, Order, Pictures, Setting, Settings, Sheets, Template
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Count, Length
from jigs.base.rules import READ_OUT, Problem, stop, warn
from jigs.base.wording import Offer, Words, at_least, at_most, say
from jigs.record import Record
from jigs.things import plan as above
from jigs.trade.dividers import Slots, slots
from jigs.trade.fingers import TOUCH

RELIEF = 0.3
"""A slot is deeper than half the height by this, so that the edges meet before the slots bottom, mm."""
NARROW = 25.0
"""A compartment narrower than this takes no finger (common practice, no source), mm."""
FEW, MANY = 6, 12
"""So many rows of slots stand beside the sizes; more of them stand at the end of the card; many in two columns."""
_SHARES = (0.36, 0.29, 0.35)
WALL = 9.0
"""Thickness of the sides of the box in the picture, mm."""

CAUTIONS = (
    Caution("Saw", "Clamp the dividers together. Keep your fingers clear of the cut."),
    Caution("Edge", "Push the chisel away from your hands. Work with sharp tools."),
)


class _Row(Record):
    """The compartments one way: `where` is their setting, `side` that of the inside of the box. Lengths in mm."""

    where: str
    side: str
    inside: float
    count: int
    fewest: int
    thickness: float

    @property
    def clear(self) -> float:
        return (self.inside - (self.count - 1) * self.thickness) / self.count


class _Asked(Record):
    """The inside of the box, and the dividers: sizes in mm, and how many there are of each kind."""

    inside: float
    across: float
    thickness: float
    height: float
    long: Slots
    short: Slots
    long_count: int
    short_count: int

    @property
    def cross(self) -> bool:
        """Whether there are dividers both ways, which have slots."""
        return bool(self.long_count and self.short_count)


@jig(
    "dividers",
    title="Half-lapped dividers",
    summary="divide a box into equal compartments",
    from_box="length=inside.0 width=inside.1",
    most="height=depth_under_plug|inside_depth",
)
def dividers(
    *,
    length: Annotated[float, Length("inside length of the box", 20, 2000)],
    width: Annotated[float, Length("inside width of the box", 20, 2000)],
    along: Annotated[int, Count("compartments along the length; the dividers between them run across", 1, 40)],
    across: Annotated[int, Count("compartments across the width; the dividers between them run along", 1, 40)],
    thickness: Annotated[float, Length("thickness of the dividers, the thickest reading", 0.5, 30)],
    height: Annotated[float, Length("height of the dividers", 10, 400)],
    clearance: Annotated[float, Length("clearance of a divider in its slot", 0, 1)] = 0.1,
    play: Annotated[float, Length("clearance of a divider between the sides", 0, 3)] = 0.5,
) -> Plan:
    """Long and short dividers with their slots, and the order of cutting them.

    Example: --length 176 --width 126 --along 3 --across 2 --thickness 6 --height 60

    Sources: Equal compartments are derived in `jigs/trade/dividers.py`. Play and relief: common practice, no
    source.
    """
    sizes = {"thickness": thickness, "height": height, "clearance": clearance, "play": play, "relief": RELIEF}
    # Or a slot would run into the next one, or out of the end, or nothing would be between two dividers.
    least = max(clearance, (clearance + play) / 2) + READ_OUT
    rows = (
        _Row("along", "length", length, along, 2 if across == 1 else 1, thickness),
        _Row("across", "width", width, across, 2 if along == 1 else 1, thickness),
    )
    problems = [problem for row in rows for problem in _no_room(row, least)]
    refuse([*problems, *(_no_dividers(rows, least) if along == across == 1 else ())])
    long = slots(inside=length, compartments=along, **sizes)
    short = slots(inside=width, compartments=across, **sizes)
    numbers = {
        "long": _as_data(long),
        "short": _as_data(short),
        "long_count": across - 1,
        "short_count": along - 1,
    }
    title = say("Dividers for {length:cut} × {width:cut}", length=length, width=width)
    problems = [problem for row in rows for problem in _narrow(row)]
    asked = _Asked(length, width, thickness, height, long, short, across - 1, along - 1)
    return Plan(title, numbers, Sheets((_card(asked),), tuple(_templates(asked))), tuple(problems))


def _no_dividers(rows: tuple[_Row, _Row], least: float) -> list[Problem]:
    """Refuse a single compartment: two of them are offered where they go in, or in a box that takes them."""
    fit = [row for row in rows if row.inside >= 2 * least + row.thickness]
    ways = [f"make {{{row.where}}} compartments {row.where} the {row.side}" for row in fit]
    numbers: dict[str, object] = {row.where: Offer(2, setting=row.where) for row in fit}
    if not fit:
        ways, numbers = (
            ["make 2 compartments in an inside length of {longer} or more"],
            {"longer": _longer(rows[0], least)},
        )
    said = "a box with one compartment each way has no dividers"
    return [stop("along", said, tuple(ways), **numbers)]


def _no_room(row: _Row, least: float) -> list[Problem]:
    if row.count == 1 or row.clear >= least - TOUCH:
        return []
    said = "there is no room for {walls} {thickness} thick in an inside of {inside:cut}"
    ways, works = _roomier(row, least)
    walls = f"{row.count - 1} divider{'s' if row.count > 2 else ''}"
    numbers = {"walls": walls, "thickness": row.thickness, "inside": row.inside} | works
    return [stop(row.where, said, ways, **numbers)]


def _narrow(row: _Row) -> list[Problem]:
    if row.clear >= NARROW - TOUCH:
        return []
    said = "a finger, {narrow:rough} wide, does not go into compartments {clear:cut down} wide"
    ways, works = _roomier(row, NARROW)
    return [warn(row.where, said, ways, clear=row.clear, narrow=NARROW, **works)]


def _roomier(row: _Row, clear: float) -> tuple[tuple[str, ...], dict[str, object]]:
    """Return the ways to compartments at least so wide: fewer of them, thinner dividers, or another box."""
    most = int((row.inside + row.thickness) / (clear + row.thickness))
    ways, numbers = [], dict[str, object]()
    if most >= row.fewest:
        ways, numbers = ["make {most} or fewer"], {"most": Offer(most, "down")}
    if row.count > 1:
        ways.append("plane the dividers to {thinner} or less")
        numbers["thinner"] = at_most((row.inside - row.count * clear) / (row.count - 1), "thickness")
    if most < row.fewest:
        fewest = f"{row.fewest} compartment{'s' if row.fewest > 1 else ''}"
        ways.append(f"make {fewest} in an inside {row.side} of {{longer}} or more")
        numbers["longer"] = _longer(row, clear)
    return tuple(ways), numbers


def _longer(row: _Row, clear: float) -> Offer:
    """Return the inside that takes the fewest compartments of that width."""
    enough = row.fewest * clear + (row.fewest - 1) * row.thickness
    return at_least(enough, row.side, **{row.where: row.fewest})


def _as_data(made: Slots) -> dict[str, object]:
    return {
        "length": made.length,
        "clear": made.clear,
        "slots": list(made.starts),
        "slot_width": made.width,
        "slot_depth": made.depth,
    }


# -- the card ----------------------------------------------------------------------------------------------------------


def _card(asked: _Asked) -> Card:
    views = [_in_the_box(asked), *([_crossing(asked), _together(asked)] if asked.cross else [])]
    sizes = Settings(_settings(asked), "Make to these sizes")
    table = _table(asked)
    few = len(table.rows) <= FEW
    bands: list[Band] = [
        Pictures(tuple(views), least=54.0, most=100.0, shares=_SHARES[: len(views)]),
        Beside(sizes, table, 0.62) if asked.cross and few else sizes,
    ]
    if asked.cross:
        bands.append(Hold("A divider goes into a slot in scrap by hand, and stays in it.", "slot tried"))
    bands.append(Order(_order(asked)))
    if asked.cross and not few:
        bands.append(table)
    counts = {"long": asked.long_count, "short": asked.short_count}
    about = ", ".join(f"{count} {kind}" for kind, count in counts.items() if count)
    return Card("dividers", "Dividers", "Bench", CAUTIONS, tuple(bands), about, "dividers")


def _settings(asked: _Asked) -> tuple[Setting, ...]:
    rows = [Setting("thickness", "Thickness", asked.thickness, 0.05, "callipers")]
    if asked.cross:
        rows += [
            Setting("slot", "Slot, wide", asked.long.width, 0.05, "a divider"),
            Setting("deep", "Slot, deep", asked.long.depth, 0.1, "callipers"),
        ]
    if asked.long_count:
        rows.append(Setting("long", "Long, length", asked.long.length, 0.2, "stop"))
    if asked.short_count:
        rows.append(Setting("short", "Short, length", asked.short.length, 0.2, "stop"))
    rows.append(Setting("height", "Height", asked.height, 0.2, "rule"))
    return tuple(rows)


def _order(asked: _Asked) -> tuple[Words, ...]:
    loose = "Glue no end to the box: its sides move with the seasons."
    if not asked.cross:
        return (
            "Plane the dividers to thickness, rip them to height.",
            "Saw all of one kind to length against one stop.",
            loose,
        )
    return (
        "Saw all dividers of one kind to length against one stop.",
        "Prick the slots through: long ones at the top edge, short at the bottom.",
        "Clamp all of one kind together, heavy ends to a stop. Saw inside the lines.",
        say("Chop out the waste to half of the height and {relief} more: the edges meet.", relief=RELIEF),
        "Push the short ones down over the long ones.",
        loose,
    )


def _table(asked: _Asked) -> draw.Table:
    """The slots of both kinds from the left end, side by side."""
    long, short = asked.long, asked.short
    rows: list[tuple[draw.Cell, ...]] = []
    for i in range(max(len(long.starts), len(short.starts))):
        cells: list[draw.Cell] = [str(i + 1)]
        for made in (long, short):
            here = i < len(made.starts)
            ends = (made.starts[i], made.starts[i] + made.width) if here else ()
            cells += [say("{at:gauge}", at=end) for end in ends] or ["–", "–"]
        rows.append(tuple(cells))
    headings: tuple[str, ...] = ("slot", "long, from", "to", "short, from", "to")
    if len(rows) > MANY:  # in two halves, side by side
        half = (len(rows) + 1) // 2
        empty: tuple[draw.Cell, ...] = ("–",) * len(headings)
        rows = [(*rows[i], *(rows[half + i] if half + i < len(rows) else empty)) for i in range(half)]
        headings *= 2
    return draw.Table("slots", "Slots, from one end", headings, tuple(rows))


# -- its pictures ------------------------------------------------------------------------------------------------------


def _places(clear: float, count: int, thickness: float) -> list[float]:
    """Return where the dividers that stand across an inside begin."""
    return [clear + i * (clear + thickness) for i in range(count)]


def _in_the_box(asked: _Asked) -> draw.View:
    """The box from above, its dividers in place."""
    wide, deep, thick = asked.inside, asked.across, asked.thickness
    long, short = asked.long, asked.short
    outer = draw.rectangle(-WALL, -WALL, wide + WALL, deep + WALL)
    ups = _places(long.clear, asked.short_count, thick)
    overs = _places(short.clear, asked.long_count, thick)
    standing = tuple(draw.rectangle(x, 0, x + thick, deep) for x in ups)
    lying = tuple(draw.rectangle(0, y, wide, y + thick) for y in overs)
    parts = (
        draw.Part("box", "Box", (draw.Line(outer), draw.Line(draw.rectangle(0, 0, wide, deep)))),
        *([draw.Part("shorts-in-box", "Short dividers", draw.lines(standing), covers=standing)] if standing else []),
        *([draw.Part("longs-in-box", "Long dividers", draw.lines(lying), covers=lying)] if lying else []),
    )
    labels, dimensions = list[draw.Label](), list[draw.Dimension]()
    if asked.long_count:
        dimensions.append(draw.Dimension(draw.Point(wide, 0), draw.Point(wide, short.clear), "right", "clear"))
        labels.append(draw.Label("long", draw.Point(long.clear / 2, overs[0] + thick / 2), towards="below"))
    if asked.short_count:
        dimensions.append(draw.Dimension(draw.Point(0, deep), draw.Point(long.clear, deep), "above", "clear"))
        labels.append(draw.Label("short", draw.Point(ups[0] + thick / 2, short.clear / 2), towards="right"))
    return draw.View("in-the-box", "In the box, from above", parts, tuple(dimensions), tuple(labels), to_scale=False)


def _crossing(asked: _Asked) -> draw.View:
    """A long divider on its face at its first slot, a short one cut across above it, before it goes down."""
    made, high, thick = asked.long, asked.height, asked.thickness
    side = max(10.0, 0.2 * high)
    left, right = -side, made.width + side
    low, top = high - made.depth, high
    long_one = draw.Part(
        "long-one",
        "Long divider",
        (
            draw.Line(draw.line((left, 0), (right, 0))),
            draw.Line(draw.line((left, top), (0, top), (0, low), (made.width, low), (made.width, top), (right, top))),
            draw.Line(draw.break_line(draw.Point(left, 0), draw.Point(left, top)), draw.Kind.NARROW),
            draw.Line(draw.break_line(draw.Point(right, 0), draw.Point(right, top)), draw.Kind.NARROW),
        ),
    )
    begin = (made.width - thick) / 2
    up = 0.62 * high
    cut = draw.rectangle(begin, up + asked.short.depth, begin + thick, up + high)
    whole = draw.rectangle(begin, up, begin + thick, up + high)
    short_one = draw.Part("short-one", "Short divider", draw.lines((whole, cut)), hatched=(cut,))
    parts = (long_one, short_one)
    dimensions = (
        draw.Dimension(draw.Point(0, low), draw.Point(made.width, low), "below", "", "slot"),
        draw.Dimension(draw.Point(right, low), draw.Point(right, top), "right", "", "deep"),
        draw.Dimension(draw.Point(left, 0), draw.Point(left, top), "left", "", "height"),
        draw.Dimension(draw.Point(begin, up + high), draw.Point(begin + thick, up + high), "above", "", "thickness"),
    )
    labels = (
        draw.Label("short", draw.Point(begin + thick / 2, up + high * 0.9), towards="right"),
        draw.Label("long", draw.Point(left * 0.6, high * 0.2), leader=False),
    )
    return draw.View("crossing", "Where two cross", parts, dimensions, labels, to_scale=False)


def _together(asked: _Asked) -> draw.View:
    """The long dividers on edge from above, clamped face to face, their left ends at a stop."""
    made, thick = asked.long, asked.thickness
    count = max(asked.long_count, 1)
    deep = count * thick
    stack = above.stack(tuple(f"long {i + 1}" for i in range(count)), 0.0, made.length, 0.0, thick)
    marks = [draw.line((x, -4), (x, deep + 4)) for start in made.starts for x in (start, start + made.width)]
    stop = draw.rectangle(-22, -16, 0, deep + 16)
    first = made.starts[0]
    grips = (first * 0.5, made.length - 0.5 * (made.length - made.starts[-1] - made.width))
    parts = (
        *stack,
        draw.Part("stop", "Stop", (draw.Line(stop),), covers=(stop,)),
        draw.Part("slots-marked", "Slots", draw.lines(marks, draw.Kind.NARROW)),
        *(above.clamp(f"clamp-{i}", (x, deep), reach=deep + 22.0) for i, x in enumerate(grips, 1)),
    )
    labels = (
        draw.Label("stop", draw.Point(-11, deep / 2 + 10), towards="above"),
        draw.Label("saw here", draw.Point(first + made.width / 2, deep / 2), towards="below"),
    )
    dimension = draw.Dimension(draw.Point(0, 0), draw.Point(made.length, 0), "above", "", "long")
    return draw.View("together", "All long ones together", parts, (dimension,), labels, to_scale=False)


# -- the templates -----------------------------------------------------------------------------------------------------


def _templates(asked: _Asked) -> list[Template]:
    use = (
        "Make {count}. Prick the slots through, or glue it on. Crossed out is waste."
        if asked.cross
        else "Make {count}."
    )
    found = []
    for name, made, count in (("long", asked.long, asked.long_count), ("short", asked.short, asked.short_count)):
        if count:
            view = _divider(name, made, asked.height)
            found.append(Template(view, "dividers", say(use, count=str(count)), "dividers"))
    return found


def _divider(name: str, made: Slots, height: float, *, upright: bool = False) -> draw.View:
    """One kind of divider on its face, the end that goes to the left of the box at the left; or that end below."""
    from_top = name == "long"
    low, high = (height - made.depth, height) if from_top else (0.0, made.depth)

    def at(x: float, y: float) -> draw.Point:
        return draw.Point(-y, x) if upright else draw.Point(x, y)

    def side(lying: draw.Side) -> draw.Side:
        turned: dict[draw.Side, draw.Side] = {"above": "left", "below": "right", "left": "below", "right": "above"}
        return turned[lying] if upright else lying

    outline = [draw.line(at(0, 0), at(made.length, 0), at(made.length, height), at(0, height))]
    crossed = []
    for start in made.starts:
        end = start + made.width
        outline.append(draw.polygon(at(start, low), at(end, low), at(end, high), at(start, high)))
        crossed += [draw.line(at(start, low), at(end, high)), draw.line(at(start, high), at(end, low))]
    reference = draw.Line(draw.line(at(0, -3), at(0, height + 3)), draw.Kind.REFERENCE)
    lines = (*draw.lines(outline), *draw.lines(crossed, draw.Kind.NARROW), reference)
    whole = draw.Dimension(at(0, 0), at(made.length, 0), side("below"))
    dimensions = [whole, draw.Dimension(at(0, 0), at(0, height), side("left"), "height")]
    if made.starts:
        edge, beyond = (height, "above") if from_top else (0.0, "below")
        first = at(made.starts[0], edge)
        dimensions.append(draw.Dimension(at(0, edge), first, side("above" if beyond == "above" else "below"), "first"))
        dimensions.append(draw.Dimension(at(made.length, low), at(made.length, high), side("right"), "slot"))
    labels = (draw.Label("measure from this end", at(0, height / 2), towards="right"),) if made.starts else ()
    title = f"{name.capitalize()} divider"
    upended = None if upright else _divider(name, made, height, upright=True)
    part = draw.Part(name, f"{name.capitalize()} divider", lines)
    steps = [
        (x, y) for a in made.starts for x, y in ((a, low), (a, high), (a + made.width, high), (a + made.width, low))
    ]
    below, above = ([], [(x, low + high - y) for x, y in steps[::-1]]) if from_top else (steps, [])
    around = [(0, 0), *below, (made.length, 0), (made.length, height), *above, (0, height)]
    piece = draw.Piece(draw.polygon(*(at(*corner) for corner in around)))
    return draw.View(name, title, (part,), tuple(dimensions), labels, check=whole, detail=upended, piece=piece)
