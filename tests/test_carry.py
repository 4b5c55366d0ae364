"""What a sheet carries comes back to the byte, through other people's libraries too; what is foreign is refused.

PDF: written by reportlab, read by pypdf, saved again by pypdf, pikepdf (qpdf) and PyMuPDF. SVG: read by expat, saved
again by lxml. Embedded files are those of ISO 32000-2, 7.11.4, associated files those of 14.13. The QR code of ISO/IEC
18004 is made by segno and read from pixels by zxing-cpp.
"""

from __future__ import annotations

import functools
import io
import json
import math
import os
import subprocess
import sys
import time
import tracemalloc
import zlib
from collections.abc import Callable
from pathlib import Path
from typing import Any

import cv2
import numpy as np
import pikepdf
import pymupdf
import pypdf
import pypdfium2
import pytest
import segno
import zxingcpp
from click.testing import CliRunner, Result
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree

import cli
from jigs.base import written
from jigs.base.catalogue import find
from jigs.base.drawing import around
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.boxfile import change as boxfile_change
from jigs.boxfile import jig_file, reading
from jigs.course import class_list
from jigs.record import replace
from layout import make
from layout.carry import embedded, short_form
from layout.draw import qr
from layout.pages import compose
from layout.pages.job import Job
from layout.sheet import carried as sheet_carried
from layout.sheet import paper
from layout.sheet.carried import Carried
from layout.sheet.marks import SOLID, Bundle, Sheet
from layout.write import pdf, svg
from tests.conftest import INCHES, METRIC, sled_sheets
from tests.legibility import faults
from tests.outside import Check

SCANNED = Check(
    "What sheets carry",
    "codes read from pixels by zxing-cpp; files saved again by pypdf, pikepdf, PyMuPDF, lxml",
    "reference library",
)
SAVED_AGAIN = Check(
    "What sheets carry",
    "codes read from pixels by zxing-cpp; files saved again by pypdf, pikepdf, PyMuPDF, lxml",
    "reference library",
)

SAMPLES = Path(cli.__file__).parent / "samples"
SLED = [
    "jig",
    "sled",
    "--finger",
    "10",
    "--cutter",
    "10.02",
    "--board",
    "90",
    "--thickness",
    "12",
    "--only",
    "make-sled",
]
KEY = ["--only", "set-sled", "--format", "pdf"]
CODE = "jigleaf:1 sled mm finger=10 cutter=10.02 board=90 thickness=12"
BOX = (SAMPLES / "recipe-box.toml").read_bytes()


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, list(words))


def said(result: Result) -> str:
    assert "Traceback" not in result.stderr
    return " ".join(result.stderr.split())


@pytest.fixture(scope="module")
def sheets() -> Bundle:
    bundle = sled_sheets()
    return replace(bundle, sheets=bundle.sheets[1:3])


@pytest.fixture(scope="module")
def document(sheets: Bundle) -> bytes:
    return pdf.write(replace(sheets, carried=Carried("box", "recipe-box.toml", BOX)))


def read_back(content: bytes, tmp_path: Path) -> Carried:
    (tmp_path / "sheet").write_bytes(content)
    return embedded.load(tmp_path / "sheet")


# -- there and back ------------------------------------------------------------------------------------------------

carried_of = st.builds(Carried, st.sampled_from(["box", "jig"]), st.text(max_size=150), st.binary(max_size=3000))


@pytest.fixture(scope="module")
def small(sheets: Bundle) -> Bundle:
    """A bundle that is soon written: a page with nothing on it."""
    return replace(sheets, sheets=(Sheet("empty", "Empty", paper.named("A4"), (), 1, 1),))


@given(carried=carried_of)
def test_any_bytes_come_back_from_pdf_and_svg(
    carried: Carried, small: Bundle, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("sheets")
    assert read_back(pdf.write(replace(small, carried=carried)), folder) == carried
    assert read_back(svg.write(small.sheets[0], "subject", carried=carried, validate=True), folder) == carried


def _by_pypdf(content: bytes) -> bytes:
    writer = pypdf.PdfWriter(clone_from=io.BytesIO(content))
    writer.compress_identical_objects()
    return _saved(writer.write)


def _a_page_by_pypdf(content: bytes) -> bytes:
    writer = pypdf.PdfWriter()
    writer.add_page(pypdf.PdfReader(io.BytesIO(content)).pages[1])
    return _saved(writer.write)


def _by_pikepdf(content: bytes) -> bytes:
    modes = {"object_stream_mode": pikepdf.ObjectStreamMode.generate, "recompress_flate": True, "linearize": True}
    with pikepdf.open(io.BytesIO(content)) as opened:
        return _saved(lambda file: opened.save(file, **modes))


def _by_pymupdf(content: bytes) -> bytes:
    with pymupdf.open(stream=content) as opened:  # type: ignore[no-untyped-call]  # it publishes few types
        written: bytes = opened.tobytes(garbage=4, deflate=True, clean=True)
        return written


def _saved(save: Callable[[Any], object]) -> bytes:
    buffer = io.BytesIO()
    save(buffer)
    return buffer.getvalue()


@SAVED_AGAIN.of()
@pytest.mark.parametrize("save", [_by_pypdf, _a_page_by_pypdf, _by_pikepdf, _by_pymupdf])
def test_a_pdf_saved_by_another_library_gives_the_same_bytes(
    save: Callable[[bytes], bytes], document: bytes, tmp_path: Path
) -> None:
    again = save(document)
    assert again != document
    assert read_back(again, tmp_path) == Carried("box", "recipe-box.toml", BOX)


@SAVED_AGAIN.of()
def test_other_readers_find_the_embedded_file(document: bytes) -> None:
    with pikepdf.open(io.BytesIO(document)) as opened:
        assert list(opened.attachments) == ["jigleaf 1 box"]
        file = opened.attachments["jigleaf 1 box"]
        assert file.get_file().read_bytes() == BOX
        assert file.get_file().mime_type == "application/toml"
        assert file.relationship == pikepdf.Name.Source
        for holder in (opened.Root, *(page.obj for page in opened.pages)):
            assert holder.AF[0].objgen == file.obj.objgen
    assert pypdf.PdfReader(io.BytesIO(document)).attachments["jigleaf 1 box"] == [BOX]


@SAVED_AGAIN.of()
def test_an_svg_saved_by_lxml_under_another_prefix_gives_the_same_bytes(sheets: Bundle, tmp_path: Path) -> None:
    content = svg.write(sheets.sheets[0], "subject", carried=Carried("box", "a & <b>.toml", BOX))
    again = etree.tostring(
        etree.fromstring(content.replace(b"jigleaf:carried", b"ns0:carried").replace(b"xmlns:jigleaf", b"xmlns:ns0")),
        pretty_print=True,
        encoding="utf-16",
    )
    assert isinstance(again, bytes)
    assert read_back(again, tmp_path) == Carried("box", "a & <b>.toml", BOX)


def test_the_same_input_gives_the_same_bytes_and_other_input_another_identifier(sheets: Bundle) -> None:
    made = [pdf.write(replace(sheets, carried=Carried("box", "a.toml", content))) for content in (b"1", b"1", b"2")]
    assert made[0] == made[1]
    identifiers = [pikepdf.open(io.BytesIO(content)).trailer.ID[0] for content in made]
    assert bytes(identifiers[1]) != bytes(identifiers[2])


def test_a_name_is_for_people_and_never_a_path() -> None:
    assert Carried("box", "../../etc/pass\x1b[2Jwd", b"").name == "pass_[2Jwd"
    assert Carried("box", "\udcff.toml", b"").name == "_.toml"
    assert Carried("jig", "..//", b"").name == ".."
    assert Carried("jig", "", b"").name == "jig"
    assert len(Carried("box", "x" * 999, b"").name) == 120


# -- what is not ours ----------------------------------------------------------------------------------------------


def _foreign_pdf(desc: str = "", content: bytes = b"", declared: bytes | None = None) -> bytes:
    """Return a PDF of pikepdf's making; with a label an embedded file of raw bytes under it."""
    made = pikepdf.new()
    made.add_blank_page()
    if desc:
        stream = pikepdf.Stream(made, content)
        if declared is not None:
            stream.write(declared, filter=pikepdf.Name.FlateDecode)
        spec = pikepdf.Dictionary(Type=pikepdf.Name.Filespec, Desc=desc, UF="x", EF=pikepdf.Dictionary(F=stream))
        made.Root.AF = pikepdf.Array([made.make_indirect(spec)])
    return _saved(lambda file: made.save(file, compress_streams=False))


def _encrypted(document: bytes, user: str, owner: str) -> bytes:
    with pikepdf.open(io.BytesIO(document)) as opened:
        return _saved(lambda file: opened.save(file, encryption=pikepdf.Encryption(user=user, owner=owner)))


def _laughs() -> bytes:
    rows = "".join(f'<!ENTITY l{i} "{f"&l{i - 1};" * 10}">' for i in range(1, 12))
    return f'<!DOCTYPE svg [<!ENTITY l0 "ha">{rows}]><svg>&l11;</svg>'.encode()


SPACE = f'xmlns:j="{sheet_carried.NAMESPACE}"'
NOT_OURS: dict[str, tuple[bytes, str]] = {
    "nothing": (b"", "is empty"),
    "text": (b"title = 1", "title: must be text in quotes, not a number"),
    "bytes": (b"\0\1\2", "is neither a PDF nor an SVG sheet, nor a box file or a jig file"),
    "png": (b"\x89PNG\r\n\x1a\n", "is a picture, which carries nothing"),
    "foreign pdf": (_foreign_pdf(), "does not carry what it was made from"),
    "pdf with another's file": (_foreign_pdf("invoice", b"x"), "does not carry what it was made from"),
    "broken pdf": (b"%PDF-1.7\nrubbish", "can't be read as a PDF"),
    "newer": (_foreign_pdf("jigleaf 2 box", b"x"), "made by a newer jigleaf"),
    "foreign svg": (b"<svg xmlns='http://www.w3.org/2000/svg'/>", "does not carry what it was made from"),
    "broken svg": (b"<svg><g></svg>", "can't be read as an SVG: mismatched tag"),
    "entities": (_laughs(), "it declares entities"),
    "outside": (b"<!DOCTYPE s [<!ENTITY x SYSTEM 'file:///etc/passwd'>]><s>&x;</s>", "it declares entities"),
    "deep": (b"<a>" * 300_000, "nested more than 200 deep"),
    "an encoding there is not": (b"<?xml version='1.0' encoding='x-none'?><svg/>", "can't be read as an SVG"),
    "no base64": (f"<s><j:carried {SPACE} label='jigleaf 1 box'>%%</j:carried></s>".encode(), "is damaged"),
    "cut base64": (f"<s><j:carried {SPACE} label='jigleaf 1 box'>QQ</j:carried></s>".encode(), "is damaged"),
    "another label": (f"<s><j:carried {SPACE} label='x'>QQ==</j:carried></s>".encode(), "does not carry"),
    "too much": (
        f"<s><j:carried {SPACE} label='jigleaf 1 box'>{'QUJD' * 600_000}</j:carried></s>".encode(),
        "larger than any box file",
    ),
}


@pytest.mark.parametrize("name", NOT_OURS)
def test_what_is_not_ours_is_refused_and_nothing_written(name: str, tmp_path: Path) -> None:
    content, reason = NOT_OURS[name]
    (tmp_path / "sheet").write_bytes(content)
    result = run("reopen", str(tmp_path / "sheet"), "-o", str(tmp_path / "out.toml"))
    assert result.exit_code == 2
    assert reason in said(result)
    assert [path.name for path in tmp_path.iterdir()] == ["sheet"]
    assert result.stdout == ""


@pytest.mark.parametrize("passwords", [{"user": "secret", "owner": "secret"}, {"user": "", "owner": "secret"}])
def test_an_encrypted_pdf_is_refused(passwords: dict[str, str], document: bytes, tmp_path: Path) -> None:
    with pytest.raises(CannotRead, match="is encrypted; open it with its password"):
        read_back(_encrypted(document, **passwords), tmp_path)


def test_a_file_that_unpacks_to_a_gigabyte_is_refused_within_bounds(tmp_path: Path) -> None:
    packing = zlib.compressobj(9)
    first, next_one = (packing.compress(bytes(1_000_000)) + packing.flush(zlib.Z_FULL_FLUSH) for _ in range(2))
    packed = first + next_one * 999  # whole flushes repeat: each unpacks to a million bytes
    content = _foreign_pdf("jigleaf 1 box", declared=packed)
    tracemalloc.start()
    begin = time.perf_counter()
    with pytest.raises(CannotRead, match=r"larger than any box file|can't be read as a PDF"):
        read_back(content, tmp_path)
    seconds, (_, most) = time.perf_counter() - begin, tracemalloc.get_traced_memory()
    tracemalloc.stop()
    assert most < 300_000_000
    assert seconds < 10


def test_a_file_that_is_a_little_too_large_is_refused(tmp_path: Path) -> None:
    with pytest.raises(CannotRead, match="larger than any box file"):
        read_back(_foreign_pdf("jigleaf 1 box", bytes(embedded.MOST_BYTES + 1)), tmp_path)
    assert (
        len(read_back(_foreign_pdf("jigleaf 1 box", bytes(embedded.MOST_BYTES)), tmp_path).content)
        == embedded.MOST_BYTES
    )


@given(data=st.data())
def test_a_damaged_pdf_is_read_or_refused(
    data: st.DataObject, document: bytes, tmp_path_factory: pytest.TempPathFactory
) -> None:
    folder = tmp_path_factory.mktemp("damaged")
    cut = data.draw(st.integers(0, len(document) - 1))
    hurt = data.draw(st.sampled_from([document[:cut], document[cut:], document[:cut] + b"<<" + document[cut + 2 :]]))
    try:
        kind = read_back(hurt, folder).kind
    except CannotRead:
        kind = "box"
    assert kind == "box"


def test_sheets_of_two_jobs_in_one_pdf_are_not_guessed_between(document: bytes, sheets: Bundle, tmp_path: Path) -> None:
    other = pdf.write(replace(sheets, carried=Carried("box", "other.toml", b"title = 'other'")))
    writer = pypdf.PdfWriter()
    for content in (document, other):
        for page in pypdf.PdfReader(io.BytesIO(content)).pages:
            writer.add_page(page)
    with pytest.raises(CannotRead, match=r"sheets of several jobs \(recipe-box.toml, other.toml\)"):
        read_back(_saved(writer.write), tmp_path)


def test_a_path_that_is_no_file(tmp_path: Path) -> None:
    for path, reason in ((tmp_path, "it is a folder, not a"), (tmp_path / "none.pdf", "there is no such file")):
        assert reason in said(run("reopen", str(path)))
        assert run("reopen", str(path)).exit_code == 2
    os.mkfifo(tmp_path / "pipe")
    with pytest.raises(CannotRead, match="is not a file"):
        embedded.load(tmp_path / "pipe")
    with pytest.raises(CannotRead, match="no file can have that name"):
        embedded.load("a\0b")


def test_a_disk_that_says_no_ends_with_3(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def refuse(*words: object, **more: object) -> Any:
        del words, more
        raise PermissionError(13, "Permission denied")

    (tmp_path / "sheet.pdf").write_bytes(b"%PDF-")
    monkeypatch.setattr(Path, "open", refuse)
    with pytest.raises(CannotRead, match=r"Can't read .*: you are not allowed to"):
        embedded.load(tmp_path / "sheet.pdf")


def test_a_huge_file_is_not_read(tmp_path: Path) -> None:
    with (tmp_path / "huge.pdf").open("wb") as file:
        file.write(b"%PDF-1.7")
        file.truncate(embedded.MOST_SHEET_BYTES + 1)
    with pytest.raises(CannotRead, match="more than 20 MB"):
        embedded.load(tmp_path / "huge.pdf")


# -- settings of a jig ---------------------------------------------------------------------------------------------


def test_a_default_that_changed_since_is_given_and_a_setting_that_went_is_named() -> None:
    sled = find("sled")
    then = jig_file.JigSettings("sled", "mm", dict(METRIC), {"clearance": 0.25, "proud": 0.3})
    assert then.chosen(sled) == METRIC | {"clearance": 0.25}
    with pytest.raises(CannotRead, match="settings that sled has no more: colour"):
        replace(then, defaults={"colour": "red"}).chosen(sled)


@pytest.mark.parametrize("content", [b"\xff", b"[]", b"{}", b"[" * 100_000, b'jig = "sled"\nunits = "ft"'])
def test_damaged_settings_are_refused(content: bytes) -> None:
    with pytest.raises(CannotRead, match=r"the sheet is damaged: it is not UTF-8|sled.toml, line|nested too deep"):
        make.job_of(Carried("jig", "sled.toml", content))


# -- the short form ------------------------------------------------------------------------------------------------


def test_the_short_form_of_a_sled() -> None:
    """Worked by hand from the line of each parameter: what equals its default is left out."""
    sled = find("sled")
    assert short_form.of_jig(sled, sled.settings(METRIC | {"clearance": 0.1}, "mm"), "mm") == (CODE,)
    inches = sled.settings(INCHES | {"machine": "table saw", "whole": True}, "in")
    expected = "jigleaf:1 sled in finger=3/8 cutter=0.3745 board=4.25 thickness=0.5 machine=table_saw whole=yes"
    assert short_form.of_jig(sled, inches, "in") == (expected,)


@given(
    finger=st.floats(3, 60),
    cutter=st.floats(0.8, 60),
    board=st.fractions(1, 40, max_denominator=64).map(lambda inches: float(inches * 127 / 5)),
    thickness=st.decimals(1, 60, places=2).map(float),
    bevel=st.decimals(0, 45, places=2).map(float),
    fingers=st.none() | st.integers(2, 200),
    whole=st.booleans(),
    machine=st.sampled_from(["router table", "table saw"]),
    units=st.sampled_from(["mm", "in"]),
)
def test_any_settings_come_back_from_the_short_form(units: Units, **given_settings: Any) -> None:
    sled = find("sled")
    settings = sled.settings(given_settings, units)
    text = short_form.of_jig(sled, settings, units)[0]
    assert len(text.encode()) <= short_form.MOST_BYTES
    short = short_form.read(text)
    assert (short.family, short.units, short.missing) == ("sled", units, 0)
    assert sled.settings(short_form.jig_settings(sled, short.words, units), units) == settings


@pytest.mark.parametrize("name", ["recipe-box.toml", "recipe-box-inch.toml"])
def test_a_box_comes_back_from_the_short_form_but_for_what_found_no_room(
    name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    read = reading.load(SAMPLES / name)
    for text in short_form.of_box(read):
        assert len(text.encode()) <= short_form.MOST_BYTES
        short = short_form.read(text)
        again = reading.read(short_form.box_text(short), "again")
        for section in ("units", *{key.split(".")[0] for key in short.words}):
            assert getattr(again, section) == getattr(read, section)
        assert short.missing > 0
        assert "had no room for" in short_form.missing_words(short)
        assert "shell" in short_form.missing_words(short)
    monkeypatch.setattr(short_form, "MOST_BYTES", 9999)
    whole = short_form.read(short_form.of_box(read)[0])
    assert whole.missing == 0
    assert reading.read(short_form.box_text(whole), "again") == read


def test_yes_and_no_come_back_from_the_short_form(monkeypatch: pytest.MonkeyPatch) -> None:
    """Of a key, and of a board in the rack: truth is no number."""
    text = (SAMPLES / "recipe-box.toml").read_text(encoding="utf-8")
    text = text.replace("[joint]", "[joint]\nguided = true", 1)
    text = text.replace('species = "black cherry" }', 'species = "black cherry", planed = true }', 1)
    read = reading.read(text, "box.toml")
    assert read.joint.guided
    assert read.stock
    assert read.stock.boards[0].planed
    monkeypatch.setattr(short_form, "MOST_BYTES", 9999)
    short = short_form.read(short_form.of_box(read)[0])
    assert short.missing == 0
    assert reading.read(short_form.box_text(short), "again") == read


@given(title=st.text(min_size=1, max_size=30).filter(lambda t: t.strip() and t.isprintable()))
def test_any_title_comes_back_from_the_short_form(title: str) -> None:
    text = "[box]\nlength = 200\nwidth = 150\nheight = 92.5\n[sides]\nthickness = 12\n[stock]\n"
    text += "[joint]\nfinger = 10\ncutter = 10.02\n"
    read = reading.read(f"title = {json.dumps(title, ensure_ascii=False)}\n{text}", "box.toml")
    short = short_form.read(short_form.of_box(read)[0])
    if short.missing == 0:
        assert reading.read(short_form.box_text(short), "again") == read
    else:
        assert "title" not in short.words


def test_settings_that_find_no_room_are_left_out_and_counted(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(short_form, "MOST_BYTES", 100)
    sled = find("sled")
    settings = sled.settings(METRIC | {"clearance": 0.2, "key_slack": 0.3, "proud": 0.5, "plate": 9.0}, "mm")
    text = short_form.of_jig(sled, settings, "mm")[0]
    assert text == f"{CODE} clearance=0.2 key_slack=0.3 without=2"
    assert "no room for 2 of the settings" in short_form.missing_words(short_form.read(text))
    monkeypatch.setattr(short_form, "MOST_BYTES", 10)
    monkeypatch.setattr(short_form, "FEWER_BYTES", ())
    assert short_form.of_jig(sled, settings, "mm") == ()


@pytest.mark.parametrize(
    ("text", "reason"),
    [
        ("jigleaf:2 sled mm", "starts with 'jigleaf:2'; this jigleaf reads jigleaf:1"),
        ("jigleaf:1 sled", "breaks off"),
        ("jigleaf:1 sled ft", "breaks off"),
        ("jigleaf:1 sled mm finger", "'finger', which is no name=value"),
        ("jigleaf:1 sled mm finger=1 finger=2", "says finger twice"),
        ("jigleaf:1 sled mm without=x", "without=x, which is no count"),
        ("jigleaf:1 sled mm finger=10 cutter=10.02", "lacks board, thickness, which sled needs"),
        (f"{CODE} colour=red", "sled has no setting 'colour'"),
        (f"{CODE} fingers=many", "fingers: 'many' can't be read; write a whole number"),
        (f"{CODE} bevel=steep", "bevel: 'steep' can't be read; write degrees"),
        (f"{CODE} whole=perhaps", "whole: 'perhaps' can't be read; write true or false"),
        (f"{CODE} machine=lathe", "machine: must be 'router table' or 'table saw', not 'lathe'"),
        ("jigleaf:1 sled mm finger=ten", "finger: 'ten' has no number in it"),
        ("jigleaf:1 slad mm finger=1", "did you mean 'sled'"),
        ("jigleaf:1 box mm box=1 box.length=2", "gives box.length inside of a value"),
        ("jigleaf:1 box mm box.length=2 box=1", "gives box twice"),
        ("jigleaf:1 sled mm " + "x" * 5000, "the code has 5018 characters"),
    ],
)
def test_a_code_that_cannot_be_read_ends_with_2(text: str, reason: str) -> None:
    result = run("reopen", text)
    assert result.exit_code == 2
    assert reason in said(result)


def test_a_length_no_decimal_holds_is_written_in_full() -> None:
    assert written.shortest(9.525, "in") == "3/8"
    assert written.shortest(1 / 3, "mm") == "0.3333333333333333 mm"


# -- the code on paper ---------------------------------------------------------------------------------------------


@functools.cache
def coded(page: str, units: Units = "mm") -> Bundle:
    sled = find("sled")
    given_settings: dict[str, Any] = {**(METRIC if units == "mm" else INCHES)}
    plan = sled.plan(given_settings, units)
    codes = short_form.of_jig(sled, sled.settings(given_settings, units), units)
    job = Job("sled", "Indexing sled", "finger 10 mm", units, "abc123", codes=codes)
    made = compose.compose(job, plan.sheets, paper.named(page), ["make-sled"], {"make-sled": codes})
    return made[0]


def pixels(bundle: Bundle, number: int, dpi: int) -> Any:
    page = pypdfium2.PdfDocument(pdf.write(bundle))[number]
    picture = page.render(scale=dpi / 72, grayscale=True).to_numpy()
    return picture.reshape(picture.shape[:2])


def scanned(picture: Any) -> list[str]:
    return [found.text for found in zxingcpp.read_barcodes(np.ascontiguousarray(picture))]


@pytest.mark.slow
@SCANNED.of()
@pytest.mark.parametrize(
    ("page", "units", "dpi"),
    [("A4", "mm", 200), ("A4", "in", 200), ("A4", "mm", 300), ("Letter", "in", 200), ("A3", "mm", 200)],
)
def test_the_code_is_read_from_the_pixels_of_a_page(page: str, units: Units, dpi: int) -> None:
    bundle = coded(page, units)
    [code] = scanned(pixels(bundle, 0, dpi))
    sled = find("sled")
    short = short_form.read(code)
    wanted = METRIC if units == "mm" else INCHES
    assert short_form.jig_settings(sled, short.words, short.units) == wanted


@SCANNED.of()
def test_the_code_is_read_from_a_photograph() -> None:
    """Taken from the side, out of focus, in the shade, with the noise of a cheap camera."""
    [number] = [
        i for i, s in enumerate(coded("A4").sheets) if any(g.title == "Code of the settings" for g in s.groups())
    ]
    [code] = [g for g in coded("A4").sheets[number].groups() if g.title == "Code of the settings"]
    box = around(stroke.shape.bounds for stroke in code.strokes).grown(25.0)
    dot, high_mm = 25.4 / 300, coded("A4").sheets[number].paper.height
    rows = slice(max(0, round((high_mm - box.top) / dot)), round((high_mm - box.bottom) / dot))
    columns = slice(max(0, round(box.left / dot)), round(box.right / dot))
    picture = pixels(coded("A4"), number, 300)[rows, columns]
    high, wide = picture.shape
    corners = np.array([[0, 0], [wide, 0], [wide, high], [0, high]], np.float32)
    seen = np.array([[90, 60], [wide - 40, 0], [wide, high - 90], [0, high]], np.float32)
    matrix = cv2.getPerspectiveTransform(corners, seen)
    photograph = cv2.GaussianBlur(cv2.warpPerspective(picture, matrix, (wide, high), borderValue=255), (0, 0), 1.2)
    shade = np.linspace(0.5, 1.0, wide)
    noise = np.random.default_rng(1).normal(0, 8, photograph.shape)
    assert scanned((photograph * shade + noise).clip(0, 255).astype(np.uint8)) == [CODE]


@pytest.mark.slow
@pytest.mark.parametrize(("page", "units"), [("A4", "mm"), ("A4", "in"), ("Letter", "in"), ("A3", "mm")])
def test_a_code_is_large_enough_in_black_squares_and_leaves_the_card_legible(page: str, units: Units) -> None:
    for sheet in coded(page, units).sheets:
        assert faults(sheet) == []
    groups = [group for sheet in coded(page, units).sheets for group in sheet.groups()]
    [code] = [group for group in groups if group.title == "Code of the settings"]
    squares = [stroke.shape.bounds for stroke in code.strokes if stroke.pen == SOLID]
    lines = [s.shape.bounds for group in groups for s in group.strokes if group is not code and not s.pen.filled]
    module = min(box.height for box in squares)
    assert module >= 0.5 - 1e-9
    left, right = min(box.left for box in squares), max(box.right for box in squares)
    low, high = min(box.bottom for box in squares), max(box.top for box in squares)
    assert right - left == pytest.approx(high - low)
    quiet = qr.QUIET * module - 1e-6
    for box in lines:
        inside = box.left <= left and right <= box.right and box.bottom <= low and high <= box.top
        beside = box.right <= left - quiet or box.left >= right + quiet
        beside = beside or box.top <= low - quiet or box.bottom >= high + quiet
        assert inside or beside


@pytest.mark.parametrize("level", qr.LEVELS)
def test_how_much_a_code_holds_is_as_the_library_has_it(level: str) -> None:
    """The side is known before a code is made: at most and one byte more of every version, by segno."""
    for most in qr._MOST[level]:
        for length in (most, most + 1):
            assert qr._modules(length, level) == _by_segno("a" * length, level)


def _by_segno(text: str, level: str) -> float:
    try:
        made = segno.make(text, error=level, mask=0, micro=False, boost_error=False, mode="byte", encoding="utf-8")
    except segno.DataOverflowError:
        return math.inf
    return made.symbol_size(border=0)[0]


def test_the_first_text_that_goes_into_a_room_is_drawn_as_large_as_it_can_be() -> None:
    long, short = "a" * 300, "a" * 30
    widest = qr.fitting([long, short], 200.0)
    assert widest is not None
    assert widest.module == qr.MODULES[0]
    for room in np.linspace(5.0, 80.0, 60):
        code = qr.fitting([long, short], room)
        ways = [qr.Code(qr._rows(text, level), m) for text in (long, short) for level in "ml" for m in qr.MODULES]
        assert code == next((way for way in ways if way.side <= room), None)


# -- the command ---------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("drawn")
    assert run(*SLED, "-o", str(folder)).exit_code == 0
    return folder


def test_reopen_prints_the_settings_and_writes_them(drawn: Path, tmp_path: Path) -> None:
    printed = run("reopen", str(drawn / "sled-make-sled-card-1-make-sled.svg")).stdout_bytes
    assert jig_file.read(printed.decode(), "sled.toml").given == METRIC
    out = tmp_path / "sled.toml"
    result = run("reopen", str(drawn / "sled-make-sled-cards.pdf"), "-o", str(out))
    assert (result.exit_code, result.stdout) == (0, f"{out}\n")
    assert out.read_bytes() == printed
    assert run("reopen", CODE).stdout_bytes == printed


def test_reopen_writes_over_nothing_unless_told(drawn: Path, tmp_path: Path) -> None:
    (tmp_path / "mine").write_text("mine")
    words = ["reopen", str(drawn / "sled-make-sled-cards.pdf"), "-o", str(tmp_path / "mine")]
    result = run(*words)
    assert result.exit_code == 2
    assert "is there already, and nothing is written over it" in said(result)
    assert (tmp_path / "mine").read_text() == "mine"
    assert run(*words, "--force").exit_code == 0
    assert (tmp_path / "mine").read_bytes().startswith(b"# A jig file")
    result = run(*words[:-1], str(tmp_path))
    assert result.exit_code == 2
    assert "is a folder; name a file" in said(result)


def test_reopen_with_a_drawing_option_draws_the_same_bytes_again(drawn: Path, tmp_path: Path) -> None:
    result = run("reopen", str(drawn / "sled-make-sled-cards.pdf"), "--only", "make-sled", "-o", str(tmp_path))
    assert result.exit_code == 0
    for path in drawn.iterdir():
        assert (tmp_path / path.name).read_bytes() == path.read_bytes()


def test_reopen_draws_a_jig_with_another_finger(drawn: Path, tmp_path: Path) -> None:
    words = [
        "reopen",
        str(drawn / "sled-make-sled-cards.pdf"),
        "--only",
        "make-sled",
        "-o",
        str(tmp_path),
        "--set",
        "finger=1/2 in",
    ]
    refused = run(*words)
    assert refused.exit_code == 1
    assert "Error: cutter: The cutter makes a socket of 10.02 mm, and the finger is to be 12.7 mm" in said(refused)
    assert list(tmp_path.iterdir()) == []
    assert run(*words, "--set", "cutter=12.72").exit_code == 0
    settings = make.job_of(embedded.load(tmp_path / "sled-make-sled-cards.pdf"))
    assert isinstance(settings, jig_file.JigSettings)
    assert settings.given == METRIC | {"finger": 12.7, "cutter": 12.72}


@pytest.mark.parametrize(
    ("change", "reason"),
    [
        ("finger", "'finger' is not KEY=VALUE"),
        ("=3", "'=3' is not KEY=VALUE"),
        ("fingr=8", "sled has no setting 'fingr'; did you mean 'finger' or 'fingers'?"),
        ("finger=ten", "no number"),
    ],
)
def test_a_change_that_cannot_be_read_ends_with_2(change: str, reason: str, drawn: Path, tmp_path: Path) -> None:
    result = run("reopen", str(drawn / "sled-make-sled-cards.pdf"), "--set", change, "-o", str(tmp_path / "new"))
    assert result.exit_code == 2
    assert reason in said(result)
    assert not (tmp_path / "new").exists()


def test_a_key_set_twice_is_refused(drawn: Path) -> None:
    result = run("reopen", str(drawn / "sled-make-sled-cards.pdf"), "--set", "finger=8", "--set", "finger=9")
    assert (result.exit_code, "finger is set twice" in said(result)) == (2, True)


@pytest.mark.slow
def test_a_box_draws_again_with_another_finger(tmp_path: Path) -> None:
    made, again = tmp_path / "made", tmp_path / "again"
    assert run("draw", str(SAMPLES / "recipe-box.toml"), *KEY, "-o", str(made)).exit_code == 0
    sheet = str(made / "recipe-box-set-sled-cards.pdf")
    assert run("reopen", sheet).stdout_bytes == BOX
    result = run("reopen", sheet, "--set", "joint.finger=8", *KEY, "-o", str(again))
    assert result.exit_code == 0
    assert "CHOOSE: joint.cutter: The cutter of 7.97 mm is taken" in result.stderr
    assert "\n  gap        7.87 mm; was 9.92 mm\n" in result.stderr
    text = embedded.load(again / "recipe-box-set-sled-cards.pdf").content.decode()
    assert reading.read(text, "again").joint.cutter == 7.97  # the one that the file lists for this finger
    assert "# the thickest of eight readings" in text


def test_a_box_with_a_finger_no_cutter_is_known_for_names_the_cutter() -> None:
    with pytest.raises(CannotBuild) as refused:
        boxfile_change.box_with(BOX.decode(), {"joint.finger": "12"}, "box.toml")
    [problem] = refused.value.problems
    assert problem.where == "joint.cutter"
    assert "no other cutter is known" in problem.says("mm")
    assert "give both: joint.cutter too" in problem.suggests("mm")
    assert "those listed are for 6 mm, 8 mm, 10 mm" in problem.suggests("mm")
    assert boxfile_change.box_with(BOX.decode(), {"joint.finger": "10.1"}, "box.toml").joint.finger == 10.1
    both = boxfile_change.box_with(BOX.decode(), {"joint.finger": "12", "joint.cutter": "12.01"}, "box.toml")
    assert both.joint.cutter == 12.01


@pytest.mark.parametrize(
    ("finger", "cutter"),
    [("9.7", 10.02), ("8.02", 7.97), ("7.8", None), ("8.3", None), ("10", 10.02), ("10.04", 10.02)],
)
def test_a_class_and_a_sheet_drawn_again_take_the_same_cutter(finger: str, cutter: float | None) -> None:
    """Listed for 6, 8 and 10; one pass is enough for a finger that is off by no more than 0.5 mm or a twentieth."""
    row = class_list.Row(2, "Ann", {"joint.finger": finger}, {"joint.finger": "B"})
    if cutter is None:
        with pytest.raises(CannotBuild):
            boxfile_change.box_with(BOX.decode(), {"joint.finger": finger}, "box.toml")
        with pytest.raises(class_list.RowRefused):
            class_list.resolve(row, reading.read(BOX.decode(), "box.toml"))
        return
    assert boxfile_change.box_with(BOX.decode(), {"joint.finger": finger}, "box.toml").joint.cutter == cutter
    assert class_list.resolve(row, reading.read(BOX.decode(), "box.toml")).joint.cutter == cutter


@pytest.mark.slow
def test_a_box_file_that_is_no_text_cannot_be_drawn(tmp_path: Path, small: Bundle) -> None:
    (tmp_path / "a.pdf").write_bytes(pdf.write(replace(small, carried=Carried("box", "a.toml", b"\xff"))))
    result = run("reopen", str(tmp_path / "a.pdf"), "--set", "box.length=9", "-o", str(tmp_path / "new"))
    assert (result.exit_code, "it is not UTF-8 text" in said(result)) == (2, True)


@pytest.mark.slow
def test_a_whole_process_gives_the_box_file_back_to_the_byte(document: bytes, tmp_path: Path) -> None:
    (tmp_path / "sheet.pdf").write_bytes(document)
    command = [sys.executable, cli.__file__, "reopen", str(tmp_path / "sheet.pdf")]
    result = subprocess.run(command, capture_output=True, check=True)
    assert (result.stdout, result.stderr) == (BOX, b"")
