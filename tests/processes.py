"""Whole processes for tests: within a time and a memory, in any environment, with a terminal or without."""

from __future__ import annotations

import contextlib
import os
import pty
import resource
import subprocess
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import IO, Any, NamedTuple

ROOT = Path(__file__).parent.parent
MEMORY = 1_500_000_000
"""Bytes of addresses a process may have: numpy and its like reserve most of them and use few."""


class Ended(NamedTuple):
    """How a process ended."""

    code: int
    out: str
    err: str

    @property
    def said(self) -> str:
        """Its messages, without the line breaks that a terminal's width makes."""
        return " ".join(self.err.split())


SECONDS = 6
"""What a process may take of the processor, its start included; a busy machine makes it no more."""


def _within_limits() -> None:
    resource.setrlimit(resource.RLIMIT_AS, (MEMORY, MEMORY))
    resource.setrlimit(resource.RLIMIT_CPU, (SECONDS, SECONDS))


def command(*words: str | bytes) -> list[str | bytes]:
    return [sys.executable, str(ROOT / "cli.py"), *words]


def environment(**changed: str | None) -> dict[str, str]:
    """Return the environment of a test's process: without Python's own settings, and with these; None takes one out."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith(("PYTHON", "LC_", "LANG"))}
    return {name: value for name, value in (kept | changed).items() if value is not None}


def run(
    *words: str | bytes,
    cwd: Path,
    env: Mapping[str, str] | None = None,
    stdout: int | IO[Any] = subprocess.PIPE,
    stderr: int | IO[Any] = subprocess.PIPE,
) -> Ended:
    """Run a command to its end. One that takes more than the limits allow ends with a code below 0."""
    done = subprocess.run(
        command(*words),
        stdin=subprocess.DEVNULL,
        stdout=stdout,
        stderr=stderr,
        preexec_fn=_within_limits,
        timeout=100,
        env=dict(env) if env is not None else environment(),
        cwd=cwd,
        check=False,
    )
    return Ended(done.returncode, (done.stdout or b"").decode(errors="replace"), (done.stderr or b"").decode())


def run_at_a_terminal(*words: str | bytes, cwd: Path, env: Mapping[str, str] | None = None) -> bytes:
    """Return all that a command writes onto a terminal, to the byte."""
    ours, theirs = pty.openpty()
    given = dict(env) if env is not None else environment(NO_COLOR="1")
    process = subprocess.Popen(command(*words), stdin=theirs, stdout=theirs, stderr=theirs, env=given, cwd=cwd)
    os.close(theirs)
    shown = b""
    while True:
        try:
            piece = os.read(ours, 65536)
        except OSError:  # the other end is closed
            break
        if not piece:
            break
        shown += piece
    process.wait()
    os.close(ours)
    return shown


@contextlib.contextmanager
def bench(file: Path | str, folder: Path) -> Iterator[tuple[subprocess.Popen[str], str]]:
    """Start `jigleaf bench` in a folder as a maker does; yield the process and the address that it prints."""
    running = subprocess.Popen(
        [sys.executable, "-c", "from cli import main; main()", "bench", str(file), "--no-browser"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, cwd=folder,
        env=os.environ | {"PYTHONPATH": str(ROOT)},
    )  # fmt: skip
    assert running.stdout
    try:
        yield running, running.stdout.readline().strip()
    finally:
        running.kill()
        running.communicate()
