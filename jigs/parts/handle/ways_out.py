"""Ways out of the rules of screws: the nearest size that works, where no formula gives it."""

from __future__ import annotations

from collections.abc import Callable

from jigs.parts.handle.part import settled
from jigs.parts.handle.screws import Screwed
from jigs.record import replace

_HALVINGS = 40


def with_neck(made: Screwed, neck: float) -> Screwed:
    """Return a handle with its screws and another neck, as long as that makes it."""
    handle = settled(replace(made.handle.asked, neck=neck, length=None), made.handle.units)
    return replace(made, handle=handle)


def with_bite(made: Screwed, bite: float) -> Screwed:
    """Return a handle whose screws go in another length."""
    return replace(made, screws=replace(made.screws, bite=bite))


def nearest(works: Callable[[float], bool], bad: float, far: float) -> float | None:
    """Return the size nearest to a bad one from which on to a far one it works; None where that does not work.

    Sizes between are taken to fail up to one, and to work from there.
    """
    if not works(far):
        return None
    for _ in range(_HALVINGS):
        at = (bad + far) / 2
        bad, far = (bad, at) if works(at) else (at, far)
    return far
