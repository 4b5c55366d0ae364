"""How a scalloped edge is drilled, seen from above."""

from __future__ import annotations

from jigs.base import drawing as draw


def picture() -> draw.View:
    """The drill press from above, the edge towards the fence's side with the waste block between."""
    fence = draw.rectangle(-55, 24, 55, 31)
    saw = draw.Point(6.0, 4.0)
    parts = (
        draw.Part(
            "press-table", "Table of the drill press", (draw.Line(draw.rectangle(-60, -42, 60, 38), draw.Kind.NARROW),)
        ),
        draw.Part("press-fence", "Fence", (draw.Line(fence),), hatched=(fence,)),
        draw.Part("press-block", "Waste block", draw.lines([draw.rectangle(-48, 4, 48, 24)])),
        draw.Part(
            "press-board",
            "Board",
            (
                draw.Line(draw.line((-48, 4), (-48, -24), (48, -24), (48, 4))),
                draw.Line(draw.line((-48, 4), (48, 4)), draw.Kind.REFERENCE),
            ),
        ),
        *(
            draw.Part(f"press-hole-{i}", "Hole drilled", (draw.Line(_arc_below(x), draw.Kind.EDGE),))
            for i, x in enumerate((-28.0, -11.0))
        ),
        draw.Part("press-saw", "Hole saw", holes=(draw.Hole(saw, 11.0),)),
        draw.Part("press-clamps", "Clamps", draw.lines([_pad(x) for x in (-38.0, 40.0)])),
        draw.Part("press-feed", "Order", arrows=((draw.Point(-20, -32), draw.Point(12, -32)),)),
    )
    labels = (
        draw.Label("you stand here", draw.Point(-36, -36), leader=False),
        draw.Label("fence", draw.Point(-20, 27.5), towards="above"),
        draw.Label("waste block on the edge", draw.Point(30, 18), towards="right"),
        draw.Label("hole saw", draw.Point(12, -2), towards="right"),
        draw.Label("clamp", draw.Point(-38, -16), towards="left"),
        draw.Label("clamp", draw.Point(40, -16), towards="right"),
        draw.Label("in this order", draw.Point(0, -32), towards="below"),
    )
    return draw.View("press", "Drill press from above", parts, labels=labels, to_scale=False)


def _arc_below(x: float) -> draw.Path:
    return draw.Path(draw.Point(x - 11, 4), (draw.ArcTo(draw.Point(x + 11, 4), draw.Point(x, 4), True),))


def _pad(x: float) -> draw.Path:
    return draw.rectangle(x - 4, -20, x + 4, -12)
