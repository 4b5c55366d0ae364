"""A class: a class list in, everything for everyone out. It draws nothing itself.

Each student's file depends on that student's row alone. Rows are read, drawn by two workers and written one by one,
and what is already there is left as it is: a run that was stopped goes on where it was, and memory does not grow with
the class.
"""

from __future__ import annotations

import functools
import hashlib
import importlib.metadata
import json
import tempfile
import zipfile
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, replace
from importlib.resources import files as resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, BinaryIO

from jigs.base.errors import CannotRead
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.base.rules import stop
from jigs.box import chain
from jigs.boxfile import reading
from jigs.boxfile.sections import BoxFile
from jigs.course import class_list, plan, set_ups
from jigs.course.class_list import Fault, Row, RowRefused
from jigs.course.makers import Maker
from jigs.course.plan import Course
from layout import make as door
from layout.course import html as pages
from layout.course import names as course_names
from layout.course.pack import SHARED, Drawn, Pack, bearing_the_name, drawn, in_a_name, page_beside, sled_file, student
from layout.course.state import State
from layout.fill.job import Job
from layout.sheet import carried
from layout.sheet import paper as sheet_paper
from layout.write import files as write_files

with lazily():  # a run with nothing to draw needs none of it
    from layout.write import join, pdf

_FIXED_DATE = (1980, 1, 1, 0, 0, 0)  # the first that a zip can hold
_GROUP = 100  # students in one plan
_FEW = 4  # rows that are not worth the start of a second process

Progress = Callable[[int, int, str], None]
"""Told how many steps of how many are done, and of what."""


@dataclass(frozen=True, slots=True)
class Asked:
    """What a run is to make: for whom, from which box, where to, on which paper, printed how."""

    list: Path
    box: Path
    out: Path
    paper: str | None = None
    workers: int = 2
    printing: door.Printing = door.USUAL


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


def make(asked: Asked, progress: Progress = lambda done, of, what: None) -> Outcome:
    """Make everything for a class. Raises CannotRead for a list or a box file that can't be read, and MachineFault."""
    base = reading.load(asked.box)
    people = class_list.load(asked.list)
    if asked.paper:
        sheet_paper.named(asked.paper)
    write_files.make_folder(asked.out / SHARED)
    with State(asked.out) as state:
        _sweep(asked.out)
        return _Run(asked, base, people.rows, state, progress).make(people.faults, people.remarks)


def _sweep(out: Path) -> None:
    """Remove what a run that was killed left aside; the lock says that no other run is at work here."""
    for folder in (out, out / SHARED):
        for left in folder.glob(f"{write_files.ASIDE}*"):
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
        current = {*own, *map(page_beside, own), *self._sled_files(), *self._teachers}
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
        file = class_list.resolve(row, self.base)
        named = row.values.get("print.paper") or self.asked.paper or file.print.paper or sheet_paper.default(file.units)
        try:
            page = sheet_paper.named(str(named)).name
        except CannotRead as error:
            problem = stop("print.paper", "{error}", error=str(error))
            raise RowRefused(class_list.refused_by(row, [problem])) from None
        drawn_as, remark = course_names.on_the_sheet(row.name)
        if remark:
            self.remarks.append(f"row {row.number} ({class_list.shortened(row.name)}), name: {remark}")
        pack = Pack(
            file=f"{course_names.stem(row.name)}.pdf",
            name=drawn_as,
            title=file.title,
            row=row,
            text=bearing_the_name(file, drawn_as),
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
        file = reading.read(pack.text, "the box file")
        sled = sled_file(file, pack.paper)
        self.sleds.setdefault(sled, replace(pack, file=sled, source=""))
        self.users.setdefault(sled, []).append(pack.row.number)

    def _shared(self) -> Iterator[Pack]:
        """Go through the sleds that must be drawn."""
        names = {row.number: row.name for row in self.rows}
        for file in self._sled_files():
            who = tuple(course_names.on_the_sheet(names[n])[0] for n in sorted(self.users[file]))
            pack = replace(self.sleds[file], sled_for=who)
            # Only what is written on it may change it: not whose box file it was first met in.
            settings = plan.shared_sled(reading.read(pack.text, "the box file"))
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
        return ["index.html", "plan.pdf", *(f"all-{in_a_name(page)}.pdf" for page in papers), "class.zip"]

    def _class_files(self) -> None:
        """Make the files for the whole class, where what goes into them has changed."""
        if not self.students:
            return
        ordered = [self.students[number] for number in sorted(self.students)]
        for page in sorted({page for _, page in ordered}):
            sleds = [file for file in self._sled_files() if self.sleds[file].paper == page]
            parts = [*sleds, *(file for file, of in ordered if of == page)]
            self._whole(f"all-{in_a_name(page)}.pdf", parts, functools.partial(self._join, parts))
        own = [file for file, _ in ordered]
        everything = sorted([*self._sled_files(), *own, *map(page_beside, own)])
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
            with write_files.aside(self.asked.out / file) as stream:
                write(stream)
            self.state.keep(file, source.hexdigest(), {})
            self.made.append(file)
        self._told(file)

    def _join(self, parts: Sequence[str], to: BinaryIO) -> None:
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
        return sheet_paper.named(self.asked.paper or self.base.print.paper or sheet_paper.default(self.base.units)).name

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
        with tempfile.TemporaryDirectory(prefix=write_files.ASIDE) as folder:
            entries = []
            for number, group in enumerate(groups, 1):
                path = Path(folder) / f"{number}.pdf"
                path.write_bytes(self._plan_of(group, f", group {number} of {len(groups)}"))
                entries.append(join.Entry(f"Group {number}: rows {group[0]} to {group[-1]}", path))
            join.join(entries, f"{self.base.title}: the teacher's plan", to)

    def _plan_of(self, numbers: Sequence[int], group: str) -> bytes:
        """Return the plan for these rows as PDF."""
        drawings = plan.drawings(Course(self.base, tuple(self._makers(numbers))))
        made_from = [self.state.record(self.students[number][0])["revision"] for number in numbers]
        job = Job(
            prefix="plan",
            title=f"{self.base.title}: the teacher's plan{group}",
            settings=f"{len(numbers)} boxes; {chain.settings_line(self.base)}",
            units=self.base.units,
            revision=carried.revision_mark("plan", {"made from": made_from}),
        )
        return pdf.write(door.compose(job, drawings, replace(self.asked.printing, paper=self._page)))

    def _index(self, to: BinaryIO) -> None:
        """Write the teacher's page, which names everybody: it goes into no file for the class."""
        says = {"plan.pdf": "The plan, as PDF", "class.zip": "Everything for the students, as one file"}
        files = [pages.File(f, says.get(f, f"All sheets, {f[4:-4]}, as PDF")) for f in self._teachers[1:]]
        files += [pages.File(file, f"Sled {Path(file).stem[5:]}, as PDF") for file in self._sled_files()]
        names = {row.number: row.name for row in self.rows}
        students = (
            student(names[number], file, self.state.record(file)) for number, (file, _) in sorted(self.students.items())
        )
        pages.teacher(self.base.title, plan.CAUTIONS, files, students, to)

    def _summary(self) -> Path:
        """Write what a machine wants to know of the class; no paths but names in the folder."""
        path = self.asked.out / "summary.json"
        stations = set_ups.stations(self._makers())
        with write_files.aside(path) as to:
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


def _station(station: set_ups.Station) -> dict[str, Any]:
    order = station.order
    said = {"name": station.name, "settings": list(station.settings), "set_ups": len(order.set_ups)}
    return said | {"changes": order.changes, "changes_by_list": station.changes_by_list, "at_least": order.at_least}


def _source(pack: Pack) -> str:
    """Return a digest of all that a student's file is made from."""
    return _digest(_program(), pack.text, pack.row.name, pack.name, pack.paper, pack.printing)


def _digest(*things: object) -> str:
    return hashlib.sha256(json.dumps(things, sort_keys=True, default=str).encode()).hexdigest()


def _texts(folder: Traversable) -> Iterator[Traversable]:
    """Yield the files of a package and those within it that the program is made of, always in the same order."""
    for item in sorted(folder.iterdir(), key=lambda found: found.name):
        if item.is_dir():
            yield from _texts(item)
        elif item.name.endswith((".py", ".csv", ".css", ".js")):
            yield item


@functools.cache
def _program() -> str:
    """Return the version of the program and a digest of its own text: a change of it makes everything anew."""
    made = hashlib.sha256()
    for package in ("jigs", "layout"):
        for item in _texts(resources(package)):
            made.update(item.read_bytes())
    try:
        version = importlib.metadata.version("jigleaf")
    except importlib.metadata.PackageNotFoundError:
        version = "not installed"
    return f"{version} {made.hexdigest()}"
