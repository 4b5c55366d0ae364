"""A run in a process of its own, beside a program that goes on: it tells how far it is, and can be stopped."""

from __future__ import annotations

import multiprocessing
from collections.abc import Iterator, Sequence
from contextlib import suppress
from multiprocessing.connection import Connection
from multiprocessing.synchronize import Event

from jigs.base.errors import JigleafError, MachineFault
from jigs.course.class_list import Fault
from jigs.record import Record
from layout.course import run
from layout.course.run import Asked, Outcome, Stopped
from layout.course.workers import start_worker

_CONTEXT = multiprocessing.get_context("spawn")
_LONGEST = 5.0
"""Seconds that a process is given to end in."""


class Step(Record):
    """So many steps of so many are done, the last of them this."""

    done: int
    of: int
    what: str


class Begins(Record):
    """The files of a row are being drawn."""

    row: int


class Ends(Record):
    """The files of a row are there, or there are none for these faults."""

    row: int
    faults: tuple[Fault, ...]


class Over(Record):
    """The run is over: with its outcome, or stopped as it was told to, or for a reason in words."""

    outcome: Outcome | None = None
    error: str = ""


News = Step | Begins | Ends | Over


class Apart:
    """A run that was begun. Go through `news` to follow it; the last of them is that it is over.

    Raises MachineFault where no process can be started.
    """

    def __init__(self, asked: Asked) -> None:
        self._news, to = _CONTEXT.Pipe(duplex=False)
        self._stop = _CONTEXT.Event()
        self._process = _CONTEXT.Process(target=_work, args=(asked, to, self._stop), name="jigleaf class")
        try:
            self._process.start()
        except OSError as error:
            raise MachineFault(f"Can't start a process: {error.strerror}") from error
        to.close()  # so that the end of the process is the end of the news

    def news(self) -> Iterator[News]:
        """Yield what the run tells until it is over."""
        with suppress(EOFError, OSError):
            while True:
                told: News = self._news.recv()
                yield told
                if isinstance(told, Over):
                    self._process.join(_LONGEST)
                    return
        yield Over(error="The run broke off. What is finished is kept; make it again to go on.")

    def stop(self) -> None:
        """Let the run end with the students who are at work."""
        self._stop.set()

    def end(self) -> None:
        """End the run: with the students who are at work where they take no longer than a few seconds.

        In the middle of their work its files are whole all the same, or not there.
        """
        self.stop()
        self._process.join(_LONGEST)
        if self._process.is_alive():
            self._process.terminate()
            self._process.join(_LONGEST)


class _Teller(run.Watch):
    """Tells the news of a run."""

    def __init__(self, to: Connection, stop: Event) -> None:
        self.to, self.stop = to, stop

    @property
    def stops(self) -> bool:
        return self.stop.is_set()

    def begins(self, row: int) -> None:
        self.to.send(Begins(row))

    def ends(self, row: int, faults: Sequence[Fault]) -> None:
        self.to.send(Ends(row, tuple(faults)))

    def step(self, done: int, of: int, what: str) -> None:
        self.to.send(Step(done, of, what))


def _work(asked: Asked, to: Connection, stop: Event) -> None:
    """Make a class. This is what the process does."""
    start_worker()
    teller = _Teller(to, stop)
    try:
        over = Over(run.make(asked, teller.step, teller))
    except Stopped:
        over = Over()
    except JigleafError as error:
        over = Over(error=f"{error}.")
    to.send(over)
