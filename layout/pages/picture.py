"""A picture alone: one view on a sheet of its own size, with lines of words below it, for a screen or a letter."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.base import drawing as draw
from jigs.base.drawing import Bounds
from layout.draw.annotate import PICTURE, annotate
from layout.pages.ink import LABEL, Ink
from layout.pages.voice import Voice
from layout.sheet import lettering
from layout.sheet.marks import Layer, Sheet
from layout.sheet.paper import Paper

SIZE = 130.0
"""How wide or high the bare view is drawn, whichever is more, mm."""
MARGIN, PITCH = 4.0, 1.7
"""Round all of it, mm, and from one line of words to the next, in letter heights."""


def alone(view: draw.View, said: Sequence[str], voice: Voice, prefix: str, size: float = SIZE) -> Sheet:
    """Return a view as a sheet that is just large enough for it and for these lines of words below it.

    `size` is how wide or high the bare view is drawn, whichever is more, mm. Raises NoRoomError for too small a one.
    """
    bare = view.bounds
    found = annotate(prefix, view.scaled(size / max(bare.width, bare.height)), voice.units, style=PICTURE)
    rows = [voice.said(words) for words in said]
    under = len(rows) * LABEL * PITCH + (LABEL if rows else 0.0)
    wide = max(found.box.width, *(lettering.width(words, LABEL) for words in rows), 0.0)
    width, height = wide + 2 * MARGIN, found.box.height + under + 2 * MARGIN
    across = (width - found.box.width) / 2 - found.box.left
    ink = Ink(f"{prefix}-words", "Words")
    ink.rows(MARGIN, MARGIN + len(rows) * LABEL * PITCH, rows, LABEL, PITCH)
    groups = [group.moved(across, MARGIN + under - found.box.bottom) for group in (*found.parts, found.writing)]
    paper = Paper("picture", width, height, Bounds(0, 0, width, height))
    title = voice.said(view.title)
    return Sheet(f"{prefix}-{view.name}", title, paper, (Layer("picture", title, (*groups, ink.group())),), 1, 1)
