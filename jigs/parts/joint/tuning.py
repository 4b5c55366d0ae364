"""A measured test joint in words: what to move, shim or plane, in what order, and what to expect of it."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from jigs.base import lengths
from jigs.base.lengths import Units
from jigs.base.rules import READ_OUT, Problem, note, stop, warn
from jigs.parts.joint.trial_joint import good_clearance
from jigs.parts.joint.tuned_sled import MOST_CHANGE, Compared
from jigs.trade.fingers import TOUCH
from jigs.trade.tune import Mount, Readings, Remedy, Tuning, slack_needed

RULER = 0.1
"""A measuring error over this can't set a joint, mm: callipers, a feeler or a gauge block can."""

_WHAT = {"gap": "the gap", "spacer": "the spacer", "height": "the height of the cutter"}
_DO = {
    ("plate", "move", "away"): "move the plate so that the key stands {amount} further from the cutter",
    ("plate", "move", "toward"): "move the plate so that the key stands {amount} nearer to the cutter",
    ("plate", "nudge", "away"): "nudge the sled {amount} at its free end, so that the key moves away from the cutter",
    ("plate", "nudge", "toward"): "nudge the sled {amount} at its free end, so that the key moves toward the cutter",
    ("key", "shim", "near"): "stick a shim of {amount} on the face of the key that looks at the cutter",
    ("key", "plane", "near"): "plane {amount} off the face of the key that looks at the cutter",
    ("key", "shim", "far"): "stick a shim of {amount} on the far face of the key, where it rocks in the socket",
    ("key", "plane", "far"): "plane {amount} off the far face of the key, where it binds in the socket",
    ("spacer", "shim", ""): "make the spacer {amount} thicker with a shim",
    ("spacer", "plane", ""): "plane {amount} off the spacer",
    ("cutter", "raise", ""): "raise the cutter {amount}",
    ("cutter", "lower", ""): "lower the cutter {amount}",
}


HOW = (
    "Clamp a stop on the side that {what} is to move to, with the feeler between. Loosen {what}, take the feeler out, "
    "push {what} against the stop and tighten it"
)
"""How something is moved by less than an eye can see: the feeler is the amount."""
_MOVED = {"move": "the plate", "nudge": "the sled’s free end"}
READ_FIRST = "read C to F before you plane, as they can change this; then {do}"
"""What is said where wood would be taken off before flush was read: what is gone can't be put back."""

_IN_SHORT = {
    ("plate", "move", "away"): "key {amount} further",
    ("plate", "move", "toward"): "key {amount} nearer",
    ("plate", "nudge", "away"): "nudged {amount}, key away",
    ("plate", "nudge", "toward"): "nudged {amount}, key nearer",
    ("key", "shim", "near"): "shim {amount} on the near face",
    ("key", "plane", "near"): "{amount} off the near face",
    ("key", "shim", "far"): "shim {amount} on the far face",
    ("key", "plane", "far"): "{amount} off the far face",
    ("spacer", "shim", ""): "spacer {amount} thicker",
    ("spacer", "plane", ""): "{amount} off the spacer",
    ("cutter", "raise", ""): "cutter {amount} up",
    ("cutter", "lower", ""): "cutter {amount} down",
}


def in_short(remedy: Remedy, units: Units) -> str:
    """Return what was done in a few words, the unit stated elsewhere: "key 0.04 nearer"."""
    amount = lengths.bare(remedy.amount, units, "gauge")
    return _IN_SHORT[remedy.part, remedy.action, remedy.face].format(amount=amount)


GOOD = "Good"
"""The verdict on a joint that boards may be cut like."""


def verdict_on(tuning: Tuning, compared: Compared) -> str:
    """Return how the joint is, in a word or two."""
    least, most = good_clearance(compared.drawn.wanted.clearance)
    clearance, out = tuning.clearance.value, abs(tuning.flush.value if tuning.flush else 0.0)
    if clearance < least - TOUCH:
        return "Too tight"
    if clearance > most + TOUCH:
        return "Too loose"
    return "Bottom edges out" if out > most + TOUCH else GOOD


def headline(verdict: str, count: int, *, stopped: bool) -> str:
    """Return what is wrong with the joint and how many things are to be done about it."""
    if stopped:
        return "Measure again: nothing is moved yet"
    if not count:
        return "Good: leave it as it is" if verdict == GOOD else f"{verdict}, by less than you can read"
    counted = f"{_COUNTED.get(count, str(count))} thing{'s' if count > 1 else ''}"
    return f"Good already; you can move {counted}" if verdict == GOOD else f"{verdict}: move {counted}"


_COUNTED = {1: "one", 2: "two", 3: "three", 4: "four", 5: "five"}


def steps(remedies: Sequence[Remedy], readings: Readings, units: Units) -> list[str]:
    """Return what to do, in order, each amount in the units of the job, with what it is measured by and how.

    Before wood is taken off all is to be read that could change how much.
    """
    said = []
    for remedy in remedies:
        words = _DO[remedy.part, remedy.action, remedy.face].format(amount=lengths.show(remedy.amount, units, "gauge"))
        words += f", by {'callipers' if remedy.action == 'plane' else 'feeler gauge'}"
        if what := _MOVED.get(remedy.action):
            words += f". {HOW.format(what=what)}"
        elif remedy.action == "plane" and readings.flush_high is None:
            words = READ_FIRST.format(do=words)
        said.append(words)
    return said


def problems(tuning: Tuning, readings: Readings, mount: Mount, compared: Compared) -> tuple[Problem, ...]:
    """Return what the readings can't tell, worst first.

    First what stands against the sheets, then contradictions, tightness and changes not to be trusted. Where something
    stops the joint only that is returned: nothing is moved by such readings.
    """
    found = [
        *compared.problems,
        *_contradictions(tuning),
        *_mistyped(tuning),
        *_shim_without_room(tuning, readings, mount),
        *_unknown_tightness(tuning),
        *_coarse(readings),
        *_refused(tuning),
    ]
    stops = [problem for problem in found if problem.severity == "stop"]
    return tuple(stops or found)


def _contradictions(tuning: Tuning) -> list[Problem]:
    found = []
    for one in tuning.contradictions:
        if one.readings == ("flush_high", "flush_low"):
            rule = (
                "pushed up, the end reads {first:gauge}; pushed down, it reads {second:gauge}, which is more than "
                "{allowed:gauge} further up"
            )
        else:
            first, second = (_GIVES[reading] for reading in one.readings)
            rule = (
                f"{first} a clearance of {{first:gauge}} and {second} {{second:gauge}}. They can be {{allowed:gauge}} "
                "apart at most"
            )
        numbers = {"first": one.first, "second": one.second, "allowed": one.allowed}
        where = ", ".join(one.readings).replace(" - ", ", ")
        found.append(stop(where, rule, "measure both again", **numbers))
    return found


_GIVES = {
    "socket - finger": "finger and socket give",
    "clearance": "the closed joint gives",
    "flush_high - flush_low": "the flush readings give",
}


def _mistyped(tuning: Tuning) -> list[Problem]:
    changes = {"gap": tuning.gap_change, "spacer": tuning.spacer_change, "height": tuning.height_change or 0.0}
    return [
        warn(
            name,
            f"{_WHAT[name]} would change by {{change:gauge}}, more than {{most:gauge}}: a reading may be mistyped",
            "check every reading before you plane anything",
            change=abs(change),
            most=MOST_CHANGE,
        )
        for name, change in changes.items()
        if abs(change) > MOST_CHANGE
    ]


def _shim_without_room(tuning: Tuning, readings: Readings, mount: Mount) -> list[Problem]:
    shim = -tuning.gap_change
    if mount != "screwed plate" or shim <= 0 or "gap" in tuning.refused:
        return []
    needed = slack_needed(shim)
    if readings.slack is None:
        return [
            warn(
                "slack",
                "a shim of {shim:gauge} on the near face takes as much of the play on the key, which was not read",
                "read the play on the key; it must be {needed:gauge} or more",
                shim=shim,
                needed=needed,
            )
        ]
    if readings.slack < needed:
        return [
            warn(
                "slack",
                "a shim of {shim:gauge} needs a play of {needed:gauge} on the key; there is only {slack:gauge}",
                "plane the far face of the key first, as the steps say",
                shim=shim,
                needed=needed,
                slack=readings.slack,
            )
        ]
    return []


def _unknown_tightness(tuning: Tuning) -> list[Problem]:
    if not tuning.tight:
        return []
    return [
        warn(
            "clearance",
            "a joint that shows no clearance is tight, and the closed joint cannot tell by how much",
            "measure finger and socket instead",
        )
    ]


def _coarse(readings: Readings) -> list[Problem]:
    if readings.error <= RULER:
        return []
    return [
        warn(
            "error",
            "readings good to {error:gauge} cannot set a joint whose clearance is about {usual:gauge}",
            "read with callipers or feelers, good to {most:gauge} or better",
            error=readings.error,
            usual=0.1,
            most=0.02,
        )
    ]


def _refused(tuning: Tuning) -> list[Problem]:
    estimates = {"gap": tuning.gap, "spacer": tuning.spacer_step, "height": tuning.height}
    found = []
    for name in tuning.refused:
        estimate = estimates[name]
        assert estimate is not None, "a change that was not worked out is not refused"
        if abs(estimate.value) < READ_OUT / 2:
            continue  # it is right, or nothing was read of it
        found.append(
            note(
                name,
                f"{_WHAT[name]} stays as it is: a change of {{change:gauge}} is within the error of {{error:gauge}}",
                "measure again, more finely, if the fit does not please you",
                change=estimate.value,
                error=estimate.error.worst,
            )
        )
    return found


def report(tuning: Tuning, compared: Compared, said: Sequence[str], units: Units) -> str:
    """Return what was read, what is good, what to do in order, what to expect of it, and what the sheets are then."""

    def show(mm: float) -> str:
        return lengths.show(mm, units, "gauge")

    rows = [f"The joint has a clearance of {show(tuning.clearance.value)}"]
    if tuning.flush is not None:
        rows[0] += f" and its bottom edges are {show(tuning.flush.value)} out"
    rows[0] += "."
    least, most = (show(limit) for limit in good_clearance(compared.drawn.wanted.clearance))
    rows.append(f"Good is a clearance of {least} to {most}, and edges {most} out at most.")
    rows += [f"{i}. {words[0].upper() + words[1:]}." for i, words in enumerate(said, start=1)]
    if said:
        error = show(tuning.clearance.error.worst)
        rows.append(f"Then expect a clearance of {show(tuning.clearance_expected)}, give or take {error}.")
    else:
        rows.append("Leave it as it is.")
    rows.append(_of_the_sheets(compared, show))
    return "\n".join(rows)


def _of_the_sheets(compared: Compared, show: Callable[[float], str]) -> str:
    """Return what becomes of rip-to width, starter and story stick."""
    drawn, made, ripped = compared.drawn.numbers, compared.numbers, compared.drawn.asked.layout == "rip"
    if made is None:
        return f"Measure a socket before you rip a board: the sheets are drawn for {show(drawn.socket)}."
    if compared.holds:
        return (f"Plane the boards to {show(drawn.width)}, as drawn. " if ripped else "") + "The story stick holds."
    said = f"The story stick no longer holds: its lines are up to {show(compared.stick_out or 0.0)} out."
    if ripped:
        said = f"By these readings the boards are planed to {show(made.width)}, not {show(drawn.width)}. {said}"
    elif compared.drawn.asked.layout == "centre":
        starters = f"{show(made.board_starter)}, not {show(drawn.board_starter)}"
        said = f"By these readings the starter is {starters}. {said}"
    return said


def as_data(tuning: Tuning, compared: Compared, said: Sequence[str], stopped: bool) -> dict[str, object]:
    """Return the numbers by the names of the JSON report: lengths in mm, + away from the cutter, thicker, up.

    `*_change` is what the readings say, each the whole change to the fit that is wanted, whether or not it can be told
    from a misreading; `refused` names those that can't be. `to_make` is what is to be moved: 0 for a change that is
    refused and for all of them where the readings are stopped, None for one that nothing was read of. The spacer to
    make goes with the gap to make, so it differs from `spacer_change` where the gap is refused. `rip_width` and
    `story_stick_out` are for the joint as it will be, None where the readings don't tell or something is stopped.
    """
    made = None if stopped else compared.numbers
    flush = tuning.flush.value if tuning.flush else None
    changes = {"gap": tuning.gap, "spacer": tuning.spacer_step, "height": tuning.height}
    return {
        "gap_change": tuning.gap_change,
        "spacer_change": tuning.spacer_change,
        "height_change": tuning.height_change,
        "clearance_now": tuning.clearance.value,
        "clearance_expected": tuning.clearance.value if stopped else tuning.clearance_expected,
        "clearance_uncertainty": tuning.clearance.error.worst,
        "flush_now": flush,
        "flush_expected": flush if stopped else tuning.flush_expected,
        "steps": [] if stopped else list(said),
        "refused": list(tuning.refused),
        "to_make": {
            name: None if change is None else 0.0 if stopped else change.made for name, change in changes.items()
        },
        "rip_width": made.width if made else None,
        "rip_width_drawn": compared.drawn.numbers.width,
        "story_stick_out": compared.stick_out if made else None,
    }
