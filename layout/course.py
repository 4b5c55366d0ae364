"""A class: a class list in, everything for everyone out. It draws nothing itself.

Each student's file depends on that student's row alone. Rows are read, drawn by two workers and written one by one,
and what is already there is left as it is: a run that was stopped goes on where it was, and memory does not grow with
the class.
"""

from __future__ import annotations

import concurrent.futures
import functools
import hashlib
import importlib.metadata
import json
import multiprocessing
import os
import signal
import tempfile
import threading
import zipfile
from collections.abc import Callable, Iterator, Mapping, Sequence
from concurrent.futures.process import BrokenProcessPool
from contextlib import suppress
from dataclasses import dataclass, field, replace
from importlib.resources import files as resources
from multiprocessing.connection import wait
from pathlib import Path
from typing import Any, BinaryIO

from jigs import box, box_changes, box_sheets, box_values, boxfile, course_plan, course_sizes, order, roster
from jigs.boxfile import BoxFile
from jigs.course_plan import Course, Maker
from jigs.definition import find
from jigs.drawing import Drawing
from jigs.errors import CannotBuild, CannotRead, MachineFault, Problem
from jigs.lengths import Units
from jigs.roster import Fault, Row, RowRefused
from jigs.wording import read_out
from layout import carry, compose, files, paper, student_names
from layout import page as pages
from layout.correct import UNCHANGED, Matrix
from layout.course_state import State
from layout.hand import ORDINARY, Hand
from layout.marks import Bundle, Sheet
from layout.paper import NO_MARGINS, Margins
from layout.printers import Printer

SHARED = "shared"
_NAMES = 12  # names on a sheet that several share
_FIXED_DATE = (1980, 1, 1, 0, 0, 0)  # the first that a zip can hold
_GROUP = 100  # students in one plan
_FEW = 4  # rows that are not worth the start of a second process

Progress = Callable[[int, int, str], None]
"""Told how many steps of how many are done, and of what."""


@dataclass(frozen=True, slots=True)
class Printing:
    """How all sheets of a class are printed: what undoes the printer's errors, what it reaches, and the hand."""

    correction: Matrix = UNCHANGED
    words: str = "none"
    margins: Margins = NO_MARGINS
    hand: Hand = ORDINARY

    def compose(self, job: compose.Job, drawings: Sequence[Drawing], page: str) -> Bundle:
        """Compose sheets for a paper of this name. Raises CannotBuild where the paper is too small."""
        job = replace(job, correction=self.words, hand=self.hand)
        bundle = compose.compose(job, drawings, paper.named(page).within(self.margins))
        return replace(bundle, correction=self.correction)


@dataclass(frozen=True, slots=True)
class Asked:
    """What a run is to make: for whom, from which box, where to, on which paper, printed how."""

    list: Path
    box: Path
    out: Path
    paper: str | None = None
    workers: int = 2
    printing: Printing = field(default_factory=Printing)


def printing(printer: Printer | None, hand: Hand) -> Printing:
    """Return how to print for a printer that is known, or for any."""
    return Printing(printer.correction, printer.words, printer.margins, hand) if printer else Printing(hand=hand)


@dataclass(frozen=True, slots=True)
class Pack:
    """One file to draw, as a worker gets it: a student's sheets, or with `sled_for` the sled that several share."""

    file: str
    name: str
    title: str
    row: Row
    text: str
    paper: str
    printing: Printing
    out: Path
    source: str = ""
    sled_for: tuple[str, ...] = ()

    @property
    def page(self) -> str:
        """The student's own page, beside the file."""
        return _page_beside(self.file)

    @property
    def files(self) -> tuple[str, ...]:
        """What is written: the file and the page, or the file of a sled alone."""
        return (self.file,) if self.sled_for else (self.file, self.page)


@dataclass(frozen=True, slots=True)
class Handout:
    """All that a student's file and page are made from: name, numbers, sheets as marks, steps, cautions, file name."""

    name: str
    pdf: str
    numbers: Mapping[str, Any]
    steps: tuple[str, ...]
    bundle: Bundle
    cautions: tuple[str, ...] = ()

    @property
    def sheets(self) -> tuple[Sheet, ...]:
        """The sheets as marks, for any writer."""
        return self.bundle.sheets


@dataclass(frozen=True, slots=True)
class Drawn:
    """What came of a pack: a record for the plan, or the faults of its row."""

    pack: Pack
    record: Mapping[str, Any] = field(default_factory=dict)
    faults: tuple[Fault, ...] = ()


@dataclass(frozen=True, slots=True)
class Outcome:
    """What a run did. `stale` are files of rows that are no longer in the list; they are left where they are."""

    made: tuple[str, ...]
    kept: int
    faults: tuple[Fault, ...]
    remarks: tuple[str, ...]
    stale: tuple[str, ...]
    summary: Path
    units: Units


# -- one pack ------------------------------------------------------------------------------------------------------


def handout(pack: Pack) -> Handout:
    """Return a student's handout. Raises RowRefused where a rule stops the box or the paper is too small."""
    file = boxfile.read(pack.text, f"{Path(pack.file).stem}.toml")
    worked = box.work_out(file)
    stops = [problem for problem in worked.problems if problem.severity == "stop"]
    if stops:
        raise RowRefused(roster.refused_by(pack.row, stops))
    made = course_plan.numbers(worked)
    drawings = [d for d in box_sheets.drawings(worked) if not (d.jig == "sled" and d.name in course_plan.SHARED)]
    job = compose.Job(
        prefix=Path(pack.file).stem,
        title=f"{pack.name} – {pack.title}",
        settings=box.settings_line(file),
        units=file.units,
        revision=carry.revision_mark("box", file.settings),
        carried=carry.of_box(file),
    )
    try:
        bundle = pack.printing.compose(job, drawings, pack.paper)
    except CannotBuild as error:
        problems = [replace(p, where="print.paper") if p.where == "paper" else p for p in error.problems]
        raise RowRefused(roster.refused_by(pack.row, problems)) from None
    cautions = [*course_plan.CAUTIONS, *(caution for drawing in drawings for caution in drawing.cautions)]
    return Handout(pack.name, pack.file, made, order.told(worked), bundle, tuple(dict.fromkeys(cautions)))


def shared_sled(pack: Pack) -> Bundle:
    """Return the sheets of a sled that several students use; its revision mark does not depend on who they are."""
    file = boxfile.read(pack.text, "the box file")
    jig, settings = find("sled"), course_plan.shared_sled(file)
    plan = jig.plan(settings, file.units)
    more = len(pack.sled_for) - _NAMES
    users = ", ".join(pack.sled_for[:_NAMES]) + (f" and {more} more" if more > 0 else "")
    job = compose.Job(
        prefix="sled",
        title=read_out(plan.title, file.units),
        settings=f"{course_plan.sled_line(settings, file.units)}; for {users}",
        units=file.units,
        revision=carry.revision_mark("sled", settings),
    )
    drawings = [drawing for drawing in plan.drawings if drawing.name in course_plan.SHARED]
    return pack.printing.compose(job, drawings, pack.paper)


def draw(pack: Pack) -> Drawn:
    """Draw a pack and write its files; return what the plan needs to know of it. This is what a worker does."""
    from layout import pdf  # noqa: PLC0415 - slow to import, and a run with nothing to draw needs none of it

    contents = {}
    record: dict[str, Any] = {"name": pack.name, "paper": pack.paper}
    try:
        if pack.sled_for:
            bundle = shared_sled(pack)
        else:
            made = handout(pack)
            bundle = made.bundle
            record |= {"numbers": made.numbers, "steps": made.steps, "revision": _revision(bundle)}
            contents[pack.page] = _page(pack, record, made)
    except RowRefused as refused:
        return Drawn(pack, faults=refused.faults)
    except CannotBuild as error:
        return Drawn(pack, faults=tuple(roster.refused_by(pack.row, error.problems)))
    record |= {"pages": len(bundle.sheets), "revision": _revision(bundle)}
    target = pack.out / pack.file
    files.save(target.parent, contents | {target.name: pdf.write(bundle)})
    return Drawn(pack, record)


def _revision(bundle: Bundle) -> str:
    return bundle.keywords.removeprefix("revision ")


def _page(pack: Pack, record: Mapping[str, Any], made: Handout) -> bytes:
    file = boxfile.read(pack.text, "the box file")
    sled = pages.File(_sled_file(file, pack.paper), "The sled, which several share, as PDF")
    return pages.student(_student(pack.row.name, pack.file, record, sled), pack.title, made.cautions, made.bundle)


def _student(name: str, file: str, record: Mapping[str, Any], *more: pages.File) -> pages.Student:
    """Return what the pages say of a student, from the record that is kept: a class is never held as sheets."""
    sheets = pages.File(file, f"Sheets as PDF, {record['paper']}")
    sizes = course_sizes.sizes(Maker(name, record["numbers"]))
    return pages.Student(name, record["revision"], sizes, tuple(record["steps"]), _page_beside(file), (sheets, *more))


def _named(file: BoxFile, name: str) -> str:
    """Return a box file that bears a student's name, so that a sheet made from it again bears it too."""
    return box_changes.set_values(file.source, {"title": f"{name} – {file.title}"[: box_values.LONGEST_WORDS].strip()})


def _page_beside(file: str) -> str:
    return f"{file.removesuffix('.pdf')}.html"


def _sled_file(file: BoxFile, page: str) -> str:
    """Return where the sled is that a box takes, for its paper."""
    mark = carry.revision_mark("sled", course_plan.shared_sled(file))
    return f"{SHARED}/sled-{file.joint.finger:g}-{mark}-{_in_a_name(page)}.pdf".replace(" ", "-")


# -- workers -------------------------------------------------------------------------------------------------------


def _start_worker() -> None:
    """Leave Ctrl-C to the parent, and end with it: a parent that is killed can't tell its workers to stop."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    parent = multiprocessing.parent_process()

    def follow() -> None:
        assert parent is not None, "a worker has a parent"
        wait([parent.sentinel])
        os._exit(1)

    threading.Thread(target=follow, daemon=True).start()


def drawn(packs: Iterator[Pack], workers: int) -> Iterator[Drawn]:
    """Draw packs, by several workers at once, and go through them as they are finished."""
    if workers <= 1:
        yield from map(draw, packs)
        return
    first = next(packs, None)
    if first is None:
        return
    context = multiprocessing.get_context("spawn")
    pool = concurrent.futures.ProcessPoolExecutor(workers, context, _start_worker)
    try:
        running = {pool.submit(draw, first)}
        while running:
            # No more than they can chew: rows wait in the list, not in memory.
            for pack in packs:
                running.add(pool.submit(draw, pack))
                if len(running) >= 2 * workers:
                    break
            done, running = concurrent.futures.wait(running, return_when=concurrent.futures.FIRST_COMPLETED)
            for future in done:
                yield future.result()
    except BrokenProcessPool as error:
        raise MachineFault("a worker came to an end; what is finished is kept: run the same again to go on") from error
    finally:
        pool.shutdown(wait=True, cancel_futures=True)


# -- a run ---------------------------------------------------------------------------------------------------------


def make(asked: Asked, progress: Progress = lambda done, of, what: None) -> Outcome:
    """Make everything for a class. Raises CannotRead for a list or a box file that can't be read, and MachineFault."""
    base = boxfile.load(asked.box)
    people = roster.load(asked.list)
    if asked.paper:
        paper.named(asked.paper)
    files.make_folder(asked.out / SHARED)
    with State(asked.out) as state:
        _sweep(asked.out)
        return _Run(asked, base, people.rows, state, progress).make(people.faults, people.remarks)


def _sweep(out: Path) -> None:
    """Remove what a run that was killed left aside; the lock says that no other run is at work here."""
    for folder in (out, out / SHARED):
        for left in folder.glob(f"{files.ASIDE}*"):
            with suppress(OSError):
                left.unlink()


class _Run:
    """One run, from the rows to the last file."""

    def __init__(self, asked: Asked, base: BoxFile, rows: Sequence[Row], state: State, progress: Progress) -> None:
        self.asked, self.base, self.rows, self.state, self.progress = asked, base, rows, state, progress
        self.faults: list[Fault] = []
        self.remarks: list[str] = []
        self.made: list[str] = []
        self.kept = 0
        self.done = 0
        self.students: dict[int, tuple[str, str]] = {}  # row number: file and paper of those who have one
        self.sleds: dict[str, Pack] = {}
        self.users: dict[str, list[int]] = {}

    def make(self, faults: Sequence[Fault], remarks: Sequence[str]) -> Outcome:
        """Make all files; return what was done."""
        self.faults += faults
        workers = self.asked.workers if len(self.rows) >= _FEW else 1
        for result in drawn(self._packs(), workers):
            self._finish(result)
        for result in drawn(self._shared(), 1):
            self._finish(result)
        self._class_files()
        own = [file for file, _ in self.students.values()]
        current = {*own, *map(_page_beside, own), *self._sled_files(), *self._teachers}
        others = [file for file in self.state.files() if file not in current]
        stale = [file for file in others if (self.asked.out / file).exists()]
        summary = self._summary()
        order = sorted(self.faults, key=lambda fault: fault.row)
        made, said = tuple(sorted(self.made)), (*remarks, *self.remarks)
        return Outcome(made, self.kept, tuple(order), said, tuple(stale), summary, self.base.units)

    def _told(self, what: str) -> None:
        """Note a step that is done: a row, a sled, or a file of the whole class, as many as are known by now."""
        self.done += 1
        self.progress(self.done, len(self.rows) + len(self.sleds) + len(self._teachers), what)

    def _packs(self) -> Iterator[Pack]:
        """Go through the rows that must be drawn; note those that are done and those that can't be."""
        for row in self.rows:
            try:
                pack = self._pack(row)
            except RowRefused as refused:
                self.faults += refused.faults
                self._told(row.name)
                continue
            if all(self.state.is_made(file, pack.source) for file in pack.files):
                self.kept += len(pack.files)
                self._have(pack)
                self._told(row.name)
            else:
                yield pack

    def _pack(self, row: Row) -> Pack:
        """Return what a worker needs for a row. Raises RowRefused."""
        file = roster.resolve(row, self.base)
        named = row.values.get("print.paper") or self.asked.paper or file.print.paper or paper.default(file.units)
        try:
            page = paper.named(str(named)).name
        except CannotRead as error:
            problem = Problem("stop", "print.paper", "{error}", numbers={"error": str(error)})
            raise RowRefused(roster.refused_by(row, [problem])) from None
        drawn_as, remark = student_names.on_the_sheet(row.name)
        if remark:
            self.remarks.append(f"row {row.number} ({roster.shortened(row.name)}), name: {remark}")
        pack = Pack(
            file=f"{student_names.stem(row.name)}.pdf",
            name=drawn_as,
            title=file.title,
            row=row,
            text=_named(file, drawn_as),
            paper=page,
            printing=self.asked.printing,
            out=self.asked.out,
        )
        return replace(pack, source=_source(pack))

    def _finish(self, result: Drawn) -> None:
        """Note what a worker has done."""
        pack = result.pack
        if result.faults:
            self.faults += result.faults
            self.sleds.pop(pack.file, None)
        else:
            for file in pack.files:
                self.state.keep(file, pack.source, dict(result.record) if file == pack.file else {})
            self.made += pack.files
            if not pack.sled_for:
                self._have(pack)
        self._told(pack.file if pack.sled_for else pack.name)

    def _have(self, pack: Pack) -> None:
        """Note a student whose file is there, and the sled it takes."""
        self.students[pack.row.number] = (pack.file, pack.paper)
        file = boxfile.read(pack.text, "the box file")
        sled = _sled_file(file, pack.paper)
        self.sleds.setdefault(sled, replace(pack, file=sled, source=""))
        self.users.setdefault(sled, []).append(pack.row.number)

    def _shared(self) -> Iterator[Pack]:
        """Go through the sleds that must be drawn."""
        names = {row.number: row.name for row in self.rows}
        for file in self._sled_files():
            who = tuple(student_names.on_the_sheet(names[n])[0] for n in sorted(self.users[file]))
            pack = replace(self.sleds[file], sled_for=who)
            # Only what is written on it may change it: not whose box file it was first met in.
            settings = course_plan.shared_sled(boxfile.read(pack.text, "the box file"))
            pack = replace(pack, source=_digest(_program(), settings, who, pack.paper, pack.printing))
            if self.state.is_made(file, pack.source):
                self.kept += 1
                self._told(file)
            else:
                yield pack

    def _sled_files(self) -> list[str]:
        return sorted(self.sleds)

    # -- files of the whole class

    @property
    def _teachers(self) -> list[str]:
        papers = sorted({page for _, page in self.students.values()})
        if not self.students:
            return []
        return ["index.html", "plan.pdf", *(f"all-{_in_a_name(page)}.pdf" for page in papers), "class.zip"]

    def _class_files(self) -> None:
        """Make the files for the whole class, where what goes into them has changed."""
        if not self.students:
            return
        ordered = [self.students[number] for number in sorted(self.students)]
        for page in sorted({page for _, page in ordered}):
            sleds = [file for file in self._sled_files() if self.sleds[file].paper == page]
            parts = [*sleds, *(file for file, of in ordered if of == page)]
            self._whole(f"all-{_in_a_name(page)}.pdf", parts, functools.partial(self._join, parts))
        own = [file for file, _ in ordered]
        everything = sorted([*self._sled_files(), *own, *map(_page_beside, own)])
        self._whole("class.zip", everything, functools.partial(self._zip, everything))
        self._whole("plan.pdf", own, self._plan, self.base.source, self._page)
        self._whole("index.html", [*self._sled_files(), *own], self._index, self.base.title)

    def _whole(self, file: str, parts: Sequence[str], write: Callable[[BinaryIO], None], *more: object) -> None:
        source = hashlib.sha256(_digest(_program(), file, self.asked.printing, *more).encode())
        for part in parts:
            source.update(f"{part}\0{self.state.content(part)}\0".encode())
        if self.state.is_made(file, source.hexdigest()):
            self.kept += 1
        else:
            with files.aside(self.asked.out / file) as stream:
                write(stream)
            self.state.keep(file, source.hexdigest(), {})
            self.made.append(file)
        self._told(file)

    def _join(self, parts: Sequence[str], to: BinaryIO) -> None:
        from layout import join  # noqa: PLC0415 - a run with nothing to do needs none of it

        entries = [join.Entry(self._heading(part), self.asked.out / part) for part in parts]
        join.join(entries, f"{self.base.title}: everybody's sheets", to)

    def _heading(self, part: str) -> str:
        return str(self.state.record(part)["name"]) if not part.startswith(SHARED) else f"Sled {Path(part).stem[5:]}"

    def _zip(self, parts: Sequence[str], to: BinaryIO) -> None:
        """Write what goes to the class. Stored, since PDFs are compressed: the bytes depend on no library's version."""
        with zipfile.ZipFile(to, "w", zipfile.ZIP_STORED) as archive:
            for part in parts:
                entry = zipfile.ZipInfo(part, _FIXED_DATE)
                entry.external_attr = 0o644 << 16
                entry.create_system = 3
                with archive.open(entry, "w") as target, (self.asked.out / part).open("rb") as source:
                    while block := source.read(1 << 16):
                        target.write(block)

    @property
    def _page(self) -> str:
        """The paper of the teacher's plan."""
        return paper.named(self.asked.paper or self.base.print.paper or paper.default(self.base.units)).name

    def _makers(self, numbers: Sequence[int] = ()) -> Iterator[Maker]:
        for number in numbers or sorted(self.students):
            record = self.state.record(self.students[number][0])
            yield Maker(record["name"], record["numbers"])

    def _plan(self, to: BinaryIO) -> None:
        """Write the teacher's plan, a large class in groups: nobody teaches more at once, and memory stays small."""
        numbers = sorted(self.students)
        groups = [numbers[first : first + _GROUP] for first in range(0, len(numbers), _GROUP)]
        if len(groups) == 1:
            to.write(self._plan_of(numbers, ""))
            return
        from layout import join  # noqa: PLC0415 - a run with nothing to do needs none of it

        with tempfile.TemporaryDirectory(prefix=files.ASIDE) as folder:
            entries = []
            for number, group in enumerate(groups, 1):
                path = Path(folder) / f"{number}.pdf"
                path.write_bytes(self._plan_of(group, f", group {number} of {len(groups)}"))
                entries.append(join.Entry(f"Group {number}: rows {group[0]} to {group[-1]}", path))
            join.join(entries, f"{self.base.title}: the teacher's plan", to)

    def _plan_of(self, numbers: Sequence[int], group: str) -> bytes:
        """Return the plan for these rows as PDF."""
        from layout import pdf  # noqa: PLC0415 - slow to import

        drawings = course_plan.drawings(Course(self.base, tuple(self._makers(numbers))))
        made_from = [self.state.record(self.students[number][0])["revision"] for number in numbers]
        job = compose.Job(
            prefix="plan",
            title=f"{self.base.title}: the teacher's plan{group}",
            settings=f"{len(numbers)} boxes; {box.settings_line(self.base)}",
            units=self.base.units,
            revision=carry.revision_mark("plan", {"made from": made_from}),
        )
        return pdf.write(self.asked.printing.compose(job, drawings, self._page))

    def _index(self, to: BinaryIO) -> None:
        """Write the teacher's page, which names everybody: it goes into no file for the class."""
        says = {"plan.pdf": "The plan, as PDF", "class.zip": "Everything for the students, as one file"}
        files = [pages.File(f, says.get(f, f"All sheets, {f[4:-4]}, as PDF")) for f in self._teachers[1:]]
        files += [pages.File(file, f"Sled {Path(file).stem[5:]}, as PDF") for file in self._sled_files()]
        names = {row.number: row.name for row in self.rows}
        students = (
            _student(names[number], file, self.state.record(file))
            for number, (file, _) in sorted(self.students.items())
        )
        pages.teacher(self.base.title, course_plan.CAUTIONS, files, students, to)

    def _summary(self) -> Path:
        """Write what a machine wants to know of the class; no paths but names in the folder."""
        path = self.asked.out / "summary.json"
        stations = course_plan.stations(self._makers())
        with files.aside(path) as to:
            head = {
                "version": 1,
                "title": self.base.title,
                "set_ups": [_station(station) for station in stations],
                "shared": [{"file": f, "rows": sorted(self.users[f])} for f in self._sled_files()],
                "files": self._teachers,
                "refused": [self._refusal(f) for f in sorted(self.faults, key=lambda f: f.row)],
            }
            to.write(json.dumps(head, indent=1, ensure_ascii=False)[:-2].encode() + b',\n "students": [')
            for i, number in enumerate(sorted(self.students)):
                file, _ = self.students[number]
                entry = {"row": number, "file": file} | self.state.record(file)
                to.write((b"," if i else b"") + b"\n  " + json.dumps(entry, ensure_ascii=False).encode())
            to.write(b"\n ]\n}\n")
        return path

    def _refusal(self, fault: Fault) -> dict[str, Any]:
        said = fault.problem.as_data(self.base.units)
        return {"row": fault.row, "name": fault.name, "column": fault.column, **said}


def _station(station: course_plan.Station) -> dict[str, Any]:
    order = station.order
    said = {"name": station.name, "settings": list(station.settings), "set_ups": len(order.set_ups)}
    return said | {"changes": order.changes, "changes_by_list": station.changes_by_list, "at_least": order.at_least}


def _in_a_name(page: str) -> str:
    """Return a paper as part of a file name: "300 x 400 mm" has blanks in it."""
    return "".join(letter if letter.isalnum() or letter in ".-" else "-" for letter in page)


def _source(pack: Pack) -> str:
    """Return a digest of all that a student's file is made from."""
    return _digest(_program(), pack.text, pack.row.name, pack.name, pack.paper, pack.printing)


def _digest(*things: object) -> str:
    return hashlib.sha256(json.dumps(things, sort_keys=True, default=str).encode()).hexdigest()


@functools.cache
def _program() -> str:
    """Return the version of the program and a digest of its own text: a change of it makes everything anew."""
    made = hashlib.sha256()
    for package in ("jigs", "jigs.trade", "layout"):
        for item in sorted(resources(package).iterdir(), key=lambda found: found.name):
            if item.name.endswith((".py", ".csv", ".css", ".js")):
                made.update(item.read_bytes())
    try:
        version = importlib.metadata.version("jigleaf")
    except importlib.metadata.PackageNotFoundError:
        version = "not installed"
    return f"{version} {made.hexdigest()}"
