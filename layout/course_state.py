"""What a class folder knows of itself: which file was made from what. It is how a run goes on where one was stopped.

SQLite, for its lock falls with the process that holds it, and what it has said is written stays written.
"""

from __future__ import annotations

import contextlib
import hashlib
import json
import sqlite3
from pathlib import Path
from types import TracebackType
from typing import Any

from jigs.errors import MachineFault

FILE = ".jigleaf.state"


class State:
    """The state of one folder; open it with `with`. Raises MachineFault where another run is using it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.fresh = False
        path = folder / FILE
        try:
            self.base = self._open(path)
        except sqlite3.DatabaseError as error:
            if isinstance(error, sqlite3.OperationalError):
                raise MachineFault(f"another jigleaf is working in '{folder}' ({error})") from error
            path.unlink()  # damaged: everything is made anew
            self.base = self._open(path)

    def _open(self, path: Path) -> sqlite3.Connection:
        self.fresh = not path.exists()
        base = sqlite3.connect(path, timeout=1, isolation_level=None)
        try:
            base.execute("PRAGMA locking_mode=EXCLUSIVE")
            base.execute("PRAGMA cache_size=-256")
            base.execute(
                "CREATE TABLE IF NOT EXISTS made (file TEXT PRIMARY KEY, source TEXT, content TEXT, record TEXT)"
            )
            base.execute("BEGIN EXCLUSIVE")  # takes the lock, which is then kept
            base.execute("COMMIT")
        except sqlite3.DatabaseError:
            base.close()
            raise
        return base

    def __enter__(self) -> State:
        return self

    def __exit__(
        self, kind: type[BaseException] | None, error: BaseException | None, trace: TracebackType | None
    ) -> None:
        del kind, error, trace
        self.base.close()

    def is_made(self, file: str, source: str) -> bool:
        """Tell whether a file is there, whole, and was made from this."""
        found = self.base.execute("SELECT source, content FROM made WHERE file = ?", (file,)).fetchone()
        return found is not None and found[0] == source and found[1] == digest_of(self.folder / file)

    def keep(self, file: str, source: str, record: Any) -> None:
        """Note that a file was made from this, and what there is to know of it."""
        row = (file, source, digest_of(self.folder / file), json.dumps(record))
        self.base.execute("INSERT OR REPLACE INTO made VALUES (?, ?, ?, ?)", row)

    def record(self, file: str) -> Any:
        """Return what was noted of a file."""
        return json.loads(self.base.execute("SELECT record FROM made WHERE file = ?", (file,)).fetchone()[0])

    def content(self, file: str) -> str:
        """Return the digest of a file that was made."""
        return str(self.base.execute("SELECT content FROM made WHERE file = ?", (file,)).fetchone()[0])

    def files(self) -> list[str]:
        """Return every file that was ever made here."""
        return [row[0] for row in self.base.execute("SELECT file FROM made ORDER BY file")]


def digest_of(path: Path) -> str:
    """Return a digest of what a file holds, empty where there is none."""
    made = hashlib.sha256()
    with contextlib.suppress(OSError), path.open("rb") as file:
        while block := file.read(1 << 16):
            made.update(block)
        return made.hexdigest()
    return ""
