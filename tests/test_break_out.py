"""Nothing gets out of where it belongs: names stay names, words stay words, files stay in their folder.

Unicode TR 36 (writing that is turned round), ECMA-48 (what steers a terminal), ISO 32000-1, 7.3.4.2 (strings of a PDF),
and the names that Windows keeps for itself, from memory.
"""

from __future__ import annotations

import html
import io
import re
import tomllib
import zipfile
from pathlib import Path, PurePosixPath, PureWindowsPath
from typing import Any

import pypdf
import pytest
import tomlkit
from click.testing import CliRunner, Result
from hypothesis import example, given
from hypothesis import strategies as st
from lxml import etree

import cli
from jigs.base import safe_names
from jigs.boxfile import change as boxfile_change
from jigs.boxfile import reading
from layout.carry import embedded
from layout.course import names as course_names
from layout.course import run as course_run
from layout.printer import kept
from layout.sheet import paper
from layout.sheet.carried import Carried
from layout.sheet.marks import Bundle, Sheet
from layout.write import pdf, svg
from tests import corpus, processes
from tests.test_course import hurry

HOSTILE = [part for part in corpus.HARMFUL if part.isprintable()]
WINDOWS = {"con", "prn", "aux", "nul", *(f"{port}{number}" for port in ("com", "lpt") for number in "123456789")}
GAUGES = ["jig", "gauges", "--gap", "9.92", "--socket", "10.02", "--thickness", "12", "--format", "svg"]


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, list(words))


def titled(title: str) -> str:
    return f"{tomlkit.dumps({'title': title})}{corpus.LEAST}"


@pytest.fixture
def here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder inside another one, which must stay empty but for it."""
    (tmp_path / "in").mkdir()
    monkeypatch.chdir(tmp_path / "in")
    return tmp_path / "in"


def written(folder: Path) -> set[str]:
    return {str(path.relative_to(folder)) for path in folder.rglob("*") if path.is_file()}


# -- names of files ------------------------------------------------------------------------------------------------


def is_safe(name: str) -> bool:
    """Tell whether a relative path is one that any system takes, and that stays where it is put."""
    path = PurePosixPath(name)
    fine = not path.is_absolute() and not PureWindowsPath(name).is_absolute() and not PureWindowsPath(name).drive
    for part in path.parts:
        fine = fine and part not in ("..", ".") and not re.search(r'[\\:*?"<>|\x00-\x1f\x7f]', part)
        fine = fine and part.split(".")[0].casefold().strip() not in WINDOWS and not part.endswith((".", " "))
        fine = fine and len(part.encode()) <= 255
    return fine


NAMES = [
    "../../etc/passwd",
    "C:\\x",
    "CON",
    "nul.pdf",
    "aux",
    "COM1",
    "a.",
    "a ",
    "x" * 300,
    "李" * 90,
    "-rf",
    *HOSTILE,
]


@pytest.mark.slow
def test_what_goes_to_a_class_unpacks_where_it_is_put(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    hurry(monkeypatch)
    (tmp_path / "box.toml").write_text(titled("../../x & <b>"))
    (tmp_path / "list.toml").write_text(tomlkit.dumps({"students": [{"name": name} for name in NAMES]}))
    outcome = course_run.make(
        course_run.Asked(tmp_path / "list.toml", tmp_path / "box.toml", tmp_path / "out", "A3", workers=1)
    )
    assert outcome.faults == ()
    assert {path.name for path in tmp_path.iterdir()} == {"box.toml", "list.toml", "out"}
    assert all(is_safe(name) for name in written(tmp_path / "out"))
    # Nothing that a spreadsheet opens: there, words that begin with = are run.
    assert {Path(name).suffix for name in written(tmp_path / "out")} == {".pdf", ".html", ".zip", ".json", ".state"}
    with zipfile.ZipFile(tmp_path / "out" / "class.zip") as archive:
        members = archive.infolist()
    folded = [member.filename.casefold() for member in members]
    assert len(set(folded)) == len(folded) > 2 * len(NAMES)
    for member in members:
        assert is_safe(member.filename)
        assert not member.is_dir()
        assert member.external_attr >> 16 == 0o644  # no link, nothing that runs
        assert member.flag_bits & 1 == 0


@given(st.text(max_size=300))
@example("CON")
@example("com1")
@example("..")
@example("x" * 300)
@example("李" * 300)
@example("\udcff")
def test_any_name_makes_a_safe_stem(name: str) -> None:
    stem = safe_names.stem(name, "box")
    assert is_safe(f"{stem}.svg")
    assert "/" not in stem
    assert 0 < len(stem.encode()) <= safe_names.MOST_BYTES + 4
    box = reading.read(corpus.LEAST, f"{name}.toml")
    assert is_safe(f"{box.stem}-sled-test-joint.svg")


def test_a_sheet_with_a_name_that_leads_elsewhere_is_written_where_it_was_asked(here: Path) -> None:
    (here / "sheet.pdf").write_bytes(corpus.pdf(dict(corpus.CARRYING) | {5: corpus.filespec("../../../etc/x.toml")}))
    result = run("reopen", "sheet.pdf", "-o", "out.toml")
    assert (result.exit_code, result.stdout) == (0, "out.toml\n")
    assert written(here.parent) == {"in/sheet.pdf", "in/out.toml"}


@pytest.mark.slow
@pytest.mark.parametrize(
    "name", ["../../x.toml", "/x.toml", "CON.toml", "..\\..\\x.toml", "x" * 110 + ".toml", "李" * 110]
)
def test_sheets_drawn_again_stay_in_their_folder(name: str, here: Path) -> None:
    (here / "sheet.svg").write_bytes(corpus.svg(corpus.LEAST.encode(), name=name))
    words = ["--set", "title=a", "--only", "glue", "--format", "svg", "-o", "out"]
    assert run("reopen", "sheet.svg", *words).exit_code == 0
    found = written(here.parent) - {"in/sheet.svg"}
    assert found
    assert all(name.startswith("in/out/") and is_safe(name[len("in/out/") :]) for name in found)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--only", "../../x"], "--only: there is no page called '../../x'"),
        (["--only", "blocks/../../x"], "--only: there is no page called"),
        (["--paper", "../../x"], "paper: '../../' has no number in it"),
        (["--printer", "../../x"], "--printer: "),
        (["--date", "\x1b[31m"], "can't be drawn"),
        (["--date", "a\u202eb"], "can't be drawn"),
    ],
)
def test_options_are_no_paths(
    words: list[str], says: str, here: Path, monkeypatch: pytest.MonkeyPatch, tmp_path_factory: pytest.TempPathFactory
) -> None:
    monkeypatch.setattr(kept, "folder", lambda: tmp_path_factory.getbasetemp() / "none")
    result = run(*GAUGES, *words)
    assert result.exit_code in (1, 2)
    assert says in " ".join(result.stderr.split())
    assert "\x1b" not in result.stderr
    assert written(here.parent) == set()


def test_a_printer_is_a_name_in_one_file(here: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(kept, "folder", lambda: here / "kept")
    kept.keep(kept.Printer("../../x"))
    assert written(here.parent) == {"in/kept/printers.json"}
    assert kept.find("../../x").name == "../../x"


# -- words in files ------------------------------------------------------------------------------------------------


def sheet(words: str) -> Sheet:
    return Sheet("empty", words, paper.named("A4"), (), 1, 1)


def bundle(words: str) -> Bundle:
    return Bundle("empty", words, words, "revision abc123", (sheet(words),), carried=Carried("box", words, b"x"))


words_of_any_kind = st.text(st.characters(exclude_categories=["Cs", "Cc", "Cn"]), min_size=1, max_size=40)


@given(words_of_any_kind)
@example("]]><script>alert(1)</script><!--")
@example('"\'><svg onload="alert(1)"/>&lt;&#0;')
@example("a\u2028b\u2029c\u202ed")
def test_words_in_an_svg_stay_words(words: str) -> None:
    content = svg.write(sheet(words), words, carried=Carried("box", words, b"x"))
    root = etree.fromstring(content)
    tags = {etree.QName(element).localname for element in root.iter(etree.Element)}
    assert tags <= {"svg", "title", "desc", "metadata", "carried", "defs", "g", "path", "text"}
    assert root.findtext("{*}title") == words
    assert not [name for element in root.iter(etree.Element) for name in element.attrib if str(name).startswith("on")]
    assert "<!" not in content.decode()


ACTS = re.compile(r"/(?:JS|JavaScript|OpenAction|AA|Launch|URI|GoToR|SubmitForm|RichMedia)\b")


@given(words_of_any_kind)
@example(") /OpenAction << /S /JavaScript /JS (app.alert(1)) >> (")
@example("\\) endobj 1 0 obj << /S /Launch >> endobj (")
@example("(((\\")
def test_words_in_a_pdf_stay_words(words: str) -> None:
    content = pdf.write(bundle(words))
    read = pypdf.PdfReader(io.BytesIO(content), strict=True)
    assert read.metadata is not None
    assert (read.metadata.title, read.metadata.subject) == (words, words)
    assert [str(item.title) for item in read.outline if not isinstance(item, list)] == [words]
    keys = [key for number in range(1, 99) for key in _keys(read, number)]
    assert keys
    assert not [key for key in keys if ACTS.match(key)]


def _keys(read: pypdf.PdfReader, number: int) -> list[str]:
    """Return the keys of one object of a file and of the tables in it."""
    waiting: list[Any] = [pypdf.generic.IndirectObject(number, 0, read).get_object()] if number < _size(read) else []
    found: list[str] = []
    while waiting:
        item = waiting.pop()
        if isinstance(item, dict):
            found += [str(key) for key in item]
            waiting += [item.raw_get(key) for key in item]  # type: ignore[attr-defined]  # pypdf's own kind of dict
        elif isinstance(item, list):
            waiting += item
    return found


def _size(read: pypdf.PdfReader) -> int:
    size: Any = read.trailer["/Size"]
    return int(size)


@pytest.mark.slow
@pytest.mark.parametrize("title", HOSTILE)
def test_a_title_in_all_files_of_a_box(title: str, here: Path) -> None:
    (here / "box.toml").write_text(titled(title))
    result = run("draw", "box.toml", "--only", "glue")
    if "the sheet font has no" in result.stderr:
        assert written(here) == {"box.toml"}
        return
    assert result.exit_code == 0
    assert all(re.fullmatch(r"box\.toml|box-glue(-cards\.pdf|-card-[0-9]+-glue\.svg)", name) for name in written(here))
    root: Any = etree.parse(next(here.glob("box-glue-card-*.svg"))).getroot()
    assert not root.findall(".//{*}script")
    assert title in " ".join(" ".join(text for text in root.itertext()).split())
    assert embedded.load(here / "box-glue-cards.pdf").content == titled(title).encode()


@given(st.text(st.characters(exclude_categories=["Cs"]), max_size=60))
@example('a"\n[joint]\nfinger = 3\nx = "')
@example('"""\n')
@example("\\u0022")
def test_a_value_that_is_set_changes_no_other(value: str) -> None:
    made = tomllib.loads(boxfile_change.set_values(titled("old"), {"title": value, "sides.species": value}))
    before = tomllib.loads(titled(value))
    before["sides"]["species"] = value
    assert made == before


@pytest.mark.parametrize("change", ["title=a\n[joint]\nfinger=3", "title=\x1b[31m", "box.length=1\n2", "x\n.y=1"])
def test_a_change_is_one_value_or_refused(change: str, here: Path) -> None:
    (here / "sheet.svg").write_bytes(corpus.svg(corpus.LEAST.encode()))
    result = run("reopen", "sheet.svg", "--set", change, "-o", "out")
    assert result.exit_code == 2
    assert "\x1b" not in result.stderr
    assert written(here) == {"sheet.svg"}


@pytest.mark.parametrize("name", [name for name in NAMES if name.strip()])
def test_a_name_in_the_pages_of_a_class(name: str) -> None:
    """What a page says comes back letter by letter in test_page.py; here, that it makes no element of its own."""
    drawn, _ = course_names.on_the_sheet(name)
    assert drawn.isprintable()
    assert "<" not in html.escape(drawn)


# -- terminals -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words",
    [
        ["check", "\x1b[31mnone\x07.toml"],
        ["jig", "\x1b]0;x\x07"],
        ["jig", "gauges", "--\x9b31m"],
        ["jig", "gauges", "--gap", "\x1b[31m"],
        ["draw", "box.toml", "--only", "\x1b[2J"],
        ["reopen", "jigleaf:1 \x1b[31m\u202e mm x=1"],
        ["reopen", "\u202etoms.pdf"],
        ["calibrate", "--show", "\x9b31m"],
        ["class", "list.csv", "--box", "box.toml", "-o", "\x1b[31m"],
        ["class", "list.toml", "--box", "box.toml"],
        ["reopen", "sheet.pdf", "-o", "x"],
        ["reopen", "jig.svg", "--set", "proud=1"],
    ],
)
def test_no_message_steers_a_terminal(words: list[str], here: Path) -> None:
    (here / "box.toml").write_text(corpus.LEAST)
    (here / "list.csv").write_text('name,"\x1b[31mx\x9b"\nAnn,3\n')
    (here / "list.toml").write_text('[[students]]\nname = "A\\u001b[31mn"\n"\\u001b[31m\\u202e" = 3\n')
    (here / "sheet.pdf").write_bytes(corpus.PDFS["no such filter"]())
    (here / "jig.svg").write_bytes(
        corpus.svg(b'{"jig":"\\u001b[31m","units":"mm","settings":{},"defaults":{}}', "jigleaf 1 jig")
    )
    result = run(*words)
    assert result.exit_code in (1, 2)
    assert result.stderr.strip()
    assert not [letter for letter in result.stderr if not letter.isprintable() and letter != "\n"]


@pytest.mark.slow
def test_no_result_steers_a_terminal_and_a_pipe_gets_it_to_the_byte(tmp_path: Path) -> None:
    """ECMA-48: what follows the escape character, or stands from U+0080 to U+009F, steers a terminal."""
    box = f"# \x9b31m \u202e\n{titled('x')}".encode()
    (tmp_path / "sheet.svg").write_bytes(corpus.svg(b"\x1b]0;owned\x07\n" + box))
    folder = "a\x1b[31mb"
    for words in (["reopen", "sheet.svg"], [*GAUGES, "-o", folder]):
        shown = processes.run_at_a_terminal(*words, cwd=tmp_path).decode()
        assert shown.strip()
        assert not [letter for letter in shown if not letter.isprintable() and letter not in "\r\n"]
    assert processes.run("reopen", "sheet.svg", cwd=tmp_path).out.encode() == b"\x1b]0;owned\x07\n" + box
    listed = processes.run(*GAUGES, "-o", folder, "--list", cwd=tmp_path).out
    assert f"{folder}/gauges" in listed
