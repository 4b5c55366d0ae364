"""What to move, shim or plane, and which way: a picture for each remedy, drawn from the joint and its sled.

Finger, socket, key, spacer and cutter have their true proportions, as they are once it is done. The amount itself could
not be seen: it is drawn some times too large, and the picture says how many; its number is the true one.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from jigs.base import drawing as draw
from jigs.base.drawing import Kind, Line, Part, Point
from jigs.base.wording import Words, say
from jigs.parts.joint import in_wood
from jigs.parts.joint.made import Sled
from jigs.parts.joint.reading_pictures import Woods
from jigs.parts.wood.colours import colour_of
from jigs.record import Record
from jigs.things import section
from jigs.trade.tune import Pivot, Remedy

_ROOM = 0.45
"""What is drawn too large takes up this share of the narrower of finger and key."""


class Pictured(Record):
    """A remedy with its picture; `times` is how many times too large its amount is drawn in it."""

    remedy: Remedy
    view: draw.View
    times: int

    @property
    def drawn(self) -> Words:
        """What of it is not true to the eye, in words; empty where all is."""
        if self.times == 1:
            return ""
        return say("The {amount:gauge} is drawn {times} times too large.", amount=self.remedy.amount, times=self.times)


def pictures(remedies: Sequence[Remedy], sled: Sled, woods: Woods, pivot: Pivot | None) -> tuple[Pictured, ...]:
    """Return remedies with their pictures, in their order. `pivot` is that of a sled that is nudged."""
    return tuple(_picture(remedy, sled, woods, pivot) for remedy in remedies)


def _picture(remedy: Remedy, sled: Sled, woods: Woods, pivot: Pivot | None) -> Pictured:
    times = in_wood.enlarged(remedy.amount, _ROOM * min(sled.numbers.finger, sled.numbers.key))
    shown = _Shown(sled, woods, remedy.amount, times)
    if remedy.action == "nudge":
        assert pivot is not None, "nothing is nudged without a pivot"
        times = in_wood.enlarged(remedy.amount, 0.2 * pivot.to_nudge)
        view = _nudged(_Shown(sled, woods, remedy.amount, times), pivot, away=remedy.face == "away")
    else:
        view = _DRAWN[remedy.part](shown, remedy)
    return Pictured(remedy, view, times)


class _Shown(Record):
    """The sled, an amount, mm, and how many times too large that is drawn; drawn for a key on the right, and turned."""

    sled: Sled
    woods: Woods
    amount: float
    times: int

    @property
    def large(self) -> float:
        """The amount as it is drawn."""
        return self.amount * self.times

    @property
    def unit(self) -> float:
        """What arrows and margins are measured by: about a finger."""
        return min(self.sled.numbers.finger, self.sled.numbers.key)

    def x(self, across: float) -> float:
        """Return a place on the side that the key is on."""
        return self.sled.hand * across

    def box(self, left: float, bottom: float, right: float, top: float) -> draw.Path:
        """Return a rectangle drawn for a key on the right, on the side where the key is."""
        one, other = sorted((self.x(left), self.x(right)))
        return draw.rectangle(one, bottom, other, top)

    def across(self, start: float, end: float, y: float, name: str) -> draw.Dimension:
        """Return the dimension of the amount, above the picture; its number is the true one."""
        ends = (Point(self.x(start), y), Point(self.x(end), y))
        return draw.Dimension(*ends, "above", name, scale=self.times, gauged=True)

    def arrow(self, tail: tuple[float, float], tip: tuple[float, float]) -> Part:
        """Return the blue arrow: which way to push."""
        ends = [(self.x(x), y) for x, y in (tail, tip)]
        return in_wood.arrow("push", "Push this way", ends[0], ends[1], 0.7 * self.unit)

    def label(self, words: str, x: float, y: float, towards: draw.Side = "below") -> draw.Label:
        """Return a word beside its place."""
        return draw.Label(words, Point(self.x(x), y), towards=towards)


# -- plate and key -------------------------------------------------------------------------------------------------


def _moved(shown: _Shown, remedy: Remedy) -> draw.View:
    """Return the plate from above: where the key stands now, dashed, and where it is to stand."""
    sled, unit = shown.sled, shown.unit
    n, face, half = sled.numbers, sled.key_at, sled.cutter / 2
    away = remedy.face == "away"
    was = face - shown.large if away else face + shown.large
    high = max(1.3 * sled.cutter, 2.2 * unit)
    key = in_wood.board("key", "Key", shown.box(face, -high, face + n.key, high), in_wood.ASH)
    old = Part("key-now", "Key as it stands now", (Line(shown.box(was, -high, was + n.key, high), Kind.NEIGHBOUR),))
    right = face + n.key + max(shown.large, 0.0) + 2.6 * unit
    plate = shown.box(-half - 1.6 * unit, -high, right, high)
    under = Part("plate", "Plate", (Line(plate, Kind.NARROW),))
    ends = (face + n.key + 0.3 * unit, face + n.key + 2.3 * unit)
    push = shown.arrow((ends[0], 0.0), (ends[1], 0.0)) if away else shown.arrow((ends[1], 0.0), (ends[0], 0.0))
    if not away:  # the arrow stands beyond where the key is now
        push = push.moved(shown.x(shown.large), 0.0)
    name = "further" if away else "nearer"
    labels = (
        shown.label(sled.tool, -0.4 * half, -0.4 * half),
        shown.label("key", face + n.key / 2, -0.8 * high),
    )
    dimension = shown.across(was, face, high, name)
    parts = (under, key, old, _tool_from_above(sled), push)
    return draw.View("move-plate", f"The key {name}, from above", parts, (dimension,), labels, to_scale=False)


def _tool_from_above(sled: Sled) -> Part:
    half = sled.cutter / 2
    reach = half + max(2.0, 0.3 * sled.cutter)
    cross = draw.lines((draw.line((-reach, 0), (reach, 0)), draw.line((0, -reach), (0, reach))), Kind.CENTRE)
    if sled.machine == "router table":
        return Part("cutter", "Cutter", (Line(draw.Circle(Point(0, 0), half)), *cross))
    return Part("cutter", "Blade", (Line(draw.rectangle(-half, -3 * half, half, 3 * half)), *cross))


def _nudged(shown: _Shown, pivot: Pivot, *, away: bool) -> draw.View:
    """Return the whole sled from above on its pivot: where it lies now, dashed, and how far its free end goes."""
    sled, n = shown.sled, shown.sled.numbers
    reach = max(pivot.to_nudge, pivot.to_key)
    wide, end = 0.24 * reach, reach + 0.06 * reach
    towards = 1.0 if away else -1.0
    turn = -sled.hand * towards * math.asin(min(0.5, shown.large / pivot.to_nudge))  # + anticlockwise

    def turned(x: float, y: float, by: float) -> tuple[float, float]:
        return x * math.cos(by) - y * math.sin(by), x * math.sin(by) + y * math.cos(by)

    corners = ((-wide, -0.08 * reach), (wide, -0.08 * reach), (wide, end), (-wide, end))
    plate = Part("plate", "Sled as it is to lie", (Line(draw.polygon(*corners)),))
    old = draw.polygon(*(turned(x, y, -turn) for x, y in corners))
    was = Part("plate-now", "Sled as it lies now", (Line(old, Kind.NEIGHBOUR),))
    face = sled.hand * sled.key_at
    along = 0.12 * reach
    left, right = sorted((face, face + sled.hand * n.key))
    key = draw.rectangle(left, pivot.to_key - along, right, pivot.to_key + along)
    strip = in_wood.board("key", "Key", key, in_wood.ASH)
    tool = _tool_from_above(sled).moved(0.0, pivot.to_key)
    pin = Part("pivot", "Pivot", (Line(draw.Circle(Point(0, 0), 0.015 * reach)),))
    before = turned(0.0, pivot.to_nudge, -turn)[0]
    direction = math.copysign(1.0, -before) if before else 1.0
    start = -direction * (wide + 0.22 * reach)
    push = in_wood.arrow(
        "push", "Nudge it this way", (start, pivot.to_nudge), (start + direction * 0.18 * reach, pivot.to_nudge),
        0.09 * reach,
    )  # fmt: skip
    dimension = draw.Dimension(
        Point(before, end), Point(0.0, end), "above", "nudge", scale=shown.times, gauged=True
    )  # fmt: skip
    side: draw.Side = "left" if sled.hand > 0 else "right"
    labels = (
        draw.Label("pivot", Point(0, 0), towards=side),
        draw.Label(sled.tool, Point(0.0, pivot.to_key), towards=side),
        draw.Label("key", Point(face + sled.hand * n.key / 2, pivot.to_key - 0.8 * along), towards="below"),
    )
    return draw.View(
        "nudge-sled", "The sled on its pivot, from above", (plate, strip, was, tool, pin, push), (dimension,), labels,
        to_scale=False,
    )  # fmt: skip


def _on_the_key(shown: _Shown, remedy: Remedy) -> draw.View:
    """Return the key cut across, a shim on one of its faces or a shaving off it crossed out."""
    sled, n, unit = shown.sled, shown.sled.numbers, shown.unit
    face, back, high, plate = sled.key_at, sled.key_at + n.key, sled.key_height, 0.5 * shown.unit
    near, shim, large = remedy.face == "near", remedy.action == "shim", shown.large
    if shim:
        strip = (face, face + large) if near else (back - large, back)
        key = (strip[1], back) if near else (face, strip[0])
    else:
        strip = (face - large, face) if near else (back, back + large)
        key = (face, back)
    wood = in_wood.board("key", "Key", shown.box(key[0], 0.0, key[1], high), in_wood.ASH, None)
    bare = shown.box(strip[0], 0.0, strip[1], high)
    changed = _shim(bare) if shim else section.removed("off", "Planed off", bare)
    left, right = -sled.cutter / 2 - 0.8 * unit, back + large + 0.8 * unit
    table = shown.box(left, -plate, right, 0.0)
    under = Part("plate", "Plate", (Line(table),), hatched=(table,))
    bit = section.cutter(0.0, sled.cutter, max(n.runs[0].depth, high), 0.0, sled.tool)
    name = "shim" if shim else "off"
    labels = (shown.label("key", sum(key) / 2, 0.3 * high), shown.label(sled.tool, 0.0, 0.2 * high))
    where = "near" if near else "far"
    dimension = shown.across(*strip, high, name)
    return draw.View(
        f"key-{where}-{remedy.action}", f"The {where} face of the key", (under, bit, wood, changed), (dimension,),
        labels, to_scale=False,
    )  # fmt: skip


def _shim(shape: draw.Path) -> Part:
    return Part("shim", "Shim", (Line(shape),), hatched=(), covers=(shape,))


# -- spacer and cutter ---------------------------------------------------------------------------------------------


def _spacer(shown: _Shown, remedy: Remedy) -> draw.View:
    """Return end board, spacer and key side by side on the plate, a shim or a shaving between spacer and key."""
    sled, n, unit = shown.sled, shown.sled.numbers, shown.unit
    face, shim, large = sled.key_at, remedy.action == "shim", shown.large
    high = max(sled.key_height, 0.9 * n.short_spacer)
    edge = face - n.short_spacer - (0.0 if shim else large)  # where the board stands now
    wood = (edge, face - large)
    tall = 1.25 * high
    left = edge - 1.6 * high
    board = in_wood.board(
        "end", "End board", shown.box(left, 0.0, edge, tall), colour_of(shown.woods.end),
        goes_on=("left" if sled.hand > 0 else "right", "above"),
    )  # fmt: skip
    spacer = in_wood.board("spacer", "Spacer", shown.box(wood[0], 0.0, wood[1], high), in_wood.ASH, None)
    bare = shown.box(wood[1], 0.0, face, high)
    changed = _shim(bare) if shim else section.removed("off", "Planed off", bare)
    key = in_wood.board("key", "Key", shown.box(face, 0.0, face + n.key, sled.key_height), in_wood.ASH, None)
    plate = shown.box(left - 0.3 * unit, -0.5 * unit, face + n.key + 0.8 * unit, 0.0)
    under = Part("plate", "Plate", (Line(plate),), hatched=(plate,))
    centre = (left + edge) / 2
    ends = ((centre - 0.5 * high, 0.5 * tall), (centre + 0.5 * high, 0.5 * tall))
    push = shown.arrow(*(ends[::-1] if shim else ends))
    labels = (
        shown.label("end board", centre, 0.15 * tall),
        shown.label("spacer", sum(wood) / 2, 0.2 * high),
        shown.label("key", face + n.key / 2, 0.2 * sled.key_height),
    )
    dimension = shown.across(wood[1], face, tall, "shim" if shim else "off")
    title = "The spacer thicker" if shim else "The spacer thinner"
    parts = (under, board, spacer, changed, key, push)
    return draw.View(f"spacer-{remedy.action}", title, parts, (dimension,), labels, to_scale=False)


def _cutter(shown: _Shown, remedy: Remedy) -> draw.View:
    """Return the cutter in its table, as high as it is to stand, and as it stands now dashed."""
    sled, unit = shown.sled, shown.unit
    depth, up = sled.numbers.runs[0].depth, remedy.action == "raise"
    was = depth - shown.large if up else depth + shown.large
    half, low = sled.cutter / 2, -sled.plate - 10.0
    hole = sled.hole
    sides = [(-hole - 1.2 * unit, -hole), (hole, hole + 2.6 * unit)]
    plates = tuple(draw.rectangle(left, -sled.plate, right, 0.0) for left, right in sides)
    plate = Part("plate", "Plate", draw.lines(plates), hatched=plates)
    table = section.table(sides[0][0], sides[1][1], -sled.plate, hole=(-hole - 2.0, hole + 2.0))
    bit = section.cutter(0.0, sled.cutter, depth, low, sled.tool)
    old = draw.rectangle(-half, low, half, was)
    now = Part("cutter-now", "As it stands now", (Line(old, Kind.NEIGHBOUR),))
    x = hole + 1.2 * unit
    ends = ((x, 0.15 * depth), (x, 0.8 * depth))
    push = in_wood.arrow("push", "Turn it this way", *(ends if up else ends[::-1]), 0.7 * unit)
    dimension = draw.Dimension(
        Point(-half, was), Point(-half, depth), "left", remedy.action, scale=shown.times, gauged=True
    )  # fmt: skip
    labels = (draw.Label("plate", Point(hole + 1.9 * unit, -sled.plate / 2), towards="right"),)
    title = "The cutter higher" if up else "The cutter lower"
    return draw.View(
        f"cutter-{remedy.action}", title, (table, plate, bit, now, push), (dimension,), labels, to_scale=False
    )


_DRAWN: Mapping[str, Callable[[_Shown, Remedy], draw.View]] = {
    "plate": _moved,
    "key": _on_the_key,
    "spacer": _spacer,
    "cutter": _cutter,
}
