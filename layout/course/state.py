"""What a class folder knows of itself: which file was made from what. It is how a run goes on where one was stopped.

SQLite, for its lock falls with the process that holds it, and what it has said is written stays written.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import sqlite3
from collections.abc import Collection
from pathlib import Path
from types import TracebackType
from typing import Any

from jigs.base.disk import cannot
from jigs.base.errors import MachineFault

FILE = ".jigleaf.state"
_SEEN = "seen:"
"""Before the digest of what a row that names no file was found out of: no file of ours has a colon in its name."""
_BUSY = (sqlite3.SQLITE_BUSY, sqlite3.SQLITE_LOCKED)
_WHY = {sqlite3.SQLITE_FULL: errno.ENOSPC, sqlite3.SQLITE_READONLY: errno.EACCES, sqlite3.SQLITE_CANTOPEN: errno.EACCES}
"""What SQLite says of the disk, by what a disk says."""
_DAMAGED = (sqlite3.SQLITE_NOTADB, sqlite3.SQLITE_CORRUPT, sqlite3.SQLITE_ERROR)  # the last: other tables than ours


class State:
    """The state of one folder; open it with `with`. Raises MachineFault where another run is using it."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        path = folder / FILE
        if path.is_symlink():  # what it leads to is not ours
            self.base = self._anew(path)
            return
        try:
            self.base = self._open(path)
        except sqlite3.DatabaseError as error:
            if error.sqlite_errorcode & 0xFF in _BUSY:
                raise MachineFault(f"Can't write into {folder}: another jigleaf is working there") from error
            if error.sqlite_errorcode & 0xFF not in _DAMAGED:
                raise MachineFault(_cannot_write(path, error)) from error
            self.base = self._anew(path)

    def _anew(self, path: Path) -> sqlite3.Connection:
        """Begin anew in place of what is damaged."""
        try:
            path.unlink()
            return self._open(path)
        except (OSError, sqlite3.DatabaseError) as error:
            raise MachineFault(f"{_cannot_write(path, error)}. It is damaged; remove it") from error

    def _open(self, path: Path) -> sqlite3.Connection:
        base = sqlite3.connect(path, timeout=1, isolation_level=None)
        try:
            base.execute("PRAGMA locking_mode=EXCLUSIVE")
            base.execute("PRAGMA cache_size=-256")
            base.execute(
                "CREATE TABLE IF NOT EXISTS made (file TEXT PRIMARY KEY, source TEXT, content TEXT, record TEXT)"
            )
            base.execute("SELECT file, source, content, record FROM made LIMIT 1")  # says so where it is not ours
            base.execute("BEGIN EXCLUSIVE")  # takes the lock, which is then kept
            base.execute("PRAGMA user_version=1")  # any writing: the journal of a killed run goes with it at the end
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
        found = self._do("SELECT source, content FROM made WHERE file = ?", file).fetchone()
        return found is not None and found[0] == source and found[1] == digest_of(self.folder / file)

    def keep(self, file: str, source: str, record: Any) -> None:
        """Note that a file was made from this, and what there is to know of it."""
        row = (file, source, digest_of(self.folder / file), json.dumps(record))
        self._do("INSERT OR REPLACE INTO made VALUES (?, ?, ?, ?)", *row)

    def record(self, file: str) -> Any:
        """Return what was noted of a file."""
        return json.loads(self._do("SELECT record FROM made WHERE file = ?", file).fetchone()[0])

    def see(self, source: str, record: Any) -> None:
        """Note what was found out of something that is made from this."""
        row = (f"{_SEEN}{source}", source, "", json.dumps(record))
        self._do("INSERT OR REPLACE INTO made VALUES (?, ?, ?, ?)", *row)

    def seen(self, source: str) -> Any:
        """Return what was found out of it, None where nothing was."""
        found = self._do("SELECT record FROM made WHERE file = ?", f"{_SEEN}{source}").fetchone()
        return json.loads(found[0]) if found else None

    def forget_all_but(self, sources: Collection[str]) -> None:
        """Forget what was found out of anything else."""
        for (source,) in self._do(f"SELECT source FROM made WHERE file LIKE '{_SEEN}%'").fetchall():
            if source not in sources:
                self._do("DELETE FROM made WHERE file = ?", f"{_SEEN}{source}")

    def content(self, file: str) -> str:
        """Return the digest of a file that was made."""
        return str(self._do("SELECT content FROM made WHERE file = ?", file).fetchone()[0])

    def files(self) -> list[str]:
        """Return every file that was ever made here."""
        rows = self._do("SELECT file FROM made ORDER BY file")
        return [row[0] for row in rows if not row[0].startswith(_SEEN)]

    def _do(self, statement: str, *values: str) -> sqlite3.Cursor:
        """Run a statement. Raises MachineFault where the disk says no."""
        try:
            return self.base.execute(statement, values)
        except sqlite3.DatabaseError as error:
            raise MachineFault(_cannot_write(self.folder / FILE, error)) from error


def _cannot_write(path: Path, error: OSError | sqlite3.DatabaseError) -> str:
    """Return why the state of a folder can't be written."""
    if isinstance(error, OSError):
        return cannot("write", path, error)
    why = errno.EISDIR if path.is_dir() else _WHY.get(error.sqlite_errorcode & 0xFF, 0)
    return cannot("write", path, OSError(why, str(error)))


def digest_of(path: Path) -> str:
    """Return a digest of what a file holds, empty where there is none."""
    made = hashlib.sha256()
    with contextlib.suppress(OSError), path.open("rb") as file:
        while block := file.read(1 << 16):
            made.update(block)
        return made.hexdigest()
    return ""
