"""The rules of wood and climate: air that is known, wood with a name, mates that move alike."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import Protocol

from jigs.base.rules import Problem, Rules, stop, warn
from jigs.base.usual import WEEK_OF_DRYING
from jigs.base.wording import Offer
from jigs.boxfile.sections import BoxFile, Climate
from jigs.parts.wood.part import Moistures, Wood

SEASON_FIRST = "leave the wood in air as humid as the home’s until its weight no longer changes, then cut it"
"""What to do with wood that would be cut far from the moisture that it will have."""


class OfWood(Protocol):
    """A part that is made of wood."""

    @property
    def wood(self) -> Wood | None:
        """What it is made of; None where no air moves it."""


def wood_with_a_name(where: str) -> Callable[[OfWood], Iterator[Problem]]:
    """Return the rule of a part that its wood has a name; without one its movement stands on a wood that is taken."""

    def wood_without_a_name(made: OfWood) -> Iterator[Problem]:
        if made.wood and not made.wood.named:
            yield warn(
                where,
                "the wood has no name, so its movement is that of {wood}; yours may move more",
                "name the wood",
                wood=made.wood.species.name,
            )

    return wood_without_a_name


COLDEST = -20.0
"""Below this temperature, in °C, the moisture equation has not been checked."""
TABLE = (6.0, 14.0)
"""The moistures, in %, of the published coefficients (USDA Wood Handbook FPL-GTR-190, Table 13-5)."""


def climate_stops(climate: Climate) -> Iterator[Problem]:
    """Find air for which the moisture of wood is not known."""
    for season in ("shop", "dry", "wet"):
        temperature = getattr(climate, season).temperature
        if temperature < COLDEST:
            yield stop(
                f"climate.{season}.temperature",
                "at {temperature} °C the moisture of wood is not known",
                "enter {least} °C or more",
                temperature=f"{temperature:g}",
                least=Offer(COLDEST, plain=True),
            )


def _seasons_in_order(air: Moistures) -> Iterator[Problem]:
    if air.dry > air.wet:
        yield stop(
            "climate",
            "the two seasons are the wrong way round: wood has {dry} % moisture in the driest and {wet} % in the "
            "wettest",
            "exchange the driest and the wettest season",
            **_percents(dry=air.dry, wet=air.wet),
        )


def _shop_within_the_year(air: Moistures) -> Iterator[Problem]:
    if not air.dry <= air.shop <= air.wet:
        yield warn(
            "climate.shop",
            "the wood will move before it is used: its moisture is {shop} % in the shop, {dry} % to {wet} % at home",
            SEASON_FIRST,
            **_percents(shop=air.shop, dry=air.dry, wet=air.wet),
        )


def _outside_the_table(air: Moistures) -> Iterator[Problem]:
    outside = [moisture for moisture in (air.shop, air.dry, air.wet) if not TABLE[0] <= moisture <= TABLE[1]]
    if outside:
        yield warn(
            "climate",
            "movement is known less well: a moisture of {moisture} % lies outside the {least} % to {most} % of its "
            "table",
            "check that the humidities are those of a season, not of a day",
            **_percents(moisture=outside[0]),
            least=f"{TABLE[0]:g}",
            most=f"{TABLE[1]:g}",
        )


def _percents(**numbers: float) -> dict[str, object]:
    return {name: f"{number:.1f}" for name, number in numbers.items()}


CLIMATE: Rules[Moistures] = Rules((_seasons_in_order,), (_shop_within_the_year, _outside_the_table))


def mates_move_apart(file: BoxFile, ends: Wood, air: Moistures) -> Iterator[Problem]:
    """Find sides and ends that move by different amounts."""
    if air.sides_difference > file.joint.clearance / 2:
        yield warn(
            "sides.ends_species",
            "top edges of {sides} and {ends} end {step:gauge} out of flush where the boards lose {moisture} % "
            "moisture before gluing",
            ("cut all four sides from one board", "glue within days of cutting"),
            sides=file.sides.species or "a wood without a name",
            ends=ends.species.name,
            step=air.sides_difference,
            moisture=f"{WEEK_OF_DRYING:g}",
        )
