"""The card of what to do after a test joint: what was read, what to move with its pictures, what to expect."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.base import drawing as draw
from jigs.base.cards import Band, Card, Order, Pictures, Text
from jigs.parts.joint import set_card
from jigs.parts.joint.made import Sled
from jigs.parts.joint.remedy_pictures import Pictured
from jigs.record import replace


def card(sled: Sled, pictures: Sequence[Pictured], steps: Sequence[str], said: Sequence[str], number: int) -> Card:
    """Return the card of the steps after the test joint of this number; `said` is what was read and what to expect."""
    saw = sled.machine == "table saw"
    views = tuple(_in_line(i, one) for i, one in enumerate(pictures, start=1))
    large = [one.drawn for one in pictures if one.drawn]
    bands: list[Band] = [Text("", tuple(said[:2]))]
    if views:
        bands.append(Pictures(views, least=52.0, most=84.0, in_row=2))
    if steps:
        bands.append(Order(tuple(steps), "Do it in this order"))
    again = ("Cut another test joint and read it.",) if steps else ()
    bands.append(Text("Then", (*said[2:], *again, *large)))
    place = "Table saw" if saw else "Router table"
    cautions = set_card.SAW if saw else set_card.ROUTER
    title = f"After test joint {number}"
    return Card("tune-sled", title, place, cautions, tuple(bands), "the sled", "sled", called=f"J{number}")


def _in_line(number: int, one: Pictured) -> draw.View:
    """Return a picture for paper: what it shows in colour is outlined too."""
    parts = tuple(replace(part, fills=(), grain=()) for part in one.view.parts)
    return replace(one.view, name=f"step-{number}", title=f"{number}: {one.view.title}", parts=parts)
