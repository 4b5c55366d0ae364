"""A class: everything for everyone, each from one row, safe in its folder, and going on where it was stopped."""

from __future__ import annotations

import concurrent.futures
import functools
import hashlib
import html
import json
import os
import re
import signal
import subprocess
import sys
import time
import zipfile
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from cli import main
from jigs.base import drawing as draw
from jigs.base.cards import Card, Caution, Hold, Order, Setting, Settings, Sheets, Template
from jigs.base.drawing import Table
from jigs.base.errors import CannotRead, MachineFault
from jigs.base.kinds import LONGEST_WORDS
from jigs.base.wording import on_paper, read_out, say
from jigs.box import chain
from jigs.box import sheets as box_sheets
from jigs.box.chain import Box
from jigs.boxfile import jig_file, reading
from jigs.course import class_list, set_ups, sharing, sleds
from jigs.course import plan as course_plan
from jigs.course.makers import Maker
from jigs.course.plan import Course, Refused
from jigs.parts.joint import in_box
from jigs.record import replace
from layout import make
from layout.carry import embedded
from layout.course import names as course_names
from layout.course import pack as course_pack
from layout.course import run as course_run
from layout.course import told
from layout.course import workers as course_workers
from layout.course.state import FILE, State
from layout.pages import compose
from layout.pages.job import Job
from layout.printer.correction import Distortion
from layout.printer.kept import Printer
from layout.sheet import paper
from layout.sheet.hand import Hand
from layout.sheet.paper import Margins
from layout.write import join, pdf
from tests.legibility import faults

ROOT = Path(__file__).parent.parent
SAMPLES = ROOT / "samples"
METRIC, INCHES = SAMPLES / "recipe-box.toml", SAMPLES / "recipe-box-inch.toml"


def card(name: str, jig: str, size: float, *, hold: str = "") -> Card:
    """Return a card of one setting."""
    bands = (
        Settings((Setting("size", "Size to set", size, 0.1, "gauge block"),)),
        *((Hold("The teacher has looked.", hold),) if hold else ()),
        Order((say("Cut to {size}; see [card:first].", size=size),)),
    )
    return Card(name, name.capitalize(), "Router table", (Caution("Hands", "Keep them off."),), bands, jig=jig)


def piece(name: str, jig: str, of: str, size: float) -> Template:
    """Return a template of one square."""
    check = draw.Dimension(draw.Point(0, 0), draw.Point(size, 0), "below")
    part = draw.Part(f"{jig}-{name}", name, (draw.Line(draw.rectangle(0, 0, size, size)),))
    return Template(draw.View(name, name.capitalize(), (part,), (check,), check=check), of, "Glue it on.", jig)


def few_sheets(made: Box) -> Sheets:
    """Stand in for all the pages of a box, to be quick: cards that depend on its length, its finger, nothing."""
    file = made.file
    read = Card("box", file.title, "Read first", (), (Order(("Read.",)),), jig="box", reading=True)
    cards = (
        read,
        card("first", "stock", 1.0),
        card("make-sled", "sled", file.box.length),
        card("fingers", "sled", file.joint.finger, hold="fingers set"),
        card("glue", "box", file.box.length),
    )
    return Sheets(cards, (piece("plate", "sled", "make-sled", 40.0), piece("stick", "sled", "fingers", 50.0)))


def hurry(patch: pytest.MonkeyPatch) -> None:
    """Draw a few pages of each kind in place of all of them."""
    every = course_plan.pages
    own = Sheets((card("make-sled", "sled", 5.0),), (piece("plate", "sled", "make-sled", 40.0),))
    patch.setattr(box_sheets, "sheets", few_sheets)
    patch.setattr(in_box, "sheets", lambda file, given=None: own)
    patch.setattr(course_plan, "pages", lambda of: Sheets(every(of).cards[:1]))


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    hurry(monkeypatch)


def run(folder: Path, text: str, base: Path = METRIC, **more: object) -> course_run.Outcome:
    """Make a class from the text of a list, without a second process."""
    people = folder.parent / "list.csv"
    people.write_text(text, encoding="utf-8")
    asked = course_run.Asked(people, base, folder, workers=1)
    return course_run.make(asked, **more)  # type: ignore[arg-type]  # only progress


def contents(folder: Path) -> dict[str, str]:
    """Return a digest of every file but the state."""
    found = sorted(path for path in folder.rglob("*") if path.is_file() and path.name != FILE)
    return {str(path.relative_to(folder)): hashlib.sha256(path.read_bytes()).hexdigest() for path in found}


def words(path: Path) -> list[str]:
    return [page.extract_text() for page in PdfReader(path).pages]


# -- everything for everyone


@pytest.mark.usefixtures("quick")
def test_everything_for_everyone(tmp_path: Path) -> None:
    text = "name,joint.finger,print.paper\nMarta Eikeland,,\nTaras Koval,8,Letter\nIlse Houten,,\n"
    outcome = run(tmp_path / "out", text)
    files = set(contents(tmp_path / "out"))
    for stem in ("marta-eikeland", "taras-koval", "ilse-houten"):
        assert {f"{stem}-cards.pdf", f"{stem}-templates.pdf", f"{stem}.html"} <= files
    assert {"plan.pdf", "class.zip", "index.html", "summary.json"} <= files
    assert {"all-cards-A4.pdf", "all-cards-Letter.pdf", "all-templates-A4.pdf", "all-templates-Letter.pdf"} <= files
    assert {name for name in files if name.startswith("shared/")} == {
        *("shared/cards.pdf", "shared/proof-A4.pdf", "shared/proof-Letter.pdf"),
        *("shared/sled-10-for-12-mm.pdf", "shared/sled-8-for-12-mm-Letter.pdf"),
    }
    assert (outcome.faults, outcome.kept) == ((), 0)
    for file, name in (("marta-eikeland", "Marta Eikeland"), ("taras-koval", "Taras Koval")):
        pages = words(tmp_path / "out" / f"{file}-cards.pdf")
        assert pages
        assert all(name in page for page in [*pages, *words(tmp_path / "out" / f"{file}-templates.pdf")])
    assert "Ilse" not in " ".join(words(tmp_path / "out" / "marta-eikeland-cards.pdf"))
    summary = json.loads((tmp_path / "out" / "summary.json").read_text())
    assert [entry["name"] for entry in summary["students"]] == ["Marta Eikeland", "Taras Koval", "Ilse Houten"]
    assert summary["set_ups"][0]["changes"] == 5
    assert str(tmp_path) not in (tmp_path / "out" / "summary.json").read_text()


def drawn_once(folder: Path) -> list[str]:
    """Return the titles of all pages that are printed for everyone, as the outlines of the joined files have them."""
    titles = []
    for path in sorted(folder.glob("all-*.pdf")):
        whole = PdfReader(path, strict=True)
        below = [item for heading in whole.outline if isinstance(heading, list) for item in heading]
        assert len(below) == sum("/Contents" in page for page in whole.pages)  # no heading for an empty one
        titles += [str(item.title).partition(", for ")[0] for item in below if not isinstance(item, list)]
    return titles


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_what_comes_out_alike_is_printed_once_and_says_for_whom(tmp_path: Path) -> None:
    """By hand: all share the first card, three the finger's and the glue's, those of one paper among themselves."""
    out = tmp_path / "out"
    run(out, "name,joint.finger,box.length,print.paper\nMarta,,,\nTaras,,,A3\nIlse,8,,\nOrla,,240,\n")
    titles = drawn_once(out)
    assert titles.count("Card 1: First") == 1
    assert titles.count("Card 2: Make-sled") == 3  # two sleds, and one of them on A3 as well
    assert titles.count("Card 3: Fingers") == 2  # Marta, Taras and Orla have the same; Ilse has another
    assert titles.count("Card 4: Glue") == 2  # Orla's box is longer
    assert titles.count("P Proof of scale") == 2  # two papers
    pages = words(out / "shared" / "cards.pdf")
    assert ["everyone" in page for page in pages] == [True, False, False, False]
    fingers = next(page for page in pages if "for Marta, Taras, Orla" in page)
    assert "Ilse" not in fingers
    own = " ".join(" ".join(words(out / "ilse-cards.pdf")).split())
    assert "Fingers" in own
    assert "8.0" in own
    assert "First (Router table)" in own  # where the shared one is
    (alone,) = [entry for entry in json.loads((out / "summary.json").read_text())["students"] if entry["row"] == 5]
    assert alone["shared"] == ["first", "fingers"]
    assert not {"Glue", "Fingers"} & set(" ".join(words(out / "taras-cards.pdf")).replace(":", "").split("\n"))


def sizes(path: Path) -> set[tuple[int, int]]:
    """Return the sizes of the pages of a file, in whole mm."""
    return {(round(float(p.mediabox.width) / 72 * 25.4), round(float(p.mediabox.height) / 72 * 25.4))
            for p in PdfReader(path).pages}  # fmt: skip


A4, LETTER = {(210, 297)}, {(216, 279)}


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
@pytest.mark.parametrize("others", [("Cy",), ("Cy", "Di")])
def test_who_asks_for_another_paper_gets_every_page_on_it(tmp_path: Path, others: tuple[str, ...]) -> None:
    """One alone on Letter has all cards of his own; two share theirs on Letter, and nothing on A4."""
    out = tmp_path / "out"
    run(out, "name,print.paper\nAnn,\nBen,\n" + "".join(f"{name},Letter\n" for name in others))
    summary = json.loads((out / "summary.json").read_text())
    shared = {one["file"]: one["rows"] for one in summary["shared"]}
    rows = list(range(4, 4 + len(others)))
    for entry in summary["students"]:
        mine = [*entry["files"], entry["sled"], *(file for file, of in shared.items() if entry["row"] in of)]
        wanted = LETTER if entry["row"] in rows else A4
        assert all(sizes(out / file) == wanted for file in mine if file.endswith(".pdf")), mine
    assert shared["shared/cards.pdf"] == [2, 3]
    assert shared["shared/sled-10-for-12-mm-Letter.pdf"] == rows
    assert shared.get("shared/cards-Letter.pdf", []) == (rows if len(others) > 1 else [])
    page = (out / "cy.html").read_text()
    assert ("shared/cards-Letter.pdf" in page) == (len(others) > 1)
    assert "shared/cards.pdf" not in page
    if len(others) > 1:
        assert "everyone on Letter" not in " ".join(words(out / "shared" / "cards-Letter.pdf"))  # two are named
        assert "for Cy, Di" in " ".join(words(out / "shared" / "cards-Letter.pdf"))
    again = run(out, "name,print.paper\nAnn,\nBen,\n" + "".join(f"{name},Letter\n" for name in others))
    assert again.made == ()


@pytest.mark.usefixtures("quick")
def test_each_file_of_a_student_counts_its_own_pages(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name\nCy\n")
    for name in ("cy-cards", "cy-templates", "shared/sled-10-for-12-mm"):
        pages = words(out / f"{name}.pdf")
        for number, page in enumerate(pages, start=1):
            assert f"page {number} of {len(pages)}" in " ".join(page.split())


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_shared_sled_is_drawn_once_and_says_for_whom(tmp_path: Path) -> None:
    run(tmp_path / "out", "name,box.length\nMarta,\nIlse,240\n")
    (sled,) = (tmp_path / "out" / "shared").glob("sled-*.pdf")
    pages = words(sled)
    assert len(pages) == 2
    # wrapped lines: a name may be parted from its neighbour
    assert all("Marta" in page and "Ilse" in page for page in pages)
    made = make.job_of(embedded.load(str(sled)))
    assert isinstance(made, jig_file.JigSettings)
    assert made.given["length"] == 250.0


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_the_joined_file_has_all_pages_under_their_names(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name,box.length\nMarta,\nIlse,210\n")
    for kind, first in (
        ("cards", ["shared/cards.pdf"]),
        ("templates", ["shared/proof-A4.pdf", "shared/sled-10-for-12-mm.pdf"]),
    ):
        whole = PdfReader(out / f"all-{kind}-A4.pdf", strict=True)
        parts = [PdfReader(out / path) for path in (*first, f"marta-{kind}.pdf", f"ilse-{kind}.pdf")]
        taken = [len(part.pages) for part in parts]
        if kind == "cards":  # printed on both sides: each begins on a sheet of its own
            taken = [*(pages + pages % 2 for pages in taken[:-1]), taken[-1]]
        starts = [sum(taken[:i]) for i in range(len(parts) + 1)]
        assert len(whole.pages) == starts[-1]
        headings = [item for item in whole.outline if not isinstance(item, list)]
        assert [str(item.title) for item in headings][-2:] == ["Marta", "Ilse"]
        assert [whole.get_destination_page_number(item) for item in headings] == starts[:-1]
        marta = whole.pages[starts[-3]].get_contents()
        assert marta is not None
        assert marta.get_data() == parts[-2].pages[0].get_contents().get_data()  # type: ignore[union-attr]  # a sheet is never empty
        assert whole.pages[0].mediabox == parts[0].pages[0].mediabox


@pytest.mark.parametrize(
    ("base", "values", "name"),
    [
        (METRIC, {}, "sled-10-for-12-mm"),
        (METRIC, {"joint.finger": 8}, "sled-8-for-12-mm"),
        (METRIC, {"sides.thickness": 9.5}, "sled-10-for-9-5-mm"),
        (METRIC, {"box.height": 112}, "sled-10-for-12-mm-boards-150"),
        (METRIC, {"box.length": 260}, "sled-10-for-12-mm-long-500"),
        (METRIC, {"joint.finger": 8, "joint.cutter": 8.02}, "sled-8-for-12-mm-cutter-8-02"),
        (METRIC, {"joint.clearance": 0.15}, "sled-10-for-12-mm-mark"),
        (METRIC, {"joint.fingers": 4}, "sled-10-for-12-mm-mark"),
        (METRIC, {"sides.thickness": 12.0004}, "sled-10-for-12-mm-mark"),
        (INCHES, {}, "sled-1-2-for-half-inch"),
        (INCHES, {"sides.thickness": "3/8", "box.length": 11}, "sled-1-2-for-3-8-inch-long-20"),
    ],
)
def test_a_sled_is_called_after_what_it_is_for(base: Path, values: dict[str, str | float], name: str) -> None:
    """Two sleds that differ never share a name: what no word tells apart, the mark of the settings does."""
    whole = reading.load(base)
    row = class_list.Row(2, "Marta", values, {})
    assert sleds.called(class_list.resolve(row, whole), whole, "mark") == name


@pytest.mark.slow
def test_pages_joined_look_as_they_did(tmp_path: Path, poppler: str) -> None:
    made, _ = compose.compose(
        Job("one", "t", "s", "mm", "abc123"), Sheets((card("first", "stock", 1.0),)), paper.named("A4")
    )
    one = tmp_path / "one.pdf"
    one.write_bytes(pdf.write(made))
    with (tmp_path / "two.pdf").open("wb") as stream:
        assert join.join([join.Entry("a", one), join.Entry("b", one)], "both", stream) == 2
    drawn = []
    for file, page in ((one, 1), (tmp_path / "two.pdf", 1), (tmp_path / "two.pdf", 2)):
        command = [poppler, "-r", "40", "-f", str(page), "-l", str(page), str(file)]
        drawn.append(subprocess.run(command, check=True, capture_output=True).stdout)
    assert drawn[0] == drawn[1] == drawn[2]


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_the_zip_is_the_same_anywhere_and_holds_no_teachers_page(tmp_path: Path) -> None:
    text = "name\nMarta\nIlse\n"
    run(tmp_path / "one", text)
    run(tmp_path / "two", text)
    assert contents(tmp_path / "one") == contents(tmp_path / "two")
    with zipfile.ZipFile(tmp_path / "one" / "class.zip") as archive:
        names = archive.namelist()
        assert archive.testzip() is None
        assert {entry.date_time for entry in archive.infolist()} == {(1980, 1, 1, 0, 0, 0)}
    assert sorted(names)[:3] == ["ilse-cards.pdf", "ilse-templates.pdf", "ilse.html"]
    assert {"shared/cards.pdf", "shared/proof-A4.pdf", "shared/sled-10-for-12-mm.pdf"} <= set(names)
    assert not [name for name in names if name.startswith(("/", "plan", "summary", "all-", "index"))]


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_students_page_names_nobody_else_and_the_teachers_names_all(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name,joint.finger\nMarta,\nIlse <b>,8\nשלום,\n")
    pages = {path.name: path.read_text(encoding="utf-8") for path in out.glob("*.html")}
    index = pages.pop("index.html")
    names = ("Marta", "Ilse &lt;b&gt;", "שלום")
    assert all(f">{name}</a></h3>" in index for name in names)
    assert len(pages) == len(names)
    for text in pages.values():
        assert sum(name in text for name in names) == 1
    links = set(re.findall(r'href="\./([^"]*)"', "".join([index, *pages.values()])))
    assert links == set(contents(out)) - {"index.html", "summary.json"}
    assert "<svg" in pages["marta.html"]
    assert "<svg" not in index


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_students_page_has_the_numbers_first_and_cautions_with_their_cards(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name\nMarta\nIlse\n")
    page = (out / "marta.html").read_text(encoding="utf-8")
    places = [page.index(f">{heading}</h2>") for heading in ("Numbers", "Cautions", "Steps, card by card", "Sheets")]
    assert places == sorted(places)
    assert page[places[1] : places[2]].count("<li>") == 2  # the class's own two
    assert "Hands: Keep them off." in page[places[2] :]
    assert "Size to set: 10.0, within 0.10" in page
    assert "see card\u00a01." in page or "see card 1." in page
    assert 'href="./shared/cards.pdf"' in page


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_page_that_is_lost_is_made_again(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name\nMarta\n")
    before = contents(out)
    (out / "marta.html").unlink()
    (out / "index.html").write_text("torn")
    assert run(out, "name\nMarta\n").made == ("index.html", "marta-cards.pdf", "marta-templates.pdf", "marta.html")
    assert contents(out) == before


# -- rows that are wrong


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_bad_row_never_loses_the_others(tmp_path: Path) -> None:
    rows = ("Marta,,,", "Ilse,3,,", "Orla,,12,", "Pilar,,,A44", "Taras,,,50x60 mm", "Jo,,,")
    text = "\n".join(["name,box.length,groove.depth,print.paper", *rows])
    outcome = run(tmp_path / "out", text)
    files = set(contents(tmp_path / "out"))
    assert {"marta-cards.pdf", "jo-cards.pdf"} <= files
    assert not [file for file in files if file.startswith(("ilse", "orla", "pilar", "taras"))]
    said = [fault.says("mm") for fault in outcome.faults]
    assert said[0].startswith("row 3 (Ilse), column B (box.length): Outside length")
    assert any(words.startswith("row 4 (Orla), column C (groove.depth): ") for words in said), said
    assert any("column D (print.paper): Paper: there is no paper called 'A44'; did you mean" in words for words in said)
    assert any(words.startswith("row 6 (Taras), column D (print.paper): Stick can't go on") for words in said)
    plan = " ".join(" ".join(words(tmp_path / "out" / "plan.pdf")).split())
    assert "Faulty rows: correct these in the list. Everyone else’s sheets are made." in plan
    for name in ("Ilse", "Orla", "Pilar", "Taras"):
        assert name in plan
    index = (tmp_path / "out" / "index.html").read_text(encoding="utf-8")
    assert [html.escape(one) for one in said if html.escape(one) not in index] == []


def test_exit_codes_and_the_message_of_each_row(tmp_path: Path) -> None:
    people = tmp_path / "list.csv"
    people.write_text("name,box.length\nMarta,3\n")
    command = ["class", str(people), "--box", str(METRIC), "-o", str(tmp_path / "out")]
    result = CliRunner().invoke(main, command)
    assert result.exit_code == 1
    assert "Error: row 2 (Marta), column B (box.length): Outside length along the front" in result.stderr
    assert "\r" not in result.stderr  # no bar in a pipe
    assert "0 files made, 0 kept as they were, 1 row refused" in result.stderr
    people.write_text("nmae\nMarta\n")
    assert CliRunner().invoke(main, command).exit_code == 2
    (tmp_path / "file").write_text("")
    people.write_text("name\nMarta\n")
    assert CliRunner().invoke(main, [*command[:-1], str(tmp_path / "file")]).exit_code == 3


# -- names


NAMES = [
    *(
        "../../etc/passwd",
        "a/b\\c",
        "..",
        ".",
        "CON",
        "nul",
        "x\"y'z",
        "=cmd|' /C calc'!A0",
        "<script>alert(1)</script>",
    ),
    *(
        "Ann\nLee",
        "Анна",
        "Άννα",
        "Nguyễn Thị Ánh",
        "李明",
        "李名",
        "שלום",
        "😀😀",
        "🙂",
        "e" * 300,
        "all-A4",
        "plan",
        "shared",
    ),
    *("ann", "Ann", "ANN", "-rf", "%s", "Ann.", " ", "İ", "ß", "SS", "ss", "Å", "A\u030a"),
]


def test_names_make_safe_unique_files() -> None:
    stems = [course_names.stem(name) for name in NAMES if name != "A\u030a"]
    assert len({stem.casefold() for stem in stems}) == len(stems)
    for stem in stems:
        assert stem.isascii()
        assert 0 < len(stem) <= 70
        assert all(letter.isalnum() or letter == "-" for letter in stem)
        assert stem not in {"con", "nul", "plan", "shared", "class", "summary", "index"}
        assert not stem.startswith(("-", "all-"))


@given(st.lists(st.text(min_size=1, max_size=40), min_size=2, max_size=6, unique=True))
def test_any_names_make_safe_unique_files(names: list[str]) -> None:
    stems = [course_names.stem(name) for name in names]
    assert len({stem.casefold() for stem in stems}) == len(stems)
    assert all(stem.replace("-", "").isalnum() and stem.isascii() for stem in stems)


@pytest.mark.parametrize("name", ["Анна Ковальчук", "Γιώργος", "Nguyễn Thị Ánh", "Łukasz Żółć"])
def test_names_the_font_has_are_drawn_as_they_are(name: str) -> None:
    assert course_names.on_the_sheet(name) == (name, "")


def test_a_letter_the_font_lacks_is_said() -> None:
    drawn, remark = course_names.on_the_sheet("李 Ann")
    assert drawn == "Li Ann"
    assert remark == "the sheet font has no '李' (U+674E): the sheets say 'Li Ann'"
    assert course_names.on_the_sheet("e" * 300)[1].startswith("a sheet has room for 60 characters: the sheets say 'e")


@pytest.mark.slow
@settings(max_examples=4)
@given(st.lists(st.sampled_from(NAMES) | st.text(max_size=20), min_size=1, max_size=3))
def test_any_list_stays_inside_its_folder(tmp_path_factory: pytest.TempPathFactory, names: list[str]) -> None:
    import csv  # noqa: PLC0415 - only here
    import io  # noqa: PLC0415 - only here

    folder = tmp_path_factory.mktemp("class")
    text = io.StringIO()
    csv.writer(text).writerows(
        [["name"], *([name.encode("utf-8", "ignore").decode().replace("\0", "")] for name in names)]
    )
    with pytest.MonkeyPatch.context() as patch:
        hurry(patch)
        try:
            outcome = run(folder / "out", text.getvalue())
        except CannotRead:
            return
    assert {path.name for path in folder.iterdir()} == {"list.csv", "out"}
    assert {fault.problem.rule for fault in outcome.faults} <= {"the name is missing"}


# -- going on


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_run_again_makes_only_what_is_missing_or_changed(tmp_path: Path) -> None:
    out, text = tmp_path / "out", "name,box.length\nMarta,\nIlse,210\n"
    first = run(out, text)
    again = run(out, text)
    assert (again.made, again.kept) == ((), len(first.made))
    (out / "ilse-cards.pdf").unlink()
    (out / "marta.html").write_bytes(b"torn")
    (out / "shared" / "cards.pdf").write_bytes(b"torn")
    of_each = {f"{stem}{end}" for stem in ("ilse", "marta") for end in ("-cards.pdf", "-templates.pdf", ".html")}
    assert set(run(out, text).made) == of_each | {"shared/cards.pdf"}
    changed = {"ilse-cards.pdf", "ilse-templates.pdf", "ilse.html", "index.html", "class.zip", "plan.pdf"}
    assert set(run(out, text.replace("210", "220")).made) == changed | {"all-cards-A4.pdf", "all-templates-A4.pdf"}


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_late_row_changes_no_other(tmp_path: Path) -> None:
    """All that may change of another's pack is that a card is shared from now on which the late one has too."""
    out = tmp_path / "out"
    run(out, "name,box.length\nMarta,\nIlse,210\n")
    before = contents(out)
    run(out, "name,box.length\nilse,220\nMarta,\nMárta,900\nIlse,210\n")
    after = contents(out)
    others = [f"{stem}{end}" for stem in ("marta", "ilse") for end in ("-cards.pdf", "-templates.pdf", ".html")]
    assert [name for name in others if after[name] != before[name]] == []
    assert len(after) > len(before)
    run(out, "name,box.length\nilse,200\nMarta,\nMárta,900\nIlse,210\n")
    assert [name for name in others if contents(out)[name] != before[name]] == others[:3]


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_who_has_left_is_named_and_the_file_stays(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name\nMarta\nIlse\n")
    assert run(out, "name\nMarta\n").stale == ("ilse-cards.pdf", "ilse-templates.pdf", "ilse.html")
    assert (out / "ilse-cards.pdf").exists()


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_damaged_state_is_begun_anew(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name\nMarta\n")
    (out / FILE).write_bytes(b"not a data base, and long enough to be looked at as one" * 20)
    assert "marta-cards.pdf" in run(out, "name\nMarta\n").made


def test_two_runs_do_not_work_in_one_folder(tmp_path: Path) -> None:
    with State(tmp_path), pytest.raises(MachineFault, match="another jigleaf is working there"):
        State(tmp_path)


KILLED_AT_WORK = f"""
import os, signal, sys; sys.path.insert(0, {str(ROOT)!r})
from pathlib import Path
from layout.course.state import State
state = State(Path(sys.argv[1]))
state.keep(sys.argv[2], "first", {{}})
state.base.execute("BEGIN")
state.keep(sys.argv[2], "second", {{}})
os.kill(os.getpid(), signal.SIGKILL)
"""


def test_what_a_killed_run_was_writing_goes_with_the_next(tmp_path: Path) -> None:
    (tmp_path / "a.pdf").write_bytes(b"whole")
    subprocess.run([sys.executable, "-c", KILLED_AT_WORK, str(tmp_path), "a.pdf"], check=False, cwd=ROOT)
    assert sorted(path.name for path in tmp_path.iterdir()) == [FILE, f"{FILE}-journal", "a.pdf"]
    with State(tmp_path) as state:
        assert state.is_made("a.pdf", "first")
    assert sorted(path.name for path in tmp_path.iterdir()) == [FILE, "a.pdf"]


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_what_a_students_sheet_gives_back_bears_the_name(tmp_path: Path) -> None:
    run(tmp_path / "out", f"name\nMarta\n{'Ilse ' * 40}\n")
    titles = [
        reading.read(embedded.load(str(path)).content.decode(), "it").title
        for path in (tmp_path / "out").glob("[mi]*-cards.pdf")
    ]
    assert sorted(title[:12] for title in titles) == ["Ilse Ilse Il", "Marta – Reci"]
    assert max(map(len, titles)) <= LONGEST_WORDS


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_large_class_is_planned_in_groups(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(course_run, "_GROUP", 2)
    run(tmp_path / "out", "name\nMarta\nIlse\nBartłomiej\n")
    plan = PdfReader(tmp_path / "out" / "plan.pdf")
    assert [item.title for item in plan.outline if not isinstance(item, list)] == [
        "Group 1: rows 2 to 3",
        "Group 2: rows 4 to 4",
    ]
    first, second = (page.extract_text() for page in plan.pages)
    assert "Marta" in first
    assert "Bartłomiej" not in first
    assert "group 2 of 2" in " ".join(str(item.title) for item in plan.outline if not isinstance(item, list)) or second
    assert "Bartłomiej" in second


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_every_step_is_told_and_the_last_is_the_end(tmp_path: Path) -> None:
    told: list[tuple[int, int]] = []
    for _ in range(2):  # made, then kept
        told.clear()
        run(tmp_path / "out", "name\nMarta\nIlse\n", progress=lambda done, of, what: told.append((done, of)))
        assert [done for done, _ in told] == list(range(1, len(told) + 1))
        assert all(done <= of for done, of in told)
        assert told[-1][0] == told[-1][1]


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_class_is_drawn_for_its_printer_and_in_its_hand(tmp_path: Path) -> None:
    """The margins move the frame, the correction is set on each page, large letters are large."""
    row = class_list.Row(2, "Marta", {}, {})
    printer = Printer("office", Distortion(0.99, 1.0, 0.0), Margins(22.0, 10.0, 10.0, 10.0))
    packs = [
        course_pack.Pack("marta", "Marta", "Box", row, PLAIN, "A4", printing, tmp_path)
        for printing in (make.USUAL, make.Printing(printer=printer), make.Printing(hand=Hand(large=True)))
    ]
    plain, corrected, large = (course_pack.drawn(pack, *course_pack.opened(pack)) for pack in packs)
    left = [
        min(s.shape.bounds.left for group in made.templates.sheets[0].groups() for s in group.strokes if not group.clip)
        for made in (plain, corrected)
    ]
    assert left[0] < 10.0
    assert left[1] >= 22.0
    assert [bundle.correction for bundle in (corrected.cards, corrected.templates)] == [printer.correction] * 2
    at_the_bench = [
        {text.height for group in made.cards.sheets[0].groups() for text in group.texts} for made in (plain, large)
    ]
    assert max(at_the_bench[0]) < max(at_the_bench[1])
    assert len(large.sheets) >= len(plain.sheets)


QUICK = f"""
import sys; sys.path.insert(0, {str(ROOT)!r})
from pathlib import Path
import pytest
from layout.course import run as course
from tests.test_course import hurry
hurry(pytest.MonkeyPatch())
asked = course.Asked(Path(sys.argv[1]), Path({str(METRIC)!r}), Path(sys.argv[2]), workers=1)
course.make(asked, lambda done, of, what: print(done, flush=True))
"""
MOMENTS = 50 if os.environ.get("JIGLEAF_PROFILE") == "long" else 3


@pytest.mark.slow
def test_killed_at_any_moment_it_leaves_no_half_file_and_goes_on(tmp_path: Path) -> None:
    people = tmp_path / "list.csv"
    people.write_text("name\n" + "".join(f"P{i}\n" for i in range(4)))
    whole, out = tmp_path / "whole", tmp_path / "out"
    command = [sys.executable, "-c", QUICK, str(people)]
    subprocess.run([*command, str(whole)], check=True, capture_output=True, cwd=ROOT)
    wanted = contents(whole)
    for moment in range(MOMENTS):
        process = subprocess.Popen([*command, str(out)], stdout=subprocess.PIPE, cwd=ROOT)
        assert process.stdout is not None
        process.stdout.readline()  # one student is done
        time.sleep(0.6 * moment / MOMENTS)
        process.send_signal(signal.SIGKILL)
        process.wait()
        process.stdout.close()
        whole_files = {name: mark for name, mark in contents(out).items() if not Path(name).name.startswith(".jigleaf")}
        for name, mark in whole_files.items():
            assert wanted[name] == mark or name == "summary.json", f"{name} is not whole"
        if moment % 2:
            for path in out.glob("p*-cards.pdf"):
                path.unlink()
    subprocess.run([*command, str(out)], check=True, capture_output=True, cwd=ROOT)
    assert contents(out) == wanted


@pytest.mark.slow
def test_workers_end_with_a_parent_that_is_killed(tmp_path: Path) -> None:
    people = tmp_path / "list.csv"
    people.write_text("name\n" + "".join(f"P{i}\n" for i in range(30)))
    code = "import sys; from cli import main; main()"
    command = [sys.executable, "-c", code, "class", str(people), "--box", str(METRIC), "-o", str(tmp_path / "out")]
    process = subprocess.Popen(command, cwd=ROOT, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
    workers: list[int] = []
    until = time.monotonic() + 60
    while len(workers) < 2 and time.monotonic() < until:
        time.sleep(0.1)
        workers = _children(process.pid)
    process.send_signal(signal.SIGKILL)
    process.wait()
    assert len(workers) >= 2
    until = time.monotonic() + 30
    while any(map(_alive, workers)) and time.monotonic() < until:
        time.sleep(0.1)
    assert not any(map(_alive, workers))


def _children(parent: int) -> list[int]:
    listed = Path(f"/proc/{parent}/task/{parent}/children")
    return [int(number) for number in listed.read_text().split()] if listed.exists() else []


def _alive(number: int) -> bool:
    """Tell whether a process is at work; one that has ended may wait to be collected."""
    try:
        return Path(f"/proc/{number}/stat").read_text().rpartition(")")[2].split()[0] != "Z"
    except OSError:
        return False


PLAIN = "[box]\nlength = 200\nwidth = 150\nheight = 92\n[sides]\nthickness = 12\n[joint]\nfinger = 10\ncutter = 10.02\n"


@pytest.mark.slow
def test_two_workers_make_what_one_makes(tmp_path: Path) -> None:
    digests = []
    for workers in (1, 2):
        out = tmp_path / str(workers)
        row = class_list.Row(2, "Marta", {}, {})
        one = course_pack.Pack("marta", "Marta", "Box", row, PLAIN, "A4", make.USUAL, out, sled="shared/sled.pdf")
        packs = [one, replace(one, stem="ilse", name="Ilse")]
        with course_workers.Workers(workers) as many:
            seen = [result.record for result in many.done(course_pack.look, iter(packs))]
            done = sorted(result.pack.stem for result in many.done(course_pack.draw, iter(packs)))
        assert done == ["ilse", "marta"]
        assert seen[0]["digests"] == seen[1]["digests"]
        digests.append(contents(out))
    assert digests[0] == digests[1]


def test_no_work_is_left_where_all_that_runs_ends_at_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whoever hands over is slow here, so that both processes are idle again whenever it looks."""
    waits = concurrent.futures.wait

    def late(running: Any, **how: Any) -> Any:
        waits(running)
        return waits(running, **how)

    monkeypatch.setattr(concurrent.futures, "wait", late)
    with course_workers.Workers(2) as many:
        assert sorted(many.done(abs, iter(range(9)))) == list(range(9))


# -- what is compared


def test_cards_are_alike_when_they_look_alike() -> None:
    """A ten-thousandth of a mm is not seen; a number of the card, or of one that it names, is."""
    one, numbers = card("fingers", "sled", 9.92), {"first": "1", "fingers": "3"}
    same = sharing.digest(one, numbers)
    assert sharing.digest(card("fingers", "sled", 9.92 + 1e-12), numbers) == same
    assert sharing.digest(card("fingers", "sled", 9.92), numbers | {"other": "7"}) == same
    others = (
        sharing.digest(card("fingers", "sled", 9.93), numbers),
        sharing.digest(card("fingers", "sled", 9.92, hold="fingers set"), numbers),
        sharing.digest(one, numbers | {"first": "2"}),
        sharing.digest(one, numbers | {"fingers": "4"}),
    )
    assert same not in others
    assert len(set(others)) == len(others)


# -- the plan


@functools.cache
def makers(base: Path, text: str) -> tuple[Maker, ...]:
    file = reading.load(base)
    boxes = {
        row.name: chain.work_out(class_list.resolve(row, file))
        for row in class_list.read(text.encode(), "list.csv").rows
    }
    return tuple(Maker(name, course_plan.numbers(made, box_sheets.sheets(made))) for name, made in boxes.items())


CLASS = (SAMPLES / "class.csv").read_text(encoding="utf-8")
IN_INCHES = "name,box.length,joint.clearance\nMarta Eikeland,,\nJoseph Adeyemi,8 1/2,\nIlse van Houten,9,0.006\n"
LONG = "name\n" + "".join(f"{'Wolfeschlegelsteinhausen ' * (i % 4)}{i} {'x' * i}\n" for i in range(10))


def tables(course: Course) -> dict[str, Table]:
    """Return the tables of the plan by name."""
    every = sharing.flat(band for page in course_plan.pages(course).cards for band in page.bands)
    return {band.name: band for band in every if isinstance(band, Table)}


def read(row: tuple[object, ...], units: str = "mm") -> tuple[str, ...]:
    """Return a row of a table as it is printed."""
    return tuple("" if cell is None else read_out(cell, units, on_paper) for cell in row)  # type: ignore[arg-type]  # words


REFUSED = (Refused(9, "Bo Li", "B (box.length)", "outside length must be from 10 mm to 2000 mm; it is 3 mm"),)


@pytest.mark.slow
@pytest.mark.parametrize(
    ("base", "text", "page"),
    [(METRIC, CLASS, "A4"), (INCHES, IN_INCHES, "Letter"), (METRIC, LONG, "both")],
    ids=["sample", "inches", "long names"],
)
def test_the_plan_is_legible_on_few_pages(base: Path, text: str, page: str) -> None:
    """The goal for a class of eight is 6 pages, and never more than 8."""
    file = reading.load(base)
    sheets = course_plan.pages(Course(file, makers(base, text), REFUSED))
    assert sheets.templates == ()
    made, none = compose.compose(Job("plan", "Plan", "s", file.units, "abc123"), sheets, paper.named(page))
    assert none.sheets == ()
    assert [faults(sheet) for sheet in made.sheets if faults(sheet)] == []
    assert len(made.sheets) <= {CLASS: 7, IN_INCHES: 6}.get(text, 12)


def test_the_sample_class_changes_little() -> None:
    """Worked by hand: three cutters with their gaps, and four heights of the bit of which one order repeats none."""
    fingers, grooves, *others = set_ups.stations(makers(METRIC, CLASS))
    assert [station.name for station in others] == ["bottom-rabbets", "lid-rabbets", "handle-drill"]
    assert len(others[-1].order.set_ups) == 1  # everybody has the handle of the class's box
    assert others[-1].tasks[0].set_up == pytest.approx((38.6, 25.3, 24.3))  # 19.3 + 6 up; 19.3 and 5 to the stop
    # Cutters 10.02, 7.97, 6.04: 3; gaps follow them: 3; heights 18.3, 16.3, 15.3: 3.
    assert (fingers.order.changes, fingers.order.best) == (9, True)
    assert fingers.changes_by_list == 18
    assert grooves.order.changes < grooves.changes_by_list


def test_the_menu_and_the_answers_are_the_numbers_of_the_boxes() -> None:
    """Worked value: a cutter of 10.02 less 0.10 gives 5 · 9.92 + 4 · 10.02 = 89.68."""
    course_of = Course(reading.load(METRIC), makers(METRIC, CLASS))
    found = tables(course_of)
    assert read(found["widths"].rows[-1]) == ("10.02", "9.92", "49.80", "69.74", "89.68", "109.62")
    blank, solved = found["work-out"], found["answers-1"]
    assert all(row[-1] is None for row in blank.rows)
    rows = {": ".join(row[:2]): dict(zip(solved.headings, row, strict=True)) for row in map(read, solved.rows)}
    answers = rows["Exercise: own"]
    assert rows["Joint: planed to"]["Marta"] == "89.68"
    asked = {"Fence": "Groove: fence", "Inside length": "Inside: length", "Spacer": "Sled: spacer"}
    asked |= {"Planed to": "Joint: planed to", "Across": "Sled: across both"}
    for name, what in (read(row)[:2] for row in blank.rows):
        call = name.split(" ")[0]
        assert answers[call] == rows[asked[what]][call]


def test_the_plan_says_whose_warnings_sleds_and_test_pieces() -> None:
    """Eight boxes, eight test pieces each; a sled for each cutter and thickness; the gap is signed at one card."""
    found = tables(Course(reading.load(METRIC), makers(METRIC, CLASS), REFUSED))
    pieces = [read(row) for row in found["wood"].rows if row[0] == "test pieces"]
    assert sum(int(count.split(" ")[0]) for row in pieces for count in row[2].split(", ")) == 64
    warned = [read(row) for row in found["warnings"].rows]
    assert any("puts your hands" in row[0] and "Marta" in row[1] for row in warned)
    assert len({row[0] for row in warned}) == len(warned)  # a rule once, whoever's numbers
    named = [name for row in found["sleds"].rows for name in read(row)[4].split(", ")]
    assert len(named) == len(set(named)) == 8
    held = [table for name, table in found.items() if name.startswith("hold-")]
    headings = [heading for table in held for heading in table.headings[1:]]
    assert any(re.fullmatch(r"Gap set, card\u00a0\d+", heading) for heading in headings), headings
    assert any(heading.startswith("Hole saw set") for heading in headings)
    assert all(len(table.rows) == 8 for table in held)
    assert read(found["refused"].rows[0]) == ("9", "Bo Li", "B (box.length)", REFUSED[0].reason)


def test_a_long_list_of_refused_rows_is_cut_short() -> None:
    many = tuple(replace(REFUSED[0], row=row) for row in range(2, 500))
    refused = tables(Course(reading.load(METRIC), makers(METRIC, "name\nMarta\n"), many))["refused"]
    assert len(refused.rows) == 61
    assert str(refused.rows[-1][3]).startswith("and 438 more")


def test_only_holds_that_somebody_has_are_signed(tmp_path: Path) -> None:
    whole = METRIC.read_text(encoding="utf-8")
    bare = tmp_path / "bare.toml"
    bare.write_text(whole[: whole.index("[handle]")] + whole[whole.index("[shell]") :], encoding="utf-8")
    found = tables(Course(reading.load(bare), makers(bare, "name\nMarta\n")))
    headings = [heading for name, table in found.items() if name.startswith("hold-") for heading in table.headings]
    assert any(heading.startswith("Lid's last cut, card\u00a0") for heading in headings)
    assert not any("saw" in heading.lower() for heading in headings)


def test_the_boards_of_a_class_are_shared_out_by_wood() -> None:
    """Worked by hand: one long cherry board; Ilse's ends of maple have none, and are to be got with their trims."""
    base, listed = reading.load(METRIC), "name,sides.ends_species\nMarta,\nIlse,hard maple\n"
    found = tables(Course(base, makers(METRIC, listed)))
    totals, shared = found["wood"], found["rack"]
    sides = {
        str(row[0]): (read(row)[2].split(" ")[0], row[3])
        for row in totals.rows
        if str(row[0]).startswith(("sides", "front", "ends"))
    }
    assert sides == {
        "sides, black cherry": ("1", "1"),
        "front and back, black cherry": ("1", "1"),
        "ends, sugar maple": ("1", "1"),
    }
    [ends] = [read(row) for row in shared.rows if str(row[4]) == "ends: Ilse"]
    # 2·150.6 + 3.2 + 2·15 = 334.4, rounded up
    assert ends[:4] == ("to buy", "sugar maple", "335", "94.7\u00a0×\u00a015")
    of_board_1 = [str(row[4]) for row in shared.rows if str(row[0]) == "board 1"]
    assert of_board_1 == ["Marta: sides, Ilse: front and back"]


def test_more_than_a_rack_can_be_shared_out_between_is_said() -> None:
    (one,) = makers(METRIC, "name\nMarta\n")
    many = tuple(replace(one, name=f"Marta {i}") for i in range(60))
    (wood,) = [page for page in course_plan.pages(Course(reading.load(METRIC), many)).cards if page.name == "wood"]
    assert "240 pieces are too many to share out between single boards" in str(wood.bands[1])


def test_a_page_tells_every_card_in_words() -> None:
    """The page has the settings and steps of each card, to the last, with the holds among them."""
    worked = chain.work_out(reading.load(METRIC))
    sheets = box_sheets.sheets(worked)
    tasks = {task.title: task for task in told.tasks(sheets, "mm")}
    work = [one for one in sheets.cards if not one.reading and not sharing.of_the_sled(one)]
    assert len(tasks) == len(work)
    groove = next(task for title, task in tasks.items() if re.match(r"Card \d+: Groove – Router table", title))
    assert "Fence to bit’s edge: 12.0, within 0.10" in groove.steps
    orders = [band for one in work for band in sharing.flat(one.bands) if isinstance(band, Order)]
    steps = [step for task in tasks.values() for step in task.steps]
    assert len(steps) >= sum(len(order.steps) for order in orders)
    held = [step for step in steps if step.startswith("HOLD POINT. The teacher signs: ")]
    assert len(held) == len(sharing.holds(Sheets(tuple(work)))) > 0
    assert not [words for words in steps if "[card:" in words or "{" in words]
