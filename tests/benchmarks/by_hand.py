"""The floor: the marks of sheets as a PDF and as SVGs joined from strings, with nothing but zlib.

One path a pen within each group, arcs as curves of the same number, the whole font embedded once, its packing not
counted. Letters that the plain encoding lacks become question marks: as many glyphs, and nobody reads them.
"""

from __future__ import annotations

import functools
import math
import zlib
from collections.abc import Iterator
from html import escape
from pathlib import Path as File

from jigs.base.drawing import ArcTo, Circle, Path, Point
from layout.sheet import lettering
from layout.sheet.marks import Bundle, Sheet, Text
from layout.write.svg import FONTS

POINTS = 72 / 25.4
Curve = tuple[float, float, float, float, float, float]


def curves(centre: Point, radius: float, start: Point, sweep: float) -> Iterator[Curve]:
    """Yield an arc as cubic curves of 30 degrees at most, as the writer has it."""
    count = math.ceil(abs(sweep) / math.radians(30))
    turn = sweep / count
    handle = 4 / 3 * math.tan(turn / 4) * radius
    begin = math.atan2(start.y - centre.y, start.x - centre.x)
    for i in range(count):
        (c, s), (c2, s2) = ((math.cos(a), math.sin(a)) for a in (begin + i * turn, begin + (i + 1) * turn))
        x, y, x2, y2 = (centre.x + radius * c, centre.y + radius * s, centre.x + radius * c2, centre.y + radius * s2)
        yield x - handle * s, y + handle * c, x2 + handle * s2, y2 - handle * c2, x2, y2


def steps(shape: Path | Circle) -> Iterator[tuple[float, ...]]:
    """Yield the points of a shape: two numbers for its start and for each line, six for a curve."""
    if isinstance(shape, Circle):
        start = shape.centre.moved(shape.radius, 0)
        yield start
        yield from curves(shape.centre, shape.radius, start, math.tau)
        return
    at = shape.start
    yield at
    for step in shape.steps:
        if isinstance(step, ArcTo):
            yield from curves(step.centre, step.radius, at, step.sweep(at))
        else:
            yield step.end
        at = step.end


def is_closed(shape: Path | Circle) -> bool:
    """Tell whether a shape ends where it starts."""
    return isinstance(shape, Circle) or shape.closed


def pdf(bundle: Bundle) -> bytes:
    """Return the sheets as a PDF."""
    objects = [b"<</Type/Catalog/Pages 2 0 R>>", b""]
    fonts = {bold: _font(objects, bold) for bold in (False, True)}
    pages = []
    for sheet in bundle.sheets:
        packed = zlib.compress(_content(sheet).encode("cp1252", "replace"))
        objects.append(b"<</Length %d/Filter/FlateDecode>>stream\n%s\nendstream" % (len(packed), packed))
        wide, high = sheet.paper.width * POINTS, sheet.paper.height * POINTS
        used = f"/Resources<</Font<</F0 {fonts[False]} 0 R/F1 {fonts[True]} 0 R>>>>"
        box = f"/MediaBox[0 0 {wide} {high}]/Contents {len(objects)} 0 R"
        objects.append(f"<</Type/Page/Parent 2 0 R{box}{used}>>".encode())
        pages.append(f"{len(objects)} 0 R")
    objects[1] = f"<</Type/Pages/Count {len(pages)}/Kids[{' '.join(pages)}]>>".encode()
    return _joined(objects)


def _joined(objects: list[bytes]) -> bytes:
    parts, places, at = [b"%PDF-1.4\n"], [], 9
    for number, held in enumerate(objects, start=1):
        places.append(at)
        parts.append(b"%d 0 obj\n%s\nendobj\n" % (number, held))
        at += len(parts[-1])
    table = "".join(f"{place:010} 00000 n \n" for place in places)
    size = len(objects) + 1
    end = f"xref\n0 {size}\n0000000000 65535 f \n{table}trailer<</Size {size}/Root 1 0 R>>\nstartxref\n{at}\n%%EOF"
    return b"".join([*parts, end.encode()])


@functools.cache
def _packed_font(bold: bool) -> bytes:
    return zlib.compress(File(lettering.paths()[bold]).read_bytes())


def _font(objects: list[bytes], bold: bool) -> int:
    held = _packed_font(bold)
    objects.append(b"<</Length %d/Filter/FlateDecode>>stream\n%s\nendstream" % (len(held), held))
    said = "/FontBBox[-500 -400 1500 1100]/ItalicAngle 0/Ascent 984/Descent -273/CapHeight 660/StemV 80/Flags 32"
    objects.append(f"<</Type/FontDescriptor/FontName/Used{said}/FontFile2 {len(objects)} 0 R>>".encode())
    kind = "/Subtype/TrueType/BaseFont/Used/Encoding/WinAnsiEncoding"
    objects.append(f"<</Type/Font{kind}/FontDescriptor {len(objects)} 0 R>>".encode())
    return len(objects)


def _content(sheet: Sheet) -> str:
    code = [f"{POINTS} 0 0 {POINTS} 0 0 cm 1 j"]
    for group in sheet.groups():
        code.append(f"/{group.name} BMC")
        for pen, shapes in group.by_pen().items():
            code.append(f"{pen.width} w [{' '.join(map(str, pen.dashes))}] 0 d")
            for shape in shapes:
                (x, y), *rest = steps(shape)
                code.append(f"{x:.4f} {y:.4f} m")
                for step in rest:
                    if len(step) == 2:
                        code.append("{:.4f} {:.4f} l".format(*step))
                    else:
                        code.append("{:.4f} {:.4f} {:.4f} {:.4f} {:.4f} {:.4f} c".format(*step))
                if is_closed(shape):
                    code.append("h")
            code.append("f" if pen.filled else "S")
        code += [_words(text) for text in group.texts]
        code.append("EMC")
    return "\n".join(code)


def back(text: Text) -> float:
    """Return how far before its place a text begins, in mm."""
    if text.anchor == "start":
        return 0.0
    return lettering.width(text.words, text.height, text.bold) * (0.5 if text.anchor == "middle" else 1.0)


def _words(text: Text) -> str:
    x, y = text.at.moved(0, -back(text)) if text.upright else text.at.moved(-back(text), 0)
    turn = "0 1 -1 0" if text.upright else "1 0 0 1"
    words = text.words.replace("\\", "\\\\").replace("(", "\\(").replace(")", "\\)")
    font = f"/F{int(text.bold)} {lettering.size(text.height):.4f} Tf"
    return f"BT {font} {turn} {x:.4f} {y:.4f} Tm ({words}) Tj ET"


def svg(sheet: Sheet) -> str:
    """Return a sheet as SVG: the same elements with the same attributes as the writer makes."""
    wide, high = sheet.paper.width, sheet.paper.height
    size = f'width="{wide}mm" height="{high}mm" viewBox="0 0 {wide} {high}"'
    rows = [f'<svg xmlns="http://www.w3.org/2000/svg" {size}><title>{escape(sheet.title)}</title>']
    for layer in sheet.layers:
        rows.append(f'<g id="layer-{layer.name}"><title>{escape(layer.title)}</title>')
        for group in layer.groups:
            rows.append(f'<g id="{group.name}"><title>{escape(group.title)}</title>')
            for pen, shapes in group.by_pen().items():
                look = 'fill="black"' if pen.filled else f'fill="none" stroke="black" stroke-width="{pen.width}"'
                if pen.dashes:
                    look += f' stroke-dasharray="{",".join(map(str, pen.dashes))}"'
                rows.append(f'<path d="{"".join(path_data(shape, high) for shape in shapes)}" {look}/>')
            rows += [_svg_words(text, high) for text in group.texts]
            rows.append("</g>")
        rows.append("</g>")
    return "\n".join([*rows, "</svg>"])


def path_data(shape: Path | Circle, high: float) -> str:
    """Return a shape as the data of an SVG path, y turned down."""
    if isinstance(shape, Circle):
        (x, y), r = shape.centre, shape.radius
        half = f"a{r:.4f} {r:.4f} 0 1 0"
        return f"M{x - r:.4f} {high - y:.4f}{half} {2 * r:.4f} 0{half} {-2 * r:.4f} 0Z"
    at = shape.start
    data = [f"M{at.x:.4f} {high - at.y:.4f}"]
    for step in shape.steps:
        x, y = step.end
        if isinstance(step, ArcTo):
            sweep, r = step.sweep(at), step.radius
            data.append(f"A{r:.4f} {r:.4f} 0 {int(abs(sweep) > math.pi)} {int(sweep < 0)} {x:.4f} {high - y:.4f}")
        else:
            data.append(f"L{x:.4f} {high - y:.4f}")
        at = step.end
    return "".join(data) + ("Z" if shape.closed else "")


def _svg_words(text: Text, high: float) -> str:
    x, y = text.at.x, high - text.at.y
    turn = f' transform="rotate(-90 {x:.4f} {y:.4f})"' if text.upright else ""
    bold = ' font-weight="bold"' if text.bold else ""
    long = f'textLength="{lettering.width(text.words, text.height, text.bold):.4f}" lengthAdjust="spacingAndGlyphs"'
    look = f'font-family="{FONTS}" font-size="{lettering.size(text.height):.4f}" text-anchor="{text.anchor}"{bold}'
    return f'<text x="{x:.4f}" y="{y:.4f}" {look} {long}{turn}>{escape(text.words)}</text>'
