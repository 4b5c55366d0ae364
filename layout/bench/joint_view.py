"""The test joint: what callipers read, typed where they go, and what to move, with how it then fits."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from flask import Flask, Response, abort, render_template
from markupsafe import Markup

from jigs import record
from jigs.base import lengths
from jigs.base.errors import CannotBuild, CannotRead, JigleafError, WrongReadings
from jigs.base.lazily import lazily
from jigs.base.rules import stop
from jigs.record import Record, replace
from layout import make
from layout.bench import box_view, fields, printing
from layout.bench import pages as sheets
from layout.bench.fields import Told
from layout.bench.history import History
from layout.bench.page import Bench, Done, act, body, shell, words_of

with lazily():
    from jigs.box import set_ups
    from jigs.parts.joint import trial_joint
    from jigs.trade import tune as trade_tune

if TYPE_CHECKING:
    from jigs.base.cards import Reading
    from jigs.base.lengths import Units
    from jigs.base.rules import Problem
    from jigs.parts.joint.fit_scales import Scale
    from layout.bench.state import State

_ABOUT: Mapping[str, str] = {
    "finger": "Callipers about the finger.",
    "socket": "Callipers inside the socket.",
    "flush_high": "The bottom edge of the end board, pushed up: + is inside, − stands out.",
    "flush_low": "The same, pushed down: + is inside, − stands out.",
    "proud": "From the face of the front to the end of a finger.",
    "slack": "A feeler beside the key.",
}
"""How each is read, by the names of the arithmetic. What they are called the card says, see `trial_joint.READ`."""
_MORE: Mapping[str, tuple[str, str]] = {
    "clearance": ("clearance of the closed joint", "Only where A and B were not read: how far it slides."),
    "error": ("how far a reading may be wrong", "Of your callipers. Usually 0.02 mm, or 0.001 in."),
}
_PIVOT: Mapping[str, tuple[str, str]] = {
    "to_key": ("from the pivot to key and cutter", "To the line through both."),
    "to_nudge": ("from the pivot to the nudge", "To where you push the sled’s free end."),
}
_MOUNTS: Mapping[str, str] = {
    "clamped plate": "on a clamped plate, which you move",
    "screwed plate": "on a screwed plate: shim or plane the key",
    "pivot": "on a sled that turns on a pivot, which you nudge",
}
_PREFIX = "reading."
_MOST_JOINTS, _LONGEST = 40, 80
_CUT = "cut-fingers"
"""The card that comes after a good test joint."""
_NONE = "–"


class Tried(Record):
    """A test joint that was typed: its clearance and edges in words, what was then moved, and what was typed of it."""

    clearance: str
    out: str
    moved: str
    typed: Mapping[str, str]


class Typed(Record):
    """All that is typed on the page: the readings of the joint at hand, what the key is on, the joints before."""

    readings: Mapping[str, str] = record.field(default_factory=dict)
    mount: str = "clamped plate"
    tried: tuple[Tried, ...] = ()


@dataclass
class Session:
    """What was typed of test joints since the bench was opened, step by step; lengths are words in `units`."""

    units: Units
    steps: History[Typed] = field(default_factory=lambda: History([Typed()]))
    last: list[tuple[str, str, str]] = field(default_factory=list)
    """What the last step moved: name, old, new."""

    @property
    def typed(self) -> Mapping[str, str]:
        """The readings of the joint at hand, as they were typed."""
        return self.steps.now.readings

    @property
    def mount(self) -> str:
        """What the key is on."""
        return self.steps.now.mount

    @property
    def tried(self) -> tuple[Tried, ...]:
        """The joints before."""
        return self.steps.now.tried

    @property
    def number(self) -> int:
        """Which test joint is being typed."""
        return len(self.tried) + 1


class Answer(Record):
    """What comes of the readings as they are typed: the tuned joint, or why there is none yet."""

    tuned: make.Tuned | None = None
    wrong: Mapping[str, tuple[Problem, ...]] = record.field(default_factory=dict)
    """What can't be so, by the reading at which it stands; under "" what stands at none."""
    waits: str = ""


# -- what is worked out --------------------------------------------------------------------------------------------


def session_of(bench: Bench) -> Session:
    """Return what was typed of test joints; nothing of it is kept when the box's units change."""
    units = bench.state.file.units
    kept = bench.beside.get("joint")
    if not isinstance(kept, Session) or kept.units != units:
        kept = bench.beside["joint"] = Session(units)
    return kept


def answered(state: State, session: Session) -> Answer:
    """Return what comes of what is typed. Raises CannotBuild where a rule stops the joint."""
    read, wrong = _read(session)
    if wrong:
        return Answer(wrong=wrong, waits="Put right what stands at its field.")
    if not any(name in read for name in (*_ABOUT, "clearance")):
        make.readings_of(state.file)  # a stopped joint is told at once
        return Answer(waits="Type what the callipers read. A and B are enough to begin with.")
    try:
        return _told_where(state, session, read)
    except WrongReadings as error:
        return _not_enough(str(error), session)


def _told_where(state: State, session: Session, read: Mapping[str, float]) -> Answer:
    given = dict(read)
    to_key, to_nudge = given.pop("to_key", None), given.pop("to_nudge", None)
    mount: trade_tune.Mount = session.mount  # type: ignore[assignment]  # one of _MOUNTS, see `typed`
    if mount != "pivot":
        to_key = to_nudge = None
    tuned = make.tuned(state.file, trade_tune.Readings(**given), mount, to_key, to_nudge)
    found: dict[str, tuple[Problem, ...]] = {}
    for problem in tuned.report.problems:
        places = [name for name in problem.where.split(", ") if name in (*_ABOUT, *_MORE)]
        place = next((name for name in places if name in read), places[0] if places else "")
        found[place] = (*found.get(place, ()), problem)
    return Answer(tuned, found, "" if not tuned.report.stopped else "Nothing is moved by readings that can’t be right.")


def _read(session: Session) -> tuple[dict[str, float], dict[str, tuple[Problem, ...]]]:
    """Return the lengths that were typed, mm, and what can't be read as one."""
    read: dict[str, float] = {}
    wrong: dict[str, tuple[Problem, ...]] = {}
    for name, words in session.typed.items():
        if not words.strip():
            continue
        try:
            read[name] = float(lengths.read(words, session.units))
        except lengths.LengthError as error:
            wrong[name] = (stop(name, "{said}", said=str(error)),)
    return read, wrong


def _not_enough(message: str, session: Session) -> Answer:
    """Return what is missing as words that wait, what can't be at the reading that it is about."""
    if message.startswith("pivot: needed"):
        return Answer(waits="Type both lengths from the pivot.")
    if "one of these must be read" in message:
        typed = {name for name, words in session.typed.items() if words.strip()}
        other = {"finger": "B, the socket", "socket": "A, the widest finger"}
        missing = [said for name, said in other.items() if name in typed]
        return Answer(waits=f"Type {missing[0] if missing else 'A and B'} as well: then the steps stand here.")
    if "give both" in message:
        missing_one = "flush_low" if session.typed.get("flush_high", "").strip() else "flush_high"
        says = "C and D go together: push the end board up for one and down for the other"
        return Answer(wrong={missing_one: (stop(missing_one, says, "type this one too, or take the other out"),)})
    name = message.split(" is ", maxsplit=1)[0]
    typed_words = session.typed.get(name, "")
    said = re.sub(r"^\w+ is \S+; it", f"{typed_words} can’t be read here: it", message)
    return Answer(wrong={name: (stop(name, "{said}", said=said),)}, waits="Put right what stands at its field.")


# -- what is done --------------------------------------------------------------------------------------------------


def _acts(bench: Bench) -> dict[str, Callable[[State, Done], str]]:
    """Return what this page does besides what every page can."""

    def own(did: Callable[[State, Session, Done], str]) -> Callable[[State, Done], str]:
        def done(state: State, what: Done) -> str:
            said = did(state, session_of(bench), what)
            state.version += 1
            return said

        return done

    steps = {"type": _type, "next-joint": _next, "last-joint": _back, "undo": _undo, "redo": _redo}
    return {name: own(_noted(did)) for name, did in steps.items()}


def _noted(did: Callable[[State, Session, Done], str]) -> Callable[[State, Session, Done], str]:
    """Return a step that notes what it moves, of the same joint; another joint has other readings."""

    def done(state: State, session: Session, what: Done) -> str:
        before, was = _summary(state, session), session.steps.now
        said = did(state, session, what)
        now = session.steps.now
        if len(now.tried) != len(was.tried):
            session.last = []
        elif now != was:
            session.last = [*_typed_between(was, now), *_between(before, _summary(state, session))]
        return said

    return done


def _typed_between(was: Typed, now: Typed) -> list[tuple[str, str, str]]:
    """Return what was typed between two states: name, old, new."""
    names = {name: _spoken(name) for name in dict.fromkeys([*now.readings, *was.readings])}
    moved = [
        (said, _bare(was.readings.get(name, "")), _bare(now.readings.get(name, ""))) for name, said in names.items()
    ]
    return [one for one in [*moved, ("The key is glued", was.mount, now.mount)] if one[1] != one[2]]


def _between(before: Mapping[str, str], after: Mapping[str, str]) -> list[tuple[str, str, str]]:
    """Return what differs between two summaries: name, old, new."""
    names = dict.fromkeys([*after, *before])
    moved = [(name, before.get(name, _NONE), after.get(name, _NONE)) for name in names]
    return [one for one in moved if one[1] != one[2]]


def _type(state: State, session: Session, done: Done) -> str:
    """Take what was typed."""
    del state
    readings, mount = dict(session.typed), session.mount
    for key, words in words_of(done["typed"]).items():
        name = key.removeprefix(_PREFIX)
        if name == "mount" and words in _MOUNTS:
            mount = words
        elif name in {*_ABOUT, *_MORE, *_PIVOT}:
            readings[name] = words[:_LONGEST]
        else:
            raise KeyError(key)
    session.steps.take(replace(session.steps.now, readings=readings, mount=mount))
    return ""


def _undo(state: State, session: Session, done: Done) -> str:
    """Take back the last step on this page, and only on this page."""
    del state, done
    before = session.number
    session.steps.undo()
    return _which(before, session)


def _redo(state: State, session: Session, done: Done) -> str:
    """Do again what was taken back last."""
    del state, done
    before = session.number
    session.steps.redo()
    return _which(before, session)


def _which(before: int, session: Session) -> str:
    return f"This is test joint {session.number} again, as you typed it." if session.number != before else ""


def _next(state: State, session: Session, done: Done) -> str:
    """Put the test joint among those that were tried, and begin another."""
    del done
    answer = answered(state, session)
    if answer.tuned is None or answer.tuned.report.stopped:
        return "This test joint has no steps yet; type its readings first."
    if len(session.tried) >= _MOST_JOINTS:
        return f"{_MOST_JOINTS} test joints are kept, and no more; open the bench again to begin anew."
    tried = (*session.tried, _tried(answer.tuned, session))
    kept = {name: words for name, words in session.typed.items() if name in ("error", *_PIVOT)}
    session.steps.take(replace(session.steps.now, readings=kept, tried=tried))
    return ""


def _back(state: State, session: Session, done: Done) -> str:
    """Take the last test joint out of those that were tried, its readings as they were typed."""
    del state, done
    if session.tried:
        *before, last = session.tried
        session.steps.take(replace(session.steps.now, readings=last.typed, tried=tuple(before)))
    return ""


def _tried(tuned: make.Tuned, session: Session) -> Tried:
    said = _fit(tuned, session.units)
    moved = ", ".join(tuned.in_short) or "nothing"
    return Tried(said["Clearance"], said.get("Bottom edges out", "not read"), moved, dict(session.typed))


def _fit(tuned: make.Tuned, units: Units) -> dict[str, str]:
    """Return clearance and edges of the joint as it is, in words."""
    return {scale.title: lengths.bare(scale.now, units, "gauge") for scale in tuned.scales}


def _summary(state: State, session: Session) -> dict[str, str]:
    """Return what the strip compares: the fit, and each amount by what is done."""
    try:
        tuned = answered(state, session).tuned
    except JigleafError:
        return {}
    if tuned is None:
        return {}
    amounts = {
        short.replace(lengths.bare(one.amount, session.units, "gauge"), "").replace("  ", " ").strip().capitalize():
            lengths.bare(one.amount, session.units, "gauge")
        for one, short in zip(tuned.remedies, tuned.in_short, strict=True)
    }  # fmt: skip
    return _fit(tuned, session.units) | amounts


def _spoken(name: str) -> str:
    letter, said = trial_joint.READ.get(name, ("", {**_MORE, **_PIVOT}.get(name, (name,))[0]))
    return f"{letter}, {said}" if letter else said.capitalize()


def _bare(words: str) -> str:
    return words.strip() or _NONE


# -- what is shown -------------------------------------------------------------------------------------------------


class Cell(Record):
    """A reading as a field: what it is, what is wanted, how it compares, its picture, what can't be so."""

    name: str
    letter: str
    label: str
    about: str
    wanted: str = ""
    against: str = ""
    out: bool = False
    value: str = ""
    usual: str = ""
    picture: Markup | None = None
    drawn: str = ""
    told: tuple[Told, ...] = ()

    @property
    def worst(self) -> str:
        """The sign of the first problem; empty where there is none."""
        return self.told[0].state if self.told else ""


class Step(Record):
    """A step: its sentence around the amount, its picture, and what in that is not true to the eye."""

    before: str
    amount: str
    after: str
    picture: Markup
    drawn: str


class WayOn(Record):
    """What comes after a good joint: what it is called, where it stands, and which letters were not read yet."""

    said: str
    address: str
    unread: str


class Bar(Record):
    """A scale as it is drawn: places across in px, and what stands at them."""

    scale: Scale
    ticks: tuple[tuple[float, str], ...]
    small: tuple[float, ...]
    good: tuple[float, float]
    spread: tuple[float, float]
    now: float
    then: float

    @property
    def now_said(self) -> str:
        """How it is now, in words."""
        return f"now {self.scale.said(self.scale.now)}"

    @property
    def then_said(self) -> str:
        """How it will be, in words."""
        return f"then {self.scale.said(self.scale.then)}"

    @staticmethod
    def anchor(place: float) -> str:
        """Return which end of words stands at a place, so that they stay on the picture."""
        return "start" if place < _LEFT + 0.25 * _LONG else "end" if place > _LEFT + 0.75 * _LONG else "middle"


_LEFT, _LONG = 16.0, 330.0
"""Where a scale begins on its picture and how long it is, px."""


def bar(scale: Scale) -> Bar:
    """Return a scale as it is drawn."""

    def at(mm: float) -> float:
        return round(_LEFT + _LONG * min(max(mm, 0.0), scale.top) / scale.top, 2)

    count = round(scale.top / scale.step) * 5
    return Bar(
        scale,
        tuple((at(mm), words) for mm, words in scale.numbers),
        tuple(at(scale.top * i / count) for i in range(count + 1)),
        (at(scale.low), at(scale.high)),
        (at(scale.then - scale.error), at(scale.then + scale.error)),
        at(scale.now),
        at(scale.then),
    )


def context(bench: Bench) -> dict[str, Any]:
    """Return all that the page shows."""
    state, session = bench.state, session_of(bench)
    shown: dict[str, Any] = {
        "title": state.file.title,
        "headline": "Test joint",
        "units": "mm" if state.file.units == "mm" else "inches",
        "unit": state.file.units,
        "number": session.number,
        "tried": session.tried,
        "last": session.last,
        "mounts": _MOUNTS,
        "mount": session.mount,
        "can_undo": session.steps.can_undo,
        "can_redo": session.steps.can_redo,
    }
    try:
        answer = answered(state, session)
        cells = list(_cells(bench, session, answer))
    except CannotBuild as error:
        stops = [problem for problem in error.problems if problem.severity == "stop"]
        told = [fields.told(problem, session.units) for problem in stops]
        return shown | {"stopped": told, "marks": _marks(state, None)}
    found, general = answer.tuned, answer.wrong.get("", ())
    return shown | {
        "stopped": [],
        "marks": _marks(state, found),
        "cells": cells,
        "more": [_plain(name, said, session, answer) for name, said in _MORE.items()],
        "pivot": [_plain(name, said, session, answer) for name, said in _PIVOT.items()],
        "answer": answer,
        "general": [fields.told(problem, session.units) for problem in general if problem.severity != "note"],
        "left_alone": [fields.told(problem, session.units).says for problem in general if problem.severity == "note"],
        "way_on": _way_on(state, found, session),
        "steps": list(_steps(bench, found)) if found else [],
        "bars": [bar(scale) for scale in found.scales] if found else [],
        "expected": _expected(found) if found else [],
        "good": _good(state),
        "done": _done(found, session.number) if found else "",
        "can_print": bool(found and not found.report.stopped),
    }


def _expected(found: make.Tuned) -> list[str]:
    """Return what is said below the steps: what to expect, and what becomes of the sheets."""
    said = found.report.text.splitlines()[2 + len(found.steps) :]
    return said[1:] if found.good and not found.steps else said  # the heading says to leave it


def _way_on(state: State, found: make.Tuned | None, session: Session) -> WayOn | None:
    """Return what comes after a joint that is good: first what was not read of it, then the cut."""
    if not found or found.report.stopped or not found.good:
        return None
    unread = [letter for name, (letter, _) in trial_joint.READ.items() if not session.typed.get(name, "").strip()]
    try:
        cards = {name: number for name, number, _ in make.page_names_of_box(state.file, ("sled",))}
    except CannotBuild:
        cards = {}
    number = cards.get(_CUT)
    return WayOn(
        f"Now cut the joints{f': card {number}' if number else ''}", f"/box/sled?page={_CUT}#pages", _listed(unread)
    )


def _listed(letters: Sequence[str]) -> str:
    """Return letters as they are read out: "C, D and F"."""
    *first, last = letters or ("",)
    return f"{', '.join(first)} and {last}" if first else last


def _marks(state: State, found: make.Tuned | None) -> list[box_view.Mark]:
    """Return the marks of the story stick; that of the sled says how many things are to be moved."""
    sled = set_ups.found("sled")
    marks = list(box_view.marks(state.look, sled))
    if not found or not found.steps:
        return marks
    told = f"{len(found.steps)} to move"
    return [
        replace(mark, state="part", word=told)
        if mark.chosen and mark.state in ("fine", "choice", "get", "part")
        else mark
        for mark in marks
    ]


def _cells(bench: Bench, session: Session, answer: Answer) -> list[Cell]:
    """Return the readings A to F, with their pictures. Raises CannotBuild where a rule stops the joint."""
    file, units = bench.state.file, session.units
    read, _ = _read(session)
    pictures = bench.drawn.of(("readings", file.source), lambda: make.reading_pictures(file))
    assert isinstance(pictures, dict), "pictures by the names of readings"
    cells = []
    for (name, (letter, label)), row in zip(trial_joint.READ.items(), make.readings_of(file), strict=True):
        against, out = _against(row, read[name], units) if name in read else ("", False)
        cells.append(
            Cell(
                name, letter, label, _ABOUT[name], _wanted(row, units), against, out, session.typed.get(name, ""), "",
                sheets.inline(pictures[name].svg), pictures[name].drawn, _told(answer, name, units),
            )
        )  # fmt: skip
    return cells


def _plain(name: str, said: tuple[str, str], session: Session, answer: Answer) -> Cell:
    label, about = said
    usual = {"error": lengths.bare(trade_tune.Readings().error, session.units)}.get(name, "")
    told = _told(answer, name, session.units)
    return Cell(name, "", label, about, value=session.typed.get(name, ""), usual=usual, told=told)


def _told(answer: Answer, name: str, units: Units) -> tuple[Told, ...]:
    return tuple(fields.told(problem, units) for problem in answer.wrong.get(name, ()))


def _wanted(row: Reading, units: Units) -> str:
    return lengths.bare(row.aim, units, "gauge") if isinstance(row.aim, float) else str(row.aim)


def _against(row: Reading, read: float, units: Units) -> tuple[str, bool]:
    """Return how a reading compares with what is wanted, and whether that holds the work up."""
    assert isinstance(row.aim, float), "what is wanted is a length"
    assert isinstance(row.low, float), "so are its limits"
    off = lengths.bare(abs(read - row.aim), units, "gauge")
    none = lengths.bare(0.0, units, "gauge")
    slack = 1e-6
    outside = read < row.low - slack or (row.high is not None and read > row.high + slack)
    if off == none:
        return "as wanted", False
    return f"{off} {'over' if read > row.aim else 'under'}", outside


def _steps(bench: Bench, found: make.Tuned) -> list[Step]:
    file = bench.state.file
    key = ("remedies", file.source, repr(found.remedies), repr(found.pivot))
    pictures = bench.drawn.of(key, lambda: make.remedy_pictures(file, found))
    assert isinstance(pictures, list), "a picture for each step"
    steps = []
    for remedy, sentence, picture in zip(found.remedies, found.steps, pictures, strict=True):
        amount = lengths.show(remedy.amount, file.units, "gauge")
        before, said, after = sentence.partition(amount)
        steps.append(Step(before, said, after, sheets.inline(picture.svg), picture.drawn))
    return steps


def _good(state: State) -> tuple[str, str]:
    """Return what clearance and what edges out are good, in words."""
    rows = make.readings_of(state.file)
    most = next(row.high for row in rows if row.letter == "C") or 0.0
    wanted = state.file.joint.clearance
    least = max(0.0, 2 * wanted - most)
    low, high = (lengths.bare(one, state.file.units, "gauge") for one in (least, most))
    return f"{low} to {high}", f"{high} at most"


def _done(found: make.Tuned, number: int) -> str:
    if found.report.stopped:
        return ""
    said = {0: "Type", 1: "Done: type", 2: "Both done: type"}.get(len(found.steps), "All done: type")
    return f"{said} test joint {number + 1}"


# -- its addresses -------------------------------------------------------------------------------------------------


def add(app: Flask, bench: Bench) -> None:
    """Add the page of the test joint and what is saved from it."""

    def page(said: str = "") -> str:
        return render_template("joint.html", **{**shell(bench, "joint", said), **context(bench)})

    @app.get("/joint")
    def show_joint() -> str:
        with bench.state.lock:
            return page()

    @app.post("/joint")
    def change_joint() -> str:
        done = body()
        with bench.state.lock:
            return page(act(bench, done, _acts(bench)))

    @app.get("/joint/<name>")
    def save_joint(name: str) -> Any:
        with bench.state.lock:
            try:
                return _saved(bench, name) or abort(404)
            except JigleafError as error:
                said = error.says(bench.state.file.units)
                return render_template("refused.html", said="This can’t be printed yet.", help=said), 409


def _saved(bench: Bench, name: str) -> Response | None:
    """Return a file to print. Raises as drawing it does, and CannotRead where there are no steps yet."""
    file, session = bench.state.file, session_of(bench)
    if name == "page.pdf":
        made = make.joint_sheet(file, printing.printed(bench.state, "pdf"))
    elif name == "steps.pdf":
        found = answered(bench.state, session).tuned
        if found is None or found.report.stopped:
            raise CannotRead("there are no steps to print: type the readings of a test joint first")
        made = make.steps_sheet(file, found, session.number, printing.printed(bench.state, "pdf"))
    else:
        return None
    saved, content = next(iter(made.files.items()))
    answer = Response(content, mimetype="application/pdf")
    answer.headers.set("Content-Disposition", "attachment", filename=saved)
    return answer
