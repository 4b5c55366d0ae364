"""The maker's file on the disk: read, saved when asked, and until then a copy of the last state beside it."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, field
from pathlib import Path

from jigs.base.disk import cannot
from jigs.base.errors import CannotRead, MachineFault
from jigs.boxfile.decoding import text_at
from layout.printer import kept as printers
from layout.write import files

_UNSAVED = ".unsaved"
_NEW = "new-box.toml"


@dataclass
class Kept:
    """A file as it was last read or saved, and the copy beside it. Without a path nothing but the copy is written.

    The copy is a box file like any other, so a maker who finds it can use it. Where there is no file it lies among the
    settings of this computer's user.
    """

    path: Path | None
    saved: str = field(default="", init=False)
    """The text as it stands in the file, as far as it is known; empty where there is no file yet."""

    @property
    def name(self) -> str:
        """What the file is called; a new box has the name that it will be handed out under."""
        return self.path.name if self.path else _NEW

    @property
    def copy(self) -> Path:
        """Where the copy of the last state lies."""
        if self.path is None:
            return printers.folder() / f"{_NEW}{_UNSAVED}"
        return self.path.with_name(f".{self.path.name}{_UNSAVED}")

    def read(self) -> str:
        """Read the file and remember it. Raises CannotRead for what is no text."""
        self.saved = text_at(self.path) if self.path and self.path.exists() else ""
        return self.saved

    def unsaved(self) -> str | None:
        """Return the copy of a state that was never saved; None where there is none. Raises CannotRead for no text."""
        return text_at(self.copy) if self.copy.exists() else None

    def keep(self, text: str) -> None:
        """Write the copy of the last state, or take it away where the file says the same. Raises MachineFault."""
        if text == self.saved:
            self.forget()
        else:
            files.save(self.copy.parent, {self.copy.name: text.encode()})

    def forget(self) -> None:
        """Take the copy away."""
        files.remove([self.copy])

    def beside(self, what: str) -> Path:
        """Where the copy lies of what else is on the bench: a class list, the settings of jigs."""
        return self.copy.with_name(f"{self.copy.name.removesuffix(_UNSAVED)}.{what}{_UNSAVED}")

    def keep_beside(self, what: str, text: str) -> None:
        """Write the copy of something else, or take it away where there is nothing to keep. Raises MachineFault."""
        path = self.beside(what)
        if text:
            files.save(path.parent, {path.name: text.encode()})
        else:
            files.remove([path])

    def kept_beside(self, what: str) -> str:
        """Return the copy of something else that a bench before left; empty where there is none, or no text."""
        path = self.beside(what)
        try:
            return text_at(path) if path.exists() else ""
        except CannotRead:
            return ""

    def save(self, text: str) -> None:
        """Write the file, and take the copy away. Raises MachineFault; then the copy is still there."""
        if self.path is None:
            raise MachineFault("there is no file to save into")
        target = self.path.resolve()  # a link stays, and leads to the new text
        files.save(target.parent, {target.name: text.encode()})
        self.saved = text
        self.forget()

    def changed_elsewhere(self) -> bool:
        """Whether another program has written the file, or taken it away, since it was read or saved."""
        if self.path is None:
            return False
        try:
            now = self.path.read_bytes() if self.path.exists() else b""
        except OSError as error:
            raise MachineFault(cannot("read", self.path, error)) from error
        return hashlib.sha256(now).digest() != hashlib.sha256(self.saved.encode()).digest()
