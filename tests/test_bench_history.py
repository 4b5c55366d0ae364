"""The steps of a view: whatever is done, undone and done again, what is shown is what a maker would expect."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import given
from hypothesis import strategies as st

from layout.bench import history
from layout.bench.history import History


@given(st.lists(st.one_of(st.integers(0, 3), st.sampled_from(["undo", "redo"]))))
def test_steps_are_taken_back_and_done_again_in_their_order(done: Sequence[int | str]) -> None:
    """Beside two piles of paper: what lies under the present state, and what was taken off it."""
    steps, shown = History([0]), 0
    under: list[int] = []
    off: list[int] = []
    for one in done:
        if one == "undo":
            steps.undo()
            if under:
                off.append(shown)
                shown = under.pop()
        elif one == "redo":
            steps.redo()
            if off:
                under.append(shown)
                shown = off.pop()
        else:
            steps.take(int(one))
            if one != shown:
                under.append(shown)
                shown, off = int(one), []
        assert (steps.now, steps.can_undo, steps.can_redo) == (shown, bool(under), bool(off))


def test_the_oldest_steps_are_forgotten_first() -> None:
    steps = History([0])
    for one in range(1, 3 * history.MOST):
        steps.take(one)
    for _ in range(2 * history.MOST):
        steps.undo()
    assert steps.now == 2 * history.MOST
