"""A bench without a browser: a client that has its cookie and sends what a page sends, and what its pages say."""

from __future__ import annotations

from base64 import b64encode
from collections.abc import Mapping
from dataclasses import dataclass
from html.parser import HTMLParser
from pathlib import Path
from typing import Any

from flask.testing import FlaskClient
from werkzeug.test import TestResponse

from layout.bench.guard import Guard
from layout.bench.kept import Kept
from layout.bench.page import Bench
from layout.bench.server import make_app
from layout.bench.state import State

PORT = 4711
_VOID = {"meta", "link", "input", "br"}


class Said(HTMLParser):
    """A page as it was read: every element with its attributes and the words in it."""

    def __init__(self, written: str) -> None:
        super().__init__(convert_charrefs=True)
        self.elements: list[tuple[str, dict[str, str | None], list[str]]] = []
        self._open: list[int] = []
        self.feed(written)
        self.close()

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs), []))
        if tag not in _VOID:
            self._open.append(len(self.elements) - 1)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.elements.append((tag, dict(attrs), []))

    def handle_endtag(self, tag: str) -> None:
        while self._open and self.elements[self._open.pop()][0] != tag:
            pass

    def handle_data(self, data: str) -> None:
        for place in self._open:
            self.elements[place][2].append(data)

    def all(self, tag: str = "", **wanted: str | None) -> list[tuple[dict[str, str | None], str]]:
        """Return the elements with these attributes (`data_do` is `data-do`): what they are, and their words."""
        asked = {name.rstrip("_").replace("_", "-"): value for name, value in wanted.items()}
        return [
            (attributes, " ".join("".join(words).split()))
            for found, attributes, words in self.elements
            if tag in ("", found) and all(attributes.get(name) == value for name, value in asked.items())
        ]

    def words(self, identity: str) -> str:
        """Return the words of the element of a name; nothing where there is none."""
        return next((said for _, said in self.all(id=identity)), "")

    def field(self, key: str) -> dict[str, str | None]:
        """Return the field of a setting; of a choice the word that is chosen."""
        found = [attributes for attributes, _ in self.all(data_key=key)]
        return next((one for one in found if "checked" in one), found[0])


@dataclass
class Client:
    """A page of a bench that is open."""

    bench: Bench
    http: FlaskClient

    @classmethod
    def at(cls, path: Path | None) -> Client:
        """Open a bench at a file; None for a new box."""
        bench = Bench(State.opened(Kept(path)), Guard(PORT))
        http = make_app(bench).test_client()
        http.set_cookie(bench.guard.cookie_name, bench.guard.cookie, domain="127.0.0.1")
        return cls(bench, http)

    def get(self, address: str) -> TestResponse:
        """Ask for an address."""
        return self.http.get(address, base_url=f"http://127.0.0.1:{PORT}")

    def post(self, address: str, what: Any) -> TestResponse:
        """Send anything at all."""
        base = f"http://127.0.0.1:{PORT}"
        return self.http.post(address, json=what, base_url=base, headers={"Origin": base})

    def see(self, address: str) -> Said:
        """Open a page that must be there."""
        answer = self.get(address)
        assert answer.status_code == 200, answer.text
        return Said(answer.text)

    def do(self, address: str, done: str, **what: Any) -> Said:
        """Do something on a page that shows itself again."""
        answer = self.post(address, {"do": done, "version": self.bench.state.version, **what})
        assert answer.status_code == 200, (answer.status_code, answer.text[:400])
        return Said(answer.text)

    def type(self, address: str, typed: Mapping[str, str]) -> Said:
        """Type into fields of a page."""
        return self.do(address, "type", typed=dict(typed))

    def drop(self, address: str, name: str, content: bytes) -> TestResponse:
        """Drop a file on a page."""
        said = b64encode(content).decode()
        return self.post(address, {"do": "open", "version": self.bench.state.version, "name": name, "content": said})
