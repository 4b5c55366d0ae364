"""The joint of a box or a sled: its test joint, what was measured of it, and what to do."""

from __future__ import annotations

from typing import TYPE_CHECKING

from jigs.base import catalogue
from jigs.base.cards import Reading, Sheets
from jigs.base.drawing import View
from jigs.base.errors import CannotBuild, CannotRead, WrongReadings, said_in
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.report import Report
from jigs.base.rules import as_sentence
from jigs.base.wording import Words, read_out, say
from jigs.boxfile.jig_file import JigSettings
from jigs.record import Record, replace
from layout.make.drawing import draw, head_of_box, made_from
from layout.make.jobs import Job, chosen_of
from layout.make.printing import USUAL, Made, Printing, on_its_paper
from layout.make.reports import plan_of

with lazily():
    from jigs.parts.joint import fit_scales as joint_scales
    from jigs.parts.joint import reading_pictures as joint_readings
    from jigs.parts.joint import remedy_pictures as joint_remedies
    from jigs.parts.joint import settings as joint_settings
    from jigs.parts.joint import sled as joint_sled
    from jigs.parts.joint import steps_card as joint_steps
    from jigs.parts.joint import trial_joint as joint_trial
    from jigs.parts.joint import tuned_sled, tuning
    from jigs.trade import tune as trade_tune
    from layout.pages import picture as pages_picture
    from layout.pages import voice as pages_voice
    from layout.write import svg

if TYPE_CHECKING:
    from jigs.parts.joint.made import Sled


def _joint(job: Job) -> tuned_sled.Drawn:
    """Return the joint as the sheets of a box or of a sled have it. Raises CannotRead for a jig that cuts none."""
    if not isinstance(job, JigSettings):
        return tuned_sled.of_box(job)
    if job.jig != "sled":
        raise CannotRead(f"the jig '{job.jig}' cuts no finger joint")
    return tuned_sled.of_sled(chosen_of(catalogue.find("sled"), job), job.units)


def in_short(found: Job) -> str:
    """Return the fingers of a job and the width of its sides, in a few words; none for a jig that cuts no joint."""
    if isinstance(found, JigSettings) and found.jig != "sled":
        return ""
    with said_in(found.units):
        try:
            made = _joint(found).numbers
        except CannotBuild:
            return "it can’t be built"
        words = say("{count}, boards {width:gauge} wide", count=joint_settings.counted(made.count), width=made.width)
        return read_out(words, found.units)


def joint_sheet(job: Job, printing: Printing = USUAL) -> Made:
    """Draw the card that sets the sled of a box or a sled, with boxes for the readings of its test joint.

    It is the card of its pack, by the same number. Raises as `draw` does.
    """
    with said_in(job.units):
        _joint(job)  # what stops it is said by the keys of its file
        return draw(job, ("set-sled",), printing)


class Tuned(Record):
    """What comes of a measured test joint: its report, what is wrong in a few words, and what to do in order.

    `steps` are sentences and `in_short` a few words of each remedy, in the units of the job. Where the report is
    stopped there is nothing to do. With a joint that is `good` boards may be cut as it is.
    """

    report: Report
    headline: str
    good: bool
    remedies: tuple[trade_tune.Remedy, ...]
    steps: tuple[str, ...]
    in_short: tuple[str, ...]
    scales: tuple[joint_scales.Scale, ...]
    pivot: trade_tune.Pivot | None = None


def tune(
    job: Job,
    readings: trade_tune.Readings,
    mount: trade_tune.Mount = "clamped plate",
    to_key: float | None = None,
    to_nudge: float | None = None,
) -> Report:
    """Return what to move, shim or plane after a measured test joint of a box or a sled, and whether its sheets hold.

    `to_key` and `to_nudge` are from the pivot of a sled that is nudged. A report that is stopped has no text: nothing
    is planed by such readings. Raises WrongReadings for those that can't be, CannotBuild where a rule stops the joint.
    """
    return tuned(job, readings, mount, to_key, to_nudge).report


def tuned(
    job: Job,
    readings: trade_tune.Readings,
    mount: trade_tune.Mount = "clamped plate",
    to_key: float | None = None,
    to_nudge: float | None = None,
) -> Tuned:
    """Return all that comes of a measured test joint. Takes and raises what `tune` does."""
    with said_in(job.units):
        drawn = _joint(job)
        turns = None if to_key is None or to_nudge is None else trade_tune.Pivot(to_key, to_nudge)
        try:
            found = trade_tune.tune(readings, drawn.wanted)
            remedies = trade_tune.remedies(found, readings, mount, wanted=drawn.wanted, pivot=turns)
        except ValueError as error:
            raise WrongReadings(str(error)) from error
    compared, units = tuned_sled.compare(found, readings, drawn), job.units
    problems = tuning.problems(found, readings, mount, compared)
    steps = tuning.steps(remedies, readings, units)
    stopped = any(problem.severity == "stop" for problem in problems)
    said = {"problems": [problem.as_data(units) for problem in problems]}
    report = Report(
        units,
        problems,
        lambda: tuning.as_data(found, compared, steps, stopped) | said,
        lambda: "" if stopped else tuning.report(found, compared, steps, units),
    )
    scales = tuple(joint_scales.scales(found, compared, units, stopped=stopped))
    verdict = tuning.verdict_on(found, compared)
    headline = tuning.headline(verdict, len(steps), stopped=stopped)
    if stopped:
        return Tuned(report, headline, False, (), (), (), scales)
    short = tuple(tuning.in_short(remedy, units) for remedy in remedies)
    good = verdict == tuning.GOOD
    return Tuned(report, headline, good, remedies, tuple(map(as_sentence, steps)), short, scales, turns)


class Picture(Record):
    """A picture as SVG, and in words what in it is drawn too large; empty where all is true."""

    svg: bytes
    drawn: str = ""


def readings_of(job: Job) -> tuple[Reading, ...]:
    """Return what is read of the test joint, A to F, with what is wanted, in mm. Raises as `tune`."""
    with said_in(job.units):
        made = _sled(job)
    return joint_trial.readings(made.meant, made.proud)


def reading_pictures(job: Job) -> dict[str, Picture]:
    """Return where callipers go on the test joint, a picture for each reading by its name. Raises as `tune`."""
    with said_in(job.units):
        found = joint_readings.pictures(_sled(job), _woods_of_joint(job))
    return {one.name: _pictured(one.view, job.units, one.drawn, _READING_SIZE) for one in found}


def remedy_pictures(job: Job, found: Tuned) -> list[Picture]:
    """Return what to move and which way, a picture for each step of a tuned joint. Raises as `tune`."""
    with said_in(job.units):
        drawn = joint_remedies.pictures(found.remedies, _sled(job), _woods_of_joint(job), found.pivot)
    return [_pictured(one.view, job.units, one.drawn, _REMEDY_SIZE) for one in drawn]


def steps_sheet(job: Job, found: Tuned, number: int, printing: Printing = USUAL) -> Made:
    """Draw the card of what to do after the test joint of this number, with its pictures. Raises as `draw` does."""
    with said_in(job.units):
        made = _sled(job)
        pictures = joint_remedies.pictures(found.remedies, made, joint_readings.Woods(), found.pivot)
        said = [*found.report.text.splitlines()[:2], *found.report.text.splitlines()[2 + len(found.steps) :]]
        card = joint_steps.card(made, pictures, found.steps, said, number)
        printing = printing if isinstance(job, JigSettings) else on_its_paper(job, printing)
        head = plan_of(job).head() if isinstance(job, JigSettings) else head_of_box(job)
        return made_from(
            found.report, replace(head, prefix=f"{head.prefix}-joint-{number}"), Sheets((card,)), (), printing
        )


_READING_SIZE, _REMEDY_SIZE = 62.0, 76.0
"""How large pictures are that stand beside fields and steps of a page in a browser, mm: so their words can be read."""


def _sled(job: Job) -> Sled:
    return joint_sled.made(_joint(job).asked, job.units)


def _woods_of_joint(job: Job) -> joint_readings.Woods:
    """Return what front and end boards are made of, where the job says so."""
    if isinstance(job, JigSettings):
        return joint_readings.Woods()
    return joint_readings.Woods(job.sides.species, job.sides.ends_species or job.sides.species)


def _pictured(view: View, units: Units, drawn: Words, size: float) -> Picture:
    voice = pages_voice.Voice(units)
    made = pages_picture.alone(view, (), voice, view.name, size)
    return Picture(svg.write(made, voice.said(view.title)), read_out(drawn, units))
