"""A wood is read by any of its names wherever one is asked for, and printed by the one that the trade has."""

from __future__ import annotations

import json

import pytest
from click.testing import CliRunner

import cli
from jigs.box import chain
from jigs.box import sheets as box_sheets
from jigs.boxfile.reading import read
from jigs.trade import timber
from layout import make
from tests.boxes import METRIC
from tests.words import words_of

PARTS = ("sides.species", "sides.ends_species", "bottom.species", "lid.species")
NAMES = ("Cherry, black", "Maple, sugar", "Ash, white", "Walnut, black")
EVERY = """[groove]
cutter = 6
[bottom]
thickness = 10
[lid]
thickness = 18
[stock]
boards = [
  { length = 1500, width = 160, thickness = 21, species = "Cherry, black" },
  { length = 1500, width = 160, thickness = 21, species = "hard maple" },
  { length = 1500, width = 160, thickness = 13, species = "Red oak, commercial" },
  { length = 1500, width = 160, thickness = 13, species = "plywood" },
]
"""


def box_of(*woods: str) -> chain.Box:
    """Return a box whose sides, ends, bottom and lid are of these woods."""
    named = {key: f"{key.split('.')[1]} = {json.dumps(wood)}\n" for key, wood in zip(PARTS, woods, strict=False)}
    text = METRIC + EVERY
    for key, line in named.items():
        section = f"[{key.split('.')[0]}]\n"
        text = text.replace(section, section + line)
    return chain.work_out(read(text, "box.toml"))


def printed_of(box: chain.Box) -> str:
    """Return all that is printed of a box: its report, its pages, what the JSON report says."""
    report = make.check(box.file, everything=True)
    said = [problem["says"] + problem["suggestion"] for problem in chain.as_data(box)["problems"]]
    pages = [words_of(box_sheets.sheets(box)), chain.settings_line(box.file)]
    return "\n".join([report.text, *pages, *said])


def test_nothing_that_is_printed_has_a_family_first() -> None:
    box = box_of(*NAMES)
    said = printed_of(box)
    assert [row.listed for row in timber.all_species() if "," in row.listed and row.listed in said] == []
    for wood in ("black cherry", "sugar maple", "white ash", "black walnut"):
        assert wood in said, wood
    unnamed = printed_of(box_of())
    assert "red oak" in unnamed
    assert "commercial" not in unnamed


@pytest.mark.parametrize(
    "woods", [("cherry", "hard maple", "ash", "walnut"), ("BLACK CHERRY", "rock maple", "white ash", "American walnut")]
)
def test_every_name_of_a_wood_makes_the_same_box(woods: tuple[str, ...]) -> None:
    assert chain.as_data(box_of(*woods)) == chain.as_data(box_of(*NAMES))


def test_the_data_has_parts_by_the_key_of_the_table() -> None:
    parts = {part["name"]: part["species"] for part in chain.as_data(box_of(*NAMES))["parts"]}
    assert (parts["bottom"], parts["lid"]) == ("Ash, white", "Walnut, black")
    assert (parts["front"], parts["left end"]) == ("black cherry", "sugar maple")


@pytest.mark.parametrize("place", range(4))
def test_a_name_of_several_woods_stops_the_box_and_lists_them(place: int) -> None:
    woods = ["cherry"] * 4
    woods[place] = "oak"
    [problem] = [problem for problem in box_of(*woods).problems if problem.severity == "stop"]
    assert (problem.where, problem.says("mm")) == (PARTS[place], "'oak' may be any of several woods")
    assert problem.suggests("mm").startswith("write 'white oak', 'red oak', ")


def test_a_board_of_one_of_several_woods_is_asked_about() -> None:
    text = METRIC + EVERY.replace('"hard maple"', '"oak"')
    problems = chain.work_out(read(text.replace("[sides]\n", '[sides]\nspecies = "red oak"\n'), "box.toml")).problems
    [problem] = [problem for problem in problems if problem.where == "stock.boards[2].species"]
    assert problem.suggests("mm") == 'write "red oak" if that is its wood'


@pytest.mark.parametrize("said", ["white ash", "ash", "Ash, white"])
def test_a_jig_takes_any_wood_by_any_name(said: str) -> None:
    ran = CliRunner().invoke(cli.main, ["jig", "seasons", "--species", said, "--width", "100", "--json"])
    assert ran.exit_code == 0
    assert json.loads(ran.stdout)["settings"]["species"] == "white ash"


def test_a_jig_says_which_woods_may_be_meant() -> None:
    ran = CliRunner().invoke(cli.main, ["jig", "seasons", "--species", "oak", "--width", "100"])
    assert ran.exit_code == 2
    assert "'--species': 'oak' may be any of several woods; write 'white oak', 'red oak'" in " ".join(
        ran.stderr.split()
    )
