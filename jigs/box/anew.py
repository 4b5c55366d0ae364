"""From a change to the saw: which parts of a box must be cut anew, and what of each is new. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from jigs.base.lengths import Units
from jigs.base.wording import on_paper
from jigs.base.wrapping import wrapped
from jigs.box import chain
from jigs.box.chain import PARTS, Box

_SAME = 1e-6
"""Sizes that differ by less are the same, mm."""
_SIZES = ("length", "width", "thickness")
_SEASONS = (*_SIZES, "width_dry", "width_wet", "engagement_dry", "lower_face", "upper_face", "rim_in_wood")
"""What follows from sizes and seasons, and is cut by nobody."""
_NAME = 11
"""Columns before what is new of a part: its name stands there."""


def cut_anew(before: Box, after: Box) -> tuple[dict[str, list[str]], list[str]]:
    """Return what is new of each part that must be cut anew, and the parts that are as they were.

    A part that was not there is new. What is worked after glue-up counts with its own numbers: plug, crown and holes.
    """
    was, now = (_parts(box) for box in (before, after))
    new = {
        name: ["new"] if name not in was else list(_differences(was[name], part, after.file.units))
        for name, part in now.items()
    }
    return {name: found for name, found in new.items() if found}, [name for name, found in new.items() if not found]


def told(before: Box, after: Box) -> str:
    """Return that in words: each part with its sizes and what they were, and what need not be cut."""
    new, same = cut_anew(before, after)
    rows = ["Cut anew"] if new else []
    for name, found in new.items():
        rows += wrapped("; ".join(found), f"  {name:{_NAME}}", " " * (_NAME + 2))
    if same:
        rows += wrapped(f"{', '.join(same)}", f"  {'as cut':{_NAME}}", " " * (_NAME + 2))
    return "\n".join(rows)


def _parts(box: Box) -> dict[str, dict[str, Any]]:
    """Return the parts of a box by name, each with all that is cut of it."""
    data = chain.as_data(box)
    parts: dict[str, dict[str, Any]] = {part["name"]: dict(part) for part in data["parts"]}
    for kind in PARTS:
        owner = {"shell": "front", "pattern": "front", "groove": None}.get(kind.name, kind.name)
        if owner in parts and data[kind.name]:
            parts[owner] |= {kind.name: {key: value for key, value in data[kind.name].items() if key not in _SEASONS}}
    return parts


def _differences(was: Mapping[str, Any], now: Mapping[str, Any], units: Units) -> Iterator[str]:
    """Yield what is new of a part, in words."""
    for size in _SIZES:
        if abs(was[size] - now[size]) > _SAME:
            yield f"{size} {on_paper(now[size], units, 'cut')}, was {on_paper(was[size], units, 'cut')}"
    for key, said in _CUT.items():
        if not _same(was.get(key), now.get(key)):
            yield said


_CUT = {
    "sockets": "sockets",
    "socket_depth": "depth of the sockets",
    "groove": "groove",
    "bottom": "tongue and rabbets",
    "lid": "plug and crown",
    "handle": "holes and crest",
    "shell": "shell",
    "pattern": "pattern",
}
"""What is cut of a part besides its sizes, by its key in the JSON report."""


def _same(one: Any, other: Any) -> bool:
    """Whether two values of the JSON report are the same but for the rounding of floats."""
    if isinstance(one, int | float) and isinstance(other, int | float):
        return abs(one - other) <= _SAME
    if isinstance(one, Mapping) and isinstance(other, Mapping):
        return one.keys() == other.keys() and all(_same(one[key], other[key]) for key in one)
    if isinstance(one, list | tuple) and isinstance(other, list | tuple):
        return len(one) == len(other) and all(map(_same, one, other))
    return bool(one == other)
