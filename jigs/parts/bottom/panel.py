"""The bottom of a box: from a box, or from settings alone. Its sheets are in `sheets`."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Annotated, Any, Literal

from jigs.base.catalogue import Plan, jig
from jigs.base.drawing import Drawing
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import Problem, stop
from jigs.base.settings import Angle, Choice, Count, Length
from jigs.base.usual import GROOVE_DEPTH, TONGUE_PLAY
from jigs.base.wording import at_most, say
from jigs.parts.bottom import sheets as bottom_sheets
from jigs.parts.bottom.part import Bottom
from jigs.parts.bottom.rules import BOTTOM
from jigs.parts.groove.part import Groove, lowest_groove, planed_to
from jigs.parts.groove.rules import GROOVE
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS
from jigs.parts.wood.part import Moistures, wood
from jigs.parts.wood.seasons import WOODS
from jigs.trade import groove as groove_arithmetic
from jigs.trade import movement

Stopped = Literal["front and back", "the ends", "none"]


def drawings(made: Bottom) -> tuple[Drawing, ...]:
    """Return the sheets of the bottom of a box: corner, section, rabbets."""
    return bottom_sheets.drawings(made)


@jig(
    "panel",
    title="Bottom panel",
    summary="a solid bottom that holds and moves through the year",
    example="--along 216 --across 136 --groove 6",
    sources=(
        "Size over the year is derived in `jigs/trade/panel.py`; moisture and movement: USDA Wood Handbook, "
        "FPL-GTR-282, chapters 4 and 13. Clearances: common practice, no source."
    ),
)
def panel(
    *,
    along: Annotated[float, Length("inside of the box along the grain", 20, 1500)],
    across: Annotated[float, Length("inside of the box across the grain", 20, 1500)],
    groove: Annotated[float, Length("width of the groove, measured", 1, 30)],
    thickness: Annotated[float, Length("thickness of the bottom", 1, 40, inches=9.525)] = 10.0,
    sides: Annotated[float, Length("thickness of the sides", 3, 60, inches=12.7)] = 12.0,
    depth: Annotated[float | None, Length("depth of the groove", 0.5, 60)] = None,
    from_bottom: Annotated[float | None, Length("bottom edge to the groove's lower side", 0, 500)] = None,
    tongue: Annotated[float | None, Length("thickness of the tongue", 0.5, 40)] = None,
    play: Annotated[float, Length("play of the tongue in the groove", 0, 1, inches=0.2032)] = 0.2,
    clearance: Annotated[float, Length("play across the grain in the wettest air", 0, 10, inches=0.508)] = 0.5,
    stopped: Annotated[Stopped, Choice("boards whose groove is stopped", (*MEMBERS, "none"))] = "none",
    end_wood: Annotated[float | None, Length("wood left at the end of a stopped groove, as cut", 0.1, 100)] = None,
    proud: Annotated[float, Length("fingers left long, to be planed off", 0, 3, inches=0.396875)] = 0.3,
    species: Annotated[str | None, Choice("wood of the bottom", tuple(WOODS))] = None,
    rings: Annotated[float, Angle("growth rings to the wide face, 0 flat-sawn, 90 quarter-sawn", 0, 90)] = 0.0,
    shop_humidity: Annotated[int, Count("humidity of the shop, %", 1, 99)] = 45,
    shop_temperature: Annotated[int, Count("temperature of the shop, °C", -20, 50)] = 20,
    dry_humidity: Annotated[int, Count("humidity of the driest air, %", 1, 99)] = 30,
    dry_temperature: Annotated[int, Count("temperature of the driest air, °C", -20, 50)] = 20,
    wet_humidity: Annotated[int, Count("humidity of the wettest air, %", 1, 99)] = 70,
    wet_temperature: Annotated[int, Count("temperature of the wettest air, °C", -20, 50)] = 25,
    bit: Annotated[float | None, Length("bit for the rabbets, measured", 3, 60)] = None,
    units: Units = "mm",
) -> Plan:
    """Corner, section through the year and rabbet settings of a solid bottom in its grooves."""
    return _plan(_Asked(**locals()))


@dataclass(frozen=True, slots=True)
class _Asked:
    """The settings of the jig."""

    along: float
    across: float
    groove: float
    thickness: float
    sides: float
    depth: float | None
    from_bottom: float | None
    tongue: float | None
    play: float
    clearance: float
    stopped: Stopped
    end_wood: float | None
    proud: float
    species: str | None
    rings: float
    shop_humidity: int
    shop_temperature: int
    dry_humidity: int
    dry_temperature: int
    wet_humidity: int
    wet_temperature: int
    bit: float | None
    units: Units


def _plan(asked: _Asked) -> Plan:
    found = [*_play_leaves_a_tongue(asked), *_seasons_in_order(asked)]
    if found:
        raise CannotBuild(found)
    of_groove: list[Problem] = []
    grooved = _groove(asked)
    GROOVE.judge(grooved, of_groove)
    found += [problem for problem in of_groove if problem.where in _OF_THE_GROOVE]
    made = None if any(p.severity == "stop" for p in found) else BOTTOM.judge(_bottom(asked, grooved), found)
    problems = tuple(_in_the_settings(problem) for problem in found)
    if made is None:
        raise CannotBuild(problems)
    title = say("Bottom {length} by {width}", length=made.length, width=made.seasons.width)
    return Plan(title, as_data(made), bottom_sheets.drawings(made, asked.bit), problems)


def as_data(made: Bottom) -> dict[str, Any]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    sizes = made.seasons
    return {
        "length": made.length,
        "width": sizes.width,
        "width_dry": sizes.width_dry,
        "width_wet": sizes.width_wet,
        "engagement_now": sizes.engagement_now,
        "engagement_dry": sizes.engagement_dry,
        "shoulder_gap": sizes.shoulder_gap,
        "thickness": made.thickness,
        "tongue": made.tongue,
        "lower_face": made.lower_face,
        "upper_face": made.upper_face,
        "rabbet_depths": list(made.rabbet_depths),
        "rabbet_widths": list(made.rabbet_widths),
        "corner": {"kind": made.groove.corner_kind, "size": made.groove.corner_size},
    }


# -- settings left open --------------------------------------------------------------------------------------------


def _groove(asked: _Asked) -> Groove:
    """Return the groove that the bottom goes into: in a finger where it is stopped, else with the finger above it."""
    tongue = min(asked.thickness, asked.groove - asked.play) if asked.tongue is None else asked.tongue
    low = asked.from_bottom
    if low is None:
        least = groove_arithmetic.least_from_bottom(asked.sides)
        low = max(least, lowest_groove(asked.thickness, tongue, asked.units))
    top = low + asked.groove
    cut_depth = asked.sides + asked.proud
    inside = {LONGS: asked.along, SHORTS: asked.across}
    made = Groove(
        cutter=asked.groove,
        depth=asked.sides * GROOVE_DEPTH if asked.depth is None else asked.depth,
        from_bottom=low,
        end_wood=asked.end_wood or 0.0,
        tongue=tongue,
        thickness=asked.sides,
        cut_depth=cut_depth,
        proud=asked.proud,
        units=asked.units,
        fingers={kind: ((0.0 if kind == asked.stopped else top, top + asked.sides),) for kind in MEMBERS},
        lengths={kind: room + 2 * cut_depth for kind, room in inside.items()},
    )
    if asked.end_wood is None and made.stopped and tongue <= asked.groove:
        made = replace(made, end_wood=made.good_end_wood)
    return made


def _bottom(asked: _Asked, grooved: Groove) -> Bottom:
    thickness = planed_to(asked.thickness, grooved.tongue, asked.units)
    return Bottom(
        thickness=thickness,
        tongue=grooved.tongue,
        clearance=asked.clearance,
        wood=wood(asked.species and WOODS[asked.species], asked.rings),
        along=asked.along,
        across=asked.across,
        groove=grooved,
        air=_air(asked),
        planed_from=asked.thickness if thickness != asked.thickness else None,
    )


def _air(asked: _Asked) -> Moistures:
    shop, dry, wet = (
        movement.equilibrium_moisture(temperature, humidity)
        for temperature, humidity in (
            (asked.shop_temperature, asked.shop_humidity),
            (asked.dry_temperature, asked.dry_humidity),
            (asked.wet_temperature, asked.wet_humidity),
        )
    )
    return Moistures(shop, dry, wet, asked.wet_temperature, 0.0)


# -- rules ---------------------------------------------------------------------------------------------------------

_OF_THE_GROOVE = {"groove.depth": "depth", "groove.end_wood": "end wood", "bottom.tongue": "tongue"}
"""What is said of a groove that matters to its bottom, by the setting it comes from: the groove itself is cut."""
_SETTINGS = _OF_THE_GROOVE | {
    "bottom": "panel",
    "bottom.species": "species",
    "bottom.rings": "rings",
    "bottom.clearance": "clearance",
    "bottom.thickness": "thickness",
    "groove.from_bottom": "from bottom",
    "groove.cutter": "groove",
}


def _play_leaves_a_tongue(asked: _Asked) -> list[Problem]:
    if asked.tongue is not None or asked.play < asked.groove:
        return []
    said = "a play of {play} leaves no tongue in a groove of {groove}"
    numbers = {"play": asked.play, "groove": asked.groove, "works": at_most(TONGUE_PLAY.size(asked.units))}
    return [stop("play", said, "{works}", **numbers)]


def _seasons_in_order(asked: _Asked) -> list[Problem]:
    """Find a shop whose air is drier than the driest or wetter than the wettest."""
    air = _air(asked)
    if air.dry <= air.shop <= air.wet:
        return []
    said = "wood comes to {shop} in the shop, to {dry} in the driest air and to {wet} in the wettest: out of order"
    numbers = {name: f"{moisture:.1f} %" for name, moisture in (("shop", air.shop), ("dry", air.dry), ("wet", air.wet))}
    return [stop("shop humidity", said, "a shop between the driest and the wettest air", **numbers)]


def _in_the_settings(problem: Problem) -> Problem:
    """Return a problem of a box's bottom with the settings it comes from."""
    settings = _SETTINGS | ({"bottom": "clearance"} if problem.severity == "stop" else {})
    return problem.renamed(lambda key: settings.get(key, key))
