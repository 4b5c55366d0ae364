"""The second page to read: what was measured, what the air does, where the wood is thinnest, what the signs mean."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base import drawing as draw
from jigs.base.cards import Band, Beside, Card, Column, Text
from jigs.base.settings import Section, keys_of
from jigs.base.wording import Words, say
from jigs.box import cover, thin_wood
from jigs.box.chain import PARTS, Box
from jigs.boxfile.sections import BoxFile
from jigs.parts.wood import seasons
from jigs.parts.wood.part import wood
from jigs.trade.timber import UnknownSpeciesError

TITLE = "Readings"
THINNEST = 4
"""Places where the wood is thinnest, on the page of readings."""
_MEASURED = {
    "sides": ("thickness",),
    "joint": ("cutter",),
    **{kind.name: kind.measured for kind in PARTS},
}
"""Inputs that are read off the wood or off a cut, not chosen, by the sections of a box file."""
_NAMES = {
    ("sides", "thickness"): "thickness of the sides",
    ("joint", "cutter"): "finger cutter, as it cuts",
    ("groove", "cutter"): "groove’s bit, as it cuts",
    ("bottom", "thickness"): "thickness of the bottom",
    ("lid", "thickness"): "thickness of the lid",
    ("handle", "saw"): "hole saw, as it cuts",
    ("handle", "middle_saw"): "saw of the middle hole",
    ("handle", "thickness"): "thickness of the handle",
    ("shell", "knife"): "angle of the knife",
    ("pattern", "knife"): "angle of the knife",
}
"""What is measured, in the words of the bench."""


def page(box: Box) -> Card:
    """Return the page of readings."""
    bands: list[Band] = [Beside(_measured(box.file), Column((_thinnest(box), _signs())), 0.5)]
    bands += _through_the_year(box)
    if rest := cover.before_cutting(box)[cover.TOLD :]:
        bands.append(Text("Worth knowing", tuple(cover.worded(problem) for problem in rest), small=True))
    bands.append(_after_the_test_joint(box))
    about = "what was measured, and what the wood does through the year"
    return Card("readings", TITLE, "", (), tuple(bands), about, "box", reading=True)


def _measured(file: BoxFile) -> draw.Table:
    """Return what must be measured, with a box for what was really read."""
    rows: list[tuple[draw.Cell, ...]] = [
        (_NAMES.get((name, key), f"{name} {key}".replace("_", " ")), _value(value), None)
        for name, section in _sections(file)
        for key in _MEASURED[name]
        if key in keys_of(type(section)) and (value := getattr(section, key)) is not None
    ]
    return draw.Table("measured", "Measured: read each again", ("", "taken as", "it reads"), tuple(rows))


def _value(value: object) -> draw.Cell:
    return say("{size:typed}", size=value) if isinstance(value, float) else str(value)


def _sections(file: BoxFile) -> Iterator[tuple[str, Section]]:
    for name in _MEASURED:
        section = getattr(file, name)
        if section is not None:
            yield name, section


def _thinnest(box: Box) -> draw.Table:
    """Return where the wood is thinnest: cut these places with the most care."""
    rows = tuple((f"{thin.part}, {thin.place}", thin.wood) for thin in thin_wood.thin_wood(box)[:THINNEST])
    return draw.Table("thinnest", "Thinnest wood: cut with care", ("", "left"), rows)


def _signs() -> Text:
    return Text(
        "Signs",
        (
            "Heavy line: the reference edge, the bottom of every side. Heights and fingers are counted from it.",
            "Hatched: a cut face. Crossed out: waste. Left and right of a board are as you see its outer face.",
            "Out of flush: + the end’s bottom edge is recessed, − it stands proud.",
        ),
        small=True,
    )


def _through_the_year(box: Box) -> tuple[Band, ...]:
    """Return how the parts move through the year."""
    sides, climate = box.file.sides, box.file.climate
    curves = [curve for part in reversed(box.parts) for curve in part.year()]  # from the top down
    if box.air and box.numbers and sides.species:
        try:
            woods = [wood(species, sides.rings) for species in (sides.species, sides.ends_species or sides.species)]
        except UnknownSpeciesError:  # which is among the problems of the box; of its other parts the year is known
            return seasons.summary(curves, climate, box.file.units) if curves else ()
        corner = seasons.Corner(box.numbers.width, *woods)
        curves += seasons.corner_curves(corner, seasons.moisture(climate.shop))
    return seasons.summary(curves, climate, box.file.units) if curves else ()


def _after_the_test_joint(box: Box) -> Text:
    said: list[Words] = [
        "Write the readings of the test joint on [card:set-sled]. Given to jigleaf, which drew these pages, they "
        "become what to move, which way and by how much, and the pages that change.",
        "Another reading in the first table changes the box: have the pages drawn with it first.",
    ]
    if box.numbers:
        made = box.numbers
        sled = {"gap": made.gap, "key": made.key, "spacer": made.short_spacer, "deep": made.cut_depth}
        words = "Write on the sled: gap {gap:gauge}, cutter {cutter:gauge}, key {key:gauge}, spacer {spacer:gauge}"
        said.append(
            say(words + ", cut {deep:cut} deep. The next box starts from it.", cutter=box.file.joint.cutter, **sled)
        )
    return Text("After the test joint", tuple(said), small=True)
