"""Half-lapped dividers for the inside of a box: both kinds at full size with their slots."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Count, Length
from jigs.base.rules import READ_OUT, Problem, stop, warn
from jigs.base.wording import Offer, at_least, at_most, say
from jigs.trade.dividers import Slots, slots
from jigs.trade.fingers import TOUCH

RELIEF = 0.3
"""A slot is deeper than half the height by this, so that the edges meet before the slots bottom, mm."""
NARROW = 25.0
"""A compartment narrower than this takes no finger (common practice, no source), mm."""


@dataclass(frozen=True, slots=True)
class _Row:
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


@jig("dividers", title="Half-lapped dividers", summary="part a box into equal compartments")
def dividers(
    *,
    length: Annotated[float, Length("inside length of the box", 20, 2000)],
    width: Annotated[float, Length("inside width of the box", 20, 2000)],
    along: Annotated[int, Count("compartments along the length", 1, 40)],
    across: Annotated[int, Count("compartments across the width", 1, 40)],
    thickness: Annotated[float, Length("thickness of the dividers, the thickest reading", 0.5, 30)],
    height: Annotated[float, Length("height of the dividers", 10, 400)],
    clearance: Annotated[float, Length("slot less divider", 0, 1)] = 0.1,
    play: Annotated[float, Length("dividers shorter than the inside by", 0, 3)] = 0.5,
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
    title = say("Dividers for {length} by {width}", length=length, width=width)
    problems = [problem for row in rows for problem in _narrow(row)]
    return Plan(title, numbers, (_sheet(long, short, height, across - 1, along - 1),), tuple(problems))


def _no_dividers(rows: tuple[_Row, _Row], least: float) -> list[Problem]:
    """Refuse a single compartment: two of them are offered where they go in, or in a box that takes them."""
    fit = [row for row in rows if row.inside >= 2 * least + row.thickness]
    ways = [f"{{{row.where}}} compartments {row.where}" for row in fit]
    numbers: dict[str, object] = {row.where: Offer(2, setting=row.where) for row in fit}
    if not fit:
        ways, numbers = ["2 compartments along a length of {longer} at least"], {"longer": _longer(rows[0], least)}
    said = "one compartment each way has no dividers"
    return [stop("along", said, tuple(ways), **numbers)]


def _no_room(row: _Row, least: float) -> list[Problem]:
    if row.count == 1 or row.clear >= least - TOUCH:
        return []
    said = "{walls} dividers of {thickness} fill the inside of {inside}"
    ways, works = _roomier(row, least)
    numbers = {"walls": str(row.count - 1), "thickness": row.thickness, "inside": row.inside} | works
    return [stop(row.where, said, ways, **numbers)]


def _narrow(row: _Row) -> list[Problem]:
    if row.clear >= NARROW - TOUCH:
        return []
    said = "compartments of {clear} are narrower than a finger, {narrow}"
    ways, works = _roomier(row, NARROW)
    return [warn(row.where, said, ways, clear=row.clear, narrow=NARROW, **works)]


def _roomier(row: _Row, clear: float) -> tuple[tuple[str, ...], dict[str, object]]:
    """Return the ways to compartments at least so wide: fewer of them, thinner dividers, or another box."""
    most = int((row.inside + row.thickness) / (clear + row.thickness))
    ways, numbers = [], dict[str, object]()
    if most >= row.fewest:
        ways, numbers = ["{most} compartments at most"], {"most": Offer(most, "down")}
    if row.count > 1:
        ways.append("dividers of {thinner} or less")
        numbers["thinner"] = at_most((row.inside - row.count * clear) / (row.count - 1), "thickness")
    if most < row.fewest:
        fewest = f"{row.fewest} compartment{'s' if row.fewest > 1 else ''}"
        ways.append(f"{fewest} {row.where} a {row.side} of {{longer}} at least")
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


def _sheet(long: Slots, short: Slots, height: float, long_count: int, short_count: int) -> draw.Drawing:
    body: list[draw.Item] = []
    if long_count:
        body.append(_divider("long", long, height, from_top=True))
    if short_count:
        body.append(_divider("short", short, height, from_top=False))
    body += [_table(long, short, long_count, short_count), _notes(long, height)]
    purpose = "dividers at full size: prick the slots through the sheet, waste is hatched"
    return draw.Drawing("dividers", "dividers", purpose, tuple(body), (cautions.GENERAL, cautions.HAND_TOOLS))


def _divider(name: str, made: Slots, height: float, *, from_top: bool) -> draw.View:
    """One kind of divider on its face, the end that goes to the left of the box at the left."""
    low, high = (height - made.depth, height) if from_top else (0.0, made.depth)
    waste = tuple(draw.rectangle(start, low, start + made.width, high) for start in made.starts)
    outline = draw.polygon((0, 0), (made.length, 0), (made.length, height), (0, height))
    reference = draw.Line(draw.line((0, -3), (0, height + 3)), draw.Kind.REFERENCE)
    part = draw.Part(name, f"{name.capitalize()} divider", (*draw.lines((outline, *waste)), reference), hatched=waste)
    whole = draw.Dimension(draw.Point(0, 0), draw.Point(made.length, 0), "below", f"{name} divider")
    dimensions = [whole, draw.Dimension(draw.Point(0, 0), draw.Point(0, height), "left", "height")]
    if made.starts:
        start = made.starts[0]
        side = "above" if from_top else "below"
        edge = height if from_top else 0.0
        dimensions.append(draw.Dimension(draw.Point(0, edge), draw.Point(start, edge), side, "to the first slot"))  # type: ignore[arg-type]  # a Side, by the line above
        dimensions.append(draw.Dimension(draw.Point(made.length, low), draw.Point(made.length, high), "right", "slot"))
    labels = (draw.Label("measure every slot from this end", draw.Point(0, height / 2), towards="left"),)
    title = f"{name.capitalize()} divider, slots from the {'top' if from_top else 'bottom'}"
    return draw.View(name, title, (part,), tuple(dimensions), labels, check=whole)


def _table(long: Slots, short: Slots, long_count: int, short_count: int) -> draw.Table:
    rows: list[tuple[draw.Cell, ...]] = []
    kinds = (("long", long, long_count), ("short", short, short_count))
    for name, made, count in kinds:
        if count:
            rows += [(f"{count} {name}", str(i), start, start + made.width) for i, start in enumerate(made.starts, 1)]
    return draw.Table("slots", "Slots from the left end", ("Dividers", "Slot", "from", "to"), tuple(rows))


def _notes(made: Slots, height: float) -> draw.Notes:
    return draw.Notes(
        "notes",
        "How to make them",
        (
            "Plane the dividers to thickness first and cut a slot in scrap: a divider goes in with the push of a hand "
            "and stays when the scrap is lifted. Set with callipers, not from this sheet.",
            say(
                "Cut all of one kind together, ends to a stop. Slots are {depth} deep in {height}: half, and {relief} "
                "so that the edges meet. Slots {width} wide.",
                depth=made.depth,
                height=height,
                relief=RELIEF,
                width=made.width,
            ),
            "Do not glue the ends to the box: its sides move with the seasons, the dividers' length does not.",
        ),
    )
