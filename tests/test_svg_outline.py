"""Outlines out of an SVG file: held against svgelements, which reads the same files, and against areas that are known.

svgelements is from somebody else, reads a drawing as a browser does, and knows nothing of this program.
"""

from __future__ import annotations

import io
import math
import re
import socket
from pathlib import Path as File

import pytest
import shapely
from click.testing import CliRunner
from hypothesis import given, settings
from hypothesis import strategies as st
from svgelements import SVG, Matrix, Move, Shape
from svgelements import Path as SvgPath

import cli
from jigs.base import drawing, outline
from jigs.base.errors import CannotRead, JigleafError
from jigs.boxfile import sections
from jigs.parts.pattern import part as pattern_part
from layout.carry import svg_outline
from tests import corpus
from tests.outside import Check, agree

READER = Check(
    "Written files", "svgelements reads the same drawings, shapely measures how far apart", "reference library"
)
AREAS = Check(
    "Written files", "areas of circles, ellipses and rectangles, measured by shapely", "independent derivation"
)

LEAF = File(__file__).parent / "patterns" / "leaf.svg"
WIDTH = 100.0
"""What drawings are scaled to, mm."""


def svg(inner: str, head: str = "") -> bytes:
    return f'<svg xmlns="http://www.w3.org/2000/svg" {head}>{inner}</svg>'.encode()


def ours(content: bytes) -> list[drawing.Path]:
    """Return the paths that a box has of a drawing, `WIDTH` wide."""
    return list(pattern_part.lines_of(svg_outline.read(content, "d.svg").outline, WIDTH))


def theirs(content: bytes) -> list[list[tuple[float, float]]]:
    """Return the lines that svgelements finds, as points close together, scaled alike: y up, from their middle.

    Transforms are done to the points: a skewed ellipse comes out of its `reify` as another one (in 1.9.6).
    """
    found: list[list[tuple[float, float]]] = []
    for element in SVG.parse(io.BytesIO(content), reify=False).elements():
        if not isinstance(element, Shape):
            continue
        matrix = element.transform
        for segment in SvgPath(element).segments(transformed=False):
            if not isinstance(segment, Move) and segment.start is not None and segment.end is not None:
                at = [matrix.point_in_matrix_space(segment.point(i / 400)) for i in range(401)]
                found.append([(float(p.x), -float(p.y)) for p in at])
    every = [point for line in found for point in line]
    left, right = min(x for x, _ in every), max(x for x, _ in every)
    low, high = min(y for _, y in every), max(y for _, y in every)
    by = WIDTH / (right - left)
    return [[((x - (left + right) / 2) * by, (y - (low + high) / 2) * by) for x, y in line] for line in found]


def apart(content: bytes) -> float:
    """Return how far the lines of the two readers are apart at most, mm."""
    one = shapely.MultiLineString([path.points(0.0005) for path in ours(content)])
    other = shapely.MultiLineString([line for line in theirs(content) if len(set(line)) > 1])
    # Each against the other, so that neither has a line that the other lacks.
    there = max(other.distance(shapely.Point(p)) for line in one.geoms for p in line.coords)
    back = max(one.distance(shapely.Point(p)) for line in other.geoms for p in list(line.coords)[::20])
    return max(there, back)


# -- against another reader ----------------------------------------------------------------------------------------

PATHS = {
    "lines": "M10 10L90 20l5 30H20v-5h-3V12z",
    "cubics": "M10 80C40 10 65 10 95 80S150 150 180 80s20-40 40 0",
    "quadratics": "M10 80Q52.5 10 95 80T180 80t30 5q-9 30-50 40",
    "arcs": "M80 80A45 45 0 0 0 125 125L125 80zM230 80a45 45 0 1 0 45 45L275 80z",
    "arcs of ellipses": "M10 315L110 215A30 50 0 0 1 162.55 162.45L172.55 152.45A30 50 -45 0 1 215.1 109.9L315 10",
    "arcs with radii too small": "M0 0a3 5 20 1 1 40 12a1 1 0 0 0 20 20",
    "flags without blanks": "M10 10a5 5 0 1110 10a5 5 0 01-3 9",
    "numbers without blanks": "M.5.5-10-10 3e1-.2-5 9",
    "goes on after a close": "M0 0h10v10zl-5 8m3 3l2 9",
    "a line to itself": "M0 0L0 0L10 5L10 5L3 9",
    "a smooth curve after none": "M0 0S10 20 30 5M0 5T10 20 30 5",
}


@READER.of()
@pytest.mark.parametrize("data", PATHS.values(), ids=PATHS.keys())
def test_path_data_is_read_as_another_reads_it(data: str) -> None:
    agree(apart(svg(f'<path d="{data}"/>')), 0, 0.006, unit="mm")


def test_a_smooth_curve_goes_on_from_one_of_its_own_degree_alone() -> None:
    """SVG 1.1, 8.3.6 and 8.3.7; svgelements 1.9.6 takes either degree. After another T is straight, S has no pull."""
    after_cubic = svg_outline.read(svg('<path d="M0 0C0 10 5 50 10 50T40 50"/>'), "d").outline
    assert after_cubic.endswith("C20000 100000 40000 100000 80000 100000")  # all on one line
    after_quadratic = svg_outline.read(svg('<path d="M0 0Q0 50 10 50S40 60 100 50"/>'), "d").outline
    start, pull = re.findall(r"(\d+ \d+) C(\d+ \d+)", after_quadratic)[-1]
    assert start == pull


SHAPES = {
    "line": '<line x1="5" y1="3" x2="40" y2="28"/>',
    "polyline": '<polyline points="0,0 10,5 20,-3, 30 8"/>',
    "polygon": '<polygon points="0 0 40 0 20 30"/>',
    "rect": '<rect x="3" y="4" width="50" height="20"/>',
    "rect rounded": '<rect x="3" y="4" width="50" height="20" rx="6" ry="4"/>',
    "rect rounded once": '<rect x="3" y="4" width="50" height="20" ry="4"/>',
    "circle": '<circle cx="10" cy="-5" r="9"/>',
    "ellipse": '<ellipse cx="10" cy="-5" rx="9" ry="3"/>',
    "in millimetres": '<line x1="5mm" y1="3mm" x2="1in" y2="28"/>',
}
TRANSFORMS = {
    "none": "",
    "translate": "translate(12,-7)",
    "translate once": "translate(12)",
    "scale": "scale(2)",
    "stretch": "scale(2 .5)",
    "mirror": "scale(-1 1)",
    "rotate": "rotate(30)",
    "rotate about": "rotate(-115 8 9)",
    "skew": "skewX(20) skewY(-10)",
    "matrix": "matrix(.8 .3 -.4 1.1 5 6)",
    "several": "translate(3 4),rotate(15)scale(1.5 -1.5)",
}


@READER.of()
@pytest.mark.parametrize("transform", TRANSFORMS.values(), ids=TRANSFORMS.keys())
@pytest.mark.parametrize("shape", SHAPES.values(), ids=SHAPES.keys())
def test_shapes_under_transforms_are_read_as_another_reads_them(shape: str, transform: str) -> None:
    both = f'<g transform="{transform}">{shape}<g transform="rotate(40) translate(9 2)"><path d="M0 0h60v9z"/></g></g>'
    agree(apart(svg(both)), 0, 0.006, unit="mm")


@READER.of()
def test_the_leaf_is_read_as_another_reads_it() -> None:
    agree(apart(LEAF.read_bytes()), 0, 0.006, unit="mm")


SIZE = st.floats(-60, 60).map(lambda value: round(value, 3))
LONG = st.floats(1, 60).map(lambda value: round(value, 3))
PLACE = st.tuples(SIZE, SIZE).map(lambda pair: f"{pair[0]} {pair[1]}")
COMMANDS = st.one_of(
    st.tuples(st.sampled_from("LlMm"), PLACE),
    st.tuples(st.sampled_from("HhVv"), SIZE.map(str)),
    st.tuples(st.sampled_from("Qq"), PLACE, st.just(" "), PLACE),
    st.tuples(st.sampled_from("Qq"), PLACE, st.just(" "), PLACE, st.sampled_from("Tt"), PLACE),
    st.tuples(st.sampled_from("Cc"), st.tuples(PLACE, PLACE, PLACE).map(" ".join)),
    st.tuples(st.just("c0 0 "), PLACE, st.just(" "), PLACE, st.sampled_from("Ss"), PLACE, st.just(" "), PLACE),
    st.tuples(
        st.sampled_from("Aa"),
        st.builds(
            lambda rx, ry, turn, large, sweep, end: f"{rx} {ry} {turn} {large} {sweep} {end}",
            LONG, LONG, SIZE, st.integers(0, 1), st.integers(0, 1), PLACE,
        ),
    ),
    st.just(("z", "")),
).map("".join)  # fmt: skip
MATRICES = st.builds(
    lambda turn, wide, high, skew: f"rotate({turn}) scale({wide} {high}) skewX({skew})",
    SIZE, st.floats(0.5, 3), st.floats(0.5, 3), st.floats(-50, 50).map(lambda value: round(value, 2)),
)  # fmt: skip


@pytest.mark.slow
@READER.of()
@settings(max_examples=60, deadline=None)
@given(st.lists(COMMANDS, min_size=1, max_size=8), MATRICES)
def test_any_path_is_read_as_another_reads_it(commands: list[str], transform: str) -> None:
    content = svg(f'<path transform="{transform}" d="M1 2L30 5 {" ".join(commands)}"/>')
    agree(apart(content), 0, 0.006 * max(1.0, _higher(content)), unit="mm")


def _higher(content: bytes) -> float:
    """By how much a drawing is higher than wide: whole numbers are of its longer side."""
    box = drawing.around(path.bounds for path in ours(content))
    return box.height / box.width


# -- areas ---------------------------------------------------------------------------------------------------------


@AREAS.of()
@pytest.mark.parametrize(
    ("shape", "wide", "area"),
    [
        ('<circle cx="7" cy="3" r="5"/>', 10, math.pi * 25),
        ('<ellipse rx="9" ry="3"/>', 18, math.pi * 27),
        ('<rect width="50" height="20"/>', 50, 1000),
        ('<rect width="50" height="20" rx="6" ry="4"/>', 50, 1000 - (4 - math.pi) * 24),
        ('<polygon points="0 0 40 0 20 30"/>', 40, 600),
        ('<path d="M0 0Q20 40 40 0Z"/>', 40, 2 / 3 * 40 * 20),  # Archimedes: two thirds of width by rise
        ('<g transform="scale(3 1)"><circle r="5"/></g>', 30, math.pi * 75),
    ],
)
def test_areas_are_those_of_the_shapes(shape: str, wide: float, area: float) -> None:
    """To what chords of 0.0005 mm leave of an area 100 mm wide: less than 0.01 %."""
    [path] = ours(svg(shape))
    assert path.closed
    found = shapely.Polygon(path.points(0.0005)).area * (wide / WIDTH) ** 2
    agree(found / area, 1, 1e-4, unit="")


def test_circles_stay_true_arcs_and_stretched_ones_are_none() -> None:
    [circle] = ours(svg('<circle r="5" transform="rotate(20) scale(-3 3)"/>'))
    assert [type(step) for step in circle.steps] == [drawing.ArcTo] * 4
    assert [step.radius for step in circle.steps if isinstance(step, drawing.ArcTo)] == pytest.approx(
        [50] * 4, abs=1e-3
    )
    text = svg_outline.read(svg('<circle r="5" transform="scale(3 1)"/>'), "d").outline
    assert "A" not in text
    assert text.count("C") == 12  # of 30 degrees each


# -- what is left out ----------------------------------------------------------------------------------------------


def test_what_is_no_outline_is_named_and_left_out() -> None:
    found = svg_outline.read(
        svg(
            '<defs><linearGradient id="g"/><path id="p" d="M0 0h9"/></defs><text>a</text><text>b<tspan>c</tspan></text>'
            '<image href="x.png"/><use href="#p"/><use href="#p"/><style>path{display:none}</style><script>x()</script>'
            '<clipPath id="c"><circle r="5"/></clipPath><path d="M0 0h9v9"><animate attributeName="d"/></path>'
            '<rect width="10%" height="3"/><path style="fill:none;stroke:none" d="M0 0h90"/>'
            '<g display="none"><path d="M0 0h900"/></g><svg><path d="M0 0h900"/></svg><foreignObject/>'
        ),
        "d.svg",
    )
    assert found.left_out == (
        "1 gradient, 2 texts, 1 image, 2 linked copies, 1 style sheet, 1 script, 1 clip, 1 animation, "
        "1 shape sized by its window, 2 hidden shapes, 1 inner drawing, 1 foreign object"
    )
    assert found.outline == "M0 0 L100000 0 L100000 100000"


@pytest.mark.parametrize(
    ("content", "said"),
    [
        (svg("<text>leaf</text>"), "d.svg has no outline to carve; left out: 1 text. In your drawing program, turn"),
        (svg(""), "d.svg has no outline to carve. In your drawing program, turn objects into paths"),
        (svg('<line y2="9"/>'), "d.svg: the outline has no width: it is one upright line"),
        (b"", "d.svg is empty"),
        (b"<html/>", "d.svg can't be read as an SVG: it begins with <html>, not with <svg>"),
        (svg('<path d="L9 9"/>'), "its path data can't be read at 'L9 9'"),
        (svg('<path d="M0 0 9"/>'), "its path data can't be read at ''"),
        (svg('<path d="M0 0L9 nan"/>'), "its path data can't be read at 'nan'"),
        (svg('<path d="M0 0L9 1e308"/>'), "it has the number 1e308, which is far too large"),
        (svg('<circle r="inf"/>'), "its size 'inf' can't be read"),
        (svg('<circle r="1e99"/>'), "it has the size 1e99, which is far too large"),
        (svg('<circle r="9" transform="twist(3)"/>'), "its transform twist can't be read"),
        (svg('<circle r="9" transform="scale(1 2 3)"/>'), "its transform scale can't be read"),
        (svg('<path d="M0 0' + "h1v1" * 501 + '"/>'), "more than 1000 lines, curves and arcs; draw a plainer pattern"),
    ],
)
def test_what_can_not_be_carved_is_refused(content: bytes, said: str) -> None:
    with pytest.raises(CannotRead, match=re.escape(said)):
        svg_outline.read(content, "d.svg")


# -- as text -------------------------------------------------------------------------------------------------------


@settings(max_examples=60, deadline=None)
@given(st.lists(COMMANDS, min_size=1, max_size=8))
def test_an_outline_is_read_back_as_it_was_written(commands: list[str]) -> None:
    text = svg_outline.read(svg(f'<path d="M1 2L30 5 {" ".join(commands)}"/>'), "d.svg").outline
    strokes = outline.read(text)
    again = outline.written(strokes)
    one, other = outline.bounds(strokes), outline.bounds(outline.read(again))
    assert max(abs(a - b) for a, b in zip(one, other, strict=True)) <= 20  # of 100 000: rounded once more
    assert outline.read(" ".join(outline.in_lines(text).split())) == strokes
    assert max(map(len, outline.in_lines(text).split("\n"))) <= 120


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("leaf.svg", "can't be read at 'leaf.svg'"),
        ("M0 0 l9 9", "can't be read at 'l9 9'"),
        ("L9 9", "has L where M should begin a line"),
        ("M0 0 L9", "has 1 numbers behind L, which takes 2"),
        ("M0 0 L9 9 9", "can't be read at '9'"),
        ("M0 0 A9 8 0 0 0 9 9", "has an arc that is of no circle"),
        ("M0 0 L0 0", "has no line to carve"),
        ("M0 0 L0 9", "has no width"),
        ("M0 0 L99999999999 9", "can't be read at '99999999999'"),
        ("M0 0 " + "L9 9 L0 0 " * 501, "has more than 1000 lines, curves and arcs"),
        ("M" * 40_001, "has 40001 characters, where an outline may have 40000"),
    ],
)
def test_what_is_no_outline_is_refused(text: str, said: str) -> None:
    with pytest.raises(ValueError, match=re.escape(said)):
        outline.read(text)
    kind = sections.PatternSection.__dataclass_fields__["outline"]
    assert kind.name == "outline"


# -- from anywhere -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("made", [pytest.param(made, id=ascii(name)) for name, made in corpus.DRAWINGS.items()])
def test_a_drawing_made_to_harm_is_refused(made: corpus.Made, tmp_path: File, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    File("d.svg").write_bytes(made())
    File("box.toml").write_text(corpus.LEAST)
    result = CliRunner().invoke(cli.main, ["pattern", "d.svg", "--width", "60", "--box", "box.toml"])
    assert isinstance(result.exception, SystemExit), result.exception
    assert (result.exit_code, result.stdout) == (2, "")
    assert result.stderr.startswith("d.svg")
    assert all(letter.isprintable() or letter == "\n" for letter in result.stderr)
    assert len(result.stderr) < 2000
    assert {path.name for path in tmp_path.iterdir()} == {"d.svg", "box.toml"}
    assert File("box.toml").read_text() == corpus.LEAST


def test_nothing_is_fetched_and_no_file_is_opened(monkeypatch: pytest.MonkeyPatch) -> None:
    """Links, style sheets, entities, pictures and scripts stay words: the reader asks for no more than its bytes."""

    def never(*asked: object, **more: object) -> None:
        raise AssertionError(f"asked for {asked}")

    monkeypatch.setattr("builtins.open", never)
    monkeypatch.setattr(io, "open", never)
    monkeypatch.setattr(socket, "socket", never)
    links = (
        '<?xml-stylesheet href="http://example.org/a.css"?><!DOCTYPE svg SYSTEM "file:///etc/passwd"><svg '
        'xmlns="http://www.w3.org/2000/svg" xmlns:x="http://www.w3.org/1999/xlink" onload="alert(1)">'
        '<style>@import url(http://example.org/b.css);</style><image x:href="file:///etc/passwd"/>'
        '<use x:href="http://example.org/c.svg#a"/><path style="fill:url(file:///etc/passwd)" d="M0 0h9"/>'
        "<script>fetch('http://example.org')</script></svg>"
    )
    found = svg_outline.read(links.encode(), "d.svg")
    assert found.outline == "M0 0 L100000 0"
    assert found.left_out == "1 style sheet, 1 image, 1 linked copy, 1 script"


TOKENS = [
    *(b"M", b"z", b"a", b"1e308", b"-1e-308", b"nan", b"inf", b"9" * 50, b"transform='scale(0)'", b"rotate(1e9)"),
    *(b"<g>", b"</g>", b"/>", b"<svg>", b"<use href='#upper'/>", b"&amp;", b"&x;", b"\0", b"\xff", b"<!--", b"]]>"),
    *(b"<path d='", b"'/>", b"rx='1e7'", b"matrix(0 0 0 0 0 0)", b"matrix(1e7 1e7 1e7 1e7 1e7 1e7)", b"skewX(90)"),
    *(b"A0 0 0 0 0 9 9", b"a1e7 1e-7 5 1 1 1e-7 0", b"%", b"<!DOCTYPE s [<!ENTITY a 'b'>]>", b"style='display:none'"),
]


@pytest.mark.slow
@settings(max_examples=3000, deadline=None)
@given(st.lists(st.tuples(st.integers(0, 5000), st.integers(0, 12), st.sampled_from(TOKENS) | st.binary(max_size=6)),
                min_size=1, max_size=5))  # fmt: skip
def test_any_bytes_are_a_drawing_or_are_refused(hurts: list[tuple[int, int, bytes]]) -> None:
    content = LEAF.read_bytes()
    for at, gone, put in hurts:
        at %= len(content)  # noqa: PLW2901 - a place in what is left
        content = content[:at] + put + content[at + gone :]
    try:
        found = svg_outline.read(content, "d.svg")
    except JigleafError as error:
        assert (type(error), str(error).isprintable(), len(str(error)) < 1000) == (CannotRead, True, True)  # noqa: PT017 - it is read or refused
    else:
        assert pattern_part.lines_of(found.outline, 60.0)
        assert len(found.outline) <= outline.MOST_LETTERS


def test_svgelements_agrees_on_what_a_matrix_is() -> None:
    """The order of transforms, by the reader that is compared with: the last one is done first."""
    made = svg_outline.transform("translate(3 4) rotate(90) scale(2)")
    known = Matrix("translate(3,4) rotate(90deg) scale(2)")
    assert (made.a, made.b, made.c, made.d, made.e, made.f) == pytest.approx(
        (known.a, known.b, known.c, known.d, known.e, known.f)
    )
