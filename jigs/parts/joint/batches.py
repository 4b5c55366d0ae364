"""Which ends of the boards are cut together, in two batches: only ends of one batch are mates."""

from __future__ import annotations

from collections.abc import Mapping

from jigs.trade.passes import KeySide

ENDS: Mapping[str, tuple[str, tuple[str, str]]] = {
    "A": ("1A, 3A", ("right", "left")),
    "B": ("2B, 4B", ("left", "right")),
}
"""The corners of each batch, and which end of front and back, and of both ends, is cut: seen on their outer faces."""


def facing(key_side: KeySide) -> dict[str, tuple[str, str]]:
    """Return which face of front and back, and of the ends, looks at you in each batch.

    A board stands on the end that is cut, its bottom edge to the key. Seen on its outer face and with the key on the
    right it was turned a quarter anticlockwise: its left end is down. A key on the left turns it the other way.
    """
    turned = ("inside", "outside"), ("outside", "inside")
    first, second = turned if key_side == "right" else turned[::-1]
    return {"A": first, "B": second}
