"""The sheet of the rabbets of a bottom: fence settings, passes and their order. Lengths in mm."""

from __future__ import annotations

from collections.abc import Sequence

from jigs.base import cautions
from jigs.base import drawing as draw
from jigs.base.usual import RABBET_BIT, Usual
from jigs.base.wording import Words, say
from jigs.parts import fence_pictures
from jigs.parts.bottom.part import Bottom
from jigs.trade import panel

TONGUE_WITHIN = Usual(0.05, 0.002)
"""How near a tongue's thickness is held (common practice, no source)."""
CAUTIONS = (cautions.GENERAL, cautions.RABBET, cautions.PAPER)


def drawing(made: Bottom, bit: float | None) -> draw.Drawing:
    """Return the sheet. `bit` is the one the rabbets are cut with, mm; without it, those of two."""
    purpose = "fence and bit for the rabbets that leave the tongue, and the order of the cuts"
    passes = _passes(made, bit)
    pictures = fence_pictures.rabbets_from_above(one.exposed - cutter for cutter, _, of in passes for one in of)
    body: tuple[draw.Item, ...] = (_fences(passes), *pictures, _order(made))
    return draw.Drawing("rabbets", "panel rabbets", purpose, body, CAUTIONS, "panel")


def _passes(made: Bottom, bit: float | None) -> list[tuple[float, str, tuple[panel.RabbetPass, ...]]]:
    """Return bit, edge and passes for each bit that may be in hand."""
    bits = (bit,) if bit else (made.groove.cutter, RABBET_BIT.size(made.groove.units))
    moves, still = made.rabbet_widths
    return [
        (cutter, edge, panel.rabbet_passes(width=width, cutter=cutter))
        for cutter in sorted(set(bits))
        for edge, width in (("end grain", still), ("long grain", moves))
    ]


def _fences(passes: Sequence[tuple[float, str, tuple[panel.RabbetPass, ...]]]) -> draw.Table:
    rows: list[tuple[draw.Cell, ...]] = []
    for cutter, edge, of in passes:
        for number, cut in enumerate(of, start=1):
            rows.append((cutter, edge, f"{number} of {len(of)}", cut.exposed, _fence_words(cut.fence)))
    headings = ("Bit", "Edge", "Pass", "Bit stands out", "Its centre from the fence")
    return draw.Table("fences", "Fence, by the bit in hand", headings, tuple(rows))


def _fence_words(fence: float) -> Words:
    if abs(fence) < 1e-6:
        return "at the fence's face"
    return say("{far} in front" if fence > 0 else "{far} behind", far=abs(fence))


def _order(made: Bottom) -> draw.Notes:
    both, one = made.rabbet_depths[0], made.thickness - made.tongue
    moves, still = made.rabbet_widths
    within = TONGUE_WITHIN.size(made.groove.units)
    return draw.Notes(
        "order",
        "Order of cutting",
        (
            say(
                "1. Bit above the table: {both} to cut both faces in turn, which leaves the tongue in the middle; or "
                "{one} to cut one face only, the upper one: the inside is then {both} shallower.",
                both=both,
                one=one,
            ),
            say(
                "2. Hold point: cut scrap as thick as the bottom. The tongue reads {least} to {most} and slides in a "
                "groove by hand.",
                least=made.tongue - within,
                most=min(made.groove.cutter, made.tongue + within),
            ),
            say(
                "3. The two end-grain edges first, {still} wide. What breaks out at the corners goes with the next "
                "cuts.",
                still=still,
            ),
            say("4. Set the fence anew: the two long-grain edges, {moves} wide.", moves=moves),
            "Where a rabbet takes several passes the narrow one comes first, then the fence moves back.",
            "Right to left only; the panel flat on the table.",
        ),
    )
