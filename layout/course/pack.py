"""One pack of a class: a student's sheets and page, or a sled that several share, drawn by a worker."""

from __future__ import annotations

import concurrent.futures
import multiprocessing
import os
import signal
import threading
from collections.abc import Iterator, Mapping, Sequence
from concurrent.futures.process import BrokenProcessPool
from dataclasses import dataclass, field, replace
from multiprocessing.connection import wait
from pathlib import Path
from typing import Any

from jigs.base.catalogue import find
from jigs.base.drawing import Drawing
from jigs.base.errors import CannotBuild, MachineFault
from jigs.base.kinds import LONGEST_WORDS
from jigs.base.lazily import lazily
from jigs.base.wording import read_out
from jigs.box import chain, order
from jigs.box import sheets as box_sheets
from jigs.boxfile import change, reading
from jigs.boxfile.sections import BoxFile
from jigs.course import class_list
from jigs.course import plan as course_plan
from jigs.course import sizes as course_sizes
from jigs.course.class_list import Fault, Row, RowRefused
from jigs.course.makers import Maker
from layout import make
from layout.course import html as pages
from layout.fill.job import Job
from layout.sheet import carried
from layout.sheet.marks import Bundle, Sheet
from layout.write import files as write_files

with lazily():  # a run with nothing to draw needs none of it
    from layout.write import pdf

SHARED = "shared"
_NAMES = 12  # names on a sheet that several share


@dataclass(frozen=True, slots=True)
class Pack:
    """One file to draw, as a worker gets it: a student's sheets, or with `sled_for` the sled that several share."""

    file: str
    name: str
    title: str
    row: Row
    text: str
    paper: str
    printing: make.Printing
    out: Path
    source: str = ""
    sled_for: tuple[str, ...] = ()

    @property
    def page(self) -> str:
        """The student's own page, beside the file."""
        return page_beside(self.file)

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


# -- drawing it ----------------------------------------------------------------------------------------------------


def handout(pack: Pack) -> Handout:
    """Return a student's handout. Raises RowRefused where a rule stops the box or the paper is too small."""
    file = reading.read(pack.text, f"{Path(pack.file).stem}.toml")
    worked = chain.work_out(file)
    stops = [problem for problem in worked.problems if problem.severity == "stop"]
    if stops:
        raise RowRefused(class_list.refused_by(pack.row, stops))
    made = course_plan.numbers(worked)
    drawings = [d for d in box_sheets.drawings(worked) if not (d.jig == "sled" and d.name in course_plan.SHARED)]
    head = replace(make.head_of_box(file), title=f"{pack.name} – {pack.title}", codes=())
    try:
        bundle = compose(head, drawings, pack)
    except CannotBuild as error:
        problems = [replace(p, where="print.paper") if p.where == "paper" else p for p in error.problems]
        raise RowRefused(class_list.refused_by(pack.row, problems)) from None
    cautions = [*course_plan.CAUTIONS, *(caution for drawing in drawings for caution in drawing.cautions)]
    return Handout(pack.name, pack.file, made, order.told(worked), bundle, tuple(dict.fromkeys(cautions)))


def compose(head: Job, drawings: Sequence[Drawing], pack: Pack) -> Bundle:
    """Compose the sheets of a pack. Raises CannotBuild where its paper is too small."""
    return make.compose(head, drawings, replace(pack.printing, paper=pack.paper))


def shared_sled(pack: Pack) -> Bundle:
    """Return the sheets of a sled that several students use; its revision mark does not depend on who they are."""
    file = reading.read(pack.text, "the box file")
    jig, settings = find("sled"), course_plan.shared_sled(file)
    plan = jig.plan(settings, file.units)
    more = len(pack.sled_for) - _NAMES
    users = ", ".join(pack.sled_for[:_NAMES]) + (f" and {more} more" if more > 0 else "")
    job = Job(
        prefix="sled",
        title=read_out(plan.title, file.units),
        settings=f"{course_plan.sled_line(settings, file.units)}; for {users}",
        units=file.units,
        revision=carried.revision_mark("sled", settings),
    )
    drawings = [drawing for drawing in plan.drawings if drawing.name in course_plan.SHARED]
    return compose(job, drawings, pack)


def draw(pack: Pack) -> Drawn:
    """Draw a pack and write its files; return what the plan needs to know of it. This is what a worker does."""
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
        return Drawn(pack, faults=tuple(class_list.refused_by(pack.row, error.problems)))
    record |= {"pages": len(bundle.sheets), "revision": _revision(bundle)}
    target = pack.out / pack.file
    write_files.save(target.parent, contents | {target.name: pdf.write(bundle)})
    return Drawn(pack, record)


def _revision(bundle: Bundle) -> str:
    return bundle.keywords.removeprefix("revision ")


def _page(pack: Pack, record: Mapping[str, Any], made: Handout) -> bytes:
    file = reading.read(pack.text, "the box file")
    sled = pages.File(sled_file(file, pack.paper), "The sled, which several share, as PDF")
    return pages.student(student(pack.row.name, pack.file, record, sled), pack.title, made.cautions, made.bundle)


def student(name: str, file: str, record: Mapping[str, Any], *more: pages.File) -> pages.Student:
    """Return what the pages say of a student, from the record that is kept: a class is never held as sheets."""
    sheets = pages.File(file, f"Sheets as PDF, {record['paper']}")
    sizes = course_sizes.sizes(Maker(name, record["numbers"]))
    return pages.Student(name, record["revision"], sizes, tuple(record["steps"]), page_beside(file), (sheets, *more))


def bearing_the_name(file: BoxFile, name: str) -> str:
    """Return a box file that bears a student's name, so that a sheet made from it again bears it too."""
    return change.set_values(file.source, {"title": f"{name} – {file.title}"[:LONGEST_WORDS].strip()})


def page_beside(file: str) -> str:
    """Return the name of the page that lies beside a PDF."""
    return f"{file.removesuffix('.pdf')}.html"


def sled_file(file: BoxFile, page: str) -> str:
    """Return where the sled is that a box takes, for its paper."""
    mark = carried.revision_mark("sled", course_plan.shared_sled(file))
    return f"{SHARED}/sled-{file.joint.finger:g}-{mark}-{in_a_name(page)}.pdf".replace(" ", "-")


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


def in_a_name(page: str) -> str:
    """Return a paper as part of a file name: "300 x 400 mm" has blanks in it."""
    return "".join(letter if letter.isalnum() or letter in ".-" else "-" for letter in page)
