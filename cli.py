"""The only part that speaks to a person: commands, messages, exit codes.

Results go to standard output, talk to standard error. What is worked out and drawn comes through the door, `make`.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, Any

import click

from jigs.base.lazily import lazily
from jigs.base.wrapping import WIDTH
from layout.console.options import (
    Decorator,
    as_example,
    as_typed,
    completing,
    flag,
    json_option,
    length_options,
    out_option,
    setting_option,
    short_date,
    typed_changes,
    typed_lengths,
    units_option,
    with_options,
)
from layout.console.terminal import Helped, Speaking, echo, harmless, is_terminal, say, with_progress, wrapped, write
from layout.write import formats as sheet_formats

with lazily():  # so that help comes at once
    import json
    import pathlib
    import shlex
    import webbrowser

    from jigs import record
    from jigs.base import catalogue, disk, errors
    from jigs.base import report as job_report
    from jigs.box import questions
    from jigs.box import sheets as box_sheets
    from jigs.boxfile import change, decoding, jig_file
    from jigs.boxfile import schema as boxfile_schema
    from jigs.course import class_list
    from jigs.trade import tune as trade_tune
    from layout import catalogue as book
    from layout import make
    from layout.bench import run as bench_run
    from layout.carry import embedded, short_form, svg_outline
    from layout.console import pages_words
    from layout.course import run as course_run
    from layout.cut import bed as cut_bed
    from layout.printer import kept as printer_kept
    from layout.printer import print_check
    from layout.sheet import carried as sheet_carried
    from layout.sheet import hand as sheet_hand
    from layout.sheet import paper as papers
    from layout.write import earlier, files

if TYPE_CHECKING:
    from pathlib import Path

    from jigs.base.kinds import Value
    from jigs.base.lengths import Units
    from jigs.base.rules import Problem


_GREETING = """\
A box:    jigleaf start recipe-box.toml
A jig:    jigleaf jig sled --finger 10 --cutter 10.02 --board 90 --thickness 12
A class:  jigleaf class roster.csv --box recipe-box.toml

Every command has --help. All of them: jigleaf --help. All jigs: jigleaf jigs."""


@click.group(
    cls=Speaking,
    invoke_without_command=True,
    context_settings={"max_content_width": WIDTH, "help_option_names": ["-h", "--help"]},
)
@click.version_option(package_name="jigleaf", help="Show the version.")
@click.pass_context
def main(ctx: click.Context) -> None:
    """Work out, dry-fit and print full-size templates for finger-jointed boxes.

    \b
    Example:
      jigleaf jig sled --finger 10 --cutter 10.02 --board 90 --thickness 12
    """
    if ctx.invoked_subcommand is None:
        echo(_GREETING)


# -- words that a shell can complete -------------------------------------------------------------------------------


def _sheets(ctx: click.Context) -> Iterable[str]:
    """Return the sheets of a jig, from its example, or the families of a box's."""
    if not isinstance(ctx.command, JigCommand):
        return box_sheets.FAMILIES
    jig = ctx.command.jig
    given = _command(jig).make_context(jig.name, shlex.split(jig.example)).params
    return make.page_names(make.jig(jig.name, _settings(jig, given), given["units"]))


# -- options that several commands have ----------------------------------------------------------------------------


def _paper(said: str) -> Decorator:
    return click.option("--paper", help=said, shell_complete=completing(lambda ctx: papers.NAMES))


def _of_printers(option: str, said: str) -> Decorator:
    known = completing(lambda ctx: printer_kept.known())
    return click.option(option, metavar="NAME", help=said, shell_complete=known)


def _set(said: str) -> Decorator:
    keys = completing(lambda ctx: (f"{key}=" for key in class_list.keys()))  # noqa: SIM118 - a function, no dict
    return click.option("--set", "changes", multiple=True, metavar="KEY=VALUE", help=said, shell_complete=keys)


_FORMAT = (
    f"May be repeated; dxf and cut-svg are for a laser or a router.  [default: {' and '.join(sheet_formats.USUAL)}]"
)
_ONLY = "Draw only this sheet, or of a box a family such as sled or lid; mockup is a paper model. May be repeated."
_UNDO = _of_printers("--printer", "Correct for this printer's measured error; see jigleaf calibrate.")
_HAND = with_options(
    click.option("--large-print", is_flag=True, help="Print large letters for the bench; this takes more pages."),
    click.option("--thin-ink", is_flag=True, help="Use narrow lines and sparse hatching, and fill nothing in."),
)
_PRINTING = with_options(
    _paper('A4, Letter, ..., both, or "300x400 mm".  [default: A4, or Letter for inches]'),
    click.option("--format", "formats", type=click.Choice(sheet_formats.NAMES), multiple=True, help=_FORMAT),
    click.option("--only", multiple=True, metavar="SHEET", help=_ONLY, shell_complete=completing(_sheets)),
    _UNDO,
    _HAND,
    click.option("--date", default="", callback=short_date, help="Print this date at the bottom of the templates."),
    click.option("--changed", "only_changed", is_flag=True, help="Write only the pages that have changed."),
    click.option("--list", "listed", is_flag=True, help="List the files."),
    click.option("--cut-width", metavar="LENGTH", help="How wide your machine cuts: its kerf.  [default: 0]"),
    click.option("--bed", metavar="SIZE", help="Size of its bed, such as 300x200."),
)
"""How to draw, and what of it."""
_COLOUR = click.option("--colour", is_flag=True, help="Show the woods on a box's cover; --only woods shows them large.")


# -- the catalogue -------------------------------------------------------------------------------------------------


@main.command("jigs")
@json_option("Print every parameter with unit, limits and default.")
@click.option("--pages", metavar="DIR", help="Write a page for each: parameters, sketch, sheets, cautions.")
def list_jigs(as_json: bool, pages: str | None) -> None:
    """List the jigs that can be drawn.

    \b
    Example:
      jigleaf jigs
    """
    jigs = catalogue.catalogue()
    if pages is not None:
        _list(files.save(pages, book.pages()))
    elif as_json:
        echo(json.dumps(book.as_data(), indent=2))
    else:
        widest = max(len(name) for name in jigs)
        for jig in jigs.values():
            echo(f"{jig.name:{widest}}  {jig.title}: {jig.summary}")


# -- one jig -------------------------------------------------------------------------------------------------------


class JigCommands(Helped, click.Group):
    """One command a jig, made from the jig's own parameters."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names in the catalogue."""
        del ctx
        return list(catalogue.catalogue())

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return the command of a jig. Raises CannotRead, with near names, for a jig there is not."""
        if ctx.resilient_parsing and cmd_name not in catalogue.catalogue():
            return None  # a shell asks while the name is still being typed
        return _command(catalogue.find(cmd_name))


@main.group("jig", cls=JigCommands, subcommand_metavar="NAME [--PARAMETER ...]")
def draw_jig() -> None:
    """Draw the sheets of one jig from its parameters.

    \b
    Example:
      jigleaf jig sled --units in --finger 3/8 --cutter .3745 --board "4 1/4" \\
          --thickness 1/2
    """


class JigCommand(Helped, click.Command):
    """The command that draws a jig."""

    def __init__(self, jig: catalogue.Jig, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.jig = jig


def _command(jig: catalogue.Jig) -> JigCommand:
    """Return the command that draws a jig."""
    said = f"{jig.title}: {jig.summary}"
    example = as_example(f"jigleaf jig {jig.name} {jig.example}".rstrip())

    @click.command(jig.name, cls=JigCommand, jig=jig, help=f"{said}.\n\n{example}", short_help=said)
    @with_options(*(setting_option(parameter) for parameter in jig.parameters))
    @units_option("What a bare number means, and what the sheets are written in.  [default: mm]")
    @out_option("Folder for the sheets.")
    @_PRINTING
    @json_option("Print the numbers instead of drawing.")
    def run(units: Units, only: tuple[str, ...], out: str, as_json: bool, **given: Any) -> None:
        settings = _settings(jig, given)
        job = make.jig(jig.name, settings, units)
        if as_json:
            report = make.check(job)
            _echo_json(report)
            if report.stopped:
                _tell(report.problems, units)
                sys.exit(1)
        else:
            _draw(job, only, out, **{name: value for name, value in given.items() if name not in settings})

    return run


def _settings(jig: catalogue.Jig, given: dict[str, Any]) -> dict[str, Value]:
    """Return those of the words of a command that set a jig."""
    return {parameter.name: given[parameter.name] for parameter in jig.parameters}


def _draw(job: make.Job, only: Sequence[str], out: str, **typed: Any) -> None:
    """Draw a job as it was typed, say what must be known of it, and list the files."""
    only_changed, listed = typed.pop("only_changed", False), typed.pop("listed", False)
    printing = _printing(job, **typed)
    made = make.draw(job, only, printing)
    folder, of_pages = pathlib.Path(out), sheet_formats.of_pages(printing.formats)
    before, cut_before = earlier.found(folder, made.prefix), earlier.cut_files(folder, made.cut_prefix)
    again = earlier.changed(before.marks, made.marks)
    cut_again = [name for name, content in made.cut_files.items() if cut_before.get(name) != content]
    contents = made.only_changed(again) if only_changed and before.marks else made.pages
    contents = contents | {name: made.cut_files[name] for name in (cut_again if only_changed else made.cut_files)}
    paths = _save(contents, printing.printer if of_pages else None, out)
    if not only_changed:
        files.remove(earlier.superseded(before, made.marks, contents, made.prefix) if of_pages else ())
        files.remove(earlier.cut_superseded(folder, cut_before, made.cut_names))
    _tell(made.report.problems, job.units)
    if listed:
        _list(paths)
    if of_pages:
        echo(pages_words.printed(made.cards, made.templates, len(made.report.problems)))
        if before.marks:
            echo(pages_words.to_print_again(again, len(made.marks)))
    if made.pieces:
        say(pages_words.cut(made.pieces, job.units), err=False)
        if cut_before:
            say(pages_words.to_cut_again(cut_again, len(made.cut_files)), err=False)
    if made.report.stopped:
        sys.exit(1)


def _printing(
    job: make.Job,
    *,
    paper: str | None = None,
    printer: str | None = None,
    formats: tuple[str, ...] = (),
    date: str = "",
    large_print: bool = False,
    thin_ink: bool = False,
    colour: bool = False,
    cut_width: str | None = None,
    bed: str | None = None,
) -> make.Printing:
    """Return how to print a job, from what was typed; the printer may be named in its box file."""
    typed = {"paper": paper, "printer": printer, "date": date, "large_print": large_print, "thin_ink": thin_ink}
    _tell_without_effect(
        formats,
        [name for name, value in typed.items() if value],
        [name for name, value in (("cut_width", cut_width), ("bed", bed)) if value],
    )
    named = printer if isinstance(job, jig_file.JigSettings) else printer or job.print.printer
    found = _measured(named if sheet_formats.of_pages(formats) else printer)
    hand = sheet_hand.Hand(large=large_print, thin=thin_ink)
    width = 0.0 if cut_width is None else cut_bed.read_width(cut_width, job.units)
    cutting = None if bed is None else cut_bed.read(bed, job.units)
    return make.Printing(paper, found, hand, date, formats, colour, width, cutting)


def _tell_without_effect(chosen: tuple[str, ...], of_pages: Sequence[str], of_machine: Sequence[str]) -> None:
    """Say which of the options that were typed do nothing for the formats that were chosen."""
    if of_pages and not sheet_formats.of_pages(chosen):
        say(f"NOTE: {_listed_options(of_pages)} no effect: cut files have no pages.")
    if of_machine and not sheet_formats.of_pieces(chosen):
        say(f"NOTE: {_listed_options(of_machine)} no effect without --format {' or '.join(sheet_formats.CUT_NAMES)}.")


def _listed_options(names: Sequence[str]) -> str:
    return f"{' and '.join(map(flag, names))} {'has' if len(names) == 1 else 'have'}"


def _measured(name: str | None) -> printer_kept.Printer | None:
    return None if name is None else printer_kept.find(name)


def _save(contents: Mapping[str, bytes], printer: printer_kept.Printer | None, out: str) -> list[Path]:
    """Write files into a folder, and say which correction is in them."""
    if printer:
        echo(f"corrected for {printer.words}", err=True)
    return files.save(out, contents)


def _list(paths: Iterable[Path]) -> None:
    for path in paths:
        echo(str(path))


def _echo_json(report: job_report.Report) -> None:
    echo(json.dumps(report.data, indent=2, ensure_ascii=False))


def _tell(problems: Sequence[Problem], units: Units, *, err: bool = True) -> None:
    """Say what must be known, worst first."""
    if problems:
        say(errors.CannotBuild(problems).says(units), err=err)


# -- the box file --------------------------------------------------------------------------------------------------


@main.command("start", short_help="Write a commented box file.")
@click.argument("file", type=click.Path())
@units_option("Units of the file.  [default: mm]")
@click.option("--yes", is_flag=True, help="Ask nothing: write the file that the answers in brackets make.")
@click.option("--schema", is_flag=True, help="Write the JSON Schema of a box file instead, for editors.")
def start(file: str, units: Any, yes: bool, schema: bool) -> None:
    """Write a commented box file; at a terminal, ask for the few numbers that make the box.

    \b
    Example:
      jigleaf start recipe-box.toml --units in
    """
    path = pathlib.Path(file)
    if path.exists():
        raise errors.CannotRead(f"{file} is there already, and nothing is written over it; take another name")
    if schema:
        text = json.dumps(boxfile_schema.schema(), indent=2, ensure_ascii=False) + "\n"
    elif yes or not sys.stdin.isatty():
        text = questions.usual_text(units)
    else:
        text = _ask(units)
    files.save(path.parent, {path.name: text.encode()})
    echo(str(path))
    if not schema:
        echo(_NEXT.format(file=shlex.quote(file)), err=True)


_NEXT = """\
Next:
  Look at the sizes:     jigleaf check {file}
  Draw the sheets:       jigleaf draw {file} -o sheets
  Measure in scrap what your cutters make, and write it into {file}."""


def _ask(units: Units) -> str:
    """Ask for what makes the box, and say at once what each answer does. Returns the text of the file."""
    named = {"mm": "millimetres", "in": "inches"}[units]
    echo(f"Lengths are in {named}. You can add a unit: 12 mm, 1/2 in.", err=True)
    echo("Press Enter to keep the value in brackets.", err=True)
    draft, settled, in_hand = questions.Draft(units, {}), set[str](), False
    for question in questions.QUESTIONS:
        part = question.section
        if part in questions.OPTIONAL and part not in settled:
            settled.add(part)
            if _wanted(draft, part):
                draft = draft.with_part(part)
        if question.key == questions.BOARDS_IN_HAND.key:
            in_hand = click.confirm("Do you have boards for this box already?", default=False, err=True)
            question = questions.BOARDS_IN_HAND if in_hand else question  # noqa: PLW2901 - the same in other words
        if draft.asks(question):
            draft = _ask_one(draft, question)
    return questions.made(_ask_boards(draft) if in_hand else draft).text


def _ask_boards(draft: questions.Draft) -> questions.Draft:
    """Ask for the boards in hand, one after the other."""
    example = "1500 x 100 x 15" if draft.units == "mm" else "48 x 6 x 5/8"
    say(
        f"Type each board as length x width x thickness: {example}. Add its wood where it is not that of the sides, "
        "and 'planed' where its faces are planed already."
    )
    while True:
        answer = click.prompt(f"Board {len(draft.boards) + 1}", default=_NO_MORE, err=True)
        if answer == _NO_MORE:
            return draft
        try:
            draft, said = questions.with_board(draft, answer)
        except errors.JigleafError as error:
            say(error.says(draft.units))
            continue
        say(f"    {said}")


_NO_MORE = "no more"


def _wanted(draft: questions.Draft, part: str) -> bool:
    """Ask whether the box is to have a part, where there is room for it; say why where there is none."""
    said = questions.OPTIONAL[part]
    if refused := questions.room_for(draft, part):
        say(f"This box can't have {said}, which is left out:")
        say(refused.says(draft.units))
        return False
    return click.confirm(f"Do you want {said}?", default=True, err=True)


def _ask_one(draft: questions.Draft, question: questions.Question) -> questions.Draft:
    """Ask one question until its answer can be built; say what the answer does."""
    while True:
        answer = click.prompt(question.words, default=questions.offered(draft, question), err=True)
        try:
            changed, effect = questions.answered(draft, question, str(answer))
        except errors.JigleafError as error:
            say(error.says(draft.units))
            continue
        if effect:
            say(f"    {effect}")
        return changed


@main.command("check")
@click.argument("file", type=click.Path())
@_set("Say what another value changes; the file stays as it is. May be repeated.")
@click.option(
    "--details", is_flag=True, help="Print every number too: the joint closed, its errors, the thinnest sections."
)
@json_option("Print the numbers: lengths in mm, angles in degrees.")
def check_box(file: str, changes: tuple[str, ...], details: bool, as_json: bool) -> None:
    """Work out a box, dry-fit its joint and report; write nothing.

    FILE may also be a jig file: what its rules say of the jig is reported.

    \b
    Example:
      jigleaf check samples/recipe-box.toml
    """
    values = typed_changes(changes)
    job = _job(file)
    pages: Mapping[str, str] = {}
    if isinstance(job, jig_file.JigSettings):
        if details:
            raise errors.CannotRead(f"--details is for a box, and {file} is a jig file; --json prints its numbers")
        report = make.check(make.changed(job, values) if values else job)
    elif values:
        after = make.box(job.source, file, values)
        report = make.check(after, job, change.cutter_taken(job, after, values), everything=details)
        pages = {} if as_json else make.pages_that_change(job, after)
    else:
        report = make.check(job, everything=details)
    if as_json:
        _echo_json(report)
    else:
        echo(report.text)
        if pages:
            echo("")
            say(f"Print again: {earlier.said(list(pages))}.", err=False)
            if marks := [mark for mark in pages.values() if mark]:
                say(f"They take the place of the pages with these marks: {', '.join(marks)}.", err=False)
    sys.exit(1 if report.stopped else 0)


def _job(file: str) -> make.Job:
    """Return the box or the jig that a file holds, which is told by its look."""
    return make.job(decoding.text_at(file), file)


@main.command("draw", short_help="Draw the sheets of a box or of a jig file.")
@click.argument("file", type=click.Path())
@_set("Draw it with another value; the file stays as it is. May be repeated.")
@out_option("Folder for the sheets.")
@_PRINTING
@_COLOUR
def draw_box(file: str, changes: tuple[str, ...], only: tuple[str, ...], out: str, **typed: Any) -> None:
    """Draw every sheet of a box, in the order of work; of a jig file, the sheets of its jig.

    \b
    Examples:
      jigleaf draw samples/recipe-box.toml -o sheets
      jigleaf draw samples/recipe-box.toml --only woods --set lid.species=walnut
    """
    job, values = _job(file), typed_changes(changes)
    if isinstance(job, jig_file.JigSettings):
        if typed["colour"]:
            raise errors.CannotRead(f"--colour is for a box, and {file} is a jig file")
        job = make.changed(job, values) if values else job
    elif values:
        before, job = job, make.box(job.source, file, values)
        _tell(change.cutter_taken(before, job, values), job.units)
    _draw(job, only, out, **typed)


@main.command("pattern", short_help="Make an SVG file a pattern to carve.")
@click.argument("drawing", metavar="FILE.svg", type=click.Path())
@click.option("--width", metavar="LENGTH", help="Width of the pattern; its height follows.")
@click.option("--box", "box_file", type=click.Path(), help="Write it into this box file, in place of the one in it.")
@units_option("What a bare number means, without --box.  [default: mm]")
def make_pattern(drawing: str, width: str | None, box_file: str | None, units: Units) -> None:
    """Take the outlines of an SVG file as a pattern to carve: print its section of a box file, or write it into one.

    Paths, lines, polygons, rectangles, circles and ellipses are taken; all else is left out and named. The box file
    holds the outlines themselves, so that you can move it without the drawing.

    \b
    Example:
      jigleaf pattern leaf.svg --width 60 --box tea-box.toml
    """
    content = disk.content(drawing, svg_outline.MOST_BYTES, "an SVG file")
    if box_file is None:
        given = typed_lengths({"width": width}, units)
        if not given:
            raise errors.CannotRead("say how wide the pattern is to be, as in --width 60")
        text, left_out = make.pattern(content, drawing, given["width"], units)
        echo(text.rstrip("\n"))
    else:
        file = make.box(decoding.text_at(box_file), box_file)
        made, left_out = make.with_pattern(
            file, content, drawing, typed_lengths({"width": width}, file.units).get("width")
        )
        path = pathlib.Path(box_file)
        files.save(path.parent, {path.name: made.source.encode()})
        echo(str(path))
        told = [one for one in make.check(made).problems if one.where.startswith("pattern.")]
        _tell(told, made.units)
    if left_out:
        say(f"left out: {left_out}")


_READINGS = {
    "finger": "A, the widest finger of the test joint.",
    "socket": "B, the socket of the test joint.",
    "clearance": "Clearance of the closed joint, where A and B were not read.",
    "flush_high": "C, bottom edges out of flush with the end board pushed up; + is recessed.",
    "flush_low": "D, bottom edges out of flush with the end board pushed down.",
    "proud": "E, how far fingers stand proud.",
    "slack": "F, play of a socket on the key.",
}
_PIVOT = {
    "pivot_to_key": "From the pivot to the line through key and cutter.",
    "pivot_to_nudge": "From the pivot to where the sled is nudged.",
}
_MOUNTS = ("clamped plate", "screwed plate", "pivot")
_GLUED_TO = f"What the key is on: a clamped plate is moved, on a screwed one shim it.  [default: {_MOUNTS[0]}]"


@main.command("tune", short_help="Say what to move after a measured test joint.")
@click.argument("file", type=click.Path())
@length_options(_READINGS | {"error": "How far a reading may be wrong.  [default: 0.02 mm]"})
@click.option("--mount", type=click.Choice(_MOUNTS), default=_MOUNTS[0], help=_GLUED_TO)
@length_options(_PIVOT)
@json_option("Print the numbers: + is away from the cutter, thicker, up; to_make is what to move, 0 for nothing.")
@out_option("Folder for the test-joint sheet.")
@_paper("Paper of the test-joint sheet.  [default: the box's; else A4, or Letter for inches]")
@_UNDO
def tune_joint(
    file: str, out: str, paper: str | None, printer: str | None, mount: trade_tune.Mount, as_json: bool, **typed: Any
) -> None:
    """Say what to move, shim or plane after a measured test joint, and whether its sheets still hold.

    FILE is a box file, the jig file of a sled, or any PDF or SVG sheet of a box or of a sled.
    Without a reading the sheet is drawn that says where to measure, with boxes to write in.

    \b
    Example:
      jigleaf tune samples/recipe-box.toml --finger 9.97 --socket 10.02
    """
    job = _to_tune(file)
    if all(typed[name] is None for name in _READINGS):
        printing = _printing(job, paper=paper, printer=printer)
        made = make.joint_sheet(job, printing)
        _list(_save(made.files, printing.printer, out))
        say("Measure A to F as the page says, and type what you read:")
        say(
            f"  jigleaf tune {shlex.quote(file)} --finger A --socket B --flush-high C --flush-low D --proud E --slack F"
        )
        say(
            "C and D are + where the end board is recessed, and − where it stands out. Leave out what you did not read."
        )
    else:
        _tune(job, mount, as_json, typed)


def _to_tune(file: str) -> make.Job:
    """Return the box or the sled whose joint is to be tuned, from any file that holds it."""
    carried = _from_code(file) if short_form.is_short_form(file) else embedded.held(file)
    job = make.job_of(carried, file) if carried else _job(file)
    if isinstance(job, jig_file.JigSettings) and job.jig != "sled":
        raise errors.CannotRead(
            f"{file} is of the jig '{job.jig}', which cuts no finger joint; name a box file, the jig file of a sled, "
            "or a sheet of one of them"
        )
    return job


def _tune(job: make.Job, mount: trade_tune.Mount, as_json: bool, typed: dict[str, str | None]) -> None:
    given = typed_lengths(typed, job.units)
    read_as = {name.removeprefix("pivot_"): length for name, length in given.items()}  # as the arithmetic names them
    words = {name.removeprefix("pivot_"): text for name, text in typed.items()}
    to_key, to_nudge = given.pop("pivot_to_key", None), given.pop("pivot_to_nudge", None)
    try:
        report = make.tune(job, trade_tune.Readings(**given), mount, to_key, to_nudge)
    except errors.WrongReadings as error:
        raise errors.CannotRead(f"readings: {_as_options(as_typed(str(error), read_as, words))}") from error
    if as_json:
        _echo_json(report)
    else:
        if report.text:
            echo(wrapped(report.text))
        _tell([record.replace(problem, where=_as_options(problem.where)) for problem in report.problems], job.units)
    sys.exit(1 if report.stopped else 0)


def _as_options(message: str) -> str:
    """Put the names of readings as they are typed: flush_high becomes --flush-high."""
    for name in (*_READINGS, "to_key", "to_nudge"):
        message = re.sub(rf"(?<![-\w]){name}(?![-\w])", flag(name), message)
    message = re.sub(r"^error\b", "--error", message)
    return message.replace("--to-", "--pivot-to-").replace(
        "pivot: needed", "--pivot-to-key and --pivot-to-nudge: needed"
    )


# -- a class -------------------------------------------------------------------------------------------------------


@main.command("class", short_help="Make everything for a class, from a list.")
@click.argument("roster", type=click.Path())
@click.option("--box", "box_file", type=click.Path(), required=True, help="The class's box file.")
@out_option("Folder for everything.", "class")
@_paper("Paper for the rows that name none.  [default: the box's]")
@_UNDO
@_HAND
@click.option(
    "--workers", type=click.IntRange(1, 16), default=2, help="How many boxes are drawn at once.  [default: 2]"
)
def draw_class(
    roster: str,
    box_file: str,
    out: str,
    paper: str | None,
    printer: str | None,
    large_print: bool,
    thin_ink: bool,
    workers: int,
) -> None:
    """Make everything for a class: each student's sheets, shared jigs, and the teacher's plan.

    ROSTER is CSV or TOML: a column `name`, and any key of the box file as `section.key`. A cell with +20 is 20 more
    than the box file has, with -20 less; in a spreadsheet type '+20, or it drops the +. A faulty row is reported;
    everyone else's sheets are still made. Run it again to make only what is missing or has changed.

    \b
    Example:
      jigleaf class samples/class.csv --box samples/recipe-box.toml -o class
    """
    if found := _measured(printer):
        echo(f"corrected for {found.words}", err=True)
    printing = make.Printing(printer=found, hand=sheet_hand.Hand(large_print, thin_ink))
    asked = course_run.Asked(pathlib.Path(roster), pathlib.Path(box_file), pathlib.Path(out), paper, workers, printing)
    try:
        outcome = with_progress(lambda told: course_run.make(asked, told))
    except KeyboardInterrupt:
        echo("stopped; finished files are kept. Run the same command again to go on", err=True)
        sys.exit(130)
    for remark in outcome.remarks:
        say(f"NOTE: {remark}")
    for fault in outcome.faults:
        say(f"Error: {fault.says(outcome.units)}")
    for file in outcome.stale:
        echo(f"old file of a row that is faulty or gone, kept: {file}", err=True)
    for file in outcome.made:
        echo(f"{out}/{file}")
    rows = len({fault.row for fault in outcome.faults})
    refused = f", {rows} row{'s' if rows > 1 else ''} refused" if rows else ""
    echo(f"{len(outcome.made)} files made, {outcome.kept} kept as they were{refused}", err=True)
    if to_print := [file for file in outcome.made if file.startswith("all-")]:
        cards = [file for file in to_print if file.startswith("all-cards")]
        cut = [file for file in to_print if file not in cards]
        say(
            f"Print {', '.join(cards)} on both sides, and {', '.join(cut)} at 100 %, one side." if cards and cut else ""
        )
    sys.exit(1 if outcome.faults else 0)


# -- everything in a browser ---------------------------------------------------------------------------------------


@main.command("bench", short_help="Do everything in a browser, on this computer.")
@click.argument("file", type=click.Path(), required=False)
@units_option("The units of a new box.  [default: mm]")
@click.option("--no-browser", is_flag=True, help="Print the address, and open nothing.")
def bench(file: str | None, units: Units, no_browser: bool) -> None:
    """Do everything in a browser, on this computer: change the box, test its joint, print, hand out to a class.

    FILE is a box file; one that is not there yet is made when you save. Nobody else can reach the page. It ends when
    you close its last window, or with Ctrl-C; what you had not saved is there again next time.

    \b
    Example:
      jigleaf bench samples/recipe-box.toml
    """

    def started(address: str) -> None:
        opened = not no_browser and webbrowser.open(address)
        echo(address)
        say("The page is open in your browser. Ctrl-C ends it." if opened else "Open this address in your browser.")

    bench_run.serve(pathlib.Path(file) if file else None, units, started)


# -- printers ------------------------------------------------------------------------------------------------------


_SIDES = {
    "across": "Reading of the rectangle from left to right.",
    "up": "Reading from bottom to top.",
    "rising": "Reading from lower left to upper right.",
    "falling": "Reading from upper left to lower right.",
    "width": "True width, for a rectangle other than the sheet's own.",
    "height": "True height, for a rectangle other than the sheet's own.",
}
_MARGINS = 'White margins of the printer, with --printer: "left right top bottom".'


@main.command("calibrate", short_help="Draw the print check; correct for a printer's error.")
@length_options(_SIDES)
@units_option("What a bare number means.  [default: mm]")
@_paper("Paper of the print check.  [default: A4, or Letter for inches]")
@_of_printers("--printer", "Keep the correction under this name, or draw with it.")
@click.option("--margins", metavar="LENGTHS", help=_MARGINS)
@out_option("Folder for the sheet.")
@click.option("--list", "listed", is_flag=True, help="List the printers that are known.")
@_of_printers("--show", "Show the correction of a printer.")
@_of_printers("--forget", "Forget a printer.")
@json_option("Print what the readings say as numbers.")
def calibrate(
    listed: bool,
    show: str | None,
    forget: str | None,
    units: Units,
    paper: str | None,
    printer: str | None,
    margins: str | None,
    out: str,
    as_json: bool,
    **typed: str | None,
) -> None:
    """Draw the print check, and from its readings work out how to correct for a printer's measured error.

    \b
    Example:
      jigleaf calibrate --printer office --across 169.3 --up 260.8 \\
          --rising 311.4 --falling 310.6
    """
    if show and forget:
        raise errors.CannotRead("--show and --forget can't be used together; take one of them")
    if listed or show or forget:
        named = [printer_kept.find(name, option) for option, name in (("--show", show), ("--forget", forget)) if name]
        known = named or list(printer_kept.known().values())
        if forget:
            printer_kept.forget(forget)
        for found in known:
            echo(("forgotten: " if forget else "") + found.described(units))
        return
    page = print_check.page_for(paper, units, printer)
    if margins is not None:
        _keep_margins(margins, printer, units)
    if read := typed_lengths(typed, units):
        _judge(read, typed, page, units, printer, as_json)
    elif margins is None:
        measured = _measured(printer)
        _list(_save(print_check.files(page, units, measured), measured, out))


def _keep_margins(text: str, printer: str | None, units: Units) -> None:
    """Keep what a printer leaves white."""
    if printer is None:
        raise errors.CannotRead("--margins: no printer is named; name one with --printer")
    path = printer_kept.keep_margins(printer, papers.read_margins(text, units))
    echo(f"kept in {path}: {printer_kept.find(printer).described(units)}", err=True)


def _judge(
    read: dict[str, float],
    typed: dict[str, str | None],
    page: papers.Paper,
    units: Units,
    printer: str | None,
    as_json: bool,
) -> None:
    """Say what the readings mean, and keep the correction where there is a name and something to correct."""
    missing = [f"--{name}" for name in ("across", "up", "rising", "falling") if name not in read]
    if missing:
        raise errors.CannotRead(f"readings: all four are needed; add {', '.join(missing)}")
    try:
        judged = print_check.judge(page, units, **read)
    except errors.WrongReadings as error:
        raise errors.CannotRead(f"readings: {as_typed(str(error), read, typed)}") from error
    if as_json:
        _echo_json(judged.report)
    else:
        say(judged.report.text, err=False)
    if judged.judgement.corrects and printer is not None:
        path = printer_kept.keep_measured(printer, judged.judgement.applied)
        echo(f"kept as '{printer}' in {path}; use it with --printer {printer}", err=True)
    sys.exit(0 if judged.judgement.verdict in ("correct", "inside reading error") else 1)


# -- a sheet gives back what it was made from ----------------------------------------------------------------------


@main.command("reopen", short_help="Give back the file that a sheet was made from.")
@click.argument("sheet", type=click.Path())
@_set("Draw it again with another value. May be repeated.")
@click.option(
    "--units", type=click.Choice(["mm", "in"]), help="Give it back in these units, in sizes that a shop uses."
)
@click.option("--force", is_flag=True, help="Write over the file named with -o.")
@click.option("-o", "--out", help="File for what it was made from; where sheets are drawn, their folder.")
@_PRINTING
def reopen(
    sheet: str,
    changes: tuple[str, ...],
    units: Units | None,
    force: bool,
    out: str | None,
    only: tuple[str, ...],
    **typed: Any,
) -> None:
    """Give back what a PDF or SVG sheet was made from: a box file or a jig file.

    SHEET may also be a box file or a jig file, or the text of the code in a title block. With --set, or with any
    option of how to draw, the sheets are drawn again instead.

    \b
    Examples:
      jigleaf reopen sled.pdf --set finger=12 --set cutter=12.01
      jigleaf reopen samples/recipe-box.toml --units in -o inch-box.toml
    """
    values = typed_changes(changes)
    carried = _carried(sheet)
    if units:
        carried = _in_units(carried, units)
    if not (values or only or any(typed.values())):
        _give_back(carried, out, force)
        return
    job = make.job_of(carried)
    if isinstance(job, jig_file.JigSettings):
        job = make.changed(job, values) if values else job
    elif values:
        before, job = job, make.box(job.source, carried.name, values)
        _tell(change.cutter_taken(before, job, values), job.units)
        echo(make.check(job, before).text + "\n", err=True)
    _draw(job, only, out or ".", **typed)


def _in_units(carried: sheet_carried.Carried, units: Units) -> sheet_carried.Carried:
    """Return a box or a jig in other units; say what moved, which tools to measure, and what can't be built now."""
    before = make.job_of(carried).units
    turned, converted = make.in_units(carried, units)
    for moved in converted.moved:
        echo(moved.said(before, units), err=True)
    if converted.sold:
        say(f"Measure these in wood, and write what you read: {', '.join(converted.sold)}.")
    if converted.moved and re.search(r"#.*\d", converted.text):
        say("Comments keep their numbers. Read them through.")
    if converted.moved:
        for said, one in (("Was", carried), ("Now", turned)):
            if words := make.in_short(make.job_of(one)):
                say(f"{said}: {words}.")
    if (report := make.check(make.job_of(turned))).stopped:
        echo(f"\n{report.text}", err=True)
    return turned


def _carried(sheet: str) -> sheet_carried.Carried:
    """Return what a sheet carries, from its file or its code; a box file or a jig file is that itself."""
    found = _from_code(sheet) if short_form.is_short_form(sheet) else embedded.held(sheet)
    if found:
        return found
    text = decoding.text_at(sheet)
    kind: sheet_carried.Kind = "jig" if isinstance(make.job(text, sheet), jig_file.JigSettings) else "box"
    return sheet_carried.Carried(kind, sheet, text.encode())


def _from_code(text: str) -> sheet_carried.Carried:
    """Return what a sheet carries, from the text of its code."""
    code = short_form.read(text)
    if code.missing:
        say(f"NOTE: {short_form.missing_words(code)}")
    return make.from_code(code)


def _give_back(carried: sheet_carried.Carried, out: str | None, force: bool) -> None:
    """Print what was carried, or write it into a file that is not there yet."""
    if out is None:
        _hand_over(carried.content)
        return
    path = pathlib.Path(out)
    if path.is_dir():
        raise errors.CannotRead(f"{out} is a folder; name a file, such as {path / carried.name}")
    if path.exists() and not force:
        raise errors.CannotRead(
            f"{out} is there already, and nothing is written over it; take another name, or add --force"
        )
    files.save(path.parent, {path.name: carried.content})
    echo(str(path))


def _hand_over(content: bytes) -> None:
    """Print what was carried: to the byte, but on a terminal nothing that steers it."""
    if is_terminal(err=False):
        write(harmless(content.decode(errors="replace")), end=False)
    else:
        write(content, end=False)


if __name__ == "__main__":
    main()
