"""What all views have in common: the bench that they belong to, what can be done from each, what each shows."""

from __future__ import annotations

import base64
import binascii
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from flask import Response, abort, redirect, request

from jigs.base.errors import CannotRead, JigleafError
from jigs.boxfile.jig_file import JigSettings
from layout import make
from layout.bench import box_view, jig_form, opening
from layout.bench.guard import Guard
from layout.bench.pages import Drawn
from layout.bench.state import PRINT_AS, State
from layout.bench.windows import Windows

if TYPE_CHECKING:
    from jigs.boxfile.sections import BoxFile

VIEWS = (
    ("box", "Box", "/box/wood"),
    ("joint", "Test joint", "/joint"),
    ("class", "Class", "/class"),
    ("printer", "Printer", "/printer"),
    ("jigs", "Jigs", "/jigs"),
)
"""The views: name, what it is called, where it stands."""
Done = Mapping[str, Any]
"""What a page sends: `do` says what was done, `version` which state was seen."""
Act = Callable[[State, Done], str]
"""What is done to a box; returns what is to be said of it, if anything."""


@dataclass
class Bench:
    """One file on one bench: what was done to it, who looks at it, what was drawn."""

    state: State
    guard: Guard
    windows: Windows = field(default_factory=Windows)
    drawn: Drawn = field(default_factory=Drawn)
    beside: dict[str, Any] = field(default_factory=dict)
    """What other views keep of their own, by their names."""
    endings: list[Callable[[], None]] = field(default_factory=list)
    """What is to be done when the bench ends."""

    def end(self) -> None:
        """Leave nothing behind that is not the maker's."""
        for ending in self.endings:
            ending()


# -- what can be done to a box -------------------------------------------------------------------------------------


def _type(state: State, done: Done) -> str:
    typed = words_of(done["typed"])
    if typed:
        state.type(typed)
    return ""


def words_of(typed: Mapping[str, str]) -> dict[str, str]:
    """Return what was typed. Raises TypeError for anything but words."""
    if not all(isinstance(one, str) and len(one) <= _LONGEST for one in [*typed, *typed.values()]):
        raise TypeError("only words are typed")
    return dict(typed)


def _save(state: State, done: Done) -> str:
    del done
    state.save()
    return f"Saved {state.kept.name}."


def _print_as(state: State, done: Done) -> str:
    typed = words_of(done["typed"])
    state.print_as = frozenset(way for way in PRINT_AS if typed.get(way) == "yes")
    state.version += 1
    return ""


def _quietly(act: Callable[[State, Done], object]) -> Act:
    """Return what does something of which nothing is to be said: the page shows it."""

    def done(state: State, what: Done) -> str:
        act(state, what)
        return ""

    return done


def _made(made: Callable[[BoxFile, Done], BoxFile]) -> Act:
    """Return what makes another box of the one that there is."""
    return _quietly(lambda state, done: state.make(lambda file: made(file, done)))


_LONGEST = 200_000
_ALWAYS = ("undo", "redo")
"""What goes from the newest state, whichever was seen."""
_ACTS: Mapping[str, Act] = {
    "look": lambda state, done: "",
    "type": _type,
    "undo": _quietly(lambda state, done: state.undo()),
    "redo": _quietly(lambda state, done: state.redo()),
    "save": _save,
    "print-as": _print_as,
    "theirs": _quietly(lambda state, done: state.take_theirs()),
    "mine": _quietly(lambda state, done: state.keep_mine()),
    "add-part": _made(lambda file, done: make.with_part(file, done["part"])),
    "drop-part": _made(lambda file, done: make.without_part(file, done["part"])),
    "add-row": _made(lambda file, done: make.with_row(file, done["list"], words_of(done["typed"]))),
    "drop-row": _made(lambda file, done: make.without_row(file, done["list"], int(done["row"]))),
    "unreadable": lambda state, done: f"{opening.short(str(done['name']))} can’t be read; a folder can’t be opened.",
    "too-large": lambda state, done: f"{opening.short(str(done['name']))} is larger than 8 MB, and was not opened.",
}
"""What a page can do to the box, by what it sends."""


_NO_MORE: Mapping[str, Act] = {}


def act(bench: Bench, done: Done, own: Mapping[str, Act] = _NO_MORE) -> str:
    """Do what a page sent; return what is to be said of it, above everything. A view has things of its `own` to do.

    A page that had not seen the newest state changes nothing: another window was quicker.
    """
    state, name = bench.state, str(done.get("do"))
    acts = {**_ACTS, **own}
    if name not in (*_ALWAYS, "look") and done.get("version") != state.version:
        return "The box was changed in another window. What you see now is the newest; your last step was not taken."
    try:
        if name == "open" and name not in own:
            return _open(bench, done)
        return acts[name](state, done) if name in acts else "The bench can’t do that."
    except JigleafError as error:
        return error.says(state.file.units).removeprefix("Error: ")
    except (KeyError, TypeError, ValueError, AttributeError):
        return "That could not be understood, and nothing was changed."


def _open(bench: Bench, done: Done) -> str:
    """Open a file that was dropped or chosen. One of a jig ends the request and leads to that jig."""
    name = opening.short(str(done["name"]))
    found = opening.opened(bench.state, name, content(done))
    if isinstance(found, JigSettings):
        jig_form.opened(bench.beside, found, name)
        jig_form.keep(bench.beside, bench.state.kept)
        abort(redirect(f"/jigs/{found.jig}", 303))
    return found


def content(done: Done) -> bytes:
    """Return the file that a page sent. Raises CannotRead where it is not whole."""
    try:
        return base64.b64decode(str(done["content"]), validate=True)
    except binascii.Error:
        raise CannotRead("the file did not arrive whole") from None


def body() -> Done:
    """Return what the page sent. Ends the request where that is no object."""
    done = request.get_json(silent=True)
    if not isinstance(done, dict):
        abort(400, "That could not be understood.")
    return done


def download(content: bytes, name: str, kind: str) -> Response:
    """Return a file to save, under its name, of a media type."""
    answer = Response(content, mimetype=kind)
    answer.headers.set("Content-Disposition", "attachment", filename=name)
    return answer


def shell(bench: Bench, view: str, said: str = "") -> dict[str, Any]:
    """Return what every view shows besides its own: the head, notices, and what can be undone and saved."""
    state = bench.state
    state.elsewhere_said = state.kept.changed_elsewhere()
    return {
        "version": state.version,
        "view": view,
        "views": VIEWS,
        "file_name": state.name,
        "changes": box_view.changes(state, state.as_saved),
        "told": said,
        "elsewhere": state.elsewhere_said,
        "from_copy": state.from_copy,
        "print_as": [(way, about, way in state.print_as) for way, about in PRINT_AS.items()],
        "is_new": not state.kept.saved and not state.from_copy and state.at == 0 and view == "box",
        "can_undo": state.can_undo,
        "can_redo": state.can_redo,
        "can_save": state.kept.path is not None,
        "is_saved": state.is_saved,
    }
