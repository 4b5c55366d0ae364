"""What tests share: profiles for Hypothesis, what a machine may lack, and sheets made once."""

from __future__ import annotations

import os
import shutil
from collections.abc import Generator, Sequence
from pathlib import Path
from typing import Any

import pytest
from hypothesis import HealthCheck, Phase, settings

from jigs.base.catalogue import Plan, find
from jigs.base.lengths import Units
from jigs.base.wording import read_out
from jigs.record import replace
from layout.pages import compose
from layout.pages.job import Job
from layout.sheet import paper
from layout.sheet.hand import ORDINARY, Hand
from layout.sheet.marks import Bundle

pytest.register_assert_rewrite("tests.outside")  # so that a comparison that fails shows its numbers

from tests import once, outside  # noqa: E402 - after the line above

# The short profile does not shrink: a sheet takes long to draw, and the failing settings are printed as they are. It
# draws alike in every run, so that what was green fails by a change and not by luck; the fast one, of a plain `pytest`,
# is the same with fewer examples; the long one is for searching.
settings.register_profile(
    "short",
    max_examples=30,
    deadline=None,
    derandomize=True,
    suppress_health_check=[HealthCheck.too_slow],
    phases=[Phase.explicit, Phase.generate],
)
settings.register_profile("fast", settings.get_profile("short"), max_examples=8)
settings.register_profile(
    "long",
    max_examples=int(os.environ.get("JIGLEAF_EXAMPLES", "20000")),
    deadline=None,
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile(os.environ.get("JIGLEAF_PROFILE", "short"))


def examples(usual: int, searching: int | None = None) -> int:
    """Return how many examples a test draws that says so itself: a quarter of the usual where a run is to be fast."""
    of_profile = settings.get_current_profile_name(), settings().max_examples
    return {"short": usual, "fast": max(1, usual // 4)}.get(of_profile[0], searching or of_profile[1])


METRIC = {"finger": 10.0, "cutter": 10.02, "board": 90.0, "thickness": 12.0}
INCHES = {"finger": 9.525, "cutter": 9.5123, "board": 107.95, "thickness": 12.7}


FAST = "not slow"
"""What a plain `pytest` runs."""


def nothing_asked(config: pytest.Config) -> bool:
    """Tell whether a run is a plain one: no file or folder named, no -k, no -m, and not on a machine that has all."""
    named = config.args_source is not pytest.Config.ArgsSource.TESTPATHS
    return not (named or config.option.keyword or config.option.markexpr or os.environ.get("JIGLEAF_ALL_INSTALLED"))


def pytest_addoption(parser: pytest.Parser) -> None:
    """Add the option that renews the table of outside checks."""
    parser.addoption("--checks", metavar="FILE", help="write the table of outside checks into FILE, DEVELOPERS.md")


def pytest_configure(config: pytest.Config) -> None:
    """Leave out what is slow where nothing is asked for; gather the checks where asked to; a worker only reports."""
    if nothing_asked(config):
        config.option.markexpr = FAST  # a worker gets it with the other options
    if config.option.markexpr == FAST and "JIGLEAF_PROFILE" not in os.environ:
        settings.load_profile("fast")
    if hasattr(config, "workerinput"):
        once.shared = Path(config.option.basetemp).parent
    if config.option.checks and not hasattr(config, "workerinput"):
        whole = config.args_source is pytest.Config.ArgsSource.TESTPATHS and not config.option.keyword
        config.pluginmanager.register(outside.Ledger(Path(config.option.checks), whole))


@pytest.hookimpl(wrapper=True)
def pytest_runtest_call(item: pytest.Item) -> Generator[None, object, object]:
    """Count what a test marked with @outside compares."""
    with outside.recording(item):
        return (yield)


def needs(what: str, present: bool) -> None:
    """Skip a test on a machine that lacks something, or fail it where everything is said to be installed."""
    if present:
        return
    if os.environ.get("JIGLEAF_ALL_INSTALLED"):
        pytest.fail(f"{what} is missing, and JIGLEAF_ALL_INSTALLED says that it is here")
    pytest.skip(f"needs {what}")


@pytest.fixture(scope="session")
def poppler() -> str:
    """The program that turns PDF into pixels, from Debian's poppler-utils."""
    program = shutil.which("pdftoppm")
    needs("pdftoppm (Debian: poppler-utils)", program is not None)
    assert program is not None
    return program


@pytest.fixture(scope="session")
def chromium() -> str:
    """A headless browser."""
    program = shutil.which("chromium")
    needs("chromium (Debian: chromium)", program is not None)
    assert program is not None
    return program


@pytest.fixture(scope="session")
def cairo() -> Any:
    """cairosvg, where the cairo library is there."""
    try:
        import cairosvg  # noqa: PLC0415 - fails to import without the system library
    except (ImportError, OSError):
        needs("cairo (Debian: libcairo2)", False)
    return cairosvg


def pages_of(
    plan: Plan,
    name: str,
    page: str = "A4",
    units: Units = "mm",
    hand: Hand = ORDINARY,
    only: Sequence[str] = (),
) -> tuple[Bundle, Bundle]:
    """Return the cards and the templates of a plan."""
    job = Job(name, read_out(plan.title, units), "its settings", units, "abc123", hand=hand)
    return compose.compose(job, plan.sheets, paper.named(page), only)


def all_pages(made: tuple[Bundle, Bundle]) -> Bundle:
    """Return cards and templates as one bundle."""
    cards, templates = made
    return replace(templates, sheets=(*cards.sheets, *templates.sheets))


def sled_sheets(page: str = "A4", units: Units = "mm", **settings: Any) -> Bundle:
    """Return the pages of a sled."""
    plan: Plan = find("sled").plan((METRIC if units == "mm" else INCHES) | settings, units)
    return all_pages(pages_of(plan, "sled", page, units))
