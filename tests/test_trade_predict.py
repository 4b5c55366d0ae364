"""Prediction of the fit: simulation against closed forms, against the model of the cut, and worked values."""

import itertools
import math
from collections.abc import Callable

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.stats import norm

from jigs.trade import fit
from jigs.trade.cut import Blank, Setup, cut, mate, ripped
from jigs.trade.predict import Errors, Joint, Simulated, chance_below, predict, simulate
from tests.outside import Check, agree

BY_HAND = Check(
    "Fit of a joint, tuning",
    "arithmetic written out in jigs/trade/cut.py, fit.py, predict.py and tune.py",
    "worked example",
)
LIBRARIES = Check("Fit of a joint, tuning", "packages uncertainties, scipy and shapely", "reference library")
TRIED = Check(
    "Fit of a joint, tuning",
    "joints cut one by one, and again with what tuning told; every extreme seating tried",
    "independent derivation",
)

BOX_M = Joint(9.9, 10, 9.95, 0.1, 4)
LIMITS = Errors(gap=0.05, socket=0.02, spacer=0.05)

# worked values for clearance 0.1 and odd counts: long sockets, slack, chance of failing in per cent
SEPARATELY = [
    pytest.param(4, 0.05, 0.02, id="Bsep_m4_c0.05"),
    pytest.param(4, 0.10, 3.8, id="Bsep_m4_c0.1"),
    pytest.param(4, 0.20, 22.7, id="Bsep_m4_c0.2"),
    pytest.param(8, 0.05, 3.0, id="Bsep_m8_c0.05"),
    pytest.param(8, 0.10, 31.5, id="Bsep_m8_c0.1"),
    pytest.param(8, 0.20, 70.2, id="Bsep_m8_c0.2"),
]


@BY_HAND.of(predict)
@pytest.mark.parametrize(("sockets", "slack", "per_cent"), SEPARATELY)
def test_worked_chances_of_mates_cut_separately(sockets: int, slack: float, per_cent: float) -> None:
    found = predict(Joint(9.9, 10, 9.95, slack, sockets), "separately")
    agree(100 * found.chance_fails, per_cent, 1.0 if per_cent > 1 else 0.03, unit="%")
    agree(found.clearance_worst, 0.1 - (sockets - 1) * slack, unit="mm")
    agree(found.drift_sd, slack * math.sqrt(sockets / 6), unit="mm")


def by_cutting(sockets: int, slack: float, trials: int) -> tuple[float, float, float]:
    """Mean clearance, sd of the flush and share of failures of mates cut one by one in the model of the cut."""
    random = np.random.default_rng(7)
    setup, width = Setup(9.9, 10, 10 - slack), (2 * sockets + 2) * 10.0
    blanks = [Blank(width, 12), Blank(width, 12, 9.95)]
    found = []
    for _ in range(trials):
        seats = random.uniform(0, slack, (2, sockets))
        (long,) = cut(setup, blanks[:1], [0, *seats[0]], sockets + 1)
        (short,) = cut(setup, blanks[1:], [0, *seats[1]], sockets + 1)
        top = min(long.sockets[sockets].start, short.sockets[sockets].end)
        found.append(mate(ripped(long, top), ripped(short, top)))
    clearances = np.array([mating.clearance for mating in found])
    flushes = np.array([mating.flush for mating in found])
    return float(clearances.mean()), float(flushes.std()), float((clearances < 0).mean())


@TRIED.of(simulate)
@pytest.mark.parametrize(("sockets", "slack"), [(2, 0.2), (4, 0.1), (8, 0.1)])
def test_simulation_agrees_with_cutting_each_joint(sockets: int, slack: float) -> None:
    # 1500 joints: bounds are four standard errors, from the simulation's own spread
    trials = 1500
    mean, flush_sd, fails = by_cutting(sockets, slack, trials)
    found = simulate(Joint(9.9, 10, 9.95, slack, sockets), "separately")
    error = 4 / math.sqrt(trials)
    agree(mean, found.clearance.mean(), error * found.clearance.std(), unit="mm")
    agree(flush_sd, found.flush_middle.std(), share=error, unit="mm")
    chance = found.chance_fails
    agree(fails, chance, error * math.sqrt(chance * (1 - chance)) + 1e-9, unit="of the joints")


@TRIED.of(simulate, fit.separate_worst)
@pytest.mark.parametrize("odd", [True, False])
@pytest.mark.parametrize(("sockets", "slack"), [(2, 0.1), (4, 0.1), (8, 0.2)])
def test_no_trial_is_worse_than_the_worst_case(sockets: int, slack: float, odd: bool) -> None:
    joint = Joint(9.9, 10, 9.95, slack, sockets, odd)
    worst = fit.separate_worst(0.1, slack, sockets, odd)
    least = float(simulate(joint, "separately").clearance.min())
    assert worst <= least
    if sockets == 2:  # with two steps 100 000 trials come close to it
        assert least < worst + 0.05 * slack


@pytest.mark.parametrize("odd", [True, False])
def test_in_one_stack_every_trial_keeps_the_clearance(odd: bool) -> None:
    found = simulate(Joint(9.9, 10, 9.95, 0.2, 8, odd), "one stack")
    assert found.clearance.min() == pytest.approx(0.1, abs=1e-3)
    assert found.clearance.min() >= 0.1 - 1e-9
    assert found.flush_low == pytest.approx(np.full(100_000, -0.05))
    # the least of m uniform seatings has the mean slack / (m + 1)
    cheeks = 8 if odd else 7
    assert found.clearance.mean() == pytest.approx(0.1 + 0.2 / (cheeks + 1), abs=5e-4)


@TRIED.of(predict, simulate)
def test_one_stack_closed_forms_agree_with_simulation() -> None:
    closed = predict(BOX_M, "one stack", LIMITS)
    joint = Joint(9.9, 10, 9.95, 0.0, 4)
    found = simulate(joint, "one stack", LIMITS, trials=1_000_000)
    agree(found.clearance.mean(), closed.clearance, 1e-4, unit="mm")
    agree(2 * found.clearance.std(), closed.clearance_spread.rss, share=0.01, unit="mm")
    agree(2 * found.flush_middle.std(), closed.flush_spread.rss, share=0.01, unit="mm")
    agree(found.chance_fails, closed.chance_fails, 4e-5, unit="of the joints")


@BY_HAND.of(predict, chance_below)
def test_worked_budget_of_box_m() -> None:
    # worked values: 95 % between .047 and .153, 94 % between .05 and .15, 0.01 % below 0, flush within .056
    closed = predict(BOX_M, "one stack", LIMITS)
    rss = closed.clearance_spread.rss
    agree(closed.clearance_worst, 0.03, unit="mm")
    agree(100 * closed.chance_fails, 0.01, 0.005, unit="%")
    within = chance_below(0.15, 0.1, rss) - chance_below(0.05, 0.1, rss)
    agree(100 * within, 94, 1, unit="%")
    agree(0.1 - 1.96 * rss / 2, 0.047, 5e-4, unit="mm")
    agree(1.96 * closed.flush_spread.rss / 2, 0.056, 5e-4, unit="mm")
    name, share = closed.flush_spread.shares[0]
    assert (name, round(share, 2)) == ("spacer", 0.78)


@TRIED.of(predict, simulate)
def test_separately_the_seating_is_what_to_improve() -> None:
    found = predict(BOX_M, "separately", LIMITS)
    trials = simulate(BOX_M, "separately", LIMITS)
    assert found.flush_spread.shares[0][0] == "seating"
    for spread, drawn in (
        (found.clearance_spread, trials.clearance),
        (found.flush_spread, trials.flush_middle),
    ):
        agree(sum(share for _, share in spread.shares), 1, unit="of it")
        agree(spread.rss, 2 * drawn.std(), share=0.02, unit="mm")
        assert spread.worst >= spread.rss
    agree(found.clearance, trials.clearance.mean(), 0.001, unit="mm")
    agree(found.clearance_worst, 0.1 - 3 * 0.1 - 0.05 - 0.02, unit="mm")


@pytest.mark.parametrize("odd", [True, False])
@settings(deadline=None)  # loads numpy the first time
@given(m=st.integers(2, 5), slack=st.floats(0.01, 0.3))
def test_the_worst_flush_bounds_every_trial(odd: bool, m: int, slack: float) -> None:
    joint = Joint(9.9, 10, 9.95, slack, m, odd)
    worst = predict(joint, "separately", trials=100).flush_spread.worst
    assert abs(simulate(joint, "separately", trials=2000).flush_middle).max() <= worst + 1e-9


@TRIED.of(predict, fit.separate_worst)
@pytest.mark.parametrize("odd", [True, False])
@pytest.mark.parametrize("sockets", [2, 3, 4])
def test_the_worst_is_reached_by_some_seating(odd: bool, sockets: int) -> None:
    """Every seating at one end of its play or the other, mate by mate."""
    slack, clearances, middles = 0.1, [], []
    cheeks = sockets if odd else sockets - 1
    for seats in itertools.product((0, slack), repeat=2 * sockets):
        drift, drifts, lows = 0.0, [], []
        for short, long in zip(seats[::2], seats[1::2], strict=True):
            drifts.append(drift)
            lows.append(drift + short)
            drift += short - long
        low, high = -0.05 + max(drifts), 0.05 + min(lows[:cheeks])
        clearances.append(high - low)
        middles.append((high + low) / 2)
    found = predict(Joint(9.9, 10, 9.95, slack, sockets, odd), "separately", trials=100)
    agree(found.clearance_worst, min(clearances), unit="mm")
    agree(found.clearance_spread.worst, 0.1 - min(clearances), unit="mm")
    agree(found.flush_spread.worst, max(map(abs, middles)), unit="mm")


def test_without_play_or_error_nothing_spreads() -> None:
    found = predict(Joint(9.9, 10, 9.95, 0, 4), "separately", trials=1)
    assert (found.flush_spread.worst, found.flush_spread.rss) == (0, 0)
    assert {share for _, share in found.flush_spread.shares} == {0}
    assert predict(BOX_M, "one stack", LIMITS).drift_sd == 0


def test_better_measuring_cannot_hurt() -> None:
    careless, careful = (predict(BOX_M, "one stack", errors) for errors in (LIMITS, Errors()))
    assert careful.chance_fails == 0 < careless.chance_fails
    assert careful.clearance_worst == pytest.approx(0.1)


def test_a_seed_gives_the_same_numbers() -> None:
    first, again, other = (simulate(BOX_M, "separately", LIMITS, 1000, seed) for seed in (3, 3, 4))
    assert np.array_equal(first.clearance, again.clearance)
    assert not np.array_equal(first.clearance, other.clearance)


@LIBRARIES.of(chance_below)
@given(limit=st.floats(-1, 1), mean=st.floats(-1, 1), rss=st.floats(0.01, 1))
def test_chances_agree_with_scipy(limit: float, mean: float, rss: float) -> None:
    agree(chance_below(limit, mean, rss), norm.cdf(limit, mean, rss / 2), 1e-12, unit="of it")


def test_chances_without_error_are_certainties() -> None:
    assert (chance_below(0, 0.1, 0), chance_below(0, -0.1, 0)) == (0, 1)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: simulate(Joint(0, 10, 10, 0.1, 4), "separately"), "gap is 0"),
        (lambda: simulate(Joint(9.9, 10, 10, -0.1, 4), "separately"), "slack is -0.1"),
        (lambda: simulate(Joint(9.9, 10, 10, 0.1, 0), "separately"), "long_sockets is 0"),
        (lambda: simulate(Joint(9.9, 10, 10, 0.1, 1, False), "separately"), "long_sockets 1: an even joint"),
        (lambda: simulate(BOX_M, "one stack", trials=0), "trials is 0"),
        (lambda: predict(BOX_M, "one stack", Errors(gap=-0.1)), "gap is -0.1"),
    ],
)
def test_impossible_joints_are_named(call: Callable[[], Simulated], message: str) -> None:
    with pytest.raises(ValueError, match=message):
        call()
