"""A drilling template: holes in a row, in the middle of a board, for pulls, dowels and shelf pins."""

from __future__ import annotations

from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Count, Length
from jigs.base.rules import Problem, stop
from jigs.base.usual import Usual
from jigs.base.wording import Offer, at_least, at_most, say
from jigs.trade.fingers import TOUCH
from jigs.trade.spacing import centred

LEAST_WALL = 3.0
"""Wood left between holes and at the template's edges (common practice, no source), mm."""


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
    title = say("Drilling template, {count} holes {pitch} apart", count=str(holes), pitch=pitch)
    return Plan(title, numbers, (_sheet(places, length, set_back, drill, hole),))


def _problems(length: float, pitch: float, set_back: float, holes: int, drill: float, hole: float) -> list[Problem]:
    found = []
    sizes: dict[str, object]
    row, room = (holes - 1) * pitch, length - hole - 2 * LEAST_WALL
    if room < -TOUCH:
        sizes = {"hole": hole, "length": length, "least": at_least(hole + 2 * LEAST_WALL)}
        said = "a hole of {hole} does not go on a board of {length}"
        found.append(stop("length", said, "a board of {least} or more", **sizes))
    elif row > max(room, 0.0) + TOUCH:
        sizes = {"row": row, "length": length, "room": max(room, 0.0)}
        sizes |= {
            "most": Offer(int((room + TOUCH) / pitch) + 1, "down"),
            "closer": at_most(room / (holes - 1), "pitch"),
        }
        said = "a row of {row} does not go on a board of {length}, which takes {room}"
        found.append(stop("holes", said, ("{most} holes at most", "holes {closer} apart or less"), **sizes))
    if holes > 1 and pitch < hole + LEAST_WALL - TOUCH:
        numbers = {"pitch": pitch, "hole": hole, "least": at_least(hole + LEAST_WALL)}
        said = "holes of {hole} that are {pitch} apart break into one another"
        found.append(stop("pitch", said, "{least} at least", **numbers))
    if set_back < hole / 2 + LEAST_WALL - TOUCH:
        numbers = {"set_back": set_back, "hole": hole, "least": at_least(hole / 2 + LEAST_WALL)}
        said = "a hole of {hole} at {set_back} from the edge breaks out"
        found.append(stop("set back", said, "{least} at least", **numbers))
    if hole < drill - TOUCH:
        said = "a bush of {hole} is smaller than the drill of {drill}"
        numbers = {"hole": hole, "drill": drill, "least": at_least(drill)}
        found.append(stop("bush", said, "{least} at least", **numbers))
    return found


def _sheet(places: tuple[float, ...], length: float, set_back: float, drill: float, hole: float) -> draw.Drawing:
    rows = tuple((str(i), place, length - place, set_back) for i, place in enumerate(places, start=1))
    headings = ("Hole", "From left end", "From right end", "From edge")
    table = draw.Table("places", "Holes", headings, rows)
    notes = draw.Notes(
        "notes",
        "How to use it",
        (
            "Prick the centres through the sheet into the template's wood and drill them square at a drill press. "
            "Screw a cleat under the reference edge; it hangs on the edge of the board.",
            say(
                "Drill {drill}; holes in the template {hole}. Clamp template, board and a waste board below together; "
                "mark the drill for its depth.",
                drill=drill,
                hole=hole,
            ),
            "For a pair of boards turn the template over, cleat on the same edge: the holes are mirrored.",
        ),
    )
    purpose = "template for a row of holes, the same on every board: reference edge to the edge of the board"
    body = (_view(places, length, set_back, hole), table, notes)
    return draw.Drawing("template", "drilling template", purpose, body, (cautions.GENERAL, cautions.HAND_TOOLS))


def _view(places: tuple[float, ...], length: float, set_back: float, hole: float) -> draw.View:
    """The template from above, the edge of the board at y = 0."""
    left, right = 0.0, length
    top = set_back + hole / 2 + 12.0
    outline = draw.Line(draw.rectangle(left, 0, right, top))
    reference = draw.Line(draw.line((left - 3, 0), (right + 3, 0)), draw.Kind.REFERENCE)
    middle = draw.Line(draw.line((length / 2, 0), (length / 2, top)), draw.Kind.CENTRE)
    holes = tuple(
        draw.Hole(draw.Point(at, set_back), hole / 2, "hole" if i == 0 else "") for i, at in enumerate(places)
    )
    part = draw.Part("template", "Template", (outline, reference, middle), holes=holes)
    edge = draw.Dimension(draw.Point(left, 0), draw.Point(places[0], set_back), "left", "from the edge")
    first = draw.Dimension(draw.Point(left, 0), draw.Point(places[0], set_back), "below", "from the end")
    dimensions = [edge, first]
    check = first
    if len(places) > 1:
        check = draw.Dimension(
            draw.Point(places[0], set_back), draw.Point(places[-1], set_back), "above", "first to last hole"
        )
        dimensions.append(check)
    labels = (draw.Label("edge of the board", draw.Point(length * 0.7, 0), towards="below"),)
    return draw.View("template", "Template from above", (part,), tuple(dimensions), labels, check=check)
