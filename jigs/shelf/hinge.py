"""A template for the recess of a hinge leaf, followed by a router with a bush or a bearing."""

from __future__ import annotations

from typing import Annotated

from jigs.base import drawing as draw
from jigs.base.cards import (
    Beside,
    Card,
    Caution,
    Check,
    Checks,
    Hold,
    Order,
    Pictures,
    Setting,
    Settings,
    Sheets,
    Template,
)
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Length
from jigs.base.rules import Problem, stop
from jigs.base.usual import Usual
from jigs.base.wording import Words, at_least, at_most, say
from jigs.record import Record
from jigs.things import plan as above
from jigs.things import section
from jigs.trade.fingers import TOUCH
from jigs.trade.hinge import Recess, recess, recess_depth

BORDER = 30.0
"""Wood left round the opening for the router's base to stand on, mm (common practice, no source)."""
FENCE = 20.0
"""Depth of the fence that is screwed under the template, along the edge of the box, mm: more for a wide bush."""
FRONT = 12.0
"""Wood of the template left in front of the opening, mm (common practice, no source)."""
BASE, GRIP = 75.0, 100.0
"""Radius of the router's base in the pictures, and from its middle to its grips, mm."""
TRIED = 0.05
"""How near the recess in scrap must be to its depth, mm: both leaves add up (common practice, no source)."""
EASY = 0.2
"""How much longer and deeper than the leaf its recess may be, mm (common practice, no source)."""

CAUTIONS = (
    Caution("Grip", "Clamp box and template together. Keep both hands on the router."),
    Caution("Throw", "Move clockwise round the opening. The other way it runs away."),
    Caution("Lift", "Lift the router only when the cutter stands still."),
    Caution("Cutter", "Unplug to set. Push the shank home, draw it back a little, tighten."),
)


class _Asked(Record):
    """The leaf, where it goes, and the template that is worked out for it, mm."""

    leaf_length: float
    leaf_depth: float
    set_back: float
    plate: float
    made: Recess
    deep: float

    @property
    def front(self) -> float:
        """From the edge of the box to the front of the template."""
        return max(FENCE, self.made.template_radius + FRONT)

    @property
    def outer(self) -> float:
        """From the middle of the opening to the ends of the template."""
        return self.made.opening / 2 + BORDER

    @property
    def back(self) -> float:
        """From the edge of the box to the back of the template."""
        return self.made.depth + BORDER


@jig("hinge", title="Hinge-recess template", summary="guides a router round a leaf's recess")
def hinge(
    *,
    leaf_length: Annotated[float, Length("length of the leaf, along the edge", 8, 300)],
    leaf_depth: Annotated[float, Length("depth of the leaf, from the edge of the box", 4, 100)],
    bush: Annotated[float, Length("outside of the guide bush, or bearing", 3, 60)],
    cutter: Annotated[float, Length("cutter", 2, 40)],
    closed: Annotated[float, Length("thickness of the closed hinge", 0.5, 30)],
    clearance: Annotated[float, Length("clearance between the closed lid and the box", 0, 5)] = Usual(
        0.4, 1 / 64
    ).default,
    set_back: Annotated[float, Length("from the end of the box to the leaf", 5, 1000)] = Usual(25, 1).default,
    plate: Annotated[float, Length("thickness of the template", 3, 20)] = Usual(6, 1 / 4).default,
) -> Plan:
    """The template at full size, with the fence, the opening and the recess that comes of it.

    Example: --leaf-length 50 --leaf-depth 16 --bush 15.88 --cutter 6.35 --closed 3.2

    Sources: The offset of a guide bush is derived in `jigs/trade/hinge.py`. Border and fence: common practice, no
    source.
    """
    refuse(_problems(leaf_length, leaf_depth, bush, cutter, closed, clearance))
    made = recess(leaf_length=leaf_length, leaf_depth=leaf_depth, bush=max(bush, cutter), cutter=cutter)
    deep = recess_depth(closed=closed, gap=clearance)
    numbers = {
        "offset": made.offset,
        "opening": made.opening,
        "opening_depth": made.depth,
        "recess_depth": deep,
        "cutter_below_base": plate + deep,
        "corner_radius_in_wood": made.wood_radius,
    }
    title = say("Hinge leaf {long:cut} × {deep:cut}", long=leaf_length, deep=leaf_depth)
    asked = _Asked(leaf_length, leaf_depth, set_back, plate, made, deep)
    use = "Glue it on plywood. Saw and file the opening to its line. Screw the fence under it, up to the heavy line."
    sheets = Sheets((_card(asked),), (Template(_template(asked), "hinge", use, "hinge"),))
    return Plan(title, numbers, sheets)


def _problems(
    leaf_length: float, leaf_depth: float, bush: float, cutter: float, closed: float, clearance: float
) -> list[Problem]:
    found = []
    if bush < cutter - TOUCH:
        said = "a bush {bush} outside lets a cutter of {cutter} into the template"
        sizes = {"bush": bush, "cutter": cutter, "works": at_least(cutter)}
        found.append(stop("bush", said, "use a bush {works} outside or more", **sizes))
    leaf = min(leaf_length, leaf_depth)
    if cutter > leaf + TOUCH:
        numbers = {"cutter": cutter, "leaf": leaf, "most": at_most(leaf)}
        said = "a cutter of {cutter} does not go into a recess {leaf:cut} across"
        found.append(stop("cutter", said, "use a cutter of {most} or less", **numbers))
    if clearance >= closed - TOUCH:
        said = "with a clearance of {clearance} a hinge {closed} thick when closed needs no recess"
        numbers = {"clearance": clearance, "closed": closed, "most": at_most(closed)}
        found.append(stop("clearance", said, "leave a clearance of {most} or less", **numbers))
    return found


# -- the card ----------------------------------------------------------------------------------------------------------


def _card(asked: _Asked) -> Card:
    views = (_from_above(asked), _way_round(asked), _across(asked))
    bands = (
        Pictures(views, least=56.0, most=90.0, shares=(0.38, 0.26, 0.36)),
        Beside(Settings(_settings(asked)), Checks(_checks(asked), "Try it in scrap"), 0.7),
        Hold("The scrap passes, the leaf goes in by hand, all is clamped.", "hinge tried"),
        Order(_order(asked)),
    )
    return Card("hinge", "Hinge recess", "Bench, hand-held router", CAUTIONS, bands, "a pair of leaves", "hinge")


def _settings(asked: _Asked) -> tuple[Setting, ...]:
    made = asked.made
    return (
        Setting("bush", "Bush, outside", 2 * made.template_radius, 0.05, "callipers"),
        Setting("cutter", "Cutter, as it cuts", 2 * made.wood_radius, 0.05, "scrap, callipers"),
        Setting("below", "Cutter below base", asked.plate + asked.deep, TRIED, "gauge block"),
        Setting("deep", "Recess, deep", asked.deep, TRIED, "scrap, callipers"),
        Setting("set-back", "Box’s end to leaf", asked.set_back, 0.2, "rule"),
    )


def _checks(asked: _Asked) -> tuple[Check, ...]:
    long, wide, deep = asked.leaf_length, asked.leaf_depth, asked.deep
    return (
        Check("recess, long", long, long + EASY),
        Check("recess, from the edge", wide, wide + EASY),
        Check("recess, deep", deep - TRIED, deep + TRIED, TRIED),
    )


def _order(asked: _Asked) -> tuple[Words, ...]:
    return (
        "Knife round the leaf. Hang the fence on the edge, the opening over the leaf.",
        "Clamp fence and box together. Stand the router over it, the cutter clear.",
        "Power on, lower the cutter. Move clockwise, the bush on the template.",
        "Go down in several shallow cuts. Clear the middle last.",
        "Power off. Wait until the cutter stands still, then lift the router.",
        say("Square the corners, radius {radius}, with a chisel to the knife lines.", radius=asked.made.wood_radius),
        "Let all leaves in alike. Try the lid on one screw a leaf before the rest.",
    )


def _wood(asked: _Asked) -> list[draw.Part]:
    """The box or the lid under the template: its edge is at 0, its end at the left, however far that is."""
    left = -asked.leaf_length / 2 - min(asked.set_back, 110.0)
    right, top = max(asked.outer, BASE) + 45.0, asked.leaf_depth + 12.0
    sides = [draw.line((right, top), (left, top), (left, 0), (right, 0))]
    if asked.set_back > 110.0:
        sides = [draw.line((right, top), (left, top)), draw.line((left, 0), (right, 0))]
    ends = [draw.break_line(draw.Point(right, 0), draw.Point(right, top))]
    if asked.set_back > 110.0:
        ends.append(draw.break_line(draw.Point(left, 0), draw.Point(left, top)))
    lines = (*draw.lines(sides), *draw.lines(ends, draw.Kind.NARROW))
    edge = draw.Line(draw.line((left, 0), (right, 0)), draw.Kind.REFERENCE)
    return [draw.Part("box", "Box or lid", (*lines, edge))]


def _from_above(asked: _Asked) -> draw.View:
    """You at the edge of the box, both hands on the router; what it stands on, and the clamps."""
    made, outer, front = asked.made, asked.outer, asked.front
    at = (0.0, made.depth - made.template_radius)  # the bush at the back of the opening
    sheet = draw.rectangle(-outer, -front, outer, asked.back)
    plate = draw.Part("plate", "Template", (draw.Line(sheet), draw.Line(_opening(made))), covers=(sheet,))
    left = max(-asked.leaf_length / 2 - min(asked.set_back, 110.0), -outer)
    under = draw.line((outer, 0), (left, 0), (left, asked.leaf_depth + 12), (outer, asked.leaf_depth + 12))
    hidden = draw.Part("box-under", "Box or lid under the template", (draw.Line(under, draw.Kind.HIDDEN),))
    base = draw.Part("base", "Router", (draw.Line(draw.Circle(draw.Point(*at), BASE), draw.Kind.NEIGHBOUR),))
    grips = [draw.Circle(draw.Point(at[0] + side * GRIP, at[1]), 22.0) for side in (-1, 1)]
    grip = draw.Part("grips", "Grips", draw.lines(grips), covers=tuple(grips))
    reach = min(outer - 14.0, 24.0)
    parts = (
        *_wood(asked),
        above.clamp("left-clamp", (-reach, -front), reach=24.0),
        above.clamp("right-clamp", (reach, -front), reach=24.0),
        plate,
        hidden,
        base,
        above.bit(at, 2 * made.wood_radius, under=False, turns="clockwise"),
        grip,
        above.hand("left", (at[0] - GRIP - 4, at[1])),
        above.hand("right", (at[0] + GRIP + 4, at[1])),
    )
    end = -asked.leaf_length / 2 - min(asked.set_back, 110.0)
    top = draw.Point(-asked.leaf_length / 2, asked.back)
    dimensions = (draw.Dimension(draw.Point(end, asked.leaf_depth + 12), top, "above", "", "set-back"),)
    labels = (
        draw.Label("router", draw.on_circle(draw.Point(*at), BASE, 60), towards="right"),
        draw.Label("template", draw.Point(outer - 6, asked.back - 6), towards="right"),
        draw.Label("clamps on the fence", draw.Point(reach, -front - 16), towards="below"),
    )
    return draw.View("from-above", "From above", parts, dimensions, labels, to_scale=False)


def _way_round(asked: _Asked) -> draw.View:
    """The opening with the bush in it, and the way that it is moved."""
    made = asked.made
    half, bush = made.opening / 2, made.template_radius
    low, high = 0.0, made.depth - bush
    left, right = -half + bush, half - bush
    frame = draw.rectangle(-half - 8, -asked.front, half + 8, made.depth + 8)
    recess_edge = draw.rectangle(-asked.leaf_length / 2, 0, asked.leaf_length / 2, asked.leaf_depth)
    edge = draw.line((-half - 8, 0), (half + 8, 0))
    parts = (
        draw.Part("around", "Template", (draw.Line(frame, draw.Kind.NARROW), draw.Line(_opening(made)))),
        draw.Part("to-cut", "Recess", (draw.Line(recess_edge, draw.Kind.NEIGHBOUR), draw.Line(edge, draw.Kind.HIDDEN))),
        draw.Part("guide-bush", "Bush", (draw.Line(draw.Circle(draw.Point(left, low), bush)),)),
        above.bit((left, low), 2 * made.wood_radius, under=False, turns="clockwise"),
        draw.Part("way", "Way of the bush", (draw.Line(draw.line((left, low), (left, high)), draw.Kind.NARROW),)),
        above.arrow("along-the-back", "To the right", (left, high), (right, high)),
        above.arrow("down-the-right", "Towards you", (right, high), (right, low)),
    )
    labels = (draw.Label("edge", draw.Point(half + 6, 0), towards="above"),)
    return draw.View("way-round", "Go round clockwise", parts, (), labels, to_scale=False)


def _across(asked: _Asked) -> draw.View:
    """Wood, template, bush and cutter cut across the edge, the bush at the back of the opening."""
    made, deep, plate, front = asked.made, asked.deep, asked.plate, asked.front
    bush = made.template_radius
    centre, right, thick = made.depth - bush, made.depth + 12.0, max(10.0, 2 * deep)
    wood = section.board(
        "wood", "Box or lid",
        (0, -deep), (asked.leaf_depth, -deep), (asked.leaf_depth, 0), (right, 0), (right, -thick), (0, -thick),
        broken="right",
    )  # fmt: skip
    behind = section.board(
        "plate-behind", "Template", (made.depth, 0), (right, 0), (right, plate), (made.depth, plate), broken="right"
    )
    low = -max(thick - 2, 14.0)
    parts = (
        wood,
        section.face("under-fence", "Fence", draw.rectangle(-front, low, 0, 0)),
        section.face("plate-front", "Template", draw.rectangle(-front, 0, -bush, plate)),
        behind,
        draw.Part("base-cut", "Router’s base", (draw.Line(draw.rectangle(-front, plate, right, plate + 5)),)),
        draw.Part(
            "bush-cut", "Bush",
            draw.lines([draw.rectangle(centre - bush, 0.5, centre + bush, plate)]),
            covers=(draw.rectangle(centre - bush, 0.5, centre + bush, plate),),
        ),
        section.cutter(centre, 2 * made.wood_radius, plate + 12, -deep),
    )  # fmt: skip
    dimensions = (draw.Dimension(draw.Point(right, -deep), draw.Point(right, plate), "right", "", "below"),)
    labels = (
        draw.balloon("deep", (asked.leaf_depth / 4, -deep), "below"),
        draw.balloon("bush", (centre - bush + 1, plate / 2), "above"),
        draw.balloon("cutter", (centre, plate + 10), "above"),
        draw.Label("fence", draw.Point(-front / 2, low / 2), towards="below"),
        draw.Label("router’s base", draw.Point(right - 8, plate + 5), towards="above"),
    )
    return draw.View("across", "Section at the bush", parts, dimensions, labels, to_scale=False)


# -- the template ------------------------------------------------------------------------------------------------------


def _template(asked: _Asked) -> draw.View:
    """The template from above: the edge of the box at y = 0, the leaf in the middle."""
    made, outer, front = asked.made, asked.outer, asked.front
    half, leaf = made.opening / 2, asked.leaf_length / 2
    edge, hole = draw.rectangle(-outer, -front, outer, asked.back), _opening(made)
    opening = draw.Part("opening", "Opening", (draw.Line(hole),))
    recess_edge = draw.rectangle(-leaf, 0, leaf, asked.leaf_depth)
    outline = draw.Part(
        "template",
        "Template",
        (
            draw.Line(edge),
            draw.Line(draw.line((-outer, 0), (-half, 0)), draw.Kind.REFERENCE),
            draw.Line(draw.line((half, 0), (outer, 0)), draw.Kind.REFERENCE),
            draw.Line(draw.line((0, made.depth), (0, asked.back)), draw.Kind.CENTRE),
        ),
    )
    parts = (outline, opening, draw.Part("leaf", "Recess", (draw.Line(recess_edge, draw.Kind.NEIGHBOUR),)))
    whole = draw.Dimension(draw.Point(-outer, -front), draw.Point(outer, -front), "below")
    across = draw.Dimension(draw.Point(-half, made.depth), draw.Point(half, made.depth), "above", "opening")
    dimensions = (
        whole,
        across,
        draw.Dimension(draw.Point(outer, 0), draw.Point(half, made.depth), "right", "back"),
    )
    labels = (
        draw.Label("fence below", draw.Point(-(outer + half) / 2, -front / 2), leader=False),
        draw.Label("edge of the box", draw.Point(outer, 0), towards="right"),
        draw.Label("recess", draw.Point(0, asked.leaf_depth / 2), leader=False),
    )
    piece = draw.Piece(edge, (hole,))
    return draw.View("template", "Hinge template, from above", parts, dimensions, labels, check=whole, piece=piece)


def _opening(made: Recess) -> draw.Path:
    """The opening, its corners rounded by the bush at the back.

    At the front it goes past the edge of the box by half of the bush, so that the cutter's middle gets to the edge.
    """
    half, high = made.opening / 2, made.depth
    radius = min(made.template_radius, half, high)
    right, left = draw.Point(half - radius, high - radius), draw.Point(-half + radius, high - radius)
    return draw.Path(
        draw.Point(-half, -made.template_radius),
        (
            draw.LineTo(draw.Point(half, -made.template_radius)),
            draw.LineTo(draw.Point(half, right.y)),
            draw.ArcTo(draw.Point(right.x, high), right, anticlockwise=True),
            draw.LineTo(draw.Point(left.x, high)),
            draw.ArcTo(draw.Point(-half, left.y), left, anticlockwise=True),
        ),
        closed=True,
    )
