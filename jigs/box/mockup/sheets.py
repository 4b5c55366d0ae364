"""The sheets of the mock-up: its card, and its nets."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Beside, Card, Caution, Column, Order, Pictures, Sheets
from jigs.base.drawing import Kind, Line, Point
from jigs.base.lengths import Units
from jigs.base.wording import Words, say
from jigs.box import isometric
from jigs.box.chain import Box
from jigs.box.isometric import Place
from jigs.box.mockup import handle, lid, sides
from jigs.box.mockup.nets import letter
from jigs.parts.joint.part import LONGS, OTHERS, thicknesses
from jigs.parts.lid.part import Lid

PAPER: dict[Units, str] = {"mm": "paper of 160 g/m² or card", "in": "card stock of 65 lb"}
"""What stays flat, folds sharply and still goes through a printer (common practice, no source)."""
_CAUTIONS = (Caution("Knife", "Cut along a steel rule, on a mat. Keep your fingers behind the blade."),)
_APART = 6.0
"""What sheets of paper that lie on one another are drawn apart, mm."""


def sheets(box: Box) -> Sheets:
    """Return the card and the nets of a box whose joint is worked out."""
    nets = [*sides.templates(box)]
    if box.lid:
        nets += lid.templates(box.lid, box.handle)
    if box.handle:
        nets += handle.templates(box.handle)
    return Sheets((_card(box),), tuple(nets))


def _card(box: Box) -> Card:
    cut = Order(tuple(_cut(box)), "Cut and fold")
    glued = [Order(tuple(_sides(box)), "Sides")]
    if box.lid:
        glued.append(Order(tuple(_lid(box, box.lid)), "Lid"))
    if box.handle:
        glued.append(Order(tuple(_handle(box)), "Handle"))
    views = (_whole(box), _corner(), *([_edge(box, box.lid)] if box.lid else ()))
    left, right = Column((cut, glued[0])), Column((*glued[1:], Order(tuple(_look(box)), "Look")))
    bands = (Pictures(views, least=60.0, shares=(0.46, 0.27, 0.27)[: len(views)]), Beside(left, right, 0.5))
    return Card("mockup", "Paper mock-up", "Table", _CAUTIONS, bands, "before you buy wood", "mockup")


# -- what is done --------------------------------------------------------------------------------------------------


def _cut(box: Box) -> Iterator[Words]:
    yield f"Print the nets on {PAPER[box.file.units]}, at 100 % and on one side."
    yield "Some pieces take several pages. Cut these along their seams, butt them, and tape them behind."
    yield "Score every dashed line along a rule, with an empty ball-point pen. Then cut along the wide lines."
    yield "Fold at every dashed line. The print stays outside."


def _sides(box: Box) -> Iterator[Words]:
    yield "Glue each tab behind the edge with its letter: A behind A, and so on."
    if min(box.inside) > 0:
        last = box.at_the_rim
        yield f"Fold in the rim of {OTHERS[last]}, then the rim of {last} over it."
        yield "Glue the rim where it overlaps, letter on letter. That makes the box square."
    yield "Hatched squares are the end grain that you will see at the corners."


def _lid(box: Box, made: Lid) -> Iterator[Words]:
    bent = "Bend the top with the grain of the paper, over a table’s edge. " if made.crown else ""
    yield f"{bent}Glue teeth J behind the curve J of an end, and teeth K behind K." if made.crown else (
        "Glue tab J of the top behind edge J of an end, and tab K behind K."
    )
    yield "Glue the tabs E, F, G and H behind the long edges."
    yield "Fold in the flaps below, first those of the ends. Glue them where they overlap."
    yield "The lid rests on its flaps. Real ones carry a plug between them, which the mock-up leaves out."
    if made.crown:
        yield say("The crown rises {rise:cut} in its middle.", rise=made.crown)


def _handle(box: Box) -> Iterator[Words]:
    yield "Fold both faces up from the base. Glue the teeth of the crest behind them, M on M and N on N."
    if box.lid:
        yield "Glue its base on the lid, L on L."


def _look(box: Box) -> Iterator[Words]:
    what = ", ".join(["box", *(["lid"] if box.lid else []), *(["handle"] if box.handle else [])])
    del what
    yield "Stand it where the box will stand. Put in what it will hold."
    yield "Look at it from across the room, and take it by its handle." if box.handle and box.lid else (
        "Look at it from across the room, and take it in your hands."
    )
    yield "Too large or too small? Change the sizes in the box file, and print it again."


# -- pictures ------------------------------------------------------------------------------------------------------


def _whole(box: Box) -> draw.View:
    """The mock-up from the front right, its lid lifted, the letters of its corners."""
    hidden = ("plug", "bottom")
    solids = tuple(solid for solid in isometric.solids_of(box) if solid.name not in hidden)
    seen = isometric.visible(solids)
    parts = tuple(
        draw.Part(f"mockup-{solid.name}", solid.title, draw.lines([draw.line(*piece) for piece in seen[solid.name]]))
        for solid in solids
        if seen[solid.name]
    )
    long, wide, high = box.file.box.length, box.file.box.width, box.height
    places = (Place(long, 0, 0), Place(long, wide, 0), Place(0, wide, high), Place(0, 0, 0))
    sides_of: tuple[draw.Side, ...] = ("below", "right", "above", "left")
    labels = [
        draw.Label(name, Point(*isometric.projected(place)), towards=side, bold=True)
        for name, place, side in zip(sides.CORNERS, places, sides_of, strict=True)
    ]
    names = {"front": Place(long * 0.5, 0, high * 0.12), "right end": Place(long, wide * 0.5, high * 0.12)}
    labels += [draw.Label(name, Point(*isometric.projected(at)), leader=False) for name, at in names.items()]
    return draw.View("mockup-whole", "The mock-up, its lid lifted", parts, labels=tuple(labels), to_scale=False)


def _corner() -> draw.View:
    """A corner from above: the tab of one board behind the next."""
    long, gap = 46.0, 3.0
    first = draw.line((0, 0), (long, 0), (long, 14))
    second = draw.line((long + gap, 2), (long + gap, long))
    parts = (
        draw.Part("mockup-first", "Board with its tab", (Line(first),)),
        draw.Part("mockup-second", "Next board", (Line(second),)),
    )
    labels = (
        draw.Label("tab", Point(long, 9), towards="left"),
        draw.Label("next board", Point(long + gap, long * 0.75), towards="left"),
        draw.Label("print outside", Point(long * 0.4, 0), towards="below"),
        draw.Label("fold", Point(long, 0), towards="below"),
    )
    return draw.View("mockup-corner", "A corner from above", parts, labels=labels, to_scale=False)


def _edge(box: Box, made: Lid) -> draw.View:
    """A long edge of the lid cut across, on the rim: which way everything is folded."""
    edge, flap, over = max(made.edge, 8.0), max(made.rabbets[1], 16.0), made.overhang
    thick, low = thicknesses(box.file)[LONGS], -30.0
    side = draw.line((0, low), (0, 0), (thick, 0))
    below = _APART / 2
    top = [(-over + flap, below), (-over, below), (-over, below + edge), (48.0 - over, below + edge + 4.0)]
    parts = (
        draw.Part("mockup-side", "Side with its rim", (Line(side),)),
        draw.Part("mockup-lid-edge", "Lid with its flap", (Line(draw.line(*top)),)),
        draw.Part("mockup-goes-on", "It goes on", draw.lines([draw.line((-3, low), (3, low))], Kind.NARROW)),
    )
    labels = (
        draw.Label("top of the lid", Point(30.0, below + edge + 3.0), towards="above"),
        draw.Label("edge", Point(-over, below + edge / 2), towards="left"),
        draw.Label("flap", Point(-over + flap, below), towards="right"),
        draw.Label("rim", Point(thick, 0), towards="right"),
        draw.Label("side", Point(0, low / 2), towards="right"),
    )
    return draw.View("mockup-edge", "The lid on the rim, cut across", parts, labels=labels, to_scale=False)
