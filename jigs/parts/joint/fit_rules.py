"""What a maker must know of how a joint closes, before cutting: clearance, flush edges, top fingers, boards cut apart.

A limit marked "common practice, no source" is what shops commonly hold to; the rest is geometry.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, note, stop, warn
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.joint.rules import GOOD_CLEARANCE, LEAST_CLEARANCE, MOST_CLEARANCE, MOST_SLACK, USUAL_SLACK
from jigs.parts.joint.settings import SledSettings, joint_of
from jigs.trade import fingers, fit, predict
from jigs.trade import sled as arithmetic
from jigs.trade.sled import SledNumbers

LEAST_PART = 3.0
"""A finger thinner than this, or than a third of the others, breaks (common practice, no source), mm."""

MOST_PROUD = 1.0
"""More than this to plane off is end grain all round (common practice, no source), mm."""

NEAR_MISS = 1.0
"""A board this little too narrow for one more part is worth a word, mm."""


def clearance_for_glue(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a clearance in which glue binds, or that shows."""
    data = {"clearance": asked.clearance, "least": LEAST_CLEARANCE, "most": MOST_CLEARANCE}
    works = {"gap": numbers.gap + asked.clearance - GOOD_CLEARANCE, "good": at_least(GOOD_CLEARANCE)}
    if asked.clearance < LEAST_CLEARANCE:
        yield warn(
            "clearance",
            "a clearance of {clearance} is under {least}: water-based glue swells the cheeks, and a corner can take "
            "hundreds of newtons to close",
            "a clearance of {good}, which is a gap of {gap}",
            **data,
            **works,
        )
    elif asked.clearance > MOST_CLEARANCE:
        yield warn(
            "clearance",
            "a clearance of {clearance} is over {most}: it shows as a gap at every pair of cheeks",
            "a clearance of {good}: move the key {away} away from the cutter, to a gap of {gap}",
            **data,
            **works,
            away=asked.clearance - GOOD_CLEARANCE,
        )


def cannot_be_flush(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find edges that no setting brings flush."""
    low, high = numbers.fit.flush_low, numbers.fit.flush_high
    if asked.spacer is None or low - fingers.TOUCH <= 0 <= high + fingers.TOUCH:
        return
    yield stop(
        "spacer",
        "with a spacer of {spacer} the bottom edges come out {low} to {high} apart and can't be flushed",
        "a spacer of {works}",
        spacer=asked.spacer,
        low=min(abs(low), abs(high)),
        high=max(abs(low), abs(high)),
        works=at_least((numbers.finger + numbers.socket) / 2),
    )


def top_part(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a top finger that breaks, or a board that nearly has one part more."""
    left = numbers.leftover
    if asked.layout != "keep" or not numbers.ends_unlike:
        return
    least, good = max(LEAST_PART, numbers.finger / 3), numbers.finger / 2
    if min(left.nick, left.sliver) >= good:
        return
    said = warn
    if min(left.nick, left.sliver) >= least:
        board = "the ends" if left.nick_on == "long" else "front and back"
        words = f"kept {{width}} wide, {board} end at the top in a finger of only {{sliver}}, which breaks off easily"
    elif max(left.nick, left.sliver) < 1.0:
        words = "a board of {width} leaves a nick of {nick} and a sliver of {sliver} at the top"
    else:
        said, words = stop, "a board of {width} leaves parts of {nick} and {sliver} at the top, under {least}"
    middle = fingers.centred(asked.board, numbers.finger, numbers.socket, numbers.spacer)
    centred = "{centre} the fingers: {end} at both edges, with a starter spacer of {starter}"
    yield said(
        "board",
        words,
        (centred, "{cut} to {rip} and lose {lose}"),
        width=asked.board,
        nick=left.nick,
        sliver=left.sliver,
        least=least,
        rip=numbers.rip_width,
        lose=asked.board - numbers.rip_width,
        end=middle.end,
        starter=middle.starter,
        centre=Offer("centre", setting="layout"),
        cut=Offer("rip", setting="layout"),
    )


def count_of_parts(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a count that is not the same both ways up, or too small to hold."""
    if numbers.count % 2 == 0 or numbers.ends_unlike:
        yield warn(
            "parts",
            "front and back have {fingers} fingers + {sockets} sockets, top and bottom are not alike: a board turned "
            "top for bottom mates nowhere",
            "mark the bottom edge of every board before cutting",
            fingers=numbers.long_fingers,
            sockets=len(numbers.long_sockets),
        )
    if numbers.count < 5:
        yield warn(
            "parts",
            "{count} parts hold, but 5 or more are commonly wanted for strength",
            "a narrower finger",
            count=numbers.count,
        )
    if asked.layout == "rip" and asked.parts is None:
        yield from _near_miss(asked, numbers)
    over = asked.board - numbers.width
    if over > fingers.TOUCH:
        yield note(
            "board",
            "the board of {board} is ripped to {width}: {over} come off the top edge",
            "rip while the wood is long, once cutter and gap have been measured",
            board=asked.board,
            width=numbers.width,
            over=over,
        )


def _near_miss(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    more = numbers.count + 1
    missing = fingers.rip_width(more, numbers.finger, numbers.socket) - asked.board
    if missing > NEAR_MISS:
        return
    if not asked.one_pass:
        yield warn(
            "board",
            "the board is {missing} too narrow for {more} parts",
            "a finger of {finger} makes {more} parts fit",
            missing=missing,
            more=str(more),
            finger=at_most(fingers.gap_for_count(asked.board, more, numbers.clearance), "finger"),
        )
        return
    gap = fingers.gap_that_fits(asked.board, more, numbers.socket)
    if numbers.socket - gap <= MOST_CLEARANCE:
        yield warn(
            "board",
            "the board is {missing} too narrow for {more} parts",
            "a clearance of {clearance} makes {more} parts fit",
            missing=missing,
            more=str(more),
            clearance=at_least(numbers.socket - gap, "clearance"),
        )


def too_loose_on_the_key(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a key on which the boards wander."""
    if numbers.slack <= MOST_SLACK:
        return
    sockets = len(numbers.long_sockets)
    where, works = asked.key_or_slack
    yield warn(
        where,
        "a slack of {slack} on the key: cut separately the clearance can come out {worst}, and in one stack the last "
        "finger may move by {move}",
        works,
        slack=numbers.slack,
        worst=fit.separate_worst(numbers.clearance, numbers.slack, sockets, numbers.count % 2 == 1),
        move=sockets * numbers.slack,
        usual=at_most(USUAL_SLACK),
        works=at_least(asked.cutter - USUAL_SLACK),
    )


def cut_separately(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find boards cut apart that will not all go together."""
    if asked.method != "separately":
        return
    joint = joint_of(numbers)
    worst = fit.separate_worst(numbers.clearance, numbers.slack, joint.long_sockets, joint.odd)
    if worst >= -READ_OUT / 2:
        return
    expected = predict.predict(joint, "separately", arithmetic.errors(numbers.passes.count))
    works = numbers.clearance / max(1, joint.long_sockets - (1 if joint.odd else 2))
    yield warn(
        "method",
        "cut separately {chance} of the corners will not go together, which is {boxes} of the boxes; at worst the "
        "clearance is {worst}, for with a slack of {slack} each position wanders on its own",
        ("cut mates in {together}", "a slack of {works} or less" if asked.key is None else "a key of {works} or more"),
        chance=f"{100 * expected.chance_fails:.1f} %",
        boxes=f"{100 * predict.of_a_box(expected.chance_fails):.0f} %",
        worst=worst,
        slack=numbers.slack,
        together=Offer("one stack"),
        works=at_most(works, "key slack") if asked.key is None else at_least(asked.cutter - works, "key"),
    )


def proud_allowance(asked: SledSettings, _: SledNumbers) -> Iterator[Problem]:
    """Find fingers that stand out too little or too much to be planed off."""
    if asked.proud == 0:
        yield note(
            "proud",
            "with nothing proud, a finger a hair short must be met by planing the whole side",
            "from {least} to {most}",
            least=at_least(0.2),
            most=at_most(0.5),
        )
    elif asked.proud > MOST_PROUD:
        yield warn(
            "proud",
            "{proud} of end grain to plane off all round, and clamps would bear on the fingers",
            "from {least} to {most}; for this, cauls cut back by {relief}",
            proud=asked.proud,
            least=at_least(0.2),
            most=at_most(0.5),
            relief=asked.proud + 1.0,
        )
