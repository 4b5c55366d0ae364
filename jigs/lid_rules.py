"""The rules of the lid."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.box_parts import Lid
from jigs.errors import READ_OUT, Problem
from jigs.lengths import ROUNDING
from jigs.rules import Rules, wood_without_a_name
from jigs.trade import groove, lid
from jigs.usual import LID_CLEARANCE

LOOSE_LID = 2.0
"""A lid with a wider gap than this in the driest air is felt to be loose (common practice, no source), mm."""
LEAST_LID_GAP = 0.2
"""With a narrower gap in the wettest air a lid's finish may stick (common practice, no source), mm."""
LEAST_PLUG = 1.0
"""A shallower plug holds no lid in its place (common practice, no source), mm."""
LEAST_REST, MOST_OVERHANG = 1.0, 60.0
"""The narrowest rabbet that a lid rests on (common practice, no source), and the widest overhang, mm."""
LEAST_EDGE, MOST_LID = 4.0, 80.0
"""The least wood at the edge of a lid, over its rabbet, and the thickest lid (common practice, no source), mm."""


def _no_plug_is_left(made: Lid) -> Iterator[Problem]:
    ways = ((made.across, made.clearance, "lid.clearance"), (made.along, made.play, "lid.play"))
    for opening, play, where in ways:
        if play >= opening:
            yield Problem(
                "stop",
                where,
                "a gap of {play} leaves no plug in an opening of {opening}",
                "{works}",
                {"play": play, "opening": opening, "works": LID_CLEARANCE.size(made.units)},
            )


def _nothing_rests_on_the_box(made: Lid) -> Iterator[Problem]:
    """Find a plug that reaches the lid's edge: cut in air far wetter than the wettest, it is wider than its opening."""
    if made.clearance >= made.across or (made.width - made.plug.width) / 2 >= LEAST_REST - READ_OUT:
        return
    works = made.overhang + LEAST_REST - (made.width - made.plug.width) / 2
    least, most = groove.rounded_inward(works, MOST_OVERHANG, 2 * float(ROUNDING[made.units]))
    dry = "leave the wood, before it is cut, in air of the home's humidity until its weight no longer changes"
    yield Problem(
        "stop",
        "lid.overhang",
        "a plug of {plug} in the shop's air leaves a lid of {width} a rabbet of {rest} to rest on",
        "an overhang of {least} or more; or " + dry if least <= most else dry,
        {"plug": made.plug.width, "width": made.width, "rest": (made.width - made.plug.width) / 2, "least": least},
    )


def _crown_is_no_arc(made: Lid) -> Iterator[Problem]:
    if made.crown > made.width / 2 * (1 + lid.ROUNDING):
        yield Problem(
            "stop",
            "lid.crown",
            "a crown of {crown} over a lid {width} wide is more than half of it, and no arc",
            "at most {most}",
            {
                "crown": made.crown,
                "width": made.width,
                "most": _most_crown(made),
            },
        )


def _edge_is_left(made: Lid) -> Iterator[Problem]:
    if made.edge >= LEAST_EDGE - READ_OUT:
        return
    most, shallower = _most_crown(made), made.thickness - made.crown - LEAST_EDGE
    thicker = made.plug_depth + made.crown + LEAST_EDGE
    where, works = "lid.thickness", "a lid of {thicker} or thicker"
    if made.crown and most > 0:
        where, works = "lid.crown", "a crown of {most} at most"
    elif shallower >= LEAST_PLUG:
        where, works = "lid.plug", "a thicker lid, or a plug of {shallower}"
    elif thicker > MOST_LID:
        where, works = (
            "lid.crown",
            "a lower crown and a thicker lid; one of {thickest}: it has room for {room}",
        )
    yield Problem(
        "stop" if made.edge <= 0 else "warning",
        where,
        "a lid of {thickness} with a plug of {plug} and a crown of {crown} has an edge of {edge}",
        works,
        {
            "thickness": made.thickness,
            "plug": made.plug_depth,
            "crown": made.crown,
            "edge": made.edge,
            "most": most,
            "shallower": shallower,
            "thicker": thicker,
            "thickest": MOST_LID,
            "room": MOST_LID - made.plug_depth - LEAST_EDGE,
        },
    )


def _most_crown(made: Lid) -> float:
    room = lid.most_crown(thickness=made.thickness, plug_depth=made.plug_depth, least_edge=LEAST_EDGE)
    _, most = groove.rounded_inward(0, min(room, made.width / 2), 2 * float(ROUNDING[made.units]))
    return max(0.0, most)


def _lid_jams(made: Lid) -> Iterator[Problem]:
    if made.clearance < LEAST_LID_GAP - READ_OUT and made.locks_at is not None:
        yield Problem(
            "warning",
            "lid.clearance",
            "a plug with a gap of {gap} in the wettest air locks at a humidity of {humidity} %",
            "a gap of {works}",
            {"gap": made.clearance, "humidity": f"{made.locks_at:.0f}", "works": LID_CLEARANCE.size(made.units)},
        )


def _lid_is_loose(made: Lid) -> Iterator[Problem]:
    if made.plug.gap_dry > LOOSE_LID:
        yield Problem(
            "note",
            "lid",
            "in the driest air the plug has a gap of {gap} across the grain",
            "quarter-sawn it has {quartered}; or two pads along the grain line instead of a whole plug",
            {"gap": made.plug.gap_dry, "quartered": made.quartered.gap_dry},
        )


def _lid_will_not_stay_flush(made: Lid) -> Iterator[Problem]:
    dry, _ = made.widths
    shrinks = (made.width - dry) / 2
    if made.overhang < shrinks - READ_OUT:
        yield Problem(
            "warning",
            "lid.overhang",
            "an overhang of {overhang} is gone in the driest air, when the lid is {shrinks} narrower on each side",
            "{least} or more",
            {"overhang": made.overhang, "shrinks": shrinks, "least": shrinks},
        )


LID: Rules[Lid] = Rules(
    (_no_plug_is_left, _nothing_rests_on_the_box, _crown_is_no_arc),
    (_edge_is_left, _lid_jams, _lid_is_loose, _lid_will_not_stay_flush, wood_without_a_name),
)
