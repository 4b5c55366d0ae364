"""The rules of a handle's screws: where one fails, nothing is said of them on the cards and no template places them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Rules, stop, warn
from jigs.base.usual import LEAST_WEB
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.handle import ways_out
from jigs.parts.handle.part import Handle
from jigs.parts.handle.screws import HEAD, LEAST_BITE, SCREW_SPACING, Screwed, through
from jigs.parts.lid.part import Lid
from jigs.record import replace
from jigs.trade.handle import most_bite

WIDEST = 300.0
"""The widest neck that a box file takes, mm."""
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
    if made.handle.middle and made.wood_beside <= 0:
        return  # it comes out at the side: that is told
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
    """Find screws too near a hole."""
    beside = made.wood_beside
    if beside < LEAST_WEB - READ_OUT:
        ways, offers = _away_from_holes(made)
        yield (stop if beside <= 0 else warn)(
            "handle.bite",
            "screws that go {bite} in come within {beside:cut down} of the holes; {least:cut up} is needed"
            if beside > 0
            else "screws that go {bite} in come out in the holes",
            ways,
            bite=made.screws.bite,
            beside=beside,
            least=LEAST_WEB,
            thinner=_thinner(made, made.screws.shank - 2 * (LEAST_WEB - beside)),
            **offers,
        )


def _away_from_holes(made: Screwed) -> tuple[tuple[str, ...], dict[str, object]]:
    """Return the ways of screws away from the holes.

    In the neck between two holes their line is radius + neck/4 from a centre, their ends are further down. Beside a
    middle hole they move with all there is, and bite and neck are searched for.
    """
    shank, handle = made.screws.shank, made.handle
    shorter: float | None
    wider: float | None
    if handle.middle:
        shorter = ways_out.nearest(lambda bite: _far_enough(ways_out.with_bite(made, bite)), made.screws.bite, 2.0)
        wider = ways_out.nearest(lambda neck: _far_enough(ways_out.with_neck(made, neck)), handle.neck, WIDEST)
    else:
        needed, aside = handle.radius + shank / 2 + LEAST_WEB, handle.holes.centre_offset - made.places[1]
        shorter = handle.hole_height - math.sqrt(needed**2 - aside**2)
        wider = max((needed - handle.radius) / (1 - SCREW_SPACING) * 2, HEAD * shank / SCREW_SPACING)
    ways, offers = ["use a shank of {thinner} or less"], dict[str, object]()
    if shorter is not None:
        ways.insert(0, "let them go {shorter} in or less")
        offers["shorter"] = at_most(shorter)
    if wider is not None:
        ways.append("make the neck {wider} or more")
        offers["wider"] = at_least(wider, "handle.neck")
    return tuple(ways), offers


def _far_enough(made: Screwed) -> bool:
    return made.wood_beside >= LEAST_WEB


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
    shank, each = made.screws.shank, made.each
    if each < 3 * shank:
        yield warn(
            "handle.shank",
            "screws with a shank of {shank} will split a handle {thickness} thick; a third of it is the limit"
            if made.count == 2
            else "screws with a shank of {shank} side by side will split a handle {thickness} thick; a sixth of it is "
            "the limit",
            "use a shank of {most} or less" if made.count == 2 else ("use a shank of {most} or less", *_SIDE_BY_SIDE),
            shank=shank,
            thickness=made.handle.thickness,
            most=_thinner(made, each / 3),
            thicker=at_least(6 * shank, "handle.thickness"),
            two=_TWO,
        )


_TWO = Offer(2, setting="handle.screws")
_SIDE_BY_SIDE = ("make the handle {thicker} thick or more", "use {two} screws")


def _heads_meet(made: Screwed) -> Iterator[Problem]:
    head, spacing = made.screws.head, made.spacing
    if spacing < head - READ_OUT:
        works: float | None = head / SCREW_SPACING
        if made.handle.middle:
            works = ways_out.nearest(
                lambda neck: ways_out.with_neck(made, neck).spacing >= head, made.handle.neck, WIDEST
            )
        thinner = "use screws with a shank of {thinner} or less"
        yield stop(
            "handle.neck",
            "the heads of the screws meet: they are {head:cut up} wide and stand {spacing:cut down} apart in a neck "
            "of {neck}",
            ("make the neck {works} or more", thinner) if works else thinner,
            neck=made.handle.neck,
            spacing=spacing,
            head=head,
            works=at_least(works or 0.0),
            thinner=_thinner(made, spacing / HEAD),
        )


def _heads_meet_side_by_side(made: Screwed) -> Iterator[Problem]:
    head, apart = made.screws.head, made.screws.apart
    if 0 < apart < head - READ_OUT:
        yield stop(
            "handle.screws",
            "the heads of screws side by side meet: they are {head:cut up} wide and stand {apart:cut down} apart in a "
            "handle {thickness} thick",
            ("make the handle {thicker} thick or more", "use {two} screws"),
            head=head,
            apart=apart,
            thickness=made.handle.thickness,
            thicker=at_least(head / SCREW_SPACING, "handle.thickness"),
            two=_TWO,
        )


def _three_screws(made: Screwed) -> Iterator[Problem]:
    if made.handle.asked.screws % 2:
        yield stop(
            "handle.screws",
            "{count} screws do not stand alike on both sides of the middle",
            ("use {two} screws", "use {four} screws"),
            count=made.handle.asked.screws,
            two=_TWO,
            four=Offer(4, setting="handle.screws"),
        )


SCREWED: Rules[Screwed] = Rules(
    (_three_screws, _heads_go_through, _root_as_thick_as_shank),
    (
        *(_heads_meet, _heads_meet_side_by_side, _screw_comes_out, _screw_comes_into_hole),
        *(_screw_hardly_holds, _screws_split_the_base),
    ),
)


def screws_that_do(made: Handle, lid: Lid | None) -> Iterator[Problem]:
    """Find what is wrong with the screws of a box's handle. It stops nothing but their own template."""
    found: list[Problem] = []
    stopped = SCREWED.judge(through(made, lid), found) is None
    for problem in found:
        rule = f"{problem.rule}. No template is drawn for them" if stopped else problem.rule
        yield replace(problem, severity="warning", rule=rule)
