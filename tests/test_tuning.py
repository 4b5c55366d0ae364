"""A measured test joint in words, and the command that says them.

TJ1 and TJ2 are worked values, derived in jigs/trade/tune.py.
"""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

import cli
from tests.outside import Check, agree

BY_HAND = Check(
    "Fit of a joint, tuning",
    "arithmetic written out in jigs/trade/cut.py, fit.py, predict.py and tune.py",
    "worked example",
)

BOX = """units = "{units}"
[box]
length = {length}
width = {width}
height = {height}
[sides]
thickness = {thickness}
[joint]
finger = {finger}
cutter = {finger}
clearance = {clearance}
proud = {proud}
"""
METRIC = BOX.format(units="mm", length=240, width=160, height=90, thickness=12, finger=10, clearance=0.1, proud=0.3)
INCH = BOX.format(
    units="in", length=9.5, width=6.5, height=3.5, thickness=0.5, finger=0.5, clearance=0.004, proud=0.015
)


@pytest.fixture
def metric(tmp_path: Path) -> str:
    path = tmp_path / "metric.toml"
    path.write_text(METRIC)
    return str(path)


@pytest.fixture
def inch(tmp_path: Path) -> str:
    path = tmp_path / "inch.toml"
    path.write_text(INCH)
    return str(path)


def tune(*words: str) -> Result:
    return CliRunner().invoke(cli.main, ["tune", *words])


def said(result: Result) -> str:
    return " ".join((result.stdout + result.stderr).split())


@BY_HAND.of()
def test_tj1(metric: str) -> None:
    readings = ["--finger", "9.97", "--socket", "10.02", "--flush-high", ".18", "--flush-low", ".13", "--proud", ".8"]
    data = json.loads(tune(metric, *readings, "--json").stdout)
    changes = {name: data[name] for name in ("gap_change", "spacer_change", "height_change")}
    agree(changes, {"gap_change": -0.05, "spacer_change": -0.18, "height_change": -0.5}, unit="mm")
    agree(data["clearance_now"], 0.05, unit="mm")
    agree(data["flush_now"], 0.155, unit="mm")
    agree(data["clearance_expected"], 0.10, unit="mm")
    agree(data["clearance_uncertainty"], 0.04, unit="mm")
    assert data["refused"] == []
    assert len(data["steps"]) == 3


@BY_HAND.of()
def test_tj2(inch: str) -> None:
    readings = [
        "--finger",
        ".492",
        "--socket",
        ".502",
        "--flush-high",
        "-.003",
        "--flush-low",
        "-.013",
        "--proud",
        ".005",
    ]
    data = json.loads(tune(inch, *readings, "--error", ".0005", "--json").stdout)
    changes = [data[name] / 25.4 for name in ("gap_change", "spacer_change", "height_change")]
    agree(changes, [0.006, 0.011, 0.010], unit="in")


@pytest.mark.parametrize(
    ("mount", "step"),
    [
        ([], "Move the plate so that the key stands 0.05 mm nearer to the cutter, by feeler gauge."),
        (
            ["--mount", "screwed plate", "--slack", ".15"],
            "Stick a shim of 0.05 mm on the face of the key that looks at the cutter, by feeler gauge.",
        ),
        (
            ["--mount", "pivot", "--pivot-to-key", "400", "--pivot-to-nudge", "600"],
            "Nudge the sled 0.08 mm at its free end, so that the key moves toward the cutter, by feeler gauge.",
        ),
    ],
)
def test_each_mount_has_its_remedy(metric: str, mount: list[str], step: str) -> None:
    result = tune(metric, "--finger", "9.97", "--socket", "10.02", *mount)
    assert result.exit_code == 0
    assert step in said(result)
    assert "Then expect a clearance of 0.10 mm, give or take 0.04 mm." in said(result)


def test_nothing_is_said_of_what_was_not_read(metric: str) -> None:
    """With no flush read there is no change of the spacer to leave alone."""
    words = said(tune(metric, "--finger", "9.88", "--socket", "10"))
    assert "The gap stays as it is" in words
    assert "spacer" not in words


@pytest.mark.parametrize(
    ("readings", "step"),
    [
        (["--finger", "9.8", "--socket", "10", "--mount", "screwed plate"], "then plane 0.10 mm"),
        (["--finger", "9.9", "--socket", "10", "--slack", ".3"], "Stick a shim of 0.20 mm"),
        (["--finger", "9.9", "--socket", "10", "--slack", ".01"], "off the far face of the key, where it binds"),
        (["--finger", "9.9", "--socket", "10", "--proud", ".1"], "Raise the cutter 0.20 mm, by feeler gauge."),
        (["--finger", "9.9", "--socket", "10", "--flush-high", "-.1", "--flush-low", "-.2"], "Make the spacer 0.15 mm"),
        (["--clearance", ".3"], "further from the cutter"),
        (["--finger", "9.9", "--socket", "10"], "Leave it as it is."),
    ],
)
def test_what_to_do(metric: str, readings: list[str], step: str) -> None:
    assert step in said(tune(metric, *readings))


@pytest.mark.parametrize(
    ("readings", "code", "says"),
    [
        (
            ["--finger", "9.97", "--socket", "10.02", "--clearance", ".3"],
            1,
            "Finger and socket give a clearance of 0.05 mm and the closed joint gives 0.30 mm. They can be",
        ),
        (["--clearance", ".1", "--flush-high", "-.2", "--flush-low", ".2"], 1, "Measure both again"),
        (
            ["--finger", "9.97", "--socket", "10.02", "--mount", "screwed plate"],
            0,
            "of the play on the key, which was not read",
        ),
        (
            ["--finger", "9.97", "--socket", "10.02", "--mount", "screwed plate", "--slack", ".06"],
            0,
            "A shim of 0.05 mm needs a play of 0.08 mm on the key; there is only 0.06 mm",
        ),
        (["--clearance", "0"], 0, "is tight, and the closed joint cannot tell by how much"),
        (["--finger", "9.8", "--socket", "10.3", "--error", "0.5"], 0, "Readings good to 0.50 mm cannot set a joint"),
        (["--finger", "9.88", "--socket", "10"], 0, "The gap stays as it is: a change of 0.02 mm is within"),
        (
            ["--finger", "9.9", "--socket", "10", "--proud", "2.3"],
            0,
            "by 2.00 mm, more than 1.00 mm: a reading may be mistyped",
        ),
        (
            ["--finger", "9.9"],
            2,
            "--clearance, or --flush-high and --flush-low: one of these",
        ),
        (["--finger", "9.9", "--socket", "10", "--flush-low", ".1"], 2, "--flush-high, --flush-low: give both"),
        (["--finger", "ten", "--socket", "10"], 2, "--finger: 'ten' has no number in it"),
        (["--clearance", "-1/64in"], 2, "readings: --clearance is -1/64in; it must be at least 0"),
        (
            ["--clearance", ".1", "--mount", "pivot", "--pivot-to-key", "-1/64in", "--pivot-to-nudge", "5"],
            2,
            "readings: --pivot-to-key is -1/64in; it must be more than 0",
        ),
        (
            ["--finger", "9.9", "--socket", "10", "--flush-low", ".2", "--flush-high", ".6"],
            1,
            "Error: --socket, --finger, --flush-high, --flush-low: Finger and socket give a clearance of 0.10 mm and "
            "the flush readings give 0.40 mm. They can be 0.08 mm apart at most. Measure both again",
        ),
        (
            ["--finger", "9.9", "--socket", "10", "--flush-low", ".2", "--flush-high", ".1"],
            1,
            "Pushed up, the end reads 0.10 mm; pushed down, it reads 0.20 mm, which is more than 0.04 mm further up",
        ),
        (["--finger", "9.9", "--socket", "10", "--error", "-1"], 2, "readings: --error is -1; it must be at least 0"),
        (
            ["--finger", "9.8", "--socket", "10", "--mount", "pivot"],
            2,
            "--pivot-to-key and --pivot-to-nudge: needed",
        ),
    ],
)
def test_what_readings_cannot_tell(metric: str, readings: list[str], code: int, says: str) -> None:
    result = tune(metric, *readings)
    assert result.exit_code == code
    assert says in said(result)
    assert "Traceback" not in said(result)


def test_readings_of_another_joint_are_refused_and_nothing_is_advised(metric: str) -> None:
    result = tune(metric, "--finger", "6.3", "--socket", "6.4")
    assert result.exit_code == 1
    assert "Error: --socket: The socket will be 6.40 mm, and the cutter of this file makes" in result.output
    assert result.stdout == ""


def test_a_refused_change_is_still_computed(metric: str) -> None:
    data = json.loads(tune(metric, "--finger", "9.88", "--socket", "10", "--json").stdout)
    assert data["gap_change"] == pytest.approx(0.02)
    assert data["refused"] == ["gap", "spacer"]
    assert data["steps"] == []
    assert data["to_make"] == {"gap": 0.0, "spacer": 0.0, "height": None}


def test_without_readings_the_sheet_to_measure_on_is_drawn(metric: str, tmp_path: Path) -> None:
    result = tune(metric, "-o", str(tmp_path / "sheets"))
    assert result.exit_code == 0
    drawn = " ".join(path.read_text() for path in sorted((tmp_path / "sheets").glob("*-card-*-set-sled*.svg")))
    for words in ("finger, the widest", "socket", "flush, end to top", "fingers proud", "play on the key", "reads"):
        assert words in drawn
