"""Words on a terminal: wrapped, painted, harmless; and errors as messages with exit codes."""

from __future__ import annotations

import contextlib
import gc
import io
import os
import re
import signal
import sys
import unicodedata
from collections.abc import Callable
from typing import TYPE_CHECKING, Any, TextIO, TypeVar

import click

from jigs.base import wrapping
from jigs.base.lazily import lazily

with lazily():  # so that help comes at once
    from jigs.base import disk, errors

if TYPE_CHECKING:
    from types import FrameType

Made = TypeVar("Made")

"""Columns to keep within on a terminal."""

STOPPED = "stopped; nothing was written"

_PAINT: dict[str, dict[str, Any]] = {
    "Error": {"fg": "red", "bold": True},
    "DANGER": {"fg": "red", "bold": True},
    "WARNING": {"fg": "yellow", "bold": True},
    "GET": {"bold": True},
    "CHOOSE": {"bold": True},
}
"""How the word that a message begins with is shown on a terminal. The word says it all; colour only finds it."""


class Helped(click.Command):
    """A command whose option for help says what it shows."""

    def get_help_option(self, ctx: click.Context) -> click.Option | None:
        """Return the option that shows the help of the command."""
        option = super().get_help_option(ctx)
        if option is not None:
            option.help = "Show this help."
        return option


class Speaking(Helped, click.Group):
    """A group whose errors are put into the words and the exit code of the job."""

    command_class = Helped

    def main(self, *args: Any, **kwargs: Any) -> Any:
        """Run a command, then turn what it raises into a message and an exit code."""
        if isinstance(sys.stdout, io.TextIOWrapper) and sys.stdout.errors == "strict":
            sys.stdout.reconfigure(errors="backslashreplace")  # a letter it can't write stops no work
        _end_in_imports()
        _short_lived()
        try:
            ended = super().main(*args, **kwargs | {"standalone_mode": False})
        except click.exceptions.Abort:
            echo(STOPPED, err=True)
            sys.exit(130)
        except click.UsageError as error:
            if error.ctx:
                echo(error.ctx.get_usage(), err=True)
            say(f"Error: {error.format_message()}{_of_quotes(error.format_message())}")
            sys.exit(error.exit_code)
        except Exception as error:
            if isinstance(error, OSError | MemoryError):
                _to_nobody(sys.stdout)
                error = errors.MachineFault(_fault(error))
            if not isinstance(error, errors.JigleafError):
                raise error
            say(error.says(error.units))
            sys.exit(error.exit_code)
        sys.exit(ended if isinstance(ended, int) else 0)


def _of_quotes(said: str) -> str:
    """Return what to do where a shell took a length with a blank for two words."""
    parted = re.search(r"unexpected extra argument.*\d/\d", said)
    return '. Put a length with a blank into quotes, as in "3 5/8", or write 3-5/8.' if parted else ""


def _fault(error: OSError | MemoryError) -> str:
    """Return what stops the work where nobody who knows more has said so."""
    if isinstance(error, MemoryError):
        return "Can't go on: the memory of this computer is full"
    if error.filename is None:
        return f"Can't go on: {disk.reason(error)}"
    return disk.cannot("use", str(error.filename), error)


_COLLECTED = 50_000
"""New objects after which the garbage collector looks for what is not wanted any more; Python itself says 700."""


def _short_lived() -> None:
    """Set Python and the libraries for a command that is over in a second.

    A drawing is some hundred thousand small tuples, all of them wanted, and to look through them again and again took
    a tenth of the time to draw them. numpy's library for matrices starts a thread for each core, which wait busily;
    there is no matrix here worth a second one. pydantic asks every installed package for plug-ins; it needs none.
    """
    gc.set_threshold(_COLLECTED)
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")


def _end_in_imports() -> None:
    """Have Ctrl-C end the program at once while a library starts: some make another error of it, or print it all."""

    def stop(number: int, frame: FrameType | None) -> None:
        del number
        while frame is not None:
            if "importlib" in frame.f_code.co_filename:
                os.write(2, f"{STOPPED}\n".encode())
                os._exit(130)
            frame = frame.f_back
        raise KeyboardInterrupt

    with contextlib.suppress(ValueError):  # only the main thread of a program hears it
        signal.signal(signal.SIGINT, stop)


def say(message: str, *, err: bool = True) -> None:
    """Say something within the width of a terminal; its first words are painted where there is a terminal to do so."""
    rows = wrapped(harmless(message))
    if is_terminal(err) and not os.environ.get("NO_COLOR") and os.environ.get("TERM") != "dumb":  # no-color.org
        words = "|".join(_PAINT)
        rows = re.sub(rf"^({words}):", lambda found: click.style(found[0], **_PAINT[found[1]]), rows, flags=re.M)
    write(rows, err=err)


def echo(words: str = "", *, err: bool = False) -> None:
    """Write a line: on a terminal nothing that steers it, into a file or a pipe letter by letter."""
    write(harmless(words) if is_terminal(err) else words, err=err)


def is_terminal(err: bool) -> bool:
    """Whether a stream goes to a person's terminal."""
    stream = sys.stderr if err else sys.stdout
    return stream is not None and stream.isatty()


def harmless(words: str) -> str:
    """Return words without what steers a terminal or turns the writing round: names and files come from anywhere."""
    steers = {"Cc", "Cf", "Cs", "Zl", "Zp"}
    return "".join("\ufffd" if unicodedata.category(c) in steers and c not in "\n\t" else c for c in words)


def write(words: str | bytes, *, err: bool = False, end: bool = True) -> None:
    """Write words as they are. A reader who has gone away has read all that was wanted; the work goes on.

    Raises MachineFault where results can't be written; where messages can't be, there is nobody to tell.
    """
    try:
        click.echo(words, nl=end, err=err, color=True)  # which is: leave them alone
    except OSError as error:
        _to_nobody(sys.stderr if err else sys.stdout)
        if not err and not isinstance(error, BrokenPipeError):
            raise errors.MachineFault(disk.cannot("write", "to standard output", error)) from error


def _to_nobody(stream: TextIO) -> None:
    """Let go of a stream that takes nothing more, or the end of Python would try once more."""
    with contextlib.suppress(OSError):  # a stream of a test is no file
        os.dup2(os.open(os.devnull, os.O_WRONLY), stream.fileno())


def wrapped(message: str) -> str:
    """Wrap each line of a message to the terminal, keeping its indent."""
    rows = []
    for row in message.splitlines():
        indent = row[: len(row) - len(row.lstrip())]
        rows += wrapping.wrapped(row.strip(), indent, indent or "      ") or [""]
    return "\n".join(rows)


def with_progress(make: Callable[[Callable[[int, int, str], None]], Made]) -> Made:
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
    kept = ""
    for letter in filter(str.isprintable, words):
        columns -= 2 if unicodedata.east_asian_width(letter) in "WF" else 1
        if columns < 0:
            break
        kept += letter
    return kept
