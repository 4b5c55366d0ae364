"""A class list while it is typed: a table of words, a row a student, that is changed cell by cell and never refused.

What is wrong with a cell is for the class list to say, which reads the table as it reads any file. Every change gives
another table.
"""

from __future__ import annotations

import csv
import io
import re
import unicodedata
from collections.abc import Iterable, Mapping, Sequence

from jigs.base.errors import CannotRead
from jigs.course import class_list
from jigs.record import Record, replace

NAME = "name"
START = ("box.length", "box.width", "joint.finger", "sides.thickness", "box.height", "print.paper")
"""The columns that a new list begins with."""
MOST_ROWS = 200
"""A longer list is for the command line: every row of a table is worked out as it is typed."""
FIRST = 2
"""The number of the first row in the file of a table, as a spreadsheet counts: the headings stand above it."""
_LONGEST = 100_000
"""Characters of a cell."""
_FORMULA = re.compile(r"[=@+\-−\t\r]")
_PLAIN = re.compile(r"[\-−]?[\d.,/ ]+[\w%°\"″ ]*")
"""A number. One with + before it is words: a spreadsheet would drop the +, and 20 more would be 20."""
_GUARD = "\N{NO-BREAK SPACE}"
"""Before what a spreadsheet would work out: a cell that begins with it is words. Whoever reads the list drops it."""


class Table(Record):
    """A class list as it is typed: the keys of its columns but for the name, and rows of a name and as many cells."""

    columns: tuple[str, ...] = START
    rows: tuple[tuple[str, ...], ...] = ()

    @property
    def keys(self) -> tuple[str, ...]:
        """The columns with the name before them."""
        return (NAME, *self.columns)

    @property
    def filled(self) -> tuple[tuple[str, ...], ...]:
        """The rows in which something is typed."""
        return tuple(row for row in self.rows if any(row))

    def text(self) -> str:
        """Return the table as CSV, which any spreadsheet opens and reckons nothing of."""
        out = io.StringIO(newline="")
        writer = csv.writer(out, lineterminator="\n")
        writer.writerow(self.keys)
        writer.writerows([_guarded(cell) for cell in row] for row in self.rows)
        return out.getvalue()

    def roster(self, name: str) -> class_list.Roster:
        """Return the list as it is read; a row of it has the number of its place and `FIRST`. Raises CannotRead."""
        if not self.filled:
            return class_list.Roster(())
        return class_list.read(self.text().encode(), name)

    # -- changes

    def typed(self, row: int, typed: Mapping[str, str]) -> Table:
        """Return the table with other words in some cells of a row, and with the columns that they need.

        Raises CannotRead for a row or a column that there is not.
        """
        table = self
        for key in typed:
            if key not in table.keys:
                table = table.with_column(key)
        cells = dict(zip(table.keys, table._row(row), strict=True)) | {k: plain(said) for k, said in typed.items()}
        rows = list(table.rows)
        rows[row] = tuple(cells[key] for key in table.keys)
        return _modest(replace(table, rows=tuple(rows)))

    def with_row(self) -> Table:
        """Return the table with an empty row below. Raises CannotRead where it is full."""
        return _modest(replace(self, rows=(*self.rows, ("",) * len(self.keys))))

    def without_row(self, row: int) -> Table:
        """Return the table without a row. Raises CannotRead for a row that there is not."""
        self._row(row)
        return replace(self, rows=self.rows[:row] + self.rows[row + 1 :])

    def with_column(self, key: str) -> Table:
        """Return the table with one more column, or as it is where it has that. Raises CannotRead for no such key."""
        if key in self.keys:
            return self
        if wrong := class_list.unknown(key):
            raise CannotRead(wrong)
        return Table((*self.columns, key), tuple((*row, "") for row in self.rows))

    def without_column(self, key: str) -> Table:
        """Return the table without a column. Raises CannotRead for one that it has not."""
        if key not in self.columns:
            raise CannotRead(f"the list has no column '{class_list.shortened(key)}'")
        place = self.keys.index(key)
        rows = tuple(row[:place] + row[place + 1 :] for row in self.rows)
        return Table(tuple(one for one in self.columns if one != key), rows)

    def pasted(self, text: str, row: int, key: str) -> Table:
        """Return the table with what was copied elsewhere: a list with headings in place of it, or cells from one on.

        Raises CannotRead for headings that are not understood, for more columns than there are, and for a list that
        is too long.
        """
        if len(text) > class_list.MOST_BYTES:
            raise CannotRead(f"what you pasted has {len(text)} characters; the list has room for a few thousand")
        if class_list.is_headed(text):
            return opened(text.encode("utf-8", "replace"), "what you pasted")
        self._row(row)
        cells = _cells(text, key)
        start = self.keys.index(key)
        wide = max((len(one) for one in cells), default=0)
        if start + wide > len(self.keys):
            raise CannotRead(
                f"what you pasted is {wide} columns wide, and from this cell on the list has "
                f"{len(self.keys) - start}; add columns first, or paste it with its headings"
            )
        rows = [list(one) for one in self.rows]
        rows += [[""] * len(self.keys) for _ in range(row + len(cells) - len(rows))]
        for number, given in enumerate(cells, start=row):
            rows[number][start : start + len(given)] = map(plain, given)
        return _modest(replace(self, rows=tuple(map(tuple, rows))))

    def _row(self, row: int) -> tuple[str, ...]:
        if not 0 <= row < len(self.rows):
            raise CannotRead(f"the list has no row {row + 1}")
        return self.rows[row]


EMPTY = Table(START, (("",) * (len(START) + 1),))
"""A new list: nobody, and a row to begin with."""


def opened(content: bytes, name: str, *, toml: bool = False) -> Table:
    """Return a class list that a file holds as a table, with the columns that a new one has besides its own.

    Raises CannotRead for what is none, or too long.
    """
    found = class_list.cells(content, name, toml=toml)
    columns = tuple(dict.fromkeys(key for key in (*found.columns, *START) if key != NAME))
    place = {key: number for number, key in enumerate(found.columns)}
    rows = tuple(
        tuple(plain(row[place[key]]) if key in place else "" for key in (NAME, *columns)) for row in found.rows
    )
    if not rows:
        raise CannotRead(f"{name}: the list names nobody; add a row for each student")
    return _modest(Table(columns, rows), name)


def plain(typed: str) -> str:
    """Return what was typed or copied as it stands in a cell: in one line, without control characters."""
    kept = (" " if unicodedata.category(one) in {"Cc", "Zl", "Zp", "Zs"} else one for one in typed)
    return " ".join("".join(one for one in kept if unicodedata.category(one) != "Cs").split())


def _guarded(cell: str) -> str:
    return f"{_GUARD}{cell}" if _FORMULA.match(cell) and not _PLAIN.fullmatch(cell) else cell


def _modest(table: Table, name: str = "the list") -> Table:
    """Return a table as it is. Raises CannotRead where it is too long, or a cell of it, or all of it together."""
    count, cells = len(table.rows), [len(cell) for row in table.rows for cell in row]
    if count > MOST_ROWS:
        raise CannotRead(
            f"{name} would have {count} rows, and the bench takes {MOST_ROWS}; part it, or make it with jigleaf class"
        )
    if max(cells, default=0) > _LONGEST:
        raise CannotRead(f"a cell of {name} would have {max(cells)} characters; it has room for {_LONGEST}")
    if sum(cells) > class_list.MOST_BYTES // 4:  # a letter takes up to four
        raise CannotRead(f"{name} would have {sum(cells)} characters; it has room for {class_list.MOST_BYTES // 4}")
    return table


# -- cells that were copied ----------------------------------------------------------------------------------------


def _cells(text: str, key: str) -> list[list[str]]:
    """Return cells without headings, as a spreadsheet copies them, or CSV. Raises CannotRead for what is not clear."""
    lines = [line for line in text.splitlines() if line.strip()]
    delimiter = next((mark for mark in "\t;|," if all(mark in line for line in lines)), "\t")
    if "\t" in text:
        delimiter = "\t"
    if delimiter == "," and key != NAME and '"' not in text:
        raise CannotRead(
            f"'{class_list.shortened(plain(lines[0]))}' may be one number with a decimal comma, or several cells; copy "
            "the cells from a spreadsheet, or paste them with their headings"
        )
    try:
        rows = list(csv.reader(io.StringIO(text, newline=""), delimiter=delimiter))
    except csv.Error as error:
        raise CannotRead(f"what you pasted is no table: {error}") from None
    return _trimmed(rows)


def _trimmed(rows: Iterable[Sequence[str]]) -> list[list[str]]:
    """Return rows without the empty ones below and the empty cells at their ends that a spreadsheet copies too."""
    found = [list(row) for row in rows]
    while found and not any(cell.strip() for cell in found[-1]):
        found.pop()
    wide = max((i + 1 for row in found for i, cell in enumerate(row) if cell.strip()), default=0)
    return [row[:wide] for row in found]
