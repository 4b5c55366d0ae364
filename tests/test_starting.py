"""A new box file: written whole, or asked for."""

from __future__ import annotations

import contextlib
import functools
import itertools
import json
import os
import re
import select
import subprocess
import sys
import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from cli import main
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.box import chain, contents, new, questions
from jigs.boxfile import reading
from jigs.trade import predict
from tests.conftest import examples

BY_KEY = {question.key: question for question in questions.QUESTIONS}
EVERY = questions.Draft("mm", {}).with_part("groove").with_part("lid").with_part("handle").with_part("shell")


@pytest.mark.parametrize("units", ["mm", "in"])
def test_every_first_answer_makes_a_box(units: Units) -> None:
    worked = chain.work_out(reading.read(questions.usual_text(units), "file"))
    assert not worked.stopped
    assert all((worked.groove, worked.bottom, worked.lid, worked.handle, worked.shell))


@pytest.mark.parametrize(
    ("key", "answer", "said"),
    [
        ("box.length", "220", "inside 196 mm by 126 mm"),
        ("box.width", "6 in", "inside 176 mm by 128.4 mm"),
        ("joint.finger", "8", "6 fingers + 5 sockets"),
        ("groove.cutter", "6", "11.9 mm from the bottom edge; end boards are stopped; fence"),
        ("lid.thickness", "20", "lid 2"),
        ("handle.saw", "38.6", "blank 111.2 mm long"),
        ("shell.width", "50", "7 lobes, 50 mm by 34 mm; chips 3.22 mm deep"),
        ("title", "Tea box", ""),
    ],
)
def test_an_answer_shows_what_it_does(key: str, answer: str, said: str) -> None:
    draft, effect = questions.answered(EVERY, BY_KEY[key], answer)
    assert said in effect
    assert questions.offered(draft, BY_KEY[key]) == answer


@settings(max_examples=25, suppress_health_check=[HealthCheck.too_slow], deadline=None)
@given(
    wanted=st.tuples(st.floats(80, 400), st.floats(60, 300), st.floats(20, 250)),
    finger=st.sampled_from([4, 6, 8, 10, 12]),
    thick=st.sampled_from([6, 9, 12, 18]),
    without=st.sampled_from([("shell",), ("shell", "lid"), ("shell", "groove", "handle")]),
    units=st.sampled_from(("mm", "in")),
)
def test_what_goes_in_goes_into_the_box_that_is_proposed(
    wanted: tuple[float, float, float], finger: int, thick: int, without: tuple[str, ...], units: Units
) -> None:
    """It is tried with the answers themselves, and boards narrower by a finger and its socket hold it no more."""
    things = contents.Sizes(*wanted)
    typed = {"joint.finger": f"{finger} mm", "sides.thickness": f"{thick} mm"}
    found = contents.proposal(things, units, typed, without)
    if found is None:
        return
    worked = questions.form(units, {**typed, **found.typed}, without).made.worked
    there = contents.room(worked)
    assert there
    assert all(size <= left + 1e-6 for size, left in zip(things, there, strict=True))
    assert not contents.goes(things, worked).too_large
    step = 1.0 if units == "mm" else 25.4 / 8
    assert all(left - size <= step + 1e-6 for size, left in zip(things[:2], there[:2], strict=True))


@pytest.mark.parametrize(
    ("typed", "units", "sizes"),
    [
        ("150 x 105 x 102", "mm", (150, 105, 102)),
        ("150×105×102 mm", "in", (150, 105, 102)),
        ("6 x 4-1/4 x 4", "in", (152.4, 107.95, 101.6)),
        ("6 in x 4 in x 90 mm", "mm", (152.4, 101.6, 90)),
    ],
)
def test_what_goes_in_is_typed_as_three_sizes(typed: str, units: Units, sizes: tuple[float, float, float]) -> None:
    assert contents.read(typed, units) == pytest.approx(sizes)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ("150 x 105", "is not three sizes; type length x width x height, as in 150 x 105 x 102"),
        ("150 x 105 x tall", "has no number in it"),
        ("150 x 105 x 0", "it must be from 1 mm to 2000 mm"),
    ],
)
def test_what_goes_in_is_refused_with_what_works(typed: str, said: str) -> None:
    with pytest.raises(CannotRead, match=said):
        contents.read(typed, "mm")


def test_a_finger_takes_its_cutter_along_until_that_is_measured() -> None:
    draft, _ = questions.answered(EVERY, BY_KEY["joint.finger"], "8")
    assert questions.offered(draft, BY_KEY["joint.cutter"]) == "8"
    assert reading.read(questions.made(draft).text, "file").joint.cutter == 8
    measured, _ = questions.answered(draft, BY_KEY["joint.cutter"], "7.97")
    read = reading.read(questions.made(measured).text, "file")
    assert (read.joint.cutter, read.cutters[0].cutter) == (7.97, 7.97)


def test_an_answer_that_can_not_be_read_or_built_says_why() -> None:
    with pytest.raises(CannotRead, match=r"^'twelve' has no number in it"):
        questions.answered(EVERY, BY_KEY["sides.thickness"], "twelve")
    with pytest.raises(CannotRead, match=r"^is empty$"):
        questions.answered(EVERY, BY_KEY["title"], " ")
    with pytest.raises(CannotBuild, match="makes a socket of 14 mm"):
        questions.answered(questions.Draft("mm", {"joint.finger": 10}), BY_KEY["joint.cutter"], "14")
    with pytest.raises(CannotBuild, match="two sides 40 mm thick leave no inside"):
        questions.answered(questions.Draft("mm", {"sides.thickness": 40}), BY_KEY["box.width"], "40")


@pytest.mark.parametrize(("width", "works"), [(150, "60 mm"), (100, "The value in brackets works")])
def test_a_limit_is_offered_only_where_it_works(width: int, works: str) -> None:
    """Sides of 60 mm leave room in a box of 150, and none in one of 100."""
    draft = questions.Draft("mm", {"box.width": width})
    with pytest.raises(CannotBuild, match=r"must be from 0\.4 mm to 60 mm; it is 200 mm") as refused:
        questions.answered(draft, BY_KEY["sides.thickness"], "200")
    assert "line" not in refused.value.says("mm")  # there is no file yet
    assert works in refused.value.says("mm")


@pytest.mark.parametrize("part", sorted(questions.OPTIONAL))
def test_a_part_that_is_not_wanted_is_left_out(part: str) -> None:
    draft = questions.Draft("mm", {})
    for other in questions.OPTIONAL:
        draft = draft if other == part else draft.with_part(other)
    read = reading.read(questions.made(draft).text, "file")
    assert getattr(read, part) is None
    assert part != "groove" or read.bottom is None
    assert all(getattr(read, other) for other in questions.OPTIONAL if other != part)


@pytest.mark.slow
def test_a_part_that_does_not_fit_is_said_and_not_asked_for() -> None:
    small = questions.Draft("mm", {"box.length": 40, "box.width": 30, "sides.thickness": 3, "box.height": 20})
    refused = questions.room_for(small, "groove")
    assert refused
    assert "150 mm is the shortest" in refused.says("mm")
    assert questions.room_for(small, "shell")
    assert questions.room_for(small, "lid") is None


def test_a_shell_that_is_offered_fits_a_low_front() -> None:
    """On boards of 60 mm a shell of 60 × 40 mm reaches over the groove."""
    low = questions.Draft("mm", {"box.height": 60}).with_part("groove").with_part("shell")
    assert questions.room_for(low, "shell") is None
    again, effect = questions.answered(low, BY_KEY["shell.width"], questions.offered(low, BY_KEY["shell.width"]))
    assert effect
    worked = questions.made(again).worked
    assert worked.shell
    assert not worked.shell.over_groove


def test_a_wide_bottom_is_quarter_sawn_where_it_holds_no_other_way() -> None:
    wide: dict[str, new.Value] = {
        "box.length": "9-1/2",
        "box.width": 12,
        "sides.thickness": "3/8",
        "sides.species": "sugar maple",
    }
    draft = questions.Draft("in", wide).with_part("groove")
    assert questions.made(draft).values["bottom.rings"] == "quarter"
    assert "quarter-sawn" in questions.answered(draft, BY_KEY["bottom.thickness"], "3/8")[1]
    assert questions.made(questions.Draft("in", {}).with_part("groove")).values["bottom.rings"] == "flat"


def test_who_was_asked_for_no_boards_is_told_of_none() -> None:
    for units in ("mm", "in"):
        worked = chain.work_out(reading.read(questions.usual_text(units), "file"))
        assert worked.file.stock
        assert worked.file.stock.boards == ()
        assert not [problem for problem in worked.problems if problem.where.startswith("stock.boards")]


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_board_that_is_shown_can_be_written_between_the_brackets(units: Units) -> None:
    text = questions.usual_text(units)
    shown = re.search(r"between the brackets: (\{.*\})", text)
    assert shown
    worked = chain.work_out(reading.read(text.replace("boards = []", f"boards = [{shown[1]}]"), "file"))
    assert worked.stock
    assert worked.stock.plan
    first = worked.stock.plan.boards[0].pieces[0]
    assert first.name == worked.stock.strips[0].name


# -- commented values

ANSWERS: dict[Units, dict[str, st.SearchStrategy[str]]] = {
    "mm": {
        "box.length": st.integers(120, 500).map(str),
        "box.width": st.integers(100, 400).map(str),
        "sides.thickness": st.decimals(6, 18, places=1).map(str),
        "sides.species": st.sampled_from(["black cherry", "sugar maple", "teak"]),
        "box.height": st.integers(50, 160).map(str),
        "joint.finger": st.sampled_from(["5", "6", "8", "10", "12.7", "1/2 in"]),
        "groove.cutter": st.sampled_from(["3", "4", "5.9", "6", "1/4 in"]),
        "bottom.material": st.sampled_from(["solid", "plywood"]),
        "bottom.thickness": st.decimals(4, 12, places=1).map(str),
        "lid.thickness": st.decimals(12, 30, places=1).map(str),
        "handle.saw": st.decimals(25, 60, places=1).map(str),
        "shell.width": st.integers(20, 90).map(str),
    },
    "in": {
        "box.length": st.sampled_from(["6", "7-1/2", "9 1/2", "12.3", "250 mm"]),
        "box.width": st.sampled_from(["4-1/2", "5", "6 3/8", "8.77"]),
        "sides.thickness": st.sampled_from(["3/8", "1/2", ".47", "5/8", "12 mm"]),
        "sides.species": st.sampled_from(["black walnut", "sugar maple", "teak"]),
        "box.height": st.sampled_from(["2-1/2", "3 1/2", "4.37", "5-1/2"]),
        "joint.finger": st.sampled_from(["1/4", "3/8", "1/2", "10 mm"]),
        "groove.cutter": st.sampled_from(["1/8", "3/16", "1/4", "6 mm"]),
        "bottom.material": st.sampled_from(["solid", "plywood"]),
        "bottom.thickness": st.sampled_from(["1/4", "3/8", "0.3", ".205", "1/2"]),
        "lid.thickness": st.sampled_from(["5/8", "3/4", ".8", "1", "1-1/8"]),
        "handle.saw": st.sampled_from(["1", "1-1/4", "1.52", "2-1/8"]),
        "shell.width": st.sampled_from(["1", "1-3/4", "2-1/2", "3.3"]),
    },
}


@st.composite
def drawn_up(draw: st.DrawFn) -> questions.Made:
    """Return what somebody answers: any part or none, each question with something or with what is offered."""
    units: Units = draw(st.sampled_from(["mm", "in"]))
    draft = questions.Draft(units, {})
    for part in draw(st.sets(st.sampled_from(sorted(questions.OPTIONAL)))):
        draft = draft if questions.room_for(draft, part) else draft.with_part(part)
    for question in questions.QUESTIONS:
        drawn = ANSWERS[units].get(question.key, st.nothing())
        answer = draw(st.just("") | drawn)
        if question.section not in draft.sections or not answer:
            continue
        with contextlib.suppress(CannotBuild):  # refused: what is offered is taken
            draft, _ = questions.answered(draft, question, answer)
    return questions.made(draft)


def uncommented(text: str) -> Iterator[tuple[str, str]]:
    """Yield each key that is a comment, with the text in which it is none."""
    for found in re.finditer(r"^# (?=\w+ = )", text, re.MULTILINE):
        yield text[found.end() :].split(" ", maxsplit=1)[0], text[: found.start()] + text[found.end() :]


def told(worked: chain.Box) -> set[tuple[str, str]]:
    """Return what is said of a box: where fingers are asked for it is said of their number, else of the boards."""
    return {(problem.severity, problem.rule) for problem in worked.problems}


def differing(was: Any, now: Any, close: float, path: str = "") -> Iterator[str]:
    """Yield what differs between two reports by more than a length that is written may be off, and what follows."""
    if isinstance(was, dict):
        assert was.keys() == now.keys()
        for key in was.keys() - {"problems"}:
            yield from differing(was[key], now[key], close, f"{path}.{key}")
    elif isinstance(was, list):
        assert len(was) == len(now), path
        for number, (one, other) in enumerate(zip(was, now, strict=True)):
            yield from differing(one, other, close, f"{path}.{number}")
    elif isinstance(was, float) and isinstance(now, float):
        # A radius of a crown is a square over what was rounded: it moves by a share, not by a length.
        if abs(was - now) > max(close, 0.002 * abs(was)):
            yield f"{path}: {was}, then {now}"
    elif was != now:
        yield f"{path}: {was}, then {now}"


@pytest.fixture
def _predicted_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """What becomes of many joints takes most of the time of a report, and depends on nothing but what it is given."""
    monkeypatch.setattr(predict, "predict", functools.cache(predict.predict))


@pytest.mark.usefixtures("_predicted_once")
@settings(
    max_examples=examples(15, 400),
    suppress_health_check=[HealthCheck.function_scoped_fixture, HealthCheck.too_slow],
)
@given(drawn_up())
def test_a_commented_value_is_the_one_in_use(made: questions.Made) -> None:
    """Whoever takes a # away has the same box, but for the rounding of what is written, and is told nothing new."""
    text = made.text
    before = chain.work_out(reading.read(text, "file"))
    assert not before.stopped
    assert not [problem for problem in before.problems if problem.where.startswith("stock.boards")]
    was = chain.as_data(before)
    close = 0.03 if before.file.units == "mm" else 0.02
    keys = []
    for key, changed in uncommented(text):
        keys.append(key)
        after = chain.work_out(reading.read(changed, "file"))
        assert list(differing(was, chain.as_data(after), close)) == [], key
        assert told(after) <= told(before), key
    assert {"rings", "ends_species", "machine", "method", "kerf", "trim"} <= set(keys)
    assert ("from_bottom" in keys, "crown" in keys, "neck" in keys, "bulge" in keys) == tuple(
        getattr(before.file, part) is not None for part in ("groove", "lid", "handle", "shell")
    )


@pytest.mark.parametrize("units", ["mm", "in"])
def test_all_comments_taken_away_leave_the_same_box(units: Units) -> None:
    text = questions.usual_text(units)
    before = chain.work_out(reading.read(text, "file"))
    after = chain.work_out(reading.read(re.sub(r"(?m)^# (?=\w+ = )", "", text), "file"))
    assert list(differing(chain.as_data(before), chain.as_data(after), 0.03)) == []
    assert told(after) <= told(before)


@pytest.mark.parametrize(("units", "length"), [("mm", 200), ("in", "7-1/2")])
def test_start_writes_a_file_that_check_takes(tmp_path: Path, units: Units, length: object) -> None:
    path = tmp_path / "box.toml"
    ran = CliRunner().invoke(main, ["start", str(path), "--yes", "--units", units])
    assert (ran.exit_code, ran.stdout) == (0, f"{path}\n")
    assert f"Look at the sizes:     jigleaf check {path}" in ran.stderr
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
    answers = iter(
        ["Tea box", "220", "", "twelve", "11", "walnut", "n", "", "", "", "y", "", "", "", "", "n", "n", "n"]
    )
    said = _talk(master, answers)
    assert process.wait(timeout=30) == 0
    os.close(master)
    read = reading.load(path)
    assert (read.title, read.box.length, read.sides.thickness) == ("Tea box", 220, 11)
    assert read.groove
    assert (read.lid, read.handle, read.shell) == (None, None, None)
    assert "Lengths are in millimetres. You can add a unit" in said
    assert "no number in it" in said
    assert "inside 198 mm by 128 mm" in said
    assert "; end boards are stopped;" in " ".join(said.split())


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")
@pytest.mark.parametrize("units", ["mm", "in"])
def test_who_presses_enter_gets_what_yes_writes(tmp_path: Path, units: Units) -> None:
    path, plain = tmp_path / "asked.toml", tmp_path / "yes.toml"
    said = _asked(path, units, itertools.repeat("", 40))
    assert ("Lengths are in inches." in said) == (units == "in")
    assert CliRunner().invoke(main, ["start", str(plain), "--yes", "--units", units]).exit_code == 0
    assert path.read_text() == plain.read_text()


@pytest.mark.slow
@pytest.mark.skipif(sys.platform == "win32", reason="needs a pseudo-terminal")
def test_what_is_offered_always_leads_to_the_end(tmp_path: Path) -> None:
    """Boards of 60 mm: what is offered for the shell fits, after an answer that does not as well."""
    path = tmp_path / "low.toml"
    answers = ["Low", *[""] * 5, "60", *[""] * 14, "400", *[""] * 10]
    said = " ".join(_asked(path, "mm", iter(answers)).split())
    assert said.count("How wide is the carved fan shell?") == 2
    assert reading.load(path).shell


def _asked(path: Path, units: Units, answers: Iterator[str]) -> str:
    """Return what the questions for a new file say, answered at a terminal."""
    import pty  # noqa: PLC0415 - not on every system

    master, terminal = pty.openpty()
    command = [sys.executable, "-m", "cli", "start", str(path), "--units", units]
    process = subprocess.Popen(command, stdin=terminal, stdout=terminal, stderr=terminal)
    os.close(terminal)
    said = _talk(master, answers)
    assert process.wait(timeout=30) == 0
    os.close(master)
    return said


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
