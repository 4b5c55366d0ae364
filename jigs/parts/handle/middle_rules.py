"""The rules of the hole in the middle of three: an arch over two feet, or an eye."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, note, stop, warn
from jigs.base.usual import LEAST_WEB
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.handle.part import Handle

LEAST_FOOT = 15.0
"""A narrower foot beside an arch does not stand, and breaks off (common practice, no source), mm."""
LEAST_TIP = 45.0
"""A foot undercut to a sharper tip than this splinters (common practice, no source), degrees."""
HIGHEST_CENTRE = math.cos(math.radians(LEAST_TIP))
"""The highest centre of an arch over the base, of its radius: a rim meets the base at an angle of acos(this)."""


def _arch_is_none(made: Handle) -> Iterator[Problem]:
    """Find an arch that the base does not cut: no opening, or nothing of it in the handle."""
    hole = made.middle
    if hole is None or made.asked.middle != "arch" or hole.opens:
        return
    most = HIGHEST_CENTRE * hole.radius
    if hole.y > 0:
        said = "an arch of {saw} with its centre {up} above the base does not open at the base"
        instead: tuple[str, ...] = ("set its centre {works} high or lower", 'make it an eye: middle is "{eye}"')
    else:
        said, instead = (
            "an arch of {saw} with its centre {up} above the base misses the handle",
            ("set its centre {works} high",),
        )
    works = at_most(most) if hole.y > 0 else at_least(0.0)
    eye = Offer("eye", setting="handle.middle")
    yield stop("handle.middle_height", said, instead, saw=2 * hole.radius, up=hole.y, works=works, eye=eye)


def _eye_opens(made: Handle) -> Iterator[Problem]:
    """Find an eye with too little wood under it."""
    hole = made.middle
    if hole is None or made.asked.middle != "eye" or made.base <= 0:
        return
    under = hole.y - hole.radius
    if under <= 0:
        yield stop(
            "handle.middle_height",
            "an eye of {saw} with its centre {up} above the base cuts through the base",
            ("set its centre {works} high or higher", 'make it an arch: middle is "{arch}"'),
            saw=2 * hole.radius,
            up=hole.y,
            works=at_least(hole.radius + LEAST_WEB),
            arch=Offer("arch", setting="handle.middle"),
        )


def _thin_under_eye(made: Handle) -> Iterator[Problem]:
    hole = made.middle
    if hole is None or hole.opens or made.asked.middle_height is None:
        return
    if hole.y - hole.radius < LEAST_WEB - READ_OUT:
        yield warn(
            "handle.middle_height",
            "{under} of wood under the eye will break",
            "set its centre {works} high or higher",
            under=hole.y - hole.radius,
            works=at_least(hole.radius + LEAST_WEB),
        )


def _feet_do_not_stand(made: Handle) -> Iterator[Problem]:
    foot = made.holes.foot
    if not made.arched or foot >= LEAST_FOOT - READ_OUT:
        return
    longer = made.length + 2 * (LEAST_FOOT - foot)
    neck = made.neck + 2 * (LEAST_FOOT - foot)
    yield (stop if foot <= 0 else warn)(
        "handle.length",
        "an arch {opening:cut up} wide cuts through the ends of a handle {length:cut} long"
        if foot <= 0
        else "feet {foot:cut down} wide beside the arch will not stand; {least:cut up} is needed",
        ("make the handle {longer} long or more", "make the neck {neck} or more"),
        foot=foot,
        opening=made.holes.opening,
        length=made.length,
        least=LEAST_FOOT,
        longer=at_least(longer),
        neck=at_least(neck, "handle.neck"),
    )


def _feet_are_sharp(made: Handle) -> Iterator[Problem]:
    hole = made.middle
    if hole is None or not hole.opens or hole.y <= HIGHEST_CENTRE * hole.radius + READ_OUT:
        return
    yield warn(
        "handle.middle_height",
        "the arch undercuts the feet to tips of {tip}, which will splinter; {least} is the limit",
        "set its centre {works} high or lower",
        tip=f"{math.degrees(math.acos(hole.y / hole.radius)):.0f}°",
        least=f"{LEAST_TIP:.0f}°",
        works=at_most(HIGHEST_CENTRE * hole.radius),
    )


def _no_middle(made: Handle) -> Iterator[Problem]:
    """Find what is set for a third hole that the handle has not."""
    if made.middle:
        return
    for key, words in (("middle_saw", "a second saw of {size}"), ("middle_height", "a centre at {size}")):
        size = getattr(made.asked, key)
        if size is not None:
            yield note(
                f"handle.{key}",
                words + " is for a hole in the middle, and the handle has two holes",
                "make it {three} holes, or leave the key out",
                size=size,
                three=Offer(3, setting="handle.holes"),
            )


STOPS = (_arch_is_none, _eye_opens)
WARNINGS = (_no_middle, _thin_under_eye, _feet_do_not_stand, _feet_are_sharp)
