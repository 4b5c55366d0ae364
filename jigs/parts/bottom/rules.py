"""The rules of the bottom."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Rules, stop, warn
from jigs.base.usual import BOTTOM_CLEARANCE, LEAST_RABBET, OFF_THE_TABLE, TONGUE_PLAY, Usual
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.bottom.part import Bottom
from jigs.parts.wood.rules import wood_with_a_name
from jigs.trade import movement, panel

LEAST_TONGUE_PLAY = Usual(0.1, 0.004)
"""With less play in its groove a tongue binds as soon as it has a finish (common practice, no source)."""
LEAST_BOTTOM = 1.0
"""The thinnest bottom that a file may ask for, mm."""
MOST_TONGUE_PLAY = 0.3
"""With more play in the thickness of its groove a bottom rattles (common practice, no source), mm."""


def _panel_thinner_than_tongue(made: Bottom) -> Iterator[Problem]:
    if made.tongue > made.thickness:
        yield stop(
            "bottom.tongue",
            "a bottom of {thickness} has no tongue of {tongue}",
            ("at most {works}", "leave the tongue to be worked out"),
            thickness=made.thickness,
            tongue=made.tongue,
            works=at_most(made.thickness),
        )


def _groove_too_shallow(made: Bottom) -> Iterator[Problem]:
    if made.groove.depth <= made.play:
        works = made.groove.thickness / 2
        yield stop(
            "groove.depth",
            "a groove {depth} deep does not hold a bottom with a play of {play} at each end",
            "{works}" if works > made.play + READ_OUT else "thicker sides",
            depth=made.groove.depth,
            play=made.play,
            works=at_most(works),
        )


def _no_panel_is_left(made: Bottom) -> Iterator[Problem]:
    room = made.across + 2 * made.groove.depth
    if made.clearance >= room:
        yield stop(
            "bottom.clearance",
            "a play of {play} leaves nothing of the {room} there is for the bottom",
            "{works}",
            play=made.clearance,
            room=room,
            works=at_most(BOTTOM_CLEARANCE.size(made.groove.units)),
        )


def _drops_out(made: Bottom) -> Iterator[Problem]:
    held, least = made.seasons.engagement_dry, panel.least_engagement(made.groove.depth)
    if held >= least - READ_OUT:
        return
    depth = _depth_that_holds(made)
    ways = ["a clearance of {clearance} or less"]
    if made.quartered.engagement_dry >= least:
        ways.insert(0, "quarter-sawn wood, its rings at {quarter}°")
    if made.groove.depth < depth <= made.groove.thickness / 2:
        ways.append("a groove {deeper} deep")
    yield (stop if held <= 0 else warn)(
        "bottom",
        "in the driest air, slid to one side, the bottom is held by {held} on the other, where {least} is wanted"
        + (": it drops out" if held <= 0 else ""),
        (*ways, "a wood that moves less"),
        held=held,
        least=least,
        quarter=Offer(movement.QUARTER, setting="bottom.rings", plain=True),
        clearance=at_most(_clearance_that_holds(made), "bottom.clearance"),
        deeper=at_least(depth, "groove.depth"),
    )


def _shrinks_to(made: Bottom) -> float:
    """Return the width in the driest air over that in the wettest."""
    return made.seasons.width_dry / made.seasons.width_wet


def _clearance_that_holds(made: Bottom) -> float:
    """Return the clearance with which the grooves hold enough of the driest bottom; below 0 where none does.

    With A across, D deep, and the driest bottom s times the wettest: s (A + 2D − clearance) − A − D is held.
    """
    depth = made.groove.depth
    held = made.across + depth + panel.least_engagement(depth)
    return made.across + 2 * depth - held / _shrinks_to(made)


def _depth_that_holds(made: Bottom) -> float:
    """Return the depth of a groove that holds enough of the driest bottom: as `_clearance_that_holds`, by D.

    What is wanted is 1 mm or a quarter of the depth, so that it is the more of two depths.
    """
    shrinks = _shrinks_to(made)
    missing = made.across - shrinks * (made.across - made.clearance)
    if shrinks <= 5 / 8:
        return math.inf  # each mm of depth takes more than it holds
    return max((missing + 1.0) / (2 * shrinks - 1), missing / (2 * shrinks - 1 - 1 / 4))


def _no_play_when_wet(made: Bottom) -> Iterator[Problem]:
    if made.clearance <= 0:
        most, usual = _clearance_that_holds(made), BOTTOM_CLEARANCE.size(made.groove.units)
        yield warn(
            "bottom.clearance",
            "in the wettest air the bottom of {wet} fills its grooves: a little wetter, and it opens the corners",
            "{works}",
            wet=made.seasons.width_wet,
            works=at_most(min(most, usual) if most > 0 else usual),
        )


def _rattles(made: Bottom) -> Iterator[Problem]:
    play, play_wanted = made.groove.cutter - made.tongue, TONGUE_PLAY.size(made.groove.units)
    works = made.groove.cutter - play_wanted
    if play > MOST_TONGUE_PLAY + READ_OUT:
        yield warn(
            "bottom.tongue",
            "a tongue of {tongue} has a play of {play} in a groove of {groove} and rattles",
            (
                "a tongue of {works}",
                *(["a bottom of {thicker} and a tongue as thick"] if made.thickness < works else []),
                "a groove of {narrower}",
            ),
            tongue=made.tongue,
            play=play,
            groove=made.groove.cutter,
            works=at_most(works),
            thicker=at_least(works, "bottom.thickness", **{"bottom.tongue": works}),
            narrower=at_least(made.tongue + play_wanted, "groove.cutter"),
        )


def _binds(made: Bottom) -> Iterator[Problem]:
    units = made.groove.units
    play = made.groove.cutter - made.tongue
    if play < LEAST_TONGUE_PLAY.size(units) - READ_OUT:
        yield warn(
            "bottom.tongue",
            "a tongue of {tongue} in a groove of {groove} has "
            + ("a play of {play}" if play > READ_OUT else "no play")
            + ": it binds, and finish makes it thicker",
            "{works}",
            tongue=made.tongue,
            groove=made.groove.cutter,
            play=play,
            works=at_most(made.groove.cutter - TONGUE_PLAY.size(units)),
        )


def _planed_all_over(made: Bottom) -> Iterator[Problem]:
    if made.planed_from is not None:
        yield warn(
            "bottom.thickness",
            "a bottom of {thickness} is {over} thicker than its tongue of {drawn}: nobody cuts rabbets so shallow",
            ("plane all of it to {tongue}, without rabbets", "take one of {thicker} or more"),
            thickness=made.planed_from,
            over=made.planed_from - made.tongue,
            drawn=made.tongue,
            tongue=at_most(made.tongue),
            thicker=at_least(made.tongue + 2 * LEAST_RABBET.size(made.groove.units)),
        )


def _hangs_below(made: Bottom) -> Iterator[Problem]:
    """Find a bottom, its tongue in the middle of its thickness, that comes out lower than the sides or level."""
    least = OFF_THE_TABLE.size(made.groove.units)
    if not made.has_rabbets or made.lower_face >= least - READ_OUT:
        return
    thinner, higher = _thinner(made, least), _higher(made, made.rabbet_depths[0] + least)
    can_be_thinner = thinner >= LEAST_BOTTOM + READ_OUT
    ways = []
    if can_be_thinner:
        ways.append("a bottom of {thinner} at most")
    if higher is not None:
        ways.append("a groove {higher} from the bottom edge")
    if not can_be_thinner:
        ways.append("a wider groove, and a tongue as thick as the bottom")
    hangs = made.lower_face <= -READ_OUT
    yield (stop if hangs else warn)(
        "bottom.thickness" if can_be_thinner else "groove.from_bottom",
        "a bottom of {thickness} with a tongue of {tongue} in a groove {low} from the bottom edge "
        + ("hangs {below} below the sides: the box stands on it" if hangs else "lies only {below} above it"),
        tuple(ways),
        thickness=made.thickness,
        tongue=made.tongue,
        low=made.groove.from_bottom,
        below=abs(made.lower_face),
        thinner=at_most(thinner, "bottom.thickness"),
        higher=at_least(higher or 0.0, "groove.from_bottom"),
    )


def _thinner(made: Bottom, least: float) -> float:
    """Return the thickest bottom that keeps so far above the bottom edges."""
    rabbet = made.groove.from_bottom - least
    return made.tongue + (2 * rabbet if rabbet >= LEAST_RABBET.size(made.groove.units) else 0.0)


def _higher(made: Bottom, least: float) -> float | None:
    """Return the nearest height of the groove that is no lower; None where no finger holds it there."""
    of = made.groove
    if not of.stopped_kinds:
        return least
    return min((max(safe.lowest, least) for safe in of.heights if safe.highest >= least), default=None)


BOTTOM: Rules[Bottom] = Rules(
    (_panel_thinner_than_tongue, _groove_too_shallow, _no_panel_is_left),
    (
        _hangs_below,
        _drops_out,
        _no_play_when_wet,
        _rattles,
        _binds,
        _planed_all_over,
        wood_with_a_name("bottom.species"),
    ),
)
