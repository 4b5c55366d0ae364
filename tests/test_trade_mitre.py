"""Mitred rings against worked values, and against boards put together in space."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade.mitre import mitre, side_length
from tests.outside import Check, agree

BY_HAND = Check(
    "Mitres, dovetails, dividers, hinges, rows",
    "arithmetic written out in jigs/trade/mitre.py, spacing.py, dividers.py, hinge.py and circles.py",
    "worked example",
)
IN_SPACE = Check(
    "Mitres, dovetails, dividers, hinges, rows",
    "boards put together, cutters rolled and cuts laid over wood by numpy and shapely",
    "reference library",
)


@BY_HAND.of(mitre)
@pytest.mark.parametrize(
    ("sides", "slope", "tilt", "gauge"),
    [  # worked values
        pytest.param(4, 0, 45, 0, id="4_0"),
        pytest.param(4, 10, 44.136, 9.8511, id="X_compound_4_10"),
        pytest.param(6, 0, 30, 0, id="6_0"),
        pytest.param(6, 15, 28.8791, 8.4988, id="X_compound_6_15"),
        pytest.param(8, 5, 22.4097, 2.0675, id="X_compound_8_5"),
    ],
)
def test_worked_mitres(sides: int, slope: float, tilt: float, gauge: float) -> None:
    found = mitre(sides=sides, slope=slope)
    agree((found.tilt, found.gauge), (tilt, gauge), 5e-5, unit="°")


@IN_SPACE.of(mitre)
@given(st.integers(3, 16), st.floats(0, 80))
def test_the_boards_meet_in_space(sides: int, slope: float) -> None:
    # One board faces +x and leans outward; its neighbour is the same, turned about the vertical.
    lean, turn = math.radians(slope), 2 * math.pi / sides
    rotation = np.array([[math.cos(turn), -math.sin(turn), 0], [math.sin(turn), math.cos(turn), 0], [0, 0, 1]])
    up = np.array([math.sin(lean), 0, math.cos(lean)])
    normal = np.array([math.cos(lean), 0, -math.sin(lean)])
    along_corner = np.cross(normal, rotation @ normal)
    along_corner /= np.linalg.norm(along_corner)
    # The corner lies in the board's face, off its line of slope by the gauge; the tilt is half of the faces' turn.
    gauge = math.degrees(math.acos(min(1.0, abs(float(along_corner @ up)))))
    tilt = math.degrees(math.acos(float(np.clip(normal @ (rotation @ normal), -1, 1)))) / 2
    found = mitre(sides=sides, slope=slope)
    agree(found.gauge, gauge, 1e-5, unit="°")
    agree(found.tilt, tilt, 1e-5, unit="°")


@BY_HAND.of(side_length)
def test_side_length() -> None:
    agree(side_length(sides=6, inscribed_radius=80), 92.38, 5e-3, unit="mm")  # worked value
    agree(side_length(sides=4, inscribed_radius=50), 100, unit="mm")


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: mitre(sides=2), "sides is 2"),
        (lambda: mitre(sides=4, slope=90), "slope is 90; it must be at least 0 and less than 90"),
        (lambda: mitre(sides=4, slope=-1), "slope is -1"),
        (lambda: side_length(sides=6, inscribed_radius=0), "inscribed_radius is 0; it must be more than 0"),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


def test_the_least_ring_and_the_flattest() -> None:
    # the triangle round a circle of 1 has sides of 2·√3; boards that almost lie flat hardly tilt the blade
    assert side_length(sides=3, inscribed_radius=1) == pytest.approx(2 * math.sqrt(3))
    assert mitre(sides=4, slope=89.5).tilt == pytest.approx(0.3535, abs=1e-4)  # 0.5 degrees · sin 45
    with pytest.raises(ValueError, match="sides is 2; it must be from 3 to inf"):
        side_length(sides=2, inscribed_radius=1)
