"""Cards of the shelf's jigs that cut, drill and mark: one page, one template page, settings as they were worked out."""

from __future__ import annotations

from typing import Any

import pytest

from jigs.base.cards import Beside, Hold, Setting, Settings
from jigs.base.catalogue import find
from jigs.base.lengths import Units
from layout import make
from layout.make import Printing
from tests.outside import Check, agree
from tests.test_properties import example_of

BY_HAND = Check(
    "Mitres, dovetails, dividers, hinges, rows",
    "arithmetic written out in jigs/trade/mitre.py, spacing.py, dividers.py, hinge.py and circles.py",
    "worked example",
)
JIGS = ("dovetail", "drilling", "parting", "scallop", "taper", "trammel")
NAMES = {  # the ids of the parts of each template, as they are in the files
    "dovetail": {"tails", "pins", "bevel"},
    "drilling": {"template"},
    "parting": {"stick", "saw"},
    "taper": {"base", "fence", "stop", "feed"},
    "trammel": {"bar", "cutter", "circle"},
}


def settings_on(name: str, **changes: Any) -> dict[str, object]:
    [card] = find(name).plan(example_of(name) | changes, "mm").sheets.cards
    rows: list[Setting] = []
    for band in card.bands:
        if isinstance(band, Beside) and isinstance(band.left, Settings):
            rows += band.left.rows
    return {row.name: row.value for row in rows}


@pytest.mark.parametrize(("units", "on"), [("mm", "A4"), ("in", "Letter")])
@pytest.mark.parametrize("name", JIGS)
def test_a_jig_is_a_card_a_proof_and_a_template_page(name: str, units: Units, on: str) -> None:
    made = make.draw(make.jig(name, example_of(name), units), printing=Printing(paper=on, formats=("svg",)))
    assert len(made.cards.sheets) == 1
    assert [sheet.name for sheet in made.templates.sheets] == [f"{name}-proof", f"{name}-template-1"]


@pytest.mark.parametrize("name", JIGS)
def test_a_card_has_cautions_and_a_hold(name: str) -> None:
    [card] = find(name).plan(example_of(name), "mm").sheets.cards
    assert (card.name, card.jig) == (name, name)
    assert 3 <= len(card.cautions) <= 5
    assert sum(isinstance(band, Hold) for band in card.bands) == 1


@pytest.mark.parametrize("name", sorted(NAMES))
def test_parts_keep_their_names(name: str) -> None:
    templates = find(name).plan(example_of(name), "mm").sheets.templates
    found = {part.name for template in templates for part in template.view.parts}
    assert found == NAMES[name]
    assert all(template.view.check for template in templates)


@BY_HAND.of("parting", "trammel", "dovetail", "taper", "drilling")
@pytest.mark.parametrize(
    ("name", "changed", "expected"),
    [  # worked values, derived in the docstrings of jigs/trade
        ("parting", {}, {"gap": 9.92, "wide-gap": 13.72, "fence": 59.82 + 9.92 / 2 + 0.3, "kerf": 3.2}),
        ("trammel", {}, {"pivot": 100 + 6.35 / 2, "step": 3.0, "deep": 18.0}),
        ("trammel", {"keep": "hole"}, {"pivot": 96.825}),
        ("dovetail", {}, {"half-pin": 6.0, "tail": 22.0, "pin": 6.0, "tail-gauge": 12.0}),
        ("taper", {}, {"wide": 40.0, "narrow": 25.0, "length": 400.0}),
        ("drilling", {}, {"edge": 30.0, "first": 88.0, "pitch": 64.0, "drill": 5.0}),
    ],
)
def test_cards_set_what_was_worked_out(name: str, changed: dict[str, Any], expected: dict[str, float]) -> None:
    found = settings_on(name, **changed)
    agree({key: found[key] for key in expected}, expected, 1e-6, unit="mm")
