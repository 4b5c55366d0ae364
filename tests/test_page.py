"""The pages of a class: what they say comes back letter by letter, nothing runs or loads, sheets print true to size."""

from __future__ import annotations

import hashlib
import io
import os
import re
from base64 import b64encode
from collections.abc import Iterator
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path
from typing import Any
from urllib.parse import unquote

import pdfplumber
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from playwright.sync_api import BrowserContext, ConsoleMessage, Page, Request, sync_playwright
from pypdf import PdfReader

from jigs.course.sizes import Sizes
from jigs.record import replace
from layout.course import html
from layout.course.html import File, Student, Task
from layout.sheet.marks import Bundle, Sheet
from tests.conftest import needs, sled_sheets

pytestmark = pytest.mark.slow

SIZES = (Sizes("Box", (("Outside", "200 mm × 150 mm × 89.68 mm"),)), Sizes("Fingers", (("Gap", "9.92 mm"),)))
STEPS = (
    "Plane all sides to one thickness, 12 mm.",
    'Set the gap to 9.92 mm <b>&amp; "sign"</b>.',
    "Dry fit, then glue.",
)
TASKS = (
    Task("Card 1: Stock <i>", ("Hands: Keep them off the blade.",), STEPS[:1]),
    Task("Card 2: Set & fit", (), STEPS[1:]),
)
CAUTIONS = ("Eyes, ears, dust.", "One person at a machine; all others behind the line.")
NAMES = [
    "Marta Eikeland",
    "Łukasz Żółć",
    "Nguyễn Thị Ánh",
    "Тарас Коваль",
    "שלום כהן",
    "محمد علي",
    "Ann \u202egnorw",
    'x"y\'z <img src=x onerror="window.ran=1">',
    "</script><script>window.ran=1</script>",
    "</title></style><svg onload=window.ran=1>",
    "Ann\nLee\r\nand\rmore",
    "&lt;&amp;&#x3c;",
    "javascript:window.ran=1//",
    "e" * 300,
]


def about(name: str, number: int = 1) -> Student:
    """Return a student whose files have every letter in their names that a link may trip over."""
    stem = f"a #{number}?%41 & b:c"
    return Student(name, f"abc{number}", SIZES, TASKS, f"{stem}.html", (File(f"{stem}.pdf", "Sheets as PDF, A4"),))


def written(students: list[Student]) -> str:
    to = io.BytesIO()
    html.teacher("Recipe box", CAUTIONS, [File("plan.pdf", "The plan, as PDF")], students, to)
    return to.getvalue().decode()


@pytest.fixture(scope="module")
def bundle() -> Bundle:
    """Templates of two papers, upright and lying, and a card; two of them hold clips of the same names."""
    tiled, lying = sled_sheets("A4", board=300.0), sled_sheets("420x297 mm")
    clipped = [sheet for sheet in tiled.sheets if any(group.clip for group in sheet.groups())]
    sheets = (*clipped[:2], lying.sheets[-1], tiled.sheets[0])
    return replace(tiled, sheets=tuple(replace(sheet, number=n) for n, sheet in enumerate(sheets, 1)))


@pytest.fixture(scope="module")
def empty(bundle: Bundle) -> Bundle:
    """A sheet with nothing on it, to be quick."""
    return replace(bundle, sheets=(replace(bundle.sheets[0], layers=()),))


# -- what is written, read again


class Reader(HTMLParser):
    """Reads a page: the text of each kind of element, attributes, and every id."""

    def __init__(self, written: str) -> None:
        super().__init__(convert_charrefs=True)
        self.texts: dict[str, list[str]] = {}
        self.attributes: list[tuple[str, dict[str, str | None]]] = []
        self.open: list[str] = []
        self.feed(written)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes.append((tag, dict(attrs)))
        if tag not in {"meta", "input"}:
            self.open.append(tag)
            self.texts.setdefault(tag, []).append("")

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.attributes.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        for tag in self.open:
            self.texts[tag][-1] += data

    def found(self, name: str) -> list[str]:
        return [said for _, attributes in self.attributes if (said := attributes.get(name)) is not None]


@given(st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\0"), min_size=1, max_size=60))
@example("</script><!--")
@example("\r\n\x0b\x85\u2028\ufeff")
def test_any_name_comes_back_letter_by_letter(empty: Bundle, name: str) -> None:
    read = Reader(written([about(name)]))
    assert read.texts["h3"] == [name]
    assert read.texts["bdi"] == [*[f", {name}"] * 3, name]
    assert read.open == []
    own = Reader(html.student(about(name), name, CAUTIONS, empty).decode())
    assert own.texts["h1"] == [name]
    assert own.texts["title"][0] == f"{name} – {name}"


def test_what_is_no_character_stands_as_the_sign_for_it() -> None:
    assert Reader(written([about("a\0b")])).texts["h3"] == ["a\ufffdb"]
    assert Reader(written([about("a\ud800b")])).texts["h3"] == ["a?b"]


def test_links_lead_to_the_files_beside_the_page() -> None:
    read = Reader(written([about("Marta")]))
    links = [link for link in read.found("href") if not link.startswith("#")]
    assert [unquote(link) for link in links] == ["./plan.pdf", "./a #1?%41 & b:c.html", "./a #1?%41 & b:c.pdf"]
    assert all(re.fullmatch(r"[\w./%-]+", link) for link in links)


def test_ids_are_unique_and_what_is_referred_to_is_there(bundle: Bundle) -> None:
    text = html.student(about("Marta"), "Recipe box", CAUTIONS, bundle).decode()
    read = Reader(text)
    ids = read.found("id")
    assert len(ids) == len(set(ids))
    named = [*read.found("aria-labelledby"), *read.found("aria-describedby"), *read.found("for")]
    named += [link[1:] for link in read.found("href") if link.startswith("#")]
    named += [name for name in read.found("data-print") if name]
    clips = re.findall(r"url\(#([^)]*)\)", text)
    assert clips
    assert set(named) | set(clips) <= set(ids)
    assert not set(read.found("style"))
    assert "<?xml" not in text
    assert "xmlns" not in text
    assert read.texts["title"][1:] == [sheet.title for sheet in bundle.sheets]


def test_only_what_is_written_here_may_run_or_load(bundle: Bundle) -> None:
    """Content Security Policy level 3, 8.2: the digest of what stands between the tags."""
    for text in (written([about("Marta")]), html.student(about("Marta"), "Box", CAUTIONS, bundle).decode()):
        (policy,) = [found for found in Reader(text).found("content") if found.startswith("default-src")]
        parts = []
        for kind in ("style", "script"):
            (content,) = re.findall(f"<{kind}>(.*?)</{kind}>", text, re.S)
            parts.append(f"{kind}-src 'sha256-{b64encode(hashlib.sha256(content.encode()).digest()).decode()}'")
        assert policy == f"default-src 'none'; {'; '.join(parts)}; base-uri 'none'; form-action 'none'"


def test_rows_that_were_refused_are_listed_with_their_reason() -> None:
    said = "row 3 (<b>Ilse</b>), column B: '=x' has no number in it"
    to = io.BytesIO()
    html.teacher("Recipe box", CAUTIONS, [], [about("Marta")], to, [said])
    read = Reader(to.getvalue().decode())
    assert said in read.texts["li"]
    assert "Faulty rows" in read.texts["h2"]
    assert "Faulty rows" not in Reader(written([about("Marta")])).texts["h2"]


def test_a_students_own_numbers_come_first_and_cautions_stay_short(bundle: Bundle) -> None:
    """What is dangerous about a card stands closed with the card; open are only the cautions of every class."""
    read = Reader(html.student(about("Marta"), "Recipe box", CAUTIONS, bundle).decode())
    assert read.texts["h2"] == ["Numbers", "Cautions", "Steps, card by card", "Sheets, by name", "Sheets"]
    assert read.texts["details"] == ["\nCautions of Card 1: Stock <i>, Marta\n\nHands: Keep them off the blade.\n\n"]
    assert [words for words in read.texts["li"] if words in CAUTIONS] == list(CAUTIONS)


def test_a_student_is_written_before_the_next_is_asked_for() -> None:
    to = io.BytesIO()

    def students() -> Iterator[Student]:
        for number in range(3):
            assert (number == 0) or f"Student {number - 1}<".encode() in to.getvalue()
            yield about(f"Student {number}", number)

    html.teacher("Box", CAUTIONS, [], students(), to)
    assert b"Student 2<" in to.getvalue()


# -- in a browser


@dataclass
class Browser:
    """One browser for all these tests, the pages it opens, and what they asked for or complained of."""

    context: BrowserContext
    folder: Path
    said: list[str]

    def open(self, name: str, **size: int) -> Page:
        opened = self.context.new_page()
        if size:
            opened.set_viewport_size({"width": size["width"], "height": 800})
        opened.goto((self.folder / name).as_uri())
        return opened


FLAGS = ["--headless", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking"]
FLAGS += ["--disable-component-update", "--disable-sync"]


@pytest.fixture(scope="module")
def browser(
    chromium: str, bundle: Bundle, empty: Bundle, tmp_path_factory: pytest.TempPathFactory
) -> Iterator[Browser]:
    folder = tmp_path_factory.mktemp("page")
    everyone = io.BytesIO()
    files = [File("plan.pdf", "The plan, as PDF")]
    html.teacher("Recipe box", CAUTIONS, files, (about(name, i) for i, name in enumerate(NAMES)), everyone, NAMES)
    (folder / "index.html").write_bytes(everyone.getvalue())
    (folder / "marta.html").write_bytes(html.student(about("Marta Eikeland"), "Recipe box", CAUTIONS, bundle))
    for i, name in enumerate(NAMES):
        (folder / f"{i}.html").write_bytes(html.student(about(name, i), name, CAUTIONS, empty))
    with sync_playwright() as driver:
        context = driver.chromium.launch_persistent_context(
            folder / "profile", executable_path=chromium, args=FLAGS, chromium_sandbox=False, headless=True
        )
        made = Browser(context, folder, [])

        def heard(message: ConsoleMessage) -> None:
            made.said.append(message.text)

        def asked(request: Request) -> None:
            if not request.is_navigation_request() or not request.url.startswith("file:"):
                made.said.append(request.url)

        context.on("console", heard)
        context.on("weberror", lambda error: made.said.append(str(error.error)))
        context.on("request", asked)
        yield made
        context.close()


@pytest.fixture(autouse=True)
def nothing_said(request: pytest.FixtureRequest) -> Iterator[None]:
    """No page says anything to the console or asks for anything but itself."""
    yield
    if "browser" in request.fixturenames:
        assert request.getfixturevalue("browser").said == []


@pytest.mark.parametrize(
    ("words", "names"),
    [
        ("eikel", ["Marta Eikeland"]),
        ("LUKASZ zol", ["Łukasz Żółć"]),
        ("łukasz", ["Łukasz Żółć"]),
        ("anh nguyen", ["Nguyễn Thị Ánh"]),
        ("коваль", ["Тарас Коваль"]),
        ("taras", ["Тарас Коваль"]),
        ("שלום", ["שלום כהן"]),
        ("nobody", []),
    ],
)
def test_a_student_is_found_by_name(browser: Browser, words: str, names: list[str]) -> None:
    opened = browser.open("index.html")
    opened.get_by_label("Find by name").fill(words)
    assert [h.inner_text() for h in opened.locator("h3:visible").all()] == names
    assert opened.get_by_role("status").filter(visible=True).inner_text() == f"{len(names)} of {len(NAMES)} shown"
    opened.close()


def test_ticks_stay_and_belong_to_one_student_at_one_revision(browser: Browser) -> None:
    opened = browser.open("marta.html")
    opened.get_by_label("Plane all sides").check()
    opened.get_by_label("Dry fit").check()
    opened.get_by_label("Dry fit").uncheck()
    opened.reload()
    assert [box.is_checked() for box in opened.get_by_role("checkbox").all()] == [True, False, False]
    assert not opened.locator("#unkept").is_visible()
    opened.close()
    index = browser.open("index.html")  # the same box, the second student of the list
    assert index.locator("input:checked").count() == 1
    assert index.locator(".student").nth(1).locator("input:checked").count() == 1
    index.close()


@pytest.mark.parametrize("refused", ["getter", "setter"])
def test_where_nothing_is_kept_boxes_tick_and_the_page_says_so(browser: Browser, refused: str) -> None:
    opened = browser.context.new_page()
    error = "throw new DOMException('no', 'SecurityError')"
    getter = f"Object.defineProperty(window, 'localStorage', {{ get() {{ {error} }} }})"
    opened.add_init_script(getter if refused == "getter" else f"Storage.prototype.setItem = () => {{ {error} }}")
    opened.goto((browser.folder / "0.html").as_uri())
    opened.get_by_label("Dry fit").check()
    assert opened.get_by_label("Dry fit").is_checked()
    assert (
        opened.locator("#unkept").inner_text()
        == "This browser stores nothing: your ticks will be lost when you close the page."
    )
    opened.close()


def test_names_run_nothing(browser: Browser) -> None:
    opened = browser.context.new_page()
    for i, name in enumerate(NAMES):
        opened.goto((browser.folder / f"{i}.html").as_uri())
        assert opened.evaluate("window.ran") is None
        assert opened.evaluate("document.querySelector('h1').textContent") == name
    opened.close()
    index = browser.open("index.html")
    assert index.evaluate("window.ran") is None
    assert index.evaluate("[...document.querySelectorAll('h3')].map(h => h.textContent)") == NAMES
    assert index.locator("img, svg, script").count() == 1
    index.close()


def test_what_is_not_written_here_does_not_run(browser: Browser) -> None:
    """The policy holds: a script put in later is refused, and the browser says so."""
    opened = browser.open("marta.html")
    add = "(() => { const s = document.createElement('script'); s.textContent = 'window.ran = 1'; "
    opened.evaluate(f"{add} document.body.append(s); document.body.style.cssText; }})()")
    assert opened.evaluate("window.ran") is None
    assert len(browser.said) == 1
    assert "Content Security Policy" in browser.said.pop()
    opened.close()


def printed(opened: Page) -> bytes:
    """Print as a person does who leaves the margins of the browser as they are."""
    sides: Any = dict.fromkeys(("top", "right", "bottom", "left"), "10mm")
    return opened.pdf(prefer_css_page_size=True, margin=sides)


Sides = tuple[float, float]


def lines_of(content: bytes) -> list[tuple[Sides, list[Sides]]]:
    """Return of each page its width and height, and those of all lines on it, in mm."""
    found = []
    with pdfplumber.open(io.BytesIO(content)) as document:
        for page in document.pages:
            lines = [*page.lines, *page.rects, *page.curves]
            sizes = [(line["width"] * 25.4 / 72, line["height"] * 25.4 / 72) for line in lines]
            found.append(((float(page.width) * 25.4 / 72, float(page.height) * 25.4 / 72), sizes))
    return found


def edges_of(sheet: Sheet) -> list[Sides]:
    """Return the calibrated edges of a template, across and up, in mm; none of a card."""
    named = {group.name: group for group in sheet.groups()}
    edges = [
        named[name].strokes[0].shape.bounds for name in ("calibration-bottom", "calibration-left") if name in named
    ]
    return [(edge.width, edge.height) for edge in edges]


def check_print(content: bytes, sheets: tuple[Sheet, ...]) -> None:
    """A page is a whole number of dots of 1/72 in wide; the edges of templates are true to a fiftieth of a mm."""
    found = lines_of(content)
    assert len(found) == len(sheets)
    for (sides, lines), sheet in zip(found, sheets, strict=True):
        assert sides == pytest.approx((sheet.paper.width, sheet.paper.height), abs=25.4 / 72)
        for edge in edges_of(sheet):
            assert max(edge) >= 180
            assert [line for line in lines if line == pytest.approx(edge, abs=0.02)] != []


def test_sheets_print_true_to_size_one_on_each_page(browser: Browser, bundle: Bundle) -> None:
    opened = browser.open("marta.html")
    assert len({(sheet.paper.width, sheet.paper.height) for sheet in bundle.sheets}) > 1
    assert [len(edges_of(sheet)) for sheet in bundle.sheets] == [2, 2, 2, 0]
    check_print(printed(opened), bundle.sheets)
    opened.close()


def test_one_sheet_prints_alone(browser: Browser, bundle: Bundle) -> None:
    opened = browser.open("marta.html")
    opened.evaluate("window.print = () => {}")
    opened.get_by_role("button", name="Print this sheet").nth(1).click()
    check_print(printed(opened), bundle.sheets[1:2])
    opened.evaluate("dispatchEvent(new Event('afterprint'))")
    opened.get_by_role("button", name="Print all sheets").click()
    assert len(PdfReader(io.BytesIO(printed(opened))).pages) == len(bundle.sheets)
    opened.close()


def test_phones_are_sent_to_the_pdf(browser: Browser) -> None:
    opened = browser.open("marta.html", width=360)
    assert opened.get_by_text("A phone changes the size of what it prints. Print the PDF from a computer.").is_visible()
    opened.set_viewport_size({"width": 1440, "height": 900})
    assert not opened.get_by_text(
        "A phone changes the size of what it prints. Print the PDF from a computer."
    ).is_visible()
    opened.close()


@pytest.mark.parametrize("name", ["index.html", "marta.html"])
def test_nothing_is_wider_than_a_phone(browser: Browser, name: str) -> None:
    opened = browser.open(name, width=360)
    opened.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
    assert opened.evaluate("document.documentElement.scrollWidth") == 360
    opened.close()


@pytest.mark.parametrize("name", ["index.html", "marta.html"])
def test_all_can_be_reached_with_the_keyboard(browser: Browser, name: str) -> None:
    opened = browser.open(name)
    opened.keyboard.press("Tab")
    assert opened.evaluate("document.activeElement.className") == "skip"
    reached = set()
    chosen = "a[href], button, input, summary"
    count = opened.locator(f":is({chosen}):visible").count()
    for _ in range(count + 1):
        reached.add(opened.evaluate(f"[...document.querySelectorAll('{chosen}')].indexOf(document.activeElement)"))
        opened.keyboard.press("Tab")
    assert len(reached - {-1}) == count
    opened.close()


@pytest.mark.parametrize("scheme", ["light", "dark"])
@pytest.mark.parametrize("name", ["index.html", "marta.html"])
def test_axe_finds_nothing(browser: Browser, name: str, scheme: Any) -> None:
    """By axe-core, with its rules for WCAG and for good practice: contrast, names, headings, landmarks."""
    script = Path(os.environ.get("JIGLEAF_AXE", "not given"))
    needs("axe-core (npm install axe-core; JIGLEAF_AXE is the path of its axe.min.js)", script.is_file())
    opened = browser.open(name, width=820)
    opened.emulate_media(color_scheme=scheme)
    opened.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
    opened.evaluate(script.read_text(encoding="utf-8"))
    found = opened.evaluate("axe.run()")
    assert [(v["id"], [node["html"][:200] for node in v["nodes"]]) for v in found["violations"]] == []
    assert {check["id"] for check in found["passes"]} >= {"color-contrast", "region", "heading-order"}
    opened.close()
