"""The bench: who may in, what is done to the maker's file, what the page of a box shows. Without a browser."""

from __future__ import annotations

import html
import itertools
import json
import random
import re
import threading
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
import tomlkit
from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree
from werkzeug.test import TestResponse

from jigs.base.errors import CannotRead
from jigs.base.settings import Section, keys_of
from jigs.box import set_ups
from jigs.boxfile import edit, reading
from layout import make
from layout.bench import guard as guards
from layout.bench.guard import Guard
from layout.bench.kept import Kept
from layout.bench.page import Bench
from layout.bench.server import make_app
from layout.bench.state import State
from layout.bench.windows import CLOSED, NOBODY, SILENT, Windows
from layout.sheet.hand import Hand

SAMPLES = Path(__file__).parent.parent / "samples"
PORT = 5123
HOST = {"Host": f"127.0.0.1:{PORT}"}
OURS = {**HOST, "Origin": f"http://127.0.0.1:{PORT}"}


class Window:
    """A window of a browser that has come in: it gets pages and sends what is done, as the page's script does."""

    def __init__(self, bench: Bench, client: FlaskClient) -> None:
        self.bench, self.client = bench, client
        client.get(f"/?token={bench.guard.token}", headers=HOST)
        self.version = bench.state.version

    def get(self, path: str) -> TestResponse:
        answer = self.client.get(path, headers=HOST)
        answer.get_data()
        answer.close()
        return answer

    def does(self, path: str = "/box/sled", **what: object) -> str:
        """Send what is done; return the words of the page that comes back."""
        answer = self.client.post(path, json={"version": self.version, **what}, headers=OURS)
        assert answer.status_code == 200, answer.get_data(as_text=True)
        page = answer.get_data(as_text=True)
        self.version = int(re.search(r'data-version="(\d+)"', page)[1])  # type: ignore[index]
        return words_of(page)

    def types(self, **typed: str) -> str:
        """Type words for settings, `joint__finger` for joint.finger."""
        return self.does(do="type", typed={key.replace("__", "."): words for key, words in typed.items()})


def words_of(page: str) -> str:
    return re.sub(r"\s+", " ", html.unescape(re.sub(r"<[^>]+>", " ", page)))


@pytest.fixture
def path(tmp_path: Path) -> Path:
    file = tmp_path / "card-box.toml"
    file.write_bytes((SAMPLES / "recipe-box.toml").read_bytes())
    return file


def bench_of(path: Path | None) -> Bench:
    return Bench(State.opened(Kept(path)), Guard(PORT))


@pytest.fixture
def window(path: Path) -> Window:
    bench = bench_of(path)
    return Window(bench, make_app(bench).test_client())


# -- who may in ----------------------------------------------------------------------------------------------------


def test_the_token_lets_in_and_the_cookie_from_then_on(path: Path) -> None:
    bench = bench_of(path)
    client = make_app(bench).test_client()
    assert client.get("/box/sled", headers=HOST).status_code == 403
    answer = client.get(f"/?token={bench.guard.token}", headers=HOST)
    assert answer.status_code == 302
    cookie = answer.headers["Set-Cookie"]
    assert "HttpOnly" in cookie
    assert "SameSite=Strict" in cookie
    assert client.get("/box/sled", headers=HOST).status_code == 200


@pytest.mark.parametrize("token", ["", "x", "0" * 43, "ключ"])
def test_no_other_token_does(path: Path, token: str) -> None:
    client = make_app(bench_of(path)).test_client()
    assert client.get("/", query_string={"token": token}, headers=HOST).status_code == 403
    assert client.get("/box/sled", headers=HOST).status_code == 403


def test_the_token_opens_no_other_page(path: Path) -> None:
    bench = bench_of(path)
    client = make_app(bench).test_client()
    assert client.get(f"/box/sled?token={bench.guard.token}", headers=HOST).status_code == 403


@pytest.mark.parametrize(
    "host",
    ["example.org", f"example.org:{PORT}", "127.0.0.1", "127.0.0.1:80", f"127.0.0.1.example.org:{PORT}", "[::1]"],
)
def test_another_host_is_refused(window: Window, host: str) -> None:
    """A name that was made to lead to this computer (rebinding) is still sent in Host (RFC 9110, 7.2)."""
    assert window.client.get("/box/sled", headers={"Host": host}).status_code == 403


@pytest.mark.parametrize(
    "headers",
    [
        {"Origin": "http://example.org"},
        {"Origin": "null"},
        {"Origin": f"http://127.0.0.1:{PORT + 1}"},
        {"Origin": f"https://127.0.0.1:{PORT}"},
        {"Sec-Fetch-Site": "cross-site", "Origin": f"http://127.0.0.1:{PORT}"},
        {"Sec-Fetch-Site": "same-site"},
        {"Sec-Fetch-Site": "none"},
        {},
    ],
)
def test_nothing_is_changed_for_another_site(window: Window, headers: dict[str, str]) -> None:
    before = window.bench.state.version
    done = {"do": "type", "typed": {"joint.finger": "8"}, "version": before}
    answer = window.client.post("/box/sled", json=done, headers={**HOST, **headers})
    assert answer.status_code == 403
    assert window.bench.state.version == before


def test_a_page_of_ours_may_say_so_either_way(window: Window) -> None:
    done = {"do": "look", "version": 1}
    for said in (OURS, {**HOST, "Sec-Fetch-Site": "same-origin"}):
        assert window.client.post("/box/sled", json=done, headers=said).status_code == 200


@pytest.mark.parametrize("kind", ["application/x-www-form-urlencoded", "multipart/form-data", "text/plain", ""])
def test_a_form_changes_nothing(window: Window, kind: str) -> None:
    """The media types that a form of any site can send without being asked (Fetch standard, CORS-safelisted)."""
    body = json.dumps({"do": "undo", "version": 1})
    assert window.client.post("/box/sled", data=body, content_type=kind, headers=OURS).status_code == 415


@pytest.mark.parametrize("where", ["/box/sled", "/pages/sled", "/picture/sled", "/file", "/alive", "/static/bench.js"])
def test_every_answer_says_what_may_run(window: Window, where: str) -> None:
    headers = window.get(where).headers
    policy = headers["Content-Security-Policy"]
    assert "default-src 'none'" in policy
    assert "unsafe" not in policy
    assert "frame-ancestors 'none'" in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Cross-Origin-Resource-Policy"] == "same-origin"


@pytest.mark.parametrize(
    "where",
    ["/static/../run.py", "/static/%2e%2e/run.py", "/static/..%2frun.py", "/font/../regular", "/file/../../etc/passwd",
     "/print/../../secret.pdf", "/print/%2e%2e%2fsecret.pdf", "/box/../../x", "/pages/%00", "//etc/passwd"],
)  # fmt: skip
def test_no_path_leads_out(window: Window, where: str) -> None:
    answer = window.get(where)
    assert answer.status_code in (302, 308, 404) or answer.mimetype == "text/html"
    assert b"root:" not in answer.data
    assert b"from __future__" not in answer.data


def test_too_much_is_not_read(window: Window) -> None:
    answer = window.client.post(
        "/box/sled", data=b"0" * (guards.MOST_BYTES + 1), headers=OURS, content_type="application/json"
    )
    assert answer.status_code in (400, 413)


# -- the maker's file ----------------------------------------------------------------------------------------------


def test_the_file_is_touched_by_save_alone(window: Window, path: Path) -> None:
    before = path.read_text()
    window.types(joint__clearance="0.12")
    assert path.read_text() == before
    copy = path.with_name(".card-box.toml.unsaved")
    assert "clearance = 0.12" in copy.read_text()
    said = window.does(do="save")
    assert "Saved card-box.toml." in said
    assert "clearance = 0.12" in path.read_text()
    assert not copy.exists()


def test_comments_stay(window: Window, path: Path) -> None:
    window.types(box__length="210", lid__crown="5")
    window.does(do="save")
    was, now = ((SAMPLES / "recipe-box.toml").read_text().splitlines(), path.read_text().splitlines())
    differ = [(old, new) for old, new in zip(was, now, strict=True) if old != new]
    assert len(differ) == 2
    for old, new in differ:
        assert old.partition("#")[2] == new.partition("#")[2]


def test_what_was_not_saved_is_there_again(window: Window, path: Path) -> None:
    window.types(joint__clearance="0.12")
    again = bench_of(path)  # the computer went off
    other = Window(again, make_app(again).test_client())
    assert again.state.file.joint.clearance == 0.12
    assert "Last time you ended without saving." in words_of(other.get("/box/sled").get_data(as_text=True))
    other.does(do="undo")
    assert again.state.file.joint.clearance == 0.1
    assert again.state.is_saved


def test_a_copy_that_was_cut_off_is_left_aside(path: Path) -> None:
    path.with_name(".card-box.toml.unsaved").write_text('title = "Card bo')
    state = State.opened(Kept(path))
    assert state.is_saved
    assert not state.from_copy


def test_another_program_that_writes_the_file_is_told_of(window: Window, path: Path) -> None:
    window.types(joint__clearance="0.12")
    path.write_text(path.read_text().replace("length = 200", "length = 220"))
    assert json.loads(window.get(f"/alive?window=a&version={window.version}").data) == {"changed": True}
    assert "Another program has changed card-box.toml." in words_of(window.get("/box/sled").get_data(as_text=True))
    assert "choose which of the two to keep" in window.does(do="save")
    assert "length = 220" in path.read_text()
    window.does(do="theirs")
    assert window.bench.state.file.box.length == 220
    window.does(do="undo")
    assert window.bench.state.file.joint.clearance == 0.12


def test_ones_own_can_be_kept_instead(window: Window, path: Path) -> None:
    window.types(joint__clearance="0.12")
    path.write_text(path.read_text().replace("length = 200", "length = 220"))
    window.does(do="mine")
    assert "Saved" in window.does(do="save")
    assert "length = 200 " in path.read_text()


def test_a_disk_that_says_no_loses_nothing(window: Window, path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    window.types(joint__clearance="0.12")

    def full(*args: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.replace", full)
    said = window.does(do="save")
    assert "Can't write" in said
    assert "0.12" in path.with_name(".card-box.toml.unsaved").read_text()
    assert "clearance = 0.12" not in path.read_text()


def test_a_link_stays_a_link(tmp_path: Path, path: Path) -> None:
    link = tmp_path / "link.toml"
    link.symlink_to(path)
    state = State.opened(Kept(link))
    state.type({"joint.clearance": "0.12"})
    state.save()
    assert link.is_symlink()
    assert "clearance = 0.12" in path.read_text()


def test_without_a_file_nothing_is_written_beside_but_the_copy(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr("layout.printer.kept.folder", lambda: tmp_path / "settings")
    monkeypatch.chdir(tmp_path)
    state = State.opened(Kept(None))
    state.type({"joint.clearance": "0.12"})
    assert [file.name for file in tmp_path.rglob("*") if file.is_file()] == ["new-box.toml.unsaved"]
    with pytest.raises(Exception, match="no file to save into"):
        state.save()


# -- undo, and several windows -------------------------------------------------------------------------------------


@pytest.mark.slow
def test_undo_and_redo_go_as_far_as_there_were_changes(window: Window) -> None:
    start = window.bench.state.file.source
    for step in range(60):
        window.types(box__length=str(200 + step + 1))
    last = window.bench.state.file.source
    for _ in range(60):
        window.does(do="undo")
    assert window.bench.state.file.source == start
    window.does(do="undo")
    assert window.bench.state.file.source == start
    for _ in range(60):
        window.does(do="redo")
    assert window.bench.state.file.source == last


def test_a_window_that_was_slower_changes_nothing_unasked(window: Window) -> None:
    other = Window(window.bench, window.client)
    window.types(box__length="220")
    said = other.types(box__length="240")
    assert "changed in another window" in said
    assert window.bench.state.file.box.length == 220
    other.types(box__length="240")  # having seen it
    assert window.bench.state.file.box.length == 240


def test_two_windows_at_once_lose_nothing(window: Window) -> None:
    """Each change is taken whole or told to be late: the states that there were are a chain of single changes."""
    bench = window.bench

    def work(key: str) -> None:
        mine = Window(bench, make_app(bench).test_client())
        for step in range(12):
            mine.does(do="type", typed={key: str(150 + step)})

    workers = [threading.Thread(target=work, args=(key,)) for key in ("box.length", "box.width")]
    for worker in workers:
        worker.start()
    for worker in workers:
        worker.join()
    states = [reading.read(text, "x") for text in bench.state.past]
    for was, now in itertools.pairwise(states):
        assert (was.box.length != now.box.length) + (was.box.width != now.box.width) == 1


def test_drawing_is_for_the_newest_state_alone(window: Window) -> None:
    assert window.get("/pages/handle?version=0").status_code == 409
    assert window.get(f"/pages/handle?version={window.version}").status_code == 200


# -- settings ------------------------------------------------------------------------------------------------------


def _paths(section: Section, name: str = "") -> Iterator[str]:
    for key in keys_of(type(section)).values():
        path = f"{name}.{key.name}" if name else key.name
        held = getattr(section, key.name)
        if key.kind:
            yield path
        elif isinstance(held, Section):
            yield from _paths(held, path)
        elif key.many:
            yield from (f"{path}.{number}.{inner}" for number, row in enumerate(held) for inner in keys_of(type(row)))


def test_every_setting_has_its_field(window: Window) -> None:
    pages = "".join(window.get(f"/box/{one.name}").get_data(as_text=True) for one in set_ups.SET_UPS)
    file = window.bench.state.file
    missing = {path for path in _paths(file) if f'data-key="{path}"' not in pages}
    assert missing == set_ups.without_meaning(file)
    assert missing == {"handle.middle", "handle.middle_saw", "handle.middle_height"}  # its handle has two holes


def test_plywood_is_not_asked_for_its_wood(window: Window) -> None:
    window.does("/box/bottom", do="type", typed={"bottom.material": "plywood", "bottom.thickness": "5.6"})
    page = window.get("/box/bottom").get_data(as_text=True)
    assert 'data-key="bottom.species"' not in page
    assert 'data-key="bottom.rings"' not in page
    assert 'data-key="bottom.clearance"' in page


def test_a_finger_waits_for_the_cutter_that_is_typed_after_it(window: Window) -> None:
    said = window.types(joint__finger="12 mm")
    assert "no other cutter is known" in said
    assert "joint.cutter" not in said
    assert "[[cutters]]" not in said
    page = window.get("/box/sled").get_data(as_text=True)
    assert re.search(r'data-key="joint.finger" value="12"', page), "its unit stands behind the field"
    said = window.types(joint__cutter="12.05")
    assert "4 fingers + 3 sockets" in said
    assert window.bench.state.file.joint.finger == 12
    assert not window.bench.state.refused


def test_more_and_less_are_typed_as_in_a_command(window: Window) -> None:
    window.types(box__length="+20")
    assert window.bench.state.file.box.length == 220
    window.types(box__length="−20")
    assert window.bench.state.file.box.length == 200
    said = window.does("/box/handle", do="type", typed={"handle.middle_saw": "+2"})
    assert "the file gives no value to add 2 to; write the new value" in said.lower()


def test_no_way_out_is_offered_that_the_file_refuses(window: Window) -> None:
    """60 is the largest finger that a file may have, and there is no cutter for it."""
    said = window.types(joint__finger="80")
    assert "Finger width must be from 3 mm to 60 mm; it is 80 mm." in said
    assert "Set the finger to 60" not in said
    assert "nearest that works" not in said


def test_after_undo_the_strip_says_what_undo_moved(window: Window) -> None:
    window.types(lid__overhang="6")
    said = window.does(do="undo")
    assert re.search(r"Overhang.*was 6 .*now 5 ", said), said
    said = window.does(do="redo")
    assert re.search(r"Overhang.*was 5 .*now 6 ", said), said


def test_every_field_has_a_label_and_what_describes_it(window: Window) -> None:
    for one in set_ups.SET_UPS:
        tree: Any = etree.HTML(window.get(f"/box/{one.name}").get_data(as_text=True))
        ids = tree.xpath("//@id")
        assert len(ids) == len(set(ids)), [name for name in ids if ids.count(name) > 1]
        labelled = set(tree.xpath("//label/@for"))
        for field in tree.xpath("//input[@data-key] | //input[@data-new] | //textarea"):
            named = field.get("id") in labelled or field.get("aria-label") or field.getparent().tag == "label"
            assert named, field.get("id")
            for describing in (field.get("aria-describedby") or "").split():
                assert describing in ids


@pytest.mark.parametrize(
    ("key", "typed", "said"),
    [
        ("joint.finger", "wide", "'wide' has no number in it; write a length such as 9.5 mm, 3/8 in or 1 3/4 in."),
        ("joint.clearance", "5", "must be from 0 mm to 1 mm; it is 5 mm. The nearest that works is 1 mm"),
        ("joint.finger", "9", "the finger is to be 9 mm; no other cutter is known"),
        ("joint.fingers", "2.5", "'2.5' can't be read; write a whole number such as 7."),
        ("lid.species", "mahogny", ""),
        ("title", "x" * 90, "It has 90 characters, where it may have 80."),
        ("nothing.here", "1", "There is no such setting."),
    ],
)
def test_what_cannot_be_kept_says_why_at_its_field(window: Window, key: str, typed: str, said: str) -> None:
    before = window.bench.state.file.source
    page = words_of(window.client.post(
        f"/box/{set_ups.of_section(key.partition('.')[0]).name}",
        json={"version": window.version, "do": "type", "typed": {key: typed}}, headers=OURS,
    ).get_data(as_text=True))  # fmt: skip
    if said:
        assert window.bench.state.file.source == before
        assert said in page or key == "nothing.here"
        assert said in window.bench.state.refused[key].problem.sentences("mm").replace("\u2011", "-")
    window.does(do="undo")


def test_ways_out_are_buttons_that_work(window: Window) -> None:
    page = window.client.post(
        "/box/sled", json={"version": window.version, "do": "type", "typed": {"joint.clearance": "0.02"}}, headers=OURS
    ).get_data(as_text=True)
    window.version = window.bench.state.version
    offered = [json.loads(html.unescape(one)) for one in re.findall(r"data-typed='([^']*)'", page)]
    assert {"joint.clearance": "0.1 mm"} in offered
    said = window.does(do="type", typed={"joint.clearance": "0.1 mm"})
    assert "WARNING A clearance" not in said
    assert window.bench.state.file.joint.clearance == 0.1


def test_another_finger_brings_its_cutter(window: Window) -> None:
    said = window.types(joint__finger="8")
    assert window.bench.state.file.joint.cutter == 7.97
    assert "Cutter was 10.02 → now 7.97" in said


def test_an_emptied_setting_is_worked_out_again(window: Window) -> None:
    window.types(groove__depth="")
    assert window.bench.state.file.groove
    assert window.bench.state.file.groove.depth is None
    assert "groove.depth" not in window.bench.state.file.given


def test_rows_of_a_list(window: Window) -> None:
    boards = window.bench.state.file.stock.boards if window.bench.state.file.stock else ()
    window.does(do="add-row", list="stock.boards",
                typed={"length": "900", "width": "120", "thickness": "15", "species": "ash"})  # fmt: skip
    window.does(do="type", typed={f"stock.boards.{len(boards)}.count": "3"})
    stock = window.bench.state.file.stock
    assert stock
    assert (stock.boards[-1].count, stock.boards[-1].length) == (3, 900)
    window.does(do="drop-row", list="stock.boards", row=len(boards))
    assert window.bench.state.file.stock
    assert window.bench.state.file.stock.boards == boards
    assert "there is no row 99" in window.does(do="drop-row", list="stock.boards", row=98)
    assert "is no list" in window.does(do="add-row", list="joint", typed={"finger": "3"})


@pytest.mark.parametrize("part", ["shell", "handle", "lid", "bottom", "groove"])
def test_parts_are_left_out_and_made_again(window: Window, part: str) -> None:
    window.does(do="drop-part", part=part)
    assert getattr(window.bench.state.file, part) is None
    window.does(do="add-part", part=part)
    assert getattr(window.bench.state.file, part) is not None
    assert window.bench.state.look.states[set_ups.of_section(part).name] in ("fine", "choice", "warning", "danger")


def test_no_box_is_without_its_joint(window: Window) -> None:
    assert "can be left out" in window.does(do="drop-part", part="joint")
    assert "can be added" in window.does(do="add-part", part="joint")


def test_what_is_not_understood_changes_nothing(window: Window) -> None:
    before = window.bench.state.file.source
    for what in ({"do": "type"}, {"do": "type", "typed": 3}, {"do": "type", "typed": {"title": 3}}, {"do": "fly"},
                 {"do": "drop-row", "list": [], "row": {}}, {"do": "open", "name": "x", "content": "%%%"}):  # fmt: skip
        window.does(**what)
        assert window.bench.state.file.source == before


# -- edits of a file, whatever is typed ----------------------------------------------------------------------------

LENGTHS = st.one_of(
    st.floats(0, 400).map(lambda mm: f"{mm:.2f}"), st.sampled_from(["3/8 in", "9,5", "1-3/4 in", "−3", "", "quarter"])
)


@settings(deadline=None, max_examples=40, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.data())
def test_whatever_is_typed_the_page_answers_and_the_file_can_be_read(window: Window, data: st.DataObject) -> None:
    key = data.draw(st.sampled_from(sorted(_paths(window.bench.state.file))))
    typed = data.draw(st.one_of(LENGTHS, st.text(max_size=30)))
    name = set_ups.of_section(key.partition(".")[0]).name
    window.does(f"/box/{name}", do="type", typed={key: typed})
    file = window.bench.state.file
    assert reading.read(file.source, "x") == file
    tomlkit.parse(file.source)


@settings(deadline=None, max_examples=60)
@given(st.data())
def test_a_value_typed_is_the_value_read(data: st.DataObject) -> None:
    file = reading.load(SAMPLES / data.draw(st.sampled_from(["recipe-box.toml", "recipe-box-inch.toml"])))
    key = data.draw(st.sampled_from(["box.length", "lid.overhang", "joint.key_slack", "sides.thickness", "lid.bit"]))
    typed = data.draw(st.floats(10, 60).map(lambda n: f"{n:.3f}"))
    made = edit.edited(file, {key: f"{typed} mm"}) if key != "joint.key_slack" else edit.edited(file, {key: "0.05 mm"})
    section, _, name = key.partition(".")
    expected = 0.05 if key == "joint.key_slack" else float(typed)
    assert getattr(getattr(made, section), name) == pytest.approx(expected, abs=1e-9)


def test_an_edit_of_a_key_that_there_is_not() -> None:
    file = reading.load(SAMPLES / "recipe-box.toml")
    for key in ("joint.fnger", "stock.boards.9.length", "stock.boards.x.length", "box", "cutters.0"):
        with pytest.raises(CannotRead):
            edit.edited(file, {key: "30"})


# -- pages ---------------------------------------------------------------------------------------------------------


def test_the_pages_shown_are_the_pages_drawn(window: Window) -> None:
    """The words of the card on the page are those of the card as `draw` writes it, but for its place among others."""
    page = window.get("/pages/groove").get_data(as_text=True)
    drawn = make.draw(window.bench.state.file, ["groove"], make.Printing(formats=("svg",))).files
    card = next(content for name, content in drawn.items() if "card" in name)
    root: Any = etree.fromstring(card)
    said = [text for text in root.itertext() if text.strip() and "page " not in text]
    shown = words_of(page)
    for text in said:
        if not re.fullmatch(r"[A-Za-z0-9+/=\s]{200,}", text):
            assert " ".join(text.split()) in shown


@pytest.mark.parametrize("name", ["recipe-box.toml", "recipe-box-inch.toml"])
def test_a_page_shown_bears_the_mark_of_the_page_printed(name: str) -> None:
    """Every page of every set-up; a mark is made from all that is drawn on a page (`compose.mark_of`)."""
    file = reading.load(SAMPLES / name)
    marks = make.draw(file, (), make.Printing(formats=("pdf",))).marks
    seen: set[str] = set()
    for set_up in set_ups.SET_UPS:
        for called, _, _ in make.page_names_of_box(file, set_up.pages):
            seen |= {found for page in make.page_pictures(file, called) for found in _mark_of(page)}
    proof = {mark for page, mark in marks.items() if "proof" in page}
    assert seen == set(marks.values()) - proof


def _mark_of(page: bytes) -> list[str]:
    return re.findall(r"mark ([0-9a-f]{4})", page.decode())[:1]


def test_nothing_is_offered_to_print_of_a_box_that_cannot_be_built(window: Window) -> None:
    window.types(sides__species="kersen")
    said = words_of(window.get("/box/print").get_data(as_text=True))
    assert "There is nothing to save yet. The pages wait for" in said
    assert "Templates, PDF" not in said
    page = window.get("/box/print").get_data(as_text=True)
    assert 'href="/box/wood#field-set-sides-species"' in page
    assert "kersen for" not in said


def test_pages_wait_where_the_joint_cannot_be_cut(window: Window) -> None:
    window.types(joint__cutter="12")
    assert "pages wait" in words_of(window.get("/pages/sled").get_data(as_text=True))
    assert window.get("/picture/sled").status_code == 200
    said = words_of(window.get("/box/lid").get_data(as_text=True))
    assert "Can’t be built yet" in said
    assert "waits for 2" in said


def test_files_to_print_are_those_that_draw_writes(window: Window) -> None:
    for name in ("cards", "templates"):
        answer = window.get(f"/print/{name}.pdf")
        drawn = make.draw(window.bench.state.file, (), make.Printing(formats=("pdf",))).files
        assert answer.data == drawn[f"card-box-{name}.pdf"]
        assert f"card-box-{name}.pdf" in answer.headers["Content-Disposition"]
    assert window.get("/print/nothing.pdf").status_code == 404


def test_files_are_printed_as_asked(window: Window) -> None:
    window.does("/box/print", do="print-as", typed={"large print": "yes", "thin ink": "no", "other": "yes"})
    drawn = make.draw(window.bench.state.file, (), make.Printing(formats=("pdf",), hand=Hand(large=True))).files
    assert window.get("/print/cards.pdf").data == drawn["card-box-cards.pdf"]


def test_files_to_print_wait_too(window: Window) -> None:
    window.types(joint__cutter="12")
    answer = window.get("/print/cards.pdf")
    assert answer.status_code == 409
    assert "can’t be drawn yet" in words_of(answer.get_data(as_text=True))


# -- the end -------------------------------------------------------------------------------------------------------


def test_it_ends_a_while_after_the_last_window() -> None:
    clock = [0.0]
    windows = Windows(lambda: clock[0])
    clock[0] = NOBODY - 1
    assert not windows.all_gone
    windows.heard("a")
    windows.heard("b")
    windows.closed("a")
    clock[0] += CLOSED + 1
    assert not windows.all_gone
    windows.closed("b")
    clock[0] += CLOSED - 1
    assert not windows.all_gone
    windows.heard("b")  # it was only loaded anew
    clock[0] += CLOSED + 1
    assert not windows.all_gone
    clock[0] += SILENT
    assert windows.all_gone


def test_it_ends_where_nobody_comes() -> None:
    clock = [0.0]
    windows = Windows(lambda: clock[0])
    clock[0] = NOBODY + 1
    assert windows.all_gone


# -- attacks -------------------------------------------------------------------------------------------------------


@pytest.mark.slow
def test_ten_thousand_mutated_requests(window: Window, path: Path, tmp_path: Path) -> None:
    """No request gives a fault of the server, and none writes anything but the copy beside the file."""
    dice = random.Random(22)
    before = path.read_bytes()
    seeds = [
        ("POST", "/box/sled", {"do": "type", "typed": {"joint.finger": "8"}, "version": 1}),
        ("POST", "/box/wood", {"do": "add-row", "list": "stock.boards", "typed": {"length": "9"}, "version": 1}),
        ("POST", "/box/lid", {"do": "drop-part", "part": "lid", "version": 1}),
        ("POST", "/box/lid", {"do": "open", "name": "x.svg", "content": "PHN2Zy8+", "version": 1}),
        ("POST", "/closed", {"window": "a"}),
        ("GET", "/pages/sled", None),
        ("GET", "/alive?window=a&version=1", None),
        ("GET", "/box/sled?base=saved", None),
    ]
    for _ in range(10_000):
        method, where, body = dice.choice(seeds)
        where = _mutated(where, dice) if dice.random() < 0.3 else where
        headers = dict(OURS) if dice.random() < 0.9 else {"Host": _mutated("127.0.0.1", dice)}
        sent = _mutated(json.dumps(body), dice) if body and dice.random() < 0.8 else json.dumps(body)
        answer = window.client.open(
            "/" + where.lstrip("/"), method=method, data=sent.encode("utf-8", "replace") if body else None,
            headers=headers, content_type="application/json" if dice.random() < 0.95 else "text/plain",
        )  # fmt: skip
        assert answer.status_code < 500, (method, where, sent)
    assert path.read_bytes() == before
    assert {file.name for file in tmp_path.iterdir()} <= {path.name, f".{path.name}.unsaved"}


def _mutated(text: str, dice: random.Random) -> str:
    letters = list(text)
    for _ in range(dice.randint(1, 3)):
        at = dice.randrange(len(letters) + 1)
        match dice.randrange(4):
            case 0:
                letters[at : at + dice.randint(0, 4)] = []
            case 1:
                letters[at:at] = dice.choice(['"', "{", "}", "[", "null", "\x00", "é", "../", "9" * 30, "%", "'", "\\"])
            case 2 if at < len(letters):
                letters[at] = chr(dice.randrange(32, 0x2FF))
            case _:
                letters[at:at] = letters[: dice.randint(0, 20)]
    return "".join(letters)
