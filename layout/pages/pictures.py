"""Pictures on a card: each view scaled to the room it gets, then lettered at the size of all others."""

from __future__ import annotations

import math

from jigs.base import cards
from jigs.base import drawing as draw
from jigs.base.drawing import Bounds
from jigs.base.keeping import kept
from jigs.base.lengths import Units
from jigs.record import Record, replace
from layout.draw.annotate import PICTURE, Annotated, NoRoomError, Shown, annotate
from layout.pages.bands import PAD, Laid, Setting
from layout.pages.ink import LABEL, Ink, height_of, wrapped
from layout.sheet.hand import Hand
from layout.sheet.marks import Group

LARGEST = 3.0
"""The most a picture is enlarged: a bit of 6 is seen well at 18."""
_RIM = 1.2
"""Round a picture and what is written on it, at the least, mm."""
_TRIES = 7
_STEP, _STEPS = 0.94, 30
"""Where no try fits, so much smaller each time, and how often."""
_GIVES = 0.25
"""The share of its least height that a picture gives way where that saves a page."""
_CLOSE = 0.9
"""A scale so near to one that does not fit, or to the largest, is good enough."""
_FILLED, _NEAR = 0.92, 0.8
"""A picture that fills so much of its room across or up is good enough, unless it is far from one that does not fit."""
_LESS, _JUST_LESS = 0.6, 0.98
"""The smallest and the largest step down from a scale that does not fit."""
_ROUND = 4.0
"""What is round a view at the least, mm."""
_WRITTEN = (12.0, 10.0)
"""What the writing of most views takes across and up, mm: over the samples it needs the fewest tries."""

_NARROW_HIGH = 150.0
"""How high pictures one below the other may be together on a page with less room, mm."""


def _in_narrow_row(band: cards.Pictures) -> int:
    """Return how many views stand side by side where there is less room: one, or as few as go on one page."""
    rows = (math.ceil(len(band.views) / count) for count in range(1, band.in_row))
    fitting = (count for count, high in enumerate(rows, start=1) if high * band.least <= _NARROW_HIGH)
    return next(fitting, band.in_row)


class _Row(Record):
    """Views side by side, and the width of each cell."""

    views: tuple[draw.View, ...]
    widths: tuple[float, ...]
    captions: tuple[list[str], ...]

    @property
    def heading(self) -> float:
        """Height of the captions, mm."""
        return max(height_of(caption, LABEL, 1.6) for caption in self.captions) + 2.6


class PicturesBand(Laid):
    """Views in rows, lines between them."""

    def __init__(self, band: cards.Pictures, width: float, on: Setting) -> None:
        self.band, self.on, self.width = band, on, width
        in_row = _in_narrow_row(band) if on.narrow else band.in_row
        parts = [band.views[i : i + in_row] for i in range(0, len(band.views), in_row)]
        self.rows = [self._row(tuple(views)) for views in parts]
        self.least = band.least * len(self.rows)
        self.gives = _GIVES * self.least
        self.most = max(self.least, min(band.most * len(self.rows), sum(self._wish(row) for row in self.rows)))

    def _row(self, views: tuple[draw.View, ...]) -> _Row:
        wanted = [max(view.bounds.width, 12.0) + 26.0 for view in views]
        shares = self.band.shares if len(self.band.shares) == len(views) else tuple(w / sum(wanted) for w in wanted)
        least = 34.0 / self.width if len(views) * 34.0 < self.width else 0.0
        shares = tuple(max(least, share) for share in shares)
        widths = tuple(self.width * share / sum(shares) for share in shares)
        captions = tuple(
            wrapped(self.on.voice.said(view.title), LABEL, wide - 2 * PAD, bold=True)
            for view, wide in zip(views, widths, strict=True)
        )
        return _Row(views, widths, captions)

    def _wish(self, row: _Row) -> float:
        """Return the height that the views of a row fill when they are as wide as their cells, or largest."""
        high = []
        for view, wide in zip(row.views, row.widths, strict=True):
            box = view.bounds
            scale = min(LARGEST, max(0.1, (wide - 2 * PAD - 14) / max(box.width, 1.0)))
            high.append(box.height * scale + 24.0)
        return row.heading + max(high)

    def split(self, room: float) -> tuple[Laid, Laid] | None:
        """Return as many rows of views as the room holds, and the rest."""
        count = int(room // self.band.least)
        if not 0 < count < len(self.rows):
            return None
        first = sum(len(row.views) for row in self.rows[:count])
        parts = (self.band.views[:first], self.band.views[first:])
        one, other = (PicturesBand(replace(self.band, views=views), self.width, self.on) for views in parts)
        return one, other

    def drawn(self, box: Bounds, name: str) -> list[Group]:
        """Return the views where they stand, with captions and the lines between them."""
        ink = Ink(name, "Captions")
        groups: list[Group] = []
        share = box.height / len(self.rows)
        for number, row in enumerate(self.rows):
            top = box.top - number * share
            if number:
                ink.line((box.left, top), (box.right, top))
            scale = self._common(row, share) if self.band.same_scale else None
            left = box.left
            for view, wide, caption in zip(row.views, row.widths, row.captions, strict=True):
                cell = Bounds(left, top - share, left + wide, top)
                if left > box.left:
                    ink.line((left, cell.bottom), (left, cell.top))
                ink.rows(cell.left + PAD, cell.top - 1.4, caption, LABEL, 1.6, bold=True)
                inside = Bounds(cell.left + _RIM, cell.bottom + _RIM, cell.right - _RIM, cell.top - row.heading)
                groups += self._view(view, inside, scale)
                left += wide
        return [ink.group(), *groups]

    def _common(self, row: _Row, high: float) -> float:
        """Return the scale that all views of a row can have."""
        rooms = [(wide - 2 * _RIM, high - row.heading - _RIM) for wide in row.widths]
        return min(self._fitted(view, room, LARGEST)[1] for view, room in zip(row.views, rooms, strict=True))

    def _view(self, view: draw.View, room: Bounds, scale: float | None) -> list[Group]:
        found, _ = self._fitted(view, (room.width, room.height), scale or LARGEST)
        across = (room.left + room.right) / 2 - (found.box.left + found.box.right) / 2
        up = (room.bottom + room.top) / 2 - (found.box.bottom + found.box.top) / 2
        return [group.moved(across, up) for group in (*found.parts, found.writing)]

    def _fitted(self, view: draw.View, room: tuple[float, float], largest: float) -> _Scaled:
        on = self.on
        return _fitted(view, room, largest, _Lettered(f"{on.jig}-{view.name}", on.voice.units, on.hand, on.shown))


class _Lettered(Record):
    """How a view is lettered: the names of its groups, its units and hand, the settings that are shown."""

    prefix: str
    units: Units
    hand: Hand
    shown: Shown

    def at(self, view: draw.View, scale: float) -> Annotated | None:
        """Return a view at a scale; None where it is too small for what is written on it."""
        try:
            return annotate(self.prefix, view.scaled(scale), self.units, self.hand, PICTURE, self.shown)
        except NoRoomError:
            return None


_Scaled = tuple[Annotated, float]
"""A view as marks, and its scale."""


@kept(64)  # most changes of a box leave most pictures as they are
def _fitted(view: draw.View, room: tuple[float, float], largest: float, lettered: _Lettered) -> _Scaled:
    """Return a view scaled so that it fits a room with all that is written on it, and its scale.

    What is written keeps its size and falls into other places at every scale. So the scale is found by trying: first
    with as much room as most views need for writing; then with as much as the last try wrote; then halves of what is
    between one that fits and one that does not. A view that fills its room with its writing is large enough.
    """
    bare = view.bounds
    wide, high = max(bare.width, 1e-6), max(bare.height, 1e-6)

    def beside(written: tuple[float, float]) -> float:
        return min((room[0] - written[0]) / wide, (room[1] - written[1]) / high)

    top = min(largest, beside((_ROUND, _ROUND)))
    scale = min(top, max(beside(_WRITTEN), _LESS * top))
    best: _Scaled | None = None
    failed = top / _CLOSE
    for _ in range(_TRIES):
        found = lettered.at(view, scale)
        written = (found.box.width - wide * scale, found.box.height - high * scale) if found else (30.0, 30.0)
        if found is not None and _holds(room, found):
            best = found, scale
            filled = max(found.box.width / room[0], found.box.height / room[1]) >= _FILLED and scale >= _NEAR * failed
            if filled or scale >= _CLOSE * min(failed, top):
                break
            scale = min(top, (scale + failed) / 2, max(beside(written), scale / _CLOSE))
            continue
        failed = min(failed, scale)
        if best is None:
            scale = min(max(beside(written), scale * _LESS), scale * _JUST_LESS)
            continue
        scale = (best[1] + failed) / 2
        if best[1] >= _CLOSE * scale:
            break
    return best or _shrunk(view, room, top, lettered)


def _shrunk(view: draw.View, room: tuple[float, float], top: float, lettered: _Lettered) -> _Scaled:
    """Return a view made smaller by small steps until it fits; where none does, without what is written on it."""
    for step in range(1, _STEPS):
        scale = top * _STEP**step
        found = lettered.at(view, scale)
        if found is not None and _holds(room, found):
            return found, scale
    bare = replace(view, labels=(), dimensions=())
    least = min(room[0] / max(bare.bounds.width, 1e-6), room[1] / max(bare.bounds.height, 1e-6), top) * 0.95
    found = lettered.at(bare, least)
    assert found is not None, "a view with no words on it has room for them"
    return found, least


def _holds(room: tuple[float, float], found: Annotated) -> bool:
    return found.box.width <= room[0] + 0.01 and found.box.height <= room[1] + 0.01
