"""The four sides as one strip that is folded round the box, or as two or four pieces where a page is smaller.

Axes of the strip: x from the left edge of the first board, y up from the bottom edges. Above stands the rim: each board
has a flap as wide as it is thick. Boards follow one another as they are seen from outside, going round to the right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import accumulate, pairwise

from jigs.base import drawing as draw
from jigs.base.cards import Template
from jigs.base.drawing import Dimension, Kind, Line, Point
from jigs.box.chain import Box
from jigs.box.mockup.nets import EASE, TAB, Net, folds, letter, outline, tab
from jigs.parts.joint.part import LONGS, OTHERS, SHORTS, thicknesses
from jigs.parts.shell import templates as shell
from jigs.parts.shell.part import Shell
from jigs.record import Record
from jigs.trade.fingers import Span, fingers_between

CORNERS = "ABCD"
"""The corners of the box: at the right of front, right end, back and left end."""
_ROUND = (("front", LONGS), ("right end", SHORTS), ("back", LONGS), ("left end", SHORTS))
_NAME_UP = 6.0
"""From the bottom edge to a board's name, mm."""


class _Board(Record):
    """A board as it is seen from outside.

    `thick` is its own thickness, `mate` that of its mates. Their end grain is seen at both its ends, at heights
    `grain`. Where it is `through` at the rim, it runs over them there.
    """

    name: str
    length: float
    thick: float
    mate: float
    grain: tuple[Span, ...]
    through: bool
    left: str
    right: str


def templates(box: Box) -> Iterator[Template]:
    """Yield the sides: the strip, which comes apart at its folds where it fits no page."""
    boards = list(_boards(box))
    singles = [_net(box, [board]).template() for board in boards]
    halves = [_net(box, boards[i : i + 2]).template(*singles[i : i + 2]) for i in (0, 2)]
    yield _net(box, boards).template(*halves)


def _boards(box: Box) -> Iterator[_Board]:
    assert box.numbers is not None
    high, thick = box.numbers.width, thicknesses(box.file)
    sockets = box.numbers.long_sockets
    grain = {LONGS: sockets, SHORTS: fingers_between(high, sockets)}
    lengths = {LONGS: box.file.box.length, SHORTS: box.file.box.width}
    for i, (name, kind) in enumerate(_ROUND):
        ends = CORNERS[i - 1], CORNERS[i]
        mate, through = thick[OTHERS[kind]], box.at_the_rim == kind
        yield _Board(name, lengths[kind], thick[kind], mate, grain[kind], through, *ends)


def _net(box: Box, boards: Sequence[_Board]) -> Net:
    """Return boards that follow one another as one piece, a tab at its right edge."""
    assert box.numbers is not None
    high, deep = box.numbers.width, TAB.size(box.file.units)
    lefts = [0.0, *accumulate(board.length for board in boards)]
    end, rimmed = lefts[-1], min(box.inside) > 0
    points = [Point(0, 0), Point(end, 0), *tab((end, 0), (end, high), deep)]
    for board, left in reversed(list(zip(boards, lefts, strict=False))):
        points += _rim(board, left, high) if rimmed else [Point(left, high)]
    name = "-and-".join(board.name.replace(" ", "-") for board in boards) if len(boards) < len(_ROUND) else "sides"
    title = " and ".join(board.name for board in boards) if len(boards) < len(_ROUND) else "sides"
    corners = [((x, 0.0), (x, high)) for x in lefts[1:]]
    rims = [((a, high), (b, high)) for a, b in pairwise(lefts)] if rimmed else []
    labels = [letter(boards[-1].right, (end + deep / 2, high / 2))]
    labels.append(letter(boards[0].left, (boards[0].mate + 4.0, high / 2)))
    for board, left in zip(boards, lefts, strict=False):
        labels += _labels(board, left, high, rimmed=rimmed)
    return Net(
        name,
        title.capitalize(),
        outline(points),
        folds(*corners, *rims),
        *_dimensions(lefts, high),
        drawn=tuple(_drawn(box, boards, lefts)),
        labels=tuple(labels),
    )


def _rim(board: _Board, left: float, high: float) -> list[Point]:
    """Return the flap of the rim from right to left; that of a mate is eased, since it is folded in first."""
    ease, top = (0.0 if board.through else EASE), high + board.thick
    right = left + board.length
    return [Point(right, high), Point(right - ease, top), Point(left + ease, top), Point(left, high)]


def _dimensions(lefts: Sequence[float], high: float) -> tuple[Dimension, tuple[Dimension, ...]]:
    """Return the check length, and the other sizes: of every board, and the height."""
    boards = [Dimension(Point(a, 0), Point(b, 0), "below") for a, b in pairwise(lefts)]
    up = Dimension(Point(0, 0), Point(0, high), "left", gauged=True)
    if len(boards) == 1:
        return boards[0], (up,)
    return Dimension(Point(0, 0), Point(lefts[-1], 0), "below"), (*boards, up)


def _labels(board: _Board, left: float, high: float, *, rimmed: bool) -> Iterator[draw.Label]:
    """Yield the board's name, its rim's, and the letters of the corners where that is glued."""
    yield draw.Label(board.name, Point(left + board.length / 2, _NAME_UP), leader=False)
    if rimmed:
        up = high + board.thick / 2
        yield draw.Label("rim", Point(left + board.length / 2, up), leader=False)
        yield letter(board.left, (left + board.mate / 2 + EASE / 2, up))
        yield letter(board.right, (left + board.length - board.mate / 2 - EASE / 2, up))


def _drawn(box: Box, boards: Sequence[_Board], lefts: Sequence[float]) -> Iterator[draw.Part]:
    """Yield what is seen on the boards: fingers at the corners, and the shell on the front."""
    assert box.numbers is not None
    for board, left in zip(boards, lefts, strict=False):
        yield _fingers(board, left, box.numbers.width)
        if board.name == "front" and box.shell:
            yield from _shell(box.shell, left + board.length / 2)


def _fingers(board: _Board, left: float, high: float) -> draw.Part:
    """Return the lines of the joint at both ends of a board, the end grain of its mates hatched."""
    ends = (left, left + board.mate), (left + board.length - board.mate, left + board.length)
    floors = left + board.mate, left + board.length - board.mate
    edges = sorted({y for span in board.grain for y in (span.start, span.end) if 0 < y < high})
    across = [draw.line((a, y), (b, y)) for a, b in ends for y in edges]
    grain = [draw.rectangle(a, span.start, b, span.end) for a, b in ends for span in board.grain]
    shapes = [*(draw.line((x, 0), (x, high)) for x in floors), *across]
    name = board.name.replace(" ", "-")
    return draw.Part(f"{name}-fingers", "Fingers", draw.lines(shapes, Kind.NARROW), hatched=tuple(grain))


def _shell(made: Shell, middle: float) -> Iterator[draw.Part]:
    """Yield the shell where it is carved: ribs, lobes and border."""
    edge = shell.border(made)
    shapes = [*shell.ribs(made), shell.lobes(made), *([edge] if edge else [])]
    lines = tuple(Line(shape, Kind.NARROW) for shape in shapes)
    yield draw.Part("shell", "Shell", lines).moved(middle, made.pivot_height)
