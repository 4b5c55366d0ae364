"""The last card: lid and handle at the bench, and the finish."""

from __future__ import annotations

from collections.abc import Iterator

from jigs.base.cards import Band, Card, Caution, Order
from jigs.base.wording import Words
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
        bands += lid_card.finish_bands(box.lid, with_steps=False)
    if box.handle:
        bands += handle_card.finish_bands(box.handle, box.lid)
    bands.append(Order((*_shaped(box), *_finish(box)), "In this order"))
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
    things = ["the outside", *(["lid"] if box.lid else []), *(["handle"] if box.handle else [])]
    alike = f"{', '.join(things[:-1])} and {things[-1]} alike" if len(things) > 1 else things[0]
    yield f"Finish {alike}." + (" When hard, screw it on." if box.handle else "")
