"""Whatever is read: it is read, or refused with a message and an exit code, soon, in little memory; nothing is written.

What is made to harm is in tests/corpus.py. Small files are read in this process, bombs in one with little memory.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

import pytest
from click.testing import CliRunner, Result
from hypothesis import given, settings
from hypothesis import strategies as st

import cli
from jigs.base import lengths
from jigs.base.errors import CannotRead, JigleafError
from jigs.base.lengths import Units
from jigs.box import questions
from jigs.boxfile import change as boxfile_change
from jigs.boxfile import reading
from jigs.course import class_list
from jigs.course.class_list import RowRefused
from layout.carry import embedded, short_form
from layout.printer import kept as printer_kept
from layout.sheet import carried
from tests import corpus, processes
from tests.corpus import Made

BASE = reading.read(corpus.LEAST, "box.toml")


def written(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*")}


def ended(result: Result) -> str:
    """Return the messages of a command that has said what is wrong and written nothing."""
    assert isinstance(result.exception, SystemExit | None), result.exception
    assert result.exit_code in (1, 2, 3)
    assert result.stdout == ""
    said = result.stderr
    assert said.strip()
    assert len(said) < 10_000
    assert all(letter.isprintable() or letter == "\n" for letter in said)
    return " ".join(said.split())


def refused(*words: str) -> str:
    return ended(CliRunner().invoke(cli.main, list(words)))


def numbered(files: Mapping[str, Made]) -> list[object]:
    """Return the cases with their names; pytest shows no odd letters of theirs."""
    return [pytest.param(made, id=ascii(name)) for name, made in files.items()]


@pytest.fixture(autouse=True)
def patience(monkeypatch: pytest.MonkeyPatch) -> None:
    """A busy machine is no fault of a file; bombs are read by processes of their own, which keep their limit."""
    monkeypatch.setattr(embedded, "_PATIENCE", 60.0)


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The folder a command is typed in: short paths are not broken over lines."""
    monkeypatch.chdir(tmp_path)
    return tmp_path


# -- small files ---------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("made", numbered(corpus.BOX_FILES))
def test_a_box_file(made: Made, here: Path) -> None:
    (here / "box.toml").write_bytes(made())
    assert refused("draw", "box.toml", "-o", "out").startswith(("box.toml", "Error: "))
    assert written(here) == {"box.toml"}


LISTS = [("list.csv", made) for made in corpus.ROSTERS.values()]
LISTS += [("list.toml", made) for made in corpus.TOML_ROSTERS.values()]


@pytest.mark.parametrize(("name", "made"), LISTS)
def test_a_class_list(name: str, made: Made, here: Path) -> None:
    """Where rows can be read and none can be made, only what is known of the class is written."""
    (here / name).write_bytes(made())
    (here / "box.toml").write_text(corpus.LEAST)
    said = refused("class", name, "--box", "box.toml", "-o", "out")
    assert said.startswith((name, "Error: row "))
    assert written(here) <= {name, "box.toml", "out", "out/shared", "out/summary.json", "out/.jigleaf.state"}


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setattr(printer_kept, "folder", lambda: tmp_path)
    return tmp_path / "printers.json"


@pytest.mark.parametrize("made", numbered(corpus.PRINTERS))
def test_what_is_kept_of_printers(made: Made, kept: Path) -> None:
    kept.write_bytes(made())
    said = refused("calibrate", "--list")
    assert "Can't read the printers in" in said or "damaged" in said
    assert "correct the file or move it away" in said or "a newer jigleaf" in said


def test_a_pipe_is_not_waited_for(kept: Path) -> None:
    import os  # noqa: PLC0415 - only here

    os.mkfifo(kept)
    assert "it is not a file" in refused("calibrate", "--list")


def test_a_file_of_printers_too_large_to_be_one_is_refused(kept: Path) -> None:
    kept.write_bytes(b"#" * 200_001)
    assert "it has more than 200 kB" in refused("calibrate", "--list")


@pytest.mark.slow
@pytest.mark.parametrize("made", numbered({**corpus.PDFS, **corpus.SVGS}))
def test_a_sheet(made: Made, here: Path) -> None:
    (here / "sheet").write_bytes(made())
    assert refused("reopen", "sheet", "-o", "out.toml").startswith(("sheet ", "sheet: ", "what the sheet carries"))
    assert written(here) == {"sheet"}


@pytest.mark.parametrize("made", numbered(corpus.PDFS_READ))
def test_a_sheet_that_is_odd_gives_back_what_it_carries(made: Made, here: Path) -> None:
    (here / "sheet").write_bytes(made())
    result = CliRunner().invoke(cli.main, ["reopen", "sheet", "-o", "out.toml"])
    assert (result.exit_code, result.stderr) == (0, "")
    assert (here / "out.toml").read_bytes() == b"[box]"
    assert written(here) == {"sheet", "out.toml"}


@pytest.mark.parametrize("made", numbered(corpus.SETTINGS))
def test_damaged_settings_of_a_jig(made: Made, here: Path) -> None:
    (here / "sheet.svg").write_bytes(corpus.svg(made(), "jigleaf 1 jig"))
    said = refused("reopen", "sheet.svg", "--set", "proud=0.2", "-o", "out")
    assert said.startswith(
        ("x.toml, line ", "x.toml: ", "x.toml has ", "the file in the sheet is damaged: it is not UTF-8 text")
    )
    assert len(said) < 8000
    assert written(here) == {"sheet.svg"}


JIG_FILES = {name: made for name, made in corpus.SETTINGS.items() if name not in ("no jig", "no text", "nothing")}
"""Those that are jig files by their look."""


@pytest.mark.parametrize("made", numbered(JIG_FILES))
@pytest.mark.parametrize("command", ["check", "draw", "tune", "reopen"])
def test_a_damaged_jig_file(made: Made, command: str, here: Path) -> None:
    (here / "jig.toml").write_bytes(made())
    assert refused(command, "jig.toml").startswith(("jig.toml, line ", "jig.toml: ", "jig.toml has "))
    assert written(here) == {"jig.toml"}


def test_a_cut_pdf_is_refused_wherever_it_is_cut(tmp_path: Path) -> None:
    whole = corpus.pdf(corpus.CARRYING)
    for end in range(9, len(whole) - 1, 7):
        (tmp_path / "sheet").write_bytes(whole[:end])
        try:
            assert embedded.load(tmp_path / "sheet").content == b"[box]"
        except CannotRead as error:
            assert "sheet" in str(error)  # noqa: PT017 - it is read or refused


# -- bombs ---------------------------------------------------------------------------------------------------------


def bombs(files: Mapping[str, Made]) -> list[object]:
    return [pytest.param(made, id=name) for name, made in files.items()]


def soon(tmp_path: Path, *words: str, **environment: str) -> str:
    """Return the messages of a process with little memory that ends soon."""
    before = written(tmp_path)
    env = processes.environment(**environment)
    found = processes.run(*words, cwd=tmp_path, env=env)
    assert found.code in (1, 2), found.err
    assert "Traceback" not in found.err
    assert "Memory" not in found.err
    assert len(found.err) < 10_000
    assert (found.out, written(tmp_path)) == ("", before)
    return found.said


@pytest.mark.slow
@pytest.mark.parametrize("made", bombs(corpus.BOX_BOMBS))
def test_a_bomb_for_a_box_file(made: Made, tmp_path: Path) -> None:
    (tmp_path / "box.toml").write_bytes(made())
    assert soon(tmp_path, "check", "box.toml").startswith("box.toml")


@pytest.mark.slow
@pytest.mark.parametrize(("name", "made"), [
    *(pytest.param("list.csv", made, id=f"csv {name}") for name, made in corpus.ROSTER_BOMBS.items()),
    *(pytest.param("list.toml", made, id=f"toml {name}") for name, made in corpus.TOML_ROSTER_BOMBS.items()),
])  # fmt: skip
def test_a_bomb_for_a_class_list(name: str, made: Made, tmp_path: Path) -> None:
    (tmp_path / name).write_bytes(made())
    (tmp_path / "box.toml").write_text(corpus.LEAST)
    assert soon(tmp_path, "class", name, "--box", "box.toml", "-o", "out").startswith(name)


@pytest.mark.slow
@pytest.mark.parametrize("made", bombs(corpus.PRINTER_BOMBS))
def test_a_bomb_for_the_printers(made: Made, tmp_path: Path) -> None:
    (tmp_path / "jigleaf").mkdir()
    (tmp_path / "jigleaf" / "printers.json").write_bytes(made())
    said = soon(tmp_path, "calibrate", "--list", XDG_CONFIG_HOME=str(tmp_path))
    assert "it has more than 200 kB" in said


@pytest.mark.slow
@pytest.mark.parametrize("made", bombs({**corpus.PDF_BOMBS, **corpus.SVG_BOMBS}))
def test_a_bomb_for_a_sheet(made: Made, tmp_path: Path) -> None:
    (tmp_path / "sheet").write_bytes(made())
    assert soon(tmp_path, "reopen", "sheet", "-o", "out.toml")


@pytest.mark.slow
@pytest.mark.parametrize("made", bombs(corpus.DRAWING_BOMBS))
def test_a_bomb_for_a_drawing(made: Made, tmp_path: Path) -> None:
    (tmp_path / "d.svg").write_bytes(made())
    assert soon(tmp_path, "pattern", "d.svg", "--width", "60").startswith("d.svg")


def test_a_sheet_that_takes_too_long_is_left(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    import time  # noqa: PLC0415 - only here

    def slow(content: bytes, path: str) -> list[carried.Carried]:
        del content, path
        time.sleep(1)
        return []

    monkeypatch.setattr(embedded, "_PATIENCE", 0.05)
    monkeypatch.setattr(embedded, "_in_svg", slow)
    (tmp_path / "sheet").write_bytes(b"<svg/>")
    with pytest.raises(CannotRead, match=r"sheet can't be read within 0.05 seconds"):
        embedded.load(tmp_path / "sheet")


# -- anything ------------------------------------------------------------------------------------------------------


def parts(*made: Made) -> list[bytes]:
    """Return small files whole and in pieces, as what others are made of."""
    small = [content for one in made if len(content := one()) < 3000]
    return [*small, *(line + b"\n" for content in small for line in content.split(b"\n"))]


def pieced(seeds: list[bytes]) -> st.SearchStrategy[bytes]:
    """Files pieced together from others and from anything."""
    few = [part.encode() for part in corpus.HARMFUL] + [number.encode()[:500] for number in corpus.NUMBERS]
    piece = st.sampled_from(seeds) | st.sampled_from(few) | st.binary(max_size=20)
    return st.lists(piece, min_size=1, max_size=6).map(b"".join)


def says(error: JigleafError) -> None:
    units: Units
    for units in ("mm", "in"):
        assert 0 < len(error.says(units).strip()) < 10_000


LIKE_A_LENGTH = st.from_regex(r"[-+]?[0-9¼½]{0,4}[ .,/-]?[0-9]{0,5}( ?(mm|in|\"|m))?", fullmatch=True)


@settings(max_examples=200)
@given(st.text(max_size=45) | st.sampled_from(corpus.NUMBERS) | LIKE_A_LENGTH)
def test_any_text_is_a_length_or_is_refused(typed: str) -> None:
    units: Units
    for units in ("mm", "in"):
        try:
            found = lengths.read(typed, units)
        except lengths.LengthError as error:
            said = str(error)
            assert "write " in said
            assert said.isprintable()
        else:
            assert abs(lengths.read(lengths.show(found, "mm"), "mm") - found) <= lengths.ROUNDING["mm"]


BOXES = parts(*corpus.BOX_FILES.values(), corpus.text(questions.usual_text("mm")))


@settings(max_examples=100)
@given(pieced(BOXES))
def test_any_text_is_a_box_file_or_is_refused(content: bytes) -> None:
    text = content.decode(errors="replace")
    for act in (
        lambda: reading.read(text, "b"),
        lambda: boxfile_change.set_values(text, {"joint.finger": "8", "lid.crown": 3.0}),
        lambda: boxfile_change.box_with(text, {"title": "a"}, "b"),
    ):
        try:
            act()
        except JigleafError as error:
            says(error)


@settings(max_examples=100)
@given(st.booleans(), pieced(parts(*corpus.ROSTERS.values(), *corpus.TOML_ROSTERS.values())))
def test_any_bytes_are_a_class_list_or_are_refused(toml: bool, content: bytes) -> None:
    try:
        found = class_list.read(content, "list", toml=toml)
    except JigleafError as error:
        says(error)
        return
    for row in found.rows[:3]:
        assert row.name.isprintable()
        try:
            class_list.resolve(row, BASE)
        except RowRefused as error:
            assert all(fault.says("mm").strip() for fault in error.faults)  # noqa: PT017 - the same


@settings(max_examples=100)
@given(content=pieced(parts(*corpus.PRINTERS.values())))
def test_any_bytes_are_printers_or_are_refused(content: bytes, tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("printers")
    (folder / "printers.json").write_bytes(content)
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(printer_kept, "folder", lambda: folder)
        try:
            assert all(found.words for found in printer_kept.known().values())
        except JigleafError as error:
            says(error)


def damaged(whole: bytes) -> st.SearchStrategy[bytes]:
    """A file with a few of its bytes changed, doubled or gone."""

    def change(hurts: list[tuple[int, int, bytes]]) -> bytes:
        content = whole
        for at, gone, put in hurts:
            content = content[: at % len(content)] + put + content[at % len(content) + gone :]
        return content

    tokens = [b"", b"<<", b">>", b"0 R", b"<", b"]", b"\0", b"/Kids[2 0 R]", b"99999999"]
    hurt = st.tuples(st.integers(0, 9999), st.integers(0, 9), st.sampled_from(tokens) | st.binary(max_size=9))
    return st.lists(hurt, min_size=1, max_size=4).map(change)


SHEETS = [*(made() for made in corpus.PDFS_READ.values()), corpus.svg(b"[box]")]


@settings(max_examples=100)
@given(content=st.sampled_from(SHEETS).flatmap(damaged) | pieced(SHEETS))
def test_any_bytes_are_a_sheet_or_are_refused(content: bytes, tmp_path_factory: pytest.TempPathFactory) -> None:
    folder = tmp_path_factory.mktemp("sheet")
    (folder / "sheet").write_bytes(content)
    try:
        found = embedded.load(folder / "sheet")
    except JigleafError as error:
        says(error)
    else:
        assert Path(found.name).name == found.name
        assert found.name.isprintable()


@settings(max_examples=100)
@given(st.sampled_from(["sled mm ", "box in ", ""]), st.text(max_size=60), st.sampled_from(corpus.NUMBERS))
def test_any_text_is_a_code_or_is_refused(head: str, tail: str, number: str) -> None:
    text = f"{short_form.START}1 {head}finger={number[:99]} {tail}"
    try:
        short = short_form.read(text)
        if short.family == "box":
            reading.read(short_form.box_text(short), "b")
    except JigleafError as error:
        says(error)


def test_the_corpus_is_the_same_in_every_run() -> None:
    everything: list[Mapping[str, Made]] = [
        corpus.BOX_FILES,
        corpus.ROSTERS,
        corpus.PRINTERS,
        corpus.PDFS,
        corpus.SVGS,
        corpus.DRAWINGS,
    ]
    for files in everything:
        assert [made() for made in files.values()] == [made() for made in files.values()]
