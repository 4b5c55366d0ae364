"""Ratios of one run: what is compared takes turns, and processor time is counted: a busy machine matters little.

The least of some turns is kept: whatever disturbs a turn makes it longer, never shorter.
"""

from __future__ import annotations

import os
import platform
import resource
import subprocess
import sys
import time
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path

ROOT = Path(__file__).parent.parent.parent
JIGLEAF = "from cli import main; main()"  # what the installed script does


@dataclass(frozen=True, slots=True)
class Row:
    """One ratio of the table: what, against what, and the goal where there is one."""

    what: str
    against: str
    ratio: float
    goal: str = ""


TABLE: list[Row] = []
"""All that was measured in this run, in the order measured."""


def note(what: str, against: str, ratio: float, goal: str = "") -> None:
    """Put a ratio into the table that is printed when the run ends."""
    TABLE.append(Row(what, against, ratio, goal))


def processor() -> float:
    """Return the processor seconds of this process and of those it started and that have ended."""
    children = resource.getrusage(resource.RUSAGE_CHILDREN)
    return time.process_time() + children.ru_utime + children.ru_stime


def least(*works: Callable[[], object], turns: int = 3) -> list[float]:
    """Return the least processor seconds of each work; they take turns."""
    best = [float("inf")] * len(works)
    for _ in range(turns):
        for i, work in enumerate(works):
            begin = processor()
            work()
            best[i] = min(best[i], processor() - begin)
    return best


def command(*words: str) -> str:
    """Run jigleaf in a process of its own, as a user does, and return what it printed."""
    return python(JIGLEAF, *words)


def python(code: str, *words: str) -> str:
    """Run Python code in a process of its own and return what it printed.

    Modules are compiled once and kept, as they are for a user, also where this run was told not to.
    """
    usual = {name: value for name, value in os.environ.items() if name != "PYTHONDONTWRITEBYTECODE"}
    done = subprocess.run(
        [sys.executable, "-c", code, *words], check=True, capture_output=True, cwd=ROOT, text=True, env=usual
    )
    return done.stdout


def markdown(rows: Sequence[Row]) -> list[str]:
    """Return the rows as a Markdown table."""
    head = ["| what | against | ratio | goal |", "|---|---|---:|---|"]
    return [*head, *(f"| {row.what} | {row.against} | {row.ratio:.2f} | {row.goal} |" for row in rows)]


def machine() -> str:
    """Return which machine and which Python this is."""
    return f"{platform.machine()}, {platform.system()} {platform.release()}, Python {platform.python_version()}"
