"""Printers on the bench: the command's verdict and corrections, its messages at their fields, nothing else written."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Iterator, Mapping
from pathlib import Path
from typing import Any

import pytest
import svgelements
from click.testing import CliRunner
from hypothesis import given
from hypothesis import strategies as st
from lxml import etree, html

import cli
from layout.bench.server import make_app
from layout.printer import check_pictures, kept, print_check
from layout.printer.correction import Distortion
from layout.sheet import paper as papers
from tests.outside import Check
from tests.served import Served, axe, fits, served, settled, tab_to
from tests.test_bench import HOST, OURS, Window, bench_of
from tests.test_tuning import INCH, METRIC

DRAWN = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)
OUT = {"across": "170.5", "up": "261", "rising": "311.9", "falling": "311.4"}
TRUE = {"across": "170", "up": "260", "rising": "310.64", "falling": "310.64"}


@pytest.fixture(autouse=True)
def settings_folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "configuration"))
    return tmp_path / "configuration" / "jigleaf"


@pytest.fixture
def window(tmp_path: Path) -> Window:
    return window_of(tmp_path, METRIC)


def window_of(folder: Path, text: str) -> Window:
    path = folder / "box.toml"
    path.write_text(text)
    bench = bench_of(path)
    return Window(bench, make_app(bench).test_client())


def does(window: Window, **done: object) -> Any:
    sent = {"version": window.bench.state.version, **done}
    answer = window.client.post("/printer", json=sent, headers=OURS)
    assert answer.status_code == 200
    return html.fromstring(answer.get_data(as_text=True))


def types(window: Window, typed: Mapping[str, str]) -> Any:
    for name, said in typed.items():
        does(window, do="type", typed={f"check.{name}": said})
    return page_of(window)


def page_of(window: Window) -> Any:
    return html.fromstring(window.get("/printer").get_data(as_text=True))


def words(element: Any) -> str:
    return " ".join(" ".join(element.itertext()).split())


def squeezed(said: str) -> str:
    """Return words without spaces and stops: a terminal wraps, a page has rows."""
    return re.sub(r"\W+", " ", said).strip()


# -- what the readings say -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "headline"),
    [
        (OUT, "Can be corrected"),
        (TRUE, "Prints true"),
        (TRUE | {"rising": "312.5"}, "Measure again"),
        ({"across": "164.9", "up": "252.2", "rising": "301.3", "falling": "301.3"}, "Nothing is corrected"),
    ],
)
def test_the_verdict_is_that_of_the_command(window: Window, typed: dict[str, str], headline: str) -> None:
    page = types(window, typed)
    assert words(page.get_element_by_id("headline")) == headline
    said = CliRunner().invoke(cli.main, ["calibrate", *(f"--{name}={value}" for name, value in typed.items())]).stdout
    shown = squeezed(words(page.get_element_by_id("beside")))
    for row in said.partition("NOTE")[0].split("\n\n"):
        for one in row.splitlines() if "±" in row else [row]:
            assert squeezed(one.partition("Sides and diagonals agree")[0]) in shown


def test_each_reading_says_what_it_should_be(window: Window) -> None:
    page = page_of(window)
    said = {name: words(page.get_element_by_id(f"check-{name}-about")) for name in OUT}
    assert said == {
        "across": "left to right, along the lower side; should be 170",
        "up": "bottom to top, along the left side; should be 260",
        "rising": f"lower left to upper right; should be {math.hypot(170, 260):.2f}",
        "falling": f"upper left to lower right; should be {math.hypot(170, 260):.2f}",
    }


def test_inches_are_inches(tmp_path: Path) -> None:
    window = window_of(tmp_path, INCH)
    page = page_of(window)
    assert page.get_element_by_id("check-paper").get("value") == "Letter"
    page = types(window, {"across": "6 3/4", "up": "9.48", "rising": "11.62", "falling": "11.62"})
    assert words(page.get_element_by_id("headline")) != "What the printer does"


def test_readings_of_another_sheet_are_offered_its_paper(window: Window) -> None:
    wide, high = print_check.size(papers.named("Letter"))
    both = f"{math.hypot(wide, high):.2f}"
    page = types(window, {"across": f"{wide:g}", "up": f"{high:g}", "rising": both, "falling": both})
    button = page.xpath("//div[@id='other-told-choice']//button")[0]
    assert "fit the sheet for Letter" in words(page.get_element_by_id("beside"))
    does(window, do="type", typed=json.loads(button.get("data-typed")))
    page = page_of(window)
    assert page.get_element_by_id("check-paper").get("value") == "Letter"
    assert words(page.get_element_by_id("headline")) == "Prints true"


# -- what is kept --------------------------------------------------------------------------------------------------


def test_a_correction_is_kept_as_the_command_keeps_it(window: Window, settings_folder: Path) -> None:
    types(window, {"name": "school", **OUT})
    page = does(window, do="keep")
    assert words(page.get_element_by_id("said")).startswith("Kept for school.")
    here = kept.find("school").measured
    options = [f"--{name}={value}" for name, value in OUT.items()]
    CliRunner().invoke(cli.main, ["calibrate", "--printer", "other", *options])
    assert kept.find("other").measured == here
    assert [one.name for one in settings_folder.iterdir()] == ["printers.json"]


def test_nothing_but_the_printers_file_is_written(window: Window, tmp_path: Path, settings_folder: Path) -> None:
    source = (tmp_path / "box.toml").read_bytes()
    types(window, {"name": "school", **OUT, "margins": "5"})
    does(window, do="keep")
    window.get("/printer/check.pdf")
    window.get("/printer/proof.pdf?name=school")
    does(window, do="forget", name="school")
    does(window, do="forget", name="school")
    files = {one for one in tmp_path.rglob("*") if one.is_file()}
    assert files == {tmp_path / "box.toml", settings_folder / "printers.json"}
    assert (tmp_path / "box.toml").read_bytes() == source


def test_margins_are_kept_and_the_sheet_stays_within_them(window: Window) -> None:
    page = types(window, {"name": "school", "margins": "12 12 12 15"})
    assert kept.find("school").margins == (12, 12, 12, 15)
    assert page.get_element_by_id("check-margins").get("value") == "12 12 12 15"
    wide, _ = print_check.size(print_check.page_for("A4", "mm", "school"))
    assert wide < 170
    assert f"should be {wide:g}" in words(page.get_element_by_id("check-across-about"))


def test_margins_that_leave_no_room_for_the_sheet_are_told(window: Window) -> None:
    page = types(window, {"name": "school", "margins": "40"})
    assert "The print check does not fit on A4" in words(page.get_element_by_id("field-paper"))
    assert window.get("/printer/check.pdf").status_code == 409
    types(window, {"margins": "5"})
    assert window.get("/printer/check.pdf").status_code == 200


def test_forgetting_asks_twice(window: Window) -> None:
    types(window, {"name": "school", **OUT})
    does(window, do="keep")
    page = does(window, do="forget", name="school")
    assert "school" in kept.known()
    assert words(page.get_element_by_id("forget-1")) == "Press again to forget school"
    page = does(window, do="leave")
    assert words(page.get_element_by_id("forget-1")) == "Forget school"
    does(window, do="forget", name="school")
    does(window, do="type", typed={"check.up": "260"})  # anything else disarms it
    does(window, do="forget", name="school")
    assert "school" in kept.known()
    page = does(window, do="forget", name="school")
    assert kept.known() == {}
    assert "Forgot school." in words(page.get_element_by_id("notices"))


def test_a_printer_is_chosen_for_the_box_and_can_be_undone(window: Window) -> None:
    types(window, {"name": "the office's", **OUT})
    does(window, do="keep")
    page = does(window, do="choose", name="the office's")
    assert window.bench.state.file.print.printer == "the office's"
    assert "This box is printed on the office's." in words(page)
    templates = window.get("/print/templates.pdf").get_data()
    does(window, do="undo")
    assert window.bench.state.file.print.printer is None
    assert window.get("/print/templates.pdf").get_data() != templates  # the first was corrected
    does(window, do="redo")
    does(window, do="choose", name="")
    assert window.bench.state.file.print.printer is None


def undone(page: Any) -> str:
    return words(page.get_element_by_id("notices"))


def test_what_was_done_here_is_taken_back_step_by_step(window: Window) -> None:
    """Each step is said; one that reached a printer or the box is taken back there too."""
    types(window, {"name": "school", **OUT})
    does(window, do="keep")
    measured = kept.find("school")
    does(window, do="choose", name="school")
    does(window, do="forget", name="school")
    does(window, do="forget", name="school")
    assert undone(does(window, do="undo")) == "Taken back: forgetting school."
    assert kept.find("school") == measured
    assert undone(does(window, do="undo")) == "Taken back: printing this box on school."
    assert window.bench.state.file.print.printer is None
    assert not window.bench.state.can_undo
    page = does(window, do="undo")
    assert undone(page) == "Taken back: what was kept for school."
    assert kept.known() == {}
    assert words(page.get_element_by_id("keep")) == "Keep this for school"
    page = does(window, do="undo")
    assert undone(page) == "Taken back: falling 311.4."
    assert words(page.get_element_by_id("moved")).startswith("Taken back falling 311.4")
    assert page.get_element_by_id("check-falling").get("value") == ""
    for said in ("falling 311.4", "what was kept for school", "printing this box on school", "forgetting school"):
        page = does(window, do="redo")
        assert undone(page) == f"Done again: {said}."
    assert kept.known() == {}
    assert window.bench.state.file.print.printer == "school"
    assert page.get_element_by_id("redo").get("aria-disabled") == "true"


def test_what_was_done_to_the_box_elsewhere_is_not_taken_back_here(window: Window) -> None:
    window.bench.state.type({"joint.proud": "0.4"})
    page = page_of(window)
    assert page.get_element_by_id("undo").get("aria-disabled") == "true"
    does(window, do="undo")
    assert window.bench.state.file.joint.proud == pytest.approx(0.4)
    types(window, {"name": "school", **OUT})
    does(window, do="keep")
    does(window, do="choose", name="school")
    window.bench.state.type({"joint.proud": "0.5"})
    does(window, do="undo")
    assert window.bench.state.file.print.printer is None
    assert window.bench.state.file.joint.proud == pytest.approx(0.5)


def test_a_printer_that_was_changed_elsewhere_stays_as_it_is(window: Window) -> None:
    types(window, {"name": "school", **OUT})
    does(window, do="keep")
    other = kept.find("school")
    kept.keep_margins("school", papers.read_margins("5", "mm"))
    assert "school was changed elsewhere since then, so this step stays" in undone(does(window, do="undo"))
    assert kept.find("school").measured == other.measured
    assert words(page_of(window).get_element_by_id("said")).startswith("Kept for school.")


def test_after_keeping_the_way_on_stands_at_the_top_and_the_head_says_so(window: Window) -> None:
    types(window, {"name": "school", **OUT})
    page = does(window, do="keep")
    assert "A correction is kept for school; this box names no printer yet." in words(page.get_element_by_id("verdict"))
    ways = page.xpath("//div[@id='beside']//button[@class='way']")
    assert [words(way) for way in ways] == ["Print this box on school"]
    does(window, do=ways[0].get("data-do"), name=ways[0].get("data-name"))
    page = page_of(window)
    assert "This box is printed on it." in words(page.get_element_by_id("said"))
    assert page.xpath("//button[@id='print-box']") == []


def test_a_printer_of_the_box_that_is_not_known_is_told(tmp_path: Path) -> None:
    window = window_of(tmp_path, METRIC + '[print]\nprinter = "away"\n')
    page = page_of(window)
    assert "names the printer away, which is not known here" in words(page.get_element_by_id("missing"))
    does(window, do="choose", name="")
    assert window.bench.state.file.print.printer is None


def test_the_sheets_to_print_are_those_of_the_command(window: Window, tmp_path: Path) -> None:
    types(window, {"name": "school", **OUT})
    CliRunner().invoke(cli.main, ["calibrate", "-o", str(tmp_path / "plain")])
    assert window.get("/printer/check.pdf").get_data() == (tmp_path / "plain" / "print-check.pdf").read_bytes()
    does(window, do="keep")
    CliRunner().invoke(cli.main, ["calibrate", "--printer", "school", "-o", str(tmp_path / "proof")])
    proof = window.get("/printer/proof.pdf?name=school").get_data()
    assert proof == (tmp_path / "proof" / "print-check.pdf").read_bytes()


# -- what can't be so ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"across": "wide"}, "across", "'wide' has no number in it"),
        (OUT | {"up": "-3"}, "up", "-3 can’t be read here: it must be more than 0"),
        (
            OUT | {"rising": "500", "falling": "3"},
            "rising",
            "No figure has these sides and diagonals: across 170.5, up 261",
        ),
        ({"name": "x" * 41}, "name", "A name has from 1 to 40 printable characters; this has 41."),
        ({"name": "a\tb"}, "name", "A name has from 1 to 40 printable characters"),
        ({"margins": "5"}, "margins", "No printer is named; type its name first."),
        ({"name": "school", "margins": "1 2 3"}, "margins", "There are 3 numbers; there must be four"),
        ({"name": "school", "margins": "-1"}, "margins", "A margin must be from 0 to"),
        ({"name": "school", "margins": "wide"}, "margins", "write left, right, top and bottom as"),
        ({"paper": "A44"}, "paper", "A44"),
        ({"paper": "60x60 mm"}, "paper", "Print it on A4, Letter or a larger paper."),
    ],
)
def test_what_cannot_be_stands_at_its_field(window: Window, typed: dict[str, str], field: str, said: str) -> None:
    page = types(window, typed)
    at = words(page.get_element_by_id(f"field-{field}"))
    assert said in at
    assert "--" not in at
    assert f"check-{field}-says" in page.get_element_by_id(f"check-{field}").get("aria-describedby")
    assert not kept.known()


@pytest.mark.parametrize(
    ("done", "said"),
    [
        ({"do": "keep"}, "give no correction to keep"),
        ({"do": "forget", "name": "nobody"}, "no printer has been measured yet"),
        ({"do": "choose", "name": "nobody"}, "no printer has been measured yet"),
        ({"do": "forget"}, "could not be understood"),
        ({"do": "type", "typed": {"check.nothing": "1"}}, "could not be understood"),
        ({"do": "type", "typed": {"print.printer": "x"}}, "could not be understood"),
    ],
)
def test_what_cannot_be_done_is_told_and_changes_nothing(window: Window, done: dict[str, Any], said: str) -> None:
    assert said in words(does(window, **done).get_element_by_id("notices"))
    assert not kept.known()


def test_a_correction_needs_a_name(window: Window) -> None:
    types(window, OUT)
    page = does(window, do="keep")
    assert "Type a name for this printer first" in words(page.get_element_by_id("field-name"))


def test_a_damaged_printers_file_is_told(window: Window, settings_folder: Path) -> None:
    settings_folder.mkdir(parents=True)
    (settings_folder / "printers.json").write_text("{")
    assert "correct the file or move it away" in words(page_of(window).get_element_by_id("damaged"))
    assert window.get("/printer/check.pdf").status_code == 409


@given(typed=st.dictionaries(st.sampled_from([*OUT, "paper", "name"]), st.text(max_size=60)))
def test_whatever_is_typed_the_page_answers(tmp_path_factory: pytest.TempPathFactory, typed: dict[str, str]) -> None:
    window = window_of(tmp_path_factory.mktemp("typed"), METRIC)
    assert types(window, typed).get_element_by_id("headline") is not None


def test_a_proof_of_nobody_is_refused(window: Window) -> None:
    answer = window.client.get("/printer/proof.pdf", query_string={"name": "../x"}, headers=HOST)
    assert answer.status_code == 409
    assert "no printer has been measured yet" in answer.get_data(as_text=True)


# -- its pictures --------------------------------------------------------------------------------------------------


def corners(svg: bytes, group: str) -> list[complex]:
    """Return the corners of the first line of a group, y down, in the units of the picture."""
    found: Any = etree.fromstring(svg).xpath(
        f"//*[local-name()='g' and contains(@id, '{group}')]/*[local-name()='path']"
    )
    path = next(iter(svgelements.Path(found[0].get("d")).as_subpaths()))
    return [complex(step.end.x, step.end.y) for step in svgelements.Path(path)]


@DRAWN.of()
@pytest.mark.parametrize("name", ["A4", "Letter", "A3"])
def test_readings_stand_on_the_sheet_where_they_are_taken(name: str) -> None:
    on = papers.named(name)
    wide, high = print_check.size(on)
    svg = check_pictures.sheet(on, "mm")
    true = {"across": wide, "up": high, "rising": math.hypot(wide, high), "falling": math.hypot(wide, high)}
    for reading, length in true.items():
        ends = corners(svg, f"reading-{reading}")
        assert abs(ends[-1] - ends[0]) == pytest.approx(length, abs=0.001)


@DRAWN.of()
@given(across=st.floats(0.985, 1.015), up=st.floats(0.985, 1.015), skew=st.floats(-0.5, 0.5))
def test_what_a_printer_does_is_drawn_as_large_as_is_said(across: float, up: float, skew: float) -> None:
    on = papers.named("A4")
    wide, high = print_check.size(on)
    svg, times = check_pictures.verdict(Distortion(across, up, skew), on, "mm")
    (true_left, true_right, *_), printed = corners(svg, "-true"), corners(svg, "-printed")
    scale = abs(true_right - true_left) / wide
    lower, upper = printed[1] - printed[0], printed[3] - printed[0]
    assert abs(lower) / scale == pytest.approx(wide * (1 + times * (across - 1)), abs=0.01)
    assert abs(upper) / scale == pytest.approx(high * (1 + times * (up - 1)), abs=0.01)
    assert math.degrees(math.asin(upper.real / abs(upper))) == pytest.approx(times * skew, abs=0.02)


# -- in a browser --------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def live(chromium: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    path = tmp_path_factory.mktemp("printer") / "box.toml"
    path.write_text(METRIC)
    with served(path, chromium) as found:
        yield found


@pytest.mark.slow
@pytest.mark.parametrize("width", [360, 1280])
def test_a_printer_is_measured_by_keyboard_alone(live: Served, width: int) -> None:
    live.bench.beside.clear()
    page = live.open("/printer", width)
    for name, typed in (("name", "school"), *OUT.items()):
        tab_to(page, f"check-{name}")
        page.keyboard.type(typed)
    page.keyboard.press("Enter")
    settled(page)
    page.locator("#headline", has_text="Can be corrected").wait_for()
    tab_to(page, "keep")
    page.keyboard.press("Enter")
    settled(page)
    page.locator("#printer-1", has_text="school").wait_for()
    assert page.evaluate("document.activeElement.id") == "print-box"
    page.keyboard.press("Enter")
    settled(page)
    page.locator("#verdict", has_text="This box is printed on school.").wait_for()
    tab_to(page, "forget-1")
    for _ in range(2):
        page.keyboard.press("Enter")
        settled(page)
    page.locator("#known", has_text="None yet.").wait_for()
    page.locator("#missing").wait_for()
    assert fits(page)
    assert live.said == []
    tab_to(page, "choose-none")
    page.keyboard.press("Enter")
    settled(page)
    page.context.close()


@pytest.mark.slow
@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(live: Served, width: int, scheme: Any) -> None:
    live.bench.beside.clear()
    page = live.open("/printer", width, scheme)
    assert axe(page) == []
    for name, typed in (("name", "school"), *OUT.items(), ("margins", "1 2")):
        page.locator(f"#check-{name}").fill(typed)
        page.keyboard.press("Tab")
        settled(page)
    page.locator("#keep").click()
    settled(page)
    page.locator("#forget-1").click()
    settled(page)
    page.locator("#leave-1").wait_for()
    assert axe(page) == []
    page.locator("#forget-1").click()
    settled(page)
    page.context.close()
