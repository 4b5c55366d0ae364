"""The set-ups of a box as a maker goes through them: which settings belong to each, and how it stands with it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from functools import cached_property
from typing import Literal

from jigs.base.rules import Problem, to_tell
from jigs.base.settings import keys_of
from jigs.base.wording import Wording, on_paper
from jigs.box import effects, new, rack
from jigs.box.chain import Box
from jigs.boxfile.reading import model_at
from jigs.boxfile.sections import BoxFile
from jigs.record import Record

State = Literal["fine", "choice", "get", "warning", "danger", "error", "waits", "none"]
"""How it stands with a set-up: the worst that is to be said of it; `none` where the box has no such part."""
_WORSE: Sequence[State] = ("none", "fine", "choice", "get", "warning", "danger", "error")
_STATES: Mapping[str, State] = {
    "CHOOSE": "choice",
    "GET": "get",
    "WARNING": "warning",
    "DANGER": "danger",
    "Error": "error",
}


class SetUp(Record):
    """A set-up by its name, what it is in a line, the sections it is made from, and its pages by family or name.

    The `parts` are those of its sections that a box can do without; a set-up of which none is there is not made.
    """

    name: str
    title: str
    about: str
    sections: tuple[str, ...]
    pages: tuple[str, ...]
    parts: tuple[str, ...] = ()


SET_UPS = (
    SetUp("wood", "Wood", "The box, and the boards it is sawn from.", ("", "box", "sides", "stock", "climate"),
          ("stock",)),
    SetUp("sled", "Sled", "The joint, and the sled that cuts it. Set and prove it on scrap before any board is cut.",
          ("joint", "cutters"), ("sled",)),
    SetUp("groove", "Groove", "The groove that holds the bottom, and must not show.", ("groove",), ("stops",),
          ("groove",)),
    SetUp("bottom", "Bottom", "The bottom, which moves with the seasons unless it is plywood.", ("bottom",), ("panel",),
          ("bottom",)),
    SetUp("shell", "Shell", "What is carved on the front while its board is flat.", ("shell", "pattern"),
          ("shell", "pattern"), ("shell", "pattern")),
    SetUp("lid", "Lid", "The lid, with a plug that drops into the box.", ("lid",), ("lid",), ("lid",)),
    SetUp("handle", "Handle", "The handle, cut with a hole saw.", ("handle",), ("handle",), ("handle",)),
    SetUp("glue", "Glue, finish", "Gluing up, and how long all the work takes.", ("hours",), ("glue", "finish")),
    SetUp("print", "Print", "The pages, and what they are printed on.", ("print",), ("cover", "readings")),
)  # fmt: skip
"""In the order of work. A section that none of them names belongs to the last but one."""
_BY_SECTION = {section: one for one in SET_UPS for section in one.sections}


def found(name: str) -> SetUp:
    """Return the set-up of a name, the first of all where there is no such one."""
    return next((one for one in SET_UPS if one.name == name), SET_UPS[0])


def of_section(section: str) -> SetUp:
    """Return the set-up that a section of the box file belongs to; a single key stands in the section ''."""
    key = keys_of(BoxFile).get(section)
    return _BY_SECTION.get("" if key and key.kind else section, SET_UPS[-2])


def sections_of(one: SetUp) -> list[str]:
    """Return the sections of a set-up, those that no set-up names among them."""
    named = [name for name, key in keys_of(BoxFile).items() if key.section and of_section(name) is one]
    return sorted({*one.sections, *named}, key=lambda name: _place(one, name))


def _place(one: SetUp, section: str) -> int:
    return one.sections.index(section) if section in one.sections else len(one.sections)


def without_meaning(file: BoxFile) -> frozenset[str]:
    """Return the keys that say nothing of a box, as what they are about is not in it."""
    of_two = file.handle is not None and file.handle.holes == 2
    middle = ("handle.middle", "handle.middle_saw", "handle.middle_height") if of_two else ()
    return frozenset((*new.without_meaning(file), *middle))


def problems_of(box: Box) -> dict[str, list[Problem]]:
    """Return what must be known of each set-up before cutting, by its name, the worst first."""
    told: dict[str, list[Problem]] = {one.name: [] for one in SET_UPS}
    for problem in to_tell([*box.problems, *rack.trials_to_get(box)]):
        told[of_section(problem.where.partition(",")[0].partition(".")[0]).name].append(problem)
    return told


def _state(one: SetUp, box: Box, told: Sequence[Problem]) -> State:
    found = [_STATES[problem.sign] for problem in told]
    worst: State = max(found, key=_WORSE.index) if found else "fine"
    if worst == "error":
        return worst
    asked = [part for part in one.parts if getattr(box.file, part) is not None]
    if one.parts and not asked:
        return "none"
    if any(getattr(box, part) is None for part in asked) or (one.name in ("glue", "print") and box.stopped):
        return "waits"
    return worst


class Look(Record, dict=True):
    """A box as a maker goes through it: what stops it, how it stands with each set-up, and what its settings do."""

    box: Box

    @cached_property
    def problems(self) -> dict[str, list[Problem]]:
        """What must be known of each set-up before cutting, by its name."""
        return problems_of(self.box)

    @cached_property
    def states(self) -> dict[str, State]:
        """How it stands with each set-up, by its name."""
        return {one.name: _state(one, self.box, self.problems[one.name]) for one in SET_UPS}

    @cached_property
    def effects(self) -> dict[str, str]:
        """What each setting does, in words, by its key."""
        return effects.effects(self.box)

    @property
    def verdict(self) -> str:
        """Whether it can be built, in a few words."""
        stops = sum(problem.severity == "stop" for problem in self.box.problems)
        if not stops:
            return "Can be built."
        return f"Can’t be built yet: {stops} error{'s' if stops > 1 else ''}."

    @property
    def sizes(self) -> str:
        """Its wood, and how large it is outside and inside, in words."""
        box, units = self.box, self.box.file.units
        words = "Outside {length:cut} × {width:cut} × {high:gauge}, inside {long:cut} × {wide:cut}"
        if box.depth is not None:
            words += " × {deep:cut down}" + (" under the lid" if box.depth_under_plug is not None else "")
        numbers = {"length": box.file.box.length, "width": box.file.box.width, "high": box.height, "deep": box.depth}
        said = Wording(words, numbers | dict(zip(("long", "wide"), box.inside, strict=True))).read_out(units, on_paper)
        wood = box.file.sides.species
        return f"{wood[:1].upper()}{wood[1:]}. {said}." if wood else f"{said}."

    @property
    def waits_for(self) -> int:
        """The number of the first set-up with an error, which others wait for; 0 where there is none."""
        return next((number for number, one in enumerate(SET_UPS, start=1) if self.states[one.name] == "error"), 0)

    def used(self, section: str, key: str) -> object:
        """Return what the box has for a key that its file leaves out, as it is written in a file; empty for nothing."""
        value = new.used(self.box, section, key)
        model = model_at((section,)) if section else BoxFile
        return "" if value is None or model is None else new.shown(value, model, key, self.box.file.units).strip('"')
