"""Every jig on the bench: its form, what it says of every setting, the pages that it shows, what can be undone."""

from __future__ import annotations

import io
import json
import os
import socket
import threading
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from playwright.sync_api import Page, expect, sync_playwright
from pypdf import PdfReader
from waitress.server import create_server

import cli
from jigs.base.catalogue import Jig, catalogue, find
from jigs.base.kinds import Choice, Count, Flag, KnownWood, Number
from jigs.base.settings import Setting
from jigs.box import chain, for_jigs
from jigs.boxfile import jig_file
from jigs.boxfile.jig_file import JigSettings
from layout import catalogue as book
from layout import make
from layout.bench import fields, jig_form, pages
from layout.bench.guard import Guard
from layout.bench.jig_form import JigForm
from layout.bench.kept import Kept
from layout.bench.page import Bench
from layout.bench.server import make_app
from layout.bench.state import State
from layout.printer import kept as printer_kept
from layout.printer.correction import Distortion
from layout.printer.kept import Printer
from tests.conftest import examples, needs
from tests.on_bench import Client, Said

NAMES = sorted(catalogue())
UNITS = ("mm", "in")
SAMPLE = Path(__file__).parent.parent / "samples" / "recipe-box.toml"


@pytest.fixture
def client(tmp_path: Path) -> Client:
    path = tmp_path / "box.toml"
    path.write_bytes(SAMPLE.read_bytes())
    return Client.at(path)


@pytest.fixture(scope="module")
def anew(tmp_path_factory: pytest.TempPathFactory) -> Callable[[], Client]:
    """Return what opens a bench at a box file of its own."""

    def opened() -> Client:
        path = tmp_path_factory.mktemp("bench") / "box.toml"
        path.write_bytes(SAMPLE.read_bytes())
        return Client.at(path)

    return opened


def key_of(jig: Jig, setting: Setting) -> str:
    return f"{make.section_of_jig(jig.name) or jig.name}.{setting.name}"


def problem_of(page: Said, key: str) -> str:
    return page.words(f"field-set-{key.replace('.', '-')}")


# -- all of them


def test_every_jig_is_listed_with_what_it_does_and_a_sketch(client: Client) -> None:
    page = client.see("/jigs")
    for jig in catalogue().values():
        ((_, said),) = page.all("a", href=f"/jigs/{jig.name}")
        assert jig.title in said
        assert jig.summary[1:] in said
    assert len(page.all("svg")) == len(NAMES)
    assert [said for _, said in page.all("h2")] == [
        "For the parts of a box",
        "For more work on a box, and for anything else",
    ]


def test_a_jig_that_there_is_not_is_named_with_those_near_it(client: Client) -> None:
    answer = client.get("/jigs/sledd")
    assert answer.status_code == 404
    assert (
        "There is no jig called &#39;sledd&#39;; did you mean &#39;sled&#39; or &#39;sliding-lid&#39;?" in answer.text
    )
    assert client.get("/jigs/%3Cscript%3E").status_code == 404
    assert client.get("/jigs/sled/print/passwd").status_code == 404


@pytest.mark.parametrize("name", NAMES)
def test_a_form_is_a_real_jig_at_once(client: Client, name: str) -> None:
    """It holds the sizes of the box, else the values of the example, can be built, and has every setting."""
    jig, page = find(name), client.see(f"/jigs/{name}")
    assert page.words("title") == jig.title
    assert page.words("verdict").startswith("Can be built.")
    example = make.jig_from_box(JigForm.of(jig).job, client.bench.state.file).given
    for setting in jig.parameters:
        shown = page.field(key_of(jig, setting))
        if setting.name in example and not isinstance(setting.kind, Flag):
            assert shown["value"] == fields.typed(setting.kind, example[setting.name], "mm")
    keys = [attributes["data-key"] for attributes, _ in page.all() if "data-key" in attributes]
    order = list(dict.fromkeys(keys))
    required = {key_of(jig, setting) for setting in jig.parameters if setting.required}
    assert order[0] == "units"
    assert required <= set(order[1 : 1 + len(required | {key_of(jig, s) for s in jig.parameters if s.name in example})])


# -- every setting of every jig


def within(setting: Setting, now: object, units: Any) -> str:
    """Return another value within the limits of a setting, as it is typed."""
    kind = setting.kind
    match kind:
        case Choice(options=options):
            return next(option for option in options if option != now)
        case Flag():
            return "no" if now is True else "yes"
        case KnownWood():
            return "white oak" if now != "white oak" else "sugar maple"
        case Count():
            return str(int(kind.least) + (1 if now == kind.least else 0))
        case Number():
            middle = kind.least + (kind.most - kind.least) * 0.37
            return fields.typed(kind, round(middle, 1), units)
    raise AssertionError(f"no value is known for {kind}")


def beyond(setting: Setting, units: Any) -> tuple[str, str]:
    """Return what a setting can't be, and words of what is said of it."""
    kind = setting.kind
    match kind:
        case Choice(options=options):
            return "sideways", options[0]
        case Flag():
            return "perhaps", "can't be read"
        case KnownWood():
            return "cheese", "is not in the table of woods"
        case Number():
            return fields.typed(kind, type(kind.most)(kind.most * 2 + 10), units), "must be from"
    raise AssertionError(f"no value is known for {kind}")


FEW = ("cradle", "mitre", "seasons", "taper", "trammel")
"""Jigs of few settings of every kind: what a quick run changes one by one."""


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("name", [one if one in FEW else pytest.param(one, marks=pytest.mark.slow) for one in NAMES])
def test_each_setting_is_changed_within_its_limits_and_refused_beyond(client: Client, name: str, units: Any) -> None:
    """A value beyond is said at its field, with the limits, and a button that types the nearest that is taken."""
    jig, address = find(name), f"/jigs/{name}"
    client.type(address, {"units": units})
    form = jig_form.on(client.bench.beside, jig)
    for setting in jig.parameters:
        key = key_of(jig, setting)
        before = form.job
        typed = within(setting, before.given.get(setting.name, setting.default_in(units)), units)
        page = client.type(address, {key: typed})
        assert setting.name not in form.refused, problem_of(page, key)
        assert form.job.units == units
        kept = form.job.given.get(setting.name, False)
        assert kept == setting.kind.parsed(typed, units), (key, typed)
        assert page.words("verdict").startswith(("Can be built.", "Can’t be built yet:"))
        client.do(address, "undo")
        assert form.job == before

        wrong, said = beyond(setting, units)
        page = client.type(address, {key: wrong})
        assert form.job == before, f"{key} {wrong} was taken"
        assert said in problem_of(page, key)
        assert "Error" in problem_of(page, key)
        if not isinstance(setting.kind, Choice | Flag):
            shown = page.field(key)
            assert shown["value"] == wrong
            assert shown["aria-invalid"] == "true"
        if isinstance(setting.kind, Number):
            assert "The nearest that works is" in problem_of(page, key)
            buttons = [json.loads(one["data-typed"] or "") for one, _ in page.all("button", data_do="type")]
            nearest = next(one for one in buttons if key in one)
            page = client.type(address, nearest)
            assert setting.name not in form.refused, problem_of(page, key)
            assert setting.kind.holds(float(form.job.given[setting.name] or 0))
            client.do(address, "undo")
        form.refused.clear()


def test_a_rule_between_settings_offers_ways_that_work(client: Client) -> None:
    page = client.type("/jigs/taper", {"taper.narrow": "50"})
    assert page.words("verdict").startswith("Can’t be built yet: 1 error.")
    said = problem_of(page, "taper.narrow")
    assert "A narrow end of 50 mm is no narrower than the wide end of 40 mm." in said
    ways = [(words, json.loads(one["data-typed"] or "")) for one, words in page.all("button", data_do="type")]
    assert ways == [
        ("Set narrow to 39.99 mm", {"taper.narrow": "39.99 mm"}),
        ("Set wide to 50.01 mm", {"taper.wide": "50.01 mm"}),
    ]
    assert "Its pages wait" in client.get("/jigs/taper/pages").text
    answer = client.get("/jigs/taper/print/templates.pdf")
    assert answer.status_code == 409
    assert "no narrower" in answer.text
    for _, typed in ways:
        assert client.type("/jigs/taper", typed).words("verdict").startswith("Can be built.")
        client.do("/jigs/taper", "undo")


def test_a_warning_stands_at_its_setting_and_stops_nothing(client: Client) -> None:
    page = client.type("/jigs/taper", {"taper.length": "40"})
    assert page.words("verdict").startswith("Can be built.")
    assert "DANGER The blade may lift the board from the sled" in problem_of(page, "taper.narrow")


def test_what_is_needed_cannot_be_left_empty(client: Client) -> None:
    page = client.type("/jigs/taper", {"taper.wide": " "})
    assert "The jig can't be worked out without it." in problem_of(page, "taper.wide")
    page = client.type("/jigs/taper", {"taper.thickness": ""})
    assert page.field("taper.thickness")["placeholder"] == "20"


def test_a_change_is_said_with_what_follows_and_undone_and_redone(client: Client) -> None:
    client.type("/jigs/taper", {"taper.wide": "44"})
    page = client.type("/jigs/taper", {"taper.length": "500"})
    assert "Lengthwas 400 mm → now 500 mm" in page.words("moved")
    assert "Taper’s lengthwas 400 → now 500" in page.words("moved")
    page = client.do("/jigs/taper", "undo")
    assert page.field("taper.length")["value"] == "400"
    page = client.do("/jigs/taper", "undo")
    assert page.field("taper.wide")["value"] == "40"
    assert client.do("/jigs/taper", "undo").field("taper.wide")["value"] == "40"
    page = client.do("/jigs/taper", "redo")
    assert page.field("taper.wide")["value"] == "44"
    page = client.do("/jigs/taper", "example")
    assert page.field("taper.wide")["value"] == "40"
    assert client.do("/jigs/taper", "undo").field("taper.wide")["value"] == "44"


def test_units_are_changed_to_what_a_shop_in_inches_would_choose(client: Client) -> None:
    page = client.type("/jigs/sled", {"units": "in"})
    assert page.field("units")["value"] == "in"
    assert page.field("joint.finger")["value"] == "3/8"
    page = client.type("/jigs/sled", {"joint.finger": "1/2"})
    assert page.field("joint.finger")["value"] == "1/2"


def test_each_jig_has_an_undo_of_its_own_and_the_box_is_left_alone(client: Client) -> None:
    before = client.bench.state.file.source, client.bench.state.version
    client.type("/jigs/taper", {"taper.wide": "44"})
    client.type("/jigs/sled", {"joint.finger": "12"})
    assert client.do("/jigs/sled", "undo").field("joint.finger")["value"] == "10"
    assert client.see("/jigs/taper").field("taper.wide")["value"] == "44"
    assert (client.bench.state.file.source, client.bench.state.version) == before


@pytest.mark.parametrize(
    ("name", "typed", "key"),
    [
        ("sled", {"joint.clearance": "0.14"}, "joint.clearance"),
        ("lid", {"lid.overhang": "8"}, "lid.overhang"),
        ("handle", {"handle.crest": "7"}, "handle.crest"),
        ("shell", {"shell.lobes": "5"}, "shell.lobes"),
        ("stops", {"groove.depth": "5"}, "groove.depth"),
        ("panel", {"bottom.clearance": "1.1"}, "bottom.clearance"),
    ],
)
def test_a_jig_of_a_part_is_taken_into_the_box_and_can_be_undone(
    client: Client, name: str, typed: dict[str, str], key: str
) -> None:
    client.type(f"/jigs/{name}", typed)
    state = client.bench.state
    before = state.file.source
    answer = client.post(f"/jigs/{name}", {"do": "into-box", "version": state.version})
    assert answer.status_code == 303, answer.text
    section, last = key.split(".")
    assert getattr(getattr(state.file, section), last) == float(typed[key])
    assert client.see(answer.headers["Location"]).words("stick")
    client.do(answer.headers["Location"], "undo")
    assert state.file.source == before


def test_what_belongs_to_no_part_is_not_taken_into_the_box(client: Client) -> None:
    assert not client.see("/jigs/taper").all("button", data_do="into-box")
    page = client.do("/jigs/taper", "into-box")
    assert page.words("told") == "the Taper sled belongs to no one part of a box"
    page = client.do("/jigs/sled", "into-box", version=-1)
    assert "changed in another window" in page.words("told")


# -- the box beside it


def test_dividers_begin_with_the_inside_of_the_box_and_follow_it(client: Client) -> None:
    """They opened with the example, which was another box's."""
    client.type("/box/wood", {"box.length": "190"})
    page = client.see("/jigs/dividers")
    assert page.field("dividers.length")["value"] == "166"
    assert page.words("of-box").startswith("It has the sizes of your box")
    client.type("/box/wood", {"box.length": "195"})
    assert client.see("/jigs/dividers").field("dividers.length")["value"] == "171"
    client.type("/jigs/dividers", {"dividers.height": "50"})
    client.type("/box/wood", {"box.length": "200"})
    page = client.see("/jigs/dividers")
    assert page.field("dividers.length")["value"] == "171"  # what was changed is left alone
    assert page.all("button", data_do="from-box")
    page = client.do("/jigs/dividers", "from-box")
    assert (page.field("dividers.length")["value"], page.field("dividers.height")["value"]) == ("176", "50")
    assert not page.all("button", data_do="from-box")
    assert client.do("/jigs/dividers", "undo").field("dividers.length")["value"] == "171"


def test_dividers_that_are_higher_than_the_box_is_deep_are_warned_of(client: Client) -> None:
    page = client.type("/jigs/dividers", {"dividers.height": "80"})
    said = "WARNING A height of 80 mm does not go into your box, which has room for 63.78 mm."
    assert said in problem_of(page, "dividers.height")
    (button,) = [one for one, words in page.all("button", data_do="type") if words.startswith("Set height")]
    page = client.type("/jigs/dividers", json.loads(button["data-typed"] or ""))
    assert "WARNING" not in problem_of(page, "dividers.height")


WITH_A_BOX = [name for name in NAMES if find(name).from_box]


@pytest.mark.parametrize("units", UNITS)
@pytest.mark.parametrize("name", WITH_A_BOX)
def test_a_jig_takes_the_sizes_of_a_box_and_works_out_what_the_box_does(name: str, units: Any) -> None:
    """Places that a jig names are there, its own limits are kept, and its numbers are those of the box."""
    text = (SAMPLE.parent / ("recipe-box.toml" if units == "mm" else "recipe-box-inch.toml")).read_text()
    file = make.box(text, "box.toml")
    jig = find(name)
    job = jig_form.from_box(JigForm.of(jig).job, file)
    assert job.units == units
    given = for_jigs.settings(jig, chain.work_out(file))
    assert given
    for setting, value in given.items():
        if isinstance(value, float):
            kept = job.chosen(jig).get(setting)
            assert kept is not None
            assert float(kept) == pytest.approx(value, abs=0.006 if units == "mm" else 0.013), setting
    assert not [one for one in make.look_at_jig(job).problems if one.severity == "stop"]
    assert jig_form.from_box(job, file) == job
    numbers, box = jig.plan(job.chosen(jig), units).numbers, chain.as_data(chain.work_out(file))
    same = {
        "sled": [("gap", "sled.gap"), ("spacer", "sled.spacer"), ("count", "fingers.count")],
        "stops": [("fence", "groove.fence")],
        "panel": [("length", "bottom.length"), ("width", "bottom.width")],
        "lid": [("length", "lid.length"), ("plug_length", "lid.plug_length"), ("plug_width", "lid.plug_width")],
        "handle": [("blank_length", "handle.blank_length")],
        "shell": [("lobe_radius", "shell.lobe_radius")],
    }
    for own, place in same.get(name, ()):
        section, _, key = place.partition(".")
        assert numbers[own] == pytest.approx(box[section][key], abs=0.02), own


def test_a_jig_without_a_part_in_the_box_begins_with_its_example(client: Client) -> None:
    client.do("/box/lid", "drop-part", part="handle")
    client.do("/box/lid", "drop-part", part="lid")
    page = client.see("/jigs/lid")
    assert page.words("of-box") == ""
    assert page.field("lid.along")["value"] == "216"
    assert not client.see("/jigs/taper").all("button", data_do="from-box")


def test_a_jig_is_printed_as_the_box_is(client: Client, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("layout.printer.kept.folder", lambda: client.bench.state.kept.copy.parent / "settings")
    page = client.see("/jigs/dividers")
    assert "Printed as your box is: on A4, for no printer of which the errors are known." in page.words("files")
    client.type("/box/print", {"print.printer": "Attic", "print.paper": "Letter"})
    assert "Attic" in client.see("/jigs/dividers").words("files")
    assert client.get("/jigs/dividers/print/templates.pdf").status_code == 409  # nobody measured it here
    printer_kept.keep(Printer("Attic", Distortion(0.996, 1.003, 0.1)))
    assert "Printed as your box is: on Letter, corrected for Attic" in client.see("/jigs/dividers").words("files")
    answer = client.get("/jigs/dividers/print/templates.pdf")
    text = " ".join(page.extract_text() for page in PdfReader(io.BytesIO(answer.data)).pages)
    assert "Attic" in text
    assert "none" not in text


def test_settings_of_a_jig_are_there_again(client: Client) -> None:
    client.type("/jigs/taper", {"taper.wide": "44"})
    path = client.bench.state.kept.path
    again = Client.at(path)
    page = again.see("/jigs/taper")
    assert page.field("taper.wide")["value"] == "44"
    assert page.words("told") == "These are your settings of last time. Undo gives the example."
    again.do("/jigs/taper", "undo")
    assert not again.bench.state.kept.beside("jigs").exists()
    again.bench.state.kept.keep_beside("jigs", '{"taper": "x')
    assert Client.at(path).see("/jigs/taper").field("taper.wide")["value"] == "40"


def test_a_setting_that_a_card_says_again_is_said_once(client: Client) -> None:
    page = client.type("/jigs/dividers", {"dividers.height": "55"})
    names = [words for _, words in page.all("dt")]
    assert names.count("Height") == 1


# -- its pages


@pytest.mark.parametrize("name", NAMES)
def test_the_pages_shown_are_those_that_the_command_writes(client: Client, name: str, tmp_path: Path) -> None:
    jig = find(name)
    done = CliRunner().invoke(
        cli.main,
        ["jig", name, *_example(jig), "--format", "svg", "--format", "pdf", "--format", "dxf", "-o", str(tmp_path)],
    )
    assert done.exit_code == 0, done.output
    written = {path.name: path.read_bytes() for path in tmp_path.glob(f"{name}-*.svg")}
    assert written
    client.do(f"/jigs/{name}", "example")
    shown = Said(client.get(f"/jigs/{name}/pages").text)
    seen = set[str]()
    for leaf in [attributes["data-page"] or "" for attributes, _ in shown.all("a") if "data-page" in attributes]:
        text = client.get(f"/jigs/{name}/pages?page={leaf}").text
        sides = [f"{name}-{leaf}{side}.svg" for side in ("", "-back") if f"{name}-{leaf}{side}.svg" in written]
        for side in sides:
            assert str(pages.inline(written[side])) in text
        assert text.count('class="sheet"') == len(sides)
        seen |= set(sides)
    assert seen == set(written)
    for kind in ("cards", "templates"):
        path = tmp_path / f"{name}-{kind}.pdf"
        answer = client.get(f"/jigs/{name}/print/{kind}.pdf")
        assert (answer.data == path.read_bytes()) if path.exists() else (answer.status_code == 409)
    cut = {path.name: path.read_bytes() for path in tmp_path.glob("*.dxf")}
    packed = zipfile.ZipFile(io.BytesIO(client.get(f"/jigs/{name}/print/cut-files.zip").data))
    assert {one: packed.read(one) for one in packed.namelist()} == cut


FORMATS = ("--format", "svg", "--format", "pdf", "--format", "dxf")


def _example(jig: Jig) -> list[str]:
    found = [(f"--{key.replace('_', '-')}", f"{value}") for key, value in book.example_settings(jig).items()]
    return [word for pair in found for word in pair]


@pytest.mark.parametrize("name", NAMES)
def test_the_jig_file_that_is_saved_reads_back(client: Client, name: str) -> None:
    answer = client.get(f"/jigs/{name}/print/jig.toml")
    assert f"{name}.toml" in answer.headers["Content-Disposition"]
    read = jig_file.read(answer.text, "jig.toml")
    assert read.given == pytest.approx(jig_form.on(client.bench.beside, find(name)).job.given)


@pytest.mark.parametrize("name", NAMES)
def test_a_sheet_of_a_jig_opens_its_page_with_its_values(client: Client, name: str) -> None:
    """Its PDF, its SVG and its jig file, dropped on the page of the box."""
    jig = find(name)
    job = JigSettings(name, "in", {**book.example_settings(jig)})
    sheets = make.draw(job, (), make.Printing(formats=("svg", "pdf"))).files
    carried = make.file_of_jig(job)
    one_of = {kind: next(file for file in sheets if file.endswith(kind)) for kind in (".svg", ".pdf")}
    for content, file in [(sheets[one], one) for one in one_of.values()] + [(carried.content, carried.name)]:
        client.bench.beside.clear()
        before = client.bench.state.file.source
        answer = client.drop("/box/wood", f"C:\\sheets\\{file}", content)
        assert (answer.status_code, answer.headers["Location"]) == (303, f"/jigs/{name}")
        page = client.see(f"/jigs/{name}")
        assert page.words("told") == f"Opened {file}. Undo takes you back to the settings before."
        assert page.field("units")["value"] == "in"
        assert jig_form.on(client.bench.beside, jig).job.given == job.given
        assert client.bench.state.file.source == before
        page = client.do(f"/jigs/{name}", "undo")
        assert page.field("units")["value"] == "mm"
        assert page.words("told") == ""


# -- anything at all


@pytest.mark.parametrize("name", ["sled", "lid", "mitre", "panel"])
@settings(max_examples=examples(16))
@given(data=st.data())
def test_whatever_is_typed_is_answered(anew: Callable[[], Client], name: str, data: st.DataObject) -> None:
    """Never a fault: what can't be taken is said at its field, and the pages are drawn or wait."""
    client, jig = anew(), find(name)
    number = st.floats(-1e4, 1e4).map(lambda value: f"{value:.3f}") | st.sampled_from(
        ["3/8", "1 1/2 in", "−4", "0", ""]
    )
    words = number | st.text(max_size=40) | st.sampled_from(["quarter", "yes", "walnut", "plywood", "inf", "9" * 50])
    keys = st.sampled_from([key_of(jig, setting) for setting in jig.parameters] + ["units", f"{name}.nothing"])
    for _ in range(data.draw(st.integers(1, 4))):
        answer = client.post(
            f"/jigs/{name}", {"do": "type", "version": 1, "typed": {data.draw(keys): data.draw(words)}}
        )
        assert answer.status_code == 200
        assert "Traceback" not in answer.text
    shown = client.get(f"/jigs/{name}/pages")
    assert shown.status_code == 200
    assert ('class="sheet"' in shown.text) == ("Can be built." in client.get(f"/jigs/{name}").text)


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.text(max_size=8),
    lambda inner: st.lists(inner, max_size=3) | st.dictionaries(st.text(max_size=8), inner, max_size=3),
    max_leaves=8,
)


DONE = ("type", "undo", "redo", "example", "into-box", "open", "save", "answer", "make", "x")


@settings(max_examples=examples(60))
@given(
    done=st.sampled_from(DONE),
    what=JSON,
)
def test_whatever_is_sent_is_answered(done: str, what: Any) -> None:
    client = Client.at(None)
    version = client.bench.state.version
    for address in ("/jigs/taper", "/jigs", "/new"):
        sent = {"do": done, "version": version, "typed": what, "name": what, "content": what}
        answer = client.post(address, sent)
        assert answer.status_code in (200, 303)
        assert client.post(address, what).status_code in (200, 303, 400, 415)


# -- in a browser


@dataclass
class Open:
    """A browser at a bench."""

    bench: Bench
    page: Page
    said: list[str]

    def to(self, address: str) -> Page:
        """Open an address of the bench, and wait for what is drawn."""
        self.page.goto(f"http://127.0.0.1:{self.bench.guard.port}{address}")
        self.drawn()
        return self.page

    def drawn(self) -> None:
        """Wait until all that is drawn is there."""
        expect(self.page.locator("[aria-busy]")).to_have_count(0, timeout=30_000)


@pytest.fixture
def opened(chromium: str, tmp_path: Path) -> Iterator[Open]:
    path = tmp_path / "box.toml"
    path.write_bytes(SAMPLE.read_bytes())
    listening = socket.create_server(("127.0.0.1", 0))
    bench = Bench(State.opened(Kept(path)), Guard(listening.getsockname()[1]))
    server = create_server(make_app(bench), sockets=[listening], threads=4)
    threading.Thread(target=server.run, daemon=True).start()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium, chromium_sandbox=False)
        page = browser.new_page()
        made = Open(bench, page, [])
        page.on("console", lambda message: made.said.append(message.text))
        page.on("pageerror", lambda error: made.said.append(str(error)))
        page.goto(bench.guard.address)
        made.drawn()
        yield made
        assert made.said == []
        browser.close()
    server.close()


@pytest.mark.slow
@pytest.mark.parametrize("width", [1280, 360])
def test_a_jig_is_set_by_keyboard_alone(opened: Open, width: int) -> None:
    """From the list to the pages: choose, type, be refused, take the way out, undo."""
    opened.page.set_viewport_size({"width": width, "height": 800})
    page = opened.to("/jigs")
    press = page.keyboard.press
    page.get_by_role("link", name="Taper sled").focus()
    press("Enter")
    expect(page).to_have_title("Taper sled: jig")
    opened.drawn()
    press("Tab")
    expect(page.get_by_role("link", name="Skip to the settings")).to_be_focused()
    press("Enter")
    for _ in range(4):
        press("Tab")
    expect(page.get_by_label("Narrow")).to_be_focused()
    page.keyboard.type("50")
    press("Enter")
    expect(page.locator("#verdict")).to_contain_text("Can’t be built yet: 1 error.")
    expect(page.get_by_label("Narrow")).to_be_focused()
    press("Tab")
    expect(page.get_by_role("button", name="Set narrow to 39.99 mm")).to_be_focused()
    press("Enter")
    expect(page.locator("#verdict")).to_contain_text("Can be built.")
    expect(page.get_by_label("Narrow")).to_be_focused()
    expect(page.get_by_label("Narrow")).to_have_value("39.99")
    opened.drawn()
    assert page.locator("#pages .sheet svg").count() == 1
    page.get_by_role("button", name="Undo").focus()
    press("Enter")
    expect(page.get_by_label("Narrow")).to_have_value("50")
    press("Enter")
    expect(page.get_by_label("Narrow")).to_have_value("25")
    opened.drawn()
    page.get_by_role("link", name="T1").focus()
    press("Enter")
    opened.drawn()
    expect(page.locator("#pages [aria-current]")).to_contain_text("Taper sled")
    page.evaluate("() => document.querySelectorAll('details').forEach(d => { d.open = true })")
    assert page.evaluate("() => document.documentElement.scrollWidth") == width


@pytest.mark.slow
def test_a_sheet_dropped_on_the_box_leads_to_its_jig(opened: Open, tmp_path: Path) -> None:
    job = JigSettings("taper", "mm", {"wide": 60.0, "narrow": 30.0, "length": 300.0})
    for name, content in make.draw(job, (), make.Printing(formats=("pdf",))).files.items():
        (tmp_path / name).write_bytes(content)
    page = opened.to("/box/wood")
    page.locator("#opens").set_input_files(tmp_path / "taper-templates.pdf")
    expect(page).to_have_title("Taper sled: jig")
    expect(page.get_by_label("Wide")).to_have_value("60")
    expect(page.locator("#told")).to_contain_text("Opened taper-templates.pdf.")
    opened.drawn()


@pytest.mark.slow
@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("address", ["/jigs", "/jigs/sled", "/jigs/taper", "/new"])
def test_axe_finds_nothing(opened: Open, address: str, scheme: Any) -> None:
    """By axe-core, with its rules for WCAG and for good practice; the taper with an error, all settings open."""
    script = Path(os.environ.get("JIGLEAF_AXE", "not given"))
    needs("axe-core (npm install axe-core; JIGLEAF_AXE is the path of its axe.min.js)", script.is_file())
    opened.page.emulate_media(color_scheme=scheme)
    page = opened.to(address)
    if address == "/jigs/taper":
        page.get_by_label("Narrow").fill("50")
        page.keyboard.press("Enter")
        expect(page.locator("#verdict")).to_contain_text("Can’t be built yet")
        opened.drawn()
    page.evaluate("() => document.querySelectorAll('details').forEach(d => { d.open = true })")
    page.evaluate(script.read_text(encoding="utf-8"))
    found = page.evaluate("() => axe.run()")
    assert [(v["id"], [node["html"][:200] for node in v["nodes"]]) for v in found["violations"]] == []
    assert {check["id"] for check in found["passes"]} >= {"color-contrast", "region", "heading-order"}
