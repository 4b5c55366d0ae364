"""Pictures of drilling the handle, not to scale: the drill press from above, and how deep the saw goes."""

from __future__ import annotations

from jigs.base import drawing as draw

_SAW = draw.Point(14.0, 3.0)
_PILOT = draw.polygon((-1.5, 24), (-1.5, -5.5), (0, -7), (1.5, -5.5), (1.5, 24))


def drilling() -> draw.View:
    """Return the drill press from above: fence away from the operator, stop at the right, clamps on the far half."""
    table = draw.Part(
        "press-table", "Table of the drill press", (draw.Line(draw.rectangle(-56, -40, 56, 34), draw.Kind.NARROW),)
    )
    waste = draw.Part("press-waste", "Waste block", (draw.Line(draw.rectangle(-46, -26, 34, 20), draw.Kind.NARROW),))
    fence, stop = draw.rectangle(-52, 20, 52, 27), draw.rectangle(34, 6, 41, 20)
    blank = draw.Part(
        "press-blank",
        "Blank",
        (
            draw.Line(draw.line((-40, 20), (-40, -16), (34, -16), (34, 20))),
            draw.Line(draw.line((-40, 20), (34, 20)), draw.Kind.REFERENCE),
        ),
    )
    axes = [draw.line((_SAW.x - 14, _SAW.y), (_SAW.x + 14, _SAW.y)), draw.line((14, -11), (14, 17))]
    saw = draw.Part("press-saw", "Hole saw", (draw.Line(draw.Circle(_SAW, 11.0)), *draw.lines(axes, draw.Kind.CENTRE)))
    pads = [draw.Circle(draw.Point(-30, y), 4.5) for y in (11, -7)]
    clamps = draw.Part(
        "press-clamps", "Clamps", (*draw.lines(pads), *draw.lines([draw.line((-34.5, y), (-62, y)) for y in (11, -7)]))
    )
    parts = (
        table,
        waste,
        draw.Part("press-fence", "Fence", (draw.Line(fence),), hatched=(fence,)),
        draw.Part("press-stop", "Stop", (draw.Line(stop),), hatched=(stop,)),
        blank,
        saw,
        clamps,
        draw.Part("press-room", "No clamp inside", (draw.Line(draw.Circle(_SAW, 28.0), draw.Kind.NEIGHBOUR),)),
    )
    labels = (
        draw.Label("you stand here; both hands off the blank", draw.Point(0, -33), leader=False),
        draw.Label("fence, clamped to the table", draw.Point(-10, 23.5), towards="above"),
        draw.Label("stop", draw.Point(37.5, 13), towards="right"),
        draw.Label("hole saw", draw.Point(6, -5), towards="left"),
        draw.Label("foot to the fence", draw.Point(-18, 20), towards="below"),
        draw.Label("clamp", draw.Point(-30, 11), towards="left"),
        draw.Label("clamp", draw.Point(-30, -7), towards="left"),
        draw.Label("waste block underneath", draw.Point(-43, -22), towards="left"),
        draw.Label("no clamp pad inside this circle", draw.Point(34, -17), towards="right"),
    )
    return draw.View("press", "Drill press from above", parts, labels=labels, to_scale=False)


def depth(*, pilot: bool) -> draw.View:
    """Return blank and waste block cut through under the saw, at the end of its travel, with or without its pilot."""
    blank, waste = draw.rectangle(-30, 0, 30, 14), draw.rectangle(-36, -10, 36, 0)
    walls = [draw.rectangle(x, -2.5, x + 2, 24) for x in (-13, 11)]
    parts = (
        draw.Part("depth-waste", "Waste block", (draw.Line(waste),), hatched=(waste,)),
        draw.Part("depth-blank", "Blank", (draw.Line(blank),)),
        draw.Part("depth-saw", "Hole saw", draw.lines(walls)),
        *((draw.Part("depth-pilot", "Pilot drill", draw.lines([_PILOT])),) if pilot else ()),
        draw.Part(
            "depth-middle", "Middle of the thickness", (draw.Line(draw.line((-30, 7), (30, 7)), draw.Kind.CENTRE),)
        ),
    )
    labels = (
        draw.Label("hole saw" if pilot else "hole saw, no pilot drill", draw.Point(12, 20), towards="right"),
        *((draw.Label("pilot drill, in the core", draw.Point(0, 20), towards="left"),) if pilot else ()),
        draw.Label("middle of the thickness", draw.Point(26, 7), towards="right"),
        draw.Label("depth stop: into the waste", draw.Point(12, -2.5), towards="right"),
        draw.Label("core", draw.Point(6.5, 10.5), leader=False),
    )
    return draw.View("depth", "Depth, cut through", parts, labels=labels, to_scale=False)
