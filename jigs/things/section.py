"""Things cut across: x to the right, y up. A cut face is hatched, what shows behind it is not. Sizes in mm."""

from __future__ import annotations

from jigs.base import drawing as draw
from jigs.base.drawing import Bounds, Kind, Line, Part, Point

TABLE_THICK = 10.0
"""How much of the thickness of a table is shown, mm."""


def face(name: str, title: str, shape: draw.Path) -> Part:
    """Return a cut face: outlined and hatched."""
    return Part(name, title, (Line(shape),), hatched=(shape,))


def table(left: float, right: float, top: float = 0.0, *, hole: tuple[float, float] | None = None) -> Part:
    """Return a table cut across, open between the two sides of `hole`; its upper side is at `top`."""
    low = top - TABLE_THICK
    spans = [(left, right)] if hole is None else [(left, hole[0]), (hole[1], right)]
    shapes = tuple(draw.rectangle(begin, low, end, top) for begin, end in spans if end > begin)
    return Part("table", "Table", draw.lines(shapes), hatched=shapes)


def fence(face_at: float, away: float, high: float, *, bottom: float = 0.0, left: bool = True) -> Part:
    """Return a fence cut across, `away` thick and `high` high, its face at `face_at`; it stands to the left of it."""
    box = (face_at - away, bottom, face_at, bottom + high) if left else (face_at, bottom, face_at + away, bottom + high)
    return face("fence", "Fence", draw.rectangle(*box))


def cutter(centre: float, diameter: float, top: float, bottom: float, name: str = "cutter") -> Part:
    """Return a cutter or a bit that stands in a table: never hatched, two flutes, its axis."""
    left, right = centre - diameter / 2, centre + diameter / 2
    high = top - bottom
    flutes = [draw.line((left, bottom + high * share), (right, bottom + high * (share + 0.3))) for share in (0.1, 0.5)]
    axis = Line(draw.line((centre, bottom - 3), (centre, top + 3)), Kind.CENTRE)
    body = draw.rectangle(left, bottom, right, top)
    return Part(name, name.capitalize(), (Line(body), *draw.lines(flutes, Kind.NARROW), axis), covers=(body,))


def board(name: str, title: str, *points: tuple[float, float], broken: str = "") -> Part:
    """Return a board cut across, through these corners; `broken` names a side where it goes on: "top" or "right"."""
    shape = draw.polygon(*points)
    if not broken:
        return face(name, title, shape)
    bounds = shape.bounds
    zigzag = (
        draw.break_line(Point(bounds.left, bounds.top), Point(bounds.right, bounds.top))
        if broken == "top"
        else draw.break_line(Point(bounds.right, bounds.bottom), Point(bounds.right, bounds.top))
    )
    kept = [
        draw.line(a, b)
        for a, b in zip(points, (*points[1:], points[0]), strict=True)
        if not _on_side(a, b, bounds, broken)
    ]
    return Part(name, title, (*draw.lines(kept), Line(zigzag, Kind.NARROW)), hatched=(shape,))


PLY = 1.4
"""About how thick a ply is drawn, mm: plies of thin plywood are hardly thinner (common practice, no source)."""


def plywood(name: str, title: str, *points: tuple[float, float], broken: str = "") -> Part:
    """Return plywood cut across, as `board`, its faces level: the lines between its plies instead of hatching."""
    whole = board(name, title, *points, broken=broken)
    box = draw.polygon(*points).bounds
    count = max(3, 2 * round((box.height / PLY - 1) / 2) + 1)  # odd, so that both faces run one way
    heights = (box.bottom + box.height * number / count for number in range(1, count))
    between = [draw.line((left, y), (right, y)) for y in heights for left, right in _spans(points, y)]
    return Part(name, title, (*whole.lines, *draw.lines(between, Kind.NARROW)))


def _spans(points: tuple[tuple[float, float], ...], y: float) -> list[tuple[float, float]]:
    """Return from where to where a level line lies inside an outline, whose corners are not on it."""
    edges = zip(points, (*points[1:], points[0]), strict=True)
    met = sorted(x1 + (x2 - x1) * (y - y1) / (y2 - y1) for (x1, y1), (x2, y2) in edges if (y1 - y) * (y2 - y) < 0)
    return list(zip(met[::2], met[1::2], strict=True))


def _on_side(a: tuple[float, float], b: tuple[float, float], bounds: Bounds, side: str) -> bool:
    if side == "top":
        return abs(a[1] - bounds.top) < 1e-9 and abs(b[1] - bounds.top) < 1e-9
    return abs(a[0] - bounds.right) < 1e-9 and abs(b[0] - bounds.right) < 1e-9


def guard(fence_face: float, above: float, reach: float) -> Part:
    """Return the guard that hangs from a fence over a bit: a bracket and a plate, `above` the table."""
    bracket = draw.rectangle(fence_face, above - 3, fence_face + 5, above + 9)
    plate = draw.rectangle(fence_face + 5, above, fence_face + reach, above + 4)
    return Part("guard", "Guard", draw.lines((bracket, plate)), covers=(bracket, plate))


def removed(name: str, title: str, shape: draw.Path) -> Part:
    """Return what is cut away, crossed out: never hatched."""
    box = shape.bounds
    cross = [
        draw.line((box.left, box.bottom), (box.right, box.top)),
        draw.line((box.left, box.top), (box.right, box.bottom)),
    ]
    return Part(name, title, (Line(shape, Kind.HIDDEN), *draw.lines(cross, Kind.NARROW)))


def hole_saw(centre: float, diameter: float, bottom: float, high: float, pilot: float, wall: float = 1.6) -> Part:
    """Return a hole saw cut across: the two sides of its rim, its back, its pilot drill; teeth at `bottom`."""
    left, right, top = centre - diameter / 2, centre + diameter / 2, bottom + high
    walls = (
        draw.rectangle(left, bottom, left + wall, top),
        draw.rectangle(right - wall, bottom, right, top),
        draw.rectangle(left, top, right, top + 4),
    )
    shank = draw.rectangle(centre - 5, top + 4, centre + 5, top + 22)
    drill = [draw.rectangle(centre - pilot / 2, bottom - 6, centre + pilot / 2, top)] if pilot else []
    axis = Line(draw.line((centre, bottom - 12), (centre, top + 26)), Kind.CENTRE)
    return Part("hole-saw", "Hole saw", (*draw.lines((*walls, shank, *drill)), axis), hatched=walls)
