"""The fan shell against worked values, and its figure measured on points along its arcs."""

from __future__ import annotations

import math
import re

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from jigs.trade import shell
from jigs.trade.shell import Arc, Shell
from tests.outside import Check, agree

BY_HAND = Check("Fan shell", "arithmetic written out in jigs/trade/shell.py", "worked example")
POINTS = Check("Fan shell", "points along the arcs, and what shapely measures of them", "independent derivation")
PRACTICE = Check("Limits and margins of the shop", "common practice, no source", "common practice")

SHELLS = st.builds(
    Shell,
    lobes=st.integers(2, 15),
    half_angle=st.floats(15, 90),
    rib_radius=st.floats(10, 80),
    bulge=st.floats(0.05, 0.5),
)

H1 = shell.fit(width=60, height=40, lobes=7, bulge=0.25)
H2 = shell.fit(width=2.5, height=1.75, lobes=8, bulge=0.3)
H3 = shell.fit(width=48, height=40, lobes=5, bulge=0.5)


def points(arcs: tuple[Arc, ...], count: int = 400) -> list[tuple[float, float]]:
    return [arc.point(arc.start + (arc.end - arc.start) * step / count) for arc in arcs for step in range(count + 1)]


@BY_HAND.of(shell.fit)
@pytest.mark.parametrize(
    ("found", "expected"),
    [  # worked values: half angle, rib radius, lobe chord, lobe radius, centre radius
        pytest.param(H1, (52.2619, 37.8612, 9.8392, 6.1495, 33.8505), id="H1"),
        pytest.param(H2, (48.4224, 1.6628, 0.3507, 0.1987, 1.5600), id="H2_in"),
        pytest.param(H3, (41.0495, 35.3185, 10.0869, 5.0435, 34.9565), id="H3"),
    ],
)
def test_worked_shells(found: Shell, expected: tuple[float, ...]) -> None:
    numbers = (found.half_angle, found.rib_radius, found.lobe_chord, found.lobe_radius, found.centre_radius)
    agree(numbers, expected, 6e-5, unit="")


@POINTS.of(Shell)
@settings(deadline=None)
@given(SHELLS)
def test_width_and_height_are_those_of_the_figure(figure: Shell) -> None:
    outline = points(figure.lobe_arcs())
    agree(figure.width, 2 * max(x for x, _ in outline), share=1e-4, unit="mm")
    agree(figure.height, max(y for _, y in outline), share=1e-4, unit="mm")


@POINTS.of(Shell)
@settings(deadline=None)
@given(SHELLS)
def test_lobes_run_from_valley_to_valley_with_the_bulge_asked_for(figure: Shell) -> None:
    valleys = [
        (figure.rib_radius * math.sin(math.radians(rib)), figure.rib_radius * math.cos(math.radians(rib)))
        for rib in figure.ribs
    ]
    agree((figure.ribs[0], figure.ribs[-1]), (-figure.half_angle, figure.half_angle), unit="°")
    for arc, left, right in zip(figure.lobe_arcs(), valleys, valleys[1:], strict=False):
        agree(arc.point(arc.end), left, 1e-6, unit="mm")
        agree(arc.point(arc.start), right, 1e-6, unit="mm")
        agree(math.dist(left, right), figure.lobe_chord, unit="mm")
        top = arc.point((arc.start + arc.end) / 2)
        middle = ((left[0] + right[0]) / 2, (left[1] + right[1]) / 2)
        agree(math.dist(top, middle), figure.bulge * figure.lobe_chord, unit="mm")


@POINTS.of(shell.fit)
@settings(deadline=None)
@given(SHELLS, st.floats(10, 200))
def test_a_shell_is_fitted_to_its_size(figure: Shell, width: float) -> None:
    height = width * figure.height / figure.width
    found = shell.fit(width=width, height=height, lobes=figure.lobes, bulge=figure.bulge)
    agree((found.width, found.height), (width, height), unit="mm")
    agree(found.half_angle, figure.half_angle, 1e-3, unit="°")  # near 90° the ratio hardly changes


@pytest.mark.parametrize("width", [200, 5])
def test_a_size_that_no_angle_gives_names_those_that_do(width: float) -> None:
    with pytest.raises(ValueError, match=f"width is {width}; with this height it must be from") as refusal:
        shell.fit(width=width, height=40, lobes=7, bulge=0.25)
    least, most, lowest, highest = (float(number) for number in re.findall(r"[\d.]+\d", str(refusal.value))[-4:])
    for size, height, half_angle in ((least, 40, 15), (most, 40, 90), (width, highest, 15), (width, lowest, 90)):
        tolerance = 1e-4 * size  # the message has six digits
        nudge = tolerance if half_angle == 15 else -tolerance
        found = shell.fit(width=size + nudge, height=height, lobes=7, bulge=0.25)
        assert found.half_angle == pytest.approx(half_angle, abs=0.5)
        with pytest.raises(ValueError, match="must be from"):
            shell.fit(width=size - nudge, height=height, lobes=7, bulge=0.25)


@BY_HAND.of(shell.border)
@pytest.mark.parametrize(
    ("figure", "offset", "easing", "expected", "places"),
    [  # worked values: where the arcs would meet, the easing's centre, the valley
        pytest.param(H1, 3, 2, (41.586, 43.809, 41.809), 6e-4, id="H1"),
        pytest.param(H2, 1 / 8, 3 / 32, (1.830, 1.935, 1.841), 6e-4, id="H2_in"),
        pytest.param(H3, 3, 2, (40.905, 43.313, 41.313), 6e-4, id="H3"),
    ],
)
def test_worked_borders(
    figure: Shell, offset: float, easing: float, expected: tuple[float, ...], places: float
) -> None:
    found = shell.border(figure, offset=offset, easing=easing)
    agree((found.sharp, found.easing_centre, found.valley), expected, places, unit="")


@POINTS.of(shell.border)
@settings(deadline=None)
@given(SHELLS, st.floats(0.5, 8), st.floats(0.2, 6))
def test_a_border_is_one_smooth_line_at_its_distance(figure: Shell, offset: float, easing: float) -> None:
    found = shell.border(figure, offset=offset, easing=easing)
    assert len(found.lobes) == figure.lobes
    assert len(found.easings) == figure.lobes - 1
    for left, easing_arc, right in zip(found.lobes, found.easings, found.lobes[1:], strict=False):
        agree(left.point(left.start), easing_arc.point(easing_arc.start), 1e-6, unit="mm")
        agree(easing_arc.point(easing_arc.end), right.point(right.end), 1e-6, unit="mm")
        # Touching: the point lies between the two centres, so both arcs have one tangent there.
        agree(math.dist((left.x, left.y), (easing_arc.x, easing_arc.y)), left.radius + easing, unit="mm")
    for lobe, arc in zip(figure.lobe_arcs(), found.lobes, strict=True):
        agree((arc.x, arc.y, arc.radius), (lobe.x, lobe.y, lobe.radius + offset), unit="mm")
        assert arc.end > arc.start
    # At both ends it stops where the next lobe's line would meet it, on the outer rib.
    aside, up = (found.sharp * part(math.radians(figure.half_angle)) for part in (math.sin, math.cos))
    agree(found.lobes[0].point(found.lobes[0].end), (-aside, up), 1e-6, unit="mm")
    agree(found.lobes[-1].point(found.lobes[-1].start), (aside, up), 1e-6, unit="mm")


@BY_HAND.of(shell.chip_depth)
@pytest.mark.parametrize(
    ("width", "angle", "other", "depth", "places"),
    [  # worked values
        pytest.param(3, 65, None, 3.217, 5e-4, id="65"),
        pytest.param(3, 60, None, 2.598, 5e-4, id="60"),
        pytest.param(3, 45, None, 1.5, 5e-4, id="45"),
        pytest.param(0.125, 60, None, 0.1083, 5e-5, id="60_in"),
        pytest.param(0.125, 65, None, 0.134, 5e-4, id="65_in"),
        pytest.param(3, 65, 45, 2.046, 5e-4, id="unequal hands"),
        pytest.param(4, 75, None, 7.46, 5e-3, id="75"),
        pytest.param(4, 65, None, 4.29, 5e-3, id="4 wide"),
    ],
)
def test_chip_depth(width: float, angle: float, other: float | None, depth: float, places: float) -> None:
    agree(shell.chip_depth(width, angle, other), depth, places, unit="")


@POINTS.of(shell.chip_depth)
@given(st.floats(0.5, 10), st.floats(20, 80), st.floats(20, 80))
def test_both_cuts_of_a_chip_meet_at_its_bottom(width: float, angle: float, other: float) -> None:
    depth = shell.chip_depth(width, angle, other)
    across = depth / math.tan(math.radians(angle))
    agree((width - across) * math.tan(math.radians(other)), depth, unit="mm")


@BY_HAND.of(shell.rib_chip_width, shell.ridge, shell.least_hinge)
@pytest.mark.parametrize(
    ("figure", "hinge", "widest", "expected", "places"),
    [  # worked values: ridge at the hinge and at the rim, least hinge
        pytest.param(H1, 8, 3, (2.08, 6.84, 3.08), 5e-3, id="H1"),
        pytest.param(H2, 5 / 16, 1 / 8, (0.066, 0.226, 0.148), 5e-4, id="H2_in"),
    ],
)
def test_ridges(figure: Shell, hinge: float, widest: float, expected: tuple[float, ...], places: float) -> None:
    widths = [
        shell.rib_chip_width(widest=widest, hinge=hinge, rib_radius=figure.rib_radius, at=at)
        for at in (hinge, figure.rib_radius)
    ]
    agree(widths, [0, widest], unit="")
    ridges = [
        shell.ridge(half_step=figure.half_step, at=at, chip_width=width)
        for at, width in zip((hinge, figure.rib_radius), widths, strict=True)
    ]
    least = shell.least_hinge(half_step=figure.half_step, ridge=0.8 if widest == 3 else 1 / 32)
    agree((*ridges, least), expected, places, unit="")


@BY_HAND.of(shell.most_lobes, shell.ridge, shell.least_hinge)
def test_too_many_lobes() -> None:  # worked values: 30 lobes from a hinge of 4
    half_step = H1.half_angle / 30
    agree(shell.ridge(half_step=half_step, at=4, chip_width=0), 0.24, 5e-3, unit="mm")
    agree(shell.most_lobes(half_angle=52, hinge=4), 9, 0.0, unit="lobes")
    agree(shell.least_hinge(half_step=52 / 30), 13.2, 0.05, unit="mm")
    agree([shell.most_lobes(half_angle=angle, hinge=8) for angle in (45, 60)], [15, 20], 0.0, unit="lobes")


@POINTS.of(shell.most_lobes)
@given(st.floats(15, 90), st.floats(1, 20), st.floats(0.3, 1.5))
def test_one_lobe_more_would_be_too_many(half_angle: float, hinge: float, ridge: float) -> None:
    assume(2 * hinge > ridge)
    most = shell.most_lobes(half_angle=half_angle, hinge=hinge, ridge=ridge)
    if most > 0:
        assert shell.ridge(half_step=half_angle / most, at=hinge, chip_width=0) >= ridge - 1e-6
    assert shell.ridge(half_step=half_angle / (most + 1), at=hinge, chip_width=0) < ridge + 1e-6


@BY_HAND.of(shell.wood_left)
def test_wood_under_a_chip() -> None:  # worked values
    depth = shell.chip_depth(3, 65)
    agree(shell.wood_left(thickness=12, chip=depth), 8.78, 5e-3, unit="mm")
    agree(shell.wood_left(thickness=12, chip=depth, groove_depth=6), 2.78, 5e-3, unit="mm")


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: Shell(1, 45, 40, 0.25), "lobes is 1"),
        (lambda: Shell(7, 91, 40, 0.25), "half_angle is 91; it must be from 0 to 90"),
        (lambda: Shell(7, 45, 40, 0.51), "bulge is 0.51; it must be from 0 to 0.5"),
        (lambda: shell.border(H1, offset=0, easing=2), "offset is 0; it must be more than 0"),
        (lambda: shell.chip_depth(3, 90), "angle is 90; it must be less than 90"),
        (lambda: shell.most_lobes(half_angle=45, hinge=0.4), "ridge is 0.8; it must be less than 0.8"),
        (lambda: shell.rib_chip_width(widest=3, hinge=8, rib_radius=38, at=7), "at is 7; it must be from 8 to 38"),
    ],
)
def test_refusals(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


@PRACTICE.of(shell.pivot_height)
@given(st.floats(0, 60), st.floats(30, 200), st.floats(0.1, 1.0))
def test_a_pattern_stands_on_the_board_as_high_as_the_margins_allow(bottom: float, board: float, share: float) -> None:
    height = share * board
    at = shell.pivot_height(bottom=bottom, board=board, height=height)
    assert at >= -1e-9
    assert at + height <= board + 1e-9
    if height <= board - 3 - bottom:
        agree(at - bottom, board - 3 - at - height, unit="mm")
    elif height <= board - 6:
        agree(at + height, board - 3, unit="mm")


@PRACTICE.of(shell.relief_depth)
def test_the_ground_of_a_border() -> None:
    agree(shell.relief_depth(border=3, chip_depth=3.217), 1.5, 0.0, unit="mm")
    agree(shell.relief_depth(border=8, chip_depth=3.217), 3.217, 0.0, unit="mm")


@pytest.mark.parametrize("half_step", [2, 3, 4, 5, 6, 7.5])
def test_lobes_that_just_leave_the_ridge_are_allowed(half_step: float) -> None:
    hinge = shell.least_hinge(half_step=half_step)
    assert shell.most_lobes(half_angle=60, hinge=hinge) == 60 / half_step


def test_the_widest_points_are_valleys_until_the_outer_lobes_point_sideways() -> None:
    # derived: at a bulge of 1/4 half a lobe's arc is asin(0.8), 53.13 degrees; the outer of five lobes stands at 4/5
    # of the half angle, so it points sideways from 46.09 degrees on
    narrow, wide = Shell(5, 45.46, 40, 0.25), Shell(5, 46.4, 40, 0.25)
    assert narrow.width == pytest.approx(80 * math.sin(math.radians(45.46)), rel=1e-12)
    assert wide.width > 80 * math.sin(math.radians(46.4)) * (1 + 1e-9)


@pytest.mark.parametrize("half_angle", [15, 31, 52, 64, 90])
def test_an_angle_is_found_to_a_billionth_of_a_degree(half_angle: float) -> None:
    for lobes in range(2, 16):
        figure = Shell(lobes, half_angle, 37.9, 0.25)
        found = shell.fit(width=figure.width, height=figure.height, lobes=lobes, bulge=0.25)
        assert found.half_angle == pytest.approx(half_angle, abs=1e-9 if half_angle < 60 else 1e-3, rel=0)


def test_a_lobe_that_bulges_by_half_is_a_semicircle() -> None:
    for lobes in range(2, 16):
        for half_angle in range(15, 91, 3):
            assert Shell(lobes, half_angle, 37.9, 0.5).half_arc == pytest.approx(90)


def test_worked_heights_of_a_pivot() -> None:
    # worked values on a board of 90, margins of 3, free from 21 up: half a millimetre to spare, half too little, no
    # margin left
    assert shell.pivot_height(bottom=21, board=90, height=65.5) == pytest.approx(21.25)
    assert shell.pivot_height(bottom=21, board=90, height=66.5) == pytest.approx(20.5)
    assert shell.pivot_height(bottom=21, board=90, height=86) == pytest.approx(2)


def test_circles_that_never_meet_and_a_hinge_past_the_rim_are_named() -> None:
    with pytest.raises(ValueError, match=r"lobe_radius is 0\.1; it must be from"):
        H1.meeting_radius(0.1)
    with pytest.raises(ValueError, match="hinge is 38; it must be less than 38"):
        shell.rib_chip_width(widest=3, hinge=38, rib_radius=38, at=38)
