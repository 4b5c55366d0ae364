"""A class by workers and by size, as ratios in one run; `JIGLEAF_PROFILE=long` adds a thousand students.

Goals: two workers in at most 0.65 of the time of one; time a student and peak memory flat within 15 % from 10 students
on. Run with `pytest tests/benchmarks/test_class.py --benchmark-enable -s`.
"""

from __future__ import annotations

import os
import subprocess
import sys
import time
from pathlib import Path

import pytest

from tests.test_course import PLAIN, QUICK

ROOT = Path(__file__).parent.parent.parent
COMMAND = "from cli import main; main()"  # what the installed script does
PEAK = "\nimport resource; print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"


@pytest.fixture(autouse=True)
def only_when_asked(request: pytest.FixtureRequest) -> None:
    if not request.config.getoption("--benchmark-enable"):
        pytest.skip("a benchmark; run it with --benchmark-enable")


def students(folder: Path, count: int) -> Path:
    people = folder / f"{count}.csv"
    rows = [f"Student {i},{200 + 5 * (i % 20)}" for i in range(count)]
    people.write_text("\n".join(["name,box.length", *rows]) + "\n")
    return people


def test_two_workers_against_one(tmp_path: Path) -> None:
    people, plain = students(tmp_path, 30), tmp_path / "plain.toml"
    plain.write_text(PLAIN)
    took = []
    for workers in ("1", "2"):
        command = [sys.executable, "-c", COMMAND, "class", str(people), "--box", str(plain), "--workers", workers]
        begin = time.perf_counter()
        subprocess.run([*command, "-o", str(tmp_path / workers)], check=True, capture_output=True, cwd=ROOT)
        took.append(time.perf_counter() - begin)
    print(f"\n30 students: two workers take {took[1] / took[0]:.2f} of the time of one (goal 0.65)")


def test_time_and_memory_by_size(tmp_path: Path) -> None:
    """One process with one sheet a student, so that what grows with the class is seen and not hidden by drawing."""
    sizes = (10, 100, 1000) if os.environ.get("JIGLEAF_PROFILE") == "long" else (10, 100)
    first: tuple[float, float] | None = None
    for count in sizes:
        begin = time.perf_counter()
        command = [sys.executable, "-c", QUICK + PEAK, str(students(tmp_path, count)), str(tmp_path / f"of-{count}")]
        done = subprocess.run(command, check=True, capture_output=True, cwd=ROOT, text=True)
        each, peak = (time.perf_counter() - begin) / count, float(done.stdout.split()[-1])
        first = first or (each, peak)
        print(f"\n{count} students: {each / first[0]:.2f} of the time a student, {peak / first[1]:.2f} of the memory")
