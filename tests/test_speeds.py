"""A plain `pytest` leaves out what is slow; whoever asks for something gets all of it."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from tests.conftest import nothing_asked

PLAIN = pytest.Config.ArgsSource.TESTPATHS
NAMED = pytest.Config.ArgsSource.ARGS


@pytest.mark.parametrize(
    ("source", "keyword", "marks", "all_installed", "plain"),
    [
        pytest.param(PLAIN, "", "", "", True, id="pytest"),
        pytest.param(NAMED, "", "", "", False, id="pytest tests"),
        pytest.param(PLAIN, "sled", "", "", False, id="pytest -k sled"),
        pytest.param(PLAIN, "", "outside", "", False, id="pytest -m outside"),
        pytest.param(PLAIN, "", "", "1", False, id=".ci/run"),
    ],
)
def test_only_a_plain_run_leaves_out_what_is_slow(
    monkeypatch: pytest.MonkeyPatch, source: object, keyword: str, marks: str, all_installed: str, plain: bool
) -> None:
    monkeypatch.setenv("JIGLEAF_ALL_INSTALLED", all_installed)
    config: Any = SimpleNamespace(args_source=source, option=SimpleNamespace(keyword=keyword, markexpr=marks))
    assert nothing_asked(config) is plain
