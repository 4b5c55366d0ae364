"""A class: a class list in, everything for everyone out. It draws nothing itself.

Rows are looked at first, one by one by two workers: what a student's cards say, and by a digest of each whether others
have the same. Then each student's files are drawn, from that student's row and from which of its cards are shared; then
what is shared, once. What is already there is left as it is: a run that was stopped goes on where it was, and memory
does not grow with the class.
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
from dataclasses import dataclass
from importlib.resources import files as resources
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import Any, BinaryIO

from jigs.base.errors import CannotBuild, JigleafError
from jigs.base.lazily import lazily
from jigs.base.lengths import Units
from jigs.box import chain
from jigs.boxfile import reading
from jigs.boxfile.sections import BoxFile
from jigs.course import class_list, plan, set_ups
from jigs.course.class_list import Fault, Row, RowRefused
from jigs.course.makers import Maker
from jigs.course.plan import Course, Refused
from jigs.record import Record, replace
from layout import make as door
from layout.course import html as pages
from layout.course import names as course_names
from layout.course import shared
from layout.course.pack import (
    CARDS,
    SHARED,
    Pack,
    Result,
    bearing_the_name,
    compose,
    draw,
    in_a_name,
    look,
    paper_of,
    student,
)
from layout.course.shared import Alike, SharedSled
from layout.course.state import State
from layout.course.workers import Workers
from layout.pages import frames
from layout.pages.job import Job
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


class Asked(Record):
    """What a run is to make: for whom, from which box, where to, on which paper, printed how."""

    list: Path
    box: Path
    out: Path
    paper: str | None = None
    workers: int = 2
    printing: door.Printing = door.USUAL


class Outcome(Record):
    """What a run did. `stale` are files of rows that are no longer in the list; they are left where they are."""

    made: tuple[str, ...]
    kept: int
    faults: tuple[Fault, ...]
    remarks: tuple[str, ...]
    stale: tuple[str, ...]
    summary: Path
    units: Units


class Stopped(JigleafError):
    """A run that was told to stop: what is finished is kept, and the next run goes on where it was."""


class Watch:
    """Who follows a run student by student. This one looks on and lets it go on."""

    @property
    def stops(self) -> bool:
        """Whether the run is to end with the students who are at work."""
        return False

    def begins(self, row: int) -> None:
        """Hear that the files of a row are being drawn."""

    def ends(self, row: int, faults: Sequence[Fault]) -> None:
        """Hear that the files of a row are there, or why there are none."""


_NOBODY = Watch()


def make(asked: Asked, progress: Progress = lambda done, of, what: None, watch: Watch = _NOBODY) -> Outcome:
    """Make everything for a class.

    Raises CannotRead for a list or a box file that can't be read, MachineFault, and Stopped where `watch` wants it.
    """
    base = reading.load(asked.box)
    people = class_list.load(asked.list)
    if asked.paper:
        sheet_paper.named(asked.paper)
    write_files.make_folder(asked.out / SHARED)
    with State(asked.out) as state:
        _sweep(asked.out)
        return _Run(asked, base, people.rows, state, progress, watch).make(people.faults, people.remarks)


def _sweep(out: Path) -> None:
    """Remove what a run that was killed left aside; the lock says that no other run is at work here."""
    for folder in (out, out / SHARED):
        for left in folder.glob(f"{write_files.ASIDE}*"):
            with suppress(OSError):
                left.unlink()


@dataclass(slots=True)
class _One:
    """What is kept in memory of a student who has a box: of which cards there are others, and which files are there."""

    row: Row
    stem: str
    name: str
    paper: str
    source: str
    sled: str
    digests: dict[str, str]
    files: tuple[str, ...] = ()

    @property
    def cards(self) -> str:
        """The file of the cards, which the state keeps the record of the others under."""
        return f"{self.stem}-cards.pdf"


class _Run:
    """One run, from the rows to the last file."""

    def __init__(
        self, asked: Asked, base: BoxFile, rows: Sequence[Row], state: State, progress: Progress, watch: Watch
    ) -> None:
        self.asked, self.base, self.rows, self.state = asked, base, rows, state
        self.progress, self.watch = progress, watch
        self.faults: list[Fault] = []
        self.remarks: list[str] = []
        self.made: list[str] = []
        self.kept = 0
        self.done = 0
        self.students: dict[int, _One] = {}  # by row number
        self.alike: dict[tuple[str, str], list[int]] = {}  # rows by the digest of a card and its paper
        self.steps = 2 * len(rows)  # as many as are known by now

    def make(self, faults: Sequence[Fault], remarks: Sequence[str]) -> Outcome:
        """Make all files; return what was done."""
        self.faults += faults
        with Workers(self.asked.workers if len(self.rows) >= _FEW else 1) as workers:
            for result in workers.done(look, self._unseen(), waiting=self.asked.workers):
                self._look_at(result)
            self._go_on()
            self._compare()
            for result in workers.done(draw, self._undrawn()):
                self._finish(result)
            self._go_on()
        if self.students:
            self._shared_files()
        if self.students:
            self._class_files()
        self.state.forget_all_but({one.source for one in self.students.values()})
        current = {*self._own, *self._shared, *self._teachers}
        others = [file for file in self.state.files() if file not in current]
        stale = [file for file in others if (self.asked.out / file).exists()]
        summary = self._summary()
        order = sorted(self.faults, key=lambda fault: fault.row)
        made, said = tuple(sorted(self.made)), (*remarks, *self.remarks)
        return Outcome(made, self.kept, tuple(order), said, tuple(stale), summary, self.base.units)

    def _go_on(self) -> None:
        """Raise Stopped where the run is to end."""
        if self.watch.stops:
            raise Stopped("stopped; finished files are kept")

    def _refuse(self, number: int, faults: Sequence[Fault]) -> None:
        """Note that a row has no files, and why."""
        self.faults += faults
        self.watch.ends(number, faults)

    def _told(self, what: str) -> None:
        """Note a step that is done: a row looked at, a student's files, or a file of the class."""
        self.done += 1
        self.progress(self.done, self.steps, what)

    # -- looking at the rows

    def _unseen(self) -> Iterator[Pack]:
        """Go through the rows that must be looked at; note those that were, and those that give no box."""
        for row in self.rows:
            if self.watch.stops:
                return
            try:
                pack = self._pack(row)
            except RowRefused as refused:
                self._refuse(row.number, refused.faults)
                self._told(row.name)
                continue
            if remark := course_names.on_the_sheet(row.name)[1]:
                self.remarks.append(f"row {row.number} ({class_list.shortened(row.name)}), name: {remark}")
            seen = self.state.seen(pack.source)
            if seen is None:
                yield pack
            else:
                self._know(pack, seen["digests"])
                self._told(row.name)

    def _pack(self, row: Row) -> Pack:
        """Return what a worker needs for a row. Raises RowRefused."""
        file = class_list.resolve(row, self.base)
        drawn_as, _ = course_names.on_the_sheet(row.name)
        pack = Pack(
            stem=course_names.stem(row.name),
            name=drawn_as,
            title=file.title,
            row=row,
            text=bearing_the_name(file, drawn_as),
            paper=paper_of(row, file, self.asked.paper),
            printing=self.asked.printing,
            out=self.asked.out,
        )
        return replace(pack, source=_source(pack))

    def _look_at(self, result: Result) -> None:
        """Note what a worker has found out of a row."""
        if result.faults:
            self._refuse(result.pack.row.number, result.faults)
        else:
            self.state.see(result.pack.source, dict(result.record))
            self._know(result.pack, result.record["digests"])
        self._told(result.pack.name)

    def _know(self, pack: Pack, digests: dict[str, str]) -> None:
        of_others = "" if pack.paper == self._page else pack.paper
        sled = shared.sled_file(reading.read(pack.text, "the box file"), self.base, of_others)
        one = _One(pack.row, pack.stem, pack.name, pack.paper, pack.source, sled, digests)
        self.students[pack.row.number] = one

    def _compare(self) -> None:
        """Find out which cards come out alike, whatever the order in which rows were finished."""
        self.students = {number: self.students[number] for number in sorted(self.students)}
        self.steps = len(self.rows) + len(self.students) + len(self._shared) + len(self._teachers)
        for number, one in self.students.items():
            for digest in one.digests.values():
                self.alike.setdefault((digest, self._card_paper(one.paper)), []).append(number)
        self.alike = {what: rows for what, rows in self.alike.items() if len(rows) > 1}

    def _shares(self, one: _One) -> tuple[str, ...]:
        """Return the names of the cards that a student has alike with others on the same paper."""
        paper = self._card_paper(one.paper)
        return tuple(name for name, digest in one.digests.items() if (digest, paper) in self.alike)

    # -- drawing the packs

    def _undrawn(self) -> Iterator[Pack]:
        """Go through the students whose files must be drawn; note those that are there."""
        for one in list(self.students.values()):
            if self.watch.stops:
                return
            names, file = self._shares(one), self._cards_file(one.paper)
            source = _digest(one.source, names, file, one.sled)
            if files := self._there(one.cards, source):
                one.files = files
                self.kept += len(files)
                self.watch.ends(one.row.number, ())
                self._told(one.name)
            else:
                self.watch.begins(one.row.number)
                yield replace(self._pack(one.row), shared=names, shared_in=file, sled=one.sled)

    def _there(self, cards: str, source: str) -> tuple[str, ...]:
        """Return the files of a student where all are there and were made from this, else none."""
        if not self.state.is_made(cards, source):
            return ()
        files = tuple(self.state.record(cards)["files"])
        return files if all(self.state.is_made(file, source) for file in files) else ()

    def _finish(self, result: Result) -> None:
        """Note what a worker has drawn."""
        pack = result.pack
        if result.faults:
            self._refuse(pack.row.number, result.faults)
            del self.students[pack.row.number]
        else:
            source, record = _digest(pack.source, pack.shared, pack.shared_in, pack.sled), dict(result.record)
            for file in record["files"]:
                self.state.keep(file, source, record if file == pack.cards else {})
            self.students[pack.row.number].files = tuple(record["files"])
            self.made += record["files"]
            self.watch.ends(pack.row.number, ())
        self._told(pack.name)

    # -- what is shared

    @property
    def _own(self) -> list[str]:
        return [file for one in self.students.values() for file in one.files]

    @property
    def _sleds(self) -> dict[str, list[_One]]:
        """The files of the sleds, with who uses each."""
        users: dict[str, list[_One]] = {}
        for one in self.students.values():
            users.setdefault(one.sled, []).append(one)
        return dict(sorted(users.items()))

    @property
    def _shared(self) -> list[str]:
        if not self.students:
            return []
        return sorted([*self._lists, *self._sleds, *map(shared.proof_file, self._papers)])

    @property
    def _papers(self) -> list[str]:
        """The papers that templates are printed on."""
        return sorted({one.paper for one in self.students.values()})

    @property
    def _lists(self) -> dict[str, list[_One]]:
        """The files of shared cards, each with who has its paper; one who is alone on a paper shares none."""
        users: dict[str, list[_One]] = {}
        for one in self.students.values():
            users.setdefault(self._cards_file(one.paper), []).append(one)
        return {file: ones for file, ones in sorted(users.items()) if file == CARDS or len(ones) > 1}

    def _cards_file(self, page: str) -> str:
        """Return the file of the cards that those share who print templates on a paper."""
        paper = self._card_paper(page)
        return shared.cards_file("" if paper == self._card_paper(self._page) else paper)

    @property
    def _page(self) -> str:
        """The paper of the teacher's plan, and of what is shared."""
        return sheet_paper.named(self.asked.paper or self.base.print.paper or sheet_paper.default(self.base.units)).name

    def _card_paper(self, page: str) -> str:
        """Return the paper of the cards of those who print templates on a paper."""
        large = self.asked.printing.hand.large
        return frames.card_page(sheet_paper.named(page), self.base.units, large=large).paper.name

    def _shared_files(self) -> None:
        """Make the sleds, the shared cards with their list, and the proofs."""
        printing = self.asked.printing
        used: dict[str, list[SharedSled]] = {}
        for file, users in self._sleds.items():
            page = users[0].paper
            made = SharedSled(file, self._pack(users[0].row).text, tuple(one.name for one in users))
            if self._drawn_whole(made, page, users):
                used.setdefault(self._cards_file(page), []).append(made)
        self.steps = self.done + len(self._lists) + len(self._papers) + len(self._teachers)
        if not self.students:
            return
        several = len({self._cards_file(one.paper) for one in self.students.values()}) > 1
        for file, users in self._lists.items():
            page = self._card_paper(users[0].paper)
            on, alike = shared.On(page, page if several else ""), list(self._alike(page))
            write = functools.partial(shared.cards, self.base, alike, used[file], on, printing)
            self._whole(file, (), write, self.base.source, on, alike, used[file])
        for paper in self._papers:
            proof = functools.partial(shared.proof, self.base, printing, paper)
            self._whole(shared.proof_file(paper), (), _written(proof), self.base.source)

    def _drawn_whole(self, made: SharedSled, page: str, users: Sequence[_One]) -> bool:
        """Make the file of a sled; where its paper is too small, say so of all who use it."""
        draw_it = functools.partial(shared.sled, made, self.asked.printing, page)
        try:
            self._whole(made.file, (), _written(draw_it), made, page)
        except CannotBuild as error:
            for one in users:
                self._refuse(one.row.number, class_list.refused_by(one.row, error.problems))
                del self.students[one.row.number]
            return False
        return True

    def _alike(self, paper: str) -> Iterator[Alike]:
        """Yield the cards that come out alike for several on a paper, each with the first who has it."""
        for (digest, its_paper), rows in sorted(self.alike.items()):
            users = [self.students[number] for number in rows if number in self.students]
            if not users or its_paper != paper:
                continue
            first = users[0]
            name = next(name for name, of in first.digests.items() if of == digest)
            _, number, title, place = next(c for c in self.state.seen(first.source)["cards"] if c[0] == name)
            text = self._pack(first.row).text
            yield Alike(name, digest, text, tuple(one.name for one in users), number, title, place)

    # -- files of the whole class

    @property
    def _teachers(self) -> list[str]:
        if not self.students:
            return []
        return ["index.html", "plan.pdf", *self._all, "class.zip"]

    @property
    def _all(self) -> dict[str, list[str]]:
        """The files with everything that is printed for everyone, each page once, by paper; what they are joined of."""
        parts: dict[str, list[str]] = {}
        for file, users in self._lists.items():
            parts.setdefault(_all_cards(self._card_paper(users[0].paper)), []).append(file)
        for one in self.students.values():
            parts.setdefault(_all_cards(self._card_paper(one.paper)), []).append(one.cards)
        for page in self._papers:
            sleds = [file for file, users in self._sleds.items() if users[0].paper == page]
            cut = [file for one in self.students.values() if one.paper == page for file in one.files if _is_cut(file)]
            parts[f"all-templates-{in_a_name(page)}.pdf"] = [shared.proof_file(page), *sleds, *cut]
        return dict(sorted(parts.items()))

    def _class_files(self) -> None:
        """Make the files for the whole class, where what goes into them has changed."""
        for file, parts in self._all.items():
            self._whole(file, parts, functools.partial(self._join, parts))
        everything = sorted([*self._shared, *self._own])
        self._whole("class.zip", everything, functools.partial(self._zip, everything))
        refused = self._refused()
        cards = [one.cards for one in self.students.values()]
        self._whole("plan.pdf", cards, self._plan, self.base.source, self._page, refused)
        self._whole("index.html", [*self._shared, *self._own], self._index, self.base.title, self._said())

    def _whole(self, file: str, parts: Sequence[str], write: Callable[[BinaryIO], Any], *more: object) -> None:
        """Make a file from other files and `more`, where it is not there as it would be."""
        self._go_on()
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
        names = {file: one.name for one in self.students.values() for file in one.files}
        entries = [join.Entry(names.get(part, _heading(part)), self.asked.out / part) for part in parts]
        cards = not any(_is_cut(part) for part in parts)  # templates are cut up, and printed on one side
        join.join(entries, f"{self.base.title}: everything to print", to, both_sides=cards)

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

    def _makers(self, numbers: Sequence[int] = ()) -> Iterator[Maker]:
        for number in numbers or self.students:
            one = self.students[number]
            yield Maker(one.name, self.state.seen(one.source)["numbers"])

    def _said(self) -> list[str]:
        """Return what is said of each row that was refused, in the order of the list."""
        return [fault.says(self.base.units) for fault in sorted(self.faults, key=lambda fault: fault.row)]

    def _refused(self) -> tuple[Refused, ...]:
        """Return the rows that were refused as the plan lists them: a letter that the font lacks in Latin ones."""
        drawable, units = course_names.drawable, self.base.units
        faults = sorted(self.faults, key=lambda fault: fault.row)
        return tuple(
            Refused(f.row, course_names.on_the_sheet(f.name)[0], drawable(f.column), drawable(f.reason(units)))
            for f in faults
        )

    def _plan(self, to: BinaryIO) -> None:
        """Write the teacher's plan, a large class in groups: nobody teaches more at once, and memory stays small."""
        numbers = list(self.students)
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
        """Return the plan for these rows as PDF; the first group lists the rows that were refused."""
        refused = self._refused() if numbers[0] == next(iter(self.students)) else ()
        sheets = plan.pages(Course(self.base, tuple(self._makers(numbers)), refused))
        made_from = [self.state.seen(self.students[number].source)["revision"] for number in numbers]
        job = Job(
            prefix="plan",
            title=f"{self.base.title}: the plan{group}",
            settings=f"{len(numbers)} boxes; {chain.settings_line(self.base)}",
            units=self.base.units,
            revision=carried.revision_mark("plan", {"made from": made_from}),
        )
        return pdf.write(compose(job, sheets, self.asked.printing, self._page)[0])

    def _index(self, to: BinaryIO) -> None:
        """Write the teacher's page, which names everybody: it goes into no file for the class."""
        says = {"plan.pdf": "The plan, as PDF", "class.zip": "Everything for the students, as one file"}
        files = [pages.File(f, says.get(f, f"{_heading(f)}, as PDF")) for f in [*self._teachers[1:], *self._shared]]
        students = (
            student(one.row.name, one.stem, one.files, one.paper, self.state.seen(one.source))
            for one in self.students.values()
        )
        pages.teacher(self.base.title, plan.CAUTIONS, files, students, to, self._said())

    def _summary(self) -> Path:
        """Write what a machine wants to know of the class; no paths but names in the folder."""
        path = self.asked.out / "summary.json"
        stations = set_ups.stations(self._makers())
        rows = {file: [one.row.number for one in users] for file, users in self._sleds.items()}
        for file, users in self._lists.items():
            rows[file] = sorted(one.row.number for one in users if self._shares(one))
        for page in self._papers:
            rows[shared.proof_file(page)] = [one.row.number for one in self.students.values() if one.paper == page]
        with write_files.aside(path) as to:
            head = {
                "version": 1,
                "title": self.base.title,
                "set_ups": [_station(station) for station in stations],
                "shared": [{"file": file, "rows": rows[file]} for file in self._shared],
                "files": self._teachers,
                "refused": [self._refusal(f) for f in sorted(self.faults, key=lambda f: f.row)],
            }
            to.write(json.dumps(head, indent=1, ensure_ascii=False)[:-2].encode() + b',\n "students": [')
            for i, one in enumerate(self.students.values()):
                to.write((b"," if i else b"") + b"\n  " + json.dumps(self._entry(one), ensure_ascii=False).encode())
            to.write(b"\n ]\n}\n")
        return path

    def _entry(self, one: _One) -> dict[str, Any]:
        """Return what the summary says of a student."""
        seen, drawn = self.state.seen(one.source), self.state.record(one.cards)
        return {
            "row": one.row.number,
            "file": one.cards,
            "name": one.name,
            "paper": one.paper,
            "numbers": seen["numbers"],
            "steps": [step for _, _, steps in seen["tasks"] for step in steps],
            "revision": seen["revision"],
            "pages": drawn["pages"],
            "files": list(one.files),
            "shared": list(self._shares(one)),
            "sled": one.sled,
        }

    def _refusal(self, fault: Fault) -> dict[str, Any]:
        said = fault.problem.as_data(self.base.units)
        return {"row": fault.row, "name": fault.name, "column": fault.column, **said}


def _is_cut(file: str) -> bool:
    return file.endswith("-templates.pdf")


def _all_cards(page: str) -> str:
    return f"all-cards-{in_a_name(page)}.pdf"


def _heading(file: str) -> str:
    """Return what a file that is not one student's is called."""
    stem = Path(file).stem
    if stem.startswith("cards") and file.startswith(f"{SHARED}/"):
        on = stem.removeprefix("cards").removeprefix("-")
        return f"Shared cards{f' on {on}' if on else ''}, with the list of who uses what"
    if stem.startswith("all-"):
        _, kind, page = stem.split("-", 2)
        return f"All {kind}, {page}"
    kind, _, rest = stem.partition("-")
    return f"{kind.capitalize()} {rest}" if kind == "sled" else f"Proof of scale, {rest}"


def _written(draw_it: Callable[[], Any]) -> Callable[[BinaryIO], Any]:
    """Return what draws pages and writes them as PDF."""
    return lambda to: to.write(pdf.write(draw_it()))


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
