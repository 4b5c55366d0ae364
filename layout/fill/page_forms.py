"""The ways to lay out a page: where the drawing, the proof and the title block go."""

from __future__ import annotations

from dataclasses import dataclass

from jigs.base.drawing import Bounds
from layout.draw import furniture
from layout.draw.furniture import PROOF
from layout.sheet.paper import Paper

INSET = 2.5
"""From the frame to the proof, mm."""
INSIDE = 3.0
"""From the frame to what is drawn, mm."""


@dataclass(frozen=True, slots=True)
class PageForm:
    """One way to lay out a page: where the drawing, the proof and the title block go."""

    paper: Paper
    content: Bounds
    proof: tuple[float, float]
    title: Bounds


def page_forms(on: Paper) -> list[PageForm]:
    """Return the ways to lay out a page, the plainest first. Pages too small for the proof have none."""
    if on.roll:
        return [way for way in (below(on), below(on.turned)) if way is not None]
    ways = [below(on), below(on.turned), _beside(on.turned), _beside(on)]
    return [way for way in ways if way is not None]


def below(on: Paper) -> PageForm | None:
    """Proof and title block side by side along the bottom."""
    frame = on.frame
    top = frame.bottom + INSET + PROOF
    content = Bounds(frame.left, top + 1.0, frame.right, frame.top)
    title = Bounds(frame.left + INSET + PROOF + 4, frame.bottom, frame.right, top)
    if title.width < furniture.TITLE_WIDTH or content.height < 20:
        return None
    return PageForm(on, content, (frame.left + INSET, frame.bottom + INSET), title)


def _beside(on: Paper) -> PageForm | None:
    """Proof and title block one above the other along the right."""
    frame = on.frame
    left = frame.right - INSET - PROOF
    content = Bounds(frame.left, frame.bottom, left - 1.0, frame.top)
    title = Bounds(left, frame.bottom + INSET + PROOF + 4, frame.right, frame.top)
    if content.width < 30 or title.height < 40:
        return None
    return PageForm(on, content, (left, frame.bottom + INSET), title)
