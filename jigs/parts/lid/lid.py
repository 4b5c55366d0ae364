"""The lid without hinges: its settings as a jig of its own. Numbers and rules are those of a box; `card` draws.

Its plug goes into the opening in every season; the box's opening is measured, not taken from its plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated

from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild
from jigs.base.kinds import KnownWood, Length
from jigs.base.lengths import Units
from jigs.base.rules import Problem, stop, warn, worst_first
from jigs.base.settings import section
from jigs.base.wording import at_least, at_most, say
from jigs.boxfile.sections import Climate, LidSection, SidesThickness
from jigs.parts.lid import card
from jigs.parts.lid.part import Lid, settled
from jigs.parts.lid.rules import LEAST_CROWN, LID
from jigs.parts.part import numbers_of
from jigs.parts.wood import seasons as seasons_jig
from jigs.parts.wood.part import wood


@section
class LidSettings(LidSection, Climate):
    """The lid and the air it will meet, and what a box works out of its opening."""

    along: Annotated[float, Length("opening of the box along the lid's grain, measured", 20, 1200)]
    across: Annotated[float, Length("opening of the box across the lid's grain, measured", 20, 800)]
    wall: SidesThickness
    species: Annotated[str | None, KnownWood("wood of the lid")] = None


@jig(
    "lid",
    title="Lid with a plug",
    summary="a lid without hinges that goes on in every season",
    from_box="along=lid.along across=lid.across wall=file.sides.thickness species=lid.wood.species.name",
)
def lid(asked: LidSettings, units: Units) -> Plan:
    """Plan, sections, rabbet set-ups, crown templates and movement year of a lid with a plug.

    Example: --along 216 --across 136 --wall 12 --thickness 18 --species "black cherry"

    Sources: Plug and crown are derived in `jigs/trade/lid.py`; moisture and movement: USDA Wood Handbook,
    FPL-GTR-282, chapters 4 and 13. Clearances: common practice, no source.
    """
    problems = list(seasons_jig.judged(asked))
    outside = 2 * (asked.wall + asked.overhang)
    made = settled(
        asked,
        size=(asked.along + outside, asked.across + outside),
        opening=(asked.along, asked.across),
        wood=wood(asked.species, asked.rings),
        air=seasons_jig.moistures(asked),
        units=units,
    )
    found = list(_crown_too_low(made))
    if found or LID.judge(made, found) is None:
        raise CannotBuild(problems + [seasons_jig.asked_directly(problem) for problem in found])
    problems += [seasons_jig.asked_directly(problem) for problem in (*found, *_grain_runs_the_short_way(made))]
    title = say("Lid {length:cut} × {width:cut}", length=made.length, width=made.width)
    return Plan(title, as_data(made), card.alone(made), tuple(worst_first(problems)))


def _crown_too_low(made: Lid) -> Iterator[Problem]:
    """Find a crown that no template shows and no plane makes."""
    if 0 < made.crown < LEAST_CROWN:
        yield stop(
            "crown",
            "a crown of {crown} is too low to be planed",
            ("enter {flat} for a flat lid", "make the crown {least} or more"),
            crown=made.crown,
            flat=at_most(0.0),
            least=at_least(LEAST_CROWN),
        )


def _grain_runs_the_short_way(made: Lid) -> Iterator[Problem]:
    """Find a lid that moves in its long direction."""
    if made.across > made.along:
        yield warn(
            "across",
            "the long way of the lid moves, across the grain: its clearance is {clearance:cut up} in the driest season",
            "lay the grain the long way, and exchange along and across",
            clearance=made.plug.gap_dry,
        )


def as_data(made: Lid) -> dict[str, object]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    size = "length width plug_length plug_width=plug.width plug_depth gap_now=plug.gap_now gap_dry=plug.gap_dry"
    year = "gap_wet=plug.gap_wet locks_at_humidity=locks_at rabbet_ends=rabbets.0 rabbet_sides=rabbets.1"
    return numbers_of(made, f"{size} {year} width_dry=widths.0 width_wet=widths.1 crown_radius edge over_shoulder")
