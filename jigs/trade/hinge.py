"""A template that guides a router round the recess of a hinge leaf, by a bush or a bearing."""

from __future__ import annotations

from jigs.record import Record
from jigs.trade.limits import positive


class Recess(Record):
    """Opening of the template and the recess it makes, mm.

    `offset` is how far the cutter stays inside the opening; `depth` is measured from the edge of the box to the far
    side of the opening.
    """

    offset: float
    opening: float
    depth: float
    wood_radius: float
    template_radius: float


def recess(*, leaf_length: float, leaf_depth: float, bush: float, cutter: float) -> Recess:
    """Return the template for a leaf let in from the edge of the box.

    The bush runs along the opening and the cutter is o = (B − d)/2 inside it, so the opening is the leaf and o on
    each side that is guided: both ends, and the back. Raises ValueError where the bush is smaller than the cutter.
    """
    positive(leaf_length=leaf_length, leaf_depth=leaf_depth, bush=bush, cutter=cutter)
    if bush < cutter:
        raise ValueError(f"bush is {bush:g}; it must be at least the cutter, {cutter:g}")
    offset = (bush - cutter) / 2
    return Recess(offset, leaf_length + 2 * offset, leaf_depth + offset, cutter / 2, bush / 2)


def recess_depth(*, closed: float, gap: float) -> float:
    """Return how deep each leaf is let in: half of the closed hinge less the gap that is to be left.

    Raises ValueError where the gap is as wide as the closed hinge, which then needs no recess.
    """
    positive(closed=closed)
    if not 0 <= gap < closed:
        raise ValueError(f"gap is {gap:g}; it must be from 0 to less than the closed hinge, {closed:g}")
    return (closed - gap) / 2
