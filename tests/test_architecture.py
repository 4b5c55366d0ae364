"""The house: which way imports go, what stands at the top level, and that functions fit on a screen."""

from __future__ import annotations

import ast
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
ROOMS = {"jigs": {"jigs"}, "layout": {"jigs", "layout"}}
OURS = {"cli", "jigs", "layout"}


def sources(*rooms: str) -> Iterator[Path]:
    for room in rooms:
        yield from sorted((ROOT / room).rglob("*.py"))


def imported(path: Path) -> set[str]:
    names = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            names |= {alias.name.split(".")[0] for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full"
            names.add((node.module or "").split(".")[0])
    return names


@pytest.mark.parametrize("room", ROOMS)
def test_imports_go_one_way(room: str) -> None:
    for path in sources(room):
        assert imported(path) & OURS <= ROOMS[room], path


def test_trade_functions_know_no_shapes() -> None:
    for path in sources("jigs/trade"):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("jigs"):
                assert (node.module or "").startswith("jigs.trade"), path


def test_only_the_command_line_speaks() -> None:
    for path in sources("jigs", "layout"):
        called = [
            n.func.id
            for n in ast.walk(ast.parse(path.read_text()))
            if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)
        ]
        assert "print" not in called, path
        assert "click" not in imported(path), path


def _lines_of_code(function: ast.FunctionDef) -> int:
    """Count the lines below the docstring: parameters and prose are read line by line, code as a whole."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    return (function.end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_functions_fit_on_a_screen() -> None:
    for path in [*sources("jigs", "layout"), ROOT / "cli.py"]:
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.FunctionDef):
                assert _lines_of_code(node) <= 50, f"{path}: {node.name}"


def test_top_level_is_the_design_card() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.skip("not a git checkout")
    top = {name.split("/")[0] for name in listed.stdout.split()}
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "jigs", "layout", "cli.py", "tests", "samples"}
    assert {name for name in top if not name.startswith(".")} <= allowed
