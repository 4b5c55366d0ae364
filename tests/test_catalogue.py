"""Every jig of the catalogue: its example makes sheets that can be worked from, and any settings do or are refused."""

from __future__ import annotations

import shlex
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

from cli import main
from jigs.definition import Angle, Choice, Count, Flag, Length, Parameter, Plan, catalogue, find
from jigs.drawing import View
from jigs.errors import CannotBuild
from jigs.lengths import Units
from jigs.wording import read_out
from layout import compose, paper
from tests.legibility import faults

NAMES = sorted(catalogue())
A_SHEET = 1
"""Seconds are spent on sheets: of the settings that can be built, so many a jig are drawn in the short profile."""


def _values(parameter: Parameter, units: Units) -> st.SearchStrategy[Any]:
    kind = parameter.kind
    match kind:
        case Length() | Angle():
            # Mostly near the low end, where boxes are.
            most = kind.least + (kind.most - kind.least) * 0.2
            value: st.SearchStrategy[Any] = st.floats(kind.least, most) | st.floats(kind.least, kind.most)
        case Count():
            value = st.integers(kind.least, min(kind.most, kind.least + 8))
        case Choice():
            value = st.sampled_from(kind.options)
        case Flag():
            value = st.booleans()
    return value if parameter.required else st.just(parameter.default_in(units)) | value


def _built(name: str, chosen: dict[str, Any], units: Units) -> Plan | None:
    """Return the plan of some settings, or None where a rule stops them and says why."""
    try:
        return find(name).plan(chosen, units)
    except CannotBuild as error:
        refused = error
    assert all(problem.says(units) for problem in refused.problems)
    assert any(problem.severity == "stop" for problem in refused.problems)
    return None


def _example(name: str) -> dict[str, Any]:
    """Return the settings of a jig's example, in mm as it is typed."""
    words = shlex.split(find(name).example)
    kinds = {p.name: p.kind for p in find(name).parameters}
    chosen: dict[str, Any] = {}
    for option, value in zip(words[::2], words[1::2], strict=True):
        key = option.removeprefix("--").replace("-", "_")
        chosen[key] = {"count": int, "choice": str}.get(kinds[key].unit, float)(value)
    return chosen


@pytest.mark.parametrize("page", ["A4", "Letter"])
@pytest.mark.parametrize("name", NAMES)
def test_an_example_makes_legible_sheets(name: str, page: str) -> None:
    plan = find(name).plan(_example(name), "mm")
    job = compose.Job(name, read_out(plan.title, "mm"), find(name).example, "mm", "abc123")
    bundle = compose.compose(job, plan.drawings, paper.named(page))
    assert {sheet.name: faults(sheet) for sheet in bundle.sheets if faults(sheet)} == {}


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
    for drawing in find(name).plan(_example(name), "mm").drawings:
        views = [item for item in drawing.body if isinstance(item, View)]
        assert drawing.cautions[0].startswith("Read the machine maker's manual")
        to_scale = [view for view in views if view.to_scale]
        assert not to_scale or any(view.check for view in to_scale), drawing.name
        assert all(view.check in view.dimensions for view in views if view.check), drawing.name


@pytest.mark.parametrize("name", NAMES)
@given(data=st.data(), units=st.sampled_from(["mm", "in"]))
def test_any_settings_are_built_or_refused_with_a_reason(name: str, data: st.DataObject, units: Units) -> None:
    chosen = {p.name: data.draw(_values(p, units), label=p.name) for p in find(name).parameters}
    plan = _built(name, chosen, units)
    if plan is not None:
        assert plan.drawings
        read_out(plan.title, units)


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=A_SHEET if settings().max_examples < 1000 else settings().max_examples)
@given(data=st.data(), units=st.sampled_from(["mm", "in"]), page=st.sampled_from(["A4", "Letter", "A3"]))
def test_any_settings_make_legible_sheets(name: str, data: st.DataObject, units: Units, page: str) -> None:
    jig = find(name)
    example = _example(name)
    varied = [p for p in jig.parameters if isinstance(p.kind, Length) and p.name in example]
    factors = {p.name: data.draw(st.floats(0.7, 1.4), label=p.name) for p in varied}
    plan = _built(name, example | {key: example[key] * factor for key, factor in factors.items()}, units)
    if plan is None:
        return
    job = compose.Job(name, read_out(plan.title, units), jig.example, units, "abc123")
    bundle = compose.compose(job, plan.drawings, paper.named(page))
    assert {sheet.name: faults(sheet) for sheet in bundle.sheets if faults(sheet)} == {}
