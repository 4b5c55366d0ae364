"""Files that are made to harm whoever reads them: too deep, too large, in loops, cut off, in other encodings.

All are made by code, and alike in every run. What is large is made when it is asked for.
"""

from __future__ import annotations

import base64
import gzip
import json
import textwrap
import zlib
from collections.abc import Callable, Mapping

from layout.sheet import carried

Made = Callable[[], bytes]

LEAST = "[box]\nlength = 200\nwidth = 150\nheight = 92\n[sides]\nthickness = 12\n[joint]\nfinger = 10\ncutter = 10.02\n"
NUMBERS = (
    *("1e999", "-1e999", "nan", "inf", "-inf", "-0", "-0.0", "0", "1/0", "0/0", "¼", "1¾", "²", "٣", "1_000", "1e9"),
    *("0x" + "f" * 900, "1" + "0" * 400, "9" * 5000, "1." + "0" * 300, "1979-05-27", "07:32:00", "true", "[]", "{}"),
    *("", " ", "+", "−5"),
)
"""What stands where a number should, as TOML or as text."""
HARMFUL = (
    *("\x1b[31m", "\x1b]0;x\x07", "\x9b31m", "\u202e", "\u2028", "\x00", "\x7f", "\r", "\ufeff", "\U000e0001"),
    *("<script>alert(1)</script>", "]]>", "&amp;", "\"'", "javascript:alert(1)", "../../x", "=cmd|' /C calc'!A0"),
)
"""Parts of names and titles that steer a terminal, or that HTML, XML, a shell or a spreadsheet would act on."""


def text(written: str) -> Made:
    return lambda: written.encode("utf-8", "surrogatepass")


def raw(content: bytes) -> Made:
    return lambda: content


# -- box files -----------------------------------------------------------------------------------------------------

_OUTLINES = {
    "none": "leaf.svg",
    "a path": "../../etc/passwd",
    "markup": "<path d='M0 0h9'/>",
    "relative": "M0 0 l9 9",
    "nothing drawn": "M0 0 " * 7000,
    "one number too many": "M0 0 L9 9 9",
    "too many steps": "M0 0 " + "L9 9 L0 0 " * 2000,
    "a point far off": "M0 0 L1e308 0",
    "a great many figures": "M0 0 L" + "9" * 900 + " 0",
    "so narrow that it is endless": "M0 0 L0.000001 999999999",
    "upright": "M0 0 L0 9",
    "an arc that is none": "M0 0 A-1 -1 0 0 0 9 9",
}
BOX_FILES: Mapping[str, Made] = {
    **{
        f"an outline, {name}": text(LEAST + f'[pattern]\nwidth = 60\noutline = """\n{textwrap.fill(lines, 90)}"""\n')
        for name, lines in _OUTLINES.items()
    },
    **{f"finger = {number[:12]}": text(LEAST.replace("= 10\n", f"= {number}\n")) for number in NUMBERS},
    **{f"finger = '{number[:12]}'": text(LEAST.replace("= 10\n", f"= '{number}'\n")) for number in NUMBERS},
    **{f"title {part!a}": text(f"title = {json.dumps(f'a{part}b')}\nx = 1\n{LEAST}") for part in HARMFUL},
    **{f"key {part!a}": text(f"{LEAST}{json.dumps(part)} = 1\n") for part in HARMFUL},
    "deep lists": text(LEAST + "x = " + "[" * 900 + "]" * 900),
    "lists in lines": text(LEAST + "x = [\n" + "[\n" * 4000),
    "deep tables": text(LEAST + "x = " + "{a=" * 450 + "1" + "}" * 450),
    "deep keys": text("[" + ".".join(["a"] * 90) + "]\n" + LEAST),
    "too deep keys": text(".".join(["a"] * 900) + " = 1\n" + LEAST),
    "one long line": text("x" * 500_000),
    "too many lines": text("\n" * 10_000),
    "too many faults": text(LEAST + "".join(f"a{i} = 1\n" for i in range(4900))),
    "nul": text(LEAST + "\0"),
    "utf-16": lambda: LEAST.encode("utf-16"),
    "a lone surrogate": text('title = "\ud800"\n' + LEAST),
    "a surrogate escaped": text('title = "\\ud800"\n' + LEAST),
    "windows letters": lambda: b'title = "Zo\xeb"\n' + LEAST.encode(),
    "a picture": raw(b"\x89PNG\r\n\x1a\n" + bytes(100)),
    "an open string": text(LEAST + 'x = """\n' + "a\n" * 4000),
}
"""Box files that no box can be made from."""
BOX_BOMBS: Mapping[str, Made] = {
    "a line of 50 MB": lambda: b"x" * 50_000_000,
    "many deep headers": text(LEAST + "".join(f"[{'.'.join(['a'] * 90)}.b{i}]\n" for i in range(4000))),
}

# -- class lists ---------------------------------------------------------------------------------------------------

_FINE = ("1_000", "{}", "0x" + "f" * 900)  # in TOML numbers, and a key with nothing in it
_LESS = ("-0", "-0.0", "−5")  # in a cell: so much less than the class's box has
ROSTERS: Mapping[str, Made] = {
    **{
        f"length {n[:9]}": text(f'name,box.length\nAnn,"{n}"\n')
        for n in NUMBERS
        if n.strip() and n not in (*_FINE, *_LESS)
    },
    **{f"heading {part!a}": text(f'name,"x{part.replace(chr(34), "")}"\nAnn,3\n') for part in HARMFUL},
    "nul": text("name\n" + "a" * 300 + "\0\n"),
    "half a surrogate": lambda: b"\xff\xfe" + "name\n".encode("utf-16-le") + b"\x00\xd8\n\x00",
    "no text": raw(b"name\n\xff\x81\n"),
    "an open quote": text('name\n"' + "x\n" * 200_000),
    "one long cell": text("name\n" + "x" * 200_000),
}
"""Class lists with nobody in them whose box can be made."""
ROSTER_BOMBS: Mapping[str, Made] = {
    "a million columns": text("name" + ",x" * 1_000_000 + "\nAnn\n"),
    "a million columns alike": text("name" + ",name" * 900_000 + "\nAnn\n"),
    "a million rows": text("name\n" + "a\n" * 1_000_000),
    "a million faults": text("name,box.length\n" + ",1\n" * 1_000_000),
    "a line of 50 MB": lambda: b"name\n" + b"x" * 50_000_000,
    "nothing but quotes": lambda: b'"' * 4_900_000,
}
TOML_ROSTERS: Mapping[str, Made] = {
    **{f"length {n[:9]}": text(f"[[students]]\nname = 'a'\nbox.length = {n}\n") for n in NUMBERS if n not in _FINE},
    **{f"key {part!a}": text(f"[[students]]\nname = 'a'\n{json.dumps(part)} = 1\n") for part in HARMFUL},
    "no students": text("students = [1, 'x', {}]"),
    "deep lists": text("[[students]]\nname = 'a'\nx = " + "[" * 1900),
    "a surrogate escaped": text('[[students]]\nname = "\\ud800"'),
    "a number in figures without end": text("[[students]]\nname = 'a'\nbox.length = 0x" + "f" * 1900),
}
TOML_ROSTER_BOMBS: Mapping[str, Made] = {
    "one key of 20000 parts": text("[[students]]\nname = 'a'\n" + ".".join(["a"] * 20_000) + " = 1\n"),
    "keys of 400 parts": text("[[students]]\n" + "".join(".".join(["a"] * 400) + f".b{i} = 1\n" for i in range(5000))),
    "keys of 90 parts": text("[[students]]\n" + "".join(".".join(["a"] * 90) + f".b{i} = 1\n" for i in range(5400))),
    "a number of four million figures": text("[[students]]\nname = 'a'\nbox.length = 0x" + "f" * 4_000_000),
    "a key of four million letters": text("[[students]]\nname = 'a'\n" + "k" * 4_000_000 + " = 1"),
    "300000 headers": text("".join(f"[a.b{i}]\n" for i in range(300_000))),
    "lists in lists": text("[[students]]\nname = 'a'\nx = " + "[" * 100_000),
}

# -- printers ------------------------------------------------------------------------------------------------------


def _printer(entry: str, name: str = "a") -> Made:
    return text(f'{{"version": 2, "printers": {{"{name}": {{{entry}}}}}}}')


_SCALES = '"scale_across": 1, "scale_up": 1, "skew": '
_NO_SCALES = ("NaN", "1e999", "1" * 400, "1" * 5000, "null", '"x"', "[]", "9")
_NO_MARGINS = ("null", "[0, 0, 0]", "[NaN, 0, 0, 0]", "[-1, 0, 0, 0]", '"x"')
PRINTERS: Mapping[str, Made] = {
    **{f"scale {n[:8]}": _printer(f'"scale_across": {n}, "scale_up": 1, "skew": 0') for n in _NO_SCALES},
    **{f"skew {n[:8]}": _printer(_SCALES + n) for n in ("NaN", "-Infinity", "6", "1" * 400)},
    **{f"margins {m}": _printer(f'{_SCALES}0, "margins": {m}') for m in _NO_MARGINS},
    **{f"name {n}": _printer(_SCALES + "0", n) for n in ("\\u001b[31m", "\\ud800", "\\u202ea", "", "x" * 99)},
    "deep lists": raw(b"[" * 90_000),
    "deep tables": raw(b'{"a":' * 30_000),
    "nul": raw(b"\0"),
    "utf-16": lambda: "{}".encode("utf-16"),
    "no text": raw(b"\xff"),
    "a list": raw(b"[]"),
    "a list of printers": raw(b'{"version": 2, "printers": []}'),
    "a printer that is a list": raw(b'{"version": 2, "printers": {"a": [1]}}'),
    "newer": raw(b'{"version": 2.5, "printers": {}}'),
}
PRINTER_BOMBS: Mapping[str, Made] = {
    "30 MB": lambda: b'"' + b"x" * 30_000_000,
    "200000 printers": lambda: json.dumps({"version": 2, "printers": {str(i): {} for i in range(200_000)}}).encode(),
}

# -- PDF -----------------------------------------------------------------------------------------------------------

Objects = Mapping[int, str | bytes]


def pdf(objects: Objects, trailer: str = "") -> bytes:
    """Return a PDF of these objects, the first of them its catalogue (ISO 32000-1, 7.5)."""
    made, at = b"%PDF-1.7\n", {}
    for number, item in objects.items():
        at[number] = len(made)
        made += f"{number} 0 obj\n".encode() + (item if isinstance(item, bytes) else item.encode()) + b"\nendobj\n"
    size = max(objects) + 1
    rows = b"".join(b"%010d 00000 n \n" % at.get(number, 0) for number in range(1, size))
    table = f"xref\n0 {size}\n0000000000 65535 f \n".encode() + rows
    return made + table + f"trailer\n<</Size {size}/Root 1 0 R{trailer}>>\nstartxref\n{len(made)}\n%%EOF\n".encode()


def stream(content: bytes, entries: str = "") -> bytes:
    return f"<<{entries}/Length {len(content)}>>stream\n".encode() + content + b"\nendstream"


def flate_bomb(megabytes: int = 1000) -> bytes:
    """Return what unpacks to so many million zeros; whole flushes repeat, so it is soon made."""
    packing = zlib.compressobj(9)
    first, again = (packing.compress(bytes(1_000_000)) + packing.flush(zlib.Z_FULL_FLUSH) for _ in range(2))
    return first + again * (megabytes - 1)


def filespec(name: str = "x.toml", label: str = "jigleaf 1 box", file: int = 6) -> str:
    return f"<</Type/Filespec/Desc({label})/UF({name})/EF<</F {file} 0 R>>>>"


CARRYING: Objects = {
    1: "<</Type/Catalog/Pages 2 0 R/AF[5 0 R]>>",
    2: "<</Type/Pages/Kids[3 0 R]/Count 1>>",
    3: "<</Type/Page/Parent 2 0 R/MediaBox[0 0 9 9]>>",
    5: filespec(),
    6: stream(b"[box]"),
}
"""A sheet with nothing on it that carries a box file."""


def _pdf(**changed: str | bytes) -> Made:
    return lambda: pdf(dict(CARRYING) | {int(number[1:]): item for number, item in changed.items()})


def _sheet(content: bytes, entries: str = "") -> bytes:
    return pdf(dict(CARRYING) | {6: stream(content, entries)})


def _carried(content: bytes, entries: str = "") -> Made:
    return lambda: _sheet(content, entries)


_CATALOGUE = "<</Type/Catalog/Pages 2 0 R"
_TREE = "<</Type/Catalog/Pages 2 0 R/Names<</EmbeddedFiles 7 0 R>>>>"
_SECOND = filespec("../../y", file=8)
_INNER = f"<j:carried xmlns:j='{carried.NAMESPACE}' label='jigleaf 1 box'>QQ=="
_BRANCHES: Objects = {i: f"<</Type/Pages/Kids[{i + 1} 0 R {i + 1} 0 R]/Count 1>>" for i in range(10, 40)}
PDFS: Mapping[str, Made] = {
    "pages in a loop": _pdf(n2="<</Type/Pages/Kids[2 0 R]/Count 1>>"),
    "a file that is itself": _pdf(n5="5 0 R"),
    "files in a loop": _pdf(n1="<</Type/Catalog/Pages 2 0 R/AF 9 0 R>>", n9="9 0 R"),
    "a length that is itself": _pdf(n6=b"<</Length 6 0 R>>stream\n[box]\nendstream"),
    "a length too great": _pdf(n6=b"<</Length 99999999999>>stream\n[box]\nendstream"),
    "deep lists": _pdf(n1="<</Type/Catalog/Pages 2 0 R/AF 9 0 R>>", n9="[" * 100_000 + "]" * 100_000),
    "deep tables": _pdf(n1="<</Type/Catalog/Pages 2 0 R/AF 9 0 R>>", n9="<</A" * 100_000 + ">>" * 100_000),
    "several files": _pdf(n1=f"{_CATALOGUE}/AF[5 0 R 7 0 R]>>", n7=_SECOND, n8=stream(b"[lid]")),
    "no such filter": _carried(b"x", "/Filter/\x1b[31m\x00"),
    "2000 filters": _carried(b"z" * 1000, "/Filter[" + "/ASCII85Decode" * 2000 + "]"),
    "a cut end": _carried(zlib.compress(b"[box]" * 99)[:-9], "/Filter/FlateDecode"),
    "a damaged stream": _carried(b"no flate", "/Filter/FlateDecode"),
    "a predictor": _carried(zlib.compress(b"[box]"), "/Filter/FlateDecode/DecodeParms<</Predictor 12>>"),
    "damaged settings": lambda: pdf(dict(CARRYING) | {5: filespec(label="jigleaf 9 jig")}),
    "no pages": lambda: pdf({1: "<</Type/Catalog>>"}),
}
"""PDFs that are refused."""
PDFS_READ: Mapping[str, Made] = {
    "names in a loop": _pdf(n1=_TREE, n7="<</Kids[7 0 R 7 0 R]/Names[(a)5 0 R]>>"),
    "an outline in a loop": _pdf(n1=f"{_CATALOGUE}/AF[5 0 R]/Outlines 8 0 R>>", n8="<</First 8 0 R/Next 8 0 R>>"),
    "a parent that is itself": _pdf(n3="<</Type/Page/Parent 3 0 R>>"),
    "a count too great": _pdf(n2="<</Type/Pages/Kids[3 0 R]/Count 2000000000>>"),
    "tables in a loop": lambda: pdf(CARRYING, "/Prev 9"),
    "a path for a name": _pdf(n5=filespec("../../../etc/x.toml")),
    "a name that steers": _pdf(n5=filespec("\x1b[2J\x07x.toml")),
}
"""PDFs that are odd, and give back their box file."""
PDF_BOMBS: Mapping[str, Made] = {
    "a gigabyte of zeros": lambda: _sheet(flate_bomb(), "/Filter/FlateDecode"),
    "packed twice": lambda: _sheet(zlib.compress(flate_bomb(), 9), "/Filter[/FlateDecode/FlateDecode]"),
    "LZW": lambda: _sheet(b"\x80\x0b\x60" * 3_000_000, "/Filter/LZWDecode"),
    "ASCII 85": lambda: _sheet(b"z" * 15_000_000, "/Filter/ASCII85Decode"),
    "a gigabyte in the table": lambda: (
        b"%PDF-1.7\n1 0 obj\n"
        + stream(flate_bomb(), "/Type/XRef/W[1 4 2]/Size 9/Root 1 0 R/Filter/FlateDecode")
        + b"\nendobj\nstartxref\n9\n%%EOF"
    ),
    "pages that branch": lambda: pdf(dict(CARRYING) | dict(_BRANCHES) | {2: "<</Kids[10 0 R 10 0 R]/Count 1>>"}),
    "objects without end": lambda: b"%PDF-1.4\n" + b"1 0 obj\n" * 2_400_000,
    "tables without end": lambda: b"%PDF-1.4\n" + b"<<" * 9_000_000 + b"\ntrailer<</Root 1 0 R>>",
}

# -- SVG -----------------------------------------------------------------------------------------------------------


def svg(content: bytes, label: str = "jigleaf 1 box", name: str = "x.toml") -> bytes:
    """Return an SVG with nothing on it that carries this."""
    held = base64.b64encode(content).decode()
    return f"<s><j:carried xmlns:j='{carried.NAMESPACE}' label='{label}' name='{name}'>{held}</j:carried></s>".encode()


SVGS: Mapping[str, Made] = {
    "a billion laughs": text(
        "<!DOCTYPE s [<!ENTITY l0 'ha'>"
        + "".join(f"<!ENTITY l{i} '{f'&l{i - 1};' * 10}'>" for i in range(1, 12))
        + "]><s>&l11;</s>"
    ),
    "a parameter entity": text("<!DOCTYPE s [<!ENTITY % x SYSTEM 'file:///etc/passwd'>%x;]><s/>"),
    "a long default": text("<!DOCTYPE s [<!ATTLIST s a CDATA '" + "x" * 99_999 + "'>]><s>" + "<s/>" * 99_999 + "</s>"),
    "deep": text("<a>" * 5000),
    "nul": raw(b"<s>\0</s>"),
    "no such encoding": raw(b"<?xml version='1.0' encoding='utf-7'?><s/>"),
    "packed": lambda: gzip.compress(b"<svg/>", mtime=0),
    "two jobs": lambda: svg(b"a").replace(b"</s>", svg(b"b", name="&#x202e;y")[3:]),
    "one inside another": text("<s>" + _INNER * 90 + "</j:carried>" * 90 + "</s>"),
}
SVG_BOMBS: Mapping[str, Made] = {
    "a million attributes": lambda: b"<s " + b" ".join(b"a%d=''" % i for i in range(1_000_000)) + b"/>",
    "an attribute of 19 MB": lambda: b"<s a='" + b"x" * 19_000_000 + b"'/>",
    "five million elements": lambda: b"<s>" + b"<a/>" * 4_900_000 + b"</s>",
    "a packed gigabyte": lambda: gzip.compress(bytes(100_000_000), 9, mtime=0),
    "50 MB": lambda: b"<s>" + b"x" * 50_000_000,
}


def drawing(inner: str) -> Made:
    """Return a drawing to carve, with this in it."""
    return text(f'<svg xmlns="http://www.w3.org/2000/svg">{inner}</svg>')


_WILD = ("1e309", "nan", "inf", "-Infinity", "9" * 400, "1e-99999999", "0x10", "--5", "1.2.3.4.", "٣", "½")
DRAWINGS: Mapping[str, Made] = {
    **{name: made for name, made in SVGS.items() if name not in ("two jobs",)},
    **{f"a path to {n[:12]}": drawing(f'<path d="M0 0L5 {n} 1 1 1 1 1"/>') for n in _WILD},
    **{f"a circle of {n[:12]}": drawing(f'<circle r="{n}"/><path d="M0 0"/>') for n in _WILD},
    **{f"turned by {n[:12]}": drawing(f'<circle r="5" transform="rotate({n},1)"/>') for n in _WILD},
    **{f"name {part!a}": text(f"<svg><path d={json.dumps(part)}/></svg>") for part in HARMFUL},
    "an entity from a file": text("<!DOCTYPE svg [<!ENTITY x SYSTEM 'file:///etc/passwd'>]><svg><path d='&x;'/></svg>"),
    "a scale without end": drawing("<g transform='scale(1e7)'>" * 90 + "<path d='M0 0h9v9'/>" + "</g>" * 90),
    "turns without end": drawing("<path d='M0 0h9' transform='" + "rotate(1) " * 5000 + "'/>"),
    "copies of copies": drawing(
        "".join(f"<g id='a{i}'><use href='#a{i - 1}'/><use href='#a{i}'/></g>" for i in range(99))
    ),
    "a picture in it": drawing("<image href='data:image/png;base64," + "A" * 9999 + "'/>"),
    "moves alone": drawing("<path d='" + "M0 0" * 9999 + "'/>"),
    "no svg": text("<html><svg><path d='M0 0h9'/></svg></html>"),
    "a wrong end": text("<svg><path d='M0 0h9v9'/></svgs>"),
    "cut off": text("<svg><path d='M0 0h9v9'/>"),
    "a jpeg": raw(b"\xff\xd8\xff\xe0" + bytes(99)),
    "nothing": raw(b""),
    "blanks": raw(b" \n" * 99),
}
"""Drawings that no pattern can be made from."""
DRAWING_BOMBS: Mapping[str, Made] = {
    **SVG_BOMBS,
    "a million lines": drawing("<path d='M0 0" + "h1v1" * 230_000 + "'/>"),
    "four million commands": drawing(
        "<path d='" + "M0 0" * 200_000 + "'/>" + ("<path d='" + "M0 0" * 200_000 + "'/>") * 19
    ),
    "figures without end": drawing("<path d='M" + "9" * 900_000 + "'/>"),
    "blanks without end": drawing("<path d='M0 0" + " " * 900_000 + "x'/>"),
    "a list without end": drawing("<polygon points='" + "1," * 450_000 + "'/>"),
    "brackets without end": drawing("<path d='M0 0h9' transform='" + "scale(" * 150_000 + "'/>"),
    "a style without end": drawing("<path d='M0 0h9' style='" + "a:b;" * 220_000 + "'/>"),
    "half a million circles": drawing("<circle r='5'/>" * 500_000),
    "half a million moves": drawing("<path d='M0 0'/>" * 500_000),
    "styles in each": drawing(("<g style='" + "a:b;" * 2400 + "'/>") * 1900),
}
SETTINGS: Mapping[str, Made] = {
    name: raw(f'jig = "sled"\nunits = "mm"\n[settings]\nboard = 90\nthickness = 12\n{settings}'.encode())
    for name, settings in {
        "words for a length": 'finger = "x"\ncutter = 10',
        "yes for a length": "finger = true\ncutter = 10",
        "a section for a length": "cutter = 10\n[settings.finger]\nfinger = 10",
        "half a count": "finger = 10\ncutter = 10\nfingers = 4.5",
        "a number for a word": "finger = 10\ncutter = 10\nmachine = 3",
        "a list for a word": "finger = 10\ncutter = 10\nmachine = []",
        "a number for yes": "finger = 10\ncutter = 10\nwhole = 1",
        "not a number": "finger = nan\ncutter = 10",
        "without end": "finger = 1e999\ncutter = 10",
        "400 figures": f"finger = {'1' * 400}\ncutter = 10",
        "5000 figures": f"finger = {'1' * 5000}\ncutter = 10",
        "a key too many": "finger = 10\ncutter = 10\ncuter = 10",
        "a key too few": "finger = 10",
        "settings twice": "finger = 10\ncutter = 10\n[settings]",
        "defaults that are none": "finger = 10\ncutter = 10\n[[defaults]]\nproud = 0.3",
        "a thousand keys": "\n".join(f"key{number} = {number}" for number in range(1000)),
        "dots": ".".join("a" * 5000) + " = 1",
    }.items()
} | {
    "no jig": raw(b"[settings]"),
    "a jig that is a list": raw(b"jig = []"),
    "a jig there is not": raw(b'jig = "slad"'),
    "a jig that is a path": raw(b'jig = "../../etc/passwd"'),
    "units there are not": raw(b'jig = "sled"\nunits = ["mm"]'),
    "settings that are a number": raw(b'jig = "sled"\nsettings = 3'),
    "deep lists": raw(b"[" * 100_000),
    "deep values": raw(b"jig = " + b"[" * 1900),
    "no text": raw(b"\xff"),
    "nothing": raw(b""),
}
"""What damaged sheets of a jig carry for its settings."""
