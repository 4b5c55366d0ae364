"""The class on the bench: a list in by hand, paste or file, every fault at its cell, and the files of the command."""

from __future__ import annotations

import base64
import hashlib
import json
import os
import re
import signal
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from flask.testing import FlaskClient
from hypothesis import given
from hypothesis import strategies as st
from lxml import html
from playwright.sync_api import Page, sync_playwright

from jigs.base.errors import CannotRead
from jigs.boxfile import reading
from jigs.course import class_list
from jigs.course import table as tables
from jigs.course.table import Table
from layout.bench.class_state import Class
from layout.bench.guard import Guard
from layout.bench.kept import Kept
from layout.bench.page import Bench
from layout.bench.server import make_app
from layout.bench.state import State
from layout.course import run as course_run
from layout.course.state import FILE
from tests.conftest import needs

SAMPLES = Path(__file__).parent.parent / "samples"
BASE = reading.load(SAMPLES / "recipe-box.toml")
LIST = (SAMPLES / "class.csv").read_text(encoding="utf-8")
FAULTY = LIST.replace("Orla Brannigan,240,160,,10", "Orla Brannigan,240,160,12,10")
PLAIN = (
    'title = "Plain box"\nunits = "mm"\n[box]\nlength = 200\nwidth = 150\nheight = 92\n[sides]\nthickness = 12\n'
    "[joint]\nfinger = 10\ncutter = 10.02\n[[cutters]]\nfinger = 10\ncutter = 10.02\n[[cutters]]\nfinger = 8\n"
    "cutter = 7.97\n"
)
HOSTILE = (
    "../../x",
    "=cmd()",
    '<img src=x onerror="window.ran=1">',
    "</script><script>window.ran=1</script>",
    "{{7*7}}",
)
PORT = 4321


@dataclass
class Seen:
    """A bench as a browser sees it: what was sent last, and the page that came back."""

    bench: Bench
    client: FlaskClient
    page: Any = None

    @property
    def one(self) -> Class:
        found: Class = self.bench.beside["class"]
        return found

    def look(self) -> Any:
        answer = self.client.get("/class", headers={"Host": f"127.0.0.1:{PORT}"})
        assert answer.status_code == 200
        self.page = html.fromstring(answer.text)
        return self.page

    def send(self, done: str, **what: Any) -> str:
        """Do something as the page does; return what is said of it."""
        what = {"version": self.bench.state.version} | what
        headers = {"Host": f"127.0.0.1:{PORT}", "Origin": f"http://127.0.0.1:{PORT}"}
        answer = self.client.post("/class", json={"do": done, **what}, headers=headers)
        assert answer.status_code == 200
        self.page = html.fromstring(answer.text)
        return words(self.page, "#told")

    def get(self, address: str) -> Any:
        return self.client.get(address, headers={"Host": f"127.0.0.1:{PORT}"}, buffered=True)

    def open(self, text: str | bytes, name: str = "class.csv") -> str:
        content = text.encode() if isinstance(text, str) else text
        return self.send("open", name=name, content=base64.b64encode(content).decode())

    def row(self, number: int) -> str:
        return words(self.page, f"#row-{number}-comes")

    def below(self, number: int) -> str:
        return words(self.page, f"#row-{number}-below")

    def cell(self, number: int, key: str) -> Any:
        (found,) = self.page.cssselect(f'[data-key="{number}/{key}"]')
        return found

    def press(self, label: str) -> str:
        """Press a button that types something into the list."""
        (button,) = [one for one in self.page.cssselect("button") if words(one) == label]
        return self.send(button.get("data-do"), typed=json.loads(button.get("data-typed")))


def words(page: Any, at: str = "") -> str:
    found = page.cssselect(at) if at else [page]
    said = " ".join(" ".join(text for one in found for text in one.itertext()).split())
    return re.sub(r" (?=[.,;:])", "", said)


def a_bench(path: Path, text: str = "") -> Seen:
    path.write_text(text or (SAMPLES / "recipe-box.toml").read_text(encoding="utf-8"), encoding="utf-8")
    bench = Bench(State.opened(Kept(path)), Guard(PORT))
    client = make_app(bench).test_client()
    client.set_cookie(bench.guard.cookie_name, bench.guard.cookie, domain="127.0.0.1")
    return Seen(bench, client)


@pytest.fixture
def seen(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Seen]:
    (tmp_path / "temporary").mkdir()
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "temporary"))
    made = a_bench(tmp_path / "recipe-box.toml")
    yield made
    made.bench.end()
    assert list((tmp_path / "temporary").iterdir()) == []


def wait(seen: Seen, seconds: float = 240.0) -> None:
    until = time.monotonic() + seconds
    while seen.one.making.at_work:
        assert time.monotonic() < until, "the run takes too long"
        time.sleep(0.1)


def contents(folder: Path) -> dict[str, str]:
    """Return a digest of every file but the state."""
    found = sorted(path for path in folder.rglob("*") if path.is_file() and path.name != FILE)
    return {str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest() for path in found}


# -- the list


def test_a_new_list_is_empty_and_shows_the_classs_values(seen: Seen) -> None:
    seen.look()
    assert words(seen.page, "#verdict").startswith("Nobody is in the list yet.")
    assert words(seen.page, "#of-the-class").startswith(
        "The class’s box 200 150 10 12 92 A4 5 fingers + 4 sockets, 89.68 high. For everybody: DANGER, GET, CHOOSE;"
    )
    assert [words(one) for one in seen.page.cssselect("#students .headings th")][1:8] == [
        *("Name", "Length", "Width", "Finger", "Sides", "Boards", "Paper")
    ]
    assert seen.page.cssselect("#make")[0].get("aria-disabled") == "true"
    assert seen.send("make").startswith("Nobody’s box can be made yet; type a list first")


def test_every_row_says_what_comes_of_it(seen: Seen) -> None:
    assert seen.open(FAULTY) == "Opened class.csv: 8 students. Undo gives the list before it."
    assert words(seen.page, "#verdict").startswith("7 of 8 can be made.")
    assert words(seen.page, "#stick .chosen") == "2 The list 1 of 8 faulty"
    assert seen.row(0) == seen.row(3) == "Fine: as the class’s box"
    assert seen.row(1) == "Fine: inside 216 × 136"
    assert seen.row(2) == "WARNING: 6 fingers + 5 sockets, 87.07 high; inside 166 × 131"
    assert seen.below(2).startswith("WARNING The groove will show unless you stop it in all four boards.")
    assert seen.row(7).startswith("GET: 6 fingers + 5 sockets, 109.62 high")
    assert seen.row(5) == "error: nothing until this is corrected."
    assert seen.below(5).startswith(
        "A finger of 12 mm is wider than the box file's cutter of 10.02 mm, and [[cutters]] lists none for it. Measure "
        "a cutter for it in wood and list it, or add a column joint.cutter, or take a finger of 10 mm."
    )


def test_a_fault_stands_at_its_cell_and_its_way_out_works(seen: Seen) -> None:
    seen.open(FAULTY)
    wrong = seen.page.cssselect("[aria-invalid]")
    assert [one.get("data-key") for one in wrong] == ["5/joint.finger"]
    assert wrong[0].get("aria-describedby") == "row-5-below"
    seen.press("Set Orla’s finger to 10")
    assert seen.cell(5, "joint.finger").get("value") == "10"
    assert words(seen.page, "#verdict").startswith("8 of 8 can be made.")
    assert not seen.page.cssselect("[aria-invalid]")


def test_a_cutter_can_be_typed_for_another_finger(seen: Seen) -> None:
    seen.open(FAULTY)
    assert seen.send("add-column", name="joint.cutter") == ""
    seen.send("type", typed={"5/joint.cutter": "12.01"})
    assert words(seen.page, "#verdict").startswith("8 of 8 can be made.")


def test_every_way_out_that_is_offered_works(seen: Seen) -> None:
    """Each button of the list is pressed: what it was there for is gone, and no row is faulty that was not."""
    seen.open(FAULTY)
    ways = [(one.get("data-typed"), words(one)) for one in seen.page.cssselect("#students button[data-typed]")]
    assert len(ways) >= 4
    for typed, label in ways:
        row = int(next(iter(json.loads(typed))).partition("/")[0])
        told = seen.below(row)
        faulty = len(seen.page.cssselect("[aria-invalid]"))
        seen.send("type", typed=json.loads(typed))
        assert seen.below(row) != told
        assert label not in seen.below(row)
        assert len(seen.page.cssselect("[aria-invalid]")) <= faulty
        seen.send("undo")


@pytest.mark.parametrize(
    ("key", "typed", "says", "way"),
    [
        (
            "box.length",
            "3000",
            "Outside length along the front must be from 10 mm to 2000 mm; it is 3000 mm.",
            "length to 2000",
        ),
        ("box.length", "x", "'x' has no number in it", "length to 200"),
        ("print.paper", "A44", "there is no paper called 'A44'; did you mean 'A4'?", "paper to A4"),
        ("joint.finger", "5", "A finger of 5 mm is narrower than the box file's cutter", "finger to 6"),
    ],
)
def test_a_faulty_cell_says_why_and_what_works(seen: Seen, key: str, typed: str, says: str, way: str) -> None:
    seen.send("type", typed={"0/name": "Ann"})
    seen.send("type", typed={f"0/{key}": typed})
    assert says.casefold() in seen.below(0).casefold()
    assert [one.get("data-key") for one in seen.page.cssselect("[aria-invalid]")] == [f"0/{key}"]
    offered = [words(one) for one in seen.page.cssselect("#students button[data-typed]")]
    assert f"Set Ann’s {way}" in offered, offered
    seen.press(f"Set Ann’s {way}")
    assert not seen.page.cssselect("[aria-invalid]")


def test_a_row_without_a_name_is_faulty_at_the_name(seen: Seen) -> None:
    seen.send("type", typed={"0/box.length": "240"})
    assert [one.get("data-key") for one in seen.page.cssselect("[aria-invalid]")] == ["0/name"]
    assert "The name is missing." in seen.below(0)


def test_two_of_one_name_are_told_apart(seen: Seen) -> None:
    seen.open("name\nAnn\nAnn\n")
    assert seen.row(1) == "Made as Ann (2). Fine: as the class’s box"


def test_rows_and_columns_are_added_and_taken_out_and_all_is_undone(seen: Seen) -> None:
    seen.open(LIST)
    seen.send("drop-student", row=0)
    assert seen.cell(0, "name").get("value") == "Joseph Adeyemi"
    seen.send("add-student")
    assert seen.cell(7, "name").get("value") == ""
    assert seen.send("add-column", typed={"column": "lid.crown"}) == ""
    seen.send("type", typed={"0/lid.crown": "4"})
    assert "Joseph, lid: crown 6 → 4" in re.sub(r"was |now ", "", words(seen.page, "#moved"))
    seen.send("drop-column", name="lid.crown")
    for _ in range(5):
        seen.send("undo")
    assert seen.one.table == tables.opened(LIST.encode(), "list")
    for _ in range(5):
        seen.send("redo")
    assert [row[0] for row in seen.one.table.rows] == [*(line.partition(",")[0] for line in LIST.splitlines()[2:]), ""]
    assert seen.bench.state.past == [seen.bench.state.file.source]  # the box was left alone


def test_undo_of_the_list_leaves_the_box_alone(seen: Seen) -> None:
    seen.send("type", typed={"0/name": "Ann"})
    assert seen.page.cssselect("#undo")[0].get("aria-disabled") is None
    seen.send("undo")
    assert seen.page.cssselect("#undo")[0].get("aria-disabled") == "true"
    assert seen.page.cssselect("#redo")[0].get("aria-disabled") is None


def test_the_strip_says_what_the_last_change_moved(seen: Seen) -> None:
    seen.open(LIST.replace("190,155,8", "190,155,10"))
    seen.send("type", typed={"2/joint.finger": "8"})
    moved = re.sub(r"was |now ", "", words(seen.page, "#moved"))
    assert moved.startswith("Ilse, finger 10 → 8 Ilse, fingers 5 fingers + 4 sockets → 6 fingers + 5 sockets ")
    assert "Ilse, height of the sides 89.68 → 87.07" in moved
    assert moved.endswith("Make again Nothing is made yet")


def test_a_change_of_the_box_changes_what_comes_of_every_row(seen: Seen) -> None:
    seen.open(LIST)
    seen.bench.state.type({"box.length": "220"})
    seen.look()
    assert words(seen.page, "#of-the-class").startswith("The class’s box 220 150")
    seen.bench.state.type({"box.length": "200", "groove.from_bottom": "89"})
    assert seen.bench.state.look.box.stopped
    seen.look()
    assert words(seen.page, "#box-stopped").startswith("The class’s box can’t be built yet.")
    assert seen.page.cssselect("#box-stopped a")[0].get("href") == "/box/groove"
    assert seen.page.cssselect("#make")[0].get("aria-disabled") == "true"
    assert seen.send("make") == "The class’s box can’t be built yet; correct it first."


def test_a_page_that_is_not_the_newest_changes_nothing(seen: Seen) -> None:
    seen.send("type", typed={"0/name": "Ann"})
    assert seen.send("type", typed={"0/name": "Bo"}, version=1).startswith("The list was changed in another window.")
    assert seen.cell(0, "name").get("value") == "Ann"


# -- pasting, opening, saving


def test_cells_of_a_spreadsheet_are_pasted_from_the_cell_on(seen: Seen) -> None:
    assert (
        seen.send("paste", at="0/name", text='Ann\t240\t\t8\n"Lee ""Bo"" X"\t\t160\n')
        == "Pasted: the list has 2 students now."
    )
    assert seen.one.table.rows == (("Ann", "240", "", "8", "", "", ""), ('Lee "Bo" X', "", "160", "", "", "", ""))
    seen.send("paste", at="1/box.width", text="155\t10\r\n165\t\r\n")
    assert [row[2:4] for row in seen.one.table.rows] == [("", "8"), ("155", "10"), ("165", "")]
    seen.send("paste", at="0/name", text='Cy,250\nDi,"1,5"\n')
    assert [row[:2] for row in seen.one.table.rows] == [("Cy", "250"), ("Di", "1,5"), ("", "")]


def test_a_list_with_headings_takes_the_place_of_the_list_in_any_order(seen: Seen) -> None:
    seen.open(LIST)
    said = seen.send("paste", at="3/box.width", text="Joint.Finger\tName\tlid.crown\n8\tAnn\t\n\tBo\t4\n")
    assert said == "Pasted: the list has 2 students now. Undo gives the old one."
    assert seen.one.table.columns[:2] == ("joint.finger", "lid.crown")
    assert [row[:3] for row in seen.one.table.rows] == [("Ann", "8", ""), ("Bo", "", "4")]
    seen.send("undo")
    assert len(seen.one.table.rows) == 8


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("name\tbox.lenght\nAnn\t240\n", "column B: there is no column 'box.lenght'; did you mean 'box.length'"),
        ("name\tfinger\nAnn\t8\n", "column B: there is no column 'finger'; did you mean 'joint.finger'?"),
        ("name\tunits\nAnn\tin\n", "'units' can't be a column"),
        ("box.length\tjoint.finger\n240\t8\n", "there is no column 'name'"),
        (
            "name\n" + "Ann\n" * 3000,
            "What you pasted would have 3000 rows, and the bench takes 200; part it, or make it",
        ),
        ("Ann\n" * 3000, "The list would have 3000 rows, and the bench takes 200"),
        ("name\n" + "Ann\n" * 5001, "more than 5000 rows; part the list"),
        ("a\t" * 9 + "\n\tb\t\t\t\t\t\t\tx\n", "is 9 columns wide, and from this cell on the list has 7; add columns"),
        ("name\tbox.length\nAnn\t9\t5\n", "There is something in column C, which has no heading."),
        ("Ann\n" + "x" * 100_001 + "\n", "would have 100001 characters; it has room for 100000"),
        ("Ann\n" + "x" * 200_000 + "\n", "what you pasted is no table: field larger than field limit"),
        ("x\n" * 2_600_000, "has 5200000 characters"),
    ],
)
def test_what_can_not_be_pasted_is_said_and_nothing_changes(seen: Seen, text: str, says: str) -> None:
    before = seen.one.table
    assert says.casefold() in seen.send("paste", at="0/name", text=text).casefold()
    assert seen.one.table is before


def test_a_decimal_comma_is_never_taken_for_two_cells(seen: Seen) -> None:
    said = seen.send("paste", at="0/joint.finger", text="9,5\n8,5\n")
    assert said.startswith("'9,5' may be one number with a decimal comma, or several cells; copy the cells")
    seen.send("paste", at="0/joint.finger", text="9,5\t12\n8,5\t10\n")
    assert [row[3:5] for row in seen.one.table.rows] == [("9,5", "12"), ("8,5", "10")]


def test_a_list_is_opened_from_toml_and_from_a_spreadsheet_of_windows(seen: Seen) -> None:
    text = '[[students]]\nname = "Ann"\nbox.length = 240\n[[students]]\nname = "Bo"\n"joint.finger" = "8 mm"\n'
    assert seen.open(text, "list.toml").startswith("Opened list.toml: 2 students.")
    assert [dict(row.values) for row in seen.one.table.roster("x").rows] == [
        {"box.length": "240"},
        {"joint.finger": "8 mm"},
    ]
    seen.open("name;box.length\nZoë;240,5\n".encode("cp1252"))
    assert seen.one.table.rows[0][:2] == ("Zoë", "240,5")


@pytest.mark.parametrize(
    ("content", "name", "says"),
    [
        (b"name\n\x81\xff\n", "class.csv", "not text in UTF-8, UTF-16 or Windows-1252"),
        (b"", "class.csv", "there is no column 'name'"),
        (b"name\n", "class.csv", "the list names nobody"),
        (b'[[students]]\nname = "Ann"\nbox.lenght = 3\n', "a.toml", "there is no column 'box.lenght'"),
        (b'[[students]]\nname = "Ann"\nbox.length = [3]\n', "a.toml", "the value is neither a number nor text"),
        (b"students = 3\n", "a.toml", "a class list holds [[students]] and nothing else"),
        (b"\x89PNG\r\n", "a.png", "a.png is a picture, which holds no settings"),
    ],
)
def test_what_is_no_list_is_refused_and_nothing_changes(seen: Seen, content: bytes, name: str, says: str) -> None:
    before = seen.one.table
    assert says in seen.open(content, name).replace(": The", ": the")
    assert seen.one.table is before


def test_a_box_file_that_is_dropped_becomes_the_classs_box(seen: Seen) -> None:
    seen.open(LIST)
    assert seen.open(PLAIN, "plain.toml").startswith("Opened plain.toml.")
    assert seen.bench.state.file.title == "Plain box"
    assert len(seen.one.table.rows) == 8


def test_the_saved_list_is_what_the_command_reads(seen: Seen) -> None:
    seen.open(FAULTY)
    seen.send("type", typed={"0/name": "=cmd()", "0/lid.crown": "-5"})
    seen.send("type", typed={"1/name": '@Ann, "Lee"'})
    answer = seen.get("/class/list.csv")
    assert answer.headers["Content-Disposition"] == "attachment; filename=class.csv"
    found = class_list.read(answer.data, "class.csv")
    assert [row.name for row in found.rows][:3] == ["=cmd()", '@Ann, "Lee"', "Ilse van Houten"]
    assert found.rows[0].values["lid.crown"] == "-5"
    cells = [cell for line in answer.text.splitlines() for cell in line.split(",")]
    assert not [cell for cell in cells if cell.strip('"')[:1] in ("=", "@", "+")]  # a spreadsheet reckons with none
    assert words(seen.look(), "#file").startswith("class.csv, saved.")
    seen.send("type", typed={"1/name": "Ann"})
    assert words(seen.page, "#file").startswith("class.csv, not saved.")


def test_more_than_the_classs_value_is_shown_as_what_it_comes_to(seen: Seen) -> None:
    """It was taken for a box of 20 mm."""
    length = BASE.box.length
    seen.send("type", typed={"0/name": "Ben", "0/box.length": "+20"})
    assert seen.cell(0, "box.length").get("value") == "+20"
    assert words(seen.cell(0, "box.length").getparent()) == f"= {length + 20:g}"
    assert f"inside {length + 20 - 24:g} × " in seen.row(0)
    saved = seen.get("/class/list.csv").data
    assert ",\N{NO-BREAK SPACE}+20," in saved.decode()  # else a spreadsheet would make 20 of it
    assert class_list.read(saved, "class.csv").rows[0].values["box.length"] == "+20"


def test_a_list_that_was_not_saved_is_there_again(tmp_path: Path) -> None:
    path = tmp_path / "recipe-box.toml"
    first = a_bench(path)
    first.send("type", typed={"0/name": "Ann", "0/box.length": "+20"})
    first.bench.end()
    again = a_bench(path)
    assert again.one.table == first.one.table
    again.look()
    assert words(again.page, "#told").startswith("This is the list of last time, which was not saved.")
    again.send("undo")
    assert not again.one.table.filled
    assert words(again.page, "#told") == ""
    again.send("redo")
    again.get("/class/list.csv")
    assert [file.name for file in tmp_path.iterdir()] == ["recipe-box.toml"]  # once it is saved no copy is left
    assert not a_bench(path).one.table.filled
    (tmp_path / ".recipe-box.toml.class.csv.unsaved").write_bytes(b"\xff\xfe\0")
    assert not a_bench(path).one.table.filled


def test_make_stands_below_the_list(seen: Seen) -> None:
    seen.send("type", typed={"0/name": "Ann"})
    order = [one.get("id") for one in seen.page.cssselect("main > section")]
    assert order == ["list", "making", "hand-out"]
    assert seen.page.cssselect("#make")[0].get("aria-disabled") is None


WORDS = st.text(st.characters(exclude_categories=["Cs"]), max_size=12)


@given(st.lists(st.tuples(WORDS, WORDS, WORDS), min_size=1, max_size=5))
def test_any_words_come_back_from_the_saved_list(rows: list[tuple[str, str, str]]) -> None:
    """RFC 4180: whatever is typed, the file holds it; what a spreadsheet would reckon with has a blank before it."""
    table = Table(("box.length", "lid.crown"), tuple(tuple(tables.plain(cell) for cell in row) for row in rows))
    if not any(class_list.clean(row[0]) for row in table.rows):
        return
    found = tables.opened(table.text().encode(), "list")
    assert [row[:3] for row in found.rows] == [row for row in table.rows if any(row)]


@given(st.text(max_size=60))
def test_anything_may_be_pasted_or_is_refused(text: str) -> None:
    try:
        found = tables.EMPTY.pasted(text, 0, "name")
    except CannotRead:
        return
    assert all(len(row) == len(found.keys) for row in found.rows)
    found.roster("list")


# -- who sends what


@pytest.mark.parametrize(
    "what",
    [
        {"do": "type"},
        {"do": "type", "typed": {"0/name": 3}},
        {"do": "type", "typed": {"name": "x"}},
        {"do": "type", "typed": {}},
        {"do": "type", "typed": {"0/name": "a", "1/name": "b"}},
        {"do": "type", "typed": {"-1/name": "a"}},
        {"do": "type", "typed": {"99/name": "a"}},
        {"do": "type", "typed": {"0/__class__": "a"}},
        {"do": "paste", "at": "0/no.key", "text": "a"},
        {"do": "paste", "at": "9/name", "text": "a\nb"},
        {"do": "paste", "at": "0/name", "text": ["a"]},
        {"do": "drop-student", "row": "x"},
        {"do": "drop-student", "row": 7},
        {"do": "drop-column", "name": "name"},
        {"do": "add-column", "name": "stock.boards"},
        {"do": "add-column"},
        {"do": "open", "name": "a.csv"},
        {"do": "open", "name": "a.csv", "content": "*"},
        {"do": "open"},
        {"do": "nothing"},
        {"do": ["type"]},
    ],
)
def test_whatever_is_sent_gets_an_answer_and_changes_nothing(seen: Seen, what: dict[str, Any]) -> None:
    before = seen.one.table
    assert seen.send(**{"done": what["do"], **{key: said for key, said in what.items() if key != "do"}}) != ""
    assert seen.one.table is before


def test_surrogates_and_control_characters_are_no_letters(seen: Seen) -> None:
    seen.send("type", typed={"0/name": "A\ud800n\x00n\u202e"})
    assert class_list.read(seen.get("/class/list.csv").data, "x").rows[0].name == "A n n".replace(" n n", "n n")


@pytest.mark.parametrize(
    "name",
    ["../box/recipe-box.toml", "..%2f..%2fetc/passwd", "/etc/passwd", "summary.json", ".jigleaf.state", "", "plan.pdf"],
)
def test_no_file_is_given_out_but_those_that_were_made(seen: Seen, name: str) -> None:
    assert seen.get(f"/class/files/{name}").status_code in (404, 308)


# -- making it


def names_of(seen: Seen) -> list[str]:
    handed = seen.one.making.handed
    assert handed is not None
    return [handed.whole, *handed.teachers, *handed.shared, *(name for _, names in handed.students for name in names)]


@pytest.mark.slow
def test_what_the_page_makes_is_what_the_command_writes(seen: Seen, tmp_path: Path) -> None:
    """Byte for byte, with a faulty row, and for every file that the page gives out."""
    seen.open(FAULTY)
    assert seen.send("make") == ""
    assert words(seen.page, "#making-title") == "Making: 0 of 7"
    assert seen.send("make") == "It is being made already: 0 of 7."
    wait(seen)
    assert words(seen.look(), "#making-title") == "Made: 7 of 7"
    assert words(seen.page, ".laid li:nth-child(6)") == "6 Orla error"
    assert words(seen.page, "#moved").endswith("Make again nothing")
    people, out = tmp_path / "class.csv", tmp_path / "out"
    people.write_bytes(seen.get("/class/list.csv").data)
    course_run.make(course_run.Asked(people, tmp_path / "recipe-box.toml", out))
    written, given_out = contents(out), names_of(seen)
    assert set(given_out) == {*written} - {"index.html", "summary.json"}
    for name in given_out:
        answer = seen.get(f"/class/files/{name}")
        assert hashlib.sha256(answer.data).hexdigest() == written[name], name
        assert answer.headers["Content-Disposition"].startswith("attachment; filename=")
    links = [one.get("href") for one in seen.page.cssselect("#hand-out a[download]")]
    assert sorted(links) == sorted(f"/class/files/{name}" for name in given_out)
    seen.send("type", typed={"0/joint.finger": "8"})
    assert words(seen.page, "#moved").endswith("Make again 1 of 7 students; what they share; your plan")


def plain(seen: Seen, text: str) -> None:
    seen.bench.state.make(lambda _: reading.read(PLAIN, "plain.toml"))
    seen.open(text)


@pytest.mark.slow
def test_make_is_spent_once_all_is_made(seen: Seen) -> None:
    seen.send("type", typed={"0/name": "Ann"})
    seen.send("make")
    wait(seen)
    assert words(seen.look(), "#make") == "All is made"
    assert seen.page.cssselect("#make")[0].get("aria-disabled") == "true"
    assert "it is lost when you close the bench" in words(seen.page, "#making-words")
    seen.send("type", typed={"0/box.length": "+20"})
    assert words(seen.page, "#make") == "Make again what has changed"
    assert seen.page.cssselect("#make")[0].get("aria-disabled") is None


@pytest.mark.slow
def test_a_run_stops_after_the_students_at_work_and_goes_on(seen: Seen, tmp_path: Path) -> None:
    plain(seen, "name,box.length\n" + "".join(f"Student {n},{200 + n}\n" for n in range(1, 9)))
    making = seen.one.making
    seen.send("make")
    while making.count < 1:
        time.sleep(0.05)
    assert seen.send("stop") == ""
    assert "Stopping after" in words(seen.page, "#making-words") or not making.at_work
    wait(seen)
    made = making.count
    assert 1 <= made <= 4  # those at work were finished, and no other was begun
    assert words(seen.look(), "#making-title") == f"Stopped: {made} of 8 made"
    assert making.handed is None
    folder = making._folder
    assert folder is not None
    before = {path: path.stat().st_mtime_ns for path in (folder / "out").glob("*-cards.pdf")}
    assert len(before) == made
    seen.send("make")
    wait(seen)
    assert making.count == 8
    assert {path: path.stat().st_mtime_ns for path in before} == before  # left as they were
    out = tmp_path / "out"
    people = tmp_path / "class.csv"
    people.write_text(seen.one.table.text())
    (tmp_path / "recipe-box.toml").write_text(PLAIN)
    course_run.make(course_run.Asked(people, tmp_path / "recipe-box.toml", out))
    assert contents(folder / "out") == contents(out)


@pytest.mark.slow
def test_hostile_names_stay_words_and_nothing_is_written_elsewhere(seen: Seen, tmp_path: Path) -> None:
    text = "name,box.length\n" + "".join('"' + name.replace('"', '""') + '",\n' for name in HOSTILE)
    plain(seen, text)
    for number, name in enumerate(HOSTILE):
        assert seen.cell(number, "name").get("value") == name
    outside = {path for path in tmp_path.rglob("*") if "temporary" not in path.parts}
    seen.send("make")
    folder = seen.one.making._folder
    assert folder is not None
    assert folder.stat().st_mode & 0o077 == 0
    wait(seen)
    assert seen.one.making.error == ""
    assert {path for path in tmp_path.rglob("*") if "temporary" not in path.parts} == outside
    for name in names_of(seen):
        assert re.fullmatch(r"(shared/)?[a-zA-Z0-9.-]+", name)
        assert seen.get(f"/class/files/{name}").status_code == 200
    page = seen.look()
    assert page.cssselect("img") == []
    assert len(page.cssselect("script")) == 2  # our own
    assert next(words(one) for one in page.cssselect(".own li b")) == HOSTILE[0]
    for path in (folder / "out").rglob("*"):
        assert path.resolve().is_relative_to(folder)


@pytest.mark.slow
def test_a_paper_that_holds_no_template_is_said_at_its_cell_once_it_was_tried(seen: Seen) -> None:
    seen.bench.state.make(lambda _: reading.load(SAMPLES / "recipe-box.toml"))
    seen.open("name,print.paper\nAnn,50x60 mm\nBo,\n")
    seen.send("make")
    wait(seen)
    seen.look()
    assert [one.get("data-key") for one in seen.page.cssselect("[aria-invalid]")] == ["0/print.paper"]
    assert "a template is never made smaller" in seen.below(0)
    seen.press("Set Ann’s paper to A4")
    assert seen.row(0) == "Fine: as the class’s box"
    assert words(seen.page, "#moved").endswith("Make again 1 of 2 students; what they share; your plan")


@pytest.mark.slow
def test_a_run_that_breaks_off_is_said_and_goes_on(seen: Seen) -> None:
    plain(seen, "name,box.length\nAnn,\nBo,210\nCy,220\nDi,230\n")
    making = seen.one.making
    seen.send("make")
    while making.count < 1:
        time.sleep(0.05)
    assert making._run is not None
    making._run._process.kill()
    wait(seen)
    assert words(seen.look(), "#making").startswith("Broke off: ")
    assert "The run broke off. What is finished is kept; make it again to go on." in words(seen.page, "#making-words")
    seen.send("make")
    wait(seen)
    assert making.count == 4


@pytest.mark.slow
def test_the_folder_goes_with_the_bench_also_in_the_middle_of_a_run(seen: Seen, tmp_path: Path) -> None:
    plain(seen, "name\n" + "".join(f"Student {n}\n" for n in range(1, 9)))
    seen.send("make")
    while not any((tmp_path / "temporary").rglob("*.pdf")):
        time.sleep(0.05)
    seen.bench.end()
    time.sleep(0.5)
    assert list((tmp_path / "temporary").iterdir()) == []
    assert seen.send("make") == "The bench is ending."


def test_a_disk_that_says_no_is_told(seen: Seen, monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    seen.open(LIST)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "nowhere"))
    assert seen.send("make").startswith("Can't write ")
    assert not seen.one.making.at_work
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path / "temporary"))


ENDING = """
import os, sys, tempfile, threading
from pathlib import Path
from layout.bench import run
from layout.bench.windows import Windows
tempfile.tempdir = sys.argv[2]
run._OFTEN = 0.1
looked = threading.Event()
real = run.make_app
def app(bench):
    made = real(bench)
    one = bench.beside["class"]
    one.making._private()
    (one.making._private() / "file").write_text("x")
    print(os.listdir(sys.argv[2]), flush=True)
    type(bench.windows).all_gone = property(lambda windows: True)
    return made
run.make_app = app
run.serve(Path(sys.argv[1]), "mm", lambda address: None)
"""


def test_the_folder_goes_when_nobody_looks_any_more(tmp_path: Path) -> None:
    """The bench ends by os._exit there."""
    (tmp_path / "box.toml").write_text(PLAIN)
    (tmp_path / "temporary").mkdir()
    command = [sys.executable, "-c", ENDING, str(tmp_path / "box.toml"), str(tmp_path / "temporary")]
    done = subprocess.run(command, capture_output=True, text=True, timeout=60, cwd=SAMPLES.parent, check=True)
    assert "jigleaf-class-" in done.stdout
    assert list((tmp_path / "temporary").iterdir()) == []


# -- in a browser


@dataclass
class Window:
    """A window of a browser that looks at a bench, and what its pages complained of."""

    page: Page
    base: str
    said: list[str]

    def wait(self) -> None:
        """Wait until the page shows what came of the last thing that was done."""
        self.page.locator("body[aria-busy]").wait_for(state="detached")

    def focused(self) -> str:
        return str(self.page.evaluate("document.activeElement?.id ?? ''"))

    def tab_to(self, identity: str) -> None:
        """Go to an element with the keyboard alone."""
        for _ in range(250):
            if self.focused() == identity:
                return
            self.page.keyboard.press("Tab")
        raise AssertionError(f"Tab never reached {identity}")

    def type(self, identity: str, typed: str) -> None:
        self.tab_to(identity)
        self.page.keyboard.type(typed)
        self.page.keyboard.press("Enter")
        self.wait()


@pytest.fixture
def window(chromium: str, tmp_path: Path, request: pytest.FixtureRequest) -> Iterator[Window]:
    """A window of a bench of its own, as wide as the test says."""
    box = tmp_path / "plain.toml"
    box.write_text(PLAIN)
    command = [sys.executable, "-c", "from cli import main; main()", "bench", str(box), "--no-browser"]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True, cwd=SAMPLES.parent) as bench:
        assert bench.stdout is not None
        address = bench.stdout.readline().strip()
        with sync_playwright() as driver:
            browser = driver.chromium.launch(executable_path=chromium, chromium_sandbox=False)
            context = browser.new_context(viewport={"width": request.param, "height": 900})
            page, said = context.new_page(), []
            page.on("console", lambda message: said.append(message.text))
            page.on("pageerror", lambda error: said.append(str(error)))
            page.goto(address)
            page.goto(f"{address.partition('/?')[0]}/class")
            yield Window(page, address.partition("/?")[0], said)
            browser.close()
        bench.send_signal(signal.SIGINT)
        assert bench.wait(20) == 0
    assert said == []


WIDTHS = pytest.mark.parametrize("window", [1280, 360], indirect=True)


@pytest.mark.slow
@WIDTHS
def test_a_class_is_typed_mended_and_made_by_keyboard_alone(window: Window) -> None:
    page = window.page
    window.type("cell-0-name", "Ann")
    window.tab_to("add-student")
    page.keyboard.press("Enter")
    window.wait()
    page.locator("#cell-1-name:focus").wait_for()  # where to go on typing
    page.keyboard.type("Bo")
    page.keyboard.press("ArrowUp")
    assert window.focused() == "cell-0-name"
    window.wait()
    window.type("cell-0-joint-finger", "12")
    assert page.locator("#cell-0-joint-finger").get_attribute("aria-invalid") == "true"
    assert page.locator("#row-0-below").inner_text().startswith("A finger of 12 mm is wider")
    page.keyboard.press("Tab")
    while page.evaluate("document.activeElement.textContent") != "Set Ann’s finger to 10":
        page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    window.wait()
    page.locator("#cell-0-joint-finger:focus").wait_for()  # back at its cell
    assert page.locator("#cell-0-joint-finger").input_value() == "10"
    page.locator("#verdict", has_text="2 of 2 can be made.").wait_for()
    page.keyboard.press("Control+z")
    window.wait()
    assert page.locator("#cell-0-joint-finger").input_value() == "12"
    page.keyboard.press("Control+Shift+z")
    window.wait()
    assert page.locator("#cell-0-joint-finger").input_value() == "10"
    page.evaluate("document.activeElement.blur()")
    window.tab_to("make")
    page.keyboard.press("Enter")
    page.locator("#stop:focus").wait_for()
    page.locator("#hand-out .way").wait_for(timeout=120_000)
    assert page.locator("#making-title").inner_text() == "Made: 2 of 2"
    page.locator("#make:focus").wait_for()
    with page.expect_download() as download:
        page.locator("#hand-out .way").focus()
        page.keyboard.press("Enter")
    assert download.value.suggested_filename == "class.zip"
    assert page.evaluate("document.documentElement.scrollWidth") <= (page.viewport_size or {"width": 0})["width"]


@pytest.mark.slow
@WIDTHS
def test_a_table_is_pasted_and_dropped(window: Window) -> None:
    page = window.page
    paste = """([at, text]) => {
        const data = new DataTransfer();
        data.setData("text/plain", text);
        const event = new ClipboardEvent("paste", { clipboardData: data, bubbles: true, cancelable: true });
        document.querySelector(at).dispatchEvent(event);
        return event.defaultPrevented;
    }"""
    assert page.evaluate(paste, ["#cell-0-name", "Ann\t240\nBo\t\t160\n"])
    page.locator("#cell-1-box-width").wait_for()
    assert page.locator("#cell-0-box-length").input_value() == "240"
    assert not page.evaluate(paste, ["#cell-0-name", "Ann-Kristin"])  # one word goes where the cursor is, as ever
    drop = """(text) => {
        const data = new DataTransfer();
        data.items.add(new File([text], "class.csv", { type: "text/csv" }));
        document.body.dispatchEvent(new DragEvent("drop", { dataTransfer: data, bubbles: true, cancelable: true }));
    }"""
    page.evaluate(drop, LIST)
    page.locator("#told", has_text="Opened class.csv: 8 students.").wait_for()
    assert page.locator("#cell-7-name").input_value() == "Pilar Quintana"


@pytest.mark.slow
@WIDTHS
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing_and_nothing_is_wider_than_the_window(window: Window, scheme: Any) -> None:
    """By axe-core, with its rules for WCAG and for good practice: contrast, names, headings, landmarks, tables."""
    script = Path(os.environ.get("JIGLEAF_AXE", "not given"))
    needs("axe-core (npm install axe-core; JIGLEAF_AXE is the path of its axe.min.js)", script.is_file())
    page = window.page
    page.set_input_files("#chooses", {"name": "class.csv", "mimeType": "text/csv", "buffer": FAULTY.encode()})
    page.locator("#told").wait_for()
    page.emulate_media(color_scheme=scheme)
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
    assert page.evaluate("document.documentElement.scrollWidth") <= (page.viewport_size or {"width": 0})["width"]
    page.evaluate(script.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run()")
    assert [(v["id"], [node["html"][:200] for node in v["nodes"]]) for v in found["violations"]] == []
    assert {check["id"] for check in found["passes"]} >= {"color-contrast", "region", "heading-order", "label"}
