"""Printers: the print check, what its readings say, what is kept, and that a corrected sheet comes out true.

The simulated printer is a known affine map laid over what pdfium and poppler really draw: the corners of the
rectangle are found in the pixels, warped, read with the error of a ruler, and the sheet is drawn again corrected.
"""

from __future__ import annotations

import json
import math
import subprocess
from collections.abc import Callable
from dataclasses import replace
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
from jigs.errors import CannotBuild, CannotRead
from layout import calibrate, paper, pdf, printers, svg
from layout.correct import READING_ERROR, Distortion, Readings, judge
from layout.marks import Bundle, corrected
from layout.printers import Printer
from tests.legibility import faults

DPI = 300
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
    [sheet] = calibrate.sheet(on, "mm", "none").sheets
    assert faults(sheet) == []
    wide, high = calibrate.size(on)
    assert 0 <= on.frame.width - wide < 18
    assert 0 <= on.frame.height - high < 18
    names = {group.name for group in sheet.groups()}
    assert {"calibration-rectangle", "calibration-card", "calibration-square", "calibration-inches"} <= names


def test_the_card_outline_is_that_of_iso_7810() -> None:
    """ISO/IEC 7810 ID-1: 85.60 by 53.98 mm."""
    [sheet] = calibrate.sheet(paper.named("A4"), "mm", "none").sheets
    [card] = [group for group in sheet.groups() if group.name == "calibration-card"]
    bounds = card.strokes[0].shape.bounds
    assert (bounds.width, bounds.height) == pytest.approx((85.60, 53.98))


@pytest.mark.parametrize("page", ["50x50 mm", "A5", "both"])
def test_a_page_too_small_for_the_print_check(page: str) -> None:
    with pytest.raises(CannotBuild, match="does not fit"):
        calibrate.sheet(paper.named(page), "mm", "none")


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
        ((170, 260, 310.64, 310.64), 0, "inside reading error"),
        ((169.9, 259.9, 310.6, 310.4), 0, "inside reading error"),
        ((159.92, 244.58, 292.22, 292.22), 1, "an A4 sheet fitted to Letter paper"),
        ((165.36, 252.9, 302.16, 302.16), 1, "a Letter sheet fitted to A4 paper"),
        ((163.2, 249.6, 298.2, 298.2), 1, "fit to page"),
        ((169.3, 260.8, 312.6, 310.6), 1, "no parallelogram"),
        ((164, 260, 307.4, 307.4), 1, "more than 3%"),
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
        (["--across", "170"], "all four are needed; --up, --rising, --falling not given"),
        (["--across", "x", *READ[2:]], "--across: 'x'"),
        (["--across", "0", *READ[2:]], "readings: across"),
        ([*READ[:4], "--rising", "900", "--falling", "1"], "readings: "),
        (["--show", "office"], "no printer has been measured yet"),
        (["--printer", "nobody"], "no printer has been measured yet"),
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
        ("{", "can't be read"),
        ("[1]", "damaged"),
        ('{"version": 1, "printers": {"office": {"scale_across": 1}}}', "damaged"),
        ('{"version": 1, "printers": {"office": {"scale_across": 9, "scale_up": 1, "skew": 0}}}', "damaged"),
        ('{"version": 2, "printers": {}}', "version 2, newer than this jigleaf's 1"),
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
    printers.keep(Printer("office", Distortion(0.996, 1.003, 0.1)))
    with pytest.raises(CannotRead, match=r"no printer called 'offise'; did you mean 'office'\?"):
        printers.find("offise")


def test_any_drawing_command_takes_a_printer(tmp_path: Path) -> None:
    run(*READ, "--printer", "office")
    words = ["--finger", "10", "--cutter", "10", "--board", "90", "--thickness", "12", "--only", "stick"]
    result = CliRunner().invoke(cli.main, ["jig", "sled", *words, "--printer", "office", "-o", str(tmp_path / "s")])
    assert result.exit_code == 0
    assert "corrected for office: across +0.41 %" in result.stderr
    root: Any = etree.fromstring((tmp_path / "s" / "sled-stick.svg").read_bytes())
    [page] = root.xpath("//*[@id='printer-correction']")
    assert page.get("transform").startswith("matrix(1.0041")
    words_drawn = " ".join(root.xpath("//*[local-name()='text']/text()"))
    assert "office: across +0.41 %" in " ".join(words_drawn.split())


# -- the simulated printer -----------------------------------------------------------------------------------------


def warp(distortion: Distortion, at: Place) -> Place:
    """What the printer does to a place: A = [[sx, sy sin k], [0, sy cos k]]."""
    skew = math.radians(distortion.skew)
    x, y = at
    return (
        distortion.scale_across * x + distortion.scale_up * math.sin(skew) * y,
        distortion.scale_up * math.cos(skew) * y,
    )


def pdfium(document: bytes) -> Any:
    picture = pypdfium2.PdfDocument(document)[0].render(scale=DPI / 72, grayscale=True).to_numpy()
    return picture.reshape(picture.shape[:2])


def corners(picture: Any, bundle: Bundle) -> list[Place]:
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
        row = picture[round((high - place[1]) / DOT - 0.5)]
        return dark_middle(row, place[0]), high - (round((high - place[1]) / DOT - 0.5) + 0.5) * DOT

    def on_level(x: float, y: float) -> Place:
        place = expected(x, y)
        column = round(place[0] / DOT - 0.5)
        return (column + 0.5) * DOT, high - dark_middle(picture[:, column], high - place[1])

    low, top = box.bottom + 40.5, box.bottom + 200.5
    near, far = box.left + 40.5, box.left + 120.5
    left = [on_upright(box.left, y) for y in (low, top)]
    right = [on_upright(box.right, box.bottom + n * 25.4 / 16 + 0.8) for n in (20, 120)]
    lower = [on_level(x, box.bottom) for x in (near, far)]
    upper = [on_level(box.left + n * 25.4 / 16 + 0.8, box.top) for n in (20, 80)]
    return [meeting(lower, left), meeting(lower, right), meeting(upper, right), meeting(upper, left)]


def dark_middle(line: Any, near: float) -> float:
    start = max(0, round((near - 0.55) / DOT))
    part = 255.0 - line[start : round((near + 0.55) / DOT)].astype(float)
    assert part.sum() > 0
    return float(((np.arange(len(part)) + start + 0.5) * part).sum() / part.sum()) * DOT


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


def check_a_printer(distortion: Distortion, noise: list[float], render: Callable[[bytes], Any]) -> None:
    """Print, read, correct, print again: what is left is no more than the reading error predicts."""
    on = paper.named("A4")
    wide, high = calibrate.size(on)
    bundle = calibrate.sheet(on, "mm", "none")
    printed = [warp(distortion, place) for place in corners(render(pdf.write(bundle)), bundle)]
    readings = Readings(*read_with_a_ruler(printed, noise), wide, high)
    judged = judge(readings, most_residual=1.0)
    again = replace(bundle, correction=judged.correction)
    left = [warp(distortion, place) for place in corners(render(pdf.write(again)), again)]
    across, up, rising, falling = read_with_a_ruler(left, [0.0] * 4)
    allowed = READING_ERROR + 2 * DOT
    assert across == pytest.approx(wide, abs=allowed)
    assert up == pytest.approx(high, abs=allowed)
    # Each diagonal may be out by its reading, so their difference by twice that; inside it nothing is corrected.
    assert rising - falling == pytest.approx(0.0, abs=2 * allowed)


distortions = st.builds(Distortion, st.floats(0.985, 1.015), st.floats(0.985, 1.015), st.floats(-0.5, 0.5))
ruler = st.lists(st.floats(-READING_ERROR, READING_ERROR), min_size=4, max_size=4)


@given(distortions, ruler)
@settings(max_examples=12, derandomize=True, suppress_health_check=[HealthCheck.function_scoped_fixture])
def test_a_corrected_sheet_comes_out_true_in_pdfium(distortion: Distortion, noise: list[float]) -> None:
    check_a_printer(distortion, noise, pdfium)


@pytest.mark.parametrize(
    "distortion", [Distortion(0.994, 1.004, -0.2), Distortion(1.01, 0.99, 0.4), Distortion(0.997, 0.997, 0.0)]
)
def test_a_corrected_sheet_comes_out_true_in_poppler(distortion: Distortion, poppler: str, tmp_path: Path) -> None:
    def render(document: bytes) -> Any:
        (tmp_path / "sheet.pdf").write_bytes(document)
        command = [poppler, "-r", str(DPI), "-gray", "-png", "-singlefile", "sheet.pdf", "sheet"]
        subprocess.run(command, cwd=tmp_path, check=True)
        return np.asarray(Image.open(tmp_path / "sheet.png").convert("L"))

    check_a_printer(distortion, [0.2, -0.2, 0.1, -0.1], render)


@given(distortions, st.booleans())
def test_turned_pages_are_turned_first_and_corrected_last(distortion: Distortion, lies: bool) -> None:
    """On the printer a page on its side is turned a quarter; drawn corrected, turned and printed it is true."""
    on = paper.named("A4")
    page = on.turned if lies else on
    a, b, c, d, _, _ = corrected(page, distortion.correction())
    for x, y in ((100.0, 0.0), (0.0, 100.0), (70.0, -30.0)):
        drawn = (a * x + c * y, b * x + d * y)
        turned, true = ((-drawn[1], drawn[0]), (-y, x)) if lies else (drawn, (x, y))
        assert warp(distortion, turned) == pytest.approx(true, abs=1e-9)


def test_pdf_and_svg_correct_alike() -> None:
    correction = Distortion(0.994, 1.004, -0.2).correction()
    sheet = calibrate.sheet(paper.named("A4"), "mm", "none").sheets[0]
    a, b, c, d, e, f = corrected(sheet.paper, correction)
    root: Any = etree.fromstring(svg.write(sheet, "x", correction))
    [page] = root.xpath("//*[@id='printer-correction']")
    m = [float(n) for n in page.get("transform")[7:-1].split()]
    for x, y in ((20.0, 30.0), (200.0, 280.0)):
        down = sheet.paper.height - y
        drawn = (m[0] * x + m[2] * down + m[4], sheet.paper.height - (m[1] * x + m[3] * down + m[5]))
        assert drawn == pytest.approx((a * x + c * y + e, b * x + d * y + f), abs=1e-6)
