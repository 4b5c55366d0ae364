"""The handle as paper: both its faces folded up from its base, and a strip bent over its crest.

Axes: x from the middle, y up from the base of the first face; the second hangs below, upside down.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Template
from jigs.base.drawing import ArcTo, Dimension, LineTo, Point
from jigs.box.mockup.lid import BASE
from jigs.box.mockup.nets import TAB, Net, folds, letter, outline, teeth, teeth_for
from jigs.parts.handle import outline as finished
from jigs.parts.handle.part import Handle

CRESTS = "MN"
"""The two edges of the crest: on the first face and on the second."""
_OF_WOOD = 0.7
"""Depth of a tooth, of what the face is high over its hole at the most: it must not be seen in the hole."""
_LETTER_IN = 4.0
"""From the crest's edge to its letter, for which teeth have no room, mm."""


def over_crest(made: Handle) -> float:
    """Return the way over the crest from end to end: R·2·asin(length / 2R)."""
    radius = made.holes.crest_radius
    return 2 * radius * math.asin(min(1.0, made.length / (2 * radius)))


def templates(made: Handle) -> Iterator[Template]:
    """Yield the faces with the base, and the strip of the crest."""
    yield _faces(made).template()
    yield _crest(made).template()


def _faces(made: Handle) -> Net:
    """Both faces, the base between them: its print lies on the lid."""
    half, thick = made.length / 2, made.thickness
    whole = finished.outline(made.holes)
    rest = whole.steps[3 if made.holes.opening else 1 :]  # without the base: from its right end round to its left end
    second = (_upside_down(step, thick) for step in rest)
    steps = (*rest, LineTo(Point(-half, -thick)), *second, LineTo(Point(half, 0)))
    up = made.height - 4.0
    labels = (
        letter(BASE, (0, -thick / 2)),
        letter(CRESTS[0], (0, up)),
        letter(CRESTS[1], (0, -thick - up)),
    )
    lowest, corner = -thick - made.height, -thick - made.height + made.crest
    high = Dimension(Point(-half, lowest), Point(-half, made.height), "left")
    base = Dimension(Point(half, -thick), Point(half, 0), "right")
    across = Dimension(Point(-half, corner), Point(half, corner), "below")
    check, other = (high, across) if high.value > across.value else (across, high)
    return Net(
        "handle-faces",
        "Handle",
        draw.Path(Point(half, 0), steps, closed=True),
        folds(*_along_the_base(made, 0.0), *_along_the_base(made, -thick)),
        check,
        (other, base),
        labels=labels,
        openings=tuple(_openings(made)),
    )


def _along_the_base(made: Handle, y: float) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """Return the folds of an edge of the base, from left to right: in two where an arch opens it."""
    half, arch = made.length / 2, made.holes.opening / 2
    return [((-half, y), (-arch, y)), ((arch, y), (half, y))] if arch else [((-half, y), (half, y))]


def _openings(made: Handle) -> Iterator[draw.Shape]:
    """Yield what is cut out of both faces: an eye, or an arch down to the base."""
    thick = made.thickness
    if eye := finished.eye(made.holes):
        yield eye
        yield draw.Circle(Point(-eye.centre.x, -thick - eye.centre.y), eye.radius)
    elif made.holes.middle and (arch := made.holes.opening / 2):
        over = ArcTo(Point(arch, 0), Point(0, made.holes.middle.y), False)
        back = LineTo(Point(-arch, 0))
        yield draw.Path(Point(-arch, 0), (over, back), closed=True)
        turned = (_upside_down(over, thick), _upside_down(back, thick))
        yield draw.Path(Point(arch, -thick), turned, closed=True)


def _upside_down(step: LineTo | ArcTo, thick: float) -> LineTo | ArcTo:
    """Return a step of the second face, which is the first one turned half round the middle of the base."""

    def about(point: Point) -> Point:
        return Point(-point.x, -thick - point.y)

    if isinstance(step, ArcTo):
        return ArcTo(about(step.end), about(step.centre), step.anticlockwise)
    return LineTo(about(step.end))


def _crest(made: Handle) -> Net:
    """The strip that is bent over the crest, teeth along both its long edges."""
    long, thick = over_crest(made), made.thickness
    deep = min(TAB.size(made.units), _OF_WOOD * min(made.holes.hole_to_crest, made.holes.horn_tip))
    count = teeth_for(long, bent=True)
    points = [
        *(Point(0, 0), *teeth((0, 0), (long, 0), deep, count)),
        *(Point(long, thick), *teeth((long, thick), (0, thick), deep, count)),
    ]
    labels = (
        letter(CRESTS[0], (long / 2, _LETTER_IN)),
        letter(CRESTS[1], (long / 2, thick - _LETTER_IN)),
        draw.Label("crest", Point(long / 4, thick / 2), leader=False),
    )
    return Net(
        "handle-crest",
        "Crest of the handle",
        outline(points),
        folds(((0, 0), (long, 0)), ((0, thick), (long, thick))),
        Dimension(Point(0, 0), Point(long, 0), "below"),
        (Dimension(Point(0, 0), Point(0, thick), "left"),),
        labels=labels,
    )
