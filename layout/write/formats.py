"""The formats of sheets and of pieces for a machine: a new one is added here, and is then offered everywhere."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from jigs.base.lazily import lazily

with lazily():
    from jigs.base import errors, wording
    from layout.write import cut_svg, dxf, pdf, png, svg

if TYPE_CHECKING:
    from layout.sheet.cutting import CutPiece
    from layout.sheet.marks import Bundle


class Format(NamedTuple):
    """A format: the name it is asked for by, the suffix of its files, and what writes them.

    `write` returns what goes into each file, by its name without the suffix.
    """

    name: str
    suffix: str
    write: Callable[[Bundle], Mapping[str, bytes]]


def _pdf(bundle: Bundle) -> dict[str, bytes]:
    """Return all sheets as one file."""
    return {bundle.name: pdf.write(bundle)}


def _svg(bundle: Bundle) -> dict[str, bytes]:
    """Return a file for each sheet, which carries what the sheets were made from."""
    return {
        sheet.name: svg.write(sheet, bundle.subject, bundle.correction, carried=bundle.carried)
        for sheet in bundle.sheets
    }


def _png(bundle: Bundle) -> dict[str, bytes]:
    """Return a picture of each sheet. Raises MachineFault where cairo is missing."""
    return {sheet.name: png.write(svg.write(sheet, bundle.subject, bundle.correction)) for sheet in bundle.sheets}


class CutFormat(NamedTuple):
    """A format for machines: the name it is asked for by, the suffix of its files, and what writes a piece."""

    name: str
    suffix: str
    write: Callable[[CutPiece], bytes]


def _dxf(piece: CutPiece) -> bytes:
    return dxf.write(piece)


def _cut_svg(piece: CutPiece) -> bytes:
    return cut_svg.write(piece)


FORMATS = (Format("pdf", ".pdf", _pdf), Format("svg", ".svg", _svg), Format("png", ".png", _png))
"""Every format, in the order in which files are written."""
CUT_FORMATS = (CutFormat("dxf", ".dxf", _dxf), CutFormat("cut-svg", ".svg", _cut_svg))
"""Every format of cut files: a file a piece, no page."""
CUT_NAMES = tuple(known.name for known in CUT_FORMATS)
NAMES = (*(known.name for known in FORMATS), *CUT_NAMES)
USUAL = ("pdf", "svg")
"""What is written where no format is asked for."""


def check(names: Sequence[str]) -> None:
    """Raise CannotRead, with near names, for a format that there is not."""
    for name in sorted(set(names) - set(NAMES)):
        raise errors.CannotRead(f"--format: there is no '{name}'; {wording.near(name, list(NAMES))}")


def of_pages(names: Sequence[str]) -> bool:
    """Whether any page is written in these formats."""
    return not names or not set(names) <= set(CUT_NAMES)


def of_pieces(names: Sequence[str]) -> bool:
    """Whether any cut file is written in these formats."""
    return bool(set(names) & set(CUT_NAMES))


def write_pieces(pieces: Iterable[CutPiece], names: Sequence[str]) -> dict[str, bytes]:
    """Return the cut files of pieces in those of these formats that are for machines, by file name."""
    asked = [known for known in CUT_FORMATS if known.name in names]
    return {f"{piece.name}{known.suffix}": known.write(piece) for piece in pieces for known in asked}


def write(bundle: Bundle, names: Sequence[str] = ()) -> dict[str, bytes]:
    """Return the files of some sheets in these formats, or in the usual ones, by file name.

    Raises CannotRead for a format that there is not, and MachineFault where cairo is missing.
    """
    check(names)
    asked = set(names or USUAL)
    return {
        f"{stem}{known.suffix}": content
        for known in FORMATS
        if known.name in asked
        for stem, content in known.write(bundle).items()
    }
