"""Files onto the disk: written aside and renamed, so that a half-written sheet never bears a final name."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from jigs.errors import MachineFault


def save(folder: Path | str, contents: Mapping[str, bytes]) -> list[Path]:
    """Write files into a folder, which is made if need be. Either all are written or none bears its name.

    Raises MachineFault, naming the folder and the reason, where the disk says no.
    """
    folder = Path(folder)
    aside: list[tuple[str, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, content in contents.items():
            aside.append((_write_aside(folder, content), folder / name))
        for waiting, final in aside:
            os.replace(waiting, final)
    except OSError as error:
        for waiting, _ in aside:
            with contextlib.suppress(OSError):
                os.unlink(waiting)
        raise MachineFault(f"can't write into '{folder}': {error.strerror or error}") from error
    return [final for _, final in aside]


def _write_aside(folder: Path, content: bytes) -> str:
    handle, name = tempfile.mkstemp(prefix=".jigleaf-", dir=folder)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.chmod(name, 0o666 & ~_umask())
    except OSError:
        os.unlink(name)
        raise
    return name


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
