"""Every sheet of a whole box: legible, each under its own name, asked for by name, refused before a file is written."""

from __future__ import annotations

import functools
import re
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

import cli
from jigs.base.drawing import Drawing
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.box import chain
from jigs.box import sheets as box_sheets
from jigs.boxfile import change, reading
from layout.fill import compose
from layout.fill.job import Job
from layout.sheet import paper
from layout.sheet.marks import Bundle
from tests.legibility import faults
from tests.once import made_once

SAMPLES = Path(__file__).parent.parent / "samples"
NAMES = ("recipe-box", "recipe-box-inch")
DRAWN = (NAMES[0], pytest.param(NAMES[1], marks=pytest.mark.slow))
FAMILIES = ("box", "stock", "sled", "stops", "panel", "shell", "lid", "handle", "seasons")
PARTS = (
    "sled-plate",
    "sled-key",
    "sled-cutter",
    "sled-spacer",
    "stops-strip",
    "handle-outline",
    "handle-hole-1",
    "shell-ribs",
    "calibration-square",
    "calibration-inches",
)
"""The ids by which others find a part in the files."""


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, list(words))


@dataclass(frozen=True, slots=True)
class Drawn:
    """What `jigleaf draw` made of a sample: the sheets before they were written, and the files."""

    bundle: Bundle
    files: dict[str, bytes]


@functools.cache
def drawn(sample: str) -> Drawn:
    """Draw a sample as the command does; once in a run, because a whole box takes long."""
    return made_once(sample, lambda: _drawn(sample))


def _drawn(sample: str) -> Drawn:
    made: list[Bundle] = []
    composing = compose.compose

    def compose_and_keep(job: Job, drawings: Sequence[Drawing], page: paper.Paper) -> Bundle:
        made.append(composing(job, drawings, page))
        return made[-1]

    with tempfile.TemporaryDirectory() as out, pytest.MonkeyPatch.context() as patch:
        patch.setattr(compose, "compose", compose_and_keep)
        result = run("draw", str(SAMPLES / f"{sample}.toml"), "-o", out)
        assert result.exit_code == 0, result.output
        files = {path.name: path.read_bytes() for path in sorted(Path(out).iterdir())}
    return Drawn(made[0], files)


@functools.cache
def worked(sample: str = "recipe-box", **changes: str | float) -> chain.Box:
    """Return a sample worked out with other values, each named `section__key`."""
    values = {name.replace("__", "."): value for name, value in changes.items()}
    text = (SAMPLES / f"{sample}.toml").read_text()
    return chain.work_out(reading.read(change.set_values(text, values), f"{sample}.toml"))


def composed(of: chain.Box, only: Sequence[str], page: str) -> Bundle:
    job = Job("a-box", of.file.title, chain.settings_line(of.file), of.file.units, "abc123")
    return compose.compose(job, box_sheets.drawings(of, only), paper.named(page))


# -- the samples ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("sample", DRAWN)
def test_every_sheet_of_a_sample_is_legible(sample: str) -> None:
    for sheet in drawn(sample).bundle.sheets:
        assert (sheet.name, faults(sheet)) == (sheet.name, [])


@pytest.mark.parametrize("sample", DRAWN)
def test_every_sheet_has_a_name_and_a_number_of_its_own_and_proves_its_scale(sample: str) -> None:
    sheets = drawn(sample).bundle.sheets
    names = [sheet.name for sheet in sheets]
    assert sorted(set(names)) == sorted(names)
    assert [sheet.number for sheet in sheets] == list(range(1, len(sheets) + 1))
    for sheet in sheets:
        assert {"calibration-square", "calibration-inches"} <= {group.name for group in sheet.groups()}


@pytest.mark.parametrize("sample", DRAWN)
def test_the_files_are_one_document_and_a_page_a_sheet(sample: str) -> None:
    made = drawn(sample)
    assert set(made.files) == {f"{sample}.pdf", *(f"{sheet.name}.svg" for sheet in made.bundle.sheets)}


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("sample", DRAWN)
def test_a_part_is_found_by_its_id(sample: str, part: str) -> None:
    files = drawn(sample).files
    holding = [name for name in files if name.endswith(".svg") and f'id="{part}"'.encode() in files[name]]
    family = part.partition("-")[0]
    if family == "calibration":
        assert len(holding) == len(files) - 1
    else:
        assert holding
        assert all(name.startswith(f"{sample}-{family}-") for name in holding)


@pytest.mark.parametrize("sample", NAMES)
def test_sheets_come_in_the_order_of_work(sample: str) -> None:
    """Carved and fitted while boards are flat, before the box is glued: groove, bottom and shell before the lid."""
    made = box_sheets.drawings(worked(sample))
    assert tuple(dict.fromkeys(drawing.jig or "box" for drawing in made)) == FAMILIES


# -- some of them --------------------------------------------------------------------------------------------------


def names(only: Sequence[str], of: chain.Box | None = None) -> list[str]:
    return [box_sheets.full_name(drawing) for drawing in box_sheets.drawings(of or worked(), only)]


@pytest.mark.slow
@pytest.mark.parametrize("family", FAMILIES)
def test_sheets_are_asked_for_by_their_family(family: str) -> None:
    found = names([family])
    assert found
    assert all(name.startswith(f"{family}-") for name in found)


@pytest.mark.parametrize(
    ("only", "found"),
    [
        (["handle-blank"], ["handle-blank"]),
        (["blank"], ["handle-blank"]),
        (["rabbets"], ["panel-rabbets", "lid-rabbets"]),
        (["lid-rabbets"], ["lid-rabbets"]),
        (["sled-key", "plate"], ["sled-plate", "sled-key"]),
    ],
)
def test_sheets_are_asked_for_one_by_one(only: list[str], found: list[str]) -> None:
    """By the full name, or by the bare one, which may be that of more than one; always in the order of work."""
    assert names(only) == found


@pytest.mark.parametrize(
    ("asked", "near"),
    [("handle-blnk", "'handle-blank'"), ("sledd", "'sled'"), ("shell-carvings", "'shell-carving'")],
)
def test_a_sheet_that_there_is_not_gets_near_names(asked: str, near: str) -> None:
    with pytest.raises(CannotRead, match=f"there is no sheet called '{asked}'; did you mean .*{near}"):
        names([asked])


def test_a_wrong_name_is_said_and_nothing_written(tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = run("draw", str(SAMPLES / "recipe-box.toml"), "--only", "handle-blnk", "-o", str(out))
    assert result.exit_code == 2
    assert "--only: there is no sheet called 'handle-blnk'; did you mean 'handle-blank'" in result.output
    assert not out.exists()


# -- a part that is stopped ----------------------------------------------------------------------------------------


def stopped_file(folder: Path) -> Path:
    """Write a box whose handle is too low for its holes: 40 mm, of which a hole takes 38.6 and the foot 6."""
    path = folder / "low-handle.toml"
    path.write_text(change.set_values((SAMPLES / "recipe-box.toml").read_text(), {"handle.height": 40}))
    return path


def test_a_stopped_box_is_not_drawn_and_what_can_be_is_named(tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = run("draw", str(stopped_file(tmp_path)), "-o", str(out))
    said = " ".join(result.output.split())
    assert result.exit_code == 1
    assert "stop: handle.height: a handle 40 mm high has −7.16 mm of wood over its holes" in said
    assert "nothing was drawn; what the stops leave can be" in said
    for family in ("stock", "sled", "stops", "panel", "shell", "lid"):
        assert f"--only {family}" in said
    assert "--only handle" not in said
    assert not out.exists()


def test_the_rest_of_a_stopped_box_is_drawn_by_name(tmp_path: Path) -> None:
    """The sheet is there, and the exit code still says that the box can't be built."""
    out = tmp_path / "out"
    result = run("draw", str(stopped_file(tmp_path)), "--only", "sled-plate", "--format", "svg", "-o", str(out))
    assert [path.name for path in out.iterdir()] == ["low-handle-sled-plate.svg"]
    assert "stop: handle.height" in result.output
    assert result.exit_code == 1


@pytest.mark.parametrize("asked", ["handle", "handle-blank"])
def test_what_is_stopped_cant_be_asked_for(asked: str, tmp_path: Path) -> None:
    with pytest.raises(CannotBuild) as refused:
        box_sheets.drawings(chain.work_out(reading.load(stopped_file(tmp_path))), ["sled", asked])
    said = refused.value.says("mm")
    assert "it breaks through" in said or "they break through" in said
    assert f"{asked} can't be drawn before the stops are mended" in said


def test_a_box_without_a_part_has_no_sheets_of_it(tmp_path: Path) -> None:
    text = re.sub(r"\[(handle|shell|stock)\]\n(?:.+\n)+", "", (SAMPLES / "recipe-box.toml").read_text())
    made = box_sheets.drawings(chain.work_out(reading.read(text, "plain.toml")))
    assert {drawing.jig or "box" for drawing in made} == set(FAMILIES) - {"handle", "shell", "stock"}


# -- any box -------------------------------------------------------------------------------------------------------


@pytest.mark.slow
@settings(max_examples=6)
@given(
    sample=st.sampled_from(NAMES),
    length=st.floats(0.7, 1.8),
    width=st.floats(0.7, 1.8),
    fingers=st.integers(4, 12),
    thickness=st.floats(0.7, 1.4),
    species=st.sampled_from(["sugar maple", "black walnut", "yellow-poplar", "teak"]),
    family=st.sampled_from(FAMILIES),
    page=st.sampled_from(["A4", "Letter", "A3"]),
)
def test_any_box_is_refused_or_legible(
    sample: str,
    length: float,
    width: float,
    fingers: int,
    thickness: float,
    species: str,
    family: str,
    page: str,
) -> None:
    """One family of sheets a box, since a whole box takes too long to draw; sizes are shares of the sample's."""
    given_file = reading.load(SAMPLES / f"{sample}.toml")
    units: Units = given_file.units
    finger = round(given_file.box.height / fingers, 2)
    lengths = {
        "box.length": given_file.box.length * length,
        "box.width": given_file.box.width * width,
        "sides.thickness": given_file.sides.thickness * thickness,
        "joint.finger": finger,
        "joint.cutter": finger,
    }
    values: dict[str, str | float] = {name: f"{value:.2f} mm" for name, value in lengths.items()}
    text = (SAMPLES / f"{sample}.toml").read_text()
    try:
        of = chain.work_out(reading.read(change.set_values(text, values | {"sides.species": species}), "a-box.toml"))
        bundle = composed(of, [family], page)
    except CannotBuild as error:
        stops = [problem for problem in error.problems if problem.severity == "stop"]
        assert stops
        assert all(stop.says(units) and stop.suggests(units) for stop in stops)
    else:
        assert bundle.sheets
        assert [(sheet.name, faults(sheet)) for sheet in bundle.sheets if faults(sheet)] == []
