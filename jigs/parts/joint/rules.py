"""The rules of the indexing sled that stop a job, and limits; `fit_rules` and `warnings` have what a maker must know.

A limit marked "common practice, no source" is what shops commonly hold to; the rest is geometry.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Severity, stop
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.joint.settings import SledSettings, counted
from jigs.trade import fingers, passes
from jigs.trade import sled as arithmetic

LEAST_CLEARANCE, GOOD_CLEARANCE, MOST_CLEARANCE = 0.05, 0.10, 0.25
"""Where water-based glue still lets the joint close, and where it shows (common practice, no source), mm."""
LEAST_FINGER, MOST_FINGER = 3.0, 60.0
"""The narrowest and the widest finger that the sled is drawn for, mm."""
MOST_SPREAD = 0.2
"""How much the sides of a box may differ in thickness (common practice, no source), mm."""
LEAST_OVERLAP = 0.2
"""Passes that share less leave a fin where one wanders (common practice, no source), mm."""
USUAL_SLACK, MOST_SLACK = 0.10, 0.25
"""What a key is planed to; with more play a joint cut separately will hardly close (common practice, no source), mm."""
LEAST_KEY, LEAST_KEY_HEIGHT = 0.1, 1.0
"""A lower key can't be planed, and boards slip over a low one (common practice, no source), mm."""


def _finger_narrower_than_cutter(asked: SledSettings) -> Iterator[Problem]:
    if asked.cutter > asked.finger and not asked.one_pass:
        works = asked.cutter - asked.clearance
        if not passes.one_pass_will_do(works - READ_OUT, asked.cutter):
            works = min(asked.cutter + READ_OUT, MOST_FINGER)
        yield stop(
            "finger",
            "the cutter makes a socket of {cutter}, so the finger cannot be {finger}",
            ("use a cutter of {narrower} or less", "make the finger {works}"),
            cutter=asked.cutter,
            finger=asked.finger,
            narrower=at_most(asked.finger, "cutter"),
            works=at_least(works),
        )


def _play_takes_the_cut(asked: SledSettings) -> Iterator[Problem]:
    plays = [("clearance", "clearance", asked.clearance, GOOD_CLEARANCE)]
    plays += [("key slack", "play on the key", asked.key_slack, USUAL_SLACK)] if asked.key is None else []
    for where, what, play, usual in plays:
        if play >= asked.cutter:
            yield stop(
                where,
                "a {what} of {play} leaves nothing of a socket of {cutter}",
                "use {usual}",
                what=what,
                play=play,
                cutter=asked.cutter,
                usual=at_most(usual),
            )


def _key_fills_socket(asked: SledSettings) -> Iterator[Problem]:
    if asked.cutter - asked.key_width <= 0:
        where, works = asked.key_or_slack
        yield stop(
            where,
            "a socket of {cutter} will not go on a key of {key:gauge}, which must be narrower",
            works,
            key=asked.key_width,
            cutter=asked.cutter,
            usual=at_least(USUAL_SLACK),
            works=at_most(asked.cutter - USUAL_SLACK),
        )


def _too_few_fingers(asked: SledSettings) -> Iterator[Problem]:
    least = fingers.rip_width(3, asked.gap, asked.socket)
    if asked.board < least - fingers.TOUCH:
        yield stop(
            "board",
            "2 fingers + 1 socket, the fewest that make a joint, are {least:gauge up} wide; the board is {board}",
            ("use a board of {enough} or more", *narrower_finger(asked, 3)),
            board=asked.board,
            least=least,
            enough=at_least(least),
            works=fingers_that_fit(asked, 3),
        )
        return
    count, most = asked.count, fingers.largest_count(asked.board, asked.gap, asked.socket)
    if asked.fingers is None or count is None or asked.layout == "centre":
        return
    if count > most:
        yield stop(
            "fingers",
            "{count} need a board of {width:gauge up}; the board is {board}",
            ("ask for {most} fingers", *narrower_finger(asked, count)),
            count=counted(count),
            width=fingers.rip_width(count, asked.gap, asked.socket),
            board=asked.board,
            most=Offer(_fingers_in(most), "down"),
            works=fingers_that_fit(asked, count),
        )
    elif asked.layout == "keep" and count < most:
        yield stop(
            "fingers",
            "a board that keeps its width of {board} has {most} fingers, not {fingers}",
            ("ask for {most} fingers", "{rip} the boards"),
            fingers=asked.fingers,
            board=asked.board,
            most=Offer(_fingers_in(most)),
            rip=Offer("rip", setting="layout"),
        )


def _fingers_in(count: int) -> int:
    """Return how many of so many fingers and sockets are fingers."""
    return count - count // 2


def fingers_that_fit(asked: SledSettings, count: int, **also: int) -> Offer:
    """Return a finger so narrow that the board holds `count` fingers and sockets, with a cutter that is as narrow.

    What else must be set with it is in `also`.
    """
    works = (asked.board - count // 2 * asked.clearance) / count
    narrow = {"cutter": works} if works < asked.cutter else {}
    return at_most(works, "finger", **narrow, **also)


def narrower_finger(asked: SledSettings, count: int) -> tuple[str, ...]:
    """Return the way out that `fingers_that_fit` gives, as the field `works`; nothing where it is too narrow to cut."""
    works = (asked.board - count // 2 * asked.clearance) / count
    if works < LEAST_FINGER:
        return ()
    return (f"make the fingers {{works}} or less{', with a cutter as narrow' if works < asked.cutter else ''}",)


def _fingers_can_be_centred(asked: SledSettings) -> Iterator[Problem]:
    if asked.layout != "centre" or asked.fingers is None or _outermost_do(asked, asked.fingers):
        return
    between = asked.board - 2 * _outermost(asked, asked.fingers)
    most = fingers.largest_count(asked.board, asked.gap, asked.socket)  # and two that are cut short
    fit = [count for count in range(2, most // 2 + 2) if _outermost_do(asked, count)]
    yield stop(
        "fingers",
        "{count} can be centred on boards more than {least:gauge} and at most {most:gauge} wide; the board is {board}",
        "ask for {nearest} fingers" if fit else "leave the number of fingers out",
        count=counted(asked.count_with(asked.fingers)),
        board=asked.board,
        least=between,
        most=between + 2 * asked.gap,
        nearest=Offer(min(fit, key=lambda count: abs(count - (asked.fingers or 0)), default=0)),
    )


def _outermost_do(asked: SledSettings, finger_count: int) -> bool:
    return 0 < _outermost(asked, finger_count) <= asked.gap + fingers.TOUCH


def _outermost(asked: SledSettings, finger_count: int) -> float:
    """Return how wide what stands at both edges is where so many fingers are centred; it may be below 0."""
    return fingers.end_part(asked.board, asked.count_with(finger_count) - 2, asked.gap, asked.socket)


def _passes_needed(asked: SledSettings) -> passes.Passes:
    """Return the fewest passes that overlap enough."""
    return passes.plan(asked.socket, asked.cutter, asked.gap, min(LEAST_OVERLAP, asked.cutter / 4))


def _passes_fill_socket(asked: SledSettings) -> Iterator[Problem]:
    if asked.passes is None or asked.cutter > asked.socket:
        return
    needed = _passes_needed(asked)
    covered = asked.passes * asked.cutter
    numbers: dict[str, object] = {
        "passes": asked.passes,
        "cutter": asked.cutter,
        "covered": covered,
        "socket": asked.socket,
        "needed": Offer(needed.count),
        "shift": needed.shift,
    }
    if covered < asked.socket - fingers.TOUCH:
        yield stop(
            "passes",
            ("1 pass of {cutter} covers" if asked.passes == 1 else "{passes} passes of {cutter} cover")
            + " only {covered:gauge down} of the socket of {socket:gauge}",
            "make {needed} passes, each shifted by {shift:gauge}",
            **numbers,
        )
    elif asked.one_pass and asked.passes != 1:
        said = "the cutter of {cutter} makes the socket in 1 pass, not in {passes}"
        yield stop("passes", said, "make {needed} pass", **numbers)


def _no_key_is_left(asked: SledSettings) -> Iterator[Problem]:
    if asked.first_depth - arithmetic.KEY_BELOW_CUT < LEAST_KEY:
        yield _low_key("stop", asked, LEAST_KEY)


def _low_key(severity: Severity, asked: SledSettings, least: float) -> Problem:
    return Problem(
        severity,
        "thickness",
        "the key stays {below} under the cut of {depth:gauge}, so it can only be {limit:gauge down} high; boards slip "
        "over a key lower than {least}",
        "use boards of {thicker} or thicker",
        {
            "depth": asked.first_depth,
            "below": arithmetic.KEY_BELOW_CUT,
            "limit": asked.first_depth - arithmetic.KEY_BELOW_CUT,
            "least": least,
            # In several runs the first must be so deep. Never so many that thicker boards need one more.
            "thicker": _thicker(asked, least),
        },
    )


def _thicker(asked: SledSettings, least: float) -> Offer:
    """Return boards that leave a key of that height; they are measured anew, and so is the thinnest of them."""
    works = (least + arithmetic.KEY_BELOW_CUT) * round(asked.depth / asked.first_depth) - asked.proud + READ_OUT
    return at_least(works) if asked.thinnest is None else at_least(works, thinnest=works)


def _key_too_tall(asked: SledSettings) -> Iterator[Problem]:
    limit = asked.first_depth - arithmetic.KEY_BELOW_CUT
    if limit < LEAST_KEY:
        return  # no height would do, and the thickness is stopped for it
    if asked.key_height is not None and asked.key_height > limit + READ_OUT:
        yield stop(
            "key height",
            "boards would ride on a key {key} high: it must stay {below} under the cut of {depth:gauge}",
            "plane the key down to {works}",
            key=asked.key_height,
            works=at_most(limit),
            depth=asked.first_depth,
            below=arithmetic.KEY_BELOW_CUT,
        )


def _cutting_edge_short(asked: SledSettings) -> Iterator[Problem]:
    depth = asked.depth
    if asked.cutting_edge is not None and asked.cutting_edge < depth - READ_OUT:
        yield stop(
            "cutting edge",
            "a cutting edge of {edge} is {short:gauge up} too short for a cut of {depth:gauge}: the shank would rub",
            "use a cutter with an edge of {works} or more",
            edge=asked.cutting_edge,
            short=depth - asked.cutting_edge,
            depth=depth,
            works=at_least(depth),
        )


def _boards_uneven(asked: SledSettings) -> Iterator[Problem]:
    if asked.thinnest is None:
        return
    spread = asked.thickness - asked.thinnest
    if spread < -READ_OUT:
        yield stop(
            "thinnest",
            "the thinnest reading, {thinnest}, is more than the thickness, {thickness}, which is the thickest",
            "enter {works} or less",
            thinnest=asked.thinnest,
            thickness=asked.thickness,
            works=at_most(asked.thickness),
        )
    elif spread > MOST_SPREAD:
        yield stop(
            "thickness",
            "the sides measure from {thinnest} to {thickness}; they may differ by {most} at most",
            (
                "plane them all in one setting to {works}, and enter that as the thickness",
                "take boards that read {least} or more",
            ),
            thinnest=asked.thinnest,
            thickness=asked.thickness,
            works=at_least(asked.thinnest),
            least=at_least(asked.thickness - MOST_SPREAD, "thinnest"),
            most=MOST_SPREAD,
        )


def _blade_too_small(asked: SledSettings) -> Iterator[Problem]:
    above = asked.plate + asked.depth
    if asked.machine == "table saw" and asked.blade < 4 * above - READ_OUT:
        yield stop(
            "blade",
            "a blade of {blade} cannot stand {above:gauge up} above the table: flange and arbor leave a quarter of it",
            "use a blade of {works} or more",
            blade=asked.blade,
            above=above,
            works=at_least(4 * above),
        )


def _guided_twice(asked: SledSettings) -> Iterator[Problem]:
    if asked.guided and asked.form == "fixed plate":
        yield stop(
            "guided",
            "a carriage with a guide of its own and a key on a fixed plate hold the boards twice, so they will bind",
            ("let the key alone guide the boards", "fix the key to a moving plate"),
        )


STOPS = (
    _blade_too_small,
    _guided_twice,
    _finger_narrower_than_cutter,
    _play_takes_the_cut,
    _key_fills_socket,
    _too_few_fingers,
    _fingers_can_be_centred,
    _passes_fill_socket,
    _no_key_is_left,
    _key_too_tall,
    _cutting_edge_short,
    _boards_uneven,
)
