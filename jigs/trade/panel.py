"""The bottom panel: of solid wood, so large that it neither jams when wettest nor drops out when driest; or a sheet.

Moistures in %, lengths in one unit, mm where a default says so.
"""

from __future__ import annotations

from jigs.record import Record
from jigs.trade.limits import not_negative, positive, steps_to_cover, under, within
from jigs.trade.movement import ratio


class Panel(Record):
    """A panel across the grain: its width now, driest and wettest, and what the grooves hold of it.

    `engagement_now` and `engagement_dry_centred` are a side, the panel in the middle. `engagement_dry` is the
    worst: the driest panel slid to one side, on the side it left; negative means that it drops out.
    `shoulder_gap` is what must stay open now between the shoulder of a rabbeted panel and the side.
    """

    width: float
    width_dry: float
    width_wet: float
    engagement_now: float
    engagement_dry_centred: float
    engagement_dry: float
    shoulder_gap: float


def across_grain(
    *, opening: float, depth: float, clearance: float, coefficient: float, now: float, dry: float, wet: float
) -> Panel:
    """Return the panel whose width at `wet` is the opening and both grooves less `clearance`.

    Width now = (opening + 2·depth − clearance) / (width at wet / width at now). Pushed against the floor of
    one groove the driest panel is held on the other side by width_dry − opening − depth. The shoulders keep
    half of the growth that is still to come, (width_wet − width) / 2, or none where it is wetter now. Raises
    ValueError for a clearance that leaves no panel.
    """
    positive(opening=opening, depth=depth)
    not_negative(clearance=clearance)
    under(opening + 2 * depth, clearance=clearance)
    width_wet = opening + 2 * depth - clearance
    width = width_wet / ratio(coefficient, now, wet)
    width_dry = width * ratio(coefficient, now, dry)
    return Panel(
        width,
        width_dry,
        width_wet,
        (width - opening) / 2,
        (width_dry - opening) / 2,
        width_dry - opening - depth,
        max(0.0, (width_wet - width) / 2),
    )


def sheet(*, opening: float, depth: float, clearance: float) -> Panel:
    """Return a panel of plywood or another sheet, in its length or in its width: it is as wide in every season.

    Width = opening + 2·depth − clearance, which is so small that the panel just goes in: a sheet is taken not to move
    (common practice, no source). It is glued in the middle and stays there, so that both grooves hold
    depth − clearance/2, whatever the air; its shoulders keep clearance/2, or they would hold the joints open before
    its edges do. Raises ValueError for a clearance with which a panel that is slid to one side misses the other groove.
    """
    positive(opening=opening, depth=depth)
    not_negative(clearance=clearance)
    under(depth, clearance=clearance)
    width, engaged = opening + 2 * depth - clearance, depth - clearance / 2
    return Panel(width, width, width, engaged, engaged, engaged, clearance / 2)


def along_grain(*, opening: float, depth: float, play: float = 0.5) -> float:
    """Return the panel's length along the grain, which does not move: `play` is left at each end (mm)."""
    positive(opening=opening, depth=depth)
    not_negative(play=play)
    under(depth, play=play)
    return opening + 2 * depth - 2 * play


class Sums(Record):
    """What a panel's sizes are less than the sums of what is measured, for a maker with a pencil.

    With A along, B across and D the depth of the grooves: length = A + 2D − `length`, width = B + 2D − `width`, rabbets
    D − `rabbet_end_grain` and D − `rabbet_long_grain` wide.
    """

    length: float
    width: float
    rabbet_end_grain: float
    rabbet_long_grain: float


def sums(
    *,
    along: float,
    across: float,
    depth: float,
    length: float,
    width: float,
    rabbet_end_grain: float,
    rabbet_long_grain: float,
) -> Sums:
    """Return the sums by which a panel follows the box as it is measured, from the panel as it is drawn.

    Its width is (B + 2D − clearance) / ratio, so that to add the whole of a difference errs by 1 − 1/ratio of it: a
    hundredth of a millimetre for each millimetre, which no rule shows. Along the grain the sum is exact.
    """
    positive(along=along, across=across, depth=depth, length=length, width=width)
    not_negative(rabbet_end_grain=rabbet_end_grain, rabbet_long_grain=rabbet_long_grain)
    return Sums(
        along + 2 * depth - length,
        across + 2 * depth - width,
        depth - rabbet_end_grain,
        depth - rabbet_long_grain,
    )


def least_engagement(depth: float) -> float:
    """Return the least engagement wanted when driest, in mm: 1 or depth/4 (common practice, no source)."""
    positive(depth=depth)
    return max(1.0, depth / 4)


def tongue_thickness(*, groove: float, play: float = 0.2) -> float:
    """Return the tongue for a groove; play of 0.1 to 0.2 mm is common practice, no source."""
    not_negative(play=play)
    positive(groove=groove)
    under(groove, play=play)
    return groove - play


def rabbet_depths(*, thickness: float, tongue: float, first: float | None = None) -> tuple[float, float]:
    """Return the depths of the rabbets from one face and from the other, which leave the tongue between them.

    `first` is the depth from the first face: 0 or thickness − tongue for a rabbet on one side only, None for
    equal ones, which one setting cuts on both sides. Raises ValueError for a tongue or a first rabbet that is
    too thick.
    """
    positive(thickness=thickness, tongue=tongue)
    within(0, thickness, tongue=tongue)
    spare = thickness - tongue
    if first is None:
        return spare / 2, spare / 2
    within(0, spare, first=first)
    return first, spare - first


def rabbet_width(*, engagement: float, shoulder_gap: float) -> float:
    """Return the width of the rabbet: what is in the groove now, and the gap that its shoulder keeps."""
    positive(engagement=engagement)
    not_negative(shoulder_gap=shoulder_gap)
    return engagement + shoulder_gap


class RabbetPass(Record):
    """One pass of a rabbet: the width left exposed, and the fence's face from the cutter's centre.

    `fence` is positive where the centre stands out in front of the fence, negative where it is buried behind
    it.
    """

    exposed: float
    fence: float


def rabbet_passes(*, width: float, cutter: float) -> tuple[RabbetPass, ...]:
    """Return the passes that cut a rabbet, each exposing as much more and none over 0.9 of the cutter.

    The cutter reaches its radius in front of its centre, so the face stands exposed − radius behind it. Nine
    tenths a pass is common practice, no source.
    """
    positive(width=width, cutter=cutter)
    count = steps_to_cover(width, 0.9 * cutter)
    exposures = (width * (number + 1) / count for number in range(count))
    return tuple(RabbetPass(exposed, exposed - cutter / 2) for exposed in exposures)
