"""The test joint: where to measure it, what it should read, and what lets the work go on."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.base import drawing as draw
from jigs.base.cards import Reading
from jigs.base.drawing import Kind, Line, Part, Point
from jigs.parts.joint.dry_fit import Meant
from jigs.trade.fingers import Span

WIDE = 1.75
"""A picture so many times as wide as high shows the sockets that lie within it; two at least, or all there are."""
FINGER_WITHIN, SLACK_WITHIN, PROUD_WITHIN = 0.05, 0.05, 0.10
READ = {
    "finger": ("A", "finger, the widest"),
    "socket": ("B", "socket"),
    "flush_high": ("C", "flush, end to top"),
    "flush_low": ("D", "flush, to bottom"),
    "proud": ("E", "fingers proud"),
    "slack": ("F", "play on the key"),
}
"""What is read, by the names of the arithmetic: its letter in the picture, and what it is called."""
CLEARANCE_WITHIN = 0.05
"""Go and no-go about the clearance that is wanted, mm (common practice, no source)."""


def good_clearance(wanted: float) -> tuple[float, float]:
    """Return the least and the most clearance, mm, that is as good as the one wanted."""
    return max(0.0, wanted - CLEARANCE_WITHIN), wanted + CLEARANCE_WITHIN


def readings(meant: Meant, proud: float) -> tuple[Reading, ...]:
    """Return what is read, lettered as in the picture. `proud` is what fingers should stand out by, mm."""
    fit, joint = meant.mating, meant.joint
    slack, within = joint.slack, meant.errors.socket
    most = good_clearance(fit.clearance)[1]
    limits = {
        "finger": (joint.gap, joint.gap - FINGER_WITHIN, joint.gap + FINGER_WITHIN),
        "socket": (joint.socket, joint.socket - within, joint.socket + within),
        "flush_high": (fit.flush_high, 0.0, most),
        "flush_low": (fit.flush_low, -most, 0.0),
        "proud": (proud, proud - PROUD_WITHIN, proud + PROUD_WITHIN),
        "slack": (slack, slack - SLACK_WITHIN, slack + SLACK_WITHIN),
    }
    return tuple(Reading(*called, *limits[name]) for name, called in READ.items())


def picture(meant: Meant, key_high: float) -> draw.View:
    """Return the two pieces on their faces, the places to measure lettered; a key stands in a socket of the front."""
    long, short = meant.boards
    depth = max(board.thickness for board in (long, short)) + 0.3
    high, gap = 1.75 * depth, 0.8 * depth
    up = high + gap
    most = WIDE * (2 * high + gap)
    sockets = long.sockets[: max(2, sum(span.end <= most for span in long.sockets))]
    width = min(long.width, sockets[-1].end + max(4.0, 0.6 * meant.joint.gap))
    ends = [span for span in short.sockets if span.start < width]
    front = _piece("test-front", "Piece cut on the key", sockets, width, up, (high, depth))
    end = _piece("test-end", "Piece cut on the spacer", ends, width, 0.0, (high, depth))
    return draw.View(
        "test", "Test joint in scrap: a piece at the key, a piece at the spacer; C to E put together dry",
        (front, end, *_tools(meant, sockets, ends, up, (high, depth, key_high))),
        labels=tuple(_letters(meant, sockets, ends, up, (high, depth, key_high))), to_scale=False,
    )  # fmt: skip


def _piece(
    name: str, title: str, sockets: Sequence[Span], width: float, bottom: float, size: tuple[float, float]
) -> Part:
    """A piece whose fingers point down, broken off at its right."""
    high, depth = size
    points = [(0.0, bottom + high), (0.0, bottom)]
    for span in sockets:
        if span.start <= 1e-6:
            points = [(0.0, bottom + high), (0.0, bottom + depth), (span.end, bottom + depth), (span.end, bottom)]
            continue
        end = min(span.end, width)
        points += [(span.start, bottom), (span.start, bottom + depth), (end, bottom + depth)]
        points += [(end, bottom)] if end < width else []
    low = bottom if points[-1][1] == bottom else bottom + depth
    points += [(width, low)]
    ends = draw.line((0.0, bottom + high), (width, bottom + high))
    broken = draw.break_line(Point(width, low), Point(width, bottom + high))
    reference = Line(draw.line((0, bottom - 2), (0, bottom + high + 2)), Kind.REFERENCE)
    return Part(name, title, (Line(draw.line(*points)), Line(ends), Line(broken, Kind.NARROW), reference))


def _tools(
    meant: Meant, sockets: Sequence[Span], ends: Sequence[Span], up: float, sizes: tuple[float, float, float]
) -> list[Part]:
    """Callipers about a finger and inside a socket, the key, and the face that the fingers stand proud of."""
    _, depth, key_high = sizes
    finger, socket = finger_read(sockets), socket_read(ends)
    parts = [
        *_jaws("jaws-a", finger.start, finger.end, up, depth, outside=True),
        *_jaws("jaws-b", socket.start, socket.end, 0.0, depth, outside=False),
    ]
    on_key = sockets[-1]
    if len(sockets) > 1:
        key = draw.rectangle(on_key.end - meant.setup.key, up, on_key.end, up + min(key_high, depth))
        parts.append(Part("test-key", "Key", (Line(key),), hatched=(key,)))
    proud = 0.14 * depth
    face = draw.line((-2.0, proud), (ends[0].start if ends[0].start > 0 else sockets[-1].end, proud))
    parts.append(Part("face-of-front", "Face of the front", (Line(face, Kind.HIDDEN),)))
    return parts


def finger_read(sockets: Sequence[Span]) -> Span:
    """Return the finger of the front that is measured: one between two sockets where there is one."""
    return Span(sockets[0].end, sockets[1].start) if len(sockets) > 1 else Span(0.0, sockets[0].start)


def socket_read(ends: Sequence[Span]) -> Span:
    """Return the socket of the end that is measured: closed on both sides where there is one."""
    return ends[1] if len(ends) > 1 else ends[0]


def _jaws(name: str, left: float, right: float, bottom: float, depth: float, *, outside: bool) -> list[Part]:
    """The jaws of callipers, from below: about a finger, or inside a socket."""
    wide, tip = min(2.2, (right - left) * 0.22), bottom + 0.55 * depth
    made = []
    for which, face, way in (("left", left, -1.0), ("right", right, 1.0)):
        to = way if outside else -way
        shape = draw.polygon(
            (face, tip), (face, bottom - 1.2), (face + to * wide * 1.6, bottom - 1.2), (face + to * wide, tip)
        )
        made.append(Part(f"{name}-{which}", "Calliper jaw", (Line(shape),), hatched=(), covers=(shape,)))
    return made


def _letters(
    meant: Meant, sockets: Sequence[Span], ends: Sequence[Span], up: float, sizes: tuple[float, float, float]
) -> list[draw.Label]:
    high, depth, key_high = sizes
    finger, socket = finger_read(sockets), socket_read(ends)
    return [
        draw.balloon("A", (finger.middle, up + 0.3 * depth), "above"),
        draw.balloon("B", (socket.middle, depth * 0.4), "below"),
        draw.balloon("C", (0.0, high * 0.8), "left"),
        draw.balloon("D", (0.0, high * 0.35), "left"),
        draw.balloon("E", (sockets[-1].middle, 0.07 * depth), "below"),
        *(
            [draw.balloon("F", (sockets[-1].end - meant.setup.key, up + key_high * 0.5), "left")]
            if len(sockets) > 1
            else []
        ),
        draw.Label("front", Point(sockets[min(1, len(sockets) - 1)].middle, up + high - 0.4 * depth), leader=False),
        draw.Label("end", Point(socket.middle, high - 0.4 * depth), leader=False),
    ]
