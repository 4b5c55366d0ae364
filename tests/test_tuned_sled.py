"""A test joint beside the sheets of its sled: rip-to width, story stick, and readings that belong to another cutter.

Widths are counted from the joint: a board of n fingers and sockets is the sum of them, the front beginning with a
finger (tests/outside.py); lines of the stick are their running sum.
"""

from __future__ import annotations

import json
import re
from itertools import accumulate
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st

import cli
from jigs.base.catalogue import find
from jigs.boxfile import change, reading
from jigs.parts.joint import tuned_sled
from jigs.parts.joint.tuned_sled import Compared, Drawn
from jigs.trade.sled import as_cut
from jigs.trade.tune import Readings, tune
from layout.carry import embedded
from tests.boxes import SAMPLES
from tests.outside import Check, agree

BY_HAND = Check(
    "Fit of a joint, tuning",
    "arithmetic written out in jigs/trade/cut.py, fit.py, predict.py and tune.py",
    "worked example",
)
ADDED_UP = Check(
    "Fit of a joint, tuning", "fingers and sockets added up one by one along a board", "independent derivation"
)

SLED = ["--finger", "10", "--cutter", "10.02", "--board", "90", "--thickness", "12"]
"""Drawn with fingers of 9.92 and sockets of 10.02: 5 · 9.92 + 4 · 10.02 = 89.68."""
SVG = "sled-set-sled-card-2-set-sled.svg"
INCHES = [
    *("--units", "in", "--finger", "3/8", "--cutter", ".3745", "--board", "4 1/4", "--thickness", "1/2"),
    *("--clearance", ".004"),
]
"""Fingers of .3705 and sockets of .3745: 6 · .3705 + 5 · .3745 = 4.0955."""


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, list(words))


def said(result: Result) -> str:
    return " ".join((result.stdout + result.stderr).split())


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The card that sets a sled in mm and one in inches, its settings, and a box file."""
    folder = tmp_path_factory.mktemp("drawn")
    only = ["--only", "set-sled", "-o", str(folder)]
    assert run("jig", "sled", *SLED, *only).exit_code == 0
    assert run("jig", "sled", *INCHES, *only[:2], "-o", str(folder / "inch")).exit_code == 0
    (folder / "box.toml").write_text(BOX)
    assert run("reopen", str(folder / "sled-set-sled-cards.pdf"), "-o", str(folder / "sled.toml")).exit_code == 0
    return folder


@pytest.fixture(scope="module")
def drawn_of_box(drawn: Path) -> Path:
    """The same with the card of the sled of the box beside them."""
    assert run("draw", str(drawn / "box.toml"), "--only", "set-sled", "-o", str(drawn / "box")).exit_code == 0
    return drawn


BOX = """units = "mm"
[box]
length = 240
width = 160
height = 90
[sides]
thickness = 12
[joint]
finger = 10
cutter = 10.02
"""


def counted(finger: float, socket: float, count: int) -> float:
    return sum(socket if part % 2 else finger for part in range(count))


# -- any file that holds the joint ---------------------------------------------------------------------------------


@BY_HAND.of()
@pytest.mark.parametrize("name", ["sled-set-sled-cards.pdf", SVG, "sled.toml", "box.toml"])
def test_any_file_of_the_joint_is_tuned(drawn: Path, name: str) -> None:
    """TJ1, as jigs/trade/tune.py derives it: the gap down by 0.05, the spacer by 0.18."""
    readings = ["--finger", "9.97", "--socket", "10.02", "--flush-high", ".18", "--flush-low", ".13"]
    _tuned_by_tj1(drawn / name, readings)


@BY_HAND.of()
@pytest.mark.parametrize("ending", ["pdf", "svg"])
def test_a_card_of_the_box_is_tuned(drawn_of_box: Path, ending: str) -> None:
    readings = ["--finger", "9.97", "--socket", "10.02", "--flush-high", ".18", "--flush-low", ".13"]
    _tuned_by_tj1(next((drawn_of_box / "box").glob(f"box-set-sled-card*.{ending}")), readings)


def _tuned_by_tj1(path: Path, readings: list[str]) -> None:
    result = run("tune", str(path), *readings, "--json")
    assert result.exit_code == 0, result.output
    data = json.loads(result.stdout)
    agree((data["gap_change"], data["spacer_change"]), (-0.05, -0.18), unit="mm")
    assert data["rip_width_drawn"] == pytest.approx(89.68)


def test_the_code_on_a_sheet_is_tuned(drawn: Path) -> None:
    code = "jigleaf:1 sled mm finger=10 cutter=10.02 board=90 thickness=12"
    by_code, by_sheet = (
        run("tune", name, "--finger", "9.97", "--socket", "10.02").stdout for name in (code, str(drawn / "sled.toml"))
    )
    assert by_code == by_sheet != ""


@pytest.mark.parametrize("name", ["sled-set-sled-cards.pdf", "sled.toml", "box.toml"])
def test_without_a_reading_any_of_them_gives_the_sheet_to_measure_on(drawn: Path, tmp_path: Path, name: str) -> None:
    result = run("tune", str(drawn / name), "-o", str(tmp_path))
    assert result.exit_code == 0, result.output
    (sheet,) = tmp_path.glob("*-set-sled-cards.pdf")  # called after the box, where it is of one
    again = run("tune", str(sheet), "--finger", "9.97", "--socket", "10.02")
    assert "0.05 mm nearer to the cutter" in said(again)


@BY_HAND.of()
def test_what_is_set_in_the_sled_is_what_is_wanted(tmp_path: Path) -> None:
    settings = [*SLED, "--clearance", ".2", "--proud", ".5", "--key", "9.9", "--only", "set-sled", "-o", str(tmp_path)]
    run("jig", "sled", *settings)
    readings = ["--finger", "9.82", "--socket", "10.02", "--proud", ".4", "--slack", ".12", "--json"]
    data = json.loads(run("tune", str(tmp_path / "sled-set-sled-cards.pdf"), *readings).stdout)
    agree((data["gap_change"], data["height_change"]), (0.0, 0.1), unit="mm")
    assert data["steps"] == ["raise the cutter 0.10 mm, by feeler gauge"]  # and the key in hand has its slack


def test_files_that_hold_no_finger_joint_are_named(drawn: Path, tmp_path: Path) -> None:
    trammel = ["jig", "trammel", *find("trammel").example.split(), "-o", str(tmp_path), "--format", "svg"]
    assert run(*trammel).exit_code == 0
    other = next(tmp_path.glob("*.svg"))
    settings = (drawn / "sled.toml").read_text()
    files: dict[str, tuple[str | bytes, int, str]] = {
        "cut.toml": (settings[: settings.index("10.02")], 2, "cut.toml, line 7, column 10: this is neither a number"),
        "key.toml": (settings.replace("cutter", "cuter"), 2, "settings.cuter: unknown key; did you mean 'cutter'"),
        "far.toml": (settings.replace("10.02", "1002"), 1, "must be from 0.8 mm to 60 mm; it is 1002 mm"),
        "built.toml": (settings.replace("10.02", "12"), 1, "Error: finger: The cutter makes a socket of 12 mm"),
        "long.toml": (settings + "#" * embedded.MOST_BYTES, 2, "more than 1 MB; a box file or a jig file has a few kB"),
        "picture.png": (b"\x89PNG\r\n", 2, "is a picture, which carries nothing"),
        "other.pdf": (b"%PDF-1.4 ...", 2, "can't be read as a PDF"),
        "other.svg": (
            other.read_text(),
            2,
            "is of the jig 'trammel', which cuts no finger joint; name a box",
        ),
        "box.toml": (BOX.replace("cutter = 10.02", "cutter = 12"), 1, "joint.finger: The cutter makes a socket of 12"),
    }
    for name, (content, code, says) in files.items():
        path = tmp_path / name
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
        for readings in (["--finger", "9.9", "--socket", "10"], ["-o", str(tmp_path / "sheets")]):
            result = run("tune", str(path), *readings)
            assert (result.exit_code, result.stdout) == (code, ""), (name, result.output)
            whole = "".join((result.stdout + result.stderr).split())  # a long path is wrapped at its hyphens
            assert "".join(says.format(path).split()) in whole, name
    for missing, says in (("none.pdf", "there is no such file"), (".", "it is a folder, not a")):
        result = run("tune", str(tmp_path / missing), "--finger", "9.9", "--socket", "10")
        assert (result.exit_code, says in said(result)) == (2, True)


# -- beside the sheets ---------------------------------------------------------------------------------------------


@ADDED_UP.of()
@pytest.mark.parametrize("name", ["sled-set-sled-cards.pdf", "box.toml"])
def test_readings_of_another_cutter_are_refused_with_what_it_would_need(drawn: Path, name: str) -> None:
    result = run("tune", str(drawn / name), "--finger", "9.0", "--socket", "9.1", "--flush-high", ".1", "--flush-low=0")
    assert (result.exit_code, result.stdout) == (1, "")  # nothing is planed by them
    width = counted(9.0, 9.1, 9)
    assert (
        "Error: --socket: The socket will be 9.10 mm, and the cutter of this file makes 10.02 mm: 0.92 mm apart, they "
        f"are not of one cutter. 5 fingers + 4 sockets would need boards ripped to {width:.2f} mm, not 89.68 mm"
    ) in said(result)
    assert "measure the cutter again in scrap. If it does make 9.10 mm, put it in as" in said(result)
    assert said(result).count("Error:") == 1
    assert "warning" not in said(result)


def test_what_is_offered_for_another_cutter_is_built(drawn: Path) -> None:
    said_so = said(run("tune", str(drawn / "box.toml"), "--finger", "9.0", "--socket", "9.1"))
    keys = re.search(r"put it in as (joint\.\w+) and (joint\.\w+) and draw", said_so)
    assert keys
    changed = change.box_with(BOX, dict.fromkeys(keys.groups(), "9.1 mm"), "box.toml")
    numbers = tuned_sled.of_box(changed).numbers
    assert (numbers.finger, numbers.socket) == pytest.approx((9.0, 9.1))
    assert numbers.passes.count == 1


def test_no_setting_is_offered_where_none_would_be_drawn(tmp_path: Path) -> None:
    """A finger of 2.5 is under the least that a sled is drawn for, 3."""
    settings = ["--finger", "3", "--cutter", "3", "--board", "90", "--thickness", "4", "-o", str(tmp_path)]
    run("jig", "sled", *settings, "--only", "set-sled")
    words = said(run("tune", str(tmp_path / "sled-set-sled-cards.pdf"), "--finger", "2.4", "--socket", "2.5"))
    assert "The socket will be 2.50 mm, and the cutter of this file makes 3.00 mm" in words
    assert words.endswith("measure the cutter again in scrap.")


@ADDED_UP.of()
def test_a_socket_far_from_the_measured_cutter_asks_for_another_width_and_stick(drawn: Path) -> None:
    """Tuned to a clearance of 0.10 the finger is 9.75: 5 · 9.75 + 4 · 9.85 = 88.15, and the stick's last line there."""
    readings = ["--finger", "9.8", "--socket", "9.85"]
    result = run("tune", str(drawn / "sled-set-sled-cards.pdf"), *readings)
    assert result.exit_code == 0
    width = counted(9.75, 9.85, 9)
    assert f"By these readings the boards are planed to {width:.2f} mm, not 89.68 mm." in said(result)
    assert f"its lines are up to {89.68 - width:.2f} mm out" in said(result)
    assert (
        "WARNING: --socket: The sockets are 9.85 mm wide, and the sheets are drawn for 10.02 mm: boards ripped and "
        "marked by the sheets will not fit. Measure the cutter again in scrap before you rip a board; put what "
        "it makes in as cutter, and draw the sheets and the story stick again"
    ) in said(result)
    data = json.loads(run("tune", str(drawn / "sled-set-sled-cards.pdf"), *readings, "--json").stdout)
    agree((data["rip_width"], data["story_stick_out"]), (width, 89.68 - width), unit="mm")
    # the sled drawn again as the warning asks is the one that tune told of
    changed = [word.replace("10.02", "9.85") for word in SLED]
    redrawn = json.loads(run("jig", "sled", *changed, "--json").stdout)["numbers"]
    agree(redrawn["rip_width"], data["rip_width"], unit="mm")


def test_sheets_that_hold_are_said_to_hold(drawn: Path) -> None:
    result = run("tune", str(drawn / "sled-set-sled-cards.pdf"), "--finger", "9.93", "--socket", "10.03")
    assert result.stdout.endswith("Plane the boards to 89.68 mm, as drawn. The story stick holds.\n")
    assert "warning" not in result.stderr


def test_a_clearance_alone_does_not_tell_the_width(drawn: Path) -> None:
    result = run("tune", str(drawn / "sled-set-sled-cards.pdf"), "--clearance", ".3")
    assert "Measure a socket before you rip a board: the sheets are drawn for 10.02 mm." in said(result)
    data = json.loads(run("tune", str(drawn / "sled-set-sled-cards.pdf"), "--clearance", ".3", "--json").stdout)
    assert (data["rip_width"], data["story_stick_out"]) == (None, None)


@ADDED_UP.of()
def test_a_finger_and_the_clearance_tell_the_socket(drawn: Path) -> None:
    result = run("tune", str(drawn / "sled-set-sled-cards.pdf"), "--finger", "9.0", "--clearance", ".1")
    assert result.exit_code == 1
    assert f"need boards ripped to {counted(9.0, 9.1, 9):.2f} mm" in said(result)
    tight = run(
        "tune", str(drawn / "sled-set-sled-cards.pdf"), "--finger", "9.0", "--clearance", "0"
    )  # by nobody knows how much
    assert tight.exit_code == 0
    assert "Measure a socket" in said(tight)


@ADDED_UP.of()
def test_a_board_too_narrow_for_the_joint_is_stopped_and_each_offer_works(drawn: Path) -> None:
    result = run("tune", str(drawn / "sled-set-sled-cards.pdf"), "--finger", "9.97", "--socket", "10.07")
    assert (result.exit_code, result.stdout) == (1, "")
    assert counted(9.97, 10.07, 9) == pytest.approx(90.13)
    words = said(result)
    assert (
        "Error: board: The fingers will be 9.97 mm and the sockets 10.07 mm wide: 5 fingers + 4 sockets need boards "
        "ripped to 90.13 mm, not 89.68 mm; the board is 90 mm. Measure the cutter again in scrap."
    ) in words
    offered = re.search(
        r"use a board of ([\d.]+) mm or more, or set the key nearer, for fingers of ([\d.]+) mm and a clearance of "
        r"([\d.]+) mm, or rip to ([\d.]+) mm, for (\d) fingers \+ (\d) sockets;",
        words,
    )
    assert offered
    board, finger, clearance, narrower, fingers, sockets = map(float, offered.groups())
    assert board >= counted(9.97, 10.07, 9)
    assert counted(finger, 10.07, 9) <= 90
    assert finger + clearance == pytest.approx(10.07)
    assert narrower <= 90
    agree(narrower, counted(9.97, 10.07, int(fingers + sockets)), 0.005, unit="mm")


def test_fewer_fingers_are_not_offered_where_as_many_fit(drawn: Path) -> None:
    """At 10.05 less 0.10 nine of them are 89.95: they fit once the gap, left alone at 9.97, is as it should be."""
    words = said(run("tune", str(drawn / "box.toml"), "--finger", "9.97", "--socket", "10.05"))
    assert "Error: box.height: The fingers will be 9.97 mm" in words
    assert "for fingers of 9.95 mm and a clearance of 0.10 mm; then draw" in words


@ADDED_UP.of()
def test_a_board_wider_than_any_that_a_sled_takes_is_not_offered() -> None:
    """60 fingers + 60 sockets, 60 · 10 + 60 · 10.1 = 1206: over the 1200 that the setting goes to."""
    [problem] = compared(sled(board=1200.0), finger=9.95, socket=10.1).problems
    assert f"need boards ripped to {counted(10.0, 10.1, 120):.2f} mm" in problem.says("mm")
    assert "a board of" not in problem.suggests("mm")
    assert "set the key nearer, for fingers of 9.89 mm" in problem.suggests("mm")


@ADDED_UP.of()
def test_a_gap_that_is_left_alone_can_cost_the_width(drawn: Path) -> None:
    """Finger +0.06 and socket +0.03: 5 · 0.06 + 4 · 0.03 = 0.42, over 9 · (0.02 + 0.02) of reading and cutter."""
    with_room = tuned_sled.of_box(reading.read(BOX.replace("90", "92"), "box.toml"))
    found = compared(with_room, finger=9.98, socket=10.05)
    assert "gap" in tune(Readings(9.98, 10.05), with_room.wanted).refused
    [problem] = found.problems
    assert (problem.severity, problem.where) == ("warning", "finger")
    assert problem.says("mm").startswith("the fingers will be 9.98 mm and the sockets 10.05 mm wide; the sheets have")
    assert found.numbers is not None
    agree(found.numbers.width, counted(9.98, 10.05, 9), unit="mm")


def test_a_finger_that_no_sled_of_the_file_cuts_is_refused(drawn: Path) -> None:
    result = run("tune", str(drawn / "sled-set-sled-cards.pdf"), "--finger", "8.9", "--socket", "10.02")
    assert result.exit_code == 1
    assert "The finger reads 8.90 mm, and this file has fingers of 9.92 mm: no more than 1.00 mm can be tuned" in said(
        result
    )


# -- other layouts, and several passes -----------------------------------------------------------------------------


def sled(**changes: Any) -> Drawn:
    settings = {"finger": 10.0, "cutter": 10.0, "board": 95.0, "thickness": 12.0} | changes
    return tuned_sled.of_sled(settings, "mm")


def compared(drawn: Drawn, **read: float) -> Compared:
    readings = Readings(**read)
    return tuned_sled.compare(tune(readings, drawn.wanted), readings, drawn)


@ADDED_UP.of()
def test_a_centred_joint_gets_another_starter_spacer() -> None:
    """With 4 sockets and 3 fingers between the ends, these are (95 − 4 · 10.2 − 3 · 10.1)/2 = 11.95 wide …

    … which is over a finger; with the 8 that are drawn (95 − 4 · 10.2 − 4 · 10.1)/2 = 6.9, and the starter 3.2.
    """
    made = sled(layout="centre")
    found = compared(made, finger=10.1, socket=10.2)
    assert found.numbers is not None
    assert found.numbers.count == made.numbers.count == 10
    agree(found.numbers.board_starter, 10.1 - (95 - 4 * 10.2 - 4 * 10.1) / 2, unit="mm")
    report = tuned_report(made, finger=10.1, socket=10.2)
    assert "By these readings the starter is 3.20 mm, not" in report
    assert "ripped" not in report


def test_a_joint_that_can_no_longer_be_centred_is_stopped() -> None:
    """Ends drawn 9.75 wide of 9.9 come out 10.15 of 9.6: no spacer starts them."""
    found = compared(sled(layout="centre", board=99.2), finger=9.5, socket=9.6)
    [problem] = found.problems
    assert problem.severity == "stop"
    assert problem.where == "board"
    assert "5 fingers + 5 sockets cannot be centred on a board of 99.2 mm" in problem.says("mm")


def test_a_board_that_keeps_its_width_has_another_stick_and_no_rip_to_width() -> None:
    report = tuned_report(sled(layout="keep"), finger=9.7, socket=9.8)
    assert "The story stick no longer holds" in report
    assert "ripped" not in report
    assert tuned_report(sled(layout="keep"), finger=9.9, socket=10.0).endswith("as it is.\nThe story stick holds.")


@ADDED_UP.of()
def test_lines_that_are_there_no_more_do_not_count_as_out() -> None:
    """A board of 93 that keeps its width: the front's fifth socket began at 5 · 9.9 + 4 · 10 = 89.5.

    With a pitch of 20.7 it would at 10.3 + 4 · 20.7 = 93.1: there is none. The end's fifth ran from 4 · 19.9 − 0.05 to
    89.55, and now to the board's edge.
    """
    made = sled(layout="keep", board=93.0)
    found = compared(made, finger=10.3, socket=10.4)
    assert found.numbers is not None
    assert (len(made.numbers.long_sockets), len(found.numbers.long_sockets)) == (5, 4)
    agree(found.stick_out, 93 - 89.55, unit="mm")


def tuned_report(drawn: Drawn, **read: float) -> str:
    from jigs.parts.joint import tuning  # noqa: PLC0415 - only here

    readings = Readings(**read)
    worked = tune(readings, drawn.wanted)
    return tuning.report(worked, tuned_sled.compare(worked, readings, drawn), [], "mm")


@ADDED_UP.of(as_cut)
def test_several_passes_ask_for_cutter_and_shims() -> None:
    """A cutter of 6 makes 10.1 in two passes; 10.3 is as much too wide as cutter or shim."""
    found = compared(sled(cutter=6.0), finger=10.2, socket=10.3)
    [problem] = found.problems
    assert problem.suggests("mm").startswith("measure the cutter and the shims again in scrap before you rip a board")
    assert found.numbers is not None
    assert found.numbers.passes.count == 2
    agree(found.numbers.width, counted(10.2, 10.3, 9), unit="mm")


@ADDED_UP.of(as_cut)
@given(
    finger=st.floats(4, 20),
    misset=st.floats(-0.3, 0.3),
    wider=st.floats(-0.4, 0.4),
    out=st.tuples(st.floats(-0.02, 0.02), st.floats(-0.02, 0.02)),
    board=st.floats(120, 300),
)
def test_the_joint_that_comes_out_is_as_wide_as_is_said(
    finger: float, misset: float, wider: float, out: tuple[float, float], board: float
) -> None:
    """Any gap and any cutter, read within 0.02: cut again as told, board and stick are right to the readings' sum."""
    made = sled(finger=finger, cutter=finger, board=board)
    cutter, gap, count = finger + wider, finger - 0.1 + misset, made.numbers.count
    finger_read, socket_read = gap + out[0], cutter + out[1]
    readings = Readings(finger_read, socket_read)
    tuned = tune(readings, made.wanted)
    found = tuned_sled.compare(tuned, readings, made)
    after = gap + tuned.gap.made
    lines = list(accumulate(cutter if part % 2 else after for part in range(count)))
    if any(problem.severity == "stop" for problem in found.problems):
        another = abs(socket_read - finger) > min(0.5, 0.05 * finger) or abs(finger_read - (finger - 0.1)) > 1
        assert another or lines[-1] > board - 0.02 * count - 1e-6
        return
    assert found.numbers is not None
    within = 0.02 * count if not found.holds else 0.02 * count * 3  # reading twice, and the cutter as it was measured
    assert abs(found.numbers.width - lines[-1]) <= within + 1e-6
    for span, edges in zip(found.numbers.long_sockets, zip(lines[::2], lines[1::2], strict=False), strict=False):
        assert abs(span.start - edges[0]) <= within + 1e-6
        assert abs(span.end - edges[1]) <= within + 1e-6


# -- the numbers, and the units of the job -------------------------------------------------------------------------


def test_json_says_that_nothing_is_to_be_moved_where_a_change_is_left_alone(drawn: Path) -> None:
    """10.05 − 9.97 − 0.10 = −0.02 is what the readings say, and 0.04 what they may be wrong by."""
    box_with_room = drawn / "room.toml"
    box_with_room.write_text(BOX.replace("90", "92"))
    readings = ["--finger", "9.97", "--socket", "10.05", "--flush-high", ".2", "--flush-low", ".1", "--json"]
    data = json.loads(run("tune", str(box_with_room), *readings).stdout)
    assert (data["gap_change"], data["refused"]) == (-0.02, ["gap"])
    assert data["spacer_change"] == pytest.approx(-0.16)
    assert data["to_make"] == {"gap": 0.0, "spacer": pytest.approx(-0.15), "height": None}
    assert data["steps"] == ["plane 0.15 mm off the spacer, by callipers"]


def test_json_of_a_joint_that_is_stopped_moves_nothing(drawn: Path) -> None:
    result = run("tune", str(drawn / "sled.toml"), "--finger", "9.0", "--socket", "9.3", "--json")
    data = json.loads(result.stdout)
    assert result.exit_code == 1
    assert data["gap_change"] == pytest.approx(0.2)
    assert (data["steps"], data["to_make"]) == ([], {"gap": 0.0, "spacer": 0.0, "height": None})
    assert (data["rip_width"], data["story_stick_out"]) == (None, None)
    assert data["clearance_expected"] == data["clearance_now"] == pytest.approx(0.3)
    assert [problem["severity"] for problem in data["problems"]] == ["stop"]


def test_nothing_is_minus_nothing(drawn: Path) -> None:
    """10 − 9.9 − 0.1 is −3·10⁻¹⁶ in binary fractions."""
    assert "-0.0," not in run("tune", str(drawn / "box.toml"), "--finger", "9.9", "--socket", "10", "--json").stdout


READINGS_IN = {
    "mm": [
        ["--finger", "9.97", "--socket", "10.02", "--flush-high", ".2", "--flush-low", ".1", "--proud", ".8"],
        ["--finger", "9.8", "--socket", "9.85"],
        ["--finger", "9", "--socket", "9.1"],
        ["--finger", "9.97", "--socket", "10.07"],
        ["--finger", "9.97", "--socket", "10.02", "--slack", ".01", "--mount", "screwed plate"],
    ],
    "in": [
        ["--finger", ".3725", "--socket", ".3745", "--flush-high", ".008", "--flush-low", ".004", "--proud", ".03"],
        ["--finger", ".369", "--socket", ".370"],
        ["--finger", ".33", "--socket", ".334"],
        ["--finger", ".385", "--socket", ".390"],
        ["--finger", ".3725", "--socket", ".3745", "--slack", ".001", "--mount", "screwed plate"],
    ],
}


@pytest.mark.parametrize("units", ["mm", "in"])
def test_a_job_is_spoken_of_in_its_own_units_alone(drawn: Path, units: str) -> None:
    sheet = str(drawn / ("sled-set-sled-cards.pdf" if units == "mm" else "inch/sled-set-sled-cards.pdf"))
    other = r"\d in\b|/64|\"" if units == "mm" else r"\bmm\b|/64"
    for readings in READINGS_IN[units]:
        words = said(run("tune", sheet, *readings, "--error", "0.02 mm" if units == "mm" else ".0005"))
        assert re.search(rf"\d {units}\b", words)
        assert not re.search(other, words), words
        assert "sheets of" not in words


@ADDED_UP.of()
def test_an_inch_sled_is_tuned_in_thousandths(drawn: Path) -> None:
    """The clearance .002 is to be .004; the spacer follows by half, and sits .006 too high: 6 + 1 = .007."""
    readings = ["--finger", ".3725", "--socket", ".3745", "--flush-high", ".008", "--flush-low", ".004"]
    words = said(run("tune", str(drawn / "inch" / "sled-set-sled-cards.pdf"), *readings, "--error", ".0005"))
    assert "the key stands 0.002 in nearer to the cutter, by feeler gauge." in words
    assert "Plane 0.007 in off the spacer, by callipers." in words
    assert f"Plane the boards to {round(counted(0.3705, 0.3745, 11) + 1e-6, 3)} in, as drawn." in words
    words = said(run("tune", str(drawn / "inch" / "sled-set-sled-cards.pdf"), "--finger", ".366", "--socket", ".370"))
    assert f"boards are planed to {counted(0.366, 0.370, 11):.3f} in, not 4.096 in" in words


@pytest.mark.parametrize(("finger", "socket", "wide"), [("9.88", "9.98", 89.32), ("9.94", "10.06", 89.94)])
def test_the_width_that_the_readings_add_up_to_is_said(finger: str, socket: str, wide: float) -> None:
    """Five fingers and four sockets as they were read: no more is forgiven than nine readings may be out."""
    data = json.loads(run("tune", str(SAMPLES[0]), "--finger", finger, "--socket", socket, "--json").stdout)
    assert data["rip_width"] == pytest.approx(wide, abs=0.11)
    assert data["rip_width"] != data["rip_width_drawn"]
    assert data["story_stick_out"] > 0.1
