"""How wood moves: moisture from the air, width from moisture, and the other way round.

Moisture is moisture content in % of the dry weight, humidity is relative humidity in %, temperature is in °C.
Widths are in any one unit, across the grain; along the grain movement is taken as nothing.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from typing import Literal

from jigs.trade.limits import not_negative, positive, within

FLAT, QUARTER = 0.0, 90.0
"""Ring angles, in degrees between growth rings and wide face, of flat-sawn and quarter-sawn boards."""

SATURATION = 30.0
"""Moisture in % above which wood no longer swells (Wood Handbook FPL-GTR-190, chapter 4)."""

_TABLE_RANGE = 6.0, 14.0  # the moistures, in %, between which the published coefficients hold

# The constants of the moisture equation, each as (1, T, T²), for T in °F and in °C.
_CONSTANTS: dict[str, tuple[tuple[float, float, float], ...]] = {
    "fahrenheit": (
        (330, 0.452, 0.00415),
        (0.791, 0.000463, -8.44e-7),
        (6.34, 0.000775, -9.35e-5),
        (1.09, 0.0284, -9.04e-5),
    ),
    "celsius": (
        (349, 1.29, 0.0135),
        (0.805, 0.000736, -2.73e-6),
        (6.27, -0.00938, -3.03e-4),
        (1.91, 0.0407, -2.93e-4),
    ),
}


def equilibrium_moisture(
    temperature: float, humidity: float, equation: Literal["fahrenheit", "celsius"] = "fahrenheit"
) -> float:
    """Return the moisture in % that wood comes to in air of this temperature (°C) and humidity (%).

    M = 1800/W · (Kh/(1−Kh) + (K1·Kh + 2·K1·K2·K²h²)/(1 + K1·Kh + K1·K2·K²h²)), h the humidity as a fraction
    and W, K, K1, K2 quadratics in the temperature. `equation` picks their constants: "fahrenheit" is the
    older set (FPL-RN-0268), "celsius" that of Wood Handbook FPL-GTR-282, Eq. 4-5; they differ by less than
    0.017 %. Checked against the published table from −1 to 66 °C. Raises ValueError outside −20 to 70 °C and 0
    to 100 %.
    """
    within(-20, 70, temperature=temperature)
    within(0, 100, humidity=humidity)
    scale = 1.8 * temperature + 32 if equation == "fahrenheit" else temperature
    weight, k, k1, k2 = (a + b * scale + c * scale**2 for a, b, c in _CONSTANTS[equation])
    held = k * humidity / 100
    numerator = k1 * held + 2 * k1 * k2 * held**2
    return 1800 / weight * (held / (1 - held) + numerator / (1 + k1 * held + k1 * k2 * held**2))


def humidity_for(temperature: float, moisture: float) -> float | None:
    """Return the humidity in % that brings wood to this moisture, or None where air at 100 % does not.

    The inverse of `equilibrium_moisture`, which rises with humidity: found by halving, to 1e-9 %.
    """
    within(0, SATURATION, moisture=moisture)
    steps = 10**11
    step = bisect_left(range(steps + 1), moisture, key=lambda at: equilibrium_moisture(temperature, at * 100 / steps))
    return step * 100 / steps if step <= steps else None


def ring_coefficient(radial: float, tangential: float, ring_angle: float) -> float:
    """Return the coefficient of a board whose rings stand at `ring_angle` degrees to its wide face.

    tangential·cos² + radial·sin²: exact at 0 (flat-sawn) and 90 (quarter-sawn), an approximation between,
    from the transformation of a plane strain. Raises ValueError for an angle outside 0 to 90.
    """
    positive(radial=radial, tangential=tangential)
    within(FLAT, QUARTER, ring_angle=ring_angle)
    across = math.cos(math.radians(ring_angle)) ** 2
    return tangential * across + radial * (1 - across)


def shrinkage_from_coefficient(coefficient: float) -> float:
    """Return the shrinkage in %, green to ovendry, that goes with a coefficient: 3000/(1/C + 20).

    With D(M) = D_green·(1 − S(30 − M)/3000) the change per % is D_green·S/3000. As a fraction of the size at
    10 %, the middle of the table's range, that is C = 1/(3000/S − 20).
    """
    positive(coefficient=coefficient)
    return 3000 / (1 / coefficient + 20)


def ratio(coefficient: float, start: float, end: float) -> float:
    """Return the width at moisture `end` divided by the width at moisture `start`.

    1 + C·(end − start) while both are from 6 to 14 % (Wood Handbook FPL-GTR-190, Table 13-5). If either is
    outside, 1 + (end − start)/(3000/S − 30 + start), Eq. 13-3 from memory, with the shrinkage S that goes
    with C, so that the two agree at 10 %. Raises ValueError for moistures outside 0 to 30 %.
    """
    positive(coefficient=coefficient)
    within(0, SATURATION, start=start, end=end)
    if _in_table(start, end):
        return 1 + coefficient * (end - start)
    return 1 + (end - start) / (_offset(coefficient) + start)


def change(width: float, coefficient: float, start: float, end: float) -> float:
    """Return how much wider a board becomes between two moistures (see `ratio`); negative is narrower."""
    not_negative(width=width)
    return width * (ratio(coefficient, start, end) - 1)


def moisture_at(width: float, coefficient: float, start: float, target: float) -> float:
    """Return the moisture in % at which a board that is `width` wide at `start` is `target` wide.

    The inverse of `ratio`. The answer may lie outside 0 to 30 %, where no wood reaches it.
    """
    positive(width=width, coefficient=coefficient, target=target)
    within(0, SATURATION, start=start)
    growth = target / width - 1
    linear = start + growth / coefficient
    if _in_table(start, linear):
        return linear
    full = start + growth * (_offset(coefficient) + start)
    # The two formulas part a little at the table's edge: a size in that step is reached at the edge itself.
    least, most = _TABLE_RANGE
    return min(max(linear, least), most) if _in_table(start, full) else full


def humidity_at(width: float, coefficient: float, start: float, target: float, temperature: float) -> float | None:
    """Return the humidity in % at which a board reaches a size at this temperature, or None if none does."""
    moisture = moisture_at(width, coefficient, start, target)
    return humidity_for(temperature, moisture) if 0 <= moisture <= SATURATION else None


def year(dry: float, wet: float, wettest_month: int = 8) -> tuple[float, ...]:
    """Return a moisture (or a humidity) for each month, January first, from the driest and the wettest.

    A cosine with its top in `wettest_month` (1 to 12) and its bottom six months away: a picture of a year and
    no record of one (common practice, no source). August suits a heated house in the north.
    """
    within(1, 12, wettest_month=wettest_month)
    middle, swing = (wet + dry) / 2, (wet - dry) / 2
    return tuple(middle + swing * math.cos(math.pi * (month - wettest_month) / 6) for month in range(1, 13))


def step_at_top(width: float, first: float, second: float, moisture_change: float) -> float:
    """Return the step that opens at the top of a corner whose boards have these two coefficients.

    Both are jointed from the bottom edge, so it is width·|first − second|·|change of moisture|.
    """
    positive(width=width, first=first, second=second)
    return width * abs(first - second) * abs(moisture_change)


def _in_table(*moistures: float) -> bool:
    least, most = _TABLE_RANGE
    return all(least <= moisture <= most for moisture in moistures)


def _offset(coefficient: float) -> float:
    """Return 3000/S − 30 of Eq. 13-3, with the shrinkage that goes with a coefficient."""
    return 3000 / shrinkage_from_coefficient(coefficient) - 30
