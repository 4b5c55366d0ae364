"""From a change to paper: more or less of a value, what must be cut anew, and which pages with their marks."""

from __future__ import annotations

from pathlib import Path

import pytest
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st

import cli
from jigs.base.errors import CannotRead
from jigs.box import anew, chain
from jigs.boxfile import change, reading
from layout import make
from tests.boxes import SAMPLES
from tests.conftest import examples

METRIC, INCHES = (path.read_text(encoding="utf-8") for path in SAMPLES)


def box(text: str, **values: str) -> chain.Box:
    typed = {key.replace("__", "."): value for key, value in values.items()}
    return chain.work_out(change.box_with(text, typed, "box.toml"))


# -- more or less of a value ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("text", "key", "typed", "now"),
    [
        (METRIC, "box.length", "+20", 220.0),
        (METRIC, "box.length", "-20", 180.0),
        (METRIC, "box.length", "−20", 180.0),  # as a report prints it
        (METRIC, "box.width", "+ 1/2 in", 162.7),
        (INCHES, "box.length", "+1/4", 7.75 * 25.4),
        (INCHES, "sides.thickness", "-1mm", 11.7),
        (METRIC, "shell.lobes", "+2", 9),
        (METRIC, "handle.neck", "-5", -5.0),  # which may be under 0, and is then no neck
        (METRIC, "joint.clearance", "+0.02", 0.12),  # left out of the file
    ],
)
def test_a_value_may_be_more_or_less_than_it_was(text: str, key: str, typed: str, now: float) -> None:
    file = change.box_with(text, {key: typed}, "box.toml")
    section, name = key.split(".")
    assert getattr(getattr(file, section), name) == pytest.approx(now, abs=1e-9)


@pytest.mark.parametrize(
    ("key", "typed", "says"),
    [
        (
            "bottom.inside_length",
            "+1",
            "bottom.inside_length: the file gives no value to add 1 to; write the new value",
        ),
        ("box.length", "+x", "box.length: 'x' has no number in it"),
        ("box.lenth", "+1", "did you mean 'length'"),
    ],
)
def test_what_is_added_to_nothing_is_refused(key: str, typed: str, says: str) -> None:
    with pytest.raises(CannotRead, match=r".*") as refused:
        change.box_with(METRIC, {key: typed}, "box.toml")
    assert says in str(refused.value)


# -- what must be cut anew -----------------------------------------------------------------------------------------


def test_a_longer_box_is_longer_in_front_back_bottom_and_lid() -> None:
    new, same = anew.cut_anew(box(METRIC), box(METRIC, box__length="+20"))
    assert {name: found[0] for name, found in new.items()} == {
        "front": "length 220.6, was 200.6",
        "back": "length 220.6, was 200.6",
        "bottom": "length 207, was 187",
        "lid": "length 230, was 210",
    }
    assert same == ["left end", "right end", "handle"]


@pytest.mark.parametrize(
    ("values", "parts"),
    [
        ({"handle__neck": "26"}, {"handle": "holes and crest"}),
        ({"shell__lobes": "5"}, {"front": "shell"}),
        ({"lid__crown": "5"}, {"lid": "plug and crown"}),
        ({"bottom__tongue": "5.7"}, {"bottom": "tongue and rabbets"}),
    ],
)
def test_only_what_is_cut_of_a_part_is_new(values: dict[str, str], parts: dict[str, str]) -> None:
    new, _ = anew.cut_anew(box(METRIC), box(METRIC, **values))
    assert {name: "; ".join(found) for name, found in new.items()} == parts


def test_a_part_that_comes_is_new() -> None:
    new, _ = anew.cut_anew(chain.work_out(reading.read(change.without_section(METRIC, "lid"), "b")), box(METRIC))
    assert new["lid"] == ["new"]


@settings(max_examples=examples(20))
@given(st.sampled_from(["box.length", "box.width", "groove.depth", "lid.overhang"]), st.sampled_from(["+2", "+3.5"]))
def test_what_is_as_cut_has_the_same_numbers(key: str, by: str) -> None:
    """By the JSON report of both: sizes, sockets and groove of a part that need not be cut are the same."""
    was, now = box(METRIC), chain.work_out(change.box_with(METRIC, {key: by}, "box.toml"))
    new, same = anew.cut_anew(was, now)
    parts = [{part["name"]: part for part in chain.as_data(one)["parts"]} for one in (was, now)]
    assert [name for name in same if parts[0][name] != parts[1][name]] == []
    assert set(new) | set(same) == set(parts[1])
    changed = {name for name in parts[1] if parts[0][name] != parts[1][name]}
    assert changed <= set(new)


# -- printed again -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "values",
    [
        pytest.param({"box.length": "+3"}, marks=pytest.mark.slow),
        pytest.param({"lid.crown": "5"}, marks=pytest.mark.slow),
        {"handle.crest": "4"},
        pytest.param({"joint.clearance": "0.12"}, marks=pytest.mark.slow),
        pytest.param({"title": "Another"}, marks=pytest.mark.slow),
    ],
)
def test_every_page_whose_mark_is_another_is_named_with_the_mark_it_had(values: dict[str, str]) -> None:
    """Beside all pages of both boxes, composed: a page that is not named comes out as it was, but for its code.

    The sled's code holds the length of the box, which its card says nowhere in words.
    """
    before, after = make.box(METRIC, "box.toml"), change.box_with(METRIC, values, "box.toml")
    was, now = make.draw(before).marks, make.draw(after).marks
    names = make.names_that_change(before, after)
    others = [name for name, mark in now.items() if was.get(name) != mark and name not in names]
    assert set(others) <= {"card-2-make-sled"}
    assert make.pages_that_change(before, after) == {name: was.get(name, "") for name in names}


def test_a_file_that_is_the_same_or_that_a_rule_stops_changes_no_page() -> None:
    before = make.box(METRIC, "box.toml")
    assert make.pages_that_change(before, make.box(METRIC + "\n# a comment\n", "box.toml")) == {}
    stopped = change.box_with(METRIC, {"box.length": "20"}, "box.toml")
    assert make.names_that_change(before, stopped) == []
    assert make.pages_that_change(before, stopped) == {}


def test_a_box_that_names_no_paper_is_on_the_usual_one() -> None:
    before = make.box(METRIC, "box.toml")
    bare = make.edited(before, {"print.paper": ""})
    crest = {"handle.crest": "4"}
    changed = [make.pages_that_change(one, make.edited(one, crest)) for one in (before, bare)]
    assert list(changed[0]) == list(changed[1])
    assert make.names_that_change(bare, make.edited(bare, crest)) == list(changed[0])


# -- typed ---------------------------------------------------------------------------------------------------------


@pytest.mark.slow
def test_one_command_says_what_moves_what_to_cut_and_what_to_print(tmp_path: Path) -> None:
    file = tmp_path / "box.toml"
    file.write_text(METRIC, encoding="utf-8")
    result = CliRunner().invoke(cli.main, ["check", str(file), "--set", "box.length=+20"])
    assert result.exit_code == 0
    said = " ".join(result.stdout.split())
    assert "Cut anew front length 220.6, was 200.6;" in said
    assert "Print again: page R1, cards 1, 6, 7, 8, 9 and 11, template T2." in said
    before = make.box(METRIC, "box.toml")
    pages = make.pages_that_change(before, change.box_with(METRIC, {"box.length": "+20"}, "box.toml"))
    marks = make.draw(before).marks
    assert {name: marks[name] for name in pages} == pages
    assert f"these marks: {', '.join(pages.values())}." in said
    assert file.read_text(encoding="utf-8") == METRIC


def test_what_was_chosen_and_what_follows_is_said_and_nothing_else() -> None:
    """A smaller crown leaves a thicker edge, by as much; a wood that moves more wants a smaller plug and panel."""
    before = make.box(METRIC, "box.toml")
    after = make.edited(before, {"lid.crown": "5", "sides.species": "black walnut"})
    moved = make.moved(make.look(before), make.look(after))
    assert [(one.name, one.was, one.now) for one in moved if one.chosen] == [
        ("Species", "black cherry", "black walnut"),
        ("Crown", "6", "5"),
    ]
    assert [one.name for one in moved if not one.chosen] == ["Panel", "Plug", "Edge of the lid"]
    assert ("Edge of the lid", "6", "7") in [(one.name, one.was, one.now) for one in moved]
