"""All that a writer may see: pens, strokes, circles, texts, groups of them, and the sheet they are on.

Everything hard is settled above this border. A writer changes units and syntax and nothing else.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Literal

from jigs.base.drawing import Bounds, Circle, Colour, Path, Point, scaled, scaled_point
from jigs.record import Record, replace
from layout.sheet import lettering
from layout.sheet.carried import Carried
from layout.sheet.paper import Paper

Matrix = tuple[tuple[float, float], tuple[float, float]]
"""Two rows: (x, y) goes to (a·x + b·y, c·x + d·y)."""

UNCHANGED: Matrix = ((1.0, 0.0), (0.0, 1.0))


class Pen(Record):
    """How a line is drawn: width and dashes in mm (ISO 128), or a filled area. Black where it has no `colour`."""

    name: str
    width: float
    dashes: tuple[float, ...] = ()
    filled: bool = False
    colour: Colour | None = None


_WIDE, _NARROW = 0.5, 0.25
EDGE = Pen("edge", _WIDE)
REFERENCE = Pen("reference", 0.7)
NARROW = Pen("narrow", _NARROW)
HATCH = Pen("hatch", 0.18)
FINE = Pen("fine", 0.13)
HIDDEN = Pen("hidden", _NARROW, (3.0, 0.75))
CENTRE = Pen("centre", _NARROW, (6.0, 0.75, 0.25, 0.75))
NEIGHBOUR = Pen("neighbour", _NARROW, (6.0, 0.75, 0.25, 0.75, 0.25, 0.75))
RULE = Pen("rule", 0.35)
SOLID = Pen("solid", 0.0, filled=True)
BAR = Pen("bar", 0.0, filled=True)
"""Black that words stand on in white; with thin ink it is an outline."""
PAPER = Pen("paper", 0.0, filled=True)
"""White: it hides what lies below."""
"""The pens. Wide to narrow is 2:1; dash lengths are those of ISO 128 for the narrow line."""


def fill(colour: Colour) -> Pen:
    """Return the pen that fills an area with a colour."""
    return Pen(f"fill {colour.code}", 0.0, filled=True, colour=colour)


def grain(colour: Colour) -> Pen:
    """Return the pen of the grain of wood, in a colour."""
    return Pen(f"grain {colour.code}", 0.13, colour=colour)


class Stroke(Record):
    """A path or a circle, drawn with a pen."""

    shape: Path | Circle
    pen: Pen

    def moved(self, across: float, up: float) -> Stroke:
        """Return the stroke this much further right and up."""
        return Stroke(self.shape.moved(across, up), self.pen)


class Text(Record):
    """One line of words from a baseline point. `upright` words run up the page, read from the right."""

    at: Point
    words: str
    height: float
    anchor: Literal["start", "middle", "end"] = "start"
    upright: bool = False
    bold: bool = False
    white: bool = False
    ring: float = 0.0
    """Radius of the ring round it, mm, 0 for none: the balloon of a setting."""
    colour: Colour | None = None
    """Of a picture on a screen; on paper words are black, or white on a bar."""

    @property
    def box(self) -> Bounds:
        """The box the words fill, their ring included."""
        if self.ring:
            x, y, r = self.at.x, self.at.y + self.height / 2, self.ring
            return Bounds(x - r, y - r, x + r, y + r)
        return lettering.box(self.at, self.words, self.height, self.anchor, self.upright, self.bold)

    def moved(self, across: float, up: float) -> Text:
        """Return the words this much further right and up."""
        return replace(self, at=self.at.moved(across, up))

    def circle(self) -> Circle:
        """Return the ring round it."""
        return Circle(Point(self.at.x, self.at.y + self.height / 2), self.ring)


class Group(Record):
    """Marks that belong together, under one id and one title. Lines are drawn within `clip` where there is one."""

    name: str
    title: str
    strokes: tuple[Stroke, ...] = ()
    texts: tuple[Text, ...] = ()
    clip: Bounds | None = None

    def moved(self, across: float, up: float) -> Group:
        """Return the group this much further right and up."""
        return Group(
            self.name,
            self.title,
            tuple(stroke.moved(across, up) for stroke in self.strokes),
            tuple(text.moved(across, up) for text in self.texts),
            self.clip and self.clip.moved(across, up),
        )

    def scaled(self, by: float) -> Group:
        """Return the group made larger or smaller about the corner of the page, letters and lines with it."""
        pens = {stroke.pen: replace(stroke.pen, width=round(stroke.pen.width * by, 3)) for stroke in self.strokes}
        return replace(
            self,
            strokes=tuple(Stroke(scaled(stroke.shape, by), pens[stroke.pen]) for stroke in self.strokes),
            texts=tuple(
                replace(t, at=scaled_point(t.at, by), height=t.height * by, ring=t.ring * by) for t in self.texts
            ),
            clip=self.clip and Bounds(*(side * by for side in self.clip)),
        )

    def by_pen(self) -> dict[Pen, list[Path | Circle]]:
        """Return the shapes of each pen, in the order drawn: a writer makes one path of each."""
        shapes: dict[Pen, list[Path | Circle]] = {}
        for stroke in self.strokes:
            shapes.setdefault(stroke.pen, []).append(stroke.shape)
        return shapes


class Layer(Record):
    """Groups that are read together: what is cut, what is written on it, the proof, the frame."""

    name: str
    title: str
    groups: tuple[Group, ...]


class Sheet(Record):
    """One page: everything on it, in mm from its lower left corner."""

    name: str
    title: str
    paper: Paper
    layers: tuple[Layer, ...]
    number: int
    count: int
    mark: str = ""
    """Made from what is drawn on it: a page that comes out the same keeps it."""

    def groups(self) -> Iterator[Group]:
        """Go through the groups of every layer."""
        for layer in self.layers:
            yield from layer.groups


def corrected(paper: Paper, correction: Matrix) -> tuple[float, float, float, float, float, float]:
    """Return the correction of one page as (a, b, c, d, e, f): x' = a x + c y + e, y' = b x + d y + f, y up.

    The middle of the page stays where it is. A page that lies on its side is turned to print: it is turned first and
    corrected last, and a quarter turn R makes R⁻¹·B·R of B, the same to the left as to the right.
    """
    (p, q), (r, s) = correction
    if paper.width > paper.height:
        p, q, r, s = s, -r, -q, p
    x, y = paper.width / 2, paper.height / 2
    return p, r, q, s, x - p * x - q * y, y - r * x - s * y


class Bundle(Record):
    """Sheets that go into one file, and what the file says of itself.

    `correction` undoes what the printer does, in printer axes; a writer sets it once a page. `carried` is what
    the sheets were made from, for the file to give back. What is `to_scale` asks to be printed unscaled on one side,
    anything else on both.
    """

    name: str
    title: str
    subject: str
    keywords: str
    sheets: tuple[Sheet, ...]
    correction: Matrix = UNCHANGED
    carried: Carried | None = None
    to_scale: bool = True
