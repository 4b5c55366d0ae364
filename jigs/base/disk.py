"""What the disk says, in words: why a file can't be read or written."""

from __future__ import annotations

import errno
from pathlib import Path
from typing import Literal

from jigs.base.errors import CannotRead

Doing = Literal["read", "write", "use"]

_ALWAYS: dict[int, str] = {
    errno.ENOSPC: "the disk is full",
    getattr(errno, "EDQUOT", errno.ENOSPC): "your share of the disk is full",
    errno.EROFS: "the disk is read-only",
    errno.ENOTDIR: "part of its path is a file, not a folder",
    errno.ENAMETOOLONG: "its name is too long",
}
_READING: dict[int, str] = {
    errno.ENOENT: "there is no such file",
    errno.EISDIR: "it is a folder",
    errno.EACCES: "you are not allowed to",
    errno.EPERM: "you are not allowed to",
}
_WRITING: dict[int, str] = {
    errno.ENOENT: "there is no such folder",
    errno.EISDIR: "a folder has its name",
    errno.EACCES: "the folder is read-only",
    errno.EPERM: "the file or its folder is locked",
}
"""Why the disk says no, by its number: the words of the system are for those who write programs."""


def cannot(do: Doing, path: Path | str, error: OSError) -> str:
    """Return what can't be done with a file, and why: `Can't write sheets/box.pdf: the disk is full`."""
    return f"Can't {do} {path}: {reason(error, do)}"


def reason(error: OSError, do: Doing = "use") -> str:
    """Return why the disk says no, in words; those of the system where there are none of ours."""
    known = _ALWAYS | (_WRITING if do == "write" else _READING)
    said = str(error.strerror or error)
    return known.get(error.errno or 0, said[:1].lower() + said[1:])


def content(path: Path | str, most: int, what: str) -> bytes:
    """Return what a file holds, up to a byte more than `most`; `what` is what it should be, as "a box file".

    Raises CannotRead, naming the file and the reason.
    """
    path = Path(path)
    try:
        if path.is_dir():
            raise CannotRead(f"Can't read {path}: it is a folder, not {what}")
        if path.exists() and not path.is_file():  # a pipe would be waited for
            raise CannotRead(f"Can't read {path}: it is not a file")
        with path.open("rb") as file:
            return file.read(most + 1)
    except OSError as error:
        raise CannotRead(cannot("read", path, error)) from None
    except ValueError:  # a NUL
        raise CannotRead(f"Can't read {path}: no file can have that name") from None
