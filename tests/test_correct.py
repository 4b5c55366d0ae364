"""A printer's correction against worked values, a warped rectangle, and an independent least-squares solver."""

from __future__ import annotations

import math
import re

import numpy as np
import numpy.typing as npt
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import least_squares

from layout.printer.correction import FITTED, Distortion, Readings, judge, measure, uncertainty
from layout.sheet.marks import UNCHANGED
from tests.outside import Check, agree

BY_HAND = Check("A printer's correction", "arithmetic written out in layout/printer/correction.py", "worked example")
SOLVED = Check(
    "A printer's correction", "scipy.optimize.least_squares, and a rectangle warped by numpy", "independent solver"
)

INCH = 25.4

SCALE = st.floats(0.97, 1.03)
SKEW = st.floats(-1, 1)
SIDE = st.floats(80, 260)


def affine(across: float, up: float, skew: float) -> npt.NDArray[np.float64]:
    """Return what such a printer does to a drawing."""
    turn = math.radians(skew)
    return np.array([[across, up * math.sin(turn)], [0, up * math.cos(turn)]])


def read(matrix: npt.NDArray[np.float64], width: float, height: float) -> Readings:
    """Return the readings of a printed rectangle, exact: the distances of its printed corners."""
    right, top = matrix @ np.array([width, 0]), matrix @ np.array([0, height])
    across, up, rising, falling = (float(np.linalg.norm(line)) for line in (right, top, right + top, right - top))
    return Readings(across, up, rising, falling, width, height)


def evenly(scale: float, side: float = 150) -> Readings:
    return read(affine(scale, scale, 0), side, side)


@BY_HAND.of()
@pytest.mark.parametrize(
    ("readings", "inch", "distortion", "residual", "matrix"),
    [  # worked values
        pytest.param(
            Readings(149.2, 150.6, 211.6, 212.4, 150, 150),
            1,
            (0.994667, 1.004, -0.2162),
            0.0075,
            ((1.005362, 0.003794), (0, 0.996023)),
            id="K1",
        ),
        pytest.param(
            Readings(5.97, 6.02, 8.50, 8.455, 6, 6),
            INCH,
            (0.995, 1.003333, 0.3041),
            -0.0008,
            ((1.005025, -0.005334), (0, 0.996692)),
            id="K2_in",
        ),
        pytest.param(
            Readings(179.3, 240.7, 300.7, 299.7, 180, 240),
            1,
            (0.996111, 1.002917, 0.1993),
            0.0588,
            ((1.003904, -0.003492), (0, 0.997098)),
            id="K3",
        ),
    ],
)
def test_worked_corrections(
    readings: Readings,
    inch: float,
    distortion: tuple[float, ...],
    residual: float,
    matrix: tuple[tuple[float, float], tuple[float, float]],
) -> None:
    found = judge(readings, reading_error=0.25 / inch, most_residual=0.3 / inch)
    measured = found.measured
    agree((measured.scale_across, measured.scale_up), distortion[:2], 5e-7, unit="")
    agree(measured.skew, distortion[2], 5e-5, unit="")
    agree(found.residual, residual, 5e-5, unit="")
    agree(np.array(found.correction), np.array(matrix), 5e-7, unit="")
    assert (found.verdict, found.corrects, found.reason) == ("correct", True, "")


@BY_HAND.of()
def test_worked_least_squares() -> None:  # worked value K1
    found = measure(Readings(149.2, 150.6, 211.6, 212.4, 150, 150), least_squares=True)
    agree(found.scale_across - 1, -0.0053, 5e-5, unit="")
    agree(found.scale_up - 1, 0.0040, 5e-5, unit="")
    agree(found.skew, -0.216, 5e-4, unit="")


@SOLVED.of()
@given(SCALE, SCALE, SKEW, SIDE, SIDE, st.booleans())
def test_the_correction_undoes_the_printer(
    across: float, up: float, skew: float, width: float, height: float, evened: bool
) -> None:
    printer = affine(across, up, skew)
    found = measure(read(printer, width, height), least_squares=evened)
    agree(np.array(found.correction()) @ printer, np.eye(2), 1e-9, unit="of it")
    agree(printer @ np.array(found.correction()), np.eye(2), 1e-9, unit="of it")


@given(st.floats(0.985, 1.03), st.floats(0.985, 1.03), SKEW, SIDE, SIDE)
def test_what_is_left_after_a_judgement_is_inside_the_reading_error(
    across: float, up: float, skew: float, width: float, height: float
) -> None:
    printer = affine(across, up, skew)
    found = judge(read(printer, width, height))
    assert found.corrects is (found.correction != UNCHANGED)
    again = read(printer @ np.array(found.correction), width, height)
    assert abs(again.across - width) <= 0.25 + 0.005
    assert abs(again.up - height) <= 0.25 + 0.005
    assert abs(again.rising - again.falling) <= 0.5 + 0.02  # scales that are put right move it by up to 3 %


@SOLVED.of()
@settings(deadline=None, max_examples=30)
@given(SCALE, SCALE, SKEW, SIDE, SIDE, st.lists(st.floats(-0.25, 0.25), min_size=4, max_size=4))
def test_least_squares_agrees_with_a_solver(
    across: float, up: float, skew: float, width: float, height: float, errors: list[float]
) -> None:
    exact = read(affine(across, up, skew), width, height)
    lengths = np.array([exact.across, exact.up, exact.rising, exact.falling]) + errors
    across, up, rising, falling = (float(length) for length in lengths)
    readings = Readings(across, up, rising, falling, width, height)

    def misfit(guess: npt.NDArray[np.float64]) -> npt.NDArray[np.float64]:
        model = read(affine(*guess), width, height)
        return np.array([model.across, model.up, model.rising, model.falling]) - lengths

    solved = least_squares(misfit, [1, 1, 0], x_scale=[0.01, 0.01, 1], xtol=1e-12).x
    found = measure(readings, least_squares=True)
    # To first order: what is left out is the reading error times the skew.
    agree((found.scale_across, found.scale_up), solved[:2], 2e-4, unit="of it")
    agree(found.skew, solved[2], 5e-3, unit="°")


@BY_HAND.of()
def test_uncertainty() -> None:  # worked values: 0.17 % and 0.095° on 150, 0.10 % over 240
    found = uncertainty(Readings(150, 150, 212.1, 212.1, 150, 150))
    agree((found.scale_across, found.scale_up), (0.0017, 0.0017), 5e-5, unit="")
    agree(found.skew, 0.095, 6e-4, unit="")
    agree(uncertainty(Readings(180, 240, 300, 300, 180, 240)).scale_up, 0.0010, 5e-5, unit="")


@SOLVED.of()
def test_the_skew_uncertainty_is_what_two_readings_make_of_it() -> None:
    base = read(affine(1, 1, 0), 180, 240)
    moved = [
        measure(Readings(base.across, base.up, base.rising + one, base.falling + other, 180, 240)).skew
        for one, other in ((0.25, 0), (0, 0.25))
    ]
    agree(math.hypot(*moved), uncertainty(base).skew, share=2e-3, unit="°")


@pytest.mark.parametrize(
    ("readings", "verdict", "reason"),
    [
        # Worked values: inside the reading error; readings 1.2 apart; each way of fitting to a page.
        pytest.param(Readings(149.9, 149.9, 212.2, 212.0, 150, 150), "inside reading error", "true", id="inside"),
        pytest.param(Readings(150, 150, 213.3, 213.3, 150, 150), "measure again", "do not go together", id="1.2 apart"),
        pytest.param(evenly(0.9407), "refused", "A4 sheet fitted to Letter", id="A4 on Letter"),
        pytest.param(evenly(0.9727), "refused", "Letter sheet fitted to A4", id="Letter on A4"),
        pytest.param(evenly(0.941, 100), "refused", "A4 sheet fitted to Letter", id="bar reads 94.1"),
        pytest.param(evenly(0.973, 100), "refused", "Letter sheet fitted to A4", id="bar reads 97.3"),
        pytest.param(evenly(0.952), "refused", "fit to page", id="95.2"),
        pytest.param(evenly(0.9795), "refused", "fit to page", id="97.95"),
        pytest.param(evenly(0.985), "correct", "", id="98.5"),
        pytest.param(evenly(0.9407 + 0.0049), "refused", "A4 sheet", id="fitted, and the printer out by 0.49 %"),
        pytest.param(evenly(0.9407 + 0.0052), "refused", "across is out", id="not near enough to tell"),
        pytest.param(evenly(1.031), "refused", r"across is out by \+3\.1 %", id="too large"),
        pytest.param(read(affine(1, 0.965, 0), 150, 150), "refused", r"up is out by −3\.5 %", id="too short"),
        pytest.param(read(affine(1, 1, 2), 150, 150), "refused", r"slant is out by \+3\.5 %", id="too skew"),
        pytest.param(read(affine(0.9727, 1, 0), 150, 150), "correct", "", id="one way only is no fitting"),
    ],
)
def test_verdicts(readings: Readings, verdict: str, reason: str) -> None:
    found = judge(readings)
    assert found.verdict == verdict
    assert re.search(reason, found.reason) if reason else not found.reason
    assert (found.correction == UNCHANGED) is (verdict != "correct")


def test_only_what_is_beyond_the_reading_error_is_corrected() -> None:
    readings = read(affine(1.01, 1.001, 0.05), 150, 150)  # 1.5 mm across, but 0.15 up and 0.19 between the diagonals
    assert np.array(judge(readings).correction) == pytest.approx(np.array([[1 / 1.01, 0], [0, 1]]))
    sharper = judge(readings, reading_error=0.05)
    assert np.array(sharper.correction) == pytest.approx(np.array(Distortion(1.01, 1.001, 0.05).correction()))


def test_the_residual_is_flagged_at_three_tenths() -> None:
    for excess, verdict in ((0.29, "inside reading error"), (0.31, "measure again")):
        diagonal = 150 * math.sqrt(2) + excess
        found = judge(Readings(150, 150, diagonal, diagonal, 150, 150))
        assert found.verdict == verdict
        assert found.residual == pytest.approx(excess)


def test_rising_runs_from_the_lower_left_to_the_upper_right() -> None:
    leaning_right = read(affine(1, 1, 0.5), 150, 150)  # the top of the sheet is pushed to the right
    assert leaning_right.rising > leaning_right.falling
    assert measure(leaning_right).skew == pytest.approx(0.5)


@BY_HAND.of()
def test_scales_of_fitting() -> None:  # worked values
    agree(list(FITTED.values()), [0.9407, 0.9727], 5e-5, unit="")
    a4_on_letter = FITTED["an A4 sheet fitted to Letter paper"]
    agree((89.5 * a4_on_letter, 9.9 * a4_on_letter), (84.19, 9.31), 0.01, unit="")


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: Readings(0, 150, 212, 212, 150, 150), "across is 0; it must be more than 0"),
        (lambda: Readings(150, 150, 212, 212, 150, math.nan), "height is nan"),
        (
            lambda: Readings(150, 150, 301, 1, 150, 150),
            "rising is 301 beside falling 1: across 150 and up 150 allow no",
        ),
        (lambda: judge(evenly(1), reading_error=-1), "reading_error is -1; it must be at least 0"),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()
