"""Every command of the README, run as printed; where its output is printed, that is compared."""

from __future__ import annotations

import re
import shlex
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from cli import main

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text()


def _blocks() -> Iterator[list[str]]:
    """Yield the indented blocks of the README, without their indent."""
    for block in re.findall(r"(?:^    .*\n)+", README, flags=re.MULTILINE):
        yield [row[4:] for row in block.splitlines()]


def _run(command: str, folder: Path, monkeypatch: pytest.MonkeyPatch) -> tuple[int, str]:
    monkeypatch.chdir(folder)
    ran = CliRunner().invoke(main, shlex.split(command)[1:])
    return ran.exit_code, ran.output


PLAIN = [row for block in _blocks() for row in block if row.startswith("jigleaf ")]
SHOWN = [block for block in _blocks() if block[0].startswith("$ jigleaf ")]


def test_the_readme_has_commands() -> None:
    assert len(PLAIN) >= 15
    assert len(SHOWN) >= 2


def test_every_command_runs_as_printed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """In the order of the page, in one folder, as a reader would; only the class is left to its own tests."""
    shutil.copytree(ROOT / "samples", tmp_path / "samples", ignore=shutil.ignore_patterns("*.pdf", "*.png"))
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "config"))
    for command in PLAIN:
        if not command.startswith("jigleaf class"):
            code, said = _run(command, tmp_path, monkeypatch)
            assert code == 0, f"{command}\n{said}"
    original = (tmp_path / "samples" / "recipe-box.toml").read_bytes()
    assert (tmp_path / "again.toml").read_bytes() == original


@pytest.mark.parametrize("block", SHOWN, ids=lambda block: block[0][:40])
def test_what_is_printed_is_what_is_said(block: list[str], monkeypatch: pytest.MonkeyPatch) -> None:
    command, *expected = block
    _, said = _run(command.removeprefix("$ "), ROOT, monkeypatch)
    assert said.splitlines() == expected
