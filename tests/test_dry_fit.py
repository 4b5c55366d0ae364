"""The dry fit: what is drawn and said of a joint is what the model of the cut says of it."""

from __future__ import annotations

from typing import Any

import pytest

from jigs.base.wording import on_paper, read_out
from jigs.parts.joint import dry_fit
from jigs.parts.joint.dry_fit import Meant
from jigs.record import values
from jigs.trade.cut import Blank, Setup
from jigs.trade.passes import Passes
from jigs.trade.predict import Joint


def joint(gap: float = 9.9, socket: float = 10.0, spacer: float = 9.95, width: float = 89.5, **changes: Any) -> Meant:
    made = Meant(
        setup=Setup(gap, socket, socket - 0.1),
        long=Blank(width, 12.0),
        short=Blank(width, 12.0, spacer),
        joint=Joint(gap, socket, spacer, 0.1, 4),
        passes=Passes(1, 0.0, 0.0, (gap,)),
    )
    return Meant(**values(made) | changes)


def costs(made: Meant) -> dict[str, str]:
    return {read_out(one.what, "mm", on_paper): read_out(one.outcome, "mm", on_paper) for one in dry_fit.mistakes(made)}


def test_the_joint_closes_as_the_formulas_say() -> None:
    """Clearance 0.1, flush from -0.05 to 0.05: worked value B1."""
    made = joint()
    mating, prediction = made.mating, made.prediction
    assert mating.clearance == pytest.approx(0.1)
    assert [cheek.gap for cheek in mating.cheeks] == pytest.approx([0.05] * 8)
    assert (mating.flush_low, mating.flush_high) == pytest.approx((-0.05, 0.05))
    assert prediction.clearance_worst == pytest.approx(0.03)
    assert prediction.chance_fails < 0.001
    assert dry_fit.percent(prediction.chance_fails) == "under 0.1 %"


def test_a_joint_with_too_wide_a_gap_is_tight() -> None:
    assert joint(gap=10.05).mating.clearance == pytest.approx(-0.05)
    gaps = [cheek.gap for cheek in joint(gap=10.05).mating.cheeks]
    assert gaps == pytest.approx([-0.025] * len(gaps))


def test_the_error_of_flush_comes_from_the_spacer_most() -> None:
    """The spacer is 78 % of the variance of flush: 0.05^2 / (0.05^2 + (0.05^2 + 0.02^2)/4)."""
    shares = dict(joint().prediction.flush_spread.shares)
    assert shares["spacer"] == pytest.approx(0.05**2 / (0.05**2 + (0.05**2 + 0.02**2) / 4))
    assert round(100 * shares["spacer"]) == 78


@pytest.mark.parametrize(
    ("mistake", "cost"),
    [
        ("end 0.10 out of line", "bottom edges 0.10 out"),
        ("end board turned top for bottom", "closes, all that is cut in it upside down"),
        ("spacer left out", "does not close"),
        ("cutter 0.05 wider for the end boards", "clearance −0.05"),
        ("upright 0.1° out of square", "takes 0.04 of clearance"),
        ("gap set with a ruler", "within 0.30; the clearance is 0.10"),
    ],
)
def test_what_a_mistake_costs(mistake: str, cost: str) -> None:
    assert costs(joint())[mistake] == cost


def test_an_even_joint_turned_over_mates_nowhere() -> None:
    even = joint(width=79.6)
    assert costs(even)["end board turned top for bottom"] == "does not close"


def test_pushing_to_both_sides_of_the_key_makes_sockets_grow() -> None:
    """Kerf 3.2, key 3.15: the fourth socket is 6.10 + 3 x 0.05 (worked value, derived in trade/passes)."""
    gaps = (6.0, 8.9)
    several = joint(
        setup=Setup(8.9, 3.2, 3.15, (2.9, 0.0)),
        long=Blank(42.4, 9.0),
        short=Blank(42.4, 9.0, 6.05),
        joint=Joint(6.0, 6.1, 6.05, 0.05, 3),
        passes=Passes(2, 2.9, 0.3, gaps),
    )
    assert costs(several)["pushed to both sides of the key in turn"] == "sockets grow: the fourth is 6.25"
    assert several.mating.clearance == pytest.approx(0.1)


def test_three_mistakes_stand_on_the_card_and_all_waste_a_board() -> None:
    wasted = {read_out(one.what, "mm", on_paper) for one in dry_fit.mistakes(joint()) if one.costs}
    shown = [read_out(what, "mm", on_paper) for what, _ in dry_fit.costliest(joint())]
    assert len(shown) == 3
    assert set(shown) <= wasted
    assert shown[0] == "spacer left out"
