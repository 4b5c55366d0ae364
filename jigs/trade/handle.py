"""The handle cut with a hole saw: its holes, the wood they leave, its pilot drill, screws and clamps.

Axes of the blank, seen on its face: x from its middle, y up from its base. A hole's radius is half of the
hole that the saw was measured to cut in wood, not the size marked on it. Lengths are in one unit, mm where a
default says so.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from jigs.record import Record
from jigs.trade.hole import Hole
from jigs.trade.lid import arc_radius, arc_rise
from jigs.trade.limits import not_negative, positive, under, within

_SAME = 1e-9  # lengths that differ by less are equal but for the rounding of floats
_HALVINGS = 60  # of a length: to the last bit


def half_between(*, radius: float, neck: float, hole_height: float, middle: Hole | None = None) -> float:
    """Return how far it is from the middle of a handle to the near side of a hole through its end.

    Two holes leave the neck between them: half of it. Beside a third one in the middle, of radius m and height a, the
    neck is the thinnest wood to that, on the line of their centres: X² + (hole_height − a)² = (radius + m + neck)².
    The end holes come no nearer to one another than the neck, wherever the middle one is.
    """
    if middle is None:
        return neck / 2
    apart, up = radius + middle.radius + neck, hole_height - middle.y
    return max(math.sqrt(max(0.0, apart**2 - up**2)) - radius, neck / 2)


class EndHoles(Record):
    """A handle with one hole through each end, perhaps one in the middle, and an arched crest: all that follows.

    radius of the holes through the ends as cut, neck the least wood between neighbours, hole_height of their centres
    over the base, length and height of the handle, crest the rise of the arch. The middle hole is closed, an eye, or
    the base cuts through it: an arch over two feet. Wood that comes out negative says where holes break through.
    Raises ValueError for sizes that are not positive, a crest that is no arc, a middle hole off the middle, and a
    hole that does not cut the end.
    """

    radius: float
    neck: float
    hole_height: float
    length: float
    height: float
    crest: float
    middle: Hole | None = None

    def __post_init__(self) -> None:
        positive(radius=self.radius, neck=self.neck, hole_height=self.hole_height)
        positive(length=self.length, height=self.height, crest=self.crest)
        under(self.height, crest=self.crest)
        arc_radius(self.length, self.crest)
        if self.middle:
            positive(middle=self.middle.radius)
            within(0, 0, middle=self.middle.x)
        least, most = 2 * self.between, 2 * self.between + 4 * self.radius
        if not least < self.length < most:
            raise ValueError(f"length is {self.length:g}; a hole cuts the end only from {least:g} to {most:g}")

    @property
    def between(self) -> float:
        """From the middle to the near side of an end hole: `half_between`."""
        sizes = {"radius": self.radius, "neck": self.neck, "hole_height": self.hole_height}
        return half_between(**sizes, middle=self.middle)

    @property
    def centre_offset(self) -> float:
        """From the middle to the centre of a hole through the end: radius + `between`."""
        return self.radius + self.between

    @property
    def row(self) -> tuple[Hole, ...]:
        """The holes from left to right."""
        left, right = (Hole(side * self.centre_offset, self.hole_height, self.radius) for side in (-1, 1))
        return (left, self.middle, right) if self.middle else (left, right)

    @property
    def count(self) -> int:
        """How many holes there are."""
        return len(self.row)

    @property
    def inside_end(self) -> float:
        """How far a hole's centre is inside the end; negative where it is off the blank."""
        return self.length / 2 - self.centre_offset

    @property
    def chord(self) -> float:
        """The opening that the hole makes in the end: 2·√(radius² − inside_end²). Fingers go in here."""
        return chord(self.radius, self.inside_end)

    @property
    def cusps(self) -> tuple[float, float]:
        """Heights, lower and upper, of the two points where the hole meets the end."""
        return self.hole_height - self.chord / 2, self.hole_height + self.chord / 2

    @property
    def grip_depth(self) -> float:
        """From the end to the neck: how far the fingers go in."""
        return (self.length - 2 * self.between) / 2

    @property
    def rim_in_wood(self) -> float:
        """The fraction of the saw's rim that is in wood. Under a half it has nothing to run in, and walks."""
        return rim_in_wood(self.radius, self.inside_end)

    @property
    def thinnest_neck(self) -> float:
        """The least wood between neighbouring holes as it is left: with three it may be more than was asked for.

        The holes through the ends are neighbours where the middle one is wholly under or over the line between them;
        where it is not, it is nearer to both than they are to one another.
        """
        return min(self._beside_middle(self.middle), 2 * self.between) if self.middle else self.neck

    @property
    def base(self) -> float:
        """The least wood under a hole: at its lowest point, or at the end where that is off the blank."""
        low = self.hole_height - self.radius if self.inside_end >= 0 else self.cusps[0]
        return low if self.middle is None or self.middle.opens else min(low, self.middle.y - self.middle.radius)

    @property
    def opening(self) -> float:
        """What an arch takes out of the base; 0 where there is none."""
        return self.middle.opening if self.middle else 0.0

    @property
    def foot(self) -> float:
        """The narrowest place of a foot, from the arch to the end under its opening: without an arch the whole base.

        An arch whose centre is above the base is nearest to the end at that height, or at the lower cusp where that is
        lower. One whose centre is below the base is widest in it.
        """
        if self.middle is None or not self.middle.opens:
            return self.length
        if self.middle.y < 0:
            return (self.length - self.opening) / 2
        return self.middle.apart(Hole(self.length / 2, min(self.middle.y, self.cusps[0]), 0.0))

    @property
    def horn_tip(self) -> float:
        """The wood at the end, over the upper cusp."""
        return self.height - self.crest - self.cusps[1]

    @property
    def crest_radius(self) -> float:
        """Radius of the crest, about (0, height − crest_radius)."""
        return arc_radius(self.length, self.crest)

    @property
    def hole_to_crest(self) -> float:
        """The least wood over the holes through the ends.

        Seen from the crest's centre the hole's centre is `away`, and what is left on that line is R − away −
        radius. Where the line meets the crest beyond the end, the end's upper corner is nearest.
        """
        away, above = self._from_crest_centre
        if self.crest_radius * self.centre_offset <= away * self.length / 2:
            return self.crest_radius - away - self.radius
        if self.inside_end <= 0:
            return self.horn_tip
        return math.hypot(self.inside_end, self.crest_radius - self.crest - above) - self.radius

    @property
    def middle_to_crest(self) -> float:
        """The least wood over the middle hole, where the crest is highest; all there is where it has none.

        Where its centre is below the crest's own, the upper corners of the ends are nearer to it than the top.
        """
        if self.middle is None:
            return self.height
        if self.middle.y >= self.height - self.crest_radius:
            return self.height - self.middle.y - self.middle.radius
        corner = Hole(self.length / 2, self.height - self.crest, 0.0)
        return self.middle.apart(corner)

    @property
    def over_holes(self) -> float:
        """The least wood over any of the holes."""
        return min(self.hole_to_crest, self.middle_to_crest)

    @property
    def least_wood(self) -> float:
        """The least of neck, base, foot, horn tip and wood over the holes."""
        return min(self.thinnest_neck, self.base, self.foot, self.horn_tip, self.over_holes)

    def crest_height(self, at: float) -> float:
        """Return the height of the crest at x."""
        within(-self.length / 2, self.length / 2, at=at)
        return self.height - arc_rise(self.crest_radius, 2 * abs(at))

    def wood_over_screw(self, at: float) -> float:
        """Return the wood over the base at x, for a screw: up to the lowest hole over it, or to the crest."""
        over = [hole for hole in self.row if hole.is_over(at)]
        if not over:
            return self.crest_height(at)
        within(-self.length / 2, self.length / 2, at=at)
        return min(hole.above_base(at) for hole in over)

    def wood_beside_screw(self, at: float, bite: float) -> float:
        """Return the least wood from the middle of a screw at x, so deep from the base, to a hole."""
        positive(bite=bite)
        return min(hole.beside(at, bite) for hole in self.row)

    def screw_beside_middle(self, bite: float, keep: float) -> float:
        """Return where a screw stands right of the middle hole: its x.

        In the middle of what goes all the way up between both holes, where that is `keep` or more on either side. Else
        where its line has as much wood to the middle hole as to the nearer of end hole and end: the one grows with x,
        the others shrink. Raises ValueError where there is no middle hole, and for a bite that is not positive.
        """
        positive(bite=bite)
        if self.middle is None:
            raise ValueError("middle is none; two holes have their screws in the neck between them")
        low, high = self.opening / 2 if self.middle.y < 0 else self.middle.radius, self.between
        if high - low >= 2 * keep:
            return (low + high) / 2
        low, high = self.opening / 2 or self.middle.radius, self.length / 2
        for _ in range(_HALVINGS):
            at = (low + high) / 2
            outside = min(self.row[-1].beside(at, bite), self.length / 2 - at)
            low, high = (at, high) if self.middle.beside(at, bite) < outside else (low, at)
        return low

    def height_that_leaves(self, wood: float) -> float:
        """Return the height of blank at which `hole_to_crest` is this much, the crest's rise as it is.

        R − hypot(X, Y − H + R) − radius = wood, solved for H: Y + R − √((R − radius − wood)² − X²). Raises
        ValueError where so much wood would have to be measured to the corner of the end.
        """
        away = self.crest_radius - self.radius - wood
        if self.crest_radius * self.centre_offset > away * self.length / 2:
            most = self.crest_radius * (1 - 2 * self.centre_offset / self.length) - self.radius
            raise ValueError(f"wood is {wood:g}; over a hole so near the end it must be at most {most:g}")
        return self.hole_height + self.crest_radius - math.sqrt(away**2 - self.centre_offset**2)

    def _beside_middle(self, middle: Hole) -> float:
        """Return the least wood between the middle hole and an end hole.

        Where the line of centres leaves the arch below the base, it is measured from the arch's corner; where it meets
        the end hole off the end, to the cusp there.
        """
        near, far = middle, self.row[-1]
        up = far.y - near.y
        if near.opens and near.y + near.radius * up / math.hypot(far.x, up) < 0:
            near = Hole(near.opening / 2, 0.0, 0.0)
        aside, up = far.x - near.x, far.y - near.y
        if far.x - far.radius * aside / math.hypot(aside, up) > self.length / 2:
            far = Hole(self.length / 2, self.cusps[0 if up > 0 else 1], 0.0)
        return near.apart(far)

    @property
    def _from_crest_centre(self) -> tuple[float, float]:
        """Return how far the hole's centre is from the crest's, and how far above it."""
        above = self.hole_height - self.height + self.crest_radius
        return math.hypot(self.centre_offset, above), above


def chord(radius: float, distance: float) -> float:
    """Return the chord of a circle at a distance from its centre: 2·√(radius² − distance²)."""
    positive(radius=radius)
    within(-radius, radius, distance=distance)
    return 2 * math.sqrt(radius**2 - distance**2)


def rim_in_wood(radius: float, inside: float) -> float:
    """Return the fraction of a hole's rim that is in wood, its centre `inside` the edge (negative: outside).

    The rim beyond the edge subtends 2·acos(inside/radius): 1 − acos(inside/radius)/π.
    """
    positive(radius=radius)
    within(-radius, radius, inside=inside)
    return 1 - math.acos(inside / radius) / math.pi


class Scallop(Record):
    """An edge shaped by a row of holes whose centres lie on it.

    `cusp` is the distance from the line of centres to the points between the holes, `depth` the scallop from
    those points to its bottom. `web` is the wood between holes that do not meet; it must be 0, or at least 4
    mm (common practice, no source).
    """

    cusp: float
    depth: float
    web: float


def row_of_holes(*, radius: float, pitch: float) -> Scallop:
    """Return the scallop of a row of holes along an edge.

    Neighbours meet at √(radius² − pitch²/4) from the line of centres; the scallop is as deep as is left of
    the radius. From a pitch of two radii on they no longer meet.
    """
    positive(radius=radius, pitch=pitch)
    web = pitch - 2 * radius
    cusp = chord(radius, pitch / 2) / 2 if web < 0 else 0.0
    return Scallop(cusp, radius - cusp, max(web, 0.0))


def flat_between(*, radius: float, pitch: float, outside: float = 0.0) -> float:
    """Return what is left of the edge between two holes whose centres are so far outside it.

    A hole takes its chord out of the edge, so pitch − 2·√(radius² − outside²); negative where they overlap there.
    """
    positive(pitch=pitch)
    return pitch - off_edge_hole(radius=radius, outside=outside).chord


def rim_beside_holes(*, radius: float, pitch: float, neighbours: int) -> float:
    """Return the fraction of a hole's rim in wood beside holes already drilled, the edge built up with waste.

    A neighbour takes the rim for which cos ≥ pitch/(2·radius), as seen from the hole's centre: acos(that)/π.
    """
    positive(radius=radius, pitch=pitch)
    within(0, 2, neighbours=neighbours)
    return 1 - neighbours * math.acos(min(1.0, pitch / (2 * radius))) / math.pi


class EdgeHole(Record):
    """One hole whose centre is off the edge: its scallop's depth and chord, and the rim in wood."""

    depth: float
    chord: float
    rim_in_wood: float


def off_edge_hole(*, radius: float, outside: float) -> EdgeHole:
    """Return the scallop of one hole whose centre is so far outside the edge."""
    positive(radius=radius)
    not_negative(outside=outside)
    under(radius, outside=outside)
    return EdgeHole(radius - outside, chord(radius, outside), rim_in_wood(radius, -outside))


PILOT_DRILL, SAW_KERF = 6.35, 2.0
"""The pilot drill of a hole saw's arbor, 1/4 in, and what its teeth take (common practice, no source), mm."""


class Pilot(Record):
    """Where the pilot drill of a hole saw stands: how far its rim is inside the wood's edge, and inside the core.

    Negative is outside. In wood that falls out with the core it leaves no mark, steadies the saw, and shows the centre
    on the second face. Off the wood it has nothing to stand in; beyond the core it would mark what stays.
    """

    in_wood: float
    in_core: float

    @property
    def stays(self) -> bool:
        """Whether the pilot drill stays in the saw."""
        return self.in_wood >= 0 and self.in_core >= 0


def pilot(*, radius: float, inside: float, drill: float = PILOT_DRILL, kerf: float = SAW_KERF) -> Pilot:
    """Return where a pilot drill stands in a hole whose centre is `inside` the edge of the wood, negative: outside it.

    The wood is what is under the saw when it cuts: a blank not yet trimmed, or a waste block beside the edge. The core
    is the hole less the kerf all round: its radius is radius − kerf (mm; the defaults common practice).
    """
    positive(radius=radius, drill=drill)
    not_negative(kerf=kerf)
    return Pilot(inside - drill / 2, radius - kerf - drill / 2)


def clamp_room(radius: float, pad: float = 12.0, spare: float = 5.0) -> float:
    """Return the least distance from a hole's centre to a clamp pad's (mm; the defaults common practice)."""
    positive(radius=radius)
    not_negative(pad=pad, spare=spare)
    return radius + pad + spare


def blank_length(*, centre_offset: float, radius: float, spare: float = 5.0) -> float:
    """Return the length of a blank in which both holes are wholly in wood, to be trimmed afterwards (mm)."""
    positive(centre_offset=centre_offset, radius=radius)
    not_negative(spare=spare)
    return 2 * (centre_offset + radius + spare)


def screw_length(*, lid: float, countersink: float, bite: float) -> float:
    """Return the screw that bites so deep into the handle."""
    positive(lid=lid, bite=bite)
    not_negative(countersink=countersink)
    under(lid, countersink=countersink)
    return lid - countersink + bite


def bought_length(*, wanted: float, least: float, most: float, sold: Sequence[float]) -> float | None:
    """Return the screw length that is sold, from `least` to `most`, nearest to the one wanted; None: there is none."""
    positive(wanted=wanted, least=least)
    fitting = [length for length in sold if least - _SAME <= length <= most + _SAME]
    return min(fitting, key=lambda length: abs(length - wanted), default=None)


def screw_gauge(shank: float) -> int | None:
    """Return the number of an inch wood screw by its shank in mm: 0.060 in + 0.013 in a number (ASME B18.6.1).

    From memory. None for a shank that is no gauge's within a third of the step.
    """
    positive(shank=shank)
    number = (shank / 25.4 - 0.060) / 0.013
    return round(number) if number > -0.5 and abs(number - round(number)) <= 1 / 3 else None


def most_bite(wood: float, keep: float = 4.0) -> float:
    """Return how deep a screw may go with so much wood over it (mm; common practice). Negative: no screw."""
    not_negative(keep=keep)
    return wood - keep


def gap_under_base(*, base: float, crown_radius: float) -> float:
    """Return the gap at the edges of a flat base on a crowned lid: the crown's rise over the base's width."""
    positive(base=base)
    return arc_rise(crown_radius, base)
