"""The commands as a person meets them: what is printed where, exit codes, files, wrong input."""

from __future__ import annotations

import contextlib
import json
import os
import re
import shlex
import subprocess
import sys
from pathlib import Path
from typing import Any
from unicodedata import east_asian_width

import click
import pytest
from click.testing import CliRunner, Result

import cli
from jigs.base.catalogue import catalogue
from jigs.base.wrapping import WIDTH

ROOT = Path(cli.__file__).parent

SLED = ["jig", "sled", "--finger", "10", "--cutter", "10.02", "--board", "90", "--thickness", "12"]
INCHES = ["jig", "sled", "--units", "in", "--finger", "3/8", "--cutter", ".3745", "--board", "4 1/4"]
INCHES += ["--thickness", "1/2", "--paper", "Letter"]


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, list(words))


def changed(option: str, value: str) -> list[str]:
    words = list(SLED)
    words[words.index(option) + 1] = value
    return words


# -- what works ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("command", [SLED, pytest.param(INCHES, marks=pytest.mark.slow)])
def test_one_command_makes_the_sheets(command: list[str], tmp_path: Path) -> None:
    result = run(*command, "--list", "-o", str(tmp_path))
    assert result.exit_code == 0
    *rows, told = result.stdout.splitlines()
    listed = [Path(row) for row in rows]
    assert sorted(listed) == sorted(tmp_path.iterdir())
    pages = {"sled-card-2-set-sled.svg", "sled-template-1.svg", "sled-proof.svg"}
    assert {"sled-cards.pdf", "sled-templates.pdf", *pages} <= {path.name for path in listed}
    assert re.match(r"\d pages (?:A4|Letter): print cards on both sides, templates at 100 %, one side", told)
    assert result.stderr == ""  # there is nothing to say of it
    assert all(len(row) <= 80 for row in result.stderr.splitlines())


def test_only_some_sheets_and_formats(tmp_path: Path) -> None:
    result = run(*SLED, "-o", str(tmp_path), "--only", "stick-end", "--format", "svg", "--date", "2026-11-25")
    assert result.exit_code == 0
    names = {path.name for path in tmp_path.iterdir()}
    assert names == {"sled-stick-end-proof.svg", "sled-stick-end-template-1.svg"}
    assert "2026-11-25" in (tmp_path / "sled-stick-end-template-1.svg").read_text()


@pytest.mark.slow
def test_png(tmp_path: Path, cairo: Any) -> None:
    del cairo
    assert run(*SLED, "-o", str(tmp_path), "--only", "stick-end", "--format", "png").exit_code == 0
    assert (tmp_path / "sled-stick-end-template-1.png").read_bytes().startswith(b"\x89PNG")


def test_numbers_as_json() -> None:
    data = json.loads(run(*SLED, "--json").stdout)
    assert data["settings"]["clearance"] == 0.1
    assert data["numbers"]["over_all"] == 29.86
    assert data["problems"] == []
    assert (data["numbers"]["fingers"], data["numbers"]["sockets"], data["numbers"]["count"]) == (5, 4, 9)


def test_a_refused_job_still_prints_json_and_ends_with_1() -> None:
    result = run(*changed("--finger", "8"), "--json")
    assert result.exit_code == 1
    data = json.loads(result.stdout)
    assert data["numbers"] is None
    assert data["problems"][0]["where"] == "finger"


def test_the_catalogue() -> None:
    assert "sled" in run("jigs").stdout
    sled = next(jig for jig in json.loads(run("jigs", "--json").stdout) if jig["name"] == "sled")
    finger = sled["parameters"][0]
    assert finger == {
        "name": "finger",
        "kind": "length",
        "help": "finger width",
        "unit": "mm",
        "least": 3,
        "most": 60,
        "required": True,
        "default": None,
        "default_inches": None,
    }


@pytest.mark.parametrize(
    "words", [[], *([name] for name in cli.main.commands), *(["jig", name] for name in catalogue())]
)
def test_help_fits_80_columns_and_its_example_can_be_typed(words: list[str]) -> None:
    result = run(*words, "--help")
    assert result.exit_code == 0
    assert all(len(row) <= WIDTH for row in result.stdout.splitlines())
    shown = re.split(r"Examples?:\n", result.stdout, maxsplit=1)[1].partition("\n\n")[0].replace("\\\n", "")
    for example in shown.splitlines():
        _can_be_typed(example, words)


def _can_be_typed(example: str, words: list[str]) -> None:
    program, *typed = shlex.split(example)
    assert program == "jigleaf"
    assert typed[: len(words)] == words
    command: click.Command = cli.main
    with click.Context(command) as context:
        while isinstance(command, click.Group):
            found = command.get_command(context, typed.pop(0))
            assert found is not None
            command = found
        command.make_context("example", typed)  # raises where an option is not there or one is missing


# -- what does not -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("option", "value", "code", "says"),
    [
        ("--finger", "nan", 2, "finite"),
        ("--finger", "", 2, "is empty"),
        ("--finger", "3/0", 2, "zero below the stroke"),
        ("--finger", "1e9", 2, "exponent"),
        ("--finger", "ten", 2, "no number"),
        ("--finger", "3 /8", 2, "write 3/8"),
        ("--finger", "-5", 1, "from 3 mm to 60 mm; it is −5 mm"),
        ("--finger", "0", 1, "The nearest that works is 3 mm"),
        ("--board", "999999999", 1, "The nearest that works is 1200 mm"),
        ("--finger", "8", 1, "Use a cutter of 8 mm or less, or make the finger 9.92 mm"),
        ("--board", "25", 1, "2 fingers + 1 socket, the fewest that make a joint, are 29.86 mm wide"),
    ],
)
def test_bad_lengths(option: str, value: str, code: int, says: str, tmp_path: Path) -> None:
    result = run(*changed(option, value), "-o", str(tmp_path / "new"))
    assert result.exit_code == code
    said = " ".join(result.stderr.split())
    assert says in said
    assert option.strip("-") in said
    assert "Traceback" not in said
    assert not (tmp_path / "new").exists()


@pytest.mark.parametrize(
    ("typed", "mm"), [("95,5", 95.5), ("9 17/32 in", 242.09375), ("9-17/32in", 242.09375), ('9¾"', 247.65)]
)
def test_lengths_a_shop_would_write(typed: str, mm: float) -> None:
    data = json.loads(run(*changed("--board", typed), "--json").stdout)
    assert data["settings"]["board"] == pytest.approx(mm)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["jig", "slad"], "did you mean 'sled'"),
        (["jig", "sled", "--fingr", "10"], "--finger"),
        (["jig", "sled"], "Missing option '--finger'"),
        ([*SLED, "--paper", "A44"], "did you mean 'A4'"),
        ([*SLED, "--only", "make-slad"], "--only: there is no page called 'make-slad'; did you mean 'make-sled' or"),
        ([*SLED, "--date", "x" * 31], "at most 30 characters; this has 31"),
        (["jig", "sled", "--finger", "--cutter", "10"], "a length is missing; the next word is the option --cutter"),
        ([*SLED, "--format", "dwg"], "'pdf', 'svg', 'png'"),
        ([*SLED, "--machine", "lathe"], "'router table'"),
    ],
)
def test_what_cannot_be_read_ends_with_2(words: list[str], says: str) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert says in " ".join(result.stderr.split())
    assert all(len(row) <= 80 for row in result.stderr.splitlines())


@pytest.mark.slow
def test_some_sheets_do_not_take_the_place_of_all(tmp_path: Path) -> None:
    run(*SLED, "-o", str(tmp_path))
    whole = (tmp_path / "sled-templates.pdf").read_bytes()
    run(*SLED, "-o", str(tmp_path), "--only", "stick-end", "--only", "plate")
    assert (tmp_path / "sled-templates.pdf").read_bytes() == whole
    assert (tmp_path / "sled-stick-end-plate-templates.pdf").exists()


@pytest.mark.slow
def test_a_page_too_small_ends_with_1_and_writes_nothing(tmp_path: Path) -> None:
    result = run(*SLED, "-o", str(tmp_path / "new"), "--paper", "100x100 mm")
    assert result.exit_code == 1
    assert "The smallest paper that holds it is A4" in result.stderr
    assert not (tmp_path / "new").exists()


def test_messages_speak_the_units_of_the_command() -> None:
    words = list(INCHES)
    words[words.index("3/8")] = "1/4"
    said = " ".join(run(*words).stderr.split())
    assert "The cutter makes a socket of 0.3745 in, so the finger cannot be 1/4 in" in said


@pytest.mark.slow
def test_a_date_with_a_letter_the_font_lacks_is_refused(tmp_path: Path) -> None:
    result = run(*SLED, "-o", str(tmp_path / "new"), "--date", "木曜日")
    assert result.exit_code == 1
    assert "the sheet font has no" in result.stderr
    assert not (tmp_path / "new").exists()


# -- whole processes -----------------------------------------------------------------------------------------------


def process(*words: str, **environment: str) -> subprocess.CompletedProcess[str]:
    root = Path(cli.__file__).parent
    environ = {name: value for name, value in os.environ.items() if not name.startswith("PYTHON")}
    return subprocess.run(
        [sys.executable, str(root / "cli.py"), *words],
        env=environ | environment,
        capture_output=True,
        text=True,
        check=False,
        cwd=root,
    )


@pytest.mark.slow
def test_the_same_bytes_in_fresh_processes_with_other_hash_seeds(tmp_path: Path) -> None:
    made = []
    for seed in ("1", "4242"):
        folder = tmp_path / seed
        assert process(*SLED, "-o", str(folder), PYTHONHASHSEED=seed).returncode == 0
        made.append({path.name: path.read_bytes() for path in folder.iterdir()})
    assert made[0] == made[1]


@pytest.mark.slow
def test_a_folder_that_cannot_be_made_ends_with_3(tmp_path: Path) -> None:
    (tmp_path / "file").write_text("in the way")
    result = process(*SLED, "-o", str(tmp_path / "file" / "sheets"))
    assert result.returncode == 3
    assert "Can't write" in result.stderr
    assert "Traceback" not in result.stderr
    assert (tmp_path / "file").read_text() == "in the way"


# -- a terminal


def test_the_catalogue_is_a_line_each_within_80_columns() -> None:
    lines = run("jigs").stdout.splitlines()
    assert len(lines) == len(catalogue())
    assert max(map(len, lines)) <= WIDTH


COMMAND = "import sys; from cli import main; main()"


def on_a_terminal(*words: str, code: str = COMMAND, **environment: str) -> str:
    """Return what a person sees who types this at a terminal of 80 columns."""
    pty = pytest.importorskip("pty", reason="needs a Unix terminal")
    ours, theirs = pty.openpty()
    started = subprocess.Popen(
        [sys.executable, "-c", code, *words],
        stdin=theirs,
        stdout=theirs,
        stderr=theirs,
        cwd=ROOT,
        env={**os.environ, "TERM": "xterm", "COLUMNS": "80", **environment},
    )
    os.close(theirs)
    seen = b""
    with contextlib.suppress(OSError):  # the way a terminal says that nobody is left at the other end
        while read := os.read(ours, 1 << 16):
            seen += read
    os.close(ours)
    started.wait()
    return seen.decode()


TOO_WIDE = ("jig", "sled", "--finger", "8", "--cutter", "10", "--board", "90", "--thickness", "12")


@pytest.mark.slow
def test_the_first_word_of_a_message_is_painted_on_a_terminal_only() -> None:
    assert "\x1b[31m\x1b[1mError:\x1b[0m finger" in on_a_terminal(*TOO_WIDE, NO_COLOR="")
    assert "\x1b[" not in on_a_terminal(*TOO_WIDE, NO_COLOR="1")
    assert "\x1b[" not in on_a_terminal(*TOO_WIDE, NO_COLOR="", TERM="dumb")
    assert "\x1b[" not in process(*TOO_WIDE).stderr


def test_a_class_shows_how_far_it_is_and_how_long_it_takes() -> None:
    steps = """
import time
from layout.console import terminal
from layout.console import terminal
def make(told):
    for done in range(1, 4):
        time.sleep(1.05)  # the time left is worked out once a second
        told(done, 4 - (done == 3), "Marta \\x1b[7mof the long name 筆の長い名前の人 who is in the evening class")
terminal.with_progress(make)
"""
    seen = on_a_terminal(code=steps)
    bars = [line for line in re.split(r"[\r\n]", re.sub(r"\x1b\[[?\d]*[a-zA-Z]", "", seen)) if "drawing" in line]
    assert len(bars) == 4
    assert re.search(r"25%  00:00:0\d  Marta", bars[1])
    assert re.search(r"50%  00:00:0\d  Marta", bars[2])
    assert "100%" in bars[3]
    assert max(sum(2 if east_asian_width(letter) == "W" else 1 for letter in bar) for bar in bars) <= WIDTH
    assert "\x1b[7m" not in seen, "a name does not steer the terminal"
    silent = subprocess.run([sys.executable, "-c", steps], capture_output=True, text=True, check=True, cwd=ROOT)
    assert silent.stdout + silent.stderr == "", "a pipe is told the outcome alone"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("jigleaf jig s", {"scallop", "seasons", "shell", "sled", "sliding-lid", "stops"}),
        ("jigleaf jig sled --only s", {"sled", "set-sled", "stick-front", "stick-end"}),
        ("jigleaf jig sled --fing", {"--finger", "--fingers"}),
        ("jigleaf draw box.toml --only s", {"stock", "sled", "stops", "shell"}),
        ("jigleaf draw --paper l", {"Letter", "Legal"}),
        ("jigleaf reopen sheet.pdf --set joint.cl", {"joint.clearance=", "joint.clamp_reach="}),
        ("jigleaf jig nothing", set()),
        ("jigleaf calibrate --show ", set()),
    ],
)
def test_a_shell_completes_what_is_typed(typed: str, offered: set[str], tmp_path: Path) -> None:
    environment = {"COMP_WORDS": typed, "COMP_CWORD": str(len(re.findall(r" +", typed)))}
    environment |= {"_JIGLEAF_COMPLETE": "bash_complete", "XDG_CONFIG_HOME": str(tmp_path)}
    command = Path(sys.executable).with_name("jigleaf")  # the name a shell knows it by
    asked = subprocess.run([command], env=os.environ | environment, capture_output=True, text=True, check=True)
    assert {line.removeprefix("plain,") for line in asked.stdout.split()} == offered
    assert asked.stderr == ""


LIBRARIES = ("shapely", "numpy", "reportlab", "svgwrite", "pydantic", "tomlkit", "pypdf", "cairosvg")
"""Those that take long to load."""


@pytest.mark.parametrize(
    ("words", "needed"),
    [
        (["--help"], set()),
        (["jig", "sled", "--help"], set()),
        (["draw", "--help"], set()),
        ([*SLED, "--json"], {"numpy"}),
        ([*SLED, "--only", "stick-end", "--format", "svg"], {"shapely", "numpy", "reportlab", "svgwrite"}),
    ],
)
def test_a_command_loads_what_it_needs(words: list[str], needed: set[str], tmp_path: Path) -> None:
    """Help comes at once, and what only boxes need is loaded for a box."""
    code = f"import sys; sys.path.insert(0, {str(ROOT)!r}); import cli\n"
    code += f"try: cli.main({words!r})\nexcept SystemExit: pass\n"
    code += f"sys.exit(' '.join(m for m in {LIBRARIES!r} if m in sys.modules))"
    result = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False, cwd=tmp_path)
    assert set(result.stderr.splitlines()[-1].split() if result.stderr else ()) == needed
