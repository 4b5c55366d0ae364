"""The test joint: where to measure it, what it should read, and boxes to write what it does read."""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.base.wording import say
from jigs.parts.joint.dry_fit import Meant
from jigs.trade.cut import Board

STRIP = 14.0
WIDEST = 130.0
"""What is drawn of a piece: as many whole sockets as lie within this, mm; two at least, or all there are."""
FINGER_WITHIN, SLACK_WITHIN, PROUD_WITHIN = 0.05, 0.05, 0.10
CLEARANCE_WITHIN = 0.05
"""Go and no-go about the clearance that is wanted, mm (common practice, no source)."""


def drawing(meant: Meant, proud: float, cautions: tuple[str, ...]) -> draw.Drawing:
    """Return the sheet of the test joint. `proud` is what fingers should stand out by, mm."""
    notes = draw.Notes(
        "test-notes",
        "How to make and read it",
        (
            "Cut two pieces from the stick of the sides, one against the key and one against the spacer, in one stack. "
            "Put them together dry.",
            "Read with callipers at three places and write the middle one. Push the end towards the top edges, away "
            "from the reference edge, and read how far the bottom edges are out; push it back towards the reference "
            "edge and read again. + means that the bottom edge of the end is inside that of the front.",
            "On the computer type jigleaf tune, the file of this sheet or of its box, and the readings: it says what "
            "to move, shim or plane, and whether rip-to width and story stick still hold.",
        ),
    )
    purpose = "measure the joint on scrap; no board is cut until every row is within its limits"
    return draw.Drawing("test-joint", "test joint", purpose, (_pieces(meant), _readings(meant, proud), notes), cautions)


def good_clearance(wanted: float) -> tuple[float, float]:
    """Return the least and the most clearance, mm, that is as good as the one wanted."""
    return max(0.0, wanted - CLEARANCE_WITHIN), wanted + CLEARANCE_WITHIN


def _pieces(meant: Meant) -> draw.View:
    """The two pieces at full size, seen on their faces, with the places to measure."""
    long, short = meant.boards
    up = STRIP + 10.5
    piece = draw.Part("test-front", "Piece cut against the key", _outline(long, up))
    other = draw.Part("test-end", "Piece cut against the spacer", _outline(short, 0.0))
    finger, second = long.fingers[0], long.fingers[min(1, len(long.fingers) - 1)]
    socket = short.sockets[1] if len(short.sockets) > 1 else short.sockets[0]
    labels = (
        draw.Label("A finger", draw.Point(second.middle, up + STRIP * 0.25), towards="above"),
        draw.Label("B socket", draw.Point(socket.middle, STRIP * 0.25), towards="below"),
        draw.Label("E proud", draw.Point(finger.middle, up), towards="below"),
        draw.Label("C, D flush at this edge", draw.Point(0, -2), towards="right"),
        draw.Label("front", draw.Point(piece.bounds.right / 2, up + STRIP * 0.75), leader=False),
        draw.Label("end", draw.Point(piece.bounds.right / 2, STRIP * 0.75), leader=False),
    )
    first = long.sockets[0]
    width = draw.Dimension(draw.Point(0, up + STRIP), draw.Point(first.end, up + STRIP), "above", "finger and socket")
    return draw.View("test", "The two pieces", (piece, other), (width,), labels, check=width)


def _outline(board: Board, bottom: float) -> tuple[draw.Line, ...]:
    depth = STRIP * 0.5
    sockets = board.sockets[: max(2, sum(span.end <= WIDEST for span in board.sockets))]
    right = board.width if sockets == board.sockets else min(board.width, sockets[-1].end + 4.0)
    points = [(0.0, bottom + STRIP), (0.0, bottom)]
    for span in sockets:
        points += [(span.start, bottom), (span.start, bottom + depth), (span.end, bottom + depth), (span.end, bottom)]
    points += [(right, bottom), (right, bottom + STRIP), (0.0, bottom + STRIP)]
    reference = draw.Line(draw.line((0, bottom - 3), (0, bottom + STRIP + 3)), draw.Kind.REFERENCE)
    return (*draw.lines([draw.line(*points)]), reference)


def _readings(meant: Meant, proud: float) -> draw.Table:
    fit, joint = meant.mating, meant.joint
    slack, within = joint.slack, meant.errors.socket

    def row(letter: str, what: str, option: str, should: float, low: float, high: float) -> tuple[draw.Cell, ...]:
        return letter, what, option, should, say("{low} to {high}", low=low, high=high), None

    clearance = fit.clearance
    least, most = good_clearance(clearance)
    rows = (
        row("A", "finger, the widest", "--finger", joint.gap, joint.gap - FINGER_WITHIN, joint.gap + FINGER_WITHIN),
        row("B", "socket", "--socket", joint.socket, joint.socket - within, joint.socket + within),
        row("", "B less A, the play", "--play", clearance, least, most),
        row("C", "flush, end pushed to the top", "--flush-high", fit.flush_high, 0.0, most),
        row("D", "flush, end pushed to the reference edge", "--flush-low", fit.flush_low, -most, 0.0),
        row("E", "fingers proud", "--proud", proud, proud - PROUD_WITHIN, proud + PROUD_WITHIN),
        row("F", "slack on the key", "--slack", slack, slack - SLACK_WITHIN, slack + SLACK_WITHIN),
    )
    headings = ("", "Measure", "Type it as", "Should be", "Go", "It reads")
    return draw.Table("readings", "Readings", headings, rows)
