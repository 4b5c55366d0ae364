"""A class on a bench: its list, every state of it before, and what is made from it."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from jigs.course import table as tables
from jigs.course.table import Table
from layout.bench.class_making import Making
from layout.bench.class_rows import Worked

if TYPE_CHECKING:
    from layout.bench.state import State


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
            del self.past[self.at + 1 :]
            self.past.append(table)
            self.at += 1
        self.state.version += 1

    def go(self, by: int) -> None:
        """Go back in what was done to the list, or on again, as far as there is anything."""
        self.at = min(max(self.at + by, 0), len(self.past) - 1)
        self.state.version += 1
