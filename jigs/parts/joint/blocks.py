"""The gauge blocks of the sled: one for each setting that callipers don't reach, each with its letter."""

from __future__ import annotations

from jigs.parts.joint.made import Sled
from jigs.record import Record
from jigs.trade.sled import CUTTER_WITHIN, Run

_LETTERS = "GHJKLMNPQRSTUVWXYZ"
"""After those of the carriage's pieces, without those that look like numbers."""
LISTED = 4
"""So many runs of depth have a block each; of more only the first and the last of those that are alike."""


class Block(Record):
    """A strip of hard wood, planed to a thickness, mm. `of` is what it sets, by the name of the setting."""

    letter: str
    of: str
    what: str
    size: float


def of(sled: Sled) -> list[Block]:
    """Return the blocks in the order they are used."""
    n = sled.numbers
    sizes = [("gap", "gap", n.gap)]
    sizes += [(f"height-{turn}", height_of(sled, turn), sled.plate + run.depth) for turn, run in runs(sled)]
    sizes += [
        ("socket-goes", "go", n.socket - CUTTER_WITHIN),
        ("socket-no-go", "no-go", n.socket + sled.meant.errors.socket),
    ]
    return [Block(_letter(i), of, what, size) for i, (of, what, size) in enumerate(sizes)]


def letter_of(sled: Sled, setting: str) -> str:
    """Return the letter of the block that a setting is made with."""
    return next(block.letter for block in of(sled) if block.of == setting)


def runs(sled: Sled) -> list[tuple[int, Run]]:
    """Return the runs of depth that are named one by one, each with its turn from 1 on."""
    made = list(enumerate(sled.numbers.runs, start=1))
    if len(made) <= LISTED:
        return made
    return [
        (turn, run)
        for turn, run in made
        if turn in (1, len(made)) or run.boards != made[turn - 2][1].boards or run.boards != made[turn][1].boards
    ]


def height_of(sled: Sled, turn: int) -> str:
    """Return what the height of the cutter in a run is called."""
    made = sled.numbers.runs
    if len(made) == 1:
        return "height"
    boards = "" if all(run.boards == "all boards" for run in made) else f", {made[turn - 1].boards}"
    return f"run {turn}{boards}"


def _letter(number: int) -> str:
    again, at = divmod(number, len(_LETTERS))
    return _LETTERS[at] * (again + 1)
