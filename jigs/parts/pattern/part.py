"""A pattern of one's own, settled. Lengths in mm, angles in degrees."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from functools import cached_property, lru_cache

from jigs.base import drawing as draw
from jigs.base import outline
from jigs.base.drawing import Bounds, Point
from jigs.base.lengths import Units
from jigs.base.settings import keys_of
from jigs.base.usual import CARVING_MARGIN
from jigs.boxfile.sections import BoxFile, PatternSection, Side
from jigs.parts import carving
from jigs.parts.groove.part import Groove
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS, cut_depths, cut_length, thicknesses
from jigs.parts.pattern import curves
from jigs.record import Record
from jigs.trade import shell
from jigs.trade.sled import SledNumbers

_LEAST_FITTED = 5.0  # mm; the least width of a pattern


class Pattern(Record, dict=True):
    """A pattern on a side, its middle set off from the middle of the length and of the height free of the groove."""

    width: float
    side: Side
    across: float
    up: float
    chip: float
    knife: float
    outline: str
    units: Units
    board_length: float
    board_width: float
    thickness: float
    cut_depth: float
    groove: Groove | None

    @cached_property
    def lines(self) -> tuple[draw.Path, ...]:
        """Its lines at full size, from its middle: straight steps and true arcs, within 0.004 mm of what was drawn."""
        return lines_of(self.outline, self.width)

    @property
    def height(self) -> float:
        """Its height, which follows from its width."""
        box = outline.bounds(outline.read(self.outline))
        return self.width * box.height / box.width

    @property
    def over_all(self) -> tuple[float, float]:
        """Width and height with half a chip all round."""
        return self.width + self.chip, self.height + self.chip

    @property
    def chip_depth(self) -> float:
        """Depth of the widest chip."""
        return shell.chip_depth(self.chip, self.knife)

    @property
    def free(self) -> Bounds:
        """Where there may be carving on its side."""
        return carving.free(self)

    @property
    def middle(self) -> Point:
        """Where its middle stands, from the left end and the bottom edge of its side as cut, seen from outside."""
        floor = (self.groove.top if self.groove else 0.0) + CARVING_MARGIN
        low = shell.pivot_height(bottom=floor, board=self.board_width, height=self.over_all[1], margin=CARVING_MARGIN)
        return Point(self.board_length / 2 + self.across, low + self.over_all[1] / 2 + self.up)

    @property
    def placed(self) -> Bounds:
        """The box round what is cut, on its side."""
        (x, y), (wide, high) = self.middle, self.over_all
        return Bounds(x - wide / 2, y - high / 2, x + wide / 2, y + high / 2)

    @property
    def over_groove(self) -> bool:
        """Whether the groove is behind some of it."""
        made = self.groove
        return made is not None and self.placed.bottom < made.top and self.placed.top > made.from_bottom

    @property
    def wood_left(self) -> float:
        """The least wood under a chip, less the groove where the two meet; negative is a hole."""
        behind = self.groove.depth if self.groove and self.over_groove else 0.0
        return shell.wood_left(thickness=self.thickness, chip=self.chip_depth, groove_depth=behind)


def pattern_of(file: BoxFile, numbers: SledNumbers, groove: Groove | None) -> Pattern | None:
    """Return the pattern of a file, or None where there is none."""
    asked = file.pattern
    if asked is None:
        return None
    kind = LONGS if asked.side in MEMBERS[LONGS] else SHORTS
    return Pattern(
        **{name: getattr(asked, name) for name in keys_of(PatternSection)},
        units=file.units,
        board_length=cut_length(file, file.box.length if kind == LONGS else file.box.width),
        board_width=numbers.width,
        thickness=thicknesses(file)[kind],
        cut_depth=cut_depths(file)[kind],
        groove=groove,
    )


@lru_cache(maxsize=64)
def lines_of(text: str, width: float) -> tuple[draw.Path, ...]:
    """Return an outline as paths `width` wide, from its middle, y up."""
    fitted = _LEAST_FITTED * 2 ** max(0, math.ceil(math.log2(width / _LEAST_FITTED)))
    return tuple(draw.scaled(path, width / fitted) for path in _fitted(text, fitted))


@lru_cache(maxsize=8)
def _fitted(text: str, width: float) -> tuple[draw.Path, ...]:
    """Return an outline as paths `width` wide. Arcs are fitted once for all widths to half of it, and closer there."""
    strokes = outline.read(text)
    box = outline.bounds(strokes)
    by = width / box.width
    x, y = (box.left + box.right) / 2, (box.bottom + box.top) / 2

    def at(point: Point) -> Point:
        return Point((point.x - x) * by, (y - point.y) * by)

    return tuple(draw.Path(at(stroke.start), tuple(_steps(stroke, at)), stroke.closed) for stroke in strokes)


def _steps(stroke: outline.Stroke, at: Callable[[Point], Point]) -> Iterator[draw.LineTo | draw.ArcTo]:
    """Yield the steps of a stroke: an arc of a circle stays one, and turns the other way where y is up."""
    for start, step in stroke.points():
        match step:
            case outline.Curve(first, second, end):
                yield from curves.in_arcs((at(start), at(first), at(second), at(end)))
            case outline.Round(end=end, rising=rising):
                yield draw.ArcTo(at(end), at(step.centre(start)), not rising)
            case _:
                yield draw.LineTo(at(step.end))
