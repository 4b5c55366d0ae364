"""Every sheet of a box, in the order of work; and which of them a person asked for."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

from jigs.base.catalogue import find
from jigs.base.drawing import Drawing
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.rules import Problem, note
from jigs.base.wording import near
from jigs.box import order, rack
from jigs.box.chain import PARTS, Box
from jigs.parts.joint.part import sled_settings
from jigs.parts.part import Part
from jigs.parts.wood import seasons as seasons_jig
from jigs.parts.wood.part import wood


@dataclass(frozen=True, slots=True)
class _Station:
    """One place in the order of work: the family its sheets are named after, and what draws them from the box.

    `needs` is the part of the box that it is drawn from. Where the file asks for that part and a rule has taken it,
    the station can't be drawn.
    """

    jig: str
    draw: Callable[[Box], tuple[Drawing, ...]]
    needs: str = ""

    def asked(self, box: Box) -> bool:
        """Whether the box file asks for these sheets."""
        return not self.needs or self.needs == "numbers" or getattr(box.file, self.needs) is not None

    def possible(self, box: Box) -> bool:
        """Whether the rules leave what these sheets are drawn from."""
        return not self.needs or getattr(box, self.needs) is not None


def _of_part(kind: type[Part[Any]]) -> _Station:
    def draw(box: Box) -> tuple[Drawing, ...]:
        return tuple(drawing for part in box.parts if part.name == kind.name for drawing in part.drawings(box.parts))

    return _Station(kind.jig, draw, kind.name)


def _cover(box: Box) -> tuple[Drawing, ...]:
    from jigs.box import cover  # noqa: PLC0415 - its picture is drawn with shapely, slow to import

    return cover.drawings(box)


def _sled(box: Box) -> tuple[Drawing, ...]:
    """Return the sheets of the sled that cuts the joint."""
    plan = find("sled").plan(sled_settings(box.file), box.file.units)
    return tuple(replace(drawing, jig="sled") for drawing in plan.drawings)


def _seasons(box: Box) -> tuple[Drawing, ...]:
    """Return the year of the parts that move."""
    sides, climate = box.file.sides, box.file.climate
    curves = [curve for part in reversed(box.parts) for curve in part.year()]  # from the top down
    if box.air and box.numbers and sides.species:
        woods = (wood(species, sides.rings) for species in (sides.species, sides.ends_species or sides.species))
        corner = seasons_jig.Corner(box.numbers.width, *woods)
        curves += seasons_jig.corner_curves(corner, seasons_jig.moisture(climate.shop))
    return seasons_jig.drawings(climate, curves)


_STATIONS = (
    _Station("box", _cover),
    _Station("box", order.drawings),
    _Station("stock", rack.drawings, "stock"),
    _Station("sled", _sled, "numbers"),
    *(_of_part(kind) for kind in sorted(PARTS, key=lambda kind: kind.after_glue)),
    _Station("seasons", _seasons),
)
"""The order of work: what is carved and fitted while boards are flat comes before the box is glued."""

FAMILIES = tuple(dict.fromkeys(station.jig for station in _STATIONS))
"""The families of sheets that a box can have."""


def full_name(drawing: Drawing) -> str:
    """Return the name of a sheet among all those of a box."""
    return f"{drawing.jig}-{drawing.name}" if drawing.jig else drawing.name


def drawings(box: Box, only: Sequence[str] = ()) -> tuple[Drawing, ...]:
    """Return the sheets of a box, or only those named: by family, as `handle`, or one by one, as `handle-blank`.

    Raises CannotBuild where a rule stops the box or what was asked for, and CannotRead, with near names, for a sheet
    that there is not.
    """
    asked = [station for station in _STATIONS if station.asked(box)]
    possible = [station for station in asked if station.possible(box)]
    if box.stopped and not only:
        raise CannotBuild([*box.problems, *_the_rest(possible)])
    made = tuple(drawing for station in possible for drawing in station.draw(box))
    if not only:
        return made
    refused = {station.jig for station in asked} - {station.jig for station in possible}
    if stopped := [name for name in only if name.split("-")[0] in refused]:
        stops = [problem for problem in box.problems if problem.severity == "stop"]
        raise CannotBuild([*stops, *_needs_them(stopped)])
    for name in only:
        if not any(named(drawing, name) for drawing in made):
            raise CannotRead(f"--only: there is no sheet called '{name}'; {near(name, _names(made))}")
    return tuple(drawing for drawing in made if any(named(drawing, name) for name in only))


def named(drawing: Drawing, name: str) -> bool:
    """Whether a sheet is meant by a name: its family's, its own, or both."""
    return name in (drawing.jig, drawing.name, full_name(drawing))


def _names(made: Sequence[Drawing]) -> list[str]:
    return [*dict.fromkeys(drawing.jig for drawing in made if drawing.jig), *(full_name(drawing) for drawing in made)]


def _the_rest(possible: Sequence[_Station]) -> list[Problem]:
    """Say what can be drawn although a rule stops the box."""
    families = dict.fromkeys(station.jig for station in possible if station.needs)
    if not families:
        return []
    rest = " ".join(f"--only {family}" for family in families)
    return [note("sheets", "nothing was drawn; what the stops leave can be", rest)]


def _needs_them(stopped: Sequence[str]) -> list[Problem]:
    said = "{sheets} can't be drawn before the stops are mended"
    return [note("sheets", said, sheets=", ".join(stopped))]
