"""The wood of a part, and the air that moves it. Moistures in %, lengths in mm."""

from __future__ import annotations

from dataclasses import dataclass

from jigs.base.usual import UNNAMED_WOOD, WEEK_OF_DRYING
from jigs.boxfile.sections import Air, BoxFile
from jigs.trade import movement


# -- wood and air --------------------------------------------------------------------------------------------------
@dataclass(frozen=True, slots=True)
class Wood:
    """A wood and how its growth rings stand to the wide face; `named` is False where the file does not say."""

    species: movement.Species
    rings: float
    named: bool

    @property
    def coefficient(self) -> float:
        """Change of width per % of moisture."""
        return self.species.coefficient(self.rings)

    @property
    def quartered(self) -> float:
        """The same of a quarter-sawn board."""
        return self.species.coefficient(movement.QUARTER)


def wood(name: str | None, rings: float) -> Wood:
    """Return the wood of a name. Raises UnknownSpeciesError for one that the table does not have."""
    return Wood(movement.species(name or UNNAMED_WOOD), rings, name is not None)


@dataclass(frozen=True, slots=True)
class Moistures:
    """Moisture of the wood in the shop and in the driest and wettest air, and the wettest air's temperature in °C.

    `sides_difference` is the step that opens at the top of a corner when the boards lose `WEEK_OF_DRYING`.
    """

    shop: float
    dry: float
    wet: float
    wet_temperature: float
    sides_difference: float


def moistures_of(file: BoxFile, height: float, sides: Wood | None, ends: Wood | None) -> Moistures:
    """Return what the air of a file does to wood."""
    air, step = file.climate, 0.0
    if sides and ends and sides != ends:
        step = movement.step_at_top(height, sides.coefficient, ends.coefficient, WEEK_OF_DRYING)
    return Moistures(_moisture(air.shop), _moisture(air.dry), _moisture(air.wet), air.wet.temperature, step)


def _moisture(air: Air) -> float:
    return movement.equilibrium_moisture(air.temperature, air.humidity)
