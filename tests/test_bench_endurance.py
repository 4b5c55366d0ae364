"""A bench under random use for as long as is asked for, killed at any moment, and beside another one.

`JIGLEAF_MINUTES=60 JIGLEAF_MOMENTS=200 pytest tests/test_bench_endurance.py -n 0` is an hour of it and 200 moments.
"""

from __future__ import annotations

import contextlib
import http.client
import json
import os
import random
import re
import signal
import sys
import threading
import time
from collections.abc import Iterator
from dataclasses import dataclass, field
from pathlib import Path
from urllib.parse import urlsplit

import pytest

from jigs.box.set_ups import SET_UPS
from jigs.boxfile import reading
from tests import processes
from tests.boxes import SAMPLES
from tests.conftest import needs

pytestmark = pytest.mark.slow
MINUTES = float(os.environ.get("JIGLEAF_MINUTES", "0.25"))
MOMENTS = int(os.environ.get("JIGLEAF_MOMENTS", "4"))
_LENGTHS = {
    "box.length": (150, 300), "box.width": (100, 200), "box.height": (80, 130), "sides.thickness": (9, 14),
    "joint.clearance": (0, 0.3), "joint.proud": (0, 0.8), "groove.from_bottom": (8, 14), "lid.overhang": (0, 9),
    "lid.crown": (0, 7), "handle.length": (80, 100), "shell.width": (40, 70), "stock.kerf": (2, 4),
}  # fmt: skip
_REFUSED = ("-3", "x", "1e9", "", "12 12", "0", "99999 mm")
_WOODS = ("black walnut", "sugar maple", "kersen", "white oak")


@dataclass
class Visitor:
    """Somebody at a page of a bench: what was said to have been done is kept, to be compared with what is there."""

    address: str
    cookie: str = ""
    version: int = 0

    def __post_init__(self) -> None:
        answer = self._ask("GET", f"/?{urlsplit(self.address).query}")
        self.cookie = answer.headers["Set-Cookie"].partition(";")[0]
        self.see("/box/wood")

    def _ask(self, how: str, where: str, body: bytes = b"", kind: str = "") -> http.client.HTTPResponse:
        at = urlsplit(self.address)
        headers = {"Cookie": self.cookie, "Origin": f"http://{at.netloc}", **({"Content-Type": kind} if kind else {})}
        with contextlib.closing(http.client.HTTPConnection(at.hostname or "", at.port or 0, timeout=60)) as line:
            line.request(how, where, body or None, headers)
            answer = line.getresponse()
            with contextlib.closing(answer):
                answer.content = answer.read()  # type: ignore[attr-defined]
        return answer

    def see(self, where: str) -> tuple[int, str]:
        """Return a page or a part of one, and how it was answered."""
        answer = self._ask("GET", where)
        return answer.status, self._said(answer)

    def do(self, where: str, **what: object) -> tuple[int, str]:
        """Do something at a page; return how it was answered, and with what."""
        body = json.dumps({"version": self.version, **what}).encode()
        answer = self._ask("POST", where, body, "application/json")
        return answer.status, self._said(answer)

    def _said(self, answer: http.client.HTTPResponse) -> str:
        said = bytes(answer.content).decode(errors="replace")  # type: ignore[attr-defined]
        if found := re.search(r'data-version="(\d+)"', said):
            self.version = int(found[1])
        return said

    @property
    def text(self) -> str:
        """The box file as it is handed out."""
        status, said = self.see("/file")
        assert status == 200
        return said


@dataclass
class Work:
    """Random work at a bench, and what the box file must be after every step of it."""

    visitor: Visitor
    file: Path
    dice: random.Random
    past: list[str] = field(default_factory=list)
    at: int = 0
    done: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.past = [self.visitor.text]

    @property
    def copy(self) -> Path:
        """The copy of the last state."""
        return self.file.with_name(f".{self.file.name}.unsaved")

    def step(self) -> None:
        """Do one thing, and compare what is there with what was done. A window says that it is there, as pages do."""
        assert self.visitor.see("/alive?window=one")[0] == 200
        name = self.dice.choices(
            ("type", "refused", "undo", "redo", "save", "look", "part", "row", "print"),
            (40, 8, 12, 8, 5, 40, 4, 4, 1),
        )[0]
        self.done[name] = self.done.get(name, 0) + 1
        getattr(self, f"_{name}")()
        assert self.visitor.text == self.past[self.at]
        kept = self.copy.read_text() if self.copy.exists() else self.file.read_text()
        assert kept == self.past[self.at]

    def _changed(self, where: str, **what: object) -> str:
        """Send what changes the box, or is refused; what undo goes back to is what was there."""
        status, said = self.visitor.do(where, **what)
        assert status == 200, said[-2000:]
        now = self.visitor.text
        if now != self.past[self.at]:
            del self.past[self.at + 1 :]
            self.past.append(now)
            self.at += 1
        return now

    def _type(self) -> None:
        key, (low, high) = self.dice.choice(list(_LENGTHS.items()))
        section, _, name = key.partition(".")
        typed = f"{self.dice.uniform(low, high):.2f}"
        file = reading.read(self.past[self.at], "box.toml")
        if getattr(file, section) is None:
            return
        now = self._changed(_page_of(section), do="type", typed={key: typed})
        held = getattr(getattr(reading.read(now, "box.toml"), section), name)
        assert held == pytest.approx(float(typed)), f"{key}: {typed} was typed, and {held} is there"

    def _refused(self) -> None:
        key = self.dice.choice((*_LENGTHS, "sides.species"))
        typed = self.dice.choice(_WOODS if key == "sides.species" else _REFUSED)
        self._changed(_page_of(key.partition(".")[0]), do="type", typed={key: typed})

    def _undo(self) -> None:
        self.at = max(0, self.at - 1)
        self.visitor.do("/box/wood", do="undo")

    def _redo(self) -> None:
        self.at = min(len(self.past) - 1, self.at + 1)
        self.visitor.do("/box/wood", do="redo")

    def _save(self) -> None:
        self.visitor.do("/box/wood", do="save")
        assert self.file.read_text() == self.past[self.at]
        assert not self.copy.exists()

    def _look(self) -> None:
        one = self.dice.choice(SET_UPS).name
        for part in ("box", "pages", "picture", "again"):
            status, _ = self.visitor.see(f"/{part}/{one}")
            assert status == 200
        where = self.dice.choice(("/joint", "/class", "/printer", "/jigs", "/jigs/dividers", "/new"))
        assert self.visitor.see(where)[0] == 200

    def _part(self) -> None:
        part = self.dice.choice(("shell", "handle"))
        there = getattr(reading.read(self.past[self.at], "box.toml"), part) is not None
        self._changed("/box/handle", do="drop-part" if there else "add-part", part=part)

    def _row(self) -> None:
        rack = reading.read(self.past[self.at], "box.toml").stock
        if rack and len(rack.boards) > 5:
            self._changed("/box/wood", do="drop-row", list="stock.boards", row=0)
        else:
            board = {"length": "900", "width": "120", "thickness": "15", "planed": "yes"}
            self._changed("/box/wood", do="add-row", list="stock.boards", typed=board)

    def _print(self) -> None:
        assert self.visitor.see("/print/cards.pdf")[0] in (200, 409)


def _page_of(section: str) -> str:
    return next(f"/box/{one.name}" for one in SET_UPS if section in one.sections)


@pytest.fixture
def file(tmp_path: Path) -> Path:
    made = tmp_path / "card-box.toml"
    made.write_bytes(SAMPLES[0].read_bytes())
    return made


def _memory(process: int) -> int:
    """Return the memory of a process that is in use, bytes."""
    status = Path(f"/proc/{process}/status").read_text()
    return int(re.search(r"VmRSS:\s+(\d+)", status)[1]) * 1024  # type: ignore[index]


def test_random_use_loses_nothing_and_grows_nothing(file: Path) -> None:
    """Over five minutes and more, memory in the last tenth is at most a tenth more than in the first fifth."""
    needs("/proc, which tells the memory of a process", sys.platform == "linux")
    with processes.bench(file, file.parent) as (running, address):
        work = Work(Visitor(address), file, random.Random(2211))
        begin, after = time.monotonic(), 60 * MINUTES
        early, late, steps = 0, 0, 0
        while (passed := time.monotonic() - begin) < after:
            work.step()
            steps += 1
            if passed < after / 5:
                early = max(early, _memory(running.pid))
            elif passed > after * 0.9:
                late = max(late, _memory(running.pid))
            if MINUTES > 1:
                time.sleep(work.dice.uniform(0, 0.3))  # somebody who thinks
        assert MINUTES < 5 or late <= early * 1.1, (early, late)
        assert running.poll() is None
    print(f"{steps} steps, {work.done}, {len(work.past)} states; {early / 1e6:.0f} MB early, {late / 1e6:.0f} MB late")


def _killed_after(file: Path, seconds: float, dice: random.Random) -> Iterator[str]:
    """Yield each state that a bench has said it has, until it is killed in the midst of the work."""
    with processes.bench(file, file.parent) as (running, address):
        work = Work(Visitor(address), file, dice)
        timer = threading.Timer(seconds, lambda: running.send_signal(signal.SIGKILL))
        timer.start()
        yield work.past[0]
        try:
            while True:
                key, (low, high) = dice.choice(list(_LENGTHS.items()))
                section = key.partition(".")[0]
                work.visitor.do(_page_of(section), do="type", typed={key: f"{dice.uniform(low, high):.2f}"})
                yield work.visitor.text
                if dice.random() < 0.2:
                    work.visitor.do("/box/wood", do="save")
        except (OSError, http.client.HTTPException):
            running.wait()
        finally:
            timer.cancel()


def test_killed_at_any_moment_nothing_that_was_shown_is_lost(file: Path) -> None:
    """What is there afterwards is the last state that was shown, or the one that was being made."""
    dice = random.Random(2212)
    for _ in range(MOMENTS):
        states = list(_killed_after(file, dice.uniform(0.05, 1.5), dice))
        assert not [one for one in file.parent.iterdir() if one.name.startswith(".jigleaf-") and one.suffix == ".toml"]
        with processes.bench(file, file.parent) as (_, address):
            now = Visitor(address).text
        reading.read(now, "card-box.toml")
        if now != states[-1]:  # one more change had been made, and its answer was cut off
            changed = [(a, b) for a, b in zip(now.splitlines(), states[-1].splitlines(), strict=True) if a != b]
            assert len(changed) == 1, changed


def test_a_second_bench_on_a_file_is_told_where_the_first_is(file: Path) -> None:
    with processes.bench(file, file.parent) as (first, address):
        ended = processes.run("bench", str(file), "--no-browser", cwd=file.parent)
        assert ended.code == 3
        port = urlsplit(address).port
        assert f"Can't open card-box.toml: it is on a bench already, at http://127.0.0.1:{port}/." in ended.said
        assert "token" not in ended.said
        first.send_signal(signal.SIGKILL)
        first.wait()
        with processes.bench(file, file.parent) as (_, again):
            assert again.startswith("http://127.0.0.1:")


def test_two_benches_on_copies_of_one_file_do_not_meet(file: Path) -> None:
    other = file.with_name("other.toml")
    other.write_bytes(file.read_bytes())
    with processes.bench(file, file.parent) as (_, one), processes.bench(other, file.parent) as (_, two):
        first, second = Visitor(one), Visitor(two)
        first.do("/box/lid", do="type", typed={"lid.overhang": "6"})
        second.do("/box/lid", do="type", typed={"lid.overhang": "7"})
        assert first.text != second.text
        assert "overhang = 6" in first.text
        first.address = two  # the cookie of one bench opens no other
        assert first.see("/file")[0] == 403
