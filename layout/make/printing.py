"""How sheets are to come out, and what came out."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property
from typing import TYPE_CHECKING

from jigs.base.errors import CannotRead
from jigs.base.lazily import lazily
from jigs.base.report import Report
from jigs.record import Record, replace
from layout.sheet.hand import ORDINARY, Hand

with lazily():
    from jigs.boxfile import sections
    from layout.cut import bed as cut_bed
    from layout.printer import kept as printer_kept
    from layout.sheet import paper as papers
    from layout.write import earlier, formats

if TYPE_CHECKING:
    from layout.sheet.cutting import CutPiece
    from layout.sheet.marks import Bundle


class Printing(Record):
    """How sheets are to come out.

    `paper` is a name or a size, None for the one that the box file names, or else the usual one of the units. `printer`
    has been measured, and its errors are undone; one that a box file names is for the caller to look up. `date` goes
    into the title block, `formats` are of `formats.NAMES`, the usual ones where none is named. With `colour` the cover
    of a box shows its woods. `cut_width`, mm, and `bed` are those of the machine that cut files are for.
    """

    paper: str | None = None
    printer: printer_kept.Printer | None = None
    hand: Hand = ORDINARY
    date: str = ""
    formats: tuple[str, ...] = ()
    colour: bool = False
    cut_width: float = 0.0
    bed: cut_bed.Bed | None = None


USUAL = Printing()


class Made(Record, dict=True):
    """What was drawn: the report of the job, its cards and its templates as marks, in the formats asked for.

    `prefix` is how the names of all files begin. `pieces` are for a machine, in the formats of cut files; `cut_names`
    are the files of all pieces of the job without their suffix, and empty where only some were asked for.
    """

    report: Report
    prefix: str
    cards: Bundle
    templates: Bundle
    formats: tuple[str, ...] = ()
    pieces: tuple[CutPiece, ...] = ()
    cut_names: tuple[str, ...] = ()

    @property
    def marks(self) -> dict[str, str]:
        """The mark of each page, by its name without the prefix."""
        return earlier.marks_of([self.cards])

    @cached_property
    def files(self) -> dict[str, bytes]:
        """The files by name."""
        return self.pages | self.cut_files

    @cached_property
    def pages(self) -> dict[str, bytes]:
        """The files of cards and templates by name."""
        return self._written(self.cards, self.templates)

    @property
    def cut_prefix(self) -> str:
        """How the names of all cut files of the job begin, whichever of them were asked for."""
        return self.pieces[0].prefix if self.pieces else self.prefix

    @cached_property
    def cut_files(self) -> dict[str, bytes]:
        """The files for a machine by name."""
        return formats.write_pieces(self.pieces, self.formats)

    def only_changed(self, pages: Sequence[str]) -> dict[str, bytes]:
        """Return files with these pages alone: PDFs with a name of their own, the other files as ever; no cut files."""
        wanted = {f"{self.prefix}-{page}" for page in pages}
        bundles = []
        for bundle in (self.cards, self.templates):
            some = tuple(sheet for sheet in bundle.sheets if sheet.name in wanted)
            name = bundle.name.replace(self.prefix, f"{self.prefix}-changed", 1)
            bundles.append(replace(bundle, name=name, sheets=some))
        return self._written(*bundles)

    def _written(self, *bundles: Bundle) -> dict[str, bytes]:
        files: dict[str, bytes] = {}
        for bundle in bundles:
            if bundle.sheets:
                files |= formats.write(bundle, self.formats)
        return files


def on_its_paper(file: sections.BoxFile, printing: Printing) -> Printing:
    """Return how to print a box: on the paper that its file names where no other is asked for."""
    own = file.print.paper
    if printing.paper or not own:
        return printing
    try:
        papers.named(own)
    except CannotRead as error:
        raise CannotRead(f"print.{error}") from error
    return replace(printing, paper=own)
