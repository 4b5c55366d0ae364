"""A box file or a jig file in the other unit: each size is what a shop that works in that unit would choose.

Sizes go to the nearest usual step, cutters and other tools to the nearest that is sold. What was measured off something
else keeps its distance from it, to what a gauge reads: a tongue its play in the groove, a key its play in the socket,
readings of the inside what they are off. A groove keeps its place in the finger that it lies in. A length that the file
has in the other unit already stays as it is. Keys, their order and the comments stay. Lengths in mm.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from functools import partial
from typing import Any

import tomlkit
from tomlkit.exceptions import TOMLKitError
from tomlkit.items import Item

from jigs.base import catalogue, lengths, steps
from jigs.base.errors import CannotRead
from jigs.base.kinds import Kind, Length, Temperature
from jigs.base.lengths import Units
from jigs.base.settings import Section, keys_of
from jigs.base.steps import Ladder
from jigs.base.usual import Usual
from jigs.base.wording import shown
from jigs.boxfile.jig_file import JigSettings
from jigs.boxfile.lines import KeyPath, spelled
from jigs.boxfile.sections import BoxFile
from jigs.record import Record
from jigs.trade import groove, stock
from jigs.trade.passes import one_pass_will_do

_SAME = 1e-9  # mm: rounding of binary fractions, no length


class Moved(Record):
    """A value that is not the same in the other unit: where it stands, what it was and what it is now."""

    where: str
    kind: Kind
    was: float
    now: float

    def said(self, before: Units, after: Units) -> str:
        """Return the two values, each in its units, and how far they lie apart in those of before."""
        far = abs(self.now - self.was)
        if isinstance(self.kind, Temperature):
            apart = f"{far:.1f} °C" if before == "mm" else f"{far * 1.8:.1f} °F"
        else:
            least = _LEAST_TOLD[before]
            apart = lengths.show(far, before, "gauge") if far >= least else f"less than {lengths.show(least, before)}"
        return f"{self.where} {self._shown(self.was, before)} → {self._shown(self.now, after)} (moved {apart})"

    def _shown(self, value: float, units: Units) -> str:
        return self.kind.shown(round(value, 6) if isinstance(self.kind, Temperature) else value, units)


_LEAST_TOLD: Mapping[Units, float] = {"mm": 0.01, "in": 0.0127}
"""Less than this is not told in numbers: a step of a gauge in mm, half a thousandth of an inch."""


class Converted(Record):
    """A file in the other unit, what moved in it, and the keys that now are tools as they are sold, not as measured."""

    text: str
    moved: tuple[Moved, ...]
    sold: tuple[str, ...]


def box_in(file: BoxFile, units: Units) -> Converted:
    """Return a box file in other units. Raises CannotRead where its text can't be changed."""
    document = _document(file.source)
    places = list(_in_section(document, BoxFile, ()))
    turning = _Turning(units, dict(_all_values(file)), {place.name for place in places if place.is_in(units)}, _BOX)
    return _converted(document, places, turning, file.units)


def jig_in(settings: JigSettings, text: str, units: Units) -> Converted:
    """Return a jig file in other units: what it has of the usual sizes is usual in those units.

    Raises CannotRead where its text can't be changed.
    """
    document = _document(text)
    jig = catalogue.find(settings.jig)
    kinds = {parameter.name: parameter.kind for parameter in jig.parameters}
    usual = {p.name: p.default for p in jig.parameters if isinstance(p.default, Usual)}
    values = jig.settings(dict(settings.defaults) | dict(settings.given), settings.units)
    places, left = list[_Place](), {}
    for table in ("settings", "defaults"):
        for name in document.get(table, {}):
            places.append(_Place((table, name), document[table], kinds[name], name))
            size = usual.get(name)
            if table == "defaults" and size is not None and values[name] == size.size(settings.units):
                left[name] = size.size(units)
    kept = {place.name for place in places if place.is_in(units)}
    own = {key.partition(".")[2]: rule for key, rule in _JIGS.items() if key.startswith(f"{jig.name}.")}
    tools = {key.partition(".")[2] for key in _TOOLS_OF_JIGS if key.startswith(f"{jig.name}.")}
    turning = _Turning(units, values, kept, dict(_PLAIN) | own, left, tools)
    return _converted(document, places, turning, settings.units)


# -- the values of a file ------------------------------------------------------------------------------------------


class _Place(Record):
    """Where a value stands in a document: its path there, the table that holds it, and the name its rules know."""

    path: KeyPath
    table: Any
    kind: Kind
    name: str

    @property
    def written(self) -> Any:
        """The value as it stands in the file."""
        return self.table[self.path[-1]]

    @property
    def plain(self) -> object:
        """The value without what tomlkit keeps of how it was written."""
        return self.written.unwrap() if isinstance(self.written, Item) else self.written

    def is_in(self, units: Units) -> bool:
        """Whether it is written with a unit of its own, and that is this one."""
        unit = _UNIT.search(str(self.written).strip()) if isinstance(self.written, str) else None
        return unit is not None and {"m": "mm", "c": "mm"}.get(unit[0][0].lower(), "in") == units

    def put(self, value: object) -> None:
        """Write another value; a comment behind it stays in its column."""
        old: Item = self.table.item(self.path[-1]) if hasattr(self.table, "item") else self.table[self.path[-1]]
        new = tomlkit.item(value)
        if old.trivia.comment:
            room = len(old.trivia.comment_ws) + len(old.as_string()) - len(new.as_string())
            old.trivia.comment_ws = " " * max(2, room)
        self.table[self.path[-1]] = new


_UNIT = re.compile(r"""(?:mm|inches|inch|in\.?|["″”]|°? ?[CF])$""", re.IGNORECASE)


def _document(text: str) -> Any:
    try:
        return tomlkit.parse(text.removeprefix("\ufeff").rstrip("\n") + "\n")
    except (TOMLKitError, RecursionError) as error:
        raise CannotRead(f"the file can't be changed: {shown(str(error), 200)}") from None


def _in_section(table: Any, model: type[Section], path: KeyPath) -> Iterator[_Place]:
    """Find the single values that stand in a section and in those within it."""
    for name, key in keys_of(model).items():
        if name not in table:
            continue
        if key.kind is not None:
            here = (*path, name)
            yield _Place(here, table, key.kind, ".".join(one for one in here if isinstance(one, str)))
        elif key.section and key.many:
            for number, one in enumerate(table[name]):
                yield from _in_section(one, key.section, (*path, name, number))
        elif key.section:
            yield from _in_section(table[name], key.section, (*path, name))


def _all_values(section: Section, path: tuple[str, ...] = ()) -> Iterator[tuple[str, Any]]:
    """Find every value of a file, those that were left out as they then are, by `section.key`; lists are left out."""
    for name in keys_of(type(section)):
        value = getattr(section, name)
        if isinstance(value, Section):
            yield from _all_values(value, (*path, name))
        elif not isinstance(value, tuple):
            yield ".".join((*path, name)), value


# -- what becomes of them ------------------------------------------------------------------------------------------


@dataclass
class _Turning:
    """A file being turned into other units: its values, those that stay as they are, and the rules of each."""

    units: Units
    values: Mapping[str, Any]
    kept: set[str]
    rules: Mapping[str, _Rule]
    left: Mapping[str, float] = field(default_factory=dict)
    """What was left to the usual sizes, and what is usual in the other units."""
    tools: Collection[str] = ()
    """What is a tool that was measured, besides what is one by its name."""

    def old(self, name: str) -> float | None:
        """Return a value as it was, or None where there is none."""
        value = self.values.get(name)
        return float(value) if isinstance(value, int | float) else None

    def new(self, name: str, kind: Length | None = None) -> float:
        """Return what becomes of a value that there is."""
        value = self.old(name)
        assert value is not None, f"there is no {name}"
        if name in self.kept:
            return value
        return self.left[name] if name in self.left else self.turned(name, value, kind)

    def turned(self, name: str, value: float, kind: Length | None = None) -> float:
        """Return what becomes of a value under a name, within the limits of its kind."""
        rule = self.rules.get(name) or _BY_NAME.get(name.rpartition(".")[2], _to(steps.ORDINARY))
        made = rule(self, name, value)
        return made if kind is None or kind.holds(made) else min(max(made, kind.least), kind.most)


_Rule = Callable[[_Turning, str, float], float]
"""What becomes of a value, by its name and what it was."""


def _to(ladder: Ladder) -> _Rule:
    """Return the rule of what goes to the nearest of some sizes."""
    return lambda turning, name, value: ladder.nearest(value, turning.units)


def _off(anchor: str, ladder: Ladder = steps.GAUGE, share: float = 1.0) -> _Rule:
    """Return the rule of what was measured or set off something else: it keeps its distance from a share of that."""

    def rule(turning: _Turning, name: str, value: float) -> float:
        was = turning.old(anchor)
        if was is None:
            return ladder.nearest(value, turning.units)
        return share * turning.new(anchor) + ladder.nearest(value - share * was, turning.units)

    return rule


def _joint(section: str) -> dict[str, _Rule]:
    """Return the rules of a finger joint whose settings stand in a section; "" for a jig's own."""

    def cutters(turning: _Turning) -> Ladder:
        return steps.SAWS if turning.values.get(f"{section}machine") == "table saw" else steps.CUTTERS

    def one_pass(turning: _Turning) -> bool:
        sizes = turning.old(f"{section}finger"), turning.old(f"{section}cutter")
        return None not in sizes and one_pass_will_do(*sizes)  # type: ignore[arg-type]  # they are there

    def cutter(turning: _Turning, name: str, value: float) -> float:
        return cutters(turning).nearest(value, turning.units)

    def finger(turning: _Turning, name: str, value: float) -> float:
        """Cut in one pass, the finger is named after its cutter, and is so again."""
        named = turning.old(f"{section}cutter") if one_pass(turning) else value
        return cutters(turning).nearest(value if named is None else named, turning.units)

    def spacer(turning: _Turning, name: str, value: float) -> float:
        return _off(f"{section}{'cutter' if one_pass(turning) else 'finger'}")(turning, name, value)

    found: dict[str, _Rule] = {"cutter": cutter, "finger": finger, "key": _off(f"{section}cutter"), "spacer": spacer}
    return {f"{section}{name}": rule for name, rule in found.items()}


def _in_its_finger(turning: _Turning, name: str, value: float, *, section: str, cutter: str) -> float:
    """Return a groove's height: it stays in the finger that it lies in, in the middle where there is no other room."""
    ordinary = steps.ORDINARY.nearest
    pitches = _half_pitch(turning.old, section), _half_pitch(turning.new, section)
    if pitches[0] is None or pitches[1] is None:
        return ordinary(value, turning.units)
    number, above = divmod(value, pitches[0])
    made = ordinary(number * pitches[1] + above, turning.units)
    wide = turning.old(cutter) or 0.0
    if above + wide > pitches[0]:  # it lies across a cut line, and the maker knows
        return made
    clearance = turning.new(f"{section}clearance")
    lowest = number * pitches[1] + groove.MARGIN
    highest = (number + 1) * pitches[1] - clearance / 2 - groove.MARGIN - turning.new(cutter)
    return made if lowest <= made <= highest else steps.FINE.nearest(max((lowest + highest) / 2, 0), turning.units)


def _half_pitch(of: Callable[[str], float | None], section: str) -> float | None:
    """Return half of a finger and its socket together; None where they are not known."""
    try:
        finger, cutter = of(f"{section}finger"), of(f"{section}cutter" if section else "finger")
    except AssertionError:
        return None
    clearance = of(f"{section}clearance")
    if finger is None or cutter is None or clearance is None:
        return None
    return cutter - clearance / 2 if one_pass_will_do(finger, cutter) else finger + clearance / 2


def _of_the_bottom(turning: _Turning, name: str, value: float, *, section: str) -> float:
    """Return the thickness of a bottom: solid wood is planed to a usual one, a sheet stays what it measured."""
    of_sheet = turning.values.get(f"{section}material") == "plywood"
    return (steps.GAUGE if of_sheet else steps.THICKNESS).nearest(value, turning.units)


def _as_measured(outside: str, sides: Sequence[str]) -> _Rule:
    """Return the rule of an inside that was measured: it is off the drawn one by as much as it was."""

    def inside(of: Callable[[str], float | None], turning: _Turning) -> float:
        thick = next((of(side) for side in sides if turning.old(side) is not None), None)
        return (of(outside) or 0.0) - 2 * (thick or 0.0)

    def rule(turning: _Turning, name: str, value: float) -> float:
        off = steps.GAUGE.nearest(value - inside(turning.old, turning), turning.units)
        return inside(turning.new, turning) + off

    return rule


def _in_hand(turning: _Turning, name: str, value: float) -> float:
    """Return the size of a board in hand: it is what it is, read with care, and does not grow."""
    del name
    return steps.FINE.nearest(value, turning.units, most=value)


_BY_NAME: Mapping[str, _Rule] = {
    **dict.fromkeys(("clearance", "key_slack", "play", "edges_out", "gap"), _to(steps.GAUGE)),
    **dict.fromkeys(("proud", "end_margin", "kerf", "planing", "closed", "leaf_length", "leaf_depth"), _to(steps.FINE)),
    **dict.fromkeys(("thickness", "ends_thickness", "plate", "backer", "wall", "sides"), _to(steps.THICKNESS)),
    **dict.fromkeys(("lid", "tail_board", "pin_board", "base", "deep"), _to(steps.THICKNESS)),
    **dict.fromkeys(("cutter", "bit", "socket", "finger"), _to(steps.CUTTERS)),
    **dict.fromkeys(("saw", "middle_saw"), _to(steps.HOLE_SAWS)),
    "blade": _to(steps.BLADES),
    "shank": _to(steps.SCREWS),
}
"""What becomes of a length by its last name, of boxes and jigs alike; any other goes to what a rule measures."""
_PLAIN: Mapping[str, _Rule] = {"thinnest": _off("thickness"), "root": _off("shank")}
"""Those of jigs that keep their distance from another."""
_BOX: Mapping[str, _Rule] = {
    **_joint("joint."),
    "sides.thinnest": _off("sides.thickness"),
    "groove.from_bottom": partial(_in_its_finger, section="joint.", cutter="groove.cutter"),
    "bottom.thickness": partial(_of_the_bottom, section="bottom."),
    "bottom.tongue": _off("groove.cutter"),
    "bottom.inside_length": _as_measured("box.length", ("sides.ends_thickness", "sides.thickness")),
    "bottom.inside_width": _as_measured("box.width", ("sides.thickness",)),
    "handle.root": _off("handle.shank"),
    **dict.fromkeys(("box.height", *(f"stock.boards.{side}" for side in ("length", "width", "thickness"))), _in_hand),
}
_JIGS: Mapping[str, _Rule] = {
    **{f"sled.{name}": rule for name, rule in _joint("").items()},
    "stops.from_bottom": partial(_in_its_finger, section="", cutter="cutter"),
    "panel.groove": _to(steps.CUTTERS),
    "panel.thickness": partial(_of_the_bottom, section=""),
    "panel.tongue": _off("groove"),
    "gauges.gap": _off("socket"),
    "gauges.groove": _to(steps.CUTTERS),
    "gauges.fence": _off("groove", steps.ORDINARY, share=0.5),
    "parting.finger": _off("socket"),
    "sliding-lid.finger": _off("socket"),
    "sliding-lid.groove": _to(steps.CUTTERS),
    "shell.groove_width": _to(steps.CUTTERS),
    "shell.cut_depth": _off("thickness", steps.FINE),
    "lid.along": _to(steps.GAUGE),
    "lid.across": _to(steps.GAUGE),
    "hinge.bush": _to(steps.FINE),
}
"""What becomes of a setting of one jig: what it cuts, what it lies beside, and openings that were measured."""
_TOOLS = ("cutter", "bit", "socket", "saw", "middle_saw", "groove_width")
_TOOLS_OF_JIGS = ("panel.groove", "gauges.groove", "sliding-lid.groove")
"""Tools that were measured, by their last name, and by the jig they are of."""


# -- writing -------------------------------------------------------------------------------------------------------


def _converted(document: Any, places: Sequence[_Place], turning: _Turning, before: Units) -> Converted:
    """Write every value of a document in the other units."""
    moved: list[Moved] = []
    sold: list[str] = []
    for place in places:
        if place.is_in(turning.units) or not isinstance(place.kind, Length | Temperature):
            continue
        was = float(place.kind.parsed(place.plain, before))
        now = _now(place, was, turning)
        place.put(place.kind.written(now, turning.units))
        if abs(now - was) > _SAME:
            moved.append(Moved(spelled(place.path), place.kind, was, now))
            if place.name.rpartition(".")[2] in _TOOLS or place.name in turning.tools:
                sold.append(spelled(place.path))
    document["units"] = turning.units
    return Converted(_without_shown_sizes(tomlkit.dumps(document)), tuple(moved), tuple(sold))


def _without_shown_sizes(text: str) -> str:
    """Return a file without the lines that show, as a comment, what it had in its old unit: they would be read anew."""
    return re.sub(r"^# (?=[a-z_]+ = [\d\"'-]).*\n", "", text, flags=re.MULTILINE)


def _now(place: _Place, was: float, turning: _Turning) -> float:
    """Return what a value becomes: a temperature a whole degree, a length what its rule makes of it."""
    if isinstance(place.kind, Temperature):
        return round(was) if turning.units == "mm" else (round(was * 1.8 + 32) - 32) / 1.8
    assert isinstance(place.kind, Length), f"{place.path} is no length"
    if place.name in turning.left:
        return turning.left[place.name]
    if place.name == "stock.boards.thickness" and stock.is_sheet(place.table.get("species")):
        return steps.GAUGE.nearest(was, turning.units)  # a sheet is not planed, so it stays as thick as its bottom
    return turning.turned(place.name, was, place.kind)
