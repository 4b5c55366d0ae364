"""The box in its woods: colours that can be told from their lines, each on the faces that are of that wood."""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterator, Sequence
from itertools import combinations, pairwise
from pathlib import Path
from typing import Any

import numpy as np
import pypdfium2
import pytest
import shapely
from click.testing import CliRunner
from lxml import etree
from numpy.typing import NDArray

import cli
from jigs.base.drawing import Colour
from jigs.base.errors import CannotBuild
from jigs.box import isometric, woods
from jigs.box import sheets as box_sheets
from jigs.box.chain import Box, work_out
from jigs.boxfile import jig_file, reading
from jigs.boxfile.jig_file import JigSettings
from jigs.parts.wood import colours
from jigs.parts.wood.colours import COLOURS, PLAIN, colour_of
from jigs.record import replace
from jigs.trade import timber
from layout import make
from layout.sheet import marks
from layout.sheet.hand import Hand
from layout.sheet.marks import Sheet
from layout.write import pdf, png, svg
from tests.boxes import SAMPLES, WHOLE_METRIC
from tests.legibility import faults
from tests.outside import Check, compared
from tests.test_isometric import Rays, built

CONTRAST = Check(
    "Lengths, paper, letters",
    "contrast ratio of WCAG 2.1 (definition of relative luminance; SC 1.4.11: 3 : 1), worked out here",
    "standard",
)
KERNEL = Check(
    "The whole box",
    "solids put together by manifold3d from the numbers of `check --json`, and looked at at a slant",
    "reference library",
)
MIXED = re.sub(r"\[shell\].*?(?=\[stock\])", "", WHOLE_METRIC, flags=re.DOTALL)
"""Cherry throughout, and no shell, so that every place of a face is plain; other woods are set."""
OTHERS = {"sides.species": "sugar maple", "sides.ends_species": "black walnut", "lid.species": "white oak"}
OPEN = re.sub(r"\[lid\].*?(?=\[stock\])", "", MIXED, flags=re.DOTALL)
"""The same without lid and handle."""
Array = NDArray[Any]


def mixed(**changes: str) -> Any:
    return make.box(MIXED, "mixed.toml", OTHERS | {"bottom.species": "black cherry"} | changes)


def tray() -> Any:
    """An open box of three woods, deeper than it is long."""
    sizes = {"box.length": "130", "box.width": "160", "box.height": "60", "bottom.species": "black cherry"}
    return make.box(OPEN, "tray.toml", {"sides.species": "maple, sugar", "sides.ends_species": "walnut"} | sizes)


# -- the table of colours ------------------------------------------------------------------------------------------


@pytest.mark.parametrize("row", timber.all_species(), ids=lambda row: row.listed)
def test_every_wood_has_a_colour_of_its_own_or_of_its_family(row: timber.Species) -> None:
    expected = COLOURS[row.listed] if row.listed in COLOURS else COLOURS[colours.family(row.listed)]
    assert colour_of(row.name) == colour_of(row.listed) == expected


def test_every_colour_is_that_of_some_wood() -> None:
    known = {row.listed for row in timber.all_species()} | {colours.family(row.listed) for row in timber.all_species()}
    assert set(COLOURS) <= known
    assert all(0 <= part <= 255 for colour in COLOURS.values() for part in colour)


@pytest.mark.parametrize("name", [None, "plywood", "birch plywood", "zebrawood", "soft maple"])
def test_what_is_no_one_wood_of_the_table_is_plain(name: str | None) -> None:
    """Soft maple stands with several rows."""
    assert colour_of(name) == PLAIN


def test_a_family_that_looks_otherwise_has_its_own() -> None:
    assert colour_of("cedar, western red") != colour_of("incense cedar")
    assert colour_of("water oak") == colour_of("red oak") != colour_of("white oak")


def luminance(colour: Sequence[int]) -> float:
    """Return the relative luminance of WCAG 2.1 of a colour in sRGB."""
    parts = [part / 255 for part in colour]
    linear = [part / 12.92 if part <= 0.03928 else ((part + 0.055) / 1.055) ** 2.4 for part in parts]
    return float(np.dot(linear, (0.2126, 0.7152, 0.0722)))


def contrast(one: Sequence[int], other: Sequence[int]) -> float:
    """Return the contrast ratio of WCAG 2.1: (lighter + 0.05) : (darker + 0.05)."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


BLACK = (0, 0, 0)
ENOUGH = 3.0
"""Of what must be made out and is no text: WCAG 2.1, SC 1.4.11."""
EVERY = {**COLOURS, "plain": PLAIN}


def test_the_formula_of_contrast_gives_its_known_values() -> None:
    """Black on white is 21 by definition; #767676 is the lightest grey that has 4.5 on white, as is often quoted."""
    assert contrast(BLACK, (255, 255, 255)) == pytest.approx(21.0)
    assert contrast((0x77,) * 3, (255,) * 3) < 4.5 < contrast((0x76,) * 3, (255,) * 3)


@CONTRAST.of()
@pytest.mark.parametrize("name", EVERY)
def test_lines_and_strokes_can_be_made_out_on_every_face(name: str) -> None:
    colour = EVERY[name]
    faces = [colour.times(share) for share in woods.LIGHT]
    ends = [colour.times(share * woods.END_GRAIN) for share in woods.LIGHT]
    carved = [colour.times(share) for share in (woods.LIT, woods.SHADED, woods.GROUND)]
    assert min(contrast(BLACK, ground) for ground in (*faces, *ends, *carved)) >= ENOUGH
    assert min(contrast(colour.times(woods.GRAIN), ground) for ground in faces) >= ENOUGH
    assert min(contrast(colour.times(woods.DARK), ground) for ground in (*ends, *carved)) >= ENOUGH
    compared(2 * len(faces) + 2 * len(ends) + 2 * len(carved))


def lab(colour: Sequence[int]) -> Array:
    """Return a colour of sRGB (IEC 61966-2-1) in CIELAB of 1976, white D65."""
    parts = np.array(colour) / 255
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    matrix = np.array([(0.4124, 0.3576, 0.1805), (0.2126, 0.7152, 0.0722), (0.0193, 0.1192, 0.9505)])
    ratio = matrix @ linear / (0.9505, 1.0, 1.089)
    x, y, z = np.where(ratio > (6 / 29) ** 3, np.cbrt(ratio), ratio / (3 * (6 / 29) ** 2) + 4 / 29)
    return np.array([116 * y - 16, 500 * (x - y), 200 * (y - z)])


@pytest.mark.parametrize(("one", "other"), list(combinations(timber.COMMON, 2)))
def test_common_woods_can_be_told_apart(one: str, other: str) -> None:
    """A difference of 2.3 is just seen side by side (Mahy and others 1994, from memory); twice that is asked for."""
    assert math.dist(lab(colour_of(one)), lab(colour_of(other))) > 4.6


# -- reading the picture -------------------------------------------------------------------------------------------


class Fills:
    """The areas in colour of an SVG file, the last one on top."""

    def __init__(self, document: bytes) -> None:
        root: Any = etree.fromstring(document)
        self.root = root
        paths = root.xpath("//*[local-name()='path'][starts-with(@fill, '#')]")
        self.areas = [(path.get("fill"), _area(path.get("d"))) for path in paths]
        assert self.areas

    @property
    def bounds(self) -> tuple[float, float, float, float]:
        """What all of them fill, mm, y down."""
        left, bottom, right, top = shapely.unary_union([area for _, area in self.areas]).bounds
        return left, bottom, right, top

    def at(self, x: float, y: float) -> str | None:
        """Return the colour of a place of the page."""
        place = shapely.Point(x, y)
        return next((colour for colour, area in reversed(self.areas) if area.contains(place)), None)

    @property
    def words(self) -> str:
        """All that is written, a line each."""
        return "\n".join(self.root.xpath("//*[local-name()='text']/text()"))


def _area(data: str) -> Any:
    """Return the area of a path of straight lines: its rings by the nonzero rule, holes turning the other way."""
    area: Any = shapely.Polygon()
    for ring in data.split("Z")[:-1]:
        numbers = [tuple(map(float, pair.split(" "))) for pair in re.split("[ML]", ring)[1:]]
        turned = shapely.Polygon(numbers).buffer(0)  # to four decimals a corner may come to lie on a side
        area = area.union(turned) if not shapely.LinearRing(numbers).is_ccw else area.difference(turned)  # y is down
    return area


class Placed(Fills):
    """The picture of a box, at whose places of the box one may look."""

    def __init__(self, document: bytes, box: Box, lift: float) -> None:
        super().__init__(document)
        corners = np.concatenate([solid.to_mesh().vert_properties[:, :3] for solid in built(box, lift)]).astype(float)
        flat = np.array([isometric.projected(isometric.Place(*corner)) for corner in corners])
        low, high = flat.min(axis=0), flat.max(axis=0)
        left, top, right, bottom = self.bounds
        self.scale = (right - left) / (high[0] - low[0])
        assert (bottom - top) / (high[1] - low[1]) == pytest.approx(self.scale, rel=2e-3)
        self.left, self.bottom, self.low = left, bottom, low

    def seen(self, flat: Array) -> str | None:
        """Return the colour at a place of the picture at full size."""
        x, y = (flat - self.low) * self.scale
        return self.at(self.left + x, self.bottom - y)

    def on(self, *place: float) -> str | None:
        """Return the colour at a place of the box."""
        return self.seen(np.array(isometric.projected(isometric.Place(*place))))


def tone(wood: str | None, facing: int, *, ends: bool = False) -> str:
    """Return the colour of a face of a wood that looks along an axis."""
    return colour_of(wood).times(woods.LIGHT[facing] * (woods.END_GRAIN if ends else 1.0)).code


# -- the right wood on every face ----------------------------------------------------------------------------------


@pytest.mark.slow
@KERNEL.of()
@pytest.mark.parametrize("closed", [True, False])
def test_every_place_has_the_colour_of_the_wood_that_a_ray_meets(closed: bool) -> None:
    """Lid and bottom have their grain the long way: along the front, or across it in the open box, which is deeper."""
    file = mixed() if closed else tray()
    box = work_out(file)
    rays, picture = Rays(built(box, 0.0)), Placed(make.picture(file), box, 0.0)
    names = ("front", "back", "left-end", "right-end", "bottom", "lid", "plug", "handle")
    woods_by = dict(zip(names, ("sugar maple",) * 2 + ("black walnut",) * 2 + ("black cherry",), strict=False))
    woods_by |= dict.fromkeys(("lid", "plug", "handle"), "white oak")
    grain = dict(zip(names, (0, 0, 1, 1), strict=False)) | dict.fromkeys(names[4:], 0 if closed else 1)

    dice = np.random.default_rng(7)
    low, high = rays.flat.min(axis=(0, 1)), rays.flat.max(axis=(0, 1))
    spots = low + dice.random((900, 2)) * (high - low)
    owner, normal, _ = rays.meet(spots)
    steady = np.ones(len(spots), dtype=bool)
    for turn in range(8):  # a place near an edge is nobody's
        beside = spots + 0.4 * np.array([math.cos(turn * math.pi / 4), math.sin(turn * math.pi / 4)])
        other, slope, _ = rays.meet(beside)
        steady &= (owner == other) & (np.einsum("ij,ij->i", normal, slope) > 0.95)
    facing = np.abs(normal).argsort(axis=1)
    clear = np.take_along_axis(np.abs(normal), facing, axis=1)
    steady &= (owner < 0) | (clear[:, 2] - clear[:, 1] > 0.15)  # a round hole looks two ways alike somewhere
    count = 0
    for spot, number, axis in zip(spots[steady], owner[steady], facing[steady, 2], strict=True):
        name = names[number] if number >= 0 else ""
        expected = tone(woods_by[name], int(axis), ends=axis == grain[name]) if name else None
        assert picture.seen(spot) == expected, (spot, name, axis)
        count += int(number >= 0)
    assert count > 300
    compared(count)


def parts_of(file: Any) -> dict[str, Any]:
    data: Any = make.check(file).data
    return {part["name"]: part for part in data["parts"]}


@pytest.mark.parametrize(("length", "height"), [("200", "90"), ("200", "47"), ("150", "132")])
def test_fingers_show_at_the_heights_of_the_joint(length: str, height: str) -> None:
    """From the joint's numbers: beside a socket of the front its end board reaches the front, and end grain is seen."""
    file = mixed(**{"box.length": length, "box.height": height})
    box, parts = work_out(file), parts_of(file)
    picture = Placed(make.picture(file, lid=False), replace(box, lid=None, handle=None), 0.0)
    sockets, rip = parts["front"]["sockets"], parts["front"]["width"]
    fingers = parts["right end"]["sockets"]
    bounds = sorted({0.0, rip, *(edge for pair in (*sockets, *fingers) for edge in pair)})
    bounds = [edge for edge in bounds if 0 <= edge <= rip + 1e-6]
    heights = [(low + high) / 2 for low, high in pairwise(bounds) if high - low > 2.0]
    assert len(heights) >= 4
    for z in heights:
        is_socket = any(low < z < high for low, high in sockets)
        assert is_socket != any(low < z < high for low, high in fingers)
        on_end, on_front = picture.on(box.file.box.length, 6.0, z), picture.on(box.file.box.length - 6.0, 0.0, z)
        maple, walnut = "sugar maple", "black walnut"
        assert on_end == (tone(walnut, 0) if is_socket else tone(maple, 0, ends=True))
        assert on_front == (tone(walnut, 1, ends=True) if is_socket else tone(maple, 1))
    assert picture.on(float(length) / 2, 6.0, rip) == tone("sugar maple", 2)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("lift", [None, 0.0])
def test_what_is_seen_of_all_faces_is_the_whole_picture_once(sample: Path, lift: float | None) -> None:
    solids = isometric.solids_of(work_out(reading.load(sample)), lift)
    areas = [area for _, _, area in isometric.seen(solids)]
    flat = [
        shapely.Polygon([isometric.projected(c) for c in face.corners]).buffer(0) for s in solids for face in s.faces
    ]
    whole = shapely.unary_union(flat).area
    assert sum(area.area for area in areas) == pytest.approx(whole, rel=1e-4)
    assert shapely.unary_union(areas).area == pytest.approx(whole, rel=1e-4)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_strokes_run_along_the_grain_and_dots_are_short(sample: Path) -> None:
    """In the picture a step along the front goes down to the right at 30°, one along an end up to the right."""
    box = work_out(reading.load(sample))
    view = woods.picture(box)
    assert view is not None
    found: dict[str, list[tuple[float, float]]] = {}
    for part in view.parts:
        for line in part.grain:
            (x0, y0), (x1, y1) = line.shape.start, line.shape.steps[-1].end
            turn = math.degrees(math.atan2(y1 - y0, x1 - x0)) % 180
            found.setdefault(part.name, []).append((round(turn, 3), math.dist((x0, y0), (x1, y1))))
    row = max(view.bounds.width, view.bounds.height) / 85
    for name, way in (("wood-front", 150.0), ("wood-right-end", 30.0)):
        long = [turn for turn, length in found[name] if length > 1.0 * row]
        assert long
        assert set(long) == {way}
    dots = [length for turn, length in found["wood-right-end"] if turn != 30.0]
    assert dots
    assert max(dots) < 0.5 * row


def test_each_wood_of_a_box_has_strokes_of_its_own() -> None:
    box = work_out(mixed())
    said = {wood: strokes.said for _, wood, strokes in woods.legend(box) if "drawn as" not in wood}
    assert len(said) == len(set(said.values())) == 4


# -- the shell -----------------------------------------------------------------------------------------------------


def test_the_shell_is_where_its_card_has_it() -> None:
    """A chip's two sides beside its rib, near the rim; the pivot is in the middle of the front."""
    file = make.box(WHOLE_METRIC, "whole.toml")
    box = work_out(file)
    assert box.shell is not None
    picture = Placed(make.picture(file), box, 0.0)
    middle, up = file.box.length / 2, box.shell.pivot_height
    out = 0.9 * box.shell.fan.rib_radius
    cherry = colour_of("black cherry")
    for rib in box.shell.fan.ribs:
        turn = math.radians(rib)
        x, z = middle + out * math.sin(turn), up + out * math.cos(turn)
        side = 0.5
        right = picture.on(x + side * math.cos(turn), 0.0, z - side * math.sin(turn))
        left = picture.on(x - side * math.cos(turn), 0.0, z + side * math.sin(turn))
        assert (left, right) == (cherry.times(woods.SHADED).code, cherry.times(woods.LIT).code)
    assert picture.on(middle, 0.0, up + 0.6 * box.shell.fan.rib_radius) == tone("black cherry", 1)


# -- pages ---------------------------------------------------------------------------------------------------------


def drawn(file: Any, only: Sequence[str] = ("woods",), **printing: Any) -> list[Sheet]:
    return list(make.draw(file, only, make.Printing(**printing)).cards.sheets)


def pens(sheets: Sequence[Sheet]) -> Iterator[marks.Pen]:
    for sheet in sheets:
        for group in sheet.groups():
            yield from (stroke.pen for stroke in group.strokes)


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_the_page_names_every_wood_and_says_that_colours_are_rough(sample: Path) -> None:
    file = reading.load(sample)
    [sheet] = drawn(file)
    assert sheet.name.endswith("-r3-woods")
    assert faults(sheet) == []
    words = Fills(svg.write(sheet, "x")).words
    parts = parts_of(file)
    named = {parts[name]["species"] for name in ("front", "left end", "bottom", "lid")}
    assert all(timber.trade_name(wood) in words for wood in named)
    assert colours.ROUGH.split(";")[0] in words


@pytest.mark.slow
@pytest.mark.parametrize(("paper", "sample"), [("A4", SAMPLES[0]), ("Letter", SAMPLES[1])])
@pytest.mark.parametrize("hand", [Hand(), Hand(large=True), Hand(thin=True)], ids=["plain", "large", "thin"])
def test_pages_in_colour_are_legible(paper: str, sample: Path, hand: Hand) -> None:
    for file in (mixed(), reading.load(sample)):
        sheets = drawn(file, ("woods",) if hand.large else ("woods", "cover"), paper=paper, hand=hand, colour=True)
        assert [fault for sheet in sheets for fault in faults(sheet)] == []


@pytest.mark.slow
def test_no_words_stand_on_colour() -> None:
    for sheet in drawn(mixed(), ("woods", "cover"), colour=True):
        fills = [s.shape for group in sheet.groups() for s in group.strokes if s.pen.filled and s.pen.colour]
        whole = shapely.unary_union([shapely.Polygon(shape.points()).buffer(0) for shape in fills])
        assert [t.words for group in sheet.groups() for t in group.texts if shapely.box(*t.box).intersects(whole)] == []


def test_the_cover_is_in_colour_only_where_it_is_asked_for() -> None:
    [cover], [coloured] = drawn(mixed(), ("cover",)), drawn(mixed(), ("cover",), colour=True)
    assert not [pen for pen in pens([cover]) if pen.colour]
    assert not etree.fromstring(svg.write(cover, "x")).xpath("//@*[starts-with(., '#')]")
    assert any(pen.colour for pen in pens([coloured]))
    assert cover.mark != coloured.mark


@pytest.mark.slow
def test_no_page_but_the_cover_changes_with_colour() -> None:
    plain, coloured = drawn(mixed(), ()), drawn(mixed(), (), colour=True)
    assert not [pen for pen in pens(plain) if pen.colour]
    marked = [{sheet.name: sheet.mark for sheet in sheets} for sheets in (plain, coloured)]
    assert marked[0].keys() == marked[1].keys()
    assert not [name for name in marked[0] if "woods" in name]
    assert [name for name in marked[0] if marked[0][name] != marked[1][name]] == ["mixed-r1-cover"]


@pytest.mark.slow
def test_other_woods_make_another_page() -> None:
    """A page's mark is made from its pens: the same strokes in other colours are printed again."""
    pages = [drawn(mixed(**{"sides.species": wood}))[0] for wood in ("ash", "beech")]
    assert pages[0].mark != pages[1].mark
    assert repr(marks.fill(Colour(1, 2, 255))) != repr(marks.fill(Colour(1, 2, 254)))


def test_the_cover_in_colour_names_the_woods() -> None:
    [sheet] = drawn(mixed(), ("cover",), colour=True)
    words = Fills(svg.write(sheet, "x")).words
    for said in ("front: sugar maple", "right end: black walnut", "lid: white oak", "bottom: black cherry"):
        assert said in words
    assert colours.ROUGH in words.replace("\n", " ")


@pytest.mark.parametrize("only", ["woods", "cover"])
def test_thin_ink_fills_nothing_and_keeps_the_grain(only: str) -> None:
    [sheet] = drawn(mixed(), (only,), colour=True, hand=Hand(thin=True))
    used = set(pens([sheet]))
    assert {pen.name for pen in used if pen.filled} <= {"paper"}
    assert not [pen for pen in used if pen.colour]
    assert any(pen.name.startswith("grain") for pen in used)
    words = [text.words for group in sheet.groups() for text in group.texts]
    assert any("white oak" in said for said in words)


# -- written files -------------------------------------------------------------------------------------------------


def samples_of(sheet: Sheet) -> list[tuple[float, float, str]]:
    """Return places well inside areas in colour, mm, y down, and what stands there."""
    fills = Fills(svg.write(sheet, "x"))
    found = []
    for _, area in fills.areas:
        for piece in shapely.get_parts(area.buffer(-1.0)):
            place = piece.representative_point()
            if piece.area > 0.3 and (colour := fills.at(place.x, place.y)):
                found.append((place.x, place.y, colour))
    assert len({colour for *_, colour in found}) > 6
    return found


def commonest(pixels: Array, at: tuple[float, float], dots_per_mm: float) -> Array:
    """Return the colour that most pixels round a place have: a stroke or the black dot of a leader may be on it."""
    x, y = (round(value * dots_per_mm) for value in at)
    near = pixels[y - 8 : y + 9, x - 8 : x + 9, :3].reshape(-1, 3)
    near = near[near.max(axis=1) > 60]
    values, counts = np.unique(near, axis=0, return_counts=True)
    best: Array = values[counts.argmax()]
    return best.astype(int)


def code(colour: str) -> Array:
    return np.array([int(colour[i : i + 2], 16) for i in (1, 3, 5)])


@pytest.mark.slow
def test_a_pdf_shows_the_colours_of_the_svg() -> None:
    made = make.draw(mixed(), ("woods",))
    page = pypdfium2.PdfDocument(pdf.write(made.cards))[0]
    pixels = page.render(scale=300 / 72, rev_byteorder=True).to_numpy()
    for x, y, colour in samples_of(made.cards.sheets[0]):
        assert np.abs(commonest(pixels, (x, y), 300 / 25.4) - code(colour)).max() <= 2, (x, y, colour)


@pytest.mark.slow
def test_a_png_shows_the_colours_of_the_svg(cairo: Any) -> None:
    cv2 = pytest.importorskip("cv2")
    [sheet] = drawn(mixed())
    picture = png.write(svg.write(sheet, "x"), 300)
    pixels = cv2.imdecode(np.frombuffer(picture, np.uint8), cv2.IMREAD_COLOR)[:, :, ::-1]
    for x, y, colour in samples_of(sheet):
        assert np.abs(commonest(pixels, (x, y), 300 / 25.4) - code(colour)).max() <= 2, (x, y, colour)


def test_black_is_black_again_after_a_colour() -> None:
    """What is written after coloured marks has the colour that a page begins with (ISO 32000-1, 8.4.1: black)."""
    text = pdf.write(make.draw(mixed(), ("woods",)).cards)
    page = pypdfium2.PdfDocument(text)[0]
    pixels = page.render(scale=200 / 72, rev_byteorder=True).to_numpy()[:, :, :3].astype(int)
    edge = pixels[round(40 * 200 / 25.4) :, round(19 * 200 / 25.4) : round(21.5 * 200 / 25.4)]  # the frame's left line
    assert edge.min() == 0
    assert np.ptp(edge, axis=2).max() == 0
    assert io.BytesIO(text).read(5) == b"%PDF-"


# -- the picture alone ---------------------------------------------------------------------------------------------


@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
@pytest.mark.parametrize("lid", [True, False])
def test_the_picture_alone_is_the_same_bytes_and_names_every_wood(sample: Path, lid: bool) -> None:
    file = reading.load(sample)
    picture = make.picture(file, lid=lid)
    assert picture == make.picture(file, lid=lid)
    fills = Fills(picture)
    for wood in {part["species"] for part in parts_of(file).values() if part["species"]}:
        assert timber.trade_name(wood) in fills.words
    assert colours.ROUGH in fills.words
    left, top, right, bottom = fills.bounds
    wide, high = (float(fills.root.get(name).removesuffix("mm")) for name in ("width", "height"))
    assert 0 < left < right < wide
    assert 0 < top < bottom < high
    assert not fills.root.xpath("//*[local-name()='carried']")


@pytest.mark.slow
def test_another_wood_changes_the_colours_and_no_shape() -> None:
    one, other = (Fills(make.picture(mixed(**{"lid.species": wood}))) for wood in ("teak", "holly"))
    shapes = [[area.wkt for _, area in found.areas] for found in (one, other)]
    assert shapes[0] == shapes[1]
    changed = {was for (was, _), (now, _) in zip(one.areas, other.areas, strict=True) if was != now}
    assert changed == {colour_of("teak").times(share).code for share in _shares(one, "teak")}


def _shares(fills: Fills, wood: str) -> set[float]:
    """Return the shares of a wood's colour that are in a picture."""
    every = {a * b for a in woods.LIGHT for b in (1.0, woods.END_GRAIN)}
    there = {colour for colour, _ in fills.areas}
    return {share for share in every if colour_of(wood).times(share).code in there}


def test_a_box_without_a_joint_has_no_picture() -> None:
    with pytest.raises(CannotBuild, match="no inside"):
        make.picture(make.box(MIXED, "x.toml", {"box.length": "20"}))
    with pytest.raises(CannotBuild, match="woods can't be drawn"):
        make.draw(make.box(MIXED, "x.toml", {"box.length": "20"}), ("woods",))


def test_a_box_of_an_unknown_wood_is_drawn_plain() -> None:
    box = work_out(mixed(**{"sides.species": "plywood"}))
    assert box.stopped
    made = box_sheets.sheets(box, ("woods",))
    [card] = [card for card in made.cards if card.name == "woods"]
    assert "plywood" in str(card.about)
    view = woods.picture(box)
    assert view is not None
    front = next(part for part in view.parts if part.name == "wood-front")
    assert PLAIN.times(woods.LIGHT[1]) in {fill.colour for fill in front.fills}


# -- the commands --------------------------------------------------------------------------------------------------


def run(*words: str) -> Any:
    return CliRunner().invoke(cli.main, list(words))


def test_other_woods_are_drawn_and_the_file_stays(tmp_path: Path) -> None:
    file = tmp_path / "box.toml"
    file.write_text(MIXED)
    said = run("draw", str(file), "--only", "woods", "--set", "lid.species=walnut", "--format", "svg", "-o",
               str(tmp_path / "out"))  # fmt: skip
    assert said.exit_code == 0, said.output
    [page] = (tmp_path / "out").glob("*.svg")
    assert "lid: black walnut" in Fills(page.read_bytes()).words
    assert file.read_text() == MIXED
    again: Any = make.reopen(page.read_bytes())
    assert again.lid.species == "black walnut"


def test_the_page_is_found_by_a_near_name_and_colour_is_for_a_box(tmp_path: Path) -> None:
    said = run("draw", str(SAMPLES[0]), "--only", "wods", "-o", str(tmp_path))
    assert said.exit_code == 2
    assert "'woods'" in said.output
    jig = tmp_path / "sled.toml"
    jig.write_text(jig_file.text(JigSettings("gauges", "mm", {"gap": 10.0, "socket": 10.0, "thickness": 12.0}, {})))
    said = run("draw", str(jig), "--colour", "-o", str(tmp_path))
    assert said.exit_code == 2
    assert "--colour is for a box" in said.output
