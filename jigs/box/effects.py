"""What each setting of a box does, in a few words; and which numbers of a box moved when a setting was changed.

The words stand in two tables, and take their numbers from the JSON report by its names. Lengths in mm.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

from jigs.base.kinds import Value
from jigs.base.lengths import Units
from jigs.base.settings import Section, keys_of
from jigs.base.wording import Wording, fields_of, on_paper
from jigs.box import chain
from jigs.box.chain import Box
from jigs.boxfile.sections import BoxFile
from jigs.parts.joint.settings import counted
from jigs.record import Record

_INSIDE = "Inside {box.inside_length:cut} × {box.inside_width:cut}"
_STOPPED = "{groove.from_bottom:cut} from the bottom edge; fence {groove.fence:cut} to bit centre"
_PANEL = "Panel {bottom.length:cut} × {bottom.width:cut} now; tongue {bottom.tongue:gauge}"
_DROPS_IN = "Plug {lid.plug_length:cut} × {lid.plug_width:cut}; clearance {lid.gap_shop:cut} now"
_SCREWED = "Thinnest section {handle.least_wood:cut down}"
_FAN = "Chips {shell.chip_depth:cut} deep; thinnest section {shell.wood_left:cut down}"
_EFFECTS: Mapping[str, str] = {
    "box.length": _INSIDE,
    "box.width": _INSIDE,
    "box.height": "{fingers.said}, {fingers.rip_width:gauge} high{box.deep}",
    "sides.thickness": f"{_INSIDE}; cut depth {{sled.cut_depth:gauge}}",
    "sides.ends_thickness": _INSIDE,
    "sides.thinnest": "Cut depth {sled.cut_depth:gauge}",
    "joint.finger": "{fingers.said}, {fingers.rip_width:gauge} high",
    "joint.cutter": "Gap {sled.gap:gauge}; spacer {sled.spacer:gauge}",
    "joint.clearance": "At worst {fit.worst:gauge}; gap {sled.gap:gauge}",
    "joint.key_slack": "Key {sled.key:gauge}; across key and cutter {sled.over_all:gauge}",
    "joint.proud": "Cut depth {sled.cut_depth:gauge}",
    "joint.method": "{fit.said}",
    "joint.layout": "{fingers.said}, {fingers.rip_width:gauge} high",
    "joint.fingers": "{fingers.said}, {fingers.rip_width:gauge} high",
    "joint.passes": "Passes for a socket: {fingers.passes}",
    "joint.boards_in_stack": "Positions of the stack: {fingers.steps}",
    "groove.cutter": _STOPPED,
    "groove.from_bottom": f"{_STOPPED}{{box.deep}}",
    "groove.depth": "{bottom.engagement_dry:cut down} of the tongue held in the driest season",
    "groove.end_margin": "End margin {groove.end_wood:cut}",
    "bottom.thickness": _PANEL,
    "bottom.tongue": _PANEL,
    "bottom.clearance": _PANEL,
    "bottom.rings": "{bottom.width_dry:cut} to {bottom.width_wet:cut} wide through the year",
    "bottom.species": "{bottom.width_dry:cut} to {bottom.width_wet:cut} wide through the year",
    "lid.thickness": "Edge {lid.edge:cut}",
    "lid.plug": "{box.inside_depth_under_lid:cut down} deep inside, under the plug",
    "lid.overhang": "Lid {lid.length:cut} × {lid.width:cut}",
    "lid.crown": "Edge {lid.edge:cut}",
    "lid.clearance": _DROPS_IN,
    "lid.play": _DROPS_IN,
    "lid.rings": "Clearance {lid.gap_wet:cut} to {lid.gap_dry:cut} through the year",
    "lid.species": "Clearance {lid.gap_wet:cut} to {lid.gap_dry:cut} through the year",
    "handle.saw": "Hole centres {handle.centre_offset:cut} from the middle; blank {handle.blank_length:cut up} long",
    "handle.length": "Hole centres {handle.centre_offset:cut} from the middle",
    "handle.neck": _SCREWED,
    "handle.base": _SCREWED,
    "handle.height": _SCREWED,
    "handle.crest": "Crest radius {handle.crest_radius:rough}",
    "shell.lobes": "Lobe radius {shell.lobe_radius:cut}",
    "shell.width": "Ribs {shell.rib_radius:cut} from the pivot",
    "shell.height": "Ribs {shell.rib_radius:cut} from the pivot",
    "shell.chip": _FAN,
    "shell.knife": _FAN,
}
"""What a setting does, by its key; a field is a number of the JSON report and may say what its length is for."""

_MOVED: Mapping[str, str] = {
    "Fingers": "{fingers.said}",
    "Height of the sides": "{fingers.rip_width:gauge}",
    "Gap": "{sled.gap:gauge}",
    "Key": "{sled.key:gauge}",
    "Spacer": "{sled.spacer:gauge}",
    "Across key and cutter": "{sled.over_all:gauge}",
    "Cut depth": "{sled.cut_depth:gauge}",
    "Inside": "{box.inside_length:cut} × {box.inside_width:cut}",
    "Depth inside": "{box.inside_depth:cut down}",
    "Fence to bit centre": "{groove.fence:cut}",
    "End margin": "{groove.end_wood:cut}",
    "Tongue": "{bottom.tongue:gauge}",
    "Panel": "{bottom.length:cut} × {bottom.width:cut}",
    "Lid": "{lid.length:cut} × {lid.width:cut}",
    "Plug": "{lid.plug_length:cut} × {lid.plug_width:cut}",
    "Edge of the lid": "{lid.edge:cut}",
    "Hole centres from the middle": "{handle.centre_offset:cut}",
    "Handle’s thinnest section": "{handle.least_wood:cut down}",
    "Ribs from the pivot": "{shell.rib_radius:cut}",
    "Chips": "{shell.chip_depth:cut} deep",
}
"""The numbers that a maker is told of when they move, by what they are called, in the order of work."""
_FIELD = re.compile(r"\{([\w.]+)")


class Moved(Record):
    """A number that is not what it was, both in words; a setting that somebody changed is `chosen`."""

    name: str
    was: str
    now: str
    chosen: bool = False


def effects(box: Box) -> dict[str, str]:
    """Return what the settings of a box do, in words, by their keys; none for a part that can't be worked out."""
    facts = _facts(box)
    said = {key: _said(words, facts, box.file.units) for key, words in _EFFECTS.items()}
    return {key: words for key, words in said.items() if words}


def moved(before: Box, after: Box) -> list[Moved]:
    """Return what moved from one box to another: the settings that were changed, then the numbers that follow."""
    units = after.file.units
    facts = _facts(before), _facts(after)
    found = list(_changed(before.file, after.file))
    for name, words in _MOVED.items():
        was, now = (_said(words, of, units) for of in facts)
        if was != now and not (after.stopped and not now):
            found.append(Moved(name, was or "none", now or "none"))
    return found


def _changed(before: BoxFile, after: BoxFile) -> Iterator[Moved]:
    """Yield the settings that two files do not have alike."""
    for name, key in keys_of(BoxFile).items():
        was, now = getattr(before, name), getattr(after, name)
        if was == now:
            continue
        if isinstance(was, Section) and isinstance(now, Section):
            yield from _changed_in(was, now, after.units)
        elif key.section:
            yield Moved(name.capitalize(), _there(was), _there(now), chosen=True)
        else:
            yield Moved(name.capitalize(), str(was), str(now), chosen=True)


def _changed_in(before: Section, after: Section, units: Units, named: str = "") -> Iterator[Moved]:
    for name, key in keys_of(type(after)).items():
        was, now = getattr(before, name), getattr(after, name)
        if was == now:
            continue
        spoken = f"{named} {name.replace('_', ' ')}".strip().capitalize()
        if key.kind:
            yield Moved(spoken, _shown(key.kind, was, units), _shown(key.kind, now, units), chosen=True)
        elif isinstance(now, Section) and isinstance(was, Section):
            yield from _changed_in(was, now, units, spoken)
        else:
            yield Moved(spoken, _there(was), _there(now), chosen=True)


def _shown(kind: Any, value: Value, units: Units) -> str:
    if value is None:
        return "worked out"
    if isinstance(value, bool):
        return "yes" if value else "no"
    words: str = kind.shown(value, units)
    return words.removesuffix(f" {units}")


def _there(value: object) -> str:
    """Return how much of a part or a list there is, in words."""
    if isinstance(value, tuple):
        return f"{sum(getattr(one, 'count', 1) for one in value)} in all"
    return "none" if value is None else "there"


def _facts(box: Box) -> dict[str, object]:
    """Return the numbers of the JSON report under names with all that leads to them, and what is said in words."""
    data = chain.as_data(box)
    facts = dict(_flat(data))
    if box.numbers:
        facts["fingers.said"] = counted(box.numbers.count)
    if box.meant:
        facts["fit.worst"] = box.meant.prediction.clearance_worst
        steps, stack = data["fingers"]["steps"], box.file.joint.boards_in_stack
        one = box.meant.method == "one stack"
        facts["fit.said"] = (
            f"One stack of {stack}, in {steps} positions" if one else "Fronts and ends one after another"
        )
    if box.groove:
        facts["groove.from_bottom"] = box.groove.from_bottom
    facts["box.deep"] = _deep(box)
    return facts


def _deep(box: Box) -> str:
    """Return how deep a box is inside as the end of a sentence, where that is known."""
    if box.depth is None:
        return ""
    words = "; {deep:cut down} deep inside" + (", under the plug" if box.depth_under_plug is not None else "")
    return Wording(words, {"deep": box.depth}).read_out(box.file.units, on_paper)


def _flat(data: Mapping[str, Any], path: str = "") -> Iterator[tuple[str, object]]:
    for name, value in data.items():
        if isinstance(value, Mapping):
            yield from _flat(value, f"{path}{name}.")
        else:
            yield f"{path}{name}", value


def _said(words: str, facts: Mapping[str, object], units: Units) -> str:
    """Return words with their numbers; nothing where one of them is not known."""
    sentence = _FIELD.sub(lambda found: "{" + found[1].replace(".", "__"), words)
    numbers = {field: facts.get(field.replace("__", ".")) for field in fields_of(sentence)}
    if None in numbers.values():
        return ""
    return Wording(sentence, numbers).read_out(units, on_paper)
