"""A piece at full size with all that is written on it, as something with a size that is placed on a page."""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.record import Record, replace
from layout.sheet.marks import Group


class Block(Record):
    """Marks with a size, in mm; `drawn` gives them where the block stands.

    A block's own axes start at its upper left corner: x to the right, y up, so that everything lies below 0. `check` is
    the dimension to hold a ruler to; `critical` stays on one page where the block is parted; `alone` it is such a part,
    and wants a page to itself.
    """

    name: str
    width: float
    height: float
    parts: tuple[Group, ...]
    writing: tuple[Group, ...]
    check: draw.Dimension | None = None
    critical: draw.Bounds | None = None
    alone: bool = False
    left: float = 0.0
    top: float = 0.0

    @property
    def box(self) -> draw.Bounds:
        """Where the block stands."""
        return draw.Bounds(self.left, self.top - self.height, self.left + self.width, self.top)

    def at(self, left: float, top: float) -> Block:
        """Return the block with its upper left corner at a place on the page."""
        return replace(self, left=left, top=top)

    def drawn(self) -> tuple[tuple[Group, ...], tuple[Group, ...]]:
        """Return its parts and its writing where it stands: moved once, however many places are tried."""
        parts, writing = (tuple(g.moved(self.left, self.top) for g in groups) for groups in (self.parts, self.writing))
        return parts, writing
