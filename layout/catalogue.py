"""The catalogue as data, and as pages: one Markdown page a jig, with a sketch on which parameters stand as letters."""

from __future__ import annotations

import math
import shlex
import string
from collections.abc import Iterator, Mapping
from typing import Any

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.cards import Pictures
from jigs.base.catalogue import Jig, Plan, catalogue
from jigs.base.kinds import Choice, Kind, Number
from jigs.base.settings import Setting
from jigs.base.wording import on_paper, read_out
from jigs.record import replace
from layout.draw.annotate import annotate
from layout.pages.bands import flat
from layout.sheet.marks import Layer, Sheet
from layout.sheet.paper import Paper
from layout.write import svg

MARGIN = 4.0
"""White round a sketch, mm."""
_SAME = 1e-6


def as_data() -> list[dict[str, object]]:
    """Return every jig with its parameters, by the names of the JSON list: lengths in mm, angles in degrees."""
    return [_described(jig) for jig in catalogue().values()]


def _described(jig: Jig) -> dict[str, object]:
    parameters: list[dict[str, object]] = []
    for parameter in jig.parameters:
        kind = parameter.kind
        entry: dict[str, object] = {"name": parameter.name, "kind": kind.unit, "help": kind.help}
        if kind.symbol:
            entry["unit"] = "degrees" if kind.unit == "angle" else kind.symbol.strip()
        entry |= {limit: getattr(kind, limit) for limit in ("least", "most", "options") if hasattr(kind, limit)}
        defaults = {"default": parameter.default_in("mm"), "default_inches": parameter.default_in("in")}
        parameters.append(entry | {"required": parameter.required} | defaults)
    return {"name": jig.name, "title": jig.title, "summary": jig.summary, "parameters": parameters}


def pages() -> dict[str, bytes]:
    """Return every page and sketch of the catalogue, by file name; the same bytes for the same jigs."""
    contents: dict[str, bytes] = {}
    for jig in catalogue().values():
        if not jig.example:  # another person's jig may have none, and there is nothing to draw
            contents[f"{jig.name}.md"] = _page(jig, None, {}, has_sketch=False).encode()
            continue
        settings = example_settings(jig)
        plan = jig.plan(settings)
        letters = _letters(jig, plan, settings)
        found = _sketched(plan, letters, settings)
        if found:
            contents[f"{jig.name}.svg"] = svg.write(_sheet(jig, *found), "")
        contents[f"{jig.name}.md"] = _page(jig, plan, letters, has_sketch=found is not None).encode()
    contents["README.md"] = _contents().encode()
    return contents


def example_settings(jig: Jig) -> dict[str, Any]:
    """Return the settings of a jig's example, read as the command reads them, in mm."""
    words = shlex.split(jig.example)
    kinds = {parameter.name: parameter.kind for parameter in jig.parameters}
    settings: dict[str, Any] = {}
    for option, value in zip(words[::2], words[1::2], strict=True):
        name = option.removeprefix("--").replace("-", "_")
        settings[name] = kinds[name].parsed(value, "mm")
    return settings


def outlines(jig: Jig) -> bytes | None:
    """Return what the sketch of a jig shows without a word on it, as SVG, to be small; None for one without an example.

    Of a jig of which nothing is printed at full size it is the first picture of its card.
    """
    if not jig.example:
        return None
    settings = example_settings(jig)
    plan = jig.plan(settings)
    found = _sketched(plan, _letters(jig, plan, settings), settings) or next(_pictured(plan), None)
    if found is None:
        return None
    family, view = found
    sheet = _sheet(jig, family, replace(view, dimensions=(), labels=()))
    return svg.write(replace(sheet, layers=sheet.layers[:1]), "")


# -- the sketch ----------------------------------------------------------------------------------------------------


def _views(plan: Plan) -> Iterator[tuple[str, draw.View]]:
    for template in plan.sheets.templates:
        yield template.jig, template.view


def _pictured(plan: Plan) -> Iterator[tuple[str, draw.View]]:
    for card in plan.sheets.cards:
        for band in flat(card.bands):
            if isinstance(band, Pictures):
                yield from ((card.name, view) for view in band.views)


def _letters(jig: Jig, plan: Plan, settings: Mapping[str, Any]) -> dict[str, str]:
    """Return a letter for each parameter that some sketch could show: one that a dimension measures."""
    measured = [dimension.value for _, view in _views(plan) for dimension in view.dimensions]
    shown = [p.name for p in jig.parameters if any(_measures(settings.get(p.name), value) for value in measured)]
    return dict(zip(shown, string.ascii_uppercase, strict=False))


def _measures(setting: Any, value: float) -> bool:
    return isinstance(setting, float | int) and not isinstance(setting, bool) and abs(setting - value) < _SAME


def _sketched(plan: Plan, letters: Mapping[str, str], settings: Mapping[str, Any]) -> tuple[str, draw.View] | None:
    """Return the view that shows the most parameters, its dimensions named by their letters, and its family."""
    best: tuple[int, str, draw.View] | None = None
    for family, view in _views(plan):
        lettered = tuple(_lettered(dimension, letters, settings) for dimension in view.dimensions)
        count = sum(a != b for a, b in zip(lettered, view.dimensions, strict=True))
        if best is None or count > best[0]:
            best = count, family, replace(view, dimensions=lettered, check=None, detail=None)
    return best and (best[1], best[2])


def _lettered(dimension: draw.Dimension, letters: Mapping[str, str], settings: Mapping[str, Any]) -> draw.Dimension:
    for name, letter in letters.items():
        if _measures(settings.get(name), dimension.value):
            return replace(dimension, name=letter)
    return dimension


def _sheet(jig: Jig, family: str, view: draw.View) -> Sheet:
    """Return a page just large enough for the view."""
    drawn = annotate(family or jig.name, view, "mm")
    wide, high = math.ceil(drawn.box.width + 2 * MARGIN), math.ceil(drawn.box.height + 2 * MARGIN)
    across, up = MARGIN - drawn.box.left, MARGIN - drawn.box.bottom
    parts = tuple(group.moved(across, up) for group in drawn.parts)
    writing = Layer("writing", "Dimensions and notes", (drawn.writing.moved(across, up),))
    layers = (Layer("template", "Template", parts), writing)
    return Sheet(
        f"{jig.name}-sketch",
        f"{jig.title}, sketch",
        Paper("sketch", wide, high, draw.Bounds(0, 0, wide, high)),
        layers,
        1,
        1,
    )


# -- the page ------------------------------------------------------------------------------------------------------


def _page(jig: Jig, plan: Plan | None, letters: Mapping[str, str], *, has_sketch: bool) -> str:
    rows = [f"# {jig.title}", "", f"{jig.summary[0].upper()}{jig.summary[1:]}.", ""]
    rows += ["```", f"jigleaf jig {jig.name} {jig.example}", "```", ""]
    if has_sketch:
        rows += [f"![{jig.title}, drawn from the example]({jig.name}.svg)", ""]
        if letters:
            rows += [
                "The letters on the sketch are explained in the table below. The sizes are those of the example.",
                "",
            ]
    rows += _parameters(jig, letters)
    if plan:
        rows += [*_sheets(plan), *_cautions(plan)]
    rows += _sources(jig)
    return "\n".join(rows) + "\n"


def _parameters(jig: Jig, letters: Mapping[str, str]) -> list[str]:
    rows = ["## Settings", "", "| | Option | What it is | From | To | Default |", "|---|---|---|---|---|---|"]
    for parameter in jig.parameters:
        kind, option = parameter.kind, f"`--{parameter.name.replace('_', '-')}`"
        least, most = _limits(kind)
        default = _default(parameter)
        rows.append(f"| {letters.get(parameter.name, '')} | {option} | {kind.help} | {least} | {most} | {default} |")
    return [*rows, ""]


def _limits(kind: Kind) -> tuple[str, str]:
    if isinstance(kind, Choice):
        return ", ".join(kind.options) if len(kind.options) <= 4 else f"one of {len(kind.options)}", ""
    if not isinstance(kind, Number):
        return "", ""
    return kind.shown(kind.least, "mm"), kind.shown(kind.most, "mm")


def _default(setting: Setting) -> str:
    if setting.required:
        return "none: give it"
    if isinstance(setting.default, bool):
        return "yes" if setting.default else "no"
    return setting.default_said or "worked out"


def _sheets(plan: Plan) -> list[str]:
    rows = ["## Pages", ""]
    for card in plan.sheets.cards:
        place = f", {card.place.lower()}" if card.place else ""
        rows.append(f"- Card `{card.name}`: {read_out(card.title, 'mm')}{place}.")
    for template in plan.sheets.templates:
        use = read_out(template.use, "mm", on_paper)
        title = read_out(template.view.title, "mm")
        rows.append(f"- Template `{template.view.name}`: {title}{f'; {use}' if use else ''}.")
    return [*rows, ""]


def _cautions(plan: Plan) -> list[str]:
    said = [caution for card in plan.sheets.cards for caution in card.cautions]
    words = dict.fromkeys(f"- {caution.hazard}: {read_out(caution.words, 'mm', on_paper)}" for caution in said)
    return ["## Cautions", "", f"- {cautions.GENERAL}", *words]


def _sources(jig: Jig) -> list[str]:
    return ["", "## Sources of the numbers", "", jig.sources] if jig.sources else []


def _contents() -> str:
    rows = ["# The jigs", "", "Written by `jigleaf jigs --pages`.", ""]
    rows += [f"- [{jig.title}]({jig.name}.md): {jig.summary}" for jig in catalogue().values()]
    return "\n".join(rows) + "\n"
