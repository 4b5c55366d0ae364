"""What the seasons do to wood: to a board, and to the loose parts of a box.

The year is a model and no record of one: temperature and humidity run between the driest and the wettest air as a
cosine with its top in August and its bottom in February, and wood has the moisture that such air gives it. They are
means of a season and not a day's weather. The shop's air stays as it is.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import Annotated

from jigs.base import drawing as draw
from jigs.base.cards import Band, Card, Pictures, Sheets, Text
from jigs.base.catalogue import Plan, jig
from jigs.base.errors import CannotBuild, refuse
from jigs.base.kinds import KnownWood, Length
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import section
from jigs.base.wording import Words, say
from jigs.boxfile.sections import Air, Climate, RingsAngle
from jigs.parts.wood.part import Moistures, Wood, wood
from jigs.parts.wood.rules import CLIMATE, climate_stops
from jigs.record import Record, replace
from jigs.trade import movement

MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")
DRIEST, WETTEST = 1, 7
"""The places in `MONTHS` of the two ends of the year."""
NO_BREAK = "\u00a0"
_STEP, _HIGH = 11.0, 56.0
"""A month across, and the height of the graph, mm."""
_WORDS_OF: Mapping[draw.Kind, str] = {
    draw.Kind.EDGE: "solid line",
    draw.Kind.HIDDEN: "dashed line",
    draw.Kind.CENTRE: "dash and dot",
}


class Curve(Record):
    """Something that changes with the seasons: its length in mm by the moisture of the wood in %.

    `word` names it on the graph, `heading` in the table.
    """

    name: str
    word: str
    heading: str
    kind: draw.Kind
    at: Callable[[float], float]


class Corner(Record):
    """A corner of sides and ends of two woods, `height` high, mm."""

    height: float
    sides: Wood
    ends: Wood


@section
class SeasonsSettings(Climate):
    """A board and the air it will meet."""

    species: Annotated[str, KnownWood("wood")]
    width: Annotated[float, Length("width of the board, across the grain", 5, 1500)]
    rings: RingsAngle = 0.0


@jig(
    "seasons",
    title="A board over the year",
    summary="how far any board moves through the year",
    from_box="species=file.sides.species width=height rings=file.sides.rings",
)
def seasons(asked: SeasonsSettings, units: Units) -> Plan:
    """How far a board moves in a year of seasons: flat-sawn, quarter-sawn and as it is.

    Example: --species "black cherry" --width 136

    Sources: Moisture of wood from temperature and humidity, and movement: USDA Wood Handbook, FPL-GTR-282, chapters
    4 and 13. The year is a model, a cosine between the driest and the wettest air.
    """
    species, width, climate = asked.species, asked.width, asked
    problems = judged(climate)
    made = wood(species, asked.rings)
    curves = board_curves(width, made, moisture(climate.shop))
    title = say(f"{species[0].upper()}{species[1:]} {{width:cut}} wide", width=width)
    numbers = {
        "moisture": [moisture(air) for air in year(climate)],
        **{curve.name: [curve.at(moisture(air)) for air in year(climate)] for curve in curves},
    }
    return Plan(title, numbers, Sheets((_card(climate, curves, units),)), problems)


def moistures(climate: Climate) -> Moistures:
    """Return what a climate does to wood; the step at the top of a corner is left to the box."""
    shop, dry, wet = (moisture(air) for air in (climate.shop, climate.dry, climate.wet))
    return Moistures(shop, dry, wet, climate.wet.temperature, sides_difference=0.0)


def judged(climate: Climate) -> tuple[Problem, ...]:
    """Return what must be known of a climate. Raises CannotBuild where a rule stops it."""
    unknown_air(climate)
    found: list[Problem] = []
    stopped = CLIMATE.judge(moistures(climate), found) is None
    problems = tuple(asked_directly(problem) for problem in found)
    if stopped:
        raise CannotBuild(problems)
    return problems


def unknown_air(climate: Climate) -> None:
    """Raise CannotBuild for air in which the moisture of wood is not known, in the words of a jig's settings."""
    refuse([asked_directly(problem) for problem in climate_stops(climate)])


def asked_directly(problem: Problem) -> Problem:
    """Return a problem of a box file in the words of a jig's own settings."""
    asked = problem.without("lid").renamed(lambda key: key.removeprefix("climate.").replace(".", " "))
    where = "dry humidity" if (asked.severity, asked.where) == ("stop", "climate") else asked.where
    return replace(asked, where=where)


def moisture(air: Air) -> float:
    """Return the moisture, in %, that wood comes to in this air."""
    return movement.equilibrium_moisture(air.temperature, air.humidity)


def year(climate: Climate) -> tuple[Air, ...]:
    """Return the air of each month, January first, by the model of this module."""
    temperatures = movement.year(climate.dry.temperature, climate.wet.temperature, WETTEST + 1)
    humidities = movement.year(climate.dry.humidity, climate.wet.humidity, WETTEST + 1)
    pairs = zip(temperatures, humidities, strict=True)
    # Rounded, or a cosine at its end is a hair colder than the coldest air.
    return tuple(Air(temperature=round(degrees, 9), humidity=round(percent, 9)) for degrees, percent in pairs)


# -- what changes --------------------------------------------------------------------------------------------------


def wide_by(width: float, made: Wood, now: float) -> Callable[[float], float]:
    """Return the width of a piece by its moisture, from its width at the moisture it has now."""
    return lambda then: width * movement.ratio(made.coefficient, now, then)


def board_curves(width: float, made: Wood, now: float) -> tuple[Curve, ...]:
    """Return how much wider a board is than now: as it is, flat-sawn, quarter-sawn."""

    def curve(name: str, word: str, kind: draw.Kind, rings: float) -> Curve:
        wide = wide_by(width, replace(made, rings=rings), now)
        return Curve(name, word, f"{word[0].upper()}{word[1:]}, wider by", kind, lambda then: wide(then) - width)

    flat = curve("flat", "flat-sawn", draw.Kind.EDGE, movement.FLAT)
    quarter = curve("quarter", "quarter-sawn", draw.Kind.CENTRE, movement.QUARTER)
    if made.rings in (movement.FLAT, movement.QUARTER):
        return flat, quarter
    return flat, curve("board", f"rings at {made.rings:g}°", draw.Kind.HIDDEN, made.rings), quarter


def corner_curves(made: Corner, now: float) -> tuple[Curve, ...]:
    """Return the step at the top of a corner, flush when it was jointed; + where the sides stand over the ends.

    Sides and ends that move alike have none.
    """
    if made.sides.coefficient == made.ends.coefficient:
        return ()
    sides, ends = (wide_by(made.height, wood, now) for wood in (made.sides, made.ends))
    step = Curve(
        "step", "sides over ends", "Sides over ends at the top", draw.Kind.NARROW, lambda then: sides(then) - ends(then)
    )
    return (step,)


# -- the page ------------------------------------------------------------------------------------------------------


def summary(curves: Sequence[Curve], climate: Climate, units: Units) -> tuple[Band, ...]:
    """Return the table of parts through the year: now, in the driest and in the wettest season; what to do.

    Nothing where nothing moves.
    """
    if not curves:
        return ()
    air = (climate.shop, climate.dry, climate.wet)
    held = [moisture(each) for each in air]
    rows: list[tuple[draw.Cell, ...]] = [
        ("Air", *(f"{_degrees(one, units)}, {one.humidity:.0f}{NO_BREAK}%" for one in air), ""),
        ("Moisture of the wood", *(f"{now:.1f}{NO_BREAK}%" for now in held), "measure it before you cut"),
    ]
    for curve in curves:
        sizes = (say("{size:gauge}", size=curve.at(now)) for now in held)
        rows.append((curve.heading, *sizes, _TO_DO.get(curve.name, "")))
    headings = ("Part", "Now", "Driest season", "Wettest season", "What to do")
    return (draw.Table("seasons", "Through the year", headings, tuple(rows)),)


def _degrees(air: Air, units: Units) -> str:
    """Return a temperature as those who work in these units say it."""
    celsius = air.temperature
    said = f"{celsius:.0f}{NO_BREAK}°C" if units == "mm" else f"{celsius * 1.8 + 32:.0f}{NO_BREAK}°F"
    return said.replace("-", "−")


_TO_DO: Mapping[str, str] = {
    "gap": "at 0 it jams; half on each side",
    "held": "below 0 it drops out",
    "overhang": "below 0 the box stands out",
    "step": "below 0 the ends stand above",
    "flat": "leave this room in grooves",
    "quarter": "quarter-sawn needs less",
    "board": "this board, as it is sawn",
}


def _card(climate: Climate, curves: tuple[Curve, ...], units: Units) -> Card:
    held = [moisture(air) for air in (climate.dry, climate.wet)]
    words: tuple[Words, ...] = (
        f"Assumed: a year that swings evenly between your driest and your wettest season, {held[0]:.1f} and "
        f"{held[1]:.1f}{NO_BREAK}% of moisture in the wood.",
        "These are means of a season, not a day’s weather. Finish slows wood; thick parts lag.",
        "Every size belongs to the air that is named above it. Measure wood and box on the day you cut.",
        "Is your wood wetter or drier than now? Find its moisture between the columns, and the sizes with it.",
    )
    bands = (
        Pictures((graph(climate, curves),), least=52.0, most=125.0),
        *summary(curves, climate, units),
        Text("How to read it", words),
    )
    return Card("seasons", "Through the year", "Read it before you size a part", (), bands, jig="seasons", reading=True)


def graph(climate: Climate, curves: tuple[Curve, ...]) -> draw.View:
    """Every curve over the year, its two ends in numbers."""
    found = {curve.name: [curve.at(moisture(air)) for air in year(climate)] for curve in curves}
    every = [0.0, *(value for values in found.values() for value in values)]
    scale = _HIGH / ((max(every) - min(every)) or 1.0)
    right, floor = _STEP * (len(MONTHS) - 1), min(every) * scale
    ends = {"driest season": DRIEST, "wettest season": WETTEST}
    ticks = [draw.line((_STEP * at, floor - 2.0), (_STEP * at, floor)) for at in ends.values()]
    axes = [draw.line((0, floor), (right, floor)), *ticks]
    if max(every) > min(every):
        axes.append(draw.line((0, floor), (0, max(every) * scale)))
    zero = [draw.line((0, 0), (right, 0))] if floor < 0 else []
    parts = [draw.Part("axes", "Axes", tuple(draw.Line(shape, draw.Kind.NARROW) for shape in (*axes, *zero)))]
    labels = [draw.Label(name, draw.Point(_STEP * at, floor - 5.0), leader=False) for name, at in ends.items()]
    labels.append(draw.Label("0", draw.Point(-4.0, 0), leader=False))
    for number, curve in enumerate(curves):
        values = found[curve.name]
        points = [draw.Point(_STEP * i, value * scale) for i, value in enumerate(values)]
        parts.append(draw.Part(f"curve-{curve.name}", curve.heading, (draw.Line(draw.line(*points), curve.kind),)))
        labels += _labels(curve, values, points, 3 + number)
    return draw.View("graph", "Over a year, by the model below", tuple(parts), labels=tuple(labels), to_scale=False)


def _labels(curve: Curve, values: list[float], points: list[draw.Point], named_at: int) -> list[draw.Label]:
    """Name a curve at one of its months, and write its values at the two ends of the year."""
    line_is = _WORDS_OF.get(curve.kind, "thin line")
    name = draw.Label(f"{curve.word} ({line_is})", points[named_at], towards="right")
    ends = [
        draw.Label(say("{value:gauge}", value=values[i]), points[i], towards="above", bold=True)
        for i in (DRIEST, WETTEST)
    ]
    return [name, *ends]
