"""Whole processes as a user starts them, in processor time.

Goals: help within 1.5 times a process that only imports click; a jig, PDF and SVG, within 3 times a process that only
imports click, shapely, reportlab and svgwrite; the check of a box within 2 times one that only imports click and
pydantic; the whole sample box within 15 times help; a box of 151 parts within 4 times one of 9.
"""

from __future__ import annotations

from pathlib import Path

import pikepdf

from jigs.boxfile import change
from tests.benchmarks.ratios import ROOT, command, least, note, python

SHEETS = "import click, shapely, reportlab.pdfgen.canvas, svgwrite"
READING = "import click, tomllib, pydantic.dataclasses; from pydantic import TypeAdapter, ValidationError"
"""All of pydantic that comes with a box file; numpy and shapely are not needed to check one."""
SET = "import gc, os; gc.set_threshold(50_000); os.environ['OPENBLAS_NUM_THREADS'] = '1'"
"""What a command of ours says before it imports anything: where numpy starts threads, a floor would take longer."""
SLED = ("jig", "sled", "--finger", "10", "--cutter", "10.02", "--board", "90", "--thickness", "12")
BOX = "samples/recipe-box.toml"
PDFS = ("recipe-box-cards.pdf", "recipe-box-templates.pdf")
PARTS = {9: 63.0, 75: 525.0, 151: 1057.0}
"""How high a box of so many parts of 7 mm is, mm."""


def test_help_and_one_jig_against_bare_imports(tmp_path: Path) -> None:
    nothing, click, told, imports, everything, jig = least(
        lambda: python("pass"),
        lambda: python("import click"),
        lambda: command("--help"),
        lambda: python(f"{SET}; {SHEETS}"),
        lambda: python(f"{SET}; {SHEETS}, numpy.random, reportlab.pdfbase.ttfonts, segno"),
        lambda: command(*SLED, "-o", str(tmp_path)),
        turns=9,
    )
    note("--help", "python -c pass", told / nothing)
    note("--help", "import click", told / click, "≤ 1.5")
    note("jig sled, PDF and SVG", "--help", jig / told)
    note("jig sled, PDF and SVG", "importing click, shapely, reportlab, svgwrite", jig / imports, "≤ 3")
    note("jig sled, PDF and SVG", "all it imports, set as it sets them", jig / everything)


def test_the_check_against_bare_imports() -> None:
    told, imports, checked = least(
        lambda: command("--help"), lambda: python(READING), lambda: command("check", BOX), turns=9
    )
    note("check of the sample box", "--help", checked / told)
    note("check of the sample box", "importing click and pydantic", checked / imports, "≤ 2")


def test_the_sample_box_against_help(tmp_path: Path) -> None:
    everything = ("draw", BOX, "--format", "pdf", "-o", str(tmp_path))
    told, handle, drawn = least(
        lambda: command("--help"),
        lambda: command("draw", BOX, "--format", "pdf", "--only", "handle", "-o", str(tmp_path / "handle")),
        lambda: command(*everything),
        turns=5,
    )
    pages = 0
    for name in PDFS:
        with pikepdf.open(tmp_path / name) as file:
            pages += len(file.pages)
    note(f"draw of the sample box, {pages} pages, PDF", "--help", drawn / told, "≤ 15")
    note("the same, a page of it", "--help", drawn / told / pages)
    note("draw of its handle alone, PDF", "draw of the sample box", handle / drawn)


def test_a_box_of_many_fingers(tmp_path: Path) -> None:
    """On A0, so that no page is shared; the shell is made small enough for the lowest of them."""
    text = (ROOT / BOX).read_text(encoding="utf-8")
    fingers = {"joint.finger": 7, "joint.cutter": 7.02, "shell.width": 36, "shell.height": 24}
    files = {count: tmp_path / f"of-{count}.toml" for count in PARTS}
    for count, high in PARTS.items():
        files[count].write_text(change.set_values(text, fingers | {"box.height": high}), encoding="utf-8")
        assert f'"count": {count},' in command("check", "--json", str(files[count]))

    def draw(count: int) -> str:
        return command("draw", str(files[count]), "--paper", "A0", "--format", "pdf", "-o", str(tmp_path / str(count)))

    few, more, most = least(*[lambda count=count: draw(count) for count in PARTS], turns=3)
    note("draw of a box on A0, 75 parts", "9 parts", more / few)
    note("draw of a box on A0, 151 parts", "9 parts", most / few, "≤ 4")
