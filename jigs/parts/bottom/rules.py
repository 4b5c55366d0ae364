"""The rules of the bottom."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Rules, note, stop, warn
from jigs.base.usual import BOTTOM_CLEARANCE, LEAST_RABBET, OFF_THE_TABLE, SHEET_SLIP, TONGUE_PLAY, Usual
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.bottom.part import Bottom
from jigs.parts.wood.rules import wood_with_a_name
from jigs.trade import movement, panel

LEAST_TONGUE_PLAY = Usual(0.1, 0.004)
"""With less clearance in its groove a tongue binds as soon as it has a finish (common practice, no source)."""
LEAST_BOTTOM = 1.0
"""The thinnest bottom that a file may ask for, mm."""
MOST_TONGUE_PLAY = 0.3
"""With more clearance in the thickness of its groove a bottom rattles (common practice, no source), mm."""
SOLD_IN = (1.0, 25.4 / 16)
"""Sheets are sold in whole mm and in sixteenths of an inch; hardly one measures so (common practice, no source), mm."""


def _panel_thinner_than_tongue(made: Bottom) -> Iterator[Problem]:
    if made.tongue > made.thickness:
        yield stop(
            "bottom.tongue",
            "a bottom {thickness} thick cannot have a tongue {tongue} thick",
            ("make the tongue {works} thick or less", "leave the tongue to the program"),
            thickness=made.thickness,
            tongue=made.tongue,
            works=at_most(made.thickness),
        )


def _groove_too_shallow(made: Bottom) -> Iterator[Problem]:
    if made.wood and made.groove.depth <= made.play:
        works = made.groove.thickness / 2
        yield stop(
            "groove.depth",
            "a groove {depth} deep does not hold the bottom, whose clearance at each end is {play:cut}",
            "cut it {works} deep" if works > made.play + READ_OUT else "make the sides thicker",
            depth=made.groove.depth,
            play=made.play,
            works=at_most(works),
        )


def _no_panel_is_left(made: Bottom) -> Iterator[Problem]:
    room = made.across + 2 * made.groove.depth
    if made.wood and made.clearance >= room:
        yield stop(
            "bottom.clearance",
            "a clearance of {play} leaves no bottom: the grooves have room for {room:cut down}",
            "make the clearance {works}",
            play=made.clearance,
            room=room,
            works=at_most(BOTTOM_CLEARANCE.size(made.groove.units)),
        )


def _drops_out(made: Bottom) -> Iterator[Problem]:
    held, least = made.seasons.engagement_dry, panel.least_engagement(made.groove.depth)
    if made.wood is None or held >= least - READ_OUT:
        return
    depth = _depth_that_holds(made)
    ways = ["make the clearance {clearance} or less"]
    if made.quartered.engagement_dry >= least:
        ways.insert(0, "use quarter-sawn wood, its rings at {quarter}°")
    if made.groove.depth < depth <= made.groove.thickness / 2:
        ways.append("cut the groove {deeper} deep")
    said = (
        "in the driest season the bottom will drop out: slid to one side, it misses the other groove by {short:cut up}"
        if held <= 0
        else "in the driest season the bottom hardly holds: slid to one side, its engagement is {held:cut down}, "
        "under {least:cut up}"
    )
    yield (stop if held <= 0 else warn)(
        "bottom",
        said,
        (*ways, "use a wood that moves less"),
        held=held,
        short=-held,
        least=least,
        quarter=Offer(movement.QUARTER, setting="bottom.rings", plain=True),
        clearance=at_most(_clearance_that_holds(made), "bottom.clearance"),
        deeper=at_least(depth, "groove.depth"),
    )


def _shrinks_to(made: Bottom) -> float:
    """Return the width in the driest season over that in the wettest."""
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
    if made.wood and made.clearance <= 0:
        most, usual = _clearance_that_holds(made), BOTTOM_CLEARANCE.size(made.groove.units)
        yield warn(
            "bottom.clearance",
            "in the wettest season the bottom, {wet:cut up} wide, fills its grooves. In wetter air it will open the "
            "corners",
            "make the clearance {works}",
            wet=made.seasons.width_wet,
            works=at_most(min(most, usual) if most > 0 else usual),
        )


def _rattles(made: Bottom) -> Iterator[Problem]:
    play, play_wanted = made.groove.cutter - made.tongue, TONGUE_PLAY.size(made.groove.units)
    works = made.groove.cutter - play_wanted
    if play > MOST_TONGUE_PLAY + READ_OUT and (made.wood or made.has_rabbets):
        yield warn(
            "bottom.tongue",
            "a tongue {tongue} thick will rattle in a groove {groove} wide: its clearance of {play:gauge} is over "
            "{most:gauge down}",
            (
                "make the tongue {works} thick",
                *(["make the bottom {thicker} thick, and the tongue too"] if made.thickness < works else []),
                "cut the groove {narrower} wide",
            ),
            tongue=made.tongue,
            play=play,
            most=MOST_TONGUE_PLAY,
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
            "a tongue {tongue} thick will bind in a groove {groove} wide: "
            + ("its clearance of {play:gauge} is under {least:gauge up}" if play > READ_OUT else "it has no clearance")
            + (", and finish makes it thicker" if made.wood else ", and glue swells it"),
            "make the tongue {works} thick",
            tongue=made.tongue,
            groove=made.groove.cutter,
            play=play,
            least=LEAST_TONGUE_PLAY.size(units),
            works=at_most(made.groove.cutter - TONGUE_PLAY.size(units)),
        )


def _planed_all_over(made: Bottom) -> Iterator[Problem]:
    if made.planed_from is not None:
        yield warn(
            "bottom.thickness",
            "a bottom {thickness} thick would need rabbets {deep:gauge} deep, too shallow to cut; {least:gauge up} is "
            "the least",
            ("plane all of it to {tongue}, without rabbets", "use one {thicker} thick or more"),
            thickness=made.planed_from,
            deep=(made.planed_from - made.tongue) / 2,
            least=LEAST_RABBET.size(made.groove.units),
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
        ways.append("make the bottom {thinner} thick or less" if made.wood else "use plywood {thinner} thick or less")
    if higher is not None:
        ways.append("start the groove {higher} from the bottom edge")
    if not can_be_thinner:
        ways.append("cut a wider groove, and make the tongue as thick as the bottom")
    hangs = made.lower_face <= -READ_OUT
    yield (stop if hangs else warn)(
        "bottom.thickness" if can_be_thinner else "groove.from_bottom",
        (
            "the box will stand on its bottom, which hangs {below:cut up} below the bottom edges"
            if hangs
            else "the box may stand on its bottom, which lies only {below:gauge down} above the bottom edges"
        )
        + ". It is {thickness} thick, its tongue {tongue}, the groove {low} up",
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
    faces = 2 if made.wood else 1
    return made.tongue + (faces * rabbet if rabbet >= LEAST_RABBET.size(made.groove.units) else 0.0)


def _higher(made: Bottom, least: float) -> float | None:
    """Return the nearest height of the groove that is no lower; None where no finger holds it there."""
    of = made.groove
    if not of.stopped_kinds:
        return least
    return min((max(safe.lowest, least) for safe in of.heights if safe.highest >= least), default=None)


# -- plywood -------------------------------------------------------------------------------------------------------


def _sheet_misses_a_groove(made: Bottom) -> Iterator[Problem]:
    if made.wood is None and made.clearance >= made.groove.depth:
        ways, offers = _to_hold_a_sheet(made)
        yield stop(
            "bottom.clearance",
            "slid to one side, a bottom with a clearance of {play} misses the other groove, which is {depth} deep",
            ways,
            play=made.clearance,
            depth=made.groove.depth,
            **offers,
        )


def _sheet_hardly_holds(made: Bottom) -> Iterator[Problem]:
    held, least = made.groove.depth - made.clearance, panel.least_engagement(made.groove.depth)
    if made.wood is None and held < least - READ_OUT:
        ways, offers = _to_hold_a_sheet(made)
        yield warn(
            "bottom.clearance",
            "the bottom hardly holds: slid to one side before its glue is hard, its engagement is {held:cut down}, "
            "under {least:cut up}",
            ways,
            held=held,
            least=least,
            **offers,
        )


def _to_hold_a_sheet(made: Bottom) -> tuple[tuple[str, ...], dict[str, Offer]]:
    """Return how a groove holds enough of a sheet that is slid to one side: its depth less the clearance.

    What is wanted is 1 mm or a quarter of the depth: by the depth it is clearance + 1 or 4/3 of the clearance.
    """
    depth, clearance = made.groove.depth, made.clearance
    most, deeper = depth - panel.least_engagement(depth), max(clearance + 1.0, clearance * 4 / 3)
    ways = ["make the clearance {works}"] if most > READ_OUT else []
    ways += ["cut the groove {deeper} deep"] if deeper <= made.groove.thickness / 2 else []
    works = min(most, BOTTOM_CLEARANCE.size(made.groove.units))
    offers = {"works": at_most(works, "bottom.clearance"), "deeper": at_least(deeper, "groove.depth")}
    return tuple(ways) or ("make the sides thicker, and the groove deeper",), offers


def _sheet_without_clearance(made: Bottom) -> Iterator[Problem]:
    if made.wood is None and made.clearance <= 0:
        yield warn(
            "bottom.clearance",
            "the bottom, {length:cut up} × {width:cut up}, fills its grooves. A hair too large, it will hold the "
            "corners open",
            "make the clearance {works}",
            length=made.length,
            width=made.seasons.width,
            works=at_most(BOTTOM_CLEARANCE.size(made.groove.units)),
        )


def _sheet_rattles(made: Bottom) -> Iterator[Problem]:
    play = made.groove.cutter - made.tongue
    if made.wood is None and not made.has_rabbets and play > MOST_TONGUE_PLAY + READ_OUT:
        yield warn(
            "groove.cutter",
            "plywood {thickness:gauge} thick will rattle in a groove {groove} wide: it is {play:gauge} thinner, and "
            "over {most:gauge down} is felt",
            ("cut the groove {narrower} wide with a narrower bit", "shim it, and glue it all round"),
            thickness=made.thickness,
            groove=made.groove.cutter,
            play=play,
            most=MOST_TONGUE_PLAY,
            narrower=at_least(made.thickness + TONGUE_PLAY.size(made.groove.units), "groove.cutter"),
        )


def _sheet_a_hair_too_thick(made: Bottom) -> Iterator[Problem]:
    """Find a sheet that goes into its groove by a rabbet shallower than any cut: a solid bottom would be planed."""
    units = made.groove.units
    deep, least, slip = made.thickness - made.tongue, LEAST_RABBET.size(units), SHEET_SLIP.size(units)
    if made.wood is None and made.has_rabbets and deep < least - READ_OUT:
        yield warn(
            "bottom.thickness",
            "plywood {thickness:gauge} thick needs rabbets {deep:gauge} deep for a groove {groove} wide, too shallow "
            "to cut true; {least:gauge up} is the least",
            ("cut the groove {wider} wide, for no rabbets", "use plywood {thinner} thick or less"),
            thickness=made.thickness,
            deep=deep,
            groove=made.groove.cutter,
            least=least,
            wider=at_least(made.thickness + slip, "groove.cutter"),
            thinner=at_most(made.groove.cutter - slip),
        )


def _sheet_as_sold(made: Bottom) -> Iterator[Problem]:
    """Find a thickness that is the name of a sheet rather than a reading of it."""
    if made.wood is None and any(abs(made.thickness - step * round(made.thickness / step)) < 1e-6 for step in SOLD_IN):
        yield note(
            "bottom.thickness",
            "plywood sold as {thickness} often measures less, and your groove must fit what it measures",
            "measure the sheet with callipers, and enter what you read",
            thickness=made.thickness,
        )


def _no_meaning_for_plywood(made: Bottom) -> Iterator[Problem]:
    for name in made.unused:
        yield note(
            f"bottom.{name}",
            "plywood does not move with the seasons, so this setting changes nothing",
            'leave it out, or make the material "solid"',
        )


BOTTOM: Rules[Bottom] = Rules(
    (_panel_thinner_than_tongue, _groove_too_shallow, _no_panel_is_left, _sheet_misses_a_groove),
    (
        _hangs_below,
        _drops_out,
        _no_play_when_wet,
        _rattles,
        _binds,
        _planed_all_over,
        wood_with_a_name("bottom.species"),
        _sheet_hardly_holds,
        _sheet_without_clearance,
        _sheet_rattles,
        _sheet_a_hair_too_thick,
        _sheet_as_sold,
        _no_meaning_for_plywood,
    ),
)
