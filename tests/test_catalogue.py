"""Every jig of the catalogue: its example makes pages that can be worked from."""

from __future__ import annotations

import re
import shlex
from typing import Any

import pytest
from click.testing import CliRunner

from cli import main
from jigs.base.catalogue import catalogue, find
from layout.pages import bands
from tests import seen
from tests.conftest import all_pages, pages_of
from tests.legibility import faults
from tests.test_properties import example_of

NAMES = sorted(catalogue())
MOST_PAGES = 3
"""A card, the proof and a page of templates; a sled has more to say, and a lid and a handle have two places of work."""
MORE = {"sled": 6, "lid": 4, "handle": 4}


@pytest.mark.slow
@pytest.mark.parametrize("page", ["A4", "Letter"])
@pytest.mark.parametrize("name", NAMES)
def test_an_example_makes_legible_pages_and_few(name: str, page: str) -> None:
    plan = find(name).plan(example_of(name), "mm")
    bundle = all_pages(pages_of(plan, name, page))
    assert seen.lost_words(plan.sheets, bundle.sheets, "mm") == []
    assert {sheet.name: faults(sheet) for sheet in bundle.sheets if faults(sheet)} == {}
    assert len(bundle.sheets) <= MORE.get(name, MOST_PAGES)


@pytest.mark.slow
@pytest.mark.parametrize("name", NAMES)
def test_an_example_is_what_the_command_takes(name: str, tmp_path: Any) -> None:
    command = ["jig", name, *shlex.split(find(name).example)]
    ran = CliRunner().invoke(main, [*command, "-o", str(tmp_path), "--format", "pdf"])
    assert ran.exit_code == 0, ran.output
    assert re.match(r"\d+ pages? A4: print ", ran.stdout)
    assert {path.name for path in tmp_path.iterdir()} <= {f"{name}-cards.pdf", f"{name}-templates.pdf"}
    helped = CliRunner().invoke(main, ["jig", name, "--help"])
    assert f"    jigleaf jig {name} --" in helped.stdout
    assert all(len(row) <= 80 for row in helped.stdout.splitlines())


@pytest.mark.parametrize("name", NAMES)
def test_every_piece_has_its_check_and_its_card(name: str) -> None:
    sheets = find(name).plan(example_of(name), "mm").sheets
    assert sheets.cards
    names = {card.name for card in sheets.cards}
    for template in sheets.templates:
        view = template.view
        assert view.to_scale
        assert view.check in view.dimensions
        assert template.card in names
        longest = max(dimension.value for dimension in view.dimensions)
        assert view.check is not None
        # A stick is measured from the centre of the bit too, which is not on it; a template on its shorter side.
        assert view.check.value >= 0.7 * longest, f"{view.name}: its check is much shorter than what it measures"


@pytest.mark.parametrize("name", NAMES)
def test_settings_of_a_card_are_on_its_pictures(name: str) -> None:
    """Balloon number and row number are the same: the pictures of a machine that is set show where."""
    for card in find(name).plan(example_of(name), "mm").sheets.cards:
        every = bands.flat(card.bands)
        views = [view for band in every for view in getattr(band, "views", ())]
        shown = {d.setting for view in views for d in view.dimensions if d.setting}
        shown |= {label.setting for view in views for label in view.labels if label.setting}
        rows = {row.name for band in every for row in getattr(band, "rows", ()) if hasattr(row, "using")}
        if len(rows) >= 4:  # a card that sets a machine; others count and plane
            assert shown & rows, card.name
        assert len(card.cautions) <= 5
