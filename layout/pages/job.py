"""What the pages of one job have in common."""

from __future__ import annotations

from jigs.base.lengths import Units
from jigs.record import Record
from layout.sheet.carried import Carried
from layout.sheet.hand import ORDINARY, Hand


class Job(Record):
    """What the pages of one job have in common. `prefix` goes before the name of every page and file.

    `settings` are what it was made from, in words; `codes` the same as codes to scan, the fullest first; `carried` the
    same as a file.
    """

    prefix: str
    title: str
    settings: str
    units: Units
    revision: str
    correction: str = "none"
    date: str = ""
    codes: tuple[str, ...] = ()
    carried: Carried | None = None
    hand: Hand = ORDINARY
