"""The finger joint of a box: what its file asks of the sled, and the joint that comes of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from jigs.base.catalogue import find
from jigs.base.errors import CannotBuild
from jigs.base.rules import Problem
from jigs.base.settings import Setting
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint import sled as sled_jig
from jigs.parts.joint.dry_fit import Meant
from jigs.parts.joint.rules import Asked
from jigs.trade.sled import SledNumbers


def joint(file: BoxFile, found: list[Problem]) -> tuple[SledNumbers | None, Meant | None]:
    """Return the joint, or nothing where a rule stops it; what is to be said of it goes to `found`."""
    try:
        asked = asked_of(file)
        numbers, more = sled_jig.work_out(asked)
    except CannotBuild as error:
        found += [_in_the_file(problem, file) for problem in error.problems]
        return None, None
    found += [_in_the_file(problem, file) for problem in more]
    return numbers, sled_jig.meant(asked, numbers)


def asked_of(file: BoxFile) -> Asked:
    """Return what the box asks of the sled. Raises CannotBuild for a setting out of the sled's limits."""
    settings: dict[str, Any] = find("sled").settings(sled_settings(file), file.units)
    return Asked(**settings)


def sled_settings(file: BoxFile) -> dict[str, Setting]:
    """Return the settings of the sled that cuts the box's joint."""
    joint = file.joint
    return {
        "finger": joint.finger,
        "cutter": joint.cutter,
        "board": file.box.height,
        "thickness": file.sides.thickness,
        "clearance": joint.clearance,
        "key_slack": joint.key_slack,
        "proud": joint.proud,
        "machine": joint.machine,
        "method": joint.method,
        "length": max(file.box.length, file.box.width),
    }


_PLACES = {
    "board": "box.height",
    "thickness": "sides.thickness",
    "parts": "box.height",
    "method": "joint.method",
    "blade": "joint.machine",
}


def _in_the_file(problem: Problem, file: BoxFile) -> Problem:
    """Return a problem of the sled with the key of the box file it comes from."""
    longest = "box.length" if file.box.length >= file.box.width else "box.width"
    places = _PLACES | {"length": longest}
    return problem.renamed(lambda setting: places.get(setting, f"joint.{setting.replace(' ', '_')}"))


LONGS, SHORTS = "front and back", "the ends"
MEMBERS: Mapping[str, tuple[str, str]] = {LONGS: ("front", "back"), SHORTS: ("left end", "right end")}
"""The two kinds of sides, by how they are cut, and the boards of each."""


def cut_length(file: BoxFile, outside: float) -> float:
    """Return a side's length as cut: its fingers stand proud at both ends."""
    return outside + 2 * file.joint.proud
