"""Every command of the README, run as printed; where its output is printed, that is compared."""

from __future__ import annotations

import os
import re
import shlex
import shutil
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from cli import main
from tests import processes

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text()


def _blocks() -> Iterator[list[str]]:
    """Yield the indented blocks of the README, without their indent; an empty line within one belongs to it."""
    for block in re.findall(r"(?:^    .*\n|^\n(?=    ))+", README, flags=re.MULTILINE):
        yield [row[4:] for row in block.strip("\n").splitlines()]


def _run(command: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[int, str]:
    monkeypatch.chdir(folder)
    ran = CliRunner().invoke(main, shlex.split(command)[1:])
    return ran.exit_code, ran.output


PLAIN = [row for block in _blocks() for row in block if row.startswith("jigleaf ")]
CLASS = [row for row in PLAIN if row.startswith("jigleaf class ")]
BENCH = [row for row in PLAIN if row.startswith("jigleaf bench")]
SHOWN = [block[at:] for block in _blocks() for at, row in enumerate(block) if row.startswith("$ jigleaf ")]


def _copy_samples(to: Path) -> None:
    shutil.copytree(ROOT / "samples", to / "samples", ignore=shutil.ignore_patterns("*.pdf", "*.png"))
    shutil.copy(ROOT / "tests" / "patterns" / "leaf.svg", to)  # the reader's own drawing


def test_the_readme_has_commands() -> None:
    assert len(PLAIN) >= 15
    assert len(SHOWN) >= 2


@pytest.mark.slow
def test_every_command_runs_as_printed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In the order of the page, in one folder, as a reader would."""
    _copy_samples(tmp_path)
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    for command in PLAIN:
        if command not in (*CLASS, *BENCH):
            code, said = _run(command, tmp_path, monkeypatch)
            assert code == 0, f"{command}\n{said}"
    original = (tmp_path / "samples" / "recipe-box.toml").read_bytes()
    assert (tmp_path / "again.toml").read_bytes() == original


@pytest.mark.slow
def test_the_class_is_made_as_printed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """By itself, since it takes as long as all the others; what the page says is there, is."""
    _copy_samples(tmp_path)
    [command] = CLASS
    code, said = _run(command, tmp_path, monkeypatch)
    assert code == 0, said
    people = (ROOT / "samples" / "class.csv").read_text().splitlines()[1:]
    made = {path.name for path in (tmp_path / "class").iterdir()}
    assert {"plan.pdf", "index.html", "class.zip", "summary.json"} <= made
    for kind in ("-cards.pdf", "-templates.pdf"):
        own = {name.removesuffix(kind) for name in made if name.endswith(kind) and not name.startswith("all-")}
        assert len(own) == len(people)
        assert {f"{name}.html" for name in own} <= made


@pytest.mark.slow
def test_the_bench_starts_as_printed(tmp_path: Path) -> None:
    _copy_samples(tmp_path)
    [command] = BENCH
    with processes.bench(shlex.split(command)[2], tmp_path) as (running, address):
        assert address.startswith("http://127.0.0.1:")
        running.send_signal(signal.SIGINT)
        assert running.wait(timeout=30) == 0


@pytest.mark.parametrize("block", SHOWN, ids=lambda block: block[0][:40])
def test_what_is_printed_is_what_is_said(block: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    command, *expected = block
    _, said = _run(command.removeprefix("$ "), ROOT, monkeypatch)
    assert said.splitlines() == expected


def test_the_line_for_the_shell_completes(tmp_path: Path) -> None:
    bash = shutil.which("bash") or pytest.skip("needs bash")
    [line] = [row for block in _blocks() for row in block if "_source jigleaf" in row]
    beside = Path(sys.executable).parent
    said = subprocess.run(
        [bash, "-c", f"{line}; complete -p jigleaf"],
        env=os.environ | {"PATH": f"{beside}{os.pathsep}{os.environ['PATH']}"},
        cwd=tmp_path,
        capture_output=True,
        text=True,
        check=True,
    )
    assert said.stderr == ""
    assert "-F _jigleaf_completion" in said.stdout
