"""Dividers, hinge recesses, circles, tapers and rows, against worked values and against themselves."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from jigs.trade import circles, dividers, hinge, spacing
from tests.outside import Check, agree

BY_HAND = Check(
    "Mitres, dovetails, dividers, hinges, rows",
    "arithmetic written out in jigs/trade/mitre.py, spacing.py, dividers.py, hinge.py and circles.py",
    "worked example",
)
LAID_OUT = Check(
    "Mitres, dovetails, dividers, hinges, rows",
    "boards put together, cutters rolled and cuts laid over wood by numpy and shapely",
    "reference library",
)

IN = 25.4


@BY_HAND.of(dividers.slots)
def test_worked_dividers() -> None:
    # Worked values, from clear = (I - (N - 1)t)/N.
    made = dividers.slots(inside=200, compartments=3, thickness=6, height=60, clearance=0, play=0, relief=0.3)
    agree(made.clear, 62.667, 5e-4, unit="")
    agree(made.starts, (62.667, 131.333), 5e-4, unit="")
    agree(made.depth, 30.3, 0.0, unit="")
    inch = dividers.slots(inside=7.5, compartments=4, thickness=0.25, height=2, clearance=0, play=0, relief=0)
    agree((inch.clear, *inch.starts), (1.6875, 1.6875, 3.625, 5.5625), unit="")


@LAID_OUT.of(dividers.slots)
@given(
    inside=st.floats(40, 600),
    compartments=st.integers(1, 9),
    thickness=st.floats(1, 4),
    clearance=st.floats(0, 0.5),
    play=st.floats(0, 1),
)
def test_compartments_are_equal_whatever_the_play(
    inside: float, compartments: int, thickness: float, clearance: float, play: float
) -> None:
    made = dividers.slots(
        inside=inside,
        compartments=compartments,
        thickness=thickness,
        height=50,
        clearance=clearance,
        play=play,
        relief=0.3,
    )
    # The crossing dividers stand in the middles of their slots: walls and their faces bound the compartments.
    middles = [start + made.width / 2 + play / 2 for start in made.starts]
    faces = [0.0, *(x + side for x in middles for side in (-thickness / 2, thickness / 2)), inside]
    opens = [right - left for left, right in zip(faces[::2], faces[1::2], strict=True)]
    agree(opens, [made.clear] * compartments, unit="mm")


@BY_HAND.of(hinge.recess, hinge.recess_depth)
def test_worked_recesses() -> None:
    # Worked values, from opening = leaf + (B - d), offset (B - d)/2.
    made = hinge.recess(leaf_length=50, leaf_depth=16, bush=15.875, cutter=6.35)
    agree((made.offset, made.opening, made.depth), (4.7625, 59.525, 20.7625), unit="")
    inch = hinge.recess(leaf_length=2, leaf_depth=5 / 8, bush=5 / 8, cutter=1 / 4)
    agree((inch.offset, inch.opening, inch.depth), (3 / 16, 2 + 3 / 8, 13 / 16), unit="")
    agree(hinge.recess_depth(closed=3.2, gap=0.4), 1.4, unit="")
    agree(hinge.recess_depth(closed=0.125, gap=1 / 64), 0.0547, 5e-5, unit="")


@BY_HAND.of(circles.disc_pivot, circles.hole_pivot, circles.taper_angle)
def test_worked_circles_and_tapers() -> None:
    agree(circles.disc_pivot(radius=100, cutter=6.35), 103.175, unit="mm")
    agree(circles.hole_pivot(radius=100, cutter=6.35), 96.825, unit="mm")
    agree(circles.disc_pivot(radius=4, cutter=0.25), 4.125, unit="in")
    agree(circles.hole_pivot(radius=4, cutter=0.25), 3.875, unit="in")
    agree(circles.taper_angle(wide=40, narrow=25, length=400), 2.15, 5e-3, unit="°")


@BY_HAND.of(spacing.centred, spacing.shared, spacing.parted_finger)
def test_worked_rows() -> None:
    agree(spacing.centred(length=240, pitch=64, count=2), (88, 152), unit="")
    agree(spacing.centred(length=9.5, pitch=3, count=2), (3.25, 6.25), unit="")
    agree(spacing.shared(length=90, count=3), (15, 45, 75), unit="")
    agree(spacing.shared(length=3.5, count=2), (7 / 8, 2 + 5 / 8), unit="")
    agree(spacing.parted_finger(finger=10, kerf=3.2, planing=0.3), 13.8, unit="")
    agree(spacing.parted_finger(finger=0.5, kerf=0.125, planing=1 / 64), 0.65625, unit="")


@BY_HAND.of(spacing.mitre_keys)
def test_worked_mitre_keys() -> None:
    made = spacing.mitre_keys(thickness=12, depth=13.5, base=12, height=90, count=3, least_wood=3)
    agree((made.leg, made.most, made.blade), (19.09, 13.97, 25.5), 5e-3, unit="")
    inch = spacing.mitre_keys(thickness=0.5, depth=9 / 16, base=0.5, height=3.5, count=2, least_wood=0.125)
    agree((inch.leg, inch.most), (0.7955, 0.582), 5e-4, unit="")


@BY_HAND.of(spacing.dovetails)
@pytest.mark.parametrize(("ratio", "angle"), [(6, 9.46), (8, 7.13)])
def test_dovetail_slopes(ratio: float, angle: float) -> None:
    made = spacing.dovetails(width=100, count=3, half_pin=6, pin=8, ratio=ratio, thickness=12)
    agree(made.angle, angle, 5e-3, unit="°")
    agree(made.tails[-1][1], 100 - 6, unit="mm")
    agree((made.wide - made.narrow) / 2 / 12, math.tan(math.radians(made.angle)), unit="of it")


@pytest.mark.parametrize(
    ("call", "said"),
    [
        (
            lambda: dividers.slots(inside=20, compartments=5, thickness=5, height=9, clearance=0, play=0, relief=0),
            "inside is 20; 4 dividers of 5 leave no room",
        ),
        (lambda: hinge.recess(leaf_length=9, leaf_depth=9, bush=5, cutter=6), "bush is 5"),
        (lambda: hinge.recess_depth(closed=3, gap=3), "gap is 3"),
        (lambda: circles.hole_pivot(radius=3, cutter=6), "radius is 3"),
        (lambda: spacing.centred(length=100, pitch=50, count=3), "count is 3; 2 steps of 50 are longer"),
        (
            lambda: spacing.dovetails(width=40, count=5, half_pin=5, pin=5, ratio=6, thickness=12),
            "count is 5; tails of 2 come to a point",
        ),
    ],
)
def test_what_can_not_be_is_refused(call: Callable[[], Any], said: str) -> None:
    with pytest.raises(ValueError, match=said):
        call()


def test_a_row_of_one_needs_no_pitch() -> None:
    assert spacing.centred(length=200, pitch=0, count=1) == (100,)


def test_what_is_left_of_small_sizes() -> None:
    # worked values, exact in floats
    assert circles.hole_pivot(radius=5, cutter=6) == 2
    crossed = dividers.slots(
        inside=40, compartments=3, thickness=19.75, height=50, clearance=0.25, play=0.5, relief=0.5
    )
    assert crossed.starts == pytest.approx((0.5 / 3 - 0.375, 1 / 3 + 19.75 - 0.375))
    assert (crossed.clear, crossed.width, crossed.depth, crossed.length) == (0.5 / 3, 20, 25.5, 39.5)
    found = hinge.recess(leaf_length=40, leaf_depth=12, bush=16, cutter=10)
    assert (found.wood_radius, found.template_radius) == (5, 8)
    bearing = hinge.recess(leaf_length=40, leaf_depth=12, bush=10, cutter=10)  # as wide as the cutter: no offset
    assert (bearing.offset, bearing.opening, bearing.depth) == (0, 40, 12)
    assert spacing.centred(length=33, pitch=32, count=2) == (0.5, 32.5)
    assert spacing.shared(length=90, count=1) == (45,)
    one = spacing.dovetails(width=16, count=1, half_pin=4, pin=6, ratio=8, thickness=30)
    assert (one.wide, one.narrow, one.tails) == (8, 0.5, ((4, 12),))


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: circles.hole_pivot(radius=3, cutter=6), "radius is 3; the cutter itself makes a hole of radius 3"),
        (lambda: spacing.centred(length=33, pitch=0, count=2), "pitch is 0; it must be more than 0"),
        (lambda: spacing.centred(length=33, pitch=9, count=0), "count is 0; it must be from 1 to 10000"),
        (lambda: spacing.shared(length=33, count=0), "count is 0; it must be from 1 to 10000"),
        (
            lambda: spacing.dovetails(width=16, count=0, half_pin=4, pin=6, ratio=8, thickness=12),
            "count is 0; it must be from 1 to 100",
        ),
        (
            lambda: spacing.dovetails(width=16, count=1, half_pin=4, pin=6, ratio=8, thickness=32),
            "count is 1; tails of 8 come to a point within 32 at 1 in 8",
        ),
        (
            lambda: dividers.slots(
                inside=40, compartments=0, thickness=6, height=50, clearance=0.2, play=0.5, relief=0.5
            ),
            "compartments is 0; it must be from 1 to 1000",
        ),
    ],
)
def test_counts_and_sizes_that_leave_nothing_are_named(call: Callable[[], object], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()
