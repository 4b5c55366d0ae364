"""What `draw` spends on a whole box, as ratios in one run: its writers against bare calls of the same libraries.

The same marks, by the calls that a script would make: a line, a curve and a string at a time into reportlab's canvas,
a path and a text each into svgwrite's drawing. The floor is the same marks as a content stream joined by hand and
packed with zlib. Goal: both writers within 2 times the bare calls. Run with
`pytest tests/benchmarks/test_draw.py --benchmark-enable -s -n 0`.
"""

from __future__ import annotations

import io
import math
import subprocess
import sys
import time
import zlib
from collections.abc import Callable
from pathlib import Path as File
from typing import Any

import pytest

from jigs.drawing import ArcTo, Circle, Path
from layout import lettering, pdf, svg
from layout.marks import Bundle, Sheet, Stroke, Text
from tests.test_box_sheets import drawn

ROOT = File(__file__).parent.parent.parent
COMMAND = """
import resource, sys
from cli import main  # what the installed script does
try:
    main(["draw", *sys.argv[1:]])
finally:
    print(resource.getrusage(resource.RUSAGE_SELF).ru_maxrss)
"""
RUNS = 3


@pytest.fixture(autouse=True)
def only_when_asked(request: pytest.FixtureRequest) -> None:
    if not request.config.getoption("--benchmark-enable"):
        pytest.skip("a benchmark; run it with --benchmark-enable")


def seconds(work: Callable[[], object]) -> float:
    """Return the best of some runs."""
    best = float("inf")
    for _ in range(RUNS):
        begin = time.perf_counter()
        work()
        best = min(best, time.perf_counter() - begin)
    return best


# -- bare calls ----------------------------------------------------------------------------------------------------


def bare_pdf(bundle: Bundle) -> bytes:
    """Draw the marks with one call of reportlab's canvas a line, arc and text."""
    from reportlab.lib.units import mm  # noqa: PLC0415 - only where it is measured
    from reportlab.pdfgen import canvas as reportlab  # noqa: PLC0415 - only where it is measured

    buffer = io.BytesIO()
    canvas: Any = reportlab.Canvas(buffer, invariant=1, pageCompression=1)
    for sheet in bundle.sheets:
        canvas.setPageSize((sheet.paper.width * mm, sheet.paper.height * mm))
        canvas.scale(mm, mm)
        for group in sheet.groups():
            for stroke in group.strokes:
                _bare_stroke(canvas, stroke)
            for text in group.texts:
                _bare_text(canvas, text)
        canvas.showPage()
    canvas.save()
    return buffer.getvalue()


def _bare_stroke(canvas: Any, stroke: Stroke) -> None:
    canvas.setLineWidth(stroke.pen.width)
    canvas.setDash(list(stroke.pen.dashes))
    shape = stroke.shape
    if isinstance(shape, Circle):
        canvas.circle(*shape.centre, shape.radius)
    elif stroke.pen.filled:
        _bare_area(canvas, shape)
    else:
        at = shape.start
        for step in shape.steps:
            if isinstance(step, ArcTo):
                _bare_arc(canvas, step, at)
            else:
                canvas.line(*at, *step.end)
            at = step.end
        if shape.closed and at != shape.start:
            canvas.line(*at, *shape.start)


def _bare_area(canvas: Any, shape: Path) -> None:
    path = canvas.beginPath()
    path.moveTo(*shape.start)
    for step in shape.steps:
        path.lineTo(*step.end)
    path.close()
    canvas.drawPath(path, stroke=0, fill=1)


def _bare_arc(canvas: Any, step: ArcTo, at: tuple[float, float]) -> None:
    (x, y), radius = step.centre, step.radius
    begin = math.degrees(math.atan2(at[1] - y, at[0] - x))
    turn = math.degrees(math.atan2(step.end.y - y, step.end.x - x)) - begin
    extent = turn % 360 if step.anticlockwise else -(-turn % 360)
    canvas.arc(x - radius, y - radius, x + radius, y + radius, begin, extent)


def _bare_text(canvas: Any, text: Text) -> None:
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


def bare_svg(sheet: Sheet) -> str:
    """Draw the marks with one path or text of svgwrite each, y turned down."""
    import svgwrite  # noqa: PLC0415 - only where it is measured

    wide, high = sheet.paper.width, sheet.paper.height
    made = svgwrite.Drawing(size=(f"{wide}mm", f"{high}mm"), viewBox=f"0 0 {wide} {high}")
    for group in sheet.groups():
        held = made.g(id=group.name)
        for stroke in group.strokes:
            look = {"fill": "black"} if stroke.pen.filled else {"fill": "none", "stroke": "black"}
            held.add(made.path(_path_data(stroke.shape, high), stroke_width=stroke.pen.width, **look))
        for text in group.texts:
            at = (text.at.x, high - text.at.y)
            turned = {"transform": f"rotate(-90 {at[0]:.3f} {at[1]:.3f})"} if text.upright else {}
            size = lettering.size(text.height)
            held.add(made.text(text.words, insert=at, font_size=size, text_anchor=text.anchor, **turned))
        made.add(held)
    return str(made.tostring())


def _path_data(shape: Path | Circle, high: float) -> str:
    if isinstance(shape, Circle):
        (x, y), r = shape.centre, shape.radius
        half = f"A{r:.3f},{r:.3f} 0 0 0"
        return f"M{x - r:.3f},{high - y:.3f} {half} {x + r:.3f},{high - y:.3f} {half} {x - r:.3f},{high - y:.3f}"
    data, at = [f"M{shape.start.x:.3f},{high - shape.start.y:.3f}"], shape.start
    for step in shape.steps:
        end = f"{step.end.x:.3f},{high - step.end.y:.3f}"
        if isinstance(step, ArcTo):
            sweep = step.sweep(at)
            data.append(f"A{step.radius:.3f},{step.radius:.3f} 0 {int(abs(sweep) > math.pi)} {int(sweep < 0)} {end}")
        else:
            data.append(f"L{end}")
        at = step.end
    return " ".join([*data, "Z"] if shape.closed else data)


def floor(bundle: Bundle) -> list[bytes]:
    """Pack the marks of each page as a content stream joined by hand, chords for arcs, words as they are."""
    pages = []
    for sheet in bundle.sheets:
        code = []
        for group in sheet.groups():
            for stroke in group.strokes:
                (x, y), *rest = stroke.shape.points(0.02)
                code.append(f"{stroke.pen.width} w {x:.3f} {y:.3f} m")
                code += [f"{x:.3f} {y:.3f} l" for x, y in rest]
                code.append("f" if stroke.pen.filled else "S")
            code += [f"BT {text.at.x:.3f} {text.at.y:.3f} Td ({text.words}) Tj ET" for text in group.texts]
        pages.append(zlib.compress("\n".join(code).encode()))
    return pages


# -- ratios --------------------------------------------------------------------------------------------------------


def test_the_pdf_against_bare_calls() -> None:
    bundle = drawn("recipe-box").bundle
    ours, bare = seconds(lambda: pdf.write(bundle)), seconds(lambda: bare_pdf(bundle))
    least = seconds(lambda: floor(bundle))
    print(f"\nPDF of {len(bundle.sheets)} sheets: {ours / bare:.2f} times bare reportlab (goal 2)", end="")
    print(f", {ours / least:.2f} times a stream joined by hand and zlib")


def test_the_svgs_against_bare_calls() -> None:
    bundle = drawn("recipe-box").bundle
    ours = seconds(lambda: [svg.write(sheet, bundle.subject, bundle.correction) for sheet in bundle.sheets])
    bare = seconds(lambda: [bare_svg(sheet) for sheet in bundle.sheets])
    print(f"\nSVGs of {len(bundle.sheets)} sheets: {ours / bare:.2f} times bare svgwrite (goal 2)")


def test_the_whole_command(tmp_path: File) -> None:
    """Time and memory of everything: the chain, the sheets laid out, both kinds of file."""
    begin = time.perf_counter()
    command = [sys.executable, "-c", COMMAND, "samples/recipe-box.toml", "-o", str(tmp_path)]
    done = subprocess.run(command, check=True, capture_output=True, cwd=ROOT, text=True)
    took, peak = time.perf_counter() - begin, float(done.stdout.rsplit(maxsplit=1)[-1]) / 1024
    print(f"\ndraw samples/recipe-box.toml: {took:.1f} s, {peak:.0f} MiB at most")
