"""The table of outside checks in DEVELOPERS.md: no older than the marks in the tests, written only by a whole run."""

from __future__ import annotations

import math
from collections.abc import Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import numpy as np
import pytest

from jigs.base.catalogue import catalogue
from tests import outside
from tests.outside import Check, Ledger, Tally, agree, compared

TABLE = Path(__file__).parent.parent / "DEVELOPERS.md"
CHECK = Check("Lengths, paper, letters", "a standard", "standard")


@pytest.fixture
def tally() -> Iterator[Tally]:
    """Record as in a marked test."""
    found = Tally()
    outside._open.append(found)
    yield found
    outside._open.pop()


def test_the_table_is_no_older_than_the_marks() -> None:
    written = TABLE.read_text().split(outside.BEGIN)[1].split(outside.END)[0].strip().splitlines()
    *rows, _, excuses = written
    cells = [tuple(cell.strip() for cell in row.strip("|").split(" | ")) for row in rows[2:]]
    assert [row[:3] for row in cells] == list(outside.first_cells().values()), (
        "pytest -m outside --checks=DEVELOPERS.md"
    )
    assert excuses == outside.without_a_row()
    assert len(cells) <= 64
    for row in cells:
        assert row[3].split(",")[0].isdigit() or row[3] == outside.AT_RANDOM


def test_every_jig_and_every_function_of_the_trade_is_named_or_excused() -> None:
    named = {name for subjects in outside.declared().values() for name in subjects}
    excused = {name for names in outside.EXCUSED.values() for name in names}
    functions = {outside.name_of(function) for function in outside.trade_functions()}
    assert len(functions) > 120
    assert functions - named == excused
    assert {f"jig {name}" for name in catalogue()} == {name for name in named if name.startswith("jig ")}


def test_a_comparison_is_counted_with_its_largest_difference(tally: Tally) -> None:
    agree(1.0, 1.2, 0.25, unit="mm")
    agree((3.0, math.inf), (3.1, math.inf), 0.25, unit="mm")
    agree({"a": 2.0}, {"a": 2.0}, unit="°")
    agree(np.array([[1.0, 2.0]]), np.array([[1.0, 2.5]]), 0.5, unit="%")
    compared(5)
    assert tally.count == 11
    assert tally.largest == {"mm": pytest.approx(0.2), "°": 0, "%": 0.5}
    assert tally.passes == {"mm": 0.25, "of the value": 1e-6, "%": 0.5}


def test_a_comparison_that_fails_says_what_where_and_by_how_much(tally: Tally) -> None:
    with pytest.raises(AssertionError, match=r"(?s)mm in March.*Obtained: 1\.0.*Expected: 1\.2 ± 0\.1"):
        agree(1.0, 1.2, 0.1, unit="mm", case="in March")
    assert tally.count == 0


def test_a_test_without_a_mark_can_not_compare() -> None:
    with pytest.raises(RuntimeError, match="marked as held against something outside"):
        compared(1)


@pytest.mark.parametrize(
    ("tallies", "values", "differences"),
    [
        ([Tally(count=3, largest={"mm": 0.01234})], "3", "0.012 mm"),
        ([Tally(count=3, largest={"mm": 1e-12}), Tally(count=1, largest={"°": 2e-7})], "4", "2e-7 °"),
        ([Tally(count=2, largest={"mm": 1e-12, "in": 0.0})], "2", "< 1e-9"),
        ([Tally(count=1, largest={"": 123.4})], "1", "120"),
        ([Tally(count=7)], "7", "—"),
        ([Tally(True, 9, {"mm": 5e-4}, {"mm": 1e-3})], "drawn at random", "at most 0.001 mm"),
        (
            [Tally(True, 9, {"mm": 5.0}, {"mm": 9.0}), Tally(count=2, largest={"mm": 0.5})],
            "2, more at random",
            "0.5 mm",
        ),
        ([Tally(True, 9)], "drawn at random", "—"),
    ],
)
def test_what_the_last_columns_say(tallies: list[Tally], values: str, differences: str) -> None:
    total = Tally()
    for one in tallies:
        total.add(one.as_data())
    assert (outside.values(total), outside.differences(total)) == (values, differences)


def report(check: Check = CHECK, count: int = 2, **changes: Any) -> Any:
    """Return what a worker reports of one marked test."""
    data = Tally(count=count, largest={"mm": 0.1}).as_data()
    properties = [("outside", [[check.what, check.source, check.kind], data])]
    told = {"when": "call", "passed": True, "skipped": False, "nodeid": "test_x", "keywords": {"outside": 1}}
    return SimpleNamespace(**(told | {"user_properties": properties} | changes))


@pytest.fixture
def page(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Return a page whose table has one row to write."""
    monkeypatch.setattr(outside, "declared", lambda: {CHECK: ["jig sled", "lid.plug", "lid.facets"]})
    path = tmp_path / "page.md"
    path.write_text(f"before\n{outside.BEGIN}\nold\n{outside.END}\nafter\n")
    return path


def test_a_whole_run_writes_the_table_between_its_marks(page: Path) -> None:
    ledger = Ledger(page, True)
    for one in (report(), report(count=3), report(when="teardown"), report(passed=False)):
        ledger.pytest_runtest_logreport(one)
    assert ledger.finish(0) == f"{page}: 1 rows written"
    row = "| **Lengths, paper, letters**<br>`jig sled`, `lid.facets`, `plug` | a standard | standard | 5 | 0.1 mm |"
    assert row in page.read_text().splitlines()
    assert page.read_text().startswith(f"before\n{outside.BEGIN}\n\n| What | Against |")
    assert page.read_text().endswith(f"{outside.without_a_row()}\n\n{outside.END}\nafter\n")
    first = page.read_text()
    assert ledger.finish(0)
    assert page.read_text() == first


@pytest.mark.parametrize(
    ("reports", "whole", "status", "says"),
    [
        ([report()], True, 1, "a test failed"),
        ([report()], False, 0, "only some tests were asked for"),
        ([report(), report(skipped=True, when="setup")], True, 0, "test_x did not run"),
        ([], True, 0, "Lengths, paper, letters: a standard did not run"),
    ],
)
def test_any_other_run_writes_nothing(page: Path, reports: list[Any], whole: bool, status: int, says: str) -> None:
    ledger, before = Ledger(page, whole), page.read_text()
    for one in reports:
        ledger.pytest_runtest_logreport(one)
    assert ledger.finish(status) == f"{page} is left as it was: {says}"
    assert page.read_text() == before
