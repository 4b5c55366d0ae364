"""The wheel, installed somewhere else, works without the checkout."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow

ROOT = Path(__file__).parent.parent


def test_the_installed_wheel_draws(tmp_path: Path) -> None:
    pip = [sys.executable, "-m", "pip", "--disable-pip-version-check", "--quiet"]
    source = tmp_path / "source"
    source.mkdir()
    # A copy, so that no build folder is left in the checkout.
    copied = ["README.md", "pyproject.toml", "cli.py", "jigs", "layout"]
    subprocess.run(["cp", "-r", *(str(ROOT / name) for name in copied), str(source)], check=True)
    installed = tmp_path / "installed"
    subprocess.run([*pip, "install", "--no-deps", "--target", str(installed), str(source)], check=True)
    code = "import cli, jigs, layout; assert 'installed' in cli.__file__ and 'installed' in jigs.__file__; cli.main()"
    command = [sys.executable, "-c", code, "jig", "sled", "--finger", "10", "--cutter", "10.02"]
    command += ["--board", "90", "--thickness", "12", "-o", "sheets"]
    environment = {"PYTHONPATH": str(installed), "PATH": "/usr/bin:/bin"}
    subprocess.run(command, check=True, cwd=tmp_path, env=environment, capture_output=True)
    assert (tmp_path / "sheets" / "sled-cards.pdf").read_bytes().startswith(b"%PDF")
    assert list((installed / "jigs" / "trade").glob("*.csv"))
