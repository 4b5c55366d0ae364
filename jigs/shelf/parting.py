"""A box glued shut and sawn open: the finger that is made wide, so that the joint stays even after the cut."""

from __future__ import annotations

from typing import Annotated

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import refuse
from jigs.base.kinds import Count, Length
from jigs.base.rules import Problem, stop, warn
from jigs.base.usual import Usual
from jigs.base.wording import Offer, Words, at_least, at_most, say
from jigs.trade.fingers import TOUCH
from jigs.trade.spacing import parted_finger

STRIP = 25.0


@jig("parting", title="Lid parted by the saw", summary="a wide finger to saw a closed box open by")
def parting(
    *,
    finger: Annotated[float, Length("finger width", 3, 60)],
    socket: Annotated[float, Length("socket the cutter makes, measured in wood", 3, 60)],
    parts: Annotated[int, Count("fingers and sockets across the board", 5, 199)],
    wide: Annotated[int, Count("the part to be sawn through, counted from the bottom edge", 2, 198)],
    kerf: Annotated[float, Length("width of the saw's cut", 0.5, 8)] = Usual(3.2, 1 / 8).default,
    planing: Annotated[float, Length("planed from each edge after the cut", 0, 3)] = Usual(0.3, 1 / 64).default,
) -> Plan:
    """Where the parts lie when one is made wide, and where the saw goes.

    Example: --finger 9.92 --socket 10.02 --parts 9 --wide 7

    Sources: Finger, kerf and planing add up: `jigs/trade/spacing.py`.
    """
    found = _problems(parts, wide, finger, kerf, planing)
    refuse(found)
    long = wide % 2 == 1
    own = finger if long else socket
    broad = parted_finger(finger=own, kerf=kerf, planing=planing)
    edges = _edges(parts, wide, finger, socket, broad)
    start = edges[wide - 1] + own / 2 + planing
    numbers = {
        "wide_part": broad,
        "wider": broad - own,
        "wide_gap": finger + broad - own,
        "fin": broad - own > socket,
        "saw_from": start,
        "saw_to": start + kerf,
        "width": edges[-1],
        "box_height": edges[wide - 1] + own / 2,
        "lid_height": edges[-1] - edges[wide] + own / 2,
        "edges": edges,
    }
    title = say("Box sawn open through part {part}, {broad} wide", part=str(wide), broad=broad)
    return Plan(title, numbers, (_sheet(edges, wide, numbers, kerf, planing, own),), tuple(found))


def _problems(parts: int, wide: int, finger: float, kerf: float, planing: float) -> list[Problem]:
    found, taken = [], kerf + 2 * planing
    if not 2 <= wide <= parts - 1:
        numbers = {"wide": str(wide), "most": Offer(parts - 1, "down")}
        said = "part {wide} is at the edge of the board: nothing is left to hold box or lid"
        found.append(stop("wide", said, "part {most} at most", **numbers))
    if finger < taken - TOUCH:
        found.append(
            warn(
                "finger",
                "saw and plane take {taken}, more than a finger of {finger}: the join shows",
                ("a blade that cuts {thinner} at most", "a finger of {wider} at least"),
                taken=taken,
                finger=finger,
                thinner=at_most(finger - 2 * planing, "kerf"),
                wider=at_least(taken),
            )
        )
    return found


def _edges(parts: int, wide: int, finger: float, socket: float, broad: float) -> list[float]:
    """Return where parts begin and end on a long board, from the bottom edge; part 1 is a finger."""
    edges = [0.0]
    for number in range(1, parts + 1):
        own = broad if number == wide else finger if number % 2 else socket
        edges.append(edges[-1] + own)
    return edges


def _sheet(
    edges: list[float], wide: int, numbers: dict[str, object], kerf: float, planing: float, own: float
) -> draw.Drawing:
    rows: list[tuple[draw.Cell, ...]] = [
        (str(i), "finger" if i % 2 else "socket", edges[i - 1], edges[i]) for i in range(1, len(edges))
    ]
    table = draw.Table("parts", "Front and back, from the bottom edge", ("Part", "", "from", "to"), tuple(rows))
    notes = draw.Notes(
        "notes",
        "How to cut it",
        (
            _how_to_cut(wide, numbers),
            say(
                "After gluing saw from {start} to {end}, measured from the bottom edge, all four sides at one setting "
                "of the fence; the last two sides with wedges of the kerf, {kerf}, taped into the cuts.",
                start=numbers["saw_from"],
                end=numbers["saw_to"],
                kerf=kerf,
            ),
            say(
                "Plane {planing} from each edge. Box and lid are then left with half of a part of {own} each: closed, "
                "the joint runs on as if it had not been cut.",
                planing=planing,
                own=own,
            ),
        ),
    )
    purpose = "edge of front and back at full size: the part that is made wide and the saw's cut through it"
    body = (_view(edges, wide, numbers), table, notes)
    return draw.Drawing("stick", "parting stick", purpose, body, (cautions.GENERAL, cautions.FINGERS, cautions.BLADE))


def _how_to_cut(wide: int, numbers: dict[str, object]) -> Words:
    """Say how the wide part is made on the sled: a wider gap for one step widens a finger, two gaps in one a socket.

    Step s of the stack cuts part 2s of front and back and part 2s - 1 of the ends.
    """
    also = "at the usual gap and, before they are moved on, at a gap of {wide_gap} too"
    if numbers["fin"]:
        also += ", and in between, so that nothing is left standing"
    if wide % 2:
        words = (
            "Part {wide} is a finger of front and back, and a socket of the ends. In step {step} of the stack cut "
            f"front and back with the plate moved to a gap of {{wide_gap}} only; cut the ends {also}."
        )
    else:
        words = (
            "Part {wide} is a socket of front and back, and a finger of the ends. In step {step} of the stack cut "
            f"front and back {also}; cut the ends at the usual gap. In step {{after}} cut the ends at {{wide_gap}} "
            "only, front and back at the usual gap."
        )
    step = (wide + 1) // 2
    return say(
        words + " All other steps as always.", wide=wide, step=step, after=step + 1, wide_gap=numbers["wide_gap"]
    )


def _view(edges: list[float], wide: int, numbers: dict[str, object]) -> draw.View:
    """The board's edge on its face, sockets hatched, the saw's cut dashed."""
    width = edges[-1]
    pieces = [draw.rectangle(edges[i], 0, edges[i + 1], STRIP) for i in range(len(edges) - 1)]
    sockets = tuple(piece for i, piece in enumerate(pieces, start=1) if i % 2 == 0)
    reference = draw.Line(draw.line((0, -3), (0, STRIP + 3)), draw.Kind.REFERENCE)
    stick = draw.Part("stick", "Front and back", (*draw.lines(pieces), reference), hatched=sockets)
    start, end = float(str(numbers["saw_from"])), float(str(numbers["saw_to"]))
    cuts = [draw.line((at, -3), (at, STRIP + 3)) for at in (start, end)]
    saw = draw.Part("saw", "Saw", draw.lines(cuts, draw.Kind.HIDDEN))
    whole = draw.Dimension(draw.Point(0, STRIP), draw.Point(width, STRIP), "above", "width")
    dimensions = (
        whole,
        draw.Dimension(draw.Point(edges[wide - 1], 0), draw.Point(edges[wide], 0), "below", "wide part"),
        draw.Dimension(draw.Point(0, 0), draw.Point(start, 0), "below", "to the saw"),
    )
    labels = (
        draw.Label("bottom edge", draw.Point(0, STRIP + 2), towards="left"),
        draw.Label("saw", draw.Point((start + end) / 2, STRIP + 2), towards="above"),
    )
    return draw.View("stick", "Edge of front and back", (stick, saw), dimensions, labels, check=whole)
