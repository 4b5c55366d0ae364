"""What makes a sheet legible, checked on the finished marks and not on how they were placed."""

from __future__ import annotations

import shapely
from shapely.geometry.base import BaseGeometry

from jigs.base.drawing import Bounds
from layout.sheet.marks import Group, Sheet, Stroke

LEAST_GAP = 0.25
"""Words nearer than this to a line or to other words touch it on a printer of 600 dpi, mm."""


def faults(sheet: Sheet) -> list[str]:
    """Return what is wrong with a sheet: words on lines or words, marks outside the page's frame, names used twice."""
    texts = [(group.name, text) for group in sheet.groups() for text in group.texts if text.words.strip()]
    strokes = [(group, stroke) for group in sheet.groups() for stroke in group.strokes]
    found = _outside(sheet)
    lines = [_drawn(group, stroke).buffer(stroke.pen.width / 2 + LEAST_GAP) for group, stroke in strokes]
    boxes = [shapely.box(*text.box) for _, text in texts]
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


def _outside(sheet: Sheet) -> list[str]:
    frame = sheet.paper.frame
    found = []
    for group in sheet.groups():
        lines = [stroke.shape.bounds for stroke in group.strokes] if group.clip is None else [group.clip]
        boxes: list[Bounds] = lines + [text.box for text in group.texts]
        found += [f"{group.name} leaves the frame: {box}" for box in boxes if not frame.holds(box)]
    return found
