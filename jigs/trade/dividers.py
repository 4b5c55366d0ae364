"""Half-lapped dividers: equal compartments, and the slots in which the dividers cross."""

from __future__ import annotations

from jigs.record import Record
from jigs.trade.limits import not_negative, positive, within


class Slots(Record):
    """The slots of one divider, from its left end; `clear` is the opening of a compartment, mm."""

    clear: float
    starts: tuple[float, ...]
    width: float
    depth: float
    length: float


def slots(
    *, inside: float, compartments: int, thickness: float, height: float, clearance: float, play: float, relief: float
) -> Slots:
    """Return the slots of the dividers that run along `inside`.

    N compartments share what N − 1 crossing dividers leave: clear = (I − (N − 1)·τ)/N, and slot j starts at
    j·clear + (j − 1)·τ. A slot is wider than the divider by `clearance`, half of it on each side, and deeper than half
    its height by `relief`, so that the edges meet before the slots bottom. The divider is shorter than the inside by
    `play`, half at each end. Raises ValueError for sizes that leave no compartment.
    """
    within(1, 1000, compartments=compartments)
    positive(inside=inside, thickness=thickness, height=height)
    not_negative(clearance=clearance, play=play, relief=relief)
    clear = (inside - (compartments - 1) * thickness) / compartments
    if clear <= 0:
        raise ValueError(f"inside is {inside:g}; {compartments - 1} dividers of {thickness:g} leave no room")
    first = (clearance + play) / 2
    starts = tuple(j * clear + (j - 1) * thickness - first for j in range(1, compartments))
    return Slots(clear, starts, thickness + clearance, height / 2 + relief, inside - play)
