"""The same marks through the calls of other libraries: one subpath a stroke, pens, words in the same font."""

from __future__ import annotations

import io
import math
from collections.abc import Sequence
from typing import Any

import pytest
import svgwrite
from reportlab.pdfgen import canvas as reportlab

from jigs.base.drawing import ArcTo, Circle, Path
from layout.sheet import lettering
from layout.sheet.marks import Bundle, Sheet, Stroke, Text
from tests.benchmarks.by_hand import POINTS, back, is_closed, path_data, steps

# -- reportlab and svgwrite, a call a mark -------------------------------------------------------------------------


def reportlab_pdf(bundle: Bundle) -> bytes:
    """Draw with a path of reportlab's canvas for each stroke, and a string for each text."""
    buffer = io.BytesIO()
    canvas: Any = reportlab.Canvas(buffer, invariant=1, pageCompression=1)
    for sheet in bundle.sheets:
        canvas.setPageSize((sheet.paper.width * POINTS, sheet.paper.height * POINTS))
        canvas.scale(POINTS, POINTS)
        for group in sheet.groups():
            for stroke in group.strokes:
                _stroke(canvas, stroke)
            for text in group.texts:
                _string(canvas, text)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _stroke(canvas: Any, stroke: Stroke) -> None:
    canvas.setLineWidth(stroke.pen.width)
    canvas.setDash(list(stroke.pen.dashes))
    path = canvas.beginPath()
    start, *rest = steps(stroke.shape)
    path.moveTo(*start)
    for step in rest:
        (path.lineTo if len(step) == 2 else path.curveTo)(*step)
    if is_closed(stroke.shape):
        path.close()
    canvas.drawPath(path, stroke=int(not stroke.pen.filled), fill=int(stroke.pen.filled))


def _string(canvas: Any, text: Text) -> None:
    canvas.setFont(lettering.font(text.bold).fontName, lettering.size(text.height))
    draw = {"start": canvas.drawString, "middle": canvas.drawCentredString, "end": canvas.drawRightString}[text.anchor]
    if not text.upright:
        draw(*text.at, text.words)
        return
    canvas.saveState()
    canvas.translate(*text.at)
    canvas.rotate(90)
    draw(0, 0, text.words)
    canvas.restoreState()


def svgwrite_svg(sheet: Sheet) -> str:
    """Draw with one path or text of svgwrite for each mark."""
    wide, high = sheet.paper.width, sheet.paper.height
    made = svgwrite.Drawing(size=(f"{wide}mm", f"{high}mm"), viewBox=f"0 0 {wide} {high}")
    for group in sheet.groups():
        held = made.g(id=group.name)
        for stroke in group.strokes:
            look = {"fill": "black"} if stroke.pen.filled else {"fill": "none", "stroke": "black"}
            held.add(made.path(path_data(stroke.shape, high), stroke_width=stroke.pen.width, **look))
        for text in group.texts:
            at = (text.at.x, high - text.at.y)
            turned = {"transform": f"rotate(-90 {at[0]:.3f} {at[1]:.3f})"} if text.upright else {}
            size = lettering.size(text.height)
            held.add(made.text(text.words, insert=at, font_size=size, text_anchor=text.anchor, **turned))
        made.add(held)
    return str(made.tostring())


# -- matplotlib, one path a pen ------------------------------------------------------------------------------------


def matplotlib_files(sheets: Sequence[Sheet], kind: str) -> list[bytes]:
    """Draw a figure for each sheet: one path a pen in each group, which is the least that matplotlib can be asked."""
    matplotlib = pytest.importorskip("matplotlib", reason="matplotlib is in the extra 'bench'")
    settings = {"pdf.fonttype": 42, "svg.fonttype": "none", "path.simplify": False, "text.parse_math": False}
    made = []
    with matplotlib.rc_context(settings):
        for sheet in sheets:
            buffer = io.BytesIO()
            _figure(sheet).savefig(buffer, format=kind)
            made.append(buffer.getvalue())
    return made


def _figure(sheet: Sheet) -> Any:
    figures, paths = pytest.importorskip("matplotlib.figure"), pytest.importorskip("matplotlib.path")
    patches, transforms = pytest.importorskip("matplotlib.patches"), pytest.importorskip("matplotlib.transforms")
    fonts = pytest.importorskip("matplotlib.font_manager")
    wide, high = sheet.paper.width, sheet.paper.height
    figure = figures.Figure(figsize=(wide / 25.4, high / 25.4))
    to_inches = transforms.Affine2D().scale(1 / 25.4) + figure.dpi_scale_trans
    for group in sheet.groups():
        for pen, shapes in group.by_pen().items():
            points: list[tuple[float, float]] = []
            codes: list[int] = []
            for shape in shapes:
                _path_codes(shape, points, codes)
            width = pen.width * POINTS
            dashes = (0, [dash / pen.width for dash in pen.dashes]) if pen.dashes else "solid"
            look = {"facecolor": "black", "linewidth": 0} if pen.filled else {"fill": False, "linewidth": width}
            path = paths.Path(points, codes)
            figure.add_artist(patches.PathPatch(path, transform=to_inches, linestyle=dashes, **look))
        for text in group.texts:
            font = fonts.FontProperties(fname=lettering.paths()[text.bold], size=lettering.size(text.height) * POINTS)
            turned = {"rotation": 90, "rotation_mode": "anchor"} if text.upright else {}
            anchor = {"start": "left", "middle": "center", "end": "right"}[text.anchor]
            place = (text.at.x / wide, text.at.y / high)
            figure.text(*place, text.words, fontproperties=font, ha=anchor, va="baseline", **turned)
    return figure


def _path_codes(shape: Path | Circle, points: list[tuple[float, float]], codes: list[int]) -> None:
    """Add a shape to the points and codes of a matplotlib path: 1 moves, 2 is a line, 4 a cubic curve, 79 closes."""
    start, *rest = steps(shape)
    points.append((start[0], start[1]))
    codes.append(1)
    for step in rest:
        points += zip(step[::2], step[1::2], strict=True)
        codes += [2] if len(step) == 2 else [4, 4, 4]
    if is_closed(shape):
        points.append((start[0], start[1]))
        codes.append(79)


# -- ezdxf's drawing add-on ----------------------------------------------------------------------------------------


def ezdxf_pdfs(sheets: Sequence[Sheet]) -> list[bytes]:
    """Draw the entities of each sheet with ezdxf's drawing add-on and pymupdf.

    A polyline with bulges or a circle for each stroke, and a TEXT: the add-on draws words as filled outlines.
    """
    ezdxf = pytest.importorskip("ezdxf", reason="ezdxf is in the extra 'bench'")
    drawing, layout = (pytest.importorskip(f"ezdxf.addons.drawing{name}") for name in ("", ".layout"))
    pymupdf = pytest.importorskip("ezdxf.addons.drawing.pymupdf")
    made = []
    for sheet in sheets:
        document = ezdxf.new()
        _entities(document.modelspace(), sheet)
        backend = pymupdf.PyMuPdfBackend()
        drawing.Frontend(drawing.RenderContext(document), backend).draw_layout(document.modelspace())
        page = layout.Page(sheet.paper.width, sheet.paper.height, layout.Units.mm)
        made.append(bytes(backend.get_pdf_bytes(page)))
    return made


def _entities(space: Any, sheet: Sheet) -> None:
    for group in sheet.groups():
        for stroke in group.strokes:
            weight = {"lineweight": round(100 * stroke.pen.width)}
            if isinstance(stroke.shape, Circle):
                space.add_circle(stroke.shape.centre, stroke.shape.radius, dxfattribs=weight)
            else:
                space.add_lwpolyline(_bulges(stroke.shape), format="xyb", close=stroke.shape.closed, dxfattribs=weight)
        for text in group.texts:
            at = text.at.moved(0, -back(text)) if text.upright else text.at.moved(-back(text), 0)
            space.add_text(text.words, height=text.height, rotation=90 * text.upright).set_placement(at)


def _bulges(path: Path) -> list[tuple[float, float, float]]:
    """Return the corners of a polyline, each with the bulge of what follows: the tangent of a quarter of the sweep."""
    corners, at = [], path.start
    for step in path.steps:
        corners.append((at.x, at.y, math.tan(step.sweep(at) / 4) if isinstance(step, ArcTo) else 0.0))
        at = step.end
    return [*corners, (at.x, at.y, 0.0)]
