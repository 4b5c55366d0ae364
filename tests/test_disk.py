"""What the disk says, in words: why a file can't be read or written."""

from __future__ import annotations

import errno
import os
from pathlib import Path

import pytest

from jigs.base import disk
from jigs.base.errors import CannotRead


@pytest.mark.parametrize(
    ("number", "read", "write"),
    [
        (errno.ENOSPC, "the disk is full", "the disk is full"),
        (errno.EDQUOT, "your share of the disk is full", "your share of the disk is full"),
        (errno.EROFS, "the disk is read-only", "the disk is read-only"),
        (errno.EACCES, "you are not allowed to", "the folder is read-only"),
        (errno.ENOENT, "there is no such file", "there is no such folder"),
        (errno.EISDIR, "it is a folder", "a folder has its name"),
        (errno.ENOTDIR, "part of its path is a file, not a folder", "part of its path is a file, not a folder"),
        (errno.ENAMETOOLONG, "its name is too long", "its name is too long"),
        (errno.EIO, "input/output error", "input/output error"),
    ],
)
def test_every_failure_is_named(number: int, read: str, write: str) -> None:
    error = OSError(number, os.strerror(number))
    assert disk.cannot("read", "a/b.toml", error) == f"Can't read a/b.toml: {read}"
    assert disk.cannot("write", Path("a/b.pdf"), error) == f"Can't write a/b.pdf: {write}"


def test_a_failure_without_a_number_is_told_as_it_is() -> None:
    assert disk.cannot("use", "a", OSError("Odd disk")) == "Can't use a: odd disk"


def test_a_file_is_read_to_a_byte_past_its_limit(tmp_path: Path) -> None:
    (tmp_path / "a").write_bytes(b"12345")
    assert disk.content(tmp_path / "a", 3, "a box file") == b"1234"


@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("", "it is a folder, not a box file"),
        ("none", "there is no such file"),
        ("file/more", "part of its path is a file, not a folder"),
        ("x" * 300, "its name is too long"),
        ("a\0b", "no file can have that name"),
    ],
)
def test_what_is_no_file_is_refused_by_name(name: str, said: str, tmp_path: Path) -> None:
    (tmp_path / "file").touch()
    path = tmp_path / name
    with pytest.raises(CannotRead) as refused:
        disk.content(path, 3, "a box file")
    assert str(refused.value) == f"Can't read {path}: {said}"
