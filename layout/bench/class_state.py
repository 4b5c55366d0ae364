"""A class on a bench: its list, every state of it before, and what is made from it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from jigs.base.errors import JigleafError
from jigs.course import table as tables
from jigs.course.table import Table
from layout.bench.class_making import Making
from layout.bench.class_rows import Worked

if TYPE_CHECKING:
    from layout.bench.state import State

_COPY = "class.csv"


@dataclass
class Class:
    """A class on a bench: its list as it is now, every state of it before, and what is made from it."""

    state: State
    past: list[Table] = field(default_factory=lambda: [tables.EMPTY])
    at: int = 0
    """Which of the states in `past` is shown."""
    saved: Table = tables.EMPTY
    """The list as it was opened or saved last."""
    worked: Worked = field(default_factory=Worked)
    making: Making = field(default_factory=Making)
    told: str = ""
    """What is said until something is done."""

    def __post_init__(self) -> None:
        """Take up the list that a bench before this one left unsaved."""
        left = self.state.kept.kept_beside(_COPY)
        if left:
            try:
                self.past.append(tables.opened(left.encode(), "the list of last time"))
            except JigleafError:
                return self.state.kept.keep_beside(_COPY, "")  # cut off in the middle: it is nothing to go on with
            self.at = 1
            self.told = "This is the list of last time, which was not saved. Undo gives an empty one."
        return None

    @property
    def table(self) -> Table:
        """The list as it is shown."""
        return self.past[self.at]

    @property
    def before(self) -> Table:
        """The list before the last change."""
        return self.past[self.at - 1] if self.at else self.table

    def become(self, table: Table) -> None:
        """Take another list, which can be undone."""
        if table != self.table:
            self._keep(table)
            del self.past[self.at + 1 :]
            self.past.append(table)
            self.at += 1
        self.state.version += 1

    def go(self, by: int) -> None:
        """Go back in what was done to the list, or on again, as far as there is anything."""
        at = min(max(self.at + by, 0), len(self.past) - 1)
        self._keep(self.past[at])
        self.at = at
        self.state.version += 1

    def save(self) -> str:
        """Return the list as it is handed out, which needs no copy any more."""
        self.saved = self.table
        self._keep(self.table)
        return self.table.text()

    def _keep(self, table: Table) -> None:
        """Keep a copy of a list that was not saved beside that of the box. Raises MachineFault."""
        self.state.kept.keep_beside(_COPY, "" if table == self.saved or not table.filled else table.text())
