"""What the sheets of one job have in common, and what every page says of itself."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from jigs.base.drawing import Drawing
from jigs.base.lengths import Units
from jigs.base.wording import read_out
from layout.draw.blocks import Block
from layout.draw.furniture import Facts
from layout.fill.page_forms import PageForm
from layout.sheet.carried import Carried
from layout.sheet.hand import ORDINARY, Hand


@dataclass(frozen=True, slots=True)
class Job:
    """What the sheets of one job have in common. `prefix` goes before the name of every sheet.

    It goes before the names of parts too, where a drawing does not say which jig it belongs to.
    """

    prefix: str
    title: str
    settings: str
    units: Units
    revision: str
    correction: str = "none"
    date: str = ""
    codes: tuple[str, ...] = ()
    carried: Carried | None = None
    hand: Hand = ORDINARY


def page_facts(
    job: Job, drawing: Drawing, page: PageForm, placed: Sequence[Block], part: int, number: int, count: int
) -> Facts:
    """Return what a page says in its title block: the `part` of its drawing, and its `number` of `count` sheets."""
    title = read_out(drawing.title, job.units) + (f", part {part}" if part > 1 else "")
    check = next((block.check for block in placed if block.check), None)
    return Facts(
        title=job.title,
        sheet=f"Sheet {number} of {count}: {title}",
        purpose=read_out(drawing.purpose, job.units),
        settings=job.settings,
        revision=job.revision,
        paper=page.paper.name,
        correction=job.correction,
        units=job.units,
        check_name=check.name if check else "frame, left to right",
        check_value=check.value if check else page.paper.frame.width,
        date=job.date,
        codes=job.codes,
    )
