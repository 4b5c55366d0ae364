"""Pictures on a card: each view scaled to the room it gets, then lettered at the size of all others."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from jigs.base import cards
from jigs.base import drawing as draw
from jigs.base.drawing import Bounds
from layout.draw.annotate import PICTURE, Annotated, annotate
from layout.pages.bands import NARROW, PAD, Laid, Setting
from layout.pages.ink import LABEL, Ink, height_of, wrapped
from layout.sheet.marks import Group

LARGEST = 3.0
"""The most a picture is enlarged: a bit of 6 is seen well at 18."""
_LEAST_ROUND = 4.0
"""What the words round a view take at the least, mm."""
_TRIES, _STEPS = 24, (0.85, 0.97)
"""How many scales are tried, and how much smaller each is than the one before."""


_NARROW_HIGH = 150.0
"""How high pictures one below the other may be together on a page with less room, mm."""


def _in_narrow_row(band: cards.Pictures) -> int:
    """Return how many views stand side by side where there is less room: one, or as few as go on one page."""
    rows = (math.ceil(len(band.views) / count) for count in range(1, band.in_row))
    fitting = (count for count, high in enumerate(rows, start=1) if high * band.least <= _NARROW_HIGH)
    return next(fitting, band.in_row)


@dataclass(frozen=True)
class _Row:
    """Views side by side, and the width of each cell."""

    views: tuple[draw.View, ...]
    widths: tuple[float, ...]
    captions: tuple[list[str], ...]

    @property
    def heading(self) -> float:
        """Height of the captions, mm."""
        return max(height_of(caption, LABEL, 1.5) for caption in self.captions) + 2.6


class PicturesBand(Laid):
    """Views in rows, lines between them."""

    def __init__(self, band: cards.Pictures, width: float, on: Setting) -> None:
        self.band, self.on, self.width = band, on, width
        in_row = band.in_row if width >= NARROW else _in_narrow_row(band)
        parts = [band.views[i : i + in_row] for i in range(0, len(band.views), in_row)]
        self.rows = [self._row(tuple(views)) for views in parts]
        self.least = band.least * len(self.rows)
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
                ink.rows(cell.left + PAD, cell.top - 1.4, caption, LABEL, 1.5, bold=True)
                inside = Bounds(cell.left + 2.0, cell.bottom + 2.0, cell.right - 2.0, cell.top - row.heading)
                groups += self._view(view, inside, scale)
                left += wide
        return [ink.group(), *groups]

    def _common(self, row: _Row, high: float) -> float:
        """Return the scale that all views of a row can have."""
        rooms = [(wide - 4.0, high - row.heading - 2.0) for wide in row.widths]
        return min(self._fitted(view, room, LARGEST)[1] for view, room in zip(row.views, rooms, strict=True))

    def _view(self, view: draw.View, room: Bounds, scale: float | None) -> list[Group]:
        found, _ = self._fitted(view, (room.width, room.height), scale or LARGEST)
        across = (room.left + room.right) / 2 - (found.box.left + found.box.right) / 2
        up = (room.bottom + room.top) / 2 - (found.box.bottom + found.box.top) / 2
        return [group.moved(across, up) for group in (*found.parts, found.writing)]

    def _fitted(self, view: draw.View, room: tuple[float, float], largest: float) -> tuple[Annotated, float]:
        """Return a view scaled so that it fits a room with all that is written on it, and its scale.

        What is written keeps its size and takes the more room the smaller the view is, so the scale is found from the
        largest down: the first that fits is taken, and where none does the one that comes nearest to it.
        """
        bare = view.bounds
        wide, high = max(bare.width, 1e-6), max(bare.height, 1e-6)
        scale = min(largest, max(room[0] - _LEAST_ROUND, 4) / wide, max(room[1] - _LEAST_ROUND, 4) / high)
        nearest: tuple[float, Annotated, float] | None = None
        for _ in range(_TRIES):
            found = annotate(
                f"{self.on.jig}-{view.name}", view.scaled(scale), self.on.voice.units, self.on.hand, PICTURE,
                self.on.shown,
            )  # fmt: skip
            over = max(found.box.width - room[0], found.box.height - room[1])
            if over <= 0.01:
                return found, scale
            if nearest is None or over < nearest[0]:
                nearest = over, found, scale
            around = found.box.width - wide * scale, found.box.height - high * scale
            wanted = min(max(room[0] - around[0], 4) / wide, max(room[1] - around[1], 4) / high)
            scale *= min(_STEPS[1], max(_STEPS[0], (wanted / scale) ** 0.5))
        assert nearest is not None  # there is one try at least
        return nearest[1:]
