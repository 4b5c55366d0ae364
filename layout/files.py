"""Files onto the disk: written aside and renamed, so that a half-written sheet never bears a final name."""

from __future__ import annotations

import contextlib
import os
import tempfile
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import BinaryIO

from jigs.errors import MachineFault

ASIDE = ".jigleaf-"
"""How the name of a file begins that is not whole yet."""


def save(folder: Path | str, contents: Mapping[str, bytes]) -> list[Path]:
    """Write files into a folder, which is made if need be. Either all are written or none bears its name.

    Raises MachineFault, naming the file and the reason, where the disk says no.
    """
    folder = Path(folder)
    make_folder(folder)
    with contextlib.ExitStack() as waiting:
        for name, content in contents.items():
            stream = waiting.enter_context(aside(folder / name))
            stream.write(content)
            stream.flush()  # a full disk says so now, before the first file takes its name
    return [folder / name for name in contents]


def make_folder(folder: Path) -> None:
    """Make a folder where there is none. Raises MachineFault, naming it and the reason."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise MachineFault(f"can't write into '{folder}': {error.strerror or error}") from error


@contextlib.contextmanager
def aside(path: Path) -> Iterator[BinaryIO]:
    """Open a file to be written piece by piece; it takes its name when it is whole, and is gone if it never is.

    Raises MachineFault, naming the file and the reason, where the disk says no.
    """
    try:
        handle, waiting = tempfile.mkstemp(prefix=ASIDE, dir=path.parent)
        try:
            with os.fdopen(handle, "wb") as stream:
                yield stream
            os.chmod(waiting, 0o666 & ~_umask())
            os.replace(waiting, path)
        except BaseException:
            with contextlib.suppress(OSError):
                os.unlink(waiting)
            raise
    except OSError as error:
        raise MachineFault(f"can't write '{path}': {error.strerror or error}") from error


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
