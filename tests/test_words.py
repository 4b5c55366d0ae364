"""All words that a user can read: the terms of the trade in one sense each, numbers with their units, short sentences.

The terms are those that the workshop settled on. What a pattern can tell apart is looked for in every string of the
program, in all help, and on every page of the samples; the rest is read by people.
"""

from __future__ import annotations

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import click
import pytest
from click.testing import CliRunner

import cli
from jigs.base.catalogue import catalogue
from jigs.base.errors import JigleafError
from jigs.base.lengths import Units
from jigs.box import chain
from jigs.box import sheets as box_sheets
from jigs.boxfile import reading
from layout import make
from tests.boxes import SAMPLES
from tests.varied import boxes
from tests.words import words_of

ROOT = Path(__file__).parent.parent
REJECTED: tuple[tuple[str, str], ...] = (
    (r"\bend wood\b|\bwood at (?:its|the) ends?\b", "end margin"),
    (r"\bhandle.{0,12}\bfoot\b|\bfoot of the handle\b", "base of the handle"),
    (r"\bover all\b|\boverall\b", "across key and cutter"),
    (r"\bleast wood\b|\bwood left\b|\bof wood (?:stays|left)\b", "thinnest section"),
    (r"\bstop sticks?\b", "setting stick"),
    (r"\bstations?\b", "set-up"),
    (r"\b(?:driest|wettest) (?:air|month)\b", "driest season, wettest season"),
    (r"\bheld by \{", "engagement"),
    (r"\bcarriage[’']s face\b", "carriage’s upright"),
    (r"\bsetting card\b", "card"),
    (r"\bdivisions\b|\bparts of the joint\b", "fingers and sockets"),
    (r"\brebates?\b", "rabbet"),
    (r"\bmend(?:s|ed|ing)?\b", "correct"),
    (r"(?<![_-])\bslack\b(?! stands)", "play on the key"),
    (r"\bgaps? (?:across|along|all round|of the lid)\b|\b(?:lid|plug|hinge|cheek)\b[^.;]{0,12}\bgap\b", "clearance"),
    (r"\bwaste plug\b|\bplug of waste\b", "core"),
    (r"\bfence\b[^.;]{0,30}\bcutter[’']s centre\b", "bit centre"),
    (r"\bstop and ask\b|\bmessage and exit\b|\bin the way:|\bReturn keeps\b", "say what to do"),
    (r"\bOut come\b|\bout come\b|\bUndo what\b|\bbrush, not a bottle\b", "plain order of words"),
    (r"\bgray\b|\bcenter(?:ed|s)?\b|\bmillimeters?\b|\bcolor(?:ed|s)?\b", "British spelling"),
    (r"\d(?:mm|in)\b", "a blank before the unit"),
    (r"\d%", "a blank before %"),
)
"""A use that was given up, as a pattern, and what is said instead."""
ON_PAPER: tuple[tuple[str, str], ...] = (
    (r"--[a-z]{2}", "no option on paper"),
    (r"\bm³\b", "litres or board feet"),
)


def rejected(words: str, rules: tuple[tuple[str, str], ...] = REJECTED) -> list[str]:
    """Return what some words say in a way that was given up; the names of their fields are nobody's to read."""
    words = re.sub(r"\{[^{}]*\}", "{}", words)
    return [f"'{words[:120]}': {instead}" for pattern, instead in rules if re.search(pattern, words, re.IGNORECASE)]


# -- every string of the program -----------------------------------------------------------------------------------


def sources() -> list[Path]:
    return [*sorted((ROOT / "jigs").rglob("*.py")), *sorted((ROOT / "layout").rglob("*.py")), ROOT / "cli.py"]


def strings(path: Path) -> Iterator[tuple[int, str]]:
    """Return the strings of a file that hold words, each with its line: no docstring, of which jigs' are read as help.

    What is put into an f-string stands as {}.
    """
    tree = ast.parse(path.read_text(encoding="utf-8"))
    passed: set[int] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Expr) and isinstance(node.value, ast.Constant):
            passed.add(id(node.value))
    for node in ast.walk(tree):
        if isinstance(node, ast.JoinedStr):
            passed |= {id(value) for value in node.values}
            yield node.lineno, "".join(str(v.value) if isinstance(v, ast.Constant) else "{}" for v in node.values)
        elif isinstance(node, ast.Constant) and isinstance(node.value, str) and id(node) not in passed:
            yield node.lineno, node.value


def is_prose(words: str) -> bool:
    """Whether a string is words for people: no name, path, pattern, style sheet or list of names for a program."""
    return " " in words and not re.search(r"[\\^]|</|\{\}=|://|^\s*[a-z_ .={}0-9]+$", words)


@pytest.mark.parametrize("path", sources(), ids=lambda path: str(path.relative_to(ROOT)))
def test_every_string_uses_the_terms_of_the_trade(path: Path) -> None:
    assert [(line, found) for line, words in strings(path) if is_prose(words) for found in rejected(words)] == []


@pytest.mark.parametrize(("words", "instead"), [("an end wood of 3.8 mm", "end margin"), ("5mm", "a blank before")])
def test_a_use_that_was_given_up_is_found(words: str, instead: str) -> None:
    [found] = rejected(words)
    assert instead in found


# -- help, pages, reports ------------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "words", [[], *([name] for name in cli.main.commands), *(["jig", name] for name in catalogue())], ids=" ".join
)
def test_help_uses_the_terms_of_the_trade(words: list[str]) -> None:
    said = CliRunner().invoke(cli.main, [*words, "--help"]).stdout
    examples = re.sub(r"Examples?:\n(?:    .*\n)+", "", said)
    rules = tuple(rule for rule in REJECTED if rule[1] != "play on the key")  # a reading is typed as --slack
    assert rejected(" ".join(examples.split()), rules) == []


@pytest.mark.slow
@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_the_pages_of_the_samples_use_the_terms_of_the_trade(sample: Path) -> None:
    box = chain.work_out(reading.load(sample))
    said = words_of(box_sheets.sheets(box), box.file.units)
    assert [found for line in said.splitlines() for found in rejected(line, (*REJECTED, *ON_PAPER))] == []


@pytest.mark.parametrize("page", ["README.md"])
def test_the_readme_uses_the_terms_of_the_trade(page: str) -> None:
    text = re.sub(r"`[^`]*`|^    .*$", "", (ROOT / page).read_text(encoding="utf-8"), flags=re.MULTILINE)
    assert rejected(" ".join(text.split())) == []


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_a_report_is_in_the_units_of_its_job(sample: Path) -> None:
    """Inch jobs are inches throughout: no mm, no m³, no grams; mm jobs have no inch, foot, ounce or pound."""
    file = reading.load(sample)
    said = make.check(file, everything=True).text
    other = {"mm": r"\d (?:in(?! \d)|ft|oz|lb|board feet|ft²|in²)\b", "in": r"\d (?:mm|cm|m²|m³|g|kg|litres?)\b"}
    assert re.findall(other[file.units], said) == []
    assert rejected(said) == []


# -- how much is said ----------------------------------------------------------------------------------------------

MOST_MESSAGES, MOST_SHARE, BOXES = 4, 0.5, 60


@pytest.mark.slow
def test_a_report_says_little_and_nothing_to_everybody() -> None:
    """Over 60 varied boxes that can be built: under 4 messages on average, none of them for more than half."""
    told: list[list[str]] = []
    for text in boxes(200):
        try:
            report = make.check(make.box(text, "box.toml"))
        except JigleafError:
            continue
        if not report.stopped and len(told) < BOXES:
            told.append(_messages(report.text, report.units))
    assert len(told) == BOXES
    assert sum(map(len, told)) / BOXES < MOST_MESSAGES
    everything = {message for messages in told for message in messages}
    often = {message: sum(message in messages for messages in told) / BOXES for message in everything}
    assert {message: share for message, share in often.items() if share > MOST_SHARE} == {}


def _messages(report: str, units: Units) -> list[str]:
    """Return what is said before cutting, each by its sign and its first words without numbers."""
    del units
    listed = report.partition("BEFORE YOU CUT\n")[2].partition("\n\n")[0]
    entries = re.split(r"^\d+ +", listed, flags=re.MULTILINE)[1:]
    return [re.sub(r"[\d./−]+(?: mm| in)?", "#", " ".join(entry.split()[:7])) for entry in entries]


def test_every_command_has_a_help_of_one_line() -> None:
    with click.Context(cli.main) as context:
        said = {name: command.get_short_help_str(60) for name, command in cli.main.commands.items()}
        assert context.command is cli.main
    assert [name for name, words in said.items() if words.endswith("...")] == []
    commands = CliRunner().invoke(cli.main, ["--help"]).stdout.partition("Commands:\n")[2]
    assert commands
    assert "..." not in commands
