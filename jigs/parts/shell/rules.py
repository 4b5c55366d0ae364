"""The rules of the fan shell."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping

from jigs.base.rules import READ_OUT, Problem, Rules, stop, warn
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.carving import FLATTEST_KNIFE, LEAST_CHIP, LEAST_RIDGE, LEAST_UNDER_CHIP
from jigs.parts.shell.part import Shell
from jigs.record import replace

LEAST_SHELL, MOST_SHELL = 5.0, 600.0
"""Shells that are carved: a smaller one can't be, a larger one is on no box (common practice, no source), mm."""


def _is_a_fan(made: Shell, width: float, height: float) -> bool:
    least, most = made.ratios
    return least * (1 - 1e-9) <= width / height <= most * (1 + 1e-9)


def _no_fan_so_wide(made: Shell) -> Iterator[Problem]:
    if _is_a_fan(made, made.width, made.height):
        return
    ways, numbers = _fans(made)
    yield stop("shell.width", "no fan of {lobes} lobes is {width} wide and {height} high", ways, **numbers)


def _fans(made: Shell) -> tuple[tuple[str, ...], dict[str, object]]:
    """Return the words and values for fans of the width or of the height asked for, or else of one that fits."""
    least, most = made.ratios
    narrowest, lowest = max(LEAST_SHELL, least * made.height), max(LEAST_SHELL, made.width / most)
    wide, high = _room(made)
    widest, highest = min(MOST_SHELL, most * made.height, wide), min(MOST_SHELL, made.width / least, high)
    fitting = _of_one_shape(made)
    ways = ["make it {narrowest} to {widest} wide at this height"] if narrowest + READ_OUT <= widest else []
    if lowest + READ_OUT <= highest:
        ways.append("make it {lowest} to {highest} high at this width")
    return tuple(ways) or (_or_a_larger_front("make it {wide} × {high}", fitting),), {
        "lobes": made.lobes,
        "width": made.width,
        "height": made.height,
        "narrowest": at_least(narrowest),
        "widest": at_most(widest),
        "lowest": at_least(lowest, "shell.height"),
        "highest": at_most(highest, "shell.height"),
        **fitting,
    }


def _or_a_larger_front(way: str, offers: Mapping[str, Offer]) -> str:
    """Return a way out, or another where the shell that it offers is too small to be carved."""
    carved = all(isinstance(offer.value, float) and offer.value >= LEAST_SHELL for offer in offers.values())
    return way if carved else "use a larger front, or a narrower border"


def _room(made: Shell) -> tuple[float, float]:
    """Return the width and the height that a shell with its border may have between fingers, groove and edges."""
    return made.free_length - 2 * made.border, made.free_height - made.border


def _of_one_shape(made: Shell) -> dict[str, Offer]:
    """Return the largest shell in the room there is, of the shape that was asked for or of the nearest fan."""
    wide, high = _room(made)
    least, most = made.ratios
    edge = (most - least) / 100  # so that a size as it is read out is still that of a fan
    ratio = min(max(made.width / made.height, least + edge), most - edge)
    width = min(wide, high * ratio)
    return {
        "wide": at_most(width, "shell.width", **{"shell.height": width / ratio}),
        "high": at_most(width / ratio, "shell.height", **{"shell.width": width}),
    }


def _smaller(made: Shell) -> tuple[str, dict[str, Offer]]:
    """Return the words and values for a shell in the room there is, no wider and no higher than was asked for."""
    wide, high = _room(made)
    width, height = min(made.width, wide), min(made.height, high)
    if min(width, height) >= LEAST_SHELL and _is_a_fan(made, width, height):
        if width == made.width:
            return "make it {high} high or less", {"high": at_most(height, "shell.height")}
        if height == made.height:
            return "make it {wide} wide or less", {"wide": at_most(width, "shell.width")}
    return "make it {wide} × {high} or less", _of_one_shape(made)


def _shell_off_the_board(made: Shell) -> Iterator[Problem]:
    width, height = made.over_all
    if width > made.board_length or height > made.board_width:
        way, offers = _smaller(made)
        yield stop(
            "shell.width" if width > made.board_length else "shell.height",
            "the shell with its border is {width:cut up} × {height:cut up}, more than the front’s {length:cut down} × "
            "{top:cut down}",
            _or_a_larger_front(way, offers),
            width=width,
            height=height,
            length=made.board_length,
            top=made.board_width,
            **offers,
        )


def _chip_too_deep(made: Shell) -> Iterator[Problem]:
    most = made.thickness / 2
    if made.chip_depth > most + READ_OUT:
        steepest = math.degrees(math.atan(2 * most / made.chip))
        narrower = min(made.chip * most / made.chip_depth, _widest_chip(made))
        flat_chip = min(2 * most / math.tan(math.radians(FLATTEST_KNIFE)), _widest_chip(made))
        where, works = "shell.chip", "make the chips {narrower} wide or less"
        if steepest >= FLATTEST_KNIFE:
            where, works = "shell.knife", "hold the knife at {steepest}° or flatter"
        elif narrower < LEAST_CHIP + READ_OUT:
            works = "make the chips {flat_chip} wide or less, with the knife at {flattest}°"
        yield stop(
            where,
            "with the knife at {knife}° a chip {chip} wide is {depth:cut up} deep; half of the front’s {thickness} is "
            "the limit",
            works,
            knife=f"{made.knife:g}",
            chip=made.chip,
            depth=made.chip_depth,
            thickness=made.thickness,
            steepest=Offer(float(math.floor(steepest)), "down", plain=True),
            narrower=at_most(narrower),
            flat_chip=at_most(flat_chip, "shell.chip", **{"shell.knife": FLATTEST_KNIFE}),
            flattest=Offer(FLATTEST_KNIFE, "up", "shell.knife", plain=True, also={"shell.chip": flat_chip}),
        )


def _widest_chip(made: Shell) -> float:
    """Return the widest chip that leaves a ridge at the rim; any, where the lobes are too many or there is no fan."""
    if not _is_a_fan(made, made.width, made.height) or made.ridges[0] < LEAST_RIDGE:
        return math.inf
    return made.chip + made.ridges[1] - LEAST_RIDGE


def _chips_meet(made: Shell) -> Iterator[Problem]:
    at_hinge, at_rim = made.ridges
    if at_hinge < LEAST_RIDGE:
        fewer = _lobes_that_hold(made)
        yield stop(
            "shell.lobes",
            "the ridges between chips will break out: {hinge:cut} from the pivot they are {ridge:cut down} wide, "
            "under {least}",
            "carve {fewer} lobes or fewer" if fewer else "make the shell larger",
            hinge=made.hinge,
            ridge=at_hinge,
            least=LEAST_RIDGE,
            fewer=Offer(fewer or 0, "down"),
        )
    elif at_rim < LEAST_RIDGE - READ_OUT:
        yield stop(
            "shell.chip",
            "the ridges between chips will break out: chips of {chip} leave them {ridge:cut down} wide at the outer "
            "end, under {least}",
            "make the chips {works} wide or less",
            chip=made.chip,
            ridge=at_rim,
            least=LEAST_RIDGE,
            works=at_most(_widest_chip(made)),
        )


def _lobes_that_hold(made: Shell) -> int | None:
    """Return the most lobes that leave ridges at the hinge, or None; the fan is fitted anew for every count."""
    fewer = (replace(made, lobes=count) for count in range(made.lobes - 1, 1, -1))
    return next((fan.lobes for fan in fewer if not list(_no_fan_so_wide(fan)) and fan.ridges[0] >= LEAST_RIDGE), None)


def _carved_over_the_groove(made: Shell) -> Iterator[Problem]:
    if not made.over_groove:
        return
    way, offers = _smaller(made)
    thin = made.wood_left < LEAST_UNDER_CHIP - READ_OUT
    yield (stop if thin else warn)(
        "shell.height",
        "the shell with its border, {height:cut up} high, reaches over the groove. There the chips leave "
        "{left:cut down} "
        "of wood" + (", under {least:cut up}" if thin else ""),
        _or_a_larger_front(way, offers),
        height=made.over_all[1],
        left=made.wood_left,
        least=LEAST_UNDER_CHIP,
        **offers,
    )


def _carved_into_the_fingers(made: Shell) -> Iterator[Problem]:
    if made.over_all[0] > made.free_length + READ_OUT:
        way, offers = _smaller(made)
        yield warn(
            "shell.width",
            "the shell with its border, {width:cut up} wide, reaches into the fingers; {room:cut down} lies between "
            "them",
            _or_a_larger_front(way, offers),
            width=made.over_all[0],
            room=made.free_length,
            **offers,
        )


SHELL: Rules[Shell] = Rules(
    (_no_fan_so_wide, _shell_off_the_board, _chip_too_deep),
    (_chips_meet, _carved_over_the_groove, _carved_into_the_fingers),
)
