"""Glue, clamps, finish and squareness against worked values."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade import finishing
from tests.outside import Check, agree

BY_HAND = Check(
    "Stock, finish, set-ups", "arithmetic written out in jigs/trade/stock.py and finishing.py", "worked example"
)
LEANING = Check(
    "Stock, finish, set-ups",
    "every way there is, scipy.optimize.milp (HiGHS), a parallelogram measured",
    "independent solver",
)
PRACTICE = Check("Limits and margins of the shop", "common practice, no source", "common practice")

INCH = 25.4


@BY_HAND.of(finishing.cheek_area)
@pytest.mark.parametrize(
    ("count", "thickness", "area", "height", "share"),
    [  # worked values: cheeks of one corner, and as a share of a plain butt of the same boards
        pytest.param(9, 12, 1152, 89.5, 1.07, id="M"),
        pytest.param(7, 0.5, 1.5, 3.484, 0.86, id="N_in"),
    ],
)
def test_cheeks(count: int, thickness: float, area: float, height: float, share: float) -> None:
    found = finishing.cheek_area(count=count, first_thickness=thickness, second_thickness=thickness)
    agree(found, area, 0.0, unit="")
    agree(found / (height * thickness), share, 5e-3, unit="of it")


@BY_HAND.of(finishing.groove_area)
def test_the_glue_area_round_a_sheet() -> None:
    """Two faces of 187.5 · 137.5 less 176 · 126: 2 · (25781.25 − 22176); in inches 2 · (6.98 · 4.48 − 6.5 · 4)."""
    agree(finishing.groove_area(length=187.5, width=137.5, engagement=5.75), 7210.5, unit="mm²")
    agree(finishing.groove_area(length=6.98, width=4.48, engagement=0.24), 10.5408, unit="")
    agree(finishing.groove_area(length=187.5, width=137.5, engagement=0), 0, unit="mm²")


@PRACTICE.of(finishing.glue_mass)
def test_glue() -> None:
    agree(finishing.glue_mass(4 * 1152), 0.92, 5e-3, unit="g")  # worked value M: 0.9 g
    agree(finishing.glue_mass(0), 0, 0.0, unit="g")


@PRACTICE.of(finishing.clamps)
@pytest.mark.parametrize(
    ("height", "count"),
    [  # worked values
        pytest.param(89.5, 8, id="M"),
        pytest.param(3.484 * INCH, 8, id="N"),
        pytest.param(160, 12, id="160"),
        pytest.param(75, 4, id="one row"),
        pytest.param(75.1, 8, id="just two rows"),
    ],
)
def test_clamps(height: float, count: int) -> None:
    agree(finishing.clamps(height), count, 0.0, unit="clamps")


@BY_HAND.of(finishing.finish_area)
@pytest.mark.parametrize(
    ("sizes", "area", "places"),
    [  # worked values: .2874 m² and 453.3 in²
        pytest.param((240, 160, 89.5, 216, 136, 250, 170), 287_400, 50, id="M"),
        pytest.param((9.5, 6.5, 3.484, 8.5, 5.5, 9.875, 6.875), 453.3, 0.05, id="N_in"),
        # Without a lid: four walls outside 2·10·(6+4), inside 2·10·(5+3), two faces 5·3, rim 6·4 − 5·3.
        pytest.param((6, 4, 10, 5, 3, 0, 0), 200 + 160 + 30 + 9, 1e-9, id="open box"),
    ],
)
def test_finish_area(sizes: tuple[float, ...], area: float, places: float) -> None:
    length, width, height, inside_length, inside_width, lid_length, lid_width = sizes
    found = finishing.finish_area(
        length=length,
        width=width,
        height=height,
        inside_length=inside_length,
        inside_width=inside_width,
        lid_length=lid_length,
        lid_width=lid_width,
    )
    agree(found, area, places, unit="")


@BY_HAND.of(finishing.finish_volume, finishing.caul_relief)
def test_finish_volume() -> None:
    # Worked value M: three coats at 10 m² a litre.
    agree(finishing.finish_volume(area=0.2874, coats=3, coverage=10), 0.112, 5e-4, unit="")
    # Worked value N, derived for the area of 453.3 in²: three coats at 125 ft² a quart of 32 fluid ounces.
    quarts = finishing.finish_volume(area=453.3 / 144, coats=3, coverage=125)
    agree(quarts * 32, 3.14, 5e-3, unit="")
    agree(finishing.caul_relief(1.5), 2.5, 0.0, unit="")  # worked value


@BY_HAND.of(finishing.out_of_square)
@pytest.mark.parametrize(
    ("length", "width", "apart", "degrees"),
    [  # worked values
        pytest.param(240, 160, 0.5, 0.11, id="M"),
        pytest.param(9.5, 6.5, 1 / 32, 0.17, id="N_in"),
    ],
)
def test_worked_squareness(length: float, width: float, apart: float, degrees: float) -> None:
    middle = math.hypot(length, width)
    first, second = middle + apart / 2, middle - apart / 2
    found = finishing.out_of_square(first=first, second=second, length=length, width=width)
    agree(found, degrees, 5e-3, unit="°")
    agree(finishing.out_of_square(first=second, second=first, length=length, width=width), -found, unit="°")


@LEANING.of(finishing.diagonal)
@given(st.floats(50, 500), st.floats(50, 500), st.floats(0, 3))
def test_the_diagonals_of_a_square_box_over_its_proud_fingers(length: float, width: float, proud: float) -> None:
    """Between the corners of the fingers that stand out, laid out as points: both ways the same, and 3-4-5 is known."""
    corners = [complex(-proud, 0), complex(length + proud, 0), complex(length + proud, width), complex(-proud, width)]
    found = finishing.diagonal(length=length, width=width, proud=proud)
    agree((abs(corners[2] - corners[0]), abs(corners[3] - corners[1])), (found, found), 1e-9, unit="mm")
    agree(finishing.diagonal(length=200, width=150), 250, 1e-9, unit="mm")


@LEANING.of(finishing.out_of_square)
@given(st.floats(50, 500), st.floats(50, 500), st.floats(-30, 30))
def test_diagonals_of_a_leaning_box(length: float, width: float, lean: float) -> None:
    top = (width * math.sin(math.radians(lean)), width * math.cos(math.radians(lean)))
    rising = math.hypot(length + top[0], top[1])
    falling = math.hypot(length - top[0], top[1])
    found = finishing.out_of_square(first=rising, second=falling, length=length, width=width)
    agree(found, lean, 1e-9, unit="°")


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: finishing.cheek_area(count=1, first_thickness=12, second_thickness=12), "count is 1"),
        (lambda: finishing.clamps(0), "height is 0; it must be more than 0"),
        (
            lambda: finishing.finish_area(length=100, width=80, height=50, inside_length=101, inside_width=60),
            "inside_length is 101; it must be from 0 to 100",
        ),
        (lambda: finishing.finish_volume(area=1, coats=0, coverage=10), "coats is 0"),
        (lambda: finishing.out_of_square(first=200, second=1, length=100, width=90), "no box of 100 × 90 leans"),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


def test_two_parts_share_one_cheek() -> None:
    assert finishing.cheek_area(count=2, first_thickness=12, second_thickness=10) == 120
