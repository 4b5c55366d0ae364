"""A warm process that draws one page after each change of a box file: no server, only what `make` does.

The floor is a process of Python that does nothing. It takes about 12 ms where these goals come from: a page within
150 ms for 95 of 100 changes and none over 500, a picture within 150, the names of the pages that change within 300.
"""

from __future__ import annotations

import gc
import random
from collections.abc import Callable, Iterator

import pytest

from jigs.box import chain, sheets
from jigs.boxfile.sections import BoxFile
from layout import make
from layout.bench.run import settle
from tests.benchmarks.ratios import ROOT, least, note, processor, python

TEXT = (ROOT / "samples" / "recipe-box.toml").read_text(encoding="utf-8")
SVG = make.Printing(formats=("svg",))
WARM = 10
_KEYS = (
    "box.length", "box.width", "box.height", "sides.thickness", "joint.cutter", "joint.clearance", "joint.proud",
    "groove.from_bottom", "groove.depth", "bottom.thickness", "bottom.tongue", "bottom.clearance", "lid.thickness",
    "lid.plug", "lid.overhang", "lid.crown", "lid.clearance", "handle.length", "handle.height", "handle.thickness",
    "handle.base", "handle.neck", "handle.crest", "shell.width", "shell.height", "shell.bulge", "stock.kerf",
    "stock.trim",
)  # fmt: skip


def changes(dice: random.Random) -> Iterator[tuple[BoxFile, BoxFile]]:
    """Yield the sample box and the same with one length a little other, drawn by lot: none that a rule stops."""
    before = make.box(TEXT, "recipe-box.toml")
    while True:
        section, key = dice.choice(_KEYS).split(".")
        value = getattr(getattr(before, section), key)
        typed = f"{value + dice.choice((-3, -2, -1, 1, 2, 3)) * max(0.01, value * 0.004):.3f}"
        after = make.box(TEXT, "recipe-box.toml", {f"{section}.{key}": typed})
        if not chain.work_out(after).stopped:
            yield before, after


def took(work: Callable[[BoxFile, BoxFile], object], count: int) -> list[float]:
    """Return the processor seconds of some work after each of so many changes, the first of them left out."""
    found, usual = [], gc.get_threshold()
    for number, (before, after) in zip(range(count + WARM), changes(random.Random(7)), strict=False):
        begin = processor()
        work(before, after)
        found.append(processor() - begin)
        if number == WARM:
            settle()
    gc.unfreeze()
    gc.set_threshold(*usual)
    return sorted(found[WARM:])


@pytest.fixture(scope="module")
def floor() -> float:
    return least(lambda: python("pass"), turns=7)[0]


def test_one_page_as_svg(floor: float) -> None:
    """Cards, pages to read and pieces by their own names, each as often as the others."""
    box = sheets.listed(chain.work_out(make.box(TEXT, "recipe-box.toml")))
    families = {card.jig for card in box.cards} | {template.jig for template in box.templates}
    pages = [card.name for card in box.cards] + [template.view.name for template in box.templates]
    dice = random.Random(8)
    alone = [name for name in pages if name not in families]

    def page(_: BoxFile, after: BoxFile) -> object:
        return make.draw(after, [dice.choice(alone)], SVG).files

    times = took(page, 100)
    note("warm: a page as SVG after a change, 95 of 100", "python -c pass", times[94] / floor, "≤ 12")
    note("warm: a page as SVG after a change, the longest", "python -c pass", times[-1] / floor, "≤ 40")


@pytest.mark.parametrize(
    ("what", "work", "goal"),
    [
        ("the picture in its woods", lambda _, after: make.picture(after), "≤ 12"),
        ("the cover", lambda _, after: make.draw(after, ["cover"], SVG).files, "≤ 12"),
        ("the names of pages that change", make.names_that_change, "≤ 24"),
        ("those with their marks", make.pages_that_change, "≤ 24"),
    ],
)
def test_what_else_is_shown(floor: float, what: str, work: Callable[[BoxFile, BoxFile], object], goal: str) -> None:
    times = took(work, 20)
    note(f"warm: {what}, 19 of 20", "python -c pass", times[18] / floor, goal)
    note(f"warm: {what}, half of them", "python -c pass", times[9] / floor)
