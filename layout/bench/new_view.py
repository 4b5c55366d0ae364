"""A new box, asked for one question below another: what holds, what each answer does, and the box that comes of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from flask import Flask, abort, redirect, render_template, request

from jigs.base.errors import CannotBuild, CannotRead, JigleafError
from jigs.base.kinds import Length
from jigs.base.lengths import Units
from jigs.base.rules import as_sentence
from jigs.boxfile import edit
from jigs.record import Record, replace
from layout import make
from layout.bench import box_view, fields
from layout.bench.fields import Field, Told, Way
from layout.bench.page import Bench, Done, act, body, shell

if TYPE_CHECKING:
    from jigs.box.questions import Asked, Form

_PART = "part."
"""How the keys of the ticks begin that say which parts a box has."""
_CONTENTS = "contents"
"""What the question is called that asks what goes in: it is no key of the file."""
_SELDOM = frozenset({"shell"})
"""Parts that are asked for only where a maker ticks them."""


@dataclass
class Asking:
    """What was answered so far, in words by key; what was not is as it is offered."""

    units: Units = "mm"
    typed: dict[str, str] = field(default_factory=dict)
    without: set[str] = field(default_factory=lambda: set(_SELDOM))
    contents: str = ""
    """What goes in, as it was typed."""

    def answer(self, key: str, words: str) -> None:
        """Take an answer; nothing takes what is offered. In other units the sizes are asked for anew."""
        if key == "units":
            self.units = "in" if words == "in" else "mm"
            self.typed = {one: said for one, said in self.typed.items() if not _is_size(one)}
            self.contents = ""
        elif key == _CONTENTS:
            self.contents = words.strip()
        elif key.startswith(_PART):
            change = self.without.discard if words == "yes" else self.without.add
            change(key.removeprefix(_PART))
        else:
            edit.kind_at(key)
            self.typed[key] = words

    @property
    def form(self) -> Form:
        """The questions with these answers."""
        return _form(*self._answers)

    @property
    def held(self) -> make.Contents | None:
        """How what goes in does; None where nothing was said of it. Raises CannotRead for what is not three sizes."""
        return _held(self.contents, *self._answers) if self.contents else None

    @property
    def _answers(self) -> tuple[Units, tuple[tuple[str, str], ...], tuple[str, ...]]:
        return self.units, tuple(sorted(self.typed.items())), tuple(sorted(self.without))


@lru_cache(maxsize=8)
def _form(units: Units, typed: tuple[tuple[str, str], ...], without: tuple[str, ...]) -> Form:
    """Return the questions with some answers: the page, its picture and the box itself ask for the same."""
    return make.questions_for_box(units, dict(typed), without)


@lru_cache(maxsize=8)
def _held(contents: str, units: Units, typed: tuple[tuple[str, str], ...], without: tuple[str, ...]) -> make.Contents:
    """Return how something goes into the box of some answers. Raises CannotRead for what is not three sizes."""
    made = _form(units, typed, without).made
    return make.contents_of_box(contents, units, dict(typed), without, made)


def _is_size(key: str) -> bool:
    return isinstance(edit.kind_at(key), Length)


def add(app: Flask, bench: Bench) -> None:
    """Add the page of a new box to the bench."""

    def asking() -> Asking:
        found: Asking = bench.beside.setdefault("new", Asking())
        return found

    def page(said: str = "") -> str:
        return render_template("new.html", **{**shell(bench, "new", said), **_context(asking(), bench)})

    @app.get("/new")
    def show_new() -> str:
        with bench.state.lock:
            return page()

    @app.post("/new")
    def answer_new() -> Any:
        done = body()
        with bench.state.lock:
            if done.get("do") not in ("type", "again", "make"):
                return page(act(bench, done))
            try:
                said = _done(asking(), done, bench)
                return page(said) if isinstance(said, str) else said
            except JigleafError as error:
                return page(error.says(asking().units).removeprefix("Error: "))
            except (KeyError, TypeError, ValueError, AttributeError):
                return page("That could not be understood, and nothing was changed.")

    @app.get("/new/picture")
    def picture_of_new() -> Any:
        dark = request.args.get("dark") == "1"
        with bench.state.lock:
            text = asking().form.made.text
        drawn = bench.drawn.of(
            ("new", text, str(dark)),
            lambda: box_view.picture(make.box(text, bench.state.kept.name), "wood", dark=dark),
            lambda: asking().form.made.text == text if request.args.get("version") else True,
        )
        return render_template("picture.html", **drawn) if isinstance(drawn, dict) else abort(409)


def _done(asking: Asking, done: Done, bench: Bench) -> Any:
    """Do what the page sent; return what is to be said of it, or where to go on, if the box is made."""
    match done["do"]:
        case "type":
            for key, words in done["typed"].items():
                if not isinstance(words, str) or len(words) > 2000:
                    raise TypeError("only words are typed")
                asking.answer(str(key), words)
        case "again":
            bench.beside["new"] = Asking(asking.units)
        case "make":
            state = bench.state
            if done.get("version") != state.version:
                return "The box was changed in another window. Look at it first; it was left as it is."
            text = asking.form.made.text
            state.make(lambda _: make.box(text, state.kept.name))
            return redirect("/box/wood", 303)
    return ""


# -- what it shows -------------------------------------------------------------------------------------------------


class Part(Record):
    """A part that a box can do without: whether it is wanted, why it has no room, and the questions of it."""

    name: str
    tick: Field
    no_room: str
    questions: tuple[Field, ...]


def _context(asking: Asking, bench: Bench) -> dict[str, Any]:
    form = asking.form
    look = make.look(make.box(form.made.text, bench.state.kept.name))
    contents, too_large = _contents(asking)
    shown = {one.question.key: _field(one, asking, too_large.get(one.question.key)) for one in form.asked}
    of_parts = {key for key in shown for part, _, _ in make.parts_asked_for() if _of(key, part)}
    return {
        "title": "A new box",
        "headline": "questions",
        "sizes": look.sizes,
        "units": fields.choice_of_units(asking.units),
        "contents": contents,
        "first": [one for key, one in shown.items() if key not in of_parts],
        "parts": list(_parts(asking, form, shown)),
        "woods": fields.WOODS,
        "begun": bool(asking.typed or asking.contents or asking.without != _SELDOM),
        "replaces": bench.state.file.title if bench.state.kept.saved or bench.state.can_undo else "",
    }


def _contents(asking: Asking) -> tuple[Field, Mapping[str, Told]]:
    """Return the question what goes in, and what is too small for it, by the key of the size."""
    about = "With a bit of room: what stands in the box, before anything else. May stay empty."
    one = Field(_CONTENTS, "What goes in? Length × width × height", about, "", "words", asking.contents)
    try:
        held = asking.held
    except CannotRead as error:
        return replace(one, told=(Told("Error", as_sentence(str(error)), ""),)), {}
    if held is None:
        return one, {}
    ways = _ways_to_hold(held, asking)
    lacking = {key: Told("WARNING", as_sentence(said), "") for key, said in held.goes.too_large.items()}
    if lacking:
        said = " ".join(told.says for told in lacking.values())
        none = "" if ways else "No box of these parts takes it; change their sizes, or leave a part out."
        return replace(one, told=(Told("WARNING", f"It does not go in. {said}", none, ways),)), lacking
    spare = f"It goes in, with {held.goes.spare} to spare"
    if ways:
        return replace(one, told=(Told("CHOOSE", f"{spare}.", "", ways),)), {}
    return replace(one, effect=f"{spare}: the smallest box with these parts that takes it."), {}


def _ways_to_hold(held: make.Contents, asking: Asking) -> tuple[Way, ...]:
    """Return the outside sizes that just take what goes in as a button; nothing where the box has them."""
    now = {one.question.key: one.answer for one in asking.form.asked}
    if held.proposal is None or all(now[key] == said for key, said in held.proposal.typed.items()):
        return ()
    long, wide, boards = held.proposal.typed.values()
    label = f"Make it {long} × {wide} {asking.units} outside, of boards {boards} {asking.units} wide"
    return (Way(label, held.proposal.typed),)


def _of(key: str, part: str) -> bool:
    sections = next(held for name, _, held in make.parts_asked_for() if name == part)
    return key.partition(".")[0] in sections


def _parts(asking: Asking, form: Form, shown: Mapping[str, Field]) -> Iterator[Part]:
    for name, words, _ in make.parts_asked_for():
        refused = form.no_room.get(name)
        label = words.removeprefix("a ")
        tick = Field(
            f"{_PART}{name}", f"{label[:1].upper()}{label[1:]}", "", "", "flag",
            "no" if name in asking.without or refused else "yes",
        )  # fmt: skip
        why = f"There is no room for it. {_said(refused, asking.units)}" if refused else ""
        yield Part(name, tick, why, tuple(one for key, one in shown.items() if _of(key, name)))


_CHOICES: Mapping[str, tuple[tuple[str, str], ...]] = {
    "handle.holes": (("2", "2, one through each end"), ("3", "3, one more in the middle")),
    "handle.middle": (
        ("arch", "an arch: open at the base, so that the handle stands on two feet"),
        ("eye", "an eye: a whole hole, with wood all round"),
    ),
}
"""Questions with few answers, and what each answer is."""


def _field(one: Asked, asking: Asking, too_small: Told | None = None) -> Field:
    key, units = one.question.key, asking.units
    effect = as_sentence(one.effect) if one.effect.lower() != one.answer.lower() else ""  # a wood by another name
    shown = fields.field(key, edit.kind_at(key), None, units, effect=effect)
    about = as_sentence(one.question.about) if one.question.about else ""
    shown = replace(shown, label=one.question.words, about=about, value=one.answer)
    if key in _CHOICES:
        shown = replace(shown, form="choice", options=_CHOICES[key], limits="", effect="")
    if one.refused is not None:
        told = (_told(one, units),)
        return replace(shown, value=asking.typed[key], told=told, effect=f"{one.answer} is used until then.")
    return replace(shown, told=(too_small,)) if too_small else shown


def _told(one: Asked, units: Units) -> Told:
    """Return why an answer can't be taken, with what is offered instead as a button."""
    instead = Way(f"Take {one.answer}{f' {units}' if _is_size(one.question.key) else ''}", {one.question.key: ""})
    return Told("Error", _said(one.refused, units), "", (instead,))


def _said(error: JigleafError | None, units: Units) -> str:
    if isinstance(error, CannotBuild):
        return " ".join(as_sentence(problem.says(units)) for problem in error.problems[:3])
    return as_sentence(str(error))
