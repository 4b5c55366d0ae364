"""Work shared out between processes, handed back as it is finished."""

from __future__ import annotations

import concurrent.futures
import multiprocessing
import os
import signal
import threading
from collections.abc import Callable, Iterator
from concurrent.futures.process import BrokenProcessPool
from multiprocessing.connection import wait
from typing import TypeVar

from jigs.base.errors import MachineFault

Asked = TypeVar("Asked")
Done = TypeVar("Done")


def start_worker() -> None:
    """Leave Ctrl-C to the parent, and end with it: a parent that is killed can't tell its workers to stop."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()

    def follow() -> None:
        assert parent is not None, "a worker has a parent"
        wait([parent.sentinel])
        os._exit(1)

    threading.Thread(target=follow, daemon=True).start()


class Workers:
    """Several processes, started with the first work that there is; open them with `with`."""

    def __init__(self, count: int) -> None:
        self.count = count
        self.pool: concurrent.futures.ProcessPoolExecutor | None = None

    def __enter__(self) -> Workers:
        return self

    def __exit__(self, *_: object) -> None:
        if self.pool is not None:
            self.pool.shutdown(wait=True, cancel_futures=True)

    def done(self, do: Callable[[Asked], Done], work: Iterator[Asked], waiting: int = 0) -> Iterator[Done]:
        """Do pieces of work, several at once, and go through them as they are finished. Raises MachineFault.

        So many more are handed over before a process is free for them: small ones leave none idle.
        """
        if self.count <= 1:
            yield from map(do, work)
            return
        first = next(work, None)
        if first is None:
            return
        if self.pool is None:
            context = multiprocessing.get_context("spawn")
            self.pool = concurrent.futures.ProcessPoolExecutor(self.count, context, start_worker)
        try:
            running = {self.pool.submit(do, first)}
            while True:
                # No more than they can chew: rows wait in the list, not in memory.
                for piece in work:
                    running.add(self.pool.submit(do, piece))
                    if len(running) >= self.count + waiting:
                        break
                if not running:  # all that ran may have ended at once while there was more to do
                    return
                finished, running = concurrent.futures.wait(running, return_when=concurrent.futures.FIRST_COMPLETED)
                for future in finished:
                    yield future.result()
        except BrokenProcessPool as error:
            raise MachineFault(
                "a worker process stopped; finished files are kept. Run the same command again to go on"
            ) from error
