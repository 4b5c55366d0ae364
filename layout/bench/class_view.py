"""The class on the bench: its list as a table that is typed, pasted or opened, and the files that are made from it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import PurePath
from typing import Any

from flask import Flask, Response, abort, render_template, send_file

from jigs.base.errors import CannotRead, JigleafError
from jigs.base.rules import as_sentence
from jigs.course import table as tables
from layout.bench import class_page, class_people
from layout.bench.class_making import Student
from layout.bench.class_state import Class
from layout.bench.page import Bench, Done, act, body, content, shell, words_of

_NAME = "class.csv"
_LONGEST = 80


# -- what can be done to a class -----------------------------------------------------------------------------------


def _type(one: Class, done: Done) -> str:
    """Take what was typed into cells of one row, each called `row/key`."""
    typed = words_of(done["typed"])
    rows = {int(name.partition("/")[0]) for name in typed}
    if len(rows) != 1:
        raise ValueError("cells of one row are typed")
    one.become(one.table.typed(rows.pop(), {name.partition("/")[2]: said for name, said in typed.items()}))
    return ""


def _paste(one: Class, done: Done) -> str:
    row, _, key = str(done["at"]).partition("/")
    text = done["text"]
    if not isinstance(text, str) or key not in one.table.keys:
        raise TypeError("words are pasted onto a cell")
    was = one.table
    one.become(was.pasted(text, int(row), key))
    replaced = one.table.rows[: len(was.rows)] != was.rows and one.table.columns != was.columns
    return f"Pasted: the list has {class_people.counted(one.table)} now." + (
        " Undo gives the old one." if replaced else ""
    )


def _open(one: Class, done: Done) -> str:
    """Take a class list that was dropped or chosen. Raises CannotRead for what is none."""
    name, held = PurePath(str(done["name"])).name[:_LONGEST] or "the list", content(done)
    table = tables.opened(held, name, toml=name.lower().endswith(".toml"))
    one.saved = table
    one.become(table)
    return f"Opened {name}: {class_people.counted(one.table)}. Undo gives the list before it."


def _is_list(done: Done) -> bool:
    """Tell whether a file is a class list by its name, or by what it holds; all others are of the box."""
    name, held = str(done.get("name", "")).lower(), content(done)
    if name.endswith((".csv", ".tsv", ".txt")):
        return True
    return name.endswith(".toml") and b"students" in held and b"[box]" not in held


def _column(one: Class, done: Done) -> str:
    named = done.get("name") or words_of(done["typed"])["column"]
    one.become(one.table.with_column(str(named)))
    return ""


def _make(one: Class, done: Done) -> str:
    del done
    if one.state.look.box.stopped:
        raise CannotRead("the class’s box can’t be built yet; correct it first")
    box, name = one.state.file.source, one.state.kept.name
    people = class_people.people(one.table, one.state.file, one.worked, one.making)
    able = [Student(p.number + 1, p.name, p.called, p.source) for p in people if p.name]
    if not any(student.source[0] for student in able):
        raise CannotRead("nobody’s box can be made yet; type a list first, or correct its rows")
    said = one.making.start(one.table.text(), box, name, able)
    one.state.version += 1
    return said


def _quietly(do: Callable[[Class, Done], object]) -> Callable[[Class, Done], str]:
    def done(one: Class, what: Done) -> str:
        do(one, what)
        return ""

    return done


_ALWAYS = ("look", "undo", "redo", "stop", "make")
"""What goes from the newest state, whichever was seen."""
_ACTS: Mapping[str, Callable[[Class, Done], str]] = {
    "type": _type,
    "paste": _paste,
    "too-long": lambda one, done: "What you pasted has more than 5 MB; a class list has a few kB. Nothing was changed.",
    "open": _open,
    "undo": _quietly(lambda one, done: one.go(-1)),
    "redo": _quietly(lambda one, done: one.go(1)),
    "add-student": _quietly(lambda one, done: one.become(one.table.with_row())),
    "drop-student": _quietly(lambda one, done: one.become(one.table.without_row(int(done["row"])))),
    "add-column": _column,
    "drop-column": _quietly(lambda one, done: one.become(one.table.without_column(str(done["name"])))),
    "make": _make,
    "stop": lambda one, done: one.making.stop(),
}
"""What a page can do to the class, by what it sends; anything else is done to the box."""


def _act(bench: Bench, one: Class, done: Done) -> str:
    """Do what a page sent; return what is to be said of it. Nothing is changed by a page that is not the newest."""
    name, state = str(done.get("do")), bench.state
    try:
        if name not in _ACTS or (name == "open" and not _is_list(done)):
            return act(bench, done)
        if name not in _ALWAYS and done.get("version") != state.version:
            return (
                "The list was changed in another window. What you see now is the newest; your last step was not taken."
            )
        return _ACTS[name](one, done)
    except JigleafError as error:
        said = error.says(state.file.units).removeprefix("Error: ")
        return said if "." in said.partition(" ")[0] else as_sentence(said)  # the name of a file stays as it is
    except (KeyError, TypeError, ValueError, AttributeError):
        return "That could not be understood, and nothing was changed."


# -- its pages -----------------------------------------------------------------------------------------------------


def add(app: Flask, bench: Bench) -> None:
    """Add the class to a server."""
    one = Class(bench.state)
    bench.beside["class"] = one
    bench.endings.append(one.making.end)

    def page(said: str = "") -> str:
        with bench.state.lock, one.making.lock:
            shown = class_page.context(one)
            return render_template("class.html", **{**shell(bench, "class", said or one.told), **shown})

    @app.get("/class")
    def show_class() -> str:
        return page()

    @app.post("/class")
    def change_class() -> str:
        done = body()
        with bench.state.lock:
            one.told = ""
            return page(_act(bench, one, done))

    @app.get("/class/making")
    def follow_class() -> str:
        with bench.state.lock, one.making.lock:
            return render_template("class_now.html", **class_page.context(one))

    @app.get("/class/list.csv")
    def save_list() -> Response:
        with bench.state.lock:
            answer = Response(one.save().encode(), mimetype="text/csv")
        answer.headers.set("Content-Disposition", "attachment", filename=_NAME)
        return answer

    @app.get("/class/files/<path:name>")
    def save_file(name: str) -> Any:
        path = one.making.file(name)
        if path is None or not path.is_file():
            abort(404)
        answer = send_file(path, as_attachment=True, download_name=PurePath(name).name, etag=False)
        answer.headers["Cache-Control"] = "no-store"
        return answer
