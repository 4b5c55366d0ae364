"""A class as pages for phone, tablet and paper: files of their own, which fetch nothing and need no network.

Each student has a page with the numbers, then the steps card by card, then the pages of the pack, and nobody else's
name: it goes to the class with the PDF. What is dangerous stands with the card that it belongs to, to be opened there.
The teacher's page lists everybody with numbers, steps and links to those pages, and the rows that were refused; it
holds no sheets, for those of a large class would be more than a browser opens. It is written student by student, so
that memory does not grow with the class.

A student's page prints its sheets and nothing else, one on each page and true to size. A policy in the page lets
nothing run but the one script that is written here, and nothing load.
"""

from __future__ import annotations

import base64
import functools
import hashlib
import html
import unicodedata
from collections.abc import Iterable, Iterator, Sequence
from importlib.resources import files as resources
from typing import BinaryIO
from urllib.parse import quote
from xml.etree import ElementTree

from anyascii import anyascii

from jigs.course.sizes import Sizes
from jigs.record import Record
from layout.sheet.marks import Bundle, Sheet
from layout.sheet.paper import Paper
from layout.write import decimals, svg

_SVG = "{http://www.w3.org/2000/svg}"
_REPEATED = ("font-family", "version", "baseProfile")
"""What every mark of a sheet says again; the page says it once, or it has no meaning inside a page."""
_PRINTED = (
    "Print templates at 100 %, on one side. Measure the edges of each page: their true lengths are printed there."
)
_PHONE = "A phone changes the size of what it prints. Print the PDF from a computer."
_UNKEPT = "This browser stores nothing: your ticks will be lost when you close the page."


class File(Record):
    """A file beside the page, by its path from there, and what a link to it says."""

    path: str
    says: str


class Task(Record):
    """One card in words: what it is called, its cautions, its settings and steps in their order."""

    title: str
    cautions: tuple[str, ...]
    steps: tuple[str, ...]


class Student(Record):
    """What a page says of one student: whose box it is, its revision mark, numbers, cards, and where the files are."""

    name: str
    revision: str
    sizes: tuple[Sizes, ...]
    tasks: tuple[Task, ...]
    page: str
    files: tuple[File, ...]


# -- one student ---------------------------------------------------------------------------------------------------


def student(about: Student, box: str, cautions: Sequence[str], bundle: Bundle) -> bytes:
    """Return a student's own page: numbers, steps by card, cautions and sheets, for the box of this title."""
    return "".join(_student(about, box, cautions, bundle)).encode()


def _student(about: Student, box: str, cautions: Sequence[str], bundle: Bundle) -> Iterator[str]:
    papers = list(dict.fromkeys(_size(sheet.paper) for sheet in bundle.sheets))
    yield _head(f"{about.name} – {box}", _paper_rules(papers))
    yield '<body class="true-size">\n<a class="skip" href="#sheets">To the sheets</a>\n<header>\n'
    yield f'<h1 dir="auto">{_text(about.name)}</h1>\n'
    yield f'<p dir="auto">{_text(box)}</p>\n<p class="soft">Revision {_text(about.revision)}</p>\n'
    yield '<ul class="actions">\n'
    yield "".join(f"<li>{_link(file)}</li>\n" for file in about.files)
    yield '<li><button type="button" data-print="" hidden>Print all sheets</button></li>\n</ul>\n'
    yield f'<p class="note phone">{_PHONE}</p>\n<p>{_PRINTED}</p>\n{_unkept()}</header>\n<main>\n'
    yield '<section aria-labelledby="numbers">\n<h2 id="numbers">Numbers</h2>\n'
    yield f"{_sizes(about, 'h3')}</section>\n{_cautions(cautions)}"
    yield '<section aria-labelledby="steps">\n<h2 id="steps">Steps, card by card</h2>\n'
    yield f"{_steps(about, 'h3')}</section>\n"
    yield '<nav aria-labelledby="contents">\n<h2 id="contents">Sheets, by name</h2>\n'
    yield '<ul class="contents">\n'
    yield "".join(f'<li><a href="#{_place(s)}">{_text(s.title)}</a></li>\n' for s in bundle.sheets)
    yield '</ul>\n</nav>\n<section class="sheets" aria-labelledby="sheets">\n<h2 id="sheets">Sheets</h2>\n'
    for sheet in bundle.sheets:
        yield from _figure(sheet, bundle, papers.index(_size(sheet.paper)))
    yield f"</section>\n</main>\n{_tail()}"


def _size(paper: Paper) -> tuple[str, str]:
    return decimals.number(paper.width), decimals.number(paper.height)


def _paper_rules(papers: Sequence[tuple[str, str]]) -> str:
    """Return the rules for each paper. The first is that of every page too: some browsers know no pages by name."""
    rules = [f"@page{name}{{size:{wide}mm {high}mm;margin:0}}" for name, (wide, high) in _named(papers)]
    rules += [f".paper-{number}{{page:paper-{number}}}" for number in range(len(papers))]
    return "\n".join(rules)


def _named(papers: Sequence[tuple[str, str]]) -> Iterator[tuple[str, tuple[str, str]]]:
    yield "", papers[0]
    for number, paper in enumerate(papers):
        yield f" paper-{number}", paper


def _place(sheet: Sheet) -> str:
    return f"sheet-{sheet.number}"


def _figure(sheet: Sheet, bundle: Bundle, paper: int) -> Iterator[str]:
    place, title = _place(sheet), _text(sheet.title)
    yield f'<figure class="sheet paper-{paper}" id="{place}">\n<figcaption><h3 id="{place}-name">{title}</h3>\n'
    yield f'<button type="button" data-print="{place}" aria-describedby="{place}-name" hidden>Print this sheet</button>'
    yield f"</figcaption>\n{_inline(sheet, bundle)}\n</figure>\n"


def _inline(sheet: Sheet, bundle: Bundle) -> str:
    """Return a sheet as a picture inside a page: one title, no metadata, ids that no other sheet has."""
    root = ElementTree.fromstring(svg.write(sheet, "", bundle.correction))
    for parent in list(root.iter()):
        for child in list(parent):
            if child.tag in {f"{_SVG}title", f"{_SVG}desc"} or (child.tag == f"{_SVG}defs" and not len(child)):
                parent.remove(child)
    for element in root.iter():
        element.tag = element.tag.removeprefix(_SVG)  # a page knows the elements of SVG by name
        for name in _REPEATED:
            element.attrib.pop(name, None)
        if "id" in element.attrib:
            element.set("id", f"{_place(sheet)}-{element.attrib['id']}")
        if "clip-path" in element.attrib:
            element.set("clip-path", element.attrib["clip-path"].replace("#", f"#{_place(sheet)}-"))
    title = ElementTree.Element("title", {"id": f"{_place(sheet)}-title"})
    title.text = sheet.title
    root.insert(0, title)
    root.set("role", "img")
    root.set("aria-labelledby", f"{_place(sheet)}-title")
    return ElementTree.tostring(root, encoding="unicode")


# -- everybody -----------------------------------------------------------------------------------------------------


def teacher(
    title: str,
    cautions: Sequence[str],
    files: Sequence[File],
    students: Iterable[Student],
    to: BinaryIO,
    refused: Sequence[str] = (),
) -> None:
    """Write the teacher's page: who is in the class, found by name, with numbers, steps and links; who was refused."""
    for part in _teacher(title, cautions, files, students, refused):
        to.write(part.encode())


def _teacher(
    title: str, cautions: Sequence[str], files: Sequence[File], students: Iterable[Student], refused: Sequence[str]
) -> Iterator[str]:
    yield _head(f"{title} – class", "")
    yield '<body>\n<a class="skip" href="#students">To the students</a>\n<header>\n'
    yield f'<h1 dir="auto">{_text(title)}</h1>\n<p>For the teacher only: this page names everyone in the class.</p>\n'
    yield '<nav aria-label="Files of the class">\n<ul class="actions">\n'
    yield "".join(f"<li>{_link(file)}</li>\n" for file in files)
    yield f'</ul>\n</nav>\n<p class="note phone">{_PHONE}</p>\n{_unkept()}</header>\n<main>\n'
    yield _refused(refused)
    yield '<section aria-labelledby="students">\n<h2 id="students">Students</h2>\n'
    yield '<div class="search" role="search" hidden>\n<label for="search">Find by name</label>\n'
    yield '<input type="search" id="search" autocomplete="off" spellcheck="false" aria-describedby="found">\n'
    yield '<p class="soft" id="found" role="status"></p>\n</div>\n<ul class="students">\n'
    for one in students:
        yield _row(one)
    yield f"</ul>\n</section>\n{_cautions(cautions)}</main>\n{_tail()}"


def _refused(refused: Sequence[str]) -> str:
    """Return the rows of the list that gave no box, each with its reason; nothing where there are none."""
    if not refused:
        return ""
    rows = "".join(f"<li><bdi>{_text(said)}</bdi></li>\n" for said in refused)
    heading = '<section aria-labelledby="refused">\n<h2 id="refused">Faulty rows</h2>\n'
    heading += "<p>Correct these rows of the list. Everyone else’s sheets are made.</p>\n"
    return f'{heading}<ul class="refused">\n{rows}</ul>\n</section>\n'


def _row(one: Student) -> str:
    name = _text(one.name)
    whose = f'<bdi class="unseen">, {name}</bdi>'
    links = "".join(f"<li>{_link(file, whose)}</li>\n" for file in one.files)
    return (
        f'<li class="student" data-find="{_text(_found_by(one.name))}">\n'
        f'<h3 dir="auto"><a href="{_address(one.page)}">{name}</a></h3>\n'
        f'<p class="soft">Revision {_text(one.revision)}</p>\n<ul class="actions">\n{links}</ul>\n'
        f"<details>\n<summary>Numbers{whose}</summary>\n{_sizes(one, 'h4')}</details>\n"
        f"<details>\n<summary>Steps{whose}</summary>\n{_steps(one, 'h4')}</details>\n</li>\n"
    )


def _found_by(name: str) -> str:
    """Return what a name is looked for in: small letters without accents, as written and in Latin ones."""
    bare = (
        letter for letter in unicodedata.normalize("NFKD", name) if not unicodedata.category(letter).startswith("M")
    )
    return f"{''.join(bare).lower()} {anyascii(name).lower()}"


# -- parts of both -------------------------------------------------------------------------------------------------


def _text(words: str) -> str:
    """Return words that HTML gives back as they were, in text and in quoted attributes.

    A carriage return would be read as a line feed, and what is no character at all stands as the sign for that.
    """
    sound = words.replace("\0", "\ufffd").encode("utf-8", "replace").decode()
    return html.escape(sound).replace("\r", "&#13;")


def _address(path: str) -> str:
    """Return a path as a relative link; "./" keeps a colon in it from being read as a scheme."""
    return f"./{quote(path)}"


def _link(file: File, more: str = "") -> str:
    return f'<a href="{_address(file.path)}">{_text(file.says)}{more}</a>'


def _unkept() -> str:
    return f'<p class="note" id="unkept" role="status" hidden>{_UNKEPT}</p>\n'


def _cautions(cautions: Sequence[str]) -> str:
    rows = "".join(f"<li>{_text(caution)}</li>\n" for caution in cautions)
    heading = '<section aria-labelledby="cautions">\n<h2 id="cautions">Cautions</h2>\n'
    return f'{heading}<ul class="cautions">\n{rows}</ul>\n</section>\n'


def _sizes(about: Student, heading: str) -> str:
    made = ['<div class="sizes">\n']
    for part in about.sizes:
        rows = "".join(f"<div><dt>{_text(name)}</dt><dd>{_text(value)}</dd></div>\n" for name, value in part.rows)
        made.append(f"<section>\n<{heading}>{_text(part.part)}</{heading}>\n<dl>\n{rows}</dl>\n</section>\n")
    return "".join([*made, "</div>\n"])


def _steps(about: Student, heading: str) -> str:
    """Return the steps by card. A tick is of this student's box at this revision: with other numbers it is gone."""
    made, number = [], 0
    for task in about.tasks:
        made.append(f"<section>\n<{heading}>{_text(task.title)}</{heading}>\n{_dangers(task, about)}")
        made.append('<ol class="steps">\n')
        for step in task.steps:
            number += 1
            tick = _text(f"{about.page} {about.revision} {number}")
            box = f'<input type="checkbox" data-tick="{tick}">'
            made.append(f"<li><label>{box}<span>{_text(step)}</span></label></li>\n")
        made.append("</ol>\n</section>\n")
    return "".join(made)


def _dangers(task: Task, about: Student) -> str:
    """Return the cautions of a card, closed: they stand open on the card itself."""
    if not task.cautions:
        return ""
    rows = "".join(f"<li>{_text(caution)}</li>\n" for caution in task.cautions)
    whose = f'<span class="unseen"> of {_text(task.title)}, <bdi>{_text(about.name)}</bdi></span>'
    return f'<details>\n<summary>Cautions{whose}</summary>\n<ul class="cautions">\n{rows}</ul>\n</details>\n'


def _head(title: str, rules: str) -> str:
    """Return the page down to its body. Only the style and the script that are written here may be used."""
    style = _own("page.css") + rules
    policy = "; ".join([
        "default-src 'none'",
        f"style-src {_hash(style)}",
        f"script-src {_hash(_own('page.js'))}",
        "base-uri 'none'",
        "form-action 'none'",
    ])  # fmt: skip
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        f'<meta http-equiv="Content-Security-Policy" content="{policy}">\n'
        '<meta name="referrer" content="no-referrer">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        '<meta name="color-scheme" content="light dark">\n'
        f"<title>{_text(title)}</title>\n<style>{style}</style>\n</head>\n"
    )


def _tail() -> str:
    return f"<script>{_own('page.js')}</script>\n</body>\n</html>\n"


@functools.cache
def _own(name: str) -> str:
    return (resources("layout.course") / name).read_text(encoding="utf-8")


def _hash(content: str) -> str:
    """Return a source of a content security policy: the text between the tags, by its digest (CSP level 3, 8.2)."""
    return f"'sha256-{base64.b64encode(hashlib.sha256(content.encode()).digest()).decode()}'"
