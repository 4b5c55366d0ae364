"""Glue, clamps, squareness and finish. Lengths in mm unless a docstring says otherwise."""

from __future__ import annotations

import math

from jigs.trade.limits import not_negative, positive, steps_to_cover, within


def cheek_area(*, count: int, first_thickness: float, second_thickness: float) -> float:
    """Return the long-grain glue area of one corner: a cheek between each two of `count` in all.

    (count − 1) · first_thickness · second_thickness, in the square of the unit given.
    """
    within(2, math.inf, count=count)
    positive(first_thickness=first_thickness, second_thickness=second_thickness)
    return (count - 1) * first_thickness * second_thickness


def groove_area(*, length: float, width: float, engagement: float) -> float:
    """Return the glue area of a sheet that is glued all round: a frame on both its faces, as wide as grooves hold it.

    2 · (length · width − (length − 2·engagement) · (width − 2·engagement)), in the square of the unit given.
    """
    positive(length=length, width=width)
    within(0, min(length, width) / 2, engagement=engagement)
    return 2 * (length * width - (length - 2 * engagement) * (width - 2 * engagement))


def glue_mass(area: float, per_square_metre: float = 200.0) -> float:
    """Return grams of glue for an area in mm²; 200 g/m² is common practice, no source."""
    not_negative(area=area, per_square_metre=per_square_metre)
    return area / 1e6 * per_square_metre


def clamps(height: float, spacing: float = 75.0) -> int:
    """Return the clamps for a box: two a row each way, a row for every `spacing` of its height or part of it.

    75 mm is common practice, no source.
    """
    positive(height=height, spacing=spacing)
    return 4 * steps_to_cover(height, spacing)


def caul_relief(proud: float, spare: float = 1.0) -> float:
    """Return how deep a caul is hollowed over the ends of proud fingers (mm; common practice, no source)."""
    not_negative(proud=proud, spare=spare)
    return proud + spare


def finish_area(
    *,
    length: float,
    width: float,
    height: float,
    inside_length: float,
    inside_width: float,
    lid_length: float = 0.0,
    lid_width: float = 0.0,
) -> float:
    """Return the area to finish, in the square of the unit given.

    The four sides outside and inside at their full height, both faces of the bottom at the inside's size,
    both faces of the lid, and the rim on which it rests. The lid's edges and the rim underneath are left out,
    the wall behind the bottom's edge is counted: a shop estimate. The inside must be smaller than the
    outside.
    """
    positive(length=length, width=width, height=height)
    within(0, length, inside_length=inside_length)
    within(0, width, inside_width=inside_width)
    not_negative(lid_length=lid_length, lid_width=lid_width)
    sides = 2 * height * (length + width + inside_length + inside_width)
    bottom = inside_length * inside_width
    rim = length * width - bottom
    return sides + 2 * bottom + 2 * lid_length * lid_width + rim


def finish_volume(*, area: float, coats: int, coverage: float, waste: float = 1.3) -> float:
    """Return the finish for some coats: area · coats / coverage · waste, in the unit of `coverage`.

    With m² and m² per litre the answer is in litres. Three tenths more than covers is common practice, no
    source.
    """
    positive(area=area, coverage=coverage)
    within(1, math.inf, coats=coats, waste=waste)
    return area * coats / coverage * waste


def diagonal(*, length: float, width: float, proud: float = 0.0) -> float:
    """Return what both diagonals of a square box read: √((length + 2·proud)² + width²).

    `proud` is what stands out at both ends of the boards along `length` where they are measured.
    """
    positive(length=length, width=width)
    not_negative(proud=proud)
    return math.hypot(length + 2 * proud, width)


def out_of_square(*, first: float, second: float, length: float, width: float) -> float:
    """Return how far a box is out of square, in degrees, from its diagonals; positive: `first` is longer.

    Of a parallelogram leaning by κ the squares of the diagonals are length² + width² ± 2·length·width·sin κ,
    so sin κ = (first² − second²) / (4·length·width). Raises ValueError for diagonals that no such box has.
    """
    positive(first=first, second=second, length=length, width=width)
    sine = (first**2 - second**2) / (4 * length * width)
    if abs(sine) > 1:
        raise ValueError(f"first is {first:g} beside {second:g}; no box of {length:g} × {width:g} leans so far")
    return math.degrees(math.asin(sine))
