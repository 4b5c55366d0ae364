"""Every jig of the catalogue: its example makes sheets that can be worked from."""

from __future__ import annotations

import shlex
from typing import Any

import pytest
from click.testing import CliRunner

from cli import main
from jigs.base.catalogue import catalogue, find
from jigs.base.drawing import View
from jigs.base.wording import read_out
from layout.fill import compose
from layout.fill.job import Job
from layout.sheet import paper
from tests.legibility import faults
from tests.test_properties import example_of

NAMES = sorted(catalogue())


@pytest.mark.slow
@pytest.mark.parametrize("page", ["A4", "Letter"])
@pytest.mark.parametrize("name", NAMES)
def test_an_example_makes_legible_sheets(name: str, page: str) -> None:
    plan = find(name).plan(example_of(name), "mm")
    job = Job(name, read_out(plan.title, "mm"), find(name).example, "mm", "abc123")
    bundle = compose.compose(job, plan.drawings, paper.named(page))
    assert {sheet.name: faults(sheet) for sheet in bundle.sheets if faults(sheet)} == {}


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_an_example_is_what_the_command_takes(name: str, tmp_path: Any) -> None:
    command = ["jig", name, *shlex.split(find(name).example)]
    ran = CliRunner().invoke(main, [*command, "-o", str(tmp_path), "--format", "pdf"])
    assert (ran.exit_code, ran.stdout) == (0, f"{tmp_path / name}.pdf\n"), ran.output
    helped = CliRunner().invoke(main, ["jig", name, "--help"])
    assert f"    jigleaf jig {name} --" in helped.stdout
    assert all(len(row) <= 80 for row in helped.stdout.splitlines())


@pytest.mark.parametrize("name", NAMES)
def test_every_drawing_says_what_it_needs_to(name: str) -> None:
    for drawing in find(name).plan(example_of(name), "mm").drawings:
        views = [item for item in drawing.body if isinstance(item, View)]
        assert drawing.cautions[0].startswith("Read the machine maker's manual")
        to_scale = [view for view in views if view.to_scale]
        assert not to_scale or any(view.check for view in to_scale), drawing.name
        assert all(view.check in view.dimensions for view in views if view.check), drawing.name
