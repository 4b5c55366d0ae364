"""What is done with a handle at the bench: its base fitted to the lid, the holes of its screws, screwing it on."""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Band, Beside, Check, Checks, Order, Pictures, Setting, Settings, Text
from jigs.base.drawing import Kind, Point
from jigs.base.wording import Words, say
from jigs.parts.handle.part import Handle
from jigs.parts.handle.screw_rules import SCREWED
from jigs.parts.handle.screws import Screwed, through, to_buy
from jigs.parts.lid.part import Lid
from jigs.things import section
from jigs.trade.hole import Hole

_FAR_APART, _ROUND_ONE = 40.0, 16.0
"""Screws further apart are not shown in one picture, and what is shown on each side of one, mm."""
OTHER_SCREWS = "Drill and sink the screw holes for screws that fit this handle: the usual ones do not."
"""What is said where a rule stops the usual screws."""


def screwed(made: Handle, lid: Lid | None) -> Screwed | None:
    """Return the screws of a box's handle, None where the usual ones don't do."""
    found = through(made, lid)
    return None if SCREWED.judge(found, []) is None else found


def steps(made: Handle, lid: Lid | None, *, shaped: bool | None = None) -> tuple[Words, ...]:
    """Return what is done with the handle of a box at the bench, in its order.

    With `shaped` only what is done once the lid has its crown, or else only what is done before, while its top is flat.
    """
    found = screwed(made, lid)
    flat = _on_the_flat_lid(found) if found else (OTHER_SCREWS,)
    then = _then(found) if found else (_ROUND,)
    return (*(() if shaped else flat), *(() if shaped is False else then))


def bands(made: Screwed, *, brief: bool = False) -> tuple[Band, ...]:
    """Return the screws, their section and what is checked of them; `brief` where a card has more to say."""
    pictures = Pictures((_section(made),), least=52.0)
    drawn = Beside(Settings(tuple(_settings(made)), "Handle on the lid"), pictures, 0.66)
    return drawn, Text("", (_other_screws(made),), small=True) if brief else _checks(made)


def _other_screws(made: Screwed) -> Words:
    """Return what screws of another kind must measure, in a sentence."""
    screws, (shortest, longest) = made.screws, made.lengths
    words = "Other screws: {shortest:cut} to {longest:cut} long, shank {shank:gauge} at most, root {root:gauge}."
    return say(words, shortest=shortest, longest=longest, shank=screws.shank, root=screws.root)


def order(made: Screwed) -> Order:
    """Return what is done at the bench, as a band."""
    held = "Hold the work fast, your tools sharp. Push away from your hands."
    return Order((held, *_on_the_flat_lid(made), *_then(made)), "At the bench")


def _settings(made: Screwed) -> Iterator[Setting]:
    screws = made.screws
    yield Setting("screw", "Two screws" if made.count == 2 else "Four screws", screws.length, 0.0, to_buy(made))
    yield Setting("screw-apart", "Screw to screw", made.spacing, 0.3, "template")
    if screws.apart:
        yield Setting("screw-beside", "Side by side", screws.apart, 0.3, "template")
    yield Setting("screw-hole", "Hole in the lid", screws.hole, 0.1, "drill")
    if screws.across:
        yield Setting("screw-slot", "One a slot, long", screws.hole + made.slot, 0.2, "drill, file")
    yield Setting("screw-sunk", "Heads sunk", screws.countersink, 0.5, "countersink")
    yield Setting("screw-pilot", "Pilot in handle", screws.pilot, 0.1, "90 % of root")
    yield Setting("screw-bite", "Screws go in", screws.bite, 0.5, "tape on drill")
    if made.gap:
        yield Setting("flat", "Flat on crown", made.handle.thickness, 0.5, say("plane {deep:gauge}", deep=made.gap))


def _checks(made: Screwed) -> Checks:
    screws, (shortest, longest) = made.screws, made.lengths
    rows = (
        Check("screw, long", shortest, longest, 0.1),
        Check("its shank", say("{shank:gauge} or less", shank=screws.shank)),
        Check("its root", say("about {root:gauge}", root=screws.root)),
    )
    wood = {"beside": made.wood_beside, "above": made.wood_over}
    words = say("wood from a screw to the hole beside it {beside}, base to crest above it {above}", **wood)
    return Checks(rows, "Measure your screws", words)


_ROUND = "Round every edge that a hand meets. Blunt the handle’s points."


def _on_the_flat_lid(made: Screwed) -> Iterator[Words]:
    screws = made.screws
    if made.lid is None:
        prick = "both" if made.count == 2 else "all"
        yield f"Draw the lid’s middle lines. Prick {prick} holes through the template."
    else:
        long, wide = made.lid
        words = "Middle lines on the {flat}top: {ends} from ends, {sides} from edges."
        yield say(words, flat="flat " if made.gap else "", ends=long / 2, sides=wide / 2)
    sunk = "Sink the heads {sunk} from below." if screws.countersink else "Leave the heads outside, below."
    words = "Drill {hole} from above into a waste block. " + sunk
    yield say(words, hole=screws.hole, sunk=screws.countersink)


def _then(made: Screwed) -> Iterator[Words]:
    screws = made.screws
    if made.gap:
        where = "across the crown" if screws.across else "along the crown"
        if made.handle.arched:
            where = "under each foot"
        words = f"Plane a flat {{wide}} wide {where}, {{deep:gauge}} deep, or hollow the base."
        yield say(words, wide=made.handle.thickness, deep=made.gap)
    yield _ROUND
    yield "Mark the base through the holes, handle in place. Drill the pilot holes."
    glue = " No glue: the lid must move under it." if screws.across else ""
    yield f"Wax the threads and screw it on.{glue} Take it off again for the finish."


# -- the picture ---------------------------------------------------------------------------------------------------


def _section(made: Screwed) -> draw.View:
    """Lid, neck and screws cut along the middle, the lid's underside below; of two far apart the right one alone."""
    screws, handle = made.screws, made.handle
    right = handle.neck / 2 + min(handle.radius * 0.5, 8.0)
    left, places = -right, list(made.places)
    if handle.middle:
        del places[0]
        left = max(0.0, places[0] - _ROUND_ONE)
        right = min(handle.holes.centre_offset, handle.length / 2, places[0] + _ROUND_ONE)
    elif made.spacing > _FAR_APART:
        del places[0]
        left, right = places[0] - _ROUND_ONE, min(right, places[0] + _ROUND_ONE)
    high = min(handle.hole_height, max(screws.bite + 8.0, handle.base + 6.0))
    axes = [draw.line((x, -screws.lid - 4), (x, screws.bite + 4)) for x in places]
    parts = (
        section.face("lid", "Lid", draw.rectangle(left, -screws.lid, right, 0.0)),
        _neck(made, left, right, high),
        *(_screw(made, x, i) for i, x in enumerate(places, start=3 - len(places))),
        draw.Part("screw-axes", "Axes of the screws", draw.lines(axes, Kind.CENTRE)),
    )
    top = screws.countersink - screws.lid
    dimensions = [
        draw.Dimension(Point(right, top), Point(right, screws.bite), "right", "", "screw"),
        draw.Dimension(Point(right, 0), Point(right, screws.bite), "right", "", "screw-bite"),
    ]
    if len(places) > 1:
        ends = [Point(x, -screws.lid) for x in places]
        dimensions.append(draw.Dimension(ends[0], ends[1], "below", "", "screw-apart"))
    middle = (left + right) / 2
    labels = [
        draw.Label("handle", Point(middle, high - 3.0), leader=False),
        draw.Label(say("lid {thick:cut}", thick=screws.lid), Point(middle, -screws.lid), towards="below"),
        draw.balloon("screw-hole", (places[0] - screws.hole / 2, -screws.lid * 0.3), "left"),
    ]
    if screws.countersink:
        labels.append(draw.balloon("screw-sunk", (places[0] - screws.head / 2, -screws.lid + 0.5), "left"))
    return draw.View("screws", "Section along the handle", parts, tuple(dimensions), tuple(labels), to_scale=False)


def _neck(made: Screwed, left: float, right: float, high: float) -> draw.Part:
    """The handle as far as the picture goes: its neck, and the rims of the holes beside it."""
    before, after = made.handle.holes.row[-2:]
    up, down = _rim(after, right, high, 1), _rim(before, left, high, -1)
    shape = draw.Path(down[0][0], (*_steps(up), *_back(down)), closed=True)
    corners = [shape.start, *(step.end for step in shape.steps)]
    drawn = [
        draw.Path(start, (step,))
        for start, step in zip(corners, shape.steps, strict=False)
        if not (start.y == high and step.end.y == high)
    ]
    if corners[-1] != shape.start:
        drawn.append(draw.line(corners[-1], shape.start))
    zigzag = draw.Line(draw.break_line(down[-1][0], up[-1][0]), Kind.NARROW)
    return draw.Part("handle", "Handle", (*draw.lines(drawn), zigzag), (), (shape,))


Rim = list[tuple[Point, Point | None]]
"""Points of a side from the base up, and for those that are reached by an arc its centre."""


def _rim(hole: Hole, end: float, high: float, side: int) -> Rim:
    """Return what bounds the wood at one side of a picture, 1 for its right: its end, or a hole's rim.

    The picture does not go beyond the middle of the hole.
    """
    centre = Point(hole.x, hole.y)
    reach = math.sqrt(max(0.0, hole.radius**2 - (end - hole.x) ** 2))
    low, top = max(0.0, hole.y - reach), min(high, hole.y + reach)
    if low >= top:
        return [(Point(end, 0.0), None), (Point(end, high), None)]

    def at(y: float) -> Point:
        if y in (hole.y - reach, hole.y + reach):
            return Point(end, y)
        return Point(side * (side * hole.x - math.sqrt(hole.radius**2 - (y - hole.y) ** 2)), y)

    found: Rim = [(Point(end, 0.0), None)] if low else []
    found += [(at(low), None), (at(top), centre)]
    return found if top == high else [*found, (Point(end, high), None)]


def _steps(rim: Rim) -> Iterator[draw.LineTo | draw.ArcTo]:
    """Yield the steps up a right side, to its first point first."""
    for point, centre in rim:
        yield draw.ArcTo(point, centre, False) if centre else draw.LineTo(point)


def _back(rim: Rim) -> Iterator[draw.LineTo | draw.ArcTo]:
    """Yield the steps down a left side, to its last point first; a straight one back to its first closes the path."""
    yield draw.LineTo(rim[-1][0])
    for (lower, _), (_, centre) in zip(rim[-2::-1], rim[:0:-1], strict=True):
        if centre:
            yield draw.ArcTo(lower, centre, False)
        elif lower != rim[0][0]:
            yield draw.LineTo(lower)


def _screw(made: Screwed, x: float, number: int) -> draw.Part:
    """A screw in its hole: never hatched; its head sunk in the lid, or under it."""
    screws = made.screws
    half, head, root = screws.shank / 2, screws.head / 2, screws.root / 2
    below, top, tip = -screws.lid, screws.countersink - screws.lid, screws.bite
    cone = min(head - half, max(0.5, screws.lid - screws.countersink - 0.5))
    point = min(2 * half, tip / 2)
    hole = draw.rectangle(x - screws.hole / 2, below, x + screws.hole / 2, 0.0)
    if screws.countersink:
        sink = draw.rectangle(x - head, below, x + head, top)
        body = draw.polygon(
            (x - head, top), (x + head, top), (x + half, top + cone), (x + half, tip - point), (x, tip),
            (x - half, tip - point), (x - half, top + cone),
        )  # fmt: skip
        covers = (hole, sink, body)
    else:
        thick = 0.6 * screws.shank
        sink = draw.rectangle(x - head, below - thick, x + head, below)
        body = draw.polygon(
            (x - half, below), (x + half, below), (x + half, tip - point), (x, tip), (x - half, tip - point)
        )
        covers = (hole, sink, body)
    roots = [draw.line((x + side * root, 0.0), (x + side * root, tip - point)) for side in (-1, 1)]
    lines = (*draw.lines((hole, sink, body)), *draw.lines(roots, Kind.NARROW))
    return draw.Part(f"screw-{number}", f"Screw {number}", lines, covers=covers)
