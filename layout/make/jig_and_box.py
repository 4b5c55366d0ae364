"""What a jig and a box have of one another: settings of a jig from a box, and a box with those of a jig."""

from __future__ import annotations

from jigs.base import catalogue
from jigs.base.errors import CannotBuild, CannotRead, said_in
from jigs.base.kinds import Kind, Value
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.rules import Problem
from jigs.base.settings import Section, keys_of
from jigs.boxfile.jig_file import JigSettings
from layout.make.jobs import edited, edited_jig

with lazily():
    from jigs.box import chain, for_jigs
    from jigs.boxfile import sections


def section_of_jig(name: str) -> str:
    """Return the section of the box file that a jig's settings are of; empty for a jig of no one part."""
    takes = catalogue.find(name).takes
    first = takes and takes.__mro__[1]
    if not first or first is Section:
        return ""
    held = ((section, key.section) for section, key in keys_of(sections.BoxFile).items() if key.section)
    return next((section for section, declared in held if issubclass(declared, first)), "")


def with_jig(file: sections.BoxFile, settings: JigSettings) -> sections.BoxFile:
    """Return a box file with the settings of a jig that its part has too; all others of the part stay as they are.

    Raises CannotRead for a jig of no one part and where the box lacks what the part needs, CannotBuild as `edited`
    does.
    """
    known = catalogue.find(settings.jig)
    section, chosen = section_of_jig(known.name), settings.chosen(known)
    held = keys_of(sections.BoxFile)[section].section if section else None
    kinds = {name: key.kind for name, key in keys_of(held).items() if key.kind} if held else {}
    if not any(p.name in kinds for p in known.parameters):
        raise CannotRead(f"the {known.title} belongs to no one part of a box")
    there = getattr(file, section)
    typed = {}
    for parameter in known.parameters:
        if kind := kinds.get(parameter.name):
            value = chosen.get(parameter.name, parameter.default_in(settings.units))
            if value != (there and getattr(there, parameter.name)):
                typed[f"{section}.{parameter.name}"] = _typed_for(kind, value, file.units)
    return edited(file, typed) if typed else file


def _typed_for(kind: Kind, value: Value, units: Units) -> str:
    """Return a value as it is typed into a form; nothing for what is left out."""
    if value is None:
        return ""
    return ("yes" if value else "no") if isinstance(value, bool) else f"{kind.written(value, units)}"


def jig_from_box(settings: JigSettings, file: sections.BoxFile) -> JigSettings:
    """Return the settings of a jig with those that a box gives; all others stay as they are.

    What the jig can't have, such as a board beyond its limits, stays as it is too.
    """
    known = catalogue.find(settings.jig)
    kinds = {p.name: p.kind for p in known.parameters}
    with said_in(file.units):
        given = for_jigs.settings(known, chain.work_out(file))
    for name, value in given.items():
        try:
            settings = edited_jig(settings, {name: _typed_for(kinds[name], value, settings.units)})
        except (CannotBuild, CannotRead):
            continue
    return settings


def box_gives(jig: str, file: sections.BoxFile) -> bool:
    """Tell whether a box has what a jig is made for, so that it gives settings of it."""
    with said_in(file.units):
        return bool(for_jigs.settings(catalogue.find(jig), chain.work_out(file)))


def too_large_for_box(settings: JigSettings, file: sections.BoxFile) -> list[Problem]:
    """Return what of a jig's settings does not go into a box, at its setting."""
    known = catalogue.find(settings.jig)
    return for_jigs.too_large(known, settings.chosen(known), chain.work_out(file))
