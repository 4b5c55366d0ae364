"""The class list: any dialect in, one box file a student out, and every fault by row and column."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.rules import Problem
from jigs.box import chain
from jigs.boxfile import change, reading
from jigs.boxfile.sections import BoxFile
from jigs.course import class_list
from jigs.course.class_list import Roster, Row, RowRefused
from jigs.record import replace
from tests.conftest import examples
from tests.soundness import unworkable

SAMPLES = Path(__file__).parent.parent / "samples"
BASE = reading.load(SAMPLES / "recipe-box.toml")
TABLE = "name,box.length,joint.clearance\nZoë,240,\nПётр,,0.12\n"


def read(text: str, encoding: str = "utf-8") -> Roster:
    return class_list.read(text.encode(encoding), "list.csv")


def refused(text: str) -> list[str]:
    """Return what is said of the rows of a list, those that can't be read and those that give no box."""
    found = read(text)
    said = [fault.says("mm") for fault in found.faults]
    for row in found.rows:
        try:
            class_list.resolve(row, BASE)
        except RowRefused as error:
            said += [fault.says("mm") for fault in error.faults]
    return said


def values(found: Roster) -> list[tuple[str, dict[str, object]]]:
    return [(row.name, dict(row.values)) for row in found.rows]


@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16", "utf-16-le", "utf-16-be", "utf-32"])
@pytest.mark.parametrize("delimiter", [",", ";", "\t", "|"])
@pytest.mark.parametrize("line_end", ["\n", "\r\n", "\r"])
def test_any_common_dialect_reads_alike(encoding: str, delimiter: str, line_end: str) -> None:
    """RFC 4180 and what spreadsheets make of it."""
    text = TABLE.replace(",", delimiter).replace("\n", line_end)
    assert values(read(text, encoding)) == [("Zoë", {"box.length": "240"}), ("Пётр", {"joint.clearance": "0.12"})]


def test_windows_letters_are_read_with_a_remark() -> None:
    found = read("name;box.length\nZoë;240\n", "cp1252")
    assert values(found) == [("Zoë", {"box.length": "240"})]
    assert found.remarks == (
        "list.csv, line 2: the text is not UTF-8 and was read as Windows-1252; check that the names are right",
    )


def test_the_line_that_names_the_separator_is_no_row() -> None:
    found = read('sep=;\r\nName;Box.Length\r\n"Ann; or Anne";240,5\r\n')
    assert values(found) == [("Ann; or Anne", {"box.length": "240,5"})]
    assert class_list.resolve(found.rows[0], BASE).box.length == 240.5
    assert found.rows[0].number == 2  # as the spreadsheet counts, which hides that line


def test_rows_are_counted_as_a_spreadsheet_does() -> None:
    found = read('name,box.length\n"Ann\nLee",\n\n,\nBo,3\n')
    assert [(row.number, row.name) for row in found.rows] == [(2, "Ann Lee"), (5, "Bo")]


def test_an_empty_cell_falls_back_to_the_box_file() -> None:
    row = read("name,box.length,lid.crown\nAnn,,  \n").rows[0]
    assert class_list.resolve(row, BASE) == BASE


def test_a_finger_as_good_as_the_files_own_keeps_its_cutter() -> None:
    """A box whose fingers of 10 mm take several passes of 6 mm: 10.02 mm takes them too, 12 mm is nobody's guess."""
    base = reading.read(
        'units = "mm"\n[box]\nlength = 200\nwidth = 150\nheight = 92\n[sides]\nthickness = 12\n'
        "[joint]\nfinger = 10\ncutter = 6\n",
        "six.toml",
    )
    near, far = read("name,joint.finger\nAnn,10.02\nBo,12\n").rows
    assert class_list.resolve(near, base).joint.cutter == 6
    with pytest.raises(RowRefused):
        class_list.resolve(far, base)


def test_toml_holds_the_same() -> None:
    text = '[[students]]\nname = "Ann"\nbox.length = 240\n[[students]]\nname = "Bo"\n"joint.finger" = "8 mm"\n'
    found = class_list.read(text.encode(), "list.toml", toml=True)
    assert values(found) == [("Ann", {"box.length": 240}), ("Bo", {"joint.finger": "8 mm"})]


@pytest.mark.parametrize(
    ("heading", "says"),
    [
        ("name,joint.fingr", "column B: there is no column 'joint.fingr'; did you mean 'joint.finger'"),
        ("nmae,box.length", "column A: there is no column 'nmae'; did you mean 'name'?"),
        ("name,finger", "column B: there is no column 'finger'; did you mean 'joint.finger'?"),
        ("name,Box.Length,box.length", "column C: 'box.length' is there twice; delete one of them"),
        ("name,units", "'units' can't be a column: every bare number of the box file would change its meaning"),
        ("name,stock.boards", "there is no column 'stock.boards'"),
        ("box.length,box.width", "there is no column 'name'"),
    ],
)
def test_a_column_that_is_not_understood_is_named(heading: str, says: str) -> None:
    with pytest.raises(CannotRead) as error:
        read(f"{heading}\nAnn,1,1\n")
    assert says in str(error.value)


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name,box.length\n,240\n", "row 2, column A (name): The name is missing"),
        ("name,box.length\nAnn,9,5\n", "row 2 (Ann): There is something in column C, which has no heading. Put a cell"),
        (
            "name,box.length\nAnn,3\n",
            "row 2 (Ann), column B (box.length): Outside length along the front must be from 10 mm to 2000 mm; "
            "it is 3 mm. The nearest that works is 10 mm",
        ),
        ("name;shell.lobes\nAnn;7,5\n", "row 2 (Ann), column B (shell.lobes): '7,5' can't be read"),
        ("name,lid.crown\nAnn,=cmd|x\n", "row 2 (Ann), column B (lid.crown): '=cmd|x' has no number in it"),
        ("name,joint.machine\nAnn,plane\n", "row 2 (Ann), column B (joint.machine): Must be 'router table' or"),
        (
            "name,joint.finger\nAnn,12\n",
            "row 2 (Ann), joint.cutter: A finger of 12 mm is wider than the box file's cutter of 10.02 mm, and "
            "[[cutters]] lists none for it. Measure a cutter for it in wood and list it, or add a column joint.cutter",
        ),
    ],
)
def test_a_fault_is_said_by_row_and_column(text: str, says: str) -> None:
    assert refused(text)[0].startswith(says)


def test_all_faults_are_said_and_no_other_row_is_lost() -> None:
    text = "name,box.length,lid.crown,joint.finger\nAnn,3,x,12\nBo,240,,\n,1,,\nCy,1,,\n"
    said = refused(text)
    assert len(said) == 5
    assert [words.split(" ")[1] for words in said] == ["4,", "2", "2", "2", "5"]
    assert class_list.resolve(read(text).rows[1], BASE).box.length == 240


def test_another_finger_picks_its_measured_cutter() -> None:
    """samples/recipe-box.toml lists 7.97 mm for a finger of 8 mm."""
    row = read("name,joint.finger\nAnn,8\n").rows[0]
    assert class_list.resolve(row, BASE).joint.cutter == 7.97
    given_too = read("name,joint.finger,joint.cutter\nAnn,8,8.02\n").rows[0]
    assert class_list.resolve(given_too, BASE).joint.cutter == 8.02


def test_one_name_for_two_people_is_numbered() -> None:
    assert [row.name for row in read("name\nAnn\nann\nAnn\nAnn (2)\n").rows] == ["Ann", "ann", "Ann (3)", "Ann (2)"]


def test_a_name_is_fit_to_be_printed() -> None:
    """Unicode TR 36: marks that turn the writing round are not part of a name."""
    assert read('name\n"  A\u202enn\u0000\tLee  "\n'.replace("\u0000", "")).rows[0].name == "Ann Lee"


@pytest.mark.parametrize(
    ("content", "says"),
    [
        (b"", "there is no column 'name'"),
        (b"name\n", "the list names nobody; add a row for each student"),
        (b"name\n\x81\xff\n", "not text in UTF-8, UTF-16 or Windows-1252"),
        (b"name\n" + b"a\n" * 5001, "more than 5000 rows"),
        (b"name," + b"a," * 500 + b"x\n", "list.csv has 502 columns; a class list has at most 500"),
        (b"name," + b"a," * 300 + b"x\n", "column U: there is no column 'a'; .*\nlist.csv: and 281 more$"),
        (b'name\n"' + b"a" * 200_000, "line 2: is no table: field larger than field limit"),
    ],
)
def test_what_is_no_list_is_refused(content: bytes, says: str) -> None:
    with pytest.raises(CannotRead, match=says):
        class_list.read(content, "list.csv")


def test_toml_that_holds_anything_else_is_no_list() -> None:
    with pytest.raises(CannotRead, match=r"list: a class list holds \[\[students\]\] and nothing else; there is 'box'"):
        class_list.read(b"[box]\nlength = 240\n", "list", toml=True)


def test_a_list_that_is_not_there_is_named(tmp_path: Path) -> None:
    large = tmp_path / "large.csv"
    large.write_bytes(b"#" * 5_000_001)
    with pytest.raises(CannotRead, match="has more than 5 MB; a class list has a few kB"):
        class_list.load(large)
    with pytest.raises(CannotRead, match="there is no such file"):
        class_list.load(tmp_path / "none.csv")
    with pytest.raises(CannotRead, match="is a folder"):
        class_list.load(tmp_path)


@given(st.binary(max_size=300))
def test_any_bytes_are_a_list_or_are_refused(content: bytes) -> None:
    try:
        found = class_list.read(content, "list.csv")
    except CannotRead:
        return
    assert found.rows or found.faults


cells = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), max_size=12)


@given(st.lists(st.tuples(cells, cells, cells), min_size=1, max_size=4))
def test_any_cells_give_a_box_or_a_fault_in_its_row(rows: list[tuple[str, str, str]]) -> None:
    import csv  # noqa: PLC0415 - only here
    import io  # noqa: PLC0415 - only here

    text = io.StringIO()
    csv.writer(text).writerows([("name", "box.length", "joint.finger"), *rows])
    try:
        found = read(text.getvalue())
    except CannotRead:
        return
    for row in found.rows:
        faults: tuple[class_list.Fault, ...] = ()
        made: BoxFile | None = None
        try:
            made = class_list.resolve(row, BASE)
        except RowRefused as error:
            faults = error.faults
        assert bool(made) != bool(faults)
        assert {fault.row for fault in faults} <= {row.number}


def problems_of(row: Row, base: BoxFile) -> list[Problem]:
    """Return what a class is told of a row: its faults, or what is said of its box."""
    try:
        return list(chain.work_out(class_list.resolve(row, base)).problems)
    except RowRefused as error:
        return [fault.problem for fault in error.faults]
    except CannotBuild as error:
        return [fault.problem for fault in class_list.refused_by(row, error.problems)]


def wrong_ways_out(row: Row, base: BoxFile) -> list[str]:
    """Return what is wrong with what a row is told: who types it into the cells is not told the same again."""

    def judge(changes: Mapping[str, Any]) -> list[Problem]:
        typed = {key: f"{value:.6f} mm" if isinstance(value, float) else value for key, value in changes.items()}
        return problems_of(replace(row, values={**row.values, **typed}), base)

    return unworkable(problems_of(row, base), judge, base.units)


FINGERS = [f"{tenths / 10} mm" for tenths in range(30, 180, 10)]
CELLS: dict[str, st.SearchStrategy[str]] = {
    "joint.finger": st.sampled_from(FINGERS),
    "joint.fingers": st.integers(2, 9).map(str),
    "box.length": st.integers(80, 420).map(lambda size: f"{size} mm"),
    "box.width": st.integers(60, 300).map(lambda size: f"{size} mm"),
    "box.height": st.integers(40, 140).map(lambda size: f"{size} mm"),
    "groove.from_bottom": st.integers(0, 40).map(lambda size: f"{size} mm"),
    "sides.thickness": st.integers(4, 25).map(lambda size: f"{size} mm"),
    "lid.crown": st.integers(0, 20).map(lambda size: f"{size} mm"),
    "lid.overhang": st.integers(0, 40).map(lambda size: f"{size} mm"),
    "handle.holes": st.sampled_from(["2", "3"]),
    "handle.length": st.integers(40, 300).map(lambda size: f"{size} mm"),
}


@settings(max_examples=examples(25))
@given(
    sample=st.sampled_from(["recipe-box.toml", "recipe-box-inch.toml"]),
    row=st.lists(st.sampled_from(sorted(CELLS)), min_size=1, max_size=3, unique=True).flatmap(
        lambda keys: st.fixed_dictionaries({key: CELLS[key] for key in keys})
    ),
)
def test_what_a_row_is_told_works_typed_into_its_cells(sample: str, row: dict[str, str]) -> None:
    assert wrong_ways_out(Row(2, "A", row, {key: key for key in row}), reading.load(SAMPLES / sample)) == []


@pytest.mark.slow
@pytest.mark.parametrize("sample", ["recipe-box.toml", "recipe-box-inch.toml"])
def test_the_finger_offered_for_one_without_a_cutter_has_one(sample: str) -> None:
    """Every finger from 3 to 18 mm: each that no cutter is listed for is told the nearest that works."""
    base, offered = reading.load(SAMPLES / sample), 0
    for finger in FINGERS:
        row = Row(2, "A", {"joint.finger": finger}, {"joint.finger": "joint.finger"})
        offered += sum("nearest" in problem.numbers for problem in problems_of(row, base))
        assert wrong_ways_out(row, base) == []
    assert offered > 3


def test_the_sample_class_can_be_made() -> None:
    found = class_list.load(SAMPLES / "class.csv")
    assert len(found.rows) == 8
    assert not [row.name for row in found.rows if chain.work_out(class_list.resolve(row, BASE)).stopped]


# -- more or less than the class's box has


@given(
    st.sampled_from(["box.length", "box.width", "sides.thickness", "shell.lobes"]),
    st.integers(1, 3),
    st.sampled_from(["+", "-", "−", "+ "]),
)
def test_more_or_less_is_what_check_takes_it_for(key: str, by: int, sign: str) -> None:
    """A list and `check --set` mean the same by +2: the value of the box and 2 more."""
    row = read(f"name,{key}\nAnn,{sign}{by}\n").rows[0]
    assert row.values[key] == f"{sign}{by}"
    made = class_list.resolve(row, BASE)
    section, name = key.split(".")
    was, now = (getattr(getattr(file, section), name) for file in (BASE, made))
    assert now == pytest.approx(was + (by if "+" in sign else -by), abs=1e-9)
    assert made.settings == change.box_with(BASE.source, {key: f"{sign}{by}"}, "").settings


def test_more_or_less_than_nothing_is_refused_at_its_cell() -> None:
    (said,) = refused("name,bottom.inside_length\nAnn,+1\n")
    assert said.startswith("row 2 (Ann), column B (bottom.inside_length): The file gives no value to add 1 to")
    (said,) = refused("name,box.length\nAnn,+x\n")
    assert "'x' has no number in it" in said


def test_a_number_under_nought_in_toml_is_less_as_it_is_in_words() -> None:
    text = b'[[students]]\nname = "Ann"\nbox.length = -20\n[[students]]\nname = "Bo"\nbox.length = "+20"\n'
    less, more = class_list.read(text, "list.toml", toml=True).rows
    assert class_list.resolve(less, BASE).box.length == BASE.box.length - 20
    assert class_list.resolve(more, BASE).box.length == BASE.box.length + 20


def test_a_larger_finger_by_so_much_takes_its_cutter() -> None:
    made = class_list.resolve(read("name,joint.finger\nAnn,-2\n").rows[0], BASE)
    assert made.joint.finger == BASE.joint.finger - 2
    assert made.joint.cutter == change.cutter_for(BASE, made.joint.finger)
