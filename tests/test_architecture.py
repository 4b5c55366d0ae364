"""The house: which way imports go, what stands at the top level, and that functions fit on a screen."""

from __future__ import annotations

import ast
import graphlib
import subprocess
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
ROOMS = (
    *("jigs.record", "jigs.trade", "jigs.base", "jigs.things", "jigs.boxfile"),
    *("jigs.parts.wood", "jigs.parts.part", "jigs.parts.joint"),
    "jigs.parts.rabbeting",
    *("jigs.parts.groove", "jigs.parts.bottom", "jigs.parts.lid", "jigs.parts.handle"),
    *("jigs.parts.carving", "jigs.parts.shell", "jigs.parts.pattern"),
    *("jigs.shelf", "jigs.box", "jigs.course"),
    *("layout.sheet", "layout.cut", "layout.carry", "layout.write", "layout.draw", "layout.pages", "layout.printer"),
    *("layout.catalogue", "layout.make", "layout.course", "layout.bench", "layout.console", "cli"),
)
"""The rooms of the house from the ground up: each imports from those before it."""


def sources(*rooms: str) -> Iterator[Path]:
    for room in rooms:
        yield from sorted((ROOT / room).rglob("*.py"))


def imported(path: Path) -> set[str]:
    """Return the modules that a file imports, wherever in it, by their full names."""
    names = set()
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0, f"{path}: imports are written in full"
            names |= {f"{node.module}.{alias.name}" for alias in node.names}
    return names


def room_of(module: str) -> str | None:
    """Return the room that a module of ours stands in; None for one of another package."""
    return next((room for room in ROOMS if f"{module}.".startswith(f"{room}.")), None)


def modules() -> dict[str, Path]:
    """Return every module of ours that holds code, by its full name."""
    paths = [path for path in [*sources("jigs", "layout"), ROOT / "cli.py"] if path.name != "__init__.py"]
    return {".".join(path.relative_to(ROOT).with_suffix("").parts): path for path in paths}


def test_every_module_stands_in_a_room() -> None:
    assert [module for module in modules() if room_of(module) is None] == []


@pytest.mark.parametrize("room", ROOMS)
def test_imports_go_one_way(room: str) -> None:
    allowed = ROOMS[: ROOMS.index(room) + 1]
    for module, path in modules().items():
        if room_of(module) == room:
            upward = {name for name in imported(path) if (found := room_of(name)) and found not in allowed}
            assert not upward, f"{module} imports {upward}"


def test_no_modules_import_one_another_in_a_circle() -> None:
    known = modules()
    order = graphlib.TopologicalSorter[str]()
    for module, path in known.items():
        names = imported(path)
        order.add(
            module, *({name for name in names if name in known} | {n.rpartition(".")[0] for n in names} & set(known))
        )
    order.prepare()  # raises CycleError, which names the circle


def test_trade_functions_know_no_shapes() -> None:
    for path in sources("jigs/trade"):
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.ImportFrom) and (node.module or "").startswith("jigs"):
                assert (node.module or "").startswith(("jigs.trade", "jigs.record")), path


@pytest.mark.slow
def test_only_the_command_line_speaks() -> None:
    for path in sources("jigs", "layout"):
        if path.parent.name == "console":
            continue
        called = [
            n.func.id
            for n in ast.walk(ast.parse(path.read_text()))
            if isinstance(n, ast.Call) and isinstance(n.func, ast.Name)
        ]
        assert "print" not in called, path
        assert not any(name.split(".")[0] == "click" for name in imported(path)), path


def test_the_command_line_puts_nothing_off_by_hand() -> None:
    """What it does not need for help is put off in one place, at its top."""
    functions = [
        node for node in ast.walk(ast.parse((ROOT / "cli.py").read_text())) if isinstance(node, ast.FunctionDef)
    ]
    assert not [f.name for f in functions for node in ast.walk(f) if isinstance(node, ast.Import | ast.ImportFrom)]


def _lines_of_code(function: ast.FunctionDef) -> int:
    """Count the lines below the docstring: parameters and prose are read line by line, code as a whole."""
    body = function.body[1:] if ast.get_docstring(function) else function.body
    return (function.end_lineno or 0) - body[0].lineno + 1 if body else 0


def test_functions_fit_on_a_screen() -> None:
    for path in [*sources("jigs", "layout"), ROOT / "cli.py"]:
        for node in ast.walk(ast.parse(path.read_text())):
            if isinstance(node, ast.FunctionDef):
                assert _lines_of_code(node) < 45, f"{path}: {node.name}"


def test_top_level_is_the_design_card() -> None:
    listed = subprocess.run(["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=False)
    if listed.returncode:
        pytest.skip("not a git checkout")
    top = {name.split("/")[0] for name in listed.stdout.split()}
    allowed = {"README.md", "DEVELOPERS.md", "pyproject.toml", "jigs", "layout", "cli.py", "tests", "samples"}
    assert {name for name in top if not name.startswith(".")} <= allowed
