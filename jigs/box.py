"""The chain of a box: from the box file to its numbers, each worked out from the one before."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from jigs import sled
from jigs.boxfile import BoxFile
from jigs.definition import Setting, find
from jigs.dry_fit import Meant
from jigs.errors import CannotBuild, Problem, worst_first
from jigs.sled_rules import Asked
from jigs.trade import fit, movement, predict
from jigs.trade.sled import SledNumbers

NOT_YET = ("groove", "bottom", "lid", "handle", "shell", "stock")
"""Sections that are read and held to their limits, and not worked out yet."""
WEEK_OF_DRYING = 3.0
"""Moisture, in %, that boards may lose between cutting and gluing when a week passes (common practice, no source)."""
_NUMBERS_OF_FINGERS = (
    *("count", "finger", "socket", "pitch", "clearance"),
    *("rip_width", "nearest_widths", "passes", "pass_gaps", "sliver"),
)
_NUMBERS_OF_SLED = ("gap", "key", "spacer", "slack", "cut_depth", "over_all")


@dataclass(frozen=True)
class Box:
    """A box worked out as far as its rules allow. Without `numbers` a rule stopped it: `problems` says which."""

    file: BoxFile
    numbers: SledNumbers | None
    meant: Meant | None
    problems: tuple[Problem, ...]

    @property
    def stopped(self) -> bool:
        """Whether a rule stops the box."""
        return any(problem.severity == "stop" for problem in self.problems)

    @property
    def inside(self) -> tuple[float, float]:
        """Inside length and width, mm: the mate's inner face seats on the socket floor, cut length less two cuts."""
        taken = 2 * self.file.sides.thickness
        return self.file.box.length - taken, self.file.box.width - taken


def work_out(file: BoxFile) -> Box:
    """Return the box of a file, with everything that stops it or must be known of it."""
    found = [*_stops(file), *file.notes, *_mates_move_apart(file), *_left_out(file)]
    try:
        asked = asked_of(file)
        numbers, more = sled.work_out(asked)
    except CannotBuild as error:
        stops = [_in_the_file(problem) for problem in error.problems]
        return Box(file, None, None, tuple(worst_first([*stops, *found])))
    named = [_in_the_file(problem) for problem in more]
    return Box(file, numbers, sled.meant(asked, numbers), tuple(worst_first([*found, *named])))


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
    "key": "joint.key_slack",
    "parts": "box.height",
    "method": "joint.method",
}


def _in_the_file(problem: Problem) -> Problem:
    """Return a problem of the sled with the key of the box file it comes from."""
    place = _PLACES.get(problem.where, f"joint.{problem.where.replace(' ', '_')}")
    return Problem(problem.severity, place, problem.rule, problem.suggestion, problem.numbers)


# -- rules of the box ----------------------------------------------------------------------------------------------


def _stops(file: BoxFile) -> Iterator[Problem]:
    for name, outside in (("length", file.box.length), ("width", file.box.width)):
        inside = outside - 2 * file.sides.thickness
        if inside <= 0:
            yield Problem(
                "stop",
                f"box.{name}",
                "{outside} outside less two sides of {thickness} leaves an inside of {inside}",
                "more than {least}",
                {
                    "outside": outside,
                    "thickness": file.sides.thickness,
                    "inside": inside,
                    "least": 2 * file.sides.thickness,
                },
            )


def _mates_move_apart(file: BoxFile) -> Iterator[Problem]:
    sides, ends = file.sides.species, file.sides.ends_species
    try:
        woods = [movement.species(name) for name in (sides, ends) if name is not None]
    except movement.UnknownSpeciesError as error:
        nearest = " or ".join(error.near)
        yield Problem(
            "stop", "sides.species", str(error), f"did you mean {nearest}?" if nearest else "a name of the table"
        )
        return
    if len(woods) < 2:
        return
    along, across = (movement.ring_coefficient(wood.radial, wood.tangential, file.sides.rings) for wood in woods)
    step = movement.step_at_top(file.box.height, along, across, WEEK_OF_DRYING)
    if step > file.joint.clearance / 2:
        yield Problem(
            "warning",
            "sides.ends_species",
            "sides of {sides} and ends of {ends} come out {step} apart at the top when the boards lose {moisture} % "
            "between cutting and gluing",
            "all four sides from one board, or glue within days of cutting",
            {"sides": sides, "ends": ends, "step": step, "moisture": f"{WEEK_OF_DRYING:g}"},
        )


def _left_out(file: BoxFile) -> Iterator[Problem]:
    names = [name for name in NOT_YET if getattr(file, name) is not None]
    if names:
        yield Problem("note", ", ".join(names), "held to their limits, but not worked out yet")


# -- the report ----------------------------------------------------------------------------------------------------


def as_data(box: Box) -> dict[str, Any]:
    """Return the box by the names of the JSON report: lengths in mm; a section that does not apply is None."""
    file, numbers = box.file, box.numbers
    names = ("groove", "bottom", "lid", "handle", "shell", "movement", "stock")
    data: dict[str, Any] = {
        "box": {
            "title": file.title,
            "length": file.box.length,
            "width": file.box.width,
            "height": numbers.width if numbers else file.box.height,
            "inside_length": box.inside[0],
            "inside_width": box.inside[1],
        }
    }
    if numbers is None:
        data |= {"fingers": None, "sled": None, "fit": None, "parts": []}
    else:
        everything = sled.as_data(numbers)
        data["fingers"] = {name: everything[name] for name in _NUMBERS_OF_FINGERS}
        data["sled"] = {name: everything[name] for name in _NUMBERS_OF_SLED}
        data["fit"] = _fit(numbers, box)
        data["parts"] = _sides(file, numbers)
    data |= dict.fromkeys(names)
    return data | {"problems": [problem.as_data(file.units) for problem in box.problems]}


def _fit(numbers: SledNumbers, box: Box) -> dict[str, Any]:
    assert box.meant is not None, "a box with numbers has a joint"
    joint = box.meant.joint
    apart = predict.predict(joint, "separately", box.meant.errors)
    return {
        "one_stack": {
            "clearance_min": numbers.fit.clearance,
            "flush_low": numbers.fit.flush_low,
            "flush_high": numbers.fit.flush_high,
        },
        "separately": {
            "clearance_worst": fit.separate_worst(numbers.clearance, numbers.slack, joint.long_sockets, joint.odd),
            "drift_sd": apart.drift_sd,
            "chance_fails": apart.chance_fails,
        },
    }


def _sides(file: BoxFile, numbers: SledNumbers) -> list[dict[str, Any]]:
    """Return the four sides as cut: fingers stand proud at both ends."""
    long, short = ([[span.start, span.end] for span in s] for s in (numbers.long_sockets, numbers.short_sockets))
    ends_species = file.sides.ends_species or file.sides.species
    rows = [
        ("front", file.box.length, file.sides.species, long),
        ("back", file.box.length, file.sides.species, long),
        ("left end", file.box.width, ends_species, short),
        ("right end", file.box.width, ends_species, short),
    ]
    return [
        {
            "name": name,
            "length": length + 2 * file.joint.proud,
            "width": numbers.width,
            "thickness": file.sides.thickness,
            "species": species,
            "sockets": sockets,
            "socket_depth": numbers.cut_depth,
            "groove": None,
        }
        for name, length, species, sockets in rows
    ]
