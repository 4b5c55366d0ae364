"""The finger joint of a box: what its file asks of the sled, and the joint that comes of it."""

from __future__ import annotations

from collections.abc import Mapping

from jigs.base.catalogue import find
from jigs.base.errors import CannotBuild
from jigs.base.kinds import Value
from jigs.base.rules import Problem
from jigs.base.settings import keys_of, made_of
from jigs.boxfile.sections import BoxFile, JointSection, Thicknesses
from jigs.parts.joint import sled as sled_jig
from jigs.parts.joint.dry_fit import Meant
from jigs.parts.joint.settings import SledSettings
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


def asked_of(file: BoxFile) -> SledSettings:
    """Return what the box asks of the sled. Raises CannotBuild for a setting out of the sled's limits."""
    return made_of(SledSettings, find("sled").settings(sled_settings(file), file.units))


def sled_settings(file: BoxFile) -> dict[str, Value]:
    """Return the settings of the sled that cuts the box's joint, but for those that are as they usually are."""
    settings: dict[str, Value] = {"board": file.box.height, "length": max(file.box.length, file.box.width)}
    for section, declared in ((file.joint, JointSection), (file.sides, Thicknesses)):
        for name, key in keys_of(declared).items():
            value = getattr(section, name)
            if name in _ALWAYS_SAID or value != key.default_in(file.units):
                settings[name] = value
    return settings


_ALWAYS_SAID = ("finger", "cutter", "thickness", "clearance", "key_slack", "proud", "machine", "method")
"""Settings that a sheet of the sled names though they are as they usually are."""


def _in_the_file(problem: Problem, file: BoxFile) -> Problem:
    """Return a problem of the sled with the key of the box file it comes from."""
    places = {
        "board": "box.height",
        "length": "box.length" if file.box.length >= file.box.width else "box.width",
        **{name.replace("_", " "): f"sides.{name}" for name in keys_of(Thicknesses)},
    }
    return problem.renamed(lambda setting: places.get(setting, f"joint.{setting.replace(' ', '_')}"))


LONGS, SHORTS = "front and back", "end boards"
MEMBERS: Mapping[str, tuple[str, str]] = {LONGS: ("front", "back"), SHORTS: ("left end", "right end")}
"""The two kinds of sides, by how they are cut, and the boards of each."""


SIGNED = {"cutter set": "Cutter set", "fingers set": "Gap set", "fingers tried": "Test joint"}
"""What is signed at the holds of the joint, by their names."""
OTHERS: Mapping[str, str] = {LONGS: SHORTS, SHORTS: LONGS}
"""The sides that each kind is joined to."""


def thicknesses(file: BoxFile) -> dict[str, float]:
    """Return how thick each kind of sides is."""
    return {LONGS: file.sides.thickness, SHORTS: file.sides.ends_thickness or file.sides.thickness}


def cut_depths(file: BoxFile) -> dict[str, float]:
    """Return how deep the sockets of each kind are: as its mates are thick, and what their fingers stand proud."""
    thick = thicknesses(file)
    return {kind: thick[other] + file.joint.proud for kind, other in OTHERS.items()}


def inside_of(file: BoxFile) -> tuple[float, float]:
    """Return inside length and width: a mate's inner face seats on the socket floor, cut length less two cuts."""
    thick = thicknesses(file)
    return file.box.length - 2 * thick[SHORTS], file.box.width - 2 * thick[LONGS]


def cut_length(file: BoxFile, outside: float) -> float:
    """Return a side's length as cut: its fingers stand proud at both ends."""
    return outside + 2 * file.joint.proud
