"""A bench from its start to its end: two sockets of this computer, an address, and nobody left in the end."""

from __future__ import annotations

import gc
import logging
import os
import socket
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from waitress.server import create_server

from jigs.base.errors import MachineFault
from jigs.base.lazily import load
from jigs.base.lengths import Units
from layout.bench.alone import claim
from layout.bench.guard import Guard
from layout.bench.kept import Kept
from layout.bench.page import Bench
from layout.bench.server import make_app
from layout.bench.state import State

_THREADS = 4
_OFTEN = 1.0


def serve(path: Path | None, units: Units, started: Callable[[str], None]) -> None:
    """Serve a file until the last window has been closed for a while, or Ctrl-C; `started` is told the address.

    Raises CannotRead and CannotBuild for a file that holds no box, MachineFault where no port is free or another bench
    has the file.
    """
    load()
    logging.getLogger("waitress.queue").setLevel(logging.ERROR)  # a page asks for several things at once
    sockets = _sockets()
    port, kept = sockets[0].getsockname()[1], Kept(path)
    give_back = claim(kept, port)
    bench = Bench(State.opened(kept, units), Guard(port), endings=[give_back])
    server = create_server(
        make_app(bench), sockets=sockets, threads=_THREADS, ident=None, clear_untrusted_proxy_headers=True,
        max_request_body_size=20_000_000, channel_timeout=30,
    )  # fmt: skip
    settle()
    threading.Thread(target=_end_when_alone, args=(bench,), daemon=True).start()
    try:
        with suppress(KeyboardInterrupt):
            started(bench.guard.address)
            server.run()
    finally:
        bench.end()


def settle() -> None:
    """Have the garbage collector look seldom, and never through what was loaded.

    A drawing is some hundred thousand small tuples, all of them wanted. To look through them again and again took
    longer than to draw.
    """
    gc.collect()
    gc.freeze()
    gc.set_threshold(50_000)


def _sockets() -> list[socket.socket]:
    """Return sockets of one port on this computer alone, of the older and, where there is one, the newer protocol."""
    try:
        first = socket.create_server(("127.0.0.1", 0))
    except OSError as error:
        raise MachineFault(f"Can't open a port of this computer: {error.strerror}") from error
    sockets = [first]
    with suppress(OSError):
        sockets.append(socket.create_server(("::1", first.getsockname()[1]), family=socket.AF_INET6))
    return sockets


def _end_when_alone(bench: Bench) -> None:
    """End the program once nobody has looked at the bench for a while: all that was done lies beside the file."""
    while not bench.windows.all_gone:
        time.sleep(_OFTEN)
    with bench.state.lock:  # nothing is half written
        bench.end()
        os._exit(0)
