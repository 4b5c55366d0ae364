"""The sheets of the indexing sled: its numbers as parts, dimensions and tables.

Axes of the plate seen from above: the cutter's centre at 0, feed up the page. The key stands right (+) or left (-).
"""

from __future__ import annotations

import string
from dataclasses import dataclass, replace

from jigs import cautions, dry_fit, pictures, sled_carriage, trial_joint
from jigs.drawing import (
    Box,
    Cell,
    Circle,
    Dimension,
    Drawing,
    Hole,
    Kind,
    Label,
    Line,
    Notes,
    Part,
    Point,
    Shape,
    Side,
    Table,
    View,
    line,
    lines,
    polygon,
    rectangle,
)
from jigs.dry_fit import Meant
from jigs.errors import Problem, worst_first
from jigs.lengths import Units, round_down, round_up
from jigs.sled_carriage import Carriage
from jigs.trade.fingers import Span, fingers_between
from jigs.trade.passes import KeySide, Machine, cutting_order
from jigs.trade.sled import SledNumbers
from jigs.wording import Words, say

HOLE_ROOM = 1.0
"""The hole in the plate is this much larger than the cutter all round, mm: no bigger than needed."""
SLOT_ROOM = 5.0
"""The slot for a blade is this much longer than the blade at each end, mm."""
SCREW = 2.0
"""Radius of the screw holes, mm; a key narrower than four of them is glued only."""
SPACER_HEIGHT, GRIP = 50.0, 20.0
KEY_END = 60.0
STICK_HEIGHT, STICK_SLIM = 18.0, 9.0
BLOCK_HEIGHT, BLOCK_ROOM = 18.0, 24.0
BLOCK_ROW = 125.0
RIP_LATER = 3.0
"""What is left on a board that is ripped after jointing (common practice, no source), mm."""
ZONE = 30.0
"""Half the height of the zone round the cutter that is drawn where the page can't hold the plate, mm."""
_PLATE = "the plate that is clamped to the machine table: cutter hole and seat of the key"
GAP_WITHIN, CUTTER_WITHIN, SPACER_WITHIN = 0.05, 0.02, 0.05
"""What a careful shop holds with callipers and blocks (common practice, no source), mm."""


@dataclass(frozen=True)
class Sled:
    """All that the sheets are drawn from, in mm."""

    numbers: SledNumbers
    cutter: float
    plate: float
    margin: float
    thickness: float
    boards_in_stack: int
    key_height: float
    machine: Machine
    key_side: KeySide
    problems: tuple[Problem, ...]
    proud: float
    meant: Meant
    spare: float
    """What comes off the board in hand when it is ripped."""
    units: Units = "mm"

    @property
    def hand(self) -> int:
        """The side the key is on: +1 right, -1 left."""
        return 1 if self.key_side == "right" else -1

    @property
    def key_face(self) -> float:
        """Where the face of the key that looks at the cutter stands."""
        return self.hand * self.numbers.key_to_centre

    @property
    def key_back(self) -> float:
        """Where the far face of the key stands."""
        return self.hand * (self.numbers.key_to_centre + self.numbers.key)

    @property
    def near_edge(self) -> float:
        """Where the cutting edge comes nearest to the key."""
        return self.hand * self.cutter / 2

    @property
    def cautions(self) -> tuple[str, ...]:
        """The cautions of making and using the sled."""
        if self.machine == "table saw":
            return (cautions.GENERAL, cautions.BLADE, cautions.SAW, cautions.FINGERS)
        several = (cautions.SEVERAL_PASSES,) if self.numbers.passes.count > 1 else ()
        return (cautions.GENERAL, cautions.JIG, cautions.FINGERS, *several)

    @property
    def carriage(self) -> Carriage:
        """The carriage, in round sizes."""
        return sled_carriage.carriage_of(self.numbers, self.units, self.hand, self.thickest_shim)

    @property
    def key_length(self) -> float:
        """The key, at least as long as it must be, and even on both sides of the cutter."""
        return 2 * round_up(self.numbers.key_length / 2, self.units)

    @property
    def plate_length(self) -> float:
        """The plate along the feed."""
        return self.key_length + 2 * self.margin

    @property
    def plate_ends(self) -> tuple[float, float]:
        """Left and right edge of the plate: the ends of the face, and a margin for the clamps."""
        made = self.carriage
        left, right = sorted((self.hand * (made.reach_key + self.margin), -self.hand * (made.reach_away + self.margin)))
        return left, right

    @property
    def stroke(self) -> float:
        """How far the carriage is fed."""
        return round_up(self.numbers.stroke, self.units)

    @property
    def hole(self) -> float:
        """Half of the hole in the plate, across."""
        return round_up(self.cutter + 2 * HOLE_ROOM, self.units) / 2

    @property
    def backer(self) -> float:
        """Thickness of the backing board."""
        return self.numbers.stack_thickness - self.boards_in_stack * self.numbers.thickness

    @property
    def thickest_shim(self) -> float:
        """What lies between key and wood for the near cut; 0 with one pass."""
        gaps = self.numbers.passes.gaps
        return gaps[-1] - gaps[0]


def drawings(sled: Sled, *, whole: bool) -> tuple[Drawing, ...]:
    """Return the sheets, in the order they are worked from."""
    on_request = (_whole_plate(sled),) if whole else ()
    return (
        _plate(sled),
        *on_request,
        _key_and_spacer(sled),
        sled_carriage.drawing(sled.carriage, sled.numbers, sled.backer, sled.cautions),
        _story_stick(sled),
        _card(sled),
        _test_joint(sled),
    )


# -- plate ---------------------------------------------------------------------------------------------------------


def _plate(sled: Sled) -> Drawing:
    left, right = sled.plate_ends
    why = (
        "The key is on the {side}. A bit in a table turns anticlockwise seen from above; in a slot fed away from you "
        "it drags the boards to the right{then}."
        if sled.machine == "router table"
        else "The key is on the {side}. A blade pushes to neither side: either hand will do, so long as you keep to it."
    )
    then = ", onto the key" if sled.hand > 0 else ", off the key: clamp the stack for every cut"
    notes = Notes(
        "plate-notes",
        "How to use this sheet",
        (
            say(why, side=sled.key_side, then=then),
            say(
                "Prick the centre of the cutter hole{screws} through the sheet; rule key seat and centre lines onto "
                "the plate, {thick} thick, {wide} wide and {long} along the feed. The seat is {deep} deep and goes to "
                "{half} each way from the cutter; glue the key into it. The plate goes {right} to the right of the "
                "cutter and {left} to the left.",
                screws=" and of the key's screws" if _screwed(sled) else "",
                thick=sled.plate,
                deep=sled.plate / 2,
                half=sled.key_length / 2,
                wide=right - left,
                long=sled.plate_length,
                left=-left,
                right=right,
            ),
            _hole_in_words(sled),
            "The whole plate at full size, with the holes that fix it to the table, is drawn by jigleaf jig sled with "
            "--whole.",
            "Set the gap by sliding the plate until the gauge block just goes between key and cutter; then clamp the "
            "plate.",
        ),
    )
    view = replace(_whole_view(sled), detail=_zone(sled))
    return Drawing("plate", "plate", _PLATE, (view, notes), sled.cautions)


def _hole_in_words(sled: Sled) -> Words:
    if sled.machine == "router table":
        return say("The hole for the cutter is {across} in diameter.", across=2 * sled.hole)
    return say("The slot for the blade is {wide} wide and {long} long.", wide=2 * sled.hole, long=2 * _half_slot(sled))


def _screwed(sled: Sled) -> bool:
    """Whether the key is wide enough for screws."""
    return sled.numbers.key >= 4 * SCREW


def _half_slot(sled: Sled) -> float:
    """Half the length of the slot for a blade."""
    return round_up(sled.numbers.slot + 2 * SLOT_ROOM, sled.units) / 2


def _whole_plate(sled: Sled) -> Drawing:
    """The plate with its edges, over several pages if need be."""
    return Drawing(
        "whole-plate", "whole plate", f"{_PLATE}, and the holes that fix it", (_whole_view(sled),), sled.cautions
    )


def _whole_view(sled: Sled) -> View:
    half = sled.plate_length / 2
    left, right = sled.plate_ends
    clamp = sled.margin - 4
    zones = tuple(
        Line(rectangle(x, -half + 8, x + clamp, half - 8), Kind.NARROW) for x in (left + 2, right - 2 - clamp)
    )
    outline = Part(
        "plate",
        "Plate",
        (Line(rectangle(left, -half, right, half)), *zones),
        holes=tuple(
            Hole(Point(x, y), SCREW) for x in (left + 5 + clamp, right - 5 - clamp) for y in (half - 6, 6 - half)
        ),
    )
    labels = (
        *_plate_labels(sled),
        Label("clamp here", Point(left + 2 + clamp / 2, 0), towards="left"),
        Label("clamp here", Point(right - 2 - clamp / 2, 0), towards="right"),
    )
    size = (
        Dimension(Point(left, -half), Point(right, -half), "below", "plate"),
        Dimension(Point(left, -half), Point(left, half), "left", "plate"),
    )
    key_half = sled.key_length / 2
    return View(
        "plate",
        "Plate from above",
        (outline, *_cutter_and_key(sled, key_half)),
        (*_critical(sled, half), *size, _key_length(sled, key_half)),
        labels,
        check=_over_all(sled, half),
        critical=_around_the_key(sled),
    )


def _around_the_key(sled: Sled) -> Box:
    """Cutter and key where they face each other: no seam may run through the gap."""
    left, right = sorted((-sled.near_edge, sled.key_back))
    return Box(left - 3, -20, right + 3, 20)


def _key_length(sled: Sled, half: float) -> Dimension:
    side: Side = "right" if sled.hand > 0 else "left"
    return Dimension(Point(sled.key_back, -half), Point(sled.key_back, half), side, "key")


def _zone(sled: Sled) -> View:
    """The zone that holds every critical distance: it fits any page that the proof fits on."""
    edges = sorted((sled.key_back + sled.hand * 12, -sled.hand * (sled.cutter / 2 + 22)))
    border = Part(
        "plate",
        "Plate, the zone round cutter and key",
        (Line(rectangle(edges[0], -ZONE, edges[1], ZONE), Kind.NEIGHBOUR),),
    )
    return View(
        "plate",
        "Plate from above, the zone round cutter and key",
        (border, *_cutter_and_key(sled, ZONE)),
        _critical(sled, ZONE),
        _plate_labels(sled),
        check=_over_all(sled, ZONE),
    )


def _cutter_and_key(sled: Sled, half: float) -> tuple[Part, ...]:
    """Cutter hole, seat of the key over its half length, centre lines and feed."""
    middle = (sled.key_face + sled.key_back) / 2
    reach = min(half, sled.cutter / 2 + 30)
    seat = rectangle(*_ordered(sled.key_face, sled.key_back, half))
    screws = [Hole(Point(middle, y), SCREW) for y in (half - 12, 12 - half)] if _screwed(sled) else []
    hole = sled.hole
    centre_lines = lines([line((0, -reach), (0, reach)), line((-reach, 0), (reach, 0))], Kind.CENTRE)
    arrow_at = -sled.hand * (hole + 12)
    shims = lines(
        [rectangle(*_ordered(sled.key_face, sled.key_face - sled.hand * shim, half - 4)) for shim in _shims(sled)],
        Kind.HIDDEN,
    )
    return (
        Part("cutter-hole", "Hole for the cutter", (Line(_opening(sled, half)), *centre_lines)),
        Part("cutter", "Cutter", (Line(_cutter(sled, half), Kind.NEIGHBOUR),)),
        Part("key", "Seat of the key", (Line(seat),)),
        *([Part("shims", "Shims for the near cuts", shims)] if shims else []),
        *([Part("key-screws", "Screw holes of the key", holes=tuple(screws))] if screws else []),
        Part("feed", "Feed", arrows=((Point(arrow_at, -22), Point(arrow_at, 22)),)),
    )


def _opening(sled: Sled, half: float) -> Shape:
    """The hole in the plate: round for a bit, a slot for a blade, cut off where the view is."""
    across = sled.hole
    if sled.machine == "router table":
        return Circle(Point(0, 0), across)
    long = _half_slot(sled)
    if long <= half:
        return rectangle(-across, -long, across, long)
    return polygon((-across, -half), (across, -half), (across, half), (-across, half))


def _cutter(sled: Sled, half: float) -> Shape:
    if sled.machine == "router table":
        return Circle(Point(0, 0), sled.cutter / 2)
    long = min(half, sled.numbers.slot / 2)
    return rectangle(-sled.cutter / 2, -long, sled.cutter / 2, long)


def _ordered(one: float, other: float, half: float) -> tuple[float, float, float, float]:
    return min(one, other), -half, max(one, other), half


def _shims(sled: Sled) -> list[float]:
    """The shims between key face and wood for every cut but the far one, thinnest first."""
    gaps = sled.numbers.passes.gaps
    return [gaps[-1] - gap for gap in reversed(gaps[:-1])]


def _critical(sled: Sled, half: float) -> tuple[Dimension, ...]:
    low, top = -half, half

    def across(one: float, other: float, y: float, side: Side, name: str) -> Dimension:
        return Dimension(Point(one, y), Point(other, y), side, name)

    return (
        across(sled.near_edge, sled.key_face, top, "above", "gap"),
        across(sled.key_face, sled.key_back, top, "above", "key"),
        across(0, sled.key_face, low, "below", "key face to centre"),
        _over_all(sled, half),
    )


def _over_all(sled: Sled, half: float) -> Dimension:
    return Dimension(Point(-sled.near_edge, -half), Point(sled.key_back, -half), "below", "over all")


def _plate_labels(sled: Sled) -> tuple[Label, ...]:
    hole = sled.hole
    away: Side = "left" if sled.hand > 0 else "right"
    labels = [
        Label("hole", Point(-sled.hand * hole * 0.7, -hole * 0.7), towards=away),
        Label("cutter", Point(-sled.hand * sled.cutter * 0.35, sled.cutter * 0.35), towards=away),
        Label("feed", Point(-sled.hand * (hole + 12), 14), towards=away),
    ]
    if _shims(sled):
        labels.append(
            Label(
                "shim for the near cut",
                Point(sled.key_face - sled.hand * _shims(sled)[0], -30),
                towards="below",
            )
        )
    return tuple(labels)


# -- key and spacer ------------------------------------------------------------------------------------------------


def _key_and_spacer(sled: Sled) -> Drawing:
    body: tuple[View | Table | Notes, ...] = (
        _key_section(sled),
        _key_plan(sled),
        _spacer_view(sled),
        *_block_views(sled),
        _block_table(sled),
        _blocks_in_words(sled),
    )
    purpose = "the key with its height against the cut, the spacer, and gauge blocks to set them with"
    return Drawing("key", "key, spacer and gauge blocks", purpose, body, sled.cautions)


def _key_plan(sled: Sled) -> View:
    """The key from above; where the page can't hold it half of it, and where not even that fits one end."""
    half, end_drawn = sled.key_length / 2, round_up(KEY_END, sled.units)
    full = _key_view(sled, -half, "Key from above", "key length")
    middle = _key_view(sled, 0.0, "Key from above, half of it; the other half is alike", "half the key length")
    end = _key_view(
        sled,
        half - min(half, end_drawn),
        say("Key from above, one end; its length is {all}", all=sled.key_length),
        "this much",
    )
    return replace(full, detail=replace(middle, detail=end))


def _key_view(sled: Sled, start: float, title: Words, name: str) -> View:
    """The key from `start` to its end, measured from its middle."""
    right, key = sled.key_length / 2, sled.numbers.key
    outline = Part("key-plan", "Key from above", lines([rectangle(start, 0, right, key)]))
    length = Dimension(Point(start, 0), Point(right, 0), "below", name)
    width = Dimension(Point(start, 0), Point(start, key), "left")
    return View("key-plan", title, (outline,), (length, width), check=length)


def _key_section(sled: Sled) -> View:
    return replace(_section(sled, 10.0), detail=_section(sled, 2.0))


def _section(sled: Sled, beyond: float) -> View:
    """Key and cutter looking along the feed, with the plate going on so far `beyond` hole and key."""
    depth, high = sled.numbers.cut_depth, sled.key_height
    seat = sled.plate / 2
    hole = sled.hole
    face, back = sorted((sled.key_face, sled.key_back))
    inner, outer = -sled.hand * (hole + beyond), sled.key_back + sled.hand * beyond
    left_piece = sorted((inner, -sled.hand * hole))
    right_piece = (
        (sled.hand * hole, 0),
        (sled.key_face, 0),
        (sled.key_face, -seat),
        (sled.key_back, -seat),
        (sled.key_back, 0),
        (outer, 0),
        (outer, -sled.plate),
        (sled.hand * hole, -sled.plate),
    )
    key = rectangle(face, -seat, back, high)
    plate = [rectangle(left_piece[0], -sled.plate, left_piece[1], 0), polygon(*right_piece)]
    cutter = Part(
        "section-cutter",
        "Cutter at its height",
        (Line(rectangle(-sled.cutter / 2, -sled.plate, sled.cutter / 2, depth), Kind.NEIGHBOUR),),
    )
    parts = (
        Part("section-plate", "Plate, cut across", lines(plate), hatched=tuple(plate)),
        Part("section-key", "Key, cut across", lines([key]), hatched=(key,)),
        cutter,
    )
    left_side: Side = "left" if sled.hand > 0 else "right"
    right_side: Side = "right" if sled.hand > 0 else "left"
    cut_edge = -sled.hand * sled.cutter / 2
    dimensions = (
        Dimension(Point(cut_edge, 0), Point(cut_edge, depth), left_side, "cut"),
        Dimension(Point(sled.key_back, 0), Point(sled.key_back, high), right_side, "stands"),
        Dimension(Point(outer, -sled.plate), Point(sled.near_edge, depth), right_side, "above table"),
        Dimension(Point(sled.near_edge, depth), Point(sled.key_face, high), "above", "gap"),
        Dimension(Point(face, high), Point(back, high), "above", "key"),
    )
    # Beside "stands" a second dimension would make the view too wide for an upright page.
    words = say("key {all} high in all, {seat} of it in the seat", all=high + seat, seat=seat)
    label = Label(words, Point((face + back) / 2, -seat / 2), towards="below")
    return View("section", "Key and cutter, looking along the feed", parts, dimensions, (label,))


def _spacer_view(sled: Sled) -> View:
    """The spacer from its end. Its foot is cut away where the cutter would shave it."""
    n = sled.numbers
    relief = round_up(max(0.0, n.spacer - n.finger) + 0.5, sled.units)
    foot = round_up(n.cut_depth + 1.0, sled.units)
    high = round_up(max(SPACER_HEIGHT, foot + GRIP), sled.units)
    at = sled.hand
    shape = [(0, foot), (-at * relief, foot), (-at * relief, 0), (-at * n.short_spacer, 0)]
    # The side that looks at the cutter is drawn at 0: left of the wood where the key is on the right.
    outline = polygon(*[(-x, y) for x, y in shape], (at * n.short_spacer, high), (0, high))
    part = Part("spacer", "Spacer from its end", lines([outline]))
    left, right = sorted((0.0, at * n.short_spacer))
    dimensions = (
        Dimension(Point(left, high), Point(right, high), "above"),
        Dimension(
            Point(at * n.short_spacer, 0),
            Point(at * n.short_spacer, high),
            "right" if at > 0 else "left",
            "height",
        ),
        Dimension(Point(0, foot), Point(at * relief, 0), "left" if at > 0 else "right", "foot"),
    )
    label = Label(
        say("{long} long; foot cut back {relief} on the side of the cutter", long=_spacer_length(sled), relief=relief),
        Point(at * n.short_spacer / 2, high * 0.6),
        towards="right" if at > 0 else "left",
    )
    return View("spacer", "Spacer for the ends", (part,), dimensions, (label,), check=dimensions[1])


def _spacer_length(sled: Sled) -> float:
    """How long the spacer is along the feed: ends and backing board butt it, front and back stand before it."""
    shorts = sled.boards_in_stack // 2 * sled.thickness
    most = shorts + sled.backer
    return max(shorts, round_down(most, sled.units))


def _block_sizes(sled: Sled) -> list[tuple[str, float]]:
    n = sled.numbers
    sizes = [("gap, key to cutting edge", n.gap), ("key", n.key), ("spacer", n.short_spacer)]
    if n.board_starter:
        sizes.append(("starter for the front and back", n.board_starter))
    sizes += [(f"shim for cut {len(n.passes.gaps) - 1 - i}", shim) for i, shim in enumerate(_shims(sled))]
    sizes += [
        ("socket goes on this", n.socket - CUTTER_WITHIN),
        ("socket does not go on this", n.socket + sled.meant.errors.socket),
    ]
    return [*sizes, ("depth of cut", n.cut_depth), ("cutter above the table", n.projection)]


def _block_views(sled: Sled) -> list[View]:
    """The blocks side by side, each with its size, in rows that any page can hold."""
    rows: list[list[tuple[str, str, float, float]]] = []
    x = 0.0
    for letter, (name, size) in zip(string.ascii_uppercase, _block_sizes(sled), strict=False):
        if not rows or x + size > BLOCK_ROW:
            rows.append([])
            x = 0.0
        rows[-1].append((letter, name, x, size))
        x += size + BLOCK_ROOM
    return [_block_row(row) for row in rows]


_BY_TURNS: tuple[Side, Side] = ("above", "below")


def _block_row(row: list[tuple[str, str, float, float]]) -> View:
    """One row of blocks: letter, what for, where it stands, how wide it is."""
    parts = tuple(
        Part(f"block-{letter.lower()}", f"Block {letter}: {name}", lines([rectangle(x, 0, x + size, BLOCK_HEIGHT)]))
        for letter, name, x, size in row
    )
    # By turns above and below: a number is wider than most blocks and must not reach over its neighbour's.
    widths = tuple(
        Dimension(Point(x, high), Point(x + size, high), side, letter)
        for i, (letter, _, x, size) in enumerate(row)
        for side, high in [(_BY_TURNS[i % 2], BLOCK_HEIGHT * (1 - i % 2))]
    )
    first, last = row[0][0], row[-1][0]
    which = f"Gauge blocks {first} to {last}" if first != last else f"Gauge block {first}"
    return View(f"blocks-{first.lower()}", f"{which}; the width is what counts", parts, widths)


def _blocks_in_words(sled: Sled) -> Notes:
    return Notes(
        "blocks-how",
        "Wood of the blocks",
        (
            say(
                "Every block is a strip of hard, even wood, the grain along it, as thick as the width drawn, {high} "
                "wide and {long} long. Plane it, measure it with callipers at three places, write its letter on it.",
                high=round_up(19.0, sled.units),
                long=round_up(76.0, sled.units),
            ),
        ),
    )


def _block_table(sled: Sled) -> Table:
    rows: list[tuple[Cell, ...]] = [
        (letter, name, size, None)
        for letter, (name, size) in zip(string.ascii_uppercase, _block_sizes(sled), strict=False)
    ]
    return Table("blocks", "Gauge blocks", ("Block", "For", "Plane it to", "It really measures"), tuple(rows))


# -- story stick ---------------------------------------------------------------------------------------------------


def _story_stick(sled: Sled) -> Drawing:
    n = sled.numbers
    rows = []
    for step in range(max(len(n.long_sockets), len(n.short_sockets))):
        cells: list[Cell] = [str(step + 1)]
        for sockets in (n.long_sockets, n.short_sockets):
            span = sockets[step] if step < len(sockets) else None
            cells += ["–", "–"] if span is None else [span.start, span.end]
        rows.append(tuple(cells))
    table = Table(
        "positions",
        "Sockets from the reference edge",
        ("Step", "Front from", "to", "End from", "to"),
        tuple(rows),
    )
    purpose = (
        "every finger and socket of both mating boards, to lay on them before and after the first cuts; waste is "
        "hatched, numbers are steps, the reference edge is the bottom of the box"
    )
    return Drawing("stick", "story stick", purpose, (_stick_view(n), table), sled.cautions)


def _stick_view(n: SledNumbers) -> View:
    """Both boards' edges, one over the other; slimmer where a long one lies along a page turned on its side."""
    width = Dimension(Point(0, 0), Point(n.width, 0), "above", "rip to")
    slim = _sticks(n, STICK_SLIM, width, width)
    check = _stick_check(n)
    return replace(_sticks(n, STICK_HEIGHT, width, check), detail=slim)


def _sticks(n: SledNumbers, high: float, width: Dimension, check: Dimension) -> View:
    upper = 1.8 * high
    top = upper + high
    long = _strip("stick-front", "Front and back", n.long_sockets, n.width, upper, top)
    short = _strip("stick-end", "Ends", n.short_sockets, n.width, 0.0, high)
    width = replace(width, start=Point(0, top), end=Point(n.width, top))
    labels = (
        *_numbered(n.long_sockets, upper + high / 2),
        *_numbered(n.short_sockets, high / 2),
        Label("reference edge", Point(0, -2.3), towards="right"),
    )
    dimensions = (width,) if check.name == width.name else (width, check)
    return View("stick", "Front above, end below", (long, short), dimensions, labels, check=dimensions[-1])


def _stick_check(n: SledNumbers) -> Dimension:
    """From the first socket's start to the last one's: a whole number of pitches."""
    first, last = n.long_sockets[0], n.long_sockets[-1]
    if len(n.long_sockets) == 1:
        return Dimension(Point(first.start, 0), Point(first.end, 0), "below", "socket")
    name = f"{len(n.long_sockets) - 1} × pitch"
    return Dimension(Point(first.start, 0), Point(last.start, 0), "below", name)


def _strip(name: str, title: str, sockets: tuple[Span, ...], width: float, bottom: float, top: float) -> Part:
    """One board's edge seen on its face: fingers plain, sockets hatched, the reference edge heavy at the left."""
    waste = tuple(rectangle(span.start, bottom, span.end, top) for span in sockets)
    plain = tuple(rectangle(span.start, bottom, span.end, top) for span in fingers_between(width, sockets))
    reference = Line(line((0, bottom - 3), (0, top + 3)), Kind.REFERENCE)
    return Part(name, title, (*lines(waste + plain), reference), hatched=waste)


def _numbered(sockets: tuple[Span, ...], middle: float) -> list[Label]:
    """Number every socket, in letters that go into it; where none do, every fifth one, beside the board."""
    digits = len(str(len(sockets)))
    narrowest = min(span.width for span in sockets)
    height = next((h for h in (3.5, 2.5, 1.8) if digits * 0.76 * h + 1.4 <= narrowest), None)
    if height is None:
        fifths = [(i, span) for i, span in enumerate(sockets, start=1) if i in (1, len(sockets)) or i % 5 == 0]
        return [Label(str(i), Point(span.middle, middle), towards="above") for i, span in fifths]
    return [
        Label(str(i), Point(span.middle, middle), leader=False, height=height)
        for i, span in enumerate(sockets, start=1)
    ]


# -- setting card --------------------------------------------------------------------------------------------------


def _card(sled: Sled) -> Drawing:
    purpose = "every setting in the order it is made, with what to set it with and how near it must be; how to cut"
    body = (
        _settings(sled),
        _calliper(sled),
        pictures.sled_from_above(sled.machine, sled.key_side),
        _cutting(sled),
        _bias(sled),
        _warnings(sled),
        dry_fit.joint_picture(sled.meant),
        dry_fit.expectation_table(sled.meant),
        dry_fit.budget_picture(sled.meant),
        dry_fit.mistakes_table(sled.meant),
    )
    return Drawing("card", "setting card and order of cutting", purpose, body, (*sled.cautions, cautions.PAPER))


def _test_joint(sled: Sled) -> Drawing:
    return trial_joint.drawing(sled.meant, sled.proud, sled.cautions)


def _settings(sled: Sled) -> Table:
    n, over = sled.numbers, sled_carriage.square_over(sled.units)
    play = "Play of a socket on the key" + (", thickest shim in" if sled.thickest_shim else "")
    rows: list[tuple[Cell, ...]] = [
        ("Cutter, as it cuts in scrap", sled.cutter, CUTTER_WITHIN, "callipers in a scrap groove"),
        ("Cutter above the table", n.projection, 0.1, "gauge block"),
        ("Gap, key to cutting edge", n.gap, GAP_WITHIN, "gauge block, cutter turned by hand, plate slid"),
        ("Across cutter and key", n.over_all, GAP_WITHIN, "callipers"),
        (play, n.slack, GAP_WITHIN, "feeler, in the first socket"),
        ("Spacer for the ends", n.short_spacer, SPACER_WITHIN, "callipers"),
        (say("Face square to key, over {over}", over=over), n.square_in_100 * over / 100, "–", "try square"),
        (
            "Key stands above the plate",
            sled.key_height,
            "–",
            say("callipers; boards ride on a key above {most}", most=n.key_height_limit),
        ),
        ("Rip boards to", n.width, 0.1, _how_to_rip(sled)),
        ("Steps for the stack", str(n.steps), "–", "count them"),
    ]
    if n.board_starter:
        rows.insert(6, ("Starter for front and back", n.board_starter, SPACER_WITHIN, "callipers"))
    rows[7:7] = _pass_rows(sled)
    numbered = tuple((str(i), *row) for i, row in enumerate(rows, start=1))
    return Table("settings", "Settings, in this order", ("", "Setting", "Value", "Within", "Set with"), numbered)


def _how_to_rip(sled: Sled) -> Words:
    left = round_up(RIP_LATER, sled.units)
    if sled.spare < left:
        return "saw fence, once 1 to 5 are measured"
    return say("saw fence, once 1 to 5 are measured; or leave {left} and rip after jointing", left=left)


def _pass_rows(sled: Sled) -> list[tuple[Cell, ...]]:
    made = sled.numbers.passes
    if made.count == 1:
        return []
    order = cutting_order(made.count, sled.machine, sled.key_side)
    rows: list[tuple[Cell, ...]] = []
    for turn, place in enumerate(order, start=1):
        shim = made.gaps[-1] - made.gaps[place]
        with_what = say("shim of {shim} at the key", shim=shim) if shim > 1e-9 else "no shim, wood on the key"
        rows.append((f"Cut {turn} of each socket, gap", made.gaps[place], CUTTER_WITHIN, with_what))
    return rows


def _calliper(sled: Sled) -> View:
    """Callipers across cutter and key, end on."""
    n, high = sled.numbers, sled.key_height
    ends = sorted((-sled.near_edge, sled.key_back))
    cutter = Part("calliper-cutter", "Cutter", (Line(rectangle(-sled.cutter / 2, 0, sled.cutter / 2, n.cut_depth)),))
    face, back = sorted((sled.key_face, sled.key_back))
    key = Part(
        "calliper-key",
        "Key",
        (Line(rectangle(face, 0, back, high)),),
        hatched=(rectangle(face, 0, back, high),),
    )
    plate = Part("calliper-plate", "Plate", (Line(line((ends[0] - 14, 0), (ends[1] + 14, 0))),))
    over_all = Dimension(Point(ends[0], n.cut_depth), Point(ends[1], high), "above", "over all")
    gap = Dimension(Point(sled.near_edge, 0), Point(sled.key_face, 0), "below", "gap")
    return View("calliper", "Check with callipers", (cutter, key, plate), (over_all, gap), check=over_all)


def _bias(sled: Sled) -> Notes:
    n = sled.numbers
    return Notes(
        "bias",
        "Which way to push",
        (
            f"Push the boards to the {sled.key_side}, away from the cutter, until wood touches the face of the key "
            "that looks at the cutter (or the shim on it): for the first cut and for every cut. Then the width of the "
            "key drops out.",
            *_fingers_from_gap(sled),
            say(
                "Pushed the other way fingers come out {thin} instead of {finger}, and the joint {loose} loose.",
                thin=n.finger - n.slack,
                finger=n.finger,
                loose=n.clearance + n.slack,
            ),
            say(
                "Front and back butt the key; ends and backing board butt the spacer. All boards bottom edge to the "
                "key. Clearance {clearance}; flush from {low} to {high}.",
                clearance=n.clearance,
                low=n.fit.flush_low,
                high=n.fit.flush_high,
            ),
        ),
    )


def _fingers_from_gap(sled: Sled) -> tuple[Words, ...]:
    n, shim = sled.numbers, sled.thickest_shim
    if not shim:
        return (say("Every finger is the gap: {gap}.", gap=n.gap),)
    return (
        say(
            "Every finger is the gap less the thickest shim: {gap} − {shim} = {finger}.",
            gap=n.gap,
            shim=shim,
            finger=n.finger,
        ),
        "A shim taken from the near side of the key goes to its far side for that cut, so that the socket stays "
        "filled and the boards can't rock. All cuts of a socket are made before the boards step on.",
    )


def _cutting(sled: Sled) -> Notes:
    """The order of cutting, step by step: what is clamped to what, and when it is let go."""
    n, side = sled.numbers, sled.key_side
    each = "" if n.passes.count == 1 else f" Make all {n.passes.count} cuts of a socket so, before the boards step on."
    butt = "against the key" if not n.board_starter else "against the key, with the starter between"
    return Notes(
        "cutting",
        "Order of cutting",
        (
            "1. Power off, the carriage drawn back to you, its face at the near end of the key. Stand the boards on "
            "the plate before the face, bottom edges to the key; from the cutter towards you: front, back, ends, "
            f"backing board. Front and back go {butt}, ends and backing board against the spacer, "
            "which stands at the key.",
            f"2. Push all of them to the {side} and down on the plate, and clamp the boards to one another, well above "
            "the cut. From now on they are one stack and that clamp stays on. Clamp the stack to the face with two "
            "more clamps. Take the spacer away.",
            say(
                "3. Both hands on the outer ends of the carriage: feed it away from you, {stroke} to a stop clamped on "
                "the plate. The key runs into the slot and under the carriage; the cutter comes out under the exit "
                f"block. Stop the cutter, wait until it stands, draw the carriage back.{each}",
                stroke=sled.stroke,
            ),
            "4. Undo only the two clamps at the face. Lift the stack, step it over to the "
            f"{side} and set it down with the socket just cut on the key. Push it to the {side}, clamp it to the face "
            f"again and cut. {n.steps} steps in all.",
            "5. Mark the ends that were cut together: only they are mates. Undo the stack, turn every board and the "
            "backing board end for end, bottom edges again to the key, and begin again at 1.",
        ),
    )


def _warnings(sled: Sled) -> Notes:
    said: list[Words] = []
    for problem in worst_first(sled.problems):
        said.append(say(f"{problem.severity.capitalize()}, {problem.where}: {problem.rule}.", **problem.numbers))
        if problem.suggestion:
            said.append(say(f"– {problem.suggestion}.", **problem.numbers))
    return Notes("warnings", "What to know before cutting", tuple(said) or ("Nothing more.",))
