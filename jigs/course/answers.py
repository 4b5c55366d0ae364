"""The teacher's answers: every number of every box, and the one that each student works out. Lengths in mm."""

from __future__ import annotations

import hashlib
import itertools
import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from jigs.base.drawing import Cell, Notes, Table
from jigs.base.lengths import Units
from jigs.base.wording import Words, say
from jigs.box.chain import PARTS
from jigs.course.makers import Maker, capital

_TOPICS: tuple[tuple[str, str, str], ...] = (
    ("joint", "Joint", "Finger=fingers.finger, Socket=fingers.socket, Pitch=fingers.pitch, Rip to=fingers.rip_width"),
    ("sled", "Sled", "Gap=sled.gap, Key=sled.key, Spacer=sled.spacer, Over all=sled.over_all"),
    ("boards", "Cut and boards", "Above table=cut.projection, Front and back=cut.long, Ends=cut.short"),
    ("inside", "inside", "Inside length=box.inside_length, Inside width=box.inside_width"),
    *(topic for kind in PARTS for topic in kind.answers),
)
"""Tables of answers: name, title, and the columns, heading=section.key. Two in mm stand in one."""


def tables(makers: Sequence[Maker], units: Units) -> Iterator[Table]:
    """Yield the tables of answers, those without rows left out."""
    topics = list(_TOPICS)
    if units == "mm":
        pairs = itertools.zip_longest(topics[::2], topics[1::2])
        topics = [(a[0], f"{a[1]}, {b[1]}", f"{a[2]}, {b[2]}") if b else a for a, b in pairs]
    for name, title, columns in topics:
        pairs_of = [column.rsplit("=", 1) for column in columns.split(", ")]
        rows = [row for maker in makers if (row := _row(maker, [key for _, key in pairs_of]))]
        if rows:
            yield Table(f"answers-{name}", capital(title), ("Name", *(head for head, _ in pairs_of)), tuple(rows))


def _row(maker: Maker, keys: Sequence[str]) -> tuple[Cell, ...] | None:
    """Return one row of a table; None where the box has nothing of what it is about."""
    cells: list[Cell] = []
    for key in keys:
        section, _, name = key.partition(".")
        value = (maker.data[section] or {}).get(name)
        cells.append("none" if value is None else float(value))
    return (maker.short, *cells) if any(cell != "none" for cell in cells) else None


class Exercise(NamedTuple):
    """One number that a student works out: what, from what, and the answer."""

    asks: str
    given: Words
    answer: Cell


_RULES = {
    "Rip to": "fingers of the front times finger, plus sockets of the front times socket",
    "Spacer": "half of finger and socket together",
    "Over all": "key, gap and cutter laid side by side",
    "Inside length": "outside length less the sides twice",
    "Fence": "from the fence to the cutter's centre: lower side of the groove plus half the cutter",
}


def exercises(makers: Sequence[Maker]) -> tuple[Table, Table, Notes]:
    """Return what each was asked with the answers, the same without them, and how it is worked out."""
    asked = [(maker.short, _exercise(maker)) for maker in makers]
    solved = tuple((name, task.asks, task.answer) for name, task in asked)
    blank = tuple((name, task.asks, task.given, None) for name, task in asked)
    return (
        Table("solved", "What each was asked", ("Name", "Work out", "Answer"), solved),
        Table("work-out", "Work it out", ("Name", "Work out", "From", "Your answer"), blank),
        Notes("how", "How", tuple(f"{name}: {rule}." for name, rule in _RULES.items())),
    )


def _exercise(maker: Maker) -> Exercise:
    """Return the exercise of a student: which one depends on the name alone, so that nobody's changes with the list."""
    data, cut = maker.data, maker.data["cut"]
    joint, sled = data["fingers"], data["sled"]
    finger, socket = joint["finger"], joint["socket"]
    front = f"{math.ceil(joint['count'] / 2)} fingers of {{f}}, {joint['count'] // 2} sockets of {{s}}"
    across = say("key {k}, gap {g}, cutter {c}", k=sled["key"], g=sled["gap"], c=cut["cutter"])
    inside = say("outside {l}, sides {t}", l=data["box"]["length"], t=cut["thickness"])
    made = [
        Exercise("Rip to", say(front, f=finger, s=socket), joint["rip_width"]),
        Exercise("Spacer", say("finger {f}, socket {s}", f=finger, s=socket), sled["spacer"]),
        Exercise("Over all", across, sled["over_all"]),
        Exercise("Inside length", inside, data["box"]["inside_length"]),
    ]
    if groove := data["groove"]:
        given = say("lower side {z}, cutter {c}", z=cut["groove_from_bottom"], c=cut["groove_cutter"])
        made.append(Exercise("Fence", given, groove["fence"]))
    return made[hashlib.sha256(maker.name.encode()).digest()[0] % len(made)]
