"""What takes long to make is made by one worker of a run, and read by the others."""

from __future__ import annotations

import fcntl
import pickle
from collections.abc import Callable
from pathlib import Path
from typing import TypeVar, cast

Made = TypeVar("Made")

shared: Path | None = None
"""The folder of a run that its workers have in common; None where one process runs all. Set by tests/conftest.py."""


def made_once(name: str, make: Callable[[], Made]) -> Made:
    """Return what `make` makes, or what another worker made under the same name."""
    if shared is None:
        return make()
    path = shared / f"{name}.pickle"
    with Path(shared, f"{name}.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)  # let go of by a worker that dies
        if not path.exists():
            made = make()
            aside = path.with_suffix(".new")
            aside.write_bytes(pickle.dumps(made))
            aside.rename(path)
            return made
    return cast(Made, pickle.loads(path.read_bytes()))
