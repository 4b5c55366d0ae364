"""What a view was told step by step, so that the last step there can be taken back, and done again."""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Generic, TypeVar

Step = TypeVar("Step")
MOST = 1000
"""So many steps are kept; the oldest are forgotten first."""


@dataclass
class History(Generic[Step]):
    """States of a view, the first as it was opened. A state is never changed: another one takes its place."""

    states: list[Step]
    at: int = field(default=0, init=False)
    """Which of the states is shown."""

    @property
    def now(self) -> Step:
        """The state that is shown."""
        return self.states[self.at]

    @property
    def can_undo(self) -> bool:
        """Whether there is a state before."""
        return self.at > 0

    @property
    def can_redo(self) -> bool:
        """Whether there is a state that was left by undoing."""
        return self.at < len(self.states) - 1

    def take(self, state: Step) -> None:
        """Go on to a new state; what was undone before can't be done again. One like the present is none."""
        if state == self.now:
            return
        self.states = [*self.states[: self.at + 1], state][-MOST:]
        self.at = len(self.states) - 1

    def undo(self) -> None:
        """Go back to the state before, if there is one."""
        self.at -= self.can_undo

    def redo(self) -> None:
        """Go on to the state that was left by undoing, if there is one."""
        self.at += self.can_redo
