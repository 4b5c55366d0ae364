"""Benchmarks run only when asked for, and end with one table of all ratios."""

from __future__ import annotations

import pytest

from tests.benchmarks import ratios


@pytest.fixture(autouse=True, scope="session")  # before the fixtures of a module, which take their time
def only_when_asked(request: pytest.FixtureRequest) -> None:
    """Skip a benchmark unless it is asked for."""
    if not request.config.getoption("--benchmark-enable"):
        pytest.skip("a benchmark; run it with --benchmark-enable")


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Print all ratios of the run as a Markdown table."""
    if ratios.TABLE:
        terminalreporter.write_line(f"\n{ratios.machine()}\n")
        for row in ratios.markdown(ratios.TABLE):
            terminalreporter.write_line(row)
