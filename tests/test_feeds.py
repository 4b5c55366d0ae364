"""Does every cutter work against its feed, and every step find what it needs? Judged from what a card gives a maker.

The model knows nothing of how a card was made. It reads pictures (the arrow of the feed; where fence, cutter, stops,
work and hands stand), the rows of the settings in their order, and the steps. Common practice, no source: seen from
above a bit in a table turns anticlockwise, one in a hand-held router clockwise; the front of a blade comes down towards
whoever stands before it. Every check is also broken on purpose.

Pictures from above: x to the right, y away from whoever stands at their foot.
"""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import assume, event, given, settings
from hypothesis import strategies as st
from shapely import affinity
from shapely.geometry.base import BaseGeometry

from jigs.base import cards
from jigs.base.cards import Card, Sheets
from jigs.base.catalogue import catalogue, find
from jigs.base.drawing import ArcTo, Circle, Part, Path, Point, View
from jigs.base.errors import CannotBuild
from jigs.base.wording import Words, read_out
from jigs.box import chain
from jigs.box import sheets as box_sheets
from jigs.boxfile import reading
from jigs.record import replace
from tests import on_cards
from tests.boxes import SAMPLES, WHOLE_INCHES, WHOLE_METRIC, worked
from tests.conftest import examples
from tests.outside import Check, compared
from tests.test_properties import example_of

TURNING = Check(
    "Limits and margins of the shop",
    "the edges of a turning cutter followed through the wood that is fed to it, as pictures and settings of a card say",
    "independent derivation",
)

Way = tuple[float, float]
Span = tuple[float, float]
TABLE, HAND_HELD = 1, -1
"""How a bit turns seen from above: anticlockwise in a table, clockwise in a hand-held router."""
BALANCED = 1e-3
"""A share of the whole force: what is less is none. A slot as wide as its bit pushes neither with nor against."""
OFF_THE_LINE = 15.0
"""A hand is so far beside the line of a cutter at the least, mm (common practice, no source)."""
READ = 0.06
"""Sizes in words are rounded to a tenth of a millimetre."""


# -- the model -----------------------------------------------------------------------------------------------------


def left_of(way: Way) -> Way:
    return -way[1], way[0]


def dot(a: Way, b: Way) -> float:
    return a[0] * b[0] + a[1] * b[1]


def push(turn: int, feed: Way, radius: float, fresh: Sequence[Span]) -> tuple[float, float]:
    """Return how the edges of a bit push the wood fed to it: along its feed, and to the left of it, -1 to 1.

    `fresh` are the strips that it meets, mm to the left of its axis as the wood goes. Only the half of its rim that
    looks against the feed cuts: an edge there takes a chip as thick as it looks against it, and drags the wood its way.
    More than nothing along the feed is a cut that climbs.
    """
    angles = np.linspace(-math.pi / 2, math.pi / 2, 4001)
    left = left_of(feed)
    rim = np.outer(np.cos(angles), [-feed[0], -feed[1]]) + np.outer(np.sin(angles), left)
    edges = turn * np.column_stack((-rim[:, 1], rim[:, 0]))  # a quarter turn on from the rim
    across = radius * np.sin(angles)
    meets = np.zeros(len(angles), dtype=bool)
    for low, high in fresh:
        meets |= (across > low + 1e-6) & (across < high - 1e-6)
    chips = np.where(meets, np.cos(angles), 0.0)
    whole = max(float(chips.sum()), 1e-9)
    return float(chips @ (edges @ np.array(feed))) / whole, float(chips @ (edges @ np.array(left))) / whole


def left_over(span: Span, gone: Sequence[Span]) -> list[Span]:
    """Return what is left of a strip when others are gone."""
    rest: BaseGeometry = shapely.LineString([(span[0], 0), (span[1], 0)])
    for low, high in gone:
        rest = rest.difference(shapely.box(low, -1, high, 1))
    return [(piece.bounds[0], piece.bounds[2]) for piece in shapely.get_parts(rest) if piece.length > 1e-6]


def slot(radius: float) -> list[Span]:
    return [(-radius, radius)]


# -- what a card shows ---------------------------------------------------------------------------------------------


def has(view: View, name: str) -> bool:
    return any(part.name == name for part in view.parts)


def way_of(view: View, name: str = "feed") -> Way:
    """Return the way that an arrow points, as a unit."""
    [(tail, tip)] = on_cards.part(view, name).arrows
    long = math.dist(tail, tip)
    return round((tip.x - tail.x) / long, 9), round((tip.y - tail.y) / long, 9)


def round_of(part: Part) -> Circle:
    return next(line.shape for line in part.lines if isinstance(line.shape, Circle))


def turn_of(bit: Part) -> int:
    """Return how the arrow round a bit turns: from the end without a head to the one with it."""
    shapes = [line.shape for line in bit.lines if isinstance(line.shape, Path)]
    arc = next(shape for shape in shapes if isinstance(shape.steps[0], ArcTo))
    head = next(shape for shape in shapes if len(shape.steps) == 2 and not shape.closed)
    step, middle = arc.steps[0], round_of(bit).centre
    assert isinstance(step, ArcTo)
    point = head.steps[0].end
    ends = [arc.start, step.end]
    tip, tail = sorted(ends, key=lambda end: math.dist(end, point))
    assert math.dist(tip, point) < 1e-6, "the head is at an end of the arc"
    crossed = (tail.x - middle.x) * (tip.y - middle.y) - (tail.y - middle.y) * (tip.x - middle.x)
    return 1 if crossed > 0 else -1


def area_of(part: Part) -> shapely.Polygon:
    """Return what a part covers: its first closed line."""
    shape = next(line.shape for line in part.lines if isinstance(line.shape, Path) and line.shape.closed)
    return shapely.Polygon(shape.points(0.1))


def hands_of(view: View) -> dict[str, shapely.Polygon]:
    return {part.name: area_of(part) for part in view.parts if part.name.endswith("-hand")}


def said(words: Words) -> str:
    return read_out(words, "mm")


def text_of(card: Card) -> str:
    """Return what is set, checked, held and done, in its order, a line each; cautions are not in it."""
    lines: list[str] = []
    for band in on_cards.bands(card):
        match band:
            case cards.Settings():
                lines += [f"set {said(row.what)}" for row in band.rows]
            case cards.Checks():
                lines += [said(band.title), said(band.words), *(f"check {said(row.what)}" for row in band.rows)]
            case cards.Readings():
                lines += [f"read {said(row.what)}" for row in band.rows]
            case cards.Hold():
                lines.append(f"hold {said(band.words)}")
            case cards.Order():
                lines += [said(step) for step in band.steps]
    return "\n".join(lines)


def cautions_of(card: Card) -> str:
    return " ".join(f"{one.hazard}: {said(one.words)}" for one in card.cautions)


def length(value: float | Words) -> float:
    return value if isinstance(value, float) else float(said(value).split()[0])


# -- hands ---------------------------------------------------------------------------------------------------------


def hands_in_the_guard(view: View, feed: Way, travel: float) -> Iterator[str]:
    """Find hands that come into the guard while the work is fed so far."""
    guard = shapely.box(*on_cards.part(view, "guard").bounds)
    for name, hand in hands_of(view).items():
        swept = shapely.union_all(
            [affinity.translate(hand, *(part * travel * i / 40 for part in feed)) for i in range(41)]
        )
        if swept.intersection(guard).area > 1e-6:
            yield f"the {name} comes {swept.intersection(guard).bounds} into the guard"


def hands_in_the_line(view: View, feed: Way, cutter: str) -> Iterator[str]:
    """Find hands before or behind a cutter, on the line that it cuts along."""
    box = shapely.box(*on_cards.part(view, cutter).bounds)
    line = shapely.union_all(
        [affinity.translate(box, *(part * way for part in feed)) for way in (-2000, 2000)]
    ).envelope.buffer(OFF_THE_LINE, cap_style="square", join_style="mitre")
    for name, hand in hands_of(view).items():
        if hand.intersects(line):
            yield f"the {name} is on the line of the {cutter}"


def stands_behind(view: View, feed: Way, cutter: str) -> Iterator[str]:
    """Find a feed towards whoever's hands these are: the work is pushed away, and a blade comes down on this side."""
    box = on_cards.part(view, cutter).bounds
    middle = ((box.left + box.right) / 2, (box.bottom + box.top) / 2)
    for name, hand in hands_of(view).items():
        if dot((hand.centroid.x - middle[0], hand.centroid.y - middle[1]), feed) > 0:
            yield f"the {name} stands where the {cutter} throws the wood"


# -- operations ----------------------------------------------------------------------------------------------------


def fingers(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """The sled: fed away from you; cuts of a socket, one beside the other, from the gaps in their printed order."""
    view = on_cards.views(card)["from-above-2"]
    setting = more["set-sled"]
    first = on_cards.settings(setting)
    feed = way_of(view)
    saw = has(view, "blade")
    cutter = "blade" if saw else "bit"
    yield from stands_behind(view, feed, cutter)
    yield from hands_in_the_line(view, feed, cutter)
    if way_of(on_cards.views(setting)["from-above-1"]) != feed:
        yield "the two cards feed two ways"
    block = area_of(on_cards.part(view, "carriage-exit-block"))
    if any(hand.intersects(block) for hand in hands_of(view).values()):
        yield "a hand is on the exit block"
    cuts = sockets(card, first)
    yield from shims(card)
    if saw:
        return
    key = on_cards.part(view, "key").bounds
    away = (-math.copysign(1.0, key.left + key.right), 0.0)
    turn, radius = turn_of(on_cards.part(view, "bit")), length(first["cutter"]) / 2
    if turn != TABLE:
        yield "the bit turns the wrong way for a table"
    gone: list[Span] = []
    sign = dot(away, left_of(feed))
    for number, gap in enumerate(cuts, start=1):
        spans = left_over((gap, gap + 2 * radius), gone)
        fresh = [tuple(sorted(sign * (u - gap - radius) for u in span)) for span in spans]
        along, left = push(turn, feed, radius, fresh)  # type: ignore[arg-type]  # pairs
        if along > BALANCED:
            yield f"cut {number}, gap {gap:.2f}, climbs: {along:.2f}"
        if number == 1 and (left * sign > 0) != ("Pull" in cautions_of(card)):
            yield "what is said of the cut and the key is not what it does"
        gone.append((gap, gap + 2 * radius))


def sockets(card: Card, first: Mapping[str, Any]) -> list[float]:
    """Return the gaps of all cuts of a socket in their order; those of many that are not printed lie between."""
    shown = [length(value) for name, value in on_cards.settings(card).items() if re.fullmatch(r"cut-\d+", name)]
    if not shown:
        return [length(first["gap"])]
    [count] = re.findall(r"Make all (\d+) cuts of a socket", text_of(card))
    step = (shown[-1] - shown[0]) / (int(count) - 1)
    cuts = [shown[0] + i * step for i in range(int(count))]
    return shown if len(shown) == len(cuts) else [*shown[:2], *cuts[2:]]


def shims(card: Card) -> Iterator[str]:
    """Find shims that can't be moved as the steps say: from between key and wood, or to there."""
    rows = [
        row
        for band in on_cards.bands(card)
        if isinstance(band, cards.Settings)
        for row in band.rows
        if re.fullmatch(r"cut-\d+", row.name)
    ]
    if not rows:
        return
    between = [int(found.group()) if (found := re.match(r"\d+", said(row.using))) else 0 for row in rows]
    gaps = [length(row.value) for row in rows]
    if any((a < b) != (x > y) for a, b, x, y in zip(between, between[1:], gaps, gaps[1:], strict=False)):
        yield "a shim between key and wood must bring the cut nearer to the wood's edge"
    moved = "to the far side of the key" in text_of(card)
    back = "from the far side of the key" in text_of(card)
    if (moved, back) != (between[1] < between[0], between[1] > between[0]):
        yield f"shims between key and wood go from {between[0]} to {between[1]}; the step says otherwise"


def against(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """A groove: a slot as wide as its bit, which must push the board to the fence; stops behind and before it."""
    view = on_cards.views(card)["from-above"]
    feed, bit = way_of(view), round_of(on_cards.part(view, "bit"))
    turn, board = turn_of(on_cards.part(view, "bit")), on_cards.part(view, "board").bounds
    fence = on_cards.part(view, "fence").bounds
    if turn != TABLE:
        yield "the bit turns the wrong way for a table"
    to_fence = (0.0, math.copysign(1.0, (fence.bottom + fence.top) / 2 - bit.centre.y))
    face = fence.bottom if to_fence[1] > 0 else fence.top
    if abs(face - (board.top if to_fence[1] > 0 else board.bottom)) > 1e-6:
        yield "the board does not lie at the fence"
    if not board.bottom - 1e-6 <= bit.centre.y - bit.radius <= bit.centre.y + bit.radius <= board.top + 1e-6:
        yield "the bit is not within the board: a strip is left that nobody says"
    along, left = push(turn, feed, bit.radius, slot(bit.radius))
    if abs(along) > BALANCED:
        yield "a slot is not balanced"
    if left * dot(left_of(feed), to_fence) <= 0:
        yield "the bit pulls the board off the fence"
    travel = board.right - bit.centre.x
    stops = {
        side: on_cards.part(view, f"{side}-stop").bounds for side in ("left", "right") if has(view, f"{side}-stop")
    }
    if stops and "front end leads" not in text_of(card):
        behind, before = ("right", "left") if feed[0] < 0 else ("left", "right")
        gap = abs(getattr(board, behind) - getattr(stops[behind], before))
        if gap > 1e-6:
            yield "no stop stands behind the board as it is lowered: the bit throws it"
        travel = abs(getattr(board, before) - getattr(stops[before], behind))
        named = re.search(r"[Ff]eed to the (\w+) stop", text_of(card))
        if not named or named.group(1) != before:
            yield "the words feed to the other stop"
    yield from hands_in_the_guard(view, feed, travel)


def rabbets(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """Rabbets: each setting of the fence takes a strip, from the edge inward; no strip may stay at the fence."""
    view = on_cards.views(card)["from-above"]
    feed, drawn = way_of(view), round_of(on_cards.part(view, "bit"))
    turn, piece = turn_of(on_cards.part(view, "bit")), on_cards.part(view, "piece").bounds
    fence = on_cards.part(view, "fence").bounds
    if turn != TABLE:
        yield "the bit turns the wrong way for a table"
    away = (0.0, math.copysign(1.0, drawn.centre.y - (fence.bottom + fence.top) / 2))
    sign = dot(away, left_of(feed))
    for bit, edges, out in widths(card):
        before = 0.0
        for exposed in out:
            fresh = [tuple(sorted(sign * (at - (exposed - bit / 2)) for at in (before, exposed)))]
            along, _ = push(turn, feed, bit / 2, fresh)  # type: ignore[arg-type]  # pairs
            if along >= -BALANCED:
                yield f"{edges}: bit {exposed:.2f} out climbs: {along:.2f}"
            if exposed - bit > before + READ:
                yield f"{edges}: bit {exposed:.2f} out leaves a strip between itself and the fence"
            before = exposed
    for part in view.parts:
        if part.title == "Featherboard" and dot((part.bounds.left, 0), feed) > -drawn.radius:
            yield "a featherboard presses at the bit or behind it"
    yield from hands_in_the_guard(view, feed, abs(piece.right - drawn.centre.x) + drawn.radius)


def widths(card: Card) -> Iterator[tuple[float, str, list[float]]]:
    """Return a bit and how far it stands out, setting by setting, for each pair of edges; that of another bit too."""
    rows = on_cards.settings(card)
    groups: dict[str, list[float]] = {}
    for name, value in rows.items():
        if found := re.fullmatch(r"(ends|sides|edges)-\d+", name):
            groups.setdefault(found.group(1), []).append(length(value))
    yield from ((length(rows["bit"]), edges, out) for edges, out in groups.items())
    for line in text_of(card).splitlines():
        if found := re.search(r"with the groove’s bit of ([\d.]+) mm: (.*)", line):
            for edges in found.group(2).split("; "):
                out = [float(number) for number in re.findall(r"([\d.]+) mm", edges)]
                yield float(found.group(1)), f"with the groove's bit, {edges}", out


def sawn(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """A carriage or gauge past a blade: away from you, hands off its line; what is cut off lies free."""
    view = on_cards.views(card)["from-above"]
    feed = way_of(view)
    yield from stands_behind(view, feed, "blade")
    yield from hands_in_the_line(view, feed, "blade")
    side, blade = left_of(feed), on_cards.part(view, "blade").bounds
    middle = dot(((blade.left + blade.right) / 2, (blade.bottom + blade.top) / 2), side)

    def beside(name: str) -> Span:
        """How far a part reaches to the left of the blade's middle, as the wood goes."""
        box = on_cards.part(view, name).bounds
        ways = [dot(corner, side) - middle for corner in ((box.left, box.bottom), (box.right, box.top))]
        return min(ways), max(ways)

    kept = next((name for name in ("board", "plate") if has(view, name)), None)
    if kept is None:
        return  # a slot: nothing comes off
    held = [name for name in ("stop", "rip-fence", "fence", "rail") if has(view, name)]
    on_left = sum(beside(held[0])) > 0
    for name in held:
        low, high = beside(name)
        if (low if on_left else -high) < -1e-6 and name != "stop":
            yield f"what comes off is caught between blade and {name}"
    if has(view, "offcut") and (sum(beside("offcut")) > 0) == on_left:
        yield "the offcut lies on the side of the fence"


def parted(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """The wide part: two gaps in one position, on either hand; then a saw between fence and lid."""
    rows, text = on_cards.settings(card), text_of(card)
    usual, wide = length(rows["gap"]), length(rows["wide-gap"])
    radius = more["socket"] / 2
    printed = [usual, wide] if re.search(r"at the usual gap, then.* at the wide gap", text) else [wide, usual]
    other = [wide, usual] if re.search(r"key on its left: wide gap first, usual gap last", text) else printed
    for hand, gaps in ((1.0, printed), (-1.0, other)):  # of a feed up the picture, left of it is away from a key right
        gone: list[Span] = []
        for gap in gaps:
            spans = left_over((gap, gap + 2 * radius), gone)
            fresh = [tuple(sorted(hand * (u - gap - radius) for u in span)) for span in spans]
            along, _ = push(TABLE, (0.0, 1.0), radius, fresh)
            if along > BALANCED:
                yield f"gap {gap:.2f} climbs with the key {'right' if hand > 0 else 'left'}"
            gone.append((gap, gap + 2 * radius))
    section = on_cards.views(card)["at-the-blade"]
    fence, blade, box = (on_cards.part(section, name).bounds for name in ("fence", "blade", "box"))
    if not fence.right <= box.left + 1e-6 < blade.left < blade.right < box.right:
        yield "the saw does not stand between the fence, with the box, and a free lid"


def circled(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """A router on a bar: it moves, and the wood comes to it the other way; what is kept lies on one side."""
    view = on_cards.views(card)["from-above"]
    moved = way_of(view)
    feed = (-moved[0], -moved[1])
    cutter = round_of(replace(on_cards.part(view, "router"), lines=on_cards.part(view, "router").lines[1:]))
    out = 1.0 if cutter.centre.x > 0 else -1.0
    kept = -out if "disc is kept" in said(card.about) else out
    left = kept * left_of(feed)[0]  # the kept wood lies left of the axis, as the wood goes, where this is over 0
    fresh = [(0.0, cutter.radius)] if left > 0 else [(-cutter.radius, 0.0)]
    if push(HAND_HELD, feed, cutter.radius, fresh)[0] >= -BALANCED:
        yield "the cutter climbs along what is kept"
    anticlockwise = cutter.centre.x * moved[1] > 0
    [words] = re.findall(r"Move the router (anticlockwise|clockwise)", text_of(card))
    if anticlockwise != (words == "anticlockwise"):
        yield "the arrow goes round the other way than the words"


def routed(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """A router in an opening: along each wall the cutter must press towards it, and cut against the feed there."""
    view = on_cards.views(card)["way-round"]
    if turn_of(on_cards.part(view, "bit")) != HAND_HELD:
        yield "the bit turns the wrong way for a hand-held router"
    radius = round_of(on_cards.part(view, "bit")).radius
    walls = {"along-the-back": (0.0, 1.0), "down-the-right": (1.0, 0.0)}
    for name, wall in walls.items():
        moved = way_of(view, name)
        feed = (-moved[0], -moved[1])
        side = dot(wall, left_of(feed))
        _, left = push(HAND_HELD, feed, radius, slot(radius))
        if -left * side <= 0:  # what pushes the wood one way pushes the router the other
            yield f"{name}: the router is pushed off the template"
        fresh = [(0.0, radius)] if side > 0 else [(-radius, 0.0)]
        if push(HAND_HELD, feed, radius, fresh)[0] >= -BALANCED:
            yield f"{name}: climbs"
    if "Move clockwise" not in text_of(card):
        yield "the words go round the other way"


def drilled(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """A drill press: all is clamped, and no hand is in the picture."""
    for view in on_cards.views(card).values():
        if hands_of(view):
            yield "a hand is at the drill"
    if not re.search(r"[Hh]old nothing by hand|Held by hand it spins|Clamp", cautions_of(card)):
        yield "nobody says to clamp it"


def unpictured(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """Sawn and planed as a shop does: words alone."""
    if not re.search(r"guard and riving knife", cautions_of(card)):
        yield "nobody says how the saw is guarded"


def set_up(card: Card, more: Mapping[str, Any]) -> Iterator[str]:
    """The sled before it cuts: judged with the card that cuts."""
    if "Unplug" not in cautions_of(card):
        yield "nobody unplugs"


Model = Callable[[Card, Mapping[str, Any]], Iterator[str]]
MODELS: dict[str, Model] = {
    "stock": unpictured,
    "set-sled": set_up,
    "cut-fingers": fingers,
    "groove": against,
    "sliding-lid": against,
    "bottom": rabbets,
    "lid": rabbets,
    "cradle": sawn,
    "mitre": sawn,
    "taper": sawn,
    "parting": parted,
    "trammel": circled,
    "hinge": routed,
    "handle": drilled,
    "scallop": drilled,
    "drilling": drilled,
}
"""What judges a card of a machine, by its name."""
BY_HAND = ("Bench", "Bench, by hand", "")
"""Where no motor turns."""


# -- the order of steps --------------------------------------------------------------------------------------------

AT_THE_BENCH = (
    (r"Middle lines on the flat top", r"Plane to the lines", "the crown takes the lines off"),
    (r"Drill .* from above", r"Plane to the lines", "drilled square to a flat top"),
    (r"scribe both ends", r"Plane to the lines", "the arc says where to stop"),
    (r"Mark the base through the holes", r"Drill the pilot holes", "the lid's holes are the pattern"),
)
"""The lid, whether it is one of a box or alone."""
NEEDS: dict[str, tuple[tuple[str, str, str], ...]] = {
    "stock": (
        (
            r"Plane sides .* in one setting",
            r"After \[card:set-sled\]: (rip|crosscut)",
            "the sled is set by planed wood",
        ),
        (
            r"Crosscut .* test pieces",
            r"After \[card:set-sled\]: (rip|crosscut)",
            "the gap of the joint says how wide to rip",
        ),
    ),
    "make-sled": (
        (r"groove must read", r"Plane the key", "the key is planed to the groove"),
        (r"Plane the key", r"glue it in", "a key glued in can't be planed to its groove"),
        (r"Saw the slot", r"Screw E over the slot", "the exit block covers the slot"),
    ),
    "set-sled": (
        (r"set Cutter", r"set Gap", "the gap is read to the cutter"),
        (r"set Height", r"check cutter above", "it is set, then checked"),
        (r"hold Checks pass", r"Only then rip", "the trial is cut before the wood is ripped"),
    ),
    "cut-fingers": (
        (r"Against the .*spacer", r"Spacer out", "the ends are set off by the spacer"),
        (r"Clamp (the stack|both)", r"Spacer out", "without it nothing else holds the ends off"),
        (r"Spacer out", r"Power on", "the cutter would take the spacer"),
        (r"power off", r"Draw back", "a cutter that turns throws what comes back"),
        (r"New socket on the key", r"Turn (all|the board)", "all positions first: turned, the socket is elsewhere"),
    ),
    "groove": (
        (r"Trim pairs", r"lower it", "stops are read from the far end"),
        (r"on the right stop", r"lower it", "lowered without a stop it is thrown"),
        (r"power off", r"Lift when", "lifted off a turning bit it is thrown"),
        (r"[Ff]eed to the left stop", r"Take both stops off", "stopped boards need the stops"),
        (r"[Rr]aise the bit", r"Take both stops off", "all depths at the stops"),
    ),
    "bottom": (
        (r"(Rabbet|rabbet.*) both ends", r"[Rr]abbet both sides", "the sides cut last take the ends' torn corners off"),
        (r"hold Bit tight", r"check tongue", "tried as it is set"),
        (r"hold Scrap", r"[Rr]abbet.* both ends", "scrap before the bottom"),
        (r"Try it dry", r"[Gg]lue", "glued it can't be planed"),
    ),
    "lid": (
        (r"check opening, with the grain", r"[Bb]oth ends", "the opening says how wide"),
        (r"[Bb]oth ends", r"[Bb]oth sides", "the sides cut last take the ends' torn corners off"),
        (r"Measure the plug across", r"Cut both sides at the last setting", "the last setting is corrected by it"),
    ),
    "handle": (
        (r"drill hole", r"Trim both ends", "the stop reads from the ends"),
        (r"Set the stop left", r"Trim both ends", "the stop reads from the ends"),
        (r"second halves", r"Trim both ends", "the stop reads from the ends"),
        (r"second halves", r"Rip .* off below", "the fence reads from the lower edge"),
        (r"Hole 2 likewise", r"Rip .* off below", "the fence reads from the lower edge"),
        (r"Rip .* off below", r"Saw the crest", "the base lies straight on the fence until then"),
        (r"Trim both ends", r"Saw the crest", "the base lies straight on the fence until then"),
    ),
    "glue": (
        (r"together dry", r"Brush glue", "glued it can't be mended"),
        (r"Finish the inside", r"Join three sides", "inside corners can't be reached"),
        (r"slide the bottom in", r"Add the fourth", "the fourth side shuts the bottom in"),
        (r"Plane .* off every finger", r"Level top and bottom", "proud fingers would rock it"),
    ),
    "finish": AT_THE_BENCH,
    "lid-bench": AT_THE_BENCH,
    "shell": (
        (r"Square a line", r"Lay the pattern", "ticks lie on the lines"),
        (r"trace with", r"Make the stop cuts", "cut along what was traced"),
        (r"stop cuts first", r"Slice along", "fibres split on without stop cuts"),
    ),
    "taper": (
        (r"Run the empty sled", r"Lay the two marks on that edge", "the edge is the line of the cut"),
        (r"Lay the two marks", r"Slide fence and stop", "the fence is set by the board"),
        (r"Power off", r"draw it back", "a turning blade throws what comes back"),
    ),
    "parting": (
        (r"Glue up", r"Saw all four sides", "a closed box is sawn"),
        (r"hold Readings pass", r"Saw all four sides", "the fence is read first"),
        (r"first two cuts", r"saw the last two", "without wedges the last cuts close on the blade"),
        (r"Saw all four sides", r"Plane", "the saw reads from the bottom edge"),
    ),
    "cradle": (
        (r"Clamp it", r"Power on", "a box held by hand is thrown"),
        (r"Power off", r"draw it back", "a turning blade throws what comes back"),
        (r"Cut all four", r"Move the stop", "one setting for all corners"),
        (r"Glue the keys in", r"Plane them flush", "planed once they hold"),
    ),
    "mitre": (
        (r"cut one end", r"Cut it to the stop", "the stop reads from a cut end"),
        (r"Swing the gauge", r"top edge on the gauge", "the other way for the other edge"),
        (r"close the ring dry", r"Glue the joints", "glued it can't be corrected"),
    ),
    "trammel": (
        (r"Drill the pin", r"Move the router", "it turns about the pin"),
        (r"stick down the work", r"Move the router", "what comes free is thrown"),
    ),
    "hinge": (
        (r"Knife round the leaf", r"Move clockwise", "the knife lines say where corners are squared"),
        (r"Clamp fence and box", r"Power on", "the template guides"),
        (r"Wait until the cutter stands still", r"then lift", "lifted while it turns it cuts the template"),
        (r"Go down", r"Square the corners", "squared to the full depth"),
    ),
    "sliding-lid": (
        (r"Cut the front’s fingers", r"then rip it", "fingers are counted from the bottom edge"),
        (r"on the right stop", r"Take the stops off", "stopped boards need the stops"),
        (r"on the right stop", r"lower it", "lowered without a stop it is thrown"),
        (r"Power off", r"then lift it", "lifted off a turning bit it is thrown"),
    ),
    "scallop": ((r"Butt a waste block", r"Drill in turn", "without the block the saw walks"),),
    "drilling": (
        (r"Prick every centre", r"drill .* square", "the drill starts in the pricks"),
        (r"drill .* square", r"Drill every hole", "the template guides the drill"),
        (r"Screw a cleat", r"Clamp template, board", "the cleat sets it on the edge"),
    ),
    "dovetail": (
        (r"Scribe the shoulder", r"Saw the tails", "sawn to the shoulder"),
        (r"Saw the tails", r"Knife the pins", "pins are marked from sawn tails"),
        (r"Knife the pins", r"Saw the pins", "sawn to the knife"),
    ),
    "dividers": (
        (r"Saw all dividers .* to length", r"Prick the slots", "slots are read from the ends"),
        (r"Prick the slots", r"Saw inside the lines", "sawn to the marks"),
        (r"Saw inside the lines", r"Chop out", "chopped between saw cuts"),
    ),
    "gauges": ((r"Plane a long strip", r"Saw the blocks off", "short blocks can't be planed safely"),),
}
"""By card: a step, one that may only come after it, and why. Both are looked for in the card's own order."""
CARDS = (
    ("stock", "set-sled", "test pieces are cut for it"),
    ("make-sled", "set-sled", "it is made before it is set"),
    ("set-sled", "cut-fingers", "the trial says whether it fits"),
    ("cut-fingers", "groove", "a band inside a finger needs fingers to be seen"),
    ("groove", "bottom", "the tongue is tried in a groove of the box"),
    ("shell", "glue", "carved while the board is flat"),
    ("pattern", "glue", "carved while the board is flat"),
    ("groove", "glue", "no groove can be cut in a closed box"),
    ("bottom", "glue", "it goes in with the sides"),
    ("glue", "lid", "the plug is cut to the opening of the glued box"),
    ("lid", "finish", "the rabbet is gauged from, and cut from a flat lid"),
    ("handle", "finish", "it is screwed on the lid"),
)
"""Cards of a box, and which may only come after which."""


def out_of_order(card: Card) -> list[str]:
    """Return the steps of a card that come before what they need."""
    text, found = text_of(card), []
    for needed, step, why in NEEDS.get(card.name, ()):
        first, then = re.search(needed, text), re.search(step, text)
        if first and then and then.start() < first.start():
            found.append(f"{card.name}: '{then.group()}' before '{first.group()}': {why}")
    return found


def cards_out_of_order(names: Sequence[str]) -> list[str]:
    places = {name: place for place, name in enumerate(names)}
    return [
        f"{then} before {first}: {why}"
        for first, then, why in CARDS
        if first in places and then in places and places[then] < places[first]
    ]


def reversed_steps(card: Card) -> Card:
    """Return a card whose steps, checks and settings stand the other way round."""

    def turned(band: Any) -> Any:
        match band:
            case cards.Beside():
                return replace(band, left=turned(band.left), right=turned(band.right))
            case cards.Column():
                return replace(band, bands=tuple(turned(one) for one in band.bands[::-1]))
            case cards.Order():
                return replace(band, steps=band.steps[::-1])
            case cards.Settings() | cards.Checks() | cards.Readings():
                return replace(band, rows=band.rows[::-1])  # type: ignore[arg-type]  # the same rows as it had
        return band

    return replace(card, bands=tuple(turned(band) for band in card.bands[::-1]))


def mirrored(card: Card) -> Card:
    """Return a card whose arrows of feed point the other way."""

    def changed(view: View) -> View:
        parts = tuple(
            replace(part, arrows=tuple((tip, tail) for tail, tip in part.arrows))
            if part.name in ("feed", "along-the-back", "down-the-right")
            else part
            for part in view.parts
        )
        return replace(view, parts=parts)

    def turned(band: Any) -> Any:
        match band:
            case cards.Beside():
                return replace(band, left=turned(band.left), right=turned(band.right))
            case cards.Column():
                return replace(band, bands=tuple(turned(one) for one in band.bands))
            case cards.Pictures():
                return replace(band, views=tuple(changed(view) for view in band.views))
        return band

    return replace(card, bands=tuple(turned(band) for band in card.bands))


# -- every card ----------------------------------------------------------------------------------------------------


@dataclass(frozen=True)
class Job:
    """Cards that belong together, and what else a maker knows of them."""

    name: str
    sheets: Sheets
    settings: Mapping[str, Any]

    @property
    def cards(self) -> list[Card]:
        return [card for card in self.sheets.cards if not card.reading]

    def wrong(self, change: Callable[[Card], Card] = lambda card: card) -> dict[str, list[str]]:
        """Return what is wrong with each card of a machine, after a change of it."""
        more = {**self.settings, **{card.name: card for card in self.cards}}
        return {
            card.name: list(MODELS[card.name](change(card), more)) for card in self.cards if card.place not in BY_HAND
        }


def box(text: str = WHOLE_METRIC, **changes: str) -> Job:
    made = worked(text, **changes)
    return Job("box", box_sheets.listed(made), {})


def sample(number: int) -> Job:
    return Job(SAMPLES[number].stem, box_sheets.listed(chain.work_out(reading.load(SAMPLES[number]))), {})


def of_catalogue(name: str, **changes: Any) -> Job:
    chosen = example_of(name) | changes
    return Job(name, find(name).plan(chosen, "mm").sheets, chosen)


JIGS = sorted(name for name, jig in catalogue().items() if jig.example)
OTHERS: tuple[tuple[str, dict[str, Any]], ...] = (
    ("trammel", {"keep": "hole"}),
    ("parting", {"wide": 6}),
    ("parting", {"kerf": 8.0, "planing": 3.0, "finger": 5.0, "socket": 5.1, "count": 9, "wide": 5}),
    ("lid", {"bit": 50.0, "across": 300.0, "overhang": 40.0}),
    *(("sliding-lid", {"width": wide, "inside": long}) for wide in (39.7, 59.6, 119.3) for long in (100.0, 300.0)),
    *(("sliding-lid", {"finger": 6.0, "socket": 6.1, "width": wide}) for wide in (59.6, 120.0)),
    ("stops", {"board": 40.0}),
    ("sled", {"key_side": "left"}),
    ("sled", {"cutter": 4.0, "key_side": "left"}),
    ("sled", {"cutter": 3.2}),
    ("sled", {"machine": "table saw", "cutter": 3.2, "key_side": "left"}),
    ("sled", {"method": "separately"}),
)
"""Settings under which a jig's card says something else than in its example."""


@TURNING.of("sled", "stops", "panel", "lid")
@pytest.mark.parametrize("number", [0, 1])
def test_no_cut_of_a_sample_climbs(number: int) -> None:
    job = sample(number)
    assert {name: wrong for name, wrong in job.wrong().items() if wrong} == {}
    compared(len(job.wrong()))


@TURNING.of("sled", "stops", "panel", "lid", "cradle", "hinge", "mitre", "parting", "sliding-lid", "taper", "trammel")
@pytest.mark.parametrize("name", JIGS)
def test_no_cut_of_the_catalogue_climbs(name: str) -> None:
    job = of_catalogue(name)
    assert {card: wrong for card, wrong in job.wrong().items() if wrong} == {}
    compared(max(1, len(job.wrong())))


@TURNING.of("sled", "parting", "trammel")
@pytest.mark.parametrize(("name", "changes"), OTHERS, ids=str)
def test_no_cut_climbs_on_the_other_hand(name: str, changes: dict[str, Any]) -> None:
    assert {card: wrong for card, wrong in of_catalogue(name, **changes).wrong().items() if wrong} == {}


def test_every_card_of_a_machine_is_judged() -> None:
    jobs = [sample(0), sample(1), *(of_catalogue(name) for name in JIGS)]
    names = {card.name for job in jobs for card in job.cards if card.place not in BY_HAND}
    assert names == set(MODELS)
    every = {card.name for job in jobs for card in job.cards}
    assert set(NEEDS) - every == set()
    assert every - set(NEEDS) == set()


DRAWN: dict[str, st.SearchStrategy[str]] = {
    "joint__key_side": st.sampled_from(["right", "left"]),
    "joint__machine": st.sampled_from(["router table", "table saw"]),
    "joint__cutter": st.sampled_from(["10", "6", "4.1", "3.2"]),
    "joint__layout": st.sampled_from(["rip", "centre"]),
    "joint__method": st.sampled_from(["one stack", "separately"]),
    "groove__from_bottom": st.sampled_from(["3.5", "8", "12"]),
    "box__length": st.sampled_from(["180", "240", "420"]),
    "box__width": st.sampled_from(["150", "180", "300"]),
    "lid__overhang": st.sampled_from(["0", "5", "12", "30"]),
    "lid__bit": st.sampled_from(["6", "12", "19.05"]),
    "bottom__bit": st.sampled_from(["6", "12", "19.05"]),
    "sides__ends_thickness": st.sampled_from(["12", "9"]),
}


@TURNING.of("sled", "stops", "panel", "lid")
@settings(max_examples=examples(12))
@given(st.fixed_dictionaries(DRAWN))
def test_no_cut_of_a_drawn_box_climbs(changes: dict[str, str]) -> None:
    made = worked(WHOLE_METRIC, **changes)
    assume(made.numbers)
    try:
        job = Job("box", box_sheets.sheets(made, ["sled", "stops", "panel", "lid"]), {})
    except CannotBuild:
        assume(False)
    event(f"{changes['joint__machine']}, key {changes['joint__key_side']}")
    assert {name: wrong for name, wrong in job.wrong().items() if wrong} == {}
    assert [wrong for card in job.cards for wrong in out_of_order(card)] == []


# -- the order -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("number", [0, 1])
def test_every_step_of_a_sample_finds_what_it_needs(number: int) -> None:
    job = sample(number)
    assert [wrong for card in job.cards for wrong in out_of_order(card)] == []
    assert cards_out_of_order([card.name for card in job.cards]) == []
    assert cards_out_of_order([card.name for card in job.cards][::-1]) != []


@pytest.mark.parametrize("name", JIGS)
def test_every_step_of_the_catalogue_finds_what_it_needs(name: str) -> None:
    assert [wrong for card in of_catalogue(name).cards for wrong in out_of_order(card)] == []


def test_every_need_is_met_somewhere_and_a_reversed_order_is_found() -> None:
    """A pattern that matches nothing would find nothing."""
    jobs = [sample(0), sample(1), *(of_catalogue(name) for name in JIGS), *(of_catalogue(n, **c) for n, c in OTHERS)]
    met: set[tuple[str, str, str]] = set()
    for card in (card for job in jobs for card in job.cards if card.name in NEEDS):
        text = text_of(card)
        met |= {need for need in NEEDS[card.name] if re.search(need[0], text) and re.search(need[1], text)}
        assert out_of_order(reversed_steps(card)) != [], card.name
    assert {need for needs in NEEDS.values() for need in needs} - met == set()


# -- broken on purpose ---------------------------------------------------------------------------------------------


WITH_ARROWS = {"cut-fingers", "groove", "sliding-lid", "bottom", "lid", "cradle", "mitre", "taper", "trammel", "hinge"}


def test_a_mirrored_arrow_is_found_on_every_card_that_has_one() -> None:
    jobs = [sample(0), sample(1), *(of_catalogue(name) for name in JIGS), *(of_catalogue(n, **c) for n, c in OTHERS)]
    seen = set()
    for job in jobs:
        for name, wrong in job.wrong(mirrored).items():
            if name in WITH_ARROWS:
                assert wrong, (job.name, name)
                seen.add(name)
    assert seen == WITH_ARROWS


@pytest.mark.parametrize("key_side", ["right", "left"])
@pytest.mark.parametrize("cutter", [6.0, 4.0, 3.2])
def test_a_reversed_order_of_passes_is_found(key_side: str, cutter: float) -> None:
    job = of_catalogue("sled", cutter=cutter, key_side=key_side, finger=10.0)
    assert job.wrong()["cut-fingers"] == []
    assert any("climbs" in wrong for wrong in job.wrong(reversed_steps)["cut-fingers"])


@pytest.mark.parametrize("number", [0, 1])
def test_rabbets_from_the_inside_out_are_found(number: int) -> None:
    job = sample(number)
    assert any("strip" in wrong for wrong in job.wrong(reversed_steps)["lid"])


def test_the_model_by_hand() -> None:
    """A bit in a table, wood fed away: its left edge comes towards you, against the feed; its right one goes along.

    A slot is balanced, and its front edge goes to the right: the wood is pushed there. Half of the rim gives 1/2 · 1/2
    over 1/2: ∫ sin·cos over ∫ cos. The slot gives ∫ cos² = π/2 over ∫ cos = 2.
    """
    away = (0.0, 1.0)
    assert push(TABLE, away, 5, [(0, 5)]) == pytest.approx((-0.5, -math.pi / 4), abs=2e-3)
    assert push(TABLE, away, 5, [(-5, 0)]) == pytest.approx((0.5, -math.pi / 4), abs=2e-3)
    assert push(TABLE, away, 5, slot(5)) == pytest.approx((0, -math.pi / 4), abs=2e-3)
    assert push(HAND_HELD, away, 5, [(0, 5)])[0] == pytest.approx(0.5, abs=2e-3)
    assert push(TABLE, (-1.0, 0.0), 5, slot(5))[1] < 0  # left of a feed to the left is towards you; the fence is beyond


def test_a_hand_in_the_guard_and_one_on_the_line_are_found() -> None:
    job = of_catalogue("stops")
    [card] = [card for card in job.cards if card.name == "groove"]
    view = on_cards.views(card)["from-above"]
    [hand] = [part for part in view.parts if part.name == "left-hand"]
    at = hand.bounds
    nearer = hand.moved(-(at.left + at.right) / 2 + 60, -(at.bottom + at.top) / 2)
    moved = replace(view, parts=tuple(nearer if part is hand else part for part in view.parts))
    assert list(hands_in_the_guard(view, (-1.0, 0.0), 100.0)) == []
    assert len(list(hands_in_the_guard(moved, (-1.0, 0.0), 100.0))) == 1
    assert len(list(hands_in_the_line(moved, (-1.0, 0.0), "bit"))) == 1


def test_a_turn_is_read_from_its_head() -> None:
    from jigs.things import plan  # noqa: PLC0415 - the model stands apart from what draws

    assert turn_of(plan.bit((3, 4), 10, under=False)) == TABLE
    assert turn_of(plan.bit((3, 4), 10, under=True, turns="clockwise")) == HAND_HELD
    assert round_of(plan.bit((3, 4), 10, under=True)).centre == Point(3, 4)


def test_the_drawn_boxes_are_of_every_kind() -> None:
    """Both hands on both machines, by one pass and by several, and in inches too."""
    for key_side in ("right", "left"):
        for machine in ("router table", "table saw"):
            for text, cutter in ((WHOLE_METRIC, "4.1"), (WHOLE_INCHES, "1/8")):
                job = Job(
                    "box",
                    box_sheets.sheets(
                        worked(text, joint__key_side=key_side, joint__machine=machine, joint__cutter=cutter), ["sled"]
                    ),
                    {},
                )
                assert job.wrong()["cut-fingers"] == []
                [card] = [card for card in job.cards if card.name == "cut-fingers"]
                assert len(sockets(card, on_cards.settings(job.sheets.cards[0]))) > 1
