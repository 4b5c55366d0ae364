"""The rules of a pattern of one's own."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

from jigs.base.rules import READ_OUT, Instead, Problem, Rules, stop, warn
from jigs.base.usual import CARVING_MARGIN
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.carving import FLATTEST_KNIFE, LEAST_CHIP, LEAST_RIDGE, LEAST_UNDER_CHIP
from jigs.parts.pattern import ridges
from jigs.parts.pattern.part import Pattern

LEAST_WIDTH, MOST_WIDTH = 5.0, 600.0
"""Patterns that are carved, as the limits of the key: a larger one is on no box (common practice, no source), mm."""


# -- where it stands -----------------------------------------------------------------------------------------------


def _widest(made: Pattern) -> float:
    """Return the widest that the pattern can be between fingers, groove and edges, half a chip all round, mm."""
    free = made.free
    return min(
        free.width - made.chip, (free.height - made.chip) * made.width / made.height if made.height else math.inf
    )


def _smaller(made: Pattern) -> tuple[str, dict[str, Offer]]:
    """Return the words and the value for a pattern in the room there is, in its middle."""
    widest = _widest(made)
    if widest < LEAST_WIDTH:
        return f"use a larger {made.side}, or a plainer pattern", {}
    return "make it {widest} wide or less", {"widest": at_most(widest, "pattern.width")}


def _off_the_board(made: Pattern) -> Iterator[Problem]:
    width, height = made.over_all
    if width > made.board_length or height > made.board_width:
        way, offers = _smaller(made)
        yield stop(
            "pattern.width",
            "the pattern with its chips is {width:cut up} × {height:cut up}, more than the {side}’s "
            "{length:cut down} × {top:cut down}",
            way,
            width=width,
            height=height,
            side=made.side,
            length=made.board_length,
            top=made.board_width,
            **offers,
        )
        return
    for key, low, high, most in (
        ("across", made.placed.left, made.placed.right, made.board_length),
        ("up", made.placed.bottom, made.placed.top, made.board_width),
    ):
        if low < 0 or high > most:
            yield _off_its_place(made, key, stop, "the pattern reaches off the edge of the {side}, by {over:cut up}",
                                 max(-low, high - most))  # fmt: skip


def _near_the_edges(made: Pattern) -> Iterator[Problem]:
    """Find what comes too near to the fingers, or to the top or the bottom edge."""
    free, placed = made.free, made.placed
    beside = max(free.left - placed.left, placed.right - free.right)
    if beside > READ_OUT:
        said = (
            "the pattern comes {over:cut up} too near to the fingers, or into them; {room:cut down} lies between them"
        )
        yield _off_its_place(made, "across", warn, said, beside, room=free.width)
    above = placed.top - free.top
    below = 0.0 if made.over_groove else free.bottom - placed.bottom
    if max(above, below) > READ_OUT:
        near = "top edge" if above >= below else "groove behind" if made.groove else "bottom edge"
        said = f"the pattern comes {{over:cut up}} too near to the {near}, which should stay {{margin}} clear"
        yield _off_its_place(made, "up", warn, said, max(above, below), margin=CARVING_MARGIN)


def _over_the_groove(made: Pattern) -> Iterator[Problem]:
    if not made.over_groove:
        return
    thin = made.wood_left < LEAST_UNDER_CHIP - READ_OUT
    said = "the pattern reaches over the groove. There the chips leave {left:cut down} of wood" + (
        ", under {least:cut up}" if thin else ""
    )
    over = made.free.bottom - made.placed.bottom
    yield _off_its_place(made, "up", stop if thin else warn, said, over, left=made.wood_left, least=LEAST_UNDER_CHIP)


def _off_its_place(
    made: Pattern, key: str, sign: Callable[..., Problem], said: str, over: float, **numbers: float
) -> Problem:
    """Return what is said of a pattern that leaves the room there is: nearer to its middle, or else smaller."""
    free = made.free
    spare = free.width - made.over_all[0] if key == "across" else free.height - made.over_all[1]
    offset = made.across if key == "across" else made.up
    offers: dict[str, Offer]
    way: Instead
    if spare >= 0:
        way = f"set {key} to {{nearer}} or " + ("less" if offset > 0 else "more")
        offers = {
            "nearer": at_most(spare / 2, f"pattern.{key}") if offset > 0 else at_least(-spare / 2, f"pattern.{key}")
        }
    else:
        way, offers = _smaller(made)
    where = f"pattern.{key}" if spare >= 0 else "pattern.width"
    return sign(where, said, way, over=over, side=made.side, **numbers, **offers)


# -- how it is cut -------------------------------------------------------------------------------------------------


def _chip_too_deep(made: Pattern) -> Iterator[Problem]:
    most = made.thickness / 2
    if made.chip_depth <= most + READ_OUT:
        return
    steepest = math.degrees(math.atan(2 * most / made.chip))
    narrower = made.chip * most / made.chip_depth
    where, works = "pattern.chip", "make the chips {narrower} wide or less"
    if steepest >= FLATTEST_KNIFE:
        where, works = "pattern.knife", "hold the knife at {steepest}° or flatter"
    yield stop(
        where,
        "with the knife at {knife}° a chip {chip} wide is {depth:cut up} deep; half of the {side}’s {thickness} is the "
        "limit",
        works,
        knife=f"{made.knife:g}",
        chip=made.chip,
        depth=made.chip_depth,
        side=made.side,
        thickness=made.thickness,
        steepest=Offer(float(math.floor(steepest)), "down", plain=True),
        narrower=at_most(narrower),
    )


def _lines_too_near(made: Pattern) -> Iterator[Problem]:
    thin = ridges.too_thin(made)
    if not thin:
        return
    ways, offers = [], dict[str, Offer]()
    narrower = ridges.narrower_chip(made, LEAST_CHIP)
    if narrower >= LEAST_CHIP + READ_OUT:
        ways.append("make the chips {narrower} wide or less")
        offers["narrower"] = at_most(narrower, "pattern.chip")
    wider = ridges.wider(made, min(_widest(made), MOST_WIDTH))
    if wider < math.inf:
        ways.append("make the pattern {wider} wide or wider")
        offers["wider"] = at_least(wider, "pattern.width")
    first = made.middle.moved(*thin[0])
    yield warn(
        "pattern.chip",
        "the ridges between chips will break out in {places}, for they are under {least} wide; the longest is {x:cut} "
        "from the left-hand end and {y:cut} up",
        tuple(ways) or "draw the lines further apart there",
        places=f"{len(thin)} place{'s' if len(thin) > 1 else ''}",
        least=LEAST_RIDGE,
        x=first.x,
        y=first.y,
        **offers,
    )


PATTERN: Rules[Pattern] = Rules(
    (_off_the_board, _chip_too_deep),
    (_over_the_groove, _near_the_edges, _lines_too_near),
)
