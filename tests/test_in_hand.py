"""The picture of a set-up: which part is in hand, where it lies, what is measured on it, and what can be read of it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from lxml import etree

from jigs.base import lengths
from jigs.base.drawing import Bounds, Colour, Point
from jigs.base.errors import CannotBuild, CannotRead
from jigs.base.lengths import Units
from jigs.box import in_hand, isometric, scene, sight, woods
from jigs.box.chain import Box, work_out
from jigs.box.in_hand import SET_UPS, SetUp
from jigs.box.isometric import Place, Solid
from jigs.box.scene import DARK, LIGHT, Scene, Screen
from jigs.boxfile import reading
from jigs.boxfile.sections import BoxFile
from jigs.parts.wood.colours import COLOURS, PLAIN, contrast
from jigs.record import replace
from layout import make
from layout.draw import aslant
from layout.pages import in_hand as pages_in_hand
from layout.sheet import lettering
from layout.sheet.marks import Sheet
from layout.write import svg
from tests import test_woods, varied
from tests.boxes import METRIC, SAMPLES, WHOLE_INCHES, WHOLE_METRIC, worked
from tests.conftest import examples
from tests.legibility import faults
from tests.outside import Check, compared

CONTRAST = Check(
    "Lengths, paper, letters",
    "contrast ratio of WCAG 2.1 (definition of relative luminance; SC 1.4.11: 3 : 1), worked out here",
    "standard",
)
PIXELS = 636 / pages_in_hand.WIDTH
"""Pixels to a mm where the picture is shown as wide as its place."""
READ = 4.5
"""The contrast of text: WCAG 2.1, SC 1.4.3."""
SCREENS = (LIGHT, DARK)
FILES = {path.stem: reading.load(path) for path in SAMPLES}


def shown(box: Box, set_up: SetUp, screen: Screen = LIGHT) -> tuple[Scene, Sheet]:
    made = in_hand.scene(box, set_up)
    return made, pages_in_hand.sheet(made, scene.painted(box, made, screen), screen, box.file.units, "title", set_up)


def faults_of(sheet: Sheet) -> list[str]:
    """Return what can't be read on a sheet that no printer prints: its margins are those of a page on a screen."""
    page = Bounds(0, 0, sheet.paper.width, sheet.paper.height).grown(1e-6)
    boxes = [text.box for group in sheet.groups() for text in group.texts]
    found = [fault for fault in faults(sheet) if "leaves what a printer reaches" not in fault] if boxes else []
    boxes += [stroke.shape.bounds for group in sheet.groups() for stroke in group.strokes]
    return found + [f"{box} is off the page" for box in boxes if not page.holds(box)]


# -- every picture -------------------------------------------------------------------------------------------------


@pytest.mark.parametrize("dark", [False, True])
@pytest.mark.parametrize("set_up", SET_UPS)
@pytest.mark.parametrize("name", FILES)
def test_a_picture_can_be_read_seen_and_heard(name: str, set_up: SetUp, dark: bool) -> None:
    file = FILES[name]
    document = make.picture_in_hand(file, set_up, dark=dark)
    root: Any = etree.fromstring(document)
    space = {"s": "http://www.w3.org/2000/svg"}
    assert root.xpath("string(s:title)", namespaces=space) == f"{file.title}: {set_up}"
    words = make.picture_words(file, set_up)
    assert root.xpath("string(s:desc)", namespaces=space).startswith(words)
    assert root.get("width") == "160mm"
    assert float(root.get("height")[:-2]) <= pages_in_hand.HIGHEST
    assert not root.xpath("//s:rect", namespaces=space), "the ground is the page's"
    for text in root.xpath("//s:text", namespaces=space):
        assert float(text.get("font-size")) * PIXELS >= 16.0
    assert make.picture_in_hand(file, set_up, dark=dark) == document
    if not dark:  # the same marks in other colours
        assert faults_of(shown(work_out(file), set_up)[1]) == []


def test_an_unknown_set_up_is_refused_with_near_names() -> None:
    with pytest.raises(CannotRead, match=r"there is no set-up 'grove'; did you mean 'groove'\?"):
        make.picture_in_hand(FILES["recipe-box"], "grove")


def test_the_words_say_what_is_in_hand() -> None:
    said = {set_up: make.picture_words(FILES["recipe-box"], set_up) for set_up in SET_UPS}
    assert said == {
        "wood": "In hand: the whole box, closed.",
        "sled": "In hand: the front and the right end. In pencil: to be made.",
        "groove": "In hand: the back and the left end, with the groove inside. The front and the right end are taken "
        "off.",
        "bottom": "In hand: the bottom, raised. In pencil: the rest.",
        "shell": "In hand: the front with its shell. In pencil: the rest.",
        "lid": "In hand: the lid, raised. In pencil: the rest.",
        "handle": "In hand: the handle, raised. In pencil: the rest.",
        "glue": "In hand: the box, its corners closed, without a lid.",
        "print": "In hand: the whole box, closed.",
    }


def test_who_hears_it_hears_every_size() -> None:
    document = make.picture_in_hand(FILES["recipe-box"], "sled").decode()
    assert (
        "Outside length 200 mm; outside width 150 mm; plane to, last 89.68 mm; socket 10.02 mm; finger 9.92 mm."
        in document
    )


# -- the part in hand ----------------------------------------------------------------------------------------------

Faces = list[tuple[tuple[float, ...], ...]]


def faces_of(solid: Solid, by: Place = Place(0, 0, 0)) -> Faces:  # noqa: B008 - a tuple, not changed
    return sorted(
        tuple(
            sorted(tuple(round(float(a + b), 6) + 0.0 for a, b in zip(corner, by, strict=True)) for corner in f.corners)
        )
        for f in solid.faces
    )


def way_of(moved: Solid, still: Solid) -> Place:
    return Place(*np.subtract(moved.faces[0].corners[0], still.faces[0].corners[0]).tolist())


@pytest.mark.parametrize(
    ("set_up", "names", "axis"), [("sled", ["right-end"], 0), ("lid", ["lid", "plug"], 2), ("handle", ["handle"], 2)]
)
@pytest.mark.parametrize("name", FILES)
def test_what_is_brought_out_is_the_same_solid_moved_along_one_axis(
    name: str, set_up: SetUp, names: list[str], axis: int
) -> None:
    box = work_out(FILES[name])
    closed = {solid.name: solid for solid in isometric.solids_of(box, 0.0)}
    for solid in in_hand.scene(box, set_up).solids:
        way = way_of(solid, closed[solid.name])
        assert faces_of(solid) == faces_of(closed[solid.name], way)
        if solid.name in names:
            assert way[axis] > 1
            assert [way[other] for other in range(3) if other != axis] == pytest.approx([0, 0])
        else:
            assert way == pytest.approx((0, 0, 0))


def test_fingers_come_clear_of_their_sockets() -> None:
    box = worked(METRIC, sides__thickness="40", box__length="200")
    right = next(solid for solid in in_hand.scene(box, "sled").solids if solid.name == "right-end")
    assert min(corner.x for face in right.faces for corner in face.corners) > box.file.box.length


@pytest.mark.parametrize("name", FILES)
def test_the_bottom_is_drawn_as_it_is_cut(name: str) -> None:
    box = work_out(FILES[name])
    panel = next(solid for solid in in_hand.scene(box, "bottom").solids if solid.name == "bottom")
    corners = np.array([corner for face in panel.faces for corner in face.corners])
    assert box.bottom is not None
    sizes = box.bottom.length, box.bottom.seasons.width, box.bottom.thickness
    assert np.ptp(corners, axis=0).tolist() == pytest.approx(sizes)
    assert (corners.min(axis=0) + corners.max(axis=0))[:2].tolist() == pytest.approx(
        [box.file.box.length, box.file.box.width]
    )


@pytest.mark.parametrize(("name", "stopped"), [("recipe-box", "left-end"), ("recipe-box-inch", "back")])
def test_the_groove_is_in_back_and_left_end(name: str, stopped: str) -> None:
    """Its floor is as deep as it is; on a stopped board it ends before the board does, as the numbers have it."""
    box = work_out(FILES[name])
    made, proud = box.groove, box.file.joint.proud
    assert made is not None
    for solid in in_hand.scene(box, "groove").solids:
        across, deep = (0, 1) if solid.name == "back" else (1, 0)
        corners = np.array([corner for face in solid.faces for corner in face.corners])
        inner = corners[:, deep].min() if solid.name == "back" else corners[:, deep].max()
        floors = [np.array(f.corners) for f in solid.faces if abs(abs(f.corners[0][deep] - inner) - made.depth) < 1e-6]
        floor = np.concatenate([f for f in floors if np.ptp(f[:, deep]) < 1e-6])
        assert (floor[:, 2].min(), floor[:, 2].max()) == pytest.approx((made.from_bottom, made.top))
        start, end = made.ends(solid.name.replace("-", " "))
        if solid.name == stopped:
            ends = floor[:, across].min(), floor[:, across].max()
            assert ends == pytest.approx((start - proud, end - proud))
        whole = _volume(isometric.solids_of(box, 0.0), solid.name)
        assert _volume((solid,), solid.name) < whole


def _volume(solids: tuple[Solid, ...], name: str) -> float:
    """Return the volume of a solid from its faces: by the divergence theorem, pieces that touch counted once each."""
    total = 0.0
    for face in next(solid for solid in solids if solid.name == name).faces:
        corners = np.array(face.corners)
        doubled = np.sum(np.cross(corners, np.roll(corners, -1, axis=0)), axis=0)
        area = float(np.dot(doubled, face.normal)) / 2
        total += area * float(np.dot(corners[0], face.normal)) / 3
    return total


# -- what is measured ----------------------------------------------------------------------------------------------


@pytest.mark.parametrize("text", [WHOLE_METRIC, WHOLE_INCHES])
def test_sizes_are_read_from_their_own_two_points(text: str) -> None:
    box = worked(text)
    numbers, groove, bottom, lid, handle, shell = (
        box.numbers, box.groove, box.bottom, box.lid, box.handle, box.shell,
    )  # fmt: skip
    assert numbers
    assert groove
    assert bottom
    assert lid
    assert handle
    assert shell
    long, wide = box.file.box.length, box.file.box.width
    expected: Mapping[SetUp, dict[str, float]] = {
        "sled": {
            "outside length": long,
            "outside width": wide,
            "plane to, last": numbers.width,
            "socket": numbers.socket,
            "finger": numbers.finger,
        },
        "groove": {
            "groove from the bottom edge": groove.from_bottom,
            "width of the groove": groove.cutter,
            "depth of the groove": groove.depth,
        },
        "bottom": {
            "length of the bottom": bottom.length,
            "width of the bottom": bottom.seasons.width,
            "thickness of the bottom": bottom.thickness,
        },
        "shell": {"width of the shell": shell.width, "height of the shell": shell.height},
        "lid": {
            "length of the lid": lid.length,
            "width of the lid": lid.width,
            "crown": lid.crown,
            "overhang": lid.overhang,
        },
        "handle": {"length of the handle": handle.length, "height of the handle": handle.height},
    }
    for set_up in SET_UPS:
        found = {measure.name: measure.value for measure in in_hand.scene(box, set_up).measures}
        assert found == pytest.approx(expected.get(set_up, {}))


@pytest.mark.slow
@pytest.mark.parametrize(("text", "units"), [(WHOLE_METRIC, "mm"), (WHOLE_INCHES, "in")])
def test_numbers_are_written_as_finely_as_their_purpose_asks(text: str, units: Units) -> None:
    box = worked(text)
    for set_up in SET_UPS:
        made, sheet = shown(box, set_up)
        words = [text.words for group in sheet.groups() for text in group.texts]
        expected = [lengths.bare(measure.value, units, measure.purpose) for measure in made.measures]
        assert sorted(words) == sorted([*expected, *(measure.note for measure in made.measures if measure.note)])
    gauged = {m.name for s in SET_UPS for m in in_hand.scene(box, s).measures if m.purpose == "gauge"}
    assert gauged == {"plane to, last", "socket", "finger"}


def test_finger_and_socket_lie_where_the_right_end_has_them() -> None:
    box = worked(WHOLE_METRIC)
    assert box.numbers is not None
    measures = {m.name: m for m in in_hand.scene(box, "sled").measures}
    socket = sorted((measures["socket"].start.z, measures["socket"].end.z))
    assert socket in [[span.start, span.end] for span in box.numbers.short_sockets]
    ends = {z for name in ("socket", "finger") for z in (measures[name].start.z, measures[name].end.z)}
    assert len(ends) == 3, "one lies on the other"


def test_a_line_is_as_long_as_what_it_measures() -> None:
    """At the scale of the picture, along an axis as the projection shortens it."""
    box = worked(WHOLE_METRIC)
    made = in_hand.scene(box, "sled")
    size = pages_in_hand.size(made.measures[0], 0.5, "mm")
    short = np.hypot(*isometric.projected(Place(1, 0, 0)))
    assert np.hypot(*np.subtract(size.end, size.start)) == pytest.approx(200 * 1.2 * short * 0.5)


# -- in pencil, and not there --------------------------------------------------------------------------------------

PENCILS = {LIGHT.sheet.code, LIGHT.pencil.code}
STOPPED = "In pencil: what can’t be cut yet."


def colours_of(document: bytes) -> set[str]:
    return set(re.findall(r'(?:fill|stroke)="(#[0-9a-f]{6})"', document.decode()))


@pytest.mark.parametrize("set_up", SET_UPS)
def test_without_a_joint_all_of_it_is_plain_boards_in_pencil(set_up: SetUp) -> None:
    file = make.box(FILES["recipe-box"].source, "box.toml", {"joint.finger": "8", "joint.cutter": "10.02"})
    box = work_out(file)
    assert box.numbers is None
    document = make.picture_in_hand(file, set_up)
    assert colours_of(document) == PENCILS
    assert b"<text" not in document
    assert make.picture_words(file, set_up) == STOPPED
    for solid in in_hand.scene(box, set_up).solids:
        if solid.name != "handle":
            assert len(solid.faces) == 6, "a board without fingers"


@pytest.mark.slow
@pytest.mark.parametrize(
    ("values", "stopped"),
    [
        ({"lid.crown": "17"}, {"lid", "wood", "glue", "print"}),
        ({"groove.depth": "12"}, {"groove", "bottom", "shell", "wood", "glue", "print"}),
        ({"shell.width": "200"}, {"shell", "wood", "glue", "print"}),
    ],
)
def test_only_what_a_rule_stops_is_in_pencil(values: dict[str, str], stopped: set[str]) -> None:
    file = make.box(FILES["recipe-box"].source, "box.toml", values)
    assert {s for s in SET_UPS if make.picture_words(file, s) == STOPPED} == stopped
    for set_up in SET_UPS:
        assert (colours_of(make.picture_in_hand(file, set_up)) <= PENCILS) == (set_up in stopped)


def test_what_the_file_does_not_ask_for_is_not_there() -> None:
    box = worked(METRIC)
    for set_up in SET_UPS:
        assert {solid.name for solid in in_hand.scene(box, set_up).solids} <= {"front", "back", "left-end", "right-end"}
    assert make.picture_words(box.file, "lid") == "In pencil: the box. It has no lid."
    assert make.picture_words(box.file, "shell") == "In pencil: the box. It has no carving."
    assert make.picture_words(box.file, "wood") == "In hand: the whole box."


@pytest.mark.parametrize(("side", "seen"), [("front", True), ("right end", True), ("back", False)])
def test_a_pattern_is_in_hand_with_its_side(side: str, seen: bool) -> None:
    section = (
        f'[pattern]\nwidth = 60\nside = "{side}"\noutline = "M0 0 C20 -30 80 -30 100 0 C80 30 20 30 0 0 Z"\n[stock]'
    )
    text = re.sub(r"\[shell\].*?\[stock\]", section, WHOLE_METRIC, flags=re.DOTALL)
    made, sheet = shown(worked(text), "shell")
    assert made.hand == {side.replace(" ", "-")}
    assert [measure.name for measure in made.measures] == ["width of the pattern", "height of the pattern"] * seen
    assert ("not seen here" in made.words) != seen
    assert faults_of(sheet) == []


# -- colours -------------------------------------------------------------------------------------------------------

EVERY = {**COLOURS, "plain": PLAIN}


def tones(colour: Colour) -> list[Colour]:
    shares = [light * end for light in woods.LIGHT for end in (1.0, woods.END_GRAIN)]
    return [colour.times(share) for share in shares]


def pale(colour: Colour, screen: Screen) -> Colour:
    """Return a colour of which a share lies over the ground, worked out here."""
    mixed = np.array(colour.times(screen.wood)) * screen.pale + np.array(screen.ground) * (1 - screen.pale)
    return Colour(*(round(part) for part in mixed.tolist()))


def test_contrast_is_that_of_the_standard() -> None:
    for one, other in [((0, 0, 0), (255, 255, 255)), (LIGHT.hand, LIGHT.ground), (COLOURS["Cherry"], DARK.ink)]:
        assert contrast(Colour(*one), Colour(*other)) == pytest.approx(test_woods.contrast(one, other))


@CONTRAST.of()
@pytest.mark.parametrize("screen", SCREENS, ids=["light", "dark"])
def test_words_can_be_read_on_the_ground_and_on_every_pale_wood(screen: Screen) -> None:
    """Numbers in ink, what is said beside them in pencil, which is never on wood; on wood in hand there are none."""
    grounds = [screen.ground, *(pale(tone, screen) for colour in EVERY.values() for tone in tones(colour))]
    assert min(test_woods.contrast(screen.ink, ground) for ground in grounds) >= READ
    assert test_woods.contrast(screen.pencil, screen.ground) >= READ
    assert test_woods.contrast(screen.hand, screen.ground) >= READ
    compared(len(grounds) + 2)


@CONTRAST.of()
@pytest.mark.parametrize("screen", SCREENS, ids=["light", "dark"])
@pytest.mark.parametrize("name", EVERY)
def test_edges_can_be_made_out_on_every_wood(name: str, screen: Screen) -> None:
    """Those in hand in ink, or in the other ink of the page; those of the rest in pencil."""
    own = [tone.times(screen.wood) for tone in tones(EVERY[name])]
    inks = [min(test_woods.contrast(ink, tone) for tone in own) for ink in (screen.ink, screen.other_ink)]
    assert max(inks) >= 3.0
    assert min(test_woods.contrast(screen.pencil, pale(tone, screen)) for tone in tones(EVERY[name])) >= 3.0
    assert test_woods.contrast(screen.pencil, screen.sheet) >= 3.0
    compared(3 * len(own))


def test_on_a_dark_page_edges_of_a_pale_wood_are_dark() -> None:
    file = make.box(
        FILES["recipe-box"].source, "box.toml", {"sides.species": "maple, sugar", "sides.ends_species": "walnut"}
    )
    box = work_out(file)
    inks = {each.solid: each.ink for each in scene.painted(box, in_hand.scene(box, "sled"), DARK)}
    assert inks == {"front": DARK.other_ink, "right-end": DARK.ink} | dict.fromkeys(
        ("back", "left-end", "bottom"), DARK.pencil
    )


def test_each_wood_keeps_its_colour_and_its_strokes() -> None:
    """In hand a face has the tone of its wood, as the other pictures of the box have it; the rest is paler."""
    box = work_out(FILES["recipe-box"])
    made = in_hand.scene(box, "sled")
    for each in scene.painted(box, made, LIGHT):
        found = {fill.colour for fill in each.part.fills}
        full = set(tones(COLOURS["Cherry"]))
        if each.solid == "right-end":
            assert found <= full
        elif each.solid != "front":  # it has the shell's tones too
            assert found <= {pale(tone, LIGHT) for tone in full}
        assert each.part.grain


# -- what is seen --------------------------------------------------------------------------------------------------


@pytest.mark.slow
@pytest.mark.parametrize("set_up", SET_UPS)
@pytest.mark.parametrize("text", [WHOLE_METRIC, WHOLE_INCHES])
def test_the_same_is_seen_as_face_by_face(text: str, set_up: SetUp) -> None:
    """`isometric.seen`, which rays are cast against, compares every face with every other one by itself."""
    solids = in_hand.scene(worked(text), set_up).solids
    other: dict[str, list[Any]] = {}
    for solid, _, area in isometric.seen(solids):
        other.setdefault(solid.name, []).append(area)
    own: dict[str, list[Any]] = {}
    for surface in sight.surfaces(solids):
        own.setdefault(surface.solid, []).append(surface.whole)
    assert set(own) == set(other)
    for name, areas in own.items():
        one, two = shapely.union_all(areas), shapely.union_all(other[name])
        assert one.symmetric_difference(two).area < 2e-3 * (one.length + 1)


def test_a_tie_ends_where_a_part_hides_it() -> None:
    box = worked(WHOLE_METRIC)
    made = in_hand.scene(box, "sled")
    hidden = Place(120, 159, 5), Place(120, 159, 20)  # inside the back, behind all of the box
    assert sight.unhidden(*hidden, made.solids) == []
    clear = Place(-50, -50, 200), Place(-60, -50, 200)
    assert np.array(sight.unhidden(*clear, made.solids)) == pytest.approx(np.array([clear]))


# -- any box -------------------------------------------------------------------------------------------------------


def wrong_pictures(file: BoxFile) -> Iterator[str]:
    """Yield what is wrong with the pictures of a box."""
    box = work_out(file)
    for set_up in SET_UPS:
        made, sheet = shown(box, set_up)
        yield from (f"{set_up}: {fault}" for fault in faults_of(sheet))
        root: Any = etree.fromstring(svg.write(sheet, pages_in_hand.said(made, file.units)))
        if not root.xpath("string(*[local-name()='title'])") or not root.xpath("string(*[local-name()='desc'])"):
            yield f"{set_up}: no title, or nothing said"
        if made.pencil != (made.words == STOPPED):
            yield f"{set_up}: in pencil without saying so"
        if made.pencil and (made.measures or made.hand):
            yield f"{set_up}: something is in hand that can't be cut"


@pytest.mark.slow
@pytest.mark.parametrize("text", varied.boxes(8, seed=31))
def test_pictures_of_boxes_as_makers_make_them(text: str) -> None:
    assert list(wrong_pictures(reading.read(text, "box.toml"))) == []


SHARES = st.floats(0.2, 5.0)
CHANGED = (
    *("box.length", "box.width", "box.height", "sides.thickness", "joint.finger", "joint.cutter", "joint.clearance"),
    *("groove.cutter", "groove.depth", "groove.from_bottom", "bottom.thickness", "lid.thickness", "lid.overhang"),
    *("lid.crown", "lid.plug", "handle.saw", "handle.length", "handle.height", "handle.thickness", "handle.crest"),
    *("shell.width", "shell.height", "shell.border", "shell.chip", "groove.end_margin", "bottom.tongue"),
)
"""Lengths that the whole boxes have, near or far from what works."""


@pytest.mark.slow
@settings(max_examples=examples(12), deadline=None)
@given(
    text=st.sampled_from([WHOLE_METRIC, WHOLE_INCHES]),
    shares=st.dictionaries(st.sampled_from(CHANGED), SHARES, min_size=1, max_size=3),
    dropped=st.lists(st.sampled_from(["groove", "bottom", "lid", "handle", "shell"]), max_size=2),
)
def test_any_box_that_can_be_read_has_its_pictures(text: str, shares: dict[str, float], dropped: list[str]) -> None:
    file = worked(text).file
    values = {}
    for key, share in shares.items():
        section, _, name = key.partition(".")
        values[key] = f"{getattr(getattr(file, section), name) * share:.4f} mm"
    try:
        changed = make.box(text, "box.toml", values)
    except CannotBuild:
        return  # out of the limits of a key: it is not read
    left: Any = dict.fromkeys(dropped)
    assert list(wrong_pictures(replace(changed, **left))) == []


# -- placing -------------------------------------------------------------------------------------------------------


def test_words_keep_off_wood_in_hand_and_stand_on_pale_wood_where_there_is_no_other_room() -> None:
    inks = aslant.Inks(LIGHT.ink, LIGHT.pencil)
    size = aslant.Size(Point(0, 0), Point(40, 0), Point(0, -1), "40")
    wide = shapely.box(-100, -100, 140, -1)
    noted = aslant.place([replace(size, note="long")], aslant.Wood([], [wide]), [], inks)
    assert all(shapely.box(*aslant.room(text)).disjoint(wide) for text in noted.texts)
    on_pale = aslant.place([size], aslant.Wood([], [wide]), [], inks)
    off_hand = aslant.place([size], aslant.Wood([wide], []), [], inks)
    rooms = [shapely.box(*aslant.room(placed.texts[0])) for placed in (on_pale, off_hand)]
    assert wide.contains(rooms[0])
    assert rooms[1].disjoint(wide)
    assert lettering.size(aslant.NOTE) * PIXELS >= 16
