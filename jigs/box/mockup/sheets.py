"""The sheets of the mock-up: its card, and its nets."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Band, Card, Caution, Order, Pictures, Sheets
from jigs.base.drawing import Kind, Line, Point
from jigs.base.lengths import Units
from jigs.base.wording import Words
from jigs.box import isometric
from jigs.box.chain import Box
from jigs.box.isometric import Place
from jigs.box.mockup import handle, lid, sides
from jigs.parts.joint.part import LONGS, OTHERS, SHORTS, thicknesses
from jigs.parts.lid.part import Lid

PAPER: dict[Units, str] = {"mm": "paper of 160 g/m² or card", "in": "card stock of 65 lb"}
"""What stays flat, folds sharply and still goes through a printer (common practice, no source)."""
_CAUTIONS = (Caution("Knife", "Cut along a steel rule, on a mat. Keep your fingers behind the blade."),)
_CALLED = {LONGS: "front and back", SHORTS: "the end boards"}
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
    orders = [Order(tuple(_cut(box)), "Cut and fold"), Order(tuple(_sides(box)), "Sides")]
    if box.lid:
        orders.append(Order(tuple(_lid(box.lid)), "Lid"))
    if box.handle:
        orders.append(Order(tuple(_handle(box)), "Handle"))
    views = (_whole(box), _corner(), *([_edge(box, box.lid)] if box.lid else ()))
    bands: tuple[Band, ...] = (
        Pictures(views, least=45.0, shares=(0.42, 0.29, 0.29)[: len(views)]),
        *orders,
        Order(tuple(_look(box)), "Look"),
    )
    return Card("mockup", "Paper mock-up", "Table", _CAUTIONS, bands, "before you buy wood", "mockup")


# -- what is done --------------------------------------------------------------------------------------------------


def _cut(box: Box) -> Iterator[Words]:
    yield f"Print the nets on {PAPER[box.file.units]}, at 100 % and on one side."
    yield "A dashed line with crosses on it is a seam. Cut there, butt the pages, and tape them behind."
    yield "Score all other dashed lines along a rule, with an empty ball-point pen. Cut along the wide lines."
    yield "Fold where you scored, the print outside."


def _sides(box: Box) -> Iterator[Words]:
    yield "Glue each tab behind the edge that bears its letter."
    if min(box.inside) > 0:
        first, last = (_CALLED[kind] for kind in (OTHERS[box.at_the_rim], box.at_the_rim))
        yield f"Fold in the rim of {first}, then that of {last} over it. Glue them at the corners."


def _lid(made: Lid) -> Iterator[Words]:
    yield "If the top comes in two halves, glue strip P under edge P. Do not fold it."
    if made.crown:
        yield "Bend the top. Glue teeth J behind the curve of end J, and K likewise."
    else:
        yield "Glue tab J of the top behind edge J of the left end, and K likewise."
    yield "Glue tabs E to H behind the long edges. Fold in the flaps that it rests on, and glue their corners."


def _handle(box: Box) -> Iterator[Words]:
    yield "Fold both faces up. Glue the teeth of the crest behind edges M and N."
    if box.lid:
        yield "Glue the base on the lid, L on L."


def _look(box: Box) -> Iterator[Words]:
    by = "by its handle" if box.handle and box.lid else "in your hands"
    yield f"Stand it where the box will stand. Step back, then take it {by}."
    yield "If it is too large or too small, change the box file and print it again."


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
    if box.lid:
        over, top = box.lid.overhang, high + isometric.lifted(box)
        at = Point(*isometric.projected(Place(long + over, wide * 0.25, top)))
        labels.append(draw.Label("lid", at, towards="below"))
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
    below, rise = _APART / 2, (4.0 if made.crown else 0.0)
    top = [(-over + flap, below), (-over, below), (-over, below + edge), (48.0 - over, below + edge + rise)]
    parts = (
        draw.Part("mockup-side", "Side with its rim", (Line(side),)),
        draw.Part("mockup-lid-edge", "Lid with its flap", (Line(draw.line(*top)),)),
        draw.Part("mockup-goes-on", "It goes on", draw.lines([draw.line((-3, low), (3, low))], Kind.NARROW)),
    )
    labels = (
        draw.Label("top of the lid", Point(30.0, below + edge + rise * (30.0 + over) / 48.0), towards="above"),
        draw.Label("edge", Point(-over, below + edge / 2), towards="left"),
        draw.Label("flap", Point(-over + flap, below), towards="right"),
        draw.Label("rim", Point(thick, 0), towards="right"),
        draw.Label("side", Point(0, low / 2), towards="right"),
    )
    return draw.View("mockup-edge", "The lid on the rim, cut across", parts, labels=labels, to_scale=False)
