"""Rabbets along the edges of a piece that lies on a router table: the settings and pictures that bottom and lid share.

Each setting lets the bit stand further out of the fence, so that a rabbet grows from the edge inward. Lengths in mm.
Axes from above: the bit at 0 across, the fence's face at 0 up; you stand at the foot. Axes of a section: the fence's
face at 0 across, the table at 0 up; the piece lies to the right.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from jigs.base import drawing as draw
from jigs.base.cards import Band, Beside, Caution, Checks, Pictures, Setting, Settings
from jigs.base.drawing import Bounds, Kind, Line, Part, Point
from jigs.base.lengths import Units
from jigs.base.rules import READ_OUT
from jigs.base.usual import Usual
from jigs.base.wording import Words, say
from jigs.record import Record
from jigs.things import plan, section

WITHIN = Usual(0.05, 0.002)
"""How near a gauge block sets bit and fence (common practice, no source)."""
CAUTIONS = (
    Caution("Hands", "Keep both outside the guard. One pushes the block, one steers."),
    Caution("Trap", "Cut from the edge inward. A strip left at the fence is thrown."),
    Caution("Throw", "Feed right to left only. Fed the other way the work is thrown."),
)
MOST_SECTIONS = 3
"""So many settings are shown; of more the first ones and the last."""
MOST_BESIDE = 6
"""So many settings of the fence have something beside them."""
_BEYOND = 10.0
"""What a section shows of the piece inside its rabbet, mm."""
_DEEP, _ALONG = 98.0, 180.0
"""The most of a piece that is drawn from above, away from the fence and along it, mm."""
_FENCE = 26.0
"""Depth of the fence from above, mm."""
_WRIST = 66.0
"""What is shown of the hand on the push block below its knuckles, mm."""
_HAND_OFF = 120.0
"""A left hand lies on pieces that reach so far from the fence, mm."""


class Stage(Record):
    """A setting of the fence for two opposite edges: the `number` of theirs, how far the bit stands out of the fence.

    `before` is how far it stood out at the setting before; 0 for the first.
    """

    edges: str
    number: int
    of: int
    exposed: float
    before: float
    piece: float = 0.0
    """What the piece measures between its shoulders once both edges are cut so; 0 where nobody asks."""

    @property
    def name(self) -> str:
        """What balloons and dimensions call it."""
        return f"{self.edges}-{self.number}"

    @property
    def said(self) -> str:
        """The edges, and which of several settings of theirs."""
        return self.edges + (f" {self.number}" if self.of > 1 else "")


def stages(edges: str, out: Sequence[float], pieces: Sequence[float] = ()) -> tuple[Stage, ...]:
    """Return the settings for two opposite edges, by how far the bit stands out of the fence at each."""
    measured = pieces or [0.0] * len(out)
    return tuple(
        Stage(edges, number, len(out), wide, out[number - 2] if number > 1 else 0.0, piece)
        for number, (wide, piece) in enumerate(zip(out, measured, strict=True), start=1)
    )


class Rabbets(Record):
    """What is rabbeted, and how: `heights` of the bit, one pass at each; `both_faces` where it is turned over."""

    piece: str
    thickness: float
    heights: tuple[float, ...]
    bit: float
    stages: tuple[Stage, ...]
    both_faces: bool
    units: Units
    plywood: bool = False
    """Whether its section shows plies."""

    @property
    def deep(self) -> float:
        """How deep the rabbets become."""
        return self.heights[-1]

    @property
    def widest(self) -> float:
        """How wide the widest rabbet becomes."""
        return max(stage.exposed for stage in self.stages)


# -- settings ------------------------------------------------------------------------------------------------------


def settings(of: Rabbets) -> Iterator[Setting]:
    """Yield what is set: the bit, its height, then the fence for each setting."""
    within = WITHIN.size(of.units)
    yield Setting("bit", "Bit width", of.bit, within, "callipers")
    yield Setting("height", "Bit height, last" if len(of.heights) > 1 else "Bit height", of.deep, within, "block")
    for stage in of.stages:
        using = "block" if stage is of.stages[0] else "later"
        yield Setting(stage.name, f"Bit out, {stage.said}", stage.exposed, within, using)


def set_and(of: Rabbets, beside: Checks | draw.Table, share: float) -> tuple[Band, ...]:
    """Return the settings with what is measured beside them; below them where they are many."""
    rows = Settings(tuple(settings(of)))
    return (rows, beside) if len(of.stages) > MOST_BESIDE else (Beside(rows, beside, share),)


def at_heights(of: Rabbets) -> Words:
    """Return in which passes an edge is cut, the bit raised between them: " at 3, then 6 high"; nothing for one."""
    count = len(of.heights)
    if count == 1:
        return ""
    if count > 3:
        return say(f" in {count} passes of {{each:cut}}", each=of.heights[0])
    sizes = {f"high{i}": height for i, height in enumerate(of.heights)}
    return say(" at " + ", then ".join(f"{{{name}:cut}}" for name in sizes) + " high", **sizes)


# -- sections ------------------------------------------------------------------------------------------------------


def sections(of: Rabbets, *, alone: bool = True) -> tuple[draw.View, ...]:
    """Return bit, fence and wood cut across, a view for each setting; what is set once is shown in the first.

    Ends and sides that take as many settings look alike, but for a little of their width: they share their views. One
    that stands `alone` has room for both widths.
    """
    every: dict[tuple[int, int], list[Stage]] = {}
    for stage in of.stages:
        every.setdefault((stage.of, stage.number), []).append(stage)
    groups = list(every.values())
    if len(groups) > MOST_SECTIONS:
        groups = [*groups[: MOST_SECTIONS - 1], groups[-1]]
    roomy = alone and len(groups) == 1
    return tuple(_section(of, group, first=group is groups[0], roomy=roomy) for group in groups)


def _section(of: Rabbets, group: Sequence[Stage], *, first: bool, roomy: bool) -> draw.View:
    stage = group[0]
    thick, out, right = of.thickness, stage.exposed, of.widest + _BEYOND
    parts = [
        section.table(-12.0 - max(0.0, of.bit - out), right + 2.0, hole=(out - of.bit - 2.0, out + 2.0)),
        _fence(of, out),
        _piece(of, out, right),
        *_cut_before(of, stage),
        section.cutter(out - of.bit / 2, of.bit, of.deep, -11.0, "bit"),
        section.guard(0.0, thick + 5.0, max(14.0, out + 5.0)),
    ]
    dimensions = [
        draw.Dimension(Point(0, -11), Point(one.exposed, -11), "below", "", one.name)
        for one in (group if roomy else group[:1])
    ]
    labels = [draw.balloon(one.name, (one.exposed, of.deep * 0.6), "right") for one in group[1:] if not roomy]
    if first:
        labels += [
            draw.balloon("bit", (out - 1.5, -8), "right"),
            draw.Label("fence", Point(-4, thick + 8), towards="above"),
        ]
        if roomy:
            dimensions.append(draw.Dimension(Point(right + 2, 0), Point(right + 2, of.deep), "right", "", "height"))
        else:
            labels.append(draw.balloon("height", (max(0.5, out - of.bit * 0.6), of.deep), "above"))
    return draw.View(
        f"at-{stage.name}", _said(of, group), tuple(parts), tuple(dimensions), tuple(labels), to_scale=False
    )


def _said(of: Rabbets, group: Sequence[Stage]) -> str:
    """Return which edges are cut, which of their settings it is, and where the bit stands."""
    stage = group[0]
    edges = " and ".join(one.edges for one in group).capitalize()
    if stage.of == 1:
        return edges
    place = "last" if stage.number == stage.of else ("first", "second", "third")[stage.number - 1]
    said = f"{place.capitalize()} setting" if len(group) > 1 else f"{edges}, {place} setting"
    return said + (": bit off the fence" if stage.exposed - of.bit > READ_OUT else "")


def pictures(of: Rabbets, above: draw.View, least: float, more: tuple[draw.View, ...] = ()) -> tuple[Band, ...]:
    """Return the picture from above and beside it the sections and what `more` is shown; below it where it is much."""
    cut = (*sections(of, alone=not more), *more)
    if len(cut) > 2:
        return Pictures((above,), least=least, most=100.0), Pictures(cut, least=46.0, most=90.0, in_row=4)
    share = 0.5 if len(cut) == 1 else 0.45
    beside = Pictures(cut, least=least, most=92.0, same_scale=not more)
    return (Beside(Pictures((above,), least=least, most=92.0), beside, share),)


def _fence(of: Rabbets, out: float) -> Part:
    """Return the fence cut across: open where the bit stands partly in it, closed where it stands in front of it."""
    inside, high = of.bit - out, of.thickness + 15.0
    if inside <= READ_OUT:
        return section.fence(0.0, 10.0, high)
    deep, back, above = inside + 2.0, max(10.0, inside + 8.0), of.deep + 2.0
    corners = ((0, high), (-back, high), (-back, 0), (-deep, 0), (-deep, above), (0, above))
    return section.board("fence", "Fence", *corners)


def _piece(of: Rabbets, out: float, right: float) -> Part:
    """Return the piece with what this setting has cut away, on both faces where it is turned over."""
    thick, deep = of.thickness, of.deep
    upper = [(out, thick), (out, thick - deep), (0.0, thick - deep)] if of.both_faces else [(0.0, thick)]
    corners = [(out, 0.0), (right, 0.0), (right, thick), *upper, (0.0, deep), (out, deep)]
    shown = section.plywood if of.plywood else section.board
    return shown("piece", of.piece.capitalize(), *corners, broken="right")


def _cut_before(of: Rabbets, stage: Stage) -> Iterator[Part]:
    """Yield what is no more there, crossed out: from earlier settings, and from the face that was cut first."""
    if stage.before:
        wood = draw.rectangle(0.0, 0.0, stage.before, of.deep)
        yield section.removed("cut-before", "Already cut away", wood)
    if of.both_faces:
        wood = draw.rectangle(0.0, of.thickness - of.deep, stage.exposed, of.thickness)
        yield section.removed("first-face", "Cut from the first face", wood)


# -- from above ----------------------------------------------------------------------------------------------------


def from_above(of: Rabbets, along: float, away: float, title: str) -> draw.View:
    """Return the piece on its way past the bit, its end on the fence: what guards and presses it, where hands are.

    A piece that reaches far from the fence, or along it, is shown shorter, broken.
    """
    out = of.stages[0].exposed
    reach, deep = min(along, _ALONG), min(away, _DEEP)
    left = -0.3 * reach
    board = Bounds(left, -deep, left + reach, 0.0)
    hand_at = max(board.right + 54.0, 156.0)
    block = Bounds(board.right, -min(92.0, max(deep - 4.0, 36.0)), hand_at + 40.0, -2.0)
    before = max(20.0, of.bit / 2 + 8.0)  # behind the bit they would press the wood into it
    off = plan.outside_guard((0.0, of.bit / 2 - out))  # hands pass the guard with the piece
    grip = min((block.bottom + block.top) / 2 - 12.0, off)
    feed = min(block.bottom - 34.0, grip - _WRIST - 4.0)
    parts = [
        plan.fence(min(left, -45.0) - 16.0, block.right + 8.0, 0.0, deep=_FENCE),
        _lying(of, board, broken=deep < away, out=out),
        plan.bit((0.0, of.bit / 2 - out), of.bit, under=True),
        plan.featherboard("side-featherboard", (before, board.bottom), body=14.0),
        _hold_down(before + 24.0, before + 84.0),
        plan.push_block(block),
        plan.hand("right", (hand_at, grip), wrist=_WRIST),
        plan.guard((0.0, of.bit / 2 - out)),
        plan.arrow("feed", "Feed", (hand_at - 4.0, feed), (hand_at - 60.0, feed)),
    ]
    if min(away, reach * 1.2) >= _HAND_OFF:
        parts.insert(6, plan.hand("left", (left + 46.0, min(board.bottom + 26.0, off)), wrist=60.0))
    labels = (  # what is written on its place comes first: nothing lies there yet
        draw.Label("push block", Point((block.left + block.right) / 2, -15.0), leader=False),
        draw.Label("feed", Point(hand_at + 22.0, feed), leader=False, bold=True),
        draw.Label("guard: no hand inside it", Point(-33.0, 22.0), towards="above", bold=True),
        draw.Label("featherboards", Point(before + 76.0, 8.0), towards="above"),
    )
    return draw.View("from-above", title, tuple(parts), labels=labels, to_scale=False)


def _lying(of: Rabbets, board: Bounds, *, broken: bool, out: float) -> Part:
    """Return the piece from above, the shoulder of its first setting hidden below it; broken where it is shortened."""
    shape = draw.rectangle(*board)
    lines = [Line(shape), Line(draw.line((board.left, -out), (0.0, -out)), Kind.HIDDEN)]
    covers = [shape]
    if broken:
        at = board.bottom + 18.0
        lower, upper = (draw.break_line(Point(board.left, y), Point(board.right, y), 0.86) for y in (at, at + 5.0))
        lines += [Line(lower, Kind.NARROW), Line(upper, Kind.NARROW)]
    return Part("piece", of.piece.capitalize(), tuple(lines), covers=tuple(covers))


def _hold_down(left: float, right: float) -> Part:
    """Return a featherboard that hangs on the fence and presses the work down, from above."""
    shape = draw.rectangle(left, -20.0, right, 12.0)
    slits = [draw.line((x, -20.0), (x, -4.0)) for x in (left + 12.0, left + 24.0, left + 36.0, left + 48.0)]
    return Part(
        "hold-down", "Featherboard on the fence", (Line(shape), *draw.lines(slits, Kind.NARROW)), covers=(shape,)
    )
