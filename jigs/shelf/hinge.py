"""A template for the recess of a hinge leaf, followed by a router with a bush or a bearing."""

from __future__ import annotations

from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Length
from jigs.base.rules import Problem, note, stop
from jigs.base.usual import Usual
from jigs.base.wording import at_least, at_most, say
from jigs.trade.fingers import TOUCH
from jigs.trade.hinge import Recess, recess, recess_depth

BORDER = 30.0
"""Wood left round the opening for the router's base to stand on, mm (common practice, no source)."""
FENCE = 20.0
"""Depth of the fence that is screwed under the template, along the edge of the box, mm."""


@jig("hinge", title="Hinge-recess template", summary="guides a router round a leaf's recess")
def hinge(
    *,
    leaf_length: Annotated[float, Length("length of the leaf, along the edge", 8, 300)],
    leaf_depth: Annotated[float, Length("depth of the leaf, from the edge of the box", 4, 100)],
    bush: Annotated[float, Length("outside of the guide bush, or bearing", 3, 60)],
    cutter: Annotated[float, Length("cutter", 2, 40)],
    closed: Annotated[float, Length("thickness of the closed hinge", 0.5, 30)],
    gap: Annotated[float, Length("gap to be left between lid and box", 0, 5)] = Usual(0.4, 1 / 64).default,
    set_back: Annotated[float, Length("from the end of the box to the leaf", 5, 1000)] = Usual(25, 1).default,
    plate: Annotated[float, Length("thickness of the template", 3, 20)] = Usual(6, 1 / 4).default,
) -> Plan:
    """The template at full size, with the fence, the opening and the recess that comes of it.

    Example: --leaf-length 50 --leaf-depth 16 --bush 15.88 --cutter 6.35 --closed 3.2

    Sources: The offset of a guide bush is derived in `jigs/trade/hinge.py`. Border and fence: common practice, no
    source.
    """
    refuse(_problems(leaf_length, leaf_depth, bush, cutter, closed, gap))
    made = recess(leaf_length=leaf_length, leaf_depth=leaf_depth, bush=max(bush, cutter), cutter=cutter)
    deep = recess_depth(closed=closed, gap=gap)
    numbers = {
        "offset": made.offset,
        "opening": made.opening,
        "opening_depth": made.depth,
        "recess_depth": deep,
        "cutter_below_base": plate + deep,
        "corner_radius_in_wood": made.wood_radius,
    }
    title = say("Template for a hinge leaf of {long} by {deep}", long=leaf_length, deep=leaf_depth)
    sheet = _sheet(made, deep, leaf_length, leaf_depth, set_back, plate)
    return Plan(title, numbers, (sheet,), tuple(_notes(made)))


def _problems(
    leaf_length: float, leaf_depth: float, bush: float, cutter: float, closed: float, gap: float
) -> list[Problem]:
    found = []
    if bush < cutter - TOUCH:
        said = "a bush of {bush} is smaller than the cutter of {cutter}, which would cut the template"
        sizes = {"bush": bush, "cutter": cutter, "works": at_least(cutter)}
        found.append(stop("bush", said, "a bush of {works} at least", **sizes))
    leaf = min(leaf_length, leaf_depth)
    if cutter > leaf + TOUCH:
        numbers = {"cutter": cutter, "leaf": leaf, "most": at_most(leaf)}
        said = "a cutter of {cutter} does not go into a recess of {leaf}"
        found.append(stop("cutter", said, "a cutter of {most} at most", **numbers))
    if gap >= closed - TOUCH:
        said = "a gap of {gap} is as wide as the closed hinge of {closed}: it needs no recess"
        numbers = {"gap": gap, "closed": closed, "most": at_most(closed)}
        found.append(stop("gap", said, "a gap of {most} at most", **numbers))
    return found


def _notes(made: Recess) -> list[Problem]:
    said = "the cutter leaves corners of radius {radius}, and a leaf's are square"
    return [note("cutter", said, "square them with a chisel to the knife line", radius=made.wood_radius)]


def _sheet(
    made: Recess, deep: float, leaf_length: float, leaf_depth: float, set_back: float, plate: float
) -> draw.Drawing:
    table = draw.Table(
        "settings",
        "Settings, in this order",
        ("", "Setting", "Value", "Set with"),
        (
            ("1", "Bush outside, measured", 2 * made.template_radius, "callipers"),
            ("2", "Cutter, measured in scrap", 2 * made.wood_radius, "callipers"),
            ("3", "Cutter below the router's base", plate + deep, "gauge block, the plate and the leaf on it"),
            ("4", "Recess, from the face of the wood", deep, "callipers in scrap"),
            ("5", "Leaf from the end of the box", set_back, "rule"),
        ),
    )
    notes = draw.Notes(
        "notes",
        "How to use it",
        (
            "Saw and file the opening to the line, then try the template on scrap with the hinge in hand. Screw the "
            "fence under it along the reference edge: it hangs on the edge of the box.",
            "Knife round the leaf first. Clamp template and box together; move the router clockwise round the "
            "opening, the bush on the template all the way. Let it stop before it is lifted.",
            "Both leaves are let in by the same depth; hang the lid on one screw a leaf and try it before the rest.",
        ),
    )
    purpose = "template for a hand-held router: edge of the box along the reference edge, fence below it"
    return draw.Drawing(
        "template",
        "hinge template",
        purpose,
        (_view(made, leaf_length, leaf_depth), table, notes),
        (cautions.GENERAL, cautions.ROUTER, cautions.PAPER),
    )


def _view(made: Recess, leaf_length: float, leaf_depth: float) -> draw.View:
    """The template from above: the edge of the box at y = 0, the leaf in the middle."""
    half, outer = made.opening / 2, made.opening / 2 + BORDER
    opening = draw.Part("opening", "Opening", (draw.Line(_opening(made)),))
    leaf = draw.Part(
        "leaf",
        "Recess",
        draw.lines([draw.rectangle(-leaf_length / 2, 0, leaf_length / 2, leaf_depth)], draw.Kind.NEIGHBOUR),
    )
    outline = draw.Part(
        "template",
        "Template",
        (
            draw.Line(draw.rectangle(-outer, -FENCE, outer, made.depth + BORDER)),
            draw.Line(draw.line((-outer, 0), (outer, 0)), draw.Kind.REFERENCE),
            *draw.lines([draw.line((0, 0), (0, made.depth + BORDER))], draw.Kind.CENTRE),
        ),
    )
    across = draw.Dimension(draw.Point(-half, made.depth), draw.Point(half, made.depth), "above", "opening")
    dimensions = (
        across,
        draw.Dimension(draw.Point(outer, 0), draw.Point(half, made.depth), "right", "back"),
        draw.Dimension(draw.Point(-leaf_length / 2, 0), draw.Point(leaf_length / 2, 0), "below", "leaf"),
    )
    labels = (
        draw.Label("fence below", draw.Point(14 - outer, -FENCE / 2), leader=False),
        draw.Label("recess", draw.Point(leaf_length / 4, leaf_depth), towards="above"),
    )
    return draw.View("template", "Template from above", (outline, opening, leaf), dimensions, labels, check=across)


def _opening(made: Recess) -> draw.Path:
    """The opening, its far corners rounded by the bush, from one end of the box's edge to the other."""
    half, high = made.opening / 2, made.depth
    radius = min(made.template_radius, half, high)
    right, left = draw.Point(half - radius, high - radius), draw.Point(-half + radius, high - radius)
    return draw.Path(
        draw.Point(-half, 0),
        (
            draw.LineTo(draw.Point(half, 0)),
            draw.LineTo(draw.Point(half, right.y)),
            draw.ArcTo(draw.Point(right.x, high), right, anticlockwise=True),
            draw.LineTo(draw.Point(left.x, high)),
            draw.ArcTo(draw.Point(-half, left.y), left, anticlockwise=True),
        ),
        closed=True,
    )
