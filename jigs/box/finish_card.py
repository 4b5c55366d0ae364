"""The last card: lid and handle at the bench, the finish, and what is written on the sled for the next box."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.cards import Band, Card, Caution, Order
from jigs.base.wording import Words, say
from jigs.box.chain import Box
from jigs.parts.handle import bench
from jigs.parts.handle import card as handle_card
from jigs.parts.lid import card as lid_card
from jigs.parts.lid import crown

CAUTIONS = (
    Caution("Edge", "Hold the work fast. Push the plane away from your hands."),
    Caution("Rags", "Oily rags catch fire. Lay them flat outdoors or in water."),
)


def card(box: Box) -> Card:
    """Return the card of what is done at the bench last."""
    bands: list[Band] = []
    if box.lid:
        bands += lid_card.finish_bands(box.lid, box.file.units, with_steps=False)
    if box.handle:
        bands += handle_card.finish_bands(box.handle, box.lid, with_steps=False)
    if steps := tuple(_shaped(box)):
        bands.append(Order(steps, "In this order"))
    bands.append(Order(tuple(_finish(box)), "Finish"))
    title = "Lid at the bench" if box.lid else "Finish"
    return Card("finish", title, "Bench", CAUTIONS, tuple(bands), "", "box")


def _shaped(box: Box) -> Iterator[Words]:
    """Yield how lid and handle are shaped and fitted: what needs the lid's flat top comes before its crown."""
    if box.handle:
        yield from bench.steps(box.handle, box.lid, shaped=False)
    if box.lid:
        yield from crown.steps(box.lid)
    if box.handle:
        yield from bench.steps(box.handle, box.lid, shaped=True)


def _finish(box: Box) -> Iterator[Words]:
    yield "Finish the outside and both faces of the lid alike." if box.lid else "Finish the outside."
    if box.handle:
        yield "Finish the handle all over. When it is hard, screw it on from inside the lid."
    if box.numbers:
        made = box.numbers
        sled = {"gap": made.gap, "key": made.key, "spacer": made.short_spacer, "deep": made.cut_depth}
        words = (
            "Write on the sled: gap {gap:gauge}, cutter {cutter:gauge}, key {key:gauge}, spacer {spacer:gauge}, cut "
        )
        yield say(words + "{deep:cut} deep.", cutter=box.file.joint.cutter, **sled)
    yield "Write the readings on page R2: the next box starts from them."
