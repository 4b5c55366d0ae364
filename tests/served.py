"""A bench that is served to a real browser, and what is looked at in it."""

from __future__ import annotations

import os
import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from playwright.sync_api import Browser, Page, sync_playwright
from waitress.server import create_server

from layout.bench.guard import Guard
from layout.bench.kept import Kept
from layout.bench.page import Bench
from layout.bench.server import make_app
from layout.bench.state import State
from tests.conftest import needs


@dataclass
class Served:
    """A bench on a port of this computer, a browser, and what that complained of."""

    bench: Bench
    browser: Browser
    said: list[str]

    def open(self, where: str, width: int, scheme: Any = "light") -> Page:
        """Open a page of the bench in a window of its own."""
        context = self.browser.new_context(viewport={"width": width, "height": 900}, color_scheme=scheme)
        page = context.new_page()
        page.on("console", lambda message: self.said.append(message.text))
        page.on("pageerror", lambda error: self.said.append(str(error)))
        page.goto(self.bench.guard.address)
        page.goto(f"http://127.0.0.1:{self.bench.guard.port}{where}")
        return page


@contextmanager
def served(path: Path, chromium: str) -> Iterator[Served]:
    """Serve a box file, and have a browser that looks at it."""
    at = socket.create_server(("127.0.0.1", 0))
    bench = Bench(State.opened(Kept(path)), Guard(at.getsockname()[1]))
    server = create_server(make_app(bench), sockets=[at], threads=4, ident=None)
    threading.Thread(target=server.run, daemon=True).start()
    with sync_playwright() as driver:
        browser = driver.chromium.launch(executable_path=chromium)
        try:
            yield Served(bench, browser, [])
        finally:
            browser.close()
            server.close()


def settled(page: Page) -> None:
    """Wait until what was sent is shown."""
    page.wait_for_timeout(50)
    page.locator("body:not([aria-busy])").wait_for(state="attached")


def tab_to(page: Page, identity: str, most: int = 120) -> None:
    """Go on with the Tab key until an element has the focus."""
    for _ in range(most):
        if page.evaluate("document.activeElement.id") == identity:
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"{identity} is not reached with the Tab key")


def fits(page: Page) -> bool:
    """Whether nothing of the page is wider than its window."""
    return bool(page.evaluate("document.documentElement.scrollWidth <= innerWidth"))


def axe(page: Page) -> list[tuple[str, list[str]]]:
    """Return what axe-core finds wrong with a page, by its rules for WCAG and for good practice."""
    script = Path(os.environ.get("JIGLEAF_AXE", "not given"))
    needs("axe-core (npm install axe-core; JIGLEAF_AXE is the path of its axe.min.js)", script.is_file())
    page.evaluate("document.querySelectorAll('details').forEach(d => { d.open = true })")
    page.evaluate(script.read_text(encoding="utf-8"))
    found = page.evaluate("axe.run()")
    return [(v["id"], [node["html"][:200] for node in v["nodes"]]) for v in found["violations"]]
