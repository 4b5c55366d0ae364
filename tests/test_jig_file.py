"""The jig file: what the sheets of a single jig give back, and what every command makes of it."""

from __future__ import annotations

import re
import shlex
import tomllib
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

import cli
from jigs.base.catalogue import catalogue, find
from jigs.base.errors import CannotRead
from jigs.base.kinds import Choice, Flag, Humidity, Kind, Length, Rings, Temperature
from jigs.base.lengths import Units
from jigs.boxfile import jig_file
from jigs.boxfile.jig_file import JigSettings
from tests.conftest import examples
from tests.soundness import UNITS
from tests.test_properties import example_of, settings_of

NAMES = sorted(catalogue())
SLED = """jig = "sled"
units = "mm"
[settings]
finger = 10
cutter = 10.02
board = 90
thickness = 12
"""


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, list(words))


def said(result: Result) -> str:
    assert "Traceback" not in result.output
    return " ".join(result.stderr.split())


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    (tmp_path / "sled.toml").write_text(SLED)
    return tmp_path


# -- there and back ------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=examples(40))
@given(data=st.data(), units=st.sampled_from(UNITS))
def test_any_settings_come_back_from_a_jig_file(name: str, data: st.DataObject, units: Units) -> None:
    """To the last bit: a length that is off by a hair makes another revision mark of the sheets."""
    everything = {key: value for key, value in data.draw(settings_of(name, units)).items() if value is not None}
    example = example_of(name)
    chosen = {key: value for key, value in everything.items() if key in example}
    usual = {key: value for key, value in everything.items() if key not in example}
    made = JigSettings(name, units, chosen, usual)
    text = jig_file.text(made)
    again = jig_file.read(text, "jig.toml")
    assert again == made
    assert jig_file.text(again) == text


def _is_a_length(mm: float) -> bool:
    return mm == 0 or abs(mm) > 1e-9


LENGTHS = st.floats(-1000, 1000).filter(_is_a_length) | st.fractions(0, 40, max_denominator=64)
KINDS: Mapping[type[Kind], tuple[Kind, st.SearchStrategy[Any]]] = {
    Length: (
        Length("a length", -1e6, 1e6),
        st.floats(-1000, 1000).filter(_is_a_length) | st.fractions(0, 40, max_denominator=64),
    ),
    Temperature: (Temperature("temperature", -30, 60), st.decimals(-30, 140, places=2)),
    Humidity: (Humidity("humidity", 0, 100), st.decimals(0, 100, places=2)),
    Rings: (Rings("rings", 0, 90), st.sampled_from([0, 90]) | st.floats(0, 90)),
}


@pytest.mark.parametrize("kind", list(KINDS))
@given(data=st.data(), units=st.sampled_from(UNITS))
def test_what_a_kind_writes_it_reads_as_the_same(kind: type[Kind], data: st.DataObject, units: Units) -> None:
    one, drawn = KINDS[kind]
    value = float(data.draw(drawn))
    if kind is Temperature and units == "in":  # as it is kept once it was typed
        value = float(str(one.parsed(value, "in")))
    written = one.written(value, units)
    if isinstance(written, float | int):
        assert tomllib.loads(f"x = {written!r}")["x"] == written
    assert one.parsed(written, units) == value


@pytest.mark.parametrize(
    ("mm", "units", "written"),
    [
        (10.0, "mm", 10),
        (10.02, "mm", 10.02),
        (9.525, "mm", 9.525),
        (9.525, "in", "3/8"),
        (190.5, "in", "7-1/2"),
        (127.0, "in", 5),
        (0.1016, "in", 0.004),
        (9.5123, "in", 0.3745),
        (10.0, "in", "10 mm"),
        (-12.7, "in", "-1/2"),
        (0.0, "in", 0),
        (254 / 30, "in", "8.466666666666667 mm"),
    ],
)
def test_a_length_is_written_as_a_shop_writes_it(mm: float, units: Units, written: object) -> None:
    found = Length("a length", -1000, 1000).written(mm, units)
    assert (found, type(found)) == (written, type(written))


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("units", UNITS)
def test_a_jig_file_says_what_it_is_and_how_to_draw_it(name: str, units: Units) -> None:
    jig = find(name)
    text = jig_file.text(JigSettings(name, units, example_of(name), jig.settings(example_of(name), units)))
    first, *rows = text.splitlines()
    assert first.startswith("# A jig file: ")
    assert first.endswith(f"To draw it: jigleaf draw {name}.toml")
    assert len(first) <= 80
    assert rows[:2] == [f'jig = "{name}"', f'units = "{units}"']
    for key in example_of(name):
        assert re.search(rf"^{key} = .*  # \S", text, re.M), f"{key} is not explained"


def test_text_in_a_setting_stays_text() -> None:
    """Quotes and backslashes are written so that TOML reads them as they were."""
    words = 'a "quoted" \\ back'
    assert tomllib.loads(f"x = {jig_file._literal(words)}") == {"x": words}
    assert isinstance(Choice("x", ("a",)).written("a", "mm"), str)
    assert Flag("x").written(False, "in") is False


# -- the commands --------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["trammel", "taper", "lid"])
@pytest.mark.parametrize("units", UNITS)
def test_a_jig_drawn_from_what_its_sheet_gives_back_is_the_same(name: str, units: Units, here: Path) -> None:
    example = shlex.split(find(name).example)
    words = [word if word.startswith("--") or not re.fullmatch(r"[\d.]+", word) else f"{word} mm" for word in example]
    assert run("jig", name, *words, "--units", units, "--format", "svg", "-o", "made").exit_code == 0
    sheet = sorted((here / "made").iterdir())[0]
    assert run("reopen", str(sheet), "-o", f"{name}.toml").exit_code == 0
    assert run("draw", f"{name}.toml", "--format", "svg", "-o", "again").exit_code == 0
    assert {path.name: path.read_bytes() for path in (here / "again").iterdir()} == {
        path.name: path.read_bytes() for path in (here / "made").iterdir()
    }


def test_a_jig_file_is_edited_and_drawn_again(here: Path) -> None:
    (here / "sled.toml").write_text(SLED.replace("10.02", '"10.05 mm"  # measured anew'))
    assert run("draw", "sled.toml", "--only", "set-sled", "--format", "svg", "-o", "made").exit_code == 0
    sheet = sorted((here / "made").iterdir())[0]
    assert jig_file.read(run("reopen", str(sheet)).stdout, "it").given["cutter"] == 10.05


def test_a_default_that_is_edited_counts(here: Path) -> None:
    (here / "sled.toml").write_text(f"{SLED}[defaults]\nclearance = 0.2\nplate = 6\n")
    result = run("check", "sled.toml")
    assert (result.exit_code, "clearance 0.2 mm" in result.stdout, "plate" in result.stdout) == (0, True, False)


def test_check_says_what_becomes_of_a_jig(here: Path) -> None:
    result = run("check", "sled.toml")
    assert result.exit_code == 0
    assert result.stdout.startswith("INDEXING SLED. Sizes in mm.\nfinger 10 mm; cutter 10.02 mm; board 90 mm;")
    assert "CAN BE BUILT." in result.stdout
    assert max(map(len, result.stdout.splitlines())) <= 80
    refused = run("check", "sled.toml", "--set", "cutter=12")
    assert refused.exit_code == 1
    assert "CAN'T BE BUILT AS ASKED: 1 error." in refused.stdout
    assert "The cutter makes a socket of 12 mm" in refused.stdout
    assert '"gap": 9.92' in run("check", "sled.toml", "--json").stdout
    assert "--details is for a box, and sled.toml is a jig file" in said(run("check", "sled.toml", "--details"))
    assert sorted(path.name for path in here.iterdir()) == ["sled.toml"]


def test_reopen_takes_a_jig_file_as_it_takes_a_sheet(here: Path) -> None:
    assert run("reopen", "sled.toml").stdout == SLED
    words = ["--set", "cutter=10.1", "--only", "set-sled", "--format", "svg", "-o", "made"]
    assert run("reopen", "sled.toml", *words).exit_code == 0
    sheet = sorted((here / "made").iterdir())[0]
    assert jig_file.read(run("reopen", str(sheet)).stdout, "it").given["cutter"] == 10.1


def test_a_class_wants_a_box_file_and_says_what_to_do_with_a_jig_file(here: Path) -> None:
    (here / "class.csv").write_text("name\nAnn\n")
    result = run("class", "class.csv", "--box", "sled.toml", "-o", "out")
    assert result.exit_code == 2
    assert (
        "sled.toml is a jig file, not a box file: 'jigleaf draw' draws its jig; 'jigleaf start' writes a box"
        in said(result)
    )


@pytest.mark.parametrize(
    ("before", "after", "reason"),
    [
        ('"sled"', '"slad"', "jig.toml, line 1: jig: there is no jig called 'slad'; did you mean 'sled'"),
        ('"sled"', "3", "line 1: jig: must be the name of a jig in quotes, not a number"),
        ('"mm"', '"cm"', "line 2: units: must be 'mm' or 'in', not 'cm'"),
        ("finger =", "fingr =", "line 4: settings.fingr: unknown key; did you mean 'finger'"),
        ("10.02", '"ten"', "line 5: settings.cutter: 'ten' has no number in it"),
        ("board = 90\n", "", "line 3: settings: sled needs board (width of the boards in hand)"),
        ("[settings]", "[setings]", "unknown key; did you mean 'settings'"),
        ("[settings]", "", "line 4: finger: unknown key; it belongs in [settings]"),
        ("12\n", "12\nlayout = 'rap'\n", "line 8: settings.layout: must be 'rip', 'keep' or 'centre', not 'rap'"),
        ("12\n", "12\n[defaults]\nwhole = 1\n", "line 9: defaults.whole: 1 can't be read; write true or false"),
        ("[settings]", "settings = 3\n[x]", "line 3: settings: must be a section with keys, not a number"),
        ('"sled"', "sled", 'line 1, column 7: this is neither a number nor text in quotes; write jig = "sled"'),
    ],
)
def test_a_jig_file_that_cannot_be_read_ends_with_2(before: str, after: str, reason: str, here: Path) -> None:
    assert before in SLED
    (here / "jig.toml").write_text(SLED.replace(before, after))
    for command in ("check", "draw", "tune", "reopen"):
        result = run(command, "jig.toml")
        assert (result.exit_code, result.stdout) == (2, ""), command
        assert reason in said(result)
    assert sorted(path.name for path in here.iterdir()) == ["jig.toml", "sled.toml"]


def test_every_fault_is_named_and_in_the_order_of_its_lines(here: Path) -> None:
    (here / "jig.toml").write_text(SLED.replace("10.02", '"x"').replace("90", "true") + "colour = 3\n")
    rows = run("check", "jig.toml").stderr.splitlines()
    assert [row.split(":")[1].strip() for row in rows if row.startswith("jig.toml")] == [
        "settings.cutter",
        "settings.board",
        "settings.colour",
    ]


def test_settings_that_a_jig_never_had_are_refused_whoever_asks() -> None:
    with pytest.raises(CannotRead, match="settings that sled has no more: colour"):
        JigSettings("sled", "mm", {"colour": "red"}).chosen(find("sled"))
    with pytest.raises(CannotRead, match="sled: finger can't be 'red'"):
        JigSettings("sled", "mm", {"finger": "red"}).chosen(find("sled"))
