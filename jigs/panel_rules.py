"""The rules of the bottom."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.box_parts import Bottom
from jigs.errors import READ_OUT, Problem
from jigs.rules import Rules, wood_without_a_name
from jigs.trade import panel
from jigs.usual import BOTTOM_CLEARANCE, TONGUE_PLAY

MOST_TONGUE_PLAY = 0.3
"""With more play in the thickness of its groove a bottom rattles (common practice, no source), mm."""


def _panel_thinner_than_tongue(made: Bottom) -> Iterator[Problem]:
    if made.tongue > made.thickness + READ_OUT:
        yield Problem(
            "stop",
            "bottom.tongue",
            "a bottom of {thickness} has no tongue of {tongue}",
            "at most {thickness}",
            {"thickness": made.thickness, "tongue": made.tongue},
        )


def _groove_too_shallow(made: Bottom) -> Iterator[Problem]:
    if made.groove.depth <= made.play:
        works = made.groove.thickness / 2
        yield Problem(
            "stop",
            "groove.depth",
            "a groove {depth} deep does not hold a bottom with a play of {play} at each end",
            "{works}" if works > made.play + READ_OUT else "thicker sides",
            {"depth": made.groove.depth, "play": made.play, "works": works},
        )


def _no_panel_is_left(made: Bottom) -> Iterator[Problem]:
    room = made.across + 2 * made.groove.depth
    if made.clearance >= room:
        yield Problem(
            "stop",
            "bottom.clearance",
            "a play of {play} leaves nothing of the {room} there is for the bottom",
            "{works}",
            {"play": made.clearance, "room": room, "works": BOTTOM_CLEARANCE.size(made.groove.units)},
        )


def _drops_out(made: Bottom) -> Iterator[Problem]:
    held, least = made.seasons.engagement_dry, panel.least_engagement(made.groove.depth)
    if held >= least - READ_OUT:
        return
    quartered = made.quartered.engagement_dry
    yield Problem(
        "stop" if held <= 0 else "warning",
        "bottom",
        "in the driest air, slid to one side, the bottom is held by {held} on the other, where {least} is wanted"
        + (": it drops out" if held <= 0 else ""),
        ("quarter-sawn it is held by {quartered}; or " if quartered > 0 else "")
        + "a deeper groove, a smaller clearance, a wood that moves less",
        {"held": held, "least": least, "quartered": quartered},
    )


def _no_play_when_wet(made: Bottom) -> Iterator[Problem]:
    if made.clearance <= 0:
        yield Problem(
            "warning",
            "bottom.clearance",
            "in the wettest air the bottom of {wet} fills its grooves: a little wetter, and it opens the corners",
            "{works}",
            {"wet": made.seasons.width_wet, "works": BOTTOM_CLEARANCE.size(made.groove.units)},
        )


def _rattles(made: Bottom) -> Iterator[Problem]:
    play, play_wanted = made.groove.cutter - made.tongue, TONGUE_PLAY.size(made.groove.units)
    if play > MOST_TONGUE_PLAY + READ_OUT:
        yield Problem(
            "warning",
            "bottom.tongue",
            "a tongue of {tongue} has a play of {play} in a groove of {groove} and rattles",
            "a tongue of {works}, or a groove of {narrower}",
            {
                "tongue": made.tongue,
                "play": play,
                "groove": made.groove.cutter,
                "works": made.groove.cutter - play_wanted,
                "narrower": made.tongue + play_wanted,
            },
        )


def _glued_all_round(made: Bottom) -> Iterator[Problem]:
    move = made.seasons.width_wet - made.seasons.width_dry
    yield Problem(
        "note",
        "bottom",
        "the bottom moves by {move} from the driest air to the wettest; glued all round it splits or opens the corners",
        "grain the long way, and a dab of glue at the middle of its width only",
        {"move": move},
    )


BOTTOM: Rules[Bottom] = Rules(
    (_panel_thinner_than_tongue, _groove_too_shallow, _no_panel_is_left),
    (_drops_out, _no_play_when_wet, _rattles, wood_without_a_name, _glued_all_round),
)
