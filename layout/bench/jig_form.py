"""One jig as a maker changes it: its settings as they are now, all those before, and what was typed and refused."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cache
from typing import TYPE_CHECKING, Any

from jigs.base import catalogue
from jigs.base.catalogue import Jig
from jigs.base.errors import CannotBuild, CannotRead, JigleafError
from jigs.base.lengths import Units
from jigs.base.rules import Problem, as_sentence, stop, to_tell
from jigs.boxfile.jig_file import JigSettings
from jigs.record import Record, replace
from layout import catalogue as book
from layout import make
from layout.bench import fields
from layout.bench.fields import Field, Told
from layout.bench.state import Refused

if TYPE_CHECKING:
    from jigs.boxfile.sections import BoxFile
    from layout.bench.kept import Kept
    from layout.pages.listing import Listing

UNITS = "units"
"""What a form calls the choice of units, which is no setting of a jig."""


_KEPT_LOOKS = 4


@dataclass
class JigForm:
    """A jig on the bench. `told` is said above its page until something else is done."""

    known: Jig
    past: list[JigSettings]
    at: int = 0
    refused: dict[str, Refused] = field(default_factory=dict)
    told: str = ""
    begun: str = ""
    """The text of the box that it began with; empty where it began with the example."""
    _looks: dict[str, make.JigLook] = field(default_factory=dict, repr=False)

    @classmethod
    def of(cls, known: Jig) -> JigForm:
        """Return the form of a jig as its example has it, so that it is a real one at once."""
        return cls(known, [JigSettings(known.name, "mm", book.example_settings(known) if known.example else {})])

    @classmethod
    def for_box(cls, known: Jig, file: BoxFile) -> JigForm:
        """Return the form of a jig with the sizes of a box, and as its example has it where the box gives none."""
        form = cls.of(known)
        if not make.box_gives(known.name, file):
            return form
        job = from_box(form.job, file)
        found = form.look_at(job).problems if job != form.job else ()
        return form if any(one.severity == "stop" for one in found) else cls(known, [job], begun=file.source)

    @property
    def job(self) -> JigSettings:
        """The settings as they are now."""
        return self.past[self.at]

    @property
    def before(self) -> JigSettings:
        """The settings before the last change."""
        return self.past[max(self.at - 1, 0)]

    @property
    def can_undo(self) -> bool:
        """Whether there are settings before these."""
        return self.at > 0

    @property
    def can_redo(self) -> bool:
        """Whether settings were left by undoing."""
        return self.at + 1 < len(self.past)

    def look_at(self, job: JigSettings) -> make.JigLook:
        """Return the jig worked out from some settings; a few are kept. Raises as `make.look_at_jig` does."""
        key = repr(job)
        found = self._looks.pop(key, None) or make.look_at_jig(job)
        self._looks[key] = found
        while len(self._looks) > _KEPT_LOOKS:
            self._looks.pop(next(iter(self._looks)))
        return found

    # -- what is done to it

    def type(self, typed: Mapping[str, str]) -> None:
        """Take what was typed for some settings; what can't be kept is shown with its reason and changes nothing."""
        job, self.told = self.job, ""
        for name, words in typed.items():
            self.refused.pop(name, None)
            try:
                job = self._with(job, name, words)
            except JigleafError as error:
                self.refused[name] = Refused(words, _problem(error, name))
        self.become(job)

    def _with(self, job: JigSettings, name: str, words: str) -> JigSettings:
        if name != UNITS:
            return make.edited_jig(job, {name: words})
        units: Units = "in" if words == "in" else "mm"
        try:
            return make.jig_in(job, units)
        except JigleafError:  # of what can't be worked out the lengths stay as they are
            return replace(job, units=units)

    def become(self, job: JigSettings) -> None:
        """Take other settings; those before can be undone to."""
        if job != self.job:
            del self.past[self.at + 1 :]
            self.past.append(job)
            self.at += 1

    def start_again(self) -> None:
        """Take the settings of the example again; those before can be undone to."""
        self.refused.clear()
        self.told = ""
        self.become(JigForm.of(self.known).job)

    def take(self, file: BoxFile) -> str:
        """Take the sizes of a box; those before can be undone to. Return what is to be said of it."""
        self.refused.clear()
        self.told = ""
        before = self.job
        self.become(from_box(self.job, file))
        return "" if self.job != before else "These are the sizes of your box already."

    def go(self, steps: int) -> None:
        """Go back or on among the settings that there were, as far as there are any."""
        self.at = min(max(self.at + steps, 0), len(self.past) - 1)
        self.refused.clear()
        self.told = ""


def from_box(job: JigSettings, file: BoxFile) -> JigSettings:
    """Return settings with those that a box gives, in the units of the box."""
    with suppress(JigleafError):  # what can't be worked out stays in its units
        job = make.jig_in(job, file.units)
    return make.jig_from_box(job, file)


def on(beside: dict[str, Any], known: Jig, file: BoxFile | None = None) -> JigForm:
    """Return the form of a jig among what a bench keeps, a new one where it was not used yet.

    With a `file` a new one begins with the sizes of that box, and one in which nothing was changed follows it.
    """
    forms: dict[str, JigForm] = beside.setdefault("jigs", {})
    there = forms.get(known.name)
    follows = there is not None and file is not None and len(there.past) == 1 and there.begun not in ("", file.source)
    if there is None or follows:
        forms[known.name] = JigForm.for_box(known, file) if file else JigForm.of(known)
    return forms[known.name]


def opened(beside: dict[str, Any], job: JigSettings, name: str) -> None:
    """Take the settings that a sheet or a jig file holds; those before can be undone to.

    Raises CannotRead for settings that are none of the jig's.
    """
    known = catalogue.find(job.jig)
    given = {key: value for key, value in job.chosen(known).items() if value is not None and value is not False}
    form = on(beside, known)
    form.refused.clear()
    form.become(JigSettings(known.name, job.units, given))
    form.told = f"Opened {name}. Undo takes you back to the settings before."


_COPY = "jigs"


def keep(beside: dict[str, Any], kept: Kept) -> None:
    """Keep a copy of the settings that were changed beside that of the box, each as a jig file. Raises MachineFault."""
    forms: dict[str, JigForm] = beside.get("jigs", {})
    changed = {name: form.job for name, form in forms.items() if form.job != form.past[0]}
    texts = {name: make.file_of_jig(job).content.decode() for name, job in changed.items()}
    kept.keep_beside(_COPY, json.dumps(texts, ensure_ascii=False, indent=1) if texts else "")


def take_up(beside: dict[str, Any], kept: Kept) -> None:
    """Take up the settings that a bench before this one left; what can't be read is left aside."""
    try:
        left = json.loads(kept.kept_beside(_COPY) or "{}")
        jobs = [make.job(text, name) for name, text in left.items()]
    except (ValueError, AttributeError, TypeError, JigleafError):  # cut off in the middle, or by another hand
        return
    for job in jobs:
        if isinstance(job, JigSettings):
            opened(beside, job, "")
            on(beside, catalogue.find(job.jig)).told = "These are your settings of last time. Undo gives the example."


def _problem(error: JigleafError, name: str) -> Problem:
    if isinstance(error, CannotBuild):
        return error.problems[0]
    return stop(name, "{said}", said=as_sentence(str(error).removeprefix(f"{name}: ")))


# -- what it shows -------------------------------------------------------------------------------------------------


class Shown(Record):
    """A jig as its page shows it: verdict, problems of no single setting, fields, and the numbers of its cards."""

    verdict: str
    stopped: bool
    general: tuple[Told, ...]
    common: tuple[Field, ...]
    more: tuple[Field, ...]
    listings: tuple[Listing, ...]
    templates: bool
    """Whether something of it is printed at full size, and can be cut by a machine."""


def shown(form: JigForm, file: BoxFile | None = None) -> Shown:
    """Return what a jig shows, worked out, beside a box where there is one."""
    job = form.job
    look = _look(form, job)
    problems = (*look.problems, *(make.too_large_for_box(job, file) if file else ()))
    stops = sum(problem.severity == "stop" for problem in problems)
    told: dict[str, list[Told]] = {}
    for problem in problems:
        told.setdefault(_where(problem, form.known), []).append(_told(problem, form))
    made = [_field(form, name, told.get(name, ())) for name in _names(form.known)]
    first = _first(form.known)
    return Shown(
        "Can be built." if not stops else f"Can’t be built yet: {stops} error{'s' if stops > 1 else ''}.",
        stops > 0,
        tuple(told.get("", ())),
        tuple(one for one in made if one.key.partition(".")[2] in first),
        tuple(one for one in made if one.key.partition(".")[2] not in first),
        look.listings,
        look.has_templates,
    )


def _look(form: JigForm, job: JigSettings) -> make.JigLook:
    try:
        found = form.look_at(job)
    except CannotRead as error:
        return make.JigLook((stop("", "{said}", said=as_sentence(str(error))),))
    stops = tuple(problem for problem in found.problems if problem.severity == "stop")
    return replace(found, problems=stops or tuple(to_tell(found.problems)))


def moved(form: JigForm) -> list[tuple[str, str, str, bool]]:
    """Return what the last change moved: the name, what it was and is, and whether it was chosen."""
    was, now = (_said(form, job) for job in (form.before, form.job))
    found = [
        (name[1], was.get(name, ("–", False))[0], words, chosen)
        for name, (words, chosen) in now.items()
        if was.get(name, ("–", False))[0] != words
    ]
    said = {name.lower() for name, _, _, chosen in found if chosen}  # a card says the setting again
    return [one for one in found if one[3] or one[0].lower() not in said]


def _said(form: JigForm, job: JigSettings) -> dict[tuple[str, str], tuple[str, bool]]:
    """Return the settings of a jig and what its cards say to set, in words, by what they are called."""
    known, chosen = form.known, job.chosen(form.known)
    said = {
        ("", fields.label_of(_key(known, p.name))): (p.kind.shown(chosen[p.name], job.units), True)
        for p in known.parameters
        if chosen.get(p.name) is not None
    }
    listings = (one for one in _look(form, job).listings if one.headings[0] == "Setting")
    numbers = {(one.card, row[0]): (row[1], False) for one in listings for row in one.rows}
    return said | numbers


@cache
def _section(name: str) -> str:
    """Return what stands before the settings of a jig in a page: the section that they are of in a box, or its name."""
    return make.section_of_jig(name) or name


def _key(known: Jig, name: str) -> str:
    return f"{_section(known.name)}.{name}"


def _names(known: Jig) -> Iterator[str]:
    yield from (parameter.name for parameter in known.parameters)


def _first(known: Jig) -> set[str]:
    """Return the settings that stand first: those that the jig can't do without, and those of its example."""
    shown_in_example = book.example_settings(known) if known.example else {}
    return {p.name for p in known.parameters if p.required} | set(shown_in_example)


def _field(form: JigForm, name: str, told: Iterator[Told] | list[Told] | tuple[Told, ...]) -> Field:
    setting = next(p for p in form.known.parameters if p.name == name)
    job = form.job
    usual = setting.default_in(job.units)
    one = fields.field(
        _key(form.known, name),
        setting.kind,
        job.chosen(form.known).get(name, usual if isinstance(usual, bool | str) else None),
        job.units,
        used=fields.typed(setting.kind, usual, job.units),
        told=tuple(told),
        required=setting.required,
    )
    if name in form.refused:
        refused = form.refused[name]
        said = replace(_told(refused.problem, form), sign="Error")
        one = replace(one, value=refused.typed, told=(said, *one.told), effect="Not in the jig yet")
    return one


def _where(problem: Problem, known: Jig) -> str:
    """Return the setting that a problem is about; empty for none, or for more than one."""
    name = problem.where.replace(" ", "_")
    return name if any(parameter.name == name for parameter in known.parameters) else ""


def _told(problem: Problem, form: JigForm) -> Told:
    """Return a problem in words, with a button for each way out that is of settings of this jig."""
    known, units = form.known, form.job.units
    names = {parameter.name for parameter in known.parameters}

    def keyed(setting: str) -> str:
        name = setting.replace(" ", "_")
        return _key(known, name) if name in names else setting

    ours = problem.renamed(keyed)
    ways = [
        replace(way, label=way.label.replace(" the ", " "))  # a jig calls some of its settings wide and narrow
        for way in fields.ways_of(ours, units)
        if all("." in key for key in way.typed)
    ]
    return fields.told(ours, units, ways)
