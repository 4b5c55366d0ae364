"""A printer's measured errors, and the map that undoes them.

A rectangle is printed, and its width, its height and both diagonals are read with a rule. Lengths are in one
unit, mm where a default says so; angles in degrees. Axes are the printer's, x across the paper and y up it as
it came out, so a sheet that is turned to print is turned first and corrected last.
"""

from __future__ import annotations

import math
from typing import Literal

from jigs.record import Record
from jigs.trade.limits import not_negative, positive
from layout.sheet.marks import UNCHANGED, Matrix

Verdict = Literal["correct", "inside reading error", "measure again", "refused"]

READING_ERROR = 0.25
"""How far out, in mm, a reading with a rule may be (common practice, no source)."""

MOST_RESIDUAL = 0.3
"""How far, in mm, four readings may be from those of any parallelogram (common practice, no source)."""

MOST_ERROR = 0.03
"""The most a printer may be out, in either scale or in slant, as a fraction; more is some other fault."""

FITTED = {
    "an A4 sheet fitted to Letter paper": min(215.9 / 210, 279.4 / 297),
    "a Letter sheet fitted to A4 paper": min(210 / 215.9, 297 / 279.4),
}
"""Scales that come of printing on the other paper: the smaller ratio of the sides (ISO 216, ANSI Y14.1)."""

_OWN_ERROR = 0.005  # a printer is commonly out by 0.1 to 0.5 %, besides what it was told to do (from memory)
_COMMONLY_FITTED = (
    0.95,
    0.98,
)  # scales at which "fit to page" shrinks onto what a printer reaches (common practice)


class Readings(Record):
    """What was read from a printed rectangle that is `width` × `height` true.

    `rising` is the diagonal from the lower left to the upper right, `falling` the other. Raises ValueError
    for lengths that are not positive, and for diagonals that no figure with such sides has.
    """

    across: float
    up: float
    rising: float
    falling: float
    width: float
    height: float

    def __post_init__(self) -> None:
        positive(across=self.across, up=self.up, rising=self.rising, falling=self.falling)
        positive(width=self.width, height=self.height)
        if abs(self.slant) >= 1:
            raise ValueError(
                f"rising is {self.rising:g} beside falling {self.falling:g}: across {self.across:g} and"
                f" up {self.up:g} allow no such diagonals"
            )

    @property
    def slant(self) -> float:
        """The sine of the skew: rising² − falling² = 4·across·up·sin κ in any parallelogram."""
        return (self.rising**2 - self.falling**2) / (4 * self.across * self.up)

    @property
    def residual(self) -> float:
        """How far the readings are from those of a parallelogram, as a length: 0 where they agree.

        The diagonals of a parallelogram have 2·(across² + up²) as the sum of their squares: √((rising² +
        falling²)/2) − √(across² + up²).
        """
        return math.hypot(self.rising, self.falling) / math.sqrt(2) - math.hypot(self.across, self.up)


class Distortion(Record):
    """What a printer does: scales across and up, and a skew in degrees, positive where the top leans right.

    (x, y) is printed at A·(x, y), A = [[scale_across, scale_up·sin κ], [0, scale_up·cos κ]]. Lengths show no
    turn of the whole sheet, so the lower edge is taken to lie true.
    """

    scale_across: float
    scale_up: float
    skew: float

    def correction(self) -> Matrix:
        """Return the matrix that undoes it, the inverse of A: [[1/sx, −tan κ/sx], [0, 1/(sy·cos κ)]]."""
        skew = math.radians(self.skew)
        return (
            (1 / self.scale_across, -math.tan(skew) / self.scale_across),
            (0.0, 1 / (self.scale_up * math.cos(skew))),
        )


NONE = Distortion(1.0, 1.0, 0.0)
"""What a true printer does."""


class Judgement(Record):
    """What the readings say, and what to do about it.

    `measured` is all that was read; `applied` is the part of it that is beyond the reading error, which
    `correction` undoes: nothing, unless the verdict is "correct". `uncertainty` is what the reading error makes of
    each: for the scales the most, for the skew the root of the mean square. `reason` says in words why there is no
    correction.
    """

    verdict: Verdict
    reason: str
    measured: Distortion
    residual: float
    uncertainty: Distortion
    applied: Distortion

    @property
    def correction(self) -> Matrix:
        """The matrix that undoes what is applied."""
        return UNCHANGED if self.applied == NONE else self.applied.correction()

    @property
    def corrects(self) -> bool:
        """Whether the sheets will be drawn corrected."""
        return self.verdict == "correct"


def measure(readings: Readings, *, least_squares: bool = False) -> Distortion:
    """Return the distortion, from the sides and the diagonals' difference or from all four readings evenly.

    With `least_squares` the sides are moved so that the squares of the four corrections are least in sum. To
    first order the mean diagonal grows by u·(dx, dy), u the unit vector along it; minimising dx² + dy² +
    2·(u·(dx, dy) − residual)² gives (dx, dy) = 2/3·residual·u.
    """
    share = 2 / 3 * readings.residual / math.hypot(readings.across, readings.up) if least_squares else 0.0
    across, up = readings.across * (1 + share), readings.up * (1 + share)
    return Distortion(across / readings.width, up / readings.height, math.degrees(math.asin(readings.slant)))


def uncertainty(readings: Readings, reading_error: float = READING_ERROR) -> Distortion:
    """Return what the reading error makes of the scales, at most, and of the skew, as a root mean square.

    From sin κ = (rising² − falling²)/(4·width·height): error · diagonal / (√2·width·height) radians.
    """
    diagonal = math.hypot(readings.width, readings.height)
    skew = reading_error * diagonal / (math.sqrt(2) * readings.width * readings.height)
    return Distortion(reading_error / readings.width, reading_error / readings.height, math.degrees(skew))


def judge(
    readings: Readings,
    *,
    reading_error: float = READING_ERROR,
    most_residual: float = MOST_RESIDUAL,
    least_squares: bool = False,
) -> Judgement:
    """Return the verdict on four readings and the correction that follows from them.

    Readings that fit no parallelogram are to be taken again. A scale that comes of a print dialogue, or an
    error of more than 3 %, is refused: the cause is to be put right, not the sheet. What is inside the
    reading error is not corrected: a side read to within `reading_error`, diagonals to within twice that of
    each other.
    """
    not_negative(reading_error=reading_error, most_residual=most_residual)
    measured = measure(readings, least_squares=least_squares)
    applied = NONE
    verdict, reason = _refusal(readings, measured, most_residual)
    if verdict == "correct":
        applied = _beyond_reading(readings, measured, reading_error)
        if applied == NONE:
            verdict, reason = "inside reading error", "the print is true as far as a rule can tell"
    unsure = uncertainty(readings, reading_error)
    return Judgement(verdict, reason, measured, readings.residual, unsure, applied)


def _refusal(readings: Readings, measured: Distortion, most_residual: float) -> tuple[Verdict, str]:
    """Return why these readings are not to be corrected, or "correct"."""
    if abs(readings.residual) > most_residual:
        return "measure again", "these sides and diagonals do not go together"
    if cause := _diagnosis(measured.scale_across, measured.scale_up):
        return "refused", f"it looks like {cause}; print it again at 100 %"
    for name, error in (
        ("across", measured.scale_across - 1),
        ("up", measured.scale_up - 1),
        ("slant", readings.slant),
    ):
        if abs(error) > MOST_ERROR + 1e-9:  # 1.03 − 1 is a little more than 0.03 in floats
            most = f"a printer's own error is {MOST_ERROR * 100:.0f} % at most"
            return "refused", f"{name} is out by {signed(error * 100, 1)} %, and {most}"
    return "correct", ""


def signed(value: float, places: int = 2) -> str:
    """Return a number with its sign, a true minus, as what a printer does is written."""
    return f"{round(value, places) + 0.0:+.{places}f}".replace("-", "−")  # + 0.0 takes the sign off nothing


def _diagnosis(across: float, up: float) -> str:
    """Return what a pair of scales comes of, or nothing. What fits a page shrinks it alike both ways."""
    if abs(across - up) > _OWN_ERROR:
        return ""
    mean = (across + up) / 2
    cause, scale = min(FITTED.items(), key=lambda fitted: abs(fitted[1] - mean))
    if abs(scale - mean) <= _OWN_ERROR:
        return cause
    least, most = _COMMONLY_FITTED
    return "a sheet printed with “fit to page”" if least <= mean <= most else ""


def _beyond_reading(readings: Readings, measured: Distortion, reading_error: float) -> Distortion:
    """Return the distortion with all that is inside the reading error taken as none."""
    across_is_out = abs(measured.scale_across - 1) * readings.width > reading_error
    up_is_out = abs(measured.scale_up - 1) * readings.height > reading_error
    skew_is_out = abs(readings.rising - readings.falling) > 2 * reading_error
    return Distortion(
        measured.scale_across if across_is_out else 1.0,
        measured.scale_up if up_is_out else 1.0,
        measured.skew if skew_is_out else 0.0,
    )
