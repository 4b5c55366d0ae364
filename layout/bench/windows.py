"""The windows that look at the bench: when the last is closed it ends after a while."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field

CLOSED = 20.0
"""Seconds after the last window was closed: one that is loaded anew comes back within them."""
SILENT = 3600.0
"""Seconds after which a window that was not closed and says nothing any more is taken for gone."""
NOBODY = 900.0
"""Seconds in which nobody has come at all."""
_MOST = 200


@dataclass
class Windows:
    """When each window was last heard of, by its name; `now` is a clock in seconds."""

    now: Callable[[], float] = time.monotonic
    _seen: dict[str, float] = field(default_factory=dict)
    _empty_since: float = field(default=0.0)
    _anybody: bool = False
    _lock: threading.Lock = field(default_factory=threading.Lock, repr=False)

    def __post_init__(self) -> None:
        self._empty_since = self.now()

    def heard(self, window: str) -> None:
        """Note that a window looks at the bench."""
        with self._lock:
            self._anybody = True
            self._seen[window] = self.now()
            if len(self._seen) > _MOST:
                self._seen.pop(min(self._seen, key=lambda name: self._seen[name]))

    def closed(self, window: str) -> None:
        """Note that a window was closed."""
        with self._lock:
            self._seen.pop(window, None)
            self._empty_since = self.now()

    @property
    def all_gone(self) -> bool:
        """Whether nobody looks at the bench any more, and has not for a while."""
        with self._lock:
            now = self.now()
            self._seen = {name: at for name, at in self._seen.items() if now - at < SILENT}
            return not self._seen and now - self._empty_since > (CLOSED if self._anybody else NOBODY)
