"""The box put together as solids, from nothing but the numbers a user gets: does it go together, move and look right?

A kernel for solids is the outside source: it knows nothing of fingers, grooves and seasons. Every check here is also
broken on purpose. Axes: x along the front from its left as seen from outside, y from the front back, z up.
"""

from __future__ import annotations

import copy
import math
from collections import Counter
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from itertools import combinations, pairwise
from typing import Any

import manifold3d
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from jigs.box import chain
from jigs.boxfile import reading
from tests.boxes import SAMPLES, WHOLE_INCHES, WHOLE_METRIC, worked
from tests.conftest import examples
from tests.outside import Check, agree, compared

KERNEL = Check(
    "The whole box",
    "solids put together by manifold3d from the numbers of `check --json`, and looked at at a slant",
    "reference library",
)

NOTHING = 1e-3
"""A volume, in mm³, that is no overlap."""
CLOSED = 0.1
"""Glue closes joints: wood is grown by this, in mm, before anyone looks through them."""
HAIR = 1e-4
"""What is left between parts that are pushed together, mm: faces that touch are not for a kernel to judge."""
CHORD = 0.01
"""More than a chord of the crown lies under its arc, mm."""
SEASONS = ("shop", "dry", "wet")
ROUND = 64
"""Corners of a circle; of a multiple of four, so that it is as wide as its diameter both ways."""

Data = dict[str, Any]
Solid = Any
"""The kernel publishes no types."""


def block(*spans: tuple[float, float]) -> Solid:
    """Return an upright block between two numbers along each axis."""
    sizes = [end - start for start, end in spans]
    return manifold3d.Manifold.cube(sizes).translate([start for start, _ in spans])


def together(solids: Iterable[Solid]) -> Solid:
    return sum(solids, manifold3d.Manifold())


def prism(outline: list[tuple[float, float]], height: float) -> Solid:
    return manifold3d.CrossSection([outline]).extrude(height)


# -- the parts, each from its numbers ------------------------------------------------------------------------------

SIDES = ("front", "right end", "back", "left end")


def part(data: Data, name: str) -> Data:
    [found] = [part for part in data["parts"] if part["name"] == name]
    return found  # type: ignore[no-any-return]  # JSON has no types


def groove_air(side: Data) -> Solid:
    """Return what the cutter sweeps, on the board: x from its left end on its inner face, y up, z into the wood."""
    slot = side["groove"]
    if slot is None:
        return manifold3d.Manifold()
    radius, low = slot["width"] / 2, slot["from_bottom"]
    left, right = slot["start"], slot["end"]
    stopped = (left > 0, right < side["length"])
    ends = (left + radius if stopped[0] else -1.0, right - radius if stopped[1] else side["length"] + 1)
    deep = slot["depth"] + 1
    bit = manifold3d.Manifold.cylinder(deep, radius, radius, ROUND)
    swept = [block(ends, (low, low + 2 * radius), (-1, slot["depth"]))]
    swept += [bit.translate([at, low + radius, -1]) for at, stop in zip(ends, stopped, strict=True) if stop]
    return together(swept) ^ block((0, side["length"]), (0, side["width"]), (-1, side["thickness"]))


def board(side: Data) -> Solid:
    """Return a side with its sockets, without its groove, in the axes of `groove_air`."""
    length, deep, thick = side["length"], side["socket_depth"], side["thickness"]
    cuts = [
        block(
            ends,
            (start if start > 0 else -1, end if end < side["width"] - 1e-6 else side["width"] + 1),
            (-1, thick + 1),
        )
        for start, end in side["sockets"]
        for ends in ((-1.0, deep), (length - deep, length + 1))
    ]
    return block((0, length), (0, side["width"]), (0, thick)) - together(cuts)


def in_place(data: Data, name: str, solid: Solid) -> Solid:
    """Return a side, from its own axes, where it stands in the box."""
    sizes = data["box"]
    long, deep = sizes["length"], sizes["width"]
    wall_x, wall_y = (long - sizes["inside_length"]) / 2, (deep - sizes["inside_width"]) / 2
    length = part(data, name)["length"]
    at_x, at_y = (long - length) / 2, (deep - length) / 2  # where its ends are, proud of the mates
    rows: dict[str, list[list[float]]] = {
        "front": [[-1, 0, 0, long - at_x], [0, 0, -1, wall_y], [0, 1, 0, 0]],
        "back": [[1, 0, 0, at_x], [0, 0, 1, deep - wall_y], [0, 1, 0, 0]],
        "left end": [[0, 0, -1, wall_x], [1, 0, 0, at_y], [0, 1, 0, 0]],
        "right end": [[0, 0, 1, long - wall_x], [-1, 0, 0, deep - at_y], [0, 1, 0, 0]],
    }
    return solid.transform(rows[name])


def inside(data: Data) -> tuple[float, float]:
    """Return the opening along the grain of bottom and lid, and across."""
    sizes = data["box"]["inside_length"], data["box"]["inside_width"]
    return max(sizes), min(sizes)


def turned(data: Data, solid: Solid, slid: tuple[float, float] = (0.0, 0.0)) -> Solid:
    """Return a part from axes in its middle, its grain along x, where it lies in the box, slid so far."""
    moved = solid.translate([*slid, 0])
    if data["box"]["inside_length"] < data["box"]["inside_width"]:
        moved = moved.rotate([0, 0, 90])
    return moved.translate([data["box"]["length"] / 2, data["box"]["width"] / 2, 0])


@dataclass(frozen=True)
class Panel:
    """The bottom in some air: tongue and body, along the grain and across it; no body where it is all tongue.

    The body of plywood lies below its tongue, its upper faces level; that of solid wood on both sides of it.
    """

    tongue: tuple[float, float]
    body: tuple[float, float] | None
    thickness: float
    tongue_thickness: float
    clip: float
    middle: float
    plywood: bool = False

    @property
    def solid(self) -> Solid:
        """Its middle over the origin, its corners clipped."""
        (x, y), leg = (size / 2 for size in self.tongue), self.clip
        corners = [(x, -y + leg), (x, y - leg), (x - leg, y), (leg - x, y), (-x, y - leg), (-x, leg - y)]
        corners += [(leg - x, -y), (x - leg, -y)]
        flat = prism(corners if leg else [(x, -y), (x, y), (-x, y), (-x, -y)], self.tongue_thickness)
        whole = flat.translate([0, 0, -self.tongue_thickness / 2])
        if self.body:
            (long, wide), half = (size / 2 for size in self.body), self.thickness / 2
            top = self.tongue_thickness / 2 if self.plywood else half
            whole += block((-long, long), (-wide, wide), (top - self.thickness, top))
        return whole.translate([0, 0, self.middle])


def panel(data: Data, season: str) -> Panel:
    """Return the bottom: its shoulders keep from the sides what the wood still grows, as the rabbets are worked out."""
    made, (along, across) = data["bottom"], inside(data)
    slot, thickness = part(data, "front")["groove"], part(data, "bottom")["thickness"]
    width = made["width"] if season == "shop" else made[f"width_{season}"]
    rabbeted = thickness > made["tongue"] + 1e-9
    rabbet = (made["width_wet"] - across) / 2
    body = (min(made["length"], along), (made["width"] - 2 * rabbet) * width / made["width"])
    if of_sheet := made["material"] == "plywood":  # rabbets as wide as its grooves are deep
        body = (made["length"] - 2 * slot["depth"], width - 2 * slot["depth"])
    return Panel(
        (made["length"], width),
        body if rabbeted else None,
        thickness,
        made["tongue"],
        data["groove"]["corner"]["size"],
        slot["from_bottom"] + slot["width"] / 2,
        of_sheet,
    )


def plays(data: Data, made: Panel) -> tuple[float, float]:
    """Return how far the bottom goes from the middle along and across: to a groove's floor, or shoulder to side."""
    deep = part(data, "front")["groove"]["depth"]
    room = inside(data)
    lacks = corner_lacks(data, made)
    to_floors = [(space + 2 * deep - size) / 2 - lacks for space, size in zip(room, made.tongue, strict=True)]
    to_sides = [(space - size) / 2 for space, size in zip(room, made.body, strict=True)] if made.body else to_floors
    along, across = map(min, to_floors, to_sides)
    return along, across


def corner_lacks(data: Data, made: Panel) -> float:
    """Return what the round end of a stopped groove keeps a square corner from a groove's floor: a hair, or nothing."""
    lacks = 0.0
    for side in (part(data, name) for name in SIDES):
        slot = side["groove"]
        if slot["start"] > 0 and not made.clip:
            radius, half = slot["width"] / 2, made.tongue_thickness / 2
            reach = side["socket_depth"] - slot["start"] - radius + math.sqrt(radius**2 - half**2)
            lacks = max(lacks, slot["depth"] - reach)
    assert lacks <= 0.1 + 1e-9
    return lacks


def lid(data: Data, season: str) -> Solid:
    """Return the lid, its middle over the origin and its rabbet on the rim of the box."""
    made, thickness, (_, across) = data["lid"], part(data, "lid")["thickness"], inside(data)
    radius, half = made["crown_radius"], made["width"] / 2
    rise = radius - math.sqrt(radius**2 - half**2) if radius else 0.0
    plug = thickness - made["edge"] - rise
    top = [(half, made["edge"]), (-half, made["edge"])]
    if radius:
        angles = [math.asin(half / radius) * (1 - 2 * i / ROUND) for i in range(ROUND + 1)]
        top = [(radius * math.sin(a), made["edge"] + rise - radius * (1 - math.cos(a))) for a in angles]
    plank = prism([*top, (-half, 0), (half, 0)], made["length"]).translate([0, 0, -made["length"] / 2])
    plank = plank.transform([[0, 0, 1, 0], [1, 0, 0, 0], [0, 1, 0, 0]])  # the outline across, its length along x
    x, y = made["plug_length"] / 2, made["plug_width"] / 2
    whole = plank + block((-x, x), (-y, y), (-plug, HAIR))
    grown = (across - made[f"gap_{season}"]) / made["plug_width"]
    return whole.scale([1, grown, 1]).translate([0, 0, data["box"]["height"]])


# -- the checks ----------------------------------------------------------------------------------------------------


def sides(data: Data, *, grooved: bool = True) -> dict[str, Solid]:
    found = {}
    for name in SIDES:
        side = part(data, name)
        solid = board(side) - groove_air(side) if grooved else board(side)
        found[name] = in_place(data, name, solid)
    return found


def overlap(solids: dict[str, Solid]) -> dict[tuple[str, str], float]:
    """Return the pairs that are in one another's place, and by how much, mm³."""
    volumes = {(a, b): (solids[a] ^ solids[b]).volume() for a, b in combinations(solids, 2)}
    return {pair: volume for pair, volume in volumes.items() if volume > NOTHING}


def slid_to(plays: tuple[float, float]) -> list[tuple[float, float]]:
    """Return the middle and all corners of what a part is free to move."""
    steps = [max(0.0, play - HAIR) for play in plays]
    return [(0.0, 0.0), *((x * steps[0], y * steps[1]) for x in (-1, 1) for y in (-1, 1))]


def check_nothing_overlaps(data: Data) -> None:
    """In the shop, driest and wettest, bottom and lid in the middle and pushed into each corner."""
    boards = sides(data)
    assert overlap(boards) == {}
    for season in SEASONS:
        if data["bottom"]:
            made = panel(data, season)
            for slid in slid_to(plays(data, made)):
                assert overlap(boards | {"bottom": turned(data, made.solid, slid)}) == {}, (season, slid)
        if data["lid"]:
            along, _ = inside(data)
            gaps = (along - data["lid"]["plug_length"]) / 2, data["lid"][f"gap_{season}"] / 2
            for slid in slid_to(gaps):
                assert overlap(boards | {"lid": turned(data, lid(data, season), slid)}) == {}, (season, slid)


def check_bottom_moves_and_is_held(data: Data) -> None:
    """Wettest it is free both ways; driest and pushed to one side, all four grooves hold it from falling out."""
    wettest, driest, boards = panel(data, "wet"), panel(data, "dry"), sides(data)
    assert plays(data, wettest)[1] > 0
    held = driest.tongue[1] / 2 - inside(data)[1] / 2
    play = plays(data, driest)
    stays = data["bottom"]["material"] == "plywood"  # glued in the middle
    assert held - (0 if stays else play[1]) >= data["bottom"]["engagement_dry"] - 1e-6
    for slid in slid_to(play):
        fallen = turned(data, driest.solid, slid).translate([0, 0, -part(data, "front")["groove"]["width"]])
        for name, solid in boards.items():
            assert (solid ^ fallen).volume() > 1, (name, slid)


def check_lid_is_free(data: Data) -> None:
    """Wettest it still has a gap all round, and not a wider one than is said: any further and it meets a side."""
    boards, made = sides(data), lid(data, "wet")
    across = data["lid"]["gap_wet"] / 2
    assert across > 0
    for way in (-1, 1):
        assert overlap(boards | {"lid": turned(data, made, (0, way * (across - HAIR)))}) == {}
        assert overlap(boards | {"lid": turned(data, made, (0, way * (across + 0.01)))}) != {}


def check_handle_stands(data: Data) -> None:
    """On a flat planed along the crown its base lies on wood all over, but for the arch.

    The flat is as deep as the crown falls under half of the handle.
    """
    grip, radius = part(data, "handle"), data["lid"]["crown_radius"]
    long, half = grip["length"] / 2, grip["thickness"] / 2
    flat = radius - math.sqrt(radius**2 - half**2) if radius else 0.0
    whole = lid(data, "shop")
    top = whole.bounding_box()[5]
    opening = (data["handle"]["middle"] or {"opening": 0.0})["opening"] / 2
    ends = [(-long, -opening), (opening, long)] if opening else [(-long, long)]
    base = together(block(end, (-half, half), (0, 1)) for end in ends).project()
    assert base.area() == pytest.approx(4 * (long - opening) * half)
    assert (base - whole.slice(top - flat - CHORD)).area() < NOTHING


def groove_seen(data: Data) -> dict[str, float]:
    """Return how much of the grooves, mm², is seen from each of six sides once the fingers are flushed."""
    size = data["box"]
    flush = block((0, size["length"]), (0, size["width"]), (0, size["height"]))
    wood = together(sides(data).values()) ^ flush
    air = (together(sides(data, grooved=False).values()) ^ flush) - wood
    turns = {"above": (0, 0), "below": (180, 0), "the front": (-90, 0), "the back": (90, 0)}
    turns |= {"the left": (0, 90), "the right": (0, -90)}
    seen = {}
    for side, (about_x, about_y) in turns.items():
        turn = [about_x, about_y, 0]
        seen[side] = _seen_from_above(wood.rotate(turn), air.rotate(turn))
    return {side: area for side, area in seen.items() if area > 1e-2}


def _seen_from_above(wood: Solid, air: Solid) -> float:
    """Return the largest area of air at any height that no wood above it covers."""
    heights = sorted({round(float(z), 4) for z in air.to_mesh().vert_properties[:, 2]})
    widest = 0.0
    for low, high in pairwise(heights):
        height = (low + high) / 2
        cover = wood.trim_by_plane([0, 0, 1], height).project().offset(CLOSED, manifold3d.JoinType.Miter)
        widest = max(widest, (air.slice(height) - cover).area())
    return widest


def check_no_groove_shows(data: Data) -> None:
    assert groove_seen(data) == {}


def check_all(data: Data) -> None:
    check_nothing_overlaps(data)
    if part(data, "front")["groove"]:
        check_no_groove_shows(data)
    if data["bottom"]:
        check_bottom_moves_and_is_held(data)
    if data["lid"]:
        check_lid_is_free(data)
    if data["handle"]:
        check_handle_stands(data)


# -- boxes ---------------------------------------------------------------------------------------------------------

REFERENCE = {"M": WHOLE_METRIC, "N": WHOLE_INCHES}


@KERNEL.of()
@pytest.mark.parametrize("sample", SAMPLES, ids=lambda path: path.stem)
def test_the_samples_go_together(sample: Any) -> None:
    data = chain.as_data(chain.work_out(reading.load(sample)))
    assert data["bottom"]
    assert data["lid"]
    check_all(data)


@KERNEL.of()
@pytest.mark.parametrize("name", REFERENCE)
def test_the_reference_boxes_go_together(name: str) -> None:
    check_all(chain.as_data(worked(REFERENCE[name])))


Changes = dict[str, str]
TWO_HOLES, THREE_HOLES = {"handle__holes": "2"}, {"handle__holes": "3", "handle__saw": "26", "handle__length": "96"}
OF_PLYWOOD = {"bottom__material": "plywood"}
KINDS = {
    *(f"layout {one}" for one in ("rip", "keep", "centre")),
    *(f"key {one}" for one in ("right", "left")),
    *(f"by the {one}" for one in ("router table", "table saw")),
    *(f"ends {one}" for one in ("as thick", "thinner", "thicker")),
    *(f"{one} a socket" for one in ("1 cut", "2 cuts", "3 cuts or more")),
    *(f"bottom of {one}" for one in ("solid", "plywood")),
    *(f"{one} handle" for one in ("no", "2-hole", "3-hole")),
    *(f"stopped: {one}" for one in ("longs", "shorts", "all")),
    *(f"{one} corners" for one in ("square", "clip")),
    *(f"{one} count" for one in ("even", "odd")),
    *(f"{one} lid" for one in ("flat", "crowned")),
}
"""What must have been among the boxes that were put together."""


def kinds_of(made: chain.Box, data: Data) -> set[str]:
    """Return what kinds of box one is, as far as it was built."""
    joint, sides = made.file.joint, {name: part(data, name) for name in SIDES}
    unlike = round(sides["left end"]["thickness"] - sides["front"]["thickness"], 6)
    passes, grip = data["fingers"]["passes"], data["handle"]
    stopped = {name for name in SIDES if sides[name]["groove"]["start"] > 0}
    named = {frozenset(SIDES): "all", frozenset({"front", "back"}): "longs"}
    return {
        f"layout {joint.layout}",
        f"key {joint.key_side}",
        f"by the {joint.machine}",
        f"ends {'as thick' if not unlike else 'thinner' if unlike < 0 else 'thicker'}",
        f"{'1 cut' if passes == 1 else '2 cuts' if passes == 2 else '3 cuts or more'} a socket",
        f"bottom of {data['bottom']['material'] if data['bottom'] else 'none'}",
        f"{grip['holes']}-hole handle" if grip else "no handle",
        f"stopped: {named.get(frozenset(stopped), 'shorts')}",
        f"{data['groove']['corner']['kind']} corners",
        f"{'odd' if data['fingers']['count'] % 2 else 'even'} count",
        f"{'crowned' if data['lid'] and data['lid']['crown_radius'] else 'flat'} lid",
    }


@st.composite
def drawn(draw: st.DrawFn) -> Changes:
    """Draw changes to box M: sizes, joint and how it is cut, a groove in a finger of the longs, of the shorts, or
    across both, a bottom of wood or plywood, a lid, a handle of two holes or three."""
    thickness = draw(st.floats(9, 15).map(lambda value: round(value, 1)))
    ends = round(thickness + draw(st.sampled_from([0.0, -2.0, 1.5])), 1)
    cutter = draw(st.sampled_from([4, 6]))
    tongue = round(cutter - draw(st.sampled_from([0.0, 0.1, 0.2])), 1)
    changes = {
        "box__length": draw(st.integers(180, 300)),
        "box__width": draw(st.integers(170, 300)),
        "box__height": draw(st.sampled_from([60, 80, 90, 95.5, 125])),
        "sides__thickness": thickness,
        "sides__ends_thickness": ends,
        "joint__layout": draw(st.sampled_from(["rip", "keep", "centre"])),
        "joint__key_side": draw(st.sampled_from(["right", "left"])),
        "joint__machine": draw(st.sampled_from(["router table", "table saw"])),
        "joint__cutter": draw(st.sampled_from([10, 10, 6, 4, 3.2])),
        "joint__clearance": draw(st.sampled_from([0.05, 0.1, 0.2])),
        "joint__proud": draw(st.sampled_from([0.2, 0.3, 0.5])),
        "groove__depth": round(min(thickness, ends) * draw(st.floats(0.35, 0.5)), 2),
        "groove__from_bottom": draw(st.sampled_from([4.6, 6.0, 8.0, 12.0, 13.2])),
        "groove__cutter": cutter,
        "groove__end_margin": draw(st.sampled_from([3.4, 3.8, 4.2])),
        "lid__crown": draw(st.sampled_from([0, 6])),
        "lid__overhang": draw(st.sampled_from([0, 5, 12])),
    }
    made = {key: str(value) for key, value in changes.items()}
    if draw(st.booleans()):
        made |= OF_PLYWOOD | {"bottom__thickness": str(draw(st.sampled_from([tongue, 8.6])))}
    else:
        made |= {"bottom__tongue": str(tongue), "bottom__thickness": str(draw(st.sampled_from([tongue, 8, 10])))}
    return made | draw(st.sampled_from([TWO_HOLES, THREE_HOLES]))


BY_HAND: tuple[Changes, ...] = (
    {"groove__from_bottom": "8"},  # both kinds of sides are stopped
    {"groove__from_bottom": "3.5"} | THREE_HOLES,  # front and back are stopped
    {"sides__thickness": "9", "groove__depth": "4.5", "groove__end_margin": "3", "bottom__tongue": "6"},  # clipped
    {"sides__ends_thickness": "9", "groove__depth": "4", "joint__key_side": "left", "joint__cutter": "6"},
    {"sides__ends_thickness": "15", "joint__layout": "centre"},
    {"box__height": "95.5", "joint__layout": "keep", "joint__machine": "table saw", "joint__cutter": "3.2"},
    {"box__length": "160", "box__width": "240"},  # the ends are the long sides
    {"bottom__thickness": "6", "lid__crown": "0"},  # planed all over, without rabbets
    {"groove__end_margin": "4.15"} | OF_PLYWOOD,  # a hair short of a square corner
    {"joint__finger": "6.1", "joint__cutter": "6.2", "groove__cutter": "6.35", "groove__from_bottom": "12.3"},
    {"box__height": "80", "handle__length": "300"},  # as many sockets as fingers; a handle that a rule takes
)
"""Boxes that together are of every kind."""


def put_together(changes: Changes) -> set[str]:
    """Check a box, and return its kinds; nothing where a rule takes what is to be looked at."""
    text = WHOLE_METRIC
    if changes.get("bottom__material") == "plywood":
        text = text.replace("tongue = 5.8\n", "")
    made = worked(text, **changes)
    if made.numbers is None or made.groove is None:
        return set()
    data = chain.as_data(made)
    check_all(data)
    return kinds_of(made, data)


@pytest.mark.slow
@KERNEL.of("sled", "stops", "panel", "lid", "handle")
def test_drawn_boxes_go_together() -> None:
    found: Counter[str] = Counter()

    @settings(max_examples=examples(5))
    @given(drawn())
    def any_box(changes: Changes) -> None:
        kinds = put_together(changes)
        found.update(kinds or {"refused"})

    for changes in BY_HAND:
        found.update(put_together(changes))
    any_box()
    assert KINDS - set(found) == set(), found
    compared(found["key right"] + found["key left"])


@KERNEL.of()
@pytest.mark.parametrize(
    "changes",
    [
        {},
        {"bottom__thickness": "8.6"},  # a tongue, its rabbet on the lower face
        {"bottom__thickness": "5.6", "bottom__clearance": "1.5"},
        {"box__length": "160", "box__width": "240"},  # the ends are the long sides
        {"sides__thickness": "9", "groove__depth": "4.5", "groove__end_margin": "3"},  # clipped
        {"groove__from_bottom": "8"},  # both kinds of sides are stopped
    ],
)
def test_a_box_with_a_bottom_of_plywood_goes_together(changes: dict[str, str]) -> None:
    of_sheet = {"bottom__material": "plywood", "bottom__thickness": "5.8"}
    made = worked(WHOLE_METRIC.replace("tongue = 5.8\n", ""), **(of_sheet | changes))
    assert made.bottom
    assert made.bottom.wood is None
    data = chain.as_data(made)
    check_all(data)
    # Its upper face is that of its tongue, which lies on the grooves' lower sides; what is thicker hangs below.
    top = data["bottom"]["upper_face"] - part(data, "front")["groove"]["from_bottom"]
    agree(
        (top, data["bottom"]["upper_face"] - data["bottom"]["lower_face"]),
        (data["bottom"]["tongue"], part(data, "bottom")["thickness"]),
        unit="mm",
    )


@pytest.mark.slow
@KERNEL.of()
@settings(max_examples=3)
@given(st.sampled_from(["3/16", "9/16", "3/8"]), st.sampled_from(["3/8", "1/2", "9/16"]))
def test_drawn_boxes_in_inches_go_together(from_bottom: str, thickness: str) -> None:
    made = worked(WHOLE_INCHES, groove__from_bottom=from_bottom, sides__thickness=thickness, groove__depth="3/16")
    check_all(chain.as_data(made))


# -- broken on purpose ---------------------------------------------------------------------------------------------


def run_through_a_finger(data: Data) -> None:
    for name in ("left end", "right end"):
        side = part(data, name)
        side["groove"] |= {"start": 0.0, "end": side["length"]}


def wrong_spacer(data: Data) -> None:
    for name in ("left end", "right end"):
        side = part(data, name)
        side["sockets"] = [[start + 0.3, end + 0.3] for start, end in side["sockets"]]


def panel_too_wide(data: Data) -> None:
    data["bottom"]["width_wet"] += 0.6


def panel_too_narrow(data: Data) -> None:
    data["bottom"]["width_dry"] -= 4


def corner_left_square(data: Data) -> None:
    data["groove"]["corner"]["size"] = 0.0


def lid_too_wide(data: Data) -> None:
    data["lid"]["gap_wet"] = -0.2


def lid_loose(data: Data) -> None:
    data["box"]["inside_width"] -= 0.5


def sheet_too_long(data: Data) -> None:
    data["bottom"]["length"] += 0.6


def handle_too_long(data: Data) -> None:
    part(data, "handle")["length"] = data["lid"]["length"] + 1


def handle_too_thick(data: Data) -> None:
    part(data, "handle")["thickness"] = data["lid"]["width"] + 1


OF_SHEET = {"bottom__material": "plywood", "bottom__thickness": "8.6"}
CLIPPED = {"sides__thickness": "9", "groove__depth": "4.5", "groove__end_margin": "3.3", "bottom__tongue": "6"}


@pytest.mark.parametrize(
    ("check", "breaking", "changes"),
    [
        (check_nothing_overlaps, wrong_spacer, {}),
        (check_nothing_overlaps, panel_too_wide, {}),
        (check_nothing_overlaps, corner_left_square, CLIPPED),
        (check_nothing_overlaps, lid_too_wide, {}),
        (check_bottom_moves_and_is_held, panel_too_wide, {}),
        (check_bottom_moves_and_is_held, panel_too_narrow, {}),
        (check_nothing_overlaps, sheet_too_long, OF_SHEET),
        (check_bottom_moves_and_is_held, panel_too_narrow, OF_SHEET),
        (check_lid_is_free, lid_too_wide, {}),
        (check_no_groove_shows, run_through_a_finger, {}),
        (check_handle_stands, handle_too_long, THREE_HOLES),
        (check_handle_stands, handle_too_thick, {"lid__crown": "0"}),
    ],
)
def test_every_check_can_fail(
    check: Callable[[Data], None], breaking: Callable[[Data], None], changes: dict[str, str]
) -> None:
    data = chain.as_data(worked(WHOLE_METRIC, **changes))
    check(data)
    broken = copy.deepcopy(data)
    breaking(broken)
    with pytest.raises(AssertionError):
        check(broken)


@KERNEL.of()
def test_a_groove_through_a_finger_shows_at_both_ends_as_large_as_it_is() -> None:
    """Common shop knowledge: 6 wide and 6 deep, at two corners of the front and two of the back."""
    data = chain.as_data(worked(WHOLE_METRIC))
    run_through_a_finger(data)
    seen = groove_seen(data)
    assert set(seen) == {"the front", "the back"}
    agree(seen["the front"], 2 * 6 * 6, 2 * 24 * CLOSED, unit="mm²")
