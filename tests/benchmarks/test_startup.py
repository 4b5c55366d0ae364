"""Whole processes against the imports they can't do without, as ratios in one run.

Goals: help within 1.5 times a process that only imports click; a jig, PDF and SVG, within 3 times a process that only
imports click, shapely, reportlab and svgwrite. Run with `pytest tests/benchmarks --benchmark-enable -s`.
"""

from __future__ import annotations

import subprocess
import sys
import time
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent.parent
IMPORTS = "import click, shapely, reportlab.pdfgen.canvas, svgwrite"
COMMAND = "from cli import main; main()"  # what the installed script does
SLED = ["jig", "sled", "--finger", "10", "--cutter", "10.02", "--board", "90", "--thickness", "12"]


def seconds(*command: str) -> float:
    """Return the best of seven runs."""
    best = float("inf")
    for _ in range(7):
        begin = time.perf_counter()
        subprocess.run([sys.executable, *command], check=True, capture_output=True, cwd=ROOT)
        best = min(best, time.perf_counter() - begin)
    return best


@pytest.fixture(autouse=True)
def only_when_asked(request: pytest.FixtureRequest) -> None:
    if not request.config.getoption("--benchmark-enable"):
        pytest.skip("a benchmark; run it with --benchmark-enable")


def test_help_against_click() -> None:
    ratio = seconds("-c", COMMAND, "--help") / seconds("-c", "import click")
    print(f"\n--help: {ratio:.2f} times 'import click' (goal 1.5)")


def test_one_jig_against_its_imports(tmp_path: Path) -> None:
    ratio = seconds("-c", COMMAND, *SLED, "-o", str(tmp_path)) / seconds("-c", IMPORTS)
    print(f"\njig sled: {ratio:.2f} times its imports (goal 3)")
