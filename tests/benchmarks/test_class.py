"""A class by workers and by size, as ratios in one run; `JIGLEAF_PROFILE=long` adds a thousand students.

Goals: two workers in at most 0.55 of the time of one; time a student within 5 % of that of a class of 10, and peak
memory within 15 %. Run with `pytest tests/benchmarks/test_class.py --benchmark-enable -s`.
"""

from __future__ import annotations

import os
import time
from pathlib import Path

from tests.benchmarks.ratios import command, note, processor, python
from tests.test_course import PLAIN, QUICK

PEAK = "\nimport resource; print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)"


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
        begin, out = time.perf_counter(), str(tmp_path / workers)
        command("class", str(people), "--box", str(plain), "--workers", workers, "-o", out)
        took.append(time.perf_counter() - begin)
    note("class of 30, two workers, by the clock", "one worker", took[1] / took[0], "≤ 0.55")


def test_time_and_memory_by_size(tmp_path: Path) -> None:
    """One process with one sheet a student, so that what grows with the class is seen and not hidden by drawing."""
    sizes = (10, 100, 1000) if os.environ.get("JIGLEAF_PROFILE") == "long" else (10, 100)
    first: tuple[float, float] | None = None
    for count in sizes:
        begin = processor()
        peak = float(python(QUICK + PEAK, str(students(tmp_path, count)), str(tmp_path / f"of-{count}")).split()[-1])
        each = (processor() - begin) / count
        if first is None:
            first = each, peak
            continue
        note(f"class of {count}, one sheet each: time a student", "class of 10", each / first[0], "≤ 1.05")
        note(f"class of {count}, one sheet each: peak memory", "class of 10", peak / first[1], "≤ 1.15")


def test_every_sheet_of_a_class(tmp_path: Path) -> None:
    """All that the command makes, a plain box each; a hundred students take minutes and are in the long profile."""
    plain = tmp_path / "plain.toml"
    plain.write_text(PLAIN)
    sizes = (10, 100) if os.environ.get("JIGLEAF_PROFILE") == "long" else (3, 10)
    took = []
    for count in sizes:
        begin, out = processor(), str(tmp_path / f"all-{count}")
        command("class", str(students(tmp_path, count)), "--box", str(plain), "--workers", "1", "-o", out)
        took.append((processor() - begin) / count)
    note(f"class of {sizes[1]}, every sheet: time a student", f"class of {sizes[0]}", took[1] / took[0], "≤ 1.05")
