"""Whole processes as a user starts them, in processor time.

Goals: help within 1.5 times a process that only imports click; a jig, PDF and SVG, within 3 times a process that only
imports click, shapely, reportlab and svgwrite.
"""

from __future__ import annotations

from pathlib import Path

import pikepdf

from tests.benchmarks.ratios import command, least, note, python

IMPORTS = "import click, shapely, reportlab.pdfgen.canvas, svgwrite"
SLED = ("jig", "sled", "--finger", "10", "--cutter", "10.02", "--board", "90", "--thickness", "12")
BOX = "samples/recipe-box.toml"


def test_help_and_one_jig_against_bare_imports(tmp_path: Path) -> None:
    nothing, click, told, imports, jig = least(
        lambda: python("pass"),
        lambda: python("import click"),
        lambda: command("--help"),
        lambda: python(IMPORTS),
        lambda: command(*SLED, "-o", str(tmp_path)),
        turns=7,
    )
    note("--help", "python -c pass", told / nothing)
    note("--help", "import click", told / click, "≤ 1.5")
    note("jig sled", "--help", jig / told)
    note("jig sled", "importing what it needs", jig / imports, "≤ 3")


def test_the_sample_box_against_help(tmp_path: Path) -> None:
    told, drawn = least(
        lambda: command("--help"), lambda: command("draw", BOX, "--format", "pdf", "-o", str(tmp_path)), turns=2
    )
    with pikepdf.open(tmp_path / "recipe-box.pdf") as file:
        pages = len(file.pages)
    note(f"draw of the sample box, {pages} sheets, PDF", "--help", drawn / told)
    note("the same, a sheet of it", "--help", drawn / told / pages)
