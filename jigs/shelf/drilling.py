"""A drilling template: holes in a row, in the middle of a board, for pulls, dowels and shelf pins."""

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
from jigs.base.kinds import Count, Length
from jigs.base.rules import Problem, stop
from jigs.base.usual import Usual
from jigs.base.wording import Offer, Words, at_least, at_most, say
from jigs.record import Record, replace
from jigs.shelf import scenes
from jigs.things import plan, section
from jigs.trade.fingers import TOUCH
from jigs.trade.spacing import centred

LEAST_WALL = 3.0
"""Wood left between holes and at the template's edges (common practice, no source), mm."""
WITHIN = 0.3
"""How near a hole lies that is pricked through paper (common practice, no source), mm."""
CLEAT, THICK, BOARD, WASTE = 14.0, 12.0, 18.0, 10.0
"""Width of the cleat, thickness of template, board and waste board in pictures, mm."""
LONGEST = 420.0
"""A longer board is drawn broken off in pictures, mm."""
CAUTIONS = (
    Caution("Spin", "Clamp the work to the table. Held by hand it spins round."),
    Caution("Catch", "No gloves. Tie back hair and sleeves: the drill winds them up."),
    Caution("Drill", "Clamp template, board and waste board before you drill by hand."),
)


@jig("drilling", title="Drilling template", summary="holes in a row for pulls, dowels and pins")
def drilling(
    *,
    length: Annotated[float, Length("length of the board", 20, 2000)],
    pitch: Annotated[float, Length("from hole to hole", 4, 1000)],
    set_back: Annotated[float, Length("from the edge of the board to the holes", 3, 500)],
    holes: Annotated[int, Count("number of holes", 1, 100)] = 2,
    drill: Annotated[float, Length("drill", 1, 40)] = Usual(5, 3 / 16).default,
    bush: Annotated[float | None, Length("outside of the drill bush, if there is one", 2, 60)] = None,
) -> Plan:
    """The template at full size: holes to prick from the reference edge and the left end.

    Example: --length 240 --pitch 64 --set-back 30

    Sources: A row in the middle of a board: `jigs/trade/spacing.py`. Wood between holes: common practice, no
    source.
    """
    hole = bush or drill
    refuse(_problems(length, pitch, set_back, holes, drill, hole))
    places = centred(length=length, pitch=pitch, count=holes)
    numbers = {"places": list(places), "set_back": set_back, "hole_in_template": hole}
    said = "{count} holes {pitch:cut} apart" if holes > 1 else "1 hole"
    title = say(f"Drilling, {said}", count=str(holes), pitch=pitch)
    return Plan(title, numbers, _sheets(_Row(places, length, set_back, drill, hole)))


def _problems(length: float, pitch: float, set_back: float, holes: int, drill: float, hole: float) -> list[Problem]:
    found = []
    sizes: dict[str, object]
    row, room = (holes - 1) * pitch, length - hole - 2 * LEAST_WALL
    if room < -TOUCH:
        sizes = {"hole": hole, "length": length, "wall": LEAST_WALL, "least": at_least(hole + 2 * LEAST_WALL)}
        said = "a board {length:cut} long has no room for a hole of {hole} with {wall} of wood at each end"
        found.append(stop("length", said, "use a board {least} long or more", **sizes))
    elif row > max(room, 0.0) + TOUCH:
        sizes = {"row": row, "length": length, "room": max(room, 0.0)}
        sizes |= {
            "most": Offer(int((room + TOUCH) / pitch) + 1, "down"),
            "closer": at_most(room / (holes - 1), "pitch"),
        }
        said = "a row {row:cut up} long does not fit a board {length:cut} long, which takes {room:cut down}"
        found.append(stop("holes", said, ("drill {most} or fewer", "space them {closer} apart or less"), **sizes))
    if holes > 1 and pitch < hole + LEAST_WALL - TOUCH:
        numbers = {"pitch": pitch, "hole": hole, "wall": LEAST_WALL, "least": at_least(hole + LEAST_WALL)}
        said = "holes of {hole} that are {pitch} apart leave less than {wall} of wood between them"
        found.append(stop("pitch", said, "space them {least} apart or more", **numbers))
    if set_back < hole / 2 + LEAST_WALL - TOUCH:
        least = at_least(hole / 2 + LEAST_WALL)
        numbers = {"set_back": set_back, "hole": hole, "wall": LEAST_WALL, "least": least}
        said = "a hole of {hole} with its centre {set_back} from the edge leaves less than {wall} of wood there"
        found.append(stop("set back", said, "set the holes back {least} or more", **numbers))
    if hole < drill - TOUCH:
        said = "a bush {hole} outside does not go round a drill of {drill}"
        numbers = {"hole": hole, "drill": drill, "least": at_least(drill)}
        found.append(stop("bush", said, "use a bush {least} outside or more", **numbers))
    return found


class _Row(Record):
    """A row of holes: where they are from the left end and from the edge, what is drilled. In mm."""

    places: tuple[float, ...]
    length: float
    set_back: float
    drill: float
    hole: float

    @property
    def top(self) -> float:
        """How wide the template is."""
        return self.set_back + self.hole / 2 + 12.0


def _sheets(made: _Row) -> Sheets:
    whole, short = _view(made, made.length), _view(made, made.places[-1] + made.hole / 2 + 12.0)
    stands = replace(scenes.on_its_side(whole), detail=replace(short, detail=scenes.on_its_side(short)))
    view = replace(whole, detail=stands)
    use = "glue it on wood, prick every centre through it"
    return Sheets((_card(made),), (Template(view, "drilling", use, "drilling"),))


# -- the card --------------------------------------------------------------------------------------------------------


def _card(made: _Row) -> Card:
    bands = (
        Pictures((_from_above(made), _across(made)), least=50.0, most=84.0, shares=(0.62, 0.38)),
        Beside(Settings(_settings(made)), _checks(made), 0.68),
        Order(_making(made)),
        Hold("The readings pass, the cleat lies on the edge.", "template tried"),
        Order(
            (
                "Clamp template, board and waste board together. Mark the drill’s depth.",
                "Drill every hole. Next board: the same end, the cleat on the same edge.",
                "A pair of boards: turn the template over, cleat on the same edge. It mirrors.",
            )
        ),
    )
    count = len(made.places)
    about = f"{count} holes in a row" if count > 1 else "one hole"
    return Card("drilling", "Drilling template", "Drill press, then bench", CAUTIONS, bands, about, "drilling")


def _settings(made: _Row) -> tuple[Setting, ...]:
    rows = [
        Setting("drill", "Drill", made.drill, 0.1, "callipers"),
        Setting("edge", "Edge to holes", made.set_back, WITHIN, "template"),
        Setting("first", "Left end to first hole", made.places[0], WITHIN, "template"),
    ]
    if len(made.places) > 1:
        rows.append(Setting("pitch", "Hole to hole", made.places[1] - made.places[0], WITHIN, "template"))
    if made.hole > made.drill:
        rows.insert(1, Setting("hole", "Hole for the bush", made.hole, 0.1, "bush"))
    return tuple(rows)


def _checks(made: _Row) -> Checks:
    rows = [Check("edge to hole", made.set_back - WITHIN, made.set_back + WITHIN, 0.05)]
    if len(made.places) > 1:
        row = made.places[-1] - made.places[0]
        rows.append(Check("first to last hole", row - WITHIN, row + WITHIN, 0.05))
    return Checks(tuple(rows), "Check", "on the template’s wood")


def _making(made: _Row) -> tuple[Words, ...]:
    if made.hole > made.drill:
        drilled = say("Clamp it down; drill {hole} square at the drill press. Press the bushes in.", hole=made.hole)
    else:
        drilled = say("Clamp it down; drill {hole} square at the drill press, one by one.", hole=made.hole)
    return (
        "Glue the template on wood. Prick every centre through the paper.",
        drilled,
        "Screw a cleat under the heavy edge: it hangs on the edge of the board.",
    )


def _from_above(made: _Row) -> draw.View:
    """The template on a board, its edge towards you, or its left end where it is long."""
    second = made.places[min(1, len(made.places) - 1)]
    right = min(made.length, max(LONGEST, second + made.hole + 20.0))
    whole, top = right == made.length, made.top
    deep = top + 40.0
    edge = draw.line((0, 0), (right, 0))
    holes = tuple(
        draw.Hole(draw.Point(at, made.set_back), made.hole / 2) for at in made.places if at + made.hole < right or whole
    )
    template = plan.board("template", "Template", draw.Bounds(0, 0, right, top))
    parts = [
        plan.board("board", "Board", draw.Bounds(0, 0, right, deep)),
        plan.board("cleat", "Cleat", draw.Bounds(0, -CLEAT, right, 0)),
        replace(template, lines=(*template.lines, draw.Line(edge, draw.Kind.REFERENCE))),
        draw.Part("holes", "Holes", holes=holes),
        *(
            plan.clamp(f"clamp-{number}", (at, deep - 8), reach=49.0)
            for number, at in enumerate(_clamps(made, right), start=1)
        ),
    ]
    if not whole:
        cut = draw.break_line(draw.Point(right, -CLEAT), draw.Point(right, deep))
        parts.append(draw.Part("break", "Goes on", (draw.Line(cut, draw.Kind.NARROW),)))
    first = draw.Point(made.places[0], made.set_back)
    dimensions = [
        draw.Dimension(draw.Point(0, 0), first, "left", "", "edge"),
        draw.Dimension(draw.Point(0, 0), first, "below", "", "first"),
    ]
    if len(made.places) > 1:
        dimensions.append(draw.Dimension(first, draw.Point(second, made.set_back), "below", "", "pitch"))
    labels = (
        draw.Label("board", draw.Point(right / 2, deep - 20), leader=False),
        draw.Label("template", draw.Point(right / 2, top - 8), leader=False),
        draw.Label("cleat", draw.Point(right / 2, -CLEAT / 2), leader=False),
    )
    title = "From above, on the board" if whole else "From above, its left end"
    return draw.View("from-above", title, tuple(parts), tuple(dimensions), labels, to_scale=False)


def _clamps(made: _Row, right: float) -> list[float]:
    """Return where clamps stand: at both ends, as far as no hole is there."""
    near = made.hole / 2 + 11.0
    wanted = (right * 0.06 + 10, right * 0.94 - 10)
    free = [at for at in wanted if all(abs(at - place) > near for place in made.places)]
    return free[:1] if right < 90.0 else free


def _across(made: _Row) -> draw.View:
    """Template, board and waste board cut across at a hole, the drill through them; the edge at the left."""
    right = max(made.top + 14.0, made.set_back + made.hole / 2 + 30.0)
    low, high = made.set_back - made.drill / 2, made.set_back + made.drill / 2
    wide_low, wide_high = made.set_back - made.hole / 2, made.set_back + made.hole / 2
    deep = -BOARD - 4.0
    bush = made.hole > made.drill
    template = [draw.rectangle(0, 0, wide_low, THICK), draw.rectangle(wide_high, 0, made.top, THICK)]
    bushes = [draw.rectangle(wide_low, 0, low, THICK), draw.rectangle(high, 0, wide_high, THICK)] if bush else []
    board = [draw.rectangle(0, -BOARD, low, 0), draw.rectangle(high, -BOARD, right, 0)]
    shank = THICK + max(26.0, made.drill * 2)
    tip = draw.polygon(
        (low, deep + made.drill * 0.3),
        (made.set_back, deep),
        (high, deep + made.drill * 0.3),
        (high, shank),
        (low, shank),
    )
    mark = draw.rectangle(low - 1.5, THICK + 8, high + 1.5, THICK + 13)
    axis = draw.line((made.set_back, deep - 8), (made.set_back, shank + 4))
    parts = (
        section.face("waste", "Waste board", draw.rectangle(0, -BOARD - WASTE, right, -BOARD)),
        draw.Part("board", "Board", draw.lines(board), hatched=tuple(board)),
        draw.Part("template", "Template", draw.lines(template), hatched=tuple(template)),
        *([draw.Part("bush", "Bush", draw.lines(bushes))] if bush else []),
        section.face("cleat", "Cleat", draw.rectangle(-CLEAT, -BOARD + 2, 0, THICK)),
        draw.Part("drill", "Drill", (draw.Line(tip), draw.Line(axis, draw.Kind.CENTRE)), covers=(tip,)),
        draw.Part("mark", "Mark of the depth", (draw.Line(mark),), covers=(mark,)),
    )
    labels = [
        draw.balloon("drill", (made.set_back, shank - 4), "right"),
        draw.Label("depth mark", draw.Point(high + 1, THICK + 10.5), towards="right"),
        draw.Label("board", draw.Point(right - 9, -BOARD / 2), leader=False),
        draw.Label("waste board", draw.Point(right * 0.5, -BOARD - WASTE / 2), towards="below"),
        draw.Label("cleat", draw.Point(-CLEAT / 2, THICK - 3), towards="above"),
    ]
    if bush:
        labels.insert(1, draw.balloon("hole", (wide_low + (low - wide_low) / 2, THICK - 2), "above"))
    edge = draw.Dimension(draw.Point(0, -BOARD - WASTE), draw.Point(made.set_back, -BOARD - WASTE), "below", "", "edge")
    return draw.View("across", "Section at a hole", parts, (edge,), tuple(labels), to_scale=False)


# -- the template ----------------------------------------------------------------------------------------------------


def _view(made: _Row, right: float) -> draw.View:
    """The template from above, the edge of the board at y = 0, as far as `right` from its left end."""
    places, set_back, hole = made.places, made.set_back, made.hole
    left, top, whole = 0.0, made.top, right == made.length
    outline = draw.Line(draw.rectangle(left, 0, right, top))
    reference = draw.Line(draw.line((left - 3, 0), (right + 3, 0)), draw.Kind.REFERENCE)
    half = made.length / 2
    middle = draw.Line(draw.line((half, 0), (half, top)), draw.Kind.CENTRE)
    holes = tuple(
        draw.Hole(draw.Point(at, set_back), hole / 2, "hole" if i == 0 else "") for i, at in enumerate(places)
    )
    part = draw.Part("template", "Template", (outline, reference, middle), holes=holes)
    edge = draw.Dimension(draw.Point(left, 0), draw.Point(places[0], set_back), "left")
    first = draw.Dimension(draw.Point(left, 0), draw.Point(places[0], set_back), "below")
    dimensions = [edge, first]
    check = first
    if len(places) > 1:
        check = draw.Dimension(draw.Point(places[0], set_back), draw.Point(places[-1], set_back), "above")
        dimensions.append(check)
    labels = (draw.Label("edge of the board", draw.Point(right * 0.7, 0), towards="below"),)
    return draw.View(
        "template",
        "Drilling template" if whole else "Drilling template, from its left end",
        (part,),
        tuple(dimensions),
        labels,
        check=check,
    )
