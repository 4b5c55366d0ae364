"""A class: everything for everyone, each from one row, safe in its folder, and going on where it was stopped."""

from __future__ import annotations

import hashlib
import json
import os
import re
import signal
import subprocess
import sys
import time
import zipfile
from dataclasses import replace
from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from pypdf import PdfReader

from cli import main
from jigs.base.catalogue import find
from jigs.base.drawing import Drawing, Table
from jigs.base.errors import CannotRead, MachineFault
from jigs.base.kinds import LONGEST_WORDS
from jigs.base.wording import read_out
from jigs.box import chain, order
from jigs.box import sheets as box_sheets
from jigs.box.chain import Box
from jigs.boxfile import reading
from jigs.course import class_list, set_ups
from jigs.course import plan as course_plan
from jigs.course.makers import Maker
from jigs.course.plan import Course
from jigs.parts.joint import part as joint_part
from layout import make
from layout.carry import embedded
from layout.course import names as course_names
from layout.course import pack as course_pack
from layout.course import run as course_run
from layout.course.state import FILE, State
from layout.fill import compose
from layout.fill.job import Job
from layout.printer.correction import Distortion
from layout.printer.kept import Printer
from layout.sheet import paper
from layout.sheet.hand import Hand
from layout.sheet.paper import Margins
from layout.write import join
from tests.legibility import faults

ROOT = Path(__file__).parent.parent
SAMPLES = ROOT / "samples"
METRIC, INCHES = SAMPLES / "recipe-box.toml", SAMPLES / "recipe-box-inch.toml"


def one_sheet(made: Box) -> tuple[Drawing, ...]:
    """Stand in for all the sheets of a box, to be quick."""
    return find("sled").plan(joint_part.sled_settings(made.file), made.file.units).drawings[-1:]


def hurry(patch: pytest.MonkeyPatch) -> None:
    """Draw one sheet of each kind in place of all of them."""
    every = course_plan.drawings
    patch.setattr(box_sheets, "drawings", one_sheet)
    patch.setattr(course_plan, "SHARED", ("key",))
    patch.setattr(course_plan, "drawings", lambda of: every(of)[:1])


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
    assert {"marta-eikeland.pdf", "taras-koval.pdf", "ilse-houten.pdf", "plan.pdf", "class.zip"} <= files
    assert {"marta-eikeland.html", "taras-koval.html", "ilse-houten.html", "index.html"} <= files
    assert {"all-A4.pdf", "all-Letter.pdf", "summary.json"} <= files
    assert len([name for name in files if name.startswith("shared/")]) == 2
    assert (outcome.faults, outcome.kept) == ((), 0)
    for file, name in (("marta-eikeland.pdf", "Marta Eikeland"), ("taras-koval.pdf", "Taras Koval")):
        pages = words(tmp_path / "out" / file)
        assert pages
        assert all(name in page for page in pages)
    assert "Ilse" not in " ".join(words(tmp_path / "out" / "marta-eikeland.pdf"))
    summary = json.loads((tmp_path / "out" / "summary.json").read_text())
    assert [entry["name"] for entry in summary["students"]] == ["Marta Eikeland", "Taras Koval", "Ilse Houten"]
    assert summary["set_ups"][0]["changes"] == 5
    assert str(tmp_path) not in (tmp_path / "out" / "summary.json").read_text()


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_shared_sled_is_drawn_once_and_says_for_whom(tmp_path: Path) -> None:
    run(tmp_path / "out", "name,box.length\nMarta,\nIlse,240\n")
    sleds = list((tmp_path / "out" / "shared").iterdir())
    assert len(sleds) == 1
    # wrapped lines: a name may be parted from its neighbour
    assert all("Marta" in page and "Ilse" in page for page in words(sleds[0]))


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_the_joined_file_has_all_pages_under_their_names(tmp_path: Path) -> None:
    run(tmp_path / "out", "name\nMarta\nIlse\n")
    whole = PdfReader(tmp_path / "out" / "all-A4.pdf", strict=True)
    parts = [
        PdfReader(path) for path in (next((tmp_path / "out" / "shared").iterdir()), tmp_path / "out" / "marta.pdf")
    ]
    counts = [len(part.pages) for part in parts]
    assert len(whole.pages) == counts[0] + 2 * counts[1]
    headings = [item for item in whole.outline if not isinstance(item, list)]
    assert [str(item.title) for item in headings][1:] == ["Marta", "Ilse"]
    assert [whole.get_destination_page_number(item) for item in headings] == [0, counts[0], counts[0] + counts[1]]
    assert whole.pages[counts[0]].get_contents().get_data() == parts[1].pages[0].get_contents().get_data()  # type: ignore[union-attr]  # a sheet is never empty
    assert whole.pages[0].mediabox == parts[0].pages[0].mediabox


@pytest.mark.slow
def test_pages_joined_look_as_they_did(tmp_path: Path, poppler: str) -> None:
    sheet = find("sled").plan({"finger": 10.0, "cutter": 10.02, "board": 90.0, "thickness": 12.0}).drawings[:1]
    from layout.write import pdf  # noqa: PLC0415 - slow to import

    one = tmp_path / "one.pdf"
    one.write_bytes(pdf.write(compose.compose(Job("sled", "t", "s", "mm", "abc123"), sheet, paper.named("A4"))))
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
    assert sorted(names)[:4] == ["ilse.html", "ilse.pdf", "marta.html", "marta.pdf"]
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
    assert "Sheet 1 of " in pages["marta.html"]
    assert "Sheet 1 of" not in index


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_page_that_is_lost_is_made_again(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name\nMarta\n")
    before = contents(out)
    (out / "marta.html").unlink()
    (out / "index.html").write_text("torn")
    assert run(out, "name\nMarta\n").made == ("index.html", "marta.html", "marta.pdf")
    assert contents(out) == before


# -- rows that are wrong


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_bad_row_never_loses_the_others(tmp_path: Path) -> None:
    rows = ("Marta,,,", "Ilse,3,,", "Orla,,12,", "Pilar,,,A44", "Taras,,,50x60 mm", "Jo,,,")
    text = "\n".join(["name,box.length,groove.depth,print.paper", *rows])
    outcome = run(tmp_path / "out", text)
    assert {"marta.pdf", "jo.pdf"} <= set(contents(tmp_path / "out"))
    assert not {"ilse.pdf", "orla.pdf", "pilar.pdf", "taras.pdf"} & set(contents(tmp_path / "out"))
    said = [fault.says("mm") for fault in outcome.faults]
    assert said[0].startswith("row 3 (Ilse), column B (box.length): outside length")
    assert any(words.startswith("row 4 (Orla), column C (groove.depth): ") for words in said), said
    assert any("column D (print.paper): paper: there is no paper called 'A44'; did you mean" in words for words in said)
    assert any(words.startswith("row 6 (Taras), column D (print.paper): test joint can't go on") for words in said)


def test_exit_codes_and_the_message_of_each_row(tmp_path: Path) -> None:
    people = tmp_path / "list.csv"
    people.write_text("name,box.length\nMarta,3\n")
    command = ["class", str(people), "--box", str(METRIC), "-o", str(tmp_path / "out")]
    result = CliRunner().invoke(main, command)
    assert result.exit_code == 1
    assert "stop: row 2 (Marta), column B (box.length): outside length along the front" in result.stderr
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
    (out / "ilse.pdf").unlink()
    (out / "marta.pdf").write_bytes(b"torn")
    assert run(out, text).made == ("ilse.html", "ilse.pdf", "marta.html", "marta.pdf")
    changed = {"ilse.html", "ilse.pdf", "index.html", "all-A4.pdf", "class.zip", "plan.pdf"}
    assert set(run(out, text.replace("210", "220")).made) == changed


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_late_row_changes_no_other(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name,box.length\nMarta,\nIlse,210\n")
    before = contents(out)
    run(out, "name,box.length\nilse,200\nMarta,\nMárta,900\nIlse,210\n")
    after = contents(out)
    assert {name: after[name] for name in ("marta.pdf", "ilse.pdf")} == {
        name: before[name] for name in ("marta.pdf", "ilse.pdf")
    }
    assert len(after) > len(before)


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_who_has_left_is_named_and_the_file_stays(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name\nMarta\nIlse\n")
    assert run(out, "name\nMarta\n").stale == ("ilse.html", "ilse.pdf")
    assert (out / "ilse.pdf").exists()


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_a_damaged_state_is_begun_anew(tmp_path: Path) -> None:
    out = tmp_path / "out"
    run(out, "name\nMarta\n")
    (out / FILE).write_bytes(b"not a data base, and long enough to be looked at as one" * 20)
    assert "marta.pdf" in run(out, "name\nMarta\n").made


def test_two_runs_do_not_work_in_one_folder(tmp_path: Path) -> None:
    with State(tmp_path), pytest.raises(MachineFault, match="another jigleaf is working in"):
        State(tmp_path)


@pytest.mark.slow
@pytest.mark.usefixtures("quick")
def test_what_a_students_sheet_gives_back_bears_the_name(tmp_path: Path) -> None:
    run(tmp_path / "out", f"name\nMarta\n{'Ilse ' * 40}\n")
    titles = [
        reading.read(embedded.load(str(path)).content.decode(), "it").title
        for path in (tmp_path / "out").glob("[mi]*.pdf")
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
    assert "group 2 of 2" in second
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
def test_a_class_is_drawn_for_its_printer_and_in_its_hand(tmp_path: Path) -> None:
    """The margins move the frame, the correction is set on each page, large letters are large."""
    row = class_list.Row(2, "Marta", {}, {})
    printer = Printer("office", Distortion(0.99, 1.0, 0.0), Margins(22.0, 10.0, 10.0, 10.0))
    plain, corrected, large = (
        course_pack.handout(course_pack.Pack("marta.pdf", "Marta", "Box", row, PLAIN, "A4", printing, tmp_path))
        for printing in (
            make.USUAL,
            make.Printing(printer=printer),
            make.Printing(hand=Hand(large=True)),
        )
    )
    left = [
        min(stroke.shape.bounds.left for group in made.sheets[0].groups() for stroke in group.strokes if not group.clip)
        for made in (plain, corrected)
    ]
    assert left == [pytest.approx(20.0), pytest.approx(22.5)]
    assert corrected.bundle.correction == printer.correction
    at_the_bench = [
        {text.height for group in made.sheets[0].groups() for text in group.texts} for made in (plain, large)
    ]
    assert max(at_the_bench[0]) < max(at_the_bench[1])
    assert len(large.sheets) > len(plain.sheets)


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
            for path in out.glob("p*.pdf"):
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
        pack = course_pack.Pack("marta.pdf", "Marta", "Box", row, PLAIN, "A4", make.USUAL, out)
        packs = iter([pack, replace(pack, file="ilse.pdf", name="Ilse")])
        assert sorted(result.pack.file for result in course_pack.drawn(packs, workers)) == ["ilse.pdf", "marta.pdf"]
        digests.append(contents(out))
    assert digests[0] == digests[1]


# -- the plan


def makers(base: Path, text: str) -> tuple[Maker, ...]:
    file = reading.load(base)
    rows = class_list.read(text.encode(), "list.csv").rows
    return tuple(Maker(row.name, course_plan.numbers(chain.work_out(class_list.resolve(row, file)))) for row in rows)


CLASS = (SAMPLES / "class.csv").read_text(encoding="utf-8")
IN_INCHES = "name,box.length,joint.clearance\nMarta Eikeland,,\nJoseph Adeyemi,8 1/2,\nIlse van Houten,9,0.006\n"
LONG = "name\n" + "".join(f"{'Wolfeschlegelsteinhausen ' * (i % 4)}{i} {'x' * i}\n" for i in range(10))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("base", "text", "page"),
    [(METRIC, CLASS, "A4"), (INCHES, IN_INCHES, "Letter"), (METRIC, LONG, "both")],
    ids=["sample", "inches", "long names"],
)
def test_the_plan_is_legible(base: Path, text: str, page: str) -> None:
    file = reading.load(base)
    drawings = course_plan.drawings(Course(file, makers(base, text)))
    bundle = compose.compose(Job("plan", "Plan", "s", file.units, "abc123"), drawings, paper.named(page))
    assert [faults(sheet) for sheet in bundle.sheets if faults(sheet)] == []


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
    drawings = {drawing.name: drawing for drawing in course_plan.drawings(course_of)}
    (menu, _) = drawings["widths"].body
    assert menu.rows[-1] == (10.02, 9.92, *map(pytest.approx, (49.80, 69.74, 89.68, 109.62)))  # type: ignore[union-attr]  # a table
    (blank, _) = drawings["work-out"].body
    solved = drawings["answers"].body[-1]
    assert [row[:2] for row in blank.rows] == [row[:2] for row in solved.rows]  # type: ignore[union-attr]  # tables
    assert all(row[-1] is None for row in blank.rows)  # type: ignore[union-attr]  # a table
    assert all(isinstance(row[-1], float) for row in solved.rows)  # type: ignore[union-attr]  # a table


def test_the_plan_says_whose_warnings_sleds_and_test_pieces() -> None:
    """Eight boxes, eight test pieces each; a sled for each cutter and thickness; the gap is signed at one step."""
    drawings = {d.name: d for d in course_plan.drawings(Course(reading.load(METRIC), makers(METRIC, CLASS)))}
    pieces = next(item for item in drawings["materials"].body if item.name == "test-pieces")
    assert isinstance(pieces, Table)
    assert sum(int(str(row[-1])) for row in pieces.rows) == 64
    warned = drawings["warnings"].body[0]
    assert isinstance(warned, Table)
    assert any("are lowered onto the bit" in str(row[0]) and "Marta Eikeland" in str(row[1]) for row in warned.rows)
    sleds = drawings["who"].body[1]
    assert isinstance(sleds, Table)
    named = [name for row in sleds.rows for name in str(row[1]).split("; ")]
    assert len(named) == len(set(named)) == 8
    held = [item for item in drawings["hold-points"].body if isinstance(item, Table)]
    assert [len(table.headings) for table in held] == [4, 4, 4, 2]
    assert held[0].headings[2].startswith("Gap set, step ")
    assert held[3].headings[1].startswith("Hole saw set")


def test_only_holds_that_somebody_has_are_signed(tmp_path: Path) -> None:
    whole = METRIC.read_text(encoding="utf-8")
    bare = tmp_path / "bare.toml"
    bare.write_text(whole[: whole.index("[handle]")] + whole[whole.index("[shell]") :], encoding="utf-8")
    drawn = course_plan.drawings(Course(reading.load(bare), makers(bare, "name\nMarta\n")))
    held = next(drawing for drawing in drawn if drawing.name == "hold-points")
    headings = [heading for item in held.body if isinstance(item, Table) for heading in item.headings]
    assert any(heading.startswith("Lid's last cut, step ") for heading in headings)
    assert not any("saw" in heading.lower() for heading in headings)


def test_the_boards_of_a_class_are_shared_out_by_wood() -> None:
    """Worked by hand: one long cherry board; Ilse's ends of maple have none, and are to be got with their trims."""
    base, listed = reading.load(METRIC), "name,sides.ends_species\nMarta,\nIlse,sugar maple\n"
    drawings = {d.name: d for d in course_plan.drawings(Course(base, makers(METRIC, listed)))}
    totals, shared, *_ = drawings["materials"].body
    assert isinstance(totals, Table)
    assert isinstance(shared, Table)
    sides = {str(row[0]): row[3:5] for row in totals.rows if str(row[0]).startswith(("sides", "front", "ends"))}
    assert sides == {
        "sides, black cherry": ("1", "1"),
        "front and back, black cherry": ("1", "1"),
        "ends, sugar maple": ("1", "1"),
    }
    [ends] = [row for row in shared.rows if "Ilse: ends" in str(row[2])]
    # 2·150.6 + 3.2 + 2·15 = 334.4
    assert (ends[0], read_out(ends[1], "mm")) == ("to buy", "334.4 mm × 94.68 mm × 15 mm, sugar maple")  # type: ignore[arg-type]  # words
    of_board_1 = [str(row[2]) for row in shared.rows if str(row[0]) == "board 1"]
    assert of_board_1 == ["Marta: sides, Ilse: front and back"]


def test_more_than_a_rack_can_be_shared_out_between_is_said() -> None:
    (one,) = makers(METRIC, "name\nMarta\n")
    many = tuple(replace(one, name=f"Marta {i}") for i in range(60))
    drawings = course_plan.drawings(Course(reading.load(METRIC), many))
    materials = next(drawing for drawing in drawings if drawing.name == "materials")
    assert "240 pieces are too many to be shared out between single boards" in str(materials.body[1])


def test_steps_name_the_numbers_of_the_box() -> None:
    """The page has the steps of the sheets, to the last, with the holds among them."""
    worked = chain.work_out(reading.load(METRIC))
    said = order.told(worked)
    every = [step for _, steps in order.stations(worked) for step in steps]
    assert len(said) == len(every)
    assert any("89.68 mm" in step for step in said)
    assert [step.startswith("HOLD") for step in said] == [bool(step.hold) for step in every]
    held = [number for number, step in enumerate(said, 1) if step.startswith("HOLD")]
    assert held == [number for number, _ in order.holds(worked)]
    assert [name for _, name in order.holds(worked)] == list(course_plan.HOLD_POINTS)
