"""The only part that speaks to a person: commands, messages, exit codes.

Results go to standard output, talk to standard error. Everything heavy is imported inside the command that needs it,
so that help comes at once.
"""

from __future__ import annotations

import contextlib
import io
import os
import re
import signal
import sys
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TextIO, cast

import click

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator, Sequence
    from pathlib import Path
    from types import FrameType

    from jigs.base.catalogue import Jig, Plan
    from jigs.base.drawing import Drawing
    from jigs.base.lengths import Units
    from jigs.base.rules import Problem
    from jigs.base.settings import Kind, Setting, Value
    from jigs.box.questions import Draft, Question
    from jigs.boxfile.sections import BoxFile
    from jigs.parts.joint.tuned_sled import Drawn
    from layout.carry.embedded import JigSettings
    from layout.course.run import Outcome
    from layout.fill.job import Job
    from layout.printer.kept import Printer
    from layout.sheet.carried import Carried
    from layout.sheet.marks import Bundle
    from layout.sheet.paper import Paper

_LONGEST_DATE = 30
_LONGEST_CHOICE = 40
WIDTH = 80
"""Columns to keep within on a terminal."""


class Speaking(click.Group):
    """A group whose errors are put into the words and the exit code of the job."""

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Run a command, then turn what it raises into a message and an exit code."""
        if isinstance(sys.stdout, io.TextIOWrapper) and sys.stdout.errors == "strict":
            sys.stdout.reconfigure(errors="backslashreplace")  # a letter it can't write stops no work
        _end_in_imports()
        try:
            ended = super().main(*args, **kwargs | {"standalone_mode": False})
        except click.exceptions.Abort:
            _echo(_STOPPED, err=True)
            sys.exit(130)
        except click.UsageError as error:
            if error.ctx:
                _echo(error.ctx.get_usage(), err=True)
            _say(f"Error: {error.format_message()}")
            sys.exit(error.exit_code)
        except Exception as error:
            from jigs.base.errors import JigleafError, MachineFault  # noqa: PLC0415 - help needs none of this

            if isinstance(error, OSError | MemoryError):
                _to_nobody(sys.stdout)
                error = MachineFault(f"the machine is in the way: {str(error) or 'there is no memory left'}")
            if not isinstance(error, JigleafError):
                raise error
            _say(error.says(error.units))
            sys.exit(error.exit_code)
        sys.exit(ended if isinstance(ended, int) else 0)


_STOPPED = "stopped; nothing was written"


def _end_in_imports() -> None:
    """Have Ctrl-C end the program at once while a library starts: some make another error of it, or print it all."""

    def stop(number: int, frame: FrameType | None) -> None:
        del number
        while frame is not None:
            if "importlib" in frame.f_code.co_filename:
                os.write(2, f"{_STOPPED}\n".encode())
                os._exit(130)
            frame = frame.f_back
        raise KeyboardInterrupt

    with contextlib.suppress(ValueError):  # only the main thread of a program hears it
        signal.signal(signal.SIGINT, stop)


_PAINT: dict[str, dict[str, Any]] = {
    "stop": {"fg": "red", "bold": True},
    "Error": {"fg": "red", "bold": True},
    "warning": {"fg": "yellow", "bold": True},
    "note": {"bold": True},
}
"""How the word that a message begins with is shown on a terminal. The word says it all; colour only finds it."""


def _say(message: str, *, err: bool = True) -> None:
    """Say something within the width of a terminal; its first words are painted where there is a terminal to do so."""
    wrapped = _wrapped(_harmless(message))
    if _is_terminal(err) and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb":  # no-color.org
        words = "|".join(_PAINT)
        wrapped = re.sub(rf"^({words}):", lambda found: click.style(found[0], **_PAINT[found[1]]), wrapped, flags=re.M)
    _write(wrapped, err=err)


def _echo(words: str = "", *, err: bool = False) -> None:
    """Write a line: on a terminal nothing that steers it, into a file or a pipe letter by letter."""
    _write(_harmless(words) if _is_terminal(err) else words, err=err)


def _is_terminal(err: bool) -> bool:
    stream = sys.stderr if err else sys.stdout
    return stream is not None and stream.isatty()


def _harmless(words: str) -> str:
    """Return words without what steers a terminal or turns the writing round: names and files come from anywhere."""
    import unicodedata  # noqa: PLC0415 - help needs none of this

    steers = {"Cc", "Cf", "Cs", "Zl", "Zp"}
    return "".join("\ufffd" if unicodedata.category(c) in steers and c not in "\n\t" else c for c in words)


def _write(words: str | bytes, *, err: bool = False, end: bool = True) -> None:
    """Write words as they are. A reader who has gone away has read all that was wanted; the work goes on.

    Raises MachineFault where results can't be written; where messages can't be, there is nobody to tell.
    """
    try:
        click.echo(words, nl=end, err=err, color=True)  # which is: leave them alone
    except OSError as error:
        _to_nobody(sys.stderr if err else sys.stdout)
        if not err and not isinstance(error, BrokenPipeError):
            from jigs.base.errors import MachineFault  # noqa: PLC0415 - help needs none of this

            raise MachineFault(f"can't write to standard output: {error.strerror or error}") from error


def _to_nobody(stream: TextIO) -> None:
    """Let go of a stream that takes nothing more, or the end of Python would try once more."""
    with contextlib.suppress(OSError):  # a stream of a test is no file
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def _wrapped(message: str) -> str:
    """Wrap each line of a message to the terminal, keeping its indent."""
    import textwrap  # noqa: PLC0415 - help needs none of this

    rows = []
    for row in message.splitlines():
        indent = row[: len(row) - len(row.lstrip())]
        rows.append(textwrap.fill(row.strip(), WIDTH, initial_indent=indent, subsequent_indent=indent or "      "))
    return "\n".join(rows)


@click.group(cls=Speaking, context_settings={"max_content_width": WIDTH, "help_option_names": ["-h", "--help"]})
@click.version_option(package_name="jigleaf")
def main() -> None:
    """Work out, dry-fit and print full-size templates for finger-jointed boxes.

    \b
    Example:
      jigleaf jig sled --finger 10 --cutter 10.02 --board 90 --thickness 12
    """


# -- words that a shell can complete -------------------------------------------------------------------------------


def _completing(words: Callable[[click.Context], Iterable[str]]) -> Callable[..., list[str]]:
    """Return what click asks for the words that go on from what is typed. A shell is never answered with a fault."""

    def complete(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[str]:
        from jigs.base.errors import JigleafError  # noqa: PLC0415 - help needs none of this

        del param
        try:
            return [word for word in words(ctx) if word.lower().startswith(incomplete.lower())]
        except (JigleafError, click.ClickException):
            return []

    return complete


def _papers(ctx: click.Context) -> Iterable[str]:
    from layout.sheet import paper as sheet_paper  # noqa: PLC0415 - help needs none of this

    del ctx
    return sheet_paper.NAMES


def _printers(ctx: click.Context) -> Iterable[str]:
    from layout.printer import kept as printer_kept  # noqa: PLC0415 - help needs none of this

    del ctx
    return printer_kept.known()


def _sheets(ctx: click.Context) -> Iterable[str]:
    """Return the sheets of a jig, from its example, or the families of a box's."""
    if not isinstance(ctx.command, JigCommand):
        from jigs.box import sheets as box_sheets  # noqa: PLC0415 - help needs none of this

        return box_sheets.FAMILIES
    import shlex  # noqa: PLC0415 - help needs none of this

    jig = ctx.command.jig
    given = _command(jig).make_context(jig.name, shlex.split(jig.example)).params
    return [drawing.name for drawing in jig.plan(_chosen(jig, given), given["units"]).drawings]


def _keys(ctx: click.Context) -> Iterable[str]:
    """Return the keys of a box file, as --set wants them."""
    from jigs.course.class_list import keys  # noqa: PLC0415 - help needs none of this

    del ctx
    return [f"{key}=" for key in keys()]


# -- the catalogue -------------------------------------------------------------------------------------------------


@main.command("jigs")
@click.option("--json", "as_json", is_flag=True, help="Print every parameter with unit, limits and default.")
@click.option("--pages", metavar="DIR", help="Write a page for each: parameters, sketch, sheets, cautions.")
def list_jigs(as_json: bool, pages: str | None) -> None:
    """List the jigs that can be drawn.

    \b
    Example:
      jigleaf jigs
    """
    import json  # noqa: PLC0415 - help needs none of this

    from jigs.base.catalogue import catalogue  # noqa: PLC0415 - help needs none of this

    jigs = catalogue()
    if pages is not None:
        from layout import catalogue as book  # noqa: PLC0415 - slow to import
        from layout.write import files  # noqa: PLC0415 - slow to import

        for path in files.save(pages, book.pages()):
            _echo(str(path))
        return
    if as_json:
        _echo(json.dumps([_described(jig) for jig in jigs.values()], indent=2))
        return
    widest = max(len(name) for name in jigs)
    for jig in jigs.values():
        _echo(f"{jig.name:{widest}}  {jig.title}: {jig.summary}")


_UNITS = {"angle": "degrees"}


def _described(jig: Jig) -> dict[str, Any]:
    parameters = []
    for parameter in jig.parameters:
        kind = parameter.kind
        entry: dict[str, Any] = {"name": parameter.name, "kind": kind.unit, "help": kind.help}
        if kind.symbol:
            entry["unit"] = _UNITS.get(kind.unit, kind.symbol.strip())
        for limit in ("least", "most", "options"):
            if hasattr(kind, limit):
                entry[limit] = getattr(kind, limit)
        defaults = {"default": parameter.default_in("mm"), "default_inches": parameter.default_in("in")}
        parameters.append(entry | {"required": parameter.required} | defaults)
    return {"name": jig.name, "title": jig.title, "summary": jig.summary, "parameters": parameters}


# -- one jig -------------------------------------------------------------------------------------------------------


class JigCommands(click.Group):
    """One command a jig, made from the jig's own parameters."""

    def list_commands(self, ctx: click.Context) -> list[str]:
        """Return the names in the catalogue."""
        from jigs.base.catalogue import catalogue  # noqa: PLC0415 - help needs none of this

        del ctx
        return list(catalogue())

    def get_command(self, ctx: click.Context, cmd_name: str) -> click.Command | None:
        """Return the command of a jig. Raises CannotRead, with near names, for a jig there is not."""
        from jigs.base.catalogue import catalogue, find  # noqa: PLC0415 - help needs none of this

        if ctx.resilient_parsing and cmd_name not in catalogue():  # a shell asks while the name is still being typed
            return None
        return _command(find(cmd_name))


@main.group("jig", cls=JigCommands, subcommand_metavar="NAME [--PARAMETER ...]")
def draw_jig() -> None:
    """Draw the sheets of one jig from its parameters.

    \b
    Example:
      jigleaf jig sled --units in --finger 3/8 --cutter .3745 --board "4 1/4" \\
          --thickness 1/2
    """


class SettingType(click.ParamType[Any]):
    """What an option of a jig takes, read as a box file reads it, in the units of the command."""

    def __init__(self, kind: Kind) -> None:
        self.kind, self.name = kind, kind.unit

    def convert(self, value: Any, param: click.Parameter | None, ctx: click.Context | None) -> Any:
        """Return the value as it is kept, a length in mm."""
        if not isinstance(value, str):
            return value
        if value.startswith("--"):
            self.fail(f"a {self.name} is missing; the next word is the option {value}", param, ctx)
        try:
            return self.kind.parsed(value, cast("Units", ctx.params.get("units", "mm") if ctx else "mm"))
        except ValueError as error:
            self.fail(str(error), param, ctx)


class JigCommand(click.Command):
    """The command that draws a jig."""

    def __init__(self, jig: Jig, *args: Any, **kwargs: Any) -> None:
        super().__init__(*args, **kwargs)
        self.jig = jig


def _command(jig: Jig) -> JigCommand:
    """Return the command that draws a jig."""
    options = [_option(parameter) for parameter in jig.parameters]

    def run(**given: Any) -> None:
        _draw_jig(jig, given)

    return JigCommand(
        jig,
        jig.name,
        callback=run,
        params=[*options, *_common_options()],
        help=f"{jig.title}: {jig.summary}.\n\n{_example(f'jigleaf jig {jig.name} {jig.example}'.rstrip())}",
        short_help=f"{jig.title}: {jig.summary}",
    )


def _example(command: str) -> str:
    """Return a command as an example of a help text, broken as a shell takes it, at options."""
    rows = [""]
    for piece in re.split(r" (?=--)", command):
        if rows[-1] and len(rows[-1]) + len(piece) > WIDTH - 6:
            rows[-1] += " \\"
            rows.append(f"   {piece}")
        else:
            rows[-1] += f" {piece}"
    return "\n".join(["\b", "Example:", *(f" {row}" for row in rows)])


def _option(parameter: Setting) -> click.Option:
    """Return the command-line option of a parameter, its limits in its help."""
    kind = parameter.kind
    flag = "--" + parameter.name.replace("_", "-")
    said = f"{kind.help}, {kind.limits}" if kind.limits else kind.help
    extra: dict[str, Any] = {"required": parameter.required}
    options: tuple[str, ...] = getattr(kind, "options", ())
    if options:
        extra["type"] = click.Choice(options)
        if sum(map(len, options)) > _LONGEST_CHOICE:
            extra["metavar"] = "NAME"
            said += ": " + ", ".join(options)
    elif kind.unit == "flag":
        extra["is_flag"] = True
    else:
        extra["type"] = SettingType(kind)
    if parameter.default_said:
        said += f"  [default: {parameter.default_said}]"
    return click.Option([flag], help=said[0].upper() + said[1:], **extra)


def _common_options() -> list[click.Parameter]:
    """Return what every command that draws understands."""
    return [
        click.Option(
            ["--units"],
            type=click.Choice(["mm", "in"]),
            default="mm",
            is_eager=True,
            help="What a bare number means, and what the sheets are written in.  [default: mm]",
        ),
        click.Option(["-o", "--out"], type=click.Path(), default=".", help="Folder for the sheets."),
        click.Option(
            ["--paper"],
            help='A4, Letter, ..., both, or "300x400 mm".  [default: A4, or Letter for inches]',
            shell_complete=_completing(_papers),
        ),
        click.Option(
            ["--format", "formats"],
            type=click.Choice(["pdf", "svg", "png"]),
            multiple=True,
            help="May be repeated.  [default: pdf and svg]",
        ),
        click.Option(
            ["--only"],
            multiple=True,
            metavar="SHEET",
            help="Draw only this sheet; of a box a family too, as sled or lid. May be repeated.",
            shell_complete=_completing(_sheets),
        ),
        click.Option(
            ["--printer"],
            metavar="NAME",
            help="Undo what this printer does; see jigleaf calibrate.",
            shell_complete=_completing(_printers),
        ),
        click.Option(["--large-print"], is_flag=True, help="Letters of 5 mm and more at the bench; takes more pages."),
        click.Option(["--thin-ink"], is_flag=True, help="Narrow lines, sparse hatching, nothing filled in."),
        click.Option(["--date"], default="", callback=_short_date, help="A date for the title block."),
        click.Option(["--json", "as_json"], is_flag=True, help="Print the numbers instead of drawing."),
    ]


def _short_date(ctx: click.Context, param: click.Parameter, value: str) -> str:
    del ctx, param
    if len(value) > _LONGEST_DATE:
        raise click.BadParameter(f"a date has at most {_LONGEST_DATE} characters; this has {len(value)}")
    return value


def _draw_jig(jig: Jig, given: dict[str, Any]) -> None:
    from jigs.base.errors import CannotBuild, JigleafError  # noqa: PLC0415 - help needs none of this

    units: Units = given["units"]
    chosen = _chosen(jig, given)
    try:
        settings = jig.settings(chosen, units)
        plan = jig.plan(chosen, units)
    except CannotBuild as error:
        if given["as_json"]:
            _print_json(chosen, None, error.problems, units)
        error.units = units
        raise
    if given["as_json"]:
        _print_json(settings, plan.numbers, plan.problems, units)
        return
    try:
        written = _write_jig(jig, plan, settings, chosen, given)
    except JigleafError as error:
        error.units = units
        raise
    _tell(plan.problems, units)
    for path in written:
        _echo(str(path))


def _chosen(jig: Jig, given: dict[str, Any]) -> dict[str, Value]:
    """Return those of the words of a command that set a jig."""
    return {p.name: given[p.name] for p in jig.parameters if given[p.name] is not None and given[p.name] is not False}


def _print_json(settings: Any, numbers: Any, problems: Any, units: Units) -> None:
    data = {"settings": settings, "numbers": numbers, "problems": [p.as_data(units) for p in problems]}
    _echo_json(data)


def _echo_json(data: Any) -> None:
    import json  # noqa: PLC0415 - help needs none of this

    _echo(json.dumps(_rounded(data), indent=2, ensure_ascii=False))


def _rounded(data: Any) -> Any:
    """Round every number to nine places, so that 29.8 is not written 29.799999999999997."""
    if isinstance(data, float):
        return round(data, 9) + 0.0  # and not -0.0
    if isinstance(data, dict):
        return {key: _rounded(value) for key, value in data.items()}
    return [_rounded(value) for value in data] if isinstance(data, list | tuple) else data


def _tell(problems: tuple[Problem, ...], units: Units, *, err: bool = True) -> None:
    """Say what must be known, worst first."""
    from jigs.base.errors import CannotBuild  # noqa: PLC0415 - help needs none of this

    if problems:
        _say(CannotBuild(problems).says(units), err=err)


def _write_jig(
    jig: Jig,
    plan: Plan,
    settings: dict[str, Value],
    chosen: dict[str, Value],
    given: dict[str, Any],
    read: BoxFile | None = None,
) -> list[Path]:
    """Compose the sheets of one jig, of a box file where `read` is one, and write the files that were asked for."""
    from jigs.base.wording import read_out  # noqa: PLC0415 - help needs none of this
    from layout.carry import embedded, short_form  # noqa: PLC0415 - help needs none of this
    from layout.fill.job import Job  # noqa: PLC0415 - help needs none of this
    from layout.sheet import carried as sheet_carried  # noqa: PLC0415 - help needs none of this

    units: Units = given["units"]
    job = Job(
        prefix=jig.name,
        title=read_out(plan.title, units),
        settings=_settings_line(jig, chosen, units),
        units=units,
        revision=sheet_carried.revision_mark(jig.name, settings),
        codes=short_form.of_box(read) if read else short_form.of_jig(jig, settings, units),
        carried=embedded.of_box(read) if read else embedded.of_jig(jig.name, chosen, settings, units),
    )
    return _write_sheets(job, _chosen_drawings(plan, given["only"]), given)


def _write_sheets(job: Job, drawings: Sequence[Drawing], given: dict[str, Any]) -> list[Path]:
    """Compose drawings, and write the files that were asked for, corrected for the printer that was."""
    from dataclasses import replace  # noqa: PLC0415 - help needs none of this

    from layout.fill import compose  # noqa: PLC0415 - help needs none of this
    from layout.sheet import hand  # noqa: PLC0415 - help needs none of this
    from layout.sheet import paper as sheet_paper  # noqa: PLC0415 - help needs none of this
    from layout.write import files  # noqa: PLC0415 - help needs none of this

    printer = _printer(given["printer"])
    drawn = hand.Hand(large=given.get("large_print", False), thin=given.get("thin_ink", False))
    job = replace(job, correction=printer.words if printer else "none", date=given["date"], hand=drawn)
    page = sheet_paper.named(given["paper"] or sheet_paper.default(job.units))
    if printer:
        page = page.within(printer.margins)
    bundle = compose.compose(job, drawings, page)
    if given["only"]:  # a file with some of the sheets does not take the place of the one with all
        bundle = replace(bundle, name="-".join([job.prefix, *given["only"]]))
    if printer:
        bundle = replace(bundle, correction=printer.correction)
    return files.save(given["out"], _contents(bundle, given["formats"] or ("pdf", "svg")))


def _printer(name: str | None) -> Printer | None:
    """Return the printer asked for, and say which correction is used."""
    if name is None:
        return None
    from layout.printer import kept as printer_kept  # noqa: PLC0415 - help needs none of this

    found = printer_kept.find(name)
    _echo(f"corrected for {found.words}", err=True)
    return found


def _chosen_drawings(plan: Plan, only: tuple[str, ...]) -> list[Any]:
    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this
    from jigs.base.wording import near  # noqa: PLC0415 - help needs none of this

    known = [drawing.name for drawing in plan.drawings]
    for name in only:
        if name not in known:
            raise CannotRead(f"--only: there is no sheet called '{name}'; {near(name, known)}")
    return [drawing for drawing in plan.drawings if not only or drawing.name in only]


def _settings_line(jig: Jig, chosen: dict[str, Value], units: Units) -> str:
    """Return the settings that were given, in words, for the title block."""
    said = []
    for parameter in jig.parameters:
        value = chosen.get(parameter.name)
        if value is not None:
            shown = parameter.kind.shown(value, units)
            said.append(parameter.spoken if value is True else f"{parameter.spoken} {shown}")
    return "; ".join(said)


def _contents(bundle: Bundle, formats: tuple[str, ...]) -> dict[str, bytes]:
    """Return the content of every file to write, by name."""
    contents: dict[str, bytes] = {}
    writers: dict[str, Callable[[], dict[str, bytes]]] = {
        "pdf": lambda: _pdf(bundle),
        "svg": lambda: _svg(bundle),
        "png": lambda: _png(bundle),
    }
    for name, write in writers.items():
        if name in formats:
            contents |= write()
    return contents


def _pdf(bundle: Bundle) -> dict[str, bytes]:
    from layout.write import pdf  # noqa: PLC0415 - slow to import

    return {f"{bundle.name}.pdf": pdf.write(bundle)}


def _svg(bundle: Bundle) -> dict[str, bytes]:
    from layout.write import svg  # noqa: PLC0415 - slow to import

    return {
        f"{sheet.name}.svg": svg.write(sheet, bundle.subject, bundle.correction, carried=bundle.carried)
        for sheet in bundle.sheets
    }


def _png(bundle: Bundle) -> dict[str, bytes]:
    from layout.write import png, svg  # noqa: PLC0415 - slow to import

    drawn = {sheet.name: svg.write(sheet, bundle.subject, bundle.correction) for sheet in bundle.sheets}
    return {f"{name}.png": png.write(content) for name, content in drawn.items()}


# -- the box file --------------------------------------------------------------------------------------------------


@main.command("start", short_help="Write a commented box file.")
@click.argument("file", type=click.Path())
@click.option("--units", type=click.Choice(["mm", "in"]), default="mm", help="Units of the file.  [default: mm]")
@click.option("--yes", is_flag=True, help="Ask nothing: write the file that the answers in brackets make.")
@click.option("--schema", is_flag=True, help="Write the JSON Schema of a box file instead, for editors.")
def start(file: str, units: Any, yes: bool, schema: bool) -> None:
    """Write a commented box file; at a terminal, ask for the few numbers that make the box.

    \b
    Example:
      jigleaf start recipe-box.toml --units in
    """
    import json  # noqa: PLC0415 - help needs none of this
    from pathlib import Path  # noqa: PLC0415 - help needs none of this

    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this
    from jigs.box import questions  # noqa: PLC0415 - help needs none of this
    from jigs.boxfile import schema as boxfile_schema  # noqa: PLC0415 - help needs none of this
    from layout.write import files  # noqa: PLC0415 - help needs none of this

    path = Path(file)
    if path.exists():
        raise CannotRead(f"{file} is there already, and nothing is written over it; take another name")
    if schema:
        text = json.dumps(boxfile_schema.schema(), indent=2, ensure_ascii=False) + "\n"
    elif yes or not sys.stdin.isatty():
        text = questions.usual_text(units)
    else:
        text = _ask(units)
    files.save(path.parent, {path.name: text.encode()})
    _echo(str(path))
    if not schema:
        _echo(f"next: jigleaf check {file}", err=True)


def _ask(units: Units) -> str:
    """Ask for what makes the box, and say at once what each answer does. Returns the text of the file."""
    from jigs.box import questions  # noqa: PLC0415 - help needs none of this

    named = {"mm": "millimetres", "in": "inches"}[units]
    _echo(f"Lengths are in {named}. You can add a unit: 12 mm, 1/2 in.", err=True)
    _echo("Press Enter to keep the value in brackets.", err=True)
    draft, settled = questions.Draft(units, {}), set[str]()
    for question in questions.QUESTIONS:
        part = question.section
        if part in questions.OPTIONAL and part not in settled:
            settled.add(part)
            if _wanted(draft, part):
                draft = draft.with_part(part)
        if part in draft.sections:
            draft = _ask_one(draft, question)
    return questions.made(draft).text


def _wanted(draft: Draft, part: str) -> bool:
    """Ask whether the box is to have a part, where there is room for it; say why where there is none."""
    from jigs.box import questions  # noqa: PLC0415 - help needs none of this

    said = questions.OPTIONAL[part]
    if refused := questions.room_for(draft, part):
        _say(f"This box can't have {said}, which is left out:")
        _say(refused.says(draft.units))
        return False
    return click.confirm(f"Do you want {said}?", default=True, err=True)


def _ask_one(draft: Draft, question: Question) -> Draft:
    """Ask one question until its answer can be built; say what the answer does."""
    from jigs.base.errors import JigleafError  # noqa: PLC0415 - help needs none of this
    from jigs.box import questions  # noqa: PLC0415 - help needs none of this

    while True:
        answer = click.prompt(question.words, default=questions.offered(draft, question), err=True)
        try:
            changed, effect = questions.answered(draft, question, str(answer))
        except JigleafError as error:
            _say(error.says(draft.units))
            continue
        if effect:
            _say(f"    {effect}")
        return changed


def _set_option(said: str) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Add the option that sets keys to other values."""
    return click.option(
        "--set", "changes", multiple=True, metavar="KEY=VALUE", help=said, shell_complete=_completing(_keys)
    )


def _changes(typed: tuple[str, ...]) -> dict[str, str]:
    """Return what was typed behind --set, by key. Raises CannotRead for what is no KEY=VALUE."""
    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this

    values: dict[str, str] = {}
    for words in typed:
        key, equals, value = (part.strip() for part in words.partition("="))
        if not (equals and key and value):
            raise CannotRead(f"--set: '{words}' is not KEY=VALUE, as in --set joint.finger=1/4")
        if key in values:
            raise CannotRead(f"--set: {key} is set twice")
        values[key] = value
    return values


@main.command("check")
@click.argument("file", type=click.Path())
@_set_option("Say what another value changes, and leave the file as it is. Repeat.")
@click.option("--json", "as_json", is_flag=True, help="Print the numbers: lengths in mm, angles in degrees.")
def check_box(file: str, changes: tuple[str, ...], as_json: bool) -> None:
    """Work out a box, dry-fit its joint and report; write nothing.

    \b
    Example:
      jigleaf check samples/recipe-box.toml
    """
    from dataclasses import replace  # noqa: PLC0415 - help needs none of this

    from jigs.box import chain, report  # noqa: PLC0415 - help needs none of this
    from jigs.boxfile import change, reading  # noqa: PLC0415 - help needs none of this

    values = _changes(changes)
    before = reading.load(file)
    read = change.box_with(before.source, values, file) if values else before
    _printed_on(read)
    worked = chain.work_out(read)
    worked = replace(worked, problems=(*worked.problems, *change.cutter_taken(before, read, values)))
    if as_json:
        _echo_json(chain.as_data(worked))
    else:
        _echo(report.changes(chain.work_out(before), worked) if values else report.check(worked))
        _echo("")
        _tell(worked.problems, read.units, err=False)
    sys.exit(1 if worked.stopped else 0)


def _printed_on(read: BoxFile, paper: str | None = None, printer: str | None = None) -> dict[str, str | None]:
    """Return paper and printer: what was typed, else what a box file says. Raises CannotRead for no paper at all."""
    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this
    from layout.sheet import paper as papers  # noqa: PLC0415 - help needs none of this

    if not paper and read.print.paper:
        try:
            papers.named(read.print.paper)
        except CannotRead as error:
            raise CannotRead(f"print.{error}") from error
    return {"paper": paper or read.print.paper, "printer": printer or read.print.printer}


def _options_to_draw(*left_out: str) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Add the common options of commands that draw, but for those whose answer is in a file."""

    def add(command: Callable[..., None]) -> Callable[..., None]:
        kept = [option for option in _common_options() if option.name not in left_out]
        command.__click_params__ = kept[::-1] + getattr(command, "__click_params__", [])  # type: ignore[attr-defined]  # where click keeps the options of a command to be
        return command

    return add


@main.command("draw")
@click.argument("file", type=click.Path())
@_options_to_draw("units", "as_json")
def draw_box(file: str, **given: Any) -> None:
    """Draw every sheet of a box, in the order of work.

    \b
    Example:
      jigleaf draw samples/recipe-box.toml -o sheets
    """
    from jigs.boxfile import reading  # noqa: PLC0415 - help needs none of this

    _draw_box(reading.load(file), given)


def _draw_box(read: BoxFile, given: dict[str, Any]) -> None:
    """Draw the sheets of a box file that was read."""
    from jigs.base.errors import JigleafError  # noqa: PLC0415 - help needs none of this
    from jigs.box import chain  # noqa: PLC0415 - help needs none of this
    from jigs.box import sheets as box_sheets  # noqa: PLC0415 - help needs none of this
    from layout.carry import embedded, short_form  # noqa: PLC0415 - help needs none of this
    from layout.fill.job import Job  # noqa: PLC0415 - help needs none of this
    from layout.sheet import carried as sheet_carried  # noqa: PLC0415 - help needs none of this

    worked = chain.work_out(read)
    job = Job(
        prefix=read.stem,
        title=read.title,
        settings=chain.settings_line(read),
        units=read.units,
        revision=sheet_carried.revision_mark("box", read.settings),
        codes=short_form.of_box(read),
        carried=embedded.of_box(read),
    )
    asked = given | _printed_on(read, given["paper"], given["printer"])
    try:
        written = _write_sheets(job, box_sheets.drawings(worked, given["only"]), asked)
    except JigleafError as error:
        error.units = read.units
        raise
    _tell(worked.problems, read.units)
    for path in written:
        _echo(str(path))
    if worked.stopped:
        sys.exit(1)


_READINGS = {
    "finger": "A, finger of the test joint, the widest.",
    "socket": "B, socket of the test joint.",
    "play": "Play of the closed joint, where A and B were not read.",
    "flush_high": "C, bottom edges out with the end pushed up; + is recessed.",
    "flush_low": "D, bottom edges out with the end pushed down.",
    "proud": "E, how far fingers stand proud.",
    "slack": "F, play of a socket on the key.",
}


def _length_options(helps: dict[str, str]) -> Callable[[Callable[..., None]], Callable[..., None]]:
    """Return the decorator that gives a command an option that takes a length for every name."""

    def decorated(command: Callable[..., None]) -> Callable[..., None]:
        for name, said in reversed(helps.items()):
            command = click.option(f"--{name.replace('_', '-')}", metavar="LENGTH", help=said)(command)
        return command

    return decorated


@main.command("tune")
@click.argument("file", type=click.Path())
@_length_options(_READINGS)
@click.option("--error", metavar="LENGTH", help="How far a reading may be wrong.  [default: 0.02 mm]")
@click.option(
    "--mount",
    type=click.Choice(["movable plate", "fixed plate", "pivot"]),
    default="movable plate",
    help="What the key is glued to.  [default: movable plate]",
)
@click.option("--pivot-to-key", metavar="LENGTH", help="From the pivot to the line through key and cutter.")
@click.option("--pivot-to-nudge", metavar="LENGTH", help="From the pivot to where the sled is nudged.")
@click.option(
    "--json",
    "as_json",
    is_flag=True,
    help="Print the numbers: + is away from the cutter, thicker, up; to_make is what to move, 0 for nothing.",
)
@click.option("-o", "--out", type=click.Path(), default=".", help="Folder for the test-joint sheet.")
@click.option(
    "--paper",
    help="Paper of the test-joint sheet.  [default: the box's; else A4, or Letter for inches]",
    shell_complete=_completing(_papers),
)
@click.option(
    "--printer",
    metavar="NAME",
    help="Undo what this printer does; see jigleaf calibrate.",
    shell_complete=_completing(_printers),
)
def tune_joint(file: str, out: str, paper: str | None, printer: str | None, **typed: Any) -> None:
    """Say what to move, shim or plane after a measured test joint, and whether its sheets still hold.

    FILE is a box file, any PDF or SVG sheet of a box or of a sled, or the settings that reopen gives back of a sled.
    Without a reading the sheet is drawn that says where to measure, with boxes to write in.

    \b
    Example:
      jigleaf tune samples/recipe-box.toml --finger 9.97 --socket 10.02
    """
    given = {"paper": paper, "printer": printer, "only": ("test-joint",), "formats": (), "out": out, "date": ""}
    source = _to_tune(file)
    if all(typed[name] is None for name in _READINGS):
        _draw_test_joint(source, given)
    else:
        _tune(source, **typed)


def _to_tune(file: str) -> BoxFile | JigSettings:
    """Return the box or the sled whose joint is to be tuned, from any file that holds it."""
    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this
    from jigs.boxfile import reading  # noqa: PLC0415 - help needs none of this
    from layout.carry import embedded, short_form  # noqa: PLC0415 - help needs none of this

    carried = _reopened(file) if short_form.is_short_form(file) else embedded.held(file)
    if carried is None:
        return reading.load(file)
    if carried.kind == "box":
        return reading.read(_box_text(carried), carried.name)
    settings = embedded.jig_settings(carried, file)
    if settings.jig != "sled":
        raise CannotRead(
            f"{file} is of the jig '{settings.jig}', which cuts no finger joint; name a box file, or a sheet of a box "
            "or of a sled"
        )
    return settings


def _draw_test_joint(source: BoxFile | JigSettings, given: dict[str, Any]) -> None:
    from jigs.base.catalogue import find  # noqa: PLC0415 - help needs none of this
    from jigs.boxfile.sections import BoxFile  # noqa: PLC0415 - help needs none of this
    from jigs.parts.joint import part as joint_part  # noqa: PLC0415 - help needs none of this

    jig, units = find("sled"), source.units
    given["units"] = units
    _drawn_joint(source)  # what stops it is said by the keys of its file
    with _in_units(units):
        if isinstance(source, BoxFile):
            chosen, read = joint_part.sled_settings(source), source
            given |= _printed_on(source, given["paper"], given["printer"])
        else:
            chosen, read = source.chosen(jig), None
        settings, plan = jig.settings(chosen, units), jig.plan(chosen, units)
        for path in _write_jig(jig, plan, settings, chosen, given, read):
            _echo(str(path))


@contextlib.contextmanager
def _in_units(units: Units) -> Iterator[None]:
    """Have whatever is refused here be said in the units of the job."""
    from jigs.base.errors import JigleafError  # noqa: PLC0415 - help needs none of this

    try:
        yield
    except JigleafError as error:
        error.units = units
        raise


def _drawn_joint(source: BoxFile | JigSettings) -> Drawn:
    """Return the joint as the sheets of a box or of a sled have it."""
    from jigs.base.catalogue import find  # noqa: PLC0415 - help needs none of this
    from jigs.boxfile.sections import BoxFile  # noqa: PLC0415 - help needs none of this
    from jigs.parts.joint import tuned_sled  # noqa: PLC0415 - help needs none of this

    with _in_units(source.units):
        if isinstance(source, BoxFile):
            return tuned_sled.of_box(source)
        return tuned_sled.of_sled(source.chosen(find("sled")), source.units)


def _tune(source: BoxFile | JigSettings, mount: Any, as_json: bool, **typed: str | None) -> None:
    from dataclasses import replace  # noqa: PLC0415 - help needs none of this

    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this
    from jigs.parts.joint import tuned_sled, tuning  # noqa: PLC0415 - help needs none of this
    from jigs.trade import tune  # noqa: PLC0415 - help needs none of this

    units, drawn = source.units, _drawn_joint(source)
    given = {name: _typed_length(name, text, units) for name, text in typed.items() if text is not None}
    read_as = {name.removeprefix("pivot_"): length for name, length in given.items()}  # as the arithmetic names them
    words = {name.removeprefix("pivot_"): text for name, text in typed.items()}
    to_key, to_nudge = given.pop("pivot_to_key", None), given.pop("pivot_to_nudge", None)
    try:
        readings = tune.Readings(**given)
        worked = tune.tune(readings, drawn.wanted)
        turns = tune.Pivot(to_key, to_nudge) if to_key is not None and to_nudge is not None else None
        remedies = tune.remedies(worked, readings, mount, wanted=drawn.wanted, pivot=turns)
    except ValueError as error:
        raise CannotRead(f"readings: {_as_options(_as_typed(str(error), read_as, words))}") from error
    compared = tuned_sled.compare(worked, readings, drawn)
    problems = tuning.problems(worked, readings, mount, compared, units)
    stopped = any(problem.severity == "stop" for problem in problems)
    steps = tuning.steps(remedies, units)
    if as_json:
        data = tuning.as_data(worked, compared, steps, stopped)
        _echo_json(data | {"problems": [problem.as_data(units) for problem in problems]})
    else:
        if not stopped:  # nothing is planed by such readings
            _echo(_wrapped(tuning.report(worked, compared, steps, units)))
        _tell(tuple(replace(problem, where=_as_options(problem.where)) for problem in problems), units)
    sys.exit(1 if stopped else 0)


def _as_typed(message: str, read: dict[str, float], typed: dict[str, str | None]) -> str:
    """Put readings as they were typed: in inches a message has the 1/64 and not 0.396875."""
    for name, value in read.items():
        message = re.sub(rf"\b{name}( is)? {re.escape(f'{value:g}')}\b", rf"{name}\1 {typed[name]}", message)
    return message


def _as_options(message: str) -> str:
    """Put the names of readings as they are typed: flush_high becomes --flush-high."""
    for name in (*_READINGS, "to_key", "to_nudge"):
        message = re.sub(rf"(?<![-\w]){name}(?![-\w])", f"--{name.replace('_', '-')}", message)
    message = re.sub(r"^error\b", "--error", message)
    return message.replace("--to-", "--pivot-to-").replace(
        "pivot: needed", "--pivot-to-key and --pivot-to-nudge: needed"
    )


def _typed_length(name: str, text: str, units: Units) -> float:
    from jigs.base import lengths  # noqa: PLC0415 - help needs none of this
    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this

    try:
        return float(lengths.read(text, units))
    except lengths.LengthError as error:
        raise CannotRead(f"--{name.replace('_', '-')}: {error}") from error


# -- a class -------------------------------------------------------------------------------------------------------


@main.command("class", short_help="Make everything for a class, from a list.")
@click.argument("roster", type=click.Path())
@click.option("--box", "box_file", type=click.Path(), required=True, help="The class's box file.")
@click.option("-o", "--out", type=click.Path(), default="class", help="Folder for everything.")
@click.option(
    "--paper", help="Paper of those whose row names none.  [default: the box's]", shell_complete=_completing(_papers)
)
@click.option(
    "--printer",
    metavar="NAME",
    help="Undo what this printer does; see jigleaf calibrate.",
    shell_complete=_completing(_printers),
)
@click.option("--large-print", is_flag=True, help="Letters of 5 mm and more at the bench; takes more pages.")
@click.option("--thin-ink", is_flag=True, help="Narrow lines, sparse hatching, nothing filled in.")
@click.option("--workers", type=click.IntRange(1, 16), default=2, help="How many draw at once.  [default: 2]")
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

    ROSTER is CSV or TOML: a column `name`, and any key of the box file as `section.key`. Run again, only what is
    missing or has changed is made.

    \b
    Example:
      jigleaf class samples/class.csv --box samples/recipe-box.toml -o class
    """
    from pathlib import Path  # noqa: PLC0415 - help needs none of this

    from layout.course import pack  # noqa: PLC0415 - help needs none of this
    from layout.course import run as course_run  # noqa: PLC0415 - help needs none of this
    from layout.sheet.hand import Hand  # noqa: PLC0415 - help needs none of this

    printing = pack.printing(_printer(printer), Hand(large_print, thin_ink))
    asked = course_run.Asked(Path(roster), Path(box_file), Path(out), paper, workers, printing)
    try:
        outcome = _with_progress(lambda told: course_run.make(asked, told))
    except KeyboardInterrupt:
        _echo("stopped; what is finished is kept: run the same again to go on", err=True)
        sys.exit(130)
    for remark in outcome.remarks:
        _say(f"note: {remark}")
    for fault in outcome.faults:
        _say(f"stop: {fault.says(outcome.units)}")
    for file in outcome.stale:
        _echo(f"left as it is, of no row any more: {file}", err=True)
    for file in outcome.made:
        _echo(f"{out}/{file}")
    rows = len({fault.row for fault in outcome.faults})
    refused = f", {rows} row{'s' if rows > 1 else ''} refused" if rows else ""
    _echo(f"{len(outcome.made)} files made, {outcome.kept} kept as they were{refused}", err=True)
    sys.exit(1 if outcome.faults else 0)


def _with_progress(make: Callable[[Callable[[int, int, str], None]], Outcome]) -> Outcome:
    """Run with a bar and the time left on a terminal, silently elsewhere."""
    if not sys.stderr.isatty():
        return make(lambda done, of, what: None)
    with click.progressbar(
        length=1, label="drawing", file=sys.stderr, width=24, show_eta=True, item_show_func=lambda what: what
    ) as bar:

        def told(done: int, of: int, what: str) -> None:
            bar.length = of
            bar.update(done - bar.pos, _cut(what, 24))

        return make(told)


def _cut(words: str, columns: int) -> str:
    """Return as much of some words as stands in so many columns of a terminal, without what would steer it."""
    from unicodedata import east_asian_width  # noqa: PLC0415 - help needs none of this

    kept = ""
    for letter in filter(str.isprintable, words):
        columns -= 2 if east_asian_width(letter) in "WF" else 1
        if columns < 0:
            break
        kept += letter
    return kept


# -- printers ------------------------------------------------------------------------------------------------------


_SIDES = {
    "across": "Reading of the rectangle from left to right.",
    "up": "Reading from bottom to top.",
    "rising": "Reading from lower left to upper right.",
    "falling": "Reading from upper left to lower right.",
    "width": "True width, for a rectangle other than the sheet's own.",
    "height": "True height, for a rectangle other than the sheet's own.",
}


@main.command("calibrate", short_help="Draw the print check; undo a printer's errors.")
@_length_options(_SIDES)
@click.option("--units", type=click.Choice(["mm", "in"]), default="mm", help="What a bare number means.  [default: mm]")
@click.option(
    "--paper",
    help="Paper of the print check.  [default: A4, or Letter for inches]",
    shell_complete=_completing(_papers),
)
@click.option(
    "--printer",
    metavar="NAME",
    help="Keep the correction under this name, or draw with it.",
    shell_complete=_completing(_printers),
)
@click.option(
    "--margins", metavar="LENGTHS", help='What the printer leaves white, with --printer: "left right top bottom".'
)
@click.option("-o", "--out", type=click.Path(), default=".", help="Folder for the sheet.")
@click.option("--list", "listed", is_flag=True, help="List the printers that are known.")
@click.option("--show", metavar="NAME", help="Show the correction of a printer.", shell_complete=_completing(_printers))
@click.option("--forget", metavar="NAME", help="Forget a printer.", shell_complete=_completing(_printers))
@click.option("--json", "as_json", is_flag=True, help="Print what the readings say as numbers.")
def calibrate(
    listed: bool, show: str | None, forget: str | None, units: Any, paper: str | None, printer: str | None, **typed: Any
) -> None:
    """Draw the print check, and from its readings work out what undoes a printer's errors.

    \b
    Example:
      jigleaf calibrate --printer office --across 169.3 --up 260.8 \\
          --rising 311.4 --falling 310.6
    """
    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this
    from layout.printer import kept as printer_kept  # noqa: PLC0415 - help needs none of this
    from layout.sheet import paper as papers  # noqa: PLC0415 - help needs none of this

    if show and forget:
        raise CannotRead("--show and --forget: one at a time")
    if listed or show or forget:
        named = [printer_kept.find(name, option) for option, name in (("--show", show), ("--forget", forget)) if name]
        known = named or list(printer_kept.known().values())
        if forget:
            printer_kept.forget(forget)
        for found in known:
            _echo(("forgotten: " if forget else "") + found.described(units))
        return
    page = papers.named(paper or papers.default(units))
    if printer in (known_printers := printer_kept.known()):
        page = page.within(known_printers[printer].margins)
    if (margins := typed.pop("margins")) is not None:
        _keep_margins(margins, printer, units)
    out, as_json = typed.pop("out"), typed.pop("as_json")
    read = {name: _typed_length(name, text, units) for name, text in typed.items() if text is not None}
    if read:
        _judge(read, typed, page, printer, as_json)
    elif margins is None:
        _draw_print_check(page, units, printer, out)


def _keep_margins(text: str, printer: str | None, units: Units) -> None:
    """Keep what a printer leaves white."""
    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this
    from layout.printer import kept as printer_kept  # noqa: PLC0415 - help needs none of this
    from layout.sheet import paper as sheet_paper  # noqa: PLC0415 - help needs none of this

    if printer is None:
        raise CannotRead("--margins: whose? name the printer with --printer")
    path = printer_kept.keep_margins(printer, sheet_paper.read_margins(text, units))
    _echo(f"kept in {path}: {printer_kept.find(printer).described(units)}", err=True)


def _draw_print_check(page: Paper, units: Units, printer: str | None, out: str) -> None:
    from dataclasses import replace  # noqa: PLC0415 - help needs none of this

    from layout.printer import print_check as check  # noqa: PLC0415 - help needs none of this
    from layout.write import files  # noqa: PLC0415 - help needs none of this

    found = _printer(printer)
    bundle = check.sheet(page, units, found.words if found else "none")
    if found:
        bundle = replace(bundle, correction=found.correction)
    for path in files.save(out, _contents(bundle, ("pdf", "svg"))):
        _echo(str(path))


def _judge(
    read: dict[str, float], typed: dict[str, str | None], page: Paper, printer: str | None, as_json: bool
) -> None:
    """Say what the readings mean, and keep the correction where there is a name and something to correct."""
    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this
    from layout.printer import correction  # noqa: PLC0415 - help needs none of this
    from layout.printer import kept as printer_kept  # noqa: PLC0415 - help needs none of this
    from layout.printer import print_check as check  # noqa: PLC0415 - help needs none of this

    missing = [f"--{name}" for name in ("across", "up", "rising", "falling") if name not in read]
    if missing:
        raise CannotRead(f"readings: all four are needed; {', '.join(missing)} not given")
    true = dict(zip(("width", "height"), check.size(page), strict=True))
    try:
        readings = correction.Readings(**(true | read))
        judged = correction.judge(readings)
    except ValueError as error:
        raise CannotRead(f"readings: {_as_typed(str(error), read, typed)}") from error
    if as_json:
        _echo_json(check.as_data(judged))
    else:
        _echo(_wrapped(check.report(judged)))
        if other := check.other_sheet(readings, page):
            said = f"note: these readings are near those of the sheet for {other}; type --paper {other} for it"
            _say(said, err=False)
    if judged.corrects and printer is not None:
        path = printer_kept.keep_measured(printer, judged.applied)
        _echo(f"kept as '{printer}' in {path}; use it with --printer {printer}", err=True)
    sys.exit(0 if judged.verdict in ("correct", "inside reading error") else 1)


# -- a sheet gives back what it was made from ----------------------------------------------------------------------


@main.command("reopen")
@click.argument("sheet", type=click.Path())
@_set_option("Draw it again with another value. Repeat.")
@click.option("--force", is_flag=True, help="Write over the file named with -o.")
@_options_to_draw("units", "as_json", "out")
@click.option("-o", "--out", help="File for what it was made from; where sheets are drawn, their folder.")
def reopen(sheet: str, changes: tuple[str, ...], force: bool, out: str | None, **given: Any) -> None:
    """Give back what a PDF or SVG sheet was made from, to the byte.

    SHEET may also be the text of the code in its title block. With --set, or with any other option of how to draw, the
    sheets are drawn again instead.

    \b
    Example:
      jigleaf reopen sled.pdf --set finger=12 --set cutter=12.01
    """
    values = _changes(changes)
    carried = _reopened(sheet)
    if not values and not any(given.values()):
        _give_back(carried, out, force)
        return
    given["out"] = out or "."
    if carried.kind == "box":
        _redraw_box(carried, values, given)
    else:
        _redraw_jig(carried, values, given)


def _reopened(sheet: str) -> Carried:
    """Return what a sheet carries, or what the text of its code says."""
    from layout.carry import embedded, short_form  # noqa: PLC0415 - help needs none of this
    from layout.sheet import carried as sheet_carried  # noqa: PLC0415 - help needs none of this

    if not short_form.is_short_form(sheet):
        return embedded.read(sheet)
    short = short_form.read(sheet)
    if short.missing:
        _say(f"note: {short_form.missing_words(short)}")
    if short.family == "box":
        return sheet_carried.Carried("box", "box.toml", short_form.box_text(short).encode())
    from jigs.base.catalogue import find  # noqa: PLC0415 - help needs none of this

    jig = find(short.family)
    chosen = short_form.jig_settings(jig, short.words, short.units)
    short_form.require_all(jig, chosen)
    return embedded.of_jig(jig.name, chosen, jig.settings(chosen, short.units), short.units)


def _give_back(carried: Carried, out: str | None, force: bool) -> None:
    """Print what was carried, or write it into a file that is not there yet."""
    from pathlib import Path  # noqa: PLC0415 - help needs none of this

    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this
    from layout.write import files  # noqa: PLC0415 - help needs none of this

    if out is None:
        _hand_over(carried.content)
        return
    path = Path(out)
    if path.is_dir():
        raise CannotRead(f"{out} is a folder; name a file, such as {path / carried.name}")
    if path.exists() and not force:
        raise CannotRead(f"{out} is there already, and nothing is written over it; take another name, or add --force")
    files.save(path.parent, {path.name: carried.content})
    _echo(str(path))


def _hand_over(content: bytes) -> None:
    """Print what was carried: to the byte, but on a terminal nothing that steers it."""
    if _is_terminal(err=False):
        _write(_harmless(content.decode(errors="replace")), end=False)
    else:
        _write(content, end=False)


def _box_text(carried: Carried) -> str:
    """Return the box file that a sheet carries."""
    from jigs.base.errors import CannotRead  # noqa: PLC0415 - help needs none of this

    try:
        return carried.content.decode()
    except UnicodeDecodeError:
        raise CannotRead("the box file in the sheet is damaged: it is not UTF-8 text") from None


def _redraw_box(carried: Carried, values: dict[str, str], given: dict[str, Any]) -> None:
    from jigs.boxfile import change, reading  # noqa: PLC0415 - help needs none of this

    text = _box_text(carried)
    read = change.box_with(text, values, carried.name)
    if values:
        _say_changes(reading.read(text, carried.name), read, values)
    _draw_box(read, given)


def _say_changes(before: BoxFile, after: BoxFile, values: dict[str, str]) -> None:
    """Say what of a box is not what it was, ahead of its sheets."""
    from jigs.box import chain, report  # noqa: PLC0415 - help needs none of this
    from jigs.boxfile import change  # noqa: PLC0415 - help needs none of this

    _tell(tuple(change.cutter_taken(before, after, values)), after.units)
    _echo(report.changes(chain.work_out(before), chain.work_out(after)), err=True)
    _echo("", err=True)


def _redraw_jig(carried: Carried, values: dict[str, str], given: dict[str, Any]) -> None:
    from jigs.base.catalogue import find  # noqa: PLC0415 - help needs none of this
    from jigs.base.errors import JigleafError  # noqa: PLC0415 - help needs none of this
    from jigs.boxfile import change  # noqa: PLC0415 - help needs none of this
    from layout.carry import embedded, short_form  # noqa: PLC0415 - help needs none of this

    settings = embedded.jig_settings(carried)
    jig, units = find(settings.jig), settings.units
    changed = short_form.jig_settings(jig, values, units)
    try:
        chosen = change.jig_with(settings.chosen(jig), changed)
    except JigleafError as error:
        error.units = units
        raise
    _draw_jig(jig, dict.fromkeys(p.name for p in jig.parameters) | chosen | given | {"units": units, "as_json": False})


if __name__ == "__main__":
    main()
