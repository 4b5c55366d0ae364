"""Printers: the print check, what its readings say, what is kept, and that a corrected sheet comes out true.

The simulated printer is a known affine map laid over what pdfium and poppler really draw: the corners of the
rectangle are found in strips of pixels, warped, read with the error of a ruler, and the sheet is drawn again corrected.
"""

from __future__ import annotations

import json
import math
import subprocess
from collections.abc import Callable
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
from click.testing import CliRunner, Result
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from lxml import etree
from PIL import Image

import cli
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.record import replace
from layout.printer import kept as printer_kept
from layout.printer import print_check
from layout.printer.correction import READING_ERROR, Distortion, Readings, judge
from layout.printer.kept import Printer
from layout.sheet import paper
from layout.sheet.marks import Bundle, corrected
from layout.write import pdf, svg
from tests.legibility import faults
from tests.outside import Check, agree

SIZES = Check(
    "Lengths, paper, letters",
    "ISO 216, ISO 5456-3, ANSI/ASME Y14.1, Unicode, inch of 1959; ISO 5457, ISO/IEC 7810 at second hand",
    "standard",
)
PRINTERS = Check(
    "A printer's correction",
    "simulated printers with known errors, a ruler of ±0.25 mm, corners found in pixels",
    "independent derivation",
)

DPI = 600
DOT = 25.4 / DPI
Place = tuple[float, float]


@pytest.fixture(autouse=True)
def own_configuration(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "configuration"))
    return tmp_path / "configuration" / "jigleaf" / "printers.json"


def run(*words: str) -> Result:
    return CliRunner().invoke(cli.main, ["calibrate", *words])


READ = ["--across", "169.3", "--up", "260.8", "--rising", "311.4", "--falling", "310.6"]

# -- the sheet -----------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("page", ["A4", "Letter", "A3", "Tabloid"])
def test_the_print_check_is_legible_and_as_large_as_the_page_allows(page: str) -> None:
    on = paper.named(page)
    [sheet] = print_check.sheet(on, "mm", "none").sheets
    assert faults(sheet) == []
    wide, high = print_check.size(on)
    assert 0 <= on.frame.width - wide < 18
    assert 0 <= on.frame.height - high < 18
    names = {group.name for group in sheet.groups()}
    assert {"calibration-rectangle", "calibration-card", "calibration-readings"} <= names


@SIZES.of()
def test_the_card_outline_is_that_of_iso_7810() -> None:
    """ISO/IEC 7810 ID-1: 85.60 by 53.98 mm."""
    [sheet] = print_check.sheet(paper.named("A4"), "mm", "none").sheets
    [card] = [group for group in sheet.groups() if group.name == "calibration-card"]
    bounds = card.strokes[0].shape.bounds
    agree((bounds.width, bounds.height), (85.60, 53.98), unit="mm")


@pytest.mark.parametrize("page", ["50x50 mm", "A5"])
def test_a_page_too_small_for_the_print_check(page: str) -> None:
    with pytest.raises(CannotBuild, match="does not fit"):
        print_check.sheet(paper.named(page), "mm", "none")


def test_the_command_draws_it(tmp_path: Path) -> None:
    result = run("-o", str(tmp_path / "sheets"), "--paper", "Letter")
    assert result.exit_code == 0
    assert {path.name for path in (tmp_path / "sheets").iterdir()} == {"print-check.pdf", "print-check.svg"}


# -- readings ------------------------------------------------------------------------------------------------------


def test_readings_are_judged_and_kept_under_a_name(own_configuration: Path) -> None:
    data = json.loads(run(*READ, "--json").stdout)
    assert data["verdict"] == "correct"
    assert data["scale_across"] == pytest.approx(169.3 / 170)
    assert not own_configuration.exists()
    kept = run(*READ, "--printer", "office")
    assert kept.exit_code == 0
    assert "kept as 'office'" in kept.stderr
    assert run("--list").stdout == "office: across +0.41 %, up −0.31 %, skew −0.16°\n"
    assert run("--show", "office").stdout == run("--list").stdout
    assert "forgotten: office" in run("--forget", "office").stdout
    assert run("--list").stdout == ""


@pytest.mark.parametrize(
    ("readings", "code", "says"),
    [
        ((170, 260, 310.64, 310.64), 0, "The print is true as far as a rule can tell."),
        ((169.9, 259.9, 310.6, 310.4), 0, "The print is true as far as a rule can tell."),
        ((159.92, 244.58, 292.22, 292.22), 1, "an A4 sheet fitted to Letter paper"),
        ((165.36, 252.9, 302.16, 302.16), 1, "a Letter sheet fitted to A4 paper"),
        ((163.2, 249.6, 298.2, 298.2), 1, "fit to page"),
        ((169.3, 260.8, 312.6, 310.6), 1, "these sides and diagonals do not go together"),
        ((164, 260, 307.4, 307.4), 1, "across is out by −3.5 %, and a printer's own error is 3 % at most"),
    ],
)
def test_each_verdict(readings: tuple[float, ...], code: int, says: str) -> None:
    words = [f"--{name}={value}" for name, value in zip(("across", "up", "rising", "falling"), readings, strict=True)]
    result = run(*words, "--printer", "office")
    assert result.exit_code == code
    assert says in " ".join(result.stdout.split())
    assert all(len(row) <= 80 for row in result.stdout.splitlines())


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--across", "170"], "all four are needed; add --up, --rising, --falling"),
        (["--across", "x", *READ[2:]], "--across: 'x'"),
        (["--across", "0", *READ[2:]], "readings: across"),
        ([*READ[:4], "--rising", "900", "--falling", "1"], "readings: "),
        (["--show", "office"], "--show: no printer has been measured yet"),
        (["--forget", "office"], "--forget: no printer has been measured yet"),
        (["--printer", "nobody"], "--printer: no printer has been measured yet"),
        (["--show", "office", "--forget", "attic"], "--show and --forget can't be used together"),
        (
            ["--units", "in", "--across", "5", "--up", "5", "--rising", "20", "--falling", "5"],
            "readings: rising is 20 beside falling 5: across 5 and up 5 allow no such diagonals",
        ),
        ([*READ, "--printer", ""], "a name has from 1 to 40 printable characters"),
        ([*READ, "--printer", "a\nb"], "printable"),
    ],
)
def test_what_cannot_be_read(words: list[str], says: str) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert says in " ".join(result.stderr.split())


@pytest.mark.parametrize(
    ("content", "says"),
    [
        ("{", "Can't read the printers in"),
        ("[1]", "damaged"),
        ('{"version": 1, "printers": {"office": {"scale_across": 1}}}', "damaged"),
        ('{"version": 1, "printers": {"office": {"scale_across": 9, "scale_up": 1, "skew": 0}}}', "damaged"),
        (
            '{"version": 2, "printers": {"office": {"scale_across": 1, "scale_up": 1, "skew": 0, "margins": [1, 2]}}}',
            "damaged",
        ),
        (
            '{"version": 2, "printers": {"": {"scale_across": 1, "scale_up": 1, "skew": 0, "margins": [-1, 2, 3, 4]}}}',
            "damaged",
        ),
        ('{"version": 3, "printers": {}}', "a newer jigleaf wrote them (version 3)"),
    ],
)
def test_a_damaged_or_newer_file_is_left_as_it_is(own_configuration: Path, content: str, says: str) -> None:
    own_configuration.parent.mkdir(parents=True)
    own_configuration.write_text(content)
    result = run(*READ, "--printer", "office")
    assert result.exit_code == 2
    assert says in " ".join(result.stderr.split())
    assert own_configuration.read_text() == content


def test_an_unknown_printer_suggests_a_near_one() -> None:
    printer_kept.keep(Printer("office", Distortion(0.996, 1.003, 0.1)))
    with pytest.raises(CannotRead, match=r"no printer called 'offise'; did you mean 'office'\?"):
        printer_kept.find("offise")


def test_any_drawing_command_takes_a_printer(tmp_path: Path) -> None:
    run(*READ, "--printer", "office")
    words = ["--finger", "10", "--cutter", "10", "--board", "90", "--thickness", "12", "--only", "stick-end"]
    result = CliRunner().invoke(cli.main, ["jig", "sled", *words, "--printer", "office", "-o", str(tmp_path / "s")])
    assert result.exit_code == 0
    assert "corrected for office: across +0.41 %" in result.stderr
    root: Any = etree.fromstring((tmp_path / "s" / "sled-stick-end-proof.svg").read_bytes())
    [page] = root.xpath("//*[@id='printer-correction']")
    assert page.get("transform").startswith("matrix(1.0041")
    words_drawn = " ".join(root.xpath("//*[local-name()='text']/text()"))
    assert "office: across +0.41 %" in " ".join(words_drawn.split())


# -- margins -------------------------------------------------------------------------------------------------------


def test_margins_are_kept_beside_the_errors(own_configuration: Path) -> None:
    kept = run("--printer", "office", "--margins", "4.2 4.2 4.2 16.9")
    assert kept.exit_code == 0
    assert kept.stdout == ""
    assert run(*READ, "--printer", "office").exit_code == 0
    said = (
        "office: across +0.41 %, up −0.31 %, skew −0.16°; white margins left 4.2, right 4.2, top 4.2, bottom 16.9 mm\n"
    )
    assert run("--list").stdout == said
    data = json.loads(own_configuration.read_text())
    assert (data["version"], data["printers"]["office"]["margins"]) == (2, [4.2, 4.2, 4.2, 16.9])
    assert run("--printer", "office", "--margins", "1/4in").exit_code == 0
    assert printer_kept.find("office").margins == pytest.approx((6.35,) * 4)
    assert printer_kept.find("office").measured.scale_across == pytest.approx(169.3 / 170)


def test_a_file_of_version_1_is_read_and_kept_as_version_2(own_configuration: Path) -> None:
    own_configuration.parent.mkdir(parents=True)
    entry = {"scale_across": 0.996, "scale_up": 1.003, "skew": 0.1}
    own_configuration.write_text(json.dumps({"version": 1, "printers": {"old": entry}}))
    assert run("--list").stdout == "old: across +0.40 %, up −0.30 %, skew −0.10°\n"
    assert run("--printer", "new", "--margins", "5").exit_code == 0
    data = json.loads(own_configuration.read_text())
    assert data["version"] == 2
    assert data["printers"]["old"] == entry | {"margins": [0.0] * 4}


@pytest.mark.parametrize(
    ("words", "says"),
    [
        (["--margins", "5"], "--margins: no printer is named; name one with --printer"),
        (["--margins", "5 5", "--printer", "o"], "--margins: there are 2 numbers; there must be four"),
        (["--margins", "5 5 x 5", "--printer", "o"], 'write left, right, top and bottom as "4.2 4.2 4.2 12.7"'),
        (["--margins", "5 5 60 5", "--printer", "o"], "a margin must be from 0 to 50 mm; 60 mm is not"),
        (["--margins", "5 5 -1 5", "--printer", "o"], "--margins: "),
    ],
)
def test_margins_that_cannot_be_read(words: list[str], says: str, own_configuration: Path) -> None:
    result = run(*words)
    assert result.exit_code == 2
    assert says in " ".join(result.stderr.split())
    assert not own_configuration.exists()


@pytest.mark.parametrize("sheet", ["stick-end", "face"])
def test_a_drawing_stays_inside_what_its_printer_reaches(sheet: str, tmp_path: Path) -> None:
    run("--printer", "office", "--margins", "6 12 4 19")
    words = ["--finger", "10", "--cutter", "10", "--board", "90", "--thickness", "12", "--only", sheet]
    out = tmp_path / "sheets"
    result = CliRunner().invoke(cli.main, ["jig", "sled", *words, "--printer", "office", "-o", str(out)])
    assert result.exit_code == 0
    [document] = out.glob("*-templates.pdf")
    for page in pypdfium2.PdfDocument(document.read_bytes()):
        wide, high = (side * 25.4 / 72 for side in page.get_size())
        picture = page.render(scale=100 / 72, grayscale=True).to_numpy().squeeze()
        rows, columns = np.nonzero(picture < 250)
        left, top = columns.min() * 0.254, rows.min() * 0.254
        right, bottom = wide - (columns.max() + 1) * 0.254, high - (rows.max() + 1) * 0.254
        allowed = (6, 12, 4, 19) if wide < high else (19, 19, 12, 12)  # turned to print, to one side or the other
        assert all(white >= margin - 0.254 for white, margin in zip((left, right, top, bottom), allowed, strict=True))


# -- the simulated printer -----------------------------------------------------------------------------------------


def warp(distortion: Distortion, at: Place) -> Place:
    """What the printer does to a place: A = [[sx, sy sin k], [0, sy cos k]]."""
    skew = math.radians(distortion.skew)
    x, y = at
    return (
        distortion.scale_across * x + distortion.scale_up * math.sin(skew) * y,
        distortion.scale_up * math.cos(skew) * y,
    )


Strip = Callable[[int, int, int, int], Any]
"""Returns a piece of a printed page: from a column and a row, so many columns and rows, dark below 255."""


def in_pdfium(document: bytes) -> Strip:
    page = pypdfium2.PdfDocument(document)[0]
    scale = DPI / 72
    whole = [math.ceil(side * scale) for side in page.get_size()]

    def strip(left: int, top: int, wide: int, high: int) -> Any:
        edges = (left, whole[1] - top - high, whole[0] - left - wide, top)
        crop = tuple(max(0.0, edge - 0.5) / scale for edge in edges)  # pdfium rounds them up
        picture = page.render(scale=scale, crop=crop, grayscale=True).to_numpy()
        assert picture.shape[:2] == (high, wide)
        return picture.reshape(high, wide)

    return strip


def corners(strip: Strip, bundle: Bundle) -> list[Place]:
    """Find the four corners of the rectangle in the pixels, mm with y up: lower left, lower right, upper right, left.

    The edges are followed through the dark middles of their lines at two places each, and then made to meet.
    """
    sheet = bundle.sheets[0]
    [rectangle] = [g for g in sheet.groups() if g.name == "calibration-rectangle"]
    box = rectangle.strokes[0].shape.bounds
    a, b, c, d, e, f = corrected(sheet.paper, bundle.correction)
    high = sheet.paper.height

    def expected(x: float, y: float) -> Place:
        return a * x + c * y + e, b * x + d * y + f

    # Half way between two ticks of every ruler, so that only the edge is dark.
    def on_upright(x: float, y: float) -> Place:
        place = expected(x, y)
        row = round((high - place[1]) / DOT - 0.5)
        first, wide = across_a_line(place[0])
        return dark_middle(strip(first, row, wide, 1)[0], first), high - (row + 0.5) * DOT

    def on_level(x: float, y: float) -> Place:
        place = expected(x, y)
        column = round(place[0] / DOT - 0.5)
        first, tall = across_a_line(high - place[1])
        return (column + 0.5) * DOT, high - dark_middle(strip(column, first, 1, tall)[:, 0], first)

    low, top = box.bottom + 40.5, box.bottom + 200.5
    near, far = box.left + 40.5, box.left + 120.5
    left = [on_upright(box.left, y) for y in (low, top)]
    right = [on_upright(box.right, box.bottom + n * 25.4 / 16 + 0.8) for n in (20, 120)]
    lower = [on_level(x, box.bottom) for x in (near, far)]
    upper = [on_level(box.left + n * 25.4 / 16 + 0.8, box.top) for n in (20, 80)]
    return [meeting(lower, left), meeting(lower, right), meeting(upper, right), meeting(upper, left)]


def across_a_line(near: float) -> tuple[int, int]:
    """Return the first pixel and the count of pixels within 0.55 mm of a place."""
    first = max(0, round((near - 0.55) / DOT))
    return first, round((near + 0.55) / DOT) - first


def dark_middle(line: Any, first: int) -> float:
    part = 255.0 - line.astype(float)
    assert part.sum() > 0
    return float(((np.arange(len(part)) + first + 0.5) * part).sum() / part.sum()) * DOT


def meeting(one: list[Place], other: list[Place]) -> Place:
    (x1, y1), (x2, y2) = one
    (x3, y3), (x4, y4) = other
    matrix = np.array([[x2 - x1, x3 - x4], [y2 - y1, y3 - y4]])
    t, _ = np.linalg.solve(matrix, np.array([x3 - x1, y3 - y1]))
    return x1 + t * (x2 - x1), y1 + t * (y2 - y1)


def read_with_a_ruler(printed: list[Place], noise: list[float]) -> tuple[float, float, float, float]:
    """Across, up, rising, falling: each the mean length between corners, out by its share of the reading error."""
    a, b, c, d = printed
    lengths = ((math.dist(a, b) + math.dist(d, c)) / 2, (math.dist(a, d) + math.dist(b, c)) / 2)
    return (
        lengths[0] + noise[0],
        lengths[1] + noise[1],
        math.dist(a, c) + noise[2],
        math.dist(d, b) + noise[3],
    )


def check_a_printer(distortion: Distortion, noise: list[float], printed_by: Callable[[bytes], Strip]) -> None:
    """Print, read, correct, print again: what is left anywhere on the page is what the reading error predicts.

    A side is put right to within its reading; one that reads true to within the reading error is left, and may be
    out by that much more. So are the diagonals, twice: their difference d slants the page by d·diagonal/(2·w·h).
    """
    on = paper.named("A4")
    wide, high = print_check.size(on)
    bundle = print_check.sheet(on, "mm", "none")
    true = corners(printed_by(pdf.write(bundle)), bundle)
    printed = [warp(distortion, place) for place in true]
    readings = Readings(*read_with_a_ruler(printed, noise), wide, high)
    judged = judge(readings, most_residual=1.0)
    assert judged.verdict in ("correct", "inside reading error"), judged.reason
    again = replace(bundle, correction=judged.correction)
    left = [warp(distortion, place) for place in corners(printed_by(pdf.write(again)), again)]
    applied = judged.applied
    pixels = 2 * DOT
    across = READING_ERROR * (1 + (applied.scale_across == 1)) + pixels
    up = READING_ERROR * (1 + (applied.scale_up == 1)) + pixels
    diagonals = 2 * (READING_ERROR * (1 + (applied.skew == 0)) + pixels)
    slant = diagonals * math.hypot(wide, high) / (2 * wide * high)
    reads = read_with_a_ruler(left, [0.0] * 4)
    agree(reads[0], wide, across, unit="mm")
    agree(reads[1], high, up, unit="mm")
    agree(reads[2] - reads[3], 0.0, 1.03 * diagonals, unit="mm")  # scales put right move it by up to 3 %
    # Over the page: corners from the lower left one, whose lower edge may be turned but not bent.
    origin, turn = left[0], math.atan2(left[1][1] - left[0][1], left[1][0] - left[0][0])
    for (x, y), (corner_x, corner_y) in zip(left, ((0, 0), (wide, 0), (wide, high), (0, high)), strict=True):
        away = complex(x - origin[0], y - origin[1]) * complex(math.cos(turn), -math.sin(turn))
        assert abs(away.real - corner_x) <= across + 1.03 * slant * corner_y
        assert abs(away.imag - corner_y) <= up + pixels


def no_print_dialogue_did_it(printer: Distortion) -> bool:
    """Scales alike and from 95 to 98 % are taken for "fit to page", which readings may miss by half a per cent."""
    alike = abs(printer.scale_across - printer.scale_up) < 0.009
    return not (alike and min(printer.scale_across, printer.scale_up) < 0.985)


scales = st.floats(0.972, 1.028)
"""Within 3 %, the most that is corrected, by more than a reading of 170 mm may be out."""
distortions = st.builds(Distortion, scales, scales, st.floats(-0.7, 0.7)).filter(no_print_dialogue_did_it)
ruler = st.lists(st.floats(-READING_ERROR, READING_ERROR), min_size=4, max_size=4)
EXTREMES = [
    Distortion(0.972, 1.028, 0.7),
    Distortion(1.028, 0.972, -0.7),
    Distortion(1.028, 1.028, 0.7),
    Distortion(1, 1, 0),
]


@PRINTERS.of()
@pytest.mark.parametrize("distortion", EXTREMES)
def test_the_corners_of_the_range_come_out_true_in_pdfium(distortion: Distortion) -> None:
    check_a_printer(distortion, [0.25, -0.25, 0.25, -0.25], in_pdfium)


@pytest.mark.slow
@PRINTERS.of()
@given(distortions, ruler)
@settings(max_examples=40, derandomize=True, suppress_health_check=list(HealthCheck))
def test_a_corrected_sheet_comes_out_true_in_pdfium(distortion: Distortion, noise: list[float]) -> None:
    check_a_printer(distortion, noise, in_pdfium)


@pytest.mark.slow
@PRINTERS.of()
@pytest.mark.parametrize("distortion", [EXTREMES[0], Distortion(0.997, 0.997, -0.3)])
def test_a_corrected_sheet_comes_out_true_in_poppler(distortion: Distortion, poppler: str, tmp_path: Path) -> None:
    def in_poppler(document: bytes) -> Strip:
        (tmp_path / "sheet.pdf").write_bytes(document)

        def strip(left: int, top: int, wide: int, high: int) -> Any:
            place = ["-x", str(left), "-y", str(top), "-W", str(wide), "-H", str(high)]
            command = [poppler, "-r", str(DPI), "-gray", "-png", "-singlefile", *place, "sheet.pdf", "sheet"]
            subprocess.run(command, cwd=tmp_path, check=True)
            return np.asarray(Image.open(tmp_path / "sheet.png").convert("L"))

        return strip

    check_a_printer(distortion, [0.2, -0.2, 0.1, -0.1], in_poppler)


@PRINTERS.of()
@pytest.mark.parametrize("wrong", [1.0, -1.0])
def test_a_misread_diagonal_is_caught(wrong: float) -> None:
    """A reading that is a millimetre out, of any printer in the range: √((p² + q²)/2) moves by half of it."""
    for printer in EXTREMES:
        places = [warp(printer, at) for at in ((0, 0), (170, 0), (170, 260), (0, 260))]
        for one in (2, 3):
            noise = [0.0] * 4
            noise[one] = wrong
            judged = judge(Readings(*read_with_a_ruler(places, noise), 170, 260))
            assert judged.verdict == "measure again"
            agree(abs(judged.residual), 0.5, 0.02, unit="mm")


@PRINTERS.of()
@given(distortions, st.booleans())
def test_turned_pages_are_turned_first_and_corrected_last(distortion: Distortion, lies: bool) -> None:
    """On the printer a page on its side is turned a quarter; drawn corrected, turned and printed it is true."""
    on = paper.named("A4")
    page = on.turned if lies else on
    a, b, c, d, _, _ = corrected(page, distortion.correction())
    for x, y in ((100.0, 0.0), (0.0, 100.0), (70.0, -30.0)):
        drawn = (a * x + c * y, b * x + d * y)
        turned, true = ((-drawn[1], drawn[0]), (-y, x)) if lies else (drawn, (x, y))
        agree(warp(distortion, turned), true, 1e-9, unit="mm")


def test_pdf_and_svg_correct_alike() -> None:
    correction = Distortion(0.994, 1.004, -0.2).correction()
    sheet = print_check.sheet(paper.named("A4"), "mm", "none").sheets[0]
    a, b, c, d, e, f = corrected(sheet.paper, correction)
    root: Any = etree.fromstring(svg.write(sheet, "x", correction))
    [page] = root.xpath("//*[@id='printer-correction']")
    m = [float(n) for n in page.get("transform")[7:-1].split()]
    for x, y in ((20.0, 30.0), (200.0, 280.0)):
        down = sheet.paper.height - y
        drawn = (m[0] * x + m[2] * down + m[4], sheet.paper.height - (m[1] * x + m[3] * down + m[5]))
        assert drawn == pytest.approx((a * x + c * y + e, b * x + d * y + f), abs=1e-6)


@pytest.mark.parametrize(
    ("page", "units", "command"),
    [
        ("A4", "mm", "jigleaf calibrate. A bank card"),
        ("Letter", "mm", "jigleaf calibrate. Say that the paper is Letter. A bank card"),
        ("Letter", "in", "jigleaf calibrate. Say that the readings are in inches. A bank card"),
        ("A4", "in", "Say that the paper is A4. Say that the readings are in inches."),
        ("300x400 mm", "mm", "Say that the paper is 300 x 400 mm."),
    ],
)
def test_the_sheet_says_all_that_tells_it_from_another(page: str, units: Units, command: str) -> None:
    [sheet] = print_check.sheet(paper.named(page), units, "none").sheets
    said = " ".join(text.words for group in sheet.groups() if group.name == "calibration-how" for text in group.texts)
    assert command in said
    assert "--" not in said
    assert ("millimetre" in said) == (units == "mm")


def test_readings_of_another_sheet_are_recognised(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """The rectangle of Letter is 170 by 250 mm; on A4 it is 170 by 260."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    read = ["--across", "169.3", "--up", "250", "--rising", "301.9", "--falling", "302"]
    wrong = CliRunner().invoke(cli.main, ["calibrate", *read])
    assert wrong.exit_code == 1
    assert "NOTE: These readings fit the sheet for Letter. If you printed that one, add --paper Letter." in " ".join(
        wrong.stdout.split()
    )
    right = CliRunner().invoke(cli.main, ["calibrate", *read, "--paper", "Letter"])
    assert right.exit_code == 0
    assert "note:" not in right.stdout


def test_nothing_is_out_by_minus_nothing() -> None:
    assert Printer("office", Distortion(0.99, 1.0, 0.001)).words == "office: across +1.01 %, up +0.00 %, skew +0.00°"
