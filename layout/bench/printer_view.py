"""Printers: the print check and its readings, what they say, the printers that are known, and the one for this box."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from flask import Flask, Response, render_template, request
from markupsafe import Markup

from jigs import record
from jigs.base import lengths
from jigs.base.errors import CannotBuild, CannotRead, JigleafError, WrongReadings
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.rules import as_sentence
from jigs.record import Record, replace
from layout import make
from layout.bench import pages as sheets
from layout.bench.fields import Told, Way
from layout.bench.history import History
from layout.bench.page import Bench, Done, act, body, shell, words_of
from layout.printer import correction, kept
from layout.sheet import paper as papers

with lazily():
    from layout.printer import check_pictures, print_check

if TYPE_CHECKING:
    from layout.bench.state import State
    from layout.printer.kept import Printer
    from layout.printer.print_check import Judged
    from layout.sheet.paper import Paper

_READINGS: Mapping[str, str] = {
    "across": "left to right, along the lower side",
    "up": "bottom to top, along the left side",
    "rising": "lower left to upper right",
    "falling": "upper left to lower right",
}
_PREFIX = "check."
_NONE_KNOWN: Mapping[str, kept.Printer] = {}
_HEADLINES = {
    "correct": "Can be corrected",
    "inside reading error": "Prints true",
    "measure again": "Measure again",
    "refused": "Nothing is corrected",
}


class Kept(Record):
    """A printer that was kept or forgotten here: what was known of it before and after."""

    name: str
    before: Printer | None
    after: Printer | None


class OfBox(Record):
    """Another printer for the box, chosen here: the text of its file before and after."""

    before: str
    after: str


class Step(Record):
    """A step on this page, in words, and what is typed after it. It may have reached a printer, or the box."""

    paper: str
    name: str
    readings: Mapping[str, str] = record.field(default_factory=dict)
    said: str = ""
    reached: Kept | OfBox | None = None


@dataclass
class Session:
    """What was typed since the bench was opened, step by step: lengths are words in `units`."""

    units: Units
    steps: History[Step]
    margins: str = ""
    armed: str = ""
    """The printer that is forgotten when its button is pressed once more."""
    last: tuple[str, str] = ("", "")
    """Whether the last step was taken, taken back or done again, and which it was, in words."""
    wrong: dict[str, str] = field(default_factory=dict)
    """What was typed and can't be, by the field at which it stands."""

    @property
    def paper(self) -> str:
        """The paper of the print check."""
        return self.steps.now.paper

    @property
    def name(self) -> str:
        """The printer's name."""
        return self.steps.now.name

    @property
    def typed(self) -> Mapping[str, str]:
        """The four readings, as they were typed."""
        return self.steps.now.readings

    def take(self, said: str, reached: Kept | OfBox | None = None, **typed: Any) -> None:
        """Note a step; what has come of no step is kept as it is."""
        now = self.steps.now
        if reached or any(getattr(now, name) != value for name, value in typed.items()):
            self.steps.take(replace(now, said=said, reached=reached, **typed))
            self.last = ("Last step", said)


def session_of(bench: Bench) -> Session:
    """Return what was typed of printers; nothing of it is kept when the box's units change."""
    file = bench.state.file
    found = bench.beside.get("printer")
    if not isinstance(found, Session) or found.units != file.units:
        own = file.print.paper
        paper = own if own and _is_paper(own) else papers.default(file.units)
        found = Session(file.units, History([Step(paper, file.print.printer or "")]))
        bench.beside["printer"] = found
    return found


def _is_paper(words: str) -> bool:
    try:
        papers.named(words)
    except CannotRead:
        return False
    return True


# -- what is worked out --------------------------------------------------------------------------------------------


def page_of(session: Session) -> Paper:
    """Return the page of the print check. Raises CannotRead for what is no paper."""
    return print_check.page_for(session.paper, session.units, session.name)


def judged(session: Session, page: Paper) -> tuple[Judged | None, dict[str, str]]:
    """Return what the four readings say, None where there are not all of them; and what of them can't be, by name."""
    read: dict[str, float] = {}
    wrong: dict[str, str] = {}
    for name, words in session.typed.items():
        if not words.strip():
            continue
        try:
            read[name] = float(lengths.read(words, session.units))
        except lengths.LengthError as error:
            wrong[name] = str(error)
    if wrong or not read.keys() >= _READINGS.keys():
        return None, wrong
    try:
        return print_check.judge(page, session.units, **{name: read[name] for name in _READINGS}), {}
    except WrongReadings as error:
        return None, _at_its_field(str(error), session)


def _at_its_field(message: str, session: Session) -> dict[str, str]:
    """Return what the arithmetic refuses at the reading that it names first, in the words that were typed."""
    name = next(iter(re.findall("|".join(_READINGS), message)), "rising")
    if "allow no such diagonals" in message:
        said = ", ".join(f"{one} {session.typed[one]}" for one in _READINGS)
        return {"rising": f"no figure has these sides and diagonals: {said}; read both diagonals again"}
    return {name: re.sub(r"^\w+ is \S+; it", f"{session.typed[name]} can’t be read here: it", message)}


# -- what is done --------------------------------------------------------------------------------------------------


def _acts(bench: Bench) -> dict[str, Callable[[State, Done], str]]:
    """Return what this page does besides what every page can."""

    def own(did: Callable[[Session, State, Done], str]) -> Callable[[State, Done], str]:
        def done(state: State, what: Done) -> str:
            session = session_of(bench)
            if what["do"] != "forget":
                session.armed = ""
            said = did(session, state, what)
            state.version += 1
            return said

        return done

    acts = {
        "type": _type, "keep": _keep, "forget": _forget, "leave": lambda *_: "", "choose": _choose,
        "undo": _undo, "redo": _redo,
    }  # fmt: skip
    return {name: own(did) for name, did in acts.items()}


def _type(session: Session, state: State, done: Done) -> str:
    del state
    for key, words in words_of(done["typed"]).items():
        name = key.removeprefix(_PREFIX)
        session.wrong.pop(name, None)
        if name in _READINGS:
            session.take(f"{name} {words[:80]}".strip(), readings={**session.typed, name: words[:80]})
        elif name == "paper":
            _take_paper(session, words.strip()[:80])
        elif name == "name":
            _take_name(session, words.strip())
        elif name == "margins":
            _keep_margins(session, words.strip()[:200])
        else:
            raise KeyError(key)
    return ""


def _take_paper(session: Session, words: str) -> None:
    try:
        page = papers.named(words or papers.default(session.units))
        print_check.sheet(page, session.units, "none")
    except JigleafError as error:
        session.wrong["paper"] = _spoken(error, session.units)
    else:
        session.take(f"paper {page.name}", paper=words or papers.default(session.units))


def _take_name(session: Session, words: str) -> None:
    if words and not kept.is_name(words):
        session.wrong["name"] = f"{kept.NAME_RULE}; this has {len(words)}"
    else:
        session.take(f"the name {words}" if words else "no name", name=words)
        session.margins = ""


def _keep_margins(session: Session, words: str) -> None:
    """Keep the margins of the printer that is named, once they can be read."""
    session.margins = words
    if not words:
        return
    try:
        if not session.name:
            raise CannotRead("no printer is named; type its name first")
        read = papers.read_margins(words, session.units)
        with _noted(session, session.name, f"the white margins of {session.name}"):
            kept.keep_margins(session.name, read)
        session.margins = ""
    except CannotRead as error:
        session.wrong["margins"] = _spoken(error, session.units)


def _keep(session: Session, state: State, done: Done) -> str:
    """Keep the correction that the readings give under the printer's name."""
    del state, done
    found, _ = judged(session, page_of(session))
    if found is None or not found.judgement.corrects:
        raise CannotRead("these readings give no correction to keep")
    if not session.name:
        session.wrong["name"] = "type a name for this printer first, such as office"
        return ""
    with _noted(session, session.name, f"what was kept for {session.name}"):
        kept.keep_measured(session.name, found.judgement.applied)
    return ""


def _forget(session: Session, state: State, done: Done) -> str:
    """Forget a printer at the second press."""
    del state
    name = str(done["name"])
    if session.armed != name:
        session.armed = kept.find(name, "forget").name
        return ""
    session.armed = ""
    with _noted(session, name, f"forgetting {name}"):
        kept.forget(name)
    return f"Forgot {name}."


@contextmanager
def _noted(session: Session, name: str, said: str) -> Iterator[None]:
    """Note what becomes of a printer meanwhile as a step that can be taken back."""
    before = kept.known().get(name)
    yield
    after = kept.known().get(name)
    if after != before:
        session.take(said, Kept(name, before, after))


def _choose(session: Session, state: State, done: Done) -> str:
    """Have this box printed on a printer; on none in particular where no name is given."""
    name, before = str(done["name"]), state.file
    if name:
        kept.find(name, "printer")
    refused = _print_on(state, name)
    if not refused and state.file.source != before.source:
        on = name or f"no longer on {before.print.printer}"
        session.take(f"printing this box {f'on {on}' if name else on}", OfBox(before.source, state.file.source))
    return refused


def _print_on(state: State, name: str) -> str:
    """Have the box printed on a printer; return why that can't be."""
    state.type({"print.printer": name})
    refused = state.refused.pop("print.printer", None)
    return as_sentence(refused.problem.says(state.file.units)) if refused else ""


# -- what is taken back --------------------------------------------------------------------------------------------


def _undo(session: Session, state: State, done: Done) -> str:
    """Take back the last step on this page, and say which."""
    del done
    if not session.steps.can_undo:
        return ""
    last = session.steps.now
    if isinstance(last.reached, Kept):
        _know(last.reached.name, last.reached.after, last.reached.before)
    elif last.reached:
        _go(state, last.reached.after, last.reached.before)
    session.steps.undo()
    return _cleared(session, "Taken back", last.said)


def _redo(session: Session, state: State, done: Done) -> str:
    """Do again what was taken back last, and say what."""
    del done
    if not session.steps.can_redo:
        return ""
    following = session.steps.states[session.steps.at + 1]
    if isinstance(following.reached, Kept):
        _know(following.reached.name, following.reached.before, following.reached.after)
    elif following.reached:
        _go(state, following.reached.before, following.reached.after)
    session.steps.redo()
    return _cleared(session, "Done again", following.said)


def _cleared(session: Session, how: str, which: str) -> str:
    """Say what was taken back or done again; what was half typed meanwhile is gone."""
    session.wrong.clear()
    session.margins = ""
    session.last = (how, which)
    return f"{how}: {which}."


def _know(name: str, now: Printer | None, then: Printer | None) -> None:
    """Put what is known of a printer back. Raises CannotRead where something else has changed it in the meantime."""
    if kept.known().get(name) != now:
        raise CannotRead(f"{name} was changed elsewhere since then, so this step stays")
    if then is None:
        kept.forget(name)
    else:
        kept.keep(then)


def _go(state: State, now: str, then: str) -> None:
    """Have the box printed as it was, or is to be again: by its own undo where nothing else was done to it since."""
    if state.file.source == now and state.can_undo and state.past[state.at - 1] == then:
        state.undo()
    elif state.file.source == now and state.can_redo and state.past[state.at + 1] == then:
        state.redo()
    else:
        _print_on(state, make.box(then, state.kept.name).print.printer or "")


def _spoken(error: JigleafError, units: Units) -> str:
    """Return why something can't be, without the options of a command."""
    return re.sub(r"^(?:Error: )?(?:--)?(?:paper|margins|printer): ", "", error.says(units))


# -- what is shown -------------------------------------------------------------------------------------------------


class Cell(Record):
    """A field: its name in the page, what it is, what it should hold, what it holds, what can't be so."""

    name: str
    label: str
    about: str
    value: str
    told: tuple[Told, ...] = ()

    @property
    def worst(self) -> str:
        """The sign of the first problem; empty where there is none."""
        return self.told[0].state if self.told else ""


class Known(Record):
    """A printer that is known: what is known of it, whether this box names it, whether it is about to be forgotten."""

    name: str
    said: str
    chosen: bool
    armed: bool


def context(bench: Bench) -> dict[str, Any]:
    """Return all that the page shows. Raises CannotRead for a printers' file that is damaged."""
    session, file = session_of(bench), bench.state.file
    known = kept.known()
    page = page_of(session)
    found, wrong = judged(session, page)
    sheet, too_small = _sheet(bench, page, session.units)
    wrong = {**wrong, **too_small, **session.wrong}
    return {
        **_head(bench, known),
        "can_undo": session.steps.can_undo,
        "can_redo": session.steps.can_redo,
        "last": session.last,
        "fields": _fields(session, known, wrong),
        "readings": _readings(session, page, wrong),
        "sheet": sheet,
        "paper": page.name,
        "named": session.name,
        "known": [
            Known(one.name, _described(one, session.units), file.print.printer == one.name, session.armed == one.name)
            for one in known.values()
        ],
        "missing": file.print.printer if file.print.printer and file.print.printer not in known else "",
        "papers": papers.NAMES,
        **_verdict(found, page, session),
        **_way_on(found, session, file.print.printer or "", known),
    }


def _way_on(found: Judged | None, session: Session, of_box: str, known: Mapping[str, kept.Printer]) -> dict[str, Any]:
    """Return whether what the readings give is kept already for the printer that is named, and prints this box."""
    there = known.get(session.name)
    is_kept = bool(found and found.judgement.corrects and there and there.measured == found.judgement.applied)
    return {"is_kept": is_kept, "prints_box": is_kept and of_box == session.name}


def _head(bench: Bench, known: Mapping[str, kept.Printer] = _NONE_KNOWN) -> dict[str, Any]:
    file = bench.state.file
    units = "mm" if file.units == "mm" else "inches"
    corrected = [one.name for one in known.values() if one.measured != correction.NONE]
    return {
        "corrected": corrected,
        "title": file.title,
        "headline": "Printer",
        "units": units,
        "unit": file.units,
        "printer_of_box": file.print.printer or "",
        "damaged": "",
    }


def _told(wrong: Mapping[str, str], name: str) -> tuple[Told, ...]:
    return (Told("Error", as_sentence(wrong[name]), ""),) if name in wrong else ()


def _fields(session: Session, known: Mapping[str, kept.Printer], wrong: Mapping[str, str]) -> dict[str, Cell]:
    margins = session.margins
    if not margins and session.name in known and known[session.name].margins != papers.NO_MARGINS:
        margins = " ".join(lengths.bare(one, session.units) for one in known[session.name].margins)
    return {
        "name": Cell(
            "name", "The printer’s name", "As you call it: office, school.", session.name, _told(wrong, "name")
        ),
        "paper": Cell("paper", "Paper", "A name, or a size such as 300x400 mm.", session.paper, _told(wrong, "paper")),
        "margins": Cell(
            "margins", "White margins", f"Left, right, top and bottom in {session.units}, or one for all.", margins,
            _told(wrong, "margins"),
        ),
    }  # fmt: skip


def _readings(session: Session, page: Paper, wrong: Mapping[str, str]) -> list[Cell]:
    wide, high = print_check.size(page)
    diagonal = math.hypot(wide, high)
    true = {"across": wide, "up": high, "rising": diagonal, "falling": diagonal}
    return [
        Cell(
            name, name, f"{way}; should be {lengths.bare(true[name], session.units)}",
            session.typed.get(name, ""), _told(wrong, name),
        )
        for name, way in _READINGS.items()
    ]  # fmt: skip


def _sheet(bench: Bench, page: Paper, units: Units) -> tuple[Markup | None, dict[str, str]]:
    """Return the sheet with its readings; None, and why, where margins leave it no room."""
    key = ("print-check", page.name, repr(page.margins), units)
    try:
        drawn = bench.drawn.of(key, lambda: sheets.inline(check_pictures.sheet(page, units)))
    except CannotBuild as error:
        return None, {"paper": _spoken(error, units)}
    assert isinstance(drawn, Markup), "a picture for a page"
    return drawn, {}


def _described(printer: kept.Printer, units: Units) -> str:
    said = printer.described(units).removeprefix(f"{printer.name}: ")
    return said.replace("none", "no correction", 1) if said.startswith("none") else f"corrected {said}"


def _verdict(found: Judged | None, page: Paper, session: Session) -> dict[str, Any]:
    """Return what the readings say: in words, as a picture, and the other sheet that they may be of."""
    if found is None:
        return {"verdict": "", "rows": [], "said": "", "other": (), "picture": None, "times": 1, "corrects": False}
    judgement = found.judgement
    rows, _, said = print_check.report(judgement, session.units).partition("\n\n")
    drawn, times = check_pictures.verdict(judgement.measured, page, session.units)
    return {
        "verdict": _HEADLINES[judgement.verdict],
        "rows": [re.split(r"\s{2,}", row, maxsplit=1) if "  " in row else ["", row] for row in rows.splitlines()],
        "said": said,
        "other": _other(found),
        "picture": sheets.inline(drawn),
        "times": times,
        "corrects": judgement.corrects,
    }


def _other(found: Judged) -> tuple[Told, ...]:
    """Return that the readings are of another paper's sheet, with the button that takes it."""
    if not found.other:
        return ()
    way = Way(f"It was on {found.other}", {f"{_PREFIX}paper": found.other})
    return (Told("CHOOSE", f"These readings fit the sheet for {found.other}.", "", (way,)),)


# -- its addresses -------------------------------------------------------------------------------------------------


def add(app: Flask, bench: Bench) -> None:
    """Add the page of the printers and the print check to save."""

    def page(said: str = "") -> str:
        try:
            shown = context(bench)
        except CannotRead as error:
            nothing = {"can_undo": False, "can_redo": False}
            shown = {**_head(bench), **nothing, "damaged": error.says(bench.state.file.units)}
        return render_template("printer.html", **{**shell(bench, "printer", said), **shown})

    @app.get("/printer")
    def show_printer() -> str:
        with bench.state.lock:
            return page()

    @app.post("/printer")
    def change_printer() -> str:
        done = body()
        with bench.state.lock:
            return page(act(bench, done, _acts(bench)))

    @app.get("/printer/check.pdf")
    def save_check() -> Any:
        with bench.state.lock:
            return _saved(bench, None)

    @app.get("/printer/proof.pdf")
    def save_proof() -> Any:
        with bench.state.lock:
            return _saved(bench, request.args.get("name", ""))


def _saved(bench: Bench, name: str | None) -> Any:
    """Return the print check as a file; with a name corrected for that printer, to prove its correction."""
    session = session_of(bench)
    try:
        printer = kept.find(name, "printer") if name is not None else None
        page = print_check.page_for(session.paper, session.units, name if name is not None else session.name)
        made = print_check.files(page, session.units, printer)
    except JigleafError as error:
        said = error.says(session.units)
        return render_template("refused.html", said="This can’t be printed yet.", help=said), 409
    saved, content = next(one for one in made.items() if one[0].endswith(".pdf"))
    if name is not None:
        saved = saved.replace("print-check", "print-check-corrected")
    answer = Response(content, mimetype="application/pdf")
    answer.headers.set("Content-Disposition", "attachment", filename=saved)
    return answer
