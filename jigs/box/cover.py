"""The cover of a box: what it is, what to know before cutting, its parts, and the cards of the work in their order."""

from __future__ import annotations

import re
from collections.abc import Sequence

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.cards import Band, Beside, Card, Code, Column, Pictures, Text
from jigs.base.rules import Problem
from jigs.base.wording import Words, say
from jigs.box import woods
from jigs.box.chain import Box
from jigs.box.isometric import isometric
from jigs.box.rack import TEST_PIECE, finished, trial_pieces
from jigs.parts.wood.colours import ROUGH

_FIELD = re.compile(r"\{(\w+)\}")
TOLD = 3
"""So many problems stand on the cover, the worst first; the others are on the page of readings."""
_CARDS = {
    "box": "stock",
    "sides": "stock",
    "stock": "stock",
    "joint": "set-sled",
    "groove": "groove",
    "bottom": "bottom",
    "lid": "lid",
    "handle": "handle",
    "shell": "shell",
    "pattern": "pattern",
}
"""The card before which a problem of a section is read."""


def page(box: Box, cards: Sequence[Card], *, colour: bool = False) -> Card:
    """Return the cover of a box whose work is on these cards; with `colour` its picture shows the woods."""
    told = before_cutting(box)[:TOLD]
    bands: list[Band] = []
    if told:
        bands.append(_side_by_side([_problem(one, cards) for one in told]))
    picture = woods.taken_apart(box) if colour else isometric(box)
    if picture is not None:
        bands.append(Pictures((picture,), least=84.0, most=150.0))
    always = Column((Text("Always", (cautions.GENERAL,), small=True), Code()))
    bands.append(Beside(_parts(box, *((ROUGH,) if colour else ())), Beside(_list(cards), always, 0.6), 0.44))
    wood = box.file.sides.species
    about = " · ".join(words for words in (wood or "", "finger-jointed", *_kinds(box)) if words)
    return Card("cover", box.file.title, "", (), tuple(bands), about, "box", reading=True)


def before_cutting(box: Box) -> list[Problem]:
    """Return what must be known before cutting, the worst first."""
    return list(box.problems)


def _side_by_side(columns: Sequence[Band]) -> Band:
    if len(columns) == 1:
        return columns[0]
    return Beside(columns[0], _side_by_side(columns[1:]), 1 / len(columns))


def _problem(problem: Problem, cards: Sequence[Card]) -> Text:
    """Return a problem as a column: how bad, before which card, what and what to do."""
    name = _CARDS.get(problem.where.split(".")[0], "")
    place = f" · [card:{name}]" if any(card.name == name for card in cards) else ""
    return Text(f"{_SIGNS.get(problem.sign, problem.sign)}{place}", (worded(problem),), small=True)


_SIGNS = {"Error": "CAN’T BE BUILT", "GET": "TO GET", "CHOOSE": "NOTE"}
"""What stands on paper for a sign that is none of its words."""


def worded(problem: Problem) -> Words:
    """Return a problem with its way out as a sentence each."""
    todo = f" {_capital(problem.instead)}." if problem.ways else ""
    return say(_FIELD.sub(r"{\1:typed}", f"{_capital(problem.rule)}.{todo}"), **problem.numbers)


def _capital(sentence: str) -> str:
    """Begin a sentence with a capital, unless it begins with a number that is still to be read out."""
    return sentence if sentence.startswith("{") else sentence[:1].upper() + sentence[1:]


def _kinds(box: Box) -> list[str]:
    """Return what kind of box it is, in the words of its parts."""
    said = []
    if box.lid:
        said.append("lift-off lid")
    if box.handle:
        said.append("handle cut with a hole saw")
    if box.shell:
        said.append("carved shell")
    if box.pattern:
        said.append("carved")
    return said


def _parts(box: Box, *more: Words) -> Column:
    """Return the parts as cut, lengths along the grain, and how the corners are numbered; `more` is said below."""
    rows: list[tuple[draw.Cell, ...]] = [
        (f"{part.count} {part.name}", part.length, part.width, part.thickness) for part in finished(box)
    ]
    if box.numbers:
        sides = finished(box)[0]
        size = TEST_PIECE.size(box.file.units)
        rows.append((f"{trial_pieces()} test pieces", size, sides.width, sides.thickness))
    table = draw.Table("parts", "Parts, as cut", ("", "length", "width", "thick"), tuple(rows))
    said: list[Words] = ["Length runs along the grain."]
    if box.file.joint.method == "one stack":
        said.append("Corners 1 to 4; A and B are cut together in one stack.")
    long, wide = box.inside
    words = "Inside {long} × {wide}"
    if box.inside_depth is not None:
        words += " × {deep:cut down} deep" + (", {under:cut down} under the plug" if box.depth_under_plug else "")
    inside = say(f"{words}.", long=long, wide=wide, deep=box.inside_depth, under=box.depth_under_plug)
    return Column((table, Text("", (inside, *said, *more), small=True)))


def _list(cards: Sequence[Card]) -> Column:
    """Return the cards in the order of work, with their hold points."""
    rows = tuple((f"[number:{card.name}]", card.title, "H " * len(card.holds())) for card in cards)
    table = draw.Table("cards", "Cards, in order of work", ("", "", "holds"), rows)
    return Column((table, Text("", ("H: hold point, where work stops for a signature.",), small=True)))
