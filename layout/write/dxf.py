"""A piece as DXF: closed polylines with true arcs, circles and points, in millimetres, a layer for each kind of work.

A rounded leg of a polyline is a bulge, the tangent of a quarter of its angle (as ezdxf documents the entity
LWPOLYLINE). Version R2000 is the oldest that has it.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterator
from contextlib import contextmanager

import ezdxf
from ezdxf.document import Drawing
from ezdxf.layouts import Modelspace

from jigs.base.drawing import ArcTo, Circle, Path, Point
from layout.sheet.cutting import LAYERS, CutPiece

VERSION = "R2000"
MILLIMETRES = 4
COLOURS = {"mark": 5, "drill": 3, "cut": 1}
"""Blue, green and red of the index of colours: many machines sort their work by them (common practice, no source)."""
_PLACES = 6


def write(piece: CutPiece) -> bytes:
    """Return the piece as a DXF document: the same piece gives the same bytes."""
    with _without_a_clock():
        document = ezdxf.new(VERSION, units=MILLIMETRES)
        document.header["$MEASUREMENT"] = 1
        for name in LAYERS:
            document.layers.add(name, color=COLOURS[name])
        _draw(document, piece)
        written = io.StringIO()
        document.write(written)
    text = f"999\n{piece.said}\n{written.getvalue()}"
    return text.encode(document.output_encoding)


@contextmanager
def _without_a_clock() -> Iterator[None]:
    """Have ezdxf write neither time nor chance: what it does for its own tests."""
    before = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = before


def _draw(document: Drawing, piece: CutPiece) -> None:
    space = document.modelspace()
    for name, shapes in piece.layers():
        for shape in shapes:
            _add(space, shape, name)
    box = piece.bounds
    document.header["$EXTMIN"] = (_number(box.left), _number(box.bottom), 0.0)
    document.header["$EXTMAX"] = (_number(box.right), _number(box.top), 0.0)


def _add(space: Modelspace, shape: Path | Circle | Point, layer: str) -> None:
    on = {"layer": layer}
    if isinstance(shape, Circle):
        space.add_circle(_place(shape.centre), _number(shape.radius), dxfattribs=on)
    elif isinstance(shape, Path):
        space.add_lwpolyline(_corners(shape), format="xyb", close=shape.closed, dxfattribs=on)
    else:
        space.add_point(_place(shape), dxfattribs=on)


def _corners(path: Path) -> list[tuple[float, float, float]]:
    """Return each corner of a path with the bulge of the leg that begins there."""
    found, at = [], path.start
    for step in path.steps:
        bulge = math.tan(step.sweep(at) / 4) if isinstance(step, ArcTo) else 0.0
        found.append((*_place(at), round(bulge, 12) + 0.0))
        at = step.end
    if not path.closed or math.dist(at, path.start) > 10**-_PLACES:
        found.append((*_place(at), 0.0))
    return found


def _place(point: Point) -> tuple[float, float]:
    return _number(point.x), _number(point.y)


def _number(value: float) -> float:
    """Return a length to a millionth of a mm, and never -0."""
    return round(value, _PLACES) + 0.0
