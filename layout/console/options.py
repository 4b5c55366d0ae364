"""Options that several commands have, and those that are made from the settings of a jig."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable, Mapping
from typing import TYPE_CHECKING, Any, cast

import click

from jigs.base.lazily import lazily
from jigs.base.wrapping import WIDTH

with lazily():  # so that help comes at once
    from jigs.base import errors, lengths

if TYPE_CHECKING:
    from jigs.base.kinds import Kind
    from jigs.base.lengths import Units
    from jigs.base.settings import Setting

_LONGEST_DATE = 30
_LONGEST_CHOICE = 40
Decorator = Callable[[Callable[..., None]], Callable[..., None]]


def completing(words: Callable[[click.Context], Iterable[str]]) -> Callable[..., list[str]]:
    """Return what click asks for the words that go on from what is typed. A shell is never answered with a fault."""

    def complete(ctx: click.Context, param: click.Parameter, incomplete: str) -> list[str]:
        del param
        try:
            return [word for word in words(ctx) if word.lower().startswith(incomplete.lower())]
        except (errors.JigleafError, click.ClickException):
            return []

    return complete


def with_options(*options: Decorator) -> Decorator:
    """Add options to a command, in this order."""

    def decorated(command: Callable[..., None]) -> Callable[..., None]:
        for option in reversed(options):
            command = option(command)
        return command

    return decorated


def units_option(said: str) -> Decorator:
    """Add the option that says what a bare number means."""
    return click.option("--units", type=click.Choice(["mm", "in"]), default="mm", is_eager=True, help=said)


def out_option(said: str, default: str = ".") -> Decorator:
    """Add the option that names the folder for files."""
    return click.option("-o", "--out", type=click.Path(), default=default, help=said)


def json_option(said: str) -> Decorator:
    """Add the option that asks for numbers."""
    return click.option("--json", "as_json", is_flag=True, help=said)


def length_options(helps: Mapping[str, str]) -> Decorator:
    """Add an option that takes a length for every name."""
    return with_options(*(click.option(flag(name), metavar="LENGTH", help=said) for name, said in helps.items()))


def flag(name: str) -> str:
    """Return an option as it is typed: flush_high is --flush-high."""
    return f"--{name.replace('_', '-')}"


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


def setting_option(setting: Setting) -> Decorator:
    """Return the command-line option of a setting, its limits in its help."""
    kind = setting.kind
    said = f"{kind.help}, {kind.limits}" if kind.limits else kind.help
    extra: dict[str, Any] = {"required": setting.required}
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
        extra["shell_complete"] = completing(lambda ctx: kind.examples)
    if setting.default_said:
        said += f"  [default: {setting.default_said}]"
    return click.option(flag(setting.name), help=said[0].upper() + said[1:], **extra)


def as_example(command: str) -> str:
    """Return a command as an example of a help text, broken as a shell takes it, at options."""
    rows = [""]
    for piece in re.split(r" (?=--)", command):
        if rows[-1] and len(rows[-1]) + len(piece) > WIDTH - 6:
            rows[-1] += " \\"
            rows.append(f"   {piece}")
        else:
            rows[-1] += f" {piece}"
    return "\n".join(["\b", "Example:", *(f" {row}" for row in rows)])


def short_date(ctx: click.Context, param: click.Parameter, value: str) -> str:
    """Return a date that finds room in a title block. Raises BadParameter for a longer one."""
    del ctx, param
    if len(value) > _LONGEST_DATE:
        raise click.BadParameter(f"a date has at most {_LONGEST_DATE} characters; this has {len(value)}")
    return value


def typed_changes(typed: tuple[str, ...]) -> dict[str, str]:
    """Return what was typed behind --set, by key. Raises CannotRead for what is no KEY=VALUE."""
    values: dict[str, str] = {}
    for words in typed:
        key, equals, value = (part.strip() for part in words.partition("="))
        if not (equals and key and value):
            raise errors.CannotRead(f"--set: '{words}' is not KEY=VALUE, as in --set joint.finger=1/4")
        if key in values:
            raise errors.CannotRead(f"--set: {key} is set twice")
        values[key] = value
    return values


def as_typed(message: str, read: dict[str, float], typed: dict[str, str | None]) -> str:
    """Put readings as they were typed: in inches a message has the 1/64 and not 0.396875."""
    for name, value in read.items():
        message = re.sub(rf"\b{name}( is)? {re.escape(f'{value:g}')}\b", rf"{name}\1 {typed[name]}", message)
    return message


def typed_lengths(typed: dict[str, str | None], units: Units) -> dict[str, float]:
    """Return the lengths that were typed, mm, by option. Raises CannotRead for what is none."""
    return {name: _typed_length(name, text, units) for name, text in typed.items() if text is not None}


def _typed_length(name: str, text: str, units: Units) -> float:
    try:
        return float(lengths.read(text, units))
    except lengths.LengthError as error:
        raise errors.CannotRead(f"{flag(name)}: {error}") from error
