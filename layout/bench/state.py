"""What a maker has done so far: the box file as it is now, every state before it, and what was typed and refused."""

from __future__ import annotations

import threading
from collections.abc import Callable, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

from jigs.base import safe_names
from jigs.base.errors import CannotBuild, CannotRead, JigleafError
from jigs.base.rules import Problem, as_sentence, stop
from jigs.record import Record
from layout import make
from layout.bench.kept import Kept

if TYPE_CHECKING:
    from jigs.base.lengths import Units
    from jigs.box.set_ups import Look
    from jigs.boxfile.sections import BoxFile

PRINT_AS = {
    "large print": "large letters for the bench; it takes more pages",
    "thin ink": "narrow lines and sparse hatching, nothing filled in",
    "woods on the cover": "the box in colour, in its woods",
}
"""Ways to save pages that no box file holds, and what each does."""
_KEPT_LOOKS = 8
"""So many states are kept worked out: the one shown, those it is compared with, and what ways out give."""


class Refused(Record):
    """What was typed for a setting and is not in the file, and why."""

    typed: str
    problem: Problem


@dataclass
class State:
    """A box that is being changed, by one change at a time. `version` grows with every change of anything shown.

    Whoever changes something says which version was seen; where that is not this one, another window was quicker.
    """

    kept: Kept
    file: BoxFile
    past: list[str] = field(default_factory=list)
    at: int = 0
    """Which of the states in `past` is shown."""
    was: str = ""
    """The state that was shown before the last step; empty where there was no step."""
    version: int = 1
    refused: dict[str, Refused] = field(default_factory=dict)
    from_copy: bool = False
    """Whether the state was found beside the file, where a bench that ended had left it."""
    print_as: frozenset[str] = frozenset()
    """How pages are saved: of `PRINT_AS`."""
    handed_out: str = ""
    """The text of the copy that the maker saved last, of a box that has no file here."""
    elsewhere_said: bool = False
    """Whether the page says already that another program has changed the file."""
    lock: threading.RLock = field(default_factory=threading.RLock, repr=False)
    _looks: dict[str, Look] = field(default_factory=dict, repr=False)
    _boxes: dict[str, BoxFile] = field(default_factory=dict, repr=False)

    @classmethod
    def opened(cls, kept: Kept, units: Units = "mm") -> State:
        """Return the state of a file: as it was left, if it was never saved, or as it stands, or of a new box.

        Raises CannotRead and CannotBuild for a file that holds no box.
        """
        saved = kept.read()
        unsaved = kept.unsaved()
        text, from_copy = saved or make.new_box(units), False
        if unsaved is not None and unsaved != saved:
            try:
                make.box(unsaved, kept.name)
                text, from_copy = unsaved, True
            except JigleafError:
                kept.forget()  # cut off in the middle: it is nothing to go on with
        file = make.box(text, kept.name)
        past = [saved, text] if from_copy and saved else [text]
        return cls(kept, file, past, len(past) - 1, was=past[0] if len(past) > 1 else "", from_copy=from_copy)

    # -- what it is

    @property
    def look(self) -> Look:
        """The box worked out."""
        return self.look_at(self.file)

    def look_at(self, file: BoxFile) -> Look:
        """Return a box worked out; a few are kept."""
        found = self._looks.pop(file.source, None) or make.look(file)
        self._looks[file.source] = found
        while len(self._looks) > _KEPT_LOOKS:
            self._looks.pop(next(iter(self._looks)))
        return found

    @property
    def name(self) -> str:
        """What its file is called; a box that has none here is called by its title."""
        return self.kept.name if self.kept.path else f"{safe_names.stem(self.file.title.lower(), 'box')}.toml"

    @property
    def before(self) -> BoxFile:
        """The box before the last step, whether that was a change or was undone."""
        return self._read(self.was) if self.was else self.file

    @property
    def as_saved(self) -> BoxFile | None:
        """The box as it stands in the file; None where there is none yet, or none that can be read."""
        try:
            return self._read(self.kept.saved) if self.kept.saved else None
        except JigleafError:
            return None

    def _read(self, text: str) -> BoxFile:
        """Return the box of a text; the last few are kept, so that what is drawn of them is known again."""
        found = self._boxes.pop(text, None) or make.box(text, self.kept.name)
        self._boxes[text] = found
        while len(self._boxes) > _KEPT_LOOKS:
            self._boxes.pop(next(iter(self._boxes)))
        return found

    @property
    def is_saved(self) -> bool:
        """Whether the file says what is shown."""
        return self.file.source == self.kept.saved

    @property
    def can_undo(self) -> bool:
        """Whether there is a state before this one."""
        return self.at > 0

    @property
    def can_redo(self) -> bool:
        """Whether a state was left by undoing."""
        return self.at + 1 < len(self.past)

    # -- what is done to it

    def type(self, typed: Mapping[str, str]) -> None:
        """Take what was typed for some settings; what can't be kept is shown with its reason and changes nothing.

        What was refused before is tried again with it: a finger with the cutter that is typed after it.
        """
        for key in typed:
            self.refused.pop(key, None)
        waiting = {key: refused.typed for key, refused in self.refused.items()}
        try:
            if waiting:
                with suppress(CannotRead, CannotBuild):
                    self._become(make.edited(self.file, {**waiting, **typed}))
                    self.refused.clear()
                    return
            self._become(make.edited(self.file, typed))
        except (CannotRead, CannotBuild) as error:
            key, words = next(iter(typed.items()))
            self.refused[key] = Refused(words, _problem(error, key))
            self.version += 1

    def make(self, changed: Callable[[BoxFile], BoxFile]) -> None:
        """Make another box of this one. Raises as the door does, and then nothing is changed."""
        self._become(changed(self.file))

    def undo(self) -> None:
        """Go back to the state before, if there is one."""
        if self.can_undo:
            self._go_to(self.at - 1)

    def redo(self) -> None:
        """Go on to the state that was left by undoing, if there is one."""
        if self.can_redo:
            self._go_to(self.at + 1)

    def save(self) -> None:
        """Write the file.

        Raises CannotRead where another program has changed it, MachineFault where the disk says no.
        """
        if self.kept.changed_elsewhere():
            raise CannotRead(f"another program has changed {self.kept.name}; choose which of the two to keep")
        self.kept.save(self.file.source)
        self.from_copy = False
        self.version += 1

    def take_theirs(self) -> None:
        """Take the file as another program left it; the state before can be undone to. Raises as reading it does."""
        self._become(make.box(self.kept.read(), self.kept.name))

    def keep_mine(self) -> None:
        """Leave aside what another program has written; Save will write over it."""
        self.kept.read()
        self.kept.keep(self.file.source)
        self.version += 1

    def _become(self, file: BoxFile) -> None:
        if file.source == self.file.source:
            self.version += 1
            return
        self.kept.keep(file.source)
        del self.past[self.at + 1 :]
        self.past.append(file.source)
        self.at += 1
        self.was, self.file = self.file.source, file
        self.version += 1

    def _go_to(self, place: int) -> None:
        file = make.box(self.past[place], self.kept.name)
        self.kept.keep(file.source)
        self.at, self.was, self.file = place, self.file.source, file
        self.refused.clear()
        self.version += 1


def _problem(error: CannotRead | CannotBuild, key: str) -> Problem:
    """Return why what was typed for a key can't be kept."""
    if isinstance(error, CannotBuild):
        return error.problems[0]
    said = str(error).removeprefix(f"{key}: ")
    return stop(key, "{said}", said=as_sentence(f"it {said}" if said.startswith(("has ", "is ", "must ")) else said))
