"""What is wrong with a finished page of cards or templates, seen on its marks and not on how they were placed."""

from __future__ import annotations

from collections.abc import Sequence

import shapely
from shapely.geometry.base import BaseGeometry

from jigs.base.cards import Band, Beside, Card, Checks, Hold, Order, Pictures, Settings, Sheets, Text
from jigs.base.drawing import Bounds, Table, View
from jigs.base.lengths import Units
from layout.pages import compose
from layout.pages.job import Job
from layout.pages.voice import Voice
from layout.sheet import lettering, marks, paper
from layout.sheet.hand import ORDINARY, Hand
from layout.sheet.marks import Bundle, Sheet
from layout.sheet.marks import Text as Written

LEAST_GAP = 0.25
"""Words nearer than this to a line or to other words touch it on a printer of 600 dpi, mm."""
OFF_THE_EDGE = 4.0
"""What no mark may come nearer to the edge of the paper, mm."""
WHITE = (marks.PAPER, marks.BAR, marks.SOLID)
"""Areas: what covers other parts, what white words stand on, arrow heads."""


def composed(sheets: Sheets, page: str = "A4", units: Units = "mm", hand: Hand = ORDINARY) -> tuple[Bundle, Bundle]:
    """Return the cards and the templates of some sheets as they are printed."""
    return compose.compose(Job("box", "Box", "settings", units, "abc123", hand=hand), sheets, paper.named(page))


def faults(sheet: Sheet) -> list[str]:
    """Return what is wrong with a page: words of views on lines or words, marks off the paper, names twice."""
    groups = list(sheet.groups())
    found = [
        f"id '{name}' stands twice" for name in {g.name for g in groups if [o.name for o in groups].count(g.name) > 1}
    ]
    texts = [text for group in groups for text in group.texts if text.words.strip()]
    rings = {text.circle() for text in texts if text.ring}
    lines: list[BaseGeometry] = []
    boxes: list[Bounds] = [_room(text) for text in texts]
    for group in groups:
        boxes += [group.clip] if group.clip else [stroke.shape.bounds for stroke in group.strokes]
        for stroke in group.strokes:
            if stroke.pen not in WHITE and stroke.shape not in rings:
                line: BaseGeometry = shapely.LineString(stroke.shape.points(0.02))
                line = line.intersection(shapely.box(*group.clip)) if group.clip else line
                lines.append(line.buffer(stroke.pen.width / 2 + LEAST_GAP))
    of_views = [text for g in groups if g.name.endswith("-writing") for text in g.texts]
    tree = shapely.STRtree(lines)
    for text in of_views:
        if tree.query(_shape(text), predicate="intersects").size:
            found.append(f"words '{text.words}' touch a line")
        for other in texts:
            if other != text and _shape(text).dwithin(_shape(other), LEAST_GAP):
                found.append(f"words '{text.words}' touch '{other.words}'")
    page = Bounds(0, 0, sheet.paper.width, sheet.paper.height).grown(-OFF_THE_EDGE)
    return [*found, *(f"off the paper: {box}" for box in boxes if not page.holds(box))]


def _room(text: Written) -> Bounds:
    return text.circle().bounds if text.ring else text.box


def _shape(text: Written) -> BaseGeometry:
    """Return the room of words; of a number in a ring what is well inside it, as leaders end on the ring."""
    if not text.ring:
        return shapely.box(*text.box)
    return shapely.Point(*text.circle().centre).buffer(text.ring - 1.0)


# -- what they say -------------------------------------------------------------------------------------------------


def bands(card: Card) -> list[Band]:
    """Return the bands of a card, those side by side one after the other."""
    waiting = list(card.bands)
    found: list[Band] = []
    while waiting:
        band = waiting.pop(0)
        if isinstance(band, Beside):
            waiting[:0] = [band.left, band.right]
        else:
            found.append(band)
    return found


def views(card: Card) -> dict[str, View]:
    """Return the pictures of a card by name."""
    return {view.name: view for band in bands(card) if isinstance(band, Pictures) for view in band.views}


def lost_words(sheets: Sheets, pages: Sequence[Sheet], units: Units) -> list[str]:
    """Return what is named in a picture and is not written on it."""
    voice = Voice(units)
    written: dict[str, str] = {}
    for group in (group for sheet in pages for group in sheet.groups()):
        written[group.name] = " ".join([written.get(group.name, ""), *(text.words for text in group.texts)])
    found = []
    for card in sheets.cards:
        for view in views(card).values():
            there = " ".join(words for name, words in written.items() if name.endswith(f"-{view.name}-writing"))
            said = [voice.said(label.words) for label in view.labels]
            found += [f"{card.name}, {view.name}: {w}" for words in said for w in words.split() if w not in there]
    return found


def settings_of(card: Card, units: Units = "mm") -> dict[str, str]:
    """Return the values of a card's settings by name, as they are printed."""
    voice = Voice(units)
    return {row.name: voice.value(row) for band in bands(card) if isinstance(band, Settings) for row in band.rows}


def said(card: Card, units: Units = "mm") -> str:
    """Return all that a card says, but for its pictures, in one line."""
    voice, words = Voice(units), []
    for caution in card.cautions:
        words += [caution.hazard, caution.words]
    for band in bands(card):
        if isinstance(band, Settings):
            words += [x for row in band.rows for x in (row.what, voice.value(row), row.using)]
        elif isinstance(band, Checks):
            words += [x for row in band.rows for x in (row.what, voice.limits(row))] + [band.words]
        elif isinstance(band, Hold):
            words.append(band.words)
        elif isinstance(band, Order):
            words += [band.title, *band.steps]
        elif isinstance(band, Text):
            words += band.paragraphs
        elif isinstance(band, Table):
            words += [cell for row in band.rows for cell in row if isinstance(cell, str)]
    return " | ".join(voice.said(each) for each in words).replace(lettering.NO_BREAK, " ")
