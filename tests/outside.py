"""What a test is held against outside of this program, and how far apart the two were found.

    HANDBOOK_4_2 = Check("Wood and its moisture", "USDA Wood Handbook FPL-GTR-190, Table 4-2", "handbook table")

    @HANDBOOK_4_2.of(movement.equilibrium_moisture)
    def test_moisture_agrees_with_the_published_table() -> None:
        agree(found, printed, 0.07, unit="%")

A check is a row of the table in DEVELOPERS.md. `pytest -m outside --checks=DEVELOPERS.md` writes it with the numbers of
that run; any other run writes nothing.
"""

from __future__ import annotations

import inspect
import math
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from importlib import import_module
from pathlib import Path
from typing import Any, Literal, get_args

import pytest

What = Literal[
    "Wood and its moisture",
    "Fingers, sockets, sled",
    "Fit of a joint, tuning",
    "Groove and its stops",
    "Bottom panel",
    "Lid and crown",
    "Handle and scalloped edge",
    "Fan shell",
    "Mitres, dovetails, dividers, hinges, rows",
    "Stock, finish, set-ups",
    "Limits and margins of the shop",
    "The whole box",
    "Lengths, paper, letters",
    "Written files",
    "What sheets carry",
    "A printer's correction",
]
"""The first column of the table, in its order."""

Kind = Literal[
    "standard",
    "handbook table",
    "worked example",
    "reference library",
    "independent solver",
    "independent derivation",
    "common practice",
    "from memory",
]

EXCUSED = {
    "refuse impossible numbers, and are tested by the message of every function that calls them": (
        "limits.at_least",
        "limits.finite",
        "limits.not_negative",
        "limits.positive",
        "limits.under",
        "limits.within",
    ),
    "rounds a quotient up": ("limits.steps_to_cover",),
    "is a list of limits, each marked where it stands": ("sled.errors",),
    "find a row of the table by its name": ("timber.species", "timber.trade_name"),
}
"""Why functions of jigs/trade have no row."""

BEGIN, END = "<!-- checks: written by pytest -m outside --checks=DEVELOPERS.md -->", "<!-- end of checks -->"
HEADINGS = ("What", "Against", "Kind", "Values", "Largest difference")
AT_RANDOM = "drawn at random"
OF_VALUE = "of the value"


@dataclass(frozen=True, slots=True)
class Check:
    """One row of the table, without its numbers."""

    what: What
    source: str
    kind: Kind

    def of(self, *subjects: Callable[..., object] | str) -> pytest.MarkDecorator:
        """Return the mark for a test of these functions of jigs/trade, or of jigs by their names.

        Of several marks the nearest to the values counts: that of a `pytest.param` before that of its test.
        """
        known = DECLARED.setdefault(self, [])
        names = [f"jig {one}" if isinstance(one, str) else name_of(one) for one in subjects]
        known += [name for name in names if name not in known]
        return pytest.mark.outside(self)


DECLARED: dict[Check, list[str]] = {}
"""Every row that a mark asks for, with the jigs and functions it is about."""


def name_of(function: Callable[..., object]) -> str:
    """Return `module.name` of a function or class of jigs/trade."""
    return f"{function.__module__.rpartition('.')[2]}.{function.__qualname__}"


# -- in a test ---------------------------------------------------------------------------------------------------------


@dataclass(slots=True)
class Tally:
    """What one test compared: how many values, and by unit the largest difference and the largest that would pass."""

    random: bool = False
    count: int = 0
    largest: dict[str, float] = field(default_factory=dict)
    passes: dict[str, float] = field(default_factory=dict)

    def add(self, other: Mapping[str, Any]) -> None:
        """Add another test's tally, as it comes in a report. Of values drawn at random only the limits are kept."""
        self.random |= other["random"]
        self.count += 0 if other["random"] else other["count"]
        kept, found = (self.passes, other["passes"]) if other["random"] else (self.largest, other["largest"])
        for unit, value in found.items():
            kept[unit] = max(kept.get(unit, 0.0), value)

    def as_data(self) -> dict[str, Any]:
        """Return it as a report can carry it from a worker."""
        return {"random": self.random, "count": self.count, "largest": self.largest, "passes": self.passes}


_open: list[Tally] = []
"""The tally of the test that runs now, if it is a marked one."""


def agree(
    measured: Any,
    expected: Any,
    within: float | None = None,
    *,
    share: float | None = None,
    unit: str,
    case: object = None,
) -> None:
    """Assert that numbers agree, and write down how many there were and how far apart they lay.

    Numbers, or sequences or mappings of numbers. `within` and `share` are the absolute and the relative limit of
    `pytest.approx`, with its defaults. `unit` "" is for numbers of more than one unit;
    `case` is said beside a difference that is too large.
    """
    __tracebackhide__ = True
    wanted = pytest.approx(expected, abs=within, rel=share)
    assert measured == wanted, f"{unit} {case or ''}"
    tally = _tally()
    for one, other in _pairs(measured, expected):
        tally.count += 1
        if math.isfinite(other):
            tally.largest[unit] = max(tally.largest.get(unit, 0.0), abs(one - other))
    if within is not None:
        tally.passes[unit] = max(tally.passes.get(unit, 0.0), float(within))  # numpy's floats don't leave a worker
    if share is not None or within is None:
        tally.passes[OF_VALUE] = max(tally.passes.get(OF_VALUE, 0.0), 1e-6 if share is None else float(share))


def compared(count: int) -> None:
    """Write down cases that hold or don't hold. A marked test that writes down nothing is one case."""
    _tally().count += count


def _tally() -> Tally:
    if not _open:
        raise RuntimeError("agree() and compared() are for tests marked as held against something outside")
    return _open[-1]


def _pairs(measured: Any, expected: Any) -> Iterator[tuple[float, float]]:
    if isinstance(expected, Mapping):
        for name, value in expected.items():
            yield from _pairs(measured[name], value)
    elif hasattr(expected, "__len__") and not isinstance(expected, str):
        for one, other in zip(measured, expected, strict=True):
            yield from _pairs(one, other)
    elif expected is not None:
        yield float(measured), float(expected)


@contextmanager
def recording(item: pytest.Item) -> Iterator[None]:
    """Keep a tally while a marked test runs, and leave it in the test's report; others run as they are."""
    marks = list(item.iter_markers("outside"))
    if not marks:
        yield
        return
    tally = Tally(random=bool(getattr(getattr(item, "obj", None), "is_hypothesis_test", False)))
    _open.append(tally)
    try:
        yield
    finally:
        _open.pop()
    tally.count = tally.count or 1
    nearest: Check = marks[-1].args[0]  # pytest puts the marks of a `pytest.param` after those of its test
    check = [nearest.what, nearest.source, nearest.kind]
    item.user_properties.append(("outside", [check, tally.as_data()]))


# -- the table -----------------------------------------------------------------------------------------------------


def declared() -> dict[Check, list[str]]:
    """Return every row asked for anywhere in the tests, in the order of the table."""
    for path in sorted(Path(__file__).parent.glob("test_*.py")):
        import_module(f"tests.{path.stem}")
    whats, kinds = get_args(What), get_args(Kind)

    def place(check: Check) -> tuple[int, int, str]:
        return whats.index(check.what), kinds.index(check.kind), check.source

    return {check: DECLARED[check] for check in sorted(DECLARED, key=place)}


def trade_functions() -> list[Callable[..., object]]:
    """Return every public function of jigs/trade."""
    found: list[Callable[..., object]] = []
    for path in sorted((Path(__file__).parent.parent / "jigs" / "trade").glob("[a-z]*.py")):
        module = import_module(f"jigs.trade.{path.stem}")
        own = [value for name, value in vars(module).items() if not name.startswith("_")]
        own = [value for value in own if getattr(value, "__module__", "") == module.__name__]
        found += [value for value in own if inspect.isfunction(value)]
    return found


def table(tallies: Mapping[Check, Tally]) -> str:
    """Return the table as Markdown, the excuses under it."""
    rows = [HEADINGS, ("---",) * len(HEADINGS)]
    rows += [(*cells, values(tallies[check]), differences(tallies[check])) for check, cells in first_cells().items()]
    lines = [f"| {' | '.join(cells)} |" for cells in rows]
    return "\n".join([*lines, "", without_a_row()])


def first_cells() -> dict[Check, tuple[str, str, str]]:
    """Return of every row what does not change from run to run: what, against what, and the kind."""
    found: dict[Check, tuple[str, str, str]] = {}
    last = ""
    for check, subjects in declared().items():
        heading = "" if check.what == last else check.what
        last = check.what
        found[check] = (first_cell(heading, subjects), check.source, check.kind)
    return found


def without_a_row() -> str:
    """Return the sentence about functions that are excused."""
    excuses = [f"{', '.join(f'`{name}`' for name in names)}: {why}" for why, names in EXCUSED.items()]
    return f"Without a row: {'; '.join(excuses)}."


def first_cell(heading: str, subjects: list[str]) -> str:
    """Return what a row is about: the words, then jigs and functions, each module named once."""
    said, module = [], ""
    for name in sorted(subjects, key=lambda name: (not name.startswith("jig "), name)):
        where, _, function = name.rpartition(".")
        said.append(f"`{function if where and where == module else name}`")
        module = where
    return "<br>".join(part for part in (f"**{heading}**" if heading else "", ", ".join(said)) if part)


def values(tally: Tally) -> str:
    """Return how many values, with a word for those drawn anew in every run."""
    if not tally.random:
        return str(tally.count)
    return f"{tally.count}, more at random" if tally.count else AT_RANDOM


def differences(tally: Tally) -> str:
    """Return the largest difference of each unit; for values drawn at random the largest that passes."""
    if tally.largest:
        return _numbers(tally.largest) or "< 1e-9"
    return f"at most {_numbers(tally.passes)}" if tally.passes else "—"


def _numbers(values_by_unit: Mapping[str, float]) -> str:
    """Two digits of each, and nothing of what is only rounding: the table shall be the same on any machine."""
    said = {unit: f"{float(f'{value:.2g}'):g}" for unit, value in sorted(values_by_unit.items()) if value >= 1e-9}
    return "; ".join(f"{number.replace('e-0', 'e-')} {unit}".rstrip() for unit, number in said.items())


class Ledger:
    """A plugin that gathers the tallies of a whole run and writes the table into a file, between two marks."""

    def __init__(self, path: Path, whole: bool) -> None:
        """`path` is the Markdown file; `whole` says whether every test is run, or every one that is marked."""
        self.path = path
        self.whole = whole
        self.tallies: dict[Check, Tally] = {}
        self.skipped: list[str] = []

    def pytest_runtest_logreport(self, report: pytest.TestReport) -> None:
        """Take the tally out of a report, from this process or from a worker."""
        if report.skipped and "outside" in report.keywords:
            self.skipped.append(report.nodeid)
        if report.when == "call" and report.passed:
            found: list[Any] = [value for name, value in report.user_properties if name == "outside"]
            for check, tally in found:
                self.tallies.setdefault(Check(*check), Tally()).add(tally)

    @pytest.hookimpl(trylast=True)
    def pytest_terminal_summary(self, terminalreporter: pytest.TerminalReporter, exitstatus: int) -> None:
        """Write the table, or say why it is left as it was."""
        terminalreporter.write_line(self.finish(exitstatus))

    def finish(self, exitstatus: int) -> str:
        """Write the table if every check ran and held; return what was done."""
        missing = [f"{check.what}: {check.source}" for check in declared() if check not in self.tallies]
        reasons = [f"{name} did not run" for name in (*self.skipped, *missing)]
        reasons += ["a test failed"] * bool(exitstatus) + ["only some tests were asked for"] * (not self.whole)
        if reasons:
            return f"{self.path} is left as it was: {'; '.join(reasons)}"
        text = self.path.read_text()
        before, rest = text.split(BEGIN)
        after = rest.split(END)[1]
        self.path.write_text(f"{before}{BEGIN}\n\n{table(self.tallies)}\n\n{END}{after}")
        return f"{self.path}: {len(self.tallies)} rows written"
