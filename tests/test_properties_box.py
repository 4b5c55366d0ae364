"""Any box file: sound, or refused with numbers and with what would work. Every section and key, there or left out."""

from __future__ import annotations

import copy
import re
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

import tomlkit
from hypothesis import event, given, settings
from hypothesis import strategies as st

from jigs.base import kinds
from jigs.base.cards import Sheets
from jigs.base.errors import CannotBuild
from jigs.base.rules import Problem
from jigs.base.settings import Section, keys_of
from jigs.box import chain, thin_wood
from jigs.box import sheets as box_sheets
from jigs.boxfile import reading
from jigs.boxfile.sections import BoxFile
from tests.conftest import examples
from tests.soundness import UNITS, not_read_out, not_tried, not_written, unsound_sheets, unworkable

SAMPLES = Path(__file__).parent.parent / "samples"
NAMES = ("recipe-box", "recipe-box-inch")
Data = dict[str, Any]

OPTIONAL = [key.name for key in keys_of(BoxFile).values() if not key.required]
PARTS = {
    "handle": ("handle",),
    "lid": ("lid",),
    "front": ("shell", "pattern", "groove"),
    "back": ("pattern", "groove"),
    "left end": ("pattern", "groove"),
    "right end": ("pattern", "groove"),
    "bottom": ("bottom",),
    "sides": ("groove",),
    "front and back": ("groove", "joint", "box"),
    "end boards": ("groove", "joint", "box"),
}
"""Sections of the file that may be named where too little wood is left, by the part of the thin-wood map."""


OUTLINES = (
    "M0 0 C20 -30 80 -30 100 0 C80 30 20 30 0 0 Z M-20 0 L80 0 M20 0 L40 -14",
    "M0 0 L100 0 M0 2 L100 2",
    "M50 0 A50 50 0 0 1 100 50 A50 50 0 0 1 50 100",
    "M0 0 L10 900",
)
"""A leaf, two lines side by side, an arc, and a line that goes up steeply."""


def _kinds(model: type[Section] = BoxFile, path: tuple[str, ...] = ()) -> Iterator[tuple[tuple[str, ...], Any]]:
    """Yield every key that holds one value, with what its line in the model says of it."""
    for name, key in keys_of(model).items():
        if key.section is None:
            yield (*path, name), key.kind
        elif not key.many:
            yield from _kinds(key.section, (*path, name))


KINDS = dict(_kinds())


def sample(name: str) -> Data:
    return tomllib.loads((SAMPLES / f"{name}.toml").read_text())


def values(kind: Any, usual: float | None) -> st.SearchStrategy[Any]:
    """Return values of one key: near the usual one, anywhere in its limits, at them, hardly beyond, and left out."""
    if isinstance(kind, kinds.Count):
        return st.none() | st.integers(int(kind.least) - 1, min(int(kind.most) + 1, int(kind.least) + 20))
    if isinstance(kind, kinds.Number):
        unit = {" mm": " mm", " °C": " C", "°": "", " %": " %", "": ""}[kind.symbol]
        about = usual or kind.least + (kind.most - kind.least) / 20
        low, high = sorted((about / 3, about * 3))  # a size may lie below 0: the middle of a hole, a pattern
        near = st.floats(max(kind.least, low), max(kind.least, min(kind.most, high)))
        anywhere = st.floats(kind.least, kind.most) | st.sampled_from(
            [kind.least, kind.most, kind.least - 0.5, kind.most + 0.5]
        ).map(float)
        return st.none() | (near | near | anywhere).map(lambda value: f"{value:.4f}{unit}")
    if isinstance(kind, kinds.Words):
        return st.none() | st.sampled_from(["sugar maple", "black walnut", "teak", "yellow-poplar", "cheese"])
    if isinstance(kind, kinds.PathData):
        return st.sampled_from(OUTLINES)
    if isinstance(kind, kinds.Flag):
        return st.none() | st.booleans()
    return st.none() | st.sampled_from(kind.options)


@cache
def changes(name: str) -> st.SearchStrategy[tuple[dict[tuple[str, ...], Any], list[str]]]:
    """Return what to change in a sample: one to four keys near one another, or all of a section, and parts to drop."""
    given = box_file(sample(name))
    drawn = {path: values(kind, _in_mm(given, path)) for path, kind in KINDS.items() if path != ("units",)}
    paths = tuple(drawn)
    runs = [paths[i : i + size] for size in (1, 1, 2, 4) for i in range(len(paths))]
    some = st.sampled_from(runs).flatmap(lambda run: st.fixed_dictionaries({path: drawn[path] for path in run}))
    return st.tuples(some, st.lists(st.sampled_from(OPTIONAL), max_size=2))


def _in_mm(file: BoxFile, path: tuple[str, ...]) -> float | None:
    value: Any = file
    for key in path:
        value = getattr(value, key, None)
    return value if isinstance(value, float) else None


def changed(data: Data, values: dict[tuple[str, ...], Any], dropped: list[str] = []) -> Data:  # noqa: B006 - not changed
    """Return a file with other values; None leaves a key out where it may be left out."""
    made = copy.deepcopy(data)
    for (*sections, key), value in values.items():
        table = made
        for section in sections:
            table = table.setdefault(section, {})
        if value is not None:
            table[key] = value
        elif key in table and not _required((*sections, key)):
            del table[key]
    return {name: value for name, value in made.items() if name not in dropped}


def _required(path: tuple[str, ...]) -> bool:
    model = reading.model_at(path[:-1])
    return model is not None and keys_of(model)[path[-1]].required


def _filled(data: Data) -> Data:
    """Return a file with the keys that its sections can't do without."""
    made = copy.deepcopy(data)
    whole = sample(NAMES[data.get("units") == "in"]) | {"pattern": {"width": "60 mm", "outline": OUTLINES[0]}}
    if "pattern" in made:  # a box has a shell or a pattern
        made.pop("shell", None)
    for section, table in made.items():
        if isinstance(table, dict) and section in whole:
            for key in list(whole[section]):
                if _required((section, key)):
                    table.setdefault(key, whole[section][key])
    for season, air in made.get("climate", {}).items():
        for key in ("temperature", "humidity"):
            air.setdefault(key, whole["climate"][season][key])
    for minutes in made.get("hours", {}).values():
        if isinstance(minutes, dict):
            minutes.setdefault("set", 10)
            minutes.setdefault("work", 10)
    return made


def box_file(data: Data) -> BoxFile:
    return reading.read(tomlkit.dumps(data), "box.toml")


def judged(data: Data) -> chain.Box | tuple[Problem, ...]:
    """Return the box of a file, or what its values are refused for."""
    try:
        return chain.work_out(box_file(data))
    except CannotBuild as refused:
        return tuple(refused.problems)


def wrong_problems(data: Data, problems: tuple[Problem, ...]) -> list[str]:
    """Return what is wrong with what is said of a file: who does what is suggested is not told the same again."""
    found: list[str] = []
    for problem in problems:
        path = tuple(re.sub(r"\[\d+\]", "", problem.where).split("."))
        found += not_read_out(problem, problem.where)
        if reading.model_at(path) is None and not _is_key(path):
            found.append(f"there is no key '{problem.where}': {problem.says('mm')}")

    def judge(changes: Mapping[str, Any]) -> Sequence[Problem]:
        typed = {tuple(key.split(".")): _as_typed(key, value) for key, value in changes.items()}
        again = judged(changed(data, typed))
        return again.problems if isinstance(again, chain.Box) else again

    return [*found, *unworkable(problems, judge, UNITS[data.get("units") == "in"]), *not_tried(problems)]


def _as_typed(key: str, value: Any) -> Any:
    kind = KINDS.get(tuple(key.split(".")))
    if isinstance(kind, kinds.Temperature):
        return f"{value:g} C"
    return f"{value:.6f} mm" if isinstance(kind, kinds.Length) else value


def _is_key(path: tuple[str, ...]) -> bool:
    model = reading.model_at(path[:-1])
    return model is not None and path[-1] in keys_of(model)


def wrong_box(made: chain.Box, family: str) -> list[str]:
    """Return what is wrong with a box: its report, its least wood, its outlines."""
    found = list(not_written(chain.as_data(made)))
    told = {problem.where.split(".")[0] for problem in made.problems if problem.severity != "note"}
    for thin in thin_wood.thin_wood(made):
        if not thin.met and told.isdisjoint(PARTS[thin.part]):
            found.append(f"nothing is said of {thin.wood} mm of wood, {thin.place} of {thin.part}, under {thin.least}")
    if not made.stopped and (getattr(made, {"stops": "groove", "panel": "bottom"}.get(family, family)) is not None):
        whole = box_sheets.sheets(made, [family])
        cards = tuple(card for card in whole.cards if card.jig == family)
        own = Sheets(cards, tuple(template for template in whole.templates if template.jig == family))
        found += [*not_read_out(own, "sheets"), *unsound_sheets(own)]
    return found


def wrong_file(data: Data, family: str) -> list[str]:
    made = judged(data)
    if not isinstance(made, chain.Box):
        event("refused by a limit")
        return wrong_problems(data, made)
    event("stopped by a rule" if made.stopped else "built")
    return [*wrong_problems(data, made.problems), *wrong_box(made, family)]


@settings(max_examples=examples(25))
@given(
    name=st.sampled_from(NAMES),
    data=st.data(),
    family=st.sampled_from(["stops", "panel", "lid", "handle", "shell", "pattern"]),
)
def test_any_box_file_is_sound_or_refused(name: str, data: st.DataObject, family: str) -> None:
    values, dropped = data.draw(changes(name))
    assert wrong_file(_filled(changed(sample(name), values, dropped)), family) == []


def test_a_board_too_thin_for_the_others_is_told_what_would_do() -> None:
    """No box of the sample can be planed to 1.5: only the way to other boards is left."""
    [told] = [
        p for p in as_problems(judged(of_sample({("sides", "thinnest"): "1.5 mm"}))) if p.where == "sides.thickness"
    ]
    assert told.suggests("mm") == "take boards that read 11.8 mm or more"
    assert wrong_problems(of_sample({("sides", "thinnest"): "1.5 mm"}), (told,)) == []


def of_sample(values: dict[tuple[str, ...], Any]) -> Data:
    return _filled(changed(sample(NAMES[0]), values))


def as_problems(made: chain.Box | tuple[Problem, ...]) -> tuple[Problem, ...]:
    return made.problems if isinstance(made, chain.Box) else made


def test_values_are_drawn_of_every_key() -> None:
    """Also of those whose limits reach below 0, where three times as much is less."""
    for name in NAMES:
        given = box_file(sample(name))
        for path, kind in KINDS.items():
            values(kind, _in_mm(given, path)).validate()
