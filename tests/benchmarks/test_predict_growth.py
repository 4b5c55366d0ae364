"""How the simulation of a joint grows with trials and with parts: rows of a group are ratios of one run."""

import pytest
from pytest_benchmark.fixture import BenchmarkFixture

from jigs.trade.predict import Errors, Joint, simulate

LIMITS = Errors(gap=0.05, socket=0.02, spacer=0.05)


@pytest.mark.benchmark(group="17 parts, by trials")
@pytest.mark.parametrize("trials", [25_000, 100_000, 400_000])
def test_growth_with_trials(benchmark: BenchmarkFixture, trials: int) -> None:
    found = benchmark(simulate, Joint(9.9, 10, 9.95, 0.1, 8), "separately", LIMITS, trials)
    assert found.clearance.size == trials


@pytest.mark.benchmark(group="100 000 trials, by parts")
@pytest.mark.parametrize("parts", [9, 17, 33, 65])
def test_growth_with_parts(benchmark: BenchmarkFixture, parts: int) -> None:
    found = benchmark(simulate, Joint(9.9, 10, 9.95, 0.1, parts // 2), "separately", LIMITS)
    # drift grows as the root of the sockets, so ever fewer joints go together
    assert found.clearance.mean() < 0.1
