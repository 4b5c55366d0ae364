"""The checks at the door of the shop arithmetic: each refusal names the argument, its value and the limit."""

from __future__ import annotations

import math


def positive(**values: float) -> None:
    """Raise ValueError for the first value that is not a finite number above 0."""
    for name, value in values.items():
        if not 0 < value < math.inf:
            raise ValueError(f"{name} is {value:g}; it must be more than 0")


def finite(**values: float) -> None:
    """Raise ValueError for the first value that is not a finite number."""
    for name, value in values.items():
        if not math.isfinite(value):
            raise ValueError(f"{name} is {value:g}; it must be a finite number")


def not_negative(**values: float) -> None:
    """Raise ValueError for the first value that is not a finite number from 0 up."""
    for name, value in values.items():
        if not 0 <= value < math.inf:
            raise ValueError(f"{name} is {value:g}; it must be at least 0")


def at_least(least: float, **values: float) -> None:
    """Raise ValueError for the first value that is below `least`."""
    for name, value in values.items():
        if not value >= least:
            raise ValueError(f"{name} is {value:g}; it must be at least {least:g}")


def within(least: float, most: float, **values: float) -> None:
    """Raise ValueError for the first value that is not from `least` to `most`."""
    for name, value in values.items():
        if not least <= value <= most:
            raise ValueError(f"{name} is {value:g}; it must be from {least:g} to {most:g}")


def under(limit: float, **values: float) -> None:
    """Raise ValueError for the first value that is not below `limit`."""
    for name, value in values.items():
        if not value < limit:
            raise ValueError(f"{name} is {value:g}; it must be less than {limit:g}")


def steps_to_cover(total: float, step: float) -> int:
    """Return how many equal steps, none over `step`, cover `total`.

    A millionth of a step is forgiven, so that a total which is a whole number of steps but for the rounding
    of floats does not cost one more.
    """
    return max(1, math.ceil(total / step - 1e-6))
