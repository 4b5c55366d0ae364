"""What a box gives to a jig: the settings of its part, and what the jig says that it takes. Lengths in mm."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import reduce
from typing import Any

from jigs.base.catalogue import Jig
from jigs.base.kinds import Value
from jigs.base.rules import Problem, warn
from jigs.base.settings import Section, keys_of
from jigs.box.chain import Box
from jigs.boxfile.sections import BoxFile


def settings(jig: Jig, box: Box) -> dict[str, Value]:
    """Return the settings of a jig that a box gives, those alone that it has a value for; none where it lacks the part.

    They are the section of the jig's part, where it has one, and then what the jig takes besides. None is what the box
    leaves open, and what is as it usually is.
    """
    bases = _bases(jig)
    if not jig.from_box or (bases and _section(box.file, bases[0]) is None):
        return {}
    sections = [section for base in bases for section in [_section(box.file, base)] if section is not None]
    found = dict(pair for section in sections for pair in _values(section, ""))
    found |= {name: value for name, value in _places(jig.from_box, box) if value is not None}
    units = box.file.units
    return {
        p.name: None if not p.required and found[p.name] == p.default_in(units) else found[p.name]
        for p in jig.parameters
        if p.name in found
    }


def too_large(jig: Jig, given: Mapping[str, Value], box: Box) -> list[Problem]:
    """Return what is more than the box has room for, at its setting, with the most that goes in."""
    found = []
    for name, most in _places(jig.most, box):
        value = given.get(name)
        if isinstance(value, float) and isinstance(most, float) and value > most + _SAME:
            said = f"a {name.replace('_', ' ')} of {{is_}} does not go into your box, which has room for {{most:gauge}}"
            found.append(warn(name, said, "{nearest} or less", is_=value, most=most, nearest=most))
    return found


_SAME = 1e-6


def _bases(jig: Jig) -> list[type[Section]]:
    """Return the sections that a jig's settings begin with, that of its part first."""
    every = jig.takes.__mro__[1:] if jig.takes else ()
    return [base for base in every if issubclass(base, Section) and base is not Section]


def _section(file: BoxFile, base: type[Section]) -> Section | None:
    """Return the section of a file that is of a kind; None where the file has none."""
    held = (getattr(file, name) for name, key in keys_of(BoxFile).items() if key.section and not key.many)
    return next((section for section in held if isinstance(section, base)), None)


def _values(section: Section, before: str) -> Iterator[tuple[str, Value]]:
    """Yield the values of a section by the names that jigs have for them: `shop_temperature`."""
    for name, key in keys_of(type(section)).items():
        value = getattr(section, name)
        if key.section and not key.many and value is not None:
            yield from _values(value, f"{before}{name}_")
        elif key.kind:
            yield f"{before}{name}", value


def _places(said: str, box: Box) -> Iterator[tuple[str, Any]]:
    for name, _, places in (pair.partition("=") for pair in said.split()):
        values = (reduce(_in, place.split("."), box) for place in places.split("|"))
        yield name, next((value for value in values if value is not None), None)


def _in(thing: Any, place: str) -> Any:
    if thing is None:
        return None
    if place.isdigit():
        return thing[int(place)] if int(place) < len(thing) else None
    return getattr(thing, place)
