"""The machine in the way: each fault ends with the right files or the old ones, and with a message and its exit code.

Disks that are full or read-only and files that can't be changed are made by root on Linux, and tried only there: such
tests are skipped elsewhere, for no package can give a machine what they need.
"""

from __future__ import annotations

import contextlib
import errno
import hashlib
import json
import locale
import os
import resource
import shlex
import shutil
import signal
import sqlite3
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest

import cli
from jigs.base.errors import MachineFault
from layout.course.state import FILE, State
from layout.printer import kept
from layout.write import files
from tests import corpus, processes
from tests.processes import environment, run

pytestmark = pytest.mark.slow

GAUGES = ["jig", "gauges", "--gap", "9.92", "--socket", "10.02", "--thickness", "12", "--format", "svg"]
PRINTERS = ["calibrate", "--across", "169.3", "--up", "260.8", "--rising", "311.4", "--falling", "310.6"]
LONG = os.environ.get("JIGLEAF_PROFILE") == "long"


def contents(folder: Path) -> dict[str, str]:
    """Return a digest of every file in a folder, hidden ones included."""
    found = sorted(path for path in folder.rglob("*") if path.is_file() and not path.is_symlink())
    return {str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest() for path in found}


@pytest.fixture(scope="module")
def wanted(tmp_path_factory: pytest.TempPathFactory) -> dict[str, str]:
    """What the jig makes where nothing is in the way."""
    folder = tmp_path_factory.mktemp("wanted")
    assert run(*GAUGES, cwd=folder).code == 0
    return contents(folder)


def tried(command: list[str], reason: str) -> None:
    """Run a command that only root may, or skip the test."""
    if os.geteuid() or not shutil.which(command[0]):
        pytest.skip(f"needs root and {command[0]}, {reason}")
    if subprocess.run(command, capture_output=True, check=False).returncode:
        pytest.skip(f"needs {' '.join(command[:2])}, {reason}")


@contextlib.contextmanager
def disk(folder: Path, options: str) -> Iterator[None]:
    """Put a small disk of its own into a folder."""
    folder.mkdir(exist_ok=True)
    tried(["mount", "-t", "tmpfs", "-o", options, "tmpfs", str(folder)], "for a disk of its own")
    try:
        yield
    finally:
        subprocess.run(["umount", "-l", str(folder)], check=True)


@contextlib.contextmanager
def locked(path: Path) -> Iterator[None]:
    """Make a file or folder one that not even root can change."""
    tried(["chattr", "+i", str(path)], "for a file that can't be changed")
    try:
        yield
    finally:
        subprocess.run(["chattr", "-i", str(path)], check=True)


# -- disks and folders ---------------------------------------------------------------------------------------------


def test_a_full_disk(tmp_path: Path) -> None:
    with disk(tmp_path / "disk", "size=24k"):
        (tmp_path / "disk" / "gauges-card-1-gauges.svg").write_text("old")
        found = run(*GAUGES, "-o", "disk", cwd=tmp_path)
        assert (found.code, found.out) == (3, "")
        assert "Can't write disk/gauges-card-1-gauges.svg: the disk is full" in found.said
        assert [path.name for path in (tmp_path / "disk").iterdir()] == ["gauges-card-1-gauges.svg"]
        assert (tmp_path / "disk" / "gauges-card-1-gauges.svg").read_text() == "old"


def test_files_that_may_not_grow(tmp_path: Path) -> None:
    """As on a disk with a quota; this needs no root."""
    code = f"import sys; sys.argv = ['jigleaf', *{GAUGES!r}, '-o', 'out']; import cli; cli.main()"
    done = subprocess.run(
        [sys.executable, "-c", code],
        preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (9000, 9000)),
        env=environment(PYTHONPATH=str(processes.ROOT), PYTHONDONTWRITEBYTECODE="1"),
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=False,
    )
    assert (done.returncode, done.stdout) == (3, "")
    assert "Can't write out/gauges-card-1-gauges.svg: file too large" in done.stderr
    assert list((tmp_path / "out").iterdir()) == []


@pytest.mark.parametrize("at", range(1, 7))
def test_a_disk_that_fills_up_at_any_of_its_steps(at: int, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Each step that writes fails once; the old files stand as they stood, and nothing else."""
    files.save(tmp_path, {"a": b"old", "b": b"old"})
    count = 0

    def failing(real: Callable[..., Any]) -> Callable[..., Any]:
        def act(*words: Any, **more: Any) -> Any:
            nonlocal count
            count += 1
            if count == at:
                raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
            return real(*words, **more)

        return act

    with monkeypatch.context() as patch:
        for where, name in ((tempfile, "mkstemp"), (os, "chmod"), (os, "replace")):
            patch.setattr(where, name, failing(getattr(where, name)))
        with pytest.raises(MachineFault, match="the disk is full"):
            files.save(tmp_path, {"a": b"new", "b": b"new", "c": b"new"})
    assert {path.name: path.read_bytes() for path in tmp_path.iterdir()} == {"a": b"old", "b": b"old"}


def test_a_disk_that_can_only_be_read(tmp_path: Path) -> None:
    with disk(tmp_path / "disk", "ro"):
        found = run(*GAUGES, "-o", "disk/new", cwd=tmp_path)
    assert (found.code, found.out) == (3, "")
    assert found.said == "Can't write disk/new: the disk is read-only"


def test_a_folder_that_is_not_ours(tmp_path: Path) -> None:
    with locked(tmp_path):
        found = run(*GAUGES, "-o", str(tmp_path), cwd=tmp_path)
    assert (found.code, list(tmp_path.iterdir())) == (3, [])
    assert found.said.startswith("Can't write ")
    assert found.said.endswith(("the file or its folder is locked", "the folder is read-only"))


def test_a_file_that_is_locked_leaves_all_as_they_were(tmp_path: Path) -> None:
    assert run(*GAUGES, cwd=tmp_path).code == 0
    before = contents(tmp_path)
    with locked(tmp_path / "gauges-card-1-gauges.svg"):
        found = run(*GAUGES, "--date", "today", cwd=tmp_path)
    assert found.code == 3
    assert "Can't write gauges-card-1-gauges.svg: the file or its folder is locked" in found.said
    assert contents(tmp_path) == before


def test_a_folder_where_a_file_should_go_leaves_all_as_they_were(tmp_path: Path) -> None:
    (tmp_path / "gauges-card-1-gauges.svg").mkdir()
    found = run(*GAUGES, cwd=tmp_path)
    assert (found.code, found.out) == (3, "")
    assert "Can't write gauges-card-1-gauges.svg: a folder has its name" in found.said
    assert [path.name for path in tmp_path.iterdir()] == ["gauges-card-1-gauges.svg"]


def test_a_file_where_a_folder_should_go(tmp_path: Path) -> None:
    (tmp_path / "out").write_text("mine")
    found = run(*GAUGES, "-o", "out", cwd=tmp_path)
    assert (found.code, (tmp_path / "out").read_text()) == (3, "mine")


def test_a_link_is_replaced_and_what_it_leads_to_is_left_alone(tmp_path: Path, wanted: dict[str, str]) -> None:
    (tmp_path / "mine").write_text("mine")
    (tmp_path / "out").mkdir()
    for name, target in (("gauges-card-1-gauges.svg", "../mine"), ("gauges-blocks-2.svg", "../none")):
        (tmp_path / "out" / name).symlink_to(target)
    assert run(*GAUGES, "-o", "out", cwd=tmp_path).code == 0
    assert contents(tmp_path / "out") == wanted
    assert (tmp_path / "mine").read_text() == "mine"
    assert not (tmp_path / "none").exists()


def test_a_linked_folder_is_where_the_files_go(tmp_path: Path, wanted: dict[str, str]) -> None:
    (tmp_path / "real").mkdir()
    (tmp_path / "out").symlink_to("real")
    assert run(*GAUGES, "-o", "out", cwd=tmp_path).code == 0
    assert contents(tmp_path / "real") == wanted


@pytest.mark.parametrize("name", ["x" * 300, "gone/" * 900])
def test_a_name_that_is_too_long(name: str, tmp_path: Path) -> None:
    found = run(*GAUGES, "-o", name, cwd=tmp_path)
    assert found.code == 3
    assert "its name is too long" in found.said
    assert list(tmp_path.iterdir()) == []


# -- killed, stopped, twice at once --------------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["jig", "draw"])
@pytest.mark.parametrize("stop", [signal.SIGKILL, signal.SIGINT])
def test_stopped_at_any_moment_it_leaves_old_files_or_new(kind: str, stop: signal.Signals, tmp_path: Path) -> None:
    (tmp_path / "box.toml").write_text(corpus.LEAST)
    words = GAUGES if kind == "jig" else ["draw", "box.toml", "--only", "glue"]
    begin = time.monotonic()
    assert run(*words, "-o", "new", cwd=tmp_path).code == 0
    took = time.monotonic() - begin
    assert run(*words, "-o", "out", "--date", "old", cwd=tmp_path).code == 0
    new, old = contents(tmp_path / "new"), contents(tmp_path / "out")
    for moment in range(50 if LONG else 2):
        started = took * (0.4 + 0.7 * (moment * 0.618 % 1))
        process = subprocess.Popen(
            processes.command(*words, "-o", "out"), cwd=tmp_path, env=environment(), stderr=subprocess.PIPE, text=True
        )
        time.sleep(started)
        process.send_signal(stop)
        said = process.communicate()[1]
        found = contents(tmp_path / "out")
        assert {name for name in found if not name.startswith(files.ASIDE)} == set(new)
        assert all(mark in (new[name], old[name]) for name, mark in found.items() if name in new)
        if stop == signal.SIGINT:
            assert set(found) == set(new)
            before_our_first_line = process.returncode == 1 and "cli.py" not in said  # Python itself was still starting
            assert process.returncode in (0, 130, -stop) or before_our_first_line, said  # -stop: while Python cleans up
            assert process.returncode != 130 or "stopped; nothing was written" in said
    assert run(*words, "-o", "out", cwd=tmp_path).code == 0
    assert contents(tmp_path / "out").items() >= new.items()


def test_two_at_once_in_one_folder_make_what_one_makes(tmp_path: Path, wanted: dict[str, str]) -> None:
    command = processes.command(*GAUGES, "-o", "out")
    both = [subprocess.Popen(command, cwd=tmp_path, env=environment(), stdout=subprocess.DEVNULL) for _ in range(2)]
    assert [process.wait() for process in both] == [0, 0]
    assert contents(tmp_path / "out") == wanted


# -- what a class folder knows of itself ---------------------------------------------------------------------------


def test_a_second_class_in_one_folder_is_refused_and_says_so(tmp_path: Path) -> None:
    (tmp_path / "box.toml").write_text(corpus.LEAST)
    (tmp_path / "list.csv").write_text("name\nAnn\n")
    (tmp_path / "out" / "shared").mkdir(parents=True)
    with State(tmp_path / "out"):
        found = run("class", "list.csv", "--box", "box.toml", "-o", "out", cwd=tmp_path)
    assert (found.code, found.out) == (3, "")
    assert found.said.startswith("Can't write into out: another jigleaf is working there")


def test_a_state_that_cannot_be_opened_is_not_another_jigleaf(tmp_path: Path) -> None:
    (tmp_path / FILE).mkdir()
    with pytest.raises(MachineFault, match=r"Can't write .*state: a folder has its name"):
        State(tmp_path)


def _keep_many(state: State) -> None:
    for number in range(99):
        state.keep(f"{number}.pdf", "x" * 300, {})


def test_a_full_disk_in_the_midst_of_a_class_is_said(tmp_path: Path) -> None:
    with disk(tmp_path / "disk", "size=32k"):
        with State(tmp_path / "disk") as state, pytest.raises(MachineFault, match=r"Can't write .*: the disk is full"):
            _keep_many(state)
        (tmp_path / "disk" / FILE).unlink()
        (tmp_path / "disk" / "rest").write_bytes(bytes(32_000))
        with pytest.raises(MachineFault, match=r"Can't write .*: .*(full|I/O)"):
            State(tmp_path / "disk")


def test_a_state_of_another_make_is_begun_anew(tmp_path: Path) -> None:
    with contextlib.closing(sqlite3.connect(tmp_path / FILE)) as base:
        base.execute("CREATE TABLE made (other TEXT)")
    with State(tmp_path) as state:
        assert state.files() == []


def test_a_damaged_state_that_cannot_be_removed_is_said(tmp_path: Path) -> None:
    (tmp_path / FILE).write_bytes(b"no data base at all, and long enough" * 100)
    with locked(tmp_path / FILE), pytest.raises(MachineFault, match=r"locked\. It is damaged; remove it"):
        State(tmp_path)


def test_a_linked_state_is_not_written_through(tmp_path: Path) -> None:
    (tmp_path / "mine").touch()
    (tmp_path / FILE).symlink_to("mine")
    with State(tmp_path) as state:
        state.keep("a", "b", {})
    assert (tmp_path / "mine").read_bytes() == b""


# -- clocks, languages, homes --------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "changed", [{"SOURCE_DATE_EPOCH": "1"}, {"SOURCE_DATE_EPOCH": "x"}, {"TZ": "Foo/Bar"}, {"TZ": "XYZ-99:99"}]
)
def test_no_clock_changes_a_sheet(changed: dict[str, str], tmp_path: Path, wanted: dict[str, str]) -> None:
    assert run(*GAUGES, cwd=tmp_path, env=environment(**changed)).code == 0
    assert contents(tmp_path) == wanted


@pytest.mark.parametrize("now", ["-1e9", "0.0", "4e9", "1e12"])
def test_a_clock_that_is_wrong_changes_no_sheet(now: str, tmp_path: Path, wanted: dict[str, str]) -> None:
    code = "import sys, time, runpy\n"
    code += f"time.time = lambda: {now}\ntime.localtime = time.gmtime = lambda *when: 1 / 0\n"
    code += f"sys.argv = ['jigleaf', *{GAUGES!r}]\nrunpy.run_path({cli.__file__!r}, run_name='__main__')"
    path = {"PYTHONPATH": str(processes.ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", code], cwd=tmp_path, env=environment(**path), capture_output=True, check=False
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert contents(tmp_path) == wanted


CYRILLIC = 'title = "Коробка для чая"\n' + corpus.LEAST
ASCII = {"PYTHONUTF8": "0", "PYTHONCOERCECLOCALE": "0"}


@pytest.mark.parametrize(
    "changed",
    [
        {"LC_ALL": "C"},
        {"LC_ALL": "POSIX", **ASCII},
        {"LC_ALL": "C", "PYTHONIOENCODING": "ascii"},
        {"LC_ALL": "C", "PYTHONIOENCODING": "latin-1"},
        {"LC_ALL": "C", "PYTHONIOENCODING": "cp1252:strict", **ASCII},
        {"LC_ALL": "tr_TR.UTF-8"},
        {"LC_ALL": "de_DE.UTF-8"},
        {"LC_ALL": "xx_XX.nothing"},
    ],
)
def test_no_language_of_the_machine_stops_the_work(changed: dict[str, str], tmp_path: Path) -> None:
    """tr_TR, where a capital I has no dot, and de_DE, where a comma parts decimals: only where they are installed."""
    language = changed["LC_ALL"]
    if "UTF-8" in language:
        before = locale.setlocale(locale.LC_CTYPE)
        try:
            locale.setlocale(locale.LC_CTYPE, language)
        except locale.Error:
            pytest.skip(f"needs the locale {language}")
        finally:
            locale.setlocale(locale.LC_CTYPE, before)
    (tmp_path / "box.toml").write_text(CYRILLIC, encoding="utf-8")
    words = (["check", "box.toml"], ["check", "box.toml", "--json"], ["draw", "чай.toml", "-o", "чай"])
    for command, code in zip(words, (0, 0, 2), strict=True):
        found = run(*(os.fsencode(word) for word in command), cwd=tmp_path, env=environment(**changed))
        assert (found.code, "Traceback" in found.err) == (code, False), found.err
        if "--json" in command:
            assert json.loads(found.out)["box"]["title"] == "Коробка для чая"


@pytest.mark.parametrize("name", [b"a\xffb", b"\xed\xa0\x80", b"a\nb", b"a\x1b[31mb"])
@pytest.mark.parametrize("encoding", ["utf-8:strict", None])
def test_names_of_files_that_are_no_text(name: bytes, encoding: str | None, tmp_path: Path) -> None:
    (tmp_path / os.fsdecode(name)).mkdir()
    changed = environment(LC_ALL="C.UTF-8", PYTHONIOENCODING=encoding)
    found = run(*GAUGES, "-o", name, cwd=tmp_path, env=changed)
    assert (found.code, found.err) == (0, "")
    found = run("check", name + b".toml", cwd=tmp_path, env=changed)
    assert (found.code, found.said[:10]) == (2, "Can't read")


def test_a_home_that_is_no_folder(tmp_path: Path) -> None:
    """The library that writes PDF looks there for settings of its own."""
    found = run(*GAUGES, cwd=tmp_path, env=environment(HOME="/dev/null", XDG_CONFIG_HOME=None))
    assert found.code == 3
    assert found.said.startswith("Can't use ")
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize("home", [None, "/nonexistent", ""])
def test_no_home_folder(home: str | None, tmp_path: Path, wanted: dict[str, str]) -> None:
    changed = environment(HOME=home, XDG_CONFIG_HOME=None)
    assert run(*GAUGES, cwd=tmp_path, env=changed).code == 0
    assert contents(tmp_path) == wanted
    found = run(*GAUGES, "--printer", "office", cwd=tmp_path, env=changed)
    assert found.code == 2
    assert "--printer: " in found.said


def test_printers_that_cannot_be_kept(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    found = run(*PRINTERS, "--printer", "office", cwd=tmp_path, env=environment(XDG_CONFIG_HOME=str(tmp_path / "file")))
    assert found.code in (2, 3)
    assert "part of its path is a file, not a folder" in found.said
    assert (tmp_path / "file").read_text() == "in the way"


def test_printers_that_cannot_be_written_stay_as_they_were(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "folder", lambda: tmp_path)
    kept.keep(kept.Printer("office"))
    before = contents(tmp_path)
    with locked(tmp_path / "printers.json"), pytest.raises(MachineFault, match=r"Can't write .*printers.json"):
        kept.keep(kept.Printer("school"))
    assert contents(tmp_path) == before


# -- what is not installed, and who does not listen ----------------------------------------------------------------


@pytest.mark.parametrize("error", ["ImportError('no cairosvg')", "OSError('no library called cairo')"])
def test_no_cairo(error: str, tmp_path: Path) -> None:
    (tmp_path / "cairosvg.py").write_text(f"raise {error}")
    found = run(*GAUGES[:-1], "png", "-o", "out", cwd=tmp_path, env=environment(PYTHONPATH=str(tmp_path)))
    assert (found.code, found.out) == (3, "")
    assert "PNG needs the cairo library: pip install 'jigleaf[png]', and on Debian: apt install libcairo2" in found.said
    assert not (tmp_path / "out").exists()


@pytest.mark.parametrize("words", [["jigs"], ["jigs", "--json"], ["--help"], GAUGES, ["check", "box.toml"]])
def test_a_reader_who_goes_away(words: list[str], tmp_path: Path) -> None:
    """As `| head -1` does: what was to be made is made, and no more is said. Click's own help ends with 1 then."""
    (tmp_path / "box.toml").write_text(corpus.LEAST)
    read, write = os.pipe()
    os.close(read)
    with os.fdopen(write, "wb") as pipe:
        found = run(*words, cwd=tmp_path, stdout=pipe)
    assert found.err == ""
    assert found.code == (1 if words == ["--help"] else 0)
    assert words != GAUGES or len(list(tmp_path.glob("*.svg"))) == 1


@pytest.mark.parametrize("words", [["jigs"], ["jigs", "--json"], GAUGES, ["--help"]])
def test_results_that_cannot_be_written(words: list[str], tmp_path: Path) -> None:
    with open("/dev/full", "wb") as full:
        found = run(*words, cwd=tmp_path, stdout=full)
    assert found.code == 3
    assert ": the disk is full" in found.said
    assert "Traceback" not in found.err


def test_messages_that_cannot_be_written_stop_no_work(tmp_path: Path) -> None:
    with open("/dev/full", "wb") as full:
        assert run("check", "none.toml", cwd=tmp_path, stderr=full).code == 2
        assert run("jigs", cwd=tmp_path, stderr=full).code == 0


def test_closed_streams(tmp_path: Path) -> None:
    for closing, words, code in ((">&-", GAUGES, 0), ("2>&-", ["check", "none"], 2), (">&- 2>&- <&-", GAUGES, 0)):
        line = f"{shlex.join(map(os.fsdecode, processes.command(*words)))} {closing}"
        done = subprocess.run(["sh", "-c", line], cwd=tmp_path, env=environment(), capture_output=True, check=False)
        assert (done.returncode, b"Traceback" in done.stderr) == (code, False)
    assert len(list(tmp_path.glob("*.svg"))) == 1
