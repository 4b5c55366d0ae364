"""The wood of a part, and the air that moves it. Moistures in %, lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.usual import UNNAMED_WOOD, WEEK_OF_DRYING
from jigs.base.wording import Words, say
from jigs.boxfile.sections import Air, BottomSection, BoxFile, LidSection
from jigs.record import Record
from jigs.trade import movement, timber

# -- wood and air --------------------------------------------------------------------------------------------------


class Wood(Record):
    """A wood and how its growth rings stand to the wide face; `named` is False where the file does not say."""

    species: timber.Species
    rings: float
    named: bool

    @property
    def name(self) -> str | None:
        """Its name in the trade; None where the file does not name it."""
        return self.species.name if self.named else None

    @property
    def listed(self) -> str | None:
        """Its name in the table of woods; None where the file does not name it."""
        return self.species.listed if self.named else None

    @property
    def said(self) -> str:
        """What it is, or what it is taken to be."""
        return self.name or f"not named; taken to move like {self.species.name}"

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
    return Wood(timber.species(name or UNNAMED_WOOD), rings, name is not None)


def wood_of(file: BoxFile, part: BottomSection | LidSection | None) -> str | None:
    """Return the wood of a part as the file calls it: left out, that of the sides."""
    return (part.species if part else None) or file.sides.species


class Moistures(Record):
    """Moisture of the wood in the shop and in the driest and wettest air, and the wettest air's temperature in °C.

    `sides_difference` is the step that opens at the top of a corner when the boards lose `WEEK_OF_DRYING`.
    """

    shop: float
    dry: float
    wet: float
    wet_temperature: float
    sides_difference: float

    def facts(self) -> dict[str, float]:
        """Return the numbers by the names of the JSON report."""
        moistures = {"moisture_shop": self.shop, "moisture_dry": self.dry, "moisture_wet": self.wet}
        return moistures | {"sides_difference": self.sides_difference}

    def rows(self) -> Iterator[tuple[str, Words]]:
        """Yield its rows of the report."""
        yield "moisture", f"{self.shop:.1f} % in the shop, {self.dry:.1f} % driest, {self.wet:.1f} % wettest"
        if self.sides_difference:
            yield "corners", say("{step} apart at the top after a week of drying", step=self.sides_difference)


def moistures_of(file: BoxFile, height: float, sides: Wood | None, ends: Wood | None) -> Moistures:
    """Return what the air of a file does to wood."""
    air, step = file.climate, 0.0
    if sides and ends and sides != ends:
        step = movement.step_at_top(height, sides.coefficient, ends.coefficient, WEEK_OF_DRYING)
    return Moistures(_moisture(air.shop), _moisture(air.dry), _moisture(air.wet), air.wet.temperature, step)


def _moisture(air: Air) -> float:
    return movement.equilibrium_moisture(air.temperature, air.humidity)
