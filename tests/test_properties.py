"""Any settings of any jig, and any box file: sound, or refused with numbers and with what would work."""

from __future__ import annotations

import shlex
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Any

import pytest
from hypothesis import event, given, settings
from hypothesis import strategies as st

from jigs.base.catalogue import Jig, Plan, catalogue, find
from jigs.base.errors import CannotBuild
from jigs.base.kinds import Choice, Count, Flag, KnownWood, Number, Words
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import Setting
from jigs.trade import timber
from tests.conftest import examples
from tests.soundness import UNITS, not_tried, unsound, unworkable

NAMES = sorted(catalogue())


def example_of(name: str) -> dict[str, Any]:
    """Return the settings of a jig's example, in mm as it is typed."""
    words = shlex.split(find(name).example)
    kinds = {p.name: p.kind for p in find(name).parameters}
    chosen: dict[str, Any] = {}
    for option, value in zip(words[::2], words[1::2], strict=True):
        key = option.removeprefix("--").replace("-", "_")
        chosen[key] = kinds[key].parsed(value, "mm")
    return chosen


def usual_settings(name: str, units: Units) -> dict[str, Any]:
    """Return every setting of a jig: its example, and the usual ones."""
    example = example_of(name)
    return {p.name: example.get(p.name, p.default_in(units)) for p in find(name).parameters}


def values(parameter: Setting, usual: Any) -> st.SearchStrategy[Any]:
    """Return values of one setting: near the usual one, anywhere in its limits, at them, and hardly beyond."""
    kind = parameter.kind
    found: st.SearchStrategy[Any]
    match kind:
        case Count():
            usually = usual if isinstance(usual, int) else int(kind.least) + 2
            few = st.integers(int(kind.least), min(int(kind.most), max(int(kind.least), 3 * usually)))
            found = few | few | st.integers(int(kind.least) - 1, int(kind.most) + 1)
        case Number():
            near = usual if isinstance(usual, int | float) and usual else kind.least + (kind.most - kind.least) * 0.1
            low, high = sorted((near / 3, near * 3))
            wide = st.floats(max(kind.least, low), min(kind.most, high)).map(lambda value: round(value, 2))
            anywhere = st.floats(kind.least, kind.most).map(lambda value: round(value, 4))
            edges = st.sampled_from([kind.least, kind.most, kind.least - 0.5, kind.most + 0.5]).map(float)
            found = wide | wide | anywhere | edges
        case Choice():
            found = st.sampled_from(kind.options)
        case Flag():
            found = st.booleans()
        case KnownWood():
            found = st.sampled_from([wood.name for wood in timber.all_species()])
        case Words():
            found = st.sampled_from(["white oak", "black cherry", "birch plywood"])
    return found if parameter.required else found | st.none() if parameter.default is None else found


@cache
def settings_of(name: str, units: Units) -> st.SearchStrategy[dict[str, Any]]:
    """Return settings of a jig: mostly its example with one to three of them changed, now and then all of them."""
    parameters, usual = find(name).parameters, usual_settings(name, units)
    drawn = {p.name: values(p, usual[p.name]) for p in parameters}
    few = [st.fixed_dictionaries({n: drawn[n] for n in one}) for one in _few(tuple(drawn))]
    return st.one_of(st.fixed_dictionaries(drawn), *few).map(lambda changed: usual | changed)


def _few(names: tuple[str, ...]) -> list[tuple[str, ...]]:
    """Return every setting by itself, each with every neighbour, and with both."""
    around = names + names[:2]
    return [around[i : i + size] for size in (1, 2, 3) for i in range(len(names))]


def built(jig: Jig, chosen: dict[str, Any], units: Units) -> Plan | Sequence[Problem]:
    """Return the plan of some settings, or what they are refused for."""
    try:
        return jig.plan(chosen, units)
    except CannotBuild as refused:
        return refused.problems


def wrong_ways_out(jig: Jig, chosen: dict[str, Any], units: Units, problems: Sequence[Problem]) -> list[str]:
    """Return what is wrong with what is suggested: who does it must not be told the same again."""
    known = {p.spoken for p in jig.parameters}

    def judge(changes: Mapping[str, Any]) -> Sequence[Problem]:
        made = built(jig, chosen | {name.replace(" ", "_"): value for name, value in changes.items()}, units)
        return made.problems if isinstance(made, Plan) else made

    return [
        *(f"there is no such setting: {p.where}" for p in problems if p.severity == "stop" and p.where not in known),
        *unworkable(problems, judge, units),
        *not_tried(problems),
    ]


@pytest.mark.parametrize("name", NAMES)
@settings(max_examples=examples(25))
@given(data=st.data(), units=st.sampled_from(UNITS))
def test_any_settings_are_sound_or_refused(name: str, data: st.DataObject, units: Units) -> None:
    chosen = data.draw(settings_of(name, units))
    made = built(find(name), chosen, units)
    event("built" if isinstance(made, Plan) else "refused")
    problems = made.problems if isinstance(made, Plan) else made
    if not isinstance(made, Plan):
        assert any(problem.severity == "stop" for problem in problems), "refused without a stop"
    assert [
        *(unsound(made) if isinstance(made, Plan) else ()),
        *wrong_ways_out(find(name), chosen, units, problems),
    ] == []
