"""The model a jig draws with: shapes, parts, views, and what is written on them.

Millimetres, y up, angles in degrees anticlockwise. A jig returns one `Drawing` a sheet; it knows neither the paper it
will be printed on nor how its labels are kept apart. Circles and arcs stay circles and arcs.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from enum import Enum
from typing import Literal, NamedTuple, TypeVar

from jigs.base.wording import Words
from jigs.record import Record, replace

CHORD_ERROR = 0.004
"""How far, in mm, a polygon may lie from the arc it stands for, where a polygon must stand for an arc."""


class Point(NamedTuple):
    """A place, in mm."""

    x: float
    y: float

    def moved(self, across: float, up: float) -> Point:
        """Return the point this much further right and up."""
        return Point(self.x + across, self.y + up)

    def __repr__(self) -> str:
        return f"Point(x={self.x!r}, y={self.y!r})"  # as any tuple with names: this is half of the time of a mark


class Bounds(NamedTuple):
    """An upright rectangle, in mm."""

    left: float
    bottom: float
    right: float
    top: float

    @property
    def width(self) -> float:
        """Size across, in mm."""
        return self.right - self.left

    @property
    def height(self) -> float:
        """Size up, in mm."""
        return self.top - self.bottom

    def moved(self, across: float, up: float) -> Bounds:
        """Return the box this much further right and up."""
        return Bounds(self.left + across, self.bottom + up, self.right + across, self.top + up)

    def grown(self, by: float) -> Bounds:
        """Return the box made larger by this much on every side."""
        return Bounds(self.left - by, self.bottom - by, self.right + by, self.top + by)

    def holds(self, other: Bounds, slack: float = 1e-9) -> bool:
        """Tell whether another box lies inside this one."""
        return (
            self.left <= other.left + slack
            and self.bottom <= other.bottom + slack
            and self.right >= other.right - slack
            and self.top >= other.top - slack
        )


def around(boxes: Iterable[Bounds]) -> Bounds:
    """Return the smallest box that holds all of these. Raises ValueError where there are none."""
    every = list(boxes)
    if not every:
        raise ValueError("no box to go around")
    return Bounds(
        min(box.left for box in every),
        min(box.bottom for box in every),
        max(box.right for box in every),
        max(box.top for box in every),
    )


# -- shapes ------------------------------------------------------------------------------------------------------


class LineTo(Record):
    """A straight step of a path."""

    end: Point

    def moved(self, across: float, up: float) -> LineTo:
        """Return the step this much further right and up."""
        return LineTo(self.end.moved(across, up))


class ArcTo(Record):
    """A step of a path along a circle about `centre`."""

    end: Point
    centre: Point
    anticlockwise: bool

    def moved(self, across: float, up: float) -> ArcTo:
        """Return the step this much further right and up."""
        return ArcTo(self.end.moved(across, up), self.centre.moved(across, up), self.anticlockwise)

    @property
    def radius(self) -> float:
        """Radius of the circle, in mm."""
        return math.dist(self.centre, self.end)

    def sweep(self, start: Point) -> float:
        """Return the signed angle from `start` to the end in radians, + anticlockwise, never 0 and at most 2 pi."""
        begin = math.atan2(start.y - self.centre.y, start.x - self.centre.x)
        finish = math.atan2(self.end.y - self.centre.y, self.end.x - self.centre.x)
        turn = (finish - begin) % math.tau
        if self.anticlockwise:
            return turn or math.tau
        return turn - math.tau


class Path(Record):
    """A line of straight and round steps, open or closed."""

    start: Point
    steps: tuple[LineTo | ArcTo, ...]
    closed: bool = False

    def moved(self, across: float, up: float) -> Path:
        """Return the path this much further right and up."""
        return Path(self.start.moved(across, up), tuple(step.moved(across, up) for step in self.steps), self.closed)

    def points(self, chord_error: float = CHORD_ERROR) -> list[Point]:
        """Return points along the path; between them a chord leaves an arc by at most `chord_error` mm."""
        points = [self.start]
        for step in self.steps:
            if isinstance(step, ArcTo):
                points.extend(_along_arc(points[-1], step, chord_error))
            points.append(step.end)
        if self.closed and points[-1] != points[0]:
            points.append(points[0])
        return points

    @property
    def bounds(self) -> Bounds:
        """The box round the points along the path."""
        places, at = [self.start], self.start
        for step in self.steps:
            if isinstance(step, ArcTo):
                places += _outermost(at, step)
            at = step.end
            places.append(at)
        across, up = zip(*places, strict=True)
        return Bounds(min(across), min(up), max(across), max(up))


class Circle(Record):
    """A whole circle."""

    centre: Point
    radius: float

    def moved(self, across: float, up: float) -> Circle:
        """Return the circle this much further right and up."""
        return Circle(self.centre.moved(across, up), self.radius)

    def points(self, chord_error: float = CHORD_ERROR) -> list[Point]:
        """Return points round the circle, the first again at the end."""
        return arc(self.centre, self.radius, 0, 360).points(chord_error)

    @property
    def bounds(self) -> Bounds:
        """The box round the circle."""
        (x, y), r = self.centre, self.radius
        return Bounds(x - r, y - r, x + r, y + r)


Shape = Path | Circle


def _along_arc(start: Point, step: ArcTo, chord_error: float) -> list[Point]:
    """Return the points between the ends of an arc."""
    count, point = _divided(start, step, chord_error)
    return [point(number) for number in range(1, count)]


def _divided(start: Point, step: ArcTo, chord_error: float) -> tuple[int, Callable[[int], Point]]:
    """Return into how many chords an arc is divided, and what gives the point after so many.

    A chord of angle a leaves the arc by r(1 - cos(a/2)).
    """
    radius = step.radius
    if radius <= chord_error:
        return 1, lambda number: step.end
    sweep = step.sweep(start)
    count = math.ceil(abs(sweep) / (2 * math.acos(1 - chord_error / radius)))
    begin = math.atan2(start.y - step.centre.y, start.x - step.centre.x)
    return count, lambda number: on_circle(step.centre, radius, math.degrees(begin + sweep * number / count))


def _outermost(start: Point, step: ArcTo) -> list[Point]:
    """Return those points between the ends of an arc that lie furthest out: beside each quarter of the circle."""
    count, point = _divided(start, step, CHORD_ERROR)
    if count < 2:
        return []
    begin, sweep = math.atan2(start.y - step.centre.y, start.x - step.centre.x), step.sweep(start)
    quarters = (((turn * math.tau / 4 - begin) / sweep) * count for turn in range(-6, 7))
    beside = {near for at in quarters if -1 < at < count for near in (math.floor(at), math.ceil(at))}
    return [point(number) for number in beside if 0 < number < count]


def scaled_point(point: Point, by: float) -> Point:
    """Return a point this much further from the origin."""
    return Point(point.x * by, point.y * by)


_Shape = TypeVar("_Shape", Path, Circle, Path | Circle)


def scaled(shape: _Shape, by: float) -> _Shape:
    """Return a shape made larger or smaller about the origin."""
    if isinstance(shape, Circle):
        return Circle(scaled_point(shape.centre, by), shape.radius * by)
    steps = tuple(
        ArcTo(scaled_point(s.end, by), scaled_point(s.centre, by), s.anticlockwise)
        if isinstance(s, ArcTo)
        else LineTo(scaled_point(s.end, by))
        for s in shape.steps
    )
    return Path(scaled_point(shape.start, by), steps, shape.closed)


def on_circle(centre: Point, radius: float, angle: float) -> Point:
    """Return the point of a circle at an angle in degrees."""
    turn = math.radians(angle)
    return Point(centre.x + radius * math.cos(turn), centre.y + radius * math.sin(turn))


def line(*points: tuple[float, float]) -> Path:
    """Return the open line through these points."""
    first, *rest = (Point(*p) for p in points)
    return Path(first, tuple(LineTo(p) for p in rest))


def polygon(*points: tuple[float, float]) -> Path:
    """Return the closed outline through these points."""
    outline = line(*points)
    return Path(outline.start, outline.steps, closed=True)


def rectangle(left: float, bottom: float, right: float, top: float) -> Path:
    """Return an upright rectangle."""
    return polygon((left, bottom), (right, bottom), (right, top), (left, top))


def break_line(start: Point, end: Point, share: float = 0.5) -> Path:
    """Return the line where a piece goes on beyond its view, with the zigzag of ISO 128 at a share of its length."""
    along = math.dist(start, end)
    ux, uy = (end.x - start.x) / along, (end.y - start.y) / along
    reach = min(3.0, along / 4)
    aside = reach / 2

    def at(forward: float, sideways: float) -> Point:
        forward += share * along
        return start.moved(ux * forward - uy * sideways, uy * forward + ux * sideways)

    return line(start, at(-reach, 0), at(-reach / 3, aside), at(reach / 3, -aside), at(reach, 0), end)


def arc(centre: tuple[float, float], radius: float, from_angle: float, to_angle: float) -> Path:
    """Return an arc between two angles in degrees; it runs anticlockwise where `to_angle` is the larger."""
    middle = Point(*centre)
    return Path(
        on_circle(middle, radius, from_angle),
        (ArcTo(on_circle(middle, radius, to_angle), middle, to_angle > from_angle),),
    )


# -- parts -------------------------------------------------------------------------------------------------------


class Kind(Enum):
    """What a line means. How wide and how broken it is drawn is the draughtsman's business, not the jig's."""

    EDGE = "edge"
    HIDDEN = "hidden edge"
    CENTRE = "centre line"
    NARROW = "narrow"
    NEIGHBOUR = "neighbouring part"
    REFERENCE = "reference edge"
    BREAK = "break line"
    """Where a piece goes on beyond its view: drawn as a narrow line, and nothing that a machine follows."""


class Line(Record):
    """A shape and what it means."""

    shape: Shape
    kind: Kind = Kind.EDGE


class Colour(NamedTuple):
    """A colour in sRGB (IEC 61966-2-1), each part from 0 to 255."""

    red: int
    green: int
    blue: int

    def times(self, share: float) -> Colour:
        """Return the colour darkened to a share of what it is."""
        return Colour(*(round(part * share) for part in self))

    @property
    def code(self) -> str:
        """The colour as SVG writes it: `#ce8a5c`."""
        return "#{:02x}{:02x}{:02x}".format(*self)


class Tinted(Record):
    """A shape in a colour: filled where it is an area of a part, a fine line where it is of its grain."""

    shape: Path
    colour: Colour


class Hole(Record):
    """A round hole; it is drawn with its centre lines, and its diameter is written where `name` is given."""

    centre: Point
    radius: float
    name: str = ""


class Part(Record):
    """A piece of wood, or one thing on it. Drawn as a group of its own with the id `<jig>-<name>`."""

    name: str
    title: str
    lines: tuple[Line, ...] = ()
    holes: tuple[Hole, ...] = ()
    hatched: tuple[Path, ...] = ()
    arrows: tuple[tuple[Point, Point], ...] = ()
    covers: tuple[Path | Circle, ...] = ()
    """What of it hides the parts before it: in a picture a thing that lies on others."""
    fills: tuple[Tinted, ...] = ()
    """Areas in colour under its lines. One after another of a colour are one area: holes in it turn the other way."""
    grain: tuple[Tinted, ...] = ()
    """Fine lines on these, kept off the words."""

    @property
    def bounds(self) -> Bounds:
        """The box round everything drawn."""
        return around(
            [line.shape.bounds for line in self.lines]
            + [Circle(hole.centre, hole.radius).bounds for hole in self.holes]
            + [path.bounds for path in self.hatched]
            + [line(*arrow).bounds for arrow in self.arrows]
            + [path.bounds for path in self.covers]
            + [fill.shape.bounds for fill in self.fills]
        )

    def scaled(self, by: float) -> Part:
        """Return the part made larger or smaller about the origin."""
        return replace(
            self,
            lines=tuple(Line(scaled(drawn.shape, by), drawn.kind) for drawn in self.lines),
            holes=tuple(replace(h, centre=scaled_point(h.centre, by), radius=h.radius * by) for h in self.holes),
            hatched=tuple(scaled(path, by) for path in self.hatched),
            arrows=tuple((scaled_point(tail, by), scaled_point(tip, by)) for tail, tip in self.arrows),
            covers=tuple(scaled(path, by) for path in self.covers),
            fills=tuple(Tinted(scaled(fill.shape, by), fill.colour) for fill in self.fills),
            grain=tuple(Tinted(scaled(line.shape, by), line.colour) for line in self.grain),
        )

    def moved(self, across: float, up: float) -> Part:
        """Return the part this much further right and up."""
        return replace(
            self,
            lines=tuple(Line(drawn.shape.moved(across, up), drawn.kind) for drawn in self.lines),
            holes=tuple(replace(hole, centre=hole.centre.moved(across, up)) for hole in self.holes),
            hatched=tuple(path.moved(across, up) for path in self.hatched),
            arrows=tuple((tail.moved(across, up), tip.moved(across, up)) for tail, tip in self.arrows),
            covers=tuple(path.moved(across, up) for path in self.covers),
            fills=tuple(Tinted(fill.shape.moved(across, up), fill.colour) for fill in self.fills),
            grain=tuple(Tinted(line.shape.moved(across, up), line.colour) for line in self.grain),
        )


class Piece(Record):
    """What a machine cuts of a view: the closed edge all round, and openings inside it.

    Round holes that are drawn inside the edge are openings without being named.
    """

    outline: Path | Circle
    openings: tuple[Path | Circle, ...] = ()


Side = Literal["above", "below", "left", "right"]


class Dimension(Record):
    """A measured distance. The number is read from the two points, so it can't lie.

    `side` says where the dimension line stands: above and below measure across, left and right measure up. `setting`
    names the row of the card's settings that it shows; `scale` is that of the picture it stands in. A `gauged` one
    is set by a gauge and read out so finely; any other is laid out with a rule.
    """

    start: Point
    end: Point
    side: Side
    name: str = ""
    setting: str = ""
    scale: float = 1.0
    gauged: bool = False

    @property
    def value(self) -> float:
        """The distance in mm, along the direction of measuring."""
        if self.side in ("above", "below"):
            return abs(self.end.x - self.start.x) / self.scale
        return abs(self.end.y - self.start.y) / self.scale


class Label(Record):
    """Words about one place. Written on the place itself, or beside it with a leader.

    One of a `setting` is a balloon: the number of that row of the card's settings in a ring.
    """

    words: Words
    at: Point
    leader: bool = True
    towards: Side | None = None
    height: float = 2.5
    setting: str = ""
    bold: bool = False


def balloon(setting: str, at: tuple[float, float], towards: Side | None = None) -> Label:
    """Return the balloon of a setting at the place that it sets."""
    return Label("", Point(*at), towards=towards, setting=setting)


class View(Record):
    """Parts seen from one side, in one system of axes, with what is written on them; kept together on the page.

    `check` names one of the dimensions as the number to hold a ruler to. `detail` is the view to draw instead where
    the page can't hold this one: it must show every critical distance. Where there is none the view is shared between
    pages, and `critical` is the part that stays on one of them. A view that is not `to_scale` is a picture.

    `piece` is what a machine cuts of a template, in the axes of this view, and is asked of the whole one, never of a
    detail. Where it is not given the largest closed edge is the outline.
    """

    name: str
    title: Words
    parts: tuple[Part, ...]
    dimensions: tuple[Dimension, ...] = ()
    labels: tuple[Label, ...] = ()
    check: Dimension | None = None
    detail: View | None = None
    critical: Bounds | None = None
    to_scale: bool = True
    piece: Piece | None = None

    @property
    def bounds(self) -> Bounds:
        """The box round its bare parts and what is measured on them."""
        measured = [Bounds(*p, *p) for d in self.dimensions for p in (d.start, d.end)]
        return around([*(part.bounds for part in self.parts), *measured])

    def scaled(self, by: float) -> View:
        """Return the view as a picture this much larger or smaller; its dimensions read what they did."""

        def point(p: Point) -> Point:
            return scaled_point(p, by)

        return replace(
            self,
            parts=tuple(part.scaled(by) for part in self.parts),
            dimensions=tuple(
                replace(d, start=point(d.start), end=point(d.end), scale=d.scale * by) for d in self.dimensions
            ),
            labels=tuple(replace(label, at=point(label.at)) for label in self.labels),
            check=None,
            to_scale=False,
            piece=None,
        )


Cell = str | float | Words | None
"""A table cell: words, a length in mm, or None for a box to write in."""


class Table(Record):
    """Rows of words and numbers."""

    name: str
    title: Words
    headings: tuple[str, ...]
    rows: tuple[tuple[Cell, ...], ...]


class Notes(Record):
    """Paragraphs to read at the bench."""

    name: str
    title: Words
    paragraphs: tuple[Words, ...]


Item = View | Table | Notes
"""What a drawing is made up of."""


class Drawing(Record):
    """One sheet's worth: views, tables and notes in reading order, and the cautions for its operation.

    `jig` is the family that its parts are named after, `<jig>-<part>`; empty where one jig draws all of a job.
    """

    name: str
    title: Words
    purpose: Words
    body: tuple[Item, ...]
    cautions: tuple[str, ...]
    jig: str = ""


def lines(shapes: Sequence[Shape], kind: Kind = Kind.EDGE) -> tuple[Line, ...]:
    """Return shapes as lines of one kind."""
    return tuple(Line(shape, kind) for shape in shapes)
