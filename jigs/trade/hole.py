"""A round hole in the face of a board that stands on its base: what of wood is between it and others, and screws.

Axes of the face: x from its middle, y up from its base. Lengths are in one unit.
"""

from __future__ import annotations

import math

from jigs.record import Record


class Hole(Record):
    """A hole as cut: its centre, and its radius. A radius of 0 is a corner of the outline, measured likewise."""

    x: float
    y: float
    radius: float

    @property
    def opens(self) -> bool:
        """Whether the base cuts through it: it is then an arch over two feet."""
        return abs(self.y) < self.radius

    @property
    def opening(self) -> float:
        """What it takes out of the base: the chord 2·√(radius² − y²), 0 where it is closed."""
        return 2 * math.sqrt(self.radius**2 - self.y**2) if self.opens else 0.0

    def apart(self, other: Hole) -> float:
        """Return the wood between two holes, on the line of their centres; negative where they meet."""
        return math.hypot(self.x - other.x, self.y - other.y) - self.radius - other.radius

    def is_over(self, at: float) -> bool:
        """Whether it is right over the base at x."""
        return abs(at - self.x) < self.radius

    def above_base(self, at: float) -> float:
        """Return the wood from the base up to its rim at x, where it is over that; 0 where it is open there.

        Raises ValueError for an x that it is not over.
        """
        if not self.is_over(at):
            raise ValueError(f"at is {at:g}; it must be under the hole, within {self.radius:g} of {self.x:g}")
        return max(0.0, self.y - math.sqrt(self.radius**2 - (at - self.x) ** 2))

    def beside(self, at: float, bite: float) -> float:
        """Return the wood from the middle of a screw at x, so deep from the base, to the rim.

        The screw is a line from (at, 0) to (at, bite): the point of it that is nearest is at the centre's height, or at
        the end of the screw that is nearer to that. An arch that is widest at the base is nearest there, at its corner.
        """
        if self.opens and self.y < 0:
            return abs(at - self.x) - self.opening / 2
        nearest = min(max(self.y, 0.0), bite)
        return math.hypot(self.x - at, self.y - nearest) - self.radius
