"""What is worked out of a job, refused or not."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from jigs.base import catalogue
from jigs.base.catalogue import Jig, Plan
from jigs.base.errors import CannotBuild, said_in
from jigs.base.kinds import Value
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.report import Report
from jigs.base.rules import Problem
from jigs.base.wording import read_out
from jigs.boxfile.jig_file import JigSettings
from jigs.record import Record, replace
from layout.make.jobs import Job, chosen_of
from layout.make.printing import USUAL, on_its_paper

with lazily():
    from jigs.box import anew, chain, effects, set_ups, shopping
    from jigs.box import details as box_details
    from jigs.box import hours as box_hours
    from jigs.box import report as box_report
    from jigs.boxfile import sections
    from layout.carry import embedded, short_form
    from layout.pages import compose as pages_compose
    from layout.pages import job as pages_job
    from layout.pages import listing as pages_listing
    from layout.pages import voice as pages_voice
    from layout.sheet import carried as sheet_carried


class Planned(Record):
    """A jig with its settings, those that were chosen and all of them, and the plan of these."""

    jig: Jig
    units: Units
    chosen: Mapping[str, Value]
    settings: Mapping[str, Value]
    plan: Plan

    def report(self) -> Report:
        """Return what was worked out of it."""
        numbers = {"settings": self.settings, "numbers": self.plan.numbers}
        return _of_jig(self.jig, self.chosen, self.units, self.plan.problems, numbers)

    def head(self) -> pages_job.Job:
        """Return what all its sheets say."""
        return pages_job.Job(
            prefix=self.jig.name,
            title=read_out(self.plan.title, self.units),
            settings=_settings_line(self.jig, self.chosen, self.units),
            units=self.units,
            revision=sheet_carried.revision_mark(self.jig.name, self.settings),
            codes=short_form.of_jig(self.jig, self.settings, self.units),
            carried=embedded.of_jig(self.jig.name, self.chosen, self.settings, self.units),
        )


def plan_of(settings: JigSettings) -> Planned:
    """Return a jig worked out with some settings. Raises CannotRead where one is missing, CannotBuild for a stop."""
    known, units = catalogue.find(settings.jig), settings.units
    chosen = chosen_of(known, settings)
    return Planned(known, units, chosen, known.settings(chosen, units), known.plan(chosen, units))


def _settings_line(known: Jig, chosen: Mapping[str, Value], units: Units) -> str:
    """Return the settings that were chosen, in words, for the title block."""
    said = []
    for parameter in known.parameters:
        value = chosen.get(parameter.name)
        if value is not None:
            shown = parameter.kind.shown(value, units)
            said.append(parameter.spoken if value is True else f"{parameter.spoken} {shown}")
    return "; ".join(said)


def _of_jig(
    known: Jig, chosen: Mapping[str, Value], units: Units, problems: Sequence[Problem], numbers: Mapping[str, object]
) -> Report:
    said = {"problems": [problem.as_data(units) for problem in problems]}

    def words() -> str:
        return box_report.of_jig(known.title, _settings_line(known, chosen, units), problems, units)

    return Report(units, tuple(problems), lambda: {**numbers, **said}, words)


def of_box(worked: chain.Box, before: sections.BoxFile | None = None, *, everything: bool = False) -> Report:
    """Return the report of a box that was worked out; `before` and `everything` are those of `check`."""

    def words() -> str:
        said = [box_report.check(worked)]
        if before and not worked.stopped:
            was = chain.work_out(before)
            said = [box_report.changed(worked), anew.told(was, worked), box_details.changes(was, worked)]
        if everything:
            said.append(box_details.details(worked))
        return "\n\n".join(said)

    def numbers() -> dict[str, object]:
        data = chain.as_data(worked)
        stock = data["stock"] and data["stock"] | shopping.as_data(worked)
        return data | {"stock": stock, "hours": box_hours.as_data(worked)}

    return Report(worked.file.units, worked.problems, numbers, words)


def check(
    job: Job, before: sections.BoxFile | None = None, notes: Sequence[Problem] = (), *, everything: bool = False
) -> Report:
    """Return what is worked out of a job, refused or not: the report says what stops it.

    With `before` its text is what of a box differs from that one; with `everything` it ends with every number of it.
    `notes` are said with the problems. Raises CannotRead for a paper that there is not, and for settings that the jig
    has no more.
    """
    with said_in(job.units):
        if not isinstance(job, JigSettings):
            on_its_paper(job, USUAL)
            worked = chain.work_out(job)
            return of_box(replace(worked, problems=(*worked.problems, *notes)), before, everything=everything)
        try:
            return plan_of(job).report()
        except CannotBuild as refused:
            known = catalogue.find(job.jig)
            chosen = chosen_of(known, job)
            return _of_jig(known, chosen, job.units, refused.problems, {"settings": chosen, "numbers": None})


def look(file: sections.BoxFile) -> set_ups.Look:
    """Return a box as a maker goes through it, set-up by set-up, refused or not."""
    with said_in(file.units):
        return set_ups.Look(chain.work_out(file))


def moved(before: set_ups.Look, after: set_ups.Look) -> list[effects.Moved]:
    """Return what moved from one box to another, in words: what was changed, then the numbers that follow."""
    return effects.moved(before.box, after.box)


class JigLook(Record):
    """A jig as a form shows it: what must be known of it, what its cards say in rows, and whether it has templates.

    Where a rule stops it there are no rows.
    """

    problems: tuple[Problem, ...]
    listings: tuple[pages_listing.Listing, ...] = ()
    has_templates: bool = False


def look_at_jig(settings: JigSettings) -> JigLook:
    """Return a jig worked out once, refused or not. Raises CannotRead where something is missing that it needs."""
    with said_in(settings.units):
        try:
            plan = plan_of(settings).plan
        except CannotBuild as refused:
            return JigLook(tuple(refused.problems))
    cards = plan.sheets.cards
    numbers = {name: number for name, number in pages_compose.numbered(cards).items() if isinstance(number, int)}
    listings = tuple(pages_listing.listings(cards, pages_voice.Voice(settings.units, numbers)))
    return JigLook(plan.problems, listings, bool(plan.sheets.templates))


def page_names(settings: JigSettings) -> tuple[str, ...]:
    """Return the names of the cards and templates of a jig, as `draw` takes them. Raises CannotBuild for a stop."""
    with said_in(settings.units):
        return tuple(plan_of(settings).plan.sheets.names())
