"""The box with the part of a set-up in hand: brought out along its own axis, in its wood, with the sizes of the set-up.

The box stands in its place in a pale tint. Where a rule stops what the set-up makes all of it is in pencil: white
faces, thin edges; boards have no fingers where even the joint has no numbers. What the file does not ask for is not
there. Axes are those of `isometric`: x along the front, y to the back, z up; the eye sees front, right end and top.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise
from typing import Literal, get_args

import shapely
from shapely.geometry.base import BaseGeometry

from jigs.base.errors import CannotRead
from jigs.base.wording import near, shown
from jigs.box import isometric
from jigs.box.chain import Box
from jigs.box.isometric import Face, Flat, Place, Solid, Stretch
from jigs.box.scene import Measure, Scene, Tie
from jigs.boxfile.sections import BoxFile
from jigs.parts.bottom.part import Bottom
from jigs.parts.handle.part import Handle
from jigs.parts.joint.part import LONGS, MEMBERS, SHORTS, thicknesses
from jigs.parts.shell import templates as shell_templates
from jigs.record import Record, replace
from jigs.trade.fingers import Span, fingers_between
from jigs.trade.sled import SledNumbers

SetUp = Literal["wood", "sled", "groove", "bottom", "shell", "lid", "handle", "glue", "print"]
SET_UPS: tuple[SetUp, ...] = get_args(SetUp)
"""The set-ups in the order of the work."""

_SIDES = ("front", "right-end", "back", "left-end")
_ON_TOP = ("lid", "plug", "handle")
_OUT = Place(0, -1, 0)
_RIGHT, _LEFT, _BACK, _UP, _DOWN = Place(1, 0, 0), Place(-1, 0, 0), Place(0, 1, 0), Place(0, 0, 1), Place(0, 0, -1)
_LEVEL = Place(0.5**0.5, 0.5**0.5, 0)
"""The way that is level and to the right in the picture."""
_THINNEST = 0.45
"""A plain board takes this share of the box at most: walls thicker than that leave no inside."""
_STOPPED = "In pencil: what can’t be cut yet."


# -- the parts in their places -------------------------------------------------------------------------------------


class _Kit(Record, dict=True):
    """The parts of a box as solids, closed; plain boards where a rule stops what would shape them."""

    box: Box

    @property
    def file(self) -> BoxFile:
        """Its file."""
        return self.box.file

    @property
    def long(self) -> float:
        """Outside along the front."""
        return self.file.box.length

    @property
    def wide(self) -> float:
        """Outside along the ends."""
        return self.file.box.width

    @property
    def high(self) -> float:
        """Width of the sides."""
        return self.box.height

    @property
    def least(self) -> float:
        """The shorter outside."""
        return min(self.long, self.wide)

    @property
    def apart(self) -> float:
        """How far a side is brought out: its fingers come clear of their sockets."""
        return max(isometric.APART * self.least + 10.0, 2.2 * max(thicknesses(self.file).values()))

    @property
    def lift(self) -> float:
        """How far lid or bottom is raised."""
        return 0.5 * self.least

    @property
    def numbers(self) -> SledNumbers | None:
        """Those of the joint; None where it can't be cut, and where its boards would leave no inside."""
        return self.box.numbers if min(self.box.inside) > 0 else None

    @cached_property
    def solids(self) -> dict[str, Solid]:
        """All parts by name, in their places in the closed box."""
        made = {solid.name: solid for solid in isometric.solids_of(self.box, 0.0)} or self._plain_sides()
        if self.file.bottom and "bottom" not in made:
            made["bottom"] = self._plain_bottom(self.file.bottom.thickness)
        if self.file.lid and "lid" not in made:
            made["lid"] = self._plain_lid(self.file.lid.overhang, self.file.lid.thickness)
        if self.file.handle and "handle" not in made and (handle := self.box.handle):
            along_x = self.long >= self.wide
            middle = (self.long / 2, self.wide / 2) if along_x else (self.wide / 2, self.long / 2)
            foot = self.high + (self.file.lid.thickness if self.file.lid else 0.0)
            made["handle"] = isometric.handle_solid(handle, middle, foot, along_x=along_x)
        return made

    def some(self, *names: str) -> tuple[Solid, ...]:
        """Return those of these parts that there are."""
        return tuple(self.solids[name] for name in names if name in self.solids)

    def without(self, *names: str) -> tuple[Solid, ...]:
        """Return all parts but these."""
        return tuple(solid for name, solid in self.solids.items() if name not in names)

    def _plain_sides(self) -> dict[str, Solid]:
        """Return the sides as boards without fingers, the ends between front and back."""
        thick = thicknesses(self.file)
        side, end = min(thick[LONGS], _THINNEST * self.wide), min(thick[SHORTS], _THINNEST * self.long)
        return {
            "front": _block("front", "Front", (0, self.long), (0, side), (0, self.high)),
            "right-end": _block(
                "right-end", "Right end", (self.long - end, self.long), (side, self.wide - side), (0, self.high)
            ),
            "back": _block("back", "Back", (0, self.long), (self.wide - side, self.wide), (0, self.high)),
            "left-end": _block("left-end", "Left end", (0, end), (side, self.wide - side), (0, self.high)),
        }

    def _plain_bottom(self, thick: float) -> Solid:
        walls = thicknesses(self.file)
        side, end = min(walls[LONGS], _THINNEST * self.wide), min(walls[SHORTS], _THINNEST * self.long)
        low = min(self.file.groove.from_bottom or 0.0 if self.file.groove else 0.0, self.high / 2)
        sizes = (end, self.long - end), (side, self.wide - side), (low, low + min(thick, self.high / 2))
        return _block("bottom", "Bottom", *sizes)

    def _plain_lid(self, over: float, thick: float) -> Solid:
        sizes = (-over, self.long + over), (-over, self.wide + over), (self.high, self.high + thick)
        return _block("lid", "Lid", *sizes)

    # -- with the groove, and the panel as it is cut

    def grooved(self, name: str) -> Solid:
        """Return the back or the left end with the groove in its inner face; as it is where there is none."""
        made, solid = self.box.groove, self.solids[name]
        if made is None or self.numbers is None:
            return solid
        back = name == "back"
        place = _along_x if back else _along_y
        inner, outer = self._depths(name)
        floor = inner + (made.depth if back else -made.depth)
        pieces = []
        for area, depth in self._banded(name, solid, back=back):
            between = (floor if depth else inner, outer)
            for piece in shapely.get_parts(area):
                if piece.geom_type == "Polygon" and piece.area > 1e-3:
                    outline = [(float(x), float(y)) for x, y in piece.exterior.coords[:-1]]
                    pieces.append(isometric.prism(name, solid.title, outline, between, place))
        return Solid(name, solid.title, tuple(face for piece in pieces for face in piece.faces))

    def _depths(self, name: str) -> Stretch:
        """Return where the inner and the outer face of the back or the left end lie."""
        thick = thicknesses(self.file)
        return (self.wide - thick[LONGS], self.wide) if name == "back" else (thick[SHORTS], 0.0)

    def _banded(self, name: str, solid: Solid, *, back: bool) -> Iterator[tuple[BaseGeometry, bool]]:
        """Yield the outline of a board in pieces without holes, and whether each lies behind the groove."""
        made = self.box.groove
        assert made is not None, "asked for a groove that there is not"
        corners = solid.faces[0].corners
        outline = shapely.Polygon([(c.x if back else c.y, c.z) for c in corners]).buffer(0)
        far, proud = 2 * (self.long + self.wide), self.file.joint.proud
        yield outline.intersection(shapely.box(-far, -far, far, made.from_bottom)), False
        yield outline.intersection(shapely.box(-far, made.top, far, far)), False
        band = outline.intersection(shapely.box(-far, made.from_bottom, far, made.top))
        name = name.replace("-", " ")
        if name not in made.stopped:
            yield band, True
            return
        start, end = (at - proud for at in made.ends(name))
        radius, middle = made.radius, made.from_bottom + made.radius
        left, right = sorted((start + radius, end - radius))
        yield band.intersection(shapely.box(left, -far, right, far)), True
        for at, beside in ((left, shapely.box(-far, -far, left, far)), (right, shapely.box(right, -far, far, far))):
            rounded = shapely.Point(at, middle).buffer(radius, quad_segs=8)
            yield band.intersection(beside).difference(rounded), False
            yield band.intersection(beside).intersection(rounded), True

    def panel(self, made: Bottom) -> Solid:
        """Return the bottom as it is cut, tongue and rabbets, in its place."""
        middle = self.long / 2, self.wide / 2
        sizes = made.length, made.seasons.width
        moves, held = made.rabbet_widths
        below, above = made.rabbet_depths
        low, high = made.lower_face, made.upper_face
        layers = [(low, low + below, True), (low + below, high - above, False), (high - above, high, True)]
        faces: list[Face] = []
        for bottom, top, inset in layers:
            if top - bottom > 1e-6:
                along, across = (sizes[0] - 2 * held, sizes[1] - 2 * moves) if inset else sizes
                x, y = (along, across) if self.long >= self.wide else (across, along)
                layer = ((middle[0] - x / 2, middle[0] + x / 2), (middle[1] - y / 2, middle[1] + y / 2))
                faces += _block("bottom", "Bottom", *layer, (bottom, top)).faces
        return Solid("bottom", "Bottom", tuple(faces))


def _along_x(across: float, up: float, deep: float) -> Place:
    return Place(across, deep, up)


def _along_y(across: float, up: float, deep: float) -> Place:
    return Place(deep, across, up)


def _block(name: str, title: str, x: Stretch, y: Stretch, z: Stretch) -> Solid:
    corners: list[Flat] = [(x[0], z[0]), (x[1], z[0]), (x[1], z[1]), (x[0], z[1])]
    return isometric.prism(name, title, corners, y, _along_x)


def _raised(solids: Sequence[Solid], names: Sequence[str], by: Place) -> tuple[Solid, ...]:
    return tuple(isometric.moved(solid, by) if solid.name in names else solid for solid in solids)


# -- scenes --------------------------------------------------------------------------------------------------------


def named(set_up: str) -> SetUp:
    """Return a set-up by its name. Raises CannotRead, with near names, where there is none of it."""
    for known in SET_UPS:
        if known == set_up:
            return known
    raise CannotRead(f"there is no set-up '{shown(set_up)}'; {near(set_up, list(SET_UPS))}")


def scene(box: Box, set_up: SetUp) -> Scene:
    """Return what is shown of a box for a set-up."""
    kit = _Kit(box)
    asked, can = _asked(box, set_up), _can_be_made(box, set_up)
    if not asked:
        part = "carving" if set_up == "shell" else set_up
        return Scene(f"In pencil: the box. It has no {part}.", kit.without())
    made = _SCENES[set_up](kit)
    if not can:
        return replace(made, words=_STOPPED, hand=frozenset(), measures=(), ties=(), pencil=True)
    return made


def _asked(box: Box, set_up: SetUp) -> bool:
    """Tell whether a file asks for what a set-up makes."""
    if set_up == "shell":
        return bool(box.file.shell or box.file.pattern)
    return set_up not in _MADE or getattr(box.file, set_up) is not None


_MADE: Mapping[str, tuple[str, ...]] = {name: (name,) for name in ("groove", "bottom", "lid", "handle")} | {
    "shell": ("shell", "pattern")
}
"""The sections of a file that a set-up makes, where it makes a part that may be left out."""


def _can_be_made(box: Box, set_up: SetUp) -> bool:
    """Tell whether no rule stops what a set-up makes."""
    if set_up in ("wood", "glue", "print"):
        return not box.stopped
    if set_up == "sled":
        return _Kit(box).numbers is not None
    sections = _MADE[set_up]
    stopped = {problem.where.partition(".")[0] for problem in box.problems if problem.severity == "stop"}
    missing = [name for name in sections if getattr(box.file, name) and not getattr(box, name)]
    return _Kit(box).numbers is not None and not missing and stopped.isdisjoint(sections)


def _whole(kit: _Kit) -> Scene:
    lid = ", closed" if "lid" in kit.solids else ""
    return Scene(f"In hand: the whole box{lid}.", kit.without(), frozenset(kit.solids))


def _glued(kit: _Kit) -> Scene:
    solids = kit.without(*_ON_TOP)
    return Scene("In hand: the box, its corners closed, without a lid.", solids, frozenset(s.name for s in solids))


def _sled(kit: _Kit) -> Scene:
    out = Place(kit.apart, 0, 0)
    solids = _raised(kit.without(*_ON_TOP), ["right-end"], out)
    long, wide, high, right = kit.long, kit.wide, kit.high, kit.long + kit.apart
    measures = [
        Measure(Place(0, 0, 0), Place(long, 0, 0), _OUT, "outside length"),
        Measure(Place(right, 0, 0), Place(right, wide, 0), _RIGHT, "outside width"),
        Measure(Place(0, 0, 0), Place(0, 0, high), _LEFT, "plane to, last", "gauge", "plane last"),
    ]
    for span, name in _finger_and_socket(kit):
        ends = Place(right, wide, span.start), Place(right, wide, span.end)
        measures.append(Measure(*ends, _LEVEL, name, "gauge", name, small=True))
    corners = [(0, 0), (0, high), (wide, high), (wide, 0)]
    ties = [Tie(Place(long, y, z), Place(right, y, z)) for y, z in corners]
    words = "In hand: the front and the right end. In pencil: to be made."
    return Scene(words, solids, frozenset({"front", "right-end"}), tuple(measures), tuple(ties))


def _finger_and_socket(kit: _Kit) -> Iterator[tuple[Span, str]]:
    """Yield a socket of the right end and a finger beside it, both whole where there are such, near its top."""
    numbers = kit.numbers
    if numbers is None:
        return
    sockets = numbers.short_sockets
    fingers = fingers_between(numbers.width, sockets)
    whole = max((span.width for span in sockets), default=0.0), max((span.width for span in fingers), default=0.0)
    pairs = [
        (socket, finger)
        for socket in sockets
        for finger in fingers
        if min(abs(socket.start - finger.end), abs(finger.start - socket.end)) < 1e-6
    ]

    def lack(pair: tuple[Span, Span]) -> tuple[float, float]:
        socket, finger = pair
        return round(whole[0] - socket.width + whole[1] - finger.width, 6), -socket.start

    if pairs:
        socket, finger = min(pairs, key=lack)
        yield from sorted([(socket, "socket"), (finger, "finger")], key=lambda one: -one[0].start)


# -- groove and bottom


def _grooved(kit: _Kit) -> Scene:
    """Front and right end are taken off: the groove is seen in back and left end, its section at an end it runs to."""
    solids = (kit.grooved("back"), kit.grooved("left-end"))
    left, right, near, far = 0.0, kit.long, 0.0, kit.wide
    outline = [Place(left, near, 0), Place(right, near, 0), Place(right, far, 0)]
    ghosts = tuple(Tie(*ends, ghost=True) for ends in pairwise(outline))
    words = "In hand: the back and the left end, with the groove inside. The front and the right end are taken off."
    return Scene(words, solids, frozenset({"back", "left-end"}), tuple(_groove_sizes(kit)), ghosts)


def _groove_sizes(kit: _Kit) -> Iterator[Measure]:
    made, thick = kit.box.groove, thicknesses(kit.file)
    if made is None:
        return
    at_left = LONGS in made.stopped_kinds and SHORTS not in made.stopped_kinds
    ends = made.ends("left end" if at_left else "back")
    proud = kit.file.joint.proud
    if at_left:  # its front end, seen from the front: the groove goes in to the left
        root, out, aside, depth = thick[LONGS], 0.0, _OUT, -made.depth

        def at(along: float, deep: float, z: float) -> Place:
            return Place(thick[SHORTS] + deep, along, z)
    else:
        stopped = MEMBERS[LONGS][1] in made.stopped
        root = ends[1] - proud - made.radius if stopped else kit.long - thick[SHORTS]
        out, aside, depth = kit.long, _RIGHT, made.depth

        def at(along: float, deep: float, z: float) -> Place:
            return Place(along, kit.wide - thick[LONGS] + deep, z)

    low, top = made.from_bottom, made.top
    lower, upper = (at(root, 0, low),), (at(root, 0, top),)

    def size(start: Place, end: Place, name: str, note: str, *roots: tuple[Place, ...]) -> Measure:
        return Measure(start, end, aside, name, note=note, roots=(roots[0], roots[1]), small=True)

    edge = (at(out, 0, 0),)
    yield size(at(out, 0, low), at(out, 0, top), "width of the groove", "wide", lower, upper)
    yield size(at(out, 0, 0), at(out, 0, low), "groove from the bottom edge", "from bottom", edge, lower)
    floor = (at(root, depth, top),)
    yield size(at(out, 0, top), at(out, depth, top), "depth of the groove", "deep", upper, floor)


def _bottom(kit: _Kit) -> Scene:
    sides = (*kit.some("front", "right-end"), kit.grooved("back"), kit.grooved("left-end"))
    made = kit.box.bottom
    panel = kit.panel(made) if made else kit.solids.get("bottom")
    if panel is None:
        return Scene("", sides)
    up = Place(0, 0, kit.high + kit.lift - min(corner.z for face in panel.faces for corner in face.corners))
    raised = isometric.moved(panel, up)
    x, y, z = _reach(raised)
    inside = _reach(panel)[2][0]
    corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1]), (x[0], y[1])]
    ties = tuple(Tie(Place(*corner, inside), Place(*corner, z[0])) for corner in corners)
    words = "In hand: the bottom, raised. In pencil: the rest."
    return Scene(words, (*sides, raised), frozenset({"bottom"}), tuple(_panel_sizes(x, y, z, made)), ties)


def _reach(solid: Solid) -> tuple[Stretch, Stretch, Stretch]:
    """Return from where to where a solid reaches along each axis."""
    x, y, z = zip(*(corner for face in solid.faces for corner in face.corners), strict=True)
    return (min(x), max(x)), (min(y), max(y)), (min(z), max(z))


def _panel_sizes(x: Stretch, y: Stretch, z: Stretch, made: Bottom | None) -> Iterator[Measure]:
    if made is None:
        return
    tongue = z[1] - made.rabbet_depths[1]
    names = ("length", "width") if x[1] - x[0] >= y[1] - y[0] else ("width", "length")
    yield Measure(Place(x[0], y[1], tongue), Place(x[1], y[1], tongue), _BACK, f"{names[0]} of the bottom")
    yield Measure(Place(x[0], y[0], tongue), Place(x[0], y[1], tongue), _LEFT, f"{names[1]} of the bottom")
    corner = [Place(x[1], y[1], at) for at in z]
    yield Measure(corner[0], corner[1], _RIGHT, "thickness of the bottom", "cut", "thick", small=True)


# -- shell and pattern


def _carved(kit: _Kit) -> Scene:
    solids, box = kit.without(*_ON_TOP), kit.box
    if box.shell:
        return Scene("In hand: the front with its shell. In pencil: the rest.", solids, frozenset({"front"}),
                     tuple(_shell_sizes(kit)))  # fmt: skip
    side = box.pattern.side if box.pattern else "front"
    unseen = " It is carved on the outside, which is not seen here." if side in ("back", "left end") else ""
    words = f"In hand: the {side} with its pattern.{unseen} In pencil: the rest."
    return Scene(words, solids, frozenset({side.replace(" ", "-")}), tuple(_pattern_sizes(kit)))


def _shell_sizes(kit: _Kit) -> Iterator[Measure]:
    made = kit.box.shell
    if made is None:
        return
    middle, foot = kit.long / 2, made.pivot_height
    rim = shell_templates.lobes(made).points(0.05)
    left, right, top = min(rim), max(rim), max(rim, key=lambda point: point.y)
    low, high = middle - made.width / 2, middle + made.width / 2
    roots = (Place(low, 0, foot + left.y),), (Place(high, 0, foot + right.y),)
    yield Measure(Place(low, 0, 0), Place(high, 0, 0), _DOWN, "width of the shell", roots=roots)
    roots = (Place(middle, 0, foot),), (Place(middle + top.x, 0, foot + top.y),)
    ends = Place(0, 0, foot), Place(0, 0, foot + made.height)
    yield Measure(*ends, _LEFT, "height of the shell", roots=roots)


def _pattern_sizes(kit: _Kit) -> Iterator[Measure]:
    made = kit.box.pattern
    if made is None or made.side not in ("front", "right end"):
        return
    across, up = made.middle.x - kit.file.joint.proud, made.middle.y
    x, z = (across - made.width / 2, across + made.width / 2), (up - made.height / 2, up + made.height / 2)
    edge, aside = (0.0, _LEFT) if made.side == "front" else (kit.wide, _BACK)

    def at(along: float, height: float) -> Place:
        return Place(along, 0, height) if made.side == "front" else Place(kit.long, along, height)

    roots = (at(x[0], up),), (at(x[1], up),)
    yield Measure(at(x[0], 0), at(x[1], 0), _DOWN, "width of the pattern", roots=roots)
    roots = (at(across, z[0]),), (at(across, z[1]),)
    yield Measure(at(edge, z[0]), at(edge, z[1]), aside, "height of the pattern", roots=roots)


# -- lid and handle


def _lid(kit: _Kit) -> Scene:
    up = Place(0, 0, kit.lift + (kit.box.lid.plug_depth if kit.box.lid else 0.0))
    solids = _raised(kit.without("handle"), ["lid", "plug"], up)
    foot = kit.high + up.z
    ties = tuple(Tie(Place(x, y, kit.high), Place(x, y, foot)) for x, y in ((kit.long, 0.0), (kit.long, kit.wide)))
    words = "In hand: the lid, raised. In pencil: the rest."
    return Scene(words, solids, frozenset({"lid", "plug"}), tuple(_lid_sizes(kit, foot)), ties)


def _lid_sizes(kit: _Kit, foot: float) -> Iterator[Measure]:
    made = kit.box.lid
    if made is None:
        return
    over, edge, along_x = made.overhang, foot + made.edge, kit.long >= kit.wide
    left, right, near, far = -over, kit.long + over, -over, kit.wide + over
    names = ("length", "width") if along_x else ("width", "length")
    yield Measure(Place(left, far, edge), Place(right, far, edge), _BACK, f"{names[0]} of the lid")
    yield Measure(Place(left, near, edge), Place(left, far, edge), _LEFT, f"{names[1]} of the lid")
    if made.crown:  # its profile is seen at the end of the grain
        top = edge + made.crown
        x, y, aside = (right, far, _RIGHT) if along_x else (left, near, _OUT)
        ridge = Place(right, (near + far) / 2, top) if along_x else Place((left + right) / 2, near, top)
        roots = ((), (ridge, Place(x, y, top)))
        yield Measure(Place(x, y, edge), Place(x, y, top), aside, "crown", note="crown", roots=roots, small=True)
    if over:
        start = Place(left, near, foot) if along_x else Place(right, kit.wide, foot)
        ends = start, Place(start.x + over, near, foot) if along_x else Place(right, start.y + over, foot)
        yield Measure(*ends, _DOWN, "overhang", note="overhang", small=True)


def _handle(kit: _Kit) -> Scene:
    made = kit.box.handle
    up = Place(0, 0, max(10.0, 0.5 * made.height) if made else 10.0)
    solids = _raised(kit.without(), ["handle"], up)
    words = "In hand: the handle, raised. In pencil: the rest."
    if made is None or "handle" not in kit.solids:
        return Scene(words, solids)
    x, y, z = _reach(kit.solids["handle"])
    along_x = kit.long >= kit.wide
    corners = [(x[0], y[0]), (x[1], y[0]), (x[1], y[1])]
    ties = tuple(Tie(Place(*corner, z[0]), Place(*corner, z[0] + up.z)) for corner in corners)
    measures = tuple(_handle_sizes(made, (x, y), z[0] + up.z, along_x=along_x))
    return Scene(words, solids, frozenset({"handle"}), measures, ties)


def _handle_sizes(made: Handle, plan: tuple[Stretch, Stretch], foot: float, *, along_x: bool) -> Iterator[Measure]:
    """Yield length, above its far side, and height, beside the end that is to the right."""
    (left, right), deep = (plan[0], plan[1][1]) if along_x else (plan[1], plan[0][0])
    middle, top = (left + right) / 2, foot + made.height

    def at(along: float, up: float) -> Place:
        return Place(along, deep, up) if along_x else Place(deep, along, up)

    low, high, crest = middle - made.length / 2, middle + made.length / 2, top - made.crest
    roots = (at(low, crest),), (at(high, crest),)
    yield Measure(at(low, top), at(high, top), _UP, "length of the handle", roots=roots)
    if not along_x:  # of that end the near side is the one to the right
        deep = plan[0][1]
    ways = (), (at(middle, top), at(high, top))
    yield Measure(at(high, foot), at(high, top), _LEVEL, "height of the handle", roots=ways)


_SCENES: Mapping[SetUp, Callable[[_Kit], Scene]] = {
    "wood": _whole,
    "sled": _sled,
    "groove": _grooved,
    "bottom": _bottom,
    "shell": _carved,
    "lid": _lid,
    "handle": _handle,
    "glue": _glued,
    "print": _whole,
}
