"""A template as what a machine cuts, engraves and drills.

Edges that are the outline or an opening are cut. Other edges, middle lines, hidden and narrow lines inside the piece
are engraved, once each. Neighbouring parts, hatching, arrows, break lines, dimensions and words are left out.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence

from shapely.geometry import Point as Place
from shapely.geometry import Polygon

from jigs.base.cards import Template
from jigs.base.drawing import Circle, Kind, Line, Path, Piece, Shape, View, rectangle
from jigs.base.errors import CannotBuild
from jigs.base.lengths import Units
from jigs.base.rules import Problem, note, stop, tried
from jigs.base.wording import at_most, read_out
from jigs.record import Record, replace
from layout.cut import names
from layout.cut.legs import SAME, Leg, chained, legs_of, meetings, off, path_of, right_of
from layout.cut.offset import set_off
from layout.sheet.cutting import CutPiece

SETTING = "cut width"
"""What is said to be wrong where a tool is too wide."""
INSET = 1.0
"""The line that marks the reference edge is engraved so far inside it, and so far from its ends, mm."""
SQUARE = {"mm": 100.0, "in": 101.6}
"""Side of the square that is cut first and measured, mm; 4 in for those who measure in inches."""
_SHORTEST = 0.5
"""A shorter rest of a line is not engraved, mm."""
_FINE = 0.0005
_LEFT_OUT = (Kind.NEIGHBOUR, Kind.BREAK)


class _Inside(Record):
    """The wood of a piece: its edges, round holes among them, and what lies within."""

    outline: Path | Circle
    openings: tuple[Shape, ...]
    edges: tuple[Leg, ...]
    wood: Polygon

    def holds(self, leg: Leg) -> bool:
        """Whether the middle of a leg is in the wood, and on no edge."""
        middle = leg.at(0.5)
        return off(middle, self.edges) > SAME and bool(self.wood.contains(Place(middle)))


def made(templates: Sequence[Template], prefix: str, units: Units, width: float) -> tuple[CutPiece, ...]:
    """Return templates as pieces, their edges set off by half of what a tool cuts, mm; last the square to measure.

    Raises CannotBuild, naming every piece that the tool has no room in, and the widest tool that has.
    """
    found = [*(_nominal(template, prefix, units) for template in templates), _square(prefix, units)]
    if refused := [*_no_room(found, width)]:
        raise CannotBuild(tried(refused, lambda other: [*_no_room(found, float(other[SETTING]))], units))
    followed = [piece for one in found if (piece := _followed(one, width)) is not None]
    return tuple(piece.at_the_corner() for piece in followed)


def remarks(pieces: Iterable[CutPiece]) -> Iterator[Problem]:
    """Yield what must be known of pieces: which are only engraved, and which holes are to be drilled."""
    for piece in pieces:
        if not piece.cut:
            said = "nothing of {piece} is cut out: its lines are engraved"
            yield note("cut", said, "lay the board itself on the machine", piece=f"“{piece.title}”")
        if piece.wide:
            yield note(
                SETTING,
                "round holes of {hole:cut} in {piece} have no room for the tool",
                "drill them; their centres and sizes are on the layer “drill”",
                hole=2 * min(circle.radius for circle in piece.wide),
                piece=f"“{piece.title}”",
            )


# -- what is cut ---------------------------------------------------------------------------------------------------


def _nominal(template: Template, prefix: str, units: Units) -> CutPiece:
    """Return a template at its own size: cut are its openings and its outline, the outline last."""
    view, inside = template.view, _inside(template.view)
    cut = (*inside.openings, inside.outline) if inside else ()
    round_ones = [shape for shape in cut[:-1] if isinstance(shape, Circle)]
    centres = tuple(circle.centre for circle in round_ones)
    marks = tuple(_marks(view, inside))
    return CutPiece(names.of_template(prefix, template), read_out(view.title, units), prefix, cut, marks, centres)


def _square(prefix: str, units: Units) -> CutPiece:
    side = SQUARE[units]
    words = "100 × 100 mm" if units == "mm" else "4 × 4 in"
    return CutPiece(names.of_square(prefix), f"Cut first: square of {words}", prefix, (rectangle(0, 0, side, side),))


def _inside(view: View) -> _Inside | None:
    """Return the wood of a view; None where it says of nothing that it is cut out."""
    piece = view.piece or _largest(view)
    if piece is None:
        return None
    body = _polygon(piece.outline)
    openings = list(piece.openings)
    for circle in _circles(view):
        if body.contains_properly(_polygon(circle)) and not any(_same(circle, other) for other in openings):
            openings.append(circle)
    wood = Polygon(body.exterior, [_polygon(opening).exterior for opening in openings])
    edges = [leg for shape in (piece.outline, *openings) for leg in legs_of(shape)]
    return _Inside(piece.outline, tuple(openings), tuple(edges), wood)


def _largest(view: View) -> Piece | None:
    """Return the largest closed edge of a view, where all others lie on it; None where there is no such edge."""
    closed = [shape for line in _edges(view) if isinstance(shape := line.shape, Path) and shape.closed]
    if not closed:
        return None
    polygons = [_polygon(path) for path in closed]
    largest = max(range(len(closed)), key=lambda number: polygons[number].area)
    body = polygons[largest].buffer(SAME)
    return Piece(closed[largest]) if all(body.covers(other) for other in polygons) else None


def _edges(view: View) -> Iterator[Line]:
    yield from (line for part in view.parts for line in part.lines if line.kind is Kind.EDGE)


def _circles(view: View) -> Iterator[Circle]:
    """Yield the round edges of a view, those of its holes too."""
    yield from (line.shape for line in _edges(view) if isinstance(line.shape, Circle))
    yield from (Circle(hole.centre, hole.radius) for part in view.parts for hole in part.holes)


def _same(one: Shape, other: Shape) -> bool:
    return bool(_polygon(one).equals_exact(_polygon(other), SAME))


def _polygon(shape: Shape) -> Polygon:
    return Polygon(shape.points(_FINE))


# -- what is engraved ----------------------------------------------------------------------------------------------


def _marks(view: View, inside: _Inside | None) -> Iterator[Path]:
    """Yield the lines to engrave, as far as they lie in the wood, each of them once."""
    seen: list[Leg] = []
    for part in view.parts:
        for line in part.lines:
            if line.kind in _LEFT_OUT:
                continue
            found = [rest for leg in _engraved(line, inside) for rest in _rest(leg, seen)]
            seen += found
            rows = chained(found)
            yield from (path_of(row, closed=False) for row in rows if sum(leg.length for leg in row) > _SHORTEST)


def _rest(leg: Leg, seen: Sequence[Leg]) -> Iterator[Leg]:
    """Yield what of a leg lies on none of those that were there before."""
    cuts = [point for other in seen for point in meetings(leg, other)]
    for part in leg.parts(cuts):
        if not seen or off(part.at(0.5), seen) > SAME:
            yield part


def _engraved(line: Line, inside: _Inside | None) -> Iterator[Leg]:
    """Yield what of a line lies in the wood; a reference edge that is the edge of the piece is set in."""
    for leg in legs_of(line.shape):
        if inside is None:
            yield leg
            continue
        for part in leg.parts([point for edge in inside.edges for point in meetings(leg, edge)]):
            if inside.holds(part):
                yield part
            elif line.kind is Kind.REFERENCE and off(part.at(0.5), inside.edges) < SAME:
                yield from _set_in(part, inside)


def _set_in(part: Leg, inside: _Inside) -> Iterator[Leg]:
    """Yield the line inside a straight edge that says which edge is the reference."""
    way = part.direction(0.5)
    for by in (INSET, -INSET):
        moved = Leg(right_of(part.start, way, by), right_of(part.end, way, by))
        if part.centre is None and part.length > 4 * INSET and inside.holds(moved):
            back = INSET / moved.length
            yield Leg(moved.at(back), moved.at(1 - back))


# -- what the tool cuts away ---------------------------------------------------------------------------------------


def _ways(piece: CutPiece) -> list[tuple[Shape, int]]:
    """Return what is cut with 1 for the outline, which grows, and -1 for openings."""
    return [(shape, -1) for shape in piece.cut[:-1]] + [(shape, 1) for shape in piece.cut[-1:]]


def _drilled(shape: Shape, way: int, width: float) -> bool:
    """Whether a shape is a round hole that a tool finds no room in, so that it is left to a drill."""
    return way < 0 and isinstance(shape, Circle) and 2 * shape.radius <= width + SAME


def _followed(piece: CutPiece, width: float) -> CutPiece | None:
    """Return a piece with the way of the tool's middle, half its width outside the wood; None where it has no room."""
    cut, wide = [], []
    for shape, way in _ways(piece):
        if isinstance(shape, Circle) and _drilled(shape, way, width):
            wide.append(shape)
        elif (away := set_off(shape, way * width / 2)) is not None:
            cut.append(away)
        else:
            return None
    return replace(piece, cut=tuple(cut), wide=tuple(wide))


def _no_room(pieces: Sequence[CutPiece], width: float) -> Iterator[Problem]:
    """Yield why a tool can't be led round some pieces, and how wide one may be that can be led round them all."""
    refused = [piece.title for piece in pieces if _followed(piece, width) is None]
    if refused:
        said = "a tool that cuts {width} can't go into an inside corner, a slot or a hole of {pieces}"
        numbers = {"width": width, "pieces": ", ".join(f"“{title}”" for title in refused)}
        most = at_most(_widest(pieces, width))
        yield stop(SETTING, said, "use a tool that cuts {most} or less", **numbers, most=most)


def _widest(pieces: Sequence[CutPiece], width: float) -> float:
    """Return how wide a tool may be that can be led round all pieces, found by halving, mm to a thousandth."""
    low, high = 0.0, width
    while high - low > 0.001:
        middle = (low + high) / 2
        low, high = (middle, high) if all(_followed(piece, middle) for piece in pieces) else (low, middle)
    return low
