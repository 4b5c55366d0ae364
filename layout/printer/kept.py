"""The printers a person has measured, kept in the user's configuration folder."""

from __future__ import annotations

import json
import os
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from jigs.base.disk import cannot
from jigs.base.errors import CannotRead
from jigs.base.lengths import Units, bare
from jigs.record import Record, replace, values
from layout.printer.correction import NONE, Distortion, signed
from layout.sheet.marks import Matrix
from layout.sheet.paper import MOST_MARGIN, NO_MARGINS, Margins
from layout.write import files

VERSION = 2
"""1 had no margins."""
_FILE = "printers.json"
_LONGEST_NAME = 40
NAME_RULE = f"a name has from 1 to {_LONGEST_NAME} printable characters"
_MOST_BYTES = 200_000  # a thousand printers


class Printer(Record):
    """A printer and what it does to a sheet. `measured` holds scales as ratios and the skew in degrees.

    `margins` is what it leaves white of an upright page, mm.
    """

    name: str
    measured: Distortion = NONE
    margins: Margins = NO_MARGINS

    @property
    def correction(self) -> Matrix:
        """The matrix that undoes it, in printer axes."""
        return self.measured.correction()

    @property
    def words(self) -> str:
        """The correction in words, for the title block."""
        if self.measured == NONE:
            return f"{self.name}: none"
        across, up = (signed((1 / scale - 1) * 100) for scale in (self.measured.scale_across, self.measured.scale_up))
        return f"{self.name}: across {across} %, up {up} %, skew {signed(-self.measured.skew)}°"

    def described(self, units: Units) -> str:
        """Return the correction and the margins in words, for the list of printers."""
        if self.margins == NO_MARGINS:
            return self.words
        sides = [f"{name} {bare(size, units)}" for name, size in zip(Margins._fields, self.margins, strict=True)]
        return f"{self.words}; white margins {', '.join(sides)} {units}"


def folder() -> Path:
    """Return the folder the printers are kept in."""
    import platformdirs  # noqa: PLC0415 - only printers need it

    return Path(platformdirs.user_config_dir("jigleaf", appauthor=False))


def known() -> dict[str, Printer]:
    """Return the printers by name. Raises CannotRead for a file that is damaged or from a newer jigleaf."""
    path = folder() / _FILE
    try:
        kept = json.loads(_text(path))
    except FileNotFoundError:
        return {}
    except OSError as error:
        raise CannotRead(cannot("read", path, error)) from None
    except (ValueError, RecursionError) as error:
        raise CannotRead(f"Can't read the printers in {path} ({error}); correct the file or move it away") from error
    version = kept.get("version") if isinstance(kept, dict) else None
    if isinstance(version, int | float) and version > VERSION:
        raise CannotRead(f"Can't read the printers in {path}: a newer jigleaf wrote them (version {version})")
    try:
        return {name: _printer(name, entry) for name, entry in sorted(kept["printers"].items())}
    except (AttributeError, KeyError, TypeError, ValueError, OverflowError) as error:
        raise CannotRead(f"The printers in {path} are damaged ({error!r}); correct the file or move it away") from error


def _text(path: Path) -> str:
    if path.exists() and not path.is_file():
        raise ValueError("it is not a file")
    with path.open("rb") as file:
        content = file.read(_MOST_BYTES + 1)
    if len(content) > _MOST_BYTES:
        raise ValueError(f"it has more than {_MOST_BYTES // 1000} kB")
    return content.decode()


def _printer(name: str, entry: Mapping[str, Any]) -> Printer:
    if not is_name(name):
        raise ValueError(f"{name!r} is no name")
    numbers = {field: float(entry[field]) for field in ("scale_across", "scale_up", "skew")}
    near_one = all(0.9 < numbers[field] < 1.1 for field in ("scale_across", "scale_up"))
    if not near_one or not abs(numbers["skew"]) <= 5:  # true of nan as well
        raise ValueError(f"{name}: {numbers}")
    margins = Margins._make(float(margin) for margin in entry.get("margins", NO_MARGINS))
    if not all(0 <= margin <= MOST_MARGIN for margin in margins):
        raise ValueError(f"{name}: margins {tuple(margins)}")
    return Printer(name, Distortion(**numbers), margins)


def find(name: str, option: str = "--printer") -> Printer:
    """Return a printer by name. Raises CannotRead, with near names and the option, for one that was never measured."""
    from jigs.base.wording import near  # noqa: PLC0415 - only a misspelt name needs it

    printers = known()
    if name in printers:
        return printers[name]
    if not printers:
        raise CannotRead(
            f"{option}: no printer has been measured yet; print the sheet of 'jigleaf calibrate' on '{name}'"
        )
    raise CannotRead(f"{option}: there is no printer called '{name}'; {near(name, list(printers))}")


def keep(printer: Printer) -> Path:
    """Keep a printer, in place of one of the same name. Raises CannotRead for a name that is none."""
    if not is_name(printer.name):
        raise CannotRead(f"--printer: {NAME_RULE}")
    return _write(known() | {printer.name: printer})


def is_name(name: str) -> bool:
    """Whether a printer may be called so."""
    return bool(name.strip()) and len(name) <= _LONGEST_NAME and name.isprintable()


def keep_measured(name: str, measured: Distortion) -> Path:
    """Keep what a printer does to a sheet; what is known of its margins stays."""
    return keep(replace(known().get(name, Printer(name)), measured=measured))


def keep_margins(name: str, margins: Margins) -> Path:
    """Keep what a printer leaves white; what is known of its errors stays."""
    return keep(replace(known().get(name, Printer(name)), margins=margins))


def forget(name: str) -> Path:
    """Forget a printer. Raises CannotRead for one that is not there."""
    gone = find(name)
    return _write({other: printer for other, printer in known().items() if other != gone.name})


def _write(printers: Mapping[str, Printer]) -> Path:
    entries = {
        name: values(printer.measured) | {"margins": list(printer.margins)}
        for name, printer in sorted(printers.items())
    }
    kept = json.dumps({"version": VERSION, "printers": entries}, indent=2, ensure_ascii=False) + os.linesep
    return files.save(folder(), {_FILE: kept.encode()})[0]
