"""What makes a sheet legible, checked on the finished marks and not on how they were placed."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from jigs.base.drawing import Bounds
from jigs.record import replace
from layout.sheet.marks import Group, Sheet, Stroke, Text

EDGE = 4.2
"""What common printers leave white along an edge, mm."""
CAPITAL, ASCENT, DESCENT = 0.660, 0.73, 0.225
"""Of the font, as fractions of its size: a capital or a figure, the highest letter, the deepest."""
DEEP, HIGH = set("gjpqyQ,;()[]{}/|_§µ@&"), set("bdfhklijt()[]{}/|’“”'\"!?ÄÖÜß%°…")
"""Letters that reach below the baseline, and those that reach above a capital."""
LEAST_GAP = 0.25
"""Words nearer than this to a line or to other words touch it on a printer of 600 dpi, mm."""


def faults(sheet: Sheet) -> list[str]:
    """Return what is wrong with a sheet: words on lines or words, marks where no printer reaches, names twice."""
    texts = [(group.name, text) for group in sheet.groups() for text in group.texts if text.words.strip()]
    strokes = [(group, stroke) for group in sheet.groups() for stroke in group.strokes]
    found = _outside(sheet)
    lines = [_drawn(group, stroke).buffer(stroke.pen.width / 2 + LEAST_GAP) for group, stroke in strokes]
    boxes = [shapely.box(*_words(text)) for _, text in texts]
    tree = shapely.STRtree(lines)
    for i, j in tree.query(boxes, predicate="intersects").T:
        found.append(f"words '{texts[i][1].words}' of {texts[i][0]} touch a line of {strokes[j][0].name}")
    words = shapely.STRtree(boxes)
    for i, j in words.query(boxes, predicate="dwithin", distance=LEAST_GAP).T:
        if i < j:
            found.append(f"words '{texts[i][1].words}' touch '{texts[j][1].words}'")
    names = [group.name for group in sheet.groups()]
    found += [f"id '{name}' stands twice" for name in sorted(set(names)) if names.count(name) > 1]
    return found


def _drawn(group: Group, stroke: Stroke) -> BaseGeometry:
    """Return the line of a stroke, within the clip of its group."""
    path: BaseGeometry = shapely.LineString(stroke.shape.points(0.02))
    return path if group.clip is None else path.intersection(shapely.box(*group.clip))


def _words(text: Text) -> Bounds:
    """Return the box of what is printed: without the ring, and no deeper or higher than its letters reach."""
    box, size = replace(text, ring=0.0).box, text.height / CAPITAL
    below = 0.0 if set(text.words) & DEEP else DESCENT * size
    above = 0.0 if set(text.words) & HIGH else (ASCENT - CAPITAL) * size
    if text.upright:
        return Bounds(box.left + above, box.bottom, box.right - below, box.top)
    return Bounds(box.left, box.bottom + below, box.right, box.top - above)


def _outside(sheet: Sheet) -> list[str]:
    reach = Bounds(0, 0, sheet.paper.width, sheet.paper.height).grown(-EDGE)
    found = []
    for group in sheet.groups():
        lines = [stroke.shape.bounds for stroke in group.strokes] if group.clip is None else [group.clip]
        boxes: list[Bounds] = lines + [text.box for text in group.texts]
        found += [f"{group.name} leaves what a printer reaches: {box}" for box in boxes if not reach.holds(box)]
    return found
