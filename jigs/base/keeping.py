"""Results that are kept for the next call, by what they are made from as it is written out.

`functools.lru_cache` asks whether two inputs are equal, and to Python -0.0 is 0.0 and 12 is 12.0. On paper they differ:
a count is no length, and a page's mark is made from all signs. So an input is known here by its `repr`, which for the
drawing model is all there is of it. What comes out must never be changed by whoever gets it.
"""

from __future__ import annotations

import functools
from collections.abc import Callable
from typing import Generic, ParamSpec, TypeVar

_Inputs = ParamSpec("_Inputs")
_Input = TypeVar("_Input")
_Result = TypeVar("_Result")


class _Asked(Generic[_Result]):
    """One call: the same as another where it is written alike."""

    def __init__(self, written: str, work: Callable[[], _Result]) -> None:
        self.written, self.work = written, work

    def __hash__(self) -> int:
        return hash(self.written)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Asked) and self.written == other.written


def kept(most: int) -> Callable[[Callable[_Inputs, _Result]], Callable[_Inputs, _Result]]:
    """Keep the last results of a function, so many at most. All that an input says must stand in its `repr`."""

    def keeping(function: Callable[_Inputs, _Result]) -> Callable[_Inputs, _Result]:
        @functools.lru_cache(maxsize=most)
        def found(asked: _Asked[_Result]) -> _Result:
            return asked.work()

        @functools.wraps(function)
        def asking(*args: _Inputs.args, **words: _Inputs.kwargs) -> _Result:
            asked = _Asked(repr((args, words)), lambda: function(*args, **words))
            try:
                return found(asked)
            finally:
                del asked.work  # of a call that is kept what was asked is enough

        return asking

    return keeping


class _Itself(Generic[_Input]):
    """A thing that is the same as itself alone, however it looks."""

    def __init__(self, thing: _Input) -> None:
        self.thing = thing

    def __hash__(self) -> int:
        return id(self.thing)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Itself) and self.thing is other.thing


def kept_for(most: int) -> Callable[[Callable[[_Input], _Result]], Callable[[_Input], _Result]]:
    """Keep what a function made of the last things it was given, so many at most: of things that never change."""

    def keeping(function: Callable[[_Input], _Result]) -> Callable[[_Input], _Result]:
        @functools.lru_cache(maxsize=most)
        def found(of: _Itself[_Input]) -> _Result:
            return function(of.thing)

        return functools.wraps(function)(lambda thing: found(_Itself(thing)))

    return keeping
