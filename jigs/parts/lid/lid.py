"""The lid without hinges: its settings as a jig of its own. Numbers and rules are those of a box; `sheets` draws.

Its plug goes into the opening in every season; the box's opening is measured, not taken from its plan.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Any

from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import Problem, stop, warn, worst_first
from jigs.base.settings import Angle, Choice, Count, Length
from jigs.base.usual import LID_CROWN, LID_PLUG
from jigs.base.wording import at_least, at_most, say
from jigs.boxfile.sections import Climate
from jigs.parts.lid import sheets as lid_sheets
from jigs.parts.lid.part import Lid
from jigs.parts.lid.rules import LEAST_CROWN, LID
from jigs.parts.lid.sheets import RabbetBit
from jigs.parts.wood import seasons as seasons_jig
from jigs.parts.wood.part import wood
from jigs.parts.wood.seasons import WOODS


@jig(
    "lid",
    title="Lid with a plug",
    summary="a lid without hinges that goes on in every season",
    example='--along 216 --across 136 --wall 12 --thickness 18 --species "black cherry"',
    sources=(
        "Plug and crown are derived in `jigs/trade/lid.py`; moisture and movement: USDA Wood Handbook, FPL-"
        "GTR-282, chapters 4 and 13. Clearances: common practice, no source."
    ),
)
def lid(
    *,
    along: Annotated[float, Length("opening of the box along the lid's grain, measured", 20, 1200)],
    across: Annotated[float, Length("opening of the box across the lid's grain, measured", 20, 800)],
    wall: Annotated[float, Length("thickness of the box's sides", 1, 60)],
    thickness: Annotated[float, Length("thickness of the lid, plug and crown included", 3, 80)],
    plug: Annotated[float | None, Length("how far the plug reaches into the box", 1, 60)] = None,
    overhang: Annotated[float, Length("lid over the box on every side", 0, 60, inches=4.7625)] = 5.0,
    crown: Annotated[float | None, Length("rise of the crown, 0 for a flat lid", 0, 75)] = None,
    clearance: Annotated[float, Length("gap left across in the wettest air", 0, 10, inches=0.396875)] = 0.4,
    play: Annotated[float, Length("gap left along the grain", 0, 10, inches=0.79375)] = 0.6,
    bit: Annotated[float, Length("bit that cuts the rabbets, measured", 3, 60, inches=12.7)] = 12.0,
    deepest_pass: Annotated[float, Length("what the bit takes in one pass", 0.5, 12, inches=3.175)] = 3.0,
    species: Annotated[str | None, Choice("wood of the lid", tuple(WOODS))] = None,
    rings: Annotated[float, Angle("growth rings to the wide face, 0 flat-sawn, 90 quarter-sawn", 0, 90)] = 0.0,
    shop_temperature: Annotated[int, Count("temperature in the shop, °C", -20, 60)] = 20,
    shop_humidity: Annotated[int, Count("relative humidity in the shop, %", 5, 98)] = 45,
    dry_temperature: Annotated[int, Count("temperature in the driest month, °C", -20, 60)] = 20,
    dry_humidity: Annotated[int, Count("relative humidity in the driest month, %", 5, 98)] = 30,
    wet_temperature: Annotated[int, Count("temperature in the wettest month, °C", -20, 60)] = 25,
    wet_humidity: Annotated[int, Count("relative humidity in the wettest month, %", 5, 98)] = 70,
    units: Units = "mm",
) -> Plan:
    """Plan, sections, rabbet set-ups, crown templates and movement year of a lid with a plug."""
    climate = seasons_jig.climate_of(
        shop=(shop_temperature, shop_humidity), dry=(dry_temperature, dry_humidity), wet=(wet_temperature, wet_humidity)
    )
    problems = list(seasons_jig.judged(climate))
    made = Lid(
        thickness=thickness,
        plug_depth=thickness * LID_PLUG if plug is None else plug,
        overhang=overhang,
        crown=thickness * LID_CROWN if crown is None else crown,
        clearance=clearance,
        wood=wood(species and WOODS[species], rings),
        length=along + 2 * (wall + overhang),
        width=across + 2 * (wall + overhang),
        along=along,
        across=across,
        play=play,
        units=units,
        air=seasons_jig.moistures(climate),
    )
    return _plan(made, climate, RabbetBit(bit, deepest_pass), problems)


def _plan(made: Lid, climate: Climate, bit: RabbetBit, problems: list[Problem]) -> Plan:
    found = list(_crown_too_low(made))
    if found or LID.judge(made, found) is None:
        raise CannotBuild(problems + [seasons_jig.asked_directly(problem) for problem in found])
    problems += [seasons_jig.asked_directly(problem) for problem in (*found, *_grain_runs_the_short_way(made))]
    title = say("Lid {length} × {width}", length=made.length, width=made.width)
    sheets = (*lid_sheets.drawings(made, bit), *seasons_jig.drawings(climate, lid_sheets.year_curves(made)))
    return Plan(title, as_data(made), sheets, tuple(worst_first(problems)))


def _crown_too_low(made: Lid) -> Iterator[Problem]:
    """Find a crown that no template shows and no plane makes."""
    if 0 < made.crown < LEAST_CROWN:
        yield stop(
            "crown",
            "a crown of {crown} is no more than a few shavings",
            ("{flat} for a flat lid", "{least} or more"),
            crown=made.crown,
            flat=at_most(0.0),
            least=at_least(LEAST_CROWN),
        )


def _grain_runs_the_short_way(made: Lid) -> Iterator[Problem]:
    """Find a lid that moves in its long direction."""
    if made.across > made.along:
        yield warn(
            "across",
            "the grain runs the short way of the opening, and the long way moves: the gap is {gap} in the driest air",
            "exchange along and across, with the grain the long way",
            gap=made.plug.gap_dry,
        )


def as_data(made: Lid) -> dict[str, Any]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    ends, sides = made.rabbets
    return {
        "length": made.length,
        "width": made.width,
        "plug_length": made.plug_length,
        "plug_width": made.plug.width,
        "plug_depth": made.plug_depth,
        "gap_now": made.plug.gap_now,
        "gap_dry": made.plug.gap_dry,
        "gap_wet": made.plug.gap_wet,
        "locks_at_humidity": made.locks_at,
        "rabbet_ends": ends,
        "rabbet_sides": sides,
        "width_dry": made.widths[0],
        "width_wet": made.widths[1],
        "crown_radius": made.crown_radius,
        "edge": made.edge,
        "over_shoulder": made.over_shoulder,
    }
