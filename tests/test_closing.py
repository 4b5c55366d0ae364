"""Does a joint close that is cut as the report says? A model of its own answers, with errors inside the card's limits.

Nothing of `jigs.trade` is used: boards are rows of numbers in numpy, cut position by position, ripped, and laid
together. It takes from `check --json` only what a maker takes to the bench: gap, socket, spacer, positions and the
width to rip to.
"""

from __future__ import annotations

from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from numpy.typing import NDArray

from jigs.box import chain
from jigs.boxfile import change, reading
from jigs.trade import predict
from tests.boxes import METRIC, worked
from tests.outside import Check, agree

APART = Check(
    "Fit of a joint, tuning",
    "boards as rows of numbers in numpy, cut, ripped and laid together with errors inside the card's limits",
    "independent derivation",
)
TRIALS = 40_000
WITHIN = {"gap": 0.05, "cutter": 0.02, "spacer": 0.05, "rip": 0.1}
"""The limits of the setting card, mm: two standard deviations each."""

Row = NDArray[np.float64]


def share_that_fails(card: dict[str, float], positions: int, *, seated: bool, seed: int = 7) -> float:
    """Return the share of joints that do not go together.

    At every position a socket is cut in front and end. A finger of the one that lies below wood of the other bounds how
    far the end may be pushed: up from the fronts' fingers, down from the ends'. Wood ends where the board is ripped.
    """
    random = np.random.default_rng(seed)
    drawn = {name: random.normal(0.0, limit / 2, TRIALS) for name, limit in WITHIN.items()}
    gap, socket = card["finger"] + drawn["gap"], card["socket"] + drawn["cutter"]
    spacer, width = card["spacer"] + drawn["spacer"], card["rip_width"] + drawn["rip"]
    front, end = gap.copy(), gap - spacer  # where the socket begins
    least, most = np.full(TRIALS, -np.inf), np.full(TRIALS, np.inf)
    for position in range(positions):
        last = position + 1 == positions
        step = gap + socket - (0.0 if seated else random.uniform(0.0, card["slack"], TRIALS))
        finger_top = np.minimum(front, width)
        least = np.where(end + socket < width, np.maximum(least, finger_top - end - socket), least)
        finger_top = width if last else np.minimum(end + step, width)
        most = np.where(front + socket < width, np.minimum(most, front + socket - finger_top), most)
        front, end = front + step, end + step
    return float((most < least).mean())


def card_of(**changes: str) -> tuple[dict[str, float], dict[str, Any]]:
    """Return what the report of a box gives the maker, and the report."""
    data = chain.as_data(worked(METRIC, **changes))
    assert data["fingers"], data["problems"]
    return data["sled"] | {name: data["fingers"][name] for name in ("finger", "socket", "rip_width")}, data


@APART.of(predict.top_edge, predict.predict)
@pytest.mark.parametrize("seated", [True, False])
@pytest.mark.parametrize("height", ["60", "70", "80", "90", "100", "110", "120", "101.6"])
def test_every_count_closes_with_the_positions_and_the_width_of_the_report(height: str, seated: bool) -> None:
    card, data = card_of(box__height=height)
    fails = share_that_fails(card, data["fingers"]["steps"], seated=seated)
    assert fails < 0.001
    made = worked(METRIC, box__height=height)
    assert made.meant
    if seated:
        agree(made.meant.prediction.chance_fails, fails, 0.001, unit="of the joints")


@APART.of(predict.of_a_box)
def test_a_box_fails_as_often_as_one_of_four_corners_does() -> None:
    corners = np.random.default_rng(3).random((TRIALS, 4)) < 0.096
    agree(predict.of_a_box(0.096), float(corners.any(axis=1).mean()), 0.01, unit="of the boxes")


@APART.of(predict.top_edge, predict.predict, predict.simulate)
@pytest.mark.parametrize(("height", "short_of"), [("80", 1), ("100", 1), ("120", 1), ("90", 0)])
def test_a_stack_cut_one_position_short_of_that_fails_as_often_as_is_predicted(height: str, short_of: int) -> None:
    """Worked apart: eight parts ripped to 79.6 after four positions fail in a third of the joints."""
    card, data = card_of(box__height=height)
    positions = data["fingers"]["steps"] - short_of
    fails = share_that_fails(card, positions, seated=True)
    assert fails > 0.3 if short_of else fails < 0.001
    joint = predict.Joint(
        gap=card["finger"],
        socket=card["socket"],
        spacer=card["spacer"],
        slack=0.0,
        long_sockets=data["fingers"]["count"] // 2,
        odd=data["fingers"]["count"] % 2 == 1,
        width=card["rip_width"],
        positions=positions,
    )
    errors = predict.Errors(*WITHIN.values())
    agree(predict.predict(joint, "one stack", errors).chance_fails, fails, 0.012, unit="of the joints")
    agree(predict.simulate(joint, "one stack", errors).chance_fails, fails, 0.012, unit="of the joints")


@given(
    finger=st.floats(5.0, 14.0).map(lambda size: round(size, 2)),
    narrower=st.sampled_from([0.0, 0.05, 2.0, 3.5]),
    board=st.floats(45.0, 160.0).map(lambda size: round(size, 1)),
)
@settings(max_examples=20)
def test_any_box_closes_that_the_report_calls_sure(finger: float, narrower: float, board: float) -> None:
    cutter = round(max(3.2, finger - narrower), 2)
    text = change.set_values(
        METRIC, {"joint.finger": str(finger), "joint.cutter": str(cutter), "box.height": str(board)}
    )
    made = chain.work_out(reading.read(text, "box.toml"))
    data = chain.as_data(made)
    if data["fingers"] is None:
        return
    card = data["sled"] | {name: data["fingers"][name] for name in ("finger", "socket", "rip_width")}
    assert share_that_fails(card, data["fingers"]["steps"], seated=True) < 0.001
    assert made.meant
    assert made.meant.prediction.chance_fails < 0.001
