"""Files onto the disk: written aside and renamed, so that a half-written sheet never bears a final name."""

from __future__ import annotations

import contextlib
import os
import secrets
import tempfile
from collections.abc import Iterable, Iterator, Mapping, Sequence
from pathlib import Path
from typing import BinaryIO

from jigs.base.disk import cannot
from jigs.base.errors import MachineFault

ASIDE = ".jigleaf-"
"""How the name of a file begins that is not whole yet."""


def save(folder: Path | str, contents: Mapping[str, bytes]) -> list[Path]:
    """Write files into a folder, which is made if need be. Either all are written or none bears its name.

    Raises MachineFault, naming the file and the reason, where the disk says no.
    """
    folder = Path(folder)
    make_folder(folder)
    paths = [folder / name for name in contents]
    with contextlib.ExitStack() as waiting:
        waiting.enter_context(_all_or_none(paths))
        for path, content in zip(paths, contents.values(), strict=True):
            stream = waiting.enter_context(aside(path))
            stream.write(content)
            stream.flush()  # a full disk says so now, before the first file takes its name
    return paths


@contextlib.contextmanager
def _all_or_none(paths: Sequence[Path]) -> Iterator[None]:
    """Where files can't all take their names, give those that have back to what stood there before.

    What stands there is held by a second name. Where a disk knows no such thing, what has its name keeps it.
    """
    held = {path: _held(path) for path in paths if os.path.lexists(path)}
    try:
        yield
    except BaseException:
        for path in paths:
            with contextlib.suppress(OSError):
                if path not in held:
                    path.unlink()
                elif (second := held[path]) is not None:
                    os.replace(second, path)
        raise
    finally:
        for second in held.values():
            with contextlib.suppress(OSError):
                if second is not None:
                    second.unlink()


def _held(path: Path) -> Path | None:
    """Give a file a second name, and return it; None where the disk does not."""
    second = path.with_name(f"{ASIDE}{secrets.token_hex(8)}")
    try:
        os.link(path, second)
    except OSError:
        return None
    return second


def make_folder(folder: Path) -> None:
    """Make a folder where there is none. Raises MachineFault, naming it and the reason."""
    try:
        folder.mkdir(parents=True, exist_ok=True)
    except OSError as error:
        raise MachineFault(cannot("write", folder, error)) from error


@contextlib.contextmanager
def aside(path: Path) -> Iterator[BinaryIO]:
    """Open a file to be written piece by piece; it takes its name when it is whole, and is gone if it never is.

    A link that has the name is replaced; what it leads to is left alone.

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
        raise MachineFault(cannot("write", path, error)) from error


def remove(paths: Iterable[Path]) -> None:
    """Remove files; one that can't be removed is left."""
    for path in paths:
        with contextlib.suppress(OSError):
            path.unlink()


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
