"""Where on a paper a card and a template stand: frames that A4 and Letter both hold, and the room of other papers.

Cards have no scale: they come on A4 or Letter whatever the templates are printed on, larger in large print, smaller on
a small page.
"""

from __future__ import annotations

from jigs.base.drawing import Bounds
from jigs.base.lengths import Units
from jigs.record import Record
from layout.pages.calibration import OUTSIDE
from layout.pages.card import HEIGHT, WIDTH
from layout.sheet import paper as papers
from layout.sheet.paper import NO_MARGINS, Paper

TEMPLATE_WIDTH, TEMPLATE_HEIGHT = 190.0, 259.0
"""The frame of a template on A4 and on Letter, mm."""
EDGE = 10.0
"""From the frame to the edge of any other paper, mm: printers commonly miss the outer 4.2 to 6.7."""
FILED = 20.0
"""From a card to the edge where it is filed, mm (ISO 5457)."""
LARGE = 2**0.5
"""How much larger cards are in large print: from A4 to A3."""
_SAME_ON_BOTH = ("A4", "Letter", "both")


def template_frame(paper: Paper) -> Bounds:
    """Return the frame of a template on a paper: what the printer reaches, less the ticks outside the frame."""
    wide, high = paper.width, paper.height
    if paper.name in _SAME_ON_BOTH:
        across, up = (TEMPLATE_WIDTH, TEMPLATE_HEIGHT) if wide < high else (TEMPLATE_HEIGHT, TEMPLATE_WIDTH)
        if paper.name == "both" and wide > high:
            up = min(up, high - 2 * EDGE)
        frame = Bounds((wide - across) / 2, (high - up) / 2, (wide + across) / 2, (high + up) / 2)
    else:
        frame = Bounds(EDGE, EDGE, wide - EDGE, high - EDGE)
    return _within(frame, paper, OUTSIDE)


def _within(frame: Bounds, paper: Paper, spare: float) -> Bounds:
    """Return what of a frame the printer reaches, with so much to spare."""
    if paper.margins == NO_MARGINS:
        return frame
    white = paper.margins if paper.width <= paper.height else paper.margins.turned
    return Bounds(
        max(frame.left, white.left + spare),
        max(frame.bottom, white.bottom + spare),
        min(frame.right, paper.width - white.right - spare),
        min(frame.top, paper.height - white.top - spare),
    )


class CardPage(Record):
    """The paper of cards, how much larger they are than drawn, and the room they are drawn in before that.

    `white` is what the printer is known to leave at the left or the right of the paper, whichever is more, mm.
    """

    paper: Paper
    scale: float
    width: float
    height: float
    white: float = 0.0

    def box(self, *, back: bool) -> Bounds:
        """Return the live area in the axes it is drawn in: filed at the left, on the back at the right."""
        wide, high = self.paper.width / self.scale, self.paper.height / self.scale
        spare, white = wide - self.width, self.white / self.scale
        filed = max(white, min(FILED / self.scale, spare * 2 / 3, spare - white))
        left = spare - filed if back else filed
        low = (high - self.height) / 2
        return Bounds(left, low, left + self.width, low + self.height)


def card_page(paper: Paper, units: Units, *, large: bool) -> CardPage:
    """Return the page of cards for those who print templates on a paper."""
    usual = papers.named("A4" if _metric(paper, units) else "Letter").within(paper.margins)
    small = min(paper.width, paper.height) < usual.width - 1 and not paper.roll
    enlarged = large and not paper.roll and min(paper.width, paper.height) >= usual.width * LARGE - 25
    if paper.name in _SAME_ON_BOTH or small:
        on = paper if paper.width < paper.height else paper.turned
    elif enlarged:
        on = papers.named("A3" if _metric(paper, units) else "Tabloid").within(paper.margins)
    else:
        on = usual
    reach = _within(Bounds(0, 0, on.width, on.height), on, 0.5)
    white = max(reach.left, on.width - reach.right)
    margin = max(EDGE, white)
    room = on.width - max(FILED, margin) - margin if not small else on.width - 2 * margin
    tall = on.height - 2 * max(EDGE, reach.bottom, on.height - reach.top)
    if enlarged:
        return CardPage(on, min(LARGE, room / WIDTH, tall / HEIGHT), WIDTH, HEIGHT, white)
    scale = min(1.0, room / WIDTH, tall / HEIGHT)
    if large:  # the same page holds less of larger letters, and cards go on to more pages
        return CardPage(on, scale * LARGE, WIDTH / LARGE, HEIGHT / LARGE, white)
    return CardPage(on, scale, WIDTH, HEIGHT, white)


def _metric(paper: Paper, units: Units) -> bool:
    american = paper.name in ("Letter", "Legal", "Tabloid", "C", "D", "E")
    return not american and (units == "mm" or paper.name.startswith("A"))
