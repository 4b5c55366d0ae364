"""One drawing over several pages: whole again when its pages are cut along their seams and butted."""

from __future__ import annotations

import io
import math
from typing import Any

import numpy as np
import pypdfium2
import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from jigs.base.cards import Template
from jigs.base.catalogue import find
from jigs.base.drawing import Bounds, Circle, Dimension, Kind, Label, Line, Part, Point, View, line, lines, rectangle
from jigs.base.lengths import Units
from jigs.record import replace
from layout.pages import template, tile
from layout.pages.block import Block
from layout.pages.voice import Voice
from layout.sheet.marks import Bundle, Group, Layer, Sheet
from layout.sheet.paper import Paper
from layout.write import pdf
from tests.conftest import sled_sheets
from tests.legibility import faults
from tests.outside import Check
from tests.soundness import UNITS

PIXELS = Check("Written files", "pixels at 600 dpi: pdfium, poppler, cairo, Chromium", "reference library")

DPI = 300
MM = 72 / 25.4


def panel() -> View:
    """1200 by 800 with everything a drawing may have: long dashes, circles, arrows, words."""
    outline = Part(
        "panel",
        "Panel",
        (
            Line(rectangle(0, 0, 1200, 800)),
            Line(line((-10, 400), (1210, 400)), Kind.CENTRE),
            Line(line((0, 0), (1200, 800)), Kind.HIDDEN),
            *lines([Circle(Point(x, y), 90) for x in (200, 600, 1000) for y in (200, 600)]),
        ),
        arrows=((Point(300, 700), Point(900, 700)),),
    )
    size = Dimension(Point(0, 0), Point(1200, 0), "below", "panel")
    return View("panel", "Panel", (outline,), (size,), (Label("a label in the middle", Point(600, 330)),))


def stick() -> View:
    marks = tuple(Line(line((x, 0), (x, 20))) for x in range(0, 901, 30))
    part = Part("stop-stick", "Stop stick", (Line(rectangle(0, 0, 900, 20)), *marks))
    return View("stick", "Stop stick", (part,), (Dimension(Point(0, 0), Point(900, 0), "below", "stop"),))


def plate() -> View:
    given_settings = {"finger": 10.0, "cutter": 10.02, "board": 90.0, "thickness": 12.0, "whole": True}
    [view] = [t.view for t in find("sled").plan(given_settings).sheets.templates if t.view.name == "plate"]
    return view


def block_of(view: View, units: Units = "mm") -> Block:
    """Return a view as a template."""
    return template.piece(Template(view, "card", "", "jig"), Voice(units))


VIEWS = {"plate": plate, "stop stick": stick, "panel": panel}
ROOMS = {"A4": Bounds(0, 0, 174, 159.5), "Letter": Bounds(0, 0, 179.9, 141.9)}


def pieces_of(view: View, page: str) -> tuple[Block, list[Block]]:
    block = block_of(view)
    return block, tile.tiles(block, ROOMS[page], block.critical)


# -- how a length is shared ----------------------------------------------------------------------------------------

lengths = st.floats(100, 3000)
rooms = st.floats(80, 300)


@given(lengths, rooms, st.lists(st.tuples(st.floats(0, 2900), st.floats(1, 40)), max_size=20))
def test_windows_cover_everything_and_share_enough(size: float, room: float, words: list[tuple[float, float]]) -> None:
    made = tile.cuts(size, room, [(low, low + long) for low, long in words], None)
    if made is None:
        assert (size - tile.SHARED) / (room - tile.SHARED) > tile.MOST_PAGES - 1
        return
    assert made.window(0)[0] == 0
    assert made.window(len(made.starts) - 1)[1] == pytest.approx(size)
    for number, seam in enumerate(made.seams):
        (_, end), (start, _) = made.window(number), made.window(number + 1)
        assert end - start >= tile.SHARED - 1e-6
        assert start + 6 < seam < end - 6  # the marks for joining are whole on both pages
    # With o shared, n pages of room u cover n (u - o) + o: never fewer, and at most one more to spare words.
    fewest = max(1, math.ceil((size - tile.SHARED) / (room - tile.SHARED) - 1e-9))
    assert fewest <= len(made.starts) <= fewest + 1


@example(100.0, 80.0, 0.4478)  # the seam has to leave the middle of the strip
@given(lengths, rooms, st.floats(0, 0.9))
def test_what_is_kept_is_not_cut(size: float, room: float, share: float) -> None:
    kept = (share * size, min(size, share * size + 30))
    made = tile.cuts(size, room, [], kept)
    assert made is None or made.holds(*kept)


@pytest.mark.parametrize(("size", "room", "count"), [(360, 174, 3), (240.6, 174, 2), (100, 174, 1)])
def test_worked_counts(size: float, room: float, count: int) -> None:
    """ceil((W - o)/(u - o)): worked values."""
    made = tile.cuts(size, room, [], None)
    assert made is not None
    assert len(made.starts) == count


def test_no_room_is_named() -> None:
    with pytest.raises(ValueError, match="room 15: must be more than the 15 mm that pages share"):
        tile.cuts(100, 15, [], None)
    assert tile.cuts(10_000, 60, [], None) is None


# -- the picture put together again --------------------------------------------------------------------------------


def printed(groups: tuple[Group, ...], page: Paper) -> pypdfium2.PdfDocument:
    sheet = Sheet("s", "s", page, (Layer("template", "Template", groups),), 1, 1)
    return pypdfium2.PdfDocument(io.BytesIO(pdf.write(Bundle("b", "b", "b", "b", (sheet,)))))


def crop(document: pypdfium2.PdfDocument, page: Paper, box: Bounds) -> Any:
    cut = [box.left, box.bottom, page.width - box.right, page.height - box.top]
    picture = document[0].render(scale=DPI / 72, grayscale=True, crop=tuple(side * MM for side in cut)).to_numpy()
    return picture.reshape(picture.shape[:2]) < 128


def spread(dark: Any) -> Any:
    """Darken every pixel beside a dark one."""
    wide = dark.copy()
    for axis in (0, 1):
        for way in (1, -1):
            wide |= np.roll(wide, way, axis)
    return wide


def differing(drawn: Any, true: Any) -> int:
    """Count the dark pixels of either picture without one beside them in the other.

    The pictures begin at other fractions of a pixel, which may come to one pixel either way: the best way counts.
    """
    counts = []
    for across in (0, 1, -1):
        for up in (0, 1, -1):
            moved = np.roll(true, (up, across), (0, 1))[2:-2, 2:-2]
            inner = drawn[2:-2, 2:-2]
            counts.append(int((inner & ~spread(moved)).sum() + (moved & ~spread(inner)).sum()))
            if counts[-1] == 0:
                return 0
    return min(counts)


@pytest.mark.slow
@PIXELS.of()
@pytest.mark.parametrize("page", ROOMS)
@pytest.mark.parametrize("name", VIEWS)
def test_pieces_put_together_are_the_picture_to_a_pixel(name: str, page: str) -> None:
    """Only lines are compared: words may be moved off a seam, and the marks for joining are not in the picture."""
    block, pieces = pieces_of(VIEWS[name](), page)
    assert len(pieces) > 1
    whole = tuple(replace(group, texts=()) for group in (*block.parts, *block.writing))
    margin = 10.0
    large = Paper("large", block.width + 2 * margin, block.height + 2 * margin, Bounds(0, 0, 1, 1))
    reference = printed(tuple(g.moved(margin, large.height - margin) for g in whole), large)
    words = [text.box for group in (*block.parts, *block.writing) for text in group.texts]
    across, up = cuts_of(block, page, words)
    for number, piece in enumerate(pieces):
        row, column = divmod(number, len(across.starts))
        (left, right), (above, below) = across.piece(column), up.piece(row)
        small = Paper("small", piece.width + 2 * margin, piece.height + 2 * margin, Bounds(0, 0, 1, 1))
        shown = tuple(
            replace(g, texts=()).moved(margin, small.height - margin)
            for g in (*piece.parts, *piece.writing)
            if not g.name.endswith(("-joints", "-header"))
        )
        at = (margin - across.window(column)[0], small.height - margin - tile.HEADER + up.window(row)[0])
        # A little over each seam, and less the pixels at the rim, where the two pictures begin at other fractions.
        on_page = Bounds(left + at[0], at[1] - below, right + at[0], at[1] - above).grown(0.6)
        in_whole = Bounds(left + margin, large.height - margin - below, right + margin, large.height - margin - above)
        in_whole = in_whole.grown(0.6)
        drawn, true = crop(printed(shown, small), small, on_page), crop(reference, large, in_whole)
        high, wide = min(drawn.shape[0], true.shape[0]), min(drawn.shape[1], true.shape[1])
        drawn, true = drawn[4 : high - 4, 4 : wide - 4], true[4 : high - 4, 4 : wide - 4]
        # Two pixels of two million: the end of a slanted dash may be just black in one and just white in the other.
        assert differing(drawn, true) <= 2, (name, page, number)


def cuts_of(block: Block, page: str, words: list[Bounds]) -> tuple[tile.Cuts, tile.Cuts]:
    room, critical = ROOMS[page], block.critical
    kept = (critical.left, critical.right) if critical else None
    across = tile.cuts(block.width, room.width, [(b.left, b.right) for b in words], kept)
    kept = (-critical.top, -critical.bottom) if critical else None
    up = tile.cuts(block.height, room.height - tile.HEADER, [(-b.top, -b.bottom) for b in words], kept)
    assert across is not None
    assert up is not None
    return across, up


@pytest.mark.slow
@pytest.mark.parametrize("page", ROOMS)
@pytest.mark.parametrize("name", VIEWS)
def test_every_word_stands_whole_on_one_piece(name: str, page: str) -> None:
    block, pieces = pieces_of(VIEWS[name](), page)
    whole = sorted(t.words for g in (*block.parts, *block.writing) for t in g.texts)
    groups = [g for p in pieces for g in (*p.parts, *p.writing) if not g.name.endswith(("-joints", "-header"))]
    assert sorted(text.words for group in groups for text in group.texts) == whole


# -- on sheets -----------------------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize("page", ["A4", "Letter", "both", "300x250 mm"])
def test_the_whole_plate_over_several_pages(page: str) -> None:
    bundle = sled_sheets(page, whole=True)
    sheets = [sheet for sheet in bundle.sheets if any(g.name.endswith("plate-joints") for g in sheet.groups())]
    assert len(sheets) > 1
    for sheet in sheets:
        assert faults(sheet) == []
    # Cutter and key face each other on one of them.
    gaps = [sheet for sheet in sheets if any(t.words == "gap 9.92" for g in sheet.groups() for t in g.texts)]
    assert len(gaps) == 1


@pytest.mark.slow
def test_a_stick_longer_than_any_page_goes_over_several() -> None:
    bundle = sled_sheets("A4", board=900.0)
    sheets = [s for s in bundle.sheets if any("-stick-" in g.name and g.name.endswith("-joints") for g in s.groups())]
    assert len(sheets) > 3
    for sheet in sheets:
        assert faults(sheet) == []


@pytest.mark.slow
@pytest.mark.parametrize("page", ["330x440 mm", "A2"])
def test_a_page_that_holds_the_plate_is_not_cut(page: str) -> None:
    bundle = sled_sheets(page, whole=True)
    assert not [g for sheet in bundle.sheets for g in sheet.groups() if g.name.endswith("-joints")]


@pytest.mark.parametrize(("long", "pieces"), [(10_000, 63), (20_000, 0)])
def test_ten_metres_are_many_pages_and_twenty_too_many(long: float, pieces: int) -> None:
    part = Part("long", "Long", (Line(rectangle(0, 0, long, 20)),))
    block = block_of(View("long", "Long", (part,)))
    made = tile.tiles(block, ROOMS["A4"], None)
    assert len(made) == pieces
    letters = {text.words for piece in made for g in piece.writing if g.name == "jig-long-joints" for text in g.texts}
    assert letters == (
        {*map(chr, range(65, 91)), *("A" + c for c in map(chr, range(65, 91)))}
        | {*("B" + c for c in map(chr, range(65, 75)))}
        if made
        else set()
    )


def test_a_line_on_the_rim_is_drawn_to_its_full_width() -> None:
    """Half of the widest pen, 0.7 mm, lies beyond the outline: what a page shows goes on further."""
    _, pieces = pieces_of(panel(), "A4")
    outermost = [group.clip for group in pieces[0].parts if group.clip]
    assert outermost
    assert all(clip.left <= -0.35 and clip.top >= -tile.HEADER + 0.35 for clip in outermost)


def test_no_piece_is_narrower_than_the_words_beside_a_dimension() -> None:
    stick = View("stick", "Stick", (Part("stick", "Stick", (Line(rectangle(0, 0, 1800, 12)),)),))
    block = block_of(stick)
    assert tile.tiles(block, Bounds(0, 0, 89.9, 120), None) == []
    assert tile.tiles(block, Bounds(0, 0, 90, 120), None)


@pytest.mark.slow
@given(
    size=st.tuples(st.floats(30, 1500), st.floats(30, 1000)),
    room=st.tuples(st.floats(90, 300), st.floats(90, 300)),
    whole=st.booleans(),
    units=st.sampled_from(UNITS),
)
@example(size=(951.1565051304589, 829.3213477938308), room=(146.83019335612943, 250.0), whole=False, units="mm")
@example(size=(510.77, 519.65), room=(132.0, 167.0), whole=True, units="mm")  # a map of 5 columns on a narrow piece
def test_a_header_ends_above_the_drawing(
    size: tuple[float, float], room: tuple[float, float], whole: bool, units: Units
) -> None:
    board = View("board", "Board", (Part("board", "Board", (Line(rectangle(0, 0, *size)),)),))
    block = block_of(board, units)
    for piece in tile.tiles(block, Bounds(0, 0, *room), Bounds(0, 0, block.width, 1) if whole else None, units):
        header = next(group for group in piece.writing if group.name.endswith("-header"))
        name, *words = [text.box for text in header.texts]
        assert min(box.bottom for box in words) > -tile.HEADER + 1.25  # a line on the rim, half of it, a printer's gap
        for square in (stroke.shape.bounds for stroke in header.strokes):
            assert name.right < square.left
            assert square.bottom > -tile.HEADER
            assert not any(box.right > square.left and box.top > square.bottom for box in words)


def test_the_map_of_many_pieces_keeps_off_their_name() -> None:
    stick = View("stick", "Stick", (Part("stick", "Stick", (Line(rectangle(0, 0, 1800, 12)),)),))
    pieces = tile.tiles(block_of(stick), Bounds(0, 0, 92, 120), None)
    assert len(pieces) >= 13
    for piece in pieces:
        header = next(group for group in piece.writing if group.name.endswith("-header"))
        squares = min(stroke.shape.bounds.left for stroke in header.strokes)
        assert header.texts[0].box.right < squares
