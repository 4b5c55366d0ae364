"""The hole-saw handle: its settings and its numbers. Its pages are in `card`."""

from __future__ import annotations

from typing import Annotated

from jigs.base import usual
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild
from jigs.base.kinds import Length
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import section
from jigs.base.wording import say
from jigs.boxfile.sections import HandleSection
from jigs.parts.handle import card, outline, screws
from jigs.parts.handle.part import Handle, settled
from jigs.parts.handle.rules import HANDLE
from jigs.parts.handle.screw_rules import SCREWED
from jigs.parts.part import numbers_of


@section
class HandleSettings(HandleSection):
    """The handle, and what a box works out of its lid."""

    lid: Annotated[float, Length("thickness of the lid at the screws", 3, 60)] = usual.LID_AT_SCREWS.default


@jig(
    "handle",
    title="Hole-saw handle",
    summary="for a lid, cut by a hole saw through both ends",
    from_box="lid=lid.thickness",
)
def handle(asked: HandleSettings, units: Units) -> Plan:
    """Drilling set-up, outline and screws of a handle cut with a hole saw.

    Example: --saw 38.6

    Sources: End holes, cusps, crest and thinnest section are derived in `jigs/trade/handle.py`; the thinnest section
    is measured on the outline with shapely too. Clamp room, screws and necks: common practice, no source.
    """
    made = settled(asked, units)
    screwed = screws.Screwed(made, screws.screws_through(made, asked.lid))
    found: list[Problem] = []
    if HANDLE.judge(made, found) is None or SCREWED.judge(screwed, found) is None:
        raise CannotBuild([problem.without("handle") for problem in found])
    title = say("Hole-saw handle, {length:cut} × {height:cut}", length=made.length, height=made.height)
    problems = tuple(problem.without("handle") for problem in found)
    return Plan(title, as_data(made), card.alone(screwed), problems)


def as_data(made: Handle) -> dict[str, object]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    holes = "centre_offset hole_height chord cusps rim_in_wood crest_radius least_wood"
    least = outline.measured(outline.outline(made.holes), outline.eye(made.holes)).least
    rest = numbers_of(made, "blank_length clamp_room holes=holes.count middle=middle_numbers")
    return numbers_of(made.holes, holes) | {"least_wood_measured": least} | rest
