"""Modules that are loaded when something of them is first used, for a program whose help must come at once.

    with lazily():
        from jigs.boxfile import reading

It is Python's own way to put a module off (importlib.util.LazyLoader) behind an import that reads, and is checked,
like any other.
"""

from __future__ import annotations

import sys
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib.machinery import ModuleSpec
from importlib.util import LazyLoader
from types import ModuleType

_put_off: list[str] = []


def load() -> None:
    """Load all that was put off. Where several threads use it this comes first: a module half loaded looks whole."""
    while _put_off:
        module = sys.modules.get(_put_off.pop())
        if module is not None:
            getattr(module, "__doc__", None)  # to ask it for anything loads it


class _Finder:
    """Finds modules where the other finders do, and puts off what they hold."""

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None, /
    ) -> ModuleSpec | None:
        """Return where a module is, or None where no other finder knows it."""
        found = (finder.find_spec(fullname, path, target) for finder in sys.meta_path if finder is not self)
        spec = next((spec for spec in found if spec is not None), None)
        if spec is not None and spec.loader is not None:
            spec.loader = LazyLoader(spec.loader)
            _put_off.append(fullname)
        return spec


@contextmanager
def lazily() -> Iterator[None]:
    """Put off what is imported in here, which are modules as a whole: to name something of one loads it."""
    finder = _Finder()
    sys.meta_path.insert(0, finder)
    try:
        yield
    finally:
        sys.meta_path.remove(finder)
