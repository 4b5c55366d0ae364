"""A new box, asked for one question below another: what holds, what each answer does, and the box that comes of it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import lru_cache
from typing import TYPE_CHECKING, Any

from flask import Flask, abort, redirect, render_template, request

from jigs.base.errors import CannotBuild, JigleafError
from jigs.base.kinds import Length
from jigs.base.lengths import Units
from jigs.base.rules import as_sentence
from jigs.boxfile import edit
from layout import make
from layout.bench import box_view, fields
from layout.bench.fields import Field, Told, Way
from layout.bench.page import Bench, Done, act, body, shell

if TYPE_CHECKING:
    from jigs.box.questions import Asked, Form

_PART = "part."
"""How the keys of the ticks begin that say which parts a box has."""


@dataclass
class Asking:
    """What was answered so far, in words by key; what was not is as it is offered."""

    units: Units = "mm"
    typed: dict[str, str] = field(default_factory=dict)
    without: set[str] = field(default_factory=set)

    def answer(self, key: str, words: str) -> None:
        """Take an answer; nothing takes what is offered. In other units the sizes are asked for anew."""
        if key == "units":
            self.units = "in" if words == "in" else "mm"
            self.typed = {one: said for one, said in self.typed.items() if not _is_size(one)}
        elif key.startswith(_PART):
            change = self.without.discard if words == "yes" else self.without.add
            change(key.removeprefix(_PART))
        else:
            edit.kind_at(key)
            self.typed[key] = words

    @property
    def form(self) -> Form:
        """The questions with these answers."""
        return _form(self.units, tuple(sorted(self.typed.items())), tuple(sorted(self.without)))


@lru_cache(maxsize=8)
def _form(units: Units, typed: tuple[tuple[str, str], ...], without: tuple[str, ...]) -> Form:
    """Return the questions with some answers: the page, its picture and the box itself ask for the same."""
    return make.questions_for_box(units, dict(typed), without)


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


@dataclass(frozen=True, slots=True)
class Part:
    """A part that a box can do without: whether it is wanted, why it has no room, and the questions of it."""

    name: str
    tick: Field
    no_room: str
    questions: tuple[Field, ...]


def _context(asking: Asking, bench: Bench) -> dict[str, Any]:
    form = asking.form
    look = make.look(make.box(form.made.text, bench.state.kept.name))
    shown = {one.question.key: _field(one, asking) for one in form.asked}
    of_parts = {key for key in shown for part, _, _ in make.parts_asked_for() if _of(key, part)}
    return {
        "title": "A new box",
        "headline": "questions",
        "sizes": look.sizes,
        "units": fields.choice_of_units(asking.units),
        "first": [one for key, one in shown.items() if key not in of_parts],
        "parts": list(_parts(asking, form, shown)),
        "woods": fields.WOODS,
        "begun": bool(asking.typed or asking.without),
        "replaces": bench.state.file.title if bench.state.kept.saved or bench.state.can_undo else "",
    }


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


def _field(one: Asked, asking: Asking) -> Field:
    key, units = one.question.key, asking.units
    effect = as_sentence(one.effect) if one.effect.lower() != one.answer.lower() else ""  # a wood by another name
    shown = fields.field(key, edit.kind_at(key), None, units, effect=effect)
    shown = replace(shown, label=one.question.words, value=one.answer)
    if one.refused is None:
        return shown
    return replace(
        shown, value=asking.typed[key], told=(_told(one, units),), effect=f"{one.answer} is used until then."
    )


def _told(one: Asked, units: Units) -> Told:
    """Return why an answer can't be taken, with what is offered instead as a button."""
    instead = Way(f"Take {one.answer}{f' {units}' if _is_size(one.question.key) else ''}", {one.question.key: ""})
    return Told("Error", _said(one.refused, units), "", (instead,))


def _said(error: JigleafError | None, units: Units) -> str:
    if isinstance(error, CannotBuild):
        return " ".join(as_sentence(problem.says(units)) for problem in error.problems[:3])
    return as_sentence(str(error))
