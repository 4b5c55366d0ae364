"""The fit of a test joint on a scale: how it is now, how it will be, and what is good. Lengths in mm."""

from __future__ import annotations

import math

from jigs.base import lengths
from jigs.base.lengths import Units
from jigs.base.wording import TYPED
from jigs.parts.joint.trial_joint import good_clearance
from jigs.parts.joint.tuned_sled import Compared
from jigs.record import Record
from jigs.trade.tune import Tuning

_BEYOND = 1.15
"""The scale goes on so far beyond all that stands on it, as a share."""
_MOST = 6
"""Numbers on a scale beside 0."""


class Scale(Record):
    """A length as it is `now` and as it will be `then`, within `error`; it is good from `low` to `high`.

    The scale goes from 0 to `top`, with a number every `step`.
    """

    title: str
    good: str
    now: float
    then: float
    error: float
    low: float
    high: float
    top: float
    step: float
    units: Units

    @property
    def numbers(self) -> list[tuple[float, str]]:
        """The numbers on it, with their places."""
        count = round(self.top / self.step)
        return [(i * self.step, self.said(i * self.step) if i else "0") for i in range(count + 1)]

    def said(self, mm: float) -> str:
        """Return a length as it is read out on it."""
        return lengths.bare(mm, self.units, "gauge")


def scales(tuning: Tuning, compared: Compared, units: Units, *, stopped: bool) -> list[Scale]:
    """Return the scales of the clearance and, where they were read, of the bottom edges out."""
    least, most = good_clearance(compared.drawn.wanted.clearance)
    clearance = max(0.0, tuning.clearance.value)
    then = clearance if stopped else tuning.clearance_expected
    low, high = (lengths.bare(limit, units, "gauge") for limit in (least, most))
    error = tuning.clearance.error.worst
    found = [_scale("Clearance", f"good is {low} to {high}", clearance, then, error, (least, most), units)]
    if tuning.flush is not None and tuning.flush_expected is not None:
        out = tuning.flush.value if stopped else tuning.flush_expected
        found.append(
            _scale(
                "Bottom edges out", f"good is {high} at most", abs(tuning.flush.value), abs(out),
                tuning.flush.error.worst, (0.0, most), units,
            )
        )  # fmt: skip
    return found


def _scale(
    title: str, good: str, now: float, then: float, error: float, limits: tuple[float, float], units: Units
) -> Scale:
    low, high = limits
    top = _BEYOND * max(now, then + error, high)
    step = _step(top, units)
    return Scale(title, good, now, then, error, low, high, math.ceil(top / step - 1e-9) * step, step, units)


def _step(top: float, units: Units) -> float:
    """Return the step of numbers, 1, 2 or 5 times a power of ten in the units of the job: a few of them to the top."""
    wanted = top / _MOST / TYPED[units]
    power = 10.0 ** math.floor(math.log10(wanted))
    return next(times * power for times in (1, 2, 5, 10) if times * power >= wanted - 1e-9) * TYPED[units]
