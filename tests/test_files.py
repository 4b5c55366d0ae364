"""Files: all or nothing, and nothing half-written under a final name."""

from __future__ import annotations

import os
from pathlib import Path

import pytest

from jigs.base.errors import MachineFault
from layout.sheet import carried
from layout.write import files


def test_files_are_written_into_a_folder_that_is_made(tmp_path: Path) -> None:
    folder = tmp_path / "a" / "b"
    written = files.save(folder, {"one.svg": b"1", "two.pdf": b"22"})
    assert [path.read_bytes() for path in written] == [b"1", b"22"]
    assert {path.name for path in folder.iterdir()} == {"one.svg", "two.pdf"}


def test_others_may_read_what_was_written(tmp_path: Path) -> None:
    mask = os.umask(0o022)
    try:
        [path] = files.save(tmp_path, {"one.svg": b"1"})
    finally:
        os.umask(mask)
    assert path.stat().st_mode & 0o777 == 0o644


def test_a_disk_that_fills_up_leaves_the_old_files_and_nothing_aside(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    files.save(tmp_path, {"one.svg": b"old", "two.svg": b"old"})
    real = os.fdopen
    count = 0

    def full_at_the_second(handle: int, mode: str) -> object:
        nonlocal count
        count += 1
        if count == 2:
            os.close(handle)
            raise OSError(28, "No space left on device")
        return real(handle, mode)

    monkeypatch.setattr(os, "fdopen", full_at_the_second)
    with pytest.raises(MachineFault, match=r"^Can't write .*: the disk is full$"):
        files.save(tmp_path, {"one.svg": b"new", "two.svg": b"new"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"one.svg": b"old", "two.svg": b"old"}


def test_the_revision_mark_changes_with_any_setting() -> None:
    mark = carried.revision_mark("sled", {"finger": 10.0, "cutter": 10.02})
    assert len(mark) == 6
    assert mark == carried.revision_mark("sled", {"cutter": 10.02, "finger": 10.0})
    assert mark != carried.revision_mark("sled", {"finger": 10.0, "cutter": 10.03})
    assert mark != carried.revision_mark("key", {"finger": 10.0, "cutter": 10.02})
