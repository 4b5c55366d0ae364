"""The hole-saw handle: its settings, its rules and its numbers. Its sheets are in `sheets`."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Annotated, Any

from jigs.base.catalogue import Plan, jig
from jigs.base.drawing import Drawing
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import READ_OUT, Problem, Rules, stop, warn
from jigs.base.settings import Flag, Length
from jigs.base.usual import HANDLE_CENTRES_INSIDE, LEAST_WEB
from jigs.base.wording import Offer, at_least, at_most, say
from jigs.boxfile.sections import Climate
from jigs.parts.handle import outline
from jigs.parts.handle import sheets as handle_sheets
from jigs.parts.handle.part import Handle
from jigs.parts.handle.rules import HANDLE
from jigs.parts.handle.sheets import HEAD, LEAST_BITE, SCREW_SPACING, Screwed, Screws
from jigs.parts.lid.part import Lid
from jigs.parts.wood.part import wood
from jigs.trade import movement
from jigs.trade.handle import most_bite


@jig(
    "handle",
    title="Hole-saw handle",
    summary="for a lid, cut by a hole saw through both ends",
    example="--saw 38.6",
    sources=(
        "End holes, cusps, crest and least wood are derived in `jigs/trade/handle.py`; the least wood is "
        "measured on the outline with shapely too. Clamp room, screws and necks: common practice, no source."
    ),
)
def handle(
    *,
    saw: Annotated[float, Length("hole the saw cuts, measured in scrap", 10, 120)],
    neck: Annotated[float, Length("neck between the holes", 1, 150, inches=22.225)] = 24.0,
    foot: Annotated[float, Length("wood under the holes", 0.5, 60, inches=6.35)] = 6.0,
    length: Annotated[float | None, Length("length", 10, 500)] = None,
    height: Annotated[float | None, Length("height", 10, 250)] = None,
    thickness: Annotated[float, Length("thickness", 5, 80, inches=22.225)] = 22.0,
    crest: Annotated[float, Length("rise of the crest", 0.5, 60, inches=4.7625)] = 5.0,
    lid: Annotated[float, Length("thickness of the lid at the screws", 3, 60, inches=19.05)] = 18.0,
    countersink: Annotated[float, Length("screw heads sunk into the lid", 0, 30, inches=3.175)] = 3.0,
    bite: Annotated[float, Length("how far the screws go into the handle", 2, 120, inches=15.875)] = 15.0,
    shank: Annotated[float, Length("shank of the screws", 1.5, 10, inches=4.1656)] = 4.0,
    root: Annotated[float, Length("root of the screws, between the threads", 1, 8, inches=2.921)] = 2.8,
    across: Annotated[bool, Flag("the handle lies across the grain of the lid")] = False,
    units: Units = "mm",
) -> Plan:
    """Blank, outline, drilling set-up and screw template of a handle cut with a hole saw."""
    radius = saw / 2
    made = Handle(
        radius=radius,
        neck=neck,
        foot=foot,
        length=neck + 2 * radius * (1 + HANDLE_CENTRES_INSIDE) if length is None else length,
        height=2 * (radius + foot) + crest if height is None else height,
        thickness=thickness,
        crest=crest,
        units=units,
    )
    screws = Screws(lid, countersink, bite, shank, root, across, swelling=_usual_swelling(), units=units)
    found: list[Problem] = []
    if HANDLE.judge(made, found) is None or SCREWED.judge(Screwed(made, screws), found) is None:
        raise CannotBuild([problem.without("handle") for problem in found])
    title = say("Hole-saw handle, {length} by {height}", length=made.length, height=made.height)
    problems = tuple(problem.without("handle") for problem in found)
    sheets = (*handle_sheets.drawings(made), handle_sheets.screws(Screwed(made, screws)))
    return Plan(title, as_data(made), sheets, problems)


def drawings(made: Handle, lid: Lid | None = None) -> tuple[Drawing, ...]:
    """Return the sheets of a box's handle, in the order they are worked from; it lies along the grain of the lid.

    Where the usual screws don't do, which `usual_screws` says, theirs is left out.
    """
    sheets, screwed = handle_sheets.drawings(made), _screwed(made, lid)
    return sheets if SCREWED.judge(screwed, []) is None else (*sheets, handle_sheets.screws(screwed))


def usual_screws(made: Handle, lid: Lid | None) -> Iterator[Problem]:
    """Find what is wrong with the usual screws in a box's handle. A box file does not name others."""
    found: list[Problem] = []
    stopped = SCREWED.judge(_screwed(made, lid), found) is None
    without = "; no sheet is drawn for them" if stopped else ""
    for problem in found:
        rule = f"the usual screws do not do: {problem.rule}{without}"
        yield warn("handle", rule, "others, on a sheet of their own: jigleaf jig handle", **problem.numbers)


def _screwed(made: Handle, lid: Lid | None) -> Screwed:
    return Screwed(made, screws_of(made, lid), (lid.length, lid.width) if lid else None)


def screws_of(made: Handle, lid: Lid | None) -> Screws:
    """Return the usual screws through a lid, or through a usual lid where the box has none."""
    usual = handle_sheets.usual_screws(made.units)
    if lid is None:
        return Screws(*usual, across=False, swelling=_usual_swelling(), units=made.units)
    swelling = lid.wood.coefficient * (lid.air.wet - lid.air.dry)
    bent, units = lid.crown_radius, made.units
    return Screws(lid.thickness, *usual[1:], across=False, swelling=swelling, units=units, crown_radius=bent)


def as_data(made: Handle) -> dict[str, Any]:
    """Return the numbers by the names of the JSON reports: lengths in mm."""
    holes = made.holes
    measured = outline.measured(outline.outline(holes))
    return {
        "centre_offset": holes.centre_offset,
        "hole_height": holes.hole_height,
        "chord": holes.chord,
        "cusps": list(holes.cusps),
        "rim_in_wood": holes.rim_in_wood,
        "crest_radius": holes.crest_radius,
        "least_wood": holes.least_wood,
        "least_wood_measured": measured.least,
        "blank_length": made.blank_length,
        "clamp_room": made.clamp_room,
    }


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
    return at_most(shank, "shank", root=min(made.screws.root, ROOT_OF_SHANK * shank))


def _high_enough(made: Screwed, bite: float) -> float:
    """Return the height of a handle that has wood enough over a screw: all of what is added is over it."""
    return made.handle.height + bite - most_bite(made.wood_over)


def _heads_go_through(made: Screwed) -> Iterator[Problem]:
    lid, sunk = made.screws.lid, made.screws.countersink
    if sunk >= lid:
        yield stop(
            "countersink",
            "heads sunk {sunk} into a lid of {lid} come through it",
            "{works}, half the lid, or less",
            sunk=sunk,
            lid=lid,
            works=at_most(lid / 2),
        )


def _root_as_thick_as_shank(made: Screwed) -> Iterator[Problem]:
    if made.screws.root >= made.screws.shank:
        yield stop(
            "root",
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
            "bite",
            "a screw that goes {bite} into {wood} of wood leaves too little over it",
            ("at most {shorter}", "a handle {higher} high or higher"),
            bite=bite,
            wood=wood_over,
            shorter=at_most(most),
            higher=at_least(_high_enough(made, bite), "height"),
        )


def _screw_comes_into_hole(made: Screwed) -> Iterator[Problem]:
    """Find screws too near a hole: their line is radius + neck/4 from its centre, their ends are further down."""
    beside = made.wood_beside
    if beside < LEAST_WEB - READ_OUT:
        radius, shank = made.handle.radius, made.screws.shank
        needed, aside = radius + shank / 2 + LEAST_WEB, made.handle.holes.centre_offset - made.places[1]
        wider = max((needed - radius) / (1 - SCREW_SPACING) * 2, HEAD * shank / SCREW_SPACING)
        yield (stop if beside <= 0 else warn)(
            "bite",
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
            wider=at_least(wider, "neck"),
        )


def _screw_hardly_holds(made: Screwed) -> Iterator[Problem]:
    if made.screws.bite < LEAST_BITE:
        room, higher = most_bite(made.wood_over) >= LEAST_BITE, _high_enough(made, LEAST_BITE)
        yield warn(
            "bite",
            "screws that go only {bite} in pull out",
            "{least} or more" if room else "{least} in a handle {higher} high or higher",
            bite=made.screws.bite,
            least=at_least(LEAST_BITE) if room else at_least(LEAST_BITE, height=higher),
            higher=at_least(higher, "height", bite=LEAST_BITE),
        )


def _screws_split_the_foot(made: Screwed) -> Iterator[Problem]:
    if made.handle.thickness < 3 * made.screws.shank:
        yield warn(
            "shank",
            "screws of {shank} split a handle {thickness} thick",
            "a shank of {most} or less",
            shank=made.screws.shank,
            thickness=made.handle.thickness,
            most=_thinner(made, made.handle.thickness / 3),
        )


def _heads_meet(made: Screwed) -> Iterator[Problem]:
    if made.spacing < made.screws.head - READ_OUT:
        yield stop(
            "neck",
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
