"""What a part of a box says of itself: JSON, report, cover, sheets and cut list ask every part in turn.

Lengths in mm.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import reduce
from typing import Any, ClassVar, Generic, TypeVar

from jigs.base.cards import Sheets
from jigs.base.rules import Rules
from jigs.base.wording import Words
from jigs.boxfile.sections import BoxFile
from jigs.parts.wood.seasons import Curve
from jigs.record import Record
from jigs.trade.setups import SetUp

RABBETS = ("bit above table", "bit stands out at last")
"""What is set for a rabbet."""


Row = tuple[str, Words]
"""A row of the report: its name and what it says."""


class Piece(Record):
    """A part as it is cut, `count` of it alike: length along the grain, mm.

    `wood` is as the file calls it and `species` as the table of woods does, None where none is named. `blank` is the
    length that it is trimmed from, where it is cut longer, and `blank_width` the width that it is ripped from.
    """

    name: str
    count: int
    length: float
    width: float
    thickness: float
    wood: str | None
    grain: str = "long way"
    species: str | None = None
    blank: float | None = None
    blank_width: float | None = None


Made = TypeVar("Made")


@dataclass(frozen=True)
class Part(ABC, Generic[Made]):
    """A part of a box as it stands in the box; `made` is the part with everything settled.

    A class of it says what holds for every box: the `name` of its section and which of its keys are `measured`; its
    `rules`; the numbers that the JSON report has of it, `reported`, as `numbers_of` reads them; the `jig` that its
    sheets are called after; whether it is worked `after_glue`, and what is `signed` at its holds. And for a class of
    students: the `machine` that is set for it, by name, title and what is set; its `answers`, tables with columns
    `Heading=section.key`; its `sizes` on a page for reading, likewise.
    """

    name: ClassVar[str]
    rules: ClassVar[Rules[Any]]
    reported: ClassVar[str]
    jig: ClassVar[str]
    after_glue: ClassVar[bool] = False
    signed: ClassVar[Mapping[str, str]] = {}
    measured: ClassVar[tuple[str, ...]] = ()
    answers: ClassVar[tuple[tuple[str, str, str], ...]] = ()
    sizes: ClassVar[str] = ""
    machine: ClassVar[tuple[str, str, tuple[str, ...]] | None] = None

    file: BoxFile
    made: Made

    def facts(self) -> dict[str, object]:
        """Return its numbers by the names of the JSON report."""
        return numbers_of(self.made, self.reported)

    @abstractmethod
    def rows(self) -> Iterator[Row]:
        """Yield its rows of the report."""

    @abstractmethod
    def set_to(self) -> Words:
        """Return what the machines are set to for it, in a line."""

    def sheets(self, others: Parts) -> Sheets:
        """Return its cards, in the order they are worked from, and its templates."""
        del others
        return Sheets()

    @classmethod
    def sizes_of(cls, data: Mapping[str, Any]) -> str:
        """Return its `sizes`, from the numbers of a student's box."""
        del data
        return cls.sizes

    @classmethod
    def set_ups(cls, data: Mapping[str, Any]) -> Iterator[tuple[str, SetUp]]:
        """Yield what is cut at its machine and what that is set to, from the numbers of a student's box."""
        del data
        yield from ()

    def piece(self) -> Piece | None:
        """Return it as the cut list has it; None where it is no piece of its own."""
        return None

    def year(self) -> Sequence[Curve]:
        """Return how it moves through the year."""
        return ()


Parts = Sequence[Part[Any]]


def rabbets(data: Mapping[str, Any], part: str, *edges: str) -> Iterator[tuple[str, SetUp]]:
    """Yield the set-ups for two pairs of opposite edges; the passes before the last are on the student's own sheet."""
    deep, *widths = data["rabbets"][part]
    if round(deep, 3) > 0:
        yield from ((edge, (deep, wide)) for edge, wide in zip(edges, widths, strict=True))


def made_of(kind: type[Part[Made]], parts: Parts) -> Made | None:
    """Return the part of a kind with everything settled, None where the box has none."""
    return next((part.made for part in parts if isinstance(part, kind)), None)


def numbers_of(thing: object, names: str) -> dict[str, object]:
    """Return numbers by the names of the JSON reports, in their order, lists for tuples.

    `name=place.to.0` is one that stands elsewhere in the thing; without a place it is called the same there.
    """
    places = [name.partition("=") for name in names.split()]
    found = {name: reduce(_in, (place or name).split("."), thing) for name, _, place in places}
    return {name: list(value) if isinstance(value, tuple) else value for name, value in found.items()}


def _in(thing: Any, place: str) -> Any:
    return thing[int(place)] if place.isdigit() else getattr(thing, place)
