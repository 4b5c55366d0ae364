"""A sheet as SVG, one file a page: millimetres throughout, arcs as arcs, one path per pen inside each group.

Words keep their width in any viewer: each carries the length it was measured to have (SVG 1.1, textLength).
"""

from __future__ import annotations

import base64
import math
from typing import Any
from xml.etree import ElementTree

import svgwrite

from jigs.base import drawing as draw
from layout.sheet import carried as sheet_carried
from layout.sheet import lettering
from layout.sheet.carried import Carried
from layout.sheet.marks import PAPER, UNCHANGED, Group, Layer, Matrix, Pen, Sheet, Text, corrected
from layout.write.decimals import number

FONTS = f"'{lettering.FAMILY}','Source Sans 3','Noto Sans','DejaVu Sans',sans-serif"


def write(
    sheet: Sheet,
    subject: str,
    correction: Matrix = UNCHANGED,
    *,
    carried: Carried | None = None,
    validate: bool = False,
) -> bytes:
    """Return the sheet as an SVG document, with what it was made from in its metadata.

    `validate` has every element checked against SVG 1.1 as it is made.
    """
    high = sheet.paper.height
    document = svgwrite.Drawing(
        size=(f"{number(sheet.paper.width)}mm", f"{number(high)}mm"),
        viewBox=f"0 0 {number(sheet.paper.width)} {number(high)}",
        debug=validate,
    )
    document["font-family"] = FONTS
    document.set_desc(title=sheet.title, desc=f"{subject}; mark {sheet.mark}" if sheet.mark else subject)
    if carried is not None:
        document.set_metadata(_carried(carried))
    page = document
    if correction != UNCHANGED:
        page = document.add(document.g(id="printer-correction", transform=_matrix(sheet, correction)))
    for layer in sheet.layers:
        page.add(_layer(document, layer, high))
    written: str = document.tostring()
    return f'<?xml version="1.0" encoding="utf-8"?>\n{written}\n'.encode()


def _carried(carried: Carried) -> ElementTree.Element:
    """Return what the sheet was made from as an element of a namespace of its own."""
    said = {"xmlns:jigleaf": sheet_carried.NAMESPACE, "label": sheet_carried.label(carried), "name": carried.name}
    made = ElementTree.Element("jigleaf:carried", said)
    made.text = base64.b64encode(carried.content).decode()
    return made


def _matrix(sheet: Sheet, correction: Matrix) -> str:
    """Return the correction of the page with y pointing down: x' = a x + c y + e becomes a x - c Y + (e + c high)."""
    a, b, c, d, e, f = corrected(sheet.paper, correction)
    high = sheet.paper.height
    down = (a, -b, -c, d, e + c * high, high - d * high - f)
    return "matrix(" + " ".join(f"{value:.10f}" for value in down) + ")"


def _layer(document: Any, layer: Layer, high: float) -> Any:
    made = document.g(id=f"layer-{layer.name}")
    made.set_desc(title=layer.title)
    for group in layer.groups:
        made.add(_group(document, group, high))
    return made


def _group(document: Any, group: Group, high: float) -> Any:
    made = document.g(id=group.name)
    made.set_desc(title=group.title)
    inside = {"clip_path": f"url(#{_clip(document, group, high)})"} if group.clip else {}
    for pen, shapes in group.by_pen().items():
        data = "".join(circle_data(s, high) if isinstance(s, draw.Circle) else path_data(s, high) for s in shapes)
        made.add(document.path(d=data, **_style(pen), **inside))
    for text in group.texts:
        made.add(_text(document, text, high))
    return made


def _clip(document: Any, group: Group, high: float) -> str:
    """Define the clip of a group and return its id."""
    assert group.clip is not None, "asked for a group that is clipped"
    clip = document.clipPath(id=f"{group.name}-clip")
    corner = (number(group.clip.left), number(high - group.clip.top))
    clip.add(document.rect(corner, (number(group.clip.width), number(group.clip.height))))
    document.defs.add(clip)
    return f"{group.name}-clip"


def _style(pen: Pen) -> dict[str, Any]:
    colour = pen.colour.code if pen.colour else "white" if pen == PAPER else "black"
    if pen.filled:
        return {"fill": colour, "stroke": "none"}
    style: dict[str, Any] = {"fill": "none", "stroke": colour, "stroke_width": pen.width}
    if pen.dashes:
        style["stroke_dasharray"] = ",".join(number(dash) for dash in pen.dashes)
    return style


def path_data(path: draw.Path, high: float) -> str:
    """Return a path as the data of an SVG path on a page so high, mm."""
    data = [f"M{number(path.start.x)} {number(high - path.start.y)}"]
    at = path.start
    for step in path.steps:
        if isinstance(step, draw.ArcTo):
            data.append(_arc(step, at, high))
        else:
            data.append(f"L{number(step.end.x)} {number(high - step.end.y)}")
        at = step.end
    return "".join(data) + ("Z" if path.closed else "")


def _arc(step: draw.ArcTo, start: draw.Point, high: float) -> str:
    """Return an arc in pieces of a quarter turn at most, so that rounded ends move its centre no more than themselves.

    The file gives ends and radius. From the middle of a chord 2h the centre is sqrt(r² - h²) away, which changes by
    h/sqrt(r² - h²) of what h does: by 1 at a quarter turn, without bound at half a turn.
    """
    sweep, radius = step.sweep(start), number(step.radius)
    count = max(1, math.ceil(abs(sweep) / (math.pi / 2) - 1e-9))
    begin = math.degrees(math.atan2(start.y - step.centre.y, start.x - step.centre.x))
    turn = math.degrees(sweep) / count
    ends = [*(draw.on_circle(step.centre, step.radius, begin + turn * i) for i in range(1, count)), step.end]
    # y points down in SVG, so that an anticlockwise arc has sweep flag 0.
    return "".join(f"A{radius} {radius} 0 0 {int(sweep < 0)} {number(p.x)} {number(high - p.y)}" for p in ends)


def circle_data(circle: draw.Circle, high: float) -> str:
    """Return a circle as the data of an SVG path on a page so high, mm."""
    x, y, r = number(circle.centre.x - circle.radius), number(high - circle.centre.y), number(circle.radius)
    across = number(2 * float(r))  # of the radius as it is written: half circles of any other leave their centre
    return f"M{x} {y}a{r} {r} 0 1 0 {across} 0a{r} {r} 0 1 0 -{across} 0Z"


def _text(document: Any, text: Text, high: float) -> Any:
    x, y = number(text.at.x), number(high - text.at.y)
    said = {"x": x, "y": y, "font-size": number(lettering.size(text.height))}
    if text.upright:
        said["transform"] = f"rotate(-90 {x} {y})"
    if text.bold:
        said["font-weight"] = "bold"
    if text.white:
        said["fill"] = "white"
    if text.colour:
        said["fill"] = text.colour.code
    if text.anchor != "start":
        said["text-anchor"] = text.anchor
    if width := lettering.width(text.words, text.height, text.bold):  # words of none, as an empty cell has, need none
        said |= {"textLength": number(width), "lengthAdjust": "spacingAndGlyphs"}
    made = document.text(text.words)
    made.attribs = said  # under their names in SVG and as strings, as it would make them of what it is given
    return made
