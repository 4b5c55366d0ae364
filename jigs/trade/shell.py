"""The fan shell, a chip-carved pattern: ribs from a pivot, lobes between them, and a border round these.

The pivot is at (0, 0), y up; the pattern is symmetrical about y. Rib and lobe angles are from the vertical,
those of an `Arc` anticlockwise from the x axis, all in degrees. Lengths are in one unit, mm where a default
says so.
"""

from __future__ import annotations

import math
from bisect import bisect_left

from jigs.record import Record
from jigs.trade.limits import not_negative, positive, under, within

NARROWEST, WIDEST = 15.0, 90.0
"""The half angles in degrees between which a shell is fitted."""


class Arc(Record):
    """A true arc about (x, y), anticlockwise from `start` to `end`, in degrees."""

    x: float
    y: float
    radius: float
    start: float
    end: float

    def point(self, angle: float) -> tuple[float, float]:
        """Return the point at an angle in degrees."""
        turn = math.radians(angle)
        return self.x + self.radius * math.cos(turn), self.y + self.radius * math.sin(turn)


class Shell(Record):
    """A fan of lobes from −half_angle to half_angle, the valleys between them at rib_radius from the pivot.

    `bulge` is the rise of a lobe as a fraction of its chord; a half is a semicircle. Raises ValueError for
    fewer than two lobes, a half angle over 90° and a bulge over a half.
    """

    lobes: int
    half_angle: float
    rib_radius: float
    bulge: float

    def __post_init__(self) -> None:
        within(2, math.inf, lobes=self.lobes)
        positive(half_angle=self.half_angle, rib_radius=self.rib_radius, bulge=self.bulge)
        within(0, WIDEST, half_angle=self.half_angle)
        within(0, 0.5, bulge=self.bulge)

    @property
    def half_step(self) -> float:
        """Half the angle of a lobe, in degrees."""
        return self.half_angle / self.lobes

    @property
    def ribs(self) -> tuple[float, ...]:
        """The angles of the ribs, left to right; there is one more than there are lobes."""
        return tuple(self.half_step * (2 * rib - self.lobes) for rib in range(self.lobes + 1))

    @property
    def lobe_chord(self) -> float:
        """The width of a lobe from valley to valley: 2·rib_radius·sin(half_step)."""
        return 2 * self.rib_radius * self._sine

    @property
    def lobe_radius(self) -> float:
        """Radius of a lobe's arc: c²/(8s) + s/2 with the rise s = bulge·c, so c·(1/(8·bulge) + bulge/2)."""
        return self.lobe_chord * (1 / (8 * self.bulge) + self.bulge / 2)

    @property
    def centre_radius(self) -> float:
        """From the pivot to a lobe's centre, on the lobe's middle line."""
        return self.rib_radius * self._cosine + self.bulge * self.lobe_chord - self.lobe_radius

    @property
    def half_arc(self) -> float:
        """Half the angle of a lobe's arc about its own centre, in degrees."""
        return math.degrees(math.asin(min(1.0, self.lobe_chord / (2 * self.lobe_radius))))

    @property
    def height(self) -> float:
        """From the pivot to the highest point.

        That is the top of the middle lobe; of the two beside the middle rib, if their tops lie on their arcs,
        or else the valley between these.
        """
        if self.lobes % 2:
            return self.centre_radius + self.lobe_radius
        if self.half_step <= self.half_arc:
            return self.centre_radius * self._cosine + self.lobe_radius
        return self.rib_radius

    @property
    def width(self) -> float:
        """Over the widest points: on the outer lobes where these point sideways, or else their valleys."""
        middle = self.half_angle - self.half_step
        if middle + self.half_arc >= 90:
            return 2 * (self.centre_radius * math.sin(math.radians(middle)) + self.lobe_radius)
        return 2 * self.rib_radius * math.sin(math.radians(self.half_angle))

    def lobe_arcs(self) -> tuple[Arc, ...]:
        """Return the lobes as arcs, left to right."""
        return tuple(self.lobe_arc(lobe, self.lobe_radius, self.half_arc, self.half_arc) for lobe in range(self.lobes))

    def lobe_arc(self, lobe: int, radius: float, left: float, right: float) -> Arc:
        """Return an arc about a lobe's centre, so many degrees to the left and right of its middle line."""
        angle = self.half_step * (2 * lobe + 1 - self.lobes)
        turn = math.radians(angle)
        x, y = self.centre_radius * math.sin(turn), self.centre_radius * math.cos(turn)
        return Arc(x, y, radius, 90 - angle - right, 90 - angle + left)

    def meeting_radius(self, lobe_radius: float) -> float:
        """Return how far out on a rib circles of this radius about the two lobe centres beside it meet.

        A centre is centre_radius·sin(half_step) off the rib, so √(radius² − that²) further out than its foot
        on it.
        """
        aside = self.centre_radius * self._sine
        within(abs(aside), math.inf, lobe_radius=lobe_radius)
        return self.centre_radius * self._cosine + math.sqrt(lobe_radius**2 - aside**2)

    @property
    def _sine(self) -> float:
        return math.sin(math.radians(self.half_step))

    @property
    def _cosine(self) -> float:
        return math.cos(math.radians(self.half_step))


class Border(Record):
    """A line that follows the lobes at a distance, its valleys eased.

    Distances from the pivot along a rib: `sharp` where the lobes' arcs would meet, `easing_centre` of the arc
    that eases the valley, `valley` its bottom. `lobes` and `easings` are the arcs, left to right; the outer
    lobes run to `sharp`.
    """

    sharp: float
    easing_centre: float
    valley: float
    lobes: tuple[Arc, ...]
    easings: tuple[Arc, ...]


def fit(*, width: float, height: float, lobes: int, bulge: float) -> Shell:
    """Return the shell that is so wide and so high.

    The figure's width over its height depends on the half angle alone and grows with it; the angle is found
    by halving between 15° and 90°, to 1e-9°, and the size follows. Raises ValueError for a ratio that no such
    angle gives.
    """
    positive(width=width, height=height)

    def ratio(half_angle: float) -> float:
        shell = Shell(lobes, half_angle, 1.0, bulge)
        return shell.width / shell.height

    least, most = ratio(NARROWEST), ratio(WIDEST)
    if not least * (1 - 1e-9) <= width / height <= most * (1 + 1e-9):
        raise ValueError(
            f"width is {width:g}; with this height it must be from {least * height:g} to {most * height:g},"
            f" or the height from {width / most:g} to {width / least:g}"
        )
    steps = 10**11

    def angle(step: int) -> float:
        return NARROWEST + (WIDEST - NARROWEST) * step / steps

    half_angle = angle(bisect_left(range(steps), width / height, key=lambda step: ratio(angle(step))))
    return Shell(lobes, half_angle, width / Shell(lobes, half_angle, 1.0, bulge).width, bulge)


def border(shell: Shell, *, offset: float, easing: float) -> Border:
    """Return the border `offset` outside the lobes, with arcs of radius `easing` in its valleys.

    A lobe's arc grows by the offset about the same centre. The easing arc lies outside and touches both
    neighbours, so its centre is on their rib and offset + easing further from each lobe's centre than the
    lobe; it touches them on the lines between the centres.
    """
    positive(offset=offset, easing=easing)
    radius = shell.lobe_radius + offset
    sharp = shell.meeting_radius(radius)
    centre = shell.meeting_radius(radius + easing)
    to_end, to_easing = _turn(shell, sharp), _turn(shell, centre)
    turns = (to_end, *[to_easing] * (shell.lobes - 1), to_end)  # at each rib
    lobes = tuple(shell.lobe_arc(lobe, radius, turns[lobe], turns[lobe + 1]) for lobe in range(shell.lobes))
    # Of the triangle pivot, lobe's centre, easing's centre, `to_easing` is the outer angle at the lobe's centre
    # and half_step the one at the pivot; what is left is at the easing's centre.
    half = to_easing - shell.half_step
    easings = tuple(_arc_at(rib, centre, easing, half) for rib in shell.ribs[1:-1])
    return Border(sharp, centre, centre - easing, lobes, easings)


def _arc_at(rib: float, distance: float, radius: float, half: float) -> Arc:
    """Return the arc about a point on a rib, `half` degrees to either side of the way to the pivot."""
    turn = math.radians(rib)
    return Arc(distance * math.sin(turn), distance * math.cos(turn), radius, 270 - rib - half, 270 - rib + half)


def _turn(shell: Shell, on_rib: float) -> float:
    """Return the angle at a lobe's centre from its middle line to a point so far out on the next rib."""
    step = math.radians(shell.half_step)
    return math.degrees(math.atan2(on_rib * math.sin(step), on_rib * math.cos(step) - shell.centre_radius))


def chip_depth(width: float, angle: float, other_angle: float | None = None) -> float:
    """Return the depth of a chip cut with the knife at these angles, in degrees, to the surface.

    The cuts meet where depth·cot(angle) + depth·cot(other_angle) = width; with both the same,
    (width/2)·tan(angle).
    """
    other = angle if other_angle is None else other_angle
    positive(width=width, angle=angle, other_angle=other)
    under(90, angle=angle, other_angle=other)
    return width / (1 / math.tan(math.radians(angle)) + 1 / math.tan(math.radians(other)))


def rib_chip_width(*, widest: float, hinge: float, rib_radius: float, at: float) -> float:
    """Return the width of a rib's chip at a distance from the pivot: it tapers from 0 at the hinge."""
    positive(widest=widest, hinge=hinge)
    under(rib_radius, hinge=hinge)
    within(hinge, rib_radius, at=at)
    return widest * (at - hinge) / (rib_radius - hinge)


def ridge(*, half_step: float, at: float, chip_width: float) -> float:
    """Return the wood between neighbouring chips, `at` a distance from the pivot.

    2·at·sin(half_step) − chip_width; both change along a straight line, so it is least at the hinge or at the
    rim. Negative where the chips meet.
    """
    positive(half_step=half_step, at=at)
    not_negative(chip_width=chip_width)
    return 2 * at * math.sin(math.radians(half_step)) - chip_width


def least_hinge(*, half_step: float, ridge: float = 0.8) -> float:
    """Return the least distance from the pivot at which chips may start (mm; the ridge common practice)."""
    positive(half_step=half_step, ridge=ridge)
    return ridge / (2 * math.sin(math.radians(half_step)))


def most_lobes(*, half_angle: float, hinge: float, ridge: float = 0.8) -> int:
    """Return the most lobes that leave the ridge at the hinge: ⌊half_angle / asin(ridge / (2·hinge))⌋.

    Raises ValueError for a hinge of half a ridge or less.
    """
    positive(half_angle=half_angle, ridge=ridge, hinge=hinge)
    under(2 * hinge, ridge=ridge)
    return math.floor(half_angle / math.degrees(math.asin(ridge / (2 * hinge))) + 1e-9)


def wood_left(*, thickness: float, chip: float, groove_depth: float = 0.0) -> float:
    """Return the wood left under a chip, less the groove behind it where the two meet; negative is a hole."""
    positive(thickness=thickness, chip=chip)
    not_negative(groove_depth=groove_depth)
    return thickness - groove_depth - chip


def pivot_height(*, bottom: float, board: float, height: float, margin: float = 3.0) -> float:
    """Return how high the pivot of a pattern stands over the board's bottom edge.

    In the middle of what is free from `bottom` up to `margin` under the top; a pattern that is higher keeps the
    margin at the top and reaches down over `bottom`, and one that leaves no margin stands in the middle of the board.
    """
    positive(board=board, height=height)
    not_negative(bottom=bottom, margin=margin)
    spare = board - margin - bottom - height
    if spare >= 0:
        return bottom + spare / 2
    return max(board - margin - height, (board - height) / 2)


def relief_depth(*, border: float, chip_depth: float) -> float:
    """Return how deep the ground of the border falls to the lobes: half its width, and no deeper than the chips.

    A half is a slope of 27 degrees (common practice, no source).
    """
    positive(border=border, chip_depth=chip_depth)
    return min(border / 2, chip_depth)
