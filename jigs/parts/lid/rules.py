"""The rules of the lid."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Rules, note, stop, warn
from jigs.base.usual import LID_CLEARANCE, LID_CROWN, LID_PLAY, LID_PLUG
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.lid.part import Lid
from jigs.parts.wood.rules import SEASON_FIRST, wood_with_a_name
from jigs.trade import lid, movement

LOOSE_LID, LOOSE_SHARE = 2.0, 1 / 60
"""A lid with more clearance than this in the driest season, mm, and than this share of its opening, is felt to be loose
(common practice, no source): a wide lid may shift further before it is seen or felt.
"""
LEAST_LID_CLEARANCE = 0.2
"""With less clearance in the wettest season a lid's finish may stick (common practice, no source), mm."""
LEAST_PLUG = 1.0
"""A shallower plug holds no lid in its place (common practice, no source), mm."""
LEAST_REST = 1.0
"""The narrowest rabbet that a lid rests on (common practice, no source), mm."""
LEAST_CROWN = 0.5
"""A lower crown is flat to the eye and the plane (common practice, no source), mm."""
LEAST_EDGE, MOST_LID = 4.0, 80.0
"""The least wood at the edge of a lid, over its rabbet, and the thickest lid (common practice, no source), mm."""


def _no_plug_is_left(made: Lid) -> Iterator[Problem]:
    ways = (
        (made.across, made.clearance, "lid.clearance", LID_CLEARANCE),
        (made.along, made.play, "lid.play", LID_PLAY),
    )
    for opening, play, where, usual in ways:
        if play >= opening:
            yield stop(
                where,
                "a clearance of {play} leaves no plug in an opening of {opening:cut down}",
                "make the clearance {works}",
                play=play,
                opening=opening,
                works=at_most(min(usual.size(made.units), opening / 2)),
            )


def _nothing_rests_on_the_box(made: Lid) -> Iterator[Problem]:
    """Find a plug that reaches the lid's edge: cut in air far wetter than the wettest, it is wider than its opening."""
    if made.clearance >= made.across or (made.width - made.plug.width) / 2 >= LEAST_REST - READ_OUT:
        return
    rest = (made.width - made.plug.width) / 2
    yield stop(
        "lid.overhang",
        "the lid falls in: cut in the shop’s air, its plug is {plug:cut up} wide and leaves rabbets of "
        "{rest:cut down}. They must be {least:cut up} to rest on the box",
        ("make the overhang {wider} or more", SEASON_FIRST),
        plug=made.plug.width,
        rest=rest,
        least=LEAST_REST,
        wider=at_least(made.overhang + LEAST_REST - rest),
    )


def _crown_is_no_arc(made: Lid) -> Iterator[Problem]:
    if made.crown > made.width / 2 * (1 + lid.ROUNDING):
        yield stop(
            "lid.crown",
            "a crown of {crown} over a lid {width} wide is no arc: it is more than half the width",
            "make the crown {lower} or less",
            crown=made.crown,
            width=made.width,
            lower=at_most(_most_crown(made)),
        )


def _edge_is_left(made: Lid) -> Iterator[Problem]:
    if made.edge >= LEAST_EDGE - READ_OUT:
        return
    where, works, offers = _room_for_an_edge(made)
    yield (stop if made.edge <= 0 else warn)(
        where,
        (
            "no edge is left of the lid, which"
            if made.edge <= 0
            else "the lid’s edge will chip: it is {edge:cut down} thick and"
        )
        + " needs {least:cut up}. Of its {thickness} the plug takes {plug:cut}, the crown {crown:cut}",
        works,
        thickness=made.thickness,
        plug=made.plug_depth,
        crown=made.crown,
        edge=made.edge,
        least=LEAST_EDGE,
        **offers,
    )


def _room_for_an_edge(made: Lid) -> tuple[str, str | tuple[str, ...], dict[str, object]]:
    """Return the setting that leaves an edge, and the words and values for it."""
    crown, thicker = _most_crown(made), _thick_enough(made)
    shallower = made.thickness - made.crown - LEAST_EDGE
    if made.crown and made.thickness - made.plug_depth > LEAST_EDGE:
        return "lid.crown", "make the crown {lower} or less", {"lower": at_most(crown)}
    if shallower >= LEAST_PLUG:
        ways = ("make the lid {thicker} thick or more", "make the plug {shallower} deep")
        return "lid.plug", ways, {"thicker": at_least(thicker, "lid.thickness"), "shallower": at_most(shallower)}
    if thicker > MOST_LID:
        room = min(MOST_LID - made.plug_depth - LEAST_EDGE, made.width / 2)
        offers: dict[str, object] = {
            "lower": at_most(room, "lid.crown", **{"lid.thickness": MOST_LID}),
            "thickest": at_most(MOST_LID, "lid.thickness", **{"lid.crown": room}),
        }
        return "lid.crown", "make the crown {lower} or less, and the lid {thickest} thick", offers
    return "lid.thickness", "make the lid {thicker} thick or more", {"thicker": at_least(thicker)}


def _thick_enough(made: Lid) -> float:
    """Return the thickness that leaves an edge; a plug and a crown of the usual share of it grow with it."""
    parts = ((made.plug_depth, LID_PLUG), (made.crown, LID_CROWN))
    growing = [share for size, share in parts if size == made.thickness * share]
    fixed = sum(size for size, share in parts if size != made.thickness * share)
    return (fixed + LEAST_EDGE) / (1 - sum(growing))


def _most_crown(made: Lid) -> float:
    """Return the highest crown that leaves an edge and is an arc; 0 where one would be flat to the eye."""
    room = lid.most_crown(thickness=made.thickness, plug_depth=made.plug_depth, least_edge=LEAST_EDGE)
    most = min(room, made.width / 2)
    return most if most >= LEAST_CROWN + READ_OUT else 0.0


def _lid_jams(made: Lid) -> Iterator[Problem]:
    if made.clearance < LEAST_LID_CLEARANCE - READ_OUT and made.locks_at is not None:
        yield warn(
            "lid.clearance",
            "the lid will jam at a humidity of {humidity} %: its clearance in the wettest season is {clearance}, "
            "under {least:gauge up}",
            "make the clearance {works}",
            clearance=made.clearance,
            least=LEAST_LID_CLEARANCE,
            humidity=f"{made.locks_at:.0f}",
            works=at_least(LID_CLEARANCE.size(made.units)),
        )


def _lid_is_loose(made: Lid) -> Iterator[Problem]:
    most = max(LOOSE_LID, made.across * LOOSE_SHARE)
    if made.plug.gap_dry > most:
        yield note(
            "lid",
            "the plug’s clearance across the grain reaches {clearance:cut up} in the driest season; over "
            "{most:cut down} is felt as loose",
            (
                "use quarter-sawn wood, its rings at {rings}°, for a clearance of {quartered:cut up}",
                "fit two pads along the grain line instead of a whole plug",
            ),
            clearance=made.plug.gap_dry,
            most=most,
            quartered=made.quartered.gap_dry,
            rings=Offer(movement.QUARTER, "down", "lid.rings", plain=True),
        )


def _lid_will_not_stay_flush(made: Lid) -> Iterator[Problem]:
    """Find an overhang that shrinks away. Wider, the lid shrinks more: o = shrinking · (box + 2o)/2, solved for o."""
    dry, _ = made.widths
    box, shrinking = made.width - 2 * made.overhang, 1 - dry / made.width
    shrinks = (made.width - dry) / 2
    if made.overhang < shrinks - READ_OUT:
        yield warn(
            "lid.overhang",
            "an overhang of {overhang} will be gone in the driest season, when the lid is {shrinks:gauge up} narrower "
            "a side",
            "make the overhang {least} or more",
            overhang=made.overhang,
            shrinks=shrinks,
            least=at_least(box * shrinking / (2 * (1 - shrinking))),
        )


LID: Rules[Lid] = Rules(
    (_no_plug_is_left, _nothing_rests_on_the_box, _crown_is_no_arc),
    (_edge_is_left, _lid_jams, _lid_is_loose, _lid_will_not_stay_flush, wood_with_a_name("lid.species")),
)
