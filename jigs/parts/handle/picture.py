"""Pictures of drilling the handle, not to scale: the drill press from above, and how deep the saw goes."""

from __future__ import annotations

from jigs.base.drawing import Circle, Kind, Label, Line, Part, Point, View, line, lines, polygon, rectangle

_SAW = Point(14.0, 3.0)
_PILOT = polygon((-1.5, 24), (-1.5, -5.5), (0, -7), (1.5, -5.5), (1.5, 24))


def drilling() -> View:
    """Return the drill press from above: fence away from the operator, stop at the right, clamps on the far half."""
    table = Part("press-table", "Table of the drill press", (Line(rectangle(-56, -40, 56, 34), Kind.NARROW),))
    waste = Part("press-waste", "Waste block", (Line(rectangle(-46, -26, 34, 20), Kind.NARROW),))
    fence, stop = rectangle(-52, 20, 52, 27), rectangle(34, 6, 41, 20)
    blank = Part(
        "press-blank",
        "Blank",
        (Line(line((-40, 20), (-40, -16), (34, -16), (34, 20))), Line(line((-40, 20), (34, 20)), Kind.REFERENCE)),
    )
    saw = Part(
        "press-saw",
        "Hole saw",
        (
            Line(Circle(_SAW, 11.0)),
            *lines([line((_SAW.x - 14, _SAW.y), (_SAW.x + 14, _SAW.y)), line((14, -11), (14, 17))], Kind.CENTRE),
        ),
    )
    pads = [Circle(Point(-30, y), 4.5) for y in (11, -7)]
    clamps = Part("press-clamps", "Clamps", (*lines(pads), *lines([line((-34.5, y), (-62, y)) for y in (11, -7)])))
    parts = (
        table,
        waste,
        Part("press-fence", "Fence", (Line(fence),), hatched=(fence,)),
        Part("press-stop", "Stop", (Line(stop),), hatched=(stop,)),
        blank,
        saw,
        clamps,
        Part("press-room", "No clamp inside", (Line(Circle(_SAW, 28.0), Kind.NEIGHBOUR),)),
    )
    labels = (
        Label("you stand here; both hands off the blank", Point(0, -33), leader=False),
        Label("fence, clamped to the table", Point(-10, 23.5), towards="above"),
        Label("stop", Point(37.5, 13), towards="right"),
        Label("hole saw", Point(6, -5), towards="left"),
        Label("foot to the fence", Point(-18, 20), towards="below"),
        Label("clamp", Point(-30, 11), towards="left"),
        Label("clamp", Point(-30, -7), towards="left"),
        Label("waste block underneath", Point(-43, -22), towards="left"),
        Label("no clamp pad inside this circle", Point(34, -17), towards="right"),
    )
    return View("press", "Drill press from above", parts, labels=labels, to_scale=False)


def depth(*, pilot: bool) -> View:
    """Return blank and waste block cut through under the saw, at the end of its travel, with or without its pilot."""
    blank, waste = rectangle(-30, 0, 30, 14), rectangle(-36, -10, 36, 0)
    walls = [rectangle(x, -2.5, x + 2, 24) for x in (-13, 11)]
    parts = (
        Part("depth-waste", "Waste block", (Line(waste),), hatched=(waste,)),
        Part("depth-blank", "Blank", (Line(blank),)),
        Part("depth-saw", "Hole saw", lines(walls)),
        *((Part("depth-pilot", "Pilot drill", lines([_PILOT])),) if pilot else ()),
        Part("depth-middle", "Middle of the thickness", (Line(line((-30, 7), (30, 7)), Kind.CENTRE),)),
    )
    labels = (
        Label("hole saw" if pilot else "hole saw, no pilot drill", Point(12, 20), towards="right"),
        *((Label("pilot drill, in the core", Point(0, 20), towards="left"),) if pilot else ()),
        Label("middle of the thickness", Point(26, 7), towards="right"),
        Label("depth stop: into the waste", Point(12, -2.5), towards="right"),
        Label("core", Point(6.5, 10.5), leader=False),
    )
    return View("depth", "Depth, cut through", parts, labels=labels, to_scale=False)
