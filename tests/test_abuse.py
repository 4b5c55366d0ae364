"""Good files, broken at random: each is read, or refused with a message; nothing else comes of it.

`JIGLEAF_MUTATIONS=15000 pytest tests/test_abuse.py -n 2` breaks 15 000 of each kind, more than 10⁵ in all.
"""

from __future__ import annotations

import io
import os
import random
from collections.abc import Callable
from pathlib import Path

import ezdxf
import pytest
from lxml import etree

from jigs.base.errors import JigleafError
from jigs.box import chain
from jigs.boxfile import jig_file, reading
from jigs.course import class_list
from layout import make
from layout.carry import embedded, short_form, svg_outline
from tests.boxes import SAMPLES

ROOT = Path(__file__).parent.parent
COUNT = int(os.environ.get("JIGLEAF_MUTATIONS", "60"))
_PIECES = (
    b"\x00", b"\xff", b"\r", b"\n\n", b'"', b"'", b"[", b"]]", b"{", b"}", b"=", b",", b".", b"-", b"1e999", b"nan",
    b"inf", b"-1", b"99999999999", b"<", b"&", b"]]>", b"<!DOCTYPE x [", b"&#0;", b"\xef\xbb\xbf", "\u202e".encode(),
    "ß½″".encode(), b"obj", b"endstream", b"/Length 9", b"[[students]]", b'units = "in"', b"#", b";", b"\t", b"\\",
    b"%s", b"../", b"null",
)  # fmt: skip


def broken(content: bytes, dice: random.Random) -> bytes:
    """Return a file with a few of its bytes changed, taken out, doubled, moved or put in."""
    made = bytearray(content)
    for _ in range(dice.choice((1, 1, 1, 2, 3, 8))):
        at = dice.randrange(len(made) + 1)
        size = dice.choice((1, 1, 2, 5, 20, 200))
        match dice.randrange(6):
            case 0 if made:
                made[min(at, len(made) - 1)] ^= 1 << dice.randrange(8)
            case 1:
                del made[at : at + size]
            case 2:
                made[at:at] = made[at : at + size]
            case 3:
                made[at:at] = dice.choice(_PIECES)
            case 4:
                piece, to = bytes(made[at : at + size]), dice.randrange(len(made) + 1)
                del made[at : at + size]
                made[to:to] = piece
            case _:
                del made[at:]
                made += content[dice.randrange(len(content)) :]
    return bytes(made)


def _text(content: bytes) -> str:
    return content.decode("utf-8", "replace")


def _box(content: bytes) -> None:
    chain.work_out(reading.read(_text(content), "box.toml"))


def _jig(content: bytes) -> None:
    jig_file.read(_text(content), "jig.toml")


def _list(content: bytes) -> None:
    class_list.read(content, "class.csv")


def _toml_list(content: bytes) -> None:
    class_list.read(content, "class.toml", toml=True)


def _sheet(content: bytes) -> None:
    embedded.read(content, "sheet.pdf")


def _code(content: bytes) -> None:
    short = short_form.read(_text(content))
    if short.family == "box":
        reading.read(short_form.box_text(short), "the code")


def _drawing(content: bytes) -> None:
    svg_outline.read(content, "leaf.svg")


def _svg_of_ours() -> bytes:
    file = reading.load(SAMPLES[0])
    return next(iter(make.draw(file, ["finish"], make.Printing(formats=("svg",))).files.values()))


def _code_of_ours() -> bytes:
    return short_form.of_box(reading.load(SAMPLES[0]))[0].encode()


def _toml_of_students() -> bytes:
    rows = ('name = "Ann"\nbox.length = "+20"\n', 'name = "Ben"\njoint.finger = 8\nprint.paper = "Letter"\n')
    return "".join(f"[[students]]\n{row}" for row in rows).encode()


_READERS: dict[str, tuple[Callable[[], bytes], Callable[[bytes], None]]] = {
    "a box file": (SAMPLES[0].read_bytes, _box),
    "a box file in inches": (SAMPLES[1].read_bytes, _box),
    "a jig file": (
        lambda: b'jig = "sled"\nunits = "mm"\n[settings]\nfinger = 10\ncutter = 10.02\nboard = 90\nthickness = 12\n',
        _jig,
    ),
    "a class list": ((ROOT / "samples" / "class.csv").read_bytes, _list),
    "a class list in TOML": (_toml_of_students, _toml_list),
    "a PDF of ours": ((ROOT / "samples" / "recipe-box-templates.pdf").read_bytes, _sheet),
    "an SVG of ours": (_svg_of_ours, _sheet),
    "a code": (_code_of_ours, _code),
    "a drawing": ((ROOT / "tests" / "patterns" / "leaf.svg").read_bytes, _drawing),
}


@pytest.mark.slow
@pytest.mark.parametrize("kind", _READERS)
def test_a_broken_file_is_read_or_refused(kind: str) -> None:
    good, read = _READERS[kind]
    content, dice, refused = good(), random.Random(kind), list[str]()
    read(content)
    for _ in range(COUNT):
        made = broken(content, dice)
        try:
            read(made)
        except JigleafError as error:
            refused.append(str(error))
        except Exception as error:
            raise AssertionError(f"{error!r} of {made!r}") from error
    assert refused
    assert all(said.strip() and len(said) < 10_000 for said in refused)


_TITLES = (
    "</title><script>x</script>", "]]>", "& < > \" '", "%%EOF endobj", "  0 SECTION", "{\\rtf",
    "../../etc/passwd", "=cmd()", "ß½″", "x" * 80,
)  # fmt: skip


@pytest.mark.slow
@pytest.mark.parametrize("title", _TITLES, ids=ascii)
def test_words_stay_words_in_cards_templates_and_cut_files(title: str) -> None:
    """An XML reader, ezdxf with its auditor: no element, no entity and no layer comes of a title."""
    text = SAMPLES[0].read_text(encoding="utf-8")
    file = make.box(text, "recipe-box.toml", {"title": title})
    plain = make.box(text, "recipe-box.toml", {"title": "Plain"})
    ways = make.Printing(formats=("svg", "dxf", "cut-svg"))
    made, usual = (make.draw(one, ["finish", "handle"], ways) for one in (file, plain))
    for contents, others in ((made.files, usual.files), (made.cut_files, usual.cut_files)):
        assert len(contents) == len(others)
        for (name, content), other in zip(contents.items(), others.values(), strict=True):
            assert "/" not in name
            assert "\\" not in name
            if name.endswith(".dxf"):
                drawing, plain_one = (ezdxf.read(io.StringIO(one.decode())) for one in (content, other))
                assert not drawing.audit().errors
                assert [e.dxftype() for e in drawing.modelspace()] == [e.dxftype() for e in plain_one.modelspace()]
                assert {layer.dxf.name for layer in drawing.layers} == {layer.dxf.name for layer in plain_one.layers}
            elif name.endswith(".svg"):
                assert b"<script" not in content
                tags = [[node.tag for node in etree.fromstring(one).iter()] for one in (content, other)]
                assert set(tags[0]) == set(tags[1])
