"""The thin-wood map: the least wood anywhere in a box, found on its outlines and not from a list of formulas.

**What is thin.** An outline is a round of faces: a face runs from one corner to the next, and is straight, round or
both. The wood between two faces is the shortest line from one to the other that lies in the wood; the least of these
lines is the least wood. Two faces that share a corner have none between them: wood runs out at every sharp edge, and
an edge is not a thin place. So a finger, a tongue, a neck between holes, the wall behind a groove and the blunt edge of
a crowned lid are all found in the same way, whoever named them or forgot to.

**How well.** Arcs stand as chords that leave them by at most `CHORD`, so that wood between two arcs is out by at most
twice that.
"""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Collection, Iterator, Mapping, Sequence
from itertools import pairwise

import shapely
from shapely import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from jigs.base import usual
from jigs.base.drawing import Circle, Point, Table, arc
from jigs.base.keeping import kept
from jigs.base.rules import READ_OUT
from jigs.box.chain import Box
from jigs.parts import carving
from jigs.parts.bottom.part import Bottom
from jigs.parts.groove.part import Groove
from jigs.parts.handle import rules as handle_rules
from jigs.parts.handle.middle_rules import LEAST_FOOT
from jigs.parts.handle.part import Handle
from jigs.parts.joint.fit_rules import FRAGILE_FINGER
from jigs.parts.joint.part import LONGS, SHORTS, cut_depths
from jigs.parts.lid import rules as lid_rules
from jigs.parts.lid.part import Lid
from jigs.parts.pattern.part import Pattern
from jigs.parts.shell.part import Shell
from jigs.record import Record, replace
from jigs.trade import groove as trade_groove
from jigs.trade.sled import SledNumbers

CHORD = 0.001
"""How far, in mm, a chord may lie from the arc that it stands for."""
CORNER = 15.0
"""Where an outline turns by more than this, in degrees, a face ends; between the chords of an arc it turns by less."""
TOUCH = 1e-4
"""Points nearer than this to a line lie on it, mm."""

_FIRST_REACH = 4.0
"""How far apart the faces are that are looked at first, mm."""

Outline = Sequence[tuple[float, float]]


class Thin(Record):
    """A thin place: the wood there, from one point to the other in the axes of its section, and what a rule wants.

    `least` is None where no rule asks for anything.
    """

    part: str
    place: str
    wood: float
    ends: tuple[Point, Point]
    section: str
    least: float | None

    @property
    def where(self) -> Point:
        """The middle of the wood, in the axes of the section."""
        (x1, y1), (x2, y2) = self.ends
        return Point((x1 + x2) / 2, (y1 + y2) / 2)

    @property
    def met(self) -> bool:
        """Whether there is as much wood as is wanted, read out to the same step as the rules."""
        return self.least is None or self.wood >= self.least - READ_OUT


class Place(Record):
    """What the wood between faces of two names is called, and the least a rule wants of it."""

    part: str
    words: str
    faces: tuple[str, str]
    least: float | None = None


class Section(Record):
    """The wood of a part, cut or seen from one side, and the names of its faces: a face has the first that it lies on.

    `name` says how it is cut and where its axes start. `corners` are points that are measured from like faces.
    """

    name: str
    part: str
    wood: BaseGeometry
    names: Mapping[str, Sequence[Outline]]
    places: tuple[Place, ...]
    corners: Mapping[str, Sequence[tuple[float, float]]]


@kept(8)
def thin_wood(box: Box) -> tuple[Thin, ...]:
    """Return the thin places of a box, the thinnest first: every named one, and any thinner one that has no name."""
    thinnest: dict[tuple[str, str], Thin] = {}
    for section in sections(box):
        for thin in measure(section):
            known = thinnest.get((thin.part, thin.place))
            if known is None or thin.wood < known.wood:
                thinnest[thin.part, thin.place] = thin
    return tuple(sorted(thinnest.values(), key=lambda thin: (round(thin.wood, 6), thin.part, thin.place)))


def table(box: Box) -> Table:
    """Return the thin places as a table."""
    rows = tuple(
        (thin.part, thin.place, thin.wood, "–" if thin.least is None else thin.least, "yes" if thin.met else "no")
        for thin in thin_wood(box)
    )
    return Table("thin-wood", "Thinnest sections, thinnest first", ("Part", "Place", "Wood", "Least", "Enough"), rows)


# -- measuring -----------------------------------------------------------------------------------------------------


class _Face(Record):
    """A face of an outline, the wood on its left; a corner that is measured from is a face of one point.

    `neighbours` are the numbers of the faces that it meets at its corners.
    """

    name: str
    line: BaseGeometry
    points: Sequence[tuple[float, ...]]
    neighbours: frozenset[int] = frozenset()


_Between = tuple[_Face, _Face, LineString]
"""Two faces, and the shortest line from one to the other."""


def measure(section: Section) -> list[Thin]:
    """Return the least wood of every place of a section, and of what is thinner than all of these."""
    found: list[Thin] = []
    places = {frozenset(place.faces): place for place in section.places}
    for wood in shapely.get_parts(section.wood):
        for first, second, line in _nearest(wood, _faces(wood, section), section, places):
            place = places.get(_both((first, second)))
            start, end = (Point(*at) for at in line.coords)
            words = place.words if place else f"between {first.name} and {second.name}"
            part, least = (place.part, place.least) if place else (section.part, None)
            found.append(Thin(part, words, line.length, (start, end), section.name, least))
    named = {place.words for place in section.places}
    least = min((thin.wood for thin in found if thin.place in named), default=math.inf)
    return [thin for thin in found if thin.place in named or thin.wood < least - TOUCH]


def _both(pair: tuple[_Face, _Face]) -> frozenset[str]:
    return frozenset(face.name for face in pair)


def _nearest(
    wood: Polygon, faces: Sequence[_Face], section: Section, places: Mapping[frozenset[str], Place]
) -> list[_Between]:
    """Return the wood between faces, in their order, as far out as it takes to find the least of every place.

    Near faces are looked at first, then those up to twice as far apart. A place that was found has nothing less further
    out; nor does wood without a name matter there once any place was found. All pairs would be the square of them.
    """
    tree = shapely.STRtree([face.line for face in faces])
    there = {face.name for face in faces}
    missing = {names for names in places if names <= there}
    found: dict[tuple[int, int], _Between] = {}
    seen: set[tuple[int, int]] = set()
    left, bottom, right, top = wood.bounds
    reach, most = _FIRST_REACH, math.hypot(right - left, top - bottom)
    known: set[frozenset[str]] = set()
    while missing or not known:
        near = [(i, j) for i, j in _within(tree, faces, reach, missing if known else None) if (i, j) not in seen]
        seen.update(near)
        asked = [
            (i, j)
            for i, j in near
            if j not in faces[i].neighbours
            and (faces[j].name not in section.corners or _both((faces[i], faces[j])) in places)
        ]
        found |= {
            asked[number]: between for number, between in _in_wood(wood, [(faces[i], faces[j]) for i, j in asked])
        }
        known = {_both((first, second)) for first, second, _ in found.values()} & places.keys()
        missing -= known
        if reach > most:
            break
        reach *= 2
    return [found[pair] for pair in sorted(found)]


def _within(
    tree: shapely.STRtree, faces: Sequence[_Face], reach: float, of: Collection[frozenset[str]] | None
) -> Iterator[tuple[int, int]]:
    """Yield the numbers of faces no further apart than this, the lower first; only those of some names, if there are.

    Of two names the faces that have the rarer one are asked what is near them.
    """
    count = Counter(face.name for face in faces)
    asking = None if of is None else {min(names, key=lambda name: (count[name], name)) for names in of}
    numbers = [i for i, face in enumerate(faces) if asking is None or face.name in asking]
    asked, near = tree.query([faces[i].line for i in numbers], predicate="dwithin", distance=reach)
    for number, j in zip(asked.tolist(), near.tolist(), strict=True):
        i = numbers[number]
        if i != j and (of is None or _both((faces[i], faces[j])) in of):
            yield min(i, j), max(i, j)


def _in_wood(wood: Polygon, pairs: Sequence[tuple[_Face, _Face]]) -> Iterator[tuple[int, _Between]]:
    """Yield the shortest line between faces, where it leaves both into the wood and stays in it, by the pair's number.

    A line that leaves the wood is passed over: the face at which it does is nearer, and has a line of its own.
    """
    if not pairs:
        return
    lines = shapely.shortest_line([first.line for first, _ in pairs], [second.line for _, second in pairs])
    room = wood.buffer(TOUCH, join_style="mitre")
    shapely.prepare(room)
    inside = shapely.covers(room, lines) & (shapely.length(lines) > TOUCH)
    for number in inside.nonzero()[0].tolist():
        (first, second), line = pairs[number], lines[number]
        start, end = line.coords
        if _faces_to(first, start, end) and _faces_to(second, end, start):
            yield number, (first, second, line)


def _faces_to(face: _Face, start: tuple[float, ...], towards: tuple[float, ...]) -> bool:
    """Tell whether a line from a point of a face goes to the side where its wood is."""
    if len(face.points) == 1:
        return True
    along = (towards[0] - start[0], towards[1] - start[1])
    for (x1, y1), (x2, y2) in pairwise(face.points):
        long = math.hypot(x2 - x1, y2 - y1)
        if long < TOUCH:  # two points of an outline that are one, and face nowhere
            continue
        share = ((start[0] - x1) * (x2 - x1) + (start[1] - y1) * (y2 - y1)) / long**2
        share = min(1.0, max(0.0, share))
        on_it = math.dist(start, (x1 + share * (x2 - x1), y1 + share * (y2 - y1))) < TOUCH
        if on_it and ((x2 - x1) * along[1] - (y2 - y1) * along[0]) > TOUCH * long * math.hypot(*along):
            return True
    return False


def _faces(wood: Polygon, section: Section) -> list[_Face]:
    """Return the faces of an outline and the corners that are measured from."""
    faces: list[_Face] = []
    oriented = shapely.orient_polygons(wood)
    lines = {name: shapely.MultiLineString(list(map(list, outlines))) for name, outlines in section.names.items()}
    for ring in (oriented.exterior, *oriented.interiors):
        runs = _between_corners(list(ring.coords)[:-1])
        first = len(faces)
        for i, run in enumerate(runs):
            beside = {first + (i + step) % len(runs) for step in (-1, 1)}
            faces.append(_Face(_name(run, lines), shapely.linestrings(run), run, frozenset(beside)))
    for name, points in section.corners.items():
        faces += [_Face(name, shapely.Point(point), [point]) for point in points]
    return faces


def _between_corners(ring: list[tuple[float, ...]]) -> list[list[tuple[float, ...]]]:
    """Return the runs of a round of points from corner to corner; the whole round where it has none."""
    count = len(ring)
    corners = [i for i in range(count) if _turn(ring[i - 1], ring[i], ring[(i + 1) % count]) > CORNER]
    if not corners:
        return [[*ring, ring[0]]]
    ends = [*corners[1:], corners[0] + count]
    return [[ring[i % count] for i in range(a, b + 1)] for a, b in zip(corners, ends, strict=True)]


def _turn(before: tuple[float, ...], at: tuple[float, ...], after: tuple[float, ...]) -> float:
    """Return by how many degrees a line turns at a point."""
    first = math.atan2(at[1] - before[1], at[0] - before[0])
    second = math.atan2(after[1] - at[1], after[0] - at[0])
    return abs(math.degrees((second - first + math.pi) % math.tau - math.pi))


def _name(run: list[tuple[float, ...]], lines: Mapping[str, BaseGeometry]) -> str:
    """Return the name of the first line that the middle of a run lies on."""
    (x1, y1), (x2, y2) = run[(len(run) - 1) // 2 : (len(run) - 1) // 2 + 2]
    middle = shapely.Point((x1 + x2) / 2, (y1 + y2) / 2)
    return next((name for name, line in lines.items() if line.distance(middle) < TOUCH), "another face")


# -- sections ------------------------------------------------------------------------------------------------------


def sections(box: Box) -> Iterator[Section]:
    """Yield the sections of a box in which its wood gets thin."""
    if box.numbers:
        yield from (_side(box, box.numbers, kind) for kind in (LONGS, SHORTS))
    if box.groove or box.shell or box.pattern:
        yield _across_a_side(box)
    if box.shell:
        yield _chips(box.shell)
    if box.bottom:
        yield _bottom(box.bottom)
    if box.lid:
        yield _across_the_lid(box.lid)
        yield _along_the_lid(box.lid)
    if box.handle:
        yield _handle(box.handle)
        yield _neck(box.handle)


def _arch(half: float, height: float, rise: float) -> Outline:
    """Return an arch from right to left over the middle, by the three points it goes through; flat with no rise.

    Its centre is as far from its top as from its ends, so the radius is (half² + rise²) / (2·rise).
    """
    right, left = (half, height - rise), (-half, height - rise)
    if not rise:
        return [right, left]
    radius = (half**2 + rise**2) / (2 * rise)
    angle = math.degrees(math.atan2(half, radius - rise))
    return [right, *arc((0, height - radius), radius, 90 - angle, 90 + angle).points(CHORD)[1:-1], left]


def _side(box: Box, numbers: SledNumbers, kind: str) -> Section:
    """Return a side as seen on its inner face, as deep as its groove."""
    length = (box.file.box.length if kind == LONGS else box.file.box.width) + 2 * box.file.joint.proud
    width, depth = numbers.width, cut_depths(box.file)[kind]
    sockets = numbers.long_sockets if kind == LONGS else numbers.short_sockets
    cut = [
        shapely.box(left, span.start, right, span.end)
        for span in sockets
        for left, right in ((-1.0, depth), (length - depth, length + 1))
    ]
    wood: BaseGeometry = shapely.box(0, 0, length, width).difference(shapely.union_all(cut))
    names: dict[str, Sequence[Outline]] = {}
    places = [Place(kind, "a finger", pair, max(FRAGILE_FINGER, numbers.finger / 3)) for pair in _FINGER]
    if made := box.groove:
        cutter = _slot(made, kind, length)
        wood = wood.difference(shapely.Polygon(cutter))
        names["the groove"] = [cutter]
        places += _beside_groove(made, kind)
    ends = [[(x, 0.0), (x, width)] for x in (0.0, length)]
    cheeks = [
        [(start, y), (start + depth, y)]
        for span in sockets
        for y in (span.start, span.end)
        for start in (0.0, length - depth)
        if 0 < y < width
    ]
    names |= {
        "a cheek": cheeks,
        "an end": ends,
        "a socket's floor": [[(x, 0), (x, width)] for x in (depth, length - depth)],
    }
    names |= {"the bottom edge": [[(0, 0), (length, 0)]], "the top edge": [[(0, width), (length, width)]]}
    return Section(f"inner face of {kind}, from the left end and the bottom edge", kind, wood, names, tuple(places), {})


_FINGER = (("a cheek", "a cheek"), ("a cheek", "the bottom edge"), ("a cheek", "the top edge"))


def _beside_groove(made: Groove, kind: str) -> list[Place]:
    """Return what is called how round the groove of one kind of side."""
    under = Place("sides", "under the groove", ("the groove", "the bottom edge"), made.least_from_bottom)
    if kind not in made.stopped_kinds:
        return [under]
    return [
        under,
        Place(kind, "end margin, beyond the stopped groove", ("the groove", "an end"), made.end_margin_range[0]),
        Place(kind, "in a finger, beside the groove", ("the groove", "a cheek"), trade_groove.MARGIN),
    ]


def _slot(made: Groove, kind: str, length: float) -> list[tuple[float, float]]:
    """Return what the cutter sweeps, seen on the face: round ends where it is stopped."""
    low, high, radius = made.from_bottom, made.top, made.radius
    if kind not in made.stopped_kinds:
        return [(-1, low), (length + 1, low), (length + 1, high), (-1, high), (-1, low)]
    left, right, middle = made.end_margin + radius, length - made.end_margin - radius, (low + high) / 2
    turns = (arc((right, middle), radius, -90, 90), arc((left, middle), radius, 90, 270))
    return [*turns[0].points(CHORD), *turns[1].points(CHORD), (right, low)]


def _across_a_side(box: Box) -> Section:
    """Return a side cut across, with the chips of a shell or a pattern on its face."""
    carved = box.shell or box.pattern
    width, made = box.height, box.groove
    thickness, side = (box.pattern.thickness, box.pattern.side) if box.pattern else (box.file.sides.thickness, "front")
    wood: BaseGeometry = shapely.box(0, 0, thickness, width)
    names: dict[str, Sequence[Outline]] = {}
    places: list[Place] = []
    if carved:
        chips = list(_chips_across(carved))
        for chip in chips:
            wood = wood.difference(shapely.Polygon(chip))
        names["a chip"] = chips
        least, of_it = carving.LEAST_UNDER_CHIP, "chips of the shell" if box.shell else "chips of the pattern"
        places.append(Place(side, f"under the {of_it}", ("a chip", "the inner face"), least))
        places.append(Place(side, f"from the {of_it} to the groove", ("a chip", "the groove"), least))
    if made:
        low, high, floor, over = made.from_bottom, made.top, thickness - made.depth, thickness + 1
        wood = wood.difference(shapely.box(floor, low, over, high))
        names["the groove"] = [[(over, low), (floor, low), (floor, high), (over, high)]]
        places.append(Place("sides", "wall behind the groove", ("the groove", "the outer face"), thickness / 2))
        places.append(Place("sides", "under the groove", ("the groove", "the bottom edge"), made.least_from_bottom))
    names["the outer face"] = [[(0, 0), (0, width)]]
    names["the inner face"] = [[(thickness, 0), (thickness, width)]]
    names["the bottom edge"], names["the top edge"] = [[(0, 0), (thickness, 0)]], [[(0, width), (thickness, width)]]
    cut = "a side cut across, from the outer face and the bottom edge"
    return Section(cut, "sides", wood, names, tuple(places), {})


def _chips_across(carved: Shell | Pattern) -> Iterator[Outline]:
    """Yield the chip nearest to the groove and the highest, as deep as any: where a pattern is deepest is not settled.

    It stands in the middle of what is free over the groove, lower where it would stand out over the top edge.
    """
    height, groove_at = carved.over_all[1], carved.groove.fence if carved.groove else 0.0
    low = carved.placed.bottom if isinstance(carved, Pattern) else carved.pivot_height
    high = low + height - carved.chip
    for start in (min(max(low, groove_at - carved.chip / 2), high), high):
        # A hair out of the face, so that the cut leaves no film on it.
        out, wider = 1e-3, 1e-3 * carved.chip / 2 / carved.chip_depth
        tip = (carved.chip_depth, start + carved.chip / 2)
        yield [(-out, start - wider), tip, (-out, start + carved.chip + wider), (-out, start - wider)]


def _chips(fan: Shell) -> Section:
    """Return the face of the shell with the chips of its ribs."""
    rim, hinge, half = fan.fan.rib_radius, fan.hinge, fan.chip / 2
    chips: list[Outline] = []
    wood: BaseGeometry = shapely.box(-2 * rim, -2 * rim, 2 * rim, 2 * rim)
    for rib in fan.fan.ribs:
        sine, cosine = math.sin(math.radians(rib)), math.cos(math.radians(rib))
        across = [(0.0, hinge), (half, rim), (-half, rim), (0.0, hinge)]
        chip = [(x * cosine + y * sine, y * cosine - x * sine) for x, y in across]
        chips.append(chip)
        wood = wood.difference(shapely.Polygon(chip))
    ridge = Place("front", "ridge between chips of the shell", ("a chip", "a chip"), carving.LEAST_RIDGE)
    return Section("face of the shell, from its pivot", "front", wood, {"a chip": chips}, (ridge,), {})


def _bottom(made: Bottom) -> Section:
    """Return the bottom cut across its grain."""
    half, thickness, (under, over) = made.seasons.width / 2, made.thickness, made.rabbet_depths
    inner = half - made.rabbet_widths[0]
    body, tongue = shapely.box(-inner, 0, inner, thickness), shapely.box(-half, under, half, thickness - over)
    names = {"a rabbet's floor": [[(-half, y), (half, y)] for y in (under, thickness - over)]}
    places = (Place("bottom", "tongue", ("a rabbet's floor", "a rabbet's floor")),)
    cut = "the bottom cut across, from its middle and underside"
    return Section(cut, "bottom", body.union(tongue), names, places, {})


def _across_the_lid(made: Lid) -> Section:
    """Return the lid cut across its grain, in the middle of its length."""
    half = made.width / 2
    top = _arch(half, made.thickness, made.crown)
    return _lid(
        "cut across", made, half, made.plug.width / 2, top, "edge, above the rabbet", "above the plug’s shoulder"
    )


def _along_the_lid(made: Lid) -> Section:
    """Return the lid cut along its grain, in the middle of its width."""
    half = made.length / 2
    top = _arch(half, made.thickness, 0.0)
    return _lid("cut along", made, half, made.plug_length / 2, top, "end, above the rabbet")


def _lid(cut: str, made: Lid, half: float, plug: float, top: Outline, edge: str, shoulder: str = "") -> Section:
    """Return the lid cut one way, `half` of it and of its plug wide; the shoulder is measured where it has a name."""
    low = made.plug_depth
    wood = shapely.Polygon([*top, (-half, low), (-plug, low), (-plug, 0), (plug, 0), (plug, low), (half, low)])
    names: dict[str, Sequence[Outline]] = {
        "the rabbet": [[(-half, low), (-plug, low)], [(plug, low), (half, low)]],
        "the top": [top],
    }
    places = [Place("lid", edge, ("the rabbet", "the top"), lid_rules.LEAST_EDGE)]
    if shoulder:
        places.append(Place("lid", shoulder, ("the shoulder", "the top"), lid_rules.LEAST_EDGE))
    corners = {"the shoulder": [(-plug, low), (plug, low)]} if shoulder else {}
    cut = f"the lid {cut}, from its middle and the plug's underside"
    return Section(cut, "lid", wood, names, tuple(places), corners)


def _handle(made: Handle) -> Section:
    """Return the face of the handle."""
    half, crest = made.length / 2, _arch(made.length / 2, made.height, made.crest)
    aside, up = made.between + made.radius, made.base + made.radius
    rims = [Circle(Point(x, up), made.radius).points(CHORD) for x in (-aside, aside)]
    middle = [Circle(Point(hole.x, hole.y), hole.radius).points(CHORD)] if (hole := made.middle) else []
    wood: BaseGeometry = shapely.Polygon([*crest, (-half, 0), (half, 0)])
    for rim in rims + middle:
        wood = wood.difference(shapely.Polygon(rim))
    base, ends = [(-half, 0), (half, 0)], [[(x, 0), (x, made.height)] for x in (-half, half)]
    names: dict[str, Sequence[Outline]] = {"a hole": rims, "the crest": [crest], "the base": [base]}
    places = [
        Place("handle", "neck, between the holes", ("a hole", "a hole"), handle_rules.LEAST_NECK),
        Place("handle", "base, under a hole", ("a hole", "the base"), usual.LEAST_WEB),
        Place("handle", "above a hole, to the crest", ("a hole", "the crest"), usual.LEAST_WEB),
    ]
    if made.arched:
        names |= {"the arch": middle, "an end": ends}
        places += [
            replace(places[0], faces=("a hole", "the arch")),
            replace(places[2], faces=("the arch", "the crest")),
            Place("handle", "foot, beside the arch", ("the arch", "an end"), LEAST_FOOT),
        ]
    else:
        names["a hole"] = rims + middle
    return Section("face of the handle, from its middle and base", "handle", wood, names, tuple(places), {})


def _neck(made: Handle) -> Section:
    """Return the neck cut level, where it is narrowest."""
    wide, thick = made.neck, made.thickness
    wood, faces = shapely.box(0, 0, wide, thick), [[(0, y), (wide, y)] for y in (0, thick)]
    place = Place("handle", "neck, through its thickness", ("a face", "a face"), handle_rules.LEAST_NECK_AREA / wide)
    names = {"a face": faces, "a hole": [[(x, 0), (x, thick)] for x in (0, wide)]}
    width = Place("handle", "neck, between the holes", ("a hole", "a hole"), handle_rules.LEAST_NECK)
    return Section("the neck cut level, from a corner", "handle", wood, names, (place, width), {})
