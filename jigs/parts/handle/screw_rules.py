"""The rules of a handle's screws: where one fails, nothing is said of them on the cards and no template places them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Rules, stop, warn
from jigs.base.usual import LEAST_WEB
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.handle.screws import HEAD, LEAST_BITE, SCREW_SPACING, Screwed
from jigs.trade.handle import most_bite

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
            "heads sunk {sunk} into a lid {lid} thick come through it",
            "sink them {works} or less, half the lid",
            sunk=sunk,
            lid=lid,
            works=at_most(lid / 2),
        )


def _root_as_thick_as_shank(made: Screwed) -> Iterator[Problem]:
    if made.screws.root >= made.screws.shank:
        yield stop(
            "handle.root",
            "a screw with a shank of {shank} cannot have a root of {root}",
            "measure the root between the threads, about {works}",
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
            "screws that go {bite} into {wood:cut down} of wood leave too little above them",
            ("let them go {shorter} in or less", "make the handle {higher} high or more"),
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
            "screws that go {bite} in come within {beside:cut down} of the holes; {least:cut up} is needed"
            if beside > 0
            else "screws that go {bite} in come out in the holes",
            (
                "let them go {shorter} in or less",
                "use a shank of {thinner} or less",
                "make the neck {wider} or more",
            ),
            bite=made.screws.bite,
            beside=beside,
            least=LEAST_WEB,
            shorter=at_most(made.handle.hole_height - math.sqrt(needed**2 - aside**2)),
            thinner=_thinner(made, shank - 2 * (LEAST_WEB - beside)),
            wider=at_least(wider, "handle.neck"),
        )


def _screw_hardly_holds(made: Screwed) -> Iterator[Problem]:
    if made.screws.bite < LEAST_BITE:
        room, higher = most_bite(made.wood_over) >= LEAST_BITE, _high_enough(made, LEAST_BITE)
        yield warn(
            "handle.bite",
            "screws that go only {bite} in will pull out",
            "let them go {least} in or more" if room else "let them go {least} in, in a handle {higher} high or more",
            bite=made.screws.bite,
            least=at_least(LEAST_BITE) if room else at_least(LEAST_BITE, "", **{"handle.height": higher}),
            higher=at_least(higher, "handle.height", **{"handle.bite": LEAST_BITE}),
        )


def _screws_split_the_base(made: Screwed) -> Iterator[Problem]:
    if made.handle.thickness < 3 * made.screws.shank:
        yield warn(
            "handle.shank",
            "screws with a shank of {shank} will split a handle {thickness} thick; a third of it is the limit",
            "use a shank of {most} or less",
            shank=made.screws.shank,
            thickness=made.handle.thickness,
            most=_thinner(made, made.handle.thickness / 3),
        )


def _heads_meet(made: Screwed) -> Iterator[Problem]:
    if made.spacing < made.screws.head - READ_OUT:
        yield stop(
            "handle.neck",
            "the heads of the screws meet: they are {head:cut up} wide and stand {spacing:cut down} apart in a neck "
            "of {neck}",
            ("make the neck {works} or more", "use screws with a shank of {thinner} or less"),
            neck=made.handle.neck,
            spacing=made.spacing,
            head=made.screws.head,
            works=at_least(made.screws.head / SCREW_SPACING),
            thinner=_thinner(made, made.spacing / HEAD),
        )


SCREWED: Rules[Screwed] = Rules(
    (_heads_go_through, _root_as_thick_as_shank),
    (_heads_meet, _screw_comes_out, _screw_comes_into_hole, _screw_hardly_holds, _screws_split_the_base),
)
