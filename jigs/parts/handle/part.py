"""The handle, settled. Lengths in mm."""

from __future__ import annotations

from functools import cached_property

from jigs.base.lengths import Units
from jigs.base.usual import CLAMP_PAD, HANDLE_CENTRES_INSIDE, HANDLE_SPARE
from jigs.boxfile.sections import BoxFile, HandleSection
from jigs.record import Record
from jigs.trade import handle
from jigs.trade.hole import Hole


class Drilling(Record):
    """A set-up of the drill press: the holes that it drills, from the right, and their radius.

    `fence` is from the saw's centre to the edge of the blank that lies on the fence, `stop` to the end at the stop;
    `block` is what is between fence and the saw's rim.
    """

    holes: tuple[int, ...]
    radius: float
    fence: float
    stop: float
    block: float
    pilot: handle.Pilot

    @property
    def named(self) -> str:
        """Its holes by their numbers, from the left: "holes 1, 3"."""
        return f"hole{'s' * (len(self.holes) > 1)} {', '.join(str(number) for number in sorted(self.holes))}"


# -- handle --------------------------------------------------------------------------------------------------------


class Handle(Record, dict=True):
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
    middle: Hole | None = None

    @cached_property
    def holes(self) -> handle.EndHoles:
        """Its outline, and the wood that its holes leave."""
        sizes = self.hole_height, self.length, self.height, self.crest
        return handle.EndHoles(self.radius, self.neck, *sizes, middle=self.middle)

    @property
    def hole_height(self) -> float:
        """Of the holes' centres over the base."""
        return self.radius + self.base

    @property
    def between(self) -> float:
        """From the middle to the near side of a hole through the end, whatever the handle's length."""
        sizes = {"radius": self.radius, "neck": self.neck, "hole_height": self.hole_height}
        return handle.half_between(**sizes, middle=self.middle)

    @property
    def reach(self) -> tuple[float, float]:
        """Lengths between which a hole cuts the end."""
        return 2 * self.between, 2 * self.between + 4 * self.radius

    @property
    def middle_saw(self) -> float | None:
        """The hole in the middle as cut; None where there is none."""
        return 2 * self.middle.radius if self.middle else None

    @property
    def middle_height(self) -> float | None:
        """Of the middle hole's centre over the base; None where there is none."""
        return self.middle.y if self.middle else None

    @property
    def middle_numbers(self) -> dict[str, float] | None:
        """The middle hole as JSON has it: as cut, its centre over the base, what it opens there, what is ripped off."""
        if self.middle is None:
            return None
        sizes = {"saw": 2 * self.middle.radius, "height": self.middle.y}
        return sizes | {"opening": self.middle.opening, "ripped_off": self.below}

    @property
    def arched(self) -> bool:
        """Whether the middle hole opens at the base."""
        return self.middle is not None and self.middle.opens

    @property
    def below(self) -> float:
        """The wood that the blank has below the base, so that an arch is drilled in wood: ripped off, it opens it."""
        if self.middle is None or not self.arched:
            return 0.0
        return self.middle.radius - self.middle.y + HANDLE_SPARE.size(self.units)

    @property
    def blank_length(self) -> float:
        """A blank in which both holes are wholly in wood, trimmed afterwards."""
        spare = HANDLE_SPARE.size(self.units)
        return handle.blank_length(centre_offset=self.holes.centre_offset, radius=self.radius, spare=spare)

    @property
    def blank_height(self) -> float:
        """A blank in which the holes are wholly in wood, up to its top and, below an arch, down to its lower edge."""
        highest = max(hole.y + hole.radius for hole in self.holes.row)
        return max(self.height, highest + HANDLE_SPARE.size(self.units)) + self.below

    @property
    def top(self) -> float:
        """Of the blank, over the base."""
        return self.blank_height - self.below

    @property
    def drillings(self) -> tuple[Drilling, ...]:
        """The set-ups of the drill press in their order: the holes through the ends, which are alike, then the middle.

        All are drilled in the blank not yet trimmed nor ripped.
        """
        last = self.holes.count
        return tuple(
            self._drilling(hole, numbers)
            for hole, numbers in zip(self.holes.row[:0:-1], ((last, 1), (last - 1,)), strict=False)
        )

    def _drilling(self, hole: Hole, numbers: tuple[int, ...]) -> Drilling:
        fence, stop = hole.y + self.below, self.blank_length / 2 - hole.x
        inside = min(stop, fence, self.blank_height - fence)
        under = hole.y - hole.radius if hole is self.middle else self.base
        return Drilling(
            numbers, hole.radius, fence, stop, under + self.below, handle.pilot(radius=hole.radius, inside=inside)
        )

    @property
    def pilot(self) -> handle.Pilot:
        """The pilot drill in the holes through the ends: they are alike."""
        return self.drillings[0].pilot

    @property
    def stop(self) -> float:
        """From the saw's centre to the stop at the blank's near end, for a hole through the end."""
        return self.drillings[0].stop

    @property
    def clamp_room(self) -> float:
        """From a hole's centre to a clamp's, at least."""
        widest = max(hole.radius for hole in self.holes.row)
        return handle.clamp_room(widest, CLAMP_PAD.size(self.units), HANDLE_SPARE.size(self.units))


def handle_of(file: BoxFile) -> Handle | None:
    """Return the handle of a file, or None where there is none."""
    return settled(file.handle, file.units) if file.handle else None


def settled(asked: HandleSection, units: Units) -> Handle:
    """Return a handle with what was left open worked out: over the holes as much wood as under them."""
    radius, neck = asked.saw / 2, asked.neck
    middle = _middle(asked) if asked.holes > 2 else None
    between = handle.half_between(radius=radius, neck=neck, hole_height=radius + asked.base, middle=middle)
    high = 2 * (radius + asked.base) + asked.crest
    if middle:
        high = max(high, middle.y + middle.radius + asked.base)
    return Handle(
        radius=radius,
        neck=neck,
        base=asked.base,
        length=2 * between + 2 * radius * (1 + HANDLE_CENTRES_INSIDE) if asked.length is None else asked.length,
        height=high if asked.height is None else asked.height,
        thickness=asked.thickness,
        crest=asked.crest,
        units=units,
        asked=asked,
        middle=middle,
    )


def _middle(asked: HandleSection) -> Hole:
    """Return the middle hole of three: an arch has its centre on the base line, so that its feet stand upright.

    An eye is as high as the holes through the ends, for one setting of the fence, or higher where a larger saw would
    leave less wood under it than the base.
    """
    radius = (asked.saw if asked.middle_saw is None else asked.middle_saw) / 2
    height = asked.middle_height
    if height is None:
        height = 0.0 if asked.middle == "arch" else max(asked.saw / 2, radius) + asked.base
    return Hole(0.0, height, radius)
