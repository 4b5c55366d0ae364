"""The teacher's answers: every number of every box, and the one that each student works out. Lengths in mm."""

from __future__ import annotations

import hashlib
import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from jigs.base.cards import Text
from jigs.base.drawing import Cell, Table
from jigs.base.wording import Words, say
from jigs.box.chain import PARTS
from jigs.course.makers import Maker, calls, capital

_TOPICS: tuple[tuple[str, str], ...] = (
    ("Joint", "Finger=fingers.finger, Socket=fingers.socket, Pitch=fingers.pitch, Planed to=fingers.rip_width"),
    ("Sled", "Gap=sled.gap, Key=sled.key, Spacer=sled.spacer, Across key and cutter=sled.over_all"),
    ("Cut", "Cutter height=cut.projection, Front and back=cut.long, End boards=cut.short"),
    ("Inside", "Length=box.inside_length, Width=box.inside_width"),
    *((capital(kind.name), columns) for kind in PARTS for _, _, columns in kind.answers),
)
"""What is answered: a part, and its numbers, heading=section.key."""
_A_TABLE = 8
"""Students side by side in one table."""


def tables(makers: Sequence[Maker]) -> Iterator[Table]:
    """Yield tables of every number: a row for each, a column for each student; last what each is asked."""
    called = calls(makers)
    for start in range(0, len(makers), _A_TABLE):
        here = makers[start : start + _A_TABLE]
        rows = [row for part, columns in _TOPICS for row in _rows(here, part, columns)]
        rows.append(("Exercise", "own", *(say("{v:gauge}", v=_exercise(maker).answer) for maker in here)))
        names = tuple(called[maker.name] for maker in here)
        title = "" if not start else "Continued"
        yield Table(f"answers-{start // _A_TABLE + 1}", title, ("", "", *names), tuple(rows))


def _rows(makers: Sequence[Maker], part: str, columns: str) -> Iterator[tuple[Cell, ...]]:
    """Yield the rows of one part, those left out that nobody's box has."""
    for column in columns.split(", "):
        head, _, key = column.rpartition("=")
        cells = [_number(maker, key) for maker in makers]
        if any(cell != "–" for cell in cells):
            yield (part, head[:1].lower() + head[1:], *cells)


def _number(maker: Maker, key: str) -> Cell:
    section, _, name = key.partition(".")
    value = (maker.data[section] or {}).get(name)
    return "–" if value is None else say("{v:gauge}", v=float(value))


class Exercise(NamedTuple):
    """One number that a student works out: what, from what, and the answer."""

    asks: str
    given: Words
    answer: float


_RULES = {
    "Planed to": "fingers of the front times finger, plus sockets of the front times socket",
    "Spacer": "half of finger and socket together",
    "Across": "key, gap and cutter, laid side by side",
    "Inside length": "outside length, less the sides twice",
    "Fence": "from the fence to the middle of the bit: lower side of the groove, plus half the bit",
}


def exercises(makers: Sequence[Maker]) -> tuple[Table, Text]:
    """Return what each is asked, with room for the answer, and how it is worked out."""
    blank = tuple((maker.short, (task := _exercise(maker)).asks, task.given, None) for maker in makers)
    asked = {str(row[1]) for row in blank}
    return (
        Table("work-out", "Work out one number of your own box", ("Name", "Work out", "From", "Your answer"), blank),
        Text("", tuple(f"{name}: {rule}." for name, rule in _RULES.items() if name in asked)),
    )


def _exercise(maker: Maker) -> Exercise:
    """Return the exercise of a student: which one depends on the name alone, so that nobody's changes with the list."""
    data, cut = maker.data, maker.data["cut"]
    joint, sled = data["fingers"], data["sled"]
    finger, socket = joint["finger"], joint["socket"]
    front = f"{math.ceil(joint['count'] / 2)} fingers of {{f:gauge}}, {joint['count'] // 2} sockets of {{s:gauge}}"
    across = say("key {k:gauge}, gap {g:gauge}, cutter {c:gauge}", k=sled["key"], g=sled["gap"], c=cut["cutter"])
    inside = say("outside {l:cut}, sides {t:cut}", l=data["box"]["length"], t=cut["thickness"])
    made = [
        _asked("Planed to", say(front, f=finger, s=socket), joint["rip_width"]),
        _asked("Spacer", say("finger {f:gauge}, socket {s:gauge}", f=finger, s=socket), sled["spacer"]),
        _asked("Across", across, sled["over_all"]),
        _asked("Inside length", inside, data["box"]["inside_length"]),
    ]
    if groove := data["groove"]:
        words = "lower side {z:cut}, bit {c:gauge}"
        given = say(words, z=cut["groove_from_bottom"], c=cut["groove_cutter"])
        made.append(_asked("Fence", given, groove["fence"]))
    return made[hashlib.sha256(maker.name.encode()).digest()[0] % len(made)]


def _asked(asks: str, given: Words, answer: float) -> Exercise:
    return Exercise(asks, given, float(answer))
