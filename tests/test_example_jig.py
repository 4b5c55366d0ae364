"""Another person's jig: a package with an entry point, found without any change here."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest

pytestmark = pytest.mark.slow

PACKAGE = Path(__file__).parent.parent / "samples" / "example-jig"


def _run(*words: str, path: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "cli", *words]
    environment = {"PYTHONPATH": str(path), "PATH": "/usr/bin:/bin"}
    return subprocess.run(command, capture_output=True, text=True, env=environment, check=False, cwd=path.parent)


def test_an_installed_package_offers_its_jig(tmp_path: Path) -> None:
    installed = tmp_path / "site"
    install = [sys.executable, "-m", "pip", "install", "--quiet", "--no-deps"]
    # Built from a copy: building writes beside the sources.
    source = tmp_path / "source"
    source.mkdir()
    for file in PACKAGE.iterdir():
        if file.is_file():
            (source / file.name).write_bytes(file.read_bytes())
    subprocess.run([*install, "--target", str(installed), str(source)], check=True, capture_output=True)
    assert "corner-square  Corner square" in _run("jigs", path=installed).stdout
    drawn = _run("jig", "corner-square", "--leg", "80", "-o", str(tmp_path / "out"), path=installed)
    assert drawn.returncode == 0, drawn.stderr
    for kind in ("cards", "templates"):
        assert (tmp_path / "out" / f"corner-square-{kind}.pdf").read_bytes().startswith(b"%PDF")
    refused = _run("jig", "corner-square", "--leg", "30", "--proud", "3", path=installed)
    assert refused.returncode == 1
    assert "32 mm at least" in refused.stderr
    assert "corner-square" not in _run("jigs", path=tmp_path).stdout, "without the package there is no such jig"
