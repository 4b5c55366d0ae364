"""What makes a plan sound, checked on what it says and draws and not on how it was worked out."""

from __future__ import annotations

import json
import math
import re
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any

import shapely

from jigs.base import lengths
from jigs.base.cards import Card, Pictures, Sheets
from jigs.base.catalogue import Plan
from jigs.base.drawing import Circle, Kind, Part, Path, View
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.wording import Offer, Wording, fields_of
from jigs.record import Record, values
from layout.pages import bands

UNITS: tuple[Units, ...] = ("mm", "in")
CROSSING = 0.02
"""An area, mm², up to which two outlines that share an edge may overlap: round edges stand as chords."""
NOTHING = 1e-5
"""A dimension of less, mm, measures nothing: its two points are meant to be one."""
CHORD = 0.01
"""How far, in mm, a chord may lie from the arc it stands for in these checks."""


def unsound(plan: Plan) -> list[str]:
    """Return what is wrong with a plan: numbers, words, outlines."""
    found = [*not_written(plan.numbers), *not_read_out(plan)]
    for problem in plan.problems:
        if problem.severity == "stop":
            found.append(f"a plan that was not refused has a stop: {problem.says('mm')}")
    return [*found, *unsound_sheets(plan.sheets)]


def unsound_sheets(sheets: Sheets) -> list[str]:
    """Return what is wrong with outlines and dimensions of templates, and with what pictures measure."""
    found = []
    for template in sheets.templates:
        for view in with_details(template.view):
            found += [f"{view.name}: {wrong}" for part in view.parts for wrong in _wrong_outlines(part)]
            found += [f"{view.name}: {wrong}" for wrong in _wrong_measures(view)]
    for card in sheets.cards:
        found += [f"{card.name}/{view.name}: {wrong}" for view in pictures_of(card) for wrong in _wrong_measures(view)]
    return found


def with_details(view: View | None) -> Iterator[View]:
    """Go through a view and the details that may stand in for it."""
    while view is not None:
        yield view
        view = view.detail


def pictures_of(card: Card) -> Iterator[View]:
    """Go through the pictures of a card."""
    for band in bands.flat(card.bands):
        if isinstance(band, Pictures):
            yield from band.views


def not_written(numbers: Mapping[str, Any]) -> Iterator[str]:
    """Find numbers that no JSON reader takes: RFC 8259 has neither nan nor infinity."""
    try:
        json.dumps(numbers, allow_nan=False)
    except (TypeError, ValueError) as error:
        yield f"numbers: {error}"


def not_read_out(thing: object, where: str = "plan") -> Iterator[str]:
    """Find numbers that are not finite and words that can't be read out, anywhere in a plan."""
    if isinstance(thing, float):
        if not math.isfinite(thing):
            yield f"{where} is {thing}"
    elif isinstance(thing, Wording | Problem):
        sentences = (thing.sentence,) if isinstance(thing, Wording) else (thing.rule, *thing.ways)
        for sentence in sentences:
            yield from _unspeakable(Wording(sentence, thing.numbers), where)
    elif isinstance(thing, Mapping):
        for name, value in thing.items():
            yield from not_read_out(value, f"{where}.{name}")
    elif isinstance(thing, tuple | list):
        for i, value in enumerate(thing):
            yield from not_read_out(value, f"{where}[{i}]")
    elif isinstance(thing, Record):
        for name, value in values(thing).items():
            yield from not_read_out(value, f"{where}.{name}")


def _unspeakable(words: Wording, where: str) -> Iterator[str]:
    for units in UNITS:
        try:
            said = words.read_out(units)
        except (KeyError, ValueError) as error:
            yield f"{where}: '{words.sentence}' can't be read out: {error!r}"
            continue
        if re.search(r"[{}]|\bnan\b|\binf\b|\bNone\b", said):
            yield f"{where}: '{said}'"


# -- outlines ------------------------------------------------------------------------------------------------------


def _wrong_outlines(part: Part) -> Iterator[str]:
    """Find outlines that cross themselves or hold nothing, and holes and cuts that are not in the wood."""
    closed: list[shapely.Polygon] = []
    if not (part.lines or part.holes or part.hatched or part.arrows):
        yield f"{part.name}: nothing is drawn"
    for drawn in part.lines:
        yield from (f"{part.name}: {wrong}" for wrong in _wrong_shape(drawn.shape))
        if drawn.kind is Kind.EDGE and (isinstance(drawn.shape, Circle) or drawn.shape.closed):
            closed.append(shapely.Polygon(drawn.shape.points(CHORD)))
    for waste in part.hatched:
        yield from (f"{part.name}, hatched: {wrong}" for wrong in _wrong_shape(waste))
    holes = [shapely.Point(hole.centre).buffer(hole.radius) for hole in part.holes]
    if any(not hole.radius > 0 for hole in part.holes):
        yield f"{part.name}: a hole without a size"
    if not closed or not all(outline.is_valid for outline in closed):
        return
    wood = max(closed, key=lambda outline: outline.area)
    for hole in holes:
        if not wood.buffer(1e-6).covers(hole):
            yield f"{part.name}: a hole about {hole.centroid} is not in the wood"
    for i, one in enumerate(closed):
        for other in closed[:i]:
            both = one.intersection(other).area
            if CROSSING < both < min(one.area, other.area) - CROSSING:
                yield f"{part.name}: outlines cross by {both:.3f} mm² at {one.intersection(other).centroid}"


def _wrong_shape(shape: Path | Circle) -> Iterator[str]:
    if isinstance(shape, Circle):
        if not shape.radius > 0:
            yield f"a circle with a radius of {shape.radius}"
        return
    points = shape.points(CHORD)
    if not shape.closed:
        if not shapely.LineString(points).length > 0:
            yield f"a line without a length at {points[0]}"
        return
    if len(points) < 4:
        yield f"an outline of {len(points)} points"
        return
    outline = shapely.Polygon(points)
    if not outline.is_valid:
        yield f"an outline that is not simple: {shapely.is_valid_reason(outline)}"
    elif not outline.area > 0:
        yield f"an outline with nothing in it at {points[0]}"


def _wrong_measures(view: View) -> Iterator[str]:
    """Find dimensions of nothing, and dimensions and labels far from what is drawn."""
    for dimension in view.dimensions:
        if dimension.value < NOTHING:
            yield f"a dimension '{dimension.name}' of {dimension.value}"
    names = [part.name for part in view.parts]
    if len(set(names)) != len(names):
        yield f"parts of one name: {names}"
    if view.check is not None and view.check not in view.dimensions:
        yield "the dimension to check is not drawn"


# -- suggestions ---------------------------------------------------------------------------------------------------

Judge = Callable[[Mapping[str, Any]], Sequence[Problem] | None]


def unworkable(problems: Sequence[Problem], judge: Judge, units: Units) -> list[str]:
    """Return what is wrong with suggestions: a value typed as it is read out must silence the rule that offers it."""
    found = []
    for problem in problems:
        said = f"{problem.where}: {problem.says(units)}; {problem.suggests(units)}"
        if problem.severity == "stop" and not problem.suggests(units):
            found.append(f"nothing is suggested: {said}")
        for way in problem.ways:
            for name, offer in problem.offers(way).items():
                typed = _typed(Wording("{" + name + "}", problem.numbers).read_out(units), offer, units)
                again = judge({offer.setting or problem.where: typed} | dict(offer.also))
                if again is None:
                    found.append(f"{name} can't be typed: {said}")
                elif any(p.same_as(problem) for p in again):
                    found.append(f"{name} is told the same again: {said}")
    return found


def not_tried(problems: Sequence[Problem]) -> list[str]:
    """Return the suggestions that hold a number which is neither tried nor known to follow from one that is."""
    return [
        f"{problem.where}: {{{name}}} in '{way}'"
        for problem in problems
        for way in problem.ways
        for name in fields_of(way)
        if not isinstance(problem.numbers[name], Offer | str) and name not in CONSEQUENCES
    ]


CONSEQUENCES = frozenset(
    {"shift", "gap", "away", "end", "starter", "rip", "lose", "low", "relief", "asked", "nearest", "most"}
    | {"clip", "radius", "height", "much", "upright", "carried", "fence", "quartered"}
)
"""Numbers in suggestions that follow from what is offered, or that describe the part."""


def _typed(words: str, offer: Offer, units: Units) -> Any:
    """Read a value as its user would type it: a length without what stands in brackets."""
    if isinstance(offer.value, str):
        return words
    if isinstance(offer.value, int):
        return int(words)
    return float(words) if offer.plain else float(lengths.read(words.partition(" (")[0], units))
