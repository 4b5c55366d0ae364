"""The door: everything through one module, with no disk to write on, nothing printed, and units on every error."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner

import cli
from jigs.base import catalogue, cautions
from jigs.base.errors import CannotBuild, CannotRead, JigleafError, WrongReadings
from jigs.base.kinds import Value
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.box import chain
from jigs.boxfile.jig_file import JigSettings
from jigs.boxfile.sections import BoxFile
from jigs.record import replace
from jigs.trade.tune import Pivot, Readings
from layout import make
from layout.carry import short_form
from layout.printer import print_check
from layout.printer.correction import Distortion
from layout.printer.kept import Printer
from layout.sheet import paper
from layout.sheet.hand import Hand
from layout.sheet.paper import Margins
from layout.write import formats

ROOT = Path(__file__).parent.parent
METRIC, INCHES = ROOT / "samples" / "recipe-box.toml", ROOT / "samples" / "recipe-box-inch.toml"
SLED = {"finger": "10", "cutter": "10.02", "board": "90", "thickness": "12"}
SLED_IN = {"finger": "3/8", "cutter": ".3745", "board": "4 1/4", "thickness": "1/2"}
TYPED = ["jig", "sled", *(word for name, value in SLED.items() for word in (f"--{name}", value))]


def box(path: Path = METRIC, **values: str) -> BoxFile:
    return make.box(path.read_text(), path.name, {name.replace("_", "."): value for name, value in values.items()})


def printed(*words: str) -> object:
    return json.loads(CliRunner().invoke(cli.main, list(words)).stdout)


# -- no disk, no terminal ------------------------------------------------------------------------------------------

NO_DISK = """
import os, sys
WRITES = os.O_WRONLY | os.O_RDWR | os.O_CREAT | os.O_TRUNC | os.O_APPEND
CHANGES = ("os.mkdir", "os.rename", "os.remove", "os.rmdir", "os.link", "os.symlink", "os.truncate", "os.chmod",
           "tempfile.", "shutil.", "sqlite3.connect", "subprocess.Popen", "socket.")

def watch(event, args):
    if event == "open" and isinstance(args[2], int) and args[2] & WRITES:
        raise PermissionError(f"there is no disk to write on: {args[0]}")
    if event.startswith(CHANGES):
        raise PermissionError(f"there is no disk to change: {event} {args}")

sys.addaudithook(watch)
try:
    open(sys.argv[1] + ".new", "w")
except PermissionError:
    pass
else:
    sys.exit("the disk can be written on")
import hashlib
from layout import make
text = open(sys.argv[1]).read()
drawn = make.draw(make.box(text, "recipe-box.toml", {"box.length": "210"}), ["stick-end"])
assert make.check(make.box(text, "recipe-box.toml")).text and drawn.report.data
assert make.draw(make.reopen(drawn.files["recipe-box-stick-end-templates.pdf"]), ["stick-end"]).files == drawn.files
sled = make.jig("sled", dict(pair.split("=") for pair in sys.argv[3:]), "mm")
made = make.draw(sled, ["stick-end"])
for sheet in made.files.values():
    assert make.draw(make.reopen(sheet), ["stick-end"]).files == made.files
assert make.joint_sheet(sled).files
digest = hashlib.sha256(b"".join(made.files.values())).hexdigest()
assert digest == sys.argv[2], "the bytes are those that the command writes"
"""


def test_a_box_a_jig_and_a_reopened_sheet_are_drawn_without_a_disk_and_in_silence(tmp_path: Path) -> None:
    written = (
        CliRunner()
        .invoke(cli.main, [*TYPED, "--only", "stick-end", "--list", "-o", str(tmp_path)])
        .stdout.splitlines()[:-1]
    )
    digest = hashlib.sha256(b"".join(Path(name).read_bytes() for name in written)).hexdigest()
    words = [str(METRIC), digest, *(f"{name}={value}" for name, value in SLED.items())]
    environment = os.environ | {"PYTHONDONTWRITEBYTECODE": "1", "PYTHONPATH": str(ROOT)}
    done = subprocess.run(
        [sys.executable, "-c", NO_DISK, *words], env=environment, capture_output=True, text=True, check=False
    )
    assert (done.returncode, done.stdout, done.stderr) == (0, "", "")
    assert not METRIC.with_name(f"{METRIC.name}.new").exists()


# -- the report ----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("path", [METRIC, INCHES])
def test_the_data_of_a_box_are_what_json_prints(path: Path) -> None:
    report = make.check(box(path))
    assert report.data == printed("check", str(path), "--json")
    assert not report.stopped


def test_the_data_of_a_box_that_is_stopped_are_too() -> None:
    report = make.check(box(box_length="20"))
    assert report.stopped
    assert report.data == printed("check", str(METRIC), "--set", "box.length=20", "--json")


@pytest.mark.parametrize("finger", ["10", "8", "3000"])  # which can be built, can't with this cutter, is out of limits
def test_the_data_of_a_jig_are_what_json_prints(finger: str) -> None:
    report = make.check(make.jig("sled", SLED | {"finger": finger}, "mm"))
    assert report.stopped == (finger != "10")
    words = [*TYPED, "--finger", finger, "--json"]
    assert report.data == printed(*words)
    assert report.text.startswith(f"INDEXING SLED. Sizes in mm.\nfinger {finger} mm; cutter 10.02 mm")
    assert ("CAN BE BUILT." in report.text) == (finger == "10")


def test_the_text_beside_another_box_is_what_changes() -> None:
    before = box(METRIC)
    report = make.check(box(box_length="210"), before)
    assert "CAN BE BUILT" in report.text.split("What changes\n")[0]


def test_a_gap_is_read_out_as_finely_as_it_is_set_in_inches_too() -> None:
    """By hand: a cutter of .376 less a clearance of .004; the nearest 64th, 3/8, could not be set."""
    settings = {"finger": "3/8", "cutter": ".376", "board": "4 1/4", "thickness": "1/2"}
    made = make.draw(make.jig("sled", settings, "in"), ("plate",))
    said = [text.words for sheet in made.templates.sheets for group in sheet.groups() for text in group.texts]
    assert "gap 0.372" in said
    assert not [words for words in said if words.startswith("gap ") and "/" in words]


def test_settings_in_words_are_those_in_numbers() -> None:
    read = {"finger": 9.525, "cutter": 9.5123, "board": 107.95, "thickness": 12.7, "clearance": None}
    assert make.jig("sled", SLED_IN, "in") == make.jig("sled", read, "in")


def test_a_joint_is_tuned_alike_by_its_box_and_by_its_sheet() -> None:
    file = box(box_height="90")
    readings = Readings(finger=9.9, socket=10.02)
    sheet = next(iter(make.joint_sheet(file).files.values()))
    report = make.tune(file, readings)
    assert make.tune(make.reopen(sheet), readings).data == report.data
    assert report.text
    refused = make.tuned(file, Readings(finger=2.0, socket=10.02))
    assert refused.report.text == "", "nothing is planed by such readings"
    assert (refused.good, refused.remedies, refused.steps, refused.in_short) == (False, (), (), ())


# -- what is refused -----------------------------------------------------------------------------------------------


def _too_small() -> None:
    make.draw(make.jig("sled", SLED_IN, "in"), [], make.Printing(paper="2x2 in"))


NO_SHELL = make.without_part(box(INCHES), "shell")
NO_GROOVE = make.without_part(box(INCHES, box_length="2"), "groove")
REFUSED: dict[str, Callable[[], object]] = {
    "a rule of a box": lambda: make.draw(box(INCHES, box_length="1")),
    "a limit of a box": lambda: box(INCHES, joint_finger="4000"),
    "no cutter for a finger": lambda: box(INCHES, joint_finger="7/16"),
    "a joint to be tuned": lambda: make.tune(box(INCHES, box_height="1/2"), Readings(finger=9.0)),
    "its sheet": lambda: make.joint_sheet(box(INCHES, box_height="1/2")),
    "a rule of a jig": lambda: make.draw(make.jig("sled", SLED_IN | {"finger": "1/4"}, "in")),
    "its sheets": lambda: make.page_names(make.jig("sled", SLED_IN | {"finger": "1/4"}, "in")),
    "no cutter for a jig": lambda: make.changed(make.jig("sled", SLED_IN, "in"), {"finger": "5/8"}),
    "a paper": _too_small,
    "its readings": lambda: make.readings_of(box(INCHES, box_height="1/2")),
    "pictures of readings": lambda: make.reading_pictures(box(INCHES, box_height="1/2")),
    "a field of a jig": lambda: make.edited_jig(make.jig("sled", SLED_IN, "in"), {"finger": "4000"}),
    "a part without room": lambda: make.with_part(NO_GROOVE, "groove"),
    "a code": lambda: make.from_code(short_form.read("jigleaf:1 sled in finger=4000 cutter=1/4 board=4 thickness=1/2")),
    "pages of a part": lambda: make.page_names_of_box(box(INCHES, box_length="1"), ["lid"]),
    "pictures of pages": lambda: make.page_pictures(box(INCHES, box_length="1"), "lid"),
    "a width of a pattern": lambda: make.pattern(b'<svg><path d="M0 0h9v9h-9z"/></svg>', "a.svg", 0.0, "in"),
    "a field of a box": lambda: make.edited(box(INCHES), {"joint.finger": "4000"}),
    "the file of a jig": lambda: make.file_of_jig(make.jig("sled", SLED_IN | {"finger": "4000"}, "in")),
    "the card after a test joint": lambda: make.steps_sheet(
        box(INCHES, box_height="1/2"), make.tuned(box(INCHES), Readings(clearance=0.1)), 1
    ),
    "a picture": lambda: make.picture(box(INCHES, box_height="1/2")),
    "a row of a list": lambda: make.with_row(box(INCHES), "cutters", {"finger": "4000", "cutter": "1/4"}),
    "a pattern in a box": lambda: make.with_pattern(NO_SHELL, b'<svg><path d="M0 0h9v9h-9z"/></svg>', "a.svg", 4e4),
    "pictures of remedies": lambda: make.remedy_pictures(
        box(INCHES, box_height="1/2"), make.tuned(box(INCHES), Readings(clearance=0.1))
    ),
    "pages that change": lambda: make.names_that_change(box(INCHES), box(INCHES, print_paper="2x2 in")),
    "pages that change, with marks": lambda: make.pages_that_change(box(INCHES), box(INCHES, print_paper="2x2 in")),
    "the print check": lambda: print_check.files(paper.named("3x3 in"), "in"),
}


@pytest.mark.parametrize("what", REFUSED)
def test_an_error_carries_the_units_of_its_job(what: str) -> None:
    with pytest.raises(CannotBuild) as refused:
        REFUSED[what]()
    assert refused.value.units == "in"
    assert " mm" not in refused.value.says(refused.value.units)


WRONG: dict[str, Callable[[], object]] = {
    "there is no jig called 'slad'": lambda: make.jig("slad", {}, "mm"),
    "sled has no setting 'fingr'; did you mean 'finger'": lambda: make.jig("sled", {"fingr": "1"}, "mm"),
    "settings that sled has no more: fingr": lambda: make.check(make.jig("sled", {"fingr": 1.0}, "mm")),
    "there is no page called 'set-sld'": lambda: make.draw(make.jig("sled", SLED, "mm"), ["set-sld"]),
    "there is no 'dwg'": lambda: make.draw(
        make.jig("sled", SLED, "mm"), ["make-sled"], make.Printing(formats=("dwg",))
    ),
    "there is no page called 'plte'; did you mean": lambda: make.draw(
        make.jig("sled", SLED, "mm"), ["plte"], make.Printing(formats=("dxf",))
    ),
    "gauges needs gap, socket": lambda: make.check(make.jig("gauges", {"fence": "10"}, "mm")),
    "print.paper: there is no paper called 'A44'": lambda: make.check(box(print_paper="A44")),
    "is neither a PDF nor an SVG": lambda: make.reopen(b"a letter"),
    "the sheet is empty": lambda: make.reopen(b""),
    "cuts no finger joint": lambda: make.tune(make.jig("gauges", {}, "mm"), Readings(finger=10.0)),
}


@pytest.mark.parametrize("said", WRONG)
def test_what_can_not_be_read_is_named(said: str) -> None:
    with pytest.raises(CannotRead, match=said):
        WRONG[said]()


def test_readings_that_can_not_be_are_their_own_error() -> None:
    with pytest.raises(WrongReadings, match="finger"):
        make.tune(box(), Readings(finger=-1.0))
    with pytest.raises(WrongReadings, match="diagonals"):
        print_check.judge(paper.named("A4"), "mm", across=10, up=10, rising=300, falling=1)


def test_the_units_an_error_was_born_with_stay() -> None:
    with pytest.raises(JigleafError) as refused:  # the values are read in the units that the file then has
        make.box(METRIC.read_text(), "box.toml", {"units": "in"})
    assert refused.value.units == "in"


# -- what is loaded ------------------------------------------------------------------------------------------------


def test_a_module_is_loaded_when_it_is_used(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    (tmp_path / "put_off.py").write_text("import sys\nsys.put_off_is_loaded = True\nvalue = 3\n")
    monkeypatch.syspath_prepend(str(tmp_path))
    with lazily():
        import put_off  # type: ignore[import-not-found]  # noqa: PLC0415 - it was written just now
    assert not hasattr(sys, "put_off_is_loaded")
    assert put_off.value == 3
    assert hasattr(sys, "put_off_is_loaded")
    with pytest.raises(ModuleNotFoundError), lazily():
        import nowhere  # type: ignore[import-not-found]  # noqa: F401, PLC0415 - which is nowhere


def test_every_format_is_offered_and_written_under_its_suffix() -> None:
    assert formats.NAMES == ("pdf", "svg", "png", "dxf", "cut-svg")
    made = make.draw(make.jig("sled", SLED, "mm"), ["make-sled"], make.Printing(formats=("svg", "pdf")))
    bundles = [bundle for bundle in (made.cards, made.templates) if bundle.sheets]
    names = [[f"{one.name}.pdf", *(f"{sheet.name}.svg" for sheet in one.sheets)] for one in bundles]
    assert list(made.files) == [name for each in names for name in each]
    assert isinstance(make.reopen(made.files["sled-make-sled-cards.pdf"]), JigSettings)


# -- parts of a box ------------------------------------------------------------------------------------------------


def test_the_pages_of_some_parts_have_their_numbers_among_all() -> None:
    assert make.page_names_of_box(box(), ["lid", "cut-fingers"]) == [
        ("cut-fingers", "4", "Cut the fingers"),
        ("lid", "9", "Lid plug"),
        ("templates-lid", "T", "Templates"),
    ]
    assert make.page_names_of_box(box(), []) == []


def test_a_box_takes_of_a_jig_what_differs() -> None:
    file = box()
    lid = {"along": "176", "across": "126"}
    known = make.jig("lid", lid | {"thickness": "18", "overhang": "7"}, "mm")
    made = make.with_jig(file, known)
    assert file.lid
    assert made.lid
    assert (file.lid.overhang, made.lid.overhang) == (5, 7)
    assert make.with_jig(made, known) == made
    with pytest.raises(CannotRead, match="the Taper sled belongs to no one part of a box"):
        make.with_jig(file, make.jig("taper", {"wide": "40", "narrow": "25", "length": "400"}, "mm"))
    assert [make.section_of_jig(name) for name in ("lid", "sled", "handle", "taper")] == ["lid", "joint", "handle", ""]


def test_of_a_box_that_is_stopped_nothing_is_compared() -> None:
    stopped = box(lid_plug="19")
    assert make.check(stopped).stopped
    assert make.check(stopped, box()).text == make.check(stopped).text


def test_a_pivot_needs_both_its_lengths() -> None:
    job, readings = make.jig("sled", SLED, "mm"), Readings(finger=9.97, socket=10.02)
    assert make.tuned(job, readings, to_key=400.0).pivot is None
    assert make.tuned(job, readings, to_nudge=600.0).pivot is None
    assert make.tuned(job, readings, to_key=400.0, to_nudge=600.0).pivot == Pivot(400.0, 600.0)


def test_the_cautions_of_every_shop_are_on_the_first_card_of_a_jig_alone() -> None:
    cards = make.draw(make.jig("sled", SLED, "mm")).cards.sheets
    said = [" ".join(text.words for group in card.groups() for text in group.texts) for card in cards]
    assert [cautions.GENERAL in words for words in said] == [True] + [False] * (len(cards) - 1)
    assert [card.name.split("-", 3)[-1] for card in cards[:3]] == ["make-sled", "set-sled", "cut-fingers"]


def test_the_report_ends_with_every_number_only_where_that_is_asked_for() -> None:
    short, whole = make.check(box()).text, make.check(box(), everything=True).text
    assert whole.startswith(f"{short}\n\n")
    assert "Thinnest section" not in short
    assert "Thinnest section" in whole


def test_beside_itself_a_box_has_nothing_new_and_no_gap_for_it() -> None:
    report = make.check(box(), box())
    assert "Cut anew" not in report.text
    assert "What changes" not in report.text
    assert "\n\n\n" not in report.text
    assert report.text == report.text.strip()


def test_a_job_in_short_is_its_fingers_and_the_width_of_its_boards() -> None:
    """By hand: 5 fingers of 9.92 and 4 sockets of 10.02 are 89.68 mm."""
    assert make.in_short(make.jig("sled", SLED, "mm")) == "5 fingers + 4 sockets, boards 89.68 mm wide"
    assert make.in_short(make.jig("sled", SLED | {"finger": "8"}, "mm")) == "it can’t be built"
    assert make.in_short(make.jig("gauges", {}, "mm")) == "", "which cut no joint"


@pytest.mark.parametrize("name", ["tea", "cards"])
def test_files_of_changed_pages_alone_have_a_name_of_their_own_whatever_the_box_is_called(name: str) -> None:
    made = make.draw(make.box(METRIC.read_text(), f"{name}.toml"), (), make.Printing(formats=("pdf",)))
    assert list(made.only_changed(["r1-cover"])) == [f"{name}-changed-cards.pdf"]
    assert list(made.only_changed(["template-1"])) == [f"{name}-changed-templates.pdf"]
    assert made.only_changed([]) == {}


def test_a_sled_has_a_code_on_its_card_in_a_box_and_the_box_has_one_on_its_cover() -> None:
    """Read back, either code says what the pages were made from: the sled outlives the box."""
    codes = make.codes_of_box(chain.work_out(box()))
    assert list(codes) == ["cover", "make-sled"]
    whole, sled = (make.job_of(make.from_code(short_form.read(codes[card][0]))) for card in codes)
    assert isinstance(sled, JigSettings)
    assert make.readings_of(sled) == make.readings_of(box())
    assert isinstance(whole, BoxFile)
    assert (whole.box.length, whole.joint, whole.lid) == (box().box.length, box().joint, box().lid)
    no_joint = chain.work_out(box(box_height="20"))
    assert no_joint.numbers is None
    assert list(make.codes_of_box(no_joint)) == ["cover"]


def test_pages_are_drawn_inside_the_margins_of_a_printer_and_undo_its_errors() -> None:
    printer = Printer("office", Distortion(0.99, 1.0, 0.0), Margins(22.0, 10.0, 10.0, 10.0))
    only = ("set-sled", "plate")
    plain, made = (make.draw(make.jig("sled", SLED, "mm"), only, make.Printing(printer=one)) for one in (None, printer))
    left = [
        [
            min(mark.shape.bounds.left for group in sheet.groups() for mark in group.strokes if not group.clip)
            for sheet in (*one.cards.sheets, *one.templates.sheets)
        ]
        for one in (plain, made)
    ]
    assert max(left[0]) < 22.0
    assert min(left[1]) >= 22.0
    assert [bundle.correction for bundle in (made.cards, made.templates)] == [printer.correction] * 2


def test_a_part_that_a_box_lacks_comes_with_its_jig_and_of_one_that_it_has_the_rest_stays() -> None:
    bare = make.without_part(box(), "handle")
    assert bare.handle is None
    jig = make.jig("handle", {"saw": "38.6"}, "mm")
    made = make.with_jig(bare, jig)
    assert made.handle
    assert made.handle.saw == 38.6
    lid = make.jig("lid", {"along": "176", "across": "126", "thickness": "18", "overhang": "7"}, "mm")
    was, now = box().source.splitlines(), make.with_jig(box(), lid).source.splitlines()
    [overhang] = [line for line in was if "overhang" in line]
    assert [line for line in now if line not in was] == [overhang.replace("= 5", "= 7")]


def test_a_box_is_drawn_on_its_own_paper_unless_another_is_asked_for() -> None:
    file = box(print_paper="Letter")
    papers = [
        {sheet.paper.name for sheet in make.draw(file, ("stick-end",), printing).templates.sheets}
        for printing in (make.USUAL, make.Printing(paper="A3"))
    ]
    assert papers == [{"Letter"}, {"A3"}]


def test_the_report_of_what_was_drawn_is_that_of_the_check() -> None:
    assert make.draw(box(), ("stick-end",)).report.text == make.check(box()).text


def test_the_proof_of_a_box_and_of_a_jig_bears_their_code() -> None:
    for job in (box(), make.jig("sled", SLED, "mm")):
        proof, *others = make.draw(job, ("stick-end",)).templates.sheets
        assert "proof-code" in {group.name for group in proof.groups()}
        assert not any(group.name.endswith("-code") for sheet in others for group in sheet.groups())


def test_a_piece_is_cut_at_its_size_where_nothing_is_said_of_the_tool() -> None:
    sled = make.jig("sled", SLED, "mm")
    usual, none, wide = (
        make.draw(sled, ("stick-end",), printing).cut_files
        for printing in (
            make.Printing(formats=("dxf",)),
            make.Printing(formats=("dxf",), cut_width=0.0),
            make.Printing(formats=("dxf",), cut_width=0.2),
        )
    )
    assert usual == none
    assert usual != wide


def test_the_card_after_a_test_joint_has_every_step_once_and_takes_no_other_place() -> None:
    """Beside the report: its two lines of verdict, its steps in order, and what then is to be expected."""
    sled = make.jig("sled", SLED, "mm")
    found = make.tuned(sled, Readings(finger=9.97, socket=10.02, flush_high=0.18, flush_low=0.13))
    assert len(found.steps) == 2
    made = make.steps_sheet(sled, found, 3)
    [card] = made.cards.sheets
    said = " ".join(text.words for group in card.groups() for text in group.texts)
    lines = found.report.text.splitlines()
    assert [said.count(words) for words in (*lines[:2], *found.steps, *lines[4:])] == [1] * 6
    assert set(made.files) == {"sled-joint-3-cards.pdf", f"{card.name}.svg"}
    assert all(name.startswith("sled-joint-3") for name in made.files)


@pytest.mark.parametrize("across", [True, False])
def test_a_choice_of_yes_or_no_goes_from_a_jig_into_a_box(across: bool) -> None:
    made = make.with_jig(box(), make.jig("handle", {"saw": "38.6", "across": across}, "mm"))
    assert made.handle
    assert made.handle.across == across


def test_a_key_that_is_to_have_more_play_is_shimmed_to_that() -> None:
    """By hand: in a socket of 10.02 a key of 9.77 has a play of 0.25; where 0.4 is read, 0.15 goes on its far face."""
    sled = make.jig("sled", SLED | {"key": "9.77"}, "mm")
    found = make.tuned(sled, Readings(clearance=0.1, slack=0.4))
    assert [(one.part, one.action, one.face) for one in found.remedies] == [("key", "shim", "far")]
    assert [one.amount for one in found.remedies] == pytest.approx([0.15])


def test_no_picture_of_a_box_whose_joint_is_stopped_and_only_what_stops_it_is_said() -> None:
    stopped = box(box_height="20")
    assert {problem.severity for problem in make.check(stopped).problems} > {"stop"}
    with pytest.raises(CannotBuild) as refused:
        make.picture(stopped)
    assert {problem.severity for problem in refused.value.problems} == {"stop"}


def test_a_joint_is_good_from_half_to_one_and_a_half_times_its_clearance() -> None:
    """0.10 mm is wanted: 0.05 to 0.15 is good; at 0.10 nothing is to be done, at 0.02 boards must not be cut yet."""
    sled = make.jig("sled", SLED, "mm")
    asked = [make.tuned(sled, Readings(finger=finger, socket=10.02)) for finger in (9.92, 9.97, 10.0)]
    assert [(found.good, bool(found.steps)) for found in asked] == [(True, False), (True, True), (False, True)]


def test_the_cover_shows_woods_only_where_that_is_asked_for() -> None:
    usual, plain, coloured = (
        make.draw(box(), ("cover",), printing).files
        for printing in (make.USUAL, make.Printing(colour=False), make.Printing(colour=True))
    )
    assert usual == plain
    assert usual != coloured


def test_a_jig_that_is_stopped_has_problems_alone_to_look_at() -> None:
    look = make.look_at_jig(make.jig("sled", SLED | {"finger": "8"}, "mm"))
    assert "stop" in {problem.severity for problem in look.problems}
    assert (look.listings, look.has_templates) == ((), False)
    assert make.look_at_jig(make.jig("sled", SLED, "mm")).has_templates


def test_cautions_are_as_large_on_the_card_of_a_jig_alone_as_on_the_cover_of_a_box() -> None:
    cards = make.draw(make.jig("sled", SLED, "mm"), ("make-sled",)).cards, make.draw(box(), ("cover",)).cards
    heights = [
        {
            text.height
            for sheet in made.sheets
            for group in sheet.groups()
            for text in group.texts
            if "overrule" in text.words
        }
        for made in cards
    ]
    assert len(heights[0]) == 1
    assert heights[0] == heights[1]


@pytest.mark.parametrize(("units", "usual"), [("mm", "210mm"), ("in", "215.9mm")])
def test_a_page_is_pictured_on_the_paper_of_its_box(units: Units, usual: str) -> None:
    """A4 is 210 mm wide, Letter 8 1/2 in: the usual ones of the units, where the file names none."""
    path = METRIC if units == "mm" else INCHES
    bare = make.box(make.edited(box(path), {"print.paper": ""}).source, path.name)
    assert bare.print.paper is None
    for file, width in ((bare, usual), (make.edited(bare, {"print.paper": "Letter"}), "215.9mm")):
        [picture] = make.page_pictures(file, "templates-lid")[:1]
        assert f'width="{width}"' in picture.decode()[:2000]


def test_the_card_after_a_test_joint_is_on_the_paper_of_its_box() -> None:
    file = box(print_paper="Letter")
    found = make.tuned(file, Readings(finger=10.0, socket=10.02))
    assert [sheet.paper.name for sheet in make.steps_sheet(file, found, 1).cards.sheets] == ["Letter"]
    [other] = make.steps_sheet(file, found, 1, make.Printing(paper="A4")).cards.sheets
    assert other.paper.name == "A4"


def test_a_choice_that_was_made_stands_by_its_name_among_the_settings() -> None:
    chosen: dict[str, Value] = {**SLED, "whole": True}
    whole, usual = (make.check(make.jig("sled", settings, "mm")).text for settings in (chosen, SLED))
    [line] = [line for line in whole.splitlines() if line.startswith("finger 10 mm")]
    assert line == "finger 10 mm; cutter 10.02 mm; board 90 mm; thickness 12 mm; whole"
    assert "whole" not in usual.splitlines()[1]


def test_a_large_hand_draws_large() -> None:
    """Common practice, no source: from A4 to A3 letters grow by √2."""
    sled = make.jig("sled", SLED, "mm")
    usual, large = (
        max(text.height for sheet in made.cards.sheets for group in sheet.groups() for text in group.texts)
        for made in (make.draw(sled, ("set-sled",), make.Printing(hand=Hand(large=large))) for large in (False, True))
    )
    assert large == pytest.approx(2**0.5 * usual)


def test_end_boards_are_of_the_wood_of_the_sides_unless_they_have_their_own() -> None:
    own = make.edited(box(), {"sides.ends_species": "hard maple"})
    alike = make.edited(box(), {"sides.ends_species": box().sides.species or ""})
    assert box().sides.ends_species is None
    assert make.reading_pictures(box()) == make.reading_pictures(alike)
    assert make.reading_pictures(box()) != make.reading_pictures(own)


def test_the_cut_files_of_a_job_are_known_only_where_all_of_it_was_drawn() -> None:
    sled, dxf = make.jig("sled", SLED, "mm"), make.Printing(formats=("dxf",))
    whole, some = make.draw(sled, (), dxf), make.draw(sled, ("stick-end",), dxf)
    assert set(whole.cut_files) <= {f"{name}.dxf" for name in whole.cut_names}
    assert some.cut_files
    assert some.cut_names == ()


def test_settings_that_were_changed_or_turned_are_as_they_would_be_typed() -> None:
    """A form takes them for its own: nothing of another day stands behind them."""
    sheet = next(iter(make.draw(make.jig("sled", SLED, "mm"), ("stick-end",)).files.values()))
    reopened = make.reopen(sheet)
    assert isinstance(reopened, JigSettings)
    for settings in (make.changed(reopened, {"board": "92"}), make.jig_in(reopened, "in")):
        assert settings == make.edited_jig(settings, {})
    assert make.changed(reopened, {"board": "92"}) == make.jig("sled", SLED | {"board": "92"}, "mm")


def test_a_jig_of_ones_own_may_have_templates_alone(monkeypatch: pytest.MonkeyPatch) -> None:
    known = catalogue.find("taper")

    def without_cards(*asked: object, **settings: object) -> catalogue.Plan:
        plan = known.build(*asked, **settings)
        return replace(plan, sheets=replace(plan.sheets, cards=()))

    monkeypatch.setitem(catalogue._REGISTERED, "taper", replace(known, build=without_cards))
    made = make.draw(make.jig("taper", {"wide": "40", "narrow": "25", "length": "400"}, "mm"))
    assert made.cards.sheets == ()
    assert made.templates.sheets
