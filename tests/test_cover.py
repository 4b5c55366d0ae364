"""The pages to read first: what to know before cutting, the parts, the cards of the work, and what was measured."""

from __future__ import annotations

from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.base.cards import Card, Text
from jigs.base.drawing import Table
from jigs.box import cover, readings
from jigs.box import sheets as box_sheets
from jigs.box.chain import Box, work_out
from jigs.boxfile.reading import load
from layout import make
from layout.pages import bands
from tests.boxes import METRIC, WHOLE_METRIC, worked
from tests.legibility import faults
from tests.words import words_of

SAMPLES = Path(__file__).parent.parent / "samples"
PARTS = "[groove]\ncutter = 6\n[bottom]\nthickness = 10\n[lid]\nthickness = 18\n[handle]\nsaw = 38\n"


def sample(name: str = "recipe-box.toml") -> Box:
    return work_out(load(SAMPLES / name))


def table(card: Card, name: str) -> Table:
    [found] = [band for band in bands.flat(card.bands) if isinstance(band, Table) and band.name == name]
    return found


def test_what_must_be_known_is_read_worst_first() -> None:
    """The cover tells the three worst; the page of readings the rest."""
    box = worked(WHOLE_METRIC, groove__depth="7", lid__clearance="0.1", bottom__tongue="5.5", handle__neck="17")
    known = cover.before_cutting(box)
    assert len(known) > cover.TOLD
    ranks = [["Error", "DANGER", "WARNING", "GET", "CHOOSE"].index(problem.sign) for problem in known]
    assert ranks == sorted(ranks)
    first, second = (words_of(card, box.file.units) for card in box_sheets.sheets(box).cards[:2])
    for place, problem in enumerate(known):
        said = words_of((cover.worded(problem),), box.file.units)
        assert (said in first) == (place < cover.TOLD)
        assert (said in second) == (place >= cover.TOLD)


def test_what_hurts_somebody_is_called_a_danger_on_paper_too() -> None:
    cover_card = box_sheets.sheets(sample()).cards[0]
    headings = [str(band.title) for band in bands.flat(cover_card.bands) if isinstance(band, Text)]
    assert [heading.split(" ")[0] for heading in headings[:2]] == ["DANGER", "NOTE"]


def test_every_warning_is_read_and_no_setting_of_every_box_is_called_a_note() -> None:
    box = sample()
    known = cover.before_cutting(box)
    assert [problem for problem in box.problems if problem.severity != "note"] == known[:1]
    assert not [problem for problem in known if problem.where in ("box.height", "sides.thickness", "joint")]


def test_the_cover_lists_the_parts_as_cut() -> None:
    """Worked values of the metric reference box: sides 240.6 and 160.6 by 89.5 by 12, 8 test pieces."""
    box = worked()
    made = table(cover.page(box, ()), "parts")
    assert [row[0] for row in made.rows[:2]] == ["2 front and back", "2 left end and right end"]
    assert list(made.rows[0][1:]) == pytest.approx([240.6, 89.5, 12.0])
    assert list(made.rows[1][1:]) == pytest.approx([160.6, 89.5, 12.0])
    assert made.rows[-1][0] == "8 test pieces"
    assert "Inside 216 × 136." in words_of(cover.page(box, ()))


def test_the_cover_lists_every_card_with_its_holds() -> None:
    made = box_sheets.sheets(sample())
    work = [card for card in made.cards if not card.reading]
    rows = table(made.cards[0], "cards").rows
    assert [row[1] for row in rows] == [card.title for card in work]
    assert [str(row[2]).count("H") for row in rows] == [len(card.holds()) for card in work]
    assert sum(len(card.holds()) for card in work) >= 9


def test_what_is_measured_has_a_box_for_what_it_reads() -> None:
    box = worked(METRIC + PARTS)
    made = table(readings.page(box), "measured")
    named = {str(row[0]): words_of((row[1],)) for row in made.rows}
    assert named["finger cutter, as it cuts"] == "10"
    assert named["hole saw, as it cuts"] == "38"
    assert all(row[2] is None for row in made.rows)


def test_the_thinnest_wood_is_named_thinnest_first() -> None:
    rows = table(readings.page(sample()), "thinnest").rows
    sizes = [float(row[1]) for row in rows if isinstance(row[1], float)]
    assert sizes == sorted(sizes)
    assert len(sizes) == readings.THINNEST


@pytest.mark.slow
@settings(max_examples=3)
@given(
    st.integers(80, 400), st.integers(80, 400), st.integers(35, 200), st.booleans(), st.sampled_from(["A4", "Letter"])
)
def test_any_box_has_legible_pages_to_read(length: int, width: int, height: int, whole: bool, page: str) -> None:
    sizes = {"box__length": str(length), "box__width": str(width), "box__height": str(height)}
    box = worked(METRIC + (PARTS if whole else ""), **sizes)
    if box.stopped:
        return
    made = make.draw(box.file, ["cover", "readings"], make.Printing(paper=page))
    assert [fault for sheet in made.cards.sheets for fault in faults(sheet)] == []
