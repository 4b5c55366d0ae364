"""Settings as a form shows them: one field a setting, from the one declaration that files and commands have too."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from functools import cache
from typing import Literal

from jigs.base.kinds import Choice, Count, Flag, Kind, Length, Number, PathData, Rings, Value, WoodName
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.rules import Problem, as_sentence
from jigs.base.settings import keys_of
from jigs.base.wording import Offer, Wording
from jigs.record import Record, replace
from jigs.trade import timber

with lazily():
    from jigs.boxfile.sections import BoxFile

Form = Literal["number", "words", "wood", "choice", "flag", "lines"]
_CALLED: Mapping[str, str] = {
    "box.height": "Width of the boards",
    "sides.rings": "Growth rings",
    "sides.ends_species": "Wood of the end boards",
    "joint.key_slack": "Play on the key",
    "joint.proud": "Fingers left long",
    "joint.method": "The boards are cut",
    "joint.layout": "Width of the boards is",
    "joint.key_side": "The key is on the",
    "groove.from_bottom": "Height above the bottom edge",
    "lid.play": "Clearance along the grain",
    "lid.plug": "Plug",
}
"""What a setting is called where its key is not what the trade says."""
_OPTIONS: Mapping[str, str] = {
    "one stack": "in one stack",
    "separately": "fronts and ends apart",
    "rip": "ripped to whole fingers",
    "keep": "kept",
    "centre": "kept, fingers centred",
    "mm": "millimetres",
    "in": "inches",
}
"""What a choice is called where its word in the file is short."""


class Way(Record):
    """A way out of a problem: what the button says, the settings it types, and what comes of it."""

    label: str
    typed: Mapping[str, str]
    gives: str = ""


class Told(Record):
    """A problem as it stands at its field: its sign, what is wrong and what to do, and buttons that do it."""

    sign: str
    says: str
    suggests: str
    ways: tuple[Way, ...] = ()

    @property
    def state(self) -> str:
        """The name of its sign, as the marks of the stick have it."""
        names = {"Error": "error", "DANGER": "danger", "WARNING": "warning", "GET": "get"}
        return names.get(self.sign, "choice")


class Field(Record):
    """A setting: what it is, what it holds as it would be typed, what is used where it holds nothing, what it does."""

    key: str
    label: str
    about: str
    limits: str
    form: Form
    value: str
    used: str = ""
    unit: str = ""
    options: tuple[tuple[str, str], ...] = ()
    effect: str = ""
    told: tuple[Told, ...] = ()
    required: bool = False

    @property
    def identity(self) -> str:
        """Its name in the page."""
        return identity_of(self.key)

    @property
    def worst(self) -> str:
        """How it stands with it: the sign of the first problem, which is the worst; empty where there is none."""
        return self.told[0].state if self.told else ""


def identity_of(key: str) -> str:
    """Return what the field of a setting is called in the page."""
    return "set-" + key.replace(".", "-")


def label_of(key: str) -> str:
    """Return what a setting is called, with a capital."""
    parts = key.split(".")
    *within, last = parts[-1:] if any(part.isdigit() for part in parts) else parts[1:] or [key]  # a column has its list
    spoken = ", ".join([last.replace("_", " "), *within])
    return _CALLED.get(key, spoken[:1].upper() + spoken[1:])


def field(
    key: str,
    kind: Kind,
    value: Value,
    units: Units,
    *,
    used: str = "",
    effect: str = "",
    told: Sequence[Told] = (),
    required: bool = False,
) -> Field:
    """Return a setting that holds a value; None is nothing."""
    label = label_of(key)
    return Field(
        key,
        label,
        as_sentence(kind.help) if kind.help.lower() != label.lower() else "",
        kind.limits if isinstance(kind, Number) else "",
        _form(kind),
        typed(kind, value, units),
        used,
        _unit(kind, units),
        tuple((option, _OPTIONS.get(option, option)) for option in kind.options) if isinstance(kind, Choice) else (),
        effect,
        tuple(told),
        required,
    )


def without_unit(words: str, unit: str) -> str:
    """Return what was typed without the unit that stands behind its field."""
    return words.removesuffix(unit).rstrip() if unit else words


def choice_of_units(units: Units) -> Field:
    """Return the choice of units that a form begins with."""
    options = tuple((option, _OPTIONS[option]) for option in ("mm", "in"))
    about = "A length may also be typed with a unit of its own: 12 mm, 1/2 in."
    return Field("units", "Lengths are in", about, "", "choice", units, options=options)


def typed(kind: Kind, value: Value, units: Units) -> str:
    """Return a value as somebody would type it; nothing for None."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(kind, Rings):
        value = next((name for name, angle in Rings.NAMES.items() if angle == value), value)
    elif isinstance(kind, Number):
        value = kind.written(value, units)
    return f"{value}".replace("-", "−") if isinstance(value, int | float) and value < 0 else f"{value}"


def _form(kind: Kind) -> Form:
    match kind:
        case Choice():
            return "choice"
        case Flag():
            return "flag"
        case WoodName():
            return "wood"
        case Number():
            return "number"
        case PathData():
            return "lines"
    return "words"


def _unit(kind: Kind, units: Units) -> str:
    if isinstance(kind, Length):
        return units
    return "" if isinstance(kind, Count) else kind.symbol.strip()


def told(problem: Problem, units: Units, ways: Sequence[Way] = ()) -> Told:
    """Return a problem in words: what its buttons do not say of the ways out is said beside them."""
    suggested = as_sentence(problem.suggests(units))
    if len(ways) > 1:
        without = [way for way in problem.ways if not problem.offers(way)]
        suggested = " ".join(as_sentence(Wording(way, problem.numbers).read_out(units)) for way in without)
    suggested = _as_labelled(suggested)
    ways = [replace(way, gives="") if way.gives.rstrip(".").lower() in suggested.lower() else way for way in ways]
    return Told(problem.sign, _as_labelled(as_sentence(problem.says(units))), suggested, tuple(ways))


@cache
def _key() -> re.Pattern[str]:
    """Return what finds a key of a box file, a list of it, or the option that sets a key."""
    within = "|".join(name for name, key in keys_of(BoxFile).items() if key.section)
    return re.compile(rf"(?:\badd --set )?(\[\[)?\b((?:{within})(?:\.[a-z_]+)?)\b(?:=…|\]\])?")


def _as_labelled(words: str) -> str:
    """Return words with settings called as their fields are: keys and options stand in files and commands."""

    def called(found: re.Match[str]) -> str:
        key, listed = found[2], found[1]
        if not listed and "." not in key:
            return found[0]
        label = f"“{label_of(key) if '.' in key else key.capitalize()}”"
        return f"change {label}" if found[0].startswith("add ") else label

    return _key().sub(called, words).replace("in the file under “", "under “")


def ways_of(problem: Problem, units: Units) -> list[Way]:
    """Return the ways out of a problem that a button can do: each types the values that it offers."""
    found = []
    for way in problem.ways:
        settings: dict[str, str] = {}
        for offer in problem.offers(way).values():
            settings |= {offer.setting or problem.where: _offered(offer, units)}
            settings |= {key: _said(value, units) for key, value in offer.also.items()}
        if settings:
            words = Wording(way, problem.numbers).read_out(units)
            found.append(Way(_label(settings), settings, as_sentence(words) if len(problem.ways) > 1 else ""))
    known = [_said(value, units) for name, value in problem.numbers.items() if name.startswith("known_")]
    found += [Way(_label({"joint.finger": finger}), {"joint.finger": finger}) for finger in known]
    nearest = problem.numbers.get("nearest")
    if not found and isinstance(nearest, float | str) and "." in problem.where:
        inward = "up" if nearest == problem.numbers.get("least") else "down"
        settings = {problem.where: _said(nearest, units, inward)}
        found.append(Way(_label(settings), settings))
    return found


def _offered(offer: Offer, units: Units) -> str:
    said = offer.said
    return Wording("{it:typed}", {"it": said}).read_out(units) if isinstance(said, float) else said


def _said(value: object, units: Units, rounded: str = "") -> str:
    return Wording(f"{{it:typed {rounded}}}".replace(" }", "}"), {"it": value}).read_out(units)


def _label(settings: Mapping[str, str]) -> str:
    rings = {f"{angle:g}": f"{angle:g}°, {name}-sawn" for name, angle in Rings.NAMES.items()}
    said = []
    for key, value in settings.items():
        label = label_of(key)
        shown = rings.get(value, value) if key.endswith(".rings") else value
        said.append(f"the {label[:1].lower()}{label[1:]} to {shown}")
    return f"Set {' and '.join(said)}"


WOODS = tuple(sorted(wood.name for wood in timber.all_species()))
"""The woods that a field offers while one is typed."""
