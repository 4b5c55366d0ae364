"""One bench a file: two would write over each other’s copy of the last state, and one would lose its changes."""

from __future__ import annotations

import contextlib
import hashlib
from collections.abc import Callable
from pathlib import Path

from filelock import FileLock, Timeout

from jigs.base.errors import MachineFault
from layout.bench.kept import Kept
from layout.printer import kept as printers


def claim(kept: Kept, port: int) -> Callable[[], None]:
    """Claim a file for the bench at a port; return what gives it back.

    Raises MachineFault where another bench has it, and says where that one is. The claim goes with the process that
    holds it, however that ends. Where nothing can be written down, nothing is claimed.
    """
    note = printers.folder() / "benches" / hashlib.sha256(str(kept.copy.resolve()).encode()).hexdigest()[:24]
    lock = FileLock(note.with_suffix(".lock"))
    try:
        note.parent.mkdir(parents=True, exist_ok=True)
        lock.acquire(blocking=False)
        note.write_text(str(port), encoding="ascii")
    except Timeout as held:
        raise MachineFault(
            f"Can't open {kept.name}: it is on a bench already{_where(note)}. Go on there, or close that page first"
        ) from held
    except (OSError, RuntimeError):  # a home that can’t be written; a disk that knows no locks, as filelock says it
        return lambda: None

    def give_back() -> None:
        with contextlib.suppress(OSError):
            note.unlink()
        lock.release()

    return give_back


def _where(note: Path) -> str:
    """Return at which address the other bench is, as far as it has said so."""
    try:
        port = int(note.read_text(encoding="ascii")[:6])
    except (OSError, ValueError):
        return ""
    return f", at http://127.0.0.1:{port}/"
