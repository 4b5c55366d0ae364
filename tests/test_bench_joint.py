"""The test joint on the bench: the command line's steps, its messages at their fields, pictures that measure true."""

from __future__ import annotations

import io
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
from pypdf import PdfReader

import cli
from jigs.base.errors import CannotBuild
from jigs.boxfile.jig_file import JigSettings
from jigs.trade.tune import Readings
from layout import make
from layout.bench import joint_view
from layout.bench.server import make_app
from tests.outside import Check
from tests.served import Served, axe, fits, served, settled, tab_to
from tests.test_bench import OURS, Window, bench_of
from tests.test_tuning import INCH, METRIC

DRAWN = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)
TJ1 = {"finger": "9.97", "socket": "10,02", "flush_high": ".18", "flush_low": ".13", "proud": ".8"}
TJ2 = {
    "finger": ".492", "socket": ".502", "flush_high": "-.003", "flush_low": "−.013", "proud": ".005", "error": ".0005"
}  # fmt: skip


@pytest.fixture
def path(tmp_path: Path) -> Path:
    file = tmp_path / "box.toml"
    file.write_text(METRIC)
    return file


def window_of(path: Path, text: str = "") -> Window:
    if text:
        path.write_text(text)
    bench = bench_of(path)
    return Window(bench, make_app(bench).test_client())


@pytest.fixture
def window(path: Path) -> Window:
    return window_of(path)


def types(window: Window, typed: Mapping[str, str]) -> Any:
    """Type readings one by one, as a maker does; return the page."""
    for name, words in typed.items():
        done = {"do": "type", "typed": {f"reading.{name}": words}, "version": window.bench.state.version}
        answer = window.client.post("/joint", json=done, headers=OURS)
        assert answer.status_code == 200
    return page_of(window)


def page_of(window: Window) -> Any:
    return html.fromstring(window.get("/joint").get_data(as_text=True))


def words(element: Any) -> str:
    return " ".join(" ".join(element.itertext()).split())


def steps_of(page: Any) -> list[str]:
    said = page.xpath("//ol[@class='steps']//p[@class='says']/span[2]")
    return [" ".join(one.text_content().split()) for one in said]


def steps_of_command(path: Path, typed: Mapping[str, str], *more: str) -> list[str]:
    options = [word for name, value in typed.items() for word in (f"--{name.replace('_', '-')}", value)]
    said = CliRunner().invoke(cli.main, ["tune", str(path), *options, *more]).stdout
    listed = re.findall(r"^\d+\. (.*?)(?=^\d+\. |^Then expect|\Z)", said, re.M | re.S)
    return [" ".join(one.split()) for one in listed]


# -- the steps -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(("text", "typed"), [(METRIC, TJ1), (INCH, TJ2)])
@pytest.mark.parametrize("mount", ["clamped plate", "screwed plate", "pivot"])
def test_the_steps_are_those_of_the_command(path: Path, text: str, typed: dict[str, str], mount: str) -> None:
    window = window_of(path, text)
    pivot = {"to_key": "150", "to_nudge": "300"} if mount == "pivot" else {}
    page = types(window, typed | {"mount": mount} | pivot)
    more = [f"--pivot-{name.replace('_', '-')}={value}" for name, value in pivot.items()]
    expected = steps_of_command(path, typed, "--mount", mount, *more)
    assert len(expected) >= 3
    assert steps_of(page) == expected
    assert len(page.xpath("//ol[@class='steps']//svg")) == len(expected)


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({"finger": "9.98", "socket": "10.02"}, "Too tight: move two things"),
        ({"finger": "9.8", "socket": "10"}, "Too loose: move two things"),
        ({"finger": "9.92", "socket": "10.02"}, "Good: leave it as it is"),
        ({"finger": "9.92", "socket": "10.02", "flush_high": ".35", "flush_low": ".25"}, "Bottom edges out: move one"),
        ({"finger": "9.92", "socket": "10.02", "proud": ".6"}, "Good already; you can move one thing"),
        ({"finger": "6.3", "socket": "6.4"}, "Measure again: nothing is moved yet"),
    ],
)
def test_what_is_wrong_in_a_few_words(window: Window, typed: dict[str, str], said: str) -> None:
    assert words(types(window, typed).get_element_by_id("headline")).startswith(said)


def test_each_reading_says_how_it_compares(window: Window) -> None:
    page = types(window, {"finger": "9.98", "socket": "10", "proud": "0.25"})
    said = {name: words(page.get_element_by_id(f"reading-{name}-wanted")) for name in ("finger", "socket", "proud")}
    assert said == {
        "finger": "wanted 9.90 0.08 over",
        "socket": "wanted 10.00 as wanted",
        "proud": "wanted 0.30 0.05 under",
    }
    assert page.xpath("//span[@class='against out']/text()") == ["0.08 over"]


def test_the_strip_says_what_a_reading_moved(window: Window) -> None:
    types(window, {"finger": "9.98", "socket": "10.02", "flush_high": ".26", "flush_low": ".18"})
    page = types(window, {"flush_low": ".22"})
    moved = [words(one) for one in page.xpath("//div[@id='moved']//dl/div[not(@class)]")]
    assert moved == [
        "D, flush, to bottom was .18 → now .22",
        "Bottom edges out was 0.22 → now 0.24",
        "Off the spacer was 0.25 → now 0.27",
    ]


def test_lengths_are_typed_as_anywhere(window: Window) -> None:
    plain = steps_of(types(window, {"finger": "9.97", "socket": "10.02"}))
    assert steps_of(types(window, {"finger": "0.39252 in", "socket": "10,02"})) == plain
    page = types(window, {"finger": "3/8"})
    assert words(page.get_element_by_id("headline")).startswith("Measure again")


# -- what can't be so ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("typed", "field", "said"),
    [
        ({"finger": "ten"}, "finger", "'ten' has no number in it"),
        ({"finger": "0", "socket": "10"}, "finger", "0 can’t be read here: it must be more than 0"),
        ({"clearance": "-1/64in"}, "clearance", "-1/64in can’t be read here: it must be at least 0"),
        ({"finger": "9.9", "socket": "10", "error": "-1"}, "error", "-1 can’t be read here: it must be at least 0"),
        ({"finger": "9.9", "socket": "10", "flush_low": ".1"}, "flush_high", "C and D go together"),
        ({"finger": "9.9", "socket": "10", "flush_high": ".1"}, "flush_low", "Type this one too"),
        (
            {"finger": "9.9", "socket": "10", "flush_low": ".2", "flush_high": ".6"},
            "socket", "Finger and socket give a clearance of 0.10 mm and the flush readings give 0.40 mm",
        ),
        (
            {"finger": "9.9", "socket": "10", "flush_low": ".2", "flush_high": ".1"},
            "flush_high", "which is more than 0.04 mm further up. Measure both again.",
        ),
        ({"finger": "6.3", "socket": "6.4"}, "socket", "the cutter of this file makes 10.00 mm"),
        ({"finger": "9.8", "socket": "10.3", "error": "0.5"}, "error", "Readings good to 0.50 mm cannot set a joint"),
        ({"clearance": "0"}, "clearance", "Measure finger and socket instead."),
        (
            {"finger": "9.97", "socket": "10.02", "mount": "screwed plate"},
            "slack", "Read the play on the key; it must be 0.08 mm or more.",
        ),
        (
            {"finger": "9.9", "socket": "10", "mount": "pivot", "to_key": "-2", "to_nudge": "5"},
            "to_key", "-2 can’t be read here: it must be more than 0",
        ),
    ],
)  # fmt: skip
def test_what_cannot_be_stands_at_its_field(window: Window, typed: dict[str, str], field: str, said: str) -> None:
    page = types(window, typed)
    at = page.get_element_by_id(f"field-{field}")
    assert said in words(at)
    described = page.get_element_by_id(f"reading-{field}").get("aria-describedby")
    assert f"reading-{field}-says" in described
    assert page.get_element_by_id(f"reading-{field}-says") is not None


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ({}, "Type what the callipers read. A and B are enough to begin with."),
        ({"finger": "9.9"}, "Type B, the socket as well"),
        ({"socket": "10"}, "Type A, the widest finger as well"),
        ({"slack": "0.1"}, "Type A and B as well"),
        ({"finger": "9.8", "socket": "10", "mount": "pivot"}, "Type both lengths from the pivot."),
        ({"finger": "6.3", "socket": "6.4"}, "Nothing is moved by readings that can’t be right."),
    ],
)
def test_what_is_missing_is_asked_for(window: Window, typed: dict[str, str], said: str) -> None:
    page = types(window, typed)
    assert said in words(page.get_element_by_id("waits"))
    assert steps_of(page) == []
    assert page.xpath("//button[@id='next-joint']") == []
    assert window.get("/joint/steps.pdf").status_code == 409


def test_a_change_that_is_mistyped_or_too_small_is_told(window: Window) -> None:
    page = types(window, {"finger": "9.9", "socket": "10", "proud": "2.3"})
    assert "a reading may be mistyped" in words(page.get_element_by_id("beside"))
    page = types(window, {"finger": "9.88", "proud": ""})
    assert "The gap stays as it is: a change of 0.02 mm is within" in words(page.get_element_by_id("beside"))


def test_a_joint_that_a_rule_stops_leads_to_the_sled(path: Path) -> None:
    window = window_of(path, METRIC.replace("cutter = 10", "cutter = 14"))
    page = page_of(window)
    assert page.xpath("//main//a[@href='/box/sled']")
    assert "A rule stops this joint" in words(page)
    assert page.xpath("//div[@class='told error']")
    assert window.get("/joint/page.pdf").status_code == 409
    with pytest.raises(CannotBuild):
        make.reading_pictures(window.bench.state.file)


@pytest.mark.parametrize(
    "done",
    [
        {"do": "type", "typed": {"reading.nothing": "1"}},
        {"do": "type", "typed": {"reading.mount": "glue"}},
        {"do": "type", "typed": {"joint.finger": "6"}},
        {"do": "type", "typed": {"reading.finger": 9}},
        {"do": "type", "typed": ["reading.finger"]},
        {"do": "type"},
        {"do": "fly"},
    ],
)
def test_what_is_not_understood_changes_nothing(window: Window, done: dict[str, object]) -> None:
    before = window.bench.state.file.source
    window.version = window.bench.state.version
    said = window.does("/joint", **done)
    assert "could not be understood" in said or "can’t do that" in said
    assert window.bench.state.file.source == before
    assert joint_view.session_of(window.bench).typed == {}


def test_a_window_that_was_slower_types_nothing(window: Window) -> None:
    types(window, {"finger": "9.9"})
    done = {"do": "type", "typed": {"reading.finger": "9.5"}, "version": 0}
    window.client.post("/joint", json=done, headers=OURS)
    assert joint_view.session_of(window.bench).typed == {"finger": "9.9"}


READ = st.sampled_from(["finger", "socket", "flush_high", "flush_low", "proud", "slack", "error"])


@given(typed=st.dictionaries(READ, st.one_of(st.text(max_size=12), st.floats(-50, 50).map(str))))
def test_whatever_is_typed_the_page_answers(tmp_path_factory: pytest.TempPathFactory, typed: dict[str, str]) -> None:
    window = window_of(tmp_path_factory.mktemp("typed") / "box.toml", METRIC)
    assert types(window, typed).get_element_by_id("headline") is not None


# -- joint after joint ---------------------------------------------------------------------------------------------


def test_one_joint_after_another_is_listed(window: Window) -> None:
    page = types(window, {"finger": "9.97", "socket": "10", "flush_high": ".26", "flush_low": ".22", "error": "0.01"})
    assert words(page.get_element_by_id("next-joint")) == "Both done: type test joint 2"
    window.version = window.bench.state.version
    window.does("/joint", do="next-joint")
    page = page_of(window)
    assert [words(row) for row in page.xpath("//section[@id='so-far']//tbody/tr")] == [
        "1 0.03 0.24 key 0.07 nearer, 0.28 off the spacer",
        "good 0.05 to 0.15 0.15 at most",
    ]
    assert page.get_element_by_id("reading-finger").get("value") == ""
    assert page.get_element_by_id("reading-error").get("value") == "0.01"  # the callipers are the same
    assert "Test joint 2." in words(page)
    window.does("/joint", do="last-joint")
    assert page_of(window).get_element_by_id("reading-finger").get("value") == "9.97"


def test_other_units_begin_anew(window: Window) -> None:
    types(window, {"finger": "9.97", "socket": "10"})
    window.bench.state.make(lambda file: make.box(INCH, "box.toml"))
    assert joint_view.session_of(window.bench).typed == {}
    assert page_of(window).get_element_by_id("reading-finger").get("value") == ""


def test_nothing_is_written(window: Window, path: Path) -> None:
    before = path.read_bytes()
    types(window, TJ1)
    window.version = window.bench.state.version
    window.does("/joint", do="next-joint")
    window.get("/joint/page.pdf")
    assert list(path.parent.iterdir()) == [path]
    assert path.read_bytes() == before


def does(window: Window, done: str) -> Any:
    sent = {"do": done, "version": window.bench.state.version}
    answer = window.client.post("/joint", json=sent, headers=OURS)
    assert answer.status_code == 200
    return html.fromstring(answer.get_data(as_text=True))


def test_only_what_was_done_here_is_taken_back(window: Window) -> None:
    window.types(joint__proud="0.4")
    page = page_of(window)
    assert page.get_element_by_id("undo").get("aria-disabled") == "true"
    does(window, "undo")
    page = types(window, {"finger": "9.97", "socket": "10"})
    assert page.get_element_by_id("undo").get("aria-disabled") is None
    page = does(window, "undo")
    assert page.get_element_by_id("reading-socket").get("value") == ""
    moved = [words(one) for one in page.xpath("//div[@id='moved']//dl/div[not(@class)]")]
    assert moved[0] == "B, socket was 10 → now –"
    page = does(window, "redo")
    assert page.get_element_by_id("reading-socket").get("value") == "10"
    assert page.get_element_by_id("redo").get("aria-disabled") == "true"
    assert window.bench.state.file.joint.proud == pytest.approx(0.4)


def test_a_joint_that_was_begun_is_taken_back_with_its_readings(window: Window) -> None:
    types(window, {"finger": "9.97", "socket": "10", "mount": "screwed plate"})
    does(window, "next-joint")
    page = does(window, "undo")
    assert words(page.get_element_by_id("told")) == "This is test joint 1 again, as you typed it."
    assert page.get_element_by_id("reading-finger").get("value") == "9.97"
    assert joint_view.session_of(window.bench).mount == "screwed plate"
    page = does(window, "redo")
    assert words(page.get_element_by_id("told")) == "This is test joint 2 again, as you typed it."
    assert page.get_element_by_id("reading-finger").get("value") == ""
    types(window, {"finger": "9.9"})
    assert does(window, "redo").get_element_by_id("reading-finger").get("value") == "9.9"


# -- what is said where wood would be taken off, and after a good joint ------------------------------------------------


def test_nothing_is_planed_before_all_is_read(window: Window) -> None:
    page = types(window, {"finger": "9.97", "socket": "10.02"})
    planes = [step for step in steps_of(page) if "plane 0.03 mm off the spacer" in step]
    assert planes == [
        "Read C to F before you plane, as they can change this; then plane 0.03 mm off the spacer, by callipers."
    ]
    page = types(window, {"flush_high": ".2", "flush_low": ".15"})
    assert "Plane 0.20 mm off the spacer, by callipers." in steps_of(page)


@pytest.mark.parametrize(("mount", "what"), [("clamped plate", "the plate"), ("pivot", "the sled’s free end")])
def test_how_something_is_moved_by_a_feeler_is_said_once_for_all(window: Window, mount: str, what: str) -> None:
    typed = {"finger": "9.97", "socket": "10.02", "mount": mount, "to_key": "150", "to_nudge": "300"}
    (step,) = (one for one in steps_of(types(window, typed)) if one.startswith(("Move", "Nudge")))
    assert step.endswith(
        f"by feeler gauge. Clamp a stop on the side that {what} is to move to, with the feeler between. Loosen {what}, "
        f"take the feeler out, push {what} against the stop and tighten it."
    )


GOOD = {"finger": "9.92", "socket": "10.02", "flush_high": ".06", "flush_low": "-.04", "proud": ".31", "slack": ".1"}


def test_what_is_left_alone_is_a_remark(window: Window) -> None:
    page = types(window, {**GOOD, "finger": "9.9"})
    assert page.xpath("//div[@id='beside']//div[starts-with(@class, 'told')]") == []
    left = page.get_element_by_id("left-alone")
    assert [words(one)[:26] for one in left.findall("p")] == [
        "The gap stays as it is: a ", "The spacer stays as it is:", "The height of the cutter s"
    ]  # fmt: skip
    assert left.get("open") is None


def test_a_good_joint_leads_on_to_the_cut(window: Window) -> None:
    page = types(window, {"finger": "9.92", "socket": "10.02"})
    assert words(page.get_element_by_id("unread")) == "Read C, D, E and F before you cut."
    page = types(window, GOOD)
    on = page.get_element_by_id("way-on")
    cards = make.page_names_of_box(window.bench.state.file, ("sled",))
    number = next(number for name, number, _ in cards if name == "cut-fingers")
    assert words(on) == f"Now cut the joints: card {number}"
    assert window.get(on.get("href").partition("#")[0]).status_code == 200
    said = words(page.get_element_by_id("beside"))
    assert "Then expect" not in said
    assert "then 0." not in said
    assert [words(one) for one in page.xpath("//section[@id='so-far']//tbody/tr[1]/td")] == ["0.10", "0.01", "nothing"]
    assert page.xpath("//a[@href='/joint/steps.pdf']") == []
    page = types(window, {"finger": "9.98"})
    assert page.xpath("//a[@id='way-on']") == []


def test_readings_are_called_as_on_the_card(window: Window) -> None:
    page = page_of(window)
    rows = make.readings_of(window.bench.state.file)
    labels = [words(one) for one in page.xpath("//div[@class='readings']//label")]
    assert labels == [f"{row.letter} {row.what}" for row in rows]


def test_the_page_of_the_test_joint_is_the_box_s_own_card(window: Window) -> None:
    file, printing = window.bench.state.file, make.Printing(formats=("pdf",))
    number = next(number for name, number, _ in make.page_names_of_box(file, ("sled",)) if name == "set-sled")
    made, pack = make.joint_sheet(file, printing), make.draw(file, (), printing)
    assert made.cards.sheets[0].title == f"Card {number}: Set the sled"
    assert made.marks == {name: mark for name, mark in pack.marks.items() if "set-sled" in name}
    text = PdfReader(io.BytesIO(window.get("/joint/page.pdf").get_data())).pages[0].extract_text()
    assert file.title in text


def test_the_steps_have_no_number_of_a_card(window: Window) -> None:
    types(window, TJ1)
    text = PdfReader(io.BytesIO(window.get("/joint/steps.pdf").get_data())).pages[0].extract_text()
    assert re.match(r"\s*J1\b", text) or "\nJ1\n" in f"\n{text}"
    assert re.search(r"^Card 1\b", text, re.M) is None


def test_what_is_printed(window: Window) -> None:
    page = types(window, TJ1)
    sheet = window.get("/joint/page.pdf")
    printing = make.Printing(formats=("pdf",))
    assert sheet.get_data() == next(iter(make.joint_sheet(window.bench.state.file, printing).files.values()))
    text = " ".join(
        part.extract_text() for part in PdfReader(io.BytesIO(window.get("/joint/steps.pdf").get_data())).pages
    )
    flat = " ".join(text.split())
    for step in steps_of(page):
        assert step in flat
    assert window.get("/joint/other.pdf").status_code == 404


# -- the pictures measure what the numbers say ---------------------------------------------------------------------


def parts_of(svg: bytes) -> dict[str, list[svgelements.Path]]:
    """Return the outlines of every part of a picture by its name, in its own axes, longest first."""
    found: dict[str, list[svgelements.Path]] = {}
    for group in etree.fromstring(svg).iter("{http://www.w3.org/2000/svg}g"):
        shapes = [svgelements.Path(one.get("d")) for one in group.findall("{http://www.w3.org/2000/svg}path")]
        found[str(group.get("id"))] = [svgelements.Path(sub) for shape in shapes for sub in shape.as_subpaths()]
    return found


def box_of(svg: bytes, name: str) -> tuple[float, float, float, float]:
    """Return the box round the closed outlines of a part."""
    parts = parts_of(svg)
    paths = next(paths for group, paths in parts.items() if group.endswith(f"-{name}"))
    boxes = [path.bbox() for path in paths if path.d().rstrip().lower().endswith("z")]
    return (min(b[0] for b in boxes), min(b[1] for b in boxes), max(b[2] for b in boxes), max(b[3] for b in boxes))


def edges_across(svg: bytes, name: str) -> list[float]:
    """Return where the sides of fingers stand across a board, from the reference edge on."""
    paths = next(paths for group, paths in parts_of(svg).items() if group.endswith(f"-{name}"))
    whole = paths[0]
    return sorted({round(float(point.x), 3) for point in whole.as_points()})


def sleds() -> Iterator[tuple[JigSettings, float]]:
    for finger, cutter, thick in ((10, 10.02, 12), (6, 6.03, 9), (20, 20.05, 15)):
        words = {"finger": str(finger), "cutter": str(cutter), "board": "92", "thickness": str(thick)}
        yield make.jig("sled", words, "mm"), cutter


@DRAWN.of()
@pytest.mark.parametrize(("job", "socket"), list(sleds()))
def test_fingers_and_sockets_are_drawn_in_their_proportions(job: JigSettings, socket: float) -> None:
    finger = socket - 0.1
    pictures = make.reading_pictures(job)
    sides = edges_across(pictures["finger"].svg, "front")
    scale = (sides[3] - sides[1]) / (finger + socket)
    assert sides[1] - sides[0] == pytest.approx(finger * scale, abs=0.003)
    assert sides[2] - sides[1] == pytest.approx(socket * scale, abs=0.003)
    jaws = [box_of(pictures["finger"].svg, f"jaw-{side}") for side in ("left", "right")]
    assert jaws[1][0] - jaws[0][2] == pytest.approx(finger * scale, abs=0.003)
    inside = [box_of(pictures["socket"].svg, f"jaw-{side}") for side in ("left", "right")]
    sides = edges_across(pictures["socket"].svg, "end")
    scale = (sides[3] - sides[1]) / (finger + socket)
    assert inside[1][2] - inside[0][0] == pytest.approx(socket * scale, abs=0.003)


@DRAWN.of()
@pytest.mark.parametrize(("job", "socket"), list(sleds()))
def test_what_is_drawn_too_large_is_as_much_too_large_as_is_said(job: JigSettings, socket: float) -> None:
    pictures = make.reading_pictures(job)

    def times(name: str) -> int:
        return int(re.search(r"drawn (\d+) times", pictures[name].drawn)[1])  # type: ignore[index]

    play = pictures["slack"].svg
    key, feeler = box_of(play, "key"), box_of(play, "feeler")
    scale = (feeler[2] - key[0]) / socket
    assert feeler[2] - feeler[0] == pytest.approx(0.1 * times("slack") * scale, abs=0.003)
    for name, share in (("flush_high", 0.5), ("flush_low", -0.5)):
        svg = pictures[name].svg
        finger, end = box_of(svg, "finger-1"), box_of(svg, "end")
        pitch = box_of(svg, "finger-0")[3] - finger[3]
        first = box_of(svg, "finger-0")
        scale = (finger[3] - finger[1]) / (socket - 0.1 * times(name))
        assert pitch > 0
        assert first[3] - end[3] == pytest.approx(share * 0.1 * times(name) * scale, abs=0.003)


@DRAWN.of()
@given(
    finger=st.floats(9.6, 9.87), flush=st.floats(-0.4, 0.4), mount=st.sampled_from(["clamped plate", "screwed plate"])
)
def test_amounts_are_drawn_as_large_as_is_said(finger: float, flush: float, mount: Any) -> None:
    job = next(sleds())[0]
    half = (10.02 - finger) / 2
    readings = Readings(finger, 10.02, None, flush + half, flush - half, 0.3 + flush, 0.1)
    found = make.tuned(job, readings, mount)
    for remedy, picture in zip(found.remedies, make.remedy_pictures(job, found), strict=True):
        said = "".join(map(str, etree.fromstring(picture.svg).itertext()))
        assert f"{remedy.amount:.2f}" in said
        times = int((re.search(r"drawn (\d+) times", picture.drawn) or ["", "1"])[1])
        large = remedy.amount * times
        if remedy.part == "plate":
            key, old = box_of(picture.svg, "key"), box_of(picture.svg, "key-now")
            scale = (key[2] - key[0]) / 9.92
            assert abs(old[0] - key[0]) == pytest.approx(large * scale, abs=0.005)
        elif remedy.part in ("key", "spacer"):
            strip = box_of(picture.svg, "shim" if remedy.action == "shim" else "off")
            bare = box_of(picture.svg, "key")
            width = 9.92 - (large if remedy.part == "key" and remedy.action == "shim" else 0.0)
            assert strip[2] - strip[0] == pytest.approx(large * (bare[2] - bare[0]) / width, abs=0.005)
        else:
            new, old = box_of(picture.svg, "cutter"), box_of(picture.svg, "cutter-now")
            scale = (new[2] - new[0]) / 10.02
            assert abs(new[1] - old[1]) == pytest.approx(large * scale, abs=0.005)


def test_the_scales_stand_at_their_numbers(window: Window) -> None:
    page = types(window, {"finger": "9.96", "socket": "10", "flush_high": ".26", "flush_low": ".22"})
    for scale, now, then, good in (("scale-1", 0.04, 0.10, (0.05, 0.15)), ("scale-2", 0.24, 0.0, (0.0, 0.15))):
        svg = page.get_element_by_id(scale).find("svg")
        ticks = {one.text: float(one.get("x")) for one in svg.findall("text") if one.get("class") is None}
        (zero, *_), numbers = ticks.values(), [float(word) for word in ticks]
        unit = (max(ticks.values()) - zero) / max(numbers)
        for word, place in ticks.items():
            assert place == pytest.approx(zero + unit * float(word), abs=0.02)
        marks = {one.get("class"): float(one.get("x")) for one in svg.findall("text") if one.get("class")}
        assert marks["now"] == pytest.approx(zero + unit * now, abs=0.02)
        assert marks["then"] == pytest.approx(zero + unit * then, abs=0.02)
        bar = re.match(r"M([\d.]+) 58H([\d.]+)", svg.xpath("path[@class='good']/@d")[0])
        assert bar is not None
        assert [float(one) for one in bar.groups()] == pytest.approx([zero + unit * one for one in good], abs=0.02)
        assert f"now {now:.2f}, then {then:.2f}" in svg.get("aria-label")


# -- in a browser --------------------------------------------------------------------------------------------------


@pytest.fixture(scope="module")
def live(chromium: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Served]:
    path = tmp_path_factory.mktemp("joint") / "box.toml"
    path.write_text(METRIC)
    with served(path, chromium) as found:
        yield found


@pytest.mark.slow
def test_a_phone_shows_the_verdict_where_it_reads(live: Served) -> None:
    """At 360 px the steps stand far below: the head, a link under the heading and the strip say how it stands."""
    live.bench.beside.clear()
    page = live.open("/joint", 360)
    for name, typed in (("finger", "9.97"), ("socket", "10.02")):
        page.locator(f"#reading-{name}").fill(typed)
        page.keyboard.press("Tab")
        settled(page)
    said = page.locator("#headline").inner_text()
    assert said in page.locator("#verdict").inner_text()
    links = page.locator(".below a:visible")
    assert links.all_inner_texts() == [said, said]
    assert page.locator("#strip .below").is_visible()
    links.first.click()
    page.locator("#headline").wait_for()
    assert 0 <= page.locator("#beside").bounding_box()["y"] < 200  # type: ignore[index]
    for part in ("#field-finger", "#beside ol"):
        box = page.locator(part).bounding_box()
        assert box is not None
        assert box["x"] >= 12
        assert box["x"] + box["width"] <= 360 - 12
    page.context.close()


@pytest.mark.slow
def test_ctrl_y_does_again_what_ctrl_z_took_back(live: Served) -> None:
    live.bench.beside.clear()
    before = live.bench.state.file.source
    page = live.open("/joint", 1280)
    page.locator("#reading-finger").fill("9.97")
    page.keyboard.press("Enter")
    settled(page)
    for keys, held in (("z", ""), ("y", "9.97"), ("z", ""), ("Shift+z", "9.97")):
        page.keyboard.press(f"Control+{keys}")
        settled(page)
        assert page.locator("#reading-finger").input_value() == held
    assert live.bench.state.file.source == before
    page.context.close()


@pytest.mark.slow
@pytest.mark.parametrize("width", [360, 1280])
def test_a_joint_is_typed_by_keyboard_alone(live: Served, width: int) -> None:
    live.bench.beside.clear()
    page = live.open("/joint", width)
    for name, typed in (("finger", "9.97"), ("socket", "10,02"), ("flush_high", ".18"), ("flush_low", ".13")):
        tab_to(page, f"reading-{name}")
        page.keyboard.type(typed)
    page.keyboard.press("Enter")
    settled(page)
    assert page.evaluate("document.activeElement.id") == "reading-flush_low"
    page.locator("#headline", has_text="move two things").wait_for()
    assert page.locator(".steps li").count() == 2
    tab_to(page, "mount-1")
    page.keyboard.press("ArrowDown")
    settled(page)
    page.locator(".steps", has_text="Stick a shim of 0.05 mm").wait_for()
    assert page.evaluate("document.activeElement.id") == "mount-2"
    assert fits(page)
    tab_to(page, "next-joint")
    page.keyboard.press("Enter")
    settled(page)
    page.locator("#so-far tbody tr", has_text="shim 0.05 on the near face").wait_for()
    assert page.evaluate("document.activeElement.id") == "reading-finger"
    assert live.said == []
    page.context.close()


@pytest.mark.slow
@pytest.mark.parametrize("width", [360, 1280])
@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(live: Served, width: int, scheme: Any) -> None:
    live.bench.beside.clear()
    page = live.open("/joint", width, scheme)
    for name, typed in (("finger", "9.9"), ("socket", "10"), ("flush_high", ".6"), ("proud", "2.3"), ("slack", "x")):
        page.locator(f"#reading-{name}").fill(typed)
        page.keyboard.press("Tab")
        settled(page)
    assert axe(page) == []
    page.locator("#reading-slack").fill("")
    page.locator("#reading-flush_high").fill("")
    page.keyboard.press("Tab")
    settled(page)
    page.locator(".steps li").first.wait_for()
    assert axe(page) == []
    page.context.close()
