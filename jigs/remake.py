"""The same job with other numbers: a finger of another width needs a cutter that was measured for it."""

from __future__ import annotations

from collections.abc import Mapping

from jigs import box_changes, boxfile
from jigs.boxfile import BoxFile
from jigs.definition import Setting
from jigs.errors import CannotBuild, Problem
from jigs.trade.passes import one_pass_will_do

_SAME = 0.05
"""A cutter is listed for a finger when it is listed for one that differs by no more than this, mm."""


def box_with(text: str, values: Mapping[str, str], name: str) -> BoxFile:
    """Return a box file with other values for some keys, as `box_changes.set_values` takes them.

    Where another finger is asked for and no cutter, the cutter is the one that the file lists for that finger. Raises
    as `box_changes.set_values` and `boxfile.read` do, and CannotBuild where no cutter is known for the finger.
    """
    changed = box_changes.set_values(text, values) if values else text
    read = boxfile.read(changed, name)
    if "joint.finger" not in values or "joint.cutter" in values:
        return read
    finger, cutter = read.joint.finger, cutter_for(boxfile.read(text, name), read.joint.finger)
    if cutter is None:
        known = sorted(entry.finger for entry in read.cutters)
        raise CannotBuild([_no_cutter("joint.cutter", finger, read.joint.cutter, known)])
    if cutter == read.joint.cutter:
        return read
    return boxfile.read(box_changes.set_values(changed, {"joint.cutter": f"{cutter!r} mm"}), name)


def cutter_for(file: BoxFile, finger: float) -> float | None:
    """Return the cutter for a finger, mm: the nearest one listed for it, or the file's own.

    The file's own does where it makes the finger in one pass, or one as wide in several. None where neither is known:
    nobody's finger should end in a guess.
    """
    listed = [entry for entry in file.cutters if abs(entry.finger - finger) <= _SAME]
    if listed:
        return min(listed, key=lambda entry: abs(entry.finger - finger)).cutter
    own = abs(finger - file.joint.finger) <= _SAME or one_pass_will_do(finger, file.joint.cutter)
    return file.joint.cutter if own else None


def cutter_taken(before: BoxFile, after: BoxFile, values: Mapping[str, str]) -> list[Problem]:
    """Return a note of the cutter that `box_with` took from the list in the file, where it took one."""
    if "joint.cutter" in values or after.joint.cutter == before.joint.cutter:
        return []
    said = "the cutter of {cutter} is taken, which the file lists for a finger of {finger}"
    numbers = {"cutter": after.joint.cutter, "finger": after.joint.finger}
    return [Problem("note", "joint.cutter", said, "for another one add --set joint.cutter=…", numbers)]


def jig_with(chosen: Mapping[str, Setting], values: Mapping[str, Setting]) -> dict[str, Setting]:
    """Return the settings of a jig with other values for some.

    Raises CannotBuild where no cutter is known for another finger.
    """
    settings = dict(chosen) | dict(values)
    finger, cutter = settings.get("finger"), settings.get("cutter")
    if "finger" not in values or "cutter" in values or not isinstance(finger, float) or not isinstance(cutter, float):
        return settings
    if finger > 0 and not one_pass_will_do(finger, cutter):  # a finger out of its limits is refused for that
        raise CannotBuild([_no_cutter("cutter", finger, cutter)])
    return settings


def _no_cutter(where: str, finger: float, cutter: float, known: list[float] | None = None) -> Problem:
    numbers: dict[str, object] = {"finger": finger, "cutter": cutter}
    suggestion = f"measure the cutter for it in wood, and add --set {where}=…"
    if known is not None:
        suggestion += ", or list it in the file under [[cutters]]"
    if known:
        fields = [f"{{known_{i}}}" for i in range(len(known))]
        numbers |= {f"known_{i}": width for i, width in enumerate(known)}
        suggestion += f"; those listed are for {', '.join(fields)}"
    return Problem(
        "stop",
        where,
        "the cutter makes a socket of {cutter}, and the finger is to be {finger}; no other cutter is known",
        suggestion,
        numbers,
    )
