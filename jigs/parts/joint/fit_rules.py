"""What a maker must know of how a joint closes, before cutting: clearance, flush edges, top fingers, boards cut apart.

A limit marked "common practice, no source" is what shops commonly hold to; the rest is geometry.
"""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.rules import READ_OUT, Problem, note, stop, warn
from jigs.base.wording import Offer, at_least, at_most
from jigs.parts.joint.rules import (
    GOOD_CLEARANCE,
    LEAST_CLEARANCE,
    MOST_CLEARANCE,
    MOST_SLACK,
    USUAL_SLACK,
    fingers_that_fit,
    narrower_finger,
)
from jigs.parts.joint.settings import SledSettings, counted, joint_of
from jigs.trade import fingers, fit, predict
from jigs.trade import sled as arithmetic
from jigs.trade.sled import SledNumbers

FRAGILE_FINGER = 3.0
"""A finger thinner than this, or than a third of the others, breaks (common practice, no source), mm."""

MOST_PROUD = 1.0
"""More than this to plane off is end grain all round (common practice, no source), mm."""

NEAR_MISS = 1.0
"""A board this little too narrow for one more finger is worth a word, mm."""
USUAL_COUNT = 5
"""Fingers and sockets together: with fewer a joint has little to hold by (common practice, no source)."""


def clearance_for_glue(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a clearance in which glue binds, or that shows."""
    data = {"clearance": asked.clearance, "least": LEAST_CLEARANCE, "most": MOST_CLEARANCE}
    works = {"gap": numbers.gap + asked.clearance - GOOD_CLEARANCE, "good": at_least(GOOD_CLEARANCE)}
    if asked.clearance < LEAST_CLEARANCE:
        yield warn(
            "clearance",
            "a clearance of {clearance} is less than {least}: water-based glue swells the fingers, and corners "
            "will be hard to close",
            "ask for a clearance of {good}, which is a gap of {gap:gauge}",
            **data,
            **works,
        )
    elif asked.clearance > MOST_CLEARANCE:
        yield warn(
            "clearance",
            "a clearance of {clearance} is more than {most}: it will show beside every finger",
            "ask for a clearance of {good}; the key then stands {away:gauge} further off, at a gap of {gap:gauge}",
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
        "with a spacer of {spacer} the bottom edges will be {low:gauge} to {high:gauge} out of flush",
        "use a spacer of {works}",
        spacer=asked.spacer,
        low=min(abs(low), abs(high)),
        high=max(abs(low), abs(high)),
        works=at_least((numbers.finger + numbers.socket) / 2),
    )


def at_the_top(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a kept board that ends at the top in a finger that breaks."""
    left = numbers.leftover
    if asked.layout != "keep" or not numbers.ends_unlike:
        return
    least, good = max(FRAGILE_FINGER, numbers.finger / 3), numbers.finger / 2
    if min(left.nick, left.sliver) >= good:
        return
    said = warn
    if min(left.nick, left.sliver) >= least:
        board = "end boards" if left.nick_on == "long" else "front and back"
        words = f"kept {{width}} wide, {board} have a top finger of only {{sliver:cut}}, which breaks off easily"
    elif max(left.nick, left.sliver) < 1.0:
        words = (
            "a board kept {width} wide leaves a socket of {nick:gauge} and a finger of {sliver:gauge} at the top edge; "
            "the finger breaks off"
        )
    else:
        said = stop
        words = (
            "a board kept {width} wide leaves a socket of {nick:cut} and a finger of {sliver:cut} at the top "
            "edge; both must be {least:cut up} or more"
        )
    middle = fingers.centred(asked.board, numbers.finger, numbers.socket, numbers.spacer)
    centred = "{centre} the fingers: {end:gauge} at both edges, with a starter of {starter:gauge}"
    yield said(
        "board",
        words,
        (centred, "{cut} the boards to {rip:gauge}, {lose:cut up} narrower"),
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


def edges_alike(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find boards that are not the same both ways up."""
    if numbers.count % 2 and not numbers.ends_unlike:
        return
    rips = "ask for {fingers} fingers, which rips the boards to {odd}"
    one = "socket" if numbers.leftover.nick_on == "long" else "finger"
    yield warn(
        _of_count(asked),
        "front and back have {count}, so the top edge is not like the bottom edge. A board turned top for bottom "
        "will not fit",
        (rips, "mark the bottom edge of every board before you cut")
        if asked.layout == "rip"
        else "mark the bottom edge of every board before you cut",
        count=counted(numbers.count) + (f" and a narrow {one} at the top" if numbers.ends_unlike else ""),
        fingers=Offer(numbers.finger_count, setting="fingers"),
        odd=counted(2 * numbers.finger_count - 1),
    )


def few_fingers(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a count too small to hold."""
    if numbers.count >= USUAL_COUNT:
        return
    usual = USUAL_COUNT - USUAL_COUNT // 2
    more = {} if asked.fingers is None else {"fingers": usual}
    too = f"ask for {usual} fingers, and " if more else ""
    yield warn(
        _of_count(asked),
        "{count} hold little glue, and the corners may break; {usual} or more are usual",
        ("ask for {fingers} fingers", *(too + way for way in narrower_finger(asked, USUAL_COUNT))),
        count=counted(numbers.count),
        usual=counted(USUAL_COUNT),
        fingers=Offer(usual, setting="fingers"),
        works=fingers_that_fit(asked, USUAL_COUNT, **more),
    )


def _of_count(asked: SledSettings) -> str:
    """Return the setting that a count comes from: the board, where no number of fingers is asked for."""
    return "board" if asked.fingers is None else "fingers"


def another_count(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a board that could well have more fingers, or nearly."""
    if asked.layout == "rip":
        yield from _near_miss(asked, numbers) if asked.fingers is None else _board_is_wasted(asked, numbers)


def _board_is_wasted(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find so few fingers that the board could have more: over a pitch of it is ripped off."""
    over = asked.board - numbers.width
    if over <= numbers.pitch + READ_OUT:
        return
    yield warn(
        "fingers",
        "{count} take {width:gauge} of a board of {board}; the other {over:cut down} will be ripped off",
        (
            "ask for {more} fingers",
            "make the fingers {wider} wide",
            "use a board of {narrower}, and keep the rest of this one",
        ),
        count=counted(numbers.count),
        width=numbers.width,
        board=asked.board,
        over=over,
        more=Offer((fingers.largest_count(asked.board, numbers.finger, numbers.socket) + 1) // 2, "down"),
        wider=at_most(fingers.gap_for_count(asked.board, numbers.count, numbers.clearance), "finger"),
        narrower=at_least(numbers.width, "board"),
    )


def _near_miss(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a board that is a hair too narrow for another finger at its top edge."""
    more = numbers.count + 1
    missing = fingers.rip_width(more, numbers.finger, numbers.socket) - asked.board
    if missing > NEAR_MISS or more % 2 == 0:
        return
    gap = fingers.gap_that_fits(asked.board, more, numbers.socket)
    if asked.one_pass and numbers.socket - gap > MOST_CLEARANCE:
        return
    yield note(
        "board",
        "the board is only {missing:gauge up} too narrow for {more}",
        "ask for a clearance of {clearance}" if asked.one_pass else "make the fingers {finger} wide",
        missing=missing,
        more=counted(more),
        clearance=at_least(numbers.socket - gap, "clearance"),
        finger=at_most(fingers.gap_for_count(asked.board, more, numbers.clearance), "finger"),
    )


def too_loose_on_the_key(asked: SledSettings, numbers: SledNumbers) -> Iterator[Problem]:
    """Find a key on which the boards wander."""
    if numbers.slack <= MOST_SLACK:
        return
    sockets = len(numbers.long_sockets)
    where, works = asked.key_or_slack
    yield warn(
        where,
        "with a play of {slack:gauge} on the key, the last finger of a stack may be {move:gauge up} out of place. "
        "Boards cut separately may have a clearance of {worst:gauge}",
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
        "cut separately, {chance} of the corners will not go together, which spoils {boxes} of the boxes. Each "
        "position wanders by the play on the key, {slack:gauge}; the clearance is {worst:gauge} at worst",
        (
            "cut mates in {together}",
            "leave a play of {works} or less on the key" if asked.key is None else "use a key of {works} or more",
        ),
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
            "the fingers will not stand proud: where one is a hair short, the whole side must be planed down to it",
            "leave them {least} to {most} long",
            least=at_least(0.2),
            most=at_most(0.5),
        )
    elif asked.proud > MOST_PROUD:
        yield warn(
            "proud",
            "fingers {proud} proud are much end grain to plane off, and clamps would bear on them",
            ("leave them {least} to {most} long", "cut the cauls back by {relief:cut up}"),
            proud=asked.proud,
            least=at_least(0.2),
            most=at_most(0.5),
            relief=asked.proud + 1.0,
        )
