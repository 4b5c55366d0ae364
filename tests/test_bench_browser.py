"""The bench as a maker uses it, in a real browser: by keyboard alone, at a phone's width, on a slow network, killed."""

from __future__ import annotations

import json
import re
import signal
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page, Route

from jigs.box.set_ups import SET_UPS
from jigs.boxfile import reading
from tests import processes
from tests.conftest import needs
from tests.served import Served, axe, fits, served, settled, tab_to

pytestmark = pytest.mark.slow
SAMPLES = Path(__file__).parent.parent / "samples"


@pytest.fixture
def path(tmp_path: Path) -> Path:
    file = tmp_path / "card-box.toml"
    file.write_bytes((SAMPLES / "recipe-box.toml").read_bytes())
    return file


@pytest.fixture
def bench(path: Path, chromium: str) -> Iterator[Served]:
    with served(path, chromium) as found:
        yield found
        assert [words for words in found.said if "409" not in words] == []  # of what nobody waits for any more


def drawn(page: Page) -> None:
    """Wait until picture and pages are those of the newest state."""
    settled(page)
    for part in ("#picture", "#pages"):
        page.locator(f"{part}:not([aria-busy])").wait_for(timeout=60_000)


def type_into(page: Page, identity: str, words: str) -> None:
    """Go to a field by the keyboard, type, and leave it with Enter."""
    tab_to(page, identity)
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type(words)
    page.keyboard.press("Enter")
    settled(page)


# -- a whole box ---------------------------------------------------------------------------------------------------


def test_a_whole_box_by_keyboard_alone(bench: Served, path: Path) -> None:
    page = bench.open("/box/wood", 1280)
    type_into(page, "set-title", "Card box")
    type_into(page, "set-box-length", "9 in")
    type_into(page, "set-box-width", "160")
    type_into(page, "set-sides-species", "maple")
    page.goto(page.url.replace("/wood", "/sled"))
    type_into(page, "set-joint-finger", "8")
    page.goto(page.url.replace("/sled", "/lid"))
    type_into(page, "set-lid-overhang", "4,5")
    tab_to(page, "save")
    page.keyboard.press("Enter")
    settled(page)
    made = reading.load(path)
    assert (made.title, made.box.length, made.box.width) == ("Card box", 228.6, 160)
    assert (made.sides.species, made.joint.finger, made.joint.cutter) == ("maple", 8, 7.97)
    assert made.lid
    assert made.lid.overhang == 4.5
    assert "# inside 176" in path.read_text()


def test_every_set_up_is_reached_and_drawn(bench: Served) -> None:
    page = bench.open("/box/wood", 1280)
    for one in SET_UPS:
        page.locator(f"#stick a[href='/box/{one.name}']").focus()
        page.keyboard.press("Enter")
        page.wait_for_url(f"**/box/{one.name}")
        drawn(page)
        assert page.locator("#set-up").inner_text() == one.title
        assert page.locator("#picture svg").count() == 1
        assert page.locator(".sheet svg").count() >= 1


def test_a_wrong_number_and_its_button(bench: Served) -> None:
    page = bench.open("/box/sled", 1280)
    type_into(page, "set-joint-clearance", "0.02")
    told = page.locator("#field-set-joint-clearance").locator(".told.warning")
    assert "A clearance of 0.02 mm is less than 0.05 mm" in told.inner_text()
    assert "0.1 → 0.02" in re.sub(r"\s+", " ", page.locator("#moved").inner_text()).replace("was ", "").replace(
        "now ", ""
    )
    page.keyboard.press("Tab")  # from the field to its way out
    assert page.evaluate("document.activeElement.textContent") == "Set the clearance to 0.1 mm"
    page.keyboard.press("Enter")
    settled(page)
    told.wait_for(state="detached")
    assert page.locator("#set-joint-clearance").input_value() == "0.1"
    assert page.evaluate("document.activeElement.id") == "set-joint-clearance"


def test_what_cannot_be_read_stays_typed_with_its_reason(bench: Served) -> None:
    page = bench.open("/box/sled", 1280)
    type_into(page, "set-joint-finger", "wide")
    field = page.locator("#set-joint-finger")
    assert field.input_value() == "wide"
    assert field.get_attribute("aria-invalid") == "true"
    described = (field.get_attribute("aria-describedby") or "").split()
    assert any("has no number in it" in page.locator(f"#{one}").inner_text() for one in described)
    assert bench.bench.state.file.joint.finger == 10


def test_undo_by_the_keyboard(bench: Served) -> None:
    page = bench.open("/box/sled", 1280)
    type_into(page, "set-joint-finger", "8")
    page.keyboard.press("ControlOrMeta+z")
    settled(page)
    assert page.locator("#set-joint-finger").input_value() == "10"
    page.keyboard.press("ControlOrMeta+Shift+z")
    settled(page)
    assert page.locator("#set-joint-finger").input_value() == "8"


# -- what happens to a page ----------------------------------------------------------------------------------------


def test_loading_the_page_anew_loses_nothing(bench: Served) -> None:
    page = bench.open("/box/sled", 1280)
    type_into(page, "set-joint-finger", "8")
    page.reload()
    assert page.locator("#set-joint-finger").input_value() == "8"
    page.locator("#undo").click()
    settled(page)
    assert page.locator("#set-joint-finger").input_value() == "10"


def test_two_windows_do_not_overwrite_each_other(bench: Served) -> None:
    one, other = bench.open("/box/sled", 1280), bench.open("/box/wood", 1280)
    type_into(one, "set-joint-finger", "8")
    type_into(other, "set-box-length", "240")
    assert "changed in another window" in other.locator("#notices").inner_text()
    assert bench.bench.state.file.box.length == 200
    type_into(other, "set-box-length", "240")
    assert bench.bench.state.file.box.length == 240
    assert bench.bench.state.file.joint.finger == 8


def test_on_a_slow_network_what_is_typed_meanwhile_stays(bench: Served) -> None:
    page = bench.open("/box/sled", 1280)

    def slowly(route: Route) -> None:
        time.sleep(0.6)
        route.continue_()

    page.route("**/box/**", slowly)
    tab_to(page, "set-joint-finger")
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type("8")
    page.keyboard.press("Tab")  # sends
    tab_to(page, "set-joint-clearance")
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type("0.1")
    page.wait_for_timeout(900)  # the answer to the first comes in the middle of the second
    page.keyboard.type("5")
    page.keyboard.press("Enter")
    page.wait_for_timeout(900)
    settled(page)
    made = bench.bench.state.file.joint
    assert (made.finger, made.clearance) == (8, 0.15)


def test_a_hostile_file_is_refused_and_nothing_is_lost(bench: Served) -> None:
    page = bench.open("/box/lid", 1280)
    type_into(page, "set-lid-overhang", "4")
    hostile = (
        b'<?xml version="1.0"?><!DOCTYPE svg [<!ENTITY a "x">]>'
        b'<svg xmlns="http://www.w3.org/2000/svg" onload="ran=1"><script>ran=1</script></svg>'
    )
    page.locator("#opens").set_input_files({"name": "../../leaf.svg", "mimeType": "image/svg+xml", "buffer": hostile})
    page.locator("#told").wait_for()
    assert page.evaluate("window.ran") is None
    assert bench.bench.state.file.lid
    assert bench.bench.state.file.lid.overhang == 4
    page.locator("#opens").set_input_files(
        {"name": "big.pdf", "mimeType": "application/pdf", "buffer": b"0" * 8_000_001}
    )
    page.locator("#told", has_text="larger than 8 MB").wait_for()


def test_killed_and_started_again_it_goes_on_where_it_was(bench: Served, path: Path) -> None:
    context = bench.browser.new_context()
    page = context.new_page()
    with processes.bench(path, path.parent) as (running, address):
        page.goto(address)
        page.goto(page.url.replace("/wood", "/sled"))
        type_into(page, "set-joint-finger", "8")
        running.kill()
        running.wait()
        page.locator("#gone:not([hidden])").wait_for(timeout=20_000)
        assert "Nothing is lost." in page.locator("#gone").inner_text()
    assert reading.load(path).joint.finger == 10
    with processes.bench(path, path.parent) as (_, address):
        again = context.new_page()
        again.goto(address)
        assert "Last time you ended without saving." in again.locator("#notices").inner_text()
        again.goto(again.url.replace("/wood", "/sled"))
        assert again.locator("#set-joint-finger").input_value() == "8"


def test_ctrl_c_ends_it_at_once(path: Path) -> None:
    needs("signals of this system", hasattr(signal, "SIGINT") and sys.platform != "win32")
    with processes.bench(path, path.parent) as (running, address):
        assert address.startswith("http://127.0.0.1:")
        running.send_signal(signal.SIGINT)
        begin = time.monotonic()
        running.wait(timeout=10)
        assert time.monotonic() - begin < 5
        assert running.returncode == 0


# -- whoever looks, and on what ------------------------------------------------------------------------------------


@pytest.mark.parametrize("scheme", ["light", "dark"])
def test_axe_finds_nothing(bench: Served, scheme: Any) -> None:
    """By axe-core, with its rules for WCAG and for good practice: contrast, names, headings, landmarks."""
    for one in SET_UPS:
        page = bench.open(f"/box/{one.name}", 1280, scheme)
        drawn(page)
        assert axe(page) == [], one.name
        page.context.close()


@pytest.mark.parametrize("width", [360, 640, 800, 1160, 1280])
def test_nothing_is_wider_than_its_window(bench: Served, width: int) -> None:
    """640 is 1280 at 200 % zoom (WCAG 2.1, 1.4.4)."""
    for one in SET_UPS:
        page = bench.open(f"/box/{one.name}", width)
        drawn(page)
        assert fits(page), one.name
        page.context.close()


def test_on_a_phone_the_way_goes_on(bench: Served) -> None:
    page = bench.open("/box/sled", 360)
    type_into(page, "set-joint-clearance", "0.02")
    drawn(page)
    box = page.locator("#undo").bounding_box()
    assert box
    assert box["y"] + box["height"] <= 900
    page.locator("button.way", has_text="Set the clearance to 0.1 mm").click()
    settled(page)
    assert bench.bench.state.file.joint.clearance == 0.1
    page.locator("#stick a[href='/box/groove']").click()
    page.wait_for_url("**/box/groove")
    drawn(page)


def test_touch_has_room(bench: Served) -> None:
    """What is pressed is 44 px high at least (WCAG 2.1, 2.5.5), but for links in a sentence."""
    page = bench.open("/box/sled", 360)
    drawn(page)
    small = page.evaluate(
        "[...document.querySelectorAll('button, input:not([type=file]), summary, #stick a, .cards a, nav a')]"
        ".filter(one => one.offsetParent)"
        ".map(one => [one.outerHTML.slice(0, 80), (one.closest('label.flag, .choices label') ?? one)"
        ".getBoundingClientRect().height]).filter(([, high]) => high < 37.9)"
    )
    assert small == []


def test_what_is_said_is_said_aloud(bench: Served) -> None:
    """One live region says what moved, politely (bench.md); another says what was done or refused."""
    page = bench.open("/box/sled", 1280)
    assert page.locator("[aria-live=polite]").count() == 1
    assert page.locator("#notices").get_attribute("role") == "status"
    type_into(page, "set-joint-finger", "8")
    moved = page.locator("[aria-live=polite]").inner_text()
    assert "Finger" in moved
    assert json.dumps(moved)
