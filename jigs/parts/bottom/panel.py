"""The bottom of a box: from a box, or from settings alone. Its card is in `card`."""

from __future__ import annotations

from typing import Annotated, Literal

from jigs.base import usual
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild
from jigs.base.kinds import Choice, KnownWood, Length
from jigs.base.lengths import Units
from jigs.base.rules import Problem, stop
from jigs.base.settings import section
from jigs.base.wording import at_most, say
from jigs.boxfile.sections import (
    BottomThickness,
    Climate,
    EndMargin,
    GrooveDepth,
    GrooveHeight,
    GrooveWidth,
    Panel,
    Proud,
    SidesThickness,
)
from jigs.parts.bottom import card
from jigs.parts.bottom.part import Bottom, unused_of
from jigs.parts.bottom.rules import BOTTOM
from jigs.parts.groove.part import Groove, lowest_groove, planed_to, tongue_of
from jigs.parts.groove.rules import GROOVE
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS
from jigs.parts.part import numbers_of
from jigs.parts.wood.part import wood
from jigs.parts.wood.seasons import moistures, unknown_air
from jigs.record import replace
from jigs.trade import groove as groove_arithmetic

Stopped = Literal["front and back", "end boards", "none"]


@section
class PanelSettings(Panel, Climate):
    """The panel and the air it will meet, and what a box works out of its groove."""

    along: Annotated[float, Length("inside of the box along the grain", 20, 1500)]
    across: Annotated[float, Length("inside of the box across the grain", 20, 1500)]
    groove: GrooveWidth
    thickness: BottomThickness = usual.BOTTOM.default
    sides: SidesThickness = usual.SIDES.default
    depth: GrooveDepth = None
    from_bottom: GrooveHeight = None
    end_margin: EndMargin = None
    play: Annotated[float, Length("clearance of the tongue in the groove", 0, 1)] = usual.TONGUE_PLAY.default
    stopped: Annotated[Stopped, Choice("boards whose groove is stopped", (*MEMBERS, "none"))] = "none"
    proud: Proud = usual.PROUD.default
    species: Annotated[str | None, KnownWood("wood of the bottom")] = None


@jig(
    "panel",
    title="Bottom panel",
    summary="a bottom that holds all year, solid or plywood",
    from_box="along=bottom.along across=bottom.across groove=groove.cutter depth=groove.depth proud=file.joint.proud "
    "from_bottom=groove.from_bottom end_margin=groove.end_margin sides=groove.thickness "
    "species=bottom.wood.species.name stopped=groove.stopped_kinds.0",
)
def panel(asked: PanelSettings, units: Units) -> Plan:
    """Corner, section through the year and rabbet settings of a solid bottom in its grooves; or of one of plywood.

    Example: --along 216 --across 136 --groove 6

    Sources: Size over the year is derived in `jigs/trade/panel.py`; moisture and movement: USDA Wood Handbook,
    FPL-GTR-282, chapters 4 and 13. Clearances: common practice, no source.
    """
    unknown_air(asked)
    found = [*_play_leaves_a_tongue(asked, units), *_seasons_in_order(asked)]
    if found:
        raise CannotBuild(found)
    of_groove: list[Problem] = []
    grooved = _groove(asked, units)
    GROOVE.judge(grooved, of_groove)
    found += [problem for problem in of_groove if problem.where in _OF_THE_GROOVE]
    made = None if any(p.severity == "stop" for p in found) else BOTTOM.judge(_bottom(asked, grooved), found)
    problems = tuple(_in_the_settings(problem) for problem in found)
    if made is None:
        raise CannotBuild(problems)
    title = say("Bottom {length:cut} × {width:cut}", length=made.length, width=made.seasons.width)
    return Plan(title, as_data(made), card.of(made), problems)


def as_data(made: Bottom) -> dict[str, object]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    year = ("width", "width_dry", "width_wet", "engagement_now", "engagement_dry", "shoulder_gap")
    names = " ".join(f"{name}=seasons.{name}" for name in year)
    rest = "material thickness tongue lower_face upper_face rabbet_depths rabbet_widths corner=groove.corner_cut"
    return numbers_of(made, f"length {names} {rest}")


# -- settings left open --------------------------------------------------------------------------------------------


def _groove(asked: PanelSettings, units: Units) -> Groove:
    """Return the groove that the bottom goes into: in a finger where it is stopped, else with the finger above it."""
    tongue = tongue_of(asked, asked.groove, units, asked.play)
    low = asked.from_bottom
    if low is None:
        least = groove_arithmetic.least_from_bottom(asked.sides)
        low = max(least, lowest_groove(asked, tongue, units))
    top = low + asked.groove
    cut_depth = asked.sides + asked.proud
    inside = {LONGS: asked.along, SHORTS: asked.across}
    made = Groove(
        cutter=asked.groove,
        depth=asked.sides * usual.GROOVE_DEPTH if asked.depth is None else asked.depth,
        from_bottom=low,
        end_margin=asked.end_margin or 0.0,
        tongue=tongue,
        thicknesses=dict.fromkeys(MEMBERS, asked.sides),
        proud=asked.proud,
        units=units,
        fingers={kind: ((0.0 if kind == asked.stopped else top, top + asked.sides),) for kind in MEMBERS},
        lengths={kind: room + 2 * cut_depth for kind, room in inside.items()},
    )
    if asked.end_margin is None and made.stopped and tongue <= asked.groove:
        made = replace(made, end_margin=made.good_end_margin)
    return made


def _bottom(asked: PanelSettings, grooved: Groove) -> Bottom:
    thickness = planed_to(asked, grooved.tongue, grooved.units)
    return Bottom(
        thickness=thickness,
        tongue=grooved.tongue,
        clearance=asked.clearance,
        wood=wood(asked.species, asked.rings) if asked.material == "solid" else None,
        along=asked.along,
        across=asked.across,
        groove=grooved,
        air=moistures(asked),
        planed_from=asked.thickness if thickness != asked.thickness else None,
        bit=asked.bit,
        unused=unused_of(asked),
    )


# -- rules ---------------------------------------------------------------------------------------------------------

_OF_THE_GROOVE = {
    **{"groove.depth": "depth", "sides.thickness": "sides"},
    **{"groove.end_margin": "end margin", "bottom.tongue": "tongue"},
}
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


def _play_leaves_a_tongue(asked: PanelSettings, units: Units) -> list[Problem]:
    if asked.tongue is not None or asked.play < asked.groove:
        return []
    said = "a clearance of {play} leaves no tongue in a groove {groove} wide"
    numbers = {"play": asked.play, "groove": asked.groove, "works": at_most(usual.TONGUE_PLAY.size(units))}
    return [stop("play", said, "enter {works}", **numbers)]


def _seasons_in_order(asked: PanelSettings) -> list[Problem]:
    """Find a shop whose air is drier than the driest or wetter than the wettest."""
    air = moistures(asked)
    if asked.material == "plywood" or air.dry <= air.shop <= air.wet:
        return []
    said = "wood has {shop} moisture in the shop, outside the {dry} to {wet} of the two seasons"
    numbers = {name: f"{moisture:.1f} %" for name, moisture in (("shop", air.shop), ("dry", air.dry), ("wet", air.wet))}
    return [stop("shop humidity", said, "enter a shop humidity between those of the two seasons", **numbers)]


def _in_the_settings(problem: Problem) -> Problem:
    """Return a problem of a box's bottom with the settings it comes from."""
    settings = _SETTINGS | ({"bottom": "clearance"} if problem.severity == "stop" else {})
    return problem.renamed(lambda key: settings.get(key, key))
