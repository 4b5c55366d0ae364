"""The dry fit: what is drawn and said of a joint is what the model of the cut says of it."""

from __future__ import annotations

from typing import Any

import pytest

from jigs.base.drawing import Table, View
from jigs.base.wording import read_out
from jigs.parts.joint import dry_fit
from jigs.parts.joint.dry_fit import Meant
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
    return Meant(**{name: getattr(made, name) for name in Meant.__dataclass_fields__} | changes)


def said(table: Table) -> dict[str, str]:
    return {read_out(row[0], "mm"): read_out(row[1], "mm") for row in table.rows}  # type: ignore[arg-type]  # no blanks here


def test_the_joint_closes_as_the_formulas_say() -> None:
    """Clearance 0.1, flush from -0.05 to 0.05: worked value B1."""
    rows = said(dry_fit.expectation_table(joint()))
    assert rows["Clearance"] == "0.1 mm"
    assert rows["Gap at a cheek"] == "0.05 mm"
    assert rows["Bottom edges out"] == "−0.05 mm to 0.05 mm"
    assert rows["All errors at worst"] == "0.03 mm"
    # 0.4 of the clearance of 0.1 goes to a carriage as far out of square as it may be.
    assert rows["… and face not square"] == "−0.01 mm"
    assert rows["Corners that will not close"] == "under 0.1 %"


def test_the_picture_gives_true_sizes_beside_drawn_ones() -> None:
    view = dry_fit.joint_picture(joint())
    assert not view.to_scale
    assert "gaps drawn 48 times too wide" in read_out(view.title, "mm")
    fingers = [part.bounds for part in view.parts if part.name.startswith("closed-front")]
    ends = [part.bounds for part in view.parts if part.name.startswith("closed-end")]
    assert (len(fingers), len(ends)) == (5, 4)
    assert ends[0].left - fingers[0].right == pytest.approx(2.4)
    assert "gap 0.05 mm" in [read_out(label.words, "mm") for label in view.labels]


def test_a_tight_joint_is_drawn_closed_and_said_to_be_tight() -> None:
    view = dry_fit.joint_picture(joint(gap=10.05))
    assert "tight by 0.03 mm" in [read_out(label.words, "mm") for label in view.labels] or "tight by 0.02 mm" in [
        read_out(label.words, "mm") for label in view.labels
    ]
    fingers = [part.bounds for part in view.parts if part.name.startswith("closed-front")]
    ends = [part.bounds for part in view.parts if part.name.startswith("closed-end")]
    assert ends[0].left == pytest.approx(fingers[0].right)


def test_bars_are_as_long_as_their_share() -> None:
    """The spacer is 78 % of the variance of flush: 0.05^2 / (0.05^2 + (0.05^2 + 0.02^2)/4)."""
    view: View = dry_fit.budget_picture(joint())
    bars = {part.name: part.bounds.width for part in view.parts}
    assert bars["bar-flush-spacer"] == pytest.approx(50 * 0.05**2 / (0.05**2 + (0.05**2 + 0.02**2) / 4))
    assert "78%" in [label.words for label in view.labels]


@pytest.mark.parametrize(
    ("mistake", "cost"),
    [
        ("an end 0.1 mm out of line in the stack", "bottom edges 0.1 mm out"),
        ("an end turned top for bottom", "closes, its groove at the top"),
        ("the spacer left out", "does not close"),
        ("a cutter 0.05 mm wider for the ends", "clearance −0.05 mm"),
        ("the face 0.1 degrees out of square", "takes 0.04 mm of clearance"),
        ("the gap set with a ruler", "within 0.3 mm at best: the clearance is 0.1 mm"),
    ],
)
def test_what_a_mistake_costs(mistake: str, cost: str) -> None:
    assert said(dry_fit.mistakes_table(joint()))[mistake] == cost


def test_an_even_joint_turned_over_mates_nowhere() -> None:
    even = joint(width=79.6)
    assert said(dry_fit.mistakes_table(even))["an end turned top for bottom"] == "does not close"


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
    rows = said(dry_fit.mistakes_table(several))
    assert rows["pushed to both sides of the key in turn"] == "sockets grow: the fourth is 6.25 mm"
    assert said(dry_fit.expectation_table(several))["Clearance"] == "0.1 mm"
