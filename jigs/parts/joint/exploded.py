"""The carriage taken apart, of true sizes, as you see it from your place behind it and from a little above.

Axes: x to the right, y away from you, z up; the cutter's centre at x = 0, the lower edges at z = 0. Every piece is a
prism drawn by the faces that look at you; the nearer pieces are drawn later and cover the others.
"""

from __future__ import annotations

import math
from collections.abc import Sequence

from jigs.base import drawing as draw
from jigs.base.drawing import Kind, Part, Point
from jigs.parts.joint.carriage import Carriage

_X, _Y, _DEEP = math.radians(-9.0), math.radians(38.0), 0.75
"""How x and y run on the page, and how much y is shortened."""

Corner = tuple[float, float, float]
Profile = Sequence[tuple[float, float]]


def carriage(made: Carriage, backer: float) -> draw.View:
    """Return the pieces of the carriage before they are put together, each with its letter."""
    apart = 0.35 * made.foot_deep + 14.0
    low = -made.foot_deep
    high = made.foot_thick
    away, key = sorted((-made.hand * made.slot_away, made.hand * made.slot_key))
    left, right = sorted((-made.hand * made.reach_away, made.hand * made.reach_key))
    lifted = high + apart * 0.95
    braces = [left + 0.12 * (right - left), right - 0.12 * (right - left) - made.board]
    feet = {"b": (left, away), "c": (key, right)} if made.hand > 0 else {"c": (left, away), "b": (key, right)}
    parts = [
        _board("f", "Backing board", (left + 0.1 * made.long, left + 0.1 * made.long + 0.5 * made.long),
               (apart * 1.9, apart * 1.9 + backer), made.height * 1.12),
        _upright(made, left, right, apart),
        *(_prism(name, "Foot", [(x, z) for x, z in ((one, 0), (other, 0), (other, high), (one, high))], low, 0.0)
          for name, (one, other) in feet.items()),
        *(_brace(made, f"d-{i}", x, lifted) for i, x in enumerate(braces, start=1)),
        _exit(made, away, key, lifted),
    ]  # fmt: skip
    return draw.View(
        "exploded", "The carriage, as you stand behind it; lower edges level", tuple(parts),
        labels=tuple(_letters(made, feet, (left, right), apart, lifted)), to_scale=False,
    )  # fmt: skip


def _at(x: float, y: float, z: float) -> Point:
    return Point(
        x * math.cos(_X) + _DEEP * y * math.cos(_Y),
        z + x * math.sin(_X) + _DEEP * y * math.sin(_Y),
    )


def _face(corners: Sequence[Corner]) -> draw.Path:
    return draw.polygon(*(_at(*corner) for corner in corners))


def _prism(name: str, title: str, profile: Profile, near: float, far: float) -> Part:
    """A piece with a profile across, as deep as from `near` to `far`: its near face, its top and its right side."""
    faces = [_face([(x, near, z) for x, z in profile])]
    for (x1, z1), (x2, z2) in zip(profile, [*profile[1:], profile[0]], strict=True):
        if _seen(x2 - x1, z2 - z1):
            faces.append(_face([(x1, near, z1), (x2, near, z2), (x2, far, z2), (x1, far, z1)]))
    return _solid(name, title, faces)


def _seen(dx: float, dz: float) -> bool:
    """Whether a side of an anticlockwise profile looks right or up, and so at you."""
    return dz > 1e-9 or dx < -1e-9


def _solid(name: str, title: str, faces: Sequence[draw.Path]) -> Part:
    return Part(f"exploded-{name}", title, draw.lines(faces), covers=tuple(faces))


def _board(name: str, title: str, across: tuple[float, float], deep: tuple[float, float], high: float) -> Part:
    left, right = across
    return _prism(name, title, [(left, 0), (right, 0), (right, high), (left, high)], *deep)


def _upright(made: Carriage, left: float, right: float, at: float) -> Part:
    """The upright, broken off half-way up: its slot is what matters."""
    away, key = sorted((-made.hand * made.slot_away, made.hand * made.slot_key))
    top, slot = made.height, made.slot_height
    profile = [(left, 0), (away, 0), (away, slot), (key, slot), (key, 0), (right, 0), (right, top), (left, top)]
    near, far = at, at + made.board
    whole = _face([(x, near, z) for x, z in profile])
    top_face = _face([(left, near, top), (right, near, top), (right, far, top), (left, far, top)])
    side = _face([(right, near, 0), (right, far, 0), (right, far, top), (right, near, top)])
    inner = draw.line(_at(away, near, 0), _at(away, far, 0), _at(away, far, slot))
    inside = draw.line(_at(away, far, slot), _at(away + 0.0, near, slot))
    lines = (*draw.lines((whole, top_face, side)), *draw.lines((inner, inside), Kind.NARROW))
    return Part("exploded-a", "Upright", lines, covers=(whole, top_face, side))


def _brace(made: Carriage, name: str, left: float, low: float) -> Part:
    """A brace: a leg on the foot, a leg on the upright, seen from its right."""
    leg, blunt, right = made.brace, 12.0, left + made.board
    outline = [(0.0, 0.0), (-leg, 0.0), (-leg, blunt), (-blunt, leg), (0.0, leg)]
    side = _face([(right, y, low + z) for y, z in outline])
    slope = _face([(x, y, low + z) for x, (y, z) in (
        (left, outline[2]), (right, outline[2]), (right, outline[3]), (left, outline[3]))])  # fmt: skip
    toe = _face([(x, y, low + z) for x, (y, z) in (
        (left, outline[1]), (right, outline[1]), (right, outline[2]), (left, outline[2]))])  # fmt: skip
    top = _face([(x, y, low + z) for x, (y, z) in (
        (left, outline[3]), (right, outline[3]), (right, outline[4]), (left, outline[4]))])  # fmt: skip
    return _solid(name, "Brace", (side, slope, toe, top))


def _exit(made: Carriage, away: float, key: float, low: float) -> Part:
    left, right = away - made.bridge, key + made.bridge
    profile = [(left, low), (right, low), (right, low + made.board), (left, low + made.board)]
    return _prism("e", "Exit block", profile, -made.foot_deep, 0.0)


def _letters(
    made: Carriage, feet: dict[str, tuple[float, float]], ends: tuple[float, float], apart: float, lifted: float
) -> list[draw.Label]:
    left, right = ends

    def letter(name: str, *at: float) -> draw.Label:
        return draw.Label(name, _at(*at), leader=False, height=3.5, bold=True)

    high, low = made.foot_thick / 2, -made.foot_deep
    middle = (made.slot_key - made.slot_away) / 2 * made.hand
    return [
        letter("A", left + 0.62 * (right - left), apart, made.height * 0.8),
        letter("B", sum(feet["b"]) / 2, low, high),
        letter("C", sum(feet["c"]) / 2, low, high),
        draw.Label("D", _at(left + 0.12 * made.long + made.board, -0.3 * made.brace, lifted + 0.3 * made.brace),
                   leader=False, height=3.5, bold=True),
        draw.Label("D", _at(right - 0.12 * made.long, -0.3 * made.brace, lifted + 0.3 * made.brace),
                   leader=False, height=3.5, bold=True),
        letter("E", middle, low, lifted + made.board / 2),
        letter("F", left + 0.2 * made.long, apart * 1.9, made.height * 1.05),
        draw.Label("slot", _at(middle, apart, made.slot_height), towards="below"),
    ]  # fmt: skip
