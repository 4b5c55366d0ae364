"""The written files, measured by libraries that did not write them.

PDF: pypdf for the boxes and names, pdfplumber for the vectors, pdfium and poppler for the pixels. SVG: lxml and
svgelements for the vectors, cairo and Chromium for the pixels. Sizes are those of ISO 216, ANSI Y14.1 and the
inch of 25.4 mm; a PDF unit is 1/72 in (ISO 32000-1).
"""

from __future__ import annotations

import io
import math
import subprocess
from pathlib import Path
from typing import Any

import numpy as np
import pdfplumber
import pypdf
import pypdfium2
import pytest
import svgelements
from hypothesis import example, given
from hypothesis import strategies as st
from lxml import etree
from PIL import Image

from jigs.base import drawing as draw
from jigs.base.drawing import Circle, Point, arc, around, on_circle
from jigs.base.errors import MachineFault
from jigs.record import replace
from layout.sheet import lettering, paper
from layout.sheet.marks import EDGE, Bundle, Group, Layer, Sheet, Stroke, Text
from layout.write import decimals, pdf, png, svg
from tests.conftest import needs, sled_sheets
from tests.outside import Check, agree

FILES = Check(
    "Written files",
    "vectors and outlines: pypdf, pdfplumber, svgelements, lxml, shapely; units of ISO 32000-1",
    "reference library",
)
PIXELS = Check("Written files", "pixels at 600 dpi: pdfium, poppler, cairo, Chromium", "reference library")

PAPERS = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4), "300x400 mm": (300.0, 400.0)}
MM = 72 / 25.4
OVER_ALL = 29.86 - 9.92
"""Cutter's far edge to key face on the plate sheet: the cutter of 10.02 and the gap of 9.92, mm."""
DPI = 600
DOT = 25.4 / DPI


@pytest.fixture(scope="module", params=["A4", *(pytest.param(page, marks=pytest.mark.slow) for page in [*PAPERS][1:])])
def bundle(request: pytest.FixtureRequest) -> Bundle:
    """The template pages of a sled, that of the plate first."""
    made = sled_sheets(request.param)
    templates = [sheet for sheet in made.sheets if "-card-" not in sheet.name]
    return replace(made, sheets=tuple(sorted(templates, key=lambda sheet: not sheet.name.endswith("-template-1"))))


@pytest.fixture(scope="module")
def document(bundle: Bundle) -> bytes:
    return pdf.write(bundle)


def measured(objects: list[dict[str, Any]], tag: str) -> tuple[float, float, float, float]:
    """Return the box in mm round the paths of one marked-content tag, their pen width left out."""
    points = [point for o in objects if o["tag"] == tag for point in o["pts"]]
    xs, ys = [x / MM for x, _ in points], [y / MM for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def paths(page: Any) -> list[dict[str, Any]]:
    return [*page.lines, *page.curves, *page.rects]


# -- PDF -----------------------------------------------------------------------------------------------------------


def test_pdf_says_what_it_is(bundle: Bundle, document: bytes) -> None:
    reader = pypdf.PdfReader(io.BytesIO(document))
    assert reader.metadata is not None
    assert reader.metadata.title == bundle.title
    assert reader.metadata.subject == bundle.subject
    assert str(reader.trailer["/Root"]["/ViewerPreferences"]["/PrintScaling"]) == "/None"  # type: ignore[index]
    outline: list[Any] = reader.outline
    titles = [str(entry["/Title"]) for entry in outline if not isinstance(entry, list)]
    assert titles == [sheet.title for sheet in bundle.sheets]
    nested = [str(e["/Title"]) for entries in outline if isinstance(entries, list) for e in entries]
    assert {"sled-plate", "sled-key", "sled-cutter", "sled-stick-end"} <= {title.split(":")[0] for title in nested}


@FILES.of("sled")
def test_pdf_page_boxes_are_not_rounded(bundle: Bundle, document: bytes) -> None:
    for sheet, page in zip(bundle.sheets, pypdf.PdfReader(io.BytesIO(document)).pages, strict=True):
        size = (float(page.mediabox.width) / MM, float(page.mediabox.height) / MM)
        agree(size, (sheet.paper.width, sheet.paper.height), 0.001, unit="mm")


def test_pdf_fonts_are_embedded_subsets(document: bytes) -> None:
    for page in pypdf.PdfReader(io.BytesIO(document)).pages:
        for font in page["/Resources"]["/Font"].values():  # type: ignore[index]
            made = font.get_object()
            assert "+SourceSansPro" in made["/BaseFont"]
            assert "/FontFile2" in made["/FontDescriptor"]


@FILES.of("sled")
def test_pdf_words_can_be_read_back(bundle: Bundle, document: bytes) -> None:
    with pdfplumber.open(io.BytesIO(document)) as opened:
        for sheet, page in zip(bundle.sheets, opened.pages, strict=True):
            read = "".join(char["text"] for char in page.chars)
            for group in sheet.groups():
                for text in group.texts:
                    assert text.words in read


@FILES.of("sled")
def test_pdf_vectors_are_true(document: bytes) -> None:
    """Within 0.01 mm: the squares, and from the key to the far edge of the cutter."""
    with pdfplumber.open(io.BytesIO(document)) as opened:
        for page, side in ((opened.pages[0], 25.0), (opened.pages[-1], 100.0)):
            left, bottom, right, top = measured(paths(page), "calibration-square")
            agree((right - left, top - bottom), (side, side), 0.01, unit="mm")
        plate = paths(opened.pages[0])
        key, cutter = (
            measured(plate, "sled-key"),
            measured([o for o in plate if o["object_type"] == "curve"], "sled-cutter"),
        )
        agree(cutter[2] - cutter[0], 10.02, 0.01, unit="mm")
        agree(key[0] - cutter[0], OVER_ALL, 0.01, unit="mm")


@pytest.mark.slow
@PIXELS.of("sled")
def test_pdf_pixels_are_true_in_pdfium(bundle: Bundle, document: bytes) -> None:
    page = pypdfium2.PdfDocument(document)[0]
    picture = page.render(scale=DPI / 72, grayscale=True).to_numpy()
    check_pixels(picture.reshape(picture.shape[:2]), bundle.sheets[0], f"pdfium {bundle.sheets[0].paper.name}")


@pytest.mark.slow
@PIXELS.of("sled")
def test_pdf_pixels_are_true_in_poppler(bundle: Bundle, document: bytes, poppler: str, tmp_path: Path) -> None:
    (tmp_path / "sheet.pdf").write_bytes(document)
    command = [poppler, "-r", str(DPI), "-gray", "-png", "-f", "1", "-l", "1", "-singlefile", "sheet.pdf", "sheet"]
    subprocess.run(command, cwd=tmp_path, check=True)
    check_pixels(opened_picture(tmp_path / "sheet.png"), bundle.sheets[0], "poppler")


@pytest.mark.slow
def test_pdf_and_svg_are_the_same_bytes_again() -> None:
    one, other = sled_sheets(), sled_sheets()
    assert pdf.write(one) == pdf.write(other)
    assert [svg.write(s, "x") for s in one.sheets] == [svg.write(s, "x") for s in other.sheets]


# -- pixels --------------------------------------------------------------------------------------------------------


def opened_picture(path: Path) -> Any:
    Image.MAX_IMAGE_PIXELS = None
    return np.asarray(Image.open(path).convert("L"))


def check_pixels(picture: Any, sheet: Sheet, where: str) -> None:
    """Find edges, square and key seat in the picture and measure between the middles of their lines, to a pixel.

    And see that nothing is cut off, and nothing where no printer reaches.
    """
    high = sheet.paper.height
    check_inside(picture, sheet)
    square, left, bottom = (box_of(sheet, f"calibration-{name}") for name in ("square", "left", "bottom"))
    # Beside the frame, where only its long ticks are: from the corner to the end of each calibrated length.
    column, row = picture[:, round((left[0] - 1.9) / DOT)], picture[round((high - bottom[1] + 1.9) / DOT)]
    up = dark_middle(column, high - left[1]) - dark_middle(column, high - left[3])
    agree(up, left[3] - left[1], DOT, unit="mm", case=where)
    across = dark_middle(row, bottom[2]) - dark_middle(row, bottom[0])
    agree(across, bottom[2] - bottom[0], DOT, unit="mm", case=where)
    # Along a row and a column through the square where only its own two sides are: between ticks, beside its words.
    row = picture[round((high - square[1] - 3.5) / DOT)]
    agree(dark_middle(row, square[2]) - dark_middle(row, square[0]), 25.0, DOT, unit="mm", case=where)
    column = picture[:, round((square[0] + 3.5) / DOT)]
    agree(
        dark_middle(column, high - square[1]) - dark_middle(column, high - square[3]), 25.0, DOT, unit="mm", case=where
    )
    key, cutter = box_of(sheet, "sled-key"), box_of(sheet, "sled-cutter-hole")
    # The hole is a wide line, 13 mm across for a cutter of 10.02; a centre line runs through it, so look beside that.
    middle = (cutter[1] + cutter[3]) / 2
    across = picture[round((high - middle) / DOT) + 9]
    edge = dark_middle(across, cutter[0])
    agree(dark_middle(across, key[0]) - edge, OVER_ALL + (13.0 - 10.02) / 2, DOT, unit="mm", case=where)


def box_of(sheet: Sheet, name: str) -> tuple[float, float, float, float]:
    found = next(group for group in sheet.groups() if group.name == name)
    boxes = [s.shape.bounds for s in found.strokes if s.pen.name == "edge"]
    return (
        min(b.left for b in boxes),
        min(b.bottom for b in boxes),
        max(b.right for b in boxes),
        max(b.top for b in boxes),
    )


def dark_middle(line: Any, near: float) -> float:
    """Return the middle, in mm, of the dark run within 0.6 mm of a place: the middle of a drawn line."""
    start = max(0, round((near - 0.6) / DOT))
    part = 255.0 - line[start : round((near + 0.6) / DOT)].astype(float)
    assert part.sum() > 0, f"no line near {near:.2f} mm"
    return float(((np.arange(len(part)) + start + 0.5) * part).sum() / part.sum()) * DOT


# -- SVG -----------------------------------------------------------------------------------------------------------

NAMES = {"svg": "http://www.w3.org/2000/svg"}


@FILES.of("sled")
def test_svg_is_in_millimetres_with_names_and_titles(bundle: Bundle) -> None:
    for sheet in bundle.sheets:
        root: Any = etree.fromstring(svg.write(sheet, bundle.subject, validate=True))
        assert root.get("width") == f"{decimals.number(sheet.paper.width)}mm"
        assert root.get("viewBox") == f"0 0 {decimals.number(sheet.paper.width)} {decimals.number(sheet.paper.height)}"
        ids = root.xpath("//@id")
        assert len(ids) == len(set(ids))
        for group in sheet.groups():
            found = root.xpath(f"//svg:g[@id='{group.name}']/svg:title/text()", namespaces=NAMES)
            assert found == [group.title]
        for layer in sheet.layers:
            assert root.xpath(f"/svg:svg/svg:g[@id='layer-{layer.name}']", namespaces=NAMES)


def test_svg_words_keep_their_width(bundle: Bundle) -> None:
    root: Any = etree.fromstring(svg.write(bundle.sheets[0], "x"))
    words = root.xpath("//svg:text", namespaces=NAMES)
    assert words
    drawn = [text for group in bundle.sheets[0].groups() for text in group.texts]
    for word, text in zip(words, drawn, strict=True):
        wide = lettering.width(text.words, text.height, text.bold)  # as fontTools has it, see test_lettering
        assert word.get("textLength", "0") == decimals.number(wide)
        assert word.get("lengthAdjust") == ("spacingAndGlyphs" if wide else None)


def test_svg_words_of_none_have_no_length() -> None:
    empty = Text(Point(20, 20), "", 3.0)
    group = Group("words", "Words", (), (empty,))
    sheet = Sheet("one", "One", paper.named("A4"), (Layer("all", "All", (group,)),), 1, 1)
    root: Any = etree.fromstring(svg.write(sheet, "x"))
    [word] = root.xpath("//svg:text", namespaces=NAMES)
    assert word.get("textLength") is None


@given(st.integers(1, 11), st.floats(-1e-12, 1e-12))
def test_an_arc_has_as_many_curves_whatever_the_last_bit_of_its_sweep(twelfths: int, more: float) -> None:
    """A sine differs in its last bit between machines, and so did the number of curves of a rounded end."""
    begin, size = Point(50, 20), math.radians(30 * twelfths)
    for sweep in (size + more, size):
        end = on_circle(Point(20, 20), 30.0, math.degrees(sweep))
        path = draw.Path(begin, (draw.ArcTo(end, Point(20, 20), anticlockwise=True),))
        group = Group("arc", "Arc", (Stroke(path, EDGE),))
        sheet = Sheet("one", "One", paper.named("A4"), (Layer("all", "All", (group,)),), 1, 1)
        made = pdf.write(Bundle("one", "One", "x", "x", (sheet,)))
        with pdfplumber.open(io.BytesIO(made)) as found:
            [curve] = found.pages[0].curves
        assert sum(step[0] == "c" for step in curve["path"]) == twelfths


@FILES.of("sled")
def test_svg_vectors_are_true(bundle: Bundle, tmp_path: Path) -> None:
    """svgelements reads the paths; its pixels are 1/96 in, so a page in mm comes back multiplied by 96/25.4."""
    path = tmp_path / "sheet.svg"
    path.write_bytes(svg.write(bundle.sheets[0], "x"))
    parsed = svgelements.SVG.parse(str(path))
    scale = 96 / 25.4

    def box(name: str) -> tuple[float, ...]:
        found = parsed.get_element_by_id(name)
        boxes = [s.bbox(with_stroke=False) for s in found.select(lambda e: isinstance(e, svgelements.Path))]
        low = [min(b[i] for b in boxes) / scale for i in (0, 1)]
        return (*low, *(max(b[i] for b in boxes) / scale for i in (2, 3)))

    left, top, right, bottom = box("calibration-square")
    agree((right - left, bottom - top), (25.0, 25.0), 0.01, unit="mm")
    agree(box("sled-key")[0] - box("sled-cutter")[0], OVER_ALL, 0.01, unit="mm")


@pytest.mark.slow
@PIXELS.of("sled")
def test_svg_pixels_are_true_in_cairo(bundle: Bundle, cairo: Any) -> None:
    del cairo
    picture = png.write(svg.write(bundle.sheets[0], "x"), DPI)
    image = np.asarray(Image.open(io.BytesIO(picture)).convert("L"))
    check_pixels(image, bundle.sheets[0], "cairo")


@pytest.mark.slow
@PIXELS.of("sled")
def test_svg_pixels_are_true_in_chromium(bundle: Bundle, chromium: str, tmp_path: Path) -> None:
    """A browser's pixel is 1/96 in; it is asked for 6.25 dots in each, which is 600 in an inch."""
    sheet = bundle.sheets[0]
    (tmp_path / "sheet.svg").write_bytes(svg.write(sheet, "x"))
    html = "<style>html,body{margin:0;background:white}img{display:block}</style><img src='sheet.svg'>"
    (tmp_path / "page.html").write_text(html)
    size = f"{round(sheet.paper.width * 96 / 25.4) + 2},{round(sheet.paper.height * 96 / 25.4) + 2}"
    screenshot = [f"--window-size={size}", f"--force-device-scale-factor={DPI / 96}", "--hide-scrollbars"]
    browse(chromium, tmp_path, *screenshot, f"--screenshot={tmp_path / 'page.png'}")
    check_pixels(opened_picture(tmp_path / "page.png"), sheet, "chromium")


def browse(chromium: str, folder: Path, *options: str) -> None:
    """Have a browser open page.html of a folder, with nothing asked of the network."""
    flags = ["--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-sync"]
    flags += ["--disable-background-networking", "--disable-component-update", f"--user-data-dir={folder / 'profile'}"]
    command = [chromium, *flags, *options, (folder / "page.html").as_uri()]
    subprocess.run(command, check=True, capture_output=True, timeout=120)


@pytest.mark.slow
@PIXELS.of("sled")
def test_an_svg_printed_by_chromium_is_true(bundle: Bundle, chromium: str, tmp_path: Path) -> None:
    """Print to PDF: the page as large as the sheet, its edges true, nothing cut off.

    A browser prints true only on a page given in mm without margins, and a sheet that is no line of text.
    """
    sheet = bundle.sheets[0]
    wide, high = sheet.paper.width, sheet.paper.height
    drawn = svg.write(sheet, "x").decode().split("?>", 1)[1]
    style = f"@page{{size:{wide}mm {high}mm;margin:0}}html,body{{margin:0}}svg{{display:block}}"
    (tmp_path / "page.html").write_text(f"<!doctype html><meta charset=utf-8><style>{style}</style>{drawn}")
    browse(chromium, tmp_path, "--no-pdf-header-footer", f"--print-to-pdf={tmp_path / 'page.pdf'}")
    document = (tmp_path / "page.pdf").read_bytes()
    [page] = pypdf.PdfReader(io.BytesIO(document)).pages
    size = (float(page.mediabox.width) / MM, float(page.mediabox.height) / MM)
    # The browser cuts a page to whole units of 1/96 in, or to those of 1/72.
    agree(size, (wide, high), 0.36, unit="mm")
    picture = pypdfium2.PdfDocument(document)[0].render(scale=DPI / 72, grayscale=True).to_numpy()
    picture = picture.reshape(picture.shape[:2])
    check_pixels(picture, sheet, "printed by chromium")


def check_inside(picture: Any, sheet: Sheet) -> None:
    """Every line is there to its end, and nothing is drawn in the outer 4.2 mm."""
    rows, columns = np.nonzero(picture < 128)
    high, wide = sheet.paper.height, sheet.paper.width
    found = (columns.min() * DOT, rows.min() * DOT, (columns.max() + 1) * DOT, (rows.max() + 1) * DOT)
    lines = around(stroke.shape.bounds for group in sheet.groups() for stroke in group.strokes)
    assert found[0] <= lines.left + 2 * DOT
    assert found[1] <= high - lines.top + 2 * DOT
    assert found[2] >= lines.right - 2 * DOT
    assert found[3] >= high - lines.bottom - 2 * DOT
    assert min(found[0], found[1], wide - found[2], high - found[3]) >= 4.2


# -- arcs ----------------------------------------------------------------------------------------------------------

ARCS = [(0, 90), (90, 0), (200, 340), (340, 200), (10, 260), (260, 10)]
"""From and to in degrees: both ways round, shorter and longer than half a circle."""


def arc_sheet(start: float, end: float) -> tuple[Sheet, Point, Point]:
    """Return a sheet with one arc, the middle of the arc, and the place opposite where it must not run."""
    centre = Point(60, 70)
    group = Group("arc", "Arc", (Stroke(arc(centre, 30, start, end), EDGE),))
    sheet = Sheet("arc", "Arc", paper.named("A4"), (Layer("template", "Template", (group,)),), 1, 1)
    middle = (start + end) / 2
    return sheet, on_circle(centre, 30, middle), on_circle(centre, 30, middle + 180)


@FILES.of()
@pytest.mark.parametrize(("start", "end"), ARCS)
def test_svg_arcs_run_the_right_way_round(start: float, end: float, tmp_path: Path) -> None:
    sheet, middle, _ = arc_sheet(start, end)
    (tmp_path / "arc.svg").write_bytes(svg.write(sheet, "x"))
    [path] = svgelements.SVG.parse(str(tmp_path / "arc.svg")).select(lambda e: isinstance(e, svgelements.Path))
    point = path.point(0.5)
    found = (point.x * 25.4 / 96, sheet.paper.height - point.y * 25.4 / 96)
    agree(found, middle, 0.01, unit="mm")


ANGLES = st.sampled_from([-180.0, -90.0, 90.0, 180.0]) | st.floats(1, 359) | st.floats(-359, -1)
INSIDE = st.floats(61, 140)


@FILES.of()
@given(x=INSIDE, y=INSIDE, radius=st.floats(0.5, 60), start=st.floats(0, 360), turn=ANGLES, whole=st.booleans())
@example(x=102.1, y=140.0, radius=32.13365, start=0.0, turn=180.0, whole=True)
def test_whatever_is_round_keeps_its_centre_in_svg(
    x: float, y: float, radius: float, start: float, turn: float, whole: bool
) -> None:
    """Ends are rounded; an arc near half a circle that is given by them alone would move by far more."""
    centre = Point(x, y)
    shape = Circle(centre, radius) if whole else arc(centre, radius, start, start + turn)
    group = Group("arc", "Arc", (Stroke(shape, EDGE),))
    sheet = Sheet("arc", "Arc", paper.named("A4"), (Layer("template", "Template", (group,)),), 1, 1)
    root: Any = etree.fromstring(svg.write(sheet, "x"))
    [data] = root.xpath("//*[@id='arc']/*[local-name()='path']/@d")
    points = [step.point(share / 8) for step in svgelements.Path(data) for share in range(9)]
    true = (x, sheet.paper.height - y)
    off = max(abs(math.dist((point.x, point.y), true) - radius) for point in points)
    agree(off, 0.0, 0.001, unit="mm")


@PIXELS.of()
@pytest.mark.parametrize(("start", "end"), ARCS)
def test_pdf_arcs_run_the_right_way_round(start: float, end: float) -> None:
    sheet, middle, opposite = arc_sheet(start, end)
    document = pdf.write(Bundle("arc", "Arc", "x", "x", (sheet,)))
    picture = pypdfium2.PdfDocument(document)[0].render(scale=DPI / 72, grayscale=True).to_numpy()

    def dark(at: Point) -> bool:
        return int(picture[round((sheet.paper.height - at.y) / DOT), round(at.x / DOT)].item()) < 128

    assert dark(middle)
    assert not dark(opposite)


def test_png_without_cairo_says_what_to_install(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(__import__("sys").modules, "cairosvg", None)
    with pytest.raises(
        MachineFault, match=r"pip install 'jigleaf\[png\]', and on Debian: apt install libcairo2"
    ) as error:
        png.write(b"<svg/>")
    assert error.value.exit_code == 3


def test_skipping_is_failing_where_everything_is_installed(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("JIGLEAF_ALL_INSTALLED", "1")
    with pytest.raises(pytest.fail.Exception, match="a browser is missing"):
        needs("a browser", False)
    monkeypatch.delenv("JIGLEAF_ALL_INSTALLED")
    with pytest.raises(pytest.skip.Exception, match="needs a browser"):
        needs("a browser", False)
