"""Modules that are loaded when something of them is first used, for a program whose help must come at once.

    with lazily():
        from jigs.boxfile import reading

It is Python's own way to put a module off (importlib.util.LazyLoader) behind an import that reads, and is checked,
like any other. Threads may come to a module at once: one loads it and the others wait, as they do from Python 3.12.
"""

from __future__ import annotations

import sys
import threading
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from importlib.abc import Loader
from importlib.machinery import ModuleSpec
from importlib.util import LazyLoader
from types import ModuleType


class _Finder:
    """Finds modules where the other finders do, and puts off what they hold."""

    def find_spec(
        self, fullname: str, path: Sequence[str] | None, target: ModuleType | None = None, /
    ) -> ModuleSpec | None:
        """Return where a module is, or None where no other finder knows it."""
        found = (finder.find_spec(fullname, path, target) for finder in sys.meta_path if finder is not self)
        spec = next((spec for spec in found if spec is not None), None)
        if spec is not None and spec.loader is not None:
            spec.loader = _Loader(spec.loader)
        return spec


class _Loader(LazyLoader):
    """Puts a module off so that threads wait for one another."""

    def __init__(self, loader: Loader) -> None:
        super().__init__(loader)
        self.own = loader

    def exec_module(self, module: ModuleType) -> None:
        """Leave the module empty until something of it is named."""
        assert module.__spec__, "a module that is put off was found by its spec"
        module.__spec__.loader = module.__loader__ = self.own
        state = {"lock": threading.RLock(), "loading": False}
        module.__spec__.loader_state = state
        module.__class__ = _PutOff


class _PutOff(ModuleType):
    """A module that is not loaded yet."""

    def __getattribute__(self, name: str) -> object:
        """Load the module, unless another thread does, and then return what was named."""
        given = super().__getattribute__
        spec = given("__spec__")
        with spec.loader_state["lock"]:
            if given("__class__") is _PutOff:
                if spec.loader_state["loading"]:  # it asks for itself while it is loaded
                    return given(name)
                spec.loader_state["loading"] = True
                spec.loader.exec_module(self)
                self.__class__ = ModuleType  # type: ignore[assignment]  # it is one from now on
        return getattr(self, name)


@contextmanager
def lazily() -> Iterator[None]:
    """Put off what is imported in here, which are modules as a whole: to name something of one loads it."""
    finder = _Finder()
    sys.meta_path.insert(0, finder)
    try:
        yield
    finally:
        sys.meta_path.remove(finder)
