"""Sheets as one PDF: an unrounded page box, one map from mm to points, the font embedded.

Every group is marked content under its own name, and the outline lists the sheets and the parts on them. Strokes are
written straight into the page's content, one path per pen, which is about three times faster than a call a line.
"""

from __future__ import annotations

import io
import math
from typing import Any

from reportlab import rl_config
from reportlab.pdfbase import pdfdoc
from reportlab.pdfgen import canvas as reportlab

from jigs.base import drawing as draw
from layout.sheet import carried as sheet_carried
from layout.sheet import lettering
from layout.sheet.carried import Carried
from layout.sheet.marks import PAPER, UNCHANGED, Bundle, Group, Matrix, Pen, Sheet, Text, corrected
from layout.write.decimals import number

POINTS_PER_MM = 72 / 25.4
# The published types of a canvas leave out its content list and its string quoting, which is what is written to here.
Canvas = Any

_MANY = 100
"""Filled shapes of one group that are worth a form."""
_PIECE = math.radians(30)
"""Longest arc drawn as one cubic curve: at 30 degrees the curve leaves the circle by 4e-7 of the radius."""


def write(bundle: Bundle) -> bytes:
    """Return the sheets as a PDF document: the same bytes for the same sheets."""
    buffer = io.BytesIO()
    rl_config.useA85 = 0  # letters in place of bytes make a file a quarter larger, and no reader wants them
    font: Any = lettering.font().fontName  # or Helvetica, which is never used, would be named in the file
    canvas: Canvas = reportlab.Canvas(buffer, invariant=1, pageCompression=1, initialFontName=font, lang="en")
    canvas._doc.info = _Information(bundle)
    forms = _Forms(canvas)
    if bundle.to_scale:
        canvas.setViewerPreference("PrintScaling", "None")
    canvas.setViewerPreference("Duplex", "Simplex" if bundle.to_scale else "DuplexFlipLongEdge")
    for sheet in bundle.sheets:
        canvas.setPageSize((sheet.paper.width * POINTS_PER_MM, sheet.paper.height * POINTS_PER_MM))
        _outline(canvas, sheet)
        canvas._code += _content(canvas, sheet, bundle.correction, forms)
        canvas.showPage()
    if bundle.carried is not None:
        _embed(canvas._doc, bundle.carried)
    canvas.save()
    return buffer.getvalue()


class _Information(pdfdoc.PDFInfo):
    """What the file says of itself. Its base class adds a date, and a date appears only when the user gives one."""

    def __init__(self, bundle: Bundle) -> None:
        super().__init__()
        self.title, self.subject, self.keywords = bundle.title, bundle.subject, bundle.keywords
        self.author = ""  # it goes into the digest that reportlab makes of the file

    def format(self, document: Any) -> Any:
        """Return the information dictionary of ISO 32000-1, 14.3.3."""
        said = {"Title": self.title, "Subject": self.subject, "Keywords": self.keywords, "Creator": "jigleaf"}
        strings = {name: pdfdoc.PDFString(words) for name, words in said.items()}
        return pdfdoc.PDFDictionary(strings).format(document)


# -- what the sheets were made from --------------------------------------------------------------------------------


def _embed(document: Any, carried: Carried) -> None:
    """Put a file into the document (ISO 32000-2, 7.11.4) as the source of the whole and of each page (14.13).

    With each page, because a page may be taken out and sent on without the rest.
    """
    document.signature.update(carried.content)
    file = document.Reference(_filespec(document, carried), "carried-file")
    listed = pdfdoc.PDFArray([pdfdoc.PDFString(sheet_carried.label(carried)), file])
    files = pdfdoc.PDFDictionary({"Names": listed})
    document.Catalog.Names = pdfdoc.PDFDictionary({"EmbeddedFiles": files})
    for made in (document.Catalog, *document.Pages.pages):
        made.AF = pdfdoc.PDFArray([file])
        made.__NoDefault__ = [*made.__NoDefault__, "AF"]  # the keys that reportlab writes where they are set


def _filespec(document: Any, carried: Carried) -> Any:
    """Return the specification of an embedded file (ISO 32000-2, 7.11.3)."""
    size = pdfdoc.PDFDictionary({"Size": len(carried.content)})
    media = "/application#2Ftoml"  # PDFName leaves the stroke in
    kept = {"Type": pdfdoc.PDFName("EmbeddedFile"), "Subtype": media, "Params": size}
    stream = pdfdoc.PDFStream(pdfdoc.PDFDictionary(kept), carried.content, filters=[pdfdoc.PDFZCompress])
    held = pdfdoc.PDFDictionary({"F": document.Reference(stream, "carried")})
    said = {
        "Type": pdfdoc.PDFName("Filespec"),
        "F": pdfdoc.PDFString(carried.name),
        "UF": pdfdoc.PDFString(carried.name),
        "Desc": pdfdoc.PDFString(sheet_carried.label(carried)),
        "AFRelationship": pdfdoc.PDFName("Source"),
        "EF": held,
    }
    return pdfdoc.PDFDictionary(said)


def _outline(canvas: Canvas, sheet: Sheet) -> None:
    names = [(sheet.title, 0)]
    for layer in sheet.layers:
        if layer.name == "template":
            names += [(f"{group.name}: {group.title}", 1) for group in layer.groups]
    for i, (name, level) in enumerate(names):
        key = f"sheet-{sheet.number}-{i}"
        canvas.bookmarkPage(key)
        canvas.addOutlineEntry(name, key, level=level, closed=True)


def _content(canvas: Canvas, sheet: Sheet, correction: Matrix, forms: _Forms) -> list[str]:
    unit = f"{POINTS_PER_MM:.10f}"
    code = [f"q {unit} 0 0 {unit} 0 0 cm 1 j"]
    if correction != UNCHANGED:
        code.append(" ".join(f"{value:.10f}" for value in corrected(sheet.paper, correction)) + " cm")
    for group in sheet.groups():
        code.append(f"/{group.name} BMC")
        code += _clipped(group, forms) if group.clip else _strokes(group, forms)
        code += _texts(canvas, group)
        code.append("EMC")
    return [*code, "Q"]


class _Forms:
    """What many pages have alike, above all the code of the settings: drawn once as a form, and called by name."""

    def __init__(self, canvas: Canvas) -> None:
        self.canvas = canvas
        self.names: dict[str, str] = {}
        self._called: dict[tuple[int, ...], tuple[str, list[str]]] = {}

    def call(self, shapes: list[draw.Path | draw.Circle]) -> list[str]:
        """Return the code that fills these shapes."""
        same = tuple(map(id, shapes))  # pages of one kind share their shapes, so most need not be written out again
        if same not in self._called:
            self._called[same] = self._written(shapes)
        name, code = self._called[same]
        self.canvas._formsinuse.append(name)
        return code

    def _written(self, shapes: list[draw.Path | draw.Circle]) -> tuple[str, list[str]]:
        """Return the name of the form that fills these shapes, and the code that calls it to their place."""
        corner = draw.around(shape.bounds for shape in shapes)
        home = [row for shape in shapes for row in _shape(shape.moved(-corner.left, -corner.bottom))]
        content = "\n".join([*home, "f"])
        if content not in self.names:
            self.names[content] = f"marks-{len(self.names) + 1}"
            form = pdfdoc.PDFFormXObject(0, 0, math.ceil(corner.width), math.ceil(corner.height))
            form.compression = 1
            form.setStreamList([content])
            self.canvas._doc.addForm(self.names[content], form)
        name = self.names[content]
        called = self.canvas._doc.getXObjectName(name)
        return name, [f"q 1 0 0 1 {number(corner.left)} {number(corner.bottom)} cm /{called} Do Q"]


def _clipped(group: Group, forms: _Forms) -> list[str]:
    assert group.clip is not None, "asked for a group that is clipped"
    left, bottom, _, _ = group.clip
    numbers = (left, bottom, group.clip.width, group.clip.height)
    return ["q", " ".join(number(value) for value in numbers) + " re W n", *_strokes(group, forms), "Q"]


def _strokes(group: Group, forms: _Forms) -> list[str]:
    code = []
    for pen, shapes in group.by_pen().items():
        if pen.filled and pen.colour is None and len(shapes) >= _MANY:
            code += forms.call(shapes)
            continue
        code.append(_set_pen(pen))
        for shape in shapes:
            code += _shape(shape)
        code.append("f" if pen.filled else "S")
        if pen == PAPER or pen.colour:
            code.append("0 g" if pen.filled else "0 G")
    return code


def _shape(shape: draw.Path | draw.Circle) -> list[str]:
    return _circle(shape) if isinstance(shape, draw.Circle) else _path(shape)


def _set_pen(pen: Pen) -> str:
    if pen == PAPER:
        return "1 g"
    colour = " ".join(number(part / 255) for part in pen.colour) if pen.colour else ""
    if colour and pen.filled:
        return f"{colour} rg"
    line = f"{number(pen.width)} w [{' '.join(number(dash) for dash in pen.dashes)}] 0 d"
    return f"{colour} RG {line}" if colour else line


def _path(path: draw.Path) -> list[str]:
    at = path.start
    code = [f"{at.x:.4f} {at.y:.4f} m"]  # zeros left at the end: packed they cost 3 %, to cut them off a third
    for step in path.steps:
        if isinstance(step, draw.ArcTo):
            code += _arc(step.centre, step.radius, at, step.sweep(at))
        else:
            code.append(f"{step.end.x:.4f} {step.end.y:.4f} l")
        at = step.end
    if path.closed:
        code.append("h")
    return code


def _circle(circle: draw.Circle) -> list[str]:
    start = circle.centre.moved(circle.radius, 0)
    begin = f"{number(start.x)} {number(start.y)} m"
    return [begin, *_arc(circle.centre, circle.radius, start, math.tau), "h"]


def _arc(centre: draw.Point, radius: float, start: draw.Point, sweep: float) -> list[str]:
    """Return an arc as cubic curves; handles of 4/3 tan(a/4) of the radius meet the circle at both ends and between."""
    pieces = max(1, math.ceil(abs(sweep) / _PIECE - 1e-9))  # the last bit of a sine differs between machines
    turn = sweep / pieces
    handle = 4 / 3 * math.tan(turn / 4) * radius
    angle = math.atan2(start.y - centre.y, start.x - centre.x)
    code = []
    for _ in range(pieces):
        cos, sin = math.cos(angle), math.sin(angle)
        angle += turn
        cos_end, sin_end = math.cos(angle), math.sin(angle)
        curve = (
            centre.x + radius * cos - handle * sin,
            centre.y + radius * sin + handle * cos,
            centre.x + radius * cos_end + handle * sin_end,
            centre.y + radius * sin_end - handle * cos_end,
            centre.x + radius * cos_end,
            centre.y + radius * sin_end,
        )
        code.append("{:.4f} {:.4f} {:.4f} {:.4f} {:.4f} {:.4f} c".format(*curve))
    return code


def _texts(canvas: Canvas, group: Group) -> list[str]:
    if not group.texts:
        return []
    code = ["BT"]
    for text in group.texts:
        code += _text(canvas, text)
    return [*code, "ET"]


def _text(canvas: Canvas, text: Text) -> list[str]:
    font, size = lettering.font(text.bold), number(lettering.size(text.height))
    back = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.anchor]
    back *= lettering.width(text.words, text.height, text.bold)
    at = text.at.moved(0, -back) if text.upright else text.at.moved(-back, 0)
    turn = "0 1 -1 0" if text.upright else "1 0 0 1"
    code = ["1 g"] if text.white else []
    code.append(f"{turn} {number(at.x)} {number(at.y)} Tm")
    for subset, letters in font.splitString(text.words, canvas._doc):
        name = font.getSubsetInternalName(subset, canvas._doc)
        code.append(f"{name} {size} Tf ({canvas._escape(letters)}) Tj")
    return [*code, "0 g"] if text.white else code
