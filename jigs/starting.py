"""Questions for a new box file: the fewest that make a box, each with the effect of its answer."""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass

from jigs import box, box_changes, boxfile, new_box
from jigs.box import Box
from jigs.errors import CannotBuild, CannotRead
from jigs.lengths import Units, show
from jigs.wording import say


@dataclass(frozen=True, slots=True)
class Question:
    """One thing to ask: the key that it settles, the words, and what its answer makes of the box."""

    key: str
    words: str
    effect: Callable[[Box], str]

    @property
    def section(self) -> str:
        """The section of the box file that the key stands in."""
        return self.key.split(".")[0]


def _inside(worked: Box) -> str:
    across, up = (show(size, worked.file.units) for size in worked.inside)
    return f"inside {across} by {up}"


def _fingers(worked: Box) -> str:
    made = worked.numbers
    if made is None:
        return ""
    words = say(
        "{count} fingers and sockets; rip the boards to {width}; gap {gap}, spacer {spacer}",
        count=str(made.count),
        width=made.width,
        gap=made.gap,
        spacer=made.short_spacer,
    )
    return words.read_out(worked.file.units)


def _groove(worked: Box) -> str:
    made, units = worked.groove, worked.file.units
    if made is None:
        return ""
    stopped = " and ".join(made.stopped_kinds)
    where = f"the {stopped} are stopped" if stopped else "it runs through everywhere"
    up, fence = show(made.from_bottom, units), show(made.fence, units)
    return f"{up} from the bottom edge; {where}; fence {fence} from the middle of the bit"


def _bottom(worked: Box) -> str:
    made, units = worked.bottom, worked.file.units
    return f"panel {show(made.length, units)} by {show(made.seasons.width, units)} in your shop's air" if made else ""


def _lid(worked: Box) -> str:
    made, units = worked.lid, worked.file.units
    return f"lid {show(made.length, units)} by {show(made.width, units)}, edge {show(made.edge, units)}" if made else ""


def _handle(worked: Box) -> str:
    made, units = worked.handle, worked.file.units
    if made is None:
        return ""
    return f"blank {show(made.blank_length, units)} long; least wood {show(made.holes.least_wood, units)}"


def _shell(worked: Box) -> str:
    made = worked.shell
    return f"chips {show(made.chip_depth, worked.file.units)} deep" if made else ""


QUESTIONS = (
    Question("title", "What is the box called?", lambda _: ""),
    Question("box.length", "How long is it outside, along the front?", _inside),
    Question("box.width", "How wide outside, front to back?", _inside),
    Question("sides.thickness", "How thick are the sides, the thickest reading?", _inside),
    Question("sides.species", "Of which wood?", lambda _: ""),
    Question("box.height", "How wide are the boards you have for the sides?", _fingers),
    Question("joint.finger", "How wide is a finger?", _fingers),
    Question("joint.cutter", "How wide a socket does your cutter make, measured in wood?", _fingers),
    Question("groove.cutter", "How wide is the cutter for the groove of the bottom?", _groove),
    Question("bottom.thickness", "How thick is the bottom?", _bottom),
    Question("lid.thickness", "How thick is the lid?", _lid),
    Question("handle.saw", "Which hole does your hole saw really cut?", _handle),
    Question("shell.width", "How wide is the carved fan shell?", _shell),
)
"""In the order in which a maker knows the answers. What a box can do without is asked for last."""

OPTIONAL = {"groove": "a bottom in a groove", "lid": "a lid", "handle": "a handle", "shell": "a carved fan shell"}
"""Sections that a box can do without, in words. Without a groove there is no bottom."""
_FINGER, _CUTTER = "joint.finger", "joint.cutter"
"""The cutter that is meant for a finger is as wide, until it has been measured."""
_ANSWERS = "the answers"
_WITH = {"groove": ("groove", "bottom")}
_WORKED_OUT = {
    "groove": ("depth", "from_bottom", "end_wood"),
    "bottom": ("tongue", "clearance"),
    "lid": ("plug", "overhang", "crown"),
    "handle": ("length", "height", "thickness", "foot", "neck", "crest"),
}


def first_text(units: Units) -> str:
    """Return the text to ask questions about: nothing is set that the answers decide.

    What depends on an answer is commented out, so that it is worked out.
    """
    text = new_box.starting_text(units)
    for section, keys in _WORKED_OUT.items():
        text = box_changes.left_to_work_out(text, section, keys)
    return text


def without(text: str, part: str) -> str:
    """Return the text without a part of the box."""
    for section in _WITH.get(part, (part,)):
        text = box_changes.without_section(text, section)
    return text


def answered(text: str, question: Question, answer: str, units: Units) -> tuple[str, str]:
    """Return the text with an answer, and what it makes of the box.

    Raises CannotRead for an answer that can't be read, CannotBuild where it can't be built.
    """
    value = _literal(question, answer)
    goes_with = {_FINGER: _CUTTER}.get(question.key)
    changed = box_changes.set_values(text, {question.key: value} | ({goes_with: value} if goes_with else {}))
    try:
        worked = box.work_out(boxfile.read(changed, _ANSWERS))
    except CannotRead as error:
        raise CannotRead(re.sub(rf"^{_ANSWERS}, line \d+: [\w.]+: ", "", str(error))) from None
    stops = [p for p in worked.problems if p.severity == "stop" and p.where.split(".")[0] == question.section]
    if stops and question.effect(worked) == "":
        refused = CannotBuild(stops)
        refused.units = units
        raise refused
    return changed, question.effect(worked)


def _literal(question: Question, answer: str) -> str | float:
    """Return an answer as the file is to hold it: a plain number as a number, anything else as words."""
    if question.key in ("title", "sides.species"):
        return answer
    try:
        return float(answer) if "." in answer else int(answer)
    except ValueError:
        return answer


def standing_answer(text: str, question: Question) -> str:
    """Return what the text holds for a question now."""
    value = box_changes.value_at(text, question.key)
    return str(value)
