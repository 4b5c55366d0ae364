"""The hole-saw handle: its settings, its rules and its numbers. Its sheets are in `sheets`."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Annotated

from jigs.base import usual
from jigs.base.catalogue import Plan, jig
from jigs.base.drawing import Drawing
from jigs.base.errors import CannotBuild
from jigs.base.kinds import Length
from jigs.base.lengths import Units
from jigs.base.rules import READ_OUT, Problem, Rules, stop, warn
from jigs.base.settings import section
from jigs.base.usual import LEAST_WEB
from jigs.base.wording import Offer, at_least, at_most, say
from jigs.boxfile.sections import Climate, HandleSection
from jigs.parts.handle import outline
from jigs.parts.handle import screws as handle_screws
from jigs.parts.handle import sheets as handle_sheets
from jigs.parts.handle.part import Handle, settled
from jigs.parts.handle.rules import HANDLE
from jigs.parts.handle.screws import HEAD, LEAST_BITE, SCREW_SPACING, Screwed, Screws
from jigs.parts.lid.part import Lid
from jigs.parts.part import numbers_of
from jigs.parts.wood.part import wood
from jigs.trade import movement
from jigs.trade.handle import most_bite


@section
class HandleSettings(HandleSection):
    """The handle, and what a box works out of its lid."""

    lid: Annotated[float, Length("thickness of the lid at the screws", 3, 60)] = usual.LID_AT_SCREWS.default


@jig("handle", title="Hole-saw handle", summary="for a lid, cut by a hole saw through both ends")
def handle(asked: HandleSettings, units: Units) -> Plan:
    """Blank, outline, drilling set-up and screw template of a handle cut with a hole saw.

    Example: --saw 38.6

    Sources: End holes, cusps, crest and least wood are derived in `jigs/trade/handle.py`; the least wood is
    measured on the outline with shapely too. Clamp room, screws and necks: common practice, no source.
    """
    made = settled(asked, units)
    screwed = Screwed(made, _screws(made, asked.lid))
    found: list[Problem] = []
    if HANDLE.judge(made, found) is None or SCREWED.judge(screwed, found) is None:
        raise CannotBuild([problem.without("handle") for problem in found])
    title = say("Hole-saw handle, {length} by {height}", length=made.length, height=made.height)
    problems = tuple(problem.without("handle") for problem in found)
    return Plan(title, as_data(made), (*handle_sheets.drawings(made), handle_screws.screws(screwed)), problems)


def drawings(made: Handle, lid: Lid | None = None) -> tuple[Drawing, ...]:
    """Return the sheets of a box's handle, in the order they are worked from; it lies along the grain of the lid.

    Where the screws don't do, which `screws_that_do` says, theirs is left out.
    """
    sheets, screwed = handle_sheets.drawings(made), _screwed(made, lid)
    return sheets if SCREWED.judge(screwed, []) is None else (*sheets, handle_screws.screws(screwed))


def screws_that_do(made: Handle, lid: Lid | None) -> Iterator[Problem]:
    """Find what is wrong with the screws of a box's handle. It stops nothing but their own sheet."""
    found: list[Problem] = []
    stopped = SCREWED.judge(_screwed(made, lid), found) is None
    for problem in found:
        rule = f"{problem.rule}; no sheet is drawn for them" if stopped else problem.rule
        yield replace(problem, severity="warning", rule=rule)


def _screwed(made: Handle, lid: Lid | None) -> Screwed:
    return Screwed(made, screws_of(made, lid), (lid.length, lid.width) if lid else None)


def screws_of(made: Handle, lid: Lid | None) -> Screws:
    """Return the screws through a lid, or through a usual lid where the box has none."""
    if lid is None:
        return _screws(made, usual.LID_AT_SCREWS.size(made.units))
    swelling = lid.wood.coefficient * (lid.air.wet - lid.air.dry)
    return replace(_screws(made, lid.thickness), swelling=swelling, crown_radius=lid.crown_radius)


def _screws(made: Handle, lid: float) -> Screws:
    """Return the screws through a lid of a thickness that moves as one does that is not named."""
    asked, swelling = made.asked, _usual_swelling()
    return Screws(
        lid, asked.countersink, asked.bite, asked.shank, asked.root, asked.across, swelling=swelling, units=made.units
    )


def as_data(made: Handle) -> dict[str, object]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    holes = "centre_offset hole_height chord cusps rim_in_wood crest_radius least_wood"
    least = outline.measured(outline.outline(made.holes)).least
    rest = numbers_of(made, "blank_length clamp_room")
    return numbers_of(made.holes, holes) | {"least_wood_measured": least} | rest


def _usual_swelling() -> float:
    """Return by what share of its width a lid that is not named moves over the usual year."""
    air = Climate()
    dry, wet = (movement.equilibrium_moisture(a.temperature, a.humidity) for a in (air.dry, air.wet))
    return wood(None, 0.0).coefficient * (wet - dry)


# -- rules of the screws -------------------------------------------------------------------------------------------


ROOT_OF_SHANK = 0.7
"""The root of a wood screw, of its shank (value from memory)."""


def _thinner(made: Screwed, shank: float) -> Offer:
    """Return a shank that is no thicker than this, and with it a root that is thinner."""
    return at_most(shank, "handle.shank", **{"handle.root": min(made.screws.root, ROOT_OF_SHANK * shank)})


def _high_enough(made: Screwed, bite: float) -> float:
    """Return the height of a handle that has wood enough over a screw: all of what is added is over it."""
    return made.handle.height + bite - most_bite(made.wood_over)


def _heads_go_through(made: Screwed) -> Iterator[Problem]:
    lid, sunk = made.screws.lid, made.screws.countersink
    if sunk >= lid:
        yield stop(
            "handle.countersink",
            "heads sunk {sunk} into a lid of {lid} come through it",
            "{works}, half the lid, or less",
            sunk=sunk,
            lid=lid,
            works=at_most(lid / 2),
        )


def _root_as_thick_as_shank(made: Screwed) -> Iterator[Problem]:
    if made.screws.root >= made.screws.shank:
        yield stop(
            "handle.root",
            "a screw with a shank of {shank} has no root of {root}",
            "measure it between the threads: about {works}",
            shank=made.screws.shank,
            root=made.screws.root,
            works=at_most(ROOT_OF_SHANK * made.screws.shank),
        )


def _screw_comes_out(made: Screwed) -> Iterator[Problem]:
    bite, wood_over = made.screws.bite, made.wood_over
    most = most_bite(wood_over)
    if bite > most + READ_OUT:
        yield stop(
            "handle.bite",
            "a screw that goes {bite} into {wood} of wood leaves too little over it",
            ("at most {shorter}", "a handle {higher} high or higher"),
            bite=bite,
            wood=wood_over,
            shorter=at_most(most),
            higher=at_least(_high_enough(made, bite), "handle.height"),
        )


def _screw_comes_into_hole(made: Screwed) -> Iterator[Problem]:
    """Find screws too near a hole: their line is radius + neck/4 from its centre, their ends are further down."""
    beside = made.wood_beside
    if beside < LEAST_WEB - READ_OUT:
        radius, shank = made.handle.radius, made.screws.shank
        needed, aside = radius + shank / 2 + LEAST_WEB, made.handle.holes.centre_offset - made.places[1]
        wider = max((needed - radius) / (1 - SCREW_SPACING) * 2, HEAD * shank / SCREW_SPACING)
        yield (stop if beside <= 0 else warn)(
            "handle.bite",
            "screws that go {bite} in come within {beside} of the holes"
            if beside > 0
            else "screws that go {bite} in come out in the holes",
            (
                "screws that go in {shorter} or less",
                "a shank of {thinner} or less",
                "a neck of {wider} or more",
            ),
            bite=made.screws.bite,
            beside=beside,
            shorter=at_most(made.handle.hole_height - math.sqrt(needed**2 - aside**2)),
            thinner=_thinner(made, shank - 2 * (LEAST_WEB - beside)),
            wider=at_least(wider, "handle.neck"),
        )


def _screw_hardly_holds(made: Screwed) -> Iterator[Problem]:
    if made.screws.bite < LEAST_BITE:
        room, higher = most_bite(made.wood_over) >= LEAST_BITE, _high_enough(made, LEAST_BITE)
        yield warn(
            "handle.bite",
            "screws that go only {bite} in pull out",
            "{least} or more" if room else "{least} in a handle {higher} high or higher",
            bite=made.screws.bite,
            least=at_least(LEAST_BITE) if room else at_least(LEAST_BITE, "", **{"handle.height": higher}),
            higher=at_least(higher, "handle.height", **{"handle.bite": LEAST_BITE}),
        )


def _screws_split_the_foot(made: Screwed) -> Iterator[Problem]:
    if made.handle.thickness < 3 * made.screws.shank:
        yield warn(
            "handle.shank",
            "screws of {shank} split a handle {thickness} thick",
            "a shank of {most} or less",
            shank=made.screws.shank,
            thickness=made.handle.thickness,
            most=_thinner(made, made.handle.thickness / 3),
        )


def _heads_meet(made: Screwed) -> Iterator[Problem]:
    if made.spacing < made.screws.head - READ_OUT:
        yield stop(
            "handle.neck",
            "in a neck of {neck} two screws stand {spacing} apart, and their heads of {head} meet",
            ("{works} or more", "screws with a shank of {thinner} or less"),
            neck=made.handle.neck,
            spacing=made.spacing,
            head=made.screws.head,
            works=at_least(made.screws.head / SCREW_SPACING),
            thinner=_thinner(made, made.spacing / HEAD),
        )


SCREWED: Rules[Screwed] = Rules(
    (_heads_go_through, _root_as_thick_as_shank),
    (_heads_meet, _screw_comes_out, _screw_comes_into_hole, _screw_hardly_holds, _screws_split_the_foot),
)
