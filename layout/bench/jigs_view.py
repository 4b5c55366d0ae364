"""The jigs of the catalogue: a page of them all, and each with its form, its numbers and the pages to print."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from flask import Flask, abort, redirect, render_template, request
from markupsafe import Markup

from jigs.base import catalogue
from jigs.base.catalogue import Jig
from jigs.base.errors import CannotRead, JigleafError
from jigs.base.rules import as_sentence
from jigs.box import set_ups
from jigs.boxfile.jig_file import JigSettings
from jigs.record import Record
from layout import catalogue as book
from layout import make
from layout.bench import fields, jig_form, pages, printing
from layout.bench.jig_form import JigForm
from layout.bench.page import Bench, Done, act, body, download, shell

_OWN = ("type", "undo", "redo", "example", "from-box", "into-box")
"""What is done to the jig of the page; all else is done to the box."""


def add(app: Flask, bench: Bench) -> None:
    """Add the pages of the jigs to the bench."""
    jig_form.take_up(bench.beside, bench.state.kept)
    _of_all(app, bench)
    _of_one(app, bench)
    _files(app, bench)


# -- all of them ---------------------------------------------------------------------------------------------------


class Listed(Record):
    """A jig among the others: its name, title, what it does, and its sketch, if something of it is cut."""

    name: str
    title: str
    about: str
    sketch: Markup | None


def _of_all(app: Flask, bench: Bench) -> None:
    def page(said: str = "") -> str:
        with bench.state.lock:
            shared = shell(bench, "jigs", said)
        return render_template("jigs.html", **shared, title="Jigs", headline="all of them", groups=_groups(bench))

    @app.get("/jigs")
    def show_jigs() -> str:
        return page()

    @app.post("/jigs")
    def change_jigs() -> str:
        with bench.state.lock:
            return page(act(bench, body()))


def _groups(bench: Bench) -> list[tuple[str, list[Listed]]]:
    """Return the jigs by what they are for: those for the parts of a box, and all others."""
    every = list(catalogue.catalogue().values())
    groups = (
        ("For the parts of a box", [jig for jig in every if jig.of_box]),
        ("For more work on a box, and for anything else", [jig for jig in every if not jig.of_box]),
    )
    return [(title, [_listed(jig, bench) for jig in some]) for title, some in groups if some]


def _listed(jig: Jig, bench: Bench) -> Listed:
    def sketch() -> Markup | None:
        content = book.outlines(jig)
        return pages.inline(content) if content else None

    drawn = bench.drawn.of(("sketch", jig.name), lambda: sketch() or "")
    return Listed(jig.name, jig.title, as_sentence(jig.summary), drawn if isinstance(drawn, Markup) else None)


# -- one of them ---------------------------------------------------------------------------------------------------


def _found(name: str) -> Jig:
    """Return a jig by its name. Ends the request where there is none, with near names."""
    try:
        return catalogue.find(name[:80])
    except CannotRead as error:
        abort(404, as_sentence(str(error)))


def _of_one(app: Flask, bench: Bench) -> None:
    def page(form: JigForm, said: str = "") -> str:
        return render_template("jig.html", **{**shell(bench, "jigs", said or form.told), **_context(form, bench)})

    @app.get("/jigs/<name>")
    def show_jig(name: str) -> str:
        known = _found(name)
        with bench.state.lock:
            return page(jig_form.on(bench.beside, known, bench.state.file))

    @app.post("/jigs/<name>")
    def change_jig(name: str) -> Any:
        known, done = _found(name), body()
        with bench.state.lock:
            form = jig_form.on(bench.beside, known, bench.state.file)
            if done.get("do") not in _OWN:
                return page(form, act(bench, done))
            try:
                said = _done(form, done, bench)
                jig_form.keep(bench.beside, bench.state.kept)
            except JigleafError as error:
                said = error.says(bench.state.file.units).removeprefix("Error: ")
            except (KeyError, TypeError, ValueError, AttributeError):
                said = "That could not be understood, and nothing was changed."
            return page(form, said) if isinstance(said, str) else said

    @app.get("/jigs/<name>/pages")
    def pages_of_jig(name: str) -> Any:
        known = _found(name)
        with bench.state.lock:
            form = jig_form.on(bench.beside, known, bench.state.file)
            job, how = form.job, _printing(bench)
        shown = _pages(bench, job, how, request.args.get("page", ""), lambda: form.job == job)
        return render_template("jig_pages.html", **shown) if shown is not None else abort(409)


def _done(form: JigForm, done: Done, bench: Bench) -> Any:
    """Do to a jig what its page sent; return what is to be said of it, or where to go on."""
    match done["do"]:
        case "type":
            form.type({_name(key): _words(words) for key, words in done["typed"].items()})
        case "undo":
            form.go(-1)
        case "redo":
            form.go(+1)
        case "example":
            form.start_again()
        case "from-box":
            return form.take(bench.state.file)
        case "into-box":
            state = bench.state
            if done.get("version") != state.version:
                return "The box was changed in another window. Look at it first; nothing was taken into it."
            state.make(lambda file: make.with_jig(file, form.job))
            section = make.section_of_jig(form.known.name)
            return redirect(f"/box/{set_ups.of_section(section).name}", 303)
    return ""


def _name(key: str) -> str:
    """Return the setting that a key of the page is of."""
    return key.rpartition(".")[2]


def _words(words: str) -> str:
    if not isinstance(words, str) or len(words) > 2000:
        raise TypeError("only words are typed")
    return words


def _context(form: JigForm, bench: Bench) -> dict[str, Any]:
    file = bench.state.file
    known, job, shown = form.known, form.job, jig_form.shown(form, file)
    moved = jig_form.moved(form)
    return {
        "jig": known,
        "title": known.title,
        "headline": "jig",
        "about": as_sentence(known.summary),
        "units": fields.choice_of_units(job.units),
        "shown": shown,
        "moved": moved[:_MOST_MOVED],
        "moved_more": len(moved) - _MOST_MOVED,
        "woods": fields.WOODS,
        "can_undo": form.can_undo,
        "can_redo": form.can_redo,
        "box_gives": make.box_gives(known.name, file),
        "is_of_box": jig_form.from_box(job, file) == job,
        "box_title": file.title,
        "printed": printing.said_of_jig(bench.state),
        "has_example": bool(known.example),
        "has_templates": shown.templates,
        "sources": known.sources,
        "part": part if (part := make.section_of_jig(known.name)) in _PARTS else "",
    }


_MOST_MOVED = 6
_PARTS = ("joint", "groove", "bottom", "lid", "handle", "shell")
"""The sections of a box that take the settings of a jig."""


# -- its pages -----------------------------------------------------------------------------------------------------


class Leaf(Record):
    """A page to choose, or the two sides of one: what it is called, and the names of its sheets."""

    name: str
    number: str
    title: str
    sheets: tuple[str, ...]


def _printing(bench: Bench) -> make.Printing:
    """Return how the pages of a jig are shown: as they are printed, and for no printer where the box's is not known."""
    try:
        return printing.for_jig(bench.state, "svg")
    except JigleafError:
        return make.Printing(paper=bench.state.file.print.paper, formats=("svg",))


def _pages(
    bench: Bench, job: JigSettings, how: make.Printing, wanted: str, still: Callable[[], bool]
) -> dict[str, Any] | None:
    """Return the pages of a jig, the wanted one drawn; None where nobody waits for them any more."""
    key = ("jig", job.jig, repr(job), repr(how))
    try:
        made = bench.drawn.of(key, lambda: make.draw(job, (), how), still)
    except JigleafError:
        return {"waits": "Its pages wait for what can’t be made yet."}
    if made is None:
        return None
    assert isinstance(made, make.Made), "what was drawn of a jig"
    leaves = list(_leaves(made).values())
    chosen = next((leaf for leaf in leaves if leaf.name == wanted), leaves[0])
    content = bench.drawn.of((*key, chosen.name), lambda: _inlined(made, chosen.sheets), still)
    return None if content is None else {"leaves": leaves, "chosen": chosen.name, "sheets": content, "waits": ""}


def _inlined(made: make.Made, names: tuple[str, ...]) -> list[Markup]:
    return [pages.inline(content) for content in made.only_changed(names).values()]


def _leaves(made: make.Made) -> Mapping[str, Leaf]:
    """Return the pages by name, the back of a card with its front."""
    found: dict[str, Leaf] = {}
    for bundle, mark in ((made.cards, ": "), (made.templates, " ")):
        for sheet in bundle.sheets:
            own = sheet.name.removeprefix(f"{made.prefix}-")
            front = own.removesuffix("-back")
            if front in found:
                found[front] = Leaf(front, found[front].number, found[front].title, (*found[front].sheets, own))
                continue
            number, _, title = sheet.title.partition(mark)
            found[front] = Leaf(front, number.removeprefix("Card "), title or number, (own,))
    return found


def _files(app: Flask, bench: Bench) -> None:
    @app.get("/jigs/<name>/print/<file>")
    def save_jig(name: str, file: str) -> Any:
        known = _found(name)
        with bench.state.lock:
            job = jig_form.on(bench.beside, known, bench.state.file).job
            made = printing.of_jig(bench.state, job, file)
        if made is None:
            abort(404)
        if isinstance(made, str):
            return render_template("refused.html", said="These pages can’t be drawn yet.", help=made), 409
        return download(*made)
