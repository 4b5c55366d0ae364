"""What the page of a box shows: the story stick, the settings of a set-up, what moved, and which pages there are."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from typing import TYPE_CHECKING, Any

from jigs.base.errors import JigleafError
from jigs.base.lazily import lazily
from jigs.base.rules import Problem
from jigs.base.settings import Key, Section, keys_of
from jigs.record import Record, replace
from layout import make
from layout.bench import fields
from layout.bench import pages as sheets
from layout.bench.fields import Field, Told

with lazily():
    from jigs.box import set_ups
    from jigs.boxfile import sections

if TYPE_CHECKING:
    from jigs.box.effects import Moved
    from jigs.box.set_ups import Look, SetUp
    from layout.bench.pages import Drawn
    from layout.bench.state import State

_WORDS = {
    "fine": "fine",
    "choice": "choice",
    "get": "to get",
    "warning": "WARNING",
    "danger": "DANGER",
    "error": "error",
    "none": "not made",
}
_COMMON = (
    *("title", "units"),
    *("box.length", "box.width", "box.height", "sides.thickness", "sides.species", "sides.ends_species"),
    *("joint.finger", "joint.cutter", "joint.clearance", "joint.key_slack", "joint.proud", "joint.machine"),
    "joint.method",
    *("groove.cutter", "groove.depth", "groove.from_bottom", "groove.end_margin"),
    *("bottom.material", "bottom.thickness", "bottom.species", "bottom.clearance"),
    *("lid.thickness", "lid.plug", "lid.overhang", "lid.crown", "lid.clearance", "lid.species"),
    *("handle.saw", "handle.holes", "handle.middle", "handle.length", "handle.height", "handle.thickness"),
    *("shell.lobes", "shell.width", "shell.height", "pattern.width", "pattern.side", "pattern.across", "pattern.up"),
    *("stock.kerf", "stock.trim", "stock.currency", "print.paper", "print.printer"),
)
"""The settings that makers change most. All others of a section stand below them, a click away."""
_PARTS = {"shell": "a carved shell", "stock": "a rack of boards", "pattern": "a pattern of your own"}
_SELDOM = ("hours", "climate")
"""Sections that stand below a line of their own: what a class is planned with, and the air of the seasons."""
_MOST_MOVED = 6


class Mark(Record):
    """A mark of the story stick: a set-up with its number, how it stands with it, and whether it is the one in hand."""

    number: int
    name: str
    title: str
    state: str
    word: str
    chosen: bool


class Row(Record):
    """A row of a list, such as a board of the rack, and its fields."""

    number: int
    fields: tuple[Field, ...]


class Group(Record):
    """The settings of one section: those most wanted, the rest, and a list with an empty row to fill in.

    Where the box has no such part there are none, and `add` says what a button makes.
    """

    name: str
    title: str
    common: tuple[Field, ...] = ()
    more: tuple[Field, ...] = ()
    key: str = ""
    rows: tuple[Row, ...] = ()
    empty: tuple[Field, ...] = ()
    add: str = ""
    drop: str = ""


def context(state: State, chosen: str, base: str) -> dict[str, Any]:
    """Return all that the page of a box shows for a set-up, compared with the state before or with what is saved."""
    one, look = set_ups.found(chosen), state.look
    saved = state.as_saved
    compared = saved if base == "saved" else state.before
    moved = make.moved(state.look_at(compared), look) if compared else []
    number = set_ups.SET_UPS.index(one)
    general, groups = _general(one, state), list(_groups(one, state))
    return {
        "title": state.file.title,
        "headline": one.title,
        "first_error": _first_error(look),
        "verdict": look.verdict,
        "sizes": look.sizes,
        "units": "Sizes in mm." if state.file.units == "mm" else "Sizes in inches.",
        "marks": list(marks(look, one)),
        "set_up": one,
        "general": general,
        "groups": groups,
        "base": base if saved else "",
        "moved": moved[:_MOST_MOVED],
        "moved_more": len(moved) - _MOST_MOVED,
        "stops": [mark.title for mark in marks(look, one) if mark.state in ("error", "waits")],
        "before": set_ups.SET_UPS[number - 1] if number else None,
        "after": set_ups.SET_UPS[number + 1] if number + 1 < len(set_ups.SET_UPS) else None,
        "woods": fields.WOODS,
    }


def _first_error(look: Look) -> str:
    """Return where the first setting stands that must be changed; empty where there is none."""
    for one in set_ups.SET_UPS if look.waits_for else ():
        for problem in look.problems[one.name]:
            if problem.severity == "stop":
                return f"/box/{one.name}#field-{fields.identity_of(_where(problem))}"
    return ""


def changes(state: State, saved: sections.BoxFile | None) -> str:
    """Return how much of what is shown is not in the file, in words."""
    if state.kept.path is None:
        if not state.handed_out:
            return "not saved yet"
        return "a copy was saved" if state.handed_out == state.file.source else "changed since a copy was saved"
    if saved is None:
        return "a new file, not saved yet" if not state.kept.saved else "changed, not saved"
    if state.is_saved:
        return "as last saved"
    settings: list[Moved] = [one for one in make.moved(state.look_at(saved), state.look) if one.chosen]
    return f"{len(settings) or 1} change{'s' if len(settings) > 1 else ''} not saved"


def marks(look: Look, chosen: SetUp) -> Iterator[Mark]:
    """Yield the marks of the story stick."""
    waits = look.waits_for
    for number, one in enumerate(set_ups.SET_UPS, start=1):
        state = look.states[one.name]
        word = f"waits for {waits}" if state == "waits" and waits else _WORDS.get(state, state)
        yield Mark(number, one.name, one.title, state, word, one is chosen)


# -- the settings of a set-up --------------------------------------------------------------------------------------


def _general(one: SetUp, state: State) -> list[Told]:
    """Return what must be known of a set-up and of no single field of it."""
    shown = {name for name, _ in _shown_keys(one, state)}
    return [_told(problem, state) for problem in state.look.problems[one.name] if _where(problem) not in shown]


def _shown_keys(one: SetUp, state: State) -> Iterator[tuple[str, Key]]:
    for name in set_ups.sections_of(one):
        section = state.file if not name else getattr(state.file, name)
        if isinstance(section, Section):
            yield from _single(section, name)


def _single(section: Section, name: str) -> Iterator[tuple[str, Key]]:
    """Yield the keys of a section that hold one value, those of sections within it too."""
    for key in keys_of(type(section)).values():
        path = f"{name}.{key.name}" if name else key.name
        if key.kind:
            yield path, key
        elif name and isinstance(inner := getattr(section, key.name), Section):
            yield from _single(inner, path)


def _where(problem: Problem) -> str:
    return problem.where.partition(",")[0]


def _told(problem: Problem, state: State) -> Told:
    units, ways = state.file.units, []
    offered = fields.ways_of(problem, units)
    for way in offered:
        try:
            look = state.look_at(make.edited(state.file, way.typed))
        except JigleafError:
            continue  # what the file itself refuses is no way out
        said = [look.effects[key] for key in (*way.typed, problem.where) if key in look.effects]
        ways.append(replace(way, gives=f"{said[0]}.") if said else way)
    told = fields.told(problem, units, ways)
    return replace(told, suggests="") if offered and not ways else told


def _groups(one: SetUp, state: State) -> Iterator[Group]:
    for name in set_ups.sections_of(one):
        if not name:
            yield Group("", "", tuple(_fields_of(state.file, "", state)))
            continue
        key, held = keys_of(sections.BoxFile)[name], getattr(state.file, name)
        if key.many:
            yield _list(name, key, held, state)
        elif held is not None:
            yield from _of_section(name, key, held, state)
        elif name in ("pattern",) or (name == "shell" and state.file.pattern):
            continue
        elif name == "stock":
            yield _list("stock.boards", keys_of(sections.StockSection)["boards"], (), state)
        else:
            yield Group(name, "", add=_PARTS.get(name, f"a {name}"))


def _of_section(name: str, key: Key, held: Section, state: State) -> Iterator[Group]:
    found = list(_fields_of(held, name, state))
    common = tuple(one for one in found if one.key in _COMMON or one.required)
    if not common and name not in _SELDOM:
        common, found = tuple(found), []
    more = tuple(one for one in found if one not in common)
    drop = "" if key.required or key.default is not None else _PARTS.get(name, f"the {name}").removeprefix("a ")
    yield Group(name, _title(name, key), common, more, drop=drop.removeprefix("the "))
    for inner in keys_of(type(held)).values():
        if inner.many:
            yield _list(f"{name}.{inner.name}", inner, getattr(held, inner.name), state)


def _title(name: str, key: Key) -> str:
    doc = (key.section.__doc__ or "") if key.section else ""
    said = (key.about or doc.partition("\n")[0]).rstrip(".") or name
    return f"{said[:1].upper()}{said[1:]}"


def _fields_of(section: Section, name: str, state: State) -> Iterator[Field]:
    refused, look = state.refused, state.look
    told = _problems_by_key(state, name)
    nothing = set_ups.without_meaning(state.file) - refused.keys()
    for path, key in _single(section, name):
        if path in nothing:
            continue
        assert key.kind, f"{path} holds one value"
        place: Any = state.file
        for part in path.split("."):
            place = getattr(place, part)
        outer, _, last = path.rpartition(".")
        used = str(look.used(outer, last)) if place is None and outer.count(".") == 0 and outer else ""
        one = fields.field(
            path, key.kind, place, state.file.units,
            used=used, effect=look.effects.get(path, ""), told=told.get(path, ()), required=key.required,
        )  # fmt: skip
        if path in refused:
            problem = refused[path].problem
            said = replace(_told(problem, state), sign="Error")
            words = fields.without_unit(refused[path].typed, one.unit)
            one = replace(one, value=words, told=(said, *one.told), effect="Not in the box yet")
        yield one


def _problems_by_key(state: State, section: str) -> dict[str, list[Told]]:
    """Return what must be known of the settings of a section, by their keys."""
    found: dict[str, list[Told]] = {}
    for problem in state.look.problems[set_ups.of_section(section or "title").name]:
        where = _where(problem)
        if where.startswith(f"{section}.") or not section:
            found.setdefault(where, []).append(_told(problem, state))
    return found


def _list(path: str, key: Key, held: Sequence[Section], state: State) -> Group:
    """Return a list as a table, with an empty row to fill in."""
    assert key.section, f"{path} is a list of sections"
    units = state.file.units
    columns = [one for one in keys_of(key.section).values() if one.kind]

    def cells(number: int, row: Section | None) -> Iterator[Field]:
        for column in columns:
            assert column.kind, f"{path}.{column.name} holds one value"
            where = f"{path}.{number}.{column.name}"
            value = getattr(row, column.name) if row is not None else None
            cell = fields.field(where, column.kind, value, units, required=column.required)
            if where in state.refused:
                refused = state.refused[where]
                cell = replace(cell, value=refused.typed, told=(fields.told(refused.problem, units),))
            yield cell

    rows = tuple(Row(number, tuple(cells(number, row))) for number, row in enumerate(held))
    return Group(path, _title(path, key), key=path, rows=rows, empty=tuple(cells(len(held), None)))


# -- what is drawn -------------------------------------------------------------------------------------------------


def picture(file: sections.BoxFile, chosen: str, *, dark: bool) -> dict[str, Any]:
    """Return the box in its woods with the part of a set-up brought out, and what is shown in words."""
    name = set_ups.found(chosen).name
    shown = sheets.inline(make.picture_in_hand(file, name, dark=dark))
    return {"picture": shown, "words": make.picture_words(file, name)}


def pages(
    drawn: Drawn,
    file: sections.BoxFile,
    saved: sections.BoxFile | None,
    look: Look,
    chosen: str,
    wanted: str,
    newest: Callable[[], bool],
) -> dict[str, Any] | None:
    """Return the pages of a set-up, the wanted one drawn; None where nobody waits for them any more.

    Which of them are to be printed again takes as long to learn as to draw one. Here it is said where it is known
    already; `again` finds it out.
    """
    one = set_ups.found(chosen)
    names = make.page_names_of_box(file, one.pages) if not look.waits_for else []
    if not names:
        return {"waits": "Its pages wait for what can’t be cut yet." if look.waits_for else "It has no pages."}
    wanted = wanted if wanted in {name for name, _, _ in names} else names[0][0]
    found = drawn.of(("sheets", file.source, wanted), lambda: sheets.sheets_of(file, wanted), newest)
    if found is None:
        return None
    known = drawn.known(_changes_key(file, saved))
    listed = [
        sheets.Shown(name, number, title, _again(name, known, saved), name == wanted) for name, number, title in names
    ]
    return {"pages": listed, "sheets": found, "waits": ""}


def again(
    drawn: Drawn,
    file: sections.BoxFile,
    saved: sections.BoxFile | None,
    look: Look,
    chosen: str,
    newest: Callable[[], bool],
) -> dict[str, Any] | None:
    """Return which pages are to be printed again, by the names of `pages` too; None where nobody waits any more."""
    if saved is None or look.waits_for:
        return {}
    changed = drawn.of(_changes_key(file, saved), lambda: make.names_that_change(saved, file), newest)
    if not isinstance(changed, list):
        return None
    names = make.page_names_of_box(file, set_ups.found(chosen).pages)
    return {"again": sheets.again(changed), "states": {name: _again(name, changed, saved) for name, _, _ in names}}


def _changes_key(file: sections.BoxFile, saved: sections.BoxFile | None) -> tuple[str, ...]:
    return ("changed", file.source, saved.source if saved else "")


def _again(name: str, changed: object, saved: sections.BoxFile | None) -> str:
    """Return whether a page is to be printed again, in words; none where it is not known yet."""
    if saved is None:
        return "to print"
    if not isinstance(changed, list):
        return ""
    cards = any(page.partition("-")[2].partition("-")[2] == name or page.partition("-")[2] == name for page in changed)
    templates = name.startswith("templates-") and any(page.startswith("template-") for page in changed)
    return "print again" if cards or templates else "as it was"
