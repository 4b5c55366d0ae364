"""The cover of a box: what it is, its sizes and settings on a page or two, what to know before cutting, conventions."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.rules import Problem
from jigs.base.settings import Section, keys_of
from jigs.base.wording import Words, say
from jigs.box import thin_wood
from jigs.box.chain import PARTS, Box
from jigs.box.isometric import isometric
from jigs.box.rack import ENDS_A_TRIAL, TRIALS, finished, trial_pieces
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint import in_box
from jigs.trade import finishing

COATS = 3
COVERAGE = 10.0
"""Coats, and m² a litre of finish covers (common practice, no source)."""
LITRES_PER_OUNCE = 0.0295735
"""A US fluid ounce: 231 cubic inches are 128 of them."""

THINNEST = 8
"""Places on the cover's table of the least wood."""
TOGETHER = 5
"""Problems in one block of notes."""

Row = tuple[draw.Cell, ...]


def drawings(box: Box) -> tuple[draw.Drawing, ...]:
    """Return the cover, the settings, and the back. The cover is drawn even of a box that a rule stops."""
    picture, heeded = isometric(box), (cautions.GENERAL,)
    first = (picture, *_problems(box), _needed(box), _parts(box))
    front: tuple[draw.Item, ...] = tuple(item for item in first if item is not None)
    stations = tuple(table for table in (_settings(box), _thin(box)) if table is not None)
    back: tuple[draw.Item, ...] = (
        _measured(box.file),
        _chosen(box.file),
        *_conventions(box.file),
    )
    sheets: tuple[tuple[str, str, str, tuple[draw.Item, ...]], ...] = (
        ("cover", "cover", "the whole box at a glance, what to know before cutting, and its parts", front),
        ("settings", "settings", "what each station is set to, and where the wood is thinnest", stations),
        ("back", "back of the cover", "what the box is worked out from, and how its sheets are to be read", back),
    )
    return tuple(draw.Drawing(name, title, why, body, heeded, jig="box") for name, title, why, body in sheets if body)


def _thin(box: Box) -> draw.Table | None:
    """Return the least wood of the box, the thinnest places first."""
    table = thin_wood.table(box)
    return replace(table, rows=table.rows[:THINNEST]) if table.rows else None


def _problems(box: Box) -> Iterator[draw.Notes]:
    """Yield everything to know before cutting, the worst first, so few at a time that they fit any page."""
    if not box.problems:
        yield draw.Notes("problems-1", "Warnings", ("No rule finds anything to warn of.",))
    worst = tuple(problem for problem in box.problems if problem.severity != "note")
    number = 1
    for title, problems in (("Warnings, the worst first", worst), ("Notes", box.problems[len(worst) :])):
        for first in range(0, len(problems), TOGETHER):
            some = problems[first : first + TOGETHER]
            named = title if first == 0 else f"{title}, from {first + 1} on"
            yield draw.Notes(f"problems-{number}", named, tuple(_warning(problem) for problem in some))
            number += 1


def _warning(problem: Problem) -> Words:
    todo = f" {_capital(problem.instead)}." if problem.ways else ""
    return say(f"{problem.severity.upper()}, {problem.where}: {problem.rule}.{todo}", **problem.numbers)


def _capital(sentence: str) -> str:
    """Begin a sentence with a capital, unless it begins with a number that is still to be read out."""
    return sentence if sentence.startswith("{") else sentence[0].upper() + sentence[1:]


# -- inputs --------------------------------------------------------------------------------------------------------

_MEASURED = {
    "box": ("height",),
    "sides": ("thickness",),
    "joint": ("cutter",),
    **{kind.name: kind.measured for kind in PARTS},
}
"""Inputs that are read off the wood or off a cut, not chosen, by the sections of a box file."""
_USUAL = ("clearance", "key_slack", "proud", "machine", "method", "rings")
"""Inputs that are worth a word where the file leaves them out."""
_NO_LENGTHS = {"rings": "°", "knife": "°", "bulge": " of the chord"}
"""Inputs that are no lengths, and what follows their numbers."""


def _measured(file: BoxFile) -> draw.Table:
    """Return what must be measured, with a box for what was really read."""
    rows: list[Row] = [
        (_input(name, key), value, None)
        for name, section in _sections(file)
        for key in _MEASURED[name]
        if (value := getattr(section, key)) is not None
    ]
    return draw.Table("measured", "Measured", ("", "Taken as", "It reads"), tuple(rows))


def _chosen(file: BoxFile) -> draw.Notes:
    """Return what was chosen, and what the file leaves to custom."""
    chosen: list[tuple[str, str, object]] = []
    usual: list[tuple[str, str, object]] = []
    for name, section in _sections(file):
        for key in keys_of(type(section)):
            value = getattr(section, key)
            if key in _MEASURED[name] or value is None:
                continue
            if f"{name}.{key}" in file.given:
                chosen.append((_input(name, key), key, value))
            elif key in _USUAL:
                usual.append((_input(name, key), key, value))
    said = [_listed("Chosen", chosen), *([_listed("Left out of the file, so as usual", usual)] if usual else ())]
    return draw.Notes(
        "chosen",
        "Not measured",
        (*said, "Measure again what stands in the table: another reading goes into the box file first."),
    )


def _sections(file: BoxFile) -> Iterator[tuple[str, Section]]:
    for name in _MEASURED:
        section = getattr(file, name)
        if section is not None:
            yield name, section


def _input(section: str, key: str) -> str:
    return f"{section} {key.replace('_', ' ')}"


def _listed(what: str, given: list[tuple[str, str, object]]) -> Words:
    fields = ", ".join(f"{name} {{field{i}}}" for i, (name, _, _) in enumerate(given))
    values = {
        f"field{i}": f"{value:g}{_NO_LENGTHS[key]}" if isinstance(value, float) and key in _NO_LENGTHS else value
        for i, (_, key, value) in enumerate(given)
    }
    return say(f"{what}: {fields}.", **values)


# -- settings ------------------------------------------------------------------------------------------------------


def _settings(box: Box) -> draw.Table | None:
    """Return what every station is set to; None where a rule stops all of them."""
    sled: list[Row] = [("sled", in_box.set_to(box.numbers))] if box.numbers else []
    rows = (*sled, *((part.name, part.set_to()) for part in box.parts))
    return draw.Table("settings", "Settings", ("Station", "Set to"), rows) if rows else None


# -- sizes and quantities ------------------------------------------------------------------------------------------


def _parts(box: Box) -> draw.Table | None:
    """Return the parts as cut, lengths along the grain; None where a rule stops all of them."""
    rows = tuple(
        (part.name, str(part.count), part.length, part.width, part.thickness, part.wood or "not named")
        for part in finished(box)
    )
    headings = ("Part", "No.", "Along grain", "Width", "Thick", "Wood")
    return draw.Table("parts", "Parts as cut", headings, rows) if rows else None


def _needed(box: Box) -> draw.Notes:
    return draw.Notes("needed", "Inside, glue and finish", tuple(_quantities(box)))


def _quantities(box: Box) -> Iterator[Words]:
    long, wide = box.inside
    yield say("Inside {long} by {wide}.", long=long, wide=wide)
    if box.inside_depth is not None:
        under = "; {under} under the lid's plug" if box.depth_under_plug is not None else ""
        words = "{deep} deep from the bottom to the rim" + under + "."
        yield say(words, deep=box.inside_depth, under=box.depth_under_plug)
    if made := box.finish:
        metric = box.file.units == "mm"
        area = f"{made.area / 1e6:.3f} m²" if metric else f"{made.area / 25.4**2:.0f} in²"
        litres = finishing.finish_volume(area=made.area / 1e6, coats=COATS, coverage=COVERAGE)
        volume = f"{litres * 1000:.0f} ml" if metric else f"{litres / LITRES_PER_OUNCE:.1f} fl oz"
        yield f"Glue {made.glue:.1f} g: a brush, not a bottle."
        yield say(f"{made.clamps} clamps; cauls hollowed {{relief}} over the fingers.", relief=made.caul_relief)
        yield f"Finish {volume}: {COATS} coats on {area}, inside and out."
    yield f"{trial_pieces()} test pieces: {ENDS_A_TRIAL} ends a trial, {TRIALS} trials, and a quarter over."
    if air := box.air:
        yield f"Moisture of the wood {air.shop:.1f} % in the shop, from {air.dry:.1f} % to {air.wet:.1f} % in a year."


def _conventions(file: BoxFile) -> tuple[draw.Notes, ...]:
    """Return what all sheets of a box take for granted; boards cut one by one have no batches."""
    if file.joint.method != "one stack":
        return _CONVENTIONS
    seeing, edges, signs = _CONVENTIONS
    batches = "A letter at a corner names the batch in which its ends were cut: only ends of one batch are mates."
    return seeing, replace(edges, paragraphs=(*edges.paragraphs, batches)), signs


# -- conventions ---------------------------------------------------------------------------------------------------

_CONVENTIONS = (
    draw.Notes(
        "seeing",
        "Views and feed",
        (
            "Machine set-ups are seen from above; you stand at the foot of the picture.",
            "Over the finger cutter boards are fed away from you. Along a fence they are fed from right to left.",
            "The heavy line is the reference edge. Waste is hatched.",
        ),
    ),
    draw.Notes(
        "edges",
        "Edges, corners, ends",
        (
            "The reference edge of every side is its bottom edge. Heights and fingers are counted from it; it goes to "
            "the key and to the fence, at all eight ends.",
            "Left and right of a board are as you see its outer face.",
            "Corners run round the box: 1 front and right end, 2 right end and back, 3 back and left end, 4 left end "
            "and front.",
        ),
    ),
    draw.Notes(
        "signs",
        "Signs and numbers",
        (
            "Flush: + the end's bottom edge is recessed behind that of front or back, − it stands proud below it.",
            "Clearance: socket less finger, + loose. The gap runs from the key's face to the cutting edge at its "
            "nearest, the cutter turned by hand with the power isolated.",
            "Measured is read off the wood or off a trial cut, never off a label.",
            "Numbers without a unit are in the units of the title block. Gap, key and spacer are never rounded.",
        ),
    ),
)
