"""What a sheet carries of itself: the revision mark, and what it was made from, to the byte.

A PDF holds it as an embedded file (ISO 32000-2, 7.11.4 and 14.13), an SVG as base64 in its metadata. Sheets come back
through many hands: everything read here is foreign until it is shown to be ours, and is read within limits.
"""

from __future__ import annotations

import base64
import binascii
import threading
import zlib
from collections.abc import Callable, Iterator, Mapping
from pathlib import Path
from typing import TYPE_CHECKING, Any
from xml.parsers import expat

from jigs.base import disk
from jigs.base.errors import CannotRead
from jigs.boxfile import jig_file
from jigs.boxfile.jig_file import JigSettings
from layout.sheet.carried import NAMESPACE, VERSION, Carried

if TYPE_CHECKING:
    from jigs.base.kinds import Value
    from jigs.base.lengths import Units
    from jigs.boxfile.sections import BoxFile


MOST_BYTES = 1_000_000
"""A larger file is neither a box file nor a jig file."""
MOST_SHEET_BYTES = 20_000_000
"""A larger file is no sheet."""


_DEEPEST, _MOST_NODES, _MOST_FILES = 200, 300, 50  # of XML elements; of a name tree; of embedded files looked at
_PIECE = 1_000_000  # bytes of XML read at a time, and the longest tag
_BEFORE = b"\xef\xbb\xbf\xff\xfe \t\r\n"  # marks of the order of bytes, and blanks
_SHEETS = (b"%PDF-", b"<", b"\x89PNG")  # what sheets begin with, and pictures that are taken for one
_PATIENCE = 4.0  # seconds; the largest sheet is read in a few tenths of one
_MOST_UNPACKED = 5_000_000  # bytes of one stream that says how a PDF is built


def of_box(read: BoxFile) -> Carried:
    """Return what the sheets of a box carry: its file, byte for byte."""
    return Carried("box", f"{read.stem}.toml", read.source.encode())


def of_jig(name: str, given: Mapping[str, Value], settings: Mapping[str, Value], units: Units) -> Carried:
    """Return what the sheets of a jig carry: its jig file."""
    filled = {key: value for key, value in settings.items() if value is not None and key not in given}
    text = jig_file.text(JigSettings(name, units, given, filled))
    return Carried("jig", f"{name}.toml", text.encode())


# -- reading -------------------------------------------------------------------------------------------------------


def load(path: Path | str) -> Carried:
    """Return what the sheet at `path` was made from. Raises as `read` does."""
    return read(_content(Path(path)), str(path))


def read(content: bytes, name: str = "the sheet") -> Carried:
    """Return what a sheet was made from; `name` is what messages call it. Raises CannotRead for no sheet of ours."""
    _require_modest(content, name)
    look = _looks_into(content, name)
    found = list(dict.fromkeys(_soon(lambda: list(look(content, name)), name)))
    if not found:
        raise CannotRead(
            f"{name} does not carry what it was made from: it is no sheet of jigleaf, or lost it on the way"
        )
    if len(found) > 1:
        names = ", ".join(carried.name for carried in found)
        raise CannotRead(f"{name} holds sheets of several jobs ({names}); take a file with the sheets of one")
    if found[0].version != VERSION:
        raise CannotRead(f"{name} was made by a newer jigleaf, which this one can't read")
    return found[0]


def held(path: Path | str) -> Carried | None:
    """Return what a sheet was made from; None for any other file, which may be a box file or a jig file by its look.

    Raises as `load` does.
    """
    path = Path(path)
    try:
        if not path.is_file():  # a pipe would be waited for
            return None
        with path.open("rb") as file:
            start = file.read(1024)
    except (OSError, ValueError):
        return None
    is_text = bool(start) and b"\0" not in start and not start.lstrip(_BEFORE).startswith(_SHEETS)
    return None if is_text else load(path)


def _require_modest(content: bytes, path: str) -> None:
    if not content:
        raise CannotRead(f"{path} is empty")
    if len(content) > MOST_SHEET_BYTES:
        raise CannotRead(f"{path} has more than {MOST_SHEET_BYTES // 1_000_000} MB; a sheet has less")


def _looks_into(content: bytes, path: str) -> Callable[[bytes, str], Iterator[Carried]]:
    """Return what looks into a file like this. Raises CannotRead for one that is no sheet."""
    start = content[:1024].lstrip(_BEFORE)
    if b"%PDF-" in content[:1024]:
        return _in_pdf
    if start.startswith(b"<"):
        return _in_svg
    if start.startswith(b"\x89PNG"):
        raise CannotRead(f"{path} is a picture, which carries nothing; take the PDF or the SVG, or scan its code")
    raise CannotRead(f"{path} is neither a PDF nor an SVG sheet, nor a box file or a jig file")


def _soon(look: Callable[[], list[Carried]], path: str) -> list[Carried]:
    """Return what is found in a file, or raise CannotRead where that takes too long: some are made to.

    It is a thread that looks, for the libraries that read have no way to be stopped: it is left, and ends with us.
    """
    found: list[list[Carried]] = []
    failed: list[BaseException] = []

    def work() -> None:
        try:
            found.append(look())
        except BaseException as error:
            failed.append(error)

    worker = threading.Thread(target=work, daemon=True)
    worker.start()
    worker.join(_PATIENCE)
    if failed:
        raise failed[0]
    if not found:
        raise CannotRead(f"{path} can't be read within {_PATIENCE:g} seconds; no sheet takes that long")
    return found[0]


def _content(path: Path) -> bytes:
    return disk.content(path, MOST_SHEET_BYTES, "a sheet")


def _from_label(words: str, name: str, content: bytes) -> Carried | None:
    """Return what was carried under a label of ours; None for any other label."""
    match words.split(" "):
        case ["jigleaf", version, "box" | "jig" as kind] if version.isdecimal() and len(version) < 9:
            return Carried(kind, name, content, int(version))
    return None


# -- PDF -----------------------------------------------------------------------------------------------------------


def _in_pdf(content: bytes, path: str) -> Iterator[Carried]:
    """Find what the pages and the catalogue of a PDF carry. Raises CannotRead where it can't be read."""
    import io  # noqa: PLC0415 - only a PDF needs it
    import logging  # noqa: PLC0415 - the same

    import pypdf  # noqa: PLC0415 - slow to import

    logging.getLogger("pypdf").addHandler(logging.NullHandler())  # what it has to grumble about is not for the reader
    limits: dict[str, Any] = dict.fromkeys(_UNPACKING, _MOST_UNPACKED)
    try:
        with pypdf.apply_configuration(**limits):
            reader = pypdf.PdfReader(io.BytesIO(content))
            encrypted = reader.is_encrypted
            files = [] if encrypted else list(_embedded(reader))
    except CannotRead:
        raise
    except Exception as error:  # a broken PDF breaks its reader in any way there is
        raise CannotRead(f"{path} can't be read as a PDF: {_first_line(error)}") from None
    if encrypted:
        raise CannotRead(f"{path} is encrypted; open it with its password and save it again without one")
    yield from files


_UNPACKING = (
    "zlib_maximum_output_length",
    "lzw_maximum_output_length",
    "run_length_maximum_output_length",
    "array_based_stream_maximum_output_length",
    "stream_decoding_work_maximum_length",
)
"""What pypdf calls its limits for a stream that unpacks to more than it should."""


def _first_line(error: Exception) -> str:
    return (str(error).splitlines() or [type(error).__name__])[0][:120]


def _embedded(reader: Any) -> Iterator[Carried]:
    """Go through the embedded files that are ours: those of the catalogue, then those of each page."""
    root = reader.root_object
    names = _resolved(_resolved(root.get("/Names", {})).get("/EmbeddedFiles", {}))
    found = [*_name_tree(names), *_resolved(root.get("/AF", []))]
    for page in reader.pages[:_MOST_NODES]:
        found += _resolved(page.get("/AF", []))
    seen = set[int]()
    for item in found[:_MOST_NODES]:
        reference = getattr(item, "idnum", 0)
        if reference and reference in seen:
            continue
        seen.add(reference)
        carried = _of_filespec(_resolved(item))
        if carried is not None:
            yield carried
        if len(seen) > _MOST_FILES:
            return


def _resolved(item: Any) -> Any:
    return item.get_object() if hasattr(item, "get_object") else item


def _name_tree(node: Any) -> list[Any]:
    """Return the values of a name tree (ISO 32000-1, 7.9.6), its nodes within a limit."""
    found: list[Any] = []
    waiting, looked = [node], 0
    while waiting and looked < _MOST_NODES:
        node, looked = _resolved(waiting.pop()), looked + 1
        found += list(_resolved(node.get("/Names", [])))[1 : 2 * _MOST_NODES : 2]
        waiting += list(_resolved(node.get("/Kids", [])))[:_MOST_NODES]
    return found


def _of_filespec(spec: Any) -> Carried | None:
    words = str(spec.get("/Desc", ""))
    if _from_label(words, "", b"") is None:
        return None
    content = _unpacked(_resolved(_resolved(spec["/EF"])["/F"]))
    if len(content) > MOST_BYTES:
        raise CannotRead("what the sheet carries is larger than any box file")
    return _from_label(words, str(spec.get("/UF", spec.get("/F", ""))), content)


def _unpacked(stream: Any) -> bytes:
    """Return what a stream holds, or a byte more than is allowed: no more of it is ever unpacked.

    Whoever saves a sheet again packs it as it was packed here, or not at all; other ways are slow to undo.
    """
    filters = _resolved(stream.get("/Filter", []))
    names = [_resolved(name) for name in (filters if isinstance(filters, list) else [filters])]
    packed: bytes = stream._data  # as it stands in the file; there is no public way to it
    if not names:
        return packed
    if names != ["/FlateDecode"] or _resolved(stream.get("/DecodeParms")):
        raise CannotRead("what the sheet carries is packed in a way that jigleaf never packs it")
    unpacking = zlib.decompressobj()
    content = unpacking.decompress(packed, MOST_BYTES + 1)
    if len(content) <= MOST_BYTES and not unpacking.eof:
        raise CannotRead("what the sheet carries is damaged: its end is missing")
    return content


# -- SVG -----------------------------------------------------------------------------------------------------------


def _in_svg(content: bytes, path: str) -> Iterator[Carried]:
    """Find what the metadata of an SVG carries. Raises CannotRead where it can't be read."""
    reading = _Reading()
    try:
        reading.read(content)
    except (expat.ExpatError, ValueError, LookupError) as error:
        raise CannotRead(f"{path} can't be read as an SVG: {_first_line(error)}") from None
    for words, name, written in reading.found:
        try:
            decoded = base64.b64decode("".join(written.split()), validate=True)
        except (binascii.Error, ValueError):
            raise CannotRead(f"{path}: what it carries is damaged") from None
        carried = _from_label(words, name, decoded)
        if carried is not None:
            yield carried


class _Reading:
    """An SVG being read: expat keeps nothing of it, fetches nothing, and is stopped at the first entity."""

    def __init__(self) -> None:
        self.parser = expat.ParserCreate(namespace_separator=" ")
        self.parser.StartElementHandler = self._start
        self.parser.EndElementHandler = self._end
        self.parser.CharacterDataHandler = self._words
        self.parser.EntityDeclHandler = self._declared
        self.parser.AttlistDeclHandler = self._declared
        self.found: list[tuple[str, str, str]] = []
        self._depth = 0
        self._label: tuple[str, str] | None = None
        self._written: list[str] = []
        self._length = 0

    def read(self, content: bytes) -> None:
        """Read it all, piece by piece. Raises ValueError for a tag that is longer than any in a sheet."""
        for start in range(0, len(content), _PIECE):
            self.parser.Parse(content[start : start + _PIECE], False)
            if start - self.parser.CurrentByteIndex > _PIECE:  # what is not closed yet
                raise ValueError("it has a tag without an end")
        self.parser.Parse(b"", True)

    def _start(self, name: str, attributes: dict[str, str]) -> None:
        self._depth += 1
        if self._depth > _DEEPEST:
            raise ValueError(f"its elements are nested more than {_DEEPEST} deep")
        if name == f"{NAMESPACE} carried" and len(self.found) < _MOST_FILES:
            self._label = (attributes.get("label", ""), attributes.get("name", ""))

    def _end(self, name: str) -> None:
        self._depth -= 1
        if self._label and name == f"{NAMESPACE} carried":
            self.found.append((*self._label, "".join(self._written)))
            self._label, self._written, self._length = None, [], 0

    def _words(self, words: str) -> None:
        if self._label is None:
            return
        self._length += len(words)
        if self._length > 2 * MOST_BYTES:
            raise ValueError("what it carries is larger than any box file")
        self._written.append(words)

    def _declared(self, *declared: object) -> None:
        del declared
        raise ValueError("it declares entities or attributes, which a sheet never does")
