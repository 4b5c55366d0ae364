"""The fit of a finger joint against worked values, brute force and two independent error libraries."""

import itertools
import math
from collections.abc import Callable

import pytest
from hypothesis import given
from hypothesis import strategies as st
from uncertainties import ufloat

from jigs.trade import fingers, fit
from tests.outside import Check, agree

BY_HAND = Check(
    "Fit of a joint, tuning",
    "arithmetic written out in jigs/trade/cut.py, fit.py, predict.py and tune.py",
    "worked example",
)
TEXTBOOK = Check(
    "Fit of a joint, tuning", "textbook tolerance stacks: ten parts of ±0.1; three blocks in a slot", "worked example"
)
LIBRARIES = Check("Fit of a joint, tuning", "packages uncertainties, scipy and shapely", "reference library")
TRIED = Check(
    "Fit of a joint, tuning",
    "joints cut one by one, and again with what tuning told; every extreme seating tried",
    "independent derivation",
)


@BY_HAND.of(fit.one_stack)
@pytest.mark.parametrize(
    ("settings", "expected"),
    [
        pytest.param((9.9, 10, 9.95), (0.1, -0.05, 0.05, 0.0), id="B1"),
        pytest.param((9.9, 10, 9.9), (0.1, -0.1, 0.0, -0.05), id="B1a"),
        pytest.param((9.9, 10, 10.2), (0.1, 0.2, 0.3, 0.25), id="B1b"),
        pytest.param((0.496, 0.5, 0.498), (0.004, -0.002, 0.002, 0.0), id="B2_in"),
    ],
)
def test_worked_fits(settings: tuple[float, float, float], expected: tuple[float, float, float, float]) -> None:
    joint = fit.one_stack(*settings)
    found = (joint.clearance, joint.flush_low, joint.flush_high, joint.flush_middle)
    agree(found, expected, 1e-9, unit="")


@TRIED.of(fit.one_stack)
@given(
    gap=st.floats(3, 30),
    clearance=st.floats(0.01, 0.3),
    off=st.floats(-0.3, 0.3),
    count=st.integers(3, 15),
    place=st.floats(-1, 1),
)
def test_the_range_is_where_no_finger_overlaps_another(
    gap: float, clearance: float, off: float, count: int, place: float
) -> None:
    socket, spacer = gap + clearance, gap + clearance / 2 + off
    joint = fit.one_stack(gap, socket, spacer)
    width = fingers.rip_width(count + 2, gap, socket) + 2  # the last fingers, cut anyhow, are not at issue
    shift = joint.flush_middle + place * clearance
    long = fingers.fingers_between(width, fingers.sockets(width, gap, socket))[:-1]
    short = fingers.fingers_between(width, fingers.sockets(width, gap, socket, spacer))[:-1]
    overlap = max(
        min(one.end, other.end + shift) - max(one.start, other.start + shift) for one in long for other in short
    )
    inside = joint.flush_low <= shift <= joint.flush_high
    assert (overlap <= 1e-9) is inside or abs(overlap) < 1e-9


@TRIED.of(fit.centred_spacer)
@given(gap=st.floats(3, 30), clearance=st.floats(-0.1, 0.3))
def test_the_centred_spacer_centres(gap: float, clearance: float) -> None:
    spacer = fit.centred_spacer(gap, gap + clearance)
    agree(fit.one_stack(gap, gap + clearance, spacer).flush_middle, 0, 1e-12, unit="mm")


@BY_HAND.of(fit.separate_worst, fit.drift_sd)
@pytest.mark.parametrize(
    ("sockets", "slack", "worst", "drift"),
    [
        pytest.param(4, 0.05, -0.05, 0.0408, id="Bsep_m4_c0.05"),
        pytest.param(4, 0.10, -0.20, 0.0816, id="Bsep_m4_c0.1"),
        pytest.param(4, 0.20, -0.50, 0.1633, id="Bsep_m4_c0.2"),
        pytest.param(8, 0.05, -0.25, 0.0577, id="Bsep_m8_c0.05"),
        pytest.param(8, 0.10, -0.60, 0.1155, id="Bsep_m8_c0.1"),
        pytest.param(8, 0.20, -1.30, 0.2309, id="Bsep_m8_c0.2"),
    ],
)
def test_worked_separate_cutting(sockets: int, slack: float, worst: float, drift: float) -> None:
    agree(fit.separate_worst(0.1, slack, sockets, odd=True), worst, unit="mm")
    agree(fit.separate_worst(0.1, slack, sockets, odd=False), worst + slack, unit="mm")
    agree(fit.drift_sd(slack, sockets), drift, 5e-5, unit="mm")


@TRIED.of(fit.separate_worst)
@pytest.mark.parametrize("odd", [True, False])
@pytest.mark.parametrize("sockets", [1, 2, 3, 4])
def test_the_worst_is_the_worst_of_all_extreme_seatings(sockets: int, odd: bool) -> None:
    # brute force: positions of both boards built cut by cut, every seating at one end of the slack
    gap, socket, slack = 9.9, 10.0, 0.1
    count = 2 * sockets + int(odd)
    least = math.inf
    for seats in itertools.product([0.0, slack], repeat=2 * sockets):
        long, short = [gap], [0.0]
        for one, other in zip(seats[:sockets], seats[sockets:], strict=True):
            long.append(long[-1] + socket + gap - one)
            short.append(short[-1] + socket + gap - other)
        tops = [long[i] - short[i] - socket for i in range(count // 2)]
        bottoms = [long[i] + socket - short[i + 1] for i in range((count - 1) // 2)]
        if bottoms:
            least = min(least, min(bottoms) - max(tops))
    if math.isinf(least):  # two parts: one cheek only
        least = socket - gap
    agree(fit.separate_worst(socket - gap, slack, sockets, odd), least, unit="mm")


@BY_HAND.of(fit.angular_loss)
@pytest.mark.parametrize(
    ("thickness", "degrees", "loss"),
    [
        pytest.param(12, 0.1, 0.042, id="12+12 at 0.1"),
        pytest.param(12, 0.25, 0.105, id="12+12 at 0.25"),
        pytest.param(0.5, 0.1, 0.0017, id="1/2+1/2 at 0.1"),
    ],
)
def test_worked_angular_loss(thickness: float, degrees: float, loss: float) -> None:
    agree(fit.angular_loss(thickness, thickness, degrees), loss, share=0.03, unit="")


@given(clearance=st.floats(0.001, 0.5), long=st.floats(3, 40), short=st.floats(3, 40), share=st.floats(0.01, 1))
def test_the_steepest_angle_spends_its_share(clearance: float, long: float, short: float, share: float) -> None:
    angle = fit.steepest_angle(clearance, long, short, share)
    assert fit.angular_loss(long, short, angle) == pytest.approx(share * clearance)


@BY_HAND.of(fit.floor_lean)
@pytest.mark.parametrize(
    ("thickness", "degrees", "lean"),
    [(12, 0.5, 0.105), (0.5, 0.25, 0.0022)],
    ids=["12 at 0.5", "1/2 at 0.25"],
)
def test_worked_floor_lean(thickness: float, degrees: float, lean: float) -> None:
    agree(fit.floor_lean(thickness, degrees), lean, share=0.02, unit="")


def test_nothing_to_spend_without_clearance() -> None:
    assert fit.steepest_angle(0, 12, 12, 0.5) == 0
    assert fit.steepest_angle(-0.05, 12, 12, 0.5) == 0


@BY_HAND.of(fit.tolerance_budget)
@pytest.mark.parametrize(
    ("errors", "clearance", "flush"),
    [
        pytest.param((0.05, 0.02, 0.05), (0.070, 0.054), (0.085, 0.057), id="M"),
        pytest.param((0.002, 0.001, 0.002), (0.003, 0.0022), (0.0035, 0.0023), id="N_in"),
    ],
)
def test_worked_budgets(
    errors: tuple[float, float, float], clearance: tuple[float, float], flush: tuple[float, float]
) -> None:
    budget = fit.tolerance_budget(*errors)
    agree((budget.clearance.worst, budget.clearance.rss), clearance, share=0.02, unit="")
    agree((budget.flush.worst, budget.flush.rss), flush, share=0.02, unit="")


def test_the_spacer_holds_most_of_the_flush_variance() -> None:
    # worked value: 78 % for box M
    name, share = fit.tolerance_budget(0.05, 0.02, 0.05).flush.shares[0]
    assert (name, round(share, 2)) == ("spacer", 0.78)


@TEXTBOOK.of(fit.spread)
@pytest.mark.parametrize(
    ("limits", "worst", "rss", "digits"),
    [
        pytest.param([0.1] * 10, 1.0, 0.316, 3, id="ten parts of 0.1"),
        pytest.param([0.005, 0.003, 0.002, 0.005], 0.015, 0.00794, 5, id="three blocks in a slot"),
    ],
)
def test_published_tolerance_stacks(limits: list[float], worst: float, rss: float, digits: int) -> None:
    # the textbook rule: worst case is the sum of limits, statistical the root of the sum of squares
    named = {str(place): limit for place, limit in enumerate(limits)}
    total = fit.spread(named, dict.fromkeys(named, 1.0))
    agree(total.worst, worst, unit="")
    assert round(total.rss, digits) == rss


@LIBRARIES.of(fit.tolerance_budget, fit.spread)
@given(errors=st.tuples(*[st.floats(0.001, 0.2)] * 3))
def test_rss_agrees_with_linear_error_propagation(errors: tuple[float, float, float]) -> None:
    # outside check: the package `uncertainties`
    gap, socket, spacer = (ufloat(10, error) for error in errors)
    budget = fit.tolerance_budget(*errors)
    agree(budget.clearance.rss, (socket - gap).std_dev, unit="mm")
    flush = spacer - (gap + socket) / 2
    agree(budget.flush.rss, flush.std_dev, unit="mm")
    shares = dict(budget.flush.shares)
    parts = flush.error_components()
    for name, variable in (("gap", gap), ("socket", socket), ("spacer", spacer)):
        agree(shares[name], parts[variable] ** 2 / flush.std_dev**2, unit="of it")


def test_no_error_has_no_shares() -> None:
    assert fit.tolerance_budget(0, 0, 0).clearance == fit.Spread(
        0.0, 0.0, (("gap", 0.0), ("socket", 0.0), ("spacer", 0.0))
    )


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: fit.one_stack(0, 10, 10), "gap is 0"),
        (lambda: fit.one_stack(10, 10, math.nan), "spacer is nan"),
        (lambda: fit.separate_worst(0.1, -0.1, 4, True), "slack is -0.1"),
        (lambda: fit.drift_sd(0.1, 0), "long_sockets is 0"),
        (lambda: fit.angular_loss(12, 12, 90), "degrees is 90"),
        (lambda: fit.steepest_angle(0.1, 12, 12, 1.1), "share is 1.1"),
        (lambda: fit.tolerance_budget(-0.1, 0, 0), "gap is -0.1"),
    ],
)
def test_impossible_fits_are_named(call: object, message: str) -> None:
    assert callable(call)
    with pytest.raises(ValueError, match=message):
        call()


def test_a_share_and_a_lean_run_from_nothing_to_their_ends() -> None:
    assert fit.steepest_angle(0.1, 12, 12, 0) == 0
    assert fit.steepest_angle(0.1, 12, 12, 1) == pytest.approx(0.2387, abs=5e-5)  # worked value: atan(0.1 / 24)
    assert fit.angular_loss(12, 12, 0) == 0
    assert fit.angular_loss(12, 12, 89.5) == pytest.approx(24 * 114.5887, abs=1e-2)  # a table of tangents


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: fit.steepest_angle(0.1, 12, 12, -0.5), "share is -0.5; it must be from 0 to 1"),
        (lambda: fit.floor_lean(12, -0.5), "degrees is -0.5; it must be at least 0"),
    ],
)
def test_a_share_and_a_lean_below_0_are_named(call: Callable[[], float], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()
