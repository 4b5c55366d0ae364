"""Many PDFs joined into one, one at a time: what is kept in memory is an offset an object, not the files.

The general libraries keep every object, or every file open, until the end. Here each source is read, renumbered,
written and forgotten.
"""

from __future__ import annotations

from array import array
from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import Any, BinaryIO, NamedTuple

from pypdf import PdfReader
from pypdf.generic import (
    ArrayObject,
    DictionaryObject,
    IndirectObject,
    NameObject,
    NumberObject,
    PdfObject,
    StreamObject,
    TextStringObject,
)


class Entry(NamedTuple):
    """One file to join, under its heading in the outline."""

    title: str
    path: Path


def join(entries: Sequence[Entry], title: str, to: BinaryIO, *, both_sides: bool = False) -> int:
    """Write all pages of these files as one PDF, an outline entry a file and below it one a page; return the pages.

    What is printed on `both_sides` has an empty page behind a file with an odd number of them: each begins on a sheet.
    Raises what pypdf raises for a file that is no PDF.
    """
    made = _Joined(to, both_sides=both_sides)
    for number, entry in enumerate(entries):
        made.add(entry, last=number == len(entries) - 1)
    return made.close(title)


class _Joined:
    """The file being written. Objects 1 to 3 are the catalogue, the root of the pages and the outline."""

    def __init__(self, to: BinaryIO, *, both_sides: bool) -> None:
        self.to = to
        self.both_sides = both_sides
        self.at = 0
        self.offsets = array("Q")
        self.catalogue, self.pages, self.outline = self.reserve(), self.reserve(), self.reserve()
        self.branches = array("L")  # a node of the page tree for each file
        self.counts = array("L")
        self.headings = array("L")  # an outline entry for each file
        self.next_heading = self.reserve()
        self._put(b"%PDF-1.7\n%\xe2\xe3\xcf\xd3\n")

    def _put(self, content: bytes) -> None:
        self.to.write(content)
        self.at += len(content)

    def reserve(self) -> int:
        """Return the number of an object that is written later."""
        self.offsets.append(0)
        return len(self.offsets)

    def write(self, number: int, item: PdfObject) -> None:
        """Write an object under its number."""
        self.offsets[number - 1] = self.at
        self._put(f"{number} 0 obj\n".encode())
        before = self.to.tell()
        item.write_to_stream(self.to)
        self.at += self.to.tell() - before
        self._put(b"\nendobj\n")

    def add(self, entry: Entry, *, last: bool) -> None:
        """Write the pages of one file and its part of the outline."""
        reader = PdfReader(entry.path)
        branch = self.reserve()
        copied = _Copied(self, reader)
        leaves = [copied.number(page.indirect_reference) for page in reader.pages]
        for page, number in zip(reader.pages, leaves, strict=True):
            kept = DictionaryObject({key: value for key, value in page.items() if key != "/Parent"})
            self.write(number, copied.renumbered(kept, {"/Parent": _reference(branch)}))
        copied.write_rest()
        kids = [*leaves, *([self._empty(reader, branch)] if self.both_sides and len(leaves) % 2 and not last else [])]
        node = {"/Type": NameObject("/Pages"), "/Parent": _reference(self.pages), "/Count": NumberObject(len(kids))}
        self.write(branch, _dictionary(node | {"/Kids": ArrayObject(_reference(kid) for kid in kids)}))
        self.branches.append(branch)
        self.counts.append(len(kids))
        self._headings(entry.title, _titles(reader), leaves, last=last)

    def _empty(self, reader: PdfReader, branch: int) -> int:
        """Write an empty page as large as the last of a file; return its number."""
        number, box = self.reserve(), [NumberObject(0), NumberObject(0), *reader.pages[-1].mediabox.upper_right]
        page = {"/Type": NameObject("/Page"), "/Parent": _reference(branch), "/MediaBox": ArrayObject(box)}
        self.write(number, _dictionary(page | {"/Resources": _dictionary({})}))
        return number

    def _headings(self, title: str, titles: Sequence[str], leaves: Sequence[int], *, last: bool) -> None:
        """Write the outline entry of a file, closed, and below it those of its pages."""
        heading, before = self.next_heading, self.headings[-1] if self.headings else None
        self.next_heading = heading if last else self.reserve()
        items = [self.reserve() for _ in leaves]
        for i, (item, leaf) in enumerate(zip(items, leaves, strict=True)):
            words = titles[i] if i < len(titles) else f"{title}, page {i + 1}"
            near = {"/Prev": items[i - 1] if i else None, "/Next": items[i + 1] if i + 1 < len(items) else None}
            self.write(item, _heading(words, heading, leaf, near))
        near = {"/Prev": before, "/Next": None if last else self.next_heading, "/First": items[0], "/Last": items[-1]}
        made = _heading(title, self.outline, leaves[0], near)
        made[NameObject("/Count")] = NumberObject(-len(items))
        self.write(heading, made)
        self.headings.append(heading)

    def close(self, title: str) -> int:
        """Write the roots, the table of offsets and the trailer; return how many pages there are."""
        count = sum(self.counts)
        kids = ArrayObject(_reference(branch) for branch in self.branches)
        self.write(
            self.pages, _dictionary({"/Type": NameObject("/Pages"), "/Kids": kids, "/Count": NumberObject(count)})
        )
        ends = {"/First": _reference(self.headings[0]), "/Last": _reference(self.headings[-1])}
        self.write(
            self.outline,
            _dictionary({"/Type": NameObject("/Outlines"), **ends, "/Count": NumberObject(len(self.headings))}),
        )
        information = self.reserve()
        said = {"/Title": TextStringObject(title), "/Creator": TextStringObject("jigleaf")}
        self.write(information, _dictionary(said))
        self.write(self.catalogue, _dictionary({
            "/Type": NameObject("/Catalog"),
            "/Pages": _reference(self.pages),
            "/Outlines": _reference(self.outline),
            "/PageMode": NameObject("/UseOutlines"),
            "/Lang": TextStringObject("en"),
            "/ViewerPreferences": _dictionary({"/PrintScaling": NameObject("/None")}),
        }))  # fmt: skip
        start = self.at
        self._put(f"xref\n0 {len(self.offsets) + 1}\n0000000000 65535 f \n".encode())
        for offset in self.offsets:
            self._put(b"%010d 00000 n \n" % offset)
        root = f"/Size {len(self.offsets) + 1} /Root {self.catalogue} 0 R /Info {information} 0 R"
        self._put(f"trailer\n<< {root} >>\nstartxref\n{start}\n%%EOF\n".encode())
        return count


class _Copied:
    """The objects of one source under their new numbers; each is written once."""

    def __init__(self, joined: _Joined, reader: PdfReader) -> None:
        self.joined, self.reader = joined, reader
        self.numbers: dict[int, int] = {}
        self.waiting: list[int] = []

    def number(self, reference: IndirectObject | None) -> int:
        """Return the new number of an object, to be written later if it is new."""
        assert reference is not None, "a page of a file has a number"
        if reference.idnum not in self.numbers:
            self.numbers[reference.idnum] = self.joined.reserve()
            self.waiting.append(reference.idnum)
        return self.numbers[reference.idnum]

    def write_rest(self) -> None:
        """Write what the pages refer to, and what that refers to; the pages themselves are written already."""
        pages = {page.indirect_reference.idnum for page in self.reader.pages if page.indirect_reference}
        while self.waiting:
            old = self.waiting.pop(0)
            if old not in pages:
                found = IndirectObject(old, 0, self.reader).get_object()
                self.joined.write(self.numbers[old], self.renumbered(found))

    def renumbered(self, item: Any, more: dict[str, PdfObject] | None = None) -> Any:
        """Return a copy of an object that refers to the new numbers."""
        if isinstance(item, IndirectObject):
            return _reference(self.number(item))
        if isinstance(item, ArrayObject):
            return ArrayObject(self.renumbered(member) for member in item)
        if isinstance(item, DictionaryObject):
            # raw_get: a value as it is written, where [] would follow the reference
            made = _dictionary({key: self.renumbered(item.raw_get(key)) for key in item} | (more or {}))
            if isinstance(item, StreamObject):
                stream = StreamObject()
                stream._data = item._data  # as it is compressed; there is no public way to it
                stream.update(made)
                return stream
            return made
        return item


def _reference(number: int) -> IndirectObject:
    return IndirectObject(number, 0, None)  # it is only ever written: it needs no file to be read from


def _dictionary(entries: dict[str, Any]) -> DictionaryObject:
    return DictionaryObject({NameObject(key): value for key, value in entries.items()})


def _heading(words: str, parent: int, page: int, near: dict[str, int | None]) -> DictionaryObject:
    target = ArrayObject([_reference(page), NameObject("/Fit")])
    made = {"/Title": TextStringObject(words), "/Parent": _reference(parent), "/Dest": target}
    return _dictionary(made | {key: _reference(number) for key, number in near.items() if number is not None})


def _titles(reader: PdfReader) -> list[str]:
    """Return the titles of the outline's upper level: one a sheet."""
    return list(_upper(reader.outline))


def _upper(outline: Any) -> Iterator[str]:
    for item in outline:
        if not isinstance(item, list):
            yield str(item.title)
