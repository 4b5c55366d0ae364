"""A piece as an SVG of cut lines alone: millimetres, arcs as arcs, a group and a colour for each kind of work."""

from __future__ import annotations

import svgwrite

from jigs.base.drawing import Circle, Path, Point, line
from layout.sheet.cutting import CutPiece
from layout.write.decimals import number
from layout.write.svg import circle_data, path_data

COLOURS = {"mark": "#0000ff", "drill": "#008000", "cut": "#ff0000"}
"""Many machines sort their work by colours (common practice, no source); the groups are called by it too."""
_LINE = 0.1
_CROSS = 1.0
"""Half of the cross that stands for a centre, mm."""


def write(piece: CutPiece) -> bytes:
    """Return the piece as an SVG document, as large as the box round it."""
    box = piece.bounds
    document = svgwrite.Drawing(
        size=(f"{number(box.width)}mm", f"{number(box.height)}mm"),
        viewBox=f"0 0 {number(box.width)} {number(box.height)}",
        debug=False,
    )
    document.set_desc(title=piece.title, desc=piece.said)
    for name, shapes in piece.layers():
        group = document.add(document.g(id=name, fill="none", stroke=COLOURS[name], stroke_width=_LINE))
        for shape in shapes:
            group.add(document.path(d=_data(shape, box.height)))
    written: str = document.tostring()
    return f'<?xml version="1.0" encoding="utf-8"?>\n{written}\n'.encode()


def _data(shape: Path | Circle | Point, high: float) -> str:
    if isinstance(shape, Circle):
        return circle_data(shape, high)
    if isinstance(shape, Path):
        return path_data(shape, high)
    across = line((shape.x - _CROSS, shape.y), (shape.x + _CROSS, shape.y))
    up = line((shape.x, shape.y - _CROSS), (shape.x, shape.y + _CROSS))
    return path_data(across, high) + path_data(up, high)
