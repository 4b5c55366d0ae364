"""Files that are dropped on the bench, a new box by questions, and a bench without a file: nothing is ever lost."""

from __future__ import annotations

import io
import json
import zipfile
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from reportlab.pdfgen import canvas

import cli
from jigs.base.catalogue import find
from jigs.box import questions
from jigs.record import replace
from layout import make
from layout.bench import jig_form
from layout.bench.jig_form import JigForm
from tests.conftest import examples
from tests.on_bench import Client, Said

SAMPLES = Path(__file__).parent.parent / "samples"
SAMPLE = SAMPLES / "recipe-box.toml"
LEAF = b"""<?xml version="1.0"?>
<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 30"><path d="M0 0 L40 0 L20 30 Z"/>
<text x="3" y="9">leaf</text></svg>"""
HOSTILE = b"""<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 40 30" onload="alert(1)">
<script>alert(1)</script><image href="http://example.invalid/x.png"/><foreignObject><b>x</b></foreignObject>
<circle cx="20" cy="15" r="9" onclick="alert(1)"/></svg>"""
BOMB = b"""<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "aaaaaaaaaa"><!ENTITY b "&a;&a;&a;&a;&a;&a;&a;&a;&a;&a;">]>
<svg xmlns="http://www.w3.org/2000/svg"><text>&b;&b;&b;</text></svg>"""
OUTSIDE = b"""<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a SYSTEM "file:///etc/hostname">]>
<svg xmlns="http://www.w3.org/2000/svg"><text>&a;</text></svg>"""


@pytest.fixture
def client(tmp_path: Path) -> Client:
    path = tmp_path / "tea.toml"
    path.write_bytes(SAMPLE.read_bytes())
    return Client.at(path)


@pytest.fixture
def without_file(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> Client:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    return Client.at(None)


def dropped(client: Client, name: str, content: bytes, address: str = "/box/wood") -> Said:
    answer = client.drop(address, name, content)
    assert answer.status_code == 200, (answer.status_code, answer.text[:300])
    return Said(answer.text)


def packed() -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(out, "w") as archive:
        archive.writestr("box.toml", SAMPLE.read_text())
    return out.getvalue()


def foreign_pdf() -> bytes:
    out = io.BytesIO()
    page = canvas.Canvas(out)
    page.drawString(72, 72, "a bill")
    page.save()
    return out.getvalue()


# -- what can't be opened


LARGE = "zeros.bin"
REFUSED: dict[str, tuple[bytes, str]] = {
    "empty.toml": (b"", "empty.toml is empty"),
    "blanks.toml": (b" \r\n\t", "there is nothing in blanks.toml but blanks"),
    LARGE: (bytes(8_000_000), "there is nothing in zeros.bin but blanks"),
    "photo.png": (b"\x89PNG\r\n\x1a\n" + bytes(range(256)), "photo.png is a picture, which holds no settings"),
    "photo.jpg": (b"\xff\xd8\xff\xe0" + bytes(range(256)), "photo.jpg is a picture, which holds no settings"),
    "sheets.zip": (packed(), "sheets.zip is packed; unpack it, and take one file of it"),
    "program.exe": (b"MZ\x90\x00" + bytes(range(128, 256)), "program.exe is no sheet, no box file and no drawing"),
    "bill.pdf": (foreign_pdf(), "bill.pdf does not carry what it was made from"),
    "broken.pdf": (b"%PDF-1.7\n" + b"1 0 obj << " * 50, "broken.pdf"),
    "bomb.svg": (BOMB, "bomb.svg"),
    "outside.svg": (OUTSIDE, "outside.svg"),
    "page.html": (b"<!doctype html><p>hello", "page.html"),
    "deep.svg": (b'<svg xmlns="http://www.w3.org/2000/svg">' + b"<g>" * 100_000, "deep.svg"),
    "words.txt": (b"Dear maker, the lid sticks.", "words.txt, line 1"),
    "nested.toml": (b"a = " + b"[" * 1900, "nested.toml"),
    "jig.toml": (b'jig = "sled"\nunits = "mm"\n[settings]\nfinger = "wide"\n', "jig.toml, line 4: settings.finger"),
    "no-such.toml": (b'jig = "lathe"\n', "there is no jig called 'lathe'"),
    "odd\0name.toml": (b"", "oddname.toml is empty"),
    "C:\\box\\a.toml": (b"", "a.toml is empty"),
    "../../up.toml": (b"", "up.toml is empty"),
}


@pytest.mark.parametrize(
    ("name", "address"),
    [(LARGE, "/box/wood")]
    + [(name, address) for name in REFUSED if name != LARGE for address in ("/box/wood", "/jigs/taper", "/new")],
)
def test_a_wrong_file_is_named_with_what_is_wrong_and_nothing_changes(client: Client, name: str, address: str) -> None:
    content, said = REFUSED[name]
    state = client.bench.state
    before = (state.file.source, state.at, state.version, state.kept.path and state.kept.path.read_bytes())
    page = dropped(client, name, content, address)
    assert said in page.words("told")
    assert (state.file.source, state.at, state.version, state.kept.path and state.kept.path.read_bytes()) == before
    assert not state.kept.copy.exists()


def test_a_box_file_with_faults_is_refused_with_each_fault_and_its_line(client: Client) -> None:
    text = SAMPLE.read_text().replace("length = 200", "length = 'long'")
    text = text.replace("finger = 10", "finger = 10\nfigner = 1", 1)
    lines = text.splitlines()
    page = dropped(client, "mine.toml", text.encode())
    faults = [said for _, said in page.all("p") if said.startswith("mine.toml, line")]
    assert [fault.split(": ")[:2] for fault in faults] == [
        [f"mine.toml, line {1 + lines.index(next(line for line in lines if 'long' in line))}", "box.length"],
        [f"mine.toml, line {1 + lines.index('figner = 1')}", "joint.figner"],
    ]
    assert not client.bench.state.can_undo


def test_a_box_that_cannot_be_built_is_opened_with_its_errors(client: Client) -> None:
    """What a rule stops is still a box: it is mended on the bench."""
    text = SAMPLE.read_text().replace("finger = 10", "finger = 4", 1)
    assert text != SAMPLE.read_text()
    page = dropped(client, "mine.toml", text.encode())
    assert page.words("told").startswith("Opened mine.toml.")
    assert page.words("verdict").startswith("Can’t be built yet")


def test_what_is_no_file_or_too_large_is_said(client: Client) -> None:
    assert client.do("/box/wood", "too-large", name="film.mov").words("told") == (
        "film.mov is larger than 8 MB, and was not opened."
    )
    assert client.do("/jigs", "unreadable", name="sheets").words("told") == (
        "sheets can’t be read; a folder can’t be opened."
    )
    assert client.do("/box/wood", "open", name="a.toml", content="no base 64!").words("told") == (
        "the file did not arrive whole"
    )


@settings(max_examples=examples(40))
@given(
    start=st.sampled_from(
        [b"", b"<svg ", b"<?xml version='1.0'?>", b"%PDF-1.4\n", b"\xef\xbb\xbf", b"PK", b'jig = "sled"\n']
    ),
    rest=st.binary(max_size=300),
    name=st.text(max_size=20),
)
def test_any_bytes_are_answered(opened: Callable[[], Client], start: bytes, rest: bytes, name: str) -> None:
    client = opened()
    answer = client.drop("/box/wood", name, start + rest)
    assert answer.status_code in (200, 303)
    assert Said(answer.text).words("told") or answer.status_code == 303


@pytest.fixture(scope="module")
def opened(tmp_path_factory: pytest.TempPathFactory) -> Callable[[], Client]:
    def made() -> Client:
        path = tmp_path_factory.mktemp("bench") / "tea.toml"
        path.write_bytes(SAMPLE.read_bytes())
        return Client.at(path)

    return made


# -- what is opened, and undone


IN_PDF = [pytest.param(one, marks=pytest.mark.slow) for one in ("-cards.pdf", "-templates.pdf")]


@pytest.mark.parametrize("ending", [".toml", "-card-1-stock.svg", *IN_PDF])
def test_a_box_is_opened_from_its_file_and_its_sheets(client: Client, ending: str) -> None:
    state, inches = client.bench.state, make.box((SAMPLES / "recipe-box-inch.toml").read_text(), "recipe-box-inch.toml")
    before = state.file.source
    if ending == ".toml":
        name, content = inches.name, inches.source.encode()
    else:
        drawn = make.draw(inches, () if "pdf" in ending else ("stock",), make.Printing(formats=("pdf", "svg"))).files
        name = next(one for one in drawn if one.endswith(ending.replace("-card-1-stock", "")) and "proof" not in one)
        content = drawn[name]
    page = dropped(client, name, content)
    assert page.words("told") == (
        f"Opened {name}. Undo takes you back to the box before. tea.toml stays as it is until you save."
    )
    assert state.file.source == inches.source
    assert state.kept.path is not None
    assert state.kept.path.read_bytes() == SAMPLE.read_bytes()
    client.do("/box/wood", "undo")
    assert state.file.source == before
    page = dropped(client, "same.toml", before.encode())
    assert page.words("told") == "same.toml says just what stands here already."


def test_a_drawing_becomes_the_pattern_and_undo_takes_it_away(client: Client) -> None:
    before = client.bench.state.file
    assert before.shell is not None
    page = dropped(client, "leaf.svg", LEAF)
    assert page.words("told") == (
        "leaf.svg is now the pattern, 60 mm wide, in place of the shell. Set its width under Shell. "
        "Undo takes it away. Left out of it: 1 text."
    ).replace(" Left", "Left")
    pattern = client.bench.state.file.pattern
    assert pattern is not None
    assert pattern.width == 60.0
    assert client.bench.state.file.shell is None
    page = dropped(client, "again.svg", b"\xef\xbb\xbf" + LEAF.replace(b"20 30", b"20 20"))
    assert "again.svg is now the pattern, 60 mm wide." in page.words("told")
    client.do("/box/shell", "undo")
    client.do("/box/shell", "undo")
    assert client.bench.state.file.source == before.source


def test_scripts_and_pictures_in_a_drawing_are_left_out(client: Client) -> None:
    page = dropped(client, "hostile.svg", HOSTILE)
    assert "hostile.svg is now the pattern" in page.words("told")
    source = client.bench.state.file.source
    assert not any(word in source for word in ("alert", "script", "example.invalid", "onload"))
    assert "<script>alert" not in client.get("/box/shell").text


def test_a_name_is_words_and_no_markup(client: Client) -> None:
    answer = client.drop("/box/wood", "<img src=x onerror=alert(1)>.toml", b"")
    assert "<img" not in answer.text
    assert "&lt;img src=x onerror=alert(1)&gt;.toml is empty" in answer.text


# -- a bench without a file


def test_a_new_box_is_offered_questions_until_something_is_done(without_file: Client) -> None:
    page = without_file.see("/box/wood")
    assert page.words("new-box") == "A new box. Answer a few questions, or change anything below."
    assert page.all("a", href="/new")
    assert "not saved yet" in page.words("file")
    page = without_file.type("/box/wood", {"box.length": "220"})
    assert page.words("new-box") == ""
    assert not without_file.see("/jigs").words("new-box")


def test_a_file_that_is_not_there_yet_is_made_by_save(tmp_path: Path) -> None:
    path = tmp_path / "new.toml"
    client = Client.at(path)
    page = client.see("/box/wood")
    assert page.words("new-box")
    assert page.words("save") == "Save"
    assert not path.exists()
    page = client.do("/box/wood", "save")
    assert page.words("told") == "Saved new.toml."
    assert path.read_text() == make.new_box("mm")
    assert page.words("new-box") == ""


def test_a_copy_is_saved_under_the_title_and_the_page_knows_of_it(without_file: Client) -> None:
    client = without_file
    client.type("/box/wood", {"title": "Tea & co: \u202eevil/.."})
    assert client.see("/box/wood").words("save") == "Save a copy"
    answer = client.get("/file")
    assert "filename=tea-co-evil.toml" in answer.headers["Content-Disposition"].replace('"', "")
    assert answer.data.decode() == client.bench.state.file.source
    assert "a copy was saved" in client.see("/box/wood").words("file")
    page = client.type("/box/wood", {"box.length": "220"})
    assert "changed since a copy was saved" in page.words("file")
    assert client.do("/box/wood", "save").words("told") == "there is no file to save into"


def test_the_box_of_last_time_is_there_again(without_file: Client) -> None:
    without_file.type("/box/wood", {"box.length": "220"})
    again = Client.at(None)
    assert again.bench.state.file.box.length == 220
    page = again.see("/box/wood")
    assert page.words("left").startswith("This is the box of last time. Save a copy to keep it")
    assert page.words("new-box") == ""


def test_another_box_opened_without_a_file_can_be_undone(without_file: Client) -> None:
    before = without_file.bench.state.file.source
    page = dropped(without_file, "recipe-box.toml", SAMPLE.read_bytes())
    assert page.words("told") == "Opened recipe-box.toml. Undo takes you back to the box before."
    without_file.do("/box/wood", "undo")
    assert without_file.bench.state.file.source == before


# -- a new box by questions


@pytest.mark.parametrize("units", ["mm", "in"])
def test_questions_left_as_they_are_make_the_file_of_start(client: Client, units: str, tmp_path: Path) -> None:
    """Byte for byte what `jigleaf start --yes` writes, once the shell is ticked, which a maker seldom wants."""
    path = tmp_path / "started.toml"
    done = CliRunner().invoke(cli.main, ["start", str(path), "--yes", "--units", units])
    assert done.exit_code == 0, done.output
    assert "checked" not in client.type("/new", {"units": units}).field("part.shell")
    client.type("/new", {"part.shell": "yes"})
    before = client.bench.state.file.source
    answer = client.post("/new", {"do": "make", "version": client.bench.state.version})
    assert (answer.status_code, answer.headers["Location"]) == (303, "/box/wood")
    assert client.bench.state.file.source == path.read_text()
    client.do("/box/wood", "undo")
    assert client.bench.state.file.source == before


def test_a_part_that_has_no_room_is_not_ticked_and_it_is_said_why(client: Client) -> None:
    assert "checked" in client.see("/new").field("part.groove")
    page = client.type("/new", {"box.length": "100", "box.width": "80"})
    assert "checked" not in page.field("part.groove")
    said = " ".join(words for _, words in page.all("p"))
    assert "There is no room for it. Lowering boards 80.6 mm long" in said
    assert "checked" in client.type("/new", {"box.length": "200", "box.width": "160"}).field("part.groove")


@pytest.mark.parametrize("units", ["mm", "in"])
def test_the_form_answers_as_the_questions_one_by_one(units: Any) -> None:
    """What is offered is never worked out anew where only that was answered; it comes to the same.

    What each answer does is said of the whole box, so that no two of them say what can't be at once.
    """
    draft = questions.Draft(units, {})
    typed = {"title": "Tea", "joint.finger": "8" if units == "mm" else "3/8", "lid.thickness": "15 mm"}
    form = questions.form(units, typed, without=["handle"])
    shown = {one.question.key: one for one in form.asked}
    for question in questions.QUESTIONS:
        part = question.section
        if part in questions.OPTIONAL and part != "handle" and part not in draft.sections:
            draft = draft.with_part(part)
        if draft.asks(question):
            answer = typed.get(question.key, questions.offered(draft, question))
            draft, _ = questions.answered(draft, question, answer)
            assert shown[question.key].answer == answer
    for one in form.asked:
        assert one.effect == one.question.effect(questions.made(draft).worked)
    assert form.made.text == questions.made(draft).text


def test_an_answer_says_what_it_does_and_others_follow(client: Client) -> None:
    page = client.see("/new")
    assert page.field("box.length")["value"] == "200"
    assert "Inside 176 mm by 126 mm." in page.words("field-set-box-length")
    assert [one.get("data-key") for one, _ in page.all("input") if one.get("data-key")][:3] == [
        "units",
        "units",
        "contents",
    ]
    page = client.type("/new", {"joint.finger": "8"})
    assert page.field("joint.cutter")["value"] == "8"
    assert "6 fingers + 5 sockets" in page.words("field-set-joint-finger")
    page = client.type("/new", {"bottom.material": "plywood"})
    assert page.field("bottom.thickness")["value"] == "5.6"
    assert not page.all(data_key="bottom.species")
    page = client.type("/new", {"joint.finger": ""})
    assert page.field("joint.finger")["value"] == "10"


def test_every_consequence_follows_every_answer(client: Client) -> None:
    """Each of them stood as it was when its own answer was typed, and they said three heights at once."""
    for typed in ({"box.height": "110"}, {"joint.finger": "8"}, {"joint.cutter": "8.05"}):
        page = client.type("/new", typed)
        said = [page.words(f"field-set-{name}") for name in ("box-height", "joint-finger", "joint-cutter")]
        width = client.bench.beside["new"].form.made.worked.numbers.width
        assert all(f"sides {width:.2f} mm high" in words.lower() for words in said), said
    assert f"inside {client.bench.beside['new'].form.made.worked.depth_under_plug:.2f} mm deep" in said[0]


def test_what_goes_in_proposes_the_box_that_just_takes_it(client: Client) -> None:
    page = client.type("/new", {"contents": "150 x 105 x 102"})
    said = "What goes in is 102 mm high, and the box is 63.70 mm deep under the lid’s plug."
    assert f"WARNING It does not go in. {said}" in page.words("field-set-contents")
    assert f"WARNING {said}" in page.words("field-set-box-height")
    button = next(one for one, words in page.all("button") if words.startswith("Make it "))
    page = client.type("/new", json.loads(button["data-typed"] or ""))
    assert "It goes in, with " in page.words("field-set-contents")
    assert not [words for _, words in page.all("button") if words.startswith("Make it ")]
    for wrong in ("150 x 105", "a x b x c", "150 x 105 x 0"):
        page = client.type("/new", {"contents": wrong})
        assert "Error" in page.words("field-set-contents")
    assert "Error" not in client.type("/new", {"contents": ""}).words("field-set-contents")


def test_no_explanation_says_its_label_again(client: Client) -> None:
    page = client.type("/new", {"part.shell": "yes", "handle.holes": "3"})
    for attributes, words in page.all("p"):
        if (name := attributes.get("id") or "").endswith("-about") and words:
            label = next(said for one, said in page.all("label", for_=name.removesuffix("-about")))
            assert words.rstrip(".").lower() not in label.lower()


def test_a_handle_has_two_holes_or_three_and_then_an_arch_or_an_eye(client: Client) -> None:
    assert not client.see("/new").all(data_key="handle.middle")
    page = client.type("/new", {"handle.holes": "3"})
    assert "two feet" in page.words("field-set-handle-middle")
    page = client.type("/new", {"handle.middle": "eye"})
    assert "a whole hole" in page.words("field-set-handle-middle")
    client.post("/new", {"do": "make", "version": client.bench.state.version})
    made = client.bench.state.file.handle
    assert made
    assert (made.holes, made.middle) == (3, "eye")


def test_an_answer_that_cannot_be_is_said_at_its_question(client: Client) -> None:
    page = client.type("/new", {"handle.saw": "500"})
    said = page.words("field-set-handle-saw")
    assert "Error Hole the saw really cuts must be from 5 mm to 200 mm; it is 500 mm." in said
    assert "Take 38.6 mm" in said
    assert page.field("handle.saw")["value"] == "500"
    page = client.type("/new", {"handle.saw": ""})
    assert "Error" not in page.words("field-set-handle-saw")


def test_parts_are_ticked_and_have_room_or_not(client: Client) -> None:
    page = client.type("/new", {"part.lid": "no"})
    assert "checked" not in page.field("part.lid")
    assert not page.all(data_key="lid.thickness")
    page = client.type("/new", {"part.lid": "yes", "part.shell": "no", "part.groove": "no"})
    assert page.all(data_key="lid.thickness")
    client.post("/new", {"do": "make", "version": client.bench.state.version})
    made = client.bench.state.file
    assert (made.lid is not None, made.shell, made.groove, made.bottom) == (True, None, None, None)


@pytest.mark.slow
def test_a_part_without_room_says_why(client: Client) -> None:
    """A front of 20 mm has no room for a shell: all its usual sizes are tried."""
    page = client.type("/new", {"box.height": "20", "part.shell": "yes"})
    assert "There is no room for it. The shell with its border is 66 mm × 43 mm" in page.words("part-shell")
    assert "checked" not in page.field("part.shell")


def test_other_units_ask_for_the_sizes_anew_and_keep_the_words(client: Client) -> None:
    client.type("/new", {"title": "Tea", "sides.species": "walnut", "box.length": "300"})
    page = client.type("/new", {"units": "in"})
    assert page.field("title")["value"] == "Tea"
    assert page.field("sides.species")["value"] == "walnut"
    assert page.field("box.length")["value"] == "7-1/2"
    page = client.do("/new", "again")
    assert page.field("title")["value"] == "Recipe box"


def test_the_box_so_far_is_drawn(client: Client) -> None:
    assert "<svg" in client.get("/new/picture").text


def test_a_box_made_over_one_of_another_window_is_not_made(client: Client) -> None:
    before = client.bench.state.file.source
    page = client.do("/new", "make", version=-1)
    assert "changed in another window" in page.words("told")
    assert client.bench.state.file.source == before


def test_a_jig_without_an_example_is_a_form_to_fill_in() -> None:
    """Another person's jig may have none."""
    form = JigForm.of(replace(find("taper"), example=""))
    shown = jig_form.shown(form)
    assert shown.stopped
    assert [told.says for told in shown.general] == ["Taper needs wide, narrow, length."]
    form.type({"wide": "40"})
    form.type({"narrow": "25"})
    form.type({"length": "400"})
    assert not jig_form.shown(form).stopped
