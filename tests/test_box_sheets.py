"""Every sheet of a whole box: legible, each under its own name, asked for by name, refused before a file is written."""

from __future__ import annotations

import functools
import re
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

import cli
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.box import chain, cover
from jigs.box import sheets as box_sheets
from jigs.boxfile import change, reading
from jigs.record import replace
from layout import make
from layout.draw import annotate
from layout.pages import pictures
from layout.sheet.marks import Bundle
from tests.conftest import all_pages
from tests.legibility import faults
from tests.once import made_once

SAMPLES = Path(__file__).parent.parent / "samples"
NAMES = ("recipe-box", "recipe-box-inch")
DRAWN = (NAMES[0], pytest.param(NAMES[1], marks=pytest.mark.slow))
FAMILIES = ("box", "stock", "sled", "stops", "panel", "shell", "lid", "handle")
READING = ("cover", "readings")
CARDS = (
    *("stock", "make-sled", "set-sled", "cut-fingers", "groove", "bottom", "shell", "glue", "lid", "handle", "finish"),
)
PARTS = (
    "sled-plate",
    "stops-strip",
    "handle-outline",
    "handle-hole-1",
    "shell-ribs",
    "calibration-square",
    "calibration-left",
)
"""The ids by which others find a part in the files."""


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, list(words))


@dataclass(frozen=True, slots=True)
class Drawn:
    """What `jigleaf draw` made of a sample: the sheets before they were written, and the files."""

    bundle: Bundle
    files: dict[str, bytes]
    said: str


@functools.cache
def drawn(sample: str) -> Drawn:
    """Draw a sample as the command does; once in a run, because a whole box takes long."""
    return made_once(sample, lambda: _drawn(sample))


def _drawn(sample: str) -> Drawn:
    made: list[make.Made] = []
    drawing = make.draw

    def draw_and_keep(job: make.Job, only: Sequence[str] = (), printing: make.Printing = make.USUAL) -> make.Made:
        made.append(drawing(job, only, printing))
        return made[-1]

    with tempfile.TemporaryDirectory() as out, pytest.MonkeyPatch.context() as patch:
        patch.setattr(make, "draw", draw_and_keep)
        result = run("draw", str(SAMPLES / f"{sample}.toml"), "-o", out)
        assert result.exit_code == 0, result.output
        files = {path.name: path.read_bytes() for path in sorted(Path(out).iterdir())}
    return Drawn(all_pages((made[0].cards, made[0].templates)), files, result.stdout)


@functools.cache
def worked(sample: str = "recipe-box", **changes: str | float) -> chain.Box:
    """Return a sample worked out with other values, each named `section__key`."""
    values = {name.replace("__", "."): value for name, value in changes.items()}
    text = (SAMPLES / f"{sample}.toml").read_text()
    return chain.work_out(reading.read(change.set_values(text, values), f"{sample}.toml"))


def composed(of: chain.Box, only: Sequence[str], page: str) -> Bundle:
    head = replace(make.head_of_box(of.file), prefix="a-box", codes=())
    return all_pages(make.compose(head, box_sheets.sheets(of, only), make.Printing(paper=page), only))


# -- the samples ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("sample", DRAWN)
def test_the_files_are_two_documents_and_a_page_a_sheet(sample: str) -> None:
    made = drawn(sample)
    pages = {f"{sheet.name}.svg" for sheet in made.bundle.sheets}
    assert set(made.files) == {f"{sample}-cards.pdf", f"{sample}-templates.pdf", *pages}


@pytest.mark.parametrize("sample", DRAWN)
def test_one_line_says_what_a_person_needs(sample: str) -> None:
    made = drawn(sample)
    first = made.said.splitlines()[0]
    count, page = len(made.bundle.sheets), made.bundle.sheets[0].paper.name
    assert first.startswith(f"{count} pages {page}: print cards on both sides, templates at 100 %, one side; ")


@pytest.mark.parametrize("sample", DRAWN)
def test_every_page_has_a_number_of_its_own(sample: str) -> None:
    sheets = drawn(sample).bundle.sheets
    assert [sheet.number for sheet in sheets] == list(range(1, len(sheets) + 1))


@pytest.mark.parametrize("part", PARTS)
@pytest.mark.parametrize("sample", DRAWN)
def test_a_part_is_found_by_its_id(sample: str, part: str) -> None:
    files = drawn(sample).files
    holding = [name for name in files if name.endswith(".svg") and f'id="{part}"'.encode() in files[name]]
    assert holding
    assert all("-template-" in name or name.endswith("-proof.svg") for name in holding)
    if part.startswith("calibration-"):
        assert len(holding) == len([n for n in files if n.endswith(".svg") and ("-template-" in n or "-proof" in n)])


@pytest.mark.parametrize("sample", NAMES)
def test_cards_come_in_the_order_of_work(sample: str) -> None:
    """Carved and fitted while boards are flat, before the box is glued: groove, bottom and shell before the lid."""
    assert [card.name for card in box_sheets.sheets(worked(sample)).cards] == [*READING, *CARDS]


# -- some of them --------------------------------------------------------------------------------------------------


def names(only: Sequence[str], of: chain.Box | None = None) -> list[str]:
    return [sheet.name.removeprefix("a-box-") for sheet in composed(of or worked(), only, "A4").sheets]


@pytest.mark.slow
@pytest.mark.parametrize("family", FAMILIES)
def test_pages_are_asked_for_by_their_family(family: str) -> None:
    found = names([family])
    wanted = {card.name for card in box_sheets.sheets(worked()).cards if card.jig == family}
    cards = [name for name in found if name.startswith(("card-", "r1-", "r2-"))]
    assert {re.sub(r"^(?:card-\d+|r\d)-|-back$", "", name) for name in cards} == wanted


def test_a_page_asked_for_alone_keeps_its_number() -> None:
    whole = [card.name for card in box_sheets.sheets(worked()).cards if not card.reading]
    assert names(["groove"])[0] == f"card-{whole.index('groove') + 1}-groove"
    assert [name for name in names(["groove"]) if name.startswith("template")] == ["template-1"]


def laid_out(only: Sequence[str], length: float) -> list[str]:
    """Return the families of the views that are laid out for pages of a box so long; what is kept is not among them.

    Its other sizes go with its length, so that no other test has had any of its pages kept.
    """
    found: list[str] = []
    laying = annotate.annotate

    def counted(prefix: str, *args: Any, **words: Any) -> annotate.Annotated:
        found.append(prefix.split("-", maxsplit=1)[0])
        return laying(prefix, *args, **words)

    shares = {
        "box.length": 1,
        "handle.length": 0.42,
        "sides.thickness": 0.055,
        "lid.overhang": 0.021,
        "lid.plug": 0.029,
    }
    sizes = {key: f"{length * share:.2f}" for key, share in shares.items()}
    file = make.box((SAMPLES / "recipe-box.toml").read_text(encoding="utf-8"), "recipe-box.toml", sizes)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(annotate, "annotate", counted)
        patch.setattr(pictures, "annotate", counted)
        make.draw(file, only)
    return found


def test_no_other_page_is_laid_out_than_those_asked_for() -> None:
    alone = laid_out(["handle"], 217.3)
    every = laid_out([], 217.9)
    assert set(alone) == {"handle"}
    assert {"handle", "lid", "sled", "box"} <= set(every)
    assert len(alone) < len(every) / 2
    assert laid_out(["handle"], 217.9) == [], "what is kept is not laid out again"


@pytest.mark.parametrize("only", [["handle"], ["lid", "cut-fingers"]])
def test_the_picture_of_the_cover_is_drawn_for_the_cover_alone(
    only: list[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    drawn: list[object] = []
    monkeypatch.setattr(cover, "page", lambda *args, **words: drawn.append(args))
    box_sheets.sheets(worked(), only)
    assert drawn == []


@pytest.mark.parametrize("asked", ["cover", "readings", "box", "lid"])
def test_the_pages_to_read_are_drawn_where_they_are_asked_for(asked: str) -> None:
    """And are then what they are among all; where they are not, they keep their names, titles and numbers."""
    box = worked()
    whole, some = box_sheets.sheets(box), box_sheets.sheets(box, [asked])
    drawn = {"cover": ["cover"], "readings": ["readings"], "box": READING}.get(asked, [])
    assert [card.name for card in some.cards if card.bands and card.reading] == list(drawn)
    assert [card for card in some.cards if card.bands] == [
        card for card in whole.cards if not card.reading or card.name in drawn
    ]
    assert [(card.name, card.title, card.jig, card.reading) for card in some.cards] == [
        (card.name, card.title, card.jig, card.reading) for card in whole.cards
    ]
    assert some.templates == whole.templates
    if asked in READING:
        assert box_sheets.listed(box, [asked]) == some


@pytest.mark.parametrize(
    ("asked", "near"),
    [("handel", "'handle'"), ("sledd", "'sled'"), ("grove", "'groove'")],
)
def test_a_sheet_that_there_is_not_gets_near_names(asked: str, near: str) -> None:
    with pytest.raises(CannotRead, match=f"there is no page called '{asked}'; did you mean .*{near}"):
        names([asked])


def test_a_wrong_name_is_said_and_nothing_written(tmp_path: Path) -> None:
    out = tmp_path / "out"
    result = run("draw", str(SAMPLES / "recipe-box.toml"), "--only", "handel", "-o", str(out))
    assert result.exit_code == 2
    assert "--only: there is no page called 'handel'; did you mean 'handle'" in result.output
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
    assert "Error: handle.height: The holes cut through the crest of a handle 40 mm high" in said
    assert "Nothing was drawn; what the errors leave can be" in said
    for family in ("stock", "sled", "stops", "panel", "shell", "lid"):
        assert f"--only {family}" in said
    assert "--only handle" not in said
    assert not out.exists()


def test_the_rest_of_a_stopped_box_is_drawn_by_name(tmp_path: Path) -> None:
    """The page is there, and the exit code still says that the box can't be built."""
    out = tmp_path / "out"
    result = run("draw", str(stopped_file(tmp_path)), "--only", "cut-fingers", "--format", "svg", "-o", str(out))
    assert sorted(path.name for path in out.iterdir()) == [
        "low-handle-cut-fingers-card-4-cut-fingers.svg",
        "low-handle-cut-fingers-proof.svg",
        "low-handle-cut-fingers-template-1.svg",
    ]
    assert "Error: handle.height" in result.output
    assert result.exit_code == 1


@pytest.mark.parametrize("asked", ["handle"])
def test_what_is_stopped_cant_be_asked_for(asked: str, tmp_path: Path) -> None:
    with pytest.raises(CannotBuild) as refused:
        box_sheets.sheets(chain.work_out(reading.load(stopped_file(tmp_path))), ["sled", asked])
    said = refused.value.says("mm")
    assert "The holes cut through the crest" in said
    assert f"{asked.capitalize()} can't be drawn before the errors are corrected" in said


def test_a_box_without_a_part_has_no_sheets_of_it(tmp_path: Path) -> None:
    text = re.sub(r"\[(handle|shell|stock)\]\n(?:.+\n)+", "", (SAMPLES / "recipe-box.toml").read_text())
    made = box_sheets.sheets(chain.work_out(reading.read(text, "plain.toml")))
    assert {card.jig for card in made.cards} == set(FAMILIES) - {"handle", "shell", "stock"}


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
