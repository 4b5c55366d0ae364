"""The woods of the movement table and their names: as the table lists them, and as the trade says them.

The table puts the family first, "Cherry, black"; the trade says "black cherry", or just "cherry". Every form is read,
and the trade's is the one that is printed. `species.csv` holds both: `trade` is the name that is printed, `also` are
others that are read. One that stands with several rows, such as "soft maple", is the name of none of them alone.
"""

from __future__ import annotations

import csv
import difflib
import re
from collections.abc import Iterable, Sequence
from functools import cache
from pathlib import Path

from jigs.record import Record
from jigs.trade.movement import FLAT, ring_coefficient

COMMON = (
    *("white oak", "red oak", "black cherry", "black walnut", "sugar maple", "red maple", "white ash"),
    *("American beech", "yellow birch", "basswood", "mahogany", "butternut", "yellow poplar"),
)
"""Woods that boxes are made of, the ones in most shops first (common practice, no source)."""
_MOST_NEAR = 5


class UnknownSpeciesError(ValueError):
    """No one wood has this name; `near` holds trade names that may be meant, those in most shops first.

    `several` says that the name is known, and is that of each of them.
    """

    def __init__(self, name: str, near: tuple[str, ...], *, several: bool) -> None:
        self.name, self.near, self.several = name, near, several
        super().__init__(f"{self.wrong}; {self.instead}")

    @property
    def wrong(self) -> str:
        """What is wrong with the name."""
        return f"'{self.name}' {'may be any of several woods' if self.several else 'is not in the table of woods'}"

    @property
    def instead(self) -> str:
        """What to write instead."""
        if self.several:
            return f"write {_either(self.near)}"
        return f"did you mean {_either(self.near)}?" if self.near else f"write a wood such as {_either(COMMON[:3])}"


class Species(Record):
    """A row of the movement table: `name` as the trade says it and as it is printed, `listed` as the table has it.

    `also` are other names of the trade. `radial` and `tangential` are the change of width per % of moisture, as a
    fraction; `..._shrinkage` the shrinkage from green to ovendry in %, None where it is not published. `source` says
    where the coefficients were read.
    """

    name: str
    listed: str
    also: tuple[str, ...]
    radial: float
    tangential: float
    radial_shrinkage: float | None
    tangential_shrinkage: float | None
    source: str

    def coefficient(self, ring_angle: float = FLAT) -> float:
        """Return the change of width per % of moisture with the rings at this angle to the board's face."""
        return ring_coefficient(self.radial, self.tangential, ring_angle)

    @property
    def names(self) -> tuple[str, ...]:
        """All its names: those of the trade, that of the table, and that one the other way round."""
        head, _, tail = self.listed.partition(", ")
        return (self.name, *self.also, self.listed, f"{tail} {head}")


def species(name: str) -> Species:
    """Return a wood by any of its names, whatever the case: "black cherry", "cherry", "Cherry, black".

    A word that ends the names of one wood alone is that wood: "beech" is American beech. Raises UnknownSpeciesError, a
    ValueError that names those that may be meant.
    """
    key = _key(name)
    if len(found := _called(key)) == 1:
        return found[0]
    near = _names(found) if found else _names(_near(key))[:_MOST_NEAR]
    raise UnknownSpeciesError(name, near, several=bool(found))


def trade_name(name: str) -> str:
    """Return a wood's name as the trade says it; what is no one wood of the table, such as plywood, as it stands."""
    try:
        return species(name).name
    except UnknownSpeciesError:
        return name


@cache
def all_species() -> tuple[Species, ...]:
    """Return every row of the table, in its order."""
    with Path(__file__).with_name("species.csv").open(encoding="utf-8", newline="") as table:
        return tuple(
            Species(
                row["trade"],
                row["species"],
                tuple(filter(None, row["also"].split(";"))),
                float(row["radial"]),
                float(row["tangential"]),
                float(row["radial_shrinkage"]) if row["radial_shrinkage"] else None,
                float(row["tangential_shrinkage"]) if row["tangential_shrinkage"] else None,
                row["source"],
            )
            for row in csv.DictReader(table)
        )


def _called(key: str) -> Sequence[Species]:
    """Return the woods of a name, or else those of whose names in the trade it is the end; the common ones first."""
    if key in _by_key():
        return _by_key()[key]
    ends = re.compile(rf".* {re.escape(key)}")
    return [row for row in _common_first() if key and any(ends.fullmatch(_key(said)) for said in (row.name, *row.also))]


def _near(key: str) -> list[Species]:
    """Return woods that may be meant by what is no name: its words turned round, misspelt, a family, or among more."""
    known, words = _by_key(), key.split()
    turned = [row for name, rows in known.items() if sorted(name.split()) == sorted(words) for row in rows]
    spelt = difflib.get_close_matches(key, dict.fromkeys([*known, *(name.split()[-1] for name in known)]), cutoff=0.8)
    families = (" ".join(words[start:]) for start in range(1, len(words)))
    near = next(filter(None, map(_called, (*spelt, *families))), ())
    holding = [row for name, rows in known.items() if words and set(words) <= set(name.split()) for row in rows]
    return [*turned, *near, *holding]


def _names(rows: Iterable[Species]) -> tuple[str, ...]:
    """Return the printed names of woods, each once."""
    return tuple(dict.fromkeys(row.name for row in rows))


@cache
def _common_first() -> tuple[Species, ...]:
    """Return every row of the table, the common ones before the others."""
    rank = {name: place for place, name in enumerate(COMMON)}
    return tuple(sorted(all_species(), key=lambda row: rank.get(row.name, len(rank))))


@cache
def _by_key() -> dict[str, list[Species]]:
    """Return the woods by each of their names, the common ones first."""
    known: dict[str, list[Species]] = {}
    for row in _common_first():
        for key in dict.fromkeys(map(_key, row.names)):
            known.setdefault(key, []).append(row)
    return known


def _key(name: str) -> str:
    """Return a name without case, punctuation and double blanks."""
    return " ".join(re.findall(r"\w+", name.casefold()))


def _either(names: Sequence[str]) -> str:
    """Return names in quotes, as a choice: 'white oak', 'red oak' or 'black oak'."""
    *others, last = (f"'{name}'" for name in names)
    return f"{', '.join(others)} or {last}" if others else last
