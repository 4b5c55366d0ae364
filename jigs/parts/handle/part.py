"""The handle, settled. Lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cached_property

from jigs.base.lengths import Units
from jigs.base.usual import CLAMP_PAD, HANDLE_CENTRES_INSIDE, HANDLE_SPARE
from jigs.boxfile.sections import BoxFile, HandleSection
from jigs.trade import handle


# -- handle --------------------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class Handle:
    """The handle, cut with a hole saw; `radius` is half of the hole it really cuts."""

    radius: float
    neck: float
    base: float
    length: float
    height: float
    thickness: float
    crest: float
    units: Units
    asked: HandleSection

    @cached_property
    def holes(self) -> handle.EndHoles:
        """Its outline, and the wood that its holes leave."""
        return handle.EndHoles(self.radius, self.neck, self.hole_height, self.length, self.height, self.crest)

    @property
    def hole_height(self) -> float:
        """Of the holes' centres over the base."""
        return self.radius + self.base

    @property
    def reach(self) -> tuple[float, float]:
        """Lengths between which a hole cuts the end."""
        return self.neck, self.neck + 4 * self.radius

    @property
    def blank_length(self) -> float:
        """A blank in which both holes are wholly in wood, trimmed afterwards."""
        spare = HANDLE_SPARE.size(self.units)
        return handle.blank_length(centre_offset=self.holes.centre_offset, radius=self.radius, spare=spare)

    @property
    def blank_height(self) -> float:
        """A blank in which both holes are wholly in wood, up to its top."""
        return max(self.height, self.hole_height + self.radius + HANDLE_SPARE.size(self.units))

    @property
    def pilot(self) -> handle.Pilot:
        """The pilot drill in either hole, the blank not yet trimmed: they are alike."""
        inside = min(self.stop, self.hole_height, self.blank_height - self.hole_height)
        return handle.pilot(radius=self.radius, inside=inside)

    @property
    def stop(self) -> float:
        """From the saw's centre to the stop at the blank's near end."""
        return self.blank_length / 2 - self.holes.centre_offset

    @property
    def clamp_room(self) -> float:
        """From a hole's centre to a clamp's, at least."""
        return handle.clamp_room(self.radius, CLAMP_PAD.size(self.units), HANDLE_SPARE.size(self.units))


def handle_of(file: BoxFile) -> Handle | None:
    """Return the handle of a file, or None where there is none."""
    return settled(file.handle, file.units) if file.handle else None


def settled(asked: HandleSection, units: Units) -> Handle:
    """Return a handle with what was left open worked out: over the holes as much wood as under them."""
    radius, neck = asked.saw / 2, asked.neck
    return Handle(
        radius=radius,
        neck=neck,
        base=asked.base,
        length=neck + 2 * radius * (1 + HANDLE_CENTRES_INSIDE) if asked.length is None else asked.length,
        height=2 * (radius + asked.base) + asked.crest if asked.height is None else asked.height,
        thickness=asked.thickness,
        crest=asked.crest,
        units=units,
        asked=asked,
    )
