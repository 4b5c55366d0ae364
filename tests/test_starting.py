"""A new box file: written whole, or asked for."""

from __future__ import annotations

import json
import os
import select
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest
from click.testing import CliRunner

from cli import main
from jigs import box, box_changes, boxfile, starting
from jigs.errors import CannotBuild, CannotRead
from jigs.lengths import Units

BY_KEY = {question.key: question for question in starting.QUESTIONS}


@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_first_answer_makes_a_box(units: Units) -> None:
    text = starting.first_text(units)
    for question in starting.QUESTIONS:
        text, _ = starting.answered(text, question, starting.standing_answer(text, question), units)
    worked = box.work_out(boxfile.read(text, "file"))
    assert not worked.stopped
    assert all((worked.groove, worked.bottom, worked.lid, worked.handle, worked.shell))


@pytest.mark.parametrize(
    ("key", "answer", "said"),
    [
        ("box.length", "220", "inside 196 mm by 126 mm"),
        ("box.width", "6 in", "inside 176 mm by 128.4 mm"),
        ("joint.finger", "8", "11 fingers and sockets"),
        ("groove.cutter", "6", "from the bottom edge"),
        ("lid.thickness", "20", "lid 2"),
        ("handle.saw", "38.6", "blank 111.2 mm long"),
        ("shell.width", "50", "3.22 mm deep"),
        ("title", "Tea box", ""),
    ],
)
def test_an_answer_shows_what_it_does(key: str, answer: str, said: str) -> None:
    text, effect = starting.answered(starting.first_text("mm"), BY_KEY[key], answer, "mm")
    assert said in effect
    assert starting.standing_answer(text, BY_KEY[key]) == answer


def test_a_finger_takes_its_cutter_along_until_that_is_measured() -> None:
    text, _ = starting.answered(starting.first_text("mm"), BY_KEY["joint.finger"], "8", "mm")
    assert box_changes.value_at(text, "joint.cutter") == 8


def test_an_answer_that_can_not_be_read_or_built_says_why() -> None:
    text = starting.first_text("mm")
    with pytest.raises(CannotRead, match=r"^'twelve' has no number in it"):
        starting.answered(text, BY_KEY["sides.thickness"], "twelve", "mm")
    with pytest.raises(CannotBuild, match="must be from"):
        starting.answered(text, BY_KEY["sides.thickness"], "200", "mm")
    with pytest.raises(CannotBuild, match="makes a socket of 14 mm"):
        starting.answered(text, BY_KEY["joint.cutter"], "14", "mm")


@pytest.mark.parametrize("part", sorted(starting.OPTIONAL))
def test_a_part_that_is_not_wanted_is_left_out(part: str) -> None:
    read = boxfile.read(starting.without(starting.first_text("mm"), part), "file")
    assert getattr(read, part) is None
    assert part != "groove" or read.bottom is None


@pytest.mark.parametrize(("units", "length"), [("mm", 200), ("in", 7.5)])
def test_start_writes_a_file_that_check_takes(tmp_path: Path, units: Units, length: float) -> None:
    path = tmp_path / "box.toml"
    ran = CliRunner().invoke(main, ["start", str(path), "--yes", "--units", units])
    assert (ran.exit_code, ran.stdout) == (0, f"{path}\n")
    assert f"next: jigleaf check {path}" in ran.stderr
    assert tomllib.loads(path.read_text())["box"]["length"] == length
    assert CliRunner().invoke(main, ["check", str(path)]).exit_code == 0


def test_start_writes_over_nothing(tmp_path: Path) -> None:
    path = tmp_path / "box.toml"
    path.write_text("mine")
    ran = CliRunner().invoke(main, ["start", str(path)])
    assert ran.exit_code == 2
    assert "nothing is written over it" in " ".join(ran.stderr.split())
    assert path.read_text() == "mine"


def test_the_schema_that_is_checked_in_is_the_one_written(tmp_path: Path) -> None:
    path = tmp_path / "schema.json"
    assert CliRunner().invoke(main, ["start", str(path), "--schema"]).exit_code == 0
    kept = Path(__file__).parent.parent / "samples" / "box-file.schema.json"
    assert json.loads(path.read_text()) == json.loads(kept.read_text())


@pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")
def test_at_a_terminal_start_asks(tmp_path: Path) -> None:
    import pty  # noqa: PLC0415 - not on every system

    path = tmp_path / "box.toml"
    master, terminal = pty.openpty()
    command = [sys.executable, "-m", "cli", "start", str(path)]
    process = subprocess.Popen(command, stdin=terminal, stdout=terminal, stderr=terminal)
    os.close(terminal)
    answers = iter(["Tea box", "220", "", "twelve", "11", "", "", "", "", "", "", "", "n", "n", "n"])
    said = _talk(master, answers)
    assert process.wait(timeout=30) == 0
    os.close(master)
    read = boxfile.load(path)
    assert (read.title, read.box.length, read.sides.thickness) == ("Tea box", 220, 11)
    assert read.groove
    assert (read.lid, read.handle, read.shell) == (None, None, None)
    assert "no number in it" in said
    assert "inside 198 mm by 128 mm" in said


def _talk(master: int, answers: Iterator[str]) -> str:
    """Answer every prompt until the other side hangs up, and return what it said."""
    said = ""
    waiting = ""
    while select.select([master], [], [], 30)[0]:
        try:
            more = os.read(master, 4096).decode()
        except OSError:  # how Linux says that the other side is gone
            break
        said += more
        waiting += more
        if waiting.rstrip(" ").endswith("]:"):
            waiting = ""
            os.write(master, (next(answers) + "\n").encode())
    return said
