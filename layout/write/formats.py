"""The formats that sheets are written in: a new one is added here, and is then offered everywhere."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from typing import TYPE_CHECKING, NamedTuple

from jigs.base.lazily import lazily

with lazily():
    from jigs.base import errors, wording
    from layout.write import pdf, png, svg

if TYPE_CHECKING:
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


FORMATS = (Format("pdf", ".pdf", _pdf), Format("svg", ".svg", _svg), Format("png", ".png", _png))
"""Every format, in the order in which files are written."""
NAMES = tuple(known.name for known in FORMATS)
USUAL = ("pdf", "svg")
"""What is written where no format is asked for."""


def check(names: Sequence[str]) -> None:
    """Raise CannotRead, with near names, for a format that there is not."""
    for name in sorted(set(names) - set(NAMES)):
        raise errors.CannotRead(f"--format: there is no '{name}'; {wording.near(name, list(NAMES))}")


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
