"""Where holes, keys and dovetails fall along a board."""

from __future__ import annotations

import math

from jigs.record import Record
from jigs.trade.limits import positive, within


def centred(*, length: float, pitch: float, count: int) -> tuple[float, ...]:
    """Return the places of a row that stands in the middle of a board: the first at (L − (n − 1)·p)/2.

    Raises ValueError for a row that is longer than the board.
    """
    positive(length=length)
    within(1, 10_000, count=count)
    if count > 1:
        positive(pitch=pitch)
    first = (length - (count - 1) * pitch) / 2
    if first <= 0:
        raise ValueError(f"count is {count}; {count - 1} steps of {pitch:g} are longer than the board, {length:g}")
    return tuple(first + i * pitch for i in range(count))


def shared(*, length: float, count: int) -> tuple[float, ...]:
    """Return the middles of `count` equal shares of a length: H·(2j − 1)/(2k)."""
    positive(length=length)
    within(1, 10_000, count=count)
    return tuple(length * (2 * j - 1) / (2 * count) for j in range(1, count + 1))


class Dovetails(Record):
    """A row of tails, half pins at both ends: `tails` are (start, end) at the wide ends, mm; angle in degrees."""

    angle: float
    wide: float
    narrow: float
    tails: tuple[tuple[float, float], ...]


def dovetails(*, width: float, count: int, half_pin: float, pin: float, ratio: float, thickness: float) -> Dovetails:
    """Return tails laid out over a board, sized at the end of the tail board, where a tail is widest.

    Width = 2·half pin + (n − 1)·pin + n·tail, pins measured at that end where they are narrow. Over the thickness of
    the mate each flank runs in by thickness/ratio; the angle is atan(1/ratio). Raises ValueError where no tail is left
    or where a tail comes to a point.
    """
    positive(width=width, half_pin=half_pin, pin=pin, ratio=ratio, thickness=thickness)
    within(1, 100, count=count)
    wide = (width - 2 * half_pin - (count - 1) * pin) / count
    narrow = wide - 2 * thickness / ratio
    if narrow <= 0:
        raise ValueError(f"count is {count}; tails of {wide:g} come to a point within {thickness:g} at 1 in {ratio:g}")
    starts = [half_pin + i * (wide + pin) for i in range(count)]
    angle = math.degrees(math.atan(1 / ratio))
    return Dovetails(angle, wide, narrow, tuple((start, start + wide) for start in starts))


class MitreKeys(Record):
    """Keys let into the corner of a mitred box, mm: `leg` shows on each face; `most` is the deepest safe cut."""

    leg: float
    most: float
    blade: float
    places: tuple[float, ...]


def mitre_keys(
    *, thickness: float, depth: float, base: float, height: float, count: int, least_wood: float
) -> MitreKeys:
    """Return keys cut with the box corner down in a cradle of 45 degrees.

    Up the diagonal from the corner the inside corner stands at T·√2, so a cut of depth D leaves T·√2 − D of wood
    there and shows D·√2 on each face. The blade stands base + D over the table. Keys share the height equally.
    """
    positive(thickness=thickness, depth=depth, base=base, height=height)
    root = math.sqrt(2)
    return MitreKeys(depth * root, thickness * root - least_wood, base + depth, shared(length=height, count=count))


def parted_finger(*, finger: float, kerf: float, planing: float) -> float:
    """Return the width of the finger through which a closed box is sawn open: f + kerf + planing of both edges."""
    positive(finger=finger, kerf=kerf)
    return finger + kerf + 2 * planing
