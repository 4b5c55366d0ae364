"""How long a box takes, and the evenings of a class in the teacher's plan."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner

import cli
from jigs.base.cards import Card
from jigs.box import chain, details, hours
from jigs.boxfile import reading
from jigs.course import evenings
from jigs.course.makers import Maker
from layout import make
from tests.boxes import METRIC, WHOLE_METRIC
from tests.outside import Check, agree
from tests.words import words_of

USUAL = Check("Limits and margins of the shop", "common practice, no source", "common practice")


def makers(*parts: list[str]) -> list[Maker]:
    return [Maker(f"Student {n}", {"parts": of_it}) for n, of_it in enumerate(parts)]


EVERY = ["groove", "bottom", "shell", "lid", "handle"]


def said(text: str, people: list[Maker]) -> str:
    bands = tuple(evenings.bands(reading.read(text, "box.toml"), people))
    return words_of(Card("evenings", "Evenings", "", (), bands, "", "plan", reading=True))


@USUAL.of()
def test_the_hours_of_a_box_are_those_of_its_parts() -> None:
    """By hand, of the usual minutes: 35 + 50 + 40 + 75 of a plain box, and 23 + 30 + 120 + 45 + 35 of the parts."""
    plain, whole = (chain.work_out(reading.read(text, "b")) for text in (METRIC, WHOLE_METRIC))
    agree(hours.of_box(plain).minutes, 35 + 50 + 40 + 75, unit="min")
    agree(hours.of_box(whole).minutes, 35 + 50 + 40 + 75 + 23 + 30 + 120 + 45 + 35, unit="min")
    agree(hours.of_box(whole).nights, 2, unit="nights")
    assert "in all     7 h 33 min, and 2 h 50 min for the sled; 2 nights to dry" in details.details(whole)


def test_minutes_of_the_file_take_the_place_of_the_usual_ones() -> None:
    text = METRIC + "[hours]\nglue = { set = 10, work = 50 }\nsled = { set = 0, work = 60 }\n"
    made = hours.of_box(chain.work_out(reading.read(text, "b")))
    assert made.minutes == 35 + 50 + 60 + 75
    assert made.sled == 60


def test_the_report_for_programs_has_them() -> None:
    data: dict[str, Any] = make.check(make.box(WHOLE_METRIC, "b")).data
    assert data["hours"]["minutes"] == 453
    assert data["hours"]["set_ups"]["groove"] == {"machine": "router table", "set": 15, "work": 8, "dries": False}
    assert json.dumps(data["hours"])


@pytest.mark.parametrize(("minutes", "words"), [(0, "0 min"), (59.6, "1 h"), (60, "1 h"), (453, "7 h 33 min")])
def test_a_time_in_words(minutes: float, words: str) -> None:
    assert hours.said(minutes) == words


def test_the_joint_is_cut_on_the_machine_of_the_file() -> None:
    file = reading.read(METRIC + 'machine = "table saw"\n', "b")
    machine = {one.name: one.machine for one in hours.operations(file)}
    assert (machine["joint"], machine["lid"]) == ("table saw", "router table")


# -- a class -------------------------------------------------------------------------------------------------------


def test_the_plan_says_evenings_minutes_and_what_dries() -> None:
    words = said(WHOLE_METRIC, makers(*[EVERY] * 8))
    assert "8 boxes in 7 evenings of 150 minutes: no plan has fewer" in words
    assert "glue 4" in words
    assert "set, once an evening" in words


def test_two_router_tables_take_fewer_evenings_than_one() -> None:
    one, two = (
        evenings.of_class(reading.read(WHOLE_METRIC + f"[hours]\nrouters = {count}\n", "b"), makers(*[EVERY] * 8))[1]
        for count in (1, 2)
    )
    assert len(two.evenings) < len(one.evenings)


def test_who_makes_no_lid_is_not_kept_waiting_for_one() -> None:
    asked, found = evenings.of_class(reading.read(WHOLE_METRIC, "b"), makers(EVERY, ["groove", "bottom"]))
    assert sorted(len(group.operations) for group in asked.groups) == [6, 9]
    assert found.evenings


def test_an_evening_too_short_for_the_work_is_said() -> None:
    words = said(WHOLE_METRIC + "[hours]\nevening = 100\n", makers(EVERY))
    assert "No plan: shell takes 120 minutes; an evening has 80. Make the evening longer, or the work shorter." in words


@pytest.mark.slow
def test_the_teachers_plan_has_the_page(tmp_path: Path) -> None:
    from pypdf import PdfReader  # noqa: PLC0415 - slow to import

    people = tmp_path / "class.csv"
    people.write_text("name\nMarta\nJo\n", encoding="utf-8")
    file = tmp_path / "box.toml"
    file.write_text(METRIC, encoding="utf-8")
    result = CliRunner().invoke(cli.main, ["class", str(people), "--box", str(file), "-o", str(tmp_path / "out")])
    assert result.exit_code == 0, result.output
    text = " ".join(page.extract_text() for page in PdfReader(tmp_path / "out" / "plan.pdf").pages)
    assert "2 boxes in 2 evenings of 150 minutes: no plan has fewer" in " ".join(text.split())
