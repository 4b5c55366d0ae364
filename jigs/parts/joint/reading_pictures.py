"""Where callipers go on the test joint: a picture for each reading, drawn from the joint itself.

Fingers, sockets, key and boards have their true proportions. What is read in hundredths could not be seen so: gaps,
edges out and what stands proud are drawn some times too large, and the picture says how many.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from jigs.base import drawing as draw
from jigs.base.cards import Reading
from jigs.base.drawing import Bounds, Part
from jigs.base.wording import Words, say
from jigs.parts.joint import in_wood, trial_joint
from jigs.parts.joint.made import Sled
from jigs.parts.wood.colours import colour_of
from jigs.record import Record
from jigs.trade.fingers import Span

NAMES: Mapping[str, str] = {
    "A": "finger",
    "B": "socket",
    "C": "flush_high",
    "D": "flush_low",
    "E": "proud",
    "F": "slack",
}
"""The readings by their letters, by the names that the arithmetic has for them."""
_WIDE = 2.1
"""The pictures are at most so many times as wide as they are high, where that shows two sockets."""
_ROOM = 0.22
"""What is drawn too large takes up this share of the narrower of finger and socket."""


class Woods(Record):
    """What front and end board are made of, by any name of the wood; None where it is not named."""

    front: str | None = None
    end: str | None = None


class Pictured(Record):
    """A reading with its picture; `times` is how many times too large what is read is drawn in it, 1 where it is true.

    `drawn` says so in words, and is empty where there is nothing to say.
    """

    reading: Reading
    view: draw.View
    times: int = 1
    drawn: Words = ""

    @property
    def name(self) -> str:
        """The reading by the name that the arithmetic has for it."""
        return NAMES[self.reading.letter]


def pictures(sled: Sled, woods: Woods) -> tuple[Pictured, ...]:
    """Return the readings A to F with their pictures, in their order."""
    shown = _Shown(sled, woods)
    rows = {row.letter: row for row in trial_joint.readings(sled.meant, sled.proud)}
    return (
        Pictured(rows["A"], shown.outside()),
        Pictured(rows["B"], shown.inside()),
        *(_pushed(shown, rows[letter], letter) for letter in "CD"),
        _proud(shown, rows["E"]),
        _play(shown, rows["F"]),
    )


class _Shown(Record):
    """The test joint as far as it is shown, mm: its boards, how deep their sockets are, how wide a picture is."""

    sled: Sled
    woods: Woods

    @property
    def depth(self) -> float:
        """How deep the fingers are cut."""
        return max(self.sled.thickness, self.sled.ends_thickness) + self.sled.proud

    @property
    def high(self) -> float:
        """How high a board is shown, its fingers with it."""
        return 2.1 * self.depth

    @property
    def fronts(self) -> Sequence[Span]:
        """The sockets of the front that are shown: those within reach, two at least."""
        sockets = self.sled.meant.boards[0].sockets
        return sockets[: max(2, sum(span.end <= _WIDE * self.high for span in sockets))]

    @property
    def ends(self) -> Sequence[Span]:
        """The sockets of the end board that are shown."""
        return [span for span in self.sled.meant.boards[1].sockets if span.start < self.width - 1e-6]

    @property
    def width(self) -> float:
        """How much of the boards' width is shown."""
        joint = self.sled.meant.joint
        return min(self.sled.numbers.width, self.fronts[-1].end + 0.6 * min(joint.gap, joint.socket))

    @property
    def corner(self) -> float:
        """How much of the boards' width is shown of a corner: two sockets of the end board, where it has as many."""
        last = self.ends[min(1, len(self.ends) - 1)]
        return min(self.width, last.end + 0.4 * self.sled.meant.joint.gap)

    @property
    def goes_on(self) -> list[draw.Side]:
        """The sides of a piece on its face at which there is more of it than is shown."""
        return ["right"] if self.width < self.sled.numbers.width - 1e-6 else []

    @property
    def narrow(self) -> float:
        """The room that what is drawn too large has."""
        return _ROOM * min(self.sled.meant.joint.gap, self.sled.meant.joint.socket)

    def piece(self, *, front: bool, up: bool = True) -> list[Part]:
        """Return a piece on its face, its fingers up or down, with its reference edge."""
        sockets, wood = (self.fronts, self.woods.front) if front else (self.ends, self.woods.end)
        name = "front" if front else "end"
        back, floor, tips = (0.0, self.high - self.depth, self.high) if up else (self.high, self.depth, 0.0)
        shape = in_wood.comb(sockets, self.width, floor, tips, back)
        title = f"{name.capitalize()}, cut as a test"
        broken: list[draw.Side] = ["below" if up else "above", *self.goes_on]
        made = [in_wood.board(name, title, shape, colour_of(wood), goes_on=broken)]
        return [*made, in_wood.reference(0.0, -2.0 if up else 0.0, self.high + (0.0 if up else 2.0))]

    def outside(self) -> draw.View:
        """Return callipers about a finger of the front."""
        finger = trial_joint.finger_read(self.fronts)
        callipers = _callipers(finger, self, outside=True)
        return draw.View("read-finger", "Callipers about a finger", (*self.piece(front=True), *callipers))

    def inside(self) -> draw.View:
        """Return callipers inside a socket of the end board."""
        socket = trial_joint.socket_read(self.ends)
        callipers = _callipers(socket, self, outside=False)
        return draw.View("read-socket", "Callipers inside a socket", (*self.piece(front=False), *callipers))


def _callipers(read: Span, shown: _Shown, *, outside: bool) -> list[Part]:
    """Return the beam and the two jaws of callipers, whose faces stand at both ends of what is read."""
    joint, depth = shown.sled.meant.joint, shown.depth
    wide = min(0.35 * (joint.socket if outside else joint.gap), 0.35 * depth)
    top, beam, tip = shown.high + 0.35 * depth, 0.28 * depth, shown.high - 0.7 * depth
    parts = []
    for which, face, way in (("left", read.start, -1.0), ("right", read.end, 1.0)):
        to = way if outside else -way
        jaw = draw.polygon(
            (face, tip), (face, top), (face + to * wide, top), (face + to * wide, shown.high), (face + to * 0.4, tip)
        )
        parts.append(in_wood.plain(f"jaw-{which}", "Calliper jaw", jaw, in_wood.STEEL))
    left = read.start - (wide if outside else 0.0) - 0.2 * depth
    right = max(read.end + wide + 0.8 * depth, left + 2.4 * depth)
    bar = draw.rectangle(left, top, right, top + beam)
    return [*parts, in_wood.plain("beam", "Callipers", bar, in_wood.STEEL)]


# -- edges out -----------------------------------------------------------------------------------------------------


def _pushed(shown: _Shown, reading: Reading, letter: str) -> Pictured:
    """Return the corner from the end board's outside, the end pushed up or down, a depth gauge at the bottom edges."""
    fit = shown.sled.meant.mating
    room = max(fit.clearance, abs(fit.flush_high), abs(fit.flush_low))
    times = in_wood.enlarged(room, shown.narrow)
    up = letter == "C"
    lift = times * (fit.flush_high if up else fit.flush_low)
    thick, deep, high = shown.sled.thickness, shown.depth, shown.corner
    turned = in_wood.on_its_side(in_wood.comb(shown.ends, high, deep, 0.0, 3.2 * deep)).moved(0.0, lift)
    end = in_wood.board("end", "End board", turned, colour_of(shown.woods.end), "along", goes_on=("right", "above"))
    fingers = [
        in_wood.board(f"finger-{i}", "Finger of the front", box, colour_of(shown.woods.front), None)
        for i, box in enumerate(_front_fingers(shown, thick, times))
    ]
    at = (deep + turned.bounds.right) / 2
    way = (0.2, 0.8) if up else (0.8, 0.2)
    tail, tip = ((at, high * share + lift) for share in way)
    pushed = in_wood.arrow("push", "Push", tail, tip, 0.4 * deep)
    gauge = _depth_gauge(lift, deep, thick)
    title = "The end board pushed up" if up else "The end board pushed down"
    view = draw.View(f"read-{NAMES[letter].replace('_', '-')}", title, (end, *fingers, pushed, *gauge))
    return Pictured(reading, view, times, _times("Gaps and edges are", times))


def _front_fingers(shown: _Shown, thick: float, times: int) -> list[draw.Path]:
    """Return the ends of the front's fingers in the end board's sockets, the clearance between drawn too large."""
    fit, joint = shown.sled.meant.mating, shown.sled.meant.joint
    boxes = []
    for socket in shown.ends:
        if socket.start > shown.corner - 1e-6:
            continue
        middle = socket.middle + times * fit.flush
        half = (joint.socket - times * fit.clearance) / 2
        low = 0.0 if socket.start <= 1e-6 else middle - half
        boxes.append(draw.rectangle(0.0, low, thick, min(middle + half, shown.corner)))
    return boxes


def _depth_gauge(lift: float, deep: float, thick: float) -> list[Part]:
    """Return a depth gauge at the bottom edges: its foot on the lower one, its rod against the other."""
    high = 0.3 * deep
    if lift >= 0:
        foot, rod, low = (-0.3 * deep, thick), (deep + 0.1 * deep, deep + 0.4 * deep), 0.0
        foot = (foot[0], rod[1] + 0.15 * deep)
    else:
        foot, rod, low = (0.1 * thick, 2.0 * deep), (0.3 * thick, 0.6 * thick), lift
    body = draw.rectangle(foot[0], low - high, foot[1], low)
    rest = draw.rectangle(rod[0], low - 1.6 * high, rod[1], max(0.0, lift))
    return [
        in_wood.plain("rod", "Rod of the depth gauge", rest, in_wood.STEEL),
        in_wood.plain("foot", "Depth gauge", body, in_wood.STEEL),
    ]


# -- proud, and play -----------------------------------------------------------------------------------------------


def _proud(shown: _Shown, reading: Reading) -> Pictured:
    """Return the corner along the front's face: the ends' fingers stand out of it, a depth gauge on one of them."""
    sled = shown.sled
    times = in_wood.enlarged(sled.proud, 0.3 * sled.thickness)
    out = sled.thickness + times * sled.proud
    front = in_wood.board(
        "front", "Front, cut across", draw.rectangle(0.0, 0.0, shown.width, sled.thickness),
        colour_of(shown.woods.front), None,
    )  # fmt: skip
    fingers = [
        in_wood.board(
            f"finger-{i}", "Finger of the end board",
            draw.rectangle(span.start, 0.0, min(span.end, shown.width), out), colour_of(shown.woods.end), "up",
        )
        for i, span in enumerate(shown.fronts)
    ]  # fmt: skip
    on = shown.fronts[0]
    beyond = shown.fronts[1].start if len(shown.fronts) > 1 else shown.width
    wide, high = 0.3 * max(beyond - on.end, 0.3 * on.width), 0.8 * sled.thickness
    foot = draw.rectangle(on.start, out, on.end + 2 * wide, out + high)
    rod = draw.rectangle(on.end + 0.5 * wide, sled.thickness, on.end + 1.5 * wide, out + 1.5 * high)
    gauge = (
        in_wood.plain("rod", "Rod of the depth gauge", rod, in_wood.STEEL),
        in_wood.plain("foot", "Depth gauge", foot, in_wood.STEEL),
    )
    edge = in_wood.reference(0.0, -1.0, sled.thickness)
    view = draw.View("read-proud", "Fingers of the end stand out of the front", (front, *fingers, edge, *gauge))
    return Pictured(reading, view, times, _times("What stands proud is", times))


def _play(shown: _Shown, reading: Reading) -> Pictured:
    """Return a socket of one cut on the key, a feeler in what is left beside it."""
    sled = shown.sled
    play = sled.numbers.slack
    times = in_wood.enlarged(play, shown.narrow)
    cut = [Span(span.end - sled.cutter, span.end) for span in shown.fronts]
    socket = cut[min(1, len(cut) - 1)]
    shape = in_wood.comb(cut, shown.width, shown.depth, 0.0, shown.high)
    broken: list[draw.Side] = ["above", *shown.goes_on]
    front = in_wood.board("front", "Front, cut as a test", shape, colour_of(shown.woods.front), goes_on=broken)
    left = socket.end - times * play
    high = min(sled.key_height, 0.85 * shown.depth)
    key = in_wood.board("key", "Key", draw.rectangle(socket.start, 0.0, left, high), in_wood.ASH, None)
    feeler = draw.rectangle(left, 0.1 * shown.depth, socket.end, 0.97 * shown.depth)
    thick = 0.22 * shown.depth
    plate = draw.rectangle(-0.1 * shown.width, -thick, 1.1 * shown.width, 0.0)
    under = Part("plate", "Plate", draw.lines((plate,)), hatched=(plate,))
    rocked = 0.45 * (shown.high - shown.depth)
    middle = Bounds(0.3 * shown.width, 0, 0.7 * shown.width, 0)
    y = shown.depth + rocked
    half = (middle.left + middle.right) / 2
    arrows = [
        in_wood.arrow(f"rock-{which}", "Slide it", (half, y), (x, y), 0.25 * shown.depth)
        for which, x in (("left", middle.left), ("right", middle.right))
    ]
    label = draw.Label("key", draw.Point((socket.start + left) / 2, high / 2), towards="below")
    parts = (under, front, key, in_wood.plain("feeler", "Feeler", feeler, in_wood.STEEL), *arrows)
    return Pictured(
        reading, draw.View("read-slack", "A socket on the key", parts, labels=(label,)), times,
        _times("The play is", times),
    )  # fmt: skip


def _times(what: str, times: int) -> Words:
    return say("{what} drawn {times} times too large.", what=what, times=str(times)) if times > 1 else ""
