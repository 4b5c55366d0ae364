"""A measured test joint in words: what to move, shim or plane, in what order, and what to expect of it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from jigs import lengths
from jigs.errors import Problem
from jigs.lengths import Units
from jigs.trade.tune import Mount, Readings, Remedy, Tuning, slack_needed
from jigs.trial_joint import good_clearance
from jigs.wording import Wording, say

RULER = 0.1
"""A measuring error over this can't set a joint, mm: callipers, a feeler or a gauge block can."""

MOST_CHANGE = 1.0
"""A test joint that is further off than this was cut with other settings, or read wrongly, mm."""

_WHAT = {"gap": "the gap", "spacer": "the spacer", "height": "the height of the cutter"}
_DO = {
    ("plate", "move", "away"): "move the plate so that the key stands {amount} further from the cutter",
    ("plate", "move", "toward"): "move the plate so that the key stands {amount} nearer to the cutter",
    ("plate", "nudge", "away"): "nudge the sled {amount} at its free end, the key away from the cutter",
    ("plate", "nudge", "toward"): "nudge the sled {amount} at its free end, the key toward the cutter",
    ("key", "shim", "near"): "stick a shim of {amount} on the face of the key that looks at the cutter",
    ("key", "plane", "near"): "plane {amount} off the face of the key that looks at the cutter",
    ("key", "shim", "far"): "stick a shim of {amount} on the far face of the key, where it rocks in the socket",
    ("key", "plane", "far"): "plane {amount} off the far face of the key, where it binds in the socket",
    ("spacer", "shim", ""): "make the spacer {amount} thicker with a shim",
    ("spacer", "plane", ""): "plane {amount} off the spacer",
    ("cutter", "raise", ""): "raise the cutter by {amount}",
    ("cutter", "lower", ""): "lower the cutter by {amount}",
}


def steps(remedies: Sequence[Remedy], sheet: float) -> list[Wording]:
    """Return what to do, in order, each amount in mm, thousandths of an inch and sheets of `sheet` mm."""
    said = []
    for remedy in remedies:
        words = _DO[remedy.part, remedy.action, remedy.face]
        counted = f"{remedy.sheets:.1f} sheets of {sheet:.2f} mm"
        both = f"{lengths.show(remedy.amount, 'mm')} = {lengths.in_thousandths(remedy.amount)}"
        said.append(say(words.replace("{amount}", "{amount} ({counted})"), amount=both, counted=counted))
    return said


def problems(tuning: Tuning, readings: Readings, mount: Mount, finger: float) -> list[Problem]:
    """Return what the readings can't tell, worst first: contradictions, tightness, changes not to be trusted.

    `finger` is the finger of the box file, mm.
    """
    return [
        *_of_another_joint(readings, finger),
        *_contradictions(tuning),
        *_mistyped(tuning),
        *_shim_without_room(tuning, readings, mount),
        *_unknown_tightness(tuning),
        *_coarse(readings),
        *_refused(tuning),
    ]


def _of_another_joint(readings: Readings, finger: float) -> list[Problem]:
    read = {"finger": readings.finger, "socket": readings.socket}
    return [
        Problem(
            "stop",
            name,
            "the joint of this file has fingers of {finger}; {read} was read",
            "the box file of this joint, or another reading",
            {"finger": finger, "read": value},
        )
        for name, value in read.items()
        if value is not None and abs(value - finger) > MOST_CHANGE
    ]


def _contradictions(tuning: Tuning) -> list[Problem]:
    return [
        Problem(
            "stop",
            " and ".join(found.readings),
            "these say {first} and {second} of one and the same; at most {allowed} apart could both be right",
            "measure both again",
            {"first": found.first, "second": found.second, "allowed": found.allowed},
        )
        for found in tuning.contradictions
    ]


def _mistyped(tuning: Tuning) -> list[Problem]:
    changes = {"gap": tuning.gap_change, "spacer": tuning.spacer_change, "height": tuning.height_change or 0.0}
    return [
        Problem(
            "warning",
            name,
            f"{_WHAT[name]} would change by {{change}}, more than {{most}}: was every reading typed right?",
            "look at the readings again before anything is planed",
            {"change": abs(change), "most": MOST_CHANGE},
        )
        for name, change in changes.items()
        if abs(change) > MOST_CHANGE
    ]


def _shim_without_room(tuning: Tuning, readings: Readings, mount: Mount) -> list[Problem]:
    shim = -tuning.gap_change
    if mount != "fixed plate" or shim <= 0 or "gap" in tuning.refused:
        return []
    needed = slack_needed(shim)
    if readings.slack is None:
        return [
            Problem(
                "warning",
                "slack",
                "a shim of {shim} on the near face takes as much of the slack, which was not read",
                "read the slack; it must be {needed} or more",
                {"shim": shim, "needed": needed},
            )
        ]
    if readings.slack < needed:
        return [
            Problem(
                "warning",
                "slack",
                "a shim of {shim} needs a slack of {needed}; there is {slack}",
                "plane the far face of the key first, as the steps say",
                {"shim": shim, "needed": needed, "slack": readings.slack},
            )
        ]
    return []


def _unknown_tightness(tuning: Tuning) -> list[Problem]:
    if not tuning.tight:
        return []
    return [
        Problem(
            "warning",
            "play",
            "a joint that shows no play is tight by an amount that play can't tell",
            "measure finger and socket instead",
        )
    ]


def _coarse(readings: Readings) -> list[Problem]:
    if readings.error <= RULER:
        return []
    return [
        Problem(
            "warning",
            "error",
            "readings good to {error} can't set a joint whose clearance is about {usual}",
            "callipers or a feeler, good to {most} or better",
            {"error": readings.error, "usual": 0.1, "most": 0.02},
        )
    ]


def _refused(tuning: Tuning) -> list[Problem]:
    estimates = {"gap": tuning.gap, "spacer": tuning.spacer_step, "height": tuning.height}
    found = []
    for name in tuning.refused:
        estimate = estimates[name]
        assert estimate is not None, "a change that was not worked out is not refused"
        if not (estimate.value or estimate.error.worst):
            continue  # nothing was read of it
        found.append(
            Problem(
                "note",
                name,
                f"{_WHAT[name]} is left alone: a change of {{change}} lies inside the measuring error of {{error}}",
                "nothing to do",
                {"change": estimate.value, "error": estimate.error.worst},
            )
        )
    return found


def report(tuning: Tuning, said: Sequence[Wording], wanted: float, units: Units) -> str:
    """Return what was read, what is good where a clearance of `wanted` mm is, what to do in order, what to expect."""
    show = lengths.show
    rows = [f"The joint has a clearance of {show(tuning.clearance.value, units)}"]
    if tuning.flush is not None:
        rows[0] += f" and its bottom edges are {show(tuning.flush.value, units)} out"
    rows[0] += "."
    least, most = (show(limit, units) for limit in good_clearance(wanted))
    rows.append(f"Good is a clearance of {least} to {most}, and edges {most} out at most.")
    rows += [f"{i}. {_sentence(words.read_out(units))}" for i, words in enumerate(said, start=1)]
    if not said:
        rows.append("Leave it as it is.")
    error = show(tuning.clearance.error.worst, units)
    rows.append(f"Then expect a clearance of {show(tuning.clearance_expected, units)}, give or take {error}.")
    return "\n".join(rows)


def _sentence(words: str) -> str:
    return words[0].upper() + words[1:] + "."


def as_data(tuning: Tuning, said: Sequence[Wording], units: Units) -> dict[str, Any]:
    """Return the numbers by the names of the JSON report: lengths in mm, + away from the cutter, thicker, up."""
    return {
        "gap_change": tuning.gap_change,
        "spacer_change": tuning.spacer_change,
        "height_change": tuning.height_change,
        "clearance_now": tuning.clearance.value,
        "clearance_expected": tuning.clearance_expected,
        "clearance_uncertainty": tuning.clearance.error.worst,
        "flush_now": tuning.flush.value if tuning.flush else None,
        "flush_expected": tuning.flush_expected,
        "steps": [words.read_out(units) for words in said],
        "refused": list(tuning.refused),
    }
