"""The files of a class while they are made: in a private folder, by one run at a time that can be stopped."""

from __future__ import annotations

import json
import shutil
import tempfile
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Literal

from jigs.base.disk import cannot
from jigs.base.errors import MachineFault
from jigs.course.class_list import Fault
from jigs.record import Record
from layout.course import apart
from layout.course.run import Asked
from layout.write import files as write_files

State = Literal["waits", "part", "fine", "error"]
"""How it stands with a student's files: they wait, are being drawn, are there, or there are none."""
_LIST, _BOX, _OUT = "list", "box", "out"
_CSV = "class.csv"
_FEW = 2
_TRIES, _BREATH = 10, 0.05


class Student(Record):
    """A student of a run: the row, what it is called, and what its files are made from."""

    row: int
    name: str
    called: str
    source: tuple[str, str]


class Handed(Record):
    """What a run made: the file for the class, those for the teacher, what is shared, and each student's own."""

    whole: str
    teachers: tuple[str, ...]
    shared: tuple[str, ...]
    students: tuple[tuple[str, tuple[str, ...]], ...]
    remarks: tuple[str, ...]


@dataclass
class Making:
    """The run of a class on a bench. Every change of it is made under `lock`; `now` is a clock in seconds."""

    begin: Callable[[Asked], apart.Apart] = apart.Apart
    now: Callable[[], float] = time.monotonic
    students: tuple[Student, ...] = ()
    states: dict[int, State] = field(default_factory=dict)
    faults: dict[tuple[str, tuple[str, str]], tuple[Fault, ...]] = field(default_factory=dict)
    """Why there are no files of a student, by name and what they would be made from."""
    step: apart.Step | None = None
    at_work: bool = False
    stopping: bool = False
    stopped: bool = False
    error: str = ""
    handed: Handed | None = None
    made: dict[str, tuple[str, str]] = field(default_factory=dict)
    """Of whom there are files, and what they were made from."""
    _files: dict[str, Path] = field(default_factory=dict, repr=False)
    _folder: Path | None = field(default=None, repr=False)
    _run: apart.Apart | None = field(default=None, repr=False)
    _began: float = 0.0
    _drawn: int = 0
    _ended: bool = False
    lock: threading.RLock = field(default_factory=threading.RLock, repr=False)

    # -- what is done to it

    def start(self, text: str, box: str, box_name: str, students: Sequence[Student]) -> str:
        """Begin to make the files of a list, or say why not. Raises MachineFault where the disk says no."""
        with self.lock:
            if self.at_work:
                return f"It is being made already: {self.count} of {len(self.wanted)}."
            if self._ended:
                return "The bench is ending."
            folder = self._private()
            write_files.save(folder / _LIST, {_CSV: text.encode()})
            write_files.save(folder / _BOX, {box_name: box.encode()})
            self.students, self.states = tuple(students), {}
            self.states = {one.row: "waits" if one.source[0] else "error" for one in students}
            self.step, self.error, self.stopping, self.stopped = None, "", False, False
            self.handed, self._files = None, {}
            self._began, self._drawn = 0.0, 0
            self._run = self.begin(Asked(folder / _LIST / _CSV, folder / _BOX / box_name, folder / _OUT))
            self.at_work = True
            threading.Thread(target=self._follow, args=(self._run,), daemon=True).start()
            return ""

    def stop(self) -> str:
        """Let the run end with the students who are at work."""
        with self.lock:
            if not self.at_work or self._run is None:
                return "Nothing is being made."
            self._run.stop()
            self.stopping = True
            return ""

    def end(self) -> None:
        """End a run that is at work, and take the folder away: the bench ends."""
        with self.lock:
            self._ended = True
            at_work = self._run is not None and self.at_work
            if self._run is not None and at_work:
                self._run.end()
            for _ in range(_TRIES if at_work else 1):  # its workers end a breath after it, and may yet write a file
                if self._folder is not None:
                    shutil.rmtree(self._folder, ignore_errors=True)
                if at_work:
                    time.sleep(_BREATH)
            self._folder = None

    def _private(self) -> Path:
        """Return the folder, which nobody else can look into."""
        if self._folder is None:
            try:
                self._folder = Path(tempfile.mkdtemp(prefix="jigleaf-class-"))
            except OSError as error:
                raise MachineFault(cannot("write", tempfile.gettempdir(), error)) from error
        return self._folder

    # -- what is known of it

    @property
    def wanted(self) -> list[Student]:
        """The students of the run of whom there is to be something."""
        return [one for one in self.students if one.source[0]]

    @property
    def count(self) -> int:
        """Of how many students the files are there."""
        return sum(state == "fine" for state in self.states.values())

    @property
    def left(self) -> float | None:
        """Seconds that the students who wait will take, by those that were drawn; None where too few were yet."""
        waits = sum(state in ("waits", "part") for state in self.states.values())
        if self._drawn < _FEW or not waits:
            return None
        return (self.now() - self._began) / self._drawn * waits

    def file(self, name: str) -> Path | None:
        """Return where a file lies that the last run made, by its name; None where there is no such one."""
        with self.lock:
            return self._files.get(name)

    # -- following it

    def _follow(self, run: apart.Apart) -> None:
        for told in run.news():
            with self.lock:
                self._hear(told)

    def _hear(self, told: apart.News) -> None:
        match told:
            case apart.Step():
                self.step = told
            case apart.Begins(row):
                self._began = self._began or self.now()
                self.states[row] = "part"
            case apart.Ends(row, faults):
                self._drawn += self.states.get(row) == "part"
                self.states[row] = "error" if faults else "fine"
                self._note(row, faults)
            case apart.Over():
                self._over(told)

    def _note(self, row: int, faults: tuple[Fault, ...]) -> None:
        for one in self.students:
            if one.row == row and faults and one.source[0]:  # of others it is known already
                self.faults[one.name, one.source] = faults
            elif one.row == row and not faults:
                self.made[one.name] = one.source

    def _over(self, told: apart.Over) -> None:
        self.at_work = False
        for row, state in self.states.items():
            self.states[row] = "waits" if state == "part" else state
        self.error = told.error
        self.stopped = told.outcome is None and not told.error
        if told.outcome is None or self._folder is None:
            return
        found = json.loads(told.outcome.summary.read_text(encoding="utf-8"))
        self.handed = _handed(found, told.outcome.remarks)
        out = self._folder / _OUT
        self._files = {name: out / name for name in _names(self.handed)}


def _handed(found: Mapping[str, Sequence[Mapping[str, object]]], remarks: tuple[str, ...]) -> Handed:
    """Return what a run made, from what it says of itself."""
    teachers = [str(name) for name in found["files"]]
    return Handed(
        whole="class.zip" if "class.zip" in teachers else "",
        teachers=tuple(name for name in teachers if name not in ("class.zip", "index.html")),
        shared=tuple(str(one["file"]) for one in found["shared"]),
        students=tuple((str(one["name"]), tuple(one["files"])) for one in found["students"]),  # type: ignore[arg-type]  # a list of names
        remarks=remarks,
    )


def _names(handed: Handed) -> list[str]:
    own = [name for _, names in handed.students for name in names]
    return [*([handed.whole] if handed.whole else []), *handed.teachers, *handed.shared, *own]
