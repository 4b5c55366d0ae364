"""The rules of the indexing sled that stop a job; what a maker must know besides is in `warnings`.

A limit marked "common practice, no source" is what shops commonly hold to; the rest is geometry.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, Severity, stop
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.joint.settings import SledSettings
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
            "the cutter makes a socket of {cutter}; a finger cannot be {finger}",
            ("a cutter of {narrower} or less", "a finger of {works}"),
            cutter=asked.cutter,
            finger=asked.finger,
            narrower=at_most(asked.finger, "cutter"),
            works=at_least(works),
        )


def _play_takes_the_cut(asked: SledSettings) -> Iterator[Problem]:
    plays = [("clearance", asked.clearance, GOOD_CLEARANCE)]
    plays += [("key slack", asked.key_slack, USUAL_SLACK)] if asked.key is None else []
    for where, play, usual in plays:
        if play >= asked.cutter:
            yield stop(
                where,
                "a {what} of {play} leaves nothing of a cut of {cutter}",
                "{usual}",
                what=where.removeprefix("key "),
                play=play,
                cutter=asked.cutter,
                usual=at_most(usual),
            )


def _key_fills_socket(asked: SledSettings) -> Iterator[Problem]:
    slack = asked.cutter - asked.key_width
    if slack <= 0:
        where, works = asked.key_or_slack
        numbers = {"key": asked.key_width, "slack": slack, "cutter": asked.cutter}
        yield stop(
            where,
            "a key of {key} leaves a slack of {slack}: a socket of {cutter} will not go on it",
            works,
            **numbers,
            usual=at_least(USUAL_SLACK),
            works=at_most(asked.cutter - USUAL_SLACK),
        )


def _too_few_parts(asked: SledSettings) -> Iterator[Problem]:
    least = fingers.rip_width(3, asked.gap, asked.socket)
    if asked.board < least - fingers.TOUCH:
        works = (asked.board - asked.clearance) / 3
        ways = ["a board of {enough} or more"]
        narrower = {"cutter": works} if works < asked.cutter else {}
        if works >= LEAST_FINGER:
            ways.append(f"a finger of {{works}} or less{' with a cutter as narrow' if narrower else ''}")
        yield stop(
            "board",
            "a board of {board} is {parts} fingers of {finger} wide; a joint needs 3 parts, {least}",
            tuple(ways),
            board=asked.board,
            parts=f"{asked.board / asked.gap:.1f}",
            finger=asked.gap,
            least=least,
            enough=at_least(least),
            works=at_most(works, "finger", **narrower),
        )
    elif asked.parts and asked.layout != "centre":
        most = fingers.largest_count(asked.board, asked.gap, asked.socket)
        if asked.parts > most:
            yield stop(
                "parts",
                "{parts} parts need {width}; the board is {board}",
                "{most} parts or fewer",
                parts=asked.parts,
                width=fingers.rip_width(asked.parts, asked.gap, asked.socket),
                board=asked.board,
                most=Offer(most, "down"),
            )
        elif asked.layout == "keep" and asked.parts < most:
            yield stop(
                "parts",
                "a board of {board} that keeps its width has {most} parts, not {parts}",
                ("{most} parts", "{rip} the board"),
                parts=asked.parts,
                board=asked.board,
                most=Offer(most),
                rip=Offer("rip", setting="layout"),
            )


def _ends_can_be_equal(asked: SledSettings) -> Iterator[Problem]:
    if asked.layout != "centre" or asked.parts is None:
        return
    end = fingers.end_part(asked.board, asked.parts - 2, asked.gap, asked.socket)
    if not 0 < end <= asked.gap + fingers.TOUCH:
        yield stop(
            "parts",
            "equal end parts are not possible: with {parts} parts they would be {end}, and they must be above 0 and at "
            "most {gap}",
            "leave the parts to be worked out",
            parts=asked.parts,
            end=end,
            gap=asked.gap,
        )


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
            + " {covered}, less than the socket of {socket}",
            "{needed} passes, each shifted by {shift}",
            **numbers,
        )
    elif asked.one_pass and asked.passes != 1:
        yield stop("passes", "the cutter of {cutter} makes the socket in 1 pass", "1 pass", **numbers)


def _no_key_is_left(asked: SledSettings) -> Iterator[Problem]:
    if asked.first_depth - arithmetic.KEY_BELOW_CUT < LEAST_KEY:
        yield _low_key("stop", asked, LEAST_KEY)


def _low_key(severity: Severity, asked: SledSettings, least: float) -> Problem:
    return Problem(
        severity,
        "thickness",
        "a cut of {depth} less {below} leaves a key {limit} high, and boards slip over a key under {least}",
        "boards of {thicker} or thicker",
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
            "a key {key} high is above {limit}, the cut of {depth} less {below}: boards would ride on it",
            "plane the key to {works}",
            key=asked.key_height,
            limit=limit,
            works=at_most(limit),
            depth=asked.first_depth,
            below=arithmetic.KEY_BELOW_CUT,
        )


def _cutting_edge_short(asked: SledSettings) -> Iterator[Problem]:
    depth = asked.depth
    if asked.cutting_edge is not None and asked.cutting_edge < depth - READ_OUT:
        yield stop(
            "cutting edge",
            "a cutting edge of {edge} is {short} short of the cut of {depth}: the shank would rub",
            "a cutter with an edge of {works} or more",
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
            "the thinnest reading, {thinnest}, is over the thickness of {thickness}",
            "{works} or less; the thickness is the thickest reading",
            thinnest=asked.thinnest,
            thickness=asked.thickness,
            works=at_most(asked.thickness),
        )
    elif spread > MOST_SPREAD:
        yield stop(
            "thickness",
            "the sides measure from {thinnest} to {thickness}: a spread of {spread} is over {most}",
            "plane them in one setting to {works}, and give that as the thickness",
            thinnest=asked.thinnest,
            thickness=asked.thickness,
            spread=spread,
            works=at_least(asked.thinnest),
            most=MOST_SPREAD,
        )


def _blade_too_small(asked: SledSettings) -> Iterator[Problem]:
    above = asked.plate + asked.depth
    if asked.machine == "table saw" and asked.blade < 4 * above - READ_OUT:
        yield stop(
            "blade",
            "a blade of {blade} can't stand {above} above the table: with flange and arbor a quarter of it can",
            "a blade of {works} or more",
            blade=asked.blade,
            above=above,
            works=at_least(4 * above),
        )


def _guided_twice(asked: SledSettings) -> Iterator[Problem]:
    if asked.guided and asked.form == "fixed plate":
        yield stop(
            "guided",
            "a carriage with a guide of its own and a key on a fixed plate hold the boards twice: they will bind",
            "let the key alone guide, or fix the key to a moving plate",
        )


STOPS = (
    _blade_too_small,
    _guided_twice,
    _finger_narrower_than_cutter,
    _play_takes_the_cut,
    _key_fills_socket,
    _too_few_parts,
    _ends_can_be_equal,
    _passes_fill_socket,
    _no_key_is_left,
    _key_too_tall,
    _cutting_edge_short,
    _boards_uneven,
)
