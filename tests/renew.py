"""Renew all that is kept in samples/, after a change that is meant to be seen in it: `python -m tests.renew`.

Besides what the tests need it wants cairo and Chromium, for the pictures in the README.
"""

from __future__ import annotations

import io
import shutil
import tempfile
from pathlib import Path

import pypdfium2
from click.testing import CliRunner
from PIL import Image

import cli
from layout import make
from layout.write import png
from tests.boxes import SAMPLES
from tests.served import served, settled

FOLDER = SAMPLES[0].parent
METRIC, INCHES = SAMPLES
PAGES = (("cards", 0), ("cards", 4), ("cards", 6), ("templates", 1))
"""The pages shown side by side: the cover, the card that sets the sled, that of the groove, the first of templates."""
PER_INCH, WOODS_PER_INCH = 60, 95
WOODS = {"sides.ends_species": "sugar maple", "lid.species": "sugar maple"}
"""What the second box is made of in its picture, besides walnut."""


def files() -> None:
    """Draw both boxes, the pages of the catalogue, and the schema of a box file."""
    for box in SAMPLES:
        _run("draw", str(box), "-o", str(FOLDER), "--format", "pdf")
    _run("jigs", "--pages", str(FOLDER / "jigs"))
    schema = FOLDER / "box-file.schema.json"
    schema.unlink()
    _run("start", str(schema), "--schema")


def pages() -> None:
    """Show four pages of the first box side by side."""
    shown = []
    for kind, number in PAGES:
        document = pypdfium2.PdfDocument(FOLDER / f"{METRIC.stem}-{kind}.pdf")
        shown.append(document[number].render(scale=PER_INCH / 72).to_pil().convert("L"))
    whole = Image.new("L", (sum(page.width for page in shown), max(page.height for page in shown)), 255)
    left = 0
    for page in shown:
        whole.paste(page, (left, 0))
        left += page.width
    whole.save(FOLDER / "pages.png", optimize=True)


def woods() -> None:
    """Show the second box in its woods."""
    box = make.edited(make.box(INCHES.read_text(encoding="utf-8"), INCHES.name), WOODS)
    drawn = Image.open(io.BytesIO(png.write(make.picture(box), 2 * WOODS_PER_INCH)))
    _saved(drawn.reduce(2), "woods.png")


def bench() -> None:
    """Show the set-up of the sled on the bench, after 8 was typed for the finger."""
    chromium = shutil.which("chromium")
    assert chromium, "Chromium is needed: apt install chromium"
    with tempfile.TemporaryDirectory() as folder:
        box = Path(folder) / METRIC.name
        shutil.copy(METRIC, box)
        with served(box, chromium) as at:
            page = at.open("/box/sled", 1280)
            page.locator("#set-joint-finger").fill("8")
            page.locator("#set-joint-finger").press("Enter")
            settled(page)
            page.wait_for_timeout(1500)  # pictures and pages come after the numbers
            _saved(Image.open(io.BytesIO(page.screenshot())), "bench.png")


def _saved(picture: Image.Image, name: str) -> None:
    picture.convert("RGB").quantize(128).save(FOLDER / name, optimize=True)


def _run(*words: str) -> None:
    ended = CliRunner().invoke(cli.main, words)
    assert ended.exit_code == 0, ended.output


if __name__ == "__main__":
    for made in (files, pages, woods, bench):
        made()
